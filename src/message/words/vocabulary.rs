//! Words and what the reader knows of them: a grammar word each ([`W`]) and the roles they may
//! play in judging a message ([`Roles`]).
//!
//! The lists themselves stand in `lexicon`; names of exercises and muscles are added by `names`.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

pub(crate) use super::word::{Roles, W, Word};
use super::{grammar_words, lookalikes};

/// FNV-1a over the bytes of a short word: the table is built from trusted lists, and a lookup must
/// cost no more than a few nanoseconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ShortHash(u64);

impl Default for ShortHash {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Hasher for ShortHash {
    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }

    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }
}

/// A map from short keys.
pub(crate) type ShortMap<K, V> = HashMap<K, V, BuildHasherDefault<ShortHash>>;

/// Every word that the reader knows.
#[derive(Clone, Debug)]
pub(crate) struct Vocabulary {
    words: ShortMap<Box<str>, Word>,
    symbols: u16,
}

impl Default for Vocabulary {
    fn default() -> Self {
        let mut vocabulary = Self {
            words: ShortMap::default(),
            symbols: 0,
        };
        // Number words first: the first grammar word of a text is the one that stays.
        for &(text, w, value, roles) in grammar_words::NUMBERS {
            vocabulary.learn(text, w, value, roles);
        }
        for &(list, w, roles) in grammar_words::WORDS {
            for text in list.split_whitespace() {
                vocabulary.learn(text, w, 0, roles);
            }
        }
        for text in lookalikes::LIST.split_whitespace() {
            let word = vocabulary.words.entry(text.into()).or_default();
            word.roles = word.roles.with(Roles::LOOKALIKE);
        }
        vocabulary
    }
}

impl Vocabulary {
    /// Longer words than this are no words: pasted noise is not hashed whole.
    const LONGEST: usize = 32;

    /// What is known of `text`, folded.
    pub(crate) fn word(&self, text: &str) -> Word {
        if text.len() > Self::LONGEST {
            return Word::UNKNOWN;
        }
        self.words.get(text).copied().unwrap_or(Word::UNKNOWN)
    }

    /// Adds to what is known of `text`: the first grammar word stays, roles are joined.
    fn learn(&mut self, text: &str, w: W, value: u8, roles: Roles) {
        let word = self.words.entry(text.into()).or_default();
        if word.w == W::None {
            word.w = w;
            word.value = value;
        }
        word.roles = word.roles.with(roles).with(Roles::KNOWN);
    }

    /// Gives `text` a symbol as part of names, but makes no name's word of it: `alternate`, `sitting`.
    pub(crate) fn name_part(&mut self, text: &str) {
        let before = self.word(text).roles;
        self.symbol(text);
        if let Some(word) = self.words.get_mut(text) {
            word.roles = before;
        }
    }

    /// The text of each symbol, by its number.
    pub(crate) fn symbol_texts(&self) -> Vec<Box<str>> {
        let mut out: Vec<Box<str>> = vec![Box::default(); usize::from(self.symbols) + 1];
        for (text, word) in &self.words {
            if word.symbol != 0
                && let Some(slot) = out.get_mut(usize::from(word.symbol))
            {
                slot.clone_from(text);
            }
        }
        out
    }

    /// The symbol of `text` as part of a name; given out on first call.
    pub(crate) fn symbol(&mut self, text: &str) -> u16 {
        let word = self.words.entry(text.into()).or_default();
        if word.symbol == 0 {
            self.symbols = self.symbols.saturating_add(1);
            word.symbol = self.symbols;
        }
        word.roles = word.roles.with(Roles::NAME);
        word.symbol
    }
}

impl Vocabulary {
    /// The words of names that are no ordinary short words, with what is known of them.
    pub(crate) fn names(&self) -> impl Iterator<Item = (&str, Word)> {
        self.words
            .iter()
            .filter(|(_, word)| word.symbol != 0)
            .map(|(text, word)| (text.as_ref(), *word))
    }
}
