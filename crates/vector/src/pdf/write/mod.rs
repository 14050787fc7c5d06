//! Writing a PDF: objects and pages. What a page draws is in `content`, the fonts in `font`.
//!
//! Written by hand: a PDF of lines is a dozen kinds of objects, and coordinates stay as exact as they are (`f64`; writing libraries take
//! `f32`, which misses a millimetre's thousandth past a length of 10 m).

mod content;
mod font;
#[cfg(test)]
mod tests;

use ellwand_geometry::point;
use miniz_oxide::deflate::compress_to_vec_zlib;

use self::content::content;
use self::font::Fonts;
use super::{MM_PER_POINT, run_points};
use crate::{Drawing, Sheet};

/// A page is at most so many units long (ISO 32000-1, annex C.2); a longer one has a larger unit.
const LONGEST_PAGE: f64 = 14_400.0;

/// Around what is drawn on a sheet without a size, mm.
const MARGIN_MM: f64 = 10.0;

/// How hard content is packed, 0 to 10.
const PACKING: u8 = 6;

/// The objects of a file, numbered from 1.
#[derive(Debug, Default)]
struct Objects(Vec<Vec<u8>>);

impl Objects {
    /// Takes a number that is filled later.
    fn reserve(&mut self) -> usize {
        self.0.push(Vec::new());
        self.0.len()
    }

    fn fill(&mut self, number: usize, object: impl Into<Vec<u8>>) {
        self.0[number - 1] = object.into();
    }

    fn add(&mut self, object: impl Into<Vec<u8>>) -> usize {
        self.0.push(object.into());
        self.0.len()
    }

    fn add_stream(&mut self, data: &[u8]) -> usize {
        let packed = compress_to_vec_zlib(data, PACKING);
        let head = format!("<< /Length {} /Filter /FlateDecode >>\nstream\n", packed.len());
        self.add([head.as_bytes(), &packed, b"\nendstream"].concat())
    }

    /// The whole file; the first object is the catalog.
    fn into_file(self) -> Vec<u8> {
        // The second line tells that the file is not text (7.5.2).
        let mut file = b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n".to_vec();
        let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", self.0.len() + 1);
        for (index, object) in self.0.iter().enumerate() {
            table += &format!("{:010} 00000 n \n", file.len());
            file.extend(format!("{} 0 obj\n", index + 1).as_bytes());
            file.extend(object);
            file.extend(b"\nendobj\n");
        }
        let start = file.len();
        file.extend(table.as_bytes());
        let size = self.0.len() + 1;
        file.extend(format!("trailer\n<< /Size {size} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n").as_bytes());
        file
    }
}

/// Writes a drawing as a PDF: one page for each sheet, one optional content group for each layer. The same drawing gives the same bytes.
///
/// Curves stay cubics; an arc becomes cubics that leave it by less than a millionth of its radius. A dot is a cross of 2 mm. A text is
/// stretched to its length, in Helvetica; letters outside of Western European ones are named, and show as far as a reader has them. Groups
/// are left out. A sheet without a size is as large as what is drawn on it with a margin of 10 mm. What has no line and no area, or a
/// coordinate that is not finite, is left out.
///
/// ```
/// use ellwand_geometry::{EdgeShape, point};
/// use ellwand_vector::{Colour, Drawing, Limits, Origin, Run, Sheet, Stroke, Style, pdf};
///
/// let stroke = Stroke {
///     start: point(10.0, 10.0),
///     runs: vec![Run { shape: EdgeShape::Straight, to: point(110.0, 10.0) }],
///     closed: false,
///     style: Style { line: Some(Colour([0; 3])), width: 0.5, ..Style::default() },
///     origin: Origin::default(),
/// };
/// let sheet = Sheet { size: Some([210.0, 297.0]), strokes: vec![stroke], ..Sheet::default() };
/// let bytes = pdf::write(&Drawing { sheets: vec![sheet], ..Drawing::default() });
///
/// let read = pdf::read(&bytes, &Limits::default()).unwrap();
/// let end = read.sheets[0].strokes[0].end();
/// assert!((end.x - 110.0).abs() < 1e-3 && (end.y - 10.0).abs() < 1e-3);
/// ```
pub fn write(drawing: &Drawing) -> Vec<u8> {
    let mut objects = Objects::default();
    let (catalog, pages) = (objects.reserve(), objects.reserve());
    let layers: Vec<usize> = (drawing.layers.iter())
        .map(|layer| objects.add(format!("<< /Type /OCG /Name {} >>", text_string(&layer.name))))
        .collect();
    let fonts = Fonts::of(drawing);
    let resources = format!(
        "<< /Font << {} >> /Properties << {} >> >>",
        fonts.add_to(&mut objects),
        layers.iter().enumerate().map(|(index, id)| format!("/L{index} {id} 0 R")).collect::<Vec<_>>().join(" ")
    );
    let resources = objects.add(resources);
    let mut kids = Vec::new();
    for sheet in &drawing.sheets {
        let frame = Frame::of(sheet);
        let drawn = objects.add_stream(content(sheet, frame.scale, &fonts).as_bytes());
        kids.push(objects.add(format!(
            "<< /Type /Page /Parent {pages} 0 R /MediaBox {} {}/Resources {resources} 0 R /Contents {drawn} 0 R >>",
            frame.media_box,
            if frame.unit > 1.0 { format!("/UserUnit {} ", frame.unit) } else { String::new() }
        )));
    }
    let list = |ids: &mut dyn Iterator<Item = usize>| ids.map(|id| format!("{id} 0 R")).collect::<Vec<_>>().join(" ");
    objects
        .fill(pages, format!("<< /Type /Pages /Kids [{}] /Count {} >>", list(&mut kids.iter().copied()), kids.len()));
    let hidden = layers.iter().zip(&drawing.layers).filter(|(_, layer)| !layer.is_shown).map(|(id, _)| *id);
    let optional = if layers.is_empty() {
        String::new()
    } else {
        let (all, hidden) = (list(&mut layers.iter().copied()), list(&mut hidden.into_iter()));
        format!(" /OCProperties << /OCGs [{all}] /D << /Order [{all}] /OFF [{hidden}] >> >>")
    };
    objects.fill(catalog, format!("<< /Type /Catalog /Pages {pages} 0 R{optional} >>"));
    objects.into_file()
}

/// How a sheet lies on its page.
struct Frame {
    /// Points in a unit of the page.
    unit: f64,
    /// Units of the page in a mm.
    scale: f64,
    media_box: String,
}

impl Frame {
    fn of(sheet: &Sheet) -> Self {
        let sound = |size: &[f64; 2]| size.iter().all(|side| side.is_finite() && *side > 0.0);
        let [x0, y0, x1, y1] = match sheet.size.filter(sound) {
            Some([w, h]) => [0.0, 0.0, w, h],
            None => around(sheet),
        };
        let points = (x1 - x0).max(y1 - y0) / MM_PER_POINT;
        let unit = (points / LONGEST_PAGE).ceil().max(1.0);
        let scale = 1.0 / (MM_PER_POINT * unit);
        let sides = [x0, y0, x1, y1].map(|side| number(side * scale, 6));
        Self { unit, scale, media_box: format!("[{}]", sides.join(" ")) }
    }
}

/// The rectangle around all that is drawn on a sheet, with a margin.
fn around(sheet: &Sheet) -> [f64; 4] {
    let strokes = sheet
        .strokes
        .iter()
        .flat_map(|stroke| std::iter::once(stroke.start).chain(stroke.runs.iter().flat_map(run_points)));
    let texts = sheet.texts.iter().flat_map(|text| {
        let (sin, cos) = text.turned.to_radians().sin_cos();
        [text.at, text.at + point(cos, sin) * text.length, text.at + point(-sin, cos) * text.height]
    });
    let dots = sheet.dots.iter().map(|dot| dot.at);
    let all = strokes.chain(texts).chain(dots).filter(|p| p.x.is_finite() && p.y.is_finite());
    let none = [f64::INFINITY, f64::INFINITY, -f64::INFINITY, -f64::INFINITY];
    let [x0, y0, x1, y1] = all.fold(none, |b, p| [b[0].min(p.x), b[1].min(p.y), b[2].max(p.x), b[3].max(p.y)]);
    if x0 > x1 { [0.0, 0.0, 210.0, 297.0] } else { [x0 - MARGIN_MM, y0 - MARGIN_MM, x1 + MARGIN_MM, y1 + MARGIN_MM] }
}

/// A number with so many digits after the point at most; PDF knows no exponents.
fn number(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A text string (7.9.2.2): as it is when it is plain ASCII, in UTF-16 otherwise.
fn text_string(text: &str) -> String {
    if text.bytes().all(|byte| (0x20..0x7F).contains(&byte)) {
        let escaped = text.replace('\\', "\\\\").replace('(', "\\(").replace(')', "\\)");
        format!("({escaped})")
    } else {
        let units: String = text.encode_utf16().map(|unit| format!("{unit:04X}")).collect();
        format!("<FEFF{units}>")
    }
}
