//! A job: one garment for one body on the cloth at hand, with what the shop says about each cloth.
//!
//! A [`Job`] names the pattern's view and size and holds one [`Fabric`] a role. The planner turns each fabric into a layout
//! and the length to buy; nothing here knows how a job is written down.

use rust_decimal::Decimal;

use crate::{Cloth, Matching, Remnant, Spending, Units, WayChoice};

/// One garment to plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What the maker calls it, such as "Cord skirt for the winter market".
    pub name: String,
    /// Name of the pattern.
    pub pattern: String,
    /// The view of the pattern to make.
    pub view: String,
    /// The size to make.
    pub size: String,
    /// Units of everything shown to the maker.
    pub units: Units,
    /// The fabrics, one a role, in the order of the job. Every role of the view is among them.
    pub fabrics: Vec<Fabric>,
    /// What is bought beside the cloth, and the budget.
    pub spending: Spending,
}

impl Job {
    /// The fabric for `role`.
    pub fn fabric(&self, role: &str) -> Option<&Fabric> {
        self.fabrics.iter().find(|f| f.role == role)
    }
}

/// The cloth for one role and how the shop sells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fabric {
    /// The pattern's role it is for: main, lining, interfacing …
    pub role: String,
    /// The cloth as it will be laid out: after shrinkage, so its width is what is left of the width bought.
    pub cloth: Cloth,
    /// Which ways of laying it may be used.
    pub ways: WayChoice,
    /// Price, if known.
    pub price: Option<Price>,
    /// What money the price is in, such as "GBP"; shown after amounts.
    pub currency: Option<String>,
    /// The shop cuts whole multiples of this length, mm, above zero.
    pub sold_by: f64,
    /// What washing takes away.
    pub shrinkage: Shrinkage,
    /// Extra length to true both cut ends, mm, for the two together.
    pub straighten_ends: f64,
    /// What is matched on the design of the cloth; nothing on plain cloth.
    pub matching: Matching,
    /// Pieces of it that are on hand.
    pub remnants: Vec<Remnant>,
}

/// A price for a length of cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Price {
    /// Money for one [`PriceUnit`], not below zero.
    pub amount: Decimal,
    /// The length the money buys.
    pub per: PriceUnit,
}

/// The length a shop puts a price on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PriceUnit {
    /// 914.4 mm.
    Yard,
    /// 1000 mm.
    Metre,
}

impl PriceUnit {
    /// Its length, mm, exact. One international yard is 0.9144 m (agreement of 1959).
    pub fn length(self) -> f64 {
        match self {
            Self::Yard => 914.4,
            Self::Metre => 1000.0,
        }
    }

    /// Its sign as shops write it: "yd" or "m".
    pub fn sign(self) -> &'static str {
        match self {
            Self::Yard => "yd",
            Self::Metre => "m",
        }
    }
}

/// Shares of length and width lost in washing, each at least 0 and below 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shrinkage {
    /// Along the warp.
    pub along: f64,
    /// Across, from selvage to selvage.
    pub across: f64,
}
