//! The sheet of what was understood of a drawing: each piece outlined and numbered, with its sides and notches numbered too, its marks, its
//! sizes in colours and dashes, and in grey what was left out.

use ellwand_geometry::{Bounds, Point, point};
use ellwand_trace::{FoundPiece, LineKind, Traced, Understood};
use svg::node::Text as Words;
use svg::node::element::{Circle, Group, Line, Path, Rectangle, Text, Title, path::Data};
use svg::{Document, Node};

/// Colours of sizes, told apart by those who do not tell red from green; with the dashes they are told apart in grey too.
const COLOURS: [&str; 6] = ["#000000", "#0a58b5", "#b3401e", "#00776b", "#7a3e9d", "#7d6200"];

/// Dashes of sizes, in widths of the line.
const DASHES: [&[f64]; 4] = [&[], &[8.0, 3.0], &[2.0, 2.0], &[8.0, 2.0, 2.0, 2.0]];

/// What was left out.
const GREY: &str = "#a8a8a8";

/// The sheet as an SVG document. Its user units are mm of the drawing, from the lower left corner, as the rulers along its borders say.
pub fn understood_svg(understood: &Understood, title: &str) -> String {
    let bounds = bounds_of(understood);
    // A sheet of A2 at most: small pieces keep room for the numbers of their sides.
    let unit = (bounds.width() / 390.0).max(bounds.height() / 560.0).max(0.5);
    let margin = 12.0 * unit;
    let rows = 6.0 + (understood.sizes.len() + understood.pieces.len()) as f64;
    let legend = rows * 4.5 * unit + 8.0 * unit;
    let longest = understood.pieces.iter().map(|piece| letters_wide(&told(piece, understood))).fold(70.0, f64::max);
    let width = (bounds.width() + 2.0 * margin).max((longest * 2.6 + 24.0) * unit);
    let height = bounds.height() + 2.0 * margin + legend;
    let sheet = Sheet { unit, left: bounds.min.x - margin, top: bounds.max.y + margin, height };
    let mut document = Document::new()
        .set("width", format!("{:.1}mm", width / unit))
        .set("height", format!("{:.1}mm", height / unit))
        .set("viewBox", format!("0 0 {width:.1} {height:.1}"))
        .set("font-family", "Helvetica, Arial, sans-serif")
        .set("fill", "none")
        .set("stroke-linejoin", "round")
        .add(Title::new(title.to_owned()))
        .add(
            Rectangle::new()
                .set("width", format!("{width:.1}"))
                .set("height", format!("{height:.1}"))
                .set("fill", "#ffffff"),
        );
    sheet.rulers(&bounds, &mut document);
    sheet.pages(understood, &mut document);
    let mut grey = Group::new().set("stroke", GREY).set("stroke-width", number(0.25 * unit));
    for line in understood.ignored.iter().flat_map(|ignored| &ignored.lines).filter(|line| line.len() > 1) {
        grey.append(sheet.path(line, false));
    }
    if let Some(square) = &understood.square {
        let [wide, high] = square.drawn.map(|side| side * understood.scaled);
        let low = square.at * understood.scaled;
        let corners = [low, low + point(wide, 0.0), low + point(wide, high), low + point(0.0, high)];
        grey.append(sheet.path(&corners, true));
        let words = format!("{:.1} mm", square.meant);
        document.append(sheet.words(words, low + point(unit, unit), 2.4));
    }
    document.append(grey);
    for piece in &understood.pieces {
        sheet.piece(piece, &mut document);
    }
    sheet.legend(understood, title, legend, &mut document);
    let mut text = document.to_string();
    text.push('\n');
    text
}

fn bounds_of(understood: &Understood) -> Bounds {
    let pieces = understood.pieces.iter().flat_map(|piece| &piece.drawn).flat_map(|drawn| {
        let cutting = match &drawn.kind {
            LineKind::Both { cutting, .. } => cutting.clone(),
            _ => Vec::new(),
        };
        drawn.flat().into_iter().chain(cutting)
    });
    let ignored = understood.ignored.iter().flat_map(|ignored| &ignored.lines).flatten().copied();
    let pages = understood.sheets.iter().filter(|page| page.tile.is_some()).flat_map(|page| {
        let [width, height] = page.size.unwrap_or_default();
        [page.at, page.at + point(width, height)]
    });
    let all: Vec<Point> = pieces.chain(ignored).chain(pages).filter(|p| p.x.is_finite() && p.y.is_finite()).collect();
    if all.is_empty() { Bounds::of([point(0.0, 0.0), point(210.0, 100.0)]) } else { Bounds::of(all) }
}

struct Sheet {
    /// One paper millimetre, mm of the drawing.
    unit: f64,
    left: f64,
    top: f64,
    height: f64,
}

impl Sheet {
    fn at(&self, p: Point) -> (f64, f64) {
        (p.x - self.left, self.top - p.y)
    }

    fn path(&self, points: &[Point], closed: bool) -> Path {
        let mut data = Data::new();
        for (k, p) in points.iter().enumerate() {
            let at = self.at(*p);
            let at = (two_places(at.0), two_places(at.1));
            data = if k == 0 { data.move_to(at) } else { data.line_to(at) };
        }
        Path::new().set("d", if closed { data.close() } else { data })
    }

    fn words(&self, words: impl Into<String>, at: Point, size: f64) -> Text {
        let (x, y) = self.at(at);
        let words: String = words.into().chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
        Text::new("")
            .set("x", number(x))
            .set("y", number(y))
            .set("font-size", number(size * self.unit))
            .set("fill", "#000000")
            .add(Words::new(words))
    }

    fn line(&self, a: Point, b: Point) -> Line {
        let ((x1, y1), (x2, y2)) = (self.at(a), self.at(b));
        Line::new().set("x1", number(x1)).set("y1", number(y1)).set("x2", number(x2)).set("y2", number(y2))
    }

    fn piece(&self, piece: &FoundPiece, document: &mut Document) {
        let several = piece.drawn.len() > 1;
        for (k, drawn) in piece.drawn.iter().enumerate() {
            let size = piece.in_sizes.get(k).copied().filter(|_| several);
            let (colour, dash) = size.map_or(("#000000", String::new()), |size| self.look(size));
            let mut group = Group::new().set("stroke", colour).set("stroke-width", number(0.35 * self.unit));
            if !piece.is_sure {
                group = group.set("opacity", "0.55");
            }
            let mut outline = self.path(&drawn.flat(), true);
            if !dash.is_empty() {
                outline = outline.set("stroke-dasharray", dash.clone());
            }
            group.append(outline);
            if let LineKind::Both { cutting, .. } = &drawn.kind {
                group.append(self.path(cutting, true).set("stroke-width", number(0.18 * self.unit)));
            }
            self.marks(drawn, &mut group);
            document.append(group);
        }
        // Numbers once, on the largest size, which lies outermost.
        let last = piece.drawn.len() - 1;
        self.numbers(&piece.drawn[last], document);
        // The name where it has room, else the number alone: the list below tells the rest.
        let name = piece.names.first().map_or(String::new(), |name| format!(" {name}"));
        let full = format!("{}{name}", piece.number);
        let bounds = Bounds::of(piece.drawn[last].flat());
        let fits = letters_wide(&full) * 4.2 * self.unit < 0.9 * bounds.width();
        let words = self.words(if fits { full } else { piece.number.to_string() }, piece.inside, 4.2);
        document.append(
            words
                .set("font-weight", "bold")
                .set("text-anchor", "middle")
                .set("stroke", "#ffffff")
                .set("stroke-width", number(0.9 * self.unit))
                .set("paint-order", "stroke"),
        );
    }

    fn marks(&self, drawn: &Traced, group: &mut Group) {
        let unit = self.unit;
        if let Some([low, high]) = drawn.grainline {
            group.append(self.line(low, high).set("stroke-width", number(0.3 * unit)));
            for (tip, from) in [(high, low), (low, high)] {
                let length = (tip - from).x.hypot((tip - from).y).max(1e-9);
                let back = (from - tip) * (3.0 * unit / length);
                let across = point(-back.y, back.x) * 0.4;
                group.append(self.path(&[tip + back + across, tip, tip + back - across], false));
            }
        }
        if let Some(side) = drawn.fold.and_then(|side| drawn.sides.get(side)) {
            let line = self.line(side.start, side.end());
            group.append(line.set("stroke-width", number(1.1 * unit)).set("stroke-opacity", "0.45"));
        }
        for notch in &drawn.notches {
            let (x, y) = self.at(*notch);
            group.append(
                Circle::new()
                    .set("cx", number(x))
                    .set("cy", number(y))
                    .set("r", number(0.9 * unit))
                    .set("fill", "#ffffff"),
            );
        }
        for mark in &drawn.points {
            let arm = point(1.2 * unit, 0.0);
            let up = point(0.0, 1.2 * unit);
            group.append(self.line(*mark - arm, *mark + arm));
            group.append(self.line(*mark - up, *mark + up));
        }
        for dart in &drawn.darts {
            group.append(
                self.path(&[dart.legs[0], dart.tip, dart.legs[1]], false).set("stroke-width", number(0.25 * unit)),
            );
        }
        let dotted = format!("{} {}", number(1.2 * unit), number(unit));
        for line in drawn.lengthen.iter().chain(drawn.levels.iter().map(|(_, line)| line)) {
            group.append(self.line(line[0], line[1]).set("stroke-dasharray", dotted.clone()));
        }
    }

    /// Numbers of sides and notches, and names of levels.
    fn numbers(&self, drawn: &Traced, document: &mut Document) {
        for (k, side) in drawn.sides.iter().enumerate() {
            let fold = if drawn.fold == Some(k) { " fold" } else { "" };
            let at = side.middle();
            let (x, y) = self.at(at);
            document.append(
                Circle::new()
                    .set("cx", number(x))
                    .set("cy", number(y))
                    .set("r", number(1.9 * self.unit))
                    .set("fill", "#ffffff")
                    .set("stroke", "#000000")
                    .set("stroke-width", number(0.15 * self.unit)),
            );
            let at = at - point(0.0, 0.95 * self.unit);
            document.append(self.words(format!("{}{fold}", k + 1), at, 2.6).set("text-anchor", "middle"));
        }
        for (k, notch) in drawn.notches.iter().enumerate() {
            document.append(self.words(format!("n{}", k + 1), *notch + point(1.2 * self.unit, 0.4 * self.unit), 2.2));
        }
        for (name, line) in &drawn.levels {
            let left = if line[0].x < line[1].x { line[0] } else { line[1] };
            document.append(self.words(name.clone(), left + point(self.unit, 0.6 * self.unit), 2.2));
        }
    }

    fn look(&self, size: usize) -> (&'static str, String) {
        let dash = DASHES[size % DASHES.len()];
        let dash: Vec<String> = dash.iter().map(|length| number(length * 0.35 * self.unit)).collect();
        (COLOURS[size % COLOURS.len()], dash.join(" "))
    }

    /// Borders of the pages that a large drawing was joined from, and their numbers.
    fn pages(&self, understood: &Understood, document: &mut Document) {
        for (k, page) in understood.sheets.iter().enumerate().filter(|(_, page)| page.tile.is_some()) {
            let Some([width, height]) = page.size else { continue };
            let corners = [point(0.0, 0.0), point(width, 0.0), point(width, height), point(0.0, height)];
            let border = self.path(&corners.map(|corner| page.at + corner), true);
            document.append(border.set("stroke", GREY).set("stroke-width", number(0.1 * self.unit)));
            let at = page.at + point(2.0 * self.unit, height - 4.0 * self.unit);
            document.append(self.words(format!("page {}", k + 1), at, 2.4).set("fill", GREY));
        }
    }

    /// Millimetres of the drawing along its lower and left border.
    fn rulers(&self, bounds: &Bounds, document: &mut Document) {
        let step =
            [50.0, 100.0, 200.0, 500.0, 1000.0].into_iter().find(|step| step / self.unit >= 14.0).unwrap_or(2000.0);
        let (low, high) = (bounds.min, bounds.max);
        let mut group = Group::new().set("stroke", "#555555").set("stroke-width", number(0.15 * self.unit));
        let (y, x) = (low.y - 4.0 * self.unit, low.x - 4.0 * self.unit);
        group.append(self.line(point(low.x, y), point(high.x, y)));
        group.append(self.line(point(x, low.y), point(x, high.y)));
        document.append(group);
        let marks = |from: f64, to: f64| {
            let first = (from / step).ceil() as i64;
            let last = (to / step).floor() as i64;
            (first..=last).map(move |k| k as f64 * step)
        };
        for mark in marks(low.x, high.x) {
            let tick = self.line(point(mark, y), point(mark, y - 1.2 * self.unit));
            document.append(tick.set("stroke", "#555555").set("stroke-width", number(0.15 * self.unit)));
            let words = self.words(format!("{mark}"), point(mark, y - 4.0 * self.unit), 2.4);
            document.append(words.set("text-anchor", "middle"));
        }
        for mark in marks(low.y, high.y) {
            let tick = self.line(point(x, mark), point(x - 1.2 * self.unit, mark));
            document.append(tick.set("stroke", "#555555").set("stroke-width", number(0.15 * self.unit)));
            let words = self.words(format!("{mark}"), point(x - 1.8 * self.unit, mark - 0.8 * self.unit), 2.4);
            document.append(words.set("text-anchor", "end"));
        }
    }

    /// Title, sizes and a list of the pieces, below the drawing.
    fn legend(&self, understood: &Understood, title: &str, height: f64, document: &mut Document) {
        let unit = self.unit;
        let top = self.top - self.height + height;
        let at = |row: f64, x: f64| point(self.left + (12.0 + x) * unit, top - (row * 4.5 + 4.0) * unit);
        document.append(self.words(title.to_owned(), at(0.0, 0.0), 3.6).set("font-weight", "bold"));
        let notes = [
            "Sides and notches have the numbers that the pattern file uses. The rulers tell mm from the lower left corner.",
            "Thick: the side on the fold. Dotted: levels, and lines to lengthen at. Grey: left out.",
        ];
        for (k, note) in notes.into_iter().enumerate() {
            document.append(self.words(note, at(1.0 + k as f64, 0.0), 2.6));
        }
        let mut row = 3.5;
        for (k, size) in understood.sizes.iter().enumerate().filter(|_| understood.sizes.len() > 1) {
            let start = at(row, 0.0);
            let (colour, dash) = self.look(k);
            let mut sample = self.line(start + point(0.0, 0.8 * unit), start + point(16.0 * unit, 0.8 * unit));
            sample = sample.set("stroke", colour).set("stroke-width", number(0.35 * unit));
            if !dash.is_empty() {
                sample = sample.set("stroke-dasharray", dash);
            }
            document.append(sample);
            let figure = size.name.figure.as_deref().map(|figure| format!(" {figure}")).unwrap_or_default();
            let guess = if size.is_guess { format!(" (guess: {})", size.told_by) } else { String::new() };
            document.append(self.words(format!("{}{figure}{guess}", size.name.name), at(row, 18.0), 2.8));
            row += 1.0;
        }
        row += 0.5;
        for piece in &understood.pieces {
            document.append(
                self.words(piece.number.to_string(), at(row, 5.0), 2.8)
                    .set("font-weight", "bold")
                    .set("text-anchor", "end"),
            );
            document.append(self.words(told(piece, understood), at(row, 7.0), 2.8));
            row += 1.0;
        }
    }
}

/// What is known of a piece, in a line.
fn told(piece: &FoundPiece, understood: &Understood) -> String {
    let drawn = &piece.drawn[piece.drawn.len() - 1];
    let mut parts: Vec<String> = vec![piece.names.first().cloned().unwrap_or_else(|| "no name".to_owned())];
    if !piece.is_sure {
        parts.push("a piece? Nothing on it says so".to_owned());
    }
    let cuts = piece.cuts.iter().map(|cut| {
        let from = cut.from.as_deref().map(|from| format!(" {from}")).unwrap_or_default();
        format!("cut {}{from}{}", cut.count, if cut.on_fold { " on the fold" } else { "" })
    });
    parts.extend(cuts);
    parts.push(
        match drawn.kind {
            LineKind::Cutting => "cutting line",
            LineKind::Seam => "seam line",
            LineKind::Both { .. } => "seam line, thin the cutting line",
            LineKind::Unsaid => "cutting line or seam line?",
        }
        .to_owned(),
    );
    if drawn.grainline.is_none() {
        parts.push("no grainline".to_owned());
    }
    if piece.drawn.len() > 1 && piece.in_sizes.len() < understood.sizes.len() {
        parts.push(format!("in {} of {} sizes", piece.in_sizes.len(), understood.sizes.len()));
    }
    parts.join(" · ")
}

/// About how wide a line is, in heights of its letters.
fn letters_wide(words: &str) -> f64 {
    0.62 * words.chars().count() as f64
}

fn two_places(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn number(value: f64) -> String {
    format!("{}", two_places(value))
}
