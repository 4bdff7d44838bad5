//! What the service carries out, and how that fails.

use chrono::{DateTime, Utc};

use super::prepared::{Prepared, Progress};
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::bot::state::DueJob;
use crate::store::{Store, StoreError, Tx};

/// What an event does, inside a transaction that somebody else commits.
pub trait UseCase: Sync {
    /// Loads what the event needs, decides, and stores the changes: all through `tx`. The answers
    /// are sent after the commit. It may run again for the same event when the commit fails, so it
    /// must change nothing but the transaction.
    ///
    /// An event that was answered before is answered from what the transaction remembers.
    fn one(
        &self,
        tx: &mut Tx,
        event: &Event,
    ) -> impl Future<Output = Result<Vec<Outgoing>, ServiceError>> + Send;

    /// Whether an event is so much work that it is prepared outside of a transaction, while others go on.
    fn is_long(&self, store: &Store, event: &Event) -> impl Future<Output = bool> + Send {
        let _ = (store, event);
        async { false }
    }

    /// Prepares such an event, in short transactions of its own; `before` is what was prepared before and no
    /// longer stands. What it leaves behind shows nowhere.
    fn prepare(
        &self,
        store: &Store,
        event: &Event,
        before: Option<Prepared>,
        progress: &Progress,
    ) -> impl Future<Output = Result<Prepared, ServiceError>> + Send {
        let _ = (store, event, before, progress);
        async { Ok(Prepared::default()) }
    }

    /// [`UseCase::one`] for such an event; `None` where what was prepared no longer stands, and then nothing
    /// is to be committed.
    fn prepared(
        &self,
        tx: &mut Tx,
        event: &Event,
        prepared: &Prepared,
    ) -> impl Future<Output = Result<Option<Vec<Outgoing>>, ServiceError>> + Send {
        let _ = prepared;
        async { self.one(tx, event).await.map(Some) }
    }

    /// What was prepared will not be carried out.
    fn let_go(
        &self,
        store: &Store,
        prepared: Prepared,
    ) -> impl Future<Output = Result<(), ServiceError>> + Send {
        let _ = (store, prepared);
        async { Ok(()) }
    }

    /// Carries out a job that is due, as [`UseCase::one`] does an event; `None` where a portion of it is done, and
    /// it is to be taken up again for the next once others were served.
    fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> impl Future<Output = Result<Option<Vec<Outgoing>>, ServiceError>> + Send {
        let _ = (tx, job, now);
        async { Ok(Some(Vec::new())) }
    }

    /// A job is given up: who is to know it is told. It must not fail for what made the job fail.
    fn given_up(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> impl Future<Output = Result<Vec<Outgoing>, ServiceError>> + Send {
        let _ = (tx, job, now);
        async { Ok(Vec::new()) }
    }

    /// Loads what several events are sure to need, in fewer statements than each by itself. It is
    /// only about time: [`UseCase::one`] loads whatever this left out.
    fn expect(
        &self,
        tx: &mut Tx,
        events: &[Event],
    ) -> impl Future<Output = Result<(), ServiceError>> + Send {
        let _ = (tx, events);
        async { Ok(()) }
    }
}

/// Why an event was not taken. Nothing of it is stored.
#[derive(Debug, thiserror::Error)]
pub enum ServiceError {
    /// The store failed.
    #[error("{0}; nothing of this was stored, send it again later")]
    Store(#[from] StoreError),
    /// The event was refused: one sentence that names the remedy.
    #[error("{0}")]
    Refused(String),
    /// A fault of this program. The log has the details.
    #[error(
        "this could not be worked on because of a fault in the program; nothing of it was stored"
    )]
    Fault,
}
