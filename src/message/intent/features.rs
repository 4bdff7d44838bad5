//! The features of a message: its words, its concepts, which of them stand near each other, and the
//! runs of letters in its words, by which a slip or an unknown form of a word is like a known one.
//!
//! Pairs of words, and of concepts in one sentence, were tried and left out: they did not help on
//! messages of unseen authors.

use std::fmt;

use super::pain::{Found, Scope, plain, scope};
use crate::domain::quantities::warning::WarningSign;
use crate::message::words::{Concept, Marked, Unit};

/// One feature.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Feature<'m> {
    /// A word, mended.
    Word(&'m str),
    /// A concept somewhere.
    Concept(Concept),
    /// Two concepts in a row, whatever words stand between.
    Next(Concept, Concept),
    /// A concept that something said around it changes: somebody else's, long ago, denied.
    Scoped(Concept, Scope),
    /// A warning sign that the rules find, and whether it is the writer's, now.
    Sign(WarningSign, bool),
    /// A concept and the word before or behind it.
    Beside(Concept, &'m str, bool),
    /// Pain told plainly: by which rule, and whether it is the writer's, now.
    Plain(u8, bool),
    /// Something about the whole message.
    Whole(&'static str),
}

impl fmt::Display for Feature<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Word(word) => write!(f, "{word}"),
            Self::Concept(c) => write!(f, "{c:?}"),
            Self::Next(a, b) => write!(f, "{a:?} {b:?}"),
            Self::Scoped(c, scope) => write!(f, "{c:?} {scope}"),
            Self::Sign(sign, own) => {
                write!(
                    f,
                    "<{}{}>",
                    sign.word(),
                    if *own { "" } else { ", not own" }
                )
            }
            Self::Beside(c, word, true) => write!(f, "{c:?} {word}"),
            Self::Beside(c, word, false) => write!(f, "{word} {c:?}"),
            Self::Plain(rule, own) => {
                write!(f, "<plain {rule}{}>", if *own { "" } else { ", not own" })
            }
            Self::Whole(what) => write!(f, "({what})"),
        }
    }
}

/// FNV-1a, started at a number for each kind of feature.
struct Hash(u64);

impl Hash {
    const fn new(kind: u8) -> Self {
        Self(0xcbf2_9ce4_8422_2325 ^ ((kind as u64) << 56)).byte(kind)
    }

    const fn byte(self, byte: u8) -> Self {
        Self((self.0 ^ byte as u64).wrapping_mul(0x0100_0000_01b3))
    }

    /// Its two halves over each other.
    const fn folded(&self) -> u32 {
        #[expect(clippy::cast_possible_truncation, reason = "the halves are wanted")]
        let folded = (self.0 ^ (self.0 >> 32)) as u32;
        folded
    }

    fn text(self, text: &str) -> Self {
        text.bytes().fold(self, Self::byte).byte(0xff)
    }
}

/// Set in what a run of letters is known by, clear in all others.
const RUN: u32 = 1 << 31;

/// How much a run of letters counts beside a word: a word has a dozen of them.
const RUN_VALUE: f32 = 0.4;

/// How many letters a run has, ends of the word counted.
const RUN_LENGTHS: std::ops::RangeInclusive<usize> = 3..=5;

/// How much a feature counts where it is present, by what it is known by.
pub(crate) const fn value(feature: u32) -> f32 {
    if is_run(feature) { RUN_VALUE } else { 1.0 }
}

/// Whether a feature is a run of letters.
pub(crate) const fn is_run(feature: u32) -> bool {
    feature & RUN != 0
}

/// Hands the runs of letters of each word of `marked` to `take`; many come twice.
pub(crate) fn runs(marked: &Marked, take: impl FnMut(u32)) {
    runs_of(
        marked.units.iter().flat_map(|unit| unit.text.split(' ')),
        take,
    );
}

/// Hands the runs of letters of each of `words` to `take`; many come twice.
pub(crate) fn runs_of<'w>(words: impl Iterator<Item = &'w str>, mut take: impl FnMut(u32)) {
    let mut padded = Vec::with_capacity(32);
    for word in words {
        padded.clear();
        padded.push(b' ');
        padded.extend(word.bytes());
        padded.push(b' ');
        for length in RUN_LENGTHS {
            for run in padded.windows(length) {
                let hash = run
                    .iter()
                    .fold(Hash::new(15), |hash, &byte| hash.byte(byte));
                take(hash.folded() | RUN);
            }
        }
    }
}

/// What words in a row are known by.
pub(super) fn gram(words: &[&str]) -> u32 {
    let start = Hash::new(16);
    let hash = words.iter().fold(start, |hash, word| hash.text(word));
    hash.folded() & !RUN
}

/// What a feature that is a text is known by.
pub(crate) fn hash_of(text: &str) -> u32 {
    Hash::new(16).text(text).folded() & !RUN
}

impl Feature<'_> {
    /// What it is known by.
    pub(crate) fn hash(&self) -> u32 {
        let hash = match *self {
            Self::Word(word) => Hash::new(1).text(word),
            Self::Concept(c) => Hash::new(7).byte(c as u8),
            Self::Next(a, b) => Hash::new(8).byte(a as u8).byte(b as u8),
            Self::Scoped(c, scope) => Hash::new(9).byte(c as u8).byte(scope.code()),
            Self::Sign(sign, own) => Hash::new(13).text(sign.word()).byte(u8::from(own)),
            Self::Beside(c, word, behind) => {
                Hash::new(10 + u8::from(behind)).byte(c as u8).text(word)
            }
            Self::Plain(rule, own) => Hash::new(14).byte(rule).byte(u8::from(own)),
            Self::Whole(what) => Hash::new(12).text(what),
        };
        hash.folded() & !RUN
    }
}

/// Words of which it is looked up whose they are and when; what stands farther back is taken for the writer's:
/// a long message is to take no longer by the word.
const SCOPED: usize = 120;

/// How far apart two concepts in a row may stand, words.
const FAR: usize = 6;

/// Hands each feature of `marked` to `take`; some come twice. `signs` are the warning signs in it.
pub(crate) fn features<'m>(marked: &'m Marked, signs: &[Found], mut take: impl FnMut(Feature<'m>)) {
    let units = &marked.units;
    for (at, unit) in units.iter().enumerate() {
        take(Feature::Word(&unit.text));
        let told = at < SCOPED && !unit.concepts.is_empty();
        let scope = told.then(|| scope(marked, at, at + 1));
        for c in unit.concepts.iter() {
            take(Feature::Concept(c));
            take(Feature::Scoped(c, scope.unwrap_or_default()));
        }
        let Some(next) = units
            .get(at + 1)
            .filter(|next| next.sentence == unit.sentence)
        else {
            continue;
        };
        for c in unit.concepts.iter() {
            take(Feature::Beside(c, &next.text, true));
        }
        for c in next.concepts.iter() {
            take(Feature::Beside(c, &unit.text, false));
        }
        next_concepts(unit, &units[at + 1..], &mut take);
    }
    for found in signs {
        take(Feature::Sign(found.sign, found.holds()));
    }
    for (rule, found) in plain(marked) {
        take(Feature::Plain(rule, found.scope.is_own_now()));
    }
    for (on, what) in [
        (marked.asks, "asks"),
        (marked.laughs, "laughs"),
        (units.len() <= 4, "short"),
        (units.len() > 20, "long"),
    ] {
        if on {
            take(Feature::Whole(what));
        }
    }
}

/// Pairs with the next unit that stands for anything.
fn next_concepts<'m>(unit: &Unit, behind: &[Unit], take: &mut impl FnMut(Feature<'m>)) {
    let next = behind
        .iter()
        .take(FAR)
        .take_while(|other| other.sentence == unit.sentence)
        .find(|other| !other.concepts.is_empty());
    let Some(next) = next else { return };
    for a in unit.concepts.iter() {
        for b in next.concepts.iter() {
            take(Feature::Next(a, b));
        }
    }
}
