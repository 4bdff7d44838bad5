//! Whatever is posted, edited, deleted, corrected or backdated, and in whatever order: the stored
//! beliefs, and the judgements stored with the sets, are, bit for bit, what the stored log teaches when it is learned anew.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use chalkbell::bot::event::{Delete, Edit, Event, Message};
use chalkbell::bot::state::LogEntry;
use chalkbell::config;
use chalkbell::domain::lifter::model::{Lifter, Model};
use chalkbell::domain::lifter::ramp::on_the_way_up;
use chalkbell::domain::quantities::mass::Mass;
use chalkbell::domain::quantities::status::TrainingStatus;
use chalkbell::service::{self, Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, Duration, Utc};
use proptest::prelude::*;

const TEAM: &str = "rowing club";

/// One thing a lifter does, minutes after the last.
#[derive(Clone, Debug)]
enum Action {
    Post(&'static str),
    /// Of the message that many back.
    Edit(usize, &'static str),
    Delete(usize),
}

const POSTS: &[&str] = &[
    "bench 60x10, 2 left",
    "bench 60x9",
    "x8, 1 left",
    "x7 f",
    "down to 50, 11",
    "squat 80x8, 2 left",
    "bench wu 20x12, 40x8",
    "bench 60x10, 9, 8",
    "pull-ups 8, 2 left",
    "pull-ups +10 x 6",
    "lat pd 50x12 @8",
    "yesterday: bench 57.5x10, 1 left",
    "3 days ago: squat 77.5x8, 8",
    "undo",
    "that was 9 not 8",
    "make it 62.5",
    "leg ext drop set 65x12, 50x10",
    "/bodyweight 80 kg",
    "/experience 1 years",
    "bench 60x9 1 left, triceps gave out first",
    "squat 80x9, out of breath",
    "that was all triceps",
    "grip gave out",
    "chest gave out first",
    "still blowing",
    "ready",
    "nice one!",
];

fn actions() -> impl Strategy<Value = Vec<(u16, Action)>> {
    let post = prop::sample::select(POSTS);
    let action = prop_oneof![
        6 => post.clone().prop_map(Action::Post),
        2 => (0usize..9, post).prop_map(|(back, text)| Action::Edit(back, text)),
        1 => (0usize..9).prop_map(Action::Delete),
    ];
    // Now and then a gap of a day, now and then a message that arrives late.
    let minutes = prop_oneof![8 => 1u16..6, 2 => 600u16..2000, 1 => Just(0)];
    prop::collection::vec((minutes, action), 1..24)
}

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().expect("a time")
}

fn message(id: usize, at: DateTime<Utc>, text: &str) -> Event {
    Event::Message(Message {
        id: format!("m{id}"),
        team: TEAM.to_owned(),
        channel: "winter".to_owned(),
        author: "ines".to_owned(),
        name: "Ines".to_owned(),
        coach: false,
        at,
        text: text.to_owned(),
    })
}

fn event(number: usize, at: DateTime<Utc>, action: &Action) -> Event {
    let team = TEAM.to_owned();
    let earlier = |back: &usize| format!("m{}", number.saturating_sub(1 + back));
    match action {
        Action::Post(text) => message(number, at, text),
        Action::Edit(back, text) => Event::Edit(Edit {
            id: earlier(back),
            team,
            at,
            text: (*text).to_owned(),
        }),
        Action::Delete(back) => Event::Delete(Delete {
            id: earlier(back),
            team,
            at,
        }),
    }
}

/// How much was left in a set, where the later ones of its day and exercise show that it was on the way up.
fn left_on_the_way_up(log: &[LogEntry], place: usize, lifter: &Lifter<'_>) -> Option<f64> {
    let own = &log[place].set;
    let exercise = lifter.catalogue.exercise(own.exercise);
    let of_run = |filed: &&LogEntry| (filed.set.exercise, filed.set.day) == (own.exercise, own.day);
    let run: Vec<&LogEntry> = log.iter().filter(of_run).collect();
    let moved = |filed: &&LogEntry| filed.set.load.moved(exercise, lifter.body_mass).in_kg();
    let ways = on_the_way_up(run.iter().map(|filed| (&filed.set, moved(filed))));
    let at = run.iter().position(|filed| filed.set.id == own.id)?;
    ways[at]
}

async fn check(actions: &[(u16, Action)]) {
    let store = Store::open("sqlite::memory:").await.expect("a store");
    let service = Service::new(store, Bot::new(config::built_in()));
    let mut at = start();
    for (number, (minutes, action)) in actions.iter().enumerate() {
        at += Duration::minutes(i64::from(*minutes));
        // A message that arrives late was written before the last one.
        let written = if *minutes == 0 {
            at - Duration::minutes(7)
        } else {
            at
        };
        service
            .one(&event(number, written, action))
            .await
            .expect("carried out");
    }
    let catalogue = config::built_in();
    let mut tx = service.store().begin().await.expect("a transaction");
    let team = tx.team(TEAM).await.expect("a team");
    let Some(member) = tx.member(&team, "ines").await.expect("readable") else {
        return;
    };
    let log = tx.sets_all(&member, &catalogue).await.expect("readable");
    let lifter = Lifter {
        catalogue: &catalogue,
        body_mass: member.profile.body_mass.map(Mass::from_tenth_micrograms),
        status: member
            .profile
            .experience
            .map_or_else(TrainingStatus::default, |(months, _)| {
                TrainingStatus::from_months(months)
            }),
    };
    let mut anew = Model::default();
    let learned = log.iter().map(|filed| {
        let reserve = anew.learn(&filed.set, &lifter).reserve;
        let judged = reserve.filter(|_| filed.set.rated().is_none());
        judged.map(|reserve| reserve.mean)
    });
    let learned: Vec<Option<f64>> = learned.collect();
    for (place, (filed, learned)) in log.iter().zip(learned).enumerate() {
        let judged = match left_on_the_way_up(&log, place, &lifter) {
            Some(left) => Some(learned.map_or(left, |learned| learned.max(left))),
            None => learned,
        };
        assert_eq!(filed.judged, judged, "{filed:?}");
    }
    let names: Vec<&str> = catalogue
        .exercises()
        .map(|(_, e)| e.name.as_str())
        .collect();
    let mut stored = tx.beliefs(&member, &names).await.expect("readable");
    stored.sort();
    let mut expected: Vec<_> = anew
        .beliefs
        .iter()
        .map(|(&id, belief)| (catalogue.exercise(id).name.clone(), belief.encode()))
        .collect();
    expected.sort();
    assert_eq!(
        stored.len(),
        expected.len(),
        "{:?}",
        log.iter().map(|f| &f.set).collect::<Vec<_>>()
    );
    for (stored, expected) in stored.iter().zip(&expected) {
        assert_eq!(stored, expected, "the belief on {}", expected.0);
    }
    let condition = (!log.is_empty()).then(|| anew.condition.encode());
    assert_eq!(member.condition.is_some(), condition.is_some());
    assert_eq!(member.condition, condition);
    tx.rollback().await.expect("rolled back");
    // What was believed before the last days, too.
    let (store, bot) = (service.store(), Bot::new(config::built_in()));
    let found = service::check::check(store, &bot, at, false)
        .await
        .expect("readable");
    assert!(found.is_well(), "{found:?}");
}

fn run(actions: &[(u16, Action)]) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build();
    runtime.expect("a runtime").block_on(check(actions));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn stored_beliefs_equal_the_log_learned_anew(actions in actions()) {
        run(&actions);
    }
}

/// Days of training, then changes that reach into the last, the one before, and further back.
#[test]
fn changes_of_late_sets_are_learned_from_the_last_days_alone_to_the_same_bit() {
    let day = [
        (900, Action::Post("bench 60x10, 2 left")),
        (3, Action::Post("x9")),
        (4, Action::Post("squat 80x8, 2 left")),
        (3, Action::Post("pull-ups 8, 2 left")),
    ];
    let mut before: Vec<(u16, Action)> = (0..5).flat_map(|_| day.clone()).collect();
    before.push((3, Action::Post("leg press 120x10, 1 left")));
    let changes: [&[(u16, Action)]; 9] = [
        &[(1, Action::Edit(0, "leg press 125x10, 1 left"))],
        &[(1, Action::Edit(0, "hack squat 90x10, 1 left"))],
        &[(1, Action::Delete(0)), (1, Action::Post("undo"))],
        &[
            (1, Action::Edit(3, "x12")),
            (1, Action::Post("make it 62.5")),
        ],
        &[
            (1, Action::Edit(7, "squat 77.5x8")),
            (1, Action::Edit(1, "bench 50x12")),
        ],
        &[(1, Action::Delete(12)), (1, Action::Delete(8))],
        &[
            (1, Action::Post("yesterday: dips 10, 2 left")),
            (1, Action::Post("undo")),
        ],
        // The whole last day goes, and comes again.
        &[
            (1, Action::Delete(0)),
            (1, Action::Delete(2)),
            (1, Action::Delete(4)),
            (1, Action::Delete(6)),
            (1, Action::Delete(8)),
            (1, Action::Post("bench 60x11, 2 left")),
            (1, Action::Edit(0, "bench 60x12, 2 left")),
        ],
        &[
            (1, Action::Post("3 days ago: squat 77.5x8, 8")),
            (1, Action::Edit(4, "squat 85x8")),
        ],
    ];
    for more in changes {
        run(&[before.as_slice(), more].concat());
    }
}

#[test]
fn a_late_message_is_learned_in_its_place() {
    run(&[
        (5, Action::Post("bench 60x10, 2 left")),
        (3, Action::Post("x9")),
        (0, Action::Post("squat 80x8")),
    ]);
}

#[test]
fn a_late_message_lies_before_a_cut_whose_sets_were_taken_back() {
    run(&[
        (1, Action::Post("bench 60x10, 2 left")),
        (600, Action::Post("yesterday: bench 57.5x10, 1 left")),
        (1, Action::Post("bench 60x10, 2 left")),
        (1, Action::Post("undo")),
        (0, Action::Post("squat 80x8, 2 left")),
    ]);
}
