//! Answers to open questions: typed, pressed, and what a question's text reads as with those given so far.

use super::carried::{Carried, asks_of};
use super::next;
use super::understood::Intent;
use crate::bot::button::ButtonId;
use crate::bot::state::Pending;
use crate::bot::state::view::{SESSION_GAP, View};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::complete;
use crate::message::intent::no_injury;
use crate::message::intent::own_name;
use crate::message::intent::talk::words_of;
use crate::message::reading::{Draft, DraftLoad, Kind, Need, Part, Reading, SetReading, Unclear};
use crate::message::words::unit::unit_of;
use crate::message::{Answer, Context};

/// What a typed answer is kept with, among answers that are buttons' ids.
pub(super) const TYPED: &str = "said:";

/// A typed answer completes an open question for this long.
pub(super) const ANSWER_WITHIN: chrono::Duration = chrono::Duration::minutes(30);

/// Whether the open question asks for a part of a set, which numbers in small words answer.
pub(super) fn lacks_part(view: &View) -> bool {
    let reading = fresh_question(view).and_then(|place| {
        let pending = view.member.state.pending.get(place)?;
        (!pending.confirm).then(|| reopened(view, pending))
    });
    match reading {
        None => false,
        Some(Some(Reading {
            unclear: Some(unclear),
            ..
        })) => unclear.needs != [Need::WhichReading],
        Some(_) => true,
    }
}

/// The place of the latest open question, if it is fresh and neither a set nor an exercise was posted
/// since.
pub(super) fn fresh_question(view: &View) -> Option<usize> {
    let place = view.member.state.pending.len().checked_sub(1)?;
    let pending = &view.member.state.pending[place];
    let later_set = view.last().is_some_and(|filed| filed.set.at > pending.at);
    let named = &view.member.state.named;
    let later_name = named.as_ref().is_some_and(|named| named.at > pending.at);
    let late = view.now - pending.at > ANSWER_WITHIN;
    (!later_set && !later_name && !late).then_some(place)
}

/// The latest open question about what a set lacks.
pub(super) fn open_question(view: &View) -> Option<(usize, Unclear)> {
    let place = fresh_question(view)?;
    let pending = &view.member.state.pending[place];
    if pending.confirm {
        return None;
    }
    Some((place, reopened(view, pending)?.unclear?))
}

/// An answer that begins with yes or no: as a press of the button that says so.
pub(super) fn yes_or_no(view: &View, text: &str) -> Option<Intent> {
    let (yes, rest) = no_injury::leading(text)?;
    let place = fresh_question(view)?;
    let pending = &view.member.state.pending[place];
    let reading = reopened(view, pending)?;
    match (&reading.unclear, yes, rest.is_empty()) {
        (None, true, true) => Some(Intent::Meant(place)),
        (_, false, true) => Some(Intent::Dismissed(place)),
        (None, false, false) => other_load(view, place, &reading, rest),
        // One reading alone was offered.
        (Some(unclear), true, true) if unclear.readings.len() + unclear.partial.len() == 1 => {
            Some(question_press(view, place, &ButtonId::Pick(0).to_string()))
        }
        (Some(unclear), false, false) => {
            let follow_on = view.follow_on(view.recent, view.now);
            let context = follow_on.context(view.unit());
            let pending = Context {
                pending: Some(unclear),
                ..context
            };
            let answered = view.reader.read(rest, &pending);
            let is_answer = answered != view.reader.read(rest, &context);
            is_answer.then(|| Intent::Answered(place, format!("{TYPED}{rest}"), answered))
        }
        _ => None,
    }
}

/// `no, 90` to whether a load was meant: that load instead. Smaller numbers may be repetitions.
pub(super) fn other_load(
    view: &View,
    place: usize,
    reading: &Reading,
    rest: &str,
) -> Option<Intent> {
    let [set] = reading.sets.as_slice() else {
        return None;
    };
    let lacking = Unclear {
        needs: vec![Need::Load],
        drafts: vec![Draft {
            exercise: Some(set.exercise),
            reps: Some(set.reps),
            ..Draft::default()
        }],
        ..Unclear::default()
    };
    let context = Context {
        pending: Some(&lacking),
        ..Context::alone(set.load.unit)
    };
    let answered = view.reader.read(rest, &context);
    let load = answered.sets.first().map(|set| set.load)?;
    let may_be_reps = load.mass.amount(load.unit) <= SURELY_NO_REPS;
    let button = ButtonId::Instead(0, load.mass, load.unit).to_string();
    (!may_be_reps).then(|| question_press(view, place, &button))
}

/// The exercise that sets were of, in words that say nothing else: `all of those were squats`.
pub(super) fn all_named(view: &View, text: &str) -> Option<ExerciseId> {
    let words = words_of(text);
    let rest: Vec<String> = (words.iter())
        .filter(|word| !OF_THEM.contains(&word.as_str()))
        .cloned()
        .collect();
    view.reader.names().named(&rest.join(" "))
}

/// What sets are pointed at with.
pub(super) const OF_THEM: &[&str] = &[
    "all", "both", "those", "these", "they", "them", "that", "this", "it", "its", "thats",
    "theyre", "of", "were", "was", "is", "are", "for", "the", "three", "two", "sets", "set",
    "sorry", "oh", "on",
];

/// The open question that asks whether a set is right, answered with the number it should have: `80`, `oops 80`,
/// `i meant 8 reps`.
pub(super) fn other_number(view: &View, place: usize, text: &str) -> Option<Intent> {
    let pending = view.member.state.pending.get(place)?;
    if !pending.confirm {
        return None;
    }
    let reading = with_number(&reopened(view, pending)?, text)?;
    Some(Intent::Answered(place, format!("{TYPED}{text}"), reading))
}

/// One unlikely set with the number that a text gives instead. A number by itself is the repetitions where those are
/// the unlikely ones, and a load where it is that with a digit or a unit amiss.
pub(super) fn with_number(reading: &Reading, text: &str) -> Option<Reading> {
    let [set] = reading.sets.as_slice() else {
        return None;
    };
    if reading.unclear.is_some() {
        return None;
    }
    let (value, unit, is_reps) = only_number(text)?;
    let amount = set.load.mass.amount(set.load.unit);
    let near = |factor: f64| (amount / value / factor - 1.0).abs() < 0.03;
    let slipped = [10.0, 100.0, 0.1, 2.2046, 0.4536].into_iter().any(near);
    let many = set.reps > MOST_LIKELY_REPS && value <= f64::from(MOST_LIKELY_REPS);
    let part = match () {
        () if unit.is_some() => Part::Load,
        () if is_reps || many => Part::Reps,
        () if value > SURELY_NO_REPS || slipped => Part::Load,
        () => return None,
    };
    let set = set.changed(Some(part), unit, value)?;
    Some(Reading {
        sets: vec![set],
        ..reading.clone()
    })
}

/// More repetitions than this are more likely a slip than a number by itself is a load.
pub(super) const MOST_LIKELY_REPS: u32 = 30;

/// The number that is all a text says beside words of a mistake, its unit, and whether it is repetitions.
pub(super) fn only_number(text: &str) -> Option<(f64, Option<Unit>, bool)> {
    const MISTAKEN: &[&str] = &[
        "oops", "ops", "whoops", "sorry", "no", "nope", "i", "mean", "meant", "it", "its", "was",
        "thats", "that", "should", "be", "typo", "my", "bad", "ah", "lol", "haha", "just", "only",
        "to", "of", "course", "for", "is",
    ];
    let low = text.to_lowercase().replace('\'', "");
    let mut found = None;
    let (mut unit, mut is_reps) = (None, false);
    for word in low.split(|c: char| c.is_whitespace() || matches!(c, '!' | ';' | ':')) {
        let word = word.trim_matches([',', '.', '?', '*']);
        let times = word.strip_prefix('x').or_else(|| word.strip_prefix('×'));
        let digits = times.unwrap_or(word);
        let end = digits
            .find(|c: char| !(c.is_ascii_digit() || c == '.'))
            .unwrap_or(digits.len());
        let (number, behind) = digits.split_at(end);
        match (number.parse::<f64>().ok(), behind) {
            (None, "") => is_reps |= times.is_some(),
            (Some(value), "") => {
                found.is_none().then(|| found = Some(value))?;
                is_reps |= times.is_some();
            }
            (Some(value), name) => {
                found.is_none().then(|| found = Some(value))?;
                unit = Some(unit_of(name)?);
            }
            (None, "reps" | "rep") => is_reps = true,
            (None, word) if MISTAKEN.contains(&word) => {}
            (None, word) => unit = Some(unit_of(word)?),
        }
    }
    Some((found?, unit, is_reps))
}

/// A bare number above this answers for a load, not for repetitions. Common practice, no source.
pub(super) const SURELY_NO_REPS: f64 = 20.0;

/// What an open question's text reads as, with the answers given so far.
pub fn reopened(view: &View, pending: &Pending) -> Option<Reading> {
    let (text, at) = (pending.text.as_str(), pending.at);
    let full = next::in_full(view, text, view.recent, at);
    let (follow_on, plain) = next::read(view, &full, view.recent, at);
    let read = next::with_next(view, &full, view.recent, at, (&follow_on, plain));
    let mut reading = match read {
        (read, Some(Carried::Asked(sets))) if read.kind() == Kind::Chatter => next::maybe(sets),
        (read, _) => read,
    };
    let context = follow_on.context(view.unit());
    for id in &pending.answers {
        reading = answered(view, &reading, id, &context)?;
    }
    Some(reading)
}

/// A reading with one more answer given.
pub(super) fn answered(
    view: &View,
    reading: &Reading,
    id: &str,
    context: &Context,
) -> Option<Reading> {
    if let Some(text) = id.strip_prefix(TYPED) {
        let Some(unclear) = reading.unclear.as_ref() else {
            return with_number(reading, text);
        };
        let context = Context {
            pending: Some(unclear),
            ..*context
        };
        return Some(view.reader.read(text, &context));
    }
    let button = ButtonId::parse(id)?;
    if let ButtonId::Instead(place, mass, unit) = button {
        let mut reading = reading.clone();
        let load_read = &mut reading.sets.get_mut(place)?.load;
        (load_read.mass, load_read.unit) = (mass, unit);
        return Some(reading);
    }
    let Some(unclear) = reading.unclear.as_ref() else {
        // The name was kept since, or the set before it logged, and the message reads by that.
        return (!reading.sets.is_empty()).then(|| reading.clone());
    };
    complete(unclear, &answer(view, button)?, view.catalogue())
}

pub(super) fn question_press(view: &View, place: usize, button: &str) -> Intent {
    let pending = &view.member.state.pending[place];
    match ButtonId::parse(button) {
        // Typed answers come as messages, never as a button's id.
        None => return Intent::NotTheirs,
        Some(ButtonId::Drop) => return Intent::Dismissed(place),
        Some(ButtonId::Meant) => return Intent::Meant(place),
        Some(ButtonId::Own(name)) if own_name::is_free(&name, view.reader) => {
            return Intent::KeepName(name);
        }
        Some(_) => {}
    }
    let mut answered = pending.clone();
    answered.answers.push(button.to_owned());
    let reading = reopened(view, &answered);
    reading.map_or(Intent::NotTheirs, |reading| {
        Intent::Answered(place, button.to_owned(), reading)
    })
}

/// Other open questions that lack the exercise that this answer gives, with what each reads as by it, in order. A
/// lifter posts set after set before naming them.
pub fn answered_too(view: &View, place: usize, answer: &str) -> Vec<(usize, Reading)> {
    let pending = &view.member.state.pending;
    let lacking = |place: usize| {
        let one = pending
            .get(place)
            .filter(|one| !one.confirm && view.now - one.at <= SESSION_GAP)?;
        let unclear = reopened(view, one)?.unclear?;
        (unclear.needs.first() == Some(&Need::Exercise)).then_some(unclear.unknown_name)
    };
    let Some(name) = lacking(place) else {
        return Vec::new();
    };
    let others = (0..pending.len()).filter(|other| *other != place);
    let others = others.filter_map(|other| {
        (lacking(other)? == name).then_some(())?;
        let mut one = pending.get(other)?.clone();
        one.answers.push(answer.to_owned());
        Some((other, reopened(view, &one)?))
    });
    others.collect()
}

/// The answer that a button stands for.
pub(super) fn answer(view: &View, button: ButtonId) -> Option<Answer> {
    Some(match button {
        ButtonId::Exercise(name) => Answer::Exercise(view.catalogue().named(&name)?),
        ButtonId::Own(name) => Answer::Exercise(view.reader.names().named(&name)?),
        ButtonId::Load(mass, unit) => Answer::Load(DraftLoad {
            amount: mass.amount(unit),
            unit,
            basis: None,
        }),
        ButtonId::Reps(count) => Answer::Reps(count),
        ButtonId::Left(left) => Answer::Effort(left),
        ButtonId::Pick(place) => Answer::Pick(place),
        _ => return None,
    })
}

/// Whether a question is open that is not about sets of what was done last: what follows may be of what that is about.
pub(super) fn asks_of_another(view: &View, last: Option<&SetReading>) -> bool {
    let Some(pending) = fresh_question(view).and_then(|at| view.member.state.pending.get(at))
    else {
        return false;
    };
    let Some(exercise) = last.map(|last| last.exercise) else {
        return true;
    };
    let Some(reading) = reopened(view, pending) else {
        return false;
    };
    let is_of_it = |set: &SetReading| set.exercise == exercise;
    !(reading.sets.iter().all(is_of_it)
        && reading
            .unclear
            .iter()
            .all(|unclear| asks_of(unclear, exercise)))
}
