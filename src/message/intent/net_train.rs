//! Fits a [`Net`] to labelled messages.
//!
//! Gradient descent with Adam (Kingma and Ba 2015, arXiv 1412.6980, with decay of the weights as in
//! Loshchilov and Hutter 2019, arXiv 1711.05101; both from memory). Words, concepts and units are left out
//! at random while it learns (dropout), so that none is leant on alone. All chance is drawn from a fixed
//! seed: the same messages in the same order give the same network.

use std::collections::{BTreeMap, HashMap};

use super::model::softmax;
use super::net::{
    CLASSES, INPUTS, Layers, Net, POOLED, Row, WIDE, WIDTH, WideRow, add, cut, layer, mean_over,
    places, pool,
};
use crate::message::words::Marked;

/// Numbers of a public vector of a word.
const VECTOR: usize = 32;

/// Public vectors of words, by which a word that was not learned is like one that was.
#[derive(Clone, Debug, Default)]
pub(in crate::message) struct Vectors(HashMap<String, [f32; VECTOR]>);

/// Tenths each side of zero, in as many printable letters from this one.
const LEAST_LETTER: u8 = b'1';

impl Vectors {
    /// Reads lines of a word and a letter for each number; others are passed over.
    pub(in crate::message) fn read(text: &str) -> Self {
        let vector = |line: &str| {
            let (word, letters) = line.split_once(' ')?;
            let letters = <[u8; VECTOR]>::try_from(letters.as_bytes()).ok()?;
            let number = |letter: u8| (f32::from(letter) - f32::from(LEAST_LETTER) - 30.0) / 10.0;
            Some((word.to_owned(), letters.map(number)))
        };
        Self(text.lines().filter_map(vector).collect())
    }
}

/// How to fit.
#[derive(Clone, Copy, Debug)]
pub(in crate::message) struct Plan {
    /// Times that every message is seen.
    pub rounds: usize,
    /// Messages between two steps.
    pub batch: usize,
    /// Length of the longest step.
    pub rate: f32,
    /// Share by which weights shrink with a step of length 1.
    pub decay: f32,
    /// Shares that are left out: concepts or vector of a word, what was learned of a word, units.
    pub out: [f32; 3],
    /// Words in fewer messages have nothing learned of their own.
    pub kept_from: usize,
}

/// Words of a message that are learned from.
const LONGEST: usize = 40;

/// Where each part of the weights begins in one list of all.
mod part {
    use super::{CLASSES, INPUTS, POOLED, VECTOR, WIDE, WIDTH};

    pub(super) const VECTORS: usize = 0;
    pub(super) const INPUT: usize = VECTORS + VECTOR * WIDTH;
    pub(super) const BIAS: usize = INPUT + INPUTS * WIDTH;
    pub(super) const FIRST: usize = BIAS + WIDTH;
    pub(super) const FIRST_BIAS: usize = FIRST + 3 * WIDTH * WIDE;
    pub(super) const SECOND: usize = FIRST_BIAS + WIDE;
    pub(super) const SECOND_BIAS: usize = SECOND + 3 * WIDE * WIDE;
    pub(super) const OUT: usize = SECOND_BIAS + WIDE;
    pub(super) const OUT_BIAS: usize = OUT + POOLED * CLASSES;
    pub(super) const WORDS: usize = OUT_BIAS + CLASSES;
}

/// Numbers that look drawn: splitmix64 (Steele, Lea and Flood 2014, from memory).
struct Chance(u64);

impl Chance {
    /// From 0 up to 1.
    fn share(&mut self) -> f32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        #[expect(clippy::cast_precision_loss, reason = "24 bits fit")]
        let share = (mixed >> 40) as f32 / (1_u32 << 24) as f32;
        share
    }

    /// From `-most` to `most`.
    fn around(&mut self, most: f32) -> f32 {
        (2.0 * self.share() - 1.0) * most
    }

    /// Zero with a chance of `out`, else what makes up for that.
    fn kept(&mut self, out: f32) -> f32 {
        if self.share() < out {
            0.0
        } else {
            1.0 / (1.0 - out)
        }
    }

    fn below(&mut self, count: usize) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_precision_loss,
            clippy::cast_sign_loss,
            reason = "some ten thousand messages"
        )]
        let drawn = (self.share() * count as f32) as usize;
        drawn.min(count.saturating_sub(1))
    }
}

/// A word of an example.
struct Seen {
    vector: Option<usize>,
    word: Option<usize>,
    inputs: Vec<u8>,
}

/// A message, ready to be learned.
struct Ready {
    words: Vec<Seen>,
    class: usize,
}

/// The rows of a part.
fn rows<const N: usize>(list: &[f32], from: usize, count: usize) -> Vec<[f32; N]> {
    let row = |at: usize| std::array::from_fn(|unit| list[from + at * N + unit]);
    (0..count).map(row).collect()
}

fn add_at<const N: usize>(list: &mut [f32], from: usize, value: f32, row: &[f32; N]) {
    for (to, weight) in list[from..from + N].iter_mut().zip(row) {
        *to += value * weight;
    }
}

fn layers(list: &[f32]) -> Layers {
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

struct Learner {
    weights: Vec<f32>,
    slope: Vec<f32>,
    vectors: Vec<[f32; VECTOR]>,
    chance: Chance,
    out: [f32; 3],
}

impl Learner {
    fn new(words: usize, vectors: Vec<[f32; VECTOR]>, out: [f32; 3]) -> Self {
        let mut chance = Chance(7);
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
    fn learn(&mut self, message: &Ready, layers: &Layers) {
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

/// The size of a slope beyond which it is made shorter.
const STEEPEST: f32 = 1.0;

/// Fits a network to messages with the number of the class of each.
pub(in crate::message) fn fit_net(
    messages: &[(&Marked, usize)],
    vectors: &Vectors,
    plan: Plan,
) -> Net {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let placed: Vec<_> = messages.iter().map(|(marked, _)| places(marked)).collect();
    for place in placed.iter().flatten() {
        *counts.entry(place.word).or_default() += 1;
    }
    let kept = counts.iter().filter(|(_, count)| **count >= plan.kept_from);
    let own: HashMap<&str, usize> = kept
        .enumerate()
        .map(|(at, (word, _))| (*word, at))
        .collect();
    let mut known: Vec<(&str, [f32; VECTOR])> = vectors
        .0
        .iter()
        .map(|(word, v)| (word.as_str(), *v))
        .collect();
    known.sort_by_key(|(word, _)| *word);
    let at_vector: HashMap<&str, usize> = known
        .iter()
        .enumerate()
        .map(|(at, (word, _))| (*word, at))
        .collect();
    let ready: Vec<Ready> = placed
        .iter()
        .zip(messages)
        .map(|(places, (_, class))| Ready {
            words: places
                .iter()
                .take(LONGEST)
                .map(|place| Seen {
                    vector: at_vector.get(place.word).copied(),
                    word: own.get(place.word).copied(),
                    inputs: place.inputs.clone(),
                })
                .collect(),
            class: *class,
        })
        .collect();
    let of_words = known.iter().map(|(_, vector)| *vector).collect();
    let mut learner = Learner::new(own.len(), of_words, plan.out);
    descend(&mut learner, &ready, plan);

    let project: Vec<Row> = rows(&learner.weights, part::VECTORS, VECTOR);
    let mut all: BTreeMap<&str, Row> = BTreeMap::new();
    for (word, vector) in &known {
        let row = all.entry(word).or_insert([0.0; WIDTH]);
        for (value, weights) in vector.iter().zip(&project) {
            add(row, *value, weights);
        }
    }
    for (word, at) in own {
        let learned: Vec<Row> = rows(&learner.weights, part::WORDS + at * WIDTH, 1);
        add(all.entry(word).or_insert([0.0; WIDTH]), 1.0, &learned[0]);
    }
    let words = all.into_iter().map(|(word, row)| (word.to_owned(), row));
    Net::new(layers(&learner.weights), words.collect())
}

/// Adam's two shares that are kept of what was, and what keeps it from dividing by zero.
const KEPT: (f32, f32) = (0.9, 0.999);
const LEAST: f32 = 1e-8;

fn descend(learner: &mut Learner, ready: &[Ready], plan: Plan) {
    #[expect(clippy::cast_precision_loss, reason = "some thousand steps")]
    let number = |count: usize| count as f32;
    let size = learner.weights.len();
    let (mut mean, mut square) = (vec![0.0_f32; size], vec![0.0_f32; size]);
    let mut order: Vec<usize> = (0..ready.len()).collect();
    let steps = plan.rounds * (ready.len() / plan.batch.max(1));
    let warm = (steps / 15).max(1);
    let mut step = 0;
    for _ in 0..plan.rounds {
        for at in (1..order.len()).rev() {
            order.swap(at, learner.chance.below(at + 1));
        }
        for batch in order.chunks_exact(plan.batch.max(1)) {
            step += 1;
            let layers = layers(&learner.weights);
            learner.slope.fill(0.0);
            for &at in batch {
                learner.learn(&ready[at], &layers);
            }
            let share = 1.0 / number(batch.len());
            let steep = learner
                .slope
                .iter()
                .map(|s| s * s * share * share)
                .sum::<f32>()
                .sqrt();
            let share = share * (STEEPEST / steep.max(STEEPEST));
            let rate = if step <= warm {
                plan.rate * number(step) / number(warm)
            } else {
                let done = number(step - warm) / number((steps - warm).max(1));
                plan.rate * (0.02 + 0.98 * 0.5 * (1.0 + (std::f32::consts::PI * done).cos()))
            };
            let grown = (
                1.0 - KEPT.0.powf(number(step)),
                1.0 - KEPT.1.powf(number(step)),
            );
            for at in 0..size {
                let slope = learner.slope[at] * share;
                mean[at] += (1.0 - KEPT.0) * (slope - mean[at]);
                square[at] += (1.0 - KEPT.1) * (slope * slope - square[at]);
                let way = (mean[at] / grown.0) / ((square[at] / grown.1).sqrt() + LEAST);
                learner.weights[at] -= rate * (way + plan.decay * learner.weights[at]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;
    use crate::message::NameIndex;
    use crate::message::token::tokenize;
    use crate::message::words::Lexicon;

    fn marked(text: &str) -> Marked {
        let names = NameIndex::new(&config::built_in());
        Marked::new(&tokenize(text, names.vocabulary()), &Lexicon::default())
    }

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
        let mut learner = Learner::new(3, vectors, [0.0; 3]);
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

    #[test]
    fn a_network_tells_by_order_and_by_what_a_word_is_like_and_is_read_as_printed() {
        // `window` is like `basket`, and no message has it.
        let vector =
            |word: &str, letter: char| format!("{word} {}\n", letter.to_string().repeat(32));
        let vectors = Vectors::read(
            &[
                vector("basket", 'n'),
                vector("window", 'n'),
                vector("table", '1'),
            ]
            .concat(),
        );
        let texts = [
            ("the cat saw the basket", 2),
            ("basket saw the cat", 0),
            ("the cat saw the table", 1),
            ("table saw the cat", 0),
        ];
        let list: Vec<_> = texts
            .iter()
            .map(|(text, class)| (marked(text), *class))
            .collect();
        let list: Vec<_> = list
            .iter()
            .map(|(marked, class)| (marked, *class))
            .collect();
        let plan = Plan {
            rounds: 300,
            batch: 4,
            rate: 1e-2,
            decay: 0.0,
            out: [0.0, 0.5, 0.0],
            kept_from: 1,
        };
        let net = fit_net(&list, &vectors, plan);
        assert_eq!(net.print(), fit_net(&list, &vectors, plan).print());
        let read = Net::read(&net.print()).unwrap();
        let best = |text: &str| {
            let scores = read.scores(&marked(text)).unwrap();
            (0..CLASSES).max_by(|a, b| scores[*a].total_cmp(&scores[*b]))
        };
        for (text, class) in texts {
            assert_eq!(best(text), Some(class), "{text}");
        }
        assert_eq!(best("the cat saw the window"), Some(2));
        assert!(Net::read("").is_none() && Net::read("word x y").is_none());
    }
}
