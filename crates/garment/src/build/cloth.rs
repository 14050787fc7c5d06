//! Cloth, step by step: as it is bought, before washing.

use ellwand_geometry::{Outline, point};

use crate::{Cloth, Design, Length, Nap, Quantity, RightSide, Shrinkage};

/// Cloth being described, as it lies in the shop. What washing takes away is said of its [`Fabric`](crate::Fabric).
#[derive(Debug, Clone)]
#[must_use]
pub struct ClothBuilder {
    bought: Cloth,
}

impl Cloth {
    /// Begins cloth that a shopper calls `name`, `width` from edge to edge as bought: plain, without nap, with a right side, and no
    /// selvage unless said.
    pub fn named(name: impl Into<String>, width: Length) -> ClothBuilder {
        let bought = Cloth {
            name: name.into(),
            width: width.in_mm(),
            selvage: 0.0,
            nap: Nap::Without,
            right_side: RightSide::One,
            off_grain_deg: 0.0,
            piece_gap: 0.0,
            flaws: Vec::new(),
            on_hand: None,
            design: None,
            remnant: None,
        };
        ClothBuilder { bought }
    }
}

impl ClothBuilder {
    /// Width of the selvage on each edge, which no piece may use.
    pub fn selvage(mut self, selvage: Length) -> Self {
        self.bought.selvage = selvage.in_mm();
        self
    }

    /// Nap, pile, sheen or a one-way print: the tops of all pieces point the same way.
    pub fn with_nap(mut self) -> Self {
        self.bought.nap = Nap::With;
        self
    }

    /// Both faces serve, so any copy may be turned over.
    pub fn without_right_side(mut self) -> Self {
        self.bought.right_side = RightSide::Both;
        self
    }

    /// By how many degrees a grainline may be tilted; not at all unless said.
    pub fn off_grain_deg(mut self, degrees: f64) -> Self {
        self.bought.off_grain_deg = degrees;
        self
    }

    /// Least distance between two pieces; they may touch unless said.
    pub fn piece_gap(mut self, gap: Length) -> Self {
        self.bought.piece_gap = gap.in_mm();
        self
    }

    /// A spot to avoid, mm from the left edge and the cut end of the cloth as bought. It shrinks with the cloth.
    pub fn flaw_mm(mut self, flaw: Outline) -> Self {
        self.bought.flaws.push(flaw);
        self
    }

    /// The length that is there already.
    pub fn on_hand(mut self, length: Length) -> Self {
        self.bought.on_hand = Some(length.in_mm());
        self
    }

    /// What is woven or printed on it, mm on the cloth as bought.
    pub fn design(mut self, design: Design) -> Self {
        self.bought.design = Some(design);
        self
    }

    /// The cloth as it is laid out, after washing. Selvage and gap stay what they are.
    pub(super) fn washed(self, shrinkage: Shrinkage) -> Cloth {
        // A share that means nothing is told of the fabric, and not of the cloth as well.
        let kept = |share: Quantity, lost: f64| if share.allows(lost) { 1.0 - lost } else { 1.0 };
        let kept = (kept(Quantity::ShrinkageAcross, shrinkage.across), kept(Quantity::ShrinkageAlong, shrinkage.along));
        let Cloth { width, flaws, design, .. } = &self.bought;
        // A flaw shrinks with the cloth it is in.
        let flaw = |flaw: &Outline| {
            Outline::new(flaw.points().iter().map(|at| point(at.x * kept.0, at.y * kept.1)).collect())
                .unwrap_or_else(|_| flaw.clone())
        };
        Cloth {
            width: width * kept.0,
            flaws: flaws.iter().map(flaw).collect(),
            design: design.clone().map(|design| shrunk(design, kept)),
            ..self.bought
        }
    }
}

/// A design of which washing leaves these shares across and along.
fn shrunk(mut design: Design, (across, along): (f64, f64)) -> Design {
    for (repeat, kept) in [(&mut design.across, across), (&mut design.along, along)] {
        let Some(repeat) = repeat else { continue };
        repeat.every *= kept;
        repeat.offset *= kept;
        for bar in &mut repeat.bars {
            (bar.at, bar.width) = (bar.at * kept, bar.width * kept);
        }
    }
    if let Some(border) = &mut design.border {
        border.width *= across;
    }
    design
}
