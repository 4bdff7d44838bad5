//! A change of a plan in a sentence: `swap the row for pulldowns`, `change squat to 4x5`, `drop the curls`.

use chrono::Weekday;

use super::{Language, understand, weekday};
use crate::domain::coaching::plan::{Item, PlannedLoad};
use crate::domain::quantities::id::ExerciseId;
use crate::message::reader::Reader;
use crate::message::words::variants::List;

/// A change of what a plan has of an exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// The exercise that is changed.
    pub exercise: ExerciseId,
    /// On this day alone.
    pub day: Option<Weekday>,
    /// What becomes of it.
    pub change: Change,
}

/// What becomes of an exercise.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// It goes.
    Remove,
    /// This one is done in its place.
    Swap(ExerciseId),
    /// These details take the place of its own: `4x5 105kg`.
    Details(String),
}

static REMOVE: List = List::of("remove|drop|delete|cut|scrap|ditch");
static SWAP: List = List::of("swap|switch|replace|exchange|change|sub|substitute");
static CHANGE: List = List::of(
    "change|make|set|put|give|should|raise|increase|lower|reduce|bump|adjust|update|instead",
);
/// What tells of what was, or of one day alone.
static PAST: List =
    List::of("did|done|was|were|hit|got|yesterday|today|tonight|missed|skipped|said");
/// What is to be added in a sentence, as a line of a plan: `add curls 3x12 on wed` is `wed: curls 3x12`. Without a day it is
/// asked for.
pub fn addition(text: &str, language: &Language<'_>, reader: &Reader) -> Option<String> {
    let text = text.to_lowercase();
    let words: Vec<&str> = text
        .split_whitespace()
        .map(|word| word.trim_matches(|c: char| ",.!?;:".contains(c)))
        .collect();
    if words.first() != Some(&"add") {
        return None;
    }
    let exercise = reader.only_named(&text)?;
    let from = words
        .iter()
        .position(|word| word.starts_with(|c: char| c.is_ascii_digit()))?;
    let details: Vec<&str> = words[from..]
        .iter()
        .copied()
        .take_while(|word| {
            !["on", "to", "for", "of", "in"].contains(word) && weekday(word).is_none()
        })
        .collect();
    let name = &language.catalogue.exercise(exercise).name;
    let line = format!("{name} {}", details.join(" "));
    let day = words
        .iter()
        .find_map(|word| weekday(word.trim_end_matches('s')).or_else(|| weekday(word)));
    Some(match day {
        Some(day) => format!("{}: {line}", day.to_string().to_lowercase()),
        None => line,
    })
}

/// What stands between an exercise and what is done in its place.
const FOR: &[&str] = &["for", "with", "to", "by"];

/// Whether a word begins a change behind a member's name.
pub fn begins(word: &str) -> bool {
    let word = word.trim_end_matches(':');
    REMOVE.has(word) || SWAP.has(word) || ["make", "set"].contains(&word)
}

/// Reads a change; `None` where a text tells of none, or of several exercises at once.
pub fn edit(text: &str, reader: &Reader) -> Option<Edit> {
    let text = text.to_lowercase().replace('’', "'");
    let words: Vec<&str> = text
        .split_whitespace()
        .map(|word| word.trim_matches(|c: char| ",.!?;:".contains(c)))
        .collect();
    let has = |list: &List| words.iter().any(|word| list.has(word));
    if has(&PAST) {
        return None;
    }
    let day = words
        .iter()
        .find_map(|word| weekday(word.trim_end_matches('s')).or_else(|| weekday(word)));
    let done = |exercise, change| {
        Some(Edit {
            exercise,
            day,
            change,
        })
    };
    // `B instead of A`
    for of in [" instead of ", " in place of ", " rather than "] {
        if let Some((new, old)) = text.split_once(of)
            && let (Some(new), Some(old)) = (reader.only_named(new), reader.only_named(old))
            && new != old
        {
            return done(old, Change::Swap(new));
        }
    }
    let digit = words
        .iter()
        .position(|word| word.contains(|c: char| c.is_ascii_digit()));
    if has(&SWAP) && digit.is_none() {
        let swap = (1..words.len())
            .filter(|at| FOR.contains(&words[*at]))
            .find_map(|at| {
                let named = |part: &[&str]| reader.only_named(&part.join(" "));
                let pair = (named(&words[..at])?, named(&words[at + 1..])?);
                (pair.0 != pair.1).then_some(pair)
            });
        if let Some((old, new)) = swap {
            return done(old, Change::Swap(new));
        }
    }
    let exercise = reader.only_named(&text)?;
    let taken_out = words.contains(&"take") && (words.contains(&"out") || words.contains(&"off"));
    let Some(digit) = digit else {
        let leads = has(&REMOVE)
            || words
                .first()
                .is_some_and(|word| ["no", "without"].contains(word));
        return (leads || taken_out)
            .then(|| done(exercise, Change::Remove))
            .flatten();
    };
    if !has(&CHANGE) && !text.contains("from now on") {
        return None;
    }
    let mut details: Vec<&str> = words[digit..].to_vec();
    // Behind the numbers: what they are in place of, which exercise they are of, from when on.
    let end = details.iter().position(|word| {
        [
            "instead", "next", "from", "on", "for", "of", "in", "rather", "not",
        ]
        .contains(word)
    });
    details.truncate(end.unwrap_or(details.len()));
    done(exercise, Change::Details(details.join(" ")))
}

impl Edit {
    /// What becomes of an item of the exercise; `None` where it goes.
    ///
    /// # Errors
    /// The details, where they are none of a plan.
    pub fn of(&self, item: &Item, language: &Language<'_>) -> Result<Option<Item>, String> {
        match &self.change {
            Change::Remove => Ok(None),
            Change::Swap(exercise) => {
                let mut item = item.clone();
                item.exercise = *exercise;
                item.or.retain(|or| or != exercise);
                // A load is of the exercise that it was for.
                item.load = item
                    .load
                    .filter(|load| matches!(load, PlannedLoad::Share { .. }));
                Ok(Some(item))
            }
            Change::Details(details) => detailed(item, details, language)
                .map(Some)
                .ok_or_else(|| details.clone()),
        }
    }
}

/// An item with these details in the place of its own.
fn detailed(item: &Item, details: &str, language: &Language<'_>) -> Option<Item> {
    let name = &language.catalogue.exercise(item.exercise).name;
    let printed = super::print_item(
        &Item::new(item.exercise, item.sets, item.amount.clone()),
        language.catalogue,
    );
    let (sets, amount) = printed
        .strip_prefix(name.as_str())?
        .trim()
        .split_once('x')?;
    let words: Vec<&str> = details.split_whitespace().collect();
    let number = |word: &str| {
        word.chars()
            .all(|c| c.is_ascii_digit() || ".-–".contains(c))
    };
    let unit = language.unit.symbol();
    let details = match words.as_slice() {
        [count, "sets" | "set"] if number(count) => format!("{count}x{amount}"),
        [count, "reps" | "rep"] if number(count) => format!("{sets}x{count}"),
        [load] if number(load) => format!("{sets}x{amount} {load}{unit}"),
        _ => details.to_owned(),
    };
    let read = |text: String| -> Option<Item> {
        let understood = understand(&format!("mon: {text}"), language);
        let plan = understood
            .faults
            .is_empty()
            .then(|| understood.plan().ok())??;
        let mut items = plan.items();
        let only = items.next()?.clone();
        items.next().is_none().then_some(only)
    };
    let new = read(format!("{name} {details}"))
        .or_else(|| read(format!("{name} {sets}x{amount} {details}")))?;
    Some(Item {
        rir: new.rir.or(item.rir),
        load: new.load.or(item.load),
        rest: new.rest.or(item.rest),
        per_side: new.per_side || item.per_side,
        note: new.note.or_else(|| item.note.clone()),
        or: item.or.clone(),
        ..new
    })
}

/// A plan without its days' colons and lines: `mon squat 3x5, thu bench 3x8`; from its first day on, each day on a
/// line of its own. With it what stands before the first day. `None` where no day heads an exercise with numbers.
pub fn days_in(text: &str) -> Option<(&str, String)> {
    let spans: Vec<(usize, &str)> = text
        .split_inclusive(char::is_whitespace)
        .scan(0, |at, word| {
            let from = *at;
            *at += word.len();
            Some((from, word.trim()))
        })
        .collect();
    let is_day = |word: &str| {
        let word = word
            .trim_start_matches(['*', '-', '('])
            .trim_end_matches([':', ',', '.', '-', ')']);
        word.len() > 2 && weekday(word).is_some()
    };
    let days: Vec<(usize, &str)> = spans
        .iter()
        .copied()
        .filter(|(_, word)| is_day(word))
        .collect();
    let (first, _) = *days.first()?;
    let body = text.get(first..)?;
    if !body.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let mut out = String::new();
    let mut from = first;
    for (at, word) in &days {
        let before = text.get(from..*at)?.trim_end().trim_end_matches([',', ';']);
        out.push_str(before);
        if *at > first {
            out.push('\n');
        }
        out.push_str(word.trim_end_matches([':', ',']));
        let headed = text.get(at + word.len()..)?.trim_start();
        let titled = headed.starts_with('-')
            || headed.starts_with(':')
            || word.ends_with(':') && headed.is_empty();
        out.push_str(if titled && !word.ends_with(':') {
            " "
        } else {
            ": "
        });
        from = at + word.len();
    }
    out.push_str(text.get(from..)?.trim_end());
    Some((text.get(..first)?.trim(), out))
}
