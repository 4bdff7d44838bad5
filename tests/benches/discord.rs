//! The team channel: from a gateway event to the post of its card, beside the least that any bot needs
//! (a socket, and one request with a fixed reply), on the same fake platform in the same run;
//! and how a burst drains. Measured are the first set of somebody new, the first set of the day of
//! somebody with a history (after a start of the program, so that nothing of it is at hand), and the
//! set after that, whose card is edited in place.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark prints and may fail"
)]

#[path = "../fake_discord/mod.rs"]
mod fake_discord;

use std::io::{Seek as _, SeekFrom, Write as _};
use std::time::Duration;

use chalkbell::bot::event::{Event, Message};
use chalkbell::channel::discord::{
    self,
    options::{Base, Options, Shards, Token},
};
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use fake_discord::{Fake, GUILD, GYM, TOKEN};
use futures_util::{SinkExt as _, StreamExt as _};
use serde_json::{Value, json};
use tokio::time::Instant;
use tokio_websockets::{ClientBuilder, Message as Frame};

const EVENTS: u64 = 300;
/// Between them.
const PAUSE: Duration = Duration::from_millis(3);
/// The first of the members who never wrote before, and of those with a history.
const NEW: u64 = 800_000_000_000;
const KNOWN: u64 = 820_000_000_000;
const MESSAGES: u64 = 5000;
const MEMBERS: u64 = 500;

/// Runs it in a thread of its own, with one run-time thread as the program has.
fn alone<F: Future<Output = ()>>(work: impl FnOnce() -> F + Send + 'static) {
    std::thread::spawn(move || {
        tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .expect("a run-time")
            .block_on(work());
    });
}

/// A bot that answers every message of a person with the same word.
fn floor(base: String, gateway: String) {
    alone(|| async move {
        let client = reqwest::Client::new();
        let address = format!("{gateway}/?v=10&encoding=json");
        let connecting = ClientBuilder::new().uri(&address).expect("an address");
        let (mut socket, _) = connecting.connect().await.expect("a gateway");
        let identify = json!({ "op": 2, "d": {
            "token": TOKEN, "intents": 37_377, "shard": [0, 1],
            "properties": { "os": "linux", "browser": "floor", "device": "floor" },
        }});
        let sent = socket.send(Frame::text(identify.to_string())).await;
        sent.expect("it identifies");
        while let Some(Ok(frame)) = socket.next().await {
            let text = frame.as_text().unwrap_or_default();
            let event: Value = serde_json::from_str(text).unwrap_or_default();
            if event["t"] != "MESSAGE_CREATE" || event["d"]["author"]["bot"] == true {
                continue;
            }
            let channel = event["d"]["channel_id"].as_str().expect("a channel");
            let post = client
                .post(format!("{base}/api/v10/channels/{channel}/messages"))
                .header("authorization", format!("Bot {TOKEN}"))
                .header("content-type", "application/json")
                .body(json!({ "content": "ok" }).to_string());
            tokio::spawn(async move { post.send().await.expect("it is taken") });
        }
    });
}

fn chalkbell(base: String, database: String) {
    alone(|| async move {
        let store = Store::open(&database).await.expect("a store");
        let options = Options {
            token: Token::read(Some(TOKEN)).expect("a token"),
            base: Base::read(Some(&base)).expect("a base"),
            shards: Shards::ONE,
            channels: vec![GYM.to_string().parse().expect("an id")],
        };
        let bot = Bot::new(chalkbell::config::built_in());
        discord::run(
            store,
            bot,
            options,
            Default::default(),
            std::future::pending(),
        )
        .await
        .expect("it runs");
    });
}

/// Times from telling a message to the request that shows its card, microseconds, sorted.
async fn latencies(fake: &Fake, posts: &[(u64, &str)], method: &str) -> Vec<u128> {
    let mut times = Vec::new();
    for (author, text) in posts {
        tokio::time::sleep(PAUSE).await;
        fake.world().requests.clear();
        let begun = Instant::now();
        fake.post(*author, GYM, text);
        let at = loop {
            let found = fake
                .world()
                .requests
                .iter()
                .find(|asked| asked.method == method)
                .map(|asked| asked.at);
            if let Some(at) = found {
                break at;
            }
            tokio::time::sleep(Duration::from_micros(200)).await;
        };
        times.push((at - begun).as_micros());
    }
    times.sort_unstable();
    times
}

/// The same text by each of [`EVENTS`] members.
fn by_each(first: u64, text: &str) -> Vec<(u64, &str)> {
    (first..first + EVENTS)
        .map(|author| (author, text))
        .collect()
}

/// Two sessions of each of these members, as an earlier run filed them.
async fn lift_before(database: &str, first: u64) {
    let store = Store::open(database).await.expect("a store");
    let service = Service::new(store, Bot::new(chalkbell::config::built_in()));
    let now = i64::try_from(fake_discord::world::now_ms()).expect("a time");
    let mut events = Vec::new();
    for author in first..first + EVENTS {
        for (n, days) in [7, 7, 7, 7, 2, 2, 2, 2].into_iter().enumerate() {
            let ms = now - days * 86_400_000 + 180_000 * i64::try_from(n).expect("small");
            events.push(Event::Message(Message {
                id: format!("{author}{n}"),
                team: format!("discord:{GUILD}"),
                channel: GYM.to_string(),
                author: author.to_string(),
                name: format!("Member {author}"),
                coach: false,
                at: chrono::DateTime::from_timestamp_millis(ms).expect("a time"),
                text: ["bench 80x10, 2 left", "squat 100x8, 2 left"][n % 2].to_owned(),
            }));
        }
    }
    events.sort_by_key(Event::at);
    for group in events.chunks(64) {
        for done in service.handle(group).await {
            done.expect("it is filed");
        }
    }
    service.close().await;
}

fn report(name: &str, times: &[u128]) -> u128 {
    let at = |share: usize| times[(times.len() - 1) * share / 100];
    println!(
        "{name}: median {} us, p90 {} us, p99 {} us",
        at(50),
        at(90),
        at(99)
    );
    at(50)
}

/// What the disk alone takes to make a commit's pages durable, microseconds, sorted; as far from one
/// another as the messages are.
async fn flushes(folder: &std::path::Path) -> Vec<u128> {
    let mut file = std::fs::File::create(folder.join("flush")).expect("a file");
    let pages = vec![7; 13 * 4120];
    let mut flush = || {
        let begun = Instant::now();
        file.seek(SeekFrom::Start(0)).expect("sought");
        file.write_all(&pages).expect("written");
        file.sync_all().expect("durable");
        begun.elapsed().as_micros()
    };
    let mut times = Vec::new();
    for _ in 0..EVENTS {
        tokio::time::sleep(PAUSE).await;
        times.push(flush());
    }
    times.sort_unstable();
    times
}

/// How a burst drains: from each event to its sign, and until all cards stand.
async fn burst(fake: &Fake) {
    // What is still under way of the messages before would be counted.
    tokio::time::sleep(Duration::from_millis(500)).await;
    {
        let mut world = fake.world();
        world.keep_requests = false;
        world.reactions.clear();
        world.signed_at.clear();
    }
    let begun = Instant::now();
    let mut told = Vec::new();
    for n in 0..MESSAGES {
        let text = format!("squat 100x{}", 3 + n / MEMBERS);
        let at = Instant::now();
        told.push((fake.post(810_000_000_000 + n % MEMBERS, GYM, &text), at));
        if n % 50 == 0 {
            tokio::task::yield_now().await;
        }
    }
    let wanted = usize::try_from(MESSAGES).expect("small");
    fake.until_within(Duration::from_secs(120), "all acknowledged", |world| {
        world.signed_at.len() == wanted
    })
    .await;
    let signs = begun.elapsed();
    let mut waits: Vec<u128> = {
        let world = fake.world();
        let wait = |(id, at): &(u64, Instant)| (world.signed_at[id] - *at).as_micros();
        told.iter().map(wait).collect()
    };
    waits.sort_unstable();
    report("burst, from event to sign", &waits);
    fake.until_within(Duration::from_secs(60), "all cards", |world| {
        let says = world.bot_says(GYM);
        says.iter()
            .filter(|text| text.contains("squat") && text.contains("· 12"))
            .count()
            == 500
    })
    .await;
    let limit = f64::from(u32::try_from(MESSAGES + MEMBERS).expect("small")) / 50.0;
    println!(
        "burst of {MESSAGES} messages of {MEMBERS} members: all acknowledged after {:.2} s, all \
         cards after {:.2} s; at the platform's 50 requests a second as many took {limit:.0} s",
        signs.as_secs_f64(),
        begun.elapsed().as_secs_f64()
    );
}

fn main() {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a run-time");
    runtime.block_on(async {
        let plain = Fake::start().await;
        floor(plain.base.clone(), plain.state.gateway_url.clone());
        plain
            .until("a session", fake_discord::world::World::is_connected)
            .await;
        tokio::time::sleep(Duration::from_millis(300)).await;
        let set = "bench 80x10, 2 left";
        let fixed = latencies(&plain, &by_each(NEW, set), "POST").await;
        let floor = report("a plain bot with a fixed reply", &fixed);
        let folder = tempfile::tempdir().expect("a folder");
        let file = format!("sqlite:{}", folder.path().join("bench.sqlite").display());
        report(
            "a flush of as many pages to that disk",
            &flushes(folder.path()).await,
        );
        lift_before(&file, KNOWN).await;
        let ours = Fake::start().await;
        chalkbell(ours.base.clone(), file);
        ours.connected().await;
        tokio::time::sleep(Duration::from_millis(300)).await;
        for (what, posts, method) in [
            ("first set of a new member", by_each(NEW, set), "POST"),
            ("first set of the day", by_each(KNOWN, set), "POST"),
            (
                "next set, card edited",
                by_each(KNOWN, "x9, 1 left"),
                "PATCH",
            ),
        ] {
            let own = report(what, &latencies(&ours, &posts, method).await);
            println!("  ratio to the floor {:.2}", own as f64 / floor as f64);
        }
        burst(&ours).await;
        ours.assert_clean();
    });
}
