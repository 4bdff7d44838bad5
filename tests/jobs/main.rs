//! What falls due by itself: bells and digests, with a clock wound by hand.

mod bells;
mod digest;
mod large_team;
mod many_sets;
mod once;
#[path = "../support/mod.rs"]
mod support;
