//! What nested sizes are called, each on its own cutting line.

use ellwand_geometry::{Bounds, Point, point};

use crate::{
    boxes::{TurnedBox, turned},
    hatch::inside_spans,
    lettering::Line,
    marks::{Anchor, Mark},
};

use super::{Ground, words::reading_turn};

/// Sizes of the names on paper, points: lines lie close, so that the words are small.
const LETTERS: f64 = 6.5;

/// Names stand along this share of the height of a piece.
const SHARE: f64 = 0.85;

/// Between two names, mm.
const GAP: f64 = 3.0;

/// Lines that are nowhere farther apart than this are looked at from the other side, mm.
const LEAST: f64 = 2.0;

/// A side of a cutting line: the first or the last place within it at a height.
type Side = fn(&[(f64, f64)]) -> Option<f64>;

/// What each size is called, along its own cutting line on a blank ground, where that differs most: one name beyond the other, so that lines
/// that run together name every size.
pub(super) fn size_names(cuttings: &[Vec<Point>], sizes: &[String], ground: Ground) -> Vec<Mark> {
    // Bands differ at their ends only: they are looked at lying on their side.
    let lying: Vec<Vec<Point>> = cuttings.iter().map(|line| line.iter().map(|p| point(p.y, p.x)).collect()).collect();
    let (upright, across) = (farther_apart(cuttings), farther_apart(&lying));
    if upright.1 >= LEAST || upright.1 >= across.1 {
        names_along(cuttings, upright.0, &|p| p, sizes, ground)
    } else {
        names_along(&lying, across.0, &|p| point(p.y, p.x), sizes, ground)
    }
}

/// The names at one side of lines that `back` brings to where they lie.
fn names_along(
    cuttings: &[Vec<Point>],
    side: Side,
    back: &dyn Fn(Point) -> Point,
    sizes: &[String],
    ground: Ground,
) -> Vec<Mark> {
    let bounds = Bounds::of(cuttings.iter().flatten().copied());
    let points = LETTERS * ground.large();
    let lines: Vec<Line> = sizes.iter().map(|name| Line::bold(name.clone(), points)).collect();
    let longest = lines.iter().map(Line::width).fold(0.0, f64::max);
    let step = longest + GAP;
    let rows = (((SHARE * bounds.height() + GAP) / step) as usize).clamp(1, cuttings.len().max(1));
    let mut taken: Vec<Point> = Vec::new();
    let name = |(k, (cutting, line)): (usize, (&Vec<Point>, Line))| {
        let half = line.width() / 2.0;
        let at = |y: f64| side(&inside_spans(cutting, y)).map(|x| point(x, y));
        let row = |k: usize| at(bounds.center().y + ((k % rows) as f64 - (rows - 1) as f64 / 2.0) * step);
        // Lines that run together are named one beyond the other.
        let is_free =
            |p: &Point| taken.iter().all(|q| (p.x - q.x).abs() > line.height() || (p.y - q.y).abs() > 2.0 * half);
        let middle = (k..k + rows).filter_map(row).find(is_free).or_else(|| row(k))?;
        taken.push(middle);
        let [low, high] = [-half, half].map(|by| at(middle.y + by).unwrap_or(middle + point(0.0, by)));
        // Where the line has a corner or runs level, the name stands along the piece.
        let is_smooth = (high.x - low.x).abs() < 2.0 * half;
        let [low, high] = if is_smooth { [low, high] } else { [-half, half].map(|by| middle + point(0.0, by)) };
        let ends = [back(low), back(high)];
        let turn_deg = reading_turn(ends);
        let center = (ends[0] + ends[1]) * 0.5;
        let center = point(center.x, -center.y);
        let space = TurnedBox { center, width: line.width() + 1.5, height: 0.8 * line.height(), turn_deg };
        let drop = turned(point(0.0, line.baseline_drop()), turn_deg);
        let text = Mark::Text { line, at: center + drop, anchor: Anchor::Middle, turn_deg };
        Some((Mark::area(space.corners().to_vec(), ground.blank()), text))
    };
    // All grounds lie under all words.
    let (grounds, words): (Vec<Mark>, Vec<Mark>) = cuttings.iter().zip(lines).enumerate().filter_map(name).unzip();
    grounds.into_iter().chain(words).collect()
}

/// The side at which the cutting lines are farther apart, and how far they are: of a half the other lies on the fold.
fn farther_apart(cuttings: &[Vec<Point>]) -> (Side, f64) {
    let y = Bounds::of(cuttings.iter().flatten().copied()).center().y;
    let left: Side = |spans| spans.first().map(|span| span.0);
    let right: Side = |spans| spans.last().map(|span| span.1);
    let spread = |side: Side| {
        let at: Vec<f64> = cuttings.iter().filter_map(|cutting| side(&inside_spans(cutting, y))).collect();
        let (most, least) = (at.iter().fold(f64::MIN, |m, x| m.max(*x)), at.iter().fold(f64::MAX, |m, x| m.min(*x)));
        (most - least).max(0.0)
    };
    if spread(left) > spread(right) { (left, spread(left)) } else { (right, spread(right)) }
}
