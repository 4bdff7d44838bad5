//! What was changed or taken away while nobody listened: a channel's latest messages are read once
//! more and held against what was filed of them.
//!
//! A change is known by its time, a deletion by a message that is missing between others that are
//! there. Nothing is concluded from a history that comes empty: so it does, too, where the bot may
//! not read it. *resources/message#get-channel-messages*. *Absent:* messages older than
//! [`BACK`] or the last [`PAGES`] pages, and private channels, where questions are asked.

use std::collections::HashSet;
use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};

use super::adapter::{Adapter, now, team_key};
use super::catch_up::{CatchUpCounts, FRESH, history_page, refused, send_quietly};
use super::http::RestError;
use super::incoming::event_of;
use super::limits;
use super::wire::{Id, Message};
use crate::bot::event::{Delete, Edit, Event};
use crate::store::StoreError;

/// How much older than the last message worked on one may be whose change is looked for. A session is corrected on its day or the
/// next; common practice, no source.
const BACK: TimeDelta = TimeDelta::hours(48);
/// Pages of a history that are read for it at most.
const PAGES: usize = 10;

/// A stretch of a channel's history.
struct Read {
    /// All messages from this one on were read.
    from: u64,
    messages: Vec<Message>,
}

/// Takes over what was changed or taken away among the messages worked on before.
pub(super) async fn read(adapter: &Arc<Adapter>, channel: Id, tally: &mut CatchUpCounts) {
    let Some((guild, cursor)) = adapter.places().get(channel).map(|p| (p.guild, p.cursor)) else {
        return;
    };
    let team = team_key(guild);
    // Held against the last message and not against the clock: ids need not tell the time.
    let after = cursor.saturating_sub(Id::span_of(BACK));
    // What was filed last may be behind the cursor, which is stored a little later.
    let held = match held(adapter, &team, channel, (after, highest_like(cursor))).await {
        Ok(held) => held,
        Err(error) => {
            tracing::warn!(%channel, %error, "cannot compare logged sets with the channel history");
            return;
        }
    };
    let (Some(oldest), Some(newest)) = (held.first(), held.last()) else {
        return;
    };
    let newest = newest.id.max(cursor);
    let history = match history(adapter, channel, (oldest.id, newest)).await {
        Ok(history) => history,
        Err(error) => return refused(adapter, channel, &error),
    };
    for event in differences(&team, &held, &history) {
        let name = format!("{}.at{}", id_of(&event), event.at().timestamp_millis());
        let fresh = now() - known_by(&event) < FRESH;
        let Ok(outgoing) = adapter.file(Some(channel), event, true).await else {
            continue;
        };
        tally.last = Some(name);
        if fresh {
            adapter.send_all(Some(channel), outgoing, true);
        } else {
            send_quietly(adapter, channel, outgoing, tally).await;
        }
    }
}

/// A message that was worked on.
struct Held {
    id: u64,
    /// When its content was last taken over, in milliseconds: with the message, or a later change.
    edited_ms: i64,
}

async fn held(
    adapter: &Adapter,
    team: &str,
    channel: Id,
    (after, up_to): (u64, u64),
) -> Result<Vec<Held>, StoreError> {
    let mut tx = adapter.store().begin().await?;
    let team = tx.team(team).await?;
    let ids = tx.answered_in(&team, channel.get(), (after, up_to)).await?;
    let edits = match ids.first() {
        Some(&first) => tx.edits_since(&team, first).await?,
        None => return tx.rollback().await.map(|()| Vec::new()),
    };
    tx.rollback().await?;
    let one = |id| Held {
        id,
        edited_ms: edits.get(&id).map_or(0, |at| at.timestamp_millis()),
    };
    Ok(ids.into_iter().map(one).collect())
}

/// The highest number with as many digits.
fn highest_like(number: u64) -> u64 {
    match 10_u64.checked_pow(number.max(1).ilog10() + 1) {
        Some(next) => next - 1,
        None => u64::MAX,
    }
}

/// The messages from this one to that, as far back as is read; the latest first.
async fn history(
    adapter: &Adapter,
    channel: Id,
    (first, last): (u64, u64),
) -> Result<Read, RestError> {
    let mut read = Read {
        from: last.saturating_add(1),
        messages: Vec::new(),
    };
    for _ in 0..PAGES {
        let page = page_before(adapter, channel, read.from).await?;
        let whole = page.len() < usize::from(limits::HISTORY);
        let Some(lowest) = page.iter().map(|message| message.id.get()).min() else {
            // Nothing more; or nothing that may be read, when it was the first.
            break;
        };
        read.messages.extend(page);
        // Before a page that is not full there is nothing.
        read.from = if whole { first.min(lowest) } else { lowest };
        if read.from <= first {
            break;
        }
    }
    Ok(read)
}

async fn page_before(
    adapter: &Adapter,
    channel: Id,
    before: u64,
) -> Result<Vec<Message>, RestError> {
    let mut page = history_page(adapter, channel, ("before", before)).await?;
    page.retain(|message| message.id.get() < before);
    Ok(page)
}

/// What the history says otherwise than was filed: changes in the order in which they were made, then
/// what is gone.
fn differences(team: &str, held: &[Held], history: &Read) -> Vec<Event> {
    let mut changes = Vec::new();
    for message in &history.messages {
        let known = held.iter().find(|one| one.id == message.id.get());
        let later = known.is_some_and(|known| {
            message
                .edited_timestamp
                .at()
                .is_some_and(|at| at.timestamp_millis() > known.edited_ms)
        });
        if later {
            changes.extend(event_of(message, team, false, true));
        }
    }
    changes.sort_by_key(Event::at);
    let there: HashSet<u64> = history.messages.iter().map(|one| one.id.get()).collect();
    let gone = held
        .iter()
        .filter(|one| one.id >= history.from && !there.contains(&one.id));
    changes.extend(gone.map(|one| {
        Event::Delete(Delete {
            id: one.id.to_string(),
            team: team.to_owned(),
            at: now(),
        })
    }));
    changes
}

/// By when it had happened at the earliest: of a deletion only the message's own time is known.
fn known_by(event: &Event) -> DateTime<Utc> {
    let posted = id_of(event).parse().map(Id::at);
    match event {
        Event::Delete(delete) => posted.unwrap_or(delete.at),
        other => other.at(),
    }
}

fn id_of(event: &Event) -> &str {
    match event {
        Event::Edit(Edit { id, .. }) | Event::Delete(Delete { id, .. }) => id,
        _ => "",
    }
}

/// Messages were filed as they are after these changes.
pub(super) async fn took_edits(
    adapter: &Adapter,
    team: &str,
    messages: &[Message],
) -> Result<(), StoreError> {
    let edited = |one: &Message| Some((one.id.get(), one.edited_timestamp.at()?));
    let edits: Vec<_> = messages.iter().filter_map(edited).collect();
    if edits.is_empty() {
        return Ok(());
    }
    let mut tx = adapter.store().begin().await?;
    let team = tx.team(team).await?;
    for (message, at) in edits {
        tx.took_edit(&team, message, at).await?;
    }
    tx.commit().await
}
