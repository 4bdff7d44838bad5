//! Time of learning, deciding and rebuilding. Run with `cargo bench --bench model`.

#![expect(
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a benchmark may fail on its own data"
)]

use chalkbell::config;
use chalkbell::domain::advice::next_set::{Advice, Ask, next_set};
use chalkbell::domain::lifter::model::{Lifter, Model};
use chalkbell::domain::log::LoggedSet;
use chalkbell::domain::quantities::aim::Aim;
use chalkbell::domain::quantities::catalogue::Catalogue;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::id::ExerciseId;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::{DateTime, Duration, TimeZone, Utc};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

struct World {
    catalogue: std::sync::Arc<Catalogue>,
    rack: Rack,
}

impl World {
    fn new() -> Self {
        Self {
            catalogue: config::built_in(),
            rack: Rack::usual(Unit::Kg),
        }
    }

    fn lifter(&self) -> Lifter<'_> {
        Lifter {
            catalogue: &self.catalogue,
            body_mass: None,
            status: TrainingStatus::Intermediate,
        }
    }

    fn bench_press(&self) -> ExerciseId {
        self.catalogue.named("bench press").expect("built in")
    }

    /// Sessions two days apart of four sets of the bench press.
    fn log(&self, sessions: i64) -> Vec<LoggedSet> {
        let first: DateTime<Utc> = Utc.with_ymd_and_hms(2025, 1, 6, 18, 0, 0).unwrap();
        let exercise = self.bench_press();
        let mut sets = Vec::new();
        for session in 0..sessions {
            for (n, reps) in [10u32, 9, 8, 7].into_iter().enumerate() {
                let minutes = 3 * i64::try_from(n).unwrap();
                let at = first + Duration::days(2 * session) + Duration::minutes(minutes);
                sets.push(LoggedSet {
                    rir: Some(Rir::new(2.0).unwrap()),
                    ..LoggedSet::straight(
                        exercise,
                        Load::total(Mass::from_grams(80_000), Unit::Kg),
                        reps,
                        at,
                    )
                });
            }
        }
        sets
    }

    fn advise(&self, run: &[LoggedSet], model: &Model) -> Advice {
        let lifter = self.lifter();
        let exercise = self.bench_press();
        next_set(&Ask {
            exercise,
            aim: Aim::default_for(self.catalogue.exercise(exercise).class),
            run,
            model,
            rack: &self.rack,
            unit: Unit::Kg,
            lifter: &lifter,
            now: run.last().expect("a set").at,
            failing: &[],
        })
    }
}

#[divan::bench(args = [1, 10, 200])]
fn learn(bencher: Bencher, sessions: i64) {
    let world = World::new();
    let sets = world.log(sessions);
    let (last, before) = sets.split_last().expect("sets");
    let model = Model::rebuild(before, &world.lifter());
    bencher
        .with_inputs(|| model.clone())
        .bench_local_refs(|model| model.learn(black_box(last), &world.lifter()));
}

#[divan::bench(args = [1, 10, 200])]
fn decide(bencher: Bencher, sessions: i64) {
    let world = World::new();
    let sets = world.log(sessions);
    let model = Model::rebuild(&sets, &world.lifter());
    let run = sets.rchunks(4).next().expect("sets");
    bencher.bench_local(|| world.advise(black_box(run), &model));
}

/// The search for another load is the dearest decision: after three sets at ten in reserve.
#[divan::bench]
fn decide_on_another_load(bencher: Bencher) {
    let world = World::new();
    let mut sets = world.log(10);
    for set in sets.iter_mut().rev().take(4) {
        set.rir = Some(Rir::new(6.0).unwrap());
    }
    let model = Model::rebuild(&sets, &world.lifter());
    let run = sets.rchunks(4).next().expect("sets");
    bencher.bench_local(|| world.advise(black_box(run), &model));
}

/// What one filed set costs, rows decoded and encoded.
#[divan::bench(args = [1, 200])]
fn learn_and_decide_with_rows(bencher: Bencher, sessions: i64) {
    let world = World::new();
    let sets = world.log(sessions);
    let (last, before) = sets.split_last().expect("sets");
    let model = Model::rebuild(before, &world.lifter());
    let exercise = world.bench_press();
    let (condition, belief) = (model.condition.encode(), model.beliefs[&exercise].encode());
    let run = sets.rchunks(4).next().expect("sets");
    bencher.bench_local(|| {
        let mut model = Model {
            condition: chalkbell::domain::lifter::condition::Condition::decode(&condition)
                .expect("a row"),
            ..Model::default()
        };
        let held = chalkbell::domain::lifter::belief::Belief::decode(&belief).expect("a row");
        model.beliefs.insert(exercise, held);
        model.learn(black_box(last), &world.lifter());
        let advice = world.advise(run, &model);
        (
            advice,
            model.condition.encode(),
            model.beliefs[&exercise].encode(),
        )
    });
}

#[divan::bench]
fn rebuild_200_sessions_of_4_sets(bencher: Bencher) {
    let world = World::new();
    let sets = world.log(200);
    bencher.bench_local(|| Model::rebuild(black_box(&sets), &world.lifter()));
}
