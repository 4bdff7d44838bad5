//! How long sets take, one exercise alone or two in turn.

use super::{SetTime, Stretch, Task};
use crate::domain::quantities::id::MuscleId;

/// From a set of one exercise of a pair to the next set of the other, seconds: a walk, and breath
/// enough. Common practice, no source.
pub const SWITCH_S: u32 = 30;

/// Seconds from the first set to the end of the last: the sets of `first`, and in turn with them
/// those of `second` (none where it is done alone). Each rests as long as it asks for; what is left
/// of the longer one at the end goes on alone.
///
/// ```text
/// start = max(end of its own last set + its rest, end of the other's last set + switch)
/// ```
#[must_use]
pub fn run_s(first: &[SetTime], second: &[SetTime]) -> u32 {
    let mut clock = Clock::default();
    for round in 0..first.len().max(second.len()) {
        for (side, sets) in [first, second].into_iter().enumerate() {
            if let Some(set) = sets.get(round) {
                clock.set(side, set);
            }
        }
    }
    clock.now
}

/// Ends of sets, seconds from the beginning.
#[derive(Default)]
struct Clock {
    now: u32,
    own: [u32; 2],
    last: Option<usize>,
}

impl Clock {
    fn set(&mut self, side: usize, set: &SetTime) {
        let other = self.last.is_some_and(|last| last != side);
        let walked = self.now + if other { SWITCH_S } else { 0 };
        let rested = self.own.get(side).map_or(0, |end| end + set.rest_s);
        self.now = rested.max(walked) + set.work_s;
        if let Some(end) = self.own.get_mut(side) {
            *end = self.now;
        }
        self.last = Some(side);
    }
}

/// A stretch with its times, seconds from the beginning of the session.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timed {
    /// What is done.
    pub stretch: Stretch,
    /// When its changeover begins.
    pub from_s: u32,
    /// When its last set ends.
    pub to_s: u32,
}

/// The timetable of stretches in order. A stretch of candidates that the task does not have takes
/// no time.
#[must_use]
pub fn timetable(task: &Task, stretches: &[Stretch]) -> Vec<Timed> {
    let mut warm: Vec<MuscleId> = task.warm.iter().copied().collect();
    let mut now = 0;
    let mut timed = Vec::with_capacity(stretches.len());
    for stretch in stretches {
        let mut ready_s = 0;
        let mut sets: [&[SetTime]; 2] = [&[], &[]];
        for (taken, done) in stretch.taken().zip(&mut sets) {
            let Some(candidate) = task.candidates.get(taken.candidate) else {
                continue;
            };
            ready_s += match warm.contains(&candidate.target) {
                true => candidate.ready.warm_s,
                false => candidate.ready.cold_s,
            };
            warm.push(candidate.target);
            *done = candidate.sets.get(..taken.sets).unwrap_or_default();
        }
        let [first, second] = sets;
        let to_s = now + ready_s + run_s(first, second);
        timed.push(Timed {
            stretch: *stretch,
            from_s: now,
            to_s,
        });
        now = to_s;
    }
    timed
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn set(rest_s: u32, work_s: u32) -> SetTime {
        SetTime { rest_s, work_s }
    }

    #[test]
    fn a_run_is_its_sets_and_the_rests_between() {
        assert_eq!(run_s(&[], &[]), 0);
        assert_eq!(run_s(&[set(0, 30)], &[]), 30);
        assert_eq!(run_s(&[set(0, 30), set(120, 40)], &[]), 190);
        // Begun earlier: a minute of the rest is still to go.
        assert_eq!(run_s(&[set(60, 30)], &[]), 90);
    }

    #[test]
    fn in_turn_each_rests_while_the_other_works() {
        let one = [set(0, 30), set(120, 30), set(120, 30)];
        // 30 work, 30 walk, 30 work, 60 left of the rest: 150 a round, and the last set of the
        // second 60 after that of the first.
        assert_eq!(run_s(&one, &one), 2 * 150 + 30 + 60);
        // Little rest asked for: walking is what is left.
        let brisk = [set(0, 30), set(15, 30)];
        assert_eq!(run_s(&brisk, &brisk), 4 * 30 + 3 * 30);
        // The longer one goes on alone.
        let short = [set(0, 30)];
        assert_eq!(run_s(&one, &short), run_s(&one, &[]));
        assert_eq!(run_s(&short, &one), 60 + run_s(&one, &[]));
    }
}
