//! Text to a typed reading: what a training partner would have understood.
//!
//! ```text
//! text ─ words::token ─┬─ words::marked ─ intent::pain ───────────────────────────────────┐
//!                      └─ words::spelling ─ grammar::scan ─ items ─┬─ intent: correct, ask, ready ─┼─► Reading
//!                                                                  └─ grammar ─ classifier ────────┘
//! ```
//!
//! [`Reader::read`] is the front door. `words` cuts text into tokens and mends slips; `grammar` finds the phrases of the trade
//! and puts numbers together, completed for the exercise; `intent` weighs the whole: is this a report of training, a question, pain,
//! or chat that happens to hold numbers? Nothing here fails; what is open is asked about ([`reading::Unclear`],
//! [`complete()`]), the rest is chatter. [`forms`] reads slash words and the texts of coaches, which say plainly what does not fit.
//!
//! Absent on purpose: the clock, who wrote the message.

pub mod forms;
mod grammar;
pub mod intent;
mod learned;
mod print;
mod reader;
pub mod reading;
mod remark;
pub mod words;

pub use grammar::complete::{Answer, complete};
pub(crate) use intent::pain::places_in;
pub use print::print;
pub use reader::{Context, Reader};
pub use reading::Habit;
pub use words::names::NameIndex;
