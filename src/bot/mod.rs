//! Use cases: an event and what is stored become changes to store and replies to send.
//!
//! Nothing here touches a database, a network or a clock: [`crate::service`] loads, commits and
//! sends around it.

pub mod event;
pub mod reply;
pub mod state;
