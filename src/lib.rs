//! Chalkbell reads the sets that lifters post in a group training channel and answers with the
//! next load, the rest and the repetitions to expect.
//!
//! The rooms, in reading order; each uses only those above it:
//!
//! - [`domain`]: pure calculation.
//! - [`message`]: text to a typed reading.
//! - [`bot`]: use cases, from an event and stored state to changes and replies.
//! - [`store`]: what is kept, in SQLite or PostgreSQL; the only SQL.
//! - [`service`]: one event through the house: load, decide, commit, answer.
//! - [`channel`]: adapters to the outside.

pub mod bot;
pub mod channel;
pub mod domain;
pub mod message;
pub mod service;
pub mod store;
