//! Adapters between the outside and the house: they turn what arrives into [`Event`]s, hand these
//! to the [`Service`](crate::service::Service) and send what comes back.
//!
//! Every adapter is thin, decides nothing about training, and sends nothing before it is stored.
//! What holds for the events of all channels is seen to here ([`admit`]), so that the rooms behind
//! need not.

pub mod demo;
pub mod discord;
pub mod gallery;
pub mod local;
pub mod pipe;
pub mod read;
pub mod status;
pub mod train;
pub mod upkeep;

use std::ops::RangeInclusive;

use chrono::{DateTime, Datelike as _, SubsecRound as _, Utc};

use crate::bot::event::Event;
use crate::message::words::unseen::turns_direction;

/// The longest id of a team, channel, author or message, in bytes. `PostgreSQL` indexes no text
/// beyond some 2,700 bytes; chat platforms stay far under this.
const LONGEST_ID: usize = 255;
/// The longest id of a reply or a button: the bot makes them from other ids.
const LONGEST_OWN_ID: usize = 1000;
/// The longest shown name that is kept, in characters.
const LONGEST_NAME: usize = 100;

/// Why an event is not let in; the message names the remedy.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EventError {
    /// An id that names nothing.
    #[error("`{0}` is empty; give it a value")]
    Empty(&'static str),
    /// An id that no channel would use.
    #[error("`{0}` is longer than {1} bytes; shorten it")]
    TooLong(&'static str, usize),
    /// A time that no clock says that is right to some years.
    #[error("`at` is in the year {0}; set the clock right and send a time between 1970 and 9999")]
    Year(i32),
    /// A character that no id holds, and that not every database stores.
    #[error("`{0}` holds a control character; send it without")]
    Control(&'static str),
}

/// Lets an event in: its ids are checked, its time lies within four-digit years from 1970 on and is cut to whole milliseconds (as stored, so that
/// what is decided on now equals what is read back later), and a shown name loses characters that
/// show nothing or turn the writing direction. Its text may be anything.
///
/// # Errors
/// [`EventError`] for the first id that cannot be.
pub fn admit(event: &mut Event) -> Result<(), EventError> {
    match event {
        Event::Message(message) => {
            id("id", &message.id)?;
            id("team", &message.team)?;
            id("channel", &message.channel)?;
            id("author", &message.author)?;
            message.name = shown(&message.name, &message.author);
            cut(&mut message.at)
        }
        Event::Edit(edit) => {
            id("id", &edit.id)?;
            id("team", &edit.team)?;
            cut(&mut edit.at)
        }
        Event::Delete(delete) => {
            id("id", &delete.id)?;
            id("team", &delete.team)?;
            cut(&mut delete.at)
        }
        Event::Press(press) => {
            if let Some(own) = &press.id {
                id("id", own)?;
            }
            at_most("reply", &press.reply, LONGEST_OWN_ID)?;
            id("team", &press.team)?;
            id("author", &press.author)?;
            at_most("button", &press.button, LONGEST_OWN_ID)?;
            cut(&mut press.at)
        }
        Event::Clock(clock) => {
            if let Some(team) = &clock.team {
                id("team", team)?;
            }
            cut(&mut clock.at)
        }
    }
}

fn id(key: &'static str, value: &str) -> Result<(), EventError> {
    at_most(key, value, LONGEST_ID)
}

fn at_most(key: &'static str, value: &str, longest: usize) -> Result<(), EventError> {
    if value.is_empty() {
        Err(EventError::Empty(key))
    } else if value.len() > longest {
        Err(EventError::TooLong(key, longest))
    } else if value.chars().any(char::is_control) {
        Err(EventError::Control(key))
    } else {
        Ok(())
    }
}

/// The name as it can be shown; the author's id where nothing of it can. Direction marks would
/// reorder the sentence around it.
fn shown(name: &str, author: &str) -> String {
    let visible: String = name
        .chars()
        .filter(|&character| !character.is_control() && !turns_direction(character))
        .take(LONGEST_NAME)
        .collect();
    match visible.trim() {
        "" => author.to_owned(),
        visible => visible.to_owned(),
    }
}

/// Years in which every day, week and rest that is reckoned with lies within what a calendar holds,
/// and weeks are in the order of their labels.
const YEARS: RangeInclusive<i32> = 1970..=9999;

fn cut(at: &mut DateTime<Utc>) -> Result<(), EventError> {
    *at = at.trunc_subsecs(3);
    match YEARS.contains(&at.year()) {
        true => Ok(()),
        false => Err(EventError::Year(at.year())),
    }
}
