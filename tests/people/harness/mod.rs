//! What every author of simulated people shares: the traits to fill in, the drive through the bot,
//! the scores. No constant of a body stands here.
//!
//! A simulator is a [`Body`] (what muscles do) and a [`Behaviour`] (what people do and write).
//! [`train`] lets one person train under the bot's advice and returns a [`Score`].

mod answer;
mod behaviour;
mod body;
mod dice;
mod drive;
mod pipe;
mod score;

pub use answer::{Answer, advice, question};
pub use behaviour::{Behaviour, Situation, WarmUp, Written};
pub use body::{Attempt, Body, Lift};
pub use dice::Dice;
pub use drive::{Course, train};
pub use pipe::{Bot, Pipe, Talk};
pub use score::{Part, Score};
