//! When gateway sessions may begin: so many a day for one token, and a few seconds apart.
//!
//! The platform ends all sessions of a bot that begins more than its day's number, and resets its
//! token (*topics/gateway#rate-limiting*, *#session-start-limit-object*). The counting is a
//! library's; since other processes use the same token, its count is set right by the platform's
//! own before every session but the first.

use std::time::Duration;

use reqwest::Method;
use serde::Deserialize;
use tokio::sync::Mutex;
use twilight_gateway_queue::{InMemoryQueue, Queue as _};

use crate::channel::discord::http::{Call, Rest, RestError, Route};

/// What the platform says before a gateway connection. *topics/gateway#get-gateway-bot*.
#[derive(Debug, Deserialize)]
pub struct Gateway {
    /// Where it is.
    pub url: String,
    /// Not told by a server that knows the shorter request alone.
    #[serde(default)]
    pub session_start_limit: Option<StartLimit>,
}

/// How many sessions may begin. *topics/gateway#session-start-limit-object*.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(default)]
pub struct StartLimit {
    /// In a day.
    total: u32,
    /// Of these, still.
    remaining: u32,
    /// Milliseconds until there are all of them again.
    reset_after: u64,
    /// At once, of different buckets of shards.
    max_concurrency: u16,
}

impl Default for StartLimit {
    /// The platform's own figures for a small bot. The same page.
    fn default() -> Self {
        Self {
            total: 1000,
            remaining: 1000,
            reset_after: 0,
            max_concurrency: 1,
        }
    }
}

impl StartLimit {
    fn reset_after(self) -> Duration {
        // A day, where nothing is said: the count is then never filled up too early.
        match self.reset_after {
            0 => Duration::from_secs(24 * 60 * 60),
            ms => Duration::from_millis(ms),
        }
    }

    fn at_once(self) -> u16 {
        self.max_concurrency.max(1)
    }

    fn total(self) -> u32 {
        self.total.max(self.remaining)
    }
}

/// How long the platform is asked for its count before the own one is trusted.
const ASKED_FOR: Duration = Duration::from_secs(10);

/// Counts the sessions that begin.
#[derive(Debug)]
pub struct SessionStarts {
    queue: InMemoryQueue,
    /// The count is fresh: it came with the gateway's address. Held while somebody asks, so that
    /// several that begin at once ask one after the other.
    fresh: Mutex<bool>,
    /// Whether the platform tells a count at all.
    counted: bool,
}

impl SessionStarts {
    /// From what the platform told with its address.
    pub fn new(told: Option<StartLimit>) -> Self {
        let limit = told.unwrap_or_default();
        let (at_once, total) = (limit.at_once(), limit.total());
        tell_if_used_up(limit);
        Self {
            queue: InMemoryQueue::new(at_once, limit.remaining, limit.reset_after(), total),
            fresh: Mutex::new(true),
            counted: told.is_some(),
        }
    }

    /// Waits until a session of this shard may begin.
    pub async fn turn(&self, shard: u32, rest: &Rest) {
        if self.counted {
            self.refresh(rest).await;
        }
        // It ends with the program alone.
        let _ = self.queue.enqueue(shard).await;
    }

    async fn refresh(&self, rest: &Rest) {
        let mut fresh = self.fresh.lock().await;
        if std::mem::take(&mut *fresh) {
            return;
        }
        let mut call = Call::new(Method::GET, Route::GatewayBot);
        call.patience = ASKED_FOR;
        let told: Result<Gateway, RestError> = rest.fetch(&call).await;
        match told.map(|gateway| gateway.session_start_limit) {
            Ok(Some(limit)) => {
                tell_if_used_up(limit);
                let (at_once, total) = (limit.at_once(), limit.total());
                self.queue
                    .update(at_once, limit.remaining, limit.reset_after(), total);
            }
            Ok(None) => {}
            Err(error) => tracing::debug!(%error, "the count of sessions is not told"),
        }
    }
}

fn tell_if_used_up(limit: StartLimit) {
    if limit.remaining == 0 {
        tracing::warn!(
            wait_s = limit.reset_after().as_secs(),
            "the day's {} gateway sessions are used up; the next begins when the platform counts \
             anew. Find out which program with the same token connects so often",
            limit.total()
        );
    }
}
