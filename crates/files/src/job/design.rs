//! The design of a cloth as it lies on the table: what was measured on the cloth as bought, after shrinkage.

use ellwand_garment::{Balance, Bar, Border, CentreOn, CutEnd, Design, Drop, LeftEdge, Repeat, Shrinkage};

use super::{
    design_format::{BorderEntry, BorderSidesWord, DesignEntry, RepeatEntry},
    lengths::{above_zero, step},
};
use crate::{document::At, fault::DesignFault, findings::Findings};

/// The design; none when some part of it is missing or at fault. `width` is that of the cloth as bought, mm.
pub(super) fn convert(
    entry: &At<DesignEntry>,
    width: Option<f64>,
    shrinkage: Shrinkage,
    fold_on: CentreOn,
    findings: &mut Findings,
) -> Option<Design> {
    let before = findings.count();
    let (span, entry) = (&entry.span, &entry.value);
    let (kept_across, kept_along) = (1.0 - shrinkage.across, 1.0 - shrinkage.along);
    let across = entry.across.as_ref().map(|at| repeat(&at.value, kept_across, findings));
    let along = entry.along.as_ref().map(|at| repeat(&at.value, kept_along, findings));
    if let (Some(width), Some(at)) = (width, entry.across.as_ref().and_then(|at| at.value.repeat.as_ref()))
        && at.value.mm() > width
    {
        findings.add(&at.span, DesignFault::RepeatTooWide { repeat: at.value.mm(), width });
    }
    let drop = entry.drop.as_ref().map_or(Drop::Straight, |drop| drop.value.into());
    if let (Drop::Half, Some(at)) = (drop, &entry.drop)
        && (entry.across.is_none() || entry.along.is_none())
    {
        findings.add(&at.span, DesignFault::DropWithoutRepeats);
    }
    let border = entry.border.as_ref().and_then(|at| border(&at.value, width, kept_across, findings));
    if across.is_none() && along.is_none() && entry.border.is_none() && findings.count() == before {
        findings.add(span, DesignFault::Empty);
    }
    let is_measured =
        |direction: &Option<At<RepeatEntry>>| direction.as_ref().is_some_and(|at| at.value.offset.is_some());
    if findings.count() > before {
        return None;
    }
    let mut design = Design {
        across: across.flatten(),
        along: along.flatten(),
        drop,
        left_edge: if is_measured(&entry.across) { LeftEdge::Measured } else { LeftEdge::OnTheRoll },
        cut_end: if is_measured(&entry.along) { CutEnd::Measured } else { CutEnd::OnTheRoll },
        fold_on,
        ground: entry.ground.as_ref().map(|colour| colour.value.0.clone()).unwrap_or_default(),
        border,
    };
    if let (Drop::Half, Some(columns)) = (drop, &mut design.across) {
        columns.every *= 2.0;
    }
    Some(design)
}

/// One direction, of which washing leaves the share `kept`.
fn repeat(entry: &RepeatEntry, kept: f64, findings: &mut Findings) -> Option<Repeat> {
    let every = step(&entry.repeat, "repeat", findings);
    let mut bars = Vec::new();
    for bar in entry.bars.as_ref().map_or(&[][..], |bars| bars.value.as_slice()) {
        let width = above_zero(&bar.value.width, "width of the bar", findings);
        let (Some(every), Some(at), Some(width), Some(colour)) = (every, &bar.value.at, width, &bar.value.colour)
        else {
            continue;
        };
        if at.value.mm() >= every {
            findings.add(&at.span, DesignFault::BarOutside { at: at.value.mm(), repeat: every });
        }
        if width >= every {
            findings.add(&bar.span, DesignFault::BarTooWide { width, repeat: every });
        }
        bars.push(Bar { at: at.value.mm() * kept, width: width * kept, colour: colour.value.0.clone() });
    }
    Some(Repeat {
        every: every? * kept,
        offset: entry.offset.as_ref().map_or(0.0, |offset| offset.value.mm() * kept),
        balance: Balance::from(entry.balance.as_ref()?.value),
        bars,
    })
}

fn border(entry: &BorderEntry, cloth: Option<f64>, kept: f64, findings: &mut Findings) -> Option<Border> {
    let width = above_zero(&entry.width, "width of the border", findings);
    let along = entry.along.as_ref()?.value;
    let width = width?;
    let (sides, all) = match along {
        BorderSidesWord::Left | BorderSidesWord::Right => ("one selvage", width),
        BorderSidesWord::Both => ("both selvages", 2.0 * width),
    };
    if let (Some(cloth), Some(at)) = (cloth, &entry.width)
        && all > cloth
    {
        findings.add(&at.span, DesignFault::BorderTooWide { width, sides, cloth });
    }
    let colour = entry.colour.as_ref().map(|colour| colour.value.0.clone()).unwrap_or_default();
    Some(Border { sides: along.into(), width: width * kept, colour })
}
