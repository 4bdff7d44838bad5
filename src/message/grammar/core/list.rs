//! Lists of repetitions: `10, 9, 8`, `10/9/8`, `12, 11 and 9`, and where such a list ends.

use super::{CoreReader, LONGEST, SURELY_LOAD, is_far};
use crate::message::grammar::item::Item;
use crate::message::words::token::Kind;
use crate::message::words::vocabulary::{Roles, W};

impl CoreReader<'_> {
    /// A list of repetitions from `at`: `10, 9, 8`, `10/9/8`, `12, 11 and 9`, `10-9-8`, `10 9 8`.
    pub(super) fn list(&self, at: usize) -> Option<(Vec<f64>, usize)> {
        let first = self.plain(at)?;
        let mut reps = vec![first];
        let mut to = at + 1;
        if let Some(span) = self.span(first, to).or_else(|| self.doubt(to)) {
            return Some((vec![f64::NAN], span));
        }
        while reps.len() < LONGEST
            && let Some((value, end)) = self.next_reps(to, &reps)
        {
            reps.push(value);
            to = end;
        }
        if self.is(to, &Item::Reps) {
            to += 1;
        }
        Some((reps, to))
    }

    /// `8-10` with nothing behind it is a span of repetitions: a plan's, or not known.
    pub(super) fn span(&self, low: f64, at: usize) -> Option<usize> {
        let to = self
            .items
            .get(at)
            .is_some_and(|s| self.scan.w(s.from) == W::To);
        let high = (to || self.is(at, &Item::Dash(true)))
            && self
                .plain(at + 1)
                .is_some_and(|high| high > low && high <= SURELY_LOAD)
            && !self.is(at + 2, &Item::Times);
        (high && !self.is(at + 2, &Item::Dash(true))).then_some(at + 2)
    }

    /// `8 or 9`: not known which.
    pub(super) fn doubt(&self, at: usize) -> Option<usize> {
        let or = self
            .items
            .get(at)
            .is_some_and(|s| self.scan.w(s.from) == W::Or);
        (or && self.plain(at + 1).is_some()).then_some(at + 2)
    }

    pub(super) fn next_reps(&self, at: usize, so_far: &[f64]) -> Option<(f64, usize)> {
        // `5 reps, 5 reps`
        let after_word = self.is(at, &Item::Reps);
        let at = at + usize::from(after_word);
        let mut from = at;
        let mut joined = false;
        while from < at + 3 {
            match self.item(from) {
                Some(Item::Comma | Item::And) => joined = true,
                Some(Item::Slash | Item::Dash(true)) => joined = true,
                Some(Item::Times) if joined || from == at => {}
                _ => break,
            }
            from += 1;
        }
        let crossed = from > at && self.is(from - 1, &Item::Times);
        if crossed && !joined {
            // `80x10 x9`: only where spaces tell it from `80x10x9`; a triple was read before.
            return None;
        }
        let value = self.plain(from)?;
        let whole = value.fract() == 0.0 && value <= 100.0;
        if !whole || self.starts_group(from + 1) || self.noun_follows(from + 1) {
            return None;
        }
        let last = so_far.last().copied().unwrap_or_default();
        // Bare spaces join only what looks like the next set's repetitions.
        let like_last = value * 2.0 >= last && value <= last * 2.0;
        // `60-10, 80-8`: far more than the set before is the load of the next.
        let far = is_far(value, last);
        let plausible = if after_word {
            joined && like_last
        } else {
            joined && !far || like_last
        };
        plausible.then_some((value, from + 1))
    }

    /// Whether the item makes the number before it the start of something else.
    pub(super) fn starts_group(&self, at: usize) -> bool {
        matches!(
            self.item(at),
            Some(
                Item::Times
                    | Item::For
                    | Item::Sets
                    | Item::With
                    | Item::Foreign
                    | Item::Colon
                    | Item::More
            )
        ) && !(matches!(self.item(at), Some(Item::With)) && self.num(at + 1).is_none())
            || self.is(at, &Item::At)
                && self
                    .num(at + 1)
                    .is_some_and(|n| n.unit.is_some() || n.value > 10.0)
            || self
                .num(at)
                .is_some_and(|n| n.is_load() && n.unit.is_some())
    }

    /// A number directly followed by an unknown or a counted word is not repetitions: `10 people`.
    pub(super) fn noun_follows(&self, at: usize) -> bool {
        self.items.get(at).is_some_and(|s| {
            matches!(s.item, Item::Word)
                && self
                    .scan
                    .token(s.from)
                    .is_some_and(|t| t.kind == Kind::Word && !t.word.roles.any(Roles::FILL))
        })
    }
}
