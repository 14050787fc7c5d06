//! Darts: what of the outline lies between their legs gives way to the legs.
//!
//! A dart may be drawn as people find it on paper: a V in the edge, a mouth closed by a cap, or no more than marks on the edge. All mean
//! the same.

use ellwand_garment::{DartPlace, DartShape, DraftDart, DraftEdge, Pressed};
use ellwand_geometry::{EdgeAllowance, EdgeShape, Point, cut_at_point, distance, orientation, signed_area};

use super::{
    dart_format::{DartEntry, PressedWord},
    drawing_format::DrawingEntry,
    format::SeamAllowance,
    marks::Outlined,
    outline::PieceFrame,
};
use crate::{
    document::{At, Pair},
    fault::{DartFault, DartTrouble},
    findings::Findings,
    limits::REACH,
    note::NoteKind,
};

/// Two legs lie beside one another in a direction when they are apart in it by less than this share of the mouth.
const BESIDE: f64 = 0.3;

/// Reads the darts of a drawing, and gives the outline their legs. None when one of them is at fault.
pub(super) fn read(
    outlined: &mut Outlined,
    entry: &DrawingEntry,
    whole: Option<SeamAllowance>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<Vec<DraftDart>> {
    let before = findings.count();
    let mut darts = Vec::new();
    for at in entry.darts.iter().flat_map(|darts| &darts.value) {
        let name = at.value.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
        match read_one(outlined, at, &name, whole, frame, findings) {
            Ok(Some((shape, pressed))) => darts.push(DraftDart { name, shape, pressed }),
            Ok(None) => {}
            Err(what) => findings.add(&at.span, DartFault { piece: frame.name.to_owned(), dart: name, what }),
        }
    }
    (findings.count() == before).then_some(darts)
}

/// One dart; nothing when a part of it was at fault and is noted.
fn read_one(
    outlined: &mut Outlined,
    at: &At<DartEntry>,
    name: &str,
    whole: Option<SeamAllowance>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Result<Option<(DartShape, Pressed)>, DartTrouble> {
    let entry = &at.value;
    let Some(legs) = two(&entry.legs, "ends of legs", frame, findings)? else { return Ok(None) };
    let pressed = match (&entry.pressed, &entry.cut_open) {
        (Some(way), None) => Pressed::from(way.value),
        (None, Some(_)) => Pressed::CutOpen,
        _ => return Err(DartTrouble::WhichWay),
    };
    let mouth = distance(legs[0], legs[1]);
    if mouth < REACH {
        return Err(DartTrouble::NoMouth);
    }
    can_be_pressed(entry.pressed.as_ref().map(|way| way.value), legs)?;
    let uneven = |tips: &[Point], findings: &mut Findings| {
        let by = DartPlace { tips: tips.to_vec(), legs }.uneven_by();
        if by > 0.0 {
            let (by, unit) = (by / frame.unit.mm(), frame.unit.sign());
            findings
                .note(&at.span, NoteKind::UnevenDart { piece: frame.name.to_owned(), dart: name.to_owned(), by, unit });
        }
    };
    match (&entry.point, &entry.points) {
        (Some(tip), None) => {
            let Some(tip) = frame.place(tip, findings) else { return Ok(None) };
            uneven(&[tip], findings);
            let allowance = match (&entry.cut_open, whole) {
                (Some(depth), Some(SeamAllowance::Included(_))) if depth.value.mm() > 0.0 => {
                    return Err(DartTrouble::AllowanceTwice);
                }
                (Some(depth), _) => EdgeAllowance::Depth(depth.value.mm()),
                (None, _) => EdgeAllowance::Leg,
            };
            let legs = open(outlined, legs, tip, name, allowance, frame)?;
            // For messages about the outline the legs stand where the dart does.
            outlined.edge_places.extend([at.span.clone(), at.span.clone()]);
            Ok(Some((DartShape::InEdge { legs }, pressed)))
        }
        (None, Some(_)) => {
            if entry.cut_open.is_some() {
                return Err(DartTrouble::OpenInside);
            }
            let Some(tips) = two(&entry.points, "points", frame, findings)? else { return Ok(None) };
            uneven(&tips, findings);
            Ok(Some((DartShape::Inside { tips, legs }, pressed)))
        }
        _ => Err(DartTrouble::WhichPoint),
    }
}

fn two(
    list: &Option<At<Vec<At<Pair>>>>,
    what: &'static str,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Result<Option<[Point; 2]>, DartTrouble> {
    let Some(list) = list.as_ref().filter(|list| list.sound) else { return Ok(None) };
    let [first, second] = list.value.as_slice() else {
        return Err(DartTrouble::NotTwo { what, found: list.value.len() });
    };
    Ok(frame.place(first, findings).zip(frame.place(second, findings)).map(|(a, b)| [a, b]))
}

/// A dart is pressed over one of its legs, so these lie one after the other in that direction.
fn can_be_pressed(way: Option<PressedWord>, legs: [Point; 2]) -> Result<(), DartTrouble> {
    let (apart, mouth) = (legs[1] - legs[0], distance(legs[0], legs[1]));
    let (up_and_down, across) = ("pressed = \"down\" or \"up\"", "pressed = \"left\" or \"right\"");
    let (one_above, beside) = ("one above the other", "beside one another");
    let refused = match way {
        Some(PressedWord::Down) if apart.y.abs() < BESIDE * mouth => ("down", beside, across),
        Some(PressedWord::Up) if apart.y.abs() < BESIDE * mouth => ("up", beside, across),
        Some(PressedWord::Left) if apart.x.abs() < BESIDE * mouth => ("to the left", one_above, up_and_down),
        Some(PressedWord::Right) if apart.x.abs() < BESIDE * mouth => ("to the right", one_above, up_and_down),
        _ => return Ok(()),
    };
    let (way, beside, either) = refused;
    Err(DartTrouble::PressedAlong { way, beside, either })
}

/// Puts the two legs of a dart in the place of whatever the outline has between their ends. The numbers of the two edges.
fn open(
    outlined: &mut Outlined,
    legs: [Point; 2],
    tip: Point,
    name: &str,
    allowance: EdgeAllowance,
    frame: &PieceFrame<'_>,
) -> Result<[usize; 2], DartTrouble> {
    let first = corner_at(outlined, legs[0], frame)?;
    let second = corner_at(outlined, legs[1], frame)?;
    // Cutting the edge for the second leg may have moved the first.
    let first = if outlined.corner(first) == legs[0] { first } else { corner_at(outlined, legs[0], frame)? };
    let count = outlined.edges.len();
    if first == second || count < 2 {
        return Err(DartTrouble::NoMouth);
    }
    let stretch = |from: usize, to: usize| (0..(to + count - from) % count).map(move |k| (from + k) % count);
    let passes_tip = |from: usize, to: usize| {
        stretch(from, to).any(|edge| distance(outlined.edges[edge].to, tip) <= REACH && (edge + 1) % count != to)
    };
    let length = |from: usize, to: usize| {
        stretch(from, to).map(|edge| distance(outlined.corner(edge), outlined.edges[edge].to)).sum::<f64>()
    };
    let (from, to) = match (passes_tip(first, second), passes_tip(second, first)) {
        (true, false) => (first, second),
        (false, true) => (second, first),
        _ if length(first, second) <= length(second, first) => (first, second),
        _ => (second, first),
    };
    if stretch(from, to).any(|edge| outlined.edges[edge].allowance == EdgeAllowance::Fold) {
        return Err(DartTrouble::OnFold);
    }
    let (starts_at, ends_at) = (outlined.corner(from), outlined.corner(to));
    // A dart points into the piece: to the left of an outline that runs counter-clockwise.
    if orientation(starts_at, ends_at, tip) * outlined.winding() <= 0.0 {
        return Err(DartTrouble::Outside);
    }
    let mouth = stretch(from, to).count();
    outlined.start = starts_at;
    outlined.edges.rotate_left(from);
    let drawn = outlined.edge_places.len();
    let leg =
        |to: Point, drawn: usize| DraftEdge { name: name.to_owned(), to, shape: EdgeShape::Straight, allowance, drawn };
    outlined.edges.splice(..mouth, [leg(tip, drawn), leg(ends_at, drawn + 1)]);
    Ok([drawn, drawn + 1])
}

impl Outlined {
    /// Above zero where the outline runs counter-clockwise, below where it runs clockwise; curves by the points that bend them.
    fn winding(&self) -> f64 {
        let bends = self.edges.iter().flat_map(|edge| match edge.shape {
            EdgeShape::Straight => vec![edge.to],
            EdgeShape::Cubic { first, second } => vec![first, second, edge.to],
            EdgeShape::Arc { through } => vec![through, edge.to],
        });
        signed_area(&bends.collect::<Vec<Point>>())
    }

    /// Where an edge starts.
    fn corner(&self, edge: usize) -> Point {
        match edge % self.edges.len() {
            0 => self.start,
            k => self.edges[k - 1].to,
        }
    }
}

/// The corner of the outline at `p`: the edge that starts there. An edge is cut where there is none.
fn corner_at(outlined: &mut Outlined, p: Point, frame: &PieceFrame<'_>) -> Result<usize, DartTrouble> {
    let corners = (0..outlined.edges.len()).map(|k| (distance(outlined.corner(k), p), k));
    if let Some((off, corner)) = corners.min_by(|a, b| a.0.total_cmp(&b.0))
        && off <= REACH
    {
        return Ok(corner);
    }
    let cuts = (0..outlined.edges.len()).filter_map(|k| {
        let edge = &outlined.edges[k];
        let parts = cut_at_point(outlined.corner(k), edge.shape, edge.to, p)?;
        Some((distance(parts[0].to, p), k, parts))
    });
    let Some((off, edge, [before, after])) = cuts.min_by(|a, b| a.0.total_cmp(&b.0)) else {
        return Err(DartTrouble::NoMouth);
    };
    if off > REACH {
        let (by, nearest) = (off / frame.unit.mm(), frame.in_unit(before.to));
        return Err(DartTrouble::LegOff { by, nearest, unit: frame.unit.sign() });
    }
    let whole = outlined.edges[edge].clone();
    let part = |to: Point, shape: EdgeShape| DraftEdge { to, shape, ..whole.clone() };
    outlined.edges.splice(edge..=edge, [part(before.to, before.shape), part(whole.to, after.shape)]);
    Ok(edge + 1)
}
