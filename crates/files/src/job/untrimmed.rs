//! Edges that are trimmed, or that a notion is as long as, of a piece that a choice replaces.

use ellwand_garment::View;

use super::{choices::Choices, format::JobFile};
use crate::{
    findings::Findings,
    note::NoteKind,
    pattern::{
        Reading,
        supplies::{DeclaredTrim, edges_of_job},
    },
};

/// A piece that the job's choices leave out.
struct LeftOut<'a> {
    option: &'a str,
    choice: &'a str,
    /// The pieces of the choice that is taken.
    instead: &'a [String],
}

/// Notes each edge of a piece that the view would have with another choice. Nothing is said of what goes along a piece of the choice taken too: then it
/// was thought of.
pub(super) fn note(file: &JobFile, reading: &Reading<'_>, choices: &Choices<'_>, made: &View, findings: &mut Findings) {
    let left_out = |piece: &str| left_out(piece, reading, choices, made);
    let is_thought_of = |out: &LeftOut<'_>, pieces: &[&str]| {
        pieces.iter().any(|piece| made.pieces.iter().any(|of| of == piece) && out.instead.iter().any(|of| of == piece))
    };
    let mut own: Vec<&str> = Vec::new();
    for entry in file.trim.iter().flat_map(|trims| &trims.value) {
        let Some(name) = &entry.value.name else { continue };
        own.push(&name.value.0);
        // What is wrong with a trim is told where it is bought.
        let edges = edges_of_job(&entry.value, &reading.pattern, &mut findings.of_the_same_file());
        let pieces: Vec<&str> = edges.iter().map(|(_, edge)| edge.piece.as_str()).collect();
        for (span, edge) in &edges {
            if let Some(out) = left_out(&edge.piece).filter(|out| !is_thought_of(out, &pieces)) {
                findings.note(span, out.not_trimmed(&name.value.0, &edge.piece, &edge.edge));
            }
        }
    }
    let chosen_at = |option: &str| {
        let options = file.alter.iter().filter_map(|alter| alter.value.options.as_ref());
        let said = options.flat_map(|options| &options.value.0).find(|(name, _)| name.value == option);
        said.map(|(name, _)| name.span.clone()).or_else(|| Some(file.view.as_ref()?.span.clone()))
    };
    let trims = reading.supplies.trims.iter().filter(|trim| trim.views.have(&made.name));
    for DeclaredTrim { trim, .. } in trims.filter(|trim| !own.contains(&trim.trim.name.as_str())) {
        let pieces: Vec<&str> = trim.edges.iter().map(|edge| edge.piece.as_str()).collect();
        for edge in &trim.edges {
            let Some(out) = left_out(&edge.piece).filter(|out| !is_thought_of(out, &pieces)) else { continue };
            if let Some(span) = chosen_at(out.option) {
                findings.note(&span, out.not_trimmed(&trim.name, &edge.piece, &edge.edge));
            }
        }
    }
    let known: Vec<String> = reading.pattern.pieces.iter().map(|piece| piece.name.clone()).collect();
    for notion in reading.supplies.notions.iter().filter(|notion| notion.views.have(&made.name)) {
        let edges = notion.measured_along(&known);
        let pieces: Vec<&str> = edges.iter().map(|(piece, _)| piece.as_str()).collect();
        for (piece, edge) in &edges {
            let Some(out) = left_out(piece).filter(|out| !is_thought_of(out, &pieces)) else { continue };
            if let Some(span) = chosen_at(out.option) {
                let (notion, piece, edge) = (notion.name.clone(), piece.clone(), edge.clone());
                let (option, choice) = (out.option.to_owned(), out.choice.to_owned());
                findings.note(&span, NoteKind::MeasuredElsewhere { notion, piece, edge, option, choice });
            }
        }
    }
}

/// Why the view does not have this piece, where another choice would bring it.
fn left_out<'c>(piece: &str, reading: &Reading<'_>, choices: &'c Choices<'_>, made: &View) -> Option<LeftOut<'c>> {
    if made.pieces.iter().any(|of| of == piece) {
        return None;
    }
    choices.taken().find_map(|(option, taken)| {
        let (other, _) =
            option.choices.iter().find(|(choice, pieces)| choice != taken && pieces.iter().any(|of| of == piece))?;
        let mut view = reading.pattern.view(&made.name)?.clone();
        option.choose(other, &mut view);
        let instead = option.pieces_of(taken);
        let is_left_out = view.pieces.iter().any(|of| of == piece) && !instead.iter().any(|of| of == piece);
        is_left_out.then_some(LeftOut { option: &option.name, choice: taken, instead })
    })
}

impl LeftOut<'_> {
    fn not_trimmed(&self, trim: &str, piece: &str, edge: &str) -> NoteKind {
        NoteKind::NotTrimmed {
            trim: trim.to_owned(),
            piece: piece.to_owned(),
            edge: edge.to_owned(),
            option: self.option.to_owned(),
            choice: self.choice.to_owned(),
        }
    }
}
