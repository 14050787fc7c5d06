//! How good a layout is: what a better one could still save, why, and whether its search was ended early.

use ellwand_garment::{Layout, Rounding, Units, write_length};
use ellwand_planner::{ClothPlan, Ended};

use crate::{Detail, Row};

/// What a shorter layout could still save.
pub(crate) fn room_for_improvement(layout: &Layout, units: Units, detail: Detail) -> Row {
    if layout.cloth.remnant.is_some() {
        return Row::new("room for improvement", "not looked for: on a remnant it is enough that everything fits");
    }
    let bound = &layout.lower_bound;
    let (said, least) = if layout.is_shortest_possible() {
        ("none, this is the shortest possible".to_owned(), String::new())
    } else {
        let least = write_length(bound.length, units, Rounding::Down);
        (percent(layout.gap()), format!("; no layout is shorter than {least}"))
    };
    let said = match detail {
        Detail::Figures => said,
        Detail::Reasons => format!("{said}{least}: {}", bound.reason),
    };
    Row::new("room for improvement", said)
}

/// A share that is not to be exceeded, never said to be nothing.
fn percent(share: f64) -> String {
    if share < 0.000_5 { "less than 0.1 %".to_owned() } else { format!("at most {:.1} %", 100.0 * share) }
}

/// That the search was ended early, where it was.
pub(crate) fn stopped(cloth: &ClothPlan) -> Option<Row> {
    let said = "the search was ended early; this is the best layout it had found";
    (cloth.plan.ended == Ended::Stopped).then(|| Row::new("stopped", said))
}
