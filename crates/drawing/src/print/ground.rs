//! The inks of full-size prints: thin and dark on paper, thick and told apart by more than colour on a projector's ground.

use crate::{marks::Ink, strokes::On};

/// What is drawn on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ground {
    /// Paper: thin lines.
    #[default]
    Paper,
    /// A white projected page: thick lines.
    White,
    /// A black projected page: thick lines in light colours.
    Black,
}

/// Dashes of nested sizes, from the first on: a size is told by its dashes where colours are not seen.
const DASHES: [&[f64]; 12] = [
    &[],
    &[6.0, 2.0],
    &[9.0, 2.0, 1.2, 2.0],
    &[1.2, 1.6],
    &[14.0, 2.5],
    &[4.0, 4.0],
    &[8.0, 1.6, 1.2, 1.6, 1.2, 1.6],
    &[3.0, 1.6],
    &[12.0, 2.0, 4.0, 2.0],
    &[7.0, 1.5, 1.2, 1.5, 1.2, 1.5, 1.2, 1.5],
    &[3.0, 1.6, 1.2, 1.6],
    &[5.0, 1.5, 5.0, 5.0],
];

/// So many nested sizes have a line of their own, no two the same in dashes and colour; twelve are told apart without colour.
pub const MOST_SIZES: usize = 24;

/// Colours that keep apart for those who do not tell red from green, dark enough for paper.
///
/// After M. Okabe and K. Ito, "Color Universal Design" (2008), darkened where white paper needs it (from memory).
const ON_WHITE: [&str; 8] = ["#1d1b18", "#0072b2", "#b34700", "#6e675d", "#006d53", "#8a2f6b", "#4b4a00", "#00566f"];

/// The same, light enough for a black ground.
const ON_BLACK: [&str; 8] = ["#ffffff", "#56b4e9", "#e69f00", "#c9c4bb", "#33d6a6", "#e59ac8", "#f0e442", "#8fd3ff"];

impl Ground {
    fn colour(self, k: usize) -> &'static str {
        match self {
            Self::Paper | Self::White => ON_WHITE[k % ON_WHITE.len()],
            Self::Black => ON_BLACK[k % ON_BLACK.len()],
        }
    }

    /// How many times as wide as on paper lines are.
    fn thick(self) -> f64 {
        match self {
            Self::Paper => 1.0,
            Self::White | Self::Black => 3.0,
        }
    }

    /// How many times as large as on paper words are: a projected page is read from where one stands at the table.
    pub(super) fn large(self) -> f64 {
        match self {
            Self::Paper => 1.0,
            Self::White | Self::Black => 2.2,
        }
    }

    /// Colour of words and marks.
    pub(super) fn letters(self) -> &'static str {
        self.colour(0)
    }

    fn line(self, colour: usize, width: f64, dash: &'static [f64]) -> Ink {
        Ink { fill: None, cover: 1.0, stroke: Some(self.colour(colour)), width: width * self.thick(), dash }
    }

    /// The ink of a stroke of size `k` of several or one.
    pub(super) fn ink(self, on: On, k: usize, sizes: usize) -> Ink {
        match on {
            On::Cut if sizes > 1 => self.line(k, 0.4, DASHES[k % DASHES.len()]),
            On::Cut => self.line(0, 0.4, &[]),
            On::Seam => self.line(3, 0.22, &[4.0, 2.0]),
            On::Fold => self.line(1, 0.5, &[7.0, 1.8, 1.5, 1.8]),
            On::Dart => self.line(0, 0.3, &[2.5, 1.5]),
            On::Level => self.line(3, 0.18, &[1.0, 1.5]),
            On::Lengthen => self.line(0, 0.25, &[]),
            On::Grain => self.line(0, 0.25, &[]),
            On::Notch if sizes > 1 => self.line(k, 0.5, &[]),
            On::Notch => self.line(0, 0.5, &[]),
            On::Mark if sizes > 1 => self.line(k, 0.3, &[]),
            On::Mark | On::Draw | On::Text => self.line(0, 0.3, &[]),
        }
    }

    /// The ink of dart legs of size `k` of several, thin and dashed as its cutting line, or of one.
    pub(super) fn dart_legs(self, k: usize, sizes: usize) -> Ink {
        if sizes > 1 {
            Ink { width: 0.25 * self.thick(), ..self.ink(On::Cut, k, sizes) }
        } else {
            self.ink(On::Dart, 0, 1)
        }
    }

    /// The ink of a line about which a lapel turns.
    pub(super) fn roll(self) -> Ink {
        self.line(2, 0.35, &[8.0, 2.0, 2.0, 2.0])
    }

    /// A thin line of the page itself.
    pub(super) fn rule(self) -> Ink {
        self.line(3, 0.15, &[])
    }

    /// Under words that stand on a line.
    pub(super) fn blank(self) -> Ink {
        let fill = if self == Self::Black { "#000000" } else { "#ffffff" };
        Ink { fill: Some(fill), cover: 1.0, stroke: None, width: 0.0, dash: &[] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_sizes_have_the_same_line() {
        for ground in [Ground::Paper, Ground::Black] {
            let inks: Vec<Ink> = (0..MOST_SIZES).map(|k| ground.ink(On::Cut, k, MOST_SIZES)).collect();
            for (k, ink) in inks.iter().enumerate() {
                assert!(!inks[..k].contains(ink), "{k} is drawn as another: {ink:?}");
                assert!(
                    inks[..k.min(DASHES.len())].iter().all(|other| k >= 12 || other.dash != ink.dash),
                    "{k} in grey"
                );
            }
        }
    }
}
