//! What was sent: where each reply stands, and which answers need not be kept any longer. At hand
//! in memory, and stored a little later, many at a time.

use std::collections::{BTreeMap, HashMap};
use std::hash::Hash;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::wire::Id;
use crate::store::discord::Posted;
use crate::store::{Store, StoreError};

/// Entries in a generation of memory.
const KEPT: usize = 20_000;

/// Remembers the latest entries: at least [`KEPT`] of them, at most twice as many.
#[derive(Debug)]
pub struct Recent<K, V> {
    young: HashMap<K, V>,
    old: HashMap<K, V>,
}

impl<K, V> Default for Recent<K, V> {
    fn default() -> Self {
        Self {
            young: HashMap::new(),
            old: HashMap::new(),
        }
    }
}

impl<K: Eq + Hash, V> Recent<K, V> {
    /// Remembers an entry; the one before it under the same key.
    pub fn put(&mut self, key: K, value: V) -> Option<V> {
        if self.young.len() >= KEPT {
            self.old = std::mem::take(&mut self.young);
        }
        let old = self.old.remove(&key);
        self.young.insert(key, value).or(old)
    }

    /// The entry, if it is remembered.
    #[must_use]
    pub fn get(&self, key: &K) -> Option<&V> {
        self.young.get(key).or_else(|| self.old.get(key))
    }

    /// Forgets an entry.
    pub fn remove(&mut self, key: &K) -> Option<V> {
        let old = self.old.remove(key);
        self.young.remove(key).or(old)
    }
}

type ReplyKey = (String, String);

#[derive(Debug, Default)]
struct Pages {
    posted: Recent<ReplyKey, (Id, Id)>,
    replies: Recent<Id, ReplyKey>,
    /// Not stored yet: posted there, or gone.
    unstored: Vec<(ReplyKey, Option<(Id, Id)>)>,
    sent: Vec<String>,
}

/// The ledger.
#[derive(Debug, Default)]
pub struct Ledger {
    pages: Mutex<Pages>,
}

/// An answer that is kept until this is dropped: when it was sent, or is not worth sending.
#[derive(Debug)]
pub struct Ticket {
    key: String,
    ledger: Arc<Ledger>,
}

impl Ticket {
    /// The ticket of the answer kept under this key.
    #[must_use]
    pub fn new(key: String, ledger: &Arc<Ledger>) -> Arc<Self> {
        Arc::new(Self {
            key,
            ledger: Arc::clone(ledger),
        })
    }
}

impl Drop for Ticket {
    fn drop(&mut self) {
        let key = std::mem::take(&mut self.key);
        self.ledger.pages().sent.push(key);
    }
}

impl Ledger {
    fn pages(&self) -> MutexGuard<'_, Pages> {
        self.pages.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A reply stands there now.
    pub fn posted(&self, team: &str, reply: &str, channel: Id, message: Id) {
        let key = (team.to_owned(), reply.to_owned());
        let mut pages = self.pages();
        pages.posted.put(key.clone(), (channel, message));
        pages.replies.put(message, key.clone());
        pages.unstored.push((key, Some((channel, message))));
    }

    /// A reply stands nowhere any more.
    pub fn gone(&self, team: &str, reply: &str) {
        let key = (team.to_owned(), reply.to_owned());
        let mut pages = self.pages();
        if let Some((_, message)) = pages.posted.remove(&key) {
            pages.replies.remove(&message);
        }
        pages.unstored.push((key, None));
    }

    /// Where a reply stands, by what is at hand.
    #[must_use]
    pub fn at_hand(&self, team: &str, reply: &str) -> Option<(Id, Id)> {
        let key = (team.to_owned(), reply.to_owned());
        self.pages().posted.get(&key).copied()
    }

    /// Where a reply stands.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn place_of(
        &self,
        store: &Store,
        team: &str,
        reply: &str,
    ) -> Result<Option<(Id, Id)>, StoreError> {
        if let Some(place) = self.at_hand(team, reply) {
            return Ok(Some(place));
        }
        let key = (team.to_owned(), reply.to_owned());
        if self
            .pages()
            .unstored
            .iter()
            .any(|(gone, place)| *gone == key && place.is_none())
        {
            return Ok(None);
        }
        let mut tx = store.begin().await?;
        let team = tx.team(team).await?;
        let posted = tx.posted(&team, reply).await?;
        tx.rollback().await?;
        Ok(posted.and_then(|posted| Some((Id::new(posted.channel)?, Id::new(posted.message)?))))
    }

    /// The team's reply that a message is.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn reply_at(
        &self,
        store: &Store,
        team: &str,
        message: Id,
    ) -> Result<Option<String>, StoreError> {
        let known = self.pages().replies.get(&message).cloned();
        if let Some((of, reply)) = known {
            return Ok((of == team).then_some(reply));
        }
        let mut tx = store.begin().await?;
        let team = tx.team(team).await?;
        let posted = tx.reply_at(&team, message.get()).await?;
        tx.rollback().await?;
        Ok(posted.map(|posted| posted.reply))
    }

    /// A message of the bot's own is gone: whichever reply it was stands nowhere any more.
    pub fn message_gone(&self, message: Id) {
        let known = self.pages().replies.get(&message).cloned();
        if let Some((team, reply)) = known {
            self.gone(&team, &reply);
        }
    }

    /// Stores what is not stored yet, and these cursors.
    ///
    /// # Errors
    /// [`StoreError`]; it is tried again with the next call.
    pub async fn store(&self, store: &Store, cursors: &[(Id, u64)]) -> Result<(), StoreError> {
        let (unstored, sent) = {
            let mut pages = self.pages();
            (
                std::mem::take(&mut pages.unstored),
                std::mem::take(&mut pages.sent),
            )
        };
        if unstored.is_empty() && sent.is_empty() && cursors.is_empty() {
            return Ok(());
        }
        let stored = write(store, &unstored, &sent, cursors).await;
        if stored.is_err() {
            let mut pages = self.pages();
            pages.unstored.splice(0..0, unstored);
            pages.sent.splice(0..0, sent);
        }
        stored
    }
}

async fn write(
    store: &Store,
    unstored: &[(ReplyKey, Option<(Id, Id)>)],
    sent: &[String],
    cursors: &[(Id, u64)],
) -> Result<(), StoreError> {
    // Of each reply where it stands now, by team.
    let latest: BTreeMap<_, _> = unstored.iter().map(|(key, place)| (key, place)).collect();
    let mut of_teams: BTreeMap<&str, Vec<_>> = BTreeMap::new();
    for ((team, reply), place) in latest {
        of_teams.entry(team).or_default().push((reply, place));
    }
    let mut tx = store.begin().await?;
    for (team, places) in of_teams {
        let team = tx.team(team).await?;
        let mut posted = Vec::new();
        for (reply, place) in places {
            match place {
                Some((channel, message)) => posted.push(Posted {
                    reply: reply.clone(),
                    channel: channel.get(),
                    message: message.get(),
                }),
                None => tx.drop_posted(&team, reply).await?,
            }
        }
        tx.put_posted(&team, &posted).await?;
    }
    tx.drop_unsent(sent).await?;
    for (channel, cursor) in cursors {
        tx.read_to(channel.get(), *cursor).await?;
    }
    tx.commit().await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_entries_are_remembered_and_the_oldest_forgotten() {
        let mut recent = Recent::default();
        for n in 0..3 * KEPT {
            recent.put(n, n);
        }
        assert_eq!(recent.get(&(3 * KEPT - 1)), Some(&(3 * KEPT - 1)));
        assert_eq!(recent.get(&(2 * KEPT)), Some(&(2 * KEPT)));
        assert_eq!(recent.get(&0), None);
        assert_eq!(recent.put(3 * KEPT - 1, 7), Some(3 * KEPT - 1));
    }

    #[tokio::test]
    async fn what_was_sent_is_stored_and_found_again() {
        let store = Store::open("sqlite::memory:").await.expect("a store");
        let id = |n| Id::new(n).expect("above zero");
        let ledger = Arc::new(Ledger::default());
        let mut tx = store.begin().await.expect("a transaction");
        let team = tx.team("discord:9").await.expect("a team");
        let start = chrono::DateTime::UNIX_EPOCH;
        let sender = crate::store::outbox::Sender {
            via: "discord",
            owner: "a",
            until: start,
        };
        let kept = tx.keep_unsent(&team, ("m/1", start, &[]), sender).await;
        kept.expect("kept");
        tx.commit().await.expect("stored");
        drop(Ticket::new("m/1".to_owned(), &ledger));
        ledger.posted("discord:9", "1.1", id(5), id(6));
        ledger.store(&store, &[]).await.expect("stored");
        let later = Ledger::default();
        assert_eq!(
            later
                .place_of(&store, "discord:9", "1.1")
                .await
                .expect("read"),
            Some((id(5), id(6)))
        );
        assert_eq!(
            later
                .reply_at(&store, "discord:9", id(6))
                .await
                .expect("read")
                .as_deref(),
            Some("1.1")
        );
        assert_eq!(
            later
                .reply_at(&store, "discord:8", id(6))
                .await
                .expect("read"),
            None
        );
        let mut tx = store.begin().await.expect("a transaction");
        assert_eq!(tx.unsent("discord").await.expect("read"), []);
        tx.rollback().await.expect("closed");
        later.gone("discord:9", "1.1");
        assert_eq!(
            later
                .place_of(&store, "discord:9", "1.1")
                .await
                .expect("read"),
            None
        );
    }
}
