//! What the platform allows, as it publishes it. Whoever needs a limit takes it from here; the
//! table in docs/discord.md repeats them with their pages.
//!
//! Sources are pages of the platform's public developer documentation
//! (<https://discord.com/developers/docs>), named below by their path.

use std::time::Duration;

/// Longest content of a message, characters. *resources/message#create-message*.
pub const CONTENT: usize = 2000;
/// Longest nonce, characters. *resources/message#create-message*.
pub const NONCE: usize = 25;
/// Rows of components under a message. *components/reference#action-row*.
pub const ROWS: usize = 5;
/// Buttons in a row. *components/reference#action-row*.
pub const BUTTONS_IN_ROW: usize = 5;
/// Longest label of a button, characters. *components/reference#button*.
pub const BUTTON_LABEL: usize = 80;
/// Longest id of a component, characters. *components/reference#anatomy-of-a-component*.
pub const CUSTOM_ID: usize = 100;
/// Longest alternative text of an attachment, characters. *resources/message#attachment-object*.
pub const ALT_TEXT: usize = 1024;
/// Files with a message. *reference#uploading-files*.
pub const FILES: usize = 10;
/// Choices of a completion. *interactions/application-commands#autocomplete*.
pub const CHOICES: usize = 25;
/// Longest name or text value of a choice, characters.
/// *interactions/application-commands#application-command-object-application-command-option-choice-structure*.
pub const CHOICE: usize = 100;
/// Longest title of a modal, characters.
/// *interactions/receiving-and-responding#interaction-response-object-modal*.
pub const MODAL_TITLE: usize = 45;
/// Longest text of a modal's field, characters. *components/reference#text-input*.
pub const MODAL_TEXT: usize = 4000;
/// Messages that one look into a channel's history gives. *resources/message#get-channel-messages*.
pub const HISTORY: u8 = 100;
/// An interaction is to be acknowledged within this.
/// *interactions/receiving-and-responding#responding-to-an-interaction*.
pub const ACKNOWLEDGE_WITHIN: Duration = Duration::from_secs(3);
/// An interaction can be followed up for this long. The same page.
pub const FOLLOW_UP_WITHIN: Duration = Duration::from_secs(15 * 60);
/// Requests a second of one bot, over all routes. *topics/rate-limits#global-rate-limit*.
pub const REQUESTS_A_SECOND: u32 = 50;
/// The protocol's version that is spoken. *reference#api-versioning*.
pub const VERSION: u8 = 10;
