//! A member's last sets, kept from one event of a transaction to the next.

use std::collections::HashMap;

use chrono::{DateTime, Utc};

use super::cells::{Names, OwnedSet};
use crate::bot::state::LogEntry;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::SetId;

/// All of a member's sets from some moment on, in the order of time.
#[derive(Debug)]
pub(in crate::store) struct RecentSets {
    pub(super) since: DateTime<Utc>,
    pub(super) sets: Vec<OwnedSet>,
    /// From where on it was asked for last.
    asked: DateTime<Utc>,
}

impl RecentSets {
    /// A tail from this moment on, with no sets yet.
    pub(super) const fn new(since: DateTime<Utc>) -> Self {
        Self {
            since,
            sets: Vec::new(),
            asked: since,
        }
    }

    /// Without what lies before the moment that was asked for last.
    pub(super) fn shortened(mut self) -> Self {
        self.since = self.since.max(self.asked);
        self.sets.retain(|set| set.filed.set.at >= self.since);
        self
    }

    /// The sets from this moment on, in terms of this catalogue; `None` when some may be missing
    /// here, or when the catalogue lacks an exercise.
    pub(super) fn from(
        &mut self,
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Option<Vec<LogEntry>> {
        if since < self.since {
            return None;
        }
        self.asked = since;
        let begin = self.sets.partition_point(|set| set.filed.set.at < since);
        let mut names = Names::of(catalogue);
        let sets = self.sets.iter().skip(begin);
        sets.map(|set| {
            let mut filed = set.filed.clone();
            filed.set.exercise = names.id(&set.exercise)?;
            Some(filed)
        })
        .collect()
    }

    /// The same where all sets that the member ever filed are at hand, without taking note of the
    /// moment: whoever asks for so much does so now and then.
    pub(super) fn whole(
        &mut self,
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Option<Vec<LogEntry>> {
        if self.since > DateTime::<Utc>::MIN_UTC {
            return None;
        }
        let asked = self.asked;
        let sets = self.from(since, catalogue);
        self.asked = asked;
        sets
    }

    /// Puts a set in, in place of the one with its id.
    pub(super) fn put(&mut self, set: OwnedSet) {
        let order = |filed: &LogEntry| (filed.set.at, filed.set.id);
        self.take(set.filed.set.id);
        if set.filed.set.at >= self.since {
            let place = self
                .sets
                .partition_point(|other| order(&other.filed) < order(&set.filed));
            self.sets.insert(place, set);
        }
    }

    /// Keeps how much was left after these sets, where they are here.
    pub(super) fn judge(&mut self, judged: &[(SetId, Option<f64>)]) {
        let judged: HashMap<SetId, Option<f64>> = judged.iter().copied().collect();
        for set in &mut self.sets {
            if let Some(left) = set.filed.set.id.and_then(|id| judged.get(&id)) {
                set.filed.judged = *left;
            }
        }
    }

    /// Takes the set with this id out, if it is here.
    pub(super) fn take(&mut self, id: Option<SetId>) {
        self.sets.retain(|set| set.filed.set.id != id);
    }
}
