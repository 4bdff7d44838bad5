//! The world of the fake platform: messages, reactions, interactions, sessions and requests.

use std::collections::{BTreeMap, HashMap};
use std::time::SystemTime;

use serde_json::{Value, json};
use tokio::sync::mpsc::UnboundedSender;
use tokio::time::Instant;

use super::{APPLICATION, BOT, Counts, Faults, GUILD, GYM, LOUNGE};

/// A request as it came.
#[derive(Clone, Debug)]
pub struct Asked {
    pub method: String,
    pub path: String,
    pub query: String,
    pub body: Value,
    pub status: u16,
    pub at: Instant,
}

/// The first answer to an interaction.
#[derive(Clone, Debug)]
pub struct Callback {
    pub body: Value,
    pub after_ms: u128,
}

/// What a session was told, and the connection it is told over now.
pub struct Session {
    pub shard: u64,
    pub total: u64,
    pub told: Vec<(u64, String)>,
    pub seq: u64,
    pub line: Option<UnboundedSender<ToBot>>,
}

/// What a connection does.
pub enum ToBot {
    Frame(String),
    Close(Option<u16>),
    Drop,
}

/// What befalls a request.
pub enum Mishap {
    None,
    /// The connection ends, and nothing was done.
    NotDone,
    /// It is answered with 500, and nothing was done.
    Failed,
    /// It is done, and the connection ends.
    AnswerLost,
}

pub struct World {
    pub messages: HashMap<u64, BTreeMap<u64, Value>>,
    pub reactions: HashMap<u64, Vec<String>>,
    /// When each message got its first reaction.
    pub signed_at: HashMap<u64, Instant>,
    pub callbacks: HashMap<u64, Callback>,
    pub tokens: HashMap<String, (u64, u64, Instant)>,
    pub followups: Vec<(u64, Value)>,
    pub commands: Value,
    /// Files that members attach, by name.
    pub files: HashMap<String, String>,
    pub registrations: u32,
    pub requests: Vec<Asked>,
    pub keep_requests: bool,
    /// Requests that are being worked on, by method and path.
    pub under_way: Vec<String>,
    pub posts: u64,
    pub sessions: BTreeMap<String, Session>,
    pub counts: Counts,
    pub faults: Faults,
    /// What broke a rule.
    pub broken: Vec<String>,
    pub channels: HashMap<u64, Value>,
    pub roles: HashMap<u64, Vec<u64>>,
    pub permissions: HashMap<u64, u64>,
    pub guilds: Vec<u64>,
    pub heartbeat_ms: u64,
    pub known_sessions: u32,
    nonces: HashMap<String, (u64, u64, Instant)>,
    pub route_use: HashMap<(String, String), (Instant, u32)>,
    chance: u64,
    counter: u64,
}

/// From where ids are counted that tell no time: as told by them, a day of 2022.
const TIMELESS: u64 = 1_000_000_000_000_000_000;

/// Milliseconds since 1970.
#[expect(clippy::disallowed_methods, reason = "the platform has a clock")]
pub fn now_ms() -> u64 {
    let since = SystemTime::now()
        .duration_since(SystemTime::UNIX_EPOCH)
        .expect("after 1970");
    u64::try_from(since.as_millis()).expect("not the far future")
}

pub fn timestamp(ms: u64) -> String {
    let ms = i64::try_from(ms).expect("not the far future");
    chrono::DateTime::from_timestamp_millis(ms)
        .expect("a time")
        .to_rfc3339()
}

pub fn id_of(value: &Value) -> u64 {
    value["id"]
        .as_str()
        .expect("an id")
        .parse()
        .expect("a number")
}

impl World {
    pub fn new() -> Self {
        let channel = |id: u64, name: &str| {
            let guild = GUILD.to_string();
            (
                id,
                json!({ "id": id.to_string(), "type": 0, "guild_id": guild, "name": name }),
            )
        };
        Self {
            messages: HashMap::new(),
            reactions: HashMap::new(),
            signed_at: HashMap::new(),
            callbacks: HashMap::new(),
            tokens: HashMap::new(),
            followups: Vec::new(),
            commands: Value::Null,
            files: HashMap::new(),
            registrations: 0,
            requests: Vec::new(),
            keep_requests: true,
            under_way: Vec::new(),
            posts: 0,
            sessions: BTreeMap::new(),
            counts: Counts::new(),
            faults: Faults::default(),
            broken: Vec::new(),
            channels: HashMap::from([channel(GYM, "gym"), channel(LOUNGE, "lounge")]),
            roles: HashMap::new(),
            permissions: HashMap::new(),
            guilds: vec![GUILD],
            heartbeat_ms: 41_250,
            known_sessions: 0,
            nonces: HashMap::new(),
            chance: 0x9E37_79B9_7F4A_7C15,
            route_use: HashMap::new(),
            counter: 0,
        }
    }

    /// A new id that tells this time.
    pub fn id_at(&mut self, ms: u64) -> u64 {
        self.counter += 1;
        if self.faults.timeless_ids {
            return TIMELESS + self.counter;
        }
        ((ms - 1_420_070_400_000) << 22) | (self.counter & 0x3F_FFFF)
    }

    /// A community as it comes into sight, with its open threads.
    pub fn community(&self, guild: u64) -> Value {
        let id = guild.to_string();
        let threads: Vec<&Value> = self
            .channels
            .values()
            .filter(|one| one["guild_id"] == id.as_str() && one["type"] == 11)
            .collect();
        json!({ "id": id, "name": "a club", "threads": threads, "members": [] })
    }

    pub fn guild_of(&self, channel: u64) -> Option<u64> {
        self.channels.get(&channel)?["guild_id"]
            .as_str()?
            .parse()
            .ok()
    }

    pub fn is_connected(&self) -> bool {
        self.sessions.values().any(|session| session.line.is_some())
    }

    pub fn count(&mut self, what: &str) {
        *self.counts.entry(what.to_owned()).or_default() += 1;
    }

    pub fn counted(&self, what: &str) -> u32 {
        self.counts.get(what).copied().unwrap_or(0)
    }

    pub fn user(user: u64) -> Value {
        json!({
            "id": user.to_string(), "username": format!("member{user}"), "discriminator": "0",
            "global_name": format!("Member {user}"), "avatar": null, "bot": user == BOT,
        })
    }

    pub fn member(&self, user: u64) -> Value {
        let roles = self.roles.get(&user).cloned().unwrap_or_default();
        let roles: Vec<String> = roles.iter().map(u64::to_string).collect();
        json!({
            "roles": roles, "joined_at": "2026-01-01T00:00:00+00:00", "deaf": false, "mute": false,
            "flags": 0, "nick": null, "avatar": null, "pending": false,
        })
    }

    /// A whole message as the platform tells it.
    pub fn message(&mut self, user: u64, channel: u64, text: &str, at: u64) -> Value {
        let id = self.id_at(at);
        let mut message = json!({
            "id": id.to_string(), "channel_id": channel.to_string(), "author": Self::user(user),
            "content": text, "timestamp": timestamp(at), "edited_timestamp": null, "tts": false,
            "mention_everyone": false, "mentions": [], "mention_roles": [], "attachments": [],
            "embeds": [], "pinned": false, "type": 0, "flags": 0, "components": [],
        });
        if let Some(guild) = self.guild_of(channel) {
            message["guild_id"] = json!(guild.to_string());
            message["member"] = self.member(user);
        }
        message
    }

    pub fn put(&mut self, message: &Value) {
        let channel = message["channel_id"]
            .as_str()
            .expect("a channel")
            .parse()
            .expect("an id");
        self.messages
            .entry(channel)
            .or_default()
            .insert(id_of(message), message.clone());
    }

    pub fn get(&self, channel: u64, id: u64) -> Option<&Value> {
        self.messages.get(&channel)?.get(&id)
    }

    pub fn interaction(
        &mut self,
        kind: u8,
        user: u64,
        channel: u64,
        data: &Value,
        message: Option<u64>,
    ) -> Value {
        let id = self.id_at(now_ms());
        let token = format!("token-of-{id}");
        self.tokens
            .insert(token.clone(), (id, channel, Instant::now()));
        let mut one = json!({
            "id": id.to_string(), "application_id": APPLICATION.to_string(), "type": kind,
            "data": data, "channel_id": channel.to_string(), "token": token, "version": 1,
            "locale": "en-GB", "entitlements": [], "authorizing_integration_owners": {},
            "attachment_size_limit": 10_485_760, "app_permissions": "274878008384",
            "channel": self.channels.get(&channel).cloned().unwrap_or_else(|| json!({ "id": channel.to_string(), "type": 1 })),
        });
        if let Some(guild) = self.guild_of(channel) {
            one["guild_id"] = json!(guild.to_string());
            let mut member = self.member(user);
            member["user"] = Self::user(user);
            let permissions = self.permissions.get(&user).copied().unwrap_or(1024);
            member["permissions"] = json!(permissions.to_string());
            one["member"] = member;
        } else {
            one["user"] = Self::user(user);
        }
        if let Some(message) = message {
            one["message"] = self.get(channel, message).cloned().unwrap_or_else(
                || json!({ "id": message.to_string(), "channel_id": channel.to_string() }),
            );
        }
        one
    }

    /// Tells all sessions that are to know.
    pub fn tell(&mut self, name: &str, data: &Value) {
        let guild = data["guild_id"]
            .as_str()
            .and_then(|id| id.parse::<u64>().ok());
        let names: Vec<String> = self.sessions.keys().cloned().collect();
        for session in names {
            let Some(one) = self.sessions.get_mut(&session) else {
                continue;
            };
            let shard = guild.map_or(0, |guild| (guild >> 22) % one.total);
            if shard == one.shard {
                one.tell(name, data);
            }
        }
    }

    /// Ends the connections of all sessions in this way.
    pub fn end(&mut self, how: impl Fn() -> ToBot) {
        for session in self.sessions.values_mut() {
            if let Some(line) = session.line.take() {
                // It may have ended by itself.
                let _ = line.send(how());
            }
        }
    }

    /// Sends all connections a raw frame.
    pub fn frame(&mut self, frame: &Value) {
        for session in self.sessions.values() {
            if let Some(line) = &session.line {
                let _ = line.send(ToBot::Frame(frame.to_string()));
            }
        }
    }

    /// The bot's post; an earlier one with the same enforced nonce; none where that one was deleted.
    /// *resources/message#create-message*: the nonce is compared with those of the same author in the
    /// past few minutes. That of a deleted message is found, too
    /// (github.com/discord/discord-api-docs pull request 6647).
    pub fn bot_posts(&mut self, channel: u64, body: &Value) -> Option<Value> {
        self.posts += 1;
        let nonce = body["nonce"].as_str().map(str::to_owned);
        let enforced = body["enforce_nonce"] == true;
        let nonces_for = self.faults.nonces_for;
        if let Some(nonce) = nonce.as_ref().filter(|_| enforced)
            && let Some((channel, id, at)) = self.nonces.get(nonce)
            && at.elapsed() < nonces_for
        {
            return self.get(*channel, *id).cloned();
        }
        let text = body["content"].as_str().unwrap_or_default();
        let mut message = self.message(BOT, channel, text, now_ms());
        message["components"] = body.get("components").cloned().unwrap_or_else(|| json!([]));
        message["attachments"] = body
            .get("attachments")
            .cloned()
            .unwrap_or_else(|| json!([]));
        message["flags"] = body.get("flags").cloned().unwrap_or_else(|| json!(0));
        if let Some(nonce) = nonce {
            message["nonce"] = json!(nonce);
            let at = Instant::now();
            self.nonces.insert(nonce, (channel, id_of(&message), at));
        }
        self.put(&message);
        self.tell("MESSAGE_CREATE", &message);
        Some(message)
    }

    /// A message as requests read it: without community, member and nonce, and with its reactions.
    /// *resources/message#message-object*, *resources/message#reaction-object*.
    pub fn as_read(&self, channel: u64, id: u64) -> Option<Value> {
        let mut message = self.get(channel, id)?.clone();
        let of_bot = self.reactions_of(id);
        let reactions = of_bot
            .iter()
            .map(|emoji| json!({ "count": 1, "me": true, "emoji": { "id": null, "name": emoji } }));
        let reactions: Vec<Value> = reactions.collect();
        let keys = message.as_object_mut()?;
        for told_elsewhere in ["guild_id", "member", "nonce"] {
            keys.remove(told_elsewhere);
        }
        if !reactions.is_empty() {
            keys.insert("reactions".to_owned(), json!(reactions));
        }
        Some(message)
    }

    /// What befalls a request.
    pub fn mishap(&mut self, method: &str, path: &str) -> Mishap {
        let lost = self.faults.lost_answers.iter_mut();
        let mut lost = lost.filter(|one| one.2 > 0);
        if let Some(one) = lost.find(|one| one.0 == method && path.contains(one.1)) {
            one.2 -= 1;
            self.count("answers lost");
            return Mishap::AnswerLost;
        }
        let by_chance = u64::from(self.faults.by_chance);
        // xorshift64, G. Marsaglia, Xorshift RNGs, J. Stat. Softw. 8 (2003).
        self.chance ^= self.chance << 13;
        self.chance ^= self.chance >> 7;
        self.chance ^= self.chance << 17;
        if self.chance % 1000 >= by_chance || path.contains("/gateway") {
            return Mishap::None;
        }
        self.count("faults by chance");
        match self.chance / 1000 % 4 {
            0 => Mishap::NotDone,
            1 => Mishap::Failed,
            2 => {
                self.faults.global_refusals += 1;
                Mishap::None
            }
            _ => Mishap::AnswerLost,
        }
    }

    /// The platform forgets nonces after some minutes.
    pub fn forget_nonces(&mut self) {
        self.nonces.clear();
    }

    pub fn bot_says(&self, channel: u64) -> Vec<String> {
        let all = self
            .messages
            .get(&channel)
            .into_iter()
            .flat_map(BTreeMap::values);
        all.filter(|message| message["author"]["bot"] == true)
            .map(|message| message["content"].as_str().unwrap_or_default().to_owned())
            .collect()
    }

    pub fn bot_message(&self, channel: u64, part: &str) -> Option<u64> {
        let mut all = self.messages.get(&channel)?.values();
        let found = all.find(|message| {
            let text = message["content"].as_str().unwrap_or_default();
            message["author"]["bot"] == true && text.contains(part)
        });
        found.map(id_of)
    }

    pub fn reactions_of(&self, message: u64) -> Vec<String> {
        self.reactions.get(&message).cloned().unwrap_or_default()
    }

    /// What happened, for a test that fails.
    pub fn summary(&self) -> String {
        let mut lines: Vec<String> = self
            .requests
            .iter()
            .rev()
            .take(25)
            .map(|asked| {
                format!(
                    "{} {} -> {} {}",
                    asked.method, asked.path, asked.status, asked.body
                )
            })
            .collect();
        lines.reverse();
        lines.push(format!("counts {:?}", self.counts));
        lines.extend(self.broken.iter().cloned());
        lines.join("\n")
    }
}

impl Session {
    pub fn tell(&mut self, name: &str, data: &Value) {
        self.seq += 1;
        let frame = json!({ "op": 0, "s": self.seq, "t": name, "d": data }).to_string();
        self.told.push((self.seq, frame.clone()));
        if let Some(line) = &self.line {
            // A connection that broke: the session is told when it is resumed.
            let _ = line.send(ToBot::Frame(frame));
        }
    }
}
