//! A member as a whole: how tired each muscle is, as of the last set, and the traits that all lifts
//! share: depth and pace of fatigue, habit of reporting, steepness of the curve, noise.
//!
//! What is particular to one lift is kept in [`super::belief`].

use chrono::{DateTime, Utc};

use super::catalogue::Exercise;
use super::codec::{Reader, Writer};
use super::id::MuscleId;
use super::joint::{LIFTER_CURVE, LIFTER_HABIT, LIFTER_SHAPE, TRAITS, Traits};
use super::priors::{PERSONAL, Population};
use super::recovery::{Deficit, Dose, SHAPES, Shape};

/// Version of the encoding.
const VERSION: u8 = 1;
/// Sets that the population's noise counts for.
const NOISE_WEIGHT: f64 = 12.0;
/// Share of the weight of the noise seen so far that survives a set: about 100 sets count.
const NOISE_MEMORY: f64 = 0.99;
/// One surprise counts at most as this many variances: a slip is not noise.
const NOISE_CAP: f64 = 9.0;

/// How tired a lift's muscles are: the share of fresh capacity that is missing, with its slopes by
/// the figures that shape fatigue.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Strain {
    /// Missing share, 0 to 1.
    pub total: f64,
    /// Its slopes.
    pub by: Shape,
}

/// What is held about a member beside single lifts. `Condition::default()` is fresh and unknown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Condition {
    /// End of the last set, milliseconds since 1970.
    at_ms: Option<i64>,
    traits: Option<Traits>,
    /// Weight of the noise seen, and its weighted sum of variances, in population variances.
    noise: Option<(f64, f64)>,
    /// By muscle number, ascending; what is not listed is fresh.
    muscles: Vec<(MuscleId, Deficit)>,
}

impl Condition {
    /// The row: version, time, traits, noise, muscles.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut row = Writer::new(VERSION);
        row.byte(u8::from(self.at_ms.is_some()));
        row.int(self.at_ms.unwrap_or_default());
        row.byte(u8::from(self.traits.is_some()));
        if let Some(traits) = &self.traits {
            row.reals(&traits.mean);
            row.reals(traits.cov.as_flattened());
        }
        row.byte(u8::from(self.noise.is_some()));
        let (weight, sum) = self.noise.unwrap_or_default();
        row.reals(&[weight, sum]);
        for (muscle, deficit) in &self.muscles {
            row.byte(muscle.0);
            row.reals(&[deficit.fast, deficit.slow, deficit.pace]);
            row.reals(&deficit.fast_by);
            row.reals(&deficit.slow_by);
        }
        row.finish()
    }

    /// The condition of a row; `None` when it is no such row.
    #[must_use]
    pub fn decode(row: &[u8]) -> Option<Self> {
        let mut row = Reader::new(VERSION, row)?;
        let known = row.byte()? == 1;
        let at_ms = Some(row.int()?).filter(|_| known);
        let traits = match row.byte()? {
            0 => None,
            _ => Some(read_traits(&mut row)?),
        };
        let known = row.byte()? == 1;
        let noise = Some((row.real()?, row.real()?)).filter(|_| known);
        let mut muscles = Vec::new();
        while !row.is_done() {
            let muscle = MuscleId(row.byte()?);
            muscles.push((muscle, read_deficit(&mut row)?));
        }
        Some(Self {
            at_ms,
            traits,
            noise,
            muscles,
        })
    }

    /// End of the last set of any lift, milliseconds since 1970; `None` before the first.
    #[must_use]
    pub const fn at_ms(&self) -> Option<i64> {
        self.at_ms
    }

    /// The traits, the population's where nothing was seen.
    #[must_use]
    pub fn traits(&self, population: &Population) -> Traits {
        self.traits.unwrap_or_else(|| population_traits(population))
    }

    /// Factor on the population's noise, as a standard deviation.
    #[must_use]
    pub fn noise(&self, population: &Population) -> f64 {
        let (weight, sum) = self.noise.unwrap_or_else(|| first_noise(population));
        (sum / weight).sqrt()
    }

    /// How tired the muscles of `exercise` are after `seconds` more of rest.
    ///
    /// ```text
    /// D = D(target) + ½ max(0, max over helpers h of D(h) − ½ D(target))
    /// ```
    ///
    /// A helper is tired by half of what the lift does to its target; only what other lifts did to
    /// it beyond that holds this lift back further, and by half.
    ///
    /// *Source*: the half is fractional counting (Pelland 2025, `weekly_sets.json`) taken over to
    /// fatigue; that earlier lifts for the same muscles cost repetitions: Simao 2005. The size is
    /// trade practice.
    #[must_use]
    pub fn strain(&self, exercise: &Exercise, seconds: f64) -> Strain {
        let target = self.deficit(exercise.target).rested(seconds);
        let own = Strain {
            total: target.total(),
            by: target.slopes(),
        };
        let excess = exercise
            .helpers
            .iter()
            .map(|&helper| helper_excess(&self.deficit(helper).rested(seconds), &own))
            .fold(
                Strain::default(),
                |a, b| if b.total > a.total { b } else { a },
            );
        Strain {
            total: own.total + 0.5 * excess.total,
            by: std::array::from_fn(|i| own.by[i] + 0.5 * excess.by[i]),
        }
    }

    fn deficit(&self, muscle: MuscleId) -> Deficit {
        self.muscles
            .iter()
            .find(|(id, _)| *id == muscle)
            .map(|(_, deficit)| *deficit)
            .unwrap_or_default()
    }

    /// Lets `seconds` pass for every muscle.
    pub(super) fn rest(&mut self, seconds: f64) {
        for (_, deficit) in &mut self.muscles {
            *deficit = deficit.rested(seconds);
        }
        self.muscles.retain(|(_, deficit)| !deficit.is_gone());
    }

    /// Lays changes of the figures, newly learned on `exercise`, on its muscles.
    pub(super) fn correct(&mut self, exercise: &Exercise, change: &Shape) {
        for (muscle, deficit) in &mut self.muscles {
            if exercise.involvement(*muscle) > 0.0 {
                *deficit = deficit.corrected(change);
            }
        }
    }

    /// Adds what a set took, ended at `at` after `seconds`, to the muscles of `exercise`; the
    /// others rested meanwhile. `shape`: this lifter's figures on this lift.
    pub(super) fn tire(
        &mut self,
        exercise: &Exercise,
        dose: &Dose,
        shape: &Shape,
        seconds: f64,
        at: DateTime<Utc>,
    ) {
        for (muscle, deficit) in &mut self.muscles {
            if exercise.involvement(*muscle) <= 0.0 {
                *deficit = deficit.rested(seconds);
            }
        }
        for (muscle, part) in exercise.muscles() {
            let tired = self.deficit(muscle).added(dose, part, shape);
            match self.muscles.iter_mut().find(|(id, _)| *id == muscle) {
                Some((_, deficit)) => *deficit = tired,
                None => self.muscles.push((muscle, tired)),
            }
        }
        self.muscles.retain(|(_, deficit)| !deficit.is_gone());
        self.muscles.sort_unstable_by_key(|(id, _)| *id);
        let at = at.timestamp_millis();
        self.at_ms = Some(self.at_ms.map_or(at, |before| before.max(at)));
    }

    /// Keeps what a set taught about the lifter: the traits, and how far, in population
    /// variances, the report was off (`None` where there was none).
    pub(super) fn keep(&mut self, traits: Traits, surprise: Option<f64>, population: &Population) {
        self.traits = Some(traits);
        let (weight, sum) = self.noise.unwrap_or_else(|| first_noise(population));
        self.noise = Some(match surprise {
            Some(variance) => (
                weight * NOISE_MEMORY + 1.0,
                sum * NOISE_MEMORY + variance.min(NOISE_CAP),
            ),
            None => (weight, sum),
        });
    }
}

/// What holds a lift back through a helper: its deficit beyond half of the target's.
fn helper_excess(helper: &Deficit, target: &Strain) -> Strain {
    let by = helper.slopes();
    let total = helper.total() - 0.5 * target.total;
    if total <= 0.0 {
        return Strain::default();
    }
    Strain {
        total,
        by: std::array::from_fn(|i| by[i] - 0.5 * target.by[i]),
    }
}

fn first_noise(population: &Population) -> (f64, f64) {
    let variance = population.noise * population.noise;
    (NOISE_WEIGHT, NOISE_WEIGHT * variance)
}

/// The population's traits: the personal part of the spreads, about nothing (the means by class
/// stand with the lifts), but for the habit.
fn population_traits(population: &Population) -> Traits {
    let mut traits = Traits {
        mean: [0.0; TRAITS],
        cov: [[0.0; TRAITS]; TRAITS],
    };
    let mut set = |trait_: usize, mean: f64, variance: f64| {
        traits.mean[trait_] = mean;
        traits.cov[trait_][trait_] = variance;
    };
    let personal = |spread: f64| PERSONAL * spread * spread;
    for (index, prior) in population.shape().into_iter().enumerate() {
        set(LIFTER_SHAPE + index, 0.0, personal(prior.spread));
    }
    set(LIFTER_CURVE, 0.0, personal(population.curve.spread));
    set(
        LIFTER_HABIT,
        population.habit.mean,
        population.habit.spread * population.habit.spread,
    );
    traits
}

fn read_traits(row: &mut Reader<'_>) -> Option<Traits> {
    let mut traits = Traits {
        mean: [0.0; TRAITS],
        cov: [[0.0; TRAITS]; TRAITS],
    };
    row.fill(&mut traits.mean)?;
    row.fill(traits.cov.as_flattened_mut())?;
    Some(traits)
}

fn read_deficit(row: &mut Reader<'_>) -> Option<Deficit> {
    let mut deficit = Deficit {
        fast: row.real()?,
        slow: row.real()?,
        pace: row.real()?,
        fast_by: [0.0; SHAPES],
        slow_by: [0.0; SHAPES],
    };
    row.fill(&mut deficit.fast_by)?;
    row.fill(&mut deficit.slow_by)?;
    Some(deficit)
}
