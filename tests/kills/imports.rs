//! A long log is taken over beside all else: others are answered meanwhile, nobody sees a part of it, and
//! a process that is killed leaves all of it or nothing.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test may fail where it stands, and say why"
)]

use std::cell::Cell;
use std::io::{BufRead as _, Write as _};
use std::process::Stdio;

use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::reply::Outgoing;
use chalkbell::config;
use chalkbell::service::check::check;
use chalkbell::service::long::Progress;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde_json::{Value, json};
use sqlx::{AssertSqlSafe, Connection as _};
use tempfile::TempDir;

use crate::support::engines::{Place, on_every_engine, runtime};
use crate::support::postgres;
use crate::support::program::Program;

const TEAM: &str = "rowing club";
const HEAD: &str = "member,date,time,exercise,load,unit,reps,left\n";

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().unwrap()
}

fn message(author: &str, number: i64, text: &str) -> Message {
    Message {
        id: format!("{author}.{number}"),
        team: TEAM.to_owned(),
        channel: "winter".to_owned(),
        author: author.to_owned(),
        name: author.to_owned(),
        coach: author == "adair",
        at: start() + Duration::seconds(90 * number),
        text: text.to_owned(),
    }
}

fn event(author: &str, number: i64, text: &str) -> Event {
    Event::Message(message(author, number, text))
}

fn line(message: &Message) -> Value {
    json!({"type": "message", "id": message.id, "team": message.team, "channel": message.channel,
        "author": message.author, "name": message.name, "coach": message.coach,
        "at": message.at, "text": message.text})
}

/// So many sets of each of so many members, some without what was left.
fn log(members: usize, sets: usize) -> String {
    let mut text = format!("/import\n{HEAD}");
    let exercises = ["back squat", "bench press", "barbell row"];
    let first: NaiveDate = "2025-01-06".parse().unwrap();
    for member in 0..members {
        for set in 0..sets {
            let day = first + Duration::days(i64::try_from(set / 12).unwrap());
            let (minute, exercise) = (set % 12 * 4, exercises[set % 12 / 4]);
            let (load, left) = (40 + set % 12 / 4 * 10, ["2", "1", ""][set % 3]);
            text.push_str(&format!(
                "r{member},{day},18:{minute:02},{exercise},{load},kg,{},{left}\n",
                10 - set % 3
            ));
        }
    }
    text
}

async fn world(store: Store, members: usize) -> Service<Bot> {
    let service = Service::new(store, Bot::new(config::built_in()));
    for member in 0..members {
        let hello = event(&format!("r{member}"), 0, "hello");
        service.one(&hello).await.unwrap();
    }
    service
}

fn texts(out: &[Outgoing]) -> Vec<&str> {
    fn text(one: &Outgoing) -> Option<&str> {
        match one {
            Outgoing::Reply(reply) => Some(reply.text.as_str()),
            _ => None,
        }
    }
    out.iter().filter_map(text).collect()
}

/// The sets that each of the members is seen to have.
async fn seen(store: &Store, members: usize) -> Vec<usize> {
    let mut counts = Vec::new();
    let catalogue = config::built_in();
    for member in 0..members {
        let mut tx = store.begin().await.unwrap();
        let team = tx.team(TEAM).await.unwrap();
        let member = tx.member(&team, &format!("r{member}")).await.unwrap();
        counts.push(
            tx.sets_all(&member.unwrap(), &catalogue)
                .await
                .unwrap()
                .len(),
        );
        tx.rollback().await.unwrap();
    }
    counts
}

async fn count(url: &str, what: &str) -> i64 {
    let text = AssertSqlSafe(format!("select count(*) from {what}"));
    if url.starts_with("postgres") {
        let mut connection = sqlx::PgConnection::connect(url).await.unwrap();
        sqlx::query_scalar(text)
            .fetch_one(&mut connection)
            .await
            .unwrap()
    } else {
        let mut connection = sqlx::SqliteConnection::connect(url).await.unwrap();
        sqlx::query_scalar(text)
            .fetch_one(&mut connection)
            .await
            .unwrap()
    }
}

async fn execute(url: &str, text: &'static str) {
    if url.starts_with("postgres") {
        let mut connection = sqlx::PgConnection::connect(url).await.unwrap();
        sqlx::query(text).execute(&mut connection).await.unwrap();
    } else {
        let mut connection = sqlx::SqliteConnection::connect(url).await.unwrap();
        sqlx::query(text).execute(&mut connection).await.unwrap();
    }
}

#[test]
fn others_are_answered_while_a_log_is_taken_over_and_see_nothing_of_it() {
    on_every_engine(async |place: &Place| {
        let service = world(place.open().await, 4).await;
        let import = event("adair", 1, &log(4, 600));
        let (to, mut told) = tokio::sync::mpsc::unbounded_channel();
        let progress = Progress::reporting_to(to);
        let over = Cell::new(false);
        let taking = async {
            let out = service.long(&import, &progress).await.unwrap();
            over.set(true);
            out
        };
        let others = async {
            let mut answered = 0;
            while !over.get() {
                let counts = seen(service.store(), 4).await;
                let all = over.get();
                let none = |counts: &[usize]| counts.iter().all(|&count| count <= 1);
                if !all && !none(&counts) {
                    // Each member is read in a transaction of its own, so the one commit that shows all
                    // may have come between two of them: then all of it is there.
                    let again = seen(service.store(), 4).await;
                    assert!(
                        again.iter().all(|&count| count >= 600),
                        "{counts:?}, then {again:?} before it was over"
                    );
                }
                // One of those whom the log names, and one whom it does not.
                let who = if answered == 3 { "r1" } else { "ines" };
                let set = event(who, 10 + answered, "squat 80x8, 2 left");
                service.one(&set).await.unwrap();
                if !over.get() {
                    answered += 1;
                }
            }
            answered
        };
        let (out, answered) = tokio::join!(taking, others);
        println!("{answered} were answered meanwhile");
        // Of a log in one piece, one at most would be.
        assert!(answered >= 5, "{answered}");
        assert_eq!(texts(&out), ["Took over 2400 sets of 4 members."]);
        assert_eq!(seen(service.store(), 4).await, [600, 601, 600, 600]);
        // What was learned is what the log teaches, also of who posted meanwhile.
        let bot = Bot::new(config::built_in());
        let found = check(service.store(), &bot, start(), false).await.unwrap();
        assert!(found.is_well(), "{found:?}");
        // It was told how far it had come, and that is taken back.
        let first = told.recv().await.unwrap();
        let Outgoing::Reply(first) = first else {
            panic!("{first:?}")
        };
        assert_eq!(first.text, "Importing: 0 of 2,400 sets.");
        assert!(first.private);
        let last = out.last().unwrap();
        assert!(
            matches!(last, Outgoing::Update(over) if over.id == first.id && over.text.is_empty())
        );
        // Sent again it is answered as before, and nothing is stored twice.
        let again = service.long(&import, &Progress::default()).await.unwrap();
        assert_eq!(again, out);
        assert_eq!(service.one(&import).await.unwrap(), out);
        assert_eq!(seen(service.store(), 4).await, [600, 601, 600, 600]);
        if place.durable {
            assert_eq!(count(&place.url, "import").await, 0);
        }
        service.close().await;
    });
}

#[test]
fn nothing_shows_what_is_staged_and_everything_what_is_shown() {
    on_every_engine(async |place: &Place| {
        let service = world(place.open().await, 1).await;
        let import = event("adair", 1, &log(1, 24));
        service.one(&import).await.unwrap();
        let (store, catalogue) = (service.store(), config::built_in());
        let mut tx = store.begin().await.unwrap();
        let team = tx.team(TEAM).await.unwrap();
        let member = tx.member(&team, "r0").await.unwrap().unwrap();
        let mut sets = tx.sets_all(&member, &catalogue).await.unwrap();
        let looked = looked_at(&mut tx).await;
        tx.rollback().await.unwrap();
        for set in &mut sets {
            set.set.id = None;
            set.set.at += Duration::days(30);
            set.set.day = "2025-01-20".parse().unwrap();
            set.message.push('x');
        }
        let staged = store.begin_import(&team).await.unwrap();
        store
            .stage(staged, (&team, &member), &sets, &catalogue)
            .await
            .unwrap();
        let mut tx = store.begin().await.unwrap();
        assert_eq!(looked_at(&mut tx).await, looked);
        assert_eq!(tx.faults().await.unwrap(), []);
        tx.show_import(staged).await.unwrap();
        tx.commit().await.unwrap();
        let mut tx = store.begin().await.unwrap();
        let shown = looked_at(&mut tx).await;
        for (now, before) in shown.iter().zip(&looked) {
            assert_ne!(now, before);
        }
        tx.rollback().await.unwrap();
        // Shown, they are no longer anybody's to clear.
        store.drop_import(staged).await.unwrap();
        assert_eq!(seen(store, 1).await, [48]);
        service.close().await;
    });
}

/// What each way of reading sets finds of the member.
async fn looked_at(tx: &mut chalkbell::store::Tx) -> Vec<String> {
    let catalogue = config::built_in();
    let team = tx.team(TEAM).await.unwrap();
    let member = tx.members(&team).await.unwrap().remove(0);
    let (from, to) = ("2025-01-01".parse().unwrap(), "2025-03-01".parse().unwrap());
    let since = DateTime::UNIX_EPOCH;
    let week = team
        .settings
        .calendar()
        .week_of("2025-01-20".parse().unwrap());
    let ids = tx.member_ids(&team).await.unwrap();
    let of_week = tx.week_of(&team, &ids, week, &catalogue, to);
    let (_, of_week) = of_week.await.unwrap();
    vec![
        tx.sets_all(&member, &catalogue)
            .await
            .unwrap()
            .len()
            .to_string(),
        tx.sets_since(&member, since, &catalogue)
            .await
            .unwrap()
            .len()
            .to_string(),
        tx.sets_after(&member, None, 99, &catalogue)
            .await
            .unwrap()
            .len()
            .to_string(),
        tx.sets_of_days(&member, from, to, &catalogue)
            .await
            .unwrap()
            .len()
            .to_string(),
        tx.sets_of_exercises(&member, &["bench press"], since, &catalogue)
            .await
            .unwrap()
            .len()
            .to_string(),
        format!(
            "{:?}",
            tx.sets_of(&ids, from, to, &catalogue).await.unwrap()
        ),
        format!("{:?}", tx.last_days(&ids).await.unwrap()),
        of_week.totals().sets.to_string(),
    ]
}

#[test]
fn who_is_gone_by_the_end_is_told_as_a_fault_and_nothing_is_filed() {
    on_every_engine(async |place: &Place| {
        let service = world(place.open().await, 2).await;
        let import = event("adair", 1, &log(2, 900));
        let progress = Progress::default();
        let taking = service.long(&import, &progress);
        let going = async {
            service.one(&event("r1", 2, "/forget")).await.unwrap();
            service
                .one(&event("r1", 3, "/forget everything"))
                .await
                .unwrap();
        };
        let (out, ()) = tokio::join!(taking, going);
        let out = out.unwrap();
        assert!(
            texts(&out)[0].contains("there is no member `r1`"),
            "{out:?}"
        );
        assert_eq!(seen(service.store(), 1).await, [0]);
        if place.durable {
            assert_eq!(count(&place.url, "training_set").await, 0);
            assert_eq!(count(&place.url, "import").await, 0);
        }
        service.close().await;
    });
}

#[test]
fn what_a_killed_import_left_is_cleared_by_the_next() {
    on_every_engine(async |place: &Place| {
        if !place.durable {
            return;
        }
        let service = world(place.open().await, 2).await;
        let store = service.store();
        let mut tx = store.begin().await.unwrap();
        let team = tx.team(TEAM).await.unwrap();
        let member = tx.member(&team, "r0").await.unwrap().unwrap();
        tx.rollback().await.unwrap();
        service.one(&event("adair", 1, &log(1, 600))).await.unwrap();
        let catalogue = config::built_in();
        let mut tx = store.begin().await.unwrap();
        let mut sets = tx.sets_all(&member, &catalogue).await.unwrap();
        tx.rollback().await.unwrap();
        sets.iter_mut().for_each(|set| set.set.id = None);
        let left = store.begin_import(&team).await.unwrap();
        for some in sets.chunks(512) {
            let whose = (&team, &member);
            store.stage(left, whose, some, &catalogue).await.unwrap();
        }
        // Its process lives, as far as can be seen: it is left alone.
        let two = format!("/import\n{HEAD}r0,2024-12-02,18:05,back squat,70,kg,8,2\n");
        service.one(&event("adair", 2, &two)).await.unwrap();
        assert_eq!(count(&place.url, "training_set").await, 1201);
        execute(&place.url, "update import set until_ms = 0").await;
        assert_eq!(store.drop_left_imports().await.unwrap(), 1);
        assert_eq!(count(&place.url, "training_set").await, 601);
        assert_eq!(count(&place.url, "import").await, 0);
        // One that wakes late is told that it is gone, and shows nothing.
        let mut tx = store.begin().await.unwrap();
        assert!(tx.show_import(left).await.unwrap_err().is_conflict());
        tx.rollback().await.unwrap();
        assert_eq!(seen(store, 1).await, [601]);
        service.close().await;
    });
}

fn send(program: &mut Program, messages: &[Message]) {
    let input = program.input.as_mut().unwrap();
    for message in messages {
        writeln!(input, "{}", line(message)).unwrap();
    }
    input.flush().unwrap();
}

/// Reads what is put out up to the `done` of this id, or the end.
fn read_to(program: &mut Program, id: &str) -> Option<Vec<Value>> {
    let mut out = Vec::new();
    loop {
        let mut text = String::new();
        if program.output.read_line(&mut text).unwrap() == 0 {
            return None;
        }
        let one: Value = serde_json::from_str(&text).unwrap();
        let done = one["type"] == "done" && one["id"] == id;
        out.push(one);
        if done {
            return Some(out);
        }
    }
}

fn hellos(members: usize) -> Vec<Message> {
    let hello = |member| message(&format!("r{member}"), 0, "hello");
    (0..members).map(hello).collect()
}

#[test]
fn the_pipe_answers_other_lines_first_and_the_coachs_own_in_their_order() {
    let folder = TempDir::new().unwrap();
    let mut program = Program::start(&folder.path().join("club.db"));
    let mut lines = hellos(3);
    lines.push(message("adair", 1, &log(3, 700)));
    lines.push(message("adair", 2, "/import check\nno log"));
    for number in 0..20 {
        lines.push(message("ines", 10 + number, "squat 80x8, 2 left"));
    }
    send(&mut program, &lines);
    drop(program.input.take());
    let out = read_to(&mut program, "adair.2").unwrap();
    let place = |id: &str| {
        out.iter()
            .position(|one| one["type"] == "done" && one["id"] == id)
    };
    let import = place("adair.1").unwrap();
    for number in 0..20 {
        assert!(place(&format!("ines.{}", 10 + number)).unwrap() < import);
    }
    assert!(place("adair.2").unwrap() > import);
    let progress = out
        .iter()
        .find(|one| one["id"] == "adair.1.progress")
        .unwrap();
    assert_eq!(progress["text"], "Importing: 0 of 2,100 sets.");
    let told = out.iter().find(|one| one["id"] == "adair.1.1").unwrap();
    assert_eq!(told["text"], "Took over 2100 sets of 3 members.");
    program.close();
}

/// Kills it at so many moments of taking a log over, spread over the time that it takes.
fn killed(place: &Place, rounds: u32) {
    let pictures = std::env::temp_dir().join("chalkbell-no-pictures");
    let run = || Program::run(&place.url, &pictures, Stdio::inherit());
    let members = 3;
    let mut program = run();
    send(&mut program, &hellos(members));
    read_to(&mut program, "r2.0").unwrap();
    program.kill();
    let text = log(members, 700);
    let mut took = std::time::Duration::from_secs(2);
    let (mut whole, mut nothing) = (0, 0);
    for round in 0..rounds {
        // Each round another log: the day of all sets moves.
        let text = text.replace(",2025-", &format!(",20{:02}-", 24 - round));
        let import = message("adair", i64::from(round), &text);
        let mut program = run();
        let expected = 700 * round as usize;
        #[expect(clippy::disallowed_methods, reason = "it is killed at some time")]
        let begun = std::time::Instant::now();
        send(&mut program, std::slice::from_ref(&import));
        #[expect(clippy::disallowed_methods, reason = "no runtime is here to wait in")]
        std::thread::sleep(took * round / rounds);
        program.kill();
        let counts = runtime().block_on(async {
            let store = place.open().await;
            let counts = seen(&store, members).await;
            store.close().await;
            counts
        });
        match counts.as_slice() {
            all if all.iter().all(|&count| count == expected) => nothing += 1,
            all if all.iter().all(|&count| count == expected + 700) => whole += 1,
            other => panic!("round {round}: {other:?} sets are seen"),
        }
        let mut program = run();
        send(&mut program, std::slice::from_ref(&import));
        let out = read_to(&mut program, &import.id).unwrap();
        let told = |out: &[Value]| {
            let one = out
                .iter()
                .find(|one| one["id"] == format!("{}.1", import.id));
            one.unwrap()["text"].clone()
        };
        assert_eq!(told(&out), "Took over 2100 sets of 3 members.");
        took = took.max(begun.elapsed() / 2);
        send(&mut program, std::slice::from_ref(&import));
        let again = read_to(&mut program, &import.id).unwrap();
        assert_eq!(told(&again), told(&out));
        program.close();
    }
    println!(
        "{}: all of it {whole} times, nothing {nothing} times",
        place.label
    );
    runtime().block_on(async {
        let store = place.open().await;
        assert_eq!(seen(&store, members).await, [700 * rounds as usize; 3]);
        execute(&place.url, "update import set until_ms = 0").await;
        store.drop_left_imports().await.unwrap();
        let rows = count(&place.url, "training_set").await;
        assert_eq!(rows, i64::from(2100 * rounds));
        let bot = Bot::new(config::built_in());
        let found = check(&store, &bot, start(), false).await.unwrap();
        assert!(found.is_well(), "{found:?}");
        store.close().await;
    });
}

#[test]
fn a_process_that_is_killed_leaves_all_of_a_log_or_nothing() {
    on_every_engine_apart(4);
}

/// `cargo test --release --test kills imports:: -- --ignored --nocapture`.
#[test]
#[ignore = "many kills"]
fn a_process_that_is_killed_many_times_leaves_all_of_a_log_or_nothing() {
    on_every_engine_apart(20);
}

fn on_every_engine_apart(rounds: u32) {
    let folder = TempDir::new().unwrap();
    let mut places = vec![Place {
        label: "sqlite",
        url: chalkbell::store::file_url(&folder.path().join("club.db")),
        durable: true,
    }];
    let database = runtime().block_on(postgres::Database::new());
    if let Some(database) = &database {
        places.push(Place {
            label: "postgres",
            url: database.url(),
            durable: true,
        });
    }
    for place in places {
        killed(&place, rounds);
    }
    if let Some(database) = database {
        runtime().block_on(database.remove());
    }
}
