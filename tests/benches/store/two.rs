//! Two processes on one PostgreSQL, each with half of the lifters, against bare inserts of the same rows
//! by as many connections, each in a thread of its own: a commit a message, as `pgbench` does it, and
//! grouped.

use std::io::{BufRead as _, Write as _};
use std::process::Stdio;
use std::thread;
use std::time::Instant;

use chalkbell::store::Store;
use sqlx::postgres::PgPool;
use tempfile::TempDir;

use super::bare::{self, Message};
use super::support::program::Program;
use super::support::rows::assert_same;
use super::support::{engines, postgres::Database};
use super::{GROUP, WAYS, micros, print};

/// One half of an evening: its lines, and what they write.
type Half<'a> = (Vec<&'a str>, Vec<&'a Message>);

/// The halves of an evening, by lifter: lines of lifters who follow each other take turns.
fn halves<'a>(lines: &'a [String], messages: &'a [Message]) -> [Half<'a>; 2] {
    [0, 1].map(|half| {
        let one = lines.iter().zip(messages).skip(half).step_by(2);
        one.map(|(line, message)| (line.as_str(), message)).unzip()
    })
}

/// Prints the table. The first evening, in which members come to be, is not counted and goes in
/// order; then the halves go side by side.
pub async fn compare(evenings: &[Vec<String>], recorded: &[Vec<Message>]) {
    let mut databases = Vec::new();
    for _ in WAYS {
        let Some(database) = Database::new().await else {
            return;
        };
        databases.push(database);
    }
    let urls: Vec<String> = databases.iter().map(Database::url).collect();
    let folder = TempDir::new().unwrap();
    let mut processes = Vec::new();
    for url in &urls {
        Store::open(url).await.unwrap().close().await;
        let start = || Program::run(url, folder.path(), Stdio::inherit());
        processes.push([start(), start()]);
    }
    let mut times: [Vec<f64>; 4] = Default::default();
    for (round, (lines, messages)) in evenings.iter().zip(recorded).enumerate() {
        for (way, times) in times.iter_mut().enumerate() {
            let two = &mut processes[way];
            let whole = || {
                (
                    lines.iter().map(String::as_str).collect(),
                    messages.iter().collect(),
                )
            };
            if round == 0 {
                let first = || work(way, &urls[way], &mut two[0], &whole());
                thread::scope(|scope| scope.spawn(first).join().expect("it is stored"));
                continue;
            }
            let begun = Instant::now();
            thread::scope(|scope| {
                for (process, half) in two.iter_mut().zip(halves(lines, messages)) {
                    let url = &urls[way];
                    scope.spawn(move || work(way, url, process, &half));
                }
            });
            times.push(micros(begun.elapsed(), lines.len()));
        }
    }
    processes.into_iter().flatten().for_each(Program::close);
    let label = "PostgreSQL on loopback, two processes or two connections";
    print(label, evenings[0].len(), times);
    let first = PgPool::connect(&urls[0]).await.unwrap();
    for url in &urls[1..] {
        let pool = PgPool::connect(url).await.unwrap();
        assert_same(&first, &pool).await;
        pool.close().await;
    }
    first.close().await;
    for database in databases {
        database.remove().await;
    }
}

/// Works through one half, in one of the ways.
fn work(way: usize, url: &str, process: &mut Program, (lines, messages): &Half<'_>) {
    match way {
        0 => bare_inserts(url, messages, 1),
        1 => bare_inserts(url, messages, GROUP),
        2 => lines
            .iter()
            .for_each(|line| drop(process.answer(line.trim_end()))),
        _ => queued(process, lines),
    }
}

fn bare_inserts(url: &str, messages: &[&Message], group: usize) {
    engines::runtime().block_on(async {
        let pool = PgPool::connect(url).await.unwrap();
        bare::insert(&pool, messages.iter().copied(), group).await;
        pool.close().await;
    });
}

fn queued(process: &mut Program, lines: &[&str]) {
    let Program { input, output, .. } = process;
    let input = input.as_mut().expect("an open input");
    thread::scope(|scope| {
        scope.spawn(move || input.write_all(lines.concat().as_bytes()).unwrap());
        let done = |line: &String| line.contains(r#""type":"done""#);
        let done = output.lines().map(Result::unwrap).filter(done);
        assert_eq!(done.take(lines.len()).count(), lines.len());
    });
}
