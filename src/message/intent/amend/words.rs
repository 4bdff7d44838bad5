//! The words that corrections are made of.

use super::super::talk::{DayAsked, day_at};
use super::{Name, Position, name_at};
use crate::domain::quantities::mass::Unit;
use crate::message::reader::Reader;
use crate::message::reading::Part;
use crate::message::words::unit::unit_of;

/// One word, or a phrase, of a correction.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token {
    Filling,
    Not,
    /// An exercise, and whether its name is a plural.
    Name(Name, bool),
    Day(DayAsked),
    Position(Position),
    Number(f64, Option<Unit>),
    Part(Part),
    Delete,
    Change,
    Was,
    WasNot,
    To,
    Meant,
    Wrong,
    /// `warm-up`; whether several.
    WarmUp(bool),
    WorkSet,
    /// `that`, `those`; whether several.
    Points(bool),
    /// `set`, `sets`; whether several.
    Sets(bool),
}

/// Words that names are read without, and that stand for something here.
pub(super) const BEFORE_NAMES: [&str; 9] =
    ["to", "into", "is", "are", "was", "were", "not", "of", "the"];

/// The words of a text, with decimals whole: `was 82.5` is two.
pub(super) fn split(text: &str) -> Vec<String> {
    let folded: String = text
        .to_lowercase()
        .chars()
        .filter(|c| !matches!(c, '\'' | '’' | '`'))
        .collect();
    let mut words: Vec<String> = Vec::new();
    let mut word = String::new();
    let letters: Vec<char> = folded.chars().collect();
    for (at, &c) in letters.iter().enumerate() {
        let between_digits = at > 0
            && letters[at - 1].is_ascii_digit()
            && letters.get(at + 1).is_some_and(char::is_ascii_digit);
        let is_of_word = c.is_alphanumeric()
            || c == '-' && !word.is_empty()
            || matches!(c, '.' | ',') && between_digits;
        if is_of_word {
            // A comma between digits is a decimal's.
            word.push(if c == ',' { '.' } else { c });
        } else if !word.is_empty() {
            words.push(std::mem::take(&mut word));
        }
    }
    if !word.is_empty() {
        words.push(word);
    }
    words
}

/// Reads a text word by word; `None` where one is no word of a correction.
pub(super) fn tokens(text: &str, reader: &Reader) -> Option<Vec<Token>> {
    let words = split(text);
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        let (token, length) = token(rest, reader)?;
        out.push(token);
        at += length;
    }
    Some(out)
}

fn token(words: &[String], reader: &Reader) -> Option<(Token, usize)> {
    if let Some(found) = place(words).or_else(|| phrase(words)) {
        return Some(found);
    }
    // `to incline bench` is no name.
    let first = words.first()?;
    if BEFORE_NAMES.contains(&first.as_str()) {
        return plain(first).map(|token| (token, 1));
    }
    if let Some((day, length)) = day_at(words) {
        return Some((Token::Day(day), length));
    }
    if let Some((name, plural, length)) = name_at(words, reader.names()) {
        return Some((Token::Name(name, plural), length));
    }
    number(words).or_else(|| plain(words.first()?).map(|token| (token, 1)))
}

fn plain(word: &str) -> Option<Token> {
    Some(match word {
        "a" | "an" | "the" | "my" | "of" | "on" | "in" | "for" | "from" | "at" | "with" | "by"
        | "please" | "pls" | "plz" | "sorry" | "oops" | "whoops" | "actually" | "ok" | "okay"
        | "um" | "no" | "hang" | "wait" | "and" | "so" | "only" | "just" | "really" | "as"
        | "be" | "been" | "have" | "ive" | "i" | "is" | "are" | "did" | "done" | "can" | "you"
        | "log" | "exercise" | "lift" | "session" | "well" | "both" | "should" | "shouldve"
        | "too" | "reads" | "says" => match word {
            "is" | "are" | "should" | "shouldve" => Token::Was,
            _ => Token::Filling,
        },
        "not" | "instead" => Token::Not,
        "isnt" | "wasnt" | "werent" => Token::WasNot,
        "was" | "were" => Token::Was,
        "to" | "into" => Token::To,
        "make" | "change" | "fix" | "correct" | "edit" | "update" | "count" | "mark" | "set-to" => {
            Token::Change
        }
        "meant" => Token::Meant,
        "wrong" | "mistake" | "typo" => Token::Wrong,
        "delete" | "remove" | "scrap" | "scratch" | "erase" | "bin" => Token::Delete,
        "warm-up" | "warmup" => Token::WarmUp(false),
        "warm-ups" | "warmups" => Token::WarmUp(true),
        "reps" | "rep" | "repetitions" => Token::Part(Part::Reps),
        "weight" | "load" => Token::Part(Part::Load),
        "left" | "rir" | "reserve" => Token::Part(Part::Rir),
        "that" | "it" | "this" | "one" | "thats" => Token::Points(false),
        "those" | "these" | "them" | "all" | "they" | "ones" => Token::Points(true),
        "set" => Token::Sets(false),
        "sets" => Token::Sets(true),
        _ => return None,
    })
}

/// Phrases of several words.
fn phrase(words: &[String]) -> Option<(Token, usize)> {
    let word = |place: usize| words.get(place).map_or("", String::as_str);
    Some(match (word(0), word(1)) {
        ("take" | "took" | "leave", "out") => (Token::Delete, 2),
        ("get", "rid") if word(2) == "of" => (Token::Delete, 3),
        ("warm" | "warming", "up") => (Token::WarmUp(false), 2),
        ("warm", "ups") => (Token::WarmUp(true), 2),
        ("work" | "working" | "real" | "proper", "set") => (Token::WorkSet, 2),
        ("work" | "working" | "real" | "proper", "sets") => (Token::WorkSet, 2),
        ("in", "reserve") | ("in", "the") if word(1) == "reserve" || word(2) == "tank" => (
            Token::Part(Part::Rir),
            if word(1) == "reserve" { 2 } else { 3 },
        ),
        ("all", "of") => (Token::Points(true), 2),
        _ => return None,
    })
}

/// `first`, `the second set`, `set 2`, `the last two`, `2nd`.
fn place(words: &[String]) -> Option<(Token, usize)> {
    let word = |place: usize| words.get(place).map_or("", String::as_str);
    if word(0) == "set" {
        let (count, length) = small(word(1)).or_else(|| {
            (word(1) == "number")
                .then(|| small(word(2)).map(|(count, _)| (count, 2)))
                .flatten()
        })?;
        // `set 2` and no load: places are small.
        return (count <= MOST_SETS)
            .then_some((Token::Position(Position::Number(count)), length + 1));
    }
    let several = small(word(1)).filter(|(count, _)| (2..=MOST_SETS).contains(count));
    if let Some((count, _)) = several {
        match word(0) {
            "first" => return Some((Token::Position(Position::First(count)), 2)),
            "last" => return Some((Token::Position(Position::LastOf(count)), 2)),
            _ => {}
        }
    }
    // `last tuesday` is a day.
    if word(0) == "last" && day_at(words).is_none() {
        return Some((Token::Position(Position::Last), 1));
    }
    let ordinals = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth",
    ];
    let spelt = ordinals.iter().position(|ordinal| *ordinal == word(0));
    let short = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|end| word(0).strip_suffix(end))
        .and_then(|digits| digits.parse::<usize>().ok());
    let number = spelt
        .map(|at| at + 1)
        .or(short)
        .filter(|number| (1..=MOST_SETS).contains(number))?;
    // `3rd november` is a day.
    match day_at(words) {
        Some(_) => None,
        None => Some((Token::Position(Position::Number(number)), 1)),
    }
}

/// Places above this are no places of sets.
const MOST_SETS: usize = 20;

fn small(word: &str) -> Option<(usize, usize)> {
    let spelt = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    ];
    let spelt = spelt.iter().position(|known| *known == word);
    let count = spelt.map(|at| at + 1).or_else(|| word.parse().ok())?;
    (count > 0).then_some((count, 1))
}

/// A number with its unit: `95`, `82.5kg`, `180 lb`, `eight`, `x8`.
fn number(words: &[String]) -> Option<(Token, usize)> {
    let word = |place: usize| words.get(place).map_or("", String::as_str);
    let first = word(0);
    if first != "one"
        && let Some((count, _)) = small(first).filter(|_| first.chars().all(char::is_alphabetic))
    {
        let value = f64::from(u32::try_from(count).ok()?);
        return Some((Token::Number(value, None), 1));
    }
    let times = first.strip_prefix('x').filter(|rest| !rest.is_empty());
    let digits = times.unwrap_or(first);
    let end = digits
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(digits.len());
    let value: f64 = digits.get(..end)?.parse().ok()?;
    let behind = digits.get(end..)?;
    if !behind.is_empty() {
        return Some((Token::Number(value, Some(unit_of(behind)?)), 1));
    }
    match unit_of(word(1)) {
        Some(unit) => Some((Token::Number(value, Some(unit)), 2)),
        None => Some((Token::Number(value, None), 1)),
    }
}
