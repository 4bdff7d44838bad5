//! The tokens of a message with a few ways to look at them, for all that reads phrases.

use super::item::{Item, Spanned};
use crate::message::words::names::NameIndex;
use crate::message::words::token::{Kind, Mark, Token, Tokens};
use crate::message::words::vocabulary::W;

/// A phrase read: what it is, and the token after its last.
pub(crate) type Phrase = (Item, usize);

/// The tokens of a message with a few ways to look at them.
pub(crate) struct Scan<'m> {
    pub tokens: &'m [Token],
    pub names: &'m NameIndex,
    pub text: &'m Tokens,
}

impl<'m> Scan<'m> {
    /// A view of `text`.
    pub(crate) fn new(text: &'m Tokens, names: &'m NameIndex) -> Self {
        Self {
            tokens: &text.list,
            names,
            text,
        }
    }

    /// The token at `at`.
    pub(crate) fn token(&self, at: usize) -> Option<&Token> {
        self.tokens.get(at)
    }

    /// The grammar word at `at`.
    pub(crate) fn w(&self, at: usize) -> W {
        self.tokens.get(at).map_or(W::None, |token| token.word.w)
    }

    /// The folded text at `at`; empty for a mark and behind the end.
    pub(crate) fn text_at(&self, at: usize) -> &'m str {
        self.tokens
            .get(at)
            .map(|token| self.text.text_of(token))
            .unwrap_or_default()
    }

    /// Whether the mark at `at` is `mark`.
    pub(crate) fn is(&self, at: usize, mark: Mark) -> bool {
        self.tokens.get(at).is_some_and(|token| token.is(mark))
    }

    /// Whether the word at `at` was written with `'ve`, which is cut off it.
    pub(crate) fn short_have(&self, at: usize) -> bool {
        let cut = self.token(at).filter(|token| token.kind == Kind::Word);
        cut.and_then(|token| self.text.text.get(token.end as usize..))
            .is_some_and(|behind| behind.starts_with("ve"))
            && self.tokens.get(at + 1).is_none_or(|next| {
                cut.is_some_and(|token| next.start >= token.end.saturating_add(2))
            })
    }

    /// Whether the token at `at` is glued to the one before it.
    pub(crate) fn glued(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| token.glued)
    }

    /// The number at `at`, in digits.
    pub(crate) fn digits(&self, at: usize) -> Option<f64> {
        self.tokens
            .get(at)
            .filter(|token| token.kind == Kind::Number)
            .map(|token| token.value)
    }

    /// The number at `at`, in digits or as a word, with the token after it: `a couple` is two
    /// tokens, `and a half` three more.
    pub(crate) fn count(&self, at: usize) -> Option<(f64, usize)> {
        let (whole, to) = self.whole_count(at)?;
        let half = self.w(to) == W::And && self.w(to + 1) == W::A && self.text_at(to + 2) == "half";
        Some(if half {
            (whole + 0.5, to + 3)
        } else {
            (whole, to)
        })
    }

    fn whole_count(&self, at: usize) -> Option<(f64, usize)> {
        if let Some(value) = self.digits(at) {
            return Some((value, at + 1));
        }
        let token = self.tokens.get(at)?;
        match token.word.w {
            W::Numeral | W::Couple => Some((token.value, at + 1)),
            W::One => Some((1.0, at + 1)),
            W::A if self.w(at + 1) == W::Couple => Some((2.0, at + 2)),
            _ => None,
        }
    }

    /// `2ish`: the tail of a number that is not exact.
    pub(crate) fn is_ish(&self, at: usize) -> bool {
        self.glued(at)
            && self
                .token(at)
                .is_some_and(|token| self.text.text_of(token) == "ish")
    }

    /// A decimal written with a comma at `at`: `82,5`.
    pub(crate) fn comma_decimal(&self, at: usize) -> Option<(f64, usize)> {
        let whole = self.tokens.get(at)?;
        let part = self.tokens.get(at + 2)?;
        let tight = self.is(at + 1, Mark::Comma) && self.glued(at + 1) && part.glued;
        let plain = |token: &Token| token.kind == Kind::Number && !token.decimals;
        if !(tight && plain(whole) && plain(part)) {
            return None;
        }
        let value = match part.end - part.start {
            1 => whole.value + part.value / 10.0,
            2 => whole.value + part.value / 100.0,
            3 => whole.value * 1000.0 + part.value,
            _ => return None,
        };
        Some((value, at + 3))
    }
}

/// Whether the word at `at` names a part of a plan.
pub(crate) fn is_of_plan(scan: &Scan<'_>, at: usize) -> bool {
    matches!(
        scan.text_at(at),
        "week" | "wk" | "day" | "session" | "workout" | "block" | "cycle" | "phase"
    )
}

/// `set` and what some call it.
pub(crate) const fn is_sets(w: W) -> bool {
    matches!(w, W::Sets | W::Rounds)
}

/// Whether the word at `at` counts how often several exercises were done in turn.
pub(crate) fn is_rounds(scan: &Scan<'_>, at: usize) -> bool {
    matches!(scan.text_at(at), "rounds" | "circuits" | "supersets")
}

/// Whether item `at` is that word behind the names of several exercises, or before all numbers and several.
pub(crate) fn is_in_turn(scan: &Scan<'_>, items: &[Spanned], at: usize) -> bool {
    let rounds = |s: &&Spanned| s.item == Item::Sets && is_rounds(scan, s.from);
    if items.get(at).filter(rounds).is_none() {
        return false;
    }
    let names = |items: &[Spanned]| {
        let names = items.iter().filter(|s| matches!(s.item, Item::Name(_)));
        names.count()
    };
    let (before, behind) = items.split_at(at);
    names(before) > 1 || names(before) == 0 && names(behind) > 1
}
