//! Clocks that are wrong: times that no clock should say, and clocks that jump ahead and come back.
#![expect(
    clippy::unwrap_used,
    reason = "a test may fail where it stands, and say why"
)]

use chalkbell::bot::event::{Clock, Event, Message};
use chalkbell::bot::reply::{Outgoing, Reply};
use chalkbell::channel::pipe;
use chalkbell::jobs;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, TimeDelta, Utc};
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::support;
use crate::support::engines::{Place, on_every_engine, runtime};

fn bot() -> Bot {
    Bot::new(chalkbell::config::built_in())
}

/// What the pipe prints for these lines.
async fn printed(lines: &[Value]) -> Vec<Value> {
    let store = Store::open("sqlite::memory:").await.unwrap();
    let service = Service::new(store, bot());
    let input = lines.iter().map(|line| format!("{line}\n"));
    let input = input.collect::<String>();
    let mut output = Vec::new();
    let ran = pipe::run(&service, input.as_bytes(), &mut output).await;
    ran.unwrap();
    let text = String::from_utf8(output).unwrap();
    text.lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn lines_at(at: &str) -> Vec<Value> {
    vec![
        json!({"type": "message", "id": "a", "team": "rowers", "channel": "gym", "author": "ann",
               "name": "Ann", "coach": true, "at": at, "text": "bench 80x10, 2 left"}),
        json!({"type": "message", "id": "b", "team": "rowers", "channel": "gym", "author": "ann",
               "name": "Ann", "coach": true, "at": at, "text": "/week"}),
        json!({"type": "message", "id": "c", "team": "rowers", "channel": "gym", "author": "ann",
               "name": "Ann", "coach": true, "at": at, "text": "/attention"}),
        json!({"type": "edit", "id": "a", "team": "rowers", "at": at, "text": "bench 80x9"}),
        json!({"type": "press", "reply": "a.1", "team": "rowers", "author": "ann",
               "button": "undo", "at": at}),
        json!({"type": "delete", "id": "a", "team": "rowers", "at": at}),
        json!({"type": "clock", "at": at}),
        json!({"type": "clock", "team": "rowers", "at": at}),
    ]
}

#[test]
fn years_that_no_clock_says_are_refused_and_the_pipe_goes_on() {
    runtime().block_on(async {
        for at in [
            "+262142-12-31T23:59:59Z",
            "-262142-01-01T00:00:00Z",
            "+10000-01-01T00:00:00Z",
            "1969-12-31T23:59:59Z",
            "0000-01-01T00:00:00Z",
        ] {
            let mut lines = lines_at(at);
            lines.extend(lines_at("2026-11-23T17:00:00Z"));
            let out = printed(&lines).await;
            let of = |kind| out.iter().filter(move |line| line["type"] == kind);
            assert_eq!(of("done").count(), 16, "{at}");
            let errors: Vec<&Value> = of("error").collect();
            assert_eq!(errors.len(), 8, "{at}: {errors:?}");
            for error in errors {
                let said = error["message"].as_str().unwrap();
                assert!(said.contains("1970") && said.contains("9999"), "{said}");
            }
        }
    });
}

#[test]
fn the_first_and_the_last_year_that_are_let_in_are_worked_on() {
    runtime().block_on(async {
        for at in ["1970-01-01T00:00:00Z", "9999-12-31T23:59:59.999Z"] {
            let mut lines = lines_at(at);
            // And a time in between, before and after.
            let noon = lines_at("2026-11-23T17:00:00Z");
            lines.extend(noon.iter().cloned());
            lines.extend(lines_at(at));
            let out = printed(&lines).await;
            let errors: Vec<&Value> = out.iter().filter(|line| line["type"] == "error").collect();
            assert!(errors.is_empty(), "{errors:?}");
            assert_eq!(out.iter().filter(|line| line["type"] == "done").count(), 24);
        }
    });
}

fn any_time() -> impl Strategy<Value = DateTime<Utc>> {
    let whole = DateTime::<Utc>::MIN_UTC.timestamp()..=DateTime::<Utc>::MAX_UTC.timestamp();
    let let_in = 0..=253_402_300_799_i64;
    prop_oneof![whole, let_in].prop_map(|second| DateTime::from_timestamp(second, 0).unwrap())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn no_time_makes_anything_panic(times in proptest::collection::vec(any_time(), 1..4)) {
        let lines: Vec<Value> = times
            .iter()
            .enumerate()
            .flat_map(|(n, at)| {
                let mut lines = lines_at(&at.to_rfc3339());
                for line in &mut lines {
                    if let Some(id) = line["id"].as_str().map(str::to_owned) {
                        line["id"] = json!(format!("{id}{n}"));
                    }
                }
                lines
            })
            .collect();
        let out = runtime().block_on(printed(&lines));
        let dones = out.iter().filter(|line| line["type"] == "done").count();
        prop_assert_eq!(dones, lines.len());
        for line in &out {
            let said = line["message"].as_str().unwrap_or_default();
            prop_assert!(!said.contains("a fault in the program"), "{}", said);
        }
    }
}

/// One team with a coach, and a clock that goes where it is set.
struct Gym {
    service: Service<Bot>,
    count: u32,
}

fn at(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

impl Gym {
    async fn open(place: &Place) -> Self {
        Self {
            service: Service::new(place.open().await, bot()),
            count: 0,
        }
    }

    async fn says(&mut self, when: &str, text: &str) -> Vec<Outgoing> {
        self.count += 1;
        let message = Event::Message(Message {
            id: format!("m{}", self.count),
            team: "rowers".to_owned(),
            channel: "gym".to_owned(),
            author: "ann".to_owned(),
            name: "Ann".to_owned(),
            coach: true,
            at: at(when),
            text: text.to_owned(),
        });
        jobs::one(&self.service, &message).await.unwrap()
    }

    async fn clock(&self, now: DateTime<Utc>) -> Vec<Outgoing> {
        let clock = Event::Clock(Clock {
            team: None,
            at: now,
        });
        jobs::one(&self.service, &clock).await.unwrap()
    }

    async fn clocks(&self, when: &str) -> Vec<Outgoing> {
        self.clock(at(when)).await
    }
}

/// The digests for all among these, by id.
fn digests(out: &[Outgoing]) -> Vec<&str> {
    let mut found = Vec::new();
    for one in out {
        if let Outgoing::Reply(reply) = one
            && reply.id.starts_with("digest.")
            && reply.to.is_none()
        {
            found.push(reply.id.as_str());
        }
    }
    found
}

fn bells(out: &[Outgoing]) -> Vec<&Reply> {
    let mut found = Vec::new();
    for one in out {
        if let Outgoing::Reply(reply) = one
            && !reply.mentions.is_empty()
        {
            found.push(reply);
        }
    }
    found
}

const MONDAY: &str = "2026-11-23T17:00:00Z";
const SUNDAY: &str = "2026-11-29T18:00:00Z";

#[test]
fn a_clock_that_was_ahead_for_a_while_silences_no_digest() {
    on_every_engine(async |place| {
        for ahead in [
            "2026-11-25T12:00:00Z",
            "2026-11-30T19:00:00Z",
            "2026-12-02T12:00:00Z",
            "2026-12-07T12:00:00Z",
            "2031-05-01T12:00:00Z",
            "9999-12-31T23:59:00Z",
        ] {
            println!("ahead {ahead}");
            let place = Place {
                url: fresh(place).await,
                ..*place
            };
            let mut gym = Gym::open(&place).await;
            gym.says(MONDAY, "bench 80x10, 2 left").await;
            assert!(digests(&gym.clocks("2026-11-24T10:00:00Z").await).is_empty());
            // What is missed by then is told to the coach, or nothing is.
            let missed = gym.clocks(ahead).await;
            assert!(digests(&missed).is_empty(), "{missed:?}");
            assert!(digests(&gym.clocks("2026-11-24T10:05:00Z").await).is_empty());
            gym.says("2026-11-24T17:00:00Z", "bench 80x9, 2 left").await;
            assert!(digests(&gym.clocks("2026-11-29T17:59:59Z").await).is_empty());
            let out = gym.clocks(SUNDAY).await;
            assert_eq!(digests(&out), ["digest.2026-W48.1"], "after {ahead}");
            assert!(digests(&gym.clocks("2026-11-29T18:00:01Z").await).is_empty());
            gym.says("2026-12-01T17:00:00Z", "bench 80x9, 2 left").await;
            let out = gym.clocks("2026-12-06T18:00:00Z").await;
            assert_eq!(digests(&out), ["digest.2026-W49.1"], "after {ahead}");
        }
    });
}

/// A database of the same engine for one more story.
async fn fresh(place: &Place) -> String {
    if place.label == "postgres" {
        let store = place.open().await;
        store.close().await;
        let database = support::postgres::Database::new().await.unwrap();
        let url = database.url();
        // It goes with its server.
        std::mem::forget(database);
        return url;
    }
    "sqlite::memory:".to_owned()
}

#[test]
fn a_digest_that_was_posted_before_the_clock_went_ahead_is_not_posted_again() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says(MONDAY, "bench 80x10, 2 left").await;
        let out = gym.clocks(SUNDAY).await;
        assert_eq!(digests(&out), ["digest.2026-W48.1"]);
        gym.clocks("2031-05-01T12:00:00Z").await;
        for minutes in [1, 2, 60, 24 * 60 - 1] {
            let out = gym.clock(at(SUNDAY) + TimeDelta::minutes(minutes)).await;
            assert!(digests(&out).is_empty(), "{out:?}");
        }
        gym.says("2026-12-01T17:00:00Z", "bench 80x9, 2 left").await;
        let out = gym.clocks("2026-12-06T18:00:05Z").await;
        assert_eq!(digests(&out), ["digest.2026-W49.1"]);
    });
}

#[test]
fn a_first_message_that_is_dated_far_ahead_silences_no_digest() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("9999-12-31T23:59:00Z", "hello").await;
        gym.says(MONDAY, "bench 80x10, 2 left").await;
        // Nobody's clock was looked at before the hour had come.
        let out = gym.clocks("2026-11-29T18:00:30Z").await;
        assert_eq!(digests(&out), ["digest.2026-W48.1"]);
        assert!(digests(&gym.clocks("2026-11-29T18:01:00Z").await).is_empty());
    });
}

#[test]
fn after_a_clock_was_ahead_bells_ring_at_their_time() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("2031-05-01T12:00:00Z", "bench 80x10, 2 left")
            .await;
        gym.clocks("2031-05-01T12:00:01Z").await;
        assert!(bells(&gym.clocks("2026-11-23T16:59:00Z").await).is_empty());
        let out = gym.says(MONDAY, "bench 80x10, 2 left").await;
        let rest = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.advice.clone(),
            Outgoing::Mark(_) => None,
        });
        let rest = TimeDelta::seconds(i64::from(rest.unwrap().rest_s));
        let out = gym.clock(at(MONDAY) + rest - TimeDelta::seconds(1)).await;
        assert!(bells(&out).is_empty());
        assert_eq!(bells(&gym.clock(at(MONDAY) + rest).await).len(), 1);
    });
}

#[test]
fn a_bell_set_by_a_clock_that_was_ahead_rings_when_its_rest_is_over() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says(MONDAY, "bench 80x10, 2 left").await;
        // An hour ahead; right again half a minute later.
        let out = gym.says("2026-11-23T18:03:00Z", "bench 80x9, 2 left").await;
        let rest = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.advice.clone(),
            Outgoing::Mark(_) => None,
        });
        let rest = TimeDelta::seconds(i64::from(rest.unwrap().rest_s));
        let back = at("2026-11-23T17:03:30Z");
        assert!(bells(&gym.clock(back).await).is_empty());
        let out = gym.clock(back + rest).await;
        assert_eq!(bells(&out).len(), 1, "{out:?}");
        assert!(bells(&gym.clock(back + rest * 2).await).is_empty());
        assert!(bells(&gym.clocks("2026-11-23T18:06:00Z").await).is_empty());
    });
}

#[test]
fn settings_show_when_the_next_digest_is_due() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        let text = |out: &[Outgoing]| match out {
            [Outgoing::Reply(reply)] => reply.text.clone(),
            other => panic!("{other:?}"),
        };
        let shown = text(&gym.says(MONDAY, "/settings").await);
        assert!(
            shown.contains("next on Sunday 29 November, 18:00"),
            "{shown}"
        );
        let shown = text(&gym.says(MONDAY, "/settings digest sat 9:30").await);
        assert!(
            shown.contains("next on Saturday 28 November, 09:30"),
            "{shown}"
        );
        let shown = text(&gym.says(MONDAY, "/settings digest off").await);
        assert!(!shown.contains("next on"), "{shown}");
        gym.says(MONDAY, "/settings digest on").await;
        gym.says(MONDAY, "bench 80x10, 2 left").await;
        gym.clocks("2026-11-28T09:30:00Z").await;
        let shown = text(&gym.says("2026-11-28T10:00:00Z", "/settings").await);
        assert!(
            shown.contains("next on Saturday 5 December, 09:30"),
            "{shown}"
        );
    });
}
