//! Chalkbell reads the sets that lifters post in a group training channel and answers with the
//! next load, the rest and the repetitions to expect.
//!
//! The rooms, in reading order; each uses only those above it:
//!
//! - [`backoff`]: how long to wait before the next try.
//! - [`domain`]: pure calculation.
//! - [`config`]: the data files in `config/`, as typed values.
//! - [`message`]: text to a typed reading.
//! - [`bot`]: use cases, from an event and stored state to changes and replies.
//! - [`picture`]: the bot's figures as pictures.
//! - [`store`]: what is kept, in SQLite or PostgreSQL; the only SQL.
//! - [`service`]: one event through the house: load, decide, commit; then it may be sent.
//! - [`jobs`]: what is to happen later, carried out when it is due.
//! - [`channel`]: adapters to the outside, the only readers of the clock.
//! - [`settings`]: command line and environment as typed values.

pub mod backoff;
pub mod bot;
pub mod channel;
pub mod config;
pub mod domain;
pub mod jobs;
pub mod message;
pub mod picture;
pub mod service;
pub mod settings;
pub mod store;
