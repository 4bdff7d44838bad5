//! Whether a message reports sets that its writer did: learned over words, words in a row, the sizes
//! of numbers and the runs of letters in words.
//!
//! It stands beside the rules of `message::judge` and overrules them where it is sure. Held out by
//! author, both together miss fewer reports and take less chat for one than either alone.

use std::str::FromStr;

use super::features::{gram, runs_of, value};
use super::model::Model;
use super::train::{Example, Fit, fit_scaled};
use crate::message::NameIndex;
use crate::message::words::token::{Kind, Mark, Token, Tokens, tokenize};
use crate::message::words::vocabulary::W;

/// The classes, in order.
const CLASSES: [&str; 2] = ["other", "report"];

/// How the model is fitted. Chosen on held-out authors.
const FIT: Fit = Fit {
    steps: 120,
    pull: 0.1,
    kept_from: 2,
    runs_from: 3,
    least: 0.12,
};

/// Words in a row, at most.
const LONGEST: usize = 3;

/// A message known to report sets, or to report none.
#[derive(Clone, Debug)]
pub struct Labelled {
    /// The message.
    pub text: String,
    /// Whether it reports sets of its writer's.
    pub reports: bool,
}

/// The decision.
#[derive(Clone, Debug, Default)]
pub(crate) struct Report {
    model: Model,
}

impl Report {
    /// By these weights; broken ones decide nothing.
    pub(crate) fn new(weights: &str) -> Self {
        Self {
            model: Model::from_str(weights).unwrap_or_default(),
        }
    }

    /// How likely the message reports sets, 0 to 1; one half where nothing was learned.
    pub(crate) fn likely(&self, tokens: &Tokens) -> f32 {
        let features = features(tokens);
        let scale = scale(&features);
        let bias = self.model.scores();
        let mut sums = vec![0.0; bias.len()];
        for feature in features {
            self.model.add(feature, &mut sums);
        }
        let mut scores: Vec<f32> = bias.iter().zip(&sums).map(|(b, s)| b + scale * s).collect();
        self.model.probabilities(&mut scores);
        scores.last().copied().unwrap_or(0.5)
    }
}

/// Learns from `labelled`: the text of `report.weights`. The same messages in the same order give the
/// same weights. Takes some seconds.
#[must_use]
pub fn train(labelled: &[Labelled], names: &NameIndex) -> String {
    let example = |label: &Labelled| Example {
        features: features(&tokenize(&label.text, names.vocabulary())),
        class: usize::from(label.reports),
        weight: 1.0,
    };
    let examples: Vec<Example> = labelled.iter().map(example).collect();
    let model = fit_scaled(&CLASSES, &examples, |one| scale(&one.features), FIT);
    model.print(|_| String::new())
}

/// How likely `text` reports sets by `weights`, 0 to 1.
#[must_use]
pub fn likely(text: &str, weights: &str, names: &NameIndex) -> f32 {
    Report::new(weights).likely(&tokenize(text, names.vocabulary()))
}

/// Long messages have more features, and no more to say by them.
fn scale(features: &[u32]) -> f32 {
    let squares: f32 = features.iter().map(|&f| value(f) * value(f)).sum();
    squares.max(1.0).sqrt().recip()
}

/// The features of a message, each once.
fn features(tokens: &Tokens) -> Vec<u32> {
    let words: Vec<&str> = (0..tokens.list.len())
        .map(|at| symbol(tokens, at))
        .collect();
    let mut out = Vec::new();
    for length in 1..=LONGEST {
        out.extend(words.windows(length).map(gram));
    }
    let letters = tokens.list.iter().filter(|token| token.kind == Kind::Word);
    runs_of(letters.map(|token| tokens.text_of(token)), |run| {
        out.push(run)
    });
    out.sort_unstable();
    out.dedup();
    out
}

/// A token as it is learned: a word itself, a number by its size.
fn symbol(tokens: &Tokens, at: usize) -> &str {
    let Some(token) = tokens.list.get(at) else {
        return "";
    };
    let next = tokens.list.get(at + 1);
    let unit = |token: &Token| matches!(token.word.w, W::Kg | W::Lb | W::K);
    match token.kind {
        Kind::Word => tokens.text_of(token),
        Kind::Number if next.is_some_and(unit) => "#load",
        Kind::Number if token.value <= 5.0 => "#5",
        Kind::Number if token.value <= 20.0 => "#20",
        Kind::Number if token.value < 40.0 => "#40",
        Kind::Number => "#more",
        Kind::Clock => "#clock",
        Kind::Date => "#date",
        Kind::Mark(mark) => match mark {
            Mark::Times => "*",
            Mark::At => "@",
            Mark::Plus => "+",
            Mark::Minus => "-",
            Mark::Comma => ",",
            Mark::Stop => ".",
            Mark::Colon => ":",
            Mark::Slash => "/",
            Mark::Line => "line",
            Mark::Question => "?",
            Mark::Bang => "!",
            Mark::Open => "(",
            Mark::Close => ")",
            Mark::Money => "money",
            Mark::Percent => "%",
            _ => "mark",
        },
    }
}
