//! Adapters between the outside and [`crate::service`]: the only readers of the clock.

pub mod local;
