//! How a set felt, said behind it in one message.

use crate::domain::quantities::effort::Rir;
use crate::message::intent::feel::feel;
use crate::message::reading::Reading;

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
