//! Twelve weeks of every body with every behaviour.

use super::bodies::{Invented, Kind};
use super::habits::Like;
use crate::harness::{Bot, Course, Lift, Pipe, Score, train};

const fn lift(name: &'static str, step_kg: f64, least_kg: f64, fewest: u32) -> Lift {
    Lift {
        name,
        step_kg,
        least_kg,
        fewest,
    }
}

const LIFTS: [Lift; 5] = [
    lift("bench press", 2.5, 20.0, 6),
    lift("back squat", 2.5, 20.0, 6),
    lift("barbell row", 2.5, 20.0, 6),
    lift("overhead press", 2.5, 20.0, 6),
    lift("barbell curl", 2.5, 20.0, 10),
];

/// Middle maxima, and what of the body is lifted beside: of the squat some, so that the curve over
/// what is written differs from that over what is moved.
const MAXIMA: [(&str, f64, f64); 5] = [
    ("bench press", 92.0, 0.0),
    ("back squat", 128.0, 0.0),
    ("barbell row", 84.0, 0.0),
    ("overhead press", 58.0, 0.0),
    ("barbell curl", 45.0, 0.0),
];

/// Sessions of twelve weeks.
const SESSIONS: usize = 36;

/// One person's twelve weeks.
pub fn twelve_weeks(
    bot: &mut dyn Bot,
    kind: Kind,
    like: Like,
    seed: u64,
    sessions: usize,
) -> Score {
    let mut body = Invented::new(kind, seed, &MAXIMA);
    let mut habits = like;
    let course = Course {
        lifts: LIFTS.to_vec(),
        a_session: 3,
        sessions,
        seed,
        before: vec!["/experience 3 years".to_owned()],
    };
    let name = format!("{kind:?}-{like:?}-{seed}").to_lowercase();
    train(bot, &name, &course, &mut body, &mut habits)
}

#[test]
fn two_weeks_are_trained_through_the_pipe() {
    let mut bot = Pipe::start();
    for (kind, like) in [
        (Kind::Power, Like::Steady),
        (Kind::Line, Like::WarmsUpUnsaid),
        (Kind::Bend, Like::Afterwards),
    ] {
        let score = twelve_weeks(&mut bot, kind, like, 1, 6);
        score.show(&format!("{kind:?} {like:?}"));
        assert!(score.first_week.sets > 5.0);
    }
}

/// All people of one kind of body over all behaviours; long, so by hand:
/// `cargo test --release --test people -- --ignored --nocapture`.
#[test]
#[ignore = "takes minutes; the figures of a change of the model"]
fn twelve_weeks_of_everybody() {
    let mut all = Score::default();
    let mut bot = Pipe::start();
    for like in Like::ALL {
        let mut sum = Score::default();
        for kind in Kind::ALL {
            for seed in 1..=2 {
                sum.add(&twelve_weeks(&mut bot, kind, like, seed, SESSIONS));
            }
        }
        sum.show(&format!("{like:?}"));
        all.add(&sum);
    }
    all.show("all");
}
