//! What stands behind the sets of the strict form: effort, load, rest, sides, words to the lifter.

use super::item::{Misfit, Strict, digits, range};
use super::{FaultKind, may_be_share};
use crate::domain::coaching::plan::{Note, Percent, PlanError, PlannedLoad, Seconds};
use crate::domain::quantities::catalogue::{Basis, Exercise};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::load::{HEAVIEST, Load};
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::words::unit::unit_of;

/// What stands behind the sets.
#[derive(Default)]
pub(super) struct Details {
    pub(super) rir: Option<Rir>,
    pub(super) load: Option<PlannedLoad>,
    pub(super) rest: Option<Seconds>,
    pub(super) per_side: bool,
    pub(super) note: Option<Note>,
}

/// The words of details, for the nearest to a slip.
const WORDS: &[&str] = &[
    "rir", "rpe", "left", "failure", "with", "each", "hand", "total", "assisted", "added", "bw",
    "kg", "lb",
];

impl Details {
    pub(super) fn read(
        words: &[String],
        exercise: &Exercise,
        reps: Option<u32>,
        language: &Strict<'_>,
    ) -> Result<Self, Misfit> {
        let mut details = Self::default();
        let mut rest = words;
        while !rest.is_empty() {
            let used = if let Some(note) = language.note(rest) {
                details.note = details.note.or(note);
                1
            } else if let ["each", "side", ..] = heads(rest) {
                details.per_side = true;
                2
            } else if let Some((time, used)) = rest_time(rest) {
                let said = said(rest, used);
                let time = time.map_err(|error| (said.clone(), FaultKind::Numbers(error)))?;
                if details.rest.replace(time).is_some() {
                    return Err((said, FaultKind::Twice));
                }
                used
            } else if let Some((share, used)) = share(rest) {
                let said = said(rest, used);
                let share = share.map_err(|error| (said.clone(), FaultKind::Numbers(error)))?;
                if details.load.replace(share).is_some() {
                    return Err((said, FaultKind::Twice));
                }
                used
            } else if open_load(rest, reps) {
                let words = if rest.first().is_some_and(|word| word == "@") {
                    2
                } else {
                    1
                };
                return Err((said(rest, words), FaultKind::LoadOrShare));
            } else if let Some((rir, used)) = effort(rest) {
                let said = said(rest, used);
                let rir = rir.ok_or_else(|| (said.clone(), FaultKind::Effort))?;
                if details.rir.replace(rir).is_some() {
                    return Err((said, FaultKind::Twice));
                }
                used
            } else if let Some((load, used)) = load(rest, exercise, language.unit) {
                let said = said(rest, used);
                let load = load.ok_or_else(|| (said.clone(), FaultKind::Load))?;
                if details.load.replace(PlannedLoad::Fixed(load)).is_some() {
                    return Err((said, FaultKind::Twice));
                }
                used
            } else {
                return Err(misfit(rest));
            };
            rest = rest.get(used..).unwrap_or_default();
        }
        Ok(details)
    }
}

impl Strict<'_> {
    /// The words of a note that stands here.
    fn note(&self, words: &[String]) -> Option<Option<Note>> {
        let place = words.first()?.strip_prefix('"')?;
        let words = self.notes.get(place.parse::<usize>().ok()?)?;
        Some(Note::new(words))
    }
}

fn heads(words: &[String]) -> [&str; 2] {
    [0, 1].map(|at| words.get(at).map_or("", String::as_str))
}

/// `rest 2-3min`, `rest 90s`.
fn rest_time(words: &[String]) -> Option<(Result<Seconds, PlanError>, usize)> {
    let ["rest", time] = heads(words) else {
        return None;
    };
    let (number, unit) = match (time.strip_suffix("min"), time.strip_suffix('s')) {
        (Some(number), _) => (number, 60),
        (None, Some(number)) => (number, 1),
        (None, None) => return None,
    };
    let (low, high) = range(number)?;
    let seconds = Seconds::rest(low.saturating_mul(unit), high.saturating_mul(unit));
    Some((seconds, 2))
}

/// `75%`, `60-70%`, `90% of 5rm`, `90% of top set`.
fn share(words: &[String]) -> Option<(Result<PlannedLoad, PlanError>, usize)> {
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    let number = word(0).trim_start_matches('@').strip_suffix('%')?;
    let (low, high) = match number.split_once('-') {
        Some((low, high)) => (decimal(low)?, decimal(high)?),
        None => (decimal(number)?, decimal(number)?),
    };
    let (low, high) = match (Percent::new(low), Percent::new(high)) {
        (Ok(low), Ok(high)) if low <= high => (low, high),
        _ => return Some((Err(PlanError::Percent), 1)),
    };
    Some(match (word(1), word(2), word(3)) {
        ("of", "top", "set") => (Ok(PlannedLoad::OfTopSet(low)), 4),
        ("of", reps, _) => {
            let of = reps.strip_suffix("rm").and_then(digits);
            let of = of.filter(|of| (1..=20).contains(of))?;
            (Ok(PlannedLoad::Share { low, high, of }), 3)
        }
        _ => (Ok(PlannedLoad::Share { low, high, of: 1 }), 1),
    })
}

/// `@75`: kilograms or percent, which nobody can tell.
fn open_load(words: &[String], reps: Option<u32>) -> bool {
    let [first, second] = heads(words);
    let (number, next) = match first {
        "@" => (second, words.get(2).map_or("", String::as_str)),
        first => match first.strip_prefix('@') {
            Some(number) => (number, second),
            None => return false,
        },
    };
    let open = decimal(number).is_some_and(|value| may_be_share(value, reps));
    open && unit_of(next).is_none()
}

fn said(words: &[String], count: usize) -> String {
    words.get(..count).unwrap_or_default().join(" ")
}

fn misfit(words: &[String]) -> Misfit {
    let word = words.first().map_or("", String::as_str);
    if decimal(word).is_some() {
        return (word.to_owned(), FaultKind::BareNumber);
    }
    (word.to_owned(), FaultKind::UnknownWord(nearest_word(word)))
}

/// The word of a detail of which this is a slip: `rir` of `2rri`.
pub(super) fn nearest_word(word: &str) -> Option<&'static str> {
    // The number is not what is wrong.
    let letters = word.trim_start_matches(|c: char| !c.is_alphabetic());
    WORDS
        .iter()
        .map(|known| (strsim::osa_distance(known, letters), *known))
        .min()
        .filter(|(distance, known)| *distance <= if known.len() > 3 { 2 } else { 1 })
        .map(|(_, known)| known)
}

/// A plain number with at most two decimals, either mark; 0 and above.
fn decimal(text: &str) -> Option<f64> {
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
pub(super) fn effort(words: &[String]) -> Option<(Option<Rir>, usize)> {
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

fn in_reserve(left: f64) -> Option<Rir> {
    let halves = left * 2.0;
    let even = (halves - halves.round()).abs() < 1e-9;
    Rir::new(left).ok().filter(|_| even && left <= MOST_LEFT)
}

fn from_rpe(rpe: f64) -> Option<Rir> {
    Rir::from_rpe(rpe).ok()
}

/// A load at the start of the words, with their number; the inner option is `None` when it is out of
/// range.
fn load(words: &[String], exercise: &Exercise, own: Unit) -> Option<(Option<Load>, usize)> {
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    if matches!(word(0), "bw" | "bodyweight") {
        let body = (exercise.basis == Basis::Body).then(|| Load::body(own));
        return Some((body, 1));
    }
    let mut used = 0;
    let mut basis = None;
    if matches!(word(0), "assisted" | "added") {
        basis = Some(if word(0) == "added" {
            Basis::Added
        } else {
            Basis::Assisted
        });
        used += 1;
    }
    let (sign, mut text) = signed(word(used));
    let at = sign == Some('@');
    match sign {
        Some('+') => basis = Some(Basis::Added),
        Some('-') => basis = Some(Basis::Assisted),
        _ => {}
    }
    used += 1;
    if text.is_empty() {
        text = word(used);
        used += 1;
    }
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, glued) = text.split_at_checked(split)?;
    let amount = decimal(number)?;
    let mut unit = unit_of(glued);
    if glued.is_empty() {
        unit = unit_of(word(used));
        used += usize::from(unit.is_some());
    } else if unit.is_none() {
        return None;
    }
    // A bare number counts nobody knows what, but behind a sign it can only be a load.
    let unit = unit.or_else(|| (at || basis.is_some()).then_some(own))?;
    match (word(used), word(used + 1)) {
        // Of a bar, whose weight is not said.
        ("each" | "per", "side") if exercise.basis != Basis::PerHand => return None,
        ("each" | "per", "hand" | "side") => {
            basis = Some(Basis::PerHand);
            used += 2;
        }
        ("each", _) => {
            basis = Some(Basis::PerHand);
            used += 1;
        }
        ("total", _) => {
            basis = Some(Basis::Total);
            used += 1;
        }
        ("assisted" | "added", _) if basis.is_none() => {
            let added = word(used) == "added";
            basis = Some(if added { Basis::Added } else { Basis::Assisted });
            used += 1;
        }
        _ => {}
    }
    Some((made(amount, unit, basis, exercise), used))
}

fn signed(word: &str) -> (Option<char>, &str) {
    match word.chars().next() {
        Some(sign @ ('@' | '+' | '-')) => (Some(sign), word.get(1..).unwrap_or_default()),
        _ => (None, word),
    }
}

/// The load, where the exercise can have it: what is hung on or taken off needs a lift of the body.
fn made(amount: f64, unit: Unit, basis: Option<Basis>, exercise: &Exercise) -> Option<Load> {
    let basis = basis.unwrap_or(match exercise.basis {
        Basis::Body => Basis::Added,
        own => own,
    });
    let of_the_body = exercise.basis == Basis::Body;
    let fits = of_the_body || !matches!(basis, Basis::Added | Basis::Assisted);
    // As printed, so that what is shown is what is kept.
    let mass = Mass::new((amount * 100.0).round() / 100.0, unit).ok()?;
    let sound = mass > Mass::ZERO && mass <= HEAVIEST;
    (fits && sound).then_some(Load { mass, unit, basis })
}
