//! Looks words and phrases up in the lists of concepts.

use super::concept::Concepts;
use super::lists::LISTS;
use super::slips::Slips;
use crate::message::words::vocabulary::ShortMap;

/// One word of an entry; a star in the list makes it a beginning.
#[derive(Clone, Debug)]
struct Part {
    text: Box<str>,
    open: bool,
}

impl Part {
    fn fits(&self, word: &str) -> bool {
        if self.open {
            word.starts_with(&*self.text)
        } else {
            *word == *self.text
        }
    }
}

/// A word or phrase with what it stands for.
#[derive(Clone, Debug)]
struct Entry {
    parts: Vec<Part>,
    concepts: Concepts,
}

/// What was found at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// How many words it takes, at least one.
    pub words: usize,
    /// What they stand for.
    pub concepts: Concepts,
}

/// The lists, indexed by the first letters of each entry's first word.
#[derive(Clone, Debug)]
pub(crate) struct Lexicon {
    entries: ShortMap<Box<[u8]>, Vec<Entry>>,
    slips: Slips,
}

/// Letters of a first word that index it.
const KEY: usize = 3;

fn key(word: &str) -> &[u8] {
    let bytes = word.as_bytes();
    bytes.get(..KEY).unwrap_or(bytes)
}

impl Default for Lexicon {
    fn default() -> Self {
        let mut entries: ShortMap<Box<[u8]>, Vec<Entry>> = ShortMap::default();
        let mut targets = Vec::new();
        for (concepts, list) in LISTS {
            let concepts = Concepts::of(concepts);
            for text in list
                .split(',')
                .map(str::trim)
                .filter(|text| !text.is_empty())
            {
                let parts: Vec<_> = text
                    .split_whitespace()
                    .map(|word| Part {
                        text: word.trim_end_matches('*').into(),
                        open: word.ends_with('*'),
                    })
                    .collect();
                let Some(first) = parts.first() else { continue };
                let word = text.split([' ', '*']).next().unwrap_or_default();
                targets.extend(Slips::target(parts.len(), word, concepts));
                let list = entries.entry(key(&first.text).into()).or_default();
                list.push(Entry { parts, concepts });
            }
        }
        let slips = Slips::new(targets);
        Self { entries, slips }
    }
}

impl Lexicon {
    /// The longest phrase at the beginning of `words`, else all that its first word stands for.
    pub(super) fn find<'w>(&self, word: impl Fn(usize) -> Option<&'w str>) -> Option<Found> {
        let first = word(0)?;
        let entries = self.entries.get(key(first))?;
        let mut best = Found {
            words: 0,
            concepts: Concepts::NONE,
        };
        for entry in entries {
            let count = entry.parts.len();
            if count < best.words {
                continue;
            }
            let fits = entry
                .parts
                .iter()
                .enumerate()
                .all(|(at, part)| word(at).is_some_and(|word| part.fits(word)));
            if fits {
                let before = if count > best.words {
                    Concepts::NONE
                } else {
                    best.concepts
                };
                best = Found {
                    words: count,
                    concepts: before.with(entry.concepts),
                };
            }
        }
        (best.words > 0).then_some(best)
    }

    /// The word that a slip was to be, if `word` is one.
    pub(super) fn mended(&self, word: &str) -> Option<&str> {
        self.slips.mended(word)
    }
}
