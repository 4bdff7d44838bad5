//! Clocks that stood ahead and were set back: what was scheduled by them is scheduled anew.
//!
//! A job says at which time it was set. Where that lies ahead of the time it is now, the clock of then
//! was wrong, and what follows from it would come years late or never: a digest is set to the first
//! week that the team has not had by its own clock, a bell to the rest that it was set for.

use chrono::{DateTime, TimeDelta, Utc};

use crate::bot::handlers::digest;
use crate::bot::state::{Bell, Job};
use crate::store::jobs::far::FarJob;
use crate::store::{Store, StoreError, Tx};

/// Clocks that differ by less are not set back but a little apart.
const APART: TimeDelta = TimeDelta::minutes(2);

/// Schedules anew what a clock that was ahead of `now` scheduled, of one team or of all.
///
/// # Errors
/// [`StoreError`]; then nothing is changed.
pub async fn schedule_anew(
    store: &Store,
    team: Option<&str>,
    now: DateTime<Utc>,
) -> Result<(), StoreError> {
    if !store.has_far_jobs(team, now).await? {
        return Ok(());
    }
    let mut tx = store.begin().await?;
    let mut any = false;
    for far in tx.far_jobs(team, now).await? {
        any |= anew(&mut tx, &far, now).await?;
    }
    if any {
        tracing::info!("a clock was set back; what it had put off is scheduled anew");
        tx.commit().await
    } else {
        tx.rollback().await
    }
}

/// One job; whether it was set anew.
async fn anew(tx: &mut Tx, far: &FarJob, now: DateTime<Utc>) -> Result<bool, StoreError> {
    match &far.job {
        Job::Digest(planned) => {
            let team = tx.team(&far.team).await?;
            let Some((next, due)) = digest::plan_anew(&team.settings, planned, far.due, now) else {
                return Ok(false);
            };
            tx.put_digest(&team, &next, due).await?;
        }
        Job::Bell(bell) if far.due > now => {
            let ahead = bell.set.unwrap_or(far.due) - now;
            if ahead < APART {
                return Ok(false);
            }
            let bell = Bell {
                due: bell.due - ahead,
                set: Some(now),
                ahead_ms: bell.ahead_ms + ahead.num_milliseconds(),
                ..bell.clone()
            };
            tx.move_job(&far.key, bell.due, Some(&bell)).await?;
        }
        // It was due, and put off after a failure by a clock that was ahead.
        Job::Bell(_) | Job::OwnWeek(_) => {
            tx.move_job(&far.key, far.due.min(now), None).await?;
        }
    }
    Ok(true)
}
