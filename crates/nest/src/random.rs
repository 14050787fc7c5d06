//! The search's random choices, spelled out so that a seed gives the same choices on every machine and version.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A stream of random choices.
#[derive(Debug, Clone)]
pub(crate) struct Random(Xoshiro256PlusPlus);

impl Random {
    /// Stream number `stream` of a seed; streams of one seed do not overlap.
    pub(crate) fn new(seed: u64, stream: u64) -> Self {
        let mut generator = Xoshiro256PlusPlus::seed_from_u64(seed);
        for _ in 0..stream {
            generator.jump();
        }
        Self(generator)
    }

    /// A number in 0 (included) to 1 (excluded).
    #[inline]
    pub(crate) fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 * (1.0 / (1u64 << 53) as f64)
    }

    /// A number in `low` to `high`; `low` when they are equal.
    #[inline]
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number below `n`, which is at least 1. The bias for small `n` is below 2⁻⁵⁰.
    #[inline]
    pub(crate) fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n - 1)
    }

    /// A number from the standard normal distribution (Box & Muller, "A note on the generation of random normal
    /// deviates", Annals of Mathematical Statistics 29, 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// Puts `list` in random order (Fisher–Yates).
    pub(crate) fn shuffle<T>(&mut self, list: &mut [T]) {
        for i in (1..list.len()).rev() {
            list.swap(i, self.below(i + 1));
        }
    }
}
