use super::*;
use crate::samples;

#[test]
fn a_pair_shows_once_and_a_fold_piece_as_half_its_area() {
    let layout = samples::folded_jacket();
    let steps = steps(&layout).unwrap();
    let now: Vec<&Shown> = steps.folded[0].shown.iter().filter(|s| s.part == Part::CutNow).collect();
    let pairs = now.iter().filter(|s| s.fold_edge.is_none()).count();
    let halves: Vec<_> = now.iter().filter(|s| s.fold_edge.is_some()).collect();
    let on_fold: Vec<&Cut> = layout.cuts.iter().filter(|c| c.on_fold).collect();
    assert_eq!(halves.len(), on_fold.len());
    for (half, cut) in halves.iter().zip(&on_fold) {
        assert!((signed_area(&half.outline).abs() * 2.0 - cut.outline.area()).abs() < 1.0);
    }
    let singles = steps.opened.iter().filter(|s| s.part == Part::CutNow).count();
    assert_eq!(2 * pairs + on_fold.len() + singles, layout.cuts.len());
}

/// The strip of paper: what is drawn on folded cloth and cut through both layers is, opened out, what the record has.
#[test]
fn every_shape_cut_folded_is_what_is_recorded_once_it_is_opened_out() {
    let folded = samples::folded_otherwise().into_iter().chain([("down the middle", samples::folded_jacket())]);
    for (name, layout) in folded {
        let steps = steps(&layout).unwrap();
        let cloths = layout.folded_cloth();
        assert_eq!(steps.folded.len(), cloths.len());
        let mut drawn = steps.opened.iter().filter(|shown| shown.part == Part::CutNow).count();
        for (step, (cloth, cuts)) in steps.folded.iter().zip(&cloths) {
            let now: Vec<&Shown> = step.shown.iter().filter(|shown| shown.part == Part::CutNow).collect();
            assert_eq!(now.len(), cuts.len(), "{name}");
            for (shown, &cut) in now.iter().zip(cuts) {
                assert!(shown.outline.iter().all(|p| p.x >= -1e-9 && p.x <= cloth.width() + 1e-9), "{name}");
                let fold = layout.fold_of(cut).unwrap();
                let below: Vec<Point> = shown.outline.iter().map(|&p| cloth.on_flat_cloth(p)).collect();
                let center = Bounds::of(below.iter().copied()).center();
                let above: Vec<Point> = below.iter().map(|&p| fold.image(p, center)).collect();
                let is_in = |ring: &[Point], p: Point| {
                    ring.iter().any(|q| (p.x - q.x).abs() < 1e-6 && (p.y - q.y).abs() < 1e-6)
                };
                let outline = |i: usize| layout.cuts[i].outline.points();
                match cut {
                    CutAtOnce::BothLayers(one, other) => {
                        let [stays, turned] = layout.stays_and_turned(one, other).map(outline);
                        assert!(stays.iter().all(|&p| is_in(&below, p)), "{name}: {}", shown.piece);
                        assert!(turned.iter().all(|&p| is_in(&above, p)), "{name}: {}", shown.piece);
                        drawn += 2;
                    }
                    CutAtOnce::OnFold(one) => {
                        let all = [below, above].concat();
                        assert!(outline(one).iter().all(|&p| is_in(&all, p)), "{name}: {}", shown.piece);
                        let whole = layout.cuts[one].outline.area();
                        assert!((signed_area(&shown.outline).abs() * 2.0 - whole).abs() < 1e-3, "{name}");
                        drawn += 1;
                    }
                    CutAtOnce::OneLayer(_) => panic!("{name}: not cut folded"),
                }
            }
        }
        assert_eq!(drawn, layout.cuts.len(), "{name}: each once");
    }
}

#[test]
fn turning_over_a_piece_that_is_its_own_mirror_image_changes_nothing() {
    let layout = samples::open_jacket(ellwand_garment::Nap::With);
    let mut back = layout.cuts.iter().find(|c| c.piece == "Back").unwrap().clone();
    back.notches.clear();
    back.mirrored = true;
    assert_eq!(face(&back), Face::Up);
    let mut front = layout.cuts.iter().find(|c| c.piece == "Front").unwrap().clone();
    front.mirrored = true;
    assert_eq!(face(&front), Face::Down);
}

#[test]
fn one_notch_makes_a_side() {
    let layout = samples::open_jacket(ellwand_garment::Nap::With);
    let mut back = layout.cuts.iter().find(|c| c.piece == "Back").unwrap().clone();
    back.mirrored = true;
    assert_eq!((back.notches.len(), face(&back)), (1, Face::Down));
}

#[test]
fn a_whole_piece_on_open_cloth_shows_its_centre_line() {
    let mut layout = samples::open_jacket(ellwand_garment::Nap::Without);
    let asked = |piece: &str, on_fold| ellwand_garment::Asked {
        piece: piece.into(),
        copies: vec![1],
        count: 1,
        hands: ellwand_garment::Hands::Any,
        on_fold,
        grain: ellwand_garment::GrainRule::Straight,
        strips: None,
    };
    layout.asked = vec![asked("Back", true), asked("Front", false)];
    let back = layout.cuts.iter().position(|cut| cut.piece == "Back").unwrap();
    let upright = layout.cuts[back].outline.bounds();
    let centre_lines = |layout: &Layout| -> Vec<(String, [Point; 2])> {
        flat(layout).into_iter().filter_map(|shown| Some((shown.piece, shown.centre_line?))).collect()
    };
    let [(piece, [low, high])] = &centre_lines(&layout)[..] else { panic!("one centre line") };
    assert_eq!(piece, "Back");
    assert!((low.x - upright.center().x).abs() < 1e-6 && (high.x - low.x).abs() < 1e-6);
    assert!((low.y - upright.min.y).abs() < 1e-6 && high.y > low.y && high.y <= upright.max.y + 1e-6);
    // Turned by a quarter it turns along.
    let quarter = ellwand_geometry::Pose::turned(90.0);
    let cut = &mut layout.cuts[back];
    cut.outline = ellwand_geometry::Placement::new(quarter, 0.0, 0.0).apply(&cut.outline);
    cut.grainline = cut.grainline.map(|p| quarter.apply_to_point(p));
    let [(_, line)] = &centre_lines(&layout)[..] else { panic!("one centre line") };
    for (was, is) in [low, high].into_iter().zip(line) {
        let there = quarter.apply_to_point(*was);
        assert!((there.x - is.x).abs() < 1e-6 && (there.y - is.y).abs() < 1e-6, "{there:?} {is:?}");
    }
}

/// Right sides together what is turned lies above, a design outside below; beside the folded part there is one layer.
#[test]
fn what_is_cut_later_says_in_which_layer_it_lies() {
    let mut layout = samples::folded_jacket();
    let fold = Fold::Lengthwise { at: layout.cloth.centre_fold() };
    let tab = layout.cuts.iter().position(|cut| cut.piece == "Tab <left>").unwrap();
    let told = |layout: &Layout| -> Vec<Layer> {
        let shown = &steps(layout).unwrap().folded[0].shown;
        shown
            .iter()
            .filter(|shown| shown.part == Part::Waits && shown.piece == "Tab <left>")
            .map(|shown| shown.layer)
            .collect()
    };
    let outline = &layout.cuts[tab].outline;
    let at_left = outline.translated(point(fold.at() - 20.0 - outline.bounds().max.x, 0.0));
    layout.cuts[tab].outline = at_left.clone();
    assert_eq!(told(&layout), [Layer::Lower]);
    layout.cuts[tab].outline = fold.image_of(&at_left);
    assert_eq!(told(&layout), [Layer::Upper]);
    layout.cloth.design = crate::plaids::folded_shirt().cloth.design;
    assert_eq!(told(&layout), [Layer::Lower]);
    layout.cuts[tab].outline = at_left;
    assert_eq!(told(&layout), [Layer::Upper]);
}

/// The parts of the tab that wait on the folded cloth, its middle at a place of the flat cloth.
fn tab_at(layout: &Layout, x: f64, y: f64) -> Vec<Shown> {
    let mut layout = layout.clone();
    let tab = layout.cuts.iter_mut().find(|cut| cut.piece == "Tab <left>").unwrap();
    tab.outline = tab.outline.translated(point(x, y) - tab.outline.bounds().center());
    let shown = steps(&layout).unwrap().folded.swap_remove(0).shown;
    shown.into_iter().filter(|shown| shown.part == Part::Waits && shown.piece == "Tab <left>").collect()
}

fn layers(shown: &[Shown]) -> Vec<Layer> {
    shown.iter().map(|shown| shown.layer).collect()
}

/// Off centre, what stays is double only as far as the flap reaches; a piece under its selvage alone lies single.
#[test]
fn beside_the_flap_a_piece_lies_in_one_layer() {
    let layout = samples::off_centre_jacket();
    let step = steps(&layout).unwrap().folded.swap_remove(0);
    let of = |piece: &str| -> Vec<Layer> {
        let is_it = |shown: &&Shown| shown.part == Part::Waits && shown.piece == piece;
        step.shown.iter().filter(is_it).map(|shown| shown.layer).collect()
    };
    assert_eq!(of("Tab <left>"), [Layer::One]);
    assert_eq!(of("Belt loop"), [Layer::One; 3]);
    // The fold is at 340, so that the edge of the flap lies at 680; the tab is 72 wide.
    assert_eq!(layers(&tab_at(&layout, 600.0, 900.0)), [Layer::Lower]);
    assert_eq!(layers(&tab_at(&layout, 670.0, 900.0)), [Layer::Lower]);
    assert_eq!(layers(&tab_at(&layout, 700.0, 900.0)), [Layer::One], "under a sliver of the flap");
    assert_eq!(layers(&tab_at(&layout, 100.0, 900.0)), [Layer::Upper], "in the flap");
}

/// A far part that is longer hangs past the cut end, where nothing lies under it.
#[test]
fn past_the_cut_end_folded_cloth_lies_in_one_layer() {
    let mut layout = samples::crosswise_jacket();
    let fold = layout.lay.folds().next().unwrap().1.at();
    layout.length += 300.0;
    let far = |up: f64| tab_at(&layout, 700.0, 2.0 * fold + up);
    assert_eq!(layers(&far(-100.0)), [Layer::Upper]);
    let hanging = far(10.0);
    assert_eq!(layers(&hanging), [Layer::One]);
    assert!(hanging[0].outline.iter().all(|p| p.y >= 0.0), "the picture ends at the cut end");
    assert_eq!(hanging[0].wording.notes, ["from one layer"]);
    assert!(far(100.0).is_empty(), "it is drawn in the second step alone");
}

/// One piece, cut once after opening: its parts in both layers are not told as two pieces.
#[test]
fn a_single_piece_over_the_fold_is_told_without_a_layer() {
    let layout = samples::folded_jacket();
    let fold = layout.cloth.centre_fold();
    for off in [0.0, 12.0, -12.0] {
        let parts = tab_at(&layout, fold + off, 1400.0);
        assert_eq!(layers(&parts), [Layer::Lower, Layer::Upper], "dots and dashes tell what lies where");
        for part in &parts {
            assert_eq!(part.wording.notes, ["over the fold"]);
            assert_eq!(part.layer_briefly(), Some(OVER_THE_FOLD));
        }
    }
    let beside = tab_at(&layout, fold - 60.0, 1400.0);
    assert_eq!(beside.iter().map(Shown::layer_briefly).collect::<Vec<_>>(), [Some("lower")]);
}

#[test]
fn nothing_on_folded_cloth_lies_past_the_fold() {
    let layout = samples::folded_jacket();
    let fold = layout.cloth.centre_fold();
    for shown in &steps(&layout).unwrap().folded[0].shown {
        assert!(shown.outline.iter().all(|p| p.x <= fold + 1e-9), "{}", shown.piece);
    }
}
