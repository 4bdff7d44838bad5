//! The grammar of what messages report: every way in which the numbers of a line can be sets, and
//! how well each is borne out.
//!
//! ```text
//! items ─ atom ─► atoms of one exercise ─ order ─► groups of factors ─ rows ─► candidates
//!                                                          evidence ─► the best, two that are close
//! ```

mod against;
mod atom;
mod evidence;
pub(super) mod hold;
pub(super) mod line;
mod order;
mod rows;
#[cfg(test)]
mod tests;
pub(super) mod unexplained;
