//! Settings of the channel itself: which channels are read, and which role is the coaches'.

use std::time::Duration;

use reqwest::Method;
use serenity::model::id::ChannelId;

use super::{Speaker, Talk};
use crate::bot::text::team_channel as words;
use crate::channel::discord::adapter::Adapter;
use crate::channel::discord::bound_channels::manages;
use crate::channel::discord::commands::{self, Order};
use crate::channel::discord::http::{Call, Route};
use crate::channel::discord::outbound::permissions::{self, Action, lacks_permission};
use crate::channel::discord::wire::{Channel, Id};
use crate::store::StoreError;
use crate::store::discord::{BoundChannel, Community};

/// A channel that is to be bound is looked up for this long.
const LOOKED_UP_WITHIN: Duration = Duration::from_secs(1);

impl Talk<'_> {
    /// Binds, lets go, names the role; what is said about it.
    pub(super) async fn settle(&self, speaker: &Speaker, order: &Order) -> String {
        let Some(guild) = self.guild() else {
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
                let mut community = self.adapter.places().community(guild);
                community.coach_role = Some(*role);
                self.adapter
                    .places()
                    .put_community(guild, community.clone());
                let stored = store_community(self.adapter, &community).await;
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
        let mut call = Call::new(Method::GET, Route::Channel { channel_id });
        call.patience = LOOKED_UP_WITHIN;
        let found = self.adapter.rest.fetch::<Channel>(&call).await;
        if let Err(error) = &found
            && lacks_permission(error)
        {
            let missing = permissions::missing(Action::Read, error);
            tracing::warn!("{}", permissions::line("?", channel, missing));
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
            name: self.name_of(channel, found.ok()),
            cursor: self.interaction.id.get(),
        };
        self.adapter.store_place(&place).await?;
        self.adapter.places().bind(&place);
        Ok(words::BOUND.to_owned())
    }

    /// A channel's name, for people: as looked up, else as the interaction tells it.
    fn name_of(&self, channel: Id, found: Option<Channel>) -> String {
        let told = self.interaction.channel.clone();
        let told = told.filter(|told| told.id == channel);
        let name = found.and_then(|found| found.name);
        name.or(told.and_then(|told| told.name)).unwrap_or_default()
    }

    async fn unbind(&self, guild: Id, channel: Id) -> Result<String, StoreError> {
        let ours = self
            .adapter
            .places()
            .get(channel)
            .is_some_and(|place| place.guild == guild);
        if !ours {
            return Ok(words::NOT_BOUND.to_owned());
        }
        let mut tx = self.adapter.store().begin().await?;
        tx.unbind_channel(channel.get()).await?;
        tx.commit().await?;
        self.adapter.places().unbind(channel);
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

/// Keeps what is known of who leads in a community.
pub(super) async fn store_community(
    adapter: &Adapter,
    community: &Community,
) -> Result<(), StoreError> {
    let mut tx = adapter.store().begin().await?;
    tx.put_community(community).await?;
    tx.commit().await
}
