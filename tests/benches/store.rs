//! What it costs to store a message: bare inserts of the same rows under the same settings against
//! the store's own flow, one commit a message and in groups. Ratios are taken in one run, rounds in
//! turn, the median of them: `cargo bench --bench store`.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, prints, and may fail where it stands"
)]

#[expect(dead_code, reason = "only the throwaway server is needed here")]
#[path = "../support/mod.rs"]
mod support;

use std::time::{Duration, Instant};

use chalkbell::bot::reply::{AdviceData, ExpectationData, Mark, Outgoing, Reply, Sign};
use chalkbell::bot::state::{Bell, Card, Change, FiledSet, Member, Remembered};
use chalkbell::domain::catalogue::{
    Basis, Catalogue, Equipment, Exercise, LiftClass, Muscle, MuscleRole,
};
use chalkbell::domain::id::{ExerciseId, MuscleId};
use chalkbell::domain::load::Load;
use chalkbell::domain::log::{LoggedSet, SetKind};
use chalkbell::domain::mass::{Mass, Unit};
use chalkbell::store::{Store, file_url};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use sqlx::postgres::PgPool;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{Acquire as _, SqlitePool};

const ROUNDS: usize = 7;
const MESSAGES: usize = 256;
const GROUP: usize = 64;
const LIFTERS: usize = 20;
/// As large as an encoded belief and an encoded condition may be.
const STATE: [u8; 160] = [7; 160];

fn main() {
    support::engines::runtime().block_on(async {
        let folder = tempfile::TempDir::new().unwrap();
        let url = file_url(&folder.path().join("bench.db"));
        Store::open(&url).await.unwrap().close().await;
        let bare = Bare::Sqlite(sqlite_pool(&folder.path().join("bench.db")).await);
        compare("SQLite, WAL, synchronous=FULL", &url, bare).await;
        if let Some(database) = support::postgres::Database::new().await {
            Store::open(&database.url()).await.unwrap().close().await;
            let pool = PgPool::connect(&database.url()).await.unwrap();
            compare(
                "PostgreSQL, loopback, fsync on",
                &database.url(),
                Bare::Postgres(pool),
            )
            .await;
            database.remove().await;
        }
    });
}

async fn sqlite_pool(path: &std::path::Path) -> SqlitePool {
    let options = SqliteConnectOptions::new()
        .filename(path)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true);
    SqlitePoolOptions::new()
        .max_connections(1)
        .connect_with(options)
        .await
        .unwrap()
}

/// The pool that bare inserts go through.
enum Bare {
    Sqlite(SqlitePool),
    Postgres(PgPool),
}

async fn compare(label: &str, url: &str, bare: Bare) {
    let store = Store::open(url).await.unwrap();
    let catalogue = catalogue();
    let mut next = 0;
    let mut times: [Vec<Duration>; 4] = std::array::from_fn(|_| Vec::new());
    // The first round warms caches and is not counted.
    for round in 0..=ROUNDS {
        for (way, times) in times.iter_mut().enumerate() {
            let group = if way % 2 == 0 { 1 } else { GROUP };
            let numbers: Vec<usize> = (next..next + MESSAGES).collect();
            next += MESSAGES;
            let begun = Instant::now();
            for some in numbers.chunks(group) {
                match (way < 2, &bare) {
                    (true, Bare::Sqlite(pool)) => bare_sqlite(pool, some).await,
                    (true, Bare::Postgres(pool)) => bare_postgres(pool, some).await,
                    (false, _) => flow(&store, some, &catalogue).await,
                }
            }
            if round > 0 {
                times.push(begun.elapsed() / u32::try_from(MESSAGES).unwrap());
            }
        }
    }
    let [bare_one, bare_group, flow_one, flow_group] = times.map(|mut times| {
        times.sort_unstable();
        times[ROUNDS / 2].as_secs_f64() * 1e6
    });
    println!("{label}: microseconds a message, median of {ROUNDS} rounds of {MESSAGES}");
    println!("  bare inserts, a commit each      {bare_one:8.0}");
    println!("  bare inserts, {GROUP} a commit        {bare_group:8.0}");
    println!("  store's flow, a commit each      {flow_one:8.0}");
    println!("  store's flow, {GROUP} a commit        {flow_group:8.0}");
    println!("  throughput against bare inserts with a commit each:");
    println!(
        "    a commit each {:.2}, {GROUP} a commit {:.2}",
        bare_one / flow_one,
        bare_one / flow_group
    );
    println!(
        "  throughput against bare inserts, {GROUP} a commit: {:.2}",
        bare_group / flow_group
    );
}

// --- the store's flow ----------------------------------------------------------------------------

/// What filing a set and advising on the next takes: 7 reads (the first two once a transaction and
/// person), 5 writes.
async fn flow(store: &Store, numbers: &[usize], catalogue: &Catalogue) {
    let mut tx = store.begin().await.unwrap();
    for &number in numbers {
        let (author, id) = (author(number), id("flow", number));
        let team = tx.team("rowers").await.unwrap();
        let mut member = tx
            .member_or_new(&team, &author, "Ann", false)
            .await
            .unwrap();
        assert!(tx.remembered(&team, &id).await.unwrap().is_none());
        let since = at(number) - TimeDelta::hours(3);
        let log = tx.sets_since(&member, since, catalogue).await.unwrap();
        assert!(log.len() < 100);
        let names = ["bench press", "barbell row", "back squat"];
        tx.beliefs(&member, &names).await.unwrap();
        tx.bell(&member).await.unwrap();
        let changes = changes(&id, number, &mut member);
        tx.apply(&team, &member, &changes, catalogue).await.unwrap();
        let event = Remembered {
            author,
            channel: "gym".to_owned(),
            at: at(number),
        };
        tx.remember(&team, &id, &event, &outcome(&id))
            .await
            .unwrap();
    }
    tx.commit().await.unwrap();
}

fn changes(id: &str, number: usize, member: &mut Member) -> Vec<Change> {
    member.condition = Some(STATE.to_vec());
    member.desk.cards.insert("bench press".to_owned(), card(id));
    vec![
        Change::File(vec![set(id, number)]),
        Change::Beliefs(vec![("bench press".to_owned(), Some(STATE.to_vec()))]),
        Change::Member(Box::new(member.clone())),
        Change::Bell(Some(Bell {
            exercise: "bench press".to_owned(),
            channel: "gym".to_owned(),
            due: at(number) + TimeDelta::seconds(150),
            moved: 0,
        })),
    ]
}

fn card(id: &str) -> Card {
    Card {
        reply: format!("{id}/card"),
        channel: "gym".to_owned(),
        day: NaiveDate::from_ymd_opt(2026, 1, 12).unwrap(),
    }
}

fn set(id: &str, number: usize) -> FiledSet {
    FiledSet {
        set: LoggedSet {
            id: None,
            exercise: ExerciseId(0),
            load: Load {
                mass: Mass::from_grams(80_000),
                unit: Unit::Kg,
                basis: Basis::Total,
            },
            reps: 10,
            rir: None,
            kind: SetKind::Straight,
            per_side: false,
            at: at(number),
            timed: true,
            asked: None,
            said: Vec::new(),
            stated_rest_s: None,
            day: NaiveDate::from_ymd_opt(2026, 1, 12).unwrap(),
        },
        message: id.to_owned(),
        channel: "gym".to_owned(),
        place: 0,
        order: 1,
        technique: None,
    }
}

fn outcome(id: &str) -> Vec<Outgoing> {
    vec![
        Outgoing::Mark(Mark {
            answers: id.to_owned(),
            team: "rowers".to_owned(),
            sign: Sign::Filed,
        }),
        Outgoing::Reply(Reply {
            id: format!("{id}/card"),
            team: "rowers".to_owned(),
            channel: "gym".to_owned(),
            answers: Some(id.to_owned()),
            to: Some("u1".to_owned()),
            text: "bench press: 80 kg again in 2:30, 9 reps (8 to 10) with 2 left".to_owned(),
            advice: Some(AdviceData {
                exercise: "bench press".to_owned(),
                decision: "same_load".to_owned(),
                load: Some(80.0),
                unit: "kg".to_owned(),
                basis: "total".to_owned(),
                rest_s: 150,
                expect: Some(ExpectationData {
                    reps: 9.1,
                    low: 8,
                    high: 10,
                    rir: 2.0,
                }),
                limits: Vec::new(),
                why: "the chest needs that long".to_owned(),
            }),
            ..Reply::default()
        }),
    ]
}

// --- the same rows, bare -------------------------------------------------------------------------

const MEMBER: &str = "insert into member (team_id, author, name, coach, profile, desk, condition)
    values (1, $1, 'Ann', 0, '{}', $2, $3) on conflict (team_id, author) do update
    set desk = excluded.desk, condition = excluded.condition returning id";
const SET: &str = "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps,
    rir, kind, per_side, at_ms, timed, stated_rest_s, day, message, channel, place, order_in_day,
    technique) values (1, $1, 'bench press', 800000000000, 'kg', 'total', 10, null, 'straight', 0,
    $2, 1, null, '2026-01-12', $3, 'gym', 0, 1, null)";
const BELIEF: &str =
    "insert into belief (member_id, exercise, state) values ($1, 'bench press', $2)
    on conflict (member_id, exercise) do update set state = excluded.state";
const JOB: &str = "insert into job (key, team_id, member_id, kind, due_ms, payload)
    values ($1, 1, $2, 'bell', $3, $4) on conflict (key) do update set due_ms = excluded.due_ms";
const EVENT: &str = "insert into event (team_id, id, author, channel, at_ms, outcome)
    values (1, $1, $2, 'gym', $3, $4)";
const TEAM: &str = "insert into team (id, key, settings) values (1, 'rowers', '{}')
    on conflict do nothing";

/// The texts of a message's rows.
struct Rows {
    author: String,
    id: String,
    desk: String,
    outcome: String,
}

fn rows(number: usize) -> Rows {
    let id = id("bare", number);
    Rows {
        author: author(number),
        desk: serde_json::json!({"cards": {"bench press": card(&id)}}).to_string(),
        outcome: serde_json::to_string(&outcome(&id)).unwrap(),
        id,
    }
}

const PAYLOAD: &str = r#"{"exercise":"bench press","channel":"gym","moved":0}"#;

// The same text twice: the two drivers' types have no name in common that is worth its length.
async fn bare_sqlite(pool: &SqlitePool, numbers: &[usize]) {
    let mut tx = pool.begin().await.unwrap();
    let c = tx.acquire().await.unwrap();
    for &number in numbers {
        let (row, at) = (rows(number), at(number).timestamp_millis());
        if number == 0 {
            sqlx::query(TEAM).execute(&mut *c).await.unwrap();
        }
        let member: i64 = sqlx::query_scalar(MEMBER)
            .bind(&row.author)
            .bind(&row.desk)
            .bind(&STATE[..])
            .fetch_one(&mut *c)
            .await
            .unwrap();
        sqlx::query(SET)
            .bind(member)
            .bind(at)
            .bind(&row.id)
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(BELIEF)
            .bind(member)
            .bind(&STATE[..])
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(JOB)
            .bind(format!("bell/{member}"))
            .bind(member)
            .bind(at)
            .bind(PAYLOAD)
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(EVENT)
            .bind(&row.id)
            .bind(&row.author)
            .bind(at)
            .bind(&row.outcome)
            .execute(&mut *c)
            .await
            .unwrap();
    }
    tx.commit().await.unwrap();
}

async fn bare_postgres(pool: &PgPool, numbers: &[usize]) {
    let mut tx = pool.begin().await.unwrap();
    let c = tx.acquire().await.unwrap();
    for &number in numbers {
        let (row, at) = (rows(number), at(number).timestamp_millis());
        if number == 0 {
            sqlx::query(TEAM).execute(&mut *c).await.unwrap();
        }
        let member: i64 = sqlx::query_scalar(MEMBER)
            .bind(&row.author)
            .bind(&row.desk)
            .bind(&STATE[..])
            .fetch_one(&mut *c)
            .await
            .unwrap();
        sqlx::query(SET)
            .bind(member)
            .bind(at)
            .bind(&row.id)
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(BELIEF)
            .bind(member)
            .bind(&STATE[..])
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(JOB)
            .bind(format!("bell/{member}"))
            .bind(member)
            .bind(at)
            .bind(PAYLOAD)
            .execute(&mut *c)
            .await
            .unwrap();
        sqlx::query(EVENT)
            .bind(&row.id)
            .bind(&row.author)
            .bind(at)
            .bind(&row.outcome)
            .execute(&mut *c)
            .await
            .unwrap();
    }
    tx.commit().await.unwrap();
}

// --- the scene -----------------------------------------------------------------------------------

fn author(number: usize) -> String {
    format!("u{}", number % LIFTERS)
}

fn id(way: &str, number: usize) -> String {
    format!("{way}-{number:08}")
}

/// A set every half minute in the club: eighteen of a lifter lie within three hours, a session.
fn at(number: usize) -> DateTime<Utc> {
    let start: DateTime<Utc> = "2026-01-12T12:00:00Z".parse().unwrap();
    start + TimeDelta::seconds(30 * i64::try_from(number).unwrap())
}

fn catalogue() -> Catalogue {
    let mut catalogue = Catalogue::new(vec![Muscle {
        name: "chest".to_owned(),
        words: Vec::new(),
        planned: true,
        role: MuscleRole::Target,
    }]);
    for name in ["bench press", "barbell row", "back squat"] {
        let added = catalogue.add(Exercise {
            name: name.to_owned(),
            aliases: Vec::new(),
            target: MuscleId(0),
            helpers: Vec::new(),
            equipment: Equipment::Barbell,
            basis: Basis::Total,
            class: LiftClass::Press,
            body_share: 0.0,
        });
        added.expect("names differ");
    }
    catalogue
}
