//! What is held about one member on one exercise: capacity, its trend and the day's form, the
//! curve, how much a set takes out and how fast it comes back, each with its uncertainty.
//!
//! How a set moves it is told in [`super::model`]; what it says of the next set in
//! [`super::forecast`]. What all lifts share is kept in [`super::condition`].

mod row;
mod start;
mod time;

use chrono::{Datelike, NaiveDate};

use super::condition::Condition;
use super::course::Course;
use super::day_effect::DayEvidence;
use super::forecast::Outlook;
use super::gaussian::{DAY, JointGaussian, LEVEL, TREND};
use super::lately::Lately;
use super::mixture::{Component, Part};
use super::ramp::Ramp;
use super::report::is_guess;
use super::usual::Usual;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::FEWEST_REPS;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::priors::Population;

const MS_IN_DAY: i64 = 86_400_000;
/// No more than this is ever owed, log.
const MOST_OWED: f64 = 0.4;
/// So many times the best there was so far is beyond belief, for a lift done on so many days before. Common practice, no
/// source: a slip of the keyboard is likelier, even one that was vouched for with a tap.
const BEYOND_BELIEF: (f64, u32) = (2.0, 2);
/// Shares of such a load between which another is the same.
const DOUBTED_AGAIN: (f64, f64) = (1.15, 0.85);

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
    /// What the lifter usually works with, and in what order.
    usual: Usual,
    course: Course,
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
    /// Today's sets as far as they may all have been on the way up.
    ramp: Ramp,
    /// What related lifts let expect of the maximum before the first set, log, with its spread.
    related: Option<(f64, f64)>,
    lately: Lately,
}

impl Belief {
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
        self.course.note(set, kg);
        self.ramp.note(set, kg);
        self.load = in_kg(set.load);
        self.reps = set.reps;
        self.sets = self.sets.saturating_add(1);
        let guess = set.rated().is_some_and(|rir| is_guess(rir.reps()));
        self.guesses = self.guesses.saturating_add(u32::from(guess));
    }

    /// What is held before a set to which all sets so far were the way up, on the first day of the lift: they say
    /// nothing that the load picked at last does not say better. `None` for any other set.
    pub(crate) fn begun_anew(
        &self,
        set: &LoggedSet,
        kg: f64,
        population: &Population,
    ) -> Option<Self> {
        let is_first_day = self.lately.days == 0 && !self.is_new_day(set.day);
        (is_first_day && self.ramp.leads_to(set, kg)).then(|| Self {
            ramp: self.ramp,
            told: self.told,
            ..Self::new(set, kg, self.related, population)
        })
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

    /// How the sets of a day follow each other.
    pub(crate) const fn course(&self) -> &Course {
        &self.course
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

    /// Form of the day that is to be expected of the lift, log, by what the day's other lifts told.
    pub(crate) const fn expected_form(&self) -> f64 {
        self.expected_form.0
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
}

/// The unit that a load was written in is no matter of strength.
fn in_kg(load: Load) -> Load {
    Load {
        unit: Unit::Kg,
        ..load
    }
}

fn square(x: f64) -> f64 {
    x * x
}
