//! When a job that failed is tried again, and when it is given up.

use chrono::{DateTime, TimeDelta, Utc};

use crate::bot::LATEST_BELL;
use crate::bot::state::Job;

/// The pause after the first failure; it doubles with each that follows.
const FIRST_PAUSE: TimeDelta = TimeDelta::seconds(1);
/// The longest pause.
pub const LONGEST_PAUSE: TimeDelta = TimeDelta::hours(1);
/// Everything else is given up a day after it was due.
pub const WORTH: TimeDelta = TimeDelta::days(1);

/// How long a job that failed `tries` times before is left alone now that it failed again: 1 s,
/// 2 s, 4 s … an hour.
///
/// ```
/// use chalkbell::jobs::due::pause;
/// assert_eq!([0, 1, 2, 40].map(|tries| pause(tries).num_seconds()), [1, 2, 4, 3600]);
/// ```
#[must_use]
pub fn pause(tries: u32) -> TimeDelta {
    let times = 1_i32.checked_shl(tries).unwrap_or(i32::MAX).max(1);
    let long = tries >= LONGEST_AFTER;
    FIRST_PAUSE
        .checked_mul(times)
        .filter(|pause| !long && *pause < LONGEST_PAUSE)
        .unwrap_or(LONGEST_PAUSE)
}

/// Failures after which the pause grows no more: 2 to the 12th seconds are more than an hour.
const LONGEST_AFTER: u32 = 12;

/// What becomes of a job that was due at `due`, failed `tries` times before and now again: the
/// time from which it may be tried again, or `None`, and it is given up.
#[must_use]
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
        assert_eq!(pause(u32::MAX), LONGEST_PAUSE);
    }

    #[test]
    fn digest_that_keeps_failing_is_tried_for_a_day_and_not_often() {
        let job = Job::Digest(DigestJob::default());
        let (mut now, mut tries) = (noon(), 0);
        while let Some(turn) = again(&job, noon(), tries, now) {
            (now, tries) = (turn, tries + 1);
        }
        assert!(now - noon() > WORTH - LONGEST_PAUSE, "{now}");
        assert!((30..40).contains(&tries), "{tries}");
    }

    #[test]
    fn bell_is_given_up_when_it_is_of_no_use_any_more() {
        let bell = Job::Bell(crate::bot::state::Bell {
            exercise: "bench press".to_owned(),
            channel: "gym".to_owned(),
            due: noon(),
            moved: 0,
        });
        let after = |seconds| again(&bell, noon(), 0, noon() + TimeDelta::seconds(seconds));
        assert!(after(118).is_some());
        assert_eq!(after(119), None);
    }
}
