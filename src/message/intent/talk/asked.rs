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
use crate::domain::quantities::worded::worded;
use crate::message::intent::features::{hash_of, runs_of};
use crate::message::intent::model::Model;

worded! {
    /// What is asked about, as the labels have it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Topic {
        /// `are you there?`
        Greeting = "greeting",
        /// What this is and how to begin.
        Help = "help",
        /// How sets are posted.
        Post = "post",
        /// How a wrong set is changed.
        Correct = "correct",
        /// What a word means.
        Meaning = "meaning",
        /// Why advice is as it is.
        Why = "why",
        /// Whether sets counted, or arrived.
        Counted = "counted",
        /// What was done.
        History = "history",
        /// The bests.
        Best = "best",
        /// Whether it gets better.
        Progress = "progress",
        /// What there is to do.
        Due = "due",
        /// What fits into little time.
        Fit = "fit",
        /// The plan.
        Plan = "plan",
        /// Sets of the week.
        Volume = "volume",
        /// Warming up, and the discs for a load.
        WarmUp = "warmup",
        /// How an exercise is done.
        Technique = "technique",
        /// The next load.
        Next = "next",
        /// How long to rest.
        Rest = "rest",
        /// The bell.
        Bells = "bells",
        /// Kilograms and pounds.
        Units = "units",
        /// What can be loaded.
        Gear = "gear",
        /// What to do in an exercise's place.
        Instead = "instead",
        /// Sessions on other days.
        Swap = "swap",
        /// Who sees what is posted.
        Privacy = "privacy",
        /// The coaches.
        Coaches = "coaches",
        /// What is stored, to have or to erase.
        Data = "data",
        /// What the bot should know of the member.
        Profile = "profile",
        /// The weekly summary.
        Digest = "digest",
        /// Training at large.
        Other = "other",
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
