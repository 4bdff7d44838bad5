use std::sync::LazyLock;

use super::lexicon::terms;
use super::*;
use crate::config;

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(config::built_in()));

fn read(text: &str) -> Option<Talk> {
    talk(text, &READER)
}

fn kind(text: &str) -> &'static str {
    match read(text) {
        None => "-",
        Some(Talk::Greeting) => "greeting",
        Some(Talk::Help) => "help",
        Some(Talk::HowTo(word)) => word,
        Some(Talk::HowToPost) => "post",
        Some(Talk::HowToCorrect) => "correct",
        Some(Talk::Meaning(_)) => "meaning",
        Some(Talk::Why(_)) => "why",
        Some(Talk::Counted(..)) => "counted",
        Some(Talk::History(..)) => "history",
        Some(Talk::Best(_) | Talk::BestHere) => "best",
        Some(Talk::Progress(_)) => "progress",
        Some(Talk::May(_)) => "may",
        Some(Talk::Due) => "due",
        Some(Talk::Fit(_)) => "fit",
        Some(Talk::Plan) => "plan",
        Some(Talk::Volume(_)) => "volume",
        Some(Talk::WarmUp(_)) => "warm-up",
        Some(Talk::Technique(_)) => "technique",
        Some(Talk::Next(_)) => "next",
        Some(Talk::Trains(_)) => "trains",
        Some(Talk::Bells(_)) => "bells",
        Some(Talk::Plates(..)) => "plates",
        Some(Talk::Swap) => "swap",
        Some(Talk::Instead) => "instead",
        Some(Talk::Convert(..)) => "convert",
        Some(Talk::Privacy) => "privacy",
        Some(Talk::At(_)) => "place",
        Some(Talk::Coaches) => "coaches",
        Some(Talk::Accuracy) => "accuracy",
        Some(Talk::Rested) => "rested",
        Some(Talk::Here) => "here",
        Some(Talk::NotUnderstood) => "not understood",
    }
}

#[test]
fn questions_are_known_by_their_words() {
    let cases = [
        ("hi", "greeting"),
        ("Hello!", "greeting"),
        ("?", "help"),
        ("help", "help"),
        ("how does this work?", "help"),
        ("what can you do", "help"),
        ("what is rir", "meaning"),
        ("rir?", "meaning"),
        ("what does direct mean?", "meaning"),
        ("whats a straight set", "meaning"),
        ("why?", "why"),
        ("why that weight", "why"),
        ("how accurate are you?", "accuracy"),
        ("how accurate are your predictions", "accuracy"),
        ("are your predictions any good?", "accuracy"),
        ("how often are you wrong?", "accuracy"),
        ("how right are you", "accuracy"),
        ("how good are your guesses?", "accuracy"),
        ("did that count?", "counted"),
        ("what did I do last time on bench", "history"),
        ("what did i do yesterday", "history"),
        ("when did I last squat?", "history"),
        ("best squat?", "best"),
        ("bench pr?", "best"),
        ("what's my 1rm on deadlift", "best"),
        ("am I getting stronger?", "progress"),
        ("how do I fix a typo", "correct"),
        ("how do i log a set?", "post"),
        ("what should I train today", "due"),
        ("I only have 30 minutes", "fit"),
        ("how many sets for legs?", "volume"),
        ("can I use pounds", "units"),
        ("how do I change back to kilos", "units"),
        ("my coach talks of a deload, what is that", "meaning"),
        ("is that a pr?", "best"),
        ("bells off please, i am in a meeting", "bells"),
        ("100 kg in lb?", "convert"),
        ("bell off please", "bells"),
        ("how do i take that back", "correct"),
        ("progress?", "progress"),
        ("most i've ever benched?", "best"),
        (
            "Never trained before. Where do I begin, what do I do?",
            "help",
        ),
        ("oops typo, can i fix that", "correct"),
        ("can I do friday's session today or move it?", "swap"),
        (
            "all the benches are taken, what do i do instead?",
            "instead",
        ),
        ("who's able to see my sets", "privacy"),
        ("how do I turn off the bell", "rest"),
    ];
    let wrong = cases.iter().filter(|(text, wanted)| kind(text) != *wanted);
    let wrong: Vec<_> = wrong.map(|(text, _)| (text, kind(text))).collect();
    assert_eq!(wrong, []);
}

#[test]
fn chat_is_left_alone() {
    let chat = [
        "hi all",
        "morning everyone",
        "anyone driving to the lake on saturday?",
        "why not",
        "did you see the match yesterday?",
        "who took my belt",
        "best coffee in town?",
        "that was my best day in ages, lunch?",
        "what time is dinner",
        "how was your weekend",
        "training was fun today",
        "my back is so sore today",
        "I did legs yesterday",
        "new pr incoming",
        "45 minutes late, sorry",
        "can someone help me carry the boat",
        "Marta, is that a pr?",
        "did she count the warm-ups too?",
        "Jonas how much was that",
        "mate what was that last set",
        "is the rack taken by anyone?",
    ];
    let answered: Vec<_> = chat.into_iter().filter(|text| kind(text) != "-").collect();
    assert_eq!(answered, [""; 0]);
}

#[test]
fn every_word_of_the_trade_is_explained_on_asking() {
    let missed = terms().filter(|(term, word)| {
        read(&format!("what does {word} mean?")) != Some(Talk::Meaning(*term))
    });
    let missed: Vec<_> = missed.collect();
    assert_eq!(missed, []);
}

#[test]
fn days_are_read_as_people_say_them() {
    use chrono::NaiveDate;
    let today = NaiveDate::from_ymd_opt(2026, 11, 26).unwrap_or_default();
    let date = |month, day| NaiveDate::from_ymd_opt(2026, month, day);
    let day = |text: &str| day_asked(text).and_then(|asked| asked.day(today));
    assert_eq!(day("yesterday"), date(11, 25));
    assert_eq!(day("mon"), date(11, 23));
    assert_eq!(day("last thursday"), date(11, 19));
    assert_eq!(day("3 days ago"), date(11, 23));
    assert_eq!(day("2026-11-02"), date(11, 2));
    assert_eq!(day("23rd november"), date(11, 23));
    assert_eq!(day("dec 24"), NaiveDate::from_ymd_opt(2025, 12, 24));
    assert_eq!(day("someday"), None);
    let week = |text: &str| day_asked(text).and_then(|asked| asked.week(today));
    assert_eq!(week("last week"), date(11, 19));
    assert_eq!(week("two weeks ago"), date(11, 12));
}
