//! What can go wrong in the store, told apart: the database's word, a row that cannot be, and a
//! statement that touched another number of rows than it must. "Not found" is none of them: that
//! is `Ok(None)`.

use std::error::Error as StdError;
use std::path::PathBuf;

use sqlx::error::{DatabaseError, ErrorKind};

/// Why the store could not do what was asked. Nothing of an uncommitted transaction remains.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The database could not be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// The driver or the database refused.
    #[error("{}", plain(.0))]
    Driver(sqlx::Error),
    /// A stored row that this program would never write.
    #[error(
        "row {row} of table {table} cannot be: {column} {why}; restore a backup or report this"
    )]
    ImpossibleRow {
        /// The table.
        table: &'static str,
        /// The column.
        column: &'static str,
        /// The row's id or key.
        row: String,
        /// What is wrong with the value.
        why: String,
    },
    /// A statement that must touch a known number of rows touched another.
    #[error("{found} rows of table {table} were touched where {expected} should have been")]
    RowCount {
        /// The table.
        table: &'static str,
        /// How many it should have been.
        expected: u64,
        /// How many it was.
        found: u64,
    },
    /// A copy does not hold what was copied.
    #[error(
        "table {table} of the copy differs from the original: do not use the copy; empty it and try again"
    )]
    CopyDiffers {
        /// The first table that differs.
        table: &'static str,
    },
    /// No backup was made.
    #[error("no backup was made: {why}")]
    NoBackup {
        /// Why, and what to do.
        why: String,
    },
    /// The database could not be reached or written for something else, a moment ago.
    #[error("{0}")]
    Outage(String),
    /// Another process changed the same row in between; trying again settles it.
    #[error("table {table} was changed by another process at the same time; try again")]
    Conflict {
        /// The table.
        table: &'static str,
    },
}

/// The driver's error is no source of this one: whoever prints a chain of causes would print the
/// server's words, which name the user.
impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> Self {
        Self::Driver(error)
    }
}

impl StoreError {
    /// Whether another process got in between (a deadlock, a row written by both): the same work
    /// tried again in a new transaction is expected to succeed. A locked file is none: it was waited
    /// for already.
    pub fn is_conflict(&self) -> bool {
        match self {
            Self::Conflict { .. } => true,
            Self::Driver(error) => error.as_database_error().is_some_and(|error| {
                error.kind() == ErrorKind::UniqueViolation
                    || matches!(code(error).as_str(), "40001" | "40P01" | "517")
            }),
            _ => false,
        }
    }

    /// Whether the database cannot be reached or written for now (it is down, starting, locked, out
    /// of room or connections): nothing was stored, and the same is expected to succeed once that is
    /// over.
    pub fn is_outage(&self) -> bool {
        let error = match self {
            Self::Driver(error) => error,
            Self::Outage(_) => return true,
            _ => return false,
        };
        match error {
            sqlx::Error::Io(_) | sqlx::Error::PoolTimedOut => true,
            sqlx::Error::Database(inner) => match primary(&**inner) {
                // Busy, locked, read-only, failed to read or write, full, cannot be opened.
                Some(code) => matches!(code, 5 | 6 | 8 | 10 | 13 | 14),
                None => {
                    let code = code(&**inner);
                    // Connection exceptions, out of resources, operator intervention, system errors
                    // (<https://www.postgresql.org/docs/current/errcodes-appendix.html>).
                    ["08", "53", "57", "58"]
                        .iter()
                        .any(|class| code.starts_with(class))
                        || [READ_ONLY, IDLE_TOO_LONG, LOCKED_TOO_LONG].contains(&code.as_str())
                }
            },
            _ => false,
        }
    }

    /// Whether an [outage](Self::is_outage) may be the doing of what was asked, so that it would not
    /// pass: PostgreSQL broke the connection or gave up on a statement, SQLite cannot read a page.
    pub fn may_be_its_own(&self) -> bool {
        let Self::Driver(error) = self else {
            return false;
        };
        match error {
            sqlx::Error::Io(_) => true,
            sqlx::Error::Database(inner) => match primary(&**inner) {
                Some(code) => code == 10,
                None => self.is_outage() && code(&**inner) != READ_ONLY,
            },
            _ => false,
        }
    }

    /// The same outage, for what was not even tried because of it.
    pub(crate) fn again(&self) -> Self {
        Self::Outage(self.to_string())
    }
}

/// `PostgreSQL` takes no writes, as after a change-over to a server that only follows.
const READ_ONLY: &str = "25006";
/// The process stood still in the middle of a transaction, which `PostgreSQL` then took back.
const IDLE_TOO_LONG: &str = "25P03";
/// Rows of the event's member are held by another process, which `PostgreSQL` did not wait for longer.
const LOCKED_TOO_LONG: &str = "55P03";

/// Why a database could not be opened. Each message is one sentence that names the remedy; none
/// holds a password.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The URL names no engine that is spoken here; what may be shown of its scheme.
    #[error(
        "the database URL begins with neither sqlite: nor postgres://{0}; write sqlite:FILE, \
         sqlite::memory: or postgres://USER@HOST/NAME"
    )]
    Scheme(String),
    /// The URL cannot be read.
    #[error("the database URL cannot be read ({0}); correct it")]
    Url(String),
    /// The folder that should hold the file is missing.
    #[error("the folder {} does not exist; make it or name another file", .0.display())]
    NoFolder(PathBuf),
    /// A folder stands where the file should.
    #[error("{} is a folder; name a file in it", .0.display())]
    IsFolder(PathBuf),
    /// The file may not be read or written.
    #[error("{} cannot be opened for reading and writing; mend its permissions or name another file", .0.display())]
    NotPermitted(PathBuf),
    /// The file is of another kind, or broken.
    #[error("{} is no database, or a damaged one; restore a backup or name another file", .0.display())]
    NotADatabase(PathBuf),
    /// The file holds another program's tables.
    #[error("{} holds another program's tables; name another file", .0.display())]
    Foreign(PathBuf),
    /// Another process keeps the file locked.
    #[error("{} is locked by another process; stop that one or try again", .0.display())]
    Locked(PathBuf),
    /// A later version of this program wrote it.
    #[error(
        "{place} was written by a later version of this program; run that version or a newer one"
    )]
    Newer {
        /// File, or host and database.
        place: String,
    },
    /// PostgreSQL does not answer.
    #[error("PostgreSQL at {place} does not answer ({why}); start it or correct the database URL")]
    NoAnswer {
        /// Host and database.
        place: String,
        /// The system's word.
        why: String,
    },
    /// PostgreSQL answered, and refused.
    #[error(
        "PostgreSQL at {place} refuses ({why}); correct user, password or database name in the URL"
    )]
    Refused {
        /// Host and database.
        place: String,
        /// The server's word.
        why: String,
    },
    /// The tables could not be brought up to date.
    #[error(
        "the tables in {place} could not be brought up to date ({why}); nothing was changed, restore a backup or report this"
    )]
    Migration {
        /// File, or host and database.
        place: String,
        /// What failed.
        why: String,
    },
}

/// The database's own code: `SQLite`'s extended result code, `PostgreSQL`'s SQLSTATE.
pub(super) fn code(error: &dyn DatabaseError) -> String {
    error
        .code()
        .map(|code| code.into_owned())
        .unwrap_or_default()
}

/// One sentence for an operator; what to do, where that is known.
fn plain(error: &sqlx::Error) -> String {
    match error {
        sqlx::Error::Database(inner) => match primary(&**inner) {
            Some(13) => "the disk is full; make room and send it again".to_owned(),
            Some(8) => "the database is read-only; mend its permissions".to_owned(),
            Some(5 | 6) => "the database is locked by another process; try again".to_owned(),
            Some(11 | 26) => "the database file is damaged; restore a backup".to_owned(),
            Some(10 | 14) => "the database file cannot be reached; check the disk".to_owned(),
            None if code(&**inner).starts_with("28") => {
                "PostgreSQL refuses this user or password; correct the database URL".to_owned()
            }
            None if code(&**inner).starts_with("53") => {
                "PostgreSQL is out of room, memory or connections; make some".to_owned()
            }
            _ => format!("the database refused: {}", inner.message()),
        },
        sqlx::Error::PoolTimedOut => "the database does not answer; check that it runs".to_owned(),
        sqlx::Error::Io(error) => {
            format!("the connection to the database broke ({error}); check that it runs")
        }
        error => format!("the database driver failed: {error}"),
    }
}

/// `SQLite`'s primary result code; `None` for another engine.
pub(super) fn primary(error: &(dyn DatabaseError + 'static)) -> Option<i32> {
    error.try_downcast_ref::<sqlx::sqlite::SqliteError>()?;
    code(error).parse::<i32>().ok().map(|code| code & 0xff)
}

/// A short word on the innermost cause.
pub(super) fn cause(error: &dyn StdError) -> String {
    let mut inner = error;
    while let Some(deeper) = inner.source() {
        inner = deeper;
    }
    inner.to_string()
}
