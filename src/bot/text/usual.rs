//! Sentences for training without a plan.

use chrono::NaiveDate;

use super::{band, plain, run};
use crate::domain::coaching::week::Band;
use crate::domain::log::LoggedSet;

/// Said to a member of whom no set of the last weeks is known, or whose week is full.
pub const NOTHING_KNOWN: &str = "You have no plan, and no muscle that you trained lately is behind this week. Post what you do, like `bench 60x10, 2 left`. `/week` shows where you stand.";

/// Said to a member who has not posted a set yet.
pub const NO_SETS_YET: &str = "You have no plan and no sets yet, so I can't say what is due. Start with \
what you know, and post it like `squat 40x10, 2 left`: I tell you the next load and the rest.";

/// Said above a session that was chosen without a plan.
pub const FROM_USUAL: &str = "You have no plan, so I chose from what you usually do.";

/// Said to `/fit` when what is usual is done.
pub const DONE: &str = "You have no plan, and you have done what you usually do for today. `/week` shows \
where you stand.";

/// Said to `/fit` where nothing is known to choose from.
pub const NO_USUAL: &str = "You have no plan and no sets in the last four weeks, so I can't choose for you yet. Post what you do, like `bench 60x10, 2 left`, or ask your coach for a plan.";

/// A muscle that lacks sets this week.
pub struct Due<'a> {
    /// Its name.
    pub muscle: &'a str,
    /// Counted sets this week.
    pub counted: f64,
    /// The aim.
    pub band: Band,
    /// When it was trained last.
    pub last: NaiveDate,
    /// Whether all that is usual for it loads what hurts.
    pub held: bool,
    /// What is usual for it.
    pub exercise: Option<&'a str>,
    /// What was done of that last.
    pub before: Vec<LoggedSet>,
}

/// What is due without a plan.
pub fn due(rows: &[Due<'_>], today: NaiveDate) -> String {
    let lines = rows.iter().map(|row| {
        if row.held {
            return format!("{}: {}", super::capital(row.muscle), super::hurt::HELD_BACK);
        }
        let ago = match (today - row.last).num_days() {
            0 => "today".to_owned(),
            1 => "yesterday".to_owned(),
            days => format!("{days} days ago"),
        };
        let usual = row.exercise.map_or_else(String::new, |exercise| {
            format!(" You usually do {exercise}: last {}.", run(&row.before))
        });
        format!(
            "{}: {} of {} sets this week, last trained {ago}.{usual}",
            super::capital(row.muscle),
            plain(row.counted),
            band(row.band)
        )
    });
    let lines: Vec<_> = lines.collect();
    format!(
        "You have no plan. Going by what you trained lately, this is due:\n{}\n`/fit 45` makes a session of \
         45 minutes from it.",
        lines.join("\n")
    )
}
