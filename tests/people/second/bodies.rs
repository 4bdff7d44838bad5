//! Three bodies made of other stuff than formulas of the literature: pools of muscle that tire and
//! come back, a store of work, and a table of what a lifter once did. All numbers are invented; they
//! were only held against common practice (ten repetitions with about three quarters of the maximum,
//! a second hard set after two minutes two or three repetitions short of the first).

use crate::harness::{Attempt, Body, Dice, Lift};

/// What a body is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stuff {
    /// Three pools that come back in about a minute, some minutes and the better part of an hour.
    Pools,
    /// A store of work beyond what could go on for ever.
    Store,
    /// A table, and a strength that sags from set to set.
    Table,
}

impl Stuff {
    pub const ALL: [Self; 3] = [Self::Pools, Self::Store, Self::Table];
}

/// Share of a set's toll that each pool takes, and its half-time, seconds.
const POOLS: [(f64, f64); 3] = [(0.50, 45.0), (0.32, 200.0), (0.18, 2400.0)];
/// Share of the maximum and repetitions of the lifter whose log became the table.
const TABLE: [(f64, f64); 9] = [
    (0.30, 62.0),
    (0.45, 34.0),
    (0.58, 21.0),
    (0.66, 15.5),
    (0.73, 11.0),
    (0.80, 7.8),
    (0.87, 5.1),
    (0.94, 2.6),
    (1.02, 0.6),
];

struct Trained {
    name: &'static str,
    one_rm: f64,
    /// Repetitions in comparison with others at the same share.
    stamina: f64,
    /// What is missing of each pool, or of the store, or of the strength (the first alone), 0 to 1.
    missing: [f64; 3],
}

pub struct Made {
    stuff: Stuff,
    lifts: Vec<Trained>,
    /// Log of the day's form over all lifts.
    form: f64,
    /// Weeks trained, and what was lost by time away, log.
    weeks: f64,
    lost: f64,
    /// Log gained in the first week.
    gain: f64,
    /// How much is felt to be left of what is.
    optimism: f64,
}

impl Made {
    pub fn new(stuff: Stuff, seed: u64, maxima: &[(&'static str, f64)]) -> Self {
        let mut dice = Dice::new(seed ^ 0x5EC0);
        let size = dice.log_normal(1.0, 0.22);
        let lifts = maxima.iter().map(|(name, middle)| Trained {
            name,
            one_rm: middle * size * dice.log_normal(1.0, 0.09),
            stamina: dice.log_normal(1.0, 0.16),
            missing: [0.0; 3],
        });
        let lifts = lifts.collect();
        Self {
            stuff,
            lifts,
            form: 0.0,
            weeks: 0.0,
            lost: 0.0,
            gain: dice.log_normal(0.009, 0.5),
            optimism: 0.55 + 0.5 * dice.uniform(),
        }
    }

    fn place(&self, lift: &Lift) -> usize {
        self.lifts
            .iter()
            .position(|one| one.name == lift.name)
            .unwrap()
    }

    /// Strength grows ever more slowly, halving its pace every nine weeks.
    fn grown(&self) -> f64 {
        let pace = 9.0 / std::f64::consts::LN_2;
        (self.gain * pace * (1.0 - (-self.weeks / pace).exp()) - self.lost).exp()
    }

    /// What is missing after a rest.
    fn rested(&self, missing: [f64; 3], rest_s: f64) -> [f64; 3] {
        match self.stuff {
            Stuff::Pools => {
                let mut left = missing;
                for (one, (_, half_s)) in left.iter_mut().zip(POOLS) {
                    *one *= 0.5_f64.powf(rest_s / half_s);
                }
                left
            }
            // Comes back the more slowly the fuller it is, and never whole within a session.
            Stuff::Store => {
                let floor = missing[1].min(missing[0]);
                let above = (missing[0] - floor) / (1.0 + rest_s / 75.0).powf(1.1);
                [floor + above, missing[1], 0.0]
            }
            Stuff::Table => {
                let floor = missing[1].min(missing[0]);
                let above = (missing[0] - floor) * 80.0 / (80.0 + rest_s);
                [floor + above, missing[1], 0.0]
            }
        }
    }

    /// Repetitions to failure, a real number.
    fn reach(&self, one: &Trained, kg: f64, missing: [f64; 3]) -> f64 {
        let strength = one.one_rm * self.grown() * self.form.exp();
        let share = (kg / strength).max(0.05);
        match self.stuff {
            Stuff::Pools => {
                let gone: f64 = missing.iter().sum();
                let share = share / (1.0 - 0.45 * gone.min(0.9));
                let below = (1.06 - share).max(0.0);
                one.stamina * (0.4 + 26.0 * below + 46.0 * below * below)
            }
            Stuff::Store => {
                let beyond = (share - 0.27).max(0.03);
                let whole = (1.0 / beyond - 1.0 / 0.77) * 10.6 + 0.9;
                one.stamina * whole * (1.0 - missing[0])
            }
            Stuff::Table => {
                let share = share / (1.0 - missing[0].min(0.6));
                one.stamina.sqrt() * read(share)
            }
        }
        .max(0.0)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number from 0 up"
)]
fn whole(reps: f64) -> u32 {
    reps as u32
}

/// The table in between its entries; beyond them its ends.
fn read(share: f64) -> f64 {
    let (first, last) = (TABLE[0], TABLE[TABLE.len() - 1]);
    if share <= first.0 {
        return first.1;
    }
    if share >= last.0 {
        return (last.1 - 12.0 * (share - last.0)).max(0.0);
    }
    let above = TABLE
        .iter()
        .position(|entry| entry.0 >= share)
        .unwrap_or(1)
        .max(1);
    let ((x0, y0), (x1, y1)) = (TABLE[above - 1], TABLE[above]);
    y0 + (y1 - y0) * (share - x0) / (x1 - x0)
}

impl Body for Made {
    fn new_day(&mut self, days: f64, dice: &mut Dice) {
        let away = (days - 11.0).max(0.0);
        self.lost = (self.lost + 0.0028 * away).min(0.2);
        // What was there once comes back in a few weeks.
        self.lost *= 0.5_f64.powf(days.min(7.0) / 9.0);
        self.weeks += days.min(7.0) / 7.0;
        let bad = if dice.chance(0.12) { -0.05 } else { 0.0 };
        self.form = bad + 0.018 * (dice.uniform() + dice.uniform() + dice.uniform() - 1.5) * 2.0;
        for lift in &mut self.lifts {
            lift.missing = [0.0; 3];
        }
    }

    fn attempt(&self, lift: &Lift, kg: f64, rest_s: f64, stop_at: f64, dice: &mut Dice) -> Attempt {
        let one = &self.lifts[self.place(lift)];
        let reach = self.reach(one, kg, self.rested(one.missing, rest_s));
        let wobble = 0.35 + 0.045 * reach;
        let reach = (reach + wobble * (dice.uniform() + dice.uniform() - 1.0) * 2.2).max(0.0);
        // One stops at what feels right; far from failure nobody knows well.
        let stop = stop_at / self.optimism.max(0.3);
        let error = (0.3 + 0.22 * stop) * dice.normal();
        let planned = (reach - (stop + error).max(0.0)).round().max(1.0);
        let reps = planned.min(reach.floor()).max(0.0);
        let left = (reach - reps).max(0.0);
        let noise = (0.25 + 0.15 * left) * dice.normal();
        Attempt {
            reps: whole(reps),
            left,
            felt: (self.optimism * left + noise).max(0.0),
        }
    }

    fn take(&mut self, lift: &Lift, kg: f64, rest_s: f64, set: &Attempt) {
        let place = self.place(lift);
        let rested = self.rested(self.lifts[place].missing, rest_s);
        let reps = f64::from(set.reps);
        // Share of what could have been done.
        let spent = reps / (reps + set.left).max(1.0);
        let hard = (kg / self.lifts[place].one_rm).clamp(0.2, 1.1);
        let stuff = self.stuff;
        let one = &mut self.lifts[place];
        one.missing = match stuff {
            Stuff::Pools => {
                let toll = 0.42 * spent * spent;
                let mut missing = rested;
                for (pool, (share, _)) in missing.iter_mut().zip(POOLS) {
                    *pool += toll * share * (1.0 - *pool);
                }
                missing
            }
            Stuff::Store => {
                let gone = rested[0] + (1.0 - rested[0]) * 0.72 * spent;
                [gone, (rested[1] + 0.05 * spent).min(0.5), 0.0]
            }
            Stuff::Table => {
                let sag = 0.16 * spent * (1.15 - 0.3 * hard);
                [
                    rested[0] + sag * (1.0 - rested[0]),
                    rested[1] + 0.008 * spent,
                    0.0,
                ]
            }
        };
        // Others of the same day feel a part of it.
        let other = 0.06 * spent;
        for (at, lift) in self.lifts.iter_mut().enumerate() {
            if at != place && stuff == Stuff::Pools {
                lift.missing[2] += other * 0.2 * (1.0 - lift.missing[2]);
            }
        }
    }

    fn one_rm(&self, lift: &Lift) -> f64 {
        self.lifts[self.place(lift)].one_rm * self.grown()
    }
}
