//! Requests to the platform: paced, tried again, and told apart when they fail.
//!
//! The client library's own sender is not used, because it cannot be had without an old WebSocket
//! stack, goes to the real platform whenever its rate limiter is on, sends again at once when a
//! header is no number, and calls a post failed whose answer it cannot read. Here the address is
//! always the one that was set, and an answer that cannot be read means "perhaps done": whoever
//! posts sends again with the same nonce.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use reqwest::header::{AUTHORIZATION, CONTENT_TYPE};
use reqwest::multipart::{Form, Part};
use reqwest::{Client, Method, RequestBuilder, Response, StatusCode};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use serenity::builder::CreateAttachment;
use tokio::time::{Instant, sleep, timeout_at};

use super::backoff::Backoff;
use super::connect;
use super::limits;
use super::options::{Base, Token};
use super::pace::{Pace, Told, seconds};
use super::route::Route;
use super::wire::{Id, Message};

/// A request without an answer is given up after this, and sent again.
const ANSWER_WITHIN: Duration = Duration::from_secs(10);
/// The longest answer read, bytes.
const LONGEST_ANSWER: usize = 8 * 1024 * 1024;
/// Waited after a refusal for too many requests that does not say how long.
const UNTOLD_WAIT: Duration = Duration::from_secs(1);

/// A field of a request's body that the platform found fault with. *reference#error-messages*.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Keys and places in lists, from the outside in.
    pub path: Vec<String>,
    /// Its words.
    pub why: String,
}

/// The most fields that an error names.
const FIELDS_NAMED: usize = 8;

fn named(fields: &[Field]) -> String {
    let name = |field: &Field| format!("; {}: {}", field.path.join("."), field.why);
    fields.iter().map(name).collect()
}

/// The fields below this one, which hold `_errors` where they end.
fn fields_in(value: &serde_json::Value, path: &[String], found: &mut Vec<Field>) {
    let Some(keys) = value.as_object() else {
        return;
    };
    for (key, below) in keys {
        if found.len() >= FIELDS_NAMED {
            return;
        }
        if key == "_errors" {
            let words = below[0]["message"].as_str().unwrap_or_default();
            let why = words.chars().take(200).collect();
            found.push(Field {
                path: path.to_vec(),
                why,
            });
        } else {
            let inside: Vec<String> = path.iter().cloned().chain([key.clone()]).collect();
            fields_in(below, &inside, found);
        }
    }
}

/// Why a request came to nothing.
#[derive(Clone, Debug, thiserror::Error)]
pub enum RestError {
    /// The platform said no, and would again.
    #[error("the platform refused it ({status}, code {code}: {message}{})", named(.fields))]
    Refused {
        /// HTTP status.
        status: u16,
        /// The platform's own number for the reason; 0 where it gave none.
        code: u64,
        /// Its words.
        message: String,
        /// The fields that it names, if any.
        fields: Vec<Field>,
    },
    /// No answer, or only failures, for as long as it was worth trying.
    #[error("the platform did not take it in time ({0})")]
    TooLate(String),
    /// The answer is not what was promised.
    #[error("the platform's answer cannot be read ({0})")]
    Unreadable(String),
    /// The request cannot be put into words: a fault of this program.
    #[error("the request cannot be made ({0})")]
    Unmade(String),
}

impl RestError {
    /// The platform's own number for the reason, if it refused.
    #[must_use]
    pub const fn code(&self) -> u64 {
        match self {
            Self::Refused { code, .. } => *code,
            _ => 0,
        }
    }

    /// The HTTP status, if it refused.
    #[must_use]
    pub const fn status(&self) -> u16 {
        match self {
            Self::Refused { status, .. } => *status,
            _ => 0,
        }
    }
}

/// A request to be made.
#[derive(Clone, Debug)]
pub struct Call<'a> {
    /// Where.
    pub route: Route<'a>,
    /// How.
    pub method: Method,
    /// The JSON, if any.
    pub body: Option<Vec<u8>>,
    /// Files, by name.
    pub files: Vec<CreateAttachment>,
    /// Parameters of the address.
    pub params: Vec<(&'static str, String)>,
    /// Tried for this long.
    pub patience: Duration,
}

impl<'a> Call<'a> {
    /// A request without a body, tried for half a minute.
    #[must_use]
    pub const fn new(method: Method, route: Route<'a>) -> Self {
        Self {
            route,
            method,
            body: None,
            files: Vec::new(),
            params: Vec::new(),
            patience: Duration::from_secs(30),
        }
    }

    /// With this JSON.
    #[must_use]
    pub fn json(mut self, body: &serde_json::Value) -> Self {
        self.body = Some(body.to_string().into_bytes());
        self
    }

    /// The request at this address: its JSON, or a form of it and the files, each by its number.
    /// *reference#uploading-files*.
    fn request(&self, client: &Client, token: &Token, base: &Base) -> RequestBuilder {
        let path = self.route.path();
        let address = format!("{}/api/v{}{path}", base.as_str(), limits::VERSION);
        let request = client
            .request(self.method.clone(), address)
            .header(AUTHORIZATION, token.header())
            .query(&self.params);
        if !self.files.is_empty() {
            return request.multipart(self.form());
        }
        match &self.body {
            Some(json) => request
                .header(CONTENT_TYPE, "application/json")
                .body(json.clone()),
            // The platform asks for a length where a body could be.
            None if self.method != Method::GET => request.body(""),
            None => request,
        }
    }

    fn form(&self) -> Form {
        let json = self.body.clone().unwrap_or_default();
        let mut form =
            Form::new().text("payload_json", String::from_utf8_lossy(&json).into_owned());
        for (number, file) in self.files.iter().enumerate() {
            let part = Part::bytes(file.data.clone()).file_name(file.filename.clone());
            form = form.part(format!("files[{number}]"), part);
        }
        form
    }
}

/// The method, the route, and what else has an allowance of its own.
type Key = (Method, (&'static str, u64), u64);

/// The way to the platform.
#[derive(Debug)]
pub struct Rest {
    client: Client,
    token: Token,
    base: Base,
    pace: Mutex<Pace<Key>>,
}

/// What a try came to.
enum Tried {
    Done(Vec<u8>),
    Final(RestError),
    /// Too many requests: the wait is booked.
    Held,
    /// Too many requests, on a route that nothing else waits for.
    After(Duration),
    Again(String),
}

impl Rest {
    /// The way to this base, with this token.
    ///
    /// # Errors
    /// When no secure connections can be made on this machine.
    pub fn new(base: Base, token: Token) -> Result<Self, RestError> {
        let tls = connect::tls().map_err(|error| RestError::Unmade(error.to_string()))?;
        let client = Client::builder()
            .user_agent(connect::USER_AGENT)
            .use_preconfigured_tls(tls)
            .connect_timeout(Duration::from_secs(5))
            .tcp_nodelay(true)
            .no_proxy()
            // Nothing asked for lies elsewhere.
            .redirect(reqwest::redirect::Policy::none())
            .build()
            .map_err(|error| RestError::Unmade(error.to_string()))?;
        let pace = Pace::new(base.spread());
        Ok(Self {
            client,
            token,
            base,
            pace: Mutex::new(pace),
        })
    }

    /// Makes the request and reads its answer.
    ///
    /// # Errors
    /// [`RestError`].
    pub async fn fetch<T: DeserializeOwned>(&self, call: &Call<'_>) -> Result<T, RestError> {
        let body = self.send(call).await?;
        serde_json::from_slice(&body).map_err(|error| RestError::Unreadable(error.to_string()))
    }

    /// Makes the request and reads the messages in its answer, those that can be read: one that
    /// cannot is no reason to be deaf to the others.
    ///
    /// # Errors
    /// [`RestError`].
    pub async fn messages(&self, call: &Call<'_>, channel: Id) -> Result<Vec<Message>, RestError> {
        let all: Vec<serde_json::Value> = self.fetch(call).await?;
        let read = |mut one: serde_json::Value| {
            let keys = one.as_object_mut()?;
            let stands = keys.entry("channel_id");
            stands.or_insert_with(|| channel.to_string().into());
            let message = serde_json::from_value(one);
            // Without what it says.
            let misshapen = |error: &serde_json::Error| {
                tracing::debug!(line = error.line(), "a message of a history cannot be read");
            };
            message.inspect_err(misshapen).ok()
        };
        Ok(all.into_iter().filter_map(read).collect())
    }

    /// Makes the request, again and again while that may help; its answer's body.
    ///
    /// # Errors
    /// [`RestError`].
    pub async fn send(&self, call: &Call<'_>) -> Result<Vec<u8>, RestError> {
        let give_up = Instant::now() + call.patience;
        let key = key(call);
        let mut backoff = Backoff::new();
        loop {
            self.wait_turn(key.as_ref(), give_up).await?;
            let (why, wait) = match self.attempt(call, key.as_ref(), give_up).await {
                Tried::Done(body) => return Ok(body),
                Tried::Final(error) => return Err(error),
                Tried::Held => continue,
                Tried::After(wait) => ("too many requests".to_owned(), wait),
                Tried::Again(why) => (why, backoff.next()),
            };
            tracing::debug!(why, wait_ms = wait.as_millis(), "a request is tried again");
            if Instant::now() + wait >= give_up {
                return Err(RestError::TooLate(why));
            }
            sleep(wait).await;
        }
    }

    /// Fetches a file that a member attached: without the token, from where files lie and nowhere
    /// else, up to `most` bytes.
    ///
    /// # Errors
    /// [`RestError`].
    pub async fn file(&self, address: &str, most: usize) -> Result<Vec<u8>, RestError> {
        let url = self
            .base
            .admits_file(address)
            .ok_or_else(|| RestError::Unmade("a file lies elsewhere".to_owned()))?;
        let broken = |error: reqwest::Error| RestError::TooLate(reason(error));
        let mut response = self.client.get(url).send().await.map_err(broken)?;
        if response.status() != StatusCode::OK {
            return Err(RestError::Unreadable(response.status().to_string()));
        }
        let mut bytes = Vec::new();
        while let Some(chunk) = response.chunk().await.map_err(broken)? {
            bytes.extend_from_slice(&chunk);
            if bytes.len() > most {
                return Err(RestError::Unreadable("it is too long".to_owned()));
            }
        }
        Ok(bytes)
    }

    async fn wait_turn(&self, key: Option<&Key>, give_up: Instant) -> Result<(), RestError> {
        loop {
            let now = Instant::now();
            let turn = self.pace().take(key, now);
            let Err(wait) = turn else { return Ok(()) };
            if now + wait > give_up {
                return Err(RestError::TooLate("too many requests".to_owned()));
            }
            sleep(wait).await;
        }
    }

    fn pace(&self) -> std::sync::MutexGuard<'_, Pace<Key>> {
        self.pace.lock().unwrap_or_else(PoisonError::into_inner)
    }

    async fn attempt(&self, call: &Call<'_>, key: Option<&Key>, give_up: Instant) -> Tried {
        let request = call.request(&self.client, &self.token, &self.base).build();
        let request = match request {
            Ok(request) => request,
            Err(error) => return Tried::Final(RestError::Unmade(reason(error))),
        };
        let until = give_up.min(Instant::now() + ANSWER_WITHIN);
        let answer = async {
            let response = self.client.execute(request).await?;
            let (status, told) = (response.status(), told(&response));
            let limited = limited(&response);
            Ok::<_, reqwest::Error>((status, told, limited, body(response).await?))
        };
        match timeout_at(until, answer).await {
            Err(_) => Tried::Again("no answer".to_owned()),
            Ok(Err(error)) => Tried::Again(reason(error)),
            Ok(Ok((status, told, limited, body))) => {
                let now = Instant::now();
                self.pace().told(key, told, now);
                if status == StatusCode::TOO_MANY_REQUESTS {
                    return self.held(key, limited, &body, now);
                }
                outcome(status, body)
            }
        }
    }

    /// Books the wait that the platform asks for.
    fn held(&self, key: Option<&Key>, limited: Limited, body: &[u8], now: Instant) -> Tried {
        #[derive(Default, Deserialize)]
        #[serde(default)]
        struct TooMany {
            retry_after: serde_json::Value,
            global: bool,
        }
        let said: TooMany = serde_json::from_slice(body).unwrap_or_default();
        let wait = seconds(&said.retry_after.to_string()).or(limited.wait);
        let everything = said.global || limited.global;
        let wait = wait.unwrap_or(UNTOLD_WAIT).max(Duration::from_millis(5));
        tracing::debug!(everything, wait_ms = wait.as_millis(), "too many requests");
        if key.is_none() {
            return Tried::After(wait);
        }
        self.pace().refused(key, everything, wait, now);
        Tried::Held
    }
}

/// Why a request got no answer, down to what the system says. Without the address, which may carry
/// the token of an interaction.
fn reason(error: reqwest::Error) -> String {
    let error = error.without_url();
    let mut cause: &dyn std::error::Error = &error;
    while let Some(below) = cause.source() {
        cause = below;
    }
    cause.to_string()
}

/// The allowance that a request draws on.
fn key(call: &Call<'_>) -> Option<Key> {
    let bucket = call.route.bucket()?;
    // Signs are set and taken from one allowance.
    let method = match call.route {
        Route::ChannelMessageReactionMe { .. } => Method::PUT,
        _ => call.method.clone(),
    };
    // Each interaction's follow-ups. *topics/rate-limits*: webhook id and token.
    let own = match call.route {
        Route::WebhookFollowupMessages { token, .. }
        | Route::WebhookOriginalInteractionResponse { token, .. } => {
            let mut hash = DefaultHasher::new();
            token.hash(&mut hash);
            hash.finish()
        }
        _ => 0,
    };
    Some((method, bucket, own))
}

#[derive(Clone, Copy)]
struct Limited {
    global: bool,
    wait: Option<Duration>,
}

fn header<'r>(response: &'r Response, name: &str) -> Option<&'r str> {
    response.headers().get(name)?.to_str().ok()
}

fn told(response: &Response) -> Told {
    Told {
        remaining: header(response, "x-ratelimit-remaining").and_then(|text| text.parse().ok()),
        reset_after: header(response, "x-ratelimit-reset-after").and_then(seconds),
    }
}

fn limited(response: &Response) -> Limited {
    let scope = header(response, "x-ratelimit-scope");
    Limited {
        global: response.headers().contains_key("x-ratelimit-global") || scope == Some("global"),
        wait: header(response, "retry-after")
            .or_else(|| header(response, "x-ratelimit-reset-after"))
            .and_then(seconds),
    }
}

/// The body, cut off where it grows beyond what any answer needs.
async fn body(mut response: Response) -> Result<Vec<u8>, reqwest::Error> {
    let mut body = Vec::new();
    while let Some(chunk) = response.chunk().await? {
        if body.len() + chunk.len() > LONGEST_ANSWER {
            break;
        }
        body.extend_from_slice(&chunk);
    }
    Ok(body)
}

fn outcome(status: StatusCode, body: Vec<u8>) -> Tried {
    #[derive(Default, Deserialize)]
    #[serde(default)]
    struct Said {
        code: u64,
        message: String,
        errors: serde_json::Value,
    }
    if status.is_success() {
        return Tried::Done(body);
    }
    if status.is_server_error() || status == StatusCode::REQUEST_TIMEOUT {
        return Tried::Again(format!("status {}", status.as_u16()));
    }
    let said: Said = serde_json::from_slice(&body).unwrap_or_default();
    let mut fields = Vec::new();
    fields_in(&said.errors, &[], &mut fields);
    Tried::Final(RestError::Refused {
        status: status.as_u16(),
        code: said.code,
        message: said.message.chars().take(200).collect(),
        fields,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked examples of *reference#error-messages*, an array and an object.
    #[test]
    fn the_fields_of_a_refusal_are_named() {
        for (errors, told) in [
            (
                r#"{"activities":{"0":{"platform":{"_errors":[{"code":"BASE_TYPE_CHOICES","message":"Value must be one of ('desktop', 'android', 'ios')."}]}}}}"#,
                "; activities.0.platform: Value must be one of ('desktop', 'android', 'ios').",
            ),
            (
                r#"{"access_token":{"_errors":[{"code":"BASE_TYPE_REQUIRED","message":"This field is required"}]}}"#,
                "; access_token: This field is required",
            ),
            ("{}", ""),
            ("[1]", ""),
        ] {
            let body =
                format!(r#"{{"code":50035,"message":"Invalid Form Body","errors":{errors}}}"#);
            let outcome = outcome(StatusCode::BAD_REQUEST, body.into_bytes());
            let Tried::Final(error) = outcome else {
                panic!("{errors}");
            };
            let whole =
                format!("the platform refused it (400, code 50035: Invalid Form Body{told})");
            assert_eq!(error.to_string(), whole);
        }
    }
}
