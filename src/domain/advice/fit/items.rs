//! A task laid out for the search: everything by its place, times in turn reckoned once.

use super::clock::run_s;
use super::{Candidate, Need, PLANNED_WORTH, Pairing, SetTime, Taken, Task};
use crate::domain::coaching::plan::MOST_ITEMS;
use crate::domain::quantities::id::MuscleId;

/// A candidate as the search sees it. Muscles are places in [`Items::worth`], candidates places in
/// [`Items::items`], and sets of candidates bits of a mask.
pub(super) struct Item {
    pub(super) target: usize,
    /// Muscles with what a set adds to them, half sets.
    pub(super) halves: Vec<(usize, usize)>,
    /// Seconds of the first so many sets alone, from none on.
    pub(super) runs: Vec<u32>,
    pub(super) cold_s: u32,
    /// At most as long.
    pub(super) warm_s: u32,
    /// Those behind it that it may be done in turn with, in order.
    pub(super) partners: Vec<Partner>,
    /// Candidates with the same target, itself included.
    pub(super) same_target: u32,
}

impl Item {
    /// How many sets there are.
    pub(super) fn sets(&self) -> usize {
        self.runs.len().saturating_sub(1)
    }
}

/// An exercise that another before it, its owner, may be done in turn with.
pub(super) struct Partner {
    pub(super) index: usize,
    /// Whether the pair is not the coach's.
    pub(super) own: bool,
    /// Seconds in turn: by sets of the owner less one, then by sets of this less one.
    pub(super) runs: Vec<Vec<u32>>,
    /// The same as reals.
    pub(super) runs_s: Vec<Vec<f64>>,
}

impl Partner {
    fn new(index: usize, own: bool, owner: &[SetTime], this: &[SetTime]) -> Self {
        let in_turn = |sets: usize| {
            let with = |others: usize| run_s(upto(owner, sets), upto(this, others));
            (1..=this.len()).map(with).collect()
        };
        let runs: Vec<Vec<u32>> = (1..=owner.len()).map(in_turn).collect();
        let real = |row: &Vec<u32>| row.iter().copied().map(f64::from).collect();
        Self {
            index,
            own,
            runs_s: runs.iter().map(real).collect(),
            runs,
        }
    }
}

/// The candidates with what their sets are worth.
pub(super) struct Items {
    pub(super) items: Vec<Item>,
    /// By muscle, what the first so many half sets of the session are worth together, from none on
    /// to more than all candidates could add. Rises ever less.
    pub(super) worth: Vec<Vec<u32>>,
}

impl Items {
    pub(super) fn new(task: &Task) -> Self {
        let candidates: Vec<&Candidate> = task.candidates.iter().take(MOST_ITEMS).collect();
        let muscles = muscles(&candidates);
        let items = candidates.iter().enumerate();
        let items = items.map(|(index, one)| item(task, &candidates, &muscles, index, one));
        let items: Vec<Item> = items.collect();
        let added = |item: &Item| {
            let halves = item.halves.iter().map(|(_, halves)| *halves).max();
            halves.unwrap_or_default() * item.sets()
        };
        let most: usize = items.iter().map(added).sum();
        let table = |muscle: &MuscleId| worth_table(task.needs.get(muscle).copied(), most + 1);
        Self {
            worth: muscles.iter().map(table).collect(),
            items,
        }
    }

    /// By muscle, how often it was made warm before the session's rest.
    pub(super) fn warm(task: &Task) -> Vec<u32> {
        let candidates: Vec<&Candidate> = task.candidates.iter().take(MOST_ITEMS).collect();
        let muscles = muscles(&candidates);
        let warm = |muscle: &MuscleId| u32::from(task.warm.contains(muscle));
        muscles.iter().map(warm).collect()
    }

    /// What `count` half sets more are worth to a muscle that has `at`.
    pub(super) fn rise(&self, muscle: usize, at: usize, count: usize) -> u32 {
        let upto = |halves: usize| {
            let table = self.worth.get(muscle);
            table.and_then(|table| table.get(halves).or(table.last()))
        };
        match (upto(at + count), upto(at)) {
            (Some(after), Some(before)) => after - before,
            _ => 0,
        }
    }

    /// What sets of a candidate are worth to muscles that stand at `halves`.
    pub(super) fn gain(&self, taken: Taken, halves: &[usize]) -> u32 {
        let Some(item) = self.items.get(taken.candidate) else {
            return 0;
        };
        let rises = item.halves.iter().map(|&(muscle, part)| {
            let at = halves.get(muscle).copied().unwrap_or_default();
            self.rise(muscle, at, part * taken.sets)
        });
        let planned = u32::try_from(taken.sets).unwrap_or(u32::MAX);
        rises.sum::<u32>() + PLANNED_WORTH * planned
    }
}

/// The muscles of some candidates, each once, in order.
fn muscles(candidates: &[&Candidate]) -> Vec<MuscleId> {
    let counted = |one: &&Candidate| one.halves.iter().map(|(muscle, _)| *muscle).collect();
    let mut muscles: Vec<MuscleId> = candidates
        .iter()
        .flat_map(counted as fn(&&Candidate) -> Vec<MuscleId>)
        .chain(candidates.iter().map(|one| one.target))
        .collect();
    muscles.sort_unstable();
    muscles.dedup();
    muscles
}

fn item(
    task: &Task,
    candidates: &[&Candidate],
    muscles: &[MuscleId],
    index: usize,
    one: &Candidate,
) -> Item {
    // Every muscle of every candidate is in the list.
    let place = |muscle: MuscleId| muscles.binary_search(&muscle).unwrap_or_default();
    let halves = |&(muscle, halves): &(MuscleId, u32)| (place(muscle), halves as usize);
    let partner = |(other, with): (usize, &&Candidate)| {
        let pairing = task.pairing(index, other);
        let may = other > index && pairing != Pairing::Never;
        may.then(|| Partner::new(other, pairing == Pairing::Own, &one.sets, &with.sets))
    };
    let others = || candidates.iter().enumerate();
    Item {
        target: place(one.target),
        halves: one.halves.iter().map(halves).collect(),
        runs: (0..=one.sets.len())
            .map(|sets| run_s(upto(&one.sets, sets), &[]))
            .collect(),
        cold_s: one.ready.cold_s,
        warm_s: one.ready.warm_s.min(one.ready.cold_s),
        partners: others().filter_map(partner).collect(),
        same_target: others()
            .filter(|(_, other)| other.target == one.target)
            .fold(0, |mask, (other, _)| mask | 1 << other),
    }
}

/// The first so many sets.
fn upto(sets: &[SetTime], count: usize) -> &[SetTime] {
    sets.get(..count).unwrap_or_default()
}

fn worth_table(need: Option<Need>, most: usize) -> Vec<u32> {
    let mut sum = 0;
    let mut table = vec![0];
    for more in (0u32..).take(most) {
        sum += need.map_or(0, |need| Need::worth(need.band, need.halves + more));
        table.push(sum);
    }
    table
}
