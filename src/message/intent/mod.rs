//! What a message is, and how sure that is: learned decisions over words and concepts.
//!
//! `features` says what a message is weighed by, `model` weighs it, `train` fits a model to labelled
//! messages; `net` weighs the words in their order, `net/fit` fits it. `pain` and `report` are the
//! decisions made this way.

pub(super) mod features;
pub mod model;
pub(super) mod net;
pub mod pain;
pub mod report;
pub(super) mod train;
