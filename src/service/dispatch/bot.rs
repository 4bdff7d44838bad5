//! The use cases of the bot, with what they keep at hand.

use std::path::PathBuf;
use std::sync::Arc;

use super::readers::Readers;
use super::team::Digests;
use crate::bot::state::Team;
use crate::domain::quantities::catalogue::Catalogue;
use crate::message::Reader;
use crate::service::files::Files;

/// The use cases of [`crate::bot`], with a reader for what each team added to the catalogue: most
/// teams share the built-in one.
#[derive(Debug)]
pub struct Bot {
    pub(super) readers: Readers,
    pub(super) files: Files,
    pub(super) digests: Digests,
}

impl Bot {
    /// The bot over this built-in catalogue.
    pub fn new(catalogue: Arc<Catalogue>) -> Self {
        Self {
            readers: Readers::new(Reader::new(catalogue)),
            files: Files::default(),
            digests: Digests::default(),
        }
    }

    /// The same, with the files of replies in this folder.
    #[must_use]
    pub fn with_files_in(mut self, folder: PathBuf) -> Self {
        self.files.own = folder;
        self
    }

    /// The same, where pictures are put into this folder: those of a member go when the member does.
    #[must_use]
    pub fn with_pictures_in(mut self, folder: Option<PathBuf>) -> Self {
        self.files.pictures = folder;
        self
    }

    /// The reader of a team without exercises of its own.
    pub fn reader(&self) -> &Reader {
        &self.readers.built_in
    }

    /// The reader of a team, with its own exercises, and without the names of members' own.
    pub fn reader_of(&self, team: &Team) -> Arc<Reader> {
        self.reader_for(team, "")
    }

    /// The reader of one member of a team: it also knows the names of their own.
    pub fn reader_for(&self, team: &Team, author: &str) -> Arc<Reader> {
        self.readers.reader_for(team, author)
    }
}
