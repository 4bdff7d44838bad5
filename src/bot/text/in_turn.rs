//! Sentences on exercises that are done in turn.

use super::{capital, expectation, load};
use crate::domain::advice::next_set::Advice;

/// When the one whose turn it is goes on, within a round.
pub const NOW: &str = "go now";

/// When one goes on whose turn comes after another's.
pub fn after(before: &str) -> String {
    format!("after {before}")
}

/// What comes now, without a rest.
pub fn go_on(name: &str, advice: &Advice) -> String {
    format!(
        "Now {}. I ring when the rest after both is over.",
        set(name, advice)
    )
}

/// How long to rest from the end of the round, and what comes then.
pub fn rest(name: &str, advice: &Advice, when: &str) -> String {
    format!("{}, then {}.", capital(when), set(name, advice))
}

/// `bench press 60 kg, expect 6–9 reps with 1 left`.
fn set(name: &str, advice: &Advice) -> String {
    match (advice.load, &advice.expect) {
        (Some(what), Some(expect)) => format!("{name} {}, {}", load(what), expectation(expect)),
        (Some(what), None) => format!("{name} {}", load(what)),
        _ => name.to_owned(),
    }
}
