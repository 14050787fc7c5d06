//! Lengths as they read on a tape. Sums and differences of printed lengths are taken between marks, so that they add up as printed.

use ellwand_garment::{INCH_MM, Rounding, Units};

/// How far above or below a mark, in marks, a length still counts as on it: rounding noise.
const NOISE: f64 = 1e-6;

/// The mark of the tape that `mm` is rounded to, mm: eighths of an inch or millimetres, as `write_length` of `ellwand_garment` writes them.
pub(crate) fn on_the_tape(mm: f64, units: Units, rounding: Rounding) -> f64 {
    let mark = match units {
        Units::Inches => INCH_MM / 8.0,
        Units::Centimetres => 1.0,
    };
    let marks = mm / mark;
    let whole = match rounding {
        Rounding::Nearest => marks.round(),
        Rounding::Up => (marks - NOISE).ceil(),
        Rounding::Down => (marks + NOISE).floor(),
    };
    whole * mark
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::write_length;

    #[test]
    fn a_mark_is_the_length_that_is_written() {
        for units in [Units::Inches, Units::Centimetres] {
            for rounding in [Rounding::Nearest, Rounding::Up, Rounding::Down] {
                for mm in [0.0, 0.4, 1.0, 1.6, 3.175, 25.4, 141.2, 326.49, 1000.0 / 3.0, -17.6] {
                    let on_mark = on_the_tape(mm, units, rounding);
                    assert_eq!(
                        write_length(on_mark, units, Rounding::Nearest),
                        write_length(mm, units, rounding),
                        "{mm}"
                    );
                    assert!((on_mark - mm).abs() <= 3.175 + 1e-9);
                }
            }
        }
    }
}
