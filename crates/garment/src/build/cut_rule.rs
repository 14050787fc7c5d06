//! The usual ways of cutting a piece, by their names.

use crate::{CutRule, Hands};

impl CutRule {
    /// One left and one right from the cloth of `role`.
    pub fn pair(role: &str) -> Self {
        Self { role: role.to_owned(), count: 2, on_fold: false, hands: Hands::Pair, grain: None }
    }

    /// One, whole, on the fold where the cloth is folded. The piece is symmetric about `x = 0`.
    pub fn on_fold(role: &str) -> Self {
        Self { role: role.to_owned(), count: 1, on_fold: true, hands: Hands::Any, grain: None }
    }

    /// With a rule of its own for the grain on this cloth.
    pub fn grain(mut self, grain: crate::GrainRule) -> Self {
        self.grain = Some(grain);
        self
    }

    /// `count` in all, of these hands.
    pub fn count(role: &str, count: u32, hands: Hands) -> Self {
        Self { role: role.to_owned(), count, on_fold: false, hands, grain: None }
    }
}
