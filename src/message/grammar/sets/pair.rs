//! What a bare pair of numbers means for the exercise: `20x8` is load × reps or sets × reps.

use super::super::core::LoadPart;
use super::super::item::Num;
use super::{GroupFiler, LIGHTEST_BAR, REPS_TO};
use crate::domain::quantities::catalogue::{Basis, Equipment};
use crate::message::reading::{MOST_REPS, Need};

/// From here on a number before the repetitions of a body-weight movement is weight added.
const ADDED_FROM: f64 = 15.0;
/// Up to here it is a number of sets.
const SETS_TO: f64 = 5.0;

impl GroupFiler<'_> {
    /// `20x8`: load × reps or sets × reps, by the exercise.
    pub(super) fn pair(&mut self) {
        let core = &self.group.core;
        let LoadPart::Num(first) = core.load else {
            return self.settled(core.load, &core.reps.clone());
        };
        let reps = core.reps.clone();
        let most = reps.iter().copied().fold(0.0, f64::max);
        if self.is_body() {
            return self.body_pair(first, &reps);
        }
        // `10x80` is most likely the other way round; nobody files it unasked.
        if let [only] = reps.as_slice()
            && most > 30.0
            && most <= MOST_REPS
            && most > 2.0 * first.value
            && !self.is_light()
        {
            return self.rivals(&[(Some(first.value), *only), (Some(*only), first.value)]);
        }
        if self.are_sets(first.value, most) {
            return self.sets_times_reps(first.value, &reps);
        }
        self.settled(LoadPart::Num(first), &reps);
    }

    fn is_light(&self) -> bool {
        self.entry()
            .is_some_and(|e| matches!(e.equipment, Equipment::Dumbbell | Equipment::Body))
    }

    fn are_sets(&self, first: f64, most: f64) -> bool {
        if first.fract() != 0.0 || self.flags.per_hand {
            return false;
        }
        let bar = self.is_on_bar();
        first <= SETS_TO || bar && first <= LIGHTEST_BAR && most <= REPS_TO
    }

    /// Loaded on a bar or a plate machine.
    pub(super) fn is_on_bar(&self) -> bool {
        self.entry().is_some_and(|exercise| {
            matches!(
                exercise.equipment,
                Equipment::Barbell | Equipment::PlateMachine
            )
        })
    }

    pub(super) fn sets_times_reps(&mut self, sets: f64, reps: &[f64]) {
        let count = (1_u8..=20)
            .find(|n| (f64::from(*n) - sets).abs() < 0.1)
            .unwrap_or(1);
        let list = match reps {
            [one] => vec![*one; usize::from(count)],
            list => list.to_vec(),
        };
        self.settled(LoadPart::None, &list);
    }

    /// Body-weight movements: 15 and more is weight added, 5 and less a number of sets.
    fn body_pair(&mut self, first: Num, reps: &[f64]) {
        let hung = self.is_hung();
        let carried = !self.named
            && self
                .last()
                .is_some_and(|l| matches!(l.load.basis, Basis::Added | Basis::Assisted));
        if hung || first.value >= ADDED_FROM || carried && first.value > SETS_TO {
            return self.settled(LoadPart::Num(first), reps);
        }
        if first.value <= SETS_TO {
            return self.sets_times_reps(first.value, reps);
        }
        let [one] = reps else {
            return self.settled(LoadPart::Num(first), reps);
        };
        self.out.need(Need::WhichReading);
        let as_load = vec![self.draft(LoadPart::Num(first), *one, 0)];
        let count = (1..=20)
            .find(|n| (f64::from(*n) - first.value).abs() < 0.1)
            .unwrap_or(1);
        let as_sets = (0..count)
            .map(|_| self.draft(LoadPart::Body, *one, 0))
            .collect();
        self.open(vec![as_load, as_sets]);
    }
}
