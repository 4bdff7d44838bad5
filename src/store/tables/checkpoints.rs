//! What was believed before the first sets of the last days: a cache, see
//! [`crate::bot::state::checkpoint`].

use chrono::{DateTime, Utc};

use crate::bot::state::cuts::BestsData;
use crate::bot::state::cuts::{Checkpoint, CheckpointChange, Cut};
use crate::bot::state::{Member, Team};
use crate::store::engine::{Arg, Insert, Row, Sql};
use crate::store::error::StoreError;
use crate::store::{Tx, as_json, instant, json, millis};

const CHECKPOINT: &str = "checkpoint";

impl Tx {
    /// All checkpoints of a member, in the order of time, then of exercises.
    pub async fn checkpoints(&mut self, member: &Member) -> Result<Vec<Checkpoint>, StoreError> {
        const ALL: Sql = Sql::both(
            CHECKPOINT,
            "select at_ms, exercise, state, bests from checkpoint where member_id = $1",
        );
        let rows = self.connection.rows(&ALL, &[member.id.0.into()]).await?;
        let mut all: Vec<Checkpoint> = rows.iter().map(checkpoint).collect::<Result<_, _>>()?;
        // Engines sort names differently.
        all.sort_by(|a, b| (a.at, &a.exercise).cmp(&(b.at, &b.exercise)));
        Ok(all)
    }

    /// Whether something before a cut belongs to what lies behind: a set of the days behind, or one of
    /// this message.
    pub async fn reaches_before(
        &mut self,
        team: &Team,
        member: &Member,
        cut: Cut,
        message: &str,
    ) -> Result<bool, StoreError> {
        const REACHES: Sql = Sql::both(
            "training_set",
            // The sums keep the engines from looking through all that is before the cut.
            "select id from training_set where member_id = $1 and day >= $2 and at_ms + 0 < $3
             union all
             select id from training_set
             where team_id = $4 and message = $5 and member_id + 0 = $1 and at_ms + 0 < $3
             limit 1",
        );
        self.write_sets().await?;
        let day = cut.day.to_string();
        let args = [
            member.id.0.into(),
            day.as_str().into(),
            millis(cut.at).into(),
            team.id.0.into(),
            message.into(),
        ];
        Ok(self.connection.row(&REACHES, &args).await?.is_some())
    }

    /// Stores what becomes of a member's checkpoints.
    pub(in crate::store) async fn put_checkpoints(
        &mut self,
        member: &Member,
        change: &CheckpointChange,
    ) -> Result<(), StoreError> {
        const DROP: Sql = Sql::both(
            CHECKPOINT,
            "delete from checkpoint where member_id = $1 and (at_ms < $2 or at_ms >= $3)",
        );
        // What was believed first is what was believed before.
        const PUT: Insert = Insert {
            table: CHECKPOINT,
            columns: "member_id, at_ms, exercise, state, bests",
            again: " on conflict (member_id, at_ms, exercise) do update set at_ms = excluded.at_ms",
            may_leave: false,
        };
        if let Some((from, to)) = change.keep {
            let args = [member.id.0.into(), millis(from).into(), millis(to).into()];
            self.connection.put(&DROP, &args).await?;
        }
        let bests: Vec<Option<String>> = change
            .new
            .iter()
            .map(|one| one.bests.as_ref().map(as_json::<BestsData>).transpose())
            .collect::<Result<_, _>>()?;
        let rows: Vec<_> = change
            .new
            .iter()
            .zip(&bests)
            .map(|(one, bests)| {
                [
                    member.id.0.into(),
                    millis(one.at).into(),
                    one.exercise.as_str().into(),
                    Arg::Bytes(one.state.as_deref()),
                    Arg::Text(bests.as_deref()),
                ]
            })
            .collect();
        self.connection.insert(&PUT, &rows).await
    }
}

fn checkpoint(row: &Row) -> Result<Checkpoint, StoreError> {
    let at: DateTime<Utc> = instant(row, "at_ms")?;
    let bests = match row.get::<Option<&str>>("bests")? {
        None => None,
        Some(_) => Some(json(row, "bests")?),
    };
    Ok(Checkpoint {
        at,
        exercise: row.get("exercise")?,
        state: row.get("state")?,
        bests,
    })
}
