//! Repetitions and sets said in words: `eight`, `a triple`, `three fives`, `a set of 8`, `twice`,
//! `reps: 8`.
//!
//! A number word is chat as often as it is a count, so each is read only where what stands before
//! it and behind it belongs to a set.

use super::effort;
use super::item::{Effort, Item, Num, Spanned};
use super::number;
use super::scan::{Phrase, Scan};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// A load is told to be lifted at least so often; a set is done less often. Common practice, no source.
const LEAST_TIMES: f64 = 5.0;

/// A count in words that starts at `at`.
pub(crate) fn at(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    match scan.w(at) {
        W::A => article(scan, at, before),
        W::RepNoun => noun(scan, at, before),
        W::Twice => repeated(scan, at + 1, 2.0, before),
        W::Weight | W::Load | W::Reps | W::Sets => field(scan, at, before),
        W::Numeral | W::Couple | W::One => numeral(scan, at, before),
        _ => None,
    }
}

fn bare(value: f64) -> Num {
    Num {
        value,
        ..Num::default()
    }
}

fn said_reps(value: f64) -> Item {
    Item::Num(Num {
        reps: true,
        ..bare(value)
    })
}

/// `three times`: so many sets of what stands before.
pub(crate) fn times(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (value, to) = scan.count(at)?;
    let times = scan.text_at(to) == "times";
    let ends = scan.token(to + 1).is_none_or(|t| t.is(Mark::Line));
    let crossed = scan.is(to, Mark::Times);
    // `40 lbs 12 times`, `50 kg 10x`: behind a load by itself they are repetitions.
    let loaded = is_by_itself(scan, before) && value >= LEAST_TIMES;
    if loaded && (times || crossed && clause_ends(scan, to + 1)) {
        return Some((said_reps(value), to + 1));
    }
    // `100x8 3x`
    let crossed = crossed && ends && before.iter().rev().take(3).any(|s| s.item == Item::Times);
    if !times && !crossed {
        return None;
    }
    repeated(scan, to + 1, value, before)
}

/// Whether a load was just told, and no repetitions since its exercise was named but such: `14 kg 12 times`, `50 kg, ten
/// times, ten times`.
fn is_by_itself(scan: &Scan<'_>, before: &[Spanned]) -> bool {
    let is_load = |item: &Item| matches!(item, Item::Num(num) if num.is_load());
    if let [.., led, load] = before
        && is_load(&load.item)
        && matches!(led.item, Item::Comma | Item::And | Item::Name(_))
    {
        return true;
    }
    let told = before
        .iter()
        .rev()
        .take_while(|s| !matches!(s.item, Item::Name(_) | Item::Break(_)));
    let between = |s: &&Spanned| {
        matches!(
            s.item,
            Item::Comma | Item::Dash(_) | Item::Word | Item::With | Item::At | Item::And
        )
    };
    let so_often = |s: &&Spanned| {
        matches!(s.item, Item::Num(num) if num.reps) && scan.text_at(s.to - 1) == "times"
    };
    let mut told = told.filter(|s| !between(s)).skip_while(so_often);
    told.next().is_some_and(|s| is_load(&s.item))
        && !told.any(|s| matches!(s.item, Item::Num(_) | Item::Times | Item::Reps | Item::Sets))
}

/// A number of sets behind a set, with nothing behind it that it could count (`twice a week`).
fn repeated(scan: &Scan<'_>, to: usize, value: f64, before: &[Spanned]) -> Option<Phrase> {
    let behind_set = matches!(
        before
            .iter()
            .rev()
            .map(|s| &s.item)
            .find(|item| !matches!(item, Item::Comma)),
        Some(
            Item::Num(_) | Item::Reps | Item::Side | Item::PerHand | Item::Every | Item::Effort(_)
        )
    );
    let ends = clause_ends(scan, to) || effort::at(scan, to, before).is_some();
    (behind_set && ends).then_some((Item::Repeat(value), to))
}

/// `(x3)`, `(3x)`: so many sets of what stands before.
pub(crate) fn bracketed(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (number, cross) = if scan.is(at + 1, Mark::Times) {
        (at + 2, at + 1)
    } else {
        (at + 1, at + 2)
    };
    let value = scan.digits(number)?;
    let closed = scan.is(cross, Mark::Times) && scan.is(at + 3, Mark::Close);
    let behind = matches!(
        before.last().map(|s| &s.item),
        Some(Item::Num(_) | Item::Reps | Item::Side | Item::PerHand)
    );
    (closed && behind).then_some((Item::Repeat(value), at + 4))
}

fn clause_ends(scan: &Scan<'_>, at: usize) -> bool {
    scan.token(at)
        .is_none_or(|t| matches!(t.kind, Kind::Mark(mark) if mark != Mark::Times))
        || matches!(scan.w(at), W::And | W::Then | W::At | W::With)
}

/// `weight 185`, `reps: 8`, `sets = 3`: fields of a form.
fn field(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let equals = scan.is(at + 1, Mark::Colon) || scan.is(at + 1, Mark::Other);
    let from = at + 1 + usize::from(equals);
    let value = scan.digits(from)?;
    let last = before.last().map(|s| &s.item);
    if last == Some(&Item::Same) {
        return None;
    }
    // `8 reps` and `3 sets` count what stands before them.
    if matches!(last, Some(Item::Num(num)) if !num.is_load() && !num.reps) {
        return None;
    }
    let plural = scan.text.text_of(scan.token(at)?).ends_with('s');
    match scan.w(at) {
        W::Weight | W::Load => {
            let (num, to) = number::number(scan, from, true)?;
            let load = Num { load: true, ..num };
            Some((Item::Num(load), to))
        }
        W::Reps if equals || matches!(last, Some(Item::Num(_))) => {
            Some((said_reps(value), from + 1))
        }
        W::Sets if plural && (clause_ends(scan, from + 1) || scan.w(from + 1) == W::Reps) => {
            let colon = scan.is(from + 1, Mark::Colon);
            (!colon).then_some((Item::Repeat(value), from + 1))
        }
        _ => None,
    }
}

/// `a triple`, `a heavy single`, `a set of 8`, `for a solid 8`.
fn article(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let mut to = at + 1;
    while to < at + 3 && is_adjective(scan, to) {
        to += 1;
    }
    match scan.w(to) {
        W::RepNoun => noun(scan, to, before),
        W::Sets | W::Rounds if scan.w(to + 1) == W::Of && scan.count(to + 2).is_some() => {
            Some((Item::Num(bare(1.0)), to))
        }
        _ => {
            let behind = matches!(
                before.last().map(|s| &s.item),
                Some(Item::For | Item::Times)
            );
            let (value, end) = scan.count(to).filter(|_| behind)?;
            let counts = matches!(
                scan.w(end),
                W::Kg | W::Lb | W::K | W::Min | W::Sec | W::Sets
            ) || scan.is(end, Mark::Times);
            (!counts && to > at + 1).then_some((said_reps(value), end))
        }
    }
}

/// A word that may stand between `a` and a count: `heavy`, `solid`, `slow`.
fn is_adjective(scan: &Scan<'_>, at: usize) -> bool {
    scan.token(at).is_some_and(|token| {
        let grammar = matches!(
            token.word.w,
            W::None | W::Hard | W::Good | W::Strong | W::Light | W::Heavy | W::Last | W::Dead
        );
        token.kind == Kind::Word
            && grammar
            && token.word.roles.any(Roles::FILL)
            && !token.word.roles.any(Roles::NAME)
    })
}

/// `triple`, `fives` where repetitions stand, and no name starts with the word (`single arm row`).
fn noun(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let token = scan.token(at)?;
    if scan.names.exercise_at(scan.tokens, at).is_some() {
        return None;
    }
    let to = at + 1;
    let word_behind = scan.token(to).is_some_and(|t| {
        t.kind == Kind::Word
            && !matches!(
                t.word.w,
                W::At
                    | W::With
                    | W::Wi
                    | W::And
                    | W::Then
                    | W::On
                    | W::For
                    | W::Left
                    | W::But
                    | W::Rpe
                    | W::Rir
                    | W::R
                    | W::F
            )
            && (t.word.roles.any(Roles::NAME) || !t.word.roles.any(Roles::FILL))
    });
    let plural = scan.text.text_of(token).ends_with('s');
    let last = before.last().map(|s| &s.item);
    let counted = matches!(last, Some(Item::Num(_))) || behind_sets_of(before);
    // How many sets `fives at 100` were is not said.
    let sets_follow = scan.is(to, Mark::Comma)
        && scan
            .count(to + 1)
            .is_some_and(|(_, end)| scan.w(end) == W::Sets);
    let fits = if plural {
        counted || sets_follow
    } else {
        counted
            || matches!(
                last,
                Some(Item::For | Item::Times | Item::And | Item::Name(_))
            )
            || led_by_adjective(scan, at)
    };
    (fits && !word_behind).then(|| (said_reps(token.value), to))
}

/// `a triple`, `top single`, `one heavy double`.
fn led_by_adjective(scan: &Scan<'_>, at: usize) -> bool {
    at.checked_sub(1)
        .is_some_and(|at| matches!(scan.w(at), W::A | W::One) || is_adjective(scan, at))
}

/// A number word where only a count can stand: `eight reps`, `80 x eight`, `three sets`, or with
/// the parts of a set on both sides.
fn numeral(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (value, to) = scan.count(at)?;
    // `two sets of ten and one of eight`
    if scan.w(at) == W::One
        && scan.w(to) == W::Of
        && before.iter().any(|s| s.item == Item::Sets)
        && let Some((reps, end)) = scan.count(to + 1)
    {
        return Some((said_reps(reps), end));
    }
    let last = before.last().map(|s| &s.item);
    let behind = matches!(last, Some(Item::Times | Item::For)) || behind_sets_of(before);
    let word = scan.w(at) == W::Numeral;
    if word && scan.w(to) == W::Plates && scan.w(to + 1) == W::For && scan.count(to + 2).is_some() {
        return Some((Item::OpenLoad, to + 1));
    }
    let counts = scan.w(to) == W::Reps
        || word && matches!(scan.w(to), W::Sets | W::Rounds | W::RepNoun)
        || word && scan.w(to) == W::More && scan.w(to + 1) == W::Sets
        || word && scan.w(to) == W::By && scan.count(to + 1).is_some()
        || word && scan.text_at(to) == "times" && scan.count(to + 1).is_some();
    let among = word && opens_count(scan, before) && closes_count(scan, to, before);
    (behind || counts || among).then(|| (Item::Num(bare(value)), to))
}

/// `three sets of`.
fn behind_sets_of(before: &[Spanned]) -> bool {
    matches!(before, [.., sets, of] if sets.item == Item::Sets && of.item == Item::Of)
}

/// Whether what stands before a number word leaves room for a count of a set.
fn opens_count(scan: &Scan<'_>, before: &[Spanned]) -> bool {
    let Some(last) = before.last() else {
        return true;
    };
    match last.item {
        Item::Comma
        | Item::Slash
        | Item::Colon
        | Item::And
        | Item::Label
        | Item::With
        | Item::At
        | Item::Name(_)
        | Item::Num(_)
        | Item::Break(_) => true,
        Item::Word => {
            matches!(scan.w(last.from), W::Got | W::Did | W::Did2)
                || scan.text_at(last.from) == "only"
        }
        _ => false,
    }
}

/// Whether what stands behind a number word belongs to a set.
fn closes_count(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> bool {
    let comma = usize::from(scan.is(at, Mark::Comma));
    let this_time = matches!(scan.w(at), W::This | W::That) && scan.w(at + 1) == W::Time;
    let joined =
        matches!(scan.w(at), W::At | W::With | W::For | W::Wi) && scan.count(at + 1).is_some();
    // `six pull-ups, then five`
    let listed = || {
        let name = scan.names.exercise_at(scan.tokens, at)?;
        let then = name.to + usize::from(scan.is(name.to, Mark::Comma));
        (scan.w(then) == W::Then).then(|| scan.count(then + 1))?
    };
    clause_ends(scan, at)
        || listed().is_some()
        || this_time
        || joined
        || matches!(scan.w(at), W::Kg | W::Lb)
        || scan.count(at).is_some()
        || scan.is(at, Mark::Times)
        || effort::at(scan, at + comma, before).is_some()
}

/// More repetitions than this are not done with help. Common practice, no source.
const MOST_HELPED: f64 = 10.0;

/// `+ 2 with help`, `+2 forced`, `2 forced reps`, behind a set: they were not the lifter's own, so the
/// set went to failure before them.
pub(crate) fn helped(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let plus = usize::from(scan.is(at, Mark::Plus));
    let (value, from) = scan.count(at + plus)?;
    let mut behind = before.iter().rev().map(|s| &s.item);
    let set = behind.find(|item| !matches!(item, Item::Comma | Item::And | Item::Effort(_)));
    let fits = (1.0..=MOST_HELPED).contains(&value)
        && matches!(set, Some(Item::Num(_) | Item::Reps | Item::Side));
    if !fits {
        return None;
    }
    let word = |at: usize| scan.token(at).is_some_and(|token| token.kind == Kind::Word);
    let mut to = from;
    while to < from + 5 && word(to) && !is_help(scan, to) && (plus > 0 || is_led(scan, to)) {
        to += 1;
    }
    // `4+1F`
    if plus > 0 && matches!(scan.w(from), W::F | W::Failed) {
        to = from;
    } else if !is_help(scan, to) {
        return None;
    }
    let end = to + 1 + usize::from(scan.w(to + 1) == W::Reps);
    Some((Item::Effort(Effort::One(0.0)), end))
}

/// Words of repetitions that somebody else took a part of.
fn is_help(scan: &Scan<'_>, at: usize) -> bool {
    let words = [
        "help", "assist", "spot", "spotter", "forced", "negative", "cheat",
    ];
    let text = scan.text_at(at);
    !text.is_empty() && words.iter().any(|word| text.starts_with(word))
}

/// What leads from a number to them: `2 more with a bit of help`.
fn is_led(scan: &Scan<'_>, at: usize) -> bool {
    matches!(
        scan.w(at),
        W::Reps | W::More | W::With | W::Wi | W::A | W::Of
    ) || matches!(scan.text_at(at), "bit" | "some" | "little")
}

/// `x3+ got 7`, `x1+ (7)`: as many as could be done, of which at least so many were to be; what follows
/// is how many were. `(1+)` behind repetitions says what was to be.
pub(crate) fn at_least(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let least = scan.digits(at)?;
    let open = scan.is(at + 1, Mark::Plus) && scan.glued(at + 1);
    let ends = scan.digits(at + 2).is_none() || !scan.glued(at + 2);
    if !open || !ends || least.fract() != 0.0 {
        return None;
    }
    let bracketed = at > 0 && scan.is(at - 1, Mark::Open) && scan.is(at + 2, Mark::Close);
    if bracketed && before.iter().any(|s| matches!(s.item, Item::Num(_))) {
        return Some((Item::Label, at + 2));
    }
    if !matches!(
        before.last().map(|s| &s.item),
        Some(Item::Times | Item::For)
    ) {
        return None;
    }
    let mut to = at + 2;
    let opened = scan.is(to, Mark::Open);
    while to < at + 5
        && (matches!(scan.w(to), W::Got | W::Did | W::Did2 | W::For)
            || matches!(
                scan.token(to).map(|t| t.kind),
                Some(Kind::Mark(
                    Mark::Comma | Mark::Open | Mark::Colon | Mark::Minus | Mark::Other
                ))
            ))
    {
        to += 1;
    }
    let done = scan.count(to).filter(|(done, end)| {
        *done >= least
            && to > at + 2
            && (opened || clause_ends(scan, *end) || scan.w(*end) == W::Reps)
    });
    let (value, end) = done?;
    let closed = opened && scan.is(end, Mark::Close);
    Some((said_reps(value), end + usize::from(closed)))
}
