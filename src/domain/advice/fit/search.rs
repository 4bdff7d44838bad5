//! The best choice of sets, exactly: depth first over the exercises in the order of the plan, the
//! most promising way first, cut off where [`super::bound`] shows that nothing better can follow.

use super::bound::{Bound, Open, Prices};
use super::clock::timetable;
use super::items::{Items, Partner};
use super::{Fit, Stretch, Taken, Task};

/// Choices looked into before the search is given up with the best so far, which is then not
/// proven: some tenths of a second. A day of ten exercises needs some hundred, seldom ten thousand.
const MOST_NODES: u32 = 200_000;
/// Room for rounding where a bound, a sum of reals, is held against whole worth.
const SLACK: f64 = 1e-6;

/// The most worth that fits into the time; of equals, the fewest pairs that are not the coach's,
/// then the least time.
#[must_use]
pub fn best(task: &Task) -> Fit {
    let items = Items::new(task);
    let mut search = Search {
        halves: vec![0; items.worth.len()],
        warm: Items::warm(task),
        chosen: Vec::new(),
        best: Vec::new(),
        found: Score {
            left_s: task.seconds,
            ..Score::default()
        },
        first: 0.0,
        nodes: 0,
        items: &items,
    };
    let prices = Prices::none(&items);
    search.descend((1 << items.items.len()) - 1, search.found, &prices);
    let seconds = timetable(task, &search.best).last().map_or(0, |s| s.to_s);
    Fit {
        stretches: search.best,
        worth: search.found.worth,
        own_pairs: search.found.own_pairs,
        seconds,
        proven: search.nodes < MOST_NODES,
        most: match search.nodes < MOST_NODES {
            true => search.found.worth,
            false => whole(search.first),
        },
    }
}

/// How good a choice is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Score {
    worth: u32,
    own_pairs: u32,
    left_s: u32,
}

impl Score {
    fn beats(self, other: Self) -> bool {
        let key = |s: Self| (s.worth, std::cmp::Reverse(s.own_pairs), s.left_s);
        key(self) > key(other)
    }

    /// With a worth of at most this.
    fn bounded(self, most: f64) -> Self {
        Self {
            worth: whole(most),
            ..self
        }
    }
}

/// One way on: the first open candidate left out, alone, or with another.
#[derive(Clone, Copy)]
struct Step {
    stretch: Option<Stretch>,
    /// The candidates that it decides, a bit each.
    decided: u32,
    /// What it comes to.
    score: Score,
    /// The worth that it can lead to, at most.
    most: f64,
}

struct Search<'a> {
    items: &'a Items,
    /// By muscle, the half sets of what is chosen.
    halves: Vec<usize>,
    /// By muscle, how many chosen exercises and earlier sets made it warm.
    warm: Vec<u32>,
    chosen: Vec<Stretch>,
    best: Vec<Stretch>,
    found: Score,
    /// The first bound.
    first: f64,
    nodes: u32,
}

impl Search<'_> {
    /// Looks into all that may follow on what is chosen, which has come to `score`; `open` are the
    /// undecided candidates, `prices` those that the last bound found for muscles.
    fn descend(&mut self, open: u32, score: Score, prices: &Prices) {
        if self.nodes >= MOST_NODES {
            return;
        }
        self.nodes += 1;
        if score.beats(self.found) {
            self.found = score;
            self.best.clone_from(&self.chosen);
        }
        if open == 0 {
            return;
        }
        let mut prices = prices.clone();
        let open = Open {
            mask: open,
            left_s: score.left_s,
            worth: score.worth,
            halves: &self.halves,
            warm: &self.warm,
        };
        let hopeless = |most: f64| !score.bounded(most).beats(self.found);
        let bound = Bound::new(self.items, &open, &mut prices, hopeless);
        if self.nodes == 1 {
            self.first = bound.most;
        }
        if hopeless(bound.most) {
            return;
        }
        let mut steps = self.steps(&open, score, &bound);
        steps.sort_by(|a, b| b.most.total_cmp(&a.most));
        let open = open.mask;
        for step in steps {
            if step.score.bounded(step.most).beats(self.found) {
                self.take(open & !step.decided, &step, &prices);
            }
        }
    }

    fn take(&mut self, open: u32, step: &Step, prices: &Prices) {
        self.mark(step.stretch, true);
        self.chosen.extend(step.stretch);
        self.descend(open, step.score, prices);
        if step.stretch.is_some() {
            self.chosen.pop();
        }
        self.mark(step.stretch, false);
    }

    /// Adds what a stretch brings to the muscles, or takes it off again.
    fn mark(&mut self, stretch: Option<Stretch>, add: bool) {
        for taken in stretch.iter().flat_map(Stretch::taken) {
            let Some(item) = self.items.items.get(taken.candidate) else {
                continue;
            };
            for &(muscle, part) in &item.halves {
                if let Some(sum) = self.halves.get_mut(muscle) {
                    let more = part * taken.sets;
                    *sum = if add { *sum + more } else { *sum - more };
                }
            }
            if let Some(count) = self.warm.get_mut(item.target) {
                *count = if add { *count + 1 } else { *count - 1 };
            }
        }
    }

    /// Every way on that fits the time.
    fn steps(&self, open: &Open<'_>, score: Score, bound: &Bound) -> Vec<Step> {
        let index = open.mask.trailing_zeros() as usize;
        let mut steps = vec![Step {
            stretch: None,
            decided: 1 << index,
            score,
            most: bound.with(self.items, std::iter::empty(), 1 << index, 0),
        }];
        let Some(item) = self.items.items.get(index) else {
            return steps;
        };
        let ready_s = open.ready_s(item);
        for (sets, run_s) in (1..=item.sets()).zip(item.runs.iter().skip(1)) {
            let first = Taken {
                candidate: index,
                sets,
            };
            let alone = Stretch {
                first,
                second: None,
            };
            steps.extend(self.step(score, bound, alone, ready_s + run_s, false));
            for partner in &item.partners {
                if open.mask & 1 << partner.index != 0 {
                    self.in_turn(open, score, bound, (first, ready_s), partner, &mut steps);
                }
            }
        }
        steps
    }

    /// The ways of doing some sets, ready after `ready_s`, in turn with those of another.
    fn in_turn(
        &self,
        open: &Open<'_>,
        score: Score,
        bound: &Bound,
        (first, ready_s): (Taken, u32),
        partner: &Partner,
        steps: &mut Vec<Step>,
    ) {
        let (Some(one), Some(other), Some(runs)) = (
            self.items.items.get(first.candidate),
            self.items.items.get(partner.index),
            partner.runs.get(first.sets - 1),
        ) else {
            return;
        };
        let ready_s = ready_s
            + match one.target == other.target {
                true => other.warm_s,
                false => open.ready_s(other),
            };
        for (run_s, sets) in runs.iter().zip(1..) {
            let second = Some(Taken {
                candidate: partner.index,
                sets,
            });
            let pair = Stretch { first, second };
            steps.extend(self.step(score, bound, pair, ready_s + run_s, partner.own));
        }
    }

    fn step(
        &self,
        score: Score,
        bound: &Bound,
        stretch: Stretch,
        seconds: u32,
        own_pair: bool,
    ) -> Option<Step> {
        let left_s = score.left_s.checked_sub(seconds)?;
        let decided = stretch
            .taken()
            .fold(0, |mask, taken| mask | 1 << taken.candidate);
        let most = bound.with(self.items, stretch.taken(), decided, seconds);
        let score = Score {
            worth: score.worth,
            own_pairs: score.own_pairs + u32::from(own_pair),
            left_s,
        };
        if !score.bounded(most).beats(self.found) {
            return None;
        }
        Some(Step {
            stretch: Some(stretch),
            decided,
            score: Score {
                worth: score.worth + self.gain(stretch),
                ..score
            },
            most,
        })
    }

    /// What a stretch is worth beside what is chosen. The two of a pair may work the same muscles,
    /// where the coach paired them.
    fn gain(&self, stretch: Stretch) -> u32 {
        let first = self.items.gain(stretch.first, &self.halves);
        let Some(second) = stretch.second else {
            return first;
        };
        let mut halves = self.halves.clone();
        let item = self.items.items.get(stretch.first.candidate);
        for &(muscle, part) in item.into_iter().flat_map(|item| &item.halves) {
            if let Some(sum) = halves.get_mut(muscle) {
                *sum += part * stretch.first.sets;
            }
        }
        first + self.items.gain(second, &halves)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a bound on a worth, from 0 to far under 2^32"
)]
fn whole(bound: f64) -> u32 {
    (bound + SLACK).max(0.0) as u32
}
