//! What is kept of checkpoints and bests: see [`super::checkpoint`] and [`super::bests`] for what is done with
//! them.

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use crate::domain::quantities::status::TrainingStatus;

/// The bests of a member, by exercise.
pub(crate) type AllBests = BTreeMap<String, BestsData>;

/// What was best as stored: loads in grams with repetitions, the estimate, days, the last day.
pub type BestsData = (Vec<(i64, u32)>, f64, u32, Option<NaiveDate>);

/// Where a member's log can be learned again from.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Cuts {
    /// The training status with which all of the log was learned; `None` where it was not always the
    /// same, or that is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) learned_as: Option<u8>,
    /// Oldest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) at: Vec<Cut>,
}

/// The time and day of the first set behind a cut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cut {
    /// When it ended.
    #[serde(with = "chrono::serde::ts_milliseconds")]
    pub at: DateTime<Utc>,
    /// Its day.
    pub day: NaiveDate,
}

impl Cuts {
    /// Whether nothing is known.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The cuts from which a log can be learned again by a lifter of this status, oldest first.
    pub fn usable(&self, status: TrainingStatus) -> &[Cut] {
        match self.learned_as == Some(code(status)) {
            true => &self.at,
            false => &[],
        }
    }
}

pub(super) const fn code(status: TrainingStatus) -> u8 {
    match status {
        TrainingStatus::Beginner => 0,
        TrainingStatus::Intermediate => 1,
        TrainingStatus::Advanced => 2,
    }
}

/// What was believed at a cut of one exercise, or of the member's condition.
#[derive(Clone, Debug, PartialEq)]
pub struct Checkpoint {
    /// The cut.
    pub at: DateTime<Utc>,
    /// The exercise's name; empty for the condition.
    pub exercise: String,
    /// As the domain encodes it; `None`: there was no belief.
    pub state: Option<Vec<u8>>,
    /// The bests of the exercise; `None`: there were none.
    pub bests: Option<BestsData>,
}

/// What becomes of the stored checkpoints.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CheckpointChange {
    /// Those before the first of these moments go, and those from the second on; `None`: all stay.
    pub keep: Option<(DateTime<Utc>, DateTime<Utc>)>,
    /// New ones; where there is one already, it stays.
    pub new: Vec<Checkpoint>,
}

impl CheckpointChange {
    /// Whether nothing changes.
    pub const fn is_empty(&self) -> bool {
        self.keep.is_none() && self.new.is_empty()
    }
}

/// What is loaded of a log that is learned again from a cut on.
#[derive(Clone, Debug, PartialEq)]
pub struct Late {
    /// The cut before the first set loaded.
    pub from: Cut,
    /// All checkpoints.
    pub checkpoints: Vec<Checkpoint>,
}
