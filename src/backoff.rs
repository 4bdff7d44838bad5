//! Waiting longer after each failure: the one backoff of all rooms.
//!
//! *Absent:* any clock. Whoever waits sleeps, or counts the wait from a time of their own.

use std::hash::{BuildHasher as _, RandomState};
use std::time::Duration;

/// Waits that double from the first to the longest, each with up to a quarter more by chance, so that
/// many that failed together do not come back together.
///
/// ```
/// use std::time::Duration;
/// use chalkbell::backoff::Backoff;
///
/// let mut backoff = Backoff::between(Duration::from_secs(1), Duration::from_secs(3));
/// let least: Vec<u64> = (0..4)
///     .map(|_| {
///         let least = backoff.least();
///         assert!((least..=least.mul_f64(1.25)).contains(&backoff.next()));
///         least.as_secs()
///     })
///     .collect();
/// assert_eq!(least, [1, 2, 3, 3]);
/// ```
#[derive(Clone, Debug)]
pub struct Backoff {
    first: Duration,
    longest: Duration,
    failures: u32,
}

impl Default for Backoff {
    fn default() -> Self {
        Self::new()
    }
}

impl Backoff {
    /// For a service on the network: from a quarter of a second to half a minute.
    pub const fn new() -> Self {
        Self::between(Duration::from_millis(250), Duration::from_secs(30))
    }

    /// From the first wait to the longest.
    pub const fn between(first: Duration, longest: Duration) -> Self {
        Self {
            first,
            longest,
            failures: 0,
        }
    }

    /// The same after as many failures, for counts that are stored.
    #[must_use]
    pub const fn after(mut self, failures: u32) -> Self {
        self.failures = failures;
        self
    }

    /// The wait after one more failure.
    #[expect(
        clippy::should_implement_trait,
        reason = "the next wait; a backoff is no iterator, it never ends"
    )]
    pub fn next(&mut self) -> Duration {
        let wait = self.least();
        self.failures = self.failures.saturating_add(1);
        wait + wait.mul_f64(chance() / 4.0)
    }

    /// What [`Backoff::next`] takes at least, without what is added by chance.
    pub fn least(&self) -> Duration {
        let times = 1_u32.checked_shl(self.failures).unwrap_or(u32::MAX);
        self.first.saturating_mul(times).min(self.longest)
    }

    /// Failures so far.
    pub const fn failures(&self) -> u32 {
        self.failures
    }

    /// It went well: begin anew.
    pub fn reset(&mut self) {
        self.failures = 0;
    }
}

/// A number from 0 up to 1, from the seed that the standard library draws for its hash tables.
pub fn chance() -> f64 {
    let drawn = RandomState::new().hash_one(0_u8) >> 32;
    f64::from(u32::try_from(drawn).unwrap_or(0)) / (f64::from(u32::MAX) + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_double_up_to_the_longest() {
        let mut backoff = Backoff::new();
        let expected = [250, 500, 1000, 2000, 4000, 8000, 16_000, 30_000, 30_000];
        for least in expected.map(Duration::from_millis) {
            let wait = backoff.next();
            assert!(wait >= least && wait <= least.mul_f64(1.25), "{wait:?}");
        }
        backoff.reset();
        assert!(backoff.next() < Duration::from_millis(400));
    }

    #[test]
    fn any_count_of_failures_has_a_wait() {
        for failures in [31, 32, 33, u32::MAX] {
            let mut backoff = Backoff::new().after(failures);
            assert_eq!(backoff.least(), Duration::from_secs(30));
            backoff.next();
            assert!(backoff.failures() >= failures);
        }
    }

    #[test]
    fn chance_stays_below_one_and_varies() {
        let drawn: Vec<f64> = (0..100).map(|_| chance()).collect();
        assert!(drawn.iter().all(|c| (0.0..1.0).contains(c)));
        assert!(drawn.windows(2).any(|pair| pair[0] < pair[1]));
    }
}
