//! Four unlike ways in which sets tire and rest mends.
//!
//! All agree, as far as their form lets them, with what was published of the second and third set to
//! failure: 10.8, 5.6, 4.8 with a minute and 9.4, 7.0, 6.4 with three (Pereira 2007), 15.2, 10.4, 7.4 with
//! two (Echés 2013).

use super::strength::{Kind, Region, kind};
use crate::harness::{Dice, Lift};

/// How sets tire and rest mends.
pub trait Law {
    /// A session begins.
    fn fresh(&mut self);

    /// Repetitions to be expected at a share of the day's maximum, `rest_s` after the last set.
    fn expected(&self, lift: &Lift, share: f64, rest_s: f64) -> f64;

    /// What chance makes of them.
    fn outcome(&self, expected: f64, dice: &mut Dice) -> f64 {
        expected + noise(expected) * dice.normal()
    }

    /// Whether the body knows the end that chance has set.
    fn feels_the_end(&self) -> bool {
        true
    }

    /// Rests, and does a set of `reps` with `left` more to go at a share of the day's maximum.
    fn spend(&mut self, lift: &Lift, share: f64, rest_s: f64, reps: f64, left: f64);
}

/// Noise of a set beside that of the day: about half of the variance of Mitter 2022 (0.7 repetitions of
/// five, 1.1 of a dozen). The half is common practice, no source.
fn noise(expected: f64) -> f64 {
    0.35 + 0.03 * expected.clamp(0.0, 25.0)
}

/// What a set of one lift takes from another for the same muscles: common practice, no source. That it takes
/// something: Simão 2005 (fewer repetitions in what comes later).
const RELATED: f64 = 0.4;

fn related(name: &str, region: Region, lift: &Lift) -> f64 {
    match kind(lift).region == region {
        _ if name == lift.name => 1.0,
        true => RELATED,
        false => 0.0,
    }
}

/// A reserve of work above what can be done for ever. Each repetition drains it; what is gone comes back
/// by a hyperbola of time, not by an exponential.
pub struct Reserve {
    critical: f64,
    work: f64,
    half_s: f64,
    slowed: f64,
    gone: Vec<(&'static str, Region, f64)>,
}

/// Load that could be done for ever, over the maximum (form: Bergstrom 2021, doi 10.3390/sports9020015), and
/// work above it in repetitions: set by the handbook table (9 to 10 at 75 %, 15 at 65 %) and 19.7 at 60 %
/// (Hoeger 1990). Spreads: common practice, no source.
const CRITICAL: (f64, f64) = (0.25, 0.04);
const WORK: (f64, f64) = (12.0, 0.2);
/// Half time of the reserve: that of phosphocreatine after a sprint, 56.6 ± 7.3 s (Bogdanis 1995, doi
/// 10.1113/jphysiol.1995.sp020533; n = 8, so that the standard error is a spread of 0.35 in logarithms).
const HALF_S: (f64, f64) = (56.6, 0.35);
/// It is slower after the next bout, 549 against 377 s at most (Chorley 2022).
const SLOWEST: f64 = 549.0 / 377.0;

impl Reserve {
    pub fn draw(dice: &mut Dice) -> Self {
        Self {
            critical: (CRITICAL.0 + CRITICAL.1 * dice.normal()).clamp(0.1, 0.35),
            work: dice.log_normal(WORK.0, WORK.1),
            half_s: dice.log_normal(HALF_S.0, HALF_S.1),
            slowed: 0.0,
            gone: Vec::new(),
        }
    }

    fn unspent(&self, share: f64, of: &Kind) -> f64 {
        let critical = self.critical;
        let above = 1.0 / (share - critical).max(0.05) - 1.0 / (1.0 - critical);
        (of.stamina * self.work * above + 1.0).max(0.0)
    }

    fn after(&self, gone: f64, rest_s: f64) -> f64 {
        let half = self.half_s * (1.0 + (SLOWEST - 1.0) * self.slowed);
        gone / (1.0 + gone * rest_s / half)
    }
}

impl Law for Reserve {
    fn fresh(&mut self) {
        self.gone.clear();
        self.slowed = 0.0;
    }

    fn expected(&self, lift: &Lift, share: f64, rest_s: f64) -> f64 {
        let own = self.gone.iter();
        let gone = own
            .map(|(name, region, gone)| related(name, *region, lift) * self.after(*gone, rest_s));
        let left = (1.0 - gone.sum::<f64>()).max(0.0);
        self.unspent(share, &kind(lift)) * left
    }

    fn spend(&mut self, lift: &Lift, share: f64, rest_s: f64, reps: f64, _left: f64) {
        let rested = self.gone.iter();
        let rested = rested.map(|(name, region, gone)| (*name, *region, self.after(*gone, rest_s)));
        self.gone = rested.collect::<Vec<_>>();
        let of = kind(lift);
        let drained = reps / self.unspent(share, &of).max(1.0);
        match self.gone.iter_mut().find(|(name, ..)| *name == lift.name) {
            Some((.., gone)) => *gone = (*gone + drained).min(1.0),
            None => self.gone.push((lift.name, of.region, drained.min(1.0))),
        }
        self.slowed = (self.slowed + drained).min(1.0);
    }
}

/// A set that took something, and how long ago it ended.
#[derive(Clone, Copy)]
struct Trace {
    name: &'static str,
    region: Region,
    took: f64,
    age_s: f64,
}

fn traces(of: &[Trace], lift: &Lift, rest_s: f64, kept: &dyn Fn(f64) -> f64) -> f64 {
    let sum = of.iter().map(|trace| {
        related(trace.name, trace.region, lift) * trace.took * kept(trace.age_s + rest_s)
    });
    sum.sum()
}

fn age(of: &mut [Trace], rest_s: f64, set_s: f64) {
    for trace in of {
        trace.age_s += rest_s + set_s;
    }
}

/// Seconds of a repetition (common practice, no source: two up, two down at the most).
const REP_S: f64 = 3.5;

/// Each repetition may be the one that fails; fatigue is forgotten by a power of time.
pub struct Hazard {
    per_rep: f64,
    takes: f64,
    done: Vec<Trace>,
}

/// Epley 1985: thirty repetitions over (1 / share - 1). Spread between people: 6 to 26 at one load (Cooke in
/// Zourdos 2021) is a spread of 0.25 in logarithms.
const EPLEY: (f64, f64) = (30.0, 0.22);
/// Share taken by a set to failure and the power law by which it is forgotten: set by the figures above.
const TAKES: (f64, f64) = (0.8, 0.2);
const FORGET_S: f64 = 120.0;
const FORGET_POWER: f64 = 1.2;

impl Hazard {
    pub fn draw(dice: &mut Dice) -> Self {
        Self {
            per_rep: dice.log_normal(EPLEY.0, EPLEY.1),
            takes: dice.log_normal(TAKES.0, TAKES.1).min(0.95),
            done: Vec::new(),
        }
    }
}

fn by_power(age_s: f64) -> f64 {
    (1.0 + age_s / FORGET_S).powf(-FORGET_POWER)
}

impl Law for Hazard {
    fn fresh(&mut self) {
        self.done.clear();
    }

    fn expected(&self, lift: &Lift, share: f64, rest_s: f64) -> f64 {
        let lost = traces(&self.done, lift, rest_s, &by_power);
        let fresh = kind(lift).stamina * self.per_rep * (1.0 / share.max(0.1) - 1.0);
        (fresh * (1.0 - lost).max(0.02)).max(0.0)
    }

    /// Repetitions before the first that fails. One that is as far on as expected fails as often as
    /// not; the noise says how fast that grows.
    fn outcome(&self, expected: f64, dice: &mut Dice) -> f64 {
        let steep = noise(expected) * 0.8;
        let mut reps = 0.0;
        while reps < 100.0 {
            let fails = 1.0 / (1.0 + (-(reps + 0.5 - expected) / steep).exp());
            if dice.chance(fails) {
                break;
            }
            reps += 1.0;
        }
        reps
    }

    /// A failure may come as a surprise.
    fn feels_the_end(&self) -> bool {
        false
    }

    fn spend(&mut self, lift: &Lift, _share: f64, rest_s: f64, reps: f64, left: f64) {
        let lost = traces(&self.done, lift, rest_s, &by_power);
        age(&mut self.done, rest_s, REP_S * reps);
        // Near failure costs most (Refalo 2023: speed falls faster the nearer a set ends to failure);
        // the square: common practice, no source.
        let depth = (reps / (reps + left).max(1.0)).powi(2);
        self.done.push(Trace {
            name: lift.name,
            region: kind(lift).region,
            took: self.takes * depth * (1.0 - lost).clamp(0.05, 1.0),
            age_s: 0.0,
        });
    }
}

/// Reads a handbook's table for what is possible fresh, and a table of rests for what is lost.
pub struct Tables {
    factor: f64,
    fatigue: f64,
    done: Vec<Trace>,
}

/// Shares of the maximum and repetitions: the handbook table (Haff & Triplett 2016), 60 % and 40 % by Hoeger
/// 1990 (19.7; 40 % from memory), rounded.
const REPS_AT: [(f64, f64); 13] = [
    (0.40, 36.0),
    (0.60, 19.5),
    (0.65, 15.0),
    (0.70, 11.5),
    (0.75, 10.0),
    (0.77, 9.0),
    (0.80, 8.0),
    (0.83, 7.0),
    (0.85, 6.0),
    (0.87, 5.0),
    (0.90, 4.0),
    (0.95, 2.0),
    (1.00, 1.0),
];
/// Seconds after failure and share of the repetitions still lost: 60 and 180 s by Pereira 2007, 120 by Echés
/// 2013; the ends (at once, and a quarter of an hour): common practice, no source.
const LOST_AT: [(f64, f64); 7] = [
    (0.0, 0.9),
    (30.0, 0.62),
    (60.0, 0.48),
    (120.0, 0.32),
    (180.0, 0.255),
    (360.0, 0.12),
    (900.0, 0.0),
];
/// Spreads between people: repetitions 0.22 (see above), fatigue common practice, no source.
const TABLE_FACTOR: f64 = 0.2;
const TABLE_FATIGUE: f64 = 0.2;

impl Tables {
    pub fn draw(dice: &mut Dice) -> Self {
        Self {
            factor: dice.log_normal(1.0, TABLE_FACTOR),
            fatigue: dice.log_normal(1.0, TABLE_FATIGUE),
            done: Vec::new(),
        }
    }
}

/// Between the rows by straight lines, beyond the ends as the last two rows go.
fn look_up(table: &[(f64, f64)], at: f64) -> f64 {
    let place = table.partition_point(|row| row.0 < at);
    let upper = place.clamp(1, table.len() - 1);
    let (low, high) = (table[upper - 1], table[upper]);
    low.1 + (high.1 - low.1) * (at - low.0) / (high.0 - low.0)
}

fn by_table(age_s: f64) -> f64 {
    look_up(&LOST_AT, age_s.min(900.0)).max(0.0)
}

impl Law for Tables {
    fn fresh(&mut self) {
        self.done.clear();
    }

    fn expected(&self, lift: &Lift, share: f64, rest_s: f64) -> f64 {
        let fresh = look_up(&REPS_AT, share).max(0.0);
        // A single is one repetition for everybody.
        let fresh = match fresh > 1.0 {
            true => 1.0 + (fresh - 1.0) * self.factor * kind(lift).stamina,
            false => fresh,
        };
        let lost = traces(&self.done, lift, rest_s, &by_table);
        fresh * (1.0 - lost).max(0.02)
    }

    fn spend(&mut self, lift: &Lift, _share: f64, rest_s: f64, reps: f64, left: f64) {
        let lost = traces(&self.done, lift, rest_s, &by_table);
        age(&mut self.done, rest_s, REP_S * reps);
        // As in the other law, less steep.
        let depth = (reps / (reps + left).max(1.0)).powf(1.5);
        self.done.push(Trace {
            name: lift.name,
            region: kind(lift).region,
            took: self.fatigue * depth * (1.0 - lost).clamp(0.05, 1.0),
            age_s: 0.0,
        });
    }
}

/// Each repetition costs a share of force; a set ends when the force left is less than the load. Force
/// comes back by a stretched exponential: fast at first, then ever slower.
pub struct Force {
    cost: f64,
    tau_s: f64,
    done: Vec<Trace>,
}

/// Share of the maximum that a repetition costs: 2.5 to 3 % by the handbook table (95 % for two, 75 % for
/// ten); linear in load, the most repeatable form (Mitter 2022).
const COST: (f64, f64) = (0.026, 0.2);
/// Time and stretch by which force comes back: set by the figures above.
const FORCE_S: (f64, f64) = (104.0, 0.3);
const STRETCHED: f64 = 0.565;

impl Force {
    pub fn draw(dice: &mut Dice) -> Self {
        Self {
            cost: dice.log_normal(COST.0, COST.1),
            tau_s: dice.log_normal(FORCE_S.0, FORCE_S.1),
            done: Vec::new(),
        }
    }

    fn lost(&self, lift: &Lift, rest_s: f64) -> f64 {
        traces(&self.done, lift, rest_s, &|age_s| {
            (-(age_s / self.tau_s).powf(STRETCHED)).exp()
        })
    }
}

impl Law for Force {
    fn fresh(&mut self) {
        self.done.clear();
    }

    fn expected(&self, lift: &Lift, share: f64, rest_s: f64) -> f64 {
        let force = 1.0 - self.lost(lift, rest_s);
        let cost = self.cost / kind(lift).stamina;
        (1.0 + (force - share) / cost).max(0.0)
    }

    fn spend(&mut self, lift: &Lift, _share: f64, rest_s: f64, reps: f64, _left: f64) {
        age(&mut self.done, rest_s, REP_S * reps);
        let of = kind(lift);
        self.done.push(Trace {
            name: lift.name,
            region: of.region,
            took: self.cost / of.stamina * reps,
            age_s: 0.0,
        });
    }
}
