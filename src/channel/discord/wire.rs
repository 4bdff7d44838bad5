//! What arrives, as far as it is read.
//!
//! Of a message's forty fields six are read, so only these are named: an object that lacks one of
//! the others, or has one more, is still understood; so is one in which a field that is read takes a
//! shape of its own, as far as the event is of use without it. Nothing is decided here.

use std::borrow::Cow;
use std::collections::HashMap;
use std::fmt;

use chrono::{DateTime, TimeDelta, Utc};
use serde::de::{self, DeserializeOwned, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;

/// An id of the platform's: a number above zero, written as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id(u64);

/// Milliseconds between 1970 and the first second of 2015, from which ids count.
/// *reference#snowflakes*.
const EPOCH_MS: u64 = 1_420_070_400_000;

impl Id {
    /// The id of this number; `None` for zero.
    pub const fn new(number: u64) -> Option<Self> {
        if number == 0 {
            None
        } else {
            Some(Self(number))
        }
    }

    /// The number.
    pub const fn get(self) -> u64 {
        self.0
    }

    /// When it was given out, to the millisecond.
    pub fn at(self) -> DateTime<Utc> {
        let ms = (self.0 >> 22) + EPOCH_MS;
        DateTime::from_timestamp_millis(i64::try_from(ms).unwrap_or(i64::MAX)).unwrap_or_default()
    }

    /// The lowest id that can be given out at this time.
    pub fn first_of(at: DateTime<Utc>) -> Self {
        let ms = u64::try_from(at.timestamp_millis()).unwrap_or(0);
        Self((ms.saturating_sub(EPOCH_MS) << 22).max(1))
    }
}

impl Id {
    /// How far ids move on in this time.
    pub fn span_of(time: TimeDelta) -> u64 {
        u64::try_from(time.num_milliseconds()).unwrap_or(0) << 22
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::str::FromStr for Id {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let number = text.parse().ok().and_then(Self::new);
        number.ok_or_else(|| format!("`{text}` is no id"))
    }
}

impl<'de> Deserialize<'de> for Id {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Reads;
        impl Visitor<'_> for Reads {
            type Value = Id;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an id")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Id, E> {
                text.parse().map_err(E::custom)
            }

            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Id, E> {
                Id::new(number).ok_or_else(|| E::custom("0 is no id"))
            }
        }
        from.deserialize_any(Reads)
    }
}

/// Takes a null for what is not there.
fn or_default<'de, T, D>(from: D) -> Result<T, D::Error>
where
    T: Default + Deserialize<'de>,
    D: Deserializer<'de>,
{
    Option::deserialize(from).map(Option::unwrap_or_default)
}

/// For a field that an event is of use without: what cannot be read counts as not there. Not for
/// what says what somebody wants, which must not be guessed.
fn lenient<'de, T, D>(from: D) -> Result<T, D::Error>
where
    T: Default + DeserializeOwned,
    D: Deserializer<'de>,
{
    let value = serde_json::Value::deserialize(from)?;
    Ok(serde_json::from_value(value).unwrap_or_default())
}

/// A list of which those are taken that can be read.
fn readable<'de, T, D>(from: D) -> Result<Vec<T>, D::Error>
where
    T: DeserializeOwned,
    D: Deserializer<'de>,
{
    let serde_json::Value::Array(items) = serde_json::Value::deserialize(from)? else {
        return Ok(Vec::new());
    };
    let read = |item| serde_json::from_value(item).ok();
    Ok(items.into_iter().filter_map(read).collect())
}

/// Whether there is anything at all.
fn is_there<'de, D: Deserializer<'de>>(from: D) -> Result<bool, D::Error> {
    Ok(!serde_json::Value::deserialize(from)?.is_null())
}

/// A moment, where the text tells one; what an id tells is used instead of one that cannot be read.
fn some_instant<'de, D: Deserializer<'de>>(from: D) -> Result<Option<DateTime<Utc>>, D::Error> {
    let told = serde_json::Value::deserialize(from)?;
    Ok(told.as_str().and_then(instant))
}

fn instant(text: &str) -> Option<DateTime<Utc>> {
    let at = DateTime::parse_from_rfc3339(text).ok()?;
    Some(at.to_utc())
}

/// When a message was changed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Edited {
    /// It is not told.
    #[default]
    Untold,
    /// It never was.
    Never,
    /// Then, for the last time.
    At(DateTime<Utc>),
}

impl Edited {
    /// When, where it is told.
    pub const fn at(self) -> Option<DateTime<Utc>> {
        match self {
            Self::At(at) => Some(at),
            Self::Untold | Self::Never => None,
        }
    }
}

impl<'de> Deserialize<'de> for Edited {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let told = serde_json::Value::deserialize(from)?;
        if told.is_null() {
            return Ok(Self::Never);
        }
        Ok(told
            .as_str()
            .and_then(instant)
            .map_or(Self::Untold, Self::At))
    }
}

/// A frame of the gateway. What it carries is read once it is known to matter.
#[derive(Debug, Deserialize)]
pub struct Frame<'a> {
    /// What kind of frame.
    pub op: u64,
    /// Its place in the session.
    #[serde(default, deserialize_with = "lenient")]
    pub s: Option<u64>,
    /// The name of the event.
    #[serde(default, borrow)]
    pub t: Option<Cow<'a, str>>,
    /// The event.
    #[serde(default, borrow)]
    pub d: Option<&'a RawValue>,
}

impl Frame<'_> {
    /// The carried JSON.
    pub fn data(&self) -> &str {
        self.d.map_or("null", RawValue::get)
    }
}

/// The first frame.
#[derive(Debug, Deserialize)]
pub struct Hello {
    /// Milliseconds between heartbeats.
    pub heartbeat_interval: f64,
}

/// A session has begun.
#[derive(Debug, Deserialize)]
pub struct Ready {
    /// Names the session when it is resumed.
    pub session_id: String,
    /// Where it is resumed.
    #[serde(default, deserialize_with = "lenient")]
    pub resume_gateway_url: Option<String>,
    /// The bot itself.
    pub user: User,
    /// The application that it belongs to.
    #[serde(default, deserialize_with = "lenient")]
    pub application: Option<Named>,
}

impl Ready {
    /// The application's id: where it is not told, the bot's own, which is the same for all but the
    /// oldest applications (from memory).
    pub fn application(&self) -> Id {
        self.application.map_or(self.user.id, |named| named.id)
    }
}

/// Anything of which only the id matters.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Named {
    /// Its id.
    pub id: Id,
}

/// Somebody.
#[derive(Clone, Debug, Deserialize)]
pub struct User {
    /// Whose.
    pub id: Id,
    /// The unique name.
    #[serde(default, deserialize_with = "lenient")]
    pub username: String,
    /// The name shown.
    #[serde(default, deserialize_with = "lenient")]
    pub global_name: Option<String>,
    /// A program.
    #[serde(default, deserialize_with = "lenient")]
    pub bot: bool,
    /// The platform itself.
    #[serde(default, deserialize_with = "lenient")]
    pub system: bool,
}

/// Somebody in a community.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Member {
    /// Absent beside a message, whose author it is.
    #[serde(default, deserialize_with = "lenient")]
    pub user: Option<User>,
    /// The name shown there.
    #[serde(default, deserialize_with = "lenient")]
    pub nick: Option<String>,
    /// Roles there.
    #[serde(default, deserialize_with = "readable")]
    pub roles: Vec<Id>,
    /// What they may, in the channel; only in interactions.
    #[serde(default, deserialize_with = "lenient")]
    pub permissions: Option<String>,
}

/// The name shown for somebody.
pub fn shown_name(user: &User, member: Option<&Member>) -> String {
    let nick = member.and_then(|member| member.nick.clone());
    let name = nick.or_else(|| user.global_name.clone());
    name.filter(|name| !name.trim().is_empty())
        .unwrap_or_else(|| user.username.clone())
}

/// A message, new or changed.
#[derive(Clone, Debug, Deserialize)]
pub struct Message {
    /// Its id.
    pub id: Id,
    /// Where it stands; absent from nothing but broken frames.
    pub channel_id: Id,
    /// The community; absent in private and in histories.
    #[serde(default, deserialize_with = "lenient")]
    pub guild_id: Option<Id>,
    /// Who wrote it; a change may leave it out.
    #[serde(default, deserialize_with = "lenient")]
    pub author: Option<User>,
    /// The author in the community.
    #[serde(default, deserialize_with = "lenient")]
    pub member: Option<Member>,
    /// What it says; a change of something else may leave it out.
    #[serde(default, deserialize_with = "lenient")]
    pub content: Option<String>,
    /// When it was posted.
    #[serde(default, deserialize_with = "some_instant")]
    pub timestamp: Option<DateTime<Utc>>,
    /// When it was changed.
    #[serde(default)]
    pub edited_timestamp: Edited,
    /// A program outside posted it.
    #[serde(default, deserialize_with = "is_there", rename = "webhook_id")]
    pub by_webhook: bool,
    /// 0 and 19 are people writing.
    #[serde(default, deserialize_with = "lenient", rename = "type")]
    pub kind: u64,
    /// Its reactions; only histories tell them.
    #[serde(default, deserialize_with = "readable")]
    pub reactions: Vec<Reaction>,
}

/// A kind of reaction to a message. *resources/message#reaction-object*.
#[derive(Clone, Debug, Deserialize)]
pub struct Reaction {
    /// Whether the bot is among those who reacted.
    #[serde(default)]
    pub me: bool,
    /// The sign.
    #[serde(default)]
    pub emoji: Emoji,
}

/// A sign that people react with.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Emoji {
    /// The character, of those that are one.
    #[serde(default)]
    pub name: Option<String>,
}

/// Messages taken away.
#[derive(Debug, Deserialize)]
pub struct Gone {
    /// One of them.
    #[serde(default, deserialize_with = "lenient")]
    pub id: Option<Id>,
    /// Many of them.
    #[serde(default, deserialize_with = "readable")]
    pub ids: Vec<Id>,
    /// Where they stood.
    pub channel_id: Id,
    /// The community.
    #[serde(default, deserialize_with = "lenient")]
    pub guild_id: Option<Id>,
}

/// A channel or thread.
#[derive(Clone, Debug, Deserialize)]
pub struct Channel {
    /// Its id.
    pub id: Id,
    /// The channel that a thread belongs to; for channels a heading.
    #[serde(default, deserialize_with = "lenient")]
    pub parent_id: Option<Id>,
    /// The community.
    #[serde(default, deserialize_with = "lenient")]
    pub guild_id: Option<Id>,
    /// Its name.
    #[serde(default, deserialize_with = "lenient")]
    pub name: Option<String>,
    /// The latest message in it, which may be gone; nothing where there never was one.
    #[serde(default, deserialize_with = "lenient")]
    pub last_message_id: Option<Id>,
    /// 10 to 12 are threads.
    #[serde(default, deserialize_with = "lenient", rename = "type")]
    pub kind: u64,
}

impl Channel {
    /// The channel that this is a thread of. *resources/channel#channel-object-channel-types*.
    pub fn thread_of(&self) -> Option<Id> {
        self.parent_id.filter(|_| matches!(self.kind, 10..=12))
    }
}

/// A community comes into sight, or its threads are told anew.
#[derive(Debug, Deserialize)]
pub struct Threads {
    /// The community.
    #[serde(alias = "guild_id")]
    pub id: Id,
    /// Its open threads.
    #[serde(default, deserialize_with = "readable")]
    pub threads: Vec<Channel>,
}

/// A community is out of sight. *topics/gateway-events#guild-delete*.
#[derive(Clone, Copy, Debug, Deserialize)]
pub struct GuildGone {
    /// The community.
    pub id: Id,
    /// Only for as long as the platform has trouble; else the bot was removed from it.
    #[serde(default, deserialize_with = "lenient")]
    pub unavailable: bool,
}

/// A command, a pressed button, a filled form or a request for completion.
#[derive(Clone, Debug, Deserialize)]
pub struct Interaction {
    /// Its id.
    pub id: Id,
    /// Whose command it is.
    pub application_id: Id,
    /// 2 command, 3 button, 4 completion, 5 form.
    #[serde(rename = "type")]
    pub kind: u64,
    /// Entitles to answer.
    pub token: String,
    /// The community; absent in private.
    #[serde(default, deserialize_with = "lenient")]
    pub guild_id: Option<Id>,
    /// Where.
    #[serde(default, deserialize_with = "lenient")]
    pub channel_id: Option<Id>,
    /// Where, in full.
    #[serde(default, deserialize_with = "lenient")]
    pub channel: Option<Channel>,
    /// Who, in a community.
    #[serde(default, deserialize_with = "lenient")]
    pub member: Option<Member>,
    /// Who, in private.
    #[serde(default, deserialize_with = "lenient")]
    pub user: Option<User>,
    /// The message that carries the button.
    #[serde(default, deserialize_with = "lenient")]
    pub message: Option<Named>,
    /// What the bot may there.
    #[serde(default, deserialize_with = "lenient")]
    pub app_permissions: Option<String>,
    /// What.
    #[serde(default, deserialize_with = "or_default")]
    pub data: Data,
}

impl Interaction {
    /// Who it comes from.
    pub fn from(&self) -> Option<&User> {
        let member = self.member.as_ref().and_then(|member| member.user.as_ref());
        member.or(self.user.as_ref())
    }

    /// Where it was given.
    pub fn place(&self) -> Option<Id> {
        self.channel_id
            .or(self.channel.as_ref().map(|channel| channel.id))
    }
}

/// What an interaction says.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Data {
    /// The command.
    #[serde(default, deserialize_with = "or_default")]
    pub name: String,
    /// Its options.
    #[serde(default, deserialize_with = "or_default")]
    pub options: Vec<Given>,
    /// The button or form.
    #[serde(default, deserialize_with = "or_default")]
    pub custom_id: String,
    /// The rows of a form.
    #[serde(default, deserialize_with = "or_default")]
    pub components: Vec<Component>,
    /// What options name by id.
    #[serde(default, deserialize_with = "or_default")]
    pub resolved: Resolved,
}

/// What is said of what options name by id.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Resolved {
    /// Files, by id.
    #[serde(default, deserialize_with = "or_default")]
    pub attachments: HashMap<String, Attachment>,
}

/// A file that came with a command.
#[derive(Clone, Debug, Deserialize)]
pub struct Attachment {
    /// Where it lies.
    pub url: String,
    /// Bytes.
    #[serde(default, deserialize_with = "or_default")]
    pub size: u64,
}

/// An option as given, or a subcommand with its own.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Given {
    /// Its name.
    pub name: String,
    /// What was given.
    #[serde(default, deserialize_with = "or_default")]
    pub value: serde_json::Value,
    /// Options of a subcommand.
    #[serde(default, deserialize_with = "or_default")]
    pub options: Vec<Given>,
    /// Being typed right now.
    #[serde(default, deserialize_with = "or_default")]
    pub focused: bool,
}

impl Given {
    /// The value as a word on the command line.
    pub fn word(&self) -> String {
        match &self.value {
            serde_json::Value::String(text) => text.trim().to_owned(),
            serde_json::Value::Null => String::new(),
            other => other.to_string(),
        }
    }
}

/// A row of a form, a labelled field, or a field.
#[derive(Clone, Debug, Default, Deserialize)]
pub struct Component {
    /// A field's name.
    #[serde(default, deserialize_with = "or_default")]
    pub custom_id: String,
    /// What was filled in.
    #[serde(default)]
    pub value: Option<String>,
    /// The fields of a row.
    #[serde(default, deserialize_with = "or_default")]
    pub components: Vec<Component>,
    /// The field under a label.
    #[serde(default)]
    pub component: Option<Box<Component>>,
}

impl Component {
    /// What was filled in under this name, in here or below.
    pub fn filled(&self, name: &str) -> Option<&str> {
        if self.custom_id == name && self.value.is_some() {
            return self.value.as_deref();
        }
        let below = self.components.iter().chain(self.component.as_deref());
        below.into_iter().find_map(|one| one.filled(name))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked example of the platform's documentation, *reference#snowflakes*.
    #[test]
    fn an_id_tells_when_it_was_given_out() {
        let id = Id::new(175_928_847_299_117_063).expect("above zero");
        assert_eq!(id.at().timestamp_millis(), 1_462_015_105_796);
        assert!(Id::first_of(id.at()) <= id);
    }

    #[test]
    fn ids_are_read_from_text_and_number_and_not_from_zero() {
        let read = |json: &str| serde_json::from_str::<Id>(json).ok().map(Id::get);
        assert_eq!(read("\"42\""), Some(42));
        assert_eq!(read("42"), Some(42));
        assert_eq!(read("\"0\""), None);
        assert_eq!(read("\"x\""), None);
    }

    #[test]
    fn a_message_with_six_fields_is_enough() {
        let message: Message = serde_json::from_str(
            r#"{"id":"1","channel_id":"2","content":"hi","author":{"id":"3"},"new":{"x":[1]}}"#,
        )
        .expect("a message");
        assert_eq!(message.content.as_deref(), Some("hi"));
    }

    #[test]
    fn a_null_is_as_good_as_nothing() {
        let message: Message = serde_json::from_str(
            r#"{"id":"1","channel_id":"2","guild_id":null,"author":{"id":"3","bot":null,"global_name":null},
                "member":{"roles":null,"nick":null},"content":null,"type":null,"edited_timestamp":null}"#,
        )
        .expect("a message");
        assert_eq!((message.kind, message.edited_timestamp), (0, Edited::Never));
        let command: Interaction = serde_json::from_str(
            r#"{"id":"1","application_id":"2","type":2,"token":"x","member":null,"user":{"id":"3"},
                "data":{"name":"rack","options":[{"name":"show","options":null,"value":null}],"resolved":null}}"#,
        )
        .expect("a command");
        assert_eq!(command.data.options[0].options.len(), 0);
        assert!(serde_json::from_str::<Threads>(r#"{"id":"1","threads":null}"#).is_ok());
    }

    /// Each field that an event is of use without, in a shape that nobody expects.
    #[test]
    fn a_field_of_an_unexpected_shape_makes_no_event_unreadable() {
        let odd = [
            "7",
            "-1",
            "1.5",
            "\"x\"",
            "[]",
            "[[1]]",
            "{\"a\":1}",
            "true",
        ];
        let message = r#"{"id":"1","channel_id":"2","content":"hi","author":{"id":"3"}}"#;
        let fields = "guild_id member timestamp edited_timestamp webhook_id type nonce reactions";
        for (field, odd) in fields.split(' ').flat_map(|f| odd.map(|odd| (f, odd))) {
            let text = message.replacen('{', &format!("{{\"{field}\":{odd},"), 1);
            let read: Message = serde_json::from_str(&text).expect(&text);
            assert_eq!(read.content.as_deref(), Some("hi"), "{text}");
            assert_eq!(read.author.map(|user| user.id.get()), Some(3), "{text}");
        }
        for (field, odd) in ["nick", "roles", "user", "permissions"]
            .into_iter()
            .flat_map(|field| odd.map(|odd| (field, odd)))
        {
            let text = format!(r#"{{"{field}":{odd},"roles":["5",null,{{}},"x","6"]}}"#);
            let text = if field == "roles" {
                text.replacen(",\"roles\"", ",\"more\"", 1)
            } else {
                text
            };
            let read: Member = serde_json::from_str(&text).expect(&text);
            if field != "roles" {
                let roles: Vec<u64> = read.roles.iter().map(|id| id.get()).collect();
                assert_eq!(roles, [5, 6], "{text}");
            }
        }
        for (field, odd) in ["username", "global_name", "bot", "system"]
            .into_iter()
            .flat_map(|field| odd.map(|odd| (field, odd)))
        {
            let text = format!(r#"{{"id":"3","{field}":{odd}}}"#);
            let read: User = serde_json::from_str(&text).expect(&text);
            assert_eq!(read.id.get(), 3);
        }
        let threads =
            r#"{"id":"1","threads":[{"id":"x"},7,{"id":"9","type":11,"parent_id":"2","name":4}]}"#;
        let read: Threads = serde_json::from_str(threads).expect("a community");
        assert_eq!(read.threads.len(), 1);
    }

    /// What somebody wants is never guessed at.
    #[test]
    fn a_command_whose_options_cannot_be_read_is_not_read_without_them() {
        let text = r#"{"id":"1","application_id":"2","type":2,"token":"x","user":{"id":"3"},
            "data":{"name":"forget","options":7}}"#;
        assert!(serde_json::from_str::<Interaction>(text).is_err());
    }

    #[test]
    fn a_change_that_is_not_told_is_told_apart_from_none() {
        let read = |json: &str| {
            let json = format!(r#"{{"id":"1","channel_id":"2"{json}}}"#);
            serde_json::from_str::<Message>(&json)
                .expect("a message")
                .edited_timestamp
        };
        assert_eq!(read(""), Edited::Untold);
        assert_eq!(read(r#","edited_timestamp":null"#), Edited::Never);
        assert!(
            read(r#","edited_timestamp":"2026-01-12T18:05:00.123000+00:00""#)
                .at()
                .is_some()
        );
    }

    #[test]
    fn a_session_may_begin_without_its_application() {
        let read = |json: &str| serde_json::from_str::<Ready>(json).expect("a session");
        let bare = read(r#"{"session_id":"x","user":{"id":"7"}}"#);
        assert_eq!(bare.application(), bare.user.id);
        let told = read(r#"{"session_id":"x","user":{"id":"7"},"application":{"id":"8"}}"#);
        assert_eq!(told.application().get(), 8);
    }

    #[test]
    fn a_filled_field_is_found_in_rows_and_under_labels() {
        let row: Component =
            serde_json::from_str(r#"{"components":[{"custom_id":"text","value":"mon: squat"}]}"#)
                .expect("a row");
        let label: Component =
            serde_json::from_str(r#"{"type":18,"component":{"custom_id":"text","value":"x"}}"#)
                .expect("a label");
        assert_eq!(row.filled("text"), Some("mon: squat"));
        assert_eq!(label.filled("text"), Some("x"));
        assert_eq!(row.filled("other"), None);
    }
}
