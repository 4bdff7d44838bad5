//! Answers to others that tell of a member of whom everything was erased: emptied some at a time.
//!
//! A community keeps two weeks of answers, and looking through a million of them takes seconds. So
//! erasing notes whose they are (the table `erasing`), and this goes through them in transactions of a
//! millisecond or two. The note goes with the last of them; until then any process that starts, or
//! wakes, goes on with it from the beginning.

use std::collections::HashMap;
use std::sync::atomic::Ordering;
use std::sync::{MutexGuard, PoisonError};

use crate::store::engine::Sql;
use crate::store::error::StoreError;
use crate::store::{Store, erase};

/// Answers that are looked at in one go.
const PORTION: i64 = 256;

/// How far looking through the answers has come for each author of a team and the time of erasing: the
/// table, and the last key in it.
pub(in crate::store) type Emptied = HashMap<(i64, String, i64), (usize, String)>;

/// The statements for one table.
struct Family {
    /// The last of the first keys of team `$1` behind `$2`, as many as `$3`, and how many they are.
    portion: Sql,
    /// Empties what names them as `$5` or `$6`, and what was answered to coaches, before `$4`, between
    /// keys `$2` and `$3`.
    others: Sql,
}

macro_rules! family {
    ($table:literal, $key:literal) => {
        Family {
            portion: Sql::both(
                $table,
                concat!(
                    "select coalesce(max(place), '') as last, count(*) as count
                     from (select ", $key, " as place from ", $table,
                    " where team_id = $1 and ", $key, " > $2 order by ", $key, " limit $3) as portion"
                ),
            ),
            others: Sql::either(
                $table,
                concat!(
                    "update ", $table, " set outcome = '[]'
                     where team_id = $1 and ", $key, " > $2 and ", $key, " <= $3
                           and at_ms < $4 and outcome <> '[]'
                           and (instr(outcome, $5) > 0 or instr(outcome, $6) > 0 or author in (
                               select author from member where team_id = $1 and coach = 1))"
                ),
                concat!(
                    "update ", $table, " set outcome = '[]'
                     where team_id = $1 and ", $key, " > $2 and ", $key, " <= $3
                           and at_ms < $4 and outcome <> '[]'
                           and (strpos(outcome, $5) > 0 or strpos(outcome, $6) > 0 or author in (
                               select author from member where team_id = $1 and coach = 1))"
                ),
            ),
        }
    };
}

const FAMILIES: [Family; 2] = [family!("event", "id"), family!("response", "key")];

impl Store {
    /// Whether this process may have answers to empty: since it was opened, or somebody was erased, it did
    /// not see that there were none.
    pub fn may_have_to_empty(&self) -> bool {
        self.erasing.load(Ordering::Relaxed)
    }

    /// Empties some of the answers that tell of somebody of whom everything was erased, in a
    /// transaction of its own that takes a moment; whether there is more to do right away.
    pub async fn empty_answers(&self) -> Result<bool, StoreError> {
        // Before it is looked: who is erased in between is not missed.
        self.erasing.store(false, Ordering::Relaxed);
        let more = self.empty_portion().await;
        if !matches!(more, Ok(false)) {
            self.erasing.store(true, Ordering::Relaxed);
        }
        more
    }

    async fn empty_portion(&self) -> Result<bool, StoreError> {
        const NEXT: Sql = Sql::both(
            "erasing",
            "select team_id, author, name, before_ms from erasing order by team_id, author limit 1",
        );
        const DONE: Sql = Sql::both(
            "erasing",
            "delete from erasing where team_id = $1 and author = $2 and before_ms = $3",
        );
        let mut tx = self.on(self.pool.begin_reading().await?);
        let next = tx.connection.row(&NEXT, &[]).await?;
        let Some(row) = next else {
            tx.rollback().await?;
            return Ok(false);
        };
        let (team, before): (i64, i64) = (row.get("team_id")?, row.get("before_ms")?);
        let (author, name): (String, String) = (row.get("author")?, row.get("name")?);
        let whose = (team, author.clone(), before);
        let (place, after) = self.emptied_to().get(&whose).cloned().unwrap_or_default();
        let Some(family) = FAMILIES.get(place) else {
            tx.rollback().await?;
            let mut tx = self.begin().await?;
            let args = [team.into(), author.as_str().into(), before.into()];
            tx.connection.run(&DONE, &args).await?;
            tx.commit().await?;
            self.emptied_to().remove(&whose);
            return Ok(true);
        };
        let args = [team.into(), after.as_str().into(), PORTION.into()];
        let row = tx.connection.returned(&family.portion, &args).await?;
        let (last, count): (String, i64) = (row.get("last")?, row.get("count")?);
        tx.rollback().await?;
        if count > 0 {
            let (from, to) = (after.as_str().into(), last.as_str().into());
            let named = [erase::in_json(&author)?, erase::in_json(&name)?];
            let mut tx = self.begin().await?;
            let [by, called] = named.each_ref().map(|one| one.as_str().into());
            let others = [team.into(), from, to, before.into(), by, called];
            tx.connection.run(&family.others, &others).await?;
            tx.commit().await?;
        }
        let next = match count == PORTION {
            true => (place, last),
            false => (place + 1, String::new()),
        };
        self.emptied_to().insert(whose, next);
        Ok(true)
    }

    fn emptied_to(&self) -> MutexGuard<'_, Emptied> {
        self.emptied.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
