//! Reading a message takes time in proportion to its length, whatever stands in it.
//!
//! What the reader does inside is not looked at: only how the time for a text grows when the text
//! becomes four times as long. The bound in milliseconds needs an optimised build:
//! `cargo test --release --test reader growth:: -- --ignored`.
#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]

use std::time::Duration;

use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::{Context, Reader};
use nix::time::{ClockId, clock_gettime};

/// Words, numbers and marks of every kind, and pieces that were slow once.
const PIECES: [&str; 66] = [
    "80",
    "10",
    "x",
    "@",
    "8",
    "kg",
    "lb",
    ",",
    ";",
    ":",
    "/",
    "-",
    "+",
    ".",
    "?",
    "(",
    "\"",
    "80x10",
    "3x8",
    "80x10,9,8",
    "80x10x3",
    "bench",
    "curl",
    "2 left",
    "left",
    "rir",
    "rpe",
    "@8",
    "failed",
    "to failure",
    "same",
    "x9",
    "+2.5",
    "-5",
    "undo",
    "no",
    "that was not",
    "and",
    "he",
    "yesterday",
    "will",
    "what",
    "rest",
    "90s",
    "2:30",
    "each side",
    "warm-up",
    "superset",
    "a1",
    "hurts",
    "knee",
    "numb",
    "pain",
    "my shoulder",
    "ready",
    "tired",
    "twenty two",
    "two hundred and",
    "9999999999",
    "1,5",
    "½",
    "🙂",
    "lol",
    "benchpres",
    "3x8 , pain",
    "zzz",
];
const BETWEEN: [&str; 5] = [" ", "", ", ", "\n", " ("];

/// A text of so many characters.
fn text(piece: &str, between: &str, characters: usize) -> String {
    let unit = format!("{piece}{between}");
    let all = unit.chars().cycle();
    all.take(characters).collect()
}

/// The time that this thread has worked. What the tests beside it and other programs take is not in it.
fn worked() -> Duration {
    clock_gettime(ClockId::CLOCK_THREAD_CPUTIME_ID)
        .unwrap()
        .into()
}

/// The least time of several readings.
fn least(reader: &Reader, text: &str, tries: u32) -> Duration {
    let once = || {
        let begun = worked();
        std::hint::black_box(reader.read(text, &Context::alone(Unit::Kg)));
        worked() - begun
    };
    (0..tries).map(|_| once()).min().unwrap_or_default()
}

#[test]
fn four_times_the_text_takes_no_more_than_some_four_times_as_long() {
    let reader = Reader::new(config::built_in());
    let mut slow = Vec::new();
    for piece in PIECES {
        for between in BETWEEN {
            // A text that breaks off in the middle of a word may go another way than a whole one, so
            // the slower of two is what a longer one is held against.
            let unit = format!("{piece}{between}").chars().count();
            let whole = 500 / unit * unit;
            let [short, other, long] =
                [500, whole, 2000].map(|characters| text(piece, between, characters));
            // Sixteen times would be the square. Whoever is disturbed is measured again.
            let grows = |tries| {
                let [short, other, long] =
                    [&short, &other, &long].map(|text| least(&reader, text, tries));
                long > 9 * short.max(other) + Duration::from_micros(300)
            };
            if grows(2) && grows(5) && grows(20) {
                slow.push(format!("{piece:?} with {between:?} between"));
            }
        }
    }
    assert!(slow.is_empty(), "{}", slow.join("\n"));
}

#[test]
#[ignore = "the bound holds for an optimised build"]
fn no_message_of_2000_characters_takes_longer_than_2_ms() {
    let reader = Reader::new(config::built_in());
    let mut all = Vec::new();
    for piece in PIECES {
        for between in BETWEEN {
            let took = least(&reader, &text(piece, between, 2000), 5);
            all.push((took, format!("{piece:?} with {between:?} between")));
        }
    }
    all.sort();
    for (took, what) in all.iter().rev().take(10) {
        println!("{took:?} {what}");
    }
    assert!(all.iter().all(|(took, _)| *took < Duration::from_millis(2)));
}
