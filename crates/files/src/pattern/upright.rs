//! The last step to a piece: allowance added, unfolded, turned until its grainline is upright; marks carried along.

use std::collections::BTreeMap;

use ellwand_garment::{CutRule, GrainRule, Notch, Piece};
use ellwand_geometry::{CuttingLine, FoldLine, Outline, Path, Point, UnfoldFault, orientation, point};

use super::{
    format::{NotchEntry, PieceEntry},
    outline::{Drawing, PieceFrame},
};
use crate::{
    document::At,
    fault::{Findings, PatternFault},
};

/// How far a notch may lie off the outline as drawn, mm.
const NOTCH_REACH: f64 = 2.0;

/// How far a fold edge may run off the grainline and still count as parallel, degrees: a grainline 100 mm long, written to
/// the nearest tenth of a millimetre at both ends, can be off by 0.06.
const PARALLEL_DEG: f64 = 0.2;

/// How near to the fold a point counts as on it, mm; its mirror image would be the same mark.
const ON_FOLD: f64 = 0.01;

/// The piece, whole and upright; none when it is at fault.
pub(super) fn finish(
    drawing: Drawing,
    entry: &PieceEntry,
    frame: &PieceFrame<'_>,
    cuts: Vec<CutRule>,
    findings: &mut Findings,
) -> Option<Piece> {
    let (path, line) = drawing.cutting_line(frame, findings)?;
    let setting = match drawing.fold() {
        Some(edge) => {
            let on_fold = cuts.iter().any(|rule| rule.on_fold);
            Setting::folded(
                &drawing,
                edge,
                &path,
                &line,
                frame,
                if on_fold { Needs::Fold } else { Needs::Whole },
                findings,
            )?
        }
        None => Setting::plain(&drawing, &line, frame, findings)?,
    };
    let grainline = drawing.grainline.map(|end| setting.place(end));
    // Both ends at one `x`, exactly: rounding has moved them by far less than a thread.
    let x = if setting.fold { (grainline[0].x + grainline[1].x) / 2.0 } else { grainline[0].x };
    let grainline = [point(x, grainline[0].y), point(x, grainline[1].y)];
    for (end, name) in grainline.iter().zip(["low", "high"]) {
        if !contains(&setting.outline, *end) {
            let piece = frame.name.to_owned();
            findings.add(&drawing.grainline_span, PatternFault::GrainlineOutside { piece, end: name });
        }
    }
    let marks = entry.notches.as_ref().map_or(&[][..], |notches| notches.value.as_slice());
    let mut notches = Vec::new();
    for mark in marks {
        notches.extend(setting.notches(mark, drawing.fold(), &line, frame, findings));
    }
    let mut points = BTreeMap::new();
    for (name, place) in entry.points.as_ref().map_or(&[][..], |points| points.value.0.as_slice()) {
        let at = setting.place(frame.place(place, findings)?);
        points.insert(name.value.clone(), at);
        if let Some(other) = setting.mirrored(at) {
            points.insert(format!("{} (other half)", name.value), other);
        }
    }
    Some(Piece {
        name: frame.name.to_owned(),
        outline: setting.outline,
        grainline,
        fold: setting.fold,
        grain: entry.grain.as_ref().map_or(GrainRule::Straight, |grain| grain.value.into()),
        notches,
        points,
        cuts,
    })
}

/// What the cut rules ask of a piece with a fold edge.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Needs {
    /// It is cut on the fold, so the fold must run along the grain.
    Fold,
    /// It is only ever cut whole.
    Whole,
}

/// The whole cutting line in its final frame, and the way there from the drawing.
struct Setting {
    outline: Outline,
    /// Whether the outline is symmetric about `x = 0`.
    fold: bool,
    /// From the drawing to the frame of the fold, if there is one.
    fold_line: Option<FoldLine>,
    /// From there to the upright grainline, unless the fold already is upright.
    grain_line: Option<FoldLine>,
    /// Heights of the low and high end of the fold edge on the seam line, when the outline is symmetric.
    seam_ends: Option<[f64; 2]>,
}

impl Setting {
    /// A piece without a fold edge: the grainline itself becomes the vertical through the origin.
    fn plain(drawing: &Drawing, line: &CuttingLine, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<Self> {
        let [low, high] = drawing.grainline;
        let upright = FoldLine::new(low, high).map_err(|_| {
            let piece = frame.name.to_owned();
            findings.add(&drawing.grainline_span, PatternFault::GrainlineWithoutLength { piece });
        });
        let upright = upright.ok()?;
        let outline = line.outline().map_rigid(|p| upright.to_frame(p));
        Some(Self { outline, fold: false, fold_line: None, grain_line: Some(upright), seam_ends: None })
    }

    /// A half with a fold edge, unfolded.
    fn folded(
        drawing: &Drawing,
        edge: usize,
        path: &Path,
        line: &CuttingLine,
        frame: &PieceFrame<'_>,
        needs: Needs,
        findings: &mut Findings,
    ) -> Option<Self> {
        let (a, b) = path.ends(edge);
        let grain = drawing.grainline[1] - drawing.grainline[0];
        let fold = b - a;
        let along = fold.x * grain.x + fold.y * grain.y;
        let across = (fold.x * grain.y - fold.y * grain.x).abs();
        let degrees = across.atan2(along.abs()).to_degrees();
        let span = &drawing.edges[edge].span;
        let (low, high) = if along >= 0.0 { (a, b) } else { (b, a) };
        let unfolded = FoldLine::new(low, high).and_then(|fold| Ok((fold, fold.unfold(line.outline())?)));
        let (fold_line, whole) = match unfolded {
            Ok(unfolded) => unfolded,
            Err(fault) => {
                let piece = frame.name.to_owned();
                let reason = match fault {
                    UnfoldFault::NotAnEdge { .. } => {
                        "its fold line is not a single edge of the cutting line".to_owned()
                    }
                    other => other.to_string(),
                };
                findings.add(span, PatternFault::Unfold { piece, reason });
                return None;
            }
        };
        if degrees <= PARALLEL_DEG {
            let seam_ends = Some([fold_line.to_frame(low).y, fold_line.to_frame(high).y]);
            return Some(Self { outline: whole, fold: true, fold_line: Some(fold_line), grain_line: None, seam_ends });
        }
        if needs == Needs::Fold {
            findings.add(&drawing.grainline_span, PatternFault::FoldOffGrain { piece: frame.name.to_owned(), degrees });
            return None;
        }
        let [low, high] = drawing.grainline.map(|end| fold_line.to_frame(end));
        let upright = FoldLine::new(low, high).ok()?;
        let outline = whole.map_rigid(|p| upright.to_frame(p));
        Some(Self { outline, fold: false, fold_line: Some(fold_line), grain_line: Some(upright), seam_ends: None })
    }

    /// Where a point of the drawing comes to lie.
    fn place(&self, p: Point) -> Point {
        let p = self.fold_line.map_or(p, |line| line.to_frame(p));
        self.grain_line.map_or(p, |line| line.to_frame(p))
    }

    /// Where a direction of the drawing points.
    fn turn(&self, v: Point) -> Point {
        let v = self.fold_line.map_or(v, |line| line.turn_to_frame(v));
        self.grain_line.map_or(v, |line| line.turn_to_frame(v))
    }

    /// The same mark on the other half of an unfolded piece, unless it lies on the fold.
    fn mirrored(&self, p: Point) -> Option<Point> {
        (self.fold && p.x.abs() > ON_FOLD).then(|| point(-p.x, p.y))
    }

    /// A notch on the cutting line, and on the other half as well.
    fn notches(
        &self,
        mark: &At<NotchEntry>,
        fold: Option<usize>,
        line: &CuttingLine,
        frame: &PieceFrame<'_>,
        findings: &mut Findings,
    ) -> Vec<Notch> {
        let Some(drawn) = mark.value.at.as_ref().and_then(|at| frame.place(at, findings)) else { return Vec::new() };
        let span = mark.value.at.as_ref().map_or(&mark.span, |at| &at.span);
        let given_name = mark.value.name.as_ref().map(|name| name.value.0.clone());
        let carried = line.carry_out(drawn);
        let distance = (carried.on_seam - drawn).x.hypot((carried.on_seam - drawn).y);
        if distance > NOTCH_REACH {
            let (nearest, unit) = (frame.in_unit(carried.on_seam), frame.unit.sign());
            findings.add(span, PatternFault::NotchOff { name: given_name, distance, nearest, unit });
            return Vec::new();
        }
        let name = given_name.clone().unwrap_or_default();
        let on_axis = self.fold && self.place(carried.on_seam).x.abs() <= ON_FOLD;
        if on_axis || fold == Some(carried.edge) {
            let found = self.fold.then(|| self.axis_notch(self.place(carried.on_seam).y)).flatten();
            return match found {
                Some((at, inward)) => vec![Notch { name, at, inward }],
                None => {
                    findings.add(span, PatternFault::NotchOnFold { name: given_name });
                    Vec::new()
                }
            };
        }
        let (at, inward) = (self.place(carried.at), self.turn(carried.inward));
        let mut notches = vec![Notch { name: name.clone(), at, inward }];
        if let Some(other) = self.mirrored(at) {
            notches.push(Notch { name, at: other, inward: point(-inward.x, inward.y) });
        }
        notches
    }

    /// The end of the axis of an unfolded piece that is nearest to the height `y`, as a notch: its place and the way inwards.
    /// None when `y` is well inside the piece.
    fn axis_notch(&self, y: f64) -> Option<(Point, Point)> {
        let crossings: Vec<f64> = self
            .outline
            .edges()
            .filter(|(a, b)| a.x.min(b.x) <= 0.0 && a.x.max(b.x) >= 0.0)
            .flat_map(|(a, b)| if a.x == b.x { vec![a.y, b.y] } else { vec![a.y + (b.y - a.y) * (a.x / (a.x - b.x))] })
            .collect();
        let top = crossings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let bottom = crossings.iter().copied().fold(f64::INFINITY, f64::min);
        let seam = self.seam_ends?;
        if (y - seam[1]).abs() <= NOTCH_REACH {
            Some((point(0.0, top), point(0.0, -1.0)))
        } else if (y - seam[0]).abs() <= NOTCH_REACH {
            Some((point(0.0, bottom), point(0.0, 1.0)))
        } else {
            None
        }
    }
}

/// Whether `p` lies inside the outline or on it: the winding of the outline around it, by exact orientation.
///
/// Source: D. Sunday, "Inclusion of a point in a polygon", 2001 (winding number from crossings of a ray to the right).
fn contains(outline: &Outline, p: Point) -> bool {
    let mut winding = 0;
    for (a, b) in outline.edges() {
        let side = orientation(a, b, p);
        if side == 0.0 && a.x.min(b.x) <= p.x && p.x <= a.x.max(b.x) && a.y.min(b.y) <= p.y && p.y <= a.y.max(b.y) {
            return true;
        }
        if a.y <= p.y && b.y > p.y && side > 0.0 {
            winding += 1;
        } else if a.y > p.y && b.y <= p.y && side < 0.0 {
            winding -= 1;
        }
    }
    winding != 0
}
