//! The form of the day: what it has in common over a day's lifts.
//!
//! Who slept badly is weaker on every lift of the day. A lift's own form is kept with its belief
//! ([`super::belief`]); here is what the lifts done so far tell of those to come.
//!
//! ```text
//! form(lift) = s + e      s ~ N(0, 0.7 w²) for all lifts of a day, e ~ N(0, 0.3 w²) for each
//! ```
//!
//! *Source*: trade practice; w is the wobble of [`crate::domain::quantities::priors`], learned for each lift.

use super::codec::{Reader, Writer};
use crate::domain::quantities::calendar::seconds_between;

/// Share of the variance of a lift's form that all lifts of the day share. Trade practice, no source:
/// sleep, illness and food reach every muscle.
const SHARED: f64 = 0.7;
/// Sets further apart than this are of different days, milliseconds.
const ONE_DAY_MS: i64 = 12 * 3_600_000;
/// Share of a day's form that is still there the next moment of training, and the days in which it falls
/// to 37 %: a cold or a bad fortnight outlasts a day. Trade practice, no source.
const CARRIED: f64 = 0.3;
const CARRIED_DAYS: f64 = 5.0;
/// No lift tells of a form further from the usual than this, log.
const MOST: f64 = 0.15;
/// A day is odd, and no less known than others, whose form moved by more than this many times its variance, squared. Trade
/// practice, no source.
const ODD_FROM: f64 = 2.0;
/// What its lift tells of the others counts for this share of what is known of them beforehand.
const ODD_WEIGHT: f64 = 0.5;
/// Spread of the form that is expected by others, as a share of it. Trade practice, no source.
const DOUBT: f64 = 0.5;

/// What some lifts tell of the shared part: a weight, 1 over a variance, and the weighted sum.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct DayEvidence {
    weight: f64,
    sum: f64,
}

impl DayEvidence {
    /// What a lift tells whose form was `before`, a mean and a variance, and is `after` by its sets;
    /// `usual` is the variance of its form from day to day.
    pub(crate) fn by(before: (f64, f64), after: (f64, f64), usual: f64) -> Self {
        let precision = 1.0 / after.1 - 1.0 / before.1;
        // Far from the usual, nobody knows how far.
        if after.1 > before.1 && (after.0 - before.0).powi(2) > ODD_FROM * after.1 {
            let weight = ODD_WEIGHT / (SHARED * usual);
            return Self {
                weight,
                sum: weight * after.0.clamp(-MOST, MOST),
            };
        }
        if precision.is_nan() || precision <= 1e-3 {
            return Self::default();
        }
        let seen = (after.0 / after.1 - before.0 / before.1) / precision;
        let weight = 1.0 / (1.0 / precision + (1.0 - SHARED) * usual);
        Self {
            weight,
            sum: weight * seen.clamp(-MOST, MOST),
        }
    }

    pub(crate) fn write(self, row: &mut Writer) {
        row.reals(&[self.weight, self.sum]);
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        Some(Self {
            weight: row.real()?,
            sum: row.real()?,
        })
    }
}

/// What the lifts of a day have told so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct DayEffect {
    /// Time of the last set that told, milliseconds since 1970.
    at_ms: i64,
    told: DayEvidence,
}

impl DayEffect {
    /// The form to expect of a lift at `at_ms` that was not done yet that day: mean and variance, where
    /// `usual` is its variance from day to day.
    pub(crate) fn expected(&self, at_ms: i64, usual: f64) -> (f64, f64) {
        let precision = 1.0 / (SHARED * usual) + self.told.weight;
        if !self.is_of(at_ms) {
            let days = seconds_between(self.at_ms, at_ms) / 86_400.0;
            let kept = CARRIED * (-days / CARRIED_DAYS).exp();
            return (kept * self.told.sum / precision, usual);
        }
        let mean = self.told.sum / precision;
        let variance = 1.0 / precision + (1.0 - SHARED) * usual;
        (mean, variance + (DOUBT * mean).powi(2))
    }

    /// With what a lift now tells in place of what it told before on the same day.
    pub(crate) fn with(&self, at_ms: i64, now: DayEvidence, before: DayEvidence) -> Self {
        let told = match self.is_of(at_ms) {
            true => DayEvidence {
                weight: (self.told.weight + now.weight - before.weight).max(0.0),
                sum: self.told.sum + now.sum - before.sum,
            },
            false => now,
        };
        Self { at_ms, told }
    }

    fn is_of(&self, at_ms: i64) -> bool {
        at_ms.saturating_sub(self.at_ms) < ONE_DAY_MS
    }

    pub(crate) fn write(&self, row: &mut Writer) {
        row.int(self.at_ms);
        self.told.write(row);
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        Some(Self {
            at_ms: row.int()?,
            told: DayEvidence::read(row)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const USUAL: f64 = 0.02 * 0.02;
    const HOUR_MS: i64 = 3_600_000;

    #[test]
    fn a_bad_first_lift_lets_expect_a_bad_second_one_of_the_same_day() {
        let bad = DayEvidence::by((0.0, USUAL), (-0.03, 0.3 * USUAL), USUAL);
        let form = DayEffect::default().with(100 * HOUR_MS, bad, DayEvidence::default());
        let (mean, variance) = form.expected(101 * HOUR_MS, USUAL);
        assert!((-0.03..-0.01).contains(&mean), "{mean}");
        assert!(variance < USUAL && variance > (1.0 - SHARED) * USUAL);
        let (later, usual) = form.expected(150 * HOUR_MS, USUAL);
        assert!(mean < later && later < 0.0 && later > 0.3 * mean, "{later}");
        assert_eq!(usual.to_bits(), USUAL.to_bits());
        assert!(form.expected(1_500 * HOUR_MS, USUAL).0.abs() < 1e-6);
    }

    #[test]
    fn a_lift_far_from_its_usual_form_tells_though_nobody_knows_how_far() {
        let odd = DayEvidence::by((0.0, USUAL), (-0.1, 6.0 * USUAL), USUAL);
        let form = DayEffect::default().with(HOUR_MS, odd, DayEvidence::default());
        let (mean, variance) = form.expected(2 * HOUR_MS, USUAL);
        assert!((-0.05..-0.02).contains(&mean), "{mean}");
        assert!(variance > (1.0 - SHARED) * USUAL + 0.2 * mean.powi(2));
    }

    #[test]
    fn what_a_lift_told_is_replaced_and_not_added() {
        let first = DayEvidence::by((0.0, USUAL), (-0.03, 0.5 * USUAL), USUAL);
        let second = DayEvidence::by((0.0, USUAL), (-0.01, 0.3 * USUAL), USUAL);
        let alone = DayEffect::default().with(HOUR_MS, second, DayEvidence::default());
        let after = DayEffect::default().with(HOUR_MS, first, DayEvidence::default());
        let after = after.with(HOUR_MS, second, first);
        let (one, other) = (
            alone.expected(HOUR_MS, USUAL),
            after.expected(HOUR_MS, USUAL),
        );
        assert!((one.0 - other.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12);
    }

    #[test]
    fn what_taught_nothing_tells_nothing() {
        assert_eq!(
            DayEvidence::by((0.0, USUAL), (0.0, USUAL), USUAL),
            DayEvidence::default()
        );
        assert_eq!(
            DayEvidence::by((0.0, USUAL), (0.01, 2.0 * USUAL), USUAL),
            DayEvidence::default()
        );
    }
}
