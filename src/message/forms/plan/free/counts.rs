//! How many sets of how many: `3x8`, `4 sets of 6-10`, `x 10`, `5 rounds`.

use super::details::MOST_SETS;
use super::facts::{Amount, Fact, Scan, Span};
use super::numbers::{REPS, ROUNDS, SETS, pair, whole};
use crate::message::words::unit::unit_of;

/// Words that may stand between a number and `sets`.
const KINDS_OF_SETS: &str = "\
    heavy hard work working straight top back off backoff light easy easier lighter heavier \
    harder slow clean further total - warm up warmup drop good";

impl Scan<'_> {
    pub(super) fn sets(&self, at: usize) -> Option<(Fact, usize)> {
        if self.at(at) == "x" {
            return self.times(at);
        }
        // `S4 R6-8`
        if self.at(at) == "s"
            && self.glued(at + 1)
            && let Some((sets, to)) = self.range(at + 1)
            && self.at(to) == "r"
            && self.glued(to + 1)
            && let Some((reps, to)) = self.range(to + 1)
        {
            return Some((Fact::SetsOf(sets, Amount::Reps(reps)), to));
        }
        let max = self.at(at) == "max" && self.any(at + 1, REPS);
        if self.any(at, "amrap") || max || (self.at(at) == "as" && self.at(at + 1) == "many") {
            let (amount, to) = self.amount(at, None)?;
            return Some((Fact::Amount(amount), to));
        }
        if self.at(at) == "/" && self.glued(at) && self.at(at.wrapping_sub(1)) == "%" {
            let (span, to) = self.range(at + 1)?;
            let reps = Amount::Reps(span);
            // `(80%/4)3`: the sets stand behind the bracket.
            if self.sign(to) == Some(')')
                && self.glued(to + 1)
                && let Some((sets, to)) = self.range(to + 1)
            {
                return Some((Fact::SetsOf(sets, reps), to));
            }
            return Some((Fact::SetsOf(pair(1.0), reps), to));
        }
        // `sets: 5, reps=6`, as in forms.
        if self.any(at, SETS) || self.any(at, REPS) {
            let from = at + 1 + usize::from(self.any(at + 1, ": ="));
            if let Some((span, to)) = self.range(from)
                && self.unit_at(to).is_none()
                && !self.any(to, "x")
                // `Sets 3 Reps 8` goes on in the same way, `sets 3 reps` does not.
                && (!(self.any(to, SETS) || self.any(to, REPS)) || self.value(to + 1).is_some())
            {
                return Some(match self.any(at, SETS) {
                    true => (Fact::Sets(span), to),
                    false => (Fact::Amount(Amount::Reps(span)), to),
                });
            }
        }
        if self.any(at, SETS) && self.at(at + 1) == "of" {
            let (amount, to) = self.amount(at + 2, None)?;
            return Some((Fact::Amount(amount), to));
        }
        if let Some((list, to)) = self.list(at, 3) {
            return Some((Fact::Amount(Amount::List(list)), self.past(to, REPS)));
        }
        let (span, to) = self.range(at)?;
        let mut kind = to;
        while self.any(kind, KINDS_OF_SETS) {
            kind += 1;
        }
        if self.any(kind, SETS) {
            let between = self.tokens.get(to..kind).unwrap_or_default();
            if between
                .iter()
                .any(|token| token.is("warm") || token.is("warmup"))
            {
                return Some((Fact::Aside, kind + 1));
            }
            return Some(self.sets_of(span, kind + 1));
        }
        if self.any(to, ROUNDS) {
            return Some((Fact::Rounds(span), self.past(to + 1, "of for")));
        }
        // `1@8`: a set of one, rated.
        if self.at(to) == "@" && self.glued(to) && self.glued(to + 1) && self.rated(to + 1) {
            return Some((Fact::SetsOf(pair(1.0), Amount::Reps(span)), to));
        }
        if self.at(to) == "x" && self.at(to + 1) == "through" {
            return Some((Fact::Rounds(span), to + 2));
        }
        // `4x8`, `4 by 8`.
        if self.at(to) == "x" || (self.at(to) == "by" && self.value(to + 1).is_some()) {
            return self.product(span, to + 1);
        }
        if self.any(to, REPS) {
            let to = to + 1;
            if self.any(to, "for x")
                && let Some((sets, end)) = self.range(to + 1)
                && self.any(end, SETS)
            {
                return Some((Fact::SetsOf(sets, Amount::Reps(span)), end + 1));
            }
            return Some((Fact::Amount(Amount::Reps(span)), self.past(to, "each")));
        }
        // `deadlift 5 @ 70%, 3 @ 80%`.
        if self.at(to) == "@"
            && let Some((share, end)) = self.range(to + 1)
            && self.any(end, "% percent")
            && span.1 <= share.0.min(20.0)
        {
            return Some((Fact::Amount(Amount::Reps(span)), to));
        }
        // `5 each side`, `8/side`.
        if let Some((Fact::Side, _)) = self.sides(to, &[]) {
            return Some((Fact::Amount(Amount::Reps(span)), to));
        }
        // `8-12 back squats`, `:10`: repetitions before a name.
        if self.unit_at(to).is_none() && self.goes_before_a_name(to) {
            return Some((Fact::Amount(Amount::Reps(span)), to));
        }
        None
    }

    /// Whether a rating from 5 to 10 in halves stands here.
    fn rated(&self, at: usize) -> bool {
        let rated = |value: f64| (5.0..=10.0).contains(&value) && (value * 2.0).fract() == 0.0;
        self.value(at).is_some_and(rated) && self.unit_at(at + 1).is_none()
    }

    pub(super) fn goes_before_a_name(&self, at: usize) -> bool {
        let adjective =
            |at: usize| self.any(at, "double strict slow banded weighted oh alternating");
        (at..at + 3)
            .take_while(|&to| to == at || adjective(to - 1))
            .any(|to| self.name(to).is_some())
    }

    /// Behind `4 sets`: `of 8-10 reps`, `x 8`, `of max reps`, nothing.
    pub(super) fn sets_of(&self, sets: Span, to: usize) -> (Fact, usize) {
        let count = whole(sets.0).filter(|_| sets.0 >= sets.1);
        let of = to + usize::from(self.any(to, "of x for to @ on"));
        match self.amount(of, count) {
            // `4 sets, 8 kg`.
            // `3 sets 8-12` has a range, and no second number of sets.
            Some((amount, end))
                if of > to
                    || matches!(amount, Amount::Max)
                    || matches!(amount, Amount::Reps((low, high)) if low < high && self.ends_at(end)) =>
            {
                (Fact::SetsOf(sets, amount), end)
            }
            _ => (Fact::Sets(sets), to),
        }
    }

    /// Behind `3 x`: repetitions, or what `3` are when something else stands there.
    pub(super) fn product(&self, first: Span, from: usize) -> Option<(Fact, usize)> {
        let count = whole(first.0).filter(|_| first.0 >= first.1);
        if self.sign(from) == Some('(')
            && let Some((span, to)) = self.range(from + 1)
            && self.sign(to) == Some(')')
        {
            // `3x(8-10)`
            return Some((Fact::SetsOf(first, Amount::Reps(span)), to + 1));
        }
        if self.sign(from) == Some('(') {
            // `3 x (10 push-ups, …)`.
            return Some((Fact::Rounds(first), from));
        }
        if let Some((span, to)) = self.range(from)
            && self.any(to, SETS)
        {
            // `4 x 3 sets`: the sets stand behind.
            return Some((Fact::SetsOf(span, Amount::Reps(first)), to + 1));
        }
        if self.reps_first
            && let Some((sets, to)) = self.range(from)
        {
            return Some((Fact::SetsOf(sets, Amount::Reps(first)), to));
        }
        if let Some((amount, to)) = self.amount(from, count) {
            // `12-15 x 3` is a range of repetitions; `15 x 3` may be either.
            let few = matches!(amount, Amount::Reps((low, high)) if low >= high && high <= 6.0);
            return Some(match amount {
                Amount::Reps(sets) if few && first.0 < first.1 && first.0 >= 6.0 => {
                    (Fact::SetsOf(sets, Amount::Reps(first)), to)
                }
                _ if few && (12.0..=20.0).contains(&first.0) => (Fact::Loose, to),
                amount => (Fact::SetsOf(first, amount), to),
            });
        }
        // `5 x ring dips`: repetitions, in a list of stations.
        if self.name(from).is_some() {
            return Some((Fact::Amount(Amount::Reps(first)), from));
        }
        let (_, to) = self.range(from)?;
        // `2 x 30% BW`: a load where the repetitions would stand.
        if self.any(to, "% percent") {
            return Some((Fact::Sets(first), from));
        }
        Some((Fact::Loose, to + 1))
    }

    /// From `x` on, with no number before it: `x 10`, `x 3 x 12`, `x 4 sets of 10`.
    pub(super) fn times(&self, at: usize) -> Option<(Fact, usize)> {
        let (span, to) = match self.range(at + 1) {
            Some(range) => range,
            None => {
                let (amount, to) = self.amount(at + 1, None)?;
                return Some((Fact::Amount(amount), to));
            }
        };
        if self.any(to, SETS) || self.any(to, KINDS_OF_SETS) {
            return self.sets(at + 1);
        }
        if self.any(to, ROUNDS) {
            return Some((Fact::Rounds(span), to + 1));
        }
        if self.any(to, "% percent") {
            let (fact, to) = self.share(span, to + 1, false)?;
            return Some((fact, to));
        }
        // Behind a load: `70% x 4`, `100 kg x 5 x 3`, repetitions and then sets.
        let large = |at: usize| self.value(at).is_some_and(|value| value > MOST_SETS);
        let loaded = at > 0
            && (self.at(at - 1) == "%" || unit_of(self.at(at - 1)).is_some() || large(at - 1));
        if loaded && let Some((reps, end)) = self.amount(at + 1, None) {
            if self.at(end) == "x"
                && let Some((sets, end)) = self.range(end + 1)
                && self.unit_at(end).is_none()
            {
                return Some((Fact::SetsOf(sets, reps), self.past(end, SETS)));
            }
            return Some((Fact::SetsOf(pair(1.0), reps), end));
        }
        if self.at(to) == "x"
            && let Some((Amount::Reps(other), end)) = self.amount(to + 1, None)
        {
            // Sets are few, repetitions many; where both could be either, nobody knows.
            let few = |span: Span| span.1 <= 6.0;
            let many = |span: Span| span.0 >= 8.0;
            return Some(match (few(span), many(span), few(other), many(other)) {
                (true, _, _, true) => (Fact::SetsOf(span, Amount::Reps(other)), end),
                (_, true, true, _) => (Fact::SetsOf(other, Amount::Reps(span)), end),
                _ => (Fact::Loose, end),
            });
        }
        let (amount, to) = self.amount(at + 1, None)?;
        Some((Fact::Amount(amount), to))
    }
}
