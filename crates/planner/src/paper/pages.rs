//! Which pages of a table an outline touches.
//!
//! A page is touched where an edge runs through it, or where the outline holds it whole. Both are asked of the outline itself, row by row, so
//! a slanted or hollow piece does not count for its box.

use std::collections::BTreeSet;

use ellwand_geometry::{Outline, Point};

use super::{PaperPlan, PaperShape};

/// What reaches into a page by no more than this does not touch it, mm: a piece that fills its page to the border lies on that page
/// alone, rounding or not.
const HAIR: f64 = 0.001;

/// Column and row of a page, from 0, from the lower left corner of the table.
pub(super) type Page = [usize; 2];

/// The pages of a table, `step` mm wide and high each, that carry something: into which the interior or the border of some outline reaches by
/// more than a thousandth of a mm. Each page is told once as column and row, counted from 0 at the lower left corner of the table, row by row
/// from the lowest.
///
/// ```
/// use ellwand_geometry::{Outline, point};
/// use ellwand_planner::{OnPaper, PaperPlan, PaperShape, pages_touched};
///
/// // A triangle over three of the four pages that its box lies on.
/// let outline = Outline::from_pairs(&[(0.0, 0.0), (150.0, 0.0), (0.0, 150.0)]).unwrap();
/// let placed = vec![OnPaper { shape: 0, sheet: 0, quarter_turns: 0, at: point(0.0, 0.0) }];
/// let plan = PaperPlan { placed, sheets: 3, length: 150.0, width: 200.0 };
/// let shapes = [PaperShape { name: "Godet".into(), outline }];
/// assert_eq!(pages_touched(&shapes, &plan, [100.0, 100.0]), [[0, 0], [1, 0], [0, 1]]);
/// ```
///
/// # Panics
///
/// When `plan` is of other shapes.
pub fn pages_touched(shapes: &[PaperShape], plan: &PaperPlan, step: [f64; 2]) -> Vec<[usize; 2]> {
    let pages = plan.placed.iter().flat_map(|lies| touched(&lies.outline(shapes), step));
    let by_row: BTreeSet<Page> = pages.map(|[column, row]| [row, column]).collect();
    by_row.into_iter().map(|[row, column]| [column, row]).collect()
}

/// The pages that one outline touches, each once, row by row. What lies left of the table or below it is on no page.
pub(super) fn touched(outline: &Outline, [width, height]: [f64; 2]) -> Vec<Page> {
    let bounds = outline.bounds();
    let mut pages = Vec::new();
    for row in between(bounds.min.y, bounds.max.y, height) {
        let (low, high) = (row as f64 * height + HAIR, (row + 1) as f64 * height - HAIR);
        let mut spans: Vec<(f64, f64)> = Vec::new();
        let mut crossings: Vec<f64> = Vec::new();
        let middle = (low + high) / 2.0;
        for (a, b) in outline.edges() {
            spans.extend(within(a, b, low, high));
            if (a.y <= middle) != (b.y <= middle) {
                crossings.push(a.x + (b.x - a.x) * (middle - a.y) / (b.y - a.y));
            }
        }
        let columns = between(bounds.min.x, bounds.max.x, width);
        pages.extend(columns.filter_map(|column| {
            let (left, right) = (column as f64 * width + HAIR, (column + 1) as f64 * width - HAIR);
            let edge_runs_through = spans.iter().any(|&(from, to)| from < right && to > left);
            // No edge runs through it, so it lies inside or outside as a whole.
            let holds_it = || crossings.iter().filter(|&&x| x > (left + right) / 2.0).count() % 2 == 1;
            (edge_runs_through || holds_it()).then_some([column, row])
        }));
    }
    pages
}

/// The steps of a length that reach into the stretch from `from` to `to`.
fn between(from: f64, to: f64, step: f64) -> std::ops::Range<usize> {
    // A negative number becomes 0.
    let first = ((from + HAIR) / step).floor() as usize;
    let end = ((to - HAIR) / step).ceil() as usize;
    first..end
}

/// From where to where across the part of an edge runs that lies between two heights; `None` when no part does.
fn within(a: Point, b: Point, low: f64, high: f64) -> Option<(f64, f64)> {
    let (a, b) = if a.y <= b.y { (a, b) } else { (b, a) };
    if b.y <= low || a.y >= high {
        return None;
    }
    let across = |y: f64| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
    let from = if a.y < low { across(low) } else { a.x };
    let to = if b.y > high { across(high) } else { b.x };
    Some((from.min(to), from.max(to)))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{area_outside, point};

    use super::*;

    fn outline(corners: &[(f64, f64)]) -> Outline {
        Outline::from_pairs(corners).unwrap()
    }

    #[test]
    fn what_fills_a_page_lies_on_it_alone() {
        let page = Outline::rectangle(190.0, 277.0).unwrap();
        assert_eq!(touched(&page, [190.0, 277.0]), [[0, 0]]);
        assert_eq!(touched(&page.translated(point(190.0, 2.0 * 277.0)), [190.0, 277.0]), [[1, 2]]);
        // A tenth of a millimetre further it is on two, and rounding is no tenth.
        assert_eq!(touched(&page.translated(point(1e-5, -1e-5)), [190.0, 277.0]), [[0, 0]]);
        assert_eq!(touched(&page.translated(point(0.1, 0.0)), [190.0, 277.0]), [[0, 0], [1, 0]]);
    }

    #[test]
    fn a_page_inside_a_piece_carries_something_and_one_in_its_recess_does_not() {
        let large = Outline::rectangle(290.0, 290.0).unwrap().translated(point(5.0, 5.0));
        assert_eq!(touched(&large, [100.0, 100.0]).len(), 9);
        // Nine pages around, the middle one and that below it left free.
        let arch = [(5.0, 5.0), (95.0, 5.0), (95.0, 205.0), (205.0, 205.0), (205.0, 5.0), (295.0, 5.0)];
        let arch = outline(&[&arch[..], &[(295.0, 295.0), (5.0, 295.0)]].concat());
        let pages = touched(&arch, [100.0, 100.0]);
        assert_eq!(pages, [[0, 0], [2, 0], [0, 1], [2, 1], [0, 2], [1, 2], [2, 2]]);
    }

    #[test]
    fn a_slanted_strip_touches_what_it_crosses() {
        let strip = outline(&[(0.0, 0.0), (10.0, 0.0), (300.0, 290.0), (300.0, 300.0), (290.0, 300.0), (0.0, 10.0)]);
        let pages = touched(&strip, [100.0, 100.0]);
        assert_eq!(pages, [[0, 0], [1, 0], [0, 1], [1, 1], [2, 1], [1, 2], [2, 2]]);
    }

    /// Random stars on random pages, held against the area that each page has in common with them.
    #[test]
    fn pages_are_those_that_have_area_in_common() {
        let mut seed = 7_u64;
        let mut unit = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 11) as f64 / (1_u64 << 53) as f64
        };
        for _ in 0..60 {
            let corners = 5 + (unit() * 9.0) as usize;
            let star: Vec<(f64, f64)> = (0..corners)
                .map(|k| (std::f64::consts::TAU * k as f64 / corners as f64, 30.0 + 270.0 * unit()))
                .map(|(angle, radius)| (350.0 + radius * angle.cos(), 400.0 + radius * angle.sin()))
                .collect();
            let star = outline(&star);
            let step = [60.0 + 100.0 * unit(), 60.0 + 100.0 * unit()];
            let found: BTreeSet<Page> = touched(&star, step).into_iter().collect();
            for (column, row) in (0..13).flat_map(|column| (0..13).map(move |row| (column, row))) {
                let at = point(column as f64 * step[0], row as f64 * step[1]);
                let page = Outline::rectangle(step[0], step[1]).unwrap().translated(at);
                let common = page.area() - area_outside(&page, &star);
                let is_found = found.contains(&[column, row]);
                assert!(if is_found { common > 0.0 } else { common < 0.5 }, "{column} {row}: {common} mm² in common");
            }
        }
    }
}
