//! Numbers without a name, behind a set of the same member: what goes on from it, and what does
//! not.

use super::{Case, SURELY_A_REPORT, Span, Verdict};
use crate::message::grammar::core::Open;
use crate::message::grammar::groups::Group;
use crate::message::grammar::item::Item;
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
        // `bpull 82.5 6`: what opens the message right before the numbers names something.
        let opens = span.from.checked_sub(1).filter(|at| *at == from && pair);
        if let Some(word) = opens.filter(|at| self.is_stranger(*at)) {
            return Verdict::UnknownName(self.words(word, span.from));
        }
        if (strangers > slack || beside) && self.likely < SURELY_A_REPORT {
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
}
