//! What is held about one member on one exercise: capacity, its trend and the day's form, the
//! curve, how much a set takes out and how fast it comes back, each with its uncertainty.
//!
//! How a set moves it is told in [`super::model`]; what it says of the next set in
//! [`super::forecast`]. What all lifts share is kept in [`super::condition`].

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use super::catalogue::Basis;
use super::codec::{Reader, Writer};
use super::condition::Condition;
use super::forecast::Outlook;
use super::joint::{
    CURVE, DAY, Given, Joint, LEVEL, LIFTER_CURVE, LIFTER_SHAPE, OWN, SHAPE, TRAITS, TREND,
};
use super::line::{Fit, Line};
use super::log::LoggedSet;
use super::priors::{PERSONAL, Population, Prior};

/// A set of fewer repetitions shows no load to work with (design: five to thirty).
const FEWEST_THAT_COUNT: u32 = 5;
/// Version of the encoding.
const VERSION: u8 = 4;
const MS_A_DAY: f64 = 86_400_000.0;
const DAYS_A_WEEK: f64 = 7.0;
/// Variance that the level gains a day, about 1 % in four days. Trade practice, no source.
const DRIFT_A_DAY: f64 = 0.004 * 0.004;
/// After this many days without the lift the trend no longer carries on. Trade practice.
const TREND_DAYS: f64 = 14.0;
/// Variance that the level gains for each day beyond that: some lose, some keep.
const BREAK_A_DAY: f64 = 0.008 * 0.008;
/// Most variance that time alone adds at once.
const BREAK_MOST: f64 = 0.2 * 0.2;
/// The trend forgets with this time constant, days.
const TREND_MEMORY_DAYS: f64 = 60.0;
/// Variance that the day's form gains from set to set.
const FORM_A_SET: f64 = 0.006 * 0.006;
/// Days that the population's wobble counts for.
const WOBBLE_WEIGHT: f64 = 6.0;
/// Share of the weight of the wobble seen that survives a day.
const WOBBLE_MEMORY: f64 = 0.98;

/// Days after which a day's capacity has lost 63 % of its weight in the course of things.
const COURSE_DAYS: f64 = 42.0;
/// So many first days count only by this share: what changes then is the knowledge of the lifter.
const GETTING_TO_KNOW: (u32, f64) = (3, 0.25);
/// Share of the weight of earlier days' deviations, and of earlier sets' surprises, that survives
/// the next: the last three days or so count, and the last five sets.
const LATELY: (f64, f64) = (0.6, 0.8);

/// How it went of late, kept for [`super::progress`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Lately {
    /// Day of the first set ever, days from the common era.
    first_day: i32,
    /// Days with work sets that are over.
    days: u32,
    /// Log of the maximum on the days that are over, less the first day's, the day's form included.
    line: Line,
    /// Where the line counts from, log.
    origin: f64,
    /// Weight of the last days' deviations from the line before them, and their weighted sum.
    form: (f64, f64),
    /// Weight of the surprises, and their weighted sum.
    surprise: (f64, f64),
}

impl Lately {
    /// With a day that is over: `gap` days after the one before, with this log of the maximum.
    fn with_day(self, gap: f64, capacity: f64) -> Self {
        let origin = if self.days == 0 {
            capacity
        } else {
            self.origin
        };
        let value = capacity - origin;
        let (first, share) = GETTING_TO_KNOW;
        let weight = if self.days < first { share } else { 1.0 };
        let kept = LATELY.0;
        let form = match self.line.fit().filter(|_| self.days >= 3) {
            None => self.form,
            Some(fit) => {
                let off = value - fit.level - fit.slope * gap;
                (self.form.0 * kept + 1.0, self.form.1 * kept + off)
            }
        };
        Self {
            days: self.days.saturating_add(1),
            line: self
                .line
                .with(gap, value, weight, (-gap / COURSE_DAYS).exp()),
            origin,
            form,
            ..self
        }
    }

    /// With the surprise of a rated set.
    fn with_surprise(self, surprise: f64) -> Self {
        let (weight, sum) = self.surprise;
        let kept = LATELY.1;
        Self {
            surprise: (weight * kept + 1.0, sum * kept + surprise),
            ..self
        }
    }

    /// The line through the days, times in days.
    pub(super) fn fit(&self) -> Option<Fit> {
        self.line.fit()
    }

    /// Mean deviation of the last days from the line before them, log, and its weight in days.
    pub(super) fn form(&self) -> (f64, f64) {
        let (weight, sum) = self.form;
        (sum / weight.max(1.0), weight)
    }

    /// Mean surprise of the last rated sets, standard deviations of their forecasts.
    pub(super) fn surprise(&self) -> f64 {
        self.surprise.1 / self.surprise.0.max(1.0)
    }

    /// Days with work sets.
    pub(super) const fn days(&self) -> u32 {
        self.days
    }
}

/// What is held about one member on one exercise.
///
/// Made by [`super::model::Model::learn`]; kept as a row of under 1 kB.
#[derive(Clone, Debug, PartialEq)]
pub struct Belief {
    given: Given,
    /// End of the last set, milliseconds since 1970.
    at_ms: i64,
    /// Day of the last set, and of the last one before that, days from the common era.
    day: i32,
    last_over: i32,
    /// Weight of the days' forms seen, and their weighted sum of squares.
    wobble: (f64, f64),
    /// Heaviest load ever moved for a repetition or more, kilograms moved.
    heaviest_kg: f64,
    /// Heaviest load ever moved for a set of as many repetitions as count, kilograms moved.
    worked_kg: f64,
    /// Basis of the last work set.
    basis: Basis,
    /// Repetitions done plus left of the last rated set beyond the expected ones, in standard
    /// deviations.
    surprise: f64,
    /// Log of the one-repetition maximum, kilograms moved, after the last set, with its spread.
    log_one_rm: (f64, f64),
    /// Work sets learned from.
    sets: u32,
    lately: Lately,
}

impl Belief {
    /// The population's belief about a lift on which `first` is the first work set: lifters pick
    /// loads that they can lift some times, which says where the capacity may lie, and so does
    /// `related`, the log of the maximum that a related lift lets expect, with its spread.
    #[must_use]
    pub(super) fn new(
        first: &LoggedSet,
        kg: f64,
        related: Option<(f64, f64)>,
        population: &Population,
    ) -> Self {
        let picked = (kg.ln() + population.picked.mean, population.picked.spread);
        let level = related.map_or(picked, |related| both(picked, related));
        Self {
            heaviest_kg: kg,
            worked_kg: kg,
            basis: first.load.basis,
            ..Self::at_level(level, first.at, first.day, population)
        }
    }

    /// The belief about a lift never done, from what a related lift lets expect of its maximum.
    #[must_use]
    pub(super) fn foreseen(
        related: (f64, f64),
        basis: Basis,
        at: DateTime<Utc>,
        day: NaiveDate,
        population: &Population,
    ) -> Self {
        let likely = (related.0 - population.picked.mean).exp();
        Self {
            worked_kg: likely,
            basis,
            ..Self::at_level(related, at, day, population)
        }
    }

    /// The population's belief about a lift at this level, a mean and its spread.
    fn at_level(
        (mean, spread): (f64, f64),
        at: DateTime<Utc>,
        day: NaiveDate,
        population: &Population,
    ) -> Self {
        let mut given = Given {
            base: [0.0; OWN],
            weight: [[0.0; TRAITS]; OWN],
            cov: [[0.0; OWN]; OWN],
        };
        given.reset(LEVEL, mean, square(spread));
        given.reset(
            TREND,
            population.trend.mean,
            square(population.trend.spread),
        );
        let mut shared = |figure: usize, prior: &Prior, lifter: usize| {
            given.reset(figure, prior.mean, (1.0 - PERSONAL) * square(prior.spread));
            given.weight[figure][lifter] = 1.0;
        };
        shared(CURVE, &population.curve, LIFTER_CURVE);
        for (index, prior) in population.shape().iter().enumerate() {
            shared(SHAPE + index, prior, LIFTER_SHAPE + index);
        }
        let wobble = (
            WOBBLE_WEIGHT,
            WOBBLE_WEIGHT * square(population.wobble.spread),
        );
        given.reset(DAY, 0.0, wobble.1 / wobble.0);
        Self {
            given,
            at_ms: at.timestamp_millis(),
            day: day.num_days_from_ce(),
            last_over: day.num_days_from_ce(),
            wobble,
            heaviest_kg: 0.0,
            worked_kg: 0.0,
            basis: Basis::Total,
            surprise: 0.0,
            log_one_rm: (0.0, 0.0),
            sets: 0,
            lately: Lately {
                first_day: day.num_days_from_ce(),
                ..Lately::default()
            },
        }
    }

    /// The belief as it stands at `at` on `day`: the level drifted, the trend carried on, and a
    /// new day's form unknown.
    ///
    /// ```text
    /// level ← level + trend · min(days, 14)/7
    /// var(level) ← var(level) + 0.004² days + 0.008² (days beyond 14), at most 0.2² more
    /// trend ← mean + (trend − mean) e^(−days/60)
    /// form ← 0 ± wobble on a new day
    /// ```
    ///
    /// *Valid for*: gaps of any length; a time before the last set changes nothing.
    /// *Source*: local linear trend (Durbin & Koopman 2012); the sizes are trade
    /// practice.
    #[must_use]
    pub(super) fn advanced(
        &self,
        at: DateTime<Utc>,
        day: NaiveDate,
        condition: &Condition,
        population: &Population,
    ) -> Self {
        let mut next = self.clone();
        let days = days_between(self.at_ms, at.timestamp_millis());
        next.given
            .flow(TREND, LEVEL, days.min(TREND_DAYS) / DAYS_A_WEEK);
        let beyond = (days - TREND_DAYS).max(0.0);
        let drift = DRIFT_A_DAY * days + BREAK_A_DAY * beyond;
        next.given.widen(LEVEL, drift.min(BREAK_MOST));
        let kept = (-days / TREND_MEMORY_DAYS).exp();
        next.given.shrink(TREND, population.trend.mean, kept);
        let loss = 1.0 - kept * kept;
        next.given
            .widen(TREND, loss * square(population.trend.spread));
        let day = day.num_days_from_ce();
        if day > self.day {
            let joint = self.given.joined(&condition.traits(population));
            let (form, variance) = (joint.own(DAY), joint.own_variance(DAY));
            let seen = square(form) + variance;
            next.lately = self.with_today(&joint);
            next.wobble = (
                self.wobble.0 * WOBBLE_MEMORY + 1.0,
                self.wobble.1 * WOBBLE_MEMORY + seen,
            );
            next.given.reset(DAY, 0.0, next.wobble.1 / next.wobble.0);
            next.last_over = self.day;
            next.day = day;
        } else {
            next.given.widen(DAY, FORM_A_SET);
        }
        next.at_ms = self.at_ms.max(at.timestamp_millis());
        next
    }

    /// Takes on what was learned, from the lift and the lifter together.
    pub(super) fn take(&mut self, given: Given, joint: &Joint) {
        self.given = given;
        self.log_one_rm = (
            joint.own(LEVEL).clamp(-10.0, 15.0),
            joint.own_variance(LEVEL).max(0.0).sqrt(),
        );
    }

    /// Notes what was lifted in a work set.
    pub(super) fn note(&mut self, set: &LoggedSet, kg: f64) {
        if set.reps >= FEWEST_THAT_COUNT {
            self.worked_kg = self.worked_kg.max(kg);
        }
        self.heaviest_kg = self.heaviest_kg.max(kg);
        self.basis = set.load.basis;
        self.sets = self.sets.saturating_add(1);
    }

    /// What is held about the lift and the lifter together, ready for questions.
    #[must_use]
    pub fn outlook(&self, condition: &Condition, population: &Population) -> Outlook {
        Outlook {
            joint: self.joint(condition, population),
            noise: condition.noise(population),
            width: condition.width(),
            answer: condition.answer(),
        }
    }

    /// The lift and the lifter together.
    #[must_use]
    pub(super) fn joint(&self, condition: &Condition, population: &Population) -> Joint {
        self.given.joined(&condition.traits(population))
    }

    /// One-repetition maximum after the last set, kilograms moved, the day's form left out, with
    /// the standard deviation of its logarithm (about a share).
    #[must_use]
    pub fn one_rm(&self) -> (f64, f64) {
        (self.log_one_rm.0.exp(), self.log_one_rm.1)
    }

    /// The log of [`Belief::one_rm`], and its spread.
    #[must_use]
    pub(super) const fn log_one_rm(&self) -> (f64, f64) {
        self.log_one_rm
    }

    /// Change of the log of the one-repetition maximum a week, and its standard deviation.
    #[must_use]
    pub fn trend(&self, condition: &Condition, population: &Population) -> (f64, f64) {
        let joint = self.joint(condition, population);
        (joint.own(TREND), joint.own_variance(TREND).max(0.0).sqrt())
    }

    /// How it went of late, the last day included.
    pub(super) fn lately(&self, condition: &Condition, population: &Population) -> Lately {
        self.with_today(&self.joint(condition, population))
    }

    fn with_today(&self, joint: &Joint) -> Lately {
        let gap = f64::from(self.day.saturating_sub(self.last_over).max(0));
        self.lately.with_day(gap, joint.own(LEVEL) + joint.own(DAY))
    }

    /// Days from the first day of the lift to the last.
    pub(super) const fn span_days(&self) -> i32 {
        self.day.saturating_sub(self.lately.first_day)
    }

    /// Nothing was said of the last set, so nothing surprises.
    pub(super) const fn unsurprised(&mut self) {
        self.surprise = 0.0;
    }

    /// Keeps the surprise of a rated set.
    pub(super) fn surprised(&mut self, surprise: f64) {
        self.surprise = surprise;
        self.lately = self.lately.with_surprise(surprise);
    }

    /// Heaviest load ever moved for a repetition or more, kilograms moved.
    #[must_use]
    pub const fn heaviest_kg(&self) -> f64 {
        self.heaviest_kg
    }

    /// Heaviest load ever moved for five repetitions or more, kilograms moved; before there was such
    /// a set, that of the first one.
    #[must_use]
    pub const fn worked_kg(&self) -> f64 {
        self.worked_kg
    }

    /// Basis of the last work set.
    #[must_use]
    pub const fn basis(&self) -> Basis {
        self.basis
    }

    /// Work sets learned from.
    #[must_use]
    pub const fn sets(&self) -> u32 {
        self.sets
    }

    /// How far the last rated set came out over (or, negative, under) what was expected, in
    /// standard deviations of the forecast.
    #[must_use]
    pub const fn surprise(&self) -> f64 {
        self.surprise
    }

    /// The row: version, times, counts, then every number of the belief.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut row = Writer::new(VERSION);
        row.int(self.at_ms);
        row.int(i64::from(self.day));
        row.int(i64::from(self.sets));
        row.byte(basis_code(self.basis));
        row.int(i64::from(self.last_over));
        row.int(i64::from(self.lately.first_day));
        row.int(i64::from(self.lately.days));
        row.reals(&self.lately.line.sums());
        let (form, surprise) = (self.lately.form, self.lately.surprise);
        row.reals(&[self.lately.origin, form.0, form.1, surprise.0, surprise.1]);
        row.reals(&[
            self.wobble.0,
            self.wobble.1,
            self.heaviest_kg,
            self.worked_kg,
            self.surprise,
            self.log_one_rm.0,
            self.log_one_rm.1,
        ]);
        row.reals(&self.given.base);
        row.reals(self.given.weight.as_flattened());
        for (i, line) in self.given.cov.iter().enumerate() {
            row.reals(line.iter().take(i + 1));
        }
        row.finish()
    }

    /// The belief of a row; `None` when it is no such row.
    #[must_use]
    pub fn decode(row: &[u8]) -> Option<Self> {
        let mut row = Reader::new(VERSION, row)?;
        let at_ms = row.int()?;
        let day = i32::try_from(row.int()?).ok()?;
        let sets = u32::try_from(row.int()?).ok()?;
        let basis = basis_of(row.byte()?)?;
        let last_over = i32::try_from(row.int()?).ok()?;
        let first_day = i32::try_from(row.int()?).ok()?;
        let days = u32::try_from(row.int()?).ok()?;
        let mut sums = [0.0; 6];
        row.fill(&mut sums)?;
        let lately = Lately {
            first_day,
            days,
            line: Line::of(sums),
            origin: row.real()?,
            form: (row.real()?, row.real()?),
            surprise: (row.real()?, row.real()?),
        };
        let wobble = (row.real()?, row.real()?);
        let (heaviest_kg, worked_kg, surprise) = (row.real()?, row.real()?, row.real()?);
        let log_one_rm = (row.real()?, row.real()?);
        let mut given = Given {
            base: [0.0; OWN],
            weight: [[0.0; TRAITS]; OWN],
            cov: [[0.0; OWN]; OWN],
        };
        row.fill(&mut given.base)?;
        row.fill(given.weight.as_flattened_mut())?;
        for i in 0..OWN {
            for j in 0..=i {
                given.cov[i][j] = row.real()?;
                given.cov[j][i] = given.cov[i][j];
            }
        }
        row.is_done().then_some(Self {
            given,
            at_ms,
            day,
            last_over,
            wobble,
            heaviest_kg,
            worked_kg,
            basis,
            surprise,
            log_one_rm,
            sets,
            lately,
        })
    }
}

/// Two independent views of one number, each a mean and a spread, as one.
fn both((a, sa): (f64, f64), (b, sb): (f64, f64)) -> (f64, f64) {
    let (wa, wb) = (1.0 / square(sa), 1.0 / square(sb));
    ((a * wa + b * wb) / (wa + wb), (1.0 / (wa + wb)).sqrt())
}

const BASES: [Basis; 5] = [
    Basis::Total,
    Basis::PerHand,
    Basis::Added,
    Basis::Assisted,
    Basis::Body,
];

fn basis_code(basis: Basis) -> u8 {
    (0..)
        .zip(BASES)
        .find(|(_, b)| *b == basis)
        .map_or(0, |(n, _)| n)
}

fn basis_of(code: u8) -> Option<Basis> {
    BASES.get(usize::from(code)).copied()
}

fn square(x: f64) -> f64 {
    x * x
}

#[expect(
    clippy::cast_precision_loss,
    reason = "milliseconds are far under 2^53"
)]
fn days_between(from_ms: i64, to_ms: i64) -> f64 {
    (to_ms.saturating_sub(from_ms).max(0)) as f64 / MS_A_DAY
}
