//! Events through the house: a transaction, the use case, the commit, and only then the answer.
//!
//! What an event does is a [`UseCase`]; this file decides nothing. It sees to it that nothing is
//! answered before it is stored, that events which arrive together share a commit, and that one
//! event which fails takes no other with it. Channels ([`crate::channel`]) call
//! [`Service::handle`]; they never open a transaction.

mod carry;
mod files;

use std::future::Future;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::pin;
use std::task::Poll;

use chrono::{DateTime, Utc};

use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::bot::state::DueJob;
use crate::store::{Store, StoreError, Tx};

pub use carry::Bot;

/// How often an event is tried when other processes get in between. Each try only fails if another
/// one succeeded meanwhile.
pub(crate) const TRIES: u32 = 5;

/// What an event does, inside a transaction that somebody else commits.
pub trait UseCase {
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

    /// Carries out a job that is due, as [`UseCase::one`] does an event.
    fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> impl Future<Output = Result<Vec<Outgoing>, ServiceError>> + Send {
        let _ = (tx, job, now);
        async { Ok(Vec::new()) }
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

/// The use cases on a store.
#[derive(Debug)]
pub struct Service<U> {
    store: Store,
    use_case: U,
}

impl<U: UseCase> Service<U> {
    /// Puts the use case on the store.
    pub const fn new(store: Store, use_case: U) -> Self {
        Self { store, use_case }
    }

    /// The store.
    #[must_use]
    pub const fn store(&self) -> &Store {
        &self.store
    }

    /// The use case.
    #[must_use]
    pub const fn use_case(&self) -> &U {
        &self.use_case
    }

    /// Works on one event; see [`Service::handle`].
    ///
    /// # Errors
    /// [`ServiceError`]; then nothing of it is stored.
    pub async fn one(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        self.alone(event).await
    }

    /// Whether nobody of this team ever wrote.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn is_new(&self, team: &str) -> Result<bool, StoreError> {
        let mut tx = self.store.begin().await?;
        let team = tx.team(team).await?;
        let nobody = tx.members(&team).await?.is_empty();
        tx.rollback().await?;
        Ok(nobody)
    }

    /// Closes the store once the open transactions are done.
    pub async fn close(self) {
        self.store.close().await;
    }

    /// Works on the events in order; one answer or error for each. Time that passes
    /// ([`Event::Clock`]) comes to nothing here: [`crate::jobs`] sees to it. Whatever is answered is
    /// stored durably when this returns. Several events share one commit; when any of them fails, all are
    /// worked on again, each by itself.
    pub async fn handle(&self, events: &[Event]) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
        if events.len() > 1
            && let Some(answers) = self.together(events).await
        {
            return answers.into_iter().map(Ok).collect();
        }
        let mut answers = Vec::with_capacity(events.len());
        for event in events {
            answers.push(self.alone(event).await);
        }
        answers
    }

    /// All events in one transaction; `None` when that failed, whatever the reason: each event
    /// then tells its own.
    async fn together(&self, events: &[Event]) -> Option<Vec<Vec<Outgoing>>> {
        let mut tx = self.store.begin().await.ok()?;
        let ahead = self.use_case.expect(&mut tx, events);
        guarded(ahead).await.ok()?;
        let mut answers = Vec::with_capacity(events.len());
        for event in events {
            let one = self.use_case.one(&mut tx, event);
            answers.push(guarded(one).await.ok()?);
        }
        tx.commit().await.ok()?;
        Some(answers)
    }

    /// One event in a transaction of its own, tried again when another process got in between.
    async fn alone(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let mut tries = 1;
        loop {
            match self.attempt(event).await {
                Err(ServiceError::Store(error)) if error.is_conflict() && tries < TRIES => {
                    tries += 1
                }
                Err(error) => {
                    tracing::error!(%error, "an event was not stored");
                    return Err(error);
                }
                answers => return answers,
            }
        }
    }

    async fn attempt(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let mut tx = self.store.begin().await?;
        let one = guarded(self.use_case.one(&mut tx, event)).await;
        match one {
            Ok(answers) => {
                tx.commit().await?;
                Ok(answers)
            }
            Err(error) => {
                // Waited for, so that the next event finds the connection free. What failed
                // matters more than a rollback that fails too.
                drop(tx.rollback().await);
                Err(error)
            }
        }
    }
}

/// What a use case does; a panic in it becomes [`ServiceError::Fault`].
pub(crate) async fn guarded<T>(
    work: impl Future<Output = Result<T, ServiceError>>,
) -> Result<T, ServiceError> {
    let mut working = pin!(work);
    std::future::poll_fn(|context| {
        // Whatever the panic left half done lies in the transaction, which is rolled back.
        let poll = AssertUnwindSafe(|| working.as_mut().poll(context));
        catch_unwind(poll).unwrap_or(Poll::Ready(Err(ServiceError::Fault)))
    })
    .await
}
