//! What operators do with a database: looking it through, copying it, moving it between engines.

#![expect(
    clippy::unwrap_used,
    reason = "a test may fail where it stands, and say why"
)]

use std::collections::BTreeSet;
use std::path::Path;

use crate::support::engines::{on_every_engine, runtime};
use crate::support::postgres::Database;
use chalkbell::bot::event::{Event, Message};
use chalkbell::config;
use chalkbell::service::check::{Found, check};
use chalkbell::service::{Bot, Service};
use chalkbell::store::copy::{Copied, columns, copy};
use chalkbell::store::faults::{Fault, FaultKind, links};
use chalkbell::store::{Store, file_url};
use chrono::{DateTime, Duration, Utc};
use sqlx::{AssertSqlSafe, Connection as _, PgConnection, Row as _, SqliteConnection};
use tempfile::TempDir;

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().unwrap()
}

fn bot() -> Bot {
    Bot::new(config::built_in())
}

/// Two teams train, with everything that is kept of that.
async fn train(store: &Store) {
    let service = Service::new(store.clone(), bot());
    let mut said = 0;
    for round in 0..6 {
        for (team, author, coach, text) in [
            ("rowing club", "ines", false, "squat 77.5x8, 2 left"),
            (
                "rowing club",
                "adair",
                true,
                "/plan ines mon: back squat 4x6-10 2rir",
            ),
            ("rowing club", "ines", false, "x7"),
            ("rowing club", "tomas", false, "bench 132.5lb x 9"),
            ("rowing club", "adair", true, "/note ines über die Bank"),
            ("harbour club", "maren", false, "pull-up +10 x 6, 1 left"),
            ("harbour club", "maren", false, "bench 40"),
            ("rowing club", "tomas", false, "hello"),
        ] {
            said += 1;
            let event = Event::Message(Message {
                id: format!("m{said}"),
                team: team.to_owned(),
                channel: "winter".to_owned(),
                author: author.to_owned(),
                name: author.to_owned(),
                coach,
                at: start() + Duration::days(2 * round) + Duration::seconds(90 * said),
                text: text.to_owned(),
            });
            service.one(&event).await.unwrap();
        }
    }
}

async fn looked_through(store: &Store, repair: bool) -> Found {
    let now = start() + Duration::days(20);
    check(store, &bot(), now, repair).await.unwrap()
}

#[test]
fn log_that_went_on_in_order_is_well() {
    on_every_engine(async |place| {
        let store = place.open().await;
        train(&store).await;
        let found = looked_through(&store, false).await;
        assert!(found.is_well(), "{}: {found:?}", place.label);
        assert_eq!((found.teams, found.members, found.sets), (2, 4, 24));
        store.close().await;
    });
}

/// Runs a statement past the store, without its guards.
async fn damage(path: &Path, statement: &'static str) {
    let mut connection = SqliteConnection::connect(&file_url(path)).await.unwrap();
    for statement in ["pragma foreign_keys = off", statement] {
        sqlx::query(statement)
            .execute(&mut connection)
            .await
            .unwrap();
    }
    connection.close().await.unwrap();
}

async fn damaged(statement: &'static str) -> (TempDir, Store) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("club.db");
    let store = Store::open(&file_url(&path)).await.unwrap();
    train(&store).await;
    store.close().await;
    damage(&path, statement).await;
    let store = Store::open(&file_url(&path)).await.unwrap();
    (folder, store)
}

#[test]
fn what_was_learned_otherwise_is_found_and_learned_anew() {
    for statement in [
        "update belief set state = (select state from belief where exercise = 'bench press')",
        "delete from belief where exercise = 'back squat'",
        "update member set condition = null where author = 'maren'",
        "update training_set set reps = 9 where reps = 7",
        "update training_set set judged_left = 3.5 where judged_left is not null",
        "update checkpoint set state = (select state from belief where exercise = 'bench press')",
        "delete from checkpoint where exercise <> ''",
    ] {
        runtime().block_on(async {
            let (_folder, store) = damaged(statement).await;
            let found = looked_through(&store, false).await;
            assert!(!found.mislearned.is_empty(), "{statement}: {found:?}");
            assert!(!found.is_well());
            let repaired = looked_through(&store, true).await;
            assert!(repaired.is_well() && repaired.repaired > 0, "{repaired:?}");
            let again = looked_through(&store, false).await;
            assert!(
                again.is_well() && again.repaired == 0,
                "{statement}: {again:?}"
            );
            store.close().await;
        });
    }
}

#[test]
fn rows_that_hang_on_nothing_and_sets_that_are_there_twice_are_found() {
    let fault = |table, kind, rows| Fault { table, kind, rows };
    for (statement, faults, repairable) in [
        (
            "insert into belief (member_id, exercise, state) values (77, 'back squat', '')",
            vec![
                fault("belief", FaultKind::Orphan, 1),
                fault("belief", FaultKind::Orphan, 1),
            ],
            true,
        ),
        (
            "insert into job (key, team_id, member_id, kind, due_ms, payload)
             values ('bell/77', 1, 77, 'bell', 0, '{}')",
            vec![fault("job", FaultKind::Orphan, 1)],
            true,
        ),
        (
            "insert into prescription (member_id, kind, from_day, content)
             values (77, 'plan', '2026-01-12', '{}')",
            vec![fault("prescription", FaultKind::Orphan, 1)],
            false,
        ),
        (
            "update training_set set team_id = 2
             where id = (select min(id) from training_set)",
            vec![fault("training_set", FaultKind::WrongTeam, 1)],
            false,
        ),
        (
            "update training_set set message = 'm1', place = 0
             where id = (select min(id) + 1 from training_set)",
            vec![fault("training_set", FaultKind::Twice, 1)],
            false,
        ),
    ] {
        runtime().block_on(async {
            let (_folder, store) = damaged(statement).await;
            let found = looked_through(&store, false).await;
            assert_eq!(found.faults, faults, "{statement}");
            let repaired = looked_through(&store, true).await;
            assert_eq!(repaired.faults.is_empty(), repairable, "{statement}");
            store.close().await;
        });
    }
}

#[test]
fn exercise_that_no_catalogue_has_is_told_and_the_rest_is_looked_at() {
    runtime().block_on(async {
        let (_folder, store) =
            damaged("update training_set set exercise = 'moon walk' where message = 'm1'").await;
        let found = looked_through(&store, true).await;
        assert_eq!(found.unreadable.len(), 1, "{found:?}");
        assert!(found.unreadable[0].2.contains("moon walk"));
        assert_eq!(found.members, 4);
        store.close().await;
    });
}

#[test]
fn checkpoints_may_be_thrown_away_at_any_time() {
    runtime().block_on(async {
        let (_folder, store) = damaged("delete from checkpoint").await;
        assert!(looked_through(&store, false).await.is_well());
        store.close().await;
    });
}

/// The tables and columns that a database has, but for the migrations' own.
async fn schema(url: &str) -> BTreeSet<(String, String)> {
    let text = if url.starts_with("sqlite") {
        "select m.name as t, c.name as c from sqlite_schema m join pragma_table_info(m.name) c
         where m.type = 'table' and m.name not like 'sqlite_%' and m.name <> '_sqlx_migrations'"
    } else {
        "select table_name::text as t, column_name::text as c from information_schema.columns
         where table_schema = 'public' and table_name <> '_sqlx_migrations'"
    };
    let text = AssertSqlSafe(text);
    if url.starts_with("sqlite") {
        let mut connection = SqliteConnection::connect(url).await.unwrap();
        let rows = sqlx::query(text).fetch_all(&mut connection).await.unwrap();
        return rows
            .iter()
            .map(|row| (row.get("t"), row.get("c")))
            .collect();
    }
    let mut connection = PgConnection::connect(url).await.unwrap();
    let rows = sqlx::query(text).fetch_all(&mut connection).await.unwrap();
    rows.iter()
        .map(|row| (row.get("t"), row.get("c")))
        .collect()
}

#[test]
fn copies_know_every_column_that_the_migrations_make() {
    on_every_engine(async |place| {
        if !place.durable {
            return;
        }
        place.open().await.close().await;
        let known: BTreeSet<(String, String)> = columns()
            .map(|(table, column)| (table.to_owned(), column.to_owned()))
            .collect();
        assert_eq!(schema(&place.url).await, known, "{}", place.label);
    });
}

/// A row goes with what it hangs on, and one that did not is found.
#[test]
fn every_row_goes_with_its_team_and_member_and_is_looked_for() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("club.db");
        Store::open(&file_url(&path)).await.unwrap().close().await;
        let mut connection = SqliteConnection::connect(&file_url(&path)).await.unwrap();
        let keys: Vec<(String, String, String)> = sqlx::query_as(
            "select m.name, f.\"from\", f.on_delete
             from sqlite_schema as m, pragma_foreign_key_list(m.name) as f where m.type = 'table'",
        )
        .fetch_all(&mut connection)
        .await
        .unwrap();
        assert!(keys.len() > 15, "{keys:?}");
        let looked: BTreeSet<(&str, &str)> = links().collect();
        for (table, column, on_delete) in &keys {
            assert_eq!(on_delete, "CASCADE", "{table}.{column}");
            assert!(
                looked.contains(&(table.as_str(), column.as_str())),
                "check does not look at {table}.{column}"
            );
        }
    });
}

/// Everything moves from one database through others back to a fourth, and is the same at the end.
#[test]
fn everything_moves_between_the_engines_and_back() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let file = |name: &str| file_url(&folder.path().join(name));
        let postgres = Database::new().await;
        let mut places = vec![file("a.db")];
        places.extend(postgres.as_ref().map(Database::url));
        places.push(file("b.db"));
        let first = Store::open(&places[0]).await.unwrap();
        train(&first).await;
        // What ends lines and cells where databases exchange text.
        let mut tx = first.begin().await.unwrap();
        let team = tx.team("tabs\tand \\N").await.unwrap();
        let name = "\\.\r\n\\x41 \u{7f}ü€𝄞 'quoted', \"twice\"";
        let odd = tx.member_or_new(&team, "\\N", name, false).await;
        assert_eq!(odd.unwrap().name, name);
        tx.commit().await.unwrap();
        first.close().await;
        let mut held = Vec::new();
        for pair in places.windows(2) {
            let from = Store::open(&pair[0]).await.unwrap();
            let to = Store::open(&pair[1]).await.unwrap();
            let Copied::Now(tables) = copy(&from, &to).await.unwrap() else {
                panic!("nothing was there");
            };
            assert!(
                tables
                    .iter()
                    .any(|(table, held)| *table == "training_set" && held.rows == 24)
            );
            held.push(tables);
            // Once more, and all is there.
            assert_eq!(copy(&from, &to).await.unwrap(), Copied::Before);
            // The copy goes on counting, and is well.
            let found = looked_through(&to, false).await;
            assert!(found.is_well(), "{found:?}");
            from.close().await;
            to.close().await;
        }
        assert!(held.windows(2).all(|pair| pair[0] == pair[1]));
        let last = Store::open(&places[places.len() - 1]).await.unwrap();
        let service = Service::new(last.clone(), bot());
        let event = Event::Message(Message {
            id: "after".to_owned(),
            team: "rowing club".to_owned(),
            channel: "winter".to_owned(),
            author: "new".to_owned(),
            name: "new".to_owned(),
            coach: false,
            at: start() + Duration::days(19),
            text: "bench 60x8".to_owned(),
        });
        assert!(!service.one(&event).await.unwrap().is_empty());
        // Another's data is never written over.
        let first = Store::open(&places[0]).await.unwrap();
        let copied = copy(&first, &last).await.unwrap();
        assert!(matches!(copied, Copied::Refused(_)), "{copied:?}");
        if let Some(postgres) = postgres {
            postgres.remove().await;
        }
    });
}

#[test]
fn backup_is_consistent_while_others_write_and_never_overwrites() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let url = file_url(&folder.path().join("club.db"));
        let copied = folder.path().join("backup.db");
        let (store, other) = (
            Store::open(&url).await.unwrap(),
            Store::open(&url).await.unwrap(),
        );
        train(&store).await;
        // Another process is in the middle of something.
        let mut tx = other.begin().await.unwrap();
        tx.team("half a team").await.unwrap();
        store.backup(&copied).await.unwrap();
        tx.commit().await.unwrap();
        let error = store.backup(&copied).await.expect_err("it is there");
        assert!(error.to_string().contains("is there already"), "{error}");
        let backup = Store::open(&file_url(&copied)).await.unwrap();
        let found = looked_through(&backup, false).await;
        assert!(found.is_well());
        assert_eq!((found.teams, found.sets), (2, 24));
        for store in [store, other, backup] {
            store.close().await;
        }
    });
}

#[test]
fn program_checks_backs_up_and_moves() {
    let folder = TempDir::new().unwrap();
    let file = |name: &str| folder.path().join(name).display().to_string();
    let url = |name: &str| format!("sqlite:{}", file(name));
    runtime().block_on(async {
        let store = Store::open(&url("a.db")).await.unwrap();
        train(&store).await;
        store.close().await;
    });
    let run = |args: &[&str]| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_chalkbell"));
        let output = command
            .args(args)
            .env_remove("DATABASE_URL")
            .output()
            .unwrap();
        let said = [output.stdout, output.stderr].concat();
        (output.status.success(), String::from_utf8(said).unwrap())
    };
    let told = run(&["check", "--database", &url("a.db")]);
    assert!(
        told.0 && told.1.contains("all is as it should be"),
        "{told:?}"
    );
    let told = run(&["backup", &file("b.db"), "--database", &url("a.db")]);
    assert!(told.0, "{told:?}");
    let told = run(&["backup", &file("b.db"), "--database", &url("a.db")]);
    assert!(!told.0 && told.1.contains("is there already"), "{told:?}");
    let told = run(&["move", "--from", &url("a.db"), "--to", &url("c.db")]);
    assert!(
        told.0 && told.1.contains("the same at both ends"),
        "{told:?}"
    );
    let told = run(&["move", "--from", &url("a.db"), "--to", &url("c.db")]);
    assert!(
        told.0 && told.1.contains("everything is there already"),
        "{told:?}"
    );
    let told = run(&["move", "--from", &url("nothing.db"), "--to", &url("d.db")]);
    assert!(!told.0 && told.1.contains("does not exist"), "{told:?}");
    for (kind, says) in [("systemd", "TimeoutStopSec="), ("container", "USER 10001")] {
        let told = run(&["unit", kind]);
        assert!(told.0 && told.1.contains(says), "{told:?}");
    }
}
