//! A sheet with lines and words, written as SVG and, cut into pages, as PDF: as plainly as both can be written.

use std::fmt::Write;

use crate::record::Place;

/// What a line is drawn on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// A layer with a name.
    Layer(&'static str),
    /// No layer.
    Plain,
}

/// Lines and words; `y` runs up, mm.
#[derive(Debug, Clone, Default)]
pub(super) struct Plane {
    lines: Vec<(Look, Vec<Place>, bool)>,
    texts: Vec<(String, Place)>,
}

/// Empty cloth around everything, mm.
const MARGIN: f64 = 40.0;

/// Height of letters, mm.
const LETTERS: f64 = 5.0;

/// PDF units a millimetre.
const POINTS: f64 = 72.0 / 25.4;

impl Plane {
    pub(super) fn line(&mut self, look: Look, line: &[Place], closed: bool) {
        self.lines.push((look, line.to_vec(), closed));
    }

    pub(super) fn text(&mut self, words: &str, at: Place) {
        self.texts.push((words.to_owned(), at));
    }

    /// Whether it has a layer of this name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.lines.iter().any(|(look, ..)| matches!(look, Look::Layer(layer) if *layer == name))
    }

    /// Its width and height, with its margin.
    fn size(&self) -> Place {
        let high = |k: usize| self.lines.iter().flat_map(|(_, line, _)| line).map(|at| at[k]).fold(100.0, f64::max);
        [high(0) + MARGIN, high(1) + MARGIN]
    }

    /// As an SVG, so many times too small.
    pub(super) fn svg(&self, too_small: f64) -> String {
        let [width, height] = self.size();
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" viewBox=\"0 0 {width} {height}\">\n",
            width / too_small,
            height / too_small
        );
        for (look, line, closed) in &self.lines {
            let shape = if *closed { "polygon" } else { "polyline" };
            let points: Vec<String> = line.iter().map(|[x, y]| format!("{x:.6},{:.6}", height - y)).collect();
            let drawn = format!(
                "<{shape} points=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.3\"/>",
                points.join(" ")
            );
            let _ = match look {
                Look::Layer(name) => writeln!(out, "<g id=\"{name}\">{drawn}</g>"),
                Look::Plain => writeln!(out, "{drawn}"),
            };
        }
        for (words, [x, y]) in &self.texts {
            let _ = writeln!(out, "<text x=\"{x}\" y=\"{}\" font-size=\"{LETTERS}\">{words}</text>", height - y);
        }
        out.push_str("</svg>\n");
        out
    }

    /// As a PDF of so many pages side by side and one above the other, which follow each other in an order.
    pub(super) fn pdf(&self, [columns, rows]: [i64; 2], overlap: f64, (order, from): (&str, &str)) -> Vec<u8> {
        let [width, height] = self.size();
        let of = |whole: f64, count: i64| (whole + overlap * (count - 1) as f64) / count as f64;
        let page = [of(width, columns), of(height, rows)];
        let mut places: Vec<[i64; 2]> = match order {
            "rows" => (0..rows).flat_map(|row| (0..columns).map(move |column| [column, row])).collect(),
            _ => (0..columns).flat_map(|column| (0..rows).map(move |row| [column, row])).collect(),
        };
        if from == "top" {
            places.iter_mut().for_each(|place| place[1] = rows - 1 - place[1]);
        }
        let mut objects: Vec<String> = Vec::new();
        let kids: Vec<String> = (0..places.len()).map(|k| format!("{} 0 R", 4 + 2 * k)).collect();
        let layers = self.layers();
        let groups = |k: usize| 4 + 2 * places.len() + k;
        let listed: Vec<String> = (0..layers.len()).map(|k| format!("{} 0 R", groups(k))).collect();
        objects.push(format!(
            "<< /Type /Catalog /Pages 2 0 R /OCProperties << /OCGs [{0}] /D << /Order [{0}] >> >> >>",
            listed.join(" ")
        ));
        objects.push(format!("<< /Type /Pages /Kids [{}] /Count {} >>", kids.join(" "), kids.len()));
        objects.push("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>".to_owned());
        let named: Vec<String> = (0..layers.len()).map(|k| format!("/L{k} {} 0 R", groups(k))).collect();
        for (k, place) in places.iter().enumerate() {
            let at = [0, 1].map(|axis| place[axis] as f64 * (page[axis] - overlap));
            objects.push(format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {:.4} {:.4}] /Contents {} 0 R /Resources << /Font << /F 3 0 R >> /Properties << {} >> >> >>",
                page[0] * POINTS,
                page[1] * POINTS,
                5 + 2 * k,
                named.join(" ")
            ));
            let [wide, high] = page.map(|side| side * POINTS);
            let content = format!("0 0 {wide:.4} {high:.4} re W n\n{}", self.content(at, &layers));
            objects.push(format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()));
        }
        objects.extend(layers.iter().map(|name| format!("<< /Type /OCG /Name ({name}) >>")));
        file(&objects)
    }

    fn layers(&self) -> Vec<&'static str> {
        let mut layers = Vec::new();
        for (look, ..) in &self.lines {
            match look {
                Look::Layer(name) if !layers.contains(name) => layers.push(*name),
                _ => {}
            }
        }
        layers
    }

    /// Everything, seen from the lower left corner of a page.
    fn content(&self, at: Place, layers: &[&str]) -> String {
        let to = |[x, y]: Place| format!("{:.5} {:.5}", (x - at[0]) * POINTS, (y - at[1]) * POINTS);
        let mut out = String::from("0.8 w\n");
        for (look, line, closed) in &self.lines {
            let layer = match look {
                Look::Layer(name) => layers.iter().position(|of| of == name),
                Look::Plain => None,
            };
            if let Some(layer) = layer {
                let _ = writeln!(out, "/OC /L{layer} BDC");
            }
            for (k, place) in line.iter().enumerate() {
                let _ = writeln!(out, "{} {}", to(*place), if k == 0 { "m" } else { "l" });
            }
            out.push_str(if *closed { "s\n" } else { "S\n" });
            if layer.is_some() {
                out.push_str("EMC\n");
            }
        }
        for (words, place) in &self.texts {
            let _ = writeln!(out, "BT /F {:.3} Tf {} Td ({words}) Tj ET", LETTERS * POINTS, to(*place));
        }
        out
    }
}

/// The objects, numbered from 1, as a file.
fn file(objects: &[String]) -> Vec<u8> {
    let mut out = String::from("%PDF-1.5\n");
    let mut at = Vec::new();
    for (k, object) in objects.iter().enumerate() {
        at.push(out.len());
        let _ = writeln!(out, "{} 0 obj\n{object}\nendobj", k + 1);
    }
    let start = out.len();
    let _ = writeln!(out, "xref\n0 {}\n0000000000 65535 f ", objects.len() + 1);
    for at in at {
        let _ = writeln!(out, "{at:010} 00000 n ");
    }
    let _ = writeln!(out, "trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF", objects.len() + 1);
    out.into_bytes()
}
