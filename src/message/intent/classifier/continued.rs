//! Numbers without a name, behind a set of the same member: what goes on from it, and what does
//! not.

use super::{Case, SURELY_A_REPORT, Span, Verdict};
use crate::message::grammar::core::Open;
use crate::message::grammar::groups::Group;
use crate::message::grammar::item::Item;
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::W;

impl Case<'_> {
    /// Numbers without a name, carried on from the last set: every word must go with sets.
    pub(super) fn carried(&self, group: &Group, span: &Span, strong: bool) -> Verdict {
        let (from, to) = span.sentence;
        let strangers = self.strangers(from, to);
        let pair = group.core.is_full();
        let slack = usize::from(pair) + usize::from(strong && pair);
        // `invoice 80x10`: beside bare numbers an unknown word says what they count.
        let beside = !strong && self.strangers(span.clause.0, span.clause.1) > 0;
        // Another movement is named, only none that is known: not the last exercise again.
        if pair
            && self.names_a_movement(from, span.from)
            && let unknown @ Verdict::UnknownName(_) = self.nameless(group, span, strong)
        {
            return unknown;
        }
        // `bpull 82.5 6 r2`: what opens the message right before the numbers names something.
        let opens = span
            .from
            .checked_sub(1)
            .filter(|at| *at == from && strong && pair);
        if let Some(word) = opens.filter(|at| self.is_stranger(*at)) {
            return Verdict::UnknownName(self.words(word, span.from));
        }
        if self.holds_foreign(span)
            || (strangers > slack || beside) && self.likely < SURELY_A_REPORT
            || self.is_no_count_of_reps(group, span)
            || !strong && self.is_place_or_time(group)
        {
            return Verdict::Chatter;
        }
        if group.core.open == Open::Single && !strong && !self.goes_on(from, to) {
            return Verdict::Chatter;
        }
        if group.core.is_load_only() && group.core.open != Open::Single {
            return if strong {
                Verdict::Training
            } else {
                Verdict::Chatter
            };
        }
        Verdict::Training
    }

    /// `then 8`, `got 8`, `8 that time`: a bare number that goes on from the last set.
    fn goes_on(&self, from: usize, to: usize) -> bool {
        let first = self.item_at(from).map(|s| &s.item);
        if to - from <= 5 && matches!(first, Some(Item::Label | Item::Last)) {
            return true;
        }
        to - from <= 4
            && (from..to).any(|at| {
                matches!(self.scan.w(at), W::Then | W::Got)
                    || self.scan.w(at) == W::Time
                        && matches!(self.scan.w(at.saturating_sub(1)), W::This | W::That)
            })
    }

    /// `8/10`, `24/7`, `2 for 1`, `call me 0171 2345678`, `bodyweight 82.5`: numbers of other
    /// kinds, when no name stands by them.
    pub(super) fn is_no_count_of_reps(&self, group: &Group, span: &Span) -> bool {
        let number = |at: usize| self.scan.digits(at);
        let (from, to) = (span.from, span.to);
        let ratio = to - from == 3
            && self.scan.is(from + 1, Mark::Slash)
            && number(from).is_some()
            && (number(from + 2) == Some(10.0)
                || number(from) == number(from + 2)
                || number(from) == Some(24.0) && number(from + 2) == Some(7.0));
        let bargain = self.is_bargain(span);
        let long = (from..to).any(|at| {
            number(at).is_some_and(|value| value > 2000.0)
                || self.scan.token(at).is_some_and(|t| {
                    t.end - t.start > 1 && self.scan.text.text_of(t).starts_with('0') && !t.decimals
                })
        });
        let scales = self.scan.w(0) == W::Bw
            && group.core.is_load_only()
            && !(from..to).any(|at| self.scan.is(at, Mark::Plus));
        // `2x20kg dumbbells for 80`
        let price = (from + 1..to).any(|at| {
            self.scan.w(at) == W::For
                && matches!(
                    self.text(at - 1),
                    "dumbbells" | "kettlebells" | "plates" | "dbs"
                )
        }) && group.core.reps.iter().any(|reps| *reps > 30.0);
        // `rack 2 has the 25s`: a statement of the numbers.
        let stated = (from + 1..to).any(|at| {
            matches!(self.scan.w(at), W::Is | W::Are) || self.text(at) == "has" && self.is_left(at)
        });
        ratio || bargain || long || scales || price || stated
    }

    /// `2 for 1`, `3 for 2`: an offer.
    pub(super) fn is_bargain(&self, span: &Span) -> bool {
        let number = |at: usize| self.scan.digits(at);
        span.to - span.from == 3
            && self.scan.w(span.from + 1) == W::For
            && number(span.from).is_some_and(|value| value < 5.0)
    }

    /// The same beside a name, where the second is the smaller: no bar is lifted so light for so few.
    pub(super) fn is_sold_off(&self, span: &Span) -> bool {
        let number = |at: usize| self.scan.digits(at).unwrap_or_default();
        self.is_bargain(span) && number(span.from + 2) < number(span.from)
    }
}
