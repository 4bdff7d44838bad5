//! What gave out before the target muscle: how it is read, and what it does to week and belief.
//!
//! Labelled messages say in `ends` what ended each of their sets: `helpers`, `breath` or null.
//! `tests/data/what_gave_out.jsonl` holds `{"after", "text", "ends"}` of texts without sets behind a
//! set; there `target` says that the set was ended as it should be, `none` that it is left
//! alone.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up must fail")]

use crate::support::gym::Gym;
use chalkbell::bot::event::{Edit, Event, Message};
use chalkbell::bot::reply::{Outgoing, Reply};
use chalkbell::bot::text;
use chalkbell::config;
use chalkbell::domain::coaching::week::WhyNot;
use chalkbell::domain::lifter::model::Lifter;
use chalkbell::domain::log::{LimitingFactor, LoggedSet};
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::domain::quantities::status::TrainingStatus;
use chalkbell::message::reading::EndedBy;
use chalkbell::message::{Context, Reader};
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, TimeDelta, Utc};
use serde::Deserialize;
use serde_json::{Value, json};

const CASES: &str = include_str!("../data/what_gave_out.jsonl");
const CORPORA: [&str; 3] = [
    include_str!("../data/messages.jsonl"),
    include_str!("../data/messages_of_others.jsonl"),
    include_str!("../data/messages_in_prose.jsonl"),
];

#[derive(Deserialize)]
struct Row {
    text: String,
    after: Option<String>,
    ends: Option<Value>,
}

/// What a text reads as to have ended its sets, or the set of the text before it.
fn ends(reader: &Reader, after: Option<&str>, text: &str) -> Value {
    let alone = Context::alone(Unit::Kg);
    let before = after.map(|after| reader.read(after, &alone));
    let last = before.as_ref().map(|read| read.sets.last().unwrap());
    let text = text.replace("\\n", "\n");
    let reading = reader.read(&text, &Context { last, ..alone });
    let word = |what: Option<LimitingFactor>| what.map(LimitingFactor::word);
    match reading.ended_by {
        Some(EndedBy::Target) => json!("target"),
        Some(EndedBy::Other(what)) => json!(what.word()),
        None if after.is_some() => json!("none"),
        None => {
            let sets = reading.sets.iter().map(|set| json!(word(set.gave_out)));
            Value::Array(sets.collect())
        }
    }
}

#[test]
fn what_gave_out_is_read_as_labelled() {
    let reader = Reader::new(config::built_in());
    let lines = CASES.lines().chain(CORPORA[0].lines());
    let rows = lines.map(|line| serde_json::from_str(line).unwrap());
    let wrong = rows.filter_map(|row: Row| {
        let wanted = row.ends?;
        let got = ends(&reader, row.after.as_deref(), &row.text);
        (got != wanted).then(|| format!("{}: want {wanted}, got {got}", row.text))
    });
    let wrong: Vec<_> = wrong.collect();
    assert!(
        wrong.is_empty(),
        "{} wrong:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// Behind a set no labelled message ends anything, nor do the sets of one, but for those that say so. The
/// lifts take turns, since each message is read anew behind its own.
#[test]
fn chat_ends_no_set() {
    let reader = Reader::new(config::built_in());
    let mut found = Vec::new();
    let sets = ["bench 80x8", "row 60x10", "squat 100x8"];
    let lines = CORPORA.iter().flat_map(|corpus| corpus.lines());
    for (line, after) in lines.zip(sets.into_iter().cycle()) {
        let line: Row = serde_json::from_str(line).unwrap();
        if line.ends.is_some() {
            continue;
        }
        if ends(&reader, Some(after), &line.text) != "none" {
            found.push(line.text.clone());
        }
        let sets = ends(&reader, None, &line.text);
        let of_sets = sets.as_array().unwrap().iter().any(|end| !end.is_null());
        if of_sets {
            found.push(format!("{} {sets}", line.text));
        }
    }
    assert_eq!(found, ["grip gave out"]);
}

// In the bot.

/// A lifter's evening, a message every three minutes.
struct Evening {
    service: Service<Bot>,
    now: DateTime<Utc>,
    said: u32,
}

impl Evening {
    async fn new() -> Self {
        let store = Store::open("sqlite::memory:").await.unwrap();
        Self {
            service: Service::new(store, Bot::new(config::built_in())),
            now: "2026-11-23T17:00:00Z".parse().unwrap(),
            said: 0,
        }
    }

    async fn one(&mut self, event: Event) -> Vec<Reply> {
        let out = self.service.one(&event).await.unwrap();
        let replies = out.into_iter().filter_map(|out| match out {
            Outgoing::Reply(reply) | Outgoing::Update(reply) => Some(reply),
            Outgoing::Mark(_) => None,
        });
        replies.collect()
    }

    async fn says(&mut self, text: &str) -> Vec<Reply> {
        self.now += TimeDelta::minutes(3);
        self.said += 1;
        let message = Message {
            id: format!("m{}", self.said),
            team: "rowers".to_owned(),
            channel: "winter".to_owned(),
            author: "ines".to_owned(),
            name: "Ines".to_owned(),
            coach: false,
            at: self.now,
            text: text.to_owned(),
        };
        self.one(Event::Message(message)).await
    }

    async fn edits(&mut self, message: u32, text: &str) {
        let edit = Edit {
            id: format!("m{message}"),
            team: "rowers".to_owned(),
            at: self.now,
            text: text.to_owned(),
        };
        self.one(Event::Edit(edit)).await;
    }

    /// Sets that count this week, and those that do not, with why.
    async fn week(&mut self) -> (u64, Vec<(String, u64)>) {
        let replies = self.says("/week").await;
        let data = replies.into_iter().find_map(|reply| reply.data).unwrap();
        let out = data["not_counted"].as_array().unwrap().iter();
        let out = out.map(|one| {
            (
                one["why"].as_str().unwrap().to_owned(),
                one["n"].as_u64().unwrap(),
            )
        });
        (data["sets"].as_u64().unwrap(), out.collect())
    }
}

fn run(story: impl AsyncFn()) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    runtime.unwrap().block_on(story());
}

fn not_counted(helpers: u64, breath: u64) -> Vec<(String, u64)> {
    let all = [
        (WhyNot::HelpersFirst, helpers),
        (WhyNot::BreathFirst, breath),
    ];
    let some = all.into_iter().filter(|(_, n)| *n > 0);
    some.map(|(why, n)| (text::why_not(why).to_owned(), n))
        .collect()
}

fn text(replies: &[Reply]) -> String {
    let texts: Vec<_> = replies.iter().map(|reply| reply.text.as_str()).collect();
    texts.join("\n")
}

#[test]
fn such_a_set_does_not_count_and_is_told_so() {
    run(async || {
        let mut ines = Evening::new().await;
        ines.says("bench 60x10, 2 left").await;
        let told = text(&ines.says("x9, 1 left, triceps gave out first").await);
        assert!(
            told.contains("Not counted for chest: the helper muscles gave out first."),
            "{told}"
        );
        let told = text(&ines.says("squat 80x12, out of breath").await);
        assert!(
            told.contains("Not counted for quads: breath gave out first."),
            "{told}"
        );
        assert_eq!(ines.week().await, (1, not_counted(1, 1)));
    });
}

#[test]
fn a_word_after_the_set_is_of_that_set_and_can_be_taken_back() {
    run(async || {
        let mut ines = Evening::new().await;
        ines.says("bench 60x10, 2 left").await;
        ines.says("bench 60x9, 1 left").await;
        let told = text(&ines.says("that was all triceps").await);
        assert!(told.contains("Not counted for chest"), "{told}");
        assert_eq!(ines.week().await, (1, not_counted(1, 0)));
        // Said again it changes nothing, and chat about it neither.
        assert!(ines.says("triceps gave out first").await.is_empty());
        assert!(ines.says("tom's triceps gave out first").await.is_empty());
        ines.says("no, chest gave out").await;
        assert_eq!(ines.week().await, (2, not_counted(0, 0)));
        // Without a set of the last hours there is nothing to say it of.
        ines.now += TimeDelta::hours(5);
        assert!(ines.says("that was all triceps").await.is_empty());
    });
}

#[test]
fn an_edit_says_anew_what_gave_out() {
    run(async || {
        let mut ines = Evening::new().await;
        ines.says("bench 60x10, 2 left").await;
        ines.edits(1, "bench 60x10, 2 left, triceps gave out first")
            .await;
        assert_eq!(ines.week().await, (0, not_counted(1, 0)));
        ines.edits(1, "bench 60x10, 2 left").await;
        assert_eq!(ines.week().await, (1, not_counted(0, 0)));
    });
}

#[test]
fn nothing_is_shown_of_a_muscle_that_something_else_stopped_but_that_it_did_as_much() {
    let catalogue = config::built_in();
    let lifter = Lifter {
        catalogue: &catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    };
    let mut gym = Gym::new("bench press");
    for _ in 0..4 {
        gym.set(60.0, 10, Some(2.0), 180);
    }
    let mut set = gym.run.last().unwrap().clone();
    set.at += TimeDelta::minutes(4);
    (set.reps, set.rir) = (4, Some(Rir::FAILURE));
    let bench = set.exercise;
    let strength = |gave_out: Option<LimitingFactor>| {
        let mut model = gym.model.clone();
        let set = LoggedSet {
            gave_out,
            ..set.clone()
        };
        let learned = model.learn(&set, &lifter);
        (
            model.beliefs[&bench].one_rm().0,
            learned.reserve.unwrap().mean,
        )
    };
    let before = gym.model.beliefs[&bench].one_rm().0;
    let (failed, none_left) = strength(None);
    assert!(failed < 0.985 * before, "{before} {failed}");
    for gave_out in LimitingFactor::ALL {
        let (kept, left) = strength(Some(gave_out));
        assert!((kept / before - 1.0).abs() < 0.01, "{before} {kept}");
        assert!(left > none_left + 1.0, "{left} {none_left}");
    }
}
