//! How well sets are borne out: by what the exercise usually takes, by what this lifter did last, by
//! how many repetitions are usual, by round loads, and by heavier sets having fewer repetitions.

use crate::domain::catalogue::{Basis, Equipment, Exercise, LiftClass};
use crate::domain::mass::{Mass, Unit};

use super::super::item::Num;
use super::rows::Row;

/// Usual repetitions, and how fast others become unlikely. Common practice, no source.
const USUAL_REPS: f64 = 7.0;
/// More are rare with a load.
const MANY_REPS: f64 = 40.0;
/// Sets less likely than this, and so much for each load or count, are no reading, nats.
const LEAST: f64 = -3.0;
const LEAST_EACH: f64 = 1.0;
/// No barbell is lighter, kilograms. Common practice, no source.
const LIGHTEST_BAR: f64 = 9.0;

/// What a line is held against.
#[derive(Clone, Copy)]
pub(super) struct Usual<'u> {
    pub exercise: &'u Exercise,
    pub unit: Unit,
    /// What this lifter moved last on it, kilograms.
    pub last_kg: Option<f64>,
}

impl Usual<'_> {
    /// How likely these sets are of that exercise, in nats up to a constant; `None` where they are so
    /// far from what anybody does that they are no reading.
    pub(super) fn score(&self, rows: &[Row]) -> Option<f64> {
        let mut score = 0.0;
        let mut kinds: Vec<&Row> = Vec::new();
        let mut parts = 0.0;
        let (mut loads, mut reps): (Vec<Option<Num>>, Vec<f64>) = (Vec::new(), Vec::new());
        for row in rows {
            if !kinds.contains(&row) {
                kinds.push(row);
            }
            if !loads.contains(&row.load) {
                loads.push(row.load);
                parts += 0.5;
                score += match row.load {
                    Some(load) => self.load(load),
                    None if self.exercise.basis == Basis::Body => 0.0,
                    None => -2.5,
                };
            }
            if !reps.contains(&row.reps) {
                reps.push(row.reps);
                parts += 0.5;
                score -= 0.7 * (row.reps.max(1.0) / USUAL_REPS).ln().abs();
                if row.reps > MANY_REPS {
                    score -= 4.0;
                }
            }
        }
        if score < LEAST - LEAST_EACH * parts {
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
                score -= 0.6;
            }
        }
        Some(score)
    }

    fn load(&self, load: Num) -> f64 {
        let unit = load.unit.unwrap_or(self.unit);
        let kg = Mass::new(load.value, unit).map_or(0.0, Mass::in_kg);
        let bar = self.exercise.equipment == Equipment::Barbell && kg < LIGHTEST_BAR;
        let (usual, weight) = match self.last_kg {
            Some(kg) => (kg, 1.5),
            None => (usual_kg(self.exercise), 0.9),
        };
        let far = weight * (kg.max(0.1) / usual).ln().abs();
        let hung = if self.exercise.basis == Basis::Body && load.unit.is_none() {
            0.7
        } else {
            0.0
        };
        -far - odd(load.value, unit) - hung - if bar { 2.0 } else { 0.0 }
    }
}

/// What speaks against a number as a load: discs, dumbbells and stacks go in steps. Common practice,
/// no source.
fn odd(value: f64, unit: Unit) -> f64 {
    let step = |step: f64| (value / step).fract() < 1e-6;
    let usual = match unit {
        Unit::Kg => step(2.5) || step(2.0) && value >= 12.0,
        Unit::Lb => step(5.0) || step(2.5),
    };
    match usual {
        true => 0.0,
        false if step(0.5) => 0.5,
        false => 1.0,
    }
}

/// What an exercise takes from somebody of whom nothing is known, kilograms. Common practice, no
/// source; only its order of size matters.
fn usual_kg(exercise: &Exercise) -> f64 {
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
