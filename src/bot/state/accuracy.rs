//! What was said of the next set, kept to be held against what was done.
//!
//! Kept with the member; [`crate::bot::handlers::accuracy`] says when something is taken in.

use std::collections::BTreeMap;

use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::{LogEntry, is_work};
use crate::domain::log::SetKind;

/// Share of the weight of earlier predictions that survives the next: the last thirty or so count.
const MEMORY: f64 = 0.97;
/// Sets later than this after what was said are no answer to it.
pub(crate) const STALE: Duration = Duration::hours(12);
/// So many of the last sets that were foretold are kept singly, to be corrected with the log.
const CORRECTED: usize = 24;
/// A set that is ended so many repetitions sooner or later than was said is no answer to it.
const SAME_EFFORT: f64 = 1.0;
/// A rest within these shares of the advised one, and seconds beyond, is the one that was meant.
pub(crate) const AS_TOLD: (f64, f64, f64) = (0.6, 1.6, 60.0);

/// What was said of the next set of an exercise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Foretold {
    /// When.
    pub(crate) at: DateTime<Utc>,
    /// Mass of the load, tenths of a microgram, and its basis as a word.
    pub(crate) load: (i64, String),
    /// Rest, seconds; 0 before the first set of a day.
    pub(crate) rest_s: u32,
    /// Median of the repetitions.
    pub(crate) median: f64,
    /// Interval of the repetitions, both included.
    pub(crate) span: (u32, u32),
    /// Repetitions in reserve at which the set is ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) rir: Option<f64>,
    /// Repetitions of the set before, or of the first set the last time, at the same load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) before: Option<u32>,
}

impl Foretold {
    pub(crate) fn is_fresh(&self, filed: &LogEntry) -> bool {
        filed.set.at >= self.at && filed.set.at - self.at < STALE
    }

    /// The repetitions of a set that was done as foretold; `None` for any other. `met`: whether the rest was
    /// the one that was meant, and the word not stale.
    pub(crate) fn answered_by(&self, filed: &LogEntry, met: bool) -> Option<u32> {
        let set = &filed.set;
        let plain = is_work(filed) && set.kind == SetKind::Straight && set.gave_out.is_none();
        let ended = set.rated().zip(self.rir);
        let as_hard = ended.is_none_or(|(left, said)| (left.reps() - said).abs() <= SAME_EFFORT);
        let fits = met && plain && as_hard && self.load == load_of(filed);
        fits.then_some(set.reps)
    }
}

/// A set of which something was said, kept while its numbers may be corrected.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Held {
    pub(crate) lift: String,
    pub(crate) message: String,
    pub(crate) place: u32,
    pub(crate) said: Foretold,
    /// Whether the rest was as said, and the word not stale.
    pub(crate) met: bool,
    /// What is counted; `None` where it was not done as foretold.
    pub(crate) reps: Option<u32>,
}

impl Held {
    pub(crate) fn is_of(&self, filed: &LogEntry) -> bool {
        self.message == filed.message && self.place == filed.place
    }
}

/// Sums over the last predictions of one lift, each a weighted sum.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Accuracy {
    /// Predictions ever.
    pub sets: u32,
    weight: f64,
    error: f64,
    over: f64,
    held: f64,
    /// The same where there was a last time, with the error of repeating it.
    again_weight: f64,
    again_error: f64,
    again_ours: f64,
}

/// A sum with as many digits as JSON gives back exactly, so that it goes on the same whether it was
/// read from a row or not.
fn kept(sum: f64) -> f64 {
    (sum * 1e6).round() / 1e6
}

impl Accuracy {
    /// With one more prediction and what was done.
    pub(crate) fn with(self, said: &Foretold, reps: u32) -> Self {
        let done = f64::from(reps);
        let error = (done - said.median).abs();
        let held = said.span.0 <= reps && reps <= said.span.1;
        let add = |sum: f64, one: f64| kept(sum * MEMORY + one);
        let mut next = Self {
            sets: self.sets.saturating_add(1),
            weight: add(self.weight, 1.0),
            error: add(self.error, error),
            over: add(self.over, said.median - done),
            held: add(self.held, f64::from(u8::from(held))),
            ..self
        };
        if let Some(before) = said.before {
            next.again_weight = add(self.again_weight, 1.0);
            next.again_error = add(self.again_error, (done - f64::from(before)).abs());
            next.again_ours = add(self.again_ours, error);
        }
        next
    }

    /// As it was before the last prediction: [`Accuracy::with`] taken back.
    pub(crate) fn before(self, said: &Foretold, reps: u32) -> Self {
        let one = Self::default().with(said, reps);
        let less = |sum: f64, one: f64| kept((sum - one) / MEMORY);
        let mut before = Self {
            sets: self.sets.saturating_sub(1),
            weight: less(self.weight, one.weight),
            error: less(self.error, one.error),
            over: less(self.over, one.over),
            held: less(self.held, one.held),
            ..self
        };
        if said.before.is_some() {
            before.again_weight = less(self.again_weight, one.again_weight);
            before.again_error = less(self.again_error, one.again_error);
            before.again_ours = less(self.again_ours, one.again_ours);
        }
        before
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: &Self) -> Self {
        Self {
            sets: self.sets.saturating_add(other.sets),
            weight: self.weight + other.weight,
            error: self.error + other.error,
            over: self.over + other.over,
            held: self.held + other.held,
            again_weight: self.again_weight + other.again_weight,
            again_error: self.again_error + other.again_error,
            again_ours: self.again_ours + other.again_ours,
        }
    }

    /// Mean distance from the median, repetitions.
    pub fn error(&self) -> f64 {
        self.error / self.weight.max(1.0)
    }

    /// Mean of the median less what was done, repetitions.
    pub fn bias(&self) -> f64 {
        self.over / self.weight.max(1.0)
    }

    /// Share of sets within the interval.
    pub fn held(&self) -> f64 {
        self.held / self.weight.max(1.0)
    }

    /// Mean distance of repeating the last time, and ours on the same sets; `None` before there was
    /// one.
    pub fn against_again(&self) -> Option<(f64, f64)> {
        let weight = self.again_weight;
        (weight > 0.0).then(|| (self.again_error / weight, self.again_ours / weight))
    }
}

/// Loads against those advised, over sets that were posted as they were done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Loads {
    /// As advised.
    pub as_told: u32,
    /// Heavier.
    pub heavier: u32,
    /// Lighter.
    pub lighter: u32,
}

/// A load within this share of the one advised is that one: no rack has finer steps.
const SAME_LOAD: f64 = 0.01;
/// Days for which agreement is kept.
pub(crate) const LOADS_KEPT: Duration = Duration::days(200);

impl Loads {
    /// With one more set.
    pub(crate) fn with(mut self, told: i64, done: i64) -> Self {
        let room = (ratio(told).abs() * SAME_LOAD).max(1.0);
        let off = ratio(done) - ratio(told);
        *match off {
            off if off > room => &mut self.heavier,
            off if off < -room => &mut self.lighter,
            _ => &mut self.as_told,
        } += 1;
        self
    }

    /// Both together.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self {
            as_told: self.as_told + other.as_told,
            heavier: self.heavier + other.heavier,
            lighter: self.lighter + other.lighter,
        }
    }

    /// How many sets there are.
    pub const fn sets(self) -> u32 {
        self.as_told + self.heavier + self.lighter
    }
}

#[expect(clippy::cast_precision_loss, reason = "a mass, to a millionth of it")]
const fn ratio(mass: i64) -> f64 {
    mass as f64
}

/// What is kept of predictions, by exercise name.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Predictions {
    /// What was said last of sets that are not done yet.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub(crate) open: BTreeMap<String, Foretold>,
    /// What was said last where a load or rest of the member's own was asked about.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub(crate) wondered: BTreeMap<String, Foretold>,
    /// The last sets of which something was said, in order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) last: Vec<Held>,
    /// How right it was.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub by_lift: BTreeMap<String, Accuracy>,
    /// How the loads agreed with those advised, by day.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub loads: BTreeMap<NaiveDate, Loads>,
    /// First set of the last day, by exercise: load and repetitions.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub(crate) opened: BTreeMap<String, ((i64, String), u32)>,
}

impl Predictions {
    /// Whether nothing is kept.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Keeps a set of which something was said.
    pub(crate) fn hold(&mut self, held: Held) {
        if let Some(reps) = held.reps {
            let lift = self.by_lift.entry(held.lift.clone()).or_default();
            *lift = lift.with(&held.said, reps);
        }
        self.last.push(held);
        if self.last.len() > CORRECTED {
            self.last.remove(0);
        }
    }

    /// Counts a set that was kept as one of so many repetitions, or not at all.
    pub(crate) fn recount(&mut self, place: usize, reps: Option<u32>) {
        if self.last[place].reps == reps {
            return;
        }
        let name = self.last[place].lift.clone();
        let mut lift = self.by_lift.get(&name).copied().unwrap_or_default();
        let counted = |last: &[Held]| -> Vec<(Foretold, u32)> {
            let of_lift = last[place..].iter().filter(|held| held.lift == name);
            of_lift
                .filter_map(|held| Some((held.said.clone(), held.reps?)))
                .collect()
        };
        for (said, reps) in counted(&self.last).iter().rev() {
            lift = lift.before(said, *reps);
        }
        self.last[place].reps = reps;
        for (said, reps) in counted(&self.last) {
            lift = lift.with(&said, reps);
        }
        match lift.sets {
            0 => self.by_lift.remove(&name),
            _ => self.by_lift.insert(name, lift),
        };
    }

    /// All lifts together.
    pub fn all(&self) -> Accuracy {
        let lifts = self.by_lift.values();
        lifts.fold(Accuracy::default(), |sum, lift| sum.and(lift))
    }
}

pub(crate) fn load_of(filed: &LogEntry) -> (i64, String) {
    let load = filed.set.load;
    (load.mass.tenth_micrograms(), load.basis.word().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(median: f64, span: (u32, u32), before: Option<u32>) -> Foretold {
        Foretold {
            at: DateTime::UNIX_EPOCH,
            load: (0, String::new()),
            rest_s: 0,
            median,
            span,
            rir: None,
            before,
        }
    }

    fn held(lift: &str, message: &str, said: Foretold, reps: Option<u32>) -> Held {
        Held {
            lift: lift.to_owned(),
            message: message.to_owned(),
            place: 0,
            said,
            met: true,
            reps,
        }
    }

    #[test]
    fn a_recount_is_as_if_it_had_been_so_from_the_start() {
        let one = || said(8.0, (7, 9), Some(8));
        let all = |second: Option<u32>| {
            let mut predictions = Predictions::default();
            predictions.hold(held("squat", "a", one(), Some(8)));
            predictions.hold(held("squat", "b", one(), second));
            predictions.hold(held("row", "c", said(12.0, (10, 14), None), Some(9)));
            predictions.hold(held("squat", "d", said(6.0, (5, 7), None), Some(9)));
            predictions
        };
        for (was, now) in [
            (Some(9), Some(19)),
            (Some(9), None),
            (None, Some(9)),
            (Some(9), Some(9)),
        ] {
            let mut recounted = all(was);
            recounted.recount(1, now);
            for (name, lift) in all(now).by_lift {
                let found = recounted.by_lift[&name];
                assert_eq!(found.sets, lift.sets, "{name} {was:?} {now:?}");
                for (found, wanted) in [
                    (found.error(), lift.error()),
                    (found.bias(), lift.bias()),
                    (found.held(), lift.held()),
                ] {
                    assert!((found - wanted).abs() < 1e-4, "{name} {was:?} {now:?}");
                }
            }
        }
        let mut alone = Predictions::default();
        alone.hold(held("squat", "a", one(), Some(8)));
        alone.recount(0, None);
        assert!(alone.by_lift.is_empty());
    }

    #[test]
    fn errors_bias_and_share_within_are_means_of_what_was_said() {
        let one = Accuracy::default().with(&said(8.0, (7, 9), None), 10);
        assert!((one.error() - 2.0).abs() < 1e-12);
        assert!((one.bias() + 2.0).abs() < 1e-12);
        assert!(one.held().abs() < 1e-12);
        assert_eq!(one.against_again(), None);
        let two = one.with(&said(9.0, (8, 10), Some(12)), 9);
        // The earlier of two weighs 0.97.
        assert!((two.error() - 0.97 * 2.0 / 1.97).abs() < 1e-12);
        assert!((two.held() - 1.0 / 1.97).abs() < 1e-12);
        assert_eq!(two.against_again(), Some((3.0, 0.0)));
        assert_eq!(two.and(&one).sets, 3);
    }
}
