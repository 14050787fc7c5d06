//! How a cloth lies when it is cut, what that takes, and what the other way of laying it would take.

use std::fmt::Write as _;

use ellwand_garment::{Layout, Units, Way, format_length, format_length_up};
use ellwand_planner::OtherWay;

use crate::{
    Row,
    misfit::{reason, verdict},
};

/// Folded or open, which face is up, and whether every top points the same way.
pub(crate) fn layout_row(layout: &Layout, units: Units) -> Row {
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
    Row::new("layout", said)
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
