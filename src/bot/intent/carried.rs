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
use crate::message::intent::carry_on::{self, Before, Changed, Done, Sets, Step, Told};
use crate::message::reading::{
    Correction, Kind, Need, Part, Reading, SetReading, Technique, Unclear,
};

/// What was plain from the sets before is so for this long. Common practice, no source.
const WITHIN: Duration = Duration::minutes(30);

/// Readings as sure as this are carried out. By what each mistake costs: a wrong set is seen on the card, a set that is
/// not logged is typed again. Chosen on held-out authors.
const SURE: f32 = 0.75;

/// The same of a load that is announced: it is told back at once, and where it is missed the next set is wrong.
const SURE_LOAD: f32 = 0.6;

/// The same where the grammar reads sets, too, and of corrections.
const SURER: f32 = 0.9;

/// What a question begins with, also without its mark: `was my warm-up counted`.
const ASKING: &[&str] = &[
    "was", "were", "did", "does", "do", "is", "are", "has", "have", "can", "should", "will",
];

/// An effort posted by itself is that of a set so long before it at most. Common practice, no source.
pub(super) const EFFORT_WITHIN: Duration = Duration::minutes(15);

/// Sets of one round follow each other within this time. Common practice, no source.
const ROUND_WITHIN: Duration = Duration::minutes(10);

/// Sets that are likelier than not are asked about, where few words tell them.
const MAYBE: f32 = 0.5;
const FEW_WORDS: usize = 8;
/// Fewer still.
const SHORT: usize = 3;

/// What a message does to the log.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Carried {
    /// Sets were done.
    Sets(Vec<SetReading>),
    /// Sets were done, maybe.
    Asked(Vec<SetReading>),
    /// This exercise is next.
    Exercise(ExerciseId),
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
    let session = session_before(before, at);
    let latest = follow_on.last.as_ref();
    // Announced by name, and nothing done of it yet.
    let waiting = follow_on.named;
    let only_named = view.reader.only_named(text);
    let at_hand = waiting.or_else(|| latest.map(|last| last.exercise));
    // What another exercise is named for is of that one.
    let named = only_named.filter(|named| Some(*named) != at_hand);
    let exercise = named.or(at_hand)?;
    if follow_on.unknown.is_some() && only_named.is_none() {
        return None;
    }
    let of_it = |filed: &&LogEntry| filed.set.exercise == exercise;
    let own: Vec<&LogEntry> = session.iter().filter(of_it).collect();
    let last = &match latest.filter(|latest| latest.exercise == exercise) {
        Some(latest) => latest.clone(),
        None => match own.last() {
            Some(filed) => as_read(filed),
            None => view.none_done(exercise),
        },
    };
    let named_at = view.member.state.named.as_ref().map(|named| named.at);
    let then = (session.last().map(|filed| filed.set.at))
        .max(follow_on.announced_at)
        .max(named_at.filter(|named| waiting.is_some() && *named <= at));
    // What the grammar reads as sets that go on from the last may be a round, or of another load. What it asks about
    // beside a name, or of which it lacks the exercise, is its own business, and so is what is written in full.
    let goes_on = |set: &SetReading| (set.exercise, set.load) == (last.exercise, last.load);
    let nameless = only_named.is_none();
    let in_full = is_pair(text);
    let least = match (plain.kind(), &plain.unclear) {
        (Kind::Chatter, _) => SURE,
        (Kind::Correction, _) => SURER,
        (Kind::Unclear, Some(unclear)) if nameless && asks_of(unclear, exercise) => {
            (!in_full).then_some(SURE)?
        }
        (Kind::Sets, _) if nameless && (!in_full || plain.sets.iter().all(goes_on)) => SURER,
        _ => return None,
    };
    let open = plain.ended_by.is_none() && plain.question.is_none() && plain.readiness.is_none();
    let says_else = plain.caution.is_some()
        || plain.may_hurt.is_some()
        || text.contains(['?', '"', '“', '%'])
        || agrees(text);
    let first = text.split_whitespace().next().unwrap_or_default();
    let asks = ASKING.contains(&first.to_lowercase().as_str());
    if !open || says_else || asks {
        return None;
    }
    let turns = match named.or(waiting) {
        None => in_turn(session),
        Some(_) => Vec::new(),
    };
    let known = Before {
        named: named.is_some(),
        ..before_of(&own, last, follow_on, &turns)
    };
    let read = view.reader.carry_on(text, &known)?;
    if read.told == Told::Exercise {
        let is_named = only_named.is_some() && plain.kind() == Kind::Chatter;
        return (is_named && read.sure >= SURE).then_some(Carried::Exercise(exercise));
    }
    if then.is_none_or(|then| at - then > WITHIN) {
        return None;
    }
    let least = match read.told {
        Told::Load(_) => least.min(SURE_LOAD),
        Told::Changed(..) => least.max(SURER),
        // One more like the last is told in a word or three: `same as anna said`.
        Told::Sets(ref sets) if sets.is_again() && text.split_whitespace().count() > SHORT => {
            least.max(SURER)
        }
        _ => least,
    };
    // `@8`: a reserve and no more is read as behind a set.
    let is_short = text.split_whitespace().count() <= 2;
    let soon = then.is_some_and(|then| at - then <= EFFORT_WITHIN);
    let fits = match read.told {
        Told::Changed(_, Changed::Left(_)) if is_short => false,
        // `undo` by itself takes back a message, and not one set.
        Told::Changed(ref which, _) if plain.correction == Some(Correction::Undo) => {
            soon && which.as_slice() != [own.len() - 1]
        }
        Told::Changed(..) => soon,
        // `make that 4 sets`
        Told::Sets(ref sets) if plain.correction.is_some() => {
            matches!(sets.done, Done::Again(..))
        }
        _ if plain.correction.is_some() => false,
        // What the grammar reads the same holds more: what gave out, a rest.
        Told::Sets(ref sets) if plain.kind() == Kind::Sets && sets.keeps_load() => false,
        // A name that the catalogue lacks.
        Told::Sets(_) | Told::Round(..) => {
            let bare = !text.contains(char::is_alphabetic) && follow_on.announced_at.is_none();
            !(bare && read.sure < SURER) && view.reader.heads_numbers(text).is_none()
        }
        Told::Load(_) => true,
        Told::Exercise => false,
    };
    let counts = match &read.told {
        Told::Sets(sets) => matches!(sets.done, Done::Counted(_)),
        Told::Round(reps, _) => reps.is_some(),
        _ => false,
    };
    let may_ask = counts
        && plain.kind() == Kind::Chatter
        && read.sure >= MAYBE
        && text.split_whitespace().count() <= FEW_WORDS;
    let sure = read.sure >= least;
    if !fits || !(sure || may_ask) {
        return None;
    }
    let told = |sets: Vec<SetReading>| match sure {
        true => Carried::Sets(sets),
        false => Carried::Asked(sets),
    };
    match read.told {
        Told::Sets(sets) => Some(told(done(&sets, last, &known)?)),
        Told::Round(reps, rir) => {
            let reps = reps.unwrap_or_else(|| turns.iter().map(|set| set.reps).collect());
            let rir = rir.and_then(|rir| Rir::new(rir).ok());
            let sets = turns.into_iter().zip(reps);
            let sets = sets.map(|(set, reps)| SetReading { reps, rir, ..set });
            Some(told(sets.collect()))
        }
        Told::Exercise => None,
        Told::Load(step) => Some(Carried::Load(exercise, stepped(step, last.load, &known)?)),
        Told::Changed(which, changed) => {
            let meant = which.into_iter().map(|at| own.get(at).copied());
            let meant: Vec<&LogEntry> = meant.collect::<Option<_>>()?;
            let (meant, changed) = without_warm_ups(meant, changed);
            let sets: Option<Vec<SetId>> = meant.iter().map(|filed| filed.set.id).collect();
            let sets = sets.filter(|sets| !sets.is_empty())?;
            Some(Carried::Changed(sets, amended(changed)?))
        }
    }
}

/// Whether the writer is of one mind with somebody.
pub(super) fn agrees(text: &str) -> bool {
    text.trim() == "+1"
}

/// Whether a load stands beside its repetitions, as in `120x6`.
pub(super) fn is_pair(text: &str) -> bool {
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
    matches!(
        unclear.needs.as_slice(),
        [Need::WhichReading | Need::Reps | Need::Load]
    ) && unclear.unknown_name.is_none()
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
            Basis::Added | Basis::Assisted if load.mass == Mass::ZERO => carry_on::Basis::Body,
            Basis::Added => carry_on::Basis::Hung,
            Basis::Assisted => carry_on::Basis::Helped,
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

/// Of sets whose reserve is told, those that have one.
fn without_warm_ups(meant: Vec<&LogEntry>, changed: Changed) -> (Vec<&LogEntry>, Changed) {
    let Changed::Left(left) = changed else {
        return (meant, changed);
    };
    let rated = meant.into_iter().zip(left);
    let rated = rated.filter(|(filed, _)| filed.set.kind != SetKind::WarmUp);
    let (meant, left) = rated.unzip();
    (meant, Changed::Left(left))
}

fn amended(changed: Changed) -> Option<Amended> {
    let number = |part: Part, unit: Option<Unit>, now: f64| Amended::Number {
        part: Some(part),
        unit,
        now,
        was: None,
    };
    Some(match changed {
        Changed::Reps(now) => number(Part::Reps, None, now),
        Changed::Load(now, unit) => number(Part::Load, unit, now),
        Changed::Left(left) => {
            let left = left.into_iter().map(|left| Rir::new(left).ok());
            let left: Vec<Rir> = left.collect::<Option<_>>()?;
            let one = left.first().copied()?;
            match left.iter().all(|other| *other == one) {
                true => number(Part::Rir, None, one.reps()),
                false => Amended::Left(left),
            }
        }
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
