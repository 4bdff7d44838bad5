//! The program as processes that are killed, stopped, cut off, starved or played at a terminal.
//!
//! These wait for true time to pass and measure it, so they stand apart from the tests that only calculate.

mod discord_chaos;
mod discord_program;
#[path = "../fake_discord/mod.rs"]
mod fake_discord;
mod faults_postgres;
mod faults_sqlite;
mod frozen;
mod imports;
mod jobs;
mod notices;
mod operators;
mod pipe_shared;
mod private;
mod processes;
mod shared_postgres;
#[path = "../support/mod.rs"]
mod support;
mod terminal;
