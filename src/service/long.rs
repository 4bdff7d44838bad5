//! Events that are so much work that all others go on meanwhile.

use tokio::time::Instant;

use super::{Patience, Service, ServiceError, UseCase};
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;

pub use super::prepared::{Prepared, Progress};

/// How often an event is prepared anew because something that it is about was written meanwhile. Each
/// time only that is prepared anew, so it soon comes through.
const PREPARED: u32 = 20;

impl<U: UseCase> Service<U> {
    /// Whether an event is so much work that others should be handled meanwhile, by further calls.
    pub async fn is_long(&self, event: &Event) -> bool {
        self.use_case.is_long(&self.store, event).await
    }

    /// Works on one event that is much work. Others may be handled at the same time, and are as soon as
    /// ever. [`Service::handle`] does the same, but tells nobody how far it has come.
    ///
    /// # Errors
    /// [`ServiceError`]; nothing of it is stored then.
    pub async fn long(
        &self,
        event: &Event,
        progress: &Progress,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        let begun = Instant::now();
        let answer = self.prepared(event, progress).await;
        self.tally.event_time.took(begun.elapsed());
        self.tally.count(std::slice::from_ref(&answer));
        answer
    }

    pub(super) async fn prepared(
        &self,
        event: &Event,
        progress: &Progress,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        let mut patience = Patience::default();
        let mut before = None;
        let mut tries = 0;
        loop {
            let begun = Instant::now();
            let use_case = &self.use_case;
            let error = match use_case
                .prepare(&self.store, event, before.take(), progress)
                .await
            {
                Ok(prepared) => {
                    tries += 1;
                    match self.finish(event, &prepared).await {
                        Ok(Some(answers)) => return Ok(answers),
                        Ok(None) if tries < PREPARED => {
                            before = Some(prepared);
                            continue;
                        }
                        Ok(None) => {
                            self.let_go(prepared).await;
                            return Err(ServiceError::Refused(BUSY.to_owned()));
                        }
                        Err(error) => {
                            self.let_go(prepared).await;
                            error
                        }
                    }
                }
                Err(error) => error,
            };
            if !patience.has_more(self, &error, begun.elapsed()).await {
                return Err(error);
            }
        }
    }

    async fn finish(
        &self,
        event: &Event,
        prepared: &Prepared,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        let mut tx = self.begin().await?;
        match self.use_case.prepared(&mut tx, event, prepared).await {
            Ok(Some(answers)) => {
                self.commit(tx).await?;
                Ok(Some(answers))
            }
            other => {
                drop(tx.rollback().await);
                other
            }
        }
    }

    async fn let_go(&self, prepared: Prepared) {
        if let Err(error) = self.use_case.let_go(&self.store, prepared).await {
            tracing::debug!(%error, "what was prepared stays until it is cleared");
        }
    }
}

const BUSY: &str = "somebody whom this is about posts all the time; nothing of it was stored, send it \
                    again when they have finished";
