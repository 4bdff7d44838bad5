//! Sent messages: where each reply stands, and which of its texts it shows. Cached, and stored a
//! little later, many at a time.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::outbox::Ticket;
use super::recent::Recent;
use crate::channel::discord::wire::Id;
use crate::store::discord::Posted;
use crate::store::{Store, StoreError, Tx};

/// The text that a reply shows, by the row of the outbox that it came with.
#[derive(Clone, Debug)]
pub(crate) enum Shows {
    /// A row of this run.
    Ticket(Arc<Ticket>),
    /// A row by its place in the order of commits; 0 where that is not known.
    Row(i64),
}

impl Shows {
    /// Whether this text was committed later than that row.
    pub(crate) fn is_later_than(&self, ticket: &Ticket) -> bool {
        match self {
            Self::Ticket(shown) => shown.order(ticket).is_gt(),
            Self::Row(shown) => ticket.id().is_some_and(|id| id < *shown),
        }
    }

    fn id(&self) -> i64 {
        match self {
            Self::Ticket(ticket) => ticket.id().unwrap_or(0),
            Self::Row(id) => *id,
        }
    }
}

/// Where a reply stands, or stood.
#[derive(Clone, Debug)]
pub(crate) struct SentMessage {
    pub(crate) channel: Id,
    pub(crate) message: Id,
    /// It was taken back.
    pub(crate) gone: bool,
    pub(crate) shows: Shows,
}

type ReplyKey = (String, String);

#[derive(Debug, Default)]
struct Cached {
    messages: Recent<ReplyKey, SentMessage>,
    replies: Recent<Id, ReplyKey>,
    unstored: HashMap<ReplyKey, SentMessage>,
}

/// The sent messages.
#[derive(Debug, Default)]
pub struct Sent {
    cached: Mutex<Cached>,
}

impl Sent {
    fn cached(&self) -> MutexGuard<'_, Cached> {
        self.cached.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A reply stands there now, or is gone from there.
    pub(crate) fn note(&self, team: &str, reply: &str, sent: SentMessage) {
        let key = (team.to_owned(), reply.to_owned());
        let mut cached = self.cached();
        if sent.gone {
            cached.replies.remove(&sent.message);
        } else {
            cached.replies.put(sent.message, key.clone());
        }
        cached.messages.put(key.clone(), sent.clone());
        cached.unstored.insert(key, sent);
    }

    /// Where a reply stands, by what is cached.
    pub(crate) fn at_hand(&self, team: &str, reply: &str) -> Option<SentMessage> {
        let key = (team.to_owned(), reply.to_owned());
        self.cached().messages.get(&key).cloned()
    }

    /// Where a reply stands.
    pub(crate) async fn find(
        &self,
        store: &Store,
        team: &str,
        reply: &str,
    ) -> Result<Option<SentMessage>, StoreError> {
        if let Some(sent) = self.at_hand(team, reply) {
            return Ok(Some(sent));
        }
        let mut tx = store.begin().await?;
        let of_team = tx.team(team).await?;
        let posted = tx.posted(&of_team, reply).await?;
        tx.rollback().await?;
        Ok(posted.and_then(|posted| {
            Some(SentMessage {
                channel: Id::new(posted.channel)?,
                message: Id::new(posted.message)?,
                gone: posted.gone,
                shows: Shows::Row(posted.sent),
            })
        }))
    }

    /// The team's reply that a message is.
    pub async fn reply_at(
        &self,
        store: &Store,
        team: &str,
        message: Id,
    ) -> Result<Option<String>, StoreError> {
        let known = self.cached().replies.get(&message).cloned();
        if let Some((of, reply)) = known {
            return Ok((of == team).then_some(reply));
        }
        let mut tx = store.begin().await?;
        let team = tx.team(team).await?;
        let posted = tx.reply_at(&team, message.get()).await?;
        tx.rollback().await?;
        Ok(posted.map(|posted| posted.reply))
    }

    /// A message of the bot's own was deleted: whichever reply it was stands nowhere any more.
    pub fn message_gone(&self, message: Id) {
        let known = self.cached().replies.get(&message).cloned();
        let Some((team, reply)) = known else { return };
        if let Some(sent) = self.at_hand(&team, &reply) {
            let gone = SentMessage { gone: true, ..sent };
            self.note(&team, &reply, gone);
        }
    }

    /// What is not stored yet; it counts as stored.
    pub(crate) fn take_unstored(&self) -> Unstored {
        Unstored(std::mem::take(&mut self.cached().unstored))
    }

    /// These could not be stored after all.
    pub(crate) fn put_back(&self, unstored: Unstored) {
        let mut cached = self.cached();
        for (key, sent) in unstored.0 {
            // What was noted meanwhile is newer.
            cached.unstored.entry(key).or_insert(sent);
        }
    }
}

/// BoundChannels that are to be stored.
#[derive(Debug)]
pub(crate) struct Unstored(HashMap<ReplyKey, SentMessage>);

impl Unstored {
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Stores them.
    pub(crate) async fn write(&self, tx: &mut Tx) -> Result<(), StoreError> {
        let mut of_teams: BTreeMap<&str, Vec<Posted>> = BTreeMap::new();
        for ((team, reply), sent) in &self.0 {
            of_teams.entry(team).or_default().push(Posted {
                reply: reply.clone(),
                channel: sent.channel.get(),
                message: sent.message.get(),
                sent: sent.shows.id(),
                gone: sent.gone,
            });
        }
        for (team, posted) in of_teams {
            let team = tx.team(team).await?;
            tx.put_posted(&team, &posted).await?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn what_was_sent_is_stored_and_found_again() {
        let store = Store::open("sqlite::memory:").await.expect("a store");
        let id = |n| Id::new(n).expect("above zero");
        let message = |gone| SentMessage {
            channel: id(5),
            message: id(6),
            gone,
            shows: Shows::Row(3),
        };
        for gone in [false, true] {
            let sent = Sent::default();
            sent.note("discord:9", "1.1", message(gone));
            let mut tx = store.begin().await.expect("a transaction");
            sent.take_unstored().write(&mut tx).await.expect("stored");
            tx.commit().await.expect("stored");
            let later = Sent::default();
            let found = later.find(&store, "discord:9", "1.1").await;
            let found = found.expect("read").expect("a message");
            assert_eq!((found.message, found.gone), (id(6), gone));
            assert_eq!(found.shows.id(), 3);
            for (team, here) in [("discord:9", !gone), ("discord:8", false)] {
                let reply = later.reply_at(&store, team, id(6)).await.expect("read");
                assert_eq!(reply.as_deref() == Some("1.1"), here, "{team}");
            }
        }
    }
}
