//! What one set says of a lifter: each thing that it may have been is weighed by its repetitions, and what becomes of the
//! belief then is found along the way on which the repetitions to failure change most.
//!
//! How likely each is before is [`super::explanation`]'s, the likelihoods are [`super::report`]'s; [`super::model`] takes it
//! all on.

use std::sync::LazyLock;

use super::explanation::{CHANGE, Explanation, ODD_FORM, density_of_nothing};
use super::forecast::LoadPrediction;
use super::gaussian::{DAY, JointGaussian, LEVEL, LIFTER_HABIT, Way};
use super::mixture::{self, Component};
use super::report::{Evidence, RESERVE_HELD_BACK, guessed_again, more_than_said, unrated_reserve};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::MOST_RESERVE;

/// Factor on the noise of a drop set, a superset and the like.
const OTHER_NOISE: f64 = 2.5;
/// Places along the way at which the likelihood is weighed, either side of the middle.
const PLACES: u8 = 30;
/// Places in all.
const WAY: usize = 2 * PLACES as usize + 1;
/// Distance between them, standard deviations.
const STEP: f64 = 0.2;

/// Repetitions really left after a set, as the belief has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reserve {
    /// Middle, at least 0.
    pub mean: f64,
    /// Probability of more than three left: too far from failure to count.
    pub too_far: f64,
}

/// The reserve that half the weight lies below: a small chance of a very easy set makes no easy one.
pub(super) fn middle_reserve(found: &[Explained]) -> f64 {
    let mut all: Vec<(f64, f64)> = found
        .iter()
        .map(|one| (one.found.reserve.mean, one.weight))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut sum = 0.0;
    let middle = all.iter().find(|(_, weight)| {
        sum += weight;
        sum >= 0.5
    });
    middle.or(all.last()).map_or(0.0, |(reserve, _)| *reserve)
}

/// What is found of a component when the set was `what`.
pub(super) struct Explained<'a> {
    pub(super) what: Explanation,
    component: &'a Component,
    /// How likely it is.
    pub(super) weight: f64,
    way: Way,
    pub(super) found: Found,
}

impl Explained<'_> {
    /// What the component becomes.
    fn component(&self) -> Component {
        let joint = match self.what {
            Explanation::Nothing => self.component.joint,
            what => widened(what, &self.component.joint).moved(
                &self.way,
                self.found.mean,
                self.found.variance,
            ),
        };
        Component {
            weight: self.weight,
            joint,
            easy: self.what == Explanation::Easy,
        }
    }
}

/// The components of what is likely enough to be kept.
pub(super) fn likely(found: &[Explained]) -> Vec<Component> {
    let most = found.iter().map(|one| one.weight).fold(0.0, f64::max);
    let kept = found
        .iter()
        .filter(|one| one.weight >= mixture::LEAST || one.weight >= most);
    kept.map(Explained::component).collect()
}

/// A component's Gaussian as it is where the set was `what`, before its repetitions are looked at.
fn widened(what: Explanation, joint: &JointGaussian) -> JointGaussian {
    match what {
        Explanation::OddDay => joint.wider(DAY, ODD_FORM * ODD_FORM),
        Explanation::Changed => joint.wider(LEVEL, CHANGE * CHANGE),
        Explanation::Meant | Explanation::Easy | Explanation::Nothing => *joint,
    }
}

/// `chance`: how likely it is of this component before its repetitions are looked at.
pub(super) fn explained<'a>(
    what: Explanation,
    (chance, component): (f64, &'a Component),
    (sight, failures_there): (&LoadPrediction, &Failures),
    look: impl Fn(&JointGaussian) -> LoadPrediction,
    (set, guesses): (&LoggedSet, u32),
) -> Explained<'a> {
    let reps = f64::from(set.reps);
    let habit = component.joint.lifter(LIFTER_HABIT);
    let meant = |sight: &LoadPrediction, failures: &Failures| {
        Found::weigh(sight, failures, evidence(set, guesses, sight, habit), reps)
    };
    let (way, found) = match what {
        Explanation::Meant => (sight.way, meant(sight, failures_there)),
        Explanation::Easy => {
            let floor = Evidence::AtLeast { reps };
            let found = Found::weigh(sight, failures_there, floor, reps);
            (sight.way, found)
        }
        Explanation::Nothing => {
            let total = reps + set.rated().map_or(0.0, Rir::reps);
            (sight.way, Found::of_nothing(sight, reps, total))
        }
        Explanation::Changed | Explanation::OddDay => {
            let sight = look(&widened(what, &component.joint));
            (sight.way, meant(&sight, &failures(&sight)))
        }
    };
    Explained {
        what,
        component,
        weight: chance * found.likelihood,
        way,
        found,
    }
}

/// Repetitions to failure at the places along the way.
pub(super) type Failures = [f64; WAY];

pub(super) fn failures(sight: &LoadPrediction) -> Failures {
    sight.failures(STEP)
}

/// How far along the way each place lies, standard deviations.
const WAY_AT: [f64; WAY] = {
    let mut way = [0.0; WAY];
    let mut place = 0;
    while place < WAY {
        way[place] = STEP * (place as f64 - PLACES as f64);
        place += 1;
    }
    way
};

/// The density there before the evidence, up to a constant.
static DENSITY_AT: LazyLock<[f64; WAY]> = LazyLock::new(|| WAY_AT.map(|s| (-0.5 * s * s).exp()));

/// The belief along the way after the evidence, from its weights at evenly spaced places.
pub(super) struct Found {
    /// Mean place, standard deviations from where it was.
    mean: f64,
    /// Variance of the place, at most 1.
    variance: f64,
    /// Mean repetitions to failure.
    pub(super) to_failure: f64,
    /// Mean squared distance of what was shown from what is now expected of it.
    pub(super) residual: f64,
    pub(super) reserve: Reserve,
    /// How likely the evidence was, a density over repetitions.
    likelihood: f64,
}

impl Found {
    /// What a set shows that says nothing.
    fn of_nothing(sight: &LoadPrediction, reps: f64, total: f64) -> Self {
        Self {
            mean: 0.0,
            variance: 1.0,
            to_failure: sight.to_failure.max(reps),
            residual: 0.0,
            reserve: Reserve {
                mean: (sight.to_failure - reps).max(0.0),
                too_far: f64::from(u8::from(sight.to_failure - reps > MOST_RESERVE + 0.5)),
            },
            likelihood: density_of_nothing(total, sight.shown_at(0.0)),
        }
    }

    fn weigh(sight: &LoadPrediction, failures: &Failures, evidence: Evidence, reps: f64) -> Self {
        let shown = match evidence {
            Evidence::Rated { total, .. } => total,
            Evidence::Unrated { reps, .. } | Evidence::AtLeast { reps } => reps,
            Evidence::Failed => 0.0,
        };
        let mut expected = *failures;
        if let Evidence::Rated { .. } = evidence {
            for (expected, s) in expected.iter_mut().zip(&WAY_AT) {
                *expected = sight.shown_of(*expected, *s);
            }
        }
        // Better places are never expected to show less, however the way may bend far out.
        let mut highest = f64::NEG_INFINITY;
        for expected in &mut expected {
            highest = highest.max(*expected);
            *expected = highest;
        }
        let mut weights = evidence.likelihoods(&expected);
        for (weight, density) in weights.iter_mut().zip(DENSITY_AT.iter()) {
            *weight *= density;
        }
        let mut sums = [0.0; 6];
        for (place, weight) in weights.iter().enumerate() {
            let (s, failure) = (WAY_AT[place], failures[place]);
            let left = failure - reps;
            let off = shown - expected[place];
            let terms = [
                1.0,
                s,
                s * s,
                failure,
                off * off,
                if left > MOST_RESERVE + 0.5 { 1.0 } else { 0.0 },
            ];
            for (sum, term) in sums.iter_mut().zip(terms) {
                *sum += weight * term;
            }
        }
        let [weight, first, second, failure, residual, too_far] = sums;
        let mean = first / weight;
        Self {
            mean,
            variance: (second / weight - mean * mean).clamp(1e-4, 1.0),
            to_failure: failure / weight,
            residual: residual / weight,
            reserve: Reserve {
                mean: (failure / weight - reps).max(0.0),
                too_far: too_far / weight,
            },
            likelihood: weight * STEP / std::f64::consts::TAU.sqrt(),
        }
    }
}

impl LoadPrediction {
    /// How far repetitions done plus left came out over what was expected, in standard deviations
    /// of the forecast.
    pub(super) fn surprise(&self, total: f64) -> f64 {
        let spread = f64::hypot(self.noise, self.doubt);
        ((total - self.shown_at(0.0)) / spread).clamp(-20.0, 20.0)
    }
}

/// The evidence of a set that was as hard as it was meant, or as it is said to have been, after so many
/// guesses of the reserve.
fn evidence(set: &LoggedSet, guesses: u32, sight: &LoadPrediction, habit: f64) -> Evidence {
    let reps = f64::from(set.reps);
    let noisier = match set.kind {
        SetKind::Straight | SetKind::WarmUp => 1.0,
        _ => OTHER_NOISE,
    };
    let sd = sight.noise * noisier;
    match set.rated() {
        _ if set.reps == 0 => Evidence::Failed,
        Some(rir) => Evidence::Rated {
            total: reps + rir.reps(),
            reps,
            sd: sd * guessed_again(rir.reps(), guesses),
            above: more_than_said(rir.reps()),
        },
        None => Evidence::Unrated {
            reps,
            reserve: match set.gave_out {
                Some(_) => RESERVE_HELD_BACK,
                None => unrated_reserve(set.asked.map(Rir::reps), habit),
            },
            sd,
        },
    }
}
