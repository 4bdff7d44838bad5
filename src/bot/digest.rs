//! The week put before everybody: when it is due, what it says.

use chrono::{DateTime, Utc};

use super::state::{DigestJob, TeamSettings};
use super::words;
use super::work::Work;
use crate::message::command::DigestCommand;

/// The digest that comes next, and when, for a team that had one before (or was to), as its
/// settings now are; of a new team the first whose hour is still to come.
#[must_use]
pub fn plan(
    settings: &TeamSettings,
    before: &DigestJob,
    now: DateTime<Utc>,
) -> (DigestJob, DateTime<Utc>) {
    let (hour, calendar) = (settings.digest.hour(), settings.calendar());
    let last = before
        .last
        .clone()
        .unwrap_or_else(|| hour.first(calendar, now).previous().label());
    let (week, due) = hour.next(&last, calendar, now);
    let job = DigestJob {
        week: Some(week.first_day()),
        last: Some(last),
    };
    (job, due)
}

/// What is known of the team's digests once this one was had, or went without.
#[must_use]
pub fn after(settings: &TeamSettings, had: &DigestJob) -> DigestJob {
    let label = had.week.map(|day| settings.calendar().week_of(day).label());
    DigestJob {
        week: None,
        last: label.or_else(|| had.last.clone()),
    }
}

impl Work<'_> {
    /// Answers `/digest`.
    pub(super) fn digest(&mut self, command: DigestCommand) {
        let profile = &mut self.member.profile;
        match command {
            DigestCommand::Show => {}
            DigestCommand::Mine(on) => profile.own_week = on,
            DigestCommand::Line(on) => profile.unlisted = !on,
        }
        let text = words::digest::chosen(&self.member.profile);
        self.tell(text);
    }
}
