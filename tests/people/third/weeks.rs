//! The wanted figures, set before the first run, and the runs.

use super::habits::{HABITS, Habit, Habits};
use super::someone::{KINDS, Kind, Someone};
use crate::harness::{Course, Lift, Pipe, Score, train};

/// From the third week on: error over the unavoidable one, and repetitions more.
const ERROR_FACTOR: f64 = 1.25;
const ERROR_MORE: f64 = 0.5;
/// Share of sets within the interval said, which is meant to hold four of five.
const HELD: (f64, f64) = (0.76, 0.84);
/// Share of sets that count.
const COUNTING: f64 = 0.90;
/// Rest advised over that of one who knows the body.
const REST: f64 = 1.4;
/// Error of the first week and of first sessions after three weeks off or more, repetitions.
const FIRST_WEEK: f64 = 2.2;
const AFTER_BREAK: f64 = 2.0;
/// Share of the true gain that opening loads follow.
const FOLLOWED: f64 = 0.8;

/// Figures of one row of the table: by how much each misses what is wanted; none misses below nothing.
fn misses(score: &Score, of: &Asked) -> Vec<(&'static str, f64)> {
    let later = &score.later;
    let mut misses = vec![
        (
            "error",
            later.mean_error() - ERROR_FACTOR * later.mean_unavoidable() - ERROR_MORE,
        ),
        (
            "held",
            (HELD.0 - later.coverage()).max(later.coverage() - HELD.1),
        ),
        ("week one", score.first_week.mean_error() - FIRST_WEEK),
    ];
    if of.counting {
        misses.push(("counting", COUNTING - later.counting()));
    }
    if of.rest {
        misses.push(("rest", later.rest_ratio() - REST));
    }
    if score.after_break.sets > 0.0 {
        misses.push((
            "after a break",
            score.after_break.mean_error() - AFTER_BREAK,
        ));
    }
    if of.gain {
        misses.push(("gain", FOLLOWED - score.followed()));
    }
    misses
}

/// Which figures are asked of a row: what people decide themselves is no fault of the advice.
#[derive(Clone, Copy)]
struct Asked {
    counting: bool,
    rest: bool,
    gain: bool,
}

impl Asked {
    fn of(habit: Habit) -> Self {
        use Habit::{Breaks, OwnLoads, RealLife, Rotation, Sandbags, ShortRests, TwoGyms};
        Self {
            counting: !matches!(habit, Sandbags | OwnLoads | ShortRests | TwoGyms),
            rest: !matches!(habit, Sandbags | OwnLoads),
            // Who was away has lost, and a swapped lift has no later weeks.
            gain: !matches!(habit, Breaks | RealLife | TwoGyms | Rotation),
        }
    }
}

fn lifts() -> Vec<Lift> {
    let lift = |name, step_kg, least_kg| Lift {
        name,
        step_kg,
        least_kg,
        fewest: 6,
    };
    // Fixed barbells begin at 5 kg (common practice, no source): an empty bar of 20 is too heavy for some.
    // The first four are trained, the last four take their place where exercises rotate.
    vec![
        lift("bench press", 2.5, 5.0),
        lift("squat", 2.5, 5.0),
        lift("overhead press", 2.5, 5.0),
        lift("lat pulldown", 2.5, 5.0),
        lift("incline bench press", 2.5, 5.0),
        lift("leg press", 5.0, 20.0),
        lift("barbell curl", 2.5, 5.0),
        lift("barbell row", 2.5, 5.0),
    ]
}

fn person(pipe: &mut Pipe, kind: Kind, habit: Habit, sessions: usize, seed: u64) -> Score {
    let course = Course {
        lifts: lifts(),
        a_session: 2,
        sessions,
        seed,
        before: Vec::new(),
    };
    let mut body = Someone::draw(kind, &course.lifts, habit == Habit::TwoGyms, seed);
    let mut habits = Habits::new(habit, seed);
    let name = format!("{kind:?}{habit:?}{seed}");
    train(pipe, &name, &course, &mut body, &mut habits)
}

/// A row that is asked for figures.
struct Row {
    name: String,
    score: Score,
    asked: Asked,
}

/// A figure that is not reached: row, figure, and the miss that it may not grow beyond.
type Known = (&'static str, &'static str, f64);

/// What was not reached in the first runs. A figure that is reached is struck out; none may be added to make a
/// run pass, and no miss may grow. The rooms left above the misses found are for other people of the same kind.
const KNOWN: &[Known] = &[
    ("everybody", "counting", 0.02),
    ("body Reserve", "counting", 0.03),
    ("body Seasons", "counting", 0.02),
    ("body Seasons", "after a break", 0.2),
    ("body Learner", "after a break", 0.15),
    ("habit UnmarkedRamp", "error", 0.25),
    ("habit Feelers", "rest", 0.2),
    ("habit Slips", "week one", 0.2),
    ("habit Slips", "counting", 0.04),
    ("habit Afterwards", "counting", 0.03),
    ("habit Silent", "counting", 0.03),
    ("habit Sandbags", "week one", 0.4),
    ("habit LongRests", "counting", 0.03),
    ("habit Rotation", "counting", 0.05),
    ("habit TwiceADay", "counting", 0.05),
    ("habit RealLife", "counting", 0.02),
    // Eight people with small true gains: the steps of the loads alone move these shares by a half.
    ("habit ShortRests", "gain", 0.6),
    ("habit OwnLoads", "gain", 0.8),
    ("habit TwiceADay", "gain", 0.7),
];

/// The same of the four people of the ordinary run.
const KNOWN_FOUR: &[Known] = &[("four", "week one", 1.2), ("four", "counting", 0.065)];

/// Prints the rows; what is missed and not known, or worse than known.
fn judge(rows: &[Row], known: &[Known]) -> Vec<String> {
    let mut faults = Vec::new();
    for row in rows {
        row.score.show(&row.name);
        for (figure, miss) in misses(&row.score, &row.asked) {
            let listed = known.iter().find(|k| k.0 == row.name && k.1 == figure);
            match listed {
                Some((.., most)) if miss > *most => {
                    faults.push(format!(
                        "{} {figure}: misses by {miss:.2}, most {most}",
                        row.name
                    ));
                }
                Some(_) if miss <= 0.0 => println!("  {figure}: is reached, strike it out"),
                Some((.., most)) => println!("  {figure}: misses by {miss:.2}, known up to {most}"),
                None if miss > 0.0 => {
                    faults.push(format!("{} {figure}: misses by {miss:.2}", row.name));
                }
                None => {}
            }
        }
    }
    faults
}

fn sum(of: &[(Kind, Habit, Score)], chosen: impl Fn(Kind, Habit) -> bool) -> Score {
    let mut sum = Score::default();
    for (_, _, score) in of.iter().filter(|(kind, habit, _)| chosen(*kind, *habit)) {
        sum.add(score);
    }
    sum
}

/// Rows for everybody, and of those whose decisions are not asked about, by body and by habit.
fn rows(of: &[(Kind, Habit, Score)]) -> Vec<Row> {
    let mut rows = Vec::new();
    let whole = |name: &str, chosen: &dyn Fn(Kind) -> bool, gain: bool| {
        let all = sum(of, |kind, _| chosen(kind));
        let counting = sum(of, |kind, habit| chosen(kind) && Asked::of(habit).counting);
        let rest = sum(of, |kind, habit| chosen(kind) && Asked::of(habit).rest);
        let gains = sum(of, |kind, habit| chosen(kind) && Asked::of(habit).gain);
        let mut score = all;
        // Shares of those who are asked, at the number of sets of all.
        score.later.counted = counting.later.counting() * all.later.sets;
        score.later.rest = rest.later.rest;
        score.later.knowing = rest.later.knowing;
        score.true_gain = gains.true_gain;
        score.load_gain = gains.load_gain;
        Row {
            name: name.to_owned(),
            score,
            asked: Asked {
                counting: true,
                rest: true,
                gain,
            },
        }
    };
    rows.push(whole("everybody", &|_| true, true));
    for kind in KINDS {
        // Trained people gain next to nothing in twelve weeks: no share of it is asked for.
        let gain = kind == Kind::Learner;
        rows.push(whole(&format!("body {kind:?}"), &|k| k == kind, gain));
    }
    for habit in HABITS {
        let score = sum(of, |_, h| h == habit);
        if score.later.sets > 0.0 {
            rows.push(Row {
                name: format!("habit {habit:?}"),
                score,
                asked: Asked::of(habit),
            });
        }
    }
    rows
}

/// Twelve weeks of every body with every habit, on seeds that were not used while working.
#[test]
#[ignore = "minutes"]
fn every_body_with_every_habit() {
    let mut pipe = Pipe::start();
    let mut scores = Vec::new();
    for kind in KINDS {
        for (place, habit) in HABITS.into_iter().enumerate() {
            for seed in [0, 1] {
                let seed = 40_000 + 1_000 * (kind as u64) + 10 * (place as u64) + seed;
                let score = person(&mut pipe, kind, habit, 36, seed);
                scores.push((kind, habit, score));
            }
        }
    }
    let faults = judge(&rows(&scores), KNOWN);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Seven weeks of each body as life goes.
#[test]
fn four_bodies_as_life_goes() {
    let mut pipe = Pipe::start();
    let mut score = Score::default();
    for kind in KINDS {
        let seed = 50_000 + kind as u64;
        score.add(&person(&mut pipe, kind, Habit::RealLife, 20, seed));
    }
    let asked = Asked {
        counting: true,
        rest: true,
        gain: false,
    };
    let row = Row {
        name: "four".to_owned(),
        score,
        asked,
    };
    let faults = judge(&[row], KNOWN_FOUR);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
