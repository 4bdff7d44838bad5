//! Replies on their way into a channel: posted, changed where they stand, or taken back, always as
//! they were last committed.

use std::sync::Arc;
use std::time::Duration;

use reqwest::Method;
use serde::Deserialize;
use serde_json::json;
use serenity::model::id::{ChannelId, MessageId};
use tokio::time::{Instant, sleep_until};

use super::body::{Body, nonce, of_reply, of_text, of_update};
use super::expiry::is_stale;
use super::outbox::Ticket;
use super::permissions::{self, Action, is_forbidden};
use super::send_queue::{Hindrance, Job, Next};
use super::sent::{SentMessage, Shows};
use super::uploads;
use crate::bot::LATEST_BELL;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::text::team_channel as words;
use crate::channel::discord::adapter::{Adapter, guild_of, now};
use crate::channel::discord::http::{Call, Cause, RestError, Route};
use crate::channel::discord::limits;
use crate::channel::discord::wire::{Channel, Id, Message};

/// A request is tried for this long before the line pauses.
const PATIENCE: Duration = Duration::from_secs(30);
/// Posts whose answer cannot be read are made again, with the same nonce, this often.
const UNREADABLE: u32 = 3;
/// What waits for another process, or for the database, is looked at again after this.
const LOOK_AGAIN: Duration = Duration::from_millis(500);

/// *topics/opcodes-and-status-codes#json-json-error-codes*.
pub(super) const UNKNOWN_MESSAGE: u64 = 10_008;
const CANNOT_WRITE: u64 = 50_007;

/// Why a reply was not sent.
#[derive(Debug)]
enum Fault {
    /// The platform said so.
    Platform(RestError, Action),
    /// Something else has to happen first.
    NotYet,
}

/// A message that was just posted.
#[derive(Debug, Deserialize)]
struct New {
    id: Id,
    content: Option<String>,
}

impl Adapter {
    /// Sends one part of a committed row in its turn. `again` where it may have been sent before.
    pub fn send(
        self: &Arc<Self>,
        channel: Option<Id>,
        outgoing: Outgoing,
        ticket: Arc<Ticket>,
        again: bool,
    ) {
        match outgoing {
            Outgoing::Reply(reply) => self.put(reply, false, again, ticket),
            Outgoing::Update(reply) => self.put(reply, true, again, ticket),
            Outgoing::Mark(mark) => self.put_sign(channel, mark, ticket, again),
        }
    }

    fn put(self: &Arc<Self>, reply: Reply, update: bool, check: bool, ticket: Arc<Ticket>) {
        // What is for one member alone waits behind nothing that is not.
        let to = reply.to.as_deref().filter(|_| is_whisper(&reply));
        let Ok(channel) = to.unwrap_or(&reply.channel).parse::<Id>() else {
            tracing::debug!("a reply has no channel");
            self.outbox.part_done(&ticket);
            return;
        };
        let behind = reply.answers.as_deref().and_then(|id| id.parse().ok());
        let job = Job {
            behind: behind.filter(|_| !update),
            reply,
            update,
            check,
            earlier: Vec::new(),
            tickets: vec![ticket],
            not_before: None,
            failures: 0,
        };
        let begins = self
            .queues
            .with(channel, |lines| lines.replies.put(job, Instant::now()));
        if begins {
            let adapter = Arc::clone(self);
            self.spawn(async move { adapter.send_replies(channel).await });
        }
    }

    async fn send_replies(&self, channel: Id) {
        loop {
            let next = |lines: &mut super::send_queue::Lines| lines.replies.next(Instant::now());
            let mut job = match self.queues.with(channel, next) {
                Next::End => return,
                Next::Wait(until, news) => {
                    tokio::select! {
                        () = sleep_until(until) => {}
                        () = news.notified() => {}
                    }
                    continue;
                }
                Next::Send(job) => job,
            };
            let done = self.deliver(channel, &mut job).await;
            match done.map_or_else(|fault| self.hindrance(channel, &mut job, fault), |()| None) {
                None => {
                    job.tickets
                        .iter()
                        .for_each(|one| self.outbox.part_done(one));
                    self.queues.with(channel, |lines| lines.replies.went_well());
                }
                Some(why) => self.queues.with(channel, |lines| {
                    lines.replies.put_back(job, why, Instant::now());
                }),
            }
        }
    }

    /// What a fault means for the line; `None` where trying again is of no use.
    fn hindrance(&self, channel: Id, job: &mut Job, fault: Fault) -> Option<Hindrance> {
        let (error, action) = match fault {
            Fault::Platform(error, action) => (error, action),
            Fault::NotYet => return Some(Hindrance::NotYet(LOOK_AGAIN)),
        };
        self.note_refusal(&error);
        let posts = matches!(action, Action::Post | Action::PostInThread);
        match &error {
            RestError::TooLate(cause) => {
                // It may have been done, and its answer lost.
                job.check |= posts && *cause != Cause::TooMany;
                Some(match cause {
                    Cause::Status(_) => Hindrance::Failed,
                    Cause::NoAnswer(_) | Cause::TooMany => Hindrance::NoAnswer,
                })
            }
            RestError::Unreadable(_) | RestError::InDoubt(_) => {
                job.check |= posts;
                Some(Hindrance::Failed)
            }
            RestError::Refused { status: 401, .. } => Some(Hindrance::NoAnswer),
            error if is_forbidden(error) && !is_whisper(&job.reply) => {
                self.tell_missing(channel, permissions::missing(action, error));
                Some(Hindrance::Forbidden)
            }
            error => {
                tracing::warn!(%channel, %error, "a reply could not be sent");
                None
            }
        }
    }

    async fn deliver(&self, lane: Id, job: &mut Job) -> Result<(), Fault> {
        if job.tickets.iter().all(|one| one.is_lost()) {
            return Ok(());
        }
        let mut kept = job.tickets.iter().filter(|one| !one.is_lost());
        if kept.any(|one| !self.outbox.is_leased(one, Instant::now())) {
            return Err(Fault::NotYet);
        }
        let Some(latest) = job.latest().cloned() else {
            return Ok(());
        };
        let (team, id) = (job.reply.team.clone(), job.reply.id.clone());
        let sent = if job.update || job.check {
            let found = self.sent.find(self.store(), &team, &id).await;
            found.map_err(|_| Fault::NotYet)?
        } else {
            self.sent.at_hand(&team, &id)
        };
        if let Some(sent) = &sent
            && sent.shows.is_later_than(&latest)
        {
            return Ok(());
        }
        match sent {
            Some(sent) if !sent.gone => match (job.update, job.reply.text.is_empty()) {
                (false, _) => Ok(()),
                (true, true) => self.take_back(&job.reply, &sent, latest).await,
                (true, false) => self.change(job, &sent, latest).await,
            },
            gone => self.bring_about(lane, job, latest, gone.is_some()).await,
        }
    }

    /// Posts what stands nowhere, as far as is known; what is to be taken back is looked for only.
    async fn bring_about(
        &self,
        lane: Id,
        job: &mut Job,
        latest: Arc<Ticket>,
        was_there: bool,
    ) -> Result<(), Fault> {
        if !was_there && job.update && !job.check && self.others_send(&job.reply).await? {
            return Err(Fault::NotYet);
        }
        let takes_back = job.reply.text.is_empty();
        if takes_back && (was_there || !job.check) {
            return Ok(());
        }
        if is_whisper(&job.reply) {
            return self.whisper(job, latest).await;
        }
        self.post_or_find(job, lane, latest).await
    }

    /// Whether another process has still to post or change this reply: what it has comes first.
    async fn others_send(&self, reply: &Reply) -> Result<bool, Fault> {
        let asked = async {
            let mut tx = self.store().begin().await?;
            let team = tx.team(&reply.team).await?;
            let owner = self.service.use_case().process();
            let others = tx.others_send(&team, &reply.id, owner).await?;
            tx.rollback().await?;
            Ok::<_, crate::store::StoreError>(others)
        };
        asked.await.map_err(|_| Fault::NotYet)
    }

    /// Posts a reply where it does not stand after all; its last message is the one that is changed
    /// later.
    async fn post_or_find(
        &self,
        job: &mut Job,
        channel: Id,
        latest: Arc<Ticket>,
    ) -> Result<(), Fault> {
        let there = match job.check {
            true => self.lately_said(job, channel).await?,
            false => Vec::new(),
        };
        let bodies = of_reply(&job.reply);
        let earlier = job.earlier.iter().flat_map(of_reply);
        let texts: Vec<String> = earlier.map(|body| body.content).collect();
        let stands = |body: Option<&Body>, last: bool| {
            there.iter().find(|message| {
                let said = message.content.as_deref().unwrap_or_default().trim();
                body.is_some_and(|body| body.content.trim() == said)
                    || last && texts.iter().any(|text| text.trim() == said)
            })
        };
        if let Some(message) = stands(bodies.last(), true) {
            let sent = SentMessage {
                channel,
                message: message.id,
                gone: false,
                shows: Shows::Row(0),
            };
            self.note(&job.reply, sent.clone());
            let said = message.content.as_deref().unwrap_or_default().trim();
            if bodies
                .last()
                .is_some_and(|body| body.content.trim() == said)
            {
                // It stands as it is to be; a change would take the call out of a bell.
                return Ok(());
            }
            return match job.reply.text.is_empty() {
                true => self.take_back(&job.reply, &sent, latest).await,
                false => self.change(job, &sent, latest).await,
            };
        }
        if bodies.is_empty() || is_stale(&job.reply, latest.at(), now()) {
            return Ok(());
        }
        let last = bodies.len() - 1;
        for (part, body) in bodies.into_iter().enumerate() {
            let message = match stands(Some(&body), false) {
                Some(message) => message.id,
                None => self.post_part(job, channel, (part, body), &latest).await?,
            };
            let name = match part == last {
                true => job.reply.id.clone(),
                false => part_name(&job.reply.id, part),
            };
            let sent = SentMessage {
                channel,
                message,
                gone: false,
                shows: Shows::Ticket(Arc::clone(&latest)),
            };
            self.sent.note(&job.reply.team, &name, sent);
        }
        Ok(())
    }

    fn note(&self, reply: &Reply, sent: SentMessage) {
        self.sent.note(&reply.team, &reply.id, sent);
    }

    /// What the bot said in a channel since what this answers, as far as it is no other known reply.
    /// Nonces are only compared for some minutes, so the history is looked through.
    async fn lately_said(&self, job: &Job, channel: Id) -> Result<Vec<Message>, Fault> {
        let channel_id = ChannelId::new(channel.get());
        let mut call = Call::new(Method::GET, Route::ChannelMessages { channel_id });
        call.params = vec![("limit", limits::HISTORY.to_string())];
        // It answers a message, so it stands behind that.
        if let Some(behind) = job.behind.filter(|_| !is_whisper(&job.reply)) {
            call.params.push(("after", behind.to_string()));
        }
        let found = self.rest.messages(&call, channel).await;
        let mut found = found.map_err(|error| Fault::Platform(error, Action::Read))?;
        let me = self.me();
        let begun = job.tickets.iter().map(|one| one.at()).min();
        found.retain(|message| {
            let mut author = message.author.iter();
            let by_bot = author.any(|user| user.bot || Some(user.id) == me);
            let since = begun.zip(message.timestamp);
            by_bot && since.is_none_or(|(begun, at)| begun - at < LATEST_BELL)
        });
        let mut lately = Vec::new();
        for message in found {
            let known = self
                .sent
                .reply_at(self.store(), &job.reply.team, message.id);
            match known.await.map_err(|_| Fault::NotYet)? {
                Some(other) if other != job.reply.id => {}
                _ => lately.push(message),
            }
        }
        Ok(lately)
    }

    /// One message of a reply. The platform answers with an earlier one where it knows the nonce:
    /// that one then becomes what is to be said.
    async fn post_part(
        &self,
        job: &Job,
        channel: Id,
        (part, body): (usize, Body),
        latest: &Ticket,
    ) -> Result<Id, Fault> {
        let reply = &job.reply;
        let action = match self.is_thread(channel) {
            true => Action::PostInThread,
            false => Action::Post,
        };
        let fault = |error| Fault::Platform(error, action);
        let mut patience = PATIENCE;
        if !reply.mentions.is_empty() {
            let left = LATEST_BELL - (now() - latest.at());
            patience = patience.min(left.to_std().unwrap_or_default());
        }
        let mut name = nonce(&reply.team, &reply.id, part);
        let mut posted = self.post_body(channel, &body, &name, reply, patience).await;
        if posted
            .as_ref()
            .is_err_and(|error| error.code() == UNKNOWN_MESSAGE)
        {
            // It was posted once, and deleted. What is posted anew needs another name.
            name = nonce(&reply.team, &format!("{}/{}", reply.id, latest.key()), part);
            posted = self.post_body(channel, &body, &name, reply, patience).await;
        }
        let posted = posted.map_err(fault)?;
        let (posted, body) = posted;
        let said = posted.content.as_deref().map(str::trim);
        if said.is_some_and(|said| said != body.content.trim()) {
            let body = Body {
                files: Vec::new(),
                ..body
            };
            let route = message_route(channel, posted.id);
            let call = Call::new(Method::PATCH, route).json(&body.edit());
            unless_gone(self.rest.send(&call).await).map_err(fault)?;
        }
        Ok(posted.id)
    }

    /// One message. An answer that cannot be read means that it perhaps stands: it is posted again
    /// with the same nonce, which makes no second one. Words do not depend on files: where those are
    /// refused, the words go without, and say so. Returned with what was said.
    async fn post_body(
        &self,
        channel: Id,
        body: &Body,
        nonce: &str,
        reply: &Reply,
        patience: Duration,
    ) -> Result<(New, Body), RestError> {
        let channel_id = ChannelId::new(channel.get());
        let route = Route::ChannelMessages { channel_id };
        let uploads::Attached { body, files } = uploads::attach(body, reply).await;
        let mut said = body.clone();
        let mut call = Call::new(Method::POST, route).json(&said.post(nonce));
        call.files = files;
        call.patience = patience;
        let mut unreadable = 0;
        loop {
            match self.rest.fetch::<New>(&call).await {
                Ok(message) => return Ok((message, said)),
                Err(RestError::Unreadable(_)) if unreadable < UNREADABLE => unreadable += 1,
                Err(error) if !call.files.is_empty() && uploads::is_refused(&error) => {
                    tracing::warn!(%channel, %error, "files were refused; the words go without them");
                    said = uploads::without(&body, &error);
                    call = Call::new(Method::POST, route).json(&said.post(nonce));
                    call.patience = patience;
                }
                Err(error) => return Err(error),
            }
        }
    }

    async fn change(
        &self,
        job: &Job,
        sent: &SentMessage,
        latest: Arc<Ticket>,
    ) -> Result<(), Fault> {
        let route = message_route(sent.channel, sent.message);
        let body = of_update(&job.reply).edit();
        let mut call = Call::new(Method::PATCH, route).json(&body);
        call.patience = PATIENCE;
        let done = match self.rest.send(&call).await {
            Err(error) if error.code() == UNKNOWN_MESSAGE => {
                // Somebody deleted it, or only its member saw it, which does not stand for long: it is
                // posted anew.
                self.note_gone(&job.reply, sent, Shows::Row(0));
                return Err(Fault::NotYet);
            }
            done => done,
        };
        done.map_err(|error| Fault::Platform(error, Action::Change))?;
        let shows = Shows::Ticket(latest);
        self.note(
            &job.reply,
            SentMessage {
                shows,
                ..sent.clone()
            },
        );
        Ok(())
    }

    /// Takes a reply back, with all its parts.
    async fn take_back(
        &self,
        reply: &Reply,
        sent: &SentMessage,
        latest: Arc<Ticket>,
    ) -> Result<(), Fault> {
        self.delete(sent).await?;
        for part in 0.. {
            let name = part_name(&reply.id, part);
            let found = match sent.shows {
                // Posted or changed by this run, and so are its parts.
                Shows::Ticket(_) => Ok(self.sent.at_hand(&reply.team, &name)),
                Shows::Row(_) => self.sent.find(self.store(), &reply.team, &name).await,
            };
            let Some(part) = found.map_err(|_| Fault::NotYet)? else {
                break;
            };
            self.delete(&part).await?;
        }
        self.note_gone(reply, sent, Shows::Ticket(latest));
        Ok(())
    }

    async fn delete(&self, sent: &SentMessage) -> Result<(), Fault> {
        let route = message_route(sent.channel, sent.message);
        let mut call = Call::new(Method::DELETE, route);
        call.patience = PATIENCE;
        let done = unless_gone(self.rest.send(&call).await);
        done.map_err(|error| Fault::Platform(error, Action::Change))
    }

    fn note_gone(&self, reply: &Reply, sent: &SentMessage, shows: Shows) {
        let gone = SentMessage {
            gone: true,
            shows,
            ..sent.clone()
        };
        self.note(reply, gone);
    }

    /// Says something to one member alone, in private.
    async fn whisper(&self, job: &mut Job, latest: Arc<Ticket>) -> Result<(), Fault> {
        let reply = &job.reply;
        let Some(user) = reply.to.as_deref().and_then(|to| to.parse::<Id>().ok()) else {
            return Ok(());
        };
        let channel = reply.channel.parse().ok();
        // A report in private is told to coaches, too: what is for them is not to go where it came from.
        let writer = self.writes_to().get(&user).copied();
        let own = channel.filter(|id| writer == Some(*id) && self.private().contains_key(id));
        let private = match own {
            Some(channel) => Ok(channel),
            None => self.private_channel(user, &reply.team).await,
        };
        let said = match private {
            Ok(private) => self.post_or_find(job, private, Arc::clone(&latest)).await,
            Err(error) => Err(Fault::Platform(error, Action::Change)),
        };
        // They take no messages from strangers. *topics/opcodes-and-status-codes*.
        let refused = |fault: &Fault| matches!(fault, Fault::Platform(error, _) if error.code() == CANNOT_WRITE);
        match (said, channel) {
            (Err(fault), Some(channel)) if refused(&fault) => {
                self.hint(&job.reply, channel, &latest).await
            }
            (Err(fault), _) if refused(&fault) => Ok(()),
            (said, _) => said,
        }
    }

    /// Says in the channel that somebody cannot be written to: to that member, or, of what was to reach a
    /// coach, to whoever it came from. It is no reply that is ever
    /// changed: what is private is not to come into the channel by a change.
    async fn hint(&self, reply: &Reply, channel: Id, latest: &Ticket) -> Result<(), Fault> {
        if is_stale(reply, latest.at(), now()) {
            return Ok(());
        }
        let (id, text) = match &reply.unreached {
            // Once, however many coaches cannot be reached.
            Some(text) => {
                let event = reply.id.rsplit_once('.').map_or("", |(event, _)| event);
                (format!("unreached.{event}"), text.clone())
            }
            None if wants_hint(reply) => {
                (format!("hint.{}", reply.id), words::NO_PRIVATE.to_owned())
            }
            None => return Ok(()),
        };
        let hint = Reply {
            id,
            team: reply.team.clone(),
            text,
            mentions: reply.mentions.clone(),
            ..Reply::default()
        };
        let name = nonce(&hint.team, &hint.id, 0);
        for body in of_reply(&hint) {
            let posted = self.post_body(channel, &body, &name, &hint, PATIENCE).await;
            posted.map_err(|error| Fault::Platform(error, Action::Post))?;
        }
        Ok(())
    }

    /// The channel in which a member is written to.
    async fn private_channel(&self, user: Id, team: &str) -> Result<Id, RestError> {
        let known = self.writes_to().get(&user).copied();
        if let Some(channel) = known {
            return Ok(channel);
        }
        let call = Call::new(Method::POST, Route::UserMeDmChannels)
            .json(&json!({ "recipient_id": user.to_string() }));
        let channel: Channel = self.rest.fetch(&call).await?;
        self.writes_to().insert(user, channel.id);
        // What they answer during an outage is read after it.
        let read_to = channel.last_message_id.unwrap_or(channel.id);
        self.keep_direct(channel.id, user, team, read_to.get())
            .await;
        Ok(channel.id)
    }

    /// Says a sentence in a channel; `name` tells it apart from others.
    pub async fn say(&self, channel: Id, name: &str, text: &str) {
        let nonce = nonce(&channel.to_string(), name, 0);
        let (body, reply) = (of_text(text), Reply::default());
        let said = self
            .post_body(channel, &body, &nonce, &reply, PATIENCE)
            .await;
        if let Err(error) = said {
            self.note_refusal(&error);
            if permissions::lacks_permission(&error) {
                self.tell_missing(channel, permissions::missing(Action::Post, &error));
            } else {
                tracing::warn!(%channel, %error, "a sentence could not be said");
            }
        }
    }

    fn is_thread(&self, channel: Id) -> bool {
        let places = self.places();
        places
            .get(channel)
            .is_some_and(|place| place.parent.is_some())
    }

    /// Tells the operator, once in a while, that a permission is missing in this channel.
    pub(in crate::channel::discord) fn tell_missing(&self, channel: Id, permission: &'static str) {
        if !self.tells_missing(channel, permission) {
            return;
        }
        let known = self.places().get(channel).map(|place| place.name.clone());
        let name = known
            .filter(|name| !name.is_empty())
            .unwrap_or_else(|| "?".to_owned());
        tracing::warn!("{}", permissions::line(&name, channel, permission));
    }
}

/// The name of one of the messages of a long reply but the last.
fn part_name(reply: &str, part: usize) -> String {
    format!("{reply}#{part}")
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

/// What is done to a message that is gone, or that takes no more signs, is done enough: unknown
/// message, reaction blocked, too many reactions. *topics/opcodes-and-status-codes*.
pub(super) fn unless_gone(done: Result<Vec<u8>, RestError>) -> Result<(), RestError> {
    match done {
        Err(error) if matches!(error.code(), UNKNOWN_MESSAGE | 10_014 | 90_001 | 30_010) => Ok(()),
        Err(error) if error.status() == 404 => Ok(()),
        done => done.map(drop),
    }
}

pub(super) fn message_route(channel: Id, message: Id) -> Route<'static> {
    Route::ChannelMessage {
        channel_id: ChannelId::new(channel.get()),
        message_id: MessageId::new(message.get()),
    }
}
