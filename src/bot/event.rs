//! What comes in, whatever the channel.
//!
//! Outside names (teams, channels, authors, messages) are the channel's own strings; the store
//! turns them into ids. Time is the channel's: nothing in here reads a clock.

use chrono::{DateTime, Utc};
use serde::Deserialize;

/// One thing that happened.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
pub enum Event {
    /// A message was posted.
    Message(Message),
    /// An earlier message now reads differently.
    Edit(Edit),
    /// An earlier message is gone.
    Delete(Delete),
    /// A button under a reply was pressed.
    Press(Press),
    /// Time passed; whatever is due by then happens.
    Clock(Clock),
}

impl Event {
    /// The id that the answer names: a message's, for everything about a message; a press's own,
    /// where it has one.
    pub fn id(&self) -> Option<&str> {
        match self {
            Self::Message(message) => Some(&message.id),
            Self::Edit(edit) => Some(&edit.id),
            Self::Delete(delete) => Some(&delete.id),
            Self::Press(press) => press.id.as_deref(),
            Self::Clock(_) => None,
        }
    }

    /// When it happened.
    pub const fn at(&self) -> DateTime<Utc> {
        match self {
            Self::Message(message) => message.at,
            Self::Edit(edit) => edit.at,
            Self::Delete(delete) => delete.at,
            Self::Press(press) => press.at,
            Self::Clock(clock) => clock.at,
        }
    }

    /// The team it concerns; `None` for a clock that concerns all.
    pub fn team(&self) -> Option<&str> {
        match self {
            Self::Message(message) => Some(&message.team),
            Self::Edit(edit) => Some(&edit.team),
            Self::Delete(delete) => Some(&delete.team),
            Self::Press(press) => Some(&press.team),
            Self::Clock(clock) => clock.team.as_deref(),
        }
    }
}

/// A posted message.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Message {
    /// Unique within the team.
    pub id: String,
    /// The team.
    pub team: String,
    /// The channel it stands in; answers go there.
    pub channel: String,
    /// Who wrote it.
    pub author: String,
    /// The name shown for the author.
    pub name: String,
    /// Whether the author is one of the team's coaches.
    pub coach: bool,
    /// When.
    pub at: DateTime<Utc>,
    /// What.
    pub text: String,
}

/// A message's new text.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Edit {
    /// Of the earlier message.
    pub id: String,
    /// The team.
    pub team: String,
    /// When it was changed.
    pub at: DateTime<Utc>,
    /// What it says now.
    pub text: String,
}

/// A message taken away.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Delete {
    /// Of the earlier message.
    pub id: String,
    /// The team.
    pub team: String,
    /// When it was taken away.
    pub at: DateTime<Utc>,
}

/// A pressed button.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Press {
    /// Tells a press that is sent again from a second one, unique within the team. Without it, the
    /// same press is one that is alike in all else.
    pub id: Option<String>,
    /// The reply that carries it.
    pub reply: String,
    /// The team.
    pub team: String,
    /// Who pressed.
    pub author: String,
    /// Which button.
    pub button: String,
    /// When.
    pub at: DateTime<Utc>,
}

/// Time passing.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Clock {
    /// For one team, or for all.
    pub team: Option<String>,
    /// The time it is now.
    pub at: DateTime<Utc>,
}
