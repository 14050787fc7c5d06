//! A drafted pattern and the text of its file.

use std::fmt::Write as _;

use kurbo::{PathSeg, Point};

use crate::{Body, CutFrom, Grain, Hands, Piece, Seam, SeamSide};

/// A drafted pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its name.
    pub name: &'static str,
    /// The cloth each role asks for.
    pub roles: Vec<(&'static str, &'static str)>,
    /// Its views: name, title, names of the pieces.
    pub views: Vec<(&'static str, &'static str, Vec<&'static str>)>,
    /// Its pieces.
    pub pieces: Vec<Piece>,
    /// What is sewn to what, of the pieces that are seen.
    pub seams: Vec<Seam>,
}

/// A piece whose seam line crosses itself: the body is outside what the draft can serve.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{piece}: the drafted seam line is not a sound outline for this body: {fault}")]
pub struct DraftFault {
    /// The piece.
    pub piece: String,
    /// What is wrong with it.
    pub fault: ellwand_geometry::OutlineFault,
}

impl Pattern {
    /// The piece called `name`.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.name == name)
    }

    /// Roughly the area of all that `view` cuts from `role`, mm², and the number of cuts.
    pub fn cut_area(&self, view: &str, role: &str) -> (f64, u32) {
        let names = self.views.iter().find(|v| v.0 == view).map_or(&[][..], |v| &v.2);
        let mut total = (0.0, 0);
        for piece in names.iter().filter_map(|name| self.piece(name)) {
            for cut in piece.cuts.iter().filter(|c| c.role == role) {
                total.0 += piece.cut_area() * f64::from(cut.count);
                total.1 += cut.count;
            }
        }
        total
    }

    /// Checks that every seam line is a simple outline.
    ///
    /// # Errors
    ///
    /// Every fault of every piece.
    pub fn check(&self) -> Result<(), Vec<DraftFault>> {
        let mut faults = Vec::new();
        for piece in &self.pieces {
            let points = piece.chords().iter().map(|p| ellwand_geometry::point(p.x, p.y)).collect();
            if let Err(found) = ellwand_geometry::Outline::new(points) {
                faults.extend(found.into_iter().map(|fault| DraftFault { piece: piece.name.clone(), fault }));
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }

    /// The text of the pattern file, drafted for `body`. Coordinates are rounded to a tenth of a millimetre.
    pub fn to_toml(&self, body: &Body) -> String {
        let mut text = String::new();
        let out = &mut text;
        line(out, "format = \"ellwand-pattern-1\"");
        line(out, &format!("name = {}", quoted(self.name)));
        line(out, "coordinates = \"mm\"");
        line(out, &format!("sizes = [{}]", quoted(&body.size)));
        line(out, "\n[body]");
        for (key, mm) in body.measures() {
            line(out, &format!("{key} = \"{} cm\"", tenths(mm / 10.0)));
        }
        line(out, "\n[roles]");
        for (role, what) in &self.roles {
            line(out, &format!("{role} = {}", quoted(what)));
        }
        for (name, title, pieces) in &self.views {
            line(out, "\n[[view]]");
            line(out, &format!("name = {}\ntitle = {}", quoted(name), quoted(title)));
            line(out, "pieces = [");
            for piece in pieces {
                line(out, &format!("  {},", quoted(piece)));
            }
            line(out, "]");
        }
        for piece in &self.pieces {
            write_piece(out, piece);
        }
        for seam in &self.seams {
            line(out, "\n[[seam]]");
            line(out, &format!("name = {}\nkind = {}", quoted(seam.name), quoted(seam.kind)));
            for (key, side) in ["a", "b"].into_iter().zip(seam.sides()) {
                line(out, &format!("{key} = {}", self.side_text(side)));
            }
        }
        text
    }

    /// One side of a seam; the seam of a piece stands for all its edges.
    fn side_text(&self, side: &SeamSide) -> String {
        let edges: Vec<String> = (self.piece(&side.piece).into_iter())
            .flat_map(|piece| piece.edges.iter().zip(piece.edge_names()))
            .filter(|(edge, _)| side.seams.contains(&edge.seam.as_str()))
            .map(|(_, name)| name)
            .collect();
        let mut text = format!("{{ piece = {}", quoted(&side.piece));
        if !edges.is_empty() {
            let _ = write!(text, ", edges = {}", list(&edges));
        }
        let _ = write!(text, ", meets = {}", list(&side.meets));
        if !side.centre.is_empty() {
            let _ = write!(text, ", centre = {}", list(&side.centre));
        }
        text.push_str(" }");
        text
    }
}

fn write_piece(out: &mut String, piece: &Piece) {
    line(out, "\n[[piece]]");
    line(out, &format!("name = {}", quoted(&piece.name)));
    line(out, "cut = [");
    for cut in &piece.cuts {
        line(out, &format!("  {},", cut_text(cut, piece.on_fold())));
    }
    line(out, "]");
    let grain = match piece.grain {
        Grain::Straight => "straight",
        Grain::CrossAllowed => "cross allowed",
        Grain::Bias => "bias",
    };
    line(out, &format!("grain = \"{grain}\""));
    line(out, &format!("grainline = [{}, {}]", pair(piece.grainline[0]), pair(piece.grainline[1])));
    line(out, &format!("seam_allowance = \"{} mm\"", tenths(piece.seam_allowance)));
    line(
        out,
        &format!("start = {}", pair(piece.edges.first().map_or(Point::ORIGIN, |e| kurbo::ParamCurve::start(&e.path)))),
    );
    line(out, "edges = [");
    for (edge, name) in piece.edges.iter().zip(piece.edge_names()) {
        let mut fields = format!("name = {}, to = {}", quoted(&name), pair(kurbo::ParamCurve::end(&edge.path)));
        if let PathSeg::Cubic(c) = edge.path {
            let _ = write!(fields, ", curve = [{}, {}]", pair(c.p1), pair(c.p2));
        }
        if edge.fold {
            fields.push_str(", fold = true");
        } else if let Some(mm) = edge.allowance {
            let _ = write!(fields, ", allowance = \"{} mm\"", tenths(mm));
        }
        line(out, &format!("  {{ {fields} }},"));
    }
    line(out, "]");
    if !piece.notches.is_empty() {
        line(out, "notches = [");
        for (name, at) in &piece.notches {
            line(out, &format!("  {{ name = {}, at = {} }},", quoted(name), pair(*at)));
        }
        line(out, "]");
    }
    if !piece.points.is_empty() {
        line(out, "[piece.points]");
        for (name, at) in &piece.points {
            line(out, &format!("{} = {}", quoted(name), pair(*at)));
        }
    }
}

/// One entry of `cut`; hands are written only where they differ from what the count implies.
fn cut_text(cut: &CutFrom, on_fold: bool) -> String {
    let mut text = format!("{{ from = \"{}\", count = {}", cut.role, cut.count);
    let implied = if on_fold {
        text.push_str(", on_fold = true");
        Hands::Any
    } else if cut.count.is_multiple_of(2) {
        Hands::Pair
    } else {
        Hands::Same
    };
    if cut.hands != implied {
        let hands = match cut.hands {
            Hands::Pair => "pair",
            Hands::Same => "same",
            Hands::Any => "any",
        };
        let _ = write!(text, ", hands = \"{hands}\"");
    }
    text.push_str(" }");
    text
}

fn line(out: &mut String, text: &str) {
    out.push_str(text);
    out.push('\n');
}

/// A basic TOML string; the drafts' own words hold no control characters.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

fn list(words: &[impl AsRef<str>]) -> String {
    let words: Vec<String> = words.iter().map(|word| quoted(word.as_ref())).collect();
    format!("[{}]", words.join(", "))
}

fn pair(p: Point) -> String {
    format!("[{}, {}]", tenths(p.x), tenths(p.y))
}

/// At most one decimal, without a needless ".0" and never "-0".
fn tenths(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0 + 0.0;
    format!("{rounded}")
}
