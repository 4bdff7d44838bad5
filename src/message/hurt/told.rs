//! One clause as it is read for hurts: its words, and the places on the body that it names.

use std::cell::OnceCell;
use std::collections::HashSet;

use super::super::clause::{Bag, Clause};
use super::super::item::{Item, Spanned, item_at};
use super::super::lexicon::pain;
use super::super::scan::Scan;
use super::super::token::{Kind, Mark, Token};
use super::super::vocabulary::{Roles, W};

/// A clause with what stands around it.
pub(super) struct Told<'t> {
    pub scan: &'t Scan<'t>,
    pub items: &'t [Spanned],
    pub clause: &'t Clause,
    /// The words of the clause, but for those of long exercise names.
    pub bag: Bag,
    /// Something in the message makes a joke of it.
    pub joke: bool,
    /// Its words, and where it names a place: found once, since many of its words ask for them.
    words_said: OnceCell<HashSet<&'t str>>,
    places: OnceCell<Vec<usize>>,
}

impl<'t> Told<'t> {
    pub(super) fn new(
        scan: &'t Scan<'t>,
        items: &'t [Spanned],
        clause: &'t Clause,
        joke: bool,
    ) -> Self {
        let bag = Bag::of(scan, clause.from, clause.to, |at| in_long_name(items, at));
        Self {
            scan,
            items,
            clause,
            bag,
            joke,
            words_said: OnceCell::new(),
            places: OnceCell::new(),
        }
    }

    /// The places of its tokens.
    pub(super) fn tokens(&self) -> std::ops::Range<usize> {
        self.clause.from..self.clause.to
    }

    pub(super) fn text(&self, at: usize) -> &'t str {
        self.scan.text_at(at)
    }

    pub(super) fn w(&self, at: usize) -> W {
        self.scan.w(at)
    }

    /// The word before `at` in this clause.
    pub(super) fn before(&self, at: usize) -> Option<usize> {
        at.checked_sub(1)
            .filter(|before| *before >= self.clause.from)
    }

    /// Whether the word at `at` is one of `words`.
    pub(super) fn is_one(&self, at: usize, words: &[&str]) -> bool {
        words.contains(&self.text(at))
    }

    /// Whether any word of the clause is one of `words`.
    pub(super) fn says(&self, words: &[&str]) -> bool {
        let said = self
            .words_said
            .get_or_init(|| self.tokens().map(|at| self.text(at)).collect());
        words.iter().any(|word| said.contains(word))
    }

    /// The tokens that are places, in order.
    fn places(&self) -> &[usize] {
        self.places
            .get_or_init(|| self.tokens().filter(|&at| self.is_place(at)).collect())
    }

    /// Whether any word of the message is one of `words`.
    pub(super) fn says_anywhere(&self, words: &[&str]) -> bool {
        self.scan.says(words)
    }

    pub(super) fn token(&self, at: usize, holds: impl Fn(&Token) -> bool) -> bool {
        self.scan.token(at).is_some_and(holds)
    }

    /// Whether the token at `at` is part of an exercise's name of several words: the `leg` of `leg
    /// press` is no place.
    pub(super) fn in_name(&self, at: usize) -> bool {
        in_long_name(self.items, at)
    }

    /// Whether an exercise is named.
    pub(super) fn names_an_exercise(&self) -> bool {
        let named = |at| item_at(self.items, at).is_some_and(|s| matches!(s.item, Item::Name(_)));
        self.tokens().any(named)
    }

    /// The first place that it names, with its side.
    pub(super) fn first_place(&self) -> Option<String> {
        self.places().first().map(|&at| self.with_side(at))
    }

    pub(super) fn is_place(&self, at: usize) -> bool {
        let Some(token) = self.scan.token(at) else {
            return false;
        };
        let thing = self.is_one(at + 1, pain::GEAR);
        if !token.word.roles.any(Roles::PLACE) || thing || self.in_name(at) || self.is_anothers(at)
        {
            return false;
        }
        if !matches!(token.word.w, W::Back | W::Hand) {
            return true;
        }
        // `back` is a place only where words say so: `my back`, `lower back`, `back hurts`.
        let before = at.checked_sub(1);
        let led = before.is_some_and(|before| {
            self.token(before, |t| {
                matches!(t.word.w, W::My | W::The | W::In) || t.word.roles.any(Roles::SIDE)
            })
        });
        let followed = self.token(at + 1, |t| {
            t.word.roles.any(Roles::PAIN) || matches!(t.word.w, W::Is | W::Just)
        });
        let opens = before
            .is_none_or(|before| self.token(before, |t| t.kind != Kind::Word || t.word.w == W::My));
        led || followed && opens
    }

    /// `gwen's knee`, `gwens left knee`: an unknown word in the genitive before the place.
    fn is_anothers(&self, at: usize) -> bool {
        let part = Roles::SIDE.with(Roles::PLACE);
        let owner = (0..at)
            .rev()
            .find(|&before| !self.token(before, |t| t.word.roles.any(part)));
        owner.is_some_and(|owner| {
            self.token(owner, |t| {
                t.kind == Kind::Word
                    && !t.word.roles.any(Roles::KNOWN)
                    && t.word.w == W::None
                    && t.end - t.start >= 4
                    && (t.possessive || t.capital && self.text(owner).ends_with('s'))
            })
        })
    }

    /// The place nearest behind `trigger`, else nearest before it, with its side.
    pub(super) fn body_near(&self, trigger: usize) -> Option<String> {
        let places = self.places();
        let (before, behind) = places.split_at(places.partition_point(|&at| at < trigger));
        let before = before.last().copied();
        let behind = behind.iter().copied().find(|&at| at > trigger);
        // `knee popped`: the place directly before the word is meant, whatever follows.
        let close =
            before.filter(|&at| trigger - at <= 3 && behind.is_none_or(|b| b - trigger > 3));
        let at = close.or(behind).or(before)?;
        Some(self.with_side(at))
    }

    /// The place at `at` as written: `left shoulder`, `lower back`.
    pub(super) fn with_side(&self, at: usize) -> String {
        let mut from = at;
        while let Some(before) = self.before(from)
            && self.token(before, |t| {
                t.word.roles.any(Roles::SIDE)
                    || t.word.roles.any(Roles::PLACE) && t.word.w != W::Back
                    || t.is(Mark::Minus)
                    || t.word.w == W::Both
            } || self.text(before) == "rotator")
        {
            from = before;
        }
        self.words(from, at + 1)
    }

    /// The words from `from` up to `to`; a dash stays between two.
    pub(super) fn words(&self, from: usize, to: usize) -> String {
        let mut out = String::new();
        for token in self.scan.tokens.get(from..to).unwrap_or_default() {
            if token.kind != Kind::Word {
                out.push_str(if token.is(Mark::Minus) { "-" } else { "" });
                continue;
            }
            if !out.is_empty() && !out.ends_with('-') {
                out.push(' ');
            }
            out.push_str(self.scan.text.text_of(token));
        }
        out
    }
}

fn in_long_name(items: &[Spanned], at: usize) -> bool {
    item_at(items, at).is_some_and(|s| matches!(s.item, Item::Name(_)) && s.to - s.from > 1)
}

/// Whether a place is one that gives out.
pub(super) fn is_joint(body: &str) -> bool {
    pain::JOINTS.iter().any(|joint| body.contains(joint))
}
