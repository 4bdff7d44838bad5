//! Filed sets.

use chrono::{DateTime, NaiveDate, Utc};

use super::engine::{Arg, Row, Sql};
use super::error::StoreError;
use super::{Tx, instant, millis};
use crate::bot::state::{FiledSet, Member, Team};
use crate::domain::catalogue::{Basis, Catalogue};
use crate::domain::effort::Rir;
use crate::domain::id::{ExerciseId, SetId};
use crate::domain::load::Load;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::mass::{Mass, Unit};
use crate::message::reading::Technique;

const SET: &str = "training_set";

impl Tx {
    /// The member's sets that ended at `since` or later, in the order of time.
    ///
    /// # Errors
    /// [`StoreError`]; an exercise that `catalogue` lacks is an impossible row.
    pub async fn sets_since(
        &mut self,
        member: &Member,
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<Vec<FiledSet>, StoreError> {
        const SINCE: Sql = Sql::both(
            SET,
            "select id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms, timed,
                    stated_rest_s, day, message, channel, place, order_in_day, technique
             from training_set where member_id = $1 and at_ms >= $2 order by at_ms, id",
        );
        let args = [member.id.0.into(), millis(since).into()];
        let rows = self.connection.rows(&SINCE, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// All of the member's sets, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_all(
        &mut self,
        member: &Member,
        catalogue: &Catalogue,
    ) -> Result<Vec<FiledSet>, StoreError> {
        self.sets_since(member, DateTime::<Utc>::MIN_UTC, catalogue)
            .await
    }

    /// The member's sets of the local days `from` to `to`, both included, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of_days(
        &mut self,
        member: &Member,
        from: NaiveDate,
        to: NaiveDate,
        catalogue: &Catalogue,
    ) -> Result<Vec<FiledSet>, StoreError> {
        const OF_DAYS: Sql = Sql::both(
            SET,
            "select id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms, timed,
                    stated_rest_s, day, message, channel, place, order_in_day, technique
             from training_set where member_id = $1 and day between $2 and $3 order by at_ms, id",
        );
        let (from, to) = (from.to_string(), to.to_string());
        let args = [member.id.0.into(), from.as_str().into(), to.as_str().into()];
        let rows = self.connection.rows(&OF_DAYS, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// The member's sets of these exercises that ended at `since` or later, in the order of time.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of_exercises(
        &mut self,
        member: &Member,
        exercises: &[&str],
        since: DateTime<Utc>,
        catalogue: &Catalogue,
    ) -> Result<Vec<FiledSet>, StoreError> {
        // Eight names a statement: one text for both engines, which have no list type in common.
        const OF_EXERCISES: Sql = Sql::both(
            SET,
            "select id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms, timed,
                    stated_rest_s, day, message, channel, place, order_in_day, technique
             from training_set
             where member_id = $1 and at_ms >= $2
                   and exercise in ($3, $4, $5, $6, $7, $8, $9, $10)
             order by at_ms, id",
        );
        let mut found = Vec::new();
        for some in exercises.chunks(8) {
            let mut args = [Arg::Text(None); 10];
            args[0] = member.id.0.into();
            args[1] = millis(since).into();
            for (arg, &name) in args.iter_mut().skip(2).zip(some) {
                *arg = name.into();
            }
            let rows = self.connection.rows(&OF_EXERCISES, &args).await?;
            found.extend(sets_of(&rows, catalogue)?);
        }
        found.sort_by_key(|filed| (filed.set.at, filed.set.id));
        Ok(found)
    }

    /// The sets that a message of the team holds, in the order in which it names them.
    ///
    /// # Errors
    /// As [`Tx::sets_since`].
    pub async fn sets_of_message(
        &mut self,
        team: &Team,
        message: &str,
        catalogue: &Catalogue,
    ) -> Result<Vec<FiledSet>, StoreError> {
        const OF_MESSAGE: Sql = Sql::both(
            SET,
            "select id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms, timed,
                    stated_rest_s, day, message, channel, place, order_in_day, technique
             from training_set where team_id = $1 and message = $2 order by place, id",
        );
        let args = [team.id.0.into(), message.into()];
        let rows = self.connection.rows(&OF_MESSAGE, &args).await?;
        sets_of(&rows, catalogue)
    }

    /// Files a new set.
    pub(super) async fn file(
        &mut self,
        team: &Team,
        member: &Member,
        set: &FiledSet,
        catalogue: &Catalogue,
    ) -> Result<SetId, StoreError> {
        const FILE: Sql = Sql::both(
            SET,
            "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir,
                 kind, per_side, at_ms, timed, stated_rest_s, day, message, channel, place,
                 order_in_day, technique)
             values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17,
                 $18, $19)
             returning id",
        );
        let day = set.set.day.to_string();
        let args = columns(team, member, set, &day, catalogue);
        Ok(SetId(
            self.connection.returned(&FILE, &args).await?.get("id")?,
        ))
    }

    /// Gives a filed set new content.
    pub(super) async fn revise(
        &mut self,
        team: &Team,
        member: &Member,
        set: &FiledSet,
        catalogue: &Catalogue,
    ) -> Result<(), StoreError> {
        const REVISE: Sql = Sql::both(
            SET,
            "update training_set
             set exercise = $3, load = $4, unit = $5, basis = $6, reps = $7, rir = $8, kind = $9,
                 per_side = $10, at_ms = $11, timed = $12, stated_rest_s = $13, day = $14,
                 message = $15, channel = $16, place = $17, order_in_day = $18, technique = $19
             where team_id = $1 and member_id = $2 and id = $20",
        );
        let Some(id) = set.set.id else {
            return Err(StoreError::RowCount {
                table: SET,
                expected: 1,
                found: 0,
            });
        };
        let day = set.set.day.to_string();
        let mut args = columns(team, member, set, &day, catalogue).to_vec();
        args.push(id.0.into());
        self.connection.run_one(&REVISE, &args).await
    }

    /// Takes a filed set out.
    pub(super) async fn remove(&mut self, member: &Member, id: SetId) -> Result<(), StoreError> {
        const REMOVE: Sql = Sql::both(
            SET,
            "delete from training_set where member_id = $1 and id = $2",
        );
        let args = [member.id.0.into(), id.0.into()];
        self.connection.run_one(&REMOVE, &args).await
    }
}

/// The columns of a set, in the order of `$1` to `$19`.
fn columns<'a>(
    team: &Team,
    member: &Member,
    filed: &'a FiledSet,
    day: &'a str,
    catalogue: &'a Catalogue,
) -> [Arg<'a>; 19] {
    let set = &filed.set;
    [
        team.id.0.into(),
        member.id.0.into(),
        catalogue.exercise(set.exercise).name.as_str().into(),
        set.load.mass.tenth_micrograms().into(),
        set.load.unit.symbol().into(),
        set.load.basis.word().into(),
        set.reps.into(),
        Arg::Real(set.rir.map(Rir::reps)),
        kind_word(set.kind).into(),
        set.per_side.into(),
        millis(set.at).into(),
        set.timed.into(),
        Arg::Int(set.stated_rest_s.map(i64::from)),
        day.into(),
        filed.message.as_str().into(),
        filed.channel.as_str().into(),
        filed.place.into(),
        filed.order.into(),
        Arg::Text(filed.technique.map(Technique::word)),
    ]
}

/// The sets in rows with all columns.
fn sets_of(rows: &[Row], catalogue: &Catalogue) -> Result<Vec<FiledSet>, StoreError> {
    let mut names = Names {
        catalogue,
        found: Vec::new(),
    };
    rows.iter().map(|row| set_of(row, &mut names)).collect()
}

fn set_of<'r>(row: &'r Row, names: &mut Names<'r>) -> Result<FiledSet, StoreError> {
    Ok(FiledSet {
        set: LoggedSet {
            id: Some(SetId(row.get("id")?)),
            exercise: names.exercise(row)?,
            load: load_of(row)?,
            reps: row.small("reps")?,
            rir: rir_of(row)?,
            kind: word(row, "kind", kind_from_word)?,
            per_side: row.flag("per_side")?,
            at: instant(row, "at_ms")?,
            timed: row.flag("timed")?,
            stated_rest_s: stated_rest_of(row)?,
            day: word(row, "day", |day| day.parse().ok())?,
        },
        message: row.get("message")?,
        channel: row.get("channel")?,
        place: row.small("place")?,
        order: row.small("order_in_day")?,
        technique: technique_of(row)?,
    })
}

fn load_of(row: &Row) -> Result<Load, StoreError> {
    Ok(Load {
        mass: Mass::from_tenth_micrograms(row.get("load")?),
        unit: word(row, "unit", Unit::from_symbol)?,
        basis: word(row, "basis", Basis::from_word)?,
    })
}

fn rir_of(row: &Row) -> Result<Option<Rir>, StoreError> {
    row.get::<Option<f64>>("rir")?
        .map(Rir::new)
        .transpose()
        .map_err(|error| row.impossible("rir", format!("is impossible: {error}")))
}

fn stated_rest_of(row: &Row) -> Result<Option<u32>, StoreError> {
    match row.get::<Option<i64>>("stated_rest_s")? {
        None => Ok(None),
        Some(_) => row.small("stated_rest_s").map(Some),
    }
}

fn technique_of(row: &Row) -> Result<Option<Technique>, StoreError> {
    match row.get::<Option<&str>>("technique")? {
        None => Ok(None),
        Some(_) => word(row, "technique", Technique::from_word).map(Some),
    }
}

/// The value that the word in a cell stands for.
fn word<T>(
    row: &Row,
    column: &'static str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<T, StoreError> {
    let word: &str = row.get(column)?;
    meaning(word).ok_or_else(|| row.impossible(column, format!("is `{word}`, which means nothing")))
}

const fn kind_word(kind: SetKind) -> &'static str {
    match kind {
        SetKind::Straight => "straight",
        SetKind::Other => "other",
        SetKind::WarmUp => "warm_up",
    }
}

fn kind_from_word(word: &str) -> Option<SetKind> {
    [SetKind::Straight, SetKind::Other, SetKind::WarmUp]
        .into_iter()
        .find(|&kind| kind_word(kind) == word)
}

/// Stored names to places in the catalogue. The few names of a session are looked up once each,
/// since the catalogue is searched from end to end.
struct Names<'r> {
    catalogue: &'r Catalogue,
    found: Vec<(&'r str, ExerciseId)>,
}

impl<'r> Names<'r> {
    fn exercise(&mut self, row: &'r Row) -> Result<ExerciseId, StoreError> {
        let name: &'r str = row.get("exercise")?;
        if let Some(&(_, id)) = self.found.iter().find(|(known, _)| *known == name) {
            return Ok(id);
        }
        let id = self.catalogue.named(name).ok_or_else(|| {
            row.impossible(
                "exercise",
                format!("is `{name}`, which the catalogue lacks"),
            )
        })?;
        self.found.push((name, id));
        Ok(id)
    }
}
