//! Phrases with numbers in them, as patterns with one matcher: `last|final ?set ?was # .`
//!
//! The parts of a pattern stand apart by spaces. `#` is a number, `#th` a place in a row (`2nd`, `third`, and
//! [`LAST`] for `last` and `final`), `,` a mark that parts, `*` a cross, `/` a slash, `+` a word or mark that
//! joins, `.` the end of a clause or the beginning of an effort, which the phrase leaves where it is. Anything
//! else is a word, or several with `|` between them. What begins with `?` may be missing.

use std::str::Split;

use super::effort;
use super::scan::Scan;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::W;

/// The place that `last` and `final` stand for.
pub(super) const LAST: f64 = 0.0;

/// A phrase that was found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    /// The token behind it.
    pub to: usize,
    /// Its numbers, in order.
    pub numbers: Vec<f64>,
}

/// What the first of some patterns makes of the tokens from `at` on.
pub(super) fn any(scan: &Scan<'_>, at: usize, patterns: &[&str]) -> Option<Found> {
    patterns.iter().find_map(|pattern| {
        let mut numbers = Vec::new();
        let to = from(scan, at, pattern.split(' '), &mut numbers)?;
        Some(Found { to, numbers })
    })
}

fn from(
    scan: &Scan<'_>,
    at: usize,
    mut rest: Split<'_, char>,
    numbers: &mut Vec<f64>,
) -> Option<usize> {
    let Some(part) = rest.next() else {
        return Some(at);
    };
    if let Some(part) = part.strip_prefix('?') {
        let known = numbers.len();
        if let Some(next) = one(scan, at, part, numbers)
            && let Some(to) = from(scan, next, rest.clone(), numbers)
        {
            return Some(to);
        }
        numbers.truncate(known);
        return from(scan, at, rest, numbers);
    }
    let next = one(scan, at, part, numbers)?;
    from(scan, next, rest, numbers)
}

/// The token behind one part of a pattern.
fn one(scan: &Scan<'_>, at: usize, part: &str, numbers: &mut Vec<f64>) -> Option<usize> {
    let mark = |marks: &[Mark]| marks.iter().any(|m| scan.is(at, *m)).then_some(at + 1);
    match part {
        "#" => {
            let (value, to) = scan.count(at)?;
            numbers.push(value);
            Some(to)
        }
        "#th" => {
            let (value, to) = place(scan, at)?;
            numbers.push(value);
            Some(to)
        }
        "." => ends(scan, at).then_some(at),
        "," => mark(&[
            Mark::Comma,
            Mark::Open,
            Mark::Minus,
            Mark::Colon,
            Mark::Stop,
        ]),
        "*" => mark(&[Mark::Times]),
        "/" => mark(&[Mark::Slash]),
        "+" => mark(&[Mark::Plus, Mark::And])
            .or_else(|| matches!(scan.w(at), W::And | W::Then | W::Plus).then_some(at + 1)),
        words => {
            let text = scan.text_at(at);
            (!text.is_empty() && words.split('|').any(|word| word == text)).then_some(at + 1)
        }
    }
}

/// A place in a row of sets.
fn place(scan: &Scan<'_>, at: usize) -> Option<(f64, usize)> {
    match scan.text_at(at) {
        "last" | "final" => return Some((LAST, at + 1)),
        "second" => return Some((2.0, at + 1)),
        _ => {}
    }
    effort::ordinal(scan, at)
}

/// Whether a clause ends before `at`, or an effort begins there.
fn ends(scan: &Scan<'_>, at: usize) -> bool {
    let ended = scan.token(at).is_none_or(|token| match token.kind {
        Kind::Mark(mark) => !matches!(
            mark,
            Mark::Times
                | Mark::Star
                | Mark::Plus
                | Mark::At
                | Mark::Slash
                | Mark::Question
                | Mark::Percent
                | Mark::Money
        ),
        Kind::Word => matches!(token.word.w, W::And | W::Then | W::But),
        _ => false,
    });
    ended || effort::at(scan, at, &[]).is_some()
}
