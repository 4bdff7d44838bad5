//! One exercise of a planned day: how many sets of what, how hard, with what, after which rest.

use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::{
    FEWEST_REPS, MOST_REPS as MOST_REPS_COUNTED, MOST_RESERVE,
};
use crate::domain::quantities::load::Load;

use super::PlanError;

/// Most sets of one item. Common practice, no source: ten of a muscle in a session is much already
/// (Schoenfeld BJ et al. 2021, Int J Strength Cond 1(1)), so more than twenty is a slip.
pub const MOST_SETS: u32 = 20;
/// Most repetitions of a set, as everywhere in the log.
pub const MOST_REPS: u32 = 100;
/// Longest set held or carried, seconds. Common practice, no source: ten minutes.
pub const MOST_SECONDS: u32 = 600;
/// Longest rest that a plan asks for, seconds. Common practice, no source: fifteen minutes.
pub const MOST_REST_S: u32 = 900;
/// Longest note, characters: a lock screen.
pub const LONGEST_NOTE: usize = 200;

/// A number of sets, 1 to 20, or from fewest to most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Sets {
    low: u32,
    high: u32,
}

impl Sets {
    /// So many sets.
    ///
    /// # Errors
    /// [`PlanError::Sets`] outside 1 to 20.
    pub const fn new(count: u32) -> Result<Self, PlanError> {
        Self::range(count, count)
    }

    /// From `low` to `high` sets, as the day allows.
    ///
    /// # Errors
    /// [`PlanError::Sets`] for a bound outside 1 to 20, or for `low` over `high`.
    pub const fn range(low: u32, high: u32) -> Result<Self, PlanError> {
        match (low, high) {
            (1..=MOST_SETS, 1..=MOST_SETS) if low <= high => Ok(Self { low, high }),
            (1..=MOST_SETS, _) => Err(PlanError::Sets(high)),
            _ => Err(PlanError::Sets(low)),
        }
    }

    /// How many are asked for, 1 to 20: of a range the fewest. Who did these did the plan.
    pub const fn count(self) -> u32 {
        self.low
    }

    /// How many there may be, at least [`Sets::count`], at most 20.
    pub const fn most(self) -> u32 {
        self.high
    }
}

/// Repetitions from `low` to `high`, both included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct RepRange {
    low: u32,
    high: u32,
}

impl RepRange {
    /// From `low` to `high` repetitions.
    ///
    /// # Errors
    /// [`PlanError::Reps`] when `low` is 0, `high` over 100, or `low` over `high`.
    pub const fn new(low: u32, high: u32) -> Result<Self, PlanError> {
        if low >= 1 && low <= high && high <= MOST_REPS {
            Ok(Self { low, high })
        } else {
            Err(PlanError::Reps(low, high))
        }
    }

    /// Fewest, at least 1.
    pub const fn low(self) -> u32 {
        self.low
    }

    /// Most, at least the fewest, at most 100.
    pub const fn high(self) -> u32 {
        self.high
    }

    fn can_count(self) -> bool {
        self.high >= FEWEST_REPS && self.low <= MOST_REPS_COUNTED
    }
}

/// Seconds from `low` to `high`, both included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Seconds {
    low: u32,
    high: u32,
}

impl Seconds {
    /// The time that a set is held or carried for.
    ///
    /// # Errors
    /// [`PlanError::Seconds`] when `low` is 0, `high` over ten minutes, or `low` over `high`.
    pub const fn held(low: u32, high: u32) -> Result<Self, PlanError> {
        Self::within(low, high, 1, MOST_SECONDS)
    }

    /// A rest between sets, from none to fifteen minutes.
    ///
    /// # Errors
    /// [`PlanError::Seconds`] when `high` is over fifteen minutes, or `low` over `high`.
    pub const fn rest(low: u32, high: u32) -> Result<Self, PlanError> {
        Self::within(low, high, 0, MOST_REST_S)
    }

    const fn within(low: u32, high: u32, least: u32, most: u32) -> Result<Self, PlanError> {
        if low >= least && low <= high && high <= most {
            Ok(Self { low, high })
        } else {
            Err(PlanError::Seconds(low, high))
        }
    }

    /// Fewest.
    pub const fn low(self) -> u32 {
        self.low
    }

    /// Most, at least the fewest.
    pub const fn high(self) -> u32 {
        self.high
    }
}

/// What one set is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// The same range of repetitions in every set.
    Reps(RepRange),
    /// Repetitions of each set in turn (`10/7/5/3`); at least two, as many as there are sets.
    BySet(Vec<u32>),
    /// Held or carried for so long.
    Time(Seconds),
    /// As many repetitions as possible.
    Max,
}

impl Amount {
    /// The repetitions of each set in turn.
    ///
    /// # Errors
    /// [`PlanError::Reps`] for a set outside 1 to 100, [`PlanError::Sets`] for fewer than two sets
    /// or more than twenty.
    pub fn by_set(reps: Vec<u32>) -> Result<Self, PlanError> {
        for &one in &reps {
            RepRange::new(one, one)?;
        }
        let sets = u32::try_from(reps.len()).unwrap_or(u32::MAX);
        match sets {
            2..=MOST_SETS => Ok(Self::BySet(reps)),
            _ => Err(PlanError::Sets(sets)),
        }
    }

    /// The repetitions over all sets, fewest to most; `None` for time and for as many as possible.
    pub fn reps(&self) -> Option<RepRange> {
        match self {
            Self::Reps(range) => Some(*range),
            Self::BySet(reps) => {
                let (low, high) = (reps.iter().min()?, reps.iter().max()?);
                RepRange::new(*low, *high).ok()
            }
            Self::Time(_) | Self::Max => None,
        }
    }

    /// The repetitions of the set at `place`, from 0; those behind the last are as the last.
    pub fn reps_of(&self, place: usize) -> Option<RepRange> {
        match self {
            Self::BySet(reps) => {
                let reps = reps.get(place).or_else(|| reps.last())?;
                RepRange::new(*reps, *reps).ok()
            }
            other => other.reps(),
        }
    }
}

/// A share of a load, in tenths of a percent, 1 % to 150 %.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Percent(u32);

impl Percent {
    /// This many percent, to the nearest tenth.
    ///
    /// # Errors
    /// [`PlanError::Percent`] outside 1 to 150.
    pub fn new(percent: f64) -> Result<Self, PlanError> {
        let tenths = (percent * 10.0).round();
        if !(10.0..=1500.0).contains(&tenths) {
            return Err(PlanError::Percent);
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "bounded just above"
        )]
        Ok(Self(tenths as u32))
    }

    /// How many percent.
    pub fn percent(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// The load that a coach plans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlannedLoad {
    /// This load.
    Fixed(Load),
    /// A part of what the lifter can lift `of` times (1: the one-rep max), as estimated on the day.
    Share {
        /// The least.
        low: Percent,
        /// The most.
        high: Percent,
        /// Of what: a load for so many repetitions to failure, 1 to 20.
        of: u32,
    },
    /// A part of the load of the top set, which is the item of the same exercise before it.
    OfTopSet(Percent),
}

impl PlannedLoad {
    /// The load, where it is a fixed one.
    pub const fn fixed(self) -> Option<Load> {
        match self {
            Self::Fixed(load) => Some(load),
            Self::Share { .. } | Self::OfTopSet(_) => None,
        }
    }
}

/// A coach's words to the lifter, shown with the exercise. Nothing is calculated from them.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Note(String);

impl Note {
    /// The words in one line without the signs that part a plan; `None` where nothing is left.
    pub fn new(words: &str) -> Option<Self> {
        let words: String = words
            .chars()
            .map(|c| match c {
                '"' => '\'',
                ';' => ',',
                c if c.is_control() => ' ',
                c => c,
            })
            .collect();
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        let short: String = words.chars().take(LONGEST_NOTE).collect();
        let short = short.trim();
        (!short.is_empty()).then(|| Self(short.to_owned()))
    }

    /// The words.
    pub fn words(&self) -> &str {
        &self.0
    }
}

/// One exercise of a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What to lift.
    pub exercise: ExerciseId,
    /// What may be lifted in its place.
    pub or: Vec<ExerciseId>,
    /// How many work sets.
    pub sets: Sets,
    /// What each set is.
    pub amount: Amount,
    /// Effort to end each set at; `None` leaves it to the block or the trade's default.
    pub rir: Option<Rir>,
    /// What to open with; `None` leaves it to the belief.
    pub load: Option<PlannedLoad>,
    /// Rest between its sets, seconds; `None` leaves it to the belief.
    pub rest: Option<Seconds>,
    /// Whether the repetitions or seconds are for each side.
    pub per_side: bool,
    /// Words to the lifter.
    pub note: Option<Note>,
}

impl Item {
    /// Sets of an exercise with nothing else said.
    pub const fn new(exercise: ExerciseId, sets: Sets, amount: Amount) -> Self {
        Self {
            exercise,
            or: Vec::new(),
            sets,
            amount,
            rir: None,
            load: None,
            rest: None,
            per_side: false,
            note: None,
        }
    }

    /// Whether a set of `exercise` is a set of this: it, or one that may be lifted in its place.
    pub fn is_of(&self, exercise: ExerciseId) -> bool {
        self.exercise == exercise || self.or.contains(&exercise)
    }

    /// How many of so many sets can count toward the week by their repetitions and effort. Time
    /// does not count; as many repetitions as possible do.
    pub fn counting(&self, sets: u32) -> u32 {
        if self.rir.is_some_and(|rir| rir.reps() > MOST_RESERVE) {
            return 0;
        }
        match &self.amount {
            Amount::Reps(range) if !range.can_count() => 0,
            Amount::Time(_) => 0,
            Amount::Reps(_) | Amount::Max => sets,
            Amount::BySet(_) => {
                let of = |place: &u32| {
                    let place = usize::try_from(*place).unwrap_or(usize::MAX);
                    self.amount.reps_of(place).is_some_and(RepRange::can_count)
                };
                u32::try_from((0..sets).filter(of).count()).unwrap_or(sets)
            }
        }
    }

    /// Whether its sets can count toward the week.
    pub fn can_count(&self) -> bool {
        self.counting(self.sets.count()) > 0
    }

    /// Whether its sets are of fewer repetitions than count, all of them.
    pub fn is_heavy(&self) -> bool {
        let reps = self.amount.reps();
        reps.is_some_and(|range| range.high() < FEWEST_REPS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(low: u32, high: u32) -> Amount {
        Amount::Reps(RepRange::new(low, high).unwrap())
    }

    #[test]
    fn numbers_outside_their_bounds_are_refused() {
        assert_eq!(Sets::new(0), Err(PlanError::Sets(0)));
        assert_eq!(Sets::new(21), Err(PlanError::Sets(21)));
        assert_eq!(Sets::range(3, 21), Err(PlanError::Sets(21)));
        assert_eq!(Sets::range(4, 3), Err(PlanError::Sets(3)));
        let sets = Sets::range(3, 5).unwrap();
        assert_eq!((sets.count(), sets.most()), (3, 5));
        assert_eq!(RepRange::new(0, 5), Err(PlanError::Reps(0, 5)));
        assert_eq!(RepRange::new(10, 6), Err(PlanError::Reps(10, 6)));
        assert_eq!(RepRange::new(10, 101), Err(PlanError::Reps(10, 101)));
        assert!(RepRange::new(100, 100).is_ok());
        assert_eq!(Seconds::held(0, 5), Err(PlanError::Seconds(0, 5)));
        assert!(Seconds::rest(0, 5).is_ok());
        assert_eq!(Seconds::rest(0, 901), Err(PlanError::Seconds(0, 901)));
        assert_eq!(Percent::new(0.5), Err(PlanError::Percent));
        assert_eq!(Percent::new(f64::NAN), Err(PlanError::Percent));
        assert_eq!(Percent::new(72.5).map(Percent::percent), Ok(72.5));
        assert_eq!(Amount::by_set(vec![5]), Err(PlanError::Sets(1)));
        assert_eq!(Amount::by_set(vec![5, 0]), Err(PlanError::Reps(0, 0)));
    }

    #[test]
    fn sets_count_by_their_own_repetitions() {
        let sets = |count| Sets::new(count).unwrap();
        let item = |amount, count| Item::new(ExerciseId(1), sets(count), amount);
        let waves = item(Amount::by_set(vec![10, 7, 5, 3]).unwrap(), 4);
        assert_eq!(waves.counting(4), 3);
        assert!(!waves.is_heavy());
        assert_eq!(item(Amount::Max, 3).counting(3), 3);
        let held = item(Amount::Time(Seconds::held(30, 45).unwrap()), 3);
        assert_eq!(held.counting(3), 0);
        let triples = item(range(3, 3), 5);
        assert!(triples.is_heavy() && !triples.can_count());
        let easy = Item {
            rir: Some(Rir::new(4.0).unwrap()),
            ..item(range(8, 8), 3)
        };
        assert_eq!(easy.counting(3), 0);
    }

    #[test]
    fn a_note_keeps_its_words_and_no_sign_that_parts_a_plan() {
        let note = Note::new(" knees out;\n chest \"up\" ").unwrap();
        assert_eq!(note.words(), "knees out, chest 'up'");
        assert_eq!(Note::new(" \n"), None);
        assert_eq!(Note::new(&"a".repeat(300)).unwrap().words().len(), 200);
    }
}
