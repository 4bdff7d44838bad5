//! What the last correction or undo took the place of, so that it can be taken back.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use crate::domain::log::{LimitingFactor, LoggedSet, Said, SetKind};
use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};

/// What was done to some sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Deed {
    /// Corrected; the sets are as they were before.
    Corrected,
    /// A correction was taken back; the sets are as it had them.
    Reverted,
    /// Taken out.
    Removed,
}

/// The sets before it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Undone {
    /// When it was done.
    pub at: DateTime<Utc>,
    /// What.
    pub deed: Deed,
    /// Each with where it was posted.
    pub sets: Vec<SetData>,
}

/// More sets are not kept.
pub const MOST: usize = 60;

/// Where a set was posted, and its technique by its word.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Posted {
    /// The message.
    pub message: String,
    /// The channel.
    pub channel: String,
    /// The place in the message.
    pub place: u32,
    /// The place in the day.
    pub order: u32,
    /// The technique.
    pub technique: Option<String>,
}

/// A set as it is kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SetData {
    /// Where it was posted.
    pub posted: Posted,
    exercise: String,
    mass: i64,
    unit: String,
    basis: String,
    reps: u32,
    rir: Option<f64>,
    gave_out: Option<String>,
    kind: String,
    slowed: bool,
    per_side: bool,
    at: DateTime<Utc>,
    timed: bool,
    asked: Option<f64>,
    said: Vec<(u32, String, bool)>,
    rest_s: Option<u32>,
    day: NaiveDate,
}

impl SetData {
    /// A set as it is kept.
    pub fn of(set: &LoggedSet, posted: Posted, catalogue: &Catalogue) -> Self {
        let said = |one: &Said| (one.after_s, one.check.word().to_owned(), one.ready);
        Self {
            posted,
            exercise: catalogue.exercise(set.exercise).name.clone(),
            mass: set.load.mass.tenth_micrograms(),
            unit: set.load.unit.symbol().to_owned(),
            basis: set.load.basis.word().to_owned(),
            reps: set.reps,
            rir: set.rir.map(Rir::reps),
            gave_out: set.gave_out.map(|one| one.word().to_owned()),
            kind: set.kind.word().to_owned(),
            slowed: set.slowed,
            per_side: set.per_side,
            at: set.at,
            timed: set.timed,
            asked: set.asked.map(Rir::reps),
            said: set.said.iter().map(said).collect(),
            rest_s: set.stated_rest_s,
            day: set.day,
        }
    }

    /// The set, as one that is in no row; `None` where its exercise is gone.
    pub fn set(&self, catalogue: &Catalogue) -> Option<LoggedSet> {
        let said = |(after_s, check, ready): &(u32, String, bool)| {
            let check = Check::ALL.into_iter().find(|one| one.word() == check)?;
            Some(Said {
                after_s: *after_s,
                check,
                ready: *ready,
            })
        };
        let rir = |reps: f64| Rir::new(reps).ok();
        Some(LoggedSet {
            id: None,
            exercise: catalogue.named(&self.exercise)?,
            load: Load {
                mass: Mass::from_tenth_micrograms(self.mass),
                unit: Unit::from_symbol(&self.unit)?,
                basis: Basis::from_word(&self.basis)?,
            },
            reps: self.reps,
            rir: self.rir.and_then(rir),
            gave_out: self.gave_out.as_deref().and_then(LimitingFactor::from_word),
            kind: SetKind::from_word(&self.kind)?,
            slowed: self.slowed,
            per_side: self.per_side,
            at: self.at,
            timed: self.timed,
            asked: self.asked.and_then(rir),
            said: self.said.iter().filter_map(said).collect(),
            stated_rest_s: self.rest_s,
            day: self.day,
        })
    }
}
