//! What a message that leaves out what was plain does to the log: by the learned reading of it ([`CarryOn`]), held
//! against the sets of the session.
//!
//! [`CarryOn`]: crate::message::intent::carry_on::CarryOn

use chrono::{DateTime, Duration, Utc};

use crate::bot::state::LogEntry;
use crate::bot::state::follow_on::{FollowOn, as_read};
use crate::bot::state::view::{View, session_before};
use crate::domain::log::SetKind;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, SetId};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::usual_bar;
use crate::message::intent::amend::Amended;
use crate::message::intent::carry_on::{self, Before, Changed, Done, Sets, Step, Told, Which};
use crate::message::reading::{Kind, Need, Part, Reading, SetReading, Technique, Unclear};

/// What was plain from the sets before is so for this long. Common practice, no source.
const WITHIN: Duration = Duration::minutes(30);

/// Readings as sure as this are carried out. By what each mistake costs: a wrong set is seen on the card, a set that is
/// not logged is typed again. Chosen on held-out authors.
const SURE: f32 = 0.75;

/// The same of a load that is announced: it is told back at once, and where it is missed the next set is wrong.
const SURE_LOAD: f32 = 0.6;

/// The same where the grammar reads sets, too, and of corrections.
const SURER: f32 = 0.9;

/// An effort posted by itself is that of a set so long before it at most. Common practice, no source.
pub(super) const EFFORT_WITHIN: Duration = Duration::minutes(15);

/// Sets of one round follow each other within this time. Common practice, no source.
const ROUND_WITHIN: Duration = Duration::minutes(10);

/// What a message does to the log.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Carried {
    /// Sets were done.
    Sets(Vec<SetReading>),
    /// The next set of this exercise will be done with this load.
    Load(ExerciseId, Load),
    /// Sets that were logged are changed.
    Changed(Vec<SetId>, Amended),
}

/// What a message posted at `at` most likely does, where that is sure enough and `plain` says nothing else.
pub(super) fn carried(
    view: &View,
    text: &str,
    before: &[LogEntry],
    at: DateTime<Utc>,
    (follow_on, plain): (&FollowOn, &Reading),
) -> Option<Carried> {
    let latest = follow_on.last.as_ref()?;
    let session = session_before(before, at);
    // What another exercise is named for is of that one.
    let only_named = view.reader.only_named(text);
    let named = only_named.filter(|named| *named != latest.exercise);
    let exercise = named.unwrap_or(latest.exercise);
    let of_it = |filed: &&LogEntry| filed.set.exercise == exercise;
    let own: Vec<&LogEntry> = session.iter().filter(of_it).collect();
    let last = &match named {
        None => latest.clone(),
        Some(named) => match own.last() {
            Some(filed) => as_read(filed),
            None => view.none_done(named),
        },
    };
    let then = session
        .last()
        .map(|filed| filed.set.at)
        .max(follow_on.announced_at);
    // What the grammar reads as sets that go on from the last may be a round, or of another load. What it asks about
    // beside a name, or of which it lacks the exercise or the load, is its own business.
    let goes_on = |set: &SetReading| (set.exercise, set.load) == (last.exercise, last.load);
    let nameless = only_named.is_none();
    let least = match (plain.kind(), &plain.unclear) {
        (Kind::Chatter, _) => SURE,
        (Kind::Unclear, Some(unclear)) if nameless && asks_of(unclear, exercise) => {
            // `120x6 2` is written in full.
            (!is_pair(text)).then_some(SURE)?
        }
        (Kind::Sets, _) if nameless && plain.sets.iter().all(goes_on) => SURER,
        _ => return None,
    };
    let open = plain.ended_by.is_none()
        && plain.correction.is_none()
        && plain.question.is_none()
        && plain.readiness.is_none();
    let agrees = text.trim() == "+1";
    let says_else = plain.caution.is_some()
        || plain.may_hurt.is_some()
        || text.contains(['?', '"', '“', '%'])
        || agrees;
    let at_hand = named.is_some() || follow_on.named.is_none() && follow_on.unknown.is_none();
    if !open || says_else || !at_hand || then.is_none_or(|then| at - then > WITHIN) {
        return None;
    }
    let turns = match named {
        None => in_turn(session),
        Some(_) => Vec::new(),
    };
    let known = Before {
        named: named.is_some(),
        ..before_of(&own, last, follow_on, &turns)
    };
    let read = view.reader.carry_on(text, &known)?;
    let least = match read.told {
        Told::Load(_) => least.min(SURE_LOAD),
        Told::Changed(..) => least.max(SURER),
        _ => least,
    };
    let soon = then.is_some_and(|then| at - then <= EFFORT_WITHIN);
    let fits = match read.told {
        Told::Changed(..) => soon,
        // What the grammar reads the same holds more: what gave out, a rest.
        Told::Sets(ref sets) if plain.kind() == Kind::Sets && sets.keeps_load() => false,
        // A name that the catalogue lacks.
        Told::Sets(_) | Told::Round(..) => {
            let bare = !text.contains(char::is_alphabetic) && follow_on.announced_at.is_none();
            let least = if bare { SURER } else { SURE };
            read.sure >= least && view.reader.heads_numbers(text).is_none()
        }
        Told::Load(_) => true,
    };
    if read.sure < least || !fits {
        return None;
    }
    match read.told {
        Told::Sets(sets) => Some(Carried::Sets(done(&sets, last, &known)?)),
        Told::Round(reps, rir) => {
            let reps = reps.unwrap_or_else(|| turns.iter().map(|set| set.reps).collect());
            let rir = rir.and_then(|rir| Rir::new(rir).ok());
            let sets = turns.into_iter().zip(reps);
            let sets = sets.map(|(set, reps)| SetReading { reps, rir, ..set });
            Some(Carried::Sets(sets.collect()))
        }
        Told::Load(step) => Some(Carried::Load(exercise, stepped(step, last.load, &known)?)),
        Told::Changed(which, changed) => {
            let sets = meant(&own, which, changed)?;
            Some(Carried::Changed(sets, amended(changed)?))
        }
    }
}

/// Whether a load stands beside its repetitions, as in `120x6`.
fn is_pair(text: &str) -> bool {
    let sides = text.split(['x', 'X', '×', '*']).collect::<Vec<_>>();
    let digit = |c: char| c.is_ascii_digit();
    let beside = |pair: &[&str]| match pair {
        [left, right] => left.trim_end().ends_with(digit) && right.trim_start().starts_with(digit),
        _ => false,
    };
    sides.windows(2).any(beside)
}

/// Whether the grammar asks no more than what sets of `exercise` were.
pub(super) fn asks_of(unclear: &Unclear, exercise: ExerciseId) -> bool {
    let drafts = unclear.drafts.iter().filter_map(|draft| draft.exercise);
    let read = unclear.readings.iter().flatten().map(|set| set.exercise);
    matches!(unclear.needs.as_slice(), [Need::WhichReading | Need::Reps])
        && unclear.unknown_name.is_none()
        && drafts.chain(read).all(|of| of == exercise)
}

fn before_of(
    own: &[&LogEntry],
    last: &SetReading,
    follow_on: &FollowOn,
    turns: &[SetReading],
) -> Before {
    let load = last.load;
    let count = |filed: &&LogEntry| {
        let set = &filed.set;
        (set.load.mass.amount(load.unit), f64::from(set.reps))
    };
    Before {
        load: (load.mass > Mass::ZERO).then(|| load.mass.amount(load.unit)),
        named: false,
        announced: follow_on.announced_at.is_some(),
        sets: own.iter().map(count).collect(),
        held: last.seconds.is_some(),
        rated: last.rir.is_some(),
        basis: match load.basis {
            _ if load.unit == Unit::Pin => carry_on::Basis::Pin,
            Basis::Total => carry_on::Basis::Total,
            Basis::PerHand => carry_on::Basis::Hand,
            Basis::Added | Basis::Assisted => carry_on::Basis::Hung,
            Basis::Body => carry_on::Basis::Body,
        },
        in_turn: turns.iter().map(|set| f64::from(set.reps)).collect(),
        bar: usual_bar(load.unit),
    }
}

/// The load after a step from `load`.
fn stepped(step: Step, load: Load, before: &Before) -> Option<Load> {
    let unit = match step {
        Step::By(_, Some(unit)) | Step::To(_, Some(unit)) | Step::Sides(_, Some(unit)) => unit,
        _ => load.unit,
    };
    let amount = match step {
        Step::By(by, Some(unit)) if unit != load.unit => {
            let by_mass = Mass::new(by.abs(), unit).ok()?.amount(load.unit);
            return with(
                load,
                load.mass.amount(load.unit) + by_mass.copysign(by),
                load.unit,
            );
        }
        _ => step.amount(before)?,
    };
    with(load, amount, unit)
}

fn with(load: Load, amount: f64, unit: Unit) -> Option<Load> {
    let mass = Mass::new(amount, unit).ok()?;
    let basis = match load.basis {
        Basis::Added | Basis::Assisted if mass == Mass::ZERO => Basis::Body,
        Basis::Body if mass > Mass::ZERO => Basis::Added,
        basis => basis,
    };
    (mass > Mass::ZERO || basis == Basis::Body).then_some(Load { mass, unit, basis })
}

fn done(sets: &Sets, last: &SetReading, before: &Before) -> Option<Vec<SetReading>> {
    let set = last.following();
    let mut list: Vec<SetReading> = match &sets.done {
        Done::Counted(list) => (list.iter())
            .map(|(step, count)| {
                let load = stepped(*step, last.load, before)?;
                let held = last.seconds.is_some();
                Some(SetReading {
                    load,
                    reps: if held { 0 } else { *count },
                    seconds: held.then_some(*count),
                    ..set.clone()
                })
            })
            .collect::<Option<_>>()?,
        Done::Again(step, times) => {
            let load = stepped(*step, last.load, before)?;
            vec![SetReading { load, ..set }; *times]
        }
    };
    list.last_mut()?.rir = sets.rir.and_then(|rir| Rir::new(rir).ok());
    Some(list)
}

/// The ids of the sets that a correction means.
fn meant(own: &[&LogEntry], which: Which, changed: Changed) -> Option<Vec<SetId>> {
    let old = match changed {
        Changed::Reps(_, old) | Changed::Load(_, _, old) => old,
        _ => None,
    };
    if let Some(old) = old {
        let is_it = |filed: &&&LogEntry| {
            let set = &filed.set;
            let amount = match changed {
                Changed::Load(..) => set.load.mass.amount(set.load.unit),
                _ => f64::from(set.reps),
            };
            (amount - old).abs() < 1e-6
        };
        let mut fitting = own.iter().filter(is_it);
        if let (Some(one), None) = (fitting.next(), fitting.next()) {
            return one.set.id.map(|id| vec![id]);
        }
    }
    let chosen = match which {
        Which::All => own,
        Which::First(count) => own.get(..count)?,
        Which::Last(count) => own.get(own.len().checked_sub(count)?..)?,
        Which::Number(number) => own.get(number.checked_sub(1)?..number)?,
    };
    let work = |filed: &&&LogEntry| {
        !matches!(changed, Changed::Left(_)) || filed.set.kind != SetKind::WarmUp
    };
    let chosen: Option<Vec<SetId>> = chosen
        .iter()
        .filter(work)
        .map(|filed| filed.set.id)
        .collect();
    chosen.filter(|chosen| !chosen.is_empty())
}

fn amended(changed: Changed) -> Option<Amended> {
    let number = |part: Part, unit: Option<Unit>, now: f64| Amended::Number {
        part: Some(part),
        unit,
        now,
        was: None,
    };
    Some(match changed {
        Changed::Reps(now, _) => number(Part::Reps, None, now),
        Changed::Load(now, unit, _) => number(Part::Load, unit, now),
        Changed::Left(left) => number(Part::Rir, None, Rir::new(left).ok()?.reps()),
        Changed::WarmUp => Amended::WarmUp(true),
        Changed::Gone => Amended::Delete,
    })
}

/// A set that follows others in turn.
pub(super) fn one_more(filed: SetReading) -> SetReading {
    SetReading {
        rir: None,
        gave_out: None,
        rest_s: None,
        day: None,
        straight: false,
        technique: Some(Technique::Superset),
        ..filed
    }
}

/// The last set of each exercise that was done in turn last, as one more would be.
pub(super) fn in_turn(session: &[LogEntry]) -> Vec<SetReading> {
    let members = superset(session, true);
    match members.len() {
        0 | 1 => Vec::new(),
        _ => members
            .into_iter()
            .map(|filed| one_more(as_read(filed)))
            .collect(),
    }
}

/// The last set of each exercise of the superset that was done last, in their order: sets told as one, or, where a
/// round is spoken of, those of the last message.
pub(super) fn superset(session: &[LogEntry], spoken: bool) -> Vec<&LogEntry> {
    let mut members: Vec<&LogEntry> = Vec::new();
    for filed in session.iter().rev() {
        let before = members.last();
        let late = before.is_some_and(|before| before.set.at - filed.set.at > ROUND_WITHIN);
        let together = members
            .first()
            .is_some_and(|last| last.message == filed.message);
        let is_of_it = filed.technique == Some(Technique::Superset)
            || spoken && (members.is_empty() || together);
        let again = members
            .iter()
            .any(|one| one.set.exercise == filed.set.exercise);
        if !is_of_it || late || again || filed.set.kind == SetKind::Held {
            break;
        }
        members.push(filed);
    }
    members.reverse();
    members
}
