//! Two processes of the pipe on one PostgreSQL: what is due is put out once by both together, while one
//! is starting, frozen (SIGSTOP), not read from, or killed.
//!
//! The long form, 200 rounds: `cargo test --release --test kills pipe_shared:: -- --ignored`.
#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one stops processes in time"
)]

use std::collections::BTreeMap;
use std::io::{BufRead as _, Write as _};
use std::process::{Command, Stdio};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};
use sqlx::{Connection as _, PgConnection};

use crate::support::lots::Lots;
use crate::support::postgres::Database;
use crate::support::program::Program;

const TEAMS: usize = 3;
const MEMBERS: usize = 8;

fn start(url: &str) -> Program {
    let pictures = std::env::temp_dir().join("chalkbell-no-pictures");
    Program::run(url, &pictures, Stdio::inherit())
}

fn send(program: &mut Program, lines: &[Value]) {
    let text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let input = program.input.as_mut().unwrap();
    input.write_all(text.as_bytes()).unwrap();
    input.flush().unwrap();
}

/// Reads up to so many `done`; what came by then.
fn read(program: &mut Program, mut dones: usize) -> Vec<Value> {
    let mut out = Vec::new();
    while dones > 0 {
        let mut line = String::new();
        let read = program.output.read_line(&mut line).unwrap();
        assert!(read > 0, "it ended");
        let line: Value = serde_json::from_str(&line).unwrap();
        assert_ne!(line["type"], "error", "{line}");
        dones -= usize::from(line["type"] == "done");
        out.push(line);
    }
    out
}

fn signal(program: &Program, name: &str) {
    let pid = program.child.id().to_string();
    let done = Command::new("kill").args([name, &pid]).status().unwrap();
    assert!(done.success());
}

fn clock(at: DateTime<Utc>) -> Value {
    json!({"type": "clock", "at": at})
}

/// Everybody posts a set; the time at which all their bells are due.
fn all_post(program: &mut Program, at: DateTime<Utc>) -> DateTime<Utc> {
    let mut lines = Vec::new();
    for team in 0..TEAMS {
        for member in 0..MEMBERS {
            let author = format!("t{team}m{member}");
            lines.push(
                json!({"type": "message", "id": format!("{author}.{}", at.timestamp()),
                "team": format!("team {team}"), "channel": "gym", "author": author, "name": author,
                "coach": member == 0, "at": at, "text": "bench 80x10, 2 left"}),
            );
        }
    }
    send(program, &lines);
    let out = read(program, lines.len());
    let rests = out
        .iter()
        .filter_map(|line| line["advice"]["rest_s"].as_i64());
    let rests: Vec<i64> = rests.collect();
    let (least, most) = (rests.iter().min().unwrap(), rests.iter().max().unwrap());
    assert!(most - least < 100, "{rests:?}");
    at + TimeDelta::seconds(*most)
}

/// Counts the bells and the digests for all among what was put out.
fn count(counts: &mut BTreeMap<String, usize>, out: &[Value]) {
    for line in out {
        let posted = line["type"] == "reply"
            && (!line["mentions"].as_array().unwrap().is_empty() || line["to"].is_null());
        if posted {
            let name = format!("{} {}", line["team"], line["id"]);
            *counts.entry(name).or_default() += 1;
        }
    }
}

fn assert_each_once(counts: &BTreeMap<String, usize>, expected: usize) {
    let wrong: Vec<_> = counts.iter().filter(|(_, count)| **count != 1).collect();
    assert!(wrong.is_empty(), "not once: {wrong:?}");
    assert_eq!(counts.len(), expected, "lost: {counts:?}");
}

/// Sunday of week `round`, ten minutes before the digests.
fn sunday(round: usize) -> DateTime<Utc> {
    let first: DateTime<Utc> = "2026-01-11T17:50:00Z".parse().unwrap();
    first + TimeDelta::weeks(i64::try_from(round).unwrap())
}

/// Both processes are told the time; one is frozen somewhere on its way, and goes on once the other is
/// done, or after some seconds. The other is a new one now and again.
async fn frozen(rounds: usize) {
    let Some(database) = Database::new().await else {
        return;
    };
    let url = database.url();
    let mut lots = Lots(11);
    let (mut a, mut b) = (start(&url), start(&url));
    for round in 0..rounds {
        let due = all_post(&mut a, sunday(round));
        let lines = [clock(due), clock(sunday(round) + TimeDelta::minutes(10))];
        if round % 3 == 0 {
            b = start(&url);
        }
        send(&mut a, &lines);
        std::thread::sleep(Duration::from_micros(lots.below(25_000) as u64));
        signal(&a, "-STOP");
        send(&mut b, &lines);
        let pid = a.child.id().to_string();
        let wakes = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_secs(5));
            Command::new("kill").args(["-CONT", &pid]).status().unwrap()
        });
        let mut out = read(&mut b, lines.len());
        signal(&a, "-CONT");
        out.extend(read(&mut a, lines.len()));
        // What one of them left comes with the next clock.
        let next = [clock(sunday(round) + TimeDelta::minutes(10))];
        for program in [&mut b, &mut a] {
            send(program, &next);
            out.extend(read(program, 1));
        }
        let mut counts = BTreeMap::new();
        count(&mut counts, &out);
        assert_each_once(&counts, TEAMS * (MEMBERS + 1));
        drop(wakes);
    }
    a.close();
    b.close();
    database.remove().await;
}

#[tokio::test]
async fn each_bell_and_digest_is_put_out_once_though_one_is_frozen_or_starting() {
    frozen(12).await;
}

#[tokio::test]
#[ignore = "takes minutes"]
async fn each_bell_and_digest_is_put_out_once_though_one_is_frozen_or_starting_200_times() {
    frozen(200).await;
}

/// How many bells wait.
async fn waiting(url: &str) -> i64 {
    let mut connection = PgConnection::connect(url).await.unwrap();
    let count = "select count(*) from job where kind = 'bell'";
    let count: i64 = sqlx::query_scalar(count)
        .fetch_one(&mut connection)
        .await
        .unwrap();
    connection.close().await.unwrap();
    count
}

/// A process that has committed its bells and digests and is not read from: so much comes before
/// them that they do not fit into the pipe.
async fn blocked(url: &str) -> (Program, DateTime<Utc>, usize) {
    let mut a = start(url);
    let due = all_post(&mut a, sunday(0));
    let mut lines: Vec<Value> = (0..50)
        .map(|n| {
            json!({"type": "message", "id": format!("h{n}"), "team": "team 0", "channel": "gym",
                   "author": "t0m0", "name": "t0m0", "coach": true, "at": sunday(0), "text": "/help"})
        })
        .collect();
    lines.push(clock(due));
    send(&mut a, &lines);
    while waiting(url).await > 0 {
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
    // It begins to put out what it has committed.
    tokio::time::sleep(Duration::from_millis(500)).await;
    (a, due, lines.len())
}

#[tokio::test]
async fn what_a_process_is_putting_out_that_is_not_read_from_is_left_to_it() {
    let Some(database) = Database::new().await else {
        return;
    };
    let url = database.url();
    let (mut a, due, lines) = blocked(&url).await;
    let mut b = start(&url);
    let mut counts = BTreeMap::new();
    for seconds in [0, 1, 5] {
        send(&mut b, &[clock(due + TimeDelta::seconds(seconds))]);
        count(&mut counts, &read(&mut b, 1));
        assert!(counts.is_empty(), "it is put out by the other: {counts:?}");
        tokio::time::sleep(Duration::from_secs(2)).await;
    }
    count(&mut counts, &read(&mut a, lines));
    assert_each_once(&counts, TEAMS * MEMBERS);
    send(&mut b, &[clock(due + TimeDelta::seconds(6))]);
    count(&mut counts, &read(&mut b, 1));
    assert_each_once(&counts, TEAMS * MEMBERS);
    a.close();
    b.close();
    database.remove().await;
}

#[tokio::test]
async fn what_a_killed_process_was_putting_out_is_put_out_by_the_other() {
    let Some(database) = Database::new().await else {
        return;
    };
    let url = database.url();
    let mut b = start(&url);
    send(&mut b, &[clock(sunday(0) - TimeDelta::hours(1))]);
    read(&mut b, 1);
    let (a, due, _) = blocked(&url).await;
    a.kill();
    send(&mut b, &[clock(due)]);
    let mut counts = BTreeMap::new();
    count(&mut counts, &read(&mut b, 1));
    assert_each_once(&counts, TEAMS * MEMBERS);
    b.close();
    database.remove().await;
}
