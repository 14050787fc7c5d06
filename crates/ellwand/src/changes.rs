//! One change of a job at a time: which are worth asking about, and the answer to each.

use std::path::Path;

use ellwand_files::{Alternatives, Change, Note, NoteKind, ReadJob, ReadOptions};
use ellwand_garment::{
    CutOrder, Fabric, GrainRule, Hands, Job, Nap, Pattern, SeamKind, Units, View, Way, WayChoice, format_length,
};
use ellwand_planner::{Answered, Case, JobPlan, Options, Progress, lend, plan_cases};
use ellwand_report::{About, Impossible, Weighed};

use crate::{exit::Failure, input};

/// By how much a length is changed: an inch, or 2.5 cm, mm.
fn a_little(units: Units) -> f64 {
    match units {
        Units::Inches => 25.4,
        Units::Centimetres => 25.0,
    }
}

/// Words in the names of pieces that are seen little, and where they show all the same.
const HIDDEN: [(&str, &str); 5] = [
    ("facing", "inside where it falls open"),
    ("under collar", "where the collar is turned up"),
    ("undercollar", "where the collar is turned up"),
    ("pocket bag", "inside the pocket"),
    ("pocket back", "at the mouth of the pocket"),
];

/// Whether a piece is worn with its right side outward: it is turned at a roll line or belongs to a lapel, as a facing does that is the lapel.
fn is_turned_outward(name: &str, pattern: &Pattern) -> bool {
    let turned = pattern.seams.iter().any(|seam| {
        let sides = || std::iter::once(&seam.a).chain(&seam.b);
        sides().any(|side| side.piece == name)
            && (seam.kind == SeamKind::Lapel || sides().any(|side| side.roll.is_some()))
    });
    let called = |text: &str| ["lapel", "shawl"].iter().any(|word| text.to_lowercase().contains(word));
    let edges = pattern.piece(name).into_iter().flat_map(|piece| &piece.edges);
    turned || called(name) || edges.into_iter().any(|edge| called(&edge.name))
}

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

/// What may be changed in what is asked of a pattern that is made from the cloths of `job`.
fn of_pattern(alternatives: &Alternatives, job: &Job) -> Vec<Proposal> {
    let units = job.units;
    let mut all = Vec::new();
    for line in &alternatives.lines {
        let by = a_little(units);
        for (by, way) in [(-by, "shorter"), (by, "longer")] {
            let what = format!("{} {way} at \"{line}\"", format_length(by.abs(), units));
            let about = if by > 0.0 { About::More } else { About::Other };
            all.push(Proposal::one(what, Change::Lengthened { line: line.clone(), by }).about(about));
        }
    }
    all.extend(alternatives.pieced.iter().map(|piece| {
        let change = Change::Pieced { piece: piece.clone() };
        let about = About::Join { garment: None, piece: piece.clone() };
        Proposal::one(format!("{piece} in two halves, joined"), change).about(about)
    }));
    all.extend(across(&alternatives.strips, job));
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

/// Straight strips across the grain, each and all of them: of cloth that looks the same from every side, and that is seen.
fn across(strips: &[(String, Vec<String>)], job: &Job) -> Vec<Proposal> {
    let may_turn = |role: &String| {
        let fabric = job.fabric(role).filter(|fabric| !is_unseen(&fabric.role));
        fabric.is_some_and(|fabric| fabric.cloth.nap == Nap::Without && fabric.cloth.design.is_none())
    };
    let strips = strips.iter().filter(|(_, roles)| roles.iter().any(may_turn)).map(|(piece, _)| piece);
    let pieces: Vec<&String> = strips.collect();
    let change = |piece: &&String| Change::Across { piece: (*piece).clone() };
    let each = pieces.iter().map(|piece| {
        let about = About::Across { garment: None, piece: (*piece).clone() };
        Proposal::one(format!("{piece} across the grain"), change(piece)).about(about)
    });
    let names: Vec<&str> = pieces.iter().map(|piece| piece.as_str()).collect();
    let all = Proposal {
        what: format!("{} across the grain", list(&names)),
        about: About::Other,
        changes: pieces.iter().map(change).collect(),
    };
    each.chain((pieces.len() > 1).then_some(all)).collect()
}

/// "Tie", "Tie and Band", "Tie, Band and Strap".
fn list(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// Whether nobody sees the cloth of this role once the garment is made.
fn is_unseen(role: &str) -> bool {
    role == "interfacing" || role == "lining"
}

/// Everything worth asking about, of the cloths `chosen`, or of all. Where every cloth is laid one way whatever the job says, no other way is.
fn proposed(read: &ReadJob, reading: ReadOptions, chosen: &[String]) -> Vec<Proposal> {
    let ReadJob { job, pattern, alternatives, .. } = read;
    let mut all = of_pattern(alternatives, job);
    for (garment, own) in &alternatives.of_garments {
        // Several garments are made in the sizes that were ordered.
        let own = Alternatives { next_sizes: Vec::new(), ..own.clone() };
        let of_garment = |change: Change| Change::OfGarment { garment: garment.clone(), change: Box::new(change) };
        all.extend(of_pattern(&own, job).into_iter().map(|Proposal { what, about, changes }| Proposal {
            what: format!("{garment}: {what}"),
            about: match about {
                About::Join { piece, .. } => About::Join { garment: Some(garment.clone()), piece },
                About::Across { piece, .. } => About::Across { garment: Some(garment.clone()), piece },
                other => other,
            },
            changes: changes.into_iter().map(of_garment).collect(),
        }));
    }
    if let Some(view) = pattern.view(&job.view) {
        // Pieces of several garments are called otherwise than in the files.
        if alternatives.of_garments.is_empty() {
            all.extend(from_other_cloth(job, pattern, view, chosen));
        }
        let is_chosen = |fabric: &&Fabric| chosen.is_empty() || chosen.contains(&fabric.role);
        for fabric in job.fabrics.iter().filter(is_chosen) {
            all.extend(of_cloth(fabric, pattern, view, reading));
        }
    }
    all
}

/// Pieces cut from a cloth that is bought anyway: what is seen little from the lining, the contrast from the main cloth. Of cloths that are not planned nothing
/// can be told.
fn from_other_cloth(job: &Job, pattern: &Pattern, view: &View, chosen: &[String]) -> Vec<Proposal> {
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
    let has = |role: &str| job.fabric(role).is_some() && (chosen.is_empty() || chosen.iter().any(|of| of == role));
    let mut all = Vec::new();
    if has("main") && has("lining") {
        for (word, shows) in HIDDEN {
            let mut pieces = cut_first_from("main");
            pieces.retain(|piece| piece.to_lowercase().contains(word) && !is_turned_outward(piece, pattern));
            if !pieces.is_empty() {
                let what = format!("{} from the lining, which shows {shows}", pieces.join(", "));
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
    let orders = pattern.cut_orders(view, &fabric.role);
    let is_cut_double =
        |order: &CutOrder| order.rule.on_fold || (order.rule.hands != Hands::Same && order.copies.len() > 1);
    let other_way = match fabric.ways {
        WayChoice::Only(Way::CentreFold) => Some(("laid open", WayChoice::Only(Way::Open), About::Other)),
        WayChoice::Only(Way::Open) if orders.iter().any(is_cut_double) => {
            Some(("folded, two layers cut at once", WayChoice::Only(Way::CentreFold), About::More))
        }
        WayChoice::Only(Way::Open) => None,
        WayChoice::Only(_) => Some(("laid in whichever way buys least", WayChoice::Any, About::Other)),
        // One of these ways is an open layer, which takes as little as any fold.
        WayChoice::Either | WayChoice::Any => None,
    };
    if let Some((what, ways, about)) = other_way.filter(|_| reading.ways.is_none()) {
        all.push(Proposal::one(said(what), Change::Layout { role: role(), ways }).about(about));
    }
    let leans = [(1.0, "up to 1 degree off the grain"), (2.0, "up to 2 degrees off the grain")];
    for (degrees, what) in leans.into_iter().filter(|(degrees, _)| fabric.cloth.off_grain_deg < *degrees) {
        let what = said(what);
        all.push(Proposal::one(what, Change::OffGrain { role: role(), degrees }));
    }
    if is_unseen(&fabric.role)
        && fabric.cloth.design.is_none()
        && orders.iter().any(|order| order.grain() == GrainRule::Straight)
    {
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
pub(crate) fn possible(read: &ReadJob, reading: ReadOptions, chosen: &[String]) -> Vec<About> {
    let all = proposed(read, reading, chosen).into_iter().map(|proposal| proposal.about);
    all.filter(|about| !matches!(about, About::Other | About::More)).collect()
}

/// Every change, answered as a plan of the changed job is; of its cloths those that are `chosen`, or all. What cannot be written in the job, such as a piece
/// shortened to nothing, says why. What serves a changed job and is shorter than what was found for the job itself becomes `own`, and so among the changes.
pub(crate) fn weighed(
    path: &Path,
    read: &ReadJob,
    reading: ReadOptions,
    (own, options, chosen): (&mut JobPlan, &Options, &[String]),
    progress: &dyn Progress,
) -> Result<Vec<Weighed>, Failure> {
    let changed: Vec<((String, About), Result<ReadJob, Impossible>)> = (proposed(read, reading, chosen).into_iter())
        .map(|Proposal { what, about, changes }| {
            let changed = input::read_thought_of(path, reading, &changes);
            let lost = changed.as_ref().map(|changed| trims_lost(read, changed)).unwrap_or_default();
            ((format!("{what}{lost}"), about), changed)
        })
        .collect();
    let sound = changed.iter().filter_map(|(_, read)| read.as_ref().ok());
    let cases: Vec<Case<'_>> = sound.map(|read| Case { job: &read.job, pattern: &read.pattern }).collect();
    let mut answers = plan_cases(&cases, chosen, options, progress)
        .map_err(|fault| input::plan_failure(path, &[fault], &read.places, read.job.units))?;
    let itself = Answered { case: Case { job: &read.job, pattern: &read.pattern }, plan: own };
    let others = cases
        .iter()
        .zip(&mut answers)
        .filter_map(|(&case, answer)| Some(Answered { case, plan: answer.as_mut().ok()? }));
    lend(&mut std::iter::once(itself).chain(others).collect::<Vec<_>>());
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

/// " (without Braid on Front: front edge)", the edges that are trimmed in the job and no longer with a change; nothing where there are none.
fn trims_lost(own: &ReadJob, changed: &ReadJob) -> String {
    let lost = |read: &ReadJob| -> Vec<String> {
        let kinds = read.notes.iter().map(Note::kind);
        kinds
            .filter_map(|kind| match kind {
                NoteKind::NotTrimmed { trim, piece, edge, .. } => Some(format!("{trim} on {piece}: {edge}")),
                _ => None,
            })
            .collect()
    };
    let before = lost(own);
    let lost: Vec<String> = lost(changed).into_iter().filter(|edge| !before.contains(edge)).collect();
    if lost.is_empty() { String::new() } else { format!(" (without {})", lost.join(", ")) }
}
