//! Adapters: the doors through which events come in and replies go out.

pub mod read;
