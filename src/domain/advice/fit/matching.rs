//! The best way to do exercises alone and in pairs, at given prices of their sets and of time.
//!
//! Each exercise is in one pair at most, so this is a matching of most weight, found over all subsets
//! of the exercises:
//!
//! ```text
//! most(S) = max( most(S − i) + alone(i),  most(S − i − j) + pair(i, j) over j )    i the first of S
//! ```
//!
//! Where there are too many for that, each takes half of the best pair that it could be in, which in
//! sum is never less than any matching. *Source*: the subsets as in Held M, Karp RM 1962, J SIAM
//! 10(1):196-210 (from memory).

use super::Taken;
use super::items::{Items, Partner};

/// Most exercises of which all subsets are looked at.
const MOST_MATCHED: usize = 12;
/// Sets of a partner that are looked at together.
const LANES: usize = 8;

/// The value of every subset of the open exercises.
pub(super) struct Matching {
    /// The open exercises, by place.
    open: Vec<usize>,
    /// By place, the best number of sets alone.
    alone: Vec<Way>,
    /// By place of the first, pairs that are better than both alone.
    pairs: Vec<Vec<Pair>>,
    /// By subset of places, a bit each; empty where there are too many, or no pairs.
    table: Vec<f64>,
    /// By place, what it brings at most, where there is no table.
    shares: Vec<Way>,
}

/// Sets of an exercise with their value and time.
#[derive(Clone, Copy, Debug, Default)]
struct Way {
    value: f64,
    sets: usize,
    seconds: f64,
}

/// Two in turn, with the best numbers of sets.
#[derive(Clone, Copy, Debug)]
struct Pair {
    /// The place of the second.
    second: usize,
    value: f64,
}

/// What exercises are worth and cost.
#[derive(Clone, Copy)]
pub(super) struct Terms<'a> {
    pub(super) items: &'a Items,
    /// By exercise, the seconds before its first set.
    pub(super) ready: &'a [u32],
    /// By exercise, what so many of its sets are worth.
    pub(super) gains: &'a [Vec<f64>],
    /// Price of a second.
    pub(super) rate: f64,
}

impl Matching {
    /// Of the exercises in `mask`.
    pub(super) fn new(terms: &Terms<'_>, mask: u32) -> Self {
        let all = 0..terms.items.items.len();
        let open: Vec<usize> = all.filter(|i| mask & 1 << i != 0).collect();
        let alone: Vec<Way> = open.iter().map(|&index| terms.alone(index)).collect();
        let mut matching = Self {
            pairs: Vec::with_capacity(open.len()),
            table: Vec::new(),
            shares: Vec::new(),
            alone,
            open,
        };
        for place in 0..matching.open.len() {
            matching.pairs.push(matching.pairs_of(terms, place));
        }
        if matching.open.len() <= MOST_MATCHED && matching.pairs.iter().any(|of| !of.is_empty()) {
            matching.table = matching.every_subset();
        } else {
            matching.shares = matching.halves_of_pairs(terms);
        }
        matching
    }

    fn pairs_of(&self, terms: &Terms<'_>, place: usize) -> Vec<Pair> {
        let index = self.open[place];
        let pair = |partner: &Partner| {
            let second = self.open.binary_search(&partner.index).ok()?;
            let value = terms.in_turn(index, partner);
            let apart = self.alone[place].value + self.alone[second].value;
            (value > apart).then_some(Pair { second, value })
        };
        let partners = terms.items.items[index].partners.iter();
        partners.filter_map(pair).collect()
    }

    fn every_subset(&self) -> Vec<f64> {
        let mut table = vec![0.0; 1 << self.open.len()];
        for subset in 1..table.len() {
            let first = subset.trailing_zeros() as usize;
            let rest = subset & (subset - 1);
            let mut most = table[rest] + self.alone[first].value;
            for pair in &self.pairs[first] {
                if rest & 1 << pair.second != 0 {
                    most = most.max(table[rest & !(1 << pair.second)] + pair.value);
                }
            }
            table[subset] = most;
        }
        table
    }

    fn halves_of_pairs(&self, terms: &Terms<'_>) -> Vec<Way> {
        let mut shares = self.alone.clone();
        for (first, pairs) in self.pairs.iter().enumerate() {
            for pair in pairs {
                let (sets, seconds) = self.sets_of(terms, first, pair);
                for (place, sets) in [(first, sets.0), (pair.second, sets.1)] {
                    if pair.value / 2.0 > shares[place].value {
                        shares[place] = Way {
                            value: pair.value / 2.0,
                            sets,
                            seconds: seconds / 2.0,
                        };
                    }
                }
            }
        }
        shares
    }

    /// The best numbers of sets of a pair, with their seconds.
    fn sets_of(&self, terms: &Terms<'_>, first: usize, pair: &Pair) -> ((usize, usize), f64) {
        terms.sets_in_turn(self.open[first], self.open[pair.second])
    }

    /// The value of all open exercises.
    pub(super) fn all(&self) -> f64 {
        self.without(0)
    }

    /// The value without some exercises, a bit each.
    pub(super) fn without(&self, decided: u32) -> f64 {
        let open = self.open.iter().enumerate();
        let stays = open.filter(|(_, index)| decided & 1 << **index == 0);
        if self.table.is_empty() {
            return stays.map(|(place, _)| self.shares[place].value).sum();
        }
        let subset = stays.fold(0_usize, |subset, (place, _)| subset | 1 << place);
        self.table[subset]
    }

    /// The best choice, with its seconds; halves of pairs where there is no table.
    pub(super) fn best(&self, terms: &Terms<'_>) -> (Vec<Taken>, f64) {
        let mut chosen = Vec::with_capacity(self.open.len());
        let mut seconds = 0.0;
        let mut take = |place: usize, sets: usize| {
            let candidate = self.open[place];
            chosen.push(Taken { candidate, sets });
        };
        if self.table.is_empty() {
            for (place, share) in self.shares.iter().enumerate() {
                take(place, share.sets);
                seconds += share.seconds;
            }
            return (chosen, seconds);
        }
        let mut subset = self.table.len() - 1;
        while subset != 0 {
            let first = subset.trailing_zeros() as usize;
            let rest = subset & (subset - 1);
            let is_taken = |pair: &&Pair| {
                let after = rest & !(1 << pair.second);
                after != rest && self.table[subset] <= self.table[after] + pair.value
            };
            match self.pairs[first].iter().find(is_taken) {
                Some(pair) => {
                    let (sets, took_s) = self.sets_of(terms, first, pair);
                    take(first, sets.0);
                    take(pair.second, sets.1);
                    seconds += took_s;
                    subset = rest & !(1 << pair.second);
                }
                None => {
                    let way = self.alone[first];
                    take(first, way.sets);
                    seconds += way.seconds;
                    subset = rest;
                }
            }
        }
        (chosen, seconds)
    }
}

impl Terms<'_> {
    fn ready_s(&self, index: usize) -> f64 {
        f64::from(self.ready[index])
    }

    /// What so many sets of an exercise are worth, from one on.
    fn gains_of(&self, index: usize) -> &[f64] {
        &self.gains[index][1..]
    }

    /// The best number of sets alone.
    fn alone(&self, index: usize) -> Way {
        let mut best = Way::default();
        let runs = self.items.items[index].runs.iter().skip(1);
        let before = self.ready_s(index);
        for (sets, (&gain, &run_s)) in self.gains_of(index).iter().zip(runs).enumerate() {
            let seconds = before + f64::from(run_s);
            let value = gain - self.rate * seconds;
            if value > best.value {
                best = Way {
                    value,
                    sets: sets + 1,
                    seconds,
                };
            }
        }
        best
    }

    /// What an exercise and its partner in turn are worth with the best numbers of sets.
    fn in_turn(&self, index: usize, partner: &Partner) -> f64 {
        let mut best = f64::NEG_INFINITY;
        for (chunk, gains) in self.gains_of(partner.index).chunks(LANES).enumerate() {
            // By sets of the partner, the most over sets of the first: plain enough for lanes.
            let mut most = [f64::NEG_INFINITY; LANES];
            for (gain, runs) in self.gains_of(index).iter().zip(&partner.runs_s) {
                let runs = runs.get(chunk * LANES..).unwrap_or_default();
                for (most, run_s) in most.iter_mut().zip(runs) {
                    let value = gain - self.rate * run_s;
                    *most = if value > *most { value } else { *most };
                }
            }
            for (most, gain) in most.iter().zip(gains) {
                best = best.max(most + gain);
            }
        }
        best - self.rate * (self.ready_s(index) + self.ready_s(partner.index))
    }

    /// Those numbers, with the seconds.
    fn sets_in_turn(&self, index: usize, other: usize) -> ((usize, usize), f64) {
        let partners = self.items.items.get(index).map(|item| item.partners.iter());
        let partner = partners
            .into_iter()
            .flatten()
            .find(|one| one.index == other);
        let (mut best, mut sets, mut seconds) = (f64::NEG_INFINITY, (0, 0), 0.0);
        let runs = partner.into_iter().flat_map(|partner| &partner.runs_s);
        for (first, (gain, runs)) in self.gains_of(index).iter().zip(runs).enumerate() {
            for (second, (more, run_s)) in self.gains_of(other).iter().zip(runs).enumerate() {
                let value = gain + more - self.rate * run_s;
                if value > best {
                    (best, sets, seconds) = (value, (first + 1, second + 1), *run_s);
                }
            }
        }
        (sets, seconds + self.ready_s(index) + self.ready_s(other))
    }
}
