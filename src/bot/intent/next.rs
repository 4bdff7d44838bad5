//! What a message reads as behind the sets of its session: by the reader, and, right after a set, as the next one told
//! with small words or as a round of a superset.

use std::borrow::Cow;

use chrono::{DateTime, Duration, Utc};

use super::super::state::follow_on::{FollowOn, as_read};
use super::super::state::view::{View, session_before};
use super::super::state::{LogEntry, is_work};
use super::carried::{Carried, carried, is_pair, one_more, superset};
use super::felt::with_feel;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::message::intent::next_set::{Done, NextSet, next_set};
use crate::message::intent::talk::words_of;
use crate::message::reading::{
    Draft, DraftLoad, Kind, Need, Reading, SetReading, Technique, Unclear,
};
use crate::message::{Answer, Context, complete};

/// A set told with small words follows the one before within this time. Common practice, no source.
const FOLLOWS_WITHIN: Duration = Duration::minutes(20);

/// A number by itself is the next set's within this time. Common practice, no source.
const FRESH: Duration = Duration::minutes(10);

/// What a message posted at `at` reads as, with what it goes on from, behind the sets `before`.
pub(super) fn read(
    view: &View,
    text: &str,
    before: &[LogEntry],
    at: DateTime<Utc>,
) -> (FollowOn, Reading) {
    let follow_on = goes_on_from(view, text, before, at);
    let plain = view.reader.read(text, &follow_on.context(view.unit()));
    (follow_on, plain)
}

/// `text` with the name in full of an exercise of the session that it calls by a part of it, where the load is left out:
/// `curl 11` behind leg curls.
pub(super) fn in_full<'t>(
    view: &View,
    text: &'t str,
    before: &[LogEntry],
    at: DateTime<Utc>,
) -> Cow<'t, str> {
    let mut done: Vec<ExerciseId> = Vec::new();
    for filed in session_before(before, at) {
        if !done.contains(&filed.set.exercise) {
            done.push(filed.set.exercise);
        }
    }
    let in_full = (done.len() > 1 && !is_pair(text)).then(|| view.reader.in_full(text, &done));
    in_full.flatten().map_or(Cow::Borrowed(text), Cow::Owned)
}

/// What a message goes on from: where it names one exercise that has sets in the session (`squat again 4`, `pulldown
/// x11`), the last of those.
fn goes_on_from(view: &View, text: &str, before: &[LogEntry], at: DateTime<Utc>) -> FollowOn {
    let follow_on = view.follow_on(before, at);
    let Some(last) = follow_on.last.as_ref().map(|last| last.exercise) else {
        return follow_on;
    };
    let session = session_before(before, at);
    let others = session.iter().any(|filed| filed.set.exercise != last);
    let named = others.then(|| view.reader.only_named(text)).flatten();
    let own = named.and_then(|named| session.iter().rfind(|filed| filed.set.exercise == named));
    match own {
        Some(own) => FollowOn {
            last: Some(as_read(own)),
            named: None,
            unknown: None,
            ..follow_on
        },
        None => follow_on,
    }
}

/// A reading as that of the next set, or round, where the words tell one and nothing says otherwise; and what else the
/// message does to the log.
pub(super) fn with_next(
    view: &View,
    text: &str,
    before: &[LogEntry],
    at: DateTime<Utc>,
    (follow_on, plain): (&FollowOn, Reading),
) -> (Reading, Option<Carried>) {
    // Numbers alone are told by how near they are.
    let near = |next: NextSet| next.sure || next.bare;
    let last = follow_on.last.as_ref();
    let numbers = !text.contains(char::is_alphabetic)
        && follow_on.named.is_none()
        && last.is_some_and(|last| next_set(text, last).is_some_and(near));
    let carried = match numbers {
        true => None,
        false => carried(view, text, before, at, (follow_on, &plain)),
    };
    match carried {
        Some(Carried::Sets(sets)) => {
            let read = Reading {
                sets,
                ..Reading::default()
            };
            (read, None)
        }
        other => {
            let read = in_small_words(view, text, before, at, (follow_on, plain));
            (read, other)
        }
    }
}

/// The question whether these sets were done.
pub(super) fn maybe(sets: Vec<SetReading>) -> Reading {
    Reading {
        unclear: Some(Unclear {
            needs: vec![Need::WhichReading],
            readings: vec![sets],
            ..Unclear::default()
        }),
        ..Reading::default()
    }
}

/// A reading as that of the next set, or round, where a table of small words tells one.
pub(super) fn in_small_words(
    view: &View,
    text: &str,
    before: &[LogEntry],
    at: DateTime<Utc>,
    (follow_on, plain): (&FollowOn, Reading),
) -> Reading {
    told(view, text, before, at, follow_on, &plain).unwrap_or(plain)
}

fn told(
    view: &View,
    text: &str,
    before: &[LogEntry],
    at: DateTime<Utc>,
    follow_on: &FollowOn,
    plain: &Reading,
) -> Option<Reading> {
    let session = session_before(before, at);
    let latest = session.last().filter(|latest| is_work(latest))?;
    let last = follow_on
        .last
        .as_ref()
        .filter(|_| follow_on.named.is_none() && follow_on.unknown.is_none())?;
    let says_else = plain.hurt.is_some()
        || plain.may_hurt.is_some()
        || plain.caution.is_some()
        || plain.correction.is_some()
        || plain.ended_by.is_some()
        || plain.readiness.is_some();
    if says_else || at - latest.set.at > FOLLOWS_WITHIN {
        return None;
    }
    if let Some(again) = again_of(view, text, last, plain) {
        return Some(again);
    }
    // A load by itself is announced, and no set: `to_come`.
    let next = next_set(text, last).filter(|next| next.done != Done::ToCome)?;
    // `missed the 9th` behind a set of eight says how that one ended.
    let ended = next.rir == Some(0.0) && next.done == Done::Reps(vec![last.reps]);
    if ended && !next.changes_load() {
        return None;
    }
    if let Some(sets) = dropped_again(session, &next) {
        return Some(Reading {
            sets: behind(view, sets, &next)?,
            ..Reading::default()
        });
    }
    if let Some(sets) = round(session, &next, plain) {
        return Some(Reading {
            sets: behind(view, sets, &next)?,
            ..Reading::default()
        });
    }
    let open = match plain.kind() {
        Kind::Chatter | Kind::Unclear => true,
        Kind::Question => {
            next.sure
                && plain
                    .question
                    .as_ref()
                    .is_some_and(|asked| asked.exercise.is_none())
        }
        // `10 less, 10 reps` is no set of ten kilograms, and `2 more the same` none of two repetitions; what is written in
        // full, `45x10, 3-4 left`, is the grammar's.
        Kind::Sets if !is_pair(text) => {
            let again = matches!(next.done, Done::Again(count) if count > 1);
            next.changes_load() && next.sure || again
        }
        _ => false,
    };
    let sets = behind(view, next.after(last).filter(|_| open)?, &next)?;
    let fresh = at - latest.set.at <= FRESH;
    Some(match next.sure || next.bare && fresh {
        true => Reading {
            sets,
            ..Reading::default()
        },
        false => maybe(sets),
    })
}

/// The load that a message in small words announces for the next set.
pub(super) fn to_come(view: &View, text: &str) -> Option<(ExerciseId, Load)> {
    let follow_on = view.follow_on(view.recent, view.now);
    let last = follow_on.last.as_ref()?;
    let latest = view.session().last().filter(|latest| is_work(latest))?;
    let at_hand = follow_on.named.is_none() && follow_on.unknown.is_none();
    let fresh = view.now - latest.set.at <= FRESH;
    let next = next_set(text, last).filter(|next| at_hand && fresh && next.done == Done::ToCome)?;
    let sets = next.after(last)?;
    sets.first().map(|set| (set.exercise, set.load))
}

/// `another set of squats, 4`: a set of an exercise that was done today, whose load alone is missing, and that is told
/// to be one more.
fn again_of(view: &View, text: &str, last: &SetReading, plain: &Reading) -> Option<Reading> {
    let unclear = plain.unclear.as_ref()?;
    let of_last = |draft: &Draft| draft.exercise == Some(last.exercise);
    let words = words_of(text);
    let once_more = words.iter().any(|word| {
        matches!(
            word.as_str(),
            "again" | "another" | "same" | "back" | "more"
        )
    });
    if unclear.needs != [Need::Load] || !once_more || !unclear.drafts.iter().all(of_last) {
        return None;
    }
    let load = DraftLoad {
        amount: last.load.mass.amount(last.load.unit),
        unit: last.load.unit,
        basis: Some(last.load.basis),
    };
    complete(unclear, &Answer::Load(load), view.catalogue()).filter(|read| read.unclear.is_none())
}

/// The sets with what is told behind them: `managed 9, 1 left`. `None` where that is something else.
fn behind(view: &View, mut sets: Vec<SetReading>, next: &NextSet) -> Option<Vec<SetReading>> {
    if next.tail.is_empty() {
        return Some(sets);
    }
    let last = sets.last_mut()?;
    let reps = last.reps.max(1);
    let read = with_feel(read_behind(view, reps, &next.tail), &next.tail);
    let said = one_set(&read, reps).filter(|_| read.question.is_none())?;
    last.rir = said.rir.or(last.rir);
    last.gave_out = said.gave_out;
    last.rest_s = said.rest_s;
    Some(sets)
}

/// What words behind a set of `reps` say of it.
pub(super) fn behind_a_set(view: &View, reps: u32, words: &str) -> Option<SetReading> {
    one_set(&read_behind(view, reps, words), reps)
}

/// Words as they read behind a set of `reps`; of which exercise says nothing.
fn read_behind(view: &View, reps: u32, words: &str) -> Reading {
    let whole = format!("bench press 80 kg x {reps}, {words}");
    view.reader.read(&whole, &Context::alone(Unit::Kg))
}

/// The set of so many repetitions that is all a reading holds.
fn one_set(read: &Reading, reps: u32) -> Option<SetReading> {
    match read.sets.as_slice() {
        [set] if read.unclear.is_none() && set.reps == reps => Some(set.clone()),
        _ => None,
    }
}

/// The whole drop set that was done last, again, or with other repetitions for each of its parts.
fn dropped_again(session: &[LogEntry], next: &NextSet) -> Option<Vec<SetReading>> {
    let last = session.last()?;
    let is_of_it = |filed: &&LogEntry| {
        (filed.message.as_str(), filed.set.exercise) == (last.message.as_str(), last.set.exercise)
            && filed.technique == Some(Technique::DropSet)
    };
    let parts: Vec<&LogEntry> = session.iter().rev().take_while(is_of_it).collect();
    let set = |filed: &&LogEntry| SetReading {
        rir: None,
        gave_out: None,
        rest_s: None,
        day: None,
        ..as_read(filed)
    };
    let sets = parts.iter().rev().map(set);
    if parts.len() < 2 || next.changes_load() {
        return None;
    }
    match &next.done {
        Done::Again(1) => Some(sets.collect()),
        Done::Reps(reps) if reps.len() == parts.len() => Some(
            sets.zip(reps)
                .map(|(set, reps)| SetReading { reps: *reps, ..set })
                .collect(),
        ),
        _ => None,
    }
}

/// One more round of the superset that was done last: a number for each of its exercises in order, or the same again.
fn round(session: &[LogEntry], next: &NextSet, plain: &Reading) -> Option<Vec<SetReading>> {
    if next.changes_load()
        || !matches!(
            plain.kind(),
            Kind::Chatter | Kind::Unclear | Kind::Sets | Kind::Question
        )
    {
        return None;
    }
    let members = superset(session, next.round);
    if members.len() < 2 {
        return None;
    }
    let sets = members.into_iter().map(|filed| one_more(as_read(filed)));
    match &next.done {
        Done::Again(1) => Some(sets.collect()),
        Done::Reps(reps) if reps.len() == sets.len() => {
            let with = |(set, reps): (SetReading, &u32)| SetReading { reps: *reps, ..set };
            Some(sets.zip(reps).map(with).collect())
        }
        _ => None,
    }
}
