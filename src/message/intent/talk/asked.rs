//! Whether a message asks the bot, and about what: learned from labelled messages
//! (`tests/data/asking/`), since people have more ways to ask than rules can hold.
//!
//! A message is weighed by its words in a row, with exercises, muscles, days and numbers each as
//! one, and by the runs of letters in them. Two small linear models ([`Model`]): the first says how
//! likely it is a question to the bot, the second what about.

use std::fmt;
use std::str::FromStr;

use super::loose::speaks_of_others;
use super::{Heard, Piece};
use crate::message::intent::features::{hash_of, runs_of};
use crate::message::intent::model::Model;

/// What is asked about, as the labels have it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// `are you there?`
    Greeting,
    /// What this is and how to begin.
    Help,
    /// How sets are posted.
    Post,
    /// How a wrong set is changed.
    Correct,
    /// What a word means.
    Meaning,
    /// Why advice is as it is.
    Why,
    /// Whether sets counted, or arrived.
    Counted,
    /// What was done.
    History,
    /// The bests.
    Best,
    /// Whether it gets better.
    Progress,
    /// What there is to do.
    Due,
    /// What fits into little time.
    Fit,
    /// The plan.
    Plan,
    /// Sets of the week.
    Volume,
    /// Warming up, and the discs for a load.
    WarmUp,
    /// How an exercise is done.
    Technique,
    /// The next load.
    Next,
    /// How long to rest.
    Rest,
    /// The bell.
    Bells,
    /// Kilograms and pounds.
    Units,
    /// What can be loaded.
    Gear,
    /// What to do in an exercise's place.
    Instead,
    /// Sessions on other days.
    Swap,
    /// Who sees what is posted.
    Privacy,
    /// The coaches.
    Coaches,
    /// What is stored, to have or to erase.
    Data,
    /// What the bot should know of the member.
    Profile,
    /// The weekly summary.
    Digest,
    /// Training at large.
    Other,
}

impl Topic {
    /// Every topic.
    pub const ALL: [Self; 29] = [
        Self::Greeting,
        Self::Help,
        Self::Post,
        Self::Correct,
        Self::Meaning,
        Self::Why,
        Self::Counted,
        Self::History,
        Self::Best,
        Self::Progress,
        Self::Due,
        Self::Fit,
        Self::Plan,
        Self::Volume,
        Self::WarmUp,
        Self::Technique,
        Self::Next,
        Self::Rest,
        Self::Bells,
        Self::Units,
        Self::Gear,
        Self::Instead,
        Self::Swap,
        Self::Privacy,
        Self::Coaches,
        Self::Data,
        Self::Profile,
        Self::Digest,
        Self::Other,
    ];

    /// The label.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Greeting => "greeting",
            Self::Help => "help",
            Self::Post => "post",
            Self::Correct => "correct",
            Self::Meaning => "meaning",
            Self::Why => "why",
            Self::Counted => "counted",
            Self::History => "history",
            Self::Best => "best",
            Self::Progress => "progress",
            Self::Due => "due",
            Self::Fit => "fit",
            Self::Plan => "plan",
            Self::Volume => "volume",
            Self::WarmUp => "warmup",
            Self::Technique => "technique",
            Self::Next => "next",
            Self::Rest => "rest",
            Self::Bells => "bells",
            Self::Units => "units",
            Self::Gear => "gear",
            Self::Instead => "instead",
            Self::Swap => "swap",
            Self::Privacy => "privacy",
            Self::Coaches => "coaches",
            Self::Data => "data",
            Self::Profile => "profile",
            Self::Digest => "digest",
            Self::Other => "other",
        }
    }

    /// The topic with this label.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|topic| topic.word() == word)
    }
}

/// The classes of the first model.
pub(super) const CLASSES: [&str; 2] = ["chat", "question"];

/// The learned decision.
#[derive(Clone, Debug, Default)]
pub struct Asking {
    asks: Model,
    topic: Model,
}

impl Asking {
    /// The decision with these weights; a fault of theirs is found by a test, so one that cannot be
    /// read weighs nothing.
    #[must_use]
    pub fn new(asks: &str, topic: &str) -> Self {
        let model = |text: &str| Model::from_str(text).unwrap_or_default();
        Self {
            asks: model(asks),
            topic: model(topic),
        }
    }

    /// How likely a message asks the bot, 0 to 1.
    pub(super) fn likely(&self, text: &str, heard: &Heard) -> f32 {
        let mut scores = self.asks.score(features(text, heard));
        self.asks.probabilities(&mut scores);
        scores.get(1).copied().unwrap_or(0.0)
    }

    /// What a question is most likely about.
    pub(super) fn topic(&self, text: &str, heard: &Heard) -> Option<Topic> {
        let scores = self.topic.score(features(text, heard));
        let best = scores
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map(|(place, _)| place)?;
        Topic::from_word(self.topic.classes().get(best)?)
    }
}

/// One feature, as readers of the weights see it.
#[derive(Debug)]
pub(super) struct Feature(String);

impl fmt::Display for Feature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Feature {
    /// What it is known by.
    pub(super) fn hash(&self) -> u32 {
        hash_of(&self.0)
    }
}

/// From so many words on a message is longer than the class of length before.
const LENGTHS: [usize; 7] = [1, 2, 3, 5, 8, 12, 20];

/// The features of a message in words.
pub(super) fn named_features(text: &str, heard: &Heard) -> Vec<Feature> {
    let mut all = Vec::new();
    let pieces = heard.pieces.iter().map(|piece| match piece {
        Piece::Word(word) if word.chars().all(|c| c.is_ascii_digit()) => "#",
        Piece::Word(word) => word.as_str(),
        Piece::Exercise => "<exercise>",
        Piece::Muscle => "<muscle>",
        Piece::Day => "<day>",
        Piece::Minutes => "<minutes>",
    });
    let row: Vec<&str> = std::iter::once("^")
        .chain(pieces)
        .chain(std::iter::once("$"))
        .collect();
    for length in 1..=3 {
        all.extend(row.windows(length).map(|words| Feature(words.join(" "))));
    }
    for idea in &heard.ideas {
        all.push(Feature(format!("({idea:?})")));
    }
    if heard.term.is_some() {
        all.push(Feature("(term)".to_owned()));
    }
    if heard.asks {
        all.push(Feature("(asks)".to_owned()));
    }
    if speaks_of_others(text, heard) {
        all.push(Feature("(others)".to_owned()));
    }
    let count = heard.pieces.len();
    for longer in LENGTHS.into_iter().filter(|length| count > *length) {
        all.push(Feature(format!("(over {longer})")));
    }
    all
}

/// What the features of a message are known by, each once.
pub(super) fn features(text: &str, heard: &Heard) -> Vec<u32> {
    let mut all: Vec<u32> = named_features(text, heard)
        .iter()
        .map(Feature::hash)
        .collect();
    for piece in &heard.pieces {
        if let Piece::Word(word) = piece {
            runs_of(std::iter::once(word.as_str()), |run| all.push(run));
        }
    }
    all.sort_unstable();
    all.dedup();
    all
}
