//! A sheet as an SVG document: paper millimetres become user units of one millimetre of cloth, rounded to 0.01.

use ellwand_geometry::Point;
use svg::node::Text as Words;
use svg::node::element::{Element, Rectangle, Title};
use svg::{Document, Node};

use crate::lettering::Weight;
use crate::marks::{Anchor, BLACK, Closure, Ink, Mark, PAPER, Sheet, Tint};
use crate::paper::POINT;

/// The text of the document.
pub(crate) fn document(sheet: &Sheet) -> String {
    let pen = Pen { scale: sheet.scale, steps: 100.0, words: BLACK };
    let user = |mm: f64| pen.user(mm);
    let mut document = Document::new()
        .set("width", format!("{}mm", rounded(sheet.width)))
        .set("height", format!("{}mm", rounded(sheet.height)))
        .set("viewBox", format!("0 0 {} {}", user(sheet.width), user(sheet.height)))
        .set("font-family", "Helvetica, Arial, sans-serif")
        .set("stroke-linejoin", "round")
        .set("stroke-linecap", "butt")
        .add(Title::new(printable(&sheet.title)))
        .add(Rectangle::new().set("width", user(sheet.width)).set("height", user(sheet.height)).set("fill", PAPER));
    for mark in &sheet.marks {
        document.append(pen.element(mark));
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

/// What marks are written with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pen {
    /// User units to one millimetre of paper.
    pub(crate) scale: f64,
    /// Numbers are told in so many parts of a user unit.
    pub(crate) steps: f64,
    /// Colour of words.
    pub(crate) words: &'static str,
}

impl Pen {
    /// A length on paper in user units.
    pub(crate) fn user(&self, mm: f64) -> String {
        to_parts(mm * self.scale, self.steps)
    }

    /// The element of a mark.
    pub(crate) fn element(&self, mark: &Mark) -> Element {
        match mark {
            Mark::Shape { points, closure, ink } => self.shape(points, *closure, ink),
            Mark::Tint(tint) => self.tint(tint),
            Mark::Ring { at, radius, ink } => {
                let mut ring = Element::new("circle");
                for (name, value) in [("cx", at.x), ("cy", at.y), ("r", *radius)] {
                    ring.assign(name, self.user(value));
                }
                self.apply(ink, &mut ring);
                ring
            }
            Mark::Strokes { lines, ink } => self.strokes(lines, ink),
            Mark::Text { line, at, anchor, turn_deg } => {
                let [x, y] = [at.x, at.y].map(|v| self.user(v));
                let mut text = Element::new("text");
                text.assign("x", x.as_str());
                text.assign("y", y.as_str());
                text.assign("font-size", self.user(line.points * POINT));
                text.assign("fill", self.words);
                if line.weight == Weight::Bold {
                    text.assign("font-weight", "bold");
                }
                match anchor {
                    Anchor::Start => {}
                    Anchor::Middle => text.assign("text-anchor", "middle"),
                    Anchor::End => text.assign("text-anchor", "end"),
                }
                if *turn_deg != 0.0 {
                    text.assign("transform", format!("rotate({} {x} {y})", rounded(*turn_deg)));
                }
                if !line.is_measured() {
                    text.assign("textLength", self.user(line.width()));
                    text.assign("lengthAdjust", "spacingAndGlyphs");
                }
                text.append(Words::new(printable(&line.text)));
                text
            }
        }
    }

    fn shape(&self, points: &[Point], closure: Closure, ink: &Ink) -> Element {
        self.path(self.outline(points, closure), ink)
    }

    fn outline(&self, points: &[Point], closure: Closure) -> String {
        let mut d = String::new();
        for (i, p) in points.iter().enumerate() {
            let letter = if i == 0 { 'M' } else { 'L' };
            d.push_str(&format!("{letter}{} {}", self.user(p.x), self.user(p.y)));
        }
        if closure == Closure::Closed {
            d.push('Z');
        }
        d
    }

    /// All areas of one colour in one path.
    fn tint(&self, tint: &Tint) -> Element {
        let mut path = Element::new("path");
        path.assign("d", tint.areas.iter().map(|area| self.outline(area, Closure::Closed)).collect::<String>());
        path.assign("fill", tint.colour.as_str());
        if tint.opacity < 1.0 {
            path.assign("fill-opacity", rounded(tint.opacity));
        }
        path
    }

    fn strokes(&self, lines: &[[Point; 2]], ink: &Ink) -> Element {
        let mut d = String::new();
        for [a, b] in lines {
            let [ax, ay, bx, by] = [a.x, a.y, b.x, b.y].map(|v| self.user(v));
            d.push_str(&format!("M{ax} {ay}L{bx} {by}"));
        }
        self.path(d, ink)
    }

    fn path(&self, d: String, ink: &Ink) -> Element {
        let mut path = Element::new("path");
        path.assign("d", d);
        self.apply(ink, &mut path);
        path
    }

    fn apply(&self, ink: &Ink, element: &mut Element) {
        element.assign("fill", ink.fill.unwrap_or("none"));
        if ink.cover < 1.0 {
            element.assign("fill-opacity", rounded(ink.cover));
        }
        if let Some(stroke) = ink.stroke {
            element.assign("stroke", stroke);
            element.assign("stroke-width", self.user(ink.width));
            if !ink.dash.is_empty() {
                let dash: Vec<String> = ink.dash.iter().map(|d| self.user(*d)).collect();
                element.assign("stroke-dasharray", dash.join(" "));
            }
        }
    }
}

/// A number to 0.01 without needless zeros and without a negative zero.
fn rounded(value: f64) -> String {
    to_parts(value, 100.0)
}

fn to_parts(value: f64, steps: f64) -> String {
    let parts = (value * steps).round();
    let value = if parts == 0.0 { 0.0 } else { parts / steps };
    format!("{value}")
}

/// `text` without the characters XML 1.0 cannot hold; the writer escapes the rest.
///
/// Source: W3C, "Extensible Markup Language (XML) 1.0", production 2 (Char).
pub(crate) fn printable(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' | '\r' => ' ',
            '\u{FFFE}' | '\u{FFFF}' => '\u{FFFD}',
            c if c < ' ' => '\u{FFFD}',
            c => c,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_zero() {
        assert_eq!([rounded(-0.001), rounded(2.0), rounded(1.005_1), rounded(-3.456)], ["0", "2", "1.01", "-3.46"]);
    }

    #[test]
    fn control_characters_do_not_reach_the_file() {
        assert_eq!(printable("a\u{0}b\tc"), "a\u{FFFD}b c");
    }
}
