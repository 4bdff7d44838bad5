//! What is sent, channel by channel in its [`super::lanes`], so that a slow channel holds up no
//! other.

use std::sync::Arc;
use std::time::Duration;

use reqwest::Method;
use serde_json::json;
use serenity::builder::CreateAttachment;
use serenity::model::id::{ChannelId, MessageId};
use tokio::time::Instant;

use super::body::{Body, nonce, of_reply, of_text, of_update};
use super::house::{House, guild_of};
use super::lanes::{Job, SignJob};
use super::ledger::Ticket;
use super::rest::{Call, RestError};
use super::route::Route;
use super::wire::{Id, Named};
use crate::bot::reply::{Mark, Outgoing, Reply, Sign};
use crate::bot::words::team_channel as words;
use crate::channel::gallery::drawn;

/// A card that waited longer is of no use to anybody.
const CARD_WAITS: Duration = Duration::from_secs(300);
/// A post is tried for this long, an edit or a sign for half a minute less than a card waits.
const PATIENCE: Duration = Duration::from_secs(600);
/// Posts whose answer cannot be read are made again, with the same nonce, this often.
const UNREADABLE: u32 = 3;

impl House {
    /// Sends one thing in its turn. `check` where it may have been sent before the start.
    pub fn send(
        self: &Arc<Self>,
        channel: Option<Id>,
        outgoing: Outgoing,
        tickets: Vec<Arc<Ticket>>,
        check: bool,
    ) {
        match outgoing {
            Outgoing::Reply(reply) => self.put(reply, false, check, tickets),
            Outgoing::Update(reply) => self.put(reply, true, check, tickets),
            Outgoing::Mark(mark) => self.put_mark(channel, mark, tickets),
        }
    }

    fn put(self: &Arc<Self>, reply: Reply, update: bool, check: bool, tickets: Vec<Arc<Ticket>>) {
        // What is for one member alone waits behind nothing that is not.
        let to = reply.to.as_deref().filter(|_| is_whisper(&reply));
        let Ok(channel) = to.unwrap_or(&reply.channel).parse::<Id>() else {
            tracing::debug!("a reply has no channel");
            return;
        };
        let since = Instant::now();
        let job = Job {
            reply,
            update,
            check,
            tickets,
            since,
        };
        if self.lanes.put(channel, job) {
            let house = Arc::clone(self);
            tokio::spawn(async move {
                while let Some(job) = house.lanes.next(channel) {
                    house.deliver(channel, job).await;
                }
            });
        }
    }

    fn put_mark(self: &Arc<Self>, channel: Option<Id>, mark: Mark, tickets: Vec<Arc<Ticket>>) {
        // Commands have no message that could carry a sign.
        let Ok(message) = mark.answers.parse::<Id>() else {
            return;
        };
        let job = SignJob {
            message,
            sign: mark.sign,
            _tickets: tickets,
        };
        let at_hand = channel.filter(|_| self.was_seen(message));
        let house = Arc::clone(self);
        if let Some(channel) = at_hand {
            house.begin_signs(channel, job);
            return;
        }
        tokio::spawn(async move {
            let stands = house.channel_of(&mark).await.or(channel);
            if let Some(stands) = stands {
                house.begin_signs(stands, job);
            }
        });
    }

    fn begin_signs(self: &Arc<Self>, channel: Id, job: SignJob) {
        if self.lanes.put_sign(channel, job) {
            let house = Arc::clone(self);
            tokio::spawn(async move {
                // The card's request, made just now, shall leave before this one is made.
                tokio::task::yield_now().await;
                while let Some(job) = house.lanes.next_sign(channel) {
                    house.sign(channel, job.message, job.sign).await;
                }
            });
        }
    }

    /// Where a member's earlier message stands.
    async fn channel_of(&self, mark: &Mark) -> Option<Id> {
        let mut tx = self.store().begin().await.ok()?;
        let team = tx.team(&mark.team).await.ok()?;
        let remembered = tx.remembered(&team, &mark.answers).await.ok()?;
        tx.rollback().await.ok()?;
        remembered?.0.channel.parse().ok()
    }

    async fn deliver(&self, lane: Id, job: Job) {
        if job.is_card() && job.since.elapsed() > CARD_WAITS {
            tracing::info!("a card waited too long and is left out");
            return;
        }
        let Job {
            reply,
            update,
            check,
            ..
        } = &job;
        let place = if *update || *check {
            self.ledger
                .place_of(self.store(), &reply.team, &reply.id)
                .await
                .unwrap_or_default()
        } else {
            self.ledger.at_hand(&reply.team, &reply.id)
        };
        let done = match place {
            Some(_) if !*update => Ok(()),
            Some((channel, message)) if reply.text.is_empty() => {
                self.take_back(reply, channel, message).await
            }
            Some((channel, message)) => self.change(reply, channel, message).await,
            None if reply.text.is_empty() => Ok(()),
            None if is_whisper(reply) => self.whisper(reply, *check).await,
            None => match self.stood(reply, lane, *check).await {
                Some((channel, message)) if *update => self.change(reply, channel, message).await,
                Some(_) => Ok(()),
                None => self.post(reply, lane).await,
            },
        };
        if let Err(error) = done {
            self.failed(lane, &error).await;
        }
    }

    /// Posts a reply; its last message is the one that is changed later.
    async fn post(&self, reply: &Reply, channel: Id) -> Result<(), RestError> {
        let mut last = None;
        for (part, body) in of_reply(reply).iter().enumerate() {
            let nonce = nonce(&reply.team, &reply.id, part);
            last = Some(self.post_body(channel, body, &nonce, reply).await?);
        }
        if let Some(message) = last {
            self.ledger.posted(&reply.team, &reply.id, channel, message);
        }
        Ok(())
    }

    /// Where a reply of an earlier run stands in the channel after all, if that is to be looked for.
    /// Nonces are only compared for some minutes, so the latest messages are looked through.
    async fn stood(&self, reply: &Reply, channel: Id, look: bool) -> Option<(Id, Id)> {
        if !look {
            return None;
        }
        let bodies = of_reply(reply);
        let last = bodies.last()?;
        let nonce = nonce(&reply.team, &reply.id, bodies.len() - 1);
        let channel_id = ChannelId::new(channel.get());
        let mut call = Call::new(Method::GET, Route::ChannelMessages { channel_id });
        call.params = vec![("limit", super::limits::HISTORY.to_string())];
        let messages = self.rest.messages(&call, channel).await.ok()?;
        let me = self.me();
        // It answers a message, so it stands behind that.
        let behind = reply.answers.as_deref().and_then(|id| id.parse().ok());
        let is_it = |message: &&super::wire::Message| {
            let by_bot = message
                .author
                .as_ref()
                .is_some_and(|user| user.bot || Some(user.id) == me);
            if behind.is_some_and(|behind: Id| message.id <= behind) {
                return false;
            }
            let named = message
                .nonce
                .as_ref()
                .is_some_and(|said| said.as_str() == Some(&nonce));
            by_bot && (named || message.content.as_deref() == Some(last.content.as_str()))
        };
        let message = messages.iter().find(is_it)?.id;
        self.ledger.posted(&reply.team, &reply.id, channel, message);
        Some((channel, message))
    }

    /// One message. An answer that cannot be read means that it perhaps stands: it is posted again
    /// with the same nonce, which makes no second one.
    async fn post_body(
        &self,
        channel: Id,
        body: &Body,
        nonce: &str,
        reply: &Reply,
    ) -> Result<Id, RestError> {
        let channel_id = ChannelId::new(channel.get());
        let mut call =
            Call::new(Method::POST, Route::ChannelMessages { channel_id }).json(&body.post(nonce));
        call.patience = PATIENCE;
        if !body.files.is_empty() {
            call.files = files(reply).await;
        }
        let mut tries = 0;
        loop {
            match self.rest.fetch::<Named>(&call).await {
                Ok(message) => return Ok(message.id),
                Err(RestError::Unreadable(_)) if tries < UNREADABLE => tries += 1,
                Err(error) => return Err(error),
            }
        }
    }

    async fn change(&self, reply: &Reply, channel: Id, message: Id) -> Result<(), RestError> {
        let route = message_route(channel, message);
        let body = of_update(reply).edit();
        let done = self
            .rest
            .send(&Call::new(Method::PATCH, route).json(&body))
            .await;
        match done {
            Err(error) if error.code() == UNKNOWN_MESSAGE => {
                self.ledger.gone(&reply.team, &reply.id);
                if is_whisper(reply) {
                    // An answer to a command that only its member saw; it does not stand for long.
                    return self.whisper(reply, false).await;
                }
                self.post(reply, channel).await
            }
            done => done.map(drop),
        }
    }

    async fn take_back(&self, reply: &Reply, channel: Id, message: Id) -> Result<(), RestError> {
        let route = message_route(channel, message);
        self.ledger.gone(&reply.team, &reply.id);
        let done = self.rest.send(&Call::new(Method::DELETE, route)).await;
        unless_gone(done)
    }

    /// Says something to one member alone, in private. `check` where it may have been said before
    /// the start.
    async fn whisper(&self, reply: &Reply, check: bool) -> Result<(), RestError> {
        let Some(user) = reply.to.as_deref().and_then(|to| to.parse::<Id>().ok()) else {
            return Ok(());
        };
        let channel = reply.channel.parse().ok();
        let own = channel.filter(|id| self.private().contains_key(id));
        let said = match own {
            Some(channel) => self.post(reply, channel).await,
            None => match self.private_channel(user).await {
                Ok(channel) if self.stood(reply, channel, check).await.is_some() => Ok(()),
                Ok(channel) => self.post(reply, channel).await,
                Err(error) => Err(error),
            },
        };
        match (said, channel) {
            // They take no messages from strangers. *topics/opcodes-and-status-codes*.
            (Err(error), Some(channel)) if error.code() == CANNOT_WRITE && wants_hint(reply) => {
                let hint = Reply {
                    text: words::NO_PRIVATE.to_owned(),
                    private: false,
                    buttons: Vec::new(),
                    files: Vec::new(),
                    ..reply.clone()
                };
                self.post(&hint, channel).await
            }
            (Err(error), _) if error.code() == CANNOT_WRITE => Ok(()),
            (said, _) => said,
        }
    }

    /// The channel in which a member is written to.
    async fn private_channel(&self, user: Id) -> Result<Id, RestError> {
        let known = self.writes_to().get(&user).copied();
        if let Some(channel) = known {
            return Ok(channel);
        }
        let call = Call::new(Method::POST, Route::UserMeDmChannels)
            .json(&json!({ "recipient_id": user.to_string() }));
        let channel: Named = self.rest.fetch(&call).await?;
        self.writes_to().insert(user, channel.id);
        Ok(channel.id)
    }

    /// Puts a sign on a member's message, in place of the one before.
    async fn sign(&self, channel: Id, message: Id, sign: Sign) {
        let before = self.lanes.signed(message, sign);
        let mut gone: Vec<&str> = before
            .filter(|b| *b != sign)
            .map(emoji)
            .into_iter()
            .collect();
        if sign == Sign::Removed && before.is_none() {
            gone.extend([emoji(Sign::Filed), emoji(Sign::Question)]);
        }
        let mut done = self.react(Method::PUT, channel, message, emoji(sign)).await;
        for reaction in gone {
            let taken = self.react(Method::DELETE, channel, message, reaction).await;
            done = done.and(taken);
        }
        if let Err(error) = done {
            self.failed(channel, &error).await;
        }
    }

    async fn react(
        &self,
        method: Method,
        channel: Id,
        message: Id,
        reaction: &str,
    ) -> Result<(), RestError> {
        let route = Route::ChannelMessageReactionMe {
            channel_id: ChannelId::new(channel.get()),
            message_id: MessageId::new(message.get()),
            reaction,
        };
        let mut call = Call::new(method, route);
        call.patience = PATIENCE;
        unless_gone(self.rest.send(&call).await)
    }

    /// Says a sentence in a channel; `name` tells it apart from others.
    pub async fn say(&self, channel: Id, name: &str, text: &str) {
        let nonce = nonce(&channel.to_string(), name, 0);
        let body = of_text(text);
        if let Err(error) = self
            .post_body(channel, &body, &nonce, &Reply::default())
            .await
        {
            self.failed(channel, &error).await;
        }
    }

    /// Something could not be sent. A missing permission is told, with the channel's name.
    async fn failed(&self, channel: Id, error: &RestError) {
        self.note_refusal(error);
        if !lacks_permission(error) {
            tracing::warn!(%channel, %error, "a reply could not be sent");
            return;
        }
        self.tell_missing(channel);
    }

    /// Tells the operator, once in a while, that a permission is missing in this channel.
    pub(super) fn tell_missing(&self, channel: Id) {
        if !self.lanes.tells(channel, Instant::now()) {
            return;
        }
        let known = self.places().get(channel).map(|place| place.name.clone());
        let name = known
            .filter(|name| !name.is_empty())
            .unwrap_or_else(|| "?".to_owned());
        tracing::warn!("{}", missing_permission(&name, channel));
    }
}

/// Whether a reply is for one member alone.
fn is_whisper(reply: &Reply) -> bool {
    reply.private && guild_of(&reply.team).is_some()
}

/// Whether a member who cannot be written to is told so in the channel: they asked for something,
/// or wait for their bell. What comes unasked is no reason to speak of them there.
fn wants_hint(reply: &Reply) -> bool {
    reply.answers.is_some() || !reply.mentions.is_empty()
}

/// *topics/opcodes-and-status-codes#json-json-error-codes*.
const UNKNOWN_MESSAGE: u64 = 10_008;
const CANNOT_WRITE: u64 = 50_007;

/// Whether the platform refused because the bot may not do that there: missing access, missing
/// permissions, or an unknown channel.
#[must_use]
pub const fn lacks_permission(error: &RestError) -> bool {
    matches!(error.code(), 50_001 | 50_013 | 10_003)
}

/// The line on a missing permission.
#[must_use]
pub fn missing_permission(name: &str, channel: Id) -> String {
    format!(
        "the bot lacks a permission in the channel #{name} ({channel}); let its role there: View \
         Channel, Send Messages, Send Messages in Threads, Add Reactions, Attach Files, Read \
         Message History"
    )
}

/// What is done to a message that is gone, or that takes no more signs, is done enough: unknown
/// message, reaction blocked, too many reactions. *topics/opcodes-and-status-codes*.
fn unless_gone(done: Result<Vec<u8>, RestError>) -> Result<(), RestError> {
    match done {
        Err(error) if matches!(error.code(), UNKNOWN_MESSAGE | 10_014 | 90_001 | 30_010) => Ok(()),
        Err(error) if error.status() == 404 => Ok(()),
        done => done.map(drop),
    }
}

fn message_route(channel: Id, message: Id) -> Route<'static> {
    Route::ChannelMessage {
        channel_id: ChannelId::new(channel.get()),
        message_id: MessageId::new(message.get()),
    }
}

/// The sign as a reaction, as addresses write it.
const fn emoji(sign: Sign) -> &'static str {
    match sign {
        // Check mark, pencil, leftwards arrow, question mark.
        Sign::Filed => "%E2%9C%85",
        Sign::Corrected => "%E2%9C%8F%EF%B8%8F",
        Sign::Removed => "%E2%86%A9%EF%B8%8F",
        Sign::Question => "%E2%9D%93",
    }
}

/// A reply's files, drawn, or read from where they lie; one for which neither can be done is left
/// out.
pub async fn files(reply: &Reply) -> Vec<CreateAttachment> {
    let mut read = Vec::new();
    for file in reply.files.iter().take(super::limits::FILES) {
        let bytes = match file.figure.clone() {
            Some(figure) => drawn(figure).await.ok().map(|picture| picture.png),
            None => {
                let path = file.path.clone();
                let reading = tokio::task::spawn_blocking(move || std::fs::read(path));
                reading.await.ok().and_then(Result::ok)
            }
        };
        match bytes {
            Some(bytes) => read.push(CreateAttachment::bytes(bytes, file.name.clone())),
            None => tracing::warn!("a file of a reply cannot be had and is left out"),
        }
    }
    read
}
