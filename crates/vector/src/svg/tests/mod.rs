//! What is read of small SVG files.

mod hostile;
mod layers;
mod looks;
mod scale;
mod shapes;
mod texts;
mod used;
mod written;

use ellwand_geometry::EdgeShape;

use super::read;
use crate::{Drawing, Limits, Stroke};

/// Reads a file of 100 by 100 mm with units of 1 mm that holds `inner`.
fn drawing(inner: &str) -> Drawing {
    let head = r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">"#;
    let file = format!("{head}\n{inner}\n</svg>");
    read(file.as_bytes(), &Limits::default()).unwrap_or_else(|fault| panic!("{fault}"))
}

fn only_stroke(inner: &str) -> Stroke {
    let mut strokes = drawing(inner).sheets.remove(0).strokes;
    assert_eq!(strokes.len(), 1, "{strokes:?}");
    strokes.remove(0)
}

/// Start and ends of all parts, rounded to a nanometre.
fn corners(stroke: &Stroke) -> Vec<[f64; 2]> {
    let round = |number: f64| (number * 1e6).round() / 1e6 + 0.0;
    std::iter::once(stroke.start)
        .chain(stroke.runs.iter().map(|run| run.to))
        .map(|at| [round(at.x), round(at.y)])
        .collect()
}

fn arcs(stroke: &Stroke) -> usize {
    stroke.runs.iter().filter(|run| matches!(run.shape, EdgeShape::Arc { .. })).count()
}

/// What was passed over and how often.
fn skipped(drawing: &Drawing) -> Vec<(&str, usize)> {
    drawing.skipped.iter().map(|skipped| (skipped.what.as_str(), skipped.count)).collect()
}
