//! What a job chooses of a pattern: its options, and pieces cut from another cloth.

use ellwand_garment::Pattern;

use super::format::JobFile;
use crate::{
    document::{At, Name},
    fault::JobFault,
    findings::Findings,
    nearest::nearest,
    pattern::{PieceOption, Reading},
};

/// The choices of a job.
pub(super) struct Choices<'a> {
    /// Each option with the choice taken.
    options: Vec<(&'a PieceOption, &'a str)>,
    /// Pieces with the cloth they are cut from.
    cut_from: Vec<(&'a str, &'a str)>,
}

impl<'a> Choices<'a> {
    /// What the job chooses; what is not in the pattern is noted and left out.
    pub(super) fn read(file: &'a JobFile, reading: &'a Reading<'_>, findings: &mut Findings) -> Self {
        let alter = file.alter.as_ref().map(|alter| &alter.value);
        let options = alter.and_then(|alter| alter.options.as_ref());
        let asked = options.map_or(&[][..], |options| options.value.0.as_slice());
        let known = || reading.options.iter().map(|option| option.name.as_str());
        for (name, _) in asked.iter().filter(|(name, _)| !known().any(|known| known == name.value)) {
            let meant = nearest(&name.value, known()).map(str::to_owned);
            let known = known().map(str::to_owned).collect();
            findings.add(&name.span, JobFault::UnknownOption { option: name.value.clone(), meant, known });
        }
        let options = reading.options.iter().map(|option| {
            let choice = asked.iter().find(|(name, _)| name.value == option.name);
            let choice = choice.and_then(|(_, choice)| known_choice(option, choice, findings));
            (option, choice.unwrap_or(&option.default))
        });
        let options = options.collect();
        let entries = alter.and_then(|alter| alter.cut_from.as_ref());
        let entries = entries.map_or(&[][..], |entries| entries.value.as_slice());
        let cut_from = (entries.iter())
            .filter_map(|entry| {
                let (piece, from) = (entry.value.piece.as_ref()?, entry.value.from.as_ref()?);
                is_cloth(file, reading, piece, from, findings)
                    .then_some((piece.value.0.as_str(), from.value.0.as_str()))
            })
            .collect();
        Self { options, cut_from }
    }

    /// The pattern with the chosen pieces in every view, cut from what the job says.
    pub(super) fn made_in(&self, pattern: &Pattern) -> Pattern {
        let mut pattern = pattern.clone();
        for view in &mut pattern.views {
            self.options.iter().for_each(|(option, choice)| option.choose(choice, view));
        }
        for &(name, role) in &self.cut_from {
            let Some(piece) = pattern.pieces.iter_mut().find(|piece| piece.name == name) else { continue };
            if let Some(rule) = piece.cuts.first_mut() {
                rule.role = role.to_owned();
            }
        }
        pattern
    }

    /// Each option with the choice taken.
    pub(super) fn taken(&self) -> impl Iterator<Item = (&PieceOption, &str)> {
        self.options.iter().map(|(option, taken)| (*option, *taken))
    }

    /// Whether some piece is cut from `role` because the job says so.
    pub(super) fn cuts_from(&self, role: &str) -> bool {
        self.cut_from.iter().any(|(_, from)| *from == role)
    }
}

fn known_choice<'a>(option: &'a PieceOption, choice: &At<Name>, findings: &mut Findings) -> Option<&'a str> {
    let words = || option.choices.iter().map(|(name, _)| name.as_str());
    let found = words().find(|word| *word == choice.value.0);
    if found.is_none() {
        let meant = nearest(&choice.value.0, words()).map(str::to_owned);
        let (option, choice_name) = (option.name.clone(), choice.value.0.clone());
        let known = words().map(str::to_owned).collect();
        findings.add(&choice.span, JobFault::UnknownChoice { option, choice: choice_name, meant, known });
    }
    found
}

/// Whether the piece is there and can be cut from this cloth: a role of the pattern, or a fabric of the job.
fn is_cloth(file: &JobFile, reading: &Reading<'_>, piece: &At<Name>, from: &At<Name>, findings: &mut Findings) -> bool {
    let before = findings.count();
    match reading.pattern.piece(&piece.value.0) {
        Some(of) => {
            if of.cuts.iter().skip(1).any(|rule| rule.role == from.value.0) {
                let (piece, role) = (piece.value.0.clone(), from.value.0.clone());
                findings.add(&from.span, JobFault::CutFromAlready { piece, role });
            }
        }
        // A piece at fault is left out of the pattern.
        None if !reading.sound => return false,
        None => {
            let known = || reading.pattern.pieces.iter().map(|piece| piece.name.as_str());
            let meant = nearest(&piece.value.0, known()).map(str::to_owned);
            let known = known().map(str::to_owned).collect();
            findings.add(&piece.span, JobFault::UnknownPiece { piece: piece.value.0.clone(), meant, known });
        }
    }
    let mut known = reading.roles.clone();
    for role in file.fabric.iter().flat_map(|fabrics| fabrics.value.names()) {
        if !known.iter().any(|known| known == role) {
            known.push(role.to_owned());
        }
    }
    if !known.contains(&from.value.0) {
        let meant = nearest(&from.value.0, known.iter().map(String::as_str)).map(str::to_owned);
        findings.add(&from.span, JobFault::UnknownCloth { role: from.value.0.clone(), meant, known });
    }
    findings.count() == before
}
