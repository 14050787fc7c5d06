//! What the lines and marks on printed pieces mean.

use ellwand_geometry::{Point, point};

use crate::{marks::Mark, strokes::On};

use super::{Ground, inked::head};

/// A kind of line or mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Key {
    Cut,
    Seam,
    Fold,
    Grain,
    /// The grainline of a cut of a layout, whose arrow tells which way up it lies.
    Top,
    Notch,
    Point,
    Dart,
    Lengthen,
    Level,
    Roll,
    /// Where the cloth of a layout is folded.
    ClothFold,
}

impl Key {
    /// What a stroke of a piece means; nothing where its words say it.
    pub(super) fn of(on: On) -> Option<Self> {
        match on {
            On::Cut => Some(Self::Cut),
            On::Seam => Some(Self::Seam),
            On::Fold => Some(Self::Fold),
            On::Grain => Some(Self::Grain),
            On::Notch => Some(Self::Notch),
            On::Mark => Some(Self::Point),
            On::Dart => Some(Self::Dart),
            On::Lengthen => Some(Self::Lengthen),
            On::Level => Some(Self::Level),
            On::Draw | On::Text => None,
        }
    }

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Seam => "seam line",
            Self::Fold => "fold: place on the fold of the cloth, do not cut",
            Self::Grain => "grainline",
            Self::Top => "grainline; its arrow points to the top of the piece",
            Self::Notch => "notch: snip in from the cutting line",
            Self::Point => "point to mark",
            Self::Dart => "dart",
            Self::Lengthen => "lengthen or shorten",
            Self::Level => "level, such as the waist",
            Self::Roll => "roll line",
            Self::ClothFold => "fold of the cloth",
        }
    }

    /// How it is drawn, `wide` mm wide about a height.
    pub(super) fn sample(self, at: Point, wide: f64, ground: Ground) -> Vec<Mark> {
        let [left, right] = [at, at + point(wide, 0.0)];
        let middle = at + point(wide / 2.0, 0.0);
        let line = |on: On| Mark::stroke(left, right, ground.ink(on, 0, 1));
        match self {
            Self::Cut => vec![line(On::Cut)],
            Self::Seam => vec![line(On::Seam)],
            Self::Fold | Self::ClothFold => vec![line(On::Fold)],
            Self::Grain => [Some(line(On::Grain)), head(left, right, ground), head(right, left, ground)]
                .into_iter()
                .flatten()
                .collect(),
            Self::Top => [Some(line(On::Grain)), head(left, right, ground)].into_iter().flatten().collect(),
            Self::Notch => {
                let [up, down] = [-1.5, 1.5].map(|by| middle + point(0.0, by));
                vec![Mark::stroke(up, down, ground.ink(On::Notch, 0, 1))]
            }
            Self::Point => vec![Mark::Ring { at: middle, radius: 1.6, ink: ground.ink(On::Mark, 0, 1) }],
            Self::Dart => vec![line(On::Dart)],
            Self::Lengthen => vec![line(On::Lengthen)],
            Self::Level => vec![line(On::Level)],
            Self::Roll => vec![Mark::stroke(left, right, ground.roll())],
        }
    }
}
