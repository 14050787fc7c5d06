//! Why matches cannot be kept.

use super::PiecePoint;
use crate::DesignAxis;

/// Why matches cannot be kept, whatever the layout. Lengths are mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MatchFault {
    /// Several matches ask for different things.
    #[error("the matches {} contradict each other: {} the cloth they disagree by {by:.1} mm", listed(.names), .axis.name())]
    Contradiction {
        /// Their names, each once.
        names: Vec<String>,
        /// The direction.
        axis: DesignAxis,
        /// By how much, the shorter way round the repeat.
        by: f64,
    },
    /// Something is asked for of a piece at a border that the border says already.
    #[error(
        "\"{}\" says where \"{piece}\" lies across the cloth, but it stands at the border, which says so already: \"{}\"",
        .names[1], .names[0]
    )]
    BorderSays {
        /// The match at the border, and the other.
        names: [String; 2],
        /// The piece.
        piece: String,
    },
    /// Pieces that show both the same and its mirror image, which is so about a bar and about a gap.
    #[error(
        "\"{name}\" closes a round of seams that shows \"{}\" both as it is and mirrored, which is so about a bar and about a gap: it \
         is not said which",
        .at.piece
    )]
    AxisOpen {
        /// The match that closes the round.
        name: String,
        /// A point of it.
        at: PiecePoint,
        /// Both phases that the point may have, mm.
        phases: [f64; 2],
    },
    /// A piece on the bias is to meet one on the straight grain.
    #[error(
        "\"{name}\" matches \"{bias}\", which lies on the bias, with \"{straight}\", which does not: their bars run different ways"
    )]
    BiasMeetsStraight {
        /// The match.
        name: String,
        /// The piece on the bias.
        bias: String,
        /// The other.
        straight: String,
    },
    /// Bars that are to meet in points on an uneven design.
    #[error(
        "\"{name}\" asks for chevrons of \"{piece}\", but an uneven design has none: it is not its own mirror image"
    )]
    UnevenChevron {
        /// The match.
        name: String,
        /// The piece.
        piece: String,
    },
    /// A seam for chevrons that does not say enough.
    #[error(
        "\"{name}\" is to meet in points, but the pattern does not say which of its edges are sewn and where they meet"
    )]
    ChevronUnknown {
        /// The match.
        name: String,
    },
    /// A seam for chevrons along the grain.
    #[error("\"{name}\" is to meet in points, but its edges run beside the bars and cross none")]
    ChevronUpright {
        /// The match.
        name: String,
    },
    /// A seam for chevrons whose edges lean unlike.
    #[error(
        "\"{name}\" is to meet in points, but \"{}\" and \"{}\" do not lean alike there: bars that meet at one place of the seam are \
         {by:.0} mm apart at another",
        .pieces[0], .pieces[1]
    )]
    ChevronUnlike {
        /// The match.
        name: String,
        /// The pieces on both sides.
        pieces: [String; 2],
        /// How far bars drift apart, mm.
        by: f64,
    },
    /// Pieces that cannot show the same hand.
    #[error(
        "\"{name}\" matches \"{pair}\", cut as left and right, with \"{same}\", of which every copy is cut as drawn"
    )]
    HandsDiffer {
        /// The match.
        name: String,
        /// The piece cut as a pair.
        pair: String,
        /// The piece of one hand.
        same: String,
    },
}

fn listed(names: &[String]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

impl MatchFault {
    /// The matches at fault.
    pub fn names(&self) -> &[String] {
        match self {
            Self::Contradiction { names, .. } => names,
            Self::BorderSays { names, .. } => names,
            Self::BiasMeetsStraight { name, .. }
            | Self::UnevenChevron { name, .. }
            | Self::AxisOpen { name, .. }
            | Self::ChevronUnknown { name }
            | Self::ChevronUpright { name }
            | Self::ChevronUnlike { name, .. }
            | Self::HandsDiffer { name, .. } => std::slice::from_ref(name),
        }
    }
}
