//! What operators rely on: a database that is not there for a while, the door for how things stand,
//! an end when one is asked for, and a log without what members wrote.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test may fail where it stands, and this one waits and measures"
)]

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{Ipv4Addr, TcpListener};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use chalkbell::bot::event::{Event, Message};
use chalkbell::channel::status::Status;
use chalkbell::config;
use chalkbell::service::{Bot, Service, ServiceError};
use chalkbell::store::{Store, file_url};
use tempfile::TempDir;
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap()
}

fn event(id: &str) -> Event {
    Event::Message(Message {
        id: id.to_owned(),
        team: "rowing club".to_owned(),
        channel: "winter".to_owned(),
        author: "ines".to_owned(),
        name: "Ines".to_owned(),
        coach: false,
        at: "2026-01-12T17:00:00Z".parse().unwrap(),
        text: "bench 60x8, 2 left".to_owned(),
    })
}

async fn service(path: &Path) -> Service<Bot> {
    let store = Store::open(&file_url(path)).await.unwrap();
    Service::new(store, Bot::new(config::built_in()))
}

#[test]
fn event_waits_for_a_database_that_cannot_be_written_and_is_filed_once() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("club.db");
        let waiting = service(&path).await.patient();
        let other = Store::open(&file_url(&path)).await.unwrap();
        // Longer than a locked file is waited for.
        let mut holds = other.begin().await.unwrap();
        // It takes the file with its first statement.
        holds.team("cyclists").await.unwrap();
        let asked = Instant::now();
        let frees = async {
            tokio::time::sleep(Duration::from_secs(7)).await;
            holds.rollback().await.unwrap();
        };
        let first = event("m1");
        let (answer, ()) = tokio::join!(waiting.one(&first), frees);
        assert!(!answer.unwrap().is_empty());
        assert!(asked.elapsed() >= Duration::from_secs(7));
        let numbers = waiting.metrics().print();
        for line in [
            "chalkbell_events_total 1",
            "chalkbell_filings_total 1",
            "chalkbell_database_up 1",
            "chalkbell_queued_events 0",
            "chalkbell_advice_seconds_count 1",
            "chalkbell_database_seconds_count 1",
            // All of it was waiting: seven seconds, and a moment of calculation.
            "chalkbell_advice_seconds_bucket{le=\"1\"} 1",
        ] {
            assert!(numbers.lines().any(|one| one == line), "{line}: {numbers}");
        }
        assert!(
            !numbers.contains("chalkbell_database_waits_total 0"),
            "{numbers}"
        );
        // Who does not wait is told, and nothing is half there.
        let hasty = service(&path).await;
        let mut holds = other.begin().await.unwrap();
        // It takes the file with its first statement.
        holds.team("cyclists").await.unwrap();
        let refused = hasty.one(&event("m2")).await;
        assert!(matches!(&refused, Err(ServiceError::Store(error)) if error.is_outage()));
        holds.rollback().await.unwrap();
        assert!(!hasty.one(&event("m2")).await.unwrap().is_empty());
    });
}

async fn ask(status: std::net::SocketAddr, request: &[u8]) -> String {
    let mut stream = tokio::net::TcpStream::connect(status).await.unwrap();
    stream.write_all(request).await.unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).await.unwrap();
    answer
}

#[test]
fn door_tells_how_things_stand_and_takes_no_nonsense() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let service = service(&folder.path().join("club.db")).await;
        service.one(&event("m1")).await.unwrap();
        let (store, tally) = (service.store().clone(), service.metrics().clone());
        let far = Status::open("0.0.0.0:0", store.clone(), tally.clone()).await;
        assert!(far.unwrap_err().to_string().contains("others could reach"));
        let door = Status::open("127.0.0.1:0", store, tally).await.unwrap();
        let at = door.address().unwrap();
        let attended = tokio::spawn(door.serve());
        for (request, says) in [
            (
                &b"GET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n"[..],
                "HTTP/1.1 200 OK\r\n",
            ),
            (
                b"GET /metrics HTTP/1.0\r\n\r\n",
                "chalkbell_events_total 1\n",
            ),
            (
                b"HEAD /metrics HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n",
                "connection: close\r\n",
            ),
            (
                b"GET /else HTTP/1.1\r\nHost: LOCALHOST\r\n\r\n",
                "HTTP/1.1 404 ",
            ),
            (
                b"POST /metrics HTTP/1.1\r\nHost: localhost\r\n\r\n",
                "allow: GET, HEAD\r\n",
            ),
            (b"\x00\xff\r\n\r\n", "HTTP/1.1 400 "),
        ] {
            let answer = ask(at, request).await;
            assert!(answer.contains(says), "{answer}");
        }
        let mut long = b"GET / HTTP/1.1\r\n".to_vec();
        long.resize(20_000, b'x');
        // It may be cut off before all of it is sent.
        let mut stream = tokio::net::TcpStream::connect(at).await.unwrap();
        let _ = stream.write_all(&long).await;
        attended.abort();
    });
}

/// RFC 9110, 7.2 and 7.4: a request for another host is misdirected.
#[test]
fn page_answers_requests_for_this_machine_alone() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let service = service(&folder.path().join("club.db")).await;
        let (store, tally) = (service.store().clone(), service.metrics().clone());
        let page = Status::open("127.0.0.1:0", store, tally).await.unwrap();
        let at = page.address().unwrap();
        let attended = tokio::spawn(page.serve());
        let port = at.port();
        for (host, status) in [
            (format!("127.0.0.1:{port}"), 200),
            (format!("localhost:{port}"), 200),
            ("elsewhere.example".to_owned(), 421),
            (format!("127.0.0.1.elsewhere.example:{port}"), 421),
            (format!("localhost:{}", port ^ 1), 421),
            (format!("localhost:{port}\r\nHost: elsewhere.example"), 421),
        ] {
            for path in ["/metrics", "/healthz"] {
                let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n\r\n");
                let answer = ask(at, request.as_bytes()).await;
                let expected = format!("HTTP/1.1 {status} ");
                assert!(answer.starts_with(&expected), "{host}: {answer}");
            }
        }
        let without = ask(at, b"GET /metrics HTTP/1.1\r\n\r\n").await;
        assert!(without.starts_with("HTTP/1.1 421 "), "{without}");
        attended.abort();
    });
}

#[test]
fn idle_connections_keep_nobody_out() {
    runtime().block_on(async {
        let folder = TempDir::new().unwrap();
        let service = service(&folder.path().join("club.db")).await;
        let (store, tally) = (service.store().clone(), service.metrics().clone());
        let page = Status::open("127.0.0.1:0", store, tally).await.unwrap();
        let at = page.address().unwrap();
        let attended = tokio::spawn(page.serve());
        let mut idle = Vec::new();
        for _ in 0..100 {
            idle.push(tokio::net::TcpStream::connect(at).await.unwrap());
        }
        let asking = ask(at, b"GET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n");
        let answer = tokio::time::timeout(Duration::from_secs(3), asking).await;
        assert!(answer.unwrap().starts_with("HTTP/1.1 200 "));
        attended.abort();
    });
}

fn pipe(folder: &Path, port: u16) -> Child {
    Command::new(env!("CARGO_BIN_EXE_chalkbell"))
        .args(["pipe", "--database"])
        .arg(format!("sqlite:{}", folder.join("club.db").display()))
        .env_remove("DATABASE_URL")
        .env("CHALKBELL_LOG", "trace")
        .env("CHALKBELL_LOG_FORMAT", "json")
        .env("CHALKBELL_STATUS", format!("127.0.0.1:{port}"))
        .env("CHALKBELL_FILES", folder.join("files"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

#[test]
fn program_ends_when_asked_and_logs_nothing_that_members_wrote() {
    let folder = TempDir::new().unwrap();
    let free = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
    let port = free.local_addr().unwrap().port();
    drop(free);
    let mut program = pipe(folder.path(), port);
    let mut input = program.stdin.take().unwrap();
    let mut output = BufReader::new(program.stdout.take().unwrap());
    for (id, text) in [
        ("m1", "bench 61.25x8, my secret knee"),
        ("m2", "gossip about the regatta"),
        ("m3", "/note ines looks overtrained"),
        ("m4", "/export"),
    ] {
        writeln!(
            input,
            r#"{{"type":"message","id":"{id}","team":"t","channel":"c","author":"a7","name":"Ines","coach":true,"at":"2026-01-12T17:00:00Z","text":"{text}"}}"#
        )
        .unwrap();
        let mut line = String::new();
        while !line.contains(r#""type":"done""#) {
            line.clear();
            assert!(output.read_line(&mut line).unwrap() > 0, "it ended");
        }
    }
    let asked = Instant::now();
    let kill = Command::new("kill")
        .args(["-TERM", &program.id().to_string()])
        .status();
    assert!(kill.unwrap().success());
    assert!(program.wait().unwrap().success());
    assert!(asked.elapsed() < Duration::from_secs(10));
    let mut log = String::new();
    program
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut log)
        .unwrap();
    for line in log.lines() {
        let object: serde_json::Value = serde_json::from_str(line).expect("a JSON object");
        assert!(object["level"].is_string(), "{line}");
    }
    for word in ["61.25", "secret", "regatta", "overtrained", "Ines", "a7"] {
        assert!(!log.contains(word), "{word} is in the log");
    }
}
