//! What is known of a session, and what the end of a connection means for it.

/// A session that may outlive its connection.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Session {
    /// Names it.
    pub(super) id: String,
    /// Where it is resumed.
    pub(super) address: Option<String>,
    /// The last event taken.
    pub(super) seq: Option<u64>,
}

/// How a connection ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The session may still be resumed.
    Lost,
    /// So is the session.
    SessionLost,
    /// It would end so again.
    Fatal(Fatal),
    /// The program ends.
    Over,
}

/// Why no connection can ever work; one line that names the remedy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fatal {
    /// The token is wrong.
    #[error(
        "the platform refuses the token; make a new one on your application's page (Bot, Reset \
         Token) and set it as CHALKBELL_DISCORD_TOKEN"
    )]
    Token,
    /// The content of messages is not allowed to the bot.
    #[error(
        "the bot may not read messages yet; switch on Message Content Intent on your application's \
         page (Bot, Privileged Gateway Intents) and start again"
    )]
    Intent,
    /// The shards do not fit.
    #[error(
        "the platform does not accept these shards; set CHALKBELL_DISCORD_SHARDS to FIRST-LAST/TOTAL \
         with a larger total"
    )]
    Shards,
    /// The version or the intents are no longer known.
    #[error("the platform no longer speaks this version of its protocol; update chalkbell")]
    Version,
}

impl Ended {
    /// What a close code means. *topics/opcodes-and-status-codes#gateway-gateway-close-event-codes*.
    #[must_use]
    pub const fn by_code(code: Option<u16>) -> Self {
        match code {
            Some(4004) => Self::Fatal(Fatal::Token),
            Some(4010 | 4011) => Self::Fatal(Fatal::Shards),
            Some(4012 | 4013) => Self::Fatal(Fatal::Version),
            Some(4014) => Self::Fatal(Fatal::Intent),
            Some(4003 | 4006 | 4007 | 4009) => Self::SessionLost,
            _ => Self::Lost,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_codes_mean_what_the_platform_says() {
        for (code, ended) in [
            (None, Ended::Lost),
            (Some(1000), Ended::Lost),
            (Some(4000), Ended::Lost),
            (Some(4008), Ended::Lost),
            (Some(4007), Ended::SessionLost),
            (Some(4009), Ended::SessionLost),
            (Some(4004), Ended::Fatal(Fatal::Token)),
            (Some(4014), Ended::Fatal(Fatal::Intent)),
            (Some(4011), Ended::Fatal(Fatal::Shards)),
        ] {
            assert_eq!(Ended::by_code(code), ended, "{code:?}");
        }
    }
}
