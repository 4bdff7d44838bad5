//! What waits to be sent: for each channel one line of replies and one of signs. What waits for the
//! same reply is sent once, as it last was. A line that grows too long sheds running cards first:
//! the next set makes a new one.

use std::collections::{HashMap, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::time::Instant;

use super::ledger::Ticket;
use super::wire::Id;
use crate::bot::reply::{Reply, Sign};

/// Replies in a line beyond which cards are shed.
const CARDS_FROM: usize = 1000;
/// Replies in a line beyond which anything is.
const REPLIES: usize = 2000;
/// Signs in a line beyond which the oldest are shed.
const SIGNS: usize = 10_000;
/// A missing permission is told once in this time.
const TELL_EVERY: Duration = Duration::from_secs(600);

/// A reply that waits.
#[derive(Debug)]
pub(super) struct Job {
    pub(super) reply: Reply,
    /// It changes one that may stand already.
    pub(super) update: bool,
    /// It may have been posted before the program was started.
    pub(super) check: bool,
    pub(super) tickets: Vec<Arc<Ticket>>,
    pub(super) since: Instant,
}

impl Job {
    /// Becomes what the same reply is later.
    fn take_up(&mut self, later: Self) {
        self.tickets.extend(later.tickets);
        self.check |= later.check;
        self.since = later.since;
        if self.update && !later.update {
            // The reply as it was at first, told again: its change is newer.
            return;
        }
        let mentions = std::mem::replace(&mut self.reply, later.reply).mentions;
        if !self.update && self.reply.mentions.is_empty() {
            self.reply.mentions = mentions;
        }
        // It may stand as it was before this change; then it is not done with standing.
        self.update |= later.update && self.check;
    }

    /// The bell: somebody is called by it.
    fn is_bell(&self) -> bool {
        !self.reply.mentions.is_empty() && !self.update
    }

    /// The running card: with advice, and nobody called by it.
    pub(super) fn is_card(&self) -> bool {
        self.reply.advice.is_some() && self.reply.mentions.is_empty()
    }
}

/// A sign that waits.
#[derive(Debug)]
pub(super) struct SignJob {
    pub(super) message: Id,
    pub(super) sign: Sign,
    /// Held until the sign is set or given up.
    pub(super) _tickets: Vec<Arc<Ticket>>,
}

#[derive(Debug, Default)]
struct Lane {
    replies: VecDeque<Job>,
    signs: VecDeque<SignJob>,
    replying: bool,
    signing: bool,
}

/// The lines of all channels.
#[derive(Debug, Default)]
pub struct Lanes {
    lanes: Mutex<HashMap<Id, Lane>>,
    signs: Mutex<super::ledger::Recent<Id, Sign>>,
    told: Mutex<HashMap<Id, Instant>>,
}

impl Lanes {
    fn lanes(&self) -> MutexGuard<'_, HashMap<Id, Lane>> {
        self.lanes.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts a reply into its line; whether somebody must begin to work on it.
    pub(super) fn put(&self, channel: Id, job: Job) -> bool {
        let mut lanes = self.lanes();
        let lane = lanes.entry(channel).or_default();
        let waits = lane
            .replies
            .iter()
            .position(|one| one.reply.id == job.reply.id && one.reply.team == job.reply.team);
        if let Some(waiting) = waits.and_then(|place| lane.replies.get_mut(place)) {
            waiting.take_up(job);
        } else {
            lane.replies.push_back(job);
            shed(&mut lane.replies);
        }
        !std::mem::replace(&mut lane.replying, true)
    }

    pub(super) fn put_sign(&self, channel: Id, job: SignJob) -> bool {
        let mut lanes = self.lanes();
        let lane = lanes.entry(channel).or_default();
        lane.signs.push_back(job);
        if lane.signs.len() > SIGNS {
            lane.signs.pop_front();
        }
        !std::mem::replace(&mut lane.signing, true)
    }

    /// The next reply of a line: bells first, then what is no card. `None` ends the work on it.
    pub(super) fn next(&self, channel: Id) -> Option<Job> {
        let mut lanes = self.lanes();
        let lane = lanes.get_mut(&channel)?;
        let bell = lane.replies.iter().position(Job::is_bell);
        let urgent = bell.or_else(|| lane.replies.iter().position(|job| !job.is_card()));
        let next = lane.replies.remove(urgent.unwrap_or(0));
        if next.is_none() {
            lane.replying = false;
            if !lane.signing {
                lanes.remove(&channel);
            }
        }
        next
    }

    pub(super) fn next_sign(&self, channel: Id) -> Option<SignJob> {
        let mut lanes = self.lanes();
        let lane = lanes.get_mut(&channel)?;
        let next = lane.signs.pop_front();
        if next.is_none() {
            lane.signing = false;
            if !lane.replying {
                lanes.remove(&channel);
            }
        }
        next
    }

    /// Takes note of a message's sign; the one before.
    pub(super) fn signed(&self, message: Id, sign: Sign) -> Option<Sign> {
        let mut signs = self.signs.lock().unwrap_or_else(PoisonError::into_inner);
        signs.put(message, sign)
    }

    /// Whether nothing waits.
    #[must_use]
    pub fn are_empty(&self) -> bool {
        self.lanes().is_empty()
    }

    /// Whether a channel's fault is to be told now.
    pub(super) fn tells(&self, channel: Id, now: Instant) -> bool {
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        let recent = told.get(&channel).is_some_and(|at| now - *at < TELL_EVERY);
        if !recent {
            told.insert(channel, now);
        }
        !recent
    }
}

/// Takes the oldest cards out of a line that is too long, and then the oldest of anything.
fn shed(replies: &mut VecDeque<Job>) {
    if replies.len() > CARDS_FROM
        && let Some(place) = replies.iter().position(Job::is_card)
    {
        tracing::warn!("too much waits to be sent; a card is left out");
        replies.remove(place);
    }
    if replies.len() > REPLIES {
        tracing::warn!("too much waits to be sent; a reply is left out");
        replies.pop_front();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn job(text: &str, update: bool, check: bool) -> Job {
        Job {
            reply: Reply {
                text: text.to_owned(),
                ..Reply::default()
            },
            update,
            check,
            tickets: Vec::new(),
            since: Instant::now(),
        }
    }

    #[test]
    fn what_waits_is_sent_once_as_it_last_was() {
        for (waiting, later, text, update) in [
            (job("a", false, false), job("b", true, false), "b", false),
            // The first may stand: what it is now must be put in its place.
            (job("a", false, true), job("b", true, false), "b", true),
            (job("b", true, false), job("c", true, false), "c", true),
            // The first once more, behind its change.
            (job("b", true, false), job("a", false, true), "b", true),
        ] {
            let mut one = waiting;
            one.take_up(later);
            assert_eq!((one.reply.text.as_str(), one.update), (text, update));
        }
    }

    #[test]
    fn a_call_outlives_a_change_before_it_is_made() {
        let mut bell = job("rest over", false, false);
        bell.reply.mentions = vec!["1".to_owned()];
        bell.take_up(job("rest over, 80 kg", true, false));
        assert_eq!(bell.reply.mentions, ["1"]);
    }
}
