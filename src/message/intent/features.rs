//! The features of a message: its words, its concepts, and which of them stand near each other.
//!
//! Runs of letters and pairs of words were tried and left out: with some thousand messages to learn
//! from, they made the decision on messages of unseen authors worse.

use std::fmt;

use super::pain::{Found, Scope, plain, scope};
use crate::domain::warning::WarningSign;
use crate::message::words::{Concept, Marked, Unit};

/// One feature.
#[derive(Clone, Copy, Debug)]
pub(in crate::message) enum Feature<'m> {
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

    fn text(self, text: &str) -> Self {
        text.bytes().fold(self, Self::byte).byte(0xff)
    }
}

impl Feature<'_> {
    /// What it is known by.
    pub(in crate::message) fn hash(&self) -> u64 {
        match *self {
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
        }
        .0
    }
}

/// How far apart two concepts in a row may stand, words.
const FAR: usize = 6;

/// Hands each feature of `marked` to `take`; some come twice. `signs` are the warning signs in it.
pub(in crate::message) fn features<'m>(
    marked: &'m Marked,
    signs: &[Found],
    mut take: impl FnMut(Feature<'m>),
) {
    let units = &marked.units;
    for (at, unit) in units.iter().enumerate() {
        take(Feature::Word(&unit.text));
        let scope = (!unit.concepts.is_empty()).then(|| scope(marked, at, at + 1));
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
