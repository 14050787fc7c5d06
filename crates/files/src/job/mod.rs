//! From what a job file says to the job it means, by itself and against its pattern.

mod choices;
mod design;
pub(crate) mod design_format;
mod fit;
pub(crate) mod fit_format;
pub(crate) mod format;
mod matching;
pub(crate) mod matching_format;

use ellwand_garment::{
    CentreOn, Cloth, Fabric, Job, LayerChoice, Matching, Nap, Pattern, Price, PriceUnit, RightSide, Shrinkage, Units,
};
use ellwand_geometry::{Outline, point};

use crate::{
    Length, Limits,
    document::At,
    fault::{DocumentFault, Findings, JobFault, MOST_OFF_GRAIN_DEG},
    nearest::nearest,
    pattern::{Reading, cuts},
    read::JobAndPattern,
};
use choices::Choices;
use format::{FabricEntry, FlawEntry, JobFile};

/// An eighth of a yard, mm: what shops that sell by the yard measure to. Common practice; textbooks say 1/8 or 1/4 yd.
const EIGHTH_YARD: f64 = 914.4 / 8.0;

/// What shops that sell by the metre measure to, mm. Common practice, no source.
const TEN_CENTIMETRES: f64 = 100.0;

/// Converts a job, noting every fault. `pattern` is what could be read of its pattern, with the faults of that. Without it only the
/// job itself is judged. Pieces that the job lays on the bias or at a border get another grain in the pattern. The result is a
/// job only when nothing was found.
pub(crate) fn convert(
    file: &JobFile,
    pattern: Option<(&Reading<'_>, &mut Findings)>,
    limits: &Limits,
    findings: &mut Findings,
) -> Option<JobAndPattern> {
    let units = file.units.as_ref().map(|units| Units::from(units.value));
    let currency = file.currency.as_ref().map(|currency| currency.value.0.clone());
    let mut fabrics = Vec::new();
    if let Some(listed) = &file.fabric {
        for (role, entry) in &listed.value.0 {
            let fabric = convert_fabric(&role.value, &entry.value, units, &currency, findings);
            fabrics.extend(fabric);
        }
    }
    let (reading, of_pattern) = pattern?;
    let choices = Choices::read(file, reading, findings);
    let mut as_drawn = reading.pattern.clone();
    choices.apply(&mut as_drawn);
    check_against(file, reading, &choices, &as_drawn, findings);
    let worn = file.view.as_ref().and_then(|view| as_drawn.view(&view.value.0)).map(|view| view.pieces.as_slice());
    let request = fit::request(file, reading, findings).filter(|_| reading.sound)?;
    let (mut pattern, mut fit) = fit::fitted(file, reading, &request, worn, findings, of_pattern)?;
    choices.apply(&mut pattern);
    choices.apply(&mut fit.before);
    if let (Some(view), Some(at)) = (file.view.as_ref().and_then(|view| pattern.view(&view.value.0)), &file.view) {
        cuts::note_too_many(&pattern, view, &at.span, limits, findings);
    }
    matching::convert(file, &mut fabrics, &mut pattern, findings);
    let job = Job {
        name: file.name.as_ref()?.value.0.clone(),
        pattern: pattern.name.clone(),
        view: file.view.as_ref()?.value.0.clone(),
        size: pattern.size.clone(),
        units: units?,
        fabrics,
    };
    Some(JobAndPattern { job, pattern, fit })
}

/// View and roles must be the pattern's, which has the pieces the job chooses.
fn check_against(
    file: &JobFile,
    reading: &Reading<'_>,
    choices: &Choices<'_>,
    pattern: &Pattern,
    findings: &mut Findings,
) {
    let fabrics = file.fabric.as_ref();
    for (role, _) in fabrics.map_or(&[][..], |fabrics| fabrics.value.0.as_slice()) {
        if !reading.roles.contains(&role.value) && !choices.cuts_from(&role.value) {
            let meant = nearest(&role.value, reading.roles.iter().map(String::as_str)).map(str::to_owned);
            let (name, known) = (role.value.clone(), reading.roles.clone());
            findings.add(&role.span, JobFault::UnknownRole { role: name, meant, known });
        }
    }
    let Some(view) = &file.view else { return };
    let Some(known_view) = pattern.view(&view.value.0) else {
        if !pattern.views.is_empty() {
            let known: Vec<String> = pattern.views.iter().map(|view| view.name.clone()).collect();
            let meant = nearest(&view.value.0, known.iter().map(String::as_str)).map(str::to_owned);
            findings.add(&view.span, JobFault::UnknownView { view: view.value.0.clone(), meant, known });
        }
        return;
    };
    if known_view.pieces.is_empty() && reading.pattern.view(&view.value.0).is_some_and(|view| !view.pieces.is_empty()) {
        findings.add(&view.span, JobFault::NothingChosen { view: view.value.0.clone() });
    }
    // A job whose fabric table is missing altogether was told so already.
    let Some(fabrics) = fabrics else { return };
    for role in pattern.roles(known_view) {
        if !fabrics.value.names().any(|name| name == role) && !is_a_slip_for(role, fabrics, reading) {
            let (view_name, role) = (view.value.0.clone(), role.to_owned());
            findings.add(&view.span, JobFault::RoleWithoutFabric { view: view_name, role });
        }
    }
}

/// Whether some unknown role of the job most likely means `role`; then one fault is enough.
fn is_a_slip_for(role: &str, fabrics: &At<crate::document::Named<FabricEntry>>, reading: &Reading<'_>) -> bool {
    let roles = || reading.roles.iter().map(String::as_str);
    fabrics.value.names().any(|name| roles().all(|known| known != name) && nearest(name, roles()) == Some(role))
}

fn convert_fabric(
    role: &str,
    entry: &FabricEntry,
    units: Option<Units>,
    job_currency: &Option<String>,
    findings: &mut Findings,
) -> Option<Fabric> {
    let shrinkage = entry.shrinkage.as_ref().map_or(Shrinkage::default(), |shrinkage| {
        let share = |at: &Option<At<crate::Share>>| at.as_ref().map_or(0.0, |share| share.value.fraction());
        Shrinkage { along: share(&shrinkage.value.along), across: share(&shrinkage.value.across) }
    });
    let mm = |length: &Option<At<Length>>| length.as_ref().map_or(0.0, |length| length.value.mm());
    let metric = units == Some(Units::Centimetres);
    let sold_by = above_zero(&entry.sold_by, "length the shop sells by", findings).unwrap_or(if metric {
        TEN_CENTIMETRES
    } else {
        EIGHTH_YARD
    });
    let bought = above_zero(&entry.width, "width", findings);
    let flaws: Vec<Outline> = entry
        .flaws
        .as_ref()
        .map_or(&[][..], |flaws| flaws.value.as_slice())
        .iter()
        .filter_map(|flaw| convert_flaw(&flaw.value, bought, shrinkage, findings))
        .collect();
    let off_grain_deg = entry.off_grain.as_ref().map_or(0.0, |angle| angle.value.degrees());
    if let Some(angle) = &entry.off_grain
        && off_grain_deg > MOST_OFF_GRAIN_DEG
    {
        findings.add(&angle.span, JobFault::OffGrainTooLarge { degrees: off_grain_deg });
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
        },
        layer: entry.layer.as_ref().map_or(LayerChoice::Either, |layer| layer.value.into()),
        price,
        currency: entry.currency.as_ref().map(|currency| currency.value.0.clone()).or_else(|| job_currency.clone()),
        sold_by,
        shrinkage,
        straighten_ends: mm(&entry.straighten_ends),
        matching: Matching { limit, ..Matching::default() },
    })
}

/// A length that may not be zero.
fn above_zero(length: &Option<At<Length>>, what: &'static str, findings: &mut Findings) -> Option<f64> {
    let length = length.as_ref()?;
    if length.value.mm() <= 0.0 {
        findings.add(&length.span, JobFault::Zero { what });
        return None;
    }
    Some(length.value.mm())
}

/// A rectangle to avoid, where it will lie once the cloth has shrunk.
fn convert_flaw(
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
