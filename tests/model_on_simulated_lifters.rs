//! The model against lifters whose bodies follow other forms than its own: error of the next set
//! against simple rules, how often the 80 % interval holds, and whether advised sets count.

#[path = "simulators/mod.rs"]
mod simulators;

use chalkbell::domain::aim::Aim;
use chalkbell::domain::catalogue::{Basis, Catalogue};
use chalkbell::domain::effort::Rir;
use chalkbell::domain::id::ExerciseId;
use chalkbell::domain::load::Load;
use chalkbell::domain::log::{LoggedSet, SetKind};
use chalkbell::domain::mass::{Mass, Unit};
use chalkbell::domain::model::{Lifter as Known, Model};
use chalkbell::domain::next_set::{Ask, Decision, next_set};
use chalkbell::domain::rack::Rack;
use chalkbell::domain::status::TrainingStatus;
use chrono::{DateTime, Duration, TimeZone, Utc};
use simulators::{Form, Lifter, catalogue};

/// Figures of one crowd.
#[derive(Default, Debug)]
struct Score {
    sets: f64,
    error: f64,
    bias: f64,
    unavoidable: f64,
    width: f64,
    held: f64,
    under: f64,
    later: f64,
    later_error: f64,
    repeat: f64,
    nine_tenths: f64,
    advised: f64,
    counted: f64,
    few: f64,
    easy: f64,
    rest: f64,
    knowing_rest: f64,
    drops: f64,
    adds: f64,
    finishes: f64,
    by: std::collections::BTreeMap<(bool, usize), (f64, f64, f64, f64)>,
}

struct Played<'a> {
    catalogue: &'a Catalogue,
    rack: &'a Rack,
    known: &'a Known<'a>,
}

fn load(kg: f64) -> Load {
    Load {
        mass: Mass::from_kg(kg).unwrap(),
        unit: Unit::Kg,
        basis: Basis::Total,
    }
}

impl Played<'_> {
    /// Five weeks of three sessions, three exercises each, advice obeyed to the letter.
    fn block(&self, form: Form, seed: u64, score: &mut Score) {
        let mut body = Lifter::new(form, seed, self.catalogue);
        let mut model = Model::default();
        let mut at = Utc.with_ymd_and_hms(2026, 1, 5, 18, 0, 0).unwrap();
        let days = [2.0, 2.0, 3.0];
        for session in 0..15 {
            body.new_day(days[session % 3]);
            at += Duration::hours((days[session % 3] * 24.0) as i64);
            let exercises: &[u16] = match session % 3 {
                0 => &[0, 1, 3],
                1 => &[2, 1, 4],
                _ => &[0, 2, 3],
            };
            let mut now = at;
            for &exercise in exercises {
                now = self.exercise(
                    ExerciseId(exercise),
                    &mut body,
                    &mut model,
                    now,
                    session >= 6,
                    score,
                );
            }
        }
    }

    fn exercise(
        &self,
        id: ExerciseId,
        body: &mut Lifter,
        model: &mut Model,
        start: DateTime<Utc>,
        scored: bool,
        score: &mut Score,
    ) -> DateTime<Utc> {
        let exercise = self.catalogue.exercise(id);
        let mut aim = Aim::default_for(exercise.class);
        aim.sets = Some(4);
        let mut run: Vec<LoggedSet> = Vec::new();
        let mut now = start;
        let mut rest = 180.0; // between exercises
        for _ in 0..4 {
            let ask = Ask {
                exercise: id,
                aim,
                run: &run,
                model,
                rack: self.rack,
                unit: Unit::Kg,
                lifter: self.known,
                now: now + Duration::milliseconds((rest * 1000.0) as i64),
                failing: &[],
            };
            let advice = next_set(&ask);
            if advice.decision == Decision::Finish {
                if scored {
                    score.finishes += 1.0;
                }
                break;
            }
            let pick = advice.load.unwrap_or_else(|| {
                let guess = body.one_rm(id) * 0.68 * (0.1 * body.dice.normal()).exp();
                load((guess / 2.5).round() * 2.5)
            });
            if !run.is_empty() {
                rest = f64::from(advice.rest_s);
            }
            let kg = pick.mass.in_kg();
            let truth = body.expected(id, exercise, kg, rest, aim.rir.reps());
            let knowing = (1..=20).map(|n| f64::from(n) * 15.0).find(|&r| {
                body.expected(id, exercise, kg, r, aim.rir.reps())
                    >= (f64::from(aim.reps_low) - 1.0).max(5.0)
                    && body.at_least(5.0, id, exercise, kg, r, aim.rir.reps()) >= 0.9
            });
            let done = body.lift(id, exercise, kg, rest, aim.rir.reps());
            now += Duration::milliseconds(((rest + 3.5 * f64::from(done.reps)) * 1000.0) as i64);
            if let (true, Some(expect)) = (scored, advice.expect) {
                let n = f64::from(done.reps);
                score.sets += 1.0;
                let by = score.by.entry((body.reports, run.len())).or_default();
                by.0 += 1.0;
                by.1 += (n - expect.median).abs();
                by.2 += (n - truth).abs();
                by.3 += n - expect.median;
                score.error += (n - expect.median).abs();
                score.bias += n - expect.median;
                score.unavoidable += (n - truth).abs();
                score.width += f64::from(expect.high - expect.low);
                score.held += f64::from(u8::from((expect.low..=expect.high).contains(&done.reps)));
                score.under += f64::from(u8::from(done.reps < expect.low));
                score.advised += 1.0;
                let counts = (5..=30).contains(&done.reps) && done.left <= 3.5;
                score.counted += f64::from(u8::from(counts));
                score.few += f64::from(u8::from(done.reps < 5));
                score.easy += f64::from(u8::from(done.left > 3.5));
                score.drops += f64::from(u8::from(advice.decision == Decision::DropLoad));
                score.adds += f64::from(u8::from(advice.decision == Decision::AddLoad));
                if let Some(last) = run.last() {
                    score.rest += rest;
                    score.knowing_rest += knowing.unwrap_or(300.0);
                    if last.load == pick {
                        score.later += 1.0;
                        score.later_error += (n - expect.median).abs();
                        score.repeat += (n - f64::from(last.reps)).abs();
                        score.nine_tenths += (n - 0.9 * f64::from(last.reps)).abs();
                    }
                }
            }
            let set = LoggedSet {
                id: None,
                exercise: id,
                load: pick,
                reps: done.reps,
                rir: done.report.map(|r| Rir::new(r).unwrap()),
                kind: SetKind::Straight,
                per_side: false,
                at: now,
                timed: true,
                stated_rest_s: None,
                day: now.date_naive(),
            };
            model.learn(&set, self.known);
            run.push(set);
        }
        now
    }
}

fn crowd(form: Form, seeds: std::ops::Range<u64>) -> Score {
    let catalogue = catalogue();
    let rack = Rack::usual(Unit::Kg);
    let known = Known {
        catalogue: &catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    };
    let played = Played {
        catalogue: &catalogue,
        rack: &rack,
        known: &known,
    };
    let mut score = Score::default();
    for seed in seeds {
        played.block(form, seed, &mut score);
    }
    score
}

#[test]
fn next_set_error_interval_and_counting_on_three_forms() {
    println!(
        "form                  error unavoid bias  held under width | later model repeat 0.9x | count few easy | rest knowing drops adds finish"
    );
    for form in [Form::StrengthThreePhases, Form::WorkBalance, Form::OnePhase] {
        let s = crowd(form, 1..60);
        let per = |x: f64| x / s.sets;
        println!(
            "{:20}  {:.2}  {:.2}  {:+.2}  {:.3} {:.3} {:.1} | {:.2} {:.2} {:.2} | {:.3} {:.3} {:.3} | {:.0} {:.0} {:.2} {:.2} {}",
            format!("{form:?}"),
            per(s.error),
            per(s.unavoidable),
            per(s.bias),
            per(s.held),
            per(s.under),
            per(s.width),
            s.later_error / s.later,
            s.repeat / s.later,
            s.nine_tenths / s.later,
            s.counted / s.advised,
            s.few / s.advised,
            s.easy / s.advised,
            s.rest / s.counted,
            s.knowing_rest / s.counted,
            s.drops / s.sets,
            s.adds / s.sets,
            s.finishes,
        );
        for (key, by) in &s.by {
            println!(
                "    {key:?} n {} err {:.2} unav {:.2} bias {:+.2}",
                by.0,
                by.1 / by.0,
                by.2 / by.0,
                by.3 / by.0
            );
        }
    }
}
