//! What the tests and benchmarks of several binaries need; each uses a part of it.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "each binary uses a part, and a helper of tests may fail the test"
)]

pub mod club;
pub mod dense;
pub mod engines;
pub mod evening;
pub mod figures;
pub mod gym;
pub mod lots;
pub mod postgres;
pub mod program;
pub mod proxy;
pub mod rows;
pub mod run;
pub mod split_mix;
pub mod wound;
