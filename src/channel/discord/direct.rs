//! Channels of direct messages: they are kept with whose they are, so that what was written there while
//! nobody listened is read and answered as in bound channels.
//!
//! The platform names no such channels of a bot (*topics/gateway-events#ready*: `private_channels` is
//! empty), so only those are known in which somebody wrote, or was written to, before. The first shard reads
//! them, since the platform tells it of direct messages. *Absent:* a channel that a member opened for the first
//! time while nobody listened.

use super::adapter::{Adapter, guild_of, team_key};
use super::bound_channels::Cursor;
use super::wire::Id;
use crate::store::direct::DirectChannel;
use crate::store::{StoreError, Tx};

/// Channels of direct messages whose histories are read at a time: a club has some hundred, and whoever posts
/// meanwhile is to be answered.
pub(super) const AT_ONCE: usize = 4;

/// Stores how far a channel of direct messages was read, and whose it is.
pub(super) async fn store(tx: &mut Tx, cursor: &Cursor) -> Result<(), StoreError> {
    let Some((guild, member)) = cursor.direct else {
        return Ok(());
    };
    let channel = DirectChannel {
        id: cursor.channel.get(),
        team: team_key(guild),
        author: member.to_string(),
        coach: false,
        cursor: cursor.read_to,
    };
    tx.keep_direct(&channel).await
}

impl Adapter {
    /// Keeps a channel of direct messages, of which messages up to this one are no longer to be read.
    pub(super) async fn keep_direct(&self, channel: Id, member: Id, team: &str, read_to: u64) {
        let Some(guild) = guild_of(team) else { return };
        if !self.places().keep_direct(channel, member, guild, read_to) {
            return;
        }
        let cursor = Cursor {
            channel,
            read_to,
            direct: Some((guild, member)),
        };
        let stored = async {
            let mut tx = self.store().begin().await?;
            store(&mut tx, &cursor).await?;
            tx.commit().await
        };
        if let Err(error) = stored.await {
            tracing::warn!(%error, "a channel of direct messages is kept a little later");
        }
    }
}

/// The channels of direct messages that are known.
pub(super) async fn take_up(adapter: &Adapter) -> Result<(), StoreError> {
    let mut tx = adapter.store().begin().await?;
    let known = tx.direct_channels().await?;
    tx.rollback().await?;
    for one in known {
        let (channel, member) = (Id::new(one.id), one.author.parse::<Id>());
        if let (Some(channel), Ok(member), Some(guild)) = (channel, member, guild_of(&one.team)) {
            let mut places = adapter.places();
            places.keep_direct(channel, member, guild, one.cursor);
            adapter.writes_to().insert(member, channel);
            adapter.private().insert(channel, (one.team, one.coach));
        }
    }
    Ok(())
}
