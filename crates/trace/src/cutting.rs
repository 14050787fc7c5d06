//! The cutting line that allowances and darts make of a seam line, held against the one that is drawn.
//!
//! What a drawing does not say, how an allowance ends at a corner and which way a dart is pressed, shows in its cutting line: of all ways
//! the one that comes nearest to it is taken, and how far it strays is told.

use ellwand_geometry::{
    CornerShape, CuttingLine, Edge, EdgeAllowance, FLATNESS_MM, Path, Point, PressedDart, distance,
};

use crate::{FoundDart, Side, group::evenly, outlines::Near};

/// What the allowances of a piece come to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Allowances {
    /// How the allowances end at corners where their depths differ.
    pub(crate) corner: Option<CornerShape>,
    /// For each dart the end of the leg that its fold is pressed over; none where it makes no difference.
    pub(crate) over: Vec<Option<Point>>,
    /// How far the cutting line so made strays from the one that is drawn, mm.
    pub(crate) off: f64,
}

/// A cutting line that comes so near is the one that is drawn, mm: no other way is tried.
pub(crate) const JUST_SO: f64 = 0.01;

/// More darts than this in one seam line are not tried in every way.
const MOST_DARTS: usize = 4;

/// The way of ending and pressing that comes nearest to the cutting line as drawn.
pub(crate) fn best_way(
    sides: &[Side],
    depths: &[f64],
    fold: Option<usize>,
    darts: &[FoundDart],
    cutting: &[Point],
) -> Allowances {
    let in_outline: Vec<&FoundDart> = darts.iter().filter(|dart| dart.sides.is_some()).take(MOST_DARTS).collect();
    let corners = [None, Some(CornerShape::Square), Some(CornerShape::StraightOn)];
    let uneven = depths.windows(2).any(|pair| (pair[0] - pair[1]).abs() > 0.5);
    let mut best: Option<Allowances> = None;
    for corner in corners.into_iter().take(if uneven { 3 } else { 1 }) {
        for way in 0..1usize << in_outline.len() {
            let over: Vec<Point> = in_outline.iter().enumerate().map(|(k, dart)| dart.legs[way >> k & 1]).collect();
            let pressed: Vec<PressedDart> =
                in_outline.iter().zip(&over).map(|(dart, over)| PressedDart { tip: dart.tip, over: *over }).collect();
            let Some(line) = cutting_line(sides, depths, fold, darts, corner, &pressed) else { continue };
            let off = apart(&line, cutting);
            if best.as_ref().is_none_or(|known| off < known.off - 1e-3) {
                let mut over = over.into_iter().map(Some);
                let over = darts.iter().map(|dart| dart.sides.and_then(|_| over.next().flatten())).collect();
                best = Some(Allowances { corner, over, off });
            }
            if off < JUST_SO {
                return best.unwrap_or_else(|| nothing(darts));
            }
        }
    }
    best.unwrap_or_else(|| nothing(darts))
}

fn nothing(darts: &[FoundDart]) -> Allowances {
    Allowances { corner: None, over: vec![None; darts.len()], off: f64::INFINITY }
}

fn cutting_line(
    sides: &[Side],
    depths: &[f64],
    fold: Option<usize>,
    darts: &[FoundDart],
    corner: Option<CornerShape>,
    pressed: &[PressedDart],
) -> Option<Vec<Point>> {
    let (mut edges, mut allowances, mut drawn) = (Vec::new(), Vec::new(), Vec::new());
    let is_leg = |k: usize| darts.iter().any(|dart| dart.sides.is_some_and(|sides| sides.contains(&k)));
    for (k, side) in sides.iter().enumerate() {
        let allowance = match (fold == Some(k), is_leg(k)) {
            (true, _) => EdgeAllowance::Fold,
            (_, true) => EdgeAllowance::Leg,
            _ => match corner {
                Some(corner) => EdgeAllowance::Depth(depths[k]).with_corner(corner),
                None => EdgeAllowance::Depth(depths[k]),
            },
        };
        for run in &side.runs {
            edges.push(Edge { name: String::new(), to: run.to, shape: run.shape });
            allowances.push(allowance);
            drawn.push(k);
        }
    }
    let path = Path::new(sides[0].start, edges).ok()?;
    let line = CuttingLine::around_parts(path.flatten(FLATNESS_MM), &allowances, &drawn, pressed).ok()?;
    Some(line.outline().points().to_vec())
}

/// Largest distance of one closed line from another, both ways, mm.
fn apart(a: &[Point], b: &[Point]) -> f64 {
    let one_way = |from: &[Point], to: &[Point]| {
        let near = Near::new(to);
        let along = evenly(from, 160);
        // Of very many corners some are enough: they are those of a curve.
        let step = from.len().div_ceil(400);
        from.iter().step_by(step).chain(&along).map(|p| near.distance(*p)).fold(0.0, f64::max)
    };
    one_way(a, b).max(one_way(b, a))
}

/// Darts that are part of the outline: two straight sides of much the same length that meet in a point turned inwards.
pub(crate) fn darts_in(sides: &[Side]) -> Vec<FoundDart> {
    /// A dart is at least so long, mm.
    const SHORTEST: f64 = 25.0;
    /// And turns back by at least this much in its point, radians.
    const BACK: f64 = 1.9;
    (0..sides.len())
        .filter_map(|k| {
            let next = (k + 1) % sides.len();
            let (a, b) = (&sides[k], &sides[next]);
            let (leg, other) = (a.length(), b.length());
            let straight = a.is_straight() && b.is_straight();
            let alike = leg.min(other) >= SHORTEST && leg.max(other) < 1.25 * leg.min(other);
            let turn = crate::curve::angle_between(a.end() - a.start, b.end() - b.start);
            let mouth = distance(a.start, b.end());
            (sides.len() > 4 && straight && alike && turn < -BACK && mouth < leg).then(|| FoundDart {
                legs: [a.start, b.end()],
                tip: a.end(),
                other_tip: None,
                pressed: None,
                sides: Some([k, next]),
            })
        })
        .collect()
}
