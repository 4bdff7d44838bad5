//! Commands, buttons, forms and completions: each is acknowledged in time, however slow the work.
//!
//! What comes of it within [`AT_ONCE`] is the answer itself; else the platform is told to wait and
//! the answer follows. The work stands in the same queue as messages, so that it sees what was
//! posted before it.

use std::sync::Arc;
use std::time::Duration;

use serde_json::{Value, json};
use serenity::builder::CreateAttachment;
use serenity::http::{LightMethod, Route};
use serenity::model::id::{ApplicationId, ChannelId, InteractionId};
use tokio::time::{sleep, timeout};

use super::body::{self, Body, EPHEMERAL, of_reply, of_text};
use super::commands::{self, Order, fitting};
use super::guard::Verdict;
use super::house::{Filed, House, team_key};
use super::ledger::Ticket;
use super::limits;
use super::outgoing::{files, lacks_permission, missing_permission};
use super::places::manages;
use super::rest::{Call, RestError};
use super::wire::{Channel, Id, Interaction, Named, shown_name};
use crate::bot::event::{Event, Message, Press};
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::words::slash::Takes;
use crate::bot::words::team_channel as words;
use crate::channel::admit;
use crate::store::StoreError;
use crate::store::discord::BoundChannel;

/// Answers that are there within this are given at once. The platform waits for three times that.
const AT_ONCE: Duration = Duration::from_millis(1000);
/// A button of a message that is just being posted is waited for.
const POSTING: Duration = Duration::from_millis(400);
/// A file that came with a command is waited for so long: what is made of it has [`AT_ONCE`] still.
const FETCHED_WITHIN: Duration = Duration::from_millis(1200);
/// The longest file that is taken as the text below a command, bytes.
const LONGEST_FILE: usize = 1024 * 1024;
/// Names a form: the line that what is filled in completes.
const FORM: &str = "form:";

/// Takes an interaction up.
pub fn begin(house: &Arc<House>, interaction: Interaction) {
    let house = Arc::clone(house);
    tokio::spawn(async move {
        let talk = Talk {
            house: &house,
            interaction: &interaction,
        };
        if let Err(error) = talk.hold().await {
            house.note_refusal(&error);
            tracing::warn!(%error, kind = interaction.kind, "an interaction could not be answered");
        }
    });
}

/// An interaction and what is needed to answer it.
struct Talk<'a> {
    house: &'a Arc<House>,
    interaction: &'a Interaction,
}

/// Who speaks, and of which team.
struct Speaker {
    user: Id,
    name: String,
    team: String,
    coach: bool,
}

impl Talk<'_> {
    async fn hold(&self) -> Result<(), RestError> {
        match self.interaction.kind {
            2 | 3 | 5 => self.carry().await,
            4 => self.complete().await,
            kind => {
                tracing::debug!(kind, "an interaction of an unknown kind");
                Ok(())
            }
        }
    }

    async fn carry(&self) -> Result<(), RestError> {
        let Some(user) = self.interaction.from() else {
            return Ok(());
        };
        if self
            .house
            .writes_too_much(self.interaction.guild_id, user.id)
            != Verdict::Fine
        {
            return self
                .respond(4, &of_text(words::TOO_FAST).answer(true))
                .await;
        }
        let Some(speaker) = self.speaker().await else {
            return self.respond(4, &of_text(words::NO_TEAM).answer(true)).await;
        };
        match self.interaction.kind {
            3 => self.press(&speaker).await,
            5 => self.filled_in(&speaker).await,
            _ => self.command(&speaker).await,
        }
    }

    /// Who speaks; `None` for somebody in private who is in no team.
    async fn speaker(&self) -> Option<Speaker> {
        let user = self.interaction.from()?;
        let name = shown_name(user, self.interaction.member.as_ref());
        let Some(guild) = self.interaction.guild_id else {
            let (team, coach) = self.house.team_of(user.id).await?;
            return Some(Speaker {
                user: user.id,
                name,
                team,
                coach,
            });
        };
        let member = self.interaction.member.as_ref();
        let news = member.and_then(|member| self.house.places().saw(guild, user.id, member));
        if let Some(community) = news {
            let house = Arc::clone(self.house);
            tokio::spawn(async move {
                if let Err(error) = store_community(&house, &community).await {
                    tracing::warn!(%error, "who manages a community could not be kept");
                }
            });
        }
        Some(Speaker {
            user: user.id,
            name,
            team: team_key(guild),
            coach: self.house.places().is_coach(guild, user.id, member),
        })
    }

    // Commands and forms.

    async fn command(&self, speaker: &Speaker) -> Result<(), RestError> {
        let order = commands::order(&self.interaction.data, speaker.coach);
        match order {
            Some(Order::Line(line)) => self.line(speaker, &line).await,
            Some(Order::WithFile(line, file)) => match self.text_of(&file).await {
                Some(text) => self.line(speaker, &format!("{line}\n{text}")).await,
                None => {
                    self.respond(4, &of_text(words::FILE_UNREAD).answer(true))
                        .await
                }
            },
            Some(Order::Form(line)) => {
                let id = format!("{FORM}{line}");
                let form = if line.starts_with("/import") {
                    let (title, label) = (words::LOG_TITLE, words::LOG_LABEL);
                    body::form(&id, title, label, words::LOG_HINT)
                } else {
                    let (title, label) = (words::PLAN_TITLE, words::PLAN_LABEL);
                    body::form(&id, title, label, words::PLAN_HINT)
                };
                self.callback(&form).await
            }
            Some(order) => {
                let text = self.settle(speaker, &order).await;
                self.respond(4, &of_text(&text).answer(true)).await
            }
            // A command of an older registration.
            None => {
                self.respond(4, &of_text(words::OLD_BUTTON).answer(true))
                    .await
            }
        }
    }

    /// The text of a file that came with the command; `None` where it cannot be had in time or is no
    /// text.
    async fn text_of(&self, file: &str) -> Option<String> {
        let attachment = self.interaction.data.resolved.attachments.get(file)?;
        if attachment.size > LONGEST_FILE as u64 {
            return None;
        }
        let fetched = self.house.rest.file(&attachment.url, LONGEST_FILE);
        let bytes = match timeout(FETCHED_WITHIN, fetched).await.ok()? {
            Ok(bytes) => bytes,
            Err(error) => {
                tracing::warn!(%error, "a file that came with a command cannot be fetched");
                return None;
            }
        };
        let text = String::from_utf8(bytes).ok()?;
        Some(text.trim_start_matches('\u{feff}').to_owned())
    }

    async fn filled_in(&self, speaker: &Speaker) -> Result<(), RestError> {
        let data = &self.interaction.data;
        let text = data
            .components
            .iter()
            .find_map(|row| row.filled(body::FORM_FIELD));
        match (data.custom_id.strip_prefix(FORM), text) {
            (Some(line), Some(text)) => self.line(speaker, &format!("{line}\n{text}")).await,
            _ => {
                self.respond(4, &of_text(words::OLD_BUTTON).answer(true))
                    .await
            }
        }
    }

    /// A line as if typed. Its id is none that a message could have, so that a channel's history
    /// is never taken to be read because of it.
    async fn line(&self, speaker: &Speaker, line: &str) -> Result<(), RestError> {
        let Some(channel) = self.interaction.place() else {
            return Ok(());
        };
        let event = Event::Message(Message {
            id: format!("i{}", self.interaction.id),
            team: speaker.team.clone(),
            channel: channel.to_string(),
            author: speaker.user.to_string(),
            name: speaker.name.clone(),
            coach: speaker.coach,
            at: self.interaction.id.at().min(super::house::now()),
            text: line.to_owned(),
        });
        self.work(event, true).await
    }

    // Buttons.

    async fn press(&self, speaker: &Speaker) -> Result<(), RestError> {
        let Some(message) = self.interaction.message else {
            return Ok(());
        };
        let Some((team, reply)) = self.pressed(speaker, message.id).await else {
            return self
                .respond(4, &of_text(words::OLD_BUTTON).answer(true))
                .await;
        };
        let event = Event::Press(Press {
            reply,
            team,
            author: speaker.user.to_string(),
            button: self.interaction.data.custom_id.clone(),
            at: self.interaction.id.at().min(super::house::now()),
        });
        self.work(event, false).await
    }

    /// The reply under which the button stands, and its team: in private that may be any team that
    /// the speaker is in.
    async fn pressed(&self, speaker: &Speaker, message: Id) -> Option<(String, String)> {
        let team = speaker.team.clone();
        if let Some(reply) = self.reply_at(&team, message).await {
            return Some((team, reply));
        }
        if self.interaction.guild_id.is_some() {
            return None;
        }
        let (ledger, store) = (&self.house.ledger, self.house.store());
        for team in self.house.teams_of(speaker.user).await {
            if let Ok(Some(reply)) = ledger.reply_at(store, &team, message).await {
                return Some((team, reply));
            }
        }
        None
    }

    async fn reply_at(&self, team: &str, message: Id) -> Option<String> {
        let (ledger, store) = (&self.house.ledger, self.house.store());
        let known = ledger.reply_at(store, team, message).await.ok()?;
        if known.is_some() {
            return known;
        }
        sleep(POSTING).await;
        ledger.reply_at(store, team, message).await.ok()?
    }

    // What comes of it.

    /// Works on the event; the answer comes at once or follows.
    async fn work(&self, mut event: Event, command: bool) -> Result<(), RestError> {
        if let Err(error) = admit(&mut event) {
            return self
                .respond(4, &of_text(&error.to_string()).answer(true))
                .await;
        }
        let channel = self.interaction.place();
        let house = Arc::clone(self.house);
        let filed_event = event.clone();
        let mut working = tokio::spawn(async move { house.file(channel, filed_event, true).await });
        let at_once = timeout(AT_ONCE, &mut working).await;
        match at_once {
            Ok(filed) => self.answer(filed.unwrap_or_else(|_| fault()), None).await,
            Err(_) => {
                // A command's answer is nearly always private; a button's is where it stands.
                let deferred = if command {
                    json!({ "type": 5, "data": { "flags": EPHEMERAL } })
                } else {
                    json!({ "type": 6 })
                };
                self.callback(&deferred).await?;
                let filed = timeout(limits::FOLLOW_UP_WITHIN, working).await;
                let filed = filed.ok().and_then(Result::ok).unwrap_or_else(fault);
                self.answer(filed, Some(command)).await
            }
        }
    }

    /// Answers with what came of it. `deferred` tells that the platform was told to wait, and
    /// whether for a command.
    async fn answer(&self, filed: Filed, deferred: Option<bool>) -> Result<(), RestError> {
        let outgoing = match filed {
            Ok(outgoing) => outgoing,
            Err(why) => {
                tracing::error!(why, "an interaction could not be worked on");
                let body = of_text(words::FAULT);
                return self.first(&body, true, deferred, Vec::new()).await;
            }
        };
        let (own, rest) = self.split(outgoing, deferred);
        for (one, ticket) in rest {
            self.house
                .send(self.interaction.place(), one, vec![ticket], false);
        }
        match own {
            Some(Own::Said(reply, ticket)) => {
                let said = self.said(&reply, deferred).await;
                drop(ticket);
                said
            }
            Some(Own::Shown(reply, ticket)) => {
                let body = body::of_update(&reply).edit();
                let done = self.respond(7, &body).await;
                drop(ticket);
                done
            }
            None => self.nothing_said(deferred).await,
        }
    }

    /// What is said in answer, and what is sent as always. The first private reply is the answer;
    /// of a command, any first reply; of a button, a change of the very message that carries it.
    fn split(
        &self,
        outgoing: Vec<(Outgoing, Arc<Ticket>)>,
        deferred: Option<bool>,
    ) -> (Option<Own>, Vec<(Outgoing, Arc<Ticket>)>) {
        let command = self.interaction.kind != 3;
        let mut own = None;
        let mut rest = Vec::new();
        for (one, ticket) in outgoing {
            match one {
                Outgoing::Reply(reply)
                    if own.is_none() && (reply.private || command && deferred.is_none()) =>
                {
                    own = Some(Own::Said(reply, ticket));
                }
                Outgoing::Update(reply)
                    if own.is_none() && !command && deferred.is_none() && self.carries(&reply) =>
                {
                    own = Some(Own::Shown(reply, ticket));
                }
                one => rest.push((one, ticket)),
            }
        }
        (own, rest)
    }

    /// Whether the pressed button stands under this reply, which stays.
    fn carries(&self, reply: &Reply) -> bool {
        let stands = self.house.ledger.at_hand(&reply.team, &reply.id);
        let message = self.interaction.message.map(|message| message.id);
        !reply.text.is_empty() && stands.is_some_and(|(_, stands)| Some(stands) == message)
    }

    async fn said(&self, reply: &Reply, deferred: Option<bool>) -> Result<(), RestError> {
        let mut bodies = of_reply(reply).into_iter();
        let Some(first) = bodies.next() else {
            return self.nothing_said(deferred).await;
        };
        let with = attached(&first, reply).await;
        self.first(&first, reply.private, deferred, with).await?;
        let mut last = None;
        for body in bodies {
            let with = attached(&body, reply).await;
            last = Some(self.follow(&body, reply.private, with).await?);
        }
        // Its buttons and later changes need to know where it stands.
        if !reply.private || !reply.buttons.is_empty() {
            let message = match last {
                Some(message) => message,
                None => self.original().await?,
            };
            if let Some(channel) = self.interaction.place() {
                self.house
                    .ledger
                    .posted(&reply.team, &reply.id, channel, message);
            }
        }
        Ok(())
    }

    /// The first thing said. A button's wait was for its own message, so more is said after it.
    async fn first(
        &self,
        body: &Body,
        private: bool,
        deferred: Option<bool>,
        files: Vec<CreateAttachment>,
    ) -> Result<(), RestError> {
        match deferred {
            None => {
                // Words do not wait for files to go up.
                let words = Body {
                    files: Vec::new(),
                    ..body.clone()
                };
                let answer = json!({ "type": 4, "data": words.answer(private) });
                self.callback(&answer).await?;
                if files.is_empty() {
                    return Ok(());
                }
                self.fill(body, files).await
            }
            Some(true) => self.fill(body, files).await,
            Some(false) => self.follow(body, private, files).await.map(drop),
        }
    }

    /// The answer that stands becomes this one.
    async fn fill(&self, body: &Body, files: Vec<CreateAttachment>) -> Result<(), RestError> {
        let mut call = Call::new(LightMethod::Patch, self.original_route()).json(&body.edit());
        call.files = files;
        self.house.rest.send(&call).await.map(drop)
    }

    async fn nothing_said(&self, deferred: Option<bool>) -> Result<(), RestError> {
        let command = self.interaction.kind != 3;
        match deferred {
            Some(false) => Ok(()),
            None if !command => self.callback(&json!({ "type": 6 })).await,
            _ => {
                self.first(&of_text(words::DONE), true, deferred, Vec::new())
                    .await
            }
        }
    }

    async fn follow(
        &self,
        body: &Body,
        private: bool,
        files: Vec<CreateAttachment>,
    ) -> Result<Id, RestError> {
        let route = Route::WebhookFollowupMessages {
            application_id: self.application(),
            token: &self.interaction.token,
        };
        let mut call = Call::new(LightMethod::Post, route).json(&body.answer(private));
        call.files = files;
        Ok(self.house.rest.fetch::<Named>(&call).await?.id)
    }

    /// The message that the answer became.
    async fn original(&self) -> Result<Id, RestError> {
        let call = Call::new(LightMethod::Get, self.original_route());
        Ok(self.house.rest.fetch::<Named>(&call).await?.id)
    }

    fn original_route(&self) -> Route<'_> {
        Route::WebhookOriginalInteractionResponse {
            application_id: self.application(),
            token: &self.interaction.token,
        }
    }

    fn application(&self) -> ApplicationId {
        ApplicationId::new(self.interaction.application_id.get())
    }

    async fn respond(&self, kind: u8, data: &Value) -> Result<(), RestError> {
        let body = json!({ "type": kind, "data": data });
        self.callback(&body).await
    }

    async fn callback(&self, body: &Value) -> Result<(), RestError> {
        let route = Route::InteractionResponse {
            interaction_id: InteractionId::new(self.interaction.id.get()),
            token: &self.interaction.token,
        };
        let mut call = Call::new(LightMethod::Post, route).json(body);
        call.patience = limits::ACKNOWLEDGE_WITHIN;
        match self.house.rest.send(&call).await {
            // It was acknowledged by a try whose answer was lost.
            Err(error) if error.code() == ALREADY_ACKNOWLEDGED => Ok(()),
            done => done.map(drop),
        }
    }

    // Completion.

    async fn complete(&self) -> Result<(), RestError> {
        let found = timeout(AT_ONCE, self.completions()).await;
        let found = found.ok().and_then(Result::ok).unwrap_or_default();
        self.callback(&body::choices(&found)).await
    }

    async fn completions(&self) -> Result<Vec<(String, String)>, StoreError> {
        let Some((takes, typed)) = commands::typing(&self.interaction.data) else {
            return Ok(Vec::new());
        };
        let Some(speaker) = self.speaker().await else {
            return Ok(Vec::new());
        };
        let mut tx = self.house.store().begin().await?;
        let team = tx.team(&speaker.team).await?;
        let members = match takes {
            Takes::Member | Takes::MemberOrTeam => tx.members(&team).await?,
            _ => Vec::new(),
        };
        tx.rollback().await?;
        let reader = self.house.service.use_case().bot().reader_of(&team);
        let same = |name: &String| (name.clone(), name.clone());
        let names: Vec<(String, String)> = match takes {
            Takes::Exercise => reader
                .catalogue()
                .exercises()
                .map(|(_, e)| same(&e.name))
                .collect(),
            Takes::Muscle => reader
                .catalogue()
                .muscles()
                .map(|(_, m)| same(&m.name))
                .collect(),
            Takes::Member => members.into_iter().map(|m| (m.name, m.author)).collect(),
            Takes::MemberOrTeam => {
                let all = std::iter::once(same(&"team".to_owned()));
                all.chain(members.into_iter().map(|m| (m.name, m.author)))
                    .collect()
            }
            _ => Vec::new(),
        };
        Ok(fitting(names.into_iter(), &typed))
    }

    // Settings of the channel itself.

    /// Binds, lets go, names the role; what is said about it.
    async fn settle(&self, speaker: &Speaker, order: &Order) -> String {
        let Some(guild) = self.interaction.guild_id else {
            return words::NOT_IN_PRIVATE.to_owned();
        };
        let by_right = self
            .interaction
            .member
            .as_ref()
            .and_then(manages)
            .unwrap_or(false);
        if !speaker.coach && !by_right {
            return words::MANAGERS_ONLY.to_owned();
        }
        let here = self.interaction.place();
        let done = match order {
            Order::Bind(channel) => match channel.and_then(Id::new).or(here) {
                Some(channel) => self.bind(guild, channel).await,
                None => Ok(words::NOT_BOUND.to_owned()),
            },
            Order::Unbind(channel) => match channel.and_then(Id::new).or(here) {
                Some(channel) => self.unbind(guild, channel).await,
                None => Ok(words::NOT_BOUND.to_owned()),
            },
            Order::CoachRole(role) => {
                let mut community = self.house.places().community(guild);
                community.coach_role = Some(*role);
                self.house.places().put_community(guild, community.clone());
                let stored = store_community(self.house, &community).await;
                stored.map(|()| words::COACH_ROLE_SET.to_owned())
            }
            Order::Line(_) | Order::Form(_) | Order::WithFile(..) => Ok(words::DONE.to_owned()),
        };
        done.unwrap_or_else(|error| {
            tracing::error!(%error, "a setting was not stored");
            words::FAULT.to_owned()
        })
    }

    async fn bind(&self, guild: Id, channel: Id) -> Result<String, StoreError> {
        let lacking = self.lacking(channel);
        if !lacking.is_empty() {
            return Ok(words::lacking(&lacking));
        }
        let channel_id = ChannelId::new(channel.get());
        let mut call = Call::new(LightMethod::Get, Route::Channel { channel_id });
        call.patience = AT_ONCE;
        let found = self.house.rest.fetch::<Channel>(&call).await;
        if let Err(error) = &found
            && lacks_permission(error)
        {
            tracing::warn!("{}", missing_permission("?", channel));
            return Ok(words::lacking(&["View Channel"]));
        }
        let elsewhere = found
            .as_ref()
            .is_ok_and(|found| found.guild_id.is_some_and(|of| of != guild));
        if elsewhere {
            return Ok(words::NOT_BOUND.to_owned());
        }
        let place = BoundChannel {
            id: channel.get(),
            guild: guild.get(),
            parent: None,
            name: found.ok().and_then(|found| found.name).unwrap_or_default(),
            cursor: self.interaction.id.get(),
        };
        self.house.store_place(&place).await?;
        self.house.places().bind(&place);
        Ok(words::BOUND.to_owned())
    }

    async fn unbind(&self, guild: Id, channel: Id) -> Result<String, StoreError> {
        let ours = self
            .house
            .places()
            .get(channel)
            .is_some_and(|place| place.guild == guild);
        if !ours {
            return Ok(words::NOT_BOUND.to_owned());
        }
        let mut tx = self.house.store().begin().await?;
        tx.unbind_channel(channel.get()).await?;
        tx.commit().await?;
        self.house.places().unbind(channel);
        Ok(words::UNBOUND.to_owned())
    }

    /// What the bot may not do in this channel, where the platform says it.
    fn lacking(&self, channel: Id) -> Vec<&'static str> {
        let said = self.interaction.app_permissions.as_deref();
        let said = said.filter(|_| self.interaction.place() == Some(channel));
        let Some(may) = said.and_then(|text| text.parse::<u64>().ok()) else {
            return Vec::new();
        };
        if may & commands::ADMINISTRATOR != 0 {
            return Vec::new();
        }
        let needed = NEEDED.iter().filter(|(bit, _)| may & bit == 0);
        needed.map(|&(_, name)| name).collect()
    }
}

/// What the bot needs in a channel. *topics/permissions#permissions-bitwise-permission-flags*.
const NEEDED: &[(u64, &str)] = &[
    (1 << 10, "View Channel"),
    (1 << 11, "Send Messages"),
    (1 << 16, "Read Message History"),
    (1 << 6, "Add Reactions"),
];

/// What the invitation asks for: the above, files for pictures, and answers in threads.
pub const INVITED_WITH: u64 = (1 << 10) | (1 << 11) | (1 << 16) | (1 << 6) | (1 << 15) | (1 << 38);

/// *topics/opcodes-and-status-codes#json-json-error-codes*.
const ALREADY_ACKNOWLEDGED: u64 = 40_060;

/// What is said in answer.
enum Own {
    /// A reply.
    Said(Reply, Arc<Ticket>),
    /// A new content of the message that carries the button.
    Shown(Reply, Arc<Ticket>),
}

/// The files that go with this part of a reply.
async fn attached(body: &Body, reply: &Reply) -> Vec<CreateAttachment> {
    if body.files.is_empty() {
        return Vec::new();
    }
    files(reply).await
}

fn fault() -> Filed {
    Err("the work ended without a result".to_owned())
}

async fn store_community(
    house: &House,
    community: &crate::store::discord::Community,
) -> Result<(), StoreError> {
    let mut tx = house.store().begin().await?;
    tx.put_community(community).await?;
    tx.commit().await
}
