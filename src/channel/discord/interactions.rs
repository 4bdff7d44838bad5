//! Commands, buttons, forms and completions: each is acknowledged in time, however slow the work.
//!
//! What comes of it within [`AT_ONCE`] is the answer itself; else the platform is told to wait and
//! the answer follows. The work stands in the same queue as messages, so that it sees what was
//! posted before it. `answer` says what came of it, `complete` offers what could be
//! typed, `settle` is about the channel itself.

mod answer;
mod complete;
mod settle;

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use reqwest::Method;
use serde_json::{Value, json};
use serenity::model::id::InteractionId;
use tokio::sync::mpsc;
use tokio::time::{sleep, timeout};

use super::adapter::{Adapter, Filed, now, team_key};
use super::commands::{self, Order};
use super::guard::Verdict;
use super::http::{Call, RestError, Route};
use super::limits;
use super::outbound::body::{self, EPHEMERAL, of_text};
use super::wire::{Id, Interaction, shown_name};
use crate::bot::event::{Event, Message, Press};
use crate::bot::reply::Outgoing;
use crate::bot::text::team_channel as words;
use crate::channel::admit;
use crate::service::long::Progress;
pub use settle::INVITED_WITH;

/// Answers that are there within this are given at once; whoever gave a command sees within a third of
/// a second that it arrived. The platform waits for 3 s.
const AT_ONCE: Duration = Duration::from_millis(250);
/// A button of a message that is just being posted is waited for.
const POSTING: Duration = Duration::from_millis(150);
/// A file that came with a command is waited for so long.
const FETCHED_WITHIN: Duration = Duration::from_secs(20);
/// The longest file that is taken as the text below a command, bytes.
const LONGEST_FILE: usize = 1024 * 1024;
/// Names a form: the line that what is filled in completes.
const FORM: &str = "form:";

/// Takes an interaction up.
pub fn begin(adapter: &Arc<Adapter>, interaction: Interaction) {
    let adapter = Arc::clone(adapter);
    tokio::spawn(async move {
        let talk = Talk {
            adapter: &adapter,
            interaction: &interaction,
            waits: AtomicBool::new(false),
        };
        if let Err(error) = talk.hold().await {
            adapter.note_refusal(&error);
            tracing::warn!(%error, kind = interaction.kind, "an interaction could not be answered");
        }
    });
}

/// An interaction and what is needed to answer it.
struct Talk<'a> {
    adapter: &'a Arc<Adapter>,
    interaction: &'a Interaction,
    /// The platform was told that the answer to a command comes later.
    waits: AtomicBool,
}

/// Who speaks, and of which team.
struct Speaker {
    user: Id,
    name: String,
    team: String,
    coach: bool,
}

/// What an interaction comes to.
enum Outcome {
    /// An event was worked on.
    Filed(Filed),
    /// Nothing was; this is said to whoever asked, alone.
    Said(String),
    /// The rest is to be filled into this form.
    Form(Value),
}

impl Outcome {
    fn said(text: &str) -> Self {
        Self::Said(text.to_owned())
    }
}

impl Talk<'_> {
    async fn hold(&self) -> Result<(), RestError> {
        match self.interaction.kind {
            1 => self.callback(&json!({ "type": 1 })).await,
            2 | 3 | 5 => self.handle().await,
            4 => self.complete().await,
            kind => {
                tracing::debug!(kind, "an interaction of an unknown kind");
                Ok(())
            }
        }
    }

    /// Whatever has to be looked up, fetched or worked on counts towards [`AT_ONCE`]; what takes
    /// longer is acknowledged then, and answered when it is there.
    async fn handle(&self) -> Result<(), RestError> {
        let Some(user) = self.interaction.from() else {
            return Ok(());
        };
        if self.adapter.writes_too_much(self.guild(), user.id) != Verdict::Fine {
            return self
                .respond(4, &of_text(words::TOO_FAST).answer(true))
                .await;
        }
        let mut doing = std::pin::pin!(self.outcome());
        if let Ok(outcome) = timeout(AT_ONCE, &mut doing).await {
            return self.conclude(outcome, None).await;
        }
        // A command's answer is nearly always private; a button's is where it stands.
        let command = self.interaction.kind != 3;
        let deferred = if command {
            json!({ "type": 5, "data": { "flags": EPHEMERAL } })
        } else {
            json!({ "type": 6 })
        };
        self.callback(&deferred).await?;
        self.waits.store(command, Ordering::Relaxed);
        let outcome = timeout(limits::FOLLOW_UP_WITHIN, doing).await;
        let outcome = outcome.unwrap_or_else(|_| Outcome::Filed(fault()));
        self.conclude(outcome, Some(command)).await
    }

    async fn outcome(&self) -> Outcome {
        let Some(speaker) = self.speaker().await else {
            return Outcome::said(words::NO_TEAM);
        };
        match self.interaction.kind {
            3 => self.press(&speaker).await,
            5 => self.filled_in(&speaker).await,
            _ => self.command(&speaker).await,
        }
    }

    /// Answers with what it came to. `deferred` tells that the platform was told to wait, and
    /// whether for a command.
    async fn conclude(&self, outcome: Outcome, deferred: Option<bool>) -> Result<(), RestError> {
        let text = match outcome {
            Outcome::Filed(filed) => return self.answer(filed, deferred).await,
            Outcome::Form(form) if deferred.is_none() => return self.callback(&form).await,
            // A form can only be the first answer.
            Outcome::Form(_) => words::TOO_SLOW.to_owned(),
            Outcome::Said(text) => text,
        };
        self.first(&of_text(&text), None, true, deferred).await
    }

    /// The community; also where only the channel tells which.
    fn guild(&self) -> Option<Id> {
        let of_channel = || {
            let channel = self.interaction.place()?;
            self.adapter
                .places()
                .bound(channel)
                .map(|place| place.guild)
        };
        self.interaction.guild_id.or_else(of_channel)
    }

    /// When it was given: by its id, or now where that cannot be, since what is older than this is
    /// not answered any more.
    fn at(&self) -> DateTime<Utc> {
        let (told, now) = (self.interaction.id.at(), now());
        let oldest = TimeDelta::from_std(limits::FOLLOW_UP_WITHIN).unwrap_or_default();
        if told <= now && now - told <= oldest {
            told
        } else {
            now
        }
    }

    /// Who speaks; `None` for somebody in private who is in no team.
    async fn speaker(&self) -> Option<Speaker> {
        let user = self.interaction.from()?;
        let name = shown_name(user, self.interaction.member.as_ref());
        let Some(guild) = self.guild() else {
            let (team, coach) = self.adapter.team_of(user.id).await?;
            return Some(Speaker {
                user: user.id,
                name,
                team,
                coach,
            });
        };
        let member = self.interaction.member.as_ref();
        let news = member.and_then(|member| self.adapter.places().saw(guild, user.id, member));
        if let Some(community) = news {
            let adapter = Arc::clone(self.adapter);
            tokio::spawn(async move {
                if let Err(error) = settle::store_community(&adapter, &community).await {
                    tracing::warn!(%error, "who manages a community could not be kept");
                }
            });
        }
        Some(Speaker {
            user: user.id,
            name,
            team: team_key(guild),
            coach: self.adapter.places().is_coach(guild, user.id, member),
        })
    }

    // Commands and forms.

    async fn command(&self, speaker: &Speaker) -> Outcome {
        match commands::order(&self.interaction.data, speaker.coach) {
            Some(Order::Line(line)) => self.line(speaker, &line).await,
            Some(Order::WithFile(line, file)) => match self.text_of(&file).await {
                Some(text) => self.line(speaker, &format!("{line}\n{text}")).await,
                None => Outcome::said(words::FILE_UNREAD),
            },
            Some(Order::Form(line)) => match form_for(&line) {
                Some(form) => Outcome::Form(form),
                None => self.line(speaker, &line).await,
            },
            Some(order) => Outcome::Said(self.settle(speaker, &order).await),
            // A command of an older registration.
            None => Outcome::said(words::OLD_BUTTON),
        }
    }

    /// The text of a file that came with the command; `None` where it cannot be had in time or is no
    /// text.
    async fn text_of(&self, file: &str) -> Option<String> {
        let attachment = self.interaction.data.resolved.attachments.get(file)?;
        if attachment.size > LONGEST_FILE as u64 {
            return None;
        }
        let fetched = self.adapter.rest.file(&attachment.url, LONGEST_FILE);
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

    async fn filled_in(&self, speaker: &Speaker) -> Outcome {
        let data = &self.interaction.data;
        let text = data
            .components
            .iter()
            .find_map(|row| row.filled(body::FORM_FIELD));
        match (data.custom_id.strip_prefix(FORM), text) {
            (Some(line), Some(text)) => self.line(speaker, &format!("{line}\n{text}")).await,
            _ => Outcome::said(words::OLD_BUTTON),
        }
    }

    /// A line as if typed. Its id is none that a message could have, so that a channel's history
    /// is never taken to be read because of it.
    async fn line(&self, speaker: &Speaker, line: &str) -> Outcome {
        let Some(channel) = self.interaction.place() else {
            return Outcome::Filed(fault());
        };
        let event = Event::Message(Message {
            id: format!("i{}", self.interaction.id),
            team: speaker.team.clone(),
            channel: channel.to_string(),
            author: speaker.user.to_string(),
            name: speaker.name.clone(),
            coach: speaker.coach,
            at: self.at(),
            text: line.to_owned(),
        });
        self.work(event).await
    }

    // Buttons.

    async fn press(&self, speaker: &Speaker) -> Outcome {
        let pressed = match self.interaction.message {
            Some(message) => self.pressed(speaker, message.id).await,
            None => None,
        };
        let Some((team, reply)) = pressed else {
            return Outcome::said(words::OLD_BUTTON);
        };
        let event = Event::Press(Press {
            id: Some(self.interaction.id.to_string()),
            reply,
            team,
            author: speaker.user.to_string(),
            button: self.interaction.data.custom_id.clone(),
            at: self.at(),
        });
        self.work(event).await
    }

    /// The reply under which the button stands, and its team: in private that may be any team that
    /// the speaker is in.
    async fn pressed(&self, speaker: &Speaker, message: Id) -> Option<(String, String)> {
        let team = speaker.team.clone();
        if let Some(reply) = self.reply_at(&team, message).await {
            return Some((team, reply));
        }
        if self.guild().is_some() {
            return None;
        }
        let (sent, store) = (&self.adapter.sent, self.adapter.store());
        for team in self.adapter.teams_of(speaker.user).await {
            if let Ok(Some(reply)) = sent.reply_at(store, &team, message).await {
                return Some((team, reply));
            }
        }
        None
    }

    async fn reply_at(&self, team: &str, message: Id) -> Option<String> {
        let (sent, store) = (&self.adapter.sent, self.adapter.store());
        let known = sent.reply_at(store, team, message).await.ok()?;
        if known.is_some() {
            return known;
        }
        sleep(POSTING).await;
        sent.reply_at(store, team, message).await.ok()?
    }

    async fn work(&self, mut event: Event) -> Outcome {
        if let Err(error) = admit(&mut event) {
            return Outcome::Said(error.to_string());
        }
        if self.adapter.service.is_long(&event).await {
            return Outcome::Filed(self.work_long(&event).await);
        }
        let channel = self.interaction.place();
        Outcome::Filed(self.adapter.file(channel, event, true).await)
    }

    /// Works on what is much work, beside all else. Once the platform was told to wait, the answer to come says
    /// how far it is.
    async fn work_long(&self, event: &Event) -> Filed {
        // It sees what was posted before it.
        self.adapter.drained().await;
        let (to, mut told) = mpsc::unbounded_channel();
        let progress = Progress::shown_to(to);
        let mut working = std::pin::pin!(self.adapter.file_long(event, &progress));
        loop {
            let one = tokio::select! {
                filed = &mut working => return filed,
                Some(one) = told.recv() => one,
            };
            let (Outgoing::Reply(reply) | Outgoing::Update(reply)) = one else {
                continue;
            };
            if !self.waits.load(Ordering::Relaxed) {
                continue;
            }
            // It is not left on its way: it would overtake the answer.
            let body = of_text(&reply.text);
            let mut showing = std::pin::pin!(self.fill(&body, None));
            let (shown, filed) = tokio::select! {
                shown = &mut showing => (shown, None),
                filed = &mut working => (showing.await, Some(filed)),
            };
            if let Err(error) = shown {
                tracing::debug!(%error, "how far an import has come could not be shown");
            }
            if let Some(filed) = filed {
                return filed;
            }
        }
    }

    // The first answer.

    async fn respond(&self, kind: u8, data: &Value) -> Result<(), RestError> {
        let body = json!({ "type": kind, "data": data });
        self.callback(&body).await
    }

    async fn callback(&self, body: &Value) -> Result<(), RestError> {
        let route = Route::InteractionResponse {
            interaction_id: InteractionId::new(self.interaction.id.get()),
            token: &self.interaction.token,
        };
        let mut call = Call::new(Method::POST, route).json(body);
        call.patience = limits::ACKNOWLEDGE_WITHIN;
        match self.adapter.rest.send(&call).await {
            // It was acknowledged by a try whose answer was lost.
            Err(error) if error.code() == ALREADY_ACKNOWLEDGED => Ok(()),
            done => done.map(drop),
        }
    }
}

/// *topics/opcodes-and-status-codes#json-json-error-codes*.
const ALREADY_ACKNOWLEDGED: u64 = 40_060;

/// The form that completes a line; `None` for one that is too long to be its name.
fn form_for(line: &str) -> Option<Value> {
    let id = format!("{FORM}{line}");
    if id.chars().count() > limits::CUSTOM_ID {
        return None;
    }
    Some(if line.starts_with("/import") {
        body::form(&id, words::LOG_TITLE, words::LOG_LABEL, words::LOG_HINT)
    } else {
        body::form(&id, words::PLAN_TITLE, words::PLAN_LABEL, words::PLAN_HINT)
    })
}

fn fault() -> Filed {
    Err("the work ended without a result".to_owned())
}
