//! The loads that a lifter can make for an exercise, from the easiest to the hardest.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};
use crate::domain::quantities::load::{ASSUMED_BODY_MASS, Load};
use crate::domain::quantities::mass::{LAST_PIN, Mass, Unit};
use crate::domain::quantities::rack::Rack;

/// Nearer than this, log, no stack and no rack of dumbbells has two loads. Common practice, no source.
const BESIDE: f64 = 0.04;
/// Most of a step of a stack or a rack of dumbbells, in half kilograms. Common practice, no source.
const MOST_HALVES: u32 = 15;
/// Share of the body from which a machine that takes some of it off is usual (pull-ups, dips).
const ASSISTABLE: f64 = 0.9;

/// A load with the log of the kilograms it moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Choice {
    pub(super) load: Load,
    pub(super) kg: f64,
}

impl Choice {
    pub(super) fn new(load: Load, exercise: &Exercise, body_mass: Option<Mass>) -> Self {
        Self {
            load,
            kg: load.moved(exercise, body_mass).in_kg(),
        }
    }

    pub(super) fn log(&self) -> f64 {
        self.kg.ln()
    }
}

/// Step of the small bars, dumbbells and kettlebells that lie about. Common practice, no source.
fn small_step(unit: Unit) -> Mass {
    let amount = match unit {
        Unit::Kg => 2.5,
        Unit::Lb => 5.0,
        Unit::Pin => 1.0,
    };
    Mass::new(amount, unit).unwrap_or(Mass::ZERO)
}

/// Everything the rack makes for this exercise in the manner of the load `done` last, ascending by
/// what is moved. Who does less than the lightest of it has something else to lift there: from the
/// lightest step on up to the rack's own loads, in small steps. A body lift goes from the body alone to much added weight; with `help`, and where a
/// machine for it is usual, it begins with much of the body taken off. Loads that were `used` are among them.
pub(super) fn choices(
    exercise: &Exercise,
    done: Load,
    used: &[Mass],
    help: bool,
    rack: &Rack,
    unit: Unit,
    body_mass: Option<Mass>,
) -> Vec<Choice> {
    let basis = done.basis;
    let pins = done.unit == Unit::Pin;
    let unit = if pins { Unit::Pin } else { unit };
    let made = |basis: Basis| {
        let made = match pins {
            true => (1..=LAST_PIN)
                .map(|pin| small_step(unit).times(pin.into()))
                .collect(),
            false => rack.loads(exercise.equipment, basis),
        };
        made.into_iter().map(move |mass| Load { mass, unit, basis })
    };
    let mut loads: Vec<Load> = Vec::new();
    match basis {
        Basis::Total | Basis::PerHand => {
            let mut masses: Vec<Mass> = made(basis).map(|load| load.mass).collect();
            let lightest = masses.first().copied();
            if let Some(lightest) =
                lightest.filter(|&lightest| done.mass > Mass::ZERO && done.mass < lightest)
            {
                let step = small_step(unit);
                let below = (1..)
                    .map(|n| step.times(n))
                    .take_while(|&mass| mass < lightest);
                masses.splice(0..0, below.collect::<Vec<_>>());
            }
            if unit == Unit::Kg {
                masses = with_used(masses, used, exercise.equipment);
            }
            loads.extend(masses.into_iter().map(|mass| Load { mass, unit, basis }));
        }
        Basis::Body | Basis::Added | Basis::Assisted => {
            let usual = exercise.body_share >= ASSISTABLE && exercise.equipment == Equipment::Body;
            if basis == Basis::Assisted || (help && usual) {
                let body = body_mass.unwrap_or(ASSUMED_BODY_MASS);
                loads.extend(made(Basis::Assisted).filter(|load| load.mass < body));
                loads.reverse();
            }
            loads.push(Load::body(unit));
            loads.extend(made(Basis::Added));
        }
    }
    loads
        .into_iter()
        .map(|load| Choice::new(load, exercise, body_mass))
        .collect()
}

/// The loads of a rack with those that were lifted, so that there are such loads. A stack or a rack of dumbbells on which
/// they lie in steps that are no multiple of the known ones has these steps; else it has none right beside them.
fn with_used(mut made: Vec<Mass>, used: &[Mass], equipment: Equipment) -> Vec<Mass> {
    let mut used: Vec<Mass> = used
        .iter()
        .copied()
        .filter(|mass| is_round(*mass))
        .collect();
    used.sort_unstable();
    used.dedup();
    if used.iter().all(|mass| made.contains(mass)) {
        return made;
    }
    if matches!(equipment, Equipment::Stack | Equipment::Dumbbell) {
        match other_steps(&made, &used) {
            Some(steps) => made = steps,
            None => made.retain(|one| !used.iter().any(|other| is_beside(*one, *other))),
        }
    }
    made.extend(used);
    made.sort_unstable();
    made.dedup();
    made
}

/// All loads in the steps in which those used lie, up to the heaviest made; `None` where the known steps, or larger ones,
/// explain them.
fn other_steps(made: &[Mass], used: &[Mass]) -> Option<Vec<Mass>> {
    let known = in_halves(*made.get(1)?) - in_halves(*made.first()?);
    let first = in_halves(*used.first()?);
    let steps = used.iter().map(|mass| in_halves(*mass) - first);
    let step = steps.reduce(common)?;
    if step == 0 || step > MOST_HALVES || known > 0 && step % known == 0 {
        return None;
    }
    let most = in_halves(*made.last()?);
    let lightest = (first - 1) % step + 1;
    let all = (0..)
        .map(|n| lightest + n * step)
        .take_while(|halves| *halves <= most);
    all.map(|halves| Mass::from_kg(0.5 * f64::from(halves)).ok())
        .collect()
}

/// The largest number of which both are multiples.
const fn common(one: u32, other: u32) -> u32 {
    if other == 0 {
        one
    } else {
        common(other, one % other)
    }
}

fn is_beside(one: Mass, other: Mass) -> bool {
    (one.in_kg() / other.in_kg()).ln().abs() <= BESIDE
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a load is at most some tons"
)]
fn in_halves(mass: Mass) -> u32 {
    (2.0 * mass.in_kg()).round() as u32
}

/// Whether a load is one of a scale in half kilograms: others come from other units.
fn is_round(mass: Mass) -> bool {
    let halves = 2.0 * mass.in_kg();
    mass > Mass::ZERO && (halves - halves.round()).abs() < 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;

    fn masses(all: &[f64]) -> Vec<Mass> {
        all.iter().map(|kg| Mass::from_kg(*kg).unwrap()).collect()
    }

    #[test]
    fn loads_that_were_lifted_are_there() {
        let grid: Vec<f64> = (1..=24).map(|n| 2.5 * f64::from(n)).collect();
        let near = |used: &[f64], equipment: Equipment, from: f64, to: f64| {
            let all = with_used(masses(&grid), &masses(used), equipment);
            let all = all.iter().map(|mass| mass.in_kg());
            all.filter(|kg| (from..=to).contains(kg))
                .collect::<Vec<f64>>()
        };
        // Nothing that is not known already.
        assert_eq!(
            near(&[20.0, 50.0], Equipment::Stack, 48.0, 53.0),
            [50.0, 52.5]
        );
        assert_eq!(near(&[49.0], Equipment::Stack, 46.0, 53.0), [49.0, 52.5]);
        assert_eq!(
            near(&[49.0], Equipment::Barbell, 47.0, 51.0),
            [47.5, 49.0, 50.0]
        );
        // Steps of seven, and one of two that was left out.
        assert_eq!(
            near(&[42.0, 49.0], Equipment::Stack, 30.0, 60.0),
            [35.0, 42.0, 49.0, 56.0]
        );
        assert_eq!(
            near(&[35.0, 49.0, 56.0], Equipment::Stack, 40.0, 50.0),
            [42.0, 49.0]
        );
        // Loads far apart tell of no steps, nor do pounds.
        assert_eq!(
            near(&[11.0, 49.0], Equipment::Stack, 9.0, 13.0),
            [10.0, 11.0, 12.5]
        );
        assert_eq!(
            near(&[61.235], Equipment::Barbell, 57.0, 60.0),
            [57.5, 60.0]
        );
    }
}
