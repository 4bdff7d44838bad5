//! The fake platform's requests.

use std::sync::Arc;
use std::time::Duration;

use tokio::time::Instant;

use super::form::{self, Form};

use http_body_util::{BodyExt, Full};
use hyper::body::{Bytes, Incoming};
use hyper::service::service_fn;
use hyper::{Request, Response};
use hyper_util::rt::TokioIo;
use serde_json::{Value, json};
use tokio::net::TcpListener;

use super::world::{Asked, Callback, Mishap, World, id_of};
use super::{Starts, State, TOKEN, check, shape};

pub async fn serve(state: Arc<State>, requests: TcpListener) {
    loop {
        let Ok((stream, _)) = requests.accept().await else {
            return;
        };
        let _ = stream.set_nodelay(true);
        let state = Arc::clone(&state);
        tokio::spawn(async move {
            let answers = service_fn(|request| answer(Arc::clone(&state), request));
            // A client that goes away in the middle is its own affair.
            let _ = hyper::server::conn::http1::Builder::new()
                .serve_connection(TokioIo::new(stream), answers)
                .await;
        });
    }
}

/// An answer: status, JSON, and headers.
pub struct Answer {
    status: u16,
    body: Value,
    headers: Vec<(&'static str, String)>,
}

impl Answer {
    fn new(status: u16, body: Value) -> Self {
        Self {
            status,
            body,
            headers: Vec::new(),
        }
    }

    fn nothing() -> Self {
        Self::new(204, Value::Null)
    }

    fn refused(status: u16, code: u64, message: &str) -> Self {
        Self::new(status, json!({ "code": code, "message": message }))
    }
}

/// The connection ends without an answer.
#[derive(Debug)]
struct Gone;

impl std::fmt::Display for Gone {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("the connection ends without an answer")
    }
}

impl std::error::Error for Gone {}

async fn answer(
    state: Arc<State>,
    request: Request<Incoming>,
) -> Result<Response<Full<Bytes>>, Gone> {
    if state.world().faults.down {
        state.world().count("asked while down");
        return Err(Gone);
    }
    let method = request.method().to_string();
    let path = request.uri().path().to_owned();
    let query = request.uri().query().unwrap_or_default().to_owned();
    let header = |name: &str| {
        request
            .headers()
            .get(name)
            .and_then(|value| value.to_str().ok())
            .unwrap_or_default()
            .to_owned()
    };
    let (authorization, kind, agent) = (
        header("authorization"),
        header("content-type"),
        header("user-agent"),
    );
    let bytes = request
        .into_body()
        .collect()
        .await
        .map(|all| all.to_bytes())
        .unwrap_or_default();
    // Noted before the body is looked at, which would count as the bot's time.
    let at = Instant::now();
    let Form { body, fault } = form::read(&kind, &bytes, state.world().faults.upload_limit);
    let _under_way = UnderWay::new(&state, &method, &path);
    let slow = state.world().faults.slow;
    if !slow.is_zero() {
        tokio::time::sleep(slow).await;
    }
    let mishap = state.world().mishap(&method, &path);
    if matches!(mishap, Mishap::NotDone) {
        return Err(Gone);
    }
    let answer = {
        let mut world = state.world();
        let authorised = authorization == format!("Bot {TOKEN}");
        if path.starts_with("/files/") {
            if !authorization.is_empty() {
                world
                    .broken
                    .push("the token was sent for a file".to_owned());
            }
        } else if !super::gateway::is_agent(&agent) {
            world
                .broken
                .push(format!("{path}: the user agent is {agent:?}"));
        }
        let answer = match (&fault, &mishap) {
            (Some(fault), _) => {
                if fault.is_wrong {
                    let told = format!("{method} {path}: {}", fault.why);
                    world.broken.push(told);
                }
                Answer::refused(fault.status, fault.code, &fault.why)
            }
            (None, Mishap::Failed) => Answer::refused(500, 0, "500: Internal Server Error"),
            (None, _) => route(
                &mut world, &state, authorised, &method, &path, &query, &body,
            ),
        };
        if matches!(answer.status, 401 | 403 | 429) {
            // *topics/rate-limits#invalid-request-limit-aka-cloudflare-bans*.
            world.count("invalid requests");
        }
        let shaped = faults_of_shape(&method, &path, &body);
        world.broken.extend(shaped);
        if world.keep_requests {
            let status = answer.status;
            world.requests.push(Asked {
                method,
                path,
                query,
                body,
                status,
                at,
            });
        }
        answer
    };
    if matches!(mishap, Mishap::AnswerLost) {
        return Err(Gone);
    }
    let mut response = Response::builder().status(answer.status);
    for (name, value) in &answer.headers {
        response = response.header(*name, value);
    }
    let text = if answer.body.is_null() {
        String::new()
    } else if let Some(raw) = answer.body.get("raw") {
        raw.as_str().unwrap_or_default().to_owned()
    } else if answer.body == "garbled" {
        "{\"id\": oh no".to_owned()
    } else {
        answer.body.to_string()
    };
    response = response.header("content-type", "application/json");
    Ok(response
        .body(Full::new(Bytes::from(text)))
        .expect("an answer"))
}

/// A request that is being worked on, or that its client went away from.
struct UnderWay {
    state: Arc<State>,
    what: String,
}

impl UnderWay {
    fn new(state: &Arc<State>, method: &str, path: &str) -> Self {
        let what = format!("{method} {path}");
        state.world().under_way.push(what.clone());
        Self {
            state: Arc::clone(state),
            what,
        }
    }
}

impl Drop for UnderWay {
    fn drop(&mut self) {
        let mut world = self.state.world();
        let place = world.under_way.iter().position(|one| *one == self.what);
        place.map(|place| world.under_way.remove(place));
    }
}

fn route(
    world: &mut World,
    state: &State,
    authorised: bool,
    method: &str,
    path: &str,
    query: &str,
    body: &Value,
) -> Answer {
    if let Some(file) = path.strip_prefix("/files/") {
        return match world.files.get(file) {
            Some(text) => Answer::new(200, json!({ "raw": text })),
            None => Answer::refused(404, 0, "404: Not Found"),
        };
    }
    let Some(path) = path.strip_prefix("/api/v10/") else {
        world.broken.push(format!("{path} is not of version 10"));
        return Answer::refused(404, 0, "404: Not Found");
    };
    let parts: Vec<&str> = path.split('/').collect();
    // They need no token of the bot's, and are not bound to its global limit.
    // *interactions/receiving-and-responding#endpoints*, *topics/rate-limits#global-rate-limit*.
    let by_token = matches!(parts[0], "interactions" | "webhooks");
    if !by_token && !authorised {
        return Answer::refused(401, 0, "401: Unauthorized");
    }
    if world
        .faults
        .storm_until
        .is_some_and(|until| Instant::now() < until)
    {
        return Answer::new(
            500,
            json!({ "message": "500: Internal Server Error", "code": 0 }),
        );
    }
    if !by_token && let Some(refusal) = too_many_in_all(world) {
        return refusal;
    }
    if parts[0] != "interactions"
        && let Some(refusal) = too_many_of_one(world, method, &parts)
    {
        return refusal;
    }
    if query.starts_with('&') || path.contains("//") {
        world.broken.push(format!("an odd address: {path}?{query}"));
    }
    let mut answer = done(world, state, method, &parts, query, body);
    if parts[0] != "interactions"
        && let Some(limit) = world.faults.route_limit
    {
        let used = world
            .route_use
            .get(&bucket(method, &parts))
            .map_or(1, |(_, used)| *used);
        let odd = world.faults.odd_headers;
        let header = |text: String| if odd { "soon".to_owned() } else { text };
        answer
            .headers
            .push(("x-ratelimit-limit", limit.to_string()));
        answer.headers.push((
            "x-ratelimit-remaining",
            header(limit.saturating_sub(used).to_string()),
        ));
        answer
            .headers
            .push(("x-ratelimit-reset-after", header("1.0".to_owned())));
        // Without the channel. *topics/rate-limits#header-format*.
        answer
            .headers
            .push(("x-ratelimit-bucket", bucket(method, &parts).0));
    }
    answer
}

/// Where a body is not what its route takes.
fn faults_of_shape(method: &str, path: &str, body: &Value) -> Vec<String> {
    let parts: Vec<&str> = path.trim_start_matches("/api/v10/").split('/').collect();
    let is = match (method, parts.as_slice()) {
        ("PUT", ["applications", _, "commands"]) => shape::COMMANDS,
        ("POST", ["users", "@me", "channels"]) => shape::PRIVATE,
        ("POST", ["channels", _, "messages"]) => shape::CREATE,
        ("PATCH", ["channels", _, "messages", _] | ["webhooks", _, _, "messages", _]) => {
            shape::EDIT
        }
        ("POST", ["interactions", ..]) => shape::CALLBACK,
        ("POST", ["webhooks", _, _]) => shape::SAID,
        _ if body.is_null() => return Vec::new(),
        _ => return vec![format!("{method} {parts:?} takes no body: {body}")],
    };
    let mut body = body.clone();
    // Added here, where files came with it.
    for message in ["", "/data"] {
        if let Some(keys) = body.pointer_mut(message).and_then(Value::as_object_mut) {
            keys.remove("__uploaded");
        }
    }
    shape::faults(&body, &is, &format!("{method} {}", parts.join("/")))
}

/// The bucket's hash, and the channel, community or webhook that it is counted for.
/// *topics/rate-limits*: "per-route limits will be shared across a set of similar endpoints". New
/// messages and changes of one channel do, and signs that are set and taken do
/// (github.com/discord/discord-api-docs issues 981 and 1442).
fn bucket(method: &str, parts: &[&str]) -> (String, String) {
    let own = parts.get(1..2).unwrap_or_default().join("/");
    let hash = match (method, parts) {
        ("POST", ["channels", _, "messages"]) | ("PATCH", ["channels", _, "messages", _]) => {
            "of-words".to_owned()
        }
        (_, ["channels", _, "messages", _, "reactions", ..]) => "of-signs".to_owned(),
        (_, ["webhooks", _, token, ..]) => return ("of-hooks".to_owned(), (*token).to_owned()),
        _ => {
            let kinds = parts.iter().map(|part| match part.parse::<u64>() {
                Ok(_) => "_",
                Err(_) => part,
            });
            format!("{method}-{}", kinds.collect::<Vec<_>>().join("-"))
        }
    };
    (hash, own)
}

/// *topics/rate-limits#exceeding-a-rate-limit*.
fn too_many_in_all(world: &mut World) -> Option<Answer> {
    let now = Instant::now();
    let closed = world.faults.global_until.filter(|until| *until > now);
    let mut wait = closed.map(|until| (until - now).as_secs_f64());
    if world.faults.global_refusals > 0 {
        world.faults.global_refusals -= 1;
        wait = wait.or(Some(0.3));
    }
    let wait = wait?;
    world.count("refused for all");
    let body =
        json!({ "message": "You are being rate limited.", "retry_after": wait, "global": true });
    let mut answer = Answer::new(429, body);
    answer.headers = vec![
        ("retry-after", (wait.ceil()).to_string()),
        ("x-ratelimit-global", "true".to_owned()),
        ("x-ratelimit-scope", "global".to_owned()),
    ];
    Some(answer)
}

fn too_many_of_one(world: &mut World, method: &str, parts: &[&str]) -> Option<Answer> {
    let limit = world.faults.route_limit?;
    let now = Instant::now();
    let key = bucket(method, parts);
    let (since, used) = world.route_use.get(&key).copied().unwrap_or((now, 0));
    let fresh = now.duration_since(since) >= Duration::from_secs(1);
    let (since, used) = if fresh { (now, 0) } else { (since, used) };
    if used >= limit {
        world.count("refused for one route");
        let wait = (Duration::from_secs(1) - now.duration_since(since)).as_secs_f64();
        let body = json!({ "message": "You are being rate limited.", "retry_after": wait, "global": false });
        let mut answer = Answer::new(429, body);
        answer.headers = vec![
            ("retry-after", "1".to_owned()),
            ("x-ratelimit-bucket", key.0),
            ("x-ratelimit-remaining", "0".to_owned()),
            ("x-ratelimit-reset-after", wait.to_string()),
            ("x-ratelimit-scope", "user".to_owned()),
        ];
        return Some(answer);
    }
    world.route_use.insert(key, (since, used + 1));
    None
}

fn number(text: &str) -> u64 {
    text.parse().unwrap_or(0)
}

fn done(
    world: &mut World,
    state: &State,
    method: &str,
    parts: &[&str],
    query: &str,
    body: &Value,
) -> Answer {
    match (method, parts) {
        ("GET", ["gateway"]) => Answer::new(200, json!({ "url": state.gateway_url })),
        ("GET", ["gateway", "bot"]) if !world.faults.bare_gateway => {
            let url = world
                .faults
                .gateway_url
                .clone()
                .unwrap_or_else(|| state.gateway_url.clone());
            let mut limit = json!({ "total": 1000, "remaining": 999, "reset_after": 14_400_000,
                "max_concurrency": 16 });
            if let Some(starts) = world.faults.gateway.starts.as_mut().map(Starts::now) {
                let wait = starts.anew_at.saturating_duration_since(Instant::now());
                limit["total"] = json!(starts.total);
                limit["remaining"] = json!(starts.remaining);
                limit["reset_after"] = json!(wait.as_millis());
            }
            let body = json!({ "url": url, "shards": 1, "session_start_limit": limit });
            Answer::new(200, body)
        }
        ("PUT", ["applications", _, "commands"]) => {
            world.registrations += 1;
            if let Some(answer) = refused_commands(world, body) {
                return answer;
            }
            let broken = check::commands(body);
            world.broken.extend(broken);
            world.commands = body.clone();
            Answer::new(200, body.clone())
        }
        ("POST", ["users", "@me", "channels"]) => {
            let user = number(body["recipient_id"].as_str().unwrap_or_default());
            let channel = user + 5_000_000;
            let last = world.messages.entry(channel).or_default().keys().last();
            let last = last.map(u64::to_string);
            Answer::new(
                200,
                json!({ "id": channel.to_string(), "type": 1, "last_message_id": last }),
            )
        }
        ("GET", ["guilds", guild, "threads", "active"]) => {
            let threads: Vec<&Value> = world
                .channels
                .values()
                .filter(|one| one["guild_id"] == **guild && one["type"] == 11)
                .collect();
            Answer::new(200, json!({ "threads": threads, "members": [] }))
        }
        (_, ["channels", channel, rest @ ..]) => {
            let channel = number(channel);
            if world.faults.forbidden.contains(&channel) {
                return Answer::refused(403, 50_013, "Missing Permissions");
            }
            if let Some(refusal) = lacks(world, method, channel, rest, body) {
                return refusal;
            }
            channel_route(world, method, channel, rest, query, body)
        }
        ("POST", ["interactions", id, token, "callback"]) => {
            callback(world, number(id), token, body)
        }
        (_, ["webhooks", _, token, rest @ ..]) => {
            webhook(world, method, token, rest, (query, body))
        }
        _ => Answer::refused(404, 0, "404: Not Found"),
    }
}

/// The refusal of a list with a command that is not wanted; nothing of it is registered.
/// *reference#error-messages*, an array.
fn refused_commands(world: &World, body: &Value) -> Option<Answer> {
    let faults = &world.faults.gateway;
    let names = body.as_array().into_iter().flatten();
    let refused = names.enumerate().filter(|(_, command)| {
        let name = command["name"].as_str().unwrap_or_default();
        faults.refused_commands.contains(&name)
    });
    let mut errors = serde_json::Map::new();
    for (at, _) in refused {
        let error = json!({ "code": "BASE_TYPE_BAD_LENGTH", "message": "Must be shorter." });
        let fault = json!({ "description": { "_errors": [error] } });
        errors.insert(at.to_string(), fault);
    }
    if errors.is_empty() {
        return None;
    }
    let mut answer = json!({ "code": 50_035, "message": "Invalid Form Body" });
    if !faults.no_fields {
        answer["errors"] = Value::Object(errors);
    }
    Some(Answer::new(400, answer))
}

/// What the bot may not do for want of a permission. *topics/permissions* and, for each request,
/// *resources/message*; codes from *topics/opcodes-and-status-codes*.
fn lacks(world: &World, method: &str, channel: u64, rest: &[&str], body: &Value) -> Option<Answer> {
    const VIEW: u64 = 1 << 10;
    let denied = world.faults.denied.get(&channel).copied().unwrap_or(0);
    let in_thread = world
        .channels
        .get(&channel)
        .is_some_and(|one| one["type"] == 11);
    let send = if in_thread { 1 << 38 } else { 1 << 11 };
    let with_files = body["__uploaded"].as_u64().unwrap_or(0) > 0;
    let needed = match (method, rest) {
        ("POST", ["messages"]) if with_files => send | 1 << 15,
        ("POST", ["messages"]) => send,
        ("PUT", ["messages", _, "reactions", ..]) => 1 << 6 | 1 << 16,
        ("GET", ["messages", _]) => 1 << 16,
        _ => 0,
    };
    if denied & VIEW != 0 {
        return Some(Answer::refused(403, 50_001, "Missing Access"));
    }
    if world.faults.closed_private.contains(&channel) && method == "POST" {
        let why = "Cannot send messages to this user";
        return Some(Answer::refused(403, 50_007, why));
    }
    (denied & needed != 0).then(|| Answer::refused(403, 50_013, "Missing Permissions"))
}

fn channel_route(
    world: &mut World,
    method: &str,
    channel: u64,
    rest: &[&str],
    query: &str,
    body: &Value,
) -> Answer {
    match (method, rest) {
        ("GET", []) => match world.channels.get(&channel) {
            Some(found) => Answer::new(200, found.clone()),
            None => Answer::refused(404, 10_003, "Unknown Channel"),
        },
        ("GET", ["messages"]) if world.faults.no_histories => Answer::new(200, json!([])),
        // Without the permission to read the history it comes empty. *resources/message*.
        ("GET", ["messages"])
            if world.faults.denied.get(&channel).copied().unwrap_or(0) & 1 << 16 != 0 =>
        {
            Answer::new(200, json!([]))
        }
        // Neither in a community nor private to the bot and somebody who wrote or was written to.
        // *topics/opcodes-and-status-codes#json*.
        ("GET", ["messages"])
            if !world.channels.contains_key(&channel) && !world.messages.contains_key(&channel) =>
        {
            Answer::refused(404, 10_003, "Unknown Channel")
        }
        ("GET", ["messages"]) => Answer::new(200, history(world, channel, query)),
        ("GET", ["messages", id]) => match world.as_read(channel, number(id)) {
            Some(message) => Answer::new(200, message),
            None => Answer::refused(404, 10_008, "Unknown Message"),
        },
        ("POST", ["messages"]) => {
            let broken = check::message(body, true);
            world.broken.extend(broken);
            let Some(message) = world.bot_posts(channel, body) else {
                // The message of that nonce was deleted
                // (github.com/discord/discord-api-docs pull request 6647).
                return Answer::refused(404, 10_008, "Unknown Message");
            };
            if world.faults.garbled_posts > 0 {
                world.faults.garbled_posts -= 1;
                return Answer::new(200, json!("garbled"));
            }
            Answer::new(200, message)
        }
        ("PATCH", ["messages", id]) => {
            let broken = check::message(body, false);
            world.broken.extend(broken);
            let Some(mut message) = world.get(channel, number(id)).cloned() else {
                return Answer::refused(404, 10_008, "Unknown Message");
            };
            change(&mut message, body);
            world.count("edits");
            world.put(&message);
            world.tell("MESSAGE_UPDATE", &message);
            Answer::new(200, message)
        }
        ("DELETE", ["messages", id]) => {
            let gone = world
                .messages
                .entry(channel)
                .or_default()
                .remove(&number(id));
            if gone.is_none() {
                return Answer::refused(404, 10_008, "Unknown Message");
            }
            world.tell(
                "MESSAGE_DELETE",
                &json!({ "id": id, "channel_id": channel.to_string() }),
            );
            Answer::nothing()
        }
        (_, ["messages", id, "reactions", emoji, "@me"]) => {
            let id = number(id);
            if world.get(channel, id).is_none() {
                return Answer::refused(404, 10_008, "Unknown Message");
            }
            let emoji = unescape(emoji);
            let all = world.reactions.entry(id).or_default();
            all.retain(|one| *one != emoji);
            if method == "PUT" {
                all.push(emoji);
                world.count("signs set");
                world.signed_at.entry(id).or_insert_with(Instant::now);
            }
            Answer::nothing()
        }
        _ => Answer::refused(404, 0, "404: Not Found"),
    }
}

fn change(message: &mut Value, body: &Value) {
    for key in ["content", "components", "attachments"] {
        if let Some(new) = body.get(key) {
            message[key] = new.clone();
        }
    }
}

/// The oldest after an id, or the latest, newest first.
fn history(world: &World, channel: u64, query: &str) -> Value {
    let value = |key: &str| {
        let mut pairs = query.split('&').filter_map(|pair| pair.split_once('='));
        pairs
            .find(|(name, _)| *name == key)
            .map(|(_, value)| number(value))
    };
    let limit = usize::try_from(value("limit").unwrap_or(50))
        .unwrap_or(50)
        .min(100);
    let Some(all) = world.messages.get(&channel) else {
        return json!([]);
    };
    let mut found: Vec<Value> = match value("after") {
        Some(after) => all
            .range(after + 1..)
            .take(limit)
            .map(|(_, one)| one.clone())
            .collect(),
        None => {
            let before = value("before").unwrap_or(u64::MAX);
            let mut found: Vec<Value> = all
                .range(..before)
                .rev()
                .take(limit)
                .map(|(_, one)| one.clone())
                .collect();
            found.reverse();
            found
        }
    };
    found.reverse();
    let read = found.iter().map(|one| world.as_read(channel, id_of(one)));
    json!(read.collect::<Vec<_>>())
}

fn callback(world: &mut World, id: u64, token: &str, body: &Value) -> Answer {
    let broken = check::callback(body);
    world.broken.extend(broken);
    let Some((of, channel, since)) = world.tokens.get(token).copied().filter(|one| one.0 == id)
    else {
        return Answer::refused(404, 10_062, "Unknown interaction");
    };
    if world.callbacks.contains_key(&of) {
        return Answer::refused(400, 40_060, "Interaction has already been acknowledged.");
    }
    let after_ms = since.elapsed().as_millis();
    if after_ms > 3000 {
        world.broken.push(format!(
            "an interaction was acknowledged after {after_ms} ms"
        ));
    }
    world.callbacks.insert(
        of,
        Callback {
            body: body.clone(),
            after_ms,
        },
    );
    match body["type"].as_u64() {
        Some(4) if body["data"]["flags"].as_u64().unwrap_or(0) & 64 == 0 => {
            if let Some(message) = world.bot_posts(channel, &body["data"]) {
                world.followups.push((of, message));
            }
        }
        Some(4 | 5) => {
            let at = super::world::now_ms();
            let mut message = world.message(super::BOT, channel, "", at);
            change(&mut message, &body["data"]);
            world.followups.push((of, message));
        }
        _ => {}
    }
    Answer::nothing()
}

fn webhook(
    world: &mut World,
    method: &str,
    token: &str,
    rest: &[&str],
    (query, body): (&str, &Value),
) -> Answer {
    let Some((of, channel, _)) = world.tokens.get(token).copied() else {
        return Answer::refused(404, 10_015, "Unknown Webhook");
    };
    let place = world.followups.iter().position(|(one, _)| *one == of);
    match (method, rest) {
        ("GET", ["messages", "@original"]) => match place {
            Some(place) => Answer::new(200, world.followups[place].1.clone()),
            None => Answer::refused(404, 10_008, "Unknown Message"),
        },
        ("PATCH", ["messages", "@original"]) => {
            let broken = check::message(body, false);
            world.broken.extend(broken);
            let Some(place) = place else {
                return Answer::refused(404, 10_008, "Unknown Message");
            };
            change(&mut world.followups[place].1, body);
            Answer::new(200, world.followups[place].1.clone())
        }
        ("POST", []) => {
            let broken = check::message(body, false);
            world.broken.extend(broken);
            let at = super::world::now_ms();
            let mut message = world.message(super::BOT, channel, "", at);
            change(&mut message, body);
            if body["flags"].as_u64().unwrap_or(0) & 64 == 0 {
                world.put(&message);
            }
            let id = id_of(&message);
            world.followups.push((of, message));
            if !query.split('&').any(|one| one == "wait=true") {
                return Answer::nothing();
            }
            Answer::new(200, json!({ "id": id.to_string() }))
        }
        _ => Answer::refused(404, 0, "404: Not Found"),
    }
}

fn unescape(text: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let hex: String = rest.by_ref().take(2).map(char::from).collect();
            bytes.push(u8::from_str_radix(&hex, 16).unwrap_or(b'?'));
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
