//! Whatever is wrong with a command, the answer shows a form that works: wrong arguments are made up
//! for every command, and the examples in the answers are given to the readers.

use crate::support::program::Program;
use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::forms::command::{self, Command, EXAMPLES, USAGE};
use chalkbell::message::intent::talk::talk;
use chalkbell::message::reading::Kind;
use chalkbell::message::{Context, Reader};
use serde_json::{Value, json};

/// Wrong for most commands.
const PIECES: [&str; 16] = [
    "xyzzy",
    "-3",
    "0",
    "99999999",
    "???",
    "kg kg",
    "1e9 kg",
    "9:99",
    "mon tue",
    "2026-13-45",
    "bench bench",
    "none of it",
    "12.5.5",
    "step",
    "from",
    "🙂",
];

/// What a refusal is known by.
const REFUSES: [&str; 12] = [
    "did not understand",
    "don't know `",
    "don't know th",
    "There is no",
    "no such",
    "othing was changed",
    "othing was logged",
    "No exercise has",
    "no help on",
    "please",
    "For which",
    "minutes",
];

/// Single pieces and pairs of them.
fn wrong_arguments() -> Vec<String> {
    let pairs = PIECES
        .iter()
        .zip(PIECES.iter().skip(5))
        .map(|(first, second)| format!("{first} {second}"));
    PIECES
        .iter()
        .map(|one| (*one).to_owned())
        .chain(pairs)
        .collect()
}

/// The texts between marks.
fn examples_in(text: &str) -> Vec<String> {
    let blocks = text
        .split("```")
        .skip(1)
        .step_by(2)
        .map(|block| block.trim().to_owned());
    let without: String = text.split("```").step_by(2).collect();
    let spans = without.split('`').skip(1).step_by(2).map(str::to_owned);
    blocks.chain(spans).collect()
}

fn is_accepted(example: &str, reader: &Reader) -> bool {
    match command::read(example) {
        Some(Command::Misused(_) | Command::Unknown(..)) => false,
        Some(_) => true,
        None => {
            let reading = reader.read(example, &Context::alone(Unit::Kg));
            reading.kind() != Kind::Chatter || talk(example, reader).is_some()
        }
    }
}

#[test]
fn every_command_has_two_examples_that_are_accepted() {
    let reader = Reader::new(config::built_in());
    for (word, _) in USAGE {
        let of_word = EXAMPLES.iter().find(|(known, _)| known == word);
        let (_, examples) = of_word.unwrap_or_else(|| panic!("/{word} has no examples"));
        for example in examples {
            assert!(is_accepted(example, &reader), "{example}");
        }
    }
}

#[test]
fn every_refusal_shows_a_form_that_works() {
    let reader = Reader::new(config::built_in());
    let folder = tempfile::tempdir().expect("a folder");
    let mut program = Program::start(&folder.path().join("log.sqlite"));
    let mut count = 0;
    let mut bad: Vec<(String, String)> = Vec::new();
    let mut refused = 0;
    for coach in [true, false] {
        let author = if coach { "coach" } else { "ines" };
        for (word, _) in USAGE {
            for wrong in wrong_arguments() {
                count += 1;
                let line = format!("/{word} {wrong}");
                let event = json!({
                    "type": "message", "id": format!("r{count}"), "team": "t", "channel": "gym",
                    "author": author, "name": author, "coach": coach,
                    "at": "2026-11-26T17:08:00Z", "text": line,
                });
                for out in program.answer(&event.to_string()) {
                    let out: Value = serde_json::from_str(&out).expect("JSON");
                    let text = out["text"].as_str().unwrap_or_default();
                    if !REFUSES.iter().any(|words| text.contains(words)) {
                        continue;
                    }
                    refused += 1;
                    let examples = examples_in(text);
                    if !examples.iter().any(|example| is_accepted(example, &reader)) {
                        bad.push((line.clone(), text.to_owned()));
                    }
                }
            }
        }
    }
    program.close();
    assert!(refused > 300, "only {refused} refusals of {count}");
    bad.dedup_by(|a, b| a.1.get(..20) == b.1.get(..20));
    let shown: Vec<_> = bad.iter().take(40).collect();
    assert!(bad.is_empty(), "{} of {refused}: {shown:#?}", bad.len());
}
