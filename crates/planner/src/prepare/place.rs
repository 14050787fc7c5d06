//! Where the copies of a slot may be, and how wide a piece may be there.

use ellwand_garment::{CutOrder, Question};
use ellwand_nest::fits_across;

/// Where the copies of a slot may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Place {
    /// In one layer, anywhere on flat cloth.
    Anywhere,
    /// With the middle on this fold.
    OnFold(f64),
    /// One on either side of this fold, each the mirror image of the other.
    Across(f64),
    /// In the near half of the cloth.
    NearHalf,
    /// In its far half.
    FarHalf,
    /// One in either half.
    BothHalves,
}

/// Where across the cloth pieces may lie.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Room {
    /// The spans beside old creases, from left to right; one where there are none.
    spans: Vec<(f64, f64)>,
    gap: f64,
}

impl Room {
    /// That of a question.
    pub(crate) fn of(question: &Question) -> Self {
        Self { spans: question.beside_creases(), gap: question.fabric.cloth.piece_gap }
    }

    /// That of a question about cloth without its creases.
    pub(crate) fn without_creases(question: &Question) -> Self {
        Self { spans: vec![question.usable()], gap: question.fabric.cloth.piece_gap }
    }
}

impl Place {
    /// Whether an order has room there as it is drawn.
    pub(crate) fn has_room(self, order: &CutOrder, room: &Room) -> bool {
        fits_across(order.piece.outline.bounds().width(), self.offers(room))
    }

    /// How wide a piece may be there, mm.
    pub(crate) fn offers(self, room: &Room) -> f64 {
        let widths =
            |spans: &mut dyn Iterator<Item = (f64, f64)>| spans.map(|(from, to)| to - from).fold(0.0, f64::max);
        let spans = || room.spans.iter().copied();
        match self {
            Self::Anywhere | Self::NearHalf | Self::FarHalf | Self::BothHalves => widths(&mut spans()),
            // A fold need not lie in the middle, and what lies on it has the narrower side twice.
            Self::OnFold(fold) => {
                widths(&mut spans().map(|(from, to)| (from.max(2.0 * fold - to), to.min(2.0 * fold - from))))
            }
            Self::Across(fold) => {
                // The two copies keep their distance from each other too: half of it to the fold.
                let side = fold - room.gap / 2.0;
                let both = |(from, to): (f64, f64)| {
                    let images = spans().map(move |(low, high)| (2.0 * fold - high, 2.0 * fold - low));
                    images.map(move |(low, high)| (from.max(low), to.min(high).min(side)))
                };
                widths(&mut spans().flat_map(both))
            }
        }
    }
}
