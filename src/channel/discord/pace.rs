//! How fast requests may go: the platform's answers say what is left of each route's allowance,
//! and when it is full again.
//!
//! Pure bookkeeping: the time comes in, a time to wait comes out. Headers that cannot be read
//! change nothing. *topics/rate-limits* of the platform's documentation.

use std::collections::HashMap;
use std::hash::Hash;
use std::time::Duration;

use tokio::time::Instant;

use super::limits::REQUESTS_A_SECOND;

/// Routes kept in mind before those that are full again are forgotten.
const ROUTES_KEPT: usize = 4096;

/// The longest wait that is believed.
const LONGEST: Duration = Duration::from_secs(3600);

/// What an answer told of its route.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Told {
    /// Requests left.
    pub remaining: Option<u32>,
    /// When there are more again.
    pub reset_after: Option<Duration>,
}

/// Seconds as the headers write them; `None` for anything that is no sensible number of seconds.
#[must_use]
pub fn seconds(text: &str) -> Option<Duration> {
    let seconds: f64 = text.trim().parse().ok()?;
    let wait = Duration::try_from_secs_f64(seconds).ok()?;
    (wait <= LONGEST).then_some(wait)
}

#[derive(Clone, Copy, Debug)]
struct Route {
    remaining: u32,
    until: Instant,
}

/// The allowances of all routes.
#[derive(Debug)]
pub struct Pace<K> {
    routes: HashMap<K, Route>,
    /// Nothing goes before this.
    closed: Option<Instant>,
    /// The most requests a second over all routes, if they are to be spread.
    a_second: Option<u32>,
    /// When the next request over all routes may go.
    next: Option<Instant>,
}

impl<K: Eq + Hash + Clone> Pace<K> {
    /// All routes open; with `a_second`, requests are spread so that no more go out in any second.
    #[must_use]
    pub fn new(a_second: Option<u32>) -> Self {
        Self {
            routes: HashMap::new(),
            closed: None,
            a_second,
            next: None,
        }
    }

    /// Takes one request of this route's allowance, or tells how long to wait before asking again.
    /// Routes without a key (answers to interactions) are bound by nothing.
    ///
    /// # Errors
    /// The time to wait.
    pub fn take(&mut self, key: Option<&K>, now: Instant) -> Result<(), Duration> {
        let Some(key) = key else { return Ok(()) };
        if let Some(wait) = left(self.closed, now) {
            return Err(wait);
        }
        if let Some(route) = self.routes.get_mut(key)
            && let Some(wait) = left(Some(route.until), now)
        {
            if route.remaining == 0 {
                return Err(wait);
            }
            route.remaining -= 1;
        }
        self.spread(now)
    }

    /// Four fifths of them go one after the other in slots of a second, and one fifth may be saved
    /// up for a moment with more.
    fn spread(&mut self, now: Instant) -> Result<(), Duration> {
        let Some(a_second) = self.a_second.filter(|&most| most > 0) else {
            return Ok(());
        };
        let at_once = (a_second / 5).max(1);
        let slot = Duration::from_secs(1) / a_second.saturating_sub(at_once).max(1);
        let earliest = now.checked_sub(slot * (at_once - 1)).unwrap_or(now);
        let next = self.next.map_or(earliest, |next| next.max(earliest));
        if next > now {
            return Err(next - now);
        }
        self.next = Some(next + slot);
        Ok(())
    }

    /// An answer told of its route.
    pub fn told(&mut self, key: Option<&K>, told: Told, now: Instant) {
        let (Some(key), Some(remaining), Some(after)) = (key, told.remaining, told.reset_after)
        else {
            return;
        };
        if self.routes.len() >= ROUTES_KEPT {
            self.routes.retain(|_, route| route.until > now);
        }
        let until = now + after;
        let route = self
            .routes
            .entry(key.clone())
            .or_insert(Route { remaining, until });
        // Answers overtake each other: of one window the lowest count is the true one.
        route.remaining = if route.until > now {
            route.remaining.min(remaining)
        } else {
            remaining
        };
        route.until = until;
    }

    /// The platform refused a request because there were too many.
    pub fn refused(&mut self, key: Option<&K>, everything: bool, wait: Duration, now: Instant) {
        let until = now + wait.min(LONGEST);
        if everything {
            // A server that counts all requests: what comes after the wait goes no faster than it
            // allows, or all of it would be refused once more.
            self.a_second = self.a_second.or(Some(REQUESTS_A_SECOND));
            self.closed = Some(self.closed.map_or(until, |closed| closed.max(until)));
        } else if let Some(key) = key {
            let remaining = 0;
            self.routes.insert(key.clone(), Route { remaining, until });
        }
    }
}

fn left(until: Option<Instant>, now: Instant) -> Option<Duration> {
    until
        .map(|until| until.saturating_duration_since(now))
        .filter(|wait| !wait.is_zero())
}

#[cfg(test)]
mod tests {
    use super::*;

    const SECOND: Duration = Duration::from_secs(1);

    fn told(remaining: u32, secs: u64) -> Told {
        Told {
            remaining: Some(remaining),
            reset_after: Some(Duration::from_secs(secs)),
        }
    }

    #[test]
    fn a_used_up_route_waits_for_its_reset_and_others_do_not() {
        let (mut pace, now) = (Pace::new(None), Instant::now());
        pace.told(Some(&"a"), told(1, 5), now);
        assert_eq!(pace.take(Some(&"a"), now), Ok(()));
        assert_eq!(pace.take(Some(&"a"), now + SECOND), Err(4 * SECOND));
        assert_eq!(pace.take(Some(&"b"), now), Ok(()));
        assert_eq!(pace.take(None, now), Ok(()));
        assert_eq!(pace.take(Some(&"a"), now + 5 * SECOND), Ok(()));
    }

    #[test]
    fn answers_that_overtake_each_other_leave_the_lowest_count() {
        let (mut pace, now) = (Pace::new(None), Instant::now());
        pace.told(Some(&"a"), told(0, 5), now);
        pace.told(Some(&"a"), told(3, 5), now);
        assert!(pace.take(Some(&"a"), now).is_err());
    }

    #[test]
    fn a_refusal_of_everything_closes_every_route_but_interactions() {
        let (mut pace, now) = (Pace::new(None), Instant::now());
        pace.refused(Some(&"a"), true, 2 * SECOND, now);
        assert_eq!(pace.take(Some(&"b"), now), Err(2 * SECOND));
        assert_eq!(pace.take(None, now), Ok(()));
        assert_eq!(pace.take(Some(&"b"), now + 2 * SECOND), Ok(()));
    }

    #[test]
    fn headers_that_are_no_seconds_are_not_believed() {
        assert_eq!(seconds("1.5"), Some(Duration::from_millis(1500)));
        for text in ["soon", "-1", "NaN", "inf", "1e30", ""] {
            assert_eq!(seconds(text), None, "{text}");
        }
        let (mut pace, now) = (Pace::new(None), Instant::now());
        pace.told(
            Some(&"a"),
            Told {
                remaining: Some(0),
                reset_after: None,
            },
            now,
        );
        assert_eq!(pace.take(Some(&"a"), now), Ok(()));
    }

    /// When each request goes of as many as want to, at once and always.
    fn goes(mut pace: Pace<&str>, start: Instant, whole: Duration) -> Vec<Instant> {
        let (mut now, mut gone) = (start, Vec::new());
        while now < start + whole {
            match pace.take(Some(&"a"), now) {
                Ok(()) => gone.push(now),
                Err(wait) => now += wait,
            }
        }
        gone
    }

    #[test]
    fn spread_requests_exceed_the_rate_in_no_second() {
        let start = Instant::now();
        for most in [10, 45, 50] {
            let gone = goes(Pace::new(Some(most)), start, 5 * SECOND);
            for (n, first) in gone.iter().enumerate() {
                let within = gone[n..].iter().take_while(|at| **at < *first + SECOND);
                assert!(within.count() <= usize::try_from(most).expect("small"));
            }
            let least = usize::try_from(5 * most * 3 / 4).expect("small");
            assert!(gone.len() >= least, "{most}: {}", gone.len());
        }
    }

    #[test]
    fn a_refusal_of_everything_has_what_follows_spread() {
        let (mut pace, now) = (Pace::new(None), Instant::now());
        pace.refused(Some(&"a"), true, SECOND, now);
        let gone = goes(pace, now + SECOND, SECOND);
        assert!(gone.len() <= 50, "{}", gone.len());
    }
}
