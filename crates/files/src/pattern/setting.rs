//! How a drawing is set upright: the half with a fold edge unfolded, the whole turned until its grainline is vertical.

use ellwand_garment::{Half, Notch, PieceEdge};
use ellwand_geometry::{CuttingLine, EdgeAllowance, FoldLine, Outline, Path, Point, UnfoldFault, point};

use super::outline::{Drawing, PieceFrame};
use crate::{fault::PatternFault, findings::Findings};

/// How far a fold edge may run off the grainline and still count as parallel, degrees: a grainline 100 mm long, written to
/// the nearest tenth of a millimetre at both ends, can be off by 0.06.
pub(super) const PARALLEL_DEG: f64 = 0.2;

/// How near to the fold a point counts as on it, mm; its mirror image would be the same mark.
const ON_FOLD: f64 = 0.01;

/// What the cut rules ask of a piece with a fold edge.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Needs {
    /// It is cut on the fold, so the fold must run along the grain.
    Fold,
    /// It is only ever cut whole.
    Whole,
}

/// The whole cutting line in its final frame, and the way there from the drawing.
pub(super) struct Setting {
    pub(super) outline: Outline,
    fold: Option<Axis>,
    /// To the upright grainline, from the drawing or from the frame of the fold. None when the fold is upright already.
    grain_line: Option<FoldLine>,
}

/// The axis of an unfolded piece. In its frame it is `x = 0`.
struct Axis {
    line: FoldLine,
    /// Heights of its low and high end on the seam line.
    seam: [f64; 2],
    /// Heights of its low and high end on the cutting line.
    cut: [f64; 2],
}

/// A drawing with its cutting line.
pub(super) struct Cutting<'a> {
    pub(super) drawing: Drawing<'a>,
    pub(super) path: &'a Path,
    pub(super) line: &'a CuttingLine,
    pub(super) frame: &'a PieceFrame<'a>,
}

impl Setting {
    /// A piece without a fold edge: its grainline becomes the vertical through the origin.
    pub(super) fn plain(Cutting { drawing, line, frame, .. }: &Cutting<'_>, findings: &mut Findings) -> Option<Self> {
        let [low, high] = drawing.draft.grainline;
        let Ok(upright) = FoldLine::new(low, high) else {
            let piece = frame.name.to_owned();
            findings.add(&drawing.places.grainline, PatternFault::GrainlineWithoutLength { piece });
            return None;
        };
        let outline = line.outline().map_rigid(|p| upright.to_frame(p));
        Some(Self { outline, fold: None, grain_line: Some(upright) })
    }

    /// A half with a fold edge, unfolded. When the fold runs along the grain it becomes `x = 0`.
    pub(super) fn folded(
        Cutting { drawing, path, line, frame }: &Cutting<'_>,
        edge: usize,
        needs: Needs,
        findings: &mut Findings,
    ) -> Option<Self> {
        let (a, b) = path.ends(edge);
        let (fold, grain) = (b - a, drawing.draft.grainline[1] - drawing.draft.grainline[0]);
        let along = fold.x * grain.x + fold.y * grain.y;
        let across = (fold.x * grain.y - fold.y * grain.x).abs();
        let degrees = across.atan2(along.abs()).to_degrees();
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
                findings.add(drawing.place_of(edge), PatternFault::Unfold { piece, reason });
                return None;
            }
        };
        let seam = [fold_line.to_frame(low).y, fold_line.to_frame(high).y];
        let axis = Some(Axis { line: fold_line, seam, cut: ends_on_axis(&whole) });
        if degrees <= PARALLEL_DEG {
            return Some(Self { outline: whole, fold: axis, grain_line: None });
        }
        if needs == Needs::Fold {
            findings
                .add(&drawing.places.grainline, PatternFault::FoldOffGrain { piece: frame.name.to_owned(), degrees });
            return None;
        }
        let [low, high] = drawing.draft.grainline.map(|end| fold_line.to_frame(end));
        let upright = FoldLine::new(low, high).ok()?;
        let outline = whole.map_rigid(|p| upright.to_frame(p));
        Some(Self { outline, fold: axis, grain_line: Some(upright) })
    }

    /// Whether the outline is symmetric about `x = 0`.
    pub(super) fn is_on_axis(&self) -> bool {
        self.fold.is_some() && self.grain_line.is_none()
    }

    /// Where a point of the drawing comes to lie, and where its mirror image on the other half of an unfolded piece does. A
    /// point on the fold has none.
    pub(super) fn places(&self, p: Point) -> (Point, Option<Point>) {
        let p = self.in_fold_frame(p);
        let other = self.fold.as_ref().filter(|_| p.x.abs() > ON_FOLD).map(|_| point(-p.x, p.y));
        (self.to_grain(p), other.map(|other| self.to_grain(other)))
    }

    /// The seam line edge by edge: of an unfolded piece one half from the fold round to it, then the other half back, its edges
    /// named as its points are.
    pub(super) fn edges(&self, drawing: Drawing<'_>, line: &CuttingLine) -> Vec<PieceEdge> {
        let mut lines = line.seam().edge_lines();
        let name_of = |edge: usize| drawing.draft.edges[edge].name.clone();
        let allowance_of = |edge: usize| drawing.draft.edges[edge].allowance;
        let Some(axis) = &self.fold else {
            // Without a fold the frame of the drawing is left by `to_grain` alone.
            return lines.into_iter().map(|(edge, line)| self.edge(name_of(edge), allowance_of(edge), line)).collect();
        };
        let fold = drawing.fold();
        let at = lines.iter().position(|(edge, _)| Some(*edge) == fold).unwrap_or(0);
        lines.rotate_left(at);
        let mut half: Vec<(String, EdgeAllowance, Vec<Point>)> = (lines.into_iter().skip(1))
            .map(|(edge, line)| {
                (name_of(edge), allowance_of(edge), line.into_iter().map(|p| axis.line.to_frame(p)).collect())
            })
            .collect();
        // Both ends lie on the fold, whatever turning them into its frame has rounded.
        if let Some(start) = half.first_mut().and_then(|(.., line)| line.first_mut()) {
            start.x = 0.0;
        }
        if let Some(end) = half.last_mut().and_then(|(.., line)| line.last_mut()) {
            end.x = 0.0;
        }
        let other: Vec<(String, EdgeAllowance, Vec<Point>)> = (half.iter().rev())
            .map(|(name, allowance, line)| {
                (Half::Other.name(name), *allowance, line.iter().rev().map(|p| point(-p.x, p.y)).collect())
            })
            .collect();
        half.into_iter().chain(other).map(|(name, allowance, line)| self.edge(name, allowance, line)).collect()
    }

    fn edge(&self, name: String, allowance: EdgeAllowance, line: Vec<Point>) -> PieceEdge {
        let depth = match allowance {
            EdgeAllowance::Fold | EdgeAllowance::Leg => None,
            allowance => Some(allowance.depth()),
        };
        let line = line.into_iter().map(|p| self.to_grain(p)).collect();
        PieceEdge { name, allowance: depth, corner: allowance.corner(), line }
    }

    /// A notch on the cutting line, and the same on the other half. None when it would lie inside the unfolded piece.
    pub(super) fn notches(&self, line: &CuttingLine, drawn: Point, name: &str, reach: f64) -> Option<Vec<Notch>> {
        let carried = line.carry_out(drawn);
        let notch = |at: Point, inward: Point| Notch {
            name: name.to_owned(),
            at: self.to_grain(at),
            inward: self.turn_to_grain(inward),
        };
        let Some(axis) = &self.fold else { return Some(vec![notch(carried.at, carried.inward)]) };
        let on_seam = axis.line.to_frame(carried.on_seam);
        if on_seam.x.abs() <= ON_FOLD {
            // At an end of the fold the notch follows the axis out to the cutting line.
            return if (on_seam.y - axis.seam[1]).abs() <= reach {
                Some(vec![notch(point(0.0, axis.cut[1]), point(0.0, -1.0))])
            } else if (on_seam.y - axis.seam[0]).abs() <= reach {
                Some(vec![notch(point(0.0, axis.cut[0]), point(0.0, 1.0))])
            } else {
                None
            };
        }
        let (at, inward) = (axis.line.to_frame(carried.at), axis.line.turn_to_frame(carried.inward));
        Some(vec![notch(at, inward), notch(point(-at.x, at.y), point(-inward.x, inward.y))])
    }

    fn in_fold_frame(&self, p: Point) -> Point {
        self.fold.as_ref().map_or(p, |axis| axis.line.to_frame(p))
    }

    fn to_grain(&self, p: Point) -> Point {
        self.grain_line.map_or(p, |line| line.to_frame(p))
    }

    fn turn_to_grain(&self, v: Point) -> Point {
        self.grain_line.map_or(v, |line| line.turn_to_frame(v))
    }
}

/// Heights at which a symmetric outline first and last meets its axis `x = 0`.
fn ends_on_axis(whole: &Outline) -> [f64; 2] {
    let crossings = whole
        .edges()
        .filter(|(a, b)| a.x.min(b.x) <= 0.0 && a.x.max(b.x) >= 0.0)
        .flat_map(|(a, b)| if a.x == b.x { [a.y, b.y] } else { [a.y + (b.y - a.y) * (a.x / (a.x - b.x)); 2] });
    crossings.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], y| [low.min(y), high.max(y)])
}
