//! What was committed and is still to be sent. A row is kept in the transaction that stores what it
//! tells of, and dropped once it was sent.
//!
//! Rows are numbered in the order of their commits: what tells of one member is committed while the
//! member's row is locked, so of two texts of one card the later has the higher number. Rows have a
//! lease: whoever committed them sends them and renews it; when that process is gone, any other takes
//! them up.

use chrono::{DateTime, Utc};

use crate::bot::reply::Outgoing;
use crate::bot::state::Team;
use crate::store::engine::{Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, json, millis};

const OUTBOX: &str = "outbox";

/// No lease is longer, milliseconds.
const LONGEST_LEASE_MS: i64 = 120_000;

/// What is still to be sent.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsent {
    /// Its place in the order of commits.
    pub id: i64,
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

    /// Whether an answer is still to be sent.
    pub async fn is_unsent(&mut self, key: &str) -> Result<bool, StoreError> {
        const FIND: Sql = Sql::both(OUTBOX, "select key from outbox where key = $1");
        Ok(self.connection.row(&FIND, &[key.into()]).await?.is_some())
    }

    /// All answers that are to be sent by this channel, in order, also those that another process
    /// is sending.
    pub async fn unsent(&mut self, via: &str) -> Result<Vec<Unsent>, StoreError> {
        const ALL: Sql = Sql::both(
            OUTBOX,
            "select outbox.id, outbox.key, at_ms, outgoing, team.key as team_key
             from outbox join team on team.id = outbox.team_id where via = $1",
        );
        unsent_of(&self.connection.rows(&ALL, &[via.into()]).await?)
    }

    /// When the first lease ends.
    pub(in crate::store) async fn next_left(
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

    /// Renews the lease of those of these answers that this process still has; their keys and places
    /// in the order.
    pub async fn renew(
        &mut self,
        keys: &[String],
        sender: Sender<'_>,
    ) -> Result<Vec<(String, i64)>, StoreError> {
        const RENEW: Sql = Sql::either(
            OUTBOX,
            "update outbox set until_ms = $3
             where key in (select value from json_each($1)) and owner = $2 returning key, id",
            "update outbox set until_ms = $3
             where key = any (array(select json_array_elements_text($1::json))) and owner = $2
             returning key, id",
        );
        if keys.is_empty() {
            return Ok(Vec::new());
        }
        let list = as_json(&keys)?;
        let args = [
            list.as_str().into(),
            sender.owner.into(),
            millis(sender.until).into(),
        ];
        keys_of(&self.connection.rows(&RENEW, &args).await?)
    }

    /// Takes up, in order, the answers whose lease is over by `now`, or ends so late that a clock
    /// must have stood ahead.
    pub async fn take_left(
        &mut self,
        sender: Sender<'_>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Unsent>, StoreError> {
        const TAKE: Sql = Sql::both(
            OUTBOX,
            "update outbox set owner = $1, until_ms = $2
             where via = $3 and (until_ms <= $4 or until_ms > $5)
             returning id, key, at_ms, outgoing,
                 (select key from team where team.id = outbox.team_id) as team_key",
        );
        let args = [
            sender.owner.into(),
            millis(sender.until).into(),
            sender.via.into(),
            millis(now).into(),
            (millis(now) + LONGEST_LEASE_MS).into(),
        ];
        unsent_of(&self.connection.rows(&TAKE, &args).await?)
    }

    /// Lets go of what this process has not sent, so that the next one need not wait.
    pub async fn release(&mut self, via: &str, owner: &str) -> Result<(), StoreError> {
        const RELEASE: Sql = Sql::both(
            OUTBOX,
            "update outbox set until_ms = 0 where via = $1 and owner = $2",
        );
        let args = [via.into(), owner.into()];
        self.connection.run(&RELEASE, &args).await.map(drop)
    }

    /// Whether another process has still to send something of this reply of the team.
    pub async fn others_send(
        &mut self,
        team: &Team,
        reply: &str,
        owner: &str,
    ) -> Result<bool, StoreError> {
        const FIND: Sql = Sql::either(
            OUTBOX,
            "select id from outbox
             where team_id = $1 and owner <> $2 and instr(outgoing, $3) > 0 limit 1",
            "select id from outbox
             where team_id = $1 and owner <> $2 and strpos(outgoing, $3) > 0 limit 1",
        );
        let id = format!("\"id\":{}", as_json(&reply)?);
        let args = [team.id.0.into(), owner.into(), id.as_str().into()];
        Ok(self.connection.row(&FIND, &args).await?.is_some())
    }

    /// These answers were sent, or are no longer worth sending; those that were still kept, with
    /// their places in the order.
    pub async fn drop_unsent(&mut self, keys: &[String]) -> Result<Vec<(String, i64)>, StoreError> {
        const DROP: Sql = Sql::either(
            OUTBOX,
            "delete from outbox where key in (select value from json_each($1)) returning key, id",
            "delete from outbox where key = any (array(select json_array_elements_text($1::json)))
             returning key, id",
        );
        if keys.is_empty() {
            return Ok(Vec::new());
        }
        let list = as_json(&keys)?;
        keys_of(&self.connection.rows(&DROP, &[list.as_str().into()]).await?)
    }

    /// Of what is still to be sent and names one of these texts, only what takes a reply back stays,
    /// without a word of whose it was.
    pub(in crate::store) async fn forget_unsent(
        &mut self,
        team: &Team,
        named: [&str; 2],
    ) -> Result<(), StoreError> {
        const FIND: Sql = Sql::either(
            OUTBOX,
            "select id, outgoing from outbox
             where team_id = $1 and (instr(outgoing, $2) > 0 or instr(outgoing, $3) > 0)",
            "select id, outgoing from outbox
             where team_id = $1 and (strpos(outgoing, $2) > 0 or strpos(outgoing, $3) > 0)",
        );
        const LEAVE: Sql = Sql::both(OUTBOX, "update outbox set outgoing = $2 where id = $1");
        let args = [team.id.0.into(), named[0].into(), named[1].into()];
        for row in &self.connection.rows(&FIND, &args).await? {
            let mut outgoing: Vec<Outgoing> = json(row, "outgoing")?;
            outgoing.retain_mut(|one| match one {
                Outgoing::Update(reply) if reply.text.is_empty() => {
                    (reply.to, reply.answers) = (None, None);
                    true
                }
                _ => false,
            });
            let left = as_json(&outgoing)?;
            let id: i64 = row.get("id")?;
            let args = [id.into(), left.as_str().into()];
            self.connection.run_one(&LEAVE, &args).await?;
        }
        Ok(())
    }
}

fn keys_of(rows: &[Row]) -> Result<Vec<(String, i64)>, StoreError> {
    let one = |row: &Row| Ok((row.get("key")?, row.get("id")?));
    rows.iter().map(one).collect()
}

fn unsent_of(rows: &[Row]) -> Result<Vec<Unsent>, StoreError> {
    let one = |row: &Row| {
        Ok(Unsent {
            id: row.get("id")?,
            key: row.get("key")?,
            team: row.get("team_key")?,
            at: instant(row, "at_ms")?,
            outgoing: json(row, "outgoing")?,
        })
    };
    let mut all: Vec<Unsent> = rows.iter().map(one).collect::<Result<_, StoreError>>()?;
    all.sort_by_key(|one| one.id);
    Ok(all)
}
