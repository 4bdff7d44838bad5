//! A load as it is meant: an amount, the unit it was written in, and the basis.

use super::catalogue::{Basis, Exercise};
use super::mass::{Mass, Unit};

/// Body mass taken where the member has stated none. Only the absolute scale of body-weight lifts
/// hangs on it, not the advice in added kilograms, which the belief learns about the same figure.
/// Trade practice, no source.
pub const ASSUMED_BODY_MASS: Mass = Mass::from_grams(75_000);

/// No load above this is logged or planned: it is a slip.
pub(crate) const HEAVIEST: Mass = Mass::from_grams(1_000_000);

/// A load as lifters speak of it. `Body` carries no amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Load {
    /// The amount, never negative; zero for [`Basis::Body`].
    pub mass: Mass,
    /// The unit it was written in, and is shown in.
    pub unit: Unit,
    /// What the amount means.
    pub basis: Basis,
}

impl Load {
    /// All that is lifted, as on a bar.
    pub const fn total(mass: Mass, unit: Unit) -> Self {
        Self {
            mass,
            unit,
            basis: Basis::Total,
        }
    }

    /// The body alone, in a member's `unit`.
    pub const fn body(unit: Unit) -> Self {
        Self {
            mass: Mass::ZERO,
            unit,
            basis: Basis::Body,
        }
    }

    /// What is really moved: the share of the body's mass that the exercise lifts, plus or minus
    /// the load. For a dumbbell lift it is one hand's load: the scale on which the belief lives
    /// need only be the same from set to set. So a dumbbell in each hand counts twice where the
    /// exercise speaks of the whole (`lunge 16s`), and a total counts half where it speaks of one
    /// hand.
    ///
    /// Never under 1 kg, so that ratios and logarithms stay defined.
    pub fn moved(self, exercise: &Exercise, body_mass: Option<Mass>) -> Mass {
        let body = body_mass.unwrap_or(ASSUMED_BODY_MASS).in_kg() * exercise.body_share;
        let kg = self.mass.in_kg();
        let moved = match (self.basis, exercise.basis) {
            (Basis::PerHand, Basis::Total | Basis::Body) => body + 2.0 * kg,
            (Basis::Total, Basis::PerHand) => body + 0.5 * kg,
            (Basis::Total | Basis::PerHand | Basis::Added, _) => body + kg,
            (Basis::Assisted, _) => body - kg,
            (Basis::Body, _) => body,
        };
        Mass::from_kg(moved.max(LEAST_KG)).unwrap_or(ONE_KG)
    }
}

/// The least mass moved, kilograms.
const LEAST_KG: f64 = 1.0;
/// The same as a mass.
const ONE_KG: Mass = Mass::from_grams(1000);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    #[test]
    fn what_is_moved_counts_body_and_both_hands() {
        let body = Some(Mass::from_grams(80_000));
        let cases = [
            ("back squat", Basis::Total, 100.0, 100.0),
            ("dumbbell bench press", Basis::PerHand, 30.0, 30.0),
            ("dumbbell bench press", Basis::Total, 60.0, 30.0),
            ("shrug", Basis::PerHand, 30.0, 60.0),
            ("lunge", Basis::PerHand, 16.0, 56.0 + 32.0),
            ("lunge", Basis::Total, 32.0, 56.0 + 32.0),
            ("pull-up", Basis::Added, 20.0, 100.0),
            ("pull-up", Basis::Assisted, 15.0, 65.0),
            ("pull-up", Basis::Assisted, 90.0, 1.0),
            ("push-up", Basis::Body, 0.0, 51.2),
        ];
        let catalogue = config::built_in();
        for (name, basis, kg, expected) in cases {
            let exercise = catalogue.exercise(catalogue.named(name).unwrap());
            let mass = Mass::from_kg(kg).unwrap();
            let unit = Unit::Kg;
            let moved = Load { mass, unit, basis }.moved(exercise, body);
            assert_eq!(moved, Mass::from_kg(expected).unwrap(), "{name} {basis:?}");
        }
    }

    #[test]
    fn an_unstated_body_is_the_assumed_one() {
        let catalogue = config::built_in();
        let dip = catalogue.exercise(catalogue.named("dip").unwrap());
        assert_eq!(Load::body(Unit::Kg).moved(dip, None), ASSUMED_BODY_MASS);
    }
}
