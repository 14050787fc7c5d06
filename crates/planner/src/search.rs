//! One prepared question is searched, and what is found becomes a checked layout. Answers already known to stricter questions are candidates
//! from the start, so an answer to a looser question is never longer than they are.

use std::time::Duration;

use ellwand_garment::{Layout, Question, Remnant, SearchNote, TracePoint};
use ellwand_nest::{
    Budget, Clock, Ended, Gain, NestError, Observer, Outcome, Packing, Regions, Settings, find_refusal, solve_sharing,
};

use crate::{
    Options, PlanError, Progress, Stage,
    assemble::{assemble, bound_in_words, face_up, judged},
    near::near_packing,
    options::{Listener, budget_name},
    pace::Pace,
    prepare::Prepared,
    stricter::retold,
};

/// What all searches of one command share.
pub(crate) struct Desk<'a> {
    pub(crate) options: &'a Options,
    pub(crate) progress: &'a dyn Progress,
    /// The no-fit regions of the command's searches: what is cut from one cloth is often cut from another too.
    pub(crate) regions: Regions,
    /// The budget, as it is shared among them.
    pub(crate) pace: Pace,
}

impl<'a> Desk<'a> {
    /// The desk of a command that begins now.
    pub(crate) fn new(options: &'a Options, progress: &'a dyn Progress) -> Self {
        Self { options, progress, regions: Regions::default(), pace: Pace::start(options.budget, options.clock) }
    }
}

/// A checked layout, and how its search ended.
pub(crate) struct Found {
    pub(crate) layout: Layout,
    pub(crate) ended: Ended,
}

/// Searches `prepared` with `budget`. Of the layouts `known`, those that answer it are candidates.
///
/// # Errors
///
/// [`PlanError::NoCommonPhase`]; faults of the program.
pub(crate) fn search(prepared: &Prepared, known: &[Layout], budget: Budget, desk: &Desk) -> Result<Found, PlanError> {
    let began = desk.options.clock.now();
    let question = prepared.question;
    let (role, nap) = (question.fabric.role.clone(), question.fabric.cloth.nap);
    desk.progress.stage(&Stage { role, way: question.way, nap });

    let candidates = known.iter().filter_map(|layout| retold(layout, prepared));
    let candidate: Option<Packing> = candidates.min_by(|a, b| a.length.total_cmp(&b.length));
    let &Options { seed, threads, clock, ref near, .. } = desk.options;
    let near = near.iter().find(|near| near.way == question.way).and_then(|near| near_packing(near, prepared));
    let settings = Settings {
        seed,
        budget,
        threads,
        known: candidate.clone(),
        near,
        clock,
        enough: enough(question),
        ..Settings::default()
    };
    let listener = Listener(desk.progress);
    let outcome = solved(prepared, &settings, &listener, &desk.regions)?;
    let packing = match candidate {
        Some(known) if known.length < outcome.best.length => known,
        _ => outcome.best.clone(),
    };
    let note = note(&outcome, began, budget, desk);
    let bound = bound_in_words(&outcome.bound, prepared);
    let layout = face_up(judged(assemble(prepared, &packing, bound, note), question)?, prepared);
    Ok(Found { layout, ended: outcome.ended })
}

/// How a search came to its outcome that began at `began` with `budget`.
pub(crate) fn note(outcome: &Outcome, began: Option<Duration>, budget: Budget, desk: &Desk) -> SearchNote {
    SearchNote {
        seed: desk.options.seed,
        effort: budget_name(desk.options.budget),
        seconds: seconds_since(began, desk.options.clock),
        start_length: outcome.start.length,
        trace: trace(&outcome.trace, budget),
    }
}

/// The length at which nothing shorter is wanted: from a remnant either everything is cut or not.
pub(crate) fn enough(question: &Question) -> f64 {
    question.fabric.cloth.remnant.as_ref().map_or(0.0, Remnant::length)
}

/// Whatever stands in the way of any search, so far as it can be seen without one.
///
/// # Errors
///
/// As [`search`].
pub(crate) fn room_for_all(prepared: &Prepared, regions: &Regions) -> Result<(), PlanError> {
    find_refusal(&prepared.problem, regions).map_err(|refusal| told(refusal, prepared))
}

pub(crate) fn solved(
    prepared: &Prepared,
    settings: &Settings,
    observer: &dyn Observer,
    regions: &Regions,
) -> Result<Outcome, PlanError> {
    solve_sharing(&prepared.problem, settings, observer, regions).map_err(|refusal| told(refusal, prepared))
}

/// The search's refusal in words of the question.
fn told(refusal: NestError, prepared: &Prepared) -> PlanError {
    let role = prepared.question.fabric.role.clone();
    match refusal {
        NestError::NoPackingFound if !prepared.problem.phases.is_empty() => PlanError::NoCommonPhase { role },
        NestError::NoClock => PlanError::NoClock,
        _ => PlanError::Refused { role, what: refusal.to_string() },
    }
}

/// The time since `began`, seconds; 0 without a clock.
fn seconds_since(began: Option<Duration>, clock: Clock) -> f64 {
    let passed = clock.now().zip(began).map(|(now, began)| now.saturating_sub(began));
    passed.unwrap_or_default().as_secs_f64()
}

/// The gains of a search as its layout tells them: without the seconds where equal work is to give equal bytes.
fn trace(gains: &[Gain], budget: Budget) -> Vec<TracePoint> {
    let timed = matches!(budget, Budget::Time(_));
    let point =
        |gain: &Gain| TracePoint { work: gain.work, seconds: timed.then_some(gain.seconds), length: gain.length };
    gains.iter().map(point).collect()
}
