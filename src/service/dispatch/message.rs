//! A message inside a transaction.

use std::sync::Arc;

use chrono::DateTime;

use super::bot::Bot;
use super::run::UseCaseRun;
use crate::bot::event::Message;
use crate::bot::intent::{self};
use crate::bot::needs::Source;
use crate::bot::needs::TeamLoaded;
use crate::bot::reply::Outgoing;
use crate::bot::state::view::View;
use crate::bot::state::{Remembered, Team};
use crate::service::ServiceError;
use crate::store::{StoreError, Tx};

pub(super) async fn handle_message(
    tx: &mut Tx,
    bot: &Bot,
    message: &Message,
    of_team: Option<&Arc<TeamLoaded>>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let team = tx.team(&message.team).await?;
    if let Some((_, outcome)) = tx.remembered(&team, &message.id).await? {
        tx.note_repeat();
        return Ok(outcome);
    }
    if is_erased(tx, &team, message).await? {
        tx.remember(&team, &message.id, &nobodys(), &[]).await?;
        return Ok(Vec::new());
    }
    let member = tx
        .member_or_new(&team, &message.author, &message.name, message.coach)
        .await?;
    let source = Source {
        channel: message.channel.clone(),
        answers: Some(message.id.clone()),
        stem: message.id.clone(),
    };
    let reader = bot.reader_for(&team, &message.author);
    let stage = UseCaseRun {
        of_team,
        ..UseCaseRun::new(bot, (&team, &member), &reader, message.at)
    };
    let read = |view: &View| intent::message(view, &message.text);
    let out = Box::pin(stage.run(tx, &source, read, &message.text, None)).await?;
    if tx.member(&team, &message.author).await?.is_some() {
        let kept = Remembered {
            author: message.author.clone(),
            channel: message.channel.clone(),
            at: message.at,
        };
        tx.remember(&team, &message.id, &kept, &out).await?;
    } else {
        // It had everything of its author erased, and is no exception.
        tx.remember(&team, &message.id, &nobodys(), &[]).await?;
    }
    Ok(out)
}

/// Whether a message is from before everything of its author was erased.
pub(super) async fn is_erased(
    tx: &mut Tx,
    team: &Team,
    message: &Message,
) -> Result<bool, StoreError> {
    let since = match tx.member(team, &message.author).await? {
        Some(member) => member.profile.since,
        None => tx.erased(team, &message.author).await?,
    };
    Ok(since.is_some_and(|since| message.at < since))
}

/// A message of which nothing is kept but that it was worked on.
const fn nobodys() -> Remembered {
    Remembered {
        author: String::new(),
        channel: String::new(),
        at: DateTime::UNIX_EPOCH,
    }
}
