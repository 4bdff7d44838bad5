//! A load as it is meant: an amount, the unit it was written in, and the basis.

use super::catalogue::{Basis, Exercise};
use super::mass::{Mass, Unit};

/// Body mass taken where the member has stated none. Only the absolute scale of body-weight lifts
/// hangs on it, not the advice in added kilograms, which the belief learns about the same figure.
/// Trade practice, no source.
pub const ASSUMED_BODY_MASS: Mass = Mass::from_grams(75_000);

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
    /// The body alone, in a member's `unit`.
    #[must_use]
    pub const fn body(unit: Unit) -> Self {
        Self {
            mass: Mass::ZERO,
            unit,
            basis: Basis::Body,
        }
    }

    /// What is really moved: the share of the body's mass that the exercise lifts, plus or minus
    /// the load. For a dumbbell lift it is one hand's load: the scale on which the belief lives
    /// need only be the same from set to set.
    ///
    /// Never under 1 kg, so that ratios and logarithms stay defined.
    #[must_use]
    pub fn moved(self, exercise: &Exercise, body_mass: Option<Mass>) -> Mass {
        let body = body_mass.unwrap_or(ASSUMED_BODY_MASS).in_kg() * exercise.body_share;
        let kg = match self.basis {
            Basis::Total | Basis::PerHand | Basis::Added => body + self.mass.in_kg(),
            Basis::Assisted => body - self.mass.in_kg(),
            Basis::Body => body,
        };
        Mass::from_kg(kg.max(1.0)).unwrap_or(Mass::from_grams(1000))
    }
}
