//! What came of an interaction: said at once, or where the platform was told to wait, afterwards.

use std::sync::Arc;

use reqwest::Method;
use serde_json::json;
use serenity::builder::CreateAttachment;
use serenity::model::id::ApplicationId;

use super::Talk;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::words::team_channel as words;
use crate::channel::discord::body::{self, Body, of_reply, of_text};
use crate::channel::discord::house::Filed;
use crate::channel::discord::ledger::Ticket;
use crate::channel::discord::outgoing::files;
use crate::channel::discord::rest::{Call, RestError};
use crate::channel::discord::route::Route;
use crate::channel::discord::wire::{Id, Named};

/// What is said in answer.
enum Own {
    /// A reply.
    Said(Reply, Arc<Ticket>),
    /// A new content of the message that carries the button.
    Shown(Reply, Arc<Ticket>),
}

impl Talk<'_> {
    /// `deferred` tells that the platform was told to wait, and whether for a command.
    pub(super) async fn answer(
        &self,
        filed: Filed,
        deferred: Option<bool>,
    ) -> Result<(), RestError> {
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
    pub(super) async fn first(
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
        let mut call = Call::new(Method::PATCH, self.original_route()).json(&body.edit());
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
        let mut call = Call::new(Method::POST, route).json(&body.answer(private));
        // Else a webhook's answer is empty. *resources/webhook#execute-webhook*.
        call.params = vec![("wait", "true".to_owned())];
        call.files = files;
        Ok(self.house.rest.fetch::<Named>(&call).await?.id)
    }

    /// The message that the answer became.
    async fn original(&self) -> Result<Id, RestError> {
        let call = Call::new(Method::GET, self.original_route());
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
}

/// The files that go with this part of a reply.
async fn attached(body: &Body, reply: &Reply) -> Vec<CreateAttachment> {
    if body.files.is_empty() {
        return Vec::new();
    }
    files(reply).await
}
