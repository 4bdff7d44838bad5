//! Slips in numbers, and true changes, over many lifts, loads and lifters: which of them are asked about.
//!
//! Nothing here is chosen case by case. A lifter trains a lift for so many sessions; then each kind of slip and of true
//! change is tried as the next set. Common practice, no source, for what is a slip and what is a change.

use std::collections::BTreeMap;

use chalkbell::domain::lifter::guard::{Verdict, judge};

use crate::support::gym::Gym;

/// A lift, its load, its repetitions, the usual step.
const LIFTS: [(&str, f64, u32, f64); 14] = [
    ("bench press", 80.0, 8, 2.5),
    ("bench press", 32.5, 10, 2.5),
    ("bench press", 130.0, 5, 2.5),
    ("back squat", 120.0, 6, 2.5),
    ("back squat", 45.0, 8, 2.5),
    ("deadlift", 180.0, 5, 5.0),
    ("overhead press", 42.5, 8, 2.5),
    ("barbell row", 60.0, 10, 2.5),
    ("lat pulldown", 55.0, 10, 5.0),
    ("leg press", 160.0, 12, 10.0),
    ("dumbbell bench press", 28.0, 9, 2.0),
    ("lateral raise", 8.0, 14, 2.0),
    ("barbell curl", 30.0, 10, 2.5),
    ("leg extension", 50.0, 12, 5.0),
];

/// What a slip makes of load, repetitions, and the step.
type Slip = fn(f64, u32, f64) -> (f64, u32);

/// Slips, and the share of them that is to be asked about.
const SLIPS: [(&str, Slip, f64); 7] = [
    ("a zero more", |kg, reps, _| (10.0 * kg, reps), 1.0),
    ("a zero less", |kg, reps, _| (kg / 10.0, reps), 0.95),
    ("pounds", |kg, reps, _| ((2.2046 * kg).round(), reps), 1.0),
    (
        "kilograms for pounds",
        |kg, reps, _| ((kg / 2.2046).round(), reps),
        0.9,
    ),
    // Whoever never says how hard a set was may have had ten more in him: half of theirs pass.
    ("ten more repetitions", |kg, reps, _| (kg, reps + 10), 0.85),
    ("both dumbbells", |kg, reps, _| (2.0 * kg, reps), 1.0),
    ("half as much again", |kg, reps, _| (1.5 * kg, reps), 0.95),
];

/// True changes. Fewer than one in a hundred of these, which are rare by themselves, are to be asked about.
const TRUE: [(&str, Slip); 9] = [
    ("the same", |kg, reps, _| (kg, reps)),
    ("a repetition more", |kg, reps, _| (kg, reps + 1)),
    ("two repetitions more", |kg, reps, _| (kg, reps + 2)),
    ("a step more", |kg, reps, step| (kg + step, reps)),
    ("a step more, two fewer", |kg, reps, step| {
        (kg + step, reps - 2)
    }),
    ("three fewer", |kg, reps, _| (kg, reps - 3)),
    ("four fifths", |kg, reps, _| (0.8 * kg, reps)),
    ("four fifths, four more", |kg, reps, _| (0.8 * kg, reps + 4)),
    ("two thirds, eight more", |kg, reps, _| {
        (0.67 * kg, reps + 8)
    }),
];

/// A lifter who did this lift for some sessions, and whether he says how hard it was.
fn lifter(lift: &(&'static str, f64, u32, f64), sessions: u32, says: bool) -> Gym {
    let (name, kg, reps, _) = *lift;
    let mut gym = Gym::new(name);
    for _ in 0..sessions {
        for (fewer, left) in [(0, 2.0), (0, 1.0), (1, 1.0)] {
            gym.set(kg, reps - fewer, says.then_some(left), 180);
        }
        gym.days(3);
    }
    gym
}

fn is_asked(gym: &Gym, (kg, reps): (f64, u32), left: Option<f64>) -> bool {
    let mut next = gym.clone();
    let set = next.set(kg, reps, left, 0).run.last().unwrap().clone();
    let lifter = gym.lifter();
    let exercise = gym.catalogue.exercise(set.exercise);
    let known = gym.model.known(&set, &lifter);
    judge(&set, exercise, None, known) != Verdict::Plausible
}

/// All lifters, with the effort that the next set is given: two left, or nothing said.
fn lifters() -> impl Iterator<Item = (&'static (&'static str, f64, u32, f64), Gym, Option<f64>)> {
    let kinds = [(2, true), (4, true), (10, true), (4, false)];
    LIFTS.iter().flat_map(move |lift| {
        kinds.map(|(sessions, says)| (lift, lifter(lift, sessions, says), says.then_some(2.0)))
    })
}

#[test]
fn slips_in_numbers_are_asked_about() {
    let mut shares: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for (lift, gym, left) in lifters() {
        let (name, kg, reps, step) = *lift;
        for (kind, slip, _) in SLIPS {
            // Who does not say how hard it was may have warmed up.
            let lighter = kind == "a zero less" || kind == "kilograms for pounds";
            let dumbbells = gym
                .catalogue
                .exercise(gym.catalogue.named(name).unwrap())
                .basis
                == chalkbell::domain::quantities::catalogue::Basis::PerHand;
            if lighter && left.is_none() || kind == "both dumbbells" && !dumbbells {
                continue;
            }
            let asked = is_asked(&gym, slip(kg, reps, step), left);
            if !asked {
                println!("{kind}: not asked: {name} {kg} x {reps}, {left:?}");
            }
            let share = shares.entry(kind).or_default();
            *share = (share.0 + f64::from(u8::from(asked)), share.1 + 1.0);
        }
    }
    for (kind, _, least) in SLIPS {
        let (asked, all) = shares[kind];
        println!("{kind}: {asked} of {all}");
        assert!(asked >= least * all, "{kind}: {asked} of {all}");
    }
}

#[test]
fn true_changes_in_numbers_are_not_asked_about() {
    let (mut asked, mut all) = (0, 0);
    for (lift, gym, left) in lifters() {
        let (name, kg, reps, step) = *lift;
        for (kind, change) in TRUE {
            for left in [left, left.map(|_| 1.0), left.map(|_| 0.0)] {
                all += 1;
                if is_asked(&gym, change(kg, reps, step), left) {
                    println!("{kind}: asked: {name} {kg} x {reps}, {left:?}");
                    asked += 1;
                }
            }
        }
    }
    println!("{asked} of {all}");
    assert!(100 * asked <= all, "{asked} of {all}");
}
