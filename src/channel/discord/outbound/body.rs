//! What goes out, as JSON: messages with their buttons and files, forms, choices.
//!
//! Everything that a limit of the platform bounds is brought within it here ([`limits`]), and
//! everything that a member wrote is escaped ([`super::escape`]).

use serde_json::{Value, json};

use super::escape::{cut, escape, parts};
use crate::bot::button::ButtonId;
use crate::bot::reply::{Button, Reply};
use crate::channel::discord::limits;
use crate::channel::discord::wire::Id;

/// Links show no preview. *resources/message#message-object-message-flags*.
const SUPPRESS_EMBEDS: u64 = 1 << 2;
/// Only the one who asked sees it. The same page.
pub const EPHEMERAL: u64 = 1 << 6;

/// A message of the bot's, ready to go.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it says.
    pub content: String,
    /// Who is notified.
    pub mentions: Vec<Id>,
    /// Its rows of buttons.
    pub components: Value,
    /// Files by name and alternative text.
    pub files: Vec<(String, String)>,
}

impl Body {
    /// The JSON of a new message. A repeat with the same nonce makes no second message.
    pub fn post(&self, nonce: &str) -> Value {
        let mut body = self.common();
        body["nonce"] = json!(nonce);
        body["enforce_nonce"] = json!(true);
        body["flags"] = json!(SUPPRESS_EMBEDS);
        if self
            .components
            .as_array()
            .is_some_and(|rows| !rows.is_empty())
        {
            body["components"] = self.components.clone();
        }
        self.attach(&mut body);
        body
    }

    /// The JSON of an edit: buttons that are gone are taken away.
    pub fn edit(&self) -> Value {
        let mut body = self.common();
        body["components"] = self.components.clone();
        self.attach(&mut body);
        body
    }

    /// The JSON of an answer to an interaction, or of one that follows it.
    pub fn answer(&self, private: bool) -> Value {
        let mut body = self.common();
        body["flags"] = json!(SUPPRESS_EMBEDS | if private { EPHEMERAL } else { 0 });
        body["components"] = self.components.clone();
        self.attach(&mut body);
        body
    }

    fn common(&self) -> Value {
        let users: Vec<String> = self.mentions.iter().map(Id::to_string).collect();
        json!({
            "content": self.content,
            "allowed_mentions": { "parse": [], "users": users, "replied_user": false },
        })
    }

    fn attach(&self, body: &mut Value) {
        if self.files.is_empty() {
            return;
        }
        // The platform's published description has every id as text, also of a file to come.
        let about = |(place, (name, alt)): (usize, &(String, String))| json!({ "id": place.to_string(), "filename": name, "description": alt });
        body["attachments"] = self.files.iter().enumerate().map(about).collect();
    }
}

/// A reply as messages: one, or several where it is too long for one. The last has the buttons and
/// files. Empty where it says nothing.
pub fn of_reply(reply: &Reply) -> Vec<Body> {
    let mentions: Vec<Id> = reply
        .mentions
        .iter()
        .filter_map(|author| author.parse().ok())
        .collect();
    let called: String = mentions.iter().map(|id| format!("<@{id}> ")).collect();
    let texts = parts(
        &escape(&reply.text),
        limits::CONTENT - called.chars().count(),
    );
    let last = texts.len().saturating_sub(1);
    let body = |(place, text): (usize, String)| {
        let content = if place == 0 {
            format!("{called}{text}")
        } else {
            text
        };
        let (components, files) = if place == last {
            (rows(&reply.buttons), files(reply))
        } else {
            (json!([]), Vec::new())
        };
        let mentions = if place == 0 {
            mentions.clone()
        } else {
            Vec::new()
        };
        Body {
            content,
            mentions,
            components,
            files,
        }
    };
    texts.into_iter().enumerate().map(body).collect()
}

/// The reply as one message, cut where it is too long: for edits, which cannot become two.
pub fn of_update(reply: &Reply) -> Body {
    let text = escape(&reply.text);
    let content = match parts(&text, limits::CONTENT).as_slice() {
        [] => "…".to_owned(),
        [whole] => whole.clone(),
        [first, ..] => cut(&format!("{first}\n…"), limits::CONTENT),
    };
    Body {
        content,
        mentions: Vec::new(),
        components: rows(&reply.buttons),
        files: Vec::new(),
    }
}

/// A sentence without anything.
pub fn of_text(text: &str) -> Body {
    let reply = Reply {
        text: text.to_owned(),
        ..Reply::default()
    };
    of_update(&reply)
}

/// Buttons in rows. One whose id the platform cannot carry, or that repeats another's, is left
/// out: what it says can be typed.
fn rows(buttons: &[Button]) -> Value {
    let mut seen: Vec<&str> = Vec::new();
    let mut shown = Vec::new();
    for button in buttons {
        let length = button.id.chars().count();
        if length == 0 || length > limits::CUSTOM_ID || seen.contains(&button.id.as_str()) {
            tracing::debug!(length, "a button is left out");
            continue;
        }
        seen.push(&button.id);
        let label = button.label.trim();
        let label = if label.is_empty() { "…" } else { label };
        shown.push(json!({
            "type": 2,
            // One colour for all but the ones that leave or take something out.
            "style": if takes_out(button) { 4 } else { 2 },
            "label": cut(label, limits::BUTTON_LABEL),
            "custom_id": button.id,
        }));
    }
    shown.truncate(limits::ROWS * limits::BUTTONS_IN_ROW);
    shown
        .chunks(limits::BUTTONS_IN_ROW)
        .map(|row| json!({ "type": 1, "components": row }))
        .collect()
}

fn takes_out(button: &Button) -> bool {
    ButtonId::parse(&button.id).is_some_and(|id| id.takes_out())
}

fn files(reply: &Reply) -> Vec<(String, String)> {
    let about =
        |file: &crate::bot::reply::File| (file.name.clone(), cut(&file.alt, limits::ALT_TEXT));
    reply.files.iter().take(limits::FILES).map(about).collect()
}

/// A form with one field for a longer text. Its id is at most [`limits::CUSTOM_ID`] long.
pub fn form(id: &str, title: &str, label: &str, hint: &str) -> Value {
    json!({
        "type": 9,
        "data": {
            "custom_id": id,
            "title": cut(title, limits::MODAL_TITLE),
            "components": [{
                "type": 1,
                "components": [{
                    "type": 4,
                    "custom_id": FORM_FIELD,
                    "style": 2,
                    "label": cut(label, 45),
                    "placeholder": cut(hint, 100),
                    "required": true,
                    "min_length": 1,
                    "max_length": limits::MODAL_TEXT,
                }],
            }],
        },
    })
}

/// The name of a form's field.
pub const FORM_FIELD: &str = "text";

/// Choices for what is being typed: what is shown, and what it stands for.
pub fn choices(choices: &[(String, String)]) -> Value {
    let fits = |(shown, meant): &&(String, String)| {
        !shown.trim().is_empty() && !meant.is_empty() && meant.chars().count() <= limits::CHOICE
    };
    let one = |(shown, meant): &(String, String)| json!({ "name": cut(shown.trim(), limits::CHOICE), "value": meant });
    let all: Vec<Value> = choices
        .iter()
        .filter(fits)
        .take(limits::CHOICES)
        .map(one)
        .collect();
    json!({ "type": 8, "data": { "choices": all } })
}

/// What names a post of the bot's to the platform: the same for a repeat, another for any other.
/// 128 bits of the FNV-1a hash, written with 36 signs, are just as long as a nonce may be.
pub fn nonce(team: &str, reply: &str, part: usize) -> String {
    let mut hash = FNV_OFFSET;
    for byte in format!("{team}/{reply}/{part}").bytes() {
        hash = (hash ^ u128::from(byte)).wrapping_mul(FNV_PRIME);
    }
    let mut signs = String::with_capacity(limits::NONCE);
    while hash > 0 {
        let digit = u32::try_from(hash % 36).unwrap_or(0);
        signs.extend(char::from_digit(digit, 36));
        hash /= 36;
    }
    signs
}

/// Source: the FNV hash's draft standard, draft-eastlake-fnv, section 5 (from memory).
const FNV_OFFSET: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
const FNV_PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;

#[cfg(test)]
mod tests {
    use super::*;

    fn button(id: &str) -> Button {
        Button {
            id: id.to_owned(),
            label: id.to_owned(),
        }
    }

    #[test]
    fn a_nonce_fits_and_differs_by_team_reply_and_part() {
        let all = [
            nonce("a", "1.1", 0),
            nonce("a", "1.1", 1),
            nonce("a", "1.2", 0),
            nonce("b", "1.1", 0),
        ];
        for (n, one) in all.iter().enumerate() {
            assert!(one.chars().count() <= limits::NONCE, "{one}");
            assert!(all[n + 1..].iter().all(|other| other != one));
        }
        assert_eq!(nonce("a", "1.1", 0), all[0]);
    }

    #[test]
    fn buttons_that_cannot_be_carried_or_repeat_are_left_out() {
        let long = "x".repeat(limits::CUSTOM_ID + 1);
        let buttons: Vec<_> = ["a", "a", long.as_str(), "", "b"]
            .iter()
            .map(|id| button(id))
            .collect();
        let rows = rows(&buttons);
        let ids: Vec<_> = rows[0]["components"]
            .as_array()
            .expect("a row")
            .iter()
            .map(|b| b["custom_id"].clone())
            .collect();
        assert_eq!(ids, ["a", "b"]);
    }

    #[test]
    fn twenty_six_buttons_become_five_rows_of_five() {
        let buttons: Vec<_> = (0..26).map(|n| button(&n.to_string())).collect();
        let rows = rows(&buttons);
        let lengths: Vec<_> = rows
            .as_array()
            .expect("rows")
            .iter()
            .map(|row| row["components"].as_array().expect("a row").len())
            .collect();
        assert_eq!(lengths, [5; 5]);
    }

    #[test]
    fn a_call_stands_before_the_text_and_notifies_only_the_addressee() {
        let reply = Reply {
            text: "rest over @everyone".to_owned(),
            mentions: vec!["42".to_owned()],
            ..Reply::default()
        };
        let body = of_reply(&reply)[0].post("n");
        assert_eq!(body["content"], "<@42> rest over @\u{200B}everyone");
        assert_eq!(
            body["allowed_mentions"],
            json!({"parse": [], "users": ["42"], "replied_user": false})
        );
    }

    #[test]
    fn a_long_reply_becomes_several_messages_with_the_buttons_under_the_last() {
        let reply = Reply {
            text: "a line of words\n".repeat(300),
            buttons: vec![button("undo")],
            ..Reply::default()
        };
        let bodies = of_reply(&reply);
        assert!(bodies.len() > 1);
        assert!(
            bodies
                .iter()
                .all(|body| body.content.chars().count() <= limits::CONTENT)
        );
        assert_eq!(bodies[0].components, json!([]));
        assert_ne!(bodies[bodies.len() - 1].components, json!([]));
    }
}
