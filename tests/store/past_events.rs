//! Answers that nobody will ask for again are dropped: what they belong to is still known, files nothing
//! twice, and can be changed.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may fail where it stands, and say why"
)]

use chalkbell::bot::event::{Delete, Edit, Event, Message, Press};
use chalkbell::bot::reply::{Mark, Outgoing, Sign};
use chalkbell::service::{Bot, Service};
use chalkbell::store::{KEPT, Store};
use chrono::{DateTime, TimeDelta, Utc};

use crate::support::engines::{Place, on_every_engine};

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().unwrap()
}

async fn service(place: &Place) -> Service<Bot> {
    let bot = Bot::new(chalkbell::config::built_in());
    Service::new(place.open().await, bot)
}

fn says(id: &str, minutes: i64, text: &str) -> Event {
    Event::Message(Message {
        id: id.to_owned(),
        team: "rowers".to_owned(),
        channel: "gym".to_owned(),
        author: "ann".to_owned(),
        name: "Ann".to_owned(),
        coach: false,
        at: start() + TimeDelta::minutes(minutes),
        text: text.to_owned(),
    })
}

fn edits(id: &str, minutes: i64, text: &str) -> Event {
    Event::Edit(Edit {
        id: id.to_owned(),
        team: "rowers".to_owned(),
        at: start() + TimeDelta::minutes(minutes),
        text: text.to_owned(),
    })
}

fn deletes(id: &str, minutes: i64) -> Event {
    Event::Delete(Delete {
        id: id.to_owned(),
        team: "rowers".to_owned(),
        at: start() + TimeDelta::minutes(minutes),
    })
}

fn presses(minutes: i64) -> Event {
    Event::Press(Press {
        id: Some("p1".to_owned()),
        reply: "m1.1".to_owned(),
        team: "rowers".to_owned(),
        author: "ann".to_owned(),
        button: "undo:bench press@2026-01-12".to_owned(),
        at: start() + TimeDelta::minutes(minutes),
    })
}

/// Loads and repetitions of the log, in order.
async fn log(store: &Store) -> Vec<(f64, u32)> {
    let mut tx = store.begin().await.unwrap();
    let team = tx.team("rowers").await.unwrap();
    let member = tx.member(&team, "ann").await.unwrap().expect("a member");
    let catalogue = chalkbell::config::built_in();
    let sets = tx.sets_all(&member, &catalogue).await.unwrap();
    tx.rollback().await.unwrap();
    let sets = sets.iter().map(|filed| &filed.set);
    sets.map(|set| (set.load.mass.in_kg(), set.reps)).collect()
}

async fn prune(store: &Store, now: DateTime<Utc>) -> usize {
    let mut portions = 1;
    while store.prune(now).await.unwrap() {
        portions += 1;
    }
    portions
}

fn signs(out: &[Outgoing]) -> Vec<Sign> {
    let sign = |one: &Outgoing| match one {
        Outgoing::Mark(Mark { sign, .. }) => Some(*sign),
        _ => None,
    };
    out.iter().filter_map(sign).collect()
}

const BACK: TimeDelta = TimeDelta::minutes(30);

#[test]
fn what_comes_again_after_its_answer_is_dropped_files_nothing_twice() {
    on_every_engine(async |place| {
        let service = service(place).await;
        let events = [
            says("m1", 0, "bench 60x10, 2 left"),
            says("m2", 3, "x9"),
            presses(4),
            says("m3", 5, "bench 62.5x8, 1 left"),
            edits("m3", 6, "bench 65x8, 1 left"),
            says("m4", 8, "x7"),
            deletes("m4", 9),
            says("m5", 10, "/today"),
        ];
        let mut answers = Vec::new();
        for event in &events {
            answers.push(service.one(event).await.unwrap());
        }
        let filed = log(service.store()).await;
        assert_eq!(filed, [(60.0, 10), (65.0, 8)], "{}", place.label);
        // As long as it is kept, it is told again.
        prune(service.store(), start() + KEPT - BACK).await;
        for (event, answer) in events.iter().zip(&answers) {
            assert_eq!(&service.one(event).await.unwrap(), answer, "{event:?}");
        }
        // Afterwards it is known, and no more.
        prune(service.store(), start() + KEPT + BACK).await;
        for event in &events {
            assert_eq!(service.one(event).await.unwrap(), [], "{event:?}");
        }
        assert_eq!(log(service.store()).await, filed);
        // Also to a process that remembers nothing, and in a group.
        service.close().await;
        if place.durable {
            let service = self::service(place).await;
            for answer in service.handle(&events).await {
                assert_eq!(answer.unwrap(), []);
            }
            assert_eq!(log(service.store()).await, filed);
            service.close().await;
        }
    });
}

#[test]
fn old_messages_are_still_edited_and_deleted() {
    on_every_engine(async |place| {
        let service = service(place).await;
        service.one(&says("m1", 0, "bench 60x10")).await.unwrap();
        service.one(&says("m2", 3, "squat 80x8")).await.unwrap();
        service.one(&says("m3", 5, "so tired today")).await.unwrap();
        prune(service.store(), start() + KEPT + BACK).await;
        let later = 60 * 24 * 15;
        let out = service
            .one(&edits("m1", later, "bench 60x11"))
            .await
            .unwrap();
        assert_eq!(signs(&out), [Sign::Corrected], "{}: {out:?}", place.label);
        assert_eq!(log(service.store()).await, [(60.0, 11), (80.0, 8)]);
        let out = service.one(&deletes("m2", later)).await.unwrap();
        assert_eq!(signs(&out), [Sign::Removed], "{out:?}");
        assert_eq!(log(service.store()).await, [(60.0, 11)]);
        // One that held nothing stays what it was.
        let out = service
            .one(&edits("m3", later, "bench 70x5"))
            .await
            .unwrap();
        assert_eq!(out, []);
        assert_eq!(log(service.store()).await, [(60.0, 11)]);
        service.close().await;
    });
}

#[test]
fn answers_are_dropped_some_at_a_time_and_young_ones_stay() {
    on_every_engine(async |place| {
        let service = service(place).await;
        let chat = |n: i64| says(&format!("c{n}"), n, "nice one!");
        let many: Vec<Event> = (0..600).map(chat).collect();
        for answer in service.handle(&many).await {
            answer.unwrap();
        }
        let young = says("young", 60 * 24 * 20, "bench 60x10");
        let answer = service.one(&young).await.unwrap();
        let now = start() + TimeDelta::days(21);
        let portions = prune(service.store(), now).await;
        assert!(portions > 2, "{}: {portions}", place.label);
        assert_eq!(service.one(&young).await.unwrap(), answer);
        assert_eq!(log(service.store()).await.len(), 1);
        service.close().await;
    });
}

#[test]
fn forgetting_a_member_leaves_ids_alone() {
    on_every_engine(async |place| {
        let service = service(place).await;
        service.one(&says("m1", 0, "bench 60x10")).await.unwrap();
        prune(service.store(), start() + KEPT + BACK).await;
        let later = 60 * 24 * 15;
        let out = service.one(&says("m2", later, "/forget")).await.unwrap();
        let asked = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) => reply.buttons.first().map(|first| (reply, first)),
            _ => None,
        });
        let (reply, button) = asked.expect("a question");
        let press = Event::Press(Press {
            id: Some("p2".to_owned()),
            reply: reply.id.clone(),
            team: "rowers".to_owned(),
            author: "ann".to_owned(),
            button: button.id.clone(),
            at: start() + TimeDelta::minutes(later + 1),
        });
        service.one(&press).await.unwrap();
        let out = service.one(&says("m1", 0, "bench 60x10")).await.unwrap();
        assert_eq!(out, [], "{}", place.label);
        let mut tx = service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        assert!(tx.member(&team, "ann").await.unwrap().is_none());
        tx.rollback().await.unwrap();
        service.close().await;
    });
}
