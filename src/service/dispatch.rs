//! One event inside a transaction: load, decide, store. What is asked about earlier messages and
//! replies is handled in [`requests`], jobs in [`jobs`], logs from elsewhere in [`imports`].

pub(super) mod bot;
mod imports;
mod jobs;
mod message;
mod readers;
mod requests;
mod run;
mod team;

use bot::Bot;
use message::handle_message;
use run::plan_digest;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::{DateTime, Utc};

use crate::bot::event::{Event, Message};
use crate::bot::needs::TeamLoaded;
use crate::bot::reply::Outgoing;
use crate::bot::state::view::RECENT;
use crate::bot::state::{DigestJob, DueJob};
use crate::service::prepared::{Prepared, Progress};
use crate::service::{ServiceError, UseCase};
use crate::store::{Store, StoreError, Tx};

impl UseCase for Bot {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        handle(tx, self, event, None).await
    }

    async fn is_long(&self, store: &Store, event: &Event) -> bool {
        if imports::is_import(event) {
            return true;
        }
        let large = team::is_of_large_team(store, event).await;
        // Where the store does not answer, that is told by what is asked of it next.
        large.unwrap_or(false)
    }

    async fn prepare(
        &self,
        store: &Store,
        event: &Event,
        before: Option<Prepared>,
        progress: &Progress,
    ) -> Result<Prepared, ServiceError> {
        match event {
            Event::Message(message) if imports::is_import(event) => {
                imports::prepare(self, store, message, before, progress).await
            }
            Event::Message(message) => Ok(Prepared {
                team: team::prepare(&self.readers, store, message).await?,
                ..Prepared::default()
            }),
            _ => Ok(Prepared::default()),
        }
    }

    async fn prepared(
        &self,
        tx: &mut Tx,
        event: &Event,
        prepared: &Prepared,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        let (Event::Message(message), Some(import)) = (event, &prepared.import) else {
            let of_team = prepared.team.as_ref();
            return handle(tx, self, event, of_team).await.map(Some);
        };
        imports::finish(tx, self, message, import).await
    }

    async fn let_go(&self, store: &Store, prepared: Prepared) -> Result<(), ServiceError> {
        match prepared.import {
            Some(import) => Ok(imports::let_go(store, import).await?),
            None => Ok(()),
        }
    }

    async fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        jobs::handle(tx, self, job, now).await
    }

    async fn given_up(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        Ok(jobs::give_up(tx, job, now).await?)
    }

    async fn expect(&self, tx: &mut Tx, events: &[Event]) -> Result<(), ServiceError> {
        Ok(expect(tx, self, events).await?)
    }
}

/// A team's messages in a group: who wrote, what ids they have, and the time of the first.
#[derive(Default)]
struct Posted<'a> {
    authors: BTreeSet<&'a str>,
    ids: Vec<&'a str>,
    first: Option<DateTime<Utc>>,
}

/// Loads what the messages among these events begin with.
async fn expect(tx: &mut Tx, bot: &Bot, events: &[Event]) -> Result<(), StoreError> {
    let mut teams: BTreeMap<&str, Posted> = BTreeMap::new();
    let newest = events.iter().map(Event::at).max();
    for event in events {
        // A team is made when it is first heard of: in the order of the events.
        if let Some(team) = event.team() {
            tx.team(team).await?;
        }
        let Event::Message(message) = event else {
            continue;
        };
        let posted = teams.entry(&message.team).or_default();
        posted.authors.insert(&message.author);
        posted.ids.push(&message.id);
        // One that is dated long before the others shall not have the log of all read back to it.
        if newest.is_some_and(|newest| newest - message.at < RECENT) {
            posted.first = Some(posted.first.map_or(message.at, |at| at.min(message.at)));
        }
    }
    for (team, posted) in teams {
        let team = tx.team(team).await?;
        // Members first: where that locks them, what is read of them next stays as it is.
        let authors: Vec<&str> = posted.authors.into_iter().collect();
        let members = tx.prefetch_members(&team, &authors).await?;
        tx.prefetch_events(&team, &posted.ids).await?;
        tx.prefetch_bells(&members).await?;
        if let Some(first) = posted.first {
            let reader = bot.reader_of(&team);
            let since = first - RECENT;
            tx.prefetch_sets(&members, since, reader.catalogue())
                .await?;
        }
    }
    Ok(())
}

/// `of_team`: what the event shows of a large team, where that is worked out already.
async fn handle(
    tx: &mut Tx,
    bot: &Bot,
    event: &Event,
    of_team: Option<&Arc<TeamLoaded>>,
) -> Result<Vec<Outgoing>, ServiceError> {
    if let Event::Message(Message {
        team,
        id,
        author,
        name,
        ..
    }) = event
    {
        tx.prefetch_message(team, id, author, name).await?;
    }
    if let Some(key) = event.team() {
        let team = tx.team(key).await?;
        if tx.is_new(&team) {
            plan_digest(tx, &team, &DigestJob::default(), event.at()).await?;
        }
    }
    match event {
        Event::Message(message) => handle_message(tx, bot, message, of_team).await,
        Event::Edit(edit) => requests::edit(tx, bot, edit).await,
        Event::Delete(delete) => requests::delete(tx, bot, delete).await,
        Event::Press(press) => requests::press(tx, bot, press).await,
        Event::Clock(_) => Ok(Vec::new()),
    }
}
