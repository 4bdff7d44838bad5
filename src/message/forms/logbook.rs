//! A log as comma-separated values, one set a line: as a coach brings it from elsewhere, and as a
//! member takes it away. What is printed reads back as the same sets.
//!
//! ```text
//! member,date,time,exercise,load,unit,reps,left
//! Ines,2026-01-12,18:05,back squat,80,kg,8,2
//! ```
//!
//! The first line names the columns ([`Column`]), in any order. As with plans, nothing is guessed
//! at: what does not fit is a [`LogFault`] with its line and words. Names of members and exercises
//! are only taken over here; [`crate::bot`] knows whose and which they are.

use chrono::{DateTime, FixedOffset, NaiveDate, NaiveTime};

use super::csv;
use crate::domain::log::{LimitingFactor, SetKind};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::worded::worded;
use crate::message::reading::Technique;

worded! {
    /// A column of a log.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Column {
        /// Whose set it is, by shown name or the channel's own.
        Member = "member",
        /// When it ended, `2026-01-12T18:05:00+01:00`; or the next two.
        At = "at",
        /// The team's local day, `2026-01-12`.
        Date = "date",
        /// The team's local time, `18:05` or `18:05:30`.
        Time = "time",
        /// Whether the time is that of the end of the set, so that rests follow from it: `yes`, `no`.
        Timed = "timed",
        /// The exercise, by any name that is known.
        Exercise = "exercise",
        /// The number on the load; empty for the body alone.
        Load = "load",
        /// `kg`, `lb`; else the member's own.
        Unit = "unit",
        /// `total`, `per_hand`, `added`, `assisted`, `body`; else as is usual for the exercise.
        Basis = "basis",
        /// Repetitions, whole.
        Reps = "reps",
        /// `yes` where the repetitions are for each side.
        PerSide = "per_side",
        /// Repetitions left, `2`, `1.5`; empty where nothing is known.
        Left = "left",
        /// Repetitions that the set was to end with, likewise.
        Asked = "asked",
        /// `helpers`, `breath` where these gave out before the target muscle.
        LimitingFactor = "gave_out",
        /// `straight`, `other`, `warm_up`; else straight.
        Kind = "kind",
        /// The technique's word.
        Technique = "technique",
        /// Rest before the set as stated, seconds.
        Rest = "rest_s",
    }
}

/// When a set was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// At this instant.
    At(DateTime<FixedOffset>),
    /// On this day, and perhaps at this time of it.
    On(NaiveDate, Option<NaiveTime>),
}

/// One set of a log.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its line in the text, from 1; 0 for one that is to be printed.
    pub line: usize,
    /// Whose, as written.
    pub member: String,
    /// When.
    pub when: When,
    /// Whether that is when it ended.
    pub timed: bool,
    /// The exercise, as written.
    pub exercise: String,
    /// The number on the load, 0 or more.
    pub load: Option<f64>,
    /// The unit, where named.
    pub unit: Option<Unit>,
    /// The basis, where named.
    pub basis: Option<Basis>,
    /// Repetitions, 1 to 100.
    pub reps: u32,
    /// Repetitions for each side.
    pub per_side: bool,
    /// Repetitions left.
    pub left: Option<Rir>,
    /// Repetitions left that were asked for.
    pub asked: Option<Rir>,
    /// What gave out before the target muscle.
    pub gave_out: Option<LimitingFactor>,
    /// The kind.
    pub kind: SetKind,
    /// The technique named.
    pub technique: Option<Technique>,
    /// Rest before it, seconds.
    pub rest_s: Option<u32>,
}

/// Something in a log that does not fit.
#[derive(Clone, Debug, PartialEq)]
pub struct LogFault {
    /// Its line in the text, from 1.
    pub line: usize,
    /// The words that do not fit, as written.
    pub words: String,
    /// What is wrong with them.
    pub kind: LogFaultKind,
}

/// What does not fit in a log.
#[derive(Clone, Debug, PartialEq)]
pub enum LogFaultKind {
    /// Nothing below the first line.
    Nothing,
    /// More than [`MOST_ROWS`] sets; at the first row that is too many.
    TooManyRows,
    /// More than [`MOST_BYTES`].
    TooLong,
    /// A quote that is never closed.
    OpenQuote,
    /// No column of a log.
    UnknownColumn,
    /// A column that stands twice.
    ColumnTwice,
    /// A column without which nothing can be filed.
    NoColumn(Column),
    /// More cells than columns.
    TooManyCells,
    /// A cell that must not be empty.
    Empty(Column),
    /// A cell that cannot be read.
    Cell(Column),
}

/// The most sets of one log.
pub const MOST_ROWS: usize = 100_000;
/// The longest log, bytes.
pub const MOST_BYTES: usize = 16 * 1024 * 1024;
/// Longest count of repetitions, as with messages.
const MOST_REPS: u32 = 100;
/// Longest stated rest, seconds.
const LONGEST_REST_S: u32 = 24 * 3600;

/// Reads a log.
///
/// # Errors
/// Every [`LogFault`] of the text, in its order; a fault of the first line hides those below it.
pub fn read(text: &str) -> Result<Vec<Entry>, Vec<LogFault>> {
    match read_each(text) {
        (entries, faults) if faults.is_empty() => Ok(entries),
        (_, faults) => Err(faults),
    }
}

/// Reads a log line by line: the sets that can be read, and every fault of the others.
pub fn read_each(text: &str) -> (Vec<Entry>, Vec<LogFault>) {
    let (records, columns) = match table(text) {
        Ok(table) => table,
        Err(faults) => return (Vec::new(), faults),
    };
    let mut entries = Vec::with_capacity(records.len());
    let mut faults = Vec::new();
    for record in &records {
        match entry(record, &columns) {
            Ok(entry) => entries.push(entry),
            Err(found) => faults.push(found),
        }
    }
    (entries, faults)
}

/// The records below the first line, and the columns that it names.
fn table(text: &str) -> Result<(Vec<csv::Record>, Vec<Column>), Vec<LogFault>> {
    let fault = |line, kind| {
        Err(vec![LogFault {
            line,
            words: String::new(),
            kind,
        }])
    };
    if text.len() > MOST_BYTES {
        return fault(1, LogFaultKind::TooLong);
    }
    let mut records = match csv::read(text) {
        Ok(records) if records.is_empty() => return fault(1, LogFaultKind::Nothing),
        Ok(records) => records,
        Err(csv::Unclosed(line)) => return fault(line, LogFaultKind::OpenQuote),
    };
    let head = records.remove(0);
    let columns = columns(&head)?;
    match records.get(MOST_ROWS) {
        Some(record) => fault(record.line, LogFaultKind::TooManyRows),
        None if records.is_empty() => fault(head.line, LogFaultKind::Nothing),
        None => Ok((records, columns)),
    }
}

/// The columns that the first line names, in its order.
fn columns(head: &csv::Record) -> Result<Vec<Column>, Vec<LogFault>> {
    let mut columns = Vec::new();
    let mut faults = Vec::new();
    let mut fault = |words: &str, kind| {
        faults.push(LogFault {
            line: head.line,
            words: words.to_owned(),
            kind,
        });
    };
    for cell in &head.cells {
        let named = |column: &Column| column.word().eq_ignore_ascii_case(cell.trim());
        match Column::ALL.into_iter().find(named) {
            None => fault(cell, LogFaultKind::UnknownColumn),
            Some(column) if columns.contains(&column) => fault(cell, LogFaultKind::ColumnTwice),
            Some(column) => columns.push(column),
        }
    }
    for needed in [Column::Member, Column::Exercise, Column::Reps] {
        if !columns.contains(&needed) {
            fault("", LogFaultKind::NoColumn(needed));
        }
    }
    if !columns.contains(&Column::At) && !columns.contains(&Column::Date) {
        fault("", LogFaultKind::NoColumn(Column::Date));
    }
    if faults.is_empty() {
        Ok(columns)
    } else {
        Err(faults)
    }
}

/// The cells of a record, by column.
struct Cells<'a> {
    record: &'a csv::Record,
    columns: &'a [Column],
}

impl<'a> Cells<'a> {
    /// What stands there; `None` where nothing does.
    fn get(&self, column: Column) -> Option<&'a str> {
        let place = self.columns.iter().position(|&one| one == column)?;
        let cell = self.record.cells.get(place)?.trim();
        // Printed before what a spreadsheet would take for a formula.
        let cell = cell.strip_prefix('\'').unwrap_or(cell);
        (!cell.is_empty()).then_some(cell)
    }

    fn fault(&self, words: &str, kind: LogFaultKind) -> LogFault {
        LogFault {
            line: self.record.line,
            words: words.to_owned(),
            kind,
        }
    }

    /// What a cell says, where it says something.
    fn read<T>(
        &self,
        column: Column,
        meaning: impl FnOnce(&str) -> Option<T>,
    ) -> Result<Option<T>, LogFault> {
        let Some(cell) = self.get(column) else {
            return Ok(None);
        };
        meaning(cell)
            .map(Some)
            .ok_or_else(|| self.fault(cell, LogFaultKind::Cell(column)))
    }

    fn needed<T>(&self, column: Column, found: Option<T>) -> Result<T, LogFault> {
        found.ok_or_else(|| self.fault("", LogFaultKind::Empty(column)))
    }
}

fn entry(record: &csv::Record, columns: &[Column]) -> Result<Entry, LogFault> {
    let cells = Cells { record, columns };
    if let Some(more) = record.cells.get(columns.len())
        && !more.is_empty()
    {
        return Err(cells.fault(more, LogFaultKind::TooManyCells));
    }
    let text = |column| cells.needed(column, cells.get(column)).map(str::to_owned);
    let reps = cells.read(Column::Reps, |cell| whole(cell, 0..=MOST_REPS))?;
    Ok(Entry {
        line: record.line,
        member: text(Column::Member)?,
        when: when(&cells)?,
        timed: cells.read(Column::Timed, yes)?.unwrap_or(false),
        exercise: text(Column::Exercise)?,
        load: cells.read(Column::Load, number)?,
        unit: cells.read(Column::Unit, |cell| Unit::from_symbol(&cell.to_lowercase()))?,
        basis: cells.read(Column::Basis, |cell| Basis::from_word(&cell.to_lowercase()))?,
        reps: cells.needed(Column::Reps, reps)?,
        per_side: cells.read(Column::PerSide, yes)?.unwrap_or(false),
        left: cells.read(Column::Left, rir)?,
        asked: cells.read(Column::Asked, rir)?,
        gave_out: cells.read(Column::LimitingFactor, |cell| {
            LimitingFactor::from_word(&cell.to_lowercase())
        })?,
        kind: cells
            .read(Column::Kind, |cell| {
                SetKind::from_word(&cell.to_lowercase())
            })?
            .unwrap_or(SetKind::Straight),
        technique: cells.read(Column::Technique, |cell| {
            Technique::from_word(&cell.to_lowercase())
        })?,
        rest_s: cells.read(Column::Rest, |cell| whole(cell, 0..=LONGEST_REST_S))?,
    })
}

fn when(cells: &Cells) -> Result<When, LogFault> {
    if let Some(at) = cells.read(Column::At, |cell| DateTime::parse_from_rfc3339(cell).ok())? {
        return Ok(When::At(at));
    }
    let day = cells.read(Column::Date, |cell| cell.parse().ok())?;
    let time = |cell: &str| {
        let short = NaiveTime::parse_from_str(cell, "%H:%M");
        short.or_else(|_| cell.parse()).ok()
    };
    Ok(When::On(
        cells.needed(Column::Date, day)?,
        cells.read(Column::Time, time)?,
    ))
}

fn whole(cell: &str, range: std::ops::RangeInclusive<u32>) -> Option<u32> {
    cell.parse().ok().filter(|count| range.contains(count))
}

/// A number, 0 or more, with either decimal mark.
fn number(cell: &str) -> Option<f64> {
    let plain = |c: char| c.is_ascii_digit() || ".,".contains(c);
    let value: f64 = cell.replace(',', ".").parse().ok()?;
    (cell.chars().all(plain) && value.is_finite()).then_some(value)
}

fn rir(cell: &str) -> Option<Rir> {
    Rir::new(number(cell)?).ok()
}

fn yes(cell: &str) -> Option<bool> {
    match cell.to_lowercase().as_str() {
        "yes" | "true" | "1" => Some(true),
        "no" | "false" | "0" => Some(false),
        _ => None,
    }
}

/// Prints a log with all its columns.
pub fn print(entries: &[Entry]) -> String {
    let mut out = String::new();
    csv::write(&mut out, Column::ALL.map(Column::word));
    for entry in entries {
        let cells = Column::ALL.map(|column| printed(entry, column));
        csv::write(&mut out, cells.iter().map(String::as_str));
    }
    out
}

fn printed(entry: &Entry, column: Column) -> String {
    let word = |is: bool| if is { "yes" } else { "no" }.to_owned();
    let some = |value: Option<String>| value.unwrap_or_default();
    match column {
        Column::Member => harmless(&entry.member),
        Column::At => match entry.when {
            When::At(at) => at.to_rfc3339(),
            When::On(..) => String::new(),
        },
        Column::Date => match entry.when {
            When::At(_) => String::new(),
            When::On(day, _) => day.to_string(),
        },
        Column::Time => match entry.when {
            When::On(_, Some(time)) => time.to_string(),
            When::At(_) | When::On(_, None) => String::new(),
        },
        Column::Timed => word(entry.timed),
        Column::Exercise => harmless(&entry.exercise),
        Column::Load => some(entry.load.map(|load| load.to_string())),
        Column::Unit => some(entry.unit.map(|unit| unit.symbol().to_owned())),
        Column::Basis => some(entry.basis.map(|basis| basis.word().to_owned())),
        Column::Reps => entry.reps.to_string(),
        Column::PerSide => word(entry.per_side),
        Column::Left => some(entry.left.map(|left| left.reps().to_string())),
        Column::Asked => some(entry.asked.map(|left| left.reps().to_string())),
        Column::LimitingFactor => some(entry.gave_out.map(|one| one.word().to_owned())),
        Column::Kind => entry.kind.word().to_owned(),
        Column::Technique => some(entry.technique.map(|one| one.word().to_owned())),
        Column::Rest => some(entry.rest_s.map(|rest| rest.to_string())),
    }
}

/// A spreadsheet takes a cell that begins like this for a formula, and works it out.
fn harmless(cell: &str) -> String {
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\'']) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests;
