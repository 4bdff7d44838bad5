//! A small page for operators, on this machine alone: `/healthz` says whether the database answers,
//! `/metrics` gives the numbers of [`Metrics`] as Prometheus reads them. One request a connection, a
//! deadline on every step, few connections at a time.

use std::collections::VecDeque;
use std::convert::Infallible;
use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use anyhow::{Context as _, ensure};
use http_body_util::Full;
use hyper::body::{Bytes, Incoming};
use hyper::header::{ALLOW, CACHE_CONTROL, CONTENT_TYPE, HOST, HeaderValue};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper::{Method, Request, Response, StatusCode, Version};
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::task::{AbortHandle, JoinSet};
use tokio::time::timeout;

use crate::service::metrics::Metrics;
use crate::store::Store;

/// Longest head of a request, bytes.
const LONGEST_HEAD: usize = 8 * 1024;
/// A step that takes longer ends the connection.
const PATIENCE: Duration = Duration::from_secs(5);
/// The database is given so long to answer.
const DATABASE: Duration = Duration::from_secs(2);
/// Connections at a time.
const CONNECTIONS: usize = 16;

/// The door, open but not attended yet.
#[derive(Debug)]
pub struct Status {
    listener: TcpListener,
    store: Store,
    tally: Arc<Metrics>,
}

impl Status {
    /// Opens it at this address, which must be one of this machine's own.
    ///
    /// # Errors
    /// One sentence, when the address is no loopback address or taken.
    pub async fn open(at: &str, store: Store, tally: Arc<Metrics>) -> anyhow::Result<Self> {
        let address: SocketAddr = at.parse().with_context(|| {
            format!("CHALKBELL_STATUS is {at}, which is no address; write 127.0.0.1:9464")
        })?;
        ensure!(
            address.ip().is_loopback(),
            "CHALKBELL_STATUS is {at}, which others could reach; write 127.0.0.1:PORT"
        );
        let listener = TcpListener::bind(address).await.with_context(|| {
            format!("CHALKBELL_STATUS is {at}, which cannot be listened at; name another port")
        })?;
        Ok(Self {
            listener,
            store,
            tally,
        })
    }

    /// Where it listens.
    ///
    /// # Errors
    /// When the system does not tell.
    pub fn address(&self) -> std::io::Result<SocketAddr> {
        self.listener.local_addr()
    }

    /// Attends it until dropped. Whoever only holds connections open keeps nobody out: the oldest
    /// is ended for a new one.
    pub async fn serve(self) {
        let Ok(at) = self.address() else { return };
        let mut open = JoinSet::new();
        let mut oldest = VecDeque::new();
        loop {
            let stream = match self.listener.accept().await {
                Ok((stream, _)) => stream,
                Err(error) => {
                    tracing::debug!(%error, "a connection for operators failed");
                    tokio::time::sleep(Duration::from_millis(100)).await;
                    continue;
                }
            };
            while open.try_join_next().is_some() {}
            oldest.retain(|one: &AbortHandle| !one.is_finished());
            if oldest.len() >= CONNECTIONS
                && let Some(one) = oldest.pop_front()
            {
                one.abort();
            }
            let (store, tally) = (self.store.clone(), Arc::clone(&self.tally));
            oldest.push_back(open.spawn(attend(stream, store, tally, at)));
        }
    }
}

/// Serves one connection: one request, its head within some seconds.
async fn attend(stream: TcpStream, store: Store, tally: Arc<Metrics>, at: SocketAddr) {
    let service = service_fn(move |request| {
        let (store, tally) = (store.clone(), Arc::clone(&tally));
        async move { Ok::<_, Infallible>(answer(&request, at, &store, &tally).await) }
    });
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(PATIENCE)
        .max_buf_size(LONGEST_HEAD)
        .keep_alive(false)
        .serve_connection(TokioIo::new(stream), service);
    // Whoever asked is gone: there is nobody to tell.
    drop(timeout(3 * PATIENCE, connection).await);
}

type Answer = Response<Full<Bytes>>;

async fn answer(
    request: &Request<Incoming>,
    at: SocketAddr,
    store: &Store,
    tally: &Metrics,
) -> Answer {
    const TEXT: &str = "text/plain; charset=utf-8";
    if !is_meant(request, at) {
        return response(421, TEXT, "ask for this address by its own name\n");
    }
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        let mut refused = response(405, TEXT, "only GET and HEAD\n");
        let allowed = HeaderValue::from_static("GET, HEAD");
        refused.headers_mut().insert(ALLOW, allowed);
        return refused;
    }
    match request.uri().path() {
        "/healthz" => {
            let answers = timeout(DATABASE, store.answers()).await;
            let down = tally.database_down.load(Ordering::Relaxed) > 0;
            match answers {
                Ok(Ok(())) if !down => response(200, TEXT, "ok\n"),
                _ => response(503, TEXT, "the database does not answer\n"),
            }
        }
        "/metrics" => {
            let kind = "text/plain; version=0.0.4; charset=utf-8";
            response(200, kind, &tally.print())
        }
        _ => response(404, TEXT, "here are /healthz and /metrics\n"),
    }
}

/// Whether a request names this machine: a page in a browser can have a name of its own lead here,
/// and must not read what it gets (DNS rebinding). RFC 9110, 7.2.
fn is_meant(request: &Request<Incoming>, at: SocketAddr) -> bool {
    let mut hosts = request.headers().get_all(HOST).iter();
    let host = match (hosts.next(), hosts.next()) {
        (Some(host), None) => host.to_str().unwrap_or_default(),
        // HTTP/1.0 knows no such field, and no browser speaks it.
        (None, None) => return request.version() == Version::HTTP_10,
        _ => return false,
    };
    let named = |name: &str| {
        let rest = host
            .get(..name.len())
            .filter(|start| start.eq_ignore_ascii_case(name))
            .and_then(|_| host.get(name.len()..));
        let port = rest.and_then(|rest| rest.strip_prefix(':'));
        rest == Some("") || port.is_some_and(|port| port.parse() == Ok(at.port()))
    };
    let own = match at.ip() {
        IpAddr::V4(ip) => ip.to_string(),
        IpAddr::V6(ip) => format!("[{ip}]"),
    };
    named("localhost") || named(&own)
}

fn response(status: u16, kind: &'static str, body: &str) -> Answer {
    let mut response = Response::new(Full::from(body.to_owned()));
    *response.status_mut() = StatusCode::from_u16(status).unwrap_or_default();
    let headers = response.headers_mut();
    headers.insert(CONTENT_TYPE, HeaderValue::from_static(kind));
    headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}
