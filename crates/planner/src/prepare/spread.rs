//! How the cloth lies in one search: what its way of laying leaves open, settled. Which lines it is folded along, and which pieces are cut
//! double there.
//!
//! Along the cloth folds are lines of the flat cloth. Across it the second layer is as wide as the first and as long, and how long that is the search
//! is to find; so the two layers are searched side by side, as one strip of twice the width, and put one after the other afterwards.

use ellwand_garment::{CutOrder, Fold, Lay, Question, Way};
use ellwand_geometry::{Placement, Point, Pose};

use super::{
    copies::Copies,
    place::{Place, Room},
};

/// How the cloth lies in one search.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Spread {
    pub(crate) table: Table,
    pub(crate) doubled: Doubled,
}

/// What the strip of a search stands for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Table {
    /// The flat cloth, folded along these lines, from left to right; mm from the left edge.
    Flat(Vec<f64>),
    /// Its near and its far half side by side.
    Halves(Halves),
}

/// Two layers of full width, side by side: the near half of the cloth on the left, the far half on the right, as it lies under the near one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Halves {
    /// How the far half comes under the near one.
    pub(crate) turned: Turned,
    /// The span of the near half that pieces may use.
    pub(crate) usable: (f64, f64),
    /// Where the strip is mirrored from one half to the other.
    pub(crate) axis: f64,
    /// Width of the cloth.
    pub(crate) width: f64,
    /// How far apart pieces are kept, across the fold or the cut too.
    pub(crate) gap: f64,
}

/// How the far half of a cloth comes under the near one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turned {
    /// Folded over, so that it runs the other way.
    Over,
    /// Cut off and turned end for end, so that it runs the same way.
    EndForEnd,
}

/// Which pieces are cut double, or on a fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Doubled {
    /// All that can be.
    All,
    /// Those that have room beside the fold.
    WithRoom,
    /// Those cut on the fold that have room, and no pairs.
    OnFold,
}

impl Spread {
    /// One layer.
    pub(crate) fn open() -> Self {
        Self { table: Table::Flat(Vec::new()), doubled: Doubled::All }
    }

    /// Folded along these lines.
    pub(crate) fn folded(folds: Vec<f64>, doubled: Doubled) -> Self {
        Self { table: Table::Flat(folds), doubled }
    }

    /// Two layers of full width.
    pub(crate) fn halves(question: &Question, turned: Turned) -> Self {
        let usable = question.usable();
        let cloth = &question.fabric.cloth;
        // The layers are no neighbours: what lies at the edge of one is a gap and more from what lies at the edge of the other.
        let axis = usable.1 + cloth.piece_gap + 1.0;
        let halves = Halves { turned, usable, axis, width: cloth.width, gap: cloth.piece_gap };
        Self { table: Table::Halves(halves), doubled: Doubled::All }
    }

    /// How the question's cloth lies where its way leaves nothing open; one layer where it does.
    pub(crate) fn of(question: &Question) -> Self {
        match question.way {
            Way::CentreFold => Self::folded(vec![question.fabric.cloth.centre_fold()], Doubled::All),
            Way::Crosswise => Self::halves(question, Turned::Over),
            Way::CutAndTurned => Self::halves(question, Turned::EndForEnd),
            Way::Open | Way::OffCentre | Way::ToTheMiddle | Way::PartFolded => Self::open(),
        }
    }

    /// The length that cloth takes whose search came to a strip of `length` mm.
    pub(crate) fn along(&self, length: f64) -> f64 {
        match &self.table {
            Table::Flat(_) => length,
            Table::Halves(halves) => 2.0 * length + halves.gap,
        }
    }

    /// The lengthwise folds.
    pub(crate) fn folds(&self) -> &[f64] {
        match &self.table {
            Table::Flat(folds) => folds,
            Table::Halves(_) => &[],
        }
    }

    /// How the cloth is covered when the search came to a strip of `length` mm.
    pub(crate) fn lay(&self, length: f64) -> Lay {
        match &self.table {
            Table::Flat(folds) => Lay::folded(folds.iter().map(|&at| Fold::Lengthwise { at }).collect()),
            Table::Halves(halves) => Lay::folded(vec![halves.fold(length)]),
        }
    }

    /// Where the copies of an order are cut from two layers, or on a fold; nothing where each is cut from one layer.
    pub(crate) fn double(&self, order: &CutOrder, room: &Room) -> Vec<Place> {
        let pairs = Copies::come_in_pairs(order);
        match &self.table {
            Table::Halves(_) if pairs => vec![Place::BothHalves],
            Table::Halves(_) => Vec::new(),
            Table::Flat(folds) if order.rule.on_fold => folds
                .iter()
                .filter(|&&at| self.has_room(order, Place::OnFold(at), room))
                .map(|&at| Place::OnFold(at))
                .collect(),
            Table::Flat(folds) if pairs && self.doubled != Doubled::OnFold => folds
                .iter()
                .filter(|&&at| self.has_room(order, Place::Across(at), room))
                .map(|&at| Place::Across(at))
                .collect(),
            Table::Flat(_) => Vec::new(),
        }
    }

    /// The fold through both layers of which a pair is cut in that place, where the search came to a strip of `length` mm.
    pub(crate) fn fold_through(&self, place: Place, length: f64) -> Fold {
        match (place, &self.table) {
            (Place::Across(at) | Place::OnFold(at), _) => Fold::Lengthwise { at },
            (_, Table::Halves(halves)) => halves.fold(length),
            (_, Table::Flat(folds)) => Fold::Lengthwise { at: folds.first().copied().unwrap_or(0.0) },
        }
    }

    /// Left and right side of the strip that stands for cloth of which pieces may use this span.
    pub(crate) fn strip(&self, usable: (f64, f64)) -> (f64, f64) {
        match &self.table {
            Table::Flat(_) => usable,
            Table::Halves(halves) => (halves.near().0, halves.far().1),
        }
    }

    /// Where a copy is cut from one layer.
    pub(crate) fn single(&self) -> Vec<Place> {
        match &self.table {
            Table::Flat(_) => vec![Place::Anywhere],
            Table::Halves(_) => vec![Place::NearHalf, Place::FarHalf],
        }
    }

    /// Whether the order has room there, or has to find it.
    fn has_room(&self, order: &CutOrder, place: Place, room: &Room) -> bool {
        self.doubled == Doubled::All || place.has_room(order, room)
    }
}

impl Halves {
    /// The span of the strip that stands for the near half.
    pub(crate) fn near(&self) -> (f64, f64) {
        self.usable
    }

    /// The span of the strip that stands for the far half.
    pub(crate) fn far(&self) -> (f64, f64) {
        let (left, right) = self.usable;
        (2.0 * self.axis - right, 2.0 * self.axis - left)
    }

    /// The fold, or the cut, where each half is `length` mm long. What lies at the end of both halves keeps its distance from its image too.
    fn fold(&self, length: f64) -> Fold {
        match self.turned {
            Turned::Over => Fold::Crosswise { at: length + self.gap / 2.0 },
            Turned::EndForEnd => Fold::CutAndTurned { at: length + self.gap, middle: self.width / 2.0 },
        }
    }

    /// Where what lies in the far half of the strip lies on flat cloth.
    pub(crate) fn far_on_flat(&self, placement: Placement, length: f64) -> Placement {
        let Placement { pose, at: Point { x, y } } = placement;
        let at = self.fold(length).at();
        match self.turned {
            Turned::Over => {
                let pose = Pose { turn_deg: pose.turn_deg + 180.0, ..pose };
                Placement::new(pose, 2.0 * self.axis - x, 2.0 * at - y)
            }
            Turned::EndForEnd => Placement::new(pose, x - 2.0 * self.axis + self.width, y + at),
        }
    }
}
