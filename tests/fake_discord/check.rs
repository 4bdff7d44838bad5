//! Whether a request's body keeps the platform's rules: by an independent library of its model and
//! limits, and by hand where that library knows nothing (empty messages, repeated component ids,
//! nonces, mentions that contradict each other). Keys, types and bounds are in `shape`.

use serde_json::Value;
use twilight_model::application::command::Command;
use twilight_model::channel::message::component::{Component, ComponentType};
use twilight_model::channel::message::{AllowedMentions, MentionType};
use twilight_model::http::interaction::InteractionResponse;

/// Faults of a message's body; a new one, or a change.
pub fn message(body: &Value, new: bool) -> Vec<String> {
    let mut broken = Vec::new();
    let mut fault = |text: String| broken.push(format!("{text} in {body}"));
    let content = body["content"].as_str().unwrap_or_default();
    let files = body["attachments"].as_array().map_or(0, Vec::len);
    if let Err(error) = twilight_validate::message::content(content) {
        fault(error.to_string());
    }
    if content.trim().is_empty() && files == 0 {
        fault("an empty message".to_owned());
    }
    if content.contains("@everyone") || content.contains("@here") || content.contains("<@&") {
        fault("a mass mention".to_owned());
    }
    if content.contains("://") {
        fault("a link".to_owned());
    }
    if body.get("nonce").is_some() {
        let length = body["nonce"]
            .as_str()
            .map_or(usize::MAX, |nonce| nonce.chars().count());
        if length == 0 || length > 25 || body["enforce_nonce"] != true {
            fault("a nonce that is too long or not enforced".to_owned());
        }
    } else if new {
        fault("a post without a nonce".to_owned());
    }
    for text in mentions(body, content)
        .into_iter()
        .chain(components(body))
        .chain(attachments(body))
    {
        fault(text);
    }
    broken
}

fn mentions(body: &Value, content: &str) -> Vec<String> {
    let Ok(mentions) = serde_json::from_value::<AllowedMentions>(body["allowed_mentions"].clone())
    else {
        return vec!["allowed_mentions cannot be read".to_owned()];
    };
    let mut broken = Vec::new();
    if mentions
        .parse
        .iter()
        .any(|kind| !matches!(kind, MentionType::Users))
        || !mentions.roles.is_empty()
    {
        broken.push("more than users may be mentioned".to_owned());
    }
    if mentions.parse.contains(&MentionType::Users) {
        broken.push("anybody may be mentioned".to_owned());
    }
    if mentions.users.len() > 1 {
        broken.push("more than the addressee may be mentioned".to_owned());
    }
    for user in &mentions.users {
        if !content.contains(&format!("<@{user}>")) {
            broken.push("somebody may be mentioned and is not".to_owned());
        }
    }
    broken
}

fn components(body: &Value) -> Vec<String> {
    let Some(components) = body.get("components") else {
        return Vec::new();
    };
    let components: Vec<Component> = match serde_json::from_value(components.clone()) {
        Ok(components) => components,
        Err(error) => return vec![format!("components cannot be read: {error}")],
    };
    let mut broken = Vec::new();
    if let Err(error) = twilight_validate::message::components(&components, false) {
        broken.push(error.to_string());
    }
    if components
        .iter()
        .any(|one| one.kind() != ComponentType::ActionRow)
    {
        broken.push("a component outside a row".to_owned());
    }
    let ids = ids_in(&body["components"]);
    for (place, id) in ids.iter().enumerate() {
        if ids[..place].contains(id) {
            broken.push(format!("the component id {id} twice"));
        }
        if id.is_empty() || id.chars().count() > 100 {
            broken.push(format!("the component id {id:?} has no fitting length"));
        }
    }
    broken
}

fn ids_in(value: &Value) -> Vec<String> {
    let rows = value.as_array().into_iter().flatten();
    let inner = rows.flat_map(|row| row["components"].as_array().into_iter().flatten());
    inner
        .filter_map(|one| one["custom_id"].as_str().map(str::to_owned))
        .collect()
}

fn attachments(body: &Value) -> Vec<String> {
    let all: Vec<&Value> = body["attachments"]
        .as_array()
        .into_iter()
        .flatten()
        .collect();
    let mut broken = Vec::new();
    if u64::try_from(all.len()).ok() != Some(body["__uploaded"].as_u64().unwrap_or(0)) {
        broken.push("files and their descriptions do not pair".to_owned());
    }
    for one in all {
        let name = twilight_validate::message::attachment_filename(
            one["filename"].as_str().unwrap_or(" "),
        );
        let alt = twilight_validate::message::attachment_description(
            one["description"].as_str().unwrap_or_default(),
        );
        broken.extend(name.err().or(alt.err()).map(|error| error.to_string()));
        if one["description"].as_str().unwrap_or_default().is_empty() {
            broken.push("a file without alternative text".to_owned());
        }
        // `SnowflakeType` of the platform's published OpenAPI description.
        if !one["id"].is_string() {
            broken.push("a file's id that is no text".to_owned());
        }
    }
    broken
}

/// Faults of an interaction's first answer.
pub fn callback(body: &Value) -> Vec<String> {
    let mut broken = Vec::new();
    if let Err(error) = serde_json::from_value::<InteractionResponse>(body.clone()) {
        broken.push(format!("an answer that cannot be read: {error} in {body}"));
    }
    match body["type"].as_u64() {
        Some(4 | 7) => broken.extend(message(&body["data"], false)),
        Some(8) => {
            let choices = body["data"]["choices"]
                .as_array()
                .cloned()
                .unwrap_or_default();
            if choices.len() > 25 {
                broken.push("more than 25 choices".to_owned());
            }
            for choice in &choices {
                let name = choice["name"].as_str().unwrap_or_default();
                broken.extend(
                    twilight_validate::command::choice_name(name)
                        .err()
                        .map(|e| e.to_string()),
                );
                let value = choice["value"].as_str().unwrap_or_default();
                if value.is_empty() || value.chars().count() > 100 {
                    broken.push(format!("the choice {choice} has no fitting value"));
                }
            }
        }
        Some(9) => {
            let title = body["data"]["title"]
                .as_str()
                .unwrap_or_default()
                .chars()
                .count();
            if title == 0 || title > 45 {
                broken.push("a form's title has no fitting length".to_owned());
            }
        }
        _ => {}
    }
    broken
}

/// Faults of a registration.
pub fn commands(body: &Value) -> Vec<String> {
    let mut broken = Vec::new();
    let mut names = Vec::new();
    for command in body.as_array().into_iter().flatten() {
        let permissions = &command["default_member_permissions"];
        // `ApplicationCommandUpdateRequest` of the platform's published OpenAPI description.
        if !permissions.is_u64() && !permissions.is_null() {
            broken.push(format!("permissions that are no number: {permissions}"));
        }
        let mut whole = command.clone();
        // What the platform adds.
        whole["version"] = "1".into();
        if whole.get("default_member_permissions").is_none() {
            whole["default_member_permissions"] = Value::Null;
        }
        match serde_json::from_value::<Command>(whole) {
            Err(error) => broken.push(format!("{} cannot be read: {error}", command["name"])),
            Ok(read) => {
                if let Err(error) = twilight_validate::command::command(&read) {
                    broken.push(format!("{}: {error}", read.name));
                }
                for option in &read.options {
                    if let Err(error) = twilight_validate::command::option(option) {
                        broken.push(format!("{}: {error}", read.name));
                    }
                }
            }
        }
        names.push(command["name"].as_str().unwrap_or_default().to_owned());
        broken.extend(order_of_options(command));
    }
    names.sort_unstable();
    if names.windows(2).any(|pair| pair[0] == pair[1]) || names.len() > 100 {
        broken.push("a name twice, or too many commands".to_owned());
    }
    broken
}

/// Required options come before the others, and no name comes twice.
fn order_of_options(command: &Value) -> Vec<String> {
    let mut broken = Vec::new();
    let options: Vec<&Value> = command["options"]
        .as_array()
        .into_iter()
        .flatten()
        .collect();
    let required: Vec<bool> = options.iter().map(|one| one["required"] == true).collect();
    if required.windows(2).any(|pair| !pair[0] && pair[1]) {
        broken.push(format!(
            "{}: an optional option before a required one",
            command["name"]
        ));
    }
    for one in options {
        broken.extend(order_of_options(one));
    }
    broken
}
