//! Sizes between sizes where the levels differ, sizes are drawn apart, or their edges are of other kinds.

use super::*;

/// The front of every size changed by its step, 0 to 3.
fn changed(change: impl Fn(&mut Draft, f64)) -> Sized {
    let mut pattern = pattern();
    for piece in pattern.pieces.iter_mut().take(2) {
        for (k, draft) in piece.drafts.iter_mut().enumerate() {
            change(draft, (k % 4) as f64);
        }
    }
    pattern
}

/// The front of `pattern` with the waist of one size and the hip of another.
fn front(pattern: &Sized, waist: f64, hip: f64) -> Draft {
    let levels = [("waist", waist), ("hip", hip)].map(|(level, at)| (level.to_owned(), at));
    let positions = blend::Positions { levels: levels.clone().into(), told: levels.into(), otherwise: 1.0 };
    let drafts: Vec<&Draft> = pattern.pieces[0].drafts[..4].iter().collect();
    blend::blend(&drafts, &SIZES, &positions, None, blend::Lay::ByGrainline).unwrap()
}

/// The cubic 3t² - 2t³.
fn eased(t: f64) -> f64 {
    3.0 * t * t - 2.0 * t * t * t
}

#[test]
fn between_two_levels_a_point_passes_from_one_to_the_other_with_no_bend() {
    // Marks 10 mm further out a size, at every height.
    let heights = [100.0, 500.0, 540.0, 595.0, 650.0, 690.0, 698.0];
    let pattern = changed(|draft, step| {
        draft.points = heights.map(|y| (format!("{y}"), point(100.0 + 10.0 * step, y))).into();
    });
    let front = front(&pattern, 0.0, 3.0);
    for y in heights {
        let t = ((y - 500.0) / 190.0).clamp(0.0, 1.0);
        let wanted = 100.0 + 10.0 * (3.0 - 3.0 * eased(t));
        let mark = front.points[&format!("{y}")];
        assert!((mark.x - wanted).abs() < 1e-9 && mark.y == y, "{mark:?}, not {wanted}");
    }
}

#[test]
fn the_size_nearest_to_the_mean_of_the_levels_tells_how_high_a_point_lies() {
    // A mark that is drawn 30 mm higher a size; of waist 42 and hip 40 the larger is the nearest to the mean.
    let pattern = changed(|draft, step| {
        draft.points = [("mark".to_owned(), point(100.0 + 10.0 * step, 560.0 + 30.0 * step))].into();
    });
    let position = 2.0 + eased((650.0 - 500.0) / 190.0);
    let mark = front(&pattern, 3.0, 2.0).points["mark"];
    assert!((mark.x - 100.0 - 10.0 * position).abs() < 1e-9, "{mark:?}, at {position}");
    assert!((mark.y - 560.0 - 30.0 * position).abs() < 1e-9);
}

#[test]
fn levels_and_lines_are_blended_like_points() {
    let pattern = changed(|draft, step| {
        draft.levels.insert("hip".into(), 500.0 + 4.0 * step);
        draft.lines.insert("skirt".into(), 250.0 + 3.0 * step);
    });
    let front = front(&pattern, 0.25, 2.5);
    assert!((front.levels["hip"] - 510.0).abs() < 1e-9 && (front.lines["skirt"] - 257.5).abs() < 1e-9, "{front:?}");
    assert!((front.levels["waist"] - 690.0).abs() < 1e-9);
}

#[test]
fn a_whole_size_of_odd_figures_is_that_size_to_the_bit() {
    let pattern =
        changed(|draft, step| *draft = draft.moved(|p| point(p.x * (1.0 + step / 7.0), p.y / 3.0), |y| y / 3.0));
    for (k, size) in SIZES.iter().enumerate() {
        let fitted = fit(&pattern, &asked(SizeWish::Named((*size).into()))).unwrap();
        assert_eq!(fitted.drafts[0], pattern.pieces[0].drafts[k]);
        assert_eq!(fit(&pattern, &asked(by_level(size, size))).unwrap().drafts[0], pattern.pieces[0].drafts[k]);
    }
}

#[test]
fn sizes_that_are_drawn_apart_are_laid_together_along_their_straight_centre() {
    let plain = front(&pattern(), 0.0, 3.0);
    let apart =
        front(&changed(|draft, step| *draft = draft.moved(|p| point(p.x + 37.0 * step * step, p.y), |y| y)), 0.0, 3.0);
    let centre = apart.start.x;
    assert!((apart.edges[3].to.x - centre).abs() < 1e-9, "the centre stays upright");
    for (edge, like) in apart.edges.iter().zip(&plain.edges) {
        assert!((edge.to.x - centre - like.to.x).abs() < 1e-9 && (edge.to.y - like.to.y).abs() < 1e-9, "{edge:?}");
    }
    let low = [apart.grainline[0], plain.grainline[0] + point(centre, 0.0)];
    assert!((low[0].x - low[1].x).abs() < 1e-9);
}

/// A short upright edge near the waist, which stands elsewhere in every size, is not what they are laid together by.
#[test]
fn the_longest_upright_edge_is_what_sizes_are_laid_together_by() {
    let slotted = |draft: &mut Draft, step: f64| {
        draft.edges.truncate(3);
        let x = 60.0 + 15.0 * step;
        let straight = EdgeShape::Straight;
        draft.edges.extend([
            edge("waist", point(x, 698.0), straight, 3),
            edge("slot", point(x, 640.0), straight, 4),
            edge("waist back", point(0.0, 695.0), straight, 5),
            edge("centre", point(0.0, 0.0), straight, 6),
        ]);
    };
    let front = front(&changed(slotted), 0.0, 3.0);
    assert_eq!((front.start.x, front.edges[5].to.x, front.edges[6].to.x), (0.0, 0.0, 0.0), "{:?}", front.edges);
    let slot = 60.0 + 15.0 * (3.0 - 3.0 * eased(140.0 / 190.0));
    assert!((front.edges[4].to.x - slot).abs() < 1e-9, "{:?}", front.edges[4]);
}

#[test]
fn a_fold_is_what_sizes_are_laid_together_by_before_any_longer_edge() {
    // The side of each size is as upright as the fold, longer, and further out.
    let folded = |draft: &mut Draft, step: f64| {
        let out = 250.0 + 10.0 * step;
        draft.start = point(3.0 * step, 100.0);
        let straight = EdgeShape::Straight;
        draft.edges = vec![
            edge("hem", point(out, 0.0), straight, 0),
            edge("side", point(out, 700.0), straight, 1),
            edge("waist", point(3.0 * step, 690.0), straight, 2),
            DraftEdge { allowance: EdgeAllowance::Fold, ..edge("centre", point(3.0 * step, 100.0), straight, 3) },
        ];
    };
    let mut pattern = changed(folded);
    pattern.seams.clear();
    let front = front(&pattern, 0.0, 3.0);
    assert!((front.edges[2].to.x - front.edges[3].to.x).abs() < 1e-9, "the fold is upright: {:?}", front.edges);
    assert!((front.edges[1].to.x - front.edges[0].to.x).abs() > 15.0, "and the side goes from size to size");
}

#[test]
fn a_grainline_stays_upright_at_the_size_of_its_middle() {
    let pattern = changed(|draft, step| {
        draft.grainline = [point(60.0 + 5.0 * step, 450.0), point(60.0 + 5.0 * step, 690.0)];
    });
    let front = front(&pattern, 0.0, 3.0);
    let wanted = 60.0 + 5.0 * (3.0 - 3.0 * eased(70.0 / 190.0));
    assert!(front.grainline.iter().all(|end| (end.x - wanted).abs() < 1e-9), "{:?}, not {wanted}", front.grainline);
    assert_eq!([front.grainline[0].y, front.grainline[1].y], [450.0, 690.0]);
}

#[test]
fn an_edge_that_is_straight_in_one_size_and_curved_in_another_is_blended() {
    let mut pattern = pattern();
    for draft in pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts) {
        let (hem, hip) = (draft.edges[0].to, draft.edges[1].to);
        let bow = |share: f64| hem + (hip - hem) * share + point(12.0, 0.0);
        draft.edges[1].shape = EdgeShape::Cubic { first: bow(1.0 / 3.0), second: bow(2.0 / 3.0) };
    }
    pattern.pieces[0].drafts[0].edges[1].shape = EdgeShape::Straight;
    let drafts: Vec<&Draft> = pattern.pieces[0].drafts[..2].iter().collect();
    let half = blend::Positions::uniform(0.5);
    let half = blend::blend(&drafts, &SIZES[..2], &half, None, blend::Lay::ByGrainline).unwrap();
    let (hem, hip) = (half.edges[0].to, half.edges[1].to);
    let EdgeShape::Cubic { first, second } = half.edges[1].shape else { panic!("{:?}", half.edges[1]) };
    for (control, share) in [(first, 1.0 / 3.0), (second, 2.0 / 3.0)] {
        let wanted = hem + (hip - hem) * share + point(6.0, 0.0);
        assert!((control.x - wanted.x).abs() < 1e-9 && (control.y - wanted.y).abs() < 1e-9, "{control:?}");
    }
}

#[test]
fn an_arc_in_one_size_and_none_in_the_other_is_blended_by_its_length() {
    let mut pattern = pattern();
    pattern.pieces[0].drafts[1].edges[3].shape = EdgeShape::Straight;
    let drafts: Vec<&Draft> = pattern.pieces[0].drafts[..2].iter().collect();
    let half = blend::Positions::uniform(0.5);
    let half = blend::blend(&drafts, &SIZES[..2], &half, None, blend::Lay::ByGrainline).unwrap();
    let mean = (drafts[0].length_of("waist") + drafts[1].length_of("waist")) / 2.0;
    assert!((half.length_of("waist") - mean).abs() < 0.1, "{} of {mean}", half.length_of("waist"));
    assert!(half.edges.iter().filter(|edge| edge.name == "waist").count() > 1);
    assert!((half.area() - (drafts[0].area() + drafts[1].area()) / 2.0).abs() < 1e-3 * half.area());
}

#[test]
fn edges_of_other_names_do_not_correspond() {
    let mut pattern = pattern();
    pattern.pieces[0].drafts[1].edges[0].name = "lower edge".into();
    let request = FitRequest { body: measures(&[("hip", 985.0)]), ..asked(SizeWish::ToBody) };
    let faults = fit(&pattern, &request).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::NoCorrespondence { piece, .. }] if piece == "Front"), "{faults:?}");
    assert_eq!(correspondence(&pattern), faults);
    assert_eq!(correspondence(&super::pattern()), Vec::new());
}

#[test]
fn a_mark_that_one_size_lacks_is_named_with_the_size() {
    let lacking = |change: fn(&mut Draft)| {
        let mut pattern = pattern();
        change(&mut pattern.pieces[1].drafts[2]);
        match &correspondence(&pattern)[..] {
            [FitFault::MarkMissing { piece, what, name, size }] => {
                assert_eq!((piece.as_str(), size.as_str()), ("Back", "40"));
                (*what, name.clone())
            }
            other => panic!("{other:?}"),
        }
    };
    let named = |what: &'static str, name: &str| (what, name.to_owned());
    assert_eq!(lacking(|draft| draft.points.retain(|name, _| name != "side low")), named("point", "side low"));
    assert_eq!(lacking(|draft| draft.levels.retain(|name, _| name != "hip")), named("level", "hip"));
    assert_eq!(lacking(|draft| draft.lines.retain(|name, _| name != "yoke")), named("line", "yoke"));
    assert_eq!(lacking(|draft| draft.notches.clear()), named("notch", "hip"));
}

/// Sizes 40, 50 and 70 mm apart at the hip, cut 60, 60, 50 and 20 mm wider than the body.
#[test]
fn where_sizes_grow_unevenly_a_body_lies_between_its_own_two() {
    let mut pattern = pattern();
    for (size, hip) in pattern.chart.sizes.iter_mut().zip([960.0, 1000.0, 1050.0, 1120.0].into_iter().cycle()) {
        size.body.insert("hip".into(), hip);
    }
    let to_body = |hip: f64| {
        let body = measures(&[("hip", hip)]);
        let fitted = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap();
        let row = row(&fitted, "hip");
        (row.size.clone(), row.finished)
    };
    for (hip, size, finished) in [
        (1025.0, "50 % from 38 to 40", 1025.0 + 55.0),
        (1085.0, "50 % from 40 to 42", 1085.0 + 35.0),
        (1050.0, "40", 1100.0),
        (1155.0, "0.50 above 42", 1155.0 + 5.0),
        (940.0, "0.50 below 36", 940.0 + 60.0),
    ] {
        let (told, is) = to_body(hip);
        assert_eq!(told, size, "{hip}");
        assert!((is - finished).abs() <= 0.1 + 1e-6, "{hip}: {is}, not {finished}");
    }
}

#[test]
fn two_sizes_are_enough_to_measure_between() {
    let mut pattern = pattern();
    for piece in &mut pattern.pieces {
        piece.drafts.truncate(2);
    }
    // Another sway of the back, so that there is something to correct.
    for (k, draft) in pattern.pieces[1].drafts.iter_mut().enumerate() {
        *draft = panel("Back", k as f64, 14.0);
    }
    pattern.chart.sizes.truncate(2);
    let ends =
        ["36", "38"].map(|size| row(&fit(&pattern, &asked(SizeWish::Named(size.into()))).unwrap(), "waist").finished);
    let body = measures(&[("waist", 730.0), ("hip", 998.0)]);
    let fitted = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap();
    let wanted = 730.0 + (ends[0] - 720.0) + (ends[1] - ends[0] - 40.0) * 0.25;
    assert!((row(&fitted, "waist").finished - wanted).abs() <= 0.1 + 1e-6);
}

#[test]
fn a_girth_counts_each_piece_as_often_as_it_is_worn() {
    let mut pattern = pattern();
    for draft in &mut pattern.pieces[1].drafts {
        *draft = draft.moved(|p| point(p.x * 1.2, p.y), |y| y);
    }
    for (part, times) in pattern.girths[1].parts.iter_mut().zip([1.0, 3.0]) {
        part.times = times;
    }
    pattern.lengths[0].along[1].2 = 5.0;
    let fitted = fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap();
    assert!((row(&fitted, "hip").finished - 265.0 * (1.0 + 3.0 * 1.2)).abs() < 1e-3);
    assert!((fitted.report.lengths[0].1 - 297.0 * (2.0 + 5.0 * 1.2)).abs() < 1e-6);
    // From a mark that is nowhere there is nothing to measure.
    pattern.girths[1].parts[0].from = Some("nowhere".into());
    let fitted = fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap();
    assert!(fitted.report.levels.iter().all(|row| row.name != "hip"));
}

#[test]
fn a_size_can_be_recommended_only_to_a_body_that_is_told() {
    let faults = fit(&pattern(), &asked(SizeWish::Recommended)).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::BodyLacks { measure }] if measure == "hip"), "{faults:?}");
}

#[test]
fn a_body_outside_the_chart_is_told_at_which_end() {
    let advised = |hip: f64| {
        let request = FitRequest { body: measures(&[("hip", hip)]), ..asked(SizeWish::Recommended) };
        let fitted = fit(&pattern(), &request).unwrap();
        (fitted.report.size.clone(), fitted.report.warnings.join("; "), fitted.report.advice.unwrap().reason)
    };
    let (size, warned, reason) = advised(930.0);
    assert_eq!(
        (size.as_str(), reason.as_str()),
        ("36", "hip 93 cm lies 3 cm outside the chart; this is the smallest size")
    );
    assert!(warned.contains(&reason));
    let (size, _, reason) = advised(1085.0);
    assert_eq!(
        (size.as_str(), reason.as_str()),
        ("42", "hip 108.5 cm lies 0.5 cm outside the chart; this is the largest size")
    );
    assert_eq!(advised(1080.0).2, "hip 108 cm is nearest to its 108 cm");
    assert_eq!(advised(960.0).2, "hip 96 cm is nearest to its 96 cm");
}

#[test]
fn hip_and_waist_that_agree_are_told_by_the_hip() {
    let reason = |waist: f64| {
        let body = measures(&[("hip", 1000.0), ("waist", waist)]);
        fit(&pattern(), &FitRequest { body, ..asked(SizeWish::Recommended) }).unwrap().report.advice.unwrap().reason
    };
    assert_eq!(reason(760.0), "hip 100 cm is nearest to its 100 cm");
    assert_eq!(reason(800.0), "waist 80 cm is nearest to its 80 cm; the hip alone would take 38");
}
