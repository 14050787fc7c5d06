//! How much paper the pieces of a pattern take, beside what the plainest packing takes: boxes in rows, the highest first.

use std::path::Path;

use ellwand_files::{Limits, read_job};
use ellwand_geometry::point;
use ellwand_planner::{OnPaper, PaperPlan, PaperShape, pages_touched};

/// Pages of A4 without margins of 10 mm and an overlap of 10 mm.
pub const A4_STEP: [f64; 2] = [180.0, 267.0];
/// Columns of a table at most.
pub const MOST_COLUMNS: usize = 7;
/// A0 without margins of 10 mm.
pub const A0: [f64; 2] = [821.0, 1169.0];
/// A roll of a copy shop, 36 in.
pub const ROLL: f64 = 914.4;
/// Between two pieces.
pub const GAP: f64 = 3.0;

/// A pattern's name and the pieces of a job's view, each once, whole where it is cut on a fold.
///
/// # Errors
///
/// What is wrong with the job.
pub fn shapes(job: &Path) -> Result<(String, Vec<PaperShape>), String> {
    let read = read_job(job, &Limits::default()).map_err(|faults| faults.to_string())?;
    let view = read.pattern.views.iter().find(|view| view.name == read.job.view);
    let in_view = |name: &String| view.is_none_or(|view| view.pieces.contains(name));
    let pieces = read.pattern.pieces.into_iter().filter(|piece| in_view(&piece.name));
    Ok((read.pattern.name, pieces.map(|piece| PaperShape { name: piece.name, outline: piece.outline }).collect()))
}

/// Boxes in rows on paper so wide and high, the highest first, none turned but what does not fit as drawn; where a box has no room a row
/// begins, and where a row has none a sheet. `None` when a box fits in neither way.
pub fn rows(shapes: &[PaperShape], [width, height]: [f64; 2], gap: f64) -> Option<PaperPlan> {
    let fits = |lies: &OnPaper| {
        let bounds = lies.outline(shapes).bounds();
        bounds.width() <= width && bounds.height() <= height
    };
    let boxed = |shape: usize| {
        let turns = [0, 1].into_iter();
        turns.map(|quarter_turns| OnPaper { shape, sheet: 0, quarter_turns, at: point(0.0, 0.0) }).find(fits)
    };
    let mut boxes: Vec<OnPaper> = (0..shapes.len()).map(boxed).collect::<Option<_>>()?;
    let high = |lies: &OnPaper| lies.outline(shapes).bounds().height();
    boxes.sort_by(|a, b| high(b).total_cmp(&high(a)));
    let (mut sheet, mut x, mut y, mut top, mut length) = (0, 0.0, 0.0, 0.0_f64, 0.0_f64);
    for lies in &mut boxes {
        let bounds = lies.outline(shapes).bounds();
        if x + bounds.width() > width {
            (x, y) = (0.0, top + gap);
        }
        if y + bounds.height() > height {
            (sheet, x, y) = (sheet + 1, 0.0, 0.0);
        }
        if x == 0.0 {
            top = y + bounds.height();
            length = length.max(top);
        }
        (lies.sheet, lies.at) = (sheet, point(x, y) - bounds.min);
        x += bounds.width() + gap;
    }
    Some(PaperPlan { placed: boxes, sheets: sheet + 1, length, width })
}

/// The fewest pages that such rows touch on tables of up to so many columns; `None` when every table is too narrow.
pub fn pages_of_rows(shapes: &[PaperShape], step: [f64; 2], gap: f64, most_columns: usize) -> Option<usize> {
    let on_table = |columns: usize| rows(shapes, [columns as f64 * step[0], f64::INFINITY], gap);
    (1..=most_columns).filter_map(on_table).map(|plan| pages_touched(shapes, &plan, step).len()).min()
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{interiors_overlap, outline_distance};
    use ellwand_planner::{on_roll, on_sheets, on_tiles};

    use super::*;

    fn demo(job: &str) -> Vec<PaperShape> {
        shapes(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data").join(job)).unwrap().1
    }

    /// Every piece once, and none nearer to another than the gap, but for rounding.
    fn assert_sound(shapes: &[PaperShape], plan: &PaperPlan) {
        let order: Vec<usize> = plan.placed.iter().map(|lies| lies.shape).collect();
        assert_eq!(order, (0..shapes.len()).collect::<Vec<_>>());
        for (k, a) in plan.placed.iter().enumerate() {
            for b in plan.placed[..k].iter().filter(|b| b.sheet == a.sheet) {
                let (name, other) = (&shapes[a.shape].name, &shapes[b.shape].name);
                let [a, b] = [a, b].map(|lies| lies.outline(shapes));
                assert_eq!(interiors_overlap(&a, &b), None, "{name} and {other}");
                assert!(outline_distance(&a, &b) >= GAP - 1e-3, "{name} and {other}");
            }
        }
    }

    #[test]
    fn a_jacket_and_a_dress_take_less_paper_than_rows_of_boxes() {
        for job in ["jacket/flannel.job.toml", "shirt-dress/chambray.job.toml"] {
            let shapes = demo(job);
            let tiles = on_tiles(&shapes, A4_STEP, GAP, MOST_COLUMNS).unwrap();
            assert_sound(&shapes, &tiles);
            assert_eq!(tiles.sheets, pages_touched(&shapes, &tiles, A4_STEP).len());
            let of_rows = pages_of_rows(&shapes, A4_STEP, GAP, MOST_COLUMNS).unwrap();
            assert!(tiles.sheets < of_rows, "{job}: {} pages, {of_rows} of rows", tiles.sheets);

            let roll = on_roll(&shapes, ROLL, GAP).unwrap();
            assert_sound(&shapes, &roll);
            let in_rows = rows(&shapes, [ROLL, f64::INFINITY], GAP).unwrap();
            assert!(roll.length < in_rows.length, "{job}: {} mm, {} in rows", roll.length, in_rows.length);
        }
        let jacket = demo("jacket/flannel.job.toml");
        let sheets = on_sheets(&jacket, A0, GAP).unwrap();
        assert_sound(&jacket, &sheets);
        assert!(sheets.sheets <= rows(&jacket, A0, GAP).unwrap().sheets);
    }
}
