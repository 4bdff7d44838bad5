//! Corrections that point at a set: `yesterday's squats were 95`, `make the first one 8`, `that was a
//! warm-up`, `delete the curls`.
//!
//! Every word must be one that such sentences are made of, so that chat is left alone. What only
//! speaks of the last set (`undo`, `make it 8`) is the reader's own business ([`crate::message::reading`]).
//! Which stored set is meant is found where the log is known.

mod short;
mod wipe;
mod words;

use super::talk::DayAsked;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::message::reader::Reader;
use crate::message::reading::Part;
use crate::message::words::names::NameIndex;
pub use short::short;
pub(crate) use wipe::{puts_back, wipes_today};
use words::{Token, split, tokens};

/// A correction with what it points at.
#[derive(Clone, Debug, PartialEq)]
pub struct Amend {
    /// The sets that are meant.
    pub pick: Pick,
    /// What becomes of them.
    pub change: Amended,
}

/// What a correction says of the sets that it means.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pick {
    /// The exercise, as named.
    pub name: Option<Name>,
    /// The day.
    pub day: Option<DayAsked>,
    /// Which of its sets.
    pub place: Option<Position>,
    /// More than one set: `the curls`, `those`.
    pub several: bool,
}

/// An exercise as it was named: the lifter's `curls` may be any curl that was done.
#[derive(Clone, Debug, PartialEq)]
pub struct Name {
    /// The words, in lower case.
    pub words: String,
    /// What they stand for by themselves.
    pub exercise: ExerciseId,
}

/// Which sets of an exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Position {
    /// The one with this number, from 1.
    Number(usize),
    /// The last one.
    Last,
    /// The first so many.
    First(usize),
    /// The last so many.
    LastOf(usize),
}

/// What becomes of the sets.
#[derive(Clone, Debug, PartialEq)]
pub enum Amended {
    /// A number changes.
    Number {
        /// Which one, where said.
        part: Option<Part>,
        /// The unit, where named.
        unit: Option<Unit>,
        /// What it should be.
        now: f64,
        /// What was logged, where said.
        was: Option<f64>,
    },
    /// It was this load, so many repetitions and, where said, this reserve.
    Set(Load, u32, Option<Rir>),
    /// So many were left at the end of each.
    Left(Vec<Rir>),
    /// Their loads were in this unit.
    Unit(Unit),
    /// They were of another exercise.
    Exercise(ExerciseId),
    /// They were warm-ups, or were none.
    WarmUp(bool),
    /// They were done on another day.
    Day(DayAsked),
    /// They go.
    Delete,
    /// Words to keep beside them.
    Note(String),
}

impl Amend {
    /// The last set was another one.
    #[must_use]
    pub(crate) fn of_last(load: Load, reps: u32, rir: Option<Rir>) -> Self {
        Self {
            pick: Pick {
                place: Some(Position::Last),
                ..Pick::default()
            },
            change: Amended::Set(load, reps, rir),
        }
    }
}

/// Longer messages are no corrections, words.
const MOST_WORDS: usize = 16;

/// Longest note on a set, characters.
pub const LONGEST_NOTE: usize = 200;

/// The correction that a message is; `None` where it is none, or one of the last set alone.
#[must_use]
pub fn amend(text: &str, reader: &Reader) -> Option<Amend> {
    let text = text.trim();
    if text.contains(['?', '\n', '"', '“']) {
        return None;
    }
    if let Some(note) = note(text) {
        return Some(note);
    }
    if let Some(number) = number_was(text) {
        return Some(number);
    }
    let read = tokens(text, reader)?;
    (read.len() <= MOST_WORDS).then_some(())?;
    made_of(&read)
}

/// What ends a part of a message that tells of pain and corrects a set, too. A body part begins with its owner.
const PART_ENDS: &[&str] = &[
    "and", "also", "but", "plus", "cos", "because", "with", "my", "sharp",
];

/// The parts of a message that may stand by themselves beside a report.
pub(crate) fn parts(text: &str) -> impl Iterator<Item = String> {
    let clauses = text.split([';', '!', '\n', '(', ')']);
    let clauses = clauses.flat_map(|clause| clause.split(", "));
    let clauses = clauses.flat_map(|clause| clause.split(". "));
    let clauses = clauses.flat_map(|clause| clause.split(" - "));
    clauses.flat_map(|clause| {
        let words: Vec<&str> = clause.split_whitespace().collect();
        let parts = words.split(|word| PART_ENDS.contains(&word.to_lowercase().as_str()));
        let parts: Vec<String> = parts.map(|part| part.join(" ")).collect();
        parts.into_iter().filter(|part| !part.is_empty())
    })
}

/// The correction of sets that it points at in a message or, beside a report of pain, in a part of one.
#[must_use]
pub(crate) fn amend_in(text: &str, reader: &Reader) -> Option<Amend> {
    amend(text, reader).or_else(|| parts(text).find_map(|part| amend(&part, reader)))
}

/// `the 11 was 12`.
fn number_was(text: &str) -> Option<Amend> {
    let words = split(text);
    let [the, was, is, now] = words.as_slice() else {
        return None;
    };
    let number = |word: &String| word.parse::<f64>().ok();
    let fits = the == "the" && matches!(is.as_str(), "was" | "is" | "were");
    let change = Amended::Number {
        part: None,
        unit: None,
        now: number(now)?,
        was: Some(number(was)?),
    };
    let pick = Pick {
        several: true,
        ..Pick::default()
    };
    fits.then_some(Amend { pick, change })
}

/// `note: elbows in`, `note on the last set: felt wobbly`.
fn note(text: &str) -> Option<Amend> {
    let (head, note) = text.split_once(':')?;
    let head = head.trim().to_lowercase();
    let of_set = [
        "note",
        "set note",
        "note on that",
        "note on that set",
        "note on the last set",
        "note to that set",
        "note for that set",
        "note on this set",
    ];
    let note = note.trim();
    let fits =
        of_set.contains(&head.as_str()) && !note.is_empty() && note.chars().count() <= LONGEST_NOTE;
    fits.then(|| Amend {
        pick: Pick::default(),
        change: Amended::Note(note.to_owned()),
    })
}

/// What a sentence of known words says.
#[derive(Debug, Default)]
struct Said {
    names: Vec<Name>,
    /// Names behind `to`, `into`, or behind the verb.
    day: Option<DayAsked>,
    place: Option<Position>,
    /// Numbers with their unit and part, and whether `not` stands before.
    numbers: Vec<(f64, Option<Unit>, Option<Part>, bool)>,
    part: Option<Part>,
    deletes: bool,
    changes: bool,
    was: bool,
    meant: bool,
    warm_up: Option<bool>,
    work_set: Option<bool>,
    several: bool,
    points: bool,
    sets: bool,
    wrong: bool,
    /// How many names stood before the verb.
    before: Option<usize>,
    /// The name behind `not`, which it was not.
    denied: Vec<ExerciseId>,
}

fn made_of(read: &[Token]) -> Option<Amend> {
    let mut said = Said::default();
    let mut not = false;
    for (at, token) in read.iter().enumerate() {
        let denied = std::mem::take(&mut not);
        match token {
            Token::Filling => not = denied,
            Token::Not => not = true,
            Token::Name(name, _) if denied => said.denied.push(name.exercise),
            Token::Name(name, plural) => {
                said.names.push(name.clone());
                said.several |= *plural && said.before.is_none();
            }
            Token::Day(day) => {
                said.day.is_none().then_some(())?;
                said.day = Some(*day);
            }
            Token::Position(place) => {
                said.place.is_none().then_some(())?;
                said.place = Some(*place);
            }
            Token::Number(value, unit) => {
                let part = match read.get(at + 1) {
                    Some(Token::Part(part)) => Some(*part),
                    _ => unit.map(|_| Part::Load),
                };
                said.numbers.push((*value, *unit, part, denied));
            }
            Token::Part(part) => said.part = said.part.or(Some(*part)),
            Token::Delete => said.deletes = true,
            Token::Change => {
                said.changes = true;
                said.before.get_or_insert(said.names.len());
            }
            Token::Was => {
                said.was = true;
                said.before.get_or_insert(said.names.len());
            }
            Token::WasNot => {
                said.was = true;
                said.before.get_or_insert(said.names.len());
                not = true;
            }
            Token::To => {
                said.before = Some(said.names.len());
            }
            Token::Meant => said.meant = true,
            Token::Wrong => said.wrong = true,
            Token::WarmUp(several) => {
                said.warm_up = Some(!denied);
                said.several |= *several;
            }
            Token::WorkSet => said.work_set = Some(!denied),
            Token::Points(several) => {
                said.points = true;
                said.several |= *several;
            }
            Token::Sets(several) => {
                said.sets = true;
                said.several |= *several;
            }
        }
    }
    said.amend()
}

impl Said {
    /// Whether it says which set, and not just the last one.
    const fn points_further(&self) -> bool {
        self.day.is_some() || self.place.is_some() || !self.names.is_empty()
    }

    fn pick(&self, name: Option<Name>) -> Pick {
        Pick {
            name,
            day: self.day,
            place: self.place,
            several: self.several
                && !matches!(self.place, Some(Position::Number(_) | Position::Last)),
        }
    }

    fn amend(&self) -> Option<Amend> {
        let verb = self.was || self.changes || self.meant;
        let is_warm_up = match (self.warm_up, self.work_set) {
            (Some(is), _) => Some(is),
            (None, Some(is)) => Some(!is),
            (None, None) => None,
        };
        if self.deletes {
            // `delete last set` and `delete that` take the last post back: the reader's.
            let own = self.day.is_some()
                || !self.names.is_empty()
                || self.place.is_some_and(|place| place != Position::Last)
                || is_warm_up.is_some() && !self.names.is_empty();
            let plain = self.numbers.is_empty() && self.names.len() <= 1 && !verb;
            return (own && plain).then(|| self.made(self.names.first().cloned(), Amended::Delete));
        }
        if let Some(is) = is_warm_up {
            let fits = self.numbers.is_empty()
                && self.names.len() <= 1
                && (self.was || self.changes || self.meant)
                && (self.points || self.points_further() || self.sets);
            return fits.then(|| self.made(self.names.first().cloned(), Amended::WarmUp(is)));
        }
        if !verb {
            return None;
        }
        match (self.numbers.as_slice(), self.names.as_slice()) {
            ([], [name]) if self.points_at_exercise() => {
                Some(self.made(None, Amended::Exercise(name.exercise)))
            }
            ([], [of, name]) if self.before == Some(1) => {
                Some(self.made(Some(of.clone()), Amended::Exercise(name.exercise)))
            }
            ([], _) => None,
            (numbers, names) if names.len() <= 1 && numbers.len() <= 2 => {
                let now = numbers.iter().find(|(.., denied)| !denied)?;
                let was = numbers.iter().find(|(.., denied)| *denied);
                if numbers.len() == 2 && was.is_none() || !self.points_further() {
                    return None;
                }
                // `make it 8` with the last set alone is the reader's.
                let of_last = self.place == Some(Position::Last)
                    && self.day.is_none()
                    && self.names.is_empty();
                if of_last {
                    return None;
                }
                let part = now.2.or(self.part).or_else(|| was.and_then(|was| was.2));
                let change = Amended::Number {
                    part,
                    unit: now.1.or_else(|| was.and_then(|was| was.1)),
                    now: now.0,
                    was: was.map(|was| was.0),
                };
                Some(self.made(names.first().cloned(), change))
            }
            _ => None,
        }
    }

    /// Whether the name is what the sets become: `that was incline bench`, `yesterday's second set
    /// was hammer curls`, `I meant incline bench`.
    fn points_at_exercise(&self) -> bool {
        let behind = self.before.is_none_or(|before| before == 0);
        let points = self.points || self.sets || self.place.is_some();
        behind
            && (points || self.meant || !self.denied.is_empty())
            && (self.was || self.changes || self.meant)
    }

    fn made(&self, name: Option<Name>, change: Amended) -> Amend {
        Amend {
            pick: self.pick(name),
            change,
        }
    }
}

/// The exercise whose name begins these words, with its length, and whether the name is a plural.
fn name_at(words: &[String], names: &NameIndex) -> Option<(Name, bool, usize)> {
    let end = words
        .iter()
        .position(|word| words::BEFORE_NAMES.contains(&word.as_str()));
    let words = words.get(..end.unwrap_or(words.len()))?;
    super::talk::exercise_at(words, names).map(|(exercise, length)| {
        let words = words.get(..length).unwrap_or_default().join(" ");
        let plural = words.ends_with('s') && !words.ends_with("ss");
        (Name { words, exercise }, plural, length)
    })
}

#[cfg(test)]
mod tests;
