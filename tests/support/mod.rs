//! What several test files need. Each uses a part of it.

pub mod engines;
pub mod postgres;
