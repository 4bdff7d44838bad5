//! Names of exercises of a lifter's own, as they are given (`call this one swing thing`) and as
//! somebody says what they stand for (`swing thing is a kettlebell swing`).

use super::talk::{is_plain_word, words_of};
use super::{feel, no_injury};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;
use crate::message::Context;
use crate::message::forms::command;
use crate::message::reader::Reader;
use crate::message::reading::Kind;

/// Longest name of one's own, characters.
pub const LONGEST: usize = 40;
/// Most words of one.
const MOST_WORDS: usize = 4;

/// A name that a lifter gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// The name, in lower case.
    pub name: String,
    /// It is said that an exercise gets it: `call this exercise …`. What only says `it` or `that` may
    /// be about anything, unless an exercise was just asked about.
    pub of_exercise: bool,
}

/// How a name is given, and whether that is said of an exercise.
const GIVES: [(&str, bool); 14] = [
    ("call this exercise ", true),
    ("call that exercise ", true),
    ("call this lift ", true),
    ("call that lift ", true),
    ("call this machine ", true),
    ("call that machine ", true),
    ("call this movement ", true),
    ("call this one ", true),
    ("call that one ", false),
    ("call this ", false),
    ("call that ", false),
    ("call it ", false),
    ("keep it as ", false),
    ("log it as ", false),
];

/// What may stand before.
const BEGINS: [&str; 11] = [
    "please ", "let's ", "lets ", "i ", "i'll ", "ill ", "we ", "can you ", "ok ", "ok, ", "just ",
];

/// Words that begin what people call things without naming an exercise: `call it off`, `call that
/// good`, `call this one done`.
const NO_NAMES: [&str; 20] = [
    "a", "an", "the", "off", "on", "in", "out", "back", "again", "what", "even", "quits", "done",
    "good", "one", "up", "me", "if", "when", "my",
];

/// The name that a text gives: `call this one swing thing`, `I call it zercher thing`.
#[must_use]
pub fn given(text: &str) -> Option<Given> {
    let text = text.trim();
    if text.contains(['?', '\n', '"', '“']) {
        return None;
    }
    let low = text.to_lowercase();
    let mut rest = low.as_str();
    while let Some(behind) = BEGINS.iter().find_map(|begin| rest.strip_prefix(begin)) {
        rest = behind;
    }
    let (name, of_exercise) = GIVES
        .iter()
        .find_map(|(how, of)| Some((rest.strip_prefix(how)?, *of)))?;
    let name = name
        .trim()
        .trim_end_matches(['.', '!'])
        .trim_matches(['\'', '‘', '’']);
    is_name(name).then(|| Given {
        name: name.to_owned(),
        of_exercise,
    })
}

/// Whether a text can be a name at all.
fn is_name(name: &str) -> bool {
    let is_of_name = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '-' | '\'' | '’');
    let first = name.split(' ').next().unwrap_or_default();
    !name.is_empty()
        && name.chars().count() <= LONGEST
        && name.split_whitespace().count() <= MOST_WORDS
        && name.chars().all(is_of_name)
        && name.chars().any(char::is_alphabetic)
        && !NO_NAMES.contains(&first)
}

/// Whether a name is free, and says nothing else to the reader: sets are read by it from then on.
#[must_use]
pub fn is_free(name: &str, reader: &Reader) -> bool {
    let read = reader.read(name, &Context::alone(Unit::Kg));
    let pain = read.hurt.is_some() || read.may_hurt.is_some() || read.caution.is_some();
    let says_no_more = match &read.unclear {
        Some(unclear) => unclear.unknown_name.is_some(),
        None => read.kind() == Kind::Chatter,
    };
    let words = words_of(name);
    let plain = words.iter().all(|word| is_plain_word(word));
    is_name(name)
        && reader.names().named(name).is_none()
        && reader.catalogue().muscle_named(name).is_none()
        && command::read(&format!("/{name}"))
            .is_none_or(|command| matches!(command, command::Command::Unknown(..)))
        && says_no_more
        && read.ended_by.is_none()
        && feel::feel(name).is_none()
        && no_injury::leading(name).is_none()
        && !pain
        && !plain
}

/// What somebody says that a name stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mapping {
    /// The name, as its owner says it, in lower case.
    pub name: String,
    /// Whose it is, as named, in lower case: `ana's swing thing`.
    pub of: Option<String>,
    /// What it stands for.
    pub exercise: ExerciseId,
}

/// What stands between a name and what it stands for.
const STANDS_FOR: [&str; 10] = [
    " is just a ",
    " is actually a ",
    " is a ",
    " is an ",
    " is the ",
    " is ",
    " means ",
    " = ",
    " are ",
    " to ",
];

/// What a text says that one of `names`, in lower case, stands for: `swing thing is a kettlebell
/// swing`, `map ana's swing thing to kettlebell swing`.
#[must_use]
pub fn mapping<'n>(
    text: &str,
    names: impl Iterator<Item = &'n str>,
    reader: &Reader,
) -> Option<Mapping> {
    let low = text.trim().trim_end_matches(['.', '!']).to_lowercase();
    let low = low.replace('’', "'");
    let rest = low.strip_prefix("map ").unwrap_or(&low);
    let rest = rest.strip_prefix("my ").unwrap_or(rest);
    for name in names {
        let (of, behind) = match rest.strip_prefix(name) {
            Some(behind) => (None, behind),
            None => match rest.split_once("'s ") {
                Some((of, rest)) => match rest.strip_prefix(name) {
                    Some(behind) => (Some(of.trim()), behind),
                    None => continue,
                },
                None => continue,
            },
        };
        let exercise = STANDS_FOR.iter().find_map(|between| {
            let what = behind.strip_prefix(between)?;
            reader.names().named(what.trim())
        });
        if let Some(exercise) = exercise {
            return Some(Mapping {
                name: name.to_owned(),
                of: of.map(str::to_owned),
                exercise,
            });
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn reader() -> Reader {
        Reader::new(config::built_in())
    }

    #[test]
    fn names_are_given_in_many_words() {
        for (text, name, of_exercise) in [
            ("call this one swing thing", "swing thing", true),
            ("I call this exercise zercher thing.", "zercher thing", true),
            ("let's call this machine 'old red'", "old red", true),
            ("call it swing thing", "swing thing", false),
            ("ok, just call that one boat pull", "boat pull", false),
        ] {
            let wanted = Given {
                name: name.to_owned(),
                of_exercise,
            };
            assert_eq!(given(text), Some(wanted), "{text}");
        }
    }

    #[test]
    fn what_names_no_exercise_gives_no_name() {
        for text in [
            "call it a day",
            "call this one a win",
            "call it off",
            "call me later",
            "call this one done",
            "what do you call this one?",
            "call this one the longest name that anybody has ever given",
        ] {
            assert_eq!(given(text), None, "{text}");
        }
    }

    #[test]
    fn names_that_say_something_else_are_not_free() {
        let reader = reader();
        for name in [
            "swing thing",
            "zercher thing",
            "old red",
            "boat pull",
            "the bertha",
        ] {
            assert_eq!(is_free(name, &reader), name != "the bertha", "{name}");
        }
        for name in [
            "bench press",
            "squats",
            "quads",
            "ready",
            "undo",
            "help",
            "week",
            "next",
            "easy",
            "last time",
            "80x10",
            "sharp pain in my knee",
        ] {
            assert!(!is_free(name, &reader), "{name}");
        }
    }

    #[test]
    fn what_a_name_stands_for_is_said_in_words() {
        let reader = reader();
        let read = |text: &str| mapping(text, ["swing thing"].into_iter(), &reader);
        let of = |text: &str| read(text).map(|mapping| mapping.of);
        assert_eq!(of("swing thing is a kettlebell swing"), Some(None));
        assert_eq!(of("my swing thing is just a kettlebell swing."), Some(None));
        assert_eq!(of("map swing thing to kettlebell swing"), Some(None));
        let ana = Some(Some("ana".to_owned()));
        assert_eq!(of("Ana's swing thing is kettlebell swing"), ana);
        for chat in [
            "swing thing is fun",
            "swing thing is broken",
            "the swing thing is a kettlebell swing, right?",
            "swings are fun",
        ] {
            assert_eq!(read(chat), None, "{chat}");
        }
    }
}
