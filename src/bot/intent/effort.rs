//! An effort posted by itself, behind the sets that it is of.

use super::answers::{OF_THEM, fresh_question};
use super::carried::{EFFORT_WITHIN, agrees};
use super::next::behind_a_set;
use super::understood::Intent;
use crate::bot::state::is_work;
use crate::bot::state::view::View;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::message::intent::amend::{Amend, Amended, Name, Pick, Position};
use crate::message::intent::talk::words_of;
use crate::message::reading::{Correction, Kind, Part, Reading};

/// An effort by itself, behind sets of which none was said: `rir 1`, `could have done 2 more`, `last one @9`, `all at
/// rpe 8`. It is read as what it would be behind a set.
pub(super) fn effort_of_last(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    let last = view.last().filter(|_| !agrees(text))?;
    if let Some(exercise) = view.reader.only_named(text)
        && exercise != last.set.exercise
    {
        return effort_of(view, text, exercise);
    }
    if let Some(intent) = one_by_one(view, text) {
        return Some(intent);
    }
    let last = Some(last).filter(|last| is_work(last))?;
    let soon = view.now - last.set.at <= EFFORT_WITHIN;
    let asks = text.contains('?')
        || ASKING
            .iter()
            .any(|word| text.to_lowercase().starts_with(word));
    let short = text.split_whitespace().count() <= MOST_EFFORT_WORDS && !asks;
    if !(soon && short && last.set.reps > 0) || fresh_question(view).is_some() {
        return None;
    }
    let is_effort = |reading: &Reading| {
        let part = reading
            .correction
            .as_ref()
            .map(|correction| match correction {
                Correction::Change { part, .. } => *part,
                Correction::Undo | Correction::Set(..) => None,
            });
        part == Some(Some(Part::Rir))
    };
    // `failed the 10th` behind a set of nine is no other set of nine.
    let is_of_it = |reading: &Reading| {
        let [set] = reading.sets.as_slice() else {
            return false;
        };
        let failed = set.rir.is_some_and(|rir| rir.reps() == 0.0);
        let same = (set.exercise, set.reps) == (last.set.exercise, last.set.reps);
        failed
            && same
            && FAILED
                .iter()
                .any(|word| text.to_lowercase().starts_with(word))
    };
    let is_chatter = reading.kind() == Kind::Chatter && reading.ended_by.is_none();
    if !(is_chatter || is_effort(reading) || is_of_it(reading)) {
        return None;
    }
    let first = text.split_whitespace().next().unwrap_or_default();
    let first = first.to_lowercase();
    // `they were all 2 left`
    let all = OF_ALL.iter().find_map(|all| {
        let (before, _) = text.split_once(all)?;
        let of_them = |word: &String| OF_THEM.contains(&word.as_str());
        let named = || only_is(view, &of_name(&words_of(before))) == Some(last.set.exercise);
        (words_of(before).iter().all(of_them) || named()).then(|| text.get(before.len()..))?
    });
    let several = all.is_some();
    let text = all.unwrap_or(text);
    let open = last.set.rir.is_none() && last.set.gave_out.is_none();
    if !(open || several || OF_ONE.contains(&first.as_str())) {
        return None;
    }
    let rir = behind_a_set(view, last.set.reps, text)?.rir?;
    let pick = Pick {
        place: (!several).then_some(Position::Last),
        several,
        ..Pick::default()
    };
    Some(rated(pick, rir))
}

/// The sets that `pick` names, with this effort.
fn rated(pick: Pick, rir: Rir) -> Intent {
    let change = Amended::Number {
        part: Some(Part::Rir),
        unit: None,
        now: rir.reps(),
        was: None,
    };
    Intent::Amended(Box::new(Amend { pick, change }))
}

/// An effort said of sets of another exercise than the last: `the squats were all 1 left`, `last squat was 1 rir`.
fn effort_of(view: &View, text: &str, exercise: ExerciseId) -> Option<Intent> {
    let done = view
        .session()
        .iter()
        .any(|filed| filed.set.exercise == exercise && is_work(filed));
    let low = text.to_lowercase();
    let (before, behind) = SAID_OF.iter().find_map(|verb| low.split_once(verb))?;
    let words = words_of(before);
    let name = of_name(&words);
    if !done || only_is(view, &name) != Some(exercise) {
        return None;
    }
    let rir = behind_a_set(view, ANY_REPS, behind.trim().trim_start_matches("all "))?.rir?;
    let last = words.iter().any(|word| word == "last");
    let pick = Pick {
        name: Some(Name {
            words: name,
            exercise,
        }),
        place: last.then_some(Position::Last),
        several: !last,
        ..Pick::default()
    };
    Some(rated(pick, rir))
}

/// The words that are left for a name.
fn of_name(words: &[String]) -> String {
    let is_other = |word: &&String| {
        let word = word.as_str();
        ["last", "all"].contains(&word) || OF_THEM.contains(&word)
    };
    let name: Vec<&str> = (words.iter().filter(|word| !is_other(word)))
        .map(String::as_str)
        .collect();
    name.join(" ")
}

/// The efforts of the sets of the last exercise, one by one: `first one 3 left, then 2, then 1`, `the bench sets were
/// about 2 in reserve, last one 1`.
fn one_by_one(view: &View, text: &str) -> Option<Intent> {
    let exercise = view.last()?.set.exercise;
    let low = text.to_lowercase();
    let parts: Vec<Vec<String>> = (low.split(',').flat_map(|part| part.split(" then ")))
        .map(words_of)
        .filter(|words| !words.is_empty())
        .collect();
    let (head, end) = (parts.first()?.first()?, parts.last()?.first()?);
    let (each, all) = (["first", "1st"].contains(&head.as_str()), end == "last");
    if text.contains('?') || parts.len() < 2 || !(each || all && parts.len() == 2) {
        return None;
    }
    let named = view.reader.only_named(text).is_none_or(|id| id == exercise);
    let is_beside = |word: &str| {
        let name = || only_is(view, word) == Some(exercise);
        let places = [
            "first", "1st", "second", "2nd", "third", "3rd", "last", "one", "then", "about", "had",
            "i", "and",
        ];
        OF_THEM.contains(&word) && word != "two" && word != "three"
            || places.contains(&word)
            || name()
    };
    let left = |words: &Vec<String>| {
        let words: Vec<&str> = (words.iter().map(String::as_str))
            .filter(|word| !is_beside(word))
            .collect();
        let number = |word: &&str| word.parse().ok().and_then(|left| Rir::new(left).ok());
        match words.as_slice() {
            [one] => number(one),
            _ => behind_a_set(view, ANY_REPS, &words.join(" "))?.rir,
        }
    };
    let mut left: Vec<Rir> = parts.iter().map(left).collect::<Option<_>>()?;
    let done =
        (view.session().iter()).filter(|filed| filed.set.exercise == exercise && is_work(filed));
    if !each && let (Some(first), Some(last)) = (left.first().copied(), left.pop()) {
        left = vec![first; done.count().saturating_sub(1)];
        left.push(last);
    }
    let pick = Pick {
        several: true,
        ..Pick::default()
    };
    let change = Amended::Left(left);
    named.then(|| Intent::Amended(Box::new(Amend { pick, change })))
}

fn only_is(view: &View, name: &str) -> Option<ExerciseId> {
    let names = view.reader.names();
    let singular = name.strip_suffix('s').unwrap_or(name);
    names.named(name).or_else(|| names.named(singular))
}

/// Repetitions of a set that an effort is read behind where they do not matter.
const ANY_REPS: u32 = 5;

/// What stands between an exercise and an effort.
const SAID_OF: &[&str] = &[" were ", " was ", " at ", " all "];

/// What an effort of all sets of a lift begins with.
const OF_ALL: &[&str] = &["all", "every", "each", "both"];

/// What a question begins with: `what does 1 left mean`.
const ASKING: &[&str] = &["what", "how ", "why", "is ", "does ", "should "];

/// What a failed repetition begins with.
const FAILED: &[&str] = &["failed", "missed", "couldn"];

/// What one of a set begins with of which an effort was said before.
const OF_ONE: &[&str] = &["last", "that", "this", "actually"];

/// An effort is said in no more words.
const MOST_EFFORT_WORDS: usize = 8;
