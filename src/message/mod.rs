//! Text to a typed reading: what a training partner would have understood.

pub mod reading;
