//! What meets in a finished layout: the points that matches speak of, on the cuts that have them.

use ellwand_geometry::{Point, Pose};

use crate::{Cut, Design, DesignAxis, Lie, Match, MatchRule, PiecePoint, Repeat, Shown};

/// A match of a finished layout: two points of two cuts, or one point and the design itself.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchedPoints {
    /// Name of the match it belongs to.
    pub name: String,
    /// One point.
    pub a: CutPoint,
    /// The other; `None` when the design itself is met.
    pub b: Option<CutPoint>,
    /// In which direction.
    pub axis: DesignAxis,
    /// Whether the other shows the design as the mirror image of the first, so that bars meet there in a V, or as it does.
    pub shown: Shown,
    /// The phase asked for when the design itself is met, mm; at a border the distance from the left edge.
    pub phase: Option<f64>,
    /// By how much they miss, mm.
    pub residual: f64,
}

/// A named point of a cut.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct CutPoint {
    /// The piece.
    pub piece: String,
    /// The copy, from 1.
    pub copy: u32,
    /// The point.
    pub point: String,
}

impl std::fmt::Display for CutPoint {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "\"{}\" of \"{}\" copy {}", self.point, self.piece, self.copy)
    }
}

/// Signs of the phase across and along of what is cut in a pose: -1 where the garment shows the design the other way round. Of a piece that lies
/// crosswise, its low end towards a selvage, the garment shows along what goes across it, from the one hand to the other.
pub fn design_signs(pose: &Pose) -> (f64, f64) {
    let sign = |reversed: bool| if reversed { -1.0 } else { 1.0 };
    match Lie::of(pose) {
        Lie::Down => (sign(!pose.mirrored), -1.0),
        Lie::Left => (1.0, sign(!pose.mirrored)),
        Lie::Right => (1.0, sign(pose.mirrored)),
        _ => (sign(pose.mirrored), 1.0),
    }
}

impl Cut {
    /// Signs of the phase of its points across and along: -1 where the garment shows the design the other way round.
    pub fn design_signs(&self) -> (f64, f64) {
        design_signs(&self.pose())
    }

    /// The phase of a point at `place` of this cut, 0 to the repeat.
    pub fn phase(&self, place: Point, axis: DesignAxis, repeat: &Repeat) -> f64 {
        let (sx, sy) = self.design_signs();
        match axis {
            DesignAxis::Across => repeat.within(sx * (place.x - repeat.offset)),
            DesignAxis::Along => repeat.within(sy * (place.y - repeat.offset)),
        }
    }
}

/// Every two points, or point and design, that `matches` speak of among `cuts`, with how far they miss on a cloth `width` wide.
///
/// Copy by copy: left meets left and right meets right; where one piece has fewer copies, they serve in turn. The copies of one piece meet each
/// the next.
pub fn matched_points(matches: &[Match], cuts: &[Cut], design: &Design, width: f64) -> Vec<MatchedPoints> {
    let copies = |piece: &str| -> Vec<&Cut> { cuts.iter().filter(|cut| cut.piece == piece).collect() };
    let of_rule = |name: &str, rule: &MatchRule| -> Vec<MatchedPoints> {
        let alone = |cut: &Cut, at: &PiecePoint, axis, phase, residual| {
            let (name, a) = (name.to_owned(), cut_point(cut, at));
            MatchedPoints { name, a, b: None, axis, shown: Shown::Alike, phase: Some(phase), residual }
        };
        match rule {
            MatchRule::Meet { .. } | MatchRule::Chevron { .. } => {
                let Some((a, b, axis, shown)) = rule.meeting() else { return Vec::new() };
                let Some(repeat) = design.repeat(axis) else { return Vec::new() };
                let meet = |(one, other): (&Cut, &Cut)| {
                    let phases = [(one, a), (other, b)]
                        .map(|(cut, at)| Some(cut.phase(*cut.points.get(&at.point)?, axis, repeat)));
                    let [Some(p), Some(q)] = phases else { return None };
                    let (name, residual) = (name.to_owned(), repeat.off(p - shown.sign() * q).abs());
                    let (a, b) = (cut_point(one, a), Some(cut_point(other, b)));
                    Some(MatchedPoints { name, a, b, axis, shown, phase: None, residual })
                };
                meeting_copies(a, b, &copies(&a.piece), &copies(&b.piece)).into_iter().filter_map(meet).collect()
            }
            MatchRule::Stand { at, axis, phase } => {
                let Some(repeat) = design.repeat(*axis) else { return Vec::new() };
                let stand = |cut: &Cut| {
                    let shown = cut.phase(*cut.points.get(&at.point)?, *axis, repeat);
                    Some(alone(cut, at, *axis, *phase, repeat.off(shown - phase).abs()))
                };
                copies(&at.piece).into_iter().filter_map(stand).collect()
            }
            MatchRule::Border { at, from_edge } => {
                let stand = |cut: &Cut| {
                    // With its top to the right its low end is at the left edge.
                    let x = if Lie::of(&cut.pose()) == Lie::Right { *from_edge } else { width - from_edge };
                    let residual = (cut.points.get(&at.point)?.x - x).abs();
                    Some(alone(cut, at, DesignAxis::Across, x, residual))
                };
                copies(&at.piece).into_iter().filter_map(stand).collect()
            }
        }
    };
    matches.iter().flat_map(|wanted| wanted.rules.iter().flat_map(|rule| of_rule(&wanted.name, rule))).collect()
}

/// Which copies of two pieces, or of one piece and itself, meet.
fn meeting_copies<'c>(a: &PiecePoint, b: &PiecePoint, ones: &[&'c Cut], others: &[&'c Cut]) -> Vec<(&'c Cut, &'c Cut)> {
    let (is_one_piece, same_point) = (a.piece == b.piece, a == b);
    if ones.is_empty() || others.is_empty() {
        return Vec::new();
    }
    if same_point {
        return ones.iter().copied().zip(ones.iter().copied().skip(1)).collect();
    }
    if is_one_piece {
        // One edge of each copy is sewn to the other edge of the next.
        return (0..ones.len()).map(|k| (ones[k], ones[(k + 1) % ones.len()])).collect();
    }
    let most = ones.len().max(others.len());
    (0..most).map(|k| (ones[k % ones.len()], others[k % others.len()])).collect()
}

fn cut_point(cut: &Cut, at: &PiecePoint) -> CutPoint {
    CutPoint { piece: cut.piece.clone(), copy: cut.copy, point: at.point.clone() }
}

#[cfg(test)]
mod tests;
