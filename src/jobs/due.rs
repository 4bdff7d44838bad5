//! When a job that failed is tried again, and when it is given up.

use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};

use crate::backoff::Backoff;
use crate::bot::LATEST_BELL;
use crate::bot::state::Job;

/// The longest that a job that failed is left alone.
pub const LONGEST: TimeDelta = TimeDelta::hours(1);
/// Everything else is given up a day after it was due.
pub const WORTH: TimeDelta = TimeDelta::days(1);

/// How long a job that failed `tries` times before is left alone now that it failed again: 1 s,
/// 2 s, 4 s … an hour. Nothing is added by chance: only one process at a time has a job.
fn pause(tries: u32) -> TimeDelta {
    let backoff = Backoff::between(Duration::from_secs(1), Duration::from_hours(1));
    TimeDelta::from_std(backoff.after(tries).least()).unwrap_or(LONGEST)
}

/// What becomes of a job that was due at `due`, failed `tries` times before and now again: the
/// time from which it may be tried again, or `None`, and it is given up.
pub fn again(
    job: &Job,
    due: DateTime<Utc>,
    tries: u32,
    now: DateTime<Utc>,
) -> Option<DateTime<Utc>> {
    let worth = match job {
        Job::Bell(_) => LATEST_BELL,
        Job::Digest(_) | Job::OwnWeek(_) => WORTH,
    };
    let turn = now + pause(tries);
    (turn - due < worth).then_some(turn)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bot::state::DigestJob;

    fn noon() -> DateTime<Utc> {
        "2026-11-29T18:00:00Z".parse().unwrap()
    }

    #[test]
    fn pause_doubles_up_to_an_hour() {
        let pauses: Vec<i64> = (0..14).map(|tries| pause(tries).num_seconds()).collect();
        assert_eq!(
            pauses,
            [
                1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024, 2048, 3600, 3600
            ]
        );
        assert_eq!(pause(u32::MAX), LONGEST);
    }

    #[test]
    fn digest_that_keeps_failing_is_tried_for_a_day_and_not_often() {
        let job = Job::Digest(DigestJob::default());
        let (mut now, mut tries) = (noon(), 0);
        while let Some(turn) = again(&job, noon(), tries, now) {
            (now, tries) = (turn, tries + 1);
        }
        assert!(now - noon() > WORTH - LONGEST, "{now}");
        assert!((30..40).contains(&tries), "{tries}");
    }

    #[test]
    fn bell_is_given_up_when_it_is_of_no_use_any_more() {
        let bell = Job::Bell(crate::bot::state::Bell {
            exercise: "bench press".to_owned(),
            channel: "gym".to_owned(),
            due: noon(),
            ..crate::bot::state::Bell::default()
        });
        let after = |seconds| again(&bell, noon(), 0, noon() + TimeDelta::seconds(seconds));
        assert!(after(118).is_some());
        assert_eq!(after(119), None);
    }
}
