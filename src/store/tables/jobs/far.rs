//! Jobs that are due suspiciously late: set, perhaps, by a clock that stood ahead.

use chrono::{DateTime, TimeDelta, Utc};

use super::{JOB, Job, job_of};
use crate::bot::state::Bell;
use crate::store::engine::{Arg, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Store, Tx, instant, millis};

/// No rest is longer, so no bell that was just set is due later than this.
const FAR_BELL: TimeDelta = TimeDelta::minutes(10);
/// A digest that is due later than this may have leapt over one. Across a daylight-saving change a
/// week is an hour shorter.
const FAR_DIGEST: TimeDelta = TimeDelta::hours(6 * 24 + 22);

/// A job that is due late.
#[derive(Clone, Debug, PartialEq)]
pub struct FarJob {
    /// Its key.
    pub key: String,
    /// The team's key.
    pub team: String,
    /// When it is due.
    pub due: DateTime<Utc>,
    /// What is to happen.
    pub job: Job,
}

/// Of all teams or of one, and what is found locked for this transaction, where others may write.
macro_rules! far {
    ($which:literal, $lock:literal) => {
        concat!(
            "select key, kind, member_id, due_ms, payload,
                 (select key from team where team.id = job.team_id) as team_key
             from job where turn_ms > $1 and (kind <> 'digest' or turn_ms > $2)",
            $which,
            " order by key",
            $lock
        )
    };
}

impl Store {
    /// Whether there are jobs that [`Tx::far_jobs`] would find. Waits for nobody who writes.
    pub async fn has_far_jobs(
        &self,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<bool, StoreError> {
        const ANY: Sql = Sql::both(JOB, far!("", ""));
        const OF_TEAM: Sql = Sql::both(
            JOB,
            far!(
                " and team_id = (select id from team where team.key = $3)",
                ""
            ),
        );
        let mut tx = self.on(self.pool.begin_reading().await?);
        let far = tx.far(&ANY, &OF_TEAM, team, now).await?;
        tx.rollback().await?;
        Ok(!far.is_empty())
    }
}

impl Tx {
    /// Jobs that are due later than such a job can be that was just set, of one team or of all: bells
    /// and members' weeks, and digests that may have leapt over a week. What another process holds is
    /// left out.
    pub async fn far_jobs(
        &mut self,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<Vec<FarJob>, StoreError> {
        const ANY: Sql = Sql::either(JOB, far!("", ""), far!("", " for update skip locked"));
        const OF_TEAM: Sql = Sql::either(
            JOB,
            far!(
                " and team_id = (select id from team where team.key = $3)",
                ""
            ),
            far!(
                " and team_id = (select id from team where team.key = $3)",
                " for update skip locked"
            ),
        );
        self.write_bells().await?;
        let rows = self.far(&ANY, &OF_TEAM, team, now).await?;
        rows.iter().map(far_job).collect()
    }

    async fn far(
        &mut self,
        any: &Sql,
        of_team: &Sql,
        team: Option<&str>,
        now: DateTime<Utc>,
    ) -> Result<Vec<Row>, StoreError> {
        let far = |by| millis(now.checked_add_signed(by).unwrap_or(now));
        let mut args: Vec<Arg> = vec![far(FAR_BELL).into(), far(FAR_DIGEST).into()];
        match team {
            None => self.connection.rows(any, &args).await,
            Some(team) => {
                args.push(team.into());
                self.connection.rows(of_team, &args).await
            }
        }
    }

    /// A job is due at another time, with this payload where it is a bell.
    pub async fn move_job(
        &mut self,
        key: &str,
        due: DateTime<Utc>,
        bell: Option<&Bell>,
    ) -> Result<(), StoreError> {
        const MOVE: Sql = Sql::both(
            JOB,
            "update job set due_ms = $2, turn_ms = $2, payload = coalesce($3, payload)
             where key = $1",
        );
        let payload = bell.map(super::payload_of).transpose()?;
        self.bells.wrote(millis(due));
        let args = [
            key.into(),
            millis(due).into(),
            Arg::Text(payload.as_deref()),
        ];
        self.connection.run(&MOVE, &args).await.map(drop)
    }
}

fn far_job(row: &Row) -> Result<FarJob, StoreError> {
    Ok(FarJob {
        key: row.get("key")?,
        team: row.get("team_key")?,
        due: instant(row, "due_ms")?,
        job: job_of(row)?,
    })
}
