//! What time does to a belief: drift and trend, days away and the way back, a new day's form.

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use super::super::condition::Condition;
use super::super::day_effect::DayEvidence;
use super::super::gaussian::{DAY, LEVEL, TREND};
use super::super::loss::loss;
use super::super::ramp::Ramp;
use super::{Belief, square};
use crate::domain::quantities::priors::Population;

const MS_A_DAY: f64 = 86_400_000.0;
/// Variance that the level gains a day, about 1 % in four days. Trade practice, no source.
const DRIFT_A_DAY: f64 = 0.005 * 0.005;
/// Most variance that drift alone adds at once.
const DRIFT_MOST: f64 = 0.1 * 0.1;
/// After this many days without the lift the trend no longer carries on. Trade practice.
const TREND_DAYS: f64 = 14.0;
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
/// The trend forgets with this time constant, days.
const TREND_MEMORY_DAYS: f64 = 120.0;
/// Variance that the day's form gains from set to set.
const FORM_A_SET: f64 = 0.006 * 0.006;
/// Two days in a row that were better than thought, or worse, by this, log, are a change and no form of the day; so much
/// of what they have in common is, and its spread as a share. Trade practice, no source.
const LASTING_FROM: f64 = 0.015;
const LASTING_SHARE: f64 = 0.7;
const LASTING_DOUBT: f64 = 0.5;
/// One odd day counts at most as so many usual ones: it says nothing of the others.
const ODD: f64 = 4.0;
/// Share of the weight of the wobble seen that survives a day.
const WOBBLE_MEMORY: f64 = 0.98;
const DAYS_A_WEEK: f64 = 7.0;

impl Belief {
    /// The belief as it stands at `at` on `day`: the level drifted, the trend carried on, and a
    /// new day's form unknown.
    ///
    /// ```text
    /// level ← level + trend · min(days trained, 14)/7 − loss(days away) + loss(usual gap) + what comes back
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
        // What goes from one usual day to the next is in what was seen.
        let lost = (lost - self.usual_gap_days().map_or(0.0, loss)).max(0.0);
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
            next.course.next_day();
            next.ramp = Ramp::default();
            if away > 0.0 {
                next.usual.come_back();
            }
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

#[expect(
    clippy::cast_precision_loss,
    reason = "milliseconds are far under 2^53"
)]
fn days_between(from_ms: i64, to_ms: i64) -> f64 {
    (to_ms.saturating_sub(from_ms).max(0)) as f64 / MS_A_DAY
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_two_days_have_in_common_is_lasting() {
        let is = |before: f64, form: f64, wanted: f64| {
            assert!(
                (lasting(before, form) - wanted).abs() < 1e-12,
                "{before} {form}"
            );
        };
        is(0.0, -0.1, 0.0);
        is(0.05, -0.1, 0.0);
        is(-0.01, -0.1, 0.0);
        is(-0.1, -0.04, -0.028);
        is(0.1, 0.04, 0.028);
    }
}
