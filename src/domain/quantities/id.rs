//! Typed ids, so that a member cannot be handed where a set is wanted.
//!
//! The numbers are the store's; outside names (a chat platform's ids) never come in here.

use std::fmt;

/// A team: one wall around its members, settings and log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct TeamId(pub i64);

/// A member of one team.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct MemberId(pub i64);

/// A filed set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SetId(pub i64);

/// An exercise of a [`Catalogue`](super::catalogue::Catalogue): its place in the list.
/// Only meaningful with the catalogue it came from; the store keeps the name instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ExerciseId(pub u16);

/// A muscle group of a catalogue: its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct MuscleId(pub u8);

impl ExerciseId {
    /// The place in the catalogue's list.
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl MuscleId {
    /// The place in the catalogue's list.
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl fmt::Display for SetId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
