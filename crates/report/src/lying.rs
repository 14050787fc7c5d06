//! How a cloth lies when it is cut, what that takes, and what the other way of laying it would take.

use std::fmt::Write as _;

use ellwand_garment::{ClothLies, FoldedCloth, Folding, Layout, Units, Way, format_length, format_length_up};
use ellwand_planner::OtherWay;

use crate::{
    Row,
    misfit::{reason, verdict},
};

/// Folded and how, or open and which face is up, and whether every top points the same way.
pub(crate) fn layout_row(layout: &Layout, units: Units) -> Row {
    let folded = layout.folded_cloth();
    let mut said = match folded.first().map(|(cloth, _)| (*cloth, cloth.folding, &layout.cloth.design)) {
        None => format!("one open layer, {}", layout.face_up().words()),
        Some((cloth, Folding::Middle { .. }, None)) if !cloth.to.is_finite() && cloth.from == 0.0 => {
            "folded lengthwise down the middle".to_owned()
        }
        // An axis of the design need not lie in the middle.
        Some((cloth, Folding::Middle { at }, Some(_))) if !cloth.to.is_finite() && cloth.from == 0.0 => {
            let fold = format_length(at, units);
            format!("folded lengthwise {fold} from the left edge, design outside, both layers pinned bar on bar")
        }
        Some((cloth, _, design)) => {
            let words = layout.lies_in_words(ClothLies::Folded(cloth), units);
            let pinned = if design.is_some() && cloth.is_lengthwise() { ", both layers pinned bar on bar" } else { "" };
            let single = if lies_single_beside(&cloth) { ", the rest single" } else { "" };
            format!("{}{pinned}{single}", in_a_sentence(&words))
        }
    };
    if layout.cloth.is_one_way() {
        said += ", tops all the same way";
    }
    Row::new("layout", said)
}

/// Whether a part of the cloth lies in one layer beside or beyond the folded one.
fn lies_single_beside(cloth: &FoldedCloth) -> bool {
    let is_part = cloth.from > 0.0 || cloth.to.is_finite();
    is_part || matches!(cloth.folding, Folding::LeftEdge { .. } | Folding::RightEdge { .. })
}

/// Words that begin a line, as they stand after others.
fn in_a_sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// What the layout uses and what is added to it.
pub(crate) fn length_row(layout: &Layout, units: Units) -> Row {
    let mut said = format!("{} used", format_length_up(layout.length, units));
    for allowance in &layout.purchase.allowances {
        let _ = write!(said, " + {} for {}", format_length(allowance.length, units), allowance.reason);
    }
    Row::new("length", said)
}

/// The way of laying that was tried and not taken.
pub(crate) fn other_way_row(other: &OtherWay, units: Units) -> Row {
    let label = match other.way {
        Way::Open => "if open",
        Way::CentreFold => "if folded",
        Way::OffCentre => "if folded off centre",
        Way::ToTheMiddle => "if folded to the middle",
        Way::PartFolded => "if a part is folded",
        Way::Crosswise => "if folded crosswise",
        Way::CutAndTurned => "if cut and turned",
    };
    Row::new(label, other_way(other, units))
}

fn other_way(other: &OtherWay, units: Units) -> String {
    match &other.answer {
        Ok(plan) if other.way == Way::CentreFold && !plan.layout.uses_fold() => {
            "no piece is cut on the fold or through both layers".into()
        }
        Ok(plan) => {
            let layout = &plan.layout;
            format!("{} used, buy {}", format_length_up(layout.length, units), layout.purchase.buy_text)
        }
        Err(fault) => format!("{}: {}", verdict(fault), reason(fault, units)),
    }
}
