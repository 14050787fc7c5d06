//! From the length of a layout to what the shop sells and what it costs: straightening the ends, shrinkage along the cloth, what
//! is at home already, rounding up to whole steps of the shop, and decimal money that is rounded once.

use std::fmt;

use rust_decimal::{Decimal, prelude::FromPrimitive};

use crate::{
    CutEnd, Design, DesignAxis, Fabric, Money, Price, TAPE_TOLERANCE, Units, format_bought, format_yardage,
    supply::cents,
};

/// Decimals of a millimetre kept when a step of the shop has no short fraction of the priced length.
const MONEY_LENGTH_DECIMALS: u32 = 6;

/// The longest denominator a step may have as a fraction of the priced length and still count as exact: 1/7 yd, or 25 cm of a
/// yard, are such fractions.
const LONGEST_DENOMINATOR: i64 = 1_000_000;

/// So many terms of a continued fraction take its denominator past the longest: it grows at least like Fibonacci's numbers, of which
/// the 31st is above a million.
const MOST_TERMS: usize = 32;

/// From the length used to what is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchase {
    /// Length of the layout, mm.
    pub length: f64,
    /// What is added and why, in the order applied.
    pub allowances: Vec<Allowance>,
    /// Length of unwashed cloth, crooked ends included, that the layout is cut from, mm: what `length` and the allowances come to.
    pub needed: f64,
    /// Whether what is at home is enough; `None` when there is nothing at home.
    pub on_hand: Option<OnHand>,
    /// How many steps of the shop are bought; none when what is at home is enough.
    pub steps: u64,
    /// Length to buy, mm: `steps` whole steps.
    pub buy: f64,
    /// The same as a shopper says it: "2 3/4 yd", "250 cm", "nothing".
    pub buy_text: String,
    /// Price of one unit of the shop, if given.
    pub price: Option<Price>,
    /// What it costs to the hundredth, if a price is given; nothing for what is at home.
    pub cost: Option<Money>,
}

/// An addition to the length.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowance {
    /// What for.
    pub reason: AllowanceReason,
    /// mm.
    pub length: f64,
}

/// Why more cloth is bought than a layout uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum AllowanceReason {
    /// Both cut ends are trued.
    StraighteningEnds,
    /// The layout begins at a line of the design, and nobody knows how much of the roll lies before the first.
    LineOfDesign,
    /// Washing takes it away.
    Shrinkage,
}

impl fmt::Display for AllowanceReason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::StraighteningEnds => "straightening the ends",
            Self::LineOfDesign => "the line of the design it begins at",
            Self::Shrinkage => "shrinkage",
        })
    }
}

/// Whether the cloth at home is enough. Lengths are mm of unwashed cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OnHand {
    /// It is, with this much to spare.
    Enough {
        /// What is left over.
        spare: f64,
    },
    /// It is not.
    Short {
        /// What is missing.
        by: f64,
    },
}

impl Purchase {
    /// Whether nothing need be bought, since what is at home is enough.
    pub fn is_at_home(&self) -> bool {
        matches!(self.on_hand, Some(OnHand::Enough { .. }))
    }

    /// Length of washed cloth with straight ends that the layout takes, mm: what is used, and what may lie before the line of the design at
    /// which it begins.
    pub fn taken(&self) -> f64 {
        let before = self.allowances.iter().filter(|allowance| allowance.reason == AllowanceReason::LineOfDesign);
        self.length + before.map(|allowance| allowance.length).sum::<f64>()
    }
}

/// What to buy so that a layout of `length` mm can be cut after washing and truing the ends.
///
/// `(length + straighten_ends + line it begins at) / (1 - shrinkage along)`, rounded up to a whole number of the shop's steps. Cloth is washed
/// with its crooked ends still on, so they shrink too. Where cloth at home is long enough, nothing is bought and nothing paid; where it is
/// not, the whole length is bought, since a layout is cut from one piece of cloth. The shrinkage must be below 1 and the step above 0,
/// as in every [`Fabric`] that was read from a file.
pub fn purchase(fabric: &Fabric, units: Units, length: f64) -> Purchase {
    let mut allowances = Vec::new();
    let mut allow = |reason, length: f64| {
        if length > 0.0 {
            allowances.push(Allowance { reason, length });
        }
    };
    let to_begin_at = to_the_line_it_begins_at(fabric);
    let needed = before_washing(fabric, length);
    allow(AllowanceReason::StraighteningEnds, fabric.straighten_ends);
    allow(AllowanceReason::LineOfDesign, to_begin_at);
    if fabric.shrinkage.along > 0.0 {
        allow(AllowanceReason::Shrinkage, needed - length - fabric.straighten_ends - to_begin_at);
    }
    let on_hand = fabric.cloth.on_hand.map(|have| {
        // What is measured with a tape is not short by rounding noise.
        let spare = have - needed;
        if spare >= -TAPE_TOLERANCE { OnHand::Enough { spare: spare.max(0.0) } } else { OnHand::Short { by: -spare } }
    });
    let at_home = matches!(on_hand, Some(OnHand::Enough { .. }));
    let steps = if at_home { 0 } else { whole_steps(needed, fabric.sold_by) };
    let buy = steps as f64 * fabric.sold_by;
    let cost = |price: Price| Some(Money::new(length_cost(price, fabric.sold_by, steps)?, fabric.currency.clone()));
    Purchase {
        length,
        allowances,
        needed,
        on_hand,
        steps,
        buy,
        buy_text: if at_home { "nothing".to_owned() } else { format_bought(buy, fabric.sold_by, units) },
        price: fabric.price,
        cost: fabric.price.and_then(cost),
    }
}

/// By how much a layout would have to be shorter than `length` mm, so that a step less is bought; `None` where nothing is bought, or one step
/// alone.
pub fn next_step_down(fabric: &Fabric, length: f64) -> Option<f64> {
    let needed = before_washing(fabric, length);
    if fabric.cloth.on_hand.is_some_and(|have| have - needed >= -TAPE_TOLERANCE) {
        return None;
    }
    let steps = whole_steps(needed, fabric.sold_by).checked_sub(1).filter(|steps| *steps > 0)?;
    let reached = steps as f64 * fabric.sold_by + TAPE_TOLERANCE;
    Some((needed - reached) * (1.0 - fabric.shrinkage.along))
}

/// The whole steps of `step` mm that reach `length` mm, but for what no tape tells.
pub(crate) fn whole_steps(length: f64, step: f64) -> u64 {
    ((length - TAPE_TOLERANCE) / step).ceil().max(0.0) as u64
}

/// The length of unwashed cloth, crooked ends included, that a layout of `length` mm is cut from, mm.
pub fn before_washing(fabric: &Fabric, length: f64) -> f64 {
    (length + fabric.straighten_ends + to_the_line_it_begins_at(fabric)) / (1.0 - fabric.shrinkage.along)
}

/// What may lie before the line of the design at which the layout begins, mm: a repeat, when some match names a place of the
/// design along cloth that is still on the roll.
fn to_the_line_it_begins_at(fabric: &Fabric) -> f64 {
    let Some(Design { along: Some(repeat), cut_end: CutEnd::OnTheRoll, .. }) = &fabric.cloth.design else { return 0.0 };
    let mut rules = fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
    let any = rules.any(|rule| rule.stands_on(DesignAxis::Along));
    if any { repeat.every } else { 0.0 }
}

/// `steps` steps of `step` mm at `price`, exact and rounded half up to the hundredth once. `None` only beyond the range of decimals.
pub(crate) fn length_cost(price: Price, step: f64, steps: u64) -> Option<Decimal> {
    let (top, bottom) = share_of_unit(step, price.per.length())?;
    // Divided last: what is divided first is rounded first.
    let exact = Decimal::from(steps).checked_mul(top)?.checked_mul(price.amount)?.checked_div(bottom)?;
    Some(cents(exact))
}

/// `step` as a fraction of `unit`: the plain fraction that it is to the last bit, such as 1/7, or millimetre over millimetre.
fn share_of_unit(step: f64, unit: f64) -> Option<(Decimal, Decimal)> {
    let share = step / unit;
    if let Some((top, bottom)) = plain_fraction(share) {
        return Some((Decimal::from(top), Decimal::from(bottom)));
    }
    let exact = |mm: f64| Decimal::from_f64(mm).map(|d| d.round_dp(MONEY_LENGTH_DECIMALS));
    Some((exact(step)?, exact(unit)?))
}

/// The fraction of the least denominator that is `value` to within rounding, by continued fraction.
fn plain_fraction(value: f64) -> Option<(i64, i64)> {
    if !(value > 0.0 && value < LONGEST_DENOMINATOR as f64) {
        return None;
    }
    let (mut before, mut now) = ((0_i64, 1_i64), (1_i64, 0_i64));
    let mut rest = value;
    for _ in 0..MOST_TERMS {
        let whole = rest.floor();
        let next = (whole as i64 * now.0 + before.0, whole as i64 * now.1 + before.1);
        if next.1 > LONGEST_DENOMINATOR {
            return None;
        }
        if (next.0 as f64 / next.1 as f64 - value).abs() <= 4.0 * f64::EPSILON * value {
            return Some(next);
        }
        (before, now) = (now, next);
        rest = 1.0 / (rest - whole);
        if rest > i32::MAX.into() {
            return None;
        }
    }
    None
}

/// How much of cloth `fabric` is missing at home for a layout of `length` mm; `None` when what is there would do, or there is none.
pub fn short_of_on_hand(fabric: &Fabric, length: f64) -> Option<f64> {
    match purchase(fabric, Units::Centimetres, length).on_hand? {
        OnHand::Enough { .. } => None,
        OnHand::Short { by } => Some(by),
    }
}

/// Words for what is at home: whether it does, and by how much it is more or less.
impl OnHand {
    /// "the 3 yd on hand is enough, with 4 1/2 in to spare"; `have` is what is there, mm.
    pub fn words(&self, have: f64, units: Units) -> String {
        let have = format_yardage(have, units);
        match self {
            Self::Enough { spare } => {
                format!("the {have} on hand is enough, with {} to spare", crate::format_length(*spare, units))
            }
            Self::Short { by } => {
                let by = crate::write_length(*by, units, crate::Rounding::Up);
                format!("the {have} on hand is {by} too short, and a layout is cut from one piece")
            }
        }
    }
}

#[cfg(test)]
mod tests;
