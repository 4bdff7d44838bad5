//! A process that stops answering in the middle of a transaction: those whose rows it holds wait for
//! some seconds, and nothing is lost, neither theirs nor what the process was working on.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one waits and measures"
)]

use std::io::{BufRead as _, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::support::postgres::Database;
use crate::support::program::Program;
use crate::support::run;
use chalkbell::bot::event::{Event, Message};
use chalkbell::config;
use chalkbell::service::{Bot, Service, ServiceError};
use chalkbell::store::{Store, file_url};
use sqlx::{Connection as _, PgConnection};
use tempfile::TempDir;

/// What nobody waits longer for (DEVELOPERS.md, "What holds everywhere").
const LONGEST: Duration = Duration::from_secs(10);

fn message(id: &str, author: &str, second: usize) -> String {
    let at = chrono::DateTime::from_timestamp(1_768_237_200 + i64::try_from(second).unwrap(), 0);
    serde_json::json!({
        "type": "message", "id": id, "team": "rowers", "channel": "gym", "author": author,
        "name": author, "coach": false, "at": at.unwrap().to_rfc3339(), "text": "bench 80x10, 2 left",
    })
    .to_string()
}

fn signal(name: &str, program: &Child) {
    let pid = program.id().to_string();
    let sent = Command::new("kill").args([name, &pid]).status();
    assert!(sent.expect("kill is there").success());
}

/// Whether a transaction is open on the database.
async fn is_open(url: &str) -> bool {
    let mut connection = PgConnection::connect(url).await.unwrap();
    let open: i64 = sqlx::query_scalar(
        "select count(*) from pg_stat_activity
         where datname = current_database() and state like 'idle in transaction%'",
    )
    .fetch_one(&mut connection)
    .await
    .unwrap();
    connection.close().await.unwrap();
    open > 0
}

/// Stops the program in the middle of a transaction.
async fn freeze(program: &Child, url: &str) {
    for _ in 0..2000 {
        signal("-STOP", program);
        // What is under way at the server comes to its end.
        std::thread::sleep(Duration::from_millis(5));
        if is_open(url).await {
            return;
        }
        signal("-CONT", program);
        std::thread::sleep(Duration::from_millis(3));
    }
    panic!("it was never caught in a transaction");
}

#[test]
fn members_of_a_frozen_process_wait_for_10_seconds_at_most_on_postgres() {
    run::run(async {
        let Some(database) = Database::new().await else {
            return;
        };
        let folder = TempDir::new().unwrap();
        let url = database.url();
        let start = |name: &str| Program::run(&url, &folder.path().join(name), Stdio::null());
        let (mut frozen, mut living) = (start("a"), start("b"));
        for (program, author) in [(&mut frozen, "Ines"), (&mut living, "Ole")] {
            let answer = program.answer(&message(author, author, 0));
            assert!(
                answer.iter().any(|line| line.contains("\"reply\"")),
                "{answer:?}"
            );
        }
        let count = 400;
        let Program {
            mut child,
            input,
            mut output,
        } = frozen;
        let mut input = input.unwrap();
        let writes = std::thread::spawn(move || {
            for n in 0..count {
                let line = message(&format!("m{n}"), "Ines", 60 + n);
                if writeln!(input, "{line}").is_err() {
                    return;
                }
            }
        });
        let reads = std::thread::spawn(move || {
            let (mut done, mut errors) = (0, Vec::new());
            while done < count {
                let mut line = String::new();
                assert!(output.read_line(&mut line).unwrap() > 0, "it ended");
                done += usize::from(line.contains("\"type\":\"done\""));
                if line.contains("\"type\":\"error\"") {
                    errors.push(line);
                }
            }
            errors
        });
        freeze(&child, &url).await;
        for (id, author) in [("same", "Ines"), ("other", "Ole")] {
            let begun = Instant::now();
            let answer = living.answer(&message(id, author, 9000));
            let took = begun.elapsed();
            println!("{author} waited {took:?}");
            assert!(took < LONGEST, "{author} waited {took:?}");
            assert!(
                !answer.iter().any(|line| line.contains("\"error\"")),
                "{answer:?}"
            );
        }
        signal("-CONT", &child);
        assert_eq!(reads.join().unwrap(), Vec::<String>::new());
        writes.join().unwrap();
        let mut connection = PgConnection::connect(&url).await.unwrap();
        let stored: i64 = sqlx::query_scalar("select count(*) from training_set")
            .fetch_one(&mut connection)
            .await
            .unwrap();
        connection.close().await.unwrap();
        assert_eq!(usize::try_from(stored).unwrap(), count + 4);
        assert!(child.wait().unwrap().success());
        living.close();
        database.remove().await;
    });
}

async fn service(path: &Path) -> Service<Bot> {
    let store = Store::open(&file_url(path)).await.unwrap();
    Service::new(store, Bot::new(config::built_in()))
}

#[test]
fn group_of_events_at_a_locked_file_is_told_so_within_10_seconds() {
    run::run(async {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("club.db");
        let service = service(&path).await;
        let events: Vec<_> = (0..64)
            .map(|n| {
                Event::Message(Message {
                    id: format!("m{n}"),
                    team: "rowers".to_owned(),
                    channel: "gym".to_owned(),
                    author: format!("lifter {n}"),
                    name: format!("Lifter {n}"),
                    coach: false,
                    at: "2026-01-12T18:00:00Z".parse().unwrap(),
                    text: "bench 80x10, 2 left".to_owned(),
                })
            })
            .collect();
        service.one(&events[0]).await.unwrap();
        // As a process holds it that stands still: no other can take a lock of the file away.
        let other = Store::open(&file_url(&path)).await.unwrap();
        let mut holds = other.begin().await.unwrap();
        holds.team("cyclists").await.unwrap();
        let begun = Instant::now();
        let answers = service.handle(&events).await;
        assert!(begun.elapsed() < LONGEST, "{:?}", begun.elapsed());
        for answer in answers {
            let Err(ServiceError::Store(error)) = answer else {
                panic!("{answer:?}");
            };
            assert!(error.is_outage() && error.to_string().contains("locked by another process"));
        }
        holds.rollback().await.unwrap();
        for answer in service.handle(&events).await {
            answer.unwrap();
        }
    });
}
