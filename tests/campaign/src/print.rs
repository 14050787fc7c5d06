//! Printing: a job, its pattern or a layout on usual and odd papers. What is printed is opened again and held to the records.

mod paper;

use std::{fmt::Write as _, fs};

use ellwand_vector::{Drawing, Limits};
use toml::Value as Toml;

use crate::{
    chance::Chance,
    judge::Complaint,
    make::{JOB_FILE, PATTERN_FILE, Scene},
    question::has_fold_edge,
    record::{self, PieceRecord, Place},
    trial::{Bench, ended_badly},
};

use paper::{CutLine, Printed};

const LAYOUT_FILE: &str = "case.layout.json";
const FOLDER: &str = "printed";

const PAPERS: [&str; 22] = [
    "a4",
    "a4",
    "letter",
    "legal",
    "a3",
    "tabloid",
    "a2",
    "a1",
    "a0",
    "36x48in",
    "36in",
    "914mm",
    "24in",
    "60x90cm",
    "150cm",
    "12x12cm",
    "3in",
    "0cm",
    "-4cm",
    "9000mm",
    "6000x6000mm",
    "wallpaper",
];
const MARGINS: [&str; 10] = ["8", "0", "3", "10", "12", "60", "110", "300", "-1", "wide"];
const OVERLAPS: [&str; 8] = ["10", "0", "5", "20", "60", "150", "1000", "1001"];

/// What is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Of {
    Job,
    Pattern,
    Layout,
}

/// What is asked of `print`.
#[derive(Debug, Clone)]
struct Asked {
    of: Of,
    options: Vec<String>,
    /// Margin and overlap, mm, where they are numbers.
    border: [f64; 2],
    is_svg: bool,
    is_usual: bool,
}

impl Asked {
    fn new(scene: &Scene, chance: &mut Chance) -> Self {
        let of = *chance.pick(&[Of::Job, Of::Job, Of::Job, Of::Pattern, Of::Layout]);
        if chance.often(0.25) {
            let options = vec!["--paper".to_owned(), chance.pick(&["a4", "letter"]).to_string()];
            return Self { of, options, border: [8.0, 10.0], is_svg: false, is_usual: true };
        }
        let mut options = Vec::new();
        let is_projected = chance.often(0.3);
        for _ in 0..chance.whole(i64::from(!is_projected), 2) {
            options.push(format!("--paper={}", chance.pick(&PAPERS)));
        }
        let mut border = [8.0, 10.0];
        for (k, name, values) in [(0, "--margin", &MARGINS[..]), (1, "--overlap", &OVERLAPS[..])] {
            if chance.often(0.3) {
                let value = chance.pick(values);
                options.push(format!("{name}={value}"));
                border[k] = value.parse().unwrap_or(border[k]);
            }
        }
        // Without a projected page the two are refused.
        let may = if is_projected { 0.5 } else { 0.03 };
        let mut add = |is_wished: bool, option: &str| {
            if is_wished {
                options.push(option.to_owned());
            }
        };
        add(is_projected, "--projector");
        add(chance.often(may), if chance.often(0.5) { "--ground=black" } else { "--ground=white" });
        add(chance.often(may), "--mirrored");
        let is_svg = chance.often(0.3);
        add(is_svg, "--svg");
        add(chance.often(0.1), "--max-pages=3");
        let sizes = sizes(scene);
        if chance.often(if of == Of::Pattern { 0.6 } else { 0.05 }) {
            let unknown = sizes.is_empty() || chance.often(0.1);
            add(
                true,
                &format!("--size={}", if unknown { "none such".to_owned() } else { chance.pick(&sizes).clone() }),
            );
        }
        Self { of, options, border, is_svg, is_usual: false }
    }

    fn file(&self) -> &'static str {
        match self.of {
            Of::Job => JOB_FILE,
            Of::Pattern => PATTERN_FILE,
            Of::Layout => LAYOUT_FILE,
        }
    }
}

/// Sizes of the pattern with their figure types.
fn sizes(scene: &Scene) -> Vec<String> {
    let tables = scene.pattern.get("size").and_then(Toml::as_array).into_iter().flatten().filter_map(Toml::as_table);
    tables
        .filter_map(|size| {
            let name = size.get("name")?.as_str()?;
            Some(size.get("figure").and_then(Toml::as_str).map_or(name.to_owned(), |figure| format!("{name} {figure}")))
        })
        .collect()
}

/// Prints a scene in some way and judges what comes.
pub(crate) fn print(bench: &Bench<'_>, scene: &Scene, chance: &mut Chance) -> Vec<Complaint> {
    let asked = Asked::new(scene, chance);
    let mut found = Vec::new();
    if let Err(fault) = held(bench, scene, &asked, &mut found) {
        found.push(Complaint { judge: "print", text: fault });
    }
    for complaint in &mut found {
        let _ = write!(complaint.text, " [print \"{} {}\"]", asked.file(), asked.options.join(" "));
    }
    found
}

fn held(bench: &Bench<'_>, scene: &Scene, asked: &Asked, found: &mut Vec<Complaint>) -> Result<(), String> {
    let folder = bench.folder.join(FOLDER);
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(|fault| fault.to_string())?;
    }
    bench.write(scene)?;
    let checked = bench.check();
    // Pieces that fit no cloth are printed all the same, but have no record to hold them to.
    let mut outlines: Option<Vec<CutLine>> = None;
    match asked.of {
        Of::Job if checked.is(0) => outlines = pieces_cut(bench, scene)?,
        Of::Layout => {
            let Ok((planned, value)) = bench.plan(scene, 1) else { return Ok(()) };
            let Some(cloth) = planned.cloths.first() else { return Ok(()) };
            let text = value["cloths"][0]["record"].to_string();
            fs::write(bench.folder.join(LAYOUT_FILE), text).map_err(|fault| fault.to_string())?;
            outlines = Some(
                cloth.layout.cuts.iter().map(|cut| CutLine { ring: cut.outline.clone(), is_half: false }).collect(),
            );
        }
        _ => {}
    }
    let mut args = vec!["print", asked.file(), "--out", FOLDER];
    args.extend(asked.options.iter().map(String::as_str));
    let ran = bench.tools.ellwand(&bench.folder, &args);
    let mut say = |text: String| found.push(Complaint { judge: "print", text });
    if let Some(complaint) = ended_badly("print", &ran) {
        found.push(complaint);
        return Ok(());
    }
    if ran.is(2) {
        if folder.exists() {
            say("refused, and something was written".to_owned());
        }
        let errors: Vec<&str> = ran.stderr.lines().filter(|line| line.contains("error: ")).collect();
        if errors.is_empty() {
            say(format!("refused without an error: {}", ran.stderr.trim()));
        }
        let is_sound = checked.is(0) || asked.of == Of::Layout;
        if is_sound && errors.len() > 1 {
            say(format!("one question and {} errors: {}", errors.len(), ran.stderr.trim()));
        }
        let has_reason = ["--max-pages ", "wider than eight pages", "a record of pieces"];
        if is_sound && asked.is_usual && !has_reason.iter().any(|words| ran.stderr.contains(words)) {
            say(format!("a usual page is refused: {}", ran.stderr.trim()));
        }
        return Ok(());
    }
    let files = paper::said(&ran.stdout, asked.is_svg)?;
    if files.is_empty() {
        say(format!("nothing was written: {}", ran.stdout.trim()));
    }
    for file in files {
        if let Err(fault) = opened(bench, &file).and_then(|drawing| judge(&file, &drawing, asked, outlines.as_deref()))
        {
            say(format!("{}: {fault}", file.kind()));
        }
    }
    Ok(())
}

/// Cutting lines of the pieces that the job makes: of what is drawn as a half, the half. None where two halves make a ring, whose hole no record holds.
fn pieces_cut(bench: &Bench<'_>, scene: &Scene) -> Result<Option<Vec<CutLine>>, String> {
    let text = fs::read_to_string(bench.folder.join("pieces.json")).map_err(|fault| fault.to_string())?;
    let pieces = record::pieces(&serde_json::from_str(&text).map_err(|fault| fault.to_string())?)?;
    let drawn = || scene.pattern.get("piece").and_then(Toml::as_array).into_iter().flatten().filter_map(Toml::as_table);
    let is_half = |name: &str| {
        let piece = drawn().find(|piece| piece.get("name").and_then(Toml::as_str) == Some(name));
        piece.is_some_and(|piece| has_fold_edge(scene.typed(piece)))
    };
    let is_ring = |piece: &toml::Table| {
        let shape = |kind: &str| piece.get("shape").and_then(|shape| shape.get(kind));
        let sector = shape("ring_sector").and_then(|sector| sector.get("angle")?.as_str()) == Some("180 deg");
        has_fold_edge(piece) && sector
    };
    if drawn().any(is_ring) {
        return Ok(None);
    }
    // Where a seam takes the place of the fold, what is drawn as a half is cut as it is drawn, and lies to one side.
    let pieced = scene.job.get("alter").and_then(|alter| alter.get("pieced")).and_then(Toml::as_array);
    let is_pieced = |name: &str| {
        let mut names = pieced.into_iter().flatten().filter_map(|entry| entry.get("piece")?.as_str());
        names.any(|of| of == name)
    };
    let lies_aside = |outline: &[Place]| {
        let across = |pick: fn(f64, f64) -> f64, from: f64| outline.iter().map(|place| place[0]).fold(from, pick);
        (across(f64::min, f64::INFINITY) + across(f64::max, f64::NEG_INFINITY)).abs() > 0.5
    };
    let cut = |piece: &PieceRecord| {
        let is_joined = is_pieced(&piece.piece) && lies_aside(&piece.outline);
        let is_half = is_half(&piece.piece) && !is_joined;
        let ring = if is_half { paper::left_of_zero(&piece.outline) } else { piece.outline.clone() };
        CutLine { ring, is_half }
    };
    Ok(Some(pieces.iter().map(cut).collect()))
}

fn opened(bench: &Bench<'_>, file: &Printed) -> Result<Drawing, String> {
    let mut all = Drawing::default();
    for name in &file.names {
        let bytes = fs::read(bench.folder.join(name)).map_err(|fault| format!("{name}: {fault}"))?;
        let drawing =
            ellwand_vector::read(&bytes, &Limits::default()).map_err(|fault| format!("cannot be read: {fault}"))?;
        all.sheets.extend(drawing.sheets);
    }
    Ok(all)
}

fn judge(file: &Printed, drawing: &Drawing, asked: &Asked, outlines: Option<&[CutLine]>) -> Result<(), String> {
    if drawing.sheets.len() != file.pages {
        return Err(format!("{} pages are said and {} are there", file.pages, drawing.sheets.len()));
    }
    match outlines {
        None => Ok(()),
        // What another program clips is not clipped here, so joined pages of an SVG show some lines twice.
        Some(_) if file.is_joined && asked.is_svg => Ok(()),
        Some(outlines) if file.is_joined => paper::joined(drawing, outlines, asked.border),
        Some(outlines) => paper::whole(drawing, outlines),
    }
}
