//! A small network over the words of a message, in their order.
//!
//! ```text
//! word ─ vector ─┐
//! concepts, scope ┴─ h0 ─ first (3 words) ─ h1 ─ second (every other word of 5) ─ h2
//!                         z = out · [most of h0, most of h1, most of h2, mean of h2]
//! ```
//!
//! `h0` has [`WIDTH`] units, the others [`WIDE`]; all are cut off at zero. Vectors of words come from public ones, so that
//! a word that no labelled message has is taken for what it is like. `fit` fits it (`learner`, `descent`,
//! `chance`).

mod chance;
pub(super) mod descent;
pub(super) mod fit;
mod learner;

use std::fmt::Write as _;

use super::pain::scope;
use crate::message::words::vocabulary::ShortMap;
use crate::message::words::{Concept, Marked};

/// Units of the first layer.
pub(super) const WIDTH: usize = 32;
/// Units of the other two.
pub(super) const WIDE: usize = 64;
/// Classes it tells apart.
pub(super) const CLASSES: usize = 3;
/// What each layer hands to `z`.
pub(super) const POOLED: usize = WIDTH + 3 * WIDE;

/// A value for each unit of the first layer.
pub(super) type Row = [f32; WIDTH];
/// A value for each unit of another.
pub(super) type WideRow = [f32; WIDE];

/// Marks of a word beside its concepts.
const MARKS: usize = 12;
/// Concepts and marks.
pub(super) const INPUTS: usize = Concept::ALL.len() + MARKS;

/// Words at each end of a message that are looked at: a long one takes no longer.
const END: usize = 32;

/// A word with its concepts and marks.
#[derive(Clone, Debug)]
pub(super) struct Place<'m> {
    /// The word, mended.
    pub word: &'m str,
    /// Which of [`INPUTS`] it has.
    pub inputs: Vec<u8>,
}

/// The words of a message.
pub(super) fn places(marked: &Marked) -> Vec<Place<'_>> {
    let units = &marked.units;
    let skipped = END..units.len().saturating_sub(END).max(END);
    let mut out = Vec::with_capacity(units.len().min(2 * END));
    for (at, unit) in units.iter().enumerate() {
        if skipped.contains(&at) {
            continue;
        }
        let mut inputs: Vec<usize> = unit.concepts.iter().map(|c| c as usize).collect();
        let scope = if inputs.is_empty() {
            0
        } else {
            scope(marked, at, at + 1).code()
        };
        let next = units.get(at + 1);
        let marks = [
            unit.unknown,
            unit.owner,
            scope & 1 != 0,
            scope & 2 != 0,
            scope & 4 != 0,
            scope & 8 != 0,
            unit.text.starts_with('#'),
            marked.asks,
            marked.laughs,
        ];
        let on = |(mark, on): (usize, &bool)| on.then_some(Concept::ALL.len() + mark);
        inputs.extend(marks.iter().enumerate().filter_map(on));
        let first = out.len();
        for word in unit.text.split(' ') {
            let mut inputs = inputs.clone();
            if out.len() > first {
                inputs.push(Concept::ALL.len() + 9);
            }
            out.push((word, inputs));
        }
        if let (Some(next), Some((_, last))) = (next, out.last_mut()) {
            if next.clause != unit.clause {
                last.push(Concept::ALL.len() + 10);
            }
            if next.sentence != unit.sentence {
                last.push(Concept::ALL.len() + 11);
            }
        }
    }
    let small = |list: Vec<usize>| list.iter().filter_map(|&i| u8::try_from(i).ok()).collect();
    out.into_iter()
        .map(|(word, inputs)| Place {
            word,
            inputs: small(inputs),
        })
        .collect()
}

/// The layers, without the vectors of words.
#[derive(Clone, Debug, Default)]
pub(super) struct Layers {
    /// For each of [`INPUTS`].
    pub inputs: Vec<Row>,
    /// Of `h0`.
    pub bias: Vec<Row>,
    /// For the word before, the word and the word behind, for each unit of `h0`; last the bias.
    pub first: Vec<WideRow>,
    /// The same over `h1`, two words apart.
    pub second: Vec<WideRow>,
    /// For each of [`POOLED`].
    pub out: Vec<[f32; CLASSES]>,
    /// Before anything is seen.
    pub out_bias: [f32; CLASSES],
}

/// Adds `value` times `row` to `to`.
pub(super) fn add<const N: usize>(to: &mut [f32; N], value: f32, row: &[f32; N]) {
    for (to, weight) in to.iter_mut().zip(row) {
        *to += value * weight;
    }
}

/// A row that is cut off at zero.
pub(super) fn cut<const N: usize>(row: &[f32; N]) -> [f32; N] {
    row.map(|value| value.max(0.0))
}

/// What one layer makes of another: words `apart` before and behind are looked at, too.
pub(super) fn layer<const N: usize>(
    below: &[[f32; N]],
    weights: &[WideRow],
    apart: usize,
) -> Vec<WideRow> {
    let mut out = vec![weights[3 * N]; below.len()];
    for (at, row) in below.iter().enumerate() {
        // The word stands before, at and behind the words that it is handed to.
        for (side, to) in [(0, at + apart), (1, at), (2, at.wrapping_sub(apart))] {
            let Some(to) = out.get_mut(to) else { continue };
            let weights = &weights[side * N..(side + 1) * N];
            for (value, weights) in row.iter().zip(weights) {
                if *value != 0.0 {
                    add(to, *value, weights);
                }
            }
        }
    }
    out
}

impl Layers {
    /// Scores of the classes, by `h0` before it is cut off.
    pub(super) fn scores(&self, h0: &[Row]) -> [f32; CLASSES] {
        let h0: Vec<Row> = h0.iter().map(cut).collect();
        let h1 = layer(&h0, &self.first, 1);
        let h1: Vec<WideRow> = h1.iter().map(cut).collect();
        let h2 = layer(&h1, &self.second, 2);
        let h2: Vec<WideRow> = h2.iter().map(cut).collect();
        let (pooled, _) = pool(&h0, &h1, &h2);
        let mut scores = self.out_bias;
        for (value, weights) in pooled.iter().zip(&self.out) {
            add(&mut scores, *value, weights);
        }
        scores
    }
}

/// The most of each unit over all words, and the mean of the last layer's; with it the words at which the
/// mosts stand.
pub(super) fn pool(
    h0: &[Row],
    h1: &[WideRow],
    h2: &[WideRow],
) -> ([f32; POOLED], [usize; POOLED - WIDE]) {
    let mut pooled = [0.0_f32; POOLED];
    let mut places = [0; POOLED - WIDE];
    let words = mean_over(h0.len());
    for at in 0..h0.len() {
        let values = h0[at].iter().chain(&h1[at]).chain(&h2[at]);
        for (slot, value) in values.enumerate() {
            if *value > pooled[slot] {
                (pooled[slot], places[slot]) = (*value, at);
            }
        }
        for (unit, value) in h2[at].iter().enumerate() {
            pooled[POOLED - WIDE + unit] += value / words;
        }
    }
    (pooled, places)
}

/// What a sum over so many words is divided by: a short message has a small mean.
pub(super) fn mean_over(words: usize) -> f32 {
    f32::from(u16::try_from(words).unwrap_or(u16::MAX)) + 2.0
}

/// Steps of a word's vector each side of zero, in as many printable letters.
const STEPS: f32 = 46.0;
/// The letter for zero.
const ZERO: u8 = b'P';

/// A trained network.
#[derive(Clone, Debug, Default)]
pub(crate) struct Net {
    layers: Layers,
    words: ShortMap<Box<str>, [i8; WIDTH]>,
    step: f32,
}

impl Net {
    /// A network of its parts.
    pub(super) fn new(layers: Layers, words: Vec<(String, Row)>) -> Self {
        let mut sizes: Vec<f32> = words
            .iter()
            .flat_map(|(_, row)| row.map(f32::abs))
            .collect();
        sizes.sort_by(f32::total_cmp);
        // A few far values are cut off, so that the steps stay fine.
        let most = sizes.get(sizes.len() * 999 / 1000).copied();
        let step = most.unwrap_or(1.0).max(0.01) / STEPS;
        let words = words.into_iter().map(|(word, row)| {
            #[expect(clippy::cast_possible_truncation, reason = "it is clamped")]
            let row = row.map(|value| (value / step).round().clamp(-STEPS, STEPS) as i8);
            (word.into(), row)
        });
        Self {
            layers,
            words: words.collect(),
            step,
        }
    }

    /// Scores of the classes; none where nothing was learned.
    pub(crate) fn scores(&self, marked: &Marked) -> Option<[f32; CLASSES]> {
        if self.layers.out.is_empty() {
            return None;
        }
        let h0 = places(marked).into_iter().map(|place| {
            let mut row = self.layers.bias[0];
            for input in place.inputs {
                add(&mut row, 1.0, &self.layers.inputs[usize::from(input)]);
            }
            if let Some(word) = self.words.get(place.word) {
                add(&mut row, self.step, &word.map(f32::from));
            }
            row
        });
        Some(self.layers.scores(&h0.collect::<Vec<_>>()))
    }

    /// The network as text.
    pub(crate) fn print(&self) -> String {
        let mut out = String::new();
        let _ = writeln!(out, "step {}", self.step);
        let mut line = |name: &str, values: &[f32]| {
            let _ = write!(out, "{name}");
            for value in values {
                let _ = write!(out, " {:.0}", value / THOUSANDTH);
            }
            let _ = writeln!(out);
        };
        let layers = &self.layers;
        for (at, row) in layers.inputs.iter().enumerate() {
            let name = Concept::ALL.get(at).map(|c| format!("{c:?}"));
            line(&format!("input {}", name.unwrap_or_default()), row);
        }
        layers.bias.iter().for_each(|row| line("bias ", row));
        layers.first.iter().for_each(|row| line("first ", row));
        layers.second.iter().for_each(|row| line("second ", row));
        layers.out.iter().for_each(|row| line("out ", row));
        line("scores ", &layers.out_bias);
        let mut words: Vec<_> = self.words.iter().collect();
        words.sort();
        for (word, row) in words {
            let letters = row.map(|value| char::from(ZERO.saturating_add_signed(value)));
            let _ = writeln!(out, "word {word} {}", letters.iter().collect::<String>());
        }
        out
    }

    /// Reads networks that [`Self::print`] wrote one behind the other; none where one is something else.
    pub(crate) fn read_all(text: &str) -> Vec<Self> {
        let starts = text.match_indices("step ").map(|(at, _)| at);
        let starts: Vec<usize> = starts
            .filter(|&at| at == 0 || text.as_bytes()[at - 1] == b'\n')
            .collect();
        let ends = starts.iter().skip(1).copied().chain([text.len()]);
        let each = starts.iter().zip(ends).map(|(&from, to)| &text[from..to]);
        each.map(Self::read)
            .collect::<Option<_>>()
            .unwrap_or_default()
    }

    /// Reads what [`Self::print`] wrote; none where it is something else.
    pub(crate) fn read(text: &str) -> Option<Self> {
        let mut net = Self::default();
        for line in text.lines() {
            let (kind, rest) = line.split_once(' ')?;
            let (name, values) = rest.split_once(' ').unwrap_or((rest, ""));
            match kind {
                "step" => net.step = rest.parse().ok()?,
                "word" => {
                    let letters = <[u8; WIDTH]>::try_from(values.as_bytes()).ok()?;
                    let row = letters.map(|letter| letter.wrapping_sub(ZERO).cast_signed());
                    net.words.insert(name.into(), row);
                }
                "input" => net.layers.inputs.push(numbers(values)?),
                "bias" => net.layers.bias.push(numbers(values)?),
                "first" => net.layers.first.push(numbers(values)?),
                "second" => net.layers.second.push(numbers(values)?),
                "out" => net.layers.out.push(numbers(values)?),
                "scores" => net.layers.out_bias = numbers(values)?,
                _ => return None,
            }
        }
        let layers = &net.layers;
        let fits = layers.inputs.len() == INPUTS
            && layers.bias.len() == 1
            && layers.first.len() == 3 * WIDTH + 1
            && layers.second.len() == 3 * WIDE + 1
            && layers.out.len() == POOLED;
        fits.then_some(net)
    }
}

/// Weights of the layers are kept in thousandths.
const THOUSANDTH: f32 = 0.001;

fn numbers<const N: usize>(text: &str) -> Option<[f32; N]> {
    let list: Vec<f32> = text
        .split(' ')
        .map(|word| word.parse::<f32>().ok().filter(|value| value.is_finite()))
        .map(|value| value.map(|value| value * THOUSANDTH))
        .collect::<Option<_>>()?;
    list.try_into().ok()
}
