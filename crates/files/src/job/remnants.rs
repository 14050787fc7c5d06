//! Remnants as they will be laid: those that a job lists for a cloth, and those of a stash that are of this cloth.

use std::ops::Range;

use ellwand_garment::{Fabric, Remnant, Selvages, Shrinkage};
use ellwand_geometry::{Outline, point};

use super::{
    creases,
    fabric::convert_flaw,
    format::{FabricEntry, JobFile},
    lengths::above_zero,
    remnant_format::{RemnantEntry, StashFile},
};
use crate::{
    document::{Coordinate, Pair},
    fault::{JobFault, RemnantFault},
    findings::Findings,
    limits::LEAST_AREA,
};

/// Gives each cloth its remnants: first those of the job, then those of its stash.
pub(super) fn convert(
    file: &JobFile,
    fabrics: &mut [Fabric],
    stash: Option<(&StashFile, &mut Findings)>,
    findings: &mut Findings,
) {
    let listed = file.fabric.as_ref().map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
    for (role, entry) in listed {
        let FabricEntry { remnant: Some(remnants), .. } = &entry.value else { continue };
        let Some(fabric) = fabrics.iter_mut().find(|fabric| fabric.role == role.value) else {
            // A cloth at fault was told already; its remnants are judged by themselves.
            for remnant in &remnants.value {
                outline(&remnant.value, &remnant.span, None, findings);
            }
            continue;
        };
        for remnant in &remnants.value {
            add(fabric, &remnant.value, &remnant.span, findings);
        }
    }
    let Some((stash, of_stash)) = stash else { return };
    let job = file.name.as_ref().map(|name| name.value.0.as_str());
    for entry in stash.remnant.iter().flat_map(|remnants| &remnants.value) {
        let of = entry.value.cloth.as_ref().map(|cloth| cloth.value.0.as_str());
        // What another job is cut from is spoken for; what this job left is not there before it is cut.
        let by_other = entry.value.used_by.as_ref().is_some_and(|by| Some(by.value.0.as_str()) != job);
        let left_by_this = entry.value.job.as_ref().is_some_and(|by| Some(by.value.0.as_str()) == job);
        if by_other || left_by_this {
            continue;
        }
        for fabric in fabrics.iter_mut().filter(|fabric| Some(fabric.cloth.name.as_str()) == of) {
            add(fabric, &entry.value.remnant, &entry.span, of_stash);
        }
    }
}

/// Adds a remnant to its cloth, or says what is wrong with it.
fn add(fabric: &mut Fabric, entry: &RemnantEntry, span: &Range<usize>, findings: &mut Findings) {
    let Some(remnant) = remnant(entry, span, fabric, findings) else { return };
    if fabric.remnants.iter().any(|known| known.name == remnant.name) {
        let at = entry.name.as_ref().map_or(span, |name| &name.span);
        findings.add(at, RemnantFault::Twice { name: remnant.name });
        return;
    }
    fabric.remnants.push(remnant);
}

/// The remnant of `fabric`; none when some part of it is missing or at fault.
fn remnant(entry: &RemnantEntry, span: &Range<usize>, fabric: &Fabric, findings: &mut Findings) -> Option<Remnant> {
    let before = findings.count();
    let name = || entry.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
    let is_washed = entry.washed.as_ref().is_some_and(|washed| washed.value);
    let shrinkage = if is_washed { Shrinkage::default() } else { fabric.shrinkage };
    let whole_width = fabric.cloth.width / (1.0 - shrinkage.across);
    let bought = outline(entry, span, Some(whole_width), findings)?;
    let at = entry.name.as_ref().map_or(span, |name| &name.span);
    let low = bought.bounds().min;
    let (across, along) = (1.0 - shrinkage.across, 1.0 - shrinkage.along);
    let washed = |outline: &Outline| {
        let corners = outline.points().iter().map(|p| point((p.x - low.x) * across, (p.y - low.y) * along));
        Outline::new(corners.collect()).ok()
    };
    let design = fabric.cloth.design.as_ref();
    if design.is_some_and(|design| design.border.is_some()) {
        findings.add(at, RemnantFault::OfBorder { name: name() });
    }
    let repeats = |direction: &str| {
        design.is_some_and(|design| match direction {
            "across" => design.across.is_some(),
            _ => design.along.is_some(),
        })
    };
    for (direction, offset) in [("across", &entry.offset_across), ("along", &entry.offset_along)] {
        if repeats(direction) && offset.is_none() {
            findings.add(at, RemnantFault::NotMeasured { name: name(), direction });
        }
    }
    let width = bought.bounds().width();
    let flaws = entry.flaws.as_ref().map_or(&[][..], |flaws| flaws.value.as_slice());
    let flaws = flaws.iter().filter_map(|flaw| {
        let spot = convert_flaw(&flaw.value, Some(low.x + width), Default::default(), findings)?;
        washed(&spot)
    });
    let mut flaws: Vec<Outline> = flaws.collect();
    if let Some(creases) = &entry.creases {
        let (from, to) = (bought.bounds().min, bought.bounds().max);
        let spots = creases::spots(creases, Some((from.x, to.x)), Some((from.y, to.y)), shrinkage, findings);
        flaws.extend(spots.iter().map(|spot| spot.translated(point(-low.x * across, -low.y * along))));
    }
    let usual = if entry.outline.is_none() && entry.width.is_none() { Selvages::Both } else { Selvages::None };
    let selvages = entry.selvage.as_ref().map_or(usual, |word| word.value.into());
    let (left, right) = selvages.sides(fabric.cloth.selvage);
    if left + right >= width * across {
        let at = entry.selvage.as_ref().map_or(at, |word| &word.span);
        findings.add(at, RemnantFault::SelvageEatsWidth { name: name(), width });
    }
    let outline = washed(&bought)?;
    let offset = |length: &Option<crate::document::At<crate::Length>>, low: f64, kept: f64| {
        length.as_ref().map(|length| (length.value.mm() - low) * kept)
    };
    let remnant = Remnant {
        name: entry.name.as_ref()?.value.0.clone(),
        outline,
        selvages,
        flaws,
        offset_across: offset(&entry.offset_across, low.x, across),
        offset_along: offset(&entry.offset_along, low.y, along),
    };
    (findings.count() == before).then_some(remnant)
}

/// Its edge as measured; `cloth` is the width of the cloth it is of, as it lies in the cupboard, where that is known.
fn outline(entry: &RemnantEntry, span: &Range<usize>, cloth: Option<f64>, findings: &mut Findings) -> Option<Outline> {
    let name = || entry.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
    let at = entry.name.as_ref().map_or(span, |name| &name.span);
    let Some(corners) = &entry.outline else {
        if entry.length.is_none() {
            findings.add(at, RemnantFault::NoSize { name: name() });
            return None;
        }
        let length = above_zero(&entry.length, "length of the remnant", findings);
        let width = match &entry.width {
            Some(_) => above_zero(&entry.width, "width of the remnant", findings),
            None => cloth,
        };
        return Outline::rectangle(width?, length?).ok();
    };
    for (key, other) in [("length", &entry.length), ("width", &entry.width)] {
        if let Some(other) = other {
            findings.add(&other.span, RemnantFault::SizeTwice { name: name(), key });
        }
    }
    if !corners.sound {
        return None;
    }
    let is_bare = |pair: &Pair| pair.0.iter().any(|number| matches!(number, Coordinate::Bare(_)));
    let unit = match &entry.coordinates {
        Some(unit) => unit.value.mm(),
        None if corners.value.iter().any(|corner| is_bare(&corner.value)) => {
            findings.add(&corners.span, RemnantFault::NoUnit { name: name() });
            return None;
        }
        None => 1.0,
    };
    let mut points = Vec::with_capacity(corners.value.len());
    for corner in &corners.value {
        let [x, y] = corner.value.0.map(|number| number.mm(unit));
        if x.abs().max(y.abs()) > crate::limits::FARTHEST {
            findings.add(&corner.span, JobFault::CornerTooFar);
            return None;
        }
        points.push(point(x, y));
    }
    match Outline::new(points) {
        Ok(outline) if outline.area() >= LEAST_AREA => Some(outline),
        Ok(_) => {
            let fault = ellwand_geometry::OutlineFault::ZeroArea;
            findings.add(&corners.span, RemnantFault::Outline { name: name(), fault });
            None
        }
        Err(faults) => {
            for fault in faults.into_iter().take(1) {
                findings.add(&corners.span, RemnantFault::Outline { name: name(), fault });
            }
            None
        }
    }
}
