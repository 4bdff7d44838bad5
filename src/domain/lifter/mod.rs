//! What is known of one lifter: the belief about each lift, and what it foresees.

pub mod belief;
pub(crate) mod codec;
pub mod condition;
pub(crate) mod course;
pub mod curve;
pub(crate) mod day_effect;
pub(crate) mod explanation;
mod exponential;
pub mod forecast;
pub mod gaussian;
pub mod guard;
pub(crate) mod lately;
pub mod line;
pub mod loss;
pub(crate) mod mixture;
pub mod model;
pub mod prior_learner;
pub mod ramp;
pub(crate) mod readiness;
pub mod recovery;
pub(crate) mod related;
pub mod report;
pub(crate) mod usual;
pub(crate) mod weighing;
