//! A length that says its unit where it is written down.

use crate::{INCH_MM, YARD_MM};

/// A length, made from a number and its unit. Inside the workspace lengths are plain millimetres; this type stands where a caller hands
/// one in, so that 45 cannot mean inches to one and millimetres to the other.
///
/// Whether a length is sound (a finite number, not below zero) is told by what takes it.
///
/// ```
/// use ellwand_garment::Length;
///
/// assert_eq!(Length::inches(45.0).in_mm(), 1143.0);
/// assert_eq!(Length::yards(0.125), Length::inches(4.5));
/// assert_eq!(Length::cm(150.0), Length::mm(1500.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length {
    mm: f64,
}

impl Length {
    /// No length.
    pub const ZERO: Self = Self { mm: 0.0 };

    /// So many millimetres.
    pub const fn mm(mm: f64) -> Self {
        Self { mm }
    }

    /// So many centimetres.
    pub const fn cm(cm: f64) -> Self {
        Self { mm: cm * 10.0 }
    }

    /// So many inches of 25.4 mm.
    pub const fn inches(inches: f64) -> Self {
        Self { mm: inches * INCH_MM }
    }

    /// So many yards of 914.4 mm.
    pub const fn yards(yards: f64) -> Self {
        Self { mm: yards * YARD_MM }
    }

    /// The length in millimetres.
    pub const fn in_mm(self) -> f64 {
        self.mm
    }
}
