//! Presses, edits and deletions that are sent again, on every engine: each is answered as before and
//! does nothing twice. A card's buttons belong to their card.
#![expect(
    clippy::unwrap_used,
    reason = "a test may fail where it stands, and say why"
)]

use chalkbell::bot::event::{Delete, Edit, Event, Message, Press};
use chalkbell::bot::reply::{Outgoing, Reply, Sign};
use chalkbell::service::{Bot, Service};
use chrono::{DateTime, TimeDelta, Utc};

use crate::support::engines::{Place, on_every_engine};

/// One team whose clock goes on by a minute with each message.
struct Gym {
    service: Service<Bot>,
    now: DateTime<Utc>,
    count: u32,
}

impl Gym {
    async fn open(place: &Place) -> Self {
        let bot = Bot::new(chalkbell::config::built_in());
        Self {
            service: Service::new(place.open().await, bot),
            now: "2026-11-23T17:00:00Z".parse().unwrap(),
            count: 0,
        }
    }

    async fn plays(&self, event: &Event) -> Vec<Outgoing> {
        self.service.one(event).await.unwrap()
    }

    /// Ann says something; the id of her message, and what it was answered.
    async fn says(&mut self, text: &str) -> (String, Vec<Outgoing>) {
        self.now += TimeDelta::minutes(1);
        self.count += 1;
        let id = format!("m{}", self.count);
        let event = Event::Message(Message {
            id: id.clone(),
            team: "rowers".to_owned(),
            channel: "gym".to_owned(),
            author: "ann".to_owned(),
            name: "Ann".to_owned(),
            coach: false,
            at: self.now,
            text: text.to_owned(),
        });
        let out = self.plays(&event).await;
        (id, out)
    }

    /// A press of the button with this label under a reply, a second from now.
    fn press(&mut self, reply: &Reply, label: &str) -> Press {
        self.now += TimeDelta::seconds(1);
        let button = reply.buttons.iter().find(|one| one.label == label);
        Press {
            id: None,
            reply: reply.id.clone(),
            team: "rowers".to_owned(),
            author: "ann".to_owned(),
            button: button.unwrap().id.clone(),
            at: self.now,
        }
    }

    async fn presses(&self, press: &Press) -> Vec<Outgoing> {
        self.plays(&Event::Press(press.clone())).await
    }

    fn edit(&mut self, id: &str, text: &str) -> Event {
        self.now += TimeDelta::seconds(1);
        Event::Edit(Edit {
            id: id.to_owned(),
            team: "rowers".to_owned(),
            at: self.now,
            text: text.to_owned(),
        })
    }

    fn deletion(&mut self, id: &str) -> Event {
        self.now += TimeDelta::seconds(1);
        Event::Delete(Delete {
            id: id.to_owned(),
            team: "rowers".to_owned(),
            at: self.now,
        })
    }

    /// Her sets as stored, in order: exercise and repetitions.
    async fn log(&self) -> Vec<String> {
        let catalogue = chalkbell::config::built_in();
        let mut tx = self.service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let ann = tx.member(&team, "ann").await.unwrap().unwrap();
        let sets = tx.sets_all(&ann, &catalogue).await.unwrap();
        tx.rollback().await.unwrap();
        let line = |filed: &chalkbell::bot::state::LogEntry| {
            let set = &filed.set;
            let name = &catalogue.exercise(set.exercise).name;
            format!("{name} x{}", set.reps)
        };
        sets.iter().map(line).collect()
    }
}

fn card(out: &[Outgoing]) -> Reply {
    let reply = out.iter().find_map(|one| match one {
        Outgoing::Reply(reply) | Outgoing::Update(reply) if reply.advice.is_some() => Some(reply),
        _ => None,
    });
    reply.unwrap().clone()
}

fn signs(out: &[Outgoing]) -> Vec<Sign> {
    let sign = |one: &Outgoing| match one {
        Outgoing::Mark(mark) => Some(mark.sign),
        _ => None,
    };
    out.iter().filter_map(sign).collect()
}

fn texts(out: &[Outgoing]) -> String {
    let text = |one: &Outgoing| match one {
        Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.text.clone(),
        Outgoing::Mark(_) => String::new(),
    };
    out.iter().map(text).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_same_press_sent_again_is_answered_as_before_and_takes_nothing_more() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        for reps in [12, 11, 10] {
            gym.says(&format!("bench 60x{reps}, 2 left")).await;
        }
        let (_, out) = gym.says("bench 60x9, 2 left").await;
        let press = gym.press(&card(&out), "Undo");
        let first = gym.presses(&press).await;
        assert_eq!(signs(&first), [Sign::Removed]);
        for _ in 0..3 {
            assert_eq!(gym.presses(&press).await, first);
        }
        assert_eq!(gym.log().await.len(), 3);
        // Also when something came in between.
        gym.says("bench 60x8, 2 left").await;
        assert_eq!(gym.presses(&press).await, first);
        assert_eq!(gym.log().await.len(), 4);
        // A little later it is another press.
        let later = Press {
            at: press.at + TimeDelta::milliseconds(1),
            ..press
        };
        assert_ne!(gym.presses(&later).await, first);
        assert_eq!(gym.log().await.len(), 3);
    });
}

#[test]
fn a_press_with_an_id_is_told_by_it_alone() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        for reps in [12, 11, 10] {
            gym.says(&format!("bench 60x{reps}, 2 left")).await;
        }
        let (_, out) = gym.says("bench 60x9, 2 left").await;
        let mut press = gym.press(&card(&out), "Undo");
        press.id = Some("p1".to_owned());
        let first = gym.presses(&press).await;
        let mut again = press.clone();
        again.at += TimeDelta::seconds(5);
        assert_eq!(gym.presses(&again).await, first);
        assert_eq!(gym.log().await.len(), 3);
        // Two presses of one moment are two.
        press.id = Some("p2".to_owned());
        let second = gym.presses(&press).await;
        assert_eq!(signs(&second), [Sign::Removed]);
        assert_eq!(gym.log().await.len(), 2);
        // An id of a message is not in its way.
        press.id = Some("m1".to_owned());
        gym.presses(&press).await;
        assert_eq!(gym.log().await.len(), 1);
    });
}

#[test]
fn a_button_takes_back_sets_of_its_own_card_alone() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("lying leg curl 40x12, 2 left").await;
        let (_, curl) = gym.says("lying leg curl 40x11, 2 left").await;
        let curl = card(&curl);
        gym.says("standing calf raise 80x15, 2 left").await;
        for left in [1, 0] {
            let press = gym.press(&curl, "Undo");
            let out = gym.presses(&press).await;
            assert_eq!(signs(&out), [Sign::Removed]);
            assert!(texts(&out).contains("Taken out: lying leg curl"), "{out:?}");
            let log = gym.log().await;
            assert_eq!(log.len(), left + 1, "{log:?}");
            assert!(
                log.contains(&"standing calf raise x15".to_owned()),
                "{log:?}"
            );
        }
        let press = gym.press(&curl, "Undo");
        let out = gym.presses(&press).await;
        assert!(
            texts(&out).contains("No set of lying leg curl is left"),
            "{out:?}"
        );
        assert_eq!(gym.log().await, ["standing calf raise x15"]);
        // An id of an earlier version tells no card; the reply does.
        let press = gym.press(&curl, "Undo");
        let bare = Press {
            button: "undo".to_owned(),
            ..press
        };
        gym.presses(&bare).await;
        assert_eq!(gym.log().await, ["standing calf raise x15"]);
    });
}

#[test]
fn a_card_of_an_earlier_day_takes_back_that_day_s_sets_and_checks_nothing_any_more() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("lying leg curl 40x12, 2 left").await;
        let (_, out) = gym.says("lying leg curl 40x11, 2 left").await;
        let curl = card(&out);
        gym.now += TimeDelta::days(1);
        let press = gym.press(&curl, "Ready");
        let out = gym.presses(&press).await;
        assert!(texts(&out).contains("Nothing was changed"), "{out:?}");
        let press = gym.press(&curl, "Undo");
        let out = gym.presses(&press).await;
        assert!(texts(&out).contains("Taken out: lying leg curl"), "{out:?}");
        assert_eq!(gym.log().await, ["lying leg curl x12"]);
        // Today's sets have a card of their own, and the old one says that it is no longer open.
        gym.says("lying leg curl 40x10, 2 left").await;
        let press = gym.press(&curl, "Undo");
        let out = gym.presses(&press).await;
        assert!(texts(&out).contains("Nothing was changed"), "{out:?}");
        assert_eq!(gym.log().await.len(), 2);
    });
}

#[test]
fn of_a_message_with_two_exercises_a_card_takes_back_its_own() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        let (id, out) = gym
            .says("bench 60x10, 2 left\nbarbell row 50x9, 2 left")
            .await;
        let first = card(&out);
        assert!(first.text.contains("bench press"), "{first:?}");
        let press = gym.press(&first, "Undo");
        let out = gym.presses(&press).await;
        assert_eq!(gym.log().await, ["barbell row x9"]);
        // The message still holds something.
        assert_eq!(signs(&out), [Sign::Corrected]);
        let deletion = gym.deletion(&id);
        assert_eq!(signs(&gym.plays(&deletion).await), [Sign::Removed]);
        assert!(gym.log().await.is_empty());
    });
}

#[test]
fn an_edit_sent_again_is_answered_as_before_and_undoes_no_later_one() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        let (id, _) = gym.says("bench 60x10, 2 left").await;
        let first = gym.edit(&id, "bench 60x11, 2 left");
        let answer = gym.plays(&first).await;
        assert_eq!(signs(&answer), [Sign::Corrected]);
        assert!(
            texts(&answer).contains("Corrected: bench press 60 kg × 11"),
            "{answer:?}"
        );
        assert_eq!(gym.plays(&first).await, answer);
        let second = gym.edit(&id, "bench 60x12, 2 left");
        let other = gym.plays(&second).await;
        assert_ne!(other, answer);
        assert_eq!(gym.plays(&first).await, answer);
        assert_eq!(gym.log().await, ["bench press x12"]);
        assert_eq!(gym.plays(&second).await, other);
    });
}

#[test]
fn a_deletion_sent_again_is_answered_as_before_whatever_its_time() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("bench 60x11, 2 left").await;
        let (id, filed) = gym.says("bench 60x10, 2 left").await;
        let changed = gym.edit(&id, "bench 60x9, 2 left");
        let corrected = gym.plays(&changed).await;
        let deletion = gym.deletion(&id);
        let answer = gym.plays(&deletion).await;
        assert_eq!(signs(&answer), [Sign::Removed]);
        assert!(texts(&answer).contains("Taken out"), "{answer:?}");
        assert_eq!(gym.plays(&deletion).await, answer);
        let later = gym.deletion(&id);
        assert_eq!(gym.plays(&later).await, answer);
        // What came before it is answered as before, too, and brings nothing back.
        assert_eq!(gym.plays(&changed).await, corrected);
        assert_ne!(filed, answer);
        assert_eq!(gym.log().await, ["bench press x11"]);
    });
}

#[test]
fn a_deletion_that_comes_before_its_message_is_not_held_against_a_later_one() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        let early = gym.deletion("m1");
        assert!(gym.plays(&early).await.is_empty());
        let (id, _) = gym.says("bench 60x10, 2 left").await;
        assert_eq!(id, "m1");
        assert_eq!(signs(&gym.plays(&early).await), [Sign::Removed]);
        assert!(gym.log().await.is_empty());
    });
}

#[test]
fn an_answered_question_answered_again_files_once() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        gym.says("bench 60x10, 2 left").await;
        let (_, out) = gym.says("bench 600x10").await;
        let question = out.iter().find_map(|one| match one {
            Outgoing::Reply(reply) if !reply.buttons.is_empty() => Some(reply.clone()),
            _ => None,
        });
        let question = question.unwrap();
        let no = question
            .buttons
            .iter()
            .find(|one| one.label.starts_with("No"));
        let label = no.unwrap().label.clone();
        let press = gym.press(&question, &label);
        let first = gym.presses(&press).await;
        assert_eq!(gym.presses(&press).await, first);
        assert_eq!(gym.log().await.len(), 2);
    });
}

#[test]
fn presses_that_share_a_commit_are_told_apart_and_repeats_are_not() {
    on_every_engine(async |place| {
        let mut gym = Gym::open(place).await;
        for reps in [12, 11, 10] {
            gym.says(&format!("bench 60x{reps}, 2 left")).await;
        }
        let (_, out) = gym.says("bench 60x9, 2 left").await;
        let press = gym.press(&card(&out), "Undo");
        let other = gym.press(&card(&out), "Undo");
        let events: Vec<Event> = [&press, &press, &other, &press, &other]
            .map(|press| Event::Press(press.clone()))
            .to_vec();
        let answers = gym.service.handle(&events).await;
        let answers: Vec<_> = answers.into_iter().map(Result::unwrap).collect();
        assert_eq!([&answers[0]; 2], [&answers[1], &answers[3]]);
        assert_eq!(answers[2], answers[4]);
        assert_ne!(answers[0], answers[2]);
        assert_eq!(gym.log().await.len(), 2);
    });
}
