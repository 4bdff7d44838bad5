//! What a set may have been: as hard as it was meant, easy, a slip or a bad one, or the first of a
//! lifter who has changed.
//!
//! Only how likely each is before its repetitions are looked at stands here; what it then says of
//! strength is [`super::report`]'s, and what becomes of the belief [`super::model`]'s. All figures are
//! trade practice, no source, chosen on made-up lifters.

use std::cmp::Ordering;

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::effort::Rir;

/// What a set may have been.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Explanation {
    /// Ended where it was meant to, or where it is said to have ended.
    Meant,
    /// Easy: a warm-up without the word, a feeler, light on purpose. It shows a floor and no top.
    Easy,
    /// It says nothing: a slip of the keyboard, a set cut short, a bad one.
    Nothing,
    /// As meant, by a lifter whose strength is no more what it was, or was never known.
    Changed,
    /// As meant, on a day that is far from the usual: a bad night, a cold. The next day it is gone.
    OddDay,
}

/// What is known of a set before its repetitions are looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Setting {
    /// First work set of the exercise on its day.
    pub(crate) first: bool,
    /// Whether the member was asked about the numbers and said yes.
    pub(crate) confirmed: bool,
    /// Work sets of the exercise learned before, those left out whose reserve was a guess.
    pub(crate) sets: u32,
    /// Where the last set is of the same day and taken to have been easy: how this load lies to its
    /// load.
    pub(crate) easy_before: Option<Ordering>,
    /// Whether the load is well under that of the hard sets of the day, or of the last one.
    pub(crate) under_usual: bool,
    /// Whether such a load was on the way up on both of the last days.
    pub(crate) on_the_way: bool,
    /// Repetitions to failure expected of the load.
    pub(crate) to_failure: f64,
}

/// Probability that a set of which nothing was said is easy: the first of a day, and later ones.
const EASY_UNSAID: (f64, f64) = (0.08, 0.01);
/// The same for one said to have ended near failure.
const EASY_RATED: (f64, f64) = (0.01, 0.005);
/// After one that was easy, at less load and at the same: nothing said, and rated.
const EASY_LIGHTER: (f64, f64) = (0.6, 0.15);
const EASY_AGAIN: (f64, f64) = (0.3, 0.08);
/// A set well under the usual load, by this share, of which nothing was said is often easy, since hard
/// ones are done at the load that is usual; and how often.
pub(crate) const UNDER_USUAL: f64 = 0.85;
const EASY_UNDER_USUAL: f64 = 0.3;
/// The same of one at a load that was on the way up on both of the last days.
const EASY_ON_THE_WAY: f64 = 0.8;
/// Share of easy sets that repeat the count of the easy set before, at the same load: they end at a
/// number, where hard ones end with the muscle.
const SAME_COUNT: f64 = 0.6;
/// Repetitions expected to failure from which a load is light, and from which plainly; and how likely
/// a set of which nothing was said is then easy.
const LIGHT: (f64, f64, f64) = (18.0, 30.0, 0.4);
/// The same for a rated one.
const LIGHT_RATED: f64 = 0.15;
/// Probability of a set that says nothing, of a number that was confirmed, of a lifter well known and little known, and
/// of one that was not: what is beyond all that was seen is vouched for with a tap now and then.
const NOTHING_CONFIRMED: (f64, f64) = (0.03, 0.001);
const NOTHING: f64 = 0.006;
/// The same of a failed attempt: for want of a groove, or a key that was missed.
const NOTHING_FAILED: f64 = 0.3;
/// Reserve up to which a report leaves little doubt that a set was hard, and the share of the above that
/// is left of it then.
const PLAINLY_HARD: (f64, f64) = (1.0, 0.2);
/// Density of the repetitions of a set that says nothing: under those expected, and over them, where
/// only a slip explains it.
const SPAN_OF_NOTHING: (f64, f64) = (15.0, 60.0);
/// Probability that strength has changed: confirmed, of a lifter little known, and of one well known.
const CHANGED: (f64, f64, f64) = (0.5, 0.05, 0.004);
/// Share of that where the attempt failed: it may have failed for much else.
const CHANGED_FAILED: f64 = 0.1;
/// Work sets after which a lifter is well known.
const WELL_KNOWN: u32 = 6;
/// Spread of a change, log.
pub(crate) const CHANGE: f64 = 0.30;
/// Probability that a day is far from the usual.
const ODD_DAY: f64 = 0.02;
/// Spread of the form on such a day, log: good and bad days lie more often far out than a bell curve
/// has it.
pub(crate) const ODD_FORM: f64 = 0.08;

impl Setting {
    /// How likely each explanation is.
    pub(crate) fn chances(&self, set: &LoggedSet) -> [(Explanation, f64); 5] {
        let rated = set.rated();
        let changed = match () {
            () if set.reps == 0 => CHANGED_FAILED * CHANGED.2,
            () if self.confirmed => CHANGED.0,
            () if self.sets < WELL_KNOWN => CHANGED.1,
            () => CHANGED.2,
        };
        let nothing = match self.confirmed {
            _ if set.reps == 0 => NOTHING_FAILED,
            true if self.sets < WELL_KNOWN => NOTHING_CONFIRMED.1,
            true => NOTHING_CONFIRMED.0,
            false => NOTHING,
        };
        let easy = match set.kind {
            _ if set.gave_out.is_some() || set.reps == 0 => 0.0,
            SetKind::WarmUp => 1.0,
            // Fewer go than of the plain lift, nobody knows by how many.
            _ if set.slowed && self.under_usual => 1.0,
            _ => self.easy(rated),
        };
        // Whatever the day is like, its first set shows it.
        let odd = match self.first && set.reps > 0 {
            true => ODD_DAY,
            false => 0.0,
        };
        let rest = (1.0 - changed - nothing - odd).max(0.0);
        [
            (Explanation::Meant, rest * (1.0 - easy)),
            (Explanation::Easy, rest * easy),
            (Explanation::Nothing, nothing),
            (Explanation::Changed, changed),
            (Explanation::OddDay, odd),
        ]
    }

    fn easy(&self, rated: Option<Rir>) -> f64 {
        let pick = |(unsaid, said): (f64, f64)| match rated {
            None => unsaid,
            Some(rir) if rir.reps() <= PLAINLY_HARD.0 => PLAINLY_HARD.1 * said,
            Some(_) => said,
        };
        match self.easy_before {
            Some(Ordering::Less) => return pick(EASY_LIGHTER),
            Some(Ordering::Equal) => return pick(EASY_AGAIN),
            Some(Ordering::Greater) | None => {}
        }
        let first = pick((EASY_UNSAID.0, EASY_RATED.0));
        let later = pick((EASY_UNSAID.1, EASY_RATED.1));
        let usual = match () {
            () if rated.is_none() && self.under_usual && self.on_the_way => EASY_ON_THE_WAY,
            () if rated.is_none() && self.under_usual => EASY_UNDER_USUAL,
            () if self.first || self.easy_before.is_some() => first,
            () => later,
        };
        let (from, plainly, most) = LIGHT;
        let light = ((self.to_failure - from) / (plainly - from)).clamp(0.0, 1.0);
        usual + light * (pick((most, LIGHT_RATED)) - usual).max(0.0)
    }
}

/// Density of `total` repetitions of a set that says nothing, where `expected` were.
pub(crate) fn density_of_nothing(total: f64, expected: f64) -> f64 {
    let (under, over) = SPAN_OF_NOTHING;
    if total <= expected {
        1.0 / under
    } else {
        1.0 / over
    }
}

/// Log of the factor on the density of an easy set's repetitions from how they repeat those of an easy
/// set before at the same load; 0 where there was none.
pub(crate) fn repeats(setting: &Setting, reps: u32, before: u32) -> f64 {
    match setting.easy_before {
        Some(Ordering::Equal) if reps == before => (SAME_COUNT * 12.0).ln(),
        Some(Ordering::Equal) => (1.0 - SAME_COUNT).ln(),
        _ => 0.0,
    }
}
