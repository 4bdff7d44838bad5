//! Learns the weights of [`Asking`](super::Asking) from labelled messages; `chalkbell train --questions` calls it.

use std::collections::BTreeMap;

use super::asked::{CLASSES, Topic, features, named_features};
use super::hear;
use crate::message::intent::features::is_run;
use crate::message::intent::train::{Example, Fit, fit};
use crate::message::reader::Reader;

/// A labelled message.
#[derive(Clone, Debug)]
pub struct Labelled {
    /// The message.
    pub text: String,
    /// What it asks the bot; `None` for chat.
    pub topic: Option<Topic>,
}

/// What was learned, as the files in `config/`.
#[derive(Clone, Debug)]
pub struct Weights {
    /// Whether a message asks the bot (`asks.weights`).
    pub asks: String,
    /// What about (`asks_about.weights`).
    pub topic: String,
}

/// Questions are few beside chat: each counts for so many messages. Chosen on questions of other
/// authors, which were not learned from.
const QUESTION_WEIGHT: f32 = 3.0;

/// How the first model is fitted; chosen likewise.
const FIT: Fit = Fit {
    steps: 120,
    pull: 0.5,
    kept_from: 2,
    runs_from: 3,
    least: 0.05,
};

/// How the second one is fitted: of some thousand questions runs of letters are too rare to learn.
const TOPIC_FIT: Fit = Fit {
    steps: 80,
    pull: 0.5,
    kept_from: 2,
    runs_from: usize::MAX,
    least: 0.1,
};

/// Learns from `labelled`. The same messages in the same order give the same weights.
#[must_use]
pub fn train(labelled: &[Labelled], reader: &Reader) -> Weights {
    let mut names: BTreeMap<u32, String> = BTreeMap::new();
    let (mut asks, mut about) = (Vec::new(), Vec::new());
    for label in labelled {
        let Some(heard) = hear(label.text.trim(), reader) else {
            continue;
        };
        let list = features(label.text.trim(), &heard);
        for feature in named_features(label.text.trim(), &heard) {
            names
                .entry(feature.hash())
                .or_insert_with(|| feature.to_string());
        }
        if let Some(topic) = label.topic {
            about.push(Example {
                features: list.iter().copied().filter(|f| !is_run(*f)).collect(),
                class: Topic::ALL.iter().position(|one| *one == topic).unwrap_or(0),
                weight: 1.0,
            });
        }
        asks.push(Example {
            features: list,
            class: usize::from(label.topic.is_some()),
            weight: match label.topic {
                Some(_) => QUESTION_WEIGHT,
                None => 1.0,
            },
        });
    }
    let topics = Topic::ALL.map(Topic::word);
    let name = |feature: u32| names.get(&feature).cloned().unwrap_or_default();
    Weights {
        asks: fit(&CLASSES, &asks, FIT).print(name),
        topic: fit(&topics, &about, TOPIC_FIT).print(name),
    }
}
