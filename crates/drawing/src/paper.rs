//! The sheet of paper a drawing must fit on.

/// Narrow side of the area that prints on both papers, mm.
///
/// A4 is 210 × 297 mm (ISO 216) and US Letter 8 1/2 × 11 in, 215.9 × 279.4 mm (ANSI/ASME Y14.1); 210 × 279.4 mm is on both.
/// Of that, 10 mm stay clear on every side: what home printers can reach, common practice, no source.
pub(crate) const SHORT_SIDE: f64 = 190.0;

/// Long side of the area that prints on both papers, mm; see [`SHORT_SIDE`].
pub(crate) const LONG_SIDE: f64 = 259.0;

/// One typographic point in mm: 1/72 in.
pub(crate) const POINT: f64 = 25.4 / 72.0;

/// The smallest text on any paper, in points.
pub(crate) const SMALLEST_TEXT: f64 = 6.0;

/// The smallest text on a sheet to cut from, in points: it is read at arm's length, with the shears in hand.
pub(crate) const ARMS_LENGTH: f64 = 8.0;
