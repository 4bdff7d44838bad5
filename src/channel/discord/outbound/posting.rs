//! The bot, with an outbox: what an event is answered with is kept in the transaction that stores
//! what it changed, until it is sent. So an answer is neither lost nor made twice when the program
//! is killed between the two.

use chrono::{DateTime, TimeDelta, Utc};

use super::outbox::LEASE;
use crate::bot::event::Event;
use crate::bot::reply::Outgoing;
use crate::bot::state::{DueJob, Team};
use crate::channel::discord::adapter::now;
use crate::channel::discord::catch_up::FRESH;
use crate::service::long::{Prepared, Progress};
use crate::service::{Bot, ServiceError, UseCase};
use crate::store::outbox::Sender;
use crate::store::{Store, StoreError, Tx};

/// What the outbox calls this channel.
pub const VIA: &str = "discord";

/// The use cases, with their answers kept until they are sent.
#[derive(Debug)]
pub struct Posting {
    bot: Bot,
    /// Tells processes apart that share a database, and one from those that had its place before.
    process: String,
}

impl Posting {
    /// The bot with an outbox; `process` differs between processes that share a database.
    pub const fn new(bot: Bot, process: String) -> Self {
        Self { bot, process }
    }

    /// The use cases without the outbox.
    pub const fn bot(&self) -> &Bot {
        &self.bot
    }

    /// Names this process.
    pub fn process(&self) -> &str {
        &self.process
    }

    /// This process as the one that sends.
    pub fn sender(&self) -> Sender<'_> {
        Sender {
            via: VIA,
            owner: &self.process,
            until: now() + TimeDelta::from_std(LEASE).unwrap_or_default(),
        }
    }

    /// The name under which the answers to an event are kept: the same for a repeat. What jobs
    /// post is kept by their worker.
    pub fn key(event: &Event) -> String {
        let at = event.at().timestamp_millis();
        let team = event.team().unwrap_or_default();
        match event {
            Event::Message(message) => format!("m/{team}/{}", message.id),
            Event::Edit(edit) => format!("e/{team}/{}/{at}", edit.id),
            Event::Delete(delete) => format!("d/{team}/{}/{at}", delete.id),
            Event::Press(press) => match &press.id {
                Some(id) => format!("p/{team}/{id}"),
                None => format!("p/{team}/{}/{}/{at}", press.reply, press.author),
            },
            Event::Clock(_) => format!("c/{at}"),
        }
    }

    /// Keeps what an event is answered with until it is sent. A repeat changes nothing that stands: its
    /// changes were sent with the first answer, and other ones may have followed since.
    async fn keep(
        &self,
        tx: &mut Tx,
        event: &Event,
        mut outgoing: Vec<Outgoing>,
    ) -> Result<Vec<Outgoing>, StoreError> {
        let key = Self::key(event);
        let changes = |one: &Outgoing| matches!(one, Outgoing::Update(_));
        if tx.was_repeat() && outgoing.iter().any(changes) && !tx.is_unsent(&key).await? {
            outgoing.retain(|one| !changes(one));
        }
        if let Some(first) = outgoing.first() {
            let team = tx.team(team_of(first)).await?;
            let unsent = (key.as_str(), event.at(), outgoing.as_slice());
            tx.keep_unsent(&team, unsent, self.sender()).await?;
        }
        Ok(outgoing)
    }
}

impl UseCase for Posting {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        let outgoing = self.bot.one(tx, event).await?;
        if now() - event.at() >= FRESH
            && let Some((team, author)) = author_of(tx, event).await?
        {
            // Read from a history: what was due meanwhile is of no use any more.
            tx.hush(&team, &author, now()).await?;
        }
        if let Event::Edit(edit) = event
            && let Ok(message) = edit.id.parse()
        {
            let team = tx.team(&edit.team).await?;
            if tx.remembered(&team, &edit.id).await?.is_some() {
                tx.took_edit(&team, message, edit.at).await?;
            }
        }
        Ok(self.keep(tx, event, outgoing).await?)
    }

    async fn is_long(&self, store: &Store, event: &Event) -> bool {
        self.bot.is_long(store, event).await
    }

    async fn prepare(
        &self,
        store: &Store,
        event: &Event,
        before: Option<Prepared>,
        progress: &Progress,
    ) -> Result<Prepared, ServiceError> {
        self.bot.prepare(store, event, before, progress).await
    }

    async fn prepared(
        &self,
        tx: &mut Tx,
        event: &Event,
        prepared: &Prepared,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        match self.bot.prepared(tx, event, prepared).await? {
            Some(outgoing) => Ok(Some(self.keep(tx, event, outgoing).await?)),
            None => Ok(None),
        }
    }

    async fn let_go(&self, store: &Store, prepared: Prepared) -> Result<(), ServiceError> {
        self.bot.let_go(store, prepared).await
    }

    async fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        self.bot.job(tx, job, now).await
    }

    async fn given_up(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        self.bot.given_up(tx, job, now).await
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        self.bot.expect(tx, events).await
    }
}

/// Who wrote the message that an event is or changes, and the team.
async fn author_of(tx: &mut Tx, event: &Event) -> Result<Option<(Team, String)>, StoreError> {
    let Some(key) = event.team() else {
        return Ok(None);
    };
    let team = tx.team(key).await?;
    let author = match event {
        Event::Message(message) => Some(message.author.clone()),
        Event::Edit(edit) => {
            let posted = tx.remembered(&team, &edit.id).await?;
            posted.map(|(posted, _)| posted.author)
        }
        Event::Delete(_) | Event::Press(_) | Event::Clock(_) => None,
    };
    Ok(author.map(|author| (team, author)))
}

/// The team that an answer is for.
pub fn team_of(outgoing: &Outgoing) -> &str {
    match outgoing {
        Outgoing::Reply(reply) | Outgoing::Update(reply) => &reply.team,
        Outgoing::Mark(mark) => &mark.team,
    }
}
