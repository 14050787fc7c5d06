//! What is left of a cloth: the largest rectangles, and where they lie.

use ellwand_garment::{Leftover, Rounding, Units, write_length};
use ellwand_planner::ClothPlan;

use crate::{Block, Column, Table};

/// "12 x 30 1/2 in": across and along.
pub(crate) fn size(rectangle: &Leftover, units: Units) -> String {
    let say = |mm: f64| write_length(mm, units, Rounding::Down);
    let (across, along) = (say(rectangle.across), say(rectangle.along));
    let unit = across.rsplit(' ').next().unwrap_or_default();
    match across.strip_suffix(unit).map(str::trim_end) {
        Some(number) if along.ends_with(&format!(" {unit}")) => format!("{number} x {along}"),
        _ => format!("{across} x {along}"),
    }
}

/// The sizes of all that is left of a cloth, the largest first.
pub(crate) fn sizes(cloth: &ClothPlan, units: Units) -> Vec<String> {
    cloth.leftovers(units).iter().map(|rectangle| size(rectangle, units)).collect()
}

/// A table of the rectangles, or nothing where none is worth keeping.
pub(crate) fn blocks(cloth: &ClothPlan, units: Units) -> Vec<Block> {
    let left = cloth.leftovers(units);
    if left.is_empty() {
        return Vec::new();
    }
    let say = |mm: f64| write_length(mm, units, Rounding::Up);
    let row =
        |rectangle: &Leftover| vec![size(rectangle, units), say(rectangle.from_left), say(rectangle.from_cut_end)];
    let columns = vec![
        Column::figures("across x along"),
        Column::figures("from the left edge"),
        Column::figures("from the cut end"),
    ];
    let rows = left.iter().map(row).collect();
    let table =
        Table { caption: "The largest rectangles that are left, each beside those above".into(), columns, rows };
    vec![Block::Table(table)]
}
