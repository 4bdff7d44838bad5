//! When gateway sessions may begin: one at a time in each bucket of shards, a few seconds apart.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use tokio::time::Instant;

use super::limits;

/// When sessions may begin. *topics/gateway#session-start-limit-object*.
#[derive(Debug)]
pub struct Pacer {
    buckets: u32,
    next: Mutex<HashMap<u32, Instant>>,
}

impl Pacer {
    /// So many sessions may begin at once.
    #[must_use]
    pub fn new(at_once: u32) -> Self {
        Self {
            buckets: at_once.max(1),
            next: Mutex::default(),
        }
    }

    /// Books the next place in this shard's bucket; how long to wait for it.
    pub fn book(&self, shard: u32) -> Duration {
        let now = Instant::now();
        let mut next = self.next.lock().unwrap_or_else(PoisonError::into_inner);
        let place = next.entry(shard % self.buckets).or_insert(now);
        let mine = (*place).max(now);
        *place = mine + limits::IDENTIFY_EVERY;
        mine - now
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn sessions_of_one_bucket_begin_one_after_the_other() {
        let pacer = Pacer::new(2);
        let waits: Vec<_> = (0..5)
            .map(|shard| pacer.book(shard).as_millis().div_ceil(1000))
            .collect();
        assert_eq!(waits, [0, 0, 5, 5, 10]);
    }
}
