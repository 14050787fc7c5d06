//! Pieces, patterns, cloth and jobs made step by step and checked once, when they are whole.
//!
//! A builder takes whatever it is given. Its `build` tells every fault at once, by the rules of [`validate`](crate::validate).

mod cloth;
mod cut_rule;
mod fabric;
mod job;
mod pattern;
mod piece;

pub use cloth::ClothBuilder;
pub use fabric::FabricBuilder;
pub use job::JobBuilder;
pub use pattern::PatternBuilder;
pub use piece::PieceBuilder;

#[cfg(test)]
mod tests;
