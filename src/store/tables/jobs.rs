//! What is to happen later: rows with a due time, a lease and a key.
//!
//! A member has one bell, a team one digest that is to come; the key says whose. Jobs are claimed
//! ([`Tx::claim`]) at the beginning of the transaction that carries them out, in one statement that
//! passes over what other processes hold. So the lease ends with the transaction: with its commit
//! the job is done and what it posted is kept, and with the process that dies in between the job
//! is free again at once. A lease that outlives its transaction is only ever the pause after a
//! failure ([`Tx::put_off`]).

pub mod far;

use std::collections::BTreeMap;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use serde::{Deserialize, Serialize};

use crate::bot::state::{Bell, DigestJob, DueJob, Job, Member, Team};
use crate::domain::quantities::id::{MemberId, TeamId};
use crate::store::engine::{Arg, Insert, Row, Sql};
use crate::store::error::StoreError;
use crate::store::tables::teams::member_of;
use crate::store::{Tx, as_json, instant, json, millis};

const JOB: &str = "job";

/// A bell without its time, which has a column.
#[derive(Serialize, Deserialize)]
struct Payload {
    exercise: String,
    channel: String,
    moved: u8,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    set_ms: Option<i64>,
    #[serde(default, skip_serializing_if = "is_right")]
    ahead_ms: i64,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the serialiser hands references over"
)]
const fn is_right(ahead_ms: &i64) -> bool {
    *ahead_ms == 0
}

/// The payload of a member's own week.
#[derive(Serialize, Deserialize)]
struct OwnWeek {
    week: NaiveDate,
}

/// The members' bells that a transaction has read or is to write.
#[derive(Debug, Default)]
pub(in crate::store) struct BellCache {
    /// `None` where none waits.
    bells: BTreeMap<MemberId, MaybeBell>,
    /// Those that the table does not hold yet.
    unwritten: BTreeMap<MemberId, TeamId>,
    /// The earliest due time that was written.
    pub(in crate::store) earliest_ms: Option<i64>,
}

/// A member's bell, if one waits.
pub(in crate::store) type MaybeBell = Option<Bell>;

impl BellCache {
    /// Takes up what an earlier transaction left, in place of what is known and not to be written.
    pub(in crate::store) fn take_up(&mut self, member: MemberId, bell: Option<MaybeBell>) {
        if !self.unwritten.contains_key(&member) {
            self.bells.remove(&member);
            self.bells.extend(bell.map(|bell| (member, bell)));
        }
    }

    /// Keeps the bells of these members, as just read.
    pub(in crate::store) fn know(
        &mut self,
        of: &[MemberId],
        rows: &[Row],
    ) -> Result<(), StoreError> {
        self.bells.extend(of.iter().map(|&member| (member, None)));
        for row in rows {
            let bell = bell_of(row)?;
            self.bells
                .insert(MemberId(row.get("member_id")?), Some(bell));
        }
        Ok(())
    }

    /// Keeps that a member has no bell.
    pub(in crate::store) fn know_none_of(&mut self, member: MemberId) {
        self.bells.insert(member, None);
    }

    /// Leaves it for a later transaction; `None` where nothing is known.
    pub(in crate::store) fn leave(&mut self, member: MemberId) -> Option<MaybeBell> {
        self.bells.remove(&member)
    }

    fn wrote(&mut self, due_ms: i64) {
        let earliest = self.earliest_ms.map_or(due_ms, |ms| ms.min(due_ms));
        self.earliest_ms = Some(earliest);
    }
}

/// The bells of these keys.
pub(in crate::store) const BELLS: Sql = Sql::either(
    JOB,
    "select key, member_id, due_ms, payload from job
     where key in (select value from json_each($1))",
    "select key, member_id, due_ms, payload from job
     where key = any (array(select json_array_elements_text($1::json)))",
);

/// Which jobs are claimed, by whom and until when.
#[derive(Clone, Copy, Debug)]
pub struct Claim<'a> {
    /// Names the process.
    pub owner: &'a str,
    /// The time it is.
    pub now: DateTime<Utc>,
    /// How long the claim holds, should the transaction not end it.
    pub lease: TimeDelta,
    /// At most so many.
    pub most: u32,
    /// Of which kind.
    pub which: Which<'a>,
}

/// Which jobs are looked at.
#[derive(Clone, Copy, Debug)]
pub enum Which<'a> {
    /// All.
    Any,
    /// Those of a team.
    OfTeam(&'a Team),
    /// The one with this key.
    One(&'a str),
    /// Those for which somebody waits at this moment.
    Bells,
    /// All but those.
    ButBells,
}

/// Takes the jobs up of which this holds, in one statement; what others hold is passed over.
macro_rules! claim {
    ($which:literal) => {
        Sql::either(
            JOB,
            concat!(
                "update job set owner = $1, turn_ms = $2
                 where key in (select key from job where turn_ms <= $3 and ",
                $which,
                "     order by turn_ms, key limit $4)
                 returning key, kind, member_id, due_ms, payload, tries,
                     (select key from team where team.id = job.team_id) as team_key"
            ),
            concat!(
                "with mine as (
                     select key from job where turn_ms <= $3 and ",
                $which,
                "    order by turn_ms, key limit $4 for update skip locked)
                 update job set owner = $1, turn_ms = $2 from mine where job.key = mine.key
                 returning job.key, kind, member_id, due_ms, payload, tries,
                     (select key from team where team.id = job.team_id) as team_key"
            ),
        )
    };
}

impl Tx {
    /// The member's bell, if one waits.
    pub async fn bell(&mut self, member: &Member) -> Result<Option<Bell>, StoreError> {
        if !self.bells.bells.contains_key(&member.id) {
            self.prefetch_bells(&[member.id]).await?;
        }
        Ok(self.bells.bells.get(&member.id).cloned().flatten())
    }

    /// Reads the bells of these members before they are asked for, all in one go.
    pub async fn prefetch_bells(&mut self, members: &[MemberId]) -> Result<(), StoreError> {
        let bells = &mut self.bells.bells;
        let mut members = members.to_vec();
        members.retain(|member| !bells.contains_key(member));
        if members.is_empty() {
            return Ok(());
        }
        let list = bell_keys(&members)?;
        let rows = self
            .connection
            .rows(&BELLS, &[list.as_str().into()])
            .await?;
        self.bells.know(&members, &rows)
    }

    /// Takes up jobs whose turn it is, the longest due first, until this transaction ends. On
    /// PostgreSQL the members they are of are locked, too; what another process holds, or works
    /// on the member of, is left out this time.
    pub async fn claim(&mut self, claim: &Claim<'_>) -> Result<Vec<DueJob>, StoreError> {
        const ANY: Sql = claim!("1 = 1");
        const OF_TEAM: Sql = claim!("team_id = $5");
        const ONE: Sql = claim!("key = $5");
        const BELLS: Sql = claim!("kind = 'bell'");
        const BUT_BELLS: Sql = claim!("kind <> 'bell'");
        self.write_members().await?;
        self.write_bells().await?;
        let mut args = vec![
            claim.owner.into(),
            millis(claim.now + claim.lease).into(),
            millis(claim.now).into(),
            claim.most.into(),
        ];
        let (text, about): (&Sql, Option<Arg>) = match claim.which {
            Which::Any => (&ANY, None),
            Which::OfTeam(team) => (&OF_TEAM, Some(team.id.0.into())),
            Which::One(key) => (&ONE, Some(key.into())),
            Which::Bells => (&BELLS, None),
            Which::ButBells => (&BUT_BELLS, None),
        };
        args.extend(about);
        let rows = self.connection.rows(text, &args).await?;
        self.with_members(rows).await
    }

    /// The claimed rows with their teams and members, in order; those whose member another process
    /// works on are given back.
    async fn with_members(&mut self, rows: Vec<Row>) -> Result<Vec<DueJob>, StoreError> {
        let mut found = Vec::with_capacity(rows.len());
        for row in &rows {
            let member: Option<i64> = row.get("member_id")?;
            let team_key: String = row.get("team_key")?;
            found.push((instant(row, "due_ms")?, row, member.map(MemberId), team_key));
        }
        found.sort_by_key(|&(due, _, member, _)| (due, member));
        let ids: Vec<MemberId> = found.iter().filter_map(|&(_, _, id, _)| id).collect();
        let members = self.lock_members(&ids).await?;
        let mut due_jobs = Vec::with_capacity(found.len());
        for (due, row, id, team_key) in found {
            let key: String = row.get("key")?;
            let team = self.team(&team_key).await?;
            let member = id.and_then(|id| members.iter().find(|(member, _)| member.id == id));
            match (id, member) {
                (Some(_), None) => self.give_back(&key).await?,
                (Some(_), Some((member, of))) => self.see_row(&team, member, of)?,
                (None, _) => {}
            }
            if id.is_none() || member.is_some() {
                due_jobs.push(DueJob {
                    key,
                    team,
                    member: member.map(|(member, _)| member.clone()),
                    due,
                    tries: row.small("tries")?,
                    job: job_of(row)?,
                });
            }
        }
        Ok(due_jobs)
    }

    /// The members with these ids; on PostgreSQL locked, without those that are locked already.
    async fn lock_members(&mut self, ids: &[MemberId]) -> Result<Vec<(Member, Row)>, StoreError> {
        const FIND: Sql = Sql::either(
            "member",
            "select id, author, name, coach, profile, desk, condition, version from member
             where id in (select value from json_each($1))",
            "select id, author, name, coach, profile, desk, condition, version from member
             where id = any (array(select json_array_elements_text($1::json)::bigint))
             order by id for no key update skip locked",
        );
        if ids.is_empty() {
            return Ok(Vec::new());
        }
        let list = as_json(&ids.iter().map(|id| id.0).collect::<Vec<_>>())?;
        let rows = self.connection.rows(&FIND, &[list.as_str().into()]).await?;
        rows.into_iter()
            .map(|row| Ok((member_of(&row)?, row)))
            .collect()
    }

    /// A claimed job is not done now: it is free again.
    pub(crate) async fn give_back(&mut self, key: &str) -> Result<(), StoreError> {
        const BACK: Sql = Sql::both(
            JOB,
            "update job set owner = null, turn_ms = due_ms where key = $1",
        );
        self.connection.run_one(&BACK, &[key.into()]).await
    }

    /// A claimed job is done: it is taken out, unless it was set anew meanwhile.
    pub async fn done(&mut self, job: &DueJob) -> Result<(), StoreError> {
        const DONE: Sql = Sql::both(
            JOB,
            "delete from job where key = $1 and team_id = $2 and owner is not null",
        );
        self.write_bells().await?;
        let args = [job.key.as_str().into(), job.team.id.0.into()];
        self.connection.run(&DONE, &args).await.map(drop)
    }

    /// Keys of the jobs whose turn it is, the longest due first.
    pub async fn due_keys(
        &mut self,
        team: Option<&Team>,
        now: DateTime<Utc>,
        most: u32,
    ) -> Result<Vec<String>, StoreError> {
        const ANY: Sql = Sql::both(
            JOB,
            "select key from job where turn_ms <= $1 order by turn_ms, key limit $2",
        );
        const OF_TEAM: Sql = Sql::both(
            JOB,
            "select key from job where turn_ms <= $1 and team_id = $3
             order by turn_ms, key limit $2",
        );
        let mut args = vec![millis(now).into(), most.into()];
        let rows = match team {
            None => self.connection.rows(&ANY, &args).await?,
            Some(team) => {
                args.push(team.id.0.into());
                self.connection.rows(&OF_TEAM, &args).await?
            }
        };
        rows.iter().map(|row| row.get("key")).collect()
    }

    /// A job failed: nobody takes it up before `turn`.
    pub async fn put_off(&mut self, key: &str, turn: DateTime<Utc>) -> Result<(), StoreError> {
        const PUT_OFF: Sql = Sql::both(
            JOB,
            "update job set owner = null, turn_ms = $2, tries = tries + 1 where key = $1",
        );
        self.bells.wrote(millis(turn));
        let args = [key.into(), millis(turn).into()];
        self.connection.run(&PUT_OFF, &args).await.map(drop)
    }

    /// When the next job's turn is, of one team or of all; `None` when nothing waits.
    pub async fn next_due(
        &mut self,
        team: Option<&str>,
    ) -> Result<Option<DateTime<Utc>>, StoreError> {
        const OF_ALL: Sql = Sql::both(JOB, "select key, turn_ms from job order by turn_ms limit 1");
        const OF_TEAM: Sql = Sql::both(
            JOB,
            "select key, turn_ms from job
             where team_id = (select id from team where team.key = $1)
             order by turn_ms limit 1",
        );
        self.write_bells().await?;
        let row = match team {
            None => self.connection.row(&OF_ALL, &[]).await?,
            Some(team) => self.connection.row(&OF_TEAM, &[team.into()]).await?,
        };
        row.map(|row| instant(&row, "turn_ms")).transpose()
    }

    // Digests.

    /// The team's digest that is to come.
    pub async fn digest(&mut self, team: &Team) -> Result<Option<DigestJob>, StoreError> {
        const FIND: Sql = Sql::both(
            JOB,
            "select key, payload from job where key = $1 and team_id = $2",
        );
        let key = digest_key(team);
        let args = [key.as_str().into(), team.id.0.into()];
        let row = self.connection.row(&FIND, &args).await?;
        row.map(|row| json(&row, "payload")).transpose()
    }

    /// Sets the team's digest that is to come.
    pub async fn put_digest(
        &mut self,
        team: &Team,
        digest: &DigestJob,
        due: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        let (key, payload) = (digest_key(team), as_json(digest)?);
        self.put_jobs(&[[
            key.as_str().into(),
            team.id.0.into(),
            Arg::Int(None),
            "digest".into(),
            millis(due).into(),
            payload.as_str().into(),
            millis(due).into(),
        ]])
        .await
    }

    /// Has these members told their own week, the one with this first day and label, from `due` on.
    pub async fn put_own_weeks(
        &mut self,
        team: &Team,
        members: &[MemberId],
        (week, label): (NaiveDate, &str),
        due: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        let payload = as_json(&OwnWeek { week })?;
        let key = |member: &MemberId| format!("week/{}/{label}", member.0);
        let keys: Vec<String> = members.iter().map(key).collect();
        let mut rows: Vec<[Arg; 7]> = Vec::with_capacity(keys.len());
        for (key, member) in keys.iter().zip(members) {
            rows.push([
                key.as_str().into(),
                team.id.0.into(),
                member.0.into(),
                "week".into(),
                millis(due).into(),
                payload.as_str().into(),
                millis(due).into(),
            ]);
        }
        self.put_jobs(&rows).await
    }

    // Bells.

    /// Sets the member's one bell; `None` takes it off, if there is one.
    pub(in crate::store) fn put_bell(&mut self, team: &Team, member: &Member, bell: Option<&Bell>) {
        self.bells.bells.insert(member.id, bell.cloned());
        self.bells.unwritten.insert(member.id, team.id);
    }

    /// Takes the member's bell off if it was due by `now`: it is of a set long past.
    pub async fn hush(
        &mut self,
        team: &Team,
        author: &str,
        now: DateTime<Utc>,
    ) -> Result<(), StoreError> {
        let Some(member) = self.member(team, author).await? else {
            return Ok(());
        };
        let bell = self.bell(&member).await?;
        if bell.is_some_and(|bell| bell.due <= now) {
            self.put_bell(team, &member, None);
            self.touch(team, &member);
        }
        Ok(())
    }

    /// Writes the bells set so far.
    pub(in crate::store) async fn write_bells(&mut self) -> Result<(), StoreError> {
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
                self.connection.put(&DROP, &args).await?;
            }
        }
        let mut rows: Vec<[Arg; 7]> = Vec::with_capacity(bells.len());
        for (key, team, member, due, payload) in &bells {
            rows.push([
                key.as_str().into(),
                team.0.into(),
                member.0.into(),
                "bell".into(),
                (*due).into(),
                payload.as_str().into(),
                (*due).into(),
            ]);
        }
        self.put_jobs(&rows).await
    }

    /// Puts jobs in, or anew.
    async fn put_jobs(&mut self, rows: &[[Arg<'_>; 7]]) -> Result<(), StoreError> {
        const PUT: Insert = Insert {
            table: JOB,
            columns: "key, team_id, member_id, kind, due_ms, payload, turn_ms",
            again: " on conflict (key) do update
                    set due_ms = excluded.due_ms, payload = excluded.payload,
                        turn_ms = excluded.turn_ms, owner = null, tries = 0",
            may_leave: false,
        };
        for [.., turn] in rows {
            if let Arg::Int(Some(turn)) = turn {
                self.bells.wrote(*turn);
            }
        }
        self.connection.insert(&PUT, rows).await
    }
}

/// The keys of these members' bells, as a list to bind.
pub(in crate::store) fn bell_keys(members: &[MemberId]) -> Result<String, StoreError> {
    let keys: Vec<String> = members.iter().copied().map(bell_key).collect();
    as_json(&keys)
}

fn payload_of(bell: &Bell) -> Result<String, StoreError> {
    as_json(&Payload {
        exercise: bell.exercise.clone(),
        channel: bell.channel.clone(),
        moved: bell.moved,
        set_ms: bell.set.map(millis),
        ahead_ms: bell.ahead_ms,
    })
}

/// Members' ids are the store's own, so the key needs no team.
fn bell_key(member: MemberId) -> String {
    format!("bell/{}", member.0)
}

fn digest_key(team: &Team) -> String {
    format!("digest/{}", team.id.0)
}

fn job_of(row: &Row) -> Result<Job, StoreError> {
    let kind: String = row.get("kind")?;
    match kind.as_str() {
        "bell" => Ok(Job::Bell(bell_of(row)?)),
        "digest" => Ok(Job::Digest(json(row, "payload")?)),
        "week" => Ok(Job::OwnWeek(json::<OwnWeek>(row, "payload")?.week)),
        _ => Err(row.impossible("kind", format!("is {kind}, no kind of job"))),
    }
}

fn bell_of(row: &Row) -> Result<Bell, StoreError> {
    let payload: Payload = json(row, "payload")?;
    Ok(Bell {
        exercise: payload.exercise,
        channel: payload.channel,
        due: instant(row, "due_ms")?,
        moved: payload.moved,
        set: payload.set_ms.and_then(DateTime::from_timestamp_millis),
        ahead_ms: payload.ahead_ms,
    })
}
