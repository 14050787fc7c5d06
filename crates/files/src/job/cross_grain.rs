//! Pieces that may also lie across the grain: all of a cloth, or single ones.

use ellwand_garment::{GrainRule, Pattern};

use super::format::JobFile;
use crate::{
    document::{At, Name},
    fault::{JobFault, PatternFault},
    findings::Findings,
    nearest::nearest,
    pattern::Reading,
};

/// The pieces that the job names.
fn named(file: &JobFile) -> impl Iterator<Item = &At<Name>> {
    file.alter.iter().filter_map(|alter| alter.value.cross_grain.as_ref()).flat_map(|listed| &listed.value)
}

/// Lets every piece lie across the grain on cloth of which the job says so; pieces with a rule of their own for that cloth, or on the bias, keep it. What the job
/// names piece by piece lies so whatever the pattern says of its cloths.
pub(super) fn allow(file: &JobFile, pattern: &mut Pattern) {
    let cloths = file.fabric.iter().flat_map(|fabrics| &fabrics.value.0);
    let roles: Vec<&str> =
        cloths.filter(|(_, entry)| entry.value.cross_grain.is_some()).map(|(role, _)| role.value.as_str()).collect();
    for piece in pattern.pieces.iter_mut().filter(|piece| piece.grain == GrainRule::Straight) {
        let rules = piece.cuts.iter_mut().filter(|rule| rule.grain.is_none() && roles.contains(&rule.role.as_str()));
        rules.for_each(|rule| rule.grain = Some(GrainRule::CrossAllowed));
    }
    for name in named(file) {
        let Some(piece) = pattern.pieces.iter_mut().find(|piece| piece.name == name.value.0) else { continue };
        let own = piece.grain;
        let rules = piece.cuts.iter_mut().filter(|rule| rule.grain.unwrap_or(own) == GrainRule::Straight);
        rules.for_each(|rule| rule.grain = Some(GrainRule::CrossAllowed));
    }
}

/// A piece that is named twice, is not there, or lies on the bias.
pub(super) fn note_unknown(file: &JobFile, reading: &Reading<'_>, findings: &mut Findings) {
    let mut told: Vec<&At<Name>> = Vec::new();
    for name in named(file) {
        if let Some(first) = told.iter().find(|first| first.value == name.value) {
            let first_line = findings.source().line_and_column(first.span.start).0;
            let (kind, piece) = ("piece in `cross_grain`", name.value.0.clone());
            findings.add(&name.span, PatternFault::Duplicate { kind, name: piece, first_line });
        }
        told.push(name);
        match reading.pattern.piece(&name.value.0) {
            Some(piece) => {
                let on_bias = |rule: &ellwand_garment::CutRule| rule.grain.unwrap_or(piece.grain) == GrainRule::Bias;
                if !piece.cuts.is_empty() && piece.cuts.iter().all(on_bias) {
                    findings.add(&name.span, JobFault::AcrossOnTheBias { piece: name.value.0.clone() });
                }
            }
            // A piece at fault is left out of the pattern.
            None if !reading.sound => {}
            None => {
                let known = || reading.pattern.pieces.iter().map(|piece| piece.name.as_str());
                let meant = nearest(&name.value.0, known()).map(str::to_owned);
                let known = known().map(str::to_owned).collect();
                findings.add(&name.span, JobFault::UnknownPiece { piece: name.value.0.clone(), meant, known });
            }
        }
    }
}
