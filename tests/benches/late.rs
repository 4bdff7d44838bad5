//! What is done to a long log after the fact, each with and without what makes it short, in one run:
//! `cargo bench --bench late`.
//!
//! - An edit of the last set and of an early one, with the checkpoints and after they were thrown away.
//! - `/forget` in a team with a million answered messages, before and after old answers are dropped, the
//!   longest that anybody else waits for a portion of what is emptied and dropped, and the disk that a
//!   set takes before and after.
//! - A whole database moved to the other engine and back, and looked through.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, prints, and may fail where it stands"
)]

#[path = "../support/mod.rs"]
mod support;

use std::time::{Duration, Instant};

use chalkbell::bot::event::{Edit, Event, Message, Press};
use chalkbell::bot::reply::Outgoing;
use chalkbell::service::{Bot, Service, check};
use chalkbell::store::{Store, copy, file_url};
use chrono::{DateTime, TimeDelta, Utc};
use sqlx::{AssertSqlSafe, Connection as _, Executor as _, PgConnection, SqliteConnection};
use tempfile::TempDir;

/// Sets of a session, of four lifts.
const SESSION: usize = 20;
/// Answered messages of others.
const ANSWERED: usize = 1_000_000;
/// Sets that are moved.
const MOVED: usize = 200_000;
/// Those among them that are posted; the others are copies, each member's a log like it.
const LOGGED: usize = 2000;
const LIFTS: [(&str, usize); 4] = [
    ("back squat", 100),
    ("bench press", 70),
    ("barbell row", 60),
    ("overhead press", 40),
];

fn main() {
    let wanted = std::env::args().nth(1).filter(|one| !one.starts_with('-'));
    let is_wanted = |part: &str| wanted.as_deref().is_none_or(|one| one == part);
    support::engines::runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let database = support::postgres::Database::new().await;
        let file = file_url(&folder.path().join("late.db"));
        let urls = database.as_ref().map(support::postgres::Database::url);
        for url in std::iter::once(file).chain(urls) {
            println!("{}", url.split(':').next().unwrap_or_default());
            if is_wanted("edits") {
                for sets in [3000, 10_000] {
                    changes(&url, sets).await;
                }
            }
            if is_wanted("answers") {
                answers(&url).await;
            }
        }
        if is_wanted("move") {
            moved(&folder).await;
        }
        if let Some(database) = database {
            database.remove().await;
        }
    });
}

async fn service(url: &str) -> Service<Bot> {
    let bot = Bot::new(chalkbell::config::built_in());
    Service::new(Store::open(url).await.unwrap(), bot)
}

/// Runs a statement past the store.
async fn run(url: &str, statement: &str) {
    let statement = AssertSqlSafe(statement.to_owned());
    if url.starts_with("sqlite") {
        let mut connection = SqliteConnection::connect(url).await.unwrap();
        connection.execute(statement).await.unwrap();
        connection.close().await.unwrap();
    } else {
        let mut connection = PgConnection::connect(url).await.unwrap();
        connection.execute(statement).await.unwrap();
        connection.close().await.unwrap();
    }
}

/// How many bytes of disk are in use.
async fn size(url: &str) -> i64 {
    const SQLITE: &str = "select (page_count - freelist_count) * page_size
        from pragma_page_count(), pragma_freelist_count(), pragma_page_size()";
    const POSTGRES: &str = "select pg_database_size(current_database())";
    if url.starts_with("sqlite") {
        let mut connection = SqliteConnection::connect(url).await.unwrap();
        let size = sqlx::query_scalar(SQLITE);
        return size.fetch_one(&mut connection).await.unwrap();
    }
    run(url, "vacuum full").await;
    let mut connection = PgConnection::connect(url).await.unwrap();
    let size = sqlx::query_scalar(POSTGRES);
    size.fetch_one(&mut connection).await.unwrap()
}

fn start() -> DateTime<Utc> {
    "2025-01-06T17:00:00Z".parse().unwrap()
}

/// When the set with this number is posted: a session on every other day.
fn at(n: usize) -> DateTime<Utc> {
    let (session, set) = (n / SESSION, n % SESSION);
    start()
        + TimeDelta::days(i64::try_from(2 * session).unwrap())
        + TimeDelta::minutes(i64::try_from(3 * set).unwrap())
}

fn text(n: usize) -> String {
    let (session, set) = (n / SESSION, n % SESSION);
    let (lift, kg) = LIFTS[set / (SESSION / LIFTS.len())];
    let kg = kg + session / 40;
    let reps = 10 - set % 5 / 2;
    match n % 3 {
        0 => format!("{lift} {kg}x{reps}"),
        _ => format!("{lift} {kg}x{reps}, 2 left"),
    }
}

fn message(author: &str, n: usize) -> Event {
    Event::Message(Message {
        id: format!("{author}{n}"),
        team: "rowers".to_owned(),
        channel: "1309876543210987654".to_owned(),
        author: author.to_owned(),
        name: author.to_owned(),
        coach: false,
        at: at(n),
        text: text(n),
    })
}

/// Posts a member's log, in the order of time.
async fn log(service: &Service<Bot>, author: &str, sets: usize) {
    let events: Vec<Event> = (0..sets).map(|n| message(author, n)).collect();
    for some in events.chunks(100) {
        for answer in service.handle(some).await {
            answer.unwrap();
        }
    }
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

/// Edits a message some times, to and fro; the middle of the times, milliseconds.
async fn edited(service: &Service<Bot>, author: &str, n: usize, sets: usize) -> f64 {
    let mut times = Vec::new();
    for round in 0..5 {
        let reps = [6, 7][round % 2];
        let text = text(n);
        let text = format!("{}x{reps}, 1 left", text.split('x').next().unwrap());
        let edit = Event::Edit(Edit {
            id: format!("{author}{n}"),
            team: "rowers".to_owned(),
            at: at(sets) + TimeDelta::minutes(i64::try_from(round).unwrap()),
            text,
        });
        let begun = Instant::now();
        let out = service.one(&edit).await.unwrap();
        times.push(ms(begun.elapsed()));
        assert!(
            out.iter().any(|one| matches!(one, Outgoing::Mark(_))),
            "{out:?}"
        );
    }
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

async fn changes(url: &str, sets: usize) {
    let author = format!("a{sets}-");
    let first = service(url).await;
    let begun = Instant::now();
    log(&first, &author, sets).await;
    let logged = ms(begun.elapsed()) / sets as f64;
    let last = edited(&first, &author, sets - 1, sets).await;
    let yesterday = edited(&first, &author, sets - SESSION - 1, sets).await;
    let early = edited(&first, &author, 10, sets).await;
    // The last but one: an edit that was made before would be answered as before.
    let again = edited(&first, &author, sets - 2, sets).await;
    first.close().await;
    run(url, "delete from checkpoint").await;
    let without = service(url).await;
    // Each edit notes them anew, so they are thrown away before each.
    let mut whole = Vec::new();
    for _ in 0..3 {
        run(url, "delete from checkpoint").await;
        let begun = Instant::now();
        edited_once(&without, &author, sets - 1, sets, whole.len()).await;
        whole.push(ms(begun.elapsed()));
    }
    whole.sort_by(f64::total_cmp);
    without.close().await;
    println!(
        "  {sets} sets ({logged:.2} ms each to log): edit of the last {last:.2} ms, of the session before {yesterday:.2} ms, of an early one {early:.1} ms, of a late one after that {again:.2} ms; of the last without checkpoints {:.1} ms",
        whole[1]
    );
}

async fn edited_once(service: &Service<Bot>, author: &str, n: usize, sets: usize, round: usize) {
    let edit = Event::Edit(Edit {
        id: format!("{author}{n}"),
        team: "rowers".to_owned(),
        at: at(sets) + TimeDelta::minutes(100 + i64::try_from(round).unwrap()),
        text: format!("{}x{}", text(n).split('x').next().unwrap(), 8 + round),
    });
    service.one(&edit).await.unwrap();
}

/// A member who asks to be forgotten and confirms; how long the answer to that takes.
async fn forgets(service: &Service<Bot>, author: &str) -> f64 {
    log(service, author, 100).await;
    let at = at(100);
    let ask = Event::Message(Message {
        id: format!("{author}-forget"),
        team: "rowers".to_owned(),
        channel: "1309876543210987654".to_owned(),
        author: author.to_owned(),
        name: author.to_owned(),
        coach: false,
        at,
        text: "/forget".to_owned(),
    });
    let out = service.one(&ask).await.unwrap();
    let (reply, button) = out
        .iter()
        .find_map(|one| match one {
            Outgoing::Reply(reply) => Some((reply.id.clone(), reply.buttons.first()?.id.clone())),
            _ => None,
        })
        .expect("a question");
    let press = Event::Press(Press {
        id: Some(format!("{author}-yes")),
        reply,
        team: "rowers".to_owned(),
        author: author.to_owned(),
        button,
        at: at + TimeDelta::seconds(5),
    });
    let begun = Instant::now();
    service.one(&press).await.unwrap();
    ms(begun.elapsed())
}

async fn answers(url: &str) {
    service(url).await.close().await;
    let empty = size(url).await;
    let first = service(url).await;
    log(&first, "bo", 3000).await;
    first.close().await;
    let before = size(url).await;
    let first = service(url).await;
    while first.store().prune(at(3000)).await.unwrap() {}
    first.close().await;
    let after = size(url).await;
    let each = |bytes: i64| (bytes - empty) / 3000;
    println!(
        "  a set of 3000: {} bytes of disk, {} once old answers are dropped",
        each(before),
        each(after)
    );
    // As long as an answer with a card.
    let outcome = format!("[{{\"type\":\"reply\",\"text\":\"{}\"}}]", "x".repeat(700));
    let many = format!(
        "insert into event (team_id, id, author, channel, at_ms, outcome)
         with recursive n (i) as (select 1 union all select i + 1 from n where i < {ANSWERED})
         select 1, 'many' || i, 'author' || (i % 1000), 'gym', {} + i * cast(30000 as bigint), '{}' from n",
        start().timestamp_millis() - 400 * 86_400_000,
        outcome.replace("\"type\":\"reply\",", "\"type\":\"mark\",\"answers\":\"m\",\"team\":\"rowers\",\"as\":\"filed\",")
    );
    run(url, &many).await;
    let first = service(url).await;
    let slow = forgets(&first, "cy").await;
    let store = first.store();
    let emptied = in_portions(async || store.empty_answers().await.unwrap()).await;
    let dropped = in_portions(async || store.prune(at(100)).await.unwrap()).await;
    let quick = forgets(&first, "di").await;
    first.close().await;
    println!(
        "  /forget beside {ANSWERED} answers: {slow:.0} ms while all are kept, and then answers to others: {emptied}; {quick:.1} ms once old ones are dropped: {dropped}"
    );
}

/// Does something until there is no more of it, and says how long it took.
async fn in_portions(one: impl AsyncFn() -> bool) -> String {
    let (mut longest, mut portions) = (0.0_f64, 0);
    let begun = Instant::now();
    loop {
        let from = Instant::now();
        let more = one().await;
        longest = longest.max(ms(from.elapsed()));
        portions += 1;
        if !more {
            break;
        }
    }
    let took = ms(begun.elapsed());
    format!("{portions} portions, the longest {longest:.1} ms, {took:.0} ms in all")
}

/// Statements that copy the one member there is, with the log and all that was learned of it.
fn copies() -> [String; 4] {
    let numbers = format!(
        "with recursive n (i) as (select 2 union all select i + 1 from n where i < {})",
        MOVED / LOGGED
    );
    let of_each = |table: &str, columns: &str| {
        format!(
            "{numbers} insert into {table} (member_id, {columns}) select i, {columns} from {table}, n
             where member_id = 1"
        )
    };
    let member = format!(
        "{numbers} insert into member (id, team_id, author, name, coach, profile, desk, condition)
         select i, team_id, author || i, name || i, coach, profile, desk, condition from member, n
         where id = 1"
    );
    [
        member,
        of_each(
            "training_set",
            "team_id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms, timed,
             stated_rest_s, day, message, channel, place, order_in_day, technique, asked_rir, said,
             judged_left, gave_out",
        ),
        of_each("belief", "exercise, state"),
        of_each("checkpoint", "at_ms, exercise, state, bests"),
    ]
}

async fn moved(folder: &TempDir) {
    let from = file_url(&folder.path().join("from.db"));
    let first = service(&from).await;
    log(&first, "ed", LOGGED).await;
    first.close().await;
    for more in copies() {
        run(&from, &more).await;
    }
    let databases = support::postgres::Database::new().await;
    let mut places = vec![from];
    places.extend(databases.as_ref().map(support::postgres::Database::url));
    places.push(file_url(&folder.path().join("to.db")));
    for pair in places.windows(2) {
        let (from, to) = (
            Store::open(&pair[0]).await.unwrap(),
            Store::open(&pair[1]).await.unwrap(),
        );
        let begun = Instant::now();
        copy::copy(&from, &to).await.unwrap();
        println!(
            "  {MOVED} sets moved to {}: {:.1} s",
            pair[1].split(':').next().unwrap_or_default(),
            begun.elapsed().as_secs_f64()
        );
        from.close().await;
        to.close().await;
    }
    let store = Store::open(&places[0]).await.unwrap();
    let bot = Bot::new(chalkbell::config::built_in());
    let begun = Instant::now();
    let found = check::check(&store, &bot, at(2000), false).await.unwrap();
    println!(
        "  {} sets of {} members looked through: {:.1} s",
        found.sets,
        found.members,
        begun.elapsed().as_secs_f64()
    );
    assert!(found.is_well() && found.sets == MOVED, "{found:?}");
    store.close().await;
    if let Some(database) = databases {
        database.remove().await;
    }
}
