//! Text to a typed reading: what a training partner would have understood.

pub mod command;
pub mod reading;
