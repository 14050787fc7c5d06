//! The units a maker reads lengths in.

/// Units of everything shown to the maker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Inches and yards, in fractions.
    Inches,
    /// Centimetres and metres.
    Centimetres,
}
