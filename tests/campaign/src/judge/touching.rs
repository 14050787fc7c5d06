//! Shapes against each other by GEOS: overlap, gaps, flaws, and cutting lines that are simple.

use super::{Answer, Complaint, PLACE, name};
use crate::{plane::Polygon, record::PieceRecord};

/// How deep two shapes may overlap, mm: the rounding of a place, on either side.
const DEEPEST: f64 = 0.0021;

/// No two cuts overlap, none covers a flaw, and each keeps the gap.
pub(super) fn overlap(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let shape = |corners: &[[f64; 2]]| Polygon::new(corners).map(|polygon| (polygon, bounds(corners)));
    let cuts: Result<Vec<_>, String> = answer.layout.cuts.iter().map(|cut| shape(&cut.outline)).collect();
    let flaws: Result<Vec<_>, String> = answer.asked.flaws.iter().map(|flaw| shape(flaw)).collect();
    let (Ok(cuts), Ok(flaws)) = (cuts, flaws) else {
        say("overlap", "an outline is no polygon".to_owned());
        return;
    };
    let gap = answer.asked.gap;
    let mut pair =
        |one: &(Polygon, [f64; 4]), other: &(Polygon, [f64; 4]), names: &dyn Fn() -> String, on: &'static str| {
            if !near(one.1, other.1, gap) {
                return;
            }
            match one.0.depth_of_overlap(&other.0) {
                Ok(depth) if depth > DEEPEST => say(on, format!("{} overlap by {depth} mm or more", names())),
                Ok(_) => {}
                Err(fault) => say(on, format!("{}: {fault}", names())),
            }
            let distance = if gap > 0.0 { one.0.distance(&other.0) } else { 0.0 };
            if gap > 0.0 && distance < gap - PLACE {
                say("gap", format!("{} lie {distance:.4} mm apart and not {gap}", names()));
            }
        };
    for (k, one) in cuts.iter().enumerate() {
        for (j, other) in cuts.iter().enumerate().skip(k + 1) {
            let (a, b) = (&answer.layout.cuts[k], &answer.layout.cuts[j]);
            pair(one, other, &|| format!("{} and {}", name(a), name(b)), "overlap");
        }
        for (j, flaw) in flaws.iter().enumerate() {
            pair(one, flaw, &|| format!("{} and flaw {}", name(&answer.layout.cuts[k]), j + 1), "flaw");
        }
    }
}

/// Every cut lies within the edge of the remnant that it is cut from.
pub(super) fn within(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let Some(outline) = &answer.asked.outline else { return };
    for cut in &answer.layout.cuts {
        let shapes = Polygon::new(&cut.outline).and_then(|cut| Ok((cut, Polygon::new(outline)?)));
        match shapes.and_then(|(cut, outline)| cut.depth_outside(&outline)) {
            Ok(depth) if depth > DEEPEST => say("remnant", format!("{} sticks out by {depth} mm or more", name(cut))),
            Ok(_) => {}
            Err(fault) => say("remnant", format!("{}: {fault}", name(cut))),
        }
    }
}

/// Least and most x, least and most y.
fn bounds(corners: &[[f64; 2]]) -> [f64; 4] {
    corners
        .iter()
        .fold([f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY], |[a, b, c, d], &[x, y]| {
            [a.min(x), b.max(x), c.min(y), d.max(y)]
        })
}

fn near(a: [f64; 4], b: [f64; 4], by: f64) -> bool {
    a[0] <= b[1] + by && b[0] <= a[1] + by && a[2] <= b[3] + by && b[2] <= a[3] + by
}

/// A gap narrower than this all along is a slit that roundings left, mm. Two allowances that meet at a hair less than a right angle leave
/// a wedge as narrow as the drawing makes it.
const SLIT: f64 = 0.002;

/// Longest border of a slit that is no slit, mm: corners that closing rounds a little.
const SHORT: f64 = 1.0;

/// Cutting lines are simple polygons without slits.
pub(super) fn cutting_lines(pieces: &[PieceRecord], say: &mut dyn FnMut(&'static str, String)) {
    for piece in pieces {
        let complaint = match Polygon::new(&piece.outline) {
            Err(fault) => Some(fault),
            Ok(polygon) if !polygon.is_simple() => Some("crosses or touches itself".to_owned()),
            Ok(polygon) if polygon.area() < 1.0 => Some(format!("has an area of {} mm²", polygon.area())),
            Ok(polygon) => match polygon.slits(SLIT) {
                Ok(slit) if slit > SHORT => Some(format!("has slits {:.2} mm long", slit / 2.0)),
                Ok(_) => None,
                Err(fault) => Some(fault),
            },
        };
        if let Some(what) = complaint {
            let Complaint { judge, text } =
                Complaint { judge: "cutting line", text: format!("the cutting line of \"{}\" {what}", piece.piece) };
            say(judge, text);
        }
    }
}
