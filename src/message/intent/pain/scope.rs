//! Whose a sign is, and when it was: the writer's, somebody else's, long ago, denied.

use std::fmt;

use crate::message::words::{Concept, Concepts, Marked, Unit};

/// What stands around a sign or a complaint.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Scope {
    /// Somebody else's.
    pub other: bool,
    /// Long ago.
    pub past: bool,
    /// Denied, or over.
    pub denied: bool,
    /// In thought only.
    pub supposed: bool,
}

impl Scope {
    /// A number for it, under 16.
    pub(crate) const fn code(self) -> u8 {
        self.other as u8
            | (self.past as u8) << 1
            | (self.denied as u8) << 2
            | (self.supposed as u8) << 3
    }

    /// The writer's, now.
    pub(crate) const fn is_own_now(self) -> bool {
        !(self.other || self.past || self.denied || self.supposed)
    }
}

impl fmt::Display for Scope {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = [
            (self.other, "other"),
            (self.past, "past"),
            (self.denied, "denied"),
            (self.supposed, "supposed"),
            (self.is_own_now(), "own"),
        ];
        let said: Vec<_> = words
            .iter()
            .filter(|(on, _)| *on)
            .map(|(_, word)| *word)
            .collect();
        write!(f, "{}", said.join(" "))
    }
}

/// How far around a sign is looked, words: what stands farther away says nothing of it, and a long
/// message is to take no longer by the word.
pub(super) const FAR: usize = 40;

/// How far before a sign a denial stands, words.
const DENIED_WITHIN: usize = 3;

/// The scope of the units from `from` up to `to`.
pub(crate) fn scope(marked: &Marked, from: usize, to: usize) -> Scope {
    let units = &marked.units;
    let Some(first) = units.get(from) else {
        return Scope::default();
    };
    let last = units.get(to.wrapping_sub(1)).unwrap_or(first);
    let in_sentence =
        |at: usize| units[at].sentence >= first.sentence && units[at].sentence <= last.sentence;
    let near = from.saturating_sub(FAR)..units.len().min(to + FAR);
    let sentence = || near.clone().filter(|&at| in_sentence(at));
    let denied = (from.saturating_sub(DENIED_WITHIN)..from).any(|at| {
        units[at].is(Concept::Not)
            && units[at].clause == first.clause
            && units[at].concepts == Concepts::of(&[Concept::Not])
    }) || (to..units.len().min(to + 4)).any(|at| {
        units[at].clause == last.clause
            && units[at].is(Concept::Over)
            && !units[at].is(Concept::Went)
    });
    let now = sentence().any(|at| units[at].is(Concept::Now) || units[at].is(Concept::Still));
    let past =
        !now && sentence().any(|at| units[at].is(Concept::Past) || units[at].text == "#year");
    let supposed = (near.start..from).any(|at| {
        units[at].clause == first.clause
            && (units[at].text == "if"
                || units[at].text == "imagine"
                || units[at].text == "when ur")
    });
    Scope {
        other: is_others(marked, from, to),
        past,
        denied,
        supposed,
    }
}

/// What follows a subject that is a name: `otis felt dizzy`, `zoe just passed out`.
const VERBS: &[&str] = &[
    "felt", "feels", "has", "had", "got", "gets", "is", "was", "went", "said", "says", "just",
    "nearly", "almost",
];

/// The nearest person before the sign in its sentence is somebody else.
fn is_others(marked: &Marked, from: usize, to: usize) -> bool {
    let units = &marked.units;
    let sentence = units[from].sentence;
    let mine = |at: usize| {
        let of_other = units
            .get(at + 1)
            .is_some_and(|next| next.is(Concept::Other));
        (units[at].is(Concept::Me) || units[at].is(Concept::My)) && !of_other
    };
    if (from..to).any(mine) {
        return false;
    }
    for at in (from.saturating_sub(FAR)..from)
        .rev()
        .take_while(|&at| units[at].sentence == sentence)
    {
        if mine(at) {
            return false;
        }
        if units[at].is(Concept::Other) || is_named(marked, at, from) {
            return true;
        }
    }
    (from..to).any(|at| units[at].is(Concept::Other))
}

/// Whether the word at `at` is a name by where it stands before a sign: `otis felt dizzy`, `zoe just
/// passed out`, `otis's knee`.
pub(super) fn is_named(marked: &Marked, at: usize, from: usize) -> bool {
    let units = &marked.units;
    let begins = at == 0 || units[at - 1].clause != units[at].clause;
    let acts = at + 1 == from || units.get(at + 1).is_some_and(acts);
    units[at].unknown && (begins && acts || units[at].owner && at + 2 >= from)
}

/// Whether whoever stands before this word is who the sentence is about.
pub(super) fn acts(unit: &Unit) -> bool {
    let first = unit.text.split(' ').next();
    first.is_some_and(|word| VERBS.contains(&word))
}
