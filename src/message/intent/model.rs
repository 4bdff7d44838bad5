//! A small linear model: sparse features in, calibrated probabilities of a few classes out.
//!
//! Multinomial logistic regression:
//!
//! ```text
//! p(class) = exp(z_class / T) / Σ exp(z / T),   z = bias + Σ weights of the features present
//! ```
//!
//! A feature is there or not; it is known by a hash of 64 bits. `T`, the temperature, is fitted on
//! messages of authors that the weights had not seen (Guo C et al. 2017, On Calibration of Modern
//! Neural Networks, PMLR 70:1321-1330, from memory).

use std::fmt::Write as _;
use std::str::FromStr;

use crate::message::vocabulary::ShortMap;

/// Weights are kept in hundredths.
const HUNDREDTH: f32 = 0.01;

/// A trained model.
#[derive(Clone, Debug, Default)]
pub struct Model {
    classes: Vec<String>,
    temperature: f32,
    bias: Vec<f32>,
    rows: ShortMap<u64, u32>,
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
        temperature: f32,
        bias: Vec<f32>,
        features: impl IntoIterator<Item = (u64, Vec<f32>)>,
    ) -> Self {
        let mut model = Self {
            classes,
            temperature,
            bias,
            ..Self::default()
        };
        for (feature, weights) in features {
            model.insert(feature, &weights);
        }
        model
    }

    fn insert(&mut self, feature: u64, weights: &[f32]) {
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

    /// Adds a feature's weights to `scores`; an unknown feature adds nothing.
    pub fn add(&self, feature: u64, scores: &mut [f32]) {
        if let Some(&row) = self.rows.get(&feature) {
            let from = row as usize * self.classes.len();
            for (score, weight) in scores.iter_mut().zip(&self.weights[from..]) {
                *score += weight;
            }
        }
    }

    /// The scores with these features.
    #[must_use]
    pub fn score(&self, features: impl IntoIterator<Item = u64>) -> Vec<f32> {
        let mut scores = self.scores();
        for feature in features {
            self.add(feature, &mut scores);
        }
        scores
    }

    /// Sets the temperature, above zero.
    pub fn set_temperature(&mut self, temperature: f32) {
        self.temperature = temperature;
    }

    /// Scores to probabilities, which add up to 1.
    pub fn probabilities(&self, scores: &mut [f32]) {
        softmax(scores, self.temperature);
    }

    /// The model as text; `name` says what a feature is, for readers of the file.
    #[must_use]
    pub fn print(&self, mut name: impl FnMut(u64) -> String) -> String {
        let mut out = String::new();
        let _ = writeln!(out, "classes {}", self.classes.join(" "));
        let _ = writeln!(out, "temperature {}", self.temperature);
        let _ = writeln!(out, "bias{}", hundredths(&self.bias));
        let mut rows: Vec<_> = self.rows.iter().map(|(f, r)| (name(*f), *f, *r)).collect();
        rows.sort();
        for (name, feature, row) in rows {
            let from = row as usize * self.classes.len();
            let weights = &self.weights[from..from + self.classes.len()];
            let _ = writeln!(out, "{feature:x}{} {name}", hundredths(weights));
        }
        out
    }
}

/// Scores to probabilities at a temperature.
pub(super) fn softmax(scores: &mut [f32], temperature: f32) {
    let most = scores.iter().copied().fold(f32::MIN, f32::max);
    let mut sum = 0.0;
    for score in scores.iter_mut() {
        *score = ((*score - most) / temperature).exp();
        sum += *score;
    }
    for score in scores.iter_mut() {
        *score /= sum;
    }
}

fn hundredths(weights: &[f32]) -> String {
    let mut out = String::new();
    for weight in weights {
        let _ = write!(out, " {:.0}", weight / HUNDREDTH);
    }
    out
}

impl FromStr for Model {
    type Err = ModelFault;

    /// Reads what [`Model::print`] wrote. Lines that begin with `#` are notes.
    fn from_str(text: &str) -> Result<Self, ModelFault> {
        let mut model = Self {
            temperature: 1.0,
            ..Self::default()
        };
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
                    .map_while(|word| word.parse::<f32>().ok())
                    .map(|weight| weight * HUNDREDTH)
                    .collect();
                (list.len() == count && list.iter().all(|w| w.is_finite())).then_some(list)
            };
            match first {
                "" => {}
                _ if first.starts_with('#') => {}
                "classes" => model.classes = words.map(str::to_owned).collect(),
                "temperature" => {
                    model.temperature = words
                        .next()
                        .and_then(|word| word.parse().ok())
                        .filter(|t: &f32| t.is_finite() && *t > 0.0)
                        .ok_or_else(|| fault("a temperature above zero is missing"))?;
                }
                "bias" => {
                    model.bias = weights(model.classes.len())
                        .ok_or_else(|| fault("a bias for each class is missing"))?;
                }
                _ => {
                    let feature = u64::from_str_radix(first, 16)
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
