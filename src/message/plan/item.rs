//! The exercises of a day: name, sets and repetitions, effort, load, pairs.

use super::{FaultKind, Language};
use crate::domain::catalogue::{Basis, Exercise};
use crate::domain::effort::Rir;
use crate::domain::id::ExerciseId;
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};
use crate::domain::plan::{Amount, Item, PlannedLoad, RepRange, Sets, Slot};

/// The words that do not fit, and what is wrong with them.
type Misfit = (String, FaultKind);

/// The places of a day that stand between two semicolons: usually one, more where a coach parted
/// them by commas.
pub(super) fn slots(text: &str, language: &Language<'_>) -> Vec<Result<Slot, Misfit>> {
    let words = words(text);
    let mut slots: Vec<Vec<String>> = Vec::new();
    for part in words.split(|word| word == ",") {
        // A comma before an effort or behind a name parts no exercises.
        let joins = |last: &Vec<String>| !has_sets(part) || !has_sets(last);
        match slots.last_mut() {
            Some(last) if joins(last) => last.extend_from_slice(part),
            _ => slots.push(part.to_vec()),
        }
    }
    let slots = slots.iter().filter(|words| !words.is_empty());
    slots.map(|words| slot(words, language)).collect()
}

/// Words in lower case, with signs written in several ways made one, numbers that belong together
/// joined (`4 x 6 - 10`), and commas that part something as words of their own.
fn words(text: &str) -> Vec<String> {
    let text = text
        .to_lowercase()
        .replace('×', "x")
        .replace(['–', '—'], "-");
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let bare = word.trim_end_matches([',', ':']);
        if !bare.is_empty() {
            match words.last_mut() {
                Some(last) if belong_together(last, bare) => last.push_str(bare),
                _ => words.push(bare.to_owned()),
            }
        }
        if word.ends_with(',') {
            words.push(",".to_owned());
        }
    }
    words
}

/// Whether two words are parts of `4x6-10`.
fn belong_together(before: &str, after: &str) -> bool {
    let counts = |text: &str| {
        text.starts_with(|c: char| c.is_ascii_digit())
            && text
                .chars()
                .all(|c| c.is_ascii_digit() || c == 'x' || c == '-')
    };
    let ends_open = counts(before) && before.ends_with(['x', '-']);
    let goes_on = after.strip_prefix(['x', '-']);
    let starts_digit = after.starts_with(|c: char| c.is_ascii_digit());
    (ends_open && starts_digit)
        || (counts(before) && goes_on.is_some_and(|rest| rest.is_empty() || counts(rest)))
}

/// Where `4x6-10` or `4 sets of 6-10` stands first, and how many words it is.
fn sets_at(words: &[String]) -> Option<(usize, usize)> {
    (0..words.len()).find_map(|at| {
        let word = words.get(at)?;
        if numbers(word).is_some() {
            return Some((at, 1));
        }
        let spoken = digits(word).is_some()
            && matches!(words.get(at + 1)?.as_str(), "set" | "sets")
            && words.get(at + 2)? == "of"
            && range(words.get(at + 3)?).is_some();
        spoken.then_some((at, 4))
    })
}

fn has_sets(words: &[String]) -> bool {
    sets_at(words).is_some()
}

fn digits(word: &str) -> Option<u32> {
    let plain = !word.is_empty() && word.chars().all(|c| c.is_ascii_digit());
    // Saturating: a number too long to read is out of every bound.
    plain.then(|| word.parse().unwrap_or(u32::MAX))
}

/// `6-10` or `8`.
fn range(word: &str) -> Option<(u32, u32)> {
    match word.split_once('-') {
        Some((low, high)) => Some((digits(low)?, digits(high)?)),
        None => digits(word).map(|reps| (reps, reps)),
    }
}

/// `4x6-10`: sets, fewest, most.
fn numbers(word: &str) -> Option<(u32, (u32, u32))> {
    let (sets, reps) = word.split_once('x')?;
    Some((digits(sets)?, range(reps)?))
}

/// One exercise, or two joined by `with` or a `+` of its own.
fn slot(words: &[String], language: &Language<'_>) -> Result<Slot, Misfit> {
    let mut parts: Vec<&[String]> = Vec::new();
    let mut from = 0;
    for (at, word) in words.iter().enumerate() {
        // Behind its sets a name is over: before that, `with` may belong to it.
        let joins = word == "with" || (word == "+" && !is_amount(words.get(at + 1)));
        if joins && words.get(from..at).is_some_and(has_sets) {
            parts.extend(words.get(from..at));
            from = at + 1;
        }
    }
    parts.extend(words.get(from..));
    match parts.as_slice() {
        [one] => item(one, language).map(Slot::one),
        [first, second] => {
            let pair = vec![item(first, language)?, item(second, language)?];
            Slot::in_turn(pair).map_err(|error| (words.join(" "), FaultKind::Numbers(error)))
        }
        _ => Err((words.join(" "), FaultKind::Crowd)),
    }
}

fn is_amount(word: Option<&String>) -> bool {
    word.is_some_and(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

fn item(words: &[String], language: &Language<'_>) -> Result<Item, Misfit> {
    let (exercise, count, rest) = head(words, language)?;
    let (sets, (low, high)) = count;
    let misfit = |error| (words.join(" "), FaultKind::Numbers(error));
    let details = Details::read(&rest, language.catalogue.exercise(exercise), language.unit)?;
    let sets = Sets::new(sets).map_err(misfit)?;
    let reps = Amount::Reps(RepRange::new(low, high).map_err(misfit)?);
    Ok(Item {
        rir: details.rir,
        load: details.load.map(PlannedLoad::Fixed),
        ..Item::new(exercise, sets, reps)
    })
}

type Head = (ExerciseId, (u32, (u32, u32)), Vec<String>);

/// The exercise, its numbers, and the words behind them.
fn head(words: &[String], language: &Language<'_>) -> Result<Head, Misfit> {
    let named = |words: &[String]| language.names.named(&words.join(" "));
    let unknown = |words: &[String]| {
        let name = words.join(" ");
        let nearest = language.names.nearest(&name, language.catalogue);
        (name, FaultKind::UnknownExercise(nearest))
    };
    let Some((at, length)) = known_sets_at(words, language) else {
        return Err(match named(words) {
            Some(_) => (words.join(" "), FaultKind::NoSets),
            None => missing_sets(words, language).unwrap_or_else(|| unknown(words)),
        });
    };
    let counted = words.get(at..at + length).unwrap_or_default();
    let count = count_of(counted).ok_or_else(|| (words.join(" "), FaultKind::NoSets))?;
    let (before, after) = (
        words.get(..at).unwrap_or_default(),
        words.get(at + length..).unwrap_or_default(),
    );
    if !before.is_empty() {
        let exercise = named(before).ok_or_else(|| unknown(before))?;
        return Ok((exercise, count, after.to_vec()));
    }
    // `4x6-10 back squat 2rir`: the longest name behind the numbers.
    let longest = (1..=after.len()).rev().find_map(|end| {
        let exercise = named(after.get(..end)?)?;
        Some((exercise, after.get(end..)?.to_vec()))
    });
    let (exercise, rest) = longest.ok_or_else(|| {
        let name = after.iter().take_while(|word| !is_amount(Some(word)));
        unknown(&name.cloned().collect::<Vec<_>>())
    })?;
    Ok((exercise, count, rest))
}

/// Where the numbers stand: a name may hold some that look like them, so first those behind a name
/// that is known.
fn known_sets_at(words: &[String], language: &Language<'_>) -> Option<(usize, usize)> {
    let first = sets_at(words)?;
    let mut at = 0;
    while let Some((next, length)) = words.get(at..).and_then(sets_at) {
        let place = at + next;
        let name = words.get(..place).unwrap_or_default().join(" ");
        if language.names.named(&name).is_some() {
            return Some((place, length));
        }
        at = place + length;
    }
    Some(first)
}

/// A known name with something other than sets behind it.
fn missing_sets(words: &[String], language: &Language<'_>) -> Option<Misfit> {
    let known = |end: &usize| {
        let name = words.get(..*end).unwrap_or_default().join(" ");
        language.names.named(&name).is_some()
    };
    let end = (1..words.len()).rev().find(known)?;
    is_amount(words.get(end)).then(|| (words.join(" "), FaultKind::NoSets))
}

fn count_of(words: &[String]) -> Option<(u32, (u32, u32))> {
    match words {
        [word] => numbers(word),
        [sets, _, _, reps] => Some((digits(sets)?, range(reps)?)),
        _ => None,
    }
}

/// What stands behind the sets.
#[derive(Default)]
struct Details {
    rir: Option<Rir>,
    load: Option<Load>,
}

/// The words of details, for the nearest to a slip.
const WORDS: &[&str] = &[
    "rir", "rpe", "left", "failure", "with", "each", "hand", "total", "assisted", "added", "bw",
    "kg", "lb",
];

impl Details {
    fn read(words: &[String], exercise: &Exercise, unit: Unit) -> Result<Self, Misfit> {
        let mut details = Self::default();
        let mut rest = words;
        while !rest.is_empty() {
            let used = if let Some((rir, used)) = effort(rest) {
                let said = said(rest, used);
                let rir = rir.ok_or_else(|| (said.clone(), FaultKind::Effort))?;
                if details.rir.replace(rir).is_some() {
                    return Err((said, FaultKind::Twice));
                }
                used
            } else if let Some((load, used)) = load(rest, exercise, unit) {
                let said = said(rest, used);
                let load = load.ok_or_else(|| (said.clone(), FaultKind::Load))?;
                if details.load.replace(load).is_some() {
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

fn said(words: &[String], count: usize) -> String {
    words.get(..count).unwrap_or_default().join(" ")
}

fn misfit(words: &[String]) -> Misfit {
    let word = words.first().map_or("", String::as_str);
    if decimal(word).is_some() {
        return (word.to_owned(), FaultKind::BareNumber);
    }
    // `2rri`: the number is not what is wrong.
    let letters = word.trim_start_matches(|c: char| !c.is_alphabetic());
    let nearest = WORDS
        .iter()
        .map(|known| (strsim::osa_distance(known, letters), *known))
        .min()
        .filter(|(distance, known)| *distance <= if known.len() > 3 { 2 } else { 1 })
        .map(|(_, known)| known);
    (word.to_owned(), FaultKind::UnknownWord(nearest))
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

/// An effort at the start of the words, with their number: `None` within for one that is none.
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

fn unit_of(word: &str) -> Option<Unit> {
    match word {
        "kg" | "kgs" | "kilo" | "kilos" => Some(Unit::Kg),
        "lb" | "lbs" | "pound" | "pounds" => Some(Unit::Lb),
        _ => None,
    }
}

/// A load at the start of the words, with their number: `None` within for one that is none.
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

/// No load above this is filed, so none is planned.
const HEAVIEST: Mass = Mass::from_grams(1_000_000);

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
