//! Waiting longer after each failure.

use std::hash::{BuildHasher as _, RandomState};
use std::time::Duration;

/// The first wait.
const FIRST: Duration = Duration::from_millis(250);
/// No wait is longer.
const LONGEST: Duration = Duration::from_secs(30);

/// Waits that double, each with up to a quarter more by chance, so that many clients that failed
/// together do not come back together.
#[derive(Clone, Debug, Default)]
pub struct Backoff {
    failures: u32,
}

impl Backoff {
    /// No failure yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { failures: 0 }
    }

    /// The wait after one more failure.
    pub fn next(&mut self) -> Duration {
        let wait = FIRST
            .saturating_mul(1 << self.failures.min(16))
            .min(LONGEST);
        self.failures = self.failures.saturating_add(1);
        wait + wait.mul_f64(chance() / 4.0)
    }

    /// Failures so far.
    #[must_use]
    pub const fn failures(&self) -> u32 {
        self.failures
    }

    /// It went well: begin anew.
    pub fn reset(&mut self) {
        self.failures = 0;
    }
}

/// A number from 0 up to 1, from the seed that the standard library draws for its hash tables.
#[must_use]
pub fn chance() -> f64 {
    let drawn = RandomState::new().hash_one(0_u8) >> 32;
    f64::from(u32::try_from(drawn).unwrap_or(0)) / (f64::from(u32::MAX) + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_double_up_to_half_a_minute() {
        let mut backoff = Backoff::new();
        let waits: Vec<_> = (0..20).map(|_| backoff.next()).collect();
        for (n, wait) in waits.iter().enumerate() {
            let least = FIRST.saturating_mul(1 << n.min(16)).min(LONGEST);
            assert!(
                *wait >= least && *wait <= least.mul_f64(1.25),
                "{n}: {wait:?}"
            );
        }
        backoff.reset();
        assert!(backoff.next() < Duration::from_millis(400));
    }

    #[test]
    fn chance_stays_below_one_and_varies() {
        let drawn: Vec<f64> = (0..100).map(|_| chance()).collect();
        assert!(drawn.iter().all(|c| (0.0..1.0).contains(c)));
        assert!(drawn.windows(2).any(|pair| pair[0] < pair[1]));
    }
}
