//! Two teams in one database, with the same people, message ids, exercises and plans' names: what one
//! team hears is, word for word, what it hears where there is no other.
//!
//! That is stronger than to look for the other's words in a reply, which is done, too: each team has
//! words and loads of its own.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may fail where it stands"
)]

use chalkbell::bot::event::{Clock, Delete, Edit, Event, Message, Press};
use chalkbell::bot::reply::Outgoing;
use chalkbell::jobs;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, TimeDelta, Utc};
use proptest::prelude::*;

const TEAMS: [&str; 2] = ["harbour", "canal"];
const AUTHORS: [&str; 3] = ["ines", "bo", "coach"];
/// A word of each team's own, and the fraction that its loads have.
const WORDS: [&str; 2] = ["heronlike", "otterish"];
const FRACTIONS: [&str; 2] = [".37", ".83"];

/// What somebody does; numbers choose among what is there.
#[derive(Clone, Debug)]
enum Action {
    Says(usize),
    Edits(usize, usize),
    Deletes(usize),
    Presses(usize),
    Waits(i64),
}

#[derive(Clone, Debug)]
struct Step {
    team: usize,
    author: usize,
    action: Action,
    kg: u32,
    reps: u32,
}

/// What may be said; `KG` and `REPS` are numbers, `WORD` is the team's own.
const SAYINGS: [&str; 44] = [
    "bench press KGxREPS, 2 left",
    "bench KGxREPS",
    "squat KGxREPS, 1 left",
    "WORD pull KGxREPS, 2 left",
    "xREPS",
    "xREPS, 1 left",
    "same",
    "undo",
    "that was REPS not 8",
    "bench KG",
    "yes",
    "my knee hurts",
    "chest pain and dizzy, WORD",
    "what do I load on bench",
    "KG after 90 s?",
    "ready",
    "not ready, out of breath",
    "/next",
    "/next bench why",
    "/rest",
    "/today",
    "/week",
    "/week bo",
    "/volume chest",
    "/fit 45",
    "/units lb",
    "/rack bar 20",
    "/rack dumbbells 2-40 step 2",
    "/bodyweight KG kg",
    "/experience 3 years",
    "/export",
    "/forget",
    "/team",
    "/attention",
    "/note bo WORD sleeps badly",
    "/note bo",
    "/clear bo",
    "/digest",
    "/catalogue add WORD pull like barbell row target back",
    "/catalogue WORD",
    "/settings",
    "/plan bo WORD\nmon: bench press 4x6-10 2rir; squat 3x5-8",
    "/target bo chest 10-20",
    "/import\nmember,date,exercise,load,reps\nbo,2026-01-05,bench press,KG,REPS",
];

fn step() -> impl Strategy<Value = Step> {
    let action = prop_oneof![
        14 => (0..SAYINGS.len()).prop_map(Action::Says),
        1 => (any::<prop::sample::Index>(), 0..8_usize)
            .prop_map(|(which, text)| Action::Edits(which.index(1 << 16), text)),
        1 => any::<prop::sample::Index>().prop_map(|which| Action::Deletes(which.index(1 << 16))),
        2 => any::<prop::sample::Index>().prop_map(|which| Action::Presses(which.index(1 << 16))),
        2 => (1..4000_i64).prop_map(Action::Waits),
    ];
    (0..2_usize, 0..3_usize, action, 40..90_u32, 5..13_u32).prop_map(
        |(team, author, action, kg, reps)| Step {
            team,
            author,
            action,
            kg,
            reps,
        },
    )
}

/// A team's side of the story: what it has said, and heard.
#[derive(Default)]
struct Side {
    said: usize,
    heard: Vec<Vec<Outgoing>>,
}

fn text(step: &Step, saying: usize) -> String {
    let kg = format!("{}{}", step.kg, FRACTIONS[step.team]);
    SAYINGS[saying]
        .replace("KG", &kg)
        .replace("REPS", &step.reps.to_string())
        .replace("WORD", WORDS[step.team])
}

/// The event of a step; its ids are counted by team, so that both teams have the same.
fn event(step: &Step, side: &mut Side, at: DateTime<Utc>) -> Event {
    let (team, author) = (TEAMS[step.team].to_owned(), AUTHORS[step.author].to_owned());
    let earlier = |which: usize| format!("m{}", which % side.said.max(1));
    match &step.action {
        Action::Says(saying) => {
            let id = format!("m{}", side.said);
            side.said += 1;
            Event::Message(Message {
                id,
                team,
                channel: "gym".to_owned(),
                name: author.clone(),
                coach: author == "coach",
                author,
                at,
                text: text(step, *saying),
            })
        }
        Action::Edits(which, saying) => Event::Edit(Edit {
            id: earlier(*which),
            team,
            at,
            text: text(step, *saying),
        }),
        Action::Deletes(which) => Event::Delete(Delete {
            id: earlier(*which),
            team,
            at,
        }),
        Action::Presses(which) => {
            let buttons: Vec<_> = side
                .heard
                .iter()
                .flatten()
                .filter_map(|one| match one {
                    Outgoing::Reply(reply) | Outgoing::Update(reply) => Some(reply),
                    Outgoing::Mark(_) => None,
                })
                .flat_map(|reply| {
                    reply
                        .buttons
                        .iter()
                        .map(|b| (reply.id.clone(), b.id.clone()))
                })
                .collect();
            let (reply, button) = match buttons.len() {
                0 => ("m0.1".to_owned(), "yes".to_owned()),
                count => buttons[which % count].clone(),
            };
            Event::Press(Press {
                id: None,
                reply,
                team,
                author,
                button,
                at,
            })
        }
        Action::Waits(_) => Event::Clock(Clock {
            team: Some(team),
            at,
        }),
    }
}

/// What each team hears when these steps are taken, one after the other.
async fn heard(steps: &[Step], only: Option<usize>) -> [Vec<Vec<Outgoing>>; 2] {
    let store = Store::open("sqlite::memory:").await.unwrap();
    let service = Service::new(store, Bot::new(chalkbell::config::built_in()));
    let mut sides = [Side::default(), Side::default()];
    let mut at: DateTime<Utc> = "2026-01-12T17:00:00Z".parse().unwrap();
    for step in steps {
        // Time passes for all, also where only one team is there to notice.
        at += match step.action {
            Action::Waits(seconds) => TimeDelta::seconds(seconds),
            _ => TimeDelta::seconds(40),
        };
        if only.is_some_and(|only| only != step.team) {
            continue;
        }
        let side = &mut sides[step.team];
        let event = event(step, side, at);
        let out = jobs::one(&service, &event).await.expect("it is answered");
        for one in &out {
            assert_eq!(team_of(one), TEAMS[step.team], "{one:?}");
        }
        side.heard.push(out);
    }
    sides.map(|side| side.heard)
}

fn team_of(one: &Outgoing) -> &str {
    match one {
        Outgoing::Reply(reply) | Outgoing::Update(reply) => &reply.team,
        Outgoing::Mark(mark) => &mark.team,
    }
}

/// All that was heard, as it goes out to programs.
fn printed(heard: &[Vec<Outgoing>]) -> Vec<String> {
    let print = |out: &Vec<Outgoing>| serde_json::to_string(out).unwrap();
    heard.iter().map(print).collect()
}

/// Whether a number stands in a text by itself, and not as a part of a longer one: digits of what was
/// computed may come out the same by chance.
fn names(text: &str, number: &str) -> bool {
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    text.match_indices(number).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let behind = text[at + number.len()..].chars().next();
        !is_digit(before) && !is_digit(behind)
    })
}

fn check(steps: &[Step]) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap();
    runtime.block_on(async {
        let both = heard(steps, None).await;
        for (team, both) in both.iter().enumerate() {
            let alone = printed(&heard(steps, Some(team)).await[team]);
            let both = printed(both);
            for (place, (alone, both)) in alone.iter().zip(&both).enumerate() {
                assert_eq!(alone, both, "answer {place} to {}", TEAMS[team]);
                let other = 1 - team;
                assert!(!both.contains(WORDS[other]), "{both}");
                assert!(!both.contains(TEAMS[other]), "{both}");
                let loads = (40..90).map(|kg| format!("{kg}{}", FRACTIONS[other]));
                for load in loads {
                    assert!(!names(both, &load), "{load} in {both}");
                }
            }
            assert_eq!(alone.len(), both.len());
        }
    });
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn nothing_of_one_team_is_in_what_the_other_hears(
        steps in prop::collection::vec(step(), 20..90),
    ) {
        check(&steps);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

    /// `cargo test --release --test store walls:: -- --ignored`
    #[test]
    #[ignore = "takes minutes"]
    fn nothing_of_one_team_is_in_what_the_other_hears_over_thousands_of_stories(
        steps in prop::collection::vec(step(), 20..200),
    ) {
        check(&steps);
    }
}
