//! Text to a typed reading: what a training partner would have understood.
//!
//! ```text
//! text ─ token ─┬─ words ─ intent::pain ────────────────────────────────────┐
//!               └─ spelling ─ scan ─ items ─┬─ correct, ask, ready ─────────┼─► Reading
//!                                           └─ sets ─ file ─ judge ─────────┘
//! ```
//!
//! [`Reader::read`] is the front door. Tokens are cut and folded (`token`), slips in names mended
//! (`spelling`), phrases of the trade found (`scan`, `effort`, `rest`, `day`), numbers put together
//! (`core`, `sets`), completed for the exercise (`file`), and the whole weighed: is this a report of
//! training, or chat that happens to hold numbers (`judge`)? Nothing here fails; what is open is
//! asked about ([`reading::Unclear`], [`complete()`]), the rest is chatter.
//!
//! [`command`] reads slash words, [`plan`], [`block`] and [`target`] the texts of
//! coaches, which say plainly what does not fit.
//! Absent on purpose: the clock, who wrote the message.

pub mod amend;
mod ask;
pub mod block;
mod classifier;
mod clause;
pub mod command;
mod complete;
mod core;
mod correct;
mod counts;
mod csv;
mod day;
mod effort;
pub mod feel;
mod file;
mod grammar;
pub mod intent;
mod item;
mod label;
mod lexicon;
mod limiting_factor;
pub mod logbook;
mod lookalikes;
mod names;
pub mod no_injury;
mod number;
mod numeral;
pub mod own_name;
pub mod plan;
mod print;
mod reader;
pub mod reading;
mod ready;
mod rest;
mod scan;
mod sets;
mod signs;
mod spelling;
pub mod talk;
pub mod target;
mod token;
pub mod unseen;
mod vocabulary;
mod words;

pub use complete::{Answer, complete};
pub(crate) use intent::pain::places_in;
pub use names::NameIndex;
pub use print::print;
pub use reader::{Context, Habit, Reader};
