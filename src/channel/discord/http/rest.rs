//! Requests to the platform: held to its limits, tried again, and told apart when they fail.
//!
//! The client library's own sender is not used, because it cannot be had without an old WebSocket
//! stack, goes to the real platform whenever its rate limiter is on, sends again at once when a
//! header is no number, and calls a post failed whose answer it cannot read. Here the address is
//! always the one that was set, and an answer that cannot be read means "perhaps done": whoever
//! posts sends again with the same nonce.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use reqwest::header::{AUTHORIZATION, CONTENT_TYPE};
use reqwest::multipart::{Form, Part};
use reqwest::{Client, Method, RequestBuilder, Response, StatusCode};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use tokio::time::{Instant, sleep, timeout_at};

use super::rate_limit::{BucketHeaders, Key, RateLimits, seconds};
use super::route::Route;
use crate::backoff::Backoff;
use crate::channel::discord::options::{Base, Token};
use crate::channel::discord::wire::{Id, Message};
use crate::channel::discord::{connect, limits};

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
    TooLate(Cause),
    /// It may have been done or not, and is none to be made twice.
    #[error("it is not known whether the platform did it ({0})")]
    InDoubt(Cause),
    /// The answer is not what was promised.
    #[error("the platform's answer cannot be read ({0})")]
    Unreadable(String),
    /// The request cannot be put into words: a fault of this program.
    #[error("the request cannot be made ({0})")]
    Unmade(String),
}

/// What kept a request from being answered.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Cause {
    /// No answer at all, and why.
    #[error("{0}")]
    NoAnswer(String),
    /// The platform's own failure, by its HTTP status.
    #[error("status {0}")]
    Status(u16),
    /// Only refusals for too many requests: nothing of it was done.
    #[error("too many requests")]
    TooMany,
}

impl RestError {
    /// The platform's own number for the reason, if it refused.
    pub const fn code(&self) -> u64 {
        match self {
            Self::Refused { code, .. } => *code,
            _ => 0,
        }
    }

    /// The HTTP status, if it refused.
    pub const fn status(&self) -> u16 {
        match self {
            Self::Refused { status, .. } => *status,
            _ => 0,
        }
    }
}

/// A file that goes with a request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Upload {
    /// Its name.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
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
    /// Files, in the order in which the JSON speaks of them.
    pub files: Vec<Upload>,
    /// Parameters of the address.
    pub params: Vec<(&'static str, String)>,
    /// Tried for this long.
    pub patience: Duration,
    /// Done twice it would be seen twice: it is not made again where it may have been done.
    pub once: bool,
}

impl<'a> Call<'a> {
    /// A request without a body, tried for half a minute.
    pub const fn new(method: Method, route: Route<'a>) -> Self {
        Self {
            route,
            method,
            body: None,
            files: Vec::new(),
            params: Vec::new(),
            patience: Duration::from_secs(30),
            once: false,
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
            let part = Part::bytes(file.bytes.clone()).file_name(file.name.clone());
            form = form.part(format!("files[{number}]"), part);
        }
        form
    }
}

/// The way to the platform.
#[derive(Debug)]
pub struct Rest {
    client: Client,
    token: Token,
    base: Base,
    limits: Mutex<RateLimits>,
}

/// What a try came to.
enum Tried {
    Done(Vec<u8>),
    Final(RestError),
    /// Too many requests: the wait is booked.
    Held,
    /// Too many requests, on a route that nothing else waits for.
    After(Duration),
    /// It failed. Where it cannot have been done, it never left.
    Again {
        cause: Cause,
        left: bool,
    },
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
        let limits = RateLimits::new(base.spread());
        Ok(Self {
            client,
            token,
            base,
            limits: Mutex::new(limits),
        })
    }

    /// Makes the request and reads its answer.
    pub async fn fetch<T: DeserializeOwned>(&self, call: &Call<'_>) -> Result<T, RestError> {
        let body = self.send(call).await?;
        serde_json::from_slice(&body).map_err(|error| RestError::Unreadable(error.to_string()))
    }

    /// Makes the request and reads the messages in its answer, those that can be read: one that
    /// cannot is no reason to be deaf to the others.
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
    pub async fn send(&self, call: &Call<'_>) -> Result<Vec<u8>, RestError> {
        let give_up = Instant::now() + call.patience;
        let key = key(call);
        let mut backoff = Backoff::new();
        let mut last = None;
        let late = |last: Option<Cause>| RestError::TooLate(last.unwrap_or(Cause::TooMany));
        loop {
            if !self.wait_turn(key.as_ref(), give_up).await {
                return Err(late(last));
            }
            let wait = match self.attempt(call, key.as_ref(), give_up).await {
                Tried::Done(body) => return Ok(body),
                Tried::Final(error) => return Err(error),
                Tried::Held => continue,
                Tried::After(wait) => wait,
                Tried::Again { cause, left: true } if call.once => {
                    return Err(RestError::InDoubt(cause));
                }
                Tried::Again { cause, .. } => {
                    last = Some(cause);
                    backoff.next()
                }
            };
            tracing::debug!(
                ?last,
                wait_ms = wait.as_millis(),
                "a request is tried again"
            );
            if Instant::now() + wait >= give_up {
                return Err(late(last));
            }
            sleep(wait).await;
        }
    }

    /// Fetches a file that a member attached: without the token, from where files lie and nowhere
    /// else, up to `most` bytes.
    pub async fn file(&self, address: &str, most: usize) -> Result<Vec<u8>, RestError> {
        let url = self
            .base
            .admits_file(address)
            .ok_or_else(|| RestError::Unmade("a file lies elsewhere".to_owned()))?;
        let broken = |error: reqwest::Error| RestError::TooLate(Cause::NoAnswer(reason(error)));
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

    /// Waits until the limits let it go; false where that is too late.
    async fn wait_turn(&self, key: Option<&Key>, give_up: Instant) -> bool {
        loop {
            let now = Instant::now();
            let turn = self.limits().take(key, now);
            let Err(wait) = turn else { return true };
            if now + wait > give_up {
                return false;
            }
            sleep(wait).await;
        }
    }

    fn limits(&self) -> MutexGuard<'_, RateLimits> {
        self.limits.lock().unwrap_or_else(PoisonError::into_inner)
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
            let (status, bucket) = (response.status(), bucket_headers(&response));
            let limited = limited(&response);
            Ok::<_, reqwest::Error>((status, bucket, limited, body(response).await?))
        };
        match timeout_at(until, answer).await {
            Err(_) => Tried::Again {
                cause: Cause::NoAnswer("no answer".to_owned()),
                left: true,
            },
            Ok(Err(error)) => Tried::Again {
                left: !error.is_connect(),
                cause: Cause::NoAnswer(reason(error)),
            },
            Ok(Ok((status, bucket, limited, body))) => {
                let now = Instant::now();
                self.limits().learn(key, bucket, now);
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
        let Some(key) = key else {
            return Tried::After(wait);
        };
        self.limits().refused(key, everything, wait, now);
        if everything && !key.global {
            // What the platform exempts from this limit it refuses all the same.
            return Tried::After(wait);
        }
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

/// What a request draws on. First answers to interactions draw on nothing.
fn key(call: &Call<'_>) -> Option<Key> {
    let (kind, id) = call.route.bucket()?;
    let mut key = Key {
        route: (call.method.clone(), kind),
        of: id,
        global: true,
    };
    match call.route {
        // Signs are set and taken from one bucket.
        Route::ChannelMessageReactionMe { .. } => key.route.0 = Method::PUT,
        // Each interaction's further answers are counted for its token, and not over all routes.
        // *topics/rate-limits*: "webhook_id + webhook_token", and *#global-rate-limit*.
        Route::WebhookFollowupMessages { token, .. }
        | Route::WebhookOriginalInteractionResponse { token, .. } => {
            let mut hash = DefaultHasher::new();
            token.hash(&mut hash);
            key.of = hash.finish();
            key.global = false;
        }
        _ => {}
    }
    Some(key)
}

#[derive(Clone, Copy)]
struct Limited {
    global: bool,
    wait: Option<Duration>,
}

fn header<'r>(response: &'r Response, name: &str) -> Option<&'r str> {
    response.headers().get(name)?.to_str().ok()
}

fn bucket_headers(response: &Response) -> BucketHeaders {
    BucketHeaders {
        bucket: header(response, "x-ratelimit-bucket").map(str::to_owned),
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
        return Tried::Again {
            cause: Cause::Status(status.as_u16()),
            left: true,
        };
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
