//! PostgreSQL goes away under load, and comes back: nothing is answered that is not stored, what
//! waits is bounded, and in the end everything is stored once, as if nothing had happened. Shown
//! by comparing with a run that nothing disturbed, row by row.
//!
//! The long forms, 20 stops and hundreds of cut connections:
//! `cargo test --release --test kills faults_postgres:: -- --ignored`.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one waits"
)]

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{BufRead as _, Write as _};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::support::evening;
use crate::support::lots::Lots;
use crate::support::postgres::Cluster;
use crate::support::program::Program;
use crate::support::proxy::{Proxy, Weather};
use crate::support::rows;
use crate::support::run::run;
use chrono::DateTime;
use sqlx::{AssertSqlSafe, Executor as _, PgPool};
use tempfile::TempDir;

/// Longer than a database that was down is left alone.
const PATIENCE: Duration = Duration::from_secs(60);
/// What may wait at most, bytes: what two pipes hold, and what is read at once.
const BOUND: usize = 3 * 64 * 1024;

fn url(port: u16, database: &str) -> String {
    format!("postgres://chalkbell@127.0.0.1:{port}/{database}")
}

/// Evenings with a look at the clock after every tenth message.
fn lines(evenings: usize) -> Vec<String> {
    let mut all = Vec::new();
    for (n, line) in (0..evenings).flat_map(evening::lines).enumerate() {
        let message: serde_json::Value = serde_json::from_str(&line).unwrap();
        all.push(line);
        if n % 10 == 9 {
            let at: DateTime<chrono::Utc> = message["at"].as_str().unwrap().parse().unwrap();
            let at = at + chrono::TimeDelta::seconds(1);
            let clock = serde_json::json!({ "type": "clock", "at": at.to_rfc3339() });
            all.push(format!("{clock}\n"));
        }
    }
    all
}

/// A program that is given all lines at once.
struct Load {
    child: Child,
    /// Bytes that it took.
    taken: Arc<AtomicUsize>,
    done: Arc<AtomicUsize>,
    reads: JoinHandle<BTreeSet<String>>,
    log: PathBuf,
    lines: Vec<String>,
}

/// What came of it.
struct Outcome {
    replies: BTreeSet<String>,
    log: String,
}

impl Load {
    fn begin(url: &str, lines: &[String], folder: &TempDir, name: &str) -> Self {
        let log = folder.path().join(name);
        let to = Stdio::from(File::create(&log).unwrap());
        let mut program = Program::run(url, &folder.path().join("pictures"), to);
        let [taken, done]: [Arc<AtomicUsize>; 2] = Default::default();
        let (counts, given) = (Arc::clone(&taken), lines.to_vec());
        let mut input = program.input.take().unwrap();
        std::thread::spawn(move || {
            for line in given {
                // It fails once the program has ended.
                if input.write_all(line.as_bytes()).is_err() {
                    return;
                }
                counts.fetch_add(line.len(), Ordering::Relaxed);
            }
        });
        let counts = Arc::clone(&done);
        let reads = std::thread::spawn(move || {
            let mut replies = BTreeSet::new();
            for line in program.output.lines() {
                let line: serde_json::Value = serde_json::from_str(&line.unwrap()).unwrap();
                match line["type"].as_str().unwrap() {
                    "error" => panic!("{line}"),
                    "done" => {
                        counts.fetch_add(1, Ordering::Relaxed);
                    }
                    _ => drop(line["id"].as_str().map(|id| replies.insert(id.to_owned()))),
                }
            }
            replies
        });
        Self {
            child: program.child,
            taken,
            done,
            reads,
            log,
            lines: lines.to_vec(),
        }
    }

    fn done(&self) -> usize {
        self.done.load(Ordering::Relaxed)
    }

    /// Waits until so many lines are done, or all; whether there are more.
    fn wait_for(&self, count: usize) -> bool {
        let (end, count) = (Instant::now() + PATIENCE, count.min(self.lines.len()));
        while self.done() < count {
            let log = || std::fs::read_to_string(&self.log).unwrap_or_default();
            assert!(Instant::now() < end, "{} done; {}", self.done(), log());
            std::thread::sleep(Duration::from_millis(2));
        }
        self.done() < self.lines.len()
    }

    /// Nothing is answered now, and little is taken.
    fn stands_still(&self) {
        let bytes = |lines: &[String]| lines.iter().map(String::len).sum::<usize>();
        let answered = bytes(&self.lines[..self.done()]);
        let waits = self.taken.load(Ordering::Relaxed) - answered;
        assert!(waits < BOUND, "{waits} bytes wait");
    }

    fn end(mut self) -> Outcome {
        self.wait_for(self.lines.len());
        let replies = self.reads.join().expect("all could be read");
        assert!(self.child.wait().unwrap().success());
        let log = std::fs::read_to_string(&self.log).unwrap();
        Outcome { replies, log }
    }
}

/// Two databases of a cluster: one for trouble, one for a quiet run.
async fn two_databases(cluster: &Cluster) {
    let pool = PgPool::connect(&url(cluster.port(), "postgres"))
        .await
        .unwrap();
    for name in ["trouble", "quiet"] {
        let make = AssertSqlSafe(format!("create database {name}"));
        pool.execute(make).await.unwrap();
    }
    pool.close().await;
}

/// The database that went through trouble holds what the quiet one holds, and nothing was left out
/// of what was told.
async fn is_as_if_nothing_had_happened(
    cluster: &Cluster,
    outcome: &Outcome,
    lines: &[String],
    folder: &TempDir,
) {
    let quiet = Load::begin(&url(cluster.port(), "quiet"), lines, folder, "quiet").end();
    let untold: Vec<_> = quiet.replies.difference(&outcome.replies).collect();
    assert!(untold.is_empty(), "never told: {untold:?}");
    let checked = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
        .args(["check", "--database", &url(cluster.port(), "trouble")])
        .output()
        .unwrap();
    assert!(checked.status.success(), "{checked:?}");
    let trouble = PgPool::connect(&url(cluster.port(), "trouble"))
        .await
        .unwrap();
    let quiet = PgPool::connect(&url(cluster.port(), "quiet"))
        .await
        .unwrap();
    rows::assert_same(&trouble, &quiet).await;
    trouble.close().await;
    quiet.close().await;
}

fn count(log: &str, words: &str) -> usize {
    log.lines().filter(|line| line.contains(words)).count()
}

/// Stops the server so many times while the program works through its lines.
async fn stopped(times: usize) {
    let Some(cluster) = Cluster::alone() else {
        return;
    };
    two_databases(&cluster).await;
    let folder = TempDir::new().unwrap();
    let lines = lines(times.div_ceil(3));
    let load = Load::begin(&url(cluster.port(), "trouble"), &lines, &folder, "log");
    let mut lots = Lots(5);
    for time in 0..times {
        assert!(
            load.wait_for(load.done() + 20 + lots.below(100)),
            "too quick"
        );
        cluster.stop(["fast", "immediate"][time % 2]);
        let before = load.done();
        std::thread::sleep(Duration::from_millis(lots.below(1500) as u64));
        // What was stored before it was stopped may still have been on its way out.
        let behind = load.done() - before;
        assert!(behind <= 64, "{behind} lines answered without a database");
        load.stands_still();
        cluster.go_on();
    }
    let outcome = load.end();
    let told = count(&outcome.log, "nothing can be stored");
    // One that is over at once may fall between two transactions.
    assert!((1..=times).contains(&told), "{}", outcome.log);
    assert_eq!(count(&outcome.log, "answers again"), told);
    is_as_if_nothing_had_happened(&cluster, &outcome, &lines, &folder).await;
    println!("{times} stops, {told} of them noticed");
}

/// Whoever asks the program to end does not wait for a database that is not there.
async fn asked_to_end() {
    let Some(cluster) = Cluster::alone() else {
        return;
    };
    two_databases(&cluster).await;
    let folder = TempDir::new().unwrap();
    let url = url(cluster.port(), "trouble");
    let mut load = Load::begin(&url, &lines(2), &folder, "log");
    assert!(load.wait_for(50), "too quick");
    cluster.stop("fast");
    std::thread::sleep(Duration::from_millis(1500));
    let asked = Instant::now();
    let pid = load.child.id().to_string();
    let kill = Command::new("kill").args(["-TERM", &pid]).status();
    assert!(kill.unwrap().success());
    assert!(load.child.wait().unwrap().success());
    assert!(asked.elapsed() < Duration::from_secs(10));
    load.reads.join().expect("nothing is cut off");
    let done = load.done.load(Ordering::Relaxed);
    cluster.go_on();
    let pool = PgPool::connect(&url).await.unwrap();
    let messages = load.lines[..done].iter();
    let messages = messages
        .filter(|line| line.contains(r#""message""#))
        .count();
    let stored: i64 = sqlx::query_scalar("select count(*) from event")
        .fetch_one(&pool)
        .await
        .unwrap();
    pool.close().await;
    assert!(
        usize::try_from(stored).unwrap() >= messages,
        "{stored}, {messages}"
    );
}

/// Connections that come late, are cut, and are cut in the middle of a message.
async fn in_bad_weather(messages: usize) {
    let Some(cluster) = Cluster::alone() else {
        return;
    };
    two_databases(&cluster).await;
    let folder = TempDir::new().unwrap();
    let mut lines = lines(messages.div_ceil(480));
    lines.truncate(messages);
    let proxy = Proxy::before(cluster.port());
    let load = Load::begin(&url(proxy.port(), "trouble"), &lines, &folder, "log");
    assert!(load.wait_for(20), "too quick");
    proxy.set(Weather::Wild);
    while load.wait_for(load.done() + 20) {}
    let outcome = load.end();
    let (cut, halved) = proxy.harm();
    assert!(cut > 0 && halved > 0, "{cut} cut, {halved} halved");
    is_as_if_nothing_had_happened(&cluster, &outcome, &lines, &folder).await;
    println!("{cut} connections cut, {halved} of them in the middle of something");
}

/// A connection of which nothing comes any more, though nobody ended it.
async fn in_silence() {
    let Some(cluster) = Cluster::alone() else {
        return;
    };
    two_databases(&cluster).await;
    let folder = TempDir::new().unwrap();
    let lines = lines(2);
    let proxy = Proxy::before(cluster.port());
    let load = Load::begin(&url(proxy.port(), "trouble"), &lines, &folder, "log");
    assert!(load.wait_for(100), "too quick");
    proxy.set(Weather::Silent);
    std::thread::sleep(Duration::from_secs(70));
    let before = load.done();
    load.stands_still();
    assert!(before < lines.len());
    // What was held back is passed on to connections that are given up by now.
    proxy.set(Weather::Calm);
    let outcome = load.end();
    assert_eq!(
        count(&outcome.log, "nothing came within"),
        1,
        "{}",
        outcome.log
    );
    is_as_if_nothing_had_happened(&cluster, &outcome, &lines, &folder).await;
}

#[test]
fn everything_is_stored_once_though_the_server_is_stopped() {
    run(stopped(3));
}

#[test]
#[ignore = "takes minutes"]
fn everything_is_stored_once_though_the_server_is_stopped_20_times() {
    run(stopped(20));
}

#[test]
fn program_ends_when_asked_though_the_server_is_down() {
    run(asked_to_end());
}

#[test]
fn everything_is_stored_once_though_connections_are_cut_and_halved() {
    run(in_bad_weather(300));
}

#[test]
#[ignore = "takes minutes"]
fn everything_is_stored_once_though_connections_are_cut_and_halved_hundreds_of_times() {
    run(in_bad_weather(5_000));
}

#[test]
#[ignore = "takes more than a minute"]
fn connection_that_falls_silent_is_given_up_and_nothing_is_lost() {
    run(in_silence());
}
