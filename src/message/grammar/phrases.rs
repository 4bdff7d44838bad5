//! Tokens to [`Item`]s: the phrases of the trade, each read where it starts.
//!
//! Nothing is decided here about what a message is. Effort and rest have files of their own.

use super::core;
use super::counts;
use super::item::{Effort, Item, Num, Sign, Spanned};
use super::scan::{Phrase, Scan, is_of_plan, is_sets};
use super::{day, effort, label, number, rest};
use crate::domain::quantities::mass::{LAST_PIN, Unit};
use crate::message::reading::Technique;
use crate::message::words::token::{Kind, Mark, Token};
use crate::message::words::vocabulary::{Roles, W, Word};

/// Every item of the message, in order.
pub(crate) fn items(scan: &Scan<'_>) -> Vec<Spanned> {
    let mut out = Vec::with_capacity(scan.tokens.len());
    let mut at = 0;
    while at < scan.tokens.len() {
        let (item, to) = next(scan, at, &out);
        if let Item::Effort(effort) = &item
            && effort::joined(&mut out, effort, to)
        {
            at = to;
            continue;
        }
        if item == Item::Side && scan.w(at) == W::L {
            fewer_of_both(&mut out, scan.digits(at + 1));
        }
        out.push(Spanned { item, from: at, to });
        at = to.max(at + 1);
    }
    out
}

/// `10 L 9 R`: both sides did the fewer.
fn fewer_of_both(out: &mut [Spanned], other: Option<f64>) {
    if let (Some(last), Some(other)) = (out.last_mut(), other)
        && let Item::Num(num) = &mut last.item
    {
        num.value = num.value.min(other);
    }
}

fn next(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    let token = &scan.tokens[at.min(scan.tokens.len() - 1)];
    match token.kind {
        Kind::Mark(mark) => marked(scan, at, mark, before),
        Kind::Number => numbered(scan, at, before),
        Kind::Clock => rest::at(scan, at).unwrap_or((Item::Foreign, at + 1)),
        Kind::Date => day::at(scan, at).unwrap_or((Item::Foreign, at + 1)),
        Kind::Word => worded(scan, at, before),
    }
}

fn marked(scan: &Scan<'_>, at: usize, mark: Mark, before: &[Spanned]) -> Phrase {
    let one = |item| (item, at + 1);
    match mark {
        Mark::Times | Mark::Star => one(Item::Times),
        Mark::At => effort::after_at(scan, at, before)
            .or_else(|| label::label_at(scan, at))
            .unwrap_or((Item::At, at + 1)),
        Mark::Plus => plus(scan, at, before),
        Mark::Minus => minus(scan, at, before),
        Mark::Comma => one(Item::Comma),
        Mark::Slash => slash(scan, at),
        Mark::Colon => one(Item::Colon),
        Mark::And => one(Item::And),
        Mark::Semicolon | Mark::Stop | Mark::Bang | Mark::Question | Mark::Symbol | Mark::Laugh => {
            one(Item::Break(false))
        }
        Mark::Line => one(Item::Break(true)),
        // `#9 x 12`: a place on a stack.
        Mark::Hash
            if scan.digits(at + 1).is_some()
                && scan.is(at + 2, Mark::Times)
                && scan.digits(at + 3).is_some()
                && !scan.is(at + 4, Mark::Times) =>
        {
            (Item::OpenLoad, at + 2)
        }
        Mark::Hash => match label::label_at(scan, at) {
            Some(label) => label,
            None => one(Item::Word),
        },
        Mark::Money | Mark::Percent => one(Item::Foreign),
        // `(+2)` behind a set is some effort, but not one of the trade's.
        Mark::Open
            if !follows_lift(before)
                && scan.is(at + 1, Mark::Plus)
                && scan.digits(at + 2).is_some()
                && scan.is(at + 3, Mark::Close) =>
        {
            (Item::Effort(Effort::Bad), at + 4)
        }
        Mark::Open => counts::bracketed(scan, at, before).unwrap_or((Item::Comma, at + 1)),
        // A ditto on a line of its own.
        Mark::DoublePrime
            if at > 0
                && scan.is(at - 1, Mark::Line)
                && (at + 1 == scan.tokens.len() || scan.is(at + 1, Mark::Line)) =>
        {
            one(Item::Same)
        }
        Mark::Close | Mark::Prime | Mark::DoublePrime | Mark::Other => one(Item::Comma),
    }
}

/// `e/s`, `l/r`, `/leg`, `w/u` start at a slash or before it; a bare slash divides a list.
fn slash(scan: &Scan<'_>, at: usize) -> Phrase {
    match scan.w(at + 1) {
        W::Limb | W::Side => (Item::Side, at + 2),
        W::Hand => (Item::PerHand, at + 2),
        _ if in_brackets(scan, at) => (Item::Comma, at + 1),
        _ => (Item::Slash, at + 1),
    }
}

/// Whether several slashes are all that parts the numbers in brackets: `80 (5/5/4)`.
fn in_brackets(scan: &Scan<'_>, at: usize) -> bool {
    let listed = |at: &usize| scan.digits(*at).is_some() || scan.is(*at, Mark::Slash);
    let from = (0..at).rev().take_while(listed).count();
    let behind = (at + 1..).take_while(listed).count();
    let open = at.checked_sub(from + 1);
    open.is_some_and(|at| scan.is(at, Mark::Open))
        && scan.is(at + behind + 1, Mark::Close)
        && from + behind > 3
}

/// `+20`, or `+ 20` behind a name, the body or `same`; between numbers it only joins.
fn plus(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    if let Some(phrase) = counts::helped(scan, at, before) {
        return phrase;
    }
    if (follows_lift(before) || scan.glued(at + 1) && !scan.glued(at))
        && let Some(phrase) = number::signed(scan, at, Sign::Plus)
    {
        return phrase;
    }
    (Item::And, at + 1)
}

/// Whether a name, the body or `same` was just read, so that a load may follow.
fn follows_lift(before: &[Spanned]) -> bool {
    matches!(
        before.last().map(|s| &s.item),
        Some(Item::Name(_) | Item::Body | Item::Same)
    )
}

fn minus(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    let number_before = before
        .last()
        .is_some_and(|last| matches!(last.item, Item::Num(_)));
    let body_before = before.last().is_some_and(|last| last.item == Item::Body);
    // `80x-5`: behind a cross a number is due.
    let crossed = before.last().is_some_and(|last| last.item == Item::Times);
    let apart = !scan.glued(at) && !number_before || crossed;
    let opens = apart && scan.glued(at + 1) || body_before;
    if opens && let Some(phrase) = number::signed(scan, at, Sign::Minus) {
        return phrase;
    }
    let joins = |at: usize| {
        let number = scan.digits(at + 1).is_some() && scan.glued(at + 1);
        scan.is(at, Mark::Minus) && scan.glued(at) && number
    };
    // `10-9-8-7`: a list.
    let left = (0..at / 2).take_while(|back| joins(at - 2 * back));
    let right = (0..).take_while(|more| joins(at + 2 * (more + 1)));
    if joins(at) && left.count() + right.take(LONG_LIST).count() >= LONG_LIST {
        return (Item::Slash, at + 1);
    }
    (Item::Dash(scan.glued(at) && scan.glued(at + 1)), at + 1)
}

/// A smaller number may be repetitions.
const LEAST_OF_TWO: f64 = 30.0;
/// So many marks between numbers part a list.
const LONG_LIST: usize = 3;

/// `felt 7/10`, `energy 6 / 10`: a mark out of ten.
fn mark_out_of_ten(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let led = at.checked_sub(1).map(|at| scan.text_at(at))?;
    let rated = matches!(
        led,
        "felt" | "feels" | "feeling" | "energy" | "sleep" | "mood" | "pump"
    );
    let ten = scan
        .digits(at + 2)
        .is_some_and(|value| (value - 10.0).abs() < f64::EPSILON);
    (rated && ten && scan.is(at + 1, Mark::Slash)).then_some((Item::Foreign, at + 3))
}

fn numbered(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    label::label_at(scan, at)
        .or_else(|| mark_out_of_ten(scan, at))
        .or_else(|| one_limb(scan, at))
        .or_else(|| rest::at(scan, at))
        .or_else(|| not_done(scan, at, before))
        .or_else(|| effort::at(scan, at, before))
        .or_else(|| day::at(scan, at))
        .or_else(|| label::ordinal(scan, at))
        .or_else(|| tempo_digits(scan, at))
        .or_else(|| counted_partials(scan, at, before))
        .or_else(|| counts::helped(scan, at, before))
        .or_else(|| counts::at_least(scan, at, before))
        .or_else(|| counts::times(scan, at, before))
        .or_else(|| inexact(scan, at, before))
        .or_else(|| foreign(scan, at))
        .or_else(|| number::number(scan, at, false).map(|(num, to)| (Item::Num(num), to)))
        .unwrap_or((Item::Foreign, at + 1))
}

/// `80x10, 2 sets left`, `3 reps short`: behind a set, what was not done.
fn not_done(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let behind_set = before.iter().any(|s| matches!(s.item, Item::Num(_)));
    let to = effort::not_done(scan, at).filter(|_| behind_set)?;
    Some((Item::Word, to))
}

/// `1-arm cable row`, `45 degree leg press`, `2-board press`: a name that begins with a number.
fn one_limb(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let found = scan.names.exercise_at(scan.tokens, at)?;
    Some((Item::Name(found.id), found.to))
}

/// `3-1-1 tempo`: the count of seconds before the word.
fn tempo_digits(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let to = dashed_digits(scan, at)?;
    (scan.w(to) == W::Tempo).then_some((Item::Technique(Technique::Tempo), to + 1))
}

/// `5 partials` behind a set.
fn counted_partials(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let partials = scan.w(at + 1) == W::Partials;
    // `30 x 15 partials` are the set itself.
    let counts = matches!(
        before.last().map(|s| &s.item),
        Some(Item::Times | Item::For)
    );
    (partials && !counts).then_some((Item::Technique(Technique::Partials), at + 2))
}

/// Three or four numbers of one digit with dashes or nothing between them.
fn dashed_digits(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let token = scan.token(at).filter(|token| token.kind == Kind::Number)?;
    if matches!(token.end - token.start, 3 | 4) && !token.decimals {
        return Some(at + 1);
    }
    let mut to = at + 1;
    let mut parts = 1;
    while parts < 4
        && (scan.is(to, Mark::Minus) || scan.is(to, Mark::Slash))
        && scan.digits(to + 1).is_some()
    {
        to += 2;
        parts += 1;
    }
    (parts >= 3).then_some(to)
}

/// `80x8ish`: repetitions that are to be asked for.
fn inexact(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let counts = matches!(
        before.last().map(|s| &s.item),
        Some(Item::Times | Item::For)
    );
    (counts && scan.is_ish(at + 1)).then(|| {
        let unknown = Num {
            value: f64::NAN,
            ..Num::default()
        };
        (Item::Num(unknown), at + 2)
    })
}

/// A number with a unit that no set is written in: `8 metres`, `18:30`, `20%`, `1rm`.
fn foreign(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let mut to = at + 1;
    // A span counts with its unit: `5-6 people`.
    if scan.is(to, Mark::Minus) && scan.digits(to + 1).is_some() {
        to += 2;
    }
    let roles = scan
        .token(to)
        .map(|token| token.word.roles)
        .unwrap_or_default();
    let measure = roles.any(Roles::MEASURE) && !roles.any(Roles::FILL);
    let money_before = at > 0 && scan.is(at - 1, Mark::Money);
    let rm = scan.glued(to) && scan.text.text_of(scan.token(to)?) == "rm";
    let year = at > 0
        && matches!(scan.w(at - 1), W::In | W::From)
        && scan
            .digits(at)
            .is_some_and(|value| (1950.0..2100.0).contains(&value));
    if year {
        return Some((Item::Foreign, at + 1));
    }
    if let Some(end) = plates_a_side(scan, to) {
        return Some((Item::OpenLoad, end));
    }
    // `185 or 190 x 5`: which of both is to be asked for.
    let other = scan.digits(at).zip(scan.digits(at + 2));
    let near =
        |(one, other): (f64, f64)| one.min(other) > LEAST_OF_TWO && (one / other).ln().abs() < 0.25;
    let asks = || scan.tokens.iter().any(|t| t.is(Mark::Question));
    if scan.w(at + 1) == W::Or && other.is_some_and(near) && !asks() {
        return Some((
            Item::OpenLoad,
            at + 3 + usize::from(matches!(scan.w(at + 3), W::Kg | W::Lb)),
        ));
    }
    // `2pps x 5`: letters that are no unit.
    let strange = |token: &Token| token.kind == Kind::Word && token.word == Word::default();
    if scan.glued(to) && scan.token(to).is_some_and(strange) && scan.is(to + 1, Mark::Times) {
        return Some((Item::OpenLoad, to + 1));
    }
    // `3 plates x 10`, `2 plates squat`: a load that no number gives.
    let counted = |at: usize| {
        (scan.is(at, Mark::Times) || scan.w(at) == W::For) && scan.count(at + 1).is_some()
    };
    let plates = is_plates(scan, to);
    if plates
        && (counted(to + 1)
            || scan.digits(to + 1).is_some()
            || scan.names.exercise_at(scan.tokens, to + 1).is_some())
    {
        return Some((Item::OpenLoad, to + 1));
    }
    if measure || rm || scan.is(to, Mark::Percent) || scan.is(to, Mark::Money) {
        return Some((Item::Foreign, to + 1));
    }
    let days = matches!(scan.w(to), W::Week | W::Day);
    if days {
        return Some((Item::Foreign, to + 1));
    }
    // `30s` may be dumbbells; `30 s` is none.
    if let Some((seconds, end)) = rest::duration(scan, at)
        && (scan.w(end - 1) != W::S || !scan.glued(end - 1) && scan.digits(end).is_none())
    {
        return Some((Item::Duration(seconds), end));
    }
    money_before.then_some((Item::Foreign, at + 1))
}

fn is_plates(scan: &Scan<'_>, at: usize) -> bool {
    let short = matches!(scan.text_at(at), "p" | "pl") && scan.glued(at);
    scan.w(at) == W::Plates || short
}

/// `2 plates a side`, `1 plate each side`, `2 plates and a 25 a side`: a load that no number gives,
/// from the word for the plates on.
fn plates_a_side(scan: &Scan<'_>, plates: usize) -> Option<usize> {
    if !is_plates(scan, plates) {
        return None;
    }
    let mut to = plates + 1;
    while matches!(scan.w(to), W::And | W::A | W::Kg | W::Lb)
        || scan.is(to, Mark::Plus)
        || scan.is(to, Mark::And)
        || scan.digits(to).is_some()
        || matches!(scan.text_at(to), "quarter" | "half")
    {
        to += 1;
    }
    // The `a` of `a side` was taken with the rest.
    let side = matches!(scan.w(to), W::Side)
        || matches!(scan.w(to), W::Each | W::Per) && scan.w(to + 1) == W::Side;
    side.then(|| {
        if scan.w(to) == W::Side {
            to + 1
        } else {
            to + 2
        }
    })
}

fn worded(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    if let Some(label) = label::letter_label(scan, at) {
        return label;
    }
    // `Nov 24: squat 100x5`
    if at == 0
        && let Some(date) = day::at(scan, at)
    {
        return date;
    }
    // `pin 9`, `plate 9`: a place on a stack, no load in kilograms.
    let place = matches!(
        scan.text_at(at),
        "pin" | "hole" | "level" | "notch" | "setting" | "plate"
    ) && !matches!(scan.w(at + 2), W::Kg | W::Lb)
        && !(1..3)
            .map_while(|back| at.checked_sub(back).filter(|at| !scan.is(*at, Mark::Comma)))
            // `a 10 lb. plate`
            .any(|at| matches!(scan.w(at), W::Kg | W::Lb) || scan.digits(at).is_some());
    // `week 3`, `day 2`, `session 12`: where in a plan.
    let plan = is_of_plan(scan, at);
    let small = scan
        .digits(at + 1)
        .is_some_and(|value| value <= 60.0 && value.fract() == 0.0);
    if plan && small && !scan.is(at + 2, Mark::Times) && !matches!(scan.w(at + 2), W::Kg | W::Lb) {
        let colon = usize::from(scan.is(at + 2, Mark::Colon));
        return (Item::Label, at + 2 + colon);
    }
    if place && scan.digits(at + 1).is_some() {
        let half = scan.w(at + 2) == W::And && scan.text_at(at + 4) == "half";
        let to = if half { at + 5 } else { at + 2 };
        return (on_stack(scan, at), to);
    }
    // `90xF`: a cross and the sign of a failure in one.
    let numbered = before
        .last()
        .is_some_and(|s| matches!(s.item, Item::Num(_)));
    if numbered && scan.glued(at) && scan.text_at(at) == "xf" {
        return (Item::Effort(Effort::One(0.0)), at + 1);
    }
    // `no weight, 12`
    if matches!(scan.text_at(at), "no" | "without" | "zero")
        && scan.w(at + 1) == W::Weight
        && scan.w(at + 2) != W::On
    {
        return (Item::Body, at + 2);
    }
    if let Some(told) = effort::told(scan, at, before) {
        return told;
    }
    if let Some(changed) = number::changed(scan, at) {
        return changed;
    }
    if let Some(to) = number::step(scan, at) {
        return (Item::OpenLoad, to);
    }
    let w = scan.w(at);
    // `100 burpees for time`: a race.
    if w == W::For && scan.w(at + 1) == W::Time {
        return (Item::Foreign, at + 2);
    }
    if let Some(phrase) = grammar(scan, at, w, before) {
        return phrase;
    }
    if let Some(found) = scan.names.exercise_at(scan.tokens, at)
        && !is_only_a_word(scan, at, found.to, before)
    {
        return (Item::Name(found.id), found.to);
    }
    if let Some(phrase) = no_number(scan, at, before) {
        return phrase;
    }
    plain(scan, at, w, before)
}

/// `pin 8`: the load that a place on a stack is; the seat's or the bench's where a load follows. `plate 9` may be the
/// stack's ninth or one with a nine on it, and is asked about.
fn on_stack(scan: &Scan<'_>, at: usize) -> Item {
    let place = scan.count(at + 1).filter(|_| scan.text_at(at) != "plate");
    let loaded = place.is_some_and(|(_, to)| {
        let comma = usize::from(scan.is(to, Mark::Comma));
        scan.digits(to + comma).is_some() && scan.is(to + comma + 1, Mark::Times)
    });
    match place {
        Some((value, _)) if !loaded && (1.0..=f64::from(LAST_PIN)).contains(&value) => {
            Item::Num(Num {
                value,
                unit: Some(Unit::Pin),
                load: true,
                ..Num::default()
            })
        }
        _ => Item::OpenLoad,
    }
}

/// `nan` where a number belongs, before a cross or behind it: a part that is to be asked for.
fn no_number(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let token = scan.token(at).filter(|token| token.word.w == W::None)?;
    if !matches!(scan.text.text_of(token), "nan" | "inf" | "infinity") {
        return None;
    }
    if before.last().is_some_and(|s| s.item == Item::Times) {
        let unknown = Num {
            value: f64::NAN,
            ..Num::default()
        };
        return Some((Item::Num(unknown), at + 1));
    }
    scan.is(at + 1, Mark::Times)
        .then_some((Item::OpenLoad, at + 1))
}

/// `80x10 clean`, `8 clean reps`: a word that also names a lift names none behind numbers.
fn is_only_a_word(scan: &Scan<'_>, at: usize, to: usize, before: &[Spanned]) -> bool {
    let light = matches!(scan.text_at(at), "clean" | "cleans" | "overhead");
    let behind = before
        .iter()
        .rev()
        .take_while(|s| !matches!(s.item, Item::Break(_)))
        .any(|s| matches!(s.item, Item::Num(_)));
    let leads = scan.digits(to).is_some() || scan.is(to, Mark::Colon);
    to == at + 1 && light && behind && !leads || to == at + 1 && is_a_place(scan, at, before)
}

/// `rows off the bench`: where a movement that was just named is done.
fn is_a_place(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> bool {
    let led = at > 1
        && matches!(scan.w(at - 1), W::The | W::A)
        && matches!(
            scan.text_at(at - 2),
            "off" | "on" | "from" | "against" | "over" | "across"
        );
    let name = before.iter().rfind(|s| matches!(s.item, Item::Name(_)));
    scan.text_at(at) == "bench" && led && name.is_some_and(|s| s.to + 2 >= at)
}

/// Phrases that go before a name that starts with the same word (`paused bench`, `warm up`).
fn grammar(scan: &Scan<'_>, at: usize, w: W, before: &[Spanned]) -> Option<Phrase> {
    let two = |item| Some((item, at + 2));
    match w {
        W::None => None,
        W::Rest if scan.w(skip_dash(scan, at + 1)) == W::Paused => {
            let to = skip_dash(scan, at + 1) + 1;
            Some((Item::Technique(Technique::RestPause), to))
        }
        W::After | W::Rest | W::Resting | W::Took => rest::at(scan, at),
        // `5r 5r`: repetitions; `5 r2` is a reserve.
        W::R if is_glued_behind_number(scan, at, before) => Some((Item::Reps, at + 1)),
        W::Rir
        | W::Rpe
        | W::R
        | W::F
        | W::Failure
        | W::Failed
        | W::Nothing
        | W::Left
        | W::Could
        | W::Couldnt
        | W::Till
        | W::To => effort::at(scan, at, before),
        W::Numeral | W::Couple | W::One => rest::at(scan, at)
            .or_else(|| not_done(scan, at, before))
            .or_else(|| effort::at(scan, at, before))
            .or_else(|| day::at(scan, at))
            .or_else(|| counts::times(scan, at, before))
            .or_else(|| counts::at(scan, at, before)),
        W::No if matches!(scan.w(at + 1), W::Left | W::More | W::Reps) => {
            effort::at(scan, at, before)
        }
        W::A => rest::at(scan, at)
            .or_else(|| effort::at(scan, at, before))
            .or_else(|| day::at(scan, at))
            .or_else(|| counts::at(scan, at, before)),
        W::RepNoun | W::Twice | W::Weight | W::Load | W::Reps => counts::at(scan, at, before),
        W::Yesterday | W::Weekday | W::Day | W::From => day::at(scan, at),
        W::On | W::Last => day::at(scan, at)
            .or_else(|| last_reps(scan, at, before))
            .or_else(|| last(scan, at)),
        W::The => day::at(scan, at),
        W::Warm => {
            let up = skip_dash(scan, at + 1);
            let is_up = scan.w(up) == W::Up || scan.text_at(up) == "ups";
            is_up.then_some((Item::Warm, up + 1))
        }
        W::Wi if scan.is(at + 1, Mark::Slash) && scan.w(at + 2) == W::U && scan.glued(at + 2) => {
            Some((Item::Warm, at + 3))
        }
        W::Wi if scan.is(at + 1, Mark::Slash) => two(Item::With),
        W::E if scan.is(at + 1, Mark::Slash) => match scan.w(at + 2) {
            W::S | W::L => Some((Item::Side, at + 3)),
            _ => None,
        },
        W::L if (scan.is(at + 1, Mark::Slash)
            || scan.is(at + 1, Mark::And)
            || scan.is(at + 1, Mark::Plus))
            && scan.w(at + 2) == W::R =>
        {
            Some((Item::Side, at + 3))
        }
        W::L if both_sides(scan, at) => Some((Item::Side, at + 3)),
        W::Each | W::Per => each(scan, at),
        W::Drop => drop_set(scan, at, before),
        W::Tempo => Some(tempo(scan, at)),
        W::Super if scan.w(skip_dash(scan, at + 1)) == W::Sets => Some((
            Item::Technique(Technique::Superset),
            skip_dash(scan, at + 1) + 1,
        )),
        W::Sets => counts::at(scan, at, before).or_else(|| label::label_at(scan, at)),
        W::Rounds | W::S => label::label_at(scan, at),
        W::Ordinal | W::Sec if is_sets(scan.w(at + 1)) && scan.digits(at).is_none() => {
            two(Item::Label)
        }
        W::Body if scan.w(skip_dash(scan, at + 1)) == W::Weight => {
            body(scan, at, skip_dash(scan, at + 1) + 1)
        }
        W::Bw => body(scan, at, at + 1),
        W::Weighted if scan.digits(at + 1).is_none() => Some((Item::Added, at + 1)),
        W::Plus if !follows_lift(before) => None,
        W::Minus | W::Plus | W::Add | W::Weighted => number::signed_word(scan, at, w),
        W::Assist => Some(number::assisted(scan, at)),
        W::Down | W::Up | W::Back => number::down_to(scan, at),
        _ => None,
    }
}

/// Whether a letter ends a number and leads to none: `5r`.
fn is_glued_behind_number(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> bool {
    let behind = at.checked_sub(1).and_then(|at| scan.digits(at)).is_some();
    let number = scan.digits(at + 1).is_some();
    let again = scan.w(at + 2) == W::R && scan.glued(at + 2) && !scan.glued(at + 1);
    let led = before.len().checked_sub(2).and_then(|at| before.get(at));
    let listed = led.is_some_and(|s| {
        matches!(
            s.item,
            Item::Num(_) | Item::Reps | Item::Comma | Item::Times
        )
    });
    behind && listed && scan.glued(at) && (!number || again)
}

/// The body alone, from the word at `at` to `to`; nothing where the word makes another movement of the
/// name behind it (`bodyweight squat`).
fn body(scan: &Scan<'_>, at: usize, to: usize) -> Option<Phrase> {
    let whole = scan.names.exercise_at(scan.tokens, at);
    let behind = scan.names.exercise_at(scan.tokens, to);
    let other = whole
        .zip(behind)
        .is_some_and(|(a, b)| a.id != b.id && a.to >= b.to);
    (!other).then(|| number::body(scan, to))
}

/// `12 L 12 R`, `10 L 9 R`: so many on each side.
fn both_sides(scan: &Scan<'_>, at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| scan.digits(at));
    before.is_some() && scan.digits(at + 1).is_some() && scan.w(at + 2) == W::R
}

fn skip_dash(scan: &Scan<'_>, at: usize) -> usize {
    if scan.is(at, Mark::Minus) { at + 1 } else { at }
}

fn drop_set(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let next = skip_dash(scan, at + 1);
    if scan.w(next) == W::Sets {
        return Some((Item::Technique(Technique::DropSet), next + 1));
    }
    if let Some(phrase) = number::down_to(scan, at) {
        return Some(phrase);
    }
    // `80x8 drop 60x8`: a pair before and a pair behind.
    let pair_before = before
        .iter()
        .rev()
        .take(3)
        .any(|s| matches!(s.item, Item::Num(_)));
    let pair_behind = scan.digits(at + 1).is_some()
        && (scan.is(at + 2, Mark::Times) || scan.is(at + 3, Mark::Times));
    (pair_before && pair_behind).then_some((Item::Technique(Technique::DropSet), at + 1))
}

fn tempo(scan: &Scan<'_>, at: usize) -> Phrase {
    let from = if scan.is(at + 1, Mark::Colon) {
        at + 2
    } else {
        at + 1
    };
    // `tempo 3 down`
    let slow = || {
        let way = matches!(
            scan.text_at(from + 1),
            "down" | "up" | "lowering" | "seconds" | "sec"
        );
        (scan.digits(from).is_some() && way).then_some(from + 2)
    };
    let to = dashed_digits(scan, from).or_else(slow);
    (Item::Technique(Technique::Tempo), to.unwrap_or(at + 1))
}

/// `each side`, `per leg`, `each hand`, `each`.
fn each(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    match scan.w(at + 1) {
        W::Side | W::Limb => Some((Item::Side, at + 2)),
        W::Hand | W::Dumbbell => Some((Item::PerHand, at + 2)),
        W::One | W::Sets | W::Time if scan.w(at) == W::Each => Some((Item::Every, at + 2)),
        _ if scan.w(at) == W::Each => Some((Item::Every, at + 1)),
        _ => None,
    }
}

/// `the last two reps were a struggle` behind a set tells how it went, and of no other set.
fn last_reps(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (_, to) = scan.count(at + 1).filter(|_| scan.w(at) == W::Last)?;
    let behind_set = before.iter().any(|s| matches!(s.item, Item::Num(_)));
    (behind_set && scan.w(to) == W::Reps).then_some((Item::Word, to + 1))
}

fn last(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at) != W::Last {
        return None;
    }
    match scan.w(at + 1) {
        W::One | W::Sets => Some((Item::Last, at + 2)),
        // `last to failure`, `last 0 left`.
        _ if leads_to_effort(scan, at + 1) => Some((Item::Last, at + 1)),
        _ => last_few(scan, at + 1),
    }
}

/// `two to failure` behind `last`: how many sets an effort is for.
fn last_few(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let (value, to) = scan.count(at)?;
    let count = core::count(value).filter(|count| *count > 1)?;
    leads_to_effort(scan, to).then_some((Item::LastFew(count), to))
}

/// Whether what stands at `at` says how hard it was: `@9`, `to failure`.
fn leads_to_effort(scan: &Scan<'_>, at: usize) -> bool {
    let sets = usize::from(is_sets(scan.w(at)));
    let at = at + sets + usize::from(matches!(scan.w(at + sets), W::At | W::Was));
    scan.is(at, Mark::At) || effort::at(scan, at, &[]).is_some()
}

/// `three by fifteen`, `80 kg by 8`; not `beat last week by one`.
fn is_measured(scan: &Scan<'_>, by: usize) -> bool {
    by.checked_sub(1).is_some_and(|before| {
        scan.count(before).is_some()
            || matches!(scan.w(before), W::Sets | W::Reps | W::Kg | W::Lb | W::K)
    })
}

/// Words that are a phrase unless a name starts with them.
fn plain(scan: &Scan<'_>, at: usize, w: W, before: &[Spanned]) -> Phrase {
    let one = |item| (item, at + 1);
    match w {
        W::For => one(Item::For),
        W::At | W::With | W::Wi => one(Item::With),
        W::Of => one(Item::Of),
        // `3 times 8`
        _ if scan.text_at(at) == "times"
            && scan.count(at + 1).is_some()
            && before
                .last()
                .is_some_and(|s| matches!(s.item, Item::Num(_))) =>
        {
            one(Item::Times)
        }
        W::By if scan.count(at + 1).is_some() && is_measured(scan, at) => one(Item::Times),
        W::Sets => one(Item::Sets),
        W::Rounds if matches!(before.last().map(|s| &s.item), Some(Item::Num(_))) => {
            one(Item::Sets)
        }
        W::Reps => one(Item::Reps),
        W::Warmup => one(Item::Warm),
        W::Work if scan.w(at + 1) == W::Sets => (Item::Work, at + 2),
        W::Work if scan.is(at + 1, Mark::Colon) || scan.digits(at + 1).is_some() => one(Item::Work),
        W::Paused => one(Item::Technique(Technique::Paused)),
        W::Dropset => one(Item::Technique(Technique::DropSet)),
        W::Superset => one(Item::Technique(Technique::Superset)),
        W::Partials => partials(scan, at),
        W::Cluster => one(Item::Technique(Technique::RestPause)),
        W::Side if at > 0 && matches!(scan.w(at - 1), W::A | W::Both) => one(Item::Side),
        W::Limb if at > 0 && scan.w(at - 1) == W::A => one(Item::Side),
        W::Hand if at > 0 && scan.w(at - 1) == W::A => one(Item::PerHand),
        W::And | W::Then => one(Item::And),
        W::Same | W::Again | W::Another => one(Item::Same),
        W::More => one(Item::More),
        W::All if scan.w(at + 1) == W::Of && matches!(scan.text_at(at + 2), "them" | "those") => {
            (Item::Every, at + 3)
        }
        // `all 3 @9`: so many as there are.
        W::All
            if let Some((_, to)) = scan.count(at + 1)
                && leads_to_effort(scan, to) =>
        {
            (Item::Every, to)
        }
        W::All | W::Fully => one(Item::Every),
        W::Both if leads_to_effort(scan, at + 1) => one(Item::Every),
        W::Weighted | W::Add => one(Item::Added),
        W::Empty if scan.w(at + 1) == W::Bar => (Item::OpenLoad, at + 2),
        // `2 sets/bar/8 reps`, `10/bar`: what the bar weighs.
        W::Bar
            if at > 0
                && (scan.is(at - 1, Mark::Slash) || scan.is(at - 1, Mark::Times))
                && (scan.is(at + 1, Mark::Slash)
                    || scan.is(at + 1, Mark::Times)
                    || scan.digits(at - 2).is_some()) =>
        {
            one(Item::OpenLoad)
        }
        W::Plates if at > 0 && scan.digits(at - 1).is_some() => one(Item::Foreign),
        _ if is_times(scan, at, before) => one(Item::Times),
        _ => one(Item::Word),
    }
}

/// `3 times 10`: sets of so many.
fn is_times(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> bool {
    let few = before
        .last()
        .is_some_and(|s| matches!(s.item, Item::Num(num) if !num.is_load() && num.value <= 10.0));
    let counts = scan.count(at + 1).is_some_and(|(_, to)| {
        !matches!(
            scan.w(to),
            W::Min | W::Sec | W::Hour | W::Week | W::Day | W::M | W::Time
        )
    });
    scan.text_at(at) == "times" && few && counts
}

fn partials(scan: &Scan<'_>, at: usize) -> Phrase {
    let to = if scan.w(at + 1) == W::Reps {
        at + 2
    } else {
        at + 1
    };
    (Item::Technique(Technique::Partials), to)
}
