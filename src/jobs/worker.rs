//! Claiming what is due, carrying it out, taking it out again.

use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use tokio::time::{Instant, sleep};

use super::due;
use super::watch::HELD;
use crate::bot::reply::Outgoing;
use crate::bot::state::{DueJob, Team};
use crate::service::{Service, ServiceError, TRIES, UseCase, database_backoff, guarded};
use crate::store::jobs::{Claim, Which};
use crate::store::outbox::Sender;
use crate::store::{StoreError, Tx};

/// The most jobs that share a commit.
const GROUP: u32 = 64;
/// The most that do while a bell may fall due: digests and members' weeks take some milliseconds each.
const FEW: u32 = 8;
/// How long is waited for what another process holds: longer than the database leaves a transaction to
/// a process that does not go on.
const HELD_AT_MOST: Duration = Duration::from_secs(75);
/// How long a claim would last if the transaction that made it did not end it.
const LEASE: TimeDelta = TimeDelta::minutes(1);

/// A job that was carried out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Done {
    /// The name under which what it posts is kept until it is sent, where it is kept.
    pub kept: String,
    /// What it posts.
    pub out: Vec<Outgoing>,
}

/// What came of a group of jobs.
#[derive(Debug, Default)]
struct Group {
    jobs: Vec<Done>,
    /// A portion of one more is done; it goes on when it is taken up next.
    goes_on: bool,
}

/// What came of one job.
#[derive(Debug)]
enum Alone {
    /// Another process holds it.
    Held,
    /// A portion of it is done; it goes on when it is taken up next.
    GoesOn,
    Done(Done),
}

/// How what jobs post is kept until it is sent.
#[derive(Clone, Copy, Debug)]
pub struct Keep {
    /// The channel it is sent by.
    pub via: &'static str,
    /// How long nobody else sends it.
    pub lease: Duration,
    /// What its lease is reckoned by, where that is not the time by which jobs are due.
    pub clock: Option<fn() -> DateTime<Utc>>,
}

/// Works on the jobs that are due.
#[derive(Debug)]
pub struct Worker<'a, U> {
    service: &'a Service<U>,
    owner: &'a str,
    keep: Option<Keep>,
}

impl<'a, U: UseCase> Worker<'a, U> {
    /// A worker; `owner` names the process.
    pub const fn new(service: &'a Service<U>, owner: &'a str, keep: Option<Keep>) -> Self {
        Self {
            service,
            owner,
            keep,
        }
    }

    /// The service that it works with.
    pub const fn service(&self) -> &'a Service<U> {
        self.service
    }

    /// Carries out whatever is due by `now`, of one team or of all, and returns what it posts, in
    /// order of the due times. All of that is stored durably then. Jobs that fail are put off.
    ///
    /// # Errors
    /// [`StoreError`] when the store cannot say what is due; what was done before that is done, and
    /// kept where it is kept.
    pub async fn tick(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Done>, StoreError> {
        let mut all = Vec::new();
        self.tick_into(team, now, &mut all).await?;
        Ok(all)
    }

    /// The same, and what is done is put to `all`, also where the rest fails.
    ///
    /// # Errors
    /// As [`Worker::tick`].
    async fn tick_into(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
        all: &mut Vec<Done>,
    ) -> Result<(), StoreError> {
        while self.group(team, None, now, all).await? {}
        Ok(())
    }

    /// The same, but a database that is down is waited for where the service is patient. `now` stays
    /// what it is: for channels whose time stands still meanwhile.
    ///
    /// # Errors
    /// As [`Worker::tick`].
    async fn tick_patiently(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Done>, StoreError> {
        let (mut all, mut backoff) = (Vec::new(), database_backoff());
        loop {
            match self.tick_into(team, now, &mut all).await {
                Ok(()) => return Ok(all),
                Err(error) if self.service.waits_out(&error, &mut backoff).await => {}
                Err(error) => return Err(error),
            }
        }
    }

    /// Carries out one group of what is due and puts it to `all`, bells before all else, for a channel
    /// whose time goes on meanwhile; false when there was nothing that could be done.
    ///
    /// # Errors
    /// [`StoreError`] as [`Worker::tick`].
    pub async fn step(&self, now: DateTime<Utc>, all: &mut Vec<Done>) -> Result<bool, StoreError> {
        Ok(self.group(None, Some(Which::Bells), now, all).await?
            || self.group(None, Some(Which::ButBells), now, all).await?)
    }

    /// One group of jobs; false when nothing was left that could be done.
    async fn group(
        &self,
        team: Option<&str>,
        which: Option<Which<'_>>,
        now: DateTime<Utc>,
        all: &mut Vec<Done>,
    ) -> Result<bool, StoreError> {
        match self.together(team, which, now).await {
            Ok(done) => {
                self.service.note_answer();
                let any = done.goes_on || !done.jobs.is_empty();
                all.extend(done.jobs);
                Ok(any)
            }
            Err(ServiceError::Store(error))
                if error.is_outage() && !self.service.is_its_own(&error).await =>
            {
                Err(error)
            }
            Err(error) => {
                tracing::debug!(%error, "jobs are worked on one by one");
                self.singly(team, now, all).await
            }
        }
    }

    /// The same, and waits for what is due and another process holds, so that all of it has happened:
    /// done by that process, or here once it is free.
    ///
    /// # Errors
    /// As [`Worker::tick`].
    pub(super) async fn tick_to_the_end(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Done>, StoreError> {
        let mut all = self.tick_patiently(team, now).await?;
        let begun = Instant::now();
        while begun.elapsed() < HELD_AT_MOST && self.is_held(team, now).await.unwrap_or(false) {
            sleep(HELD).await;
            match self.tick_patiently(team, now).await {
                Ok(more) => all.extend(more),
                Err(error) => {
                    tracing::warn!(%error, "what another process holds is left to it");
                    break;
                }
            }
        }
        Ok(all)
    }

    /// Whether something is due by `now` that another process holds, once [`Worker::tick`] is done.
    async fn is_held(&self, team: Option<&str>, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let mut tx = self.service.begin().await?;
        let team = team_of(&mut tx, team).await?;
        let keys = tx.due_keys(team.as_ref(), now, 1).await?;
        tx.rollback().await?;
        Ok(!keys.is_empty())
    }

    /// Many jobs in one transaction; none where nothing is due.
    async fn together(
        &self,
        team: Option<&str>,
        which: Option<Which<'_>>,
        now: DateTime<Utc>,
    ) -> Result<Group, ServiceError> {
        let mut tx = self.service.begin().await?;
        let work = async {
            let team = team_of(&mut tx, team).await?;
            let which = which.or_else(|| team.as_ref().map(Which::OfTeam));
            let jobs = tx
                .claim(&self.claim(which.unwrap_or(Which::Any), now))
                .await?;
            let mut done = Group::default();
            for job in &jobs {
                if done.goes_on {
                    // Others are served before the rest.
                    tx.give_back(&job.key).await?;
                } else if let Some(one) = self.carry_out(&mut tx, job, now).await? {
                    done.jobs.push(one);
                } else {
                    tx.give_back(&job.key).await?;
                    done.goes_on = true;
                }
            }
            Ok(done)
        };
        let done = guarded(work).await;
        end(tx, done, |done: &Group| !done.jobs.is_empty()).await
    }

    /// Each job in a transaction of its own; false when none could be taken up.
    async fn singly(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
        all: &mut Vec<Done>,
    ) -> Result<bool, StoreError> {
        let mut tx = self.service.begin().await?;
        let team = team_of(&mut tx, team).await?;
        let keys = tx.due_keys(team.as_ref(), now, GROUP).await?;
        tx.rollback().await?;
        let mut any = false;
        for key in &keys {
            match self.alone(key, now).await {
                Ok(Alone::Held) => {}
                Ok(Alone::GoesOn) => return Ok(true),
                Ok(Alone::Done(done)) => {
                    any = true;
                    all.push(done);
                }
                // The database's fault, not the job's.
                Err(ServiceError::Store(error))
                    if error.is_outage() && !self.service.is_its_own(&error).await =>
                {
                    return Err(error);
                }
                Err(error) => {
                    tracing::error!(%error, job = key, "a job failed");
                    if let Some(told) = self.failed(key, now).await? {
                        any = true;
                        all.push(told);
                    }
                }
            }
        }
        Ok(any)
    }

    /// One job. A connection that broke once says nothing of the job: put off for it, a bell would come too
    /// late.
    async fn alone(&self, key: &str, now: DateTime<Utc>) -> Result<Alone, ServiceError> {
        let mut tries = 1;
        let mut backoff = database_backoff();
        loop {
            let failed = match self.attempt(key, now).await {
                Err(ServiceError::Store(error)) if tries < TRIES => error,
                done => return done,
            };
            tries += 1;
            if failed.is_conflict() {
                continue;
            }
            if !self.service.is_its_own(&failed).await {
                return Err(failed.into());
            }
            sleep(backoff.next()).await;
        }
    }

    async fn attempt(&self, key: &str, now: DateTime<Utc>) -> Result<Alone, ServiceError> {
        let mut tx = self.service.begin().await?;
        let work = async {
            let jobs = tx.claim(&self.claim(Which::One(key), now)).await?;
            match jobs.first() {
                Some(job) => Ok(match self.carry_out(&mut tx, job, now).await? {
                    Some(done) => Alone::Done(done),
                    None => Alone::GoesOn,
                }),
                None => Ok(Alone::Held),
            }
        };
        let done = guarded(work).await;
        end(tx, done, |done| matches!(done, Alone::Done(_))).await
    }

    /// A job failed: it is put off, or given up, and that is told. `None` where somebody else has
    /// it by now.
    async fn failed(&self, key: &str, now: DateTime<Utc>) -> Result<Option<Done>, StoreError> {
        let mut tx = self.service.begin().await?;
        let job = match tx.claim(&self.claim(Which::One(key), now)).await {
            Ok(jobs) => jobs.into_iter().next(),
            Err(error) => {
                tracing::error!(%error, job = key, "a job cannot be read");
                drop(tx.rollback().await);
                return self.put_off(key, now + due::LONGEST).await.map(Some);
            }
        };
        let Some(job) = job else {
            tx.rollback().await?;
            return Ok(None);
        };
        if let Some(turn) = due::again(&job.job, job.due, job.tries, now) {
            tx.rollback().await?;
            return self.put_off(key, turn).await.map(Some);
        }
        tracing::error!(job = key, tries = job.tries, "a job is given up");
        let work = async {
            let out = self.service.use_case().given_up(&mut tx, &job, now).await?;
            self.end_of(&mut tx, &job, out, now).await
        };
        let told = guarded(work).await;
        match end(tx, told, |_| true).await {
            Ok(told) => Ok(Some(told)),
            Err(ServiceError::Store(error)) => Err(error),
            // Not even that could be told. A digest's row stays: the next week is another chance.
            Err(_) => self.put_off(key, now + due::WORTH).await.map(Some),
        }
    }

    async fn put_off(&self, key: &str, turn: DateTime<Utc>) -> Result<Done, StoreError> {
        let mut tx = self.service.begin().await?;
        tx.put_off(key, turn).await?;
        tx.commit().await?;
        Ok(Done {
            kept: String::new(),
            out: Vec::new(),
        })
    }

    const fn claim<'b>(&'b self, which: Which<'b>, now: DateTime<Utc>) -> Claim<'b> {
        Claim {
            owner: self.owner,
            now,
            lease: LEASE,
            most: match which {
                Which::ButBells => FEW,
                _ => GROUP,
            },
            which,
        }
    }

    /// `None` where a portion of the job is done, and it goes on when it is taken up next.
    async fn carry_out(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Option<Done>, ServiceError> {
        let Some(out) = self.service.use_case().job(tx, job, now).await? else {
            return Ok(None);
        };
        let lag = (now - job.due).to_std().unwrap_or_default();
        self.service.metrics().job_lag.took(lag);
        self.end_of(tx, job, out, now).await.map(Some)
    }

    /// Takes the job out, and keeps what it posts.
    async fn end_of(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        out: Vec<Outgoing>,
        now: DateTime<Utc>,
    ) -> Result<Done, ServiceError> {
        tx.done(job).await?;
        let kept = format!("j/{}/{}", job.key, job.due.timestamp_millis());
        if let Some(keep) = self.keep.filter(|_| !out.is_empty()) {
            let lease = TimeDelta::from_std(keep.lease).unwrap_or(LEASE);
            let sender = Sender {
                via: keep.via,
                owner: self.owner,
                until: keep.clock.map_or(now, |clock| clock()) + lease,
            };
            tx.keep_unsent(&job.team, (&kept, now, &out), sender)
                .await?;
        }
        Ok(Done { kept, out })
    }
}

async fn team_of(tx: &mut Tx, key: Option<&str>) -> Result<Option<Team>, StoreError> {
    match key {
        Some(key) => tx.team(key).await.map(Some),
        None => Ok(None),
    }
}

/// Commits what was done, if anything was; else takes it back.
async fn end<T>(
    tx: Tx,
    done: Result<T, ServiceError>,
    any: impl Fn(&T) -> bool,
) -> Result<T, ServiceError> {
    match done {
        Ok(done) if any(&done) => {
            tx.commit().await?;
            Ok(done)
        }
        done => {
            // What failed matters more than a rollback that fails too.
            drop(tx.rollback().await);
            done
        }
    }
}
