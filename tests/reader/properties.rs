//! What holds of the reader for any text.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]

use chalkbell::channel::read::read_lines;
use chalkbell::config;
use chalkbell::domain::quantities::catalogue::{Basis, Catalogue};
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::id::ExerciseId;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::message::complete;
use chalkbell::message::reading::{Day, Kind, Reading, SetReading};
use chalkbell::message::{Answer, Context, Reader};
use proptest::prelude::*;
use std::sync::LazyLock;

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(config::built_in()));

fn read(text: &str) -> Reading {
    READER.read(text, &Context::alone(Unit::Kg))
}

/// A set in the plainest words: name, load, repetitions, then the rest.
fn canonical(set: &SetReading, catalogue: &Catalogue) -> String {
    let name = &catalogue.exercise(set.exercise).name;
    let amount = set.load.mass.plain(set.load.unit);
    let unit = set.load.unit.symbol();
    let load = match set.load.basis {
        Basis::Total => format!("{amount}{unit} total"),
        Basis::PerHand => format!("{amount}{unit} each hand"),
        Basis::Added => format!("+{amount}{unit}"),
        Basis::Assisted => format!("-{amount}{unit}"),
        Basis::Body => "bw".to_owned(),
    };
    let mut text = format!("{name} {load} x {}", set.reps);
    if set.per_side {
        text += " each side";
    }
    if let Some(rir) = set.rir {
        text += &format!(", {} rir", rir.reps());
    }
    if let Some(rest) = set.rest_s {
        text += &format!(", rest {rest} s");
    }
    if set.warm_up {
        text = format!("wu {text}");
    }
    match set.day {
        Some(Day::Ago(1)) => format!("yesterday {text}"),
        Some(Day::Ago(days)) => format!("{days} days ago {text}"),
        Some(Day::Weekday(day)) => format!("{} {text}", day.to_string().to_lowercase()),
        Some(Day::Date(date)) => format!("{date} {text}"),
        Some(Day::Yearless { day, month, .. }) => format!("{day}/{month}: {text}"),
        None => text,
    }
}

fn any_load(usual: Basis) -> impl Strategy<Value = Load> {
    let bases = match usual {
        Basis::Body => vec![Basis::Body, Basis::Added, Basis::Assisted],
        usual => vec![usual],
    };
    (1..800u32, prop::bool::ANY, prop::sample::select(bases)).prop_map(|(halves, kg, basis)| {
        let unit = if kg { Unit::Kg } else { Unit::Lb };
        if basis == Basis::Body {
            return Load::body(Unit::Kg);
        }
        let mass = Mass::new(f64::from(halves) / 2.0, unit).unwrap();
        Load { mass, unit, basis }
    })
}

fn any_day() -> impl Strategy<Value = Option<Day>> {
    prop_oneof![
        3 => Just(None),
        1 => (1..30u32).prop_map(|days| Some(Day::Ago(days))),
        1 => (0..7u8).prop_map(|day| Some(Day::Weekday(day.try_into().unwrap()))),
        1 => (1..28u32).prop_map(|day| {
            Some(Day::Date(chrono::NaiveDate::from_ymd_opt(2026, 2, day).unwrap()))
        }),
    ]
}

fn any_set() -> impl Strategy<Value = SetReading> {
    let count = READER.catalogue().exercises().count();
    (0..count).prop_flat_map(|place| {
        let id = ExerciseId(u16::try_from(place).unwrap());
        let basis = READER.catalogue().exercise(id).basis;
        (
            any_load(basis),
            1..=100u32,
            prop::option::of(0..=10u32),
            prop::option::of(15..600u32),
            any::<(bool, bool)>(),
            any_day(),
        )
            .prop_map(move |(load, reps, rir, rest_s, (warm_up, per_side), day)| {
                SetReading {
                    exercise: id,
                    load,
                    reps,
                    seconds: None,
                    rir: rir.map(|halves| Rir::new(f64::from(halves) / 2.0).unwrap()),
                    gave_out: None,
                    warm_up,
                    per_side,
                    hung_a_side: None,
                    rest_s,
                    straight: true,
                    technique: None,
                    day,
                }
            })
    })
}

/// Words of a channel that speak of no set of the writer's.
const CHAT: &[&str] = &[
    "see",
    "you",
    "at",
    "the",
    "boathouse",
    "tomorrow",
    "who",
    "is",
    "in",
    "for",
    "dinner",
    "he",
    "she",
    "they",
    "bus",
    "lake",
    "weather",
    "tickets",
    "sale",
    "coffee",
    "parking",
    "we",
    "us",
    "their",
    "meeting",
    "agenda",
    "hotel",
    "rain",
    "wind",
    "trailer",
    "key",
    "door",
    "music",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_read_without_panic(text in "\\PC{0,200}") {
        let _ = read(&text);
    }

    #[test]
    fn any_mix_of_training_words_is_read_without_panic(
        words in prop::collection::vec(prop::sample::select(TRAINING), 0..40)
    ) {
        let reading = read(&words.join(" "));
        prop_assert!(reading.sets.iter().all(|set| set.reps <= 100));
        // Beside whole sets stand those that lack a part, and no other way to read them.
        let offered = reading.unclear.as_ref().map_or(0, |open| open.readings.len());
        prop_assert!(reading.sets.is_empty() || offered == 0);
    }

    #[test]
    fn chat_with_numbers_files_nothing(
        words in prop::collection::vec(
            prop_oneof![
                4 => prop::sample::select(CHAT).prop_map(str::to_owned),
                1 => (0..200u32).prop_map(|n| n.to_string()),
                1 => (1..9u32, 1..200u32).prop_map(|(a, b)| format!("{a}x{b}")),
            ],
            3..14,
        ),
        first in prop::sample::select(CHAT),
    ) {
        let text = format!("{first} {}", words.join(" "));
        prop_assert_eq!(read(&text).sets, vec![]);
    }

    #[test]
    fn a_set_in_plain_words_reads_back_equal(set in any_set()) {
        let text = canonical(&set, READER.catalogue());
        let reading = read(&text);
        prop_assert_eq!(reading.sets, vec![set], "{}", text);
    }

    #[test]
    fn every_reading_of_an_open_pair_can_be_picked(a in 5..=10u32, b in 6..=12u32) {
        let reading = read(&format!("hammer curl {b} @ {a}"));
        let unclear = reading.unclear.unwrap_or_default();
        for place in 0..unclear.readings.len() + unclear.partial.len() {
            let picked = complete(&unclear, &Answer::Pick(place), READER.catalogue());
            prop_assert!(picked.is_some());
        }
    }
}

/// Pieces that messages about sets are made of.
const TRAINING: &[&str] = &[
    "bench",
    "squat",
    "80",
    "x",
    "10",
    "80x10",
    "@",
    "8",
    "rpe",
    "rir",
    "2",
    "left",
    ",",
    "/",
    "+",
    "-",
    "bw",
    "failed",
    "the",
    "9th",
    "after",
    "min",
    "rest",
    "3x10",
    "same",
    "again",
    "more",
    "each",
    "side",
    "hand",
    "wu",
    "warm up:",
    "\n",
    "kg",
    "lb",
    "30s",
    "set 1:",
    "yesterday",
    "mon",
    "drop",
    "set",
    "to",
    "down",
    "f",
    "?",
    "how long",
    "ready",
    "not",
    "pull-ups",
    "dips",
    "1-2",
    "82,5",
    "superset",
    "and",
    "then",
    "for",
    "of",
    "sets",
    "reps",
    "last",
    "one",
    "all",
    "%",
    "€",
];

#[test]
fn every_line_gets_one_answer_whatever_its_bytes() {
    let long = "bench 80x10 ".repeat(10_000);
    let mut input = Vec::new();
    let lines: [&[u8]; 7] = [
        b"bench 80x10",
        b"\xff\xfe\x80",
        b"",
        long.as_bytes(),
        "\u{202e}bench\u{200b} 80\u{a0}x 10\u{7}".as_bytes(),
        b"{\"half\": ",
        b"x9",
    ];
    for line in lines {
        input.extend_from_slice(line);
        input.push(b'\n');
    }
    let mut output = Vec::new();
    read_lines(&READER, input.as_slice(), &mut output, Unit::Kg, true).unwrap();
    let output = String::from_utf8(output).unwrap();
    assert_eq!(output.lines().count(), lines.len());
    let filed = output.lines().nth(4).unwrap();
    assert!(
        filed.contains("bench press") && filed.contains("\"sets\""),
        "{filed}"
    );
}

#[test]
fn a_command_is_no_message() {
    for text in ["/plan bench press 4x8", " /undo", "/next 80x10"] {
        assert_eq!(read(text).kind(), Kind::Chatter, "{text}");
    }
}
