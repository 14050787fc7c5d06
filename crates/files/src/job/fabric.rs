//! The cloth for one role as it will be laid out: after shrinkage, with what the shop says about it.

use ellwand_garment::{
    CentreOn, Cloth, Fabric, Matching, Nap, Price, PriceUnit, RightSide, Shrinkage, Units, WayChoice,
};
use ellwand_geometry::{Outline, point};

use super::{
    creases, design,
    format::{FabricEntry, FlawEntry},
    lengths::{above_zero, step, usual_step},
    matching,
};
use crate::{
    Length, Share,
    document::At,
    fault::{DocumentFault, JobFault, MOST_OFF_GRAIN_DEG, USUAL_OFF_GRAIN_DEG},
    findings::Findings,
    note::NoteKind,
};

/// The cloth; none when some part of it is missing or at fault.
pub(super) fn convert(
    role: &str,
    entry: &FabricEntry,
    units: Option<Units>,
    job_currency: &Option<String>,
    findings: &mut Findings,
) -> Option<Fabric> {
    let shrinkage = entry.shrinkage.as_ref().map_or(Shrinkage::default(), |shrinkage| {
        let share = |at: &Option<At<Share>>| at.as_ref().map_or(0.0, |share| share.value.fraction());
        Shrinkage { along: share(&shrinkage.value.along), across: share(&shrinkage.value.across) }
    });
    let mm = |length: &Option<At<Length>>| length.as_ref().map_or(0.0, |length| length.value.mm());
    let metric = units == Some(Units::Centimetres);
    let sold_by = step(&entry.sold_by, "length the shop sells by", findings)
        .unwrap_or(usual_step(units.unwrap_or(Units::Inches)));
    let bought = above_zero(&entry.width, "width", findings);
    let mut flaws: Vec<Outline> = entry
        .flaws
        .as_ref()
        .map_or(&[][..], |flaws| flaws.value.as_slice())
        .iter()
        .filter_map(|flaw| convert_flaw(&flaw.value, bought, shrinkage, findings))
        .collect();
    if let Some(creases) = &entry.creases {
        let along = entry.on_hand.as_ref().map(|length| (0.0, length.value.mm()));
        if along.is_none() {
            findings.add(&creases.span, JobFault::CreasesWithoutOnHand);
        }
        flaws.extend(creases::spots(creases, bought.map(|width| (0.0, width)), along, shrinkage, findings));
    }
    let off_grain_deg = entry.off_grain.as_ref().map_or(0.0, |angle| angle.value.degrees());
    if let Some(angle) = &entry.off_grain {
        if off_grain_deg > MOST_OFF_GRAIN_DEG {
            findings.add(&angle.span, JobFault::OffGrainTooLarge { degrees: off_grain_deg });
        } else if off_grain_deg > USUAL_OFF_GRAIN_DEG {
            findings.note(&angle.span, NoteKind::MuchOffGrain { degrees: off_grain_deg });
        }
    }
    if let Some(per) = &entry.price_per
        && !entry.price_given
    {
        findings.add(&per.span, JobFault::PriceMissing);
    }
    let price = entry.price.as_ref().map(|price| Price {
        amount: price.value.amount(),
        per: match &entry.price_per {
            Some(per) => per.value.into(),
            None if metric => PriceUnit::Metre,
            None => PriceUnit::Yard,
        },
    });
    let centre = entry.matching.as_ref().and_then(|matching| matching.value.centre.as_ref());
    let fold_on = centre.map_or(CentreOn::default(), |centre| centre.value.into());
    let design = entry.design.as_ref().and_then(|entry| design::convert(entry, bought, shrinkage, fold_on, findings));
    let limit = matching::limit(entry, findings);
    let width = bought? * (1.0 - shrinkage.across);
    let selvage = mm(&entry.selvage);
    if let Some(at) = &entry.selvage
        && 2.0 * selvage >= width
    {
        findings.add(&at.span, JobFault::SelvageEatsWidth { selvage, width });
    }
    Some(Fabric {
        role: role.to_owned(),
        cloth: Cloth {
            name: entry.name.as_ref()?.value.0.clone(),
            width,
            selvage,
            nap: Nap::from(entry.nap.as_ref()?.value),
            right_side: entry.right_side.as_ref().map_or(RightSide::One, |side| side.value.into()),
            off_grain_deg,
            piece_gap: mm(&entry.piece_gap),
            flaws,
            on_hand: entry.on_hand.as_ref().map(|length| length.value.mm()),
            design,
            remnant: None,
        },
        ways: entry.layout.as_ref().map_or(WayChoice::Any, |layout| layout.value.into()),
        price,
        currency: entry.currency.as_ref().map(|currency| currency.value.0.clone()).or_else(|| job_currency.clone()),
        sold_by,
        shrinkage,
        straighten_ends: mm(&entry.straighten_ends),
        matching: Matching { limit, ..Matching::default() },
        remnants: Vec::new(),
    })
}

/// A rectangle to avoid, where it will lie once the cloth has shrunk.
pub(super) fn convert_flaw(
    entry: &FlawEntry,
    width: Option<f64>,
    shrinkage: Shrinkage,
    findings: &mut Findings,
) -> Option<Outline> {
    let at = two_lengths(entry.at.as_ref()?, findings);
    let size = two_lengths(entry.size.as_ref()?, findings);
    let ([x, y], [across, along]) = (at?, size?);
    if across <= 0.0 || along <= 0.0 {
        findings.add(&entry.size.as_ref()?.span, JobFault::Zero { what: "size of the flaw" });
        return None;
    }
    if let Some(width) = width
        && x >= width
    {
        findings.add(&entry.at.as_ref()?.span, JobFault::FlawOffCloth { at: x, width });
        return None;
    }
    let (kept_across, kept_along) = (1.0 - shrinkage.across, 1.0 - shrinkage.along);
    let corner = |x: f64, y: f64| point(x * kept_across, y * kept_along);
    Outline::new(vec![corner(x, y), corner(x + across, y), corner(x + across, y + along), corner(x, y + along)]).ok()
}

fn two_lengths(list: &At<Vec<At<Length>>>, findings: &mut Findings) -> Option<[f64; 2]> {
    if !list.sound {
        return None;
    }
    if let [first, second] = list.value.as_slice() {
        return Some([first.value.mm(), second.value.mm()]);
    }
    let found = format!("a list of {}", list.value.len());
    let expected = "two lengths, across and along, such as [\"10 in\", \"14 in\"]";
    findings.add(&list.span, DocumentFault::WrongKind { found, expected, meant: None });
    None
}
