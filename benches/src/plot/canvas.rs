//! A sheet of lines and words.

use std::fmt::Write as _;

use svg::node::element::{Circle, Line, Path, Rectangle, Text, Title};
use svg::{Document, Node};

use super::axis::Axis;

/// Width of every plot, px.
pub(crate) const WIDTH: f64 = 900.0;

pub(crate) const INK: &str = "#1f2933";
pub(crate) const FAINT: &str = "#5f6c7b";
pub(crate) const GRID: &str = "#e4e8ed";
pub(crate) const OURS: &str = "#1d5fa8";
pub(crate) const OURS_PALE: &str = "#a9c8ea";
pub(crate) const THEIRS: &str = "#c2571a";

/// Where words stand about their point.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A stroke.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stroke {
    pub(crate) colour: &'static str,
    pub(crate) width: f64,
    /// Dashes and gaps, as SVG writes them; empty for a whole line.
    pub(crate) dashes: &'static str,
}

impl Stroke {
    pub(crate) const fn solid(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "" }
    }

    pub(crate) const fn dashed(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "5 4" }
    }

    pub(crate) const fn dotted(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "1.5 3" }
    }
}

/// A plot being drawn.
pub(crate) struct Canvas(Document);

impl Canvas {
    pub(crate) fn new(height: f64, title: &str) -> Self {
        let document = Document::new()
            .set("width", WIDTH)
            .set("height", height)
            .set("viewBox", (0, 0, WIDTH, height))
            .set("font-family", "Helvetica, Arial, sans-serif")
            .set("font-size", 12)
            .set("fill", INK)
            .add(Title::new(title))
            .add(Rectangle::new().set("width", WIDTH).set("height", height).set("fill", "#ffffff"));
        Self(document)
    }

    pub(crate) fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64), stroke: Stroke) {
        let line = Line::new().set("x1", px(x1)).set("y1", px(y1)).set("x2", px(x2)).set("y2", px(y2));
        self.0.append(stroked(line, stroke));
    }

    /// Straight lines from point to point.
    pub(crate) fn polyline(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        let mut data = String::new();
        for (k, (x, y)) in points.iter().enumerate() {
            let _ = write!(data, "{}{} {}", if k == 0 { 'M' } else { 'L' }, px(*x), px(*y));
        }
        let path = Path::new().set("d", data).set("fill", "none").set("stroke-linejoin", "round");
        self.0.append(stroked(path, stroke));
    }

    pub(crate) fn dot(&mut self, (x, y): (f64, f64), colour: &str) {
        self.0.append(Circle::new().set("cx", px(x)).set("cy", px(y)).set("r", 3.5).set("fill", colour));
    }

    pub(crate) fn words(&mut self, (x, y): (f64, f64), anchor: Anchor, colour: &str, words: &str) {
        self.0.append(text((x, y), anchor, colour, words));
    }

    pub(crate) fn heading(&mut self, (x, y): (f64, f64), words: &str) {
        self.0.append(text((x, y), Anchor::Start, INK, words).set("font-weight", "bold").set("font-size", 13));
    }

    /// The frame of a panel: a grid line and a label at every tick.
    pub(crate) fn frame(&mut self, x: (&Axis, &[f64]), y: (&Axis, &[f64]), label: impl Fn(f64) -> String) {
        let ((left, right), (bottom, top)) = (x.0.ends(), y.0.ends());
        for &tick in y.1 {
            let at = y.0.at(tick);
            self.line((left, at), (right, at), Stroke::solid(GRID, 1.0));
            self.words((left - 6.0, at + 4.0), Anchor::End, FAINT, &label(tick));
        }
        for &tick in x.1 {
            let at = x.0.at(tick);
            self.line((at, bottom), (at, top), Stroke::solid(GRID, 1.0));
            self.words((at, bottom + 16.0), Anchor::Middle, FAINT, &label(tick));
        }
        self.line((left, bottom), (right, bottom), Stroke::solid(FAINT, 1.0));
    }

    /// The document as text that ends with a line break.
    pub(crate) fn finish(self) -> String {
        format!("{}\n", self.0)
    }
}

fn text((x, y): (f64, f64), anchor: Anchor, colour: &str, words: &str) -> Text {
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    Text::new(words).set("x", px(x)).set("y", px(y)).set("text-anchor", anchor).set("fill", colour)
}

fn stroked<N: Node>(mut node: N, stroke: Stroke) -> N {
    node.assign("stroke", stroke.colour);
    node.assign("stroke-width", stroke.width);
    if !stroke.dashes.is_empty() {
        node.assign("stroke-dasharray", stroke.dashes);
    }
    node
}

/// A pixel to a tenth.
fn px(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
