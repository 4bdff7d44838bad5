//! Efforts told behind their sets in a word or three, or one by one; how else they are told afterwards is learned.

use super::answers::{OF_THEM, fresh_question};
use super::carried::{EFFORT_WITHIN, agrees};
use super::next::behind_a_set;
use super::understood::Intent;
use crate::bot::state::is_work;
use crate::bot::state::view::View;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::message::intent::amend::{Amend, Amended, Pick, Position};
use crate::message::intent::talk::words_of;
use crate::message::reading::{Correction, Kind, Part, Reading};

/// An effort by itself, behind a set of which none was said: `rir 1`, `@9`, `2 left`. It is read as what it would be
/// behind the set.
pub(super) fn effort_of_last(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    let last = view.last().filter(|last| is_work(last))?;
    if !agrees(text)
        && let Some(intent) = one_by_one(view, text)
    {
        return Some(intent);
    }
    let set = &last.set;
    let soon = view.now - set.at <= EFFORT_WITHIN;
    let open = set.reps > 0 && set.rir.is_none() && set.gave_out.is_none();
    let low = text.to_lowercase();
    // `failed the 10th` behind a set of nine is no other set of nine.
    let failed = FAILED.iter().any(|word| low.starts_with(word))
        && matches!(reading.sets.as_slice(), [one] if (one.exercise, one.reps) == (set.exercise, set.reps));
    let rated = matches!(
        reading.correction,
        Some(Correction::Change {
            part: Some(Part::Rir),
            ..
        })
    );
    let chatter = reading.kind() == Kind::Chatter && reading.ended_by.is_none();
    let most = match failed {
        true => MOST_FAILED,
        false => MOST_WORDS + usize::from(low.starts_with("last ")),
    };
    let short = text.split_whitespace().count() <= most && !text.contains('?') && !agrees(text);
    if !(soon && open && short && (chatter || rated || failed)) || fresh_question(view).is_some() {
        return None;
    }
    let rir = behind_a_set(view, set.reps, text)?.rir?;
    let pick = Pick {
        place: Some(Position::Last),
        ..Pick::default()
    };
    let change = Amended::Number {
        part: Some(Part::Rir),
        unit: None,
        now: rir.reps(),
        was: None,
    };
    Some(Intent::Amended(Box::new(Amend { pick, change })))
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

/// What a failed repetition begins with.
const FAILED: &[&str] = &["failed", "missed", "couldn"];

/// An effort is said in no more words, and a failed repetition.
const MOST_WORDS: usize = 3;
const MOST_FAILED: usize = 6;
