//! Weeks of simulated lifters under an adviser, and what they come to.

use super::{Form, Lifter, Reports, catalogue};
use chalkbell::domain::advice::next_set::{Advice, Ask, Decision, next_set};
use chalkbell::domain::coaching::progress::{Course, course};
use chalkbell::domain::lifter::model::{Lifter as Known, Model};
use chalkbell::domain::log::LoggedSet;
use chalkbell::domain::quantities::aim::Aim;
use chalkbell::domain::quantities::catalogue::{Basis, Catalogue, Exercise};
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::id::ExerciseId;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::{DateTime, Duration, TimeZone, Utc};

/// Sessions of each lifter, three a week, three exercises a session, four sets each.
const SESSIONS: usize = 18;
/// Scored from the third week: before, the model has hardly met the lifter.
const SCORED_FROM: usize = 6;
/// Seconds to change over to the next exercise.
const BETWEEN_EXERCISES_S: f64 = 180.0;

/// Who says what to do.
#[derive(Clone, Copy, PartialEq)]
pub enum Adviser {
    /// The model, obeyed to the letter.
    Model,
    /// The model's first load of the day, then the same load and so many seconds.
    FixedRest(f64),
    /// One who knows the body, but not the chance of the day's sets.
    AllKnowing,
}

/// In what a crowd differs from the usual one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Folk {
    /// Most say what they feel, some nothing.
    Usual,
    /// All say what they feel.
    Telling,
    /// All leave this many more than they feel.
    Shy(f64),
    /// All say the same number whatever they feel.
    Constant(f64),
    /// Nobody says anything.
    Silent,
    /// Capacity changes by this a week, log.
    Drifting(f64),
    /// Every lift changes at this rate a week, log; in the last four sessions so much is off.
    Worn { rate: f64, off: f64 },
    /// The rest taken is this many times the rest told, and varies by a fifth.
    RestingBy(f64),
}

impl Folk {
    pub const ALL: [Self; 10] = [
        Self::Usual,
        Self::Telling,
        Self::Shy(1.5),
        Self::Constant(0.0),
        Self::Constant(2.0),
        Self::Silent,
        Self::Drifting(0.015),
        Self::Drifting(-0.015),
        Self::RestingBy(0.8),
        Self::RestingBy(1.3),
    ];

    fn make(self, body: &mut Lifter) {
        match self {
            Self::Usual | Self::RestingBy(_) => {}
            Self::Telling => body.reports = Reports::Felt,
            Self::Shy(more) => body.habit = more,
            Self::Constant(rir) => body.reports = Reports::Always(rir),
            Self::Silent => body.reports = Reports::Never,
            Self::Drifting(rate) => body.drift_a_week = rate,
            Self::Worn { rate, .. } => body.progress_at(rate),
        }
    }
}

/// Sums over the sets of one crowd.
#[derive(Default)]
pub struct Score {
    pub sets: f64,
    pub error: f64,
    pub unavoidable: f64,
    pub held: f64,
    pub width: f64,
    /// Sets planned, sets done on advice, and of these those that count.
    pub planned: f64,
    pub advised: f64,
    pub counted: f64,
    /// Advised sets that do not count: too few of the first set, of a later one; too far.
    pub few_first: f64,
    pub few_later: f64,
    pub too_far: f64,
    /// The same two for the first two weeks.
    pub early: f64,
    pub early_counted: f64,
    pub rest: f64,
    pub knowing_rest: f64,
    /// Sets at the load of the set before, on which simple rules can say something.
    pub same_load: f64,
    pub model: f64,
    pub repeat: f64,
    pub nine_tenths: f64,
    pub classical: f64,
}

impl Score {
    pub fn share(&self) -> f64 {
        self.counted / self.planned
    }

    pub fn rest_a_counting_set(&self) -> f64 {
        self.rest / self.counted
    }
}

struct World<'a> {
    catalogue: &'a Catalogue,
    rack: &'a Rack,
    known: &'a Known<'a>,
    adviser: Adviser,
    folk: Folk,
    sessions: usize,
}

fn load_of(kg: f64) -> Load {
    Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg)
}

fn seconds(seconds: f64) -> Duration {
    Duration::from_std(std::time::Duration::from_secs_f64(seconds)).unwrap()
}

fn yes(is: bool) -> f64 {
    f64::from(u8::from(is))
}

/// One exercise of one session.
struct Bout<'a> {
    id: ExerciseId,
    exercise: &'a Exercise,
    aim: Aim,
    run: Vec<LoggedSet>,
    now: DateTime<Utc>,
}

impl<'a> World<'a> {
    fn weeks(&self, form: Form, seed: u64, score: &mut Score) -> Model {
        let mut body = Lifter::new(form, seed, self.catalogue);
        self.folk.make(&mut body);
        let mut model = Model::default();
        let mut start = Utc.with_ymd_and_hms(2026, 1, 5, 18, 0, 0).unwrap();
        for session in 0..self.sessions {
            let (days, exercises) = match session % 3 {
                0 => (2, [0, 1, 3]),
                1 => (2, [2, 1, 4]),
                _ => (3, [0, 2, 3]),
            };
            body.new_day(f64::from(days));
            body.down = match self.folk {
                Folk::Worn { off, .. } if session + 4 >= self.sessions => off,
                _ => 0.0,
            };
            start += Duration::days(days.into());
            let mut now = start;
            for exercise in exercises {
                let mut bout = self.bout(ExerciseId(exercise), now);
                let mut early = Score::default();
                let scored = session >= SCORED_FROM;
                let into = if scored { &mut *score } else { &mut early };
                into.planned += 4.0;
                while bout.run.len() < 4 && self.set(&mut bout, &mut body, &mut model, into) {}
                score.early += early.advised;
                score.early_counted += early.counted;
                now = bout.now;
            }
        }
        model
    }

    fn bout(&self, id: ExerciseId, now: DateTime<Utc>) -> Bout<'a> {
        let exercise = self.catalogue.exercise(id);
        let mut aim = Aim::default_for(exercise.class);
        aim.sets = Some(4);
        Bout {
            id,
            exercise,
            aim,
            run: Vec::new(),
            now,
        }
    }

    fn advice(&self, bout: &Bout<'_>, model: &Model) -> Advice {
        next_set(&Ask {
            exercise: bout.id,
            aim: bout.aim,
            run: &bout.run,
            model,
            rack: self.rack,
            unit: Unit::Kg,
            lifter: self.known,
            now: bout.now + seconds(BETWEEN_EXERCISES_S),
            failing: &[],
        })
    }

    /// Load and rest of the next set; `None` when there is none to do.
    fn pick(&self, bout: &Bout<'_>, body: &mut Lifter, advice: &Advice) -> Option<(Load, f64)> {
        let first = |load: Option<Load>, body: &mut Lifter| {
            load.unwrap_or_else(|| load_of(body.guess(bout.id)))
        };
        match (self.adviser, bout.run.last()) {
            (Adviser::AllKnowing, _) => self.known_best(bout, body),
            (Adviser::Model, _) if advice.decision == Decision::Finish => None,
            (_, None) => Some((first(advice.load, body), BETWEEN_EXERCISES_S)),
            (Adviser::FixedRest(rest), Some(last)) => Some((last.load, rest)),
            (Adviser::Model, Some(_)) => Some((advice.load?, f64::from(advice.rest_s))),
        }
    }

    /// What one picks who knows the body: the rules of the decision with the truth in place of
    /// the belief.
    fn known_best(&self, bout: &Bout<'_>, body: &Lifter) -> Option<(Load, f64)> {
        let (low, high) = (f64::from(bout.aim.reps_low), f64::from(bout.aim.reps_high));
        let rir = bout.aim.rir.reps();
        let heaviest = |reps: f64, rest: f64| {
            let loads = self.rack.loads(bout.exercise.equipment, Basis::Total);
            let fitting = loads.partition_point(|mass| {
                body.surely(bout.id, bout.exercise, mass.in_kg(), rest, rir, reps)
            });
            let heaviest = loads.get(fitting.checked_sub(1)?)?;
            Some(load_of(heaviest.in_kg()))
        };
        let Some(last) = bout.run.last() else {
            let rest = BETWEEN_EXERCISES_S;
            return Some((heaviest((low + 0.6 * (high - low)).round(), rest)?, rest));
        };
        let rest = |load: &Load, reps: f64| {
            body.shortest_rest(bout.id, bout.exercise, load.mass.in_kg(), rir, reps)
        };
        if let Some(rest) = rest(&last.load, (low - 1.0).max(5.0)) {
            return Some((last.load, rest));
        }
        let lighter = heaviest(low, 150.0)?;
        Some((lighter, rest(&lighter, low).unwrap_or(150.0)))
    }

    /// One set; false when there is none to do.
    fn set(
        &self,
        bout: &mut Bout<'_>,
        body: &mut Lifter,
        model: &mut Model,
        score: &mut Score,
    ) -> bool {
        let advice = self.advice(bout, model);
        let Some((pick, told)) = self.pick(bout, body, &advice) else {
            return false;
        };
        let last = bout.run.last().cloned();
        let rest = match (self.folk, &last) {
            (Folk::RestingBy(factor), Some(_)) => body.dice.log_normal(factor * told, 0.2),
            _ => told,
        };
        let rir = bout.aim.rir;
        let kg = pick.mass.in_kg();
        let truth = body.expected(bout.id, bout.exercise, kg, rest, rir.reps());
        let reach = (f64::from(bout.aim.reps_low) - 1.0).max(5.0);
        let knowing = match self.adviser {
            Adviser::Model => body.shortest_rest(bout.id, bout.exercise, kg, rir.reps(), reach),
            _ => None,
        };
        let done = body.lift(bout.id, bout.exercise, kg, rest, rir.reps());
        bout.now += seconds(rest + 3.5 * f64::from(done.reps));
        let n = f64::from(done.reps);
        let asked = advice.expect.filter(|_| self.adviser == Adviser::Model);
        if let Some(expect) = asked {
            score.sets += 1.0;
            score.error += (n - expect.median).abs();
            score.unavoidable += (n - truth).abs();
            score.held += yes((expect.low..=expect.high).contains(&done.reps));
            score.width += f64::from(expect.high - expect.low);
        }
        if asked.is_some() || self.adviser != Adviser::Model {
            score.advised += 1.0;
            score.counted += yes(done.counts);
            score.few_first += yes(done.reps < 5 && last.is_none());
            score.few_later += yes(done.reps < 5 && last.is_some());
            score.too_far += yes(done.reps >= 5 && !done.counts);
        }
        if let Some(last) = &last {
            score.rest += rest;
            score.knowing_rest += knowing.unwrap_or(300.0);
            if let (true, Some(expect)) = (last.load == pick, asked) {
                let before = f64::from(last.reps);
                let max = one_rm(kg, before + last.rir.map_or(rir.reps(), Rir::reps));
                let epley = 30.0 * (max / kg - 1.0) - rir.reps();
                score.same_load += 1.0;
                score.model += (n - expect.median).abs();
                score.repeat += (n - before).abs();
                score.nine_tenths += (n - 0.9 * before).abs();
                score.classical += (n - epley).abs();
            }
        }
        let set = LoggedSet {
            rir: done.report.map(|left| Rir::new(left).unwrap()),
            asked: Some(rir),
            ..LoggedSet::straight(bout.id, pick, done.reps, bout.now)
        };
        model.learn(&set, self.known);
        bout.run.push(set);
        true
    }
}

/// Epley 1985: 1RM from repetitions to failure.
fn one_rm(kg: f64, reps: f64) -> f64 {
    kg * (1.0 + reps / 30.0)
}

/// The sums over this many lifters of one form.
pub fn crowd(form: Form, folk: Folk, adviser: Adviser, lifters: u64) -> Score {
    let catalogue = catalogue();
    let rack = Rack::usual(Unit::Kg);
    let known = Known {
        catalogue: &catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    };
    let world = World {
        catalogue: &catalogue,
        rack: &rack,
        known: &known,
        adviser,
        folk,
        sessions: SESSIONS,
    };
    let mut score = Score::default();
    for seed in 1..=lifters {
        world.weeks(form, seed, &mut score);
    }
    score
}

/// How each lift of one lifter is coming along after so many sessions under the model's advice.
pub fn courses(form: Form, folk: Folk, seed: u64, sessions: usize) -> Vec<Course> {
    let catalogue = catalogue();
    let rack = Rack::usual(Unit::Kg);
    let known = Known {
        catalogue: &catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    };
    let world = World {
        catalogue: &catalogue,
        rack: &rack,
        known: &known,
        adviser: Adviser::Model,
        folk,
        sessions,
    };
    let model = world.weeks(form, seed, &mut Score::default());
    let one = |(&id, belief)| {
        let population = known.population(catalogue.exercise(id));
        course(belief, &model.condition, &population)
    };
    model.beliefs.iter().map(one).collect()
}
