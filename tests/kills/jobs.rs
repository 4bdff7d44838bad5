//! Two processes of the team channel on one database, killed hard again and again while bells and
//! digests fall due: each is posted once, and none is lost. Counted at the fake platform.
//!
//! The long form, 200 kills: `cargo test --release --test kills jobs:: -- --ignored`.
#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test may fail where it stands"
)]

use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::fake_discord;
use crate::fake_discord::world::World;
use crate::fake_discord::{Fake, GUILD, GYM, TOKEN};
use crate::support::lots::Lots;
use crate::support::postgres;
use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::state::{Bell, Change, DigestJob};
use chalkbell::service::{Bot, Service};
use chalkbell::store::{Store, file_url};
use chrono::{DateTime, TimeDelta, Utc};
use serde_json::json;

const TEAMS: u64 = 20;
const MEMBERS: u64 = 25;

fn guild(team: u64) -> u64 {
    GUILD + 1000 * (team + 1)
}

fn channel(team: u64) -> u64 {
    GYM + 1000 * (team + 1)
}

fn lifter(team: u64, member: u64) -> u64 {
    800_000_000_000_000_000 + 100 * team + member
}

fn coach(team: u64) -> u64 {
    lifter(team, 99)
}

fn now() -> DateTime<Utc> {
    let ms = i64::try_from(fake_discord::world::now_ms()).expect("a time");
    DateTime::from_timestamp_millis(ms).expect("a time")
}

fn message(team: u64, author: u64, coach: bool, text: &str) -> Event {
    Event::Message(Message {
        id: format!("{author}"),
        team: format!("discord:{}", guild(team)),
        channel: channel(team).to_string(),
        author: author.to_string(),
        name: format!("Lifter {author}"),
        coach,
        at: now() - TimeDelta::seconds(30),
        text: text.to_owned(),
    })
}

/// Teams of which everybody has just posted a set. Their bells fall due at random moments of the
/// time `span` that begins a little later, and their digests, too.
async fn populate(url: &str, lots: &mut Lots, span: Duration) {
    let store = Store::open(url).await.expect("opens");
    let catalogue = chalkbell::config::built_in();
    let service = Service::new(store, Bot::new(catalogue.clone()));
    for team in 0..TEAMS {
        let mut events = vec![message(team, coach(team), true, "/units kg")];
        let text = "bench 80x10, 2 left";
        events.extend((0..MEMBERS).map(|one| message(team, lifter(team, one), false, text)));
        for answer in service.handle(&events).await {
            answer.expect("filed");
        }
    }
    let begin = now() + TimeDelta::seconds(2);
    let mut some_time = || {
        let ms = lots.below(usize::try_from(span.as_millis()).expect("short"));
        begin + TimeDelta::milliseconds(i64::try_from(ms).expect("short"))
    };
    let mut tx = service.store().begin().await.expect("begins");
    for n in 0..TEAMS {
        let team = tx.team(&format!("discord:{}", guild(n))).await;
        let team = team.expect("a team");
        for one in 0..MEMBERS {
            let member = tx.member(&team, &lifter(n, one).to_string()).await;
            let member = member.expect("reads").expect("a member");
            let bell = Bell {
                exercise: "bench press".to_owned(),
                channel: channel(n).to_string(),
                due: some_time(),
                ..Bell::default()
            };
            let change = [Change::Bell(Some(bell))];
            let applied = tx.apply(&team, &member, &change, &catalogue).await;
            applied.expect("set");
        }
        let week = team.settings.calendar().week_of(now().date_naive());
        let digest = DigestJob {
            week: Some(week.first_day()),
            last: Some(week.previous().label()),
            ..DigestJob::default()
        };
        let put = tx.put_digest(&team, &digest, some_time()).await;
        put.expect("set");
    }
    tx.commit().await.expect("stored");
    service.close().await;
}

/// Ends with the test.
struct Process(Child);

impl Process {
    fn start(fake: &Fake, url: &str) -> Self {
        let child = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
            .args(["discord", "--database", url])
            .current_dir(std::env::temp_dir())
            .env("CHALKBELL_DISCORD_TOKEN", TOKEN)
            .env("CHALKBELL_DISCORD_API", &fake.base)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        Self(child.expect("it starts"))
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // SIGKILL on Unix; it may have ended by itself.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// The channel in which the platform has the bot write to somebody.
fn private(user: u64) -> u64 {
    user + 5_000_000
}

/// How often each thing was posted that is to be posted once: what, and how often.
fn counts(world: &World) -> Vec<(String, usize)> {
    let mut counts = Vec::new();
    for team in 0..TEAMS {
        let says = world.bot_says(channel(team));
        let said = |part: &str| says.iter().filter(|text| text.contains(part)).count();
        for one in 0..MEMBERS {
            let call = format!("<@{}>", lifter(team, one));
            counts.push((format!("bell {call}"), said(&call)));
        }
        counts.push((format!("digest {team}"), said("The team's week")));
        let told = world.bot_says(private(coach(team)));
        // Late in the week there is so much to tell that it comes in parts; one has the heading.
        let told = told.iter().filter(|text| text.contains("need")).count();
        counts.push((format!("coach {team}"), told));
    }
    counts
}

async fn killed(times: usize, url: &str, label: &str) {
    let fake = Fake::start().await;
    for team in 0..TEAMS {
        let id = channel(team);
        let guild = guild(team).to_string();
        let told = json!({ "id": id.to_string(), "type": 0, "guild_id": guild, "name": "gym" });
        fake.world().channels.insert(id, told);
    }
    let mut lots = Lots(11);
    let span = Duration::from_millis(400) * u32::try_from(times).expect("few");
    populate(url, &mut lots, span).await;
    let mut two = [(); 2].map(|()| Process::start(&fake, url));
    for _ in 0..times {
        let pause = 100 + u64::try_from(lots.below(600)).expect("small");
        tokio::time::sleep(Duration::from_millis(pause)).await;
        // Drops the old one, which kills it.
        two[lots.below(2)] = Process::start(&fake, url);
    }
    fake.until_within(Duration::from_secs(150), "everything is posted", |world| {
        counts(world).iter().all(|(_, count)| *count > 0)
    })
    .await;
    let store = Store::open(url).await.expect("opens");
    let end = tokio::time::Instant::now() + Duration::from_secs(90);
    loop {
        // What was sent is noted a little later.
        let mut tx = store.begin().await.expect("begins");
        let unsent = tx.unsent("discord").await.expect("reads").len();
        let later = now() + TimeDelta::weeks(60);
        let jobs = tx.due_keys(None, later, 1000).await.expect("reads").len();
        tx.rollback().await.expect("ends");
        if unsent == 0 && jobs == usize::try_from(TEAMS).expect("few") {
            break;
        }
        let left = format!("{label}: {unsent} unsent, {jobs} jobs");
        assert!(tokio::time::Instant::now() < end, "{left}");
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    drop(two);
    let wrong: Vec<_> = counts(&fake.world())
        .into_iter()
        .filter(|(_, count)| *count != 1)
        .collect();
    assert!(wrong.is_empty(), "{label}: {wrong:?}");
    println!(
        "{label}: {times} kills, {} posts asked for",
        fake.world().posts
    );
    store.close().await;
    fake.assert_clean();
}

async fn on_both_engines(times: usize) {
    let folder = tempfile::tempdir().expect("a folder");
    killed(times, &file_url(&folder.path().join("club")), "sqlite").await;
    if let Some(database) = postgres::Database::new().await {
        killed(times, &database.url(), "postgres").await;
        database.remove().await;
    }
}

#[tokio::test]
async fn bells_and_digests_are_posted_once_though_processes_are_killed() {
    on_both_engines(20).await;
}

#[tokio::test]
#[ignore = "takes minutes"]
async fn bells_and_digests_are_posted_once_though_processes_are_killed_200_times() {
    on_both_engines(200).await;
}
