//! Inputs at the edges of what lifters do: the numbers stay finite, in range and sane.

use crate::support::gym::Gym;
use chalkbell::domain::advice::next_set::{Advice, Decision};
use chalkbell::domain::quantities::catalogue::Basis;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::domain::quantities::priors::Population;
use chalkbell::domain::quantities::status::TrainingStatus;

fn kg(advice: &Advice) -> f64 {
    advice.load.map_or(0.0, |load| load.mass.in_kg())
}

fn is_help(advice: &Advice) -> bool {
    advice
        .load
        .is_some_and(|load| load.basis == Basis::Assisted)
}

/// What holds of any advice: a load within reach of what was done, a rest within the limit, an
/// interval in order.
fn is_sane(gym: &Gym, what: &str) -> Advice {
    let advice = gym.advice(&[]);
    let heaviest = gym.run.iter().map(|set| set.load.mass.in_kg());
    let heaviest = heaviest.fold(0.0, f64::max);
    // A tenth more than ever done, or a step of the rack where that is more; of what hangs on the
    // body, a tenth of both.
    let hangs = advice.load.is_some_and(|load| load.basis != Basis::Total);
    let body = if hangs { 75.0 } else { 0.0 };
    let most = (heaviest + 0.1 * (heaviest + body)).max(heaviest + 5.0);
    assert!(
        kg(&advice) <= most || is_help(&advice),
        "{what}: {advice:?}"
    );
    assert!(advice.rest_s <= 300, "{what}: {advice:?}");
    if let Some(expect) = advice.expect {
        assert!(
            expect.median.is_finite() && expect.median >= 0.0,
            "{what}: {advice:?}"
        );
        assert!(
            expect.low <= expect.high && expect.high <= 200,
            "{what}: {advice:?}"
        );
        let (low, high) = (f64::from(expect.low), f64::from(expect.high));
        assert!(
            low - 1.0 <= expect.median && expect.median <= high + 1.0,
            "{what}: {advice:?}"
        );
    }
    for belief in gym.model.beliefs.values() {
        let (one_rm, spread) = belief.one_rm();
        assert!(one_rm.is_finite() && one_rm > 0.0, "{what}: {one_rm}");
        assert!(spread > 0.0 && spread < 1.0, "{what}: {spread}");
    }
    advice
}

#[test]
fn one_set_of_any_size_is_followed_by_sane_advice() {
    for lift in [
        "back squat",
        "bench press",
        "barbell curl",
        "standing calf raise",
        "pull-up",
    ] {
        for load in [2.5, 20.0, 60.0, 180.0, 400.0] {
            for reps in [1, 2, 5, 12, 30, 60, 100] {
                for rir in [None, Some(0.0), Some(3.0), Some(10.0)] {
                    let mut gym = Gym::new(lift);
                    gym.set(load, reps, rir, 0);
                    is_sane(&gym, &format!("{lift} {load}x{reps} {rir:?}"));
                }
            }
        }
    }
}

#[test]
fn sixty_repetitions_with_some_left_call_for_more_load() {
    let mut gym = Gym::new("bench press");
    gym.set(20.0, 60, Some(3.0), 0);
    let advice = is_sane(&gym, "60 reps");
    assert_eq!(advice.decision, Decision::AddLoad, "{advice:?}");
}

#[test]
fn two_hundred_sets_in_a_day_end_in_no_nonsense() {
    let mut gym = Gym::new("barbell curl");
    for n in 0..200 {
        gym.set(20.0, 10 - (n % 4), Some(f64::from(n % 3)), 60);
    }
    let advice = is_sane(&gym, "200 sets");
    assert!(kg(&advice) <= 22.5, "{advice:?}");
}

#[test]
fn a_month_away_widens_the_belief_and_lowers_no_load_to_nothing() {
    let mut gym = Gym::new("bench press");
    for _ in 0..4 {
        gym.set(80.0, 8, Some(1.0), 180)
            .set(80.0, 7, Some(1.0), 180)
            .days(3);
    }
    let exercise = gym.catalogue.named("bench press").unwrap();
    let before = gym.advice(&[]);
    let narrow = before.expect.unwrap();
    gym.days(32);
    let after = gym.advice(&[]);
    let wide = after.expect.unwrap();
    assert!((60.0..=82.5).contains(&kg(&after)), "{after:?}");
    assert!(
        wide.high - wide.low >= narrow.high - narrow.low,
        "{narrow:?} {wide:?}"
    );
    assert!(gym.model.beliefs.contains_key(&exercise));
}

#[test]
fn pounds_midway_change_the_unit_and_nothing_else() {
    // 1 lb = 0.45359237 kg: the same bar in both units.
    let (mut kilos, mut mixed) = (Gym::new("bench press"), Gym::new("bench press"));
    for gym in [&mut kilos, &mut mixed] {
        gym.set(60.0, 10, Some(2.0), 0);
    }
    kilos.set(176.0 * 0.453_592_37, 8, Some(1.0), 180);
    mixed.unit = Unit::Lb;
    mixed.set(176.0, 8, Some(1.0), 180);
    let exercise = kilos.catalogue.named("bench press").unwrap();
    let (a, b) = (
        kilos.model.beliefs[&exercise].one_rm().0,
        mixed.model.beliefs[&exercise].one_rm().0,
    );
    assert!((a - b).abs() < 1e-6 * a, "{a} {b}");
    let advice = is_sane(&mixed, "pounds");
    assert_eq!(advice.load.unwrap().unit, Unit::Lb);
}

#[test]
fn who_never_says_how_many_were_left_gets_advice_all_the_same() {
    let mut gym = Gym::new("back squat");
    for _ in 0..6 {
        for reps in [8, 7, 6] {
            gym.set(100.0, reps, None, 180);
        }
        gym.days(3);
    }
    let advice = gym.advice(&[]);
    assert!((85.0..=110.0).contains(&kg(&advice)), "{advice:?}");
    let expect = advice.expect.unwrap();
    assert!((4.0..=10.0).contains(&expect.median), "{advice:?}");
}

#[test]
fn who_always_says_none_left_is_not_taken_to_have_more() {
    let mut gym = Gym::new("back squat");
    for _ in 0..6 {
        for reps in [8, 6, 5] {
            gym.set(100.0, reps, Some(0.0), 180);
        }
        gym.days(3);
    }
    let advice = gym.advice(&[]);
    // One left is aimed at: fewer than the eight that were all there were.
    assert!((90.0..=105.0).contains(&kg(&advice)), "{advice:?}");
    assert!(advice.expect.unwrap().median < 10.0, "{advice:?}");
}

#[test]
fn a_light_day_without_a_word_does_not_pull_the_loads_down() {
    for light in [40.0, 45.0, 50.0] {
        let mut gym = Gym::new("bench press");
        for _ in 0..3 {
            gym.set(80.0, 8, Some(2.0), 0)
                .set(80.0, 8, Some(1.0), 180)
                .days(3);
        }
        let before = kg(&gym.advice(&[]));
        gym.set(light, 10, None, 0)
            .set(light, 10, None, 120)
            .days(3);
        let after = kg(&gym.advice(&[]));
        assert!(after >= before - 5.0, "{light}: {before} then {after}");
    }
}

#[test]
fn what_a_beginner_reports_is_heeded_as_much() {
    // Hackett 2017, Remmert 2023: experience changes the error of a report neither way.
    let wide = |status| {
        let mut gym = Gym::new("bench press");
        gym.status = status;
        for _ in 0..6 {
            gym.set(60.0, 10, Some(1.0), 0);
            gym.set(60.0, 9, Some(1.0), 180).days(3);
        }
        gym.set(60.0, 10, Some(1.0), 0);
        let exercise = gym
            .catalogue
            .exercise(gym.catalogue.named("bench press").unwrap());
        let expect = gym.advice(&[]).expect.unwrap();
        let noise = Population::of(exercise.class, status).noise;
        (expect.high - expect.low, noise)
    };
    let (beginner, trained) = (
        wide(TrainingStatus::Beginner),
        wide(TrainingStatus::Advanced),
    );
    assert!(
        beginner.0 >= trained.0 && (beginner.1 - trained.1).abs() < 1e-12,
        "{beginner:?} {trained:?}"
    );
}
