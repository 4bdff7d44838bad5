//! What a planned share of a load comes to for a lifter on a day.

use super::view::View;
use crate::domain::coaching::plan::Percent;
use crate::domain::lifter::belief::Belief;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::handbook;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::{ASSUMED_BODY_MASS, Load};
use crate::domain::quantities::mass::Mass;

/// The middle of a span of percent of what the lifter of the view can lift `of` times, rounded down
/// to what they can load. What can be lifted so many times is the handbook's share of the estimated
/// one-rep max; `None` where the handbook has no row for it.
pub fn share(
    view: &View<'_>,
    belief: &Belief,
    exercise: ExerciseId,
    (low, high): (Percent, Percent),
    of: u32,
) -> Option<Load> {
    let kind = view.catalogue().exercise(exercise);
    let (one_rm, _) = belief.one_rm();
    let percent = f64::midpoint(low.percent(), high.percent());
    let moved = one_rm * handbook::share(of)? * percent / 100.0;
    let body = match kind.basis {
        Basis::Body => {
            let own = view.body_mass().unwrap_or(ASSUMED_BODY_MASS);
            own.in_kg() * kind.body_share
        }
        Basis::Total | Basis::PerHand | Basis::Added | Basis::Assisted => 0.0,
    };
    let basis = match kind.basis {
        Basis::Body if moved < body => Basis::Assisted,
        Basis::Body => Basis::Added,
        own => own,
    };
    let load = Load {
        mass: Mass::from_kg((moved - body).abs()).ok()?,
        unit: view.unit(),
        basis,
    };
    rounded(view, exercise, load)
}

/// A part of a load, rounded down to what the lifter of the view can load.
pub fn part(view: &View<'_>, exercise: ExerciseId, of: Load, percent: Percent) -> Option<Load> {
    let mass = Mass::from_kg(of.mass.in_kg() * percent.percent() / 100.0).ok()?;
    rounded(view, exercise, Load { mass, ..of })
}

fn rounded(view: &View<'_>, exercise: ExerciseId, load: Load) -> Option<Load> {
    let kind = view.catalogue().exercise(exercise);
    let rack = view.rack();
    let mass = rack.round_down(load.mass, kind.equipment, load.basis)?;
    Some(Load {
        mass,
        unit: rack.unit(),
        ..load
    })
}
