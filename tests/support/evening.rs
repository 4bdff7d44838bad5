//! Evenings of an invented club as lines for the pipe: twenty lifters who take turns, six lifts
//! each, four sets of each, the first set written out and the others carried on.

use chrono::{DateTime, TimeDelta, Utc};

const LIFTERS: usize = 20;
const SETS: usize = 4;
/// What is lifted, and in what order of size, so that fatigue is what it would be.
const LIFTS: [(&str, usize); 6] = [
    ("back squat", 80),
    ("bench press", 60),
    ("barbell row", 55),
    ("leg press", 120),
    ("overhead press", 35),
    ("barbell curl", 25),
];

/// The lines of one evening, in order; every fourth day is one.
pub fn lines(evening: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for turn in 0..LIFTS.len() * SETS {
        for lifter in 0..LIFTERS {
            lines.push(line(evening, turn, lifter));
        }
    }
    lines
}

fn line(evening: usize, turn: usize, lifter: usize) -> String {
    let at = at(evening, turn, lifter).to_rfc3339();
    let (lift, set) = (turn / SETS, turn % SETS);
    let (name, kg) = LIFTS[(lift + lifter) % LIFTS.len()];
    let kg = kg + 5 * (lifter % 4) + 5 * (evening / 2 % 3);
    let text = match set {
        0 => format!("{name} {kg}x10, 2 left"),
        1 => "x9, 2 left".to_owned(),
        2 => "x9".to_owned(),
        _ => "x8, 1 left".to_owned(),
    };
    let message = serde_json::json!({
        "type": "message", "id": format!("{evening}.{turn}.{lifter}"), "team": "rowers",
        "channel": "gym", "author": format!("u{lifter}"), "name": format!("Lifter {lifter}"),
        "coach": false, "at": at, "text": text,
    });
    format!("{message}\n")
}

/// Each lifter's turn comes every three minutes.
fn at(evening: usize, turn: usize, lifter: usize) -> DateTime<Utc> {
    let start: DateTime<Utc> = "2026-01-12T18:00:00Z".parse().unwrap();
    let days = TimeDelta::days(4 * i64::try_from(evening).unwrap());
    let seconds = 180 * turn + 9 * lifter;
    start + days + TimeDelta::seconds(i64::try_from(seconds).unwrap())
}
