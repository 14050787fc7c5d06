//! A small pattern and two layouts of it made by hand, for the tests of this crate: each rule's test breaks one thing.

use std::collections::BTreeMap;

use ellwand_geometry::{Outline, Placement, Pose, point};

use crate::{
    Asked, Cloth, Cut, CutRule, Fabric, Fold, GrainRule, Hands, Job, Lay, Layout, LowerBound, Matching, Nap, Notch,
    Pattern, Piece, Purchase, RightSide, SearchNote, Section, Shrinkage, Units, View, Way, WayChoice, purchase,
};

/// Plain cloth 1000 mm wide with a selvage of 10 mm.
pub(crate) fn cloth() -> Cloth {
    Cloth {
        name: "unbleached calico".into(),
        width: 1000.0,
        selvage: 10.0,
        nap: Nap::Without,
        right_side: RightSide::One,
        off_grain_deg: 0.0,
        piece_gap: 0.0,
        flaws: Vec::new(),
        on_hand: None,
        design: None,
        remnant: None,
    }
}

fn piece(name: &str, corners: &[(f64, f64)], grain_x: f64, grain_y: [f64; 2], rule: CutRule) -> Piece {
    Piece {
        name: name.into(),
        outline: Outline::from_pairs(corners).unwrap(),
        edges: Vec::new(),
        grainline: grain_y.map(|y| point(grain_x, y)),
        fold: rule.on_fold,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        points: BTreeMap::new(),
        darts: Vec::new(),
        cuts: vec![rule],
        strips: None,
    }
}

fn rule(count: u32, on_fold: bool, hands: Hands) -> CutRule {
    CutRule { role: "main".into(), count, on_fold, hands, grain: None }
}

/// A skirt panel that is not its own mirror image, cut as a pair.
pub(crate) fn panel() -> Piece {
    let corners = [(0.0, 0.0), (200.0, 0.0), (150.0, 300.0), (0.0, 300.0)];
    let mut panel = piece("Panel", &corners, 100.0, [50.0, 250.0], rule(2, false, Hands::Pair));
    panel.notches.push(Notch { name: "hip".into(), at: point(0.0, 200.0), inward: point(1.0, 0.0) });
    panel.points.insert("side low".into(), point(200.0, 0.0));
    panel
}

/// A yoke cut once on the fold.
pub(crate) fn yoke() -> Piece {
    let corners = [(-120.0, 0.0), (120.0, 0.0), (100.0, 100.0), (-100.0, 100.0)];
    piece("Yoke", &corners, 0.0, [20.0, 80.0], rule(1, true, Hands::Any))
}

/// A lopsided pocket cut once as drawn; its grain may run either way.
pub(crate) fn pocket() -> Piece {
    let corners = [(0.0, 0.0), (80.0, 0.0), (80.0, 70.0), (0.0, 90.0)];
    let mut pocket = piece("Pocket", &corners, 40.0, [10.0, 70.0], rule(1, false, Hands::Same));
    pocket.grain = GrainRule::CrossAllowed;
    pocket
}

pub(crate) fn pattern() -> Pattern {
    Pattern {
        name: "Slipway skirt".into(),
        size: "38".into(),
        pieces: vec![panel(), yoke(), pocket()],
        views: vec![View {
            name: "A".into(),
            title: String::new(),
            pieces: vec!["Panel".into(), "Yoke".into(), "Pocket".into()],
        }],
        seams: Vec::new(),
        garments: Vec::new(),
    }
}

/// The cut of `piece` at a placement; copy and number are the caller's.
pub(crate) fn cut(piece: &Piece, number: usize, copy: u32, pose: Pose, at: (f64, f64)) -> Cut {
    let placement = Placement::new(pose, at.0, at.1);
    let place = |p| placement.apply_to_point(p);
    Cut {
        piece: piece.name.clone(),
        number,
        copy,
        mirrored: pose.mirrored,
        turned_deg: pose.turn_deg,
        on_fold: false,
        outline: placement.apply(&piece.outline),
        grainline: piece.grainline.map(place),
        notches: (piece.notches.iter())
            .map(|n| Notch { name: n.name.clone(), at: place(n.at), inward: pose.apply_to_point(n.inward) })
            .collect(),
        points: piece.points.iter().map(|(name, &p)| (name.clone(), place(p))).collect(),
    }
}

fn layout(way: Way, lay: Lay, cuts: Vec<Cut>) -> Layout {
    let pattern = pattern();
    let mut layout = Layout {
        job: "Slipway skirt in calico".into(),
        pattern: pattern.name.clone(),
        view: "A".into(),
        size: "38".into(),
        garments: Vec::new(),
        role: "main".into(),
        cloth: cloth(),
        way,
        lay,
        length: 300.0,
        lower_bound: LowerBound { length: 130.0, reason: "area".into() },
        cuts,
        asked: pattern.cut_orders(&pattern.views[0], "main").iter().map(Asked::of).collect(),
        matching: Vec::new(),
        given_up: Vec::new(),
        matches: Vec::new(),
        purchase: Purchase {
            length: 300.0,
            allowances: Vec::new(),
            needed: 300.0,
            on_hand: None,
            steps: 0,
            buy: 0.0,
            buy_text: String::new(),
            price: None,
            cost: None,
        },
        search: SearchNote { seed: 1, effort: "by hand".into(), seconds: 0.0, start_length: 300.0, trace: Vec::new() },
    };
    layout.purchase = purchase(&fabric(&layout), Units::Centimetres, 300.0);
    layout
}

/// The cloth of a layout as a shop sells it that cuts every 10 cm and names no price.
pub(crate) fn fabric(layout: &Layout) -> Fabric {
    Fabric {
        role: layout.role.clone(),
        cloth: layout.cloth.clone(),
        ways: WayChoice::Either,
        price: None,
        currency: None,
        sold_by: 100.0,
        shrinkage: Shrinkage::default(),
        straighten_ends: 0.0,
        matching: Matching { matches: layout.matching.clone(), limit: None, given_up: Vec::new() },
        remnants: Vec::new(),
    }
}

/// The job that a layout answers.
pub(crate) fn job(layout: &Layout) -> Job {
    Job {
        name: layout.job.clone(),
        pattern: layout.pattern.clone(),
        view: layout.view.clone(),
        size: "38".into(),
        units: Units::Centimetres,
        fabrics: vec![fabric(layout)],
        spending: crate::Spending::default(),
    }
}

/// One layer: the panels side by side, the second mirrored and upside down, then the yoke whole, the pocket above it.
pub(crate) fn open_layout() -> Layout {
    let cuts = vec![
        cut(&panel(), 1, 1, Pose::AS_DRAWN, (10.0, 0.0)),
        cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (210.0, 300.0)),
        cut(&yoke(), 2, 1, Pose::AS_DRAWN, (540.0, 0.0)),
        cut(&pocket(), 3, 1, Pose::AS_DRAWN, (420.0, 150.0)),
    ];
    layout(Way::Open, Lay::open(), cuts)
}

/// Centre fold at 500 mm: the panels through both layers, the yoke on the fold, the pocket from one layer.
pub(crate) fn folded_layout() -> Layout {
    let mut cuts = vec![
        cut(&panel(), 1, 1, Pose::AS_DRAWN, (10.0, 0.0)),
        cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (990.0, 0.0)),
        cut(&yoke(), 2, 1, Pose::AS_DRAWN, (500.0, 0.0)),
        cut(&pocket(), 3, 1, Pose::AS_DRAWN, (250.0, 0.0)),
    ];
    cuts[2].on_fold = true;
    layout(Way::CentreFold, Lay::folded_lengthwise(500.0), cuts)
}

/// A cut and its twin in the other layer of a fold.
fn twins(piece: &Piece, number: usize, pose: Pose, at: (f64, f64), fold: Fold) -> [Cut; 2] {
    let one = cut(piece, number, 1, pose, at);
    let center = one.outline.bounds().center();
    let turned = Pose { mirrored: !pose.mirrored, turn_deg: fold.image_turn(pose.turn_deg).rem_euclid(360.0) };
    let there = fold.image(point(at.0, at.1), center);
    let other = cut(piece, number, 2, turned, (there.x, there.y));
    [one, other]
}

fn laid(way: Way, lay: Lay, length: f64, cuts: impl IntoIterator<Item = Cut>) -> Layout {
    let mut laid = layout(way, lay, cuts.into_iter().collect());
    laid.length = length;
    laid.purchase = purchase(&fabric(&laid), Units::Centimetres, length);
    laid
}

fn on_fold(number: usize, at: f64, up: f64) -> Cut {
    Cut { on_fold: true, ..cut(&yoke(), number, 1, Pose::AS_DRAWN, (at, up)) }
}

/// The left edge folded over 250 mm: the panels through both layers, the yoke on the fold above them, the pocket from one layer.
pub(crate) fn off_centre_layout() -> Layout {
    let fold = Fold::Lengthwise { at: 250.0 };
    let cuts = twins(&panel(), 1, Pose::AS_DRAWN, (20.0, 0.0), fold)
        .into_iter()
        .chain([on_fold(2, 250.0, 300.0), cut(&pocket(), 3, 1, Pose::AS_DRAWN, (700.0, 0.0))]);
    laid(Way::OffCentre, Lay::folded(vec![fold]), 400.0, cuts)
}

/// Both edges folded over 250 mm: the panels through both layers at the left, the yoke on the right fold, the pocket from one layer.
pub(crate) fn to_the_middle_layout() -> Layout {
    let folds = [250.0, 750.0].map(|at| Fold::Lengthwise { at });
    let cuts = twins(&panel(), 1, Pose::AS_DRAWN, (20.0, 0.0), folds[0])
        .into_iter()
        .chain([on_fold(2, 750.0, 0.0), cut(&pocket(), 3, 1, Pose::AS_DRAWN, (700.0, 200.0))]);
    laid(Way::ToTheMiddle, Lay::folded(folds.to_vec()), 300.0, cuts)
}

/// The first 300 mm folded down the middle for the panels and the yoke, the pocket beyond from one layer.
pub(crate) fn part_folded_layout() -> Layout {
    let mut cuts = folded_layout().cuts;
    cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (450.0, 300.0));
    let lay = Lay {
        sections: vec![
            Section { from: 0.0, to: 300.0, folds: vec![Fold::Lengthwise { at: 500.0 }] },
            Section { from: 300.0, to: f64::INFINITY, folds: Vec::new() },
        ],
    };
    laid(Way::PartFolded, lay, 390.0, cuts)
}

/// Folded across 350 mm from the cut end for the panels; the yoke and the pocket from one layer.
pub(crate) fn crosswise_layout() -> Layout {
    across(Way::Crosswise, Fold::Crosswise { at: 350.0 })
}

/// Cut across 350 mm from the cut end, the far part turned end for end, for the panels; the yoke and the pocket from one layer.
pub(crate) fn cut_and_turned_layout() -> Layout {
    across(Way::CutAndTurned, Fold::CutAndTurned { at: 350.0, middle: 500.0 })
}

fn across(way: Way, fold: Fold) -> Layout {
    let cuts = twins(&panel(), 1, Pose::AS_DRAWN, (20.0, 20.0), fold).into_iter().chain([
        cut(&yoke(), 2, 1, Pose::AS_DRAWN, (500.0, 20.0)),
        cut(&pocket(), 3, 1, Pose::AS_DRAWN, (460.0, 400.0)),
    ]);
    laid(way, Lay::folded(vec![fold]), 700.0, cuts)
}

/// A layout of every way of folding.
pub(crate) fn folded_layouts() -> [Layout; 6] {
    [
        folded_layout(),
        off_centre_layout(),
        to_the_middle_layout(),
        part_folded_layout(),
        crosswise_layout(),
        cut_and_turned_layout(),
    ]
}
