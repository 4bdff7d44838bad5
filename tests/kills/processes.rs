//! The program as a process that is killed, on both engines, and as several processes on one `SQLite`
//! file.
//!
//! Messages, edits, deletions and presses are sent again after each kill. Shown each time by comparing
//! with a run that nothing disturbed, row by row. The long form of the first tests, 300 kills on SQLite
//! and 200 of two processes on PostgreSQL: `cargo test --release --test kills processes:: -- --ignored`.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one kills after waiting"
)]

use std::collections::BTreeSet;
use std::io::{BufRead, Write as _};
use std::process::{Command, Stdio};
use std::sync::mpsc;
use std::time::Duration;

use crate::support::run::run;
use chalkbell::store::file_url;
use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};
use sqlx::{Database as _, Pool, Postgres, Sqlite};
use tempfile::TempDir;

use crate::support::evening;
use crate::support::lots::Lots;
use crate::support::postgres::Database;
use crate::support::program::Program;
use crate::support::rows;
use crate::support::rows::{Cell, Engine, Table};

/// The ids of the lines, where they have one, that a process had answered and acknowledged when it ended. It was given
/// all of the lines at once, and is killed after `grace` once the first is acknowledged; with no
/// grace it is left to finish.
fn acknowledged(url: &str, lines: &[String], grace: Option<Duration>) -> Vec<Option<String>> {
    let pictures = std::env::temp_dir().join("chalkbell-no-pictures");
    let mut program = Program::run(url, &pictures, Stdio::inherit());
    let mut input = program.input.take().expect("an open input");
    let all = lines.concat();
    let (first, begun) = mpsc::channel();
    let output = program.output;
    std::thread::scope(|scope| {
        // It fails when the program is killed while there is still something to read.
        scope.spawn(move || drop(input.write_all(all.as_bytes())));
        let reader = scope.spawn(move || done(output, &first));
        if let Some(grace) = grace {
            begun.recv().expect("something is acknowledged");
            std::thread::sleep(grace);
            program.child.kill().expect("it was started");
        }
        program.child.wait().expect("it ends");
        reader.join().expect("it read")
    })
}

/// The ids of the whole `done` lines of an output.
fn done(output: impl BufRead, first: &mpsc::Sender<()>) -> Vec<Option<String>> {
    let mut ids = Vec::new();
    for line in output.split(b'\n').map_while(Result::ok) {
        // The last line may have been cut off.
        let Ok(line) = serde_json::from_slice::<Value>(&line) else {
            continue;
        };
        assert_ne!(line["type"], "error", "{line}");
        if line["type"] == "done" {
            ids.push(line["id"].as_str().map(str::to_owned));
            // Nobody waits for it where nothing is killed.
            let _ = first.send(());
        }
    }
    ids
}

async fn pool<D: Engine>(url: &str) -> Pool<D> {
    Pool::connect(url).await.expect("opens")
}

/// Each message that is stored has its one event, and one set at most; which these are. Those of
/// which the set was changed or taken out are to be told by comparing.
async fn whole_messages<D: Engine>(url: &str) -> BTreeSet<String> {
    let pool = pool::<D>(url).await;
    let one_text = Table {
        cells: "t",
        ..rows::TABLES[0]
    };
    let texts = async |text: &str| -> Vec<String> {
        let rows = D::find(&pool, text.to_owned(), &one_text).await;
        let text = |row: Vec<Cell>| match &row[..] {
            [Cell::Text(Some(text))] => text.clone(),
            other => panic!("{other:?}"),
        };
        rows.into_iter().map(text).collect()
    };
    if D::NAME == Sqlite::NAME {
        assert_eq!(texts("pragma integrity_check").await, ["ok"]);
    }
    // In one statement: what a killed process had sent off, PostgreSQL may still be storing.
    let both =
        "select 'event ' || id from event union all select 'set ' || message from training_set";
    let both = texts(both).await;
    pool.close().await;
    let of = |kind: &str| -> Vec<String> {
        let ids = both.iter().filter_map(|id| id.strip_prefix(kind));
        ids.map(str::to_owned).collect()
    };
    let [events, sets] = ["event ", "set "].map(of);
    let count = [events.len(), sets.len()];
    let [events, sets] = [events, sets].map(BTreeSet::from_iter);
    let half: Vec<&String> = sets.difference(&events).collect();
    assert!(half.is_empty(), "stored by half: {half:?}");
    assert_eq!(count, [events.len(), sets.len()], "stored twice");
    events
}

async fn assert_same_rows<D: Engine>(one: &str, other: &str) {
    let (one, other) = (pool::<D>(one).await, pool::<D>(other).await);
    rows::assert_same(&one, &other).await;
    one.close().await;
    other.close().await;
}

/// The program itself finds nothing wrong.
fn assert_checked(url: &str) {
    let check = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
        .args(["check", "--database", url])
        .output()
        .expect("it runs");
    assert!(check.status.success(), "{check:?}");
}

/// The lines of an evening, with what is asked about them shortly afterwards: every few messages one is
/// edited, deleted, or its set taken back by the button of its card. Half of the presses have an id.
fn with_changes(evening: usize) -> Vec<String> {
    let lines = evening::lines(evening).into_iter().enumerate();
    lines
        .flat_map(|(n, line)| [Some(line.clone()), change_of(n, &line)])
        .flatten()
        .collect()
}

fn change_of(n: usize, line: &str) -> Option<String> {
    let message: Value = serde_json::from_str(line).expect("a message");
    let at: DateTime<Utc> = message["at"].as_str()?.parse().expect("a time");
    let at = at + TimeDelta::seconds(4);
    let (id, team) = (&message["id"], &message["team"]);
    let text = message["text"]
        .as_str()?
        .replace("x9", "x7")
        .replace("x10", "x11");
    let [evening, turn, lifter]: [usize; 3] = {
        let parts = id
            .as_str()?
            .split('.')
            .map(|part| part.parse().expect("a number"));
        parts.collect::<Vec<_>>().try_into().expect("three")
    };
    // The card stands since the first of the four sets of a lift.
    let card = format!("{evening}.{}.{lifter}.1", turn / 4 * 4);
    let change = match n % 21 {
        4 | 16 => json!({"type": "edit", "id": id, "team": team, "at": at, "text": text}),
        9 => json!({"type": "delete", "id": id, "team": team, "at": at}),
        13 => json!({"type": "press", "reply": card, "team": team, "author": message["author"],
                     "button": "undo", "at": at}),
        18 => json!({"type": "press", "id": format!("p{id}"), "reply": card, "team": team,
                     "author": message["author"], "button": "undo", "at": at}),
        _ => return None,
    };
    Some(format!("{change}\n"))
}

/// How many messages are among these lines.
fn messages(lines: &[String]) -> usize {
    let is_message = |line: &&String| line.contains("\"message\"");
    lines.iter().filter(is_message).count()
}

/// How many lines are sent again at most that were acknowledged.
const AGAIN: usize = 20;

/// Kills the program so many times while it works through its lines, and starts it anew with those
/// that were not acknowledged, and a few that were.
async fn killed<D: Engine>(times: usize, database: &str, quiet: &str) {
    let lines: Vec<String> = (0..times.div_ceil(3)).flat_map(with_changes).collect();
    let mut lots = Lots(7);
    let (mut at, mut kills) = (0, 0);
    while kills < times && at < lines.len() {
        let begin = at - lots.below(AGAIN).min(at);
        let grace = Duration::from_micros(u64::try_from(lots.below(60_000)).unwrap());
        let ids = acknowledged(database, &lines[begin..], Some(grace));
        assert_stored::<D>(database, &ids).await;
        // In order, so the next one is the first that was not acknowledged.
        at = at.max(begin + ids.len());
        kills += usize::from(at < lines.len());
    }
    assert_eq!(kills, times, "it was done before it could be killed");
    acknowledged(database, &lines[at..], None);
    assert_eq!(whole_messages::<D>(database).await.len(), messages(&lines));
    assert_checked(database);
    acknowledged(quiet, &lines, None);
    assert_something_was_taken_out::<D>(quiet).await;
    assert_same_rows::<D>(database, quiet).await;
}

async fn assert_stored<D: Engine>(database: &str, acknowledged: &[Option<String>]) {
    let stored = whole_messages::<D>(database).await;
    // Those of presses begin otherwise.
    let messages = acknowledged
        .iter()
        .flatten()
        .filter(|id| !id.starts_with('p'));
    for id in messages {
        assert!(stored.contains(id), "{id} was acknowledged and is lost");
    }
}

/// Presses, deletions and edits did something.
async fn assert_something_was_taken_out<D: Engine>(database: &str) {
    let pool = pool::<D>(database).await;
    let table = Table {
        cells: "tt",
        ..rows::TABLES[0]
    };
    let text = "select key, outcome from response".to_owned();
    let rows = D::find(&pool, text, &table).await;
    pool.close().await;
    let of = |kind: &str, did: &str| {
        let is_it = |row: &&Vec<Cell>| match &row[..] {
            [Cell::Text(Some(key)), Cell::Text(Some(outcome))] => {
                key.starts_with(kind) && outcome.contains(did)
            }
            other => panic!("{other:?}"),
        };
        rows.iter().filter(is_it).count()
    };
    for (kind, did) in [
        ("press/", "Taken out"),
        ("press#", "Taken out"),
        ("delete/", "Taken out"),
        ("edit#", "Corrected"),
    ] {
        let count = of(kind, did);
        assert!(count > 10, "{kind} {did}: {count}");
    }
}

/// Two processes on one database are killed again and again, each while it works through the lines of
/// half of the lifters. Each is started anew with those of its lines that were not acknowledged, and
/// with some that were, of its own and of the other's.
async fn two_killed<D: Engine>(times: usize, database: &str, quiet: &str) {
    let lines: Vec<String> = (0..times.div_ceil(4)).flat_map(with_changes).collect();
    // Ids of members are given in the order in which they first write.
    let arrivals = |line: &&String| line.contains("\"0.0.");
    let first: Vec<String> = lines.iter().filter(arrivals).cloned().collect();
    acknowledged(database, &first, None);
    acknowledged(quiet, &first, None);
    let half = |odd: bool| -> Vec<String> {
        let of_half = |line: &&String| {
            let event: Value = serde_json::from_str(line).expect("JSON");
            let id = event["reply"]
                .as_str()
                .or(event["id"].as_str())
                .expect("an id");
            let lifter: usize = id
                .split('.')
                .nth(2)
                .expect("a lifter")
                .parse()
                .expect("a number");
            (lifter % 2 == 1) == odd
        };
        lines.iter().filter(of_half).cloned().collect()
    };
    let halves = [half(false), half(true)];
    let mut lots = Lots(13);
    let (mut at, mut kills) = ([0, 0], 0);
    while kills < times && (0..2).all(|one| at[one] < halves[one].len()) {
        let work = [0, 1].map(|one: usize| {
            let other = 1 - one;
            let again = at[other] - lots.below(AGAIN).min(at[other]);
            let begin = at[one] - lots.below(AGAIN).min(at[one]);
            let mut lines = halves[other][again..at[other]].to_vec();
            lines.extend_from_slice(&halves[one][begin..]);
            let grace = Duration::from_micros(u64::try_from(lots.below(60_000)).unwrap());
            (at[other] - again, begin, lines, grace)
        });
        let ids = std::thread::scope(|scope| {
            let run = |(_, _, lines, grace): &(usize, usize, Vec<String>, Duration)| {
                acknowledged(database, lines, Some(*grace))
            };
            let both = work.each_ref().map(|work| scope.spawn(move || run(work)));
            both.map(|one| one.join().expect("it ran"))
        });
        for (one, ids) in ids.iter().enumerate() {
            assert_stored::<D>(database, ids).await;
            let (again, begin, ..) = work[one];
            at[one] = at[one].max((begin + ids.len()).saturating_sub(again));
            kills += usize::from(at[one] < halves[one].len());
        }
    }
    assert!(kills >= times, "it was done before it could be killed");
    for one in [0, 1] {
        acknowledged(database, &halves[one][at[one]..], None);
    }
    assert_eq!(whole_messages::<D>(database).await.len(), messages(&lines));
    assert_checked(database);
    acknowledged(quiet, &lines, None);
    assert_something_was_taken_out::<D>(quiet).await;
    assert_same_rows::<D>(database, quiet).await;
}

async fn killed_on_sqlite(times: usize) {
    let folder = TempDir::new().unwrap();
    let [database, quiet] = ["killed", "quiet"].map(|name| file_url(&folder.path().join(name)));
    killed::<Sqlite>(times, &database, &quiet).await;
}

async fn two_killed_on_postgres(times: usize) {
    let (Some(database), Some(quiet)) = (Database::new().await, Database::new().await) else {
        return;
    };
    two_killed::<Postgres>(times, &database.url(), &quiet.url()).await;
    database.remove().await;
    quiet.remove().await;
}

#[test]
fn what_was_acknowledged_before_a_kill_is_stored_once_and_nothing_by_half() {
    run(killed_on_sqlite(20));
}

#[test]
fn what_two_processes_on_postgres_acknowledged_before_kills_is_stored_once_and_nothing_by_half() {
    run(two_killed_on_postgres(20));
}

#[test]
#[ignore = "takes minutes"]
fn what_was_acknowledged_before_300_kills_is_stored_once_and_nothing_by_half() {
    run(killed_on_sqlite(300));
}

#[test]
#[ignore = "takes minutes"]
fn what_two_processes_on_postgres_acknowledged_before_200_kills_is_stored_once() {
    run(two_killed_on_postgres(200));
}

/// Each takes the file for a transaction, reads how things stand, and lets go of it; so the second
/// is safe. Here both get every message, at the same time and from the first start on.
#[test]
fn two_processes_on_one_file_come_to_what_one_comes_to() {
    run(async {
        let folder = TempDir::new().unwrap();
        let [shared, quiet] = ["shared", "quiet"].map(|name| file_url(&folder.path().join(name)));
        let lines = evening::lines(0);
        std::thread::scope(|scope| {
            let both = [(); 2].map(|()| scope.spawn(|| acknowledged(&shared, &lines, None)));
            for one in both {
                let ids = one.join().expect("it ran");
                assert_eq!(ids.len(), lines.len(), "all is answered by both");
            }
        });
        assert_eq!(whole_messages::<Sqlite>(&shared).await.len(), lines.len());
        acknowledged(&quiet, &lines, None);
        assert_same_rows::<Sqlite>(&shared, &quiet).await;
    });
}

#[test]
fn processes_that_make_the_file_at_the_same_time_all_open_it() {
    run(async {
        for _ in 0..5 {
            let folder = TempDir::new().unwrap();
            let database = file_url(&folder.path().join("club"));
            let line = evening::lines(0).into_iter().take(1).collect::<Vec<_>>();
            std::thread::scope(|scope| {
                let four = [(); 4].map(|()| scope.spawn(|| acknowledged(&database, &line, None)));
                for one in four {
                    assert_eq!(one.join().expect("it ran").len(), 1, "it opened");
                }
            });
            assert_eq!(whole_messages::<Sqlite>(&database).await.len(), 1);
        }
    });
}
