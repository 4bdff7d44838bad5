//! A consistent copy of a SQLite database in a new file, made while others use it. SQLite's own
//! `VACUUM INTO` keeps a journal beside the copy; a program that is killed would leave both, with
//! all that is kept of people. Here the copy has no name and no journal until it is whole.

use std::path::Path;
use std::time::Duration;

use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{AssertSqlSafe, ConnectOptions as _, Connection as _, Executor as _, SqliteConnection};

use crate::store::Store;
use crate::store::engine::{Pool, Sql};
use crate::store::error::StoreError;
use crate::store::files::unnamed::Scratch;

/// How long a lock of another process on the file is waited for.
const BUSY: Duration = Duration::from_secs(5);
/// What a database is made of, tables first, then what hangs on them. SQLite makes its own tables
/// (`sqlite_…`) by itself.
const PARTS: &str = "select type, name, sql from live.sqlite_schema
    where sql is not null and name not like 'sqlite\\_%' escape '\\'
    order by type <> 'table', rowid";
/// The counters of keys that never come again, where a table has one.
const COUNTERS: &str = "select count(*) from live.sqlite_schema where name = 'sqlite_sequence'";

impl Store {
    /// Writes a copy of a SQLite database to a new file, consistent, while others use it. Killed on
    /// the way it leaves nothing.
    ///
    /// # Errors
    /// [`StoreError::NoBackup`] on PostgreSQL and of a database in memory, or where the file is
    /// there already or cannot be written; [`StoreError::Driver`].
    pub async fn backup(&self, path: &Path) -> Result<(), StoreError> {
        let no_backup = |why: String| StoreError::NoBackup { why };
        if !matches!(self.pool, Pool::Sqlite(_)) {
            return Err(no_backup(
                "this is for SQLite; PostgreSQL has pg_dump".to_owned(),
            ));
        }
        let live = self.file_name().await?;
        if live.is_empty() {
            return Err(no_backup("a database in memory has no file".to_owned()));
        }
        let fault = |why: &str| no_backup(format!("{} {why}", path.display()));
        if path.exists() {
            return Err(fault("is there already; name a new file"));
        }
        let unwritable = |error: std::io::Error| fault(&format!("cannot be written ({error})"));
        let scratch = Scratch::beside(path).map_err(unwritable)?;
        fill(&scratch, &live).await?;
        let path = path.to_owned();
        let copying = tokio::task::spawn_blocking(move || scratch.copy_to(&path));
        match copying.await {
            Ok(copied) => copied.map_err(unwritable),
            Err(_) => Err(fault("was not written: the program is ending")),
        }
    }

    /// The path of the database file; empty in memory.
    async fn file_name(&self) -> Result<String, StoreError> {
        const FILE: Sql = Sql::both(
            "pragma_database_list",
            "select file from pragma_database_list where name = 'main'",
        );
        let mut connection = self.pool.begin_reading().await?;
        let rows = connection.rows(&FILE, &[]).await?;
        rows.first()
            .map_or(Ok(String::new()), |row| row.get("file"))
    }
}

/// Copies the database at `live` into the empty file, whose name goes as soon as it is open.
async fn fill(scratch: &Scratch, live: &str) -> Result<(), sqlx::Error> {
    let options = SqliteConnectOptions::new()
        .filename(scratch.place())
        // Nobody reads it before it is whole, and nobody mends half of it.
        .journal_mode(SqliteJournalMode::Off)
        .synchronous(SqliteSynchronous::Off)
        .foreign_keys(false)
        .busy_timeout(BUSY)
        .disable_statement_logging();
    let mut open = SqliteConnection::connect_with(&options).await?;
    // The file is open once something was asked of it.
    let _: i64 = sqlx::query_scalar("pragma schema_version")
        .fetch_one(&mut open)
        .await?;
    scratch.hide();
    sqlx::query("attach $1 as live")
        .bind(live)
        .execute(&mut open)
        .await?;
    open.execute("begin").await?;
    let parts: Vec<(String, String, String)> = sqlx::query_as(PARTS).fetch_all(&mut open).await?;
    for (kind, name, text) in &parts {
        open.execute(AssertSqlSafe(text.as_str())).await?;
        if kind == "table" {
            let name = name.replace('"', "\"\"");
            let rows = format!("insert into main.\"{name}\" select * from live.\"{name}\"");
            open.execute(AssertSqlSafe(rows)).await?;
        }
    }
    let counters: i64 = sqlx::query_scalar(COUNTERS).fetch_one(&mut open).await?;
    if counters > 0 {
        open.execute("delete from main.sqlite_sequence").await?;
        open.execute("insert into main.sqlite_sequence select * from live.sqlite_sequence")
            .await?;
    }
    open.execute("commit").await?;
    open.close().await
}
