//! How a cloth lies when it is cut, what that takes, and what the other way of laying it would take.

use std::fmt::Write as _;

use ellwand_garment::{
    ClothLies, Ease, FoldedCloth, Folding, Lay, Layout, Units, Way, WayChoice, format_length, format_length_up,
};
use ellwand_planner::{ClothPlan, OtherWay, PlanError};

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
    if lies_plainer_than_asked(layout) {
        let _ = write!(said, "; laid {} it would save neither cloth nor work", layout.way.name());
    }
    Row::new("layout", said)
}

/// Whether the cloth lies open or folded down the middle although another way was asked for.
fn lies_plainer_than_asked(layout: &Layout) -> bool {
    let is_plain = layout.lay.is_open() || layout.lay == Lay::folded_lengthwise(layout.cloth.centre_fold());
    is_plain && !matches!(layout.way, Way::Open | Way::CentreFold)
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

/// How much work it is to lay and cut, where it was weighed against other ways.
pub(crate) fn ease_row(cloth: &ClothPlan) -> Option<Row> {
    let is_weighed = cloth.fabric.ways == WayChoice::Any && !cloth.others.is_empty();
    is_weighed.then(|| Row::new("cutting", ease_words(cloth.layout().ease())))
}

/// "16 to lay and cut, 12 of them double or on a fold", "24 to lay and cut, 7 of them halves drawn round twice".
fn ease_words(ease: Ease) -> String {
    let pieces = ease.things - ease.halves;
    let mut said = format!("{pieces} to lay and cut");
    match ease.folded {
        0 => said += ", none of them double",
        folded if folded == pieces => said += ", double or on a fold",
        folded => _ = write!(said, ", {folded} of them double or on a fold"),
    }
    match ease.halves {
        0 => {}
        1 => said += ", one of them half a piece on paper, drawn round twice",
        halves => _ = write!(said, ", {halves} of them half pieces on paper, drawn round twice"),
    }
    said
}

/// The ways of laying that were tried and not taken; nothing of one that the cloth does not allow, or that comes to what is told already.
pub(crate) fn other_way_rows(cloth: &ClothPlan, units: Units) -> Vec<Row> {
    let mut told: Vec<&Layout> = vec![cloth.layout()];
    let mut rows = Vec::new();
    for other in &cloth.others {
        let is_plain = matches!(other.way, Way::Open | Way::CentreFold);
        match &other.answer {
            Ok(plan) if !is_plain && told.iter().any(|layout| layout.cuts == plan.layout.cuts) => continue,
            Ok(plan) => told.push(&plan.layout),
            Err(_) => {}
        }
        rows.extend(other_way_row(other, units));
    }
    rows
}

fn other_way_row(other: &OtherWay, units: Units) -> Option<Row> {
    let label = match other.way {
        Way::Open => "if open",
        Way::CentreFold => "if folded",
        Way::OffCentre => "if off centre",
        Way::ToTheMiddle => "if to the middle",
        Way::PartFolded => "if part folded",
        Way::Crosswise => "if crosswise",
        Way::CutAndTurned => "if cut and turned",
    };
    let is_told = match &other.answer {
        Ok(plan) => matches!(other.way, Way::Open | Way::CentreFold) || plan.layout.uses_fold(),
        Err(fault) => !matches!(fault, PlanError::WayRefused { .. }),
    };
    is_told.then(|| Row::new(label, other_way(other, units)))
}

fn other_way(other: &OtherWay, units: Units) -> String {
    match &other.answer {
        Ok(plan) if other.way == Way::CentreFold && !plan.layout.uses_fold() => {
            "no piece is cut on the fold or through both layers".into()
        }
        Ok(plan) => {
            let layout = &plan.layout;
            let (used, buy) = (format_length_up(layout.length, units), &layout.purchase.buy_text);
            let ease = layout.ease();
            let cost = layout.purchase.cost.as_ref().map(|cost| format!(", {cost}")).unwrap_or_default();
            format!("{used} used, buy {buy}{cost}, {} to cut", ease.things - ease.halves)
        }
        Err(fault) => format!("{}: {}", verdict(fault), reason(fault, units)),
    }
}
