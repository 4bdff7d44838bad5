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
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The session may still be resumed. Why it ended.
    Lost(String),
    /// So is the session. Why it ended.
    SessionLost(String),
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
    /// What a close code means, with the reason that came with it.
    /// *topics/opcodes-and-status-codes#gateway-gateway-close-event-codes*.
    pub fn by_code(code: u16, reason: &str) -> Self {
        let why = || {
            let reason: String = reason.chars().filter(|c| !c.is_control()).collect();
            let reason = if reason.is_empty() {
                meaning(code)
            } else {
                &reason
            };
            if code == 1005 {
                return "it was closed without a code".to_owned();
            }
            format!("it was closed with code {code}: {reason}")
        };
        match code {
            4004 => Self::Fatal(Fatal::Token),
            4010 | 4011 => Self::Fatal(Fatal::Shards),
            4012 | 4013 => Self::Fatal(Fatal::Version),
            4014 => Self::Fatal(Fatal::Intent),
            4003 | 4006 | 4007 | 4009 => Self::SessionLost(why()),
            _ => Self::Lost(why()),
        }
    }

    /// Whether an operator should hear of it at the first time: the platform found fault with what
    /// this program did. All other ends belong to every day, unless they repeat.
    pub const fn finds_fault(code: u16) -> bool {
        matches!(code, 4001 | 4002 | 4003 | 4005 | 4007 | 4008)
    }
}

/// What the platform says a code means. The same page.
const fn meaning(code: u16) -> &'static str {
    match code {
        4000 => "unknown error",
        4001 => "unknown opcode",
        4002 => "decode error",
        4003 => "not authenticated",
        4005 => "already authenticated",
        4007 => "invalid sequence number",
        4008 => "rate limited",
        4009 => "session timed out",
        _ => "no reason given",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_codes_mean_what_the_platform_says() {
        for code in [1000, 1005, 4000, 4008] {
            assert!(matches!(Ended::by_code(code, ""), Ended::Lost(_)), "{code}");
        }
        for code in [4007, 4009] {
            let ended = Ended::by_code(code, "");
            assert!(matches!(ended, Ended::SessionLost(_)), "{code}");
        }
        for (code, fatal) in [
            (4004, Fatal::Token),
            (4014, Fatal::Intent),
            (4011, Fatal::Shards),
        ] {
            assert_eq!(Ended::by_code(code, ""), Ended::Fatal(fatal), "{code}");
        }
    }

    #[test]
    fn an_end_is_told_with_its_code_and_reason() {
        for (code, reason, told) in [
            (4008, "", "it was closed with code 4008: rate limited"),
            (4000, "try\nlater", "it was closed with code 4000: trylater"),
            (4999, "", "it was closed with code 4999: no reason given"),
            (1005, "", "it was closed without a code"),
        ] {
            let ended = Ended::by_code(code, reason);
            assert_eq!(ended, Ended::Lost(told.to_owned()));
        }
    }
}
