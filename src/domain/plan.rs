//! A coach's plan: days of the week with exercises, sets, repetitions, effort, load and pairs.
//!
//! Plan text is read and printed in [`crate::message::plan`]; what a week of a block makes of a plan
//! is [`super::block`]'s business.

use chrono::Weekday;

use super::catalogue::Catalogue;
use super::effort::Rir;
use super::id::{ExerciseId, MuscleId};
use super::load::Load;
use super::week::{FEWEST_REPS, MOST_REPS as MOST_REPS_COUNTED, MOST_RESERVE};

/// Most sets of one item. Common practice, no source: ten of a muscle in a session is much already
/// (Schoenfeld BJ et al. 2021, Int J Strength Cond 1(1)), so more than twenty is a slip.
pub const MOST_SETS: u32 = 20;
/// Most repetitions of a set, as everywhere in the log.
pub const MOST_REPS: u32 = 100;
/// Most items of one day. Common practice, no source: nobody does more, so more is a slip.
pub const MOST_ITEMS: usize = 30;

/// Why numbers make no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// Sets outside 1 to 20.
    #[error("{0} sets is outside 1 to 20")]
    Sets(u32),
    /// Repetitions outside 1 to 100, or the fewest above the most.
    #[error("{0}-{1} repetitions is no range within 1 to 100")]
    Reps(u32, u32),
    /// A day without an exercise.
    #[error("{0} has no exercise")]
    Empty(Weekday),
    /// A day with more than thirty.
    #[error("{0} has more than 30 exercises")]
    Crowded(Weekday),
    /// A day that stands twice.
    #[error("{0} stands twice")]
    Twice(Weekday),
}

/// A number of sets, 1 to 20.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Sets(u32);

impl Sets {
    /// So many sets.
    ///
    /// # Errors
    /// [`PlanError::Sets`] outside 1 to 20.
    pub const fn new(count: u32) -> Result<Self, PlanError> {
        match count {
            1..=MOST_SETS => Ok(Self(count)),
            _ => Err(PlanError::Sets(count)),
        }
    }

    /// How many, 1 to 20.
    #[must_use]
    pub const fn count(self) -> u32 {
        self.0
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
    #[must_use]
    pub const fn low(self) -> u32 {
        self.low
    }

    /// Most, at least the fewest, at most 100.
    #[must_use]
    pub const fn high(self) -> u32 {
        self.high
    }
}

/// One exercise of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// What to lift.
    pub exercise: ExerciseId,
    /// How many work sets.
    pub sets: Sets,
    /// How many repetitions each.
    pub reps: RepRange,
    /// Effort to end each set at; `None` leaves it to the block or the trade's default.
    pub rir: Option<Rir>,
    /// What to open with; `None` leaves it to the belief.
    pub load: Option<Load>,
}

impl Item {
    /// Whether its sets can count toward the week.
    #[must_use]
    pub fn can_count(&self) -> bool {
        let easy = self.rir.is_some_and(|rir| rir.reps() > MOST_RESERVE);
        self.reps.high >= FEWEST_REPS && self.reps.low <= MOST_REPS_COUNTED && !easy
    }
}

/// A place in a day's order: one exercise, or two done in turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slot {
    /// One exercise, all its sets.
    One(Item),
    /// Two exercises, a set of the first, then one of the second.
    Pair(Item, Item),
}

impl Slot {
    /// The exercises of the place, in order.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        let (first, second) = match self {
            Self::One(item) => (item, None),
            Self::Pair(first, second) => (first, Some(second)),
        };
        std::iter::once(first).chain(second)
    }
}

/// What is planned for one day of the week; at least one item.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    weekday: Weekday,
    slots: Vec<Slot>,
}

impl Day {
    /// A day with these places, in order.
    ///
    /// # Errors
    /// [`PlanError`] when there is none, or more than thirty exercises.
    pub fn new(weekday: Weekday, slots: Vec<Slot>) -> Result<Self, PlanError> {
        let items = slots.iter().flat_map(Slot::items).count();
        match items {
            0 => Err(PlanError::Empty(weekday)),
            1..=MOST_ITEMS => Ok(Self { weekday, slots }),
            _ => Err(PlanError::Crowded(weekday)),
        }
    }

    /// Which day.
    #[must_use]
    pub const fn weekday(&self) -> Weekday {
        self.weekday
    }

    /// Its places, in order; never empty.
    #[must_use]
    pub fn slots(&self) -> &[Slot] {
        &self.slots
    }

    /// Its exercises, in order, those of pairs one after the other.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.slots.iter().flat_map(Slot::items)
    }
}

/// A member's week. Without a day it says that nothing is planned.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    days: Vec<Day>,
}

impl Plan {
    /// A plan of these days; they are put in the order of the week from Monday.
    ///
    /// # Errors
    /// [`PlanError::Twice`] when a weekday stands twice.
    pub fn new(mut days: Vec<Day>) -> Result<Self, PlanError> {
        days.sort_by_key(|day| day.weekday.num_days_from_monday());
        let twice = days.windows(2).find_map(|pair| match pair {
            [one, other] if one.weekday == other.weekday => Some(one.weekday),
            _ => None,
        });
        match twice {
            Some(weekday) => Err(PlanError::Twice(weekday)),
            None => Ok(Self { days }),
        }
    }

    /// The days, from Monday on, each weekday at most once.
    #[must_use]
    pub fn days(&self) -> &[Day] {
        &self.days
    }

    /// Whether nothing is planned.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.days.is_empty()
    }

    /// What is planned for a weekday.
    #[must_use]
    pub fn day(&self, weekday: Weekday) -> Option<&Day> {
        self.days.iter().find(|day| day.weekday == weekday)
    }

    /// The first planned day after `weekday`, through to the same weekday of the week after.
    #[must_use]
    pub fn day_after(&self, weekday: Weekday) -> Option<&Day> {
        let ahead = |day: &&Day| (day.weekday.days_since(weekday.succ())) % 7;
        self.days.iter().min_by_key(ahead)
    }

    /// The day that a session on `weekday` is of, when these exercises were done in it: the day
    /// that shares most of them; of several, the weekday's own, then the nearest before it. With
    /// nothing shared, the weekday's own, if there is one.
    ///
    /// So a member who trains Monday's plan on Tuesday is followed all the same.
    #[must_use]
    pub fn session(&self, weekday: Weekday, done: &[ExerciseId]) -> Option<&Day> {
        let shared = |day: &Day| {
            let planned = |exercise: &&ExerciseId| day.items().any(|i| i.exercise == **exercise);
            done.iter().filter(planned).count()
        };
        let back = |day: &Day| weekday.days_since(day.weekday);
        self.days
            .iter()
            .filter(|day| day.weekday == weekday || shared(day) > 0)
            .min_by_key(|day| (std::cmp::Reverse(shared(day)), back(day)))
    }

    /// What is planned for an exercise on `weekday`, else on the next day that has it: repetitions
    /// and effort hold for it wherever it is done.
    #[must_use]
    pub fn item(&self, exercise: ExerciseId, weekday: Weekday) -> Option<&Item> {
        let of = |day: &'_ Day| day.items().any(|item| item.exercise == exercise);
        let ahead = |day: &&Day| day.weekday.days_since(weekday);
        let day = self.days.iter().filter(|day| of(day)).min_by_key(ahead)?;
        day.items().find(|item| item.exercise == exercise)
    }

    /// What a week of the plan comes to for every muscle of the catalogue, in its order, where every
    /// set is done as planned: 1 for the target and ½ for each helper of a set that can count by its
    /// repetitions and effort. Sources as for [`super::week::tally`].
    #[must_use]
    pub fn weekly_sets(&self, catalogue: &Catalogue) -> Vec<(MuscleId, f64)> {
        let mut sums: Vec<(MuscleId, f64)> = catalogue.muscles().map(|(id, _)| (id, 0.0)).collect();
        for item in self.items().filter(|item| item.can_count()) {
            for (muscle, part) in catalogue.exercise(item.exercise).muscles() {
                // One line a muscle, in the order of the ids.
                if let Some((_, sum)) = sums.get_mut(muscle.index()) {
                    *sum += part * f64::from(item.sets.count());
                }
            }
        }
        sums
    }

    /// Every item of the week, in order.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.days.iter().flat_map(Day::items)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn item(exercise: u16) -> Item {
        Item {
            exercise: ExerciseId(exercise),
            sets: Sets::new(3).unwrap(),
            reps: RepRange::new(8, 12).unwrap(),
            rir: None,
            load: None,
        }
    }

    fn plan(days: &[(Weekday, &[u16])]) -> Plan {
        let day = |&(weekday, ids): &(Weekday, &[u16])| {
            let slots = ids.iter().map(|&id| Slot::One(item(id))).collect();
            Day::new(weekday, slots).unwrap()
        };
        Plan::new(days.iter().map(day).collect()).unwrap()
    }

    #[test]
    fn numbers_outside_their_bounds_are_refused() {
        assert_eq!(Sets::new(0), Err(PlanError::Sets(0)));
        assert_eq!(Sets::new(21), Err(PlanError::Sets(21)));
        assert!(Sets::new(20).is_ok());
        assert_eq!(RepRange::new(0, 5), Err(PlanError::Reps(0, 5)));
        assert_eq!(RepRange::new(10, 6), Err(PlanError::Reps(10, 6)));
        assert_eq!(RepRange::new(10, 101), Err(PlanError::Reps(10, 101)));
        assert!(RepRange::new(100, 100).is_ok());
        let none = Day::new(Weekday::Mon, Vec::new());
        assert_eq!(none, Err(PlanError::Empty(Weekday::Mon)));
        let pairs = vec![Slot::Pair(item(1), item(2)); 15];
        assert!(Day::new(Weekday::Mon, pairs).is_ok());
        let pairs = vec![Slot::Pair(item(1), item(2)); 16];
        assert_eq!(
            Day::new(Weekday::Mon, pairs),
            Err(PlanError::Crowded(Weekday::Mon))
        );
    }

    #[test]
    fn days_are_put_in_order_and_stand_once() {
        let plan = plan(&[(Weekday::Thu, &[2]), (Weekday::Mon, &[1])]);
        let order: Vec<_> = plan.days().iter().map(Day::weekday).collect();
        assert_eq!(order, [Weekday::Mon, Weekday::Thu]);
        let day = Day::new(Weekday::Fri, vec![Slot::One(item(1))]).unwrap();
        let twice = Plan::new(vec![day.clone(), day]);
        assert_eq!(twice, Err(PlanError::Twice(Weekday::Fri)));
    }

    #[test]
    fn a_session_is_the_day_that_shares_most_with_what_was_done() {
        let plan = plan(&[(Weekday::Mon, &[1, 2]), (Weekday::Thu, &[3, 2])]);
        let cases: [(Weekday, &[u16], Option<Weekday>); 8] = [
            (Weekday::Mon, &[], Some(Weekday::Mon)),
            (Weekday::Tue, &[], None),
            (Weekday::Tue, &[1], Some(Weekday::Mon)),
            // Both have it: the one before.
            (Weekday::Tue, &[2], Some(Weekday::Mon)),
            (Weekday::Fri, &[2], Some(Weekday::Thu)),
            // Thursday's done on Monday.
            (Weekday::Mon, &[3], Some(Weekday::Thu)),
            (Weekday::Mon, &[9], Some(Weekday::Mon)),
            (Weekday::Tue, &[9], None),
        ];
        for (weekday, done, expected) in cases {
            let done: Vec<_> = done.iter().map(|&id| ExerciseId(id)).collect();
            let day = plan.session(weekday, &done).map(Day::weekday);
            assert_eq!(day, expected, "{weekday} {done:?}");
        }
    }

    #[test]
    fn a_week_adds_up_by_halves_for_helpers() {
        // Source: Pelland JC et al. 2026, Sports Med 56(2):481-505: four sets of bench press, three
        // of overhead press and three of triceps extension are four for the chest, five for the
        // front of the shoulder, six and a half for the triceps.
        let catalogue = config::built_in();
        let slot = |name: &str, sets: u32, (low, high): (u32, u32)| {
            Slot::One(Item {
                exercise: catalogue.named(name).unwrap(),
                sets: Sets::new(sets).unwrap(),
                reps: RepRange::new(low, high).unwrap(),
                rir: None,
                load: None,
            })
        };
        let slots = vec![
            slot("bench press", 4, (8, 12)),
            slot("overhead press", 3, (8, 12)),
            slot("lying triceps extension", 3, (10, 15)),
            // Too few repetitions and too many to count.
            slot("bench press", 5, (1, 3)),
            slot("bench press", 5, (40, 50)),
        ];
        let plan = Plan::new(vec![Day::new(Weekday::Mon, slots).unwrap()]).unwrap();
        let sums = plan.weekly_sets(&catalogue);
        for (muscle, published) in [("chest", 4.0), ("front delts", 5.0), ("triceps", 6.5)] {
            let id = catalogue.muscle_named(muscle).unwrap();
            assert!(sums.contains(&(id, published)), "{muscle}: {sums:?}");
        }
    }

    #[test]
    fn the_next_planned_day_may_lie_in_the_next_week() {
        let plan = plan(&[(Weekday::Mon, &[1]), (Weekday::Thu, &[2])]);
        let after = |weekday| plan.day_after(weekday).map(Day::weekday);
        assert_eq!(after(Weekday::Mon), Some(Weekday::Thu));
        assert_eq!(after(Weekday::Wed), Some(Weekday::Thu));
        assert_eq!(after(Weekday::Thu), Some(Weekday::Mon));
        assert_eq!(Plan::default().day_after(Weekday::Mon), None);
        let item = plan.item(ExerciseId(1), Weekday::Tue);
        assert_eq!(item.map(|item| item.exercise), Some(ExerciseId(1)));
        assert_eq!(plan.item(ExerciseId(7), Weekday::Tue), None);
    }
}
