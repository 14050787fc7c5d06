//! Nothing is passed on that the checker finds at fault: neither a broken layout nor a sound one that answers another question.

use super::*;

use ellwand_garment::{
    Cloth, CutRule, Design, DesignAxis, Fabric, GrainRule, Hands, Job, Match, MatchRule, Nap, Need, Pattern, Piece,
    PiecePoint, Repeat, RightSide, Units, View, Way, WayChoice,
};
use ellwand_geometry::{Outline, Pose, point};
use ellwand_nest::Place;

/// Something to be changed in a layout, by name.
type LayoutChange = (&'static str, fn(&mut Layout));
/// The same in a question.
type QuestionChange = (&'static str, fn(&mut Question<'_>));

fn piece(name: &str, corners: &[(f64, f64)], hands: Hands) -> Piece {
    Piece {
        name: name.into(),
        outline: Outline::from_pairs(corners).unwrap(),
        grainline: [point(50.0, 20.0), point(50.0, 80.0)],
        edges: Vec::new(),
        fold: false,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        darts: Vec::new(),
        points: [("low".to_owned(), point(0.0, 0.0))].into(),
        cuts: vec![CutRule { role: "main".into(), count: 2, on_fold: false, hands, grain: None }],
        strips: None,
    }
}

fn pattern() -> Pattern {
    let panel = piece("Panel", &[(0.0, 0.0), (200.0, 0.0), (150.0, 300.0), (0.0, 300.0)], Hands::Pair);
    let pocket = piece("Pocket", &[(0.0, 0.0), (100.0, 0.0), (100.0, 90.0), (0.0, 110.0)], Hands::Same);
    let view = View { name: "A".into(), title: String::new(), pieces: vec!["Panel".into(), "Pocket".into()] };
    Pattern {
        name: "Bag".into(),
        size: "38".into(),
        pieces: vec![panel, pocket],
        views: vec![view],
        seams: Vec::new(),
        garments: Vec::new(),
    }
}

/// A job on an even plaid whose repeat is 100 mm both ways, on which the low points of the panels must meet along.
fn job() -> Job {
    let repeat = || Some(Repeat::even(100.0, 0.0));
    let design = Design::repeating(repeat(), repeat());
    let at = || PiecePoint { piece: "Panel".into(), point: "low".into() };
    let rules = vec![MatchRule::Meet { a: at(), b: at(), axis: DesignAxis::Along }];
    let mut fabric = Fabric {
        role: "main".into(),
        cloth: Cloth {
            name: "plaid".into(),
            width: 1000.0,
            selvage: 10.0,
            nap: Nap::Without,
            right_side: RightSide::One,
            off_grain_deg: 0.0,
            piece_gap: 0.0,
            flaws: Vec::new(),
            on_hand: None,
            design: Some(design),
            remnant: None,
        },
        ways: WayChoice::Only(Way::Open),
        price: None,
        currency: None,
        sold_by: 100.0,
        shrinkage: Default::default(),
        straighten_ends: 0.0,
        matching: Default::default(),
        remnants: Vec::new(),
    };
    fabric.matching.matches = vec![Match { name: "side".into(), need: Need::Required, rules }];
    Job {
        name: "Bag in plaid".into(),
        pattern: "Bag".into(),
        view: "A".into(),
        size: "38".into(),
        units: Units::Centimetres,
        fabrics: vec![fabric],
        spending: Default::default(),
    }
}

/// The pieces side by side, the second pocket upside down; and whatever is changed in the question afterwards.
fn judged_after(
    change_layout: impl FnOnce(&mut Layout),
    change_question: impl FnOnce(&mut Question),
) -> Result<Layout, PlanError> {
    let (job, pattern) = (job(), pattern());
    let question = Question::of(&job, &pattern, "main", Way::Open).unwrap();
    let prepared = Prepared::of(&question).unwrap();
    let at = |slot: usize, pose: Pose, x: f64, y: f64| {
        let wanted = |of: &Pose| of.mirrored == pose.mirrored && (of.turn_deg - pose.turn_deg).abs() < 1e-9;
        let pose = prepared.slots[slot].poses.iter().position(wanted).expect("a pose of the slot");
        Place { pose, turn: 0.0, x, y }
    };
    let places = vec![
        at(0, Pose::AS_DRAWN, 10.0, 0.0),
        at(1, Pose::AS_DRAWN.mirrored(), 500.0, 0.0),
        at(2, Pose::AS_DRAWN, 600.0, 0.0),
        at(3, Pose::turned(180.0), 900.0, 110.0),
    ];
    let bound = LowerBound { length: 300.0, reason: "\"Panel\" alone is this long".into() };
    let note = SearchNote { seed: 7, effort: "by hand".into(), seconds: 0.0, start_length: 300.0, trace: Vec::new() };
    let mut layout = assemble(&prepared, &Packing { length: 300.0, places }, bound, note);
    change_layout(&mut layout);
    let mut asked = question.clone();
    change_question(&mut asked);
    judged(layout, &asked)
}

/// The faults that were told, of the cloth and seed they were told of.
fn refused(answer: Result<Layout, PlanError>) -> usize {
    match answer {
        Err(PlanError::Bug { role, seed, faults }) => {
            assert_eq!((role.as_str(), seed), ("main", 7));
            faults.len()
        }
        Err(other) => panic!("{other}"),
        Ok(_) => 0,
    }
}

#[test]
fn a_sound_layout_is_passed_on_as_it_is() {
    let layout = judged_after(|_| {}, |_| {}).unwrap();
    assert_eq!((layout.length, layout.cuts.len(), layout.matches.len()), (300.0, 4, 1));
    assert_eq!((layout.size.as_str(), layout.purchase.buy), ("38", 300.0));
}

#[test]
fn a_layout_with_a_fault_of_any_kind_is_refused() {
    let breaks: [LayoutChange; 9] = [
        ("a copy on another", |layout| layout.cuts[2].outline = layout.cuts[3].outline.clone()),
        ("a copy missing", |layout| drop(layout.cuts.pop())),
        ("a copy of the wrong hand", |layout| layout.cuts[1].mirrored = false),
        ("a shorter length", |layout| layout.length = 299.0),
        ("a bound above the length", |layout| layout.lower_bound.length = 301.0),
        ("a match untold", |layout| layout.matches.clear()),
        ("a match that misses", |layout| layout.matches[0].residual = 1.0),
        ("a step too much to buy", |layout| layout.purchase.steps += 1),
        ("another size", |layout| layout.size = "40".into()),
    ];
    for (what, change) in breaks {
        assert!(refused(judged_after(change, |_| {})) > 0, "{what}");
    }
}

#[test]
fn a_layout_is_judged_by_the_cloth_and_the_matches_that_were_asked_for() {
    let meets_across = |question: &mut Question| {
        let at = || PiecePoint { piece: "Pocket".into(), point: "low".into() };
        let rules = vec![MatchRule::Meet { a: at(), b: at(), axis: DesignAxis::Along }];
        question.fabric.matching.matches.push(Match { name: "pocket".into(), need: Need::Required, rules });
    };
    let asked: [QuestionChange; 8] = [
        ("nap", |question| question.fabric.cloth.nap = Nap::With),
        ("off-grain", |question| question.fabric.cloth.off_grain_deg = 1.0),
        ("gap", |question| question.fabric.cloth.piece_gap = 100.0),
        ("flaws", |question| question.fabric.cloth.flaws = vec![Outline::rectangle(50.0, 50.0).unwrap()]),
        ("selvage", |question| question.fabric.cloth.selvage = 20.0),
        ("right side", |question| question.fabric.cloth.right_side = RightSide::Both),
        ("one match more", meets_across),
        ("nothing to match", |question| question.fabric.matching.matches.clear()),
    ];
    for (what, change) in asked {
        assert!(refused(judged_after(|_| {}, change)) > 0, "{what}");
    }
    // Not only since the layout says otherwise of itself: it lies against that nap, too near, on that flaw and on that selvage.
    for (what, change) in &asked[..5] {
        let faults = refused(judged_after(|_| {}, change));
        assert!(faults > 1 || *what == "off-grain", "{what}: {faults}");
    }
}

/// A pocket of either hand that the search laid face down, its tall side to the right. As drawn its tall side is on the left, where the cloth may have a
/// flaw; turned round it has one too.
#[test]
fn a_copy_lies_as_drawn_where_there_is_room() {
    let laid = |flaws: Vec<Outline>| {
        let (mut job, mut pattern) = (job(), pattern());
        job.fabrics[0].matching = Default::default();
        job.fabrics[0].cloth.design = None;
        job.fabrics[0].cloth.flaws = flaws;
        pattern.pieces[1].cuts[0].hands = Hands::Any;
        let question = Question::of(&job, &pattern, "main", Way::Open).unwrap();
        let prepared = Prepared::of(&question).unwrap();
        let pose = |slot: usize, wanted: Pose| prepared.slots[slot].poses.iter().position(|of| *of == wanted).unwrap();
        let place = |pose: usize, x: f64| Place { pose, turn: 0.0, x, y: 0.0 };
        let places = vec![
            place(pose(0, Pose::AS_DRAWN), 10.0),
            place(pose(1, Pose::AS_DRAWN.mirrored()), 500.0),
            place(pose(2, Pose::AS_DRAWN.mirrored()), 700.0),
            place(pose(3, Pose::AS_DRAWN), 800.0),
        ];
        let bound = LowerBound { length: 300.0, reason: "\"Panel\" alone is this long".into() };
        let note =
            SearchNote { seed: 7, effort: "by hand".into(), seconds: 0.0, start_length: 300.0, trace: Vec::new() };
        let layout = judged(assemble(&prepared, &Packing { length: 300.0, places }, bound, note), &question).unwrap();
        let turned = face_up(layout.clone(), &prepared);
        assert_eq!(turned.length, layout.length);
        assert_eq!(turned.cuts[2].outline.bounds(), layout.cuts[2].outline.bounds());
        // The panels are left and right, and one of them lies face down whatever happens.
        assert!(turned.cuts[1].mirrored && layout.cuts[2].mirrored);
        turned.cuts[2].mirrored
    };
    assert!(!laid(Vec::new()));
    let flaw = Outline::from_pairs(&[(600.0, 100.0), (604.0, 100.0), (604.0, 105.0), (600.0, 105.0)]).unwrap();
    assert!(laid(vec![flaw]));
}
