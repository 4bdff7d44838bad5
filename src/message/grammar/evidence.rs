//! How well sets are borne out: by what the exercise usually takes, by what this lifter did last, by
//! how many repetitions are usual, by round loads, and by heavier sets having fewer repetitions.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};

use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::mass::{Mass, Unit};

use super::super::grammar::item::{Num, Sign as Plus};
use super::super::reading::{Habit, SetReading};
use super::against::{Against, Sign};
use super::rows::Row;

/// Usual repetitions, and how fast others become unlikely. Common practice, no source.
const USUAL_REPS: f64 = 7.0;
/// More are rare with a load.
const MANY_REPS: f64 = 20.0;
/// What speaks against it that no reading of a line is meant, nats. Sets against which more speaks are
/// none.
pub(super) const NONE: f64 = 8.0;
/// No barbell is lighter, kilograms. Common practice, no source.
const LIGHTEST_BAR: f64 = 9.0;

/// What a line is held against.
#[derive(Clone, Copy)]
pub(crate) struct Usual<'u> {
    /// `None` where it is not named yet.
    pub exercise: Option<&'u Exercise>,
    pub unit: Unit,
    /// What this lifter moved last on it, kilograms.
    pub last_kg: Option<f64>,
    /// How often.
    pub last_reps: Option<f64>,
}

impl<'u> Usual<'u> {
    /// What an exercise is held against: the last set, where it is of that exercise, else what this
    /// lifter did of it of late.
    pub(crate) fn of(
        exercise: &'u Exercise,
        id: ExerciseId,
        unit: Unit,
        last: Option<&SetReading>,
        habits: &[Habit],
    ) -> Self {
        let last = last.filter(|last| last.exercise == id).map(Habit::of);
        let known = last.or_else(|| habits.iter().find(|habit| habit.exercise == id).copied());
        Self {
            exercise: Some(exercise),
            unit,
            last_kg: known.map(|habit| habit.kg.max(1.0)),
            last_reps: known.map(|habit| f64::from(habit.reps)),
        }
    }

    /// The same where no exercise is named.
    pub(super) const fn nothing(unit: Unit) -> Self {
        Self {
            exercise: None,
            unit,
            last_kg: None,
            last_reps: None,
        }
    }

    /// What speaks against these sets of that exercise; `None` where they are so far from what
    /// anybody does that they are no reading.
    pub(super) fn weigh(&self, rows: &[Row]) -> Option<Against> {
        let mut against = Against::default();
        let mut kinds: Vec<&Row> = Vec::new();
        let (mut loads, mut reps): (Vec<Option<Num>>, Vec<f64>) = (Vec::new(), Vec::new());
        for row in rows {
            if !kinds.contains(&row) {
                kinds.push(row);
            }
            if !loads.contains(&row.load) {
                loads.push(row.load);
            }
            if !reps.contains(&row.reps) {
                reps.push(row.reps);
            }
        }
        let loaded = loads.iter().any(Option::is_some);
        self.weigh_loads(&loads, &mut against);
        let (usual, sign) = match self.last_reps {
            Some(reps) => (reps, Sign::RepsFarFromOwn),
            None => (USUAL_REPS, Sign::RepsFar),
        };
        let share = share_of(reps.len());
        for count in reps {
            against.add(sign, share * (count.max(1.0) / usual.max(1.0)).ln().abs());
            let many = ((count - MANY_REPS) / MANY_REPS).max(0.0);
            against.add(Sign::ManyReps, if loaded { many } else { 0.2 * many });
        }
        if against.cost() > NONE {
            return None;
        }
        for pair in kinds.windows(2) {
            // Repetitions fall as loads rise, and from set to set at one load.
            let no_lighter = match (pair[0].load, pair[1].load) {
                (Some(a), Some(b)) => b.value >= a.value,
                (None, None) => true,
                _ => false,
            };
            if no_lighter && pair[1].reps > pair[0].reps {
                against.add(Sign::RepsRise, 1.0);
            }
        }
        Some(against)
    }

    /// Lighter loads lead up to the heaviest: that one tells whose they are.
    fn weigh_loads(&self, loads: &[Option<Num>], against: &mut Against) {
        let on_body = self.exercise.is_some_and(|e| e.basis == Basis::Body);
        let share = share_of(loads.len());
        let mut heaviest: f64 = 0.0;
        let mut far_from_own = 0.0;
        for load in loads {
            let Some(load) = load else {
                against.add(Sign::NoLoad, if on_body { 0.0 } else { 1.0 });
                continue;
            };
            // `3/0`: nothing hung on the body.
            if load.value <= 0.0 {
                against.add(Sign::NoLoad, if on_body { 0.0 } else { 4.0 });
                continue;
            }
            let unit = load.unit.unwrap_or(self.unit);
            let kg = Mass::new(load.value, unit).map_or(0.0, Mass::in_kg);
            heaviest = heaviest.max(kg);
            if let Some(own) = self.last_kg {
                far_from_own += share * (kg.max(0.1) / own).ln().abs();
            }
            against.add(Sign::OddLoad, share * odd(load.value, unit));
            if on_body && load.unit.is_none() && load.sign == Plus::None {
                against.add(Sign::Hung, share);
            }
            let on_bar = self
                .exercise
                .is_some_and(|e| e.equipment == Equipment::Barbell);
            if on_bar && kg < LIGHTEST_BAR {
                against.add(Sign::LighterThanBar, 1.0);
            }
        }
        against.add(Sign::LoadFarFromOwn, far_from_own);
        if let Some(exercise) = self.exercise
            && heaviest > 0.0
            && self.last_kg.is_none()
        {
            let near = if on_body { 1.0 } else { 0.3 };
            let far = (heaviest.max(0.1) / usual_kg(exercise)).ln().abs();
            against.add(Sign::LoadFar, (far - near).max(0.0));
        }
    }
}

/// The weight of each of so many, that all may have one.
fn share_of(count: usize) -> f64 {
    u32::try_from(count).map_or(0.0, |count| f64::from(count.max(1)).recip())
}

/// What speaks against a number as a load: discs, dumbbells and stacks go in steps. Common practice,
/// no source.
fn odd(value: f64, unit: Unit) -> f64 {
    let step = |step: f64| (value / step).fract() < 1e-6;
    let usual = match unit {
        Unit::Kg => step(2.5) || step(2.0) && value >= 12.0,
        Unit::Lb => step(5.0) || step(2.5),
        Unit::Pin => step(1.0),
    };
    match usual {
        true => 0.0,
        false if step(0.5) => 0.5,
        false => 1.0,
    }
}

/// What an exercise takes from somebody of whom nothing is known, kilograms. Common practice, no
/// source; only its order of size matters.
pub(super) fn usual_kg(exercise: &Exercise) -> f64 {
    let one_hand = exercise.equipment == Equipment::Dumbbell;
    match exercise.class {
        _ if exercise.basis == Basis::Body => 20.0,
        LiftClass::Squat if one_hand => 20.0,
        LiftClass::Hinge if one_hand => 28.0,
        LiftClass::Squat => 80.0,
        LiftClass::LegPress => 120.0,
        LiftClass::Hinge => 90.0,
        LiftClass::Press | LiftClass::Pull if one_hand => 20.0,
        LiftClass::Press | LiftClass::Pull => 55.0,
        LiftClass::SmallUpper if one_hand => 11.0,
        LiftClass::SmallUpper => 25.0,
        LiftClass::SmallLower => 40.0,
        LiftClass::Calf => 60.0,
        LiftClass::Trunk => 20.0,
    }
}
