//! Words and the concepts they stand for, with slips of the keyboard mended: what a message is
//! weighed by where it isn't read by its grammar.
//!
//! `lists` holds the words, `lexicon` looks them up, `slips` mends those that are near to one,
//! `marked` puts a message's words, concepts and clauses together, without the sets in it.
//! `compose` says what exercise names are made of. *Absent:* any decision; that is `intent`.

pub(super) mod compose;
mod concept;
mod lexicon;
mod lists;
mod marked;
mod protected;
mod slips;

pub(in crate::message) use concept::{Concept, Concepts};
pub(in crate::message) use lexicon::Lexicon;
pub(in crate::message) use marked::{Marked, Unit};
