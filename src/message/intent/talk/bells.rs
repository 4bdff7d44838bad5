//! Whether a message switches bells on or off. It changes a setting, so it must be told to: a short
//! sentence of known words that gives the order, and nothing else. `still on mute` and `my alarm didn't
//! go off` speak of other things; whoever asks how it goes is shown the command.

use super::words_of;
use crate::message::words::numeral::small_number;

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
    let each = seconds_of(unit)?;
    let asks = words.iter().any(|word| of(ASKS, word));
    let plain = words.iter().all(|word| of(ASKS, word) || of(JOINS, word));
    let seconds = digits.parse::<u32>().ok()?.checked_mul(each)?;
    (asks && plain && words.len() < 9 && RESTS.contains(&seconds)).then_some(seconds)
}

/// What is done to the bell that waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Retimed {
    /// It rings when so many seconds of rest are over.
    To(u32),
    /// It rings so many seconds later.
    By(u32),
    /// It does not ring for this set.
    Off,
}

/// What a change of the bell is made of, beside its time.
const CHANGES: &str = "make made it that this the actually sorry no nah nope wait oops oh i mean meant want scratch rather instead \
    better change set to rest timer bell alarm time longer shorter long need please for now on ring me in should be \
    lets let go with have take just ok okay then";
/// More, or less, of the same.
const MORE: &str = "add another more extra plus";
/// That it is not to ring, what, and of which set.
const NOT: &str = "no skip stop cancel kill drop forget ignore without dont need never mind scrap";
const BELL: &str = "timer bell alarm reminder ping";
const ONCE: &str = "this time one once for the a it now round set please thanks i any off";

/// What a message does to the bell that waits; `right_after` says that one was asked for just now, so that a number by
/// itself is its time: whole minutes, and seconds where no rest is so many minutes.
#[must_use]
pub fn retimed(text: &str, right_after: bool) -> Option<Retimed> {
    let words = words_of(text);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let any = |list: &str| words.iter().any(|word| of(list, word));
    let all_of = |lists: &[&str]| {
        let is = |word: &&str| lists.iter().any(|list| of(list, word));
        words.iter().all(is)
    };
    if words.len() > MOST_WORDS || words.is_empty() || text.contains('?') {
        return None;
    }
    if any(NOT) && any(BELL) && all_of(&[NOT, BELL, ONCE]) && !any("on back") {
        return Some(Retimed::Off);
    }
    // `make it 3 not 4`
    let words = match words.iter().rposition(|word| *word == "not") {
        Some(at) if at > 0 && words.len() == at + 2 => &words[..at],
        _ => &words[..],
    };
    let amount = |word: &str| -> Option<(f64, Option<u32>)> {
        let end = word.trim_end_matches(char::is_alphabetic).len();
        let (digits, glued) = word.split_at(end);
        let of_word = || small_number(word).map(f64::from);
        match digits.parse().ok().or_else(of_word) {
            Some(value) if glued.is_empty() || digits.is_empty() => Some((value, None)),
            Some(value) => Some((value, Some(seconds_of(glued)?))),
            None => None,
        }
    };
    let is_number = |at: &usize| amount(words[*at]).is_some();
    let is_one = |at: &usize| matches!(words[*at], "another" | "a" | "one");
    let places = 0..words.len();
    let at = (places.clone().find(is_number)).or_else(|| places.clone().rev().find(is_one))?;
    let (value, glued) = amount(words[at]).unwrap_or((1.0, None));
    let behind = words.iter().skip(at + 1);
    let unit = glued.or_else(|| {
        behind
            .filter(|word| **word != "more")
            .find_map(|word| seconds_of(word))
    });
    let others = (places.filter(|place| *place != at)).map(|place| words[place]);
    let mut others = others.filter(|word| seconds_of(word).is_none());
    let adds = words.iter().any(|word| of(MORE, word)) || text.trim_start().starts_with('+');
    if !others.all(|word| of(CHANGES, word) || of(MORE, word)) {
        return None;
    }
    let each = match unit {
        Some(each) => each,
        None if !right_after || adds => return None,
        None if value > MOST_MINUTES => 1,
        None => 60,
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "small and positive"
    )]
    let seconds = (value * f64::from(each)).round().max(0.0) as u32;
    RESTS.contains(&seconds).then_some(match adds {
        true => Retimed::By(seconds),
        false => Retimed::To(seconds),
    })
}

/// Most words of a change of the bell.
const MOST_WORDS: usize = 9;
/// More than so many are seconds.
const MOST_MINUTES: f64 = 15.0;

/// How many seconds a unit of time has.
fn seconds_of(word: &str) -> Option<u32> {
    match word {
        "m" | "min" | "mins" | "minute" | "minutes" => Some(60),
        "s" | "sec" | "secs" | "second" | "seconds" => Some(1),
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
    fn the_bell_that_waits_is_changed() {
        use Retimed::{By, Off, To};
        let cases = [
            // A number by itself is about the bell only right after it was asked for.
            ("actually 2", None, Some(To(120))),
            ("make that 2", None, Some(To(120))),
            ("sorry 3", None, Some(To(180))),
            ("no, 90", None, Some(To(90))),
            ("make it 3 not 4", None, Some(To(180))),
            ("i meant 5", None, Some(To(300))),
            ("actually two", None, Some(To(120))),
            // A time is.
            ("make it 3 min", Some(To(180)), Some(To(180))),
            ("make the rest 3 min", Some(To(180)), Some(To(180))),
            ("90 sec", Some(To(90)), Some(To(90))),
            ("longer rest this time, 4 min", Some(To(240)), Some(To(240))),
            ("scratch that, 90s", Some(To(90)), Some(To(90))),
            ("add another minute", Some(By(60)), Some(By(60))),
            ("one more minute", Some(By(60)), Some(By(60))),
            ("+30s", Some(By(30)), Some(By(30))),
            ("no timer this time", Some(Off), Some(Off)),
            ("skip the bell for this one", Some(Off), Some(Off)),
            ("cancel the timer", Some(Off), Some(Off)),
            ("dont need the bell this time", Some(Off), Some(Off)),
            // Of sets, of others, of nothing.
            ("actually 9 reps", None, None),
            ("that was 9 not 8", None, None),
            ("make it 62.5 kg", None, None),
            ("90 kg", None, None),
            ("2 more", None, None),
            ("no bell on the bar", None, None),
            ("3 min and my knee hurts", None, None),
            ("back in 5 min", None, None),
        ];
        let wrong = cases.iter().filter(|(text, alone, after)| {
            retimed(text, false) != *alone || retimed(text, true) != *after
        });
        let wrong: Vec<&str> = wrong.map(|(text, ..)| *text).collect();
        assert_eq!(wrong, Vec::<&str>::new());
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
