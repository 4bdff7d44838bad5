//! Waiting until something is due.
//!
//! The next due time is slept for. What is stored in between that is due earlier wakes the sleeper,
//! whatever process stores it ([`Store::earlier_job`]). It is looked anew only now and again, for
//! what a process stored in the moment of its death and told nobody; more often where other
//! processes are not heard.

use std::time::Duration;

use chrono::{DateTime, Utc};
use tokio::time::{Instant, sleep};

use super::set_back;
use crate::store::{Store, StoreError};

/// How long is slept at most without looking anew.
pub const LOOK_ANEW: Duration = Duration::from_secs(60);
/// The same where other processes cannot be heard, as on SQLite. A bell is of use for two minutes.
pub const LOOK_ANEW_UNHEARD: Duration = Duration::from_secs(15);
/// How often the clock is looked at, which may be set while somebody sleeps.
const LOOK_AT_CLOCK: Duration = Duration::from_secs(5);
/// How long a job that is due, but held by another process, is left alone.
pub(super) const HELD: Duration = Duration::from_millis(100);

/// Returns once something is due, of one team or of all; `idle` says that the last look found nothing
/// to do although something was due.
///
/// # Errors
/// [`StoreError`] when it cannot be seen what is due.
pub async fn until_due(
    store: &Store,
    team: Option<&str>,
    now: impl Fn() -> DateTime<Utc>,
    idle: bool,
) -> Result<(), StoreError> {
    if idle {
        sleep(HELD).await;
    }
    loop {
        set_back::schedule_anew(store, team, now()).await?;
        let due = store.next_due(team).await?;
        tokio::select! {
            is_due = passes(due, store, &now) => if is_due {
                return Ok(());
            },
            () = store.earlier_job() => {}
        }
    }
}

/// Drops some old answers; whether there may be more. What cannot be done now is done later.
pub(crate) async fn prune(store: &Store, now: DateTime<Utc>) -> bool {
    store.prune(now).await.unwrap_or_else(|error| {
        tracing::debug!(%error, "old answers are not dropped now");
        false
    })
}

/// Empties some answers that tell of somebody of whom everything was erased; whether there is more.
/// What cannot be done now is done later.
pub(crate) async fn empty_answers(store: &Store) -> bool {
    store.empty_answers().await.unwrap_or_else(|error| {
        tracing::debug!(%error, "answers about somebody erased are not emptied now");
        false
    })
}

/// Sleeps until something is due; false when it is time to look anew. Between two looks at the clock
/// nobody needs, some old answers are dropped.
async fn passes(
    due: Option<DateTime<Utc>>,
    store: &Store,
    now: &impl Fn() -> DateTime<Utc>,
) -> bool {
    let begun = Instant::now();
    loop {
        let wait = due.map(|at| (at - now()).to_std().unwrap_or_default());
        if wait.is_some_and(|wait| wait.is_zero()) {
            return true;
        }
        let look = match store.hears_others() {
            true => LOOK_ANEW,
            false => LOOK_ANEW_UNHEARD,
        };
        let Some(look) = look.checked_sub(begun.elapsed()) else {
            return false;
        };
        let wait = wait.unwrap_or(look).min(look);
        if empty_answers(store).await {
            // Whoever writes comes first.
            tokio::task::yield_now().await;
            continue;
        }
        sleep(wait.min(LOOK_AT_CLOCK)).await;
        if wait > LOOK_AT_CLOCK {
            prune(store, now()).await;
        }
    }
}
