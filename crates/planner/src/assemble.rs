//! Cuts into a finished layout: length, purchase, proven bound and search note, and the check that comes before anything is
//! shown.

use ellwand_garment::{Cut, Layout, LowerBound, SearchNote, Units, check, format_length, matched_points};
use ellwand_nest::{Bound, BoundReason};

use crate::{Lay, PlanError, purchase::purchase, slot::Slot, strip::length_of};

/// The layout that `cuts` make for `lay`; not checked yet.
pub(crate) fn assemble(lay: &Lay, cuts: Vec<Cut>, bound: LowerBound, note: SearchNote) -> Layout {
    let length = length_of(&cuts);
    let (cloth, matching) = (&lay.fabric.cloth, &lay.fabric.matching.matches);
    let met = |design| matched_points(matching, &cuts, design, cloth.width);
    let matches = cloth.design.as_ref().map(met).unwrap_or_default();
    Layout {
        job: lay.job.name.clone(),
        pattern: lay.pattern.name.clone(),
        view: lay.view.name.clone(),
        size: lay.pattern.size.clone(),
        role: lay.fabric.role.clone(),
        cloth: cloth.clone(),
        layers: lay.layers,
        length,
        lower_bound: bound,
        cuts,
        matching: matching.clone(),
        matches,
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
    let reason = match &bound.reason {
        BoundReason::Area => "the pieces together have this much area for the usable width".to_owned(),
        BoundReason::LongestItem { item } => {
            format!("\"{}\" alone is this long", slots[*item].order.piece.name)
        }
        BoundReason::Line { at } => {
            let at = format_length(*at, units);
            format!("the pieces that must cross the line {at} from the left edge take this much of it together")
        }
        BoundReason::Stack { items } => {
            format!("{} cannot lie side by side, and one after the other they take this much", named(items, slots))
        }
        BoundReason::Row { items } => format!(
            "on less, {} could not lie one after the other, and there is no room for them side by side",
            named(items, slots)
        ),
        BoundReason::Widths => {
            "wide pieces leave room beside them that is too narrow for others, and with it they take this much"
                .to_owned()
        }
        BoundReason::Lengths => {
            "on less, long pieces would leave room before or after them that is too short for others".to_owned()
        }
    };
    LowerBound { length: bound.length, reason }
}

/// The pieces of some slots by name, each once, with how often it is among them: `"Front" twice, "Band" and "Yoke"`.
fn named(items: &[usize], slots: &[Slot]) -> String {
    let mut names: Vec<(&str, usize)> = Vec::new();
    for &item in items {
        let name = slots[item].order.piece.name.as_str();
        match names.iter_mut().find(|known| known.0 == name) {
            Some(known) => known.1 += 1,
            None => names.push((name, 1)),
        }
    }
    let mut said = String::new();
    for (k, (name, count)) in names.iter().enumerate() {
        said += match k {
            0 => "",
            k if k + 1 == names.len() => " and ",
            _ => ", ",
        };
        said += &match count {
            1 => format!("\"{name}\""),
            2 => format!("\"{name}\" twice"),
            count => format!("\"{name}\" {count} times"),
        };
    }
    said
}
