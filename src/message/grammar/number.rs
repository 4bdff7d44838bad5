//! Loads: a number with its sign, its unit and the words that make it a load.

use crate::domain::quantities::mass::Unit;

use super::item::{Item, Num, Sign};
use super::scan::{Phrase, Scan};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// Up to here a number before a cross is sets rather than a load.
const MOST_SETS: f64 = 5.0;

/// A number with a sign before it.
pub(crate) fn signed(scan: &Scan<'_>, at: usize, sign: Sign) -> Option<Phrase> {
    scan.digits(at + 1)?;
    let (mut num, to) = number(scan, at + 1, true)?;
    num.sign = sign;
    Some((Item::Num(num), to))
}

/// A number with its unit and the words that make it a load.
pub(crate) fn number(scan: &Scan<'_>, at: usize, load: bool) -> Option<(Num, usize)> {
    let whole = scan.digits(at)?;
    // `with 2 6kg dumbbells`
    if (whole - 2.0).abs() < 1e-9
        && scan.digits(at + 1).is_some()
        && let Some((each, to)) = number(scan, at + 1, true)
        && each.per_hand
        && scan.w(to - 1) == W::Dumbbell
    {
        return Some((each, to));
    }
    let (value, mut to) = scan
        .comma_decimal(at)
        .filter(|(_, to)| load || comma_is_decimal(scan, at, *to))
        .unwrap_or((whole, at + 1));
    let mut num = Num {
        value,
        ..Num::default()
    };
    (num.unit, to) = unit(scan, to);
    if scan.w(to) == W::S && scan.glued(to) {
        num.per_hand = true;
        to += 1;
        if num.unit.is_none() {
            (num.unit, to) = unit(scan, to);
        }
    }
    if let Some(end) = per_hand(scan, to) {
        num.per_hand = true;
        to = end;
    }
    // `with 30kg dumbbells`: one in each hand, unless a name starts with the word.
    if scan.w(to) == W::Dumbbell
        && scan
            .token(to)
            .is_some_and(|t| scan.text.text_of(t).ends_with('s'))
        && scan.names.exercise_at(scan.tokens, to).is_none()
    {
        num.per_hand = true;
        to += 1;
    }
    // `with the 8, did 12`
    if at > 1
        && scan.w(at - 1) == W::The
        && scan.w(at - 2) == W::With
        && !matches!(scan.w(to), W::Reps | W::Sets | W::Left)
    {
        num.load = true;
    }
    // `with a 10 kg plate on my back`
    if scan.text_at(to) == "plate" && at > 0 && scan.w(at - 1) == W::A {
        num.load = true;
        to += 1;
    }
    if scan.w(to) == W::Total {
        num.total = true;
        to += 1;
    }
    if scan.w(to) == W::Assist {
        num.assisted = true;
        to += 1;
    }
    // `5 more kilos x 8`
    if num.unit.is_none()
        && scan.text_at(to) == "more"
        && let (Some(unit), end) = unit(scan, to + 1)
        && leads_to_reps(scan, end)
    {
        (num.unit, num.sign, num.load) = (Some(unit), Sign::Plus, true);
        to = end;
    }
    if let Some((sign, end)) = change_behind(scan, to, num.unit.is_some()) {
        (num.sign, num.load) = (sign, true);
        to = end;
    }
    if scan.w(to) == W::Add && scan.w(to + 1) != W::Reps {
        num.sign = Sign::Plus;
        to += 1;
    }
    Some((num, to))
}

fn unit(scan: &Scan<'_>, at: usize) -> (Option<Unit>, usize) {
    match scan.w(at) {
        W::Kg => (Some(Unit::Kg), at + 1),
        W::Lb => (Some(Unit::Lb), at + 1),
        W::K if scan.glued(at) => (Some(Unit::Kg), at + 1),
        _ if scan.is(at, Mark::Hash) && scan.glued(at) => (Some(Unit::Lb), at + 1),
        _ => (None, at),
    }
}

/// The unit that words say of all loads: `the stack is in pounds`, `150x10 (in lbs)`, `pounds: 185x5`; `None` where
/// any number has its own.
pub(crate) fn unit_of_all(scan: &Scan<'_>) -> Option<Unit> {
    let count = scan.tokens.len();
    let numbered = |at: usize| {
        at.checked_sub(1)
            .is_some_and(|at| scan.digits(at).is_some() || scan.w(at) == W::Numeral)
    };
    let of = |at: usize| match scan.w(at) {
        W::Kg => Some(Unit::Kg),
        W::Lb => Some(Unit::Lb),
        _ => None,
    };
    let units = || (0..count).filter(|at| of(*at).is_some());
    let asked = scan.tokens.iter().any(|t| t.is(Mark::Question));
    if asked || units().any(numbered) {
        return None;
    }
    let parted = |at: usize| {
        scan.token(at)
            .is_none_or(|t| !matches!(t.kind, Kind::Word | Kind::Number))
    };
    let told = |at: &usize| {
        let Some(before) = at.checked_sub(1) else {
            return parted(*at + 1) && count > 1;
        };
        let led = matches!(
            scan.text_at(before),
            "in" | "is" | "was" | "were" | "are" | "that" | "thats" | "its" | "all" | "using"
        );
        led || parted(before) && parted(*at + 1)
    };
    units().find(told).and_then(of)
}

/// `each hand`, `per hand`, `a hand`, `in each hand`, `/hand`, `each side` is not.
fn per_hand(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let from = if matches!(scan.w(at), W::In | W::Dumbbell) {
        at + 1
    } else {
        at
    };
    let each = matches!(scan.w(from), W::Each | W::Per | W::A) || scan.is(from, Mark::Slash);
    let hand = matches!(scan.w(from + 1), W::Hand | W::Dumbbell);
    (each && hand).then_some(from + 2)
}

/// Whether the comma in `82,5` is a decimal comma, by what stands around it: a load comes before a
/// cross or a unit, or is a usual fraction behind a number too large for repetitions.
fn comma_is_decimal(scan: &Scan<'_>, at: usize, to: usize) -> bool {
    let in_list = |at: usize| {
        scan.is(at, Mark::Comma)
            && scan.glued(at)
            && scan.glued(at + 1)
            && scan.digits(at + 1).is_some()
    };
    let part = scan.digits(at + 2).unwrap_or_default();
    let usual = [5.0, 25.0, 75.0, 50.0].contains(&part);
    let crossed = |at: usize| scan.is(at, Mark::Times);
    // `80x8,7` are repetitions, `5 x 82,5` and `3 x 8 x 22,5` are loads.
    let third = at > 2 && crossed(at - 3);
    let more = |least: f64| usual && scan.digits(at).is_some_and(|whole| whole > least);
    let is_factor = at > 0 && crossed(at - 1) && more(if third { 15.0 } else { 30.0 });
    let after_times = at > 0 && (crossed(at - 1) || scan.is(at - 1, Mark::Slash));
    if in_list(to) || after_times && !is_factor || at > 0 && in_list(at - 1) {
        return false;
    }
    let unit_follows = unit(scan, to).0.is_some() || scan.w(to) == W::S && scan.glued(to);
    if scan.is(to, Mark::Times) || scan.is(to, Mark::At) || unit_follows || scan.w(to) == W::For {
        return true;
    }
    let led = at > 0
        && (scan.is(at - 1, Mark::At)
            || matches!(scan.w(at - 1), W::At | W::With | W::To | W::It | W::That));
    led || more(15.0)
}

/// `bw`, `bw+20`, `bw plus 20`, `bw - 15`.
pub(crate) fn body(scan: &Scan<'_>, to: usize) -> Phrase {
    let sign = match scan.token(to) {
        Some(token) if token.is(Mark::Plus) || token.word.w == W::Plus => Sign::Plus,
        Some(token) if token.is(Mark::Minus) || token.word.w == W::Minus => Sign::Minus,
        _ => return (Item::Body, to),
    };
    signed(scan, to, sign).unwrap_or((Item::Body, to))
}

pub(crate) fn signed_word(scan: &Scan<'_>, at: usize, w: W) -> Option<Phrase> {
    let sign = if w == W::Minus {
        Sign::Minus
    } else {
        Sign::Plus
    };
    signed(scan, at, sign)
}

/// `down to 70`, `up to 85`, `back to 80`, `dropped to 70`: a load follows.
pub(crate) fn down_to(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at + 1) != W::To {
        return None;
    }
    let (mut num, to) = number(scan, at + 2, true)?;
    num.load = true;
    Some((Item::Num(num), to))
}

/// `up 5, 8`, `went down 10 for 12`, `took 10 off, 12`: so much more or less than before, where repetitions follow.
pub(crate) fn changed(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let sign = match (scan.w(at), scan.text_at(at)) {
        (W::Up | W::Plus, _) | (_, "added" | "adding") => Sign::Plus,
        (W::Down | W::Minus, _) | (_, "dropped" | "took" | "taken" | "taking") => Sign::Minus,
        _ => return None,
    };
    let by = usize::from(matches!(scan.w(at + 1), W::By | W::Another));
    let (num, to) = number(scan, at + 1 + by, true)?;
    let off = usize::from(matches!(scan.text_at(to), "off" | "on" | "more"));
    let took = matches!(scan.text_at(at), "took" | "taken" | "taking");
    (leads_to_reps(scan, to + off) && (off > 0 || !took)).then(|| {
        let num = Num {
            sign,
            load: true,
            ..num
        };
        (Item::Num(num), to + off)
    })
}

/// `5kg more for 8`, `5 lighter x 10`: the words behind a number that make it a change, and what follows them.
fn change_behind(scan: &Scan<'_>, at: usize, has_unit: bool) -> Option<(Sign, usize)> {
    let sign = match scan.text_at(at) {
        "heavier" => Sign::Plus,
        "lighter" => Sign::Minus,
        "more" if has_unit => Sign::Plus,
        "less" | "off" if has_unit => Sign::Minus,
        _ => return None,
    };
    leads_to_reps(scan, at + 1).then_some((sign, at + 1))
}

/// Whether repetitions follow a load that ends before `at`.
fn leads_to_reps(scan: &Scan<'_>, at: usize) -> bool {
    let joined = scan.is(at, Mark::Times)
        || scan.is(at, Mark::Comma)
        || matches!(scan.w(at), W::For | W::Then | W::And);
    let from = at + usize::from(joined);
    let (counted, numbered) = (scan.count(from), scan.digits(from).is_some());
    counted.is_some_and(|(_, to)| scan.w(to) == W::Reps) || joined && numbered
}

/// Words for one step on a stack or a rack.
const STEPS: &[&str] = &[
    "pin", "notch", "hole", "plate", "step", "size", "pins", "notches", "holes", "plates",
];

/// `up a pin, 9`, `one notch up, 9`: another step of the stack, whose load no number gives.
pub(crate) fn step(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let way = |at: usize| {
        matches!(scan.w(at), W::Up | W::Down) || matches!(scan.text_at(at), "heavier" | "lighter")
    };
    let stepped = |at: usize| {
        let to = match (scan.w(at), scan.count(at)) {
            (_, Some((_, to))) => to,
            (W::A, None) => at + 1,
            _ => return None,
        };
        STEPS.contains(&scan.text_at(to)).then_some(to + 1)
    };
    let end = match way(at) {
        true => stepped(at + 1)?,
        false => stepped(at).filter(|to| way(*to))? + 1,
    };
    leads_to_reps(scan, end).then_some(end)
}

/// `assisted 15`, `assisted by 15`, `assistance: 15`: taken off; `assisted 3x8` is sets × reps.
pub(crate) fn assisted(scan: &Scan<'_>, at: usize) -> Phrase {
    let joined = scan.is(at + 1, Mark::Colon) || matches!(scan.w(at + 1), W::By | W::With | W::At);
    let from = at + 1 + usize::from(joined);
    let Some((num, to)) = number(scan, from, true) else {
        return (Item::Assisted, at + 1);
    };
    let sets = num.unit.is_none() && num.value <= MOST_SETS && scan.is(to, Mark::Times);
    let counted = matches!(scan.w(to), W::Sets | W::Reps);
    if sets || counted {
        return (Item::Assisted, at + 1);
    }
    let taken = Num {
        assisted: true,
        ..num
    };
    (Item::Num(taken), to)
}
