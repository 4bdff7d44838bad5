//! Which of a session's sets fit into the minutes there are, so that the most needed ones are done.
//!
//! Here stand the types and what a set is worth; [`clock`] reckons the time that sets take,
//! `search` finds the best choice, [`predict`] what this lifter's sets and rests will be. What is
//! planned and what a week still lacks come in as numbers.

mod bound;
pub mod clock;
mod items;
mod matching;
pub mod predict;
mod search;

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::coaching::week::Band;
use crate::domain::quantities::id::MuscleId;

pub use search::best;

/// Fewest minutes that a session is fitted into.
pub const FEWEST_MINUTES: u32 = 10;
/// Most minutes that a session is fitted into.
pub const MOST_MINUTES: u32 = 180;

/// What a planned set is worth by itself, because the coach planned it: time that is left over goes
/// to it even when no muscle needs it.
const PLANNED_WORTH: u32 = 1;
/// What half a set is worth to a muscle: with nothing done, at the low edge of its band from below,
/// from above, and at its high edge. That the gain of a set falls as sets rise: Pelland JC et al.
/// 2026, Sports Med 56(2):481-505, doi 10.1007/s40279-025-02344-w; the figures are common practice,
/// no source.
const WORTH: [u32; 4] = [150, 100, 50, 10];

/// One work set to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetTime {
    /// Rest before it, seconds; of the first set, what is still to be waited for it.
    pub rest_s: u32,
    /// How long it takes, seconds.
    pub work_s: u32,
}

/// What an exercise asks for before its first set: the changeover and the warm-up sets, seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ready {
    /// Where its target muscle has done nothing yet.
    pub cold_s: u32,
    /// Where its target muscle has done work sets; at most as long.
    pub warm_s: u32,
}

/// An exercise of the session with the sets that are left of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// The muscle that it is for.
    pub target: MuscleId,
    /// What each set adds to the muscles, in half sets; empty where its sets will not count.
    pub halves: Vec<(MuscleId, u32)>,
    /// Every muscle that it works, for the pairing.
    pub works: Vec<MuscleId>,
    /// What goes before its first set.
    pub ready: Ready,
    /// Its sets in order; the first so many of them are done.
    pub sets: Vec<SetTime>,
    /// Whether it may be paired with an exercise that works other muscles.
    pub may_pair: bool,
    /// The candidate that the coach paired it with, by its place.
    pub paired: Option<usize>,
}

/// Where a muscle stands before the session.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// Half sets that the week has without this session.
    pub halves: u32,
    /// What it is held against.
    pub band: Band,
}

impl Need {
    /// What one more half set is worth to a muscle that has `halves` of them: never more than the
    /// one before.
    ///
    /// ```text
    /// under the band   from 150 with nothing done down to 100
    /// in the band      from 50 down to 10
    /// over the band    0
    /// ```
    #[must_use]
    fn worth(band: Band, halves: u32) -> u32 {
        let [empty, low, met, high] = WORTH;
        let (from, to) = (2 * band.low, 2 * band.high);
        let falling = |top: u32, end: u32, at: u32, of: u32| top - (top - end) * at / of;
        if halves < from {
            falling(empty, low, halves, from)
        } else if halves < to {
            falling(met, high, halves - from, to - from)
        } else {
            0
        }
    }
}

/// A session to be fitted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Task {
    /// The time there is, seconds.
    pub seconds: u32,
    /// What may be done, in the order of the plan; thirty at most are looked at.
    pub candidates: Vec<Candidate>,
    /// Where the muscles stand; one that is not listed needs nothing.
    pub needs: BTreeMap<MuscleId, Need>,
    /// Muscles that did work sets in this session.
    pub warm: BTreeSet<MuscleId>,
    /// Whether exercises that work different muscles may be done in turn, beside those that the
    /// coach paired.
    pub pairs: bool,
}

/// Sets taken of one candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Its place among the candidates.
    pub candidate: usize,
    /// How many of its sets, at least one.
    pub sets: usize,
}

/// A stretch of the session: one exercise, or two in turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// The exercise that begins.
    pub first: Taken,
    /// The one done in turn with it.
    pub second: Option<Taken>,
}

impl Stretch {
    /// What is taken, in order.
    pub fn taken(&self) -> impl Iterator<Item = Taken> {
        std::iter::once(self.first).chain(self.second)
    }
}

/// The best choice.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fit {
    /// In order; a pair stands where its first exercise stood.
    pub stretches: Vec<Stretch>,
    /// What its sets are worth together.
    pub worth: u32,
    /// Pairs that are not the coach's.
    pub own_pairs: u32,
    /// How long it takes, seconds.
    pub seconds: u32,
    /// Whether nothing better exists; false only where a plan is too large to look at all of it.
    pub proven: bool,
    /// No choice is worth more than this.
    pub most: u32,
}

impl Fit {
    /// Sets taken of a candidate.
    #[must_use]
    pub fn sets_of(&self, candidate: usize) -> usize {
        let taken = self.stretches.iter().flat_map(Stretch::taken);
        let of = taken.filter(|taken| taken.candidate == candidate);
        of.map(|taken| taken.sets).sum()
    }

    /// All sets taken.
    #[must_use]
    pub fn sets(&self) -> usize {
        let taken = self.stretches.iter().flat_map(Stretch::taken);
        taken.map(|taken| taken.sets).sum()
    }
}

impl Task {
    /// Whether two candidates may be done in turn, and whether the coach said so.
    fn pairing(&self, one: usize, other: usize) -> Pairing {
        let (Some(a), Some(b)) = (self.candidates.get(one), self.candidates.get(other)) else {
            return Pairing::Never;
        };
        if a.paired == Some(other) || b.paired == Some(one) {
            return Pairing::Coach;
        }
        let apart = !a.works.iter().any(|muscle| b.works.contains(muscle));
        match self.pairs && a.may_pair && b.may_pair && apart {
            true => Pairing::Own,
            false => Pairing::Never,
        }
    }
}

/// Whether two exercises are done in turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pairing {
    Never,
    /// To save time.
    Own,
    /// As planned.
    Coach,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worth_falls_with_what_the_week_has_and_is_most_under_the_band() {
        for (low, high) in [(0, 0), (0, 20), (4, 12), (10, 20), (12, 12), (60, 60)] {
            let band = Band { low, high };
            let worth: Vec<u32> = (0..130).map(|halves| Need::worth(band, halves)).collect();
            assert!(
                worth.windows(2).all(|pair| pair[0] >= pair[1]),
                "{low}-{high}"
            );
            for (halves, worth) in (0..).zip(worth) {
                let expected = match halves {
                    _ if halves < 2 * low => 100..=150,
                    _ if halves < 2 * high => 10..=50,
                    _ => 0..=0,
                };
                assert!(expected.contains(&worth), "{low}-{high}, {halves}: {worth}");
            }
        }
    }
}
