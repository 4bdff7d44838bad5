//! What the tables hold that this program would never write, found without changing anything.

use crate::store::Tx;
use crate::store::engine::{Row, Sql};
use crate::store::error::StoreError;
use crate::store::tables::imports::shown;

/// A kind of rows that should not be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultKind {
    /// A row that hangs on one that is missing.
    Orphan,
    /// A set of a member of another team than its own.
    WrongTeam,
    /// A set that is there twice: the same place of the same message.
    Twice,
}

/// Rows that should not be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The table.
    pub table: &'static str,
    /// What is wrong with them.
    pub kind: FaultKind,
    /// How many they are.
    pub rows: u64,
}

/// Finds rows of one kind, as a count.
struct Finding {
    kind: FaultKind,
    /// The column that names the row it hangs on, of an orphan.
    link: Option<&'static str>,
    count: Sql,
}

/// Counts rows that hang on none.
macro_rules! orphans {
    ($table:literal, $column:literal, $on:literal) => {
        Finding {
            kind: FaultKind::Orphan,
            link: Some($column),
            count: Sql::both(
                $table,
                concat!(
                    "select count(*) as rows from ",
                    $table,
                    " where ",
                    $column,
                    " is not null and not exists (select 1 from ",
                    $on,
                    " as whole where whole.id = ",
                    $table,
                    ".",
                    $column,
                    ")"
                ),
            ),
        }
    };
}

#[rustfmt::skip]
const FINDINGS: [Finding; 21] = [
    orphans!("member", "team_id", "team"),
    orphans!("event", "team_id", "team"),
    orphans!("response", "team_id", "team"),
    orphans!("past_event", "team_id", "team"),
    orphans!("training_set", "team_id", "team"),
    orphans!("training_set", "member_id", "member"),
    orphans!("import", "team_id", "team"),
    orphans!("belief", "member_id", "member"),
    orphans!("checkpoint", "member_id", "member"),
    orphans!("prescription", "member_id", "member"),
    orphans!("job", "team_id", "team"),
    orphans!("job", "member_id", "member"),
    orphans!("erased", "team_id", "team"),
    orphans!("erasing", "team_id", "team"),
    orphans!("outbox", "team_id", "team"),
    orphans!("discord_post", "team_id", "team"),
    orphans!("discord_edit", "team_id", "team"),
    orphans!("discord_direct", "member_id", "member"),
    Finding {
        kind: FaultKind::Orphan, link: None,
        count: Sql::both(
            "belief",
            concat!(
                "select count(*) as rows from belief where not exists (
                     select 1 from training_set
                     where training_set.member_id = belief.member_id
                           and training_set.exercise = belief.exercise and ",
                shown!(),
                ")",
            ),
        ),
    },
    Finding {
        kind: FaultKind::WrongTeam, link: None,
        count: Sql::both(
            "training_set",
            "select count(*) as rows from training_set
             join member on member.id = training_set.member_id
             where member.team_id <> training_set.team_id",
        ),
    },
    Finding {
        kind: FaultKind::Twice, link: None,
        count: Sql::both(
            "training_set",
            concat!(
                "select count(*) as rows from (
                     select 1 as one from training_set where ",
                shown!(),
                " group by team_id, member_id, message, place
                     having count(*) > 1) as twice",
            ),
        ),
    },
];

/// The columns that are looked through for rows that hang on none, with their tables.
pub fn links() -> impl Iterator<Item = (&'static str, &'static str)> {
    FINDINGS
        .iter()
        .filter_map(|finding| Some((finding.count.table(), finding.link?)))
}

impl Tx {
    /// Rows that should not be, by table.
    pub async fn faults(&mut self) -> Result<Vec<Fault>, StoreError> {
        self.write().await?;
        let mut faults = Vec::new();
        for Finding { kind, count, .. } in &FINDINGS {
            let row = self.connection.returned(count, &[]).await?;
            let rows: u64 = row.small("rows")?;
            if rows > 0 {
                faults.push(Fault {
                    table: count.table(),
                    kind: *kind,
                    rows,
                });
            }
        }
        Ok(faults)
    }

    /// What SQLite itself finds wrong with the file; nothing on PostgreSQL, which keeps its own pages.
    pub async fn damage(&mut self) -> Result<Vec<String>, StoreError> {
        const CHECK: Sql = Sql::either(
            "sqlite_schema",
            "select integrity_check as said from pragma_integrity_check where integrity_check <> 'ok'",
            "select null::text as said where false",
        );
        let rows = self.connection.rows(&CHECK, &[]).await?;
        rows.iter().map(|row| row.get("said")).collect()
    }

    /// Takes out beliefs, checkpoints and jobs that hang on nothing: the log or the next event makes them anew.
    pub async fn drop_orphans(&mut self) -> Result<u64, StoreError> {
        const BELIEFS: Sql = Sql::both(
            "belief",
            concat!(
                "delete from belief where not exists (
                     select 1 from training_set
                     where training_set.member_id = belief.member_id
                           and training_set.exercise = belief.exercise and ",
                shown!(),
                ")"
            ),
        );
        const CHECKPOINTS: Sql = Sql::both(
            "checkpoint",
            "delete from checkpoint where not exists (
                 select 1 from member where member.id = checkpoint.member_id)",
        );
        const JOBS: Sql = Sql::both(
            "job",
            "delete from job where not exists (select 1 from team where team.id = job.team_id)
                or (member_id is not null
                    and not exists (select 1 from member where member.id = job.member_id))",
        );
        self.write().await?;
        let mut taken = 0;
        for orphans in [&BELIEFS, &CHECKPOINTS, &JOBS] {
            taken += self.connection.run(orphans, &[]).await?;
        }
        Ok(taken)
    }

    /// The keys of all teams, in the order in which they came.
    pub async fn team_keys(&mut self) -> Result<Vec<String>, StoreError> {
        const ALL: Sql = Sql::both("team", "select key from team order by id");
        let rows = self.connection.rows(&ALL, &[]).await?;
        rows.iter().map(|row: &Row| row.get("key")).collect()
    }
}
