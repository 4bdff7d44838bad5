//! Whether it is somebody beside the writer who faints: the answer is then about who needs help.

use super::scope::{acts, is_named};
use super::signs::Found;
use crate::domain::quantities::warning::WarningSign;
use crate::message::words::{Concept, Marked, Unit};

/// Whether the rules find that somebody else faints, now, and nothing else: an answer is about who needs help.
pub(super) fn are_others(signs: &[Found]) -> bool {
    let fell = |found: &Found| {
        let scope = found.scope;
        found.sign == WarningSign::Faint
            && scope.other
            && !(scope.past || scope.denied || scope.supposed)
    };
    !signs.is_empty() && signs.iter().all(fell)
}

/// Words for somebody else that are not in the lists, since one calls those so whom one writes to.
const FRIENDS: &[&str] = &[
    "mate", "pal", "buddy", "partner", "friend", "lad", "bro", "dude",
];

/// Whether the last person before a sign is not the writer: `my mate next to me just collapsed`.
pub(super) fn is_another(marked: &Marked, found: &Found) -> bool {
    let units = &marked.units;
    let sentence = units.get(found.from).map(|unit| unit.sentence);
    let before = units.iter().enumerate().take(found.from);
    let mut people = before
        .rev()
        .take(FAR_BEFORE)
        .take_while(|(_, unit)| Some(unit.sentence) == sentence)
        .filter_map(|(at, unit)| {
            let another = unit.is(Concept::Stranger)
                || unit.is(Concept::Other)
                || FRIENDS.contains(&unit.text.as_str())
                || is_named(marked, at, found.from)
                || is_coach(unit, units.get(at + 1));
            (another || unit.is(Concept::Me)).then_some(another)
        });
    found.sign != WarningSign::Suicide && people.next().unwrap_or_default()
}

/// The coach as who the sentence is about, and not as who is written to: `coach is unconscious`.
fn is_coach(unit: &Unit, next: Option<&Unit>) -> bool {
    match unit.text.strip_prefix("coach") {
        Some("") => next.is_some_and(acts),
        Some(verb) => verb.starts_with(' '),
        None => false,
    }
}

/// How far before a sign its person is looked for, words.
const FAR_BEFORE: usize = 8;
