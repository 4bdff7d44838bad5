//! What members get back, through the pipe and on pictures.

mod conversation;
mod conversations;
mod correcting;
mod demo_recount;
mod floor;
mod framing;
mod held_out;
mod in_turn;
mod on_a_phone;
mod own_names;
mod own_training;
mod permissions;
mod pictures;
mod refusals;
#[path = "../support/mod.rs"]
mod support;
