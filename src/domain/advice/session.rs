//! How far a planned session has come, and what is next in it.

use crate::domain::coaching::block::BlockWeek;
use crate::domain::coaching::plan::{Day, Item};
use crate::domain::quantities::id::ExerciseId;

/// An item of today with the sets done of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// The item as planned.
    pub item: Item,
    /// Its sets this week: the block's share of those planned.
    pub planned: u32,
    /// Work sets done of it today; more than planned only where it is the last of its exercise.
    pub done: u32,
}

impl Progress {
    /// Sets still to do.
    #[must_use]
    pub const fn left(&self) -> u32 {
        self.planned.saturating_sub(self.done)
    }
}

/// A planned session while it is done: its places in order, several items each where they are done in turn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Session {
    slots: Vec<Vec<Progress>>,
}

impl Session {
    /// The session of a day in a week of a block, with the work sets done today, by exercise. Sets
    /// of an exercise that stands several times go to the first item that lacks some.
    #[must_use]
    pub fn new(day: &Day, week: BlockWeek, done: &[ExerciseId]) -> Self {
        let progress = |item: &Item| Progress {
            item: item.clone(),
            planned: week.sets(item.sets.count()),
            done: 0,
        };
        let slots = day.slots().iter();
        let mut session = Self {
            slots: slots
                .map(|slot| slot.items().map(progress).collect())
                .collect(),
        };
        for &exercise in done {
            session.tick(exercise);
        }
        session
    }

    /// Counts a work set of an exercise.
    pub fn tick(&mut self, exercise: ExerciseId) {
        let of = self.of(exercise);
        let of = |one: &&mut Progress| of(&one.item);
        let mut items: Vec<_> = self.slots.iter_mut().flatten().filter(of).collect();
        let lacking = items.iter().position(|one| one.left() > 0);
        let place = lacking.unwrap_or(items.len().saturating_sub(1));
        if let Some(one) = items.get_mut(place) {
            one.done += 1;
        }
    }

    /// Leaves out what is still to do of an exercise: nothing more of it would count today.
    pub fn end(&mut self, exercise: ExerciseId) {
        let of = self.of(exercise);
        let of = |one: &&mut Progress| of(&one.item);
        for one in self.slots.iter_mut().flatten().filter(of) {
            one.planned = one.planned.min(one.done);
        }
    }

    /// Which items an exercise is of: those that name it, else those that leave it to choice.
    fn of(&self, exercise: ExerciseId) -> impl Fn(&Item) -> bool + use<> {
        let named = self.items().any(|one| one.item.exercise == exercise);
        move |item: &Item| match named {
            true => item.exercise == exercise,
            false => item.is_of(exercise),
        }
    }

    /// Its places, in order.
    #[must_use]
    pub fn slots(&self) -> &[Vec<Progress>] {
        &self.slots
    }

    /// Its items, in order.
    pub fn items(&self) -> impl Iterator<Item = &Progress> {
        self.slots.iter().flatten()
    }

    /// Whether nothing is left to do.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.items().all(|one| one.left() == 0)
    }

    /// The item of an exercise that is at hand: the first that lacks sets, else the last.
    #[must_use]
    pub fn at_hand(&self, exercise: ExerciseId) -> Option<&Progress> {
        let of = self.of(exercise);
        let of = |one: &&Progress| of(&one.item);
        let lacking = self.items().filter(&of).find(|one| one.left() > 0);
        lacking.or_else(|| self.items().filter(&of).last())
    }

    /// All sets planned today of an exercise; `None` where it is not planned today.
    #[must_use]
    pub fn planned(&self, exercise: ExerciseId) -> Option<u32> {
        let of = self.of(exercise);
        let of = self.items().filter(|one| of(&one.item));
        let planned: Vec<u32> = of.map(|one| one.planned).collect();
        (!planned.is_empty()).then(|| planned.iter().sum())
    }

    /// What is next after a set of `current`: the rest of the place that it stands in, those done
    /// in turn, else the first place with something left. `None` when all is done.
    #[must_use]
    pub fn next(&self, current: Option<ExerciseId>) -> Option<&Progress> {
        let holds = |slot: &&Vec<Progress>| {
            let of = |one: &Progress| current.is_some_and(|current| one.item.is_of(current));
            slot.iter().any(of) && slot.iter().any(|one| one.left() > 0)
        };
        let open = |slot: &&Vec<Progress>| slot.iter().any(|one| one.left() > 0);
        let slots = || self.slots.iter();
        let slot = slots().find(holds).or_else(|| slots().find(open))?;
        // Of those in turn, the one with the fewest done; the first where they are even.
        let lacking = slot.iter().filter(|one| one.left() > 0);
        lacking.min_by_key(|one| one.done)
    }
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;

    use super::*;
    use crate::domain::coaching::block::BlockEffort;
    use crate::domain::coaching::plan::{Amount, DayName, RepRange, Sets, Slot};

    fn item(exercise: u16, sets: u32) -> Item {
        let reps = Amount::Reps(RepRange::new(8, 12).unwrap());
        Item::new(ExerciseId(exercise), Sets::new(sets).unwrap(), reps)
    }

    fn session(slots: Vec<Slot>, share: u32, done: &[u16]) -> Session {
        let day = Day::new(DayName::Weekday(Weekday::Mon), slots).unwrap();
        let week = BlockWeek::new(BlockEffort::AsPlanned, share).unwrap();
        let done: Vec<_> = done.iter().map(|&id| ExerciseId(id)).collect();
        Session::new(&day, week, &done)
    }

    fn next(session: &Session, current: u16) -> Option<u16> {
        let next = session.next(Some(ExerciseId(current)));
        next.map(|one| one.item.exercise.0)
    }

    #[test]
    fn sets_are_ticked_off_and_the_next_exercise_named() {
        let slots = || vec![Slot::one(item(1, 2)), Slot::one(item(2, 1))];
        let cases: [(&[u16], u16, Option<u16>); 6] = [
            (&[], 0, Some(1)),
            (&[1], 1, Some(1)),
            (&[1, 1], 1, Some(2)),
            // Begun with the second: that is finished first.
            (&[2], 2, Some(1)),
            (&[1, 1, 2], 2, None),
            (&[1, 1, 1], 1, Some(2)),
        ];
        for (done, current, expected) in cases {
            let session = session(slots(), 100, done);
            assert_eq!(next(&session, current), expected, "{done:?}");
            assert_eq!(session.is_done(), expected.is_none(), "{done:?}");
        }
    }

    #[test]
    fn the_two_of_a_pair_take_turns() {
        let slots = || {
            let pair = Slot::in_turn(vec![item(1, 2), item(2, 3)]).unwrap();
            vec![pair, Slot::one(item(3, 1))]
        };
        let cases: [(&[u16], Option<u16>); 7] = [
            (&[], Some(1)),
            (&[1], Some(2)),
            (&[1, 2], Some(1)),
            (&[1, 2, 1], Some(2)),
            (&[1, 2, 1, 2], Some(2)),
            (&[1, 2, 1, 2, 2], Some(3)),
            (&[1, 2, 1, 2, 2, 3], None),
        ];
        for (done, expected) in cases {
            let session = session(slots(), 100, done);
            let current = done.last().copied().unwrap_or(0);
            assert_eq!(next(&session, current), expected, "{done:?}");
        }
    }

    #[test]
    fn an_exercise_that_stands_twice_is_done_in_order() {
        let slots = vec![
            Slot::one(item(1, 1)),
            Slot::one(item(2, 1)),
            Slot::one(item(1, 2)),
        ];
        let session = session(slots, 100, &[1, 1, 1, 1]);
        let done: Vec<_> = session.items().map(|one| one.done).collect();
        assert_eq!(done, [1, 0, 3]);
        assert_eq!(session.planned(ExerciseId(1)), Some(3));
        assert_eq!(session.planned(ExerciseId(9)), None);
    }

    #[test]
    fn a_lighter_week_has_fewer_sets() {
        let session = session(vec![Slot::one(item(1, 4))], 50, &[1]);
        let left: Vec<_> = session.items().map(Progress::left).collect();
        assert_eq!(left, [1]);
        let at_hand = session.at_hand(ExerciseId(1)).map(|one| one.planned);
        assert_eq!(at_hand, Some(2));
    }
}
