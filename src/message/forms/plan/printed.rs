//! Exercises as they are printed, read back. Every other way of writing them is the free grammar's.

use super::effort::{decimal, in_reserve};
use super::print::{REPS, is_open};
use super::{Language, is_beyond, is_held};
use crate::domain::coaching::plan::{
    Amount, Item, Note, Percent, PlannedLoad, RepRange, Seconds, Sets, Slot,
};
use crate::domain::quantities::catalogue::{Basis, Exercise};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::{HEAVIEST, Load};
use crate::domain::quantities::mass::{Mass, Unit};

/// A place of a day as it is printed, its exercises joined by `with`; `None` for any other text.
pub(super) fn slot(text: &str, language: &Language<'_>) -> Option<Slot> {
    // Words to the lifter in quotation marks are one word, which keeps its first mark.
    let parts = text.split('"').enumerate();
    let words: Vec<String> = parts
        .flat_map(|(place, part)| match place % 2 {
            0 => part.split_whitespace().map(str::to_lowercase).collect(),
            _ => vec![format!("\"{part}")],
        })
        .collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let mut left = words.as_slice();
    let mut items = vec![item(&mut left, language)?];
    while let ["with", more @ ..] = left {
        left = more;
        items.push(item(&mut left, language)?);
    }
    left.is_empty().then(|| Slot::in_turn(items).ok())?
}

/// Takes what the first words are, if they are that.
fn take<T>(left: &mut &[&str], read: impl Fn(&[&str]) -> Option<(T, usize)>) -> Option<T> {
    let (value, used) = read(left)?;
    *left = left.get(used..)?;
    Some(value)
}

/// Takes an exercise: the shortest name with sets behind it, since a name may hold numbers and `with`.
fn item(left: &mut &[&str], language: &Language<'_>) -> Option<Item> {
    let (exercise, or, (sets, amount)) = take(left, |words| {
        (1..words.len()).find_map(|at| {
            let (name, behind) = words.split_at(at);
            let (exercise, or) = choice(name, language)?;
            let (counted, used) = count(behind, language.catalogue.exercise(exercise))?;
            Some(((exercise, or, counted), at + used))
        })
    })?;
    let lift = language.catalogue.exercise(exercise);
    Some(Item {
        or,
        per_side: take(left, |words| {
            matches!(words, ["each", "side", ..]).then_some(((), 2))
        })
        .is_some(),
        rir: take(left, |words| {
            let rir = words.first()?.strip_suffix("rir")?;
            Some((in_reserve(decimal(rir)?)?, 1))
        }),
        load: take(left, |words| {
            share(words).or_else(|| load(words, lift, language.unit))
        }),
        rest: take(left, rest),
        note: take(left, |words| {
            Some((Note::new(words.first()?.strip_prefix('"')?)?, 1))
        }),
        ..Item::new(exercise, sets, amount)
    })
}

/// `bench press`, `bench press or dip`.
fn choice(words: &[&str], language: &Language<'_>) -> Option<(ExerciseId, Vec<ExerciseId>)> {
    // A stroke stands between two exercises; the index of names would read over it.
    let named = |words: &[&str]| {
        let name = words.join(" ");
        language.names.named(&name).filter(|_| !name.contains('/'))
    };
    if let Some(one) = named(words) {
        return Some((one, Vec::new()));
    }
    let mut names = words.split(|word| *word == "or").map(named);
    let first = names.next()??;
    Some((first, names.collect::<Option<_>>()?))
}

/// `4x6-10`, `3x5/3/1`, `3x30-45s`, `3xmax`, and `15 sets of 3` where the sign would leave open which of the two is the sets.
fn count(words: &[&str], lift: &Exercise) -> Option<((Sets, Amount), usize)> {
    let (sets, text, used) = match words {
        [sets, "sets", "of", amount, ..] => (*sets, *amount, 4),
        [word, ..] => word
            .split_once('x')
            .map(|(sets, amount)| (sets, amount, 1))?,
        [] => return None,
    };
    let (fewest, most) = range(sets)?;
    let bare = text.strip_suffix(REPS).unwrap_or(text);
    let amount = match bare.strip_suffix('s') {
        _ if bare == "max" => Amount::Max,
        _ if bare.contains('/') => {
            let list: Option<Vec<u32>> = bare.split('/').map(|reps| reps.parse().ok()).collect();
            Amount::by_set(list?).ok()?
        }
        Some(time) => range(time)
            .and_then(|(low, high)| Seconds::held(low, high).ok())
            .map(Amount::Time)?,
        None => range(bare)
            .and_then(|(low, high)| RepRange::new(low, high).ok())
            .map(Amount::Reps)?,
    };
    let odd = match &amount {
        Amount::Reps(reps) => {
            let open = used == 1 && is_open((fewest, most), (reps.low(), reps.high()));
            open || bare == text && is_held(&lift.name, reps.low().into())
        }
        Amount::BySet(_) | Amount::Time(_) | Amount::Max => false,
    };
    let odd = odd || bare == text && is_beyond(&amount, lift);
    let sets = Sets::range(fewest, most).ok()?;
    (!odd).then_some(((sets, amount), used))
}

/// `6-10` or `8`.
fn range(word: &str) -> Option<(u32, u32)> {
    let (low, high) = word.split_once('-').unwrap_or((word, word));
    Some((low.parse().ok()?, high.parse().ok()?))
}

/// `rest 2-3min`, `rest 90s`.
fn rest(words: &[&str]) -> Option<(Seconds, usize)> {
    let ["rest", time, ..] = words else {
        return None;
    };
    let (number, unit) = match time.strip_suffix("min") {
        Some(number) => (number, 60),
        None => (time.strip_suffix('s')?, 1),
    };
    let (low, high) = range(number)?;
    let rest = Seconds::rest(low.checked_mul(unit)?, high.checked_mul(unit)?);
    Some((rest.ok()?, 2))
}

/// `75%`, `60-70%`, `90% of 5rm`, `90% of top set`.
fn share(words: &[&str]) -> Option<(PlannedLoad, usize)> {
    let number = words.first()?.strip_suffix('%')?;
    let (low, high) = number.split_once('-').unwrap_or((number, number));
    let (low, high) = (
        Percent::new(decimal(low)?).ok()?,
        Percent::new(decimal(high)?).ok()?,
    );
    let of = |of: u32| (low <= high).then_some(PlannedLoad::Share { low, high, of });
    match words {
        [_, "of", "top", "set", ..] => Some((PlannedLoad::OfTopSet(low), 4)),
        [_, "of", reps, ..] => {
            let reps = reps.strip_suffix("rm")?.parse().ok();
            Some((of(reps.filter(|reps| (1..=20).contains(reps))?)?, 3))
        }
        _ => Some((of(1)?, 1)),
    }
}

/// `80kg`, `+10kg`, `-15kg`, `28kg total`, `16kg each hand`, `bw`, as far as the exercise can have it.
fn load(words: &[&str], lift: &Exercise, own: Unit) -> Option<(PlannedLoad, usize)> {
    let of_the_body = lift.basis == Basis::Body;
    let first = *words.first()?;
    if first == "bw" {
        return of_the_body.then(|| (PlannedLoad::Fixed(Load::body(own)), 1));
    }
    let (number, unit) = [("kg", Unit::Kg), ("lb", Unit::Lb)]
        .into_iter()
        .find_map(|(word, unit)| Some((first.strip_suffix(word)?, unit)))?;
    let (basis, number, used) = match (number.split_at_checked(1)?, words) {
        (("+", number), _) if of_the_body => (Basis::Added, number, 1),
        (("-", number), _) if of_the_body => (Basis::Assisted, number, 1),
        (_, [_, "total", ..]) => (Basis::Total, number, 2),
        (_, [_, "each", "hand", ..]) => (Basis::PerHand, number, 3),
        _ if of_the_body => return None,
        _ => (lift.basis, number, 1),
    };
    let mass = Mass::new((decimal(number)? * 100.0).round() / 100.0, unit).ok()?;
    let sound = mass > Mass::ZERO && mass <= HEAVIEST;
    sound.then_some((PlannedLoad::Fixed(Load { mass, unit, basis }), used))
}
