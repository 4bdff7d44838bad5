//! Events through the house: a transaction, the use case, the commit, and only then the answer.
//!
//! What an event does is a [`UseCase`]; this file decides nothing. It sees to it that nothing is
//! answered before it is stored, that events which arrive together share a commit, and that one
//! event which fails takes no other with it. Channels ([`crate::channel`]) call
//! [`Service::handle`]; they never open a transaction.

pub mod check;
mod dispatch;
pub mod files;
pub mod long;
pub mod metrics;
mod prepared;
pub mod prior;
mod use_case;

use std::fmt::Display;
use std::future::Future;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::pin;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::task::Poll;
use std::time::Duration;

use crate::backoff::Backoff;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::store::{Store, StoreError, Tx};

use metrics::Metrics;
use prepared::Progress;
use tokio::time::{Instant, timeout};

pub use dispatch::bot::Bot;
pub use use_case::{ServiceError, UseCase};

/// How often an event is tried when other processes get in between. Each try only fails if another
/// one succeeded meanwhile.
pub(crate) const TRIES: u32 = 5;

/// How long the tries of an event may take that fails by itself.
const LONGEST_OWN: Duration = Duration::from_secs(10);
/// A transaction that takes longer to begin is noted: the driver tries for a while by itself.
const NOTICED: Duration = Duration::from_secs(1);

/// How long a database that is down is left alone before the next try. The longest wait is short:
/// soon after the database is back, everything is stored.
pub(crate) const fn database_backoff() -> Backoff {
    Backoff::between(Duration::from_millis(100), Duration::from_secs(5))
}

/// Failures in a row of one event while the database answered everybody else.
#[derive(Debug, Default)]
struct OwnFailures {
    count: u32,
    took: Duration,
}

impl OwnFailures {
    /// How long a failed try took, or `None` where the database was down for all.
    fn count(&mut self, took: Option<Duration>) {
        match took {
            Some(took) => {
                self.count += 1;
                self.took += took;
            }
            None => *self = Self::default(),
        }
    }

    /// Whether nobody is to wait for this event any longer.
    fn are_enough(&self) -> bool {
        self.count >= TRIES || self.took > LONGEST_OWN
    }
}

/// How long one event is tried.
#[derive(Debug)]
struct Patience {
    backoff: Backoff,
    conflicts: u32,
    own: OwnFailures,
}

impl Default for Patience {
    fn default() -> Self {
        Self {
            backoff: database_backoff(),
            conflicts: 0,
            own: OwnFailures::default(),
        }
    }
}

impl Patience {
    /// Waits as long as it makes sense after a try that failed; false where no further one does.
    async fn has_more<U: UseCase>(
        &mut self,
        service: &Service<U>,
        error: &ServiceError,
        took: Duration,
    ) -> bool {
        if let ServiceError::Store(fault) = error {
            if fault.is_conflict() && self.conflicts + 1 < TRIES {
                self.conflicts += 1;
                return true;
            }
            if fault.may_be_its_own() && service.patient {
                let own = service.is_its_own(fault).await;
                self.own.count(own.then_some(took));
            }
            if !self.own.are_enough() && service.waits_out(fault, &mut self.backoff).await {
                return true;
            }
        }
        tracing::error!(%error, "an event was not stored");
        false
    }
}

/// The use cases on a store.
#[derive(Debug)]
pub struct Service<U> {
    store: Store,
    use_case: U,
    tally: Arc<Metrics>,
    /// Events wait for a database that is down, instead of being refused.
    patient: bool,
}

impl<U: UseCase> Service<U> {
    /// Puts the use case on the store.
    pub fn new(store: Store, use_case: U) -> Self {
        Self {
            store,
            use_case,
            tally: Arc::default(),
            patient: false,
        }
    }

    /// The same, but events wait for a database that is down, as long as it takes, instead of being
    /// refused: for channels that go on taking events only once these are answered.
    #[must_use]
    pub fn patient(mut self) -> Self {
        self.patient = true;
        self
    }

    /// The same, and what is done is counted here.
    #[must_use]
    pub fn counted_in(mut self, tally: Arc<Metrics>) -> Self {
        self.tally = tally;
        self
    }

    /// Waits a moment for a database that is down, longer each time; false where this error is none
    /// to wait for, or events are not to wait.
    pub(crate) async fn waits_out(&self, error: &StoreError, backoff: &mut Backoff) -> bool {
        if !self.patient || !error.is_outage() {
            return false;
        }
        self.note_outage(error);
        tokio::time::sleep(backoff.next()).await;
        true
    }

    /// What was done so far, as numbers.
    pub const fn metrics(&self) -> &Arc<Metrics> {
        &self.tally
    }

    /// The store.
    pub const fn store(&self) -> &Store {
        &self.store
    }

    /// The use case.
    pub const fn use_case(&self) -> &U {
        &self.use_case
    }

    /// Works on one event; see [`Service::handle`].
    ///
    /// # Errors
    /// [`ServiceError`]; then nothing of it is stored.
    pub async fn one(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let answers = self.handle(std::slice::from_ref(event)).await;
        // As many answers as events.
        answers
            .into_iter()
            .next()
            .unwrap_or(Err(ServiceError::Fault))
    }

    /// Whether nobody of this team ever wrote.
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
    /// stored durably when this returns. Several events share one commit; when any of them fails, the
    /// group is split in two, and each half is worked on again.
    pub async fn handle(&self, events: &[Event]) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
        let count = events.len() as u64;
        self.tally.queued.fetch_add(count, Ordering::Relaxed);
        let begun = Instant::now();
        let answers = self.answers_to(events).await;
        self.tally.event_time.took(begun.elapsed());
        self.tally.queued.fetch_sub(count, Ordering::Relaxed);
        self.tally.count(&answers);
        answers
    }

    /// A group that fails is split before it is tried again, so that what fails in it costs no other
    /// event: not those before it, which share a commit, nor those after it.
    async fn answers_to(&self, events: &[Event]) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
        let mut answers = Vec::with_capacity(events.len());
        let mut backoff = database_backoff();
        // The last is the next; one that is long is a group by itself.
        let mut left: Vec<(bool, &[Event])> = Vec::new();
        let mut begin = 0;
        for (place, event) in events.iter().enumerate() {
            if self.is_long(event).await {
                left.push((false, &events[begin..place]));
                left.push((true, std::slice::from_ref(event)));
                begin = place + 1;
            }
        }
        left.push((false, &events[begin..]));
        left.reverse();
        while let Some((is_long, group)) = left.pop() {
            let error = match group {
                [] => continue,
                [event] if is_long => {
                    answers.push(self.prepared(event, &Progress::default()).await);
                    continue;
                }
                [event] => {
                    answers.push(self.alone(event).await);
                    continue;
                }
                _ => match self.together(group).await {
                    Ok(done) => {
                        answers.extend(done.into_iter().map(Ok));
                        continue;
                    }
                    Err(error) => error,
                },
            };
            if let ServiceError::Store(error) = &error
                && error.is_outage()
                && !self.is_its_own(error).await
                && !self.waits_out(error, &mut backoff).await
            {
                // Nobody waits for it, so none of the others is tried at the same database.
                answers.resize_with(events.len(), || Err(error.again().into()));
                return answers;
            }
            tracing::debug!(%error, events = group.len(), "a group of events is split");
            let (first, second) = group.split_at(group.len().div_ceil(2));
            left.extend([(false, second), (false, first)]);
        }
        answers
    }

    /// Whether a failure to reach the database is one event's or job's own doing: the database answers
    /// everybody else.
    pub(crate) async fn is_its_own(&self, error: &StoreError) -> bool {
        error.may_be_its_own() && self.noticed(self.store.answers()).await.is_ok()
    }

    /// All events in one transaction.
    async fn together(&self, events: &[Event]) -> Result<Vec<Vec<Outgoing>>, ServiceError> {
        let begun = Instant::now();
        let mut tx = self.begin().await?;
        let (ahead, mut busy) = timed(self.use_case.expect(&mut tx, events)).await;
        ahead?;
        let mut answers = Vec::with_capacity(events.len());
        for event in events {
            let (one, took) = timed(self.use_case.one(&mut tx, event)).await;
            answers.push(one?);
            self.tally.advice_time.took(took);
            busy += took;
        }
        self.commit(tx).await?;
        self.note_waiting(begun, busy);
        Ok(answers)
    }

    /// One event in a transaction of its own, tried again when another process got in between or the
    /// database is down, but not for ever where it is the event that brings the database down.
    async fn alone(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let mut patience = Patience::default();
        loop {
            let begun = Instant::now();
            let error = match self.attempt(event).await {
                Ok(answers) => return Ok(answers),
                Err(error) => error,
            };
            if !patience.has_more(self, &error, begun.elapsed()).await {
                return Err(error);
            }
        }
    }

    async fn commit(&self, tx: Tx) -> Result<(), StoreError> {
        let begun = Instant::now();
        tx.commit().await?;
        self.tally.commit_time.took(begun.elapsed());
        self.note_answer();
        Ok(())
    }

    /// Whatever was not calculation was waiting.
    fn note_waiting(&self, begun: Instant, busy: Duration) {
        let waited = begun.elapsed().saturating_sub(busy);
        self.tally.database_time.took(waited);
    }

    /// Says once that the database answers again.
    pub(crate) fn note_answer(&self) {
        if self.tally.database_down.swap(0, Ordering::Relaxed) > 0 {
            tracing::warn!("the database answers again; what waited is being stored");
        }
    }

    /// A transaction; says so when it takes long to get one.
    pub(crate) async fn begin(&self) -> Result<Tx, StoreError> {
        self.noticed(self.store.begin()).await
    }

    /// Says so when the database takes long to answer.
    pub(crate) async fn noticed<T>(&self, asking: impl Future<Output = T>) -> T {
        let mut asking = pin!(asking);
        if let Ok(answer) = timeout(NOTICED, &mut asking).await {
            return answer;
        }
        self.note_outage(&"the database does not answer yet; check that it runs");
        asking.await
    }

    /// Says once that the database does not answer.
    fn note_outage(&self, error: &dyn Display) {
        self.tally.waits.fetch_add(1, Ordering::Relaxed);
        if self.tally.database_down.swap(1, Ordering::Relaxed) == 0 {
            tracing::error!(%error, "nothing can be stored; events wait unanswered and are tried again");
        } else {
            tracing::debug!(%error, "still nothing can be stored");
        }
    }

    async fn attempt(&self, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let begun = Instant::now();
        let mut tx = self.begin().await?;
        let (one, busy) = timed(self.use_case.one(&mut tx, event)).await;
        match one {
            Ok(answers) => {
                self.commit(tx).await?;
                self.tally.advice_time.took(busy);
                self.note_waiting(begun, busy);
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
    timed(work).await.0
}

/// The same, and how long it took without its waiting, which in a transaction is for the database.
async fn timed<T>(
    work: impl Future<Output = Result<T, ServiceError>>,
) -> (Result<T, ServiceError>, Duration) {
    let mut working = pin!(work);
    let mut busy = Duration::ZERO;
    let done = std::future::poll_fn(|context| {
        let begun = Instant::now();
        // Whatever the panic left half done lies in the transaction, which is rolled back.
        let poll = AssertUnwindSafe(|| working.as_mut().poll(context));
        let polled = catch_unwind(poll).unwrap_or(Poll::Ready(Err(ServiceError::Fault)));
        busy += begun.elapsed();
        polled
    })
    .await;
    (done, busy)
}
