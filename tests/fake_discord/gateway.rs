//! The fake platform's gateway.

use std::sync::Arc;
use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use serde_json::{Value, json};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::mpsc;
use tokio_websockets::{CloseCode, Message, ServerBuilder, WebSocketStream};

use super::world::{Session, ToBot, World};
use super::{APPLICATION, State, TOKEN};

pub async fn serve(state: Arc<State>, sockets: TcpListener) {
    loop {
        let Ok((stream, _)) = sockets.accept().await else {
            return;
        };
        let _ = stream.set_nodelay(true);
        let state = Arc::clone(&state);
        tokio::spawn(async move {
            if let Ok((request, socket)) = ServerBuilder::new().accept(stream).await {
                let query = request.uri().query().unwrap_or_default();
                if query != "v=10&encoding=json" {
                    let fault = format!("the gateway was asked for {query:?}");
                    state.world().broken.push(fault);
                }
                let agent = request.headers().get("user-agent");
                let agent = agent.and_then(|agent| agent.to_str().ok());
                if !agent.is_some_and(is_agent) {
                    let fault = format!("the gateway was asked by {agent:?}");
                    state.world().broken.push(fault);
                }
                let (line, from_world) = mpsc::unbounded_channel();
                connection(&state, socket, &line, from_world).await;
                for session in state.world().sessions.values_mut() {
                    if session
                        .line
                        .as_ref()
                        .is_some_and(|one| one.same_channel(&line))
                    {
                        session.line = None;
                    }
                }
            }
        });
    }
}

/// `DiscordBot ($url, $versionNumber)`: others may be blocked. *reference#user-agent*.
pub fn is_agent(text: &str) -> bool {
    let inside = text.strip_prefix("DiscordBot (");
    let inside = inside.and_then(|rest| rest.split_once(')'));
    let parts = inside.and_then(|(inside, _)| inside.split_once(", "));
    parts.is_some_and(|(url, version)| {
        url.starts_with("https://") && version.starts_with(|c: char| c.is_ascii_digit())
    })
}

/// Communities, messages there and in private, and what messages say.
/// *topics/gateway#list-of-intents*.
const INTENTS: u64 = 1 | 1 << 9 | 1 << 12 | 1 << 15;

type Socket = WebSocketStream<TcpStream>;

async fn close(socket: &mut Socket, code: Option<u16>, reason: &str) {
    let code = code.map(|code| CloseCode::try_from(code).expect("a code"));
    // The other side may be gone.
    let _ = socket.send(Message::close(code, reason)).await;
    let _ = tokio::time::timeout(Duration::from_millis(200), async {
        while let Some(Ok(_)) = socket.next().await {}
    })
    .await;
}

async fn send(socket: &mut Socket, frame: &Value) {
    let _ = socket.send(Message::text(frame.to_string())).await;
}

async fn connection(
    state: &Arc<State>,
    mut socket: Socket,
    line: &mpsc::UnboundedSender<ToBot>,
    mut from_world: mpsc::UnboundedReceiver<ToBot>,
) {
    let interval = {
        let mut world = state.world();
        world.count("connections");
        world.heartbeat_ms
    };
    let refusal = state.world().faults.gateway.close_at_once;
    if let Some((code, reason)) = refusal {
        return close(&mut socket, Some(code), reason).await;
    }
    send(
        &mut socket,
        &json!({ "op": 10, "d": { "heartbeat_interval": interval } }),
    )
    .await;
    loop {
        tokio::select! {
            said = socket.next() => {
                let Some(Ok(message)) = said else { return };
                if let Some((code, _)) = message.as_close() {
                    let code = u16::from(code);
                    return state.world().count(&format!("closed with {code}"));
                }
                let Some(text) = message.as_text() else { return };
                let frame: Value = serde_json::from_str(text).unwrap_or_default();
                match heard(state, &frame, line) {
                    Next::On(frames) => {
                        for frame in frames {
                            let _ = socket.send(Message::text(frame)).await;
                        }
                    }
                    Next::Close(code) => return close(&mut socket, code, "").await,
                }
            }
            told = from_world.recv() => match told {
                Some(ToBot::Frame(frame)) => {
                    if socket.send(Message::text(frame)).await.is_err() {
                        return;
                    }
                }
                Some(ToBot::Close(code)) => return close(&mut socket, code, "").await,
                Some(ToBot::Drop) | None => return,
            },
        }
    }
}

enum Next {
    On(Vec<String>),
    Close(Option<u16>),
}

fn heard(state: &State, frame: &Value, line: &mpsc::UnboundedSender<ToBot>) -> Next {
    let mut world = state.world();
    let data = &frame["d"];
    match frame["op"].as_u64() {
        Some(1) => {
            world.count("heartbeats");
            if world.faults.no_acknowledgement {
                return Next::On(vec![]);
            }
            Next::On(vec![json!({ "op": 11 }).to_string()])
        }
        Some(2) => identify(&mut world, data, line, &state.gateway_url),
        Some(6) => resume(&mut world, data, line),
        _ => {
            world
                .broken
                .push(format!("an unknown frame to the gateway: {frame}"));
            Next::Close(Some(4001))
        }
    }
}

fn identify(
    world: &mut World,
    data: &Value,
    line: &mpsc::UnboundedSender<ToBot>,
    url: &str,
) -> Next {
    world.count("identified");
    // The platform takes the token with and without the word before it.
    let token = data["token"].as_str().unwrap_or_default();
    if token.trim_start_matches("Bot ") != TOKEN {
        return Next::Close(Some(4004));
    }
    if let Some(code) = world.faults.close_identify {
        return Next::Close(Some(code));
    }
    if let Some(starts) = world.faults.gateway.starts.as_mut() {
        if starts.now().remaining == 0 {
            // The platform ends all sessions then and resets the token. *topics/gateway*.
            let fault = "a session was begun beyond the day's number".to_owned();
            world.broken.push(fault);
            return Next::Close(Some(4004));
        }
        starts.remaining -= 1;
    }
    if data["intents"] != INTENTS || !data["shard"].is_array() || data.get("compress").is_some() {
        world.broken.push(format!("identify says {data}"));
    }
    for key in ["os", "browser", "device"] {
        if !data["properties"][key].is_string() {
            world
                .broken
                .push(format!("identify lacks properties.{key}"));
        }
    }
    if world.faults.bare_closes > 0 {
        world.faults.bare_closes -= 1;
        return Next::Close(None);
    }
    let id = format!("session-{}", world.counted("identified"));
    let shard = data["shard"][0].as_u64().unwrap_or(0);
    let total = data["shard"][1].as_u64().unwrap_or(1).max(1);
    let mine = world
        .guilds
        .iter()
        .filter(|guild| (**guild >> 22) % total == shard);
    let guilds: Vec<Value> = mine
        .map(|guild| json!({ "id": guild.to_string(), "unavailable": true }))
        .collect();
    let session = Session {
        shard,
        total,
        told: Vec::new(),
        seq: 1,
        line: Some(line.clone()),
    };
    let ready = json!({ "op": 0, "s": 1, "t": "READY", "d": {
        "v": 10, "user": World::user(super::BOT), "guilds": guilds, "session_id": id,
        "resume_gateway_url": url, "shard": [shard, total],
        "application": { "id": APPLICATION.to_string(), "flags": 0 },
    }});
    // A session that is begun anew is not told what the one before was.
    world.sessions.retain(|_, one| one.shard != shard);
    world.sessions.insert(id.clone(), session);
    // Whole communities follow, one by one.
    for guild in world.guilds.clone() {
        if (guild >> 22) % total == shard {
            let whole = world.community(guild);
            if let Some(session) = world.sessions.get_mut(&id) {
                session.tell("GUILD_CREATE", &whole);
            }
        }
    }
    Next::On(vec![ready.to_string()])
}

fn resume(world: &mut World, data: &Value, line: &mpsc::UnboundedSender<ToBot>) -> Next {
    world.count("resumptions");
    let id = data["session_id"].as_str().unwrap_or_default().to_owned();
    let since = data["seq"].as_u64().unwrap_or(0);
    if world.faults.no_resume || !world.sessions.contains_key(&id) || data["token"] != TOKEN {
        return Next::On(vec![json!({ "op": 9, "d": false }).to_string()]);
    }
    let session = world.sessions.get_mut(&id).expect("it is there");
    let mut frames: Vec<String> = session
        .told
        .iter()
        .filter(|(seq, _)| *seq > since)
        .map(|(_, frame)| frame.clone())
        .collect();
    session.seq += 1;
    let frame = json!({ "op": 0, "s": session.seq, "t": "RESUMED", "d": {} }).to_string();
    frames.push(frame);
    session.line = Some(line.clone());
    world.count("resumed");
    Next::On(frames)
}
