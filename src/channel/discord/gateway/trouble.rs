//! What an operator hears of connections that end. Single ends belong to every day and are noted at
//! info; what the platform finds fault with, and what repeats, is told once, with what to do.

use std::collections::HashSet;
use std::time::Duration;

use super::session::Ended;

/// So many ends after one another, without a session between that lasted, are a loop.
const REPEATED: u32 = 3;

/// What was told of one shard's connections.
#[derive(Debug)]
pub(super) struct Trouble {
    shard: u32,
    /// Close codes that were told.
    codes: HashSet<u16>,
    /// The code of the connection that just ended, if it finds fault.
    fault: Option<u16>,
    /// The operator was told of a loop.
    looping: bool,
}

impl Trouble {
    pub(super) fn new(shard: u32) -> Self {
        Self {
            shard,
            codes: HashSet::new(),
            fault: None,
            looping: false,
        }
    }

    /// The gateway closed the connection with this code.
    pub(super) fn closed(&mut self, code: u16) {
        if Ended::finds_fault(code) && self.codes.insert(code) {
            self.fault = Some(code);
        }
    }

    /// A connection ended: the how-manieth after one another, whether its session is resumed, and
    /// when it is opened again.
    pub(super) fn ended(&mut self, why: &str, failures: u32, resumes: bool, wait: Duration) {
        let (shard, wait_ms) = (self.shard, wait.as_millis());
        if self.fault.take().is_some() {
            tracing::warn!(
                shard,
                why,
                resumes,
                "the gateway found fault with this program; it connects again. If it goes on, look for \
                 a newer version of chalkbell"
            );
        }
        if failures >= REPEATED && !self.looping {
            self.looping = true;
            tracing::warn!(
                shard,
                why,
                failures,
                "the gateway ends every connection, and nothing posted is read; it is tried again, at \
                 least every 40 s. See whether the platform has trouble, and whether \
                 CHALKBELL_DISCORD_API and the network let this machine reach it"
            );
        } else {
            tracing::info!(
                shard,
                why,
                resumes,
                wait_ms,
                "the gateway connection ended; it is opened again"
            );
        }
    }

    /// A connection lasted.
    pub(super) fn over(&mut self) {
        if std::mem::take(&mut self.looping) {
            tracing::warn!(shard = self.shard, "the gateway connection stands again");
        }
    }
}
