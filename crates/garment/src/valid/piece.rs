//! The rules for one piece.

use ellwand_geometry::{Outline, Point, contains_point, distance_to_segment, point};

use super::{GrainEnd, InputFault, Part, PieceMark};
use crate::{CutRule, Hands, Notch, Piece};

/// How far a grainline may lean over its length and still be upright, mm: rounding.
const UPRIGHT_MM: f64 = 1e-3;

/// How far an end of the grainline may lie outside, mm: rounding.
const INSIDE_MM: f64 = 1e-2;

/// How far the halves of a piece on the fold may differ, mm: below a thread.
const SYMMETRIC_MM: f64 = 0.02;

/// How far a notch may lie off the cutting line, mm: as far as one that is drawn by hand.
const NOTCH_REACH: f64 = 2.0;

/// How far the vector of a notch may be off length 1.
const UNIT: f64 = 1e-6;

/// Everything wrong with a piece by itself.
pub(crate) fn piece_faults(piece: &Piece) -> Vec<InputFault> {
    let mut faults = grainline_faults(piece);
    faults.extend(faults_beside_grainline(piece));
    faults
}

/// Everything wrong with a piece by itself, its grainline aside.
pub(crate) fn faults_beside_grainline(piece: &Piece) -> Vec<InputFault> {
    let mut faults: Vec<InputFault> = name_fault(&piece.name).into_iter().collect();
    if piece.fold {
        faults.extend(symmetry_fault(piece));
    }
    faults.extend(piece.notches.iter().filter_map(|notch| notch_fault(piece, notch)));
    faults.extend(mark_faults(piece));
    faults.extend(cut_faults(&piece.name, piece.fold, &piece.cuts));
    faults
}

pub(crate) fn name_fault(name: &str) -> Option<InputFault> {
    name.trim().is_empty().then_some(InputFault::NoName { what: Part::Piece })
}

fn is_finite(p: Point) -> bool {
    p.x.is_finite() && p.y.is_finite()
}

/// How far `p` lies from the outline, mm.
fn off_line(outline: &Outline, p: Point) -> f64 {
    outline.edges().map(|(a, b)| distance_to_segment(p, a, b)).fold(f64::INFINITY, f64::min)
}

fn grainline_faults(piece: &Piece) -> Vec<InputFault> {
    let name = || piece.name.clone();
    let [low, high] = piece.grainline;
    if !is_finite(low) || !is_finite(high) {
        return vec![InputFault::NotFinite { piece: name(), mark: PieceMark::Grainline }];
    }
    let along = high - low;
    if along.x.hypot(along.y) <= UPRIGHT_MM {
        return vec![InputFault::GrainlineWithoutLength { piece: name() }];
    }
    let mut faults = Vec::new();
    if along.x.abs() > UPRIGHT_MM || along.y < 0.0 {
        let degrees = along.x.abs().atan2(along.y).to_degrees();
        faults.push(InputFault::GrainlineNotUpright { piece: name(), degrees });
    }
    let outside = |p: Point| !contains_point(&piece.outline, p) && off_line(&piece.outline, p) > INSIDE_MM;
    for (p, end) in [(low, GrainEnd::Low), (high, GrainEnd::High)] {
        if outside(p) {
            faults.push(InputFault::GrainlineOutside { piece: name(), end });
        }
    }
    faults
}

/// The corner of a piece on the fold whose mirror image about `x = 0` is farthest off the outline, if that is too far.
fn symmetry_fault(piece: &Piece) -> Option<InputFault> {
    let mut by_height: Vec<Point> = piece.outline.points().to_vec();
    by_height.sort_by(|p, q| p.y.total_cmp(&q.y));
    // Unfolded halves have a corner for a corner, which a look at that height finds.
    let has_corner_at = |p: Point| {
        let from = by_height.partition_point(|q| q.y < p.y - SYMMETRIC_MM);
        let near = |q: &&Point| q.y <= p.y + SYMMETRIC_MM;
        by_height[from..].iter().take_while(near).any(|q| (*q - p).x.hypot((*q - p).y) <= SYMMETRIC_MM)
    };
    let corners = piece.outline.points().iter().copied();
    let over = |p: Point| point(-p.x, p.y);
    let off = corners.filter(|&p| !has_corner_at(over(p))).map(|p| (p, off_line(&piece.outline, over(p))));
    let (at, by) = off.max_by(|a, b| a.1.total_cmp(&b.1))?;
    (by > SYMMETRIC_MM).then(|| InputFault::NotSymmetric { piece: piece.name.clone(), at, by })
}

fn notch_fault(piece: &Piece, notch: &Notch) -> Option<InputFault> {
    let (name, mark) = (|| piece.name.clone(), || PieceMark::Notch(notch.name.clone()));
    if !is_finite(notch.at) || !is_finite(notch.inward) {
        return Some(InputFault::NotFinite { piece: name(), mark: mark() });
    }
    let by = off_line(&piece.outline, notch.at);
    if by > NOTCH_REACH {
        return Some(InputFault::NotchOffLine { piece: name(), mark: mark(), by });
    }
    let length = notch.inward.x.hypot(notch.inward.y);
    ((length - 1.0).abs() > UNIT).then(|| InputFault::NotchDirection { piece: name(), mark: mark(), length })
}

/// Points without a name, and points and edges at no place.
fn mark_faults(piece: &Piece) -> Vec<InputFault> {
    let nameless =
        piece.points.keys().filter(|name| name.trim().is_empty()).map(|_| InputFault::NoName { what: Part::Point });
    let points = piece.points.iter().filter(|(_, at)| !is_finite(**at)).map(|(name, _)| PieceMark::Point(name.clone()));
    let lost = |edge: &&crate::PieceEdge| edge.line.iter().any(|p| !is_finite(*p));
    let edges = piece.edges.iter().filter(lost).map(|edge| PieceMark::Edge(edge.name.clone()));
    let not_finite = |mark| InputFault::NotFinite { piece: piece.name.clone(), mark };
    nameless.chain(points.chain(edges).map(not_finite)).collect()
}

/// Everything wrong with what a piece is cut from; `fold` is whether its fold is at `x = 0`.
pub(crate) fn cut_faults(piece: &str, fold: bool, cuts: &[CutRule]) -> Vec<InputFault> {
    if cuts.is_empty() {
        return vec![InputFault::NeverCut { piece: piece.to_owned() }];
    }
    let mut faults = Vec::new();
    for (index, rule) in cuts.iter().enumerate() {
        if cuts[..index].iter().any(|earlier| earlier.role == rule.role) {
            faults.push(InputFault::RoleTwice { piece: piece.to_owned(), role: rule.role.clone() });
        }
        faults.extend(rule_faults(piece, fold, rule));
    }
    faults
}

fn rule_faults(piece: &str, fold: bool, rule: &CutRule) -> Vec<InputFault> {
    let (name, role) = (|| piece.to_owned(), || rule.role.clone());
    let mut faults = Vec::new();
    if rule.role.trim().is_empty() {
        faults.push(InputFault::NoRole { piece: name() });
    }
    if rule.count == 0 {
        faults.push(InputFault::CountZero { piece: name(), role: role() });
    }
    // What lies on the fold is its own mirror image and has no hands.
    if rule.hands == Hands::Pair && !rule.count.is_multiple_of(2) && !rule.on_fold {
        faults.push(InputFault::OddPair { piece: name(), role: role(), count: rule.count });
    }
    if rule.on_fold && !fold {
        faults.push(InputFault::NoFold { piece: name(), role: role() });
    }
    faults
}
