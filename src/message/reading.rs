//! What a message was read as.
//!
//! A [`Reading`] can carry several things at once ("row 60x9, tweaked my back"); its
//! [`Reading::kind`] is the first of hurt, correction, sets, question, readiness that it holds.

use chrono::{NaiveDate, Weekday};

use crate::domain::log::LimitingFactor;
use crate::domain::quantities::body::Place;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::domain::quantities::worded::worded;

/// Repetitions above this are asked about.
pub(crate) const MOST_REPS: f64 = 100.0;

/// More sets than this in one message are asked about: nobody does as many between two messages, but
/// programmes and logs that are pasted hold them. Common practice, no source.
pub const MOST_SETS: usize = 40;

worded! {
    /// The one word for what a message is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Kind {
        /// One or more sets.
        Sets = "sets",
        /// A question.
        Question = "question",
        /// A word on being ready or not.
        Readiness = "readiness",
        /// Pain or a warning sign.
        Hurt = "hurt",
        /// A change to what was posted.
        Correction = "correction",
        /// About a set, but a part is missing or open to two readings.
        Unclear = "unclear",
        /// Everything else.
        Chatter = "chatter",
    }
}

/// What a message was read as. Empty means chatter.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reading {
    /// Pain or a warning sign.
    pub hurt: Option<Hurt>,
    /// What may be a report of pain and may be none: whether something hurts is asked. Never beside
    /// `hurt`. By itself the message is unclear; sets and the rest beside it stand.
    pub may_hurt: Option<Hurt>,
    /// What belongs to a licensed professional without being a complaint. Makes no other [`Kind`] of
    /// the message.
    pub caution: Option<Caution>,
    /// A change to what was posted.
    pub correction: Option<Correction>,
    /// Sets, in the order performed.
    pub sets: Vec<SetReading>,
    /// How likely the numbers of the sets mean this and nothing else, 0 to 1, where their order was
    /// weighed.
    pub sure: Option<f64>,
    /// The first question.
    pub question: Option<Question>,
    /// A word on being ready.
    pub readiness: Option<Readiness>,
    /// In a message without sets, what gave out in the set before it. By itself it makes no other
    /// [`Kind`] of the message.
    pub ended_by: Option<EndedBy>,
    /// Parts that are missing or open. Sets of the same list that lack nothing stand in `sets`; else there are none.
    pub unclear: Option<Unclear>,
}

impl Reading {
    /// Whether it holds sets, or asks about some.
    #[must_use]
    pub const fn is_about_sets(&self) -> bool {
        !self.sets.is_empty() || self.unclear.is_some()
    }

    /// The exercise of the last of its sets, or of those that it asks about; none where they are of another day.
    #[must_use]
    pub fn last_of_today(&self) -> Option<ExerciseId> {
        let unclear = self.unclear.as_ref();
        let draft = unclear.and_then(|unclear| unclear.drafts.last());
        let offered = unclear.and_then(|unclear| unclear.readings.first());
        let set = self.sets.last().or_else(|| offered?.last());
        match (draft, set) {
            (Some(draft), _) if draft.exercise.is_some() => {
                draft.exercise.filter(|_| draft.day.is_none())
            }
            (_, set) => set.filter(|set| set.day.is_none()).map(|set| set.exercise),
        }
    }

    /// The first of hurt, correction, sets, question, readiness that it holds; else unclear, else
    /// chatter.
    #[must_use]
    pub fn kind(&self) -> Kind {
        if self.hurt.is_some() {
            Kind::Hurt
        } else if self.correction.is_some() {
            Kind::Correction
        } else if !self.sets.is_empty() {
            Kind::Sets
        } else if self.unclear.is_some() || self.may_hurt.is_some() {
            Kind::Unclear
        } else if self.question.is_some() {
            Kind::Question
        } else if self.readiness.is_some() {
            Kind::Readiness
        } else {
            Kind::Chatter
        }
    }
}

/// What ended the set before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndedBy {
    /// The target muscle, as should be.
    Target,
    /// Something else, before the target muscle.
    Other(LimitingFactor),
}

/// One set as read.
#[derive(Clone, Debug, PartialEq)]
pub struct SetReading {
    /// What was lifted.
    pub exercise: ExerciseId,
    /// With what.
    pub load: Load,
    /// Repetitions, 0 (a failed attempt, or a hold) to 100.
    pub reps: u32,
    /// How long it was held or carried, where it was for time.
    pub seconds: Option<u32>,
    /// Effort, if stated.
    pub rir: Option<Rir>,
    /// What gave out before the target muscle, if stated.
    pub gave_out: Option<LimitingFactor>,
    /// A warm-up.
    pub warm_up: bool,
    /// Repetitions are per side.
    pub per_side: bool,
    /// What was said to hang on each side of the bar; `load` is both of it with the bar.
    pub hung_a_side: Option<Mass>,
    /// Rest before it, seconds, if stated.
    pub rest_s: Option<u32>,
    /// False for drop sets, rest-pause, supersets, partials.
    pub straight: bool,
    /// The technique named, if any.
    pub technique: Option<Technique>,
    /// Another day than the message's.
    pub day: Option<Day>,
}

impl SetReading {
    /// A set that goes on from this one, of which nothing but its exercise, load and amount is known yet.
    #[must_use]
    pub fn following(&self) -> Self {
        Self {
            rir: None,
            gave_out: None,
            warm_up: false,
            hung_a_side: None,
            rest_s: None,
            straight: true,
            technique: None,
            day: None,
            ..self.clone()
        }
    }

    /// This set with one part changed; `None` when the part is unknown or the number no such part.
    #[must_use]
    pub fn changed(&self, part: Option<Part>, unit: Option<Unit>, now: f64) -> Option<Self> {
        let mut set = self.clone();
        match part? {
            Part::Reps if set.seconds.is_some() => {
                set.seconds = Some(whole_seconds(now)?);
            }
            Part::Reps => set.reps = whole_reps(now)?,
            Part::Rir => set.rir = Some(Rir::new(now).ok()?),
            Part::Load => {
                set.hung_a_side = None;
                set.load.unit = unit.unwrap_or(set.load.unit);
                set.load.mass = Mass::new(now, set.load.unit)
                    .ok()
                    .filter(|m| *m > Mass::ZERO)?;
            }
        }
        Some(set)
    }
}

worded! {
    /// How a set was done, where said.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Technique {
        /// A pause in each repetition: a straight set.
        Paused = "paused",
        /// A counted tempo: a straight set.
        Tempo = "tempo",
        /// Weight taken off without rest.
        DropSet = "drop set",
        /// Short breaths inside the set.
        RestPause = "rest-pause",
        /// Two exercises in turn without rest.
        Superset = "superset",
        /// Repetitions over part of the way.
        Partials = "partials",
    }
}

impl Technique {
    /// Whether such a set is still a straight set.
    #[must_use]
    pub const fn is_straight(self) -> bool {
        matches!(self, Self::Paused | Self::Tempo)
    }
}

/// A day as written, before the message's own date is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Day {
    /// That many days before the message's day, at least 1.
    Ago(u32),
    /// The most recent such weekday before the message's day.
    Weekday(Weekday),
    /// A date.
    Date(NaiveDate),
    /// A day and a month without a year: the most recent such date.
    Yearless {
        /// The day of the month.
        day: u32,
        /// The month.
        month: u32,
        /// Either may be the month: of both dates the more recent.
        either: bool,
    },
}

worded! {
    /// What a question is about.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum About {
        /// What to load, or whether to drop.
        Load = "load",
        /// How long to rest, whether to go.
        Rest = "rest",
        /// How much for a muscle.
        Volume = "volume",
        /// Show my week.
        Week = "week",
    }
}

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What about.
    pub about: About,
    /// The exercise named, if any.
    pub exercise: Option<ExerciseId>,
    /// The muscles named: one for `quads`, three heads for `shoulders`; none where none is named.
    pub muscles: Vec<MuscleId>,
    /// A load, a rest or an effort to try in thought ("82.5 after 90 s?").
    pub what_if: Option<WhatIf>,
}

/// A set in thought; what is not named is the last set's, or the aim's.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WhatIf {
    /// The load.
    pub load: Option<Load>,
    /// Whether the load named its basis or an exercise that fixes it (`+20`, `30s`); where it did
    /// not, the last set's basis holds.
    pub basis_named: bool,
    /// The rest, seconds.
    pub rest_s: Option<u32>,
    /// The effort to end at.
    pub rir: Option<Rir>,
    /// The repetitions wanted (`what do I load on squat for 15 reps`), 1 to 30.
    pub reps: Option<u32>,
}

/// The go-checks a message speaks of; `None` where it does not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Readiness {
    /// The target muscle.
    pub muscle: Option<bool>,
    /// The helper muscles.
    pub helpers: Option<bool>,
    /// Breathing.
    pub breath: Option<bool>,
    /// Being up for it.
    pub drive: Option<bool>,
}

/// Pain or a warning sign, apart from effort and soreness.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hurt {
    /// The place with its side as written ("left shoulder"), else the symptom ("dizzy").
    pub body: Option<String>,
    /// The places that it names, first the one of `body`; none where none is named.
    pub places: Vec<Place>,
    /// The sign that calls for medical help now, if it is one.
    pub sign: Option<WarningSign>,
    /// The exercise that it is told of ("shoulder pain on bench"), if any.
    pub exercise: Option<ExerciseId>,
}

impl Hurt {
    /// Whether it calls for medical help now, not just for stopping an exercise.
    #[must_use]
    pub const fn urgent(&self) -> bool {
        self.sign.is_some()
    }
}

/// Which part of the last set a correction changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// Repetitions.
    Reps,
    /// Load.
    Load,
    /// Reserve.
    Rir,
}

/// A change to what was posted last.
#[derive(Clone, Debug, PartialEq)]
pub enum Correction {
    /// Take the last post back.
    Undo,
    /// Change a number of the last set.
    Change {
        /// Which part, where the words or the number's form say so (`make it 82.5` is a load).
        part: Option<Part>,
        /// The unit, where named.
        unit: Option<Unit>,
        /// What it should be.
        now: f64,
        /// What was posted, where said: it tells which part is meant.
        was: Option<f64>,
    },
    /// The last set was another one of its exercise: `I meant 100x6`.
    Set(Load, u32, Option<Rir>),
}

worded! {
    /// What a set lacks.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum Need {
        /// Which exercise.
        Exercise = "exercise",
        /// Which load.
        Load = "load",
        /// How many repetitions.
        Reps = "reps",
        /// What effort was meant.
        Effort = "effort",
        /// Which of two readings.
        WhichReading = "which_reading",
    }
}

/// Less than this share of what was lifted of late is no load of the next set. Trade practice:
/// the lightest of back-off and drop sets keep a third and more.
const LEAST_SHARE: f64 = 0.3;

/// Whether a small number is repetitions or an effort rather than a load, since the lifter's sets
/// of that exercise are so much heavier.
#[must_use]
pub fn is_far_lighter(load: Mass, of_late: Mass) -> bool {
    load.in_kg() < LEAST_SHARE * of_late.in_kg()
}

/// A set with holes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Draft {
    /// The exercise, if known.
    pub exercise: Option<ExerciseId>,
    /// The load's number and unit, if known. The basis follows from the exercise unless named.
    pub load: Option<DraftLoad>,
    /// Repetitions, if known.
    pub reps: Option<u32>,
    /// How long it was held or carried, where it was for time.
    pub seconds: Option<u32>,
    /// Effort, if stated and understood.
    pub rir: Option<Rir>,
    /// What gave out before the target muscle, if stated.
    pub gave_out: Option<LimitingFactor>,
    /// A warm-up.
    pub warm_up: bool,
    /// Repetitions are per side.
    pub per_side: bool,
    /// Rest before it, seconds.
    pub rest_s: Option<u32>,
    /// The technique named.
    pub technique: Option<Technique>,
    /// Another day.
    pub day: Option<Day>,
}

impl Draft {
    /// A set as a draft that lacks nothing.
    #[must_use]
    pub fn of(set: &SetReading) -> Self {
        Self {
            exercise: Some(set.exercise),
            load: Some(DraftLoad {
                amount: set.load.mass.amount(set.load.unit),
                unit: set.load.unit,
                basis: Some(set.load.basis),
            }),
            reps: Some(set.reps),
            seconds: set.seconds,
            rir: set.rir,
            gave_out: set.gave_out,
            warm_up: set.warm_up,
            per_side: set.per_side,
            rest_s: set.rest_s,
            technique: set.technique,
            day: set.day,
        }
    }
}

/// A load whose basis may still be open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DraftLoad {
    /// The number as written, never negative.
    pub amount: f64,
    /// The unit written, else the member's.
    pub unit: Unit,
    /// The basis, where the words fix it.
    pub basis: Option<crate::domain::quantities::catalogue::Basis>,
}

/// About a set, but not to be filed without one short question.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unclear {
    /// What is missing, in the order of [`Need`].
    pub needs: Vec<Need>,
    /// The sets so far, with their holes, in the order performed.
    pub drafts: Vec<Draft>,
    /// For [`Need::WhichReading`]: the readings, each complete.
    pub readings: Vec<Vec<SetReading>>,
    /// For [`Need::WhichReading`]: further readings that lack a part of their own; they are picked
    /// behind the complete ones.
    pub partial: Vec<Vec<Draft>>,
    /// For [`Need::Exercise`]: the words that named none, if any ("boatman pull").
    pub unknown_name: Option<String>,
    /// For [`Need::Exercise`]: the nearest names, best first, at most 4.
    pub nearest: Vec<ExerciseId>,
}

impl Unclear {
    /// How many sets wait for one word, where all is understood and only their number is asked about.
    #[must_use]
    pub fn all_or_none(&self) -> Option<usize> {
        match (self.readings.as_slice(), self.partial.as_slice()) {
            ([sets], []) if sets.len() > MOST_SETS => Some(sets.len()),
            _ => None,
        }
    }
}

/// What a member did last of an exercise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habit {
    /// Of what.
    pub exercise: ExerciseId,
    /// With how much, kilograms; 0 for the body alone.
    pub kg: f64,
    /// How often.
    pub reps: u32,
}

impl Habit {
    /// What a set shows.
    #[must_use]
    pub fn of(set: &SetReading) -> Self {
        Self {
            exercise: set.exercise,
            kg: set.load.mass.in_kg(),
            reps: set.reps,
        }
    }

    /// The habits that sets, the latest last, show; warm-ups and failed attempts show none.
    #[must_use]
    pub fn all<'s>(sets: impl DoubleEndedIterator<Item = &'s SetReading>) -> Vec<Self> {
        let mut out: Vec<Self> = Vec::new();
        for set in sets.rev().filter(|set| !set.warm_up && set.reps > 0) {
            if !out.iter().any(|known| known.exercise == set.exercise) {
                out.push(Self::of(set));
            }
        }
        out
    }
}

/// Whole repetitions, 0 of a failed attempt to 100.
pub(crate) fn whole_reps(reps: f64) -> Option<u32> {
    if !(0.0..=MOST_REPS).contains(&reps) || reps.fract() != 0.0 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to 100 by the line above"
    )]
    Some(reps as u32)
}

/// Whole seconds of a hold, 1 to 1,800.
pub(crate) fn whole_seconds(seconds: f64) -> Option<u32> {
    (1..=1800).find(|whole| (f64::from(*whole) - seconds).abs() < 1e-6)
}
