//! A long run of broken and mixed messages through the reader.
//!
//! `cargo test --release --test reader fuzz:: -- --ignored --nocapture` reads fifty million messages,
//! or as many as fit in half an hour, and prints how many and the slowest. The short run is part
//! of every test run.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]

use std::time::{Duration, Instant};

use crate::support::split_mix::SplitMix64;
use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::reading::{SetReading, Unclear};
use chalkbell::message::{Context, Reader};
use serde_json::Value;

const CORPUS: &str = include_str!("../data/messages.jsonl");
/// No message may take longer, whatever stands in it.
const SLOWEST: Duration = Duration::from_millis(1);
/// A message that took longer is read again, and its best time counts: a machine that is busy
/// elsewhere makes one wait, one that is slow by itself is slow again.
const SUSPECT: Duration = Duration::from_micros(100);
/// How often it is read again.
const SECOND_TRIES: usize = 20;

fn seeds() -> Vec<String> {
    CORPUS
        .lines()
        .map(|line| serde_json::from_str::<Value>(line).unwrap())
        .map(|row| row["text"].as_str().unwrap().replace("\\n", "\n"))
        .collect()
}

const INSERTS: &[&str] = &[
    "x",
    "@",
    "80",
    ",",
    ".",
    "/",
    "-",
    "+",
    "\n",
    " ",
    "kg",
    "9th",
    "failed",
    "rir",
    "left",
    "'",
    "\"",
    "\u{202e}",
    "\u{200b}",
    "×",
    "½",
    "💪",
    "é",
    "99999999999999999999",
    "0",
    "1e9",
    "NaN",
    "each",
    "sets",
    "of",
    "for",
    "bench",
    "and",
    "(",
    ")",
    ":",
    ";",
    "?",
    "!",
    "#",
    "%",
    "€",
    "2:30",
    "2026-03-01",
    "\u{0}",
    "warm up",
    "drop set",
    "superset",
    "same",
    "again",
];

/// One to six changes to a text, on whole characters.
fn mutate(text: &mut Vec<char>, seeds: &[String], random: &mut SplitMix64) {
    for _ in 0..=random.below(6) {
        let at = random.below(text.len() + 1);
        match random.below(7) {
            0 => text.truncate(at),
            1 if !text.is_empty() => {
                text.remove(at.min(text.len() - 1));
            }
            2 if text.len() > 1 => {
                let at = at.min(text.len() - 2);
                text.swap(at, at + 1);
            }
            3 => {
                let piece = INSERTS[random.below(INSERTS.len())];
                text.splice(at..at, piece.chars());
            }
            4 => {
                let other = &seeds[random.below(seeds.len())];
                text.splice(at..at, other.chars());
            }
            5 => {
                let code = u32::try_from(random.below(0x11_0000)).unwrap();
                text.insert(at, char::from_u32(code).unwrap_or('\u{fffd}'));
            }
            _ => {
                let to = (at + random.below(12)).min(text.len());
                let run: Vec<char> = text[at..to].to_vec();
                for _ in 0..random.below(8) {
                    text.splice(at..at, run.iter().copied());
                }
            }
        }
        text.truncate(6000);
    }
}

#[expect(clippy::disallowed_methods, reason = "the run measures time")]
fn now() -> Instant {
    Instant::now()
}

/// Reads `messages` mutated messages, or stops after `limit`; returns how many and the slowest.
fn run(messages: u64, limit: Duration, seed: u64) -> (u64, Duration, String) {
    let reader = Reader::new(config::built_in());
    let seeds = seeds();
    let mut random = SplitMix64(seed);
    let mut last: Option<SetReading> = None;
    let mut pending: Option<Unclear> = None;
    let mut worst = (Duration::ZERO, String::new());
    let started = now();
    let mut done = 0;
    let mut text = Vec::new();
    while done < messages && (done % 1024 != 0 || started.elapsed() < limit) {
        text.clear();
        text.extend(seeds[random.below(seeds.len())].chars());
        mutate(&mut text, &seeds, &mut random);
        let message: String = text.iter().collect();
        let context = Context {
            unit: if random.below(2) == 0 {
                Unit::Kg
            } else {
                Unit::Lb
            },
            last: last.as_ref().filter(|_| done % 3 == 0),
            named: None,
            pending: pending.as_ref().filter(|_| done % 5 == 0),
            habits: &[],
        };
        let begun = now();
        let reading = reader.read(&message, &context);
        let took = begun.elapsed();
        if took > worst.0 {
            let took = if took > SUSPECT {
                at_best(&reader, &message, &context)
            } else {
                took
            };
            if took > worst.0 {
                worst = (took, message);
            }
        }
        // Beside whole sets stand those that lack a part, and no other way to read them.
        let offered = reading
            .unclear
            .as_ref()
            .map_or(0, |open| open.readings.len());
        assert!(reading.sets.is_empty() || offered == 0);
        last = reading.sets.into_iter().next().or(last);
        pending = reading.unclear.or(pending);
        done += 1;
    }
    (done, worst.0, worst.1)
}

/// The best of several readings of one message.
fn at_best(reader: &Reader, message: &str, context: &Context<'_>) -> Duration {
    (0..SECOND_TRIES)
        .map(|_| {
            let begun = now();
            let _ = reader.read(message, context);
            begun.elapsed()
        })
        .min()
        .unwrap_or_default()
}

#[test]
fn a_short_run_of_broken_messages_does_no_harm() {
    let (done, _, _) = run(20_000, Duration::from_secs(60), 7);
    assert!(done > 0);
}

#[test]
#[ignore = "takes half an hour; its command stands at the top"]
fn fifty_million_broken_messages_do_no_harm_and_none_is_slow() {
    let (done, slowest, message) = run(50_000_000, Duration::from_secs(1800), 20_260_301);
    println!("{done} messages, slowest {slowest:?}: {message:?}");
    assert!(slowest < SLOWEST, "{slowest:?}: {message:?}");
}
