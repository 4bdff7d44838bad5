//! A report of pain that is taken back, and short answers to whether something hurts.
//!
//! Only messages that say nothing else: `that was no injury, bench 80x8` is read as a set and leaves
//! the report alone.

/// Whether a message takes back a report of pain and says nothing else: `that was no injury`, `i'm
/// not hurt, just kidding`, `false alarm, knee is fine`.
#[must_use]
pub fn takes_back(text: &str) -> bool {
    let mut taken = false;
    let clauses = text.split([',', '.', ';', '!', '(', ')', '\n']);
    for clause in clauses {
        let said = words(clause).join(" ");
        let mut said = said.as_str();
        // `no injury` is a saying and not `injury` behind a no.
        while !SAYINGS.contains(&said)
            && let Some(rest) = LEADS.iter().find_map(|lead| said.strip_prefix(lead))
        {
            said = rest;
        }
        if SAYINGS.contains(&said) {
            taken = true;
        } else if !(said.is_empty() || BESIDE.contains(&said) || said.ends_with(" is fine")) {
            return false;
        }
    }
    taken
}

/// What begins it.
const LEADS: &[&str] = &[
    "sorry ",
    "no ",
    "nah ",
    "oh ",
    "haha ",
    "lol ",
    "ok ",
    "oops ",
    "actually ",
    "coach ",
];

/// What is said beside it.
const BESIDE: &[&str] = &[
    "sorry",
    "no",
    "nah",
    "oh",
    "haha",
    "hahaha",
    "lol",
    "ok",
    "okay",
    "oops",
    "actually",
    "my bad",
    "coach",
    "guys",
    "all good",
    "all good now",
    "good now",
    "fine now",
    "all fine",
    "im good",
    "im good now",
    "im fine now",
    "its gone",
    "im fine",
    "i am fine",
    "im ok",
    "im okay",
    "its fine",
    "fine",
    "no worries",
    "no pain",
    "thanks",
    "though",
    "ignore that",
    "ignore me",
];

/// What is said to take a report back, without apostrophes.
const SAYINGS: &[&str] = &[
    "that was no injury",
    "this was no injury",
    "it was no injury",
    "was no injury",
    "thats no injury",
    "no injury",
    "that was not an injury",
    "that wasnt an injury",
    "it wasnt an injury",
    "it was not an injury",
    "its not an injury",
    "its no injury",
    "not an injury",
    "not injured",
    "im not injured",
    "i am not injured",
    "im not hurt",
    "i am not hurt",
    "not hurt",
    "i didnt hurt myself",
    "nothing hurts",
    "it was nothing",
    "that was nothing",
    "turned out to be nothing",
    "it turned out to be nothing",
    "false alarm",
    "that was a false alarm",
    "that was no report",
    "that wasnt a report",
    "i didnt mean pain",
    "no injury after all",
    "that was no real injury",
    "nobody is hurt",
    "nobody needs help",
    "i did not mean that",
    "i didnt mean that",
    "that was a joke",
    "just a joke",
    "was a joke",
    "only a joke",
    "just joking",
    "was joking",
    "was just joking",
    "was only joking",
    "i was just joking",
    "was kidding",
    "was just kidding",
    "i was kidding",
    "just kidding",
    "i was joking",
];

/// What a member asks or says of being cleared after a report: `how do i get cleared?`, `doc cleared me`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cleared {
    /// Asks who does it, or how.
    Asked,
    /// Says that a doctor has.
    Claimed,
}

/// What a short message asks or says of being cleared; `None` where it is about something else.
#[must_use]
pub fn cleared(text: &str) -> Option<Cleared> {
    const LONGEST: usize = 14;
    let words = words(text);
    let is = |options: &[&str]| words.iter().any(|word| options.contains(&word.as_str()));
    if words.len() > LONGEST {
        return None;
    }
    let clears = is(&[
        "clear",
        "cleared",
        "unlock",
        "unlocked",
        "unblock",
        "unblocked",
    ]);
    let medical = is(&[
        "doc",
        "doctor",
        "doctors",
        "gp",
        "physio",
        "hospital",
        "physiotherapist",
    ]);
    let denied = is(&[
        "not", "hasnt", "havent", "wont", "didnt", "isnt", "never", "until",
    ]);
    let asks = text.trim_end().ends_with('?')
        || words
            .first()
            .is_some_and(|word| ["how", "who", "when", "can"].contains(&word.as_str()));
    let own = is(&["i", "me", "my", "im", "ive"]);
    if clears && asks && own {
        return Some(Cleared::Asked);
    }
    let gives = is(&["loads", "load", "numbers"]) && is(&["again", "back"]);
    if gives && asks && own && is(&["how", "when", "who"]) {
        return Some(Cleared::Asked);
    }
    let fit = clears
        || is(&["fine", "ok", "okay", "allclear"])
        || text.to_lowercase().contains("all clear");
    (medical && fit && own && !denied && !asks).then_some(Cleared::Claimed)
}

/// Whether a short answer to the question whether something hurts says yes or no.
#[must_use]
pub fn yes_or_no(text: &str) -> Option<bool> {
    let words = words(text);
    let said = words.join(" ");
    const YES: &[&str] = &[
        "yes",
        "yeah",
        "yep",
        "yup",
        "y",
        "yes stop",
        "it does",
        "yes it does",
        "yes it hurts",
        "it hurts",
        "yeah it does",
        "sadly yes",
        "a bit",
        "yes a bit",
        "yeah a bit",
        "a little",
        "yes a little",
        "i think so",
        "stop",
    ];
    const NO: &[&str] = &[
        "no",
        "nah",
        "nope",
        "n",
        "no go on",
        "go on",
        "no its fine",
        "its fine",
        "im fine",
        "no im fine",
        "all good",
        "no all good",
        "nah all good",
        "nah im fine",
        "no pain",
        "nothing",
        "no nothing",
        "nothing hurts",
        "no nothing hurts",
        "it doesnt",
        "no it doesnt",
        "nope all good",
    ];
    if YES.contains(&said.as_str()) {
        return Some(true);
    }
    NO.contains(&said.as_str()).then_some(false)
}

/// A word of assent or dissent at the head of an answer, with what follows it: `yes`, `yep`, `no, 90`.
#[must_use]
pub fn leading(text: &str) -> Option<(bool, &str)> {
    const YES: &[&str] = &["yes", "yeah", "yep", "yup", "y", "correct", "right"];
    const NO: &[&str] = &["no", "nah", "nope", "n"];
    let text = text.trim();
    let end = text
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    let word = word.to_lowercase();
    let said = match word.as_str() {
        word if YES.contains(&word) => true,
        word if NO.contains(&word) => false,
        _ => return None,
    };
    let rest = rest.trim_matches(|c: char| c.is_whitespace() || ",.!:;".contains(c));
    Some((said, rest))
}

/// The words in lower case, without apostrophes and punctuation.
fn words(text: &str) -> Vec<String> {
    let text = text.to_lowercase().replace(['\'', '’'], "");
    let words = text.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_led_by_yes_or_no() {
        assert_eq!(leading("Yep!"), Some((true, "")));
        assert_eq!(leading("no, 90"), Some((false, "90")));
        assert_eq!(leading("No 82.5 kg."), Some((false, "82.5 kg")));
        for text in ["north", "yesterday 80x8", "80", "?"] {
            assert_eq!(leading(text), None, "{text}");
        }
    }

    #[test]
    fn only_a_message_that_says_nothing_else_takes_a_report_back() {
        for text in [
            "That was no injury",
            "that was no injury.",
            "No, that was no injury!",
            "it wasn’t an injury",
            "false alarm",
            "sorry, just joking",
            "that was no injury, just kidding",
            "false alarm. shoulder is fine",
            "it was nothing",
            "my bad, no injury",
            "not hurt, was joking",
            "all good now, false alarm",
        ] {
            assert!(takes_back(text), "{text}");
        }
        for text in [
            "was that an injury?",
            "that was no injury, my knee just hurts",
            "injury free",
            "bench 80x8",
            "",
        ] {
            assert!(!takes_back(text), "{text}");
        }
    }

    #[test]
    fn being_cleared_is_asked_about_or_claimed() {
        for text in [
            "how do i get cleared?",
            "who can clear me",
            "when do i get loads again?",
        ] {
            assert_eq!(cleared(text), Some(Cleared::Asked), "{text}");
        }
        for text in [
            "doc cleared me",
            "my physio says i'm fine",
            "doctor gave me the all clear",
        ] {
            assert_eq!(cleared(text), Some(Cleared::Claimed), "{text}");
        }
        for text in [
            "doc has not cleared me",
            "clear the rack",
            "is the rack clear?",
            "all good",
        ] {
            assert_eq!(cleared(text), None, "{text}");
        }
    }

    #[test]
    fn short_answers_are_read() {
        assert_eq!(yes_or_no("Yes, stop"), Some(true));
        assert_eq!(yes_or_no("yeah a bit"), Some(true));
        assert_eq!(yes_or_no("No, go on"), Some(false));
        assert_eq!(yes_or_no("nah, I'm fine"), Some(false));
        assert_eq!(yes_or_no("no chest gave out"), None);
    }
}
