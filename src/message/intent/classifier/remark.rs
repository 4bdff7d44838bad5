//! A remark beside a set that stands by itself: `x7, music too loud`, `bench 80x8, deadlifts tomorrow`.
//!
//! The set is judged by its own words. What is said behind must make it nobody else's, no plan, no wish and no memory,
//! and tell no numbers.

use crate::domain::quantities::mass::Mass;
use crate::message::grammar::groups::Parsed;
use crate::message::grammar::item::{Item, Spanned, item_at};
use crate::message::grammar::scan::Scan;
use crate::message::grammar::sets::Filed;
use crate::message::reading::{Draft, SetReading};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// How far the load of a set without a name may be from the one before, as a share of it. Common practice, no source.
const NEAR: std::ops::RangeInclusive<f64> = 0.5..=1.6;
/// How many repetitions more it may have. Common practice, no source.
const MORE_REPS: u32 = 8;

/// Words that make a set somebody else's, or say that it was not done.
const NOT_DONE: Roles = Roles::OTHER
    .with(Roles::PERSON)
    .with(Roles::WHO)
    .with(Roles::INTENT)
    .with(Roles::PLAN)
    .with(Roles::HYPO)
    .with(Roles::PAST)
    .with(Roles::NEG)
    .with(Roles::TRADE);

/// The same of a clause about another exercise, which may be to come.
const NOT_MINE: Roles = Roles::OTHER
    .with(Roles::PERSON)
    .with(Roles::WHO)
    .with(Roles::HYPO)
    .with(Roles::PAST)
    .with(Roles::TRADE);

/// The tokens of the sets of a message, where those are told plainly and all beside them is a remark.
pub(crate) fn own(
    scan: &Scan<'_>,
    items: &[Spanned],
    parsed: &Parsed,
    filed: &Filed,
    last: Option<&SetReading>,
) -> Option<(usize, usize)> {
    let end = parsed.groups.iter().map(|g| g.to).max()?;
    let beside = |s: &&Spanned| {
        matches!(
            s.item,
            Item::Effort(_)
                | Item::Rest(_)
                | Item::Technique(_)
                | Item::Side
                | Item::PerHand
                | Item::Day(_)
                | Item::OneSet(_)
                | Item::Reps
                | Item::Label
        )
    };
    let more = items.iter().skip(end).take_while(beside).count();
    let numbers = items.get((end + more).checked_sub(1)?)?.to;
    let names = parsed.segments.iter().filter(|s| s.name_last);
    let names = names
        .filter_map(|s| item_at(items, s.name_from))
        .map(|s| s.to);
    let to = names.fold(numbers, usize::max);
    let whole = filed.needs.is_empty() && filed.rivals.is_empty();
    let unnamed = parsed.groups.iter().any(|group| {
        parsed
            .segments
            .get(group.segment)
            .is_none_or(|s| s.exercise.is_none())
    });
    let near = !unnamed || last.is_some_and(|last| filed.drafts.iter().all(|d| is_near(d, last)));
    let one = !unnamed || filed.drafts.len() == parsed.groups.len();
    let count = scan.tokens.len();
    // Beside a named set only a clause about another exercise is surely a remark: `bench 90x5 by christmas`.
    let other = unnamed || is_of_another(scan, items, to);
    let plain = (0..to).all(|at| is_plain(scan, items, at));
    let remarks = to < count && plain && other && is_remark(scan, items, (to, count));
    (whole && near && one && remarks).then_some((0, to))
}

/// Whether a clause apart names another exercise behind `from`: `bench 80x8, deadlifts tomorrow`.
fn is_of_another(scan: &Scan<'_>, items: &[Spanned], from: usize) -> bool {
    scan.is(from, Mark::Comma)
        && items
            .iter()
            .any(|s| s.from > from && matches!(s.item, Item::Name(_)))
}

/// Whether a token belongs to a set, or is a harmless word beside it.
fn is_plain(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let word = item_at(items, at).is_none_or(|s| s.item == Item::Word);
    scan.token(at).is_none_or(|token| {
        !word
            || token.kind != Kind::Word
            || token.word.roles.any(Roles::FILL) && !token.word.roles.any(NOT_DONE)
    })
}

/// Whether a set without a name is like the one that it goes on from.
fn is_near(draft: &Draft, last: &SetReading) -> bool {
    let own = draft.exercise == Some(last.exercise);
    let reps = draft
        .reps
        .is_none_or(|reps| reps <= last.reps.saturating_add(MORE_REPS));
    let before = last.load.mass.amount(last.load.unit);
    let load = draft
        .load
        .and_then(|load| Mass::new(load.amount, load.unit).ok())
        .map(|mass| mass.amount(last.load.unit));
    let near = load.is_none_or(|load| {
        before <= 0.0 && load <= 0.0 || before > 0.0 && NEAR.contains(&(load / before))
    });
    !own || reps && near
}

/// Whether what stands from `from` up to `to` takes nothing back and counts nothing.
fn is_remark(scan: &Scan<'_>, items: &[Spanned], (from, to): (usize, usize)) -> bool {
    let parts = |at: usize| {
        at >= to || scan.token(at).is_none_or(|t| {
            matches!(t.kind, Kind::Mark(mark) if !matches!(mark, Mark::Minus | Mark::Plus | Mark::Slash))
        })
    };
    let mut begin = from;
    let mut apart = false;
    for end in from..=to {
        if !parts(end) {
            continue;
        }
        let names = |at: usize| item_at(items, at).is_some_and(|s| matches!(s.item, Item::Name(_)));
        let barred = match apart && (begin..end).any(names) {
            true => NOT_MINE,
            false => NOT_DONE,
        };
        if !(begin..end).all(|at| is_harmless(scan, items, at, barred)) {
            return false;
        }
        let mark = |mark| end < to && scan.is(end, mark);
        if mark(Mark::Question) || mark(Mark::Money) || mark(Mark::Percent) || mark(Mark::Times) {
            return false;
        }
        apart = true;
        begin = end + 1;
    }
    true
}

fn is_harmless(scan: &Scan<'_>, items: &[Spanned], at: usize, barred: Roles) -> bool {
    let Some(token) = scan.token(at) else {
        return true;
    };
    // A year is no measure: `82.5x6 back in 2019`.
    let silent = item_at(items, at).is_some_and(|s| match s.item {
        Item::Foreign => s.to > s.from + 1,
        Item::Word | Item::Label | Item::Duration(_) | Item::Day(_) => true,
        _ => false,
    });
    match token.kind {
        // `could do more`
        Kind::Word if token.word.w == W::Could => {
            matches!(scan.text_at(at + 1), "do" | "have" | "ve" | "go" | "done")
        }
        Kind::Word => !token.word.roles.any(barred),
        Kind::Number | Kind::Clock | Kind::Date => silent,
        Kind::Mark(_) => true,
    }
}
