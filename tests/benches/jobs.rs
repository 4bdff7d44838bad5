//! What must stand of bells and digests: `cargo bench --bench jobs`.
//!
//! With 100,000 bells waiting it is seen in under 1 ms when the next is due; of 10,000 that are due
//! within one minute each rings within 500 ms of its time, in real time; the digest of a team of
//! 1,000, with everybody's own week and all pictures, takes less than 10 s on two cores, and bells
//! that fall due meanwhile ring within 500 ms, too. Parts that can be named: `next`, `digest` (with
//! `/attention`), `minute`.
#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, prints, and may fail where it stands"
)]

#[path = "../support/mod.rs"]
mod support;

use std::pin::pin;
use std::time::{Duration, Instant};

use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::reply::Outgoing;
use chalkbell::channel::gallery::Gallery;
use chalkbell::config;
use chalkbell::jobs::{Done, Keep, Worker, watch};
use chalkbell::service::long::Progress;
use chalkbell::service::{Bot, Service};
use chalkbell::store::{Store, file_url};
use chrono::{DateTime, TimeDelta, Utc};
use sqlx::{AssertSqlSafe, PgPool, SqlitePool};
use support::postgres::Database;
use tempfile::TempDir;

fn main() {
    let wanted = std::env::args().nth(1).filter(|one| !one.starts_with('-'));
    let is_wanted = |part: &str| wanted.as_deref().is_none_or(|one| one == part);
    support::engines::runtime().block_on(async {
        if is_wanted("next") {
            next_due().await;
        }
        if is_wanted("digest") {
            digest().await;
        }
        if is_wanted("minute") {
            same_minute().await;
        }
    });
}

// --- the next of many ----------------------------------------------------------------------------

const WAITING: u64 = 100_000;

async fn next_due() {
    let folder = TempDir::new().unwrap();
    let url = file_url(&folder.path().join("club"));
    Store::open(&url).await.unwrap().close().await;
    let pool = SqlitePool::connect(&url).await.unwrap();
    for text in
        waiting("with recursive n(i) as (select 1 union all select i + 1 from n where i < MANY)")
    {
        sqlx::query(AssertSqlSafe(text))
            .execute(&pool)
            .await
            .unwrap();
    }
    pool.close().await;
    time_next_due("SQLite file", &url).await;
    if let Some(database) = Database::new().await {
        Store::open(&database.url()).await.unwrap().close().await;
        let pool = PgPool::connect(&database.url()).await.unwrap();
        for text in waiting("with n(i) as (select generate_series(1, MANY))") {
            sqlx::query(AssertSqlSafe(text))
                .execute(&pool)
                .await
                .unwrap();
        }
        pool.close().await;
        time_next_due("PostgreSQL", &database.url()).await;
        database.remove().await;
    }
}

/// Members with a bell each; `series` lists the numbers up to MANY.
fn waiting(series: &str) -> [String; 3] {
    let numbers = series.replace("MANY", &WAITING.to_string());
    [
        "insert into team (key, settings) values ('club', '{}')".to_owned(),
        format!(
            "insert into member (team_id, author, name, coach, profile, desk)
             {numbers} select 1, 'u' || i, 'Name', 0, '{{}}', '{{}}' from n"
        ),
        format!(
            "insert into job (key, team_id, member_id, kind, due_ms, turn_ms, payload)
             {numbers} select 'bell/' || i, 1, i, 'bell', 1768219200000 + i, 1768219200000 + i,
             '{{\"exercise\":\"bench press\",\"channel\":\"gym\",\"moved\":0}}' from n"
        ),
    ]
}

async fn time_next_due(label: &str, url: &str) {
    let store = Store::open(url).await.unwrap();
    let mut times = Vec::new();
    for _ in 0..1000 {
        let begun = Instant::now();
        assert!(store.next_due(None).await.unwrap().is_some());
        times.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    times.sort_unstable_by(f64::total_cmp);
    let (middle, most) = (times[times.len() / 2], times[times.len() - 1]);
    println!("{label}: next of {WAITING} bells: median {middle:.3} ms, longest {most:.3} ms");
    assert!(middle < 1.0, "{middle} ms");
    store.close().await;
}

// --- many in one minute --------------------------------------------------------------------------

const TEAMS: u32 = 200;
const LIFTERS: u32 = 50;

fn now() -> DateTime<Utc> {
    DateTime::from_timestamp_millis(Utc::now().timestamp_millis()).unwrap()
}

fn posted(team: &str, author: u32, at: DateTime<Utc>, text: &str) -> Event {
    Event::Message(Message {
        id: format!("{author}.{}", at.timestamp_millis()),
        team: team.to_owned(),
        channel: "gym".to_owned(),
        author: format!("u{author}"),
        name: format!("Lifter {author}"),
        coach: false,
        at,
        text: text.to_owned(),
    })
}

async fn same_minute() {
    let folder = TempDir::new().unwrap();
    let url = file_url(&folder.path().join("club"));
    let service = Service::new(
        Store::open(&url).await.unwrap(),
        Bot::new(config::built_in()),
    );
    for team in 0..TEAMS {
        let one = |n| posted(&format!("club {team}"), n, now(), "bench 80x10, 2 left");
        let events: Vec<Event> = (0..LIFTERS).map(one).collect();
        for answer in service.handle(&events).await {
            answer.unwrap();
        }
    }
    service.close().await;
    let count = i64::from(TEAMS * LIFTERS);
    let begin = now() + TimeDelta::seconds(3);
    let pool = SqlitePool::connect(&url).await.unwrap();
    // Each bell of every team at another moment of the minute.
    let text = "update job set due_ms = $1 + (member_id * 7919 % $2) * 60000 / $2,
                    turn_ms = $1 + (member_id * 7919 % $2) * 60000 / $2 where kind = 'bell'";
    let spread = sqlx::query(text).bind(begin.timestamp_millis()).bind(count);
    spread.execute(&pool).await.unwrap();
    pool.close().await;
    let service = Service::new(
        Store::open(&url).await.unwrap(),
        Bot::new(config::built_in()),
    );
    let mut late = lateness(&service, usize::try_from(count).unwrap()).await;
    late.sort_unstable();
    let (middle, most) = (late[late.len() / 2], late[late.len() - 1]);
    let nearly = late[late.len() * 99 / 100];
    println!(
        "{count} bells in one minute: late by {middle} ms (median), {nearly} ms (99 of 100), \
         {most} ms (longest)"
    );
    assert!(late[0] >= 0 && most < 500, "{} to {most} ms", late[0]);
    service.close().await;
}

/// How late each of so many bells rings, milliseconds.
async fn lateness(service: &Service<Bot>, bells: usize) -> Vec<i64> {
    let keep = Keep {
        clock: None,
        via: "discord",
        lease: Duration::from_secs(60),
    };
    let worker = Worker::new(service, "bench", Some(keep));
    let mut late = Vec::new();
    while late.len() < bells {
        watch::until_due(service.store(), None, now, false)
            .await
            .unwrap();
        let mut done = Vec::new();
        worker.step(now(), &mut done).await.unwrap();
        let rung = now().timestamp_millis();
        late.extend(
            done.iter()
                .filter(|done| rings(done))
                .map(|done| rung - due(done)),
        );
    }
    late
}

fn rings(done: &Done) -> bool {
    let calls = |one: &Outgoing| matches!(one, Outgoing::Reply(r) if !r.mentions.is_empty());
    done.out.iter().any(calls)
}

// --- a large team's digest -----------------------------------------------------------------------

const MEMBERS: u32 = 1000;
/// Members whose week is played; the others have copies.
const PLAYED: u32 = 10;
const LIFTS: [(&str, u32); 5] = [
    ("bench", 60),
    ("squat", 90),
    ("barbell row", 55),
    ("overhead press", 35),
    ("barbell curl", 25),
];

async fn digest() {
    let folder = TempDir::new().unwrap();
    let url = file_url(&folder.path().join("club"));
    let service = Service::new(
        Store::open(&url).await.unwrap(),
        Bot::new(config::built_in()),
    );
    let monday: DateTime<Utc> = "2026-11-23T17:00:00Z".parse().unwrap();
    for author in 0..PLAYED {
        for day in 0..3 {
            let mut at = monday + TimeDelta::days(2 * day);
            for (lift, kg) in LIFTS {
                for reps in [10, 9, 8, 8] {
                    let text = format!("{lift} {}x{reps}, 2 left", kg + author % 3 * 5);
                    service
                        .one(&posted("club", author, at, &text))
                        .await
                        .unwrap();
                    at += TimeDelta::minutes(3);
                }
            }
        }
    }
    service.close().await;
    let pool = SqlitePool::connect(&url).await.unwrap();
    for text in copies() {
        sqlx::query(AssertSqlSafe(text))
            .execute(&pool)
            .await
            .unwrap();
    }
    pool.close().await;
    let service = Service::new(
        Store::open(&url).await.unwrap(),
        Bot::new(config::built_in()),
    );
    let at = "2026-11-29T18:00:00Z".parse().unwrap();
    let plain = plain_sums(&url).await;
    attention(&service, at - TimeDelta::hours(1), plain).await;
    let worker = Worker::new(&service, "bench", None);
    let begun = Instant::now();
    // After each step somebody else's message is answered.
    let (mut done, mut longest, mut waited) = (Vec::new(), Duration::ZERO, Duration::ZERO);
    let (mut step, mut others) = (Instant::now(), 0);
    while worker.step(at, &mut done).await.unwrap() {
        longest = longest.max(step.elapsed());
        if done.is_empty() || others % 8 == 0 {
            let other = posted("club", 5000 + others, at, "bench 60x8, 2 left");
            service.one(&other).await.unwrap();
            waited = waited.max(step.elapsed());
        }
        others += 1;
        step = Instant::now();
    }
    let mut out: Vec<Outgoing> = done.into_iter().flat_map(|done| done.out).collect();
    let worked_out = begun.elapsed().as_secs_f64();
    let pictures = folder.path().join("pictures");
    let gallery = Gallery::new(Some(pictures.clone()));
    let bells = ready_bells(200).await;
    let drawing = Instant::now();
    let hang = async {
        gallery.hang(&mut out).await;
        drawing.elapsed().as_secs_f64()
    };
    let (drawn, mut late) = tokio::join!(hang, lateness(&bells.service, bells.count));
    let sizes = std::fs::read_dir(&pictures).unwrap();
    let sizes: Vec<u64> = sizes
        .map(|one| one.unwrap().metadata().unwrap().len())
        .collect();
    let largest = sizes.iter().max().unwrap();
    late.sort_unstable();
    let (middle, most) = (late[late.len() / 2], late[late.len() - 1]);
    println!(
        "digest of {MEMBERS} members with {} sets each, {} messages: worked out in {worked_out:.2} s, \
         the longest step {:.0} ms, with a message of somebody else's {:.0} ms; {} pictures in {drawn:.2} s, {largest} bytes at most; \
         bells meanwhile late by {middle} ms (median), {most} ms (longest)",
        LIFTS.len() * 12,
        out.len(),
        longest.as_secs_f64() * 1e3,
        waited.as_secs_f64() * 1e3,
        sizes.len(),
    );
    // The team's, the coach's, and everybody's own.
    let of_digest =
        |one: &&Outgoing| matches!(one, Outgoing::Reply(reply) if !reply.id.contains("bell"));
    assert_eq!(
        out.iter().filter(of_digest).count(),
        usize::try_from(MEMBERS).unwrap() + 2
    );
    assert!(*largest <= 200_000, "{largest} bytes");
    let seconds = worked_out + drawn;
    assert!(seconds < 10.0, "{seconds} s");
    assert!(most < 500, "{most} ms");
    service.close().await;
}

/// How long the plain sums of the week take, milliseconds.
async fn plain_sums(url: &str) -> f64 {
    const PLAIN: &str = "select member_id, exercise, count(*) as sets from training_set
         where team_id = 1 and day between '2026-11-23' and '2026-11-29'
         group by member_id, exercise";
    let pool = SqlitePool::connect(url).await.unwrap();
    let mut times = Vec::new();
    for _ in 0..5 {
        let begun = Instant::now();
        let rows = sqlx::query(PLAIN).fetch_all(&pool).await.unwrap();
        assert_eq!(rows.len(), LIFTS.len() * usize::try_from(MEMBERS).unwrap());
        times.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    pool.close().await;
    times.sort_unstable_by(f64::total_cmp);
    times[times.len() / 2]
}

/// `/attention` of the whole team, and what it takes beside the plain sums.
async fn attention(service: &Service<Bot>, at: DateTime<Utc>, plain: f64) {
    let before = resident("VmRSS");
    let (mut times, mut waits) = (Vec::new(), Vec::new());
    for round in 0..9 {
        let mut event = posted("club", 0, at + TimeDelta::seconds(round), "/attention");
        if let Event::Message(message) = &mut event {
            message.coach = true;
        }
        let begun = Instant::now();
        // The even ones alone, the odd ones while somebody else posts one message after the other.
        if round % 2 == 0 {
            let out = service.one(&event).await.unwrap();
            times.push(begun.elapsed().as_secs_f64() * 1e3);
            assert_eq!(out.len(), 1, "{out:?}");
            continue;
        }
        let progress = Progress::default();
        let mut looking = pin!(service.long(&event, &progress));
        loop {
            let posting = Instant::now();
            let n = 2000 + u32::try_from(waits.len()).unwrap();
            let other = posted("club", n, at, "bench 60x8, 2 left");
            let mut others = pin!(service.one(&other));
            tokio::select! {
                biased;
                out = &mut looking => break drop(out.unwrap()),
                out = &mut others => {
                    out.unwrap();
                    waits.push(posting.elapsed().as_secs_f64() * 1e3);
                }
            }
        }
    }
    times.sort_unstable_by(f64::total_cmp);
    waits.sort_unstable_by(f64::total_cmp);
    println!(
        "meanwhile {} messages of others were answered, in {:.1} ms (median), {:.1} ms (longest)",
        waits.len(),
        waits[waits.len() / 2],
        waits[waits.len() - 1],
    );
    println!(
        "/attention of {MEMBERS} members with {} sets each: {:.0} ms ({:.0} to {:.0}), the plain sums {plain:.0} ms; \
         {before:.0} MB resident before, {:.0} after, {:.0} at most",
        LIFTS.len() * 12,
        times[times.len() / 2],
        times[0],
        times[times.len() - 1],
        resident("VmRSS"),
        resident("VmHWM"),
    );
}

/// A line of what the system says of this process's memory, megabytes.
fn resident(line: &str) -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap();
    let found = status.lines().find_map(|text| text.strip_prefix(line));
    let kb = found.and_then(|text| text.split_whitespace().nth(1));
    kb.unwrap().parse::<f64>().unwrap() / 1024.0
}

/// Bells of a club of its own that are going to ring, one in 10 ms.
struct Bells {
    service: Service<Bot>,
    count: usize,
    _folder: TempDir,
}

async fn ready_bells(count: u32) -> Bells {
    let folder = TempDir::new().unwrap();
    let url = file_url(&folder.path().join("club"));
    let bot = || Bot::new(config::built_in());
    let service = Service::new(Store::open(&url).await.unwrap(), bot());
    for author in 0..count {
        let event = posted("club", author, now(), "bench 80x10, 2 left");
        service.one(&event).await.unwrap();
    }
    service.close().await;
    let pool = SqlitePool::connect(&url).await.unwrap();
    let text = "update job set due_ms = $1 + member_id * 10, turn_ms = $1 + member_id * 10
                where kind = 'bell'";
    let begin = now() + TimeDelta::milliseconds(300);
    let moved = sqlx::query(text).bind(begin.timestamp_millis());
    moved.execute(&pool).await.unwrap();
    pool.close().await;
    Bells {
        service: Service::new(Store::open(&url).await.unwrap(), bot()),
        count: count.try_into().unwrap(),
        _folder: folder,
    }
}

/// When a job was due, milliseconds.
fn due(done: &Done) -> i64 {
    done.kept.rsplit('/').next().unwrap().parse().unwrap()
}

fn copies() -> Vec<String> {
    let numbers = format!(
        "with recursive n(i) as (select {PLAYED} + 1 union all select i + 1 from n where i < {MEMBERS})"
    );
    let like = format!("(i - 1) % {PLAYED} + 1");
    vec![
        format!(
            "insert into member (id, team_id, author, name, coach, profile, desk, condition)
             {numbers} select i, 1, 'u' || i, 'Lifter ' || i, 0, '{{}}', '{{}}', condition
             from n join member on member.id = {like}"
        ),
        format!(
            "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir,
                 kind, per_side, at_ms, timed, stated_rest_s, day, message, channel, place,
                 order_in_day, technique, asked_rir, said, judged_left, gave_out)
             {numbers} select team_id, i, exercise, load, unit, basis, reps, rir,
                 kind, per_side, at_ms, timed, stated_rest_s, day, message, channel, place,
                 order_in_day, technique, asked_rir, said, judged_left, gave_out
             from n join training_set on member_id = {like}"
        ),
        format!(
            "insert into belief (member_id, exercise, state)
             {numbers} select i, exercise, state from n join belief on member_id = {like}"
        ),
        "update member set profile = '{\"own_week\":true}', version = version + 1".to_owned(),
        "update member set coach = 1 where id = 1".to_owned(),
        "delete from job where kind = 'bell'".to_owned(),
    ]
}
