//! The one connection to a SQLite database, lent to one transaction after the other.
//!
//! The driver keeps each connection in a thread of its own, so whatever is asked is a hop there and
//! back. The driver's own pool and transactions take several hops more (one to begin, one to
//! commit, one to see whether a connection that comes back still lives), and a hop is most of what
//! a statement costs. Here a transaction begins in the same hop as its first statement, and ends in
//! the same one as its last.

use std::sync::Arc;
use std::time::Duration;

use futures_util::TryStreamExt as _;
use sqlx::sqlite::{SqliteArguments, SqliteQueryResult, SqliteRow};
use sqlx::{
    AssertSqlSafe, Connection as _, Either, Error, Executor as _, SqlSafeStr, SqliteConnection,
};
use tokio::sync::{Mutex, OwnedMutexGuard};
use tokio::time::timeout;

/// The connection to a database.
#[derive(Clone, Debug)]
pub(in crate::store) struct Single(Arc<Mutex<Slot>>);

#[derive(Debug)]
struct Slot {
    /// `None` once it is closed.
    connection: Option<SqliteConnection>,
    /// A transaction may be open on it.
    begun: bool,
}

/// The connection, lent until this is dropped. Whoever waits for it gets it in turn.
#[derive(Debug)]
pub(in crate::store) struct Lent {
    /// `None` only while it is dropped.
    slot: Option<OwnedMutexGuard<Slot>>,
    /// What goes before the next statement.
    before: &'static str,
}

/// What a statement of several came to: a row of it, or its end.
pub(in crate::store) type Step = Either<SqliteQueryResult, SqliteRow>;

impl Single {
    pub(in crate::store) fn new(connection: SqliteConnection) -> Self {
        let connection = Some(connection);
        Self(Arc::new(Mutex::new(Slot {
            connection,
            begun: false,
        })))
    }

    /// Lends the connection; a transaction begins, as this text says, with the first statement.
    ///
    /// # Errors
    /// [`Error::PoolTimedOut`] when the others take longer than `within`, [`Error::PoolClosed`] once
    /// it is closed.
    pub(in crate::store) async fn lend(
        &self,
        begin: &'static str,
        within: Duration,
    ) -> Result<Lent, Error> {
        let waiting = timeout(within, Arc::clone(&self.0).lock_owned());
        let slot = waiting.await.map_err(|_| Error::PoolTimedOut)?;
        let mut lent = Lent {
            slot: Some(slot),
            before: begin,
        };
        lent.roll_back().await?;
        Ok(lent)
    }

    /// Closes the connection once the open transaction is done.
    pub(in crate::store) async fn close(&self) {
        let mut slot = self.0.lock().await;
        if let Some(connection) = slot.connection.take() {
            // What was committed is in the file already.
            drop(connection.close().await);
        }
    }
}

impl Lent {
    /// The connection; marks that something may be open on it.
    fn connection(&mut self, begins: bool) -> Result<&mut SqliteConnection, Error> {
        let slot = self.slot.as_mut().ok_or(Error::PoolClosed)?;
        slot.begun |= begins;
        slot.connection.as_mut().ok_or(Error::PoolClosed)
    }

    /// Whether anything was begun that is to be ended.
    pub(in crate::store) fn is_begun(&self) -> bool {
        self.slot.as_ref().is_some_and(|slot| slot.begun)
    }

    /// Runs a text, of one statement or several, and hands on each row and the end of each
    /// statement, that which begins the transaction excepted.
    ///
    /// # Errors
    /// Of the first statement that fails; those behind it are not run.
    pub(in crate::store) async fn run(
        &mut self,
        text: impl SqlSafeStr,
        args: SqliteArguments,
        mut each: impl FnMut(Step),
    ) -> Result<(), Error> {
        let before = std::mem::take(&mut self.before);
        let text = text.into_sql_str();
        let text = if before.is_empty() {
            text
        } else {
            AssertSqlSafe(format!("{before};{}", text.as_str())).into_sql_str()
        };
        let connection = self.connection(!before.is_empty())?;
        let mut steps = connection.fetch_many(sqlx::query_with(text, args));
        let mut begins = !before.is_empty();
        while let Some(step) = steps.try_next().await? {
            if !std::mem::take(&mut begins) {
                each(step);
            }
        }
        Ok(())
    }

    /// Says that the text which was run last has ended the transaction.
    pub(in crate::store) fn ended(&mut self) {
        if let Some(slot) = self.slot.as_mut() {
            slot.begun = false;
        }
    }

    /// Takes back what was done, if anything was begun.
    ///
    /// # Errors
    /// Of the driver; it is tried again before the connection is used next.
    pub(in crate::store) async fn roll_back(&mut self) -> Result<(), Error> {
        match self.slot.as_mut() {
            Some(slot) => slot.roll_back().await,
            None => Ok(()),
        }
    }
}

impl Slot {
    async fn roll_back(&mut self) -> Result<(), Error> {
        if !self.begun {
            return Ok(());
        }
        let connection = self.connection.as_mut().ok_or(Error::PoolClosed)?;
        match connection.execute("rollback").await {
            // SQLite takes a transaction back by itself after some failures.
            Err(Error::Database(error)) if error.message().contains("no transaction is active") => {
            }
            Err(error) => return Err(error),
            Ok(_) => {}
        }
        self.begun = false;
        Ok(())
    }
}

impl Drop for Lent {
    /// A transaction that nobody ended is taken back before the connection is lent again, and as
    /// soon as may be, since it keeps other processes waiting.
    fn drop(&mut self) {
        let Some(mut slot) = self.slot.take().filter(|slot| slot.begun) else {
            return;
        };
        if let Ok(runtime) = tokio::runtime::Handle::try_current() {
            runtime.spawn(async move {
                // Where it fails, the next one to borrow it tries again and is told.
                drop(slot.roll_back().await);
            });
        }
    }
}
