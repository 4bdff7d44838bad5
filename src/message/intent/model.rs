//! A small linear model: sparse features in, probabilities of a few classes out.
//!
//! Multinomial logistic regression:
//!
//! ```text
//! p(class) = exp(z_class) / Σ exp(z),   z = bias + Σ weights of the features present
//! ```
//!
//! A feature is there or not; it is known by a hash of 32 bits.

use std::fmt::Write as _;
use std::str::FromStr;

use crate::message::words::vocabulary::ShortMap;

/// Weights are kept in hundredths.
const HUNDREDTH: f32 = 0.01;

/// A trained model.
#[derive(Clone, Debug, Default)]
pub struct Model {
    classes: Vec<String>,
    bias: Vec<f32>,
    rows: ShortMap<u32, u32>,
    weights: Vec<f32>,
}

/// Why a text is no model.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line} of the weights: {fault}")]
pub struct ModelFault {
    /// Counted from 1.
    pub line: usize,
    /// What is wrong with it.
    pub fault: String,
}

impl Model {
    /// A model of its parts: for each feature a weight for each class.
    #[must_use]
    pub fn new(
        classes: Vec<String>,
        bias: Vec<f32>,
        features: impl IntoIterator<Item = (u32, Vec<f32>)>,
    ) -> Self {
        let mut model = Self {
            classes,
            bias,
            ..Self::default()
        };
        for (feature, weights) in features {
            model.insert(feature, &weights);
        }
        model
    }

    fn insert(&mut self, feature: u32, weights: &[f32]) {
        let row = self.weights.len() / self.classes.len().max(1);
        if let Ok(row) = u32::try_from(row) {
            self.rows.insert(feature, row);
            self.weights.extend(weights);
        }
    }

    /// The names of the classes, in the order of the probabilities.
    #[must_use]
    pub fn classes(&self) -> &[String] {
        &self.classes
    }

    /// The scores before any feature is seen.
    #[must_use]
    pub fn scores(&self) -> Vec<f32> {
        self.bias.clone()
    }

    /// Whether a feature is known.
    #[must_use]
    pub fn knows(&self, feature: u32) -> bool {
        self.rows.contains_key(&feature)
    }

    /// Adds a feature's weights to `scores`; an unknown feature adds nothing.
    pub fn add(&self, feature: u32, scores: &mut [f32]) {
        if let Some(&row) = self.rows.get(&feature) {
            let from = row as usize * self.classes.len();
            for (score, weight) in scores.iter_mut().zip(&self.weights[from..]) {
                *score += weight;
            }
        }
    }

    /// The scores with these features.
    #[must_use]
    pub fn score(&self, features: impl IntoIterator<Item = u32>) -> Vec<f32> {
        let mut scores = self.scores();
        for feature in features {
            self.add(feature, &mut scores);
        }
        scores
    }

    /// Scores to probabilities, which add up to 1.
    pub fn probabilities(&self, scores: &mut [f32]) {
        softmax(scores);
    }

    /// The model as text; `name` says what a feature is, for readers of the file.
    #[must_use]
    pub fn print(&self, mut name: impl FnMut(u32) -> String) -> String {
        let mut out = String::new();
        let _ = writeln!(out, "classes {}", self.classes.join(" "));
        let _ = writeln!(out, "bias{}", hundredths(&self.bias));
        let mut rows: Vec<_> = self.rows.iter().map(|(f, r)| (name(*f), *f, *r)).collect();
        rows.sort();
        for (name, feature, row) in rows {
            let from = row as usize * self.classes.len();
            let weights = &self.weights[from..from + self.classes.len()];
            let space = if name.is_empty() { "" } else { " " };
            let _ = writeln!(out, "{feature:x}{}{space}{name}", hundredths(weights));
        }
        out
    }
}

/// Scores to probabilities.
pub(super) fn softmax(scores: &mut [f32]) {
    let most = scores.iter().copied().fold(f32::MIN, f32::max);
    let mut sum = 0.0;
    for score in scores.iter_mut() {
        *score = (*score - most).exp();
        sum += *score;
    }
    for score in scores.iter_mut() {
        *score /= sum;
    }
}

/// Each behind a space; nothing for none.
fn hundredths(weights: &[f32]) -> String {
    let mut out = String::new();
    for weight in weights {
        out.push(' ');
        let whole = (weight / HUNDREDTH).round();
        if whole != 0.0 {
            let _ = write!(out, "{whole:.0}");
        }
    }
    out
}

impl FromStr for Model {
    type Err = ModelFault;

    /// Reads what [`Model::print`] wrote. Lines that begin with `#` are notes.
    fn from_str(text: &str) -> Result<Self, ModelFault> {
        let mut model = Self::default();
        for (at, line) in text.lines().enumerate() {
            let fault = |fault: &str| ModelFault {
                line: at + 1,
                fault: fault.to_owned(),
            };
            let mut words = line.split(' ');
            let first = words.next().unwrap_or_default();
            let mut weights = |count: usize| -> Option<Vec<f32>> {
                let list: Vec<f32> = words
                    .by_ref()
                    .take(count)
                    .map_while(|word| match word {
                        "" => Some(0),
                        word => word.parse::<i16>().ok(),
                    })
                    .map(|weight| f32::from(weight) * HUNDREDTH)
                    .collect();
                (list.len() == count).then_some(list)
            };
            match first {
                "" => {}
                _ if first.starts_with('#') => {}
                "classes" => model.classes = words.map(str::to_owned).collect(),
                "bias" => {
                    model.bias = weights(model.classes.len())
                        .ok_or_else(|| fault("a bias for each class is missing"))?;
                }
                _ => {
                    let feature = u32::from_str_radix(first, 16)
                        .map_err(|_| fault("it begins with no feature"))?;
                    let weights = weights(model.classes.len())
                        .ok_or_else(|| fault("a weight for each class is missing"))?;
                    model.insert(feature, &weights);
                }
            }
        }
        Ok(model)
    }
}
