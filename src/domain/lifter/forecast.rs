//! From a belief to repetitions: for a load, a tiredness and an effort, how many will be done.
//!
//! Which load and rest to choose is decided in [`crate::domain::advice::next_set`].

use super::curve::{repetitions_and_half, repetitions_and_half_of, slopes};
use super::gaussian::{CURVE, DAY, JointGaussian, LEVEL, LIFTER_HABIT, OWN, SHAPE, TRAITS, Way};
use super::mixture::Component;
use super::recovery::{LEAST_CAPACITY, Strain, along};
use super::report::{below, habit_share, noise};
use crate::domain::quantities::effort::Rir;

/// Probability of reaching the fewest repetitions that count, that a load is kept with: after the shortest rest there is, and
/// after the longest. Between, the longer a rest is, the less it has to promise: one bar for the
/// rest and for the load, so that no load is left that a sensible rest is good for. Trade practice,
/// no source; no interval is shown that begins at a number less likely than the second.
pub(in crate::domain) const SURE: (f64, f64) = (0.97, 0.82);

/// Repetitions to expect at an effort: a median and the central 80 %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expectation {
    /// Median of the repetitions, a real number of at least 0.
    pub median: f64,
    /// Lower end of the central 80 %, whole repetitions.
    pub low: u32,
    /// Upper end of the central 80 %, whole repetitions.
    pub high: u32,
    /// The effort the set is ended at.
    pub rir: Rir,
}

/// Places along the way at which a forecast is weighed, in standard deviations.
const PLACES: usize = 15;
/// Furthest of them.
const FURTHEST: f64 = 3.5;
/// Spread of what a set really takes, as a share of what it was expected to: less than half of
/// the log 0.4 between people. Trade practice, no source.
const DEPTH_NOISE: f64 = 0.15;
/// Spread of the strain after no rest, a share of fresh capacity, and the rest from which there are
/// published tables, seconds.
const UNTRIED: (f64, f64) = (0.08, 60.0);
/// Variance that rounding to whole repetitions, done and reported, gives to what a set shows; a
/// forecast of whole repetitions does its own rounding.
const ROUNDING: f64 = 1.0 / 6.0;
/// No set is surer than this, a variance in repetitions.
const LEAST_NOISE: f64 = 0.01;
/// Spread about the median of each part with which the median of several is found, repetitions. It is
/// the same after every rest, although parts are wider after short ones: so the median rises where all
/// of theirs do.
const SMOOTHING: f64 = 1.5;
/// Steps in search of it, and how near is near enough, repetitions. A probability near a half is not
/// enough: between two parts far from each other many repetitions lie within a hair of it.
const MOST_STEPS: usize = 60;
const CLOSE: f64 = 1e-9;
/// More repetitions than this are never forecast; 100 are the most a set can have.
const MOST: f64 = 150.0;

/// What is held about a lift on a day, ready to be asked about loads and rests.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// What may be true of lift and lifter, likeliest first, at least one; weights add up to 1.
    pub(crate) components: Vec<Component>,
    /// Factor on the population's noise.
    pub noise: f64,
    /// Factor on the spread of forecasts, from how far earlier ones missed.
    pub width: f64,
    /// Repetitions in reserve that the lifter reports beyond those asked for.
    pub answer: f64,
}

/// One load at one tiredness, as the belief sees it: repetitions along the way on which they
/// change most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPrediction {
    pub(crate) way: Way,
    reserve: (f64, f64),
    curve: (f64, f64),
    strain: (f64, f64),
    habit: (f64, f64),
    habit_share: f64,
    /// Expected whole repetitions to failure, at the mean.
    pub(crate) to_failure: f64,
    /// Standard deviation, in repetitions, of what a rated set shows about the mean, the belief's
    /// own uncertainty left out.
    pub(crate) noise: f64,
    /// The same for a population's lifter and a perfectly known fatigue.
    pub(crate) population_noise: f64,
    /// Standard deviation, in repetitions, of the belief's own uncertainty.
    pub(crate) doubt: f64,
    width: f64,
}

impl Outlook {
    /// The likeliest of what may be true.
    #[must_use]
    pub fn likeliest(&self) -> &JointGaussian {
        &self.components[0].joint
    }

    /// The same with nothing but what is likeliest.
    #[must_use]
    pub fn with_likeliest_alone(&self) -> Self {
        let likeliest = Component {
            weight: 1.0,
            ..self.components[0]
        };
        Self {
            components: vec![likeliest],
            ..*self
        }
    }

    /// All that may be true as one Gaussian.
    #[must_use]
    pub fn blended(&self) -> JointGaussian {
        let all: Vec<(f64, &JointGaussian)> = self
            .components
            .iter()
            .map(|s| (s.weight, &s.joint))
            .collect();
        JointGaussian::blended(&all)
    }

    /// Looks at a load (log of kilograms moved) at this strain and effort, were `joint` true;
    /// `rest_doubt` is the spread of the strain that comes from a vague rest, a share of fresh
    /// capacity.
    #[must_use]
    pub(crate) fn sight(
        &self,
        joint: &JointGaussian,
        log_load: f64,
        strain: &Strain,
        rir: f64,
        rest_doubt: f64,
    ) -> LoadPrediction {
        let reserve = joint.own(LEVEL) + joint.own(DAY) - log_load;
        let steepness = joint.own(CURVE).exp();
        let fresh = repetitions_and_half(reserve, steepness);
        let capacity = capacity(strain.total);
        // Beyond the maximum the curve is flat: there a set that came about would seem to tell of the
        // report alone, and nothing of strength. So slopes are taken no further out than there.
        let sloped = reserve.max(0.0);
        let there = repetitions_and_half(sloped, steepness);
        let (by_reserve, by_curve) = slopes(sloped, steepness);
        let share = habit_share(rir);
        let mut own = [0.0; OWN];
        own[LEVEL] = capacity * there * by_reserve;
        own[DAY] = own[LEVEL];
        own[CURVE] = capacity * there * by_curve;
        if strain.total < 1.0 - LEAST_CAPACITY {
            for (index, slope) in strain.by.iter().enumerate() {
                own[SHAPE + index] = -there * slope;
            }
        }
        let mut lifter = [0.0; TRAITS];
        lifter[LIFTER_HABIT] = -share;
        let (way, doubt) = joint.way(&own, &lifter);
        let to_failure = (capacity * fresh - 0.5).min(MOST);
        let population_noise = noise(rir, to_failure.max(0.0));
        let shaken = fresh.min(MOST) * f64::hypot(DEPTH_NOISE * strain.total, rest_doubt);
        LoadPrediction {
            way,
            reserve: (reserve, way.own(LEVEL) + way.own(DAY)),
            curve: (joint.own(CURVE), way.own(CURVE)),
            strain: (
                strain.total,
                along(&strain.by, &std::array::from_fn(|i| way.own(SHAPE + i))),
            ),
            habit: (joint.lifter(LIFTER_HABIT), way.lifter(LIFTER_HABIT)),
            habit_share: share,
            to_failure,
            noise: f64::hypot(self.noise * population_noise, shaken),
            population_noise,
            doubt,
            width: self.width,
        }
    }

    /// The forecast for a load (log of kilograms moved) at this strain and effort, as the lifter
    /// would report it.
    #[must_use]
    pub fn forecast(&self, log_load: f64, strain: &Strain, rir: Rir) -> Forecast {
        self.forecast_ended(log_load, strain, rir, (0.0, 0.0))
    }

    /// The forecast for a set of which this effort is asked: it ends where the lifter has been
    /// ending sets when asked, on his own scale.
    #[must_use]
    pub fn forecast_asked(&self, log_load: f64, strain: &Strain, rir: Rir) -> Forecast {
        self.forecast_ended(log_load, strain, rir, (self.answer, 0.0))
    }

    /// The same, `asked` of the lifter or named by him, after a rest of so many seconds: wider where it
    /// is shorter than any that was published.
    ///
    /// ```text
    /// spread of the strain = 0.08 max(0, 1 − t/60)      a share of fresh capacity
    /// ```
    ///
    /// *Source*: the tables of repetitions by rest begin at 60 s; the size is trade practice.
    #[must_use]
    pub fn forecast_after(
        &self,
        log_load: f64,
        strain: &Strain,
        rir: Rir,
        asked: bool,
        rest_s: f64,
    ) -> Forecast {
        let untried = UNTRIED.0 * (1.0 - rest_s / UNTRIED.1).max(0.0);
        let beyond = if asked { self.answer } else { 0.0 };
        let doubt = if strain.total > 0.0 { untried } else { 0.0 };
        self.forecast_ended(log_load, strain, rir, (beyond, doubt))
    }

    /// What [`Forecast::at_least`] says of [`Outlook::forecast`], for who asks for nothing else of it.
    #[must_use]
    pub(crate) fn chance(&self, log_load: f64, strain: &Strain, rir: Rir, reps: u32) -> f64 {
        let parts: Vec<ForecastPart> = self.parts(log_load, strain, rir, (0.0, 0.0)).collect();
        at_least(&parts, reps)
    }

    /// The same for who asks whether it is next to none: 1 where what is likeliest expects as many, which makes it
    /// some hundredths at the least.
    #[must_use]
    pub(crate) fn small_chance(&self, log_load: f64, strain: &Strain, rir: Rir, reps: u32) -> f64 {
        let likeliest = self.sight(self.likeliest(), log_load, strain, rir.reps(), 0.0);
        match likeliest.shown_at(0.0) - rir.reps() >= f64::from(reps) {
            true => 1.0,
            false => self.chance(log_load, strain, rir, reps),
        }
    }

    fn forecast_ended(
        &self,
        log_load: f64,
        strain: &Strain,
        rir: Rir,
        ended: (f64, f64),
    ) -> Forecast {
        Forecast::of(self.parts(log_load, strain, rir, ended).collect(), rir)
    }

    fn parts(
        &self,
        log_load: f64,
        strain: &Strain,
        rir: Rir,
        (beyond, doubt): (f64, f64),
    ) -> impl Iterator<Item = ForecastPart> {
        self.components.iter().map(move |component| {
            let sight = self.sight(&component.joint, log_load, strain, rir.reps(), doubt);
            sight.part(component.weight, rir, beyond)
        })
    }
}

impl LoadPrediction {
    /// Repetitions to failure at `s` standard deviations along the way.
    #[must_use]
    pub(crate) fn failure_at(&self, s: f64) -> f64 {
        let reserve = self.reserve.0 + self.reserve.1 * s;
        let steepness = (self.curve.0 + self.curve.1 * s).exp();
        let capacity = capacity(self.strain.0 + self.strain.1 * s);
        repetitions_and_half(reserve, steepness) * capacity - 0.5
    }

    /// Repetitions to failure at evenly spaced places either side of the middle, `step` standard deviations
    /// apart: [`LoadPrediction::failure_at`], up to rounding. What grows by the same factor from place to
    /// place is multiplied instead of worked out anew.
    #[must_use]
    pub(crate) fn failures<const PLACES: usize>(&self, step: f64) -> [f64; PLACES] {
        let mut failures = [0.0; PLACES];
        let middle = PLACES / 2;
        failures[middle] = self.failure_at(0.0);
        for side in [-1.0, 1.0] {
            let strength = (self.reserve.0.exp(), (side * step * self.reserve.1).exp());
            let steepness = (self.curve.0.exp(), (side * step * self.curve.1).exp());
            let (mut ratio, mut steep) = (strength.0, steepness.0);
            let mut strain = self.strain.0;
            for away in 1..=middle {
                ratio *= strength.1;
                steep *= steepness.1;
                strain += side * step * self.strain.1;
                let place = match side < 0.0 {
                    true => middle - away,
                    false => middle + away,
                };
                failures[place] = repetitions_and_half_of(ratio, steep) * capacity(strain) - 0.5;
            }
        }
        failures
    }

    /// Repetitions done plus reported left, as expected at `s` standard deviations along the way.
    #[must_use]
    pub(crate) fn shown_at(&self, s: f64) -> f64 {
        self.shown_of(self.failure_at(s), s)
    }

    /// The same where repetitions to failure there are known.
    #[must_use]
    pub(crate) fn shown_of(&self, failure: f64, s: f64) -> f64 {
        failure - self.habit_share * (self.habit.0 + self.habit.1 * s)
    }

    /// What is done when the set is ended at `rir`, and `beyond` more on the lifter's own scale;
    /// `share` is the probability that this sight is the true one.
    fn part(&self, share: f64, rir: Rir, beyond: f64) -> ForecastPart {
        let left = (rir.reps() + beyond).max(0.0);
        let mut places = [(0.0, 0.0); PLACES];
        let mut total = 0.0;
        for (index, place) in (0u32..).zip(&mut places) {
            let s = FURTHEST * (f64::from(index) / 7.0 - 1.0);
            let weight = (-0.5 * s * s).exp();
            total += weight;
            let reps = self.shown_at(s * self.width) - left;
            *place = (reps.min(MOST), weight);
        }
        let noise = self.noise * self.width;
        for (_, weight) in &mut places {
            *weight *= share / total;
        }
        ForecastPart {
            share,
            median: (self.shown_at(0.0) - left).clamp(0.0, MOST),
            places,
            noise: (noise * noise - ROUNDING).max(LEAST_NOISE).sqrt(),
        }
    }
}

fn capacity(strain: f64) -> f64 {
    (1.0 - strain).clamp(LEAST_CAPACITY, 1.0)
}

/// The repetitions of one set, were one component true.
#[derive(Clone, Copy, Debug, PartialEq)]
struct ForecastPart {
    /// Probability that this component is the true one.
    share: f64,
    median: f64,
    places: [(f64, f64); PLACES],
    noise: f64,
}

/// The distribution of the whole repetitions of one set.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    median: f64,
    parts: Vec<ForecastPart>,
    rir: Rir,
}

impl Forecast {
    fn of(parts: Vec<ForecastPart>, rir: Rir) -> Self {
        let median = match parts.as_slice() {
            [one] => one.median,
            several => median_of(several),
        };
        Self { median, parts, rir }
    }

    /// Median repetitions, real, 0 to 150.
    #[must_use]
    pub const fn median(&self) -> f64 {
        self.median
    }

    /// Probability of at least `reps` repetitions, 0 to 1; never rises with `reps`.
    #[must_use]
    pub fn at_least(&self, reps: u32) -> f64 {
        at_least(&self.parts, reps)
    }

    /// Median and the whole repetitions that hold nearest to 80 %: from the outermost span that
    /// leaves at most a tenth on either side, an end is taken off where that comes nearer. The lower
    /// one is only taken off where the next number is as likely to be reached as is asked of a load
    /// that is kept, so that what is shown and what is advised agree. Whole numbers hold 80 % only on
    /// average, and this keeps the average at 80 %.
    #[must_use]
    pub fn expectation(&self) -> Expectation {
        let middle = whole(self.median.round());
        let low = self.last_above(0.9, middle);
        let high = self.last_above(0.1, middle).max(low);
        let narrower = [
            (low, high),
            (low + 1, high),
            (low, high.saturating_sub(1)),
            (low + 1, high.saturating_sub(1)),
        ];
        let (low, high) = narrower
            .into_iter()
            .filter(|(low, high)| low <= high && (*low..=*high).contains(&middle))
            .filter(|span| span.0 == low || self.at_least(span.0) >= SURE.1)
            .map(|span| (span, (self.held(span) - 0.8).abs()))
            .fold(
                ((middle.min(low), middle.max(high)), f64::INFINITY),
                |best, next| {
                    if next.1 < best.1 { next } else { best }
                },
            )
            .0;
        Expectation {
            median: self.median,
            low,
            high,
            rir: self.rir,
        }
    }

    fn held(&self, (low, high): (u32, u32)) -> f64 {
        self.at_least(low) - self.at_least(high + 1)
    }

    /// The most repetitions that are reached with probability `chance` or more, searched outwards
    /// from `near` in doubling steps and then by halving.
    fn last_above(&self, chance: f64, near: u32) -> u32 {
        let reached = |reps: u32| self.at_least(reps) >= chance;
        let (mut yes, mut no) = (near, near);
        let mut step = 1;
        while !reached(yes) {
            no = yes;
            yes = yes.saturating_sub(step);
            step *= 2;
        }
        step = 1;
        while no <= yes || reached(no) {
            yes = yes.max(no);
            no = yes + step;
            step *= 2;
            if no > 400 {
                break;
            }
        }
        while no - yes > 1 {
            let half = yes + (no - yes) / 2;
            if reached(half) {
                yes = half;
            } else {
                no = half;
            }
        }
        yes
    }
}

fn at_least(parts: &[ForecastPart], reps: u32) -> f64 {
    if reps == 0 {
        return 1.0;
    }
    let edge = f64::from(reps) - 0.5;
    let parts = parts.iter().flat_map(|part| {
        let places = part.places.iter();
        places.map(|(middle, weight)| weight * below(middle - edge, part.noise))
    });
    parts.sum()
}

/// The repetitions that half the weight lies below, each part taken as a Gaussian of one spread about
/// its median; never falls where the median of every part rises.
fn median_of(parts: &[ForecastPart]) -> f64 {
    let under = |x: f64| -> f64 {
        let all = parts.iter();
        all.map(|part| part.share * below(x - part.median, SMOOTHING))
            .sum()
    };
    let medians = parts.iter().map(|part| part.median);
    let (mut low, mut high) = medians.fold((MOST, 0.0_f64), |(low, high), median| {
        (low.min(median), high.max(median))
    });
    let (mut below_low, mut below_high) = (under(low) - 0.5, under(high) - 0.5);
    if below_low >= 0.0 || below_high <= 0.0 {
        return if below_low >= 0.0 { low } else { high };
    }
    // False position, the end that stays put halved each time (Illinois), so that both ends move.
    for _ in 0..MOST_STEPS {
        let middle = (low * below_high - high * below_low) / (below_high - below_low);
        let there = under(middle) - 0.5;
        if there < 0.0 {
            (low, below_low, below_high) = (middle, there, 0.5 * below_high);
        } else {
            (high, below_high, below_low) = (middle, there, 0.5 * below_low);
        }
        if high - low < CLOSE {
            break;
        }
    }
    f64::midpoint(low, high)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0 to MOST just before"
)]
fn whole(reps: f64) -> u32 {
    reps.clamp(0.0, MOST) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(share: f64, median: f64) -> ForecastPart {
        ForecastPart {
            share,
            median,
            places: [(median, share / 15.0); PLACES],
            noise: 1.0,
        }
    }

    /// Two explanations far apart, the second at the most that is forecast: the median lies on the
    /// plain between them, and must not fall by a hair while the lower one rises.
    #[test]
    fn the_median_never_falls_where_a_part_rises_far_below_it() {
        let medians: Vec<f64> = (0..4_000)
            .map(|n| {
                median_of(&[
                    part(0.499_95, 60.0 + 0.01 * f64::from(n)),
                    part(0.500_05, MOST),
                ])
            })
            .collect();
        let falls = medians.windows(2).map(|pair| pair[0] - pair[1]);
        let worst = falls.fold(0.0, f64::max);
        assert!(worst <= 1e-7, "{worst}");
    }
}
