//! Chance that repeats: numbers that depend on a seed and on what they are for, and on nothing else.

use rand::rngs::SmallRng;
use rand::{Rng as _, SeedableRng as _};

/// A source of chance.
#[derive(Debug, Clone)]
pub struct Chance(SmallRng);

impl Chance {
    /// Chance for one purpose under a seed: the building of this number, say.
    #[must_use]
    pub fn new(seed: u64, purpose: u64) -> Self {
        // A multiplication apart, so that neighbouring purposes share nothing.
        Self(SmallRng::seed_from_u64(
            seed.wrapping_add(purpose.wrapping_mul(0x9E37_79B9_7F4A_7C15)),
        ))
    }

    /// True in `parts` of 1,000 cases.
    pub fn per_mille(&mut self, parts: u32) -> bool {
        self.0.random_range(0..1000) < parts
    }

    /// A whole number from `low` to `high`, both included; `low` when the range is empty.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        if low >= high {
            low
        } else {
            self.0.random_range(low..=high)
        }
    }

    /// One of several, each as likely; none of none.
    pub fn pick<T: Copy>(&mut self, from: &[T]) -> Option<T> {
        if from.is_empty() {
            None
        } else {
            from.get(self.0.random_range(0..from.len())).copied()
        }
    }

    /// One of several words, each as likely; empty of none.
    pub fn word<'w>(&mut self, from: &'w [String]) -> &'w str {
        if from.is_empty() {
            ""
        } else {
            from.get(self.0.random_range(0..from.len()))
                .map_or("", String::as_str)
        }
    }

    /// 128 bits, for an id that repeats with the seed.
    pub fn bits(&mut self) -> u128 {
        self.0.random()
    }
}
