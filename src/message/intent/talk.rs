//! Questions beside the reader's own: greetings, words of the trade, what was done and what was
//! best, what is due, how something is done here.
//!
//! Asked of what the reader holds to be chat, so it must leave chat alone. Rules (`lexicon`, `rules`)
//! read sentences of which every word is one that such questions are made of. Whether anything else
//! asks the bot, and what about, is learned (`asked`). `loose` reads loads to convert or to hang on a bar,
//! and whether others are spoken of.

mod asked;
mod bells;
mod days;
mod lexicon;
mod loose;
mod rules;
mod training;

use std::collections::BTreeSet;

use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MuscleId};
use crate::domain::quantities::mass::Unit;
use crate::message::reader::Reader;
use crate::message::words::names::NameIndex;

pub(crate) use asked::Asking;
pub use asked::Topic;
pub use bells::{Retimed, retimed};
pub(crate) use days::at as day_at;
pub use days::{DayAsked, day_asked, moves_session};
pub use lexicon::Term;
pub(crate) use lexicon::is_plain_word;
use lexicon::{Idea, ideas_of, term_of};
pub use training::{Labelled, Weights, train};

/// Longer sentences than this many words are no short questions, and longer messages are stories.
const MOST_WORDS: usize = 18;
const MOST_IN_ALL: usize = 70;

/// Most words of one name.
const LONGEST_NAME: usize = 5;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Talk {
    /// `hi`.
    Greeting,
    /// `help`, `?`, `how does this work`.
    Help,
    /// How something is done here; the command that does it.
    HowTo(&'static str),
    /// How sets are posted.
    HowToPost,
    /// How a wrong set is changed.
    HowToCorrect,
    /// What a word means.
    Meaning(Term),
    /// Why the last advice, or that for this exercise, is as it is.
    Why(Option<ExerciseId>),
    /// Whether the last set counted: of an exercise, or the one at this place.
    Counted(Option<ExerciseId>, Option<usize>),
    /// What was done: of an exercise, on a day, or last.
    History(Option<ExerciseId>, Option<DayAsked>),
    /// The bests: of an exercise, or of all.
    Best(Option<ExerciseId>),
    /// `can I squat?`, while a report of pain may hold it back.
    May(ExerciseId),
    /// The bests of the exercise at hand: `is that a pb?`.
    BestHere,
    /// Whether an exercise, or everything, gets better.
    Progress(Option<ExerciseId>),
    /// What there is to train today.
    Due,
    /// What fits into so many minutes.
    Fit(u32),
    /// What was planned.
    Plan,
    /// Sets of these muscles this week.
    Volume(Vec<MuscleId>),
    /// The way up to a working load.
    WarmUp(Option<ExerciseId>),
    /// How an exercise is done, or whether it is done well.
    Technique(Option<ExerciseId>),
    /// Load and rest of what comes next.
    Next(Option<ExerciseId>),
    /// Which muscles an exercise trains.
    Trains(ExerciseId),
    /// Bells on or off.
    Bells(bool),
    /// Whether a session can be done on another day.
    Swap,
    /// What to do where something cannot be had.
    Instead,
    /// The discs on each side for this load, in the member's unit where none is named.
    Plates(f64, Option<Unit>),
    /// A load in the other unit.
    Convert(f64, Unit),
    /// Who sees what is posted.
    Privacy,
    /// Who the coaches are.
    Coaches,
    /// How right the bot's predictions were.
    Accuracy,
    /// How long ago the last set was.
    Rested,
    /// How long the session has gone on.
    Here,
    /// The member is at a place that is known.
    At(String),
    /// A question on training that is not understood.
    NotUnderstood,
}

/// A word of a message, or what some of them name together.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Piece {
    Word(String),
    Exercise,
    Muscle,
    Day,
    Minutes,
}

/// A message as far as it bears on such questions.
#[derive(Debug, Default)]
struct Heard {
    /// What its words stand for.
    ideas: BTreeSet<Idea>,
    /// Words that are no filling.
    weighty: usize,
    exercise: Option<ExerciseId>,
    muscles: Vec<MuscleId>,
    day: Option<DayAsked>,
    minutes: Option<u32>,
    number: bool,
    term: Option<Term>,
    /// It ends in a question mark.
    asks: bool,
    words: Vec<String>,
    /// Words that no question needs.
    unknown: Vec<String>,
    /// Words in a row, with names, days and times each as one.
    pieces: Vec<Piece>,
}

/// What a message asks; `None` for chat, and for all that the reader's own questions are about.
#[must_use]
pub fn talk(text: &str, reader: &Reader) -> Option<Talk> {
    let trimmed = text.trim();
    if !trimmed.is_empty() && trimmed.chars().all(|c| c == '?' || c.is_whitespace()) {
        return Some(Talk::Help);
    }
    if quotes_somebody(trimmed) {
        return None;
    }
    if let Some(on) = bells::switched(trimmed) {
        return Some(Talk::Bells(on));
    }
    let heard = hear(trimmed, reader)?;
    let plain = loose::conversion(&heard).or_else(|| loose::plates(trimmed, &heard));
    if let Some(talk) = plain.or_else(|| loose::of_session(&heard)) {
        return Some(talk);
    }
    if heard.unknown.is_empty()
        && let Some(talk) = rules::accuracy(&heard)
    {
        return Some(talk);
    }
    let likely = likely(trimmed, &heard, reader.asking(), reader);
    if likely >= CLEARLY_CHAT
        && heard.unknown.is_empty()
        && heard.words.len() <= MOST_WORDS
        && let Some(talk) = rules::asked(&heard)
    {
        return Some(talk);
    }
    let enough = match loose::speaks_of_others(trimmed, &heard) {
        true => ASKS_BESIDE_OTHERS,
        false => ASKS,
    };
    if likely < enough {
        return None;
    }
    let sentences = trimmed.split_inclusive(['.', '!', '?', '\n']);
    let alone = sentences.filter_map(|sentence| {
        let heard = hear(sentence.trim(), reader)?;
        let plain = heard.unknown.is_empty() && heard.words.len() <= MOST_WORDS;
        plain.then(|| rules::asked(&heard)).flatten()
    });
    let mut alone = alone.filter(|talk| *talk != Talk::Greeting);
    let talk = alone.next();
    talk.or_else(|| Some(heard.about(reader.asking().topic(trimmed, &heard)?)))
}

/// The seconds after which a message asks for a bell.
#[must_use]
pub fn timer(text: &str) -> Option<u32> {
    bells::timer(text)
}

/// Whether somebody else's words are repeated. A question on a word or two in marks is one's own: `what
/// does "2 left" mean`.
fn quotes_somebody(text: &str) -> bool {
    const MARKS: [char; 3] = ['"', '“', '”'];
    let quoted = text.split(MARKS).skip(1).step_by(2);
    let long = quoted.map(words_of).any(|words| words.len() > MOST_QUOTED);
    let asks = words_of(text).iter().any(|word| {
        matches!(
            word.as_str(),
            "mean" | "means" | "meant" | "is" | "what" | "whats"
        )
    });
    text.starts_with('>') || text.contains(MARKS) && (long || !asks || text.starts_with(MARKS))
}

/// Most words in marks that are asked about.
const MOST_QUOTED: usize = 3;

/// How likely a message asks the bot, 0 to 1: as a whole, or a question in it that stands behind a
/// story. One sentence says less than all, so it has to say it more clearly.
fn likely(text: &str, heard: &Heard, asking: &Asking, reader: &Reader) -> f32 {
    if states_effort(text) {
        return 0.0;
    }
    let whole = asking.likely(text, heard);
    let sentences: Vec<&str> = sentences(text).collect();
    if sentences.len() < 2 || loose::speaks_of_others(text, heard) {
        return whole;
    }
    let questions = sentences.into_iter().filter(|one| one.ends_with('?'));
    let alone = questions.filter_map(|one| Some(asking.likely(one, &hear(one, reader)?)));
    alone.map(|alone| alone * ALONE).fold(whole, f32::max)
}

/// `rir 1`, `2 left`: an effort and nothing else, which is said and not asked.
fn states_effort(text: &str) -> bool {
    let words = words_of(text);
    let stated = crate::message::forms::plan::effort_at(&words);
    !text.contains('?') && stated.is_some_and(|(rir, taken)| rir.is_some() && taken == words.len())
}

/// What the likelihood of one sentence is worth beside that of the whole message.
const ALONE: f32 = 0.5;

fn sentences(text: &str) -> impl Iterator<Item = &str> {
    let pieces = text.split_inclusive(['.', '!', '?', '\n']);
    pieces.map(str::trim).filter(|one| !one.is_empty())
}

/// How a message is decided by these weights: how likely it asks the bot, and about what. For whoever
/// fits them.
#[must_use]
pub fn decided(text: &str, weights: &Weights, reader: &Reader) -> Option<(f32, Option<Topic>)> {
    let asking = Asking::new(&weights.asks, &weights.topic);
    let heard = hear(text.trim(), reader)?;
    let likely = likely(text.trim(), &heard, &asking, reader);
    Some((likely, asking.topic(text.trim(), &heard)))
}

impl Heard {
    /// Whether the set that is named counted.
    fn counted(&self) -> Talk {
        let place = |word: &String| {
            let places = [
                "first|1st",
                "second|2nd",
                "third|3rd",
                "fourth|4th",
                "fifth|5th",
            ];
            places
                .iter()
                .position(|names| names.split('|').any(|name| name == word))
        };
        Talk::Counted(self.exercise, self.words.iter().find_map(place))
    }

    /// The question on this topic, with what is named.
    fn about(&self, topic: Topic) -> Talk {
        match topic {
            Topic::Greeting => Talk::Greeting,
            Topic::Help => Talk::Help,
            Topic::Post => Talk::HowToPost,
            Topic::Correct => Talk::HowToCorrect,
            Topic::Meaning => self.term.map_or(Talk::NotUnderstood, Talk::Meaning),
            Topic::Why => Talk::Why(self.exercise),
            // `how many calories is that`
            Topic::Counted if self.has(Idea::Many) => Talk::NotUnderstood,
            Topic::Counted => self.counted(),
            Topic::History => Talk::History(self.exercise, self.day),
            // `is that a pb?`
            Topic::Best if self.exercise.is_none() && self.has(Idea::That) => Talk::BestHere,
            Topic::Best => Talk::Best(self.exercise),
            Topic::Progress => Talk::Progress(self.exercise),
            Topic::Due => Talk::Due,
            Topic::Fit => self.minutes.map_or(Talk::HowTo("fit"), Talk::Fit),
            Topic::Plan => Talk::Plan,
            Topic::Volume => Talk::Volume(self.muscles.clone()),
            Topic::WarmUp => Talk::WarmUp(self.exercise),
            Topic::Technique => match self.exercise.filter(|_| self.muscles.is_empty()) {
                Some(exercise) if self.has(Idea::Train) => Talk::Trains(exercise),
                _ => Talk::Technique(self.exercise),
            },
            Topic::Next | Topic::Rest => Talk::Next(self.exercise),
            Topic::Bells => Talk::HowTo("rest"),
            Topic::Units => Talk::HowTo("units"),
            Topic::Gear => Talk::HowTo("rack"),
            Topic::Instead => Talk::Instead,
            Topic::Swap => Talk::Swap,
            Topic::Privacy => Talk::Privacy,
            Topic::Coaches => Talk::Coaches,
            Topic::Data if self.has(Idea::Erase) || self.word("delete") => Talk::HowTo("forget"),
            Topic::Data => Talk::HowTo("export"),
            Topic::Profile => Talk::HowTo("bodyweight"),
            Topic::Digest => Talk::HowTo("week"),
            Topic::Other => Talk::NotUnderstood,
        }
    }
}

/// A message that is less likely a question to the bot than this is none, whatever its words are.
/// Chosen on messages that were not learned from.
const CLEARLY_CHAT: f32 = 0.02;

/// From here on a message is a question to the bot, whatever words stand in it. Chosen likewise: of
/// a hundred questions some five more would be answered at half of it, and twice as much chat.
const ASKS: f32 = 0.35;
/// The same where others are named or spoken of, who may be the ones that are asked.
const ASKS_BESIDE_OTHERS: f32 = 0.7;

/// The word of the trade that a text is by itself.
#[must_use]
pub fn talk_of_word(text: &str) -> Option<Term> {
    term_of(&words_of(text).join(" "))
}

/// The exercise and the day that a text names and that are all it says; `None` where there is more,
/// or nothing.
#[must_use]
pub fn asked_for(text: &str, reader: &Reader) -> Option<(Option<ExerciseId>, Option<DayAsked>)> {
    if let Some(exercise) = reader.names().named(text) {
        return Some((Some(exercise), None));
    }
    let words = words_of(text);
    let (mut exercise, mut day) = (None, None);
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        at += match (days::at(rest), exercise_at(rest, reader.names())) {
            (Some((found, length)), _) if day.is_none() => {
                day = Some(found);
                length
            }
            (None, Some((found, length))) if exercise.is_none() => {
                exercise = Some(found);
                length
            }
            _ => return None,
        };
    }
    (exercise.is_some() || day.is_some()).then_some((exercise, day))
}

/// The words of a text in lower case, without marks: `what's` is `whats`.
pub(crate) fn words_of(text: &str) -> Vec<String> {
    let folded: String = text
        .to_lowercase()
        .chars()
        .filter(|c| !matches!(c, '\'' | '’' | '`'))
        .collect();
    let is_of_word = |c: char| c.is_alphanumeric() || c == '-';
    folded
        .split(|c: char| !is_of_word(c))
        .map(|word| word.trim_matches('-'))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

fn hear(text: &str, reader: &Reader) -> Option<Heard> {
    let words = words_of(text);
    if words.is_empty() || words.len() > MOST_IN_ALL {
        return None;
    }
    let mut heard = Heard {
        asks: text.contains('?'),
        words: words.clone(),
        ..Heard::default()
    };
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        let taken = take(rest, reader, &mut heard);
        let (length, piece) = taken.unwrap_or_else(|| {
            heard.unknown.extend(rest.first().cloned());
            (1, None)
        });
        match piece {
            Some(piece) => heard.pieces.push(piece),
            None => {
                let words = rest.iter().take(length).cloned();
                heard.pieces.extend(words.map(Piece::Word));
            }
        }
        at += length;
    }
    Some(heard)
}

/// Takes the phrase that begins these words; how many words it has, with what it names. `None` where
/// it is unknown.
fn take(words: &[String], reader: &Reader, heard: &mut Heard) -> Option<(usize, Option<Piece>)> {
    if let Some((day, length)) = days::at(words) {
        heard.weighty += 1;
        heard.day.get_or_insert(day);
        return Some((length, Some(Piece::Day)));
    }
    if let Some((minutes, length)) = days::minutes_at(words) {
        heard.weighty += 1;
        heard.minutes.get_or_insert(minutes);
        return Some((length, Some(Piece::Minutes)));
    }
    let names = reader.names();
    if let Some(exercise) = done_at(words, names) {
        heard.weighty += 1;
        heard.ideas.insert(Idea::Did);
        heard.exercise.get_or_insert(exercise);
        return Some((1, None));
    }
    let named = exercise_at(words, names);
    let muscles = muscles_at(words, reader.catalogue());
    let phrase = ideas_of(words, named.is_some() || muscles.is_some());
    let longest = phrase.as_ref().map_or(0, |(_, _, length)| *length);
    if let Some((exercise, length)) = named.filter(|(_, length)| *length >= longest) {
        heard.weighty += 1;
        heard.exercise.get_or_insert(exercise);
        return Some((length, Some(Piece::Exercise)));
    }
    if let Some((found, length)) = muscles.filter(|(_, length)| *length >= longest) {
        heard.weighty += 1;
        if heard.muscles.is_empty() {
            heard.muscles = found;
        }
        return Some((length, Some(Piece::Muscle)));
    }
    if let Some((idea, term, length)) = phrase {
        heard.weighty += usize::from(idea != Idea::Filling);
        heard.ideas.insert(idea);
        if heard.term.is_none() {
            heard.term = term;
        }
        return Some((length, None));
    }
    let first = words.first()?;
    if first.chars().all(|c| c.is_ascii_digit()) {
        heard.number = true;
        heard.weighty += 1;
        return Some((1, None));
    }
    None
}

/// Verbs of exercises, as of what is over.
const DONE: [(&str, &str); 6] = [
    ("benched", "bench press"),
    ("squatted", "back squat"),
    ("deadlifted", "deadlift"),
    ("rowed", "barbell row"),
    ("curled", "barbell curl"),
    ("dipped", "dip"),
];

fn done_at(words: &[String], names: &NameIndex) -> Option<ExerciseId> {
    let first = words.first()?;
    let (_, name) = DONE.iter().find(|(verb, _)| verb == first)?;
    names.named(name)
}

/// The exercise whose name begins these words.
pub(crate) fn exercise_at(words: &[String], names: &NameIndex) -> Option<(ExerciseId, usize)> {
    (1..=words.len().min(LONGEST_NAME))
        .rev()
        .find_map(|length| {
            let name = words.get(..length)?.join(" ");
            // `a`, `do`, `at` begin no name, and `best`, `last` are none.
            if length == 1 && is_plain_word(&name) {
                return None;
            }
            let singular = name.strip_suffix('s').filter(|name| name.len() > 2);
            let found = names
                .named(&name)
                .or_else(|| singular.and_then(|name| names.named(name)))?;
            Some((found, length))
        })
}

/// Muscles that people name together.
const PARTS: [(&str, &[&str]); 7] = [
    ("legs", &["quads", "hamstrings", "glutes", "calves"]),
    ("leg", &["quads", "hamstrings", "glutes", "calves"]),
    ("lower body", &["quads", "hamstrings", "glutes", "calves"]),
    ("arms", &["biceps", "triceps", "forearms"]),
    ("arm", &["biceps", "triceps", "forearms"]),
    (
        "upper body",
        &["chest", "back", "side delts", "biceps", "triceps"],
    ),
    ("core", &["abs", "lower back"]),
];

/// The muscles that a word stands for: one for `quads`, three heads for `shoulders`, four for
/// `legs`; none where it stands for none.
#[must_use]
pub fn muscles_named(name: &str, catalogue: &Catalogue) -> Vec<MuscleId> {
    let of_part = PARTS.iter().find(|(part, _)| *part == name);
    let parts = of_part.into_iter().flat_map(|(_, muscles)| *muscles);
    let found: Vec<MuscleId> = parts
        .filter_map(|muscle| catalogue.muscle_named(muscle))
        .collect();
    match found.is_empty() {
        true => catalogue.muscles_named(name).collect(),
        false => found,
    }
}

fn muscles_at(words: &[String], catalogue: &Catalogue) -> Option<(Vec<MuscleId>, usize)> {
    [2, 1].into_iter().find_map(|length| {
        let name = words.get(..length)?.join(" ");
        let found = muscles_named(&name, catalogue);
        (!found.is_empty()).then_some((found, length))
    })
}

#[cfg(test)]
mod tests;
