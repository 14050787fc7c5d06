//! The units a maker reads lengths in, and lengths written in them: eighths of an inch, eighths of a yard, tenths of a
//! centimetre.
//!
//! Every length the maker sees goes through here, so that it reads the same everywhere: what is bought in yards and their fractions, or
//! in the shop's own step; what is measured in inches and eighths, or centimetres and millimetres. A length to measure is rounded to
//! the nearest mark of a tape; a length of cloth is rounded up, because cloth that is cut short is lost.

/// One inch, mm, exact (international agreement of 1959).
pub const INCH_MM: f64 = 25.4;

/// One yard, mm, exact: 36 inches.
pub const YARD_MM: f64 = 914.4;

/// How far above a mark of the tape a length may be and still count as on it, in marks. It is rounding noise, far below
/// a thread.
const NOISE: f64 = 1e-6;

/// How much a length of cloth may be above a mark of the tape or a step of the shop and still count as on it, mm: what drawing a curve by
/// straight lines adds, and no tape tells. Nobody buys a step more of cloth for it.
pub const TAPE_TOLERANCE: f64 = 0.05;

/// Units of everything shown to the maker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Inches and yards, in fractions.
    Inches,
    /// Centimetres.
    Centimetres,
}

/// Which mark of the tape a length goes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// The nearest; halves go up.
    Nearest,
    /// The next one at or above, so that what is named is never too short.
    Up,
    /// The next one at or below, for what must not be named too long: a proven bound.
    Down,
}

impl Rounding {
    /// A number of marks, as a whole number of them.
    fn marks(self, exact: f64) -> i64 {
        match self {
            Self::Nearest => exact.round() as i64,
            Self::Up => (exact - NOISE).ceil() as i64,
            Self::Down => (exact + NOISE).floor() as i64,
        }
    }
}

/// A length to measure, to the nearest 1/8 in or millimetre: "5/8 in", "14 1/8 in", "118.5 cm".
///
/// ```
/// use ellwand_garment::{Units, format_length};
///
/// assert_eq!(format_length(15.875, Units::Inches), "5/8 in");
/// assert_eq!(format_length(1185.0, Units::Centimetres), "118.5 cm");
/// ```
pub fn format_length(mm: f64, units: Units) -> String {
    write_length(mm, units, Rounding::Nearest)
}

/// A length measured on cloth that must not be named too short: the next 1/8 in or millimetre at or above it, but for [`TAPE_TOLERANCE`].
///
/// ```
/// use ellwand_garment::{Units, format_length_up};
///
/// assert_eq!(format_length_up(2345.6, Units::Inches), "92 3/8 in");
/// assert_eq!(format_length_up(2345.6, Units::Centimetres), "234.6 cm");
/// ```
pub fn format_length_up(mm: f64, units: Units) -> String {
    write_length(mm - TAPE_TOLERANCE.min(mm.abs()), units, Rounding::Up)
}

/// A length of cloth as it is bought, `step` mm being what the shop cuts multiples of: yards and their fractions, or centimetres. A shop
/// is asked in its own measure, so a step that is no fraction of a yard is told in inches or centimetres, and one that is no whole
/// number of millimetres in yards, whatever the maker's units.
///
/// ```
/// use ellwand_garment::{Units, YARD_MM, format_bought};
///
/// assert_eq!(format_bought(2.75 * YARD_MM, YARD_MM / 8.0, Units::Inches), "2 3/4 yd");
/// assert_eq!(format_bought(11.0 * YARD_MM / 6.0, YARD_MM / 6.0, Units::Inches), "1 5/6 yd");
/// assert_eq!(format_bought(1500.0, 250.0, Units::Inches), "150 cm");
/// assert_eq!(format_bought(1.125 * YARD_MM, YARD_MM / 8.0, Units::Centimetres), "1 1/8 yd");
/// ```
pub fn format_bought(mm: f64, step: f64, units: Units) -> String {
    let steps = (mm / step).round();
    let is_whole = |count: f64| (count - count.round()).abs() < NOISE;
    let in_yards = || {
        // A yard in so many parts, of which the step is a whole number.
        let parts = (1..=16_u32).find(|&parts| is_whole(step / YARD_MM * f64::from(parts)))?;
        let of_step = (step / YARD_MM * f64::from(parts)).round();
        Some(format!("{} yd", fraction((steps * of_step) as i64, parts)))
    };
    let in_centimetres = || is_whole(step).then(|| format_length_up(mm, Units::Centimetres));
    let in_inches = || is_whole(step / INCH_MM * 8.0).then(|| format_length_up(mm, Units::Inches));
    let said = match units {
        Units::Inches => in_yards().or_else(in_inches).or_else(in_centimetres),
        Units::Centimetres => in_centimetres().or_else(in_yards).or_else(in_inches),
    };
    said.unwrap_or_else(|| format_length_up(mm, units))
}

/// A length of cloth that somebody has, or that is sold by the eighth of a yard or the centimetre: "2 3/4 yd" where it is a whole number
/// of eighths or thirds of a yard, else as it is measured, never less than it is.
///
/// ```
/// use ellwand_garment::{Units, format_yardage};
///
/// assert_eq!(format_yardage(2.75 * 914.4, Units::Inches), "2 3/4 yd");
/// assert_eq!(format_yardage(2345.6, Units::Inches), "92 3/8 in");
/// assert_eq!(format_yardage(2345.6, Units::Centimetres), "234.6 cm");
/// ```
pub fn format_yardage(mm: f64, units: Units) -> String {
    if units == Units::Centimetres {
        return format_length_up(mm, units);
    }
    for parts in [8, 3] {
        let exact = mm / YARD_MM * f64::from(parts);
        if exact >= 1.0 - NOISE && (exact - exact.round()).abs() < NOISE {
            return format!("{} yd", fraction(exact.round() as i64, parts));
        }
    }
    format_length_up(mm, units)
}

/// The distance between two marks of a tape, mm: an eighth of an inch, or a millimetre.
fn mark_mm(units: Units) -> f64 {
    match units {
        Units::Inches => INCH_MM / 8.0,
        Units::Centimetres => 1.0,
    }
}

/// The mark of the tape that `mm` is rounded to, mm: the length that [`write_length`] writes. Sums and differences of printed lengths are
/// taken between marks, so that they add up as printed.
///
/// ```
/// use ellwand_garment::{Rounding, Units, on_the_tape};
///
/// assert_eq!(on_the_tape(41.4, Units::Centimetres, Rounding::Nearest), 41.0);
/// assert_eq!(on_the_tape(25.0, Units::Inches, Rounding::Up), 25.4);
/// ```
pub fn on_the_tape(mm: f64, units: Units, rounding: Rounding) -> f64 {
    rounding.marks(mm / mark_mm(units)) as f64 * mark_mm(units)
}

/// By how much a length is more, or below zero less, as the tape shows it; no difference has no sign.
///
/// ```
/// use ellwand_garment::{Units, format_difference};
///
/// assert_eq!(format_difference(12.0, Units::Centimetres), "+1.2 cm");
/// assert_eq!(format_difference(-19.0, Units::Inches), "-3/4 in");
/// assert_eq!(format_difference(-0.4, Units::Centimetres), "0 cm");
/// ```
pub fn format_difference(mm: f64, units: Units) -> String {
    let sign = match on_the_tape(mm, units, Rounding::Nearest) {
        0.0 => "",
        mark if mark < 0.0 => "-",
        _ => "+",
    };
    format!("{sign}{}", format_length(mm.abs(), units))
}

/// A length in inches and eighths or centimetres and tenths, rounded as asked.
pub fn write_length(mm: f64, units: Units, rounding: Rounding) -> String {
    let marks = rounding.marks(mm / mark_mm(units));
    match units {
        Units::Inches => format!("{} in", fraction(marks, 8)),
        Units::Centimetres => {
            let tenths = marks;
            let sign = if tenths < 0 { "-" } else { "" };
            match (tenths.unsigned_abs() / 10, tenths.unsigned_abs() % 10) {
                (whole, 0) => format!("{sign}{whole} cm"),
                (whole, rest) => format!("{sign}{whole}.{rest} cm"),
            }
        }
    }
}

/// `count` parts of a whole of `parts`, in lowest terms: 22 of 8 is "2 3/4".
pub fn fraction(count: i64, parts: u32) -> String {
    let (sign, count, parts) = (if count < 0 { "-" } else { "" }, count.unsigned_abs(), u64::from(parts));
    let (whole, top) = (count / parts, count % parts);
    let common = greatest_common_divisor(top, parts);
    match (whole, top / common) {
        (_, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{}", parts / common),
        (_, top) => format!("{sign}{whole} {top}/{}", parts / common),
    }
}

fn greatest_common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a.max(1) } else { greatest_common_divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Yard fractions as a general sewing reference prints them: inches to each eighth and third.
    #[test]
    fn yard_fractions_are_the_published_inches() {
        let table = [
            (4.5, "1/8 yd"),
            (9.0, "1/4 yd"),
            (12.0, "1/3 yd"),
            (13.5, "3/8 yd"),
            (18.0, "1/2 yd"),
            (22.5, "5/8 yd"),
            (24.0, "2/3 yd"),
            (27.0, "3/4 yd"),
            (31.5, "7/8 yd"),
            (36.0, "1 yd"),
            (80.0, "80 in"),
            (81.0, "2 1/4 yd"),
        ];
        for (inches, text) in table {
            assert_eq!(format_yardage(inches * INCH_MM, Units::Inches), text);
        }
    }

    #[test]
    fn a_length_to_measure_goes_to_the_nearest_mark() {
        for (inches, text) in [
            (0.0, "0 in"),
            (0.06, "0 in"),
            (0.07, "1/8 in"),
            (14.13, "14 1/8 in"),
            (2.74, "2 3/4 in"),
            (-0.5, "-1/2 in"),
        ] {
            assert_eq!(format_length(inches * INCH_MM, Units::Inches), text);
        }
        for (mm, text) in [(0.0, "0 cm"), (1.4, "0.1 cm"), (360.0, "36 cm"), (359.5, "36 cm"), (-4.0, "-0.4 cm")] {
            assert_eq!(format_length(mm, Units::Centimetres), text);
        }
    }

    #[test]
    fn a_length_of_cloth_goes_up_but_not_for_what_no_tape_tells() {
        assert_eq!(format_yardage(1000.06, Units::Centimetres), "100.1 cm");
        assert_eq!(format_yardage(1000.04, Units::Centimetres), "100 cm");
        assert_eq!(format_yardage(8.0 * YARD_MM + 1e-6, Units::Inches), "8 yd");
        assert_eq!(format_yardage(8.0 * YARD_MM + 0.1, Units::Inches), "288 1/8 in");
        assert_eq!(format_yardage(8.0 * YARD_MM - 0.1, Units::Inches), "288 in");
        assert_eq!(format_yardage(20.01 * INCH_MM, Units::Inches), "20 1/8 in");
        assert_eq!(format_yardage(0.0, Units::Inches), "0 in");
    }

    #[test]
    fn cloth_is_told_in_the_measure_of_the_maker() {
        assert_eq!(format_yardage(YARD_MM, Units::Centimetres), "91.5 cm");
        assert_eq!(format_yardage(-YARD_MM, Units::Inches), "-36 in");
        assert_eq!(format_yardage(YARD_MM / 8.0, Units::Inches), "1/8 yd");
    }

    #[test]
    fn a_shop_is_asked_in_its_own_measure() {
        // Steps of 2 1/2 in, which are no whole millimetres; of 5 in, which are; of 1/16 yd; of 4 in, a ninth of a yard.
        assert_eq!(format_bought(127.0, 63.5, Units::Centimetres), "5 in");
        assert_eq!(format_bought(63.5, 63.5, Units::Centimetres), "2 1/2 in");
        assert_eq!(format_bought(127.0, 127.0, Units::Inches), "5 in");
        assert_eq!(format_bought(127.0, 127.0, Units::Centimetres), "12.7 cm");
        assert_eq!(format_bought(3.0 * YARD_MM / 16.0, YARD_MM / 16.0, Units::Inches), "3/16 yd");
        assert_eq!(format_bought(5.0 * YARD_MM / 9.0, YARD_MM / 9.0, Units::Centimetres), "5/9 yd");
        // No measure of any shop.
        assert_eq!(format_bought(3.0 * 77.77, 77.77, Units::Inches), "9 1/4 in");
    }

    #[test]
    fn what_is_rounded_down_is_never_too_long_and_noise_is_no_mark_less() {
        let down = |mm: f64| write_length(mm, Units::Centimetres, Rounding::Down);
        assert_eq!([down(1000.9), down(1000.0 - 1e-9), down(999.9)], ["100 cm", "100 cm", "99.9 cm"]);
    }

    #[test]
    fn fractions_are_in_lowest_terms() {
        for (count, parts, text) in
            [(22, 8, "2 3/4"), (16, 8, "2"), (5, 8, "5/8"), (2, 3, "2/3"), (0, 8, "0"), (-9, 8, "-1 1/8")]
        {
            assert_eq!(fraction(count, parts), text);
        }
    }
}
