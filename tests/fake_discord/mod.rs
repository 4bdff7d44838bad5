//! A small chat platform on loopback: requests over HTTP, a gateway over a web socket, and a world
//! in memory. Reusable; `README.md` beside it says what it imitates and what it does not.

#![allow(dead_code, reason = "each test uses a part of it")]
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a helper of tests may fail the test"
)]

pub mod beside;
pub mod check;
pub mod form;
mod gateway;
mod http;
pub mod log;
pub mod shape;
pub mod world;

use std::collections::HashMap;
use std::net::SocketAddr;
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::Duration;

use tokio::time::Instant;

use serde_json::{Value, json};
use tokio::net::TcpListener;
use world::World;

/// The bot's own user.
pub const BOT: u64 = 900_000_000_000_000_001;
/// Its application.
pub const APPLICATION: u64 = 900_000_000_000_000_002;
/// A community.
pub const GUILD: u64 = 700_000_000_000_000_000;
/// A channel in it.
pub const GYM: u64 = 710_000_000_000_000_000;
/// Another.
pub const LOUNGE: u64 = 710_000_000_000_000_001;
/// A role of coaches.
pub const COACHES: u64 = 720_000_000_000_000_000;
/// The token that is accepted.
pub const TOKEN: &str = "fake.token.of-a-bot";

/// The platform. Everything stops when it is dropped.
pub struct Fake {
    pub state: Arc<State>,
    /// Where requests go.
    pub base: String,
    tasks: Vec<tokio::task::JoinHandle<()>>,
}

/// What both servers share.
pub struct State {
    world: Mutex<World>,
    pub gateway_url: String,
    changed: tokio::sync::Notify,
}

impl State {
    pub fn world(&self) -> MutexGuard<'_, World> {
        self.world
            .lock()
            .expect("no test panics while it holds the world")
    }
}

impl Drop for Fake {
    fn drop(&mut self) {
        for task in &self.tasks {
            task.abort();
        }
    }
}

impl Fake {
    /// Starts it on free ports.
    pub async fn start() -> Self {
        Self::start_on(None).await
    }

    /// Starts it; requests on a port of the past, so that a restarted platform is found again.
    pub async fn start_on(port: Option<u16>) -> Self {
        let here = SocketAddr::from(([127, 0, 0, 1], port.unwrap_or(0)));
        let requests = TcpListener::bind(here).await.expect("a free port");
        let sockets = TcpListener::bind("127.0.0.1:0").await.expect("a free port");
        let base = format!("http://{}", requests.local_addr().expect("an address"));
        let state = Arc::new(State {
            world: Mutex::new(World::new()),
            gateway_url: format!("ws://{}", sockets.local_addr().expect("an address")),
            changed: tokio::sync::Notify::new(),
        });
        let tasks = vec![
            tokio::spawn(http::serve(Arc::clone(&state), requests)),
            tokio::spawn(gateway::serve(Arc::clone(&state), sockets)),
        ];
        Self { state, base, tasks }
    }

    pub fn world(&self) -> MutexGuard<'_, World> {
        self.state.world()
    }

    /// Waits until something holds, or fails with what the world looks like.
    pub async fn until(&self, what: &str, holds: impl Fn(&World) -> bool) {
        self.until_within(Duration::from_secs(30), what, holds)
            .await;
    }

    pub async fn until_within(&self, time: Duration, what: &str, holds: impl Fn(&World) -> bool) {
        let end = Instant::now() + time;
        loop {
            if holds(&self.world()) {
                return;
            }
            assert!(
                Instant::now() < end,
                "never happened: {what}\n{}",
                self.world().summary()
            );
            tokio::time::sleep(Duration::from_millis(5)).await;
        }
    }

    /// Waits until the bot has a session that it did not have when this was asked last.
    pub async fn connected(&self) {
        self.until("a new session", |world| {
            world.is_connected() && world.counted("identified") > world.known_sessions
        })
        .await;
        self.until("commands", |world| !world.commands.is_null())
            .await;
        let mut world = self.world();
        world.known_sessions = world.counted("identified");
    }

    /// A member posts; the message's id.
    pub fn post(&self, user: u64, channel: u64, text: &str) -> u64 {
        let mut world = self.world();
        let message = world.message(user, channel, text, world::now_ms());
        let id = world::id_of(&message);
        world.put(&message);
        world.tell("MESSAGE_CREATE", &message);
        id
    }

    /// A member posted while nobody was told.
    pub fn post_untold(&self, user: u64, channel: u64, text: &str, ago: Duration) -> u64 {
        let mut world = self.world();
        let at = world::now_ms() - u64::try_from(ago.as_millis()).expect("a short time");
        let message = world.message(user, channel, text, at);
        world.put(&message);
        world::id_of(&message)
    }

    /// A member changes a message.
    pub fn edit(&self, channel: u64, id: u64, text: &str) {
        let mut world = self.world();
        let mut message = world.get(channel, id).expect("a message").clone();
        message["content"] = json!(text);
        message["edited_timestamp"] = json!(world::timestamp(world::now_ms()));
        world.put(&message);
        world.tell("MESSAGE_UPDATE", &message);
    }

    /// Messages are deleted.
    pub fn delete(&self, channel: u64, ids: &[u64]) {
        let mut world = self.world();
        for id in ids {
            world.messages.entry(channel).or_default().remove(id);
        }
        let guild = world.guild_of(channel).map(|id| id.to_string());
        let texts: Vec<String> = ids.iter().map(u64::to_string).collect();
        let (name, mut data) = match texts.as_slice() {
            [one] => (
                "MESSAGE_DELETE",
                json!({ "id": one, "channel_id": channel.to_string() }),
            ),
            all => (
                "MESSAGE_DELETE_BULK",
                json!({ "ids": all, "channel_id": channel.to_string() }),
            ),
        };
        if let Some(guild) = guild {
            data["guild_id"] = json!(guild);
        }
        world.tell(name, &data);
    }

    /// A member gives a command; the interaction's id.
    pub fn command(&self, user: u64, channel: u64, name: &str, options: Value) -> u64 {
        let data =
            json!({ "id": "930000000000000000", "name": name, "type": 1, "options": options });
        self.interact(2, user, channel, &data, None)
    }

    /// A member gives a command with a file; the interaction's id.
    pub fn command_with_file(&self, user: u64, name: &str, options: Value, text: &str) -> u64 {
        let file = format!("{name}.txt");
        self.world().files.insert(file.clone(), text.to_owned());
        let url = format!("{}/files/{file}?ex=1", self.base);
        let attachment = json!({
            "id": "940000000000000000", "filename": file, "size": text.len(), "url": url,
            "proxy_url": url, "ephemeral": true,
        });
        let data = json!({
            "id": "930000000000000000", "name": name, "type": 1, "options": options,
            "resolved": { "attachments": { "940000000000000000": attachment } },
        });
        self.interact(2, user, GYM, &data, None)
    }

    /// A member asks for completion.
    pub fn typing(&self, user: u64, channel: u64, name: &str, options: Value) -> u64 {
        let data =
            json!({ "id": "930000000000000000", "name": name, "type": 1, "options": options });
        self.interact(4, user, channel, &data, None)
    }

    /// A member presses a button of a message.
    pub fn press(&self, user: u64, channel: u64, message: u64, button: &str) -> u64 {
        let data = json!({ "custom_id": button, "component_type": 2 });
        self.interact(3, user, channel, &data, Some(message))
    }

    /// The same, and the interaction is told twice, as when one process takes over from another.
    pub fn press_told_twice(&self, user: u64, channel: u64, message: u64, button: &str) -> u64 {
        let data = json!({ "custom_id": button, "component_type": 2 });
        let mut world = self.world();
        let interaction = world.interaction(3, user, channel, &data, Some(message));
        world.tell("INTERACTION_CREATE", &interaction);
        world.tell("INTERACTION_CREATE", &interaction);
        world::id_of(&interaction)
    }

    /// A member sends a form off.
    pub fn submit(&self, user: u64, channel: u64, form: &str, text: &str) -> u64 {
        let row =
            json!({ "type": 1, "components": [{ "type": 4, "custom_id": "text", "value": text }] });
        let data = json!({ "custom_id": form, "components": [row] });
        self.interact(5, user, channel, &data, None)
    }

    fn interact(
        &self,
        kind: u8,
        user: u64,
        channel: u64,
        data: &Value,
        message: Option<u64>,
    ) -> u64 {
        let mut world = self.world();
        let interaction = world.interaction(kind, user, channel, data, message);
        let id = world::id_of(&interaction);
        world.tell("INTERACTION_CREATE", &interaction);
        id
    }

    /// The answer to an interaction, once it is there.
    pub async fn answer(&self, interaction: u64) -> Value {
        self.until("an answer to an interaction", |world| {
            world.callbacks.contains_key(&interaction)
        })
        .await;
        self.world().callbacks[&interaction].body.clone()
    }

    /// The bot's messages in a channel, oldest first.
    pub fn bot_says(&self, channel: u64) -> Vec<String> {
        self.world().bot_says(channel)
    }

    /// The one message of the bot's in a channel that holds this, once it is there.
    pub async fn bot_message(&self, channel: u64, part: &str) -> u64 {
        let find = |world: &World| world.bot_message(channel, part);
        self.until(&format!("the bot says {part:?}"), |world| {
            find(world).is_some()
        })
        .await;
        find(&self.world()).expect("it was there")
    }

    /// Waits for a reaction of the bot's.
    pub async fn reacted(&self, message: u64, emoji: &str) {
        let what = format!("{emoji} on {message}");
        self.until(&what, |world| {
            world.reactions_of(message).contains(&emoji.to_owned())
        })
        .await;
    }

    /// Fails where any request so far broke a rule of the platform.
    pub fn assert_clean(&self) {
        let world = self.world();
        assert!(world.broken.is_empty(), "{}", world.broken.join("\n"));
    }
}

/// What a test makes go wrong.
pub struct Faults {
    /// Nothing is done, and every connection ends.
    pub down: bool,
    /// Requests whose path holds this and have this method: they are done, and the answer is lost, so
    /// many times.
    pub lost_answers: Vec<(&'static str, &'static str, u32)>,
    /// Faults by chance, in so many of a thousand requests.
    pub by_chance: u32,
    /// Requests of the bot are refused for being too many, over all routes, until then.
    pub global_until: Option<Instant>,
    /// What the bot may not do in these channels, as bits of permissions.
    pub denied: HashMap<u64, u64>,
    /// Private channels of those who take no messages.
    pub closed_private: Vec<u64>,
    /// The most that the files of a request may weigh, bytes.
    pub upload_limit: usize,
    /// How long nonces are compared. The documentation says "the past few minutes".
    pub nonces_for: Duration,
    /// Every request fails with 500 until then.
    pub storm_until: Option<Instant>,
    /// The next so many requests are refused for being too many, over all routes.
    pub global_refusals: u32,
    /// Requests a second that each route takes; none: all.
    pub route_limit: Option<u32>,
    /// Channels in which the bot may do nothing.
    pub forbidden: Vec<u64>,
    /// Histories come empty, as for a bot that may not read them.
    pub no_histories: bool,
    /// The next so many posts are done but answered with something unreadable.
    pub garbled_posts: u32,
    /// Every answer waits so long.
    pub slow: Duration,
    /// Gateway: heartbeats are not acknowledged.
    pub no_acknowledgement: bool,
    /// Gateway: identifying ends with this code.
    pub close_identify: Option<u16>,
    /// Gateway: a resumption is refused.
    pub no_resume: bool,
    /// Gateway: the next so many connections end without a close code once they identified.
    pub bare_closes: u32,
    /// The gateway's address as told, in place of the true one.
    pub gateway_url: Option<String>,
    /// Headers of the limits are no numbers.
    pub odd_headers: bool,
    /// Ids are counted up and tell no time.
    pub timeless_ids: bool,
    /// Only the shorter of the two requests for the gateway is known.
    pub bare_gateway: bool,
    /// Of sessions and commands.
    pub gateway: GatewayFaults,
}

/// What a test makes go wrong with sessions and commands.
#[derive(Default)]
pub struct GatewayFaults {
    /// Sessions that may begin: of all that many, so many are left, and when there are all again.
    pub starts: Option<Starts>,
    /// Every connection is closed with this code and reason before it greets.
    pub close_at_once: Option<(u16, &'static str)>,
    /// Commands of these names are refused.
    pub refused_commands: Vec<&'static str>,
    /// A refusal names no field, as other servers may have it.
    pub no_fields: bool,
}

/// How many sessions may begin. *topics/gateway#session-start-limit-object*.
#[derive(Clone, Copy)]
pub struct Starts {
    pub total: u32,
    pub remaining: u32,
    pub anew_at: Instant,
    pub period: Duration,
}

impl Starts {
    /// Counted anew where the time has come.
    pub fn now(&mut self) -> Self {
        let now = Instant::now();
        if now >= self.anew_at {
            self.remaining = self.total;
            self.anew_at = now + self.period;
        }
        *self
    }
}

impl Default for Faults {
    fn default() -> Self {
        Self {
            down: false,
            lost_answers: Vec::new(),
            by_chance: 0,
            global_until: None,
            denied: HashMap::new(),
            closed_private: Vec::new(),
            upload_limit: form::UPLOAD_LIMIT,
            nonces_for: Duration::from_secs(180),
            storm_until: None,
            global_refusals: 0,
            route_limit: None,
            forbidden: Vec::new(),
            no_histories: false,
            garbled_posts: 0,
            slow: Duration::ZERO,
            no_acknowledgement: false,
            close_identify: None,
            no_resume: false,
            bare_closes: 0,
            gateway_url: None,
            odd_headers: false,
            timeless_ids: false,
            bare_gateway: false,
            gateway: GatewayFaults::default(),
        }
    }
}

/// Counts by name, for what was asked for.
pub type Counts = HashMap<String, u32>;
