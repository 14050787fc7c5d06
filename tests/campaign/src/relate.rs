//! The same question in other words, and stricter ones: what one answer says about another.

mod drawn_back;
pub(crate) mod garments;
pub(crate) mod likeness;
mod words;

use serde_json::Value;
use toml::Value as Toml;

use crate::{
    judge::{Answer, Complaint, judge},
    make::{JOB_FILE, Scene},
    question::ClothAsked,
    record::{Layout, PieceRecord},
    run::Ran,
    trial::{Bench, ClothPlanned, NotPlanned, Planned, ended_badly, judge_planned},
};

/// How far two lengths that should agree may differ, mm.
const CLOSE: f64 = 0.002;

/// A relation that a planned job can be held to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Relation {
    /// One thread and two give the same bytes.
    Threads,
    /// Names and order of pieces do not matter for what can be planned.
    Names,
    /// Nap makes nothing shorter.
    Nap,
    /// `either` is never longer than one of its ways.
    Layer,
    /// A straight grain is never shorter than one that may be off.
    OffGrain,
    /// The bound holds for a copy more and for narrower cloth.
    Harder,
    /// What is printed does not matter for what is laid.
    Units,
    /// The same job in centimetres.
    Centimetres,
    /// `compare` answers as `plan` does.
    Compare,
    /// Of two widths each is judged, and the bound of the wider holds for the narrower.
    Wider,
    /// The command with its files.
    Command,
    /// `fit` and the drawings of `check`.
    Fit,
    /// Pieces that are like others are those that are written out.
    Likeness,
    /// A job from the record of its pieces is the same.
    Record,
    /// Pieces written as a drawing are read back.
    DrawnBack,
    /// Several of the garment together are each what one is.
    Garments,
}

/// All relations.
pub(crate) const RELATIONS: [Relation; 16] = [
    Relation::Threads,
    Relation::Names,
    Relation::Nap,
    Relation::Layer,
    Relation::OffGrain,
    Relation::Harder,
    Relation::Units,
    Relation::Centimetres,
    Relation::Compare,
    Relation::Wider,
    Relation::Command,
    Relation::Fit,
    Relation::Likeness,
    Relation::Record,
    Relation::DrawnBack,
    Relation::Garments,
];

/// Whether some cloth of a scene has remnants.
fn has_remnants(scene: &Scene) -> bool {
    let fabrics = scene.job.get("fabric").and_then(Toml::as_table);
    fabrics.is_some_and(|fabrics| fabrics.iter().any(|(_, fabric)| fabric.get("remnant").is_some()))
}

/// Holds a scene to a relation. A scene that cannot be planned is held to none but the ones on words and on `fit`.
pub(crate) fn relate(bench: &Bench<'_>, scene: &Scene, relation: Relation) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut say = |judge: &'static str, text: String| found.push(Complaint { judge, text });
    // On a remnant it is enough that everything fits, so that an easier question may have the longer answer.
    if has_remnants(scene) && !matches!(relation, Relation::Threads | Relation::Fit | Relation::DrawnBack) {
        return found;
    }
    if relation == Relation::Fit {
        fit(bench, scene, &mut say);
        return found;
    }
    if relation == Relation::DrawnBack {
        drawn_back::drawn_back(bench, scene, &mut say);
        return found;
    }
    // What is drawn keeps the names and the units it is drawn with.
    if scene.sheet.is_some() && matches!(relation, Relation::Names | Relation::Centimetres | Relation::Likeness) {
        return found;
    }
    let (base, printed) = match bench.plan(scene, 1) {
        Ok(planned) => (Some(planned.0), planned.1),
        Err(NotPlanned::Refused) => (None, Value::Null),
        // A fault of the job itself is told elsewhere.
        Err(NotPlanned::Fault(_)) => return found,
    };
    match (relation, &base) {
        (Relation::Names, base) => reworded(bench, &words::renamed(scene), base.as_ref(), "renamed", &mut say),
        (Relation::Centimetres, base) => {
            reworded(bench, &words::in_centimetres(scene), base.as_ref(), "in centimetres", &mut say);
        }
        (Relation::Likeness, base) => {
            if let Some(other) = likeness::likened(scene) {
                again(bench, Again::Pattern(&other), base.is_some().then_some(&printed), &mut say);
            }
        }
        (Relation::Garments, base) => garments::garments(bench, scene, base.as_ref(), &mut say),
        (Relation::Command, _) => command(bench, scene, base.is_some(), &mut say),
        (_, None) => {}
        (Relation::Record, Some(_)) => {
            let mut printed = printed.clone();
            if has_notions(scene) {
                // Of the money only that for the cloths is in both.
                printed = cloths_alone(printed);
            }
            again(bench, Again::Record(&of_record(scene)), Some(&printed), &mut say);
        }
        (Relation::Threads, Some(_)) => threads(bench, &printed, &mut say),
        (Relation::Units, Some(base)) => units(bench, scene, base, &mut say),
        (Relation::Compare, Some(base)) => {
            candidates(bench, scene, base, &mut say);
            compare(bench, scene, base, &mut say);
        }
        (Relation::Wider, Some(base)) => wider(bench, base, &mut say),
        (Relation::Nap, Some(base)) => {
            let strict = words::of_fabrics(scene, |fabric| {
                drop(fabric.insert("nap".to_owned(), Toml::String("with".to_owned())))
            });
            stricter(bench, &strict, base, "with nap", true, &mut say);
        }
        (Relation::Layer, Some(base)) => {
            for way in ["open", "fold"] {
                let strict = words::of_fabrics(scene, |fabric| {
                    if fabric.get("layer").is_none_or(|layer| layer.as_str() == Some("either")) {
                        fabric.insert("layer".to_owned(), Toml::String(way.to_owned()));
                    }
                });
                // What is cut in as many strips or widths as the cloth asks for is cut otherwise from folded cloth.
                if strict != *scene && !words::is_cut_to_width(scene) {
                    stricter(bench, &strict, base, &format!("layer {way}"), true, &mut say);
                }
            }
        }
        (Relation::OffGrain, Some(base)) => {
            let strict = words::of_fabrics(scene, |fabric| drop(fabric.remove("off_grain")));
            if strict != *scene {
                stricter(bench, &strict, base, "on straight grain", true, &mut say);
                stricter(bench, &words::half_off_grain(scene), base, "half as far off grain", false, &mut say);
            }
        }
        (Relation::Harder, Some(base)) => {
            stricter(bench, &words::more_copies(scene), base, "more copies", false, &mut say);
            stricter(bench, &words::narrower(scene), base, "narrower", false, &mut say);
        }
        (Relation::Fit | Relation::DrawnBack, Some(_)) => {}
    }
    found
}

type Say<'s> = &'s mut dyn FnMut(&'static str, String);

/// Cloths of two plans by role, where no wish makes them differ in what is asked.
fn both<'p>(one: &'p Planned, other: &'p Planned) -> impl Iterator<Item = (&'p ClothPlanned, &'p ClothPlanned)> {
    one.cloths.iter().filter_map(move |cloth| {
        let same = other.cloths.iter().find(|of| of.layout.fabric == cloth.layout.fabric)?;
        (same.layout.given_up == cloth.layout.given_up).then_some((cloth, same))
    })
}

fn without_seconds(mut value: Value) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::Object(map) => {
                map.remove("seconds");
                map.values_mut().for_each(strip);
            }
            Value::Array(list) => list.iter_mut().for_each(strip),
            _ => {}
        }
    }
    strip(&mut value);
    value
}

fn threads(bench: &Bench<'_>, printed: &Value, say: Say<'_>) {
    let ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 2, &[]);
    let other: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
    if without_seconds(other) != without_seconds(printed.clone()) {
        say("threads", "one thread and two give different answers".to_owned());
    }
}

/// The same job said again.
enum Again<'a> {
    /// With another pattern.
    Pattern(&'a Scene),
    /// On the record of its pieces, which lies in the folder.
    Record(&'a Scene),
}

/// Keys of a job that the record of its pieces has answered.
const ANSWERED: [&str; 6] = ["view", "size", "figure", "body", "ease", "alter"];

/// Keys of a job and of a pattern for what is bought beside the cloth, which a record of pieces does not hold.
const BESIDE_THE_CLOTH: [&str; 2] = ["notion", "trim"];

/// Whether something is bought beside the cloth.
fn has_notions(scene: &Scene) -> bool {
    BESIDE_THE_CLOTH.iter().any(|key| scene.job.contains_key(*key) || scene.pattern.contains_key(*key))
}

fn of_record(scene: &Scene) -> Scene {
    let mut scene = scene.clone();
    ANSWERED.iter().chain(&BESIDE_THE_CLOTH).for_each(|key| drop(scene.job.remove(*key)));
    scene.job.insert("pattern".to_owned(), Toml::String("pieces.json".to_owned()));
    scene
}

/// An answer without what everything costs.
fn cloths_alone(mut printed: Value) -> Value {
    if let Some(keys) = printed.as_object_mut() {
        keys.retain(|key, _| key == "cloths");
    }
    printed
}

/// The same to the last digit, or refused like it.
fn again(bench: &Bench<'_>, other: Again<'_>, printed: Option<&Value>, say: Say<'_>) {
    let (scene, how) = match other {
        Again::Pattern(scene) => (scene, "with pieces like others"),
        Again::Record(scene) => (scene, "from the record of its pieces"),
    };
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
        return;
    }
    let ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &[]);
    if let Some(complaint) = ended_badly(how, &ran) {
        say(complaint.judge, complaint.text);
        return;
    }
    match (printed, ran.is(0)) {
        (None, false) => {}
        (None, true) => say("said again", format!("{how}: planned, and refused before")),
        (Some(_), false) => say("said again", format!("{how}: refused, and planned before: {}", ran.stderr)),
        (Some(printed), true) => {
            let other: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
            let other = if printed.get("totals").is_none() { cloths_alone(other) } else { other };
            if without_seconds(other) != without_seconds(printed.clone()) {
                say("said again", format!("{how}: another answer"));
            }
        }
    }
}

/// A question in other words: refused or planned alike, sound, and no bound above the other's length.
fn reworded(bench: &Bench<'_>, other: &Scene, base: Option<&Planned>, how: &str, say: Say<'_>) {
    match (base, bench.plan(other, 1)) {
        (None, Err(NotPlanned::Refused)) => {}
        (Some(base), Ok((planned, _))) => {
            for complaint in judge_planned(&planned) {
                say(complaint.judge, format!("{how}: {}", complaint.text));
            }
            for (one, same) in both(base, &planned) {
                for (bound, length) in [(one, same), (same, one)] {
                    if bound.layout.lower_bound > length.layout.length + CLOSE {
                        let (bound, length) = (bound.layout.lower_bound, length.layout.length);
                        say("other words", format!("{how}: a bound of {bound:.4} and a layout of {length:.4}"));
                    }
                }
            }
        }
        (None, Ok(_)) => say("other words", format!("{how}: planned, and refused before")),
        (Some(_), Err(NotPlanned::Refused)) => say("other words", format!("{how}: refused, and planned before")),
        (_, Err(NotPlanned::Fault(complaint))) => say(complaint.judge, format!("{how}: {}", complaint.text)),
    }
}

/// A stricter question: its layout answers the first one too, so no bound lies above it, and where that is promised it is not shorter.
fn stricter(bench: &Bench<'_>, strict: &Scene, base: &Planned, how: &str, promised: bool, say: Say<'_>) {
    match bench.plan(strict, 1) {
        Ok((planned, _)) => {
            for complaint in judge_planned(&planned) {
                say(complaint.judge, format!("{how}: {}", complaint.text));
            }
            for (loose, strict) in both(base, &planned) {
                let (length, bound) = (strict.layout.length, loose.layout.lower_bound);
                if bound > length + CLOSE {
                    say("bound", format!("{how}: a bound of {bound:.4} and a stricter layout of {length:.4}"));
                }
                if promised && loose.layout.length > length + CLOSE {
                    let loose = loose.layout.length;
                    say("stricter", format!("{how}: {length:.4} mm, and the looser question takes {loose:.4}"));
                }
            }
        }
        Err(NotPlanned::Refused) => {}
        Err(NotPlanned::Fault(complaint)) => say(complaint.judge, format!("{how}: {}", complaint.text)),
    }
}

/// With the shop's step and the length of the price told, units change nothing but words.
fn units(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    match bench.plan(&words::other_units(scene), 1) {
        Ok((planned, _)) => {
            for (one, same) in both(base, &planned) {
                let places = |cloth: &ClothPlanned| -> Vec<Vec<[f64; 2]>> {
                    cloth.layout.cuts.iter().map(|cut| cut.outline.clone()).collect()
                };
                let alike = places(one) == places(same)
                    && one.layout.purchase.buy == same.layout.purchase.buy
                    && one.layout.purchase.cost == same.layout.purchase.cost;
                if !alike {
                    say("units", "another layout or purchase in other units".to_owned());
                }
            }
        }
        Err(NotPlanned::Refused) => say("units", "refused in other units".to_owned()),
        Err(NotPlanned::Fault(complaint)) => say(complaint.judge, format!("in other units: {}", complaint.text)),
    }
}

/// Widths of all cloths as bought, when they are one; `compare` gives all cloths the same.
fn width_as_bought(scene: &Scene) -> Option<f64> {
    let fabrics = scene.job.get("fabric")?.as_table()?;
    let mut widths = fabrics.iter().map(|(_, fabric)| fabric.get("width")?.as_str().and_then(crate::quantity::length));
    let first = widths.next()??;
    widths.all(|width| width.as_ref() == Some(&first)).then(|| crate::quantity::float(&first))
}

fn compared(bench: &Bench<'_>, widths: &[f64], say: Say<'_>) -> Vec<(String, f64, Option<Layout>)> {
    let list = widths.iter().map(f64::to_string).collect::<Vec<_>>().join(",");
    let ran: Ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &["--widths", &list]);
    if let Some(complaint) = ended_badly("compare", &ran) {
        say(complaint.judge, complaint.text);
        return Vec::new();
    }
    let value: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
    let rows = value["widths"].as_array().into_iter().flatten();
    rows.filter_map(|row| {
        let layout = crate::record::layout(&row["record"]).ok();
        Some((row["fabric"].as_str()?.to_owned(), row["width"].as_f64()?, layout))
    })
    .collect()
}

/// Where a cloth has candidates: they can be compared, and the job's own cloths take what the plan takes.
fn candidates(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    let fabrics = scene.job.get("fabric").and_then(Toml::as_table);
    if !fabrics.is_some_and(|fabrics| fabrics.iter().any(|(_, fabric)| fabric.get("candidate").is_some())) {
        return;
    }
    let ran: Ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &["--candidates"]);
    if let Some(complaint) = ended_badly("compare", &ran) {
        return say(complaint.judge, complaint.text);
    }
    let value: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
    let rows: Vec<&Value> = value["cloths"].as_array().into_iter().flatten().collect();
    for cloth in &base.cloths {
        let own = rows.iter().find(|row| row["changed"].is_null() && row["fabric"] == cloth.layout.fabric.as_str());
        if own.and_then(|row| row["length"].as_f64()).is_none_or(|length| (length - cloth.layout.length).abs() > 1e-6) {
            let of = &cloth.layout.fabric;
            say(
                "compare",
                format!("{of} is {} long in the plan and beside its candidates {own:?}", cloth.layout.length),
            );
        }
    }
}

fn compare(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    let Some(width) = width_as_bought(scene) else { return };
    let rows = compared(bench, &[width], say);
    for cloth in &base.cloths {
        let Some((.., layout)) = rows.iter().find(|(role, ..)| *role == cloth.layout.fabric) else {
            if !rows.is_empty() {
                say("compare", format!("nothing is said of the cloth {}", cloth.layout.fabric));
            }
            continue;
        };
        let Some(layout) = layout else {
            say("compare", "what is planned cannot be compared".to_owned());
            continue;
        };
        if let Some(asked) = base.question.cloths.iter().find(|asked| asked.role == cloth.layout.fabric) {
            judge_record(asked, layout, &base.pieces, "compared", say);
        }
        let (one, other) = (&cloth.layout, layout);
        if one.length != other.length || one.lower_bound != other.lower_bound {
            let lengths = [one.length, other.length, one.lower_bound, other.lower_bound];
            say(
                "compare",
                format!(
                    "the plan takes {} and the comparison {}, bounds {} and {}",
                    lengths[0], lengths[1], lengths[2], lengths[3]
                ),
            );
        } else if one.purchase.buy != other.purchase.buy || one.purchase.cost != other.purchase.cost {
            say("compare", format!("the plan buys {} and the comparison {}", one.purchase.buy, other.purchase.buy));
        }
    }
}

fn wider(bench: &Bench<'_>, base: &Planned, say: Say<'_>) {
    let widest = base.question.cloths.iter().map(|cloth| cloth.width).fold(0.0, f64::max).ceil();
    let rows = compared(bench, &[widest + 100.0, widest + 250.0], say);
    for (role, width, layout) in &rows {
        let asked = base.question.cloths.iter().find(|asked| asked.role == *role);
        if let (Some(asked), Some(layout)) = (asked, layout) {
            let asked = ClothAsked { width: width * asked.kept_across, ..asked.clone() };
            judge_record(&asked, layout, &base.pieces, "compared", say);
        }
        // A fold moves with the width, and a flaw does not; bars stand where they stand.
        let plain = asked.is_some_and(|asked| asked.design.is_none() && asked.flaws.is_empty());
        for (.., narrow) in rows.iter().filter(|(of, other, _)| plain && of == role && other < width) {
            if let (Some(narrow), Some(wide)) = (narrow, layout) {
                if wide.lower_bound > narrow.length + CLOSE {
                    let (bound, length) = (wide.lower_bound, narrow.length);
                    say(
                        "bound",
                        format!("{width} wide has a bound of {bound:.4}, and narrower cloth takes {length:.4}"),
                    );
                }
            }
        }
    }
}

/// Judges a layout that is told by its record alone.
fn judge_record(asked: &ClothAsked, layout: &Layout, pieces: &[PieceRecord], how: &str, say: Say<'_>) {
    for complaint in judge(&Answer { asked, layout, pieces, prices: &[] }) {
        say(complaint.judge, format!("{how}: {}", complaint.text));
    }
}

/// The command on a short time: it ends as the small path does, with sound records in whole files.
fn command(bench: &Bench<'_>, scene: &Scene, planned: bool, say: Say<'_>) {
    let args = ["plan", JOB_FILE, "--time", "200ms", "--out", "out", "--table", "--threads", "2"];
    // Files of an earlier job would be taken for this one's.
    let _ = std::fs::remove_dir_all(bench.folder.join("out"));
    let ran = bench.tools.ellwand(&bench.folder, &args);
    if let Some(complaint) = ended_badly("the command", &ran) {
        say(complaint.judge, complaint.text);
        return;
    }
    if ran.is(0) != planned && !crate::refusal::needs_a_search(&ran.stderr) {
        say("command", format!("the command ends with {:?}, and with little work it is {planned}", ran.ended));
    }
    if !ran.is(0) {
        return;
    }
    let read =
        |role: &str, kind: &str| std::fs::read_to_string(bench.folder.join("out").join(format!("{role}.{kind}")));
    let report = std::fs::read_to_string(bench.folder.join("out").join("report.html"));
    if !report.is_ok_and(|page| page.trim_end().ends_with("</html>")) {
        say("command", "report.html is not written whole".to_owned());
    }
    let Ok(pieces) = std::fs::read_to_string(bench.folder.join("pieces.json")) else { return };
    let pieces = serde_json::from_str(&pieces)
        .map_err(|fault| fault.to_string())
        .and_then(|value| crate::record::pieces(&value));
    let question = pieces.as_ref().map_err(Clone::clone).and_then(|pieces| crate::question::question(scene, pieces));
    let (Ok(pieces), Ok(question)) = (pieces, question) else { return };
    for asked in &question.cloths {
        for kind in ["layout.svg", "placing.txt", "placing-phone.txt"] {
            if read(&asked.role, kind).is_ok_and(|text| !text.trim().is_empty()) {
                continue;
            }
            say("command", format!("{}.{kind} is not written", asked.role));
        }
        let record = read(&asked.role, "layout.json").map_err(|fault| fault.to_string());
        let layout = record
            .and_then(|text| serde_json::from_str::<Value>(&text).map_err(|fault| fault.to_string()))
            .and_then(|value| crate::record::layout(&value));
        match layout {
            Ok(layout) => {
                judge_record(asked, &layout, &pieces, "the command", say);
            }
            Err(fault) => say("command", format!("the record of {}: {fault}", asked.role)),
        }
    }
}

fn fit(bench: &Bench<'_>, scene: &Scene, say: Say<'_>) {
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
    }
    for args in [&["fit", JOB_FILE, "--out", "fitted"][..], &["check", JOB_FILE, "--out", "drawn"]] {
        let ran = bench.tools.ellwand(&bench.folder, args);
        if let Some(complaint) = ended_badly(args[0], &ran) {
            say(complaint.judge, complaint.text);
        }
    }
}
