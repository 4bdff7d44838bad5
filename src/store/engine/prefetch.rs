//! What a single message begins with, read in one go: its team, whether it was answered before, and
//! who wrote it. Each is read by itself where this was left out, so it is only about time.
//!
//! On SQLite a transaction that reads holds the write lock, so whoever is not there stays away until
//! it ends. On PostgreSQL the member's row is locked as it is read, so only who is there is read in
//! one go.

use chrono::{DateTime, NaiveDate, Utc};

use crate::bot::state::{Member, Remembered};
use crate::domain::quantities::catalogue::Catalogue;
use crate::store::engine::{Arg, Row, Sql};
use crate::store::error::StoreError;
use crate::store::tables::beliefs::BELIEFS;
use crate::store::tables::events::Answered;
use crate::store::tables::jobs::{BELLS, bell_keys};
use crate::store::tables::prescriptions::PRESCRIBED;
use crate::store::tables::sets::{SINCE, owned_sets_of};
use crate::store::tables::teams::{Stranger, member_of};
use crate::store::upkeep::erase::digest;
use crate::store::{Tx, as_json, instant, json, millis};

impl Tx {
    /// Reads ahead for a message of this id and author to this team.
    pub async fn prefetch_message(
        &mut self,
        team: &str,
        id: &str,
        author: &str,
        name: &str,
    ) -> Result<(), StoreError> {
        const BEGIN: Sql = Sql::either(
            "team",
            "select team.id as team_id, team.key as key, team.settings as settings,
                    event.author as event_author, event.channel as event_channel,
                    event.at_ms as event_at_ms, event.outcome as event_outcome,
                    past_event.at_ms as past_at_ms,
                    erased.at_ms as erased_at_ms,
                    exists (select 1 from member as one
                            where one.team_id = team.id and one.author in ($5, $6)) as is_expected,
                    (select coalesce(max(seq), 0) + 1 from sqlite_sequence
                     where name = 'training_set') as next_set,
                    (select coalesce(max(seq), 0) + 1 from sqlite_sequence
                     where name = 'member') as next_member,
                    member.id as id, member.author as author, member.name as name, coach, profile,
                    desk, condition, version
             from team
             left join event on event.team_id = team.id and event.id = $2
             left join past_event on past_event.team_id = team.id and kind = 0
                   and past_event.id = $2
             left join member on member.team_id = team.id and member.author = $3
             left join erased on erased.team_id = team.id and erased.author = $4
             where team.key = $1",
            // An event that another process stores while the row is waited for is not seen; then
            // the id is found taken when this one is stored.
            "select team.id as team_id, team.key as key, team.settings as settings,
                    event.author as event_author, event.channel as event_channel,
                    event.at_ms as event_at_ms, event.outcome as event_outcome,
                    past_event.at_ms as past_at_ms,
                    nextval(pg_get_serial_sequence('training_set', 'id')) as next_set,
                    member.id as id, member.author as author, member.name as name, coach, profile,
                    desk, condition, version
             from team
             join member on member.team_id = team.id and member.author = $3
             left join event on event.team_id = team.id and event.id = $2
             left join past_event on past_event.team_id = team.id and kind = 0
                   and past_event.id = $2
             where team.key = $1
             for no key update of member",
        );
        if self.knows_team(team) {
            return Ok(());
        }
        let row = if self.connection.is_postgres() {
            let args = [team, id, author].map(Into::into);
            self.connection.row(&BEGIN, &args).await?
        } else if self.recall_message(team, id, author) {
            None
        } else {
            let digest = digest(team, author);
            let [one, other] = [author, name].map(Member::expected_author);
            let args = [team, id, author, &digest, &one, &other].map(Into::into);
            self.connection.row(&BEGIN, &args).await?
        };
        let Some(row) = row else {
            return Ok(());
        };
        let team = self.see_team(&row)?;
        self.events.know(&team, id, answered_in(&row)?);
        self.sets
            .may_give(row.get("next_set")?, self.connection.is_postgres());
        if row.get::<Option<i64>>("id")?.is_some() {
            let member = member_of(&row)?;
            return self.see_row(&team, &member, &row);
        }
        let erased = row.get::<Option<i64>>("erased_at_ms")?;
        let stranger = Stranger {
            erased: erased.map(|_| instant(&row, "erased_at_ms")).transpose()?,
            is_expected: row.flag("is_expected")?,
            next_id: row.get("next_member")?,
        };
        self.see_stranger(&team, author, stranger);
        Ok(())
    }
}

impl Tx {
    /// Reads ahead what a set of this member needs, where nothing of the member is at hand: the last
    /// sets, the bell, what coaches set for `day`, and what is believed.
    pub async fn prefetch_own(
        &mut self,
        member: &Member,
        since: DateTime<Utc>,
        day: NaiveDate,
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        if self.connection.is_postgres() || !self.sets.is_blank(member.id) {
            return Ok(());
        }
        self.write_sets().await?;
        self.write_beliefs().await?;
        self.write_bells().await?;
        let (id, list) = (member.id.0.into(), as_json(&[member.id.0])?);
        let (bell, day_text) = (bell_keys(&[member.id])?, day.to_string());
        let reads: [(&Sql, &[Arg<'_>]); 4] = [
            (&SINCE, &[list.as_str().into(), millis(since).into()]),
            (&BELLS, &[bell.as_str().into()]),
            (&PRESCRIBED, &[id, day_text.as_str().into()]),
            (&BELIEFS, &[id]),
        ];
        let [sets, bells, prescribed, beliefs] = self.connection.rows_of_each(reads).await?;
        let sets = owned_sets_of(&sets, catalogue)?;
        self.sets.know(&[member.id], since, sets);
        self.bells.know(&[member.id], &bells)?;
        self.prescribed.know(member.id, day, &prescribed)?;
        self.beliefs.know(member.id, &beliefs)
    }
}

/// The event in the row, if there is one.
fn answered_in(row: &Row) -> Result<Option<Answered>, StoreError> {
    let Some(author) = row.get::<Option<String>>("event_author")? else {
        let past = row.get::<Option<i64>>("past_at_ms")?;
        let past = past.and_then(DateTime::from_timestamp_millis);
        let nobodys = |at| Remembered {
            author: String::new(),
            channel: String::new(),
            at,
        };
        return Ok(past.map(|at| (nobodys(at), Vec::new())));
    };
    let event = Remembered {
        author,
        channel: row.get("event_channel")?,
        at: instant(row, "event_at_ms")?,
    };
    Ok(Some((event, json(row, "event_outcome")?)))
}
