//! The same question in other words, and stricter ones: what one answer says about another.

mod again;
mod commands;
mod compare;
mod drawn_back;
pub(crate) mod garments;
mod layout;
pub(crate) mod likeness;
mod words;

use serde_json::Value;
use toml::Value as Toml;

use crate::{
    judge::{Answer, Complaint, judge},
    make::{JOB_FILE, Scene},
    question::{ClothAsked, Laying, Way},
    record::{Layout, PieceRecord},
    trial::{Bench, ClothPlanned, NotPlanned, Planned, judge_planned},
};
use again::{Again, again, cloths_alone, has_notions, of_record};
use commands::{command, fit};
use compare::{candidates, compare, wider};

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
    /// `any` never buys more than one of its ways, and no way is longer than those that it comprises.
    Layout,
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
    Relation::Layout,
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

/// Holds a scene to a relation. A scene that cannot be planned is held to none but the ones on words and on `fit`.
pub(crate) fn relate(bench: &Bench<'_>, scene: &Scene, relation: Relation) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut say = |judge: &'static str, text: String| found.push(Complaint { judge, text });
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
        (Relation::Layout, Some(base)) => layout::layout(bench, scene, base, &mut say),
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

/// Cloths of two plans by role, cut from the same piece of cloth, where no wish makes them differ in what is asked.
fn both<'p>(one: &'p Planned, other: &'p Planned) -> impl Iterator<Item = (&'p ClothPlanned, &'p ClothPlanned)> {
    one.cloths.iter().filter_map(move |cloth| {
        let same = other.cloths.iter().find(|of| of.layout.fabric == cloth.layout.fabric)?;
        let role = &cloth.layout.fabric;
        let is_asked_alike = same.layout.given_up == cloth.layout.given_up
            && same.layout.remnant == cloth.layout.remnant
            && !one.is_parted(role)
            && !other.is_parted(role);
        is_asked_alike.then_some((cloth, same))
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

/// A stricter question: its layout answers the first one too, so no bound lies above it, and where that is promised it is not shorter; where any way
/// of laying will do the length may be given up for less work, and it does not buy less.
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
                // On a remnant it is enough that everything fits, so that an easier question may have the longer answer.
                let told = |value: fn(&Layout) -> f64| (value(&loose.layout), value(&strict.layout));
                let laying = base.question.of(&loose.layout).map(|asked| asked.laying);
                let (taken, least) = match laying {
                    _ if !promised || loose.layout.remnant.is_some() => continue,
                    Some(Laying::Only(Way::Open | Way::CentreFold) | Laying::Either) => told(|layout| layout.length),
                    Some(Laying::Any) => told(|layout| layout.purchase.buy),
                    // Each of its folds is searched for itself.
                    Some(Laying::Only(_)) | None => continue,
                };
                if taken > least + CLOSE {
                    say("stricter", format!("{how}: {least:.4} mm, and the looser question takes {taken:.4}"));
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

/// What a job asks of each cloth that is bought, whatever it is cut from in the end.
fn as_bought(base: &Planned) -> Vec<ClothAsked> {
    crate::question::question(&base.scene, &base.pieces).map(|question| question.cloths).unwrap_or_default()
}

/// Judges a layout that is told by its record alone; of a remnant as cut from that.
fn judge_record(asked: &ClothAsked, layout: &Layout, pieces: &[PieceRecord], how: &str, say: Say<'_>) {
    let mut asked = asked.clone();
    if let Some(name) = layout.remnant.as_ref().filter(|name| !asked.lie_as(name)) {
        return say("records", format!("{how}: {} is cut from a remnant \"{name}\" that nobody told of", asked.role));
    }
    let asked = &asked;
    for complaint in judge(&Answer { asked, layout, pieces, prices: &[] }) {
        say(complaint.judge, format!("{how}: {}", complaint.text));
    }
}
