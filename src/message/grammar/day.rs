//! Days: `yesterday`, `mon`, `on tuesday`, `2 days ago`, `2026-03-01`.
//!
//! Days to come belong to no set; they are told apart in `judge`.

use chrono::{NaiveDate, Weekday};

use super::item::Item;
use super::scan::{Phrase, Scan};
use crate::message::reading::Day;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// Days further back than this are not counted in words.
const FURTHEST: f64 = 60.0;

/// A day that starts at `at`.
pub(crate) fn at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let (day, to) = named(scan, at)
        .or_else(|| counted(scan, at))
        .or_else(|| date(scan, at))
        .or_else(|| yearless(scan, at))?;
    // `monday's` and the colon behind a day belong to it.
    Some((Item::Day(day), to))
}

fn named(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    match scan.w(at) {
        W::Yesterday => Some((Day::Ago(1), at + 1)),
        // `from tuesday, rdl 60x10`, `bench from monday 55x8`
        W::From if scan.w(at + 1) == W::Weekday && is_of_sets(scan, at) => {
            Some((Day::Weekday(weekday(scan, at + 1)?), at + 2))
        }
        // `sore from monday`, `target for friday` date no set.
        W::Weekday
            if at > 0 && matches!(scan.w(at - 1), W::From | W::For | W::Till | W::By | W::Like) =>
        {
            None
        }
        // `sat down there` is no Saturday.
        W::Weekday if matches!(scan.w(at + 1), W::Down | W::There | W::In) => None,
        // `mondays bench: 60x8` is of one day, `on mondays I bench 60x8` of many.
        W::Weekday
            if scan.text_at(at).ends_with("days")
                && scan.names.exercise_at(scan.tokens, at + 1).is_none() =>
        {
            None
        }
        W::Weekday => Some((Day::Weekday(weekday(scan, at)?), at + 1)),
        W::On | W::This if scan.w(at + 1) == W::Weekday => named(scan, at + 1),
        W::On if scan.token(at + 1).is_some_and(|t| t.kind == Kind::Date) => date(scan, at + 1),
        W::Last if scan.w(at + 1) == W::Weekday => named(scan, at + 1),
        W::Last if scan.w(at + 1) == W::Night => Some((Day::Ago(1), at + 2)),
        W::On if scan.w(at + 1) == W::Last => named(scan, at + 1),
        W::On => yearless(scan, at + 1),
        W::The if scan.w(at + 1) == W::Day => named(scan, at + 1),
        W::Day if scan.w(at + 1) == W::Before && scan.w(at + 2) == W::Yesterday => {
            Some((Day::Ago(2), at + 3))
        }
        // `bench 60x10 yesterday and the day before squat 100x5`
        W::Day if scan.w(at + 1) == W::Before && (0..at).any(|at| scan.w(at) == W::Yesterday) => {
            Some((Day::Ago(2), at + 2))
        }
        _ => None,
    }
}

/// Whether words that stand here are of the sets: right behind an exercise, or before all that is told.
fn is_of_sets(scan: &Scan<'_>, at: usize) -> bool {
    let fills = |at: usize| {
        let token = scan.token(at);
        token.is_some_and(|token| token.word.roles.any(Roles::FILL) || token.word.w == W::And)
    };
    let ends_here = |from: usize| {
        let name = scan.names.exercise_at(scan.tokens, from);
        name.is_some_and(|name| name.to == at)
    };
    (0..at).all(fills) || (0..at).any(ends_here)
}

fn weekday(scan: &Scan<'_>, at: usize) -> Option<Weekday> {
    Weekday::try_from(scan.token(at)?.word.value).ok()
}

/// `2 days ago`, `a week ago`.
fn counted(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    let (count, unit) = match scan.w(at) {
        W::A if scan.w(at + 1) != W::Couple => (1.0, at + 1),
        _ => scan.count(at)?,
    };
    let from = if scan.w(unit) == W::Of {
        unit + 1
    } else {
        unit
    };
    if scan.w(from + 1) != W::Ago {
        return None;
    }
    let days = match scan.w(from) {
        W::Day => count,
        W::Week => count * 7.0,
        _ => return None,
    };
    if !(1.0..=FURTHEST).contains(&days) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and 60 by the line above"
    )]
    Some((Day::Ago(days as u32), from + 2))
}

fn date(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    let token = scan.token(at).filter(|token| token.kind == Kind::Date)?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "eight digits by the tokenizer"
    )]
    let digits = token.value as u32;
    let year = i32::try_from(digits / 10_000).ok()?;
    let date = NaiveDate::from_ymd_opt(year, digits / 100 % 100, digits % 100)?;
    let to = if scan.is(at + 1, Mark::Colon) {
        at + 2
    } else {
        at + 1
    };
    Some((Day::Date(date), to))
}

/// The first letters of the months, in order.
const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// A date without a year, or with one behind it, at the start of a message or after `on`: `23/11`,
/// `24.11.`, `24 Nov`, `Nov 24`. An exercise, a colon or a line's end stands behind it.
fn yearless(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    let after_on = at > 0 && scan.w(at - 1) == W::On;
    if at > 0 && !after_on {
        return None;
    }
    let (day, to) = in_digits(scan, at).or_else(|| with_month(scan, at))?;
    let marks = [Mark::Colon, Mark::Comma, Mark::Minus, Mark::Line].map(|mark| scan.is(to, mark));
    let parted = marks.contains(&true);
    let named = scan.names.exercise_at(scan.tokens, to).is_some();
    let fraction = matches!(day, Day::Yearless { day, month, .. } if day < month && month <= 4);
    let plain = named && !fraction && !scan.is(to, Mark::Minus);
    let end = to + usize::from(parted && !scan.is(to, Mark::Line));
    (after_on || parted && names_behind(scan, to) || plain).then_some((day, end))
}

/// Whether an exercise is named behind the mark at `at`, with nothing but words before it.
fn names_behind(scan: &Scan<'_>, at: usize) -> bool {
    let named = |at: &usize| scan.names.exercise_at(scan.tokens, *at).is_some();
    let behind = at + 1..scan.tokens.len().min(at + 1 + MOST_WORDS_BEFORE);
    let word = |at: usize| scan.token(at).is_some_and(|t| t.kind == Kind::Word);
    let first = behind.clone().find(named);
    first.is_some_and(|first| (behind.start..first).all(word))
}

/// So many words between a date and the exercise make no story of it.
const MOST_WORDS_BEFORE: usize = 6;

/// `23/11`, `23/11/26`, `24.11.`: the day first, or the month where the day cannot be one.
fn in_digits(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    let token = scan.token(at).filter(|token| token.kind == Kind::Number)?;
    let text = scan.text.text_of(token);
    let small = |text: &str| text.parse::<u32>().ok().filter(|_| text.len() < 3);
    let (first, second, to) = if let Some((first, second)) = text.split_once('.') {
        (small(first)?, small(second)?, at + 1)
    } else {
        let glued = scan.glued(at + 1) && scan.glued(at + 2);
        let behind = scan.token(at + 2).filter(|t| t.kind == Kind::Number)?;
        (glued && scan.is(at + 1, Mark::Slash)).then_some(())?;
        (small(text)?, small(scan.text.text_of(behind))?, at + 3)
    };
    let dotted = text.contains('.');
    let mark = if dotted { Mark::Stop } else { Mark::Slash };
    let to = match scan.digits(to + 1) {
        Some(year) if scan.is(to, mark) && scan.glued(to + 1) => {
            ((20.0..100.0).contains(&year) || (2000.0..2100.0).contains(&year)).then_some(to + 2)?
        }
        _ if dotted => scan.is(to, Mark::Stop).then_some(to + 1)?,
        _ if scan.is(to, mark) => return None,
        _ => to,
    };
    let is_month = |number: u32| (1..=12).contains(&number);
    let is_day = |number: u32| (1..=31).contains(&number);
    let day = match (first, second) {
        (day, month) if is_day(day) && is_month(month) => Day::Yearless {
            day,
            month,
            either: !dotted && is_month(day) && day != month,
        },
        (month, day) if !dotted && is_month(month) && is_day(day) => Day::Yearless {
            day,
            month,
            either: false,
        },
        _ => return None,
    };
    Some((day, to))
}

/// `24 Nov`, `24th of November`, `Nov 24`.
fn with_month(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    let month = |at: usize| {
        let text = scan.text_at(at);
        let short = text
            .get(..3)
            .filter(|_| text.len() != 4 || text == "june" || text == "july" || text == "sept")?;
        let month = (1_u32..).zip(MONTHS).find(|(_, name)| *name == short)?;
        const FULL: &str =
            "january february march april may june july august september october november december";
        (text.len() == 3 || text == "sept" || FULL.split(' ').any(|full| full == text))
            .then_some(month.0)
    };
    let day = |at: usize| (1_u32..=31).find(|day| scan.digits(at) == Some(f64::from(*day)));
    let th = |at: usize| at + usize::from(scan.w(at) == W::Th && scan.glued(at));
    if let Some(day) = day(at) {
        let to = th(at + 1);
        let to = to + usize::from(scan.w(to) == W::Of);
        let month = month(to)?;
        return Some((
            Day::Yearless {
                day,
                month,
                either: false,
            },
            to + 1,
        ));
    }
    let month = month(at)?;
    let day = day(at + 1)?;
    Some((
        Day::Yearless {
            day,
            month,
            either: false,
        },
        th(at + 2),
    ))
}
