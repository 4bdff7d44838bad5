//! What waits to be worked on: one queue in the order of arrival, so that two messages of one
//! lifter are never swapped, with channels that can be held back while their history is read.
//!
//! It is bounded. A message that finds it full is not lost: the channel is then read anew from its
//! history, which keeps messages longer than any queue could.

use std::collections::{HashMap, VecDeque};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tokio::sync::{Notify, oneshot};

use super::wire::Id;
use crate::bot::event::Event;

/// The most items that wait in all.
const WAITING: usize = 20_000;
/// The most items that wait behind one held channel.
const HELD: usize = 2_000;

/// How what comes of an item is told to whoever waits for it.
pub type Answer<T> = oneshot::Sender<T>;

/// Something to work on.
#[derive(Debug)]
pub struct Item<T> {
    /// The channel that it belongs to.
    pub channel: Option<Id>,
    /// The event; `None` marks a place in the queue.
    pub event: Option<Event>,
    /// Who waits for what comes of it.
    pub answer: Option<Answer<T>>,
}

impl<T> Item<T> {
    /// Whether it is time that passes.
    pub const fn is_clock(&self) -> bool {
        matches!(self.event, Some(Event::Clock(_)))
    }
}

/// What became of an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It waits.
    Yes,
    /// There is no room: read the channel's history instead.
    Full,
}

#[derive(Debug)]
struct Queues<T> {
    ready: VecDeque<Item<T>>,
    held: HashMap<Id, VecDeque<Item<T>>>,
}

/// The queue.
#[derive(Debug)]
pub struct Inbox<T> {
    queues: Mutex<Queues<T>>,
    more: Notify,
}

impl<T> Default for Inbox<T> {
    fn default() -> Self {
        Self {
            queues: Mutex::new(Queues {
                ready: VecDeque::new(),
                held: HashMap::new(),
            }),
            more: Notify::new(),
        }
    }
}

impl<T> Inbox<T> {
    fn queues(&self) -> MutexGuard<'_, Queues<T>> {
        self.queues.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts an item behind all others of its channel.
    pub fn push(&self, item: Item<T>) -> Taken {
        let mut queues = self.queues();
        let full = queues.ready.len() >= WAITING;
        let held = item
            .channel
            .and_then(|channel| queues.held.get_mut(&channel));
        match held {
            Some(held) if held.len() >= HELD => return Taken::Full,
            Some(held) => held.push_back(item),
            // Whoever waits for an answer has no history to be found in.
            None if full && item.answer.is_none() => return Taken::Full,
            None => {
                queues.ready.push_back(item);
                self.more.notify_one();
            }
        }
        Taken::Yes
    }

    /// Puts an item before those that a held channel keeps back.
    pub fn push_past(&self, item: Item<T>) {
        self.queues().ready.push_back(item);
        self.more.notify_one();
    }

    /// Keeps this channel's coming items back; false when they already were.
    pub fn hold(&self, channel: Id) -> bool {
        let mut queues = self.queues();
        if queues.held.contains_key(&channel) {
            return false;
        }
        queues.held.insert(channel, VecDeque::new());
        true
    }

    /// Lets a channel's items go on, those that `keep` keeps.
    pub fn release(&self, channel: Id, keep: impl Fn(&Event) -> bool) {
        let mut queues = self.queues();
        let held = queues.held.remove(&channel).unwrap_or_default();
        let kept = held
            .into_iter()
            .filter(|item| item.event.as_ref().is_none_or(&keep));
        queues.ready.extend(kept);
        self.more.notify_one();
    }

    /// Waits for items and takes up to `most` of them, in order.
    pub async fn take(&self, most: usize) -> Vec<Item<T>> {
        loop {
            {
                let mut queues = self.queues();
                let count = queues.ready.len().min(most);
                if count > 0 {
                    return queues.ready.drain(..count).collect();
                }
            }
            self.more.notified().await;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::event::Clock;
    use chrono::DateTime;

    fn item(channel: u64, n: i64) -> Item<()> {
        Item {
            channel: Id::new(channel),
            event: Some(Event::Clock(Clock {
                team: None,
                at: DateTime::from_timestamp(n, 0).expect("a time"),
            })),
            answer: None,
        }
    }

    async fn order(inbox: &Inbox<()>) -> Vec<i64> {
        let items = inbox.take(100).await;
        items
            .iter()
            .filter_map(|item| Some(item.event.as_ref()?.at().timestamp()))
            .collect()
    }

    #[tokio::test]
    async fn items_come_out_as_they_went_in() {
        let inbox = Inbox::default();
        for n in 0..10_i64 {
            assert_eq!(inbox.push(item(1 + n.unsigned_abs() % 3, n)), Taken::Yes);
        }
        assert_eq!(order(&inbox).await, (0..10).collect::<Vec<_>>());
    }

    #[tokio::test]
    async fn a_held_channel_waits_and_others_go_on() {
        let inbox = Inbox::default();
        let channel = Id::new(1).expect("above zero");
        inbox.push(item(1, 0));
        assert!(inbox.hold(channel) && !inbox.hold(channel));
        inbox.push(item(1, 1));
        inbox.push(item(2, 2));
        inbox.push_past(item(1, 3));
        assert_eq!(order(&inbox).await, [0, 2, 3]);
        inbox.push(item(1, 4));
        inbox.release(channel, |event| event.at().timestamp() != 4);
        assert_eq!(order(&inbox).await, [1]);
    }

    #[test]
    fn a_full_queue_says_so_and_keeps_what_it_has() {
        let inbox = Inbox::default();
        for n in 0..WAITING {
            assert_eq!(
                inbox.push(item(1, i64::try_from(n).expect("small"))),
                Taken::Yes
            );
        }
        assert_eq!(inbox.push(item(1, 0)), Taken::Full);
        inbox.hold(Id::new(2).expect("above zero"));
        for _ in 0..HELD {
            assert_eq!(inbox.push(item(2, 0)), Taken::Yes);
        }
        assert_eq!(inbox.push(item(2, 0)), Taken::Full);
    }
}
