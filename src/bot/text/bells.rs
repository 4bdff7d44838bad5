//! Sentences around the bell.

use super::{expectation, load};
use crate::domain::advice::next_set::Advice;
use crate::message::forms::command::Bells;

/// What the bell says.
pub fn bell(advice: &Advice) -> String {
    match (advice.load, &advice.expect) {
        (Some(what), Some(expect)) => {
            format!("rest over: {}, {}.", load(what), expectation(expect))
        }
        _ => "rest over.".to_owned(),
    }
}

/// Said when a member asks for a bell.
pub fn rings_in(seconds: u32) -> String {
    format!("I ring in {}.", super::minutes(seconds))
}

/// Said when the bell is not to ring for this set.
pub const NOT_THIS_TIME: &str = "No bell for this set. `/rest off` turns bells off for good.";

/// Said when that much rest is over by now.
pub const OVER: &str = "That much rest is over: go when you are ready.";

/// Said when a member chooses where bells ring.
pub const fn set(bells: Bells) -> &'static str {
    match bells {
        Bells::On => "Bells are on: I ring here when your rest is over.",
        Bells::Off => "Bells are off. `/rest on` brings them back.",
        Bells::Private => {
            "Bells come as a direct message when your rest is over. `/rest on` brings them back here."
        }
    }
}

/// Said when a bell was moved as often as it is.
pub const ENOUGH: &str =
    "That was three times, so I ring no more for this set. Say `ready` when you are.";
