//! One connection to the gateway, held for as long as the program runs.
//!
//! The socket is our own and not the client library's: that one hands events to tasks that overtake
//! each other, spins when a connection ends without a reason, tries a failed resumption thousands
//! of times a second, and never uses the address that a session is to be resumed at. Here frames
//! are read in order and handed on in order; every reconnection passes through one growing wait;
//! a connection that stops answering is noticed and left. What is read but not understood is
//! logged at debug, never with its text.

mod session;
mod session_starts;
mod trouble;

use std::sync::Arc;
use std::time::Duration;

use futures_util::{SinkExt as _, StreamExt as _};
use reqwest::header::{HeaderValue, USER_AGENT};
use serde_json::{Value, json};
use tokio::net::TcpStream;
use tokio::sync::watch;
use tokio::time::{Instant, sleep, sleep_until, timeout};
use tokio_rustls::TlsConnector;
use tokio_websockets::{
    ClientBuilder, CloseCode, Connector, Limits, MaybeTlsStream, Message, WebSocketStream,
};

use super::backoff::{Backoff, chance};
use super::http::Rest;
use super::options::{Base, Token};
use super::wire::{Frame, Hello, Ready};
use super::{connect, limits};
use session::Session;
pub use session::{Ended, Fatal};
pub use session_starts::{Gateway, SessionStarts};
use trouble::Trouble;

/// What the bot asks to be told: communities and their threads, messages there and in private, and
/// what the messages say. *topics/gateway#list-of-intents*.
pub const INTENTS: u64 = (1 << 0) | (1 << 9) | (1 << 12) | (1 << 15);

/// A connection that is not made, or does not greet, within this is given up.
const GREETED_WITHIN: Duration = Duration::from_secs(15);
/// A connection that lasted this long was a good one: the next failure is a first one.
const GOOD_AFTER: Duration = Duration::from_secs(10);
/// Resumptions tried before a session is begun anew.
const RESUMPTIONS: u32 = 5;
/// The longest frame taken, bytes.
const LONGEST_FRAME: usize = 16 * 1024 * 1024;

type Socket = WebSocketStream<MaybeTlsStream<TcpStream>>;

/// Receives gateway events. It must not block: reading goes on only when it returns.
pub trait EventHandler: Send + Sync {
    /// A new session has started; all earlier events were delivered. Events between two sessions are
    /// lost: the channel history has the messages.
    fn on_ready(&self, shard: u32, ready: &Ready);
    /// An event.
    fn on_dispatch(&self, shard: u32, name: &str, data: &str);
}

/// One of the connections.
#[derive(Clone, Debug)]
pub struct Link<'a> {
    /// Its number.
    pub shard: u32,
    /// How many there are.
    pub total: u32,
    /// The bot's token.
    pub token: Token,
    /// What addresses are allowed.
    pub base: Base,
    /// Where sessions begin.
    pub address: String,
    /// When they may begin.
    pub starts: &'a SessionStarts,
    /// The way to the platform's count of them.
    pub rest: &'a Rest,
    /// Turns true when the program ends.
    pub over: watch::Receiver<bool>,
}

/// Holds the connection until it can never work again, or the program ends.
pub async fn hold(link: &Link<'_>, handler: &dyn EventHandler) -> Option<Fatal> {
    let mut kept = Kept {
        session: None,
        may_begin: false,
        trouble: Trouble::new(link.shard),
    };
    let mut backoff = Backoff::new();
    loop {
        if kept.session.is_some() && backoff.failures() >= RESUMPTIONS {
            tracing::warn!(
                shard = link.shard,
                "the session cannot be resumed; a new one begins"
            );
            kept.session = None;
        }
        if kept.session.is_none() && !kept.may_begin {
            link.starts.turn(link.shard, link.rest).await;
            kept.may_begin = true;
        }
        let opened = Instant::now();
        let why = match connection(link, handler, &mut kept).await {
            Ended::Fatal(fatal) => return Some(fatal),
            Ended::Over => return None,
            Ended::Lost(why) => why,
            Ended::SessionLost(why) => {
                kept.session = None;
                why
            }
        };
        if opened.elapsed() >= GOOD_AFTER {
            backoff.reset();
            kept.trouble.over();
        }
        let wait = backoff.next();
        let (failures, resumes) = (backoff.failures(), kept.session.is_some());
        kept.trouble.ended(&why, failures, resumes, wait);
        sleep(wait).await;
    }
}

/// What outlives a connection.
#[derive(Debug)]
struct Kept {
    session: Option<Session>,
    /// A session may begin. A connection that ends before one does uses nothing up.
    may_begin: bool,
    trouble: Trouble,
}

/// One connection from opening to its end.
async fn connection(link: &Link<'_>, handler: &dyn EventHandler, kept: &mut Kept) -> Ended {
    let address = address(link, kept.session.as_ref());
    let mut socket = match timeout(GREETED_WITHIN, connect(&address)).await {
        Ok(Ok(socket)) => socket,
        Ok(Err(why)) => return lost_to_resume(&mut kept.session, &why),
        Err(_) => return lost_to_resume(&mut kept.session, "no answer"),
    };
    let ended = converse(link, handler, kept, &mut socket).await;
    // Anything but 1000 and 1001 keeps the session for resumption.
    // *topics/gateway#disconnecting*.
    let code = match ended {
        Ended::Over => Some(CloseCode::NORMAL_CLOSURE),
        _ => CloseCode::try_from(4000).ok(),
    };
    // It may be gone already.
    let farewell = async {
        let _ = socket.send(Message::close(code, "")).await;
        let _ = socket.close().await;
    };
    let _ = timeout(Duration::from_secs(1), farewell).await;
    ended
}

/// A session whose own address fails is resumed at the common one the next time.
fn lost_to_resume(session: &mut Option<Session>, why: &str) -> Ended {
    if let Some(session) = session {
        session.address = None;
    }
    Ended::Lost(format!("it cannot be reached: {why}"))
}

/// Where to connect: a session's own address, if it is allowed, else the common one.
fn address(link: &Link<'_>, session: Option<&Session>) -> String {
    let own = session.and_then(|session| session.address.as_deref());
    let own = own.and_then(|own| link.base.admits_gateway(own).ok());
    let url = own.or_else(|| link.base.admits_gateway(&link.address).ok());
    url.map_or_else(String::new, |mut url| {
        url.set_query(Some(&format!("v={}&encoding=json", limits::VERSION)));
        url.to_string()
    })
}

async fn connect(address: &str) -> Result<Socket, String> {
    let tls = connect::tls().map_err(|error| error.to_string())?;
    let connector = Connector::Rustls(TlsConnector::from(Arc::new(tls)));
    let agent = HeaderValue::from_static(connect::USER_AGENT);
    let builder = ClientBuilder::new()
        .uri(address)
        .map_err(|error| error.to_string())?
        .connector(&connector)
        .limits(Limits::default().max_payload_len(Some(LONGEST_FRAME)))
        .add_header(USER_AGENT, agent)
        .map_err(|error| error.to_string())?;
    let (socket, _) = builder.connect().await.map_err(|error| error.to_string())?;
    Ok(socket)
}

/// Waits for the next whole text; `Err` when the connection is over.
async fn next_text(socket: &mut Socket, trouble: &mut Trouble) -> Result<String, Ended> {
    loop {
        let message = match socket.next().await {
            Some(Ok(message)) => message,
            Some(Err(error)) => return Err(Ended::Lost(format!("it broke: {error}"))),
            None => return Err(Ended::Lost("it broke".to_owned())),
        };
        if let Some(text) = message.as_text() {
            return Ok(text.to_owned());
        }
        if let Some((code, reason)) = message.as_close() {
            let code = u16::from(code);
            trouble.closed(code);
            return Err(Ended::by_code(code, reason));
        }
        // Nothing was asked for that would come as bytes; pings are answered by the socket.
    }
}

async fn send(socket: &mut Socket, op: u8, data: &Value) -> Result<(), Ended> {
    let text = json!({ "op": op, "d": data }).to_string();
    let sent = timeout(GREETED_WITHIN, socket.send(Message::text(text))).await;
    match sent {
        Ok(Ok(())) => Ok(()),
        _ => Err(Ended::Lost("it takes nothing any more".to_owned())),
    }
}

/// Greets, begins or resumes the session, and hands on what is told until the connection ends.
async fn converse(
    link: &Link<'_>,
    handler: &dyn EventHandler,
    kept: &mut Kept,
    socket: &mut Socket,
) -> Ended {
    let every = match timeout(GREETED_WITHIN, greeted(socket, &mut kept.trouble)).await {
        Ok(Ok(every)) => every,
        Ok(Err(ended)) => return ended,
        Err(_) => return Ended::Lost("it did not greet".to_owned()),
    };
    let hello = opening(link, kept.session.as_ref());
    // A resumption uses nothing up.
    kept.may_begin = kept.may_begin && kept.session.is_some();
    if let Err(ended) = send(socket, hello.0, &hello.1).await {
        return ended;
    }
    match listen(link, handler, kept, socket, every).await {
        Ok(never) => match never {},
        Err(ended) => ended,
    }
}

async fn greeted(socket: &mut Socket, trouble: &mut Trouble) -> Result<Duration, Ended> {
    loop {
        let text = next_text(socket, trouble).await?;
        let Ok(frame) = serde_json::from_str::<Frame>(&text) else {
            continue;
        };
        if frame.op == 10
            && let Ok(hello) = serde_json::from_str::<Hello>(frame.data())
        {
            let ms = hello.heartbeat_interval.clamp(10.0, 3_600_000.0);
            return Ok(Duration::from_millis(1).mul_f64(ms));
        }
    }
}

/// Identification, or what resumes the session. *topics/gateway-events#identify*, *#resume*.
fn opening(link: &Link<'_>, session: Option<&Session>) -> (u8, Value) {
    match session {
        Some(session) => (
            6,
            json!({ "token": link.token.bare(), "session_id": session.id, "seq": session.seq }),
        ),
        None => (
            2,
            json!({
                "token": link.token.bare(),
                "intents": INTENTS,
                "shard": [link.shard, link.total],
                "large_threshold": 50,
                "properties": {
                    "os": std::env::consts::OS,
                    "browser": "chalkbell",
                    "device": "chalkbell",
                },
            }),
        ),
    }
}

enum Never {}

/// Hands on what is told, and keeps the heart beating.
async fn listen(
    link: &Link<'_>,
    handler: &dyn EventHandler,
    kept: &mut Kept,
    socket: &mut Socket,
    every: Duration,
) -> Result<Never, Ended> {
    let mut over = link.over.clone();
    let opened = Instant::now();
    let mut beat_at = Instant::now() + every.mul_f64(chance());
    let mut awaited = false;
    // The session must be there soon, or this connection never comes to anything.
    let begin_by = Instant::now() + GREETED_WITHIN.max(every);
    let mut begun = false;
    loop {
        let text = tokio::select! {
            // What is there is read before an acknowledgement counts as missing; but a flood of it
            // does not keep the heart from beating.
            biased;
            text = next_text(socket, &mut kept.trouble), if Instant::now() < beat_at + every => text?,
            () = sleep_until(beat_at) => {
                if awaited {
                    return Err(Ended::Lost("it went silent".to_owned()));
                }
                awaited = true;
                if begun && opened.elapsed() >= GOOD_AFTER {
                    kept.trouble.over();
                }
                // From now on: a process that stood still makes up for no beats.
                beat_at = Instant::now() + every;
                beat(socket, kept.session.as_ref()).await?;
                continue;
            }
            () = ends(&mut over) => return Err(Ended::Over),
            () = sleep_until(begin_by), if !begun => {
                let why = "it began no session".to_owned();
                return Err(Ended::SessionLost(why));
            }
        };
        let Ok(frame) = serde_json::from_str::<Frame>(&text) else {
            tracing::debug!(bytes = text.len(), "a frame cannot be read");
            continue;
        };
        match frame.op {
            0 if dispatch(link, handler, &mut kept.session, &frame)? => {
                begun = true;
            }
            0 => {}
            1 => beat(socket, kept.session.as_ref()).await?,
            7 => return Err(Ended::Lost("it asked to be opened anew".to_owned())),
            9 => return Err(invalidated(frame.data()).await),
            11 => awaited = false,
            op => tracing::debug!(op, "a frame of an unknown kind"),
        }
    }
}

/// Returns when the program ends.
async fn ends(over: &mut watch::Receiver<bool>) {
    // Whoever would tell is gone, then.
    let _ = over.wait_for(|over| *over).await;
}

async fn beat(socket: &mut Socket, session: Option<&Session>) -> Result<(), Ended> {
    let seq = session.and_then(|session| session.seq);
    send(socket, 1, &json!(seq)).await
}

/// The session is over, or, rarely, can be resumed. *topics/gateway-events#invalid-session* asks
/// for a wait of one to five seconds; the wait that follows every ended connection adds to it.
async fn invalidated(data: &str) -> Ended {
    if data.trim() == "true" {
        return Ended::Lost("it asked to resume".to_owned());
    }
    sleep(Duration::from_millis(1000) + Duration::from_secs(4).mul_f64(chance())).await;
    Ended::SessionLost("the session is not valid any more".to_owned())
}

/// Hands an event on; whether it says that the session stands.
fn dispatch(
    link: &Link<'_>,
    handler: &dyn EventHandler,
    session: &mut Option<Session>,
    frame: &Frame,
) -> Result<bool, Ended> {
    let name = frame.t.as_deref().unwrap_or_default();
    if let Some(session) = session.as_mut() {
        session.seq = frame.s.or(session.seq);
    }
    match name {
        "READY" => match serde_json::from_str::<Ready>(frame.data()) {
            Ok(ready) => {
                *session = Some(Session {
                    id: ready.session_id.clone(),
                    address: ready.resume_gateway_url.clone(),
                    seq: frame.s,
                });
                tracing::info!(shard = link.shard, "a gateway session began");
                handler.on_ready(link.shard, &ready);
                Ok(true)
            }
            Err(error) => {
                let why = format!("what begins a session cannot be read: {error}");
                Err(Ended::SessionLost(why))
            }
        },
        "RESUMED" => {
            tracing::info!(shard = link.shard, "the gateway session was resumed");
            Ok(true)
        }
        _ => {
            handler.on_dispatch(link.shard, name, frame.data());
            Ok(false)
        }
    }
}
