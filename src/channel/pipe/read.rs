//! One line to an event, or to one sentence on what is wrong with it.

use chrono::{DateTime, Utc};
use serde_json::{Map, Value};

use super::lines::{LONGEST_IMPORT, LONGEST_LINE, Line};
use crate::bot::event::Event;
use crate::channel::admit;

/// A line that is no event.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadLine {
    /// What is wrong and what to do, in one sentence.
    pub message: String,
    /// Its id, where that could be read.
    pub id: Option<String>,
    /// Its time, where that could be read.
    pub at: Option<DateTime<Utc>>,
}

/// What a key must hold.
#[derive(Clone, Copy)]
enum Kind {
    Text,
    Flag,
    Time,
}

/// The types and their keys; a `press` may also have an `id`, a `clock` name a `team`.
#[rustfmt::skip]
const TYPES: [(&str, &[(&str, Kind)]); 5] = [
    (
        "message",
        &[
            ("id", Kind::Text),
            ("team", Kind::Text),
            ("channel", Kind::Text),
            ("author", Kind::Text),
            ("name", Kind::Text),
            ("coach", Kind::Flag),
            ("at", Kind::Time),
            ("text", Kind::Text),
        ],
    ),
    ("edit", &[("id", Kind::Text), ("team", Kind::Text), ("at", Kind::Time), ("text", Kind::Text)]),
    ("delete", &[("id", Kind::Text), ("team", Kind::Text), ("at", Kind::Time)]),
    (
        "press",
        &[
            ("reply", Kind::Text),
            ("team", Kind::Text),
            ("author", Kind::Text),
            ("button", Kind::Text),
            ("at", Kind::Time),
        ],
    ),
    ("clock", &[("at", Kind::Time)]),
];

/// The event in a line.
///
/// # Errors
/// [`BadLine`] for anything else; keys that are not known are no fault.
pub fn event(line: &Line) -> Result<Event, BadLine> {
    let Some(bytes) = &line.bytes else {
        return Err(too_long());
    };
    let text = std::str::from_utf8(bytes)
        .map_err(|_| bad("the line is not UTF-8; send it encoded in UTF-8".to_owned()))?;
    // Some programs open a stream with a byte order mark.
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let mut event: Event = serde_json::from_str(text).map_err(|error| diagnosis(text, &error))?;
    if bytes.len() > LONGEST_LINE && !is_import(&event) {
        return Err(too_long());
    }
    match admit(&mut event) {
        Ok(()) => Ok(event),
        Err(error) => Err(BadLine {
            message: error.to_string(),
            id: event.id().map(str::to_owned),
            at: Some(event.at()),
        }),
    }
}

/// Whether it is a message with a log to be taken over.
fn is_import(event: &Event) -> bool {
    matches!(event, Event::Message(message) if message.text.trim_start().starts_with("/import"))
}

fn too_long() -> BadLine {
    bad(format!(
        "the line is longer than {LONGEST_LINE} bytes ({LONGEST_IMPORT} with a log behind \
         `/import`) and was skipped; send shorter lines"
    ))
}

const fn bad(message: String) -> BadLine {
    BadLine {
        message,
        id: None,
        at: None,
    }
}

/// Why the text is no event. Reads it again, more slowly, since the reader's own words are about
/// its insides.
fn diagnosis(text: &str, error: &serde_json::Error) -> BadLine {
    match serde_json::from_str(text) {
        Ok(Value::Object(object)) => BadLine {
            message: fault(&object)
                .unwrap_or_else(|| format!("the object cannot be read ({error}); correct it")),
            id: object.get("id").and_then(Value::as_str).map(str::to_owned),
            at: object.get("at").and_then(time),
        },
        Ok(_) => bad("the line is JSON, but no object; send one object a line".to_owned()),
        Err(error) if error.is_eof() => {
            bad("the JSON object ends early; send it whole, on one line".to_owned())
        }
        Err(error) => bad(format!(
            "the line is no JSON object (from column {} on); send one object a line",
            error.column()
        )),
    }
}

/// The first key that is wrong.
fn fault(object: &Map<String, Value>) -> Option<String> {
    const KNOWN: &str = "write message, edit, delete, press or clock";
    let Some(given) = object.get("type") else {
        return Some(format!("`type` is missing; {KNOWN}"));
    };
    let Some((name, keys)) = TYPES.iter().find(|(name, _)| given == name) else {
        return Some(format!("`type` is none that is known; {KNOWN}"));
    };
    keys.iter()
        .find_map(|&(key, kind)| match object.get(key) {
            None => Some(format!("`{key}` is missing; every {name} has it")),
            Some(value) => wrong(key, kind, value),
        })
        .or_else(|| {
            // What some types may leave out.
            ["id", "team"].iter().find_map(|&key| {
                let given = object.get(key).filter(|value| !value.is_null())?;
                wrong(key, Kind::Text, given)
            })
        })
}

fn wrong(key: &str, kind: Kind, value: &Value) -> Option<String> {
    match kind {
        Kind::Text if !value.is_string() => Some(format!("`{key}` is no text; put it in quotes")),
        Kind::Flag if !value.is_boolean() => Some(format!(
            "`{key}` is neither true nor false; write one of them"
        )),
        Kind::Time if time(value).is_none() => Some(format!(
            "`{key}` is no time; write it like 2026-01-12T18:30:00Z"
        )),
        _ => None,
    }
}

fn time(value: &Value) -> Option<DateTime<Utc>> {
    serde_json::from_value(value.clone()).ok()
}
