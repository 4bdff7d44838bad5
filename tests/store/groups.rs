//! Events that share a transaction, or that reach several processes in turn: what they come to must
//! equal, row by row and answer by answer, what they come to one at a time in one process.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and say why"
)]

use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use chalkbell::bot::event::{Clock, Delete, Edit, Event, Message, Press};
use chalkbell::bot::reply::Outgoing;
use chalkbell::jobs::{self, Worker};
use chalkbell::service::{Bot, Service, ServiceError, UseCase};
use chalkbell::store::{Store, StoreError, Tx, file_url};
use chrono::{DateTime, TimeDelta, Utc};
use sqlx::postgres::PgPool;
use sqlx::sqlite::SqlitePool;
use tempfile::TempDir;

use crate::support;
use crate::support::lots::Lots;
use crate::support::postgres::Database;
use crate::support::rows;

const MESSAGES: [&str; 31] = [
    "bench 80x10, 2 left",
    "bench press 82.5x8,8,7",
    "x9",
    "x9, 1 left",
    "same",
    "squat 100x5 2 left",
    "x5",
    "row 60x12 1 left",
    "curl 20x12",
    "x11",
    "belt squat 90x8, 2 left",
    "yesterday bench 70x10",
    "undo",
    "that was 9 not 8",
    "bench",
    "80",
    "10",
    "what do I load on squat",
    "82.5 after 90 s?",
    "still out of breath",
    "ready",
    "my knee hurts on squats",
    "/clear Cox",
    "/week",
    "/rest",
    "/bodyweight 81 kg",
    "/experience 18 months",
    "/catalogue add belt squat like back squat target quads",
    "/settings zone Europe/Oslo",
    "see you on thursday",
    "/plan Ben\nmon: bench press 4x6-10 2rir; back squat 3x5-8 2rir",
];
const BUTTONS: [&str; 5] = ["ready", "not.breath", "undo", "drop", "meant"];
const PEOPLE: [&str; 3] = ["Ann", "Ben", "Cox"];
const TEAMS: [&str; 2] = ["rowers", "cyclists"];

/// Events of every kind, about one another, with ids that come twice and times that go back.
fn events(seed: u64, count: usize) -> Vec<Event> {
    let mut lots = Lots(seed);
    let mut now: DateTime<Utc> = "2026-01-12T18:00:00Z".parse().unwrap();
    let mut events = Vec::new();
    for number in 0..count {
        now += match lots.below(40) {
            0 => TimeDelta::hours(26),
            1 => TimeDelta::seconds(-500),
            _ => TimeDelta::seconds(i64::try_from(5 + lots.below(120)).unwrap()),
        };
        events.push(event(&mut lots, number, now));
    }
    events
}

fn event(lots: &mut Lots, number: usize, at: DateTime<Utc>) -> Event {
    let team = lots.of(&TEAMS).to_owned();
    let author = lots.of(&PEOPLE).to_owned();
    let text = lots.of(&MESSAGES).to_owned();
    let earlier = format!("m{}", number.saturating_sub(1 + lots.below(8)));
    match lots.below(20) {
        0 | 1 => Event::Edit(Edit {
            id: earlier,
            team,
            at,
            text,
        }),
        2 => Event::Delete(Delete {
            id: earlier,
            team,
            at,
        }),
        3 | 4 => Event::Press(Press {
            id: None,
            reply: format!("{earlier}.1"),
            team,
            author,
            button: lots.of(&BUTTONS).to_owned(),
            at,
        }),
        5 => Event::Clock(Clock {
            team: (lots.below(2) == 0).then_some(team),
            at,
        }),
        repeat => Event::Message(Message {
            id: if repeat == 6 {
                earlier
            } else {
                format!("m{number}")
            },
            channel: "gym".to_owned(),
            coach: author == "Ann",
            name: author.clone(),
            author,
            team,
            at,
            text,
        }),
    }
}

fn bot() -> Bot {
    Bot::new(chalkbell::config::built_in())
}

/// Everything that was answered, with the events handed over in groups of so many.
async fn answers<U: UseCase>(
    url: &str,
    use_case: U,
    events: &[Event],
    group: usize,
) -> Vec<String> {
    let service = Service::new(Store::open(url).await.unwrap(), use_case);
    let mut answers = Vec::new();
    for some in events.chunks(group) {
        let worker = Worker::new(&service, "a", None);
        let answered = jobs::handle(&worker, some, &mut Vec::new()).await;
        answers.extend(answered.into_iter().map(|answer| format!("{answer:?}")));
    }
    service.close().await;
    answers
}

/// The same with every event handed to the next of several stores on one database: each remembers
/// members that the others change.
async fn answers_in_turn(url: &str, events: &[Event]) -> Vec<String> {
    let mut services = Vec::new();
    for _ in 0..3 {
        services.push(Service::new(Store::open(url).await.unwrap(), bot()));
    }
    let mut answers = Vec::new();
    // Unevenly, so that each store also has some in a row.
    for (number, event) in events.iter().enumerate() {
        let service = &services[number * number / 5 % services.len()];
        answers.push(format!("{:?}", jobs::one(service, event).await));
    }
    for service in services {
        service.close().await;
    }
    answers
}

/// The same events one by one and in groups, on two databases each time, which must not differ.
async fn compare<D: rows::Engine>(
    urls: [&str; 2],
    connect: impl AsyncFn(&str) -> sqlx::Pool<D>,
    use_cases: [impl UseCase; 2],
    events: &[Event],
) {
    let [one, other] = use_cases;
    let expected = answers(urls[0], one, events, 1).await;
    let got = answers(urls[1], other, events, 17).await;
    compare_outcomes(urls, connect, events, expected, got).await;
}

async fn compare_outcomes<D: rows::Engine>(
    urls: [&str; 2],
    connect: impl AsyncFn(&str) -> sqlx::Pool<D>,
    events: &[Event],
    expected: Vec<String>,
    got: Vec<String>,
) {
    for ((event, expected), got) in events.iter().zip(expected).zip(got) {
        assert_eq!(got, expected, "{event:?}");
    }
    let (one, other) = (connect(urls[0]).await, connect(urls[1]).await);
    rows::assert_same(&one, &other).await;
    one.close().await;
    other.close().await;
}

async fn compare_on_sqlite(use_cases: [impl UseCase; 2], events: &[Event]) {
    let folder = TempDir::new().unwrap();
    let urls = ["one", "groups"].map(|name| file_url(&folder.path().join(name)));
    let connect = async |url: &str| SqlitePool::connect(url).await.unwrap();
    compare([&urls[0], &urls[1]], connect, use_cases, events).await;
}

#[test]
fn groups_come_to_what_their_events_come_to_one_by_one() {
    support::engines::runtime().block_on(async {
        for seed in 1..=3 {
            println!("on sqlite, seed {seed}");
            compare_on_sqlite([bot(), bot()], &events(seed, 160)).await;
        }
        let databases = (Database::new().await, Database::new().await);
        if let (Some(one), Some(other)) = databases {
            println!("on postgres");
            let connect = async |url: &str| PgPool::connect(url).await.unwrap();
            let urls = [one.url(), other.url()];
            let urls = [urls[0].as_str(), urls[1].as_str()];
            compare(urls, connect, [bot(), bot()], &events(5, 160)).await;
            one.remove().await;
            other.remove().await;
        }
    });
}

#[test]
fn several_processes_in_turn_come_to_what_one_comes_to() {
    support::engines::runtime().block_on(async {
        let events = events(8, 200);
        let folder = TempDir::new().unwrap();
        let urls = ["one", "several"].map(|name| file_url(&folder.path().join(name)));
        let expected = answers(&urls[0], bot(), &events, 1).await;
        let got = answers_in_turn(&urls[1], &events).await;
        let connect = async |url: &str| SqlitePool::connect(url).await.unwrap();
        let both = [urls[0].as_str(), urls[1].as_str()];
        compare_outcomes(both, connect, &events, expected.clone(), got).await;
        let databases = (Database::new().await, Database::new().await);
        if let (Some(one), Some(other)) = databases {
            let urls = [one.url(), other.url()];
            answers(&urls[0], bot(), &events, 1).await;
            let got = answers_in_turn(&urls[1], &events).await;
            let connect = async |url: &str| PgPool::connect(url).await.unwrap();
            let both = [urls[0].as_str(), urls[1].as_str()];
            compare_outcomes(both, connect, &events, expected, got).await;
            one.remove().await;
            other.remove().await;
        }
    });
}

/// How an event fails.
#[derive(Clone, Copy, Debug)]
enum Fault {
    /// It cannot heal.
    Row,
    /// The connection breaks: by the look of it the database is down.
    Broken,
    Panic,
}

/// The bot, which fails for messages of this id, so many times, and counts what it is asked.
struct Poisoned {
    bot: Bot,
    id: String,
    fault: Fault,
    times: AtomicUsize,
    asked: AtomicUsize,
}

impl UseCase for Poisoned {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        self.asked.fetch_add(1, Ordering::Relaxed);
        let answers = self.bot.one(tx, event).await?;
        let fewer = |left: usize| left.checked_sub(1);
        if event.id() != Some(&self.id)
            || self
                .times
                .fetch_update(Ordering::Relaxed, Ordering::Relaxed, fewer)
                .is_err()
        {
            return Ok(answers);
        }
        let broken = std::io::Error::from(std::io::ErrorKind::ConnectionReset);
        Err(match self.fault {
            Fault::Row => StoreError::RowCount {
                table: "event",
                expected: 1,
                found: 0,
            },
            Fault::Broken => StoreError::Driver(sqlx::Error::Io(broken)),
            Fault::Panic => panic!("as asked"),
        })?
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        self.bot.expect(tx, events).await
    }
}

/// A group of 64 messages of 64 members, of which the 40th fails so many times: how many were not
/// taken, how often an event was worked on, and how long it took.
async fn poisoned(fault: Fault, times: usize, patient: bool) -> (usize, usize, Duration) {
    let use_case = Poisoned {
        bot: bot(),
        id: "m40".to_owned(),
        fault,
        times: AtomicUsize::new(times),
        asked: AtomicUsize::new(0),
    };
    let mut service = Service::new(Store::open("sqlite::memory:").await.unwrap(), use_case);
    if patient {
        service = service.patient();
    }
    let messages: Vec<Event> = (0..64)
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
    let begun = Instant::now();
    let handled = tokio::time::timeout(Duration::from_secs(20), service.handle(&messages));
    let answers = handled.await.expect("nobody waits for ever");
    let took = begun.elapsed();
    assert_eq!(answers.len(), messages.len());
    for (event, answer) in messages.iter().zip(&answers) {
        assert!(
            answer.is_ok() || event.id() == Some("m40"),
            "{event:?}: {answer:?}"
        );
    }
    let failed = answers.iter().filter(|answer| answer.is_err()).count();
    (
        failed,
        service.use_case().asked.load(Ordering::Relaxed),
        took,
    )
}

#[test]
fn event_that_fails_costs_no_other_and_is_not_tried_for_long() {
    support::engines::runtime().block_on(async {
        for patient in [false, true] {
            for fault in [Fault::Row, Fault::Broken, Fault::Panic] {
                let (failed, asked, took) = poisoned(fault, usize::MAX, patient).await;
                println!("{fault:?}, patient {patient}: {asked} tries, {took:?}");
                assert_eq!(failed, 1);
                // Each half in which it is once more, and then the event alone.
                assert!(asked < 64 + 2 * 64 + 10, "{asked}");
                assert!(took < Duration::from_secs(4), "{took:?}");
            }
        }
        // What passes costs nobody anything.
        let (failed, ..) = poisoned(Fault::Broken, 3, true).await;
        assert_eq!(failed, 0);
    });
}

/// The bot, which fails after it has stored everything of some events.
struct Failing(Bot);

impl UseCase for Failing {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let answers = self.0.one(tx, event).await?;
        match event {
            Event::Message(message) if message.id.ends_with('7') => Err(StoreError::RowCount {
                table: "event",
                expected: 1,
                found: 0,
            })?,
            Event::Message(message) if message.id.ends_with("3") => panic!("as asked"),
            _ => Ok(answers),
        }
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        self.0.expect(tx, events).await
    }
}

#[test]
fn nothing_of_a_group_that_failed_is_left_when_its_events_are_played_one_by_one() {
    support::engines::runtime().block_on(async {
        let events = events(6, 160);
        compare_on_sqlite([Failing(bot()), Failing(bot())], &events).await;
        let fails = events.iter().filter(|event| match event {
            Event::Message(message) => message.id.ends_with(['3', '7']),
            _ => false,
        });
        assert!(fails.count() > 12, "too few to tell");
    });
}
