//! Pure calculation: what a set is, what a lifter can do, what to do next, what a week adds up to.
//!
//! Nothing in here is async, reads a clock, draws randomness, touches a store or sees text from
//! users. Ids and numbers come in, values go out; time is always a parameter. Text is read in
//! [`crate::message`], sentences are written in [`crate::bot`].

pub mod advice;
pub mod coaching;
pub mod lifter;
pub mod log;
pub mod quantities;
