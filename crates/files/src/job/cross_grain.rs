//! Cloth whose pieces may also lie across the grain.

use ellwand_garment::{GrainRule, Pattern};

use super::format::JobFile;

/// Lets every piece lie across the grain on cloth of which the job says so; pieces with a rule of their own for that cloth, or on the bias, keep it.
pub(super) fn allow(file: &JobFile, pattern: &mut Pattern) {
    let cloths = file.fabric.iter().flat_map(|fabrics| &fabrics.value.0);
    let roles: Vec<&str> =
        cloths.filter(|(_, entry)| entry.value.cross_grain.is_some()).map(|(role, _)| role.value.as_str()).collect();
    for piece in pattern.pieces.iter_mut().filter(|piece| piece.grain == GrainRule::Straight) {
        let rules = piece.cuts.iter_mut().filter(|rule| rule.grain.is_none() && roles.contains(&rule.role.as_str()));
        rules.for_each(|rule| rule.grain = Some(GrainRule::CrossAllowed));
    }
}
