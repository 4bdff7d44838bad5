//! What is held of a lift before its first set, and after it: the population's figures, what related lifts let expect, and
//! what the load that the lifter picked says.

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use super::super::course::Course;
use super::super::day_effect::DayEvidence;
use super::super::gaussian::{
    CURVE, DAY, Given, LEVEL, LIFTER_CURVE, LIFTER_SHAPE, OWN, SHAPE, TRAITS, TREND,
};
use super::super::lately::Lately;
use super::super::mixture::Part;
use super::super::ramp::Ramp;
use super::super::usual::Usual;
use super::{Belief, in_kg, square};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::limits::MOST_RESERVE;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::priors::{PERSONAL, Population, Prior};

/// How likely the first set ever of a lift is a warm-up or feeler: nothing said, and rated as hard.
/// Trade practice, no source.
const FIRST_EASY: (f64, f64) = (0.15, 0.03);
/// Log 1RM over log load of a warm-up, and its spread: a third to three quarters of the maximum.
/// Common practice, no source.
const WARM_UP_AT: (f64, f64) = (0.7, 0.3);
/// Days that the population's wobble counts for.
const WOBBLE_WEIGHT: f64 = 6.0;

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
            related,
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
            course: Course::default(),
            doubted: (0.0, 0),
            surprise: 0.0,
            log_one_rm: (0.0, 0.0),
            sets: 0,
            guesses: 0,
            ramp: Ramp::default(),
            related: None,
            lately: Lately {
                first_day: day.num_days_from_ce(),
                ..Lately::default()
            },
        }
    }
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
