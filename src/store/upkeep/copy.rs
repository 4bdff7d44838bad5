//! Everything from one database into another, of either engine, and a proof that it arrived.
//!
//! The tables stand here as lists of columns with what their cells are; the statements are put
//! together from these constants alone. All of it is one transaction at the other end: a break leaves
//! nothing behind, and the copy is made again from the beginning.

use sha2::{Digest as _, Sha256};
use sqlx::AssertSqlSafe;

use crate::store::engine::{Arg, Connection, Row, Sql, count, push_places};
use crate::store::error::StoreError;
use crate::store::{Store, Tx};

/// Rows that are put into SQLite by one statement. Into PostgreSQL a page goes at once.
const AT_ONCE: usize = 100;

/// What the cells of a column are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Int,
    Real,
    Text,
    Bytes,
}

use Kind::{Bytes, Int, Real, Text};

/// A table: how it is called, its columns, and how many of them, from the first on, make its key.
struct Table {
    name: &'static str,
    columns: &'static [(&'static str, Kind)],
    key: usize,
    /// The key is a count of the database's own.
    counted: bool,
}

/// Tables, each with whether its key is a count of the database's own, how many columns make the key, and its columns
/// by what their cells are.
macro_rules! tables {
    ($($name:ident $counted:literal $key:literal: $($column:ident $kind:ident),+;)+) => {
        &[$(Table {
            name: stringify!($name),
            columns: &[$((stringify!($column), $kind)),+],
            key: $key,
            counted: $counted,
        }),+]
    };
}

/// All tables, in an order in which no row hangs on a later one. A migration that adds a column adds
/// it here; a test compares this with what the databases have.
const TABLES: &[Table] = tables! {
    team true 1: id Int, key Text, settings Text;
    member true 1: id Int, team_id Int, author Text, name Text, coach Int, profile Text, desk Text, condition
        Bytes, version Int;
    event false 2: team_id Int, id Text, author Text, channel Text, at_ms Int, outcome Text;
    response false 2: team_id Int, key Text, author Text, at_ms Int, outcome Text;
    past_event false 3: team_id Int, kind Int, id Text, at_ms Int;
    training_set true 1: id Int, team_id Int, member_id Int, exercise Text, load Int, unit Text, basis Text,
        reps Int, rir Real, kind Text, per_side Int, at_ms Int, timed Int, stated_rest_s Int, day Text, message
        Text, channel Text, place Int, order_in_day Int, technique Text, asked_rir Real, said Text, judged_left
        Real, gave_out Text, import_id Int;
    import false 1: id Int, team_id Int, until_ms Int, dropped Int;
    belief false 2: member_id Int, exercise Text, state Bytes;
    checkpoint false 3: member_id Int, at_ms Int, exercise Text, state Bytes, bests Text;
    prescription false 3: member_id Int, kind Text, from_day Text, content Text;
    job false 1: key Text, team_id Int, member_id Int, kind Text, due_ms Int, payload Text, tries Int, turn_ms
        Int, owner Text;
    erased false 2: team_id Int, author Text, at_ms Int;
    erasing false 2: team_id Int, author Text, name Text, before_ms Int;
    outbox true 1: id Int, key Text, team_id Int, at_ms Int, outgoing Text, via Text, owner Text, until_ms Int;
    discord_channel false 1: id Int, guild Int, parent Int, name Text, read_to Int;
    discord_guild false 1: id Int, coach_role Int, managers Text;
    discord_post false 2: team_id Int, reply Text, channel Int, message Int, sent Int;
    discord_direct false 1: id Int, member_id Int, read_to Int;
    discord_edit false 2: team_id Int, message Int, at_ms Int;
    discord_commands false 1: application Int, digest Text;
};

/// Rows that are read and written at once.
const PAGE: usize = 1000;

/// What a table holds: its count of rows, and a sum over their digests that does not depend on their
/// order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// Rows.
    pub rows: u64,
    /// The sum.
    pub sum: u128,
}

/// What became of a copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Copied {
    /// Everything was copied; what each table then held at both ends.
    Now(Vec<(&'static str, Held)>),
    /// Everything was there already.
    Before,
    /// The other database holds something else, of which the first table that differs is named.
    Refused(&'static str),
}

/// Every table with every column that is copied.
pub fn columns() -> impl Iterator<Item = (&'static str, &'static str)> {
    let of = |table: &'static Table| {
        table
            .columns
            .iter()
            .map(|(column, _)| (table.name, *column))
    };
    TABLES.iter().flat_map(of)
}

/// Lets SQLite hold the ends of all indexes, so that each page is written once: 128 MB as long as the
/// connection is open.
const ROOM: Sql = Sql::either("team", "pragma cache_size = -131072", "select 1");

/// Copies everything. Nobody should write to either meanwhile: on SQLite nobody can, on PostgreSQL
/// what is written after the beginning is not seen.
///
/// # Errors
/// [`StoreError`]; then nothing arrived. [`StoreError::CopyDiffers`] if what was read back differs:
/// then it is not to be used.
pub async fn copy(from: &Store, to: &Store) -> Result<Copied, StoreError> {
    let mut source = from.begin_snapshot().await?;
    let mut target = to.begin().await?;
    let there = held(&mut target).await?;
    if there.iter().any(|(_, held)| held.rows > 0) {
        let here = held(&mut source).await?;
        target.rollback().await?;
        let differs = here.iter().zip(&there).find(|(a, b)| a != b);
        return Ok(differs.map_or(Copied::Before, |((table, _), _)| Copied::Refused(table)));
    }
    target.connection.run(&ROOM, &[]).await?;
    let mut sent = Vec::with_capacity(TABLES.len());
    for table in TABLES {
        sent.push((
            table.name,
            copy_table(table, &mut source, &mut target).await?,
        ));
    }
    target.commit().await?;
    source.rollback().await?;
    let mut target = to.begin().await?;
    let arrived = held(&mut target).await?;
    target.rollback().await?;
    match sent.iter().zip(&arrived).find(|(a, b)| a != b) {
        Some(((table, _), _)) => Err(StoreError::CopyDiffers { table }),
        None => Ok(Copied::Now(sent)),
    }
}

impl Store {
    /// Begins a transaction that sees the database as it is now until it ends.
    async fn begin_snapshot(&self) -> Result<Tx, StoreError> {
        const SNAPSHOT: Sql = Sql::either(
            "team",
            // The write lock that a transaction takes at once does it.
            "select 1",
            "set transaction isolation level repeatable read",
        );
        let mut tx = self.begin().await?;
        tx.connection.run(&SNAPSHOT, &[]).await?;
        Ok(tx)
    }
}

/// What every table holds.
async fn held(tx: &mut Tx) -> Result<Vec<(&'static str, Held)>, StoreError> {
    let mut all = Vec::with_capacity(TABLES.len());
    for table in TABLES {
        let mut held = Held::default();
        let mut last: Option<Vec<Cell>> = None;
        while let Some(rows) = page(table, &mut tx.connection, last.as_deref()).await? {
            held.add(&rows);
            last = rows.into_iter().next_back();
        }
        all.push((table.name, held));
    }
    Ok(all)
}

async fn copy_table(table: &Table, source: &mut Tx, target: &mut Tx) -> Result<Held, StoreError> {
    let mut held = Held::default();
    let mut last: Option<Vec<Cell>> = None;
    while let Some(rows) = page(table, &mut source.connection, last.as_deref()).await? {
        held.add(&rows);
        if target.connection.is_postgres() {
            let mut lines = Vec::new();
            for row in &rows {
                push_line(row, &mut lines);
            }
            let text = table.copy();
            let found = target.connection.copy_in(&text, lines).await?;
            count(table.name, found, rows.len() as u64)?;
            last = rows.into_iter().next_back();
            continue;
        }
        for some in rows.chunks(AT_ONCE) {
            let args: Vec<Arg> = some.iter().flatten().map(Cell::arg).collect();
            let text = table.insert(some.len(), target.connection.place_sign());
            target
                .connection
                .run_text(&text, table.name, &args, some.len())
                .await?;
        }
        last = rows.into_iter().next_back();
    }
    if table.counted {
        target.connection.count_on(table.name).await?;
    }
    Ok(held)
}

/// The rows behind this one, by key; `None` where there are no more.
async fn page(
    table: &Table,
    connection: &mut Connection,
    after: Option<&[Cell]>,
) -> Result<Option<Vec<Vec<Cell>>>, StoreError> {
    let after = after.unwrap_or_default();
    let key: Vec<Arg> = after.iter().take(table.key).map(Cell::arg).collect();
    let text = table.select(key.len());
    let rows = connection.rows_text(&text, table.name, &key).await?;
    let rows: Vec<Vec<Cell>> = rows
        .iter()
        .map(|row| table.cells(row))
        .collect::<Result<_, _>>()?;
    Ok((!rows.is_empty()).then_some(rows))
}

impl Table {
    fn names(&self) -> String {
        let names: Vec<&str> = self.columns.iter().map(|(name, _)| *name).collect();
        names.join(", ")
    }

    fn select(&self, key: usize) -> String {
        let keys: Vec<&str> = self
            .columns
            .iter()
            .take(self.key)
            .map(|(name, _)| *name)
            .collect();
        let keys = keys.join(", ");
        let places: Vec<String> = (1..=key).map(|place| format!("${place}")).collect();
        let after = match key {
            0 => String::new(),
            _ => format!(" where ({keys}) > ({})", places.join(", ")),
        };
        let names = self.names();
        format!(
            "select {names} from {}{after} order by {keys} limit {PAGE}",
            self.name
        )
    }

    fn copy(&self) -> String {
        format!("copy {} ({}) from stdin", self.name, self.names())
    }

    fn insert(&self, rows: usize, sign: &str) -> String {
        let names = self.names();
        let mut text = format!("insert into {} ({names}) values ", self.name);
        push_places(&mut text, rows, self.columns.len(), sign);
        text
    }

    fn cells(&self, row: &Row) -> Result<Vec<Cell>, StoreError> {
        let cell = |&(name, kind): &(&'static str, Kind)| {
            Ok(match kind {
                Int => Cell::Int(row.get(name)?),
                Real => Cell::Real(row.get(name)?),
                Text => Cell::Text(row.get(name)?),
                Bytes => Cell::Bytes(row.get(name)?),
            })
        };
        self.columns.iter().map(cell).collect()
    }
}

/// A cell that is on its way.
#[derive(Clone, Debug, PartialEq)]
enum Cell {
    Int(Option<i64>),
    Real(Option<f64>),
    Text(Option<String>),
    Bytes(Option<Vec<u8>>),
}

impl Cell {
    fn arg(&self) -> Arg<'_> {
        match self {
            Self::Int(value) => Arg::Int(*value),
            Self::Real(value) => Arg::Real(*value),
            Self::Text(value) => Arg::Text(value.as_deref()),
            Self::Bytes(value) => Arg::Bytes(value.as_deref()),
        }
    }

    /// The cell in a line of PostgreSQL's `COPY`, text format. Source: PostgreSQL 15 documentation, COPY, "Text
    /// Format".
    fn push(&self, line: &mut Vec<u8>) {
        match self {
            Self::Int(Some(value)) => line.extend(value.to_string().bytes()),
            // The shortest digits that are read back as the same number.
            Self::Real(Some(value)) => line.extend(format!("{value:?}").bytes()),
            Self::Text(Some(text)) => {
                for byte in text.bytes() {
                    match byte {
                        b'\\' => line.extend(b"\\\\"),
                        b'\n' => line.extend(b"\\n"),
                        b'\r' => line.extend(b"\\r"),
                        b'\t' => line.extend(b"\\t"),
                        byte => line.push(byte),
                    }
                }
            }
            Self::Bytes(Some(bytes)) => {
                line.extend(b"\\\\x");
                for byte in bytes {
                    line.extend([byte >> 4, byte & 15].map(|half| HEX[usize::from(half)]));
                }
            }
            Self::Int(None) | Self::Real(None) | Self::Text(None) | Self::Bytes(None) => {
                line.extend(b"\\N");
            }
        }
    }

    /// The cell in a digest: its length before it, so that no two rows look alike.
    fn digest(&self, into: &mut Sha256) {
        let mut put = |kind: u8, bytes: Option<&[u8]>| {
            into.update([kind, u8::from(bytes.is_some())]);
            let bytes = bytes.unwrap_or_default();
            into.update((bytes.len() as u64).to_le_bytes());
            into.update(bytes);
        };
        match self {
            Self::Int(value) => put(0, value.map(i64::to_le_bytes).as_ref().map(|b| &b[..])),
            Self::Real(value) => {
                let bits = value.map(|value| value.to_bits().to_le_bytes());
                put(1, bits.as_ref().map(|b| &b[..]));
            }
            Self::Text(value) => put(2, value.as_deref().map(str::as_bytes)),
            Self::Bytes(value) => put(3, value.as_deref()),
        }
    }
}

const HEX: &[u8; 16] = b"0123456789abcdef";

/// A row as a line of `COPY`.
fn push_line(row: &[Cell], lines: &mut Vec<u8>) {
    for (place, cell) in row.iter().enumerate() {
        if place > 0 {
            lines.push(b'\t');
        }
        cell.push(lines);
    }
    lines.push(b'\n');
}

impl Held {
    fn add(&mut self, rows: &[Vec<Cell>]) {
        for row in rows {
            let mut digest = Sha256::new();
            row.iter().for_each(|cell| cell.digest(&mut digest));
            let digest = digest.finalize();
            let first = digest.iter().take(16);
            let number = first.fold(0u128, |sum, &byte| (sum << 8) | u128::from(byte));
            self.sum = self.sum.wrapping_add(number);
            self.rows += 1;
        }
    }
}

impl Connection {
    /// [`Connection::rows`] of a text made of constants.
    async fn rows_text(
        &mut self,
        text: &str,
        table: &'static str,
        args: &[Arg<'_>],
    ) -> Result<Vec<Row>, StoreError> {
        self.found(AssertSqlSafe(text.to_owned()), table, args)
            .await
    }

    /// Runs a text made of constants that must put so many rows in.
    async fn run_text(
        &mut self,
        text: &str,
        table: &'static str,
        args: &[Arg<'_>],
        rows: usize,
    ) -> Result<(), StoreError> {
        let text = AssertSqlSafe(text.to_owned());
        self.put_in(text, table, args, rows as u64).await
    }

    /// The database counts on from the highest id that was put in. SQLite does so by itself.
    async fn count_on(&mut self, table: &'static str) -> Result<(), StoreError> {
        if self.is_postgres() {
            let text = format!(
                "select setval(pg_get_serial_sequence('{table}', 'id'), coalesce(max(id), 1),
                               max(id) is not null)
                 from {table}"
            );
            drop(self.rows_text(&text, table, &[]).await?);
        }
        Ok(())
    }
}
