//! How right the advice was: what was said of the next set is kept with the reply and held against
//! what was done, beside the plainest guess there is, the same as last time.
//!
//! A set counts where it was done as it was foretold: at that load, after about that rest, ended at about
//! that effort, and posted by itself as it was done. What was said is never worked out anew; what was done is
//! corrected with the log, as far back as the last two dozen such sets.

use std::collections::BTreeMap;

use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

use super::work::{Work, is_work};
use crate::bot::state::{LogEntry, Member};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Reason};
use crate::domain::log::SetKind;

/// Share of the weight of earlier predictions that survives the next: the last thirty or so count.
const MEMORY: f64 = 0.97;
/// Sets later than this after what was said are no answer to it.
const STALE: Duration = Duration::hours(12);
/// So many of the last sets that were foretold are kept singly, to be corrected with the log.
const CORRECTED: usize = 24;
/// A set that is ended so many repetitions sooner or later than was said is no answer to it.
const SAME_EFFORT: f64 = 1.0;
/// A rest within these shares of the advised one, and seconds beyond, is the one that was meant.
const AS_TOLD: (f64, f64, f64) = (0.6, 1.6, 60.0);

/// What was said of the next set of an exercise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Foretold {
    /// When.
    at: DateTime<Utc>,
    /// Mass of the load, tenths of a microgram, and its basis as a word.
    load: (i64, String),
    /// Rest, seconds; 0 before the first set of a day.
    rest_s: u32,
    /// Median of the repetitions.
    median: f64,
    /// Interval of the repetitions, both included.
    span: (u32, u32),
    /// Repetitions in reserve at which the set is ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rir: Option<f64>,
    /// Repetitions of the set before, or of the first set the last time, at the same load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    before: Option<u32>,
}

impl Foretold {
    fn is_fresh(&self, filed: &LogEntry) -> bool {
        filed.set.at >= self.at && filed.set.at - self.at < STALE
    }

    /// The repetitions of a set that was done as foretold; `None` for any other. `met`: whether the rest was
    /// the one that was meant, and the word not stale.
    fn answered_by(&self, filed: &LogEntry, met: bool) -> Option<u32> {
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
struct Held {
    lift: String,
    message: String,
    place: u32,
    said: Foretold,
    /// Whether the rest was as said, and the word not stale.
    met: bool,
    /// What is counted; `None` where it was not done as foretold.
    reps: Option<u32>,
}

impl Held {
    fn is_of(&self, filed: &LogEntry) -> bool {
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
    fn with(self, said: &Foretold, reps: u32) -> Self {
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
    fn before(self, said: &Foretold, reps: u32) -> Self {
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
    #[must_use]
    pub fn error(&self) -> f64 {
        self.error / self.weight.max(1.0)
    }

    /// Mean of the median less what was done, repetitions.
    #[must_use]
    pub fn bias(&self) -> f64 {
        self.over / self.weight.max(1.0)
    }

    /// Share of sets within the interval.
    #[must_use]
    pub fn held(&self) -> f64 {
        self.held / self.weight.max(1.0)
    }

    /// Mean distance of repeating the last time, and ours on the same sets; `None` before there was
    /// one.
    #[must_use]
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
const LOADS_KEPT: Duration = Duration::days(200);

impl Loads {
    /// With one more set.
    fn with(mut self, told: i64, done: i64) -> Self {
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
    #[must_use]
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
    open: BTreeMap<String, Foretold>,
    /// What was said last where a load or rest of the member's own was asked about.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    wondered: BTreeMap<String, Foretold>,
    /// The last sets of which something was said, in order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    last: Vec<Held>,
    /// How right it was.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub by_lift: BTreeMap<String, Accuracy>,
    /// How the loads agreed with those advised, by day.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub loads: BTreeMap<NaiveDate, Loads>,
    /// First set of the last day, by exercise: load and repetitions.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    opened: BTreeMap<String, ((i64, String), u32)>,
}

impl Predictions {
    /// Whether nothing is kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Keeps a set of which something was said.
    fn hold(&mut self, held: Held) {
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
    fn recount(&mut self, place: usize, reps: Option<u32>) {
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
    #[must_use]
    pub fn all(&self) -> Accuracy {
        let lifts = self.by_lift.values();
        lifts.fold(Accuracy::default(), |sum, lift| sum.and(lift))
    }
}

fn load_of(filed: &LogEntry) -> (i64, String) {
    let load = filed.set.load;
    (load.mass.tenth_micrograms(), load.basis.word().to_owned())
}

impl Work<'_> {
    /// Keeps what is said of the next set.
    pub(crate) fn foretell(&mut self, advice: &Advice) {
        let name = self.view.name_of(advice.exercise).to_owned();
        let (Some(load), Some(expect)) = (advice.load, advice.expect) else {
            self.member.desk.predictions.open.remove(&name);
            return;
        };
        let wondered = advice.reason == Reason::Asked;
        let load = (load.mass.tenth_micrograms(), load.basis.word().to_owned());
        let run = self.run(advice.exercise);
        let last = run.iter().rfind(|set| set.kind != SetKind::WarmUp);
        let before = match last {
            Some(set) => (set.load.mass.tenth_micrograms() == load.0).then_some(set.reps),
            None => {
                let opened = self.member.desk.predictions.opened.get(&name);
                opened
                    .filter(|opened| opened.0 == load)
                    .map(|opened| opened.1)
            }
        };
        let said = Foretold {
            at: self.view.now,
            load,
            rest_s: last.map_or(0, |_| advice.rest_s),
            median: (expect.median * 100.0).round() / 100.0,
            span: (expect.low, expect.high),
            rir: Some(expect.rir.reps()),
            before,
        };
        let predictions = &mut self.member.desk.predictions;
        if wondered {
            predictions.wondered.insert(name, said);
        } else {
            predictions.wondered.remove(&name);
            predictions.open.insert(name, said);
        }
    }

    /// Holds sets that are about to be filed against what was said of them: a set posted as it was
    /// done, at the load and about the rest that were named.
    pub(crate) fn hold_against_foretold(&mut self, new: &[LogEntry]) {
        let [filed] = new else { return };
        if !is_work(filed) || filed.set.kind != SetKind::Straight || !filed.set.timed {
            return;
        }
        let name = self.view.name_of(filed.set.exercise).to_owned();
        let run = self.run(filed.set.exercise);
        let last = run.iter().rfind(|set| set.kind != SetKind::WarmUp);
        let load = load_of(filed);
        if last.is_none() {
            let opened = (load.clone(), filed.set.reps);
            self.member
                .desk
                .predictions
                .opened
                .insert(name.clone(), opened);
        }
        let predictions = &mut self.member.desk.predictions;
        let advised = predictions.open.remove(&name);
        let wondered = predictions.wondered.remove(&name);
        if let Some(said) = &advised {
            self.note_load(said, filed);
        }
        let wondered = wondered.filter(|said| said.load == load);
        let Some(said) = wondered.or(advised) else {
            return;
        };
        let (least, most, more) = AS_TOLD;
        let told_s = f64::from(said.rest_s);
        let rested = last.is_none_or(|last| {
            let taken = f64::from(filed.set.stated_rest_s.unwrap_or_else(|| {
                u32::try_from((filed.set.at - last.at).num_seconds()).unwrap_or(u32::MAX)
            }));
            (told_s * least..=told_s * most + more).contains(&taken)
        });
        let met = rested && said.is_fresh(filed);
        let reps = said.answered_by(filed, met);
        self.member.desk.predictions.hold(Held {
            lift: name,
            message: filed.message.clone(),
            place: filed.place,
            said,
            met,
            reps,
        });
    }

    /// Counts whether the load was the one advised.
    fn note_load(&mut self, said: &Foretold, filed: &LogEntry) {
        let done = load_of(filed);
        if said.load.1 != done.1 || !said.is_fresh(filed) {
            return;
        }
        let loads = &mut self.member.desk.predictions.loads;
        let oldest = self.view.today() - LOADS_KEPT;
        loads.retain(|day, _| *day >= oldest);
        let of_day = loads.entry(filed.set.day).or_default();
        *of_day = of_day.with(said.load.0, done.0);
    }

    /// Corrects what was counted where sets were taken out of the log or changed.
    pub(crate) fn hold_anew(&mut self, removed: &[LogEntry], revised: &[LogEntry]) {
        let name_of = |filed: &LogEntry| self.view.name_of(filed.set.exercise).to_owned();
        let names: Vec<String> = revised.iter().map(name_of).collect();
        let predictions = &mut self.member.desk.predictions;
        for place in 0..predictions.last.len() {
            let held = &predictions.last[place];
            if removed.iter().any(|filed| held.is_of(filed)) {
                predictions.recount(place, None);
                continue;
            }
            let now = revised.iter().zip(&names).find(|(set, _)| held.is_of(set));
            if let Some((filed, name)) = now {
                let reps = held.said.answered_by(filed, held.met);
                let same_lift = *name == held.lift;
                predictions.recount(place, reps.filter(|_| same_lift));
            }
        }
        let is_gone = |held: &Held| removed.iter().any(|filed| held.is_of(filed));
        predictions.last.retain(|held| !is_gone(held));
    }

    /// The same in words for whoever asks; a coach of whom nothing was foretold hears of the team.
    pub(crate) fn accuracy_in_words(&mut self) {
        let own = &self.member.desk.predictions;
        if self.member.coach && own.by_lift.is_empty() {
            self.accuracy(None);
        } else {
            self.tell(text::accuracy::in_words(own));
        }
    }

    /// How right the advice was: by lift for a member, by member for the coach of a team.
    pub(crate) fn accuracy(&mut self, name: Option<&str>) {
        if name.is_some() && !self.is_coach() {
            return;
        }
        let text = match name {
            Some(name) => match self.named(name) {
                Some(other) => text::accuracy::of_member(&other.name, &other.desk.predictions),
                None => return,
            },
            None if self.member.coach => {
                let own = &self.member;
                let members = self.loaded.members.iter();
                let members: Vec<&Member> = members
                    .map(|one| if one.id == own.id { own } else { one })
                    .collect();
                text::accuracy::of_team(&members)
            }
            None => text::accuracy::of_member(&self.member.name, &self.member.desk.predictions),
        };
        self.tell(text);
    }
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
