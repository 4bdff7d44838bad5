//! A filed set as the calculations see it.

use chrono::{DateTime, NaiveDate, Utc};

use super::quantities::check::Check;
use super::quantities::effort::Rir;
use super::quantities::id::{ExerciseId, SetId};
use super::quantities::load::Load;
use super::quantities::worded::worded;

worded! {
    /// What kind of set it was.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum SetKind {
        /// A work set at one load with a real rest before it.
        Straight = "straight",
        /// One of a superset: counted as a straight set is, for each of the exercises.
        Superset = "superset",
        /// The first part of a drop set or rest-pause set: counted as a straight set is.
        FirstPart = "first_part",
        /// The part of a drop set or rest-pause set that stands for all that follow the first: together
        /// they count as one set at most.
        FurtherParts = "further_parts",
        /// Partials, and parts of a drop set or rest-pause set that another stands for: kept, never
        /// counted.
        Other = "other",
        /// A warm-up: kept, never counted.
        WarmUp = "warm_up",
        /// Held or carried for time: its repetitions are seconds. Kept, never counted.
        Held = "held",
    }
}

impl SetKind {
    /// Whether it is a work set at one load with a real rest before it.
    #[must_use]
    pub const fn is_straight(self) -> bool {
        matches!(self, Self::Straight)
    }
}

worded! {
    /// What gave out before the target muscle did: the set says nothing of what the muscle could do,
    /// but that it could do as much.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum LimitingFactor {
        /// Muscles that help: triceps of a bench press, grip of a row.
        Helpers = "helpers",
        /// Breathing.
        Breath = "breath",
    }
}

/// A word on being ready, between two sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said {
    /// Seconds after the end of the set before.
    pub after_s: u32,
    /// Of which check.
    pub check: Check,
    /// Whether it holds.
    pub ready: bool,
}

/// One performed set of a member's log, in the order of [`LoggedSet::at`], then `id`.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedSet {
    /// The store's id; a set decided but not yet stored has none.
    pub id: Option<SetId>,
    /// What was lifted.
    pub exercise: ExerciseId,
    /// With what.
    pub load: Load,
    /// Full repetitions done, to 100; per side where `per_side`. 0 is a failed attempt. Of what was held
    /// or carried ([`SetKind::Held`]) the seconds, 1 to 1,800.
    pub reps: u32,
    /// Reported repetitions in reserve; `None` when nothing was said.
    pub rir: Option<Rir>,
    /// What gave out before the target muscle, if the lifter said so.
    pub gave_out: Option<LimitingFactor>,
    /// Kind of set.
    pub kind: SetKind,
    /// Paused, or at a counted tempo: fewer repetitions go than without.
    pub slowed: bool,
    /// Repetitions are per side.
    pub per_side: bool,
    /// When the set ended: the time of its message, or, for the earlier sets of a message with
    /// several, counted back from it; noon and on for a backdated day.
    pub at: DateTime<Utc>,
    /// Whether `at` was observed (a set posted by itself as it happened) rather than reckoned.
    pub timed: bool,
    /// Effort that the plan, or the advice without one, asked to end it at; `None` where nothing was
    /// asked, as in a log kept elsewhere.
    pub asked: Option<Rir>,
    /// What the lifter said of being ready between the set before and this one, in order.
    pub said: Vec<Said>,
    /// Rest before the set as stated by the lifter, seconds.
    pub stated_rest_s: Option<u32>,
    /// The team's local day that the set belongs to.
    pub day: NaiveDate,
}

impl LoggedSet {
    /// A straight set that ended at `at`, on that day in UTC, and of which nothing else was said.
    #[must_use]
    pub fn straight(exercise: ExerciseId, load: Load, reps: u32, at: DateTime<Utc>) -> Self {
        Self {
            id: None,
            exercise,
            load,
            reps,
            rir: None,
            gave_out: None,
            kind: SetKind::Straight,
            slowed: false,
            per_side: false,
            at,
            timed: true,
            asked: None,
            said: Vec::new(),
            stated_rest_s: None,
            day: at.date_naive(),
        }
    }

    /// What was left of the target muscle by the lifter's word; `None` also where something else
    /// gave out first, since what was left then was left of that.
    #[must_use]
    pub fn rated(&self) -> Option<Rir> {
        self.rir.filter(|_| self.gave_out.is_none())
    }
}
