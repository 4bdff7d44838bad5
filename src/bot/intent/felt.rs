//! How a set felt, said behind it in one message.

use chrono::Duration;

use crate::bot::state::view::View;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::warning::WarningSign;
use crate::message::intent::feel::feel;
use crate::message::reading::{Hurt, Reading};

/// A reading with how its last set felt, where that is said behind it and no effort is: `squat 30x10,
/// felt easy`.
pub(super) fn with_feel(mut reading: Reading, text: &str) -> Reading {
    let clauses = text.split([',', ';', '.', '!', '\n']).map(str::trim);
    let mut clauses = clauses.filter(|clause| !clause.is_empty());
    let (first, last) = (clauses.next(), clauses.next_back());
    let behind_clause = last.filter(|_| first.is_some()).and_then(feel);
    let behind_set = || feel(behind_number(text)?).filter(|_| reading.sets.len() == 1);
    if let Some(feel) = behind_clause.or_else(behind_set)
        && let Some(set) = reading.sets.last_mut()
        && set.rir.is_none()
        && !set.warm_up
        && set.reps > 0
    {
        set.rir = Rir::new(feel.leaves()).ok();
    }
    reading
}

/// The words behind the last number of a text.
fn behind_number(text: &str) -> Option<&str> {
    let last = text.rfind(|c: char| c.is_ascii_digit())?;
    text[last + 1..].split_once(' ').map(|(_, words)| words)
}

/// Right after a set whoever pants is not ready, whether sitting or lying: `sat on the bench, still out of breath`.
/// Breath that does not come, or another sign beside it, stays a warning sign at any time.
const PANTING: Duration = Duration::minutes(5);
/// Words of breath that a set explains.
const WINDED: &str =
    "winded, puffing, puffed, panting, gassed, blowing, out of breath, breathing h";
/// Words beside them that a set does not explain.
const UNEXPLAINED: &str = "can't, cant, cannot, couldn't, won't, wont, not coming, hard to, struggl, wheez, \
    whistl, inhal, asthma, chest, dizz, faint, throat, tight, help, blue, scared, min";

/// A reading in which breath that the set before explains is no warning sign.
pub(super) fn panting(view: &View, mut reading: Reading, text: &str) -> Reading {
    let is_breath = |hurt: &Option<Hurt>| {
        hurt.as_ref()
            .is_some_and(|hurt| hurt.sign == Some(WarningSign::Breath))
    };
    let fresh = view
        .last()
        .is_some_and(|last| view.now - last.set.at <= PANTING);
    let low = text.to_lowercase();
    let says = |words: &str| words.split(", ").any(|word| low.contains(word));
    if fresh
        && (is_breath(&reading.hurt) || is_breath(&reading.may_hurt))
        && says(WINDED)
        && !says(UNEXPLAINED)
    {
        (reading.hurt, reading.may_hurt) = (None, None);
        let said = reading.readiness.get_or_insert_default();
        said.breath = said.breath.or(Some(false));
    }
    reading
}
