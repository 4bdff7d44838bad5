//! The rooms use only what stands to their left, and each module says what it is for.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms from left to right; a room may use itself and those before it.
const ROOMS: [&str; 11] = [
    "backoff", "domain", "config", "message", "bot", "picture", "store", "service", "jobs",
    "channel", "settings",
];

/// Crates that pure calculation does without.
const NOT_IN_DOMAIN: [&str; 6] = ["tokio", "sqlx", "serenity", "tracing", "serde", "anyhow"];

/// The program's own files; tests beside them may use any room.
pub(super) fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        if path.is_dir() {
            files.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs")
            && !path.ends_with("tests.rs")
        {
            files.push(path);
        }
    }
    files.sort();
    files
}

pub(super) fn source_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The room that a file stands in, if it stands in one.
fn room_of(path: &Path) -> Option<usize> {
    let inside = path.strip_prefix(source_folder()).expect("a source file");
    let first = inside
        .components()
        .next()?
        .as_os_str()
        .to_str()?
        .trim_end_matches(".rs");
    ROOMS.iter().position(|room| *room == first)
}

/// Rooms named by `crate::` in code, with their lines; comments and tests may name any.
fn named_rooms(text: &str) -> Vec<(usize, usize)> {
    let mut named = Vec::new();
    let code = text.lines().take_while(|line| *line != "#[cfg(test)]");
    for (number, line) in code.enumerate() {
        if line.trim_start().starts_with("//") {
            continue;
        }
        for part in line.split("crate::").skip(1) {
            let word = part
                .split(|c: char| !c.is_alphanumeric() && c != '_')
                .next();
            if let Some(room) = ROOMS.iter().position(|room| Some(*room) == word) {
                named.push((number + 1, room));
            }
        }
    }
    named
}

/// Faults of one file: rooms to the right that it names.
fn faults(own: usize, path: &Path, text: &str) -> Vec<String> {
    let right = named_rooms(text)
        .into_iter()
        .filter(|&(_, room)| room > own);
    right
        .map(|(line, room)| {
            format!(
                "{}:{line}: `{}` uses `{}`",
                path.display(),
                ROOMS[own],
                ROOMS[room]
            )
        })
        .collect()
}

#[test]
fn rooms_use_only_what_stands_to_their_left() {
    let mut all = Vec::new();
    for path in sources(&source_folder()) {
        let text = fs::read_to_string(&path).expect("a readable file");
        if let Some(own) = room_of(&path) {
            all.extend(faults(own, &path, &text));
        }
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn a_use_to_the_right_is_named() {
    let found = faults(
        1,
        Path::new("x.rs"),
        "use crate::bot::reply;\n// crate::store\n",
    );
    assert_eq!(found, ["x.rs:1: `domain` uses `bot`"]);
}

#[test]
fn domain_does_without_outside_machinery() {
    for path in sources(&source_folder().join("domain")) {
        let text = fs::read_to_string(&path).expect("a readable file");
        for name in NOT_IN_DOMAIN {
            let used = [
                format!("use {name}::"),
                format!("{name}::"),
                format!("#[{name}"),
            ];
            let code = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"));
            for line in code {
                let found = used.iter().any(|used| line.contains(used.as_str()));
                assert!(!found, "{}: {line}", path.display());
            }
        }
        assert!(!text.contains("async fn"), "{}", path.display());
    }
}

#[test]
fn every_module_says_what_it_is_for() {
    for path in sources(&source_folder()) {
        let text = fs::read_to_string(&path).expect("a readable file");
        assert!(
            text.starts_with("//! "),
            "{} does not open with `//!`",
            path.display()
        );
    }
}
