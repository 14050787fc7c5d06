//! The placing table as text.

use ellwand_garment::{Layout, Units, beginning};

use super::table::bare;
use crate::placing::{how_to_read, strips, table};

/// Where to pin every piece of `layout`: a heading, where to begin on matched cloth, one row a cut, and how to read them.
pub fn placing_text(layout: &Layout, units: Units) -> String {
    let table = table(layout, units);
    let steps: String = beginning(layout, units).iter().map(|step| format!("{step}\n")).collect();
    let steps = if steps.is_empty() { steps } else { format!("{steps}\n") };
    let strips: String = strips(layout, units).iter().map(|said| format!("{said}\n")).collect();
    let strips = if strips.is_empty() { strips } else { format!("{strips}\n") };
    format!("{}\n\n{steps}{}\n\n{strips}{}\n", table.caption, bare(&table), how_to_read(layout))
}
