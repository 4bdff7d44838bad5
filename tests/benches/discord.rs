//! The team channel: from a gateway event to the post of its card, beside the least that the client
//! library needs for an empty handler with a fixed reply, on the same fake platform in the same run;
//! and how a burst drains.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark prints and may fail"
)]

#[path = "../fake_discord/mod.rs"]
mod fake_discord;

use std::time::Duration;

use chalkbell::channel::discord::{
    self,
    options::{Base, Options, Shards, Token},
};
use chalkbell::service::Bot;
use chalkbell::store::Store;
use fake_discord::{Fake, GYM, TOKEN};
use serenity::all::{Client, Context, EventHandler, GatewayIntents, HttpBuilder, Message};
use serenity::async_trait;
use tokio::time::Instant;

const EVENTS: u64 = 300;
const MESSAGES: u64 = 5000;
const MEMBERS: u64 = 500;

struct Fixed;

#[async_trait]
impl EventHandler for Fixed {
    async fn message(&self, context: Context, message: Message) {
        if !message.author.bot {
            let _ = message.channel_id.say(&context.http, "ok").await;
        }
    }
}

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

fn floor(base: String) {
    alone(|| async move {
        let http = HttpBuilder::new(TOKEN)
            .proxy(base)
            .ratelimiter_disabled(true)
            .build();
        let intents = GatewayIntents::GUILD_MESSAGES | GatewayIntents::MESSAGE_CONTENT;
        let builder = serenity::client::ClientBuilder::new_with_http(http, intents);
        let mut client: Client = builder.event_handler(Fixed).await.expect("a client");
        client.start().await.expect("it runs");
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
        discord::run(store, bot, options, std::future::pending())
            .await
            .expect("it runs");
    });
}

/// Times from telling a message to its post, microseconds, sorted.
async fn latencies(fake: &Fake) -> Vec<u128> {
    let mut times = Vec::new();
    for n in 0..EVENTS {
        tokio::time::sleep(Duration::from_millis(3)).await;
        fake.world().requests.clear();
        let begun = Instant::now();
        fake.post(800_000_000_000 + n, GYM, "bench 80x10, 2 left");
        let at = loop {
            let found = fake
                .world()
                .requests
                .iter()
                .find(|asked| asked.method == "POST")
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

async fn burst(fake: &Fake) {
    {
        let mut world = fake.world();
        world.keep_requests = false;
        world.reactions.clear();
    }
    let begun = Instant::now();
    for n in 0..MESSAGES {
        let text = format!("squat 100x{}", 3 + n / MEMBERS);
        fake.post(810_000_000_000 + n % MEMBERS, GYM, &text);
        if n % 50 == 0 {
            tokio::task::yield_now().await;
        }
    }
    let wanted = usize::try_from(MESSAGES).expect("small");
    fake.until_within(Duration::from_secs(120), "all acknowledged", |world| {
        world.reactions.len() == wanted
    })
    .await;
    let signs = begun.elapsed();
    fake.until_within(Duration::from_secs(60), "all cards", |world| {
        let says = world.bot_says(GYM);
        says.iter()
            .filter(|text| text.contains("squat") && text.contains("· 12"))
            .count()
            == 500
    })
    .await;
    println!(
        "burst of {MESSAGES} messages of {MEMBERS} members: all acknowledged after {:.2} s, all cards after {:.2} s",
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
        let library = Fake::start().await;
        floor(library.base.clone());
        library
            .until("a session", fake_discord::world::World::is_connected)
            .await;
        tokio::time::sleep(Duration::from_millis(300)).await;
        let floor = report("client library, fixed reply", &latencies(&library).await);
        let folder = tempfile::tempdir().expect("a folder");
        let file = format!("sqlite:{}", folder.path().join("bench.sqlite").display());
        let ours = Fake::start().await;
        chalkbell(ours.base.clone(), file);
        ours.connected().await;
        tokio::time::sleep(Duration::from_millis(300)).await;
        let own = report("chalkbell, commit included", &latencies(&ours).await);
        println!("ratio {:.2}", own as f64 / floor as f64);
        burst(&ours).await;
        ours.assert_clean();
    });
}
