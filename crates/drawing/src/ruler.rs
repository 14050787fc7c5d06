//! Tape-measure marks along an edge of the cloth.

use ellwand_garment::Units;

/// One mark of a ruler.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RulerMark {
    /// Distance from the ruler's start, cloth mm.
    pub(crate) at: f64,
    /// Length of the mark, paper mm.
    pub(crate) size: f64,
    /// What it says, when it says something.
    pub(crate) text: Option<String>,
}

/// What a ruler measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Direction {
    /// Along the cloth: inches, numbered by quarters of a yard, or centimetres.
    Along,
    /// Across it: inches, or centimetres.
    Across,
}

/// Least distance of two marks on paper, mm.
const CLOSEST_MARKS: f64 = 1.1;
/// Least distance of two numbers on paper, mm: the width of "1000 cm" and a little air.
const CLOSEST_NUMBERS: f64 = 12.5;

/// The marks of a ruler `length` mm of cloth long that starts `from` mm past its zero, at `scale` mm of cloth to one of
/// paper.
pub(crate) fn marks(from: f64, length: f64, scale: f64, units: Units, direction: Direction) -> Vec<RulerMark> {
    let unit = match units {
        Units::Inches => 25.4,
        Units::Centimetres => 10.0,
    };
    // Steps in inches or centimetres; every step of a list divides the numbered steps that can go with it.
    let (fine, numbered): (&[i64], &[i64]) = match (units, direction) {
        (Units::Inches, Direction::Along) => (&[1, 3, 9, 18, 36], &[9, 18, 36, 72, 180]),
        (Units::Inches, Direction::Across) => (&[1, 2, 3, 6, 12], &[6, 12, 24, 36, 72]),
        (Units::Centimetres, _) => (&[1, 5, 10, 50, 100], &[10, 20, 50, 100, 200, 500]),
    };
    let pick = |steps: &[i64], least: f64| {
        let fits = |&&s: &&i64| s as f64 * unit / scale >= least;
        steps.iter().find(fits).or(steps.last()).copied().unwrap_or(1)
    };
    let step = pick(fine, CLOSEST_MARKS);
    let label = pick(numbered, CLOSEST_NUMBERS);
    let middle = match units {
        Units::Inches => (label / 3).max(step),
        Units::Centimetres => 10,
    };
    let count = |mm: f64| mm / unit / step as f64;
    let first = (count(from) - 1e-9).ceil() as i64;
    let last = (count(from + length) + 1e-9).floor() as i64;
    (first..=last)
        .map(|i| i * step)
        .map(|n| {
            let (size, text) = if n % label == 0 {
                (2.4, Some(number(n, units)))
            } else if n % middle == 0 {
                (1.6, None)
            } else {
                (0.9, None)
            };
            RulerMark { at: n as f64 * unit - from, size, text }
        })
        .collect()
}

fn number(n: i64, units: Units) -> String {
    match units {
        _ if n == 0 => "0".to_owned(),
        Units::Inches => format!("{n} in"),
        Units::Centimetres => format!("{n} cm"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(length: f64, scale: f64, units: Units, direction: Direction) -> Vec<(String, f64)> {
        marks(0.0, length, scale, units, direction).into_iter().filter_map(|m| m.text.map(|t| (t, m.at))).collect()
    }

    #[test]
    fn along_the_cloth_every_quarter_of_a_yard_is_numbered() {
        let found = numbers(950.0, 11.0, Units::Inches, Direction::Along);
        let expected = [("0", 0.0), ("9 in", 228.6), ("18 in", 457.2), ("27 in", 685.8), ("36 in", 914.4)];
        assert_eq!(found.len(), expected.len());
        for ((text, at), (want, mm)) in found.iter().zip(expected) {
            assert!(text == want && (at - mm).abs() < 1e-9);
        }
    }

    #[test]
    fn a_ruler_can_start_later() {
        let first = &marks(457.2, 300.0, 11.0, Units::Inches, Direction::Along)[0];
        assert_eq!((first.at, first.text.as_deref()), (0.0, Some("18 in")));
    }

    #[test]
    fn numbers_keep_their_distance_at_any_scale() {
        for scale in [1.0, 5.0, 11.0, 40.0] {
            for units in [Units::Inches, Units::Centimetres] {
                for direction in [Direction::Along, Direction::Across] {
                    let found = numbers(3000.0, scale, units, direction);
                    for pair in found.windows(2) {
                        assert!((pair[1].1 - pair[0].1) / scale >= CLOSEST_NUMBERS);
                    }
                }
            }
        }
    }
}
