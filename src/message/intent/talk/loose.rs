//! What is asked among other words: loads to convert, discs for a load; and whether a message speaks to or
//! of other people.

use super::lexicon::{Idea as I, Term};
use super::{Heard, Talk};
use crate::domain::quantities::mass::Unit;
use crate::message::words::unit::unit_of;
use crate::message::words::variants::List;

/// Words that speak of or to other people. Common practice, no source.
const OTHERS: &str = "he she hes shes his her hers him they theyre their theirs us our ours mate m8 \
guys lads folks yall anyone anybody anyones whoever youse yous everybody";

/// Words with a capital that are no names.
const NO_NAMES: &str = "right good sorry evening morning afternoon honestly just hmm oh ah wait does \
did hang stop anyway having since because after when well oops ok okay also hopefully unfortunately \
weird strange maybe perhaps sure thanks cheers god gosh ugh argh damn only never where today tomorrow \
tonight someone people there two three four five six one every each both most no yes yeah nah nope \
hope feeling felt feels tried trying been currently couldnt wouldnt shouldnt cant wont isnt arent \
finished finally warmed coming need bit kinda another first second third last next christmas easter \
january february march april june july august september october november december english";

fn listed(list: &str, word: &str) -> bool {
    list.split_ascii_whitespace().any(|known| known == word)
}

/// Whether a message speaks to or of other people: by a pronoun, or by a name among its unknown words.
pub(super) fn speaks_of_others(text: &str, heard: &Heard) -> bool {
    if heard.words.iter().any(|word| listed(OTHERS, word)) {
        return true;
    }
    // A sentence in capitals throughout has no names to be seen.
    if !text.chars().any(char::is_lowercase) {
        return false;
    }
    text.split_whitespace().any(|word| {
        let capital = word.chars().next().is_some_and(char::is_uppercase);
        let pieces = super::words_of(word);
        let plain = pieces.first().filter(|_| capital);
        plain.is_some_and(|plain| heard.unknown.contains(plain) && !listed(NO_NAMES, plain))
    })
}

/// `whats 135lb in kg`.
pub(super) fn conversion(heard: &Heard) -> Option<Talk> {
    let words = &heard.words;
    let to = words
        .windows(2)
        .find(|pair| matches!(pair[0].as_str(), "in" | "to" | "into" | "as"))
        .and_then(|pair| unit_of(&pair[1]))?;
    let from = match to {
        Unit::Kg => Unit::Lb,
        Unit::Lb | Unit::Pin => Unit::Kg,
    };
    let number = words.iter().find_map(|word| {
        let digits = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let value: f64 = digits.parse().ok()?;
        let behind = word.get(digits.len()..)?;
        (behind.is_empty() || unit_of(behind) == Some(from)).then_some(value)
    })?;
    (words.len() <= 8 && number > 0.0).then_some(Talk::Convert(number, from))
}

/// `what plates for 77.5`, `which discs do I put on for 125 lb?`: the load, and its unit where named.
pub(super) fn plates(text: &str, heard: &Heard) -> Option<Talk> {
    let which = ["what", "whats", "which", "wich", "how", "wat"];
    let asks = heard.asks || which.iter().any(|word| heard.word(word));
    if !heard.has(I::Discs) || !asks || heard.words.len() > 10 {
        return None;
    }
    let low = text.to_lowercase();
    let mut before = [" for ", " is ", " makes ", " make "].into_iter();
    let (_, behind) = before.find_map(|word| low.rsplit_once(word))?;
    let behind = behind
        .trim()
        .trim_end_matches(['?', '.', '!'])
        .replace(',', ".");
    let digits = behind
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(behind.len());
    let value: f64 = behind.get(..digits)?.parse().ok()?;
    let unit = match behind.get(digits..)?.trim() {
        "" => None,
        word => Some(unit_of(word)?),
    };
    (value > 0.0).then_some(Talk::Plates(value, unit))
}

/// Questions on the session at hand, word for word.
const OF_SESSION: &[(&str, Talk)] = &[
    ("how long have i rested", Talk::Rested),
    ("how long have i been resting", Talk::Rested),
    ("how long did i rest", Talk::Rested),
    ("how long has it been since my last set", Talk::Rested),
    ("how long since my last set", Talk::Rested),
    ("how long since the last set", Talk::Rested),
    ("how long ago was my last set", Talk::Rested),
    ("when was my last set", Talk::Rested),
    ("how long have i been here", Talk::Here),
    ("how long have i been training", Talk::Here),
    ("how long have i been at it", Talk::Here),
    ("how long have i been going", Talk::Here),
    ("how long have i been lifting", Talk::Here),
    ("how long is my session", Talk::Here),
    ("how long has my session been", Talk::Here),
    ("when did i start", Talk::Here),
    ("when should i come back", Talk::Due),
    ("when should i train next", Talk::Due),
    ("when do i train next", Talk::Due),
    ("when is my next session", Talk::Due),
    ("whens my next session", Talk::Due),
];

/// What begins a question for another exercise.
static FOR_ANOTHER: List = List::of(
    "whats a good alternative to, what is a good alternative to, whats an alternative to, is there an alternative to, any alternative to, \
     a good alternative to, what can|could|should i do instead of, what instead of",
);

/// `how long have i rested`, `what's a good alternative to lat pulldown`.
pub(super) fn of_session(heard: &Heard) -> Option<Talk> {
    let said = heard.words.join(" ");
    // What the cards say of every set.
    let left = said.starts_with("what does") && said.ends_with("left mean");
    if left {
        return Some(Talk::Meaning(Term::Rir));
    }
    let found = OF_SESSION.iter().find(|(words, _)| *words == said);
    let begins = |begin: &String| {
        said.strip_prefix(begin)
            .is_some_and(|rest| rest.starts_with(' '))
    };
    let another = FOR_ANOTHER.all().iter().any(begins);
    match found {
        Some((_, talk)) => Some(talk.clone()),
        None => (another && heard.exercise.is_some()).then_some(Talk::Instead),
    }
}
