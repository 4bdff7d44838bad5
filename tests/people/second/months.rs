//! Three months of each habit on each body, and what must come of them. The thresholds were written
//! down before the first run.

use super::bodies::{Made, Stuff};
use super::habits::Habit;
use crate::harness::{Bot, Course, Lift, Pipe, Score, train};

const LIFTS: [Lift; 6] = [
    lift("front squat", 2.5, 20.0, 6),
    lift("bench press", 2.5, 20.0, 6),
    lift("romanian deadlift", 5.0, 20.0, 8),
    lift("lat pulldown", 5.0, 10.0, 8),
    lift("seated dumbbell press", 2.0, 4.0, 8),
    lift("leg extension", 5.0, 10.0, 10),
];

const MAXIMA: [(&str, f64); 6] = [
    ("front squat", 95.0),
    ("bench press", 82.0),
    ("romanian deadlift", 118.0),
    ("lat pulldown", 78.0),
    ("seated dumbbell press", 27.0),
    ("leg extension", 88.0),
];

const fn lift(name: &'static str, step_kg: f64, least_kg: f64, fewest: u32) -> Lift {
    Lift {
        name,
        step_kg,
        least_kg,
        fewest,
    }
}

fn months(bot: &mut dyn Bot, stuff: Stuff, mut habit: Habit, seed: u64, sessions: usize) -> Score {
    let mut body = Made::new(stuff, seed, &MAXIMA);
    let course = Course {
        lifts: LIFTS.to_vec(),
        a_session: 3,
        sessions,
        seed: seed ^ 0xB0A7,
        before: vec!["/experience 2 years".to_owned()],
    };
    let name = format!("{stuff:?}-{habit:?}-{seed}-second").to_lowercase();
    train(bot, &name, &course, &mut body, &mut habit)
}

#[test]
fn every_body_and_habit_gets_through_a_week() {
    let mut bot = Pipe::start();
    for (at, habit) in Habit::ALL.into_iter().enumerate() {
        let stuff = Stuff::ALL[at % Stuff::ALL.len()];
        let score = months(&mut bot, stuff, habit, 41, 3);
        score.show(&format!("{stuff:?} {habit:?}"));
    }
}

/// `cargo test --release --test people second -- --ignored --nocapture`.
#[test]
#[ignore = "takes minutes; the figures of a change of the model"]
fn three_months_of_everybody() {
    let mut all = Score::default();
    let mut bot = Pipe::start();
    for habit in Habit::ALL {
        let mut sum = Score::default();
        for stuff in Stuff::ALL {
            for seed in [901, 902] {
                sum.add(&months(&mut bot, stuff, habit, seed, 36));
            }
        }
        sum.show(&format!("{habit:?}"));
        all.add(&sum);
    }
    all.show("all");
    let later = &all.later;
    let limit = 1.25 * later.mean_unavoidable() + 0.5;
    assert!(
        later.mean_error() <= limit,
        "error {:.2} over {limit:.2}",
        later.mean_error()
    );
    let held = later.coverage();
    assert!((0.76..=0.84).contains(&held), "interval held {held:.3}");
    assert!(later.counting() >= 0.90, "counting {:.3}", later.counting());
    assert!(later.rest_ratio() <= 1.4, "rest {:.2}", later.rest_ratio());
    assert!(
        all.first_week.mean_error() <= 2.2,
        "first week {:.2}",
        all.first_week.mean_error()
    );
    assert!(
        all.after_break.mean_error() <= 2.0,
        "after a break {:.2}",
        all.after_break.mean_error()
    );
    assert!(
        all.load_gain >= 0.8 * all.true_gain,
        "gain {:.2} of {:.2}",
        all.load_gain,
        all.true_gain
    );
}
