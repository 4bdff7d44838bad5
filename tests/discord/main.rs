//! The team channel in the process of the test, on a fake platform.

mod channel;
#[path = "../fake_discord/mod.rs"]
mod fake_discord;
mod gateway;
mod outbound;
mod servers;
