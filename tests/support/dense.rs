//! Dense days at random: ten exercises of six sets, most of which may be paired.

use std::collections::{BTreeMap, BTreeSet};

use chalkbell::domain::advice::fit::{Candidate, Need, Ready, SetTime, Task};
use chalkbell::domain::coaching::week::Band;
use chalkbell::domain::quantities::id::MuscleId;

use super::split_mix::SplitMix64;

/// Dice that fall the same for a seed.
pub struct Dice(SplitMix64);

impl Dice {
    /// The dice of this seed.
    pub const fn of(seed: u64) -> Self {
        Self(SplitMix64(seed))
    }

    /// A number from 0 up to, without, this.
    pub fn below(&mut self, sides: u32) -> u32 {
        u32::try_from(self.0.below(sides as usize)).unwrap_or_default()
    }

    /// A number from the one to the other.
    pub fn between(&mut self, low: u32, high: u32) -> u32 {
        low + self.below(high - low + 1)
    }
}

fn muscle(place: u32) -> MuscleId {
    MuscleId(u8::try_from(place).unwrap_or_default())
}

/// The day of this number.
pub fn dense(seed: u64) -> Task {
    let mut dice = Dice::of(seed.wrapping_mul(7919) + 13);
    let muscles = dice.between(8, 14);
    let candidates = (0..10).map(|_| candidate(&mut dice, muscles)).collect();
    let mut needs = BTreeMap::new();
    for place in 0..muscles {
        let low = dice.between(4, 12);
        let halves = dice.below(20);
        let high = low + dice.between(4, 10);
        let band = Band { low, high };
        needs.insert(muscle(place), Need { halves, band });
    }
    let minutes = [30, 45, 60, 75, 90, 120];
    let minutes = minutes.get(dice.below(6) as usize).copied();
    Task {
        seconds: minutes.unwrap_or(45) * 60,
        candidates,
        needs,
        warm: BTreeSet::new(),
        pairs: true,
    }
}

fn candidate(dice: &mut Dice, muscles: u32) -> Candidate {
    let mut works = vec![muscle(dice.below(muscles))];
    for _ in 0..dice.below(4) {
        let helper = muscle(dice.below(muscles));
        if !works.contains(&helper) {
            works.push(helper);
        }
    }
    let target = works.first().copied().unwrap_or(MuscleId(0));
    let work_s = dice.between(25, 60);
    let rest_s = match works.len() {
        3.. => dice.between(120, 240),
        _ => dice.between(45, 150),
    };
    let warm_s = dice.between(60, 150);
    let sets = (0..6).map(|set| SetTime {
        rest_s: if set == 0 {
            0
        } else {
            rest_s / 15 * 15 + 15 * (set / 2)
        },
        work_s,
    });
    let part = |&one: &MuscleId| (one, if one == target { 2 } else { 1 });
    Candidate {
        target,
        halves: works.iter().map(part).collect(),
        works: works.clone(),
        ready: Ready {
            cold_s: warm_s + dice.below(300),
            warm_s,
        },
        sets: sets.collect(),
        may_pair: dice.below(5) > 0,
        paired: None,
    }
}
