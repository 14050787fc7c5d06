//! Measured shapes with round sides: parts of a ring, circle skirts, discs and ovals.
//!
//! A part of a ring hangs from its centre, which is the origin: its middle points straight down, its first side is on the left. With a side on the
//! fold it is the half, and hangs from that side. A disc or an oval lies around the origin; with `left` on the fold it is the right half.

use std::f64::consts::TAU;

use ellwand_geometry::{EdgeShape, Point, point};

use super::{
    measured::{INSET, Sides, positive},
    shape_format::{Circle, CircleSkirt, Oval, RingSector},
    taken::Lengths,
};
use crate::{
    document::At,
    fault::{DocumentFault, PatternFault},
    findings::Findings,
};

/// More circles than a skirt has, or more panels than one is cut in. Common sense, no source.
const MOST_CIRCLES: f64 = 8.0;
pub(super) const MOST_PANELS: u64 = 60;

/// How wide the slit of a full circle is drawn, mm: as wide as scissors need, so that the ends of its allowances do not meet.
const SLIT: f64 = 4.0;

/// The disc that covers a button is so many times as wide. Common practice, no source.
const OVER_A_BUTTON: f64 = 2.0;

/// A part of a ring before it is placed.
struct Ring {
    what: &'static str,
    /// Outer and inner edge, and the sides where it begins and where it ends.
    names: [&'static str; 4],
    inner: f64,
    length: f64,
    /// The angle it spans.
    degrees: f64,
    /// How wide the slit is between where it begins and where it ends, of a whole turn that is cut open; its lips run side by side.
    slit: f64,
}

impl Ring {
    /// Its sides, hung from its middle or from the side on the fold.
    fn sides(&self, fold: Option<&str>) -> Sides {
        let Self { what, names: [outer_name, inner_name, start, end], inner, length, degrees, slit } = *self;
        let outer = inner + length;
        let whole_turn = degrees == 360.0 && slit == 0.0;
        let down = 270.0;
        let (from, to) = match fold {
            Some(side) if side == start => (down, down + degrees),
            Some(side) if side == end => (down - degrees, down),
            _ => (down - degrees / 2.0, down + degrees / 2.0),
        };
        let on = |radius: f64, degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            // On the fold or the middle the direction is straight down, exactly.
            if degrees == down { point(0.0, -radius) } else { point(radius * cos, radius * sin) }
        };
        let middle = (from + to) / 2.0;
        // Half the slit is taken of each side that does not lie on the fold.
        let lip = |side: &str, radius: f64| match fold {
            Some(fold) if fold == side => 0.0,
            _ if slit == 0.0 => 0.0,
            _ => (slit / 2.0 / radius).asin().to_degrees(),
        };
        let (begins, ends) = (|radius: f64| from + lip(start, radius), |radius: f64| to - lip(end, radius));
        // Each round edge is two arcs, so that even a whole turn has two different ends.
        let arc = |name, radius: f64, a: f64, b: f64| {
            (name, on(radius, b), EdgeShape::Arc { through: on(radius, (a + b) / 2.0) })
        };
        let mut sides =
            vec![arc(outer_name, outer, begins(outer), middle), arc(outer_name, outer, middle, ends(outer))];
        if whole_turn {
            sides[1].1 = on(outer, from);
        } else if inner > 0.0 {
            sides.push((end, on(inner, ends(inner)), EdgeShape::Straight));
            sides.push(arc(inner_name, inner, ends(inner), middle));
            sides.push(arc(inner_name, inner, middle, begins(inner)));
            sides.push((start, on(outer, begins(outer)), EdgeShape::Straight));
        } else {
            sides.push((end, point(0.0, 0.0), EdgeShape::Straight));
            sides.push((start, on(outer, from), EdgeShape::Straight));
        }
        let grain = |share: f64| point(0.0, -(inner + length * share));
        Sides {
            what,
            start: on(outer, begins(outer)),
            sides,
            upright: [grain(1.0 - INSET), grain(INSET)],
            level: None,
            settled: "runs along its middle",
        }
    }
}

pub(super) fn ring_sector(entry: &At<RingSector>, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let inner = entry.value.inner_radius.as_ref().map(|radius| radius.value.mm());
    let length = positive(&entry.value.length, "the length", findings);
    let angle = entry.value.angle.as_ref()?;
    let degrees = angle.value.degrees();
    if degrees == 0.0 {
        let problem = "the angle is zero, and so is the area of the piece".to_owned();
        findings.add(&angle.span, PatternFault::Shape { problem, remedy: "write an angle above zero" });
        return None;
    }
    let (inner, length) = (inner?, length?);
    if degrees == 360.0 && inner > 0.0 {
        let problem = "a full ring is not one outline: it has a hole".to_owned();
        let remedy = "cut it as two halves of \"180 deg\", or leave a slit: \"359 deg\"";
        findings.add(&angle.span, PatternFault::Shape { problem, remedy });
        return None;
    }
    let names = ["outer", "inner", "start", "end"];
    Some(Ring { what: "ring sector", names, inner, length, degrees, slit: 0.0 }.sides(fold))
}

/// One panel of a circle skirt: of a waist `C` and so much of a circle `f` the radius of the waist is `C / (2 pi f)`, that of the hem as much more as the
/// skirt is long (drafting pages).
pub(super) fn circle_skirt(
    entry: &At<CircleSkirt>,
    fold: Option<&str>,
    lengths: &Lengths<'_>,
    findings: &mut Findings,
) -> Option<Sides> {
    let before = findings.count();
    let CircleSkirt { waist, ease, fraction, length, panels } = &entry.value;
    let mut refuse = |span, problem: String, remedy| findings.add(span, PatternFault::Shape { problem, remedy });
    let circles = fraction.as_ref().map_or(1.0, |fraction| fraction.value.0);
    if let Some(fraction) = fraction
        && !(circles > 0.0 && circles <= MOST_CIRCLES)
    {
        let problem = format!("{circles} circles make no skirt");
        refuse(
            &fraction.span,
            problem,
            "write how much of a circle it is, such as \"full\", \"3/4\", \"half\" or \"quarter\"",
        );
    }
    let count = panels.as_ref().map_or(1, |panels| panels.value.0);
    if let Some(panels) = panels
        && !(1..=MOST_PANELS).contains(&count)
    {
        let problem = format!("{count} panels make no skirt");
        refuse(&panels.span, problem, "write in how many panels it is cut, from 1 to 60");
    }
    let degrees = 360.0 * circles / count as f64;
    // A fraction that could not be read was told already.
    if entry.sound && degrees > 360.0 && (1..=MOST_PANELS).contains(&count) && circles <= MOST_CIRCLES {
        let span = panels.as_ref().map_or(&entry.span, |panels| &panels.span);
        let problem = "a panel of more than a full circle does not lie flat".to_owned();
        refuse(span, problem, "cut it in more panels, such as panels = 2");
    }
    if entry.sound && (degrees - 360.0).abs() < 1e-9 && count > 1 {
        let span = panels.as_ref().map_or(&entry.span, |panels| &panels.span);
        let problem = "a panel that is a full circle has no side to be sewn to the next one".to_owned();
        refuse(span, problem, "cut it in more panels, such as twice as many");
    }
    let length = positive(length, "the length", findings);
    let around = waist.as_ref().and_then(|waist| lengths.measure(waist, "the circle skirt", findings));
    let around = around? + ease.as_ref().map_or(0.0, |ease| ease.value.mm());
    if around <= 0.0 {
        let span = ease.as_ref().map(|ease| &ease.span).or(waist.as_ref().map(|waist| &waist.span))?;
        let problem = "the waist is zero or less once its ease is counted".to_owned();
        findings.add(
            span,
            PatternFault::Shape { problem, remedy: "write a waist above zero, and an ease that leaves some of it" },
        );
    }
    let length = length?;
    if findings.count() > before {
        return None;
    }
    // A full circle is cut open from hem to waist: else its waist would be a hole in an outline. What the slit takes of the waist is added.
    let slit = if degrees >= 360.0 { SLIT } else { 0.0 };
    let inner = (around + slit) / (TAU * circles);
    let names = ["hem", "waist", "left", "right"];
    let halves = if matches!(fold, Some("left" | "right")) { 2.0 } else { 1.0 };
    Some(Ring { what: "circle skirt", names, inner, length, degrees: degrees / halves, slit }.sides(fold))
}

/// Whether a circle skirt is a full circle in one panel, whose sides are the lips of a slit: no cloth is left beside them for an allowance.
pub(super) fn is_slit(entry: &CircleSkirt) -> bool {
    let circles = entry.fraction.as_ref().map_or(1.0, |fraction| fraction.value.0);
    let count = entry.panels.as_ref().map_or(1, |panels| panels.value.0);
    count == 1 && circles >= 1.0
}

pub(super) fn circle(entry: &At<Circle>, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let Circle { diameter, covers } = &entry.value;
    let diameter = match (diameter, covers) {
        (Some(_), None) => positive(diameter, "the diameter", findings)?,
        (None, Some(_)) => positive(covers, "the diameter of the button", findings)? * OVER_A_BUTTON,
        (diameter, covers) => {
            if entry.sound {
                let choices = vec!["diameter".to_owned(), "covers".to_owned()];
                let found = usize::from(diameter.is_some()) + usize::from(covers.is_some());
                findings.add(&entry.span, DocumentFault::NotExactlyOne { of: "a circle", choices, found });
            }
            return None;
        }
    };
    Some(oval_of("circle", diameter / 2.0, diameter / 2.0, fold))
}

pub(super) fn oval(entry: &Oval, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let width = positive(&entry.width, "the width", findings);
    let height = positive(&entry.height, "the height", findings);
    Some(oval_of("oval", width? / 2.0, height? / 2.0, fold))
}

/// Parts of a whole turn in which an oval is drawn; a cubic comes within a hundred thousandth of an eighth.
const PARTS: u32 = 8;

/// An ellipse of these half axes, or with a fold its right half.
fn oval_of(what: &'static str, across: f64, along: f64, fold: Option<&str>) -> Sides {
    let turn = TAU / f64::from(PARTS);
    // How far along its tangent a control point lies from the end of an arc of the unit circle.
    let reach = 4.0 / 3.0 * (turn / 4.0).tan();
    let place = |x: f64, y: f64| point(across * x, along * y);
    // From the lowest point on; the axes exactly, so that a fold is upright.
    let ends: [(f64, f64); 9] = {
        let d = std::f64::consts::FRAC_1_SQRT_2;
        [(0.0, -1.0), (d, -d), (1.0, 0.0), (d, d), (0.0, 1.0), (-d, d), (-1.0, 0.0), (-d, -d), (0.0, -1.0)]
    };
    let is_half = fold.is_some_and(|fold| fold != "rim");
    let parts = if is_half { 4 } else { 8 };
    let mut sides: Vec<(&'static str, Point, EdgeShape)> = ends[..=parts]
        .windows(2)
        .map(|two| {
            let [(x0, y0), (x1, y1)] = [two[0], two[1]];
            let first = place(x0 - y0 * reach, y0 + x0 * reach);
            let second = place(x1 + y1 * reach, y1 - x1 * reach);
            ("rim", place(x1, y1), EdgeShape::Cubic { first, second })
        })
        .collect();
    if is_half {
        sides.push(("left", place(0.0, -1.0), EdgeShape::Straight));
    }
    let inset = 1.0 - 2.0 * INSET;
    let level =
        if is_half { [place(INSET, 0.0), place(1.0 - INSET, 0.0)] } else { [place(-inset, 0.0), place(inset, 0.0)] };
    Sides {
        what,
        start: place(0.0, -1.0),
        sides,
        upright: [place(0.0, -inset), place(0.0, inset)],
        level: Some(level),
        settled: "",
    }
}
