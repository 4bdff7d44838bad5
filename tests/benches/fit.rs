//! How long it takes to fit a session of ten exercises of six sets into the minutes there are.
//!
//! Three hundred dense days of ten exercises at random, with pairs, are timed once each: the median
//! and the slowest are printed.
//!
//! Beside the best choice stands the plain greedy one, which is not the best: the next set that is
//! worth most for its time, until nothing fits.

#![expect(
    clippy::unwrap_used,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a benchmark may fail on its own data, and says what it found"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::time::Instant;

#[path = "../support/mod.rs"]
mod support;

use chalkbell::domain::advice::fit::{Candidate, Need, Ready, SetTime, Task, best};
use chalkbell::domain::coaching::week::Band;
use chalkbell::domain::quantities::id::MuscleId;
use divan::{Bencher, black_box};
use support::dense::dense;

fn main() {
    for (minutes, pairs) in CASES {
        let task = task(minutes, pairs);
        let fit = best(&task);
        let (sets, worth) = (fit.sets(), fit.worth);
        eprintln!(
            "{minutes} min, pairs {pairs}: {sets} sets worth {worth}, proven {}, greedy {}",
            fit.proven,
            greedy(&task)
        );
    }
    dense_days();
    divan::main();
}

/// Times the best choice on days at random.
fn dense_days() {
    let mut times: Vec<f64> = (0..300)
        .map(|seed| {
            let task = dense(seed);
            let begun = Instant::now();
            black_box(best(black_box(&task)));
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let at = |share: usize| times[(times.len() - 1) * share / 100];
    eprintln!(
        "300 dense days with pairs: median {:.1} ms, 95 in 100 under {:.1} ms, slowest {:.1} ms",
        at(50),
        at(95),
        at(100)
    );
}

const CASES: [(u32, bool); 6] = [
    (30, false),
    (45, false),
    (90, false),
    (30, true),
    (45, true),
    (90, true),
];

/// Target, helpers, seconds of a set, rest, getting ready cold: a whole-body day.
const EXERCISES: [(u8, &[u8], u32, u32, u32); 10] = [
    (0, &[1, 2], 30, 210, 420),
    (3, &[4, 5], 30, 150, 300),
    (6, &[7, 8], 30, 135, 240),
    (1, &[2, 0], 30, 180, 360),
    (4, &[5, 3], 30, 120, 180),
    (6, &[7, 8], 35, 105, 180),
    (9, &[], 40, 75, 120),
    (2, &[], 45, 90, 150),
    (7, &[8], 40, 60, 90),
    (5, &[], 40, 60, 90),
];

fn candidate(&(target, helpers, work_s, rest_s, cold_s): &(u8, &[u8], u32, u32, u32)) -> Candidate {
    let works: Vec<_> = std::iter::once(target)
        .chain(helpers.iter().copied())
        .map(MuscleId)
        .collect();
    let halves = |&muscle: &MuscleId| (muscle, if muscle.0 == target { 2 } else { 1 });
    let sets = (0..6).map(|set| SetTime {
        rest_s: if set == 0 { 0 } else { rest_s + 15 * (set / 3) },
        work_s: work_s - set,
    });
    Candidate {
        target: MuscleId(target),
        halves: works.iter().map(halves).collect(),
        works: works.clone(),
        ready: Ready { cold_s, warm_s: 90 },
        sets: sets.collect(),
        may_pair: rest_s < 180,
        paired: None,
    }
}

fn task(minutes: u32, pairs: bool) -> Task {
    let need = |muscle: u8| {
        let need = Need {
            halves: u32::from(muscle * 7 % 11),
            band: Band { low: 10, high: 20 },
        };
        (MuscleId(muscle), need)
    };
    Task {
        seconds: minutes * 60,
        candidates: EXERCISES.iter().map(candidate).collect(),
        needs: (0..10).map(need).collect::<BTreeMap<_, _>>(),
        warm: BTreeSet::new(),
        pairs,
    }
}

/// Set by set, whatever is worth most for its time; returns the worth.
fn greedy(task: &Task) -> u32 {
    let mut task = task.clone();
    let (mut worth, mut counts) = (0, vec![0; task.candidates.len()]);
    loop {
        let price = |index: usize, task: &Task| {
            let one = &task.candidates[index];
            let set = one.sets.get(counts[index])?;
            let first = counts[index] == 0;
            let ready = if first { one.ready.cold_s } else { 0 };
            let seconds = set.rest_s + set.work_s + ready;
            let gain: u32 = one
                .halves
                .iter()
                .map(|(m, h)| {
                    let need = task.needs[m];
                    (0..*h)
                        .map(|more| half_set(need, need.halves + more))
                        .sum::<u32>()
                })
                .sum();
            (seconds <= task.seconds).then_some((gain + 1, seconds))
        };
        let next = (0..counts.len())
            .filter_map(|index| Some((index, price(index, &task)?)))
            .max_by(|(_, (g, s)), (_, (h, t))| (g * t).cmp(&(h * s)));
        let Some((index, (gain, seconds))) = next else {
            return worth;
        };
        worth += gain;
        counts[index] += 1;
        task.seconds -= seconds;
        for (muscle, halves) in &task.candidates[index].halves.clone() {
            task.needs.get_mut(muscle).unwrap().halves += halves;
        }
    }
}

fn half_set(need: Need, halves: u32) -> u32 {
    let (low, high) = (2 * need.band.low, 2 * need.band.high);
    match halves {
        _ if halves < low => 150 - 50 * halves / low,
        _ if halves < high => 50 - 40 * (halves - low) / (high - low),
        _ => 0,
    }
}

#[divan::bench(args = CASES)]
fn the_best_choice(bencher: Bencher<'_, '_>, (minutes, pairs): (u32, bool)) {
    let task = task(minutes, pairs);
    bencher.bench(|| best(black_box(&task)));
}

#[divan::bench(args = CASES)]
fn the_greedy_choice(bencher: Bencher<'_, '_>, (minutes, pairs): (u32, bool)) {
    let task = task(minutes, pairs);
    bencher.bench(|| greedy(black_box(&task)));
}
