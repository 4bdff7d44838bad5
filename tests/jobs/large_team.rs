//! What is shown of a large team is worked out in portions of members, and others are served between them.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::pin::pin;

use crate::support::engines::on_every_engine;
use chalkbell::bot::event::{Event, Message, Press};
use chalkbell::bot::reply::Outgoing;
use chalkbell::jobs::Worker;
use chalkbell::service::long::Progress;
use chalkbell::service::{Bot, Service, UseCase as _};
use chrono::{DateTime, TimeDelta, Utc};

/// Members who lift: several portions.
const LIFTERS: usize = 70;
const MONDAY: &str = "2026-11-23T17:00:00Z";
const SUNDAY: &str = "2026-11-29T18:00:00Z";

fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn message(author: &str, at: DateTime<Utc>, text: &str) -> Event {
    Event::Message(Message {
        id: format!("{author}.{}", at.timestamp_millis()),
        team: "rowers".to_owned(),
        channel: "gym".to_owned(),
        author: author.to_owned(),
        name: format!("Name of {author}"),
        coach: author == "coach",
        at,
        text: text.to_owned(),
    })
}

/// A team with a coach, many who lifted on Monday, and one of them hurt.
async fn fill(service: &Service<Bot>) {
    let monday = utc(MONDAY);
    let mut events = vec![message("coach", monday, "/settings zone UTC")];
    for n in 0..LIFTERS {
        events.push(message(&format!("u{n}"), monday, "bench 60x10, 2 left"));
    }
    let later = monday + TimeDelta::minutes(5);
    events.push(message("u3", later, "my left knee hurts"));
    for answer in service.handle(&events).await {
        answer.unwrap();
    }
}

/// The text of the one reply.
fn text(out: &[Outgoing]) -> &str {
    let [Outgoing::Reply(reply)] = out else {
        panic!("{out:?}");
    };
    &reply.text
}

#[test]
fn others_are_answered_while_a_large_team_is_looked_at_and_the_answer_is_the_same() {
    on_every_engine(async |place| {
        let service = Service::new(place.open().await, Bot::new(chalkbell::config::built_in()));
        fill(&service).await;
        let at = utc(MONDAY) + TimeDelta::hours(1);
        let mut of_all = 0;
        let commands = ["/attention", "/team", "/digest"];
        // PostgreSQL serves several at once, and whoever is quicker comes first: it is asked anew
        // until somebody was.
        for (hours, command) in commands.iter().cycle().take(30).enumerate() {
            if hours >= commands.len() && of_all > 0 {
                break;
            }
            let at = at + TimeDelta::hours(i64::try_from(hours).unwrap());
            let asked = message("coach", at, command);
            assert!(service.is_long(&asked).await, "{command}");
            // All of it in one transaction.
            let mut tx = service.store().begin().await.unwrap();
            let at_once = service.use_case().one(&mut tx, &asked).await.unwrap();
            tx.rollback().await.unwrap();
            let progress = Progress::default();
            let mut looking = pin!(service.long(&asked, &progress));
            let mut answered = 0;
            let out = loop {
                let other = message("u9", at + TimeDelta::seconds(answered), "hello there");
                let mut others = pin!(service.one(&other));
                tokio::select! {
                    biased;
                    out = &mut looking => break out.unwrap(),
                    one = &mut others => {
                        one.unwrap();
                        answered += 1;
                    }
                }
            };
            of_all += answered;
            let least = if place.label == "postgres" { 0 } else { 3 };
            assert!(
                answered >= least,
                "{command}: {answered} on {}",
                place.label
            );
            assert_eq!(out, at_once, "{command}");
        }
        assert!(of_all > 0, "nobody on {}", place.label);
        service.close().await;
    });
}

#[test]
fn who_is_forgotten_meanwhile_is_not_shown() {
    on_every_engine(async |place| {
        let service = Service::new(place.open().await, Bot::new(chalkbell::config::built_in()));
        fill(&service).await;
        let at = utc(MONDAY) + TimeDelta::hours(1);
        let before = service
            .one(&message("coach", at, "/attention"))
            .await
            .unwrap();
        assert!(text(&before).contains("Name of u3"), "{}", text(&before));
        let asked = message("coach", at + TimeDelta::minutes(1), "/attention");
        let (bot, store) = (service.use_case(), service.store());
        let progress = Progress::default();
        let prepared = bot.prepare(store, &asked, None, &progress).await.unwrap();
        let out = service.one(&message("u3", at, "/forget")).await.unwrap();
        let question = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) => Some((reply, reply.buttons.first()?)),
            _ => None,
        });
        let (reply, button) = question.unwrap();
        let press = Event::Press(Press {
            id: Some("yes".to_owned()),
            reply: reply.id.clone(),
            team: "rowers".to_owned(),
            author: "u3".to_owned(),
            button: button.id.clone(),
            at: at + TimeDelta::seconds(5),
        });
        service.one(&press).await.unwrap();
        let mut tx = store.begin().await.unwrap();
        let out = bot.prepared(&mut tx, &asked, &prepared).await.unwrap();
        tx.commit().await.unwrap();
        let out = out.unwrap();
        assert!(!text(&out).contains("u3"), "{}", text(&out));
        service.close().await;
    });
}

#[test]
fn a_large_teams_digest_is_worked_out_in_steps_and_others_are_served_between_them() {
    on_every_engine(async |place| {
        let service = Service::new(place.open().await, Bot::new(chalkbell::config::built_in()));
        fill(&service).await;
        let at = utc(SUNDAY);
        let worker = Worker::new(&service, "one", None);
        let mut done = Vec::new();
        while worker
            .step(at - TimeDelta::hours(1), &mut done)
            .await
            .unwrap()
        {}
        // Those were the bells.
        done.clear();
        let mut steps = 0;
        while done.is_empty() {
            assert!(worker.step(at, &mut done).await.unwrap(), "{steps}");
            steps += 1;
            let other = message("u1", at + TimeDelta::minutes(steps), "bench 60x8, 2 left");
            let answer = service.one(&other).await.unwrap();
            assert!(!answer.is_empty(), "{}", place.label);
        }
        assert!(steps >= 5, "{steps} on {}", place.label);
        let out: Vec<&Outgoing> = done.iter().flat_map(|done| &done.out).collect();
        let data = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) => reply.data.as_ref(),
            _ => None,
        });
        let data = data.unwrap();
        assert_eq!(data["lifters"], LIFTERS);
        assert_eq!(data["trained"], LIFTERS);
        // It comes once.
        let mut more = Vec::new();
        while worker.step(at, &mut more).await.unwrap() {}
        assert!(more.iter().all(|done| done.out.is_empty()), "{more:?}");
        service.close().await;
    });
}
