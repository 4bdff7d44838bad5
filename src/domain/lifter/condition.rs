//! A member as a whole: how tired each muscle is, as of the last set, and the traits that all lifts
//! share: depth and pace of fatigue, habit of reporting, steepness of the curve, noise.
//!
//! What is particular to one lift is kept in [`super::belief`].

use chrono::{DateTime, Utc};

use super::codec::{Reader, Writer};
use super::day_effect::{DayEffect, DayEvidence};
use super::gaussian::{LIFTER_CURVE, LIFTER_HABIT, LIFTER_SHAPE, TRAITS, Traits};
use super::recovery::{Deficit, Dose, Shape, Strain};
use super::related::Strengths;
use crate::domain::quantities::calendar::seconds_between;
use crate::domain::quantities::catalogue::{Catalogue, Exercise};
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::priors::{PERSONAL, Population, SHAPES};

/// Version of the encoding; it goes up with that of the beliefs, which are then learned anew.
const VERSION: u8 = 13;
/// Sets that the population's noise and width count for.
const FIRST_WEIGHT: f64 = 12.0;
/// Share of the weight of what was seen so far that survives a set: about 100 sets count.
const MEMORY: f64 = 0.99;
/// One set counts at most as this many variances: a slip is not noise.
const CAP: f64 = 9.0;
/// Sets that answering just as asked counts for.
const ANSWER_WEIGHT: f64 = 4.0;
/// One report counts at most as this far from what was asked, repetitions: who stops far too early
/// is told so by the forecast, not met.
const MOST_ANSWER: f64 = 1.5;
/// A time without training that is longer is time away, milliseconds: two weeks from an evening to an afternoon. What it
/// costs is [`super::loss::loss`].
const AWAY_MS: i64 = 27 * 43_200_000;
/// Forecasts are never drawn narrower or wider than by these factors.
const WIDTH: (f64, f64) = (0.6, 1.5);

/// What is held about a member beside single lifts. `Condition::default()` is fresh and unknown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Condition {
    /// End of the last set, milliseconds since 1970.
    at_ms: Option<i64>,
    /// The last time without any training that was long enough to cost strength: begin and end,
    /// milliseconds since 1970.
    away: Option<(i64, i64)>,
    /// What today's lifts have told of the form of the day.
    form: DayEffect,
    traits: Option<Traits>,
    scales: Option<Scales>,
    strengths: Strengths,
    /// By muscle number, ascending; what is not listed is fresh.
    muscles: Vec<(MuscleId, Deficit)>,
}

impl Condition {
    /// The row: version, time, traits, scales, strengths, muscles.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut row = Writer::new(VERSION);
        row.byte(u8::from(self.at_ms.is_some()));
        row.int(self.at_ms.unwrap_or_default());
        row.byte(u8::from(self.away.is_some()));
        let (left, back) = self.away.unwrap_or_default();
        row.int(left);
        row.int(back);
        self.form.write(&mut row);
        row.byte(u8::from(self.traits.is_some()));
        if let Some(traits) = &self.traits {
            row.reals(&traits.mean);
            row.reals(traits.cov.as_flattened());
        }
        row.byte(u8::from(self.scales.is_some()));
        if let Some(scales) = self.scales {
            for running in [scales.noise, scales.width, scales.answer] {
                row.reals(&[running.weight, running.sum]);
            }
        }
        self.strengths.write(&mut row);
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
        let was_away = row.byte()? == 1;
        let away = Some((row.int()?, row.int()?)).filter(|_| was_away);
        let form = DayEffect::read(&mut row)?;
        let traits = match row.byte()? {
            0 => None,
            _ => Some(read_traits(&mut row)?),
        };
        let scales = match row.byte()? {
            0 => None,
            _ => Some(read_scales(&mut row)?),
        };
        let strengths = Strengths::read(&mut row)?;
        let mut muscles = Vec::new();
        while !row.is_done() {
            let muscle = MuscleId(row.byte()?);
            muscles.push((muscle, read_deficit(&mut row)?));
        }
        Some(Self {
            at_ms,
            away,
            form,
            traits,
            scales,
            strengths,
            muscles,
        })
    }

    /// What strength on a related lift lets expect of `exercise`: the log of the maximum, kilograms
    /// moved, and its spread; `None` where no lift of its class for its target muscle is known.
    #[must_use]
    pub fn expected_strength(&self, exercise: &Exercise) -> Option<(f64, f64)> {
        self.strengths.of(exercise)
    }

    /// The same by a lift of its class for another muscle, to choose a first load by.
    pub(crate) fn strength_beside(
        &self,
        exercise: &Exercise,
        catalogue: &Catalogue,
    ) -> Option<(f64, f64)> {
        self.strengths.beside(exercise, catalogue)
    }

    /// The log of the maximum, kilograms moved, of a lift that `exercise` does not exceed by much, and its
    /// spread; `None` where no such lift is known.
    #[must_use]
    pub fn strength_over(&self, exercise: &Exercise, catalogue: &Catalogue) -> Option<(f64, f64)> {
        self.strengths.over(exercise, catalogue)
    }

    /// Notes the log of the maximum on `exercise`, kilograms moved, and its spread.
    pub(crate) fn note_strength(&mut self, exercise: &Exercise, (log, spread): (f64, f64)) {
        self.strengths.note(exercise, log, spread);
    }

    /// End of the last set of any lift, milliseconds since 1970; `None` before the first.
    #[must_use]
    pub const fn at_ms(&self) -> Option<i64> {
        self.at_ms
    }

    /// Days of the time between two instants, milliseconds since 1970, in which nothing was trained
    /// for two weeks or more.
    #[must_use]
    pub(crate) fn away_days(&self, from_ms: i64, to_ms: i64) -> f64 {
        let shared = |(left, back): (i64, i64)| {
            let overlap = back.min(to_ms).saturating_sub(left.max(from_ms));
            overlap.max(0)
        };
        let now = self.at_ms.map(|at| (at, to_ms));
        let now = now.filter(|&(left, back)| is_away(left, back));
        let days = |ms: i64| seconds_between(0, ms) / 86_400.0;
        // What ended with the last set and what goes on now are never the same.
        days(self.away.map_or(0, shared)) + days(now.map_or(0, shared))
    }

    /// Notes that training goes on at `at_ms`.
    pub(crate) fn note_return(&mut self, at_ms: i64) {
        let gap = self.at_ms.map(|before| (before, at_ms));
        self.away = gap
            .filter(|&(left, back)| is_away(left, back))
            .or(self.away);
    }

    /// The form to expect of a lift that was not done yet on the day of `at_ms`; see [`DayEffect::expected`].
    pub(crate) fn form(&self, at_ms: i64, usual: f64) -> (f64, f64) {
        self.form.expected(at_ms, usual)
    }

    /// Notes what a lift now tells of the form of the day, in place of what it told before.
    pub(crate) fn note_form(&mut self, at_ms: i64, now: DayEvidence, before: DayEvidence) {
        self.form = self.form.with(at_ms, now, before);
    }

    /// The traits, the population's where nothing was seen.
    #[must_use]
    pub fn traits(&self, population: &Population) -> Traits {
        self.traits.unwrap_or_else(|| population_traits(population))
    }

    /// Factor on the population's noise, as a standard deviation.
    #[must_use]
    pub fn noise(&self, population: &Population) -> f64 {
        self.scales
            .map_or(population.noise, |scales| scales.noise.mean().sqrt())
    }

    /// Factor on the spread of forecasts.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.scales.map_or(1.0, |scales| {
            scales.width.mean().sqrt().clamp(WIDTH.0, WIDTH.1)
        })
    }

    /// Repetitions in reserve that the member reports over and above those asked for, on average of
    /// the last sets: those who say the same number whatever they feel are met on their own scale.
    #[must_use]
    pub fn answer(&self) -> f64 {
        self.scales.map_or(0.0, |scales| scales.answer.mean())
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
    /// *Source*: the half is fractional counting (Pelland 2025) taken over to
    /// fatigue; that earlier lifts for the same muscles cost repetitions: Simao 2005. The size is
    /// trade practice.
    #[must_use]
    pub fn strain(&self, exercise: &Exercise, seconds: f64) -> Strain {
        let Some(target) = exercise.target else {
            return Strain::default();
        };
        let target = self.deficit(target).rested(seconds);
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
    pub(crate) fn rest(&mut self, seconds: f64) {
        for (_, deficit) in &mut self.muscles {
            *deficit = deficit.rested(seconds);
        }
        self.muscles.retain(|(_, deficit)| !deficit.is_gone());
    }

    /// Lays changes of the figures, newly learned on `exercise`, on its muscles.
    pub(crate) fn correct(&mut self, exercise: &Exercise, change: &Shape) {
        for (muscle, deficit) in &mut self.muscles {
            if exercise.involvement(*muscle) > 0.0 {
                *deficit = deficit.corrected(change);
            }
        }
    }

    /// Adds what a set took, ended at `at` after `seconds`, to the muscles of `exercise`; the
    /// others rested meanwhile. `shape`: this lifter's figures on this lift.
    pub(crate) fn tire(
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

    /// Keeps what a set taught about the lifter: the traits, and how far it came out off.
    ///
    /// ```text
    /// λ² ← mean of residuals, in population variances     what a set shows about capacity
    /// κ² ← mean of squared surprises, in forecast variances     how far forecasts miss
    /// ```
    ///
    /// both over about the last 100 sets, with the population standing in for the first dozen, and
    /// each term at most nine times the mean. λ says how much a set is heeded, κ how wide forecasts
    /// are drawn: a body that does not follow the model misses wider, and should not for that be
    /// heeded less. The answer to what was asked is learned alongside.
    pub(crate) fn keep(&mut self, traits: Traits, miss: &Miss, population: &Population) {
        self.traits = Some(traits);
        let mut scales = self.scales.unwrap_or_else(|| Scales::of(population));
        if let Some(residual) = miss.residual {
            scales.noise.take(residual.min(CAP));
        }
        if let Some(surprise) = miss.surprise {
            scales.width.take(surprise.min(CAP));
        }
        if let Some(answer) = miss.answer {
            scales.answer.take(answer.clamp(-MOST_ANSWER, MOST_ANSWER));
        }
        self.scales = Some(scales);
    }
}

/// Whether it is long enough to cost strength.
fn is_away(left_ms: i64, back_ms: i64) -> bool {
    back_ms.saturating_sub(left_ms) > AWAY_MS
}

/// How far a set came out off what the belief made of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Miss {
    /// Squared distance of a report from what is expected after it, in population variances.
    pub(crate) residual: Option<f64>,
    /// Squared distance from what was forecast, in forecast variances.
    pub(crate) surprise: Option<f64>,
    /// Reported left beyond what was asked for, where something was.
    pub(crate) answer: Option<f64>,
}

/// A mean that forgets: a weight and a weighted sum.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Running {
    weight: f64,
    sum: f64,
}

impl Running {
    const fn from(mean: f64, weight: f64) -> Self {
        Self {
            weight,
            sum: mean * weight,
        }
    }

    fn mean(self) -> f64 {
        self.sum / self.weight
    }

    fn take(&mut self, value: f64) {
        self.weight = self.weight * MEMORY + 1.0;
        self.sum = self.sum * MEMORY + value;
    }
}

/// The noise of a lifter and the width of forecasts about him, as squares of λ and κ, and how his
/// reports answer what was asked, repetitions.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Scales {
    noise: Running,
    width: Running,
    answer: Running,
}

impl Scales {
    fn of(population: &Population) -> Self {
        Self {
            noise: Running::from(population.noise * population.noise, FIRST_WEIGHT),
            width: Running::from(1.0, FIRST_WEIGHT),
            answer: Running::from(0.0, ANSWER_WEIGHT),
        }
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

fn read_scales(row: &mut Reader<'_>) -> Option<Scales> {
    let mut running = || {
        Some(Running {
            weight: row.real()?,
            sum: row.real()?,
        })
    };
    Some(Scales {
        noise: running()?,
        width: running()?,
        answer: running()?,
    })
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
