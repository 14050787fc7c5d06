//! Writes SVG: mm throughout, a group for each layer.

use std::collections::HashSet;
use std::fmt::Write;

use ellwand_geometry::{EdgeShape, Point, point};

use super::text::guess;
use crate::arc::Arc;
use crate::arrangement::{Entry, Tree, extent, number, rounded, shifts};
use crate::{Colour, Drawing, Origin, Stroke, Style, Text};

/// Half the size of the cross that a dot is drawn as, mm.
const CROSS_MM: f64 = 1.0;

/// How wide a line is that has no width of its own, mm.
const THIN_MM: f64 = 0.1;

/// An arc that spans half a turn but for so much, radians, is written as half a turn: near there its centre hangs on the last digit of its
/// radius.
const HALF_TURN_MARGIN: f64 = 3e-8;

/// A drawing as SVG 1.1: width, height and view box in mm, `y` down from the upper edge of the first sheet.
///
/// Each [layer](Drawing::layers) is a group with the layer's name as its `id`, in the order of the layers; what is on none comes first,
/// outside of them. In it lie the [groups](Drawing::groups), each once a layer. Ids are made of letters, digits, `-`, `_` and `.` and are
/// each given once; where a name is another, it stands in the attribute `label` of the namespace `urn:ellwand:drawing`. Layers and groups
/// that are not shown have `display="none"`.
///
/// Arcs are written as `A`, cubics as `C`; strokes of one id, look and group that follow each other are one path. A dot is drawn as a cross,
/// without its numbers. Of several sheets each lies below the one before, 20 mm apart; a sheet without a size is as large as what is drawn on
/// it. A line without width is 0.1 mm wide. Coordinates have nine decimals. The same drawing gives the same bytes.
///
/// # Example
///
/// ```
/// use ellwand_geometry::{EdgeShape, point};
/// use ellwand_vector::{Colour, Drawing, Limits, Run, Sheet, Stroke, Style, svg};
///
/// let line = Stroke {
///     start: point(10.0, 10.0),
///     runs: vec![Run { shape: EdgeShape::Straight, to: point(40.0, 20.0) }],
///     closed: false,
///     style: Style { line: Some(Colour([0, 0, 0])), width: 0.25, ..Style::default() },
///     origin: Default::default(),
/// };
/// let sheet = Sheet { size: Some([210.0, 297.0]), strokes: vec![line], ..Sheet::default() };
/// let text = svg::write(&Drawing { sheets: vec![sheet], ..Drawing::default() });
/// assert!(text.contains(r##"<path d="M10 287L40 277" fill="none" stroke="#000000" stroke-width="0.25"/>"##));
/// let read = svg::read(text.as_bytes(), &Limits::default()).unwrap();
/// assert_eq!(read.sheets[0].strokes[0].end(), point(40.0, 20.0));
/// ```
pub fn write(drawing: &Drawing) -> String {
    let extents: Vec<[Point; 2]> = drawing.sheets.iter().map(extent).collect();
    let shifts = shifts(drawing);
    let left = extents.iter().map(|[low, _]| low.x).fold(f64::MAX, f64::min);
    let right = extents.iter().map(|[_, high]| high.x).fold(f64::MIN, f64::max);
    let top = extents.first().map_or(0.0, |[_, high]| high.y);
    let bottom = extents.last().zip(shifts.last()).map_or(0.0, |([low, _], shift)| low.y + shift.y);
    let side = |length: f64| if length > 0.0 && length.is_finite() { length } else { 1.0 };
    let (width, height) = (number(side(right - left)), number(side(top - bottom)));
    let origins = shifts.iter().map(|shift| point(if left.is_finite() { left } else { 0.0 }, top - shift.y)).collect();
    let mut page = Page { drawing, origins, ids: HashSet::new(), text: String::new() };
    let _ = write!(
        page.text,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:e=\"urn:ellwand:drawing\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n"
    );
    page.layer(None);
    for (at, layer) in drawing.layers.iter().enumerate() {
        page.begin(Some(&layer.name), layer.is_shown, 1);
        page.layer(Some(at));
        page.text.push_str("</g>\n");
    }
    page.text.push_str("</svg>\n");
    page.text
}

struct Page<'a> {
    drawing: &'a Drawing,
    /// Where the upper left corner of the page is on each sheet.
    origins: Vec<Point>,
    ids: HashSet<String>,
    text: String,
}

impl Page<'_> {
    fn layer(&mut self, layer: Option<usize>) {
        let drawing = self.drawing;
        // A layer that is not there is none.
        let is_on = |origin: &Origin| origin.layer.filter(|&at| at < drawing.layers.len()) == layer;
        let tree = Tree::of(drawing, |_| true, is_on);
        self.entries(&tree, &tree.roots, 1 + usize::from(layer.is_some()));
    }

    fn entries(&mut self, tree: &Tree, entries: &[Entry], depth: usize) {
        let drawing = self.drawing;
        let stroke = |entry: &Entry| match entry {
            Entry::Stroke(sheet, at) => Some((*sheet, &drawing.sheets[*sheet].strokes[*at])),
            _ => None,
        };
        let mut rest = entries;
        while let Some((first, after)) = rest.split_first() {
            rest = after;
            match *first {
                Entry::Stroke(..) => {
                    let Some((_, begun)) = stroke(first) else { continue };
                    let is_same = |entry: &&Entry| {
                        stroke(entry).is_some_and(|(_, next)| {
                            begun.origin.id.is_some() && next.origin.id == begun.origin.id && next.style == begun.style
                        })
                    };
                    let count = rest.iter().take_while(is_same).count();
                    let (same, after) = rest.split_at(count);
                    rest = after;
                    let strokes: Vec<_> = std::iter::once(first).chain(same).filter_map(stroke).collect();
                    self.path(&strokes, depth);
                }
                Entry::Text(sheet, at) => self.words(&drawing.sheets[sheet].texts[at], sheet, depth),
                Entry::Dot(sheet, at) => {
                    let centre = self.placed(sheet, drawing.sheets[sheet].dots[at].at);
                    let (x, y) = (centre.x, centre.y);
                    let [left, right, up, down] = [x - CROSS_MM, x + CROSS_MM, y - CROSS_MM, y + CROSS_MM].map(number);
                    let (x, y) = (number(x), number(y));
                    self.indent(depth);
                    let _ = writeln!(
                        self.text,
                        "<path d=\"M{left} {y}H{right}M{x} {up}V{down}\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.1\"/>"
                    );
                }
                Entry::Group(at) => {
                    let group = &drawing.groups[at];
                    self.begin(group.name.as_deref(), group.is_shown, depth);
                    self.entries(tree, &tree.inside[at], depth + 1);
                    self.indent(depth);
                    self.text.push_str("</g>\n");
                }
            }
        }
    }

    fn indent(&mut self, depth: usize) {
        // Deeper is not told apart, lest blanks outweigh the drawing.
        self.text.extend(std::iter::repeat_n(' ', depth.min(16) - 1));
    }

    fn begin(&mut self, name: Option<&str>, is_shown: bool, depth: usize) {
        self.indent(depth);
        self.text.push_str("<g");
        if let Some(name) = name {
            let id = self.unique(name);
            let _ = write!(self.text, " id=\"{id}\"");
            if id != name {
                let _ = write!(self.text, " e:label=\"{}\"", escaped(name));
            }
        }
        // Without a name it would be taken for something that is not meant to be there.
        if !is_shown && name.is_some() {
            self.text.push_str(" display=\"none\"");
        }
        self.text.push_str(">\n");
    }

    /// An id of a name that nothing else has.
    fn unique(&mut self, name: &str) -> String {
        let is_plain = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '_' | '.');
        let mut id: String = name.chars().map(|letter| if is_plain(letter) { letter } else { '_' }).collect();
        if !id.starts_with(|first: char| first.is_alphabetic() || first == '_') {
            id.insert(0, '_');
        }
        let mut one = id.clone();
        let mut count = 1_usize;
        while !self.ids.insert(one.clone()) {
            count += 1;
            one = format!("{id}-{count}");
        }
        one
    }

    fn placed(&self, sheet: usize, at: Point) -> Point {
        let origin = self.origins[sheet];
        point(rounded(at.x - origin.x), rounded(origin.y - at.y))
    }

    fn path(&mut self, strokes: &[(usize, &Stroke)], depth: usize) {
        let Some((_, first)) = strokes.first() else { return };
        self.indent(depth);
        self.text.push_str("<path");
        if let Some(id) = &first.origin.id {
            let id = self.unique(id);
            let _ = write!(self.text, " id=\"{id}\"");
        }
        self.text.push_str(" d=\"");
        for (sheet, stroke) in strokes {
            self.data(*sheet, stroke);
        }
        self.text.push('"');
        self.look(&first.style);
        self.text.push_str("/>\n");
    }

    fn data(&mut self, sheet: usize, stroke: &Stroke) {
        let mut from = self.placed(sheet, stroke.start);
        let _ = write!(self.text, "M{} {}", number(from.x), number(from.y));
        let closing =
            stroke.runs.last().is_some_and(|last| last.shape == EdgeShape::Straight && last.to == stroke.start);
        let skipped = usize::from(stroke.closed && closing && stroke.runs.len() > 1);
        for run in &stroke.runs[..stroke.runs.len() - skipped] {
            let to = self.placed(sheet, run.to);
            let (x, y) = (number(to.x), number(to.y));
            let arc = |through: Point| Arc::through(from, self.placed(sheet, through), to);
            let _ = match run.shape {
                EdgeShape::Straight => write!(self.text, "L{x} {y}"),
                EdgeShape::Cubic { first, second } => {
                    let [first, second] = [first, second].map(|at| self.placed(sheet, at));
                    let [x1, y1, x2, y2] = [first.x, first.y, second.x, second.y].map(number);
                    write!(self.text, "C{x1} {y1} {x2} {y2} {x} {y}")
                }
                EdgeShape::Arc { through } => match arc(through) {
                    None => write!(self.text, "L{x} {y}"),
                    Some(arc) => {
                        let half = std::f64::consts::PI;
                        let is_half = (arc.sweep.abs() - half).abs() < HALF_TURN_MARGIN;
                        // A radius that is a little small is made to fit by every reader.
                        let radius = if is_half {
                            (to.x - from.x).hypot(to.y - from.y) / 2.0 * (1.0 - 1e-14)
                        } else {
                            arc.radius
                        };
                        let (large, sweep) = (u8::from(!is_half && arc.sweep.abs() > half), u8::from(arc.sweep > 0.0));
                        write!(self.text, "A{radius} {radius} 0 {large} {sweep} {x} {y}")
                    }
                },
            };
            from = to;
        }
        if stroke.closed {
            self.text.push('Z');
        }
    }

    fn look(&mut self, style: &Style) {
        let colour = |colour: Option<Colour>| match colour {
            Some(Colour([red, green, blue])) => format!("#{red:02x}{green:02x}{blue:02x}"),
            None => "none".to_owned(),
        };
        let _ = write!(self.text, " fill=\"{}\"", colour(style.fill));
        if style.line.is_some() {
            // Without a width it would not be seen.
            let width = if style.width > 0.0 { style.width } else { THIN_MM };
            let _ = write!(self.text, " stroke=\"{}\" stroke-width=\"{}\"", colour(style.line), number(width));
        }
        if !style.dash.is_empty() {
            let dash: Vec<String> = style.dash.iter().map(|&length| number(length)).collect();
            let _ = write!(self.text, " stroke-dasharray=\"{}\"", dash.join(" "));
        }
    }

    fn words(&mut self, text: &Text, sheet: usize, depth: usize) {
        let at = self.placed(sheet, text.at);
        let (x, y) = (number(at.x), number(at.y));
        self.indent(depth);
        self.text.push_str("<text");
        if let Some(id) = &text.origin.id {
            let id = self.unique(id);
            let _ = write!(self.text, " id=\"{id}\"");
        }
        let _ =
            write!(self.text, " x=\"{x}\" y=\"{y}\" font-family=\"sans-serif\" font-size=\"{}\"", number(text.height));
        if text.turned != 0.0 {
            let _ = write!(self.text, " transform=\"rotate({} {x} {y})\"", number(-text.turned));
        }
        if (text.length - guess(&text.content, text.height)).abs() > 1e-6 && text.length > 0.0 {
            let _ = write!(self.text, " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", number(text.length));
        }
        let _ = writeln!(self.text, ">{}</text>", escaped(&text.content));
    }
}

/// Text as it may stand in an attribute or an element.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            // Not allowed in XML at all, or not kept in attributes.
            '\u{0}'..='\u{1F}' | '\u{FFFE}' | '\u{FFFF}' => escaped.push(' '),
            letter => escaped.push(letter),
        }
    }
    escaped
}
