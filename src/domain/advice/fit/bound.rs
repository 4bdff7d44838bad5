//! How much can still come of an undecided rest: a bound that is never too low.
//!
//! Time gets a price, and so does every muscle that several open candidates work; then each
//! candidate, or pair of them, can be looked at by itself:
//!
//! ```text
//! most = worth so far
//!      + time price · time left
//!      + Σ over priced muscles of the most that their worth is over the price
//!      + the most that open candidates, alone and in pairs, are over the prices
//! ```
//!
//! Any prices give a bound (weak duality, Fisher ML 1981, Manage Sci 27(1):1-18, from memory). Those
//! of muscles go toward their marginal worth at the best choice at the prices so far; that of time is
//! then where the tangents of both sides meet (Kelley JE 1960, J SIAM 8(4):703-712, from memory).
//!
//! The last term is a matching of most weight ([`super::matching`]).

use super::items::{Item, Items};
use super::matching::{Matching, Terms};
use super::{PLANNED_WORTH, Taken};

/// Prices of muscles tried for the first bound and for one behind it, and how slowly they move: the
/// first of them goes 2 parts of so many of the way.
const FIRST_ROUNDS: (u32, u32) = (40, 2);
/// See [`FIRST_ROUNDS`].
const ROUNDS: (u32, u32) = (2, 10);
/// Prices of time tried for each of them.
const TANGENTS: u32 = 2;

/// What is undecided.
pub(super) struct Open<'a> {
    /// The open candidates, a bit each.
    pub(super) mask: u32,
    pub(super) left_s: u32,
    /// Worth of what is chosen.
    pub(super) worth: u32,
    /// By muscle, the half sets of what is chosen.
    pub(super) halves: &'a [usize],
    /// By muscle, whether it is warm when more than 0.
    pub(super) warm: &'a [u32],
}

impl Open<'_> {
    pub(super) fn has(&self, index: usize) -> bool {
        self.mask & 1 << index != 0
    }

    /// Seconds before the first set of an item as things stand.
    pub(super) fn ready_s(&self, item: &Item) -> u32 {
        match self.warm.get(item.target) {
            Some(0) => item.cold_s,
            _ => item.warm_s,
        }
    }

    fn is_cold(&self, target: usize) -> bool {
        self.warm.get(target) == Some(&0)
    }
}

/// What prices are made of, kept from one bound to the next.
#[derive(Clone, Debug)]
pub(super) struct Prices {
    /// Of a second.
    second: f64,
    /// By muscle, the half sets that it will probably have in the end: what one more is worth then is
    /// the price of half a set.
    halves: Vec<f64>,
    /// Whether none were found yet.
    first: bool,
}

impl Prices {
    pub(super) fn none(items: &Items) -> Self {
        Self {
            second: 0.0,
            halves: vec![0.0; items.worth.len()],
            first: true,
        }
    }
}

/// A bound, and what each way on takes from it.
pub(super) struct Bound {
    /// Worth in the end, at most.
    pub(super) most: f64,
    /// Price of a second.
    rate: f64,
    /// By candidate, what so many of its sets are worth at the prices; nothing for those decided.
    gains: Vec<Vec<f64>>,
    matching: Matching,
    /// By muscle, the candidate that stands for getting its target warm, and what that takes.
    warmers: Vec<Option<Warmer>>,
}

/// Of several open candidates for a cold target one at least has to get it warm; one of them stands
/// for that, whichever it is in the end.
#[derive(Clone, Copy)]
struct Warmer {
    index: usize,
    /// How much longer getting ready takes, at least, because the target is cold.
    seconds: u32,
}

impl Bound {
    /// The best bound that some rounds of prices find, beginning with those in `prices`, which are
    /// left as the last found; no more rounds once `is_enough`.
    pub(super) fn new(
        items: &Items,
        open: &Open<'_>,
        prices: &mut Prices,
        is_enough: impl Fn(f64) -> bool,
    ) -> Self {
        let frame = Frame::new(items, open);
        let (rounds, slow) = if prices.first { FIRST_ROUNDS } else { ROUNDS };
        let mut best: Option<Self> = None;
        for round in 0..rounds {
            let (bound, sums) = frame.at_best_rate(prices, &is_enough);
            let better = best.as_ref().is_none_or(|best| bound.most < best.most);
            let enough = is_enough(bound.most);
            if better {
                best = Some(bound);
            }
            if enough {
                break;
            }
            frame.ask(&sums, 2.0 / f64::from(round + slow), &mut prices.halves);
        }
        prices.first = false;
        best.unwrap_or_else(|| frame.at_best_rate(prices, &is_enough).0)
    }

    /// The worth in the end, at most, when these sets are taken of the candidates that are `decided`,
    /// a bit each, in `seconds`.
    pub(super) fn with(
        &self,
        items: &Items,
        taken: impl Iterator<Item = Taken>,
        decided: u32,
        seconds: u32,
    ) -> f64 {
        let (mut gains, mut warmed_s) = (0.0, 0);
        for one in taken {
            let of = self.gains.get(one.candidate);
            gains += of
                .and_then(|of| of.get(one.sets))
                .copied()
                .unwrap_or_default();
            let target = items.items.get(one.candidate).map(|item| item.target);
            let warmer = target.and_then(|target| self.warmers.get(target).copied().flatten());
            // It is warm now, so that nobody has to stand for it any more.
            warmed_s += warmer
                .filter(|warmer| decided & 1 << warmer.index == 0)
                .map_or(0, |warmer| warmer.seconds);
        }
        self.most - self.matching.all() + self.matching.without(decided) + gains
            - self.rate * (f64::from(seconds) - f64::from(warmed_s))
    }
}

/// What does not change with the prices.
struct Frame<'a> {
    items: &'a Items,
    open: &'a Open<'a>,
    /// By muscle, how many open candidates work it.
    workers: Vec<u32>,
    /// See [`Bound::warmers`].
    warmers: Vec<Option<Warmer>>,
    /// By candidate, seconds before its first set, with what the warmers stand for.
    ready: Vec<u32>,
}

impl<'a> Frame<'a> {
    fn new(items: &'a Items, open: &'a Open<'a>) -> Self {
        let warmers = warmers(items, open);
        let ready = items.items.iter().enumerate().map(|(index, item)| {
            let warmer = warmers.get(item.target).copied().flatten();
            item.warm_s
                + warmer
                    .filter(|one| one.index == index)
                    .map_or(0, |one| one.seconds)
        });
        Self {
            items,
            open,
            workers: workers(items, open),
            ready: ready.collect(),
            warmers,
        }
    }

    /// The bound at the prices of muscles and the best price of time, which is kept; with the half
    /// sets that are added to each muscle where choices on both sides of that price share the time.
    fn at_best_rate(
        &self,
        prices: &mut Prices,
        is_enough: impl Fn(f64) -> bool,
    ) -> (Bound, Vec<f64>) {
        let asked: Vec<f64> = self.marginal(&prices.halves);
        let all = self.items.items.iter().enumerate();
        let gains = all.map(|(index, item)| match self.open.has(index) {
            true => self.gains(item, &asked),
            false => Vec::new(),
        });
        let gains: Vec<Vec<f64>> = gains.collect();
        let fixed = f64::from(self.open.worth) + self.over_muscles(&asked);
        let terms = |rate: f64| Terms {
            items: self.items,
            ready: &self.ready,
            gains: &gains,
            rate,
        };
        let mut tangents = Tangents::default();
        let mut best = self.at(&terms(prices.second), fixed);
        let mut slope = tangents.add(&best, &terms(best.rate), self.open.left_s);
        for _ in 0..TANGENTS {
            let Some(rate) = tangents.next(slope).filter(|_| !is_enough(best.most)) else {
                break;
            };
            let next = self.at(&terms(rate), fixed);
            slope = tangents.add(&next, &terms(rate), self.open.left_s);
            if next.most < best.most {
                best = next;
            }
        }
        prices.second = best.rate;
        let sums = self.sums(&tangents);
        let bound = Bound {
            gains,
            warmers: self.warmers.clone(),
            ..best
        };
        (bound, sums)
    }

    /// What half a set more is worth to each muscle at so many, between two counts in between.
    fn marginal(&self, halves: &[f64]) -> Vec<f64> {
        let of = |(muscle, &at): (usize, &f64)| {
            let whole = floor(at);
            let worth = |at| f64::from(self.items.rise(muscle, at, 1));
            let part = at - at.floor();
            worth(whole) * (1.0 - part) + worth(whole + 1) * part
        };
        halves.iter().enumerate().map(of).collect()
    }

    /// Half sets that are added to each muscle.
    fn sums(&self, tangents: &Tangents) -> Vec<f64> {
        let mut sums = vec![0.0; self.items.worth.len()];
        for (share, chosen) in tangents.shares() {
            for taken in chosen {
                let item = self.items.items.get(taken.candidate);
                for &(muscle, part) in item.into_iter().flat_map(|item| &item.halves) {
                    if let Some(sum) = sums.get_mut(muscle) {
                        *sum += share * whole(part * taken.sets);
                    }
                }
            }
        }
        sums
    }

    fn at(&self, terms: &Terms<'_>, fixed: f64) -> Bound {
        let matching = Matching::new(terms, self.open.mask);
        Bound {
            most: fixed + terms.rate * f64::from(self.open.left_s) + matching.all(),
            rate: terms.rate,
            gains: Vec::new(),
            matching,
            warmers: Vec::new(),
        }
    }

    /// What the first so many sets of an item are worth at the prices; at their true worth to muscles
    /// that no other works.
    fn gains(&self, item: &Item, prices: &[f64]) -> Vec<f64> {
        let of = |sets: usize| {
            let rises = item.halves.iter().map(|&(muscle, part)| {
                let more = part * sets;
                match self.workers.get(muscle) {
                    Some(1) => {
                        let at = self.open.halves.get(muscle).copied().unwrap_or_default();
                        f64::from(self.items.rise(muscle, at, more))
                    }
                    _ => prices.get(muscle).copied().unwrap_or_default() * whole(more),
                }
            });
            rises.sum::<f64>() + f64::from(PLANNED_WORTH) * whole(sets)
        };
        (0..=item.sets()).map(of).collect()
    }

    /// The most that half sets of priced muscles are worth over their prices.
    fn over_muscles(&self, prices: &[f64]) -> f64 {
        let muscles = self.workers.iter().zip(prices).zip(&self.items.worth);
        let over = muscles
            .zip(self.open.halves)
            .map(|(((&workers, &price), table), &at)| {
                let rises = table.windows(2).skip(at).map_while(|pair| match pair {
                    [before, after] => {
                        Some(f64::from(after - before) - price).filter(|over| *over > 0.0)
                    }
                    _ => None,
                });
                if workers > 1 { rises.sum::<f64>() } else { 0.0 }
            });
        over.sum()
    }

    /// Moves what muscles will probably have part of the way to what they have with `sums` more.
    fn ask(&self, sums: &[f64], part: f64, halves: &mut [f64]) {
        for ((&more, &at), expected) in sums.iter().zip(self.open.halves).zip(halves) {
            *expected += part * (whole(at) + more - *expected);
        }
    }
}

/// The steepest known tangents of a bound as its price of time goes up: on the side where too much
/// time is used, and on the side where some is left.
#[derive(Default)]
struct Tangents {
    over: Option<Tangent>,
    under: Option<Tangent>,
}

struct Tangent {
    rate: f64,
    most: f64,
    slope: f64,
    chosen: Vec<Taken>,
}

impl Tangents {
    /// Adds that of a bound; returns its slope.
    fn add(&mut self, bound: &Bound, terms: &Terms<'_>, left_s: u32) -> f64 {
        let (chosen, used_s) = bound.matching.best(terms);
        let slope = f64::from(left_s) - used_s;
        let side = if slope < 0.0 {
            &mut self.over
        } else {
            &mut self.under
        };
        *side = Some(Tangent {
            rate: bound.rate,
            most: bound.most,
            slope,
            chosen,
        });
        slope
    }

    /// The price to try next, if any can be better.
    fn next(&self, slope: f64) -> Option<f64> {
        match (&self.over, &self.under) {
            _ if slope == 0.0 => None,
            (Some(low), Some(high)) => {
                let drop = high.most - low.most + low.slope * low.rate - high.slope * high.rate;
                let meet = drop / (low.slope - high.slope);
                (low.rate < meet && meet < high.rate).then_some(meet)
            }
            (None, Some(high)) if high.rate <= 0.0 => None,
            (None, Some(high)) if high.rate < 1e-3 => Some(0.0),
            (None, Some(high)) => Some(0.6 * high.rate),
            (Some(low), None) => Some((1.5 * low.rate).max(0.02)),
            (None, None) => None,
        }
    }

    /// The choices on both sides, in parts that use the time that there is.
    fn shares(&self) -> impl Iterator<Item = (f64, &[Taken])> {
        let (over, under) = match (&self.over, &self.under) {
            (Some(over), Some(under)) => {
                let share = under.slope / (under.slope - over.slope);
                (share, 1.0 - share)
            }
            _ => (1.0, 1.0),
        };
        let of = |share: f64, side: &'_ Option<Tangent>| side.as_ref().map(|_| share);
        let over = of(over, &self.over).zip(self.over.as_ref());
        let under = of(under, &self.under).zip(self.under.as_ref());
        let sides = over.into_iter().chain(under);
        sides.map(|(share, side)| (share, side.chosen.as_slice()))
    }
}

fn warmers(items: &Items, open: &Open<'_>) -> Vec<Option<Warmer>> {
    let mut warmers: Vec<Option<Warmer>> = vec![None; items.worth.len()];
    let mut most = vec![0.0; items.worth.len()];
    let all = items.items.iter().enumerate();
    for (index, item) in all.filter(|(index, item)| open.has(*index) && open.is_cold(item.target)) {
        let seconds = least_warming_s(items, open, index, item);
        let sets = item.sets();
        let taken = Taken {
            candidate: index,
            sets,
        };
        // Best stands whoever is likely to be taken, being worth much for the time, and takes long.
        let run_s = item.runs.last().copied().unwrap_or_default();
        let gain = f64::from(items.gain(taken, open.halves));
        let weight = gain * f64::from(seconds) / f64::from((item.warm_s + run_s).max(1));
        if let (Some(warmer), Some(most)) =
            (warmers.get_mut(item.target), most.get_mut(item.target))
            && (warmer.is_none() || weight > *most)
        {
            *most = weight;
            *warmer = Some(Warmer { index, seconds });
        }
    }
    warmers
}

/// What getting its target warm takes, at least, where this candidate is taken: the first to be done
/// has to, and that is this one or one before it, in the plan or by way of a pair.
fn least_warming_s(items: &Items, open: &Open<'_>, index: usize, item: &Item) -> u32 {
    let with_earlier = |other: usize| {
        let earlier = items.items.iter().take(index).enumerate();
        let mut open_ones = earlier.filter(|(place, _)| open.has(*place));
        open_ones.any(|(_, one)| one.partners.iter().any(|with| with.index == other))
    };
    let same = items
        .items
        .iter()
        .enumerate()
        .filter(|(other, _)| open.has(*other) && item.same_target & 1 << other != 0);
    let before = same.filter(|&(other, _)| other <= index || with_earlier(other));
    let warming = before.map(|(_, one)| one.cold_s - one.warm_s);
    warming.min().unwrap_or_default()
}

/// By muscle, how many open candidates work it.
fn workers(items: &Items, open: &Open<'_>) -> Vec<u32> {
    let mut workers = vec![0; items.worth.len()];
    let all = items.items.iter().enumerate();
    for (_, item) in all.filter(|(index, _)| open.has(*index)) {
        for (muscle, _) in &item.halves {
            if let Some(count) = workers.get_mut(*muscle) {
                *count += 1;
            }
        }
    }
    workers
}

#[expect(clippy::cast_precision_loss, reason = "counts of sets are small")]
const fn whole(count: usize) -> f64 {
    count as f64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a sum of half sets, from 0 to some hundreds"
)]
const fn floor(halves: f64) -> usize {
    halves as usize
}
