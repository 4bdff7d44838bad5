//! Fits a [`Model`] to labelled messages.
//!
//! Logistic regression with a pull towards zero (L2), fitted on all messages at once by L-BFGS
//! (Nocedal J 1980, Math Comp 35:773-782, from memory). Nothing is drawn: the same messages give the
//! same weights.

use std::collections::{BTreeMap, HashMap};

use super::features::{is_run, value};
use super::model::{Model, softmax};

/// A labelled message.
#[derive(Clone, Debug)]
pub(crate) struct Example {
    /// Its features, each once.
    pub features: Vec<u32>,
    /// The number of its class.
    pub class: usize,
    /// How much it counts; 1 for an ordinary one.
    pub weight: f32,
}

/// How to fit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fit {
    /// Steps of the search.
    pub steps: usize,
    /// The pull towards zero.
    pub pull: f32,
    /// Words and concepts in fewer examples are left out.
    pub kept_from: usize,
    /// Runs of letters in fewer examples are left out.
    pub runs_from: usize,
    /// A feature whose weights are all smaller is left out of the model.
    pub least: f32,
}

/// What is fitted: rows of a weight for each class; row 0 is the bias.
struct Problem<'e> {
    examples: &'e [Example],
    /// The rows of each example with their values.
    lists: Vec<Vec<(usize, f32)>>,
    classes: usize,
    pull: f32,
}

impl Problem<'_> {
    /// The loss at `weights`; `slope` becomes its slope.
    fn loss(&self, weights: &[f32], slope: &mut [f32]) -> f64 {
        let classes = self.classes;
        let mut loss = 0.0_f64;
        for (at, slope) in slope.iter_mut().enumerate() {
            let pull = if at < classes { 0.0 } else { self.pull };
            *slope = pull * weights[at];
            loss += 0.5 * f64::from(pull * weights[at] * weights[at]);
        }
        let mut scores = vec![0.0_f32; classes];
        for (example, list) in self.examples.iter().zip(&self.lists) {
            scores.fill(0.0);
            for &(row, value) in list {
                let weights = &weights[row * classes..(row + 1) * classes];
                for (score, weight) in scores.iter_mut().zip(weights) {
                    *score += value * weight;
                }
            }
            softmax(&mut scores);
            let right = scores.get(example.class).copied().unwrap_or(1.0);
            loss -= f64::from(example.weight * right.max(1e-9).ln());
            scores[example.class] -= 1.0;
            for &(row, value) in list {
                let slope = &mut slope[row * classes..(row + 1) * classes];
                for (slope, error) in slope.iter_mut().zip(&scores) {
                    *slope += example.weight * value * error;
                }
            }
        }
        loss
    }

    /// The weights of least loss, as near as so many steps come.
    fn solve(&self, rows: usize, steps: usize) -> Vec<f32> {
        let mut weights = vec![0.0_f32; rows * self.classes];
        let mut slope = weights.clone();
        let mut loss = self.loss(&weights, &mut slope);
        let mut past: Vec<(Vec<f32>, Vec<f32>)> = Vec::new();
        for _ in 0..steps {
            let way = descent(&slope, &past);
            let downhill = dot(&way, &slope);
            let mut length = if past.is_empty() {
                1.0 / dot(&slope, &slope).sqrt().max(1.0)
            } else {
                1.0
            };
            let mut next = weights.clone();
            let mut next_slope = slope.clone();
            let mut reached = loss;
            for _ in 0..20 {
                for ((next, weight), way) in next.iter_mut().zip(&weights).zip(&way) {
                    #[expect(clippy::cast_possible_truncation, reason = "weights are f32")]
                    let step = (length * f64::from(*way)) as f32;
                    *next = weight + step;
                }
                reached = self.loss(&next, &mut next_slope);
                if reached <= loss + 1e-4 * length * downhill {
                    break;
                }
                length *= 0.5;
            }
            if reached >= loss {
                break;
            }
            past.push((difference(&next, &weights), difference(&next_slope, &slope)));
            if past.len() > REMEMBERED {
                past.remove(0);
            }
            (weights, slope, loss) = (next, next_slope, reached);
        }
        weights
    }
}

/// How many steps back the shape of the loss is taken from.
const REMEMBERED: usize = 8;

/// The way down, by the slope and the last steps with their changes of slope.
fn descent(slope: &[f32], past: &[(Vec<f32>, Vec<f32>)]) -> Vec<f32> {
    let mut way: Vec<f32> = slope.iter().map(|slope| -slope).collect();
    let mut shares = Vec::with_capacity(past.len());
    for (step, change) in past.iter().rev() {
        let share = dot(step, &way) / dot(step, change).max(1e-12);
        add(&mut way, change, -share);
        shares.push(share);
    }
    if let Some((step, change)) = past.last() {
        let scale = dot(step, change) / dot(change, change).max(1e-12);
        for way in &mut way {
            #[expect(clippy::cast_possible_truncation, reason = "weights are f32")]
            let scaled = (f64::from(*way) * scale) as f32;
            *way = scaled;
        }
    }
    for ((step, change), share) in past.iter().zip(shares.iter().rev()) {
        let back = dot(change, &way) / dot(step, change).max(1e-12);
        add(&mut way, step, share - back);
    }
    way
}

fn dot(a: &[f32], b: &[f32]) -> f64 {
    a.iter()
        .zip(b)
        .map(|(a, b)| f64::from(*a) * f64::from(*b))
        .sum()
}

fn add(to: &mut [f32], other: &[f32], share: f64) {
    #[expect(clippy::cast_possible_truncation, reason = "weights are f32")]
    let share = share as f32;
    for (to, other) in to.iter_mut().zip(other) {
        *to += share * other;
    }
}

fn difference(a: &[f32], b: &[f32]) -> Vec<f32> {
    a.iter().zip(b).map(|(a, b)| a - b).collect()
}

/// Fits a model of `classes`.
pub(crate) fn fit(classes: &[&str], examples: &[Example], fit: Fit) -> Model {
    fit_scaled(classes, examples, |_| 1.0, fit)
}

/// Fits a model of `classes`, where all features of an example count as much as `scale` says.
pub(super) fn fit_scaled(
    classes: &[&str],
    examples: &[Example],
    scale: impl Fn(&Example) -> f32,
    fit: Fit,
) -> Model {
    let count = classes.len();
    let mut seen: BTreeMap<u32, usize> = BTreeMap::new();
    for feature in examples.iter().flat_map(|example| &example.features) {
        *seen.entry(*feature).or_default() += 1;
    }
    seen.retain(|feature, times| {
        *times
            >= if is_run(*feature) {
                fit.runs_from
            } else {
                fit.kept_from
            }
    });
    let rows: HashMap<u32, usize> = seen
        .keys()
        .enumerate()
        .map(|(at, f)| (*f, at + 1))
        .collect();
    let lists = examples
        .iter()
        .map(|example| {
            let scale = scale(example);
            let known = example
                .features
                .iter()
                .filter_map(|f| Some((*rows.get(f)?, scale * value(*f))));
            std::iter::once((0, 1.0)).chain(known).collect()
        })
        .collect();
    let problem = Problem {
        examples,
        lists,
        classes: count,
        pull: fit.pull,
    };
    let weights = problem.solve(rows.len() + 1, fit.steps);
    let features = seen
        .keys()
        .map(|f| {
            let row = &weights[rows[f] * count..(rows[f] + 1) * count];
            (*f, row.iter().map(|w| w * value(*f)).collect::<Vec<_>>())
        })
        .filter(|(_, list)| list.iter().any(|w| w.abs() >= fit.least));
    let names = classes.iter().map(|class| (*class).to_owned()).collect();
    Model::new(names, weights[..count].to_vec(), features)
}
