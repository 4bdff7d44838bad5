//! The loads that a lifter can make for an exercise, from the easiest to the hardest.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};
use crate::domain::quantities::load::{ASSUMED_BODY_MASS, Load};
use crate::domain::quantities::mass::{LAST_PIN, Mass, Unit};
use crate::domain::quantities::rack::Rack;

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
/// machine for it is usual, it begins with much of the body taken off.
pub(super) fn choices(
    exercise: &Exercise,
    done: Load,
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
            loads.extend(made(basis));
            let lightest = loads.first().map(|load| load.mass);
            if let Some(lightest) =
                lightest.filter(|&lightest| done.mass > Mass::ZERO && done.mass < lightest)
            {
                let step = small_step(unit);
                let below = (1..)
                    .map(|n| step.times(n))
                    .take_while(|&mass| mass < lightest);
                let below = below.map(|mass| Load { mass, unit, basis });
                loads.splice(0..0, below.collect::<Vec<_>>());
            }
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
