//! Readers for what each team added to the catalogue: most teams share the built-in one.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

use crate::bot::state::view::{names_of, with_own};
use crate::bot::state::{OwnExercise, Team};
use crate::message::Reader;

/// The readers of all teams.
#[derive(Debug)]
pub(super) struct Readers {
    pub(super) built_in: Arc<Reader>,
    own: Mutex<HashMap<Vec<OwnExercise>, OfTeam>>,
}

/// The readers of a team with exercises of its own: under the empty name the one of everybody without
/// names of their own, under an author the one that knows theirs.
type OfTeam = BTreeMap<String, Arc<Reader>>;

/// Readers of teams with exercises of their own that are kept at hand.
const READERS_KEPT: usize = 64;

impl Readers {
    /// Readers over this one.
    pub(super) fn new(built_in: Reader) -> Self {
        Self {
            built_in: Arc::new(built_in),
            own: Mutex::default(),
        }
    }

    /// The reader of one member of a team: it also knows the names of their own.
    pub(super) fn reader_for(&self, team: &Team, author: &str) -> Arc<Reader> {
        let exercises = &team.settings.exercises;
        if exercises.is_empty() {
            return Arc::clone(&self.built_in);
        }
        let mut own = self.own.lock().unwrap_or_else(PoisonError::into_inner);
        let has_names = exercises.iter().any(|one| one.is_of(author));
        let whose = if has_names { author } else { "" };
        if let Some(reader) = own.get(exercises).and_then(|readers| readers.get(whose)) {
            return Arc::clone(reader);
        }
        if own.values().map(BTreeMap::len).sum::<usize>() >= READERS_KEPT {
            own.clear();
        }
        let reader = with_own(self.built_in.catalogue(), exercises).map_or_else(
            |fault| {
                // It was checked when it was added; a later built-in name can collide all the same.
                tracing::error!(%fault, "a team's own exercises no longer fit the catalogue");
                Arc::clone(&self.built_in)
            },
            |catalogue| {
                let names = names_of(whose, exercises, &catalogue);
                Arc::new(self.built_in.over(Arc::new(catalogue), &names))
            },
        );
        let readers = own.entry(exercises.clone()).or_default();
        readers.insert(whose.to_owned(), Arc::clone(&reader));
        reader
    }
}
