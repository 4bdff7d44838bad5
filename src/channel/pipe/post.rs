//! What jobs post over the pipe: put out once, also where several processes share a database.
//!
//! It is kept in the transaction that takes the job out, under the name of this process and for a
//! [`LEASE`]. Before it is put out it is marked as begun, unless another process took it up meanwhile, and
//! when it is out it is dropped. So a process that is stopped between the two finds, when it goes on, that
//! another has put it out; one that is stopped, or not read from, while it puts it out, has it put out
//! by nobody else for as long as it lives.

use std::collections::HashSet;
use std::sync::atomic::Ordering;
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use tokio::time::{Instant, sleep};

use crate::bot::LATEST_BELL;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::jobs::{self, Done, Keep, Worker};
use crate::service::{Service, ServiceError, UseCase, database_backoff};
use crate::store::handover::Left;
use crate::store::{Store, StoreError};

/// What the outbox calls this channel.
const VIA: &str = "pipe";
/// What a process committed and did not begin to put out for so long another puts out.
const LEASE: Duration = Duration::from_secs(3);
/// What another process is about to put out is waited for so long: it may have died just now.
const SETTLES: Duration = Duration::from_millis(300);
/// How often old answers are dropped, by the time of the lines, and in how many portions at most.
const PRUNE_EVERY: TimeDelta = TimeDelta::days(1);
const PORTIONS: usize = 32;
/// How often it is looked meanwhile.
const LOOK_AGAIN: Duration = Duration::from_millis(20);

/// The time by which leases are reckoned: that of the lines may stand still.
#[expect(clippy::disallowed_methods, reason = "an adapter reads the clock")]
fn now() -> DateTime<Utc> {
    Utc::now()
}

fn lease() -> TimeDelta {
    TimeDelta::from_std(LEASE).unwrap_or_default()
}

/// What jobs post, on its way out.
pub(super) struct Post<'a, U> {
    worker: Worker<'a, U>,
    /// What is to be put out of this group of lines, with the place of its event.
    kept: Vec<(usize, Done)>,
    /// Keys of what other processes were putting out when it was last looked: they were waited for.
    others: HashSet<String>,
    /// Whether it was looked before.
    looked: bool,
    /// The latest time that passed, and when old answers were last dropped, by that time.
    clock: Option<DateTime<Utc>>,
    pruned: Option<DateTime<Utc>>,
}

impl<'a, U: UseCase> Post<'a, U> {
    pub(super) fn new(service: &'a Service<U>) -> Self {
        let keep = Keep {
            via: VIA,
            lease: LEASE,
            clock: Some(now),
        };
        Self {
            worker: Worker::new(service, service.store().process(), Some(keep)),
            kept: Vec::new(),
            others: HashSet::new(),
            looked: false,
            clock: None,
            pruned: None,
        }
    }

    fn store(&self) -> &'a Store {
        self.worker.service().store()
    }

    /// Works on a group of events.
    pub(super) async fn handle(
        &mut self,
        events: &[Event],
    ) -> Vec<Result<Vec<Outgoing>, ServiceError>> {
        let clock = events.iter().position(jobs::is_clock);
        let clock = clock.and_then(|place| Some((place, events.get(place)?.at())));
        let mut left = match clock {
            Some((_, at)) => self.left(at).await,
            None => Vec::new(),
        };
        self.clock = clock.map(|(_, at)| at).or(self.clock);
        let waits = &self.worker.service().metrics().waits;
        let before = waits.load(Ordering::Relaxed);
        let mut answers = jobs::handle(&self.worker, events, &mut self.kept).await;
        if let Some((_, at)) = clock
            && waits.load(Ordering::Relaxed) != before
        {
            // Where the database went away in the moment of a commit, it may hold more than was told.
            let mut more = self.left(at).await;
            more.retain(|done| left.iter().all(|known| known.kept != done.kept));
            left.extend(more);
        }
        // Where the clock itself failed, it stays kept for the next.
        if let Some((place, _)) = clock
            && let Some(Ok(answer)) = answers.get_mut(place)
        {
            let out = left.iter().flat_map(|done| done.out.iter().cloned());
            answer.splice(0..0, out.collect::<Vec<_>>());
            self.kept.extend(left.into_iter().map(|done| (place, done)));
        }
        answers
    }

    /// What was committed and is not put out by a process that goes on.
    async fn left(&mut self, at: DateTime<Utc>) -> Vec<Done> {
        match self.take_up(at).await {
            Ok(left) => left,
            Err(error) => {
                tracing::warn!(%error, "it cannot be seen what is left to be put out");
                Vec::new()
            }
        }
    }

    async fn take_up(&mut self, at: DateTime<Utc>) -> Result<Vec<Done>, StoreError> {
        let begun = Instant::now();
        let mut taken = Vec::new();
        loop {
            let others = self.take_up_what_is_free(at, &mut taken).await?;
            let news = |left: &&Left| !self.others.contains(&left.unsent.key);
            let wait = match others.iter().filter(news).map(Left::is_begun).min() {
                // Not begun: it is put out, or free, by the end of its lease.
                Some(false) => LEASE + SETTLES,
                Some(true) => SETTLES,
                None => Duration::ZERO,
            };
            if begun.elapsed() >= wait {
                self.others = others.into_iter().map(|left| left.unsent.key).collect();
                return Ok(taken);
            }
            sleep(LOOK_AGAIN).await;
        }
    }

    /// Takes up what is free, and tells what is not.
    async fn take_up_what_is_free(
        &mut self,
        at: DateTime<Utc>,
        taken: &mut Vec<Done>,
    ) -> Result<Vec<Left>, StoreError> {
        let store = self.store();
        let mut tx = self.worker.service().begin().await?;
        let mut all = tx.left(VIA).await?;
        let known = self.kept.iter().map(|(_, done)| done).chain(&*taken);
        let known: HashSet<&str> = known.map(|done| done.kept.as_str()).collect();
        all.retain(|left| !known.contains(left.unsent.key.as_str()));
        // The run before this one is over.
        let first = !self.looked;
        let (free, others): (Vec<Left>, Vec<Left>) = all
            .into_iter()
            .partition(|left| left.owner == store.process() || left.is_free(now(), lease(), first));
        if free.is_empty() {
            tx.rollback().await?;
            self.looked = true;
            return Ok(others);
        }
        let mut mine = Vec::with_capacity(free.len());
        for left in free {
            if tx
                .take_from(&left, store.process(), now() + lease())
                .await?
            {
                mine.push(left.unsent);
            }
        }
        tx.commit().await?;
        self.looked = true;
        for unsent in mine {
            let stale = at - unsent.at >= LATEST_BELL;
            let mut out = unsent.outgoing;
            out.retain(|one| !stale || !rings(one));
            let kept = unsent.key;
            taken.push(Done { kept, out });
        }
        Ok(others)
    }

    /// Says that what the events at these places made happen is put out now. What another process has
    /// taken up meanwhile is not: it is told, with the places.
    pub(super) async fn begin(&mut self, places: &[usize]) -> Vec<(usize, Vec<Outgoing>)> {
        let of_these = |(place, _): &&(usize, Done)| places.contains(place);
        let keys = self.kept.iter().filter(of_these);
        let keys: Vec<String> = keys.map(|(_, done)| done.kept.clone()).collect();
        if keys.is_empty() {
            return Vec::new();
        }
        let mut backoff = database_backoff();
        let ours = loop {
            match self.begin_these(&keys).await {
                Ok(ours) => break ours,
                Err(error) if self.worker.service().waits_out(&error, &mut backoff).await => {}
                Err(error) => {
                    // Rather twice than not at all.
                    tracing::warn!(%error, "cannot tell whether another process is printing this; printing it");
                    break keys.clone();
                }
            }
        };
        let is_lost =
            |(_, done): &(usize, Done)| keys.contains(&done.kept) && !ours.contains(&done.kept);
        let (lost, kept) = std::mem::take(&mut self.kept)
            .into_iter()
            .partition(is_lost);
        self.kept = kept;
        let lost: Vec<(usize, Done)> = lost;
        lost.into_iter()
            .map(|(place, done)| (place, done.out))
            .collect()
    }

    async fn begin_these(&self, keys: &[String]) -> Result<Vec<String>, StoreError> {
        let store = self.store();
        let mut tx = self.worker.service().begin().await?;
        let ours = tx.begin_to_put_out(keys, store.process()).await?;
        tx.commit().await?;
        Ok(ours)
    }

    /// All that was handled is out.
    pub(super) async fn flushed(&mut self) {
        self.drop_kept().await;
        if self.store().may_have_to_empty() {
            self.empty_answers().await;
        }
        self.prune().await;
    }

    async fn empty_answers(&self) {
        for _ in 0..PORTIONS {
            if !jobs::watch::empty_answers(self.store()).await {
                break;
            }
        }
    }

    /// Drops some old answers, where a day has passed since. Only now: before, somebody would wait for
    /// it, and it would keep quiet about a database that is gone.
    async fn prune(&mut self) {
        let Some(now) = self.clock.take() else {
            return;
        };
        if self.pruned.is_none_or(|last| now - last >= PRUNE_EVERY) {
            // Another process may have erased somebody and be gone.
            self.empty_answers().await;
            for _ in 0..PORTIONS {
                if !jobs::watch::prune(self.store(), now).await {
                    break;
                }
            }
            self.pruned = Some(now);
        }
    }

    async fn drop_kept(&mut self) {
        if self.kept.is_empty() {
            return;
        }
        let keys: Vec<String> = self
            .kept
            .iter()
            .map(|(_, done)| done.kept.clone())
            .collect();
        let service = self.worker.service();
        let dropped = async {
            let mut tx = service.begin().await?;
            tx.drop_unsent(&keys).await?;
            tx.commit().await
        };
        match dropped.await {
            Ok(()) => self.kept.clear(),
            Err(error) => tracing::warn!(%error, "what is out stays kept; it is tried again"),
        }
    }
}

fn rings(one: &Outgoing) -> bool {
    matches!(one, Outgoing::Reply(reply) if !reply.mentions.is_empty())
}
