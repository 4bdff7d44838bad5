//! What a message between sets does to the log, where it leaves out what was plain from the sets before: `gonna try 65`,
//! `took 5 off each side, 12`, `8 again`, `first two were 2 left`, `the second one was 9`.
//!
//! Learned from conversations, over words and over numbers held against the load and the repetitions before, since lifters
//! say these things in endless ways: what the message does, what each of its numbers is, which sets it
//! points at and how the load changes without a number. A reading is put together from these and is as sure as all of them
//! together. What a message says in full is the grammar's; an exercise that is announced is [`super::announce`]'s.

mod classes;
mod compose;
mod features;
mod pointing;
#[cfg(test)]
mod tests;
pub mod training;

use std::str::FromStr as _;

use super::model::Model;
use crate::domain::quantities::catalogue;
use crate::message::NameIndex;
use crate::message::grammar::scan::Scan;
use crate::message::words::token::tokenize;
pub use compose::{Changed, Done, Sets, Step, Told};
use features::Seen;

/// What the message goes on from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Before {
    /// The load at hand, in its unit: the one announced since, else the last set's.
    pub load: Option<f64>,
    /// The message names another exercise than the one at hand, and it is that one.
    pub named: bool,
    /// It was announced, and no set done with it yet.
    pub announced: bool,
    /// The sets done of the exercise at hand, in order: their loads, and repetitions or seconds.
    pub sets: Vec<(f64, f64)>,
    /// The last was held for time.
    pub held: bool,
    /// A reserve was said of the last.
    pub rated: bool,
    /// What the load is.
    pub basis: Basis,
    /// The repetitions of each exercise of the last message, in order.
    pub in_turn: Vec<f64>,
    /// What a bar weighs, in the same unit.
    pub bar: f64,
}

impl Before {
    /// How many of the last sets are like the very last.
    fn alike(&self) -> usize {
        let last = self.sets.last();
        let sets = self.sets.iter().rev();
        sets.take_while(|set| Some(*set) == last).count()
    }
}

/// What a load is, as far as it is spoken of differently.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Basis {
    /// All of it.
    #[default]
    Total,
    /// One hand's.
    Hand,
    /// Hung on the body.
    Hung,
    /// Taken off it.
    Helped,
    /// The body alone.
    Body,
    /// Pins of a stack.
    Pin,
}

impl Basis {
    /// What the loads of an exercise are, where nothing else is said.
    #[must_use]
    pub const fn usual(basis: catalogue::Basis) -> Self {
        match basis {
            catalogue::Basis::Total => Self::Total,
            catalogue::Basis::PerHand => Self::Hand,
            catalogue::Basis::Added | catalogue::Basis::Assisted | catalogue::Basis::Body => {
                Self::Body
            }
        }
    }
}

/// A message as it is most likely meant.
#[derive(Clone, Debug, PartialEq)]
pub struct CarriedOn {
    /// What it tells.
    pub told: Told,
    /// How likely it is meant so, 0 to 1.
    pub sure: f32,
}

/// The learned decisions.
#[derive(Clone, Debug, Default)]
pub struct CarryOn {
    act: Model,
    role: Model,
    pick: Model,
    change: Model,
    reserve: Model,
}

/// What the parts of the file of weights begin with.
const PART: &str = "== ";

impl CarryOn {
    /// By these weights; broken ones decide nothing.
    #[must_use]
    pub fn new(weights: &str) -> Self {
        let part = |name: &str| {
            let head = format!("{PART}{name}\n");
            let text = weights.split_once(&head).map_or("", |(_, text)| text);
            let end = text.find(PART).unwrap_or(text.len());
            Model::from_str(text.get(..end).unwrap_or_default()).unwrap_or_default()
        };
        Self {
            act: part("act"),
            role: part("role"),
            pick: part("pick"),
            change: part("change"),
            reserve: part("reserve"),
        }
    }

    /// What `text` does to the log behind `before`; `None` where it most likely does nothing, or what it does cannot be
    /// put together.
    #[must_use]
    pub fn read(&self, text: &str, before: &Before, names: &NameIndex) -> Option<CarriedOn> {
        let tokens = tokenize(text, names.vocabulary());
        let scan = Scan::new(&tokens, names);
        compose::compose(self, &Seen::new(&scan, before))
    }
}
