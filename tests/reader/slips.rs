//! Slips of the keyboard in every name of the catalogue: swapped, dropped and doubled letters and
//! neighbours on the keyboard, made one at a time in each word of four letters or more.
//!
//! What is measured is how many still come to the exercise, and how many come to another one: a
//! question or silence is a miss, another exercise is a false filing. Slips in numbers: [`numbers`].

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod numbers;

use std::sync::Arc;

use chalkbell::config;
use chalkbell::domain::quantities::catalogue::Catalogue;
use chalkbell::domain::quantities::mass::Unit;
use chalkbell::message::{Context, Reader};

/// Keys beside each other on the rows of a keyboard for English.
const KEYBOARD: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];

fn neighbour(letter: char) -> Option<char> {
    let row = KEYBOARD.iter().find(|row| row.contains(letter))?;
    let at = row.find(letter)?;
    row.chars().nth(at + 1).or_else(|| row.chars().nth(at - 1))
}

/// The spellings of `word` with one slip in it.
fn slips(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    let mut out = Vec::new();
    for at in 0..letters.len() {
        let mut swapped = letters.clone();
        if at + 1 < letters.len() {
            swapped.swap(at, at + 1);
        }
        let mut dropped = letters.clone();
        dropped.remove(at);
        let mut doubled = letters.clone();
        doubled.insert(at, letters[at]);
        let mut beside = letters.clone();
        if let Some(key) = neighbour(letters[at]) {
            beside[at] = key;
        }
        out.extend([swapped, dropped, doubled, beside]);
    }
    let mut out: Vec<String> = out.into_iter().map(String::from_iter).collect();
    out.retain(|slip| slip != word);
    out.sort();
    out.dedup();
    out
}

/// A name with a slip in one of its longer words.
fn slipped_names(name: &str) -> Vec<String> {
    let words: Vec<&str> = name.split(' ').collect();
    let mut out = Vec::new();
    for (place, word) in words.iter().enumerate() {
        let plain = word.len() >= 4 && word.chars().all(|c| c.is_ascii_lowercase());
        for slip in plain.then(|| slips(word)).into_iter().flatten() {
            let mut whole = words.clone();
            whole[place] = &slip;
            out.push(whole.join(" "));
        }
    }
    out
}

#[derive(Default)]
struct Tally {
    right: usize,
    other: Vec<String>,
    silent: Vec<String>,
}

fn measure(catalogue: &Arc<Catalogue>) -> Tally {
    let reader = Reader::new(Arc::clone(catalogue));
    let mut tally = Tally::default();
    for (id, exercise) in catalogue.exercises() {
        for name in slipped_names(&exercise.name) {
            let reading = reader.read(&format!("{name} 60kg x 8"), &Context::alone(Unit::Kg));
            let read = reading.sets.first().map(|set| set.exercise);
            match read {
                Some(read) if read == id => tally.right += 1,
                Some(read) => {
                    let read = &catalogue.exercise(read).name;
                    tally.other.push(format!("{name}: {read}"));
                }
                None => tally.silent.push(name),
            }
        }
    }
    tally
}

#[test]
fn slips_in_names_of_the_catalogue_are_mended_and_seldom_to_another() {
    let tally = measure(&config::built_in());
    let all = tally.right + tally.other.len() + tally.silent.len();
    let told = format!(
        "{} of {all} right; another exercise: {:#?}\nnone: {:#?}",
        tally.right, tally.other, tally.silent
    );
    println!("{told}");
    assert!(all > 5_000, "every name, many slips: {told}");
    assert!(tally.right * 100 >= all * 98, "{told}");
    assert!(tally.other.len() * 1_000 <= all, "{told}");
}

#[test]
fn ordinary_words_are_no_slips() {
    const WORDS: &str = "wings rings kings tips lips chips coins chains beaches branches lunches \
        churches matches searches launches brunch skills drinks cows grows crows drift heads leads \
        deals dresses stresses addiction convention domain woman lean \
        clan swine sting sewing reads teaching reaching cheese pizzas pancakes bottles plates eggs";
    let reader = Reader::new(config::built_in());
    for word in WORDS.split_whitespace() {
        for text in [
            format!("12 {word} x 2"),
            format!("got 12 {word} x 2 from the shop"),
            format!("80 {word} for 10"),
        ] {
            let reading = reader.read(&text, &Context::alone(Unit::Kg));
            assert!(reading.sets.is_empty(), "{text}: {reading:?}");
        }
    }
}

#[test]
fn slips_are_made_as_fingers_make_them() {
    let slips = slips("bench");
    for slip in ["benhc", "bnch", "bbench", "bemch"] {
        assert!(slips.iter().any(|s| s == slip), "{slip} of {slips:?}");
    }
    assert!(slips.iter().all(|slip| slip != "bench"));
    assert!(
        slipped_names("t-bar row").is_empty(),
        "short words are left as they are"
    );
}
