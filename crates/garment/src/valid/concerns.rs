//! What a fault is about: the piece or the cloth to put right.

use super::InputFault;

impl InputFault {
    /// The piece that is wrong; `None` where it is the pattern, a view, a seam or the job.
    pub fn piece(&self) -> Option<&str> {
        match self {
            Self::NoOutline { piece }
            | Self::Outline { piece, .. }
            | Self::HalfOffFold { piece, .. }
            | Self::NotFinite { piece, .. }
            | Self::NoGrainline { piece }
            | Self::GrainlineWithoutLength { piece }
            | Self::GrainlineNotUpright { piece, .. }
            | Self::GrainlineOutside { piece, .. }
            | Self::NotSymmetric { piece, .. }
            | Self::NoFold { piece, .. }
            | Self::NotchOffLine { piece, .. }
            | Self::NotchDirection { piece, .. }
            | Self::NeverCut { piece }
            | Self::NoRole { piece }
            | Self::RoleTwice { piece, .. }
            | Self::CountZero { piece, .. }
            | Self::OddPair { piece, .. }
            | Self::BiasOnFold { piece, .. } => Some(piece),
            _ => None,
        }
    }

    /// The role of the cloth that is wrong; `None` where no cloth of the job is.
    pub fn role(&self) -> Option<&str> {
        match self {
            Self::SelvagesTooWide { role, .. }
            | Self::UnusableRemnant { role, .. }
            | Self::PriceOutOfRange { role, .. }
            | Self::LimitOutOfRange { role, .. }
            | Self::LimitWithoutPrice { role }
            | Self::BiasOnFold { role, .. }
            | Self::EmptyDesign { role }
            | Self::DropWithoutRepeats { role }
            | Self::BorderTooWide { role, .. }
            | Self::NotAColour { role, .. }
            | Self::MatchOnPlainCloth { role, .. }
            | Self::MatchWithout { role, .. }
            | Self::NoRepeat { role, .. }
            | Self::NotCrosswise { role, .. }
            | Self::NoBorder { role, .. } => Some(role),
            _ => None,
        }
    }

    /// The match on that cloth that is wrong; `None` where none is.
    pub fn matching(&self) -> Option<&str> {
        match self {
            Self::MatchOnPlainCloth { name, .. }
            | Self::MatchWithout { name, .. }
            | Self::NoRepeat { name, .. }
            | Self::NotCrosswise { name, .. }
            | Self::NoBorder { name, .. } => Some(name),
            _ => None,
        }
    }
}
