//! What a page draws.

use std::fmt::Write as _;

use ellwand_geometry::{EdgeShape, Point, point};

use super::font::Fonts;
use super::number;
use crate::{Colour, Dot, Origin, Run, Sheet, Stroke, Style, Text};
use crate::{arc::as_cubics, pdf::run_points};

/// Digits of a coordinate in mm: a hundredth of a micrometre.
const DIGITS: usize = 5;

/// Half a dot's cross, mm.
const CROSS_MM: f64 = 1.0;

/// What has been set on the page so far.
struct Page<'a> {
    out: String,
    fonts: &'a Fonts,
    look: Style,
    layer: Option<usize>,
}

/// The operators of a sheet; `scale` is in units of the page a mm.
pub(super) fn content(sheet: &Sheet, scale: f64, fonts: &Fonts) -> String {
    let scale = number(scale, 12);
    let mut page = Page {
        out: format!("{scale} 0 0 {scale} 0 0 cm\n1 j\n"),
        fonts,
        // What a page starts with; the width of a line is set before the first one.
        look: Style { line: Some(Colour([0; 3])), width: f64::NAN, dash: Vec::new(), fill: Some(Colour([0; 3])) },
        layer: None,
    };
    for stroke in &sheet.strokes {
        page.stroke(stroke);
    }
    for dot in &sheet.dots {
        page.dot(dot);
    }
    for text in &sheet.texts {
        page.text(text);
    }
    page.enter(None);
    page.out
}

fn is_finite(p: Point) -> bool {
    p.x.is_finite() && p.y.is_finite()
}

fn place(p: Point) -> String {
    format!("{} {}", number(p.x, DIGITS), number(p.y, DIGITS))
}

fn shares(colour: Colour) -> String {
    colour.0.map(|share| number(f64::from(share) / 255.0, 4)).join(" ")
}

impl Page<'_> {
    /// Goes over to another layer.
    fn enter(&mut self, layer: Option<usize>) {
        if self.layer == layer {
            return;
        }
        if self.layer.is_some() {
            self.out += "EMC\n";
        }
        if let Some(index) = layer {
            let _ = writeln!(self.out, "/OC /L{index} BDC");
        }
        self.layer = layer;
    }

    /// Sets what differs from the last stroke.
    fn set(&mut self, style: &Style) {
        if let Some(line) = style.line {
            if self.look.line != Some(line) {
                let _ = writeln!(self.out, "{} RG", shares(line));
                self.look.line = Some(line);
            }
            if self.look.width != style.width {
                let _ = writeln!(self.out, "{} w", number(style.width, DIGITS));
                self.look.width = style.width;
            }
            if self.look.dash != style.dash {
                let lengths: Vec<String> = style.dash.iter().map(|length| number(*length, DIGITS)).collect();
                let _ = writeln!(self.out, "[{}] 0 d", lengths.join(" "));
                self.look.dash.clone_from(&style.dash);
            }
        }
        if let Some(fill) = style.fill
            && self.look.fill != Some(fill)
        {
            let _ = writeln!(self.out, "{} rg", shares(fill));
            self.look.fill = Some(fill);
        }
    }

    fn stroke(&mut self, stroke: &Stroke) {
        let paint = match (stroke.style.line, stroke.style.fill) {
            (Some(_), Some(_)) => "B",
            (Some(_), None) => "S",
            (None, Some(_)) => "f",
            (None, None) => return,
        };
        let numbers = [stroke.style.width].into_iter().chain(stroke.style.dash.iter().copied());
        let is_sound = is_finite(stroke.start)
            && stroke.runs.iter().flat_map(run_points).all(is_finite)
            && numbers.into_iter().all(|length| length.is_finite() && length >= 0.0);
        if stroke.runs.is_empty() || !is_sound {
            return;
        }
        self.enter(stroke.origin.layer);
        self.set(&stroke.style);
        let _ = writeln!(self.out, "{} m", place(stroke.start));
        let mut from = stroke.start;
        for (index, run) in stroke.runs.iter().enumerate() {
            let closes = stroke.closed && index + 1 == stroke.runs.len() && run.to == stroke.start;
            match run.shape {
                EdgeShape::Straight if closes => {}
                EdgeShape::Straight => {
                    let _ = writeln!(self.out, "{} l", place(run.to));
                }
                EdgeShape::Cubic { first, second } => self.cubic(first, second, run.to),
                EdgeShape::Arc { through } => self.arc(from, through, run.to),
            }
            from = run.to;
        }
        self.out += if stroke.closed { "h " } else { "" };
        self.out += paint;
        self.out.push('\n');
    }

    fn cubic(&mut self, first: Point, second: Point, to: Point) {
        let _ = writeln!(self.out, "{} {} {} c", place(first), place(second), place(to));
    }

    fn arc(&mut self, from: Point, through: Point, to: Point) {
        for run in as_cubics(from, through, to) {
            match run.shape {
                EdgeShape::Cubic { first, second } => self.cubic(first, second, run.to),
                EdgeShape::Straight | EdgeShape::Arc { .. } => {
                    let _ = writeln!(self.out, "{} l", place(run.to));
                }
            }
        }
    }

    fn dot(&mut self, dot: &Dot) {
        for arm in [point(CROSS_MM, 0.0), point(0.0, CROSS_MM)] {
            self.stroke(&Stroke {
                start: dot.at - arm,
                runs: vec![Run { shape: EdgeShape::Straight, to: dot.at + arm }],
                closed: false,
                style: Style { line: Some(Colour([0; 3])), ..Style::default() },
                origin: Origin { layer: dot.origin.layer, ..Origin::default() },
            });
        }
    }

    fn text(&mut self, text: &Text) {
        let pieces = self.fonts.pieces(&text.content);
        let is_sound = is_finite(text.at) && text.turned.is_finite() && text.height.is_finite() && text.height > 0.0;
        if pieces.is_empty() || !is_sound {
            return;
        }
        self.enter(text.origin.layer);
        self.set(&Style { fill: Some(Colour([0; 3])), ..Style::default() });
        let natural = self.fonts.width(&text.content) * text.height;
        let stretch = text.length / natural;
        let stretch = if (0.05..20.0).contains(&stretch) { stretch } else { 1.0 };
        let (sin, cos) = text.turned.to_radians().sin_cos();
        let turn = [cos, sin, -sin, cos].map(|share| number(share, 9)).join(" ");
        let _ = writeln!(self.out, "BT\n{} Tz\n{turn} {} Tm", number(stretch * 100.0, 6), place(text.at));
        for (font, codes) in pieces {
            let codes: String = codes.iter().map(|code| format!("{code:02X}")).collect();
            let _ = writeln!(self.out, "/F{font} {} Tf <{codes}> Tj", number(text.height, DIGITS));
        }
        self.out += "ET\n";
    }
}
