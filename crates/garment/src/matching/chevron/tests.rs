//! Panels of a flared skirt whose sides lean 1 in 5, drawn with the side on the right or on the left.

use std::collections::BTreeMap;

use ellwand_geometry::{Outline, point};

use super::*;
use crate::{Piece, PieceEdge, SeamKind};

/// Where the side of a panel is drawn.
#[derive(Clone, Copy, PartialEq)]
enum Drawn {
    Right,
    Left,
}

/// A panel 400 mm high and 100 mm wide at the waist, whose side leans out by `lean` mm towards the hem. `seam low` and `seam high` are the ends of
/// its side.
fn panel(name: &str, drawn: Drawn, lean: f64) -> Piece {
    let sign = if drawn == Drawn::Right { 1.0 } else { -1.0 };
    let (low, high) = (point(sign * (100.0 + lean), 0.0), point(sign * 100.0, 400.0));
    let mut ring = vec![point(0.0, 0.0), low, high, point(0.0, 400.0)];
    if drawn == Drawn::Left {
        ring.reverse();
    }
    Piece {
        name: name.into(),
        outline: Outline::new(ring).unwrap(),
        edges: vec![PieceEdge { name: "side".into(), line: vec![low, high], allowance: Some(15.0), corner: None }],
        grainline: [point(sign * 50.0, 50.0), point(sign * 50.0, 350.0)],
        fold: false,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        darts: Vec::new(),
        points: BTreeMap::from([("seam low".into(), low), ("seam high".into(), high)]),
        cuts: vec![crate::CutRule::pair("main")],
        strips: None,
    }
}

/// A gore: both sides lean out by `lean`.
fn gore(lean: f64) -> Piece {
    let mut gore = panel("Gore", Drawn::Right, lean);
    let (low, high) = (point(-lean, 0.0), point(0.0, 400.0));
    gore.outline = Outline::new(vec![low, gore.points["seam low"], gore.points["seam high"], high]).unwrap();
    gore.edges.push(PieceEdge {
        name: "other side".into(),
        line: vec![high, low],
        allowance: Some(15.0),
        corner: None,
    });
    gore.points.insert("other low".into(), low);
    gore
}

fn side(piece: &str, edge: &str, meets: &[&str]) -> SeamSide {
    SeamSide {
        piece: piece.into(),
        edges: if edge.is_empty() { Vec::new() } else { vec![edge.into()] },
        meets: meets.iter().map(|&name| name.to_owned()).collect(),
        taken_up: Vec::new(),
        centre: None,
        roll: None,
    }
}

fn found(pieces: Vec<Piece>, a: SeamSide, b: Option<SeamSide>) -> Result<MatchRule, MatchFault> {
    let pattern = Pattern {
        name: "Skirt".into(),
        size: "38".into(),
        pieces,
        views: Vec::new(),
        seams: Vec::new(),
        garments: Vec::new(),
    };
    let seam = Seam { name: "side".into(), kind: SeamKind::Side, a, b };
    seam.chevron(&pattern, "main", &Repeat::even(60.0, 0.0), CentreOn::Bar)
}

fn of_sides(front: Piece, back: Piece) -> Result<MatchRule, MatchFault> {
    let ends = &["seam low", "seam high"];
    found(vec![front, back], side("Front", "side", ends), Some(side("Back", "side", ends)))
}

fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

#[test]
fn sides_drawn_apart_show_mirror_images_and_sides_drawn_alike_the_same() {
    let (a, b) = (at("Front", "seam low"), at("Back", "seam low"));
    let apart = of_sides(panel("Front", Drawn::Right, 80.0), panel("Back", Drawn::Left, 80.0));
    assert_eq!(apart, Ok(MatchRule::Chevron { a: a.clone(), b: b.clone() }));
    let alike = of_sides(panel("Front", Drawn::Right, 80.0), panel("Back", Drawn::Right, 80.0));
    assert_eq!(alike, Ok(MatchRule::Meet { a, b, axis: DesignAxis::Across }));
}

/// The back's side is named from the waist down: what is sewn together decides, and not how the edges are drawn.
#[test]
fn the_way_round_an_edge_is_drawn_does_not_matter() {
    let mut back = panel("Back", Drawn::Left, 80.0);
    back.edges[0].line.reverse();
    let rule = of_sides(panel("Front", Drawn::Right, 80.0), back);
    assert!(matches!(rule, Ok(MatchRule::Chevron { .. })), "{rule:?}");
}

#[test]
fn bars_drift_apart_where_the_sides_lean_unlike() {
    let fault = of_sides(panel("Front", Drawn::Right, 80.0), panel("Back", Drawn::Left, 60.0)).unwrap_err();
    let MatchFault::ChevronUnlike { by, pieces, .. } = &fault else { panic!("{fault:?}") };
    // As far up the longer edge as the shorter one is long, the front has come in by 79.3 mm and the back by 60.
    let along = 400.0_f64.hypot(60.0) / 400.0_f64.hypot(80.0);
    assert!((by - (80.0 * along - 60.0)).abs() < 1e-9, "{by}");
    assert_eq!(pieces, &["Front".to_owned(), "Back".to_owned()]);
    let near = of_sides(panel("Front", Drawn::Right, 80.0), panel("Back", Drawn::Left, 77.0));
    assert!(near.is_ok(), "an eighth of an inch is not seen: {near:?}");
}

#[test]
fn an_upright_seam_and_one_without_edges_make_no_points() {
    let upright = of_sides(panel("Front", Drawn::Right, 0.0), panel("Back", Drawn::Left, 0.0));
    assert_eq!(upright, Err(MatchFault::ChevronUpright { name: "side".into() }));
    for (edge, meets) in [("", &["seam low"][..]), ("side", &[])] {
        let sides = |piece| side(piece, edge, meets);
        let pieces = vec![panel("Front", Drawn::Right, 80.0), panel("Back", Drawn::Left, 80.0)];
        let unknown = found(pieces, sides("Front"), Some(sides("Back")));
        assert_eq!(unknown, Err(MatchFault::ChevronUnknown { name: "side".into() }));
    }
}

/// Gores all alike, each sewn to the next: the middle between their sides, 50 mm from the grain they are drawn from, is on a bar.
#[test]
fn a_gore_sewn_to_its_like_stands_with_its_middle_on_a_bar() {
    let rule =
        found(vec![gore(80.0)], side("Gore", "side", &["seam low"]), Some(side("Gore", "other side", &["other low"])));
    let Ok(MatchRule::Stand { at: stands, axis: DesignAxis::Across, phase }) = rule else { panic!("{rule:?}") };
    assert_eq!(stands, at("Gore", "seam low"));
    // The side lies 180 mm right of the grain and the other 80 left of it: 130 mm from the middle, two repeats and 10 mm.
    assert!((phase - 10.0).abs() < 1e-9, "{phase}");
}

#[test]
fn an_uneven_design_makes_points_of_nothing() {
    let pattern = |pieces| Pattern {
        name: "Skirt".into(),
        size: "38".into(),
        pieces,
        views: Vec::new(),
        seams: Vec::new(),
        garments: Vec::new(),
    };
    let uneven = Repeat { balance: Balance::Uneven, ..Repeat::even(60.0, 0.0) };
    let gores = (side("Gore", "side", &["seam low"]), Some(side("Gore", "other side", &["other low"])));
    let halves = (side("Gore", "side", &["seam low"]), None);
    for (a, b) in [gores, halves] {
        let seam = Seam { name: "side".into(), kind: SeamKind::Side, a, b };
        let found = seam.chevron(&pattern(vec![gore(80.0)]), "main", &uneven, CentreOn::Bar);
        assert_eq!(found, Err(MatchFault::UnevenChevron { name: "side".into(), piece: "Gore".into() }));
    }
}

#[test]
fn both_copies_of_a_half_make_points_of_themselves() {
    let rule = found(vec![panel("Back", Drawn::Right, 80.0)], side("Back", "side", &["seam low"]), None);
    let both = at("Back", "seam low");
    assert_eq!(rule, Ok(MatchRule::Meet { a: both.clone(), b: both, axis: DesignAxis::Across }));
}

/// On the bias the bars lean half a right angle on both: edges that lean out to either side cross them at different angles.
#[test]
fn on_the_bias_sides_drawn_alike_make_points_and_sides_drawn_apart_do_not() {
    let on_bias = |drawn| {
        let pieces = [panel("Front", Drawn::Right, 80.0), panel("Back", drawn, 80.0)];
        let [front, back] = pieces.map(|piece| Piece { grain: GrainRule::Bias, ..piece });
        of_sides(front, back)
    };
    assert!(matches!(on_bias(Drawn::Right), Ok(MatchRule::Meet { .. })));
    assert!(matches!(on_bias(Drawn::Left), Err(MatchFault::ChevronUnlike { .. })));
}
