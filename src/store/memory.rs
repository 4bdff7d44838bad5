//! What a process remembers of members from one transaction to the next, so that a member in the
//! middle of a session is not read anew for every set.
//!
//! It is never believed unchecked: each transaction reads the member's row, which holds the count of
//! all writes to the member, and takes out what is remembered only when the count is the one that it
//! was remembered with. What is taken out is put back by the commit alone, so nothing of a
//! transaction that was taken back, or whose end is not known, can stay.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::{Tx, beliefs, jobs, prescriptions, sets};
use crate::domain::id::MemberId;

/// Members that are remembered at most, some ten kilobytes each.
const MOST: usize = 500;

/// What is remembered, by member; shared by all who use the same store.
#[derive(Clone, Debug, Default)]
pub(super) struct Memory(Arc<Mutex<HashMap<MemberId, Remembered>>>);

/// What is remembered of a member.
#[derive(Debug, Default)]
pub(super) struct Remembered {
    /// How often anything of the member had been written.
    version: i64,
    sets: Option<sets::Tail>,
    beliefs: beliefs::OfMember,
    bell: Option<jobs::MaybeBell>,
    prescribed: prescriptions::OfMember,
}

impl Memory {
    fn take(&self, member: MemberId, version: i64) -> Option<Remembered> {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.remove(&member)
            .filter(|remembered| remembered.version == version)
    }

    /// Puts back what a transaction left that is now committed.
    pub(super) fn put(&self, members: Vec<(MemberId, Remembered)>) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if all.len() + members.len() > MOST {
            all.clear();
        }
        all.extend(members.into_iter().take(MOST));
    }
}

impl Tx {
    /// Takes up what is remembered of a member whose row was just read, and on PostgreSQL locked.
    /// What was read of the member before that may have been changed in between, and is forgotten.
    pub(super) fn recall(&mut self, member: MemberId, version: i64) {
        let remembered = self.memory.take(member, version).unwrap_or_default();
        self.sets.take_up(member, remembered.sets);
        self.beliefs.take_up(member, remembered.beliefs);
        self.bells.take_up(member, remembered.bell);
        self.prescribed.take_up(member, remembered.prescribed);
    }

    /// What is to be remembered of the members whose rows this transaction read, once it is
    /// committed.
    pub(super) fn leave(&mut self) -> Vec<(MemberId, Remembered)> {
        let members = std::mem::take(&mut self.seen.versions);
        let remembered = members.into_iter().map(|(member, version)| {
            let remembered = Remembered {
                version,
                sets: self.sets.leave(member),
                beliefs: self.beliefs.leave(member),
                bell: self.bells.leave(member),
                prescribed: self.prescribed.leave(member),
            };
            (member, remembered)
        });
        remembered.collect()
    }
}
