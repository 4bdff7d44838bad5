//! A set as cells of a row, there and back. What a cell costs is most of what reading a set costs, so
//! numbers and words come in one.

use std::str::FromStr;

use chrono::{DateTime, NaiveDate};

use crate::bot::state::{LogEntry, Member, Team};
use crate::domain::log::{LimitingFactor, LoggedSet, Said, SetKind};
use crate::domain::quantities::catalogue::{Basis, Catalogue};
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, MemberId, SetId, TeamId};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::reading::Technique;
use crate::store::engine::{Arg, Row};
use crate::store::error::StoreError;
use crate::store::millis;

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

/// The numbers and words of a set, with commas between; nothing where a column is null. The exercise's name
/// is last, since it may hold a comma.
macro_rules! packed {
    () => {
        "concat(load, ',', unit, ',', basis, ',', reps, ',', rir, ',', kind, ',', per_side, ',',
                at_ms, ',', timed, ',', stated_rest_s, ',', day, ',', technique, ',', asked_rir, ',',
                said, ',', gave_out, ',', place, ',', order_in_day, ',', exercise)"
    };
}
pub(super) use packed;

/// How many they are.
const PACKED: usize = 18;

/// The sets in rows with all columns.
pub(super) fn sets_of(rows: &[Row], catalogue: &Catalogue) -> Result<Vec<LogEntry>, StoreError> {
    let mut names = Names::of(catalogue);
    let filed = |row| Ok(set_of(row, &mut names)?.0);
    rows.iter().map(filed).collect()
}

/// The same, with whose they are.
pub(in crate::store) fn owned_sets_of(
    rows: &[Row],
    catalogue: &Catalogue,
) -> Result<Vec<OwnedSet>, StoreError> {
    let mut names = Names::of(catalogue);
    let owned = |row| {
        let (filed, cells) = set_of(row, &mut names)?;
        Ok(OwnedSet {
            team: TeamId(Row::get(row, "team_id")?),
            member: MemberId(row.get("member_id")?),
            exercise: cells.exercise.to_owned(),
            day: cells.day.to_owned(),
            said: (!cells.said.is_empty()).then(|| cells.said.to_owned()),
            filed,
        })
    };
    rows.iter().map(owned).collect()
}

/// The sets in a cell, one a line, the id before what is packed.
pub(super) fn sets_in<'r>(
    row: &'r Row,
    column: &'static str,
    names: &mut Names<'r>,
) -> Result<Vec<LoggedSet>, StoreError> {
    let cell: &str = row.get(column)?;
    let set = |line: &'r str| {
        let (id, packed) = line.split_once(',').unwrap_or_default();
        let id = id.parse().map(SetId);
        let id = id.map_err(|_| row.impossible("id", format!("is `{line}`")))?;
        Ok(unpacked(row, packed, id, names)?.set)
    };
    cell.lines().map(set).collect()
}

fn set_of<'r>(row: &'r Row, names: &mut Names<'r>) -> Result<(LogEntry, Unpacked<'r>), StoreError> {
    let unpacked = unpacked(row, row.get("packed")?, SetId(row.get("id")?), names)?;
    let filed = LogEntry {
        set: unpacked.set.clone(),
        message: row.get("message")?,
        channel: row.get("channel")?,
        place: unpacked.place,
        order: unpacked.order,
        technique: unpacked.technique,
        judged: row.get("judged_left")?,
    };
    Ok((filed, unpacked))
}

/// What is packed, and some of it as stored.
struct Unpacked<'r> {
    set: LoggedSet,
    place: u32,
    order: u32,
    technique: Option<Technique>,
    exercise: &'r str,
    day: &'r str,
    said: &'r str,
}

fn unpacked<'r>(
    row: &'r Row,
    packed: &'r str,
    id: SetId,
    names: &mut Names<'r>,
) -> Result<Unpacked<'r>, StoreError> {
    let mut left = Fields {
        row,
        left: packed.splitn(PACKED, ','),
    };
    let load = Load {
        mass: Mass::from_tenth_micrograms(left.number("load")?),
        unit: left.word("unit", Unit::from_symbol)?,
        basis: left.word("basis", Basis::from_word)?,
    };
    let reps = left.number("reps")?;
    let rir = left.rir("rir")?;
    let kind = left.word("kind", SetKind::from_word)?;
    let per_side = left.flag("per_side")?;
    let at = left.word("at_ms", |text| {
        DateTime::from_timestamp_millis(text.parse().ok()?)
    })?;
    let timed = left.flag("timed")?;
    let stated_rest_s = left.maybe("stated_rest_s", |text| text.parse().ok())?;
    let day = left.text("day")?;
    let technique = left.text("technique")?;
    let is_failed = technique == FAILED;
    let technique = match technique {
        "" | FAILED => None,
        word => Some(meant(row, "technique", word, Technique::from_word)?),
    };
    let asked = left.rir("asked_rir")?;
    let said = left.text("said")?;
    let gave_out = left.maybe("gave_out", LimitingFactor::from_word)?;
    let (place, order) = (left.number("place")?, left.number("order_in_day")?);
    let exercise = left.text("exercise")?;
    let set = LoggedSet {
        id: Some(id),
        exercise: names.id(exercise).ok_or_else(|| {
            let why = format!("is `{exercise}`, which the catalogue lacks");
            row.impossible("exercise", why)
        })?,
        load,
        // Whatever their number says, it is checked.
        reps: if is_failed { 0 } else { reps },
        rir,
        gave_out,
        kind,
        slowed: technique.is_some_and(Technique::is_straight),
        per_side,
        at,
        timed,
        asked,
        said: match said {
            "" => Vec::new(),
            said => meant(row, "said", said, said_from_text)?,
        },
        stated_rest_s,
        day: meant(row, "day", day, |day| names.day(day))?,
    };
    Ok(Unpacked {
        set,
        place,
        order,
        technique,
        exercise,
        day,
        said,
    })
}

/// What is left of a packed cell.
struct Fields<'r> {
    row: &'r Row,
    left: std::str::SplitN<'r, char>,
}

impl<'r> Fields<'r> {
    fn text(&mut self, column: &'static str) -> Result<&'r str, StoreError> {
        let text = self.left.next();
        text.ok_or_else(|| self.row.impossible(column, "is missing".to_owned()))
    }

    fn word<T>(
        &mut self,
        column: &'static str,
        meaning: impl FnOnce(&'r str) -> Option<T>,
    ) -> Result<T, StoreError> {
        meant(self.row, column, self.text(column)?, meaning)
    }

    /// The same of a column that may be null.
    fn maybe<T>(
        &mut self,
        column: &'static str,
        meaning: impl FnOnce(&'r str) -> Option<T>,
    ) -> Result<Option<T>, StoreError> {
        match self.text(column)? {
            "" => Ok(None),
            text => meant(self.row, column, text, meaning).map(Some),
        }
    }

    fn number<T: FromStr>(&mut self, column: &'static str) -> Result<T, StoreError> {
        self.word(column, |text| text.parse().ok())
    }

    fn flag(&mut self, column: &'static str) -> Result<bool, StoreError> {
        self.word(column, |text| match text {
            "0" => Some(false),
            "1" => Some(true),
            _ => None,
        })
    }

    fn rir(&mut self, column: &'static str) -> Result<Option<Rir>, StoreError> {
        self.maybe(column, |text| Rir::new(text.parse().ok()?).ok())
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

/// How a failed attempt is told from a set: the first schema asks for one repetition or more.
const FAILED: &str = "failed";

/// The value that the word in a cell stands for.
pub(super) fn word<T>(
    row: &Row,
    column: &'static str,
    meaning: impl Fn(&str) -> Option<T>,
) -> Result<T, StoreError> {
    meant(row, column, row.get(column)?, meaning)
}

fn meant<'r, T>(
    row: &Row,
    column: &'static str,
    word: &'r str,
    meaning: impl FnOnce(&'r str) -> Option<T>,
) -> Result<T, StoreError> {
    meaning(word).ok_or_else(|| row.impossible(column, format!("is `{word}`, which means nothing")))
}

/// Stored names to places in the catalogue, and days. The few names of a session are looked up once each, and so
/// is its day.
pub(super) struct Names<'n> {
    catalogue: &'n Catalogue,
    found: Vec<(&'n str, ExerciseId)>,
    day: Option<(&'n str, NaiveDate)>,
}

impl<'n> Names<'n> {
    pub(super) const fn of(catalogue: &'n Catalogue) -> Self {
        Self {
            catalogue,
            found: Vec::new(),
            day: None,
        }
    }

    fn day(&mut self, text: &'n str) -> Option<NaiveDate> {
        match self.day {
            Some((known, day)) if known == text => Some(day),
            _ => {
                let day = text.parse().ok()?;
                self.day = Some((text, day));
                Some(day)
            }
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
