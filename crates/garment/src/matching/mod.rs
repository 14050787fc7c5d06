//! What must meet on a cloth with a design: the matches a maker asks for, in order of importance.
//!
//! A [`Match`] is said of pieces, not of copies: every copy of a piece shows the design alike, the left and the right side of the
//! body mirroring each other. So it holds for each copy, and a piece has one phase for each direction of the design.
//!
//! The *phase* of a point of a cut is its place in the repeat as the garment shows it: `sy (y - oy) mod Ry` along and
//! `sx (x - ox) mod Rx` across, where `ox` and `oy` are the offsets of the design, `sy` is -1 for a cut turned by 180 degrees and `sx`
//! is -1 for one whose shape is flipped left to right on the cloth: mirrored or turned, not both. Points are on the seam line.

mod phases;

pub use phases::{MatchFault, OriginPhase, Phases, PieceWay, phases};

use crate::{Cut, Design, DesignAxis, Repeat, Seam, SeamKind};

/// Something that must come out on the garment. All of its rules are kept, or, if it is wished for and too dear, none.
#[derive(Debug, Clone, PartialEq)]
pub struct Match {
    /// What a maker calls it: "side", "pocket".
    pub name: String,
    /// Whether it may be given up.
    pub need: Need,
    /// What it asks for.
    pub rules: Vec<MatchRule>,
}

/// Whether a match may be given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// No.
    Required,
    /// Yes, when it costs more than it is worth to the maker.
    Wished,
}

/// One demand of a match.
#[derive(Debug, Clone, PartialEq)]
pub enum MatchRule {
    /// Two points show the same place of the design.
    Meet {
        /// One point.
        a: PiecePoint,
        /// The other; on the same piece when its copies meet each other.
        b: PiecePoint,
        /// In which direction.
        axis: DesignAxis,
    },
    /// A point shows one place of the design: on the dominant bar, midway, or some way from it.
    Stand {
        /// The point.
        at: PiecePoint,
        /// In which direction.
        axis: DesignAxis,
        /// How far from the axis of the dominant bar, as the garment shows it, mm.
        phase: f64,
    },
    /// A point stands at a border: the piece lies crosswise, its low end towards the selvage.
    Border {
        /// The point.
        at: PiecePoint,
        /// How far from the edge of the cloth, mm.
        from_edge: f64,
    },
}

/// A named point of a piece.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PiecePoint {
    /// The piece.
    pub piece: String,
    /// The point; one of its named points.
    pub point: String,
}

/// Where centre lines stand on a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CentreOn {
    /// On the axis of a dominant bar.
    #[default]
    Bar,
    /// Midway between two.
    Midway,
}

/// What a wished match may cost before it is given up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MatchLimit {
    /// Length to buy, mm.
    Length(f64),
    /// Money, in the currency of the cloth.
    Money(rust_decimal::Decimal),
}

/// What is matched on a cloth.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Matching {
    /// The matches, the most important first.
    pub matches: Vec<Match>,
    /// What each wished one may cost; without it none is given up.
    pub limit: Option<MatchLimit>,
    /// Names of wished matches that were given up and are no longer among the matches.
    pub given_up: Vec<String>,
}

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

impl CentreOn {
    /// The phase of a centre line, mm.
    pub fn phase(self, repeat: &Repeat) -> f64 {
        match self {
            Self::Bar => 0.0,
            Self::Midway => repeat.every / 2.0,
        }
    }
}

impl MatchRule {
    /// The points it speaks of: one or two.
    pub fn points(&self) -> impl Iterator<Item = &PiecePoint> {
        let (first, second) = match self {
            Self::Meet { a, b, .. } => (a, Some(b)),
            Self::Stand { at, .. } | Self::Border { at, .. } => (at, None),
        };
        std::iter::once(first).chain(second)
    }
}

impl SeamKind {
    /// The directions in which a design is matched at a seam of this kind.
    ///
    /// Bars that run across the body meet at an upright seam, bars that run down it at a level one; a pocket lies flat on its
    /// ground and shows both.
    pub fn matched(self) -> &'static [DesignAxis] {
        match self {
            Self::CentreFront | Self::CentreBack | Self::Side | Self::Sleeve | Self::Other => &[DesignAxis::Along],
            Self::Pocket => &[DesignAxis::Across, DesignAxis::Along],
            Self::Collar | Self::Cuff | Self::Yoke => &[DesignAxis::Across],
        }
    }

    /// Whether a good maker matches it without being asked.
    pub fn is_usual(self) -> bool {
        self <= Self::Collar
    }
}

impl Seam {
    /// The rules that match `design` at this seam, at the points that meet first. Copies of one piece meet each other at
    /// the same point, at centre front and centre back even when a band is sewn between them. Empty when the design has nothing to match there.
    pub fn rules(&self, design: &Design, centre: CentreOn) -> Vec<MatchRule> {
        let point = |side: &crate::SeamSide| {
            side.meets.first().map(|point| PiecePoint { piece: side.piece.clone(), point: point.clone() })
        };
        let other = self.b.as_ref().unwrap_or(&self.a);
        let mut rules = Vec::new();
        for side in std::iter::once(&self.a).chain(&self.b) {
            if let (Some([low, _]), Some(repeat)) = (&side.centre, &design.across) {
                let at = PiecePoint { piece: side.piece.clone(), point: low.clone() };
                rules.push(MatchRule::Stand { at, axis: DesignAxis::Across, phase: centre.phase(repeat) });
            }
        }
        if let (Some(a), Some(b)) = (point(&self.a), point(other)) {
            let axes = || self.kind.matched().iter().filter(|&&axis| design.repeat(axis).is_some());
            rules.extend(axes().map(|&axis| MatchRule::Meet { a: a.clone(), b: b.clone(), axis }));
            if self.b.is_some() && matches!(self.kind, SeamKind::CentreFront | SeamKind::CentreBack) {
                // Whatever is sewn between them, left and right are level.
                rules.extend(axes().map(|&axis| MatchRule::Meet { a: a.clone(), b: a.clone(), axis }));
            }
        }
        rules
    }
}

/// Signs of the phase across and along of what is cut in a pose: -1 where the garment shows the design the other way round. Of a piece that lies
/// crosswise, its low end towards a selvage, the garment shows along what goes across it, from the one hand to the other.
pub fn design_signs(pose: &ellwand_geometry::Pose) -> (f64, f64) {
    let sign = |reversed: bool| if reversed { -1.0 } else { 1.0 };
    match pose.turn_deg {
        180.0 => (sign(!pose.mirrored), -1.0),
        90.0 => (1.0, sign(!pose.mirrored)),
        270.0 => (1.0, sign(pose.mirrored)),
        _ => (sign(pose.mirrored), 1.0),
    }
}

impl Cut {
    /// Signs of the phase of its points across and along: -1 where the garment shows the design the other way round.
    pub fn design_signs(&self) -> (f64, f64) {
        design_signs(&ellwand_geometry::Pose { mirrored: self.mirrored, turn_deg: self.turned_deg })
    }

    /// The phase of a point at `place` of this cut, 0 to the repeat.
    pub fn phase(&self, place: ellwand_geometry::Point, axis: DesignAxis, repeat: &Repeat) -> f64 {
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
            MatchedPoints { name, a, b: None, axis, phase: Some(phase), residual }
        };
        match rule {
            MatchRule::Meet { a, b, axis } => {
                let Some(repeat) = design.repeat(*axis) else { return Vec::new() };
                let meet = |(one, other): (&Cut, &Cut)| {
                    let phases = [(one, a), (other, b)]
                        .map(|(cut, at)| Some(cut.phase(*cut.points.get(&at.point)?, *axis, repeat)));
                    let [Some(p), Some(q)] = phases else { return None };
                    let (name, residual) = (name.to_owned(), repeat.off(p - q).abs());
                    let (a, b) = (cut_point(one, a), Some(cut_point(other, b)));
                    Some(MatchedPoints { name, a, b, axis: *axis, phase: None, residual })
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
                    // Turned by 270 degrees the low end points to the left edge.
                    let x = if cut.turned_deg == 270.0 { *from_edge } else { width - from_edge };
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
