//! Events that were answered: for repeats, edits and deletions.

use super::engine::Sql;
use super::error::StoreError;
use super::{Tx, as_json, instant, json, millis};
use crate::bot::reply::Outgoing;
use crate::bot::state::{Remembered, Team};

const EVENT: &str = "event";

impl Tx {
    /// The event with this id in this team, and what was answered; `None` when it is new.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn remembered(
        &mut self,
        team: &Team,
        id: &str,
    ) -> Result<Option<(Remembered, Vec<Outgoing>)>, StoreError> {
        const FIND: Sql = Sql::both(
            EVENT,
            "select id, author, channel, at_ms, outcome from event where team_id = $1 and id = $2",
        );
        let args = [team.id.0.into(), id.into()];
        let Some(row) = self.connection.row(&FIND, &args).await? else {
            return Ok(None);
        };
        let remembered = Remembered {
            author: row.get("author")?,
            channel: row.get("channel")?,
            at: instant(&row, "at_ms")?,
        };
        Ok(Some((remembered, json(&row, "outcome")?)))
    }

    /// Keeps the answer to a new event.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict) when the id is taken, which only
    /// another process can have done after [`Tx::remembered`] said it was free.
    pub async fn remember(
        &mut self,
        team: &Team,
        id: &str,
        event: &Remembered,
        outcome: &[Outgoing],
    ) -> Result<(), StoreError> {
        const KEEP: Sql = Sql::both(
            EVENT,
            "insert into event (team_id, id, author, channel, at_ms, outcome)
             values ($1, $2, $3, $4, $5, $6)",
        );
        let outcome = as_json(&outcome)?;
        let args = [
            team.id.0.into(),
            id.into(),
            event.author.as_str().into(),
            event.channel.as_str().into(),
            millis(event.at).into(),
            outcome.as_str().into(),
        ];
        self.connection.run_one(&KEEP, &args).await
    }
}
