//! What presses, edits and deletions were answered, by idempotency key: for repeats.
//!
//! Messages have a family of their own (`events.rs`), since edits and deletions come back to them.

use chrono::{DateTime, Utc};

use crate::bot::reply::Outgoing;
use crate::bot::state::Team;
use crate::store::engine::{Arg, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, json, millis};

const RESPONSE: &str = "response";

/// A response to keep.
#[derive(Clone, Copy, Debug)]
pub struct Response<'a> {
    /// What it answers: the same for a repeat, and for nothing else.
    pub key: &'a str,
    /// Whose request it was.
    pub author: &'a str,
    /// When.
    pub at: DateTime<Utc>,
    /// The answer.
    pub outcome: &'a [Outgoing],
}

impl Tx {
    /// What the request with this key was answered; `None` when it is new.
    pub async fn response(
        &mut self,
        team: &Team,
        key: &str,
    ) -> Result<Option<Vec<Outgoing>>, StoreError> {
        const FIND: Sql = Sql::both(
            RESPONSE,
            "select key, outcome from response where team_id = $1 and key = $2
             union all
             select id, '[]' from past_event where team_id = $1 and kind = 1 and id = $2",
        );
        let args = [team.id.0.into(), key.into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.map(|row| json(&row, "outcome")).transpose()
    }

    /// Keeps the response to a new request.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict), here or at the commit, when another
    /// process answered the same request meanwhile.
    pub async fn keep_response(
        &mut self,
        team: &Team,
        response: Response<'_>,
    ) -> Result<(), StoreError> {
        const KEEP: Sql = Sql::both(
            RESPONSE,
            "insert into response (team_id, key, author, at_ms, outcome)
             values ($1, $2, $3, $4, $5)",
        );
        let outcome = as_json(&response.outcome)?;
        let args: [Arg; 5] = [
            team.id.0.into(),
            response.key.into(),
            response.author.into(),
            millis(response.at).into(),
            outcome.as_str().into(),
        ];
        self.connection.put_one(&KEEP, &args).await
    }

    /// The responses to requests of this author in the team, in the order of time.
    pub async fn responses_to(
        &mut self,
        team: &Team,
        author: &str,
    ) -> Result<Vec<(DateTime<Utc>, Vec<Outgoing>)>, StoreError> {
        const OF_AUTHOR: Sql = Sql::both(
            RESPONSE,
            "select key, at_ms, outcome from response
             where team_id = $1 and author = $2 order by at_ms, key",
        );
        let args = [team.id.0.into(), author.into()];
        let rows = self.connection.rows(&OF_AUTHOR, &args).await?;
        let one = |row: &Row| Ok((instant(row, "at_ms")?, json(row, "outcome")?));
        rows.iter().map(one).collect()
    }
}
