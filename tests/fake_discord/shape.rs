//! What bodies may look like: keys, types and bounds after the platform's published OpenAPI
//! description (<https://github.com/discord/discord-api-spec>), whose schema is named beside each.
//! Stricter than that where the bot never needs the rest: no key that is not named here, no null.
//! What the description leaves open (the content's 2000 characters) is from its documentation.

use serde_json::Value;

/// What a value may be.
pub enum Is {
    /// A text of so many characters.
    Text(usize, usize),
    /// A whole number between these.
    Whole(i64, i64),
    /// Any number.
    Number,
    /// Yes or no.
    Flag,
    /// `SnowflakeType`: an id, as text.
    Id,
    /// One of these.
    These(&'static [i64]),
    /// A list of so many of these, none of them twice.
    List(&'static Is, usize, usize),
    /// Keys, whether they must be there, and what they hold.
    Object(&'static [(&'static str, bool, Is)]),
    /// Exactly one of these, so that nobody can take it for another.
    One(&'static [Is]),
}

/// `2^51 - 1`, the most that permissions may be.
const PERMISSIONS: i64 = 2_251_799_813_685_247;
const FLAGS: Is = Is::Whole(0, i32::MAX as i64);

/// `MessageAllowedMentionsRequest`.
const MENTIONS: Is = Is::Object(&[
    ("parse", true, Is::List(&Is::Text(1, 10), 0, 3)),
    ("users", true, Is::List(&Is::Id, 0, 100)),
    ("replied_user", false, Is::Flag),
]);

/// `Button` of those styles that carry an id.
const BUTTON: Is = Is::Object(&[
    ("type", true, Is::These(&[2])),
    ("style", true, Is::These(&[1, 2, 3, 4])),
    ("custom_id", true, Is::Text(1, 100)),
    ("label", true, Is::Text(1, 80)),
]);

/// `InputText`.
const FIELD: Is = Is::Object(&[
    ("type", true, Is::These(&[4])),
    ("custom_id", true, Is::Text(1, 100)),
    ("style", true, Is::These(&[1, 2])),
    ("label", true, Is::Text(1, 45)),
    ("placeholder", false, Is::Text(1, 100)),
    ("required", false, Is::Flag),
    ("min_length", false, Is::Whole(0, 4000)),
    ("max_length", false, Is::Whole(1, 4000)),
]);

/// `ActionRow`, under a message.
const ROW: Is = Is::Object(&[
    ("type", true, Is::These(&[1])),
    ("components", true, Is::List(&BUTTON, 1, 5)),
]);

/// `ActionRow`, in a form.
const LINE: Is = Is::Object(&[
    ("type", true, Is::These(&[1])),
    ("components", true, Is::List(&FIELD, 1, 1)),
]);

/// `MessageAttachmentRequest`.
const FILE: Is = Is::Object(&[
    ("id", true, Is::Id),
    ("filename", true, Is::Text(1, 1024)),
    ("description", true, Is::Text(1, 1024)),
]);

const CONTENT: Is = Is::Text(1, 2000);
const ROWS: Is = Is::List(&ROW, 0, 5);
const FILES: Is = Is::List(&FILE, 1, 10);

/// `MessageCreateRequest`.
pub const CREATE: Is = Is::Object(&[
    ("content", true, CONTENT),
    ("allowed_mentions", true, MENTIONS),
    ("components", false, ROWS),
    ("attachments", false, FILES),
    ("flags", false, FLAGS),
    ("nonce", true, Is::Text(1, 25)),
    ("enforce_nonce", true, Is::Flag),
]);

/// `MessageEditRequestPartial`, `IncomingWebhookUpdateRequestPartial`.
pub const EDIT: Is = Is::Object(&[
    ("content", true, CONTENT),
    ("allowed_mentions", true, MENTIONS),
    ("components", false, ROWS),
    ("attachments", false, FILES),
    ("flags", false, FLAGS),
]);

/// `IncomingWebhookRequestPartial`, `IncomingWebhookInteractionRequest`.
pub const SAID: Is = EDIT;

/// `ModalInteractionCallbackData`.
const FORM: Is = Is::Object(&[
    ("custom_id", true, Is::Text(1, 100)),
    ("title", true, Is::Text(1, 45)),
    ("components", true, Is::List(&LINE, 1, 5)),
]);

/// `IncomingWebhookInteractionRequest` of a message that is yet to come.
const AWAITED: Is = Is::Object(&[("flags", false, FLAGS)]);

/// `ApplicationCommandOptionStringChoice`; as `InteractionApplicationCommandAutocompleteCallback`
/// lists them, 25 at most.
const CHOICE: Is = Is::Object(&[
    ("name", true, Is::Text(1, 100)),
    ("value", true, Is::Text(1, 100)),
]);
/// `ApplicationCommandOptionNumberChoice`.
const NUMBER_CHOICE: Is = Is::Object(&[
    ("name", true, Is::Text(1, 100)),
    ("value", true, Is::Number),
]);
const CHOICES: Is = Is::One(&[
    Is::Object(&[("choices", true, Is::List(&CHOICE, 0, 25))]),
    Is::Object(&[("choices", true, Is::List(&NUMBER_CHOICE, 0, 25))]),
]);

/// The first answer to an interaction, `…CallbackRequest`.
pub const CALLBACK: Is = Is::One(&[
    Is::Object(&[("type", true, Is::These(&[1, 6]))]),
    Is::Object(&[("type", true, Is::These(&[4])), ("data", true, SAID)]),
    Is::Object(&[("type", true, Is::These(&[5])), ("data", true, AWAITED)]),
    Is::Object(&[("type", true, Is::These(&[7])), ("data", true, EDIT)]),
    Is::Object(&[("type", true, Is::These(&[8])), ("data", true, CHOICES)]),
    Is::Object(&[("type", true, Is::These(&[9])), ("data", true, FORM)]),
]);

/// `CreatePrivateChannelRequest`.
pub const PRIVATE: Is = Is::Object(&[("recipient_id", true, Is::Id)]);

const NAME: Is = Is::Text(1, 32);
const ABOUT: Is = Is::Text(1, 100);

/// An option's schema: what all have, and what this kind has besides.
macro_rules! option {
    ($kinds:expr $(, ($key:expr, $needed:expr, $is:expr))*) => {
        Is::Object(&[
            ("type", true, Is::These($kinds)),
            ("name", true, NAME),
            ("description", true, ABOUT),
            ("required", false, Is::Flag),
            $(($key, $needed, $is),)*
        ])
    };
}

/// `ApplicationCommand…Option` of values.
const GIVEN: Is = Is::One(&[
    option!(
        &[3],
        ("choices", false, Is::List(&CHOICE, 1, 25)),
        ("autocomplete", false, Is::Flag)
    ),
    option!(
        &[4],
        ("min_value", false, Is::Whole(-PERMISSIONS, PERMISSIONS))
    ),
    option!(&[5, 6, 8, 11]),
    option!(
        &[7],
        (
            "channel_types",
            false,
            Is::List(&Is::These(&[0, 2, 5, 10, 11, 12, 13, 15]), 1, 8)
        )
    ),
    option!(&[10], ("min_value", false, Is::Number)),
]);

/// `ApplicationCommandSubcommandOption`.
const PART: Is = option!(&[1], ("options", false, Is::List(&GIVEN, 0, 25)));

/// `ApplicationCommandUpdateRequest`. `contexts` and `integration_types` are left out: their items
/// are `oneOf` nothing there, so that no value is valid.
const COMMAND: Is = Is::Object(&[
    ("name", true, NAME),
    ("type", false, Is::These(&[1])),
    ("description", true, ABOUT),
    ("options", false, Is::List(&Is::One(&[GIVEN, PART]), 0, 25)),
    (
        "default_member_permissions",
        false,
        Is::Whole(0, PERMISSIONS),
    ),
    ("dm_permission", false, Is::Flag),
]);

/// All commands.
pub const COMMANDS: Is = Is::List(&COMMAND, 0, 100);

/// What is wrong with a body, each with the place where it is.
pub fn faults(value: &Value, is: &Is, place: &str) -> Vec<String> {
    let fits = match is {
        Is::Text(least, most) => value
            .as_str()
            .is_some_and(|text| (*least..=*most).contains(&text.chars().count())),
        Is::Whole(least, most) => value
            .as_i64()
            .is_some_and(|number| (*least..=*most).contains(&number)),
        Is::Number => value.is_number(),
        Is::Flag => value.is_boolean(),
        Is::Id => value
            .as_str()
            .is_some_and(|text| text.parse::<u64>().is_ok_and(|id| id.to_string() == text)),
        Is::These(all) => value.as_i64().is_some_and(|number| all.contains(&number)),
        Is::One(all) => return faults_of_choice(value, all, place),
        Is::List(of, least, most) => {
            let Some(items) = value.as_array() else {
                return vec![format!("{place} is no list: {value}")];
            };
            let twice = items
                .iter()
                .enumerate()
                .any(|(n, one)| items[..n].contains(one));
            if twice || !(*least..=*most).contains(&items.len()) {
                return vec![format!(
                    "{place} is too short or long, or has one twice: {value}"
                )];
            }
            let each = items.iter().enumerate();
            return each
                .flat_map(|(n, one)| faults(one, of, &format!("{place}[{n}]")))
                .collect();
        }
        Is::Object(keys) => return faults_of_object(value, keys, place),
    };
    if fits {
        Vec::new()
    } else {
        vec![format!("{place} cannot be {value}")]
    }
}

fn faults_of_object(value: &Value, keys: &[(&str, bool, Is)], place: &str) -> Vec<String> {
    let Some(object) = value.as_object() else {
        return vec![format!("{place} is no object: {value}")];
    };
    let mut broken = Vec::new();
    for key in object.keys() {
        if !keys.iter().any(|(known, ..)| known == key) {
            broken.push(format!("{place} has the unknown key {key}"));
        }
    }
    for (key, needed, is) in keys {
        match object.get(*key) {
            Some(value) => broken.extend(faults(value, is, &format!("{place}.{key}"))),
            None if *needed => broken.push(format!("{place} lacks {key}")),
            None => {}
        }
    }
    broken
}

/// Nothing where exactly one fits; else the faults of whichever is nearest.
fn faults_of_choice(value: &Value, all: &[Is], place: &str) -> Vec<String> {
    let each: Vec<_> = all.iter().map(|one| faults(value, one, place)).collect();
    match each.iter().filter(|faults| faults.is_empty()).count() {
        1 => Vec::new(),
        0 => each.into_iter().min_by_key(Vec::len).unwrap_or_default(),
        n => vec![format!("{place} may be any of {n} things: {value}")],
    }
}
