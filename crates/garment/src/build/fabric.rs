//! The cloth for one role and how it is sold, step by step.

use rust_decimal::Decimal;

use super::ClothBuilder;
use crate::{Fabric, Length, Matching, Price, PriceUnit, Remnant, Shrinkage, Units, WayChoice};

/// The fabric for one role, being described.
#[derive(Debug, Clone)]
#[must_use]
pub struct FabricBuilder {
    role: String,
    cloth: ClothBuilder,
    ways: WayChoice,
    price: Option<(Price, String)>,
    sold_by: Option<Length>,
    shrinkage: Shrinkage,
    straighten_ends: Length,
    matching: Matching,
    remnants: Vec<Remnant>,
}

impl Fabric {
    /// Begins the fabric for `role`, the name by which pieces ask for it: main, lining …
    pub fn of(role: impl Into<String>, cloth: ClothBuilder) -> FabricBuilder {
        FabricBuilder {
            role: role.into(),
            cloth,
            ways: WayChoice::Either,
            price: None,
            sold_by: None,
            shrinkage: Shrinkage::default(),
            straighten_ends: Length::ZERO,
            matching: Matching::default(),
            remnants: Vec::new(),
        }
    }
}

impl FabricBuilder {
    /// Which ways of laying it may be used; either unless said.
    pub fn ways(mut self, ways: WayChoice) -> Self {
        self.ways = ways;
        self
    }

    /// What so much of it costs, in a currency such as "GBP".
    pub fn price(mut self, amount: Decimal, per: PriceUnit, currency: impl Into<String>) -> Self {
        self.price = Some((Price { amount, per }, currency.into()));
        self
    }

    /// The shop cuts whole multiples of this; 1/8 yd unless said, or 10 cm in a job told in centimetres.
    pub fn sold_by(mut self, step: Length) -> Self {
        self.sold_by = Some(step);
        self
    }

    /// Share of the length that washing takes: 0.03 for 3 per cent.
    pub fn shrinks_along(mut self, share: f64) -> Self {
        self.shrinkage.along = share;
        self
    }

    /// Share of the width that washing takes.
    pub fn shrinks_across(mut self, share: f64) -> Self {
        self.shrinkage.across = share;
        self
    }

    /// Extra length to true both cut ends, for the two together.
    pub fn straighten_ends(mut self, length: Length) -> Self {
        self.straighten_ends = length;
        self
    }

    /// What is matched on the design of the cloth. Its lengths are mm on the cloth after washing.
    pub fn matching(mut self, matching: Matching) -> Self {
        self.matching = matching;
        self
    }

    /// A piece of it that is on hand, as it lies after washing.
    pub fn remnant(mut self, remnant: Remnant) -> Self {
        self.remnants.push(remnant);
        self
    }

    /// The fabric as it is, sound or not, for a job told in `units`.
    pub(super) fn finish(self, units: Units) -> Fabric {
        let usual_step = match units {
            Units::Inches => Length::yards(0.125),
            Units::Centimetres => Length::cm(10.0),
        };
        let (price, currency) = self.price.unzip();
        Fabric {
            role: self.role,
            cloth: self.cloth.washed(self.shrinkage),
            ways: self.ways,
            price,
            currency,
            sold_by: self.sold_by.unwrap_or(usual_step).in_mm(),
            shrinkage: self.shrinkage,
            straighten_ends: self.straighten_ends.in_mm(),
            matching: self.matching,
            remnants: self.remnants,
        }
    }
}
