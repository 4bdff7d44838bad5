//! Whether a message switches bells on or off. It changes a setting, so it must be told to: a short
//! sentence of known words that gives the order, and nothing else. `still on mute` and `my alarm didn't
//! go off` speak of other things; whoever asks how it goes is shown the command.

use super::words_of;

/// What the bot's bells are called.
const BELLS: [&str; 16] = [
    "bell",
    "bells",
    "ping",
    "pings",
    "pinging",
    "notification",
    "notifications",
    "reminder",
    "reminders",
    "ringing",
    "beeping",
    "beep",
    "beeps",
    "alarms",
    "timer",
    "alarm",
];

/// Names that order something with `on` or `off` alone: `bells off`. Anybody's timer is on.
const BY_THEMSELVES: [&str; 6] = [
    "bell",
    "bells",
    "pings",
    "notifications",
    "reminders",
    "beeps",
];

/// Words that an order may hold beside.
const FILLING: [&str; 24] = [
    "please",
    "pls",
    "can",
    "could",
    "would",
    "you",
    "u",
    "just",
    "the",
    "my",
    "all",
    "these",
    "those",
    "this",
    "that",
    "for",
    "me",
    "hey",
    "bot",
    "chalkbell",
    "ok",
    "back",
    "again",
    "now",
];

/// What a reason behind an order begins with: `bells off, I'm in a meeting`. Behind a name somebody else
/// is ordered.
const REASONS: [&str; 12] = [
    "i", "im", "ive", "we", "were", "it", "its", "they", "theyre", "please", "pls", "thanks",
];

/// Whether bells are ordered on (`true`) or off.
pub(super) fn switched(text: &str) -> Option<bool> {
    let (order, reason) = text.split_once([',', '.', ';', '!']).unwrap_or((text, ""));
    let reason = words_of(reason);
    let is_reason = reason
        .first()
        .is_none_or(|first| REASONS.contains(&first.as_str()));
    let words = words_of(order);
    let words = words.iter().map(String::as_str).filter(|_| is_reason);
    let words: Vec<&str> = words.filter(|word| !FILLING.contains(word)).collect();
    let bell = |word: &str| BELLS.contains(&word);
    let on = |word: &str| match word {
        "on" => Some(true),
        "off" => Some(false),
        _ => None,
    };
    match words.as_slice() {
        ["turn" | "switch" | "shut" | "put", way, what] if bell(what) => on(way),
        ["turn" | "switch" | "shut" | "put", what, way] if bell(what) => on(way),
        [what, way] if BY_THEMSELVES.contains(what) => on(way),
        ["mute" | "silence" | "stop" | "disable", what] if bell(what) => Some(false),
        ["unmute" | "enable" | "start", what] if bell(what) => Some(true),
        ["no", "more", what] if bell(what) => Some(false),
        [
            "dont" | "stop",
            "ping" | "pinging" | "ring" | "ringing" | "beep" | "beeping",
        ] => Some(false),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_switch_bells() {
        for (text, wanted) in [
            ("turn the bells off", Some(false)),
            ("please turn off the pings", Some(false)),
            ("can you mute the bells?", Some(false)),
            ("stop pinging me", Some(false)),
            ("bells off", Some(false)),
            ("no more notifications please", Some(false)),
            ("turn the bells back on", Some(true)),
            ("bells on", Some(true)),
            ("bells off please, I am in a meeting", Some(false)),
        ] {
            assert_eq!(switched(text), wanted, "{text}");
        }
    }

    #[test]
    fn what_speaks_of_bells_switches_none() {
        for text in [
            "still on mute",
            "mute",
            "you're on mute",
            "my alarm didn't go off",
            "alarm off",
            "timer's on",
            "how do I turn the bells off?",
            "turn the alarm clock off",
            "the bell went off early",
            "bells on or off?",
            "stop the bus",
            "who put bells on the boat",
            "mute Tom please",
            "turn the pings off, Tom",
        ] {
            assert_eq!(switched(text), None, "{text}");
        }
    }
}
