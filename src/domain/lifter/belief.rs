//! What is held about one member on one exercise: capacity, its trend and the day's form, the
//! curve, how much a set takes out and how fast it comes back, each with its uncertainty.
//!
//! How a set moves it is told in [`super::model`]; what it says of the next set in
//! [`super::forecast`]. What all lifts share is kept in [`super::condition`].

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use super::codec::{Reader, Writer};
use super::condition::Condition;
use super::day_effect::DayEvidence;
use super::forecast::Outlook;
use super::gaussian::{
    CURVE, DAY, Given, JointGaussian, LEVEL, LIFTER_CURVE, LIFTER_SHAPE, OWN, SHAPE, TRAITS, TREND,
};
use super::line::{Fit, Line};
use super::mixture::{Component, MOST, Part};
use super::report::is_guess;
use super::usual::Usual;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::{FEWEST_REPS, MOST_RESERVE};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::priors::{PERSONAL, Population, Prior};

/// Version of the encoding.
const VERSION: u8 = 12;
const MS_A_DAY: f64 = 86_400_000.0;
const MS_IN_DAY: i64 = 86_400_000;
const DAYS_A_WEEK: f64 = 7.0;
/// Variance that the level gains a day, about 1 % in four days. Trade practice, no source.
const DRIFT_A_DAY: f64 = 0.005 * 0.005;
/// Most variance that drift alone adds at once.
const DRIFT_MOST: f64 = 0.1 * 0.1;
/// After this many days without the lift the trend no longer carries on. Trade practice.
const TREND_DAYS: f64 = 14.0;
/// Days away that cost nothing, the time constant of what they cost then, days, and the most that is
/// lost, log; see [`loss`].
const LOSS_AFTER: f64 = 14.0;
const LOSS_DAYS: f64 = 80.0;
const LOSS_MOST: f64 = 0.22;
/// Spread of a loss between people, as a share of it. McMaster 2013 (from memory): 15 ± 14 %, of which
/// much is between studies.
const LOSS_DOUBT: f64 = 0.6;
/// Share of that loss where other lifts went on meanwhile. Trade practice, no source.
const ELSEWHERE: f64 = 0.3;
/// Days of training in which 63 % of what was lost is back, and the spread of it, as a share.
/// Retraining takes a fraction of the time that training took: Ogasawara R et al. 2013, Eur J Appl
/// Physiol 113(4):975-985 (from memory: three weeks away were made up in as many of training).
const BACK_DAYS: f64 = 24.0;
const BACK_DOUBT: f64 = 0.5;
/// No more than this is ever owed, log.
const MOST_OWED: f64 = 0.4;
/// How likely the first set ever of a lift is a warm-up or feeler: nothing said, and rated as hard.
/// Trade practice, no source.
const FIRST_EASY: (f64, f64) = (0.15, 0.03);
/// Log 1RM over log load of a warm-up, and its spread: a third to three quarters of the maximum.
/// Common practice, no source.
const WARM_UP_AT: (f64, f64) = (0.7, 0.3);
/// The trend forgets with this time constant, days.
const TREND_MEMORY_DAYS: f64 = 120.0;
/// Variance that the day's form gains from set to set.
const FORM_A_SET: f64 = 0.006 * 0.006;
/// Two days in a row that were better than thought, or worse, by this, log, are a change and no form of the day; so much
/// of what they have in common is, and its spread as a share. Trade practice, no source.
const LASTING_FROM: f64 = 0.015;
const LASTING_SHARE: f64 = 0.7;
const LASTING_DOUBT: f64 = 0.5;
/// Days that the population's wobble counts for.
const WOBBLE_WEIGHT: f64 = 6.0;
/// One odd day counts at most as so many usual ones: it says nothing of the others.
const ODD: f64 = 4.0;
/// Share of the weight of the wobble seen that survives a day.
const WOBBLE_MEMORY: f64 = 0.98;

/// Days after which a day's capacity has lost 63 % of its weight in the course of things.
const COURSE_DAYS: f64 = 42.0;
/// So many first days count only by this share: what changes then is the knowledge of the lifter.
const GETTING_TO_KNOW: (u32, f64) = (5, 0.1);
/// So many times the best there was so far is beyond belief, for a lift done on so many days before. Common practice, no
/// source: a slip of the keyboard is likelier, even one that was vouched for with a tap.
const BEYOND_BELIEF: (f64, u32) = (2.0, 2);
/// Shares of such a load between which another is the same.
const DOUBTED_AGAIN: (f64, f64) = (1.15, 0.85);
/// Share of the weight of earlier days' deviations, and of earlier sets' surprises, that survives
/// the next: the last three days or so count, and the last five sets.
const LATELY: (f64, f64) = (0.6, 0.8);

/// How it went of late, kept for [`crate::domain::coaching::progress`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Lately {
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
    pub(crate) fn fit(&self) -> Option<Fit> {
        self.line.fit()
    }

    /// Mean deviation of the last days from the line before them, log, and its weight in days.
    pub(crate) fn form(&self) -> (f64, f64) {
        let (weight, sum) = self.form;
        (sum / weight.max(1.0), weight)
    }

    /// Mean surprise of the last rated sets, standard deviations of their forecasts.
    pub(crate) fn surprise(&self) -> f64 {
        self.surprise.1 / self.surprise.0.max(1.0)
    }

    /// Days with work sets.
    pub(crate) const fn days(&self) -> u32 {
        self.days
    }
}

/// What is held about one member on one exercise.
///
/// Made by [`super::model::Model::learn`]; kept as a row of under 1 kB.
#[derive(Clone, Debug, PartialEq)]
pub struct Belief {
    /// What may be true, likeliest first; at least one, at most four, weights add up to 1.
    parts: Vec<Part>,
    /// Strength lost by time away that is still to come back, log.
    owed: f64,
    /// End of the last set, milliseconds since 1970.
    at_ms: i64,
    /// Day of the last set, and of the last one before that, days from the common era.
    day: i32,
    last_over: i32,
    /// Weight of the days' forms seen, and their weighted sum of squares.
    wobble: (f64, f64),
    /// What the form of the last day that is over was found to be, log, and did not become level.
    last_form: f64,
    /// DayEffect of the day as it was expected before its sets, mean and variance, and what they told of it.
    expected_form: (f64, f64),
    told: DayEvidence,
    /// Heaviest load ever moved for a repetition or more, kilograms moved.
    heaviest_kg: f64,
    /// Heaviest load ever moved for a set of as many repetitions as count, kilograms moved.
    worked_kg: f64,
    /// Load of the last work set, its unit left out, and its repetitions.
    load: Load,
    reps: u32,
    /// What the lifter usually works with.
    usual: Usual,
    /// Load of the last set that was beyond belief, kilograms moved, and its day; 0 before the first.
    doubted: (f64, i32),
    /// Repetitions done plus left of the last rated set beyond the expected ones, in standard
    /// deviations.
    surprise: f64,
    /// Log of the one-repetition maximum, kilograms moved, after the last set, with its spread.
    log_one_rm: (f64, f64),
    /// Work sets learned from.
    sets: u32,
    /// Those of them whose reserve was a guess; see [`super::report::is_guess`].
    guesses: u32,
    lately: Lately,
}

impl Belief {
    /// The population's belief about a lift on which `first` is the first work set: lifters pick
    /// loads that they can lift some times, which says where the capacity may lie, and so does
    /// `related`, the log of the maximum that a related lift lets expect, with its spread. Where
    /// nothing was said of the first set it may also have been a warm-up, far under the capacity.
    #[must_use]
    pub(crate) fn new(
        first: &LoggedSet,
        kg: f64,
        related: Option<(f64, f64)>,
        population: &Population,
    ) -> Self {
        let rated = first.rated().is_some_and(|rir| rir.reps() <= MOST_RESERVE);
        let warm_up = if rated { FIRST_EASY.1 } else { FIRST_EASY.0 };
        let hard = (
            population.picked.mean,
            population.picked.spread,
            1.0 - warm_up,
        );
        let easy = (WARM_UP_AT.0, WARM_UP_AT.1, warm_up);
        let mut belief = Self {
            heaviest_kg: kg,
            worked_kg: kg,
            load: in_kg(first.load),
            ..Self::at_level((kg.ln(), 1.0), first.at, first.day, population)
        };
        let blank = belief.parts[0];
        belief.parts.clear();
        for (above, spread, weight) in [hard, easy] {
            let picked = (kg.ln() + above, spread);
            let (level, fits) = match related {
                None => (picked, 1.0),
                Some(related) => (both(picked, related), agreement(picked, related)),
            };
            let mut part = Part {
                weight: weight * fits,
                ..blank
            };
            part.given.reset(LEVEL, level.0, square(level.1));
            belief.parts.push(part);
        }
        let total: f64 = belief.parts.iter().map(|part| part.weight).sum();
        for part in &mut belief.parts {
            part.weight /= total.max(1e-300);
        }
        belief.parts.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        belief
    }

    /// The belief about a lift never done, from what a related lift lets expect of its maximum.
    #[must_use]
    pub(crate) fn foreseen(
        related: (f64, f64),
        basis: Basis,
        at: DateTime<Utc>,
        day: NaiveDate,
        population: &Population,
    ) -> Self {
        let likely = (related.0 - population.picked.mean).exp();
        let belief = Self::at_level(related, at, day, population);
        Self {
            worked_kg: likely,
            load: Load {
                basis,
                ..belief.load
            },
            ..belief
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
            parts: vec![Part {
                weight: 1.0,
                given,
                easy: false,
            }],
            owed: 0.0,
            at_ms: at.timestamp_millis(),
            day: day.num_days_from_ce(),
            last_over: day.num_days_from_ce(),
            wobble,
            last_form: 0.0,
            expected_form: (0.0, wobble.1 / wobble.0),
            told: DayEvidence::default(),
            heaviest_kg: 0.0,
            worked_kg: 0.0,
            load: Load::body(Unit::Kg),
            reps: 0,
            usual: Usual::default(),
            doubted: (0.0, 0),
            surprise: 0.0,
            log_one_rm: (0.0, 0.0),
            sets: 0,
            guesses: 0,
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
    /// level ← level + trend · min(days trained, 14)/7 − loss(days away) + what comes back
    /// var(level) ← var(level) + 0.005² days, at most 0.1², + (0.6 loss)² + (0.5 back)²
    /// trend ← mean + (trend − mean) e^(−days/120)
    /// form ← as today's other lifts let expect, else 0 ± wobble, on a new day
    /// ```
    ///
    /// *Valid for*: gaps of any length; a time before the last set changes nothing.
    /// *Source*: local linear trend (Durbin & Koopman 2012, ch. 3, from memory); loss see [`loss`]; the other sizes are
    /// trade practice.
    #[must_use]
    pub(crate) fn advanced(
        &self,
        at: DateTime<Utc>,
        day: NaiveDate,
        condition: &Condition,
        population: &Population,
    ) -> Self {
        let mut next = self.clone();
        let at_ms = at.timestamp_millis();
        let days = days_between(self.at_ms, at_ms);
        let away = condition.away_days(self.at_ms, at_ms);
        let lost = loss(away) + ELSEWHERE * (loss(days) - loss(away)).max(0.0);
        let back = self.owed * (1.0 - (-(days - away).max(0.0) / BACK_DAYS).exp());
        let variance = square(LOSS_DOUBT * lost) + square(BACK_DOUBT * back);
        let is_new_day = day.num_days_from_ce() > self.day;
        let wobble = (
            self.wobble.0 * WOBBLE_MEMORY + 1.0,
            self.wobble.1 * WOBBLE_MEMORY + self.form_seen(condition, population),
        );
        let kept = (-days / TREND_MEMORY_DAYS).exp();
        let today = is_new_day.then(|| self.blended(condition, population));
        let form = today.as_ref().map_or(0.0, |today| today.own(DAY));
        let lasting = lasting(self.last_form, form);
        if is_new_day {
            next.expected_form = condition.form(at_ms, wobble.1 / wobble.0);
            next.told = DayEvidence::default();
        } else {
            next.expected_form.1 += FORM_A_SET;
        }
        for part in &mut next.parts {
            let given = &mut part.given;
            given.flow(
                TREND,
                LEVEL,
                (days - away).clamp(0.0, TREND_DAYS) / DAYS_A_WEEK,
            );
            given.shift(LEVEL, back - lost + lasting);
            given.widen(
                LEVEL,
                (DRIFT_A_DAY * days).min(DRIFT_MOST) + variance + square(LASTING_DOUBT * lasting),
            );
            given.shrink(TREND, population.trend.mean, kept);
            given.widen(TREND, (1.0 - kept * kept) * square(population.trend.spread));
            if is_new_day {
                given.reset(DAY, next.expected_form.0, next.expected_form.1);
                part.easy = false;
            } else {
                given.widen(DAY, FORM_A_SET);
            }
        }
        next.owed = (self.owed + lost - back).max(0.0);
        if let Some(today) = today {
            next.lately = self.with_today(&today);
            next.last_form = form - lasting;
            next.wobble = wobble;
            next.usual.next_day();
            next.last_over = self.day;
            next.day = day.num_days_from_ce();
        }
        next.at_ms = self.at_ms.max(at_ms);
        next
    }

    /// Mean square of the form of the last day, log.
    fn form_seen(&self, condition: &Condition, population: &Population) -> f64 {
        let joint = self.parts[0].given.joined(&condition.traits(population));
        let seen = square(joint.own(DAY)) + joint.own_variance(DAY);
        seen.min(ODD * self.wobble.1 / self.wobble.0)
    }

    /// All that may be true as one Gaussian.
    fn blended(&self, condition: &Condition, population: &Population) -> JointGaussian {
        let components = self.components(condition, population);
        let all: Vec<(f64, &JointGaussian)> =
            components.iter().map(|s| (s.weight, &s.joint)).collect();
        JointGaussian::blended(&all)
    }

    fn components(&self, condition: &Condition, population: &Population) -> Vec<Component> {
        let traits = condition.traits(population);
        let component = |part: &Part| Component {
            weight: part.weight,
            joint: part.given.joined(&traits),
            easy: part.easy,
        };
        self.parts.iter().map(component).collect()
    }

    /// Takes on what was learned: what may be true now, likeliest first, and all of it as one.
    pub(crate) fn take(&mut self, parts: Vec<Part>, blend: &JointGaussian) {
        self.parts = parts;
        self.log_one_rm = (
            blend.own(LEVEL).clamp(-10.0, 15.0),
            blend.own_variance(LEVEL).max(0.0).sqrt(),
        );
    }

    /// What today's sets now tell of the form of the day, and what they had told before.
    pub(crate) fn tell_form(&mut self, blend: &JointGaussian) -> (DayEvidence, DayEvidence) {
        let before = self.told;
        let after = (blend.own(DAY), blend.own_variance(DAY));
        self.told = DayEvidence::by(self.expected_form, after, self.wobble.1 / self.wobble.0);
        (self.told, before)
    }

    /// Strength that moved by so much, log, was not lost, or was lost beside what was thought.
    pub(crate) fn settle(&mut self, moved: f64) {
        if self.owed > 0.0 {
            self.owed = (self.owed - moved).clamp(0.0, MOST_OWED);
        }
    }

    /// Notes what was lifted in a work set.
    pub(crate) fn note(&mut self, set: &LoggedSet, kg: f64) {
        if set.reps >= FEWEST_REPS {
            self.worked_kg = self.worked_kg.max(kg);
        }
        if set.reps > 0 {
            self.heaviest_kg = self.heaviest_kg.max(kg);
        }
        if !self.parts[0].easy {
            self.usual.note(set, kg);
        }
        self.load = in_kg(set.load);
        self.reps = set.reps;
        self.sets = self.sets.saturating_add(1);
        let guess = set.rated().is_some_and(|rir| is_guess(rir.reps()));
        self.guesses = self.guesses.saturating_add(u32::from(guess));
    }

    /// Whether a set of today at `kg` kilograms moved is beyond what anybody gains, although the lifter vouches for it:
    /// figures in the wrong order, the other unit. Done again on another day it is believed.
    pub(crate) fn doubts(&self, set: &LoggedSet, kg: f64) -> bool {
        let (times, days) = BEYOND_BELIEF;
        let left = set.rated().map_or(0.0, Rir::reps);
        let reps = f64::from(set.reps) + left;
        let one_rm = kg * (1.0 + reps / 30.0);
        let (before, day) = self.doubted;
        let again =
            day < self.day && kg <= before * DOUBTED_AGAIN.0 && kg >= before * DOUBTED_AGAIN.1;
        set.reps > 0
            && self.lately.days >= days
            && kg > times * self.heaviest_kg
            && one_rm > times * self.one_rm().0
            && !again
    }

    /// Keeps the load of a set that is beyond belief.
    pub(crate) const fn doubt(&mut self, kg: f64) {
        self.doubted = (kg, self.day);
    }

    /// Load of a set of the day of the last set that is beyond belief, kilograms moved.
    pub(crate) fn doubted_kg(&self) -> Option<f64> {
        let (kg, day) = self.doubted;
        (kg > 0.0 && day == self.day).then_some(kg)
    }

    /// Work sets learned from whose reserve was a guess.
    pub(crate) const fn guesses(&self) -> u32 {
        self.guesses
    }

    /// What is held about the lift and the lifter together, ready for questions.
    #[must_use]
    pub fn outlook(&self, condition: &Condition, population: &Population) -> Outlook {
        Outlook {
            components: self.components(condition, population),
            noise: condition.noise(population),
            width: condition.width(),
            answer: condition.answer(),
        }
    }

    /// One-repetition maximum after the last set, kilograms moved, the day's form left out, with
    /// the standard deviation of its logarithm (about a share).
    #[must_use]
    pub fn one_rm(&self) -> (f64, f64) {
        (self.log_one_rm.0.exp(), self.log_one_rm.1)
    }

    /// The log of [`Belief::one_rm`], and its spread.
    #[must_use]
    pub(crate) const fn log_one_rm(&self) -> (f64, f64) {
        self.log_one_rm
    }

    /// Change of the log of the one-repetition maximum a week, and its standard deviation.
    #[must_use]
    pub fn trend(&self, condition: &Condition, population: &Population) -> (f64, f64) {
        let joint = self.blended(condition, population);
        (joint.own(TREND), joint.own_variance(TREND).max(0.0).sqrt())
    }

    /// How it went of late, the last day included.
    pub(crate) fn lately(&self, condition: &Condition, population: &Population) -> Lately {
        self.with_today(&self.blended(condition, population))
    }

    fn with_today(&self, joint: &JointGaussian) -> Lately {
        let gap = f64::from(self.day.saturating_sub(self.last_over).max(0));
        self.lately.with_day(gap, joint.own(LEVEL) + joint.own(DAY))
    }

    /// Days from the first day of the lift to the last.
    pub(crate) const fn span_days(&self) -> i32 {
        self.day.saturating_sub(self.lately.first_day)
    }

    /// Days from one day of the lift to the next, on average; `None` before the third.
    pub(crate) fn usual_gap_days(&self) -> Option<f64> {
        let gaps = self.lately.days;
        (gaps >= 2).then(|| f64::from(self.span_days()) / f64::from(gaps))
    }

    /// Nothing was said of the last set, so nothing surprises.
    pub(crate) const fn unsurprised(&mut self) {
        self.surprise = 0.0;
    }

    /// Keeps the surprise of a rated set.
    pub(crate) fn surprised(&mut self, surprise: f64) {
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
        self.load.basis
    }

    /// Load of the last work set.
    #[must_use]
    pub const fn load(&self) -> Load {
        self.load
    }

    /// Repetitions of the last work set.
    pub(crate) const fn reps(&self) -> u32 {
        self.reps
    }

    /// What the lifter usually works with.
    pub(crate) const fn usual(&self) -> &Usual {
        &self.usual
    }

    /// Strength lost by time away that is still to come back, log.
    pub(crate) const fn owed(&self) -> f64 {
        self.owed
    }

    /// Whether the lifter is on the way up today: the last set is taken to have been easy, and no hard set of
    /// as many repetitions as count was done yet, unlike on other days.
    pub(crate) fn is_on_the_way_up(&self) -> bool {
        self.parts[0].easy && self.usual.is_to_come()
    }

    /// End of the last set, milliseconds since 1970.
    #[must_use]
    pub const fn at_ms(&self) -> i64 {
        self.at_ms
    }

    /// About the end of the last day of the lift before that of the last set, milliseconds since 1970.
    pub(crate) fn day_before_ms(&self) -> i64 {
        let days = i64::from(self.day.saturating_sub(self.last_over).max(0));
        self.at_ms - days * MS_IN_DAY
    }

    /// Whether this day is after that of the last set.
    pub(crate) fn is_new_day(&self, day: NaiveDate) -> bool {
        day.num_days_from_ce() > self.day
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
        row.byte(basis_code(self.load.basis));
        row.int(self.load.mass.tenth_micrograms());
        row.int(i64::from(self.last_over));
        row.int(i64::from(self.lately.first_day));
        row.int(i64::from(self.lately.days));
        row.reals(&self.lately.line.sums());
        let (form, surprise) = (self.lately.form, self.lately.surprise);
        row.reals(&[self.lately.origin, form.0, form.1, surprise.0, surprise.1]);
        row.reals(&[
            self.wobble.0,
            self.wobble.1,
            self.last_form,
            self.expected_form.0,
            self.expected_form.1,
            self.heaviest_kg,
            self.worked_kg,
            self.surprise,
            self.log_one_rm.0,
            self.log_one_rm.1,
        ]);
        self.usual.write(&mut row);
        row.reals(&[self.doubted.0]);
        row.int(i64::from(self.doubted.1));
        self.told.write(&mut row);
        row.int(i64::from(self.reps));
        row.int(i64::from(self.guesses));
        row.reals(&[self.owed]);
        row.byte(u8::try_from(self.parts.len()).unwrap_or(u8::MAX));
        for part in &self.parts {
            row.reals(&[part.weight]);
            row.byte(u8::from(part.easy));
            row.reals(&part.given.base);
            row.reals(part.given.weight.as_flattened());
            for (i, line) in part.given.cov.iter().enumerate() {
                row.reals(line.iter().take(i + 1));
            }
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
        let mass = Mass::from_tenth_micrograms(row.int()?);
        let load = Load {
            mass,
            unit: Unit::Kg,
            basis,
        };
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
        let last_form = row.real()?;
        let expected_form = (row.real()?, row.real()?);
        let (heaviest_kg, worked_kg, surprise) = (row.real()?, row.real()?, row.real()?);
        let log_one_rm = (row.real()?, row.real()?);
        let usual = Usual::read(&mut row)?;
        let doubted = (row.real()?, i32::try_from(row.int()?).ok()?);
        let told = DayEvidence::read(&mut row)?;
        let reps = u32::try_from(row.int()?).ok()?;
        let guesses = u32::try_from(row.int()?).ok()?;
        let owed = row.real()?;
        let count = usize::from(row.byte()?);
        if !(1..=MOST).contains(&count) {
            return None;
        }
        let mut parts = Vec::with_capacity(count);
        for _ in 0..count {
            parts.push(Part {
                weight: row.real()?,
                easy: row.byte()? == 1,
                given: read_given(&mut row)?,
            });
        }
        row.is_done().then_some(Self {
            parts,
            owed,
            at_ms,
            day,
            last_over,
            wobble,
            last_form,
            expected_form,
            told,
            heaviest_kg,
            worked_kg,
            load,
            reps,
            usual,
            doubted,
            surprise,
            log_one_rm,
            sets,
            guesses,
            lately,
        })
    }
}

fn read_given(row: &mut Reader<'_>) -> Option<Given> {
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
    Some(given)
}

/// The unit that a load was written in is no matter of strength.
fn in_kg(load: Load) -> Load {
    Load {
        unit: Unit::Kg,
        ..load
    }
}

/// What of the forms of two days in a row is no form of a day, log: as much as both have in common, in part.
fn lasting(before: f64, form: f64) -> f64 {
    let common = match before * form > 0.0 {
        true => before.abs().min(form.abs()).copysign(form),
        false => 0.0,
    };
    match common.abs() > LASTING_FROM {
        true => LASTING_SHARE * common,
        false => 0.0,
    }
}

/// What strength is lost in so many days without training, log of the one-repetition maximum.
///
/// ```text
/// 0                                 up to 14 days
/// 0.22 (1 − e^(−(t − 14)/80))       beyond: 0.07 after six weeks, 0.15 after fifteen
/// ```
///
/// *Valid for*: up to a year. *Source*: Bosquet L et al. 2013, Scand J Med Sci Sports 23(3):e140-e149, doi
/// 10.1111/sms.12047 (maximal force falls by 0.46 standard deviations, 0.37 to 0.54, more the longer; that it begins in
/// the third week: from memory); McMaster DT et al. 2013, Sports Med 43(5):367-384 (some 15 % in 7 weeks, widely
/// spread, in athletes; from memory). The curve is our own, and after seven weeks stands at half of the latter.
///
/// ```
/// use chalkbell::domain::lifter::belief::loss;
/// assert_eq!(loss(10.0), 0.0);
/// assert!((loss(42.0) - 0.065).abs() < 0.001);
/// assert!((loss(105.0) - 0.149).abs() < 0.001);
/// ```
#[must_use]
pub fn loss(days: f64) -> f64 {
    LOSS_MOST * (1.0 - (-(days - LOSS_AFTER).max(0.0) / LOSS_DAYS).exp())
}

/// How likely two views of one number are to agree, a density up to a constant.
fn agreement((a, sa): (f64, f64), (b, sb): (f64, f64)) -> f64 {
    let variance = square(sa) + square(sb);
    (-0.5 * square(a - b) / variance).exp() / variance.sqrt()
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
