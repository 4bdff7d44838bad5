//! What goes out, whatever the channel.
//!
//! The types serialise as the pipe channel prints them; the store keeps them in the same form, so
//! that a repeated message is answered word for word as before.

use serde::{Deserialize, Serialize};

use super::advice_data::AdviceData;
use super::figure::Figure;
use super::text;

/// One thing to send.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
pub enum Outgoing {
    /// A new message of the bot's.
    Reply(Reply),
    /// A new content for an earlier one, by its id.
    Update(Reply),
    /// A small sign on the member's own message.
    Mark(Mark),
}

impl Outgoing {
    /// The same without what only concerns the sending of it.
    pub fn for_programs(&self) -> Self {
        let plain = |reply: &Reply| Reply {
            late: false,
            unreached: None,
            ..reply.clone()
        };
        match self {
            Self::Reply(reply) => Self::Reply(plain(reply)),
            Self::Update(reply) => Self::Update(plain(reply)),
            Self::Mark(mark) => Self::Mark(mark.clone()),
        }
    }

    /// Whether it carries pictures that are not drawn yet.
    pub fn has_figures(&self) -> bool {
        match self {
            Self::Reply(reply) | Self::Update(reply) => {
                reply.files.iter().any(|file| file.figure.is_some())
            }
            Self::Mark(_) => false,
        }
    }
}

/// A message of the bot's.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Reply {
    /// Derived from the event that caused it, so that a repeat makes the same.
    pub id: String,
    /// The team.
    pub team: String,
    /// Where it stands.
    pub channel: String,
    /// The message answered.
    pub answers: Option<String>,
    /// The author addressed.
    pub to: Option<String>,
    /// For that author's eyes only.
    pub private: bool,
    /// What it says. Empty in an update that takes the message back.
    pub text: String,
    /// Authors who are notified.
    pub mentions: Vec<String>,
    /// Buttons under it.
    pub buttons: Vec<Button>,
    /// Files with it.
    pub files: Vec<File>,
    /// The advice in it, for programs.
    pub advice: Option<AdviceData>,
    /// The numbers behind a table or picture, for programs.
    pub data: Option<serde_json::Value>,
    /// Is said however late: the answer to a report of pain.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub late: bool,
    /// What is said in the channel where the one addressed cannot be written to in private.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unreached: Option<String>,
}

/// A button.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Button {
    /// What a press names.
    pub id: String,
    /// What it says.
    pub label: String,
}

/// A file.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct File {
    /// Its name.
    pub name: String,
    /// Where it lies; empty until it is drawn.
    pub path: String,
    /// What it shows, in words.
    pub alt: String,
    /// What it holds, until it is written where it lies: it is neither sent nor kept with the reply.
    #[serde(skip)]
    pub content: Option<Vec<u8>>,
    /// What is to be drawn, until it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figure: Option<Box<Figure>>,
}

impl Figure {
    /// The file that a reply carries: it is drawn, and its path known, when the reply is sent.
    pub fn into_file(self) -> File {
        File {
            name: self.file_name(),
            path: String::new(),
            alt: text::picture::alt(&self),
            content: None,
            figure: Some(Box::new(self)),
        }
    }
}

impl File {
    /// Whether it is a picture.
    pub fn is_picture(&self) -> bool {
        self.name.ends_with(".png")
    }
}

/// A sign on a member's message.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mark {
    /// The message.
    pub answers: String,
    /// The team.
    pub team: String,
    /// Which sign.
    #[serde(rename = "as")]
    pub sign: Sign,
}

/// What a mark says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sign {
    /// Its sets are in the log.
    Filed,
    /// Its sets were changed.
    Corrected,
    /// Its sets were taken out.
    Removed,
    /// It needs an answer first.
    Question,
}
