//! Every migration runs over rows of the version before it, on both engines.
//!
//! A new migration adds its own sample rows below: for each table or column that it brings, a row
//! as that version writes it. The next migration then has to carry them over.
#![expect(
    clippy::expect_used,
    reason = "a test may fail where it stands, and say why"
)]

use std::collections::BTreeMap;
use std::path::Path;

use sqlx::migrate::Migrator;
use sqlx::{AssertSqlSafe, Connection as _, Executor as _, PgConnection, SqliteConnection};

use crate::support::engines::runtime;
use crate::support::postgres::Database;
use chalkbell::bot::state::DigestJob;
use chalkbell::store::{Store, file_url};

/// Rows as each version writes them, and the tables that then hold one row more.
const SAMPLES: [(i64, &str, &[&str]); 18] = [
    (
        1,
        "insert into team (key, settings) values ('rowers', '{}');
     insert into member (team_id, author, name, coach, profile, desk, condition)
         values (1, 'u1', 'Ann', 0, '{}', '{}', null);
     insert into event (team_id, id, author, channel, at_ms, outcome)
         values (1, 'm1', 'u1', 'gym', 1768219200000, '[]');
     insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir, kind,
         per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
         technique)
         values (1, 1, 'bench press', 800000000000, 'kg', 'total', 8, 1.5, 'straight', 0,
         1768219200000, 1, null, '2026-01-12', 'm1', 'gym', 0, 1, null);
     insert into belief (member_id, exercise, state) values (1, 'bench press', '');
     insert into job (key, team_id, member_id, kind, due_ms, payload)
         values ('bell/1', 1, 1, 'bell', 1768219320000,
         '{\"exercise\":\"bench press\",\"channel\":\"gym\",\"moved\":0}');",
        &["team", "member", "event", "training_set", "belief", "job"],
    ),
    (
        2,
        "insert into prescription (member_id, kind, from_day, content)
         values (1, 'plan', '2026-01-12',
         '{\"plan\":{\"days\":[{\"day\":\"mon\",\"slots\":[[{\"exercise\":\"bench press\",
         \"sets\":4,\"reps\":[8,12]}]]}]}}');",
        &["prescription"],
    ),
    (
        3,
        "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir, kind,
         per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
         technique, asked_rir, said)
         values (1, 1, 'bench press', 800000000000, 'kg', 'total', 8, 1.5, 'straight', 0,
         1768219400000, 1, null, '2026-01-12', 'm2', 'gym', 0, 2, null, 1, '95-breath 130+muscle');",
        &["training_set"],
    ),
    (
        4,
        "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir, kind,
         per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
         technique, asked_rir, said, judged_left)
         values (1, 1, 'bench press', 800000000000, 'kg', 'total', 8, null, 'straight', 0,
         1768219600000, 1, null, '2026-01-12', 'm3', 'gym', 0, 3, null, 1, null, 2.25);",
        &["training_set"],
    ),
    (
        5,
        "insert into discord_channel (id, guild, parent, name, read_to) values (5, 9, null, 'gym', 5);
     insert into discord_guild (id, coach_role, managers) values (9, null, '[1]');
     insert into discord_post (team_id, reply, channel, message) values (1, 'm1.1', 5, 6);
     insert into discord_outbox (key, team_id, at_ms, outgoing)
         values ('m/rowers/m1', 1, 1768219200000, '[]');
     insert into discord_commands (application, digest) values (7, '[]');",
        &[
            "discord_channel",
            "discord_guild",
            "discord_post",
            "discord_outbox",
            "discord_commands",
        ],
    ),
    (
        6,
        "insert into member (team_id, author, name, coach, profile, desk, condition, version)
         values (1, 'u4', 'Dot', 0, '{}', '{}', null, 7);",
        &["member"],
    ),
    (
        7,
        "insert into job (key, team_id, member_id, kind, due_ms, payload, turn_ms, owner)
         values ('week/1/2026-W03', 1, 1, 'week', 1768759200000, '{\"week\":\"2026-01-12\"}',
         1768759200000, null);
     insert into outbox (key, team_id, at_ms, outgoing, via, owner, until_ms)
         values ('j/week/1/2026-W03/1768759200000', 1, 1768759200000, '[]', 'discord', '0-1.5',
         1768759260000);",
        &["job", "outbox"],
    ),
    (
        8,
        "insert into erased (team_id, author, at_ms) values (1, 'c0ffee', 1768219200000);",
        &["erased"],
    ),
    (
        9,
        "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir, kind,
         per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
         technique, asked_rir, said, judged_left, gave_out)
         values (1, 1, 'bench press', 800000000000, 'kg', 'total', 8, 1, 'straight', 0,
         1768219800000, 1, null, '2026-01-12', 'm4', 'gym', 0, 4, null, 1, null, null, 'helpers');",
        &["training_set"],
    ),
    (
        10,
        "insert into discord_edit (team_id, message, at_ms) values (1, 6, 1768219200000);",
        &["discord_edit"],
    ),
    (
        11,
        "insert into job (key, team_id, member_id, kind, due_ms, payload, turn_ms, owner)
         values ('week/1/2026-W04', 1, 1, 'week', 1769364000000, '{\"week\":\"2026-01-19\"}',
         1769364000000, null);",
        &["job"],
    ),
    (
        12,
        "insert into response (team_id, key, author, at_ms, outcome)
         values (1, 'press/p1', 'u1', 1768219200000, '[]');",
        &["response"],
    ),
    (
        13,
        "insert into outbox (id, key, team_id, at_ms, outgoing, via, owner, until_ms)
         values (7, 'm/rowers/m2', 1, 1768219200000, '[]', 'pipe', '0-1.5', 1768759260000);
     insert into discord_post (team_id, reply, channel, message, sent)
         values (1, 'm2.1', 5, -7, 7);",
        &["outbox", "discord_post"],
    ),
    (
        14,
        "insert into import (id, team_id, until_ms) values (-77, 1, 1768759260000);
     insert into training_set (team_id, member_id, exercise, load, unit, basis, reps, rir, kind,
         per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
         technique, asked_rir, said, judged_left, gave_out, import_id)
         values (1, 1, 'bench press', 800000000000, 'kg', 'total', 8, 1, 'straight', 0,
         1768219900000, 1, null, '2026-01-12', 'm5', 'gym', 0, 5, null, 1, null, null, null, -77);",
        &["import", "training_set"],
    ),
    (
        15,
        "insert into checkpoint (member_id, at_ms, exercise, state, bests)
         values (1, 1768219200000, 'bench press', null, null);",
        &["checkpoint"],
    ),
    (
        16,
        "insert into past_event (team_id, kind, id, at_ms) values (1, 0, 'm0', 1767010000000);",
        &["past_event"],
    ),
    (
        18,
        "insert into discord_direct (id, member_id, read_to) values (77, 1, 78);",
        &["discord_direct"],
    ),
    (
        19,
        "insert into erasing (team_id, author, name, before_ms)
         values (1, 'u9', 'Bo', 1768219200000);",
        &["erasing"],
    ),
];

async fn migrations(engine: &str) -> Migrator {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("migrations")
        .join(engine);
    Migrator::new(folder).await.expect("readable migrations")
}

fn versions(migrator: &Migrator) -> Vec<i64> {
    migrator.iter().map(|migration| migration.version).collect()
}

/// An engine, as far as this test speaks to it.
enum Engine {
    Sqlite(SqliteConnection),
    Postgres(PgConnection),
}

impl Engine {
    async fn up_to(&mut self, version: i64) {
        let done = match self {
            Self::Sqlite(c) => migrations("sqlite").await.run_to(version, c).await,
            Self::Postgres(c) => migrations("postgres").await.run_to(version, c).await,
        };
        done.unwrap_or_else(|error| panic!("migration {version}: {error}"));
    }

    async fn run(&mut self, statements: &'static str) {
        let done = match self {
            Self::Sqlite(c) => c.execute(statements).await.map(drop),
            Self::Postgres(c) => c.execute(statements).await.map(drop),
        };
        done.expect("sample rows fit their version");
    }

    async fn count(&mut self, table: &str) -> i64 {
        let text = AssertSqlSafe(format!("select count(*) from {table}"));
        let count = match self {
            Self::Sqlite(c) => sqlx::query_scalar(text).fetch_one(c).await,
            Self::Postgres(c) => sqlx::query_scalar(text).fetch_one(c).await,
        };
        count.expect("the table is there")
    }
}

async fn every_migration_over_rows_of_the_one_before(engine: &mut Engine, versions: &[i64]) {
    let mut expected: BTreeMap<&str, i64> = BTreeMap::new();
    for &version in versions {
        engine.up_to(version).await;
        if version == 7 {
            // Renamed; and the one team has a digest to come now.
            let sent = expected.remove("discord_outbox").expect("rows of 5");
            expected.insert("outbox", sent);
            *expected.entry("job").or_default() += 1;
        }
        for (table, &count) in &expected {
            assert_eq!(engine.count(table).await, count, "{table} after {version}");
        }
        let sample = SAMPLES.iter().find(|(of, ..)| *of == version);
        let (_, rows, tables) = sample.expect("sample rows for every version");
        engine.run(rows).await;
        for table in *tables {
            *expected.entry(table).or_default() += 1;
        }
    }
    for (table, count) in expected {
        assert_eq!(engine.count(table).await, count, "{table}");
    }
}

/// What the store reads after the last migration: the rows of the first version among others.
async fn store_reads_the_oldest_rows(url: &str) {
    let store = Store::open(url).await.expect("opens");
    let mut tx = store.begin().await.expect("begins");
    let team = tx.team("rowers").await.expect("reads");
    let member = tx
        .member(&team, "u1")
        .await
        .expect("reads")
        .expect("is there");
    assert_eq!(member.name, "Ann");
    assert!(tx.remembered(&team, "m1").await.expect("reads").is_some());
    assert!(tx.bell(&member).await.expect("reads").is_some());
    let digest = tx.digest(&team).await.expect("reads");
    assert_eq!(digest, Some(DigestJob::default()));
    assert_eq!(tx.unsent("discord").await.expect("reads").len(), 2);
    let day = "2026-01-18".parse().expect("a day");
    assert_eq!(tx.prescribed(&member, day).await.expect("reads").len(), 1);
    tx.rollback().await.expect("ends");
    store.close().await;
}

#[test]
fn sqlite_migrations_carry_rows_over() {
    runtime().block_on(async {
        let folder = tempfile::TempDir::new().unwrap();
        let url = file_url(&folder.path().join("club.db"));
        let connection = SqliteConnection::connect(&format!("{url}?mode=rwc")).await;
        let mut engine = Engine::Sqlite(connection.unwrap());
        let versions = versions(&migrations("sqlite").await);
        every_migration_over_rows_of_the_one_before(&mut engine, &versions).await;
        drop(engine);
        store_reads_the_oldest_rows(&url).await;
    });
}

#[test]
fn postgres_migrations_carry_rows_over() {
    runtime().block_on(async {
        let Some(database) = Database::new().await else {
            return;
        };
        let connection = PgConnection::connect(&database.url()).await;
        let mut engine = Engine::Postgres(connection.unwrap());
        let versions = versions(&migrations("postgres").await);
        every_migration_over_rows_of_the_one_before(&mut engine, &versions).await;
        drop(engine);
        store_reads_the_oldest_rows(&database.url()).await;
        database.remove().await;
    });
}

#[test]
fn both_engines_have_the_same_versions() {
    runtime().block_on(async {
        let sqlite = versions(&migrations("sqlite").await);
        let postgres = versions(&migrations("postgres").await);
        assert_eq!(sqlite, postgres);
        assert!(!sqlite.is_empty());
    });
}
