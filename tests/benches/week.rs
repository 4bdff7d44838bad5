//! What a week's sums cost in a team of 10,000 with a million stored sets, against the plain SQL
//! `GROUP BY` over the same rows: `cargo bench --bench week`.
//!
//! Twice: all million sets in the week that is asked about, and spread over ten weeks. What must
//! stand: the data of a digest at most twice the time of `GROUP BY` member and exercise, `/week`
//! under 20 ms, and a set filed and answered in at most 1.2 times as long as among a thousand sets.
#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock, prints, and may fail where it stands"
)]

#[path = "../support/mod.rs"]
mod support;

use std::time::Instant;

use chalkbell::bot::event::{Event, Message};
use chalkbell::config;
use chalkbell::service::{Bot, Service};
use chalkbell::store::{Store, file_url};
use chrono::{Days, NaiveDate, TimeDelta};
use sqlx::{AssertSqlSafe, PgPool, SqlitePool};
use tempfile::TempDir;

use support::lots::Lots;

const MEMBERS: u64 = 10_000;
const SETS: u64 = 1_000_000;
const ROUNDS: usize = 5;
const PLAIN: &str = "select member_id, exercise, count(*) as sets from training_set
     where member_id in (select id from member where team_id = 1)
           and day between '2026-11-23' and '2026-11-29'
     group by member_id, exercise";
/// The same by team and day alone: another way through the table, with the same answer.
const PLAIN_BY_TEAM: &str = "select member_id, exercise, count(*) as sets from training_set
     where team_id = 1 and day between '2026-11-23' and '2026-11-29'
     group by member_id, exercise";

fn main() {
    support::engines::runtime().block_on(async {
        for weeks in [1, 10] {
            let folder = TempDir::new().unwrap();
            let url = file_url(&folder.path().join("club.db"));
            Store::open(&url).await.unwrap().close().await;
            let pool = SqlitePool::connect(&url).await.unwrap();
            for text in filling(weeks) {
                sqlx::query(AssertSqlSafe(text))
                    .execute(&pool)
                    .await
                    .unwrap();
            }
            println!("SQLite file, {MEMBERS} members, {SETS} sets in {weeks} weeks");
            let plain = async |text| sqlx::query(text).fetch_all(&pool).await.unwrap().len();
            compare(&url, plain).await;
            let Some(database) = support::postgres::Database::new().await else {
                continue;
            };
            Store::open(&database.url()).await.unwrap().close().await;
            let pool = PgPool::connect(&database.url()).await.unwrap();
            for text in filling(weeks) {
                sqlx::query(AssertSqlSafe(text))
                    .execute(&pool)
                    .await
                    .unwrap();
            }
            // The members were given their ids; the next one is to get one that is free.
            for text in [
                "select setval(pg_get_serial_sequence('team', 'id'), (select max(id) from team))",
                "select setval(pg_get_serial_sequence('member', 'id'), (select max(id) from member))",
            ] {
                sqlx::query(text).execute(&pool).await.unwrap();
            }
            sqlx::query("analyze").execute(&pool).await.unwrap();
            println!("PostgreSQL on loopback, {MEMBERS} members, {SETS} sets in {weeks} weeks");
            let plain = async |text| sqlx::query(text).fetch_all(&pool).await.unwrap().len();
            compare(&database.url(), plain).await;
            pool.close().await;
            database.remove().await;
        }
    });
}

/// Statements that fill the tables: members, and their sets as they would come in, day by day, all
/// members in turn.
fn filling(weeks: u64) -> Vec<String> {
    let catalogue = config::built_in();
    let names: Vec<&str> = catalogue
        .exercises()
        .map(|(_, one)| one.name.as_str())
        .collect();
    let mut lots = Lots(5);
    let mut texts =
        vec!["insert into team (id, key, settings) values (1, 'club', '{}')".to_owned()];
    let members: Vec<String> = (1..=MEMBERS)
        .map(|id| {
            format!(
                "({id}, 1, 'u{id}', 'Name {id}', {}, '{{}}', '{{}}')",
                u8::from(id == 1)
            )
        })
        .collect();
    texts.push(format!(
        "insert into member (id, team_id, author, name, coach, profile, desk) values {}",
        members.join(",")
    ));
    texts.push(
        "insert into prescription (member_id, kind, from_day, content)
         select id, 'targets', '2026-11-02', '{\"targets\":{\"bands\":[[\"chest\",8,14]]}}' from member"
            .to_owned(),
    );
    let sunday: NaiveDate = "2026-11-29".parse().unwrap();
    let rounds = SETS / MEMBERS;
    let mut rows = Vec::new();
    for round in 0..rounds {
        let back = (rounds - 1 - round) * 7 * weeks / rounds;
        let day = sunday.checked_sub_days(Days::new(back)).unwrap();
        for member in 1..=MEMBERS {
            let exercise = names[usize::try_from(member + round / 4).unwrap() % 40];
            let kind = if lots.below(8) == 0 {
                "warm_up"
            } else {
                "straight"
            };
            let (rir, judged) = match lots.below(6) {
                0 => ("null".to_owned(), format!("{}.37", lots.below(5))),
                left => ((left - 1).to_string(), "null".to_owned()),
            };
            let at = (round * MEMBERS + member) * 1000;
            rows.push(format!(
                "(1, {member}, '{exercise}', 800000000000, 'kg', 'total', {}, {rir}, '{kind}', 0, \
                 {at}, 1, '{day}', 'm{at}', 'gym', 0, 1, 2.0, {judged})",
                3 + lots.below(12),
            ));
            if rows.len() == 5000 {
                texts.push(format!(
                    "insert into training_set (team_id, member_id, exercise, load, unit, basis, reps,
                         rir, kind, per_side, at_ms, timed, day, message, channel, place,
                         order_in_day, asked_rir, judged_left) values {}",
                    rows.join(",")
                ));
                rows.clear();
            }
        }
    }
    texts
}

async fn compare(url: &str, plain: impl AsyncFn(&'static str) -> usize) {
    let store = Store::open(url).await.unwrap();
    let mut times: [Vec<f64>; 3] = Default::default();
    for _ in 0..ROUNDS {
        for (text, times) in [PLAIN, PLAIN_BY_TEAM].into_iter().zip(&mut times) {
            let begun = Instant::now();
            assert!(plain(text).await >= usize::try_from(MEMBERS).unwrap());
            times.push(begun.elapsed().as_secs_f64() * 1e3);
        }
        let begun = Instant::now();
        digest(&store).await;
        times[2].push(begun.elapsed().as_secs_f64() * 1e3);
    }
    let [plain, by_team, ours] = times.map(median);
    println!("  plain GROUP BY, members in turn   {plain:>8.0} ms");
    println!("  plain GROUP BY, team and day      {by_team:>8.0} ms");
    println!(
        "  data of a digest                  {ours:>8.0} ms, {:.2} and {:.2} times as long",
        ours / plain,
        ours / by_team
    );
    let service = Service::new(store, Bot::new(config::built_in()));
    for (text, author) in [("/week", "u77"), ("/week Name 77", "u1")] {
        let mut times = Vec::new();
        for round in 0..20 {
            let begun = Instant::now();
            let event = message(&format!("{text}{round}"), author, text);
            let answers = service.one(&event).await.unwrap();
            times.push(begun.elapsed().as_secs_f64() * 1e3);
            assert!(format!("{answers:?}").contains("chest"), "{answers:?}");
        }
        println!("  {text:<32}  {:>8.1} ms", median(times));
    }
    advice(&service).await;
    service.close().await;
}

/// A set filed and answered with advice in this database and in one of a thousand sets, in turn.
async fn advice(large: &Service<Bot>) {
    let folder = TempDir::new().unwrap();
    let small = Store::open(&file_url(&folder.path().join("club.db")))
        .await
        .unwrap();
    let small = Service::new(small, Bot::new(config::built_in()));
    let post = async |service: &Service<Bot>, author: u64, n: u64| {
        let text =
            ["bench 60x10, 2 left", "x9, 1 left", "x8, 1 left"][usize::try_from(n % 3).unwrap()];
        let mut event = message(&format!("{author}.{n}"), &format!("u{author}"), text);
        if let Event::Message(message) = &mut event {
            message.at += TimeDelta::hours(i64::try_from(30 * (n / 3)).unwrap());
            message.at += TimeDelta::minutes(i64::try_from(4 * (n % 3)).unwrap());
        }
        let begun = Instant::now();
        let answers = service.one(&event).await.unwrap();
        assert!(
            format!("{answers:?}").contains("bench press"),
            "{answers:?}"
        );
        begun.elapsed().as_secs_f64() * 1e3
    };
    for n in 0..1000 {
        post(&small, 20_000 + n / 10, n % 10).await;
    }
    let mut times: [Vec<f64>; 2] = Default::default();
    for n in 0..300 {
        for (service, times) in [large, &small].into_iter().zip(&mut times) {
            times.push(post(service, 30_000, n).await);
        }
    }
    let [large, small] = times.map(median);
    println!(
        "  a set answered with advice        {large:>8.2} ms, {:.2} times that with 1,000 sets (SQLite)",
        large / small
    );
}

async fn digest(store: &Store) {
    let mut tx = store.begin().await.unwrap();
    let team = tx.team("club").await.unwrap();
    let today = "2026-11-29".parse().unwrap();
    let week = team.settings.calendar().week_of(today);
    let catalogue = config::built_in();
    let ids = tx.member_ids(&team).await.unwrap();
    let found = tx.week_of(&team, &ids, week, &catalogue, today).await;
    let totals = found.unwrap().1.totals();
    assert!(u64::from(totals.trained) + 1 >= MEMBERS, "{totals:?}");
    tx.rollback().await.unwrap();
}

fn message(id: &str, author: &str, text: &str) -> Event {
    Event::Message(Message {
        id: id.to_owned(),
        team: "club".to_owned(),
        channel: "gym".to_owned(),
        author: author.to_owned(),
        name: format!("Name {}", &author[1..]),
        coach: author == "u1",
        at: "2026-11-29T18:00:00Z".parse().unwrap(),
        text: text.to_owned(),
    })
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_unstable_by(f64::total_cmp);
    times[times.len() / 2]
}
