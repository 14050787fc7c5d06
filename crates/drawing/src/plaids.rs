//! A plaid shirt for tests: pieces with seam lines and allowances, cut so that the plaid meets.

use std::collections::BTreeMap;

use ellwand_garment::{
    Balance, Bar, Border, BorderSides, CentreOn, Cloth, Cut, CutRule, Design, DesignAxis, Drop, GrainRule, Hands,
    Layout, Match, MatchRule, Nap, Need, Notch, Pattern, Piece, PieceEdge, Repeat, RightSide, Seam, SeamKind, SeamSide,
    View, Way, matched_points,
};
use ellwand_geometry::{CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Path, Placement, Point, Pose, point};

use crate::samples::{curve, laid, layout};

/// A plaid, the same from every side.
pub(crate) fn plaid() -> Design {
    let bar = |at, width, colour: &str| Bar { at, width, colour: colour.into() };
    let (navy, red, gold) = ("#27406b", "#a33b32", "#b98a2e");
    let bars = [
        vec![bar(0.0, 30.0, navy), bar(48.0, 5.0, red)],
        vec![bar(0.0, 34.0, navy), bar(-31.0, 5.0, gold), bar(31.0, 5.0, gold)],
    ];
    let [across, along] = bars;
    Design {
        ground: "#efe6d2".into(),
        ..Design::repeating(
            Some(Repeat { every: 96.0, offset: 88.0, balance: Balance::Even, bars: across }),
            Some(Repeat { every: 120.0, offset: 55.0, balance: Balance::Even, bars: along }),
        )
    }
}

/// Flannel 1.5 m wide.
pub(crate) fn cloth() -> Cloth {
    Cloth {
        name: "brushed flannel".into(),
        width: 1500.0,
        selvage: 8.0,
        nap: Nap::Without,
        right_side: RightSide::One,
        off_grain_deg: 0.0,
        piece_gap: 0.0,
        flaws: Vec::new(),
        on_hand: None,
        design: Some(plaid()),
        remnant: None,
    }
}

/// Seam allowance, mm.
const ALLOWANCE: f64 = 12.0;

/// A piece with the seam line `seam`, edges named by their index, and named points.
pub(crate) fn piece(name: &str, seam: &[(f64, f64)], points: &[(&str, f64, f64)], rule: CutRule) -> Piece {
    let place = |i: usize| point(seam[i % seam.len()].0, seam[i % seam.len()].1);
    let edges = (1..=seam.len()).map(|i| Edge { name: i.to_string(), to: place(i), shape: EdgeShape::Straight });
    let flat = Path::new(place(0), edges.collect()).unwrap().flatten(FLATNESS_MM);
    let outline = CuttingLine::around(flat, &vec![EdgeAllowance::Depth(ALLOWANCE); seam.len()]).unwrap();
    let low = seam.iter().fold(f64::INFINITY, |low, p| low.min(p.1));
    let high = seam.iter().fold(f64::NEG_INFINITY, |high, p| high.max(p.1));
    let middle = if rule.on_fold { 0.0 } else { seam.iter().map(|p| p.0).sum::<f64>() / seam.len() as f64 };
    Piece {
        name: name.into(),
        outline: outline.outline().clone(),
        edges: (0..seam.len())
            .map(|i| PieceEdge {
                name: (i + 1).to_string(),
                line: vec![place(i), place(i + 1)],
                allowance: Some(ALLOWANCE),
                corner: None,
            })
            .collect(),
        grainline: [0.25, 0.75].map(|share| point(middle, low + (high - low) * share)),
        fold: rule.on_fold,
        grain: GrainRule::Straight,
        notches: vec![Notch {
            name: String::new(),
            at: point(place(1).x, place(1).y - ALLOWANCE),
            inward: point(0.0, 1.0),
        }],
        darts: Vec::new(),
        points: points.iter().map(|&(name, x, y)| (name.to_owned(), point(x, y))).collect::<BTreeMap<_, _>>(),
        cuts: vec![rule],
        strips: None,
    }
}

/// So many from the main cloth.
pub(crate) fn rule(count: u32, hands: Hands) -> CutRule {
    CutRule { role: "main".into(), count, on_fold: false, hands, grain: None }
}

fn on_fold() -> CutRule {
    CutRule { on_fold: true, ..rule(1, Hands::Any) }
}

/// Both halves of a piece with its fold on `x = 0`.
fn unfolded(half: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let other = half.iter().rev().filter(|p| p.0 > 0.0).map(|&(x, y)| (-x, y));
    half.iter().copied().chain(other).collect()
}

/// A seam that meets at one point of each piece.
pub(crate) fn seam(name: &str, kind: SeamKind, a: (&str, &str), b: Option<(&str, &str)>) -> Seam {
    let side = |(piece, point): (&str, &str)| SeamSide {
        piece: piece.into(),
        edges: Vec::new(),
        meets: vec![point.into()],
        taken_up: Vec::new(),
        centre: None,
        roll: None,
    };
    Seam { name: name.into(), kind, a: side(a), b: b.map(side) }
}

/// A seam whose first side has its centre line between two points.
fn centred(seam: Seam, low: &str, high: &str) -> Seam {
    Seam { a: SeamSide { centre: Some([low.into(), high.into()]), ..seam.a }, ..seam }
}

/// A shirt: fronts with an overlap, back and collar on the fold, sleeves, patch pockets.
pub(crate) fn shirt() -> Pattern {
    let mut front = vec![(-18.0, 0.0), (248.0, 0.0)];
    front.extend(curve((248.0, 0.0), (238.0, 150.0), (238.0, 260.0), (250.0, 430.0)));
    front.extend(curve((250.0, 430.0), (205.0, 445.0), (192.0, 540.0), (203.0, 640.0)));
    front.push((78.0, 684.0));
    front.extend(curve((78.0, 684.0), (74.0, 630.0), (40.0, 604.0), (0.0, 602.0)));
    front.push((-18.0, 602.0));
    let mut back = vec![(0.0, 0.0), (244.0, 0.0)];
    back.extend(curve((244.0, 0.0), (236.0, 150.0), (236.0, 260.0), (248.0, 430.0)));
    back.extend(curve((248.0, 430.0), (212.0, 450.0), (204.0, 540.0), (206.0, 650.0)));
    back.push((80.0, 694.0));
    back.extend(curve((80.0, 694.0), (60.0, 676.0), (30.0, 672.0), (0.0, 672.0)));
    let mut sleeve = vec![(-105.0, 0.0), (105.0, 0.0), (168.0, 430.0)];
    sleeve.extend(curve((168.0, 430.0), (110.0, 470.0), (80.0, 560.0), (0.0, 560.0)));
    sleeve.extend(curve((0.0, 560.0), (-80.0, 560.0), (-110.0, 470.0), (-168.0, 430.0)));
    let pocket = [(0.0, 22.0), (58.0, 0.0), (116.0, 22.0), (116.0, 135.0), (0.0, 135.0)];
    let mut collar = vec![(0.0, 0.0), (185.0, 6.0), (212.0, 82.0)];
    collar.extend(curve((212.0, 82.0), (150.0, 74.0), (70.0, 72.0), (0.0, 72.0)));
    let notch_of = |line: &[(f64, f64)], index: usize| line[index];
    let (at_front, at_sleeve) = (notch_of(&front, 22), notch_of(&sleeve, sleeve.len() - 5));
    let pieces = vec![
        piece(
            "Front",
            &front,
            &[
                ("centre front hem", 0.0, 0.0),
                ("centre front neck", 0.0, 602.0),
                ("side hem", 248.0, 0.0),
                ("pocket corner", 66.0, 478.0),
                ("armhole notch", at_front.0, at_front.1),
            ],
            rule(2, Hands::Pair),
        ),
        piece(
            "Back",
            &unfolded(&back),
            &[
                ("centre back hem", 0.0, 0.0),
                ("centre back neck", 0.0, 672.0),
                ("side hem", 244.0, 0.0),
                ("side hem (other half)", -244.0, 0.0),
            ],
            on_fold(),
        ),
        piece("Sleeve", &sleeve, &[("front notch", at_sleeve.0, at_sleeve.1)], rule(2, Hands::Pair)),
        piece("Pocket", &pocket, &[("upper corner", 0.0, 135.0)], rule(2, Hands::Pair)),
        piece("Collar", &unfolded(&collar), &[("centre back", 0.0, 0.0)], on_fold()),
    ];
    let hem = ("Front", "centre front hem");
    let seams = vec![
        centred(seam("centre front", SeamKind::CentreFront, hem, None), "centre front hem", "centre front neck"),
        centred(
            seam("centre back", SeamKind::CentreBack, ("Back", "centre back hem"), None),
            "centre back hem",
            "centre back neck",
        ),
        seam("side", SeamKind::Side, ("Front", "side hem"), Some(("Back", "side hem"))),
        seam("pocket", SeamKind::Pocket, ("Front", "pocket corner"), Some(("Pocket", "upper corner"))),
        seam("sleeve", SeamKind::Sleeve, ("Front", "armhole notch"), Some(("Sleeve", "front notch"))),
        seam("collar", SeamKind::Collar, ("Back", "centre back neck"), Some(("Collar", "centre back"))),
    ];
    let view = View {
        name: "A".into(),
        title: "Shirt with patch pockets".into(),
        pieces: pieces.iter().map(|p| p.name.clone()).collect(),
    };
    Pattern { name: "Slipway shirt".into(), size: "40".into(), pieces, views: vec![view], seams, garments: Vec::new() }
}

/// A panelled skirt: the front on the fold, side panels drafted the other way round, backs as a pair, a patch on the panels.
pub(crate) fn skirt() -> Pattern {
    let front = [(0.0, 0.0), (190.0, 0.0), (150.0, 560.0), (0.0, 560.0)];
    let side = [(0.0, 0.0), (210.0, 0.0), (170.0, 565.0), (40.0, 565.0)];
    let back = [(0.0, 0.0), (200.0, 0.0), (155.0, 570.0), (0.0, 570.0)];
    let patch = [(0.0, 0.0), (130.0, 0.0), (130.0, 150.0), (0.0, 150.0)];
    let pieces = vec![
        piece(
            "Skirt front",
            &unfolded(&front),
            &[("hip", 170.0, 280.0), ("centre low", 0.0, 0.0), ("centre high", 0.0, 560.0)],
            on_fold(),
        ),
        piece(
            "Side panel",
            &side,
            &[("back hip", 20.0, 280.0), ("front hip", 190.0, 280.0), ("patch", 40.0, 480.0)],
            rule(2, Hands::Pair),
        ),
        piece(
            "Skirt back",
            &back,
            &[("hip", 177.0, 285.0), ("centre low", 0.0, 0.0), ("centre high", 0.0, 570.0)],
            rule(2, Hands::Pair),
        ),
        piece("Patch", &patch, &[("corner", 0.0, 150.0)], rule(2, Hands::Pair)),
    ];
    let low = |piece| (piece, "centre low");
    let seams = vec![
        seam("back panel seam", SeamKind::Side, ("Skirt back", "hip"), Some(("Side panel", "back hip"))),
        seam("front panel seam", SeamKind::Side, ("Side panel", "front hip"), Some(("Skirt front", "hip"))),
        seam("patch", SeamKind::Pocket, ("Patch", "corner"), Some(("Side panel", "patch"))),
        centred(seam("centre front", SeamKind::CentreFront, low("Skirt front"), None), "centre low", "centre high"),
        centred(seam("centre back", SeamKind::CentreBack, low("Skirt back"), None), "centre low", "centre high"),
    ];
    let view = View {
        name: "B".into(),
        title: "Panelled skirt".into(),
        pieces: pieces.iter().map(|p| p.name.clone()).collect(),
    };
    Pattern { name: "Tideway skirt".into(), size: "40".into(), pieces, views: vec![view], seams, garments: Vec::new() }
}

/// A print in a half drop, of which only the repeat is known.
pub(crate) fn half_drop() -> Design {
    let repeat = |every, offset| Some(Repeat::even(every, offset));
    Design { across: repeat(160.0, 20.0), along: repeat(90.0, 30.0), drop: Drop::Half, ..plaid() }
}

/// The skirt on one open layer of a print with borders.
pub(crate) fn open_skirt() -> Layout {
    let border = Border { sides: BorderSides::Both, width: 70.0, colour: "#4f7a5b".into() };
    let design = Design { ground: "#cfe0d8".into(), border: Some(border), ..half_drop() };
    laid_to_match(&skirt(), Cloth { design: Some(design), ..cloth() }, |piece, copy| Pose {
        mirrored: piece.cuts[0].hands == Hands::Pair && copy == 2,
        turn_deg: if piece.name == "Skirt back" { 180.0 } else { 0.0 },
    })
}

/// `layout` with every copy of a piece moved, matched anew.
pub(crate) fn moved(layout: &Layout, piece: &str, by: Point) -> Layout {
    let mut cuts = layout.cuts.clone();
    for cut in cuts.iter_mut().filter(|cut| cut.piece == piece) {
        cut.outline = cut.outline.translated(by);
        cut.grainline = cut.grainline.map(|p| p + by);
        cut.notches.iter_mut().for_each(|notch| notch.at = notch.at + by);
        cut.points.values_mut().for_each(|p| *p = *p + by);
    }
    let design = layout.cloth.design.clone().unwrap();
    let matches = matched_points(&layout.matching, &cuts, &design, layout.cloth.width);
    Layout { cuts, matches, ..layout.clone() }
}

/// The matches of a pattern's seams on a design.
pub(crate) fn matches(pattern: &Pattern, design: &Design) -> Vec<Match> {
    let wanted = pattern.seams.iter().map(|seam| Match {
        name: seam.name.clone(),
        need: Need::Required,
        rules: seam.rules(design, CentreOn::Bar),
    });
    wanted.filter(|wanted| !wanted.rules.is_empty()).collect()
}

/// Every copy of every piece in rows from the cut end, each moved up and to the right until it matches those before it.
pub(crate) fn laid_to_match(pattern: &Pattern, cloth: Cloth, pose_of: impl Fn(&Piece, u32) -> Pose) -> Layout {
    let design = cloth.design.clone().unwrap();
    let matching = matches(pattern, &design);
    let mut cuts: Vec<Cut> = Vec::new();
    let (mut x, mut y, mut top) = (cloth.selvage, 0.0, 0.0_f64);
    for (i, piece) in pattern.pieces.iter().enumerate() {
        for copy in 1..=piece.cuts[0].count {
            let pose = pose_of(piece, copy);
            let turned = Placement::new(pose, 0.0, 0.0).apply(&piece.outline).bounds();
            let at = |x: f64, y: f64| {
                let rough = laid(piece, i + 1, copy, Placement::new(pose, x - turned.min.x, y - turned.min.y));
                let by = to_match(&rough, &cuts, &matching, &design);
                laid(piece, i + 1, copy, Placement::new(pose, x - turned.min.x + by.x, y - turned.min.y + by.y))
            };
            let mut cut = at(x, y);
            if cut.outline.bounds().max.x > cloth.width - cloth.selvage {
                (x, y) = (cloth.selvage, top);
                cut = at(x, y);
            }
            let bounds = cut.outline.bounds();
            (x, top) = (bounds.max.x, top.max(bounds.max.y));
            cuts.push(cut);
        }
    }
    finished(pattern, cloth, Way::Open, cuts)
}

/// A layout of these cuts with its matches.
fn finished(pattern: &Pattern, cloth: Cloth, way: Way, cuts: Vec<Cut>) -> Layout {
    let design = cloth.design.clone().unwrap();
    let matching = matches(pattern, &design);
    let matches = matched_points(&matching, &cuts, &design, cloth.width);
    let length = cuts.iter().map(|cut| cut.outline.bounds().max.y).fold(0.0, f64::max);
    let plain = layout(cloth, way, length, cuts);
    Layout {
        job: "Weekend shirt".into(),
        pattern: pattern.name.clone(),
        size: pattern.size.clone(),
        garments: Vec::new(),
        matching,
        matches,
        ..plain
    }
}

/// How far up and to the right `cut` must move to match `before`.
fn to_match(cut: &Cut, before: &[Cut], matching: &[Match], design: &Design) -> Point {
    let mut by = point(0.0, 0.0);
    let (sx, sy) = cut.design_signs();
    for rule in matching.iter().flat_map(|wanted| &wanted.rules) {
        let (at, axis, target) = match rule {
            MatchRule::Stand { at, axis, phase } if at.piece == cut.piece => (at, *axis, *phase),
            MatchRule::Meet { a, b, axis } => {
                let Some((own, other)) = [(a, b), (b, a)].into_iter().find(|(own, _)| own.piece == cut.piece) else {
                    continue;
                };
                let partners = || before.iter().filter(|known| known.piece == other.piece);
                let Some(partner) = partners().find(|known| known.copy == cut.copy).or(partners().next()) else {
                    continue;
                };
                (own, *axis, partner.phase(partner.points[&other.point], *axis, design.repeat(*axis).unwrap()))
            }
            _ => continue,
        };
        let repeat = design.repeat(axis).unwrap();
        let ahead = target - cut.phase(cut.points[&at.point], axis, repeat);
        match axis {
            DesignAxis::Across => by.x = (sx * ahead).rem_euclid(repeat.every),
            DesignAxis::Along => by.y = (sy * ahead).rem_euclid(repeat.every),
        }
    }
    by
}

/// The shirt on one open layer: right copies face down, the second sleeve end for end.
pub(crate) fn open_shirt() -> Layout {
    laid_to_match(&shirt(), cloth(), |piece, copy| Pose {
        mirrored: piece.cuts[0].hands == Hands::Pair && copy == 2,
        turn_deg: if piece.name == "Sleeve" && copy == 2 { 180.0 } else { 0.0 },
    })
}

/// The shirt on folded cloth: pairs through both layers, back and collar on the fold.
pub(crate) fn folded_shirt() -> Layout {
    let (pattern, cloth) = (shirt(), cloth());
    let (fold, design) = (cloth.centre_fold(), plaid());
    let matching = matches(&pattern, &design);
    let mut cuts: Vec<Cut> = Vec::new();
    let (mut x, mut y, mut row) = (cloth.selvage, 0.0, 0.0_f64);
    let mut at_fold = 0.0;
    for (i, piece) in pattern.pieces.iter().enumerate() {
        let b = piece.outline.bounds();
        if piece.fold {
            let at = |y: f64| Placement::new(Pose::AS_DRAWN, fold, y - b.min.y);
            let by = to_match(&laid(piece, i + 1, 1, at(at_fold)), &cuts, &matching, &design);
            let cut = Cut { on_fold: true, ..laid(piece, i + 1, 1, at(at_fold + by.y)) };
            at_fold = cut.outline.bounds().max.y;
            cuts.push(cut);
            continue;
        }
        let at = |x: f64, y: f64| Placement::new(Pose::AS_DRAWN, x - b.min.x, y - b.min.y);
        let placed = |x: f64, y: f64| {
            let by = to_match(&laid(piece, i + 1, 1, at(x, y)), &cuts, &matching, &design);
            laid(piece, i + 1, 1, at(x + by.x, y + by.y))
        };
        let mut cut = placed(x, y);
        if cut.outline.bounds().max.x > fold - 270.0 {
            (x, y) = (cloth.selvage, row);
            cut = placed(x, y);
        }
        x = cut.outline.bounds().max.x;
        row = row.max(cut.outline.bounds().max.y);
        let bounds = cut.outline.bounds();
        let twin =
            Placement::new(Pose::AS_DRAWN.mirrored(), 2.0 * fold - (bounds.min.x - b.min.x), bounds.min.y - b.min.y);
        cuts.extend([cut, laid(piece, i + 1, 2, twin)]);
    }
    finished(&pattern, cloth, Way::CentreFold, cuts)
}

#[test]
fn the_samples_match() {
    for (layout, matches) in [(open_shirt(), 6), (folded_shirt(), 6), (open_skirt(), 5)] {
        assert_eq!(layout.matching.len(), matches);
        for found in &layout.matches {
            assert!(found.residual < 1e-6, "{found:?}");
        }
    }
}
