//! Pain and warning signs: whether a message reports one, which, and where.
//!
//! ```text
//! tokens ─ words::Marked ─┬─ signs (rules by concept, with whose and when), overdose (a rule that counts)
//!                         ├─ learned: none, hurt, urgent
//!                         └─ decide by price ─ place ─► report, question or nothing
//! ```
//!
//! Silence to somebody who hurts is the dearest mistake, so it is priced highest; what stays
//! doubtful is asked about. *Absent:* what is said to it (`bot`), what it stops
//! (`bot::state::report`).

mod bystander;
mod decide;
mod illness;
mod overdose;
mod place;
mod scope;
mod signs;
pub mod training;

pub(crate) use decide::{Decision, Judge};
pub(crate) use place::places_in;
pub(super) use scope::{Scope, scope};
pub(super) use signs::{Found, plain};
