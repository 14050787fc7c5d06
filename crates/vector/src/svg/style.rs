//! What an element looks like: what it inherits, then its own properties.

use svgtypes::{Color, LengthListParser, Paint, PaintFallback};

use super::viewport::{Along, Measures};
use crate::{Colour, Style};

/// What a line or an area is painted with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Ink {
    None,
    Plain(Colour),
    /// The colour of the text around.
    Current,
    /// As the line, or the area, that a marker stands on.
    OfLine,
    OfArea,
    /// A gradient or a pattern.
    Other,
}

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// The properties that matter here, as an element hands them on to what is in it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Look {
    pub(super) colour: Colour,
    pub(super) line: Ink,
    pub(super) area: Ink,
    /// User units.
    pub(super) width: f64,
    /// User units.
    pub(super) dash: Vec<f64>,
    pub(super) font_size: f64,
    pub(super) anchor: Anchor,
    pub(super) is_visible: bool,
    /// Whether line or area are seen through altogether.
    pub(super) line_is_clear: bool,
    pub(super) area_is_clear: bool,
    /// Ids of what stands at the ends of lines.
    pub(super) marker_start: Option<String>,
    pub(super) marker_mid: Option<String>,
    pub(super) marker_end: Option<String>,
    /// What [`Ink::OfLine`] and [`Ink::OfArea`] are, within a marker.
    pub(super) context: [Option<Colour>; 2],
}

impl Default for Look {
    fn default() -> Self {
        let black = Colour([0, 0, 0]);
        Self {
            colour: black,
            line: Ink::None,
            area: Ink::Plain(black),
            width: 1.0,
            dash: Vec::new(),
            font_size: 16.0,
            anchor: Anchor::Start,
            is_visible: true,
            line_is_clear: false,
            area_is_clear: false,
            marker_start: None,
            marker_mid: None,
            marker_end: None,
            context: [None, None],
        }
    }
}

/// What an element has for itself and does not hand on.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Own {
    pub(super) is_displayed: bool,
    pub(super) is_clipped: bool,
}

/// Names of the properties that are read, as attributes or in style sheets.
pub(super) const PROPERTIES: [&str; 19] = [
    "font",
    "font-size",
    "color",
    "stroke",
    "fill",
    "stroke-width",
    "stroke-dasharray",
    "stroke-opacity",
    "fill-opacity",
    "opacity",
    "display",
    "visibility",
    "text-anchor",
    "marker",
    "marker-start",
    "marker-mid",
    "marker-end",
    "clip-path",
    "mask",
];

impl Look {
    /// The look of an element within one of this look. Of properties given several times the last holds.
    pub(super) fn with(&self, declared: &[(&str, &str)], area: [f64; 2]) -> (Self, Own) {
        let mut look = self.clone();
        let mut own = Own { is_displayed: true, is_clipped: false };
        let last = |name: &str| declared.iter().rev().find(|(known, _)| *known == name).map(|(_, value)| value.trim());
        // What other lengths and colours are measured by comes first.
        if let Some(size) = last("font-size").or_else(|| font_size_of(last("font")?))
            && let Some(size) = font_size(size, self.font_size, area)
        {
            look.font_size = size;
        }
        if let Some(Paint::Color(colour)) = last("color").and_then(|text| Paint::from_str(text).ok()) {
            look.colour = rgb(colour);
        }
        let measures = Measures { area, font_size: look.font_size };
        for (at, &(name, value)) in declared.iter().enumerate() {
            let value = value.trim();
            let is_last = !declared[at + 1..].iter().any(|(later, _)| *later == name);
            if is_last && value != "inherit" {
                look.set(name, value, &measures, &mut own);
            }
        }
        (look, own)
    }

    fn set(&mut self, name: &str, value: &str, measures: &Measures, own: &mut Own) {
        match name {
            "stroke" => self.line = ink(value).unwrap_or(self.line),
            "fill" => self.area = ink(value).unwrap_or(self.area),
            "stroke-width" => {
                if let Some(width) = measures.length(value, Along::Diagonal).filter(|width| *width >= 0.0) {
                    self.width = width;
                }
            }
            "stroke-dasharray" => self.dash = dash(value, measures),
            "stroke-opacity" => self.line_is_clear = is_clear(value),
            "fill-opacity" => self.area_is_clear = is_clear(value),
            "opacity" => own.is_displayed &= !is_clear(value),
            "display" => own.is_displayed &= value != "none",
            "visibility" => self.is_visible = value == "visible",
            "text-anchor" => {
                self.anchor = match value {
                    "middle" => Anchor::Middle,
                    "end" => Anchor::End,
                    _ => Anchor::Start,
                }
            }
            "marker" => {
                let id = reference(value);
                (self.marker_start, self.marker_mid, self.marker_end) = (id.clone(), id.clone(), id);
            }
            "marker-start" => self.marker_start = reference(value),
            "marker-mid" => self.marker_mid = reference(value),
            "marker-end" => self.marker_end = reference(value),
            "clip-path" | "mask" => own.is_clipped = value != "none",
            _ => {}
        }
    }

    /// The colour of line and area, as far as they are painted. A gradient counts as black.
    pub(super) fn colours(&self) -> [Option<Colour>; 2] {
        let colour = |ink: Ink| match ink {
            Ink::None => None,
            Ink::Plain(colour) => Some(colour),
            Ink::Current => Some(self.colour),
            Ink::OfLine => self.context[0],
            Ink::OfArea => self.context[1],
            Ink::Other => Some(Colour([0, 0, 0])),
        };
        let line = if self.line_is_clear || self.width <= 0.0 { None } else { colour(self.line) };
        let area = if self.area_is_clear { None } else { colour(self.area) };
        [line, area]
    }

    /// How strokes look on a sheet where a user unit is `mm` long.
    pub(super) fn style(&self, mm: f64) -> Style {
        let [line, fill] = self.colours();
        let scaled = |length: f64| if (length * mm).is_finite() { length * mm } else { 0.0 };
        let width = if line.is_some() { scaled(self.width) } else { 0.0 };
        let dash = if line.is_some() { self.dash.iter().map(|&length| scaled(length)).collect() } else { Vec::new() };
        Style { line, width, dash, fill }
    }
}

fn rgb(colour: Color) -> Colour {
    Colour([colour.red, colour.green, colour.blue])
}

fn ink(text: &str) -> Option<Ink> {
    let plain = |colour: Color| if colour.alpha == 0 { Ink::None } else { Ink::Plain(rgb(colour)) };
    Some(match Paint::from_str(text).ok()? {
        Paint::None => Ink::None,
        Paint::Inherit => return None,
        Paint::CurrentColor => Ink::Current,
        Paint::Color(colour) => plain(colour),
        Paint::FuncIRI(_, Some(PaintFallback::Color(colour))) => plain(colour),
        Paint::FuncIRI(_, Some(PaintFallback::CurrentColor)) => Ink::Current,
        Paint::FuncIRI(..) => Ink::Other,
        Paint::ContextStroke => Ink::OfLine,
        Paint::ContextFill => Ink::OfArea,
    })
}

fn is_clear(text: &str) -> bool {
    let number = text.trim_end_matches('%').trim().parse::<f64>();
    number.is_ok_and(|number| number <= 0.0)
}

/// Longest list of dashes that is read; a longer one counts as a solid line.
const MOST_DASHES: usize = 16;

/// Dash and gap in turn; an odd count is gone through twice (SVG 2, 13.5.6).
fn dash(text: &str, measures: &Measures) -> Vec<f64> {
    let mut lengths: Vec<f64> = Vec::new();
    for length in LengthListParser::from(text) {
        match length.map(|length| measures.user_units(length, Along::Diagonal)) {
            Ok(length) if length >= 0.0 && length.is_finite() && lengths.len() < MOST_DASHES => lengths.push(length),
            _ => return Vec::new(),
        }
    }
    if lengths.iter().sum::<f64>() <= 0.0 {
        return Vec::new();
    }
    if lengths.len() % 2 == 1 {
        lengths.extend_from_within(..);
    }
    lengths
}

/// The id in `url(#id)`.
pub(super) fn reference(text: &str) -> Option<String> {
    let inner = text.trim().strip_prefix("url(")?.strip_suffix(')')?;
    let inner = inner.trim().trim_matches(['"', '\'']);
    inner.strip_prefix('#').map(str::to_owned)
}

fn font_size(text: &str, parent: f64, area: [f64; 2]) -> Option<f64> {
    // What the usual words come to where a medium letter is 16 px (CSS Fonts 4, 2.5).
    let words = [
        ("xx-small", 9.6),
        ("x-small", 12.0),
        ("small", 14.2),
        ("medium", 16.0),
        ("large", 19.2),
        ("x-large", 24.0),
        ("xx-large", 32.0),
        ("smaller", parent / 1.2),
        ("larger", parent * 1.2),
    ];
    if let Some((_, size)) = words.iter().find(|(word, _)| *word == text) {
        return Some(*size);
    }
    // Percentages are of the size around it.
    if let Some(number) = text.strip_suffix('%') {
        return Some(number.trim().parse::<f64>().ok()? / 100.0 * parent);
    }
    Measures { area, font_size: parent }.length(text, Along::Height).filter(|size| *size >= 0.0)
}

/// The size within the short way to write a font: "bold 12px/14px serif".
fn font_size_of(font: &str) -> Option<&str> {
    let is_size = |word: &&str| {
        word.starts_with(|first: char| first.is_ascii_digit() || first == '.') && word.parse::<f64>().is_err()
    };
    font.split_whitespace().map(|word| word.split('/').next().unwrap_or(word)).find(is_size)
}
