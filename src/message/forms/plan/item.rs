//! The exercises of a day: name, sets and repetitions, effort, load, pairs.

use super::detail::Details;
use super::{FaultKind, Language, is_beyond, is_held};
use crate::domain::coaching::plan::{Amount, Item, PlanError, RepRange, Seconds, Sets, Slot};
use crate::domain::quantities::id::ExerciseId;

/// The words that do not fit, and what is wrong with them.
pub(super) type Misfit = (String, FaultKind);

/// The places of a day that stand between two semicolons: usually one, more where a coach parted
/// them by commas.
pub(super) fn slots(text: &str, language: &Language<'_>) -> Vec<Result<Slot, Misfit>> {
    let (text, notes) = without_notes(text);
    let words = words(&text);
    let language = &Strict {
        language,
        notes: &notes,
    };
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

/// The language, with the words in quotation marks of the text at hand.
pub(super) struct Strict<'a> {
    pub(super) language: &'a Language<'a>,
    pub(super) notes: &'a [String],
}

impl<'a> std::ops::Deref for Strict<'a> {
    type Target = Language<'a>;

    fn deref(&self) -> &Self::Target {
        self.language
    }
}

/// The text with each `"words to the lifter"` as `"0`, `"1` …, and those words.
fn without_notes(text: &str) -> (String, Vec<String>) {
    let (mut out, mut notes) = (String::new(), Vec::new());
    let mut rest = text;
    while let Some((before, behind)) = rest.split_once('"') {
        let Some((note, behind)) = behind.split_once('"') else {
            break;
        };
        out.push_str(before);
        out.push_str(&format!(" \"{} ", notes.len()));
        notes.push(note.to_owned());
        rest = behind;
    }
    out.push_str(rest);
    (out, notes)
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
        let spoken = range(word).is_some()
            && matches!(words.get(at + 1)?.as_str(), "set" | "sets")
            && words.get(at + 2)? == "of"
            && range(words.get(at + 3)?).is_some();
        spoken.then_some((at, 4))
    })
}

fn has_sets(words: &[String]) -> bool {
    sets_at(words).is_some()
}

pub(super) fn digits(word: &str) -> Option<u32> {
    let plain = !word.is_empty() && word.chars().all(|c| c.is_ascii_digit());
    // Saturating: a number too long to read is out of every bound.
    plain.then(|| word.parse().unwrap_or(u32::MAX))
}

/// `6-10` or `8`.
pub(super) fn range(word: &str) -> Option<(u32, u32)> {
    match word.split_once('-') {
        Some((low, high)) => Some((digits(low)?, digits(high)?)),
        None => digits(word).map(|reps| (reps, reps)),
    }
}

/// Behind a number that are repetitions, though it is large.
pub(super) const REPS: &str = "reps";

/// `4x6-10`: sets, fewest, most.
fn numbers(word: &str) -> Option<Count> {
    // `3x60reps` is what is printed where the number alone would be read as something else.
    let (sets, amount) = word.strip_suffix(REPS).unwrap_or(word).split_once('x')?;
    let count = (range(sets)?, Of::read(amount)?);
    let open = matches!(count.1, Of::Reps(low, high) if is_open(count.0, (low, high)));
    (!open).then_some(count)
}

/// Whether numbers before and behind an `x` may as well be repetitions and then sets: `12-15x3`,
/// `15x3`. Printed, they are `15 sets of 3`.
pub(super) const fn is_open((fewest, most): (u32, u32), (low, high): (u32, u32)) -> bool {
    let few = low == high && high <= 6;
    few && most <= 20 && (fewest >= 12 || (fewest >= 6 && fewest < most))
}

/// Sets from fewest to most, and what each is.
type Count = ((u32, u32), Of);

/// What one set is, as written.
#[derive(Clone, Debug)]
enum Of {
    Reps(u32, u32),
    List(Vec<u32>),
    Time(u32, u32),
    Max,
}

impl Of {
    /// `6-10`, `10/8/6`, `30-45s`, `max`.
    fn read(text: &str) -> Option<Self> {
        if text == "max" {
            return Some(Self::Max);
        }
        if text.contains('/') {
            let list: Option<Vec<u32>> = text.split('/').map(digits).collect();
            return list.map(Self::List);
        }
        match text.strip_suffix('s') {
            Some(time) => range(time).map(|(low, high)| Self::Time(low, high)),
            None => range(text).map(|(low, high)| Self::Reps(low, high)),
        }
    }

    fn amount(self) -> Result<Amount, PlanError> {
        match self {
            Self::Reps(low, high) => RepRange::new(low, high).map(Amount::Reps),
            Self::List(list) => Amount::by_set(list),
            Self::Time(low, high) => Seconds::held(low, high).map(Amount::Time),
            Self::Max => Ok(Amount::Max),
        }
    }
}

/// One exercise, or several joined by `with` or a `+` of its own.
fn slot(words: &[String], language: &Strict<'_>) -> Result<Slot, Misfit> {
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
    let items = parts.into_iter().map(|part| item(part, language));
    let items = items.collect::<Result<Vec<_>, _>>()?;
    Slot::in_turn(items).map_err(|error| (words.join(" "), FaultKind::Numbers(error)))
}

fn is_amount(word: Option<&String>) -> bool {
    word.is_some_and(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

fn item(words: &[String], language: &Strict<'_>) -> Result<Item, Misfit> {
    let ((exercise, or), count, rest) = head(words, language)?;
    let ((fewest, most), of) = count;
    let told = words.iter().any(|word| word.ends_with(REPS));
    let of = match of {
        Of::Reps(low, high)
            if !told && is_held(&language.catalogue.exercise(exercise).name, low.into()) =>
        {
            Of::Time(low, high)
        }
        of => of,
    };
    let misfit = |error| (words.join(" "), FaultKind::Numbers(error));
    let sets = Sets::range(fewest, most).map_err(misfit)?;
    let amount = of.amount().map_err(misfit)?;
    let lift = language.catalogue.exercise(exercise);
    if !told && is_beyond(&amount, lift) {
        return Err((words.join(" "), FaultKind::NoSets));
    }
    let details = Details::read(&rest, lift, amount.reps().map(RepRange::low), language)?;
    Ok(Item {
        or,
        rir: details.rir,
        load: details.load,
        rest: details.rest,
        per_side: details.per_side,
        note: details.note,
        ..Item::new(exercise, sets, amount)
    })
}

/// An exercise, and those that may be done in its place.
type Choice = (ExerciseId, Vec<ExerciseId>);
type Head = (Choice, Count, Vec<String>);

/// `bench press`, `bench press or dip`.
fn choice(words: &[String], language: &Strict<'_>) -> Option<Choice> {
    // A stroke stands between two exercises; the index of names would read over it.
    let named = |words: &[String]| {
        let name = words.join(" ");
        language.names.named(&name).filter(|_| !name.contains('/'))
    };
    if let Some(one) = named(words) {
        return Some((one, Vec::new()));
    }
    let mut names = words.split(|word| word == "or").map(named);
    let first = names.next()??;
    Some((first, names.collect::<Option<_>>()?))
}

/// The exercise, its numbers, and the words behind them.
fn head(words: &[String], language: &Strict<'_>) -> Result<Head, Misfit> {
    let named = |words: &[String]| choice(words, language);
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
fn known_sets_at(words: &[String], language: &Strict<'_>) -> Option<(usize, usize)> {
    let first = sets_at(words)?;
    let mut at = 0;
    while let Some((next, length)) = words.get(at..).and_then(sets_at) {
        let place = at + next;
        let name = words.get(..place).unwrap_or_default();
        if choice(name, language).is_some() {
            return Some((place, length));
        }
        at = place + length;
    }
    Some(first)
}

/// A known name with something other than sets behind it.
fn missing_sets(words: &[String], language: &Strict<'_>) -> Option<Misfit> {
    let known = |end: &usize| {
        let name = words.get(..*end).unwrap_or_default().join(" ");
        language.names.named(&name).is_some()
    };
    let end = (1..words.len()).rev().find(known)?;
    is_amount(words.get(end)).then(|| (words.join(" "), FaultKind::NoSets))
}

fn count_of(words: &[String]) -> Option<Count> {
    match words {
        [word] => numbers(word),
        [sets, _, _, reps] => {
            let (sets, (low, high)) = (range(sets)?, range(reps)?);
            Some((sets, Of::Reps(low, high)))
        }
        _ => None,
    }
}
