//! One cloth of a plan: every row there is to say of it, in the order in which a shopper reads them.

use ellwand_garment::Units;
use ellwand_planner::ClothPlan;

use crate::{Detail, Row, how_found, lying, matching, together, what_to_buy};

/// What to buy, how it lies, how good that is, what matching costs, and what else would do.
pub(crate) fn rows(cloth: &ClothPlan, units: Units, detail: Detail) -> Vec<Row> {
    let layout = cloth.layout();
    let mut rows = vec![
        what_to_buy::buy(cloth, units),
        lying::layout_row(layout, units),
        lying::length_row(layout, units),
        how_found::room_for_improvement(layout, units, detail),
    ];
    rows.extend(lying::ease_row(cloth));
    rows.extend(together::saved(cloth, units));
    rows.extend(matching::rows(cloth, units, detail));
    rows.extend(what_to_buy::on_hand_is_short(cloth, units));
    rows.extend(lying::other_way_rows(cloth, units));
    rows.extend(how_found::stopped(cloth));
    rows
}
