//! Answers to a question: a button or a few words complete a set without retyping.

use crate::domain::quantities::catalogue::{Catalogue, Equipment};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};

use super::evidence::usual_kg;
use super::item::{Effort, Item, Spanned, item_at};
use super::scan::Scan;
use super::sets::{self, Filed};
use crate::message::reader::{Context, Reader, asked};
use crate::message::reading::{Draft, DraftLoad, Need, Reading, SetReading, Unclear, whole_reps};
use crate::message::words::token::Kind;
use crate::message::words::vocabulary::Roles;

/// An answer to what a set lacks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// This exercise.
    Exercise(ExerciseId),
    /// This load.
    Load(DraftLoad),
    /// So many repetitions.
    Reps(u32),
    /// This effort; `None` for none.
    Effort(Option<Rir>),
    /// The reading at this place of [`Unclear::readings`], or, counting on behind those, of
    /// [`Unclear::partial`].
    Pick(usize),
}

/// The drafts with the open one replaced by a reading of it.
pub(crate) fn replaced(filed: &Filed, rival: &[Draft]) -> Vec<Draft> {
    let (at, length) = filed.rival_at.unwrap_or((filed.drafts.len(), 0));
    let mut out: Vec<Draft> = filed.drafts.get(..at).unwrap_or_default().to_vec();
    out.extend_from_slice(rival);
    out.extend_from_slice(filed.drafts.get(at + length..).unwrap_or_default());
    out
}

/// Completes `unclear` with one answer: gives the sets, or the question with fewer needs. `None`
/// when the answer fits nothing that is open, or is itself out of range.
#[must_use]
pub fn complete(unclear: &Unclear, answer: &Answer, catalogue: &Catalogue) -> Option<Reading> {
    let mut next = unclear.clone();
    match answer {
        Answer::Pick(place) => {
            return pick(unclear, *place, catalogue);
        }
        Answer::Exercise(id) => {
            settle(&mut next, Need::Exercise)?;
            next.drafts
                .iter_mut()
                .for_each(|draft| draft.exercise = draft.exercise.or(Some(*id)));
            if catalogue.exercise(*id).basis == crate::domain::quantities::catalogue::Basis::Body {
                settle_body(&mut next);
            }
        }
        Answer::Load(load) => {
            settle(&mut next, Need::Load)?;
            if !sets::is_sane(load) {
                return None;
            }
            next.drafts
                .iter_mut()
                .for_each(|draft| draft.load = draft.load.or(Some(*load)));
        }
        Answer::Reps(reps) => {
            settle(&mut next, Need::Reps)?;
            whole_reps(f64::from(*reps))?;
            next.drafts
                .iter_mut()
                .for_each(|draft| draft.reps = draft.reps.or(Some(*reps)));
        }
        Answer::Effort(rir) => {
            settle(&mut next, Need::Effort)?;
            next.drafts
                .iter_mut()
                .for_each(|draft| draft.rir = draft.rir.or(*rir));
        }
    }
    finished(next, catalogue)
}

fn pick(unclear: &Unclear, place: usize, catalogue: &Catalogue) -> Option<Reading> {
    if let Some(sets) = unclear.readings.get(place) {
        return Some(Reading {
            sets: sets.clone(),
            ..Reading::default()
        });
    }
    let drafts = unclear.partial.get(place - unclear.readings.len())?.clone();
    let lacks = |need: Need, hole: fn(&Draft) -> bool| drafts.iter().any(hole).then_some(need);
    let needs = [
        lacks(Need::Exercise, |draft| draft.exercise.is_none()),
        lacks(Need::Load, |draft| draft.load.is_none()),
        lacks(Need::Reps, |draft| draft.reps.is_none()),
    ];
    let next = Unclear {
        needs: needs.into_iter().flatten().collect(),
        drafts,
        unknown_name: unclear.unknown_name.clone(),
        nearest: unclear.nearest.clone(),
        ..Unclear::default()
    };
    finished(next, catalogue)
}

/// Takes one need off; `None` when it is not open.
fn settle(unclear: &mut Unclear, need: Need) -> Option<()> {
    let place = unclear.needs.iter().position(|open| *open == need)?;
    unclear.needs.remove(place);
    Some(())
}

/// A body-weight movement needs no load.
fn settle_body(unclear: &mut Unclear) {
    if settle(unclear, Need::Load).is_none() {
        return;
    }
    for draft in &mut unclear.drafts {
        let unit = draft.load.map_or(Unit::Kg, |load| load.unit);
        draft.load = draft.load.or(Some(DraftLoad {
            amount: 0.0,
            unit,
            basis: Some(crate::domain::quantities::catalogue::Basis::Body),
        }));
    }
}

fn finished(unclear: Unclear, catalogue: &Catalogue) -> Option<Reading> {
    if unclear.needs.is_empty() {
        let sets: Option<Vec<_>> = unclear
            .drafts
            .iter()
            .map(|draft| sets::complete_set(draft, catalogue))
            .collect();
        return sets.map(|sets| Reading {
            sets,
            ..Reading::default()
        });
    }
    Some(Reading {
        unclear: Some(unclear),
        ..Reading::default()
    })
}

/// A short message that answers `pending`: nothing in it but answers and harmless words.
pub(crate) fn answered(
    reader: &Reader,
    pending: &Unclear,
    scan: &Scan<'_>,
    items: &[Spanned],
    context: &Context<'_>,
) -> Option<Reading> {
    if scan.tokens.len() > 8
        || scan
            .tokens
            .iter()
            .any(|t| t.is(crate::message::words::token::Mark::Question))
    {
        return None;
    }
    let harmless = scan.tokens.iter().enumerate().all(|(at, token)| {
        token.kind != Kind::Word
            || token.word.roles.any(Roles::FILL.with(Roles::FIX))
            || item_at(items, at).is_some_and(|s| s.item != Item::Word)
    });
    if !harmless
        || items
            .iter()
            .any(|s| matches!(s.item, Item::Times | Item::Foreign | Item::Same))
    {
        return None;
    }
    if let Some(place) = picked(items, pending) {
        return complete(pending, &Answer::Pick(place), reader.catalogue());
    }
    let mut open = pending.clone();
    let mut done = None;
    for (place, spanned) in items.iter().enumerate() {
        let next = items.get(place + 1).map(|s| &s.item);
        let Some(answer) = answer(&spanned.item, next, &open, context) else {
            if matches!(spanned.item, Item::Name(_) | Item::Num(_) | Item::Effort(_)) {
                return None;
            }
            continue;
        };
        let reading = complete(&open, &answer, reader.catalogue())?;
        match reading.unclear.clone() {
            Some(left) => open = left,
            None => open.needs.clear(),
        }
        done = Some(reading);
    }
    done.map(|reading| pin_or_load(reading, items, context, reader.catalogue()))
}

/// A small load of a machine, of which nothing is known, is as likely a place on its stack: `8`.
fn pin_or_load(
    reading: Reading,
    items: &[Spanned],
    context: &Context<'_>,
    catalogue: &Catalogue,
) -> Reading {
    let small = |s: &Spanned| matches!(s.item, Item::Num(num) if num.unit.is_none() && num.value <= MOST_PINS);
    let is_stack = |set: &SetReading| {
        let exercise = catalogue.exercise(set.exercise);
        let known = context.habits.iter().any(|h| h.exercise == set.exercise);
        exercise.equipment == Equipment::Stack && usual_kg(exercise) >= HEAVY_STACK && !known
    };
    let bare = reading.sets.iter().all(|set| {
        let amount = set.load.mass.amount(set.load.unit);
        set.load.unit == context.unit && amount <= MOST_PINS && amount.fract() == 0.0
    });
    if reading.sets.is_empty()
        || !bare
        || !items.iter().any(small)
        || !reading.sets.iter().all(is_stack)
    {
        return reading;
    }
    let on_pin = |set: &SetReading| {
        let mass = Mass::new(set.load.mass.amount(set.load.unit), Unit::Pin).ok()?;
        let load = Load {
            mass,
            unit: Unit::Pin,
            ..set.load
        };
        Some(SetReading {
            load,
            ..set.clone()
        })
    };
    match reading.sets.iter().map(on_pin).collect() {
        Some(pins) => asked(vec![pins, reading.sets]),
        None => reading,
    }
}

/// A larger number is no place on a stack, and stacks that take less are no heavy ones, kilograms. Common practice, no
/// source.
const MOST_PINS: f64 = 20.0;
const HEAVY_STACK: f64 = 40.0;

/// The place of the only reading that has the number which is all that an answer says: `8 reps`, `60 kg`.
fn picked(items: &[Spanned], pending: &Unclear) -> Option<usize> {
    if pending.needs != [Need::WhichReading] {
        return None;
    }
    let mut numbers = items.iter().enumerate().filter_map(|(at, s)| match s.item {
        Item::Num(num) => Some((num, items.get(at + 1).map(|s| &s.item))),
        _ => None,
    });
    let (num, behind) = numbers.next().filter(|_| numbers.next().is_none())?;
    let of_reps = behind == Some(&Item::Reps) || num.reps;
    if !(of_reps || num.is_load()) {
        return None;
    }
    let is_it = |reps: Option<u32>, amount: Option<f64>| match of_reps {
        true => reps.is_some() && reps == whole_reps(num.value),
        false => amount.is_some_and(|amount| (amount - num.value).abs() < 1e-6),
    };
    let whole = pending.readings.iter().map(|sets| {
        let amount = |load: Load| Some(load.mass.amount(load.unit));
        sets.iter()
            .all(|set| is_it(Some(set.reps), amount(set.load)))
    });
    let parts = pending.partial.iter().map(|drafts| {
        let amount = |draft: &Draft| draft.load.map(|load| load.amount);
        drafts.iter().all(|draft| is_it(draft.reps, amount(draft)))
    });
    let mut fitting = whole.chain(parts).enumerate().filter(|(_, fits)| *fits);
    let (place, _) = fitting.next()?;
    fitting.next().is_none().then_some(place)
}

fn answer(
    item: &Item,
    next: Option<&Item>,
    open: &Unclear,
    context: &Context<'_>,
) -> Option<Answer> {
    let needs = |need| open.needs.contains(&need);
    match item {
        Item::Name(id) if needs(Need::Exercise) => Some(Answer::Exercise(*id)),
        Item::Effort(Effort::One(rir)) if needs(Need::Effort) => {
            Some(Answer::Effort(Rir::new(*rir).ok()))
        }
        Item::Num(num) => {
            let reps = next == Some(&Item::Reps);
            let load = needs(Need::Load) && !reps || num.is_load();
            if load {
                return needs(Need::Load).then_some(Answer::Load(DraftLoad {
                    amount: num.value,
                    unit: num.unit.unwrap_or(context.unit),
                    basis: sets::written_basis(num),
                }));
            }
            if !needs(Need::Reps) {
                return None;
            }
            whole_reps(num.value).map(Answer::Reps)
        }
        Item::Body if needs(Need::Load) => Some(Answer::Load(DraftLoad {
            amount: 0.0,
            unit: context.unit,
            basis: Some(crate::domain::quantities::catalogue::Basis::Body),
        })),
        _ => None,
    }
}
