//! Layouts and patterns for tests: pieces with curves, shelved row by row so that nothing overlaps.

use std::collections::BTreeMap;

use ellwand_garment::{
    Allowance, AllowanceReason, Cloth, Cut, CutRule, Fold, GrainRule, Hands, Lay, Layout, LowerBound, Nap, Notch,
    Pattern, Piece, Purchase, RightSide, SearchNote, Section, View, Way,
};
use ellwand_geometry::{Outline, Placement, Point, Pose, point};

/// A cubic curve's points after its start.
pub(crate) fn curve(a: (f64, f64), c1: (f64, f64), c2: (f64, f64), b: (f64, f64)) -> Vec<(f64, f64)> {
    let n = 14;
    let mix = |t: f64, p: [f64; 4]| {
        let s = 1.0 - t;
        s * s * s * p[0] + 3.0 * s * s * t * p[1] + 3.0 * s * t * t * p[2] + t * t * t * p[3]
    };
    (1..=n)
        .map(|i| i as f64 / n as f64)
        .map(|t| (mix(t, [a.0, c1.0, c2.0, b.0]), mix(t, [a.1, c1.1, c2.1, b.1])))
        .collect()
}

fn piece(name: &str, corners: &[(f64, f64)], grain: f64) -> Piece {
    let outline = Outline::from_pairs(corners).unwrap();
    let b = outline.bounds();
    let at = b.center();
    let half = b.height() * grain / 2.0;
    let edge = outline.edges().nth(1).unwrap();
    let along = edge.1 - edge.0;
    let length = along.x.hypot(along.y);
    let notches = vec![Notch {
        name: String::new(),
        at: (edge.0 + edge.1) / 2.0,
        inward: point(-along.y / length, along.x / length),
    }];
    Piece {
        name: name.into(),
        outline,
        grainline: [point(at.x, at.y - half), point(at.x, at.y + half)],
        edges: Vec::new(),
        fold: false,
        grain: GrainRule::Straight,
        notches,
        darts: Vec::new(),
        points: BTreeMap::new(),
        cuts: vec![CutRule { role: "main".into(), count: 2, on_fold: false, hands: Hands::Pair, grain: None }],
        strips: None,
    }
}

fn on_fold(name: &str, half: &[(f64, f64)]) -> Piece {
    let mut corners: Vec<(f64, f64)> = half.to_vec();
    corners.extend(half.iter().rev().filter(|p| p.0 > 0.0).map(|&(x, y)| (-x, y)));
    let mut piece = piece(name, &corners, 0.5);
    piece.fold = true;
    piece.grainline = piece.grainline.map(|p| point(0.0, p.y));
    piece.cuts[0] = CutRule { role: "main".into(), count: 1, on_fold: true, hands: Hands::Any, grain: None };
    piece
}

fn counted(mut piece: Piece, count: u32, hands: Hands) -> Piece {
    piece.cuts[0].count = count;
    piece.cuts[0].hands = hands;
    piece
}

/// The pieces of a jacket, roughly.
pub(crate) fn jacket_pieces() -> Vec<Piece> {
    let mut front = vec![(0.0, 0.0), (270.0, 0.0)];
    front.extend(curve((270.0, 0.0), (245.0, 150.0), (250.0, 250.0), (278.0, 420.0)));
    front.extend(curve((278.0, 420.0), (205.0, 440.0), (200.0, 540.0), (215.0, 640.0)));
    front.extend([(85.0, 680.0)]);
    front.extend(curve((85.0, 680.0), (80.0, 620.0), (30.0, 600.0), (-20.0, 560.0)));
    let mut back = vec![(0.0, 0.0), (240.0, 0.0)];
    back.extend(curve((240.0, 0.0), (225.0, 150.0), (230.0, 250.0), (255.0, 420.0)));
    back.extend(curve((255.0, 420.0), (205.0, 460.0), (205.0, 540.0), (212.0, 640.0)));
    back.extend([(80.0, 690.0)]);
    back.extend(curve((80.0, 690.0), (60.0, 672.0), (30.0, 668.0), (0.0, 668.0)));
    let mut sleeve = vec![(30.0, 0.0), (230.0, 0.0), (280.0, 420.0)];
    sleeve.extend(curve((280.0, 420.0), (230.0, 480.0), (190.0, 590.0), (130.0, 590.0)));
    sleeve.extend(curve((130.0, 590.0), (70.0, 590.0), (40.0, 480.0), (-10.0, 420.0)));
    let mut under = vec![(20.0, 0.0), (150.0, 0.0), (190.0, 430.0)];
    under.extend(curve((190.0, 430.0), (140.0, 380.0), (50.0, 390.0), (0.0, 450.0)));
    let mut collar = vec![(0.0, 0.0)];
    collar.extend(curve((0.0, 0.0), (80.0, -14.0), (160.0, -10.0), (235.0, 20.0)));
    collar.extend([(262.0, 95.0)]);
    collar.extend(curve((262.0, 95.0), (180.0, 78.0), (90.0, 72.0), (0.0, 80.0)));
    let facing = vec![(0.0, 0.0), (85.0, 0.0), (90.0, 400.0), (110.0, 560.0), (60.0, 620.0), (-10.0, 560.0)];
    let pocket = vec![(0.0, 20.0), (20.0, 0.0), (150.0, 0.0), (170.0, 20.0), (170.0, 190.0), (0.0, 190.0)];
    let flap = vec![(0.0, 12.0), (12.0, 0.0), (158.0, 0.0), (170.0, 12.0), (170.0, 65.0), (0.0, 65.0)];
    let strip = vec![(0.0, 0.0), (45.0, 0.0), (45.0, 760.0), (0.0, 760.0)];
    let loops = vec![(0.0, 0.0), (28.0, 0.0), (28.0, 60.0), (0.0, 60.0)];
    let tab = vec![(0.0, 0.0), (60.0, 0.0), (72.0, 20.0), (60.0, 40.0), (0.0, 40.0)];
    vec![
        piece("Front", &front, 0.5),
        on_fold("Back", &back),
        piece("Upper sleeve", &sleeve, 0.6),
        piece("Under sleeve", &under, 0.55),
        on_fold("Collar", &collar),
        piece("Front facing", &facing, 0.6),
        counted(piece("Patch pocket", &pocket, 0.6), 2, Hands::Pair),
        counted(piece("Pocket flap", &flap, 0.6), 4, Hands::Pair),
        counted(piece("Hem & cuff binding", &strip, 0.8), 1, Hands::Same),
        counted(piece("Belt loop", &loops, 0.7), 3, Hands::Any),
        counted(piece("Tab <left>", &tab, 0.7), 1, Hands::Same),
    ]
}

/// A pattern of [`jacket_pieces`] with one view.
pub(crate) fn jacket() -> Pattern {
    let mut pieces = jacket_pieces();
    for (i, name) in [(0, "bust point"), (0, "waist at side"), (2, "shoulder point")] {
        let at = pieces[i].outline.bounds().center() + point(70.0, 30.0 * pieces[i].points.len() as f64);
        pieces[i].points.insert(name.into(), at);
    }
    pieces[4].cuts.push(CutRule {
        role: "interfacing".into(),
        count: 1,
        on_fold: true,
        hands: Hands::Any,
        grain: None,
    });
    let view = View {
        name: "A".into(),
        title: "Unlined jacket".into(),
        pieces: pieces.iter().map(|p| p.name.clone()).collect(),
    };
    Pattern {
        name: "Quay jacket".into(),
        size: "38".into(),
        pieces,
        views: vec![view],
        seams: Vec::new(),
        garments: Vec::new(),
    }
}

/// One copy of a piece, laid with the corner of its bounds at (`x`, `y`).
fn cut(piece: &Piece, number: usize, copy: u32, pose: Pose, x: f64, y: f64) -> Cut {
    let turned = Placement::new(pose, 0.0, 0.0).apply(&piece.outline).bounds().min;
    let place = Placement::new(pose, x - turned.x, y - turned.y);
    laid(piece, number, copy, place)
}

/// One copy of a piece in its place.
pub(crate) fn laid(piece: &Piece, number: usize, copy: u32, place: Placement) -> Cut {
    let tip = |p: Point| place.apply_to_point(p);
    Cut {
        piece: piece.name.clone(),
        number,
        copy,
        mirrored: place.pose.mirrored,
        turned_deg: place.pose.turn_deg,
        on_fold: false,
        outline: place.apply(&piece.outline),
        grainline: piece.grainline.map(tip),
        notches: (piece.notches.iter())
            .map(|n| Notch { name: n.name.clone(), at: tip(n.at), inward: place.pose.apply_to_point(n.inward) })
            .collect(),
        points: piece.points.iter().map(|(name, &p)| (name.clone(), tip(p))).collect(),
    }
}

/// Rows from the cut end up.
struct Shelf {
    left: f64,
    right: f64,
    x: f64,
    y: f64,
    height: f64,
}

impl Shelf {
    fn new(left: f64, right: f64, y: f64) -> Self {
        Self { left, right, x: left, y, height: 0.0 }
    }

    fn next(&mut self, width: f64, height: f64) -> (f64, f64) {
        if self.x + width > self.right {
            (self.x, self.y, self.height) = (self.left, self.y + self.height, 0.0);
        }
        let at = (self.x, self.y);
        self.x += width;
        self.height = self.height.max(height);
        at
    }

    fn top(&self) -> f64 {
        self.y + self.height
    }
}

/// A layout of these cuts, with what is bought.
pub(crate) fn layout(cloth: Cloth, way: Way, length: f64, cuts: Vec<Cut>) -> Layout {
    Layout {
        job: "Sailcloth jacket for \"Ada & Co\"".into(),
        pattern: "Quay jacket".into(),
        view: "A".into(),
        size: "38".into(),
        garments: Vec::new(),
        role: "main".into(),
        lay: if way == Way::Open { Lay::open() } else { Lay::folded_lengthwise(cloth.centre_fold()) },
        cloth,
        way,
        length,
        lower_bound: LowerBound { length: length * 0.91, reason: "area".into() },
        cuts,
        asked: Vec::new(),
        matching: Vec::new(),
        given_up: Vec::new(),
        matches: Vec::new(),
        purchase: Purchase {
            length,
            allowances: vec![
                Allowance { reason: AllowanceReason::Shrinkage, length: length * 0.03 },
                Allowance { reason: AllowanceReason::StraighteningEnds, length: 114.3 },
            ],
            needed: length * 1.03 + 114.3,
            on_hand: None,
            steps: 25,
            buy: 25.0 * 114.3,
            buy_text: "3 1/8 yd".into(),
            price: None,
            cost: None,
        },
        search: SearchNote { seed: 1, effort: "normal".into(), seconds: 0.0, start_length: length, trace: Vec::new() },
    }
}

/// Cloth 1.47 m wide.
pub(crate) fn cloth(nap: Nap) -> Cloth {
    Cloth {
        name: "rust needlecord".into(),
        width: 1473.2,
        selvage: 6.35,
        nap,
        right_side: RightSide::One,
        off_grain_deg: 0.0,
        piece_gap: 0.0,
        flaws: vec![
            Outline::from_pairs(&[(1200.0, 1450.0), (1260.0, 1450.0), (1260.0, 1490.0), (1200.0, 1490.0)]).unwrap(),
        ],
        on_hand: None,
        design: None,
        remnant: None,
    }
}

/// A jacket on one open layer; pieces are turned end for end now and then when there is no nap.
pub(crate) fn open_jacket(nap: Nap) -> Layout {
    let cloth = cloth(nap);
    let (left, right) = cloth.usable();
    let mut shelf = Shelf::new(left, right, 0.0);
    let mut cuts = Vec::new();
    for (i, piece) in jacket_pieces().iter().enumerate() {
        let b = piece.outline.bounds();
        for copy in 1..=piece.cuts[0].count {
            let (x, y) = shelf.next(b.width(), b.height());
            let turn = if nap == Nap::Without && (i + copy as usize).is_multiple_of(3) { 180.0 } else { 0.0 };
            let pose = Pose { mirrored: piece.cuts[0].hands == Hands::Pair && copy % 2 == 0, turn_deg: turn };
            cuts.push(cut(piece, i + 1, copy, pose, x, y));
        }
    }
    layout(cloth, Way::Open, shelf.top(), cuts)
}

/// The jacket on cloth folded down the middle, with single pieces left for the opened cloth.
pub(crate) fn folded_jacket() -> Layout {
    let cloth = cloth(Nap::With);
    let fold = cloth.centre_fold();
    let mut at_fold = 0.0;
    let mut shelf = Shelf::new(cloth.selvage, fold - 262.0, 0.0);
    let mut cuts = Vec::new();
    let mut singles = Vec::new();
    let pieces = jacket_pieces();
    for (i, piece) in pieces.iter().enumerate() {
        let b = piece.outline.bounds();
        if piece.fold {
            let mut whole = laid(piece, i + 1, 1, Placement::new(Pose::AS_DRAWN, fold, at_fold - b.min.y));
            whole.on_fold = true;
            cuts.push(whole);
            at_fold += b.height();
        } else if piece.cuts[0].hands == Hands::Pair {
            for pair in 0..piece.cuts[0].count / 2 {
                let (x, y) = shelf.next(b.width(), b.height());
                cuts.push(cut(piece, i + 1, 2 * pair + 1, Pose::AS_DRAWN, x, y));
                let x = 2.0 * fold - x - b.width();
                cuts.push(cut(piece, i + 1, 2 * pair + 2, Pose::AS_DRAWN.mirrored(), x, y));
            }
        } else {
            singles.extend((1..=piece.cuts[0].count).map(|copy| (i, copy)));
        }
    }
    let mut top = Shelf::new(fold - 200.0, cloth.width, shelf.top().max(at_fold));
    for (i, copy) in singles {
        let b = pieces[i].outline.bounds();
        let (x, y) = top.next(b.width() + 5.0, b.height());
        cuts.push(cut(&pieces[i], i + 1, copy, Pose::AS_DRAWN, x, y));
    }
    layout(cloth, Way::CentreFold, top.top(), cuts)
}

/// Two copies of a piece that are cut at once: one with the corner of its bounds at (`x`, `y`), and its twin in the other layer of `fold`.
fn twins(piece: &Piece, number: usize, copy: u32, fold: Fold, (x, y): (f64, f64)) -> [Cut; 2] {
    let one = cut(piece, number, copy, Pose::AS_DRAWN, x, y);
    let there = fold.image_of(&one.outline).bounds().min;
    let pose = Pose { mirrored: true, turn_deg: fold.image_turn(0.0).rem_euclid(360.0) };
    let other = cut(piece, number, copy + 1, pose, there.x, there.y);
    [one, other]
}

/// The jacket with its pairs on shelves from `left` to `right` and twins across `fold`, pieces cut on the fold at `axis` if there is one, and the rest on
/// shelves of its own.
fn jacket_across(fold: Fold, [left, right]: [f64; 2], axis: Option<f64>, rest: [f64; 3]) -> (f64, Vec<Cut>) {
    let pieces = jacket_pieces();
    let mut cuts = Vec::new();
    let mut up = 0.0;
    for (i, piece) in pieces.iter().enumerate().filter(|(_, piece)| piece.fold) {
        let Some(at) = axis else { continue };
        let b = piece.outline.bounds();
        cuts.push(Cut { on_fold: true, ..laid(piece, i + 1, 1, Placement::new(Pose::AS_DRAWN, at, up - b.min.y)) });
        up += b.height();
    }
    let is_beside = axis.is_some_and(|at| fold != Fold::Lengthwise { at });
    let mut shelf = Shelf::new(left, right, if is_beside { 0.0 } else { up });
    let [from, to, above] = rest;
    let mut single = Shelf::new(from, to, above);
    for (i, piece) in pieces.iter().enumerate() {
        let b = piece.outline.bounds();
        let rule = &piece.cuts[0];
        if rule.hands == Hands::Pair {
            for pair in 0..rule.count / 2 {
                cuts.extend(twins(piece, i + 1, 2 * pair + 1, fold, shelf.next(b.width(), b.height())));
            }
        } else if !piece.fold || axis.is_none() {
            for copy in 1..=rule.count {
                let (x, y) = single.next(b.width() + 5.0, b.height());
                cuts.push(cut(piece, i + 1, copy, Pose::AS_DRAWN, x, y));
            }
        }
    }
    (shelf.top().max(up).max(single.top()), cuts)
}

/// The jacket with the left edge of the cloth folded over, pieces on the fold there, and single pieces beside the double part.
pub(crate) fn off_centre_jacket() -> Layout {
    let fold = Fold::Lengthwise { at: 340.0 };
    let (length, cuts) = jacket_across(fold, [340.0, 680.0], Some(340.0), [700.0, 1460.0, 0.0]);
    Layout { lay: Lay::folded(vec![fold]), ..layout(cloth(Nap::With), Way::OffCentre, length, cuts) }
}

/// The jacket with both edges folded in: pairs at the left fold, fold pieces on the right one, and single pieces in the middle.
pub(crate) fn to_the_middle_jacket() -> Layout {
    let cloth = Cloth { flaws: Vec::new(), ..cloth(Nap::With) };
    let (left, right) = (320.0, cloth.width - 320.0);
    let folds = [left, right].map(|at| Fold::Lengthwise { at });
    let (length, cuts) = jacket_across(folds[0], [left, 2.0 * left], Some(right), [660.0, 820.0, 0.0]);
    Layout { lay: Lay::folded(folds.to_vec()), ..layout(cloth, Way::ToTheMiddle, length, cuts) }
}

/// The jacket with the first part of the cloth folded down the middle, and single pieces beyond.
pub(crate) fn part_folded_jacket() -> Layout {
    let layout = folded_jacket();
    let singles = layout
        .cuts
        .iter()
        .filter(|cut| matches!(cut.piece.as_str(), "Belt loop" | "Tab <left>" | "Hem & cuff binding"));
    let to = singles.map(|cut| cut.outline.bounds().min.y).fold(f64::INFINITY, f64::min);
    let folds = vec![Fold::Lengthwise { at: layout.cloth.centre_fold() }];
    let sections = vec![Section { from: 0.0, to, folds }, Section { from: to, to: f64::INFINITY, folds: Vec::new() }];
    Layout { way: Way::PartFolded, lay: Lay { sections }, ..layout }
}

/// The jacket on cloth folded across, single pieces at the fold in the near half.
pub(crate) fn crosswise_jacket() -> Layout {
    across_jacket(Way::Crosswise, Nap::Without, |at, _| Fold::Crosswise { at })
}

/// The jacket on cloth that is cut across, its far part turned end for end.
pub(crate) fn cut_and_turned_jacket() -> Layout {
    across_jacket(Way::CutAndTurned, Nap::With, |at, middle| Fold::CutAndTurned { at, middle })
}

fn across_jacket(way: Way, nap: Nap, fold: fn(f64, f64) -> Fold) -> Layout {
    let cloth = Cloth { flaws: Vec::new(), ..cloth(nap) };
    let (left, right) = cloth.usable();
    let pairs_end = jacket_across(fold(1e4, cloth.width / 2.0), [left, right], None, [left, right, 0.0]).0;
    let at = pairs_end + 800.0;
    let fold = fold(at, cloth.width / 2.0);
    let (_, cuts) = jacket_across(fold, [left, right], None, [left, right, pairs_end]);
    Layout { lay: Lay::folded(vec![fold]), ..layout(cloth, way, 2.0 * at, cuts) }
}

/// The jacket on cloth folded in each way but down the middle, with what that is called.
pub(crate) fn folded_otherwise() -> [(&'static str, Layout); 5] {
    [
        ("off centre", off_centre_jacket()),
        ("to the middle", to_the_middle_jacket()),
        ("part folded", part_folded_jacket()),
        ("crosswise", crosswise_jacket()),
        ("cut and turned", cut_and_turned_jacket()),
    ]
}

/// A small generator of numbers in 0 to 1, the same for the same seed (D. H. Lehmer's multiplicative congruential method,
/// with the multiplier 48271 of Park and Miller's later advice).
pub(crate) struct Numbers(u64);

impl Numbers {
    /// Starts at `seed`.
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed * 7919 + 1)
    }

    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

/// A layout of random star-shaped, strip and tiny pieces, some at a slant, of random names.
pub(crate) fn random_layout(seed: u64) -> Layout {
    let mut numbers = Numbers::new(seed);
    let cloth = Cloth { flaws: Vec::new(), ..cloth(if seed.is_multiple_of(2) { Nap::With } else { Nap::Without }) };
    let names =
        ["Cuff", "Upper collar", "Left front yoke facing", "Düsseldorf godet", "Extraordinarily-long-hyphenated-piece"];
    let mut shelf = Shelf::new(cloth.selvage, cloth.width - cloth.selvage, 0.0);
    let mut cuts = Vec::new();
    for i in 0..18 {
        let size = if i % 5 == 4 { numbers.between(8.0, 30.0) } else { numbers.between(60.0, 320.0) };
        let shape: Vec<(f64, f64)> = if i % 6 == 5 {
            let (w, l) = (numbers.between(20.0, 60.0), numbers.between(300.0, 700.0));
            let (sin, cos) = numbers.between(0.0, 1.5).sin_cos();
            [(0.0, 0.0), (l, 0.0), (l, w), (0.0, w)].map(|(x, y)| (cos * x - sin * y, sin * x + cos * y)).to_vec()
        } else {
            (0..11)
                .map(|k| (k as f64 / 11.0 * std::f64::consts::TAU, size * numbers.between(0.4, 1.0)))
                .map(|(a, r)| (a.cos() * r, a.sin() * r))
                .collect()
        };
        let piece = piece(&format!("{} {i}", names[i % names.len()]), &shape, 0.1);
        let b = piece.outline.bounds();
        let (x, y) = shelf.next(b.width(), b.height());
        let pose = Pose { mirrored: numbers.next() < 0.4, turn_deg: 0.0 };
        let mut cut = cut(&piece, i + 1, 1, pose, x, y);
        // The middle of a star of this kind lies inside it.
        if i % 6 != 5 {
            let x = if pose.mirrored { b.max.x } else { -b.min.x };
            let middle = point(x, -b.min.y) + point(cut.outline.bounds().min.x, cut.outline.bounds().min.y);
            cut.grainline = [middle - point(0.0, size * 0.3), middle + point(0.0, size * 0.3)];
        }
        cuts.push(cut);
    }
    layout(cloth, Way::Open, shelf.top(), cuts)
}
