//! Corrections of the set just posted in a few words: `oops 9`, `call it 7`, `on the smith`, `that was about an 8`.
//!
//! Each is a row of [`PHRASES`]: what it begins with, what stands in the gap, and what may end it.

use super::super::talk::{DayAsked, day_asked};
use super::words::split;
use super::{Amend, Amended, Pick, Position};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::reader::Reader;
use crate::message::reading::{Part, SetReading};
use crate::message::words::unit::unit_of;
use crate::message::words::variants::variants;

/// What stands in a phrase's gap, and what it makes of the set.
#[derive(Clone, Copy, PartialEq)]
enum Gap {
    /// A number of the set.
    Number,
    /// Its load.
    Load,
    /// Its repetitions.
    Reps,
    /// The load of the last two.
    Both,
    /// How hard it was, on the scale of the trade.
    Effort,
    /// Another exercise, or what makes another of it.
    Exercise,
    /// The unit that loads were in.
    Unit,
    /// The day that the sets of the last post were done on.
    Day,
    /// The same of all sets of the session.
    DayOfAll,
    /// Nothing: the set goes.
    Gone,
    /// Nothing: it is there twice.
    Twice,
}

/// Phrases with `_` for the gap: of those that fit, the first holds.
const PHRASES: &[(Gap, &str)] = &[
    (
        Gap::Effort,
        "that was ?about|like|maybe an|a _, ?that felt like an|a _, thats an|a _, call it an _, probably an|a _",
    ),
    (
        Gap::Number,
        "oops|whoops|nah|wait _, oops i got _, wait no _, ?i lied|miscounted _, my bad _, call it _, make that _",
    ),
    (Gap::Load, "that|this|it was with _, that|it was at _"),
    (Gap::Reps, "only _ were clean|good, only _ counted|count"),
    (Gap::Both, "both ?sets were _, both at _"),
    (
        Gap::Unit,
        "those|these|they were in _, that|it was in _, all in _",
    ),
    (
        Gap::Exercise,
        "i mean|meant _, sorry|oops|whoops _, thats _, that|this|it was _, that was on the _, was _, on the _, \
         should say|be _, make that _",
    ),
    (
        Gap::Day,
        "that|it was ?from _, was|from _, those|these|they were ?from _, oops|sorry that was _, \
         oops|sorry those were _, move that|it|those to _, put that|those under _",
    ),
    (
        Gap::DayOfAll,
        "?oops|sorry that was all _, this was all _, all that was _, all of that|this was _, all of those were _, \
         move all ?of that to _",
    ),
    (
        Gap::Gone,
        "scrap that ?last one, scrap ?the last one, bin|ignore that last one, ignore the last one",
    ),
    (
        Gap::Twice,
        "?i posted|sent|logged that twice, that went through twice, thats in there twice, double post",
    ),
];

/// Words that may end one.
const ENDS: &[&str] = &[
    "btw", "sorry", "lol", "actually", "not", "machine", "though", "reps", "rep", "instead",
];

/// Loads that differ by more than this factor are no slip of each other.
const MOST_APART: f64 = 1.35;
/// The same of repetitions, as a difference.
const MOST_REPS_APART: f64 = 5.0;

/// The correction of the set `last`, and whether it holds only where the two last are the same.
#[must_use]
pub fn short(text: &str, last: &SetReading, reader: &Reader) -> Option<(Amend, bool)> {
    if text.contains(['?', '\n', '"', '“', ':']) {
        return None;
    }
    let words = split(text);
    let mut phrases =
        (PHRASES.iter()).flat_map(|(gap, list)| variants(list).map(move |phrase| (phrase, gap)));
    let found = phrases.find_map(|(phrase, gap)| {
        let inside = within(&words, &phrase)?;
        let change = changed(*gap, &inside, last, reader)?;
        Some((*gap, change))
    });
    let (gap, change) = found?;
    let place = match gap {
        Gap::Both => Position::LastOf(2),
        _ => Position::Last,
    };
    // `those were in lbs` is said of all sets of the exercise.
    let of_all = words
        .first()
        .is_some_and(|word| word != "that" && word != "it");
    let several = gap == Gap::DayOfAll || gap == Gap::Unit && of_all;
    let pick = Pick {
        place: (!several).then_some(place),
        several,
        ..Pick::default()
    };
    Some((Amend { pick, change }, gap == Gap::Twice))
}

/// The words in the gap of a phrase that a text is.
fn within(words: &[String], phrase: &str) -> Option<Vec<String>> {
    let (lead, end) = match phrase.split_once('_') {
        Some((lead, end)) => (lead, Some(end)),
        None => (phrase, None),
    };
    let lead: Vec<&str> = lead.split_whitespace().collect();
    let end: Vec<&str> = end.unwrap_or_default().split_whitespace().collect();
    let rest = words.get(lead.len()..)?;
    let begins = words.iter().zip(&lead).all(|(own, word)| own == word);
    let inside = rest.len().checked_sub(end.len())?;
    let ends = rest
        .iter()
        .skip(inside)
        .zip(&end)
        .all(|(own, word)| own == word);
    let gap = rest.get(..inside)?;
    let fits = begins && ends && gap.is_empty() != phrase.contains('_');
    fits.then(|| gap.to_vec())
}

fn changed(gap: Gap, inside: &[String], last: &SetReading, reader: &Reader) -> Option<Amended> {
    let number = |part: Option<Part>, unit: Option<Unit>, now: f64| Amended::Number {
        part,
        unit,
        now,
        was: None,
    };
    match gap {
        Gap::Gone | Gap::Twice => Some(Amended::Delete),
        Gap::Day | Gap::DayOfAll => {
            let day = day_asked(&inside.join(" "))?;
            // A week is no day, and today it was logged.
            let known = !matches!(day, DayAsked::WeeksAgo(_) | DayAsked::Ago(0));
            known.then_some(Amended::Day(day))
        }
        Gap::Exercise => exercise(inside, last, reader).map(Amended::Exercise),
        Gap::Unit => match inside {
            [unit] => Some(Amended::Unit(unit_of(unit)?)),
            _ => None,
        },
        Gap::Effort => {
            let (value, unit) = only_number(inside)?;
            let on_scale = (5.0..=10.0).contains(&value) && (value * 2.0).fract() == 0.0;
            (on_scale && unit.is_none()).then(|| number(Some(Part::Rir), None, 10.0 - value))
        }
        Gap::Number => {
            let (value, unit) = only_number(inside)?;
            let part = part_of(value, unit, last)?;
            Some(number(Some(part), unit, value))
        }
        Gap::Load | Gap::Both => {
            let (value, unit) = only_number(inside)?;
            let near = unit.is_some() || is_near_load(value, last);
            near.then(|| number(Some(Part::Load), unit, value))
        }
        Gap::Reps => {
            let (value, unit) = only_number(inside)?;
            let fewer = unit.is_none() && value < f64::from(last.reps);
            fewer.then(|| number(Some(Part::Reps), None, value))
        }
    }
}

/// The number that is all a gap holds.
fn only_number(inside: &[String]) -> Option<(f64, Option<Unit>)> {
    let (first, rest) = inside.split_first()?;
    let digits = first.trim_start_matches('x');
    let end = digits
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(digits.len());
    let value: f64 = digits.get(..end)?.parse().ok()?;
    let behind = digits.get(end..)?;
    let mut unit = match behind {
        "" => None,
        behind => Some(unit_of(behind)?),
    };
    for word in rest {
        match unit_of(word) {
            Some(named) => unit = Some(named),
            None if ENDS.contains(&word.as_str()) => {}
            None => return None,
        }
    }
    Some((value, unit))
}

/// Which part of the set a number is another of.
fn part_of(value: f64, unit: Option<Unit>, last: &SetReading) -> Option<Part> {
    if unit.is_some() {
        return Some(Part::Load);
    }
    let reps = value.fract() == 0.0 && (value - f64::from(last.reps)).abs() <= MOST_REPS_APART;
    match (is_near_load(value, last), reps && value >= 1.0) {
        (true, false) => Some(Part::Load),
        (false, true) => Some(Part::Reps),
        _ => None,
    }
}

fn is_near_load(value: f64, last: &SetReading) -> bool {
    let load = last.load.mass.amount(last.load.unit);
    load > 0.0 && value > 0.0 && (value / load).max(load / value) <= MOST_APART
}

/// The exercise that words name, or that they make of the last one: `incline`, `smith machine`, `db`.
fn exercise(inside: &[String], last: &SetReading, reader: &Reader) -> Option<ExerciseId> {
    // `incline not flat`
    let end = inside
        .iter()
        .position(|word| word == "not" || word == "btw");
    let words = inside.get(..end.unwrap_or(inside.len()))?;
    if words.is_empty()
        || words.len() > 4
        || words
            .iter()
            .any(|word| word.contains(|c: char| c.is_ascii_digit()))
    {
        return None;
    }
    let said = words.join(" ");
    let last_name = &reader.catalogue().exercise(last.exercise).name;
    let movement = |skip: usize| {
        let words: Vec<&str> = last_name.split(' ').skip(skip).collect();
        words.join(" ")
    };
    let names = [
        said.clone(),
        format!("{said} {}", movement(0)),
        format!("{said} {}", movement(1)),
    ];
    let mut found = names.iter().filter(|name| !name.trim().is_empty());
    let found = found.find_map(|name| reader.names().named(name))?;
    (found != last.exercise).then_some(found)
}
