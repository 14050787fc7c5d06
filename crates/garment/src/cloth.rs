//! A length of cloth as it lies on the table.

use ellwand_geometry::Outline;

use crate::{Design, Remnant, Selvages};

/// Cloth for one role, as the shop sells it, mm. The layout uses what is left of it after shrinkage across.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth {
    /// What the shopper calls it, such as "rust needlecord".
    pub name: String,
    /// Full width from edge to edge, after shrinkage across; the layout's `x` runs from 0 to here.
    pub width: f64,
    /// Width of the selvage on each edge, which is never part of a garment.
    pub selvage: f64,
    /// Whether the cloth looks different from the other end.
    pub nap: Nap,
    /// Whether its faces differ.
    pub right_side: RightSide,
    /// Largest tilt of a grainline off its true direction, degrees; 0 for none.
    pub off_grain_deg: f64,
    /// Least distance between two pieces.
    pub piece_gap: f64,
    /// Spots to avoid: holes, stains, slubs; in layout coordinates.
    pub flaws: Vec<Outline>,
    /// Length on hand, if it is already there.
    pub on_hand: Option<f64>,
    /// What is woven or printed on it; `None` for plain cloth.
    pub design: Option<Design>,
    /// The piece of cloth it is, where it does not come from a roll; `width` is its width then.
    pub remnant: Option<Remnant>,
}

impl Cloth {
    /// The span of `x` a piece may use.
    pub fn usable(&self) -> (f64, f64) {
        let (left, right) = self.selvages();
        (left, self.width - right)
    }

    /// Width of the selvage at the left edge and at the right one, mm.
    pub fn selvages(&self) -> (f64, f64) {
        self.remnant.as_ref().map_or(Selvages::Both, |remnant| remnant.selvages).sides(self.selvage)
    }

    /// Width of [`Cloth::usable`], mm.
    pub fn usable_width(&self) -> f64 {
        let (left, right) = self.usable();
        right - left
    }

    /// Where a centre lengthwise fold lies: in the middle, or on that mirror axis of an even design that is nearest to it, so that
    /// both layers show the design alike.
    pub fn centre_fold(&self) -> f64 {
        let middle = self.width / 2.0;
        let axis = |design: &Design| design.across.as_ref()?.mirror_axis_near(middle, design.fold_on);
        self.design.as_ref().and_then(axis).unwrap_or(middle)
    }

    /// Whether every piece must point the same way: a nap, or a design that does not look the same from the other end.
    pub fn is_one_way(&self) -> bool {
        self.nap == Nap::With || self.design.as_ref().is_some_and(|design| !design.may_be_turned())
    }
}

/// Whether two widths of cloth, mm, are one but for rounding. Cloth of another width is another cloth.
///
/// ```
/// use ellwand_garment::is_same_width;
///
/// assert!(is_same_width(45.0 * 25.4, 1143.0));
/// assert!(!is_same_width(1143.0, 1150.0));
/// ```
pub fn is_same_width(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-6
}

/// Whether all pieces must point the same way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nap {
    /// Nap, pile, sheen or a one-way print: tops all the same way.
    With,
    /// The same from either end.
    Without,
}

/// Whether the two faces of the cloth differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RightSide {
    /// One face is the right side, so a mirrored copy is another hand.
    One,
    /// Both faces serve, so any copy may be mirrored.
    Both,
}
