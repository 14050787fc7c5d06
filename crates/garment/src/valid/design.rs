//! The rules for the design of a cloth.

use super::{InputFault, Quantity};
use crate::{BorderSides, Design, Drop, Repeat};

/// What washing both a border and its cloth may leave of rounding, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Everything wrong with the design of a cloth `width` mm wide.
pub(super) fn design_faults(role: &str, design: &Design, width: f64) -> Vec<InputFault> {
    let role_name = || role.to_owned();
    let mut faults = Vec::new();
    if !design.repeats() && design.border.is_none() {
        faults.push(InputFault::EmptyDesign { role: role_name() });
    }
    if design.drop == Drop::Half && (design.across.is_none() || design.along.is_none()) {
        faults.push(InputFault::DropWithoutRepeats { role: role_name() });
    }
    let repeats = || [&design.across, &design.along].into_iter().flatten();
    faults.extend(repeats().flat_map(|repeat| repeat_faults(role, repeat)));
    if let Some(border) = &design.border {
        faults.extend(Quantity::BorderWidth.fault(role, border.width));
        let all = if border.sides == BorderSides::Both { 2.0 * border.width } else { border.width };
        if all > width + ROUNDING_MM {
            faults.push(InputFault::BorderTooWide { role: role_name(), width: border.width, cloth: width });
        }
    }
    let unsaid = [&design.ground].into_iter().chain(design.border.as_ref().map(|border| &border.colour));
    let colours =
        unsaid.filter(|colour| !colour.is_empty()).chain(repeats().flat_map(|r| &r.bars).map(|bar| &bar.colour));
    let none = colours.filter(|colour| !is_colour(colour));
    faults.extend(none.map(|found| InputFault::NotAColour { role: role_name(), found: found.clone() }));
    faults
}

fn repeat_faults(role: &str, repeat: &Repeat) -> Vec<InputFault> {
    let bars = repeat.bars.iter().flat_map(|bar| [(Quantity::BarPlace, bar.at), (Quantity::BarWidth, bar.width)]);
    let own = [(Quantity::Repeat, repeat.every), (Quantity::Offset, repeat.offset)];
    own.into_iter().chain(bars).filter_map(|(quantity, value)| quantity.fault(role, value)).collect()
}

/// Whether it reads `#rrggbb`.
fn is_colour(text: &str) -> bool {
    let digits = text.strip_prefix('#').map(str::as_bytes);
    digits.is_some_and(|digits| digits.len() == 6 && digits.iter().all(u8::is_ascii_hexdigit))
}
