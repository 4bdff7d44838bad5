//! What a coach sees of a week: how far the plan was followed, who needs a person, and whether a
//! lighter week is due.
//!
//! ```text
//! plan + block ─▶ adherence::PlannedSession ─┐
//!                              log of a week ─┴▶ adherence::follow ─▶ attention::concerns ─▶ deload
//! ```

pub mod adherence;
pub mod attention;
pub mod best;
pub mod block;
pub mod deload;
pub mod plan;
pub mod progress;
pub mod runs;
pub mod target;
pub mod week;
