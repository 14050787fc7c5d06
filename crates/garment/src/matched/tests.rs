use ellwand_geometry::point;

use super::*;
use crate::{
    Need,
    sample::{self, cut},
};

/// A plaid of 120 by 100 mm, its bars 20 mm from the left edge and 10 mm from the cut end.
fn plaid() -> Design {
    let repeat = |every, offset| Some(Repeat::even(every, offset));
    Design::repeating(repeat(120.0, 20.0), repeat(100.0, 10.0))
}

fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

fn wanted(rule: MatchRule) -> [Match; 1] {
    [Match { name: "side".into(), need: Need::Required, rules: vec![rule] }]
}

fn panel(copy: u32, pose: Pose, place: (f64, f64)) -> Cut {
    cut(&sample::panel(), 1, copy, pose, place)
}

fn pocket(copy: u32, place: (f64, f64)) -> Cut {
    let mut pocket = sample::pocket();
    pocket.points.insert("corner".into(), point(0.0, 0.0));
    cut(&pocket, 3, copy, Pose::AS_DRAWN, place)
}

/// The corner "side low" of a panel lies at (200, 0) of its own.
#[test]
fn the_copies_of_one_piece_meet_each_the_next() {
    let rule = MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis: DesignAxis::Along };
    let cuts = [
        panel(1, Pose::AS_DRAWN, (0.0, 0.0)),
        panel(2, Pose::AS_DRAWN.mirrored(), (500.0, 203.0)),
        panel(3, Pose::AS_DRAWN, (600.0, 0.0)),
    ];
    let found = matched_points(&wanted(rule), &cuts, &plaid(), 1500.0);
    let told: Vec<(u32, Option<u32>, f64)> =
        found.iter().map(|m| (m.a.copy, m.b.as_ref().map(|b| b.copy), m.residual)).collect();
    // Two repeats and 3 mm apart they miss by 3 mm, either way round.
    assert_eq!(told, [(1, Some(2), 3.0), (2, Some(3), 3.0)]);
    assert!(found.iter().all(|m| m.phase.is_none() && m.name == "side" && m.axis == DesignAxis::Along));
}

/// Seen on the garment a mirrored copy, and one upside down, count from the bar the other way.
#[test]
fn turned_and_mirrored_copies_show_the_design_the_other_way_round() {
    let across = MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis: DesignAxis::Across };
    let along = MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis: DesignAxis::Along };
    let miss = |rule: &MatchRule, pose: Pose, place: (f64, f64)| {
        let cuts = [panel(1, Pose::AS_DRAWN, (-20.0, 0.0)), panel(2, pose, place)];
        matched_points(&wanted(rule.clone()), &cuts, &plaid(), 1500.0)[0].residual
    };
    // At x = 180 the first is 160 mm right of a bar, 40 mm in the repeat; mirrored, 40 mm left of a bar shows the same.
    assert_eq!(miss(&across, Pose::AS_DRAWN.mirrored(), (200.0 + 20.0 + 480.0 - 40.0, 0.0)), 0.0);
    assert_eq!(miss(&across, Pose::AS_DRAWN.mirrored(), (200.0 + 20.0 + 480.0 + 40.0, 0.0)), 40.0);
    assert_eq!(miss(&across, Pose::AS_DRAWN, (100.0, 0.0)), 0.0);
    assert_eq!(miss(&across, Pose::AS_DRAWN, (110.0, 0.0)), 10.0);
    // At y = 0 it is 10 mm below a bar; upside down, 10 mm above one shows the same.
    assert!(miss(&along, Pose::turned(180.0), (700.0, 320.0)) < 1e-9);
    assert!((miss(&along, Pose::turned(180.0), (700.0, 300.0)) - 20.0).abs() < 1e-9);
}

#[test]
fn pieces_meet_copy_by_copy_and_the_fewer_serve_in_turn() {
    let rule = MatchRule::Meet { a: at("Panel", "side low"), b: at("Pocket", "corner"), axis: DesignAxis::Along };
    let mut cuts =
        vec![panel(1, Pose::AS_DRAWN, (0.0, 0.0)), panel(2, Pose::AS_DRAWN, (300.0, 40.0)), pocket(1, (700.0, 0.0))];
    let copies = |cuts: &[Cut]| -> Vec<(u32, u32, f64)> {
        let found = matched_points(&wanted(rule.clone()), cuts, &plaid(), 1500.0);
        found.iter().map(|m| (m.a.copy, m.b.as_ref().unwrap().copy, m.residual)).collect()
    };
    assert_eq!(copies(&cuts), [(1, 1, 0.0), (2, 1, 40.0)]);
    cuts.push(pocket(2, (900.0, 40.0)));
    assert_eq!(copies(&cuts), [(1, 1, 0.0), (2, 2, 0.0)]);
    // Without a partner there is nothing to meet.
    assert_eq!(copies(&cuts[..2]), []);
}

#[test]
fn every_copy_stands_on_the_design_by_itself() {
    let rule = MatchRule::Stand { at: at("Panel", "side low"), axis: DesignAxis::Along, phase: 50.0 };
    let cuts = [panel(1, Pose::AS_DRAWN, (0.0, 60.0)), panel(2, Pose::AS_DRAWN, (300.0, 64.0))];
    let found = matched_points(&wanted(rule), &cuts, &plaid(), 1500.0);
    let told: Vec<_> = found.iter().map(|m| (m.a.copy, m.b.is_none(), m.phase, m.residual)).collect();
    assert_eq!(told, [(1, true, Some(50.0), 0.0), (2, true, Some(50.0), 4.0)]);
    let stripe = Design { along: None, ..plaid() };
    let rule = MatchRule::Stand { at: at("Panel", "side low"), axis: DesignAxis::Along, phase: 50.0 };
    assert!(matched_points(&wanted(rule), &cuts, &stripe, 1500.0).is_empty());
}

/// Turned by 270 degrees the low end points to the left edge, by 90 to the right one.
#[test]
fn a_border_is_reached_from_either_selvage() {
    let rule = MatchRule::Border { at: at("Panel", "side low"), from_edge: 60.0 };
    let cuts = [panel(1, Pose::turned(270.0), (63.0, 400.0)), panel(2, Pose::turned(90.0), (1440.0, 0.0))];
    let found = matched_points(&wanted(rule), &cuts, &plaid(), 1500.0);
    let told: Vec<_> = found.iter().map(|m| (m.phase, m.axis)).collect();
    assert_eq!(told, [(Some(60.0), DesignAxis::Across), (Some(1440.0), DesignAxis::Across)]);
    assert!((found[0].residual - 3.0).abs() < 1e-9 && found[1].residual < 1e-9, "{found:?}");
}
