//! What a message costs the processor with few and with many members who post in turn.

use std::time::Instant;

use chalkbell::bot::event::{Event, Message};
use chalkbell::store::file_url;
use chrono::{DateTime, TimeDelta, Utc};
use tempfile::TempDir;

use super::service;

/// Members in all, in teams of so many.
const MEMBERS: [usize; 4] = [10, 100, 1000, 10_000];
const TEAM: usize = 25;
/// Messages that count; before them each member posts some that do not.
const MESSAGES: usize = 10_000;
const BEFORE: usize = 2;
/// Queued messages that share a commit.
const GROUP: usize = 64;

/// Prints processor time and time a message; on SQLite, whose work is all done by this process.
pub async fn measure() {
    println!("SQLite file, members who post in turn, {GROUP} messages a commit");
    for members in MEMBERS {
        let folder = TempDir::new().unwrap();
        let service = service(&file_url(&folder.path().join("many.db"))).await;
        let mut events = (0..).map(|n| message(n / members, n % members));
        let before: Vec<Event> = events.by_ref().take(BEFORE * members).collect();
        let counted: Vec<Event> = events.take(MESSAGES).collect();
        for some in before.chunks(GROUP) {
            service.handle(some).await;
        }
        let (begun, busy) = (Instant::now(), processor_s());
        for some in counted.chunks(GROUP) {
            for answer in service.handle(some).await {
                assert!(!answer.unwrap().is_empty());
            }
        }
        let (took, busy) = (begun.elapsed().as_secs_f64(), processor_s() - busy);
        let each = |seconds: f64| seconds * 1e3 / MESSAGES as f64;
        println!(
            "  {members:>6} members: {:.3} ms of processor a message, {:.3} ms in all",
            each(busy),
            each(took)
        );
        service.close().await;
    }
}

fn message(turn: usize, member: usize) -> Event {
    let start: DateTime<Utc> = "2026-01-12T18:00:00Z".parse().unwrap();
    let turn_of = |n: usize| i64::try_from(n).unwrap();
    // Eight sets an evening, one evening in two days.
    let at = start
        + TimeDelta::days(2 * turn_of(turn / 8))
        + TimeDelta::minutes(3 * turn_of(turn % 8))
        + TimeDelta::milliseconds(turn_of(member) * 15);
    let text = ["bench 60x10, 2 left", "x9, 2 left", "x9", "x8, 1 left"][turn % 4];
    Event::Message(Message {
        id: format!("{member}.{turn}"),
        team: format!("team{}", member / TEAM),
        channel: "1309876543210987654".to_owned(),
        author: format!("u{member}"),
        name: format!("Lifter {member}"),
        coach: false,
        at,
        text: text.to_owned(),
    })
}

/// Processor time of all threads of this process so far, seconds.
fn processor_s() -> f64 {
    let threads = std::fs::read_dir("/proc/self/task").unwrap();
    let nanoseconds = threads.map(|thread| {
        let file = thread.unwrap().path().join("schedstat");
        // A thread may end in between.
        let text = std::fs::read_to_string(file).unwrap_or_default();
        let first = text.split(' ').next().unwrap_or_default();
        first.parse().unwrap_or(0.0)
    });
    nanoseconds.sum::<f64>() / 1e9
}
