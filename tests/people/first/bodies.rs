//! Three kinds of bodies. None of their forms or numbers is the model's.
//!
//! The forms are rough pictures of the published ones named at each; the numbers were chosen by hand
//! so that ten repetitions are done with about 70 to 78 % of the maximum and a second set after two
//! minutes comes to some 60 to 80 % of the first.

use std::collections::BTreeMap;

use crate::harness::{Attempt, Body, Dice, Lift};

/// How repetitions follow from the load, and what tiredness does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A power of the load less one; tiredness takes repetitions off, and comes back in proportion to
    /// the square root of time.
    Power,
    /// Falls in a straight line with the load (Brzycki's form); tiredness takes strength off, and half
    /// of what is missing comes back in a fixed time that grows through the day.
    Line,
    /// Bends at light loads (an exponential, Mayhew's form); a reservoir empties with the work done
    /// and fills up by a logistic curve.
    Bend,
}

impl Kind {
    pub const ALL: [Self; 3] = [Self::Power, Self::Line, Self::Bend];
}

/// One lift of one body.
#[derive(Clone, Copy, Debug)]
struct Strength {
    one_rm: f64,
    /// Part of the body that is lifted beside the load, kilograms.
    with_kg: f64,
    shape: f64,
    gain_a_week: f64,
    /// Form of the day, log, of this lift alone.
    form: f64,
}

pub struct Invented {
    kind: Kind,
    lifts: BTreeMap<&'static str, Strength>,
    /// Form of the day, log, of all lifts; it carries over to the next day in part.
    form: f64,
    /// What was lost by time away, log, at least 0.
    lost: f64,
    /// By group of lifts: what is missing, 0 to 1.
    missing: BTreeMap<char, f64>,
    sets_today: f64,
    toll: f64,
    pace: f64,
    reach_sd: f64,
    /// Share of what is left that is felt, and a fixed part.
    feel: (f64, f64),
    feel_sd: f64,
}

/// Lifts that tire each other.
fn group(name: &str) -> char {
    match name {
        "bench press" | "dumbbell bench press" | "overhead press" | "dip" => 'p',
        "barbell row" | "lat pulldown" | "barbell curl" | "pull-up" => 'r',
        _ => 'l',
    }
}

impl Invented {
    /// Draws a body. `maxima` are the middle one-repetition maxima by lift, kilograms as written, and
    /// what of the body is lifted beside.
    pub fn new(kind: Kind, seed: u64, maxima: &[(&'static str, f64, f64)]) -> Self {
        let mut dice = Dice::new(seed ^ 0xB0D1E5);
        let size = dice.log_normal(1.0, 0.18);
        let better = 0.002 + 0.005 * dice.uniform();
        let lifts = maxima.iter().map(|&(name, middle, with_kg)| {
            let shape = match kind {
                Kind::Power => dice.log_normal(11.0, 0.2),
                Kind::Line => dice.log_normal(38.0, 0.16),
                Kind::Bend => dice.log_normal(5.2, 0.12),
            };
            let one_rm = (middle + with_kg) * size * dice.log_normal(1.0, 0.1) - with_kg;
            let strength = Strength {
                one_rm: one_rm.max(2.0),
                with_kg,
                shape,
                gain_a_week: better * (0.5 + dice.uniform()),
                form: 0.0,
            };
            (name, strength)
        });
        Self {
            kind,
            lifts: lifts.collect(),
            form: 0.0,
            lost: 0.0,
            missing: BTreeMap::new(),
            sets_today: 0.0,
            toll: dice.log_normal(1.0, 0.22),
            pace: dice.log_normal(1.0, 0.25),
            reach_sd: 0.04 + 0.05 * dice.uniform(),
            feel: (0.75 + 0.35 * dice.uniform(), 0.6 * (dice.uniform() - 0.6)),
            feel_sd: 0.5 + 0.5 * dice.uniform(),
        }
    }

    /// Repetitions to failure, a real number, chance left out.
    fn failure(&self, lift: &Lift, kg: f64, rest_s: f64) -> f64 {
        let Some(strength) = self.lifts.get(lift.name) else {
            return 0.0;
        };
        let tired = self.tired(group(lift.name), rest_s);
        let today = (self.form + strength.form - self.lost).exp();
        let most = (strength.one_rm + strength.with_kg) * today;
        let share = ((kg + strength.with_kg) / most).max(0.05);
        let reps = match self.kind {
            Kind::Power => (strength.shape * (share.powf(-2.2) - 1.0) + 1.0) * (1.0 - tired),
            Kind::Line => {
                let share = share / (1.0 - 0.36 * tired);
                strength.shape * (1.0 - share) + 1.0
            }
            Kind::Bend => {
                let base = (strength.shape * (1.0 - share)).exp_m1() * 3.7 + 1.0;
                base * (1.0 - tired)
            }
        };
        if share > 1.0 {
            reps.min(0.4)
        } else {
            reps.clamp(0.0, 120.0)
        }
    }

    /// What is missing after some rest.
    fn tired(&self, group: char, rest_s: f64) -> f64 {
        let missing = self.missing.get(&group).copied().unwrap_or(0.0);
        let t = rest_s / self.pace;
        match self.kind {
            Kind::Power => missing * (1.0 - (t / 1500.0).sqrt()).max(0.0),
            Kind::Line => missing * 0.5_f64.powf(t / (75.0 + 9.0 * self.sets_today)),
            Kind::Bend => {
                let left = 1.0 / (1.0 + (t / 130.0).powf(1.2));
                missing * left
            }
        }
    }
}

impl Body for Invented {
    fn new_day(&mut self, days: f64, dice: &mut Dice) {
        self.missing.clear();
        self.sets_today = 0.0;
        // Nothing is lost in the first two weeks; then up to a fifth, soon half of it.
        if days > 14.0 {
            self.lost += 0.16 * (1.0 - (-(days - 14.0) / 60.0).exp());
        } else {
            self.lost *= (-days / 12.0_f64).exp();
        }
        let bad = if dice.chance(0.06) { 0.05 } else { 0.0 };
        self.form = 0.35 * self.form + 0.016 * dice.normal() - bad;
        for strength in self.lifts.values_mut() {
            if days <= 14.0 {
                strength.one_rm +=
                    (strength.one_rm + strength.with_kg) * strength.gain_a_week * days / 7.0;
            }
            strength.form = 0.012 * dice.normal();
        }
    }

    fn attempt(&self, lift: &Lift, kg: f64, rest_s: f64, stop_at: f64, dice: &mut Dice) -> Attempt {
        let able = self.failure(lift, kg, rest_s) * (1.0 + self.reach_sd * dice.normal());
        let mood = self.feel_sd * dice.normal();
        let mut reps = 0_u32;
        loop {
            let left = (able - f64::from(reps)).max(0.0);
            let felt =
                (self.feel.0 * left + self.feel.1.min(left) + mood * (0.5 + 0.25 * left)).max(0.0);
            let out = left < 1.0;
            if out || (reps > 0 && felt < stop_at + 0.5) {
                let felt = if out { felt.min(0.4) } else { felt };
                return Attempt { reps, left, felt };
            }
            reps += 1;
        }
    }

    fn take(&mut self, lift: &Lift, _kg: f64, rest_s: f64, set: &Attempt) {
        let groups: Vec<char> = self.missing.keys().copied().collect();
        for group in groups {
            let left = self.tired(group, rest_s);
            self.missing.insert(group, left);
        }
        let reps = f64::from(set.reps);
        let hard = (reps / (reps + 0.8 * set.left + 0.3)).powi(3);
        let size = reps / (reps + 2.5);
        let toll = match self.kind {
            Kind::Power => 0.42,
            Kind::Line => 0.75,
            Kind::Bend => 0.68,
        };
        let missing = self.missing.entry(group(lift.name)).or_default();
        *missing += (1.0 - *missing) * (toll * self.toll * hard * size).min(0.9);
        self.sets_today += 1.0;
    }

    fn one_rm(&self, lift: &Lift) -> f64 {
        self.lifts[lift.name].one_rm
    }
}
