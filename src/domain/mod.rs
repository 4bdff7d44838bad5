//! Pure calculation: what a set is, what a lifter can do, what to do next, what a week adds up to.
//!
//! Nothing in here is async, reads a clock, draws randomness, touches a store or sees text from
//! users. Ids and numbers come in, values go out; time is always a parameter. Text is read in
//! [`crate::message`], sentences are written in [`crate::bot`].

pub mod aim;
pub mod belief;
pub mod best;
pub mod block;
pub mod body;
pub mod calendar;
pub mod catalogue;
pub mod check;
pub mod coaching;
mod codec;
pub mod condition;
pub mod curve;
mod day_effect;
pub mod effort;
pub mod equations;
mod explanation;
pub mod fit;
pub mod forecast;
pub mod gaussian;
pub mod guard;
pub mod handbook;
pub mod id;
pub mod learned_priors;
pub mod lift_class;
pub mod line;
pub mod load;
pub mod log;
pub mod mass;
mod mixture;
pub mod model;
pub mod next_set;
pub mod opening;
pub mod plan;
pub mod prior_learner;
pub mod priors;
pub mod progress;
pub mod rack;
mod readiness;
pub mod recovery;
mod related;
pub mod report;
pub mod runs;
pub mod session;
pub mod status;
pub mod target;
pub mod warm_up;
pub mod warning;
pub mod week;
pub mod weekly;
