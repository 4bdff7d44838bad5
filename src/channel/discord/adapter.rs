//! What all parts of the adapter share, and the one line of work from the queue through the
//! service to what is sent.

use std::collections::{HashMap, HashSet};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::time::Duration;

use chrono::{DateTime, Utc};
use tokio::sync::{Notify, Semaphore};
use tokio::task::JoinSet;
use tokio::time::{Instant, sleep};

use super::bound_channels::BoundChannels;
use super::guard::Guard;
use super::http::{Rest, RestError};
use super::inbox::{Inbox, Item};
use super::options::Options;
use super::outbound::expiry::is_of_no_use;
use super::outbound::outbox::{LEASE, Outbox, RENEW_EVERY, Ticket};
use super::outbound::posting::{Posting, VIA};
use super::outbound::recent::Recent;
use super::outbound::send_queue::SendQueues;
use super::outbound::sent::Sent;
use super::outbound::signs::Shown;
use super::wire::Id;
use crate::backoff::Backoff;
use crate::bot::event::{Clock, Event};
use crate::bot::reply::Outgoing;
use crate::jobs::{Keep, Worker, watch};
use crate::service::Service;
use crate::service::long::Progress;
use crate::store::outbox::Unsent;
use crate::store::{Store, StoreError};

/// The most events that share a commit.
const GROUP: usize = 64;
/// A missing permission is told once in this time.
const TELL_EVERY: Duration = Duration::from_secs(600);
/// How often what was sent is stored.
const STORE_EVERY: Duration = Duration::from_millis(250);

/// What comes of an event, each part with the ticket of its answer.
pub type Filed = Result<Vec<(Outgoing, Arc<Ticket>)>, String>;

/// What all parts share.
#[derive(Debug)]
pub struct Adapter {
    /// The bot on its store.
    pub service: Service<Posting>,
    /// The way to the platform.
    pub rest: Rest,
    /// How the channel was opened.
    pub options: Options,
    /// What waits to be worked on.
    pub inbox: Inbox<Filed>,
    /// What waits to be sent, by channel.
    pub queues: SendQueues,
    /// The rows of the outbox that are being sent.
    pub outbox: Outbox,
    /// Where replies stand.
    pub sent: Sent,
    /// The bot's own user and application, once a session stands.
    pub own: OnceLock<(Id, Id)>,
    /// The platform refused the token.
    pub refused: Notify,
    places: Mutex<BoundChannels>,
    guard: Mutex<Guard>,
    seen: Mutex<Recent<Id, ()>>,
    turned_away: Mutex<Recent<Id, ()>>,
    /// Private channels: by their id, whose team they speak to, and whether a coach speaks.
    private: Mutex<HashMap<Id, (String, bool)>>,
    /// Private channels by member, to write to.
    writes_to: Mutex<HashMap<Id, Id>>,
    /// Turns at reading the histories of direct messages.
    pub(super) direct_turns: Semaphore,
    /// Held channels whose history is to be read once more.
    again: Mutex<HashSet<Id>>,
    /// Something was due, and yet nothing could be done.
    idle: AtomicBool,
    /// Signs on messages.
    signs: Mutex<Recent<Id, Shown>>,
    /// When the operator was last told of a missing permission.
    told_missing: Mutex<HashMap<(Id, &'static str), Instant>>,
    /// What sends.
    senders: Mutex<JoinSet<()>>,
    /// Held by whoever stores what was sent: what one has taken to store, the next waits for.
    storing: tokio::sync::Mutex<()>,
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The key of a community's team.
pub fn team_key(guild: Id) -> String {
    format!("{TEAM}{guild}")
}

/// What the keys of teams of this channel begin with.
pub const TEAM: &str = "discord:";

/// The community of a team.
pub fn guild_of(team: &str) -> Option<Id> {
    team.strip_prefix(TEAM)?.parse().ok()
}

/// Now.
#[expect(clippy::disallowed_methods, reason = "an adapter reads the clock")]
pub fn now() -> DateTime<Utc> {
    Utc::now()
}

impl Adapter {
    /// The adapter, with what was stored of places.
    pub fn new(
        service: Service<Posting>,
        rest: Rest,
        options: Options,
        places: BoundChannels,
    ) -> Self {
        Self {
            service,
            rest,
            options,
            inbox: Inbox::default(),
            queues: SendQueues::default(),
            outbox: Outbox::default(),
            sent: Sent::default(),
            own: OnceLock::new(),
            refused: Notify::new(),
            places: Mutex::new(places),
            guard: Mutex::default(),
            seen: Mutex::default(),
            turned_away: Mutex::default(),
            private: Mutex::default(),
            writes_to: Mutex::default(),
            direct_turns: Semaphore::new(super::direct::AT_ONCE),
            again: Mutex::default(),
            idle: AtomicBool::new(false),
            signs: Mutex::default(),
            told_missing: Mutex::default(),
            senders: Mutex::default(),
            storing: tokio::sync::Mutex::default(),
        }
    }

    /// The store.
    pub const fn store(&self) -> &Store {
        self.service.store()
    }

    /// What is known of places.
    pub fn places(&self) -> MutexGuard<'_, BoundChannels> {
        lock(&self.places)
    }

    /// What members have left to write.
    pub fn guard(&self) -> MutexGuard<'_, Guard> {
        lock(&self.guard)
    }

    /// Private channels and whose they are.
    pub fn private(&self) -> MutexGuard<'_, HashMap<Id, (String, bool)>> {
        lock(&self.private)
    }

    /// Private channels by member.
    pub fn writes_to(&self) -> MutexGuard<'_, HashMap<Id, Id>> {
        lock(&self.writes_to)
    }

    /// Held channels to be read once more.
    pub fn again(&self) -> MutexGuard<'_, HashSet<Id>> {
        lock(&self.again)
    }

    /// Signs on messages, as far as this run knows.
    pub(super) fn signs(&self) -> MutexGuard<'_, Recent<Id, Shown>> {
        lock(&self.signs)
    }

    /// Whether a missing permission is to be told now: once in a while.
    pub(super) fn tells_missing(&self, channel: Id, permission: &'static str) -> bool {
        let mut told = lock(&self.told_missing);
        let recent = told
            .get(&(channel, permission))
            .is_some_and(|at| at.elapsed() < TELL_EVERY);
        if !recent {
            told.insert((channel, permission), Instant::now());
        }
        !recent
    }

    /// Begins something that sends; it ends with the channel.
    pub(super) fn spawn(&self, sending: impl Future<Output = ()> + Send + 'static) {
        let mut senders = lock(&self.senders);
        while senders.try_join_next().is_some() {}
        senders.spawn(sending);
    }

    /// Nothing is sent any more. What is under way stays in the outbox.
    pub(super) fn end_sending(&self) {
        lock(&self.senders).abort_all();
    }

    /// Whether a message comes for the first time since the start.
    pub fn is_new(&self, message: Id) -> bool {
        lock(&self.seen).put(message, ()).is_none()
    }

    /// Whether a message was worked on since the start.
    pub fn was_seen(&self, message: Id) -> bool {
        lock(&self.seen).get(&message).is_some()
    }

    /// A message was not taken, because its author floods.
    pub fn turn_away(&self, message: Id) {
        lock(&self.turned_away).put(message, ());
    }

    /// Whether a message was not taken.
    pub fn was_turned_away(&self, message: Id) -> bool {
        lock(&self.turned_away).get(&message).is_some()
    }

    /// Something went wrong with a request; some things concern more than the request.
    pub fn note_refusal(&self, error: &RestError) {
        // 50027 is about an interaction's own token.
        if error.status() == 401 && error.code() != 50_027 {
            self.refused.notify_one();
        }
    }

    /// Works on what waits, for ever.
    pub async fn work(self: Arc<Self>) {
        loop {
            let items = self.inbox.take(GROUP).await;
            self.work_on(items).await;
        }
    }

    async fn work_on(self: &Arc<Self>, mut items: Vec<Item<Filed>>) {
        while !items.is_empty() {
            let clock = items.iter().position(Item::is_clock);
            let later = items.split_off(clock.unwrap_or(items.len()));
            self.file_all(items).await;
            items = later;
            if clock.is_some() {
                let item = items.remove(0);
                self.tick(item).await;
            }
        }
    }

    /// Time passes: some of what is due happens, and it is looked again. Events that came meanwhile
    /// are worked on in between.
    async fn tick(self: &Arc<Self>, item: Item<Filed>) {
        let keep = Keep {
            via: VIA,
            lease: LEASE,
            clock: None,
        };
        let worker = Worker::new(&self.service, self.service.use_case().process(), Some(keep));
        let mut done = Vec::new();
        let stepped = worker.step(now(), &mut done).await;
        self.idle.store(done.is_empty(), Ordering::Relaxed);
        for done in done.into_iter().filter(|done| !done.out.is_empty()) {
            // Sent here: a set that is filed next may take it back.
            let ticket = self.outbox.hold(done.kept, now(), done.out.len(), 0);
            let one = |one| (one, Arc::clone(&ticket));
            self.send_all(None, done.out.into_iter().map(one).collect(), false);
        }
        let filed = stepped.map(|_| Vec::new());
        answer(item.answer, filed.map_err(|error| error.to_string()));
    }

    async fn file_all(self: &Arc<Self>, items: Vec<Item<Filed>>) {
        let (mut long, mut short) = (Vec::new(), Vec::new());
        for item in items {
            let is_long = match &item.event {
                Some(event) => self.service.is_long(event).await,
                None => false,
            };
            if is_long { &mut long } else { &mut short }.push(item);
        }
        let events: Vec<Event> = short.iter().filter_map(|item| item.event.clone()).collect();
        // It waits for a store that is down. Whatever fails all the same would only fail again, and
        // nobody else is to wait for that.
        let mut results = self.service.handle(&events).await.into_iter();
        // They see what was posted before them.
        for item in long {
            self.file_beside(item);
        }
        for item in short {
            let Some(event) = item.event else {
                answer(item.answer, Ok(Vec::new()));
                continue;
            };
            // As many results as events.
            let Some(result) = results.next() else { return };
            let mut again = false;
            let filed = match result {
                Ok(outgoing) => {
                    again = self.worked_on(item.channel, &event);
                    Ok(self.ticketed(&event, outgoing))
                }
                Err(error) => {
                    if item.answer.is_none() {
                        self.missed(item.channel, &event);
                    }
                    Err(error.to_string())
                }
            };
            if let Some(Ok(outgoing)) = answer(item.answer, filed) {
                self.send_all(item.channel, outgoing, again);
            }
        }
    }

    /// Works on a message that is much work, while those behind it are worked on.
    fn file_beside(self: &Arc<Self>, item: Item<Filed>) {
        let message = item.event.as_ref().and_then(Event::id);
        let message = message.and_then(|id| id.parse::<u64>().ok());
        let place = item.channel.zip(message);
        if let Some((channel, message)) = place {
            self.places().is_under_way(channel, message);
        }
        let adapter = Arc::clone(self);
        self.spawn(async move {
            let Some(event) = item.event else { return };
            let filed = match adapter.service.long(&event, &Progress::default()).await {
                Ok(outgoing) => Ok(adapter.ticketed(&event, outgoing)),
                // Its channel is read again from before it by the next run.
                Err(error) => Err(error.to_string()),
            };
            let again = filed.is_ok() && adapter.worked_on(item.channel, &event);
            if let (Some((channel, message)), true) = (place, filed.is_ok()) {
                adapter.places().is_done(channel, message);
            }
            if let Some(Ok(outgoing)) = answer(item.answer, filed) {
                adapter.send_all(item.channel, outgoing, again);
            }
        });
    }

    /// What comes of an event that is much work, for whoever waits for it; how far it has come is shown there.
    pub async fn file_long(&self, event: &Event, progress: &Progress) -> Filed {
        let done = self.service.long(event, progress).await;
        done.map(|outgoing| self.ticketed(event, outgoing))
            .map_err(|error| error.to_string())
    }

    /// A message is filed, or holds nothing: its channel is read up to it. Whether that was so
    /// already.
    fn worked_on(&self, channel: Option<Id>, event: &Event) -> bool {
        if let (Some(channel), Event::Message(message)) = (channel, event)
            && let Ok(id) = message.id.parse()
        {
            return self.places().worked_on(channel, id);
        }
        false
    }

    /// A message could not be filed: its channel is to be read anew from before it.
    fn missed(self: &Arc<Self>, channel: Option<Id>, event: &Event) {
        if let (Some(channel), Event::Message(_)) = (channel, event) {
            super::catch_up::begin(self, channel);
        }
    }

    /// What goes out for an event, with the ticket of its kept answer.
    fn ticketed(&self, event: &Event, outgoing: Vec<Outgoing>) -> Vec<(Outgoing, Arc<Ticket>)> {
        if outgoing.is_empty() {
            return Vec::new();
        }
        let (key, parts) = (Posting::key(event), outgoing.len());
        let ticket = self.outbox.hold(key, event.at(), parts, 0);
        let one = |one| (one, Arc::clone(&ticket));
        outgoing.into_iter().map(one).collect()
    }

    /// Sends what came of something that just happened; `again` where it may have come before.
    pub fn send_all(
        self: &Arc<Self>,
        channel: Option<Id>,
        outgoing: Vec<(Outgoing, Arc<Ticket>)>,
        again: bool,
    ) {
        // The card is what the lifter waits for; its request is made before the sign's.
        let (signs, replies): (Vec<_>, Vec<_>) = outgoing
            .into_iter()
            .partition(|(one, _)| matches!(one, Outgoing::Mark(_)));
        for (one, ticket) in replies.into_iter().chain(signs) {
            self.send(channel, one, ticket, again);
        }
    }

    /// Stores what was sent, now and again.
    pub async fn keep_books(self: Arc<Self>) {
        let mut failing = false;
        loop {
            sleep(STORE_EVERY).await;
            let stored = self.store_books().await;
            // Once, and not for as long as it lasts.
            if let (Err(error), false) = (&stored, failing) {
                tracing::warn!(%error, "what was sent could not be stored; it is tried again");
            }
            failing = stored.is_err();
        }
    }

    /// Stores what was sent.
    ///
    /// # Errors
    /// [`StoreError`]; it is tried again with the next call.
    pub async fn store_books(&self) -> Result<(), StoreError> {
        let _turn = self.storing.lock().await;
        let cursors = self.places().moved();
        let unstored = self.sent.take_unstored();
        if unstored.is_empty() && !self.outbox.has_done() && cursors.is_empty() {
            return Ok(());
        }
        let mut dropped = Vec::new();
        let stored = async {
            let mut tx = self.store().begin().await?;
            // First, since that tells the places of the rows in the order.
            dropped = self.outbox.drop_done(&mut tx).await?;
            unstored.write(&mut tx).await?;
            for cursor in &cursors {
                match cursor.direct {
                    Some(_) => super::direct::store(&mut tx, cursor).await?,
                    None => tx.read_to(cursor.channel.get(), cursor.read_to).await?,
                }
            }
            tx.commit().await
        };
        let stored = stored.await;
        if stored.is_err() {
            self.outbox.undo_drop(dropped);
            self.sent.put_back(unstored);
            for cursor in cursors {
                self.places().unmove(cursor.channel, cursor.read_to);
            }
        }
        stored
    }

    /// Keeps the rows that are being sent, and takes up what processes left that are gone, for ever.
    pub async fn keep_outbox(self: Arc<Self>) {
        let mut failing = false;
        loop {
            sleep(RENEW_EVERY).await;
            let kept = self.keep_outbox_once().await;
            if let (Err(error), false) = (&kept, failing) {
                tracing::warn!(%error, "the outbox cannot be read; it is tried again");
            }
            failing = kept.is_err();
        }
    }

    /// Renews the leases of the rows that are being sent, and takes up those whose lease is over.
    pub async fn keep_outbox_once(self: &Arc<Self>) -> Result<(), StoreError> {
        let left = self.store().next_left(VIA).await?;
        let is_left = left.is_some_and(|until| until <= now());
        if !is_left && !self.outbox.has_old() {
            return Ok(());
        }
        let sender = self.service.use_case().sender();
        let mut tx = self.store().begin().await?;
        let renewal = self.outbox.renew(&mut tx, sender).await?;
        let taken = tx.take_left(sender, now()).await?;
        tx.commit().await?;
        self.outbox.renewed(&renewal);
        for row in taken.into_iter().filter(|row| !self.outbox.holds(&row.key)) {
            self.send_left(row);
        }
        Ok(())
    }

    /// Sends what another process committed that is gone, or an earlier run of this one.
    fn send_left(self: &Arc<Self>, row: Unsent) {
        tracing::debug!(team = row.team, "what another run left is sent");
        let (at, mut outgoing) = (row.at, row.outgoing);
        outgoing.retain(|one| !is_of_no_use(one, at, now()));
        let ticket = self.outbox.hold(row.key, at, outgoing.len(), row.id);
        for one in outgoing {
            self.send(None, one, Arc::clone(&ticket), true);
        }
    }

    /// The next run need not wait for the leases of this one.
    pub async fn let_go(&self) {
        let let_go = async {
            let mut tx = self.store().begin().await?;
            tx.release(VIA, self.service.use_case().process()).await?;
            tx.commit().await
        };
        let let_go: Result<(), StoreError> = let_go.await;
        if let Err(error) = let_go {
            tracing::debug!(%error, "the leases end by themselves");
        }
    }

    /// Lets happen what is due.
    pub async fn watch_clock(self: Arc<Self>) {
        let mut backoff = Backoff::new();
        loop {
            match self.watch_once().await {
                Ok(()) => backoff.reset(),
                Err(why) => {
                    if backoff.failures() == 0 {
                        tracing::warn!(why, "cannot read the due jobs; retrying");
                    }
                    sleep(backoff.next()).await;
                }
            }
        }
    }

    async fn watch_once(self: &Arc<Self>) -> Result<(), String> {
        let why = |error: StoreError| error.to_string();
        let idle = self.idle.swap(false, Ordering::Relaxed);
        watch::until_due(self.store(), None, now, idle)
            .await
            .map_err(why)?;
        let clock = Event::Clock(Clock {
            team: None,
            at: now(),
        });
        self.file(None, clock, false).await?;
        Ok(())
    }

    /// Works on an event in its turn, before what a held channel keeps back if `past`; what comes
    /// of it is for the caller to send.
    ///
    /// # Errors
    /// Why it was not worked on, in one sentence.
    pub async fn file(&self, channel: Option<Id>, event: Event, past: bool) -> Filed {
        let (answer, filed) = tokio::sync::oneshot::channel();
        let item = Item {
            channel,
            event: Some(event),
            answer: Some(answer),
        };
        if past {
            self.inbox.push_past(item);
        } else {
            self.inbox.push(item);
        }
        filed
            .await
            .unwrap_or_else(|_| Err("the program is ending".to_owned()))
    }

    /// Returns when everything that waits now has been worked on.
    pub async fn drained(&self) {
        let (answer, done) = tokio::sync::oneshot::channel();
        self.inbox.push_past(Item {
            channel: None,
            event: None,
            answer: Some(answer),
        });
        // Without a sender the program is ending.
        let _ = done.await;
    }

    /// Whether somebody writes more than is taken; says so once.
    pub fn writes_too_much(&self, guild: Option<Id>, user: Id) -> super::guard::Verdict {
        self.guard().takes(guild, user, Instant::now())
    }
}

/// Hands what became of an item to whoever waits; gives it back where nobody does.
fn answer(to: Option<tokio::sync::oneshot::Sender<Filed>>, filed: Filed) -> Option<Filed> {
    match to {
        Some(to) => to.send(filed).err(),
        None => Some(filed),
    }
}
