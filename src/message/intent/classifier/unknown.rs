//! Numbers without a name that the catalogue knows: which words may name a movement.

use super::{Case, Span, Verdict};
use crate::message::grammar::core::{LoadPart, Open};
use crate::message::grammar::groups::Group;
use crate::message::grammar::item::Item;
use crate::message::words::names::is_name_word;
use crate::message::words::token::{Kind, Mark};
use crate::message::words::vocabulary::{Roles, W};

/// From here on words before a load and repetitions are asked about as a name that the catalogue lacks, though
/// none of them is a movement's: `larsens 60x8`.
const A_NAME_WE_LACK: f32 = 0.7;

impl Case<'_> {
    /// A word right before the name that makes another movement of it, or of which nothing is
    /// known.
    pub(super) fn modifier(&self, name: usize) -> Option<usize> {
        let mut at = name.checked_sub(1)?;
        if name == usize::MAX {
            return None;
        }
        if self.scan.is(at, Mark::Minus) && self.scan.glued(name) {
            at = at.checked_sub(1)?;
        }
        // `snatch grip rdl`: the word before `grip` says which.
        if self.text(at) == "grip" && self.text(at.checked_sub(1)?) == "snatch" {
            return Some(at - 1);
        }
        let token = self.scan.token(at)?;
        // An ordinary noun may be a slip (`jack squat`) or a place; no report has it there.
        // A place is one too, where it is no muscle: `hip press`.
        let muscle = self.scan.names.muscle_at(self.scan.tokens, at).is_some();
        let known = Roles::KNOWN.with(Roles::LOOKALIKE).with(Roles::NAME);
        let known = known.with(if muscle {
            Roles::default()
        } else {
            Roles::PLACE
        });
        let ordinary = token.word.w == W::None
            && token.word.roles.without(known) == Roles::default()
            && self.text(at) != "tried";
        let other = token.word.roles.any(Roles::VARIANT)
            || ordinary && !token.possessive && token.end - token.start >= 2
            // Part of another name: `neck press` is no press.
            || matches!(token.word.w, W::None | W::Dumbbell)
                && self.scan.names.changes_movement(token);
        (token.kind == Kind::Word && self.is_left(at) && other).then_some(at)
    }

    /// A word right behind the name that makes another movement of it: `leg curl nordic reverse`.
    pub(super) fn modifier_behind(&self, name: usize) -> Option<usize> {
        let to = self.item_at(name)?.to;
        let numbered = |at: usize| self.scan.digits(at).is_some() || self.scan.is(at, Mark::Colon);
        // `bench off the floor`, `squat with dumbbells`.
        if let Some(word) = self.scan.names.changed_behind(self.scan.tokens, to)
            && self.is_left(word)
            && numbered(word + 1)
        {
            return Some(word);
        }
        let token = self.scan.token(to).filter(|_| self.is_left(to))?;
        let other = token.word.w == W::None
            && self.scan.names.changes_movement(token)
            && !token.word.roles.any(Roles::FILL.with(Roles::PLACE));
        (other && numbered(to + 1)).then_some(to)
    }

    pub(super) fn modified(&self, word: usize, name: usize) -> Verdict {
        let to = self.item_at(name).map_or(name + 1, |s| s.to);
        Verdict::UnknownName(self.words(word, to))
    }

    pub(super) fn words(&self, from: usize, to: usize) -> String {
        let words: Vec<&str> = (from..to)
            .filter(|&at| self.scan.token(at).is_some_and(|t| t.kind == Kind::Word))
            .map(|at| self.text(at))
            .collect();
        words.join(" ")
    }

    /// Numbers without a name and without a set before.
    pub(super) fn nameless(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let (from, to) = span.sentence;
        let strangers: Vec<usize> = (from..to).filter(|&at| self.is_stranger(at)).collect();
        let moves = self.names_a_movement(from, span.from);
        // `tricep ext 20 12`
        let two = matches!(group.core.open, Open::Two(..)) && moves;
        if !group.core.is_full() && !two {
            let said = group.core.is_reps_only() && group.core.said_reps;
            let fits = said && strangers.is_empty() && (strong || self.is_short(group));
            return if fits {
                Verdict::Training
            } else {
                Verdict::Chatter
            };
        }
        self.unknown(&strangers, span, strong, moves, group)
    }

    /// Whether a word left over names a movement, or part of one: `boatman pull`.
    pub(super) fn names_a_movement(&self, from: usize, to: usize) -> bool {
        (from..to).any(|at| {
            self.is_left(at)
                && self.scan.token(at).is_some_and(|t| {
                    t.word.roles.any(Roles::MOVE.with(Roles::VARIANT))
                        || is_name_word(t) && t.word.w == W::None && !t.word.roles.any(Roles::FILL)
                })
        })
    }

    /// `x9` by itself is short for a set; `9 more` is not.
    pub(super) fn is_short(&self, group: &Group) -> bool {
        let said = self.scan.tokens.len() == 2
            && self
                .items
                .last()
                .is_some_and(|s| s.item == Item::Reps || matches!(s.item, Item::Num(_)));
        said || matches!(
            self.items.get(group.from).map(|s| &s.item),
            Some(Item::Times)
        ) && self.scan.tokens.len() <= 4
    }

    pub(super) fn unknown(
        &self,
        strangers: &[usize],
        span: &Span,
        strong: bool,
        moves: bool,
        group: &Group,
    ) -> Verdict {
        let written = match group.core.load {
            LoadPart::Num(num) => num.unit.is_some() || num.per_hand,
            _ => false,
        };
        if strangers.is_empty() && !moves {
            return Verdict::Training;
        }
        // `wings 3x12, to failure` counts anything; a load beside the count is a set of something.
        if !moves && group.core.load == LoadPart::None {
            return Verdict::Chatter;
        }
        let before = strangers.iter().all(|at| *at < span.from);
        let named = before && self.is_contiguous(strangers, span.from);
        let fits = match (moves, strong || written) {
            (true, true) => strangers.len() <= 7,
            (true, false) => strangers.len() <= 2 && named,
            (false, true) => strong && strangers.len() <= 2 && named,
            (false, false) => false,
        };
        if !(fits || named && self.likely > A_NAME_WE_LACK) {
            return Verdict::Chatter;
        }
        let from = self.name_start(span.from);
        Verdict::UnknownName(self.words(from, span.from))
    }

    pub(super) fn is_contiguous(&self, strangers: &[usize], to: usize) -> bool {
        let first = strangers.first().copied().unwrap_or(to);
        (first..to).all(|at| {
            self.scan
                .token(at)
                .is_some_and(|t| t.kind == Kind::Word || t.is(Mark::Minus) || t.is(Mark::Colon))
        })
    }

    /// Where the words that may be a name start, before the numbers.
    pub(super) fn name_start(&self, to: usize) -> usize {
        let mut from = to;
        while from > 0
            && self.scan.token(from - 1).is_some_and(|t| {
                t.kind == Kind::Word
                    || t.is(Mark::Minus)
                    || from == to && (t.is(Mark::Comma) || t.is(Mark::Colon))
            })
        {
            from -= 1;
        }
        from
    }
}
