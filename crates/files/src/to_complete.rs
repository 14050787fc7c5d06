//! The pattern file that is written for a drawing: everything understood, and for what is missing a commented line that says what to write.

use std::fmt::Write;

use ellwand_trace::{CutWords, FoundPiece, LineKind, Remark, Understood};
use ellwand_vector::Unit;

mod guesses;
mod kept;
mod words;

pub use kept::renumbered;

/// The text of a pattern file that picks every piece of a drawing. `file` is the name of the drawing beside it, `grades` that of its table
/// of grade rules, `name` what the pattern is to be called.
///
/// Lines to complete begin with `# ` and a key; taking the `# ` away and mending what follows is all there is to do.
pub fn pattern_to_complete(name: &str, file: &str, grades: Option<&str>, understood: &Understood) -> String {
    let mut text = Text(String::new());
    text.line(format!(
        "# What was understood of {}. Guesses are marked; to change or confirm one, edit its line.",
        plain(file)
    ));
    text.line("# Lines that begin with `# ` and a key wait for you: take the `# ` away and write what is so.");
    text.line("format = \"ellwand-pattern-1\"");
    text.line(format!("name = {}", quoted(name)));
    text.line("# kind = \"dress\"                          # or \"skirt\", \"jacket\", \"coat\": tells the usual ease");
    text.line("coordinates = \"mm\"                       # of points you add: from the lower left corner of the drawing, as on its ruler");
    let several = understood.sizes.len() > 1;
    if !several {
        let size = &understood.sizes[0];
        let guess = if size.is_guess { "          # nothing tells sizes apart" } else { "" };
        text.line(format!("sizes = [{}]{guess}", quoted(&size.name.name)));
        // With one size there is none to choose; its body is good to have where the drawing tells it.
        let bodies = words::bodies(understood);
        if !bodies.words.is_empty() {
            text.body(&bodies, 0);
        }
    }
    text.drawing(file, grades, understood);
    if several {
        text.sizes(understood);
    }
    let names = names(understood);
    let listed: Vec<String> =
        understood.pieces.iter().zip(&names).filter(|(piece, _)| piece.is_sure).map(|(_, name)| quoted(name)).collect();
    text.line("");
    text.line("[[view]]");
    text.line("name = \"A\"");
    text.line(format!("pieces = [{}]", listed.join(", ")));
    for (piece, name) in understood.pieces.iter().zip(&names) {
        text.piece(piece, name, understood);
    }
    text.line("");
    text.line("# What is sewn to what is needed for cloth with a design and to let out at a seam, for example:");
    text.line("# [[seam]]");
    text.line("# name = \"side\"");
    text.line("# kind = \"side\"");
    text.line("# a = { piece = \"Front\", edges = [\"side\"], meets = [\"notch 1\"] }");
    text.line("# b = { piece = \"Back\", edges = [\"side\"], meets = [\"notch 1\"] }");
    text.0
}

/// What a drawing holds that was passed over, and why, with the guesses that were made: one line each.
pub fn left_out_list(file: &str, understood: &Understood) -> String {
    let mut text = Text(String::new());
    text.line(format!("{}: what was left out or guessed", plain(file)));
    text.line("");
    let guessed = guesses::guesses(understood);
    text.line(match (guessed.len(), understood.ignored.len()) {
        (0, 0) => "Nothing was left out, and nothing guessed.".to_owned(),
        (guessed, left_out) => format!("Guessed or odd: {guessed}. Left out: {left_out}."),
    });
    for guess in guessed {
        text.line(format!("- {guess}"));
    }
    for ignored in &understood.ignored {
        let on = ignored.piece.map(|number| format!(" on piece {number}")).unwrap_or_default();
        text.line(format!("- left out{on}: {}; {}", plain(&ignored.what), plain(&ignored.why)));
    }
    text.0
}

fn called(piece: &FoundPiece) -> String {
    piece.names.first().map(|name| format!(" ({})", plain(name))).unwrap_or_default()
}

struct Text(String);

impl Text {
    fn line(&mut self, line: impl AsRef<str>) {
        let _ = writeln!(self.0, "{}", line.as_ref());
    }

    fn drawing(&mut self, file: &str, grades: Option<&str>, understood: &Understood) {
        self.line("");
        self.line("[drawing]");
        self.line(format!("file = {}", toml::Value::String(file.to_owned())));
        if let Some(grades) = grades {
            self.line(format!("grades = {}", toml::Value::String(grades.to_owned())));
        }
        self.tiles(understood);
        let by_square = understood.remarks.iter().find(|remark| matches!(remark, Remark::Rescaled { .. }));
        match (by_square, understood.unit, &understood.square) {
            (Some(remark), ..) => self.line(format!("scale = \"by its square\"                # guess: {remark}")),
            (None, Unit::Usual { .. }, None) => {
                self.line("# scale = \"as drawn\"                     # the file does not say how long its unit is: is 1 inch 96 of them? Or unit = \"mm\"");
            }
            (None, Unit::Unsaid, _) if understood.remarks.contains(&Remark::NoUnit) => {
                self.line("# unit = \"mm\"                            # the file does not say how long its unit is: \"mm\", \"cm\" or \"in\"");
            }
            (None, _, Some(square)) => {
                self.line(format!(
                    "# The test square measures {:.2} mm, as it should.",
                    square.drawn[0] * understood.scaled
                ));
            }
            _ => {}
        }
        let lone = |kind: &LineKind| !matches!(kind, LineKind::Both { .. });
        let sure = || understood.pieces.iter().filter(|piece| piece.is_sure).map(|piece| &piece.drawn[0].kind);
        let said = words::allowance(understood);
        if let Some(said) = said.as_ref().filter(|said| said.depth.is_none() || !sure().any(lone)) {
            self.line(format!("# The drawing says: {}", quoted(&said.words)));
        }
        let says = said.as_ref().filter(|said| said.depth.is_some());
        if sure().any(lone) {
            let depth = says.and_then(|said| said.depth.as_deref()).unwrap_or("15 mm");
            let told = says.map(|said| format!("the drawing says {}; ", quoted(&said.words))).unwrap_or_default();
            let is_included = says.and_then(|said| said.is_included);
            let is_seam = sure().filter(|kind| lone(kind)).all(|kind| matches!(kind, LineKind::Seam));
            let is_cutting = sure().filter(|kind| lone(kind)).all(|kind| matches!(kind, LineKind::Cutting));
            let (value, question) = if is_seam {
                (depth.to_owned(), "outlines are seam lines: how much is added?")
            } else if is_cutting {
                (
                    format!("{depth} included"),
                    "outlines are cutting lines: how deep is their allowance? \"included\" alone cuts them as they are",
                )
            } else if is_included == Some(false) {
                (
                    depth.to_owned(),
                    "when outlines are seam lines; with \"included\" after it when they are cutting lines",
                )
            } else {
                (
                    format!("{depth} included"),
                    "when outlines are cutting lines; without \"included\" when they are seam lines",
                )
            };
            let key = format!("# seam_allowance = {}", quoted(&value));
            self.line(format!("{key:<40} # {told}{question}"));
        }
        let is_cut_in = |remark: &Remark| matches!(remark, Remark::CutNotches { .. });
        if understood.pieces.iter().any(|piece| piece.remarks.iter().any(is_cut_in)) {
            self.line("# cut_notches = \"as drawn\"              # guess: small dips and bumps of outlines are notches; this line leaves them in the outline");
        }
        let guessed = understood.sizes.iter().any(|size| size.is_guess);
        if understood.sizes.len() > 1 && guessed {
            self.line("# Sizes go by made-up names below. Give each its own in `name`, and say here how the drawing calls it:");
            let pairs: Vec<String> =
                understood.sizes.iter().map(|size| format!("\"…\" = {}", quoted(&size.name.name))).collect();
            self.line(format!("# sizes = {{ {} }}", pairs.join(", ")));
        }
    }

    /// How pages were joined, so that it stays so.
    fn tiles(&mut self, understood: &Understood) {
        let apart = understood.remarks.iter().find(|remark| matches!(remark, Remark::PagesApart { .. }));
        if let Some(Remark::PagesApart { pages, .. }) = apart {
            self.line(format!(
                "# tiles = {{ columns = 4 }}              # its {pages} pages are tiles of one drawing? How many lie side by side; or \"apart\""
            ));
        }
        let Some(found) = &understood.tiles else { return };
        let how = match (found.of, found.order) {
            (0, _) => "told by the words on its pages".to_owned(),
            (_, None) => {
                format!("by the words on its pages; {} of {} ends of lines go on at the next page", found.met, found.of)
            }
            _ => format!("{} of {} ends of lines go on at the next page", found.met, found.of),
        };
        let aside = match found.aside.as_slice() {
            [] => String::new(),
            pages => {
                let pages: Vec<String> = pages.iter().map(usize::to_string).collect();
                format!("; no part of it: page {}", pages.join(", "))
            }
        };
        let order =
            found.order.map_or_else(String::new, |(order, from)| format!(", order = \"{order}\", from = \"{from}\""));
        self.line(format!("tiles = {{ columns = {}{order} }}   # found: {how}{aside}", found.columns));
    }

    fn sizes(&mut self, understood: &Understood) {
        let bodies = words::bodies(understood);
        for (k, size) in understood.sizes.iter().enumerate() {
            self.line("");
            self.line("[[size]]");
            let told =
                if size.is_guess { format!("   # guess: told by its line, {}", size.told_by) } else { String::new() };
            self.line(format!("name = {}{told}", quoted(&size.name.name)));
            if let Some(figure) = &size.name.figure {
                self.line(format!("figure = {}", quoted(figure)));
            }
            self.body(&bodies, k);
        }
    }

    /// Whom a size is for: as the drawing says, or as its maker knows.
    fn body(&mut self, bodies: &words::BodyWords, size: usize) {
        let says = bodies.words.iter().map(|words| quoted(words)).collect::<Vec<_>>().join(", ");
        match &bodies.of_sizes[size] {
            Some(body) => self.line(format!("# body = {body}   # the drawing says {says}")),
            None => {
                let says = if says.is_empty() { says } else { format!("; the drawing says {says}") };
                self.line(format!("# body = {{ bust = \"… cm\", waist = \"… cm\", hip = \"… cm\" }}   # from its size table{says}; needed to choose a size by measures"));
            }
        }
    }

    fn piece(&mut self, piece: &FoundPiece, name: &str, understood: &Understood) {
        let mut own = Text(String::new());
        own.line(format!("[[piece]]                                # {} on the sheet", piece.number));
        own.line(format!("name = {}", quoted(name)));
        own.line(format!("pick = {}", pick_of(piece, understood)));
        own.cuts(piece);
        for remark in &piece.remarks {
            match remark.plain() {
                Remark::FoldBySide { side } => {
                    own.line(format!("# fold_edge = \"side {side}\"                 # guess: {remark}"));
                }
                Remark::NoFoldSide => own.line(format!("# fold_edge = \"side 1\"                 # {remark}")),
                Remark::NoGrainline => {
                    own.line("# grainline = [[0, 0], [0, 100]]         # none was found: its low and its high end, as on the ruler");
                }
                _ => own.line(format!("# Note: {remark}.")),
            }
        }
        own.lines_of(piece);
        self.line("");
        if piece.is_sure {
            self.0.push_str(&own.0);
        } else {
            self.line("# Is this a piece? Nothing on it says so. If it is, take the `# ` away and add it to the view.");
            for line in own.0.lines() {
                self.line(format!("# {line}"));
            }
        }
    }

    fn cuts(&mut self, piece: &FoundPiece) {
        if piece.cuts.is_empty() {
            self.line("# cut = [{ from = \"main\", count = 2 }]     # from which cloth, how many; on_fold = true for one on the fold");
            return;
        }
        let has_fold = piece.drawn.iter().any(|drawn| drawn.fold.is_some());
        let entry = |cut: &CutWords| {
            let from = cut.from.as_deref().unwrap_or("main");
            let fold = if cut.on_fold || has_fold { ", on_fold = true" } else { "" };
            format!("{{ from = {}, count = {}{fold} }}", quoted(from), cut.count)
        };
        let mut told: Vec<String> = Vec::new();
        let mut roles: Vec<&str> = Vec::new();
        for cut in &piece.cuts {
            let role = cut.from.as_deref().unwrap_or("main");
            if !roles.contains(&role) {
                roles.push(role);
                told.push(entry(cut));
            }
        }
        let mut guesses = Vec::new();
        if piece.cuts.iter().any(|cut| cut.from.is_none()) {
            guesses.push("from the main cloth");
        }
        if has_fold && !piece.cuts.iter().any(|cut| cut.on_fold) {
            guesses.push("on the fold, since a side is marked so");
        }
        let guess = if guesses.is_empty() { String::new() } else { format!("   # guess: {}", guesses.join("; ")) };
        self.line(format!("cut = [{}]{guess}", told.join(", ")));
        let words: Vec<String> = piece.texts.iter().map(|text| plain(text)).filter(|text| !text.is_empty()).collect();
        self.line(format!("# Its words: {}", plain(&words.join(" / "))));
    }

    /// What is known of its lines, and what may be added.
    fn lines_of(&mut self, piece: &FoundPiece) {
        let drawn = &piece.drawn[0];
        match &drawn.kind {
            LineKind::Both { depths, .. } => {
                let depths: Vec<String> = depths.iter().map(|depth| format!("{depth}")).collect();
                self.line(format!("# Both lines are drawn; allowances of its sides: {} mm", depths.join(", ")));
            }
            LineKind::Unsaid if piece.drawn.len() == 1 => {}
            _ => {}
        }
        for (k, dart) in drawn.darts.iter().enumerate() {
            let known = match &drawn.kind {
                LineKind::Both { over, .. } => over.get(k).is_some_and(Option::is_some),
                _ => false,
            } || dart.pressed.is_some();
            if !known {
                self.line(format!(
                    "# pressed = {{ \"dart {}\" = \"down\" }}         # the dart at [{:.0}, {:.0}]; for a seam line only",
                    k + 1,
                    dart.tip.x,
                    dart.tip.y
                ));
            }
        }
        let note = kept::sides_note(drawn.sides.len(), drawn.notches.len());
        self.line(format!("# sides = {{ hem = 1 }}                    {note}"));
    }
}

/// A name for each piece, no two alike.
fn names(understood: &Understood) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for piece in &understood.pieces {
        let base = piece.names.first().map_or_else(|| format!("Piece {}", piece.number), |name| plain(name));
        let mut name = base.clone();
        let mut count = 1;
        while names.contains(&name) {
            count += 1;
            name = format!("{base} {count}");
        }
        names.push(name);
    }
    names
}

/// By its name where that is its own, else by a point in it.
fn pick_of(piece: &FoundPiece, understood: &Understood) -> String {
    let own = piece.names.first().filter(|name| {
        let lower = name.to_lowercase();
        let same = |other: &&FoundPiece| other.names.first().is_some_and(|of| of.to_lowercase() == lower);
        understood.pieces.iter().filter(same).count() == 1 && plain(name) == **name
    });
    match own {
        Some(name) => quoted(name),
        None => around(piece, understood),
    }
}

/// A point in it, in mm of the file as it is drawn: it stays the same when the scale is said otherwise.
fn around(piece: &FoundPiece, understood: &Understood) -> String {
    let at = piece.inside * (1.0 / understood.scaled);
    format!("[{}, {}]", (at.x * 100.0).round() / 100.0, (at.y * 100.0).round() / 100.0)
}

/// Its name, or a point in it.
fn around_or_called(piece: &FoundPiece, understood: &Understood) -> String {
    piece.names.first().map_or_else(|| around(piece, understood), |name| plain(name))
}

/// Without anything that cannot be printed, and not too long.
fn plain(text: &str) -> String {
    let printable: String = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    printable.trim().chars().take(120).collect()
}

fn quoted(text: &str) -> String {
    toml::Value::String(plain(text)).to_string()
}
