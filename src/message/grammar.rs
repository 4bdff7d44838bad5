//! The grammar of what messages report: every way in which the numbers of a line can be sets, and
//! how well each is borne out.
//!
//! ```text
//! items ─ atom ─► atoms of one exercise ─ order ─► groups of factors ─ rows ─► candidates
//!                                                          evidence ─► the best, two that are close
//! ```

mod against;
pub(super) mod aside;
mod atom;
mod candidate;
pub(crate) mod clause;
pub(crate) mod complete;
pub(crate) mod core;
pub(crate) mod counts;
pub(crate) mod day;
pub(crate) mod effort;
mod evidence;
pub(crate) mod groups;
pub(super) mod hold;
pub(crate) mod item;
pub(crate) mod label;
pub(super) mod line;
pub(crate) mod number;
mod order;
mod phrase;
pub(crate) mod phrases;
pub(crate) mod rest;
pub(crate) mod restate;
mod rows;
pub(crate) mod scan;
pub(crate) mod sets;
#[cfg(test)]
mod tests;
pub(super) mod unexplained;
