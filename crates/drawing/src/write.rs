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
    let user = |mm: f64| rounded(mm * sheet.scale);
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
        document.append(element(mark, sheet.scale));
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

fn element(mark: &Mark, scale: f64) -> Element {
    match mark {
        Mark::Shape { points, closure, ink } => shape(points, *closure, ink, scale),
        Mark::Tint(tint) => self::tint(tint, scale),
        Mark::Ring { at, radius, ink } => {
            let mut ring = Element::new("circle");
            for (name, value) in [("cx", at.x), ("cy", at.y), ("r", *radius)] {
                ring.assign(name, rounded(value * scale));
            }
            apply(ink, scale, &mut ring);
            ring
        }
        Mark::Strokes { lines, ink } => strokes(lines, ink, scale),
        Mark::Text { line, at, anchor, turn_deg } => {
            let [x, y] = [at.x, at.y].map(|v| rounded(v * scale));
            let mut text = Element::new("text");
            text.assign("x", x.as_str());
            text.assign("y", y.as_str());
            text.assign("font-size", rounded(line.points * POINT * scale));
            text.assign("fill", BLACK);
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
                text.assign("textLength", rounded(line.width() * scale));
                text.assign("lengthAdjust", "spacingAndGlyphs");
            }
            text.append(Words::new(printable(&line.text)));
            text
        }
    }
}

fn shape(points: &[Point], closure: Closure, ink: &Ink, scale: f64) -> Element {
    path(outline(points, closure, scale), ink, scale)
}

fn outline(points: &[Point], closure: Closure, scale: f64) -> String {
    let mut d = String::new();
    for (i, p) in points.iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        d.push_str(&format!("{letter}{} {}", rounded(p.x * scale), rounded(p.y * scale)));
    }
    if closure == Closure::Closed {
        d.push('Z');
    }
    d
}

/// All areas of one colour in one path.
fn tint(tint: &Tint, scale: f64) -> Element {
    let mut path = Element::new("path");
    path.assign("d", tint.areas.iter().map(|area| outline(area, Closure::Closed, scale)).collect::<String>());
    path.assign("fill", tint.colour.as_str());
    if tint.opacity < 1.0 {
        path.assign("fill-opacity", rounded(tint.opacity));
    }
    path
}

fn strokes(lines: &[[Point; 2]], ink: &Ink, scale: f64) -> Element {
    let mut d = String::new();
    for [a, b] in lines {
        let [ax, ay, bx, by] = [a.x, a.y, b.x, b.y].map(|v| rounded(v * scale));
        d.push_str(&format!("M{ax} {ay}L{bx} {by}"));
    }
    path(d, ink, scale)
}

fn path(d: String, ink: &Ink, scale: f64) -> Element {
    let mut path = Element::new("path");
    path.assign("d", d);
    apply(ink, scale, &mut path);
    path
}

fn apply(ink: &Ink, scale: f64, element: &mut Element) {
    element.assign("fill", ink.fill.unwrap_or("none"));
    if ink.cover < 1.0 {
        element.assign("fill-opacity", rounded(ink.cover));
    }
    if let Some(stroke) = ink.stroke {
        element.assign("stroke", stroke);
        element.assign("stroke-width", rounded(ink.width * scale));
        if !ink.dash.is_empty() {
            let dash: Vec<String> = ink.dash.iter().map(|d| rounded(d * scale)).collect();
            element.assign("stroke-dasharray", dash.join(" "));
        }
    }
}

/// A number to 0.01 without needless zeros and without a negative zero.
fn rounded(value: f64) -> String {
    let hundredths = (value * 100.0).round();
    let value = if hundredths == 0.0 { 0.0 } else { hundredths / 100.0 };
    format!("{value}")
}

/// `text` without the characters XML 1.0 cannot hold; the writer escapes the rest.
///
/// Source: W3C, "Extensible Markup Language (XML) 1.0", production 2 (Char).
fn printable(text: &str) -> String {
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
