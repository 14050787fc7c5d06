//! A job of several garments: each is read as a job of its own is, and their patterns are joined into one.

mod names;
mod supplies;

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{Copies, Fabric, FitReport, Job, PieceSet, TOGETHER, ToJoin, joined, piece_sets};

use super::{
    Against, Alternatives, Converted, Fit, Made, candidates, choices::Choices, cross_grain, fabrics_of,
    format::JobFile, matching, of_record::made_of_record, pieced, placed, remnant_format::StashFile, remnants,
    spending, suits, units_of,
};
use crate::{
    document::{At, Name},
    fault::{FaultKind, JobFault, PatternFault},
    findings::Findings,
    nearest::nearest,
    pattern::{self, Reading, Room},
    record::Recorded,
};

/// One garment of a job of several, by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedGarment {
    /// What it is called.
    pub name: String,
    /// How many of it are made.
    pub count: u32,
    /// The job, as if it made this garment only. What is matched on its cloths is told in the job of all of them.
    pub job: Job,
    /// Its pattern as it is made, with names of its own.
    pub pattern: ellwand_garment::Pattern,
    /// How it was fitted.
    pub fit: Fit,
}

/// The garments of a job, each as a job of its own.
pub(crate) struct Several {
    garments: Vec<Entry>,
}

/// One of them.
pub(crate) struct Entry {
    name: String,
    count: u32,
    span: Range<usize>,
    /// What the job would say if it were the only one.
    pub(crate) file: JobFile,
}

/// What could be read of the pattern that a garment names.
pub(crate) enum OfPattern<'r> {
    /// A pattern.
    Drawn(&'r Reading<'r>),
    /// A record of pieces.
    Recorded(&'r Recorded),
}

/// What could be read of the pattern of each garment, and which findings it has.
pub(crate) type PatternsRead<'r> = [Option<(OfPattern<'r>, usize)>];

impl Several {
    /// The garments of a job, if it lists them, with every fault in how many there are and what they are called.
    pub(crate) fn of(file: &JobFile, findings: &mut Findings) -> Option<Self> {
        let listed = file.garment.as_ref()?;
        if listed.value.is_empty() && listed.sound {
            findings.add(&listed.span, JobFault::NoGarments);
        }
        let mut names: Vec<String> = Vec::new();
        let most = findings.limits().cuts_per_cloth;
        let mut garments = Vec::new();
        for (index, at) in listed.value.iter().enumerate() {
            let (own, span) = (at.value.as_job(file), reach(findings.source().text(), &at.span));
            let name = at.value.name.as_ref().map(|name| name.value.0.clone());
            let said = name.clone().unwrap_or_else(|| (index + 1).to_string());
            let count = at.value.count.as_ref().map_or(1, |count| count.value.0);
            if let (Some(count), true) = (&at.value.count, count == 0 || count > most) {
                findings.add(&count.span, JobFault::GarmentCount { garment: said.clone(), count: count.value.0, most });
            }
            if let (Some(name), Some(at)) = (&name, &at.value.name) {
                if name.contains(':') {
                    findings.add(&at.span, JobFault::GarmentWithColon { garment: name.clone() });
                }
                // A copy with pieces of its own has its number in its name.
                let copies = (1..=count.min(most)).filter(|_| count > 1).map(|k| format!("{name} {k}"));
                let called: Vec<String> = std::iter::once(name.clone()).chain(copies).collect();
                if let Some(taken) = called.iter().find(|of| names.contains(of)) {
                    findings.add(&at.span, JobFault::GarmentTwice { garment: taken.clone() });
                }
                names.extend(called);
            }
            let is_record = own.pattern.as_ref().is_some_and(|named| crate::record::is_record(&named.value.0));
            let lacks = [("pattern", own.pattern.is_none()), ("view", own.view.is_none() && !is_record)];
            if let (Some((key, _)), true) = (lacks.iter().find(|(_, lacks)| *lacks), at.sound) {
                findings.add(&span, JobFault::GarmentWithout { garment: said.clone(), key });
            }
            // One that makes no sense is told, and what else is wrong with one of them.
            let count = u32::try_from(count).ok().filter(|&count| count > 0 && u64::from(count) <= most).unwrap_or(1);
            garments.push(Entry { name: said, count, span, file: own });
        }
        Some(Self { garments })
    }

    /// Each of them.
    pub(crate) fn entries(&self) -> &[Entry] {
        &self.garments
    }
}

/// The whole of a garment whose table begins with a header, up to the header of another; as it is of one in braces.
fn reach(text: &str, span: &Range<usize>) -> Range<usize> {
    let header = |line: &str| {
        let name = line.split('#').next().unwrap_or_default().trim();
        let is_key = |c: char| c.is_alphanumeric() || "_-.\"' []".contains(c);
        name.starts_with('[') && name.ends_with(']') && name.chars().all(is_key)
    };
    let from = text.get(span.start..).unwrap_or_default();
    if !from.starts_with("[[") {
        return span.clone();
    }
    let mut end = span.start;
    for (number, line) in from.split_inclusive('\n').enumerate() {
        let own = line.trim_start().trim_start_matches('[').trim_start().starts_with("garment.");
        if number > 0 && header(line) && !own {
            break;
        }
        end += line.len();
    }
    span.start..end.max(span.end)
}

impl Entry {
    /// The garment as it is made; `None` with the faults noted. What it takes over from the job is told with its name.
    fn made(
        &self,
        of: &OfPattern<'_>,
        rooms: &[Room],
        of_pattern: &mut Findings,
        findings: &mut Findings,
    ) -> Option<Made> {
        let (mut own, mut drawn) = (findings.of_the_same_file(), of_pattern.of_the_same_file());
        let mut made = match of {
            OfPattern::Recorded(recorded) => made_of_record(&self.file, recorded, &mut own),
            OfPattern::Drawn(reading) => {
                let choices = Choices::read(&self.file, reading, &mut own);
                let chosen = choices.made_in(&reading.pattern);
                suits::note(&self.file, &reading.suits, &mut own);
                let against = Against { file: &self.file, reading, choices: &choices, chosen: &chosen };
                against.made(rooms, &mut drawn, &mut own)
            }
        };
        made.iter_mut().for_each(|made| cross_grain::allow(&self.file, &mut made.pattern));
        findings.merge(own, &self.span, |fault| FaultKind::OfGarment {
            garment: self.name.clone(),
            fault: Box::new(fault),
        });
        of_pattern.merge(drawn, &(0..usize::MAX), |fault| fault);
        made
    }
}

/// Converts a job of several garments, noting every fault. `patterns` are what could be read of the pattern that each names, with the faults of that by their
/// place among `of_patterns`. `stash` holds remnants that the job may be cut from. The result is a job only when nothing was found.
pub(crate) fn convert_several(
    file: &mut JobFile,
    several: &Several,
    (patterns, of_patterns): (&PatternsRead<'_>, &mut [Findings]),
    stash: Option<(&StashFile, &mut Findings)>,
    findings: &mut Findings,
) -> Option<Converted> {
    let candidates = candidates::convert(file, findings);
    let mut fabrics = fabrics_of(file, findings);
    remnants::convert(file, &mut fabrics, stash, findings);
    note_unused_cloths(file, several, patterns, findings);
    let rooms: Vec<Room> = fabrics.iter().map(Room::of).collect();
    let made: Vec<Option<Made>> = (several.garments.iter().zip(patterns))
        .map(|(entry, of)| {
            let (of, source) = of.as_ref()?;
            entry.made(of, &rooms, &mut of_patterns[*source], findings)
        })
        .collect();
    let made: Vec<Made> = made.into_iter().collect::<Option<_>>()?;
    let listed = file.garment.as_ref().map(|listed| listed.span.clone()).unwrap_or_default();
    if note_too_many(several, &made, &listed, findings) || findings.count() > 0 {
        return None;
    }
    let joining: Vec<ToJoin<'_>> = (several.garments.iter().zip(&made))
        .map(|(entry, made)| ToJoin {
            name: &entry.name,
            pattern: &made.pattern,
            view: &made.view,
            count: entry.count,
            copies: Copies::of(&made.pattern, &made.view, &fabrics),
        })
        .collect();
    let (mut pattern, sets) = (joined(&joining), piece_sets(&joining));
    file.view = Some(At { value: Name(TOGETHER.to_owned()), span: listed, sound: true });
    names::write_out(file, &pattern, &joining, &sets);
    let matches = matching::convert(file, &mut fabrics, &mut pattern, findings);
    pieced::note_matched(file, &fabrics, &pattern, findings);
    let view = pattern.views.first()?;
    let declared = supplies::together(&joining, &sets, &made);
    let spending = spending::convert(file, &declared, &pattern, view, findings);
    let places = sets
        .iter()
        .flat_map(|set| made[set.garment].places.iter().map(|(piece, place)| (set.name(piece), place.clone())));
    let places = placed::places(file, findings.source(), &matches, places.collect())?;
    let job = Job {
        name: file.name.as_ref()?.value.0.clone(),
        pattern: pattern.name.clone(),
        view: TOGETHER.to_owned(),
        size: pattern.size.clone(),
        units: units_of(file)?,
        fabrics,
        spending,
    };
    let fit = fit_together(&pattern, &joining, &sets, &made);
    drop(joining);
    let alternatives = Alternatives {
        of_garments: (several.garments.iter().zip(&made))
            .map(|(entry, made)| (entry.name.clone(), made.alternatives.clone()))
            .collect(),
        ..Alternatives::default()
    };
    let mut cut_to_width: Vec<String> = made.iter().flat_map(|made| made.cut_to_width.clone()).collect();
    cut_to_width.sort();
    cut_to_width.dedup();
    let garments = several.garments.iter().zip(made).map(|(entry, made)| by_itself(entry, made, &job)).collect();
    Some(Converted { job, pattern, fit, garments, places, candidates, alternatives, cut_to_width })
}

/// The garment with the job it would be made by alone.
fn by_itself(entry: &Entry, made: Made, job: &Job) -> FittedGarment {
    let plain = |fabric: &Fabric| Fabric { matching: Default::default(), ..fabric.clone() };
    let job = Job {
        pattern: made.pattern.name.clone(),
        view: made.view.name,
        size: made.pattern.size.clone(),
        fabrics: job.fabrics.iter().map(plain).collect(),
        ..job.clone()
    };
    FittedGarment { name: entry.name.clone(), count: entry.count, job, pattern: made.pattern, fit: made.fit }
}

/// The drafts of all garments, called as in the pattern; of copies that have pieces of their own those of the first. None where a record holds none.
fn fit_together(pattern: &ellwand_garment::Pattern, joining: &[ToJoin<'_>], sets: &[PieceSet], made: &[Made]) -> Fit {
    let mut drafts = Vec::new();
    for (garment, of) in joining.iter().enumerate() {
        let Some(set) = sets.iter().find(|set| set.garment == garment) else { continue };
        let of_view = made[garment].fit.drafts.iter().filter(|draft| of.view.pieces.contains(&draft.name));
        drafts.extend(of_view.map(|draft| ellwand_garment::Draft { name: set.name(&draft.name), ..draft.clone() }));
    }
    if made.iter().any(|made| made.fit.drafts.is_empty()) {
        drafts.clear();
    }
    let report = FitReport { size: pattern.size.clone(), ..FitReport::default() };
    Fit { report, before: pattern.clone(), drafts, landmarks: Vec::new(), sizes: 0 }
}

/// Notes each cloth of the job from which no garment's pattern cuts anything.
fn note_unused_cloths(file: &JobFile, several: &Several, patterns: &PatternsRead<'_>, findings: &mut Findings) {
    let mut known: Vec<String> = Vec::new();
    for of in patterns {
        match of {
            // Of a pattern that cannot be read no cloth is known.
            None => return,
            Some((OfPattern::Drawn(reading), _)) if !reading.sound && reading.roles.is_empty() => return,
            Some((OfPattern::Drawn(reading), _)) => known.extend(reading.roles.iter().cloned()),
            Some((OfPattern::Recorded(recorded), _)) => {
                let cuts = recorded.pattern.pieces.iter().flat_map(|piece| &piece.cuts);
                known.extend(cuts.map(|rule| rule.role.clone()));
            }
        }
    }
    let chosen = several.garments.iter().filter_map(|entry| entry.file.alter.as_ref());
    let cut_from = chosen.flat_map(|alter| alter.value.cut_from.iter().flat_map(|listed| &listed.value));
    let chosen: Vec<&str> = cut_from.filter_map(|at| Some(at.value.from.as_ref()?.value.0.as_str())).collect();
    let mut told: BTreeMap<String, ()> = BTreeMap::new();
    known.retain(|role| told.insert(role.clone(), ()).is_none());
    let listed = file.fabric.iter().flat_map(|fabrics| &fabrics.value.0).filter(|_| !known.is_empty());
    for (role, _) in listed {
        if !known.contains(&role.value) && !chosen.contains(&role.value.as_str()) {
            let meant = nearest(&role.value, known.iter().map(String::as_str)).map(str::to_owned);
            let fault = JobFault::NoGarmentUses { role: role.value.clone(), meant, known: known.clone() };
            findings.add(&role.span, fault);
        }
    }
}

/// Notes each cloth from which all garments together cut more than the limit. Whether there is one.
fn note_too_many(several: &Several, made: &[Made], span: &Range<usize>, findings: &mut Findings) -> bool {
    let limit = findings.limits().cuts_per_cloth;
    let mut of_role: BTreeMap<&str, u64> = BTreeMap::new();
    for (entry, made) in several.garments.iter().zip(made) {
        for piece in made.view.pieces.iter().filter_map(|name| made.pattern.piece(name)) {
            for rule in &piece.cuts {
                let cut = u64::from(rule.count).saturating_mul(u64::from(entry.count));
                let all = of_role.entry(&rule.role).or_default();
                *all = all.saturating_add(cut);
            }
        }
    }
    let too_many: Vec<u64> = of_role.into_values().filter(|count| *count > limit).collect();
    too_many.iter().for_each(|&count| findings.add(span, PatternFault::TooManyCuts { count, limit }));
    !too_many.is_empty()
}

/// Reads the patterns and records that the garments of a job name, each once.
pub(crate) struct Patterns {
    /// Which of `findings` each garment's pattern has.
    pub(crate) of: Vec<Option<usize>>,
    /// The faults of each.
    pub(crate) findings: Vec<Findings>,
    /// Whether each is a record.
    pub(crate) are_records: Vec<bool>,
}

impl Patterns {
    /// Takes the files from `shelf`; one that is not there is a fault at the garment that names it.
    pub(crate) fn take(several: &Several, shelf: &dyn crate::Shelf, findings: &mut Findings) -> Self {
        let mut known: Vec<(String, Option<usize>)> = Vec::new();
        let mut taken = Self { of: Vec::new(), findings: Vec::new(), are_records: Vec::new() };
        for entry in several.entries() {
            let Some(named) = &entry.file.pattern else {
                taken.of.push(None);
                continue;
            };
            let path = &named.value.0;
            if let Some((_, place)) = known.iter().find(|(of, _)| of == path) {
                taken.of.push(*place);
                continue;
            }
            let place = match shelf.pattern(path, findings.limits()) {
                Ok(source) => {
                    taken.findings.push(Findings::new(source, &findings.limits().clone()));
                    taken.are_records.push(crate::record::is_record(path));
                    Some(taken.findings.len() - 1)
                }
                Err(reason) => {
                    findings.add(&named.span, JobFault::Pattern { path: path.clone(), reason });
                    None
                }
            };
            known.push((path.clone(), place));
            taken.of.push(place);
        }
        taken
    }

    /// What each holds, read and noted: patterns, and records.
    pub(crate) fn read(&mut self, shelf: &dyn crate::Shelf) -> Vec<Option<HeldFile>> {
        (self.findings.iter_mut().zip(&self.are_records))
            .map(|(findings, is_record)| {
                if *is_record {
                    crate::record::read(findings).map(HeldFile::Record)
                } else {
                    pattern::read(Some(shelf), findings).map(|file| HeldFile::Pattern(Box::new(file)))
                }
            })
            .collect()
    }
}

/// What a file that a garment names holds.
pub(crate) enum HeldFile {
    /// A pattern.
    Pattern(Box<pattern::format::PatternFile>),
    /// A record of pieces.
    Record(Recorded),
}
