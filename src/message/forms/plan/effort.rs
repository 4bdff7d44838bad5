//! An effort in words, as blocks, plans and answers say it: `2 left`, `rpe 8`, `to failure`.

use crate::domain::quantities::effort::Rir;
use crate::message::words::unit::unit_of;

/// A plain number with at most two decimals, either mark; 0 and above.
pub(super) fn decimal(text: &str) -> Option<f64> {
    let plain = text.starts_with(|c: char| c.is_ascii_digit())
        && text
            .chars()
            .all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    plain.then(|| text.replace(',', ".").parse().ok()).flatten()
}

/// A number or a span of two, whose middle is meant: `2`, `1-2`.
fn middle(text: &str) -> Option<f64> {
    match text.split_once('-') {
        Some((low, high)) => Some(f64::midpoint(decimal(low)?, decimal(high)?)),
        None => decimal(text),
    }
}

/// An effort at the start of the words, with their number; the inner option is `None` when it is out
/// of range.
pub(crate) fn effort_at(words: &[String]) -> Option<(Option<Rir>, usize)> {
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    let first = word(0);
    match (first, word(1)) {
        ("to", "failure" | "fail") => return Some((Some(Rir::FAILURE), 2)),
        ("failure" | "fail" | "f", _) => return Some((Some(Rir::FAILURE), 1)),
        ("rir", number) => return Some((in_reserve(middle(number)?), 2)),
        ("rpe", number) => return Some((from_rpe(middle(number)?), 2)),
        ("@", number) => {
            let rpe = decimal(number).filter(|_| unit_of(word(2)).is_none());
            return rpe.filter(|rpe| *rpe <= 10.0).map(|rpe| (from_rpe(rpe), 2));
        }
        (number, "rir" | "left") => {
            if let Some(left) = middle(number) {
                return Some((in_reserve(left), 2));
            }
        }
        (number, "in") if word(2) == "reserve" => return Some((in_reserve(middle(number)?), 3)),
        (number, "in") if word(2) == "the" && word(3) == "tank" => {
            return Some((in_reserve(middle(number)?), 4));
        }
        _ => {}
    }
    if let Some(number) = first
        .strip_suffix("rir")
        .or_else(|| first.strip_prefix("rir"))
    {
        return Some((in_reserve(middle(number)?), 1));
    }
    if let Some(number) = first.strip_prefix("rpe") {
        return Some((from_rpe(middle(number)?), 1));
    }
    if let Some(number) = first.strip_prefix('@') {
        let rpe = decimal(number).filter(|_| unit_of(word(1)).is_none());
        return rpe.filter(|rpe| *rpe <= 10.0).map(|rpe| (from_rpe(rpe), 1));
    }
    None
}

/// Most repetitions in reserve that a plan asks for: beyond that nobody can tell. Trade practice.
const MOST_LEFT: f64 = 10.0;

pub(super) fn in_reserve(left: f64) -> Option<Rir> {
    let halves = left * 2.0;
    let even = (halves - halves.round()).abs() < 1e-9;
    Rir::new(left).ok().filter(|_| even && left <= MOST_LEFT)
}

fn from_rpe(rpe: f64) -> Option<Rir> {
    Rir::from_rpe(rpe).ok()
}
