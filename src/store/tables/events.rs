//! Events that were answered: for repeats, edits and deletions.

use std::collections::HashMap;

use crate::bot::reply::Outgoing;
use crate::bot::state::{Remembered, Team};
use crate::domain::quantities::id::TeamId;
use crate::store::engine::{Arg, Insert, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, json, millis};

const EVENT: &str = "event";

/// The events that a transaction asked about or answered.
#[derive(Debug, Default)]
pub(in crate::store) struct EventCache {
    /// By team and id; `None` where the table has no such event.
    answered: HashMap<(TeamId, String), Option<Answered>>,
    /// Those that wait to be written, in order.
    unwritten: Vec<Unwritten>,
}

pub(in crate::store) type Answered = (Remembered, Vec<Outgoing>);

#[derive(Debug)]
struct Unwritten {
    team: TeamId,
    id: String,
    event: Remembered,
    outcome: String,
}

impl Unwritten {
    fn cells(&self) -> [Arg<'_>; 6] {
        [
            self.team.0.into(),
            self.id.as_str().into(),
            self.event.author.as_str().into(),
            self.event.channel.as_str().into(),
            millis(self.event.at).into(),
            self.outcome.as_str().into(),
        ]
    }
}

impl EventCache {
    /// Keeps what the table holds of an event.
    pub(in crate::store) fn know(&mut self, team: &Team, id: &str, answered: Option<Answered>) {
        self.answered.insert((team.id, id.to_owned()), answered);
    }
}

impl Tx {
    /// The event with this id in this team, and what was answered; `None` when it is new. One of which
    /// the answer was dropped is nobody's, and was answered with nothing.
    pub async fn remembered(
        &mut self,
        team: &Team,
        id: &str,
    ) -> Result<Option<(Remembered, Vec<Outgoing>)>, StoreError> {
        let key = (team.id, id.to_owned());
        if !self.events.answered.contains_key(&key) {
            self.prefetch_events(team, &[id]).await?;
        }
        Ok(self.events.answered.get(&key).cloned().flatten())
    }

    /// Looks events up before they are asked for, all in one go.
    pub async fn prefetch_events(&mut self, team: &Team, ids: &[&str]) -> Result<(), StoreError> {
        const FIND: Sql = Sql::either(
            EVENT,
            "select id, author, channel, at_ms, outcome from event
             where team_id = $1 and id in (select value from json_each($2))
             union all
             select id, '', '', at_ms, '[]' from past_event
             where team_id = $1 and kind = 0 and id in (select value from json_each($2))",
            "select id, author, channel, at_ms, outcome from event
             where team_id = $1 and id = any (array(select json_array_elements_text($2::json)))
             union all
             select id, '', '', at_ms, '[]' from past_event
             where team_id = $1 and kind = 0
                   and id = any (array(select json_array_elements_text($2::json)))",
        );
        let mut ids = ids.to_vec();
        let answered = &mut self.events.answered;
        ids.retain(|&id| !answered.contains_key(&(team.id, id.to_owned())));
        if ids.is_empty() {
            return Ok(());
        }
        let list = as_json(&ids)?;
        let args = [team.id.0.into(), list.as_str().into()];
        let rows = self.connection.rows(&FIND, &args).await?;
        answered.extend(ids.iter().map(|&id| ((team.id, id.to_owned()), None)));
        for row in &rows {
            answered.insert((team.id, row.get("id")?), Some(answered_of(row)?));
        }
        Ok(())
    }

    /// Keeps the answer to a new event.
    ///
    /// # Errors
    /// [`StoreError`]; a [conflict](StoreError::is_conflict) when the id is taken, here or at the
    /// commit: only another process can have done that after [`Tx::remembered`] said it was free.
    pub async fn remember(
        &mut self,
        team: &Team,
        id: &str,
        event: &Remembered,
        outcome: &[Outgoing],
    ) -> Result<(), StoreError> {
        let key = (team.id, id.to_owned());
        if matches!(self.events.answered.get(&key), Some(Some(_))) {
            return Err(StoreError::Conflict { table: EVENT });
        }
        self.events.unwritten.push(Unwritten {
            team: team.id,
            id: id.to_owned(),
            event: event.clone(),
            outcome: as_json(&outcome)?,
        });
        let answered = (event.clone(), outcome.to_vec());
        self.events.answered.insert(key, Some(answered));
        Ok(())
    }

    /// Takes the author off an event whose message they took away: it is still answered as before
    /// when it comes again, but nothing can be made of it any more.
    pub async fn anonymise(&mut self, team: &Team, id: &str) -> Result<(), StoreError> {
        const DISOWN: Sql = Sql::both(
            EVENT,
            "update event set author = '' where team_id = $1 and id = $2",
        );
        self.write_events().await?;
        if let Some(Some((event, _))) = self.events.answered.get_mut(&(team.id, id.to_owned())) {
            event.author.clear();
        }
        let args = [team.id.0.into(), id.into()];
        self.connection.put(&DISOWN, &args).await
    }

    /// The messages of this author in the team, by id, with what they were answered, in the order of
    /// time.
    pub async fn answered_to(
        &mut self,
        team: &Team,
        author: &str,
    ) -> Result<Vec<(String, Remembered, Vec<Outgoing>)>, StoreError> {
        const OF_AUTHOR: Sql = Sql::both(
            EVENT,
            "select id, author, channel, at_ms, outcome from event
             where team_id = $1 and author = $2 order by at_ms, id",
        );
        self.write_events().await?;
        let args = [team.id.0.into(), author.into()];
        let rows = self.connection.rows(&OF_AUTHOR, &args).await?;
        let answered = |row: &Row| {
            let (event, outcome) = answered_of(row)?;
            Ok((row.get("id")?, event, outcome))
        };
        rows.iter().map(answered).collect()
    }

    /// Forgets what was read of the team's events.
    pub(in crate::store) fn invalidate_events(&mut self, team: &Team) {
        self.events.answered.retain(|(of, _), _| *of != team.id);
    }

    /// Writes the answers kept so far.
    pub(in crate::store) async fn write_events(&mut self) -> Result<(), StoreError> {
        const KEEP: Insert = Insert {
            table: EVENT,
            columns: "team_id, id, author, channel, at_ms, outcome",
            again: "",
            may_leave: false,
        };
        let unwritten = std::mem::take(&mut self.events.unwritten);
        let rows: Vec<_> = unwritten.iter().map(Unwritten::cells).collect();
        self.connection.insert(&KEEP, &rows).await
    }
}

fn answered_of(row: &Row) -> Result<Answered, StoreError> {
    let event = Remembered {
        author: row.get("author")?,
        channel: row.get("channel")?,
        at: instant(row, "at_ms")?,
    };
    Ok((event, json(row, "outcome")?))
}
