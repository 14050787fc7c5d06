//! A piece given by its measures: rectangle, trapezoid, ring sector or strip.
//!
//! A rectangle, trapezoid or strip stands with the left end of its bottom side at the origin. A ring sector hangs from its
//! centre, which is the origin: its middle points straight down, its `start` side is on the left. With a fold edge the
//! shape is the half; a trapezoid then stands square on that edge, and a ring sector hangs from it.

use std::ops::Range;

use ellwand_garment::DraftEdge;
use ellwand_geometry::{CornerShape, EdgeAllowance, EdgeShape, Point, point};

use super::{
    drawn,
    format::{PieceEntry, SeamAllowance, Within},
    marks::{self, Outlined},
    outline::{Drawn, PieceFrame},
    shape_format::{GrainAlong, RingSector, ShapeEntry, Trapezoid},
    within,
};
use crate::{
    Length,
    document::At,
    fault::{DocumentFault, PatternFault},
    findings::Findings,
    nearest::nearest,
};

/// A shape before allowances: where it starts, and its sides with their names.
struct Sides {
    what: &'static str,
    start: Point,
    sides: Vec<(&'static str, Point, EdgeShape)>,
    /// The middle of the shape: low and high end of a grainline along its height.
    upright: [Point; 2],
    /// The same along its width.
    level: Option<[Point; 2]>,
}

/// The drawing of a measured piece; none when a measure is missing or at fault.
pub(super) fn draw(entry: &PieceEntry, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<Drawn> {
    let shape = entry.shape.as_ref()?;
    let fold_name = entry.fold_edge.as_ref().map(|edge| edge.value.0.as_str());
    let sides = sides_of(shape, fold_name, findings)?;
    let known: Vec<&str> = {
        let mut names: Vec<&str> = Vec::new();
        for (name, ..) in &sides.sides {
            if !names.contains(name) {
                names.push(name);
            }
        }
        names
    };
    let fold = entry.fold_edge.as_ref().filter(|edge| is_known(&edge.value.0, &edge.span, &sides, &known, findings));
    if let Some(fold) = fold
        && sides.sides.iter().any(|(name, _, shape)| *name == fold.value.0 && *shape != EdgeShape::Straight)
    {
        findings.add(&fold.span, PatternFault::CurvedFold { name: Some(fold.value.0.clone()) });
        return None;
    }
    let corner = corners(entry, &sides, &known, fold.map(|fold| fold.value.0.as_str()), findings);
    let depths = depths(entry, &sides, &known, fold.map(|fold| fold.value.0.as_str()), findings);
    let grainline = match &entry.drawing.grainline {
        Some(line) => drawn::grainline(line, frame, findings)?,
        None => match (entry.grain_along.as_ref().map(|along| along.value), sides.level) {
            (Some(GrainAlong::Width), Some(level)) => level,
            (Some(GrainAlong::Width), None) => {
                let problem = "the grain of a ring sector runs along its middle".to_owned();
                let remedy = "remove `grain_along`, or draw a `grainline`";
                let span = entry.grain_along.as_ref().map_or(frame.span, |along| &along.span);
                findings.add(span, PatternFault::Shape { problem, remedy });
                return None;
            }
            _ => sides.upright,
        },
    };
    let edges = sides.sides.iter().enumerate().map(|(number, &(name, to, shape))| DraftEdge {
        name: name.to_owned(),
        to,
        shape,
        allowance: match (fold.is_some_and(|fold| fold.value.0 == name), corner(name)) {
            (true, _) => EdgeAllowance::Fold,
            (false, None) => EdgeAllowance::Depth(depths(name)),
            (false, Some(corner)) => EdgeAllowance::Cornered { depth: depths(name), corner },
        },
        drawn: number,
    });
    let place = &shape.span;
    let mut outline = Outlined {
        start: sides.start,
        edges: edges.collect(),
        edge_places: vec![place.clone(); sides.sides.len()],
        grainline,
        grainline_place: entry.drawing.grainline.as_ref().map_or(place, |line| &line.span).clone(),
        cutting: None,
    };
    let whole = entry.seam_allowance.as_ref().map(|at| at.value);
    let mut marks = marks::read(&entry.drawing, frame, findings)?;
    if matches!(whole, Some(SeamAllowance::Within(_))) {
        within::move_in(&mut outline, &mut marks, &entry.drawing, frame, findings)?;
    }
    outline.with(marks, &entry.drawing, whole, frame, findings)
}

/// Whether `name` is a side of the shape; noted if not.
fn is_known(name: &str, span: &Range<usize>, sides: &Sides, known: &[&str], findings: &mut Findings) -> bool {
    let found = known.contains(&name);
    if !found {
        findings.add(
            span,
            PatternFault::UnknownSide {
                found: name.to_owned(),
                shape: sides.what,
                meant: nearest(name, known.iter().copied()).map(str::to_owned),
                known: known.iter().map(|&side| side.to_owned()).collect(),
            },
        );
    }
    found
}

/// The depth of allowance of each side, by name, mm.
fn depths<'a>(
    entry: &'a PieceEntry,
    sides: &Sides,
    known: &[&str],
    fold: Option<&str>,
    findings: &mut Findings,
) -> impl Fn(&str) -> f64 + use<'a> {
    let own = entry.allowances.as_ref().map_or(&[][..], |allowances| allowances.value.0.as_slice());
    let included = matches!(entry.seam_allowance.as_ref().map(|at| at.value), Some(SeamAllowance::Included(_)));
    for (name, depth) in own {
        if !is_known(&name.value, &name.span, sides, known, findings) {
            continue;
        }
        if included {
            findings.add(&depth.span, PatternFault::AllowanceTwice);
        } else if fold == Some(name.value.as_str()) {
            findings.add(&depth.span, PatternFault::AllowanceOnFold);
        }
    }
    let all_round = match entry.seam_allowance.as_ref().map(|at| at.value) {
        Some(SeamAllowance::Depth(depth) | SeamAllowance::Within(Within(depth))) => depth.mm(),
        _ => 0.0,
    };
    move |side| own.iter().find(|(name, _)| name.value == side).map_or(all_round, |(_, depth)| depth.value.mm())
}

/// The corners that are said of each side, by name.
fn corners<'a>(
    entry: &'a PieceEntry,
    sides: &Sides,
    known: &[&str],
    fold: Option<&str>,
    findings: &mut Findings,
) -> impl Fn(&str) -> Option<CornerShape> + use<'a> {
    let said = entry.corners.as_ref().map_or(&[][..], |corners| corners.value.0.as_slice());
    let included = matches!(entry.seam_allowance.as_ref().map(|at| at.value), Some(SeamAllowance::Included(_)));
    for (name, corner) in said {
        let is_side = is_known(&name.value, &name.span, sides, known, findings);
        if is_side && (included || fold == Some(name.value.as_str())) {
            findings.add(&corner.span, PatternFault::CornerWithoutAllowance);
        }
    }
    move |side| said.iter().find(|(name, _)| name.value == side).map(|(_, corner)| corner.value.into())
}

/// The sides of the one shape given.
fn sides_of(shape: &At<ShapeEntry>, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let entry = &shape.value;
    let given =
        [entry.rectangle.is_some(), entry.trapezoid.is_some(), entry.ring_sector.is_some(), entry.strip.is_some()];
    let found = given.iter().filter(|&&given| given).count();
    if found != 1 {
        // A misspelt shape, or a shape that is no table, was noted already.
        if shape.sound {
            let choices = ["rectangle", "trapezoid", "ring_sector", "strip"].map(str::to_owned).to_vec();
            findings.add(&shape.span, DocumentFault::NotExactlyOne { of: "a measured shape", choices, found });
        }
        return None;
    }
    if let Some(rectangle) = &entry.rectangle {
        let width = positive(&rectangle.value.width, "the width", findings);
        let height = positive(&rectangle.value.height, "the height", findings);
        return Some(upright_rectangle("rectangle", width?, height?));
    }
    if let Some(strip) = &entry.strip {
        let width = positive(&strip.value.width, "the width", findings);
        let length = positive(&strip.value.length, "the length", findings);
        return Some(upright_rectangle("strip", width?, length?));
    }
    if let Some(entry) = &entry.trapezoid {
        return trapezoid(&entry.value, fold, findings);
    }
    entry.ring_sector.as_ref().and_then(|entry| ring_sector(entry, fold, findings))
}

/// A measure above zero.
fn positive(length: &Option<At<Length>>, what: &str, findings: &mut Findings) -> Option<f64> {
    let length = length.as_ref()?;
    if length.value.mm() <= 0.0 {
        let problem = format!("{what} is zero, and so is the area of the piece");
        findings.add(&length.span, PatternFault::Shape { problem, remedy: "write a length above zero" });
        return None;
    }
    Some(length.value.mm())
}

/// A share of a measure at which a grainline ends, from the border.
const INSET: f64 = 0.1;

fn upright_rectangle(what: &'static str, width: f64, height: f64) -> Sides {
    let side = |name, x, y| (name, point(x, y), EdgeShape::Straight);
    Sides {
        what,
        start: point(0.0, 0.0),
        sides: vec![
            side("bottom", width, 0.0),
            side("right", width, height),
            side("top", 0.0, height),
            side("left", 0.0, 0.0),
        ],
        upright: [point(width / 2.0, height * INSET), point(width / 2.0, height * (1.0 - INSET))],
        level: Some([point(width * INSET, height / 2.0), point(width * (1.0 - INSET), height / 2.0)]),
    }
}

fn trapezoid(entry: &Trapezoid, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let top = positive(&entry.top, "the top", findings);
    let bottom = positive(&entry.bottom, "the bottom", findings);
    let height = positive(&entry.height, "the height", findings);
    let (top, bottom, height) = (top?, bottom?, height?);
    let left = match fold {
        Some("left") => 0.0,
        Some("right") => bottom - top,
        _ => (bottom - top) / 2.0,
    };
    let side = |name, x, y| (name, point(x, y), EdgeShape::Straight);
    // The shorter side decides how far the middle may lie from the left: both lie around it.
    let (from, to) = (left.max(0.0), (left + top).min(bottom));
    let middle = if from < to { (from + to) / 2.0 } else { bottom / 2.0 };
    let at_half = |low: f64, high: f64, share: f64| low + (high - low) * share;
    let (half_left, half_right) = (left / 2.0, (bottom + left + top) / 2.0);
    Some(Sides {
        what: "trapezoid",
        start: point(0.0, 0.0),
        sides: vec![
            side("bottom", bottom, 0.0),
            side("right", left + top, height),
            side("top", left, height),
            side("left", 0.0, 0.0),
        ],
        upright: [point(middle, height * INSET), point(middle, height * (1.0 - INSET))],
        level: Some([
            point(at_half(half_left, half_right, INSET), height / 2.0),
            point(at_half(half_left, half_right, 1.0 - INSET), height / 2.0),
        ]),
    })
}

fn ring_sector(entry: &At<RingSector>, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
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
    let outer = inner + length;
    let whole_turn = degrees == 360.0;
    if whole_turn && inner > 0.0 {
        let problem = "a full ring is not one outline: it has a hole".to_owned();
        let remedy = "cut it as two halves of \"180 deg\", or leave a slit: \"359 deg\"";
        findings.add(&angle.span, PatternFault::Shape { problem, remedy });
        return None;
    }
    let down = 270.0;
    let (from, to) = match fold {
        Some("start") => (down, down + degrees),
        Some("end") => (down - degrees, down),
        _ => (down - degrees / 2.0, down + degrees / 2.0),
    };
    let on = |radius: f64, degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        // On the fold or the middle the direction is straight down, exactly.
        if degrees == down { point(0.0, -radius) } else { point(radius * cos, radius * sin) }
    };
    let middle = (from + to) / 2.0;
    // Each round edge is two arcs, so that even a whole turn has two different ends.
    let arc = |name, radius: f64, a: f64, b: f64| {
        (name, on(radius, b), EdgeShape::Arc { through: on(radius, (a + b) / 2.0) })
    };
    let mut sides = vec![arc("outer", outer, from, middle), arc("outer", outer, middle, to)];
    if whole_turn {
        sides[1].1 = on(outer, from);
    } else if inner > 0.0 {
        sides.push(("end", on(inner, to), EdgeShape::Straight));
        sides.push(arc("inner", inner, to, middle));
        sides.push(arc("inner", inner, middle, from));
        sides.push(("start", on(outer, from), EdgeShape::Straight));
    } else {
        sides.push(("end", point(0.0, 0.0), EdgeShape::Straight));
        sides.push(("start", on(outer, from), EdgeShape::Straight));
    }
    let grain = |share: f64| point(0.0, -(inner + length * share));
    Some(Sides {
        what: "ring sector",
        start: on(outer, from),
        sides,
        upright: [grain(1.0 - INSET), grain(INSET)],
        level: None,
    })
}
