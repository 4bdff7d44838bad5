//! Pain and warning signs: what is heard, what is asked, what stops, and the way back.

mod after;
mod conversations;
mod heard;
mod lifted;
mod red_flags;
mod reports;
#[path = "../support/mod.rs"]
mod support;
