//! The best choice of sets for the minutes there are, against every choice there is, on small
//! random sessions. Time is counted here second by second and worth set by set, by code of its own.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "helpers of tests may fail the test"
)]

use std::collections::{BTreeMap, BTreeSet};

use crate::support::dense::{Dice, dense};
use chalkbell::domain::advice::fit::clock::{SWITCH_S, timetable};
use chalkbell::domain::advice::fit::{Candidate, Fit, Need, Ready, SetTime, Task, best};
use chalkbell::domain::coaching::week::Band;
use chalkbell::domain::quantities::id::MuscleId;

const CASES: u64 = 500;

// Random sessions.

fn candidate(dice: &mut Dice, muscles: u32) -> Candidate {
    let target = dice.below(muscles);
    let mut works = vec![target];
    for _ in 0..dice.below(3) {
        let helper = dice.below(muscles);
        if !works.contains(&helper) {
            works.push(helper);
        }
    }
    let works: Vec<_> = works
        .into_iter()
        .map(|m| MuscleId(m.try_into().unwrap()))
        .collect();
    let counts = dice.below(8) > 0;
    let part = |&muscle: &MuscleId| (muscle, if muscle == works[0] { 2 } else { 1 });
    let (work_s, rest_s) = (dice.between(15, 60), dice.between(15, 300));
    let sets = (0..dice.between(1, 3)).map(|set| SetTime {
        rest_s: if set == 0 { 0 } else { rest_s + 15 * set },
        work_s,
    });
    let warm_s = dice.between(0, 120);
    Candidate {
        target: works[0],
        halves: works.iter().filter(|_| counts).map(part).collect(),
        works: works.clone(),
        ready: Ready {
            cold_s: warm_s + dice.below(240),
            warm_s,
        },
        sets: sets.collect(),
        may_pair: dice.below(4) > 0,
        paired: None,
    }
}

fn need(dice: &mut Dice) -> Need {
    let low = dice.below(12);
    Need {
        halves: dice.below(26),
        band: Band {
            low,
            high: low + dice.below(8),
        },
    }
}

fn task(seed: u64) -> Task {
    let mut dice = Dice::of(seed);
    let muscles = dice.between(3, 9);
    let count = dice.between(2, 5);
    let mut candidates: Vec<_> = (0..count).map(|_| candidate(&mut dice, muscles)).collect();
    if count > 2 && dice.below(2) == 0 {
        candidates[0].paired = Some(2);
        candidates[2].paired = Some(0);
    }
    let ids = (0..muscles).map(|m| MuscleId(m.try_into().unwrap()));
    let warm: BTreeSet<_> = ids.clone().filter(|_| dice.below(5) == 0).collect();
    // Now and then a muscle has no need.
    let mut needs = BTreeMap::new();
    for id in ids {
        if dice.below(6) > 0 {
            needs.insert(id, need(&mut dice));
        }
    }
    Task {
        seconds: dice.between(120, 1500),
        candidates,
        needs,
        warm,
        pairs: dice.below(3) > 0,
    }
}

// Every choice.

/// Worth, pairs that are not the coach's, seconds.
type Outcome = (u32, u32, u32);

fn is_better(one: Outcome, other: Outcome) -> bool {
    one.0 > other.0
        || (one.0 == other.0 && (one.1 < other.1 || (one.1 == other.1 && one.2 < other.2)))
}

/// Every number of sets for every candidate.
fn every_count(task: &Task) -> Vec<Vec<usize>> {
    let mut counts = vec![Vec::new()];
    for one in &task.candidates {
        let longer = |head: &Vec<usize>| {
            let head = head.clone();
            (0..=one.sets.len()).map(move |sets| [head.as_slice(), &[sets]].concat())
        };
        counts = counts.iter().flat_map(longer).collect();
    }
    counts
}

/// Every way to put the candidates that are done alone or in twos, each two in their order.
fn every_pairing(done: &[usize]) -> Vec<Vec<(usize, Option<usize>)>> {
    let Some((&first, rest)) = done.split_first() else {
        return vec![Vec::new()];
    };
    let mut all = Vec::new();
    for tail in every_pairing(rest) {
        all.push([vec![(first, None)], tail].concat());
    }
    for &other in rest {
        let left: Vec<_> = rest.iter().copied().filter(|&one| one != other).collect();
        for tail in every_pairing(&left) {
            all.push([vec![(first, Some(other))], tail].concat());
        }
    }
    all
}

/// Whether a pair is allowed, and whether it is the coach's.
fn pair_of(task: &Task, one: usize, other: usize) -> Option<bool> {
    let (a, b) = (&task.candidates[one], &task.candidates[other]);
    if a.paired == Some(other) {
        return Some(true);
    }
    let shared = a.works.iter().filter(|m| b.works.contains(m)).count();
    (task.pairs && a.may_pair && b.may_pair && shared == 0).then_some(false)
}

/// Seconds of a stretch, counted one by one: whoever's turn it is begins once rested and there.
fn seconds(sides: &[(&Candidate, usize)]) -> u32 {
    let mut turns = Vec::new();
    for round in 0..6 {
        for (side, (_, sets)) in sides.iter().enumerate() {
            if round < *sets {
                turns.push((side, round));
            }
        }
    }
    let mut since_own = vec![0; sides.len()];
    let mut since_other = u32::MAX;
    let (mut elapsed, mut before) = (0, None);
    for (side, round) in turns {
        let set = sides[side].0.sets[round];
        if before.is_some_and(|before| before != side) {
            since_other = 0;
        }
        while since_own[side] < set.rest_s || since_other < SWITCH_S {
            elapsed += 1;
            since_other = since_other.saturating_add(1);
            since_own.iter_mut().for_each(|since| *since += 1);
        }
        elapsed += set.work_s;
        since_own.iter_mut().for_each(|since| *since += set.work_s);
        since_own[side] = 0;
        since_other = u32::MAX;
        before = Some(side);
    }
    elapsed
}

/// What one more half set is worth, as the documentation of the need says.
fn half_set(need: Need, halves: u32) -> u32 {
    let (low, high) = (2 * need.band.low, 2 * need.band.high);
    match halves {
        _ if halves < low => 150 - 50 * halves / low,
        _ if halves < high => 50 - 40 * (halves - low) / (high - low),
        _ => 0,
    }
}

fn worth(task: &Task, counts: &[usize]) -> u32 {
    let mut needs = task.needs.clone();
    let mut worth = 0;
    for (one, sets) in task.candidates.iter().zip(counts) {
        for _ in 0..*sets {
            worth += 1;
            for (muscle, halves) in &one.halves {
                for _ in 0..*halves {
                    if let Some(need) = needs.get_mut(muscle) {
                        worth += half_set(*need, need.halves);
                        need.halves += 1;
                    }
                }
            }
        }
    }
    worth
}

fn outcome(task: &Task, counts: &[usize], pairing: &[(usize, Option<usize>)]) -> Option<Outcome> {
    let mut warm = task.warm.clone();
    let (mut total, mut own) = (0, 0);
    for &(first, second) in pairing {
        if let Some(second) = second {
            own += u32::from(!pair_of(task, first, second)?);
        }
        let sides: Vec<_> = [Some(first), second].into_iter().flatten().collect();
        for &side in &sides {
            let one = &task.candidates[side];
            let ready = one.ready;
            total += if warm.insert(one.target) {
                ready.cold_s
            } else {
                ready.warm_s
            };
        }
        let sides: Vec<_> = sides
            .iter()
            .map(|&side| (&task.candidates[side], counts[side]))
            .collect();
        total += seconds(&sides);
    }
    (total <= task.seconds).then(|| (worth(task, counts), own, total))
}

fn by_hand(task: &Task) -> Outcome {
    let mut found = (0, 0, 0);
    for counts in every_count(task) {
        let done: Vec<_> = (0..counts.len()).filter(|&one| counts[one] > 0).collect();
        for pairing in every_pairing(&done) {
            if let Some(outcome) = outcome(task, &counts, &pairing)
                && is_better(outcome, found)
            {
                found = outcome;
            }
        }
    }
    found
}

/// What a fit says of itself, reckoned again from its stretches.
fn claimed(task: &Task, fit: &Fit) -> Outcome {
    let counts: Vec<_> = (0..task.candidates.len()).map(|c| fit.sets_of(c)).collect();
    let pairing: Vec<_> = fit
        .stretches
        .iter()
        .map(|s| (s.first.candidate, s.second.map(|t| t.candidate)))
        .collect();
    outcome(task, &counts, &pairing).expect("the choice fits the time")
}

#[test]
fn the_choice_is_the_best_of_all_choices() {
    let (mut left_out, mut paired) = (0, 0);
    for seed in 0..CASES {
        let task = task(seed);
        let fit = best(&task);
        let told = (fit.worth, fit.own_pairs, fit.seconds);
        assert!(fit.proven, "case {seed}");
        assert_eq!(
            claimed(&task, &fit),
            told,
            "case {seed}: {task:#?} {fit:#?}"
        );
        assert_eq!(told, by_hand(&task), "case {seed}: {task:#?} {fit:#?}");
        let ends = timetable(&task, &fit.stretches)
            .last()
            .map_or(0, |s| s.to_s);
        assert_eq!(ends, fit.seconds, "case {seed}");
        let all: usize = task.candidates.iter().map(|one| one.sets.len()).sum();
        left_out += u32::from(fit.sets() < all);
        paired += u32::from(fit.stretches.iter().any(|s| s.second.is_some()));
    }
    // The cases are worth their name: most are short of time, and many pair.
    assert!(left_out > 300 && paired > 60, "{left_out} {paired}");
}

#[test]
fn more_time_never_buys_less() {
    for seed in 0..100 {
        let mut task = task(seed);
        let mut before = 0;
        for seconds in (0..3600).step_by(300) {
            task.seconds = seconds;
            let fit = best(&task);
            assert!(fit.worth >= before, "case {seed}, {seconds} s");
            before = fit.worth;
        }
    }
}

/// Days that are too large for all choices, against the best of many climbs: from a choice at random,
/// whatever change is better, until none is found.
#[test]
fn no_climb_ends_above_the_choice() {
    for seed in 0..5 {
        let task = dense(seed);
        let fit = best(&task);
        let told = (fit.worth, fit.own_pairs, fit.seconds);
        assert_eq!(claimed(&task, &fit), told, "day {seed}");
        let mut dice = Dice::of(seed);
        for _ in 0..8 {
            let found = climbed(&task, &mut dice);
            assert!(
                !fit.proven || !is_better(found, told),
                "day {seed}: {found:?} {told:?}"
            );
        }
    }
}

/// A bound that was too low once cut off the best choice of this day.
#[test]
fn the_best_choice_of_a_dense_day_is_not_cut_off() {
    let fit = best(&dense(57));
    assert!(fit.proven && fit.worth >= 6658, "{fit:?}");
}

/// A choice: sets of each candidate, and its partner.
type Choice = (Vec<usize>, Vec<Option<usize>>);

fn climbed(task: &Task, dice: &mut Dice) -> Outcome {
    let count = task.candidates.len();
    let mut choice: Choice = (vec![0; count], vec![None; count]);
    let mut stands = (0, 0, 0);
    let mut idle = 0;
    while idle < 400 {
        let mut next = choice.clone();
        for _ in 0..=dice.below(3) {
            change(task, &mut next, dice);
        }
        match outcome_of(task, &next) {
            Some(outcome) if !is_better(stands, outcome) => {
                idle = if is_better(outcome, stands) {
                    0
                } else {
                    idle + 1
                };
                (choice, stands) = (next, outcome);
            }
            _ => idle += 1,
        }
    }
    stands
}

/// Another number of sets, or another partner.
fn change(task: &Task, (counts, partners): &mut Choice, dice: &mut Dice) {
    let place = |dice: &mut Dice| dice.below(u32::try_from(counts.len()).unwrap()) as usize;
    let (one, other) = (place(dice), place(dice));
    if dice.below(2) == 0 {
        let most = u32::try_from(task.candidates[one].sets.len()).unwrap();
        counts[one] = dice.below(most + 1) as usize;
        return;
    }
    for single in [one, other] {
        if let Some(left) = partners[single].take() {
            partners[left] = None;
        }
    }
    if one != other && dice.below(4) > 0 {
        (partners[one], partners[other]) = (Some(other), Some(one));
    }
}

fn outcome_of(task: &Task, (counts, partners): &Choice) -> Option<Outcome> {
    let mut pairing = Vec::new();
    for one in 0..counts.len() {
        let partner = partners[one].filter(|&other| counts[other] > 0);
        if counts[one] > 0 && partner.is_none_or(|other| other > one) {
            pairing.push((one, partner));
        }
    }
    outcome(task, counts, &pairing)
}
