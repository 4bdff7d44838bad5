//! Processes on one PostgreSQL wake each other: what one has stored another sees to on time, though
//! the one that stored it is gone, and though nobody looks for it.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and processes live by the true time"
)]

use std::process::Stdio;
use std::time::Duration;

use crate::support::postgres::Database;
use crate::support::program::Program;
use crate::support::run::run;
use chalkbell::bot::event::{Event, Message};
use chalkbell::jobs::watch;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, SubsecRound as _, TimeDelta, Utc};
use sqlx::{Connection as _, PgConnection};
use tokio::time::{sleep, timeout};

const TEXT: &str = "bench press 80x10, 2 left";
/// From the set's being filed to its bell.
const AHEAD: TimeDelta = TimeDelta::seconds(2);
/// Long after the bell, and long before anybody would look by themselves.
const PATIENCE: Duration = Duration::from_secs(10);

fn message(id: &str, at: DateTime<Utc>) -> Event {
    Event::Message(Message {
        id: id.to_owned(),
        team: "rowers".to_owned(),
        channel: "gym".to_owned(),
        author: id.to_owned(),
        name: id.to_owned(),
        coach: false,
        at,
        text: TEXT.to_owned(),
    })
}

fn line(id: &str, at: DateTime<Utc>) -> String {
    serde_json::json!({
        "type": "message", "id": id, "team": "rowers", "channel": "gym", "author": id, "name": id,
        "coach": false, "at": at.to_rfc3339(), "text": TEXT,
    })
    .to_string()
}

/// How long after a set its bell rings.
async fn rest() -> TimeDelta {
    let store = Store::open("sqlite::memory:").await.unwrap();
    let service = Service::new(store, Bot::new(chalkbell::config::built_in()));
    let at = "2026-01-12T17:00:00Z".parse().unwrap();
    service.one(&message("ines", at)).await.unwrap();
    service.store().next_due(None).await.unwrap().unwrap() - at
}

/// Has another process file a set whose bell is due in a moment, and kills it; when it is due.
async fn filed_by_another(url: &str, id: &str, rest: TimeDelta) -> DateTime<Utc> {
    // As it is stored.
    let due = (Utc::now() + AHEAD).trunc_subsecs(3);
    let (url, line) = (url.to_owned(), line(id, due - rest));
    let folder = tempfile::TempDir::new().unwrap();
    let pictures = folder.path().to_path_buf();
    let files = move || {
        let mut program = Program::run(&url, &pictures, Stdio::inherit());
        program.answer(&line);
        program.kill();
    };
    tokio::task::spawn_blocking(files).await.expect("it files");
    due
}

async fn is_rung_on_time(store: &Store, url: &str, id: &str, rest: TimeDelta) {
    let waits = timeout(PATIENCE, watch::until_due(store, None, Utc::now, false));
    let files = async {
        // The other sleeps by now, and hears.
        sleep(Duration::from_millis(500)).await;
        filed_by_another(url, id, rest).await
    };
    let (woken, due) = tokio::join!(waits, files);
    let woken = woken.expect("it slept on, and would have looked by itself only");
    woken.unwrap();
    let now = Utc::now();
    assert!(now >= due, "woken at {now}, due at {due}");
    let mut tx = store.begin().await.unwrap();
    let keys = tx.due_keys(None, Utc::now(), 10).await.unwrap();
    assert_eq!(keys.len(), 1, "{keys:?}");
    tx.rollback().await.unwrap();
    // It rang. Put off far ahead it would be taken for one that a wrong clock scheduled.
    let mut connection = PgConnection::connect(url).await.unwrap();
    sqlx::query("delete from job")
        .execute(&mut connection)
        .await
        .unwrap();
}

#[test]
fn bell_of_a_process_that_was_killed_is_rung_on_time_by_another() {
    run(async {
        let Some(database) = Database::new().await else {
            return;
        };
        let (url, rest) = (database.url(), rest().await);
        let store = Store::open(&url).await.unwrap();
        is_rung_on_time(&store, &url, "ines", rest).await;
        assert!(store.hears_others());
        // Again, after the connection by which it hears was cut.
        cut_all(&url).await;
        is_rung_on_time(&store, &url, "bo", rest).await;
        assert!(store.hears_others());
        store.close().await;
        database.remove().await;
    });
}

/// Ends all other connections to the database.
async fn cut_all(url: &str) {
    let mut connection = PgConnection::connect(url).await.unwrap();
    let cut = "select pg_terminate_backend(pid) from pg_stat_activity
               where datname = current_database() and pid <> pg_backend_pid()";
    sqlx::query(cut).execute(&mut connection).await.unwrap();
}
