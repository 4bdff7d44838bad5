//! How fast requests may go: the platform's answers say how many requests a bucket has left, and when
//! it is full again.
//!
//! Pure bookkeeping: the time comes in, a time to wait comes out. Headers that cannot be read
//! change nothing. *topics/rate-limits* of the platform's documentation: a bucket's name comes with
//! the answers, is shared by several routes, and is counted for each channel, community or webhook by
//! itself; interactions are not bound to the limit over all routes.
//!
//! A kept library was weighed for this, `twilight-http-ratelimiting` 0.18. It counts all requests in
//! windows that begin with the first, so that twice as many may fall into one second across a
//! border (`spread_requests_exceed_the_rate_in_no_second`), knows no refusal of all routes
//! (`a_refusal_of_everything_closes_every_route_but_interactions`), and lets one request at a time go to
//! all interactions together (`a_hundred_commands_are_acknowledged_under_a_global_refusal`).

use std::collections::HashMap;
use std::time::Duration;

use reqwest::Method;
use tokio::time::Instant;

use crate::channel::discord::limits::REQUESTS_A_SECOND;

/// Buckets kept in mind before those that are full again are forgotten.
const BUCKETS_KEPT: usize = 4096;

/// The longest wait that is believed.
const LONGEST: Duration = Duration::from_secs(3600);

/// What a request draws on.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Key {
    /// The method and the kind of address: known before the platform tells the bucket's name.
    pub(crate) route: (Method, &'static str),
    /// The channel, community or webhook that it is counted for.
    pub(crate) of: u64,
    /// Whether it counts towards the limit over all routes.
    pub(crate) global: bool,
}

/// What an answer says of its bucket.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct BucketHeaders {
    /// Its name.
    pub(crate) bucket: Option<String>,
    /// Requests left.
    pub(crate) remaining: Option<u32>,
    /// When there are more again.
    pub(crate) reset_after: Option<Duration>,
}

/// Seconds as the headers write them; `None` for anything that is no sensible number of seconds.
pub(crate) fn seconds(text: &str) -> Option<Duration> {
    let seconds: f64 = text.trim().parse().ok()?;
    let wait = Duration::try_from_secs_f64(seconds).ok()?;
    (wait <= LONGEST).then_some(wait)
}

/// What a bucket is called: by the platform, or by its route until the platform has said.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
enum Name {
    Bucket(String),
    Route((Method, &'static str)),
}

#[derive(Clone, Copy, Debug)]
struct Bucket {
    remaining: u32,
    until: Instant,
}

/// The limits of all routes.
#[derive(Debug)]
pub(crate) struct RateLimits {
    names: HashMap<(Method, &'static str), String>,
    buckets: HashMap<(Name, u64), Bucket>,
    /// Nothing goes before this but interactions.
    closed: Option<Instant>,
    /// The most requests a second over all routes, if they are to be spread.
    a_second: Option<u32>,
    /// When the next request over all routes may go.
    next: Option<Instant>,
}

impl RateLimits {
    /// All routes open; with `a_second`, requests are spread so that no more go out in any second.
    pub(crate) fn new(a_second: Option<u32>) -> Self {
        Self {
            names: HashMap::new(),
            buckets: HashMap::new(),
            closed: None,
            a_second,
            next: None,
        }
    }

    fn bucket_of(&self, key: &Key) -> (Name, u64) {
        let known = self.names.get(&key.route);
        let name = known.map_or_else(
            || Name::Route(key.route.clone()),
            |n| Name::Bucket(n.clone()),
        );
        (name, key.of)
    }

    /// Takes one request of this route's bucket, or tells how long to wait before asking again.
    /// Routes without a key (first answers to interactions) are bound by nothing.
    ///
    /// # Errors
    /// The time to wait.
    pub(crate) fn take(&mut self, key: Option<&Key>, now: Instant) -> Result<(), Duration> {
        let Some(key) = key else { return Ok(()) };
        if let Some(wait) = left(self.closed, now).filter(|_| key.global) {
            return Err(wait);
        }
        let name = self.bucket_of(key);
        let bucket = self.buckets.get(&name).copied();
        let bucket = bucket.filter(|bucket| bucket.until > now);
        if let Some(empty) = bucket.filter(|bucket| bucket.remaining == 0) {
            return Err(empty.until - now);
        }
        if key.global {
            self.spread(now)?;
        }
        if let Some(bucket) = bucket.and_then(|_| self.buckets.get_mut(&name)) {
            bucket.remaining -= 1;
        }
        Ok(())
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

    /// Takes over what an answer says of its bucket.
    pub(crate) fn learn(&mut self, key: Option<&Key>, headers: BucketHeaders, now: Instant) {
        let Some(key) = key else { return };
        if let Some(name) = headers.bucket
            && self.names.get(&key.route) != Some(&name)
        {
            self.names.insert(key.route.clone(), name);
        }
        let (Some(remaining), Some(after)) = (headers.remaining, headers.reset_after) else {
            return;
        };
        if self.buckets.len() >= BUCKETS_KEPT {
            self.buckets.retain(|_, bucket| bucket.until > now);
        }
        let until = now + after;
        let bucket = self.buckets.entry(self.bucket_of(key));
        let bucket = bucket.or_insert(Bucket { remaining, until });
        // Answers overtake each other: of one window the lowest count is the true one.
        bucket.remaining = if bucket.until > now {
            bucket.remaining.min(remaining)
        } else {
            remaining
        };
        bucket.until = until;
    }

    /// The platform refused a request because there were too many.
    pub(crate) fn refused(&mut self, key: &Key, everything: bool, wait: Duration, now: Instant) {
        let until = now + wait.min(LONGEST);
        if everything {
            // A server that counts all requests: what comes after the wait goes no faster than it
            // allows, or all of it would be refused once more.
            self.a_second = self.a_second.or(Some(REQUESTS_A_SECOND));
            self.closed = Some(self.closed.map_or(until, |closed| closed.max(until)));
        } else {
            let remaining = 0;
            self.buckets
                .insert(self.bucket_of(key), Bucket { remaining, until });
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

    fn key(method: Method, kind: &'static str) -> Key {
        Key {
            route: (method, kind),
            of: 7,
            global: true,
        }
    }

    fn post() -> Key {
        key(Method::POST, "messages")
    }

    fn patch() -> Key {
        key(Method::PATCH, "message")
    }

    /// A further answer to an interaction.
    fn further() -> Key {
        Key {
            global: false,
            ..key(Method::POST, "webhook")
        }
    }

    fn headers(remaining: u32, secs: u64) -> BucketHeaders {
        BucketHeaders {
            remaining: Some(remaining),
            reset_after: Some(Duration::from_secs(secs)),
            ..BucketHeaders::default()
        }
    }

    #[test]
    fn a_used_up_route_waits_for_its_reset_and_others_do_not() {
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        limits.learn(Some(&post()), headers(1, 5), now);
        assert_eq!(limits.take(Some(&post()), now), Ok(()));
        assert_eq!(limits.take(Some(&post()), now + SECOND), Err(4 * SECOND));
        assert_eq!(limits.take(Some(&patch()), now), Ok(()));
        assert_eq!(limits.take(None, now), Ok(()));
        assert_eq!(limits.take(Some(&post()), now + 5 * SECOND), Ok(()));
    }

    #[test]
    fn routes_of_one_bucket_are_counted_together_and_channels_apart() {
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        let of_words = |remaining| BucketHeaders {
            bucket: Some("of-words".to_owned()),
            ..headers(remaining, 5)
        };
        // Heard of in another channel.
        let elsewhere = Key { of: 8, ..patch() };
        limits.learn(Some(&elsewhere), of_words(4), now);
        limits.learn(Some(&post()), of_words(0), now);
        assert_eq!(limits.take(Some(&patch()), now), Err(5 * SECOND));
        assert_eq!(limits.take(Some(&elsewhere), now), Ok(()));
    }

    #[test]
    fn answers_that_overtake_each_other_leave_the_lowest_count() {
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        limits.learn(Some(&post()), headers(0, 5), now);
        limits.learn(Some(&post()), headers(3, 5), now);
        assert!(limits.take(Some(&post()), now).is_err());
    }

    #[test]
    fn a_refusal_of_everything_closes_every_route_but_interactions() {
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        limits.refused(&post(), true, 2 * SECOND, now);
        assert_eq!(limits.take(Some(&patch()), now), Err(2 * SECOND));
        assert_eq!(limits.take(None, now), Ok(()));
        assert_eq!(limits.take(Some(&further()), now), Ok(()));
        assert_eq!(limits.take(Some(&patch()), now + 2 * SECOND), Ok(()));
    }

    #[test]
    fn further_answers_take_no_place_of_others_and_have_a_bucket_of_their_own() {
        let (mut limits, now) = (RateLimits::new(Some(1)), Instant::now());
        for _ in 0..5 {
            assert_eq!(limits.take(Some(&further()), now), Ok(()));
        }
        assert_eq!(limits.take(Some(&post()), now), Ok(()));
        limits.refused(&further(), false, SECOND, now);
        assert_eq!(limits.take(Some(&further()), now), Err(SECOND));
    }

    #[test]
    fn a_request_that_waits_for_its_second_takes_nothing_of_its_bucket() {
        let (mut limits, now) = (RateLimits::new(Some(1)), Instant::now());
        limits.learn(Some(&post()), headers(1, 5), now);
        assert_eq!(limits.take(Some(&patch()), now), Ok(()));
        assert!(limits.take(Some(&post()), now).is_err());
        assert_eq!(limits.take(Some(&post()), now + SECOND), Ok(()));
    }

    #[test]
    fn headers_that_are_no_seconds_are_not_believed() {
        assert_eq!(seconds("1.5"), Some(Duration::from_millis(1500)));
        for text in ["soon", "-1", "NaN", "inf", "1e30", ""] {
            assert_eq!(seconds(text), None, "{text}");
        }
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        let headers = BucketHeaders {
            remaining: Some(0),
            ..BucketHeaders::default()
        };
        limits.learn(Some(&post()), headers, now);
        assert_eq!(limits.take(Some(&post()), now), Ok(()));
    }

    /// When each request goes of as many as want to, at once and always.
    fn goes(mut limits: RateLimits, start: Instant, whole: Duration) -> Vec<Instant> {
        let (mut now, mut gone) = (start, Vec::new());
        while now < start + whole {
            match limits.take(Some(&post()), now) {
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
            let gone = goes(RateLimits::new(Some(most)), start, 5 * SECOND);
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
        let (mut limits, now) = (RateLimits::new(None), Instant::now());
        limits.refused(&post(), true, SECOND, now);
        let gone = goes(limits, now + SECOND, SECOND);
        assert!(gone.len() <= 50, "{}", gone.len());
    }
}
