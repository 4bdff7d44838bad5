//! Plain SQL, a file for each family of tables, each statement beside the function that runs it.

pub(in crate::store) mod beliefs;
mod changes;
mod checkpoints;
pub mod direct;
pub mod discord;
pub(in crate::store) mod events;
pub mod handover;
pub mod imports;
pub mod jobs;
pub mod outbox;
pub(in crate::store) mod prescriptions;
pub mod responses;
pub(in crate::store) mod sets;
pub(in crate::store) mod teams;
