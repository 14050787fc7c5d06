//! A piece given by its measures: rectangle, trapezoid, strip, what is joined of strips or widths, and what is round ([`circles`]).
//!
//! What has straight sides stands with the left end of its bottom side at the origin. With a fold edge the shape is the half; a trapezoid then stands
//! square on that edge. A measure that is worked out, such as that of a gathered strip, is that of the whole, and halved on a fold.

use std::ops::Range;

use ellwand_garment::DraftEdge;
use ellwand_geometry::{CornerShape, EdgeAllowance, EdgeShape, Point, point};

use super::{
    circles, drawn,
    format::{PieceEntry, SeamAllowance, Within},
    marks::{self, Outlined},
    measure_format::Fullness,
    outline::{Drawn, PieceFrame},
    shape_format::{Curtain, GrainAlong, JoinedStrip, RunWord, ShapeEntry, Trapezoid},
    taken::Lengths,
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
pub(super) struct Sides {
    pub(super) what: &'static str,
    pub(super) start: Point,
    pub(super) sides: Vec<(&'static str, Point, EdgeShape)>,
    /// The middle of the shape: low and high end of a grainline along its height.
    pub(super) upright: [Point; 2],
    /// The same along its width; none of a shape whose grain is settled.
    pub(super) level: Option<[Point; 2]>,
    /// How its grain is settled.
    pub(super) settled: &'static str,
}

/// The drawing of a measured piece; none when a measure is missing or at fault.
pub(super) fn draw(
    entry: &PieceEntry,
    lengths: &Lengths<'_>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<Drawn> {
    let shape = entry.shape.as_ref()?;
    let fold_name = entry.fold_edge.as_ref().map(|edge| edge.value.0.as_str());
    let sides = sides_of(shape, fold_name, lengths, findings)?;
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
    let slit = shape.value.circle_skirt.as_ref().filter(|skirt| circles::is_slit(&skirt.value));
    let lips = ["left", "right"].iter().filter(|lip| slit.is_some() && fold.is_none_or(|fold| fold.value.0 != **lip));
    let lips: Vec<&str> = lips.copied().collect();
    note_lips(entry, &lips, findings);
    let depths = move |side: &str| if lips.contains(&side) { 0.0 } else { depths(side) };
    let grainline = match &entry.drawing.grainline {
        Some(line) => drawn::grainline(line, frame, findings)?,
        None => match (entry.grain_along.as_ref().map(|along| along.value), sides.level) {
            (Some(GrainAlong::Width), Some(level)) => level,
            (Some(GrainAlong::Width), None) => {
                let problem = format!("the grain of a {} {}", sides.what, sides.settled);
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

/// Notes allowances of the lips of a slit, of which there is no cloth.
fn note_lips(entry: &PieceEntry, lips: &[&str], findings: &mut Findings) {
    let own = entry.allowances.iter().flat_map(|allowances| &allowances.value.0);
    for (name, depth) in own.filter(|(name, depth)| lips.contains(&name.value.as_str()) && depth.value.mm() > 0.0) {
        let problem = format!(
            "a full circle in one panel is slit from hem to waist, and no cloth is left for an allowance at its `{}`",
            name.value
        );
        findings.add(&depth.span, PatternFault::Shape { problem, remedy: "leave it out, or cut it in panels = 2" });
    }
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
fn sides_of(
    shape: &At<ShapeEntry>,
    fold: Option<&str>,
    lengths: &Lengths<'_>,
    findings: &mut Findings,
) -> Option<Sides> {
    let entry = &shape.value;
    let given = entry.given();
    let found = given.iter().filter(|(_, given)| *given).count();
    if found != 1 {
        // A misspelt shape, or a shape that is no table, was noted already.
        if shape.sound {
            let choices = given.map(|(name, _)| name.to_owned()).to_vec();
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
    if let Some(entry) = &entry.ring_sector {
        return circles::ring_sector(entry, fold, findings);
    }
    if let Some(entry) = &entry.circle_skirt {
        return circles::circle_skirt(entry, fold, lengths, findings);
    }
    if let Some(entry) = &entry.circle {
        return circles::circle(entry, fold, findings);
    }
    if let Some(entry) = &entry.oval {
        return circles::oval(&entry.value, fold, findings);
    }
    if let Some(entry) = &entry.joined_strip {
        return joined_strip(entry, fold, lengths, findings);
    }
    entry.curtain.as_ref().and_then(|entry| curtain(&entry.value, fold, findings))
}

/// A measure above zero.
pub(super) fn positive(length: &Option<At<Length>>, what: &str, findings: &mut Findings) -> Option<f64> {
    let length = length.as_ref()?;
    if length.value.mm() <= 0.0 {
        let problem = format!("{what} is zero, and so is the area of the piece");
        findings.add(&length.span, PatternFault::Shape { problem, remedy: "write a length above zero" });
        return None;
    }
    Some(length.value.mm())
}

/// A share of a measure at which a grainline ends, from the border.
pub(super) const INSET: f64 = 0.1;

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
        settled: "",
    }
}

/// The whole strip, joined: its length from left to right.
fn joined_strip(
    entry: &At<JoinedStrip>,
    fold: Option<&str>,
    lengths: &Lengths<'_>,
    findings: &mut Findings,
) -> Option<Sides> {
    let JoinedStrip { length, fullness, width, turned_twice, run, across } = &entry.value;
    let width = match (width, turned_twice) {
        (Some(_), None) => positive(width, "the width", findings),
        // 4 times the finished width: pages on binding.
        (None, Some(_)) => positive(turned_twice, "the width", findings).map(|finished| finished * 4.0),
        (width, turned_twice) => {
            if entry.sound {
                let choices = vec!["width".to_owned(), "turned_twice".to_owned()];
                let found = usize::from(width.is_some()) + usize::from(turned_twice.is_some());
                findings.add(&entry.span, DocumentFault::NotExactlyOne { of: "a joined strip", choices, found });
            }
            None
        }
    };
    let run = run.as_ref().map_or(RunWord::Across, |run| run.value);
    if let Some(across) = across {
        let _ = positive(&Some(across.clone()), "what it may take across", findings);
        if run != RunWord::Bias {
            let problem =
                "`across` is for the rectangle of bias strips, and this strip lies along or across".to_owned();
            findings.add(&across.span, PatternFault::Shape { problem, remedy: "leave it out, or add run = \"bias\"" });
        }
    }
    let fullness = full(fullness, findings);
    let length = length.as_ref().and_then(|length| lengths.measure(length, "the joined strip", findings));
    let (width, whole) = (width?, length? * fullness?);
    let shape = upright_rectangle("joined strip", if is_halved(fold) { whole / 2.0 } else { whole }, width);
    let upright = if run == RunWord::Along { shape.level.unwrap_or(shape.upright) } else { shape.upright };
    Some(Sides { upright, level: None, settled: "runs as its `run` says", ..shape })
}

/// All widths of a curtain together.
fn curtain(entry: &Curtain, fold: Option<&str>, findings: &mut Findings) -> Option<Sides> {
    let rod = positive(&entry.rod, "the rod", findings);
    let drop = positive(&entry.drop, "the drop", findings);
    let fullness = full(&entry.fullness, findings);
    let plus = entry.plus.as_ref().map_or(0.0, |plus| plus.value.mm());
    let (drop, whole) = (drop?, rod? * fullness? + plus);
    let shape = upright_rectangle("curtain", if is_halved(fold) { whole / 2.0 } else { whole }, drop);
    Some(Sides { level: None, settled: "runs along its drop", ..shape })
}

/// Whether a shape that is worked out as a whole is halved by its fold.
fn is_halved(fold: Option<&str>) -> bool {
    matches!(fold, Some("left" | "right"))
}

/// More than any cloth can be gathered. General use is 1 1/2 to 3, higher for lighter cloth; the limit is common sense and has no source.
const MOST_FULLNESS: f64 = 12.0;

/// How many times as long as what it is gathered to something is; 1 when left out.
fn full(fullness: &Option<At<Fullness>>, findings: &mut Findings) -> Option<f64> {
    let Some(At { value: Fullness(times), span, .. }) = fullness else { return Some(1.0) };
    if *times < 1.0 {
        let problem = format!("a fullness of {times} is less than what it is sewn to");
        let remedy = "write how many times as long it is before it is gathered, such as 1.5 or 2; 1 is not gathered";
        findings.add(span, PatternFault::Shape { problem, remedy });
        return None;
    }
    if *times > MOST_FULLNESS {
        let problem = format!("a fullness of {times} is more than any cloth can be gathered");
        let remedy = "write how many times as long it is before it is gathered: 1 1/2 to 3 in general";
        findings.add(span, PatternFault::Shape { problem, remedy });
        return None;
    }
    Some(*times)
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
        settled: "",
    })
}
