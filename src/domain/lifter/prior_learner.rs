//! Population figures from the logs of many members.
//!
//! No single member can be made out in a figure: it is taken from at least [`FEWEST`] members, each held
//! to so many published spreads about the published mean, and rounded.
//!
//! ```text
//! mean ← mean over members of mᵢ      spread² ← mean over members of vᵢ + (mᵢ − mean)²
//! ```
//!
//! with each member's figure known as mᵢ ± √vᵢ. *Source*: one step of expectation and maximization for a
//! normal prior, Dempster AP, Laird NM, Rubin DB 1977, J R Stat Soc B 39:1-38, from memory.

use std::collections::BTreeMap;

use super::gaussian::{CURVE, LIFTER_HABIT, SHAPE, TREND};
use super::model::{Lifter, Model};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::learned_priors::{FURTHEST, Figure, Group, Learned, LearnedPriors};
use crate::domain::quantities::lift_class::LiftClass;

/// No figure is taken from fewer members.
pub const FEWEST: usize = 20;
/// Work sets of a lift after which its figures are known well enough to be counted.
const SETTLED: usize = 20;
/// A spread is never learned to be under this share of the published one.
const LEAST_SPREAD: f64 = 0.3;

/// A figure of one group, by the group's words.
type Of = (Figure, (&'static str, &'static str));

/// What the logs of members add up to: only sums, nothing of anybody.
#[derive(Clone, Debug, Default)]
pub struct Learner {
    /// By figure and group: members, and sums of means, of their squares, and of variances.
    sums: BTreeMap<Of, (usize, [f64; 3])>,
}

impl Learner {
    /// Takes in one member's whole log, in order. `lifter` holds the figures it is learned with.
    pub fn take(&mut self, log: &[LoggedSet], lifter: &Lifter<'_>) {
        for (figure, group, mean, variance) in figures_of(log, lifter) {
            let mut published = group.published();
            let prior = *figure.of(&mut published);
            let furthest = FURTHEST * prior.spread;
            let mean = mean.clamp(prior.mean - furthest, prior.mean + furthest);
            let variance = variance.clamp(0.0, prior.spread * prior.spread);
            let (members, sums) = self.sums.entry((figure, group.words())).or_default();
            *members += 1;
            let terms = [mean, mean * mean, variance];
            sums.iter_mut()
                .zip(terms)
                .for_each(|(sum, term)| *sum += term);
        }
    }

    /// What was learned, of figures with at least `least` members, and never fewer than [`FEWEST`].
    #[must_use]
    pub fn learned(&self, least: usize) -> LearnedPriors {
        let mut learned = Vec::new();
        for figure in Figure::ALL {
            for group in Group::with(figure) {
                let sums = self.sums.get(&(figure, group.words()));
                let Some((members, [mean, square, variance])) =
                    sums.filter(|(members, _)| *members >= least.max(FEWEST))
                else {
                    continue;
                };
                #[expect(clippy::cast_precision_loss, reason = "members are far under 2^53")]
                let n = *members as f64;
                let mean = mean / n;
                let between = (square / n - mean * mean).max(0.0);
                let mut published = group.published();
                let least = LEAST_SPREAD * figure.of(&mut published).spread;
                let step = figure.rounded_to();
                let rounded = |value: f64| (value / step).round() * step;
                learned.push(Learned {
                    figure,
                    group,
                    mean: rounded(mean),
                    spread: rounded((between + variance / n).sqrt())
                        .max(least)
                        .max(step),
                });
            }
        }
        LearnedPriors::new(learned)
    }
}

/// A member's figures: each a mean and a variance.
fn figures_of(log: &[LoggedSet], lifter: &Lifter<'_>) -> Vec<(Figure, Group, f64, f64)> {
    let mut model = Model::default();
    // By exercise: work sets so far, and the log of the first one's load.
    let mut begun: BTreeMap<ExerciseId, (usize, f64)> = BTreeMap::new();
    let mut picked: BTreeMap<ExerciseId, (f64, f64)> = BTreeMap::new();
    for set in log {
        model.learn(set, lifter);
        if set.kind != SetKind::Straight {
            continue;
        }
        let exercise = lifter.catalogue.exercise(set.exercise);
        let moved = set.load.moved(exercise, lifter.body_mass).in_kg().ln();
        let (sets, first) = begun.entry(set.exercise).or_insert((0, moved));
        *sets += 1;
        if *sets == SETTLED
            && let Some(belief) = model.beliefs.get(&set.exercise)
        {
            let (level, spread) = belief.log_one_rm();
            picked.insert(set.exercise, (level - *first, spread * spread));
        }
    }
    let mut all = Vec::new();
    for class in LiftClass::ALL {
        let of_class = |id: &ExerciseId| lifter.catalogue.exercise(*id).class == class;
        let settled: Vec<ExerciseId> = picked.keys().copied().filter(of_class).collect();
        let lifts: Vec<_> = settled
            .iter()
            .filter_map(|id| {
                let population = lifter.population(lifter.catalogue.exercise(*id));
                let outlook = model
                    .beliefs
                    .get(id)?
                    .outlook(&model.condition, &population);
                Some((picked.get(id)?, outlook.blended()))
            })
            .collect();
        let mut note = |figure, of: &dyn Fn(usize) -> (f64, f64)| {
            let all_of_it = (0..lifts.len()).map(of);
            if let Some((mean, variance)) = mean_of(all_of_it) {
                all.push((figure, Group::Class(class), mean, variance));
            }
        };
        note(Figure::Picked, &|n| *lifts[n].0);
        let own =
            |n: usize, figure: usize| (lifts[n].1.own(figure), lifts[n].1.own_variance(figure));
        note(Figure::Curve, &|n| own(n, CURVE));
        let shapes = [Figure::Depth, Figure::Pace, Figure::Share, Figure::Power];
        for (index, figure) in shapes.into_iter().enumerate() {
            note(figure, &|n| own(n, SHAPE + index));
        }
    }
    if let Some(id) = picked.keys().next() {
        let group = Group::Status(lifter.status);
        let population = lifter.population(lifter.catalogue.exercise(*id));
        let traits = model.condition.traits(&population);
        let habit = (
            traits.mean[LIFTER_HABIT],
            traits.cov[LIFTER_HABIT][LIFTER_HABIT],
        );
        all.push((Figure::Habit, group, habit.0, habit.1));
        let trends = picked.keys().filter_map(|id| {
            let outlook = model
                .beliefs
                .get(id)?
                .outlook(&model.condition, &population);
            let joint = outlook.blended();
            Some((joint.own(TREND), joint.own_variance(TREND)))
        });
        if let Some((mean, variance)) = mean_of(trends) {
            all.push((Figure::Trend, group, mean, variance));
        }
    }
    all
}

/// Means of means and of variances; `None` of nothing.
fn mean_of(all: impl Iterator<Item = (f64, f64)>) -> Option<(f64, f64)> {
    let (count, mean, variance) = all.fold((0.0, 0.0, 0.0), |(n, mean, variance), (m, v)| {
        (n + 1.0, mean + m, variance + v)
    });
    (count > 0.0).then(|| (mean / count, variance / count))
}
