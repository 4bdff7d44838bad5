//! Answers that nobody will ask for again are dropped, some at a time.
//!
//! An answer is kept for [`KEPT`]. What can come again by itself comes sooner: the platform tells events
//! once more within minutes, buttons can be pressed for a quarter of an hour after they were, and after an
//! outage the adapter looks back 48 hours from a channel's last message. Two weeks also leave room
//! for a process that was down over a holiday, and for whoever replays a script of the last days. Of
//! an older event its id stays: one that comes again is known, answered with nothing, and files
//! nothing. An edit or a deletion of such a message finds its sets by the message's id.

use std::sync::{MutexGuard, PoisonError};

use chrono::{DateTime, TimeDelta, Utc};

use crate::bot::state::{Remembered, Team};
use crate::store::engine::{Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Store, Tx, millis};

/// How long answers are kept.
pub const KEPT: TimeDelta = TimeDelta::days(14);

/// Rows that are looked at in one go: a millisecond or two in which others wait.
const PORTION: i64 = 256;

/// How far dropping has come on SQLite: behind which rows it goes on, of each table.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::store) struct Pruning([i64; 2]);

/// The statements for one table.
struct Family {
    /// The first rows behind `$1`, as many as `$2`: the last of them, and how many are older than `$3`.
    portion: Sql,
    /// Keeps the ids of those of them that are older.
    keep: Sql,
    /// Drops them.
    drop: Sql,
}

macro_rules! family {
    ($table:literal, $id:literal, $kind:literal) => {
        Family {
            portion: Sql::either(
                $table,
                concat!(
                    "select coalesce(max(place), 0) as last, count(*) as count,
                            coalesce(sum(at_ms < $3), 0) as old
                     from (select rowid as place, at_ms from ",
                    $table,
                    " where rowid > $1 order by rowid limit $2)"
                ),
                // The oldest come first: one that is too young is the last.
                concat!(
                    "select coalesce(max(at_ms), 0) as last, count(*) as count,
                            count(*) as old
                     from (select at_ms from ",
                    $table,
                    " where at_ms < $3 and $1::bigint >= 0 order by at_ms limit $2) as portion"
                ),
            ),
            keep: Sql::either(
                "past_event",
                concat!(
                    "insert into past_event (team_id, kind, id, at_ms)
                     select team_id, ",
                    $kind,
                    ", ",
                    $id,
                    ", at_ms from ",
                    $table,
                    " where rowid > $1 and rowid <= $2 and at_ms < $3
                     on conflict (team_id, kind, id) do nothing"
                ),
                concat!(
                    "insert into past_event (team_id, kind, id, at_ms)
                     select team_id, ",
                    $kind,
                    ", ",
                    $id,
                    ", at_ms from ",
                    $table,
                    " where $1::bigint >= 0 and at_ms <= $2 and at_ms < $3
                     on conflict (team_id, kind, id) do nothing"
                ),
            ),
            drop: Sql::either(
                $table,
                concat!(
                    "delete from ",
                    $table,
                    " where rowid > $1 and rowid <= $2 and at_ms < $3"
                ),
                // Only what is kept as past: another process may have stored more meanwhile.
                concat!(
                    "delete from ",
                    $table,
                    " where $1::bigint >= 0 and at_ms <= $2 and at_ms < $3
                       and exists (
                           select 1 from past_event as past
                           where past.team_id = ",
                    $table,
                    ".team_id and past.kind = ",
                    $kind,
                    "            and past.id = ",
                    $table,
                    ".",
                    $id,
                    ")"
                ),
            ),
        }
    };
}

const FAMILIES: [Family; 2] = [family!("event", "id", "0"), family!("response", "key", "1")];

impl Store {
    /// Drops some of the answers that are older than [`KEPT`], in a transaction of its own that takes a
    /// moment; whether there may be more to do right away.
    pub async fn prune(&self, now: DateTime<Utc>) -> Result<bool, StoreError> {
        let Some(before) = now.checked_sub_signed(KEPT).map(millis) else {
            return Ok(false);
        };
        let mut more = false;
        for (place, family) in FAMILIES.iter().enumerate() {
            let after = self.pruned_to().0[place];
            let args = [after.into(), PORTION.into(), before.into()];
            let mut tx = self.on(self.pool.begin_reading().await?);
            let row = tx.connection.returned(&family.portion, &args).await?;
            let (last, count): (i64, i64) = (row.get("last")?, row.get("count")?);
            let old: i64 = row.get("old")?;
            tx.rollback().await?;
            if old > 0 {
                let mut tx = self.begin().await?;
                let args = [after.into(), last.into(), before.into()];
                tx.connection.run(&family.keep, &args).await?;
                tx.connection.run(&family.drop, &args).await?;
                tx.commit().await?;
            }
            // At the end it begins anew.
            let is_whole = count == PORTION;
            let is_postgres = matches!(self.pool, crate::store::engine::Pool::Postgres(_));
            self.pruned_to().0[place] = if is_whole && !is_postgres { last } else { 0 };
            more |= is_whole;
        }
        Ok(more)
    }

    fn pruned_to(&self) -> MutexGuard<'_, Pruning> {
        self.pruning.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Tx {
    /// Who posted a message of which the answer was dropped, and in which channel, by the sets that it
    /// holds; `None` where it holds none.
    pub async fn posted_sets(
        &mut self,
        team: &Team,
        message: &str,
        at: DateTime<Utc>,
    ) -> Result<Option<Remembered>, StoreError> {
        const OF_MESSAGE: Sql = Sql::both(
            "training_set",
            "select training_set.id as id, author, channel from training_set
             join member on member.id = training_set.member_id
             where training_set.team_id = $1 and message = $2 and import_id is null
             order by training_set.id limit 1",
        );
        self.write_sets().await?;
        let args = [team.id.0.into(), message.into()];
        let row = self.connection.row(&OF_MESSAGE, &args).await?;
        let posted = |row: Row| {
            Ok(Remembered {
                author: row.get("author")?,
                channel: row.get("channel")?,
                at,
            })
        };
        row.map(posted).transpose()
    }
}
