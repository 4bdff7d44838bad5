//! What is stored, on every engine.

mod clocks;
mod discord;
mod groups;
mod migrations;
mod once;
mod own_data;
mod past_events;
mod rebuild;
mod suite;
#[path = "../support/mod.rs"]
mod support;
mod team_week;
mod upkeep;
mod walls;
