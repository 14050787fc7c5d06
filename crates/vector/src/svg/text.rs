//! Text: each line with its place, size and turn.

use kurbo::{Affine, Point, Vec2};
use roxmltree::Node;
use svgtypes::LengthListParser;

use super::style::{Anchor, Look};
use super::viewport::{Along, Measures};
use crate::pen::{REACH_MM, scale_of};
use crate::{Origin, Text};

/// How long a letter is for its height where the file does not say.
pub(super) const LETTER_WIDTH: f64 = 0.5;

/// A line of text that is being put together.
pub(super) struct TextLine {
    content: String,
    at: Point,
    look: Look,
    length: Option<f64>,
}

/// Puts lines together from the parts of a `text` element: a part with a place of its own begins a line.
pub(super) struct TextLines {
    lines: Vec<TextLine>,
    /// Where the next letter stands, as far as it is known.
    next: Point,
}

impl TextLines {
    pub(super) fn new() -> Self {
        Self { lines: Vec::new(), next: Point::ZERO }
    }

    /// A `text`, `tspan` or the like begins.
    pub(super) fn begin(&mut self, node: Node, look: &Look, area: [f64; 2]) {
        let measures = Measures { area, font_size: look.font_size };
        let first = |name: &str, along: Along| {
            let length = LengthListParser::from(node.attribute(name)?).next()?.ok()?;
            Some(measures.user_units(length, along))
        };
        let (x, y) = (first("x", Along::Width), first("y", Along::Height));
        let shift = Vec2::new(first("dx", Along::Width).unwrap_or(0.0), first("dy", Along::Height).unwrap_or(0.0));
        let is_text = node.tag_name().name() == "text";
        if !is_text && x.is_none() && y.is_none() && shift.y == 0.0 {
            return;
        }
        let from = if is_text { Point::ZERO } else { self.advanced() };
        self.next = Point::new(x.unwrap_or(from.x), y.unwrap_or(from.y)) + shift;
        let length = node.attribute("textLength").and_then(|text| measures.length(text, Along::Width));
        self.lines.push(TextLine { content: String::new(), at: self.next, look: look.clone(), length });
    }

    /// Letters.
    pub(super) fn letters(&mut self, text: &str, look: &Look) {
        let is_spoken = text.chars().any(|letter| !letter.is_whitespace());
        match self.lines.last_mut() {
            Some(line) if line.content.is_empty() => {
                if is_spoken {
                    line.look = look.clone();
                }
                line.content.push_str(text);
            }
            Some(line) => line.content.push_str(text),
            None => {}
        }
    }

    /// Where the last line ends.
    fn advanced(&self) -> Point {
        self.lines.last().map_or(self.next, |line| {
            let words = collapsed(&line.content);
            line.at + Vec2::new(guess(&words, line.look.font_size), 0.0)
        })
    }

    /// The lines as they stand on the sheet.
    pub(super) fn finish(self, map: Affine, origin: &Origin) -> Vec<Text> {
        let scale = scale_of(map);
        let mut texts = Vec::new();
        for line in self.lines {
            let content = collapsed(&line.content);
            if content.is_empty() {
                continue;
            }
            let length =
                line.length.filter(|length| *length >= 0.0).unwrap_or_else(|| guess(&content, line.look.font_size));
            let back = match line.look.anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => length / 2.0,
                Anchor::End => length,
            };
            let at = map * (line.at - Vec2::new(back, 0.0));
            let along = map * (line.at + Vec2::new(1.0, 0.0)) - map * line.at;
            if !(at.x.abs() <= REACH_MM && at.y.abs() <= REACH_MM && (length * scale).is_finite()) {
                continue;
            }
            texts.push(Text {
                content,
                at: ellwand_geometry::point(at.x, at.y),
                height: line.look.font_size * scale,
                turned: turn(along),
                length: length * scale,
                origin: origin.clone(),
            });
        }
        texts
    }
}

/// The turn of a direction, degrees; no hair's breadth beside a level or upright line.
pub(super) fn turn(along: Vec2) -> f64 {
    let turned = along.atan2().to_degrees();
    let straight = (turned / 90.0).round() * 90.0;
    if (turned - straight).abs() < 1e-9 { straight + 0.0 } else { turned }
}

/// Half a height a letter.
pub(super) fn guess(content: &str, height: f64) -> f64 {
    content.chars().count() as f64 * LETTER_WIDTH * height
}

/// The words with one blank between each two.
fn collapsed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
