//! Which permission is missing where the platform refuses something in a channel.
//!
//! *topics/permissions*, and the permissions that *resources/message* names for each request.

use crate::channel::discord::http::RestError;
use crate::channel::discord::wire::Id;

/// What was asked for in a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Action {
    /// A message is posted.
    Post,
    /// The same in a thread.
    PostInThread,
    /// A message of the bot's own is changed or taken back.
    Change,
    /// A sign is put on a message.
    Sign,
    /// Messages are read.
    Read,
}

/// Whether the platform refused because the bot may not do that there: missing access or missing
/// permissions.
pub(crate) const fn is_forbidden(error: &RestError) -> bool {
    matches!(error.code(), 50_001 | 50_013)
}

/// The same, or the channel is not known to the bot.
pub fn lacks_permission(error: &RestError) -> bool {
    is_forbidden(error) || error.code() == UNKNOWN_CHANNEL
}

/// *topics/opcodes-and-status-codes#json-json-error-codes*.
const UNKNOWN_CHANNEL: u64 = 10_003;

/// The permission that is missing, by its name in the platform's settings.
pub(crate) const fn missing(action: Action, error: &RestError) -> &'static str {
    match (error.code(), action) {
        // Missing access: the channel is not even seen.
        (50_001 | UNKNOWN_CHANNEL, _) | (_, Action::Change) => "View Channel",
        (_, Action::Post) => "Send Messages",
        (_, Action::PostInThread) => "Send Messages in Threads",
        (_, Action::Sign) => "Add Reactions",
        (_, Action::Read) => "Read Message History",
    }
}

/// The line on a missing permission.
pub fn line(name: &str, channel: Id, permission: &str) -> String {
    format!(
        "the bot lacks the permission \"{permission}\" in the channel #{name} ({channel}); give it to \
         its role there. What waits for it is sent then"
    )
}
