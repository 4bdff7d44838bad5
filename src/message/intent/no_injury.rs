//! A report of pain that is taken back, and short answers to whether something hurts.
//!
//! Only messages that say nothing else: `that was no injury, bench 80x8` is read as a set and leaves
//! the report alone.

use super::pain::places_in;
use crate::domain::quantities::warning::Caution;
use crate::message::words::variants::{List, has};

/// Whether a message takes back a report of pain and says nothing else: `that was no injury`, `i'm
/// not hurt, just kidding`, `false alarm, knee is fine`.
#[must_use]
pub fn takes_back(text: &str) -> bool {
    consists_of(text, &[&SAYINGS])
}

/// Whether a message says that its writer told of nothing that belongs to a doctor, and nothing else: `no drugs`, `i took
/// nothing, i meant my pulse`.
#[must_use]
pub fn denies(text: &str, caution: Caution) -> bool {
    let denials = match caution {
        Caution::Drugs => &NO_DRUGS,
        Caution::Fever | Caution::Illness => &NOT_ILL,
        Caution::Age => &NO_MINOR,
        Caution::Pregnancy => &NOT_PREGNANT,
        _ => return takes_back(text),
    };
    consists_of(text, &[&SAYINGS, &MEANT, denials])
}

/// Whether each clause is one of these or stands beside such, and one is.
fn consists_of(text: &str, lists: &[&List]) -> bool {
    let is = |said: &str| lists.iter().any(|list| list.has(said));
    let mut taken = false;
    let clauses = text.split([',', '.', ';', '!', '(', ')', '\n']);
    for clause in clauses {
        let said = words(clause).join(" ");
        let mut said = said.as_str();
        // `no injury` is a saying and not `injury` behind a no.
        while !is(said)
            && let Some((_, rest)) = said.split_once(' ').filter(|(lead, _)| LEADS.has(lead))
        {
            said = rest;
        }
        while !is(said)
            && let Some((rest, _)) = said.rsplit_once(' ').filter(|(_, tail)| LEADS.has(tail))
        {
            said = rest;
        }
        if is(said) {
            taken = true;
        } else if !(said.is_empty() || BESIDE.has(said) || said.ends_with(" is fine")) {
            return false;
        }
    }
    taken
}

/// What begins it.
static LEADS: List = List::of("sorry|no|nah|oh|haha|lol|ok|oops|actually|coach");

/// What is said beside it.
static BESIDE: List = List::of(
    "sorry, no, nah, oh, haha, hahaha, lol, ok, okay, oops, actually, my bad, coach, guys, all good ?now, good|fine now, \
     all fine, im good|fine ?now, its gone, i am fine, im ok|okay, its fine, fine, no worries, no pain, thanks, though, \
     ignore that|me",
);

/// What is said to take a report back, without apostrophes.
static SAYINGS: List = List::of(
    "?that|this|it was no injury, thats|its no injury, no injury, that|it was not an injury, that|it wasnt an injury, \
     ?its not an injury, ?im not injured|hurt, i am not injured|hurt, i didnt hurt myself, nothing hurts, \
     it|that was nothing, ?it turned out to be nothing, false alarm, that was a false alarm, that was no report, \
     that wasnt a report, i didnt mean pain, no injury after all, that was no real injury, nobody is hurt, \
     nobody needs help, i did not mean that, i didnt mean that, that was a joke, just|was|only a joke, ?i was ?just joking, \
     just joking, was only joking, was ?just kidding, i was kidding, just kidding",
);

/// What was meant instead.
static MEANT: List = List::of(
    "i ?only|just|was meant|mean|meaning ?my|the|about pulse|heart|heartbeat|hr|heartrate, \
     i ?only|just|was meant|mean|meaning ?my|the|about heart rate, \
     ?that|it was|is ?about ?my|the pulse|hr|heartrate, ?that|it was|is ?about ?my|the heart rate, \
     its ?about ?my|the pulse|hr|heartrate, i ?was talked|talking|spoke about my pulse|hr|heart|heartrate",
);

/// What is said by one who took nothing.
static NO_DRUGS: List = List::of(
    "no drugs|alcohol|booze|drink|meds|medicine|pills|substances ?involved|here|today, no drink|drugs or|and drugs|drink|alcohol|meds, \
     ?i|ive took|taken|had|drank ?absolutely nothing|none, ?i havent|didnt take|taken|had|have|drink|drunk|drank anything|any|drugs|alcohol ?today, \
     ?i have|did not taken|take|had|drunk anything|drugs, ?im|i ?am not on anything|drugs|meds|medication ?today, \
     ?im|i ?am not high|drunk|stoned, ?im|i ?am ?stone|completely|totally cold|completely sober, ?im|i ?am sober, \
     i dont do|take|use drugs|anything, im clean, what drugs, not drugs, wasnt drugs, its|thats not drugs",
);

/// What is said by one who is not ill.
static NOT_ILL: List = List::of(
    "?im|i ?am not ill|sick|unwell|poorly, ?i ?have|got no fever|temperature|cold|flu|illness|covid, \
     ?i dont have ?a|the|any fever|cold|flu|illness|temperature|covid, ?im|i ?am ?perfectly|totally healthy|well",
);
static NO_MINOR: List =
    List::of("?im|i ?am not a minor, ?im|i ?am over 18, im|i ?am an adult, ?im|i ?am not under 18");
static NOT_PREGNANT: List = List::of("?im|i ?am not pregnant");

/// What a member asks or says of being cleared after a report: `how do i get cleared?`, `doc cleared me`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cleared {
    /// Asks who does it, or how.
    Asked,
    /// Says that a doctor has.
    Claimed,
    /// Says that it is well again: `shoulder is fine again`.
    Well,
}

/// What a short message asks or says of being cleared; `None` where it is about something else.
#[must_use]
pub fn cleared(text: &str) -> Option<Cleared> {
    const LONGEST: usize = 14;
    let words = words(text);
    let is = |options: &str| words.iter().any(|word| has(options, word));
    if words.len() > LONGEST {
        return None;
    }
    if consists_of(text, &[&PASSED]) {
        return Some(Cleared::Well);
    }
    let clears = is("clear cleared unlock unlocked unblock unblocked");
    let medical = is("doc doctor doctors gp physio hospital physiotherapist");
    let denied = is("not hasnt havent wont didnt isnt never until");
    let asks = text.trim_end().ends_with('?')
        || words
            .first()
            .is_some_and(|word| ["how", "who", "when", "can"].contains(&word.as_str()));
    let own = is("i me my im ive");
    if clears && asks && own {
        return Some(Cleared::Asked);
    }
    let gives = is("loads load numbers") && is("again back");
    if gives && asks && own && is("how when who") {
        return Some(Cleared::Asked);
    }
    let fit = clears || is("fine ok okay allclear") || text.to_lowercase().contains("all clear");
    let fit = fit || medical && is("good") && is("go train lift");
    if medical && fit && (own || clears) && !denied && !asks {
        return Some(Cleared::Claimed);
    }
    let said = format!(" {} ", words.join(" "));
    let well = WELL
        .all()
        .iter()
        .any(|phrase| said.contains(&format!(" {phrase} ")));
    let plain = !asks && !denied && !text.contains(|c: char| c.is_ascii_digit());
    let doubts = is("but still if when almost nearly without let");
    let of_it = own || is("pain it its") || !places_in(text).is_empty();
    (well && plain && of_it && !doubts).then_some(Cleared::Well)
}

/// Whether a message asks leave to go on, with no exercise in particular: `can i just carry on now`.
#[must_use]
pub fn asks_to_go_on(text: &str) -> bool {
    const LEAVE: &str = "can could may should ok okay fine alright safe";
    const LEAD: &str = "so can could may should is it am i ok okay fine alright safe for me to just still then now today please pls \
        again if ive had rested a bit";
    let words = words(text);
    let kept: Vec<&str> = (words.iter().map(String::as_str))
        .filter(|word| !has(LEAD, word))
        .collect();
    words.iter().any(|word| has(LEAVE, word)) && GOES_ON.has(&kept.join(" "))
}

/// What one asks leave for, of no exercise in particular.
static GOES_ON: List = List::of(
    "carry on, keep going|training|lifting, go on, continue, train, lift, finish ?the|my ?session|workout|sets, \
     do another|one|the more|next|last set|one, start, resume, get back to it, go back to it, train on, go",
);

/// What is said of a sign that has passed, and what it is put down to.
static PASSED: List = List::of(
    "?it|its|thats ?has|is|just|all passed|gone ?again|already ?now, it|its|thats ?has|is|just|all stopped|over|better ?now, \
     it went|wore away|off ?again|quickly, went|wore away|off, \
     i|im|feel|feeling ?am|feel ?much|all|totally|completely fine|better|ok|okay|normal ?again|now ?now, \
     ?all fine|better|ok|okay|normal again|now, ?i ?just|only|probably stood|got|sat|moved up too|so fast|quick|quickly, \
     ?i ?just ?probably needed|had ?some|a water|drink|food|sugar|rest",
);

/// What is said of pain that is over.
static WELL: List = List::of(
    "is|are|feels|feel|feeling ?all fine|ok|okay|better|good|great|normal again|now, pain ?is gone, no pain ?any more|anymore|left, \
     pain free, healed, recovered, back to normal, doesnt|dont hurt any more|anymore",
);

/// Whether a short answer to the question whether something hurts says yes or no.
#[must_use]
pub fn yes_or_no(text: &str) -> Option<bool> {
    let words = words(text);
    let said = words.join(" ");
    static YES: List = List::of(
        "yes, yeah, yep, yup, y, yes stop, ?yes it does|hurts, yeah it does, sadly yes, ?yes a bit|little, yeah a bit, \
         i think so, stop",
    );
    static NO: List = List::of(
        "no, nah, nope, n, ?no go on, ?no its|im fine, ?no|nah|nope all good, nah im fine, no pain, ?no nothing ?hurts, \
         ?no it doesnt",
    );
    if YES.has(&said) {
        return Some(true);
    }
    NO.has(&said).then_some(false)
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
    fn what_was_no_drug_is_taken_back() {
        for text in [
            "i took nothing, i meant my pulse",
            "no drugs",
            "not on anything",
            "im sober lol",
            "no, i havent taken anything",
            "false alarm",
            "i meant my heart rate",
        ] {
            assert!(denies(text, Caution::Drugs), "{text}");
        }
        for text in [
            "no drugs but my chest hurts",
            "took 30 pills",
            "bench 60x8",
            "i meant 60",
        ] {
            assert!(!denies(text, Caution::Drugs), "{text}");
        }
        assert!(denies("no fever, not ill", Caution::Illness));
    }

    #[test]
    fn what_has_passed_is_heard_and_leave_is_asked() {
        for text in [
            "its gone now, just stood up too fast",
            "stood up too fast, gone now",
            "feeling fine now",
            "passed now",
            "im ok again",
            "it wore off",
        ] {
            assert_eq!(cleared(text), Some(Cleared::Well), "{text}");
        }
        for text in ["been cleared by the gp", "gp says im good to go"] {
            assert_eq!(cleared(text), Some(Cleared::Claimed), "{text}");
        }
        for text in [
            "can I carry on",
            "is it ok to keep going",
            "can i finish my sets?",
            "am i ok to train",
        ] {
            assert!(asks_to_go_on(text), "{text}");
        }
        for text in [
            "its gone now, chest hurts",
            "can i squat",
            "carry on",
            "stood up too fast and fell",
        ] {
            assert!(!asks_to_go_on(text) && cleared(text).is_none(), "{text}");
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
