//! Where SQLite and PostgreSQL differ: how a transaction begins, how values are bound and cells are
//! read, and the few statements whose text must differ ([`Sql::either`]). All other statements are
//! one text for both, with `$1` placeholders.
//!
//! The driver's own common denominator (`sqlx::Any`) is not used. On PostgreSQL it binds a missing
//! `DOUBLE PRECISION` as a four-byte float, and since the statement is prepared with the types of
//! its first execution, the next present value is then refused. It also hides the options of the
//! connection, and copies each row's column descriptions. What is needed of it is this one file.

pub(in crate::store) mod address;
pub(in crate::store) mod batch;
pub(in crate::store) mod cache;
pub(in crate::store) mod notice;
pub(in crate::store) mod open;
mod prefetch;
pub(in crate::store) mod sqlite;

use std::io;
use std::time::Duration;

use sqlx::pool::PoolConnection;
use sqlx::postgres::{PgConnection, PgRow};
use sqlx::sqlite::SqliteRow;
use sqlx::{
    Arguments as _, AssertSqlSafe, Database, Decode, Either, Encode, Executor as _, PgPool,
    Postgres, Row as _, SqlSafeStr, Sqlite, Type,
};
use tokio::time::timeout;

use crate::store::engine::batch::Batch;
use crate::store::engine::sqlite::{Lent, Single};
use crate::store::error::StoreError;

/// A statement and the table that its errors name.
pub(in crate::store) struct Sql {
    table: &'static str,
    sqlite: &'static str,
    postgres: &'static str,
}

impl Sql {
    /// One text for both engines.
    pub(in crate::store) const fn both(table: &'static str, text: &'static str) -> Self {
        Self {
            table,
            sqlite: text,
            postgres: text,
        }
    }

    /// The table that its errors name.
    pub(in crate::store) const fn table(&self) -> &'static str {
        self.table
    }

    /// A text for each.
    pub(in crate::store) const fn either(
        table: &'static str,
        sqlite: &'static str,
        postgres: &'static str,
    ) -> Self {
        Self {
            table,
            sqlite,
            postgres,
        }
    }
}

/// A statement about the members whose ids `$1` lists as JSON, which stand between its two parts: the engines
/// have no list type in common.
macro_rules! of_members {
    ($table:expr, $before:expr, $($behind:tt)+) => {
        $crate::store::engine::Sql::either(
            $table,
            concat!($before, " in (select value from json_each($1)) ", $($behind)+),
            concat!(
                $before,
                " = any (array(select json_array_elements_text($1::json)::bigint)) ",
                $($behind)+
            ),
        )
    };
}
pub(in crate::store) use of_members;

/// An insert of as many rows as there are. Its text is made of constants and a count.
pub(in crate::store) struct Insert {
    /// The table, also for errors.
    pub(in crate::store) table: &'static str,
    /// Its columns, with commas between.
    pub(in crate::store) columns: &'static str,
    /// What becomes of a row that is there already.
    pub(in crate::store) again: &'static str,
    /// Whether a row that is there may be left as it is: then rows are counted. All others are put in
    /// or changed, or the insert fails.
    pub(in crate::store) may_leave: bool,
}

/// The most rows of one insert. Counts of rows are split into powers of two, so that a connection
/// prepares few texts for a table.
const MOST_ROWS: usize = 64;

impl Insert {
    fn text(&self, rows: usize, width: usize, sign: &str) -> String {
        let Self {
            table,
            columns,
            again,
            ..
        } = self;
        let mut text = format!("insert into {table} ({columns}) values ");
        push_places(&mut text, rows, width, sign);
        text.push_str(again);
        text
    }
}

/// Rows of placeholders, `($1,$2),($3,$4)`; of a sign alone where that is `?`.
pub(in crate::store) fn push_places(text: &mut String, rows: usize, width: usize, sign: &str) {
    for place in 1..=rows * width {
        text.push_str(if (place - 1) % width == 0 { "(" } else { "" });
        text.push_str(sign);
        if sign == "$" {
            text.push_str(&place.to_string());
        }
        text.push_str(if place % width == 0 { ")," } else { "," });
    }
    text.pop();
}

/// An update of many rows by one statement: what is before and behind the list of their values, which
/// are called `column1`, `column2` and so on.
pub(in crate::store) struct UpdateAll {
    /// The table, also for errors.
    pub(in crate::store) table: &'static str,
    /// `update … from (values `.
    pub(in crate::store) before: &'static str,
    /// `) as new where …`.
    pub(in crate::store) behind: &'static str,
}

/// The most rows of one such update.
const MOST_UPDATED: usize = 512;

/// A value to bind; `None` is null. The type is known even then.
#[derive(Clone, Copy)]
pub(in crate::store) enum Arg<'a> {
    Int(Option<i64>),
    Real(Option<f64>),
    Text(Option<&'a str>),
    Bytes(Option<&'a [u8]>),
}

impl From<i64> for Arg<'_> {
    fn from(value: i64) -> Self {
        Self::Int(Some(value))
    }
}

impl From<bool> for Arg<'_> {
    fn from(value: bool) -> Self {
        Self::Int(Some(i64::from(value)))
    }
}

impl From<u32> for Arg<'_> {
    fn from(value: u32) -> Self {
        Self::Int(Some(i64::from(value)))
    }
}

impl<'a> From<&'a str> for Arg<'a> {
    fn from(value: &'a str) -> Self {
        Self::Text(Some(value))
    }
}

impl<'a> From<&'a [u8]> for Arg<'a> {
    fn from(value: &'a [u8]) -> Self {
        Self::Bytes(Some(value))
    }
}

/// How long a free connection is waited for. Long enough for a queue of transactions; a database
/// that is down is to be noticed before a lifter's rest is over.
pub(in crate::store) const ACQUIRE: Duration = Duration::from_secs(10);

/// The connections to one database.
#[derive(Clone, Debug)]
pub(in crate::store) enum Pool {
    Sqlite(Single),
    Postgres(PgPool),
}

impl Pool {
    /// Begins a transaction that may write. On SQLite it takes the write lock with the first
    /// statement: a read lock that wants to become a write lock later can fail when two do so.
    pub(in crate::store) async fn begin(&self) -> Result<Connection, StoreError> {
        self.open("begin immediate").await
    }

    /// Begins what is a single statement that only reads: on SQLite it waits for no writer.
    pub(in crate::store) async fn begin_reading(&self) -> Result<Connection, StoreError> {
        self.open("").await
    }

    async fn open(&self, begin: &'static str) -> Result<Connection, StoreError> {
        Ok(Connection::new(match self {
            Self::Sqlite(single) => Open::Sqlite(single.lend(begin, ACQUIRE).await?),
            Self::Postgres(pool) => Open::Postgres(Session::begin(pool).await?),
        }))
    }

    pub(in crate::store) async fn close(&self) {
        match self {
            Self::Sqlite(single) => single.close().await,
            Self::Postgres(pool) => pool.close().await,
        }
    }
}

/// An open transaction; dropped, it is rolled back.
#[derive(Debug)]
enum Open {
    Sqlite(Lent),
    Postgres(Session),
}

/// How long PostgreSQL may take for a statement. A connection can break without either end being
/// told of it; then nothing would ever come.
const STATEMENT: Duration = Duration::from_secs(60);

/// A connection to PostgreSQL with a transaction open on it. The driver's own transaction would be
/// given back to the pool in whatever state it is in, and the pool waits for an answer on it; this
/// one is cut off where it did not come to its end, and the server takes back what was open.
#[derive(Debug)]
struct Session(Option<PoolConnection<Postgres>>);

impl Session {
    async fn begin(pool: &PgPool) -> Result<Self, StoreError> {
        let mut session = Self(Some(pool.acquire().await?));
        session.within(|open| open.execute("begin")).await?;
        Ok(session)
    }

    /// What is asked, within a time.
    async fn within<'s, T, F>(
        &'s mut self,
        ask: impl FnOnce(&'s mut PgConnection) -> F,
    ) -> Result<T, StoreError>
    where
        F: Future<Output = Result<T, sqlx::Error>>,
    {
        // It is taken out at the end alone.
        let Some(connection) = &mut self.0 else {
            return Err(sqlx::Error::PoolClosed.into());
        };
        match timeout(STATEMENT, ask(&mut *connection)).await {
            Ok(done) => Ok(done?),
            Err(_) => {
                let why = format!("nothing came within {} s", STATEMENT.as_secs());
                let error = io::Error::new(io::ErrorKind::TimedOut, why);
                Err(sqlx::Error::Io(error).into())
            }
        }
    }

    async fn end(mut self, how: &'static str) -> Result<(), StoreError> {
        self.within(|open| open.execute(how)).await?;
        // Back to the pool.
        drop(self.0.take());
        Ok(())
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        if let Some(connection) = self.0.take() {
            drop(connection.detach());
        }
    }
}

/// An open transaction with the writes that wait to be sent: they are, in order, before anything
/// else is asked.
#[derive(Debug)]
pub(in crate::store) struct Connection {
    open: Open,
    waiting: Batch,
}

impl Connection {
    fn new(open: Open) -> Self {
        Self {
            open,
            waiting: Batch::default(),
        }
    }

    /// Sends what waits, and makes all of it durable.
    pub(in crate::store) async fn commit(mut self) -> Result<(), StoreError> {
        if let Open::Sqlite(lent) = &mut self.open {
            let waiting = std::mem::take(&mut self.waiting);
            if lent.is_begun() || !waiting.is_empty() {
                write(lent, &waiting, true).await?;
                lent.ended();
            }
            return Ok(());
        }
        self.flush().await?;
        match self.open {
            Open::Postgres(session) => session.end("commit").await,
            Open::Sqlite(_) => Ok(()),
        }
    }

    pub(in crate::store) async fn rollback(self) -> Result<(), StoreError> {
        match self.open {
            Open::Sqlite(mut lent) => lent.roll_back().await?,
            Open::Postgres(session) => session.end("rollback").await?,
        }
        Ok(())
    }

    /// All rows found.
    pub(in crate::store) async fn rows(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<Vec<Row>, StoreError> {
        match self.open {
            Open::Sqlite(_) => self.found(sql.sqlite, sql.table, args).await,
            Open::Postgres(_) => self.found(sql.postgres, sql.table, args).await,
        }
    }

    /// All rows that a text finds, which is the engine's own or both engines'.
    pub(in crate::store) async fn found(
        &mut self,
        text: impl SqlSafeStr,
        table: &'static str,
        args: &[Arg<'_>],
    ) -> Result<Vec<Row>, StoreError> {
        self.flush().await?;
        let mut rows = Vec::new();
        match &mut self.open {
            Open::Sqlite(lent) => {
                let keep = |step| {
                    if let Either::Right(row) = step {
                        rows.push(Cells::Sqlite(row));
                    }
                };
                lent.run(text, bound::<Sqlite>(args)?, keep).await?;
            }
            Open::Postgres(session) => {
                let query = sqlx::query_with(text, bound::<Postgres>(args)?);
                let found = session.within(|open| query.fetch_all(open)).await?;
                rows.extend(found.into_iter().map(Cells::Postgres));
            }
        }
        let row = |cells| Row { table, cells };
        Ok(rows.into_iter().map(row).collect())
    }

    /// All rows of each of these reads: on SQLite asked in one go.
    pub(in crate::store) async fn rows_of_each<const COUNT: usize>(
        &mut self,
        reads: [(&Sql, &[Arg<'_>]); COUNT],
    ) -> Result<[Vec<Row>; COUNT], StoreError> {
        let mut found = std::array::from_fn(|_| Vec::new());
        let Open::Sqlite(_) = self.open else {
            for (rows, (sql, args)) in found.iter_mut().zip(reads) {
                *rows = self.rows(sql, args).await?;
            }
            return Ok(found);
        };
        self.flush().await?;
        let mut all = Batch::default();
        for (sql, args) in reads {
            all.push(sql.table, sql.sqlite, args, None, false);
        }
        let mut place = 0;
        let keep = |step| match step {
            Either::Right(row) => {
                if let (Some(rows), Some((sql, _))) = (found.get_mut(place), reads.get(place)) {
                    let cells = Cells::Sqlite(row);
                    rows.push(Row {
                        table: sql.table,
                        cells,
                    });
                }
            }
            Either::Left(_) => place += 1,
        };
        if let Open::Sqlite(lent) = &mut self.open {
            let text = AssertSqlSafe(all.in_a_row(false));
            lent.run(text, bound::<Sqlite>(&all.args())?, keep).await?;
        }
        Ok(found)
    }

    /// The one row, or none.
    pub(in crate::store) async fn row(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<Option<Row>, StoreError> {
        let rows = self.rows(sql, args).await?;
        Ok(rows.into_iter().next())
    }

    /// The row that a statement with `returning` must give.
    pub(in crate::store) async fn returned(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<Row, StoreError> {
        self.row(sql, args).await?.ok_or(StoreError::RowCount {
            table: sql.table,
            expected: 1,
            found: 0,
        })
    }

    /// Runs a statement; the number of rows it touched.
    pub(in crate::store) async fn run(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<u64, StoreError> {
        self.flush().await?;
        match self.open {
            Open::Sqlite(_) => self.execute(sql.sqlite, args).await,
            Open::Postgres(_) => self.execute(sql.postgres, args).await,
        }
    }

    /// Runs a statement that must touch exactly one row.
    pub(in crate::store) async fn run_one(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<(), StoreError> {
        count(sql.table, self.run(sql, args).await?, 1)
    }

    /// Puts so many rows in by this text, at once.
    pub(in crate::store) async fn put_in(
        &mut self,
        text: impl SqlSafeStr,
        table: &'static str,
        args: &[Arg<'_>],
        rows: u64,
    ) -> Result<(), StoreError> {
        self.flush().await?;
        count(table, self.execute(text, args).await?, rows)
    }

    /// Puts rows into PostgreSQL by this `copy … from stdin`, as lines of its text format; how many.
    pub(in crate::store) async fn copy_in(
        &mut self,
        text: &str,
        lines: Vec<u8>,
    ) -> Result<u64, StoreError> {
        self.flush().await?;
        let Open::Postgres(session) = &mut self.open else {
            return Ok(0);
        };
        let put = async |open: &mut PgConnection| {
            let mut copy = open.copy_in_raw(text).await?;
            copy.send(lines).await?;
            copy.finish().await
        };
        session.within(put).await
    }

    /// What placeholders are written with, see [`push_places`]: the driver for SQLite looks each
    /// numbered one up by its name.
    pub(in crate::store) const fn place_sign(&self) -> &'static str {
        match self.open {
            Open::Sqlite(_) => "?",
            Open::Postgres(_) => "$",
        }
    }

    /// Whether it is PostgreSQL's.
    pub(in crate::store) const fn is_postgres(&self) -> bool {
        matches!(self.open, Open::Postgres(_))
    }

    /// Lets a statement wait that touches as many rows as it may; its faults come with what is
    /// asked next, or with the commit.
    pub(in crate::store) async fn put(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<(), StoreError> {
        self.wait(sql, args, None).await
    }

    /// The same for one that must touch exactly one row.
    pub(in crate::store) async fn put_one(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
    ) -> Result<(), StoreError> {
        self.wait(sql, args, Some(1)).await
    }

    /// Has all that is asked from here on fail with a [conflict](StoreError::is_conflict) where this
    /// statement fails, which is sent before. For SQLite, before anything else is asked.
    pub(in crate::store) fn doubt(&mut self, sql: &Sql, args: &[Arg<'_>]) {
        self.waiting.doubt(sql.table, sql.sqlite, args);
    }

    async fn wait(
        &mut self,
        sql: &Sql,
        args: &[Arg<'_>],
        rows: Option<u64>,
    ) -> Result<(), StoreError> {
        if !self.takes(sql.table, 1) {
            self.flush().await?;
        }
        let (text, as_one) = match self.open {
            Open::Sqlite(_) => (sql.sqlite, false),
            Open::Postgres(_) => (sql.postgres, true),
        };
        self.waiting.push(sql.table, text, args, rows, as_one);
        Ok(())
    }

    /// Puts rows in, now or with what is asked next. Each must be put in or, where the insert says
    /// so, change one that is there.
    pub(in crate::store) async fn insert<const WIDTH: usize>(
        &mut self,
        insert: &Insert,
        mut rows: &[[Arg<'_>; WIDTH]],
    ) -> Result<(), StoreError> {
        while !rows.is_empty() {
            let (some, rest) = rows.split_at(power_of_two_within(rows.len()));
            rows = rest;
            let expected = some.len() as u64;
            let counted = insert.may_leave.then_some(expected);
            let cells = some.as_flattened();
            if !self.takes(insert.table, some.len()) {
                self.flush().await?;
            }
            if self.takes(insert.table, some.len()) {
                let as_one = self.is_postgres();
                // A batch numbers them anew.
                let text = insert.text(some.len(), WIDTH, "$");
                self.waiting
                    .push(insert.table, &text, cells, counted, as_one);
            } else {
                let text = insert.text(some.len(), WIDTH, self.place_sign());
                let found = self.execute(AssertSqlSafe(text), cells).await?;
                count(insert.table, found, expected)?;
            }
        }
        Ok(())
    }

    /// Changes rows, each of which must be there.
    pub(in crate::store) async fn update_all<const WIDTH: usize>(
        &mut self,
        update: &UpdateAll,
        rows: &[[Arg<'_>; WIDTH]],
    ) -> Result<(), StoreError> {
        self.flush().await?;
        for some in rows.chunks(MOST_UPDATED) {
            let mut text = update.before.to_owned();
            push_places(&mut text, some.len(), WIDTH, self.place_sign());
            text.push_str(update.behind);
            let found = self
                .execute(AssertSqlSafe(text), some.as_flattened())
                .await?;
            count(update.table, found, some.len() as u64)?;
        }
        Ok(())
    }

    fn takes(&self, table: &str, rows: usize) -> bool {
        let one_a_table = matches!(self.open, Open::Postgres(_));
        self.waiting.takes(table, rows, one_a_table)
    }

    /// Sends the writes that wait.
    async fn flush(&mut self) -> Result<(), StoreError> {
        if self.waiting.is_empty() {
            return Ok(());
        }
        let waiting = std::mem::take(&mut self.waiting);
        match &mut self.open {
            Open::Sqlite(lent) => write(lent, &waiting, false).await,
            Open::Postgres(session) => {
                let text = AssertSqlSafe(waiting.as_one());
                let query = sqlx::query_with(text, bound::<Postgres>(&waiting.args())?);
                let rows = session.within(|open| query.fetch_all(open)).await?;
                let count = |row: &PgRow| row.try_get::<i64, _>("rows").map(i64::unsigned_abs);
                let found: Vec<u64> = rows.iter().map(count).collect::<Result<_, _>>()?;
                waiting.check(&found)
            }
        }
    }

    async fn execute(
        &mut self,
        text: impl SqlSafeStr,
        args: &[Arg<'_>],
    ) -> Result<u64, StoreError> {
        match &mut self.open {
            Open::Sqlite(lent) => {
                let mut touched = 0;
                let count = |step| {
                    if let Either::Left(done) = step {
                        touched = sqlx::sqlite::SqliteQueryResult::rows_affected(&done);
                    }
                };
                lent.run(text, bound::<Sqlite>(args)?, count).await?;
                Ok(touched)
            }
            Open::Postgres(session) => {
                let query = sqlx::query_with(text, bound::<Postgres>(args)?);
                let done = session.within(|open| query.execute(open)).await?;
                Ok(done.rows_affected())
            }
        }
    }
}

/// Sends writes in one go to SQLite, and with them, if it is the `last` go, the end of the
/// transaction: that is only reached when each has touched as many rows as it must.
async fn write(lent: &mut Lent, waiting: &Batch, last: bool) -> Result<(), StoreError> {
    let mut found = Vec::new();
    let mut steps = 0;
    let count = |step| {
        if let Either::Left(done) = step {
            if waiting.is_write(steps) {
                found.push(sqlx::sqlite::SqliteQueryResult::rows_affected(&done));
            }
            steps += 1;
        }
    };
    let text = AssertSqlSafe(waiting.in_a_row(last));
    let done = lent
        .run(text, bound::<Sqlite>(&waiting.args())?, count)
        .await;
    // What went wrong was perhaps only a wrong count, which tells more.
    waiting.check(&found)?;
    done.map_err(|error| waiting.refuted(&error).unwrap_or_else(|| error.into()))
}

/// Whether as many rows were touched as should be.
pub(in crate::store) const fn count(
    table: &'static str,
    found: u64,
    expected: u64,
) -> Result<(), StoreError> {
    if found == expected {
        return Ok(());
    }
    Err(StoreError::RowCount {
        table,
        expected,
        found,
    })
}

/// The largest power of two up to `count`, which is not 0, and [`MOST_ROWS`].
const fn power_of_two_within(count: usize) -> usize {
    let mut rows = MOST_ROWS;
    while rows > count {
        rows /= 2;
    }
    rows
}

fn bound<D: Database>(args: &[Arg<'_>]) -> Result<D::Arguments, StoreError>
where
    for<'q> Option<i64>: Encode<'q, D> + Type<D>,
    for<'q> Option<f64>: Encode<'q, D> + Type<D>,
    for<'q> Option<&'q str>: Encode<'q, D> + Type<D>,
    for<'q> Option<&'q [u8]>: Encode<'q, D> + Type<D>,
{
    let mut bound = D::Arguments::default();
    for arg in args {
        match *arg {
            Arg::Int(value) => bound.add(value),
            Arg::Real(value) => bound.add(value),
            Arg::Text(value) => bound.add(value),
            Arg::Bytes(value) => bound.add(value),
        }
        .map_err(sqlx::Error::Encode)?;
    }
    Ok(bound)
}

/// A row found, and the table that its errors name.
pub(in crate::store) struct Row {
    table: &'static str,
    cells: Cells,
}

enum Cells {
    Sqlite(SqliteRow),
    Postgres(PgRow),
}

impl Row {
    /// The cell of this column.
    pub(in crate::store) fn get<'r, T>(&'r self, column: &'static str) -> Result<T, StoreError>
    where
        T: Decode<'r, Sqlite> + Type<Sqlite> + Decode<'r, Postgres> + Type<Postgres>,
    {
        self.cell(column)
            .map_err(|error| self.impossible(column, error.to_string()))
    }

    /// The cell of this column as a smaller whole number.
    pub(in crate::store) fn small<T: TryFrom<i64>>(
        &self,
        column: &'static str,
    ) -> Result<T, StoreError> {
        let value: i64 = self.get(column)?;
        T::try_from(value).map_err(|_| self.impossible(column, format!("is {value}, out of range")))
    }

    /// The cell of this column as a truth value.
    pub(in crate::store) fn flag(&self, column: &'static str) -> Result<bool, StoreError> {
        match self.get::<i64>(column)? {
            0 => Ok(false),
            1 => Ok(true),
            other => Err(self.impossible(column, format!("is {other}, neither 0 nor 1"))),
        }
    }

    /// The error for a cell with a value that this program would never write.
    pub(in crate::store) fn impossible(&self, column: &'static str, why: String) -> StoreError {
        StoreError::ImpossibleRow {
            table: self.table,
            column,
            row: self.label(),
            why,
        }
    }

    fn cell<'r, T>(&'r self, column: &'static str) -> Result<T, sqlx::Error>
    where
        T: Decode<'r, Sqlite> + Type<Sqlite> + Decode<'r, Postgres> + Type<Postgres>,
    {
        match &self.cells {
            Cells::Sqlite(row) => row.try_get(column),
            Cells::Postgres(row) => row.try_get(column),
        }
    }

    /// The row's id, name or key, for errors.
    fn label(&self) -> String {
        let number = self.cell::<i64>("id").map(|id| id.to_string());
        let text = || {
            ["id", "key", "exercise"]
                .into_iter()
                .find_map(|column| self.cell::<String>(column).ok())
        };
        number.ok().or_else(text).unwrap_or_else(|| "?".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use sqlx::{Connection as _, SqliteConnection};

    use super::*;
    use crate::store::engine::batch::fails;

    const TEAM: Sql = Sql::both("team", "insert into team (name) values ($1)");
    const COUNT: Sql = Sql::both("team", "select count(*) as id from team");
    const NONE: Sql = Sql::both("team", "update team set name = $1 where name = $2");

    async fn pool() -> Pool {
        let mut connection = SqliteConnection::connect("sqlite::memory:")
            .await
            .expect("a database");
        sqlx::query("create table team (name text)")
            .execute(&mut connection)
            .await
            .expect("a table");
        Pool::Sqlite(Single::new(connection))
    }

    async fn teams(pool: &Pool) -> i64 {
        let mut connection = pool.begin_reading().await.expect("a connection");
        let row = connection.row(&COUNT, &[]).await.expect("read");
        row.expect("a count").get("id").expect("a number")
    }

    #[tokio::test]
    async fn a_write_that_touches_too_few_rows_takes_the_commit_with_it() {
        let pool = pool().await;
        let mut connection = pool.begin().await.expect("begun");
        connection.put_one(&TEAM, &["a".into()]).await.expect("put");
        let args = ["b".into(), "nobody".into()];
        connection.put_one(&NONE, &args).await.expect("put");
        let error = connection.commit().await.expect_err("is counted");
        let expected = "0 rows of table team were touched where 1 should have been";
        assert_eq!(error.to_string(), expected);
        assert_eq!(teams(&pool).await, 0);
    }

    #[tokio::test]
    async fn what_was_decided_on_what_no_longer_stands_is_a_conflict_and_stores_nothing() {
        const DOUBT: Sql = Sql::both(
            "team",
            concat!(
                "select ",
                fails!(),
                " where $1 <> (select count(*) from team)"
            ),
        );
        let pool = pool().await;
        for (believed, stands) in [(0_i64, true), (0, false), (1, true)] {
            let mut connection = pool.begin().await.expect("begun");
            connection.doubt(&DOUBT, &[believed.into()]);
            connection.put_one(&TEAM, &["a".into()]).await.expect("put");
            match connection.commit().await {
                Ok(()) => assert!(stands),
                Err(error) => assert!(!stands && error.is_conflict(), "{error}"),
            }
        }
        assert_eq!(teams(&pool).await, 2);
    }

    #[tokio::test]
    async fn writes_that_wait_are_committed_in_the_same_go_and_seen_by_what_is_asked() {
        let pool = pool().await;
        let mut connection = pool.begin().await.expect("begun");
        connection.put_one(&TEAM, &["a".into()]).await.expect("put");
        let row = connection.row(&COUNT, &[]).await.expect("read");
        assert_eq!(row.expect("a count").get::<i64>("id").ok(), Some(1));
        connection.put_one(&TEAM, &["b".into()]).await.expect("put");
        let none = ["c".into(), "nobody".into()];
        connection.put(&NONE, &none).await.expect("put");
        connection.commit().await.expect("committed");
        assert_eq!(teams(&pool).await, 2);
    }

    #[tokio::test]
    async fn what_nobody_ends_is_taken_back_before_the_next_begins() {
        let pool = pool().await;
        let mut connection = pool.begin().await.expect("begun");
        connection.run(&TEAM, &["a".into()]).await.expect("put in");
        drop(connection);
        let mut other = pool.begin().await.expect("begun");
        other.run(&TEAM, &["b".into()]).await.expect("put in");
        other.commit().await.expect("committed");
        assert_eq!(teams(&pool).await, 1);
    }

    #[tokio::test]
    async fn rows_of_several_reads_are_told_apart() {
        let pool = pool().await;
        let mut connection = pool.begin().await.expect("begun");
        connection.run(&TEAM, &["a".into()]).await.expect("put in");
        let name = Sql::both("team", "select name as id from team where name = $1");
        let reads: [(&Sql, &[Arg]); 3] = [
            (&name, &["x".into()]),
            (&COUNT, &[]),
            (&name, &["a".into()]),
        ];
        let [none, count, one] = connection.rows_of_each(reads).await.expect("read");
        assert!(none.is_empty());
        assert_eq!(count[0].get::<i64>("id").ok(), Some(1));
        assert_eq!(one[0].get::<String>("id").ok().as_deref(), Some("a"));
    }
}
