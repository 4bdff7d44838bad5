//! Simulated lifters whose bodies follow other forms than the model's own, to judge it by.
//!
//! Every lifter is drawn from a seed; nothing here reads the model.

#![allow(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

pub mod crowd;

use std::collections::BTreeMap;

use chalkbell::domain::quantities::catalogue::{
    Basis, Catalogue, Equipment, Exercise, Muscle, MuscleRole,
};

use chalkbell::domain::quantities::id::{ExerciseId, MuscleId};
use chalkbell::domain::quantities::lift_class::LiftClass;

/// A small deterministic generator (splitmix64, public domain algorithm).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x1234_5678_9ABC_DEF0)
    }

    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform().max(1e-12), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    pub fn log_normal(&mut self, middle: f64, spread: f64) -> f64 {
        middle * (spread * self.normal()).exp()
    }
}

/// How a lifter's body tires and recovers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// Three deficits with three time constants take from strength; the curve is an exponential.
    StrengthThreePhases,
    /// A stock of work above a critical load is spent and refilled in two phases (Chorley 2022).
    WorkBalance,
    /// One deficit takes from repetitions, refilled in one phase whose slowness grows by set.
    OnePhase,
    /// A stock of work above a critical load, refilled at a pace that falls with the square of
    /// what is missing, the form that Ferguson 2010 printed (37, 65, 86 % after 120, 360, 900 s on
    /// a bicycle), three times as fast, as the tables of repetitions by rest ask for.
    WorkBalanceSecondOrder,
    /// Motor units at work, at rest and fatigued (Xia & Frey Law 2008, J Biomech 41:3046-3052, and
    /// a faster recovery at rest, Looft et al. 2018; rates from memory).
    ThreeCompartments,
}

impl Form {
    pub const ALL: [Self; 5] = [
        Self::StrengthThreePhases,
        Self::WorkBalance,
        Self::OnePhase,
        Self::WorkBalanceSecondOrder,
        Self::ThreeCompartments,
    ];
}

/// What a lifter says of the repetitions left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reports {
    /// What was felt, rounded.
    Felt,
    /// The same number whatever was felt.
    Always(f64),
    /// Nothing.
    Never,
}

/// No feeling of what is left errs by more than this, a standard deviation: one who has ten left
/// does not stop for having none.
const FEEL_MOST: f64 = 1.5;

/// Rate of fatigue of motor units at work, a second (knee; Frey-Law 2012, from memory).
const FATIGUE_RATE: f64 = 0.015;
/// Rate of their recovery, a second, at work; at rest it is faster by a personal factor.
const RECOVERY_RATE: f64 = 0.00149;

/// One lift of one lifter.
#[derive(Clone, Debug)]
struct Lift {
    one_rm: f64,
    /// Curve: two numbers whose meaning depends on the form.
    curve: (f64, f64),
    depth: f64,
    trend_a_week: f64,
}

pub struct Lifter {
    pub form: Form,
    pub dice: Dice,
    lifts: BTreeMap<ExerciseId, Lift>,
    pools: BTreeMap<MuscleId, [f64; 3]>,
    taus: [f64; 3],
    shares: [f64; 3],
    wobble_sd: f64,
    /// Change of every lift a week, log, beside its own trend.
    pub drift_a_week: f64,
    /// Spread of what a day adds to or takes off a lift for good, log.
    drift_sd: f64,
    /// What being run down takes off every lift these days, log.
    pub down: f64,
    wobble: BTreeMap<ExerciseId, f64>,
    /// Repetitions left over and above those felt, well away from failure.
    pub habit: f64,
    feel_sd: f64,
    rep_sd: f64,
    pub reports: Reports,
}

/// What a set came to.
pub struct Done {
    pub reps: u32,
    pub report: Option<f64>,
    /// Whether it counts (design: five to thirty repetitions, three to zero really left).
    pub counts: bool,
}

impl Lifter {
    pub fn new(form: Form, seed: u64, catalogue: &Catalogue) -> Self {
        let mut dice = Dice::new(seed);
        let slow = dice.log_normal(1.0, 0.3);
        let personal_depth = dice.log_normal(1.0, 0.25);
        let (taus, shares) = match form {
            Form::StrengthThreePhases => ([14.0, 80.0, 500.0], [0.35, 0.35, 0.30]),
            Form::WorkBalance => ([22.0, 377.0, 1.0], [0.48, 0.52, 0.0]),
            Form::OnePhase => ([160.0, 1.0, 1.0], [1.0, 0.0, 0.0]),
            Form::WorkBalanceSecondOrder => ([70.0, 1.0, 1.0], [1.0, 0.0, 0.0]),
            // Ten times the rate at work: between the one of 2008 and the fifteen of 2018.
            Form::ThreeCompartments => ([0.1 / RECOVERY_RATE, 1.0, 1.0], [1.0, 0.0, 0.0]),
        };
        let mut lifts = BTreeMap::new();
        for (id, exercise) in catalogue.exercises() {
            let base: f64 = match exercise.class {
                LiftClass::Squat => 120.0,
                LiftClass::Press | LiftClass::Pull => 80.0,
                LiftClass::SmallUpper => 40.0,
                _ => 100.0,
            };
            let curve = match form {
                // L = a + (1 − a) e^(−(r − 1)/b): about 10 repetitions at 75 %.
                Form::StrengthThreePhases => (0.25, dice.log_normal(23.0, 0.22)),
                // r = w / (L − cl): about 10 repetitions at 75 %.
                Form::WorkBalance | Form::WorkBalanceSecondOrder => {
                    (0.36 + 0.04 * dice.normal(), dice.log_normal(4.0, 0.2))
                }
                // Seconds of tension a repetition: about 10 repetitions at 75 %.
                Form::ThreeCompartments => (0.0, dice.log_normal(2.2, 0.22)),
                Form::OnePhase => (0.0, dice.log_normal(31.0, 0.22)),
            };
            let depth = personal_depth
                * dice.log_normal(1.0, 0.2)
                * match form {
                    Form::StrengthThreePhases => 0.17,
                    Form::WorkBalance | Form::WorkBalanceSecondOrder => 0.9,
                    Form::OnePhase => 0.75,
                    Form::ThreeCompartments => 1.0,
                };
            lifts.insert(
                id,
                Lift {
                    one_rm: dice.log_normal(base, 0.25),
                    curve,
                    depth,
                    trend_a_week: 0.003 + 0.004 * dice.normal(),
                },
            );
        }
        let habit = 0.4 + 0.5 * dice.normal();
        let feel_sd = dice.log_normal(0.25, 0.4);
        let reports = if dice.uniform() < 0.85 {
            Reports::Felt
        } else {
            Reports::Never
        };
        Self {
            form,
            dice,
            lifts,
            pools: BTreeMap::new(),
            taus: taus.map(|tau| tau * slow),
            shares,
            wobble_sd: 0.02,
            drift_a_week: 0.0,
            down: 0.0,
            drift_sd: 0.004,
            wobble: BTreeMap::new(),
            habit,
            feel_sd,
            rep_sd: 0.05,
            reports,
        }
    }

    /// A new day: rested, with another form of the day, `days` after the last.
    pub fn new_day(&mut self, days: f64) {
        self.pools.clear();
        let form = self.wobble_sd * 0.7 * self.dice.normal();
        let ids: Vec<_> = self.lifts.keys().copied().collect();
        for id in ids {
            let own = self.wobble_sd * 0.7 * self.dice.normal();
            self.wobble.insert(id, form + own);
            let step = self.drift_sd * days.sqrt() * self.dice.normal();
            if let Some(lift) = self.lifts.get_mut(&id) {
                lift.one_rm *= ((lift.trend_a_week + self.drift_a_week) * days / 7.0 + step).exp();
            }
        }
    }

    /// Lets every lift change at this rate a week, log, and by nothing else.
    pub fn progress_at(&mut self, rate: f64) {
        for lift in self.lifts.values_mut() {
            lift.trend_a_week = rate;
        }
        self.drift_sd = 0.0;
    }

    /// A first load as a lifter would pick it, about two thirds of the maximum.
    pub fn guess(&mut self, id: ExerciseId) -> f64 {
        let kg = self.lifts[&id].one_rm * self.dice.log_normal(0.68, 0.1);
        (kg / 2.5).round() * 2.5
    }

    pub fn rest(&mut self, seconds: f64) {
        for pool in self.pools.values_mut() {
            *pool = rested(self.form, *pool, self.taus, seconds);
        }
    }

    /// Expected repetitions to failure after `rest` more seconds, a real number.
    pub fn to_failure(&self, id: ExerciseId, exercise: &Exercise, kg: f64, rest: f64) -> f64 {
        let lift = &self.lifts[&id];
        let form = self.wobble.get(&id).copied().unwrap_or(0.0) - self.down;
        let one_rm = lift.one_rm * form.exp();
        let tired: f64 = exercise
            .muscles()
            .map(|(muscle, part)| {
                let pool = self.pools.get(&muscle).copied().unwrap_or_default();
                rested(self.form, pool, self.taus, rest).iter().sum::<f64>()
                    * if part < 1.0 { 0.35 } else { 1.0 }
            })
            .fold(0.0, f64::max);
        match self.form {
            Form::StrengthThreePhases => {
                let share = kg / (one_rm * (1.0 - tired).max(0.1));
                let (a, b) = lift.curve;
                if share >= 1.0 {
                    0.5
                } else {
                    1.0 + b * ((1.0 - a) / (share - a).max(0.02)).ln()
                }
            }
            Form::WorkBalance | Form::WorkBalanceSecondOrder => {
                let (critical, work) = lift.curve;
                work * (1.0 - tired).max(0.0) / (kg / one_rm - critical).max(0.05)
            }
            Form::OnePhase => {
                let fresh = 1.0 + lift.curve.1 * (one_rm / kg - 1.0);
                fresh * (1.0 - tired).max(0.05)
            }
            Form::ThreeCompartments => {
                let share = kg / one_rm;
                let seconds = seconds_to(1.0 - share, share, tired, lift.depth);
                0.5 + seconds / lift.curve.1
            }
        }
    }

    /// What feels left after `n`, were the feeling free of noise.
    fn felt(&self, left: f64) -> f64 {
        left - self.habit * left.max(0.0) / (left.max(0.0) + 1.5)
    }

    /// Repetitions expected of a set ended at `rir` by feel, without noise.
    pub fn expected(
        &self,
        id: ExerciseId,
        exercise: &Exercise,
        kg: f64,
        rest: f64,
        rir: f64,
    ) -> f64 {
        let failure = self.to_failure(id, exercise, kg, rest);
        self.ended(failure, rir, 0.0).0
    }

    /// Probability of at least `reps` repetitions of a set ended at `rir` by feel.
    pub fn at_least(
        &self,
        reps: f64,
        id: ExerciseId,
        exercise: &Exercise,
        kg: f64,
        rest: f64,
        rir: f64,
    ) -> f64 {
        // Middles of ten equal parts of a normal distribution.
        let tenths = [
            -1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645,
        ];
        let failure = self.to_failure(id, exercise, kg, rest);
        let reached = tenths
            .iter()
            .flat_map(|a| tenths.iter().map(move |b| (a, b)))
            .filter(|(a, b)| self.ended(failure * (self.rep_sd * **a).exp(), rir, **b).0 >= reps);
        reached.count() as f64 / 100.0
    }

    /// Whether a set reaches five nine times in ten, and `reps` on average.
    pub fn surely(
        &self,
        id: ExerciseId,
        exercise: &Exercise,
        kg: f64,
        rest: f64,
        rir: f64,
        reps: f64,
    ) -> bool {
        self.expected(id, exercise, kg, rest, rir) >= reps
            && self.at_least(5.0, id, exercise, kg, rest, rir) >= 0.9
    }

    /// The shortest rest in steps of 15 s, up to five minutes, with which a set surely reaches
    /// `reps`, by one who knows the body but not the chance of the day.
    pub fn shortest_rest(
        &self,
        id: ExerciseId,
        exercise: &Exercise,
        kg: f64,
        rir: f64,
        reps: f64,
    ) -> Option<f64> {
        let rests: Vec<f64> = (1..=20).map(|step| f64::from(step) * 15.0).collect();
        let place = rests.partition_point(|&rest| !self.surely(id, exercise, kg, rest, rir, reps));
        rests.get(place).copied()
    }

    fn ended(&self, failure: f64, rir: f64, error: f64) -> (f64, f64) {
        let most = failure.floor().max(0.0);
        let mut n = 0.0;
        loop {
            let left = failure - n - 0.5;
            let felt =
                self.felt(left) + error * (0.3 + self.feel_sd * left.max(0.0)).min(FEEL_MOST);
            if n >= most || felt <= rir + 0.5 {
                return (n, if n >= most { 0.0 } else { felt });
            }
            n += 1.0;
        }
    }

    /// Does a set after `rest`, ended at `rir` by feel.
    pub fn lift(
        &mut self,
        id: ExerciseId,
        exercise: &Exercise,
        kg: f64,
        rest: f64,
        rir: f64,
    ) -> Done {
        let failure =
            self.to_failure(id, exercise, kg, rest) * (self.rep_sd * self.dice.normal()).exp();
        let error = self.dice.normal();
        let (n, felt) = self.ended(failure, rir, error);
        let n = n.max(1.0);
        self.rest(rest);
        let near = (n / failure.max(n)).clamp(0.0, 1.0);
        let lift = &self.lifts[&id];
        let share = kg / lift.one_rm;
        for (muscle, part) in exercise.muscles() {
            let pool = self.pools.entry(muscle).or_default();
            let spent: f64 = pool.iter().sum();
            let dose = match self.form {
                Form::StrengthThreePhases => lift.depth * near * near * (1.0 + 0.02 * n).min(1.6),
                Form::WorkBalance | Form::WorkBalanceSecondOrder => {
                    lift.depth
                        * (n * (share - lift.curve.0) / lift.curve.1)
                            .min(1.0 - spent)
                            .max(0.0)
                }
                Form::OnePhase => lift.depth * near.powi(3) * (1.0 - spent),
                Form::ThreeCompartments => {
                    fatigued(n * lift.curve.1, share, spent, lift.depth) - spent
                }
            };
            for (phase, share) in pool.iter_mut().zip(self.shares) {
                *phase += part * dose * share;
            }
        }
        let busy = 3.0 * n;
        for (muscle, pool) in &mut self.pools {
            if exercise.involvement(*muscle) <= 0.0 {
                *pool = rested(self.form, *pool, self.taus, busy);
            }
        }
        Done {
            reps: whole(n),
            report: match self.reports {
                Reports::Felt => Some(felt.round().clamp(0.0, 8.0)),
                Reports::Always(rir) => Some(rir),
                Reports::Never => None,
            },
            counts: counted(n, failure),
        }
    }
}

/// Whether a set counts (design: five to thirty repetitions, three to zero left).
fn counted(reps: f64, failure: f64) -> bool {
    (5.0..=30.0).contains(&reps) && failure.floor() - reps <= 3.0
}

/// Share of motor units that are fatigued after so many seconds of work at `share` of capacity.
fn fatigued(seconds: f64, share: f64, before: f64, depth: f64) -> f64 {
    let end = depth * FATIGUE_RATE * share / RECOVERY_RATE;
    end + (before - end) * (-RECOVERY_RATE * seconds).exp()
}

/// Seconds of work at `share` until so many motor units are fatigued.
fn seconds_to(wanted: f64, share: f64, before: f64, depth: f64) -> f64 {
    let end = depth * FATIGUE_RATE * share / RECOVERY_RATE;
    if before >= wanted {
        0.0
    } else if wanted >= end {
        1000.0
    } else {
        ((end - before) / (end - wanted)).ln() / RECOVERY_RATE
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a floor of a number from 0 to some hundred"
)]
fn whole(reps: f64) -> u32 {
    reps as u32
}

fn rested(form: Form, pool: [f64; 3], taus: [f64; 3], seconds: f64) -> [f64; 3] {
    if form == Form::WorkBalanceSecondOrder {
        return [pool[0] / (1.0 + pool[0] * seconds / taus[0]), 0.0, 0.0];
    }
    [0, 1, 2].map(|i| pool[i] * (-seconds / taus[i]).exp())
}

/// Five lifts that share muscles.
pub fn catalogue() -> Catalogue {
    let muscle = |name: &str| Muscle {
        name: name.into(),
        words: vec![],
        planned: true,
        role: MuscleRole::Target,
    };
    let names = [
        "quads",
        "glutes",
        "chest",
        "triceps",
        "shoulders",
        "back",
        "biceps",
        "calves",
    ];
    let mut catalogue = Catalogue::new(names.iter().map(|name| muscle(name)).collect());
    let mut add = |name: &str, target: u8, helpers: &[u8], equipment, class| {
        catalogue
            .add(Exercise {
                name: name.into(),
                aliases: vec![],
                target: Some(MuscleId(target)),
                helpers: helpers.iter().map(|&m| MuscleId(m)).collect(),
                equipment,
                basis: Basis::Total,
                class,
                body_share: 0.0,
                timed: false,
                loads: Vec::new(),
            })
            .unwrap();
    };
    add("back squat", 0, &[1], Equipment::Barbell, LiftClass::Squat);
    add(
        "bench press",
        2,
        &[3, 4],
        Equipment::Barbell,
        LiftClass::Press,
    );
    add("barbell row", 5, &[6], Equipment::Barbell, LiftClass::Pull);
    add(
        "triceps pushdown",
        3,
        &[],
        Equipment::Stack,
        LiftClass::SmallUpper,
    );
    add(
        "standing calf raise",
        7,
        &[],
        Equipment::Stack,
        LiftClass::Calf,
    );
    catalogue
}
