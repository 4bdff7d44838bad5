//! Plan text: a week as a coach writes it, and printed so that it reads back as the same plan.
//!
//! ```text
//! mon: back squat 4x6-10 2rir; lying leg curl 3x10-15 1rir
//! thu: bench press or dip 4x8-12 80kg rest 2-3min "chest up" with barbell row 4x8-12
//! day 3 "legs": plank 3x30-45s each side; pull-up 3xmax; front squat 3-4x5/5/3 75%
//! ```
//!
//! Words in quotation marks on the first line are the plan's name, behind a day its title. `week 2` on a
//! line of its own heads what holds from the second week on; weeks may also stand within a line
//! (`weeks`).
//!
//! A day's exercises stand behind its name and a colon, or on the lines below; `;` or a new line
//! parts them, `with` joins those that are done in turn. So plans are printed (`print`), and read back
//! as they were (`printed`). Everything else is read by the free grammar (`free`), as coaches write
//! it: labels, circuits, tables, weeks, words to the lifter. It does not guess: what does not fit is a
//! [`Fault`] that names its line and words. Other lines stand, and what of the line is whole without
//! it. Lines that start with `#` are
//! remarks.

mod draft;
pub mod edit;
mod effort;
mod free;
mod print;
mod printed;
mod weeks;
mod wire;

pub use draft::Understood;
pub(crate) use effort::effort_at;
pub use print::{day_word, load_words, name_word, print, print_day, print_item, span, time};
pub use wire::wire;

use chrono::Weekday;

use crate::domain::coaching::block::BlockError;
use crate::domain::coaching::plan::{Amount, DayName, Plan, PlanError, RepRange};
use crate::domain::coaching::target::BandError;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Exercise};
use crate::domain::quantities::equations::Equation;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::mass::Unit;
use crate::message::words::names::NameIndex;
use draft::Draft;

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
    /// A second effort, load or rest of one exercise, or as many repetitions as there are no sets.
    Twice,
    /// A number behind `@` that may be a load or percent.
    LoadOrShare,
    /// A number with `s` that may be a pair of dumbbells or a rest in seconds.
    LoadOrRest,
    /// Two exercises with nothing between them.
    TwoExercises,
    /// Sets and repetitions without an exercise.
    NoExercise,
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

/// Up to here a number behind `@` is an effort.
const LEAST_OPEN: f64 = 10.0;
/// The least share in percent that coaches ask for. Common practice, no source.
const LEAST_SHARE: f64 = 40.0;
/// How much heavier than Epley's equation has it a share may be: lifters differ. Common practice, no source.
const SHARE_OVER: f64 = 1.1;

/// Whether a number behind `@` may be percent of the one-rep max, for sets of so many repetitions:
/// nobody is asked for 24 %, nor for five at 100 %. `None` is one repetition.
fn may_be_share(number: f64, reps: Option<u32>) -> bool {
    let reps = f64::from(reps.unwrap_or(1));
    let most = Equation::Epley.share(reps).unwrap_or_default();
    let single = Equation::Epley.share(1.0).unwrap_or_default();
    (LEAST_SHARE..=100.0 * SHARE_OVER * most / single).contains(&number)
}

/// More repetitions than a coach plans with a load on a bar or a machine. Common practice, no source.
const MOST_REPS_LOADED: u32 = 35;

/// Whether repetitions are more than a coach plans of a loaded lift, so that they may be a load.
fn is_beyond(amount: &Amount, exercise: &Exercise) -> bool {
    let most = amount.reps().map_or(0, RepRange::high);
    exercise.basis == Basis::Total && most > MOST_REPS_LOADED
}

/// From here on the number behind a hold is seconds. Common practice, no source.
const LEAST_HELD: f64 = 10.0;

/// Whether a number behind this movement is seconds: it is held and not repeated.
fn is_held(name: &str, number: f64) -> bool {
    const HELD: [&str; 5] = ["plank", "hold", "hang", "wall sit", "l-sit"];
    number >= LEAST_HELD && HELD.iter().any(|held| name.ends_with(held))
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
    // `for all:` is for whoever the plan is for.
    let all = ["all", "everyone", "everybody", "both", "the team", "team"];
    let names = names.split(',').map(|name| name.trim().to_lowercase());
    let names = names.filter(|name| !name.is_empty() && !all.contains(&name.as_str()));
    Some((names.collect(), rest))
}

/// Reads a plan, all of it.
///
/// # Errors
/// Every [`Fault`] of the text, in its order.
pub fn read(text: &str, language: &Language<'_>) -> Result<Plan, Vec<Fault>> {
    let understood = understand(text, language);
    match understood.faults.is_empty() {
        true => understood.plan(),
        false => Err(understood.faults),
    }
}

/// Reads as much of a plan as can be understood.
pub fn understand(text: &str, language: &Language<'_>) -> Understood {
    let weeks = weeks::of(text);
    let in_week = |week: u32| {
        let mut draft = Draft::of_week(week);
        let lines = text.lines().enumerate();
        let lines = lines.filter(|(place, _)| weeks.holds(*place, week));
        let lines: Vec<(usize, &str)> = lines.map(|(place, line)| (place + 1, line)).collect();
        let mut left = lines.as_slice();
        while !left.is_empty() {
            let taken = draft.lines(left, language);
            left = left.get(taken..).unwrap_or_default();
        }
        draft.finish()
    };
    let mut understood = in_week(1);
    for &week in weeks.starts() {
        let later = in_week(week);
        for fault in later.faults {
            if !understood.faults.contains(&fault) {
                understood.faults.push(fault);
            }
        }
        understood.later.push((week, later.days));
    }
    understood.faults.sort_by_key(|fault| fault.line);
    understood
}

/// The words of a line's head, each of which is to name a day: `mon, thu and sat`.
pub fn day_words(head: &str) -> impl Iterator<Item = &str> {
    head.split([',', '/', '&'])
        .flat_map(|part| part.split(" and "))
        .map(str::trim)
}

/// A day of the week by its name or a short form: `mon`, `Monday`, `tues`.
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
pub fn day_name(words: &str) -> Option<DayName> {
    let words = words.trim().to_lowercase();
    let letters = match words.as_str() {
        "m" => "mon",
        "tu" => "tue",
        "w" => "wed",
        "th" => "thu",
        "f" => "fri",
        "sa" => "sat",
        "su" => "sun",
        words => words,
    };
    if let Some(weekday) = weekday(letters) {
        return Some(DayName::Weekday(weekday));
    }
    let number = words
        .strip_prefix("day")
        .or_else(|| words.strip_prefix("session"))?;
    DayName::numbered(number.trim().parse().ok()?).ok()
}

/// The day of which a word is a slip: `mno` of Monday.
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

#[cfg(test)]
mod tests;
