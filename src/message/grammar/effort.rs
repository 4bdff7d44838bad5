//! Effort: reps in reserve, to failure, and the RPE scale anchored in reserve.

use crate::domain::quantities::effort::Rir;

use super::item::{Effort, Item, Spanned};
use super::phrase::Phrases;
use super::scan::{Phrase, Scan};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::variants::has;
use crate::message::words::vocabulary::{Roles, W};

/// Longest list of efforts, one for each set.
const LONGEST: usize = 20;

/// Nobody has so many more left in a set of a list than in its first. Common practice, no source.
const MOST_APART: f64 = 4.0;

/// Repetitions that an easy set leaves. Common practice, no source: it could have gone on for more than the three
/// that still count.
pub(crate) const EASY_LEAVES: f64 = 4.0;
/// Repetitions that a hard one leaves. Common practice, no source.
pub(crate) const HARD_LEAVES: f64 = 1.0;

/// An effort that starts at `at`.
pub(crate) fn at(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    if let Some(told) = told(scan, at, before) {
        return Some(told);
    }
    match scan.w(at) {
        W::Rir => led(scan, at, false),
        W::Rpe => led(scan, at, true),
        W::R => short(scan, at),
        W::F => alone(scan, at).then_some((Item::Effort(Effort::One(0.0)), at + 1)),
        W::Failed | W::Couldnt => failed_at(scan, at).or_else(|| failure(scan, at)),
        W::Failure => failed_at(scan, at).or_else(|| failure(scan, at)),
        W::To | W::Till => to_failure(scan, at),
        W::Nothing | W::No => nothing(scan, at),
        W::Could => could_more(scan, at),
        W::Left => left_first(scan, at),
        _ => counted(scan, at, before),
    }
}

fn one(reserve: f64) -> Effort {
    Rir::new(reserve).map_or(Effort::Bad, |rir| Effort::One(rir.reps()))
}

fn from_rpe(rpe: f64) -> Option<f64> {
    // Spans such as 7-8 give quarters after halving; the scale itself has halves.
    let low = Rir::from_rpe((rpe * 2.0).floor() / 2.0).ok()?;
    ((rpe * 4.0).fract() < 1e-9)
        .then_some(10.0 - rpe)
        .filter(|_| low.reps() >= 0.0)
}

fn made(values: &[f64], rpe: bool) -> Effort {
    let reserve: Option<Vec<f64>> = values
        .iter()
        .map(|&value| {
            if rpe {
                from_rpe(value)
            } else {
                Rir::new(value).ok().map(Rir::reps)
            }
        })
        .collect();
    match reserve {
        Some(list) if list.len() == 1 => one(list[0]),
        Some(list) => Effort::Many(list),
        None => Effort::Bad,
    }
}

/// `f` by itself, not a letter of something else.
fn alone(scan: &Scan<'_>, at: usize) -> bool {
    let glued_after = scan.glued(at + 1)
        && scan
            .token(at + 1)
            .is_some_and(|t| t.end > t.start || t.is(Mark::Slash));
    !glued_after
}

/// `rir 2`, `rpe 8.5`, `rir 2,1,0`, `rpe 7-8`.
fn led(scan: &Scan<'_>, at: usize, rpe: bool) -> Option<Phrase> {
    let mut from = at + 1;
    while scan.is(from, Mark::Colon)
        || scan.is(from, Mark::Other)
        || scan.is(from, Mark::At)
        || matches!(scan.w(from), W::Of | W::Was | W::Maybe | W::About | W::At)
    {
        from += 1;
    }
    let (values, to) = values(scan, from, rpe)?;
    Some((Item::Effort(made(&values, rpe)), to))
}

/// `r2`, `r1-2`; above 10 it is a stroke rate.
fn short(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if !scan.glued(at + 1) || scan.is(at + 1, Mark::Slash) {
        return None;
    }
    let (values, to) = values(scan, at + 1, false)?;
    let small = values.iter().all(|value| *value <= 10.0);
    small.then(|| (Item::Effort(made(&values, false)), to))
}

/// Numbers of an effort: one, a span (its middle), a list, a decimal.
fn values(scan: &Scan<'_>, at: usize, rpe: bool) -> Option<(Vec<f64>, usize)> {
    let (first, mut to) = scan.count(at)?;
    if let Some((high, end)) = span_end(scan, first, to) {
        return Some((vec![f64::midpoint(first, high)], end));
    }
    let mut list = vec![first];
    while list.len() < LONGEST
        && let Some((value, end)) = listed(scan, to, (!rpe).then_some(list[list.len() - 1]))
        // `rir 2, 9, 8` goes on with repetitions.
        && (rpe || value <= first + MOST_APART)
    {
        list.push(value);
        to = end;
    }
    // `8,5` on the RPE scale and `1,5` in reserve are decimals where only one set can be meant.
    if list.len() == 2
        && let Some((value, end)) = scan.comma_decimal(at)
        && end == to
        && list[1].total_cmp(&5.0).is_eq()
        && (rpe || first < 5.0)
    {
        return Some((vec![value], to));
    }
    Some((list, to))
}

/// The higher end of `1-2`, `1 to 2`, `1 or 2`; three numbers with dashes are a list.
fn span_end(scan: &Scan<'_>, low: f64, at: usize) -> Option<(f64, usize)> {
    let dash = scan.is(at, Mark::Minus) && scan.glued(at + 1);
    if !(dash || matches!(scan.w(at), W::To | W::Or)) {
        return None;
    }
    let found = scan.count(at + 1).filter(|found| found.0 > low)?;
    let longer = scan.is(found.1, Mark::Minus) && scan.digits(found.1 + 1).is_some();
    (!longer).then_some(found)
}

/// The next number of a list: `,1`, `/1`, `-1`, `, r1`, or ` 1` behind a higher one `before`; it must not start a set
/// of its own.
fn listed(scan: &Scan<'_>, at: usize, before: Option<f64>) -> Option<(f64, usize)> {
    let joined = scan.is(at, Mark::Comma) || scan.is(at, Mark::Slash) || scan.is(at, Mark::Minus);
    let number = at + usize::from(joined);
    let value = scan.digits(number)?;
    let falls = before.is_some_and(|before| value < before && !scan.glued(number));
    (joined || falls).then_some(())?;
    let to = number + 1;
    let starts_set = is_counted(scan, to)
        || scan.is(to, Mark::Star)
        || scan.is(to, Mark::At)
        || scan.is(to, Mark::Colon)
        || BEHIND_SETS.contains(&scan.w(to));
    (!starts_set && value <= 10.0).then_some((value, to))
}

/// A count first: `2 rir`, `2 left`, `2 in the tank`, `maybe 2 more in me`, `2,1,0 rir`.
fn counted(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (values, to) = counted_values(scan, at)?;
    let mut from = to;
    if scan.w(from) == W::Reps {
        from += 1;
    }
    // `2ish`; `4+ left`, at least so many.
    if scan.is_ish(from) || scan.is(from, Mark::Plus) && scan.glued(from) {
        from += 1;
    }
    let more = scan.w(from) == W::More;
    if more {
        from += 1;
        if scan.w(from) == W::Reps {
            from += 1;
        }
    }
    if leads_on(scan, from) {
        return None;
    }
    let end = behind_count(scan, from)
        .or_else(|| (more && leads_to_reserve(scan, at, before)).then_some(from))?;
    let rpe = scan.w(from) == W::Rpe;
    Some((Item::Effort(made(&values, rpe)), end))
}

/// The count or the list of counts at `at`, without what belongs to a number behind it.
fn counted_values(scan: &Scan<'_>, at: usize) -> Option<(Vec<f64>, usize)> {
    let (mut values, end) = listed_values(scan, at)?;
    if values.len() > 1 && leads_on(scan, end) {
        values.truncate(1);
        let (_, to) = scan.count(at)?;
        return Some((values, to));
    }
    Some((values, end))
}

/// The same, whatever stands behind: what is to stand behind is the caller's to see.
fn listed_values(scan: &Scan<'_>, at: usize) -> Option<(Vec<f64>, usize)> {
    let (first, to) = scan.count(at)?;
    if let Some((high, end)) = span_end(scan, first, to) {
        return Some((vec![f64::midpoint(first, high)], end));
    }
    if let Some((value, end)) = scan.comma_decimal(at)
        && matches!(scan.w(end), W::Rir | W::Left | W::Rpe)
        && first < 10.0
    {
        return Some((vec![value], end));
    }
    let mut list = vec![first];
    let mut end = to;
    while list.len() < LONGEST
        && (scan.is(end, Mark::Comma) || scan.is(end, Mark::Slash) || scan.is(end, Mark::Minus))
        && scan.glued(end)
        && scan.glued(end + 1)
        && let Some(value) = scan.digits(end + 1)
    {
        list.push(value);
        end += 2;
    }
    if list.len() > 1
        && list.iter().all(|value| *value <= 10.0)
        && behind_count(scan, end).is_some()
    {
        return Some((list, end));
    }
    Some((vec![first], to))
}

/// `x8 rir 1`: the word belongs to the number behind it.
fn leads_on(scan: &Scan<'_>, at: usize) -> bool {
    if scan.w(at) == W::Left {
        return left_first(scan, at).is_some();
    }
    if !matches!(scan.w(at), W::Rir | W::Rpe) {
        return false;
    }
    let skip = usize::from(scan.is(at + 1, Mark::Colon) || scan.is(at + 1, Mark::Other));
    let Some((_, to)) = scan.count(at + 1 + skip) else {
        return false;
    };
    !matches!(
        scan.w(to),
        W::Kg | W::Lb | W::K | W::Reps | W::Sets | W::Min | W::Sec | W::S | W::Left | W::Rir
    ) && !scan.is(to, Mark::Times)
        && !scan.is(to, Mark::Prime)
}

/// The words behind a count that make it reserve.
fn behind_count(scan: &Scan<'_>, at: usize) -> Option<usize> {
    match scan.w(at) {
        W::Rir | W::Rpe => Some(at + 1),
        W::Left => Some(left_in(scan, at + 1)),
        W::In => in_the_tank(scan, at),
        W::To if scan.w(at + 1) == W::Spare => Some(at + 2),
        W::Spare => Some(at + 1),
        _ if short_of_failure(scan, at).is_some() => short_of_failure(scan, at),
        _ if scan.text_at(at) == "possible" => Some(at + 1),
        _ => None,
    }
}

/// `2 shy of failure`, `one short of failing`, `2 from failure`.
fn short_of_failure(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let from = match scan.text_at(at) {
        "shy" | "short" | "away" | "off" => at + 1,
        "from" | "before" => at,
        _ => return None,
    };
    let of = matches!(scan.text_at(from), "of" | "from" | "before");
    let to = from + usize::from(of);
    matches!(scan.text_at(to), "failure" | "failing" | "fail").then_some(to + 1)
}

/// `left in the tank` is one phrase.
fn left_in(scan: &Scan<'_>, at: usize) -> usize {
    in_the_tank(scan, at).unwrap_or(at)
}

fn in_the_tank(scan: &Scan<'_>, at: usize) -> Option<usize> {
    if scan.w(at) != W::In {
        return None;
    }
    let from = if matches!(scan.w(at + 1), W::The | W::My) {
        at + 2
    } else {
        at + 1
    };
    match scan.w(from) {
        W::Tank | W::Reserve | W::Me => Some(from + 1),
        _ => None,
    }
}

/// `could have done 2 more`, `couldve got another 2`, before the set or behind it.
fn could_more(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let mut from = at + 1;
    let mut another = false;
    while from < at + 6 && scan.count(from).is_none() {
        let text = scan.token(from).map(|t| scan.text.text_of(t))?;
        match text {
            "have" | "of" | "ve" | "done" | "got" | "gotten" | "had" | "hit" | "maybe"
            | "probably" | "prob" | "easily" | "managed" | "just" | "ground" => {}
            "another" => another = true,
            _ => return None,
        }
        from += 1;
    }
    let (values, mut to) = counted_values(scan, from)?;
    if scan.w(to) == W::Reps {
        to += 1;
    }
    if scan.w(to) == W::More {
        to += 1 + usize::from(scan.w(to + 1) == W::Reps);
    } else if !another {
        return None;
    }
    let end = in_the_tank(scan, to).unwrap_or(to);
    Some((Item::Effort(made(&values, false)), end))
}

/// `maybe 2 more`, `had 2 more`, `could have done 2 more`.
fn leads_to_reserve(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> bool {
    let set_before = before
        .iter()
        .any(|s| matches!(s.item, Item::Num(_) | Item::FailedAt(_)));
    let lead = (at.saturating_sub(4)..at)
        .any(|i| matches!(scan.w(i), W::Maybe | W::Had) || scan.text_at(i) == "could");
    set_before && lead
}

/// `left 2 in the tank`, `left one in reserve`.
fn left_first(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    // `in the tank` has to follow, so that no other number can claim the word behind this one.
    let (values, to) = listed_values(scan, at + 1)?;
    let from = if scan.w(to) == W::Reps { to + 1 } else { to };
    let end = in_the_tank(scan, from)?;
    Some((Item::Effort(made(&values, false)), end))
}

fn failure(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if matches!(scan.w(at), W::Couldnt) || scan.text.text_of(scan.token(at)?) == "missed" {
        return None;
    }
    Some((failed(scan, at), at + 1))
}

/// The failure at `at`: an effort, or a word where it did not come.
fn failed(scan: &Scan<'_>, at: usize) -> Item {
    match short_of(scan, at) {
        None => Item::Effort(Effort::One(0.0)),
        Some(Some(reserve)) => Item::Effort(one(reserve)),
        Some(None) => Item::Word,
    }
}

fn to_failure(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let from = if matches!(scan.w(at + 1), W::A | W::The) {
        at + 2
    } else {
        at + 1
    };
    match scan.w(from) {
        W::Failure | W::Failed => Some((failed(scan, from), from + 1)),
        W::F if alone(scan, from) => Some((failed(scan, from), from + 1)),
        _ => None,
    }
}

/// `nothing left`, `none in the tank`, `no reps left`.
fn nothing(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let mut from = at + 1;
    while matches!(scan.w(from), W::Reps | W::More) {
        from += 1;
    }
    let end = behind_count(scan, from)?;
    Some((Item::Effort(Effort::One(0.0)), end))
}

/// `triceps failed first`: the order in which muscles did, and no repetition.
fn muscle_failed_first(scan: &Scan<'_>, at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| scan.token(before));
    scan.text_at(at + 1) == "first"
        && before.is_some_and(|t| t.word.roles.any(Roles::NAME) || t.word.w == W::Limb)
}

/// `failed the 9th`, `failed on rep 9`, `couldn't get the ninth`.
fn failed_at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if muscle_failed_first(scan, at) {
        return None;
    }
    let mut from = at + 1;
    let mut counted = false;
    while from < at + 6 {
        match scan.w(from) {
            W::The | W::On | W::At | W::My | W::Get | W::Do | W::That | W::Number => from += 1,
            W::Reps => {
                counted = true;
                from += 1;
            }
            _ if has(
                "finish lock make complete grind lift halfway through",
                scan.text_at(from),
            ) =>
            {
                from += 1;
            }
            _ => break,
        }
    }
    let (value, to) = ordinal(scan, from).or_else(|| {
        let found = scan.digits(from).filter(|_| counted)?;
        Some((found, from + 1))
    })?;
    let end = if scan.w(to) == W::Reps || scan.w(to) == W::One {
        to + 1
    } else {
        to
    };
    Some((Item::FailedAt(value), end))
}

pub(super) fn ordinal(scan: &Scan<'_>, at: usize) -> Option<(f64, usize)> {
    if let Some(value) = scan.digits(at)
        && scan.w(at + 1) == W::Th
        && scan.glued(at + 1)
    {
        return Some((value, at + 2));
    }
    let token = scan.token(at).filter(|token| token.word.w == W::Ordinal)?;
    Some((token.value, at + 1))
}

/// After `@`: `@ rpe 8`, `@2 rir`, `@ failure`, `last one @9`.
pub(crate) fn after_at(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    // Behind the words for a set stands how hard it was.
    let said = before.iter().rev().find(|s| s.item != Item::Word);
    let of_sets = |s: &Spanned| matches!(s.item, Item::Last | Item::LastFew(_) | Item::Every);
    if said.is_some_and(of_sets)
        && let Some(value) = scan.digits(at + 1)
        && (5.0..=10.0).contains(&value)
        && let effort @ Effort::One(_) = of_rpe(&[value])
        && !is_counted(scan, at + 2)
    {
        return Some((Item::Effort(effort), at + 2));
    }
    match scan.w(at + 1) {
        W::Rpe => led(scan, at + 1, true),
        W::Rir => led(scan, at + 1, false),
        W::Failure => failure(scan, at + 1),
        W::F if alone(scan, at + 1) => failure(scan, at + 1),
        _ => {
            let (_, to) = counted_values(scan, at + 1)?;
            behind_count(scan, to)?;
            counted(scan, at + 1, &[])
        }
    }
}

/// Units, and words for what is counted.
const COUNTED: &[W] = &[
    W::Kg,
    W::Lb,
    W::K,
    W::Reps,
    W::Sets,
    W::For,
    W::Min,
    W::Sec,
    W::S,
    W::Left,
    W::Rir,
];

/// What else may stand behind the number that begins a set.
const BEHIND_SETS: &[W] = &[
    W::M,
    W::More,
    W::In,
    W::Each,
    W::R,
    W::F,
    W::Rpe,
    W::Failure,
    W::Per,
    W::Th,
    W::Rest,
];

/// Whether a unit, a cross or a word for what is counted stands at `at`.
fn is_counted(scan: &Scan<'_>, at: usize) -> bool {
    scan.is(at, Mark::Times) || COUNTED.contains(&scan.w(at))
}

/// Joins an effort to the one directly before it, with at most a comma between: `r2 r1 r0` is one
/// effort for each set. Returns whether it did.
pub(crate) fn joined(out: &mut Vec<Spanned>, effort: &Effort, to: usize) -> bool {
    let count = out.len();
    let place = match out.last().map(|last| &last.item) {
        Some(Item::Effort(_)) => count - 1,
        Some(Item::Comma | Item::Slash) if count > 1 => count - 2,
        _ => return false,
    };
    let Effort::One(value) = effort else {
        return false;
    };
    let Some(Spanned {
        item: Item::Effort(earlier),
        to: end,
        ..
    }) = out.get_mut(place)
    else {
        return false;
    };
    match earlier {
        Effort::One(first) => *earlier = Effort::Many(vec![*first, *value]),
        Effort::Many(list) if list.len() < LONGEST => list.push(*value),
        _ => return false,
    }
    *end = to;
    out.truncate(place + 1);
    true
}

/// Reserve of these RPE values.
pub(crate) fn of_rpe(values: &[f64]) -> Effort {
    made(values, true)
}

/// Words that say how much was left. Common practice, no source.
static TOLD: [(Phrases, f64); 2] = [
    (
        Phrases::new(&[
            "everything|all i had",
            "max|maximal effort",
            "not a rep more",
            "not one more",
            "couldnt ?have do|done|get another",
        ]),
        0.0,
    ),
    (
        Phrases::new(&[
            "plenty|loads|lots|miles|heaps left",
            "plenty|loads|lots in the tank",
            "plenty in reserve",
        ]),
        EASY_LEAVES,
    ),
];

/// So many could still have been done.
static ANOTHER: Phrases = Phrases::new(&[
    "good for another # ?more ?reps|rep",
    "good for # more ?reps|rep",
]);

/// What stands right before a failure that did not come, with what it leaves where it says so.
#[rustfmt::skip]
static SHORT_OF: [(Phrases, Option<f64>); 3] = [
    (
        Phrases::new(
            &["not ?even close to", "nowhere close to", "nowhere|not near", "far from|off", "well short of"],
        ),
        Some(EASY_LEAVES),
    ),
    (Phrases::new(&["close to", "short of", "near|almost|nearly ?to"]), Some(HARD_LEAVES)),
    (
        Phrases::new(
            &["no|without|before", "not ?to", "didnt go to", "didnt take it to", "didnt hit|reach", "never to"],
        ),
        None,
    ),
];

/// So many words stand before a failure.
const LONGEST_BEFORE: usize = 4;

/// Sets and repetitions that were not done.
static NOT_DONE: Phrases = Phrases::new(&[
    "# reps|rep short",
    "# ?more|other sets|set left|still to do|go|come",
    "# ?more|other sets|set to do|go|come",
    "# ?more|other sets|set left|remaining",
    "# ?more|other sets|set after this|that",
]);

/// An effort in words that starts at `at`.
pub(crate) fn told(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let told = |(phrases, left): &(Phrases, f64)| {
        let found = phrases.find(scan, at)?;
        Some((Item::Effort(one(*left)), found.to))
    };
    let another = || {
        let found = ANOTHER.find(scan, at)?;
        Some((Item::Effort(one(*found.numbers.first()?)), found.to))
    };
    let told = TOLD.iter().find_map(told).or_else(another);
    told.or_else(|| out_of_ten(scan, at, before))
}

/// `8 out of 10`, `8/10 effort`, `effort 8`, `effort 8/10`: the scale of the trade.
fn out_of_ten(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let is_effort = |at: usize| matches!(scan.text_at(at), "effort" | "difficulty");
    let is_ten = |at: usize| scan.digits(at).is_some_and(|ten| (ten - 10.0).abs() < 1e-9);
    let led = is_effort(at);
    let number = at + usize::from(led);
    let value = scan.digits(number)?;
    let to = number + 1;
    let worded = scan.text_at(to) == "out" && scan.text_at(to + 1) == "of" && is_ten(to + 2);
    let slashed = scan.is(to, Mark::Slash) && is_ten(to + 1);
    let of_ten = to + 3 * usize::from(worded) + 2 * usize::from(slashed);
    let named = is_effort(of_ten);
    // `10 out of 10` by itself is praise.
    let behind_set = before.iter().any(|s| matches!(s.item, Item::Num(_)));
    let told = if worded || slashed {
        led || worded && behind_set || slashed && named
    } else {
        led && !is_counted(scan, to)
    };
    let effort = Item::Effort(of_rpe(&[value]));
    (told && is_on_scale(&effort)).then_some((effort, of_ten + usize::from(named && !led)))
}

fn is_on_scale(item: &Item) -> bool {
    matches!(item, Item::Effort(Effort::One(_)))
}

/// What the words before a failure at `at` make of it: it came (`None`), or it did not, with what was left where
/// they say so.
fn short_of(scan: &Scan<'_>, at: usize) -> Option<Option<f64>> {
    let ends = |from: usize, phrases: &Phrases| {
        phrases.find(scan, from).is_some_and(|found| found.to == at)
    };
    (at.saturating_sub(LONGEST_BEFORE)..at).find_map(|from| {
        let mut rows = SHORT_OF.iter();
        rows.find(|(phrases, _)| ends(from, phrases))
            .map(|(_, left)| *left)
    })
}

/// `2 sets left`, `two more sets to go`, `3 reps short`: what was not done, from the number on.
pub(crate) fn not_done(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let end = NOT_DONE.find(scan, at)?.to;
    // `2 sets left arm`, `2 sets to go to failure` are something else.
    let ends_here = scan
        .token(end)
        .is_none_or(|t| !matches!(t.kind, Kind::Word | Kind::Number));
    (ends_here || scan.text_at(end - 1) == "short").then_some(end)
}
