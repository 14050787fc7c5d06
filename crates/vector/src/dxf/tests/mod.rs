//! What is read of small DXF files.

mod blocks;
mod hostile;
mod lines;
mod looks;
mod splines;
mod texts;
mod written;

use ellwand_geometry::EdgeShape;

use super::read;
use crate::{Drawing, Limits, Stroke};

/// A file of sections, each with its pairs: `"0 LINE|8 cut|10 0"`.
fn file(sections: &[(&str, &str)]) -> String {
    let pair = |pair: &str| {
        let (code, value) = pair.split_once(' ').unwrap_or((pair, ""));
        format!("{code:>3}\n{value}\n")
    };
    let pairs = |text: &str| text.split('|').filter(|text| !text.is_empty()).map(pair).collect::<String>();
    let section = |(name, text): &(&str, &str)| {
        format!("{}{}{}", pairs(&format!("0 SECTION|2 {name}")), pairs(text), pairs("0 ENDSEC"))
    };
    sections.iter().map(section).collect::<String>() + "  0\nEOF\n"
}

fn drawing_of(sections: &[(&str, &str)]) -> Drawing {
    read(file(sections).as_bytes(), &Limits::default()).unwrap_or_else(|fault| panic!("{fault}"))
}

fn drawing(entities: &str) -> Drawing {
    drawing_of(&[("ENTITIES", entities)])
}

fn only_stroke(entities: &str) -> Stroke {
    let mut strokes = drawing(entities).sheets.remove(0).strokes;
    assert_eq!(strokes.len(), 1, "{strokes:?}");
    strokes.remove(0)
}

fn round(number: f64) -> f64 {
    (number * 1e6).round() / 1e6 + 0.0
}

/// Start and ends of all parts, rounded to a nanometre.
fn corners(stroke: &Stroke) -> Vec<[f64; 2]> {
    std::iter::once(stroke.start)
        .chain(stroke.runs.iter().map(|run| run.to))
        .map(|at| [round(at.x), round(at.y)])
        .collect()
}

fn through(stroke: &Stroke, run: usize) -> [f64; 2] {
    let EdgeShape::Arc { through } = stroke.runs[run].shape else { panic!("{stroke:?}") };
    [round(through.x), round(through.y)]
}

/// What was passed over and how often.
fn skipped(drawing: &Drawing) -> Vec<(&str, usize)> {
    drawing.skipped.iter().map(|skipped| (skipped.what.as_str(), skipped.count)).collect()
}
