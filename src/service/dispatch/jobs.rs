//! Jobs inside a transaction.

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

use super::bot::Bot;
use super::run::{UseCaseRun, plan_digest};
use super::team::view_of;
use crate::bot::handlers::digest;
use crate::bot::intent::Intent;
use crate::bot::needs::TeamLoaded;
use crate::bot::needs::{Depth, Source, TeamNeeds};
use crate::bot::reply::Outgoing;
use crate::bot::state::view::View;
use crate::bot::state::{Bell, DigestJob, DueJob, Job, Member, Team};
use crate::bot::text;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::weekly::LATEST;
use crate::service::ServiceError;
use crate::store::{StoreError, Tx};

/// Handles a job that is due.
pub(super) async fn handle(
    tx: &mut Tx,
    bot: &Bot,
    job: &DueJob,
    now: DateTime<Utc>,
) -> Result<Option<Vec<Outgoing>>, ServiceError> {
    match &job.job {
        Job::Bell(bell) => ring(tx, bot, job, bell, now).await.map(Some),
        Job::Digest(had) => {
            let Some(out) = put_before_all(tx, bot, job, had, now).await? else {
                return Ok(None);
            };
            plan_after(tx, &job.team, had, now).await?;
            Ok(Some(out))
        }
        Job::OwnWeek(week) => own_week(tx, bot, job, *week, now).await.map(Some),
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
        // By the clock that it rings by, so that it is no other's.
        stem: format!("bell.{}.{}", member.author, bell.due.timestamp_millis()),
    };
    // Where the clock of its sets stood ahead, it is rung by that one.
    let ahead = TimeDelta::milliseconds(bell.ahead_ms);
    let bell = Bell {
        due: bell.due + ahead,
        ..bell.clone()
    };
    let ring = (source, Intent::Ring(bell));
    run(tx, bot, (&job.team, member), ring, now + ahead, None).await
}

/// Works an intent out for a member.
async fn run(
    tx: &mut Tx,
    bot: &Bot,
    (team, member): (&Team, &Member),
    (source, intent): (Source, Intent),
    now: DateTime<Utc>,
    of_team: Option<&Arc<TeamLoaded>>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let reader = bot.reader_for(team, &member.author);
    let stage = UseCaseRun {
        of_team,
        ..UseCaseRun::new(bot, (team, member), &reader, now)
    };
    Box::pin(stage.run(tx, &source, |_: &View| intent.clone(), "", None)).await
}

/// What comes unasked stands where the use case says.
const fn unasked(stem: String) -> Source {
    Source {
        channel: String::new(),
        answers: None,
        stem,
    }
}

/// The team's digest, and who is to get their own week; `None` while a large team's is not all worked out.
async fn put_before_all(
    tx: &mut Tx,
    bot: &Bot,
    job: &DueJob,
    had: &DigestJob,
    now: DateTime<Utc>,
) -> Result<Option<Vec<Outgoing>>, ServiceError> {
    let (team, settings) = (&job.team, &job.team.settings);
    let Some(week) = digest::week_of(settings, had) else {
        return Ok(Some(Vec::new()));
    };
    if now - job.due > LATEST {
        let coaches = tx.coaches(team).await?;
        return Ok(Some(went_without(job, &coaches, week, false)));
    }
    let Some(member) = tx.coach_or_first(team).await? else {
        return Ok(Some(Vec::new()));
    };
    let needs = TeamNeeds {
        week,
        depth: match settings.digest.off {
            true => Depth::Sums,
            false => Depth::Digest,
        },
        of_other: false,
    };
    let reader = bot.reader_for(team, &member.author);
    let view = view_of(team, &member, &reader, now);
    let Some(portions) = bot.digests.step(tx, job, needs, &view).await? else {
        return Ok(None);
    };
    let of_team = portions.finish();
    let members = of_team.week.members.iter().map(|one| &one.member);
    let wanting: Vec<_> = members
        .filter(|one| one.own_week)
        .map(|one| one.id)
        .collect();
    let label = week.label();
    tx.put_own_weeks(team, &wanting, (week.first_day(), &label), now)
        .await?;
    if settings.digest.off {
        return Ok(Some(Vec::new()));
    }
    let late = now - job.due >= digest::LATE;
    let source = unasked(format!("digest.{week}"));
    let digest = (source, Intent::Digest(week, late));
    let done = run(tx, bot, (team, &member), digest, now, Some(&of_team));
    done.await.map(Some)
}

async fn own_week(
    tx: &mut Tx,
    bot: &Bot,
    job: &DueJob,
    first_day: NaiveDate,
    now: DateTime<Utc>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let Some(member) = &job.member else {
        return Ok(Vec::new());
    };
    let week = job.team.settings.calendar().week_of(first_day);
    let source = unasked(format!("week.{}.{week}", member.author));
    let week = (source, Intent::OwnWeek(week));
    run(tx, bot, (&job.team, member), week, now, None).await
}

/// A job is given up.
pub(super) async fn give_up(
    tx: &mut Tx,
    job: &DueJob,
    now: DateTime<Utc>,
) -> Result<Vec<Outgoing>, StoreError> {
    let mut out = Vec::new();
    match &job.job {
        Job::Bell(_) => {
            if let Some(member) = &job.member {
                tx.hush(&job.team, &member.author, now).await?;
            }
        }
        Job::Digest(had) => {
            if let Some(week) = digest::week_of(&job.team.settings, had) {
                let coaches = tx.coaches(&job.team).await?;
                out = went_without(job, &coaches, week, true);
            }
            plan_after(tx, &job.team, had, now).await?;
        }
        Job::OwnWeek(_) => {}
    }
    Ok(out)
}

fn went_without(job: &DueJob, coaches: &[Member], week: Week, fault: bool) -> Vec<Outgoing> {
    let text = text::digest::went_without(week, fault);
    digest::to_coaches(&job.team.key, coaches, &format!("digest.{week}.out"), &text)
}

/// Sets the team's next digest after this one.
async fn plan_after(
    tx: &mut Tx,
    team: &Team,
    had: &DigestJob,
    now: DateTime<Utc>,
) -> Result<(), StoreError> {
    let after = digest::after(&team.settings, had);
    plan_digest(tx, team, &after, now).await
}
