//! What is to happen later: rows with a due time, a lease and a key.
//!
//! A member has one bell, keyed by the member. A bell is answered by a change in the transaction
//! that took it up, so the row's lock is lease enough; `lease_until_ms` is for jobs whose work goes
//! on after the commit.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::engine::{Arg, Insert, Row, Sql};
use super::error::StoreError;
use super::teams::member_of;
use super::{Tx, as_json, instant, json, millis};
use crate::bot::state::{Bell, Member, Team};
use crate::domain::id::{MemberId, TeamId};

const JOB: &str = "job";

/// A bell without its time, which has a column.
#[derive(Serialize, Deserialize)]
struct Payload {
    exercise: String,
    channel: String,
    moved: u8,
}

/// The members' bells that a transaction has read or is to write.
#[derive(Debug, Default)]
pub(super) struct Known {
    /// `None` where none waits.
    bells: BTreeMap<MemberId, MaybeBell>,
    /// Those that the table does not hold yet.
    unwritten: BTreeMap<MemberId, TeamId>,
}

/// A member's bell, if one waits.
pub(super) type MaybeBell = Option<Bell>;

impl Known {
    /// Takes up what an earlier transaction left, in place of what is known and not to be written.
    pub(super) fn take_up(&mut self, member: MemberId, bell: Option<MaybeBell>) {
        if !self.unwritten.contains_key(&member) {
            self.bells.remove(&member);
            self.bells.extend(bell.map(|bell| (member, bell)));
        }
    }

    /// Leaves it for a later transaction; `None` where nothing is known.
    pub(super) fn leave(&mut self, member: MemberId) -> Option<MaybeBell> {
        self.bells.remove(&member)
    }
}

/// Bells with whose they are, of which this holds.
macro_rules! due_where {
    ($which:literal) => {
        concat!(
            "select job.key, job.due_ms, job.payload, team.key as team_key,
                    member.id, author, name, coach, profile, desk, condition, member.version
             from job join member on member.id = job.member_id join team on team.id = job.team_id
             where job.kind = 'bell' and job.due_ms <= $1 and job.lease_until_ms <= $1",
            $which
        )
    };
}

impl Tx {
    /// The member's bell, if one waits.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn bell(&mut self, member: &Member) -> Result<Option<Bell>, StoreError> {
        if !self.bells.bells.contains_key(&member.id) {
            self.expect_bells(&[member.id]).await?;
        }
        Ok(self.bells.bells.get(&member.id).cloned().flatten())
    }

    /// Reads the bells of these members before they are asked for, all in one go.
    ///
    /// # Errors
    /// [`StoreError`].
    pub async fn expect_bells(&mut self, members: &[MemberId]) -> Result<(), StoreError> {
        const FIND: Sql = Sql::either(
            JOB,
            "select key, member_id, due_ms, payload from job
             where kind = 'bell' and member_id in (select value from json_each($1))",
            "select key, member_id, due_ms, payload from job
             where kind = 'bell'
                   and member_id = any (array(select json_array_elements_text($1::json)::bigint))",
        );
        let bells = &mut self.bells.bells;
        let mut members: Vec<i64> = members.iter().map(|member| member.0).collect();
        members.retain(|&member| !bells.contains_key(&MemberId(member)));
        if members.is_empty() {
            return Ok(());
        }
        let list = as_json(&members)?;
        let rows = self.connection.rows(&FIND, &[list.as_str().into()]).await?;
        bells.extend(members.iter().map(|&member| (MemberId(member), None)));
        for row in &rows {
            bells.insert(MemberId(row.get("member_id")?), Some(bell_of(row)?));
        }
        Ok(())
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
            due_where!(" order by job.due_ms, member.id"),
            due_where!(
                " order by job.due_ms, member.id for no key update of job, member skip locked"
            ),
        );
        const OF_TEAM: Sql = Sql::either(
            JOB,
            due_where!(" and job.team_id = $2 order by job.due_ms, member.id"),
            due_where!(
                " and job.team_id = $2 order by job.due_ms, member.id
                 for no key update of job, member skip locked"
            ),
        );
        self.write_members().await?;
        self.write_bells().await?;
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
            self.see_row(&team, &member, row)?;
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
        self.write_bells().await?;
        let row = self.connection.row(&NEXT, &[]).await?;
        row.map(|row| instant(&row, "due_ms")).transpose()
    }

    /// Sets the member's one bell; `None` takes it off, if there is one.
    pub(super) fn put_bell(&mut self, team: &Team, member: &Member, bell: Option<&Bell>) {
        self.bells.bells.insert(member.id, bell.cloned());
        self.bells.unwritten.insert(member.id, team.id);
    }

    /// Writes the bells set so far.
    pub(super) async fn write_bells(&mut self) -> Result<(), StoreError> {
        const PUT: Insert = Insert {
            table: JOB,
            columns: "key, team_id, member_id, kind, due_ms, payload",
            again: " on conflict (key) do update
                    set due_ms = excluded.due_ms, payload = excluded.payload, lease_until_ms = 0,
                        tries = 0",
        };
        const DROP: Sql = Sql::both(
            JOB,
            "delete from job where key = $1 and team_id = $2 and member_id = $3",
        );
        let mut bells = Vec::new();
        for (member, team) in std::mem::take(&mut self.bells.unwritten) {
            let key = bell_key(member);
            if let Some(Some(bell)) = self.bells.bells.get(&member) {
                bells.push((key, team, member, millis(bell.due), payload_of(bell)?));
            } else {
                let args = [key.as_str().into(), team.0.into(), member.0.into()];
                self.connection.run(&DROP, &args).await?;
            }
        }
        let mut rows: Vec<[Arg; 6]> = Vec::with_capacity(bells.len());
        for (key, team, member, due, payload) in &bells {
            rows.push([
                key.as_str().into(),
                team.0.into(),
                member.0.into(),
                "bell".into(),
                (*due).into(),
                payload.as_str().into(),
            ]);
        }
        self.connection.insert(&PUT, &rows).await
    }
}

fn payload_of(bell: &Bell) -> Result<String, StoreError> {
    as_json(&Payload {
        exercise: bell.exercise.clone(),
        channel: bell.channel.clone(),
        moved: bell.moved,
    })
}

/// Members' ids are the store's own, so the key needs no team.
fn bell_key(member: MemberId) -> String {
    format!("bell/{}", member.0)
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
