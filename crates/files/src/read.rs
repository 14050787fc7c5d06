//! Reading a pattern or a job from the file system or from text.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use ellwand_garment::{FitReport, Job, Pattern};

use crate::{
    Limits,
    document::read_document,
    fault::{Faults, FileFault, Findings, JobFault},
    job, pattern,
    source::{self, SourceFile},
};

/// A job and the pattern it is made from.
#[derive(Debug, Clone, PartialEq)]
pub struct JobAndPattern {
    /// The job.
    pub job: Job,
    /// The pattern as the job asks for it: fitted, with the pieces it chooses, cut from what it says and with the grain it gives them.
    pub pattern: Pattern,
    /// How it was fitted.
    pub fit: Fit,
}

/// How a pattern was fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// What there is to tell.
    pub report: FitReport,
    /// The pattern in the size nearest to it, with the same pieces and nothing altered.
    pub before: Pattern,
}

/// Reads a job file and the pattern it names.
///
/// # Errors
///
/// Every fault of both files.
pub fn read_job(path: &Path, limits: &Limits) -> Result<JobAndPattern, Faults> {
    let file = open(path, limits)?;
    job_from(file, limits, |named| source::read(&beside(path, named), limits))
}

/// Reads a pattern file.
///
/// # Errors
///
/// Every fault found.
pub fn read_pattern(path: &Path, limits: &Limits) -> Result<Pattern, Faults> {
    pattern_from(open(path, limits)?, limits)
}

/// Reads a pattern from text. `path` is the name that faults show.
///
/// # Errors
///
/// Every fault found.
pub fn parse_pattern(path: &Path, text: &str, limits: &Limits) -> Result<Pattern, Faults> {
    pattern_from(SourceFile::from_text(path, text), limits)
}

/// Reads a job from text, with the text of its pattern. Paths are the names that faults show.
///
/// # Errors
///
/// Every fault of both texts.
pub fn parse_job(job: (&Path, &str), pattern: (&Path, &str), limits: &Limits) -> Result<JobAndPattern, Faults> {
    let file = SourceFile::from_text(job.0, job.1);
    job_from(file, limits, |_| Ok(SourceFile::from_text(pattern.0, pattern.1)))
}

fn open(path: &Path, limits: &Limits) -> Result<Arc<SourceFile>, Faults> {
    source::read(path, limits).map_err(|fault| {
        let mut findings = Findings::new(SourceFile::from_text(path, ""), limits);
        findings.add_for_file(fault);
        Findings::into_faults([findings], limits).expect("a fault was just added")
    })
}

/// The path of a pattern that a job names, counted from the folder of the job.
fn beside(job: &Path, named: &str) -> PathBuf {
    job.parent().map_or_else(|| PathBuf::from(named), |folder| folder.join(named))
}

fn pattern_from(file: Arc<SourceFile>, limits: &Limits) -> Result<Pattern, Faults> {
    let mut findings = Findings::new(file, limits);
    let pattern = read_document(pattern::format::FORMAT, &mut findings)
        .map(|file| pattern::convert(&file, limits, &mut findings).into_pattern());
    match (Findings::into_faults([findings], limits), pattern) {
        (None, Some(pattern)) => Ok(pattern),
        (Some(faults), _) => Err(faults),
        (None, None) => unreachable!("a document that cannot be read has a fault; please report this"),
    }
}

fn job_from(
    file: Arc<SourceFile>,
    limits: &Limits,
    open_pattern: impl FnOnce(&str) -> Result<Arc<SourceFile>, FileFault>,
) -> Result<JobAndPattern, Faults> {
    let mut findings = Findings::new(file, limits);
    let job_file: Option<job::format::JobFile> = read_document(job::format::FORMAT, &mut findings);
    let mut of_pattern = None;
    if let Some(named) = job_file.as_ref().and_then(|file| file.pattern.as_ref()) {
        match open_pattern(&named.value.0) {
            Ok(file) => of_pattern = Some(Findings::new(file, limits)),
            Err(reason) => findings.add(&named.span, JobFault::Pattern { path: named.value.0.clone(), reason }),
        }
    }
    let pattern_file: Option<pattern::format::PatternFile> =
        of_pattern.as_mut().and_then(|of_pattern| read_document(pattern::format::FORMAT, of_pattern));
    let reading = (pattern_file.as_ref().zip(of_pattern.as_mut()))
        .map(|(file, of_pattern)| pattern::convert(file, limits, of_pattern));
    let read =
        job_file.and_then(|file| job::convert(&file, reading.as_ref().zip(of_pattern.as_mut()), limits, &mut findings));
    match (Findings::into_faults(std::iter::once(findings).chain(of_pattern), limits), read) {
        (None, Some(read)) => Ok(read),
        (Some(faults), _) => Err(faults),
        (None, None) => unreachable!("a job that cannot be read has a fault; please report this"),
    }
}
