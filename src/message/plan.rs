//! Plan text: a week as a coach writes it, and printed so that it reads back as the same plan.
//!
//! ```text
//! mon: back squat 4x6-10 2rir; lying leg curl 3x10-15 1rir
//! thu: bench press 4x8-12 80kg with barbell row 4x8-12
//! ```
//!
//! A day's exercises stand behind its name and a colon, or on the lines below; `;` or a new line
//! parts them, `with` pairs two that are done in turn. Behind the sets may stand an effort and a
//! load. Unlike messages, plans are not guessed at: what does not fit is a [`Fault`] that names its
//! line and words, and nothing of the plan is taken. Lines that start with `#` are remarks.

mod item;
mod print;

pub use print::{day_word, load_words, name_word, print, print_day, print_item, span, time};

use chrono::Weekday;

use super::names::NameIndex;
use crate::domain::block::BlockError;
use crate::domain::catalogue::Catalogue;
use crate::domain::effort::Rir;
use crate::domain::id::{ExerciseId, MuscleId};
use crate::domain::mass::Unit;
use crate::domain::plan::{Day, DayName, Plan, PlanError, Slot};
use crate::domain::target::BandError;

/// What plan text is read by.
#[derive(Clone, Copy, Debug)]
pub struct Language<'a> {
    /// The exercises.
    pub catalogue: &'a Catalogue,
    /// Their names as people type them.
    pub names: &'a NameIndex,
    /// The unit of loads that name none (`@80`).
    pub unit: Unit,
}

/// Something in a plan, a block or targets that does not fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Its line in the text, from 1.
    pub line: usize,
    /// The words that do not fit, as written.
    pub words: String,
    /// What is wrong with them.
    pub kind: FaultKind,
}

/// What does not fit in a plan, a block or targets.
#[derive(Clone, Debug, PartialEq)]
pub enum FaultKind {
    /// An exercise before any day.
    NoDay,
    /// No day of the week; carries the nearest.
    UnknownDay(Option<Weekday>),
    /// No exercise; carries the nearest, best first.
    UnknownExercise(Vec<ExerciseId>),
    /// An exercise without sets and repetitions.
    NoSets,
    /// No word of a plan; carries the nearest.
    UnknownWord(Option<&'static str>),
    /// A number without what it counts.
    BareNumber,
    /// An effort that is none: outside 0 to 10 in reserve, or not in halves.
    Effort,
    /// A load that is none, or that this exercise cannot have.
    Load,
    /// A second effort or load of one exercise.
    Twice,
    /// More than two exercises joined.
    Crowd,
    /// Numbers that make no plan.
    Numbers(PlanError),
    /// No day at all.
    Nothing,
    /// A week of a block out of order; carries the number that was due.
    WeekNumber(usize),
    /// A share of sets that is no whole number of percent.
    Share,
    /// Numbers that make no block.
    Block(BlockError),
    /// No muscle; carries the nearest.
    UnknownMuscle(Option<MuscleId>),
    /// A muscle without its sets.
    NoBand,
    /// Numbers that make no band of weekly sets.
    Band(BandError),
}

/// A part of a text for several members.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// For whom, as typed; empty for what stands before the first `for NAME:`.
    pub members: Vec<String>,
    /// The line of the text on which it begins, from 1.
    pub line: usize,
    /// What is said for them.
    pub text: String,
}

/// Cuts a text into its `for NAME, NAME:` parts. A part without anything in it is left out.
#[must_use]
pub fn sections(text: &str) -> Vec<Section> {
    let mut sections = vec![Section {
        members: Vec::new(),
        line: 1,
        text: String::new(),
    }];
    for (number, line) in text.lines().enumerate() {
        if let Some((members, rest)) = heading(line) {
            sections.push(Section {
                members,
                line: number + 1,
                text: format!("{rest}\n"),
            });
        } else if let Some(section) = sections.last_mut() {
            section.text.push_str(line);
            section.text.push('\n');
        }
    }
    sections.retain(|section| !section.members.is_empty() || !section.text.trim().is_empty());
    sections
}

/// `for Ines, Tomas: …`
fn heading(line: &str) -> Option<(Vec<String>, &str)> {
    let line = line.trim();
    let said = line
        .get(..4)
        .filter(|word| word.eq_ignore_ascii_case("for "));
    let (names, rest) = line.get(said?.len()..)?.split_once(':')?;
    let names = names.split(',').map(|name| name.trim().to_lowercase());
    Some((names.filter(|name| !name.is_empty()).collect(), rest))
}

/// Reads a plan.
///
/// # Errors
/// Every [`Fault`] of the text, in its order.
pub fn read(text: &str, language: &Language<'_>) -> Result<Plan, Vec<Fault>> {
    let mut draft = Draft::default();
    for (number, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.starts_with('#') {
            continue;
        }
        for piece in line.split(';').filter(|piece| !piece.trim().is_empty()) {
            draft.piece(number + 1, piece, language);
        }
    }
    draft.finish()
}

/// A plan while it is read.
#[derive(Default)]
struct Draft {
    days: Vec<Drafted>,
    /// The days that exercises are of now, by their places; `None` before the first.
    open: Option<Vec<usize>>,
    faults: Vec<Fault>,
}

struct Drafted {
    name: DayName,
    line: usize,
    slots: Vec<Slot>,
}

impl Draft {
    fn fault(&mut self, line: usize, words: &str, kind: FaultKind) {
        self.faults.push(Fault {
            line,
            words: words.trim().to_owned(),
            kind,
        });
    }

    /// What stands between two semicolons, perhaps with a day before it.
    fn piece(&mut self, line: usize, piece: &str, language: &Language<'_>) {
        let rest = match piece.split_once(':') {
            // `back squat: 4x8` is no day.
            Some((head, rest)) if language.names.named(head.trim()).is_none() => {
                self.turn_to(line, head);
                rest
            }
            _ => piece,
        };
        if rest.trim().is_empty() {
            return;
        }
        if self.open.is_none() {
            self.fault(line, rest, FaultKind::NoDay);
            // Said once; what follows is still looked at.
            self.open = Some(Vec::new());
        }
        for slot in item::slots(rest, language) {
            match slot {
                Ok(slot) => self.enter(&slot),
                Err((words, kind)) => self.fault(line, &words, kind),
            }
        }
    }

    /// Turns to the days named before a colon.
    fn turn_to(&mut self, line: usize, head: &str) {
        let mut open = Vec::new();
        for word in day_words(head) {
            let Some(name) = day_name(word) else {
                self.fault(line, word, FaultKind::UnknownDay(nearest_day(word)));
                continue;
            };
            if self.days.iter().any(|day| day.name == name) {
                self.fault(line, word, FaultKind::Numbers(PlanError::Twice(name)));
            }
            open.push(self.days.len());
            self.days.push(Drafted {
                name,
                line,
                slots: Vec::new(),
            });
        }
        self.open = Some(open);
    }

    fn enter(&mut self, slot: &Slot) {
        for &place in self.open.iter().flatten() {
            if let Some(day) = self.days.get_mut(place) {
                day.slots.push(slot.clone());
            }
        }
    }

    fn finish(mut self) -> Result<Plan, Vec<Fault>> {
        let faulty = !self.faults.is_empty();
        let mut days = Vec::new();
        for drafted in std::mem::take(&mut self.days) {
            match Day::new(drafted.name, drafted.slots) {
                Ok(day) => days.push(day),
                // An exercise that was not understood leaves its day empty: one fault is enough.
                Err(PlanError::Empty(_)) if faulty => {}
                Err(error) => {
                    let day = name_word(drafted.name);
                    self.fault(drafted.line, &day, FaultKind::Numbers(error));
                }
            }
        }
        if days.is_empty() && self.faults.is_empty() {
            self.fault(1, "", FaultKind::Nothing);
        }
        if !self.faults.is_empty() {
            self.faults.sort_by_key(|fault| fault.line);
            return Err(self.faults);
        }
        Plan::new(days).map_err(|error| {
            vec![Fault {
                line: 1,
                words: String::new(),
                kind: FaultKind::Numbers(error),
            }]
        })
    }
}

/// The words of a line's head, each of which is to name a day: `mon, thu and sat`.
pub fn day_words(head: &str) -> impl Iterator<Item = &str> {
    head.split([',', '/', '&'])
        .flat_map(|part| part.split(" and "))
        .map(str::trim)
}

/// A day of the week by its name or a short form: `mon`, `Monday`, `tues`.
#[must_use]
pub fn weekday(word: &str) -> Option<Weekday> {
    let word = word.trim().to_lowercase();
    let short = match word.as_str() {
        "tues" => "tue",
        "weds" => "wed",
        "thur" | "thurs" => "thu",
        word => word,
    };
    short.parse().ok()
}

/// A day of a plan by its name: `mon`, `day 1`.
#[must_use]
pub fn day_name(words: &str) -> Option<DayName> {
    let words = words.trim().to_lowercase();
    if let Some(weekday) = weekday(&words) {
        return Some(DayName::Weekday(weekday));
    }
    let number = words
        .strip_prefix("day")
        .or_else(|| words.strip_prefix("session"))?;
    DayName::numbered(number.trim().parse().ok()?).ok()
}

/// The day of which a word is a slip: `mno` of Monday.
#[must_use]
pub fn nearest_day(word: &str) -> Option<Weekday> {
    const NAMES: [&str; 7] = [
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
    ];
    let word = word.to_lowercase();
    let short = NAMES.map(|name| name.get(..3).unwrap_or(name));
    let distance = |name: &&str| strsim::osa_distance(name, &word);
    // One slip in a short name, two in a long one.
    let near = |names: [&'static str; 7], most: usize| {
        let name = names.into_iter().min_by_key(distance)?;
        (distance(&name) <= most).then_some(name)
    };
    near(short, 1).or_else(|| near(NAMES, 2))?.parse().ok()
}

/// An effort at the start of these lower-case words, with their number: `None` within for one that
/// is none.
pub(super) fn effort_at(words: &[String]) -> Option<(Option<Rir>, usize)> {
    item::effort(words)
}

#[cfg(test)]
mod tests;
