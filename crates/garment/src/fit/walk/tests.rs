//! Seams of two straight sides, so that every length can be read off.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeAllowance, EdgeShape, point};

use super::*;
use crate::{SeamKind, fit::DraftEdge};

type Named<'a> = (&'a str, (f64, f64));

/// A piece of straight edges from (0, 0), each with its name and where it ends; notches by name.
fn piece(name: &str, edges: &[Named], notches: &[Named]) -> Draft {
    let edge = |&(name, (x, y)): &Named| DraftEdge {
        name: name.into(),
        to: point(x, y),
        shape: EdgeShape::Straight,
        allowance: EdgeAllowance::Depth(15.0),
        drawn: 0,
    };
    Draft {
        name: name.into(),
        start: point(0.0, 0.0),
        edges: edges.iter().map(edge).collect(),
        grainline: [point(50.0, 50.0), point(50.0, 600.0)],
        notches: notches.iter().map(|&(name, (x, y))| (name.to_owned(), point(x, y))).collect(),
        points: BTreeMap::new(),
        darts: Vec::new(),
        levels: BTreeMap::new(),
        lines: BTreeMap::new(),
        as_drawn: None,
    }
}

/// A front, its side on the right and drawn upwards, 300 and 400 mm; its notches at these heights.
fn front(notches: &[(&str, f64)]) -> Draft {
    let edges = [
        ("hem", (100.0, 0.0)),
        ("side low", (100.0, 300.0)),
        ("side high", (100.0, 700.0)),
        ("waist", (0.0, 700.0)),
        ("centre", (0.0, 0.0)),
    ];
    let notches: Vec<Named> = notches.iter().map(|&(name, y)| (name, (100.0, y))).collect();
    piece("Front", &edges, &notches)
}

/// A back as high as `high`, its side on the left and drawn downwards.
fn back(high: f64, notches: &[(&str, f64)]) -> Draft {
    let edges = [
        ("hem", (100.0, 0.0)),
        ("centre", (100.0, high)),
        ("waist", (0.0, high)),
        ("side high", (0.0, 300.0)),
        ("side low", (0.0, 0.0)),
    ];
    let notches: Vec<Named> = notches.iter().map(|&(name, y)| (name, (0.0, y))).collect();
    piece("Back", &edges, &notches)
}

fn side(piece: &str, edges: &[&str], meets: &[&str], ease: f64) -> SeamSide {
    let owned = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    let taken_up = if ease == 0.0 { Vec::new() } else { vec![(TakenUp::Ease, ease)] };
    SeamSide { piece: piece.into(), edges: owned(edges), meets: owned(meets), taken_up, centre: None, roll: None }
}

fn sewn(a: SeamSide, b: SeamSide, drafts: &[Draft]) -> WalkedSeam {
    let seam = Seam { name: "side".into(), kind: SeamKind::Side, a, b: Some(b) };
    walk(&[seam], drafts).remove(0)
}

const SIDE: [&str; 2] = ["side low", "side high"];

/// The side seam with these meeting points, both sides named from the hem upwards.
fn side_seam(front: Draft, back: Draft, meets: &[&str]) -> WalkedSeam {
    sewn(side("Front", &SIDE, meets, 0.0), side("Back", &SIDE, meets, 0.0), &[front, back])
}

fn stretches(walked: &WalkedSeam) -> Vec<(&str, [f64; 2])> {
    let tidy = |mm: f64| (mm * 1e6).round() / 1e6;
    walked.between.iter().map(|(to, lengths)| (to.as_str(), lengths.map(tidy))).collect()
}

#[test]
fn a_side_drawn_the_other_way_round_is_walked_from_the_hem_all_the_same() {
    let notch = [("hip", 250.0)];
    let walked = side_seam(front(&notch), back(700.0, &notch), &["hip"]);
    assert_eq!(stretches(&walked), [("hip", [250.0, 250.0]), ("", [450.0, 450.0])]);
    assert_eq!((walked.lengths, walked.off, walked.is_off), ([700.0, 700.0], 0.0, false));
    assert_eq!((walked.name.as_str(), walked.pieces), ("side", ["Front".to_owned(), "Back".to_owned()]));
}

#[test]
fn edges_named_from_the_waist_down_are_walked_from_the_waist() {
    let notch = [("hip", 250.0)];
    let down = ["side high", "side low"];
    let drafts = [front(&notch), back(700.0, &notch)];
    let walked = sewn(side("Front", &down, &["hip"], 0.0), side("Back", &SIDE, &["hip"], 0.0), &drafts);
    assert_eq!(stretches(&walked), [("hip", [450.0, 450.0]), ("", [250.0, 250.0])]);
}

#[test]
fn one_edge_is_walked_towards_the_end_nearer_to_the_notch_of_both() {
    // Drawn to opposite ends, with one meeting point a third up.
    let up = piece(
        "Front",
        &[("hem", (100.0, 0.0)), ("side", (100.0, 600.0)), ("waist", (0.0, 600.0)), ("centre", (0.0, 0.0))],
        &[("hip", (100.0, 200.0))],
    );
    let down = piece(
        "Back",
        &[("hem", (100.0, 0.0)), ("centre", (100.0, 630.0)), ("waist", (0.0, 630.0)), ("side", (0.0, 0.0))],
        &[("hip", (0.0, 210.0))],
    );
    let walked =
        sewn(side("Front", &["side"], &["hip"], 0.0), side("Back", &["side"], &["hip"], 0.0), &[up.clone(), down]);
    assert_eq!(stretches(&walked), [("hip", [200.0, 210.0]), ("", [400.0, 420.0])]);
    let mut same = up.clone();
    same.name = "Back".into();
    let walked = sewn(side("Front", &["side"], &["hip"], 0.0), side("Back", &["side"], &["hip"], 0.0), &[up, same]);
    assert_eq!(stretches(&walked), [("hip", [200.0, 200.0]), ("", [400.0, 400.0])]);
}

#[test]
fn between_two_notches_only_what_lies_between_is_compared() {
    let (of_front, of_back) = ([("low", 100.0), ("high", 600.0)], [("low", 110.0), ("high", 615.0)]);
    let walked = side_seam(front(&of_front), back(720.0, &of_back), &["low", "high"]);
    assert_eq!(stretches(&walked), [("high", [500.0, 505.0])]);
    assert_eq!((walked.lengths, walked.off, walked.is_off), ([500.0, 505.0], 5.0, true));
    // Named from the top, they are the same two.
    let walked = side_seam(front(&of_front), back(720.0, &of_back), &["high", "low"]);
    assert_eq!(walked.lengths, [500.0, 505.0]);
}

#[test]
fn with_three_notches_both_stretches_are_told_apart() {
    let of_front = [("low", 100.0), ("hip", 300.0), ("high", 600.0)];
    let of_back = [("low", 100.0), ("hip", 307.0), ("high", 600.0)];
    let walked = side_seam(front(&of_front), back(700.0, &of_back), &["low", "hip", "high"]);
    assert_eq!(stretches(&walked), [("hip", [200.0, 207.0]), ("high", [300.0, 293.0])]);
    assert_eq!((walked.lengths, walked.off), ([500.0, 500.0], 0.0));
    // One single edge, drawn the other way round, with two notches: which end is which follows from their order.
    let single = |name: &str, x: f64, from: f64, to: f64| {
        let corners = [("out", (100.0, 0.0)), ("up", (100.0, 50.0))];
        let mut edges = corners.to_vec();
        edges.extend([("lead", (x, from)), ("side", (x, to)), ("back", (0.0, 0.0))]);
        piece(name, &edges, &[("low", (x, 150.0)), ("high", (x, 350.0))])
    };
    let drafts = [single("Front", 200.0, 100.0, 500.0), single("Back", 200.0, 500.0, 100.0)];
    let meets = ["low", "high"];
    let walked = sewn(side("Front", &["side"], &meets, 0.0), side("Back", &["side"], &meets, 0.0), &drafts);
    assert_eq!(stretches(&walked), [("high", [200.0, 200.0])]);
}

#[test]
fn a_notch_at_the_very_end_begins_no_stretch_of_its_own() {
    let at_the_hem = [("hem notch", 0.0)];
    let walked = side_seam(front(&at_the_hem), back(700.0, &at_the_hem), &["hem notch"]);
    assert_eq!(stretches(&walked), [("", [700.0, 700.0])]);
    // At the end of one side only it does.
    let walked = side_seam(front(&at_the_hem), back(700.0, &[("hem notch", 5.0)]), &["hem notch"]);
    assert_eq!(stretches(&walked), [("hem notch", [0.0, 5.0]), ("", [700.0, 695.0])]);
}

#[test]
fn what_is_eased_in_is_not_off() {
    let drafts = [front(&[]), back(715.0, &[])];
    let walked = |a: f64, b: f64| sewn(side("Front", &SIDE, &[], a), side("Back", &SIDE, &[], b), &drafts);
    let off = |a: f64, b: f64| (walked(a, b).eased, walked(a, b).off);
    assert_eq!(off(0.0, 0.0), (0.0, 15.0));
    assert_eq!(off(0.0, 15.0), (15.0, 0.0));
    assert_eq!(off(2.0, 15.0), (13.0, 2.0));
    assert_eq!(off(4.0, 0.0), (-4.0, 19.0));
}

#[test]
fn two_millimetres_can_be_eased_in_unseen_and_no_more() {
    let is_off = |high: f64| side_seam(front(&[]), back(high, &[]), &[]).is_off;
    assert!(!is_off(702.0) && !is_off(698.0));
    assert!(is_off(702.1) && is_off(697.9));
}

#[test]
fn a_notch_is_measured_along_a_slanting_edge_even_from_beside_it() {
    // 50 mm up a slope of three to four, then 100 mm straight up.
    let slanting = |notch: (f64, f64)| {
        let edges = [
            ("hem", (100.0, 0.0)),
            ("side low", (130.0, 40.0)),
            ("side high", (130.0, 140.0)),
            ("waist", (0.0, 140.0)),
            ("centre", (0.0, 0.0)),
        ];
        let mut front = piece("Front", &edges, &[("hip", notch)]);
        let mut back = front.clone();
        front.notches = vec![("hip".into(), point(100.0 + 15.0, 20.0))];
        back.name = "Back".into();
        stretches(&side_seam(front, back, &["hip"])).iter().map(|(_, lengths)| *lengths).collect::<Vec<_>>()
    };
    assert_eq!(slanting((115.0, 20.0)), [[25.0, 25.0], [125.0, 125.0]]);
    // Five millimetres beside the edge, square to it, on either hand.
    assert_eq!(slanting((119.0, 17.0)), [[25.0, 25.0], [125.0, 125.0]]);
    assert_eq!(slanting((111.0, 23.0)), [[25.0, 25.0], [125.0, 125.0]]);
    assert_eq!(slanting((106.0, 8.0)), [[25.0, 10.0], [125.0, 140.0]]);
    assert_eq!(slanting((131.0, 50.0)), [[25.0, 60.0], [125.0, 90.0]]);
    // Past an end it counts as the end.
    assert_eq!(slanting((130.0, 150.0)), [[25.0, 0.0], [125.0, 150.0]], "walked from the end that is nearer");
}

#[test]
fn a_dart_between_two_edges_is_not_counted() {
    let edges = [
        ("hem", (100.0, 0.0)),
        ("side low", (100.0, 300.0)),
        ("dart", (60.0, 310.0)),
        ("dart", (100.0, 320.0)),
        ("side high", (100.0, 720.0)),
        ("waist", (0.0, 720.0)),
        ("centre", (0.0, 0.0)),
    ];
    let darted = piece("Front", &edges, &[("hip", (100.0, 420.0))]);
    let walked = side_seam(darted, back(700.0, &[("hip", 400.0)]), &["hip"]);
    assert_eq!(stretches(&walked), [("hip", [400.0, 400.0]), ("", [300.0, 300.0])]);
}

#[test]
fn a_seam_without_edges_or_of_a_piece_that_is_not_cut_is_not_walked() {
    let seam = |a: SeamSide, b: Option<SeamSide>| {
        let seam = Seam { name: "side".into(), kind: SeamKind::Side, a, b };
        walk(&[seam], &[front(&[]), back(700.0, &[])]).len()
    };
    let of = |piece: &str, edges: &[&str]| side(piece, edges, &[], 0.0);
    assert_eq!(seam(of("Front", &SIDE), Some(of("Back", &SIDE))), 1);
    assert_eq!(seam(of("Front", &SIDE), Some(of("Back", &[]))), 0);
    assert_eq!(seam(of("Sleeve", &SIDE), Some(of("Back", &SIDE))), 0);
    assert_eq!(seam(of("Front", &SIDE), None), 0);
}

/// A sleeve pleated into a cuff that laps over itself: 250 mm less 56 in pleats, and 214 less a lap of 20.
#[test]
fn what_is_pleated_and_what_laps_are_told_by_name() {
    let sleeve = piece(
        "Sleeve",
        &[("low", (250.0, 0.0)), ("right", (250.0, 100.0)), ("top", (0.0, 100.0)), ("left", (0.0, 0.0))],
        &[],
    );
    let cuff = piece(
        "Cuff",
        &[("low", (214.0, 0.0)), ("right", (214.0, 60.0)), ("top", (0.0, 60.0)), ("left", (0.0, 0.0))],
        &[],
    );
    let with = |of: &str, taken_up: Vec<(TakenUp, f64)>| SeamSide { taken_up, ..side(of, &["top"], &[], 0.0) };
    let walked = sewn(
        with("Sleeve", vec![(TakenUp::Pleats, 56.0)]),
        with("Cuff", vec![(TakenUp::Overlap, 20.0)]),
        &[sleeve, cuff],
    );
    assert_eq!(walked.taken_up, [(TakenUp::Pleats, 56.0), (TakenUp::Overlap, 20.0)]);
    assert!((walked.off).abs() < 1e-9 && !walked.is_off, "{walked:?}");
}
