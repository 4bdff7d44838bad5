//! Invented people train for weeks under the bot's advice, and the advice is scored.
//!
//! `harness` drives the bot through events as a program would and knows nothing of the model. Each
//! other folder holds bodies and behaviours by one author, and the thresholds they set.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test may fail where it stands, and print its figures"
)]

#[path = "../support/program.rs"]
#[expect(dead_code, reason = "used in part")]
mod program;

mod first;
mod guard;
mod harness;
mod lists;
mod second;
mod third;
