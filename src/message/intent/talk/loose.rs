//! What is asked among other words: `oops wrong exercise, can you change it`, `i've never done this,
//! what do I do`.
//!
//! Where words stand that no question needs, only strong signs count, and only where nothing speaks
//! to or of other people.

use super::days::DayAsked;
use super::lexicon::Idea as I;
use super::{Heard, Talk};
use crate::domain::quantities::mass::Unit;

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

/// What is asked, by strong signs.
pub(super) fn asked(heard: &Heard) -> Option<Talk> {
    newcomer(heard)
        .or_else(|| about_the_bot(heard))
        .or_else(|| about_the_log(heard))
        .or_else(|| about_the_session(heard))
}

/// `whats 135lb in kg`.
pub(super) fn conversion(heard: &Heard) -> Option<Talk> {
    let unit = |word: &str| match word {
        "kg" | "kgs" | "kilos" | "kilo" | "kilograms" => Some(Unit::Kg),
        "lb" | "lbs" | "pounds" | "pound" => Some(Unit::Lb),
        _ => None,
    };
    let words = &heard.words;
    let to = words
        .windows(2)
        .find(|pair| matches!(pair[0].as_str(), "in" | "to" | "into" | "as"))
        .and_then(|pair| unit(&pair[1]))?;
    let from = match to {
        Unit::Kg => Unit::Lb,
        Unit::Lb => Unit::Kg,
    };
    let number = words.iter().find_map(|word| {
        let digits = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let value: f64 = digits.parse().ok()?;
        let behind = word.get(digits.len()..)?;
        (behind.is_empty() || unit(behind) == Some(from)).then_some(value)
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
    let (_, behind) = low.rsplit_once(" for ")?;
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
        "kg" | "kgs" | "kilos" => Some(Unit::Kg),
        "lb" | "lbs" | "pounds" => Some(Unit::Lb),
        _ => return None,
    };
    (value > 0.0).then_some(Talk::Plates(value, unit))
}

fn newcomer(heard: &Heard) -> Option<Talk> {
    let new = heard.word("beginner")
        || heard.word("never") && heard.any(&[I::I])
        || heard.word("new") && (heard.word("here") || heard.word("to"))
        || heard.phrase("first time")
        || heard.word("clueless");
    let asks = heard.asked_what_to_do() || heard.word("start") || heard.word("begin");
    (new && asks && heard.has(I::I)).then_some(Talk::Help)
}

fn about_the_bot(heard: &Heard) -> Option<Talk> {
    let questions = heard.questions();
    let greets = heard
        .words
        .first()
        .is_some_and(|word| matches!(word.as_str(), "hello" | "hi" | "hey" | "hallo" | "hiya"));
    let alive = [
        "on",
        "there",
        "working",
        "alive",
        "awake",
        "online",
        "listening",
        "work",
    ];
    if greets && heard.asks && heard.words.len() <= 7 && alive.iter().any(|w| heard.word(w)) {
        return Some(Talk::Greeting);
    }
    if heard.has(I::Works) && heard.has(I::How) && heard.any(&[I::That, I::Bot, I::Mean]) {
        return Some(Talk::Help);
    }
    let sees = heard.phrase("can see")
        || heard.phrase("sees my")
        || heard.phrase("see my")
        || heard.has(I::Data);
    let whose = ["who", "whos", "does", "do", "can"];
    if sees && whose.iter().any(|w| heard.word(w)) && heard.has(I::I) {
        return Some(Talk::Privacy);
    }
    if heard.word("who") && heard.word("coach") && heard.words.len() <= 6 {
        return Some(Talk::Coaches);
    }
    if heard.has(I::Bell) && (heard.phrase("missed the") || heard.word("late")) {
        return Some(Talk::Next(None));
    }
    if heard.has(I::Unit) && heard.any(&[I::How, I::Change, I::May]) && !heard.number {
        return Some(Talk::HowTo("units"));
    }
    let meant = heard.phrase("meant to") || heard.phrase("supposed to") || heard.has(I::How);
    let writes = ["write", "post", "type", "log", "enter", "record", "put in"];
    if meant && questions && heard.has(I::I) && writes.iter().any(|w| heard.phrase(w)) {
        return Some(Talk::HowToPost);
    }
    let wrong = [
        "wrong", "mistake", "typo", "oops", "whoops", "mistyped", "meant",
    ];
    let mends = [
        "change", "fix", "correct", "edit", "undo", "delete", "remove", "wrong",
    ];
    if wrong.iter().any(|w| heard.word(w)) && mends.iter().any(|w| heard.word(w)) {
        return Some(Talk::HowToCorrect);
    }
    meaning(heard)
}

fn meaning(heard: &Heard) -> Option<Talk> {
    let term = heard.term?;
    let is_other_too = term.is_asked_otherwise();
    let what = heard.has(I::What)
        && ["is", "whats", "does", "are", "which"]
            .iter()
            .any(|w| heard.word(w));
    let counts = heard.has(I::Count) && heard.asks_or_does();
    let explains = heard.has(I::Mean) && heard.questions();
    let which = heard.asks && (heard.word("which") || heard.word("wats") || heard.word("wot"));
    (!is_other_too && (what || counts || explains || which)
        || is_other_too && heard.has(I::Mean) && what && !heard.has(I::Did))
    .then_some(Talk::Meaning(term))
}

fn about_the_log(heard: &Heard) -> Option<Talk> {
    let today = Some(DayAsked::Ago(0));
    if heard.has(I::Count) && heard.exercise.is_some() && heard.asks_or_does() {
        return Some(match heard.muscles.is_empty() {
            true => Talk::Counted,
            false => Talk::Trains(heard.exercise?),
        });
    }
    if heard.has(I::Count) && heard.asks_or_does() && heard.any(&[I::That, I::Sets, I::WarmUp]) {
        return Some(Talk::Counted);
    }
    let took = [
        "get", "got", "took", "take", "have", "read", "see", "logged", "log", "down",
    ];
    let by_you = heard.word("you") && took.iter().any(|word| heard.word(word));
    let of_set = heard.any(&[I::Sets, I::Unit, I::Reps]) || heard.number && heard.has(I::That);
    let read_back = by_you && of_set && heard.asks_or_does();
    let running =
        heard.has(I::How) && heard.has(I::Many) && heard.has(I::That) && heard.words.len() <= 7;
    if read_back || running {
        return Some(Talk::History(None, today));
    }
    if heard.has(I::Best)
        && (heard.asks || heard.has(I::What) || heard.word("show"))
        && (heard.any(&[I::I, I::That]) || heard.exercise.is_some())
        && !heard.any(&[I::Plan, I::Form, I::Rest, I::Due])
        && [
            "pb", "pr", "pbs", "prs", "record", "max", "best", "heaviest",
        ]
        .iter()
        .any(|w| heard.word(w))
        && !heard.word("way")
        // `my best day in ages` is no question on lifts.
        && (heard.exercise.is_some()
            || heard.any(&[I::What, I::How])
            || heard.word("show")
            || !heard.word("best"))
    {
        return Some(match heard.exercise.is_none() && heard.has(I::That) {
            true => Talk::BestHere,
            false => Talk::Best(heard.exercise),
        });
    }
    let past = heard.has(I::Last) || heard.day.is_some() && heard.day != today;
    let did = heard.any(&[I::Did, I::Session, I::Log]) || heard.exercise.is_some();
    let what = heard.any(&[I::What, I::How, I::When]) || heard.word("show");
    if what
        && past
        && did
        && (heard.has(I::I) || heard.exercise.is_some())
        && !heard.any(&[I::Plan, I::May, I::Count])
        && (heard.has(I::Did) || heard.has(I::Session))
    {
        return Some(Talk::History(heard.exercise, heard.day));
    }
    if heard.has(I::Progress) && heard.any(&[I::I]) && (heard.questions() || heard.phrase("am i")) {
        return Some(Talk::Progress(heard.exercise));
    }
    let asks_much = heard.any(&[I::Sets, I::Many, I::Due]);
    if !heard.muscles.is_empty() && heard.exercise.is_none() && asks_much && heard.asks {
        return Some(Talk::Volume(heard.muscles.clone()));
    }
    None
}

fn about_the_session(heard: &Heard) -> Option<Talk> {
    if let Some(minutes) = heard.minutes.filter(|minutes| *minutes >= 10) {
        let cuts = [
            "cut",
            "skip",
            "fit",
            "drop",
            "leave",
            "prioritise",
            "prioritize",
            "squeeze",
        ];
        let short = cuts.iter().any(|w| heard.word(w))
            || heard.word("only") && (heard.word("got") || heard.word("have"));
        if short && heard.exercise.is_none() {
            return Some(Talk::Fit(minutes));
        }
    }
    let rests = heard.has(I::Rest)
        || heard.minutes.is_some()
        || heard.word("secs")
        || heard.word("seconds");
    let doubts = ["need", "enough", "really", "necessary", "ok", "okay"]
        .iter()
        .any(|w| heard.word(w));
    if rests && doubts && (heard.asks || heard.phrase("do i")) && heard.day.is_none() {
        return Some(Talk::Next(heard.exercise));
    }
    let another = heard.word("another") || heard.phrase("one more");
    if another && heard.has(I::Sets) && heard.phrase("i do")
        || heard.sentence_is(&["more", "more then", "again", "up"])
    {
        return Some(Talk::Next(None));
    }
    let swaps = [
        "swap",
        "move",
        "switch",
        "shift",
        "reschedule",
        "miss",
        "skip",
    ];
    if heard.day.is_some()
        && swaps.iter().any(|w| heard.word(w))
        && heard.any(&[I::May, I::How, I::What])
    {
        return Some(Talk::Swap);
    }
    let taken = [
        "taken",
        "busy",
        "occupied",
        "hotel",
        "kettlebells",
        "kettlebell",
        "broken",
        "closed",
    ];
    let elsewhere = taken.iter().any(|w| heard.word(w))
        && (heard.has(I::Gear)
            || heard.exercise.is_some()
            || heard.word("bar")
            || heard.word("racks"));
    let instead = heard.word("instead")
        || heard.phrase("something else")
        || heard.phrase("out of that")
        || heard.phrase("what else")
        || heard.word("alternative")
        || heard.word("substitute");
    if instead
        && (heard.asks || heard.has(I::What))
        && (elsewhere || heard.any(&[I::Gear, I::Session, I::Exercise]) || heard.exercise.is_some())
        || elsewhere && heard.asked_what_to_do()
    {
        return Some(Talk::Instead);
    }
    if heard.has(I::WarmUp)
        && (heard.asks || heard.phrase("do i"))
        && !heard.any(&[I::Count, I::Did])
    {
        return Some(Talk::WarmUp(heard.exercise));
    }
    let today = matches!(heard.day, Some(DayAsked::Ago(0)));
    if today && heard.has(I::What) && heard.any(&[I::Plan, I::Session]) && !heard.has(I::Did) {
        return Some(Talk::Due);
    }
    None
}

impl Heard {
    /// `what do I do`, `what would you have me do`, `where do I begin`.
    fn asked_what_to_do(&self) -> bool {
        self.has(I::What) && (self.word("do") || self.word("start") || self.word("begin"))
    }

    /// A question by its mark, or by the verb that begins it.
    fn asks_or_does(&self) -> bool {
        let verbs = [
            "do", "does", "did", "is", "are", "was", "were", "will", "have", "can",
        ];
        let begins = self
            .words
            .first()
            .is_some_and(|word| verbs.contains(&word.as_str()));
        self.asks || begins
    }

    /// Whether these words follow each other.
    fn phrase(&self, phrase: &str) -> bool {
        let wanted: Vec<&str> = phrase.split(' ').collect();
        self.words
            .windows(wanted.len())
            .any(|words| words.iter().zip(&wanted).all(|(own, wanted)| own == wanted))
    }

    /// Whether the last sentence is one of these, as a question.
    fn sentence_is(&self, sentences: &[&str]) -> bool {
        self.asks && sentences.contains(&self.last_sentence.as_str())
    }
}
