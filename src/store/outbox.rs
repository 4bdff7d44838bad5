//! What was committed and is still to be sent. A row is kept in the transaction that stores what it
//! tells of, and dropped once it was sent.
//!
//! Rows have a lease like jobs: whoever committed them sends them; when that process is gone, any
//! other takes them up.

use chrono::{DateTime, Utc};

use super::engine::{Row, Sql};
use super::error::StoreError;
use super::{Tx, as_json, instant, json, millis};
use crate::bot::reply::Outgoing;
use crate::bot::state::Team;

const OUTBOX: &str = "outbox";

/// What is still to be sent.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsent {
    /// Names what it is the answer to.
    pub key: String,
    /// The team.
    pub team: String,
    /// When that happened.
    pub at: DateTime<Utc>,
    /// The answer.
    pub outgoing: Vec<Outgoing>,
}

/// Who sends, and until when nobody else does.
#[derive(Clone, Copy, Debug)]
pub struct Sender<'a> {
    /// The channel it is sent by: `discord`, `pipe`.
    pub via: &'a str,
    /// Names the process.
    pub owner: &'a str,
    /// The end of its lease.
    pub until: DateTime<Utc>,
}

impl Tx {
    /// Keeps an answer until it is sent.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn keep_unsent(
        &mut self,
        team: &Team,
        unsent: (&str, DateTime<Utc>, &[Outgoing]),
        sender: Sender<'_>,
    ) -> Result<(), StoreError> {
        const KEEP: Sql = Sql::both(
            OUTBOX,
            "insert into outbox (key, team_id, at_ms, outgoing, via, owner, until_ms)
             values ($1, $2, $3, $4, $5, $6, $7)
             on conflict (key) do nothing",
        );
        let (key, at, outgoing) = unsent;
        let outgoing = as_json(&outgoing)?;
        let args = [
            key.into(),
            team.id.0.into(),
            millis(at).into(),
            outgoing.as_str().into(),
            sender.via.into(),
            sender.owner.into(),
            millis(sender.until).into(),
        ];
        self.connection.put(&KEEP, &args).await
    }

    /// All answers that are to be sent by this channel, in order, also those that another process
    /// is sending.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn unsent(&mut self, via: &str) -> Result<Vec<Unsent>, StoreError> {
        const ALL: Sql = Sql::both(
            OUTBOX,
            "select outbox.key, at_ms, outgoing, team.key as team_key
             from outbox join team on team.id = outbox.team_id where via = $1",
        );
        unsent_of(&self.connection.rows(&ALL, &[via.into()]).await?)
    }

    /// When the first lease ends.
    pub(super) async fn next_left(
        &mut self,
        via: &str,
    ) -> Result<Option<DateTime<Utc>>, StoreError> {
        const FIRST: Sql = Sql::both(
            OUTBOX,
            "select key, until_ms from outbox where via = $1 order by until_ms limit 1",
        );
        let row = self.connection.row(&FIRST, &[via.into()]).await?;
        row.map(|row| instant(&row, "until_ms")).transpose()
    }

    /// Takes up, in order, the answers whose lease is over by `now`.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn take_left(
        &mut self,
        sender: Sender<'_>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Unsent>, StoreError> {
        const TAKE: Sql = Sql::both(
            OUTBOX,
            "update outbox set owner = $1, until_ms = $2 where until_ms <= $4 and via = $3
             returning key, at_ms, outgoing,
                 (select key from team where team.id = outbox.team_id) as team_key",
        );
        let args = [
            sender.owner.into(),
            millis(sender.until).into(),
            sender.via.into(),
            millis(now).into(),
        ];
        unsent_of(&self.connection.rows(&TAKE, &args).await?)
    }

    /// Takes an answer up, whoever is to send it.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn take_over(&mut self, key: &str, sender: Sender<'_>) -> Result<(), StoreError> {
        const TAKE: Sql = Sql::both(
            OUTBOX,
            "update outbox set owner = $1, until_ms = $2 where key = $3",
        );
        let args = [sender.owner.into(), millis(sender.until).into(), key.into()];
        self.connection.run(&TAKE, &args).await.map(drop)
    }

    /// These answers were sent, or are no longer worth sending.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn drop_unsent(&mut self, keys: &[String]) -> Result<(), StoreError> {
        const DROP: Sql = Sql::either(
            OUTBOX,
            "delete from outbox where key in (select value from json_each($1))",
            "delete from outbox where key = any (array(select json_array_elements_text($1::json)))",
        );
        if keys.is_empty() {
            return Ok(());
        }
        let list = as_json(&keys)?;
        self.connection.put(&DROP, &[list.as_str().into()]).await
    }
}

fn unsent_of(rows: &[Row]) -> Result<Vec<Unsent>, StoreError> {
    let one = |row: &Row| {
        Ok(Unsent {
            key: row.get("key")?,
            team: row.get("team_key")?,
            at: instant(row, "at_ms")?,
            outgoing: json(row, "outgoing")?,
        })
    };
    let mut all: Vec<Unsent> = rows.iter().map(one).collect::<Result<_, StoreError>>()?;
    all.sort_by(|a, b| (a.at, &a.key).cmp(&(b.at, &b.key)));
    Ok(all)
}
