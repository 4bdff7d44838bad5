//! Chalkbell reads the sets that lifters post in a group training channel and answers with the
//! next load, the rest and the repetitions to expect.
//!
//! The rooms, in reading order; each uses only those above it:
//!
//! - [`domain`]: pure calculation.
//! - [`config`]: the data files in `config/` as typed values.
//! - [`message`]: text to a typed reading.
//! - [`channel`]: adapters, the doors to the outside.

pub mod channel;
pub mod config;
pub mod domain;
pub mod message;
