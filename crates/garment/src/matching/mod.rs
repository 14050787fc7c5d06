//! What must meet on a cloth with a design: the matches a maker asks for, in order of importance.
//!
//! A [`Match`] is said of pieces, not of copies: every copy of a piece shows the design alike, the left and the right side of the
//! body mirroring each other. So it holds for each copy, and a piece has one phase for each direction of the design.
//!
//! The *phase* of a point of a cut is its place in the repeat as the garment shows it: `sy (y - oy) mod Ry` along and
//! `sx (x - ox) mod Rx` across, where `ox` and `oy` are the offsets of the design, `sy` is -1 for a cut turned by 180 degrees and `sx`
//! is -1 for one whose shape is flipped left to right on the cloth: mirrored or turned, not both. Points are on the seam line.

mod chevron;
mod fault;
mod phases;

pub use fault::MatchFault;
pub use phases::{OriginPhase, Phases, PieceWay, Shown, phases};

use crate::{CentreOn, Design, DesignAxis, Seam, SeamKind};

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
    /// Two points of different pieces show mirror images of one place of the design across, so that bars meet there in a V: `φ` of the one is
    /// `-φ` of the other.
    Chevron {
        /// One point.
        a: PiecePoint,
        /// The other.
        b: PiecePoint,
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

impl MatchRule {
    /// The pieces it speaks of.
    pub fn pieces(&self) -> impl Iterator<Item = &str> {
        let (one, other) = match self {
            Self::Meet { a, b, .. } | Self::Chevron { a, b } => (a, Some(b)),
            Self::Stand { at, .. } | Self::Border { at, .. } => (at, None),
        };
        std::iter::once(one).chain(other).map(|point| point.piece.as_str())
    }
}

/// A named point of a piece.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PiecePoint {
    /// The piece.
    pub piece: String,
    /// The point; one of its named points.
    pub point: String,
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

impl MatchRule {
    /// The points it speaks of: one or two.
    pub fn points(&self) -> impl Iterator<Item = &PiecePoint> {
        let (first, second) = match self {
            Self::Meet { a, b, .. } | Self::Chevron { a, b } => (a, Some(b)),
            Self::Stand { at, .. } | Self::Border { at, .. } => (at, None),
        };
        std::iter::once(first).chain(second)
    }

    /// The two points it asks to meet, in which direction, and how the second shows the design; `None` of a point that stands on the design.
    pub fn meeting(&self) -> Option<(&PiecePoint, &PiecePoint, DesignAxis, Shown)> {
        match self {
            Self::Meet { a, b, axis } => Some((a, b, *axis, Shown::Alike)),
            Self::Chevron { a, b } => Some((a, b, DesignAxis::Across, Shown::Mirrored)),
            Self::Stand { .. } | Self::Border { .. } => None,
        }
    }

    /// Whether it says where something stands across the cloth.
    pub fn is_across(&self) -> bool {
        match self {
            Self::Meet { axis, .. } | Self::Stand { axis, .. } => *axis == DesignAxis::Across,
            Self::Chevron { .. } | Self::Border { .. } => true,
        }
    }

    /// Whether it asks for a set distance from the bars of one direction, so that a layout made without knowing where they stand must be moved to
    /// them. What shows a mirror image does: about a bar.
    pub fn stands_on(&self, direction: DesignAxis) -> bool {
        match self {
            Self::Stand { axis, .. } => *axis == direction,
            Self::Chevron { .. } => direction == DesignAxis::Across,
            Self::Meet { .. } | Self::Border { .. } => false,
        }
    }
}

impl SeamKind {
    /// The directions in which a design is matched at a seam of this kind between two pieces.
    ///
    /// Bars that run across the body meet at an upright seam, bars that run down it at a level one; a pocket lies flat on its
    /// ground and a lapel beside its collar, and both show both.
    fn matched(self) -> &'static [DesignAxis] {
        match self {
            Self::CentreFront | Self::CentreBack | Self::Side | Self::Sleeve | Self::Other => &[DesignAxis::Along],
            Self::Pocket | Self::Lapel => BOTH_WAYS,
            Self::Collar | Self::Cuff | Self::Yoke => &[DesignAxis::Across],
        }
    }
}

const BOTH_WAYS: &[DesignAxis] = &[DesignAxis::Across, DesignAxis::Along];

impl Seam {
    /// The directions in which a design is matched here. Both cuffs of a garment, and both halves of its yoke, are alike in every way.
    fn matched(&self) -> &'static [DesignAxis] {
        match (self.kind, &self.b) {
            (SeamKind::Cuff | SeamKind::Yoke, None) => BOTH_WAYS,
            (kind, _) => kind.matched(),
        }
    }

    /// Whether a good maker matches it without being asked: a cuff or a yoke with its other copy, and neither with what it is sewn to.
    pub fn is_usual(&self) -> bool {
        let alike = matches!(self.kind, SeamKind::Cuff | SeamKind::Yoke) && self.b.is_none();
        self.kind <= SeamKind::Collar || alike
    }

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
            let axes = || self.matched().iter().filter(|&&axis| design.repeat(axis).is_some());
            rules.extend(axes().map(|&axis| MatchRule::Meet { a: a.clone(), b: b.clone(), axis }));
            if self.b.is_some() && matches!(self.kind, SeamKind::CentreFront | SeamKind::CentreBack) {
                // Whatever is sewn between them, left and right are level.
                rules.extend(axes().map(|&axis| MatchRule::Meet { a: a.clone(), b: a.clone(), axis }));
            }
        }
        rules
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Balance, CutEnd, Drop, LeftEdge, Repeat, SeamSide};

    fn plaid() -> Design {
        let repeat = |every: f64| Some(Repeat { every, offset: 0.0, balance: Balance::Even, bars: Vec::new() });
        Design {
            across: repeat(100.0),
            along: repeat(120.0),
            drop: Drop::Straight,
            left_edge: LeftEdge::Measured,
            cut_end: CutEnd::Measured,
            fold_on: CentreOn::default(),
            ground: String::new(),
            border: None,
        }
    }

    fn seam(kind: SeamKind, a: &str, b: Option<&str>) -> Seam {
        let side = |piece: &str| SeamSide {
            piece: piece.into(),
            edges: Vec::new(),
            meets: vec!["point".into()],
            taken_up: Vec::new(),
            centre: None,
            roll: None,
        };
        Seam { name: "seam".into(), kind, a: side(a), b: b.map(side) }
    }

    /// The pieces that meet, and in which direction.
    fn met(seam: &Seam) -> Vec<(String, String, DesignAxis)> {
        let rules = seam.rules(&plaid(), CentreOn::default());
        let meets = rules.into_iter().filter_map(|rule| match rule {
            MatchRule::Meet { a, b, axis } => Some((a.piece, b.piece, axis)),
            _ => None,
        });
        meets.collect()
    }

    /// The left lapel is the mirror image of the right one, bars and all, and shows with the collar what the cloth shows.
    #[test]
    fn lapels_are_alike_and_run_on_into_the_collar() {
        use DesignAxis::{Across, Along};
        let both = |a: &str, b: &str| vec![(a.to_owned(), b.to_owned(), Across), (a.to_owned(), b.to_owned(), Along)];
        let alone = seam(SeamKind::Lapel, "Front facing", None);
        assert!(alone.is_usual());
        assert_eq!(met(&alone), both("Front facing", "Front facing"));
        let gorge = seam(SeamKind::Lapel, "Front facing", Some("Upper collar"));
        assert!(gorge.is_usual());
        assert_eq!(met(&gorge), both("Front facing", "Upper collar"));
        assert!(SeamKind::CentreBack < SeamKind::Lapel && SeamKind::Lapel < SeamKind::Side);
    }

    #[test]
    fn cuffs_and_yokes_are_alike_left_and_right_and_else_matched_only_when_asked() {
        for kind in [SeamKind::Cuff, SeamKind::Yoke] {
            let (alike, sewn) = (seam(kind, "Cuff", None), seam(kind, "Cuff", Some("Sleeve")));
            assert!(alike.is_usual() && !sewn.is_usual(), "{kind:?}");
            assert_eq!(met(&alike).len(), 2, "{kind:?}");
            assert_eq!(met(&sewn), [("Cuff".to_owned(), "Sleeve".to_owned(), DesignAxis::Across)], "{kind:?}");
        }
    }
}
