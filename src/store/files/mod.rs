//! Files that their owner alone can read, that leave nothing behind, or that are there whole or not at
//! all.

pub mod atomic;
pub mod private;
pub(in crate::store) mod unnamed;
