//! One event through the house: load, decide, commit; what comes back may then be sent.

pub mod carry;

use std::sync::Arc;

use chrono::{DateTime, Utc};

use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::domain::catalogue::Catalogue;
use crate::store::{Store, StoreError};
use carry::Readers;

/// The bot over one store.
#[derive(Debug)]
pub struct Service {
    store: Store,
    readers: Readers,
}

impl Service {
    /// The bot over this store with this built-in catalogue.
    #[must_use]
    pub fn new(store: Store, catalogue: Arc<Catalogue>) -> Self {
        Self {
            store,
            readers: Readers::new(catalogue),
        }
    }

    /// Carries one event out; all of it is committed when this returns.
    ///
    /// # Errors
    /// [`StoreError`]; then nothing of it is stored.
    pub async fn one(&self, event: &Event) -> Result<Vec<Outgoing>, StoreError> {
        let mut tx = self.store.begin().await?;
        let out = carry::carry_out(&mut tx, &self.readers, event).await?;
        tx.commit().await?;
        Ok(out)
    }

    /// When the next job is due.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn next_due(&self) -> Result<Option<DateTime<Utc>>, StoreError> {
        self.store.next_due().await
    }

    /// Whether nobody of this team ever wrote.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn is_new(&self, team: &str) -> Result<bool, StoreError> {
        let mut tx = self.store.begin().await?;
        let team = tx.team(team).await?;
        let nobody = tx.members(&team).await?.is_empty();
        tx.rollback().await?;
        Ok(nobody)
    }

    /// Whether a word means something to the reader, so that it is no member's name.
    #[must_use]
    pub fn is_word(&self, word: &str) -> bool {
        self.readers.built_in().is_word(word)
    }

    /// Closes the store.
    pub async fn close(self) {
        self.store.close().await;
    }
}
