//! Words: text cut into tokens, slips of the keyboard mended, names of exercises, and the concepts that words stand for.
//!
//! `token` and `numeral` cut a text up, `vocabulary` and `grammar_words` say what part a word plays in the grammar, `names` finds
//! exercises, `compose` what their names are made of. `lists` holds the words of concepts, `lexicon` looks them up,
//! `slips` mends those that are near to one, `marked` puts a message's words, concepts and clauses together, without the
//! sets in it. *Absent:* any decision; that is `intent`.

pub(super) mod compose;
mod concept;
pub(crate) mod grammar_words;
mod lexicon;
mod likeness;
mod lists;
pub(crate) mod lookalikes;
mod marked;
pub(crate) mod names;
pub(crate) mod numeral;
mod protected;
mod slips;
pub(crate) mod spelling;
pub(crate) mod token;
pub(crate) mod unit;
pub mod unseen;
pub(crate) mod variants;
pub(crate) mod vocabulary;
mod word;

pub(crate) use concept::{Concept, Concepts};
pub(crate) use lexicon::Lexicon;
pub(crate) use marked::{Marked, Unit};
