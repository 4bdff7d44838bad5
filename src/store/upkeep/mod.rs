//! What is done to a database as a whole, or after the fact: looking through it, copying it, erasing a
//! member, dropping what is no longer needed.

mod backup;
pub mod copy;
pub(in crate::store) mod emptied;
pub(in crate::store) mod erase;
pub mod faults;
pub(in crate::store) mod past_events;
