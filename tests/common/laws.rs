//! How laws are tried: always the same cases, so that a run says the same every time.

use proptest::test_runner::{Config, RngSeed};

/// Cases of each law in an ordinary run; `PROPTEST_CASES` asks for more, or for fewer.
pub const CASES: u32 = 64;

/// The seed of every law. Another one tries other cases: `PROPTEST_RNG_SEED`.
const SEED: u64 = 0x6B65_7266;

/// The same cases in every run, and no file of failures: what a deep run finds becomes a plain test
/// with a name of its own.
pub fn laws() -> Config {
    let set = |name: &str| std::env::var(name).ok()?.parse::<u64>().ok();
    let cases = set("PROPTEST_CASES").and_then(|cases| u32::try_from(cases).ok());
    Config {
        cases: cases.unwrap_or(CASES),
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(set("PROPTEST_RNG_SEED").unwrap_or(SEED)),
        ..Config::default()
    }
}
