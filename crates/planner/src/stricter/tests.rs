//! Layouts told again on other cloth: every cut where it was, or moved across by what the cloths differ, or no answer.

use super::*;

use ellwand_garment::{Cloth, Cut, CutRule, Fabric, Job, Length, Pattern, Piece, Question, Units, Way, WayChoice};
use ellwand_geometry::Outline;

use crate::{Budget, Options, Unheard, plan_cloth};

/// A pair of fronts 200 mm wide and a back 240 mm wide on the fold, all 300 mm long; and a belt 500 mm long in view "Belted".
fn pattern() -> Pattern {
    let front = Piece::named("Front").corners_mm(&[(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (20.0, 300.0)]);
    let back = Piece::named("Back").half_mm(&[(0.0, 0.0), (120.0, 0.0), (120.0, 300.0), (0.0, 300.0)]);
    let belt = Piece::named("Belt").corners_mm(&[(0.0, 0.0), (60.0, 0.0), (60.0, 500.0), (0.0, 500.0)]);
    Pattern::named("Jacket")
        .piece(front.grainline_mm(100.0, 50.0, 250.0).cut(CutRule::pair("main")))
        .piece(back.grainline_mm(0.0, 50.0, 250.0).cut(CutRule::on_fold("main")))
        .piece(belt.grainline_mm(30.0, 50.0, 450.0).cut(CutRule::count("main", 1, ellwand_garment::Hands::Any)))
        .view("Plain", &["Front", "Back"])
        .view("Belted", &["Front", "Back", "Belt"])
        .build()
        .unwrap()
}

/// A job for a view on cloth of so many millimetres, its selvages 10 mm wide.
fn job(pattern: &Pattern, view: &str, width: f64, layer: WayChoice) -> Job {
    let cloth = Cloth::named("linen", Length::mm(width)).selvage(Length::mm(10.0));
    Job::of(pattern, "Jacket in linen", Units::Centimetres)
        .view(view)
        .fabric(Fabric::of("main", cloth).ways(layer))
        .build()
        .unwrap()
}

fn way(layer: WayChoice) -> Way {
    if layer == WayChoice::Only(Way::CentreFold) { Way::CentreFold } else { Way::Open }
}

fn planned(view: &str, width: f64, layer: WayChoice) -> Layout {
    let pattern = pattern();
    let options = Options { budget: Budget::Work(20_000), ..Options::default() };
    let plan = plan_cloth(&job(&pattern, view, width, layer), &pattern, "main", &[], &options, &Unheard).unwrap();
    plan.layout().clone()
}

/// `known` told again on that cloth, `change`d first: its length and the cuts it is then made of.
fn retold_on(
    known: &Layout,
    (view, width, layer): (&str, f64, WayChoice),
    change: impl FnOnce(&mut Question),
) -> Option<(f64, Vec<Cut>)> {
    let pattern = pattern();
    let job = job(&pattern, view, width, layer);
    let mut question = Question::of(&job, &pattern, "main", way(layer)).unwrap();
    change(&mut question);
    let prepared = Prepared::of(&question).unwrap();
    let packing = retold(known, &prepared)?;
    let bound = LowerBound { length: 0.0, reason: String::new() };
    let layout = assemble(&prepared, &packing, bound, known.search.clone());
    Some((packing.length, layout.cuts))
}

/// Whether the cuts are those of `known`, moved across by `by`.
fn are_moved(cuts: &[Cut], known: &Layout, by: f64) -> bool {
    cuts.iter().all(|cut| {
        let (low, size) = (cut.outline.bounds().min, cut.outline.points().len());
        known.cuts.iter().any(|of| {
            let was = of.outline.bounds().min;
            of.piece == cut.piece
                && of.outline.points().len() == size
                && (low.x - was.x - by).abs() < 1e-6
                && (low.y - was.y).abs() < 1e-6
        })
    })
}

const FOLD: WayChoice = WayChoice::Only(Way::CentreFold);
const OPEN: WayChoice = WayChoice::Only(Way::Open);

#[test]
fn what_is_cut_from_folded_cloth_is_cut_from_an_open_layer_in_the_same_place() {
    let known = planned("Plain", 1000.0, FOLD);
    assert!((known.length - 300.0).abs() < 1e-6);
    let (length, cuts) = retold_on(&known, ("Plain", 1000.0, OPEN), |_| {}).unwrap();
    assert!((length - 300.0).abs() < 1e-6 && cuts.len() == 3);
    assert!(are_moved(&cuts, &known, 0.0), "{cuts:?}");
}

#[test]
fn on_wider_folded_cloth_all_of_it_moves_with_the_fold() {
    let known = planned("Plain", 1000.0, FOLD);
    let (length, cuts) = retold_on(&known, ("Plain", 1240.0, FOLD), |_| {}).unwrap();
    assert!((length - 300.0).abs() < 1e-6 && are_moved(&cuts, &known, 120.0), "{cuts:?}");
    let on_fold: Vec<f64> = cuts.iter().filter(|cut| cut.on_fold).map(|cut| cut.grainline[0].x).collect();
    assert!(matches!(on_fold[..], [x] if (x - 620.0).abs() < 1e-9));
    // Cloth too narrow for it all is no answer.
    assert!(retold_on(&known, ("Plain", 660.0, FOLD), |_| {}).is_none_or(|(_, cuts)| are_moved(&cuts, &known, -170.0)));
}

/// The pieces fill open cloth of 660 mm from selvage to selvage.
#[test]
fn on_an_open_layer_left_edges_or_middles_meet() {
    let known = planned("Plain", 660.0, OPEN);
    assert!((known.length - 300.0).abs() < 1e-6);
    let flaw = |x: f64| {
        let flaw = Outline::rectangle(14.0, 280.0).unwrap().translated(point(x, 10.0));
        move |question: &mut Question| question.fabric.cloth.flaws = vec![flaw]
    };
    // Forty millimetres more: with the flaw at the right only the left edges may meet, with one at the left only the middles.
    let (_, cuts) = retold_on(&known, ("Plain", 700.0, OPEN), flaw(660.0)).unwrap();
    assert!(are_moved(&cuts, &known, 0.0));
    let (_, cuts) = retold_on(&known, ("Plain", 700.0, OPEN), flaw(11.0)).unwrap();
    assert!(are_moved(&cuts, &known, 20.0));
    assert!(retold_on(&known, ("Plain", 700.0, OPEN), flaw(300.0)).is_none());
    // A wider selvage moves the left edges.
    let wider = |question: &mut Question| {
        question.fabric.cloth.selvage = 25.0;
        question.fabric.cloth.flaws = vec![Outline::rectangle(14.0, 280.0).unwrap().translated(point(685.0, 10.0))];
    };
    let (_, cuts) = retold_on(&known, ("Plain", 740.0, OPEN), wider).unwrap();
    assert!(are_moved(&cuts, &known, 15.0));
}

#[test]
fn cuts_not_asked_for_are_left_out_and_a_missing_one_is_no_answer() {
    let belted = planned("Belted", 1000.0, OPEN);
    assert!((belted.length - 500.0).abs() < 1e-6);
    let mut upright = belted.clone();
    // The others at the cut end, as the search need not have laid them.
    for cut in &mut upright.cuts {
        let down = cut.outline.bounds().min.y;
        let lower = |p: Point| point(p.x, p.y - down);
        cut.outline = cut.outline.map_rigid(lower);
        cut.grainline = cut.grainline.map(lower);
    }
    let (length, cuts) = retold_on(&upright, ("Plain", 1000.0, OPEN), |_| {}).unwrap();
    assert!((length - 300.0).abs() < 1e-6 && cuts.len() == 3, "{length}");
    assert!(retold_on(&planned("Plain", 1000.0, OPEN), ("Belted", 1000.0, OPEN), |_| {}).is_none());
}

#[test]
fn a_pair_that_is_no_mirror_image_across_the_fold_serves_an_open_layer_only() {
    let known = planned("Plain", 1000.0, FOLD);
    let answers = |change: &dyn Fn(&mut Cut)| {
        let mut layout = known.clone();
        let of_pair = layout.cuts.iter_mut().rfind(|cut| cut.piece == "Front").unwrap();
        change(of_pair);
        let on = |layer| retold_on(&layout, ("Plain", 1000.0, layer), |_| {}).is_some();
        (on(FOLD), on(OPEN))
    };
    let by = |x: f64, y: f64| {
        move |cut: &mut Cut| {
            let moved = |p: Point| point(p.x + x, p.y + y);
            cut.outline = cut.outline.map_rigid(moved);
            cut.grainline = cut.grainline.map(moved);
        }
    };
    assert_eq!(answers(&|_| {}), (true, true));
    assert_eq!(answers(&by(0.0, 2.0)), (false, true));
    let inwards = |cut: &mut Cut| by(if cut.grainline[0].x > 500.0 { -1.0 } else { 1.0 }, 0.0)(cut);
    let is_free = |answers: (bool, bool)| !answers.0;
    assert!(is_free(answers(&inwards)));
    // Each end of the grainline must meet, and the hands must differ.
    assert!(is_free(answers(&|cut| cut.grainline[1].y += 1.0)));
    assert!(is_free(answers(&|cut| cut.grainline[1].x += 1.0)));
    assert!(is_free(answers(&|cut| cut.mirrored = !cut.mirrored)));
    assert_eq!(answers(&|cut| cut.piece = "Sleeve".into()), (false, false));
}

#[test]
fn a_piece_beside_the_fold_is_not_on_it() {
    let mut known = planned("Plain", 1000.0, FOLD);
    let back = known.cuts.iter_mut().find(|cut| cut.on_fold).unwrap();
    let moved = |p: Point| point(p.x + 0.5, p.y);
    back.outline = back.outline.map_rigid(moved);
    back.grainline = back.grainline.map(moved);
    assert!(retold_on(&known, ("Plain", 1000.0, FOLD), |_| {}).is_none());
}

#[test]
fn what_lies_upside_down_does_not_serve_cloth_with_nap() {
    let mut known = planned("Plain", 1000.0, OPEN);
    let with_nap = |question: &mut Question| question.fabric.cloth.nap = ellwand_garment::Nap::With;
    let back = known.cuts.iter_mut().find(|cut| cut.piece == "Back").unwrap();
    let is_turned = (back.turned_deg - 180.0).abs() < 1e-9;
    if !is_turned {
        back.turned_deg = 180.0;
        back.grainline.swap(0, 1);
        let (low, high) = (back.outline.bounds().min.y, back.outline.bounds().max.y);
        let over = |p: Point| point(p.x, low + high - p.y);
        back.grainline = back.grainline.map(|p| p);
        back.outline = Outline::new(back.outline.points().iter().rev().map(|&p| over(p)).collect()).unwrap();
    }
    assert!(retold_on(&known, ("Plain", 1000.0, OPEN), |_| {}).is_some());
    assert!(retold_on(&known, ("Plain", 1000.0, OPEN), with_nap).is_none());
}
