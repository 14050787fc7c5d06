//! The ways of laying cloth that are taught and printed on guide sheets, and which of them a job allows.
//!
//! A lengthwise fold, a crosswise one, a partial one and a double one are the four that schools teach; single and folded parts may follow one
//! another along one length.

use crate::{Fabric, LeftEdge, Nap};

/// A way of laying cloth while it is cut. Where exactly it is folded then is a matter of the layout: its [`Lay`](crate::Lay).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// One layer, right side up, full width.
    Open,
    /// Folded lengthwise down the middle, selvages together; every pair and every piece on the fold is cut so.
    CentreFold,
    /// One selvage folded over as deep as it pays, the rest single.
    OffCentre,
    /// Both selvages folded to the middle: two folds.
    ToTheMiddle,
    /// Folded across, cut ends together, so that the layers run opposite ways.
    Crosswise,
    /// Cut across, and the far half turned over sideways like a page onto the near one, so that both run the same way: what schools call turned
    /// end for end, as the upper layer of a crosswise fold is once the fold is cut.
    CutAndTurned,
    /// A part folded down the middle, the rest single.
    PartFolded,
}

impl Way {
    /// All of them, the plainest first.
    pub const ALL: [Self; 7] = [
        Self::Open,
        Self::CentreFold,
        Self::OffCentre,
        Self::ToTheMiddle,
        Self::PartFolded,
        Self::Crosswise,
        Self::CutAndTurned,
    ];

    /// Its name in jobs, records and tables: "open", "centre fold", "off centre", "to the middle", "crosswise", "cut and turned", "part folded".
    pub fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::CentreFold => "centre fold",
            Self::OffCentre => "off centre",
            Self::ToTheMiddle => "to the middle",
            Self::Crosswise => "crosswise",
            Self::CutAndTurned => "cut and turned",
            Self::PartFolded => "part folded",
        }
    }

    /// The way of that name.
    ///
    /// ```
    /// use ellwand_garment::Way;
    ///
    /// assert_eq!(Way::named("off centre"), Some(Way::OffCentre));
    /// assert!(Way::ALL.into_iter().all(|way| Way::named(way.name()) == Some(way)));
    /// ```
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.name() == name)
    }

    /// Why a cloth is not laid so, whatever is cut from it; `None` when it may be.
    ///
    /// The second layer of a crosswise fold runs the other way, so that fold is never for nap or a one-way design (school layouts); cut and turned is
    /// for both. Where a flaw comes to lie under another stretch of the cloth, and how a design meets there, depends on where it is
    /// folded or ends, so cloth with flaws, remnants of any shape and matched designs are laid along the cloth only.
    pub fn refusal(self, fabric: &Fabric) -> Option<WayRefusal> {
        let (cloth, is_matched) = (&fabric.cloth, !fabric.matching.matches.is_empty());
        let unmeasured = || cloth.design.as_ref().is_some_and(|design| design.left_edge == LeftEdge::OnTheRoll);
        match self {
            Self::Open | Self::CentreFold => None,
            Self::OffCentre => (is_matched && unmeasured()).then_some(WayRefusal::DesignNotMeasured),
            _ if is_matched => Some(WayRefusal::Matched),
            Self::ToTheMiddle => None,
            Self::Crosswise if cloth.nap == Nap::With => Some(WayRefusal::Nap),
            Self::Crosswise if cloth.is_one_way() => Some(WayRefusal::OneWayDesign),
            Self::Crosswise | Self::CutAndTurned | Self::PartFolded if !cloth.flaws.is_empty() => {
                Some(WayRefusal::Flaws)
            }
            Self::Crosswise | Self::CutAndTurned | Self::PartFolded if cloth.remnant.is_some() => {
                Some(WayRefusal::Remnant)
            }
            Self::Crosswise | Self::CutAndTurned | Self::PartFolded => None,
        }
    }
}

/// Why cloth is not laid in some way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum WayRefusal {
    /// A crosswise fold turns the nap of one layer round.
    #[error("the nap of the second layer would run the other way")]
    Nap,
    /// A crosswise fold turns a one-way design upside down.
    #[error("the design of the second layer would stand on its head")]
    OneWayDesign,
    /// Matched designs are laid open or on one fold along the cloth.
    #[error("where a design is matched the cloth lies open or on one fold along its length")]
    Matched,
    /// The bars on which a partial fold would lie are in an unknown place.
    #[error("nobody has measured where the bars stand on which it would be folded")]
    DesignNotMeasured,
    /// A flaw under another layer.
    #[error("which pieces a flaw or an old crease spoils would depend on where the cloth is folded or cut across")]
    Flaws,
    /// A remnant has its own length.
    #[error("a remnant is laid open or with a lengthwise fold")]
    Remnant,
}

/// Which ways of laying a cloth may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WayChoice {
    /// This one.
    Only(Way),
    /// Open or folded down the middle, whichever takes less cloth.
    Either,
    /// All that the cloth allows: of those that buy least the one that is easiest to cut.
    Any,
}

impl WayChoice {
    /// The ways that are planned first, in that order.
    pub fn ways(self) -> &'static [Way] {
        match self {
            Self::Only(way) => match way {
                Way::Open => &[Way::Open],
                Way::CentreFold => &[Way::CentreFold],
                Way::OffCentre => &[Way::OffCentre],
                Way::ToTheMiddle => &[Way::ToTheMiddle],
                Way::Crosswise => &[Way::Crosswise],
                Way::CutAndTurned => &[Way::CutAndTurned],
                Way::PartFolded => &[Way::PartFolded],
            },
            Self::Either | Self::Any => &[Way::CentreFold, Way::Open],
        }
    }

    /// The ways that are tried after these, so far as the cloth allows them: each cuts some pieces double that fold down the middle or open layer
    /// would not.
    pub fn more_ways(self) -> &'static [Way] {
        match self {
            Self::Only(_) | Self::Either => &[],
            Self::Any => &[Way::OffCentre, Way::ToTheMiddle, Way::PartFolded, Way::Crosswise, Way::CutAndTurned],
        }
    }

    /// Whether what is cut double or on the fold must be cut on a fold down the middle, there being no other way.
    pub fn is_centre_fold(self) -> bool {
        self == Self::Only(Way::CentreFold)
    }
}
