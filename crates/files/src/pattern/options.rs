//! Options: groups of pieces of which a garment has one, and what a choice makes of a view.

use std::collections::BTreeSet;

use ellwand_garment::View;

use super::{declared::unknown, duplicates::note_duplicates, format::PatternFile, option_format::OptionEntry};
use crate::{
    document::{At, Name},
    fault::PatternFault,
    findings::Findings,
    note::NoteKind,
};

/// A group of pieces to choose from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PieceOption {
    pub(crate) name: String,
    /// One of the choices.
    pub(crate) default: String,
    /// Each choice with its pieces.
    pub(crate) choices: Vec<(String, Vec<String>)>,
}

impl PieceOption {
    /// The pieces of a choice; none of one it does not have.
    pub(crate) fn pieces_of(&self, choice: &str) -> &[String] {
        self.choices.iter().find(|(name, _)| name == choice).map_or(&[], |(_, pieces)| pieces)
    }

    /// Leaves in the view the pieces of one choice only. A view that lists some of them has just those. In another all of them stand where the
    /// first of the default's stood, or last where none did and the choice is not the default.
    pub(crate) fn choose(&self, choice: &str, view: &mut View) {
        let (chosen, default) = (self.pieces_of(choice), self.pieces_of(&self.default));
        let listed = std::mem::take(&mut view.pieces);
        let place = listed.iter().position(|piece| default.contains(piece));
        for (number, piece) in listed.iter().enumerate() {
            if place == Some(number) && !chosen.iter().any(|piece| listed.contains(piece)) {
                view.pieces.extend(chosen.iter().cloned());
            }
            let optional = self.choices.iter().any(|(_, pieces)| pieces.contains(piece));
            if !optional || chosen.contains(piece) {
                view.pieces.push(piece.clone());
            }
        }
        if place.is_none() && choice != self.default && !chosen.iter().any(|piece| listed.contains(piece)) {
            view.pieces.extend(chosen.iter().cloned());
        }
    }
}

/// The options, with every fault noted. `known` names every piece.
pub(super) fn convert(file: &PatternFile, known: &[String], findings: &mut Findings) -> Vec<PieceOption> {
    let entries = file.option.as_ref().map_or(&[][..], |options| options.value.as_slice());
    let names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("option", &names, findings);
    entries.iter().filter_map(|entry| convert_option(&entry.value, known, findings)).collect()
}

fn convert_option(entry: &OptionEntry, known: &[String], findings: &mut Findings) -> Option<PieceOption> {
    let name = entry.name.as_ref()?.value.0.clone();
    let (default, listed) = (entry.default.as_ref()?, entry.choices.as_ref()?);
    let of = format!("the option `{name}`");
    let mut choices: Vec<(String, Vec<String>)> = Vec::new();
    for (choice, pieces) in &listed.value.0 {
        for piece in pieces.value.iter().filter(|piece| !known.contains(&piece.value.0)) {
            findings.add(&piece.span, unknown(of.clone(), "piece", piece, known));
        }
        choices.push((choice.value.clone(), pieces.value.iter().map(|piece| piece.value.0.clone()).collect()));
    }
    let words: Vec<String> = choices.iter().map(|(choice, _)| choice.clone()).collect();
    if !words.contains(&default.value.0) {
        if listed.sound {
            findings.add(&default.span, unknown(of, "choice", default, &words));
        }
        return None;
    }
    Some(PieceOption { name, default: default.value.0.clone(), choices })
}

/// Notes every piece that is never cut, whatever a job chooses, and pieces of a default that no view has. Of a pattern without a fault;
/// `views` list the pieces of every choice.
pub(super) fn note_never_cut(file: &PatternFile, views: &[View], options: &[PieceOption], findings: &mut Findings) {
    for (option, entry) in options.iter().zip(file.option.iter().flat_map(|options| &options.value)) {
        for (choice, pieces) in entry.value.choices.iter().flat_map(|choices| &choices.value.0) {
            let chosen_in = |piece: &str| {
                views.iter().cloned().any(|mut view| {
                    option.choose(&choice.value, &mut view);
                    view.pieces.iter().any(|name| name == piece)
                })
            };
            for piece in pieces.value.iter().filter(|piece| !chosen_in(&piece.value.0)) {
                let (name, option_name, choice) = (piece.value.0.clone(), option.name.clone(), choice.value.clone());
                if option.default == choice {
                    let fault = PatternFault::DefaultInNoView { piece: name, option: option_name, choice };
                    findings.add(&piece.span, fault);
                } else {
                    let note = NoteKind::NeverChosen { piece: name, option: option_name, choice };
                    findings.note(&piece.span, note);
                }
            }
        }
    }
    let listed: BTreeSet<&str> = (views.iter().flat_map(|view| &view.pieces))
        .chain(options.iter().flat_map(|option| option.choices.iter().flat_map(|(_, pieces)| pieces)))
        .map(String::as_str)
        .collect();
    let names = file.piece.iter().flat_map(|pieces| &pieces.value).filter_map(|piece| piece.value.name.as_ref());
    for name in names.filter(|name| !listed.contains(name.value.0.as_str())) {
        findings.note(&name.span, NoteKind::InNoView { piece: name.value.0.clone() });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_takes_the_place_of_the_default_or_stands_last() {
        let owned = |names: &[&str]| -> Vec<String> { names.iter().map(|name| (*name).to_owned()).collect() };
        let option = |default: &str| PieceOption {
            name: "pocket".into(),
            default: default.into(),
            choices: vec![
                ("patch".into(), owned(&["Pocket", "Flap", "Contrast flap"])),
                ("welt".into(), owned(&["Welt", "Bag"])),
                ("none".into(), Vec::new()),
            ],
        };
        let chosen = |default: &str, choice: &str, listed: &[&str]| {
            let mut view = View { name: "A".into(), title: String::new(), pieces: owned(listed) };
            option(default).choose(choice, &mut view);
            view.pieces
        };
        assert_eq!(chosen("patch", "welt", &["Front", "Pocket", "Flap", "Back"]), ["Front", "Welt", "Bag", "Back"]);
        assert_eq!(chosen("patch", "none", &["Front", "Pocket", "Flap", "Back"]), ["Front", "Back"]);
        // What the view leaves of the default is left.
        assert_eq!(
            chosen("patch", "patch", &["Front", "Pocket", "Contrast flap"]),
            ["Front", "Pocket", "Contrast flap"]
        );
        // No default stands there whose place it could take.
        assert_eq!(chosen("none", "welt", &["Front", "Back"]), ["Front", "Back", "Welt", "Bag"]);
        assert_eq!(chosen("none", "none", &["Front", "Back"]), ["Front", "Back"]);
    }
}
