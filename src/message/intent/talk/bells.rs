//! Whether a message switches bells on or off. It changes a setting, so it must be told to: a short
//! sentence of known words that gives the order, and nothing else. `still on mute` and `my alarm didn't
//! go off` speak of other things; whoever asks how it goes is shown the command.

use super::words_of;

/// What the bot's bells are called.
const BELLS: &str = "bell bells ping pings pinging notification notifications reminder reminders ringing beeping beep \
    beeps alarms timer alarm";

/// Names that order something with `on` or `off` alone: `bells off`. Anybody's timer is on.
const BY_THEMSELVES: &str = "bell bells pings notifications reminders beeps";

/// Words that an order may hold beside.
const FILLING: &str = "please pls can could would you u just the my all these those this that for me hey bot chalkbell \
    ok back again now";

/// What a reason behind an order begins with: `bells off, I'm in a meeting`. Behind a name somebody else
/// is ordered.
const REASONS: &str = "i im ive we were it its they theyre please pls thanks";

/// Whether a word is one of a list.
fn of(list: &str, word: &str) -> bool {
    list.split(' ').any(|one| one == word)
}

/// Whether bells are ordered on (`true`) or off.
pub(super) fn switched(text: &str) -> Option<bool> {
    let (order, reason) = text.split_once([',', '.', ';', '!']).unwrap_or((text, ""));
    let reason = words_of(reason);
    let is_reason = reason.first().is_none_or(|first| of(REASONS, first));
    let words = words_of(order);
    let words = words.iter().map(String::as_str).filter(|_| is_reason);
    let words: Vec<&str> = words.filter(|word| !of(FILLING, word)).collect();
    let bell = |word: &str| of(BELLS, word);
    let on = |word: &str| match word {
        "on" => Some(true),
        "off" => Some(false),
        _ => None,
    };
    match words.as_slice() {
        ["turn" | "switch" | "shut" | "put", way, what] if bell(what) => on(way),
        ["turn" | "switch" | "shut" | "put", what, way] if bell(what) => on(way),
        [what, way] if of(BY_THEMSELVES, what) => on(way),
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

/// Words that ask for a bell after a time, with those that join them.
const ASKS: &str = "ping remind ring buzz wake timer bell alarm give more rest";
const JOINS: &str = "in another of a set start when up time is over to go minute minutes min mins m sec secs s seconds second";
/// Seconds that a rest takes.
const RESTS: std::ops::RangeInclusive<u32> = 10..=900;

/// The seconds after which a bell is asked for: `ping me in 2 min`, `timer 90s`, `1 more min`.
pub(super) fn timer(text: &str) -> Option<u32> {
    let words = words_of(text);
    let mut words: Vec<&str> = (words.iter().map(String::as_str))
        .filter(|word| !of(FILLING, word))
        .collect();
    let is_number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let number = words.iter().position(|word| is_number(word))?;
    let amount = words.remove(number);
    let end = amount.trim_end_matches(char::is_alphabetic).len();
    let (digits, glued) = amount.split_at(end);
    let unit = match glued {
        "" => words.iter().skip(number).find(|word| **word != "more")?,
        glued => glued,
    };
    let each = match unit {
        "m" | "min" | "mins" | "minute" | "minutes" => 60,
        "s" | "sec" | "secs" | "second" | "seconds" => 1,
        _ => return None,
    };
    let asks = words.iter().any(|word| of(ASKS, word));
    let plain = words.iter().all(|word| of(ASKS, word) || of(JOINS, word));
    let seconds = digits.parse::<u32>().ok()?.checked_mul(each)?;
    (asks && plain && words.len() < 9 && RESTS.contains(&seconds)).then_some(seconds)
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
    fn a_bell_is_asked_for_in_words() {
        for (text, wanted) in [
            ("ping me in 2 min", Some(120)),
            ("give me 3 min", Some(180)),
            ("remind me in 90s", Some(90)),
            ("start a timer, 90 seconds", Some(90)),
            ("1 more min", Some(60)),
            ("timer 2 minutes please", Some(120)),
            ("give me 3 min and I'm there", None),
            ("2 min", None),
            ("ping me at 10", None),
            ("timer 45 min", None),
            ("3 more reps", None),
        ] {
            assert_eq!(timer(text), wanted, "{text}");
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
