//! The pipe's framing and faults, with a small use case in place of the bot.
#![expect(
    clippy::unwrap_used,
    reason = "a test may fail where it stands, and say why"
)]

use std::collections::BTreeMap;
use std::io;
use std::pin::Pin;
use std::sync::Mutex;
use std::task::{Context, Poll};
use std::time::Duration;

use proptest::prelude::*;
use serde_json::{Value, json};
use tokio::io::{AsyncRead, AsyncReadExt as _, AsyncWriteExt as _, ReadBuf};

use chalkbell::bot::event::Event;
use chalkbell::bot::reply::{Mark, Outgoing, Reply, Sign};
use chalkbell::bot::state::Remembered;
use chalkbell::channel::pipe::{GROUP, LONGEST_LINE, run};
use chalkbell::service::{Service, ServiceError, UseCase};
use chalkbell::store::{Store, StoreError, Tx};

/// Answers a message with its text and marks it. Some texts make it fail.
#[derive(Default)]
struct Echo {
    /// How often each text was worked on.
    worked: Mutex<BTreeMap<String, u32>>,
}

impl UseCase for Echo {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let Event::Message(message) = event else {
            return Ok(Vec::new());
        };
        *self
            .worked
            .lock()
            .unwrap()
            .entry(message.text.clone())
            .or_default() += 1;
        let team = tx.team(&message.team).await?;
        if let Some((_, outcome)) = tx.remembered(&team, &message.id).await? {
            return Ok(outcome);
        }
        let outcome = vec![
            Outgoing::Mark(Mark {
                answers: message.id.clone(),
                team: message.team.clone(),
                sign: Sign::Filed,
            }),
            Outgoing::Reply(Reply {
                id: format!("{}/echo", message.id),
                team: message.team.clone(),
                channel: message.channel.clone(),
                answers: Some(message.id.clone()),
                to: Some(message.author.clone()),
                text: message.text.clone(),
                ..Reply::default()
            }),
        ];
        let remembered = Remembered {
            author: message.author.clone(),
            channel: message.channel.clone(),
            at: message.at,
        };
        tx.remember(&team, &message.id, &remembered, &outcome)
            .await?;
        match message.text.as_str() {
            "panic" => panic!("as asked"),
            "fail" => Err(StoreError::RowCount {
                table: "team",
                expected: 1,
                found: 0,
            })?,
            "conflict once" if self.worked.lock().unwrap()["conflict once"] == 1 => {
                Err(StoreError::Conflict { table: "team" })?
            }
            _ => {}
        }
        Ok(outcome)
    }
}

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap()
}

async fn service() -> Service<Echo> {
    let store = Store::open("sqlite::memory:").await.unwrap();
    Service::new(store, Echo::default())
}

/// What the pipe prints for this input, line by line.
fn printed(input: &[u8]) -> Vec<Value> {
    runtime().block_on(async { printed_by(&service().await, input).await })
}

async fn printed_by(service: &Service<Echo>, input: impl AsyncRead + Unpin) -> Vec<Value> {
    let mut output = Vec::new();
    run(service, input, &mut output).await.unwrap();
    parsed(&output)
}

fn parsed(output: &[u8]) -> Vec<Value> {
    let text = std::str::from_utf8(output).unwrap();
    text.lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn message(id: &str, text: &str) -> String {
    let line = json!({"type": "message", "id": id, "team": "rowers", "channel": "gym",
        "author": "u1", "name": "Ann", "coach": false, "at": "2026-01-12T18:30:00Z", "text": text});
    format!("{line}\n")
}

/// Types in order, with the text or message where there is one.
fn short(printed: &[Value]) -> Vec<String> {
    let short = |value: &Value| {
        let text = value["text"].as_str().or(value["id"].as_str());
        format!(
            "{} {}",
            value["type"].as_str().unwrap(),
            text.unwrap_or("-")
        )
    };
    printed.iter().map(short).collect()
}

fn dones(printed: &[Value]) -> usize {
    printed
        .iter()
        .filter(|value| value["type"] == "done")
        .count()
}

// --- form ----------------------------------------------------------------------------------------

#[test]
fn answers_come_before_done_and_keys_stand_as_the_protocol_has_them() {
    let output = runtime().block_on(async {
        let service = service().await;
        let mut output = Vec::new();
        run(&service, message("m1", "80x10").as_bytes(), &mut output)
            .await
            .unwrap();
        String::from_utf8(output).unwrap()
    });
    let expected = concat!(
        r#"{"type":"mark","answers":"m1","team":"rowers","as":"filed"}"#,
        "\n",
        r#"{"type":"reply","id":"m1/echo","team":"rowers","channel":"gym","answers":"m1","to":"u1","#,
        r#""private":false,"text":"80x10","mentions":[],"buttons":[],"files":[],"advice":null,"#,
        r#""data":null}"#,
        "\n",
        r#"{"type":"done","id":"m1","at":"2026-01-12T18:30:00Z"}"#,
        "\n",
    );
    assert_eq!(output, expected);
}

#[test]
fn done_of_a_press_and_a_clock_has_no_id() {
    let input = concat!(
        r#"{"type":"press","reply":"m1/echo","team":"rowers","author":"u1","button":"go","at":"2026-01-12T18:30:00Z"}"#,
        "\n",
        r#"{"type":"clock","at":"2026-01-12T19:30:00+01:00"}"#,
        "\n",
        r#"{"type":"clock","team":null,"at":"2026-01-12T18:30:00.5Z"}"#,
    );
    let expected = [
        json!({"type": "done", "id": null, "at": "2026-01-12T18:30:00Z"}),
        json!({"type": "done", "id": null, "at": "2026-01-12T18:30:00Z"}),
        json!({"type": "done", "id": null, "at": "2026-01-12T18:30:00.500Z"}),
    ];
    assert_eq!(printed(input.as_bytes()), expected);
}

#[test]
fn done_of_an_edit_and_a_delete_names_the_message() {
    let input = concat!(
        r#"{"type":"edit","id":"m1","team":"rowers","at":"2026-01-12T18:30:00Z","text":"80x9"}"#,
        "\n",
        r#"{"type":"delete","id":"m1","team":"rowers","at":"2026-01-12T18:30:00Z"}"#,
        "\n",
    );
    assert_eq!(short(&printed(input.as_bytes())), ["done m1", "done m1"]);
}

#[test]
fn keys_that_are_not_known_are_no_fault() {
    let line = message("m1", "hi").replace(r#""type""#, r#""extra":{"a":[1]},"type""#);
    assert_eq!(
        short(&printed(line.as_bytes())),
        ["mark -", "reply hi", "done m1"]
    );
}

#[test]
fn blank_lines_carriage_returns_and_a_byte_order_mark_are_no_fault() {
    let input = format!(
        "\u{FEFF}{}\r\n\n  \n{}",
        message("m1", "a").trim_end(),
        message("m2", "b")
    );
    let expected = [
        "mark -", "reply a", "done m1", "mark -", "reply b", "done m2",
    ];
    assert_eq!(short(&printed(input.as_bytes())), expected);
}

#[test]
fn repeated_id_is_answered_as_before() {
    let first = message("m1", "first");
    let again = message("m1", "another text");
    let printed = printed(format!("{first}{again}").as_bytes());
    let (before, after) = printed.split_at(3);
    assert_eq!(before, after);
}

#[test]
fn time_finer_than_a_millisecond_is_cut() {
    let line = message("m1", "hi").replace("18:30:00Z", "18:30:00.123999999Z");
    let done = printed(line.as_bytes()).pop().unwrap();
    assert_eq!(done["at"], "2026-01-12T18:30:00.123Z");
}

// --- faults --------------------------------------------------------------------------------------

#[test]
fn bad_line_gets_one_error_and_done_and_the_pipe_goes_on() {
    let good = message("m1", "hi");
    let with = |key: &str, value: Value| {
        let mut object: Value = serde_json::from_str(&good).unwrap();
        object[key] = value;
        object.to_string().into_bytes()
    };
    let without = |key: &str| {
        let mut object: Value = serde_json::from_str(&good).unwrap();
        object.as_object_mut().unwrap().remove(key);
        object.to_string().into_bytes()
    };
    let at = json!("2026-01-12T18:30:00Z");
    let id = json!("m1");
    let null = Value::Null;
    let cases: [(&str, Vec<u8>, &str, &Value, &Value); 24] = [
        (
            "half an object",
            b"{\"type\":\"message\",\"id\":".to_vec(),
            "ends early; send it whole",
            &null,
            &null,
        ),
        (
            "no JSON",
            b"hello there".to_vec(),
            "is no JSON object",
            &null,
            &null,
        ),
        (
            "a list",
            b"[1,2]".to_vec(),
            "but no object; send one",
            &null,
            &null,
        ),
        (
            "two objects",
            [good.trim_end(), good.trim_end()].concat().into_bytes(),
            "one object a line",
            &null,
            &null,
        ),
        (
            "broken UTF-8",
            b"{\"type\":\"message\",\"id\":\"\xFF\xFE\"}".to_vec(),
            "not UTF-8; send it",
            &null,
            &null,
        ),
        (
            "long line",
            with("text", json!("x".repeat(100_000))),
            "skipped; send shorter lines",
            &null,
            &null,
        ),
        (
            "deep nesting",
            "[".repeat(10_000).into_bytes(),
            "is no JSON object",
            &null,
            &null,
        ),
        (
            "half a surrogate",
            good.replace("hi", "\\ud800").into_bytes(),
            "is no JSON object",
            &null,
            &null,
        ),
        (
            "no type",
            without("type"),
            "`type` is missing; write message, edit",
            &id,
            &at,
        ),
        (
            "unknown type",
            with("type", json!("shout")),
            "`type` is none that is known; write",
            &id,
            &at,
        ),
        (
            "type of a wrong kind",
            with("type", json!(7)),
            "`type` is none that is known; write",
            &id,
            &at,
        ),
        (
            "no id",
            without("id"),
            "`id` is missing; every message has it",
            &null,
            &at,
        ),
        (
            "no text",
            without("text"),
            "`text` is missing; every message has it",
            &id,
            &at,
        ),
        (
            "no time",
            without("at"),
            "`at` is missing; every message has it",
            &id,
            &null,
        ),
        (
            "time without a zone",
            with("at", json!("2026-01-12T18:30:00")),
            "`at` is no time; write it like",
            &id,
            &null,
        ),
        (
            "day that is none",
            with("at", json!("2026-02-30T18:30:00Z")),
            "`at` is no time; write it like",
            &id,
            &null,
        ),
        (
            "number for a time",
            with("at", json!(1_768_219_200)),
            "`at` is no time; write it like",
            &id,
            &null,
        ),
        (
            "number for an id",
            with("id", json!(12)),
            "`id` is no text; put it in quotes",
            &null,
            &at,
        ),
        (
            "text for a flag",
            with("coach", json!("no")),
            "`coach` is neither true nor false",
            &id,
            &at,
        ),
        (
            "no author",
            with("author", null.clone()),
            "`author` is no text; put it in quotes",
            &id,
            &at,
        ),
        (
            "empty team",
            with("team", json!("")),
            "`team` is empty; give it a value",
            &id,
            &at,
        ),
        (
            "endless channel",
            with("channel", json!("c".repeat(256))),
            "longer than 255 bytes; shorten",
            &id,
            &at,
        ),
        (
            "control character",
            with("author", json!("u\u{0}1")),
            "`author` holds a control character",
            &id,
            &at,
        ),
        (
            "key twice",
            good.replace("\"id\"", "\"id\":\"m0\",\"id\"")
                .trim_end()
                .as_bytes()
                .to_vec(),
            "cannot be read",
            &id,
            &at,
        ),
    ];
    for (label, line, remedy, id, at) in cases {
        let input = [
            b"\n",
            line.as_slice(),
            b"\n",
            message("m2", "next").as_bytes(),
        ]
        .concat();
        let printed = printed(&input);
        let error = &printed[0];
        assert_eq!(
            (&error["type"], &error["line"]),
            (&json!("error"), &json!(2)),
            "{label}"
        );
        let said = error["message"].as_str().unwrap();
        assert!(said.contains(remedy), "{label}: {said}");
        assert!(!said.contains('\n') && said.len() < 200, "{label}: {said}");
        assert_eq!(
            printed[1],
            json!({"type": "done", "id": id, "at": at}),
            "{label}"
        );
        assert_eq!(
            short(&printed[2..]),
            ["mark -", "reply next", "done m2"],
            "{label}"
        );
    }
}

#[test]
fn clock_for_a_team_that_is_no_text_is_a_fault() {
    let printed = printed(br#"{"type":"clock","team":5,"at":"2026-01-12T18:30:00Z"}"#);
    assert_eq!(printed[0]["message"], "`team` is no text; put it in quotes");
}

#[test]
fn control_and_direction_characters_in_a_text_are_let_through() {
    let text = "80x10\u{202E}\u{0}\u{7}\u{1F4AA}";
    let printed = printed(message("m1", text).as_bytes());
    assert_eq!(printed[1]["text"], text);
}

// --- faults behind the pipe ----------------------------------------------------------------------

#[test]
fn panic_in_one_event_is_answered_and_takes_no_other_with_it() {
    failing_event_is_alone("panic", "fault in the program");
}

#[test]
fn store_failure_in_one_event_is_answered_and_takes_no_other_with_it() {
    failing_event_is_alone("fail", "send it again later");
}

fn failing_event_is_alone(text: &str, said: &str) {
    runtime().block_on(async {
        let service = service().await;
        let input = [message("m1", "a"), message("m2", text), message("m3", "b")].concat();
        let printed = printed_by(&service, input.as_bytes()).await;
        assert_eq!(short(&printed[..3]), ["mark -", "reply a", "done m1"]);
        assert_eq!(
            (&printed[3]["type"], &printed[3]["line"]),
            (&json!("error"), &json!(2))
        );
        assert!(printed[3]["message"].as_str().unwrap().contains(said));
        assert_eq!(
            short(&printed[4..]),
            ["done m2", "mark -", "reply b", "done m3"]
        );
        // Nothing of it is stored, all of the others is.
        let mut tx = service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        for (id, stored) in [("m1", true), ("m2", false), ("m3", true)] {
            assert_eq!(
                tx.remembered(&team, id).await.unwrap().is_some(),
                stored,
                "{id}"
            );
        }
    });
}

#[test]
fn event_that_another_process_got_in_the_way_of_is_tried_again() {
    let printed = printed(message("m1", "conflict once").as_bytes());
    assert_eq!(
        short(&printed),
        ["mark -", "reply conflict once", "done m1"]
    );
}

// --- time of answers -----------------------------------------------------------------------------

/// A stream that gives the bytes in the given pieces, and then ends.
struct Pieces(Vec<Vec<u8>>);

impl AsyncRead for Pieces {
    fn poll_read(
        mut self: Pin<&mut Self>,
        _: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        while let Some(piece) = self.0.first_mut() {
            let count = piece.len().min(buffer.remaining());
            buffer.put_slice(&piece[..count]);
            piece.drain(..count);
            if piece.is_empty() {
                self.0.remove(0);
            }
            if count > 0 {
                break;
            }
        }
        Poll::Ready(Ok(()))
    }
}

#[test]
fn answer_is_out_while_the_input_is_still_open() {
    runtime().block_on(async {
        let service = service().await;
        let (mut to_pipe, input) = tokio::io::duplex(1024);
        let (output, mut from_pipe) = tokio::io::duplex(64 * 1024);
        let talk = async {
            for id in ["m1", "m2"] {
                to_pipe
                    .write_all(message(id, "hi").as_bytes())
                    .await
                    .unwrap();
                let mut said = Vec::new();
                while !said.ends_with(
                    format!("\"id\":\"{id}\",\"at\":\"2026-01-12T18:30:00Z\"}}\n").as_bytes(),
                ) {
                    let read = from_pipe.read_buf(&mut said);
                    let read = tokio::time::timeout(Duration::from_secs(5), read).await;
                    assert_ne!(read.expect("an answer").unwrap(), 0);
                }
                assert_eq!(dones(&parsed(&said)), 1);
            }
            drop(to_pipe);
        };
        let (ran, ()) = tokio::join!(run(&service, input, output), talk);
        ran.unwrap();
    });
}

#[test]
fn more_lines_than_share_a_commit_are_all_answered_in_order() {
    let count = 3 * GROUP + 5;
    let input: String = (0..count)
        .map(|n| message(&format!("m{n}"), "hi"))
        .collect();
    let printed = printed(input.as_bytes());
    let ids: Vec<&str> = printed
        .iter()
        .filter(|value| value["type"] == "done")
        .map(|value| value["id"].as_str().unwrap())
        .collect();
    let expected: Vec<String> = (0..count).map(|n| format!("m{n}")).collect();
    assert_eq!(ids, expected);
}

#[test]
fn lines_that_share_a_commit_are_worked_on_once() {
    runtime().block_on(async {
        let service = service().await;
        let events = [message("m1", "a"), message("m2", "b")];
        let events = events.map(|line| serde_json::from_str(&line).unwrap());
        let answers = service.handle(&events).await;
        assert!(answers.iter().all(Result::is_ok));
        let tries = service.use_case().worked.lock().unwrap().clone();
        assert_eq!(
            tries,
            BTreeMap::from([("a".to_owned(), 1), ("b".to_owned(), 1)])
        );
    });
}

#[test]
fn output_that_is_closed_ends_the_run_and_keeps_what_was_stored() {
    runtime().block_on(async {
        let service = service().await;
        let (output, other_end) = tokio::io::duplex(64);
        drop(other_end);
        let ran = run(&service, message("m1", "hi").as_bytes(), output).await;
        assert_eq!(ran.unwrap_err().kind(), io::ErrorKind::BrokenPipe);
        let mut tx = service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        assert!(tx.remembered(&team, "m1").await.unwrap().is_some());
    });
}

// --- whatever comes ------------------------------------------------------------------------------

/// Lines of noise, of messages with bytes replaced, and good ones.
fn lines() -> impl Strategy<Value = Vec<Vec<u8>>> {
    let noise = prop::collection::vec(any::<u8>(), 0..200);
    let good = "[a-z]{1,3}".prop_map(|id| message(&id, "hi").trim_end().as_bytes().to_vec());
    let broken = (good.clone(), any::<prop::sample::Index>(), any::<u8>()).prop_map(
        |(mut line, place, byte)| {
            let place = place.index(line.len());
            line[place] = byte;
            line
        },
    );
    let cut = (good.clone(), any::<prop::sample::Index>())
        .prop_map(|(line, place)| line[..place.index(line.len())].to_vec());
    let long = (LONGEST_LINE - 1..2 * LONGEST_LINE).prop_map(|length| vec![b'{'; length]);
    let line = prop_oneof![4 => noise, 4 => good, 4 => broken, 2 => cut, 1 => long];
    prop::collection::vec(line, 0..20)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn every_line_that_is_not_blank_is_done_once_and_errors_name_their_line(lines in lines()) {
        let input = lines.join(&b'\n');
        let printed = printed(&input);
        let blank = |line: &&[u8]| line.trim_ascii().is_empty();
        let all: Vec<&[u8]> = input.split(|&byte| byte == b'\n').collect();
        prop_assert_eq!(dones(&printed), all.iter().filter(|line| !blank(line)).count());
        for error in printed.iter().filter(|value| value["type"] == "error") {
            let number = usize::try_from(error["line"].as_u64().unwrap()).unwrap();
            prop_assert!(!blank(&all[number - 1]));
        }
    }

    #[test]
    fn pieces_in_which_bytes_arrive_make_no_difference(
        lines in lines(),
        sizes in prop::collection::vec(1usize..5000, 1..30),
    ) {
        let input = lines.join(&b'\n');
        let mut rest = input.as_slice();
        let mut pieces = Vec::new();
        for size in sizes {
            let (piece, more) = rest.split_at(size.min(rest.len()));
            pieces.push(piece.to_vec());
            rest = more;
        }
        pieces.push(rest.to_vec());
        pieces.retain(|piece| !piece.is_empty());
        let in_pieces = runtime().block_on(async { printed_by(&service().await, Pieces(pieces)).await });
        prop_assert_eq!(in_pieces, printed(&input));
    }
}
