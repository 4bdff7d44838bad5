//! Days: `yesterday`, `mon`, `on tuesday`, `2 days ago`, `2026-03-01`.
//!
//! Days to come belong to no set; they are told apart in `judge`.

use chrono::{NaiveDate, Weekday};

use super::item::Item;
use super::reading::Day;
use super::scan::{Phrase, Scan};
use super::token::{Kind, Mark};
use super::vocabulary::W;

/// Days further back than this are not counted in words.
const FURTHEST: f64 = 60.0;

/// A day that starts at `at`.
pub(super) fn at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let (day, to) = named(scan, at)
        .or_else(|| counted(scan, at))
        .or_else(|| date(scan, at))?;
    // `monday's` and the colon behind a day belong to it.
    Some((Item::Day(day), to))
}

fn named(scan: &Scan<'_>, at: usize) -> Option<(Day, usize)> {
    match scan.w(at) {
        W::Yesterday => Some((Day::Ago(1), at + 1)),
        // `sore from monday`, `target for friday` date no set.
        W::Weekday
            if at > 0 && matches!(scan.w(at - 1), W::From | W::For | W::Till | W::By | W::Like) =>
        {
            None
        }
        // `sat down there` is no Saturday.
        W::Weekday if matches!(scan.w(at + 1), W::Down | W::There | W::In) => None,
        W::Weekday => Some((Day::Weekday(weekday(scan, at)?), at + 1)),
        W::On | W::This if scan.w(at + 1) == W::Weekday => named(scan, at + 1),
        W::On if scan.token(at + 1).is_some_and(|t| t.kind == Kind::Date) => date(scan, at + 1),
        W::Last if scan.w(at + 1) == W::Weekday => named(scan, at + 1),
        W::Last if scan.w(at + 1) == W::Night => Some((Day::Ago(1), at + 2)),
        W::On if scan.w(at + 1) == W::Last => named(scan, at + 1),
        W::The if scan.w(at + 1) == W::Day => named(scan, at + 1),
        W::Day if scan.w(at + 1) == W::Before && scan.w(at + 2) == W::Yesterday => {
            Some((Day::Ago(2), at + 3))
        }
        _ => None,
    }
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
