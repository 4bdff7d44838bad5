//! What the gateway tells, turned into events in the order in which it was told. Nothing here
//! waits: what must first be looked up holds its channel back and is looked up beside.

use std::collections::HashSet;
use std::sync::{Arc, Mutex, PoisonError};

use reqwest::Method;
use serde::de::DeserializeOwned;
use serenity::model::id::ChannelId;
use tokio::time::sleep;

use super::adapter::{Adapter, TEAM, now, team_key};
use super::backoff::Backoff;
use super::gateway::EventHandler;
use super::guard::Verdict;
use super::http::{Call, RestError, Route};
use super::inbox::{Item, Taken};
use super::wire::{self, Channel, Edited, Gone, GuildGone, Id, Interaction, Ready, Threads};
use super::{catch_up, interactions, start};
use crate::bot::event::{Delete, Edit, Event, Message};
use crate::bot::text::team_channel as words;
use crate::channel::admit;
use crate::store::discord::BoundChannel;

/// Listens for the adapter.
#[derive(Debug)]
pub struct Listener {
    adapter: Arc<Adapter>,
    /// Kinds of events of which one could not be read; the operator is told of each once.
    unreadable: Mutex<HashSet<String>>,
}

impl Listener {
    /// Listens for this adapter.
    pub fn new(adapter: Arc<Adapter>) -> Self {
        let unreadable = Mutex::default();
        Self {
            adapter,
            unreadable,
        }
    }

    /// Reads an event and hands it on; one that cannot be read is noted, without what it says.
    fn read<T: DeserializeOwned>(&self, name: &str, data: &str, then: impl FnOnce(T)) {
        let error = match serde_json::from_str(data) {
            Ok(event) => return then(event),
            Err(error) => error,
        };
        let (line, column) = (error.line(), error.column());
        tracing::debug!(name, line, column, "an event cannot be read");
        let mut told = self
            .unreadable
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if told.insert(name.to_owned()) {
            let kind = error.classify();
            tracing::warn!(
                name,
                ?kind,
                "an event of this kind could not be read and was passed over; what it said is lost. \
                 If it goes on, look for a newer version of chalkbell"
            );
        }
    }
}

impl EventHandler for Listener {
    fn on_ready(&self, shard: u32, ready: &Ready) {
        let first = self
            .adapter
            .own
            .set((ready.user.id, ready.application()))
            .is_ok();
        if first {
            tokio::spawn(start::introduce(Arc::clone(&self.adapter)));
        }
        let total = self.adapter.options.shards.total;
        for channel in start::channels_of(&self.adapter, shard, total) {
            self.adapter.places().begins(channel);
            catch_up::begin(&self.adapter, channel);
        }
        tokio::spawn(catch_up::find_threads(Arc::clone(&self.adapter), shard));
    }

    fn on_dispatch(&self, _shard: u32, name: &str, data: &str) {
        let adapter = &self.adapter;
        match name {
            "MESSAGE_CREATE" => self.read(name, data, |message| adapter.heard(message, false)),
            "MESSAGE_UPDATE" => self.read(name, data, |message| adapter.heard(message, true)),
            "MESSAGE_DELETE" | "MESSAGE_DELETE_BULK" => {
                self.read(name, data, |gone| adapter.withdrawn(&gone))
            }
            "INTERACTION_CREATE" => self.read(name, data, |one: Interaction| {
                interactions::begin(adapter, one);
            }),
            "THREAD_CREATE" | "THREAD_UPDATE" => self.read(name, data, |thread: Channel| {
                adapter.thread_seen(&thread, None);
            }),
            "GUILD_CREATE" | "THREAD_LIST_SYNC" => self.read(name, data, |threads: Threads| {
                if name == "GUILD_CREATE" {
                    adapter.community_is_back(threads.id);
                }
                for thread in &threads.threads {
                    // It may have been opened while nobody listened.
                    if adapter.thread_seen(thread, Some(threads.id)) {
                        catch_up::begin(adapter, thread.id);
                    }
                }
            }),
            "GUILD_DELETE" => self.read(name, data, |gone: GuildGone| {
                if gone.unavailable {
                    adapter.places().is_away(gone.id);
                } else {
                    adapter.community_gone(gone.id);
                }
            }),
            "CHANNEL_DELETE" | "THREAD_DELETE" => self.read(name, data, |channel: wire::Named| {
                adapter.forget_place(channel.id);
            }),
            // What the bot may do in a channel may have changed.
            "CHANNEL_UPDATE" => self.read(name, data, |channel: wire::Named| {
                adapter.queues.reopen(Some(channel.id));
            }),
            "GUILD_ROLE_UPDATE" | "GUILD_MEMBER_UPDATE" => adapter.queues.reopen(None),
            _ => tracing::trace!(name, "an event that is of no use here"),
        }
    }
}

/// Whether a person wrote a message, and not a program or the platform: plain messages and
/// answers. *resources/message#message-object-message-types*.
pub fn by_person(message: &wire::Message, own: Option<Id>) -> bool {
    let author = message.author.as_ref();
    let person = author.is_some_and(|user| !user.bot && !user.system && Some(user.id) != own);
    person && !message.by_webhook && matches!(message.kind, 0 | 19)
}

/// Whether a change tells what a message says now and not whose it is. Whether it was a person's is
/// then known from what was filed of it.
fn tells_no_author(message: &wire::Message) -> bool {
    message.author.is_none() && !message.by_webhook && matches!(message.kind, 0 | 19)
}

/// The event that a message is; `None` where it says nothing.
pub fn event_of(message: &wire::Message, team: &str, coach: bool, edited: bool) -> Option<Event> {
    let text = message
        .content
        .clone()
        .filter(|text| !text.trim().is_empty() || edited)?;
    let id = message.id.to_string();
    let team = team.to_owned();
    let mut event = if edited {
        let at = match message.edited_timestamp {
            Edited::At(at) => at,
            Edited::Untold => now(),
            // Something else of it changed, as when a link gets its preview.
            Edited::Never => return None,
        };
        Event::Edit(Edit { id, team, at, text })
    } else {
        let author = message.author.as_ref()?;
        Event::Message(Message {
            id,
            team,
            channel: message.channel_id.to_string(),
            author: author.id.to_string(),
            name: wire::shown_name(author, message.member.as_ref()),
            coach,
            at: message.timestamp.unwrap_or_else(|| message.id.at()),
            text,
        })
    };
    if let Err(error) = admit(&mut event) {
        tracing::debug!(%error, "a message is not let in");
        return None;
    }
    Some(event)
}

impl Adapter {
    /// The bot's own user.
    pub(super) fn me(&self) -> Option<Id> {
        self.own.get().map(|(user, _)| *user)
    }

    /// A message came, or was changed.
    fn heard(self: &Arc<Self>, message: wire::Message, edited: bool) {
        let by_person = by_person(&message, self.me());
        if !(by_person || edited && tells_no_author(&message)) {
            return;
        }
        let channel = message.channel_id;
        let Some(guild) = message.guild_id.or_else(|| self.guild_of_place(channel)) else {
            self.heard_in_private(message, edited);
            return;
        };
        let bound = self.places().bound(channel).is_some();
        if !bound && !self.places().might_be(guild, channel) {
            return;
        }
        let user = message.author.as_ref().map(|user| user.id);
        let coach = user.is_some_and(|user| {
            let places = self.places();
            places.is_coach(guild, user, message.member.as_ref())
        });
        let Some(event) = event_of(&message, &team_key(guild), coach, edited) else {
            return;
        };
        if !edited && !user.is_some_and(|user| self.lets_in(&message, guild, user)) {
            return;
        }
        if !bound && self.inbox.hold(channel) {
            tokio::spawn(look_up(Arc::clone(self), guild, channel));
        }
        self.take(channel, event);
    }

    /// The community of a bound channel.
    fn guild_of_place(&self, channel: Id) -> Option<Id> {
        self.places().bound(channel).map(|place| place.guild)
    }

    /// Puts an event into the queue; without room its channel is read anew.
    fn take(self: &Arc<Self>, channel: Id, event: Event) {
        let item = Item {
            channel: Some(channel),
            event: Some(event),
            answer: None,
        };
        if self.inbox.push(item) == Taken::Full {
            catch_up::begin(self, channel);
        }
    }

    /// Whether a new message is taken: it is no repeat, and its author does not flood.
    fn lets_in(
        self: &Arc<Self>,
        message: &wire::Message,
        guild: impl Into<Option<Id>>,
        user: Id,
    ) -> bool {
        if !self.is_new(message.id) {
            return false;
        }
        match self.writes_too_much(guild.into(), user) {
            Verdict::Fine => true,
            verdict => {
                self.turn_away(message.id);
                if verdict == Verdict::TellOnce {
                    let (adapter, channel) = (Arc::clone(self), message.channel_id);
                    let name = format!("fast.{}", message.id);
                    tokio::spawn(async move { adapter.say(channel, &name, words::TOO_FAST).await });
                }
                false
            }
        }
    }

    /// Somebody writes to the bot alone: it speaks to the team that they are a member of.
    fn heard_in_private(self: &Arc<Self>, message: wire::Message, edited: bool) {
        let (channel, user) = (message.channel_id, message.author.as_ref().map(|u| u.id));
        // One process answers private messages: the platform sends them to the first shard.
        if !edited && !user.is_some_and(|user| self.lets_in(&message, None, user)) {
            return;
        }
        if let Some(user) = user {
            self.writes_to().insert(user, channel);
        }
        let known = self.private().get(&channel).cloned();
        if let Some((team, coach)) = known {
            if let Some(event) = event_of(&message, &team, coach, edited) {
                self.take(channel, event);
            }
            return;
        }
        let Some(user) = user else { return };
        let adapter = Arc::clone(self);
        tokio::spawn(async move {
            match adapter.team_of(user).await {
                Some(known) => {
                    adapter.private().insert(channel, known.clone());
                    // Before it is worked on: from it on the channel is read after an outage.
                    let before = message.id.get().saturating_sub(1);
                    adapter.keep_direct(channel, user, &known.0, before).await;
                    if let Some(event) = event_of(&message, &known.0, known.1, edited) {
                        adapter.take(channel, event);
                    }
                }
                None if !edited => {
                    adapter
                        .say(channel, &message.id.to_string(), words::NO_TEAM)
                        .await;
                }
                None => {}
            }
        });
    }

    /// The teams that somebody is in.
    pub(super) async fn teams_of(&self, user: Id) -> Vec<String> {
        let found = async {
            let mut tx = self.store().begin().await?;
            let teams = tx.teams_of(&user.to_string()).await?;
            tx.rollback().await?;
            Ok::<_, crate::store::StoreError>(teams)
        };
        found.await.unwrap_or_default()
    }

    /// The team that somebody joined last, and whether they coach it.
    pub(super) async fn team_of(&self, user: Id) -> Option<(String, bool)> {
        let author = user.to_string();
        let mut tx = self.store().begin().await.ok()?;
        let teams = tx.teams_of(&author).await.ok()?;
        let key = teams.into_iter().rfind(|key| key.starts_with(TEAM))?;
        let team = tx.team(&key).await.ok()?;
        let coach = tx.member(&team, &author).await.ok()??.coach;
        tx.rollback().await.ok()?;
        Some((key, coach))
    }

    /// Messages are gone.
    fn withdrawn(self: &Arc<Self>, gone: &Gone) {
        let channel = gone.channel_id;
        let team = match (self.guild_of_place(channel), gone.guild_id) {
            (Some(guild), _) => team_key(guild),
            (None, Some(_)) => return,
            (None, None) => match self.private().get(&channel) {
                Some((team, _)) => team.clone(),
                None => return,
            },
        };
        let at = now();
        for id in gone.id.iter().chain(&gone.ids) {
            self.sent.message_gone(*id);
            let mut event = Event::Delete(Delete {
                id: id.to_string(),
                team: team.clone(),
                at,
            });
            if admit(&mut event).is_ok() {
                self.take(channel, event);
            }
        }
    }

    /// A thread is there; it is read if its channel is.
    pub(super) fn thread_seen(self: &Arc<Self>, thread: &Channel, guild: Option<Id>) -> bool {
        let Some(parent) = thread.thread_of() else {
            return false;
        };
        let (known, of_parent) = {
            let places = self.places();
            (places.get(thread.id).is_some(), places.get(parent).cloned())
        };
        let Some(of_parent) = of_parent.filter(|_| !known) else {
            return false;
        };
        let place = BoundChannel {
            id: thread.id.get(),
            guild: thread.guild_id.or(guild).unwrap_or(of_parent.guild).get(),
            parent: Some(parent.get()),
            name: thread.name.clone().unwrap_or_default(),
            // What was said in it before its channel was read is not read.
            cursor: of_parent.began.max(thread.id.get()),
        };
        self.bind(place);
        true
    }

    /// A place is read from now on.
    pub(super) fn bind(self: &Arc<Self>, place: BoundChannel) {
        self.places().bind(&place);
        let adapter = Arc::clone(self);
        tokio::spawn(async move {
            if let Err(error) = adapter.store_place(&place).await {
                tracing::warn!(%error, "a channel could not be kept as bound");
            }
        });
    }

    /// Stores a place.
    pub(super) async fn store_place(
        &self,
        place: &BoundChannel,
    ) -> Result<(), crate::store::StoreError> {
        let mut tx = self.store().begin().await?;
        tx.bind_channel(place).await?;
        tx.commit().await
    }

    /// The bot was removed from a community: its channels are read no longer. What was filed of its
    /// team is kept, as members may come back to it. *topics/gateway-events#guild-delete*.
    fn community_gone(self: &Arc<Self>, guild: Id) {
        let channels = self.places().of_community(guild);
        if channels.is_empty() {
            return;
        }
        tracing::warn!(
            %guild,
            "the bot was removed from a community; its channels are read no longer. To go on, invite \
             it again and write `/settings bind` in the channel"
        );
        for channel in channels {
            self.forget_place(channel);
        }
    }

    /// A community is in sight: if it was out of sight because of trouble, its channels are read
    /// from where they were last worked on.
    fn community_is_back(self: &Arc<Self>, guild: Id) {
        let channels = self.places().is_back(guild);
        for channel in channels {
            catch_up::begin(self, channel);
        }
    }

    /// A channel or thread is no more.
    pub(super) fn forget_place(self: &Arc<Self>, channel: Id) {
        if !self.places().unbind(channel) {
            return;
        }
        let adapter = Arc::clone(self);
        tokio::spawn(async move {
            if let Ok(mut tx) = adapter.store().begin().await
                && tx.unbind_channel(channel.get()).await.is_ok()
            {
                // At worst the channel is found gone again after the next start.
                let _ = tx.commit().await;
            }
        });
    }
}

/// Looks up whether a channel is a thread of one that is read. What came of it is kept back until
/// then, and let go or forgotten after.
async fn look_up(adapter: Arc<Adapter>, guild: Id, channel: Id) {
    let channel_id = ChannelId::new(channel.get());
    let call = Call::new(Method::GET, Route::Channel { channel_id });
    let mut backoff = Backoff::new();
    let found = loop {
        match adapter.rest.fetch::<Channel>(&call).await {
            Err(RestError::TooLate(why)) => {
                tracing::warn!(%channel, %why, "a channel cannot be looked up; it is tried again");
                sleep(backoff.next()).await;
            }
            found => break found,
        }
    };
    let ours = found.is_ok_and(|found| adapter.thread_seen(&found, Some(guild)))
        || adapter.places().get(channel).is_some();
    if !ours {
        adapter.places().is_other(channel);
    }
    adapter.inbox.release(channel, |_| ours);
}
