//! Pages at their true size as a PDF: lines, areas and words, with the letters that are used embedded.

mod faces;
mod structure;

use ellwand_geometry::{Bounds, Point};
use krilla::{
    Document,
    color::rgb,
    geom::{PathBuilder, Point as Place, Rect, Transform},
    metadata::Metadata,
    num::NormalizedF32,
    page::PageSettings,
    paint::{Fill, FillRule, LineCap, LineJoin, Paint, Stroke, StrokeDash},
    surface::Surface,
};

use crate::{
    leaves::Role,
    lettering::Line,
    marks::{Anchor, BLACK, Closure, Ink, Mark},
    paper::POINT,
};

use faces::Opened;
pub use faces::{Faces, NotAFont};
use structure::Structure;

/// Pages to print, each at its true size.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pages {
    /// What they show, for the properties of the file.
    pub(crate) title: String,
    pub(crate) pages: Vec<Page>,
}

/// A page, mm, `y` running down from its upper edge.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Page {
    pub(crate) width: f64,
    pub(crate) height: f64,
    /// Drawn in this order.
    pub(crate) parts: Vec<Part>,
    /// Colour of words.
    pub(crate) ink: &'static str,
    pub(crate) turn: Turn,
}

/// Which way round a page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turn {
    /// As it is drawn.
    None,
    /// Left and right changed.
    Mirrored,
}

/// Marks, of which only what lies in the window shows.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Part {
    pub(crate) window: Option<Bounds>,
    pub(crate) marks: Vec<Mark>,
    /// What it is for, where that is told to whoever listens.
    pub(crate) role: Option<Role>,
}

/// A PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pdf {
    /// The file.
    pub bytes: Vec<u8>,
    /// Letters that no face had: boxes stand in their places.
    pub missing: Vec<char>,
}

/// No page of a PDF is longer on any side, mm: 14 400 points (ISO 32000-1, annex C).
pub const LONGEST_PAGE: f64 = 5080.0;

impl Pages {
    /// How many there are.
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// The lines of words on them, in the order in which they are drawn.
    pub fn words(&self) -> Vec<&str> {
        let marks = self.pages.iter().flat_map(|page| &page.parts).flat_map(|part| &part.marks);
        let words = marks.filter_map(|mark| match mark {
            Mark::Text { line, .. } => Some(line.text.as_str()),
            _ => None,
        });
        words.collect()
    }

    /// Whether no upright line of words reaches over the edge of its page.
    pub fn is_within_its_paper(&self) -> bool {
        let within = |page: &Page, mark: &Mark| match mark {
            Mark::Text { line, at, anchor, turn_deg } if *turn_deg == 0.0 => {
                let left = match anchor {
                    Anchor::Start => at.x,
                    Anchor::Middle => at.x - line.width() / 2.0,
                    Anchor::End => at.x - line.width(),
                };
                left >= 0.0 && left + line.width() <= page.width && at.y <= page.height
            }
            _ => true,
        };
        self.pages.iter().all(|page| page.parts.iter().flat_map(|part| &part.marks).all(|mark| within(page, mark)))
    }

    /// Width and height of each, mm.
    pub fn sizes(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.pages.iter().map(|page| [page.width, page.height])
    }
}

impl Page {
    /// A page of paper.
    pub(crate) fn on_paper([width, height]: [f64; 2], parts: Vec<Part>) -> Self {
        Self { width, height, parts, ink: BLACK, turn: Turn::None }
    }
}

/// The pages as a file; the same pages give the same bytes.
///
/// # Panics
///
/// Never for pages of this crate: what the library refuses (pages of no size, numbers that are none) is not made.
pub fn pdf(pages: &Pages, faces: &Faces) -> Pdf {
    let opened = Opened::new(faces);
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new().title(pages.title.clone()).creator("ellwand".to_owned()).language("en".to_owned()),
    );
    let mut structure = Structure::default();
    for (index, page) in pages.pages.iter().enumerate() {
        let [width, height] = [page.width, page.height].map(points);
        let settings = PageSettings::from_wh(width, height).expect("a page has a size");
        let mut open = document.start_page_with(settings);
        let mut surface = open.surface();
        if page.turn == Turn::Mirrored {
            surface.push_transform(&Transform::from_row(-1.0, 0.0, 0.0, 1.0, width, 0.0));
        }
        for part in &page.parts {
            let told = structure.begin(part, index, &mut surface);
            let clip = part.window.and_then(window);
            if let Some(path) = &clip {
                surface.push_clip_path(path, &FillRule::NonZero);
            }
            part.marks.iter().for_each(|mark| draw(mark, page.ink, &mut surface, &opened));
            if clip.is_some() {
                surface.pop();
            }
            structure.end(told, &mut surface);
        }
        if page.turn == Turn::Mirrored {
            surface.pop();
        }
        surface.finish();
        open.finish();
    }
    structure.close(&mut document);
    let bytes = document.finish().expect("no validator was asked for, and every font was read");
    Pdf { bytes, missing: opened.missing() }
}

/// Millimetres as points, 1/72 in.
fn points(mm: f64) -> f32 {
    (mm / POINT) as f32
}

fn window(bounds: Bounds) -> Option<krilla::geom::Path> {
    let [left, top, right, bottom] = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].map(points);
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_ltrb(left, top, right, bottom)?);
    path.finish()
}

fn draw(mark: &Mark, words: &str, surface: &mut Surface<'_>, faces: &Opened<'_>) {
    match mark {
        Mark::Shape { points, closure, ink } => path(std::iter::once((points.as_slice(), *closure)), ink, surface),
        Mark::Strokes { lines, ink } => {
            path(lines.iter().map(|line| (line.as_slice(), Closure::Open)), ink, surface);
        }
        Mark::Tint(tint) => {
            let areas = tint.areas.iter().map(|area| (area.as_slice(), Closure::Closed));
            surface.set_stroke(None);
            surface.set_fill(Some(fill(&tint.colour, tint.opacity)));
            draw_path(areas, surface);
        }
        Mark::Ring { at, radius, ink } => {
            const CORNERS: usize = 48;
            let ring: Vec<Point> = (0..CORNERS)
                .map(|k| (std::f64::consts::TAU * k as f64 / CORNERS as f64).sin_cos())
                .map(|(sin, cos)| ellwand_geometry::point(at.x + radius * cos, at.y + radius * sin))
                .collect();
            path(std::iter::once((ring.as_slice(), Closure::Closed)), ink, surface);
        }
        Mark::Text { line, at, anchor, turn_deg } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill(words, 1.0)));
            text(line, *at, (*anchor, *turn_deg), surface, faces);
        }
    }
}

fn path<'p>(lines: impl Iterator<Item = (&'p [Point], Closure)>, ink: &Ink, surface: &mut Surface<'_>) {
    surface.set_fill(ink.fill.map(|colour| fill(colour, ink.cover)));
    surface.set_stroke(ink.stroke.map(|colour| {
        Stroke {
            paint: paint(colour),
            width: points(ink.width),
            line_cap: LineCap::Butt,
            line_join: LineJoin::Round,
            dash: (!ink.dash.is_empty())
                .then(|| StrokeDash { array: ink.dash.iter().map(|mm| points(*mm)).collect(), offset: 0.0 }),
            ..Stroke::default()
        }
    }));
    // The library fills in black what has neither.
    if ink.fill.is_some() || ink.stroke.is_some() {
        draw_path(lines, surface);
    }
}

fn draw_path<'p>(lines: impl Iterator<Item = (&'p [Point], Closure)>, surface: &mut Surface<'_>) {
    let mut path = PathBuilder::new();
    for (line, closure) in lines {
        for (k, p) in line.iter().enumerate() {
            let (x, y) = (points(p.x), points(p.y));
            if k == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        if closure == Closure::Closed {
            path.close();
        }
    }
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

fn text(line: &Line, at: Point, (anchor, turn_deg): (Anchor, f64), surface: &mut Surface<'_>, faces: &Opened<'_>) {
    let set = faces.set(&line.text, line.weight);
    let size = line.points as f32;
    let wide: f32 = set.iter().map(|part| part.width).sum::<f32>() * size;
    // Letters without a known width were given an em each: what is wider still is drawn narrower.
    let room = points(line.width());
    let narrower = if wide > room && wide > 0.0 { room / wide } else { 1.0 };
    let left = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide * narrower / 2.0,
        Anchor::End => -wide * narrower,
    };
    let [x, y] = [at.x, at.y].map(points);
    surface.push_transform(&Transform::from_translate(x, y));
    surface.push_transform(&Transform::from_rotate(turn_deg as f32));
    surface.push_transform(&Transform::from_row(narrower, 0.0, 0.0, 1.0, left, 0.0));
    let mut gone = 0.0;
    for part in set {
        surface.draw_glyphs(Place::from_xy(gone, 0.0), &part.glyphs, part.font, &part.text, size, false);
        gone += part.width * size;
    }
    (0..3).for_each(|_| surface.pop());
}

fn fill(colour: &str, opacity: f64) -> Fill {
    Fill {
        paint: paint(colour),
        opacity: NormalizedF32::new(opacity.clamp(0.0, 1.0) as f32).unwrap_or(NormalizedF32::ONE),
        rule: FillRule::NonZero,
    }
}

/// A colour written as `#rrggbb`; black where it is not.
fn paint(colour: &str) -> Paint {
    let part = |at: usize| colour.get(at..at + 2).and_then(|hex| u8::from_str_radix(hex, 16).ok()).unwrap_or(0);
    rgb::Color::new(part(1), part(3), part(5)).into()
}
