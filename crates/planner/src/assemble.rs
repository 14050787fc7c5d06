//! Cuts into a finished layout: length, purchase, proven bound and search note, and the check that comes before anything is
//! shown.

use ellwand_garment::{Cut, Layout, LowerBound, SearchNote, Units, check, format_length};
use ellwand_nest::{Bound, BoundReason};

use crate::{Lay, PlanError, purchase::purchase, slot::Slot, strip::length_of};

/// The layout that `cuts` make for `lay`; not checked yet.
pub(crate) fn assemble(lay: &Lay, cuts: Vec<Cut>, bound: LowerBound, note: SearchNote) -> Layout {
    let length = length_of(&cuts);
    Layout {
        job: lay.job.name.clone(),
        pattern: lay.pattern.name.clone(),
        view: lay.view.name.clone(),
        size: lay.pattern.size.clone(),
        role: lay.fabric.role.clone(),
        cloth: lay.fabric.cloth.clone(),
        layers: lay.layers,
        length,
        lower_bound: bound,
        cuts,
        purchase: purchase(&lay.fabric, lay.job.units, length),
        search: note,
    }
}

/// Passes `layout` on when the garment's checker finds nothing wrong with it.
///
/// # Errors
///
/// [`PlanError::Bug`] with everything the checker found.
pub(crate) fn checked(layout: Layout, lay: &Lay) -> Result<Layout, PlanError> {
    let faults = check::check(&layout, lay.pattern, lay.view);
    if faults.is_empty() {
        return Ok(layout);
    }
    Err(PlanError::Bug {
        role: layout.role,
        seed: layout.search.seed,
        faults: faults.iter().map(ToString::to_string).collect(),
    })
}

/// The bound of the strip in words about the cloth, lengths in `units`.
pub(crate) fn lower_bound(bound: &Bound, slots: &[Slot], units: Units) -> LowerBound {
    let reason = match bound.reason {
        BoundReason::Area => "the pieces together have this much area for the usable width".to_owned(),
        BoundReason::LongestItem { item } => {
            format!("\"{}\" alone is this long", slots[item].order.piece.name)
        }
        BoundReason::Line { at } => {
            let at = format_length(at, units);
            format!("the pieces that must cross the line {at} from the left edge take this much of it together")
        }
    };
    LowerBound { length: bound.length, reason }
}
