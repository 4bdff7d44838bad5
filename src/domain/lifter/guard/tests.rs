use chrono::DateTime;

use super::Verdict::{AskLoad, AskReps, Plausible};
use super::*;
use crate::config;
use crate::domain::quantities::effort::Rir;

/// Spread of a belief after some sessions.
const WELL_KNOWN: f64 = 0.05;
/// Spread after a set or two.
const BARELY_KNOWN: f64 = 0.3;

/// What a lifter who did `reps` with `kg` moved can do once, well known.
fn known(kg: f64, reps: u32) -> Option<Known> {
    Known::new(kg * (1.0 + f64::from(reps) / 30.0), WELL_KNOWN)
}

fn load(amount: f64, unit: Unit, basis: Basis) -> Load {
    let mass = Mass::new(amount, unit).unwrap();
    Load { mass, unit, basis }
}

fn set_of(name: &str, load: Load, reps: u32, rir: Option<f64>) -> LoggedSet {
    LoggedSet {
        rir: rir.map(|rir| Rir::new(rir).unwrap()),
        ..LoggedSet::straight(
            config::built_in().named(name).unwrap(),
            load,
            reps,
            DateTime::UNIX_EPOCH,
        )
    }
}

fn verdict(set: &LoggedSet, known: Option<Known>) -> Verdict {
    let catalogue = config::built_in();
    judge(set, catalogue.exercise(set.exercise), None, known)
}

/// The verdict on `kg` for `reps` in the exercise's own basis.
fn on(name: &str, kg: f64, reps: u32, known: Option<Known>) -> Verdict {
    let catalogue = config::built_in();
    let basis = match catalogue.exercise(catalogue.named(name).unwrap()).basis {
        Basis::Body if kg > 0.0 => Basis::Added,
        basis => basis,
    };
    verdict(&set_of(name, load(kg, Unit::Kg, basis), reps, None), known)
}

fn likely(amount: f64, unit: Unit, basis: Basis) -> Verdict {
    AskLoad {
        likely: Some(load(amount, unit, basis)),
    }
}

#[test]
fn a_stranger_in_pounds_is_offered_pounds_and_a_zero_too_many_is_taken_off() {
    for (name, kg, reps) in [
        ("bench press", 185.0, 7),
        ("bench press", 225.0, 5),
        ("back squat", 315.0, 5),
        ("deadlift", 405.0, 3),
    ] {
        assert_eq!(
            on(name, kg, reps, None),
            likely(kg, Unit::Lb, Basis::Total),
            "{name} {kg}"
        );
    }
    for (name, kg, reps) in [
        ("bench press", 400.0, 5),
        ("back squat", 700.0, 8),
        ("deadlift", 900.0, 10),
    ] {
        assert_eq!(
            on(name, kg, reps, None),
            likely(kg / 10.0, Unit::Kg, Basis::Total),
            "{name} {kg}"
        );
    }
}

#[test]
fn a_slipped_zero_is_asked_about_with_the_load_meant() {
    let total = |kg| likely(kg, Unit::Kg, Basis::Total);
    let bench = known(80.0, 10);
    assert_eq!(on("bench press", 800.0, 10, bench), total(80.0));
    assert_eq!(on("bench press", 825.0, 8, bench), total(82.5));
    assert_eq!(on("bench press", 800.0, 10, None), total(80.0));
    assert_eq!(on("leg press", 999.0, 10, known(100.0, 12)), total(99.9));
    let hand = |kg| likely(kg, Unit::Kg, Basis::PerHand);
    assert_eq!(on("lateral raise", 100.0, 12, known(10.0, 15)), hand(10.0));
    assert_eq!(on("hammer curl", 140.0, 12, None), hand(14.0));
    let added = likely(10.0, Unit::Kg, Basis::Added);
    assert_eq!(on("pull-up", 100.0, 8, known(85.0, 8)), added);
    assert_eq!(
        on("pull-up", 200.0, 8, None),
        likely(20.0, Unit::Kg, Basis::Added)
    );
}

#[test]
fn pounds_taken_for_kilograms_are_asked_about() {
    let bench = known(100.0, 8);
    let expected = likely(225.0, Unit::Lb, Basis::Total);
    assert_eq!(on("bench press", 225.0, 8, bench), expected);
}

#[test]
fn a_load_that_no_slip_explains_is_asked_about_without_another() {
    let found = on("bench press", 170.0, 8, known(45.0, 8));
    assert_eq!(found, AskLoad { likely: None });
}

#[test]
fn ordinary_training_is_never_asked_about() {
    let bench = known(80.0, 10);
    let sets = [
        ("the same", 80.0, 10),
        ("more reps", 80.0, 16),
        ("tenth more load", 87.5, 10),
        ("quarter more at once", 100.0, 10),
        ("heavy single", 120.0, 1),
        ("empty bar", 20.0, 15),
        ("warm-up without a word", 40.0, 5),
        ("slip that may be a light set", 8.0, 10),
        ("light and long", 40.0, 40),
    ];
    for (label, kg, reps) in sets {
        assert_eq!(on("bench press", kg, reps, bench), Plausible, "{label}");
    }
}

#[test]
fn strong_strangers_are_not_asked() {
    let sets = [
        ("back squat", 200.0, 8),
        ("deadlift", 240.0, 5),
        ("bench press", 150.0, 8),
        ("leg press", 400.0, 12),
        ("hip thrust", 220.0, 10),
        ("dumbbell bench press", 50.0, 10),
        ("lateral raise", 20.0, 15),
        ("pull-up", 50.0, 6),
        ("dip", 60.0, 8),
        ("standing calf raise", 180.0, 20),
        ("leg extension", 110.0, 15),
        ("barbell curl", 60.0, 10),
        ("cable crunch", 90.0, 15),
        ("push-up", 0.0, 100),
        ("sit-up", 0.0, 60),
    ];
    for (name, kg, reps) in sets {
        assert_eq!(on(name, kg, reps, None), Plausible, "{name}");
    }
}

#[test]
fn one_hand_is_held_to_less_than_two() {
    assert_eq!(on("bench press", 90.0, 10, None), Plausible);
    assert_ne!(on("dumbbell bench press", 90.0, 10, None), Plausible);
}

#[test]
fn the_first_warm_ups_do_not_bind_a_newcomer() {
    let after_the_bar = Known::new(20.0 * (1.0 + 10.0 / 30.0), BARELY_KNOWN);
    assert_eq!(on("back squat", 60.0, 8, after_the_bar), Plausible);
    assert_ne!(on("back squat", 600.0, 8, after_the_bar), Plausible);
}

#[test]
fn repetitions_in_crowds_are_asked_about() {
    let bench = known(80.0, 10);
    assert_eq!(on("bench press", 8.0, 100, bench), AskReps);
    assert_eq!(on("bench press", 8.0, 100, None), AskReps);
    assert_eq!(on("bench press", 80.0, 80, bench), AskReps);
    assert_eq!(on("bench press", 100.0, 44, bench), AskReps);
}

#[test]
fn far_more_repetitions_than_the_body_can_do_are_asked_about() {
    let pull_up = known(75.0, 8);
    assert_eq!(on("pull-up", 0.0, 18, pull_up), Plausible);
    assert_eq!(on("pull-up", 0.0, 80, pull_up), AskReps);
}

#[test]
fn a_hard_set_at_a_tenth_of_the_load_is_asked_about() {
    let bench = known(80.0, 10);
    let eight = load(8.0, Unit::Kg, Basis::Total);
    let hard = set_of("bench press", eight, 10, Some(2.0));
    assert_eq!(verdict(&hard, bench), likely(80.0, Unit::Kg, Basis::Total));
    let easy = set_of("bench press", eight, 10, Some(8.0));
    assert_eq!(verdict(&easy, bench), Plausible);
    let warm_up = LoggedSet {
        kind: SetKind::WarmUp,
        ..hard.clone()
    };
    assert_eq!(verdict(&warm_up, bench), Plausible);
    let drop_set = LoggedSet {
        kind: SetKind::Other,
        ..hard.clone()
    };
    assert_eq!(verdict(&drop_set, bench), Plausible);
    assert_eq!(verdict(&hard, None), Plausible);
}

#[test]
fn pounds_of_a_pound_lifter_are_weighed_as_pounds() {
    let bench = known(100.0, 8);
    let set = |amount| set_of("bench press", load(amount, Unit::Lb, Basis::Total), 8, None);
    assert_eq!(verdict(&set(225.0), bench), Plausible);
    assert_eq!(
        verdict(&set(2250.0), bench),
        likely(225.0, Unit::Lb, Basis::Total)
    );
}

#[test]
fn a_heavy_lifter_may_hang_more_on_the_belt() {
    let catalogue = config::built_in();
    let set = set_of("dip", load(60.0, Unit::Kg, Basis::Added), 8, None);
    let body = Some(Mass::from_grams(120_000));
    let found = judge(&set, catalogue.exercise(set.exercise), body, None);
    assert_eq!(found, Plausible);
}

#[test]
fn help_of_the_whole_body_is_asked_about() {
    let set = |kg| set_of("pull-up", load(kg, Unit::Kg, Basis::Assisted), 8, None);
    assert_eq!(verdict(&set(15.0), None), Plausible);
    assert_eq!(verdict(&set(80.0), None), Plausible);
    let expected = likely(15.0, Unit::Kg, Basis::Assisted);
    assert_eq!(verdict(&set(150.0), None), expected);
}

#[test]
fn a_vague_estimate_lets_no_slip_through() {
    let vague = Known::new(100.0, 2.0);
    assert_ne!(on("bench press", 800.0, 10, vague), Plausible);
}

#[test]
fn a_lifter_known_above_the_strong_is_believed() {
    assert_eq!(on("bench press", 240.0, 3, known(230.0, 3)), Plausible);
}

#[test]
fn nonsense_is_nothing_known() {
    for (kg, spread) in [
        (0.0, 0.1),
        (-5.0, 0.1),
        (f64::NAN, 0.1),
        (80.0, f64::INFINITY),
        (80.0, -1.0),
    ] {
        assert_eq!(Known::new(kg, spread), None, "{kg} {spread}");
    }
}
