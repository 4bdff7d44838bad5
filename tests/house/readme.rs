//! The README's conversation is what a newcomer gets who types it without waiting.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::reply::{Outgoing, Sign};
use chalkbell::bot::text::CAUTION;
use chalkbell::config;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, TimeDelta, Utc};

/// Seconds between two messages.
const PACE_S: i64 = 4;

/// The first block of the README.
fn conversation() -> String {
    let readme = include_str!("../../README.md");
    readme.split("```").nth(1).unwrap().trim().to_owned()
}

fn shown(outgoing: &Outgoing) -> Vec<String> {
    match outgoing {
        Outgoing::Mark(mark) if mark.sign == Sign::Filed => vec!["  (filed)".to_owned()],
        Outgoing::Mark(_) => Vec::new(),
        Outgoing::Reply(reply) | Outgoing::Update(reply) => {
            let lines = reply.text.lines().filter(|line| *line != CAUTION);
            lines.map(|line| format!("  {line}")).collect()
        }
    }
}

#[tokio::test]
async fn the_conversation_at_the_top_took_place() {
    let store = Store::open("sqlite::memory:").await.unwrap();
    let service = Service::new(store, Bot::new(config::built_in()));
    let begun: DateTime<Utc> = "2026-11-23T18:00:00Z".parse().unwrap();
    let block = conversation();
    let mut lines = Vec::new();
    let said = block.lines().filter_map(|line| line.strip_prefix("> "));
    for (n, text) in (0i64..).zip(said) {
        lines.push(format!("> {text}"));
        let event = Event::Message(Message {
            id: n.to_string(),
            team: "club".to_owned(),
            channel: "winter".to_owned(),
            author: "you".to_owned(),
            name: "you".to_owned(),
            coach: false,
            at: begun + TimeDelta::seconds(n * PACE_S),
            text: text.to_owned(),
        });
        let answers = service.one(&event).await.unwrap();
        lines.extend(answers.iter().flat_map(shown));
    }
    assert_eq!(lines.join("\n"), block);
}
