//! A URL becomes an open, up-to-date database, or one sentence that says what to do.

use std::io;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::sync::LazyLock;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migration, MigrationType, Migrator};
use sqlx::postgres::{PgConnectOptions, PgPoolOptions};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{
    ConnectOptions, Connection as _, Executor as _, PgConnection, SqlSafeStr as _, SqliteConnection,
};
use tokio::time::timeout;

use crate::backoff::Backoff;
use crate::store::engine::address::{Engine, engine};
use crate::store::engine::sqlite::Single;
use crate::store::engine::{ACQUIRE, Pool};
use crate::store::error::{OpenError, cause, code, primary};
use crate::store::files::private;

// Each text is hashed, so they are made once, not for each database that is opened.
static SQLITE: LazyLock<Migrator> =
    LazyLock::new(|| migrator(&include!(concat!(env!("OUT_DIR"), "/sqlite.rs"))));
static POSTGRES: LazyLock<Migrator> =
    LazyLock::new(|| migrator(&include!(concat!(env!("OUT_DIR"), "/postgres.rs"))));

/// Rows that the driver's thread may read ahead.
const ROWS: usize = 1024;
/// How long a lock of another process on the file is waited for.
const BUSY: Duration = Duration::from_secs(5);
/// How often a locked file is asked for, each time as long as that: making a new file's write-ahead
/// log takes it whole, and another process that begins at the same moment is refused at once.
const ATTEMPTS: u32 = 4;
/// How long PostgreSQL may take to greet: something else may listen there, and say nothing.
const ANSWER: Duration = Duration::from_secs(5);
/// Connections to PostgreSQL: few statements of a transaction overlap, and the server pays for each.
const POSTGRES_CONNECTIONS: u32 = 8;
/// A process that stands still in the middle of a transaction holds its members' rows: so a transaction
/// may not rest for long, and what it holds is not waited for much longer than that.
const ABANDONED: &str = "set idle_in_transaction_session_timeout = '8s'; set lock_timeout = '9s'";
/// More than there are statements, so that each is prepared once a connection.
const STATEMENTS: usize = 200;

pub(in crate::store) async fn open(url: &str, process: &str) -> Result<Pool, OpenError> {
    match engine(url)? {
        Engine::Sqlite => open_sqlite(url).await.map(Pool::Sqlite),
        Engine::Postgres => open_postgres(url, process).await,
    }
}

/// The URL of a database file at this path, with the characters that mean something in a URL
/// written so that they do not.
pub fn file_url(path: &Path) -> String {
    let mut url = String::from("sqlite:");
    for character in path.to_string_lossy().chars() {
        match character {
            '%' => url.push_str("%25"),
            '?' => url.push_str("%3F"),
            '#' => url.push_str("%23"),
            other => url.push(other),
        }
    }
    url
}

/// The number, the title and the text of each migration, as `build.rs` finds them.
fn migrator(migrations: &'static [(i64, &'static str, &'static str)]) -> Migrator {
    let each = migrations.iter().map(|&(number, title, text)| {
        let kind = MigrationType::Simple;
        Migration::new(number, title.into(), kind, text.into_sql_str(), false)
    });
    Migrator::with_migrations(each.collect())
}

async fn open_sqlite(url: &str) -> Result<Single, OpenError> {
    let mut backoff = Backoff::new();
    loop {
        match open_file(url).await {
            Err(OpenError::Locked(_)) if backoff.failures() + 1 < ATTEMPTS => {
                tokio::time::sleep(backoff.next()).await;
            }
            done => return done,
        }
    }
}

async fn open_file(url: &str) -> Result<Single, OpenError> {
    let options = SqliteConnectOptions::from_str(url)
        .map_err(|error| OpenError::Url(cause(&error)))?
        .create_if_missing(true)
        // One connection needs no cache shared with others.
        .shared_cache(false)
        .journal_mode(SqliteJournalMode::Wal)
        // With a write-ahead log anything less may lose the last commits when the power fails.
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        // What is taken out is overwritten, not only unlinked: what is erased shall be gone.
        .pragma("secure_delete", "on")
        .busy_timeout(BUSY)
        .statement_cache_capacity(STATEMENTS)
        // A whole log comes over without its reader and the driver's thread waiting for each other.
        .row_buffer_size(ROWS)
        .disable_statement_logging();
    let in_memory = url.contains(":memory:") || url.contains("mode=memory");
    let path = options.get_filename().to_path_buf();
    if !in_memory {
        check_path(&path)?;
        if path.exists() {
            refuse_foreign(url, &path).await?;
        }
        // A fault is told by SQLite, which cannot open the file then.
        drop(private::own_file(&path));
    }
    let mut connection = SqliteConnection::connect_with(&options)
        .await
        .map_err(|error| sqlite_error(error, &path))?;
    migrate_sqlite(&mut connection)
        .await
        .map_err(|error| match sqlite_cause(&error) {
            Some(known) => known(path.clone()),
            None => migration_error(error, path.display().to_string()),
        })?;
    refuse_read_only(&mut connection, &path).await?;
    Ok(Single::new(connection))
}

/// Brings the tables up to date. Another process may be doing so at the same moment, and unlike
/// with PostgreSQL the driver takes no lock for it: then one of the two fails at a step that the
/// other has done. As long as steps are getting done, it is tried again.
async fn migrate_sqlite(connection: &mut SqliteConnection) -> Result<(), MigrateError> {
    let mut before = steps_done(connection).await;
    loop {
        let Err(error) = SQLITE.run(&mut *connection).await else {
            return Ok(());
        };
        let now = steps_done(connection).await;
        if now <= before {
            return Err(error);
        }
        before = now;
    }
}

/// How many steps are done; 0 where that cannot be read, as in a new file.
async fn steps_done(connection: &mut SqliteConnection) -> i64 {
    sqlx::query_scalar("select count(*) from _sqlx_migrations where success")
        .fetch_one(connection)
        .await
        .unwrap_or(0)
}

fn check_path(path: &Path) -> Result<(), OpenError> {
    if path.is_dir() {
        return Err(OpenError::IsFolder(path.to_path_buf()));
    }
    match path.parent() {
        Some(folder) if folder != Path::new("") && !folder.is_dir() => {
            Err(OpenError::NoFolder(folder.to_path_buf()))
        }
        _ => Ok(()),
    }
}

/// A file with tables, but not of this program, is somebody's: it is left as it is. It is looked at
/// on a connection that can change nothing: beginning a write-ahead log marks the file.
async fn refuse_foreign(url: &str, path: &Path) -> Result<(), OpenError> {
    let looks = async {
        let options = SqliteConnectOptions::from_str(url)?
            .read_only(true)
            .busy_timeout(BUSY)
            .disable_statement_logging();
        let mut connection = SqliteConnection::connect_with(&options).await?;
        let (tables, ours): (i64, i64) = sqlx::query_as(
            "select count(*), coalesce(sum(name = '_sqlx_migrations'), 0)
             from sqlite_schema where type = 'table'",
        )
        .fetch_one(&mut connection)
        .await?;
        connection.close().await?;
        Ok((tables, ours))
    };
    let (tables, ours) = looks.await.map_err(|error| sqlite_error(error, path))?;
    if tables > 0 && ours == 0 {
        return Err(OpenError::Foreign(path.to_path_buf()));
    }
    Ok(())
}

/// SQLite opens a file that it may not write for reading alone, and says so at the first write.
async fn refuse_read_only(connection: &mut SqliteConnection, path: &Path) -> Result<(), OpenError> {
    let touches = connection.execute("delete from _sqlx_migrations where 1 = 0");
    match touches.await.map_err(|error| sqlite_error(error, path)) {
        Err(refused @ OpenError::NotPermitted(_)) => Err(refused),
        // Somebody else is writing it, so it can be written.
        _ => Ok(()),
    }
}

fn sqlite_error(error: sqlx::Error, path: &Path) -> OpenError {
    match sqlite_kind(&error) {
        Some(known) => known(path.to_path_buf()),
        None => migration_error(error.into(), path.display().to_string()),
    }
}

fn sqlite_kind(error: &sqlx::Error) -> Option<fn(PathBuf) -> OpenError> {
    match error.as_database_error().and_then(primary)? {
        5 | 6 => Some(OpenError::Locked),
        8 | 14 | 23 => Some(OpenError::NotPermitted),
        11 | 26 => Some(OpenError::NotADatabase),
        _ => None,
    }
}

fn sqlite_cause(error: &MigrateError) -> Option<fn(PathBuf) -> OpenError> {
    match error {
        MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => {
            sqlite_kind(error)
        }
        _ => None,
    }
}

async fn open_postgres(url: &str, process: &str) -> Result<Pool, OpenError> {
    let options = PgConnectOptions::from_str(url)
        .map_err(|error| OpenError::Url(cause(&error)))?
        .application_name(process)
        .statement_cache_capacity(STATEMENTS)
        .disable_statement_logging();
    // Neither the user nor what stands for the database where none is named: that is the user.
    let place = format!("{}:{}", options.get_host(), options.get_port());
    // One plain connection first: the pool would go on knocking where nobody answers.
    let mut first = timeout(ANSWER, PgConnection::connect_with(&options))
        .await
        .map_err(|_| OpenError::NoAnswer {
            place: place.clone(),
            why: format!("nothing came within {} s", ANSWER.as_secs()),
        })?
        .map_err(|error| postgres_error(&error, &place))?;
    let migrated = POSTGRES.run(&mut first).await;
    drop(first.close().await);
    migrated.map_err(|error| match error {
        // It went away in the middle of it.
        MigrateError::Execute(error) if matches!(error, sqlx::Error::Io(_)) => {
            postgres_error(&error, &place)
        }
        error => migration_error(error, place),
    })?;
    let pool = PgPoolOptions::new()
        .max_connections(POSTGRES_CONNECTIONS)
        .acquire_timeout(ACQUIRE)
        .after_connect(|connection, _| {
            Box::pin(async move { connection.execute(ABANDONED).await.map(drop) })
        })
        .connect_lazy_with(options);
    Ok(Pool::Postgres(pool))
}

fn postgres_error(error: &sqlx::Error, place: &str) -> OpenError {
    let place = place.to_owned();
    match error {
        sqlx::Error::Database(inner) => match code(&**inner).as_str() {
            // These pass.
            "57P03" => OpenError::NoAnswer {
                place,
                why: "it is starting up or going down".to_owned(),
            },
            "53300" => OpenError::NoAnswer {
                place,
                why: "it has too many connections".to_owned(),
            },
            code => OpenError::Refused {
                place,
                why: refusal(code),
            },
        },
        sqlx::Error::Io(inner) if inner.kind() == io::ErrorKind::ConnectionRefused => {
            OpenError::NoAnswer {
                place,
                why: "connection refused".to_owned(),
            }
        }
        error => OpenError::NoAnswer {
            place,
            why: cause(error),
        },
    }
}

/// Why PostgreSQL refuses a connection. Its own words name the user. *PostgreSQL manual, appendix A*.
fn refusal(code: &str) -> String {
    match code {
        "28P01" | "28000" => "user or password is wrong, or may not connect from here".to_owned(),
        "3D000" => "there is no such database".to_owned(),
        "42501" => "the user may not use this database".to_owned(),
        code => format!("SQLSTATE {code}"),
    }
}

fn migration_error(error: MigrateError, place: String) -> OpenError {
    match error {
        MigrateError::VersionMissing(_) => OpenError::Newer { place },
        error => OpenError::Migration {
            place,
            why: cause(&error),
        },
    }
}
