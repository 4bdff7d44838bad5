//! What processes on one PostgreSQL tell each other: when the earliest job is due that one of them
//! has stored, so that the others need not look for it.
//!
//! It is told on a connection of its own after the commit, never inside it: PostgreSQL takes one
//! lock for all commits that notify, and every filed set would queue for it. Whatever is stored
//! within [`PAUSE`] is told together, as its earliest time. A notice is a hint: who gets it looks at
//! the tables. One that is lost (a process dies in the moment after its commit, a connection breaks)
//! is made up for by looking now and again ([`crate::jobs::watch`]), and by looking once whenever
//! the connection stands again.
//!
//! On SQLite there is nobody to tell: [`JobWaker`] wakes the sleeper of this process alone.

use std::sync::atomic::{AtomicBool, AtomicI64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use sqlx::postgres::{PgConnection, PgListener};
use sqlx::{Executor as _, PgPool};
use tokio::sync::{Notify, watch};
use tokio::task::JoinSet;
use tokio::time::{sleep, timeout};

use crate::backoff::Backoff;
use crate::store::engine::Pool;

/// What the processes of one database speak over.
const CHANNEL: &str = "chalkbell_jobs";
/// The least time between two notices of a process. A bell is seconds away when it is stored.
const PAUSE: Duration = Duration::from_millis(100);
/// How long a database that is down is left alone: soon after it is back, others are heard again.
const fn database_backoff() -> Backoff {
    Backoff::between(Duration::from_secs(1), Duration::from_secs(5))
}
/// How long an answer waits at most for the connection to tell others on: at the start, and while it
/// is made anew.
const STANDS_WITHIN: Duration = Duration::from_millis(500);

/// Wakes whoever waits for the next job when an earlier one is stored, by this process or another.
#[derive(Debug)]
pub(in crate::store) struct JobWaker {
    bell: Arc<Bell>,
    /// The tasks that tell and listen; they end with the store.
    tasks: Mutex<JoinSet<()>>,
    /// Whether it was begun to listen.
    listens: AtomicBool,
}

/// What the tasks share.
#[derive(Debug)]
struct Bell {
    /// What was last said to be next, milliseconds.
    set_for: AtomicI64,
    earlier: Notify,
    /// The earliest due time that others were not told of yet; `i64::MAX` where there is none.
    untold: AtomicI64,
    tell: Notify,
    /// Whether the connection to tell others on stands; true where there is nobody to tell.
    stands: watch::Sender<bool>,
    /// Whether others are heard right now.
    hears: AtomicBool,
}

impl JobWaker {
    /// An waker for the store on this pool.
    pub(in crate::store) fn new(pool: &Pool) -> Self {
        let bell = Arc::new(Bell {
            set_for: AtomicI64::new(i64::MIN),
            earlier: Notify::new(),
            untold: AtomicI64::new(i64::MAX),
            tell: Notify::new(),
            stands: watch::Sender::new(matches!(pool, Pool::Sqlite(_))),
            hears: AtomicBool::new(false),
        });
        let mut tasks = JoinSet::new();
        if let Pool::Postgres(pool) = pool {
            tasks.spawn(tell(pool.clone(), Arc::clone(&bell)));
        }
        Self {
            bell,
            tasks: Mutex::new(tasks),
            listens: AtomicBool::new(false),
        }
    }

    /// The next job is due then, as far as is known.
    pub(in crate::store) fn set(&self, due_ms: i64) {
        self.bell.set_for.store(due_ms, Ordering::Relaxed);
    }

    /// A job was stored here that is due then.
    pub(in crate::store) async fn stored(&self, due_ms: i64) {
        self.bell.ring(due_ms);
        self.bell.untold.fetch_min(due_ms, Ordering::Relaxed);
        self.bell.tell.notify_one();
        let mut stands = self.bell.stands.subscribe();
        // Where it does not stand in time, others find out by looking.
        let _ = timeout(STANDS_WITHIN, stands.wait_for(|stands| *stands)).await;
        // Whoever tells others begins to before this goes on.
        tokio::task::yield_now().await;
    }

    /// Returns when an earlier job was stored than what the waker is set for.
    pub(in crate::store) async fn earlier(&self) {
        self.bell.earlier.notified().await;
    }

    /// Begins to listen to other processes, once.
    pub(in crate::store) fn listen(&self, pool: &Pool) {
        if let Pool::Postgres(pool) = pool
            && !self.listens.swap(true, Ordering::Relaxed)
        {
            let mut tasks = self.tasks.lock().unwrap_or_else(PoisonError::into_inner);
            tasks.spawn(hear(pool.clone(), Arc::clone(&self.bell)));
        }
    }

    /// Neither tells nor listens from now on.
    pub(in crate::store) fn end(&self) {
        let mut tasks = self.tasks.lock().unwrap_or_else(PoisonError::into_inner);
        tasks.abort_all();
    }

    /// Whether others are heard right now.
    pub(in crate::store) fn hears(&self) -> bool {
        self.bell.hears.load(Ordering::Relaxed)
    }
}

impl Bell {
    fn ring(&self, due_ms: i64) {
        if due_ms < self.set_for.load(Ordering::Relaxed) {
            self.earlier.notify_one();
        }
    }
}

/// Tells others what is stored here, for ever.
async fn tell(pool: PgPool, bell: Arc<Bell>) {
    let mut backoff = database_backoff();
    loop {
        if let Err(error) = tell_on_one(&pool, &bell).await {
            tracing::debug!(%error, "other processes could not be told of a job");
        }
        if bell.stands.send_replace(false) {
            backoff.reset();
        }
        sleep(backoff.next()).await;
    }
}

/// Tells others what is stored here until the connection breaks. Connection and statement are kept
/// at hand, so that a notice is one message, on its way before what was committed is answered.
async fn tell_on_one(pool: &PgPool, bell: &Bell) -> Result<(), sqlx::Error> {
    let mut connection = pool.acquire().await?.detach();
    // Nothing is lost with a notice that is not flushed to the disk.
    connection.execute("set synchronous_commit = off").await?;
    // Tells nothing, and makes the statement ready.
    tell_one(&mut connection, String::new()).await?;
    bell.stands.send_replace(true);
    loop {
        let due_ms = bell.untold.swap(i64::MAX, Ordering::Relaxed);
        if due_ms == i64::MAX {
            bell.tell.notified().await;
            continue;
        }
        if let Err(error) = tell_one(&mut connection, due_ms.to_string()).await {
            bell.untold.fetch_min(due_ms, Ordering::Relaxed);
            return Err(error);
        }
        sleep(PAUSE).await;
    }
}

async fn tell_one(connection: &mut PgConnection, what: String) -> Result<(), sqlx::Error> {
    let tell = sqlx::query("select pg_notify($1, $2)");
    let told = tell.bind(CHANNEL).bind(what).execute(connection).await;
    told.map(drop)
}

/// Hears what others tell, for ever.
async fn hear(pool: PgPool, bell: Arc<Bell>) {
    let mut backoff = database_backoff();
    loop {
        if let Err(error) = hear_on_one(&pool, &bell).await {
            tracing::debug!(%error, "other processes are not heard");
        }
        if bell.hears.swap(false, Ordering::Relaxed) {
            backoff.reset();
        }
        // Whoever sleeps is to look for themselves from now on.
        bell.earlier.notify_one();
        sleep(backoff.next()).await;
    }
}

/// Hears what others tell until the connection breaks.
async fn hear_on_one(pool: &PgPool, bell: &Bell) -> Result<(), sqlx::Error> {
    let mut listener = PgListener::connect_with(pool).await?;
    listener.eager_reconnect(false);
    listener.listen(CHANNEL).await?;
    bell.hears.store(true, Ordering::Relaxed);
    // What was told before this moment was told to nobody here.
    bell.earlier.notify_one();
    while let Some(notice) = listener.try_recv().await? {
        if let Ok(due_ms) = notice.payload().parse() {
            bell.ring(due_ms);
        }
    }
    Ok(())
}
