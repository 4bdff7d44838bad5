//! The weights of a network while it learns, and the slope of the loss at one message.
//!
//! Words, concepts and units are left out at random (dropout), so that none is leant on alone.

use super::chance::Chance;
use super::{
    CLASSES, INPUTS, Layers, POOLED, Row, WIDE, WIDTH, WideRow, add, cut, layer, mean_over, pool,
};
use crate::message::intent::model::softmax;

/// Numbers of a public vector of a word.
pub(super) const VECTOR: usize = 32;

/// Where each part of the weights begins in one list of all.
pub(super) mod part {
    use super::{CLASSES, INPUTS, POOLED, VECTOR, WIDE, WIDTH};

    pub(crate) const VECTORS: usize = 0;
    pub(crate) const INPUT: usize = VECTORS + VECTOR * WIDTH;
    pub(crate) const BIAS: usize = INPUT + INPUTS * WIDTH;
    pub(crate) const FIRST: usize = BIAS + WIDTH;
    pub(crate) const FIRST_BIAS: usize = FIRST + 3 * WIDTH * WIDE;
    pub(crate) const SECOND: usize = FIRST_BIAS + WIDE;
    pub(crate) const SECOND_BIAS: usize = SECOND + 3 * WIDE * WIDE;
    pub(crate) const OUT: usize = SECOND_BIAS + WIDE;
    pub(crate) const OUT_BIAS: usize = OUT + POOLED * CLASSES;
    pub(crate) const WORDS: usize = OUT_BIAS + CLASSES;
}

/// A word of an example.
pub(super) struct Seen {
    pub(super) vector: Option<usize>,
    pub(super) word: Option<usize>,
    pub(super) inputs: Vec<u8>,
}

/// A message, ready to be learned.
pub(super) struct Ready {
    pub(super) words: Vec<Seen>,
    pub(super) class: usize,
}

/// The rows of a part.
pub(super) fn rows<const N: usize>(list: &[f32], from: usize, count: usize) -> Vec<[f32; N]> {
    let row = |at: usize| std::array::from_fn(|unit| list[from + at * N + unit]);
    (0..count).map(row).collect()
}

fn add_at<const N: usize>(list: &mut [f32], from: usize, value: f32, row: &[f32; N]) {
    for (to, weight) in list[from..from + N].iter_mut().zip(row) {
        *to += value * weight;
    }
}

pub(super) fn layers(list: &[f32]) -> Layers {
    Layers {
        inputs: rows(list, part::INPUT, INPUTS),
        bias: rows(list, part::BIAS, 1),
        first: rows(list, part::FIRST, 3 * WIDTH + 1),
        second: rows(list, part::SECOND, 3 * WIDE + 1),
        out: rows(list, part::OUT, POOLED),
        out_bias: std::array::from_fn(|class| list[part::OUT_BIAS + class]),
    }
}

/// Rows whose units are left out by `kept`.
fn masked<const N: usize>(rows: &[[f32; N]], kept: &[f32]) -> Vec<[f32; N]> {
    let row =
        |(at, row): (usize, &[f32; N])| std::array::from_fn(|unit| row[unit] * kept[at * N + unit]);
    rows.iter().enumerate().map(row).collect()
}

/// Slopes below a cut: none where it cut off.
fn below_cut<const N: usize>(slopes: &mut [[f32; N]], uncut: &[[f32; N]]) {
    for (slope, value) in slopes.iter_mut().flatten().zip(uncut.iter().flatten()) {
        if *value <= 0.0 {
            *slope = 0.0;
        }
    }
}

pub(super) struct Learner {
    pub(super) weights: Vec<f32>,
    pub(super) slope: Vec<f32>,
    pub(super) vectors: Vec<[f32; VECTOR]>,
    pub(super) chance: Chance,
    out: [f32; 3],
}

impl Learner {
    pub(super) fn new(words: usize, vectors: Vec<[f32; VECTOR]>, out: [f32; 3], seed: u64) -> Self {
        let mut chance = Chance(seed);
        let mut weights = vec![0.0; part::WORDS + words * WIDTH];
        let mut fill = |from: usize, to: usize, spread: f32| {
            // A flat draw has a spread of its most over the root of 3.
            for weight in &mut weights[from..to] {
                *weight = chance.around(spread * 3.0_f32.sqrt());
            }
        };
        let of = |inputs: usize| (1.5 / f32::from(u16::try_from(inputs).unwrap_or(1))).sqrt();
        fill(part::VECTORS, part::INPUT, 0.5 * of(VECTOR));
        fill(part::INPUT, part::BIAS, 0.15);
        fill(part::FIRST, part::FIRST_BIAS, of(3 * WIDTH));
        fill(part::SECOND, part::SECOND_BIAS, of(3 * WIDE));
        fill(part::OUT, part::OUT_BIAS, 0.5 * of(POOLED));
        Self {
            slope: vec![0.0; weights.len()],
            weights,
            vectors,
            chance,
            out,
        }
    }

    /// Adds the slope of the loss at one message.
    pub(super) fn learn(&mut self, message: &Ready, layers: &Layers) {
        let words = message.words.len();
        let mut keep = |out: f32, count: usize| -> Vec<f32> {
            (0..count).map(|_| self.chance.kept(out)).collect()
        };
        let [whole, own, unit] = self.out;
        let (vector_kept, inputs_kept) = (keep(whole, words), keep(whole, words));
        let own_kept = keep(own, words);
        let (kept0, kept1) = (keep(unit, words * WIDTH), keep(unit, words * WIDE));
        let kept_out = keep(unit, POOLED);
        // Forward.
        let mut below: Vec<Row> = vec![layers.bias[0]; words];
        for (at, (seen, row)) in message.words.iter().zip(&mut below).enumerate() {
            if let Some(vector) = seen.vector.filter(|_| vector_kept[at] > 0.0) {
                for (number, value) in self.vectors[vector].iter().enumerate() {
                    let from = part::VECTORS + number * WIDTH;
                    for (to, weight) in row.iter_mut().zip(&self.weights[from..from + WIDTH]) {
                        *to += value * vector_kept[at] * weight;
                    }
                }
            }
            for &input in &seen.inputs {
                add(row, inputs_kept[at], &layers.inputs[usize::from(input)]);
            }
            if let Some(word) = seen.word {
                let from = part::WORDS + word * WIDTH;
                for (to, weight) in row.iter_mut().zip(&self.weights[from..from + WIDTH]) {
                    *to += own_kept[at] * weight;
                }
            }
        }
        let h0 = masked(&below.iter().map(cut).collect::<Vec<_>>(), &kept0);
        let y1 = layer(&h0, &layers.first, 1);
        let h1 = masked(&y1.iter().map(cut).collect::<Vec<_>>(), &kept1);
        let y2 = layer(&h1, &layers.second, 2);
        let h2: Vec<WideRow> = y2.iter().map(cut).collect();
        let (pooled, places) = pool(&h0, &h1, &h2);
        let mut scores = layers.out_bias;
        for ((value, kept), weights) in pooled.iter().zip(&kept_out).zip(&layers.out) {
            add(&mut scores, value * kept, weights);
        }
        softmax(&mut scores);
        scores[message.class] -= 1.0;
        // Backward.
        let mut up = [0.0_f32; POOLED];
        for (at, up) in up.iter_mut().enumerate() {
            let weights = layers.out[at].iter().zip(&scores);
            *up = kept_out[at] * weights.map(|(weight, error)| weight * error).sum::<f32>();
            add_at(
                &mut self.slope,
                part::OUT + at * CLASSES,
                pooled[at] * kept_out[at],
                &scores,
            );
        }
        add_at(&mut self.slope, part::OUT_BIAS, 1.0, &scores);
        let mut d0 = vec![[0.0_f32; WIDTH]; words];
        let mut d1 = vec![[0.0_f32; WIDE]; words];
        let of_mean: WideRow =
            std::array::from_fn(|unit| up[POOLED - WIDE + unit] / mean_over(words));
        let mut d2 = vec![of_mean; words];
        for (slot, &at) in places.iter().enumerate() {
            if pooled[slot] <= 0.0 {
                continue;
            }
            if slot < WIDTH {
                d0[at][slot] += up[slot];
            } else if slot < WIDTH + WIDE {
                d1[at][slot - WIDTH] += up[slot];
            } else {
                d2[at][slot - WIDTH - WIDE] += up[slot];
            }
        }
        below_cut(&mut d2, &y2);
        self.back(&d2, &h1, &mut d1, &layers.second, part::SECOND, 2);
        let mut d1 = masked(&d1, &kept1);
        below_cut(&mut d1, &y1);
        self.back(&d1, &h0, &mut d0, &layers.first, part::FIRST, 1);
        let mut d0 = masked(&d0, &kept0);
        below_cut(&mut d0, &below);
        for (at, row) in d0.iter().enumerate() {
            let seen = &message.words[at];
            add_at(&mut self.slope, part::BIAS, 1.0, row);
            for &input in &seen.inputs {
                let from = part::INPUT + usize::from(input) * WIDTH;
                add_at(&mut self.slope, from, inputs_kept[at], row);
            }
            if let Some(word) = seen.word {
                add_at(
                    &mut self.slope,
                    part::WORDS + word * WIDTH,
                    own_kept[at],
                    row,
                );
            }
            if let Some(vector) = seen.vector.filter(|_| vector_kept[at] > 0.0) {
                for (number, value) in self.vectors[vector].iter().enumerate() {
                    let from = part::VECTORS + number * WIDTH;
                    add_at(&mut self.slope, from, value * vector_kept[at], row);
                }
            }
        }
    }

    /// Adds the slopes of a layer's weights, whose own slopes are `above`, and those of `below`.
    fn back<const N: usize>(
        &mut self,
        above: &[WideRow],
        below: &[[f32; N]],
        slopes: &mut [[f32; N]],
        weights: &[WideRow],
        part: usize,
        apart: usize,
    ) {
        for row in above {
            add_at(&mut self.slope, part + 3 * N * WIDE, 1.0, row);
        }
        for (at, row) in below.iter().enumerate() {
            for (side, to) in [(0, at + apart), (1, at), (2, at.wrapping_sub(apart))] {
                let Some(above) = above.get(to) else { continue };
                for unit in 0..N {
                    // What was cut off or left out hands nothing on.
                    if row[unit] == 0.0 {
                        continue;
                    }
                    let number = side * N + unit;
                    add_at(&mut self.slope, part + number * WIDE, row[unit], above);
                    let weights = above.iter().zip(&weights[number]);
                    slopes[at][unit] += weights.map(|(a, w)| a * w).sum::<f32>();
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The loss at a message when nothing is left out.
    fn loss(learner: &Learner, message: &Ready) -> f64 {
        let layers = layers(&learner.weights);
        let h0: Vec<Row> = message
            .words
            .iter()
            .map(|seen| {
                let mut row = layers.bias[0];
                if let Some(vector) = seen.vector {
                    let project: Vec<Row> = rows(&learner.weights, part::VECTORS, VECTOR);
                    for (value, weights) in learner.vectors[vector].iter().zip(&project) {
                        add(&mut row, *value, weights);
                    }
                }
                for &input in &seen.inputs {
                    add(&mut row, 1.0, &layers.inputs[usize::from(input)]);
                }
                if let Some(word) = seen.word {
                    let own: Vec<Row> = rows(&learner.weights, part::WORDS + word * WIDTH, 1);
                    add(&mut row, 1.0, &own[0]);
                }
                row
            })
            .collect();
        let mut scores = layers.scores(&h0);
        softmax(&mut scores);
        -f64::from(scores[message.class]).ln()
    }

    /// The slope by the rules is the slope by a small step to either side.
    #[test]
    fn the_slope_is_the_one_that_small_steps_find() {
        let mut chance = Chance(3);
        let vectors = (0..4)
            .map(|_| std::array::from_fn(|_| chance.around(2.0)))
            .collect();
        let mut learner = Learner::new(3, vectors, [0.0; 3], 7);
        for weight in &mut learner.weights {
            *weight += chance.around(0.1);
        }
        let message = Ready {
            words: (0..6)
                .map(|at| Seen {
                    vector: (at != 2).then_some(at % 4),
                    word: (at % 2 == 0).then_some(at / 2),
                    inputs: vec![u8::try_from(at).unwrap(), 40],
                })
                .collect(),
            class: 2,
        };
        let now = layers(&learner.weights);
        learner.learn(&message, &now);
        let slope = learner.slope.clone();
        let (mut near, mut all) = (0, 0);
        for at in (0..learner.weights.len()).step_by(37) {
            let (before, step) = (learner.weights[at], 2e-3);
            learner.weights[at] = before + step;
            let above = loss(&learner, &message);
            learner.weights[at] = before - step;
            let below = loss(&learner, &message);
            learner.weights[at] = before;
            let found = (above - below) / (2.0 * f64::from(step));
            let given = f64::from(slope[at]);
            all += 1;
            near += u32::from((found - given).abs() < 1e-3 + 0.03 * given.abs());
        }
        // A unit may be cut off between the two steps.
        assert!(100 * near >= 98 * all, "{near} of {all}");
    }
}
