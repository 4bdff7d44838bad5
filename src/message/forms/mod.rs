//! Texts with a form of their own: commands, plans, blocks, targets, logs as comma-separated values.

pub mod block;
pub mod command;
pub(crate) mod csv;
pub mod logbook;
pub mod plan;
pub mod target;
