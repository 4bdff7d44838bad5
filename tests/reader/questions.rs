//! Questions in other people's words that must get an answer, and chat that must get none, through
//! the whole program: `questions.jsonl` and `questions_other.jsonl` in `tests/data/`, by two people who
//! had not seen the reader.
//!
//! Every second line of each is held out: it was never looked at, nor learned from, while the reader
//! was made. The others are in `tests/data/asking/others.jsonl`, which is learned from. Nothing of
//! `questions_four.jsonl`, by four more people, was learned from either; which of its lines got silence was
//! looked at once, after its first count.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::fs;
use std::path::Path;

use crate::support::program::Program;
use serde_json::{Value, json};

struct Line {
    text: String,
    wants_answer: bool,
}

fn lines(file: &str) -> Vec<Line> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let path = path.join(file);
    let text = fs::read_to_string(path).expect("the questions");
    let line = |line: &str| {
        let value: Value = serde_json::from_str(line).expect("JSON");
        Line {
            text: value["text"].as_str().expect("a text").to_owned(),
            wants_answer: value["want"] == "answer",
        }
    };
    text.lines().map(line).collect()
}

/// Posts by each member before the question: two sessions, the second one still on.
const BEFORE: [(&str, &str); 5] = [
    ("2026-11-24T17:00:00Z", "bench 60x10, 2 left"),
    ("2026-11-24T17:04:00Z", "squat 80x8, 2 left"),
    ("2026-11-26T17:00:00Z", "bench 60x10, 2 left"),
    ("2026-11-26T17:03:00Z", "x9, 1 left"),
    ("2026-11-26T17:06:00Z", "squat 82.5x7, 2 left"),
];

fn message(author: &str, at: &str, id: &str, text: &str) -> String {
    json!({
        "type": "message", "id": id, "team": "t", "channel": "gym", "author": author,
        "name": author, "coach": false, "at": at, "text": text,
    })
    .to_string()
}

/// Whether something was said, or a message was marked, for the line.
fn is_answered(program: &mut Program, author: &str, text: &str) -> bool {
    for (place, (at, text)) in BEFORE.iter().enumerate() {
        program.answer(&message(author, at, &format!("{author}-{place}"), text));
    }
    let asked = message(
        author,
        "2026-11-26T17:08:00Z",
        &format!("{author}-asked"),
        text,
    );
    let out = program.answer(&asked);
    out.iter().any(|line| {
        let line: Value = serde_json::from_str(line).expect("JSON");
        line["type"] == "mark" || !line["text"].as_str().unwrap_or_default().is_empty()
    })
}

/// Questions without an answer, and chat with one, among the lines of a half.
fn wrong(file: &str, half: usize) -> (Vec<String>, Vec<String>) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut program = Program::start(&folder.path().join("log.sqlite"));
    let (mut silent, mut loud) = (Vec::new(), Vec::new());
    for (place, line) in lines(file).into_iter().enumerate() {
        if place % 2 != half {
            continue;
        }
        let answered = is_answered(&mut program, &format!("m{place}"), &line.text);
        match (line.wants_answer, answered) {
            (true, false) => silent.push(line.text),
            (false, true) => loud.push(line.text),
            _ => {}
        }
    }
    program.close();
    (silent, loud)
}

#[test]
fn questions_that_were_looked_at_are_answered_and_chat_is_not() {
    for (file, silent_at_most) in [("questions.jsonl", 0), ("questions_other.jsonl", 1)] {
        let (silent, loud) = wrong(file, 0);
        assert!(
            silent.len() <= silent_at_most,
            "{}: {silent:#?}",
            silent.len()
        );
        // The reader files a quoted set, and answers a quoted question.
        assert!(loud.len() <= 2, "{}: {loud:#?}", loud.len());
    }
}

#[test]
fn most_questions_of_people_never_learned_from_are_answered() {
    let halves = [0, 1].map(|half| wrong("questions_four.jsonl", half));
    let silent: usize = halves.iter().map(|(silent, _)| silent.len()).sum();
    let loud: usize = halves.iter().map(|(_, loud)| loud.len()).sum();
    // Of 60 and 60. These may only fall.
    assert!(silent <= FOUR.0 && loud <= FOUR.1, "{silent}, {loud}");
}

/// Silent and loud at most.
const FOUR: (usize, usize) = (4, 1);

#[test]
fn most_questions_that_were_held_out_are_answered_and_chat_is_not() {
    // Of 60 and 60, of 50 and 30. These may only fall. Of the twelve one was no silence while it was taken
    // for a warning sign.
    for (file, silent_at_most, loud_at_most) in
        [("questions.jsonl", 5, 1), ("questions_other.jsonl", 2, 0)]
    {
        let (silent, loud) = wrong(file, 1);
        let figures = (file, silent.len(), loud.len());
        assert!(
            silent.len() <= silent_at_most && loud.len() <= loud_at_most,
            "{figures:?}"
        );
    }
}
