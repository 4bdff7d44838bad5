//! Several processes on one PostgreSQL, each of which gets some of the messages, some of them twice,
//! and not in the order in which they were written: in the end the log, what was learned from it, and
//! who is who are, row by row and bit by bit, what one process comes to that gets them in order.
//!
//! What was said to the lifters may differ: it was said by what was known then. So may what follows
//! from it alone: the reply a card stands in, and the bell. Messages are whole here: one that only
//! says `x9` is about the set before it, and which that is depends on what has arrived.
//!
//! The long form, 100,000 messages: `cargo test --release --test kills shared_postgres:: -- --ignored`.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test may fail where it stands"
)]

use std::io::{BufRead as _, Write as _};
use std::process::{Command, Stdio};

use crate::support::lots::Lots;
use crate::support::postgres::Database;
use crate::support::program::Program;
use crate::support::run::run;
use chrono::{DateTime, TimeDelta, Utc};
use sqlx::{AssertSqlSafe, PgPool};

const LIFTS: [(&str, usize); 4] = [
    ("back squat", 80),
    ("bench press", 60),
    ("barbell row", 55),
    ("overhead press", 35),
];
const SETS_A_DAY: usize = 12;

/// Messages of so many members in the order in which they were written: each lifts on every third
/// day, everybody in turn.
fn messages(members: usize, count: usize) -> Vec<String> {
    let start: DateTime<Utc> = "2026-01-05T17:00:00Z".parse().unwrap();
    let mut lots = Lots(3);
    let mut lines = Vec::with_capacity(count);
    for n in 0..count {
        let (turn, member) = (n / members, n % members);
        let (day, set) = (turn / SETS_A_DAY, turn % SETS_A_DAY);
        let (lift, kg) = LIFTS[(set / 3 + member) % LIFTS.len()];
        let step = lots.below(3);
        let kg = kg + 5 * (member % 5) + 5 * step;
        // Numbers that fit each other: whether an unlikely set is asked about depends on what is
        // known by then, and so on the order.
        let reps = 12 - 2 * step - lots.below(2);
        let text = match lots.below(5) {
            0 => format!("{lift} {kg}x{reps}"),
            1 => format!("{lift} {kg}x{reps}, warm-up"),
            left => format!("{lift} {kg}x{reps}, {} left", left - 1),
        };
        // Nobody writes twice in the same second.
        let seconds = 150 * set + member % 140;
        let at = start
            + TimeDelta::days(3 * i64::try_from(day).unwrap())
            + TimeDelta::seconds(i64::try_from(seconds).unwrap());
        let message = serde_json::json!({
            "type": "message", "id": format!("{n}"), "team": format!("crew {}", member % 3),
            "channel": "gym", "author": format!("u{member}"), "name": format!("Lifter {member}"),
            "coach": false, "at": at.to_rfc3339(), "text": text,
        });
        lines.push(format!("{message}\n"));
    }
    lines
}

/// What each of so many processes gets.
fn dealt(lines: &[String], processes: usize, lots: &mut Lots) -> Vec<Vec<String>> {
    let mut hands = vec![Vec::new(); processes];
    for line in lines {
        hands[lots.below(processes)].push(line.clone());
        // Some come twice, to the same process or another.
        if lots.below(10) == 0 {
            hands[lots.below(processes)].push(line.clone());
        }
    }
    for hand in &mut hands {
        // Swapped over some distance, each several times.
        for place in 0..hand.len() {
            let other = (place + lots.below(60)).min(hand.len() - 1);
            hand.swap(place, other);
        }
    }
    hands
}

/// Has a process work through its lines; every one is done, and none is refused.
fn work_through(url: &str, lines: &[String]) {
    let pictures = std::env::temp_dir().join("chalkbell-no-pictures");
    let mut program = Program::run(url, &pictures, Stdio::inherit());
    let (mut input, all) = (program.input.take().unwrap(), lines.concat());
    let output = program.output;
    std::thread::scope(|scope| {
        scope.spawn(move || input.write_all(all.as_bytes()).expect("it is read"));
        let mut done = 0;
        for line in output.lines() {
            let line = line.unwrap();
            assert!(!line.contains(r#""type":"error""#), "{line}");
            done += usize::from(line.contains(r#""type":"done""#));
        }
        assert_eq!(done, lines.len());
        assert!(program.child.wait().unwrap().success());
    });
}

/// What must be the same, each as rows of text that name people and teams by their own names.
const SAME: [(&str, &str); 5] = [
    (
        "sets",
        "select (to_jsonb(s) - 'id' - 'team_id' - 'member_id'
                 || jsonb_build_object('team', t.key, 'author', m.author))::text
         from training_set s join member m on m.id = s.member_id join team t on t.id = s.team_id",
    ),
    (
        "beliefs",
        "select t.key || ' ' || m.author || ' ' || b.exercise || ' ' || encode(b.state, 'hex')
         from belief b join member m on m.id = b.member_id join team t on t.id = m.team_id",
    ),
    (
        "members",
        "select t.key || ' ' || m.author || ' ' || m.name || ' ' || m.coach || ' ' || m.profile
                || ' ' || encode(m.condition, 'hex')
         from member m join team t on t.id = m.team_id",
    ),
    (
        "events",
        "select t.key || ' ' || e.id || ' ' || e.author || ' ' || e.channel || ' ' || e.at_ms
         from event e join team t on t.id = e.team_id",
    ),
    (
        "teams",
        // When it was planned is when the first message was worked on, whichever that was.
        "select t.key || ' ' || t.settings || ' '
                || coalesce((j.payload::jsonb - 'set')::text, 'no digest')
         from team t left join job j on j.team_id = t.id and j.kind = 'digest'",
    ),
];

async fn assert_same(one: &str, other: &str) {
    let (one, other) = (
        PgPool::connect(one).await.unwrap(),
        PgPool::connect(other).await.unwrap(),
    );
    for (what, text) in SAME {
        let mut rows = [Vec::new(), Vec::new()];
        for (rows, pool) in rows.iter_mut().zip([&one, &other]) {
            let query = sqlx::query_scalar::<_, String>(AssertSqlSafe(text));
            *rows = query.fetch_all(pool).await.unwrap();
            rows.sort();
        }
        let [one, other] = rows;
        assert_eq!(one.len(), other.len(), "{what}");
        let differ: Vec<_> = one.iter().zip(&other).filter(|(a, b)| a != b).collect();
        let some = differ.first();
        assert!(
            differ.is_empty(),
            "{} {what} differ: {some:#?}",
            differ.len()
        );
    }
    one.close().await;
    other.close().await;
}

async fn shared(members: usize, count: usize) {
    let Some(quiet) = Database::new().await else {
        return;
    };
    let lines = messages(members, count);
    work_through(&quiet.url(), &lines);
    let mut lots = Lots(17);
    for processes in [2, 4] {
        let shared = Database::new().await.expect("as before");
        let (url, hands) = (shared.url(), dealt(&lines, processes, &mut lots));
        std::thread::scope(|scope| {
            for hand in &hands {
                scope.spawn(|| work_through(&url, hand));
            }
        });
        let dealt: usize = hands.iter().map(Vec::len).sum();
        println!("{processes} processes, {dealt} deliveries of {count} messages");
        assert_same(&quiet.url(), &url).await;
        let check = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
            .args(["check", "--database", &url])
            .output()
            .unwrap();
        assert!(check.status.success(), "{check:?}");
        shared.remove().await;
    }
    quiet.remove().await;
}

#[test]
fn several_processes_come_to_what_one_comes_to_in_whatever_order() {
    run(shared(30, 900));
}

#[test]
#[ignore = "takes a quarter of an hour"]
fn several_processes_come_to_what_one_comes_to_with_100_000_messages() {
    run(shared(500, 100_000));
}
