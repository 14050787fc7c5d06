//! What becomes of the rectangles of a piece that is joined from several, or that gives bias strips.

use ellwand_geometry::{Bounds, Point, point};

use crate::{BiasStrips, Units, format_length_up};

/// What the rectangles that are cut of a piece are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Strips {
    /// So many of them are one strip, joined end to end.
    EndToEnd {
        /// How many make one.
        strips: u32,
    },
    /// So many widths of the cloth are one whole, joined side by side.
    SideBySide {
        /// How many make one.
        widths: u32,
    },
    /// Each is a rectangle from which bias strips are cut, which are joined to one.
    Bias {
        /// How many strips come out of each.
        strips: u32,
        /// How wide a strip is cut, mm.
        wide: f64,
        /// What each loses to a join at either end, square to that end, mm.
        join: f64,
    },
}

impl Strips {
    /// "4 bias strips 2 in wide, 3 joins", "3 strips, joined end to end": what a person does with what is cut; nothing where nothing is joined.
    ///
    /// ```
    /// use ellwand_garment::{Strips, Units};
    ///
    /// let strips = Strips::Bias { strips: 4, wide: 50.8, join: 6.35 };
    /// assert_eq!(strips.words(Units::Inches).unwrap(), "4 bias strips 2 in wide, 3 joins");
    /// let ruffle = Strips::EndToEnd { strips: 3 };
    /// assert_eq!(ruffle.words(Units::Inches).unwrap(), "3 strips, joined end to end");
    /// ```
    pub fn words(self, units: Units) -> Option<String> {
        match self {
            Self::EndToEnd { strips: 0 | 1 } | Self::SideBySide { widths: 0 | 1 } => None,
            Self::EndToEnd { strips } => Some(format!("{strips} strips, joined end to end")),
            Self::SideBySide { widths } => Some(format!("{widths} widths, joined side by side")),
            Self::Bias { strips, wide, .. } => {
                let wide = format_length_up(wide, units);
                Some(match strips {
                    0 | 1 => format!("1 bias strip {wide} wide"),
                    2 => format!("2 bias strips {wide} wide, 1 join"),
                    _ => format!("{strips} bias strips {wide} wide, {} joins", strips - 1),
                })
            }
        }
    }

    /// How many rectangles make one whole.
    pub fn rectangles(self) -> u32 {
        match self {
            Self::EndToEnd { strips } => strips,
            Self::SideBySide { widths } => widths,
            Self::Bias { .. } => 1,
        }
    }

    /// Along which lines a rectangle of cloth as it lies is cut into strips, mm: at 45 degrees, up to the right from its low left corner and on both sides of
    /// that line. None for what is not cut on the bias.
    pub fn bias_lines(self, rectangle: Bounds) -> Vec<[Point; 2]> {
        let Self::Bias { strips, wide, join } = self else { return Vec::new() };
        let (across, along) = (rectangle.width(), rectangle.height());
        let Some(sides) = BiasStrips::sides(across, along, wide, join, strips) else { return Vec::new() };
        let line = |c: f64| {
            let on = |x: f64| rectangle.min + point(x, x - c);
            [on(c.max(0.0)), on(across.min(along + c))]
        };
        sides.into_iter().map(line).filter(|[low, high]| high.x - low.x > 1e-6).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_are_at_45_degrees_a_strip_apart_and_the_first_is_from_the_corner() {
        let rectangle = Bounds { min: point(100.0, 50.0), max: point(400.0, 350.0) };
        let lines = Strips::Bias { strips: 4, wide: 50.0, join: 6.0 }.bias_lines(rectangle);
        // Two strips on either side of the diagonal: five lines.
        assert_eq!(lines.len(), 5);
        for [low, high] in &lines {
            assert!(((high.x - low.x) - (high.y - low.y)).abs() < 1e-9);
            for p in [low, high] {
                assert!(p.x >= 100.0 - 1e-9 && p.x <= 400.0 + 1e-9 && p.y >= 50.0 - 1e-9 && p.y <= 350.0 + 1e-9);
            }
        }
        assert!(lines.iter().any(|[low, high]| *low == rectangle.min && *high == rectangle.max));
        let apart: Vec<f64> =
            lines.windows(2).map(|two| (two[1][0] - two[0][0]).x - (two[1][0] - two[0][0]).y).collect();
        assert!(apart.iter().all(|by| (by / std::f64::consts::SQRT_2 - 50.0).abs() < 1e-9), "{apart:?}");
    }

    #[test]
    fn what_is_not_joined_needs_no_words() {
        assert_eq!(Strips::EndToEnd { strips: 1 }.words(Units::Inches), None);
        assert_eq!(Strips::SideBySide { widths: 2 }.words(Units::Inches).unwrap(), "2 widths, joined side by side");
        let one = Strips::Bias { strips: 1, wide: 32.0, join: 6.0 };
        assert_eq!(one.words(Units::Centimetres).unwrap(), "1 bias strip 3.2 cm wide");
    }
}
