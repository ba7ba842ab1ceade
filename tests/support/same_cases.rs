//! How often a property over wild edits is tried, and with which.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// The same random cases at every run; `PROPTEST_RNG_SEED` and `PROPTEST_CASES` try others and more. A smaller seed is no simpler case.
pub(crate) fn config(count: u32) -> ProptestConfig {
    let said = |name: &str| std::env::var(name).ok();
    ProptestConfig {
        cases: said("PROPTEST_CASES").and_then(|text| text.parse().ok()).unwrap_or(count),
        rng_seed: RngSeed::Fixed(said("PROPTEST_RNG_SEED").and_then(|text| text.parse().ok()).unwrap_or(20_240_501)),
        failure_persistence: None,
        max_shrink_iters: 0,
        ..ProptestConfig::default()
    }
}
