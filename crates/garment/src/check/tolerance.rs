//! How exactly a layout is judged.

/// The slack allowed for rounding, and for nothing else: a hundredth of a chalk line, a thousand times the error of
/// `f64` arithmetic on a roll of cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// How far a point may be from where it should be, mm.
    pub place: f64,
    /// How far a grainline may point off its direction beyond what the cloth allows, degrees. Over a grainline of a
    /// metre this is 0.002 mm.
    pub angle_deg: f64,
}

impl Tolerance {
    /// The one layouts are judged by before they are written.
    pub const RECORD: Self = Self { place: 1e-3, angle_deg: 1e-4 };
}
