//! A small door for operators, on this machine alone: `/healthz` says whether the database answers,
//! `/metrics` gives the numbers of [`Tally`] as Prometheus reads them. It speaks just enough HTTP/1.1
//! (RFC 9112) for that: one request a connection, its head at most some kilobytes, a deadline on
//! every step, few connections at a time.

use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use anyhow::{Context as _, ensure};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;
use tokio::time::timeout;

use crate::service::tally::Tally;
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
    tally: Arc<Tally>,
}

impl Status {
    /// Opens it at this address, which must be one of this machine's own.
    ///
    /// # Errors
    /// One sentence, when the address is no loopback address or taken.
    pub async fn open(at: &str, store: Store, tally: Arc<Tally>) -> anyhow::Result<Self> {
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

    /// Attends it until dropped.
    pub async fn serve(self) {
        let seats = Arc::new(Semaphore::new(CONNECTIONS));
        loop {
            let Ok(seat) = Arc::clone(&seats).acquire_owned().await else {
                return;
            };
            let stream = match self.listener.accept().await {
                Ok((stream, _)) => stream,
                Err(error) => {
                    tracing::debug!(%error, "a connection for operators failed");
                    tokio::time::sleep(Duration::from_millis(100)).await;
                    continue;
                }
            };
            let (store, tally) = (self.store.clone(), Arc::clone(&self.tally));
            tokio::spawn(async move {
                let _seat = seat;
                // Whoever asked is gone: there is nobody to tell.
                drop(timeout(3 * PATIENCE, attend(stream, &store, &tally)).await);
            });
        }
    }
}

async fn attend(mut stream: TcpStream, store: &Store, tally: &Tally) -> std::io::Result<()> {
    let answer = match timeout(PATIENCE, head(&mut stream)).await {
        Ok(Ok(head)) => answer(&head, store, tally).await,
        Ok(Err(error)) => return Err(error),
        Err(_) => response(408, "text/plain", "the request did not end\n", true),
    };
    stream.write_all(answer.as_bytes()).await?;
    stream.shutdown().await
}

/// The head of a request, up to its empty line; what came of it where it is too long.
async fn head(stream: &mut TcpStream) -> std::io::Result<Vec<u8>> {
    let mut head = Vec::new();
    let mut chunk = [0; 1024];
    while !head.windows(4).any(|end| end == b"\r\n\r\n") && head.len() <= LONGEST_HEAD {
        let read = stream.read(&mut chunk).await?;
        if read == 0 {
            break;
        }
        head.extend_from_slice(chunk.get(..read).unwrap_or_default());
    }
    Ok(head)
}

async fn answer(head: &[u8], store: &Store, tally: &Tally) -> String {
    const TEXT: &str = "text/plain; charset=utf-8";
    if head.len() > LONGEST_HEAD {
        return response(431, TEXT, "the head of the request is too long\n", true);
    }
    let line = head.split(|&byte| byte == b'\r').next().unwrap_or_default();
    let line = String::from_utf8_lossy(line);
    let words: Vec<&str> = line.split(' ').collect();
    let [method, target, version] = words.as_slice() else {
        return response(400, TEXT, "this is no request\n", true);
    };
    if !version.starts_with("HTTP/1.") {
        return response(400, TEXT, "this is no request\n", true);
    }
    let full = match *method {
        "GET" => true,
        "HEAD" => false,
        _ => return response(405, TEXT, "only GET and HEAD\n", true),
    };
    let path = target.split('?').next().unwrap_or_default();
    match path {
        "/healthz" => {
            let answers = timeout(DATABASE, store.answers()).await;
            let down = tally.database_down.load(Ordering::Relaxed) > 0;
            match answers {
                Ok(Ok(())) if !down => response(200, TEXT, "ok\n", full),
                _ => response(503, TEXT, "the database does not answer\n", full),
            }
        }
        "/metrics" => {
            let kind = "text/plain; version=0.0.4; charset=utf-8";
            response(200, kind, &tally.print(), full)
        }
        _ => response(404, TEXT, "here are /healthz and /metrics\n", full),
    }
}

fn response(status: u16, kind: &str, body: &str, full: bool) -> String {
    let reason = match status {
        200 => "OK",
        400 => "Bad Request",
        404 => "Not Found",
        405 => "Method Not Allowed",
        408 => "Request Timeout",
        431 => "Request Header Fields Too Large",
        _ => "Service Unavailable",
    };
    let length = body.len();
    let allow = if status == 405 {
        "Allow: GET, HEAD\r\n"
    } else {
        ""
    };
    let shown = if full { body } else { "" };
    format!(
        "HTTP/1.1 {status} {reason}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\n\
         Cache-Control: no-store\r\n{allow}Connection: close\r\n\r\n{shown}"
    )
}
