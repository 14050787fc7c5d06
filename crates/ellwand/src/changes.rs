//! One change of a job at a time: which are worth asking about, and the answer to each.

use std::path::Path;

use ellwand_files::{Alternatives, Change, ReadJob, ReadOptions};
use ellwand_garment::{Fabric, GrainRule, Job, LayerChoice, Nap, Pattern, Units, View, format_length};
use ellwand_planner::{Case, Options, Progress, plan_cases};
use ellwand_report::{About, Impossible, Weighed};

use crate::{exit::Failure, input};

/// By how much a length is changed: an inch, or 2.5 cm, mm.
fn a_little(units: Units) -> f64 {
    match units {
        Units::Inches => 25.4,
        Units::Centimetres => 25.0,
    }
}

/// Words in the names of pieces that nobody sees from outside.
const HIDDEN: [&str; 5] = ["facing", "under collar", "undercollar", "pocket bag", "pocket back"];

/// What a person may think of changing in a job, with its words.
struct Proposal {
    what: String,
    about: About,
    changes: Vec<Change>,
}

impl Proposal {
    fn one(what: impl Into<String>, change: Change) -> Self {
        Self { what: what.into(), about: About::Other, changes: vec![change] }
    }

    fn about(self, about: About) -> Self {
        Self { about, ..self }
    }
}

/// What may be changed in what is asked of a pattern.
fn of_pattern(alternatives: &Alternatives, units: Units) -> Vec<Proposal> {
    let mut all = Vec::new();
    for line in &alternatives.lines {
        let by = a_little(units);
        for (by, way) in [(-by, "shorter"), (by, "longer")] {
            let what = format!("{} {way} at \"{line}\"", format_length(by.abs(), units));
            all.push(Proposal::one(what, Change::Lengthened { line: line.clone(), by }));
        }
    }
    all.extend(alternatives.pieced.iter().map(|piece| {
        let change = Change::Pieced { piece: piece.clone() };
        let about = About::Join { garment: None, piece: piece.clone() };
        Proposal::one(format!("{piece} in two halves, joined"), change).about(about)
    }));
    for option in &alternatives.options {
        all.extend(option.others.iter().map(|choice| {
            let change = Change::Choice { option: option.name.clone(), choice: choice.clone() };
            Proposal::one(format!("{}: {choice} instead of {}", option.name, option.taken), change)
        }));
    }
    let sizes = alternatives.next_sizes.iter();
    all.extend(sizes.map(|size| Proposal::one(format!("size {size}"), Change::Size(size.clone()))));
    all
}

/// Everything worth asking about. Where every cloth is laid one way whatever the job says, no other way is.
fn proposed(read: &ReadJob, reading: ReadOptions) -> Vec<Proposal> {
    let ReadJob { job, pattern, alternatives, .. } = read;
    let mut all = of_pattern(alternatives, job.units);
    for (garment, own) in &alternatives.of_garments {
        let of_garment = |change: Change| Change::OfGarment { garment: garment.clone(), change: Box::new(change) };
        all.extend(of_pattern(own, job.units).into_iter().map(|Proposal { what, about, changes }| Proposal {
            what: format!("{garment}: {what}"),
            about: match about {
                About::Join { piece, .. } => About::Join { garment: Some(garment.clone()), piece },
                other => other,
            },
            changes: changes.into_iter().map(of_garment).collect(),
        }));
    }
    if let Some(view) = pattern.view(&job.view) {
        // Pieces of several garments are called otherwise than in the files.
        if alternatives.of_garments.is_empty() {
            all.extend(from_other_cloth(job, pattern, view));
        }
        for fabric in &job.fabrics {
            all.extend(of_cloth(fabric, pattern, view, reading));
        }
    }
    all
}

/// Pieces cut from a cloth that is bought anyway: what nobody sees from the lining, the contrast from the main cloth.
fn from_other_cloth(job: &Job, pattern: &Pattern, view: &View) -> Vec<Proposal> {
    let cut_first_from = |role: &str| -> Vec<&str> {
        let pieces = view.pieces.iter().filter_map(|name| pattern.piece(name));
        let of_role = |piece: &&ellwand_garment::Piece| {
            let others = piece.cuts.iter().skip(1);
            piece.cuts.first().is_some_and(|rule| rule.role == role) && others.clone().all(|rule| rule.role != "lining")
        };
        pieces.filter(of_role).map(|piece| piece.name.as_str()).collect()
    };
    let moved = |pieces: &[&str], from: &str| -> Vec<Change> {
        pieces.iter().map(|piece| Change::CutFrom { piece: (*piece).to_owned(), from: from.to_owned() }).collect()
    };
    let has = |role: &str| job.fabric(role).is_some();
    let mut all = Vec::new();
    if has("main") && has("lining") {
        for word in HIDDEN {
            let mut pieces = cut_first_from("main");
            pieces.retain(|piece| piece.to_lowercase().contains(word));
            if !pieces.is_empty() {
                let what = format!("{} from the lining", pieces.join(", "));
                all.push(Proposal { what, about: About::Other, changes: moved(&pieces, "lining") });
            }
        }
    }
    if has("main") && has("contrast") {
        let mut pieces = cut_first_from("contrast");
        pieces
            .retain(|name| pattern.piece(name).is_some_and(|piece| piece.cuts.iter().all(|rule| rule.role != "main")));
        if !pieces.is_empty() {
            let what = "contrast from the main cloth".into();
            all.push(Proposal { what, about: About::Other, changes: moved(&pieces, "main") });
        }
    }
    all
}

/// How one cloth may be laid otherwise.
fn of_cloth(fabric: &Fabric, pattern: &Pattern, view: &View, reading: ReadOptions) -> Vec<Proposal> {
    let mut all = Vec::new();
    let role = || fabric.role.clone();
    let said = |what: &str| format!("{}: {what}", fabric.role);
    if fabric.cloth.nap == Nap::With {
        let change = Change::Nap { role: role(), nap: Nap::Without };
        all.push(Proposal::one(said("tops either way, the nap not heeded"), change));
    }
    let other_way = match fabric.layer {
        LayerChoice::Fold => Some(("laid open", LayerChoice::Open)),
        LayerChoice::Open => Some(("folded or open, whichever is shorter", LayerChoice::Either)),
        LayerChoice::Either => None,
    };
    if let Some((what, layer)) = other_way.filter(|_| reading.layer.is_none()) {
        all.push(Proposal::one(said(what), Change::Layer { role: role(), layer }));
    }
    for degrees in [1.0, 2.0].into_iter().filter(|degrees| fabric.cloth.off_grain_deg < *degrees) {
        let what = said(&format!("up to {degrees} degrees off the grain")).replace("1 degrees", "1 degree");
        all.push(Proposal::one(what, Change::OffGrain { role: role(), degrees }));
    }
    let orders = pattern.cut_orders(view, &fabric.role);
    let is_unseen = fabric.role == "interfacing" || fabric.role == "lining";
    if is_unseen && fabric.cloth.design.is_none() && orders.iter().any(|order| order.grain() == GrainRule::Straight) {
        let change = Change::CrossGrain { role: role() };
        all.push(Proposal::one(said("across the grain too"), change).about(About::Grain { role: role() }));
    }
    let seams =
        fabric.matching.matches.iter().filter(|wanted| pattern.seams.iter().any(|seam| seam.name == wanted.name));
    all.extend(seams.map(|wanted| {
        let change = Change::Unmatched { role: role(), seam: wanted.name.clone() };
        Proposal::one(said(&format!("\"{}\" not matched", wanted.name)), change)
    }));
    all
}

/// What the changes that could be asked about are about.
pub(crate) fn possible(read: &ReadJob, reading: ReadOptions) -> Vec<About> {
    let all = proposed(read, reading).into_iter().map(|proposal| proposal.about);
    all.filter(|about| *about != About::Other).collect()
}

/// Every change, answered as a plan of the changed job is; of its cloths those that are `chosen`, or all. What cannot be written in the job, such as a piece
/// shortened to nothing, says why.
pub(crate) fn weighed(
    path: &Path,
    read: &ReadJob,
    reading: ReadOptions,
    (options, chosen): (&Options, &[String]),
    progress: &dyn Progress,
) -> Result<Vec<Weighed>, Failure> {
    let changed: Vec<((String, About), Result<ReadJob, Impossible>)> = (proposed(read, reading).into_iter())
        .map(|Proposal { what, about, changes }| ((what, about), input::read_thought_of(path, reading, &changes)))
        .collect();
    let sound = changed.iter().filter_map(|(_, read)| read.as_ref().ok());
    let cases: Vec<Case<'_>> = sound.map(|read| Case { job: &read.job, pattern: &read.pattern }).collect();
    let answers = plan_cases(&cases, chosen, options, progress)
        .map_err(|fault| input::plan_failure(path, &[fault], &read.places, read.job.units))?;
    let mut answers = answers.into_iter();
    let weighed = changed.into_iter().filter_map(|((what, about), read)| {
        let answer = match read {
            Ok(_) => answers.next()?.map_err(Impossible::from),
            Err(why) => Err(why),
        };
        Some(Weighed { what, about, answer })
    });
    Ok(weighed.collect())
}
