//! What a pattern and a job are made of, by the words that a fault calls it by.

use std::fmt;

/// What a pattern or job is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Part {
    /// A pattern.
    Pattern,
    /// A piece of it.
    Piece,
    /// A named point of a piece.
    Point,
    /// A view.
    View,
    /// A seam.
    Seam,
    /// A job.
    Job,
    /// A cloth of it, by its role.
    Cloth,
    /// Something to match.
    Match,
    /// What is bought beside the cloth.
    Supply,
}

/// Something of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum PieceMark {
    /// The piece as a whole.
    Whole,
    /// Its grainline.
    Grainline,
    /// A notch, by name; many have none.
    Notch(String),
    /// A named point.
    Point(String),
    /// An edge, by name; many have none.
    Edge(String),
}

/// An end of a grainline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrainEnd {
    /// Towards the hem.
    Low,
    /// Away from it.
    High,
}

impl Part {
    fn name(self) -> &'static str {
        match self {
            Self::Pattern => "pattern",
            Self::Piece => "piece",
            Self::Point => "point",
            Self::View => "view",
            Self::Seam => "seam",
            Self::Job => "job",
            Self::Cloth => "cloth",
            Self::Match => "match",
            Self::Supply => "supply",
        }
    }

    pub(super) fn an(self) -> String {
        format!("a {}", self.name())
    }

    /// Several of them.
    pub(super) fn many(self) -> String {
        match self {
            Self::Match => "matches".to_owned(),
            Self::Supply => "supplies".to_owned(),
            _ => format!("{}s", self.name()),
        }
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Display for PieceMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, name) = match self {
            Self::Whole => return f.write_str("the whole"),
            Self::Grainline => return f.write_str("the grainline"),
            Self::Notch(name) => ("notch", name),
            Self::Point(name) => ("point", name),
            Self::Edge(name) => ("edge", name),
        };
        if name.is_empty() { write!(f, "a {what}") } else { write!(f, "the {what} \"{name}\"") }
    }
}

impl fmt::Display for GrainEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Low => "low",
            Self::High => "high",
        })
    }
}
