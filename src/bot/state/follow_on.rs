//! What a message goes on from: the member's exercise now, and the set before.
//!
//! The exercise at hand is that of the last set, or one that was named since: as what comes now, in sets that are
//! asked about, or in words that the catalogue lacks. [`crate::bot::intent::Intent::at_hand`] says which messages
//! name one so; what sets without a name are of is decided here alone, and never is it an older one.

use chrono::{DateTime, Utc};

use super::view::{SESSION_GAP, View, session_before};
use super::{LogEntry, NamedLoad};
use crate::domain::log::SetKind;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::reading::SetReading;
use crate::message::{Context, Habit};

impl View<'_> {
    /// What a message posted at `at` goes on from. `before` are the member's sets, in order.
    pub fn follow_on(&self, before: &[LogEntry], at: DateTime<Utc>) -> FollowOn {
        let session = session_before(before, at);
        let last = session.last();
        let named = self.member.state.named.as_ref().filter(|named| {
            named.at <= at
                && at - named.at <= SESSION_GAP
                && last.is_none_or(|last| last.set.at < named.at)
        });
        let unknown = named.map(|named| &named.exercise);
        let named = named.and_then(|named| self.catalogue().named(&named.exercise));
        let unknown = unknown.filter(|_| named.is_none()).cloned();
        // Who comes back to an exercise goes on from its last set.
        let own = named.and_then(|exercise| last_of(session, exercise));
        let announced = (self.member.state.named.as_ref())
            .filter(|_| named.is_some())
            .and_then(|named| Some((named.load.as_ref()?.load()?, named.at)));
        let none_done = announced.is_some() && own.is_none();
        let mut last = match named.filter(|_| none_done) {
            Some(exercise) => Some(self.none_done(exercise)),
            None => own.or(last).map(as_read),
        };
        if let (Some(last), Some((load, _))) = (&mut last, announced) {
            last.load = load;
            last.hung_a_side = None;
        }
        FollowOn {
            habits: habits(before, at),
            last,
            named: named.filter(|_| own.is_none() && announced.is_none()),
            unknown,
            announced_at: announced.map(|(_, at)| at),
        }
    }
}

impl View<'_> {
    /// A set of an exercise of which none was done yet: what its load will be said in.
    pub fn none_done(&self, exercise: ExerciseId) -> SetReading {
        SetReading {
            exercise,
            load: Load {
                mass: Mass::ZERO,
                unit: self.unit(),
                basis: self.catalogue().exercise(exercise).basis,
            },
            reps: 0,
            seconds: None,
            rir: None,
            gave_out: None,
            warm_up: false,
            per_side: false,
            hung_a_side: None,
            rest_s: None,
            straight: true,
            technique: None,
            day: None,
        }
    }
}

impl NamedLoad {
    /// A load as it is kept.
    pub fn of(load: Load) -> Self {
        Self {
            amount: load.mass.amount(load.unit),
            unit: load.unit.symbol().to_owned(),
            basis: load.basis.word().to_owned(),
        }
    }

    /// The load; `None` where it is none.
    fn load(&self) -> Option<Load> {
        let unit = Unit::from_symbol(&self.unit)?;
        Some(Load {
            mass: Mass::new(self.amount, unit).ok()?,
            unit,
            basis: Basis::from_word(&self.basis)?,
        })
    }
}

fn last_of(session: &[LogEntry], exercise: ExerciseId) -> Option<&LogEntry> {
    session
        .iter()
        .rev()
        .find(|filed| filed.set.exercise == exercise)
}

/// What a message can go on from.
#[derive(Clone, Debug, Default)]
pub struct FollowOn {
    /// The last set of the session.
    pub last: Option<SetReading>,
    /// The exercise named in a message of its own since.
    pub named: Option<ExerciseId>,
    /// Words since that seem to name one that the catalogue lacks.
    pub unknown: Option<String>,
    /// When the load of `last` was announced, where it is to come.
    pub announced_at: Option<DateTime<Utc>>,
    /// What the member did last of each exercise.
    pub habits: Vec<Habit>,
}

impl FollowOn {
    /// The context that it makes for reading, with no question open.
    pub fn context(&self, unit: Unit) -> Context<'_> {
        Context {
            unit,
            last: self.last.as_ref(),
            named: self.named,
            pending: None,
            habits: &self.habits,
        }
    }
}

/// What a member's sets before `at` show of each exercise, in order of time the latest last.
fn habits(before: &[LogEntry], at: DateTime<Utc>) -> Vec<Habit> {
    let end = before.partition_point(|filed| filed.set.at <= at);
    let mut out: Vec<Habit> = Vec::new();
    for filed in before[..end].iter().rev() {
        let set = &filed.set;
        let known = out.iter().any(|habit| habit.exercise == set.exercise);
        if !known && set.kind != SetKind::WarmUp && set.reps > 0 {
            out.push(Habit {
                exercise: set.exercise,
                kg: set.load.mass.in_kg(),
                reps: set.reps,
            });
        }
    }
    out
}

/// A filed set as the reader's carry-on forms take it over.
pub fn as_read(filed: &LogEntry) -> SetReading {
    let set = &filed.set;
    let held = set.kind == SetKind::Held;
    SetReading {
        exercise: set.exercise,
        load: set.load,
        reps: if held { 0 } else { set.reps },
        seconds: held.then_some(set.reps),
        rir: set.rir,
        gave_out: set.gave_out,
        warm_up: set.kind == SetKind::WarmUp,
        per_side: set.per_side,
        hung_a_side: None,
        rest_s: set.stated_rest_s,
        straight: matches!(
            set.kind,
            SetKind::Straight | SetKind::WarmUp | SetKind::Held
        ),
        technique: filed.technique,
        day: None,
    }
}
