//! Learns the weights of the decision from labelled messages; `chalkbell train` calls it.

use std::collections::BTreeMap;

use super::decide::{CLASSES, Judge, each_once, of_signs, price_of_sign, verdict};
use super::signs::{self, Found};
use crate::domain::quantities::warning::WarningSign;
use crate::message::NameIndex;
use crate::message::intent::features::{Feature, features};
use crate::message::intent::net::descent::Plan;
use crate::message::intent::net::fit::{Vectors, fit_net};
use crate::message::intent::train::{Example, Fit, fit};
use crate::message::words::Marked;
use crate::message::words::token::tokenize;

/// What a labelled message is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Want {
    /// No report.
    Nothing,
    /// A report of pain.
    Hurt,
    /// A warning sign, where labelled which.
    Urgent(Option<WarningSign>),
}

impl Want {
    const fn class(self) -> usize {
        match self {
            Self::Nothing => 0,
            Self::Hurt => 1,
            Self::Urgent(_) => 2,
        }
    }
}

/// A labelled message.
#[derive(Clone, Debug)]
pub struct Labelled {
    /// Who wrote it.
    pub author: String,
    /// The message.
    pub text: String,
    /// What it is.
    pub want: Want,
    /// How much it counts; 1 for an ordinary one.
    pub weight: f32,
}

/// What was learned, as the files in `config/`.
#[derive(Clone, Debug)]
pub struct Weights {
    /// Whether a message is a report (`pain.weights`).
    pub report: String,
    /// Which sign one is (`pain_signs.weights`).
    pub sign: String,
    /// Whether a message is a report, by the order of its words (`pain.net`); empty without vectors of
    /// words to learn it by.
    pub net: String,
}

/// How the linear models are fitted. Chosen by holding out one author after the other.
const FIT: Fit = Fit {
    steps: 80,
    pull: 1.0,
    kept_from: 2,
    runs_from: 3,
    least: 0.03,
};

/// How the signs are told apart: there are fewer messages to each.
const FIT_SIGNS: Fit = Fit {
    kept_from: 3,
    least: 0.08,
    ..FIT
};

/// A message, ready to be learned.
struct Ready<'l> {
    label: &'l Labelled,
    marked: Marked,
    signs: Vec<Found>,
    features: Vec<u32>,
}

/// How the network is fitted. Chosen in the same way.
const PLAN: Plan = Plan {
    seed: 7,
    rounds: 8,
    batch: 64,
    rate: 3e-3,
    decay: 1e-2,
    out: [0.15, 0.3, 0.2],
    kept_from: 2,
};

/// What the chance of each network is drawn from: networks that learned by other chance err on other messages,
/// so that all together err less.
const SEEDS: [u64; 2] = [7, 11];

/// Learns from `labelled`; `names` are those of the catalogue, so that sets are known as such, `vectors`
/// public vectors of words, a word and a letter for each number on a line, or empty. The same messages
/// in the same order give the same weights. Takes some seconds; with vectors, and unless optimised, an hour.
#[must_use]
pub fn train(labelled: &[Labelled], names: &NameIndex, vectors: &str) -> Weights {
    let judge = Judge::new("", "", "");
    let beside = beside_harmless(labelled);
    let all: Vec<Ready<'_>> = labelled
        .iter()
        .chain(&beside)
        .map(|label| {
            let marked = judge.mark(&tokenize(&label.text, names.vocabulary()));
            let signs = signs::signs(&marked);
            let mut features = Vec::new();
            each_once(&marked, &signs, |feature| features.push(feature));
            Ready {
                label,
                marked,
                signs,
                features,
            }
        })
        .collect();
    let names = names_of(&all);
    let name = |feature: u32| names.get(&feature).cloned().unwrap_or_default();

    // Those that were put together would make every word of a report come twice.
    let written = &all[..labelled.len()];
    let examples: Vec<_> = written.iter().map(report_example).collect();
    let report = fit(&CLASSES, &examples, FIT);

    let sign_words: Vec<_> = WarningSign::ALL.iter().map(|sign| sign.word()).collect();
    let examples: Vec<_> = written.iter().filter_map(sign_example).collect();
    let sign = fit(&sign_words, &examples, FIT_SIGNS);
    let net = if vectors.is_empty() {
        String::new()
    } else {
        let list: Vec<_> = all
            .iter()
            .map(|ready| (&ready.marked, ready.label.want.class()))
            .collect();
        let vectors = Vectors::read(vectors);
        let nets = SEEDS
            .map(|seed| fit_net(&list, labelled.len(), &vectors, Plan { seed, ..PLAN }).print());
        nets.concat()
    };
    Weights {
        report: report.print(name),
        sign: sign.print(name),
        net,
    }
}

/// How each of `rows` is decided by `weights`, for whoever weighs a change: what is done, the probabilities of
/// nothing, a pain and a warning sign, the prices of a needless answer by the rules (9 where there is none),
/// whether it speaks of the body in words of the lists, and of what sign an answer would speak.
#[must_use]
pub fn decided(rows: &[Labelled], weights: &Weights, names: &NameIndex) -> Vec<String> {
    let judge = Judge::new(&weights.report, &weights.sign, &weights.net);
    let one = |row: &Labelled| {
        let tokens = tokenize(&row.text, names.vocabulary());
        let marked = judge.mark(&tokens);
        let weighed = judge.weigh(&marked);
        let sign_said = judge.sign_of(&marked, &weighed.signs).word();
        let [none, hurt, urgent] = weighed.p;
        let price = |price: Option<f32>| price.unwrap_or(9.0);
        let (sign, plain) = (price(price_of_sign(&weighed)), price(weighed.plain));
        let done = verdict(&weighed);
        let about = if Judge::matters(&marked) {
            "body"
        } else {
            "chat"
        };
        format!("{done:?} {none:.4} {hurt:.4} {urgent:.4} {sign:.2} {plain:.2} {about} {sign_said}")
            .to_lowercase()
    };
    rows.iter().map(one).collect()
}

/// Every report once more beside something harmless of the same author, before or behind it, and as many pairs
/// that are harmless both: what else stands in a message makes a report of it no less, and no more.
fn beside_harmless(labelled: &[Labelled]) -> Vec<Labelled> {
    let mut harmless: BTreeMap<&str, Vec<&Labelled>> = BTreeMap::new();
    for label in labelled {
        if label.want == Want::Nothing && label.text.len() <= LONGEST_BESIDE {
            harmless.entry(&label.author).or_default().push(label);
        }
    }
    let mut out = Vec::new();
    let reports = labelled.iter().filter(|label| label.want != Want::Nothing);
    for (at, report) in reports.enumerate() {
        let Some(list) = harmless.get(report.author.as_str()) else {
            continue;
        };
        // A step that shares no factor with the lists' lengths, so that all of a list is used.
        let one = list[at * 7919 % list.len()];
        let other = list[(at * 7919 + list.len() / 2) % list.len()];
        for (label, beside) in [(report, one), (other, one)] {
            let (first, second) = if at % 2 == 0 {
                (label, beside)
            } else {
                (beside, label)
            };
            let end = if first.text.ends_with(['.', '!', '?', ')']) {
                " "
            } else {
                [". ", ", ", "\n", " - "][at / 2 % 4]
            };
            out.push(Labelled {
                author: label.author.clone(),
                text: format!("{}{end}{}", first.text, second.text),
                want: label.want,
                weight: label.weight,
            });
        }
    }
    out
}

/// Longer messages, bytes, are put beside none.
const LONGEST_BESIDE: usize = 100;

fn report_example(ready: &Ready<'_>) -> Example {
    Example {
        features: ready.features.clone(),
        class: ready.label.want.class(),
        weight: ready.label.weight,
    }
}

fn sign_example(ready: &Ready<'_>) -> Option<Example> {
    let Want::Urgent(Some(sign)) = ready.label.want else {
        return None;
    };
    let mut list = Vec::new();
    of_signs(&ready.marked, &ready.signs, |feature| list.push(feature));
    Some(Example {
        features: list,
        class: WarningSign::ALL.iter().position(|one| *one == sign)?,
        weight: 1.0,
    })
}

/// What each feature is, for readers of the files.
fn names_of(all: &[Ready<'_>]) -> BTreeMap<u32, String> {
    let mut names = BTreeMap::new();
    for ready in all {
        features(&ready.marked, &ready.signs, |feature: Feature<'_>| {
            names
                .entry(feature.hash())
                .or_insert_with(|| feature.to_string());
        });
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn labelled(author: &str, text: &str, want: Want) -> Labelled {
        Labelled {
            author: author.to_owned(),
            text: text.to_owned(),
            want,
            weight: 1.0,
        }
    }

    #[test]
    fn the_same_messages_give_the_same_weights_and_these_tell_them_apart() {
        let names = NameIndex::new(&config::built_in());
        let chest = Want::Urgent(Some(WarningSign::Chest));
        let list: Vec<_> = ["one", "two"]
            .iter()
            .flat_map(|author| {
                [
                    labelled(author, "my knee hurts", Want::Hurt),
                    labelled(author, "chest feels tight", chest),
                    labelled(author, "chest day with the lads", Want::Nothing),
                    labelled(author, "back to the gym again", Want::Nothing),
                ]
            })
            .collect();
        let first = train(&list, &names, "");
        let again = train(&list, &names, "");
        assert_eq!(first.report, again.report);
        let judge = Judge::new(&first.report, &first.sign, "");
        let decide = |text: &str| judge.decide(&tokenize(text, names.vocabulary()));
        assert!(decide("my knee hurts").hurt.is_some());
        let sign = decide("chest feels tight").hurt.and_then(|hurt| hurt.sign);
        assert_eq!(sign, Some(WarningSign::Chest));
        assert_eq!(decide("back to the gym again").hurt, None);
    }
}
