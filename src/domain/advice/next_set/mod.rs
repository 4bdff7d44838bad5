//! What to do next: load, rest, expected repetitions, and one reason.
//!
//! Here stand the types; `choose` holds the decision, `loads` what the rack can make. The
//! expectations come from [`crate::domain::lifter::forecast`]; sentences are written in `bot::text`.

mod choose;
mod loads;

use chrono::{DateTime, Utc};

use crate::domain::lifter::forecast::Expectation;
use crate::domain::lifter::model::{Lifter, Model};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::rack::Rack;

pub use choose::{grounds, next_set, went_up, what_if};

/// A question for the next set of one exercise.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// Of which exercise.
    pub exercise: ExerciseId,
    /// What the sets are meant to be.
    pub aim: Aim,
    /// Today's sets of this exercise in order, warm-ups included; already learned.
    pub run: &'a [LoggedSet],
    /// What is held about the member, this exercise's belief included where there is one.
    pub model: &'a Model,
    /// What can be loaded.
    pub rack: &'a Rack,
    /// The member's unit.
    pub unit: Unit,
    /// The member.
    pub lifter: &'a Lifter<'a>,
    /// The time of asking.
    pub now: DateTime<Utc>,
    /// Go-checks that fail.
    pub failing: &'a [Check],
}

/// A load, a rest, an effort asked about; what is not named is taken from the advice.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Trial {
    /// The load.
    pub load: Option<Load>,
    /// Rest since the last set, seconds.
    pub rest_s: Option<u32>,
    /// Effort to end at.
    pub rir: Option<Rir>,
}

/// What to do with the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Decision {
    /// Go again at this load.
    SameLoad,
    /// Take weight off.
    DropLoad,
    /// Put weight on.
    AddLoad,
    /// Not yet: a check fails.
    Wait,
    /// Enough of this exercise.
    Finish,
    /// Hurt: no load is advised.
    Stop,
}

impl Decision {
    /// The word for it, as the pipe prints it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::SameLoad => "same_load",
            Self::DropLoad => "drop_load",
            Self::AddLoad => "add_load",
            Self::Wait => "wait",
            Self::Finish => "finish",
            Self::Stop => "stop",
        }
    }
}

/// The answer to "what next?".
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// For which exercise.
    pub exercise: ExerciseId,
    /// What to do.
    pub decision: Decision,
    /// The load; `None` when stopping, or when nothing is known of this lifter.
    pub load: Option<Load>,
    /// Rest since the end of the last set, seconds.
    pub rest_s: u32,
    /// What to expect; `None` with no load.
    pub expect: Option<Expectation>,
    /// The checks that hold the lifter back, in order; empty unless waiting.
    pub limits: Vec<Check>,
    /// The one reason.
    pub reason: Reason,
}

/// The numbers behind an advice with a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grounds {
    /// Median repetitions with that load, fresh, at the effort aimed at.
    pub fresh: f64,
    /// Fewest repetitions with which the set counts, and the probability, 0 to 1, of as many after
    /// the rest advised.
    pub counts: (u32, f64),
    /// Share of fresh capacity, 0 to 1, that was missing at the end of the last set of any exercise,
    /// and that is missing after the rest advised.
    pub missing: (f64, f64),
    /// Seconds in which half of what is missing comes back, at first; `None` when fresh.
    pub half_back_s: Option<u32>,
    /// How much slower than the population this lifter recovers: a factor, 1 for just as fast.
    pub slowness: f64,
}

/// Why, to be put into words by `bot::text`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Nothing is known of this lifter on this exercise: find the first load by small steps.
    FindFirstLoad,
    /// First set ever: from strength on a related lift, and light, since that tells little.
    FromRelated,
    /// First set today: the load that should land in the range at the effort aimed at.
    Opening,
    /// First set after so many weeks without training: under the loads before.
    BackFromAway(u32),
    /// First set of a day that is light on purpose.
    LightDay,
    /// First set today, at the load of the last session: a beginner's goes up later.
    HeldBack,
    /// Over the range, but a beginner's load goes up later.
    NotYet,
    /// First set today, at the load that the plan names.
    Planned,
    /// Back after pain: well under the loads before it, and no more repetitions than so many, the most
    /// of the range.
    EasingBack(u32),
    /// The shortest rest there is will do.
    PlentyLeft,
    /// Nothing to change: no more than a usual rest will do.
    Steady,
    /// After a shorter rest the set may fall under so many repetitions, the fewest that count.
    SoonerMayNotCount(u32),
    /// After a shorter rest the set would fall too far under the range, which begins with so many.
    SoonerUnder(u32),
    /// The last set took more than usual; the longer rest makes up for it.
    TookMoreThanUsual,
    /// The last set took less than usual; a shorter rest does.
    TookLessThanUsual,
    /// No sensible rest is good for the range at the last load.
    OutOfReach {
        /// Repetitions that are out of reach.
        reps: u32,
        /// The last load.
        load: Load,
        /// The longest sensible rest, seconds.
        within_s: u32,
    },
    /// Whether even the longest sensible rest is good for the repetitions that count is not sure
    /// enough.
    NotSure {
        /// Repetitions that are in doubt.
        reps: u32,
        /// The last load.
        load: Load,
        /// The longest sensible rest, seconds.
        within_s: u32,
    },
    /// By the sets of earlier days, the load is so light that another set would end well over the
    /// range.
    LightForYou,
    /// After such sets the lifter went on with this step on each of the last days.
    OwnCourse,
    /// The last set was over the range with effort to spare.
    OverTheRange,
    /// The last set was too far from failure to count: more than 3 in reserve, or over 30.
    TooLight,
    /// The last set was too light, and there is nothing heavier.
    HeaviestThereIs,
    /// The load that the last set was at is heavier than the earlier ones, and too heavy to go on.
    TooHeavy,
    /// The planned sets are done.
    PlanDone,
    /// As many sets are done as on each of the last days.
    AsManyAsAlways,
    /// Nothing more would count today, even on the lightest load on the rack.
    NothingMoreCounts,
    /// A go-check fails.
    NotReady,
    /// Pain was reported.
    Hurt,
    /// A warning sign was told.
    WarningSign,
    /// Thoughts of suicide were told.
    TalkFirst,
    /// Somebody beside the lifter needs help.
    Helping,
    /// The lifter asked about this very load and rest.
    Asked,
    /// The lifter says that every check holds, before the advised rest is over.
    Ready,
}
