use std::collections::BTreeMap;

use ellwand_geometry::{Outline, point};

use super::*;
use crate::{CutRule, DesignAxis::*, Need, Repeat};

/// A plaid of 120 by 150 mm.
fn plaid(balance: Balance) -> Design {
    let repeat = |every| Some(Repeat { every, offset: 0.0, balance, bars: Vec::new() });
    Design::repeating(repeat(120.0), repeat(150.0))
}

/// A rectangle with its named points, cut in these hands.
fn piece(name: &str, count: u32, hands: Hands, points: &[(&str, f64, f64)]) -> Piece {
    Piece {
        name: name.into(),
        outline: Outline::rectangle(200.0, 400.0).unwrap(),
        edges: Vec::new(),
        grainline: [point(100.0, 50.0), point(100.0, 350.0)],
        fold: false,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        darts: Vec::new(),
        points: points.iter().map(|&(name, x, y)| (name.to_owned(), point(x, y))).collect::<BTreeMap<_, _>>(),
        cuts: vec![CutRule { role: "main".into(), count, on_fold: false, hands, grain: None }],
        strips: None,
    }
}

fn pattern(pieces: Vec<Piece>) -> Pattern {
    Pattern { name: "P".into(), size: "38".into(), pieces, views: Vec::new(), seams: Vec::new(), garments: Vec::new() }
}

/// Front and back, whose waists lie 200 and 230 mm above their hems, and a sleeve.
fn smock() -> Pattern {
    pattern(vec![
        piece("Front", 2, Hands::Pair, &[("low", 0.0, 0.0), ("waist", 10.0, 200.0), ("centre", 30.0, 0.0)]),
        piece("Back", 1, Hands::Any, &[("low", 0.0, 0.0), ("waist", 10.0, 230.0), ("centre", 0.0, 0.0)]),
        piece("Sleeve", 2, Hands::Pair, &[("front notch", 40.0, 310.0), ("back notch", 20.0, 300.0)]),
    ])
}

fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

fn wanted(name: &str, rules: &[MatchRule]) -> Match {
    Match { name: name.into(), need: Need::Required, rules: rules.to_vec() }
}

fn meet(a: (&str, &str), b: (&str, &str), axis: DesignAxis) -> MatchRule {
    MatchRule::Meet { a: at(a.0, a.1), b: at(b.0, b.1), axis }
}

fn stand(place: (&str, &str), axis: DesignAxis, phase: f64) -> MatchRule {
    MatchRule::Stand { at: at(place.0, place.1), axis, phase }
}

fn side() -> Match {
    wanted("side", &[meet(("Front", "waist"), ("Back", "waist"), Along)])
}

/// Nothing sets where the waist falls, but the back's hem lies 30 mm deeper below it.
#[test]
fn pieces_that_only_meet_each_other_share_one_free_phase() {
    let shoulder = wanted("sleeve", &[meet(("Sleeve", "front notch"), ("Front", "waist"), Along)]);
    let found = phases(&smock(), "main", &[side(), shoulder], &plaid(Balance::Even)).unwrap();
    assert_eq!((found.groups(Along), found.groups(Across)), (1, 0));
    let ahead = |piece: &str| match found.of(piece, Along) {
        Some(OriginPhase::Shared { group: 0, shown: Shown::Alike, ahead }) => ahead,
        other => panic!("{piece}: {other:?}"),
    };
    assert_eq!(ahead("Back") - ahead("Front"), 200.0 - 230.0);
    assert_eq!(ahead("Front") - ahead("Sleeve"), 310.0 - 200.0);
    assert_eq!((found.of("Front", Across), found.speak_of("Front"), found.speak_of("Collar")), (None, true, false));
}

#[test]
fn pieces_that_hang_together_apart_from_others_are_groups_of_their_own() {
    let mut smock = smock();
    smock.pieces.push(piece("Pocket", 1, Hands::Any, &[("corner", 0.0, 0.0)]));
    smock.pieces.push(piece("Flap", 1, Hands::Any, &[("corner", 0.0, 0.0)]));
    let flap = wanted("flap", &[meet(("Flap", "corner"), ("Pocket", "corner"), Along)]);
    let found = phases(&smock, "main", &[side(), flap], &plaid(Balance::Even)).unwrap();
    assert_eq!(found.groups(Along), 2);
    assert_eq!(found.of("Flap", Along), Some(OriginPhase::Shared { group: 1, shown: Shown::Alike, ahead: 0.0 }));
    assert_eq!(found.of("Pocket", Along), Some(OriginPhase::Shared { group: 1, shown: Shown::Alike, ahead: 0.0 }));
}

/// The hem of the front stands on the bar and the back follows it over the waist; across, each centre stands by itself.
#[test]
fn what_stands_on_the_design_sets_all_that_hang_on_it() {
    let hem = wanted("hem", &[stand(("Front", "low"), Along, 0.0)]);
    let half = 120.0 / 2.0;
    let centres =
        wanted("centre", &[stand(("Front", "centre"), Across, half), stand(("Back", "centre"), Across, half)]);
    let found = phases(&smock(), "main", &[centres, hem, side()], &plaid(Balance::Even)).unwrap();
    assert_eq!(found.of("Front", Along), Some(OriginPhase::Set(0.0)));
    assert_eq!(found.of("Back", Along), Some(OriginPhase::Set(-30.0)));
    // The centre of the front lies 30 mm right of its origin.
    assert_eq!(found.of("Front", Across), Some(OriginPhase::Set(half - 30.0)));
    assert_eq!(found.of("Back", Across), Some(OriginPhase::Set(half)));
    assert_eq!((found.groups(Across), found.groups(Along)), (0, 0));
}

/// Waist to waist, waist to the front notch, and back notch to waist: round this cycle the sleeve's notches are 10 mm apart and
/// nothing else makes up for them.
#[test]
fn a_cycle_of_three_that_does_not_close_is_told_by_name_and_amount() {
    let front = wanted("front notch", &[meet(("Sleeve", "front notch"), ("Front", "waist"), Along)]);
    let back = wanted("back notch", &[meet(("Sleeve", "back notch"), ("Back", "waist"), Along)]);
    let hem = wanted("hem", &[stand(("Front", "low"), Along, 0.0)]);
    let faults = phases(&smock(), "main", &[hem, side(), front, back], &plaid(Balance::Even)).unwrap_err();
    let [MatchFault::Contradiction { names, axis, by }] = faults.as_slice() else { panic!("{faults:?}") };
    let mut sorted = names.clone();
    sorted.sort();
    // The hem hangs on the cycle and does not matter to it.
    assert_eq!(sorted, ["back notch", "front notch", "side"]);
    assert_eq!((*axis, *by), (Along, 10.0));
    assert_eq!(faults[0].names(), names);
    let words = faults[0].to_string();
    assert!(words.ends_with("contradict each other: along the cloth they disagree by 10.0 mm"), "{words}");
}

/// Whole repeats more or less are the same place; 150 mm round the repeat is no disagreement, 75 mm is all there can be.
#[test]
fn a_cycle_may_close_by_whole_repeats() {
    let two_hems = |phase: f64| {
        let hems = [stand(("Front", "low"), Along, 0.0), stand(("Front", "waist"), Along, phase)];
        phases(&smock(), "main", &[wanted("hem", &hems[..1]), wanted("waist", &hems[1..])], &plaid(Balance::Even))
    };
    // 200 mm above a bar is 50 mm above the next.
    assert!(two_hems(50.0).is_ok());
    assert!(two_hems(50.01).is_ok(), "less than a thread");
    let faults = two_hems(125.0).unwrap_err();
    assert!(matches!(faults[0], MatchFault::Contradiction { by: 75.0, .. }), "{faults:?}");
}

#[test]
fn a_direction_without_a_repeat_and_points_that_are_not_there_ask_for_nothing() {
    let stripe = Design { along: None, ..plaid(Balance::Even) };
    assert_eq!(phases(&smock(), "main", &[side()], &stripe), Ok(Phases::default()));
    let nowhere =
        wanted("nowhere", &[meet(("Front", "hip"), ("Back", "waist"), Along), stand(("Cuff", "low"), Across, 0.0)]);
    assert_eq!(phases(&smock(), "main", &[nowhere], &plaid(Balance::Even)), Ok(Phases::default()));
}

#[test]
fn a_piece_on_the_bias_meets_no_piece_on_the_straight_grain() {
    let mut smock = smock();
    smock.pieces[2].grain = GrainRule::Bias;
    let both = meet(("Sleeve", "front notch"), ("Front", "waist"), Along);
    let across = meet(("Sleeve", "front notch"), ("Front", "waist"), Across);
    let faults = phases(&smock, "main", &[wanted("sleeve", &[both, across])], &plaid(Balance::Even)).unwrap_err();
    let (name, bias, straight) = ("sleeve".to_owned(), "Sleeve".to_owned(), "Front".to_owned());
    assert_eq!(faults, [MatchFault::BiasMeetsStraight { name, bias, straight }]);
    assert_eq!(phases(&smock, "main", &[side()], &plaid(Balance::Even)).unwrap().way(&smock.pieces[2]), PieceWay::Bias);
}

/// Two halves on the bias meet in chevrons when the design is alike both ways: then the match says nothing of the phase.
#[test]
fn chevrons_need_an_even_design() {
    let mut smock = smock();
    smock.pieces[0].grain = GrainRule::Bias;
    let chevron = wanted("chevron", &[meet(("Front", "low"), ("Front", "low"), Along)]);
    let found = phases(&smock, "main", std::slice::from_ref(&chevron), &plaid(Balance::Even)).unwrap();
    assert_eq!(found.of("Front", Along), Some(OriginPhase::Shared { group: 0, shown: Shown::Alike, ahead: 0.0 }));
    let faults = phases(&smock, "main", &[chevron], &plaid(Balance::Uneven)).unwrap_err();
    assert_eq!(faults, [MatchFault::UnevenChevron { name: "chevron".into(), piece: "Front".into() }]);
}

/// At 45 degrees the point (40, 310) lies (310 - 40) / √2 left of the origin and (310 + 40) / √2 above it.
#[test]
fn points_of_a_piece_on_the_bias_are_taken_as_it_lies() {
    let mut smock = smock();
    smock.pieces[2].grain = GrainRule::Bias;
    let rules = [stand(("Sleeve", "front notch"), Across, 0.0), stand(("Sleeve", "front notch"), Along, 0.0)];
    let found = phases(&smock, "main", &[wanted("motif", &rules)], &plaid(Balance::Even)).unwrap();
    let set = |axis| match found.of("Sleeve", axis) {
        Some(OriginPhase::Set(phase)) => phase,
        other => panic!("{other:?}"),
    };
    assert!((set(Across) - 270.0 / 2f64.sqrt()).abs() < 1e-9);
    assert!((set(Along) + 350.0 / 2f64.sqrt()).abs() < 1e-9);
}

/// With its low end to the left edge a piece is turned by 270 degrees: its height runs to the right, its width downwards.
#[test]
fn a_piece_at_a_border_lies_crosswise_from_the_edge() {
    let rules = [MatchRule::Border { at: at("Front", "low"), from_edge: 60.0 }, stand(("Front", "centre"), Along, 0.0)];
    let smock = smock();
    let found = phases(&smock, "main", &[wanted("border", &rules)], &plaid(Balance::Even)).unwrap();
    assert_eq!(found.from_edge("Front"), Some(60.0));
    assert_eq!((found.way(&smock.pieces[0]), found.way(&smock.pieces[1])), (PieceWay::Crosswise, PieceWay::Upright));
    let Some(OriginPhase::Set(phase)) = found.of("Front", Along) else { panic!("{found:?}") };
    assert!((phase - 30.0).abs() < 1e-9, "{phase}");
    let higher = MatchRule::Border { at: at("Front", "waist"), from_edge: 260.0 };
    let found = phases(&smock, "main", &[wanted("border", &[higher])], &plaid(Balance::Even)).unwrap();
    assert!((found.from_edge("Front").unwrap() - 60.0).abs() < 1e-9);
}

/// Left and right cannot both show the same as two left ones; along the warp they can.
#[test]
fn pairs_do_not_meet_copies_of_one_hand_across() {
    let mut smock = smock();
    smock.pieces[2] = piece("Sleeve", 2, Hands::Same, &[("front notch", 40.0, 310.0)]);
    let sleeve = |axis| wanted("sleeve", &[meet(("Sleeve", "front notch"), ("Front", "waist"), axis)]);
    assert!(phases(&smock, "main", &[sleeve(Along)], &plaid(Balance::Even)).is_ok());
    let faults = phases(&smock, "main", &[sleeve(Across)], &plaid(Balance::Even)).unwrap_err();
    let (name, pair, same) = ("sleeve".to_owned(), "Front".to_owned(), "Sleeve".to_owned());
    assert_eq!(faults, [MatchFault::HandsDiffer { name, pair, same }]);
}

fn chevron(a: (&str, &str), b: (&str, &str)) -> MatchRule {
    MatchRule::Chevron { a: at(a.0, a.1), b: at(b.0, b.1) }
}

/// φ of the front's waist is -φ of the back's: with the front's centre on a bar its waist lies at -20, the back's at 20, its origin at 10.
#[test]
fn the_other_side_of_a_chevron_shows_the_mirror_image() {
    let rules = [stand(("Front", "centre"), Across, 0.0), chevron(("Front", "waist"), ("Back", "waist"))];
    let found = phases(&smock(), "main", &[wanted("side", &rules)], &plaid(Balance::Even)).unwrap();
    assert_eq!(found.of("Front", Across), Some(OriginPhase::Set(-30.0)));
    assert_eq!(found.of("Back", Across), Some(OriginPhase::Set(10.0)));
    // Left to itself the pair keeps one free phase, which the back shows the other way round.
    let free = phases(&smock(), "main", &[wanted("side", &rules[1..])], &plaid(Balance::Even)).unwrap();
    let shared = |shown, ahead| Some(OriginPhase::Shared { group: 0, shown, ahead });
    assert_eq!(free.of("Front", Across), shared(Shown::Alike, 0.0));
    assert_eq!(free.of("Back", Across), shared(Shown::Mirrored, -20.0));
    assert_eq!((free.groups(Across), free.groups(Along)), (1, 0));
}

/// A mirror image of a mirror image is the thing itself; both ways round must agree.
#[test]
fn two_chevrons_in_a_row_are_kept_when_they_agree() {
    let row = [chevron(("Front", "low"), ("Back", "low")), chevron(("Back", "waist"), ("Sleeve", "front notch"))];
    let closed = |by: &str| [&row[..], &[meet(("Front", by), ("Sleeve", "back notch"), Across)]].concat();
    let found = |rules: &[MatchRule]| phases(&smock(), "main", &[wanted("round", rules)], &plaid(Balance::Even));
    let open = found(&row).unwrap();
    // Sleeve: -(-φ + 10) + ... : 40 + φs = -(10 + φb), φb = -φf, so φs = φf - 50.
    assert_eq!(open.of("Sleeve", Across), Some(OriginPhase::Shared { group: 0, shown: Shown::Alike, ahead: -50.0 }));
    // φf + 30 against φs + 20 = φf - 30: 60 apart.
    let faults = found(&closed("centre")).unwrap_err();
    assert!(matches!(&faults[..], [MatchFault::Contradiction { by, .. }] if (by - 60.0).abs() < 1e-9), "{faults:?}");
}

/// What shows both the thing and its mirror image stands on an axis of the design, so that no phase is left free.
#[test]
fn a_pair_that_meets_alike_and_in_points_stands_on_an_axis() {
    let rules = [meet(("Front", "low"), ("Back", "low"), Across), chevron(("Front", "waist"), ("Back", "waist"))];
    let asked = |rules: &[MatchRule]| phases(&smock(), "main", &[wanted("side", rules)], &plaid(Balance::Even));
    // Both waists lie on a bar, 10 mm from their origins, or midway between two.
    let faults = asked(&rules).unwrap_err();
    let [MatchFault::AxisOpen { name, at: open, phases: both }] = &faults[..] else { panic!("{faults:?}") };
    assert_eq!((name.as_str(), open, both), ("side", &at("Back", "waist"), &[0.0, 60.0]));
    for &phase in both {
        let said = MatchRule::Stand { at: open.clone(), axis: Across, phase };
        let found = asked(&[&rules[..], &[said]].concat()).unwrap();
        let off = |piece: &str, wanted: f64| match found.of(piece, Across) {
            Some(OriginPhase::Set(origin)) => (origin - wanted).rem_euclid(120.0),
            other => panic!("{other:?}"),
        };
        assert_eq!((off("Front", phase - 10.0), off("Back", phase - 10.0), found.groups(Across)), (0.0, 0.0, 0));
    }
    let more = [rules.as_slice(), &[stand(("Front", "low"), Across, 0.0)]].concat();
    let faults = asked(&more).unwrap_err();
    assert!(matches!(&faults[..], [MatchFault::Contradiction { axis: Across, .. }]), "{faults:?}");
}

#[test]
fn an_uneven_design_makes_no_points() {
    let rules = [chevron(("Front", "low"), ("Back", "low"))];
    let faults = phases(&smock(), "main", &[wanted("side", &rules)], &plaid(Balance::Uneven)).unwrap_err();
    assert_eq!(faults, [MatchFault::UnevenChevron { name: "side".into(), piece: "Front".into() }]);
}
