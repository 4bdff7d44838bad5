//! How plans are followed, and what weeks aim at, counted again from what was posted: by other code
//! than the program's, across the end of summer time and a plan that changes in mid-week.
//!
//! Local days are reckoned by hand: Berlin is two hours ahead of UTC until 25 October 2026, 01:00 UTC,
//! and one hour from then on (IANA time zone database, rule EU). Muscles of exercises are read from
//! `config/exercises.toml` as text.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

use std::collections::BTreeMap;

use crate::support::program::Program;
use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde_json::{Value, json};

/// What stands for a day: exercise and sets; all with two left.
type Day = (i64, &'static [(&'static str, usize)]);

const FIRST: &[Day] = &[
    (0, &[("back squat", 3), ("bench press", 3)]),
    (2, &[("barbell row", 4), ("overhead press", 2)]),
    (4, &[("romanian deadlift", 3), ("lat pulldown", 3)]),
];
/// From Wednesday of the third week on.
const SECOND: &[Day] = &[
    (0, &[("leg press", 4), ("bench press", 3)]),
    (2, &[("seated cable row", 3), ("overhead press", 3)]),
    (5, &[("leg extension", 3), ("barbell curl", 3)]),
];

fn text(plan: &[Day]) -> String {
    let names = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let day = |(day, items): &Day| {
        let items = items
            .iter()
            .map(|(name, sets)| format!("{name} {sets}x6-10 2rir"));
        let items: Vec<String> = items.collect();
        format!(
            "{}: {}",
            names[usize::try_from(*day).unwrap()],
            items.join("; ")
        )
    };
    plan.iter().map(day).collect::<Vec<_>>().join("\n")
}

fn monday() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 5).unwrap()
}

/// The hour of a local day as an instant, by hand.
fn at(day: i64, hour: i64, minute: i64) -> DateTime<Utc> {
    let local = monday().and_hms_opt(0, 0, 0).unwrap()
        + Duration::days(day)
        + Duration::hours(hour)
        + Duration::minutes(minute);
    let change = NaiveDate::from_ymd_opt(2026, 10, 25)
        .unwrap()
        .and_hms_opt(3, 0, 0)
        .unwrap();
    let ahead = if local < change { 2 } else { 1 };
    (local - Duration::hours(ahead)).and_utc()
}

/// A set as it was posted: local day from the first Monday, exercise, what was left.
#[derive(Clone, Debug)]
struct Posted {
    day: i64,
    exercise: &'static str,
    left: Option<u32>,
}

struct Club {
    program: Program,
    next: u32,
}

impl Club {
    fn say(&mut self, author: &str, at: DateTime<Utc>, text: &str) -> Vec<Value> {
        self.next += 1;
        let line = json!({"type": "message", "id": format!("m{}", self.next), "team": "rowers",
            "channel": "winter", "author": author.to_lowercase(), "name": author,
            "coach": author == "Coach", "at": at.to_rfc3339(), "text": text});
        let out = self.program.answer(&line.to_string());
        out.iter()
            .map(|line| serde_json::from_str(line).unwrap())
            .collect()
    }

    fn data(&mut self, at: DateTime<Utc>, text: &str) -> Value {
        let out = self.say("Coach", at, text);
        let found = out.iter().find(|line| line["data"].is_object());
        found.unwrap_or_else(|| panic!("{text}: {out:?}"))["data"].clone()
    }
}

/// Chance that needs no crate: a linear congruence (Knuth's constants, from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// Which plan stands on a day.
fn plan_of(day: i64) -> &'static [Day] {
    if day >= 16 { SECOND } else { FIRST }
}

/// What a week asks for: each of its days by the plan that stands on it.
fn asked(week: i64) -> Vec<&'static [(&'static str, usize)]> {
    let days = (7 * week)..(7 * week + 7);
    days.filter_map(|day| {
        let plan = plan_of(day).iter();
        plan.clone()
            .find(|(on, _)| *on == day % 7)
            .map(|(_, items)| *items)
    })
    .collect()
}

#[derive(Debug, PartialEq)]
struct Counted {
    sessions: (u64, u64),
    sets: (u64, u64),
    extra: u64,
    efforts: Option<(f64, f64)>,
}

/// Counts a week: every exercise stands once in a week, so its first sets are the planned ones.
fn count(week: i64, log: &[Posted]) -> Counted {
    let mut sessions = (0, 0);
    let (mut done, mut planned) = (0, 0);
    let of_week: Vec<&Posted> = log
        .iter()
        .filter(|set| set.day.div_euclid(7) == week)
        .collect();
    for items in asked(week) {
        let mut of_session = 0;
        for (exercise, sets) in items {
            let posted = of_week
                .iter()
                .filter(|set| set.exercise == *exercise)
                .count();
            of_session += posted.min(*sets);
            planned += sets;
        }
        done += of_session;
        sessions.1 += 1;
        sessions.0 += u64::from(of_session > 0);
    }
    let rated: Vec<f64> = of_week
        .iter()
        .filter_map(|set| set.left)
        .map(f64::from)
        .collect();
    let mean = |sum: f64| sum / f64::from(u32::try_from(rated.len()).unwrap());
    Counted {
        sessions,
        sets: (done as u64, planned as u64),
        extra: (of_week.len() - done) as u64,
        efforts: (!rated.is_empty()).then(|| (2.0, mean(rated.iter().sum()))),
    }
}

/// Target and helpers of every exercise, from the lines of the catalogue.
fn muscles() -> BTreeMap<String, Vec<(String, f64)>> {
    let catalogue = include_str!("../../config/exercises.toml");
    let mut found = BTreeMap::new();
    for entry in catalogue.split("[[exercise]]").skip(1) {
        let value = |key: &str| {
            let line = entry
                .lines()
                .find_map(|line| line.strip_prefix(&format!("{key} = ")));
            line.unwrap_or_default().to_owned()
        };
        let name = value("name").trim_matches('"').to_owned();
        let mut parts = vec![(value("target").trim_matches('"').to_owned(), 1.0)];
        let helpers = value("helpers");
        let helpers = helpers.trim_matches(['[', ']']).split(',');
        let helpers = helpers.map(|helper| helper.trim().trim_matches('"').to_owned());
        parts.extend(
            helpers
                .filter(|helper| !helper.is_empty())
                .map(|helper| (helper, 0.5)),
        );
        found.insert(name, parts);
    }
    found
}

const NAMES: [&str; 4] = ["Ada", "Bruno", "Cleo", "Dario"];
const WEEKS: i64 = 5;

/// What a member posts in a day, in order; late at night too, on either side of midnight.
fn train(club: &mut Club, dice: &mut Dice, name: &str, day: i64, log: &mut Vec<Posted>) {
    let items = plan_of(day).iter().find(|(on, _)| *on == day % 7);
    let Some((_, items)) = items else { return };
    // Some sessions are left out, some are done the day after, within the week.
    let done_on = match dice.below(10) {
        0 => return,
        1..=3 if day % 7 < 6 => day + 1,
        _ => day,
    };
    // Half past midnight, or ten at night: the wrong offset puts them on another day.
    let hour = if dice.below(2) == 0 { 0 } else { 22 };
    let mut minute = 20;
    for (exercise, sets) in *items {
        let off = dice.below(4);
        let sets = match off {
            0 => sets - 1,
            1 => sets + 1,
            _ => *sets,
        };
        for _ in 0..sets {
            let left = (dice.below(5) > 0).then(|| u32::try_from(dice.below(4)).unwrap());
            let said = left.map_or_else(String::new, |left| format!(", {left} left"));
            minute += 3;
            club.say(
                name,
                at(done_on, hour, minute),
                &format!("{exercise} 50x8{said}"),
            );
            log.push(Posted {
                day: done_on,
                exercise,
                left,
            });
        }
    }
}

fn season() -> (Club, BTreeMap<&'static str, Vec<Posted>>) {
    let folder = Box::leak(Box::new(tempfile::tempdir().unwrap()));
    let program = Program::start(&folder.path().join("log.sqlite"));
    let mut club = Club { program, next: 0 };
    club.say("Coach", at(-1, 9, 0), "/settings zone Europe/Berlin");
    for name in NAMES {
        club.say(name, at(-1, 9, 1), "/experience 3 years");
    }
    club.say(
        "Coach",
        at(-1, 9, 2),
        &format!("/plan team next week\n{}", text(FIRST)),
    );
    club.say("Coach", at(-1, 9, 3), "/target Ada next week chest 4-6");
    let mut dice = Dice(20);
    let mut logs: BTreeMap<&str, Vec<Posted>> = BTreeMap::new();
    for day in 0..7 * WEEKS {
        if day == 16 {
            // Before anybody lifts on that Wednesday.
            club.say(
                "Coach",
                at(16, 0, 5),
                &format!("/plan team\n{}", text(SECOND)),
            );
        }
        for name in NAMES {
            train(
                &mut club,
                &mut dice,
                name,
                day,
                logs.entry(name).or_default(),
            );
        }
    }
    (club, logs)
}

#[test]
fn weeks_are_followed_as_a_recount_has_it() {
    let (mut club, logs) = season();
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
    for name in NAMES {
        let log = &logs[name];
        let data = club.data(
            at(7 * WEEKS - 1, 23, 50),
            &format!("/review {name} 5 weeks"),
        );
        let weeks = data["weeks"].as_array().unwrap();
        assert_eq!(weeks.len(), 5);
        for (week, told) in (0..).zip(weeks) {
            let pair =
                |done: &str, of: &str| (told[done].as_u64().unwrap(), told[of].as_u64().unwrap());
            let efforts = told["asked"].as_f64().zip(told["left"].as_f64());
            let ours = count(week, log);
            let theirs = Counted {
                sessions: pair("sessions_done", "sessions"),
                sets: pair("sets_done", "sets"),
                extra: told["extra_sets"].as_u64().unwrap(),
                efforts: ours.efforts.filter(|(asked, left)| {
                    efforts.is_some_and(|(a, l)| close(a, *asked) && close(l, *left))
                }),
            };
            assert_eq!(theirs, ours, "{name}, week {week}: {told}");
        }
    }
}

#[test]
fn weeks_aim_at_what_a_recount_has() {
    let (mut club, logs) = season();
    let muscles = muscles();
    for name in NAMES {
        for week in 0..WEEKS {
            let day = monday() + Duration::days(7 * week + 3);
            let data = club.data(at(7 * WEEKS - 1, 23, 50), &format!("/week {name} {day}"));
            let mut planned: BTreeMap<&str, f64> = BTreeMap::new();
            for (exercise, sets) in asked(week).into_iter().flatten() {
                for (muscle, part) in &muscles[*exercise] {
                    *planned.entry(muscle).or_default() += part * *sets as f64;
                }
            }
            let mut counted: BTreeMap<&str, f64> = BTreeMap::new();
            for set in logs[name]
                .iter()
                .filter(|set| set.day.div_euclid(7) == week)
            {
                // Eight repetitions with three left or fewer count; unrated ones are the belief's to judge.
                if set.left.is_some() {
                    for (muscle, part) in &muscles[set.exercise] {
                        *counted.entry(muscle).or_default() += part;
                    }
                }
            }
            for told in data["muscles"].as_array().unwrap() {
                let muscle = told["muscle"].as_str().unwrap();
                let sum = planned.get(muscle).copied().unwrap_or(0.0);
                let place = format!("{name}, week {week}, {muscle}: {told}");
                let (low, high) = (
                    told["low"].as_f64().unwrap(),
                    told["high"].as_f64().unwrap(),
                );
                match told["aim"].as_str().unwrap() {
                    "coach" => {
                        assert_eq!(
                            (name, muscle, low, high),
                            ("Ada", "chest", 4.0, 6.0),
                            "{place}"
                        );
                    }
                    "plan" => {
                        assert!(sum > 0.0, "{place}");
                        assert_eq!((low, high), (sum.floor(), sum.ceil()), "{place}");
                    }
                    _ => assert!(sum.abs() < 1e-9, "{place}"),
                }
                if name == "Ada" && muscle == "chest" {
                    assert_eq!(told["aim"], "coach", "{place}");
                }
                let rated = counted.get(muscle).copied().unwrap_or(0.0);
                assert!(told["counted"].as_f64().unwrap() >= rated, "{place}");
            }
        }
    }
}

/// A plan without the weeks before: what is not said stands.
#[test]
fn a_plan_that_comes_in_mid_week_asks_for_nothing_that_was_over() {
    let folder = tempfile::tempdir().unwrap();
    let program = Program::start(&folder.path().join("log.sqlite"));
    let mut club = Club { program, next: 0 };
    club.say("Ada", at(1, 9, 0), "/experience 3 years");
    club.say("Coach", at(2, 9, 0), &format!("/plan Ada\n{}", text(FIRST)));
    let out = club.say("Coach", at(6, 20, 0), "/attention");
    let told = out
        .iter()
        .filter_map(|line| line["text"].as_str())
        .collect::<Vec<_>>()
        .join("\n");
    assert!(
        told.contains("of 2 planned sessions") || told.contains("Nothing posted yet"),
        "{told}"
    );
    let data = club.data(at(6, 20, 1), "/review Ada 1 week");
    assert_eq!(data["weeks"][0]["sessions"], 2, "{data}");
}
