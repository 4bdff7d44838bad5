//! What was missed: after a start, after a session that could not be resumed, and when a queue was
//! full, each channel's history is read from where it was last worked on. What is found is filed in
//! order, before anything that comes meanwhile. Old messages get their signs and one summary, no
//! cards and no bells; what is only minutes old is answered as if nothing had been missed.

use std::collections::HashSet;
use std::sync::Arc;
use std::time::Duration;

use chrono::TimeDelta;
use reqwest::Method;
use serde::Deserialize;
use serenity::model::id::{ChannelId, GuildId};
use tokio::time::sleep;

use super::adapter::{Adapter, now, team_key};
use super::http::{Call, RestError, Route};
use super::incoming::{by_person, event_of};
use super::outbound::outbox::Ticket;
use super::outbound::permissions::{self, Action, lacks_permission};
use super::outbound::signs::own_of;
use super::wire::{Channel, Id, Message};
use super::{limits, reconcile};
use crate::backoff::Backoff;
use crate::bot::event::Event;
use crate::bot::reply::{Outgoing, Sign};
use crate::bot::text::team_channel::{self as words, Meanwhile};

/// A message that is younger is answered as if it had just come.
pub const FRESH: TimeDelta = TimeDelta::minutes(2);

/// Answers that are no history are asked for again this often.
const UNREADABLE: u32 = 3;

/// Reads a channel's history from where it was last worked on; what comes meanwhile waits. A
/// channel that is being read already is read once more.
pub fn begin(adapter: &Arc<Adapter>, channel: Id) {
    if !adapter.inbox.hold(channel) {
        adapter.again().insert(channel);
        return;
    }
    let adapter = Arc::clone(adapter);
    tokio::spawn(async move {
        let is_direct = adapter.places().bound(channel).is_none();
        let _turn = match is_direct {
            true => adapter.direct_turns.acquire().await.ok(),
            false => None,
        };
        // What waited before comes first, and moves the mark from which the history is read.
        adapter.drained().await;
        let mut tally = CatchUpCounts::default();
        loop {
            adapter.again().remove(&channel);
            reconcile::read(&adapter, channel, &mut tally).await;
            read_on(&adapter, channel, &mut tally).await;
            if !adapter.again().contains(&channel) {
                break;
            }
        }
        summarise(&adapter, channel, &tally).await;
        adapter
            .inbox
            .release(channel, |event| !is_read(&tally.read, event));
    });
}

/// What was taken over without an answer.
#[derive(Debug, Default)]
pub(super) struct CatchUpCounts {
    /// How much it was.
    pub(super) meanwhile: Meanwhile,
    /// Names the last of it.
    pub(super) last: Option<String>,
    /// The messages that were read.
    read: HashSet<Id>,
}

/// Whether a held-back message was read from the history meanwhile.
fn is_read(read: &HashSet<Id>, event: &Event) -> bool {
    let Event::Message(message) = event else {
        return false;
    };
    message.id.parse().is_ok_and(|id| read.contains(&id))
}

/// Reads page after page until there is nothing more.
async fn read_on(adapter: &Arc<Adapter>, channel: Id, tally: &mut CatchUpCounts) {
    let mut backoff = Backoff::new();
    loop {
        let Some((guild, cursor)) = adapter.places().get(channel).map(|p| (p.guild, p.cursor))
        else {
            return;
        };
        match page(adapter, channel, cursor).await {
            Ok(messages) if messages.is_empty() => return,
            Ok(messages) => {
                backoff.reset();
                tally.read.extend(messages.iter().map(|message| message.id));
                file_page(adapter, guild, channel, &messages, tally).await;
                // Whatever kept a message from being filed was logged; it is not read for ever.
                if let Some(last) = messages.last() {
                    adapter.places().worked_on(channel, last.id.get());
                }
            }
            Err(RestError::Refused { .. }) if adapter.places().get(channel).is_none() => return,
            Err(error @ RestError::Refused { .. }) => {
                refused(adapter, channel, &error);
                if adapter.places().bound(channel).is_none() {
                    return;
                }
                // It may be out of sight; it is told when it is back.
                adapter.places().is_away(guild);
                return;
            }
            // What is no history will not become one; what is posted meanwhile is not kept from
            // being read because of it.
            Err(error @ RestError::Unreadable(_)) if backoff.failures() >= UNREADABLE => {
                tracing::warn!(%channel, %error, "a channel's history cannot be read");
                return;
            }
            Err(error) => {
                tracing::warn!(%channel, %error, "a channel's history cannot be read; it is tried again");
                sleep(backoff.next()).await;
            }
        }
    }
}

pub(super) fn refused(adapter: &Adapter, channel: Id, error: &RestError) {
    adapter.note_refusal(error);
    if lacks_permission(error) {
        adapter.tell_missing(channel, permissions::missing(Action::Read, error));
    } else {
        tracing::warn!(%channel, %error, "a channel's history cannot be read");
    }
}

/// The messages after this one, oldest first.
async fn page(adapter: &Adapter, channel: Id, after: u64) -> Result<Vec<Message>, RestError> {
    let mut messages = history_page(adapter, channel, ("after", after)).await?;
    messages.retain(|message| message.id.get() > after);
    messages.sort_by_key(|message| message.id);
    Ok(messages)
}

/// A page of a channel's history before or after a message.
pub(super) async fn history_page(
    adapter: &Adapter,
    channel: Id,
    (side, of): (&'static str, u64),
) -> Result<Vec<Message>, RestError> {
    let channel_id = ChannelId::new(channel.get());
    let mut call = Call::new(Method::GET, Route::ChannelMessages { channel_id });
    call.params = vec![
        ("limit", limits::HISTORY.to_string()),
        (side, of.to_string()),
    ];
    call.patience = Duration::from_secs(300);
    adapter.rest.messages(&call, channel).await
}

async fn file_page(
    adapter: &Arc<Adapter>,
    guild: Id,
    channel: Id,
    messages: &[Message],
    tally: &mut CatchUpCounts,
) {
    let team = team_key(guild);
    for message in messages {
        if !by_person(message, adapter.me()) || adapter.was_turned_away(message.id) {
            continue;
        }
        // What was told meanwhile is kept back and dropped once it is read here.
        adapter.is_new(message.id);
        adapter.saw_sign(message.id, own_of(&message.reactions).pop());
        let coach = is_coach(adapter, guild, &team, message).await;
        let Some(event) = event_of(message, &team, coach, false) else {
            continue;
        };
        let fresh = now() - event.at() < FRESH;
        let Ok(outgoing) = adapter.file(Some(channel), event.clone(), true).await else {
            continue;
        };
        tally.last = Some(message.id.to_string());
        if fresh {
            // An earlier run may have filed it, and posted what came of it.
            adapter.send_all(Some(channel), outgoing, true);
        } else {
            send_quietly(adapter, channel, outgoing, tally).await;
        }
    }
    if let Err(error) = reconcile::took_edits(adapter, &team, messages).await {
        tracing::warn!(%channel, %error, "message edits may be applied twice");
    }
}

/// Sends what came of something of long ago: cards and questions are not posted, but for what answers
/// pain, which is said however late; what stands is brought up to date.
pub(super) async fn send_quietly(
    adapter: &Arc<Adapter>,
    channel: Id,
    outgoing: Vec<(Outgoing, Arc<Ticket>)>,
    tally: &mut CatchUpCounts,
) {
    for (mut one, ticket) in outgoing {
        count(&one, &mut tally.meanwhile);
        if let Outgoing::Reply(reply) = &mut one
            && reply.late
        {
            reply.text = words::read_late(&reply.text);
        }
        let stands = match &one {
            Outgoing::Mark(_) => true,
            Outgoing::Reply(reply) => reply.late,
            Outgoing::Update(reply) => {
                let place = adapter
                    .sent
                    .find(adapter.store(), &reply.team, &reply.id)
                    .await;
                matches!(place, Ok(Some(place)) if !place.gone)
            }
        };
        if stands {
            adapter.send(Some(channel), one, ticket, false);
        } else {
            adapter.outbox.part_done(&ticket);
        }
    }
}

fn count(outgoing: &Outgoing, meanwhile: &mut Meanwhile) {
    if let Outgoing::Reply(reply) = outgoing {
        meanwhile.pain += usize::from(reply.late && !reply.private);
    }
    if let Outgoing::Mark(mark) = outgoing {
        match mark.sign {
            Sign::Filed => meanwhile.filed += 1,
            Sign::Question => meanwhile.questions += 1,
            Sign::Corrected => meanwhile.changed += 1,
            Sign::Removed => meanwhile.removed += 1,
        }
    }
}

/// Histories do not say what roles authors have; what was known of them holds.
async fn is_coach(adapter: &Adapter, guild: Id, team: &str, message: &Message) -> bool {
    let Some(author) = message.author.as_ref() else {
        return false;
    };
    if adapter
        .places()
        .is_coach(guild, author.id, message.member.as_ref())
    {
        return true;
    }
    let known = async {
        let mut tx = adapter.store().begin().await?;
        let team = tx.team(team).await?;
        let member = tx.member(&team, &author.id.to_string()).await?;
        tx.rollback().await?;
        Ok::<_, crate::store::StoreError>(member.is_some_and(|member| member.coach))
    };
    known.await.unwrap_or(false)
}

async fn summarise(adapter: &Adapter, channel: Id, tally: &CatchUpCounts) {
    let (Some(last), false) = (&tally.last, tally.meanwhile.is_nothing()) else {
        return;
    };
    let text = words::caught_up(&tally.meanwhile);
    adapter.say(channel, &format!("away.{last}"), &text).await;
}

/// From where a channel is read that was just bound: after what stands in it by now.
pub async fn first_cursor(adapter: &Adapter, channel: &Channel) -> u64 {
    let floor = channel.id.get();
    if let Some(last) = channel.last_message_id {
        return last.get().max(floor);
    }
    let channel_id = ChannelId::new(floor);
    let mut call = Call::new(Method::GET, Route::ChannelMessages { channel_id });
    call.params = vec![("limit", "1".to_owned())];
    match adapter.rest.messages(&call, channel.id).await {
        Ok(messages) => messages.first().map_or(floor, |last| last.id.get()),
        Err(_) => Id::first_of(now()).get(),
    }
}

/// Finds threads of bound channels that were opened meanwhile, and reads them.
pub async fn find_threads(adapter: Arc<Adapter>, shard: u32) {
    #[derive(Default, Deserialize)]
    struct Active {
        #[serde(default)]
        threads: Vec<Channel>,
    }
    let total = adapter.options.shards.total;
    let mut guilds: Vec<Id> = super::start::channels_of(&adapter, shard, total)
        .into_iter()
        .filter_map(|channel| adapter.places().bound(channel).map(|place| place.guild))
        .collect();
    guilds.sort_unstable();
    guilds.dedup();
    for guild in guilds {
        let guild_id = GuildId::new(guild.get());
        let call = Call::new(Method::GET, Route::GuildThreadsActive { guild_id });
        let mut backoff = Backoff::new();
        let active = loop {
            match adapter.rest.fetch::<Active>(&call).await {
                Ok(active) => break active,
                Err(RestError::TooLate(_)) => sleep(backoff.next()).await,
                Err(error) => {
                    tracing::debug!(%error, "open threads cannot be listed");
                    break Active::default();
                }
            }
        };
        for thread in &active.threads {
            if adapter.thread_seen(thread, Some(guild)) {
                begin(&adapter, thread.id);
            }
        }
    }
}
