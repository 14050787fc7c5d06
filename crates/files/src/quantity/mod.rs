//! Quantities as people write them: a length with its unit, a share in per cent, an angle in degrees, an amount of money.

mod amount;
mod length;
mod numeral;
mod tax;
mod weight;
mod width;

pub(crate) use numeral::parse as plain_number;

pub use amount::{Angle, Money, Share};
pub use length::{Length, SignedLength};
pub use tax::TaxRate;
pub use weight::ClothWeight;
pub use width::ClothWidth;

#[cfg(test)]
mod tests;
