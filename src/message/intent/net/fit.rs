//! Fits a [`Net`] to labelled messages.
//!
//! The same messages in the same order give the same network.

use std::collections::{BTreeMap, HashMap};

use super::descent::{Plan, descend};
use super::learner::{Learner, Ready, Seen, VECTOR, layers, part, rows};
use super::{Net, Row, WIDTH, add, places};
use crate::message::words::Marked;

/// Public vectors of words, by which a word that was not learned is like one that was.
#[derive(Clone, Debug, Default)]
pub(crate) struct Vectors(HashMap<String, [f32; VECTOR]>);

/// Tenths each side of zero, in as many printable letters from this one.
const LEAST_LETTER: u8 = b'1';

impl Vectors {
    /// Reads lines of a word and a letter for each number; others are passed over.
    pub(crate) fn read(text: &str) -> Self {
        let vector = |line: &str| {
            let (word, letters) = line.split_once(' ')?;
            let letters = <[u8; VECTOR]>::try_from(letters.as_bytes()).ok()?;
            let number = |letter: u8| (f32::from(letter) - f32::from(LEAST_LETTER) - 30.0) / 10.0;
            Some((word.to_owned(), letters.map(number)))
        };
        Self(text.lines().filter_map(vector).collect())
    }
}

/// Words of a message that are learned from.
const LONGEST: usize = 40;

/// Fits a network to messages with the number of the class of each. Of the first `written` it is counted how often
/// a word comes: the others were put together from those.
pub(crate) fn fit_net(
    messages: &[(&Marked, usize)],
    written: usize,
    vectors: &Vectors,
    plan: Plan,
) -> Net {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let placed: Vec<_> = messages.iter().map(|(marked, _)| places(marked)).collect();
    for place in placed.iter().take(written).flatten() {
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
    let mut learner = Learner::new(own.len(), of_words, plan.out, plan.seed);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;
    use crate::message::NameIndex;
    use crate::message::intent::net::CLASSES;
    use crate::message::words::Lexicon;
    use crate::message::words::token::tokenize;

    fn marked(text: &str) -> Marked {
        let names = NameIndex::new(&config::built_in());
        Marked::new(&tokenize(text, names.vocabulary()), &Lexicon::default())
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
            seed: 7,
            rounds: 300,
            batch: 4,
            rate: 1e-2,
            decay: 0.0,
            out: [0.0, 0.5, 0.0],
            kept_from: 1,
        };
        let net = fit_net(&list, list.len(), &vectors, plan);
        assert_eq!(
            net.print(),
            fit_net(&list, list.len(), &vectors, plan).print()
        );
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
