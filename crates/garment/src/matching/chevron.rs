//! Chevrons: bars that run down the garment and meet in points all along a slanted seam.
//!
//! Along the seam both edges travel sideways. Where they travel alike, one bar meets the other at every place of the seam once it does at
//! one; where one travels as far to the left as the other to the right, they do so as mirror images, and the bars make a V. Edges that
//! lean unlike cannot: bars that meet at the top drift apart below. Equal angles of both edges are the condition that a sewer is told;
//! common practice, no source.

use ellwand_geometry::Point;

use super::{MatchFault, MatchRule, PiecePoint, PieceWay};
use crate::{
    Balance, CentreOn, DesignAxis, GrainRule, Pattern, Repeat, Seam, SeamSide,
    sewn_side::{SewnSide, stretches},
};

/// How far bars may drift apart along the seam and still be one to the eye, mm: an eighth of an inch. Common practice, no source.
const UNSEEN_MM: f64 = 3.2;

/// How far apart along the seam both edges are compared, mm.
const STEP_MM: f64 = 5.0;

/// At most so many places are compared, however long the seam: a seam of a garment has fewer.
const MOST_STEPS: f64 = 500.0;

impl Seam {
    /// What makes the bars of a design that repeats across by `repeat` meet in points along this seam of `pattern`, cut from the cloth of
    /// `role`. The middle of one piece that is sewn to itself all round, such as a gore, stands as `centre` says.
    ///
    /// # Errors
    ///
    /// [`MatchFault::UnevenChevron`] on an uneven design, [`MatchFault::BiasMeetsStraight`], [`MatchFault::ChevronUnknown`] of a seam that does
    /// not say which edges are sewn and where they meet, [`MatchFault::ChevronUpright`] where the edges run beside the bars,
    /// [`MatchFault::ChevronUnlike`] where they do not lean alike.
    pub fn chevron(
        &self,
        pattern: &Pattern,
        role: &str,
        repeat: &Repeat,
        centre: CentreOn,
    ) -> Result<MatchRule, MatchFault> {
        if repeat.balance == Balance::Uneven {
            // Whatever shows the one edge shows its mirror image on the other.
            return Err(MatchFault::UnevenChevron { name: self.name.clone(), piece: self.a.piece.clone() });
        }
        let bias = |piece: &str| pattern.piece(piece).is_some_and(|piece| piece.grain_on(role) == GrainRule::Bias);
        let (a, b) = (&self.a.piece, &self.b.as_ref().unwrap_or(&self.a).piece);
        if bias(a) != bias(b) {
            let (on_bias, straight) = if bias(a) { (a, b) } else { (b, a) };
            let (bias, straight) = (on_bias.clone(), straight.clone());
            return Err(MatchFault::BiasMeetsStraight { name: self.name.clone(), bias, straight });
        }
        let unknown = || MatchFault::ChevronUnknown { name: self.name.clone() };
        let other = self.b.as_ref().unwrap_or(&self.a);
        let one = Travel::of(&self.a, pattern, role).ok_or_else(unknown)?;
        let two = Travel::of(other, pattern, role).ok_or_else(unknown)?;
        let travelled = one.beside(&two);
        let widest = travelled.iter().map(|(a, b)| a.abs().max(b.abs())).fold(0.0, f64::max);
        if widest <= UNSEEN_MM {
            return Err(MatchFault::ChevronUpright { name: self.name.clone() });
        }
        let drift = |sign: f64| travelled.iter().map(|(a, b)| (a - sign * b).abs()).fold(0.0, f64::max);
        let (alike, mirrored) = (drift(1.0), drift(-1.0));
        let by = alike.min(mirrored);
        if by > UNSEEN_MM {
            let pieces = [one.at.piece, two.at.piece];
            return Err(MatchFault::ChevronUnlike { name: self.name.clone(), pieces, by });
        }
        let (a, b) = (one.at, two.at);
        Ok(if alike <= mirrored {
            MatchRule::Meet { a, b, axis: DesignAxis::Across }
        } else if a.piece == b.piece {
            // Its two edges are mirror images: so the middle between them stands on an axis of the design.
            let phase = repeat.within((one.start.x - two.start.x) / 2.0 + centre.phase(repeat));
            MatchRule::Stand { at: a, axis: DesignAxis::Across, phase }
        } else {
            MatchRule::Chevron { a, b }
        })
    }
}

/// One side of a seam as it travels sideways on the cloth.
struct Travel {
    at: PiecePoint,
    side: SewnSide,
    way: PieceWay,
    /// How far along the side the first meeting point lies.
    from: f64,
    /// Where that place of the edge lies on the cloth, from the origin of the piece.
    start: Point,
}

impl Travel {
    fn of(side: &SeamSide, pattern: &Pattern, role: &str) -> Option<Self> {
        let piece = pattern.piece(&side.piece)?;
        let at = PiecePoint { piece: piece.name.clone(), point: side.meets.first()?.clone() };
        let named = |edge: &str| -> Vec<Vec<Point>> {
            let lines = piece.edges.iter().filter(|line| line.name == edge && line.allowance.is_some());
            stretches(lines.map(|line| line.line.clone()))
        };
        let sewn = SewnSide::of(side, named, |name| piece.points.get(name).copied())?;
        let (_, from) = *sewn.meets.iter().find(|(name, _)| *name == at.point)?;
        let way = if piece.grain_on(role) == GrainRule::Bias { PieceWay::Bias } else { PieceWay::Upright };
        let start = way.places(*piece.points.get(&at.point)?);
        Some(Self { at, side: sewn, way, from, start })
    }

    /// How far both sides have travelled sideways from their meeting points, mm, place by place of what is sewn together.
    fn beside(&self, other: &Self) -> Vec<(f64, f64)> {
        let (same, reach, others) = (self.side.runs_with(&other.side), self.side.whole(), other.side.whole());
        let (before, after) = if same { (other.from, others - other.from) } else { (others - other.from, other.from) };
        let (low, high) = (-self.from.min(before), (reach - self.from).min(after));
        let steps = ((high - low) / STEP_MM).ceil().clamp(1.0, MOST_STEPS);
        let travelled = |of: &Self, by: f64| {
            let place = |far: f64| of.side.place(far).map(|p| of.way.places(p).x);
            Some(place(of.from + by)? - place(of.from)?)
        };
        let at = |k: f64| {
            let by = low + (high - low) * k / steps;
            Some((travelled(self, by)?, travelled(other, if same { by } else { -by })?))
        };
        (0..=steps as usize).filter_map(|k| at(k as f64)).collect()
    }
}

#[cfg(test)]
mod tests;
