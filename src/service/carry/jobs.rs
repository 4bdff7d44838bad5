//! Jobs inside a transaction.

use chrono::{DateTime, Utc};

use super::{Bot, Stage};
use crate::bot::case::{Intent, Source};
use crate::bot::digest;
use crate::bot::reply::Outgoing;
use crate::bot::scene::Scene;
use crate::bot::state::{Bell, DigestJob, DueJob, Job, Team};
use crate::service::ServiceError;
use crate::store::{StoreError, Tx};

/// Carries a job out that is due.
pub(super) async fn carry_out(
    tx: &mut Tx,
    bot: &Bot,
    job: &DueJob,
    now: DateTime<Utc>,
) -> Result<Vec<Outgoing>, ServiceError> {
    match &job.job {
        Job::Bell(bell) => ring(tx, bot, job, bell, now).await,
        Job::Digest(had) => {
            let after = digest::after(&job.team.settings, had);
            plan_digest(tx, &job.team, &after, now).await?;
            Ok(Vec::new())
        }
        Job::OwnWeek(_) => Ok(Vec::new()),
    }
}

async fn ring(
    tx: &mut Tx,
    bot: &Bot,
    job: &DueJob,
    bell: &Bell,
    now: DateTime<Utc>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let Some(member) = &job.member else {
        return Ok(Vec::new());
    };
    let source = Source {
        channel: bell.channel.clone(),
        answers: None,
        stem: format!("bell.{}.{}", member.author, bell.due.timestamp_millis()),
    };
    let stage = Stage {
        team: &job.team,
        member,
        reader: &bot.reader_of(&job.team),
        files: &bot.files,
        now,
        about: now,
    };
    let read = |_: &Scene| Intent::Ring(bell.clone());
    stage.play(tx, &source, read, "", None).await
}

/// A job is given up.
pub(super) async fn give_up(
    tx: &mut Tx,
    job: &DueJob,
    now: DateTime<Utc>,
) -> Result<Vec<Outgoing>, StoreError> {
    match &job.job {
        Job::Bell(_) => {
            if let Some(member) = &job.member {
                tx.hush(&job.team, &member.author, now).await?;
            }
        }
        Job::Digest(had) => {
            let after = digest::after(&job.team.settings, had);
            plan_digest(tx, &job.team, &after, now).await?;
        }
        Job::OwnWeek(_) => {}
    }
    Ok(Vec::new())
}

/// Sets the team's next digest.
pub(super) async fn plan_digest(
    tx: &mut Tx,
    team: &Team,
    before: &DigestJob,
    now: DateTime<Utc>,
) -> Result<(), StoreError> {
    let (next, due) = digest::plan(&team.settings, before, now);
    tx.put_digest(team, &next, due).await
}
