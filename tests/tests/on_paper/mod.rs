//! What stands on printed pages, for the tests of them.
#![allow(dead_code, reason = "each test file uses its own part")]

use std::{fs, path::Path};

use ellwand_vector::{Drawing, Limits, Stroke};
use serde_json::Value;

pub(crate) type Point = (f64, f64);

/// How far a length on paper may be off, mm.
pub(crate) const NEAR: f64 = 0.1;

pub(crate) fn demo(job: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data");
    folder.join(job).display().to_string()
}

pub(crate) fn read(path: &Path) -> Drawing {
    let bytes = fs::read(path).expect("a PDF");
    ellwand_vector::pdf::read(&bytes, &Limits::default()).expect("a sound PDF")
}

pub(crate) fn points(stroke: &Stroke) -> Vec<Point> {
    std::iter::once(stroke.start).chain(stroke.runs.iter().map(|run| run.to)).map(|p| (p.x, p.y)).collect()
}

pub(crate) fn ring(value: &Value) -> Vec<Point> {
    let pair = |p: &Value| (p[0].as_f64().expect("x"), p[1].as_f64().expect("y"));
    value.as_array().expect("a list of points").iter().map(pair).collect()
}

pub(crate) fn length(line: &[Point], closed: bool) -> f64 {
    let last = closed.then(|| [line[line.len() - 1], line[0]]);
    let sides = line.windows(2).map(|pair| [pair[0], pair[1]]).chain(last);
    sides.map(|[a, b]| (a.0 - b.0).hypot(a.1 - b.1)).sum()
}

/// Cutting lines are full lines 0.4 mm wide, and nothing else is.
pub(crate) fn is_cutting_line(stroke: &Stroke) -> bool {
    (stroke.style.width - 0.4).abs() < 0.01 && stroke.style.dash.is_empty()
}
