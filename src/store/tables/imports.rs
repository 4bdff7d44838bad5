//! Logs that are taken over in many short transactions, so that nobody waits for all of it.
//!
//! Sets are staged a few hundred at a time, and nobody sees them while the row of their import stands: every
//! statement that reads sets leaves those out (`shown!`). The transaction that takes the row out shows
//! all of them at once. A process that is killed leaves the row and its sets; whoever takes a log over
//! later clears them once the lease is over. Leases go by the database's clock, since it is the same for
//! all processes.

use std::hash::{BuildHasher as _, Hasher as _, RandomState};

use crate::bot::state::{LogEntry, Member, Team};
use crate::domain::quantities::catalogue::Catalogue;
use crate::store::engine::{Arg, Insert, Sql};
use crate::store::error::StoreError;
use crate::store::tables::sets::OwnedSet;
use crate::store::{Store, Tx};

const IMPORT: &str = "import";
const SET: &str = "training_set";

/// Sets that are staged or cleared in one transaction: others wait for so many at most.
pub const STAGED_AT_ONCE: usize = 512;

/// The lease is renewed with all that is staged, and every few seconds while nothing is.
macro_rules! lease_ms {
    () => {
        "60000"
    };
}

/// The clock of the database, milliseconds.
macro_rules! now_ms {
    (sqlite) => {
        "cast(unixepoch('subsec') * 1000 as integer)"
    };
    (postgres) => {
        "cast(extract(epoch from clock_timestamp()) * 1000 as bigint)"
    };
}

/// Holds of sets that are seen: they are of no import that is under way.
macro_rules! shown {
    () => {
        "(import_id is null or import_id not in (select id from import))"
    };
}
pub(in crate::store) use shown;

/// An import that is under way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ImportId(i64);

impl ImportId {
    fn new() -> Self {
        Self(RandomState::new().build_hasher().finish().cast_signed())
    }
}

impl Store {
    /// Begins an import.
    pub async fn begin_import(&self, team: &Team) -> Result<ImportId, StoreError> {
        const BEGIN: Sql = Sql::either(
            IMPORT,
            concat!(
                "insert into import (id, team_id, until_ms) values ($1, $2, ",
                now_ms!(sqlite),
                " + ",
                lease_ms!(),
                ")"
            ),
            concat!(
                "insert into import (id, team_id, until_ms) values ($1, $2, ",
                now_ms!(postgres),
                " + ",
                lease_ms!(),
                ")"
            ),
        );
        let import = ImportId::new();
        let mut tx = self.begin().await?;
        let args = [import.0.into(), team.id.0.into()];
        tx.connection.run_one(&BEGIN, &args).await?;
        tx.commit().await?;
        Ok(import)
    }

    /// Stages up to [`STAGED_AT_ONCE`] new sets of a member, and renews the lease.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict) where the import was cleared meanwhile, or the
    /// member is gone.
    pub async fn stage(
        &self,
        import: ImportId,
        whose: (&Team, &Member),
        sets: &[LogEntry],
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        // Whoever has everything erased meanwhile is not there any more.
        const IS_THERE: Sql = Sql::either(
            "member",
            "select id from member where team_id = $1 and id = $2",
            "select id from member where team_id = $1 and id = $2 for key share",
        );
        let (team, member) = whose;
        let mut tx = self.begin().await?;
        tx.renew_import(import).await?;
        let args = [team.id.0.into(), member.id.0.into()];
        if tx.connection.row(&IS_THERE, &args).await?.is_none() {
            tx.rollback().await?;
            return Err(StoreError::Conflict { table: "member" });
        }
        tx.put_staged(import, whose, sets, catalogue).await?;
        tx.commit().await
    }

    /// Renews the lease of an import.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict) where it was cleared meanwhile.
    pub async fn renew_import(&self, import: ImportId) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        tx.renew_import(import).await?;
        tx.commit().await
    }

    /// Takes out what is staged, of this member or of all.
    pub async fn unstage(
        &self,
        import: ImportId,
        member: Option<&Member>,
    ) -> Result<(), StoreError> {
        // Never those that are shown.
        const SOME: Sql = Sql::both(
            SET,
            "delete from training_set where id in (
                 select training_set.id from training_set
                 join import on import.id = training_set.import_id
                 where import_id = $1 and ($2 = 0 or member_id = $2) limit $3)",
        );
        let member = member.map_or(0, |member| member.id.0);
        loop {
            let mut tx = self.begin().await?;
            let most = Arg::Int(i64::try_from(STAGED_AT_ONCE).ok());
            let args = [import.0.into(), member.into(), most];
            let gone = tx.connection.run(&SOME, &args).await?;
            tx.commit().await?;
            if gone < STAGED_AT_ONCE as u64 {
                return Ok(());
            }
        }
    }

    /// Takes an import out with all that is staged.
    pub async fn drop_import(&self, import: ImportId) -> Result<(), StoreError> {
        const DROP: Sql = Sql::both(IMPORT, "delete from import where id = $1");
        self.unstage(import, None).await?;
        let mut tx = self.begin().await?;
        tx.connection.run(&DROP, &[import.0.into()]).await?;
        tx.commit().await
    }

    /// Takes out the imports of processes that are gone; how many they were.
    pub async fn drop_left_imports(&self) -> Result<usize, StoreError> {
        const TAKE: Sql = Sql::either(
            IMPORT,
            concat!(
                "update import set dropped = 1, until_ms = ",
                now_ms!(sqlite),
                " + ",
                lease_ms!(),
                " where until_ms < ",
                now_ms!(sqlite),
                " returning id"
            ),
            concat!(
                "update import set dropped = 1, until_ms = ",
                now_ms!(postgres),
                " + ",
                lease_ms!(),
                " where until_ms < ",
                now_ms!(postgres),
                " returning id"
            ),
        );
        let mut tx = self.begin().await?;
        let rows = tx.connection.rows(&TAKE, &[]).await?;
        let left = rows.iter().map(|row| Ok(ImportId(row.get("id")?)));
        let left = left.collect::<Result<Vec<_>, StoreError>>()?;
        tx.commit().await?;
        for &import in &left {
            self.drop_import(import).await?;
        }
        Ok(left.len())
    }
}

impl Tx {
    async fn renew_import(&mut self, import: ImportId) -> Result<(), StoreError> {
        const RENEW: Sql = Sql::either(
            IMPORT,
            concat!(
                "update import set until_ms = ",
                now_ms!(sqlite),
                " + ",
                lease_ms!(),
                " where id = $1 and dropped = 0"
            ),
            concat!(
                "update import set until_ms = ",
                now_ms!(postgres),
                " + ",
                lease_ms!(),
                " where id = $1 and dropped = 0"
            ),
        );
        match self.connection.run(&RENEW, &[import.0.into()]).await? {
            1 => Ok(()),
            _ => Err(StoreError::Conflict { table: IMPORT }),
        }
    }

    async fn put_staged(
        &mut self,
        import: ImportId,
        (team, member): (&Team, &Member),
        sets: &[LogEntry],
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        const STAGE: Insert = Insert {
            table: SET,
            columns: "team_id, member_id, exercise, load, unit, basis, reps, rir, kind, per_side,
                      at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
                      technique, asked_rir, said, judged_left, gave_out, id, import_id",
            again: "",
            may_leave: false,
        };
        let ids = self.ids_for(sets.len()).await?;
        let owned = sets.iter().zip(ids).map(|(set, id)| {
            let mut set = OwnedSet::new(team, member, set, catalogue);
            set.filed.set.id = Some(id);
            set
        });
        let owned: Vec<OwnedSet> = owned.collect();
        let rows = owned.iter().map(|set| {
            let mut row = [Arg::from(import.0); 25];
            for (cell, value) in row.iter_mut().zip(set.cells()) {
                *cell = value;
            }
            row
        });
        let rows: Vec<[Arg<'_>; 25]> = rows.collect();
        self.connection.insert(&STAGE, &rows).await
    }

    /// Shows all sets of an import.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict) where it was cleared meanwhile.
    pub async fn show_import(&mut self, import: ImportId) -> Result<(), StoreError> {
        const SHOW: Sql = Sql::both(IMPORT, "delete from import where id = $1 and dropped = 0");
        match self.connection.run(&SHOW, &[import.0.into()]).await? {
            1 => Ok(()),
            _ => Err(StoreError::Conflict { table: IMPORT }),
        }
    }
}
