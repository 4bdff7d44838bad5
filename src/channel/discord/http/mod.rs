//! Requests to the platform, and how fast they may go.

mod rate_limit;
mod rest;
mod route;

pub use rest::{Call, Cause, Rest, RestError, Upload};
pub use route::Route;
