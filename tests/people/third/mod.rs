//! A third author's people.
//!
//! | room | holds |
//! |---|---|
//! | `strength` | what each can lift, how it grows, is lost with time away and comes back |
//! | `form` | good and bad days: plain ones, and seasons of illness, sleep debt and a monthly rhythm |
//! | `laws` | four unlike ways in which sets tire and rest mends |
//! | `sense` | what people feel is left, and when they stop |
//! | `someone` | a body of these four |
//! | `habits` | what people do and write |
//! | `published` | the bodies against published sets, without the bot |
//! | `weeks` | the wanted figures, the runs, the figures |
//!
//! Every constant has its published source beside it, or "common practice, no source". "From memory"
//! marks what was not looked up again.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "days, repetitions and choices are small and positive"
)]

mod form;
mod habits;
mod laws;
mod published;
mod sense;
mod someone;
mod strength;
mod weeks;
