//! The text of a pattern file, in one size or in all. Coordinates are rounded to a tenth of a millimetre.

use std::fmt::Write as _;

use kurbo::{ParamCurve, ParamCurveNearest, PathSeg, Point};

use crate::{
    Body, Choice, CutFrom, DeclaredLength, Girth, GradedPattern, Grain, Hands, Like, Pattern, Piece, Seam, SeamSide,
};

impl Pattern {
    /// The text of the pattern file in one size, drafted for `body`.
    pub fn to_toml(&self, body: &Body) -> String {
        let mut text = String::new();
        let out = &mut text;
        self.write_title(out);
        line(out, &format!("sizes = [{}]", quoted(&body.size)));
        line(out, "\n[body]");
        for (measure, length) in measures(body) {
            line(out, &format!("{measure} = {length}"));
        }
        self.write_versions(out);
        for piece in &self.pieces {
            write_piece(out, piece);
            out.push_str(&drawing(piece));
        }
        self.write_sewing(out);
        text
    }

    fn write_title(&self, out: &mut String) {
        line(out, "format = \"ellwand-pattern-1\"");
        line(out, &format!("name = {}", quoted(self.name)));
        line(out, &format!("kind = {}", quoted(self.kind)));
        line(out, &format!("choose_by = {}", quoted(self.choose_by)));
        line(out, "coordinates = \"mm\"");
    }

    fn write_versions(&self, out: &mut String) {
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
        self.choices.iter().for_each(|choice| write_choice(out, choice));
    }

    fn write_sewing(&self, out: &mut String) {
        self.seams.iter().for_each(|seam| self.write_seam(out, seam));
        self.girths.iter().for_each(|girth| write_girth(out, girth));
        self.lengths.iter().for_each(|length| self.write_length(out, length));
    }

    fn write_seam(&self, out: &mut String, seam: &Seam) {
        line(out, "\n[[seam]]");
        line(out, &format!("name = {}\nkind = {}", quoted(&seam.name), quoted(seam.kind)));
        for (key, side) in ["a", "b"].into_iter().zip(seam.sides()) {
            line(out, &format!("{key} = {}", self.side_text(side)));
        }
    }

    fn side_text(&self, side: &SeamSide) -> String {
        let mut text = format!("{{ piece = {}", quoted(&side.piece));
        let edges = self.piece(&side.piece).map_or_else(Vec::new, |piece| edges_along(piece, side));
        if !edges.is_empty() {
            let _ = write!(text, ", edges = {}", list(&edges));
        }
        let _ = write!(text, ", meets = {}", list(&side.meets));
        for (how, by) in &side.taken_up {
            let _ = write!(text, ", {how} = \"{} mm\"", tenths(*by));
        }
        if !side.centre.is_empty() {
            let _ = write!(text, ", centre = {}", list(&side.centre));
        }
        if !side.roll.is_empty() {
            let _ = write!(text, ", roll = {}", list(&side.roll));
        }
        text.push_str(" }");
        text
    }

    fn write_length(&self, out: &mut String, length: &DeclaredLength) {
        line(out, "\n[[length]]");
        line(out, &format!("name = {}", quoted(length.name)));
        line(out, "along = [");
        for &(piece, seam, times) in &length.along {
            for (edge, name) in self.piece(piece).into_iter().flat_map(|p| p.edges.iter().zip(p.edge_names())) {
                if edge.seam == seam {
                    let (piece, edge) = (quoted(piece), quoted(&name));
                    line(out, &format!("  {{ piece = {piece}, edge = {edge}, times = {times} }},"));
                }
            }
        }
        line(out, "]");
    }
}

impl GradedPattern {
    /// The text of the pattern file with every size. A piece that is alike in all is drawn once, and one that is like another says so.
    pub fn to_toml(&self) -> String {
        self.written(|piece| piece.like.as_ref())
    }

    /// The same with every piece drawn out.
    pub fn drawn_out(&self) -> String {
        self.written(|_| None)
    }

    fn written(&self, like: impl Fn(&Piece) -> Option<&Like>) -> String {
        let Some((_, first)) = self.sizes.first() else { return String::new() };
        let mut text = String::new();
        let out = &mut text;
        first.write_title(out);
        for (size, _) in &self.sizes {
            line(out, "\n[[size]]");
            line(out, &format!("name = {}", quoted(&size.body.size)));
            line(out, &format!("figure = {}", quoted(size.figure.name())));
            let measures: Vec<String> =
                measures(&size.body).map(|(measure, length)| format!("{measure} = {length}")).collect();
            line(out, &format!("body = {{ {} }}", measures.join(", ")));
        }
        first.write_versions(out);
        for (index, piece) in first.pieces.iter().enumerate() {
            if let Some(like) = like(piece) {
                write_like(out, piece, like);
                continue;
            }
            write_piece(out, piece);
            let drawings: Vec<String> = self.sizes.iter().map(|(_, draft)| drawing(&draft.pieces[index])).collect();
            if drawings.iter().all(|other| *other == drawings[0]) {
                out.push_str(&drawings[0]);
                continue;
            }
            for ((size, _), drawing) in self.sizes.iter().zip(&drawings) {
                line(out, "[[piece.drawn]]");
                line(out, &format!("size = {}", quoted(&size.body.size)));
                line(out, &format!("figure = {}", quoted(size.figure.name())));
                out.push_str(drawing);
            }
        }
        first.write_sewing(out);
        text
    }
}

/// The measures of a body as keys and values.
fn measures(body: &Body) -> impl Iterator<Item = (String, String)> {
    body.measures().into_iter().map(|(name, mm)| (key(name), format!("\"{} cm\"", tenths(mm / 10.0))))
}

/// A piece that is like another.
fn write_like(out: &mut String, piece: &Piece, like: &Like) {
    line(out, "\n[[piece]]");
    line(out, &format!("name = {}\nlike = {}", quoted(&piece.name), quoted(like.other)));
    write_cuts(out, piece);
    like.but.iter().for_each(|but| line(out, but));
}

fn write_cuts(out: &mut String, piece: &Piece) {
    line(out, "cut = [");
    for cut in &piece.cuts {
        line(out, &format!("  {},", cut_text(cut, piece.on_fold())));
    }
    line(out, "]");
}

/// What all sizes of a piece share.
fn write_piece(out: &mut String, piece: &Piece) {
    line(out, "\n[[piece]]");
    line(out, &format!("name = {}", quoted(&piece.name)));
    write_cuts(out, piece);
    let grain = match piece.grain {
        Grain::Straight => "straight",
        Grain::CrossAllowed => "cross allowed",
        Grain::Bias => "bias",
    };
    line(out, &format!("grain = \"{grain}\""));
    line(out, &format!("seam_allowance = \"{} mm\"", tenths(piece.seam_allowance)));
    if let Some(level) = piece.sized_by {
        line(out, &format!("sized_by = {}", quoted(level)));
    }
}

/// What is drawn size by size.
fn drawing(piece: &Piece) -> String {
    let mut text = String::new();
    let out = &mut text;
    line(out, &format!("grainline = [{}, {}]", pair(piece.grainline[0]), pair(piece.grainline[1])));
    line(out, &format!("start = {}", pair(piece.edges.first().map_or(Point::ORIGIN, |e| e.path.start()))));
    line(out, "edges = [");
    for (edge, name) in piece.edges.iter().zip(piece.edge_names()) {
        let mut fields = format!("name = {}, to = {}", quoted(&name), pair(edge.path.end()));
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
    if !piece.darts.is_empty() {
        line(out, "darts = [");
        for dart in &piece.darts {
            let [one, other] = dart.legs.map(pair);
            let tips: Vec<String> = dart.tips.iter().copied().map(pair).collect();
            let point = match &tips[..] {
                [tip] => format!("point = {tip}"),
                tips => format!("points = [{}]", tips.join(", ")),
            };
            let (name, pressed) = (quoted(dart.name), quoted(dart.pressed));
            line(out, &format!("  {{ name = {name}, legs = [{one}, {other}], {point}, pressed = {pressed} }},"));
        }
        line(out, "]");
    }
    let mut named = |what: &str, entries: Vec<String>| {
        if !entries.is_empty() {
            line(out, &format!("{what} = {{ {} }}", entries.join(", ")));
        }
    };
    named("points", piece.points.iter().map(|(name, at)| format!("{} = {}", key(name), pair(*at))).collect());
    named("levels", heights(&piece.levels));
    named("lines", heights(&piece.lines));
    text
}

fn heights(of: &[(&str, f64)]) -> Vec<String> {
    of.iter().map(|(name, y)| format!("{} = {}", key(name), tenths(*y))).collect()
}

/// The edges that are sewn, in the order in which the marks of the side follow one another; the seam of a piece stands for all its edges.
fn edges_along(piece: &Piece, side: &SeamSide) -> Vec<String> {
    let sewn =
        || piece.edges.iter().zip(piece.edge_names()).filter(|(edge, _)| side.seams.contains(&edge.seam.as_str()));
    let mut names: Vec<String> = sewn().map(|(_, name)| name).collect();
    // How far along a mark lies, counted in edges.
    let place = |mark: &str| {
        let at = piece.mark(mark)?;
        let nearest = sewn().enumerate().map(|(index, (edge, _))| (index, edge.path.nearest(at, 1e-3)));
        nearest.min_by(|a, b| a.1.distance_sq.total_cmp(&b.1.distance_sq)).map(|(index, found)| index as f64 + found.t)
    };
    let places: Vec<f64> = side.meets.iter().filter_map(|mark| place(mark)).collect();
    if let [first, .., last] = places[..]
        && last < first
    {
        names.reverse();
    }
    names
}

fn write_choice(out: &mut String, choice: &Choice) {
    let Some((usual, _)) = choice.groups.first() else { return };
    line(out, "\n[[option]]");
    line(out, &format!("name = {}\ndefault = {}", quoted(choice.name), quoted(usual)));
    let groups: Vec<String> =
        choice.groups.iter().map(|(name, pieces)| format!("{} = {}", key(name), list(pieces))).collect();
    line(out, &format!("choices = {{ {} }}", groups.join(", ")));
}

fn write_girth(out: &mut String, girth: &Girth) {
    line(out, "\n[[girth]]");
    line(out, &format!("name = {0}\nlevel = {0}", quoted(girth.level)));
    line(out, "parts = [");
    for part in &girth.parts {
        let mut fields = format!("piece = {}, times = {}", quoted(part.piece), part.times);
        if let Some(point) = part.from {
            let _ = write!(fields, ", from = {}", quoted(point));
        }
        line(out, &format!("  {{ {fields} }},"));
    }
    line(out, "]");
    if girth.less != 0.0 {
        line(out, &format!("less = \"{} mm\"", tenths(girth.less)));
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

/// A key, quoted where it has to be.
fn key(name: &str) -> String {
    let bare = name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
    if bare { name.to_owned() } else { quoted(name) }
}
