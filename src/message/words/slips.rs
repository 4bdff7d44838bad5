//! Slips of the keyboard in words of the body, of complaints and of warning signs: `sholder`,
//! `cheast`, `dizzyy`, `hmastring`.
//!
//! A word that is in no list is mended when it is one slip away from a word of these lists (two from
//! a long one): a letter left out, doubled, swapped or mistyped; the first letter is right or swapped
//! with the second. Ordinary words that near are in [`super::protected`].

use super::concept::{Concept, Concepts};
use super::protected;
use crate::message::words::vocabulary::ShortMap;

/// Shorter words than this are never mended: `hop` is no slip of `hip`.
const SHORTEST: usize = 4;
/// Longer words than this are no words.
const LONGEST: usize = 24;
/// From this length on a word may have two slips.
const LONG: usize = 8;

/// Words of these concepts are mended to.
const MENDED: Concepts = Concepts::of(&[
    Concept::Joint,
    Concept::Back,
    Concept::Neck,
    Concept::Face,
    Concept::Throat,
    Concept::Chest,
    Concept::Heart,
    Concept::Limb,
    Concept::Calf,
    Concept::Muscle,
    Concept::Belly,
    Concept::Bone,
    Concept::Pain,
    Concept::Sharp,
    Concept::Injury,
    Concept::Buckled,
    Concept::Swollen,
    Concept::Locked,
    Concept::Numb,
    Concept::Weak,
    Concept::Blood,
    Concept::Wound,
    Concept::Broke,
    Concept::Fainted,
    Concept::Dizzy,
    Concept::Dimmed,
    Concept::Slurred,
    Concept::Droops,
    Concept::Headache,
    Concept::Breath,
    Concept::Breathless,
    Concept::OddBeat,
    Concept::Urine,
    Concept::Tight,
    Concept::Confused,
    Concept::Hives,
    Concept::Allergen,
    Concept::Suicide,
    Concept::Seizure,
    Concept::Unresponsive,
    Concept::Emergency,
]);

/// Words of phrases that tell of danger (`kill myself`), mended like those that do so by themselves.
const OF_PHRASES: [&str; 3] = ["collapsed", "killing", "myself"];

/// Words that are mended to, by what is left of them without one letter.
#[derive(Clone, Debug)]
pub(super) struct Slips {
    targets: Vec<Box<str>>,
    shortened: ShortMap<Box<str>, Vec<u16>>,
    protected: ShortMap<Box<str>, ()>,
}

impl Slips {
    /// The word of a list, where slips of it are mended.
    pub(super) fn target(words: usize, text: &str, concepts: Concepts) -> Option<&str> {
        (words == 1 && concepts.any(MENDED) && text.len() >= SHORTEST && text.is_ascii())
            .then_some(text)
    }

    pub(super) fn new<'t>(words: impl IntoIterator<Item = &'t str>) -> Self {
        let mut slips = Self {
            targets: Vec::new(),
            shortened: ShortMap::default(),
            protected: ShortMap::default(),
        };
        for word in protected::LIST.split_whitespace() {
            slips.protected.insert(word.into(), ());
        }
        let mut words: Vec<_> = words.into_iter().chain(OF_PHRASES).collect();
        words.sort_unstable();
        words.dedup();
        for word in words {
            let Ok(number) = u16::try_from(slips.targets.len()) else {
                break;
            };
            slips.targets.push(word.into());
            for short in with_shorter(word) {
                let list = slips.shortened.entry(short.into()).or_default();
                if list.last() != Some(&number) {
                    list.push(number);
                }
            }
        }
        slips
    }

    /// The word that `word` was to be; the nearest, of several the first in the alphabet.
    pub(super) fn mended(&self, word: &str) -> Option<&str> {
        if !(SHORTEST..=LONGEST).contains(&word.len())
            || !word.is_ascii()
            || self.protected.contains_key(word)
        {
            return None;
        }
        let mut best: Option<(usize, u16)> = None;
        for short in with_shorter(word) {
            for &number in self.shortened.get(short.as_str()).into_iter().flatten() {
                let target = self.targets.get(usize::from(number))?;
                let distance = strsim::osa_distance(word, target);
                if distance <= allowed(word, target)
                    && same_start(word, target)
                    && best.is_none_or(|best| (distance, number) < best)
                {
                    best = Some((distance, number));
                }
            }
        }
        let (_, number) = best?;
        self.targets.get(usize::from(number)).map(|word| &**word)
    }
}

fn allowed(word: &str, target: &str) -> usize {
    if word.len().min(target.len()) >= LONG {
        2
    } else {
        1
    }
}

/// Typists get the first letter right, or swap it with the second.
fn same_start(word: &str, target: &str) -> bool {
    let first = |text: &str, at: usize| text.as_bytes().get(at).copied();
    first(word, 0) == first(target, 0)
        || first(word, 0) == first(target, 1) && first(word, 1) == first(target, 0)
}

/// The word itself and what it is without each one of its letters, and with its runs of a letter
/// made one: `dizzyy` and `kneee`.
fn with_shorter(word: &str) -> impl Iterator<Item = String> {
    let without = (0..word.len()).map(|at| {
        let mut short = String::with_capacity(word.len());
        short.push_str(&word[..at]);
        short.push_str(&word[at + 1..]);
        short
    });
    std::iter::once(word.to_owned()).chain(without)
}

#[cfg(test)]
mod tests {
    use crate::message::words::Lexicon;

    #[test]
    fn a_correctly_spelt_word_is_mended_into_nothing() {
        let lexicon = Lexicon::default();
        for word in "ramping gapping repping held testing texting stats skim slams smash fish \
             pics goin okie rach beth scrum"
            .split(' ')
        {
            assert_eq!(lexicon.mended(word), None, "{word}");
        }
        for (slip, word) in [("sholder", "shoulder"), ("gaspng", "gasping")] {
            assert_eq!(lexicon.mended(slip), Some(word));
        }
    }
}
