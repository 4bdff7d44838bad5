//! What coaches set and see, counted again from what was posted.

mod month;
mod of_members;
mod plans;
mod recount;
#[path = "../support/mod.rs"]
mod support;
