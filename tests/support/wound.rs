//! The bot in memory with a hand-wound clock: what members say and press, and what comes of it.

use chalkbell::bot::event::{Clock, Event, Message, Press};
use chalkbell::bot::reply::{Outgoing, Reply};
use chalkbell::jobs;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, TimeDelta, Utc};

/// A gym with one team and a hand-wound clock.
pub struct Gym {
    pub service: Service<Bot>,
    pub now: DateTime<Utc>,
    count: u32,
}

impl Gym {
    pub async fn open(now: &str) -> Self {
        let store = Store::open("sqlite::memory:").await.unwrap();
        Self {
            service: Service::new(store, Bot::new(chalkbell::config::built_in())),
            now: now.parse().unwrap(),
            count: 0,
        }
    }

    async fn play(&self, event: Event) -> Vec<Outgoing> {
        // Boxed: a test that plays many events would hold each one's room on its stack.
        Box::pin(jobs::one(&self.service, &event)).await.unwrap()
    }

    pub async fn says(&mut self, author: &str, text: &str) -> Vec<Outgoing> {
        self.says_in("gym", author, text).await
    }

    pub async fn says_in(&mut self, channel: &str, author: &str, text: &str) -> Vec<Outgoing> {
        self.count += 1;
        let message = Message {
            id: format!("m{}", self.count),
            team: "rowers".to_owned(),
            channel: channel.to_owned(),
            author: author.to_owned(),
            name: author.to_owned(),
            coach: author == "coach",
            at: self.now,
            text: text.to_owned(),
        };
        self.play(Event::Message(message)).await
    }

    pub async fn presses(&mut self, reply: &Reply, button: &str) -> Vec<Outgoing> {
        self.now += TimeDelta::milliseconds(1);
        let press = Press {
            id: None,
            reply: reply.id.clone(),
            team: reply.team.clone(),
            author: reply.to.clone().unwrap(),
            button: button.to_owned(),
            at: self.now,
        };
        self.play(Event::Press(press)).await
    }

    pub async fn winds_to(&mut self, at: DateTime<Utc>) -> Vec<Outgoing> {
        self.now = at;
        self.play(Event::Clock(Clock { team: None, at })).await
    }

    /// Lets time pass.
    pub async fn passes(&mut self, seconds: i64) -> Vec<Outgoing> {
        self.winds_to(self.now + TimeDelta::seconds(seconds)).await
    }

    /// When the next bell is due, before any digest.
    pub async fn due(&self) -> Option<DateTime<Utc>> {
        let due = self.service.store().next_due(None).await.unwrap();
        due.filter(|due| *due - self.now < TimeDelta::hours(1))
    }

    /// Winds the clock to the bell; its message.
    pub async fn rings(&mut self) -> Reply {
        let due = self.due().await.unwrap();
        rung(&self.winds_to(due).await).unwrap()
    }
}

/// The message that notifies, if there is one.
pub fn rung(out: &[Outgoing]) -> Option<Reply> {
    let mut called = out.iter().filter_map(|one| match one {
        Outgoing::Reply(reply) if !reply.mentions.is_empty() => Some(reply.clone()),
        _ => None,
    });
    let first = called.next();
    assert!(called.next().is_none(), "two bells");
    first
}

/// Whether this reply is taken back.
pub fn takes_back(out: &[Outgoing], reply: &Reply) -> bool {
    out.iter().any(|one| match one {
        Outgoing::Update(update) => update.id == reply.id && update.text.is_empty(),
        _ => false,
    })
}
