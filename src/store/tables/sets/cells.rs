//! A set as cells of a row, there and back.

use crate::bot::state::{LogEntry, Member, Team};
use crate::domain::catalogue::{Basis, Catalogue};
use crate::domain::check::Check;
use crate::domain::effort::Rir;
use crate::domain::id::{ExerciseId, MemberId, SetId, TeamId};
use crate::domain::load::Load;
use crate::domain::log::{LimitingFactor, LoggedSet, Said, SetKind};
use crate::domain::mass::{Mass, Unit};
use crate::message::reading::Technique;
use crate::store::engine::{Arg, Row};
use crate::store::error::StoreError;
use crate::store::{instant, millis};

/// A set, whose it is, and the name of its exercise: a place in a catalogue means nothing without
/// that catalogue.
#[derive(Clone, Debug)]
pub(in crate::store) struct OwnedSet {
    pub(super) team: TeamId,
    pub(super) member: MemberId,
    pub(super) exercise: String,
    /// The local day, as stored.
    pub(super) day: String,
    /// What was said of being ready, as stored.
    said: Option<String>,
    pub(in crate::store) filed: LogEntry,
}

impl OwnedSet {
    pub(in crate::store) fn new(
        team: &Team,
        member: &Member,
        filed: &LogEntry,
        catalogue: &Catalogue,
    ) -> Self {
        Self {
            team: team.id,
            member: member.id,
            exercise: catalogue.exercise(filed.set.exercise).name.clone(),
            day: filed.set.day.to_string(),
            said: (!filed.set.said.is_empty()).then(|| said_text(&filed.set.said)),
            filed: filed.clone(),
        }
    }

    /// The cells of all columns, the id last.
    pub(in crate::store) fn cells(&self) -> [Arg<'_>; 24] {
        let filed = &self.filed;
        let set = &filed.set;
        [
            self.team.0.into(),
            self.member.0.into(),
            self.exercise.as_str().into(),
            set.load.mass.tenth_micrograms().into(),
            set.load.unit.symbol().into(),
            set.load.basis.word().into(),
            set.reps.max(1).into(),
            Arg::Real(set.rir.map(Rir::reps)),
            set.kind.word().into(),
            set.per_side.into(),
            millis(set.at).into(),
            set.timed.into(),
            Arg::Int(set.stated_rest_s.map(i64::from)),
            self.day.as_str().into(),
            filed.message.as_str().into(),
            filed.channel.as_str().into(),
            filed.place.into(),
            filed.order.into(),
            Arg::Text(match set.reps {
                0 => Some(FAILED),
                _ => filed.technique.map(Technique::word),
            }),
            Arg::Real(set.asked.map(Rir::reps)),
            Arg::Text(self.said.as_deref()),
            Arg::Real(filed.judged),
            Arg::Text(set.gave_out.map(LimitingFactor::word)),
            Arg::Int(set.id.map(|id| id.0)),
        ]
    }
}

/// The sets in rows with all columns.
pub(super) fn sets_of(rows: &[Row], catalogue: &Catalogue) -> Result<Vec<LogEntry>, StoreError> {
    let mut names = Names::of(catalogue);
    rows.iter().map(|row| set_of(row, &mut names)).collect()
}

/// The same, with whose they are.
pub(in crate::store) fn owned_sets_of(
    rows: &[Row],
    catalogue: &Catalogue,
) -> Result<Vec<OwnedSet>, StoreError> {
    let mut names = Names::of(catalogue);
    let owned = |row| {
        Ok(OwnedSet {
            team: TeamId(Row::get(row, "team_id")?),
            member: MemberId(row.get("member_id")?),
            exercise: row.get("exercise")?,
            day: row.get("day")?,
            said: row.get("said")?,
            filed: set_of(row, &mut names)?,
        })
    };
    rows.iter().map(owned).collect()
}

fn set_of<'r>(row: &'r Row, names: &mut Names<'r>) -> Result<LogEntry, StoreError> {
    Ok(LogEntry {
        set: LoggedSet {
            id: Some(SetId(row.get("id")?)),
            exercise: exercise_of(row, names)?,
            load: load_of(row)?,
            reps: match is_failed(row)? {
                true => 0,
                false => row.small("reps")?,
            },
            rir: rir_of(row, "rir")?,
            gave_out: gave_out_of(row)?,
            kind: word(row, "kind", SetKind::from_word)?,
            per_side: row.flag("per_side")?,
            at: instant(row, "at_ms")?,
            timed: row.flag("timed")?,
            asked: rir_of(row, "asked_rir")?,
            said: said_of(row)?,
            stated_rest_s: stated_rest_of(row)?,
            day: word(row, "day", |day| day.parse().ok())?,
        },
        message: row.get("message")?,
        channel: row.get("channel")?,
        place: row.small("place")?,
        order: row.small("order_in_day")?,
        technique: technique_of(row)?,
        judged: row.get("judged_left")?,
    })
}

fn exercise_of<'r>(row: &'r Row, names: &mut Names<'r>) -> Result<ExerciseId, StoreError> {
    let name = row.get("exercise")?;
    names.id(name).ok_or_else(|| {
        let why = format!("is `{name}`, which the catalogue lacks");
        row.impossible("exercise", why)
    })
}

fn load_of(row: &Row) -> Result<Load, StoreError> {
    Ok(Load {
        mass: Mass::from_tenth_micrograms(row.get("load")?),
        unit: word(row, "unit", Unit::from_symbol)?,
        basis: word(row, "basis", Basis::from_word)?,
    })
}

fn rir_of(row: &Row, column: &'static str) -> Result<Option<Rir>, StoreError> {
    row.get::<Option<f64>>(column)?
        .map(Rir::new)
        .transpose()
        .map_err(|error| row.impossible(column, format!("is impossible: {error}")))
}

fn said_of(row: &Row) -> Result<Vec<Said>, StoreError> {
    match row.get::<Option<&str>>("said")? {
        None => Ok(Vec::new()),
        Some(_) => word(row, "said", said_from_text),
    }
}

/// `95-breath 130+muscle`.
fn said_text(said: &[Said]) -> String {
    let words = said.iter().map(|said| {
        let sign = if said.ready { '+' } else { '-' };
        format!("{}{sign}{}", said.after_s, said.check.word())
    });
    words.collect::<Vec<_>>().join(" ")
}

fn said_from_text(text: &str) -> Option<Vec<Said>> {
    let one = |word: &str| {
        let (place, sign) = word.char_indices().find(|(_, c)| !c.is_ascii_digit())?;
        let check = word.get(place + 1..)?;
        Some(Said {
            after_s: word.get(..place)?.parse().ok()?,
            check: Check::ALL.into_iter().find(|c| c.word() == check)?,
            ready: match sign {
                '+' => true,
                '-' => false,
                _ => return None,
            },
        })
    };
    text.split(' ').map(one).collect()
}

fn stated_rest_of(row: &Row) -> Result<Option<u32>, StoreError> {
    match row.get::<Option<i64>>("stated_rest_s")? {
        None => Ok(None),
        Some(_) => row.small("stated_rest_s").map(Some),
    }
}

fn gave_out_of(row: &Row) -> Result<Option<LimitingFactor>, StoreError> {
    match row.get::<Option<&str>>("gave_out")? {
        None => Ok(None),
        Some(_) => word(row, "gave_out", LimitingFactor::from_word).map(Some),
    }
}

/// How a failed attempt is told from a set: the first schema asks for one repetition or more.
const FAILED: &str = "failed";

fn is_failed(row: &Row) -> Result<bool, StoreError> {
    Ok(row.get::<Option<&str>>("technique")? == Some(FAILED))
}

fn technique_of(row: &Row) -> Result<Option<Technique>, StoreError> {
    match row.get::<Option<&str>>("technique")? {
        None | Some(FAILED) => Ok(None),
        Some(_) => word(row, "technique", Technique::from_word).map(Some),
    }
}

/// The value that the word in a cell stands for.
pub(super) fn word<T>(
    row: &Row,
    column: &'static str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<T, StoreError> {
    let word: &str = row.get(column)?;
    meaning(word).ok_or_else(|| row.impossible(column, format!("is `{word}`, which means nothing")))
}

/// Stored names to places in the catalogue. The few names of a session are looked up once each.
pub(super) struct Names<'n> {
    catalogue: &'n Catalogue,
    found: Vec<(&'n str, ExerciseId)>,
}

impl<'n> Names<'n> {
    pub(super) const fn of(catalogue: &'n Catalogue) -> Self {
        Self {
            catalogue,
            found: Vec::new(),
        }
    }

    pub(super) fn id(&mut self, name: &'n str) -> Option<ExerciseId> {
        if let Some(&(_, id)) = self.found.iter().find(|(known, _)| *known == name) {
            return Some(id);
        }
        let id = self.catalogue.named(name)?;
        self.found.push((name, id));
        Some(id)
    }
}
