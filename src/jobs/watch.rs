//! Waiting until something is due.
//!
//! The next due time is slept for. What this process stores in between that is due earlier wakes
//! the sleeper. What other processes store they sleep for themselves: so it is looked anew only
//! now and again ([`LOOK_ANEW`]), for the case that such a process is gone, and for clocks that
//! were set. (A notice from the database at every commit would make all processes' commits queue
//! for one lock.)

use std::time::Duration;

use chrono::{DateTime, Utc};
use tokio::time::sleep;

use crate::store::{Store, StoreError};

/// The longest sleep. A bell is of use for two minutes.
pub const LOOK_ANEW: Duration = Duration::from_secs(15);

/// How long a job that is due, but held by another process, is left alone.
const HELD: Duration = Duration::from_millis(100);

/// Returns true once something is due, or false when it is time to look anew at what other
/// processes left. Of one team or of all; `idle` says that the last look found nothing to do although
/// something was due.
///
/// # Errors
/// [`StoreError`] when it cannot be seen what is due.
pub async fn until_due(
    store: &Store,
    team: Option<&str>,
    now: impl Fn() -> DateTime<Utc>,
    idle: bool,
) -> Result<bool, StoreError> {
    if idle {
        sleep(HELD).await;
    }
    loop {
        let next = store.next_due(team).await?;
        let wait = next.map_or(LOOK_ANEW, |due| (due - now()).to_std().unwrap_or_default());
        if wait.is_zero() {
            return Ok(true);
        }
        tokio::select! {
            () = sleep(wait.min(LOOK_ANEW)) => {
                if wait > LOOK_ANEW || next.is_none() {
                    return Ok(false);
                }
            }
            () = store.earlier_job() => {}
        }
    }
}
