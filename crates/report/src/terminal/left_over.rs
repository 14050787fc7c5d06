//! What is left of each cloth and where it was kept, on a terminal.

use std::{fmt::Write as _, path::Path};

use ellwand_garment::Units;
use ellwand_planner::JobPlan;

use crate::left_over;

/// The sizes of what is left of each cloth, and the stash that has them now.
pub fn left_over_text(plan: &JobPlan, stash: &Path, units: Units) -> String {
    let mut text = format!("Left over, across x along, kept in {}:\n", stash.display());
    for cloth in &plan.cloths {
        let sizes = left_over::sizes(cloth, units);
        let said = if sizes.is_empty() { "nothing worth keeping".to_owned() } else { sizes.join(", ") };
        let layout = cloth.layout();
        let of = layout.cloth.remnant.as_ref().map(|remnant| format!(", remnant \"{}\"", remnant.name));
        let _ = writeln!(text, "  {}: {}{}  {said}", layout.role, layout.cloth.name, of.unwrap_or_default());
    }
    text
}
