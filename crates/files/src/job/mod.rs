//! From what a job file says to the job it means, by itself and against its pattern.

mod alter;
mod alternatives;
mod candidates;
mod change;
mod choices;
mod creases;
mod cross_grain;
mod design;
pub(crate) mod design_format;
mod fabric;
mod fit;
pub(crate) mod fit_format;
pub(crate) mod format;
pub(crate) mod garment_format;
mod garments;
mod layout_word;
mod lengths;
mod matching;
pub(crate) mod matching_format;
mod of_record;
mod pieced;
mod placed;
pub(crate) mod remnant_format;
mod remnants;
mod spending;
mod suits;
pub(crate) mod supply_format;
mod untrimmed;

use std::collections::BTreeMap;

use ellwand_garment::{Fabric, Job, Pattern, Units, View};

use crate::{
    Place, Places,
    document::{At, Named},
    fault::JobFault,
    findings::Findings,
    nearest::nearest,
    note::NoteKind,
    pattern::{ForWhom, Reading, Room, cuts, supplies::DeclaredSupplies},
};
pub use alternatives::{Alternatives, NamedSize, OpenOption};
pub use candidates::Candidates;
pub use change::Change;
use choices::Choices;
pub use fit::Fit;
use fit_format::SizeWord;
use format::{FabricEntry, JobFile};
pub use garments::FittedGarment;
pub(crate) use garments::{HeldFile, OfPattern, Patterns, Several, convert_several};
pub(crate) use of_record::convert_of_record;
use remnant_format::StashFile;

/// A job that was read with its pattern.
pub(crate) struct Converted {
    pub(crate) job: Job,
    /// As the job asks for it.
    pub(crate) pattern: Pattern,
    pub(crate) fit: Fit,
    /// Each garment by itself, where there are several.
    pub(crate) garments: Vec<FittedGarment>,
    pub(crate) places: Places,
    pub(crate) candidates: Vec<Candidates>,
    pub(crate) alternatives: Alternatives,
    /// The roles of the cloths whose width decides how many of some piece are cut.
    pub(crate) cut_to_width: Vec<String>,
}

/// One garment as it is made, before anything is laid on a cloth.
pub(crate) struct Made {
    /// As the job asks for it.
    pub(crate) pattern: Pattern,
    /// Its view.
    pub(crate) view: View,
    pub(crate) fit: Fit,
    pub(crate) alternatives: Alternatives,
    pub(crate) supplies: DeclaredSupplies,
    pub(crate) places: BTreeMap<String, Place>,
    /// The roles of the cloths whose width decides how many of some piece are cut.
    pub(crate) cut_to_width: Vec<String>,
}

/// Converts a job, noting every fault. `pattern` is what could be read of its pattern, with the faults of that. Without it only the
/// job itself is judged. `stash` holds remnants that the job may be cut from. Pieces that the job lays on the bias or at a border get another grain in the pattern. The result is a
/// job only when nothing was found.
pub(crate) fn convert(
    file: &JobFile,
    pattern: Option<(&Reading<'_>, &mut Findings)>,
    stash: Option<(&StashFile, &mut Findings)>,
    findings: &mut Findings,
) -> Option<Converted> {
    let units = units_of(file);
    let candidates = candidates::convert(file, findings);
    let mut fabrics = fabrics_of(file, findings);
    remnants::convert(file, &mut fabrics, stash, findings);
    let (reading, of_pattern) = pattern?;
    suits::note(file, &reading.suits, findings);
    let choices = Choices::read(file, reading, findings);
    let mut chosen = choices.made_in(&reading.pattern);
    cross_grain::allow(file, &mut chosen);
    let against = Against { file, reading, choices: &choices, chosen: &chosen };
    against.check_cloths(findings);
    let rooms: Vec<Room> = fabrics.iter().map(Room::of).collect();
    let made = against.made(&rooms, of_pattern, findings);
    let Some(Made { mut pattern, fit, alternatives, places, supplies, cut_to_width, .. }) = made else {
        if reading.sound {
            matching::note_without_fit(file, &mut fabrics, &chosen, findings);
            if let Some(view) = file.view.as_ref().and_then(|view| chosen.view(&view.value.0)) {
                spending::convert(file, &reading.supplies, &chosen, view, findings);
            }
        }
        return None;
    };
    if let (Some(view), Some(at)) = (file.view.as_ref().and_then(|view| pattern.view(&view.value.0)), &file.view) {
        cuts::note_too_many(&pattern, view, &at.span, findings);
    }
    let matches = matching::convert(file, &mut fabrics, &mut pattern, findings);
    pieced::note_matched(file, &fabrics, &pattern, findings);
    let made = file.view.as_ref().and_then(|view| pattern.view(&view.value.0))?;
    let spending = spending::convert(file, &supplies, &pattern, made, findings);
    let places = placed::places(file, findings.source(), &matches, places)?;
    let job = Job {
        name: file.name.as_ref()?.value.0.clone(),
        pattern: pattern.name.clone(),
        view: file.view.as_ref()?.value.0.clone(),
        size: pattern.size.clone(),
        units: units?,
        fabrics,
        spending,
    };
    Some(Converted { job, pattern, fit, garments: Vec::new(), places, candidates, alternatives, cut_to_width })
}

/// Whose body pieces go by that are drawn by a measure of it.
pub(crate) fn for_whom(file: &JobFile) -> ForWhom {
    let listed = file.body.iter().flat_map(|body| &body.value.0);
    let to_measure = matches!(&file.size, Some(At { value: SizeWord::Word(word), .. }) if word.0 == "to measure");
    ForWhom { body: listed.map(|(measure, length)| (measure.value.clone(), length.value.mm())).collect(), to_measure }
}

fn units_of(file: &JobFile) -> Option<Units> {
    file.units.as_ref().map(|units| Units::from(units.value))
}

/// The cloths of a job; those at fault are left out.
fn fabrics_of(file: &JobFile, findings: &mut Findings) -> Vec<Fabric> {
    let currency = file.currency.as_ref().map(|currency| currency.value.0.clone());
    let mut fabrics = Vec::new();
    if let Some(listed) = &file.fabric {
        for (role, entry) in &listed.value.0 {
            fabrics.extend(fabric::convert(&role.value, &entry.value, units_of(file), &currency, findings));
        }
        note_selvages(listed, findings);
    }
    fabrics
}

/// Notes, once, the cloths and candidates whose selvages are not told.
fn note_selvages(listed: &At<Named<FabricEntry>>, findings: &mut Findings) {
    let (mut first, mut roles) = (None, Vec::new());
    for (role, entry) in &listed.value.0 {
        if !entry.value.selvage_given {
            first.get_or_insert(&role.span);
            roles.push(role.value.clone());
        }
        let candidates = entry.value.candidate.iter().flat_map(|listed| &listed.value);
        for candidate in candidates.filter(|candidate| !candidate.value.selvage_given) {
            first.get_or_insert(&candidate.span);
            roles.extend(candidate.value.name.as_ref().map(|name| name.value.0.clone()));
        }
    }
    if let Some(first) = first {
        findings.note(first, NoteKind::NoSelvage { roles });
    }
}

/// A job against its pattern.
struct Against<'a> {
    file: &'a JobFile,
    reading: &'a Reading<'a>,
    choices: &'a Choices<'a>,
    /// The pattern with the pieces the job chooses.
    chosen: &'a Pattern,
}

impl Against<'_> {
    /// The garment as it is made, noting every fault of its view, its alterations and its fit. None when it cannot be had.
    fn made(&self, rooms: &[Room], of_pattern: &mut Findings, findings: &mut Findings) -> Option<Made> {
        let Self { file, reading, choices, chosen } = *self;
        self.check_view(findings);
        let alternatives = alternatives::of(file, reading, choices, chosen);
        pieced::note_unknown(file, reading, findings);
        cross_grain::note_unknown(file, reading, findings);
        let asked = fit::Asked { file, reading, chosen };
        let request = asked.request(findings).filter(|_| reading.sound);
        let (pattern, fit, supplies) = asked.fitted(&request?, rooms, findings, of_pattern)?;
        let view = pattern.view(&file.view.as_ref()?.value.0)?.clone();
        untrimmed::note(file, reading, choices, &view, findings);
        let places = reading.places_of_pieces(of_pattern.source());
        let cut_to_width = reading.cut_to_width(&pattern, &view.name);
        Some(Made { pattern, view, fit, alternatives, supplies, places, cut_to_width })
    }

    /// Roles of cloth must be the pattern's.
    fn check_cloths(&self, findings: &mut Findings) {
        let Self { file, reading, .. } = self;
        let fabrics = file.fabric.as_ref();
        // Of a pattern whose pieces are all at fault no role is known.
        let listed = fabrics.map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
        for (role, _) in listed.iter().filter(|_| reading.sound || !reading.roles.is_empty()) {
            if !reading.roles.contains(&role.value) && !self.choices.cuts_from(&role.value) {
                let meant = nearest(&role.value, reading.roles.iter().map(String::as_str)).map(str::to_owned);
                let (name, known) = (role.value.clone(), reading.roles.clone());
                findings.add(&role.span, JobFault::UnknownRole { role: name, meant, known });
            }
        }
    }

    /// The view must be the pattern's, and have its cloths.
    fn check_view(&self, findings: &mut Findings) {
        let Self { file, reading, chosen, .. } = self;
        let fabrics = file.fabric.as_ref();
        let Some(view) = &file.view else { return };
        let Some(known_view) = chosen.view(&view.value.0) else {
            if !chosen.views.is_empty() {
                let known: Vec<String> = chosen.views.iter().map(|view| view.name.clone()).collect();
                let meant = nearest(&view.value.0, known.iter().map(String::as_str)).map(str::to_owned);
                findings.add(&view.span, JobFault::UnknownView { view: view.value.0.clone(), meant, known });
            }
            return;
        };
        let listed_some = |name: &str| reading.pattern.view(name).is_some_and(|view| !view.pieces.is_empty());
        if known_view.pieces.is_empty() && listed_some(&view.value.0) {
            findings.add(&view.span, JobFault::NothingChosen { view: view.value.0.clone() });
        }
        // A job whose fabric table is missing altogether was told so already.
        let Some(fabrics) = fabrics else { return };
        for role in chosen.roles(known_view) {
            if !fabrics.value.names().any(|name| name == role) && !self.is_a_slip_for(role, fabrics) {
                let (view_name, role) = (view.value.0.clone(), role.to_owned());
                findings.add(&view.span, JobFault::RoleWithoutFabric { view: view_name, role });
            }
        }
    }

    /// Whether some unknown role of the job most likely means `role`; then one fault is enough.
    fn is_a_slip_for(&self, role: &str, fabrics: &At<Named<FabricEntry>>) -> bool {
        let roles = || self.reading.roles.iter().map(String::as_str);
        fabrics.value.names().any(|name| roles().all(|known| known != name) && nearest(name, roles()) == Some(role))
    }
}
