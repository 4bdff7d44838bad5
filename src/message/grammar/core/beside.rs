//! What completes a group behind its first numbers: a load behind sets × reps, a number of sets.

use super::{Core, CoreReader, LoadPart, SURELY_LOAD, count};
use crate::message::grammar::item::{Item, Sign};

impl CoreReader<'_> {
    /// A load behind repetitions: `12 reps with 55`, `3x10 @ 80`, `3x10 80kg`.
    pub(super) fn with_load_behind(&self, mut core: Core, to: usize) -> (Core, usize) {
        let to = if self.is(to, &Item::Reps) { to + 1 } else { to };
        match self.load_behind(to, 0.0) {
            Some((load, end)) => {
                core.load = load;
                (core, end)
            }
            None => (core, to),
        }
    }

    pub(super) fn load_behind(&self, at: usize, sets: f64) -> Option<(LoadPart, usize)> {
        let led = matches!(
            self.item(at),
            Some(Item::At | Item::With | Item::Of | Item::For)
        );
        let comma = matches!(
            self.item(at),
            Some(Item::Comma | Item::Dash(false) | Item::Colon)
        );
        let from = at + usize::from(led || comma);
        if self.is(from, &Item::Body) && !self.is(from + 1, &Item::Times) {
            return Some((LoadPart::Body, from + 1));
        }
        let num = self.num(from)?;
        let takes = match self.item(from + 1) {
            Some(Item::Times | Item::Sets | Item::Reps | Item::For | Item::Colon) => false,
            Some(Item::Num(_)) if !num.is_load() => false,
            _ => true,
        };
        let by_words = num.unit.is_some() || num.per_hand || num.total || num.sign != Sign::None;
        let is_load = by_words
            || led && num.value > 10.0
            || !comma && num.value > 10.0f64.max(2.0 * sets) && num.value > 12.0;
        // `3x10 - 150`, `3x8 (225)`, `3x10, 150`: nothing else ends such a clause.
        let apart = comma
            && (1.0..=6.0).contains(&sets)
            && num.value > SURELY_LOAD
            && self.clause_ends(from + 1);
        let is_load = is_load || apart;
        let rpe = self.is(at, &Item::At) && !by_words && num.value <= 10.0;
        (takes && is_load && !rpe).then_some((LoadPart::Num(num), from + 1))
    }

    pub(super) fn clause_ends(&self, at: usize) -> bool {
        matches!(
            self.item(at),
            None | Some(
                Item::Comma
                    | Item::Break(_)
                    | Item::Effort(_)
                    | Item::Rest(_)
                    | Item::Day(_)
                    | Item::Technique(_)
                    | Item::Side
                    | Item::Name(_)
            )
        )
    }

    /// `80x10 x3`, `80x10, 3 sets`, `80x10 for 3 sets`.
    pub(super) fn with_count(&self, mut core: Core, to: usize) -> (Core, usize) {
        let skip = matches!(self.item(to), Some(Item::Comma | Item::For | Item::Times)) as usize;
        let sets = self
            .plain(to + skip)
            .filter(|_| self.is(to + skip + 1, &Item::Sets))
            .and_then(count);
        match sets {
            Some(sets) if core.reps.len() == 1 && !self.num_or_of(to + skip + 2) => {
                core.repeat(sets);
                (core, to + skip + 2)
            }
            _ => (core, to),
        }
    }

    pub(super) fn num_or_of(&self, at: usize) -> bool {
        matches!(self.item(at), Some(Item::Of)) || self.num(at).is_some()
    }
}
