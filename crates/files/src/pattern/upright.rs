//! The last step to a piece: allowance added, set upright, marks carried along.

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{CutRule, Dart, GrainRule, Half, Notch, Piece};
use ellwand_geometry::{Point, contains_point, distance, point};

use super::{
    format::PieceEntry,
    outline::{Drawing, PieceFrame},
    setting::{Cutting, Needs, Setting},
};
use crate::{
    fault::{DartFault, DartTrouble, PatternFault},
    findings::Findings,
};

/// How far a notch may lie off the outline as drawn, mm.
const NOTCH_REACH: f64 = 2.0;

/// A piece, and where its named notches lie on the seam line: what a seam may name besides its points.
#[derive(Clone)]
pub(super) struct Finished {
    pub(super) piece: Piece,
    pub(super) notches_on_seam: BTreeMap<String, Point>,
}

/// The piece, whole and upright; none when it is at fault.
pub(super) fn finish(
    drawing: Drawing<'_>,
    entry: &PieceEntry,
    frame: &PieceFrame<'_>,
    cuts: Vec<CutRule>,
    findings: &mut Findings,
) -> Option<Finished> {
    let (path, line) = drawing.cutting_line(frame, findings)?;
    let cutting = Cutting { drawing, path: &path, line: &line, frame };
    let setting = match drawing.fold() {
        Some(edge) => {
            let needs = if cuts.iter().any(|rule| rule.on_fold) { Needs::Fold } else { Needs::Whole };
            Setting::folded(&cutting, edge, needs, findings)?
        }
        None => Setting::plain(&cutting, findings)?,
    };
    let grainline = upright(drawing.draft.grainline.map(|end| setting.places(end).0));
    for (end, name) in grainline.iter().zip(["low", "high"]) {
        if !contains_point(&setting.outline, *end) {
            let piece = frame.name.to_owned();
            findings.add(&drawing.places.grainline, PatternFault::GrainlineOutside { piece, end: name });
        }
    }
    let mut notches = Vec::new();
    let mut notches_on_seam = BTreeMap::new();
    let darts = darts(drawing, &setting);
    // A notch at the end of a leg is the snip of that leg.
    let mut snips: Vec<(Point, &str)> = Vec::new();
    for (number, (name, at)) in drawing.draft.notches.iter().enumerate() {
        let (here, other) = setting.places(*at);
        let legs: Vec<Point> = darts.iter().filter(|dart| dart.is_snipped()).flat_map(|dart| dart.legs).collect();
        if legs.iter().any(|leg| distance(*leg, here) <= NOTCH_REACH) {
            snips.extend([Some(here), other].into_iter().flatten().map(|at| (at, name.as_str())));
        } else {
            let place = drawing.places.notches.get(number).unwrap_or(frame.span);
            notches.extend(carry_notch((name, *at), place, &setting, &cutting, findings));
        }
        if !name.is_empty() {
            mark_halves(&mut notches_on_seam, name, setting.places(line.carry_out(*at).on_seam));
        }
    }
    let mut points = BTreeMap::new();
    for (name, at) in &drawing.draft.points {
        mark_halves(&mut points, name, setting.places(*at));
    }
    for dart in &darts {
        if !dart.tips.iter().all(|tip| contains_point(&setting.outline, *tip)) {
            let (piece, dart) = (frame.name.to_owned(), dart.name.clone());
            findings.add(frame.span, DartFault { piece, dart, what: DartTrouble::Outside });
        }
        let name = |leg: Point| {
            let snip = snips.iter().find(|(at, _)| distance(*at, leg) <= NOTCH_REACH);
            snip.map_or_else(String::new, |(_, name)| (*name).to_owned())
        };
        notches.extend(dart.mouth_notches(&setting.outline, name));
    }
    let piece = Piece {
        name: frame.name.to_owned(),
        fold: setting.is_on_axis(),
        edges: setting.edges(drawing, &line),
        outline: setting.outline,
        grainline,
        grain: entry.grain.as_ref().map_or(GrainRule::Straight, |grain| grain.value.into()),
        notches,
        points,
        darts,
        cuts,
        strips: None,
    };
    Some(Finished { piece, notches_on_seam })
}

/// Enters a place and its mirror image on the other half.
fn mark_halves(places: &mut BTreeMap<String, Point>, name: &str, (at, other): (Point, Option<Point>)) {
    places.insert(name.to_owned(), at);
    if let Some(other) = other {
        places.insert(Half::Other.name(name), other);
    }
}

/// The darts of the piece, once for each half.
fn darts(drawing: Drawing<'_>, setting: &Setting) -> Vec<Dart> {
    let mut darts = Vec::new();
    for (dart, place) in drawing.draft.darts.iter().zip(drawing.draft.dart_places()) {
        let Some(place) = place else { continue };
        let tips: Vec<(Point, Option<Point>)> = place.tips.iter().map(|&tip| setting.places(tip)).collect();
        let legs = place.legs.map(|leg| setting.places(leg));
        let (name, pressed) = (dart.name.clone(), dart.pressed);
        darts.push(Dart {
            name: name.clone(),
            tips: tips.iter().map(|tip| tip.0).collect(),
            legs: legs.map(|leg| leg.0),
            pressed,
        });
        if let [Some(first), Some(second)] = legs.map(|leg| leg.1) {
            let tips = tips.iter().map(|tip| tip.1.unwrap_or(tip.0)).collect();
            darts.push(Dart {
                name: Half::Other.name(&name),
                tips,
                legs: [first, second],
                pressed: pressed.mirrored(),
            });
        }
    }
    darts
}

/// Both ends at one `x`, exactly: rounding, or a grainline a hair off its fold, has moved them by less than a thread.
fn upright([low, high]: [Point; 2]) -> [Point; 2] {
    let x = if low.x == high.x { low.x } else { (low.x + high.x) / 2.0 };
    [point(x, low.y), point(x, high.y)]
}

/// A notch on the cutting line, once for each half.
fn carry_notch(
    (name, drawn): (&str, Point),
    place: &Range<usize>,
    setting: &Setting,
    Cutting { line, frame, .. }: &Cutting<'_>,
    findings: &mut Findings,
) -> Vec<Notch> {
    let named = || (!name.is_empty()).then(|| name.to_owned());
    let off = line.carry_out(drawn).on_seam;
    let distance = distance(off, drawn);
    if distance > NOTCH_REACH {
        let (nearest, unit) = (frame.in_unit(off), frame.unit.sign());
        findings.add(place, PatternFault::NotchOff { name: named(), distance, nearest, unit });
        return Vec::new();
    }
    let notches = setting.notches(line, drawn, name, NOTCH_REACH);
    notches.unwrap_or_else(|| {
        findings.add(place, PatternFault::NotchOnFold { name: named() });
        Vec::new()
    })
}
