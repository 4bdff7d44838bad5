//! The platform's addresses that this program asks, below the version.
//!
//! Names follow the client library's, which has its own list only together with its sender.

use serenity::model::id::{ApplicationId, ChannelId, GuildId, InteractionId, MessageId};

/// An address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route<'a> {
    /// A channel or thread. *resources/channel#get-channel*.
    Channel {
        /// Which.
        channel_id: ChannelId,
    },
    /// The messages of a channel. *resources/message#get-channel-messages*, *#create-message*.
    ChannelMessages {
        /// Where.
        channel_id: ChannelId,
    },
    /// One message. *resources/message#edit-message*, *#delete-message*.
    ChannelMessage {
        /// Where.
        channel_id: ChannelId,
        /// Which.
        message_id: MessageId,
    },
    /// The bot's own reaction. *resources/message#create-reaction*, *#delete-own-reaction*.
    ChannelMessageReactionMe {
        /// Where.
        channel_id: ChannelId,
        /// Under which message.
        message_id: MessageId,
        /// The sign, percent-encoded.
        reaction: &'a str,
    },
    /// The open threads of a community. *resources/guild#list-active-guild-threads*.
    GuildThreadsActive {
        /// Which community.
        guild_id: GuildId,
    },
    /// A private channel is opened. *resources/user#create-dm*.
    UserMeDmChannels,
    /// The application's commands, all at once.
    /// *interactions/application-commands#bulk-overwrite-global-application-commands*.
    Commands {
        /// Whose.
        application_id: ApplicationId,
    },
    /// The first answer to an interaction.
    /// *interactions/receiving-and-responding#create-interaction-response*.
    InteractionResponse {
        /// To which.
        interaction_id: InteractionId,
        /// Entitles to answer.
        token: &'a str,
    },
    /// The first answer, once more.
    /// *interactions/receiving-and-responding#edit-original-interaction-response*.
    WebhookOriginalInteractionResponse {
        /// Whose interaction.
        application_id: ApplicationId,
        /// Entitles to answer.
        token: &'a str,
    },
    /// Further answers. *interactions/receiving-and-responding#create-followup-message*.
    WebhookFollowupMessages {
        /// Whose interaction.
        application_id: ApplicationId,
        /// Entitles to answer.
        token: &'a str,
    },
    /// Where the gateway is, for a bot. *topics/gateway#get-gateway-bot*.
    GatewayBot,
    /// Where the gateway is. *topics/gateway#get-gateway*.
    Gateway,
}

impl Route<'_> {
    /// The path below the version, with a slash before it.
    pub fn path(&self) -> String {
        match *self {
            Self::Channel { channel_id } => format!("/channels/{channel_id}"),
            Self::ChannelMessages { channel_id } => format!("/channels/{channel_id}/messages"),
            Self::ChannelMessage {
                channel_id,
                message_id,
            } => format!("/channels/{channel_id}/messages/{message_id}"),
            Self::ChannelMessageReactionMe {
                channel_id,
                message_id,
                reaction,
            } => format!("/channels/{channel_id}/messages/{message_id}/reactions/{reaction}/@me"),
            Self::GuildThreadsActive { guild_id } => format!("/guilds/{guild_id}/threads/active"),
            Self::UserMeDmChannels => "/users/@me/channels".to_owned(),
            Self::Commands { application_id } => format!("/applications/{application_id}/commands"),
            Self::InteractionResponse {
                interaction_id,
                token,
            } => format!("/interactions/{interaction_id}/{token}/callback"),
            Self::WebhookOriginalInteractionResponse {
                application_id,
                token,
            } => format!("/webhooks/{application_id}/{token}/messages/@original"),
            Self::WebhookFollowupMessages {
                application_id,
                token,
            } => format!("/webhooks/{application_id}/{token}"),
            Self::GatewayBot => "/gateway/bot".to_owned(),
            Self::Gateway => "/gateway".to_owned(),
        }
    }

    /// What requests of one allowance have in common: the kind of address and the id that it is
    /// counted by. `None` for first answers to interactions, which are bound by no allowance.
    /// *topics/rate-limits*.
    pub const fn bucket(&self) -> Option<(&'static str, u64)> {
        Some(match *self {
            Self::Channel { channel_id } => ("channel", channel_id.get()),
            Self::ChannelMessages { channel_id } => ("messages", channel_id.get()),
            Self::ChannelMessage { channel_id, .. } => ("message", channel_id.get()),
            Self::ChannelMessageReactionMe { channel_id, .. } => ("reaction", channel_id.get()),
            Self::GuildThreadsActive { guild_id } => ("threads", guild_id.get()),
            Self::UserMeDmChannels => ("private", 0),
            Self::Commands { .. } => ("commands", 0),
            Self::InteractionResponse { .. } => return None,
            Self::WebhookOriginalInteractionResponse { application_id, .. } => {
                ("original", application_id.get())
            }
            Self::WebhookFollowupMessages { application_id, .. } => {
                ("follow-up", application_id.get())
            }
            Self::GatewayBot | Self::Gateway => ("gateway", 0),
        })
    }
}
