//! Rest taken: `after 2 min`, `rest 90s`, `2:30 rest`, `3' rest`.

use super::item::Item;
use super::scan::{Phrase, Scan};
use crate::message::words::token::{Kind, Mark};
use crate::message::words::variants::has;
use crate::message::words::vocabulary::W;

/// Longer than this is no rest between sets, seconds.
const LONGEST_S: f64 = 3600.0;

/// A rest that starts at `at`: at its leading word, or at its number.
pub(crate) fn at(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    match scan.w(at) {
        W::After | W::Rest | W::Took | W::Resting => led(scan, at),
        _ => {
            let (seconds, to) = duration(scan, at)?;
            let end = tail(scan, to)?;
            Some((Item::Rest(seconds), end))
        }
    }
}

/// The word first, then how long.
fn led(scan: &Scan<'_>, at: usize) -> Option<Phrase> {
    let lead = scan.w(at);
    let mut from = at + 1;
    while from < at + 5 && is_padding(scan, from) {
        from += 1;
    }
    let (seconds, to) = match duration(scan, from) {
        Some(found) => found,
        None if lead == W::Rest => bare(scan, from)?,
        None => return None,
    };
    let end = tail(scan, to).unwrap_or(to);
    // `resting 3 min` is the rest to come, which belongs to no set yet.
    let item = if lead == W::Resting {
        Item::Word
    } else {
        Item::Rest(seconds)
    };
    Some((item, end))
}

/// Words before a time that leave it what it is.
const PADDING: &str = "about approx roughly just only around like a full approximately";

fn is_padding(scan: &Scan<'_>, at: usize) -> bool {
    scan.is(at, Mark::Colon)
        || scan.is(at, Mark::Other)
        || matches!(
            scan.w(at),
            W::Of | W::Was | W::Rest | W::Maybe | W::For | W::About | W::Took | W::Good
        )
        || has(PADDING, scan.text_at(at)) && duration(scan, at).is_none()
}

/// `rest 90` is seconds, `rest 3` is minutes.
fn bare(scan: &Scan<'_>, at: usize) -> Option<(u32, usize)> {
    let value = scan.digits(at)?;
    if scan.is(at + 1, Mark::Times) {
        return None;
    }
    let seconds = if value <= 10.0 { value * 60.0 } else { value };
    Some((whole(seconds)?, at + 1))
}

/// The words behind a length of time that make it rest.
fn tail(scan: &Scan<'_>, at: usize) -> Option<usize> {
    let from = if matches!(scan.w(at), W::Of) {
        at + 1
    } else {
        at
    };
    match scan.w(from) {
        W::Rest if matches!(scan.w(from + 1), W::Between) => Some(from + 2),
        W::Rest | W::Later => Some(from + 1),
        W::Between if scan.w(from + 1) == W::Sets => Some(from + 2),
        W::Between => Some(from + 1),
        W::In if scan.w(from + 1) == W::Between => Some(from + 2),
        _ => None,
    }
}

/// A length of time at `at`: `90 s`, `2 min`, `2:30`, `3'`, `1 min 30`, `a minute`.
pub(crate) fn duration(scan: &Scan<'_>, at: usize) -> Option<(u32, usize)> {
    let token = scan.token(at)?;
    if token.kind == Kind::Clock {
        let end = if matches!(scan.w(at + 1), W::Min | W::Sec) {
            at + 2
        } else {
            at + 1
        };
        return Some((whole(token.value)?, end));
    }
    let (value, to) = amount(scan, at)?;
    let (seconds, to) = with_unit(scan, value, to)?;
    Some((whole(seconds)?, to))
}

fn amount(scan: &Scan<'_>, at: usize) -> Option<(f64, usize)> {
    if let Some(found) = scan.comma_decimal(at) {
        return Some(found);
    }
    if let Some(found) = scan.count(at) {
        let span = scan
            .is(found.1, Mark::Minus)
            .then(|| scan.digits(found.1 + 1))
            .flatten();
        return Some(span.map_or(found, |high| (f64::midpoint(found.0, high), found.1 + 2)));
    }
    match (scan.w(at), scan.w(at + 1)) {
        (W::A, W::Min | W::Sec) => Some((1.0, at + 1)),
        _ => None,
    }
}

fn with_unit(scan: &Scan<'_>, value: f64, at: usize) -> Option<(f64, usize)> {
    if scan.is(at, Mark::Prime) && scan.is(at + 1, Mark::Prime) {
        return Some((value, at + 2));
    }
    if scan.is(at, Mark::DoublePrime) && scan.glued(at) {
        return Some((value, at + 1));
    }
    let minutes = scan.is(at, Mark::Prime) || matches!(scan.w(at), W::Min);
    // `m` is metres elsewhere: rest takes it only where the word follows.
    let short = scan.w(at) == W::M
        && (tail(scan, at + 1).is_some() || scan.glued(at + 1) && scan.digits(at + 1).is_some());
    if minutes || short {
        let (more, to) = seconds_behind(scan, at + 1);
        return Some((value * 60.0 + more, to));
    }
    match scan.w(at) {
        W::Sec | W::S => Some((value, at + 1)),
        _ => None,
    }
}

/// The `30` of `1 min 30` or `1m30s`.
fn seconds_behind(scan: &Scan<'_>, at: usize) -> (f64, usize) {
    match scan.digits(at) {
        Some(value) if value < 60.0 => match scan.w(at + 1) {
            W::Sec | W::S => (value, at + 2),
            _ if scan.is(at + 1, Mark::Times) => (0.0, at),
            _ if scan.glued(at) || value >= 10.0 && value % 5.0 == 0.0 && ends(scan, at + 1) => {
                (value, at + 1)
            }
            _ => (0.0, at),
        },
        _ => (0.0, at),
    }
}

fn ends(scan: &Scan<'_>, at: usize) -> bool {
    scan.token(at)
        .is_none_or(|token| token.kind != Kind::Number && token.kind != Kind::Word)
        || matches!(scan.w(at), W::Rest)
}

fn whole(seconds: f64) -> Option<u32> {
    if !(1.0..=LONGEST_S).contains(&seconds) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and 3,600 by the line above"
    )]
    Some(seconds.round() as u32)
}
