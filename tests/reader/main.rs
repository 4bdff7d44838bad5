//! How messages, plans and names are read: labelled lines, laws, slips of the keyboard, broken input, time.

mod corpus;
mod explained;
mod fuzz;
mod fuzz_inputs;
mod growth;
mod limiting_factor;
mod plan_lines;
mod plan_properties;
mod properties;
mod questions;
mod reports;
mod slips;
#[path = "../support/mod.rs"]
mod support;
