//! The cutting line around a seam line: an outward offset in which every edge has its own depth.
//!
//! Each short segment of the seam line gets a band as deep as its edge's allowance, corners get the region between the
//! two offset lines, and the cutting line is the outer border of the union of all that with the piece itself. So curves
//! that bend inwards more tightly than their allowance, and allowances that run into each other, need no special care.
//!
//! An allowance deeper than its neighbour's is a hem or facing: it is turned up over what the piece and the shallower
//! allowances make together, and its side is the mirror image of that ([`turned_up`]). Unions leave slits and gaps of no
//! width where parts touch but for a rounding error; [`tidy`] fills them.
//!
//! The legs of a dart take no allowance; what its mouth needs once it is folded and pressed is in [`dart`].

mod border;
mod dart;
mod inset;
mod layers;
mod mitre;
mod tidy;
mod turned_up;

pub use inset::{InsetEdge, InsetFault, inset};

use crate::path::distance;
use crate::{Flattened, Outline, OutlineFault, Point, distance_to_segment, point};
use tidy::NOISE_MM;

/// A corner's cutting lines run on until they meet, but no farther from the corner than this many times the deeper
/// allowance; beyond, the corner is cut off square to its bisector. It spares the long useless tips of collar points
/// and darts; corners wider than about 47 degrees are whole.
pub const MITRE_LIMIT: f64 = 2.5;

/// No point of a cutting line is farther from the seam line than this many times the deepest allowance, but for the caps of darts: an
/// allowance that is turned
/// up may lean out by 60 degrees beyond where its neighbour's mitre ends.
pub const LONGEST_REACH: f64 = 4.6;

/// No two corners or edges of a cutting line that do not meet come nearer to each other than this, mm, unless the seam line itself
/// does: a slit or gap so narrow is filled. It is a thousandth of the width of a chalk line, and a thousand times the rounding
/// of coordinates.
pub const HAIR_MM: f64 = 1e-4;

/// What lies beyond one edge of the seam line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EdgeAllowance {
    /// The edge lies on a fold: straight, nothing added, and nothing reaches across its line.
    Fold,
    /// Cloth of this depth, mm, measured square to the edge; 0 for a raw edge. Where its neighbour is shallower it is turned up over
    /// it; edges of one depth run on until they meet.
    Depth(f64),
    /// The same with corners of a shape of their own.
    Cornered {
        /// Depth, mm.
        depth: f64,
        /// How it ends beside its neighbours.
        corner: CornerShape,
    },
    /// The edge is a leg of a dart that is sewn to its other leg and pressed to one side: nothing is added, and the neighbour's
    /// allowance runs on to its line.
    Leg,
}

/// How an allowance ends at a corner, where depths alone do not say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornerShape {
    /// It is turned up over its neighbour, however deep that is: its side is the mirror image, about the seam line, of the cutting line
    /// that it comes to lie on. Beside another of its depth that is mirrored or square too, both run on until they meet.
    Mirrored,
    /// Its side stands square to the seam line, from where the cutting line of its neighbour crosses that. Beside another of its depth
    /// that is mirrored or square too, both run on until they meet.
    Square,
    /// The cutting line of the shallower of two neighbours runs straight on through the deeper one, leaning out by 60 degrees at most.
    StraightOn,
    /// Two allowances that are both turned up meet in a diagonal seam: each ends at the mirror image of the line from the corner to
    /// where their inner edges cross, with [`MITRE_ALLOWANCE`] beyond it. Both edges must say so.
    Mitred,
}

/// What is left beyond the diagonal of a mitred corner to sew it with, mm (1/4 in; common practice, no source); of narrow allowances half
/// their depth, where that is less.
pub const MITRE_ALLOWANCE: f64 = 6.35;

/// A dart in the seam line: edges of [`EdgeAllowance::Leg`] that run from the mouth to its point and back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressedDart {
    /// The point of the dart, a corner of the seam line, mm.
    pub tip: Point,
    /// End of the leg over which the fold is pressed, so that it comes to lie on the cloth beyond, mm.
    pub over: Point,
}

impl EdgeAllowance {
    /// How deep it is, mm; nothing on a fold and along the leg of a pressed dart.
    pub fn depth(self) -> f64 {
        match self {
            Self::Fold | Self::Leg => 0.0,
            Self::Depth(depth) | Self::Cornered { depth, .. } => depth,
        }
    }

    /// The same allowance of another depth; a fold and the leg of a pressed dart stay what they are.
    #[must_use]
    pub fn with_depth(self, depth: f64) -> Self {
        match self {
            Self::Fold | Self::Leg => self,
            Self::Depth(_) => Self::Depth(depth),
            Self::Cornered { corner, .. } => Self::Cornered { depth, corner },
        }
    }

    /// The same depth with corners of this shape; a fold and the leg of a pressed dart stay what they are.
    #[must_use]
    pub fn with_corner(self, corner: CornerShape) -> Self {
        match self {
            Self::Fold | Self::Leg => self,
            Self::Depth(depth) | Self::Cornered { depth, .. } => Self::Cornered { depth, corner },
        }
    }

    /// The shape of its corners, where it has one of its own.
    pub fn corner(self) -> Option<CornerShape> {
        match self {
            Self::Cornered { corner, .. } => Some(corner),
            _ => None,
        }
    }
}

/// Why no cutting line can be drawn. Edges count from 0.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OffsetFault {
    /// A depth is below zero or not a finite number.
    #[error("the allowance of edge {} is {depth} mm; it must be a finite length from 0 up", edge + 1)]
    BadDepth {
        /// Index of the edge.
        edge: usize,
        /// The depth given, mm.
        depth: f64,
    },
    /// Some edge has no allowance, or there are allowances for edges that do not exist.
    #[error("the outline has {edges} edges, but {allowances} allowances are given")]
    WrongCount {
        /// Edges of the outline.
        edges: usize,
        /// Allowances given.
        allowances: usize,
    },
    /// A fold edge bends.
    #[error("the fold edge {} is not straight: it leaves its chord by {by:.2} mm", edge + 1)]
    BentFold {
        /// Index of the edge.
        edge: usize,
        /// Largest distance from the straight line between its ends, mm.
        by: f64,
    },
    /// Part of the piece lies beyond the line of its fold edge.
    #[error(
        "the piece crosses the line of its fold edge {} by {by:.2} mm at ({:.1}, {:.1}) mm",
        edge + 1, at.x, at.y
    )]
    CrossesFold {
        /// Index of the fold edge.
        edge: usize,
        /// The point farthest beyond, mm.
        at: Point,
        /// How far, mm.
        by: f64,
    },
    /// No legs meet at the point of a dart, the edges beside it are all legs, or none of them ends where it is to be pressed over.
    #[error("no two legs of a dart as described meet at ({:.1}, {:.1}) mm", at.x, at.y)]
    NoSuchDart {
        /// Where its point was said to be.
        at: Point,
    },
    /// An edge is to be mitred, and none of its ends can be.
    #[error(
        "edge {} is to be mitred, but at neither end does it meet, in a corner of 45 to 150 degrees, an edge with an allowance that is \
         mitred too",
        edge + 1
    )]
    NoMitre {
        /// Index of the edge.
        edge: usize,
    },
    /// The seam line is not a sound outline.
    #[error("the seam line is not sound: {0}")]
    SeamLine(OutlineFault),
    /// The cutting line came out unsound: a defect of this program.
    #[error("the cutting line came out unsound, which is a defect of this program: {0}")]
    Defect(OutlineFault),
}

/// The cutting line of a piece, with the seam line it was drawn around.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingLine {
    outline: Outline,
    seam: Flattened,
    allowances: Vec<EdgeAllowance>,
}

/// A point of the seam line carried out to the cutting line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarriedOut {
    /// The edge it belongs to.
    pub edge: usize,
    /// Where it was on the seam line, mm.
    pub on_seam: Point,
    /// Where it is on the cutting line, mm.
    pub at: Point,
    /// Unit vector into the piece, square to the edge.
    pub inward: Point,
}

impl CuttingLine {
    /// Draws the cutting line around `seam`, with one allowance for each edge of the path it was flattened from.
    ///
    /// Where two edges of one depth meet in an outward corner, their cutting lines run on to where they cross; see
    /// [`MITRE_LIMIT`] for sharp corners. Where the depths differ, the deeper allowance is taken as turned up: folded back
    /// about its seam line, its side edge lies exactly on the cutting line that the piece has there, its neighbour's allowance
    /// included, however that line leans or curves. A piece lower than its hem is followed to its top, and the hem goes on
    /// square; sides that meet end the allowance. Edges within 30 degrees of one line cannot be folded so and meet in a
    /// square step. [`EdgeAllowance::Cornered`] says otherwise for an edge. At a fold the cutting line runs to the fold line. A gap between allowances that has closed on itself is cut
    /// through: the outline has no hole.
    ///
    /// The result contains the seam line, keeps a hair's distance from itself ([`HAIR_MM`]) wherever the seam line does, and a
    /// fold edge stays on its line. With one depth `d` everywhere every point of the result lies `d` or more from the seam
    /// line and at most `sqrt(MITRE_LIMIT² + 1) d` from it; with several, at most [`LONGEST_REACH`] times the deepest.
    ///
    /// # Errors
    ///
    /// Every fault found.
    ///
    /// ```
    /// use ellwand_geometry::{CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Path, point};
    ///
    /// let edge = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
    /// let sides = vec![edge(120.0, 0.0), edge(120.0, 140.0), edge(0.0, 140.0), edge(0.0, 0.0)];
    /// let pocket = Path::new(point(0.0, 0.0), sides).unwrap();
    /// let (seam, hem) = (EdgeAllowance::Depth(15.0), EdgeAllowance::Depth(30.0));
    /// let cut = CuttingLine::around(pocket.flatten(FLATNESS_MM), &[seam, seam, hem, seam]).unwrap();
    /// assert_eq!(cut.outline().area(), (120.0 + 30.0) * (140.0 + 45.0));
    /// let notch = cut.carry_out(point(60.0, 140.0));
    /// assert_eq!((notch.at, notch.inward), (point(60.0, 170.0), point(0.0, -1.0)));
    /// ```
    pub fn around(seam: Flattened, allowances: &[EdgeAllowance]) -> Result<Self, Vec<OffsetFault>> {
        Self::around_darts(seam, allowances, &[])
    }

    /// As [`Self::around`], with the darts of the seam line folded and pressed: between the legs of each the cutting line is that of the
    /// cloth it comes to lie on, so that the fold is caught in the seam all along. The mouths of two darts must not reach into each other.
    ///
    /// # Errors
    ///
    /// Every fault found; also a dart that is not there.
    ///
    /// ```
    /// use ellwand_geometry::{CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Path, PressedDart, point};
    ///
    /// let edge = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
    /// let side = [edge(200.0, 180.0), edge(80.0, 200.0), edge(200.0, 220.0), edge(200.0, 400.0)];
    /// let front = [vec![edge(200.0, 0.0)], side.to_vec(), vec![edge(0.0, 400.0), edge(0.0, 0.0)]].concat();
    /// let (seam, leg) = (EdgeAllowance::Depth(15.0), EdgeAllowance::Leg);
    /// let allowances = [seam, seam, leg, leg, seam, seam, seam];
    /// let dart = PressedDart { tip: point(80.0, 200.0), over: point(200.0, 180.0) };
    /// let path = Path::new(point(0.0, 0.0), front).unwrap();
    /// let cut = CuttingLine::around_darts(path.flatten(FLATNESS_MM), &allowances, &[dart]).unwrap();
    /// // Folded down, the middle of the dart lies lower on the side seam, farther from the point: 135 mm across, by its angle.
    /// let angle = 2.0 * 20f64.atan2(120.0);
    /// assert!((cut.outline().bounds().max.x - (80.0 + 135.0 / angle.cos())).abs() < 1e-6);
    /// ```
    pub fn around_darts(
        seam: Flattened,
        allowances: &[EdgeAllowance],
        darts: &[PressedDart],
    ) -> Result<Self, Vec<OffsetFault>> {
        let whole: Vec<usize> = (0..allowances.len()).collect();
        Self::around_parts(seam, allowances, &whole, darts)
    }

    /// As [`Self::around_darts`], where an edge of the drawing may have come apart: `drawn` says for each edge which one it is a part of.
    /// Between parts of one edge there is no mitre, and one of them that is mitred is enough.
    ///
    /// # Errors
    ///
    /// Every fault found; also [`OffsetFault::WrongCount`] when `drawn` is not as long as `allowances`.
    pub fn around_parts(
        seam: Flattened,
        allowances: &[EdgeAllowance],
        drawn: &[usize],
        darts: &[PressedDart],
    ) -> Result<Self, Vec<OffsetFault>> {
        let mut faults: Vec<OffsetFault> = (allowances.iter().enumerate())
            .filter(|(_, a)| !(a.depth().is_finite() && a.depth() >= 0.0))
            .map(|(edge, a)| OffsetFault::BadDepth { edge, depth: a.depth() })
            .collect();
        let edges = seam.edge_of().iter().max().map_or(0, |&last| last + 1);
        if edges != allowances.len() || drawn.len() != edges {
            faults.push(OffsetFault::WrongCount { edges, allowances: allowances.len() });
        }
        if let Err(unsound) = seam.outline() {
            faults.extend(unsound.into_iter().map(OffsetFault::SeamLine));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let without = layers::edges_without_mitre(&seam, allowances, drawn).into_iter();
        let faults: Vec<OffsetFault> = without.map(|edge| OffsetFault::NoMitre { edge }).collect();
        let folds = match fold_lines(&seam, allowances) {
            Ok(folds) if faults.is_empty() => folds,
            Ok(_) => return Err(faults),
            Err(more) => return Err([faults, more].concat()),
        };
        let mouth = |dart: &PressedDart| {
            dart::Mouth::find(&seam, allowances, dart).ok_or(vec![OffsetFault::NoSuchDart { at: dart.tip }])
        };
        let mouths: Vec<dart::Mouth> = darts.iter().map(mouth).collect::<Result<_, _>>()?;
        let deepest = allowances.iter().map(|a| a.depth()).fold(0.0, f64::max);
        let undarted = layers::cutting_ring(&seam, allowances, drawn, &folds);
        let ring = mouths.iter().fold(undarted, |ring, mouth| mouth.pressed(ring, deepest, &folds));
        let outline = tidy::outline_of(ring)
            .map_err(|unsound| unsound.into_iter().map(OffsetFault::Defect).collect::<Vec<_>>())?;
        Ok(Self { outline, seam, allowances: allowances.to_vec() })
    }

    /// The cutting line, counter-clockwise.
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The seam line.
    pub fn seam(&self) -> &Flattened {
        &self.seam
    }

    /// Carries the point of the seam line nearest to `p` out to the cutting line, square to its edge. On a fold or a
    /// raw edge it stays where it is, unless the allowance of another edge covers it.
    pub fn carry_out(&self, p: Point) -> CarriedOut {
        let nearest = self.seam.nearest(p);
        let (a, b) = self.seam.segment(nearest.segment);
        let outward = outward_normal(a, b);
        let on_border = |(a, b)| distance_to_segment(nearest.at, a, b) <= HAIR_MM;
        let at = if self.outline.edges().any(on_border) {
            nearest.at
        } else {
            // The band is part of the piece, so the first crossing is its depth away or more; less only where it is
            // trimmed.
            let depth = self.allowances[nearest.edge].depth();
            nearest.at + outward * self.first_crossing(nearest.at, outward).unwrap_or(depth)
        };
        CarriedOut { edge: nearest.edge, on_seam: nearest.at, at, inward: point(-outward.x, -outward.y) }
    }

    /// The same allowances with a cutting line that is given: where a pattern draws it, it is cut just so.
    #[must_use]
    pub fn with_outline(self, outline: Outline) -> Self {
        Self { outline, ..self }
    }

    /// How far from `from` in the direction `towards` the cutting line is crossed first, mm.
    fn first_crossing(&self, from: Point, towards: Point) -> Option<f64> {
        (self.outline.edges())
            .filter_map(|(a, b)| {
                let (along, to_a) = (b - a, a - from);
                let across = cross(towards, along);
                if across == 0.0 {
                    return None;
                }
                let (reach, share) = (cross(to_a, along) / across, cross(to_a, towards) / across);
                (reach > NOISE_MM && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(reach)
            })
            .min_by(f64::total_cmp)
    }
}

/// The line of a fold edge from `at` to `to`: the piece lies no farther in the direction `outward` than it.
#[derive(Debug, Clone, Copy)]
struct FoldEdge {
    at: Point,
    to: Point,
    outward: Point,
}

impl FoldEdge {
    /// How far `p` lies beyond the border; below zero inside.
    fn beyond(&self, p: Point) -> f64 {
        dot(p - self.at, self.outward)
    }
}

/// The fold edges, which the piece must keep behind.
fn fold_lines(seam: &Flattened, allowances: &[EdgeAllowance]) -> Result<Vec<FoldEdge>, Vec<OffsetFault>> {
    let mut lines = Vec::new();
    let mut faults = Vec::new();
    for edge in (0..allowances.len()).filter(|&e| allowances[e] == EdgeAllowance::Fold) {
        let segments: Vec<usize> = (0..seam.points().len()).filter(|&s| seam.edge_of()[s] == edge).collect();
        // An edge's segments follow each other, but may pass the end of the list.
        let before = |&&s: &&usize| seam.edge_of()[(s + seam.points().len() - 1) % seam.points().len()] != edge;
        let (Some(&first), count) = (segments.iter().find(before), segments.len()) else { continue };
        let a = seam.points()[first];
        let b = seam.points()[(first + count) % seam.points().len()];
        let line = FoldEdge { at: a, to: b, outward: outward_normal(a, b) };
        let bent = segments.iter().map(|&s| line.beyond(seam.points()[s]).abs()).fold(0.0, f64::max);
        if bent > 1e-6 {
            faults.push(OffsetFault::BentFold { edge, by: bent });
            continue;
        }
        let farthest = seam.points().iter().copied().max_by(|&p, &q| line.beyond(p).total_cmp(&line.beyond(q)));
        match farthest {
            Some(at) if line.beyond(at) > 1e-6 => {
                faults.push(OffsetFault::CrossesFold { edge, at, by: line.beyond(at) });
            }
            _ => lines.push(line),
        }
    }
    if faults.is_empty() { Ok(lines) } else { Err(faults) }
}

fn direction(a: Point, b: Point) -> Point {
    (b - a) / distance(a, b)
}

/// Square to the way from `a` to `b`, to its right: out of a counter-clockwise outline.
fn outward_normal(a: Point, b: Point) -> Point {
    let along = direction(a, b);
    point(along.y, -along.x)
}

fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y
}

#[cfg(test)]
mod tests;
