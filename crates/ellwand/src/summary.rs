//! What a person takes to the shop: for each cloth what to buy, how good the layout is, and which other way would do.

use std::{
    ffi::OsStr,
    fmt::Write as _,
    path::{Path, PathBuf},
};

use ellwand_garment::{
    Job, Layers, Layout, Money, OnHand, Rounding, Units, format_length, format_length_up, format_yardage, size_words,
    write_length,
};
use ellwand_planner::{ClothPlan, Ended, JobPlan, OtherWay};

use crate::{
    matching_text::matching_lines,
    misfit_text::{reason, verdict},
};

/// Width of the labels: the longest is "room for improvement".
const LABEL: usize = 20;

/// Said once, at the end: the layout is only as good as the measure of the cloth.
pub(crate) const REMINDER: &str = "Before you cut: measure the cloth's real width between its selvages, preshrink it, and check the \
                            whole layout on the table.";

/// What became of the folder for drawings.
#[derive(Debug, Default)]
pub(crate) struct FilesWritten {
    /// The files of each cloth, in the order of the cloths; none when no folder was named.
    pub(crate) of_cloths: Vec<Vec<PathBuf>>,
    /// Files of an earlier plan that went.
    pub(crate) removed: Vec<PathBuf>,
    /// Files of an earlier plan that somebody has changed since.
    pub(crate) left: Vec<PathBuf>,
    /// Files that an earlier run was changing when it was ended.
    pub(crate) finished: Vec<PathBuf>,
}

/// How much of an answer is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Detail {
    /// The figures.
    Figures,
    /// The figures, each with what it rests on.
    Reasons,
}

/// The summary of a job. `notes` are about its fit; `files` says what was written.
pub(crate) fn summary(job: &Job, notes: &[String], plan: &JobPlan, files: &FilesWritten, detail: Detail) -> String {
    let mut text = format!("{}: {}, view {}, {}\n", job.name, job.pattern, job.view, size_words(&job.size));
    for note in notes {
        let _ = writeln!(text, "Note: {note}.");
    }
    for (index, cloth) in plan.cloths.iter().enumerate() {
        let _ = write!(
            text,
            "\n{}",
            cloth_summary(cloth, job.units, files.of_cloths.get(index).map_or(&[], Vec::as_slice), detail)
        );
    }
    if let Some(total) = total(plan) {
        let _ = writeln!(text, "\n{total}");
    }
    for (said, paths) in [
        ("Removed, no longer part of this plan", &files.removed),
        ("Left alone, not part of this plan but changed since it was written", &files.left),
        ("Finished first, left half done by an earlier run that was stopped", &files.finished),
    ] {
        for path in paths {
            let _ = writeln!(text, "\n{said}: {}", path.display());
        }
    }
    if files.of_cloths.is_empty() {
        let _ =
            writeln!(text, "\nNothing was drawn: add --out DIR to get the sheets to cut from, a set for each cloth.");
    }
    let _ = writeln!(text, "\n{REMINDER}");
    text
}

/// The lines of one cloth: a heading and labelled lines below it.
fn cloth_summary(cloth: &ClothPlan, units: Units, files: &[PathBuf], detail: Detail) -> String {
    let layout = cloth.layout();
    let width = format_length(bought_width(cloth), units);
    let mut text = format!("{}: {}, {width} wide\n", layout.role, layout.cloth.name);
    let mut line = |label: &str, said: String| {
        let _ = writeln!(text, "  {label:<LABEL$}  {said}");
    };
    line("buy", buy(cloth, units));
    line("layout", how_it_lies(layout, units));
    line("length", length(layout, units));
    line("room for improvement", room_for_improvement(layout, units, detail));
    for (label, said) in matching_lines(cloth, units, detail) {
        line(label, said);
    }
    if let Some(short) = on_hand_is_short(cloth, units) {
        line("on hand", short);
    }
    if let Some(other) = &cloth.other {
        line(other_label(other), other_way(other, units));
    }
    if cloth.plan.ended == Ended::Stopped {
        line("stopped", "the search was ended early; this is the best layout it had found".into());
    }
    let sheets: Vec<&PathBuf> = files.iter().filter(|file| is_sheet_to_cut_from(file)).collect();
    if let [first, _, ..] = sheets[..] {
        line("sheets", format!("{} to cut from, the first is {}", sheets.len(), first.display()));
    }
    if !files.is_empty() {
        let names: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
        line("written", names.join(", "));
    }
    text
}

/// Whether a file is a sheet of the cutting layout as it is drawn for any printer; those for printers without colour say the same again.
fn is_sheet_to_cut_from(file: &Path) -> bool {
    let name = file.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
    name.ends_with(".svg") && (name.contains(".layout.") || name.contains(".layout-sheet-"))
}

/// Full width as the shop sells it, mm.
pub(crate) fn bought_width(cloth: &ClothPlan) -> f64 {
    cloth.fabric.cloth.width / (1.0 - cloth.fabric.shrinkage.across)
}

/// What several cloths cost, each currency apart; what is at home costs nothing and is not on the bill.
fn total(plan: &JobPlan) -> Option<String> {
    let bill = plan.bill();
    if plan.cloths.len() < 2 || bill.lines().is_empty() {
        return None;
    }
    let totals: Vec<String> = bill.totals().iter().map(ToString::to_string).collect();
    let unpriced: Vec<&str> =
        bill.lines().iter().filter(|line| line.cost.is_none()).map(|line| line.what.as_str()).collect();
    if totals.is_empty() {
        return None;
    }
    let rest =
        if unpriced.is_empty() { String::new() } else { format!(", plus the cost of {}", unpriced.join(" and ")) };
    Some(format!("Total {}{rest}", totals.join(" and ")))
}

fn buy(cloth: &ClothPlan, units: Units) -> String {
    if let (Some(on_hand @ OnHand::Enough { .. }), Some(have)) = (cloth.on_hand(), cloth.fabric.cloth.on_hand) {
        return format!("nothing: {}", on_hand.words(have, units));
    }
    let purchase = &cloth.layout().purchase;
    let mut said = format!("{} of {}", purchase.buy_text, cloth.layout().cloth.name);
    if let (Some(cost), Some(price)) = (&purchase.cost, purchase.price) {
        let price_of_one = Money::new(price.amount, cost.currency.clone());
        let _ = write!(said, ", {cost} at {price_of_one} a {}", price.per.sign());
    }
    said
}

fn how_it_lies(layout: &Layout, units: Units) -> String {
    let mut said = match (layout.uses_fold(), &layout.cloth.design) {
        (false, _) => format!("one open layer, {}", layout.face_up().words()),
        (true, None) => "folded lengthwise down the middle".to_owned(),
        // An axis of the design need not lie in the middle.
        (true, Some(_)) => {
            let fold = format_length(layout.cloth.centre_fold(), units);
            format!("folded lengthwise {fold} from the left edge, design outside, both layers pinned bar on bar")
        }
    };
    if layout.cloth.is_one_way() {
        said += ", tops all the same way";
    }
    said
}

fn length(layout: &Layout, units: Units) -> String {
    let mut said = format!("{} used", format_length_up(layout.length, units));
    for allowance in &layout.purchase.allowances {
        let _ = write!(said, " + {} for {}", format_length(allowance.length, units), allowance.reason);
    }
    said
}

fn room_for_improvement(layout: &Layout, units: Units, detail: Detail) -> String {
    let bound = &layout.lower_bound;
    let (said, least) = if layout.is_shortest_possible() {
        ("none, this is the shortest possible".to_owned(), String::new())
    } else {
        let least = write_length(bound.length, units, Rounding::Down);
        (percent(layout.gap()), format!("; no layout is shorter than {least}"))
    };
    match detail {
        Detail::Figures => said,
        Detail::Reasons => format!("{said}{least}: {}", bound.reason),
    }
}

/// A share that is not to be exceeded, never said to be nothing.
fn percent(share: f64) -> String {
    if share < 0.000_5 { "less than 0.1 %".to_owned() } else { format!("at most {:.1} %", 100.0 * share) }
}

fn on_hand_is_short(cloth: &ClothPlan, units: Units) -> Option<String> {
    let have = format_yardage(cloth.fabric.cloth.on_hand?, units);
    match cloth.on_hand()? {
        OnHand::Enough { .. } => None,
        OnHand::Short { by } => {
            Some(format!("{have} is {} too short, and a layout is cut from one piece", format_length_up(by, units)))
        }
    }
}

fn other_label(other: &OtherWay) -> &'static str {
    match other.layers {
        Layers::Open => "if open",
        Layers::CentreFold => "if folded",
    }
}

fn other_way(other: &OtherWay, units: Units) -> String {
    match &other.answer {
        Ok(plan) if other.layers == Layers::CentreFold && !plan.layout.uses_fold() => {
            "no piece is cut on the fold or through both layers".into()
        }
        Ok(plan) => {
            let layout = &plan.layout;
            format!("{} used, buy {}", format_length_up(layout.length, units), layout.purchase.buy_text)
        }
        Err(fault) => format!("{}: {}", verdict(fault), reason(fault, units)),
    }
}

#[cfg(test)]
mod tests;
