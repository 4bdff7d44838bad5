//! What is kept: teams, members, sets, beliefs, answered events and jobs, in SQLite or PostgreSQL.
//!
//! All SQL of the program stands in this room: `tables` holds one file per family of tables, each
//! statement beside the function that runs it; `engine` all that differs between the engines or is about
//! speed; `upkeep` what is done to a database as a whole. Nothing is decided here: [`crate::bot`] says what to store as
//! [`Change`](crate::bot::state::Change)s. What is read as JSON or bytes is opaque to the tables.
//!
//! Everything happens in a transaction, [`Tx`]. Teams are walls: the handles that a transaction
//! gives out ([`Team`](crate::bot::state::Team), [`Member`](crate::bot::state::Member)) carry the
//! ids that every statement filters by, so no statement can reach into another team.
//!
//! Instants are stored in whole milliseconds; whoever lets events in cuts finer parts off, so that
//! what was decided on equals what is read back.
//!
//! ```
//! # tokio::runtime::Builder::new_current_thread().enable_all().build()?.block_on(async {
//! use chalkbell::store::Store;
//!
//! let store = Store::open("sqlite::memory:").await?;
//! let mut tx = store.begin().await?;
//! let team = tx.team("rowing club").await?;
//! let member = tx.member_or_new(&team, "u1", "Ann", false).await?;
//! tx.commit().await?;
//! # assert_eq!((member.name.as_str(), team.key.as_str()), ("Ann", "rowing club"));
//! # Ok::<(), chalkbell::store::StoreError>(())
//! # })?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod engine;
mod error;
mod files;
mod tables;
mod upkeep;

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use chrono::{DateTime, Utc};
use engine::{cache, notice, open};
use tables::{beliefs, events, prescriptions, sets, teams};
use upkeep::{emptied, erase, past_events};

use crate::domain::quantities::id::MemberId;

pub use engine::address::admits;
pub use engine::open::file_url;
pub use error::{OpenError, StoreError};
pub use files::{atomic, private};
pub use tables::{direct, discord, handover, imports, jobs, outbox, responses};
pub use upkeep::past_events::KEPT;
pub use upkeep::{copy, faults};

/// An open database, with its tables up to date. Cheap to clone; all clones share connections.
///
/// On SQLite there is one connection: transactions of one process queue for it in order and never
/// meet a locked database. Do not begin a second one while the first is open in the same task.
#[derive(Clone, Debug)]
pub struct Store {
    pool: engine::Pool,
    cache: cache::Cache,
    waker: Arc<notice::JobWaker>,
    process: Arc<str>,
    pruning: Arc<Mutex<past_events::Pruning>>,
    emptied: Arc<Mutex<emptied::Emptied>>,
    /// Whether there may be answers to empty after somebody was erased.
    erasing: Arc<AtomicBool>,
}

impl Store {
    /// Opens the database at `url` (`sqlite:FILE`, `sqlite::memory:`, `postgres://…`), makes it
    /// where it is missing (SQLite), and brings its tables up to date.
    ///
    /// # Errors
    /// [`StoreError::Open`] with one sentence that names the remedy.
    pub async fn open(url: &str) -> Result<Self, StoreError> {
        let process = handover::process_name();
        let pool = open::open(url, &process).await?;
        let cache = cache::Cache::default();
        let waker = Arc::new(notice::JobWaker::new(&pool));
        Ok(Self {
            pool,
            cache,
            waker,
            process: process.into(),
            pruning: Arc::default(),
            emptied: Arc::default(),
            // A process before this one may have left some.
            erasing: Arc::new(AtomicBool::new(true)),
        })
    }

    /// Begins a transaction. Several events may share one; all of it is stored by
    /// [`Tx::commit`], or nothing is. On SQLite other processes are kept out from its first statement
    /// on, which waits for them a while.
    ///
    /// # Errors
    /// [`StoreError::Driver`] when the database does not answer.
    pub async fn begin(&self) -> Result<Tx, StoreError> {
        let connection = self.pool.begin().await?;
        Ok(self.on(connection))
    }

    fn on(&self, connection: engine::Connection) -> Tx {
        Tx {
            connection,
            cache: self.cache.clone(),
            waker: Arc::clone(&self.waker),
            erasing: Arc::clone(&self.erasing),
            has_erased: false,
            seen: teams::Seen::default(),
            sets: sets::SetCache::default(),
            beliefs: beliefs::BeliefCache::default(),
            bells: jobs::BellCache::default(),
            events: events::EventCache::default(),
            prescribed: prescriptions::PrescriptionCache::default(),
            repeats: false,
        }
    }

    /// When the next job's turn is, of the team with this key or of all; `None` when nothing waits.
    /// Begins a transaction of its own, and waits for nobody who writes.
    pub async fn next_due(&self, team: Option<&str>) -> Result<Option<DateTime<Utc>>, StoreError> {
        // Set before it is read: what is stored in between rings for nothing, and is not missed.
        self.waker.set(i64::MAX);
        let mut tx = self.on(self.pool.begin_reading().await?);
        let due = tx.next_due(team).await?;
        tx.rollback().await?;
        self.waker.set(due.map_or(i64::MAX, millis));
        Ok(due)
    }

    /// Returns when a job was stored that is due before what [`Store::next_due`] last told: by this
    /// process or, where [`Store::hears_others`] says so, by any. For one who waits at a time.
    pub async fn earlier_job(&self) {
        self.waker.listen(&self.pool);
        self.waker.earlier().await;
    }

    /// Whether other processes are heard right now when they store jobs.
    pub fn hears_others(&self) -> bool {
        self.waker.hears()
    }

    /// When the first of what is still to be sent by this channel is free to be sent by anybody;
    /// `None` where there is nothing.
    pub async fn next_left(&self, via: &str) -> Result<Option<DateTime<Utc>>, StoreError> {
        let mut tx = self.on(self.pool.begin_reading().await?);
        let left = tx.next_left(via).await?;
        tx.rollback().await?;
        Ok(left)
    }

    /// Whether the database answers.
    ///
    /// # Errors
    /// [`StoreError::Driver`] where it does not.
    pub async fn answers(&self) -> Result<(), StoreError> {
        const ANY: engine::Sql = engine::Sql::both("team", "select 1 as one");
        let mut tx = self.on(self.pool.begin_reading().await?);
        tx.connection.row(&ANY, &[]).await?;
        tx.rollback().await
    }

    /// Closes the connections once the open transactions are done.
    pub async fn close(self) {
        self.waker.end();
        self.pool.close().await;
    }
}

/// A transaction. Dropped without [`Tx::commit`] it leaves nothing behind.
///
/// What it reads of teams, members and events it reads once: it holds the write lock (SQLite) or the
/// locks of the members' rows (PostgreSQL), so nobody changes them in between. What it is to write
/// waits until something else must be read that it bears on, or until the commit; so the events
/// that share a transaction share statements too, and a row that they change one after the other is
/// written once. All of that is the transaction's own until the commit; what may outlive it, and when
/// it is believed, stands in `engine/cache.rs`.
#[derive(Debug)]
pub struct Tx {
    connection: engine::Connection,
    cache: cache::Cache,
    waker: Arc<notice::JobWaker>,
    erasing: Arc<AtomicBool>,
    has_erased: bool,
    seen: teams::Seen,
    sets: sets::SetCache,
    beliefs: beliefs::BeliefCache,
    bells: jobs::BellCache,
    events: events::EventCache,
    prescribed: prescriptions::PrescriptionCache,
    repeats: bool,
}

impl Tx {
    /// What the event comes to was answered before.
    pub fn note_repeat(&mut self) {
        self.repeats = true;
    }

    /// Whether the last event was answered before; said once.
    pub fn was_repeat(&mut self) -> bool {
        std::mem::take(&mut self.repeats)
    }

    /// Stores all of it, durably.
    ///
    /// # Errors
    /// [`StoreError`]; then nothing is stored, or, if the connection broke in the moment of the
    /// commit, all of it: the repeated event tells. A [conflict](StoreError::is_conflict) when
    /// another process answered one of the events meanwhile.
    pub async fn commit(mut self) -> Result<(), StoreError> {
        match self.write().await {
            Ok(()) => {
                let left = self.leave();
                let earliest_ms = self.bells.earliest_ms;
                self.connection.commit().await?;
                self.cache.put(left);
                if self.has_erased {
                    self.erasing.store(true, Ordering::Relaxed);
                }
                if let Some(due_ms) = earliest_ms {
                    self.waker.stored(due_ms).await;
                }
                Ok(())
            }
            Err(error) => {
                // What failed matters more than a rollback that fails too.
                drop(self.connection.rollback().await);
                Err(error)
            }
        }
    }

    async fn write(&mut self) -> Result<(), StoreError> {
        self.write_members().await?;
        self.write_touched().await?;
        self.write_sets().await?;
        self.write_beliefs().await?;
        self.write_bells().await?;
        self.write_events().await
    }

    /// Takes all of it back. Dropping does the same, but does not wait for it.
    ///
    /// # Errors
    /// [`StoreError::Driver`]; nothing is stored then either.
    pub async fn rollback(self) -> Result<(), StoreError> {
        self.connection.rollback().await
    }
}

/// An instant as stored.
const fn millis(at: DateTime<Utc>) -> i64 {
    at.timestamp_millis()
}

/// A stored instant.
fn instant(row: &engine::Row, column: &'static str) -> Result<DateTime<Utc>, StoreError> {
    let millis: i64 = row.get(column)?;
    DateTime::from_timestamp_millis(millis)
        .ok_or_else(|| row.impossible(column, format!("is {millis}, no instant")))
}

/// A stored JSON text.
fn json<T: serde::de::DeserializeOwned>(
    row: &engine::Row,
    column: &'static str,
) -> Result<T, StoreError> {
    serde_json::from_str(row.get(column)?)
        .map_err(|error| row.impossible(column, format!("is not the JSON expected ({error})")))
}

/// The ids of members as a JSON list, which statements about many take.
fn id_list(members: &[MemberId]) -> Result<String, StoreError> {
    as_json(&members.iter().map(|id| id.0).collect::<Vec<_>>())
}

/// JSON to store.
fn as_json<T: serde::Serialize>(value: &T) -> Result<String, StoreError> {
    serde_json::to_string(value)
        .map_err(|error| StoreError::Driver(sqlx::Error::Encode(error.into())))
}
