//! What the random tests of this crate share.

use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};

/// So many cases from a fixed seed, so that a failure comes again.
pub(crate) fn cases(count: u32) -> ProptestConfig {
    let rng_seed = RngSeed::Fixed(0x0E11_3A2D);
    ProptestConfig {
        cases: count,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}
