//! What a message costs when it comes over the pipe and is durably stored, against bare inserts of
//! exactly the same rows with the same settings: `cargo bench --bench store`.
//!
//! Four ways, each on a database of its own, round by round in turn: bare inserts with a commit a
//! message, bare inserts with as many messages a commit as the pipe groups, the pipe with lines
//! that come one at a time, and the pipe with lines that are queued. A round is a club's evening.
//! The rows are recorded from a run of the program itself, message by message, and at the end all
//! four databases must hold the same: so no way has stored less than another.
//!
//! Parts that can be named: `bare`, and `many`, what a message costs with few and with many members.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, prints, and may fail where it stands"
)]

#[path = "../support/mod.rs"]
mod support;

#[path = "store/bare.rs"]
mod bare;
#[path = "store/many.rs"]
mod many;
#[path = "store/start.rs"]
mod start;
#[path = "store/two.rs"]
mod two;

use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::{Duration, Instant};

use chalkbell::channel::pipe::{self, GROUP};
use chalkbell::service::{Bot, Service};
use chalkbell::store::{Store, file_url};
use sqlx::postgres::PgPool;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{Pool, SqlitePool};
use tempfile::TempDir;
use tokio::io::{AsyncRead, ReadBuf};

use bare::{Message, Snapshot};
use support::evening;
use support::rows::{Engine, assert_same};

/// Rounds that count; one more before them warms caches and prepares statements.
const ROUNDS: usize = 5;
const WAYS: [&str; 4] = [
    "bare inserts, one by one",
    "bare inserts, grouped",
    "pipe, one by one",
    "pipe, grouped",
];

fn main() {
    let wanted = std::env::args().nth(1).filter(|one| !one.starts_with('-'));
    let is_wanted = |part: &str| wanted.as_deref().is_none_or(|one| one == part);
    support::engines::runtime().block_on(async {
        if is_wanted("many") {
            many::measure().await;
        }
        if !is_wanted("bare") {
            return;
        }
        let folder = TempDir::new().unwrap();
        let evenings: Vec<Vec<String>> = (0..=ROUNDS).map(evening::lines).collect();
        let recorded = recorded(&folder, &evenings).await;
        let mut urls = Vec::new();
        for way in 0..WAYS.len() {
            urls.push(file_url(&folder.path().join(format!("{way}.db"))));
        }
        let label = "SQLite file, write-ahead log, synchronous=FULL";
        compare(label, &urls, sqlite_pool, &evenings, &recorded).await;
        start::measure(&urls[3]);

        let mut databases = Vec::new();
        for _ in WAYS {
            databases.extend(support::postgres::Database::new().await);
        }
        if databases.len() == WAYS.len() {
            let urls: Vec<String> = databases.iter().map(|database| database.url()).collect();
            let connect = async |url: &str| PgPool::connect(url).await.unwrap();
            let label = "PostgreSQL on loopback, fsync on";
            compare(label, &urls, connect, &evenings, &recorded).await;
        }
        for database in databases {
            database.remove().await;
        }
        two::compare(&evenings, &recorded).await;
    });
}

/// The settings of the program's own connection.
async fn sqlite_pool(url: &str) -> SqlitePool {
    let options = SqliteConnectOptions::new()
        .filename(url.trim_start_matches("sqlite:"))
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true);
    let pool = SqlitePoolOptions::new().max_connections(1);
    pool.connect_with(options).await.unwrap()
}

async fn service(url: &str) -> Service<Bot> {
    let bot = Bot::new(chalkbell::config::built_in());
    Service::new(Store::open(url).await.unwrap(), bot)
}

/// What each message of each evening writes, from a run of the program message by message.
async fn recorded(folder: &TempDir, evenings: &[Vec<String>]) -> Vec<Vec<Message>> {
    let url = file_url(&folder.path().join("recorded.db"));
    let service = service(&url).await;
    let pool = sqlite_pool(&url).await;
    let mut before = Snapshot::default();
    let mut recorded = Vec::new();
    for evening in evenings {
        let mut messages = Vec::new();
        for line in evening {
            answers(&service, line.as_bytes()).await;
            messages.push(bare::written(&pool, &mut before).await);
        }
        recorded.push(messages);
    }
    recorded
}

async fn compare<D: Engine>(
    label: &str,
    urls: &[String],
    connect: impl AsyncFn(&str) -> Pool<D>,
    evenings: &[Vec<String>],
    recorded: &[Vec<Message>],
) {
    let mut pools = Vec::new();
    for url in urls {
        Store::open(url).await.unwrap().close().await;
        pools.push(connect(url).await);
    }
    let services = [service(&urls[2]).await, service(&urls[3]).await];
    let mut times: [Vec<f64>; 4] = Default::default();
    for (round, (lines, messages)) in evenings.iter().zip(recorded).enumerate() {
        for (way, times) in times.iter_mut().enumerate() {
            let input: Vec<u8> = lines.concat().into_bytes();
            let begun = Instant::now();
            match way {
                0 => bare::insert(&pools[0], messages, 1).await,
                1 => bare::insert(&pools[1], messages, GROUP).await,
                2 => one_by_one(&services[0], &input).await,
                _ => answers(&services[1], &input).await,
            }
            if round > 0 {
                times.push(micros(begun.elapsed(), lines.len()));
            }
        }
    }
    print(label, evenings[0].len(), times);
    for pool in &pools[1..] {
        assert_same(&pools[0], pool).await;
    }
}

/// Lines that are queued.
async fn answers(service: &Service<Bot>, input: &[u8]) {
    let mut output = Vec::new();
    pipe::run(service, input, &mut output).await.unwrap();
    let text = String::from_utf8(output).unwrap();
    let filed = text.matches("\"as\":\"filed\"").count();
    assert_eq!(
        filed,
        input.iter().filter(|&&b| b == b'\n').count(),
        "{text}"
    );
}

/// Lines that come one at a time: each is answered before the next is read.
async fn one_by_one(service: &Service<Bot>, input: &[u8]) {
    let mut output = Vec::new();
    pipe::run(service, Dripping(input), &mut output)
        .await
        .unwrap();
}

struct Dripping<'a>(&'a [u8]);

impl AsyncRead for Dripping<'_> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        _: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<std::io::Result<()>> {
        let end = self.0.iter().position(|&byte| byte == b'\n');
        let (line, rest) = self.0.split_at(end.map_or(0, |end| end + 1));
        buffer.put_slice(line);
        self.0 = rest;
        Poll::Ready(Ok(()))
    }
}

fn micros(time: Duration, messages: usize) -> f64 {
    time.as_secs_f64() * 1e6 / messages as f64
}

fn print(label: &str, messages: usize, times: [Vec<f64>; 4]) {
    let medians = times.map(|mut times| {
        times.sort_unstable_by(f64::total_cmp);
        times[times.len() / 2]
    });
    println!("{label}");
    println!("  median of {ROUNDS} evenings of {messages} messages, {GROUP} a commit when grouped");
    println!(
        "  way                         us a message   throughput against bare, one by one / grouped"
    );
    for (way, time) in WAYS.iter().zip(medians) {
        let (one, grouped) = (medians[0] / time, medians[1] / time);
        println!("  {way:<28}{time:>10.0}{one:>16.2}{grouped:>10.2}");
    }
}
