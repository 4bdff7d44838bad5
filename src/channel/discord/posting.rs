//! The bot, with an outbox: what an event is answered with is kept in the transaction that stores
//! what it changed, until it is sent. So an answer is neither lost nor made twice when the program
//! is killed between the two.

use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::service::{Bot, ServiceError, UseCase};
use crate::store::Tx;

/// The use cases, with their answers kept until they are sent.
#[derive(Debug)]
pub struct Posting {
    bot: Bot,
    /// Tells processes apart that share a database.
    process: String,
}

impl Posting {
    /// The bot with an outbox; `process` differs between processes that share a database.
    #[must_use]
    pub const fn new(bot: Bot, process: String) -> Self {
        Self { bot, process }
    }

    /// The use cases without the outbox.
    #[must_use]
    pub const fn bot(&self) -> &Bot {
        &self.bot
    }

    /// The answers to an event, by the names under which they are kept: the same for a repeat. A
    /// clock's answers belong to several teams.
    #[must_use]
    pub fn keyed<'a>(
        &self,
        event: &Event,
        outgoing: &'a [Outgoing],
    ) -> Vec<(String, &'a [Outgoing])> {
        let key = self.key(event);
        if event.team().is_some() {
            return vec![(key, outgoing)];
        }
        let parts = outgoing.chunk_by(|a, b| team_of(a) == team_of(b));
        let named = parts
            .enumerate()
            .map(|(n, part)| (format!("{key}/{n}"), part));
        named.collect()
    }

    fn key(&self, event: &Event) -> String {
        let at = event.at().timestamp_millis();
        let team = event.team().unwrap_or_default();
        match event {
            Event::Message(message) => format!("m/{team}/{}", message.id),
            Event::Edit(edit) => format!("e/{team}/{}/{at}", edit.id),
            Event::Delete(delete) => format!("d/{team}/{}/{at}", delete.id),
            Event::Press(press) => format!("p/{team}/{}/{}/{at}", press.reply, press.author),
            Event::Clock(_) => format!("c/{}/{at}", self.process),
        }
    }
}

impl UseCase for Posting {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let outgoing = self.bot.one(tx, event).await?;
        if outgoing.is_empty() {
            return Ok(outgoing);
        }
        for (key, part) in self.keyed(event, &outgoing) {
            let Some(first) = part.first() else { continue };
            let team = tx.team(team_of(first)).await?;
            tx.keep_unsent(&team, &key, event.at(), part).await?;
        }
        Ok(outgoing)
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        self.bot.expect(tx, events).await
    }
}

/// The team that an answer is for.
#[must_use]
pub fn team_of(outgoing: &Outgoing) -> &str {
    match outgoing {
        Outgoing::Reply(reply) | Outgoing::Update(reply) => &reply.team,
        Outgoing::Mark(mark) => &mark.team,
    }
}
