//! What is done once a session stands: introducing the bot, registering commands, and sending what
//! an earlier run left unsent.

use std::sync::Arc;

use chrono::TimeDelta;

use super::adapter::Adapter;
use super::interactions::INVITED_WITH;
use super::registration;
use super::wire::Id;
use crate::store::StoreError;

/// Buttons older than this are forgotten.
const BUTTONS_KEPT: TimeDelta = TimeDelta::days(60);

/// The channels whose events come over this shard.
pub fn channels_of(adapter: &Adapter, shard: u32, total: u32) -> Vec<Id> {
    let of_shard = |guild: Id| (guild.get() >> 22) % u64::from(total.max(1)) == u64::from(shard);
    let places = adapter.places();
    places
        .all()
        .filter(|(_, place)| match place.member {
            // The platform tells the first shard of direct messages.
            Some(_) => shard == 0,
            None => of_shard(place.guild),
        })
        .map(|(id, _)| id)
        .collect()
}

/// Tells the operator how to go on, and registers the commands.
pub async fn introduce(adapter: Arc<Adapter>) {
    let Some((_, application)) = adapter.own.get().copied() else {
        return;
    };
    tracing::warn!(
        "connected; invite the bot with \
         https://discord.com/oauth2/authorize?client_id={application}\
         &scope=bot+applications.commands&permissions={INVITED_WITH}"
    );
    let is_bound = adapter
        .places()
        .all()
        .any(|(_, place)| place.member.is_none());
    if !is_bound {
        tracing::warn!(
            "no channel is bound yet; write `/settings bind` in the channel where sets are posted"
        );
    }
    registration::register(&adapter, application).await;
}

/// Takes up what an earlier run committed and did not send, as far as it is nobody's by now, and
/// forgets what is too old.
pub async fn take_up(adapter: &Arc<Adapter>) -> Result<(), StoreError> {
    let mut tx = adapter.store().begin().await?;
    let old = Id::span_of(BUTTONS_KEPT);
    tx.forget_posted(old).await?;
    tx.forget_edits(old).await?;
    tx.commit().await?;
    adapter.keep_outbox_once().await
}
