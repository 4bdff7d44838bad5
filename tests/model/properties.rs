//! What must hold of the model whatever was lifted.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

use chalkbell::config;
use chalkbell::domain::advice::next_set::{
    Advice, Ask, Decision, Reason, Trial, grounds, next_set, what_if,
};
use chalkbell::domain::lifter::belief::Belief;
use chalkbell::domain::lifter::condition::Condition;
use chalkbell::domain::lifter::model::{Lifter, Model};
use chalkbell::domain::log::{LimitingFactor, LoggedSet, SetKind};
use chalkbell::domain::quantities::aim::Aim;
use chalkbell::domain::quantities::catalogue::{Basis, Catalogue};
use chalkbell::domain::quantities::check::Check;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::id::ExerciseId;
use chalkbell::domain::quantities::lift_class::LiftClass;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::{DateTime, Duration, TimeZone, Utc};
use proptest::prelude::*;

/// Lifts that share muscles, of every kind of load.
const NAMES: [&str; 6] = [
    "bench press",
    "triceps pushdown",
    "back squat",
    "pull-up",
    "dumbbell bench press",
    "standing calf raise",
];

fn start() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 1, 5, 18, 0, 0).unwrap()
}

fn lifter(catalogue: &Catalogue) -> Lifter<'_> {
    Lifter {
        catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    }
}

fn exercise(catalogue: &Catalogue, lift: usize) -> ExerciseId {
    catalogue.named(NAMES[lift]).unwrap()
}

/// One set in short: lift, kilograms, repetitions, reserve, seconds since the last, kind.
type Short = (usize, f64, u32, Option<u32>, i64, u8);

fn short() -> impl Strategy<Value = Short> {
    let gap = prop_oneof![
        8 => 5i64..600,
        2 => 80_000i64..400_000,
        1 => 2_000_000i64..9_000_000,
    ];
    (
        0usize..NAMES.len(),
        1.0f64..300.0,
        prop_oneof![6 => 1u32..20, 1 => 20u32..=100],
        proptest::option::of(0u32..11),
        gap,
        0u8..12,
    )
}

/// Sets as people log them: near what one usually does, and to some effort. Over logs of loads that
/// jump by chance the explanations of a set change their weights so much that some laws can fail by a
/// tenth of a repetition; there only soundness is asked for.
fn lifelike() -> impl Strategy<Value = Short> {
    let gap = prop_oneof![8 => 60i64..600, 2 => 80_000i64..400_000, 1 => 2_000_000i64..5_000_000];
    (
        0usize..NAMES.len(),
        40.0f64..80.0,
        4u32..16,
        proptest::option::of(0u32..5),
        gap,
        0u8..12,
    )
}

fn log(catalogue: &Catalogue, shorts: &[Short]) -> Vec<LoggedSet> {
    let mut at = start();
    let logged = |&(lift, kg, reps, rir, gap, kind): &Short| {
        at += Duration::seconds(gap);
        let id = exercise(catalogue, lift);
        let basis = match (catalogue.exercise(id).basis, kind % 3) {
            (Basis::Body, 0) => Basis::Added,
            (Basis::Body, 1) => Basis::Assisted,
            (basis, _) => basis,
        };
        let kg = if basis == Basis::Body { 0.0 } else { kg };
        LoggedSet {
            rir: rir.map(|rir| Rir::new(f64::from(rir)).unwrap()),
            gave_out: match kind {
                5 => Some(LimitingFactor::Helpers),
                6 => Some(LimitingFactor::Breath),
                _ => None,
            },
            kind: match kind {
                0 => SetKind::WarmUp,
                1 => SetKind::Other,
                _ => SetKind::Straight,
            },
            per_side: kind == 2,
            timed: kind != 3,
            stated_rest_s: (kind == 4).then_some(90),
            ..LoggedSet::straight(
                id,
                Load {
                    mass: Mass::from_kg(kg).unwrap(),
                    unit: Unit::Kg,
                    basis,
                },
                reps,
                at,
            )
        }
    };
    shorts.iter().map(logged).collect()
}

struct World {
    catalogue: std::sync::Arc<Catalogue>,
    rack: Rack,
}

fn world() -> World {
    World {
        catalogue: config::built_in(),
        rack: Rack::usual(Unit::Kg),
    }
}

impl World {
    /// Asks for the next set of the lift of the last set.
    fn asked<T>(&self, sets: &[LoggedSet], model: &Model, put: impl FnOnce(&Ask<'_>) -> T) -> T {
        let last = sets.last().unwrap();
        let run: Vec<LoggedSet> = sets
            .iter()
            .filter(|set| set.exercise == last.exercise && set.day == last.day)
            .cloned()
            .collect();
        let lifter = lifter(&self.catalogue);
        let exercise = self.catalogue.exercise(last.exercise);
        put(&Ask {
            exercise: last.exercise,
            aim: Aim::default_for(exercise.class),
            run: &run,
            model,
            rack: &self.rack,
            unit: Unit::Kg,
            lifter: &lifter,
            now: last.at + Duration::seconds(20),
            failing: &[],
        })
    }

    fn medians(&self, sets: &[LoggedSet], model: &Model, trials: &[Trial]) -> Vec<f64> {
        self.asked(sets, model, |ask| {
            trials
                .iter()
                .filter_map(|trial| what_if(ask, trial).expect)
                .map(|expect| expect.median)
                .collect()
        })
    }
}

fn falls(values: &[f64]) -> bool {
    values.windows(2).any(|pair| pair[1] < pair[0] - 1e-6)
}

fn check_sound(advice: &Advice) -> Result<(), TestCaseError> {
    if let Some(expect) = advice.expect {
        prop_assert!(expect.median.is_finite() && expect.median >= 0.0);
        prop_assert!(expect.low <= expect.high, "{expect:?}");
        prop_assert!(expect.median.round() >= f64::from(expect.low), "{expect:?}");
        prop_assert!(
            expect.median.round() <= f64::from(expect.high),
            "{expect:?}"
        );
    }
    prop_assert!(advice.expect.is_none() || advice.load.is_some());
    // Only of a lift never done may a load be named without a word of what comes of it.
    let foreseen = advice.reason == Reason::FromRelated || advice.decision == Decision::Wait;
    prop_assert!(advice.load.is_none() || advice.expect.is_some() || foreseen);
    if advice.decision != Decision::Wait {
        prop_assert!(
            advice.rest_s <= 300 && advice.rest_s.is_multiple_of(15),
            "{advice:?}"
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_rest_never_predicts_fewer_reps(shorts in proptest::collection::vec(short(), 1..25)) {
        let world = world();
        let sets = log(&world.catalogue, &shorts);
        let model = Model::rebuild(&sets, &lifter(&world.catalogue));
        let load = sets.last().map(|set| set.load);
        let trials: Vec<Trial> = (0..40)
            .map(|n| Trial { load, rest_s: Some(n * 15), rir: None })
            .collect();
        let medians = world.medians(&sets, &model, &trials);
        prop_assert!(!falls(&medians), "{medians:?}");
    }

    #[test]
    fn more_load_never_predicts_more_reps(shorts in proptest::collection::vec(short(), 1..25)) {
        let world = world();
        let sets = log(&world.catalogue, &shorts);
        let model = Model::rebuild(&sets, &lifter(&world.catalogue));
        let basis = world.catalogue.exercise(sets.last().unwrap().exercise).basis;
        let basis = if basis == Basis::Body { Basis::Added } else { basis };
        let trials: Vec<Trial> = (1..60).rev()
            .map(|n| Trial {
                load: Some(Load { mass: Mass::from_kg(f64::from(n) * 5.0).unwrap(), unit: Unit::Kg, basis }),
                rest_s: Some(120),
                rir: None,
            })
            .collect();
        let medians = world.medians(&sets, &model, &trials);
        prop_assert!(!falls(&medians), "{medians:?}");
    }

    #[test]
    fn a_better_set_than_expected_never_lowers_capacity(
        shorts in proptest::collection::vec(lifelike(), 0..20),
        lift in 0usize..NAMES.len(),
        share in 0.5f64..1.2,
        rir in proptest::option::of(0u32..5),
        gap in 30i64..100_000,
    ) {
        let world = world();
        let lifter = lifter(&world.catalogue);
        let before = log(&world.catalogue, &shorts);
        let model = Model::rebuild(&before, &lifter);
        let mut over = Vec::new();
        for reps in 1..=40 {
            let mut shorts = shorts.clone();
            // Kind 4 states the rest: else more repetitions would mean less of it.
            shorts.push((lift, 60.0 * share, reps, rir, gap, 4));
            let sets = log(&world.catalogue, &shorts);
            let set = sets.last().unwrap();
            let Some(belief) = model.beliefs.get(&set.exercise) else { break };
            let before = belief.one_rm().0;
            let mut model = model.clone();
            let learned = model.learn(set, &lifter);
            // What is far over everything may be a slip, and then teaches nothing.
            if learned.expected.is_some_and(|expected| f64::from(reps) > expected.median + 1.0) {
                over.push(model.beliefs[&set.exercise].one_rm().0 / before);
            }
        }
        // At most what time away costs, a fifth, is missing after it.
        prop_assert!(over.iter().all(|ratio| *ratio > 0.78), "{over:?}");
    }

    #[test]
    fn rebuilt_equals_learned_through_rows_bit_for_bit(
        shorts in proptest::collection::vec(short(), 0..40),
    ) {
        let world = world();
        let lifter = lifter(&world.catalogue);
        let sets = log(&world.catalogue, &shorts);
        let rebuilt = Model::rebuild(&sets, &lifter);
        // As the store does it: two rows out, one set, two rows back.
        let mut beliefs = std::collections::BTreeMap::<ExerciseId, Vec<u8>>::new();
        let mut condition = Condition::default().encode();
        for set in &sets {
            let mut model = Model { condition: Condition::decode(&condition).unwrap(), ..Model::default() };
            if let Some(row) = beliefs.get(&set.exercise) {
                model.beliefs.insert(set.exercise, Belief::decode(row).unwrap());
            }
            model.learn(set, &lifter);
            condition = model.condition.encode();
            if let Some(belief) = model.beliefs.get(&set.exercise) {
                beliefs.insert(set.exercise, belief.encode());
            }
        }
        prop_assert_eq!(&rebuilt.condition.encode(), &condition);
        let rows: std::collections::BTreeMap<_, _> =
            rebuilt.beliefs.iter().map(|(id, belief)| (*id, belief.encode())).collect();
        prop_assert_eq!(&rows, &beliefs);
        for row in beliefs.values() {
            prop_assert!(row.len() < 4096, "{}", row.len());
        }
        prop_assert!(condition.len() < 2048, "{}", condition.len());
    }

    #[test]
    fn advice_is_sound_after_any_log(shorts in proptest::collection::vec(short(), 1..60)) {
        let world = world();
        let sets = log(&world.catalogue, &shorts);
        let model = Model::rebuild(&sets, &lifter(&world.catalogue));
        let advice = world.asked(&sets, &model, next_set);
        check_sound(&advice)?;
        let asked = world.asked(&sets, &model, |ask| what_if(ask, &Trial::default()));
        if let Some(expect) = asked.expect {
            prop_assert!(expect.median.is_finite());
        }
        let waiting = world.asked(&sets, &model, |ask| {
            next_set(&Ask { failing: &[Check::Breath], ..*ask })
        });
        check_sound(&waiting)?;
        if waiting.decision == Decision::Wait {
            prop_assert!(waiting.rest_s > 20, "{waiting:?}");
            prop_assert_eq!(waiting.limits, vec![Check::Breath]);
        }
    }

    #[test]
    fn no_load_is_left_for_which_a_what_if_is_good(
        shorts in proptest::collection::vec(lifelike(), 1..30),
        (sets, kg, reps) in (1u32..5, 60.0f64..140.0, 4u32..13),
        rir in proptest::option::of(0u32..4),
    ) {
        let world = world();
        let mut shorts = shorts;
        // A run as lifters do it, after anything.
        shorts.push((2, kg, reps, rir, 200_000, 5));
        for n in 1..sets {
            shorts.push((2, kg, reps.saturating_sub(n).max(3), rir, 200, 5));
        }
        let sets = log(&world.catalogue, &shorts);
        let model = Model::rebuild(&sets, &lifter(&world.catalogue));
        let (advice, longest, chance) = world.asked(&sets, &model, |ask| {
            let trial = Trial { load: sets.last().map(|set| set.load), rest_s: Some(ask.aim.rest_limit_s), rir: None };
            let longest = what_if(ask, &trial);
            let chance = grounds(ask, &longest).unwrap().counts.1;
            (next_set(ask), longest.expect.unwrap(), chance)
        });
        let low = f64::from(Aim::default_for(LiftClass::Squat).reps_low);
        let in_reach = longest.median >= (low - 2.0).max(5.0) - 0.5;
        // Who stops at five by choice does fives: asked for as it went.
        let fives = sets.last().is_some_and(|set| set.reps == 5);
        let left = matches!(advice.reason, Reason::OutOfReach { .. } | Reason::TooHeavy | Reason::NothingMoreCounts);
        if in_reach && chance >= 0.82 {
            prop_assert!(!left, "{advice:?} {longest:?} {chance}");
        } else if chance < 0.82 && !fives {
            prop_assert!(advice.decision != Decision::SameLoad, "{advice:?} {longest:?} {chance}");
        }
    }

    #[test]
    fn the_unit_that_loads_are_written_in_changes_nothing(
        shorts in proptest::collection::vec(short(), 1..30),
    ) {
        let world = world();
        let lifter = lifter(&world.catalogue);
        let mut sets = log(&world.catalogue, &shorts);
        let in_kg = Model::rebuild(&sets, &lifter);
        for set in sets.iter_mut().step_by(2) {
            set.load.unit = Unit::Lb;
            set.load.mass = Mass::new(set.load.mass.in_lb(), Unit::Lb).unwrap();
        }
        prop_assert_eq!(in_kg, Model::rebuild(&sets, &lifter));
    }
}
