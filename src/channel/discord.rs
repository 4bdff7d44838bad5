//! The team channel: the same bot in a real community.
//!
//! The platform's words are turned into [`Event`](crate::bot::event::Event)s and
//! [`Outgoing`](crate::bot::reply::Outgoing)s into its requests; nothing about training is decided
//! here. The way of a message:
//!
//! ```text
//! gateway ─▶ incoming ─▶ inbox ─▶ adapter ─▶ service ─▶ outbound ─▶ http
//!               │          ▲                  │
//!          interactions    │           outbound::posting
//!                       catch_up       (the outbox, in the event's own transaction)
//! ```
//!
//! - `options`, `limits`: how the program is connected, and what the platform allows.
//! - `gateway`, `wire`: the socket, when sessions may begin, what arrives.
//! - `http`: requests, and how fast they may go.
//! - `incoming`, `interactions`, `commands`, `guard`: what people do, as events; `registration`: what
//!   the platform offers them.
//! - `inbox`, `adapter`: one line of work.
//! - `outbound`: the outbox, what waits, how it looks, and where it stands.
//! - `places`, `direct`, `catch_up`, `reconcile`, `start`: bound channels and direct messages, what was
//!   missed, the beginning.
//!
//! *Absent:* a cache of the platform's world, voice, presence, anything about other channels.

mod adapter;
mod bound_channels;
mod catch_up;
mod commands;
mod connect;
mod direct;
mod gateway;
mod guard;
mod http;
mod inbox;
mod incoming;
mod interactions;
mod limits;
pub mod options;
mod outbound;
mod reconcile;
mod registration;
mod start;
mod wire;

use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context as _, anyhow};
use reqwest::Method;
use serenity::model::id::ChannelId;
use tokio::sync::watch;
use tokio::time::{sleep, timeout};

use crate::backoff;
use crate::service::metrics::Metrics;
use crate::service::{Bot, Service};
use crate::store::Store;
use crate::store::discord::BoundChannel;
use adapter::Adapter;
use bound_channels::BoundChannels;
use gateway::{Fatal, Gateway, Link, SessionStarts};
use http::{Call, Rest, RestError, Route};
use incoming::Listener;
use options::Options;
use outbound::permissions::{self, Action, lacks_permission};
use outbound::posting::Posting;
use wire::{Channel, Id};

pub use commands::registered as registered_commands;

/// Opens the channel and serves it until `end` comes; what is done is counted in `tally`.
///
/// # Errors
/// One line that names the remedy: a refused token, an intent that is not allowed, an address that
/// cannot be, a database that fails at start.
pub async fn run(
    store: Store,
    bot: Bot,
    options: Options,
    tally: Arc<Metrics>,
    end: impl Future<Output = ()>,
) -> anyhow::Result<()> {
    let rest = Rest::new(options.base.clone(), options.token.clone())?;
    let gateway = find_gateway(&rest).await?;
    options.base.admits_gateway(&gateway.url)?;
    let adapter = Arc::new(open(store, bot, rest, options, tally).await?);
    bind_set_channels(&adapter).await?;
    // Dropped last: whatever else there is ends first.
    let sending = Sending(Arc::clone(&adapter));
    let mut tasks = tokio::task::JoinSet::new();
    tasks.spawn(Arc::clone(&adapter).work());
    tasks.spawn(Arc::clone(&adapter).keep_books());
    tasks.spawn(Arc::clone(&adapter).watch_clock());
    tasks.spawn(Arc::clone(&adapter).keep_outbox());
    start::take_up(&adapter)
        .await
        .context("what was left unsent cannot be read")?;
    let (over, told) = watch::channel(false);
    let mut holding = std::pin::pin!(hold_all(&adapter, gateway, told));
    let ended = tokio::select! {
        fatal = &mut holding => Err(anyhow!(fatal.unwrap_or(Fatal::Version))),
        () = adapter.refused.notified() => Err(anyhow!(Fatal::Token)),
        () = end => Ok(()),
    };
    finish(&adapter).await;
    if ended.is_ok() {
        over.send_replace(true);
        // The platform is told that nobody listens any more; if not, it finds out by itself.
        let _ = timeout(FAREWELL, holding).await;
    }
    tasks.shutdown().await;
    drop(sending);
    ended
}

/// What sends; it ends with this.
struct Sending(Arc<Adapter>);

impl Drop for Sending {
    fn drop(&mut self) {
        self.0.end_sending();
    }
}

/// Sessions that end get this long to do so.
const FAREWELL: Duration = Duration::from_secs(1);

/// What is being sent gets a moment; what is not sent by then is sent by the next run.
async fn finish(adapter: &Arc<Adapter>) {
    for _ in 0..20 {
        if adapter.queues.are_empty() {
            break;
        }
        sleep(Duration::from_millis(100)).await;
    }
    adapter.end_sending();
    if let Err(error) = adapter.store_books().await {
        tracing::warn!(%error, "what was sent last could not be stored");
    }
    adapter.let_go().await;
}

/// Asks the platform where its gateway is, for as long as it does not answer; the first time that
/// it does not, the operator is told soon. The real one is never assumed.
async fn find_gateway(rest: &Rest) -> anyhow::Result<Gateway> {
    let mut route = Route::GatewayBot;
    let mut patience = Duration::from_secs(5);
    loop {
        let mut call = Call::new(Method::GET, route);
        call.patience = patience;
        match rest.fetch::<Gateway>(&call).await {
            Ok(gateway) => return Ok(gateway),
            // A server of one's own may know the shorter of the two alone.
            Err(RestError::Refused { status: 404, .. }) if matches!(route, Route::GatewayBot) => {
                route = Route::Gateway;
            }
            Err(RestError::Refused { status: 401, .. }) => return Err(anyhow!(Fatal::Token)),
            Err(RestError::TooLate(why)) => {
                tracing::warn!(%why, "the platform cannot be reached; it is tried again");
                patience = Duration::from_secs(60);
            }
            Err(error) => return Err(error).context("the platform does not name its gateway"),
        }
    }
}

async fn open(
    store: Store,
    bot: Bot,
    rest: Rest,
    options: Options,
    tally: Arc<Metrics>,
) -> anyhow::Result<Adapter> {
    let mut tx = store.begin().await?;
    let channels = tx.bound_channels().await?;
    let communities = tx.communities().await?;
    tx.rollback().await?;
    let places = BoundChannels::new(&channels, communities);
    let (shards, pid) = (options.shards, std::process::id());
    let started = adapter::now().timestamp_millis();
    let process = format!("{}-{}.{pid}.{started}", shards.first, shards.total);
    let service = Service::new(store, Posting::new(bot, process))
        .patient()
        .counted_in(tally);
    let adapter = Adapter::new(service, rest, options, places);
    direct::take_up(&adapter).await?;
    Ok(adapter)
}

/// Binds the channels that the settings name and that are not bound yet.
async fn bind_set_channels(adapter: &Arc<Adapter>) -> anyhow::Result<()> {
    for channel in adapter.options.channels.clone() {
        if adapter.places().get(channel).is_some() {
            continue;
        }
        let channel_id = ChannelId::new(channel.get());
        let mut call = Call::new(Method::GET, Route::Channel { channel_id });
        call.patience = Duration::from_secs(300);
        let found = match adapter.rest.fetch::<Channel>(&call).await {
            Ok(found) => found,
            Err(error) if lacks_permission(&error) => {
                let missing = permissions::missing(Action::Read, &error);
                tracing::warn!("{}", permissions::line("?", channel, missing));
                continue;
            }
            Err(RestError::Refused { status: 401, .. }) => return Err(anyhow!(Fatal::Token)),
            Err(error) => {
                tracing::warn!(%channel, %error, "a channel of CHALKBELL_DISCORD_CHANNELS is not bound");
                continue;
            }
        };
        let Some(guild) = found.guild_id else {
            tracing::warn!(%channel, "a channel of CHALKBELL_DISCORD_CHANNELS is in no community");
            continue;
        };
        let place = BoundChannel {
            id: channel.get(),
            guild: guild.get(),
            parent: found.thread_of().map(Id::get),
            cursor: catch_up::first_cursor(adapter, &found).await,
            name: found.name.unwrap_or_default(),
        };
        adapter.store_place(&place).await?;
        adapter.places().bind(&place);
    }
    Ok(())
}

/// Holds all connections of this process until one of them can never work again, or the program is
/// `over`.
async fn hold_all(
    adapter: &Arc<Adapter>,
    gateway: Gateway,
    over: watch::Receiver<bool>,
) -> Option<Fatal> {
    let starts = Arc::new(SessionStarts::new(gateway.session_start_limit));
    let handler = Arc::new(Listener::new(Arc::clone(adapter)));
    let shards = adapter.options.shards;
    let mut links = tokio::task::JoinSet::new();
    for shard in shards.first..=shards.last {
        let (adapter, handler, starts) = (
            Arc::clone(adapter),
            Arc::clone(&handler),
            Arc::clone(&starts),
        );
        let (address, over) = (gateway.url.clone(), over.clone());
        links.spawn(async move {
            let link = Link {
                shard,
                total: shards.total,
                token: adapter.options.token.clone(),
                base: adapter.options.base.clone(),
                address,
                starts: &starts,
                rest: &adapter.rest,
                over,
            };
            gateway::hold(&link, handler.as_ref()).await
        });
    }
    while let Some(ended) = links.join_next().await {
        match ended {
            Ok(None) => {}
            Ok(fatal) => return fatal,
            // A task that panicked; its panic was printed.
            Err(_) => return Some(Fatal::Version),
        }
    }
    None
}
