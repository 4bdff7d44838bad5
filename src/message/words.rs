//! Words: what exercise names are made of.

pub(super) mod compose;
