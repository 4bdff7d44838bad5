//! What this process has to send: the rows of the outbox that are its own, until every part of each
//! is sent. Rows are leased; the lease is renewed while the process lives, and what is not renewed is
//! another's to send.

use std::cmp::Ordering as Order;
use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, AtomicI64, AtomicU64, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use chrono::{DateTime, Utc};
use tokio::time::Instant;

use crate::store::outbox::Sender;
use crate::store::{StoreError, Tx};

/// So long nobody else sends what this process committed or renewed.
pub const LEASE: Duration = Duration::from_secs(10);
/// How often leases are renewed, and what others left is looked for.
pub(crate) const RENEW_EVERY: Duration = Duration::from_secs(3);
/// Nothing is sent in the last moments of a lease: the request may take some time.
const MARGIN: Duration = Duration::from_secs(2);

/// A row of the outbox that is to be sent. It is dropped from the store when all its parts are done,
/// and only then: a part that is forgotten is sent by the next run.
#[derive(Debug)]
pub struct Ticket {
    key: String,
    at: DateTime<Utc>,
    /// Its place in the order of commits; 0 until that is known.
    id: AtomicI64,
    /// Its place in the order in which this process came by it.
    place: u64,
    held_since: Instant,
    open: AtomicUsize,
    lost: AtomicBool,
}

impl Ticket {
    /// When what it answers happened.
    pub(crate) const fn at(&self) -> DateTime<Utc> {
        self.at
    }

    /// Names it.
    pub(crate) fn key(&self) -> &str {
        &self.key
    }

    /// Its place in the order of commits, if that is known.
    pub(crate) fn id(&self) -> Option<i64> {
        Some(self.id.load(Ordering::Relaxed)).filter(|&id| id > 0)
    }

    /// Which was committed later. A row whose place is not known is later than all whose is: places
    /// become known before anything of another process is taken up.
    pub(crate) fn order(&self, other: &Self) -> Order {
        let place = |one: &Self| (one.id().unwrap_or(i64::MAX), one.place);
        place(self).cmp(&place(other))
    }

    /// Whether another process has it by now.
    pub(crate) fn is_lost(&self) -> bool {
        self.lost.load(Ordering::Relaxed)
    }
}

/// Leases that are renewed once their transaction is committed.
#[derive(Debug)]
pub(crate) struct Renewal {
    asked: Instant,
    held: Vec<Arc<Ticket>>,
    renewed: HashMap<String, i64>,
}

#[derive(Debug, Default)]
struct Rows {
    held: HashMap<String, Arc<Ticket>>,
    done: Vec<Arc<Ticket>>,
    renewed: Option<Instant>,
}

/// The rows of this process.
#[derive(Debug, Default)]
pub struct Outbox {
    rows: Mutex<Rows>,
    places: AtomicU64,
}

impl Outbox {
    fn rows(&self) -> MutexGuard<'_, Rows> {
        self.rows.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A committed row with so many parts; `id` where its place is known. A row that is held already,
    /// because what it answers was told again, gets more parts.
    pub(crate) fn hold(
        &self,
        key: String,
        at: DateTime<Utc>,
        parts: usize,
        id: i64,
    ) -> Arc<Ticket> {
        let mut rows = self.rows();
        if let Some(ticket) = rows.held.get(&key) {
            ticket.open.fetch_add(parts, Ordering::Relaxed);
            return Arc::clone(ticket);
        }
        let ticket = Arc::new(Ticket {
            key: key.clone(),
            at,
            id: AtomicI64::new(id),
            place: self.places.fetch_add(1, Ordering::Relaxed),
            held_since: Instant::now(),
            open: AtomicUsize::new(parts),
            lost: AtomicBool::new(false),
        });
        if parts == 0 {
            rows.done.push(Arc::clone(&ticket));
        } else {
            rows.held.insert(key, Arc::clone(&ticket));
        }
        ticket
    }

    /// Whether this row is being sent.
    pub(crate) fn holds(&self, key: &str) -> bool {
        let rows = self.rows();
        rows.held.contains_key(key) || rows.done.iter().any(|one| one.key == key)
    }

    /// A part of a row was sent, or is not worth sending.
    pub(crate) fn part_done(&self, ticket: &Arc<Ticket>) {
        if ticket.open.fetch_sub(1, Ordering::Relaxed) != 1 {
            return;
        }
        let mut rows = self.rows();
        rows.held.remove(&ticket.key);
        if !ticket.is_lost() {
            rows.done.push(Arc::clone(ticket));
        }
    }

    /// Whether nobody else may have this row by now.
    pub(crate) fn is_leased(&self, ticket: &Ticket, now: Instant) -> bool {
        let renewed = self.rows().renewed;
        let since = renewed.map_or(ticket.held_since, |at| at.max(ticket.held_since));
        !ticket.is_lost() && now < since + (LEASE - MARGIN)
    }

    /// Whether a row waits for longer than a moment.
    pub(crate) fn has_old(&self) -> bool {
        let rows = self.rows();
        let mut held = rows.held.values();
        held.any(|ticket| ticket.held_since.elapsed() >= RENEW_EVERY / 2)
    }

    /// Renews the leases of all rows that are held.
    pub(crate) async fn renew(
        &self,
        tx: &mut Tx,
        sender: Sender<'_>,
    ) -> Result<Renewal, StoreError> {
        let asked = Instant::now();
        let held: Vec<Arc<Ticket>> = self.rows().held.values().cloned().collect();
        let keys: Vec<String> = held.iter().map(|one| one.key.clone()).collect();
        let renewed = tx.renew(&keys, sender).await?.into_iter().collect();
        Ok(Renewal {
            asked,
            held,
            renewed,
        })
    }

    /// A renewal was committed. The rows that another process has by now are lost.
    pub(crate) fn renewed(&self, renewal: &Renewal) {
        let mut rows = self.rows();
        for ticket in &renewal.held {
            match renewal.renewed.get(&ticket.key) {
                Some(id) => ticket.id.store(*id, Ordering::Relaxed),
                None => {
                    ticket.lost.store(true, Ordering::Relaxed);
                    rows.held.remove(&ticket.key);
                }
            }
        }
        rows.renewed = Some(renewal.asked);
    }

    /// Drops what is done from the store.
    ///
    /// # Errors
    /// [`StoreError`]; then it is not dropped, see [`Outbox::undo_drop`].
    pub(crate) async fn drop_done(&self, tx: &mut Tx) -> Result<Vec<Arc<Ticket>>, StoreError> {
        let done = std::mem::take(&mut self.rows().done);
        let keys: Vec<String> = done.iter().map(|one| one.key.clone()).collect();
        let dropped = match tx.drop_unsent(&keys).await {
            Ok(dropped) => dropped,
            Err(error) => {
                self.undo_drop(done);
                return Err(error);
            }
        };
        let ids: HashMap<String, i64> = dropped.into_iter().collect();
        for ticket in &done {
            if let Some(id) = ids.get(&ticket.key) {
                ticket.id.store(*id, Ordering::Relaxed);
            }
        }
        Ok(done)
    }

    /// The transaction that dropped these failed.
    pub(crate) fn undo_drop(&self, done: Vec<Arc<Ticket>>) {
        self.rows().done.splice(0..0, done);
    }

    /// Whether something is to be dropped from the store.
    pub(crate) fn has_done(&self) -> bool {
        !self.rows().done.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_row_is_done_with_its_last_part_and_told_again_it_has_more() {
        let outbox = Outbox::default();
        let at = DateTime::UNIX_EPOCH;
        let ticket = outbox.hold("m/1".to_owned(), at, 2, 0);
        outbox.part_done(&ticket);
        assert!(outbox.holds("m/1") && !outbox.has_done());
        let again = outbox.hold("m/1".to_owned(), at, 1, 0);
        assert!(Arc::ptr_eq(&ticket, &again));
        outbox.part_done(&ticket);
        assert!(!outbox.has_done());
        outbox.part_done(&again);
        assert!(outbox.has_done());
        assert!(outbox.holds("m/1"), "until it is dropped from the store");
    }

    #[tokio::test]
    async fn rows_are_in_the_order_of_their_commits_and_later_than_those_where_that_is_unknown() {
        let outbox = Outbox::default();
        let hold = |key: &str, id| outbox.hold(key.to_owned(), DateTime::UNIX_EPOCH, 1, id);
        let (own, earlier, next) = (hold("a", 0), hold("b", 7), hold("c", 0));
        assert_eq!(own.order(&earlier), Order::Greater);
        assert_eq!(own.order(&next), Order::Less);
        own.id.store(5, Ordering::Relaxed);
        assert_eq!(own.order(&earlier), Order::Less);
    }

    #[tokio::test]
    async fn a_lease_that_is_not_renewed_ends() {
        let outbox = Outbox::default();
        let ticket = outbox.hold("a".to_owned(), DateTime::UNIX_EPOCH, 1, 0);
        let (now, later) = (Instant::now(), Instant::now() + LEASE);
        assert!(outbox.is_leased(&ticket, now));
        assert!(!outbox.is_leased(&ticket, later));
        outbox.rows().renewed = Some(later);
        assert!(outbox.is_leased(&ticket, later));
    }
}
