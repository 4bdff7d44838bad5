//! Signs on members' messages: one at a time, whatever stood there before, also before a restart.

use std::sync::Arc;
use std::time::Duration;

use reqwest::Method;
use serde::Deserialize;
use serenity::model::id::{ChannelId, MessageId};
use tokio::time::{Instant, sleep_until};

use super::outbox::Ticket;
use super::permissions::{self, Action, is_forbidden};
use super::replies::{message_route, unless_gone};
use super::send_queue::{Hindrance, Lines, Next, SignJob};
use crate::bot::reply::{Mark, Sign};
use crate::channel::discord::adapter::Adapter;
use crate::channel::discord::http::{Call, Cause, RestError, Route};
use crate::channel::discord::wire::{Id, Reaction};

/// A request is tried for this long before the line pauses.
const PATIENCE: Duration = Duration::from_secs(30);
/// A lease that ended, or a database that is busy, is looked at again after this.
const LOOK_AGAIN: Duration = Duration::from_millis(500);

/// All signs.
const SIGNS: [Sign; 4] = [Sign::Filed, Sign::Corrected, Sign::Removed, Sign::Question];

/// The sign that a message shows, as far as this run knows.
#[derive(Clone, Debug)]
pub(in crate::channel::discord) struct Shown {
    /// `None` where there is none.
    sign: Option<Sign>,
    /// The row that it came with.
    ticket: Option<Arc<Ticket>>,
}

impl Adapter {
    /// Whether a message has which sign was read off it, or it is so new that it has none.
    pub(in crate::channel::discord) fn saw_sign(&self, message: Id, sign: Option<Sign>) {
        let mut signs = self.signs();
        if signs.get(&message).is_none() {
            signs.put(message, Shown { sign, ticket: None });
        }
    }

    pub(super) fn put_sign(
        self: &Arc<Self>,
        channel: Option<Id>,
        mark: Mark,
        ticket: Arc<Ticket>,
        again: bool,
    ) {
        // Commands have no message that could carry a sign.
        let Ok(message) = mark.answers.parse::<Id>() else {
            self.outbox.part_done(&ticket);
            return;
        };
        let job = SignJob {
            message,
            sign: mark.sign,
            tickets: vec![ticket],
            not_before: None,
            failures: 0,
        };
        let seen = self.was_seen(message);
        if seen && !again {
            // It came in this run, so nobody has put a sign on it before.
            self.saw_sign(message, None);
        }
        if let Some(channel) = channel.filter(|_| seen) {
            self.begin_signs(channel, job);
            return;
        }
        let adapter = Arc::clone(self);
        self.spawn(async move {
            let stands = adapter.channel_of(&mark).await.or(channel);
            match stands {
                Some(stands) => adapter.begin_signs(stands, job),
                None => job
                    .tickets
                    .iter()
                    .for_each(|one| adapter.outbox.part_done(one)),
            }
        });
    }

    fn begin_signs(self: &Arc<Self>, channel: Id, job: SignJob) {
        let put = |lines: &mut Lines| lines.signs.put(job, Instant::now());
        if self.queues.with(channel, put) {
            let adapter = Arc::clone(self);
            self.spawn(async move {
                // The card's request, made just now, shall leave before this one is made.
                tokio::task::yield_now().await;
                adapter.send_signs(channel).await;
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

    async fn send_signs(&self, channel: Id) {
        loop {
            let next = |lines: &mut Lines| lines.signs.next(Instant::now());
            let job = match self.queues.with(channel, next) {
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
            match self.sign(channel, &job).await {
                Ok(()) => {
                    job.tickets
                        .iter()
                        .for_each(|one| self.outbox.part_done(one));
                    self.queues.with(channel, |lines| lines.signs.went_well());
                }
                Err(why) => self.queues.with(channel, |lines| {
                    lines.signs.put_back(job, why, Instant::now());
                }),
            }
        }
    }

    /// Puts a sign on a member's message, in place of the one before.
    async fn sign(&self, channel: Id, job: &SignJob) -> Result<(), Hindrance> {
        let Some(latest) = job.latest().filter(|one| !one.is_lost()) else {
            return Ok(());
        };
        if !self.outbox.is_leased(latest, Instant::now()) {
            return Err(Hindrance::NotYet(LOOK_AGAIN));
        }
        let (message, sign) = (job.message, job.sign);
        let shown = self.signs().get(&message).cloned();
        if let Some(shown) = &shown {
            let later = shown.ticket.as_ref();
            if later.is_some_and(|shown| shown.order(latest).is_gt()) || shown.sign == Some(sign) {
                return Ok(());
            }
        }
        // Until all of it is done it is not known what the message shows.
        self.signs().remove(&message);
        let done = self.put_in_place(channel, message, sign, shown).await;
        if let Err(error) = done {
            return self.sign_refused(channel, message, &error).await;
        }
        let shown = Shown {
            sign: Some(sign),
            ticket: Some(Arc::clone(latest)),
        };
        self.signs().put(message, shown);
        Ok(())
    }

    async fn put_in_place(
        &self,
        channel: Id,
        message: Id,
        sign: Sign,
        shown: Option<Shown>,
    ) -> Result<(), RestError> {
        let put = self.react(Method::PUT, channel, message, sign).await;
        if put.as_ref().is_err_and(|error| error.status() == 404) {
            // The message is gone.
            return Ok(());
        }
        unless_gone(put)?;
        let others = match shown {
            Some(shown) => shown.sign.into_iter().collect(),
            None => self.own_signs(channel, message).await?,
        };
        for other in others.into_iter().filter(|other| *other != sign) {
            let taken = self.react(Method::DELETE, channel, message, other).await;
            unless_gone(taken)?;
        }
        Ok(())
    }

    /// The bot's own signs on a message; all, where it may not be read.
    async fn own_signs(&self, channel: Id, message: Id) -> Result<Vec<Sign>, RestError> {
        #[derive(Deserialize)]
        struct Signed {
            #[serde(default)]
            reactions: Vec<Reaction>,
        }
        let mut call = Call::new(Method::GET, message_route(channel, message));
        call.patience = PATIENCE;
        match self.rest.fetch::<Signed>(&call).await {
            Ok(signed) => Ok(own_of(&signed.reactions)),
            Err(error @ RestError::TooLate(_)) => Err(error),
            Err(_) => Ok(SIGNS.to_vec()),
        }
    }

    async fn react(
        &self,
        method: Method,
        channel: Id,
        message: Id,
        sign: Sign,
    ) -> Result<Vec<u8>, RestError> {
        let route = Route::ChannelMessageReactionMe {
            channel_id: ChannelId::new(channel.get()),
            message_id: MessageId::new(message.get()),
            reaction: emoji(sign).1,
        };
        let mut call = Call::new(method, route);
        call.patience = PATIENCE;
        self.rest.send(&call).await
    }

    async fn sign_refused(
        &self,
        channel: Id,
        message: Id,
        error: &RestError,
    ) -> Result<(), Hindrance> {
        self.note_refusal(error);
        match error {
            RestError::TooLate(Cause::Status(_)) => Err(Hindrance::Failed),
            RestError::TooLate(_) | RestError::Refused { status: 401, .. } => {
                Err(Hindrance::NoAnswer)
            }
            error if is_forbidden(error) => {
                let call = Call::new(Method::GET, message_route(channel, message));
                // Putting a sign needs the right to read the history, too.
                // *resources/message#create-reaction*.
                let action = match self.rest.send(&call).await {
                    Err(read) if is_forbidden(&read) => Action::Read,
                    _ => Action::Sign,
                };
                self.tell_missing(channel, permissions::missing(action, error));
                Err(Hindrance::Forbidden)
            }
            error => {
                tracing::warn!(%channel, %error, "a sign could not be put");
                Ok(())
            }
        }
    }
}

/// The bot's signs among reactions.
pub(in crate::channel::discord) fn own_of(reactions: &[Reaction]) -> Vec<Sign> {
    let own = reactions.iter().filter(|one| one.me);
    let named = own.filter_map(|one| {
        let name = one.emoji.name.as_deref()?;
        let same = |sign: &Sign| plain(emoji(*sign).0) == plain(name);
        SIGNS.into_iter().find(same)
    });
    named.collect()
}

/// Without what asks for the coloured form, which some leave out. *Unicode, variation selector 16*.
fn plain(emoji: &str) -> &str {
    emoji.trim_end_matches('\u{FE0F}')
}

/// The sign as a reaction, and as addresses write it.
const fn emoji(sign: Sign) -> (&'static str, &'static str) {
    match sign {
        // Check mark, pencil, leftwards arrow, question mark.
        Sign::Filed => ("\u{2705}", "%E2%9C%85"),
        Sign::Corrected => ("\u{270F}\u{FE0F}", "%E2%9C%8F%EF%B8%8F"),
        Sign::Removed => ("\u{21A9}\u{FE0F}", "%E2%86%A9%EF%B8%8F"),
        Sign::Question => ("\u{2753}", "%E2%9D%93"),
    }
}
