//! Reading a pattern, or a job and the pattern it names.

use ellwand_garment::{Job, Pattern, Sized, Units, WayChoice};

use crate::{
    Alternatives, Candidates, Change, Faults, Fit, FittedGarment, Limits, Note, Places, Shelf, Source,
    document::read_document,
    fault::{JobFault, RemnantFault},
    findings::Findings,
    job::{
        self, Converted, HeldFile, OfPattern, Patterns, Several, convert_several, format::JobFile,
        remnant_format::StashFile,
    },
    pattern::{self, ForWhom, Reading},
    record,
};

/// How a job is read: [`Limits`] alone, or with what holds whatever the job says.
///
/// ```
/// use ellwand_files::{Limits, ReadOptions};
/// use ellwand_garment::{Way, WayChoice};
///
/// let folded = ReadOptions { ways: Some(WayChoice::Only(Way::CentreFold)), ..ReadOptions::default() };
/// assert_eq!(ReadOptions::from(&Limits::default()).ways, None);
/// assert_eq!(folded.limits, Limits::default());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ReadOptions {
    /// How much is read.
    pub limits: Limits,
    /// How every cloth lies, in place of what the job says of it; as the job says unless given. What can be matched, and which
    /// wishes are kept, is judged by these ways.
    pub ways: Option<WayChoice>,
}

impl From<&Limits> for ReadOptions {
    fn from(limits: &Limits) -> Self {
        Self { limits: *limits, ways: None }
    }
}

/// A job, and the pattern it is made from.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadJob {
    /// The job.
    pub job: Job,
    /// The pattern as the job asks for it: fitted, with the pieces it chooses, cut from what it says and with the grain it gives them.
    pub pattern: Pattern,
    /// How it was fitted; of several garments the drafts only.
    pub fit: Fit,
    /// Each garment by itself, where the job makes several; the pattern joins theirs.
    pub garments: Vec<FittedGarment>,
    /// Where the two files say what they say.
    pub places: Places,
    /// What else it could ask of its pattern.
    pub alternatives: Alternatives,
    /// The cloths that its parts may be made of besides their own.
    pub candidates: Vec<Candidates>,
    /// The roles of the cloths whose width decides how many of some piece are cut.
    pub cut_to_width: Vec<String>,
    /// What is no fault, and what the maker must know; of the job first.
    pub notes: Vec<Note>,
}

/// A pattern alone.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadPattern {
    /// The pattern in its first size, with what is taken unless a job chooses.
    pub pattern: Pattern,
    /// In all its sizes, before allowances; none of a record of pieces, which holds no draft.
    pub sized: Option<Sized>,
    /// Units to show it in: inches where its coordinates are, centimetres where they are metric or it has none.
    pub units: Units,
    /// What is no fault, and what the drafter must know.
    pub notes: Vec<Note>,
}

/// Reads a pattern, or a record of pieces where the name of the source ends in `.json`.
///
/// # Errors
///
/// Every fault found.
pub fn parse_pattern(source: &Source, limits: &Limits) -> Result<ReadPattern, Faults> {
    parse(source, None, limits)
}

/// As [`parse_pattern`], with the drawing that the pattern may name from `shelf`.
///
/// # Errors
///
/// Every fault found.
pub fn parse_pattern_from(source: &Source, shelf: &dyn Shelf, limits: &Limits) -> Result<ReadPattern, Faults> {
    parse(source, Some(shelf), limits)
}

/// What a pattern says of the drawing it picks from: its scale, unit, pages and layers. None where it names no drawing, or says these so
/// that they cannot be read; what else is at fault in it does not matter.
pub fn drawing_hints(source: &Source, limits: &Limits) -> Option<ellwand_trace::Hints> {
    pattern::hints(&mut Findings::new(source.clone(), limits))
}

/// The table of grade rules that a pattern names for its drawing, as a path from its own folder.
pub fn drawing_grades(source: &Source, limits: &Limits) -> Option<String> {
    pattern::grades(&mut Findings::new(source.clone(), limits))
}

fn parse(source: &Source, shelf: Option<&dyn Shelf>, limits: &Limits) -> Result<ReadPattern, Faults> {
    let mut findings = Findings::new(source.clone(), limits);
    if record::is_record(source.name()) {
        let pattern = record::read(&mut findings).map(|recorded| recorded.pattern);
        let notes = Findings::finish([findings], limits)?;
        let pattern = pattern.expect("a record that cannot be read has a fault; please report this");
        return Ok(ReadPattern { pattern, sized: None, units: Units::Centimetres, notes });
    }
    let file = pattern::read(shelf, &mut findings);
    let reading = file.as_ref().map(|file| pattern::convert(file, &ForWhom::default(), &mut findings));
    let (sized, pattern) = reading.map(|reading| (reading.sized_as_drawn(), reading.into_pattern())).unzip();
    let units = file.map_or(Units::Centimetres, |file| file.units());
    let notes = Findings::finish([findings], limits)?;
    let pattern = pattern.expect("a document that cannot be read has a fault; please report this");
    Ok(ReadPattern { pattern, sized, units, notes })
}

/// Reads a job, with the pattern, or the record of pieces, that it names from `shelf`. `options` are [`ReadOptions`], or a borrowed [`Limits`] alone.
///
/// # Errors
///
/// Every fault of both.
pub fn parse_job(source: &Source, shelf: &dyn Shelf, options: impl Into<ReadOptions>) -> Result<ReadJob, Faults> {
    parse_changed_job(source, shelf, options, &[])
}

/// As [`parse_job`], with `changes` made in what the job says, one after the other.
///
/// # Errors
///
/// Every fault of both, as if the changes were written in the job; what a change says is placed at the beginning of the file.
pub fn parse_changed_job(
    source: &Source,
    shelf: &dyn Shelf,
    options: impl Into<ReadOptions>,
    changes: &[Change],
) -> Result<ReadJob, Faults> {
    let ReadOptions { limits, ways } = options.into();
    let limits = &limits;
    let mut findings = Findings::new(source.clone(), limits);
    let mut job_file: Option<JobFile> = read_document(job::format::FORMAT, &mut findings);
    changes.iter().for_each(|change| job_file.iter_mut().for_each(|file| file.change(change)));
    if let (Some(file), Some(ways)) = (&mut job_file, ways) {
        file.lay_every_cloth(ways);
    }
    let mut of_stash = stash_of(job_file.as_ref(), shelf, limits, &mut findings);
    let stash: Option<StashFile> =
        of_stash.as_mut().and_then(|of_stash| read_document(job::remnant_format::FORMAT, of_stash));
    if let Some(several) = job_file.as_ref().and_then(|file| Several::of(file, &mut findings)) {
        return read_several(job_file, &several, shelf, (stash, of_stash), findings, limits);
    }
    let mut of_pattern = None;
    if let Some(named) = job_file.as_ref().and_then(|file| file.pattern.as_ref()) {
        match shelf.pattern(&named.value.0, limits) {
            Ok(file) => of_pattern = Some(Findings::new(file, limits)),
            Err(reason) => findings.add(&named.span, JobFault::Pattern { path: named.value.0.clone(), reason }),
        }
    }
    let stashed = stash.as_ref().zip(of_stash.as_mut());
    let names_a_record = |file: &JobFile| file.pattern.as_ref().is_some_and(|named| record::is_record(&named.value.0));
    let converted = match &mut job_file {
        Some(file) if names_a_record(file) => {
            let recorded = of_pattern.as_mut().and_then(record::read);
            job::convert_of_record(file, recorded, stashed, &mut findings)
        }
        _ => {
            let for_whom = job_file.as_ref().map(job::for_whom).unwrap_or_default();
            let pattern_file = of_pattern.as_mut().and_then(|of| pattern::read(Some(shelf), of));
            let reading = (pattern_file.as_ref().zip(of_pattern.as_mut()))
                .map(|(file, of_pattern)| pattern::convert(file, &for_whom, of_pattern));
            job_file
                .and_then(|file| job::convert(&file, reading.as_ref().zip(of_pattern.as_mut()), stashed, &mut findings))
        }
    };
    let notes = Findings::finish(std::iter::once(findings).chain(of_pattern).chain(of_stash), limits)?;
    Ok(read_job(converted, notes))
}

/// What there is to find fault with in the stash that a job names, if that can be had.
fn stash_of(file: Option<&JobFile>, shelf: &dyn Shelf, limits: &Limits, findings: &mut Findings) -> Option<Findings> {
    let named = file?.stash.as_ref()?;
    match shelf.stash(&named.value.0, limits) {
        Ok(file) => Some(Findings::new(file, limits)),
        Err(reason) => {
            findings.add(&named.span, RemnantFault::Stash { path: named.value.0.clone(), reason });
            None
        }
    }
}

/// A job of several garments, each with the pattern it names.
fn read_several(
    mut job_file: Option<JobFile>,
    several: &Several,
    shelf: &dyn Shelf,
    (stash, mut of_stash): (Option<StashFile>, Option<Findings>),
    mut findings: Findings,
    limits: &Limits,
) -> Result<ReadJob, Faults> {
    let mut patterns = Patterns::take(several, shelf, &mut findings);
    let held = patterns.read(shelf);
    // A pattern may go by the body, so each garment reads its own; what is wrong in it for several alike is told once.
    let sound: Vec<bool> = patterns.findings.iter().map(|findings| findings.count() == 0).collect();
    let mut readings: Vec<Option<Reading<'_>>> = Vec::new();
    for (entry, source) in several.entries().iter().zip(&patterns.of) {
        readings.push(source.and_then(|source| {
            let Some(HeldFile::Pattern(file)) = &held[source] else { return None };
            let mut own = patterns.findings[source].of_the_same_file();
            let mut reading = pattern::convert(file, &job::for_whom(&entry.file), &mut own);
            reading.sound &= sound[source];
            patterns.findings[source].merge(own, &(0..usize::MAX), |fault| fault);
            Some(reading)
        }));
    }
    let read: Vec<Option<(OfPattern<'_>, usize)>> = (patterns.of.iter().zip(&readings))
        .map(|(source, reading)| {
            let source = (*source)?;
            match (&held[source], reading) {
                (Some(HeldFile::Record(recorded)), _) => Some((OfPattern::Recorded(recorded), source)),
                (_, Some(reading)) => Some((OfPattern::Drawn(reading), source)),
                _ => None,
            }
        })
        .collect();
    let stashed = stash.as_ref().zip(of_stash.as_mut());
    let of_patterns = &mut patterns.findings;
    let converted =
        job_file.as_mut().and_then(|file| convert_several(file, several, (&read, of_patterns), stashed, &mut findings));
    let notes = Findings::finish(std::iter::once(findings).chain(patterns.findings).chain(of_stash), limits)?;
    Ok(read_job(converted, notes))
}

fn read_job(converted: Option<Converted>, notes: Vec<Note>) -> ReadJob {
    let Converted { job, pattern, fit, garments, places, candidates, alternatives, cut_to_width } =
        converted.expect("a job that cannot be read has a fault; please report this");
    ReadJob { job, pattern, fit, garments, places, alternatives, candidates, cut_to_width, notes }
}
