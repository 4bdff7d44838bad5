//! Reading a message against decoding the chat event that carries it, in one run:
//! `cargo bench --bench reader`.
//!
//! The event is invented in the shape of a public chat platform's message object, 1.2 KB with a
//! short text. Reading has to cost less than decoding it.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]
#![allow(
    missing_docs,
    reason = "a benchmark has no readers of its documentation"
)]

use std::hint::black_box;

use chalkbell::config;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::{Context, Reader};
use serde::Deserialize;

/// Messages of every kind, in the proportion that a training channel has them.
const MESSAGES: &[&str] = &[
    "bench 80x10, 2 left",
    "squat 102.5 x 6 @8, rest 3 min",
    "lat pulldown 60x12, 11, 9 rir 2,1,0",
    "rdl 3x10 @ 90",
    "db row 34x12 each side r1",
    "pull-ups bw+7.5 x 6 rpe 9",
    "leg press 180x12, 11; lying leg curl 40x12, 10; seated calf raise 50x18",
    "squat\nwarm up:\n40x8\n80x5\nwork:\n110x7 r2\n110x6 r1",
    "yesterday: front squat 70x9, 8, 8",
    "bench 82.5x7, 0 left, drop?",
    "inclien bench 60x10 2 in reserve",
    "what do I load on squat today?",
    "how many sets have I got for quads this week",
    "how long do I rest",
    "ready",
    "breathing fine again, quads not there yet",
    "sharp pain in my left shoulder",
    "that was 9 not 8",
    "see you at the boathouse at 10",
    "who is in for 8x500 on the water on thursday?",
    "target for friday: bench 90x8",
    "got two 20 kg plates for sale, 30 each, pick up after training",
    "Haha nice one, the new music in the gym is so much better than before",
    "anyone seen my blue bottle? left it by the rack yesterday evening I think",
];

#[derive(Deserialize)]
struct Event<'a> {
    #[serde(borrow)]
    id: &'a str,
    channel_id: &'a str,
    guild_id: &'a str,
    content: std::borrow::Cow<'a, str>,
    timestamp: &'a str,
    author: Author<'a>,
    member: Member<'a>,
    mentions: Vec<Author<'a>>,
    r#type: u8,
    pinned: bool,
}

#[derive(Deserialize)]
struct Author<'a> {
    id: &'a str,
    username: std::borrow::Cow<'a, str>,
    #[serde(default)]
    bot: bool,
}

#[derive(Deserialize)]
struct Member<'a> {
    #[serde(borrow)]
    roles: Vec<&'a str>,
    joined_at: &'a str,
}

fn event(text: &str) -> String {
    let content = serde_json::to_string(text).unwrap();
    format!(
        r#"{{"id":"1180000000000000001","channel_id":"1180000000000000002","guild_id":"1180000000000000003","type":0,"content":{content},"timestamp":"2026-01-15T18:04:21.531000+00:00","edited_timestamp":null,"tts":false,"mention_everyone":false,"pinned":false,"flags":0,"nonce":"1180000000000000004","webhook_id":null,"mentions":[{{"id":"1180000000000000005","username":"stroke_seat","global_name":"Stroke Seat","avatar":"a1b2c3d4e5f60718293a4b5c6d7e8f90","discriminator":"0","public_flags":0,"bot":false}}],"mention_roles":["1180000000000000006","1180000000000000007"],"attachments":[],"embeds":[],"components":[],"reactions":[],"sticker_items":[],"author":{{"id":"1180000000000000008","username":"bow_side","global_name":"Bow Side","avatar":"0f1e2d3c4b5a69788796a5b4c3d2e1f0","discriminator":"0","public_flags":64,"avatar_decoration_data":null,"bot":false}},"member":{{"roles":["1180000000000000009","1180000000000000010","1180000000000000011"],"nick":"bow","avatar":null,"joined_at":"2025-10-01T07:30:00.000000+00:00","premium_since":null,"deaf":false,"mute":false,"pending":false,"communication_disabled_until":null,"flags":0}},"message_reference":null,"thread":null,"position":0,"interaction_metadata":null}}"#
    )
}

fn main() {
    divan::main();
}

fn events() -> Vec<String> {
    MESSAGES.iter().map(|text| event(text)).collect()
}

#[divan::bench]
fn read(bencher: divan::Bencher) {
    let reader = Reader::new(config::built_in());
    let context = Context::alone(Unit::Kg);
    bencher.bench_local(|| {
        for text in MESSAGES {
            black_box(reader.read(black_box(text), &context));
        }
    });
}

/// A set of an exercise that nobody knows.
#[divan::bench]
fn read_unknown_name(bencher: divan::Bencher) {
    let reader = Reader::new(config::built_in());
    let context = Context::alone(Unit::Kg);
    bencher
        .bench_local(|| black_box(reader.read(black_box("zenko twister 40x8, 2 left"), &context)));
}

#[divan::bench]
fn decode_to_value(bencher: divan::Bencher) {
    let events = events();
    bencher.bench_local(|| {
        for event in &events {
            black_box(serde_json::from_str::<serde_json::Value>(black_box(event)).unwrap());
        }
    });
}

#[divan::bench]
fn decode_to_struct(bencher: divan::Bencher) {
    let events = events();
    bencher.bench_local(|| {
        for event in &events {
            let event: Event<'_> = serde_json::from_str(black_box(event)).unwrap();
            black_box((
                event.id,
                event.channel_id,
                event.guild_id,
                event.content.len(),
            ));
            black_box((
                event.timestamp,
                event.author.id,
                event.author.username.len(),
            ));
            black_box((
                event.author.bot,
                event.member.roles.len(),
                event.member.joined_at,
            ));
            black_box((event.mentions.len(), event.r#type, event.pinned));
        }
    });
}

#[divan::bench(args = MESSAGES)]
fn read_one(bencher: divan::Bencher, text: &str) {
    let reader = Reader::new(config::built_in());
    let context = Context::alone(Unit::Kg);
    bencher.bench_local(|| black_box(reader.read(black_box(text), &context)));
}

#[divan::bench]
fn build_the_reader() -> Reader {
    Reader::new(config::built_in())
}
