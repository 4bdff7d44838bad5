//! The next set in small words, as tables.

use super::*;
use crate::message::{Context, Reader};

fn last(text: &str) -> (Reader, SetReading) {
    let reader = Reader::new(crate::config::built_in());
    let read = reader.read(text, &Context::alone(Unit::Kg));
    let set = read.sets.last().cloned().expect("a set");
    (reader, set)
}

fn told(before: &str, text: &str) -> Option<(bool, String)> {
    let (_, last) = last(before);
    let next = next_set(text, &last)?;
    let sets = next.after(&last)?;
    let one = |set: &SetReading| {
        let amount = set.load.mass.amount(set.load.unit);
        match set.seconds {
            Some(seconds) => format!("{seconds}s"),
            None => format!("{amount}x{}", set.reps),
        }
    };
    let sets: Vec<String> = sets.iter().map(one).collect();
    Some((next.sure, sets.join(" ")))
}

#[test]
fn words_that_only_sets_are_told_with_make_it_sure() {
    for (before, text, wanted) in [
        ("bench 80x8", "80 again, 7", "80x7"),
        ("bench 80x8", "again for 6", "80x6"),
        ("bench 80x8", "squeezed out 7", "80x7"),
        ("bench 80x8", "final one 5", "80x5"),
        ("bench 80x8", "3rd: 6", "80x6"),
        ("bench 80x8", "hit 8 again", "80x8"),
        ("bench 80x8", "same but only 9", "80x9"),
        ("bench 80x8", "then 7, then 6", "80x7 80x6"),
        ("bench 80x8", "next two were 8 and 7", "80x8 80x7"),
        ("bench 80x8", "did 2 more of those", "80x8 80x8"),
        ("bench 80x8", "another one same", "80x8"),
        ("bench 65x10", "10 less, 10 reps", "55x10"),
        ("bench 65x10", "took 5 kilos off and got 9", "60x9"),
        ("bench 65x10", "threw on another 5 and got 6", "70x6"),
        ("bench 65x10", "dropped it to 60 and did 12", "60x12"),
        ("hammer curl 14x10", "16s were heavy, 7", "16x7"),
        ("hammer curl 14x10", "16 each, 8", "16x8"),
        ("plank 60s", "45s again", "45s"),
        ("plank 60s", "another 45 sec", "45s"),
    ] {
        assert_eq!(
            told(before, text),
            Some((true, wanted.to_owned())),
            "{text}"
        );
    }
}

#[test]
fn a_number_beside_harmless_words_is_left_open() {
    for (text, wanted) in [
        ("9", "80x9"),
        ("7!", "80x7"),
        ("only 6", "80x6"),
        ("and 6", "80x6"),
        ("6 on that", "80x6"),
        ("5-5-4", "80x5 80x5 80x4"),
        ("5 and 5", "80x5 80x5"),
        ("died at 6", "80x6"),
        ("pinned on the 8th", "80x7"),
        ("two more sets like that", "80x8 80x8"),
        ("did another", "80x8"),
        ("70% of that for 10", "55x10"),
    ] {
        assert_eq!(
            told("bench 80x8", text),
            Some((false, wanted.to_owned())),
            "{text}"
        );
    }
}

#[test]
fn a_load_that_is_announced_waits_for_its_repetitions() {
    for (text, load) in [
        ("gonna try 85", "85x8"),
        ("next one at 82.5", "82.5x8"),
        ("85 now", "85x8"),
        ("loaded 90", "90x8"),
        ("dropping 5", "75x8"),
        ("going down to 70", "70x8"),
        ("82.5", "82.5x8"),
        ("70kg", "70x8"),
    ] {
        let (_, last) = last("bench 80x8");
        let next = next_set(text, &last).unwrap_or_else(|| panic!("{text}"));
        assert_eq!(next.done, Done::ToCome, "{text}");
        assert_eq!(told("bench 80x8", text), Some((true, load.to_owned())));
    }
    // Of no load that would follow 80.
    for text in ["gonna try 5", "200 now", "next one at 8", "1.5"] {
        assert_eq!(told("bench 80x8", text), None, "{text}");
    }
}

#[test]
fn chat_with_a_number_in_it_tells_no_set() {
    for text in [
        "only 6 of us here today",
        "7 o'clock tomorrow?",
        "and 6 beers after",
        "last 6 weeks were tough",
        "see you at 9",
        "back in 5",
        "got 3 kids",
        "another 10 min",
        "2 more",
        "3 left",
        "gate 9",
        "the 7th of december",
        "only 2 to go",
        "hit 40 followers",
        "next week 5 days",
        "9?",
        "100",
        "last 2",
    ] {
        assert_eq!(told("bench 80x8", text), None, "{text}");
    }
}
