//! What is asked about earlier messages and replies: edits, deletions, presses.
//!
//! Each has an idempotency key. What it was answered is kept under the key in the transaction that
//! stores what it changed, so the same request sent again is answered as before and does nothing twice,
//! whatever came in between. The key is looked up once the member's row is locked: of two processes
//! that get the same request, the second finds what the first stored.

use chrono::{DateTime, Utc};
use sha2::{Digest as _, Sha256};

use super::bot::Bot;
use super::run::UseCaseRun;
use crate::bot::button::ButtonId;
use crate::bot::event::{Delete, Edit, Press};
use crate::bot::intent::{self, Intent};
use crate::bot::needs::Source;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::view::View;
use crate::bot::state::{Member, Remembered, Team};
use crate::bot::text::NOT_YOURS;
use crate::bot::text::own_data::FORGOTTEN;
use crate::service::ServiceError;
use crate::store::responses::Response;
use crate::store::{StoreError, Tx};

/// An edit is the same when it gives the same message the same text at the same time.
fn key_of_edit(edit: &Edit) -> String {
    let at_ms = edit.at.timestamp_millis().to_string();
    format!("edit#{}", digest(&[&edit.id, &at_ms, &edit.text]))
}

/// A message is deleted once.
fn key_of_deletion(delete: &Delete) -> String {
    format!("delete/{}", delete.id)
}

/// A press is told by its id, or else by all of its fields.
fn key_of_press(press: &Press) -> String {
    if let Some(id) = &press.id {
        return format!("press/{id}");
    }
    let at_ms = press.at.timestamp_millis().to_string();
    let fields = [&press.reply, &press.author, &press.button, &at_ms];
    format!("press#{}", digest(&fields.map(String::as_str)))
}

/// 128 bits that differ where any of the fields does.
fn digest(fields: &[&str]) -> String {
    let mut digest = Sha256::new();
    for field in fields {
        digest.update(field.len().to_le_bytes());
        digest.update(field.as_bytes());
    }
    let bytes = digest.finalize();
    let bytes = bytes.iter().take(16);
    bytes.map(|byte| format!("{byte:02x}")).collect()
}

/// Handles an edit.
pub(super) async fn edit(
    tx: &mut Tx,
    bot: &Bot,
    edit: &Edit,
) -> Result<Vec<Outgoing>, ServiceError> {
    let Edit {
        id, team, at, text, ..
    } = edit;
    changed(tx, bot, &key_of_edit(edit), (team, id), *at, Some(text)).await
}

/// Handles a deletion.
pub(super) async fn delete(
    tx: &mut Tx,
    bot: &Bot,
    delete: &Delete,
) -> Result<Vec<Outgoing>, ServiceError> {
    let Delete { id, team, at, .. } = delete;
    changed(tx, bot, &key_of_deletion(delete), (team, id), *at, None).await
}

/// A message of a team says something else from now on, or is gone.
async fn changed(
    tx: &mut Tx,
    bot: &Bot,
    key: &str,
    (team, id): (&str, &str),
    at: DateTime<Utc>,
    text: Option<&str>,
) -> Result<Vec<Outgoing>, ServiceError> {
    let team = tx.team(team).await?;
    let author = author_of(tx, &team, id).await?;
    if let Some(out) = tx.response(&team, key).await? {
        tx.note_repeat();
        return Ok(out);
    }
    let Some((posted, member)) = author else {
        return Ok(Vec::new());
    };
    let source = about(id, &posted, at.timestamp_millis());
    let reader = bot.reader_for(&team, &member.author);
    let stage = UseCaseRun {
        about: posted.at.min(at),
        ..UseCaseRun::new(bot, (&team, &member), &reader, at)
    };
    let read = |view: &View| match text {
        Some(text) => intent::edit(view, id, posted.clone(), text),
        None => Intent::Withdrawn,
    };
    let run = stage.run(tx, &source, read, text.unwrap_or_default(), Some(id));
    let out = Box::pin(run).await?;
    if text.is_none() {
        // An edit that was under way shall not bring it back.
        tx.anonymise(&team, id).await?;
    }
    let response = Response {
        key,
        author: &member.author,
        at,
        outcome: &out,
    };
    tx.keep_response(&team, response).await?;
    Ok(out)
}

/// Who posted an earlier message, and when.
async fn author_of(
    tx: &mut Tx,
    team: &Team,
    id: &str,
) -> Result<Option<(Remembered, Member)>, StoreError> {
    let Some((mut posted, _)) = tx.remembered(team, id).await? else {
        return Ok(None);
    };
    if posted.author.is_empty() {
        // Of an old message its sets tell, if it has any.
        let Some(of_sets) = tx.posted_sets(team, id, posted.at).await? else {
            return Ok(None);
        };
        posted = of_sets;
    }
    let member = tx.member(team, &posted.author).await?;
    Ok(member.map(|member| (posted, member)))
}

/// The source of an edit or a deletion: ids of its replies differ from those of the message.
fn about(id: &str, posted: &Remembered, at_ms: i64) -> Source {
    Source {
        channel: posted.channel.clone(),
        answers: Some(id.to_owned()),
        stem: format!("{id}.at{at_ms}"),
    }
}

/// Handles a press.
pub(super) async fn press(
    tx: &mut Tx,
    bot: &Bot,
    press: &Press,
) -> Result<Vec<Outgoing>, ServiceError> {
    let team = tx.team(&press.team).await?;
    let key = key_of_press(press);
    let member = tx.member(&team, &press.author).await?;
    if let Some(out) = tx.response(&team, &key).await? {
        tx.note_repeat();
        let erased = out.is_empty() && ButtonId::parse(&press.button) == Some(ButtonId::ForgetAll);
        return Ok(match erased {
            // Nothing that names them is kept, so it is said anew.
            true => vec![told(press, format!("{}.1", stem_of(press)), FORGOTTEN)],
            false => out,
        });
    }
    let Some(member) = member else {
        // Somebody who never wrote here owns no button, and is told so like everybody else.
        return Ok(vec![told(press, stem_of(press), NOT_YOURS)]);
    };
    let state = &member.state;
    let pressed = |reply: &String| *reply == press.reply;
    let card = state.cards.values().find(|card| pressed(&card.reply));
    let asked = state.pending.iter().find(|open| pressed(&open.reply));
    let rung = state.rung.iter().find(|rung| pressed(&rung.reply));
    let report = state.hurt.iter().find(|report| pressed(&report.reply));
    let question = state.hurt_asked.iter().find(|ask| pressed(&ask.reply));
    let report = question.map(|ask| &ask.report).or(report);
    let asked_at = asked.map(|open| open.at);
    let channel = card.map(|card| &card.channel);
    let channel = channel.or(asked.map(|open| &open.channel));
    let channel = channel.or(rung.map(|rung| &rung.channel));
    let channel = channel.or(report.map(|report| &report.channel));
    let source = Source {
        channel: channel.cloned().unwrap_or_default(),
        answers: None,
        stem: stem_of(press),
    };
    let reader = bot.reader_for(&team, &member.author);
    let stage = UseCaseRun {
        about: asked_at.unwrap_or(press.at).min(press.at),
        ..UseCaseRun::new(bot, (&team, &member), &reader, press.at)
    };
    let read = |view: &View| intent::press(view, &press.reply, &press.button);
    let out = Box::pin(stage.run(tx, &source, read, "", None)).await?;
    let stays = tx.member(&team, &press.author).await?.is_some();
    let response = Response {
        key: &key,
        // Of one who had everything erased nothing is kept but that the press was worked on.
        author: if stays { &press.author } else { "" },
        at: press.at,
        outcome: if stays { &out } else { &[] },
    };
    tx.keep_response(&team, response).await?;
    Ok(out)
}

/// What the replies to a press are named after. Two presses of one moment are told by their ids.
fn stem_of(press: &Press) -> String {
    let Press { reply, author, .. } = press;
    match &press.id {
        Some(id) => format!("{reply}.{author}.by{id}"),
        None => format!("{reply}.{author}.at{}", press.at.timestamp_millis()),
    }
}

/// Says something for the eyes of whoever pressed alone.
fn told(press: &Press, id: String, text: &str) -> Outgoing {
    Outgoing::Reply(Reply {
        id,
        team: press.team.clone(),
        to: Some(press.author.clone()),
        private: true,
        text: text.to_owned(),
        ..Reply::default()
    })
}
