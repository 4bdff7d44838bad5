//! Tokens to [`Item`]s: the phrases of the trade, each read where it starts.
//!
//! Nothing is decided here about what a message is. Effort and rest have files of their own.

use crate::domain::mass::Unit;

use super::item::{Effort, Item, Num, Sign, Spanned};
use super::names::NameIndex;
use super::reading::Technique;
use super::token::{Kind, Mark, Token, Tokens};
use super::vocabulary::{Roles, W};
use super::{day, effort, rest};

/// A phrase read: what it is, and the token after its last.
pub(super) type Phrase = (Item, usize);

/// The tokens of a message with a few ways to look at them.
pub(super) struct Scan<'m> {
    pub tokens: &'m [Token],
    pub names: &'m NameIndex,
    pub text: &'m Tokens,
}

impl<'m> Scan<'m> {
    /// A view of `text`.
    pub(super) fn new(text: &'m Tokens, names: &'m NameIndex) -> Self {
        Self {
            tokens: &text.list,
            names,
            text,
        }
    }

    /// The token at `at`.
    pub(super) fn token(&self, at: usize) -> Option<&Token> {
        self.tokens.get(at)
    }

    /// The grammar word at `at`.
    pub(super) fn w(&self, at: usize) -> W {
        self.tokens.get(at).map_or(W::None, |token| token.word.w)
    }

    /// Whether the mark at `at` is `mark`.
    pub(super) fn is(&self, at: usize, mark: Mark) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is(mark))
    }

    /// Whether the token at `at` is glued to the one before it.
    pub(super) fn glued(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| token.glued)
    }

    /// The number at `at`, in digits.
    pub(super) fn digits(&self, at: usize) -> Option<f64> {
        self.tokens
            .get(at)
            .filter(|token| token.kind == Kind::Number)
            .map(|token| token.value)
    }

    /// The number at `at`, in digits or as a word, with the token after it: `a couple` is two
    /// tokens.
    pub(super) fn count(&self, at: usize) -> Option<(f64, usize)> {
        if let Some(value) = self.digits(at) {
            return Some((value, at + 1));
        }
        let token = self.tokens.get(at)?;
        match token.word.w {
            W::Numeral | W::Couple => Some((token.value, at + 1)),
            W::One => Some((1.0, at + 1)),
            W::A if self.w(at + 1) == W::Couple => Some((2.0, at + 2)),
            _ => None,
        }
    }

    /// A decimal written with a comma at `at`: `82,5`.
    pub(super) fn comma_decimal(&self, at: usize) -> Option<(f64, usize)> {
        let whole = self.tokens.get(at)?;
        let part = self.tokens.get(at + 2)?;
        let tight = self.is(at + 1, Mark::Comma) && self.glued(at + 1) && part.glued;
        let plain = |token: &Token| token.kind == Kind::Number && !token.decimals;
        if !(tight && plain(whole) && plain(part)) {
            return None;
        }
        let value = match part.end - part.start {
            1 => whole.value + part.value / 10.0,
            2 => whole.value + part.value / 100.0,
            3 => whole.value * 1000.0 + part.value,
            _ => return None,
        };
        Some((value, at + 3))
    }
}

/// Every item of the message, in order.
pub(super) fn items(scan: &Scan<'_>) -> Vec<Spanned> {
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
        out.push(Spanned { item, from: at, to });
        at = to.max(at + 1);
    }
    out
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
        Mark::At => effort::after_at(scan, at)
            .or_else(|| label_at(scan, at))
            .unwrap_or((Item::At, at + 1)),
        Mark::Plus => plus(scan, at, before),
        Mark::Minus => minus(scan, at, before),
        Mark::Comma => one(Item::Comma),
        Mark::Slash => slash(scan, at),
        Mark::Colon => one(Item::Colon),
        Mark::And => one(Item::And),
        Mark::Semicolon | Mark::Stop | Mark::Bang | Mark::Question | Mark::Symbol => {
            one(Item::Break(false))
        }
        Mark::Line => one(Item::Break(true)),
        Mark::Hash => match label_at(scan, at) {
            Some(label) => label,
            None => one(Item::Word),
        },
        Mark::Money | Mark::Percent => one(Item::Foreign),
        // `(+2)` behind a set is some effort, but not one of the trade's.
        Mark::Open
            if scan.is(at + 1, Mark::Plus)
                && scan.digits(at + 2).is_some()
                && scan.is(at + 3, Mark::Close) =>
        {
            (Item::Effort(Effort::Bad), at + 4)
        }
        Mark::Open | Mark::Close | Mark::Prime | Mark::DoublePrime | Mark::Other => {
            one(Item::Comma)
        }
    }
}

/// `e/s`, `l/r`, `/leg`, `w/u` start at a slash or before it; a bare slash divides a list.
fn slash(scan: &Scan<'_>, at: usize) -> Phrase {
    match scan.w(at + 1) {
        W::Limb | W::Side => (Item::Side, at + 2),
        W::Hand => (Item::PerHand, at + 2),
        _ => (Item::Slash, at + 1),
    }
}

/// `+20`, or `+ 20` behind a name or the body; between numbers it only joins.
fn plus(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    if (follows_lift(before) || scan.glued(at + 1) && !scan.glued(at))
        && let Some(phrase) = signed(scan, at, Sign::Plus)
    {
        return phrase;
    }
    (Item::And, at + 1)
}

/// Whether a name or the body was just read, so that a load may follow.
fn follows_lift(before: &[Spanned]) -> bool {
    matches!(
        before.last().map(|s| &s.item),
        Some(Item::Name(_) | Item::Body)
    )
}

fn minus(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    let number_before = before
        .last()
        .is_some_and(|last| matches!(last.item, Item::Num(_)));
    let body_before = before.last().is_some_and(|last| last.item == Item::Body);
    let opens = !scan.glued(at) && scan.glued(at + 1) && !number_before || body_before;
    if opens && let Some(phrase) = signed(scan, at, Sign::Minus) {
        return phrase;
    }
    (Item::Dash(scan.glued(at) && scan.glued(at + 1)), at + 1)
}

/// A number with a sign before it.
fn signed(scan: &Scan<'_>, at: usize, sign: Sign) -> Option<Phrase> {
    scan.digits(at + 1)?;
    let (mut num, to) = number(scan, at + 1, true)?;
    num.sign = sign;
    Some((Item::Num(num), to))
}

/// `set 2:`, `set two`, `1)` and `#1` at the start of a line or after a slash.
fn label_at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let opens = at == 0
        || scan.tokens.get(at - 1).is_some_and(|token| {
            matches!(
                token.kind,
                Kind::Mark(
                    Mark::Line
                        | Mark::Slash
                        | Mark::Semicolon
                        | Mark::Comma
                        | Mark::Stop
                        | Mark::Minus
                )
            )
        });
    let sets = scan.w(at) == W::Sets || scan.w(at) == W::S && scan.glued(at + 1);
    let closed = |to: usize| scan.is(to, Mark::Colon) || scan.is(to, Mark::Close);
    if sets {
        let (value, to) = scan.count(at + 1)?;
        let after = scan.w(to);
        if value > 20.0 || after == W::Reps || scan.is(to, Mark::Times) {
            return None;
        }
        let dashed = scan.is(to, Mark::Minus) && !scan.glued(to + 1);
        if closed(to) || dashed {
            return Some((Item::Label, to + 1));
        }
        let number_behind = scan.digits(to).is_some();
        return (opens || number_behind && !scan.is(to, Mark::Times)).then_some((Item::Label, to));
    }
    if let Some(label) = letter_label(scan, at) {
        return Some(label);
    }
    if scan.is(at + 1, Mark::Close)
        && scan.digits(at).is_some_and(|value| value <= 20.0)
        && !in_brackets(scan, at)
    {
        return Some((Item::Label, at + 2));
    }
    if !opens {
        return None;
    }
    let (from, hash) = if scan.is(at, Mark::Hash) {
        (at + 1, true)
    } else {
        (at, false)
    };
    let value = scan.digits(from)?;
    let to = from + 1;
    let line_start = at == 0 || scan.is(at - 1, Mark::Line);
    let dotted = scan.is(to, Mark::Stop) && line_start;
    let good =
        value <= 20.0 && (closed(to) && scan.is(to, Mark::Close) || dotted || hash && closed(to));
    good.then_some((Item::Label, to + 1))
}

/// Whether a bracket was opened before `at` and not closed.
fn in_brackets(scan: &Scan<'_>, at: usize) -> bool {
    let last = scan.tokens.get(..at).unwrap_or_default().iter().rev();
    last.take(12)
        .find(|t| t.is(Mark::Open) || t.is(Mark::Close))
        .is_some_and(|t| t.is(Mark::Open))
}

/// `A1` and `B2` at the start of a line: the order of the plan.
fn letter_label(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let token = scan.token(at)?;
    let starts = at == 0 || scan.is(at - 1, Mark::Line);
    let letter =
        token.kind == Kind::Word && matches!(scan.text.text_of(token), "a" | "b" | "c" | "d");
    let number = scan.glued(at + 1) && scan.digits(at + 1).is_some_and(|value| value < 10.0);
    let more = scan.is(at + 2, Mark::Times);
    let colon = usize::from(scan.is(at + 2, Mark::Colon) || scan.is(at + 2, Mark::Close));
    (starts && letter && number && !more).then_some((Item::Label, at + 2 + colon))
}

fn numbered(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    label_at(scan, at)
        .or_else(|| rest::at(scan, at))
        .or_else(|| effort::at(scan, at, before))
        .or_else(|| day::at(scan, at))
        .or_else(|| ordinal(scan, at))
        .or_else(|| tempo_digits(scan, at))
        .or_else(|| counted_partials(scan, at))
        .or_else(|| foreign(scan, at))
        .or_else(|| number(scan, at, false).map(|(num, to)| (Item::Num(num), to)))
        .unwrap_or((Item::Foreign, at + 1))
}

/// `2nd set` is a label; another ordinal is no number of a set.
fn ordinal(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at + 1) != W::Th || !scan.glued(at + 1) {
        return None;
    }
    if scan.w(at + 2) == W::Sets {
        return Some((Item::Label, at + 3));
    }
    Some((Item::Foreign, at + 2))
}

/// `3-1-1 tempo`: the count of seconds before the word.
fn tempo_digits(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let to = dashed_digits(scan, at)?;
    (scan.w(to) == W::Tempo).then_some((Item::Technique(Technique::Tempo), to + 1))
}

/// `5 partials` behind a set.
fn counted_partials(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let partials = scan.w(at + 1) == W::Partials;
    partials.then_some((Item::Technique(Technique::Partials), at + 2))
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
    if measure || rm || scan.is(to, Mark::Percent) || scan.is(to, Mark::Money) {
        return Some((Item::Foreign, to + 1));
    }
    let days = matches!(scan.w(to), W::Week | W::Day);
    if days {
        return Some((Item::Foreign, to + 1));
    }
    if let Some((seconds, end)) = rest::duration(scan, at)
        && scan.w(end - 1) != W::S
    {
        return Some((Item::Duration(seconds), end));
    }
    money_before.then_some((Item::Foreign, at + 1))
}

/// A number with its unit and the words that make it a load.
pub(super) fn number(scan: &Scan<'_>, at: usize, load: bool) -> Option<(Num, usize)> {
    let whole = scan.digits(at)?;
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
    if scan.w(to) == W::Total {
        num.total = true;
        to += 1;
    }
    if scan.w(to) == W::Assist {
        num.assisted = true;
        to += 1;
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
    let after_times = at > 0 && (scan.is(at - 1, Mark::Times) || scan.is(at - 1, Mark::Slash));
    if in_list(to) || after_times || at > 0 && in_list(at - 1) {
        return false;
    }
    let unit_follows = unit(scan, to).0.is_some() || scan.w(to) == W::S && scan.glued(to);
    if scan.is(to, Mark::Times) || scan.is(to, Mark::At) || unit_follows || scan.w(to) == W::For {
        return true;
    }
    let led = at > 0
        && (scan.is(at - 1, Mark::At)
            || matches!(scan.w(at - 1), W::At | W::With | W::To | W::It | W::That));
    let part = scan.digits(at + 2).unwrap_or_default();
    let usual = [5.0, 25.0, 75.0, 50.0].contains(&part);
    led || usual && scan.digits(at).is_some_and(|whole| whole > 15.0)
}

fn worded(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Phrase {
    if let Some(label) = letter_label(scan, at) {
        return label;
    }
    let w = scan.w(at);
    if let Some(phrase) = grammar(scan, at, w, before) {
        return phrase;
    }
    if let Some(found) = scan.names.exercise_at(scan.tokens, at)
        && !is_only_a_word(scan, at, found.to, before)
    {
        return (Item::Name(found.id), found.to);
    }
    plain(scan, at, w)
}

/// `80x10 clean`, `8 clean reps`: a word that also names a lift names none behind numbers.
fn is_only_a_word(scan: &Scan<'_>, at: usize, to: usize, before: &[Spanned]) -> bool {
    let light = scan
        .token(at)
        .is_some_and(|t| matches!(scan.text.text_of(t), "clean" | "cleans" | "overhead"));
    let behind = before
        .iter()
        .rev()
        .take_while(|s| !matches!(s.item, Item::Break(_)))
        .any(|s| matches!(s.item, Item::Num(_)));
    let leads = scan.digits(to).is_some() || scan.is(to, Mark::Colon);
    to == at + 1 && light && behind && !leads
}

/// `eight reps`, `80 x eight`: a number word where only repetitions can stand.
fn numeral(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let (value, to) = scan.count(at)?;
    let behind = matches!(
        before.last().map(|s| &s.item),
        Some(Item::Times | Item::For)
    );
    (scan.w(to) == W::Reps || behind).then(|| {
        let num = Num {
            value,
            ..Num::default()
        };
        (Item::Num(num), to)
    })
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
        W::Rir
        | W::Rpe
        | W::R
        | W::F
        | W::Failure
        | W::Failed
        | W::Nothing
        | W::Left
        | W::Couldnt
        | W::Till
        | W::To => effort::at(scan, at, before),
        W::Numeral | W::Couple | W::One => rest::at(scan, at)
            .or_else(|| effort::at(scan, at, before))
            .or_else(|| day::at(scan, at))
            .or_else(|| numeral(scan, at, before)),
        W::No if matches!(scan.w(at + 1), W::Left | W::More | W::Reps) => {
            effort::at(scan, at, before)
        }
        W::A => rest::at(scan, at)
            .or_else(|| effort::at(scan, at, before))
            .or_else(|| day::at(scan, at)),
        W::Yesterday | W::Weekday | W::Day => day::at(scan, at),
        W::On | W::Last => day::at(scan, at).or_else(|| last(scan, at)),
        W::The => day::at(scan, at),
        W::Warm => match scan.w(at + 1) {
            W::Up => two(Item::Warm),
            _ if scan.is(at + 1, Mark::Minus) && scan.w(at + 2) == W::Up => {
                Some((Item::Warm, at + 3))
            }
            _ => None,
        },
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
        W::Each | W::Per => each(scan, at),
        W::Drop => drop_set(scan, at, before),
        W::Tempo => Some(tempo(scan, at)),
        W::Super if scan.w(skip_dash(scan, at + 1)) == W::Sets => Some((
            Item::Technique(Technique::Superset),
            skip_dash(scan, at + 1) + 1,
        )),
        W::Sets | W::S => label_at(scan, at),
        W::Ordinal if scan.w(at + 1) == W::Sets => two(Item::Label),
        W::Body if scan.w(skip_dash(scan, at + 1)) == W::Weight => {
            Some(body(scan, skip_dash(scan, at + 1) + 1))
        }
        W::Bw => Some(body(scan, at + 1)),
        W::Weighted if scan.digits(at + 1).is_none() => Some((Item::Added, at + 1)),
        W::Plus if !follows_lift(before) => None,
        W::Minus | W::Plus | W::Add | W::Weighted => signed_word(scan, at, w),
        W::Assist => Some((Item::Assisted, at + 1)),
        W::Down | W::Up | W::Back => down_to(scan, at),
        _ => None,
    }
}

fn skip_dash(scan: &Scan<'_>, at: usize) -> usize {
    if scan.is(at, Mark::Minus) { at + 1 } else { at }
}

/// `bw`, `bw+20`, `bw plus 20`, `bw - 15`.
fn body(scan: &Scan<'_>, to: usize) -> Phrase {
    let sign = match scan.token(to) {
        Some(token) if token.is(Mark::Plus) || token.word.w == W::Plus => Sign::Plus,
        Some(token) if token.is(Mark::Minus) || token.word.w == W::Minus => Sign::Minus,
        _ => return (Item::Body, to),
    };
    signed(scan, to, sign).unwrap_or((Item::Body, to))
}

fn signed_word(scan: &Scan<'_>, at: usize, w: W) -> Option<Phrase> {
    let sign = if w == W::Minus {
        Sign::Minus
    } else {
        Sign::Plus
    };
    signed(scan, at, sign)
}

/// `down to 70`, `up to 85`, `back to 80`, `dropped to 70`: a load follows.
fn down_to(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at + 1) != W::To {
        return None;
    }
    let (mut num, to) = number(scan, at + 2, true)?;
    num.load = true;
    Some((Item::Num(num), to))
}

fn drop_set(scan: &Scan<'_>, at: usize, before: &[Spanned]) -> Option<Phrase> {
    let next = skip_dash(scan, at + 1);
    if scan.w(next) == W::Sets {
        return Some((Item::Technique(Technique::DropSet), next + 1));
    }
    if let Some(phrase) = down_to(scan, at) {
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
    let to = dashed_digits(scan, from).unwrap_or(at + 1);
    (Item::Technique(Technique::Tempo), to)
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

fn last(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    if scan.w(at) != W::Last {
        return None;
    }
    match scan.w(at + 1) {
        W::One | W::Sets => Some((Item::Last, at + 2)),
        // `last to failure`, `last 0 left`.
        _ if effort::at(scan, at + 1, &[]).is_some() => Some((Item::Last, at + 1)),
        _ => None,
    }
}

/// Words that are a phrase unless a name starts with them.
fn plain(scan: &Scan<'_>, at: usize, w: W) -> Phrase {
    let one = |item| (item, at + 1);
    match w {
        W::For => one(Item::For),
        W::At | W::With | W::Wi => one(Item::With),
        W::Of => one(Item::Of),
        W::By if scan.digits(at + 1).is_some() => one(Item::Times),
        W::Sets => one(Item::Sets),
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
        W::All | W::Fully => one(Item::Every),
        W::Weighted | W::Add => one(Item::Added),
        W::Twice => one(Item::Word),
        W::Empty if scan.w(at + 1) == W::Bar => (Item::OpenLoad, at + 2),
        W::Plates if at > 0 && scan.digits(at - 1).is_some() => one(Item::Foreign),
        _ => one(Item::Word),
    }
}

fn partials(scan: &Scan<'_>, at: usize) -> Phrase {
    let to = if scan.w(at + 1) == W::Reps {
        at + 2
    } else {
        at + 1
    };
    (Item::Technique(Technique::Partials), to)
}
