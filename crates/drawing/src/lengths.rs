//! Lengths as the maker reads them.

use ellwand_garment::Units;

const INCH: f64 = 25.4;

/// A length to the nearest eighth of an inch or millimetre: "14 1/8 in", "35.9 cm".
pub(crate) fn short(mm: f64, units: Units) -> String {
    match units {
        Units::Inches => format!("{} in", eighths(mm)),
        Units::Centimetres => format!("{} cm", tenths(mm)),
    }
}

/// A length along the cloth: "2 yd 14 1/8 in", "218.4 cm".
pub(crate) fn along(mm: f64, units: Units) -> String {
    match units {
        Units::Inches => {
            let all = (mm / INCH * 8.0).round() as i64;
            let (yards, rest) = (all / 288, all % 288);
            match (yards, rest) {
                (0, _) => short(mm, units),
                (_, 0) => format!("{yards} yd"),
                _ => format!("{yards} yd {} in", eighths(rest as f64 * INCH / 8.0)),
            }
        }
        Units::Centimetres => short(mm, units),
    }
}

/// Inches with eighths: "14", "5/8", "2 3/4".
fn eighths(mm: f64) -> String {
    let all = (mm / INCH * 8.0).round() as i64;
    fraction(all, 8)
}

/// `count` parts of a whole of `parts`, in lowest terms: 22 of 8 is "2 3/4".
pub(crate) fn fraction(count: i64, parts: i64) -> String {
    let (whole, mut top) = (count / parts, count % parts);
    let mut bottom = parts;
    while top != 0 && top % 2 == 0 && bottom % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (whole, top) {
        (_, 0) => format!("{whole}"),
        (0, _) => format!("{top}/{bottom}"),
        _ => format!("{whole} {top}/{bottom}"),
    }
}

fn tenths(mm: f64) -> String {
    let text = format!("{:.1}", mm / 10.0);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_a_tape() {
        assert_eq!(short(25.4 * 14.125, Units::Inches), "14 1/8 in");
        assert_eq!(short(359.0, Units::Centimetres), "35.9 cm");
        assert_eq!(short(360.0, Units::Centimetres), "36 cm");
        assert_eq!(along(25.4 * 86.5, Units::Inches), "2 yd 14 1/2 in");
        assert_eq!(along(25.4 * 72.01, Units::Inches), "2 yd");
        assert_eq!(along(25.4 * 30.0, Units::Inches), "30 in");
    }
}
