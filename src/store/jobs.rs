//! What is to happen later: rows with a due time, a lease and a key.
//!
//! A member has one bell, keyed by the member. A bell is answered by a change in the transaction
//! that took it up, so the row's lock is lease enough; `lease_until_ms` is for jobs whose work goes
//! on after the commit.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::engine::{Row, Sql};
use super::error::StoreError;
use super::teams::member_of;
use super::{Tx, as_json, instant, json, millis};
use crate::bot::state::{Bell, Member, Team};

const JOB: &str = "job";

/// A bell without its time, which has a column.
#[derive(Serialize, Deserialize)]
struct Payload {
    exercise: String,
    channel: String,
    moved: u8,
}

impl Tx {
    /// The member's bell, if one waits.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn bell(&mut self, member: &Member) -> Result<Option<Bell>, StoreError> {
        const FIND: Sql = Sql::both(
            JOB,
            "select key, due_ms, payload from job where key = $1 and member_id = $2",
        );
        let key = bell_key(member);
        let args = [key.as_str().into(), member.id.0.into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.as_ref().map(bell_of).transpose()
    }

    /// The bells due by `now` that nobody else works on, of one team or of all, the longest due
    /// first. On PostgreSQL bells and members are locked until the end of the transaction; those
    /// that another process holds are left out this time.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn due_bells(
        &mut self,
        team: Option<&Team>,
        now: DateTime<Utc>,
    ) -> Result<Vec<(Team, Member, Bell)>, StoreError> {
        const OF_ALL: Sql = Sql::either(
            JOB,
            "select job.key, job.due_ms, job.payload, team.key as team_key,
                    member.id, author, name, coach, profile, desk, condition
             from job join member on member.id = job.member_id join team on team.id = job.team_id
             where job.kind = 'bell' and job.due_ms <= $1 and job.lease_until_ms <= $1
             order by job.due_ms, member.id",
            "select job.key, job.due_ms, job.payload, team.key as team_key,
                    member.id, author, name, coach, profile, desk, condition
             from job join member on member.id = job.member_id join team on team.id = job.team_id
             where job.kind = 'bell' and job.due_ms <= $1 and job.lease_until_ms <= $1
             order by job.due_ms, member.id
             for no key update of job, member skip locked",
        );
        const OF_TEAM: Sql = Sql::either(
            JOB,
            "select job.key, job.due_ms, job.payload, team.key as team_key,
                    member.id, author, name, coach, profile, desk, condition
             from job join member on member.id = job.member_id join team on team.id = job.team_id
             where job.kind = 'bell' and job.due_ms <= $1 and job.lease_until_ms <= $1
                   and job.team_id = $2
             order by job.due_ms, member.id",
            "select job.key, job.due_ms, job.payload, team.key as team_key,
                    member.id, author, name, coach, profile, desk, condition
             from job join member on member.id = job.member_id join team on team.id = job.team_id
             where job.kind = 'bell' and job.due_ms <= $1 and job.lease_until_ms <= $1
                   and job.team_id = $2
             order by job.due_ms, member.id
             for no key update of job, member skip locked",
        );
        let now = millis(now).into();
        let rows = match team {
            None => self.connection.rows(&OF_ALL, &[now]).await?,
            Some(team) => {
                let args = [now, team.id.0.into()];
                self.connection.rows(&OF_TEAM, &args).await?
            }
        };
        let mut due = Vec::with_capacity(rows.len());
        for row in &rows {
            let team = self.team(row.get("team_key")?).await?;
            let member = member_of(row)?;
            self.see(&team, &member);
            due.push((team, member, bell_of(row)?));
        }
        Ok(due)
    }

    /// When the next job is due; `None` when nothing waits.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn next_due(&mut self) -> Result<Option<DateTime<Utc>>, StoreError> {
        const NEXT: Sql = Sql::both(JOB, "select key, due_ms from job order by due_ms limit 1");
        let row = self.connection.row(&NEXT, &[]).await?;
        row.map(|row| instant(&row, "due_ms")).transpose()
    }

    /// Sets the member's one bell; `None` takes it off, if there is one.
    pub(super) async fn put_bell(
        &mut self,
        team: &Team,
        member: &Member,
        bell: Option<&Bell>,
    ) -> Result<(), StoreError> {
        const PUT: Sql = Sql::both(
            JOB,
            "insert into job (key, team_id, member_id, kind, due_ms, payload)
             values ($1, $2, $3, 'bell', $4, $5)
             on conflict (key) do update
             set due_ms = excluded.due_ms, payload = excluded.payload, lease_until_ms = 0, tries = 0",
        );
        const DROP: Sql = Sql::both(
            JOB,
            "delete from job where key = $1 and team_id = $2 and member_id = $3",
        );
        let key = bell_key(member);
        let [key, team, member] = [key.as_str().into(), team.id.0.into(), member.id.0.into()];
        let Some(bell) = bell else {
            return self
                .connection
                .run(&DROP, &[key, team, member])
                .await
                .map(drop);
        };
        let payload = as_json(&Payload {
            exercise: bell.exercise.clone(),
            channel: bell.channel.clone(),
            moved: bell.moved,
        })?;
        let args = [
            key,
            team,
            member,
            millis(bell.due).into(),
            payload.as_str().into(),
        ];
        self.connection.run_one(&PUT, &args).await
    }
}

/// Members' ids are the store's own, so the key needs no team.
fn bell_key(member: &Member) -> String {
    format!("bell/{}", member.id.0)
}

fn bell_of(row: &Row) -> Result<Bell, StoreError> {
    let payload: Payload = json(row, "payload")?;
    Ok(Bell {
        exercise: payload.exercise,
        channel: payload.channel,
        due: instant(row, "due_ms")?,
        moved: payload.moved,
    })
}
