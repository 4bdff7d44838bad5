//! What coaches set and see, counted again from what was posted.

mod month;
mod plans;
mod recount;
#[path = "../support/mod.rs"]
mod support;
