//! Fits a [`Model`] to labelled messages.
//!
//! Stochastic gradient descent with a step for each weight that shrinks with what it has moved
//! (Duchi J et al. 2011, J Mach Learn Res 12:2121-2159, from memory) and a pull towards zero. The
//! order is drawn from a fixed seed: the same messages give the same weights.

use std::collections::{BTreeMap, HashMap};

use super::model::{Model, softmax};

/// A labelled message.
#[derive(Clone, Debug)]
pub(in crate::message) struct Example {
    /// Its features, each once.
    pub features: Vec<u64>,
    /// The number of its class.
    pub class: usize,
    /// How much it counts; 1 for an ordinary one.
    pub weight: f32,
}

/// How to fit.
#[derive(Clone, Copy, Debug)]
pub(in crate::message) struct Fit {
    /// Times through all examples.
    pub rounds: usize,
    /// The first step.
    pub step: f32,
    /// The pull towards zero, for each round.
    pub pull: f32,
    /// Features in fewer examples are left out of the model. While it is fitted they stay in: what
    /// only one message says would else be laid at the door of what many say.
    pub kept_from: usize,
}

impl Default for Fit {
    fn default() -> Self {
        Self {
            rounds: 25,
            step: 0.1,
            pull: 1e-4,
            kept_from: 2,
        }
    }
}

/// A feature whose weights are all smaller is left out of the model.
const LEAST: f32 = 0.03;

/// Fits a model of `classes` with a temperature of 1.
pub(in crate::message) fn fit(classes: &[&str], examples: &[Example], fit: Fit) -> Model {
    let count = classes.len();
    let mut seen: BTreeMap<u64, usize> = BTreeMap::new();
    for feature in examples.iter().flat_map(|example| &example.features) {
        *seen.entry(*feature).or_default() += 1;
    }
    let rows: HashMap<u64, usize> = seen
        .keys()
        .enumerate()
        .map(|(at, f)| (*f, at + 1))
        .collect();
    // Row 0 is the bias.
    let lists: Vec<Vec<usize>> = examples
        .iter()
        .map(|example| {
            let known = example.features.iter().filter_map(|f| rows.get(f).copied());
            std::iter::once(0).chain(known).collect()
        })
        .collect();
    let mut weights = vec![0.0_f32; (rows.len() + 1) * count];
    let mut moved = vec![1e-6_f32; weights.len()];
    let mut order: Vec<usize> = (0..examples.len()).collect();
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let mut scores = vec![0.0_f32; count];
    for _ in 0..fit.rounds {
        shuffle(&mut order, &mut seed);
        for &at in &order {
            let example = &examples[at];
            scores.fill(0.0);
            for &row in &lists[at] {
                for (score, weight) in scores.iter_mut().zip(&weights[row * count..]) {
                    *score += weight;
                }
            }
            softmax(&mut scores, 1.0);
            scores[example.class] -= 1.0;
            for &row in &lists[at] {
                for (class, error) in scores.iter().enumerate() {
                    let place = row * count + class;
                    let pull = if row == 0 {
                        0.0
                    } else {
                        fit.pull * weights[place]
                    };
                    let slope = error * example.weight + pull;
                    moved[place] += slope * slope;
                    weights[place] -= fit.step * slope / moved[place].sqrt();
                }
            }
        }
    }
    let features = seen
        .iter()
        .filter(|(_, times)| **times >= fit.kept_from)
        .map(|(f, _)| {
            let from = rows[f] * count;
            (*f, weights[from..from + count].to_vec())
        })
        .filter(|(_, list)| list.iter().any(|w| w.abs() >= LEAST));
    let names = classes.iter().map(|class| (*class).to_owned()).collect();
    Model::new(names, 1.0, weights[..count].to_vec(), features)
}

fn shuffle(order: &mut [usize], seed: &mut u64) {
    for at in (1..order.len()).rev() {
        *seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let other = (*seed >> 33) as usize % (at + 1);
        order.swap(at, other);
    }
}

/// The temperature at which `scored` (scores and the right class) are likeliest, from 0.4 to 4.
pub(in crate::message) fn temperature(scored: &[(Vec<f32>, usize)]) -> f32 {
    let loss = |temperature: f32| -> f32 {
        let one = |(scores, class): &(Vec<f32>, usize)| {
            let mut p = scores.clone();
            softmax(&mut p, temperature);
            -p.get(*class).copied().unwrap_or(1.0).max(1e-9).ln()
        };
        scored.iter().map(one).sum()
    };
    let steps = (0_u8..=36).map(|step| 0.4 + 0.1 * f32::from(step));
    steps
        .min_by(|a, b| loss(*a).total_cmp(&loss(*b)))
        .unwrap_or(1.0)
}
