//! How much can still come of an undecided rest: a bound that is never too low.
//!
//! Time gets a price, and so does every muscle that several open candidates work; then each
//! candidate can be looked at by itself:
//!
//! ```text
//! most = worth so far
//!      + time price · time left
//!      + Σ over priced muscles of the most that their worth is over the price
//!      + Σ over open candidates of the most that their sets are over the prices
//! ```
//!
//! Any prices give a bound (weak duality, Fisher ML 1981, Manage Sci 27(1):1-18, from memory). Good
//! ones come from the relaxed problem in which sets may be cut in parts, filled by worth for time
//! (Sinha P, Zoltners AA 1979, Oper Res 27(3):503-515, from memory), with the muscles' marginal
//! worth at its solution as the next prices.
//!
//! Two exercises in turn take at least half of what both take alone and some excess, beside getting
//! ready; so that half, with half of the least excess, is what a candidate costs at least.

use super::items::{Item, Items};
use super::{PLANNED_WORTH, Taken};

/// Prices tried for one bound.
const ROUNDS: u32 = 5;
/// Least part of the way that prices go toward their next.
const LEAST_STEP: f64 = 0.3;

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
    fn has(&self, index: usize) -> bool {
        self.mask & 1 << index != 0
    }

    /// Seconds before the first set of an item as things stand.
    pub(super) fn ready_s(&self, item: &Item) -> u32 {
        match self.warm.get(item.target) {
            Some(0) => item.cold_s,
            _ => item.warm_s,
        }
    }
}

/// A bound, and what each way on takes from it.
pub(super) struct Bound {
    /// Worth in the end, at most.
    pub(super) most: f64,
    /// Price of half a second.
    rate: f64,
    /// By muscle, the price of half a set; none where a single candidate works it.
    prices: Vec<Option<f64>>,
    /// By candidate, the most over the prices; nothing for those decided.
    best: Vec<f64>,
}

impl Bound {
    /// The best bound that some rounds of prices find, beginning with those in `asked`, which are
    /// left as the last found; no more rounds once `is_enough`.
    pub(super) fn new(
        items: &Items,
        open: &Open<'_>,
        asked: &mut [f64],
        is_enough: impl Fn(f64) -> bool,
    ) -> Self {
        let workers = workers(items, open);
        let (mut bound, mut sums) = Self::at(items, open, &workers, asked);
        for round in 1..=ROUNDS {
            if is_enough(bound.most) {
                break;
            }
            ask(items, open, &sums, round, asked);
            if round < ROUNDS {
                let (next, at) = Self::at(items, open, &workers, asked);
                sums = at;
                if next.most < bound.most {
                    bound = next;
                }
            }
        }
        bound
    }

    /// The bound at some prices, with the half sets that the relaxed solution adds to each muscle.
    fn at(items: &Items, open: &Open<'_>, workers: &[u32], asked: &[f64]) -> (Self, Vec<f64>) {
        let priced = |(&count, &price): (&u32, &f64)| (count > 1).then_some(price);
        let mut bound = Self {
            most: 0.0,
            rate: 0.0,
            prices: workers.iter().zip(asked).map(priced).collect(),
            best: Vec::new(),
        };
        let all = items.items.iter().enumerate();
        let points = all.map(|(index, item)| match open.has(index) {
            true => bound.points(items, open, index, item),
            false => Vec::new(),
        });
        let points: Vec<Vec<Piece>> = points.collect();
        let (rate, sums) = fill(items, open, &points);
        let over = |point: &Piece| point.gain - rate * point.half_s;
        let best = |points: &Vec<Piece>| points.iter().map(over).fold(0.0, f64::max);
        bound.rate = rate;
        bound.best = points.iter().map(best).collect();
        bound.most = f64::from(open.worth)
            + rate * f64::from(2 * open.left_s)
            + bound.over_muscles(items, open)
            + bound.best.iter().sum::<f64>();
        (bound, sums)
    }

    /// For each number of sets its priced worth, at most, and its time, at least.
    fn points(&self, items: &Items, open: &Open<'_>, index: usize, item: &Item) -> Vec<Piece> {
        // Another open one may warm the target before.
        let warmers = item.same_target & open.mask & !(1 << index);
        let ready_s = match warmers {
            0 => open.ready_s(item),
            _ => item.warm_s,
        };
        let partners = || item.partners.iter().filter(|one| open.has(one.index));
        let point = |(sets, run_s): (usize, &u32)| {
            let excess = partners().filter_map(|one| one.excess.get(sets - 1)).min();
            let in_turn = excess.map_or(u32::MAX, |excess| run_s + excess / 2);
            let taken = Taken {
                candidate: index,
                sets,
            };
            Piece {
                half_s: f64::from(2 * ready_s + in_turn.min(2 * run_s)),
                gain: self.gain(items, taken, open.halves),
                candidate: index,
                sets: whole(sets),
            }
        };
        item.runs.iter().enumerate().skip(1).map(point).collect()
    }

    /// What sets are worth at the prices; at their true worth to muscles without one, which stand
    /// at `halves`.
    fn gain(&self, items: &Items, taken: Taken, halves: &[usize]) -> f64 {
        let Some(item) = items.items.get(taken.candidate) else {
            return 0.0;
        };
        let rises = item.halves.iter().map(|&(muscle, part)| {
            let more = part * taken.sets;
            match self.prices.get(muscle) {
                Some(Some(price)) => price * whole(more),
                _ => {
                    let at = halves.get(muscle).copied().unwrap_or_default();
                    f64::from(items.rise(muscle, at, more))
                }
            }
        });
        rises.sum::<f64>() + f64::from(PLANNED_WORTH) * whole(taken.sets)
    }

    /// The most that half sets of priced muscles are worth over their prices.
    fn over_muscles(&self, items: &Items, open: &Open<'_>) -> f64 {
        let muscles = self.prices.iter().zip(&items.worth).zip(open.halves);
        let over = muscles.filter_map(|((price, table), &at)| {
            let price = (*price)?;
            let rises = table.windows(2).skip(at).map_while(|pair| match pair {
                [before, after] => {
                    Some(f64::from(after - before) - price).filter(|over| *over > 0.0)
                }
                _ => None,
            });
            Some(rises.sum::<f64>())
        });
        over.sum()
    }

    /// By how much the bound changes when these candidates are decided, with these sets of them
    /// taken in `seconds`: never up.
    pub(super) fn change(
        &self,
        items: &Items,
        open: &Open<'_>,
        taken: impl Iterator<Item = Taken>,
        seconds: u32,
    ) -> f64 {
        let over = taken.map(|one| self.gain(items, one, open.halves) - self.best(one.candidate));
        over.sum::<f64>() - self.rate * f64::from(2 * seconds)
    }

    /// The most that a candidate brings over the prices.
    pub(super) fn best(&self, index: usize) -> f64 {
        self.best.get(index).copied().unwrap_or_default()
    }
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

/// Moves prices toward the marginal worth of muscles with `sums` half sets more.
fn ask(items: &Items, open: &Open<'_>, sums: &[f64], round: u32, asked: &mut [f64]) {
    let step = (1.0 / f64::from(round)).max(LEAST_STEP);
    let muscles = sums.iter().zip(open.halves).zip(asked).enumerate();
    for (muscle, ((&more, &at), price)) in muscles {
        let next = f64::from(items.rise(muscle, at + floor(more), 1));
        *price += step * (next - *price);
    }
}

/// Some sets more of a candidate: their worth at the prices, and their time, half seconds.
#[derive(Clone, Copy, Debug)]
struct Piece {
    half_s: f64,
    gain: f64,
    candidate: usize,
    sets: f64,
}

impl Piece {
    /// Worth for a half second.
    fn rate(&self) -> f64 {
        self.gain / self.half_s.max(1e-3)
    }
}

/// Fills the time with the pieces that are worth most for it; returns the rate of the one that is
/// cut in parts (0 where all fit) and the half sets that come together by muscle.
fn fill(items: &Items, open: &Open<'_>, points: &[Vec<Piece>]) -> (f64, Vec<f64>) {
    let mut pieces: Vec<Piece> = points.iter().flat_map(|points| edge(points)).collect();
    pieces.sort_by(|a, b| b.rate().total_cmp(&a.rate()));
    let mut left = f64::from(2 * open.left_s);
    let mut sums = vec![0.0; items.worth.len()];
    for piece in &pieces {
        let share = (left / piece.half_s.max(1e-3)).min(1.0);
        let halves = items.items.get(piece.candidate).map(|item| &item.halves);
        for &(muscle, part) in halves.into_iter().flatten() {
            if let Some(sum) = sums.get_mut(muscle) {
                *sum += share * piece.sets * whole(part);
            }
        }
        left -= piece.half_s;
        if left < 0.0 {
            return (piece.rate(), sums);
        }
    }
    (0.0, sums)
}

/// The steps along the upper edge of a candidate's points, beginning with nothing: best rates first.
fn edge(points: &[Piece]) -> Vec<Piece> {
    let mut edge: Vec<Piece> = Vec::with_capacity(points.len());
    let mut from = (0.0, 0.0, 0.0);
    for point in points {
        let mut step = Piece {
            half_s: point.half_s - from.0,
            gain: point.gain - from.1,
            sets: point.sets - from.2,
            ..*point
        };
        while let Some(before) = edge.last().copied().filter(|b| b.rate() <= step.rate()) {
            edge.pop();
            step.half_s += before.half_s;
            step.gain += before.gain;
            step.sets += before.sets;
        }
        edge.push(step);
        from = (point.half_s, point.gain, point.sets);
    }
    edge
}

#[expect(clippy::cast_precision_loss, reason = "counts of sets are small")]
const fn whole(count: usize) -> f64 {
    count as f64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a sum of sets, from 0 to some hundreds"
)]
const fn floor(halves: f64) -> usize {
    halves as usize
}
