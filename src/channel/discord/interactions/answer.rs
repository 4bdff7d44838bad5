//! What came of an interaction: said at once, or where the platform was told to wait, afterwards.

use std::sync::Arc;

use reqwest::Method;
use serde_json::json;
use serenity::model::id::ApplicationId;

use super::Talk;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::text::team_channel as words;
use crate::channel::discord::adapter::Filed;
use crate::channel::discord::http::{Call, RestError, Route};
use crate::channel::discord::outbound::body::{self, Body, of_reply, of_text};
use crate::channel::discord::outbound::outbox::Ticket;
use crate::channel::discord::outbound::sent::{SentMessage, Shows};
use crate::channel::discord::outbound::uploads;
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
                return self.first(&body, None, true, deferred).await;
            }
        };
        let (own, rest) = self.split(outgoing, deferred);
        let place = self.interaction.place();
        for (one, ticket) in rest {
            self.adapter.send(place, one, ticket, false);
        }
        match own {
            Some(Own::Said(reply, ticket)) => {
                let said = self.said(&reply, &ticket, deferred).await;
                self.adapter.outbox.part_done(&ticket);
                said
            }
            Some(Own::Shown(reply, ticket)) => {
                let body = body::of_update(&reply).edit();
                let channel = reply.channel.parse::<Id>().ok();
                let sends = || channel.is_some_and(|one| self.adapter.queues.are_sending(one));
                let sent = sends();
                let shown = self.respond(7, &body).await;
                let stands = self.adapter.sent.at_hand(&reply.team, &reply.id);
                match stands {
                    Some(stands) if shown.is_ok() && !sent && !sends() => {
                        let shows = Shows::Ticket(Arc::clone(&ticket));
                        let sent = SentMessage { shows, ..stands };
                        self.adapter.sent.note(&reply.team, &reply.id, sent);
                        self.adapter.outbox.part_done(&ticket);
                    }
                    // The queue brings it about where this did not, or where an older text of the
                    // card may have been on its way at the same time.
                    _ => self
                        .adapter
                        .send(place, Outgoing::Update(reply), ticket, false),
                }
                shown
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
        let stands = self.adapter.sent.at_hand(&reply.team, &reply.id);
        let message = self.interaction.message.map(|message| message.id);
        !reply.text.is_empty()
            && stands.is_some_and(|stands| !stands.gone && Some(stands.message) == message)
    }

    async fn said(
        &self,
        reply: &Reply,
        ticket: &Arc<Ticket>,
        deferred: Option<bool>,
    ) -> Result<(), RestError> {
        let mut bodies = of_reply(reply).into_iter();
        let Some(first) = bodies.next() else {
            return self.nothing_said(deferred).await;
        };
        self.first(&first, Some(reply), reply.private, deferred)
            .await?;
        let mut last = None;
        for body in bodies {
            last = self.follow(&body, Some(reply), reply.private).await?;
        }
        // Its buttons and later changes need to know where it stands.
        if !reply.private || !reply.buttons.is_empty() {
            let message = match last {
                Some(message) => message,
                None => self.original().await?,
            };
            if let Some(channel) = self.interaction.place() {
                let sent = SentMessage {
                    channel,
                    message,
                    gone: false,
                    shows: Shows::Ticket(Arc::clone(ticket)),
                };
                self.adapter.sent.note(&reply.team, &reply.id, sent);
            }
        }
        Ok(())
    }

    /// The first thing said. A button's wait was for its own message, so more is said after it.
    pub(super) async fn first(
        &self,
        body: &Body,
        of: Option<&Reply>,
        private: bool,
        deferred: Option<bool>,
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
                if body.files.is_empty() {
                    return Ok(());
                }
                self.fill(body, of).await
            }
            Some(true) => self.fill(body, of).await,
            Some(false) => self.follow(body, of, private).await.map(drop),
        }
    }

    /// The answer that stands becomes this one.
    pub(super) async fn fill(&self, body: &Body, of: Option<&Reply>) -> Result<(), RestError> {
        let edit = |body: &Body| Call::new(Method::PATCH, self.original_route()).json(&body.edit());
        let done = self.upload(body, of, edit).await;
        done.map(drop)
    }

    /// Makes a request with the files of a reply; without them where they are refused, and with the
    /// reason.
    async fn upload<'a>(
        &self,
        body: &Body,
        of: Option<&Reply>,
        call: impl Fn(&Body) -> Call<'a>,
    ) -> Result<Vec<u8>, RestError> {
        let attached = match of {
            Some(reply) => uploads::attach(body, reply).await,
            None => return self.adapter.rest.send(&call(body)).await,
        };
        let mut with = call(&attached.body);
        with.files = attached.files;
        match self.adapter.rest.send(&with).await {
            Err(error) if !with.files.is_empty() && uploads::is_refused(&error) => {
                tracing::warn!(%error, "files were refused; the words go without them");
                self.adapter
                    .rest
                    .send(&call(&uploads::without(body, &error)))
                    .await
            }
            done => done,
        }
    }

    async fn nothing_said(&self, deferred: Option<bool>) -> Result<(), RestError> {
        let command = self.interaction.kind != 3;
        match deferred {
            Some(false) => Ok(()),
            None if !command => self.callback(&json!({ "type": 6 })).await,
            _ => {
                self.first(&of_text(words::DONE), None, true, deferred)
                    .await
            }
        }
    }

    /// Says more. The platform compares no nonces here, so what may have been said is not said again;
    /// then it is not known where it stands.
    async fn follow(
        &self,
        body: &Body,
        of: Option<&Reply>,
        private: bool,
    ) -> Result<Option<Id>, RestError> {
        let call = |body: &Body| {
            let route = Route::WebhookFollowupMessages {
                application_id: self.application(),
                token: &self.interaction.token,
            };
            let mut call = Call::new(Method::POST, route).json(&body.answer(private));
            // Else a webhook's answer is empty. *resources/webhook#execute-webhook*.
            call.params = vec![("wait", "true".to_owned())];
            call.once = true;
            call
        };
        match self.upload(body, of, call).await {
            Ok(answer) => {
                let posted = serde_json::from_slice::<Named>(&answer);
                Ok(posted.ok().map(|posted| posted.id))
            }
            Err(error @ RestError::InDoubt(_)) => {
                tracing::warn!(%error, "it is not known whether an answer arrived");
                Ok(None)
            }
            Err(error) => Err(error),
        }
    }

    /// The message that the answer became.
    async fn original(&self) -> Result<Id, RestError> {
        let call = Call::new(Method::GET, self.original_route());
        Ok(self.adapter.rest.fetch::<Named>(&call).await?.id)
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
