//! Sentences on notes.

use super::{day, shown_name};
use crate::bot::state::Note;

/// Said once a note is kept: who may read it.
pub fn kept(name: &str, note: &Note, cut: bool) -> String {
    let name = shown_name(name);
    let number = note.number;
    let who = match note.shared {
        true => format!(
            "{name} may read it: I sent it to {name}, and `/note` shows it there. For coaches alone: \
             `/note {name} private TEXT`."
        ),
        false => format!(
            "Only coaches see it; {name} does not, not even in `/export`. To share one: `/note {name} \
             shared TEXT`."
        ),
    };
    let cut = if cut {
        " I kept the first 500 characters."
    } else {
        ""
    };
    format!("Noted on {name}, note {number}. {who}{cut} `/note {name} delete {number}` deletes it.")
}

/// To the member: a note that a coach shares.
pub fn handed(note: &Note) -> String {
    format!("Your coach notes: {}", shown(&note.text))
}

/// The notes on a member, the latest first.
pub fn on(name: &str, notes: &[Note]) -> String {
    let name = shown_name(name);
    if notes.is_empty() {
        return format!(
            "No note on {name} yet: `/note {name} TEXT` keeps one for coaches, `/note {name} shared \
             TEXT` one that {name} may read."
        );
    }
    let lines: Vec<_> = notes.iter().rev().map(line).collect();
    format!(
        "Notes on {name}:\n{}\n`/note {name} delete NUMBER` deletes one.",
        lines.join("\n")
    )
}

/// A member's own notes, as far as they are shared.
pub fn own(notes: &[Note], coach: bool) -> String {
    if notes.is_empty() {
        return match coach {
            true => "Name a member: `/note NAME` shows the notes, `/note NAME TEXT` keeps one for \
                     coaches, `/note NAME shared TEXT` one that the member may read."
                .to_owned(),
            false => "Your coach has shared no note with you.".to_owned(),
        };
    }
    let lines = notes.iter().rev();
    let lines: Vec<_> = lines
        .map(|note| format!("{}: {}", day(note.day), shown(&note.text)))
        .collect();
    format!(
        "Notes that your coach shares with you:\n{}",
        lines.join("\n")
    )
}

/// A note in a line: `2. Wednesday 25 November, for coaches: box squats?`
pub fn line(note: &Note) -> String {
    let who = if note.shared { "shared" } else { "for coaches" };
    let number = match note.number {
        0 => String::new(),
        number => format!("{number}. "),
    };
    format!("{number}{}, {who}: {}", day(note.day), shown(&note.text))
}

/// A note's text, with nothing in it that a channel would take for more.
fn shown(text: &str) -> String {
    let text = text.chars().filter(|c| !c.is_control() && *c != '@');
    text.map(|c| if c == '`' { '\'' } else { c }).collect()
}

/// Said once a note is gone.
pub fn deleted(name: &str, number: u32) -> String {
    format!("Deleted note {number} on {}.", shown_name(name))
}

/// Said where no note has this number.
pub fn no_such(name: &str, number: u32, notes: &[Note]) -> String {
    let name = shown_name(name);
    let numbers: Vec<String> = notes.iter().map(|note| note.number.to_string()).collect();
    match numbers.is_empty() {
        true => format!("There is no note on {name}. Nothing was changed."),
        false => format!(
            "There is no note {number} on {name}. Nothing was changed. There are: {}.",
            numbers.join(", ")
        ),
    }
}
