//! Which process puts out what was committed and is still to be sent, where processes come and go.
//!
//! A row is put out by the process that committed it, its owner. PostgreSQL knows which processes are
//! connected ([`Store::process`] names each), so what a process that is gone has left is taken up at once,
//! and what a living one is putting out is left to it, however long that takes. In between are processes
//! that live and do not go on: a row that they have not begun to put out is free at the end of its lease,
//! and they see that it is gone when they wake. On SQLite it is not known who lives: there a process that
//! starts takes up all that is left, and goes by leases from then on.

use std::hash::{BuildHasher as _, Hasher as _, RandomState};

use chrono::{DateTime, TimeDelta, Utc};

use crate::store::engine::{Row, Sql};
use crate::store::error::StoreError;
use crate::store::tables::outbox::Unsent;
use crate::store::{Store, Tx, as_json, instant, json, millis};

const OUTBOX: &str = "outbox";

/// In place of a lease's end: it is being put out, which cannot be taken back.
const BEGUN_MS: i64 = 253_402_300_799_000;

/// What is still to be put out.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// The answer.
    pub unsent: Unsent,
    /// Whose it is.
    pub owner: String,
    /// The end of its lease; meaningless once it is begun.
    until_ms: i64,
    /// Whether the owner is connected; `None` where that is not known.
    lives: Option<bool>,
}

impl Left {
    /// Whether its owner has begun to put it out.
    pub const fn is_begun(&self) -> bool {
        self.until_ms == BEGUN_MS
    }

    /// Whether another process may put it out at this time; `alone` says that no other is thought to
    /// live where that is not known. A lease that ends later than a lease can is one of a clock that
    /// stood ahead.
    pub fn is_free(&self, now: DateTime<Utc>, lease: TimeDelta, alone: bool) -> bool {
        let left = self.until_ms - millis(now);
        let over = !(1..=lease.num_milliseconds()).contains(&left);
        !self.lives.unwrap_or(!alone) || (over && !self.is_begun())
    }
}

/// A name for this process that no other has.
pub(in crate::store) fn process_name() -> String {
    let chance = RandomState::new().build_hasher().finish();
    format!("chalkbell-{}-{chance:016x}", std::process::id())
}

impl Store {
    /// Names this process on this database, unlike all others.
    pub fn process(&self) -> &str {
        &self.process
    }
}

impl Tx {
    /// All that is to be put out by this channel, in order.
    pub async fn left(&mut self, via: &str) -> Result<Vec<Left>, StoreError> {
        const ALL: Sql = Sql::either(
            OUTBOX,
            "select outbox.id, outbox.key, at_ms, outgoing, coalesce(owner, '') as owner, until_ms,
                 team.key as team_key, null as lives
             from outbox join team on team.id = outbox.team_id where via = $1",
            "select outbox.id, outbox.key, at_ms, outgoing, coalesce(owner, '') as owner, until_ms,
                 team.key as team_key,
                 case when exists (
                     select 1 from pg_stat_activity
                     where datname = current_database() and application_name = owner
                 ) then 1::bigint else 0::bigint end as lives
             from outbox join team on team.id = outbox.team_id where via = $1",
        );
        let rows = self.connection.rows(&ALL, &[via.into()]).await?;
        let mut left = rows.iter().map(left_of).collect::<Result<Vec<_>, _>>()?;
        left.sort_by_key(|one| one.unsent.id);
        Ok(left)
    }

    /// Takes one of these up, until a time; false where it is no longer as it was found.
    pub async fn take_from(
        &mut self,
        left: &Left,
        owner: &str,
        until: DateTime<Utc>,
    ) -> Result<bool, StoreError> {
        const TAKE: Sql = Sql::both(
            OUTBOX,
            "update outbox set owner = $1, until_ms = $2
             where key = $3 and coalesce(owner, '') = $4 and until_ms = $5",
        );
        let args = [
            owner.into(),
            millis(until).into(),
            left.unsent.key.as_str().into(),
            left.owner.as_str().into(),
            left.until_ms.into(),
        ];
        Ok(self.connection.run(&TAKE, &args).await? == 1)
    }

    /// Says that the owner now puts these out; which of them are still the owner's. On SQLite, where
    /// nobody else asks, all are, and nothing is said.
    pub async fn begin_to_put_out(
        &mut self,
        keys: &[String],
        owner: &str,
    ) -> Result<Vec<String>, StoreError> {
        const BEGIN: Sql = Sql::both(
            OUTBOX,
            "update outbox set until_ms = $2
             where owner = $1
                   and key = any (array(select json_array_elements_text($3::json)))
             returning key",
        );
        if !self.connection.is_postgres() {
            return Ok(keys.to_vec());
        }
        let list = as_json(&keys)?;
        let args = [owner.into(), BEGUN_MS.into(), list.as_str().into()];
        let rows = self.connection.rows(&BEGIN, &args).await?;
        rows.iter().map(|row| row.get("key")).collect()
    }
}

fn left_of(row: &Row) -> Result<Left, StoreError> {
    let lives: Option<i64> = row.get("lives")?;
    Ok(Left {
        unsent: Unsent {
            id: row.get("id")?,
            key: row.get("key")?,
            team: row.get("team_key")?,
            at: instant(row, "at_ms")?,
            outgoing: json(row, "outgoing")?,
        },
        owner: row.get("owner")?,
        until_ms: row.get("until_ms")?,
        lives: lives.map(|lives| lives == 1),
    })
}
