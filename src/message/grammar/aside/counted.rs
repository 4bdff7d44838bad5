//! Sides, counts of sets, and what one of several sets was.

use super::patterns::{
    HELPED, LAST_FELT, LOADED_SIDES, MISSED_OF_ONE, MOST_COUNTED, MOST_ON_A_SIDE, MOST_SLASHED,
    NO_REPS, OF_THE_LAST, ONE_OF_SETS, REPS_OF_ONE, SETS_BEHIND, SHORT_SETS, SIDES, WHICH_SET,
    WHICH_SET_FIRST,
};
use super::{Settler, is_num, whole};
use crate::message::grammar::core;
use crate::message::grammar::item::{Effort, Item, Num, OneSet, Spanned};
use crate::message::grammar::phrase::{Found, LAST, Phrases};
use crate::message::reading::Technique;
use crate::message::words::token::Mark;

impl Settler<'_> {
    /// `10 left, 9 right`: both sides did the fewer.
    pub(super) fn sides(&mut self) {
        let mut at = 0;
        while at < self.items.len() {
            let token = self.items[at].from;
            let led = matches!(self.scan.text_at(token), "left" | "right");
            if let Some(Found { to, numbers, .. }) = SIDES.find(self.scan, token)
                && (led || self.scan.digits(to).is_none())
                && !self.scan.is(to, Mark::Times)
                && let (Some(first), Some(last)) = (numbers.first(), numbers.last())
                && whole(*first, MOST_ON_A_SIDE)
                && whole(*last, MOST_ON_A_SIDE)
            {
                self.put(at, to, vec![fewer(*first, *last), Item::Side]);
            } else if let Some(Found { to, numbers, .. }) = LOADED_SIDES.find(self.scan, token)
                && let [load, first, last] = *numbers.as_slice()
                && whole(first, MOST_ON_A_SIDE)
                && whole(last, MOST_ON_A_SIDE)
                && !self.scan.is(to, Mark::Times)
            {
                let load = match self.item(at) {
                    Some(Item::Num(num)) => *num,
                    _ => Num {
                        value: load,
                        ..Num::default()
                    },
                };
                self.put(
                    at,
                    to,
                    vec![Item::Num(load), fewer(first, last), Item::Side],
                );
            }
            at += 1;
        }
    }

    /// `set 2 of 3`, `1 of 4`, `2/3`: no repetitions and no sets.
    pub(super) fn which_set(&mut self) {
        let mut at = 0;
        while at < self.items.len() {
            let token = self.items[at].from;
            if let Some(Found { to, numbers, .. }) = WHICH_SET.find(self.scan, token)
                && self.is_behind_set(at)
                && self.before(at) != Some(&Item::And)
                && !matches!(self.item(at), Some(Item::Effort(_)))
                && self.counts_off(at, to, &numbers)
            {
                self.put(at, to, vec![Item::Label]);
            } else if let Some(Found { to, numbers, .. }) = SETS_BEHIND.find(self.scan, token)
                && let [sets] = *numbers.as_slice()
                && at > 0
                && self.is_reps(at - 1)
                // Behind several sets it may be all of them.
                && self.items.iter().take(at).filter(|s| is_num(s)).count() == 2
                && whole(sets, MOST_COUNTED)
            {
                self.put(at, to, vec![Item::Repeat(sets)]);
            } else if let Some(Found { to, numbers, .. }) = WHICH_SET_FIRST.find(self.scan, token)
                && matches!(numbers.as_slice(), [a, b] if a <= b && whole(*b, MOST_COUNTED))
                && self.before(at) != Some(&Item::Times)
                && self.scan.digits(to).is_some()
            {
                self.put(at, to, vec![Item::Label]);
            }
            at += 1;
        }
    }

    fn counts_off(&self, at: usize, to: usize, numbers: &[f64]) -> bool {
        let slashed = self.scan.is(to.wrapping_sub(2), Mark::Slash)
            && self.items.get(at).is_some_and(|s| s.from + 3 == to);
        let number = (0..at).rfind(|at| self.value(*at).is_some());
        let reps = number
            .filter(|at| self.is_reps(*at))
            .and_then(|at| self.value(at));
        let most = if slashed { MOST_SLASHED } else { MOST_COUNTED };
        match numbers {
            [one] => whole(*one, most),
            [first, of] if slashed => {
                let far = reps.is_some_and(|reps| of + 2.0 <= reps);
                first <= of && whole(*first, most) && whole(*of, most) && far && *of > 1.0
            }
            [first, of] => first <= of && (*first).fract() == 0.0 && whole(*of, most),
            _ => false,
        }
    }

    /// Whether the number at `at` begins a set of its own: `80x8`, `80 kg 8 reps`.
    fn begins_set(&self, at: usize) -> bool {
        let loaded = matches!(self.item(at), Some(Item::Num(num)) if num.is_load())
            && self.value(at + 1).is_some()
            && self.item(at + 2) == Some(&Item::Reps);
        loaded || self.value(at).is_some() && self.is_reps(at + 2)
    }

    /// `3 sets of bench: 80x8, 80x7, 75x8`: the number before them counts them, and makes no more of the first;
    /// `bench 80x8, 3 sets row 60x10`: it is of what is named behind.
    pub(super) fn counted_ahead(&mut self) {
        for at in 0..self.items.len() {
            let Some(sets) = self.value(at).filter(|sets| whole(*sets, 20.0)) else {
                continue;
            };
            if self.item(at + 1) != Some(&Item::Sets)
                || matches!(self.before(at), Some(Item::Times | Item::At | Item::For))
            {
                continue;
            }
            let of = usize::from(self.item(at + 2) == Some(&Item::Of));
            let named = matches!(self.item(at + 2 + of), Some(Item::Name(_)));
            if named
                && self.value(at + 3 + of).is_some()
                && (0..at).any(|at| self.is_reps(at))
                && matches!(self.before(at), Some(Item::Comma | Item::And))
            {
                self.items[at - 1].item = Item::Break(false);
                self.changed = true;
            }
            let end = self.counted_end(at + 2);
            let own = (at + 2..end).filter(|at| self.begins_set(*at)).count();
            let crossed = (at + 2..end).any(|at| {
                self.is_reps(at) && matches!(self.item(at + 1), Some(Item::Times | Item::Repeat(_)))
            });
            let counted = core::count(sets) == Some(own) && own > 1 && !crossed;
            if counted && (at == 0 || !self.is_reps(at - 1)) {
                self.silence(at, at + 2 + of);
            }
        }
    }

    /// Where the sets that a number counts end: at another such number, or at another name behind numbers.
    fn counted_end(&self, from: usize) -> usize {
        let mut told = false;
        for at in from..self.items.len() {
            told |= self.value(at).is_some();
            let another = told && matches!(self.item(at), Some(Item::Name(_)));
            if another || self.item(at) == Some(&Item::Sets) {
                return at;
            }
        }
        self.items.len()
    }

    /// `+ 2 with a spot`: those before were all that went alone.
    pub(super) fn helped(&mut self) {
        let mut at = 0;
        while at < self.items.len() {
            let token = self.items[at].from;
            let behind = self.items.iter().take(at).any(is_num)
                && !matches!(self.before(at), Some(Item::Times | Item::For));
            if !behind {
                at += 1;
                continue;
            }
            if let Some(Found { to, .. }) = NO_REPS.find(self.scan, token) {
                self.put(at, to, vec![Item::Label]);
            } else if let Some(Found { to, .. }) = SHORT_SETS.find(self.scan, token) {
                self.put(at, to, vec![Item::Technique(Technique::RestPause)]);
            }
            if let Some(Found { to, numbers, .. }) = HELPED.find(self.scan, token)
                && matches!(numbers.as_slice(), [few] if whole(*few, MOST_COUNTED))
            {
                self.put(at, to, vec![Item::Last, Item::Effort(Effort::One(0.0))]);
                at += 1;
            }
            at += 1;
        }
    }

    /// `6 on the last`, `second set only 7`, `missed the last rep of the last set`.
    pub(super) fn one_of_several(&mut self) {
        let mut at = 0;
        while at < self.items.len() {
            if let Some((one, to)) = self.one_set(at) {
                self.put(at, to, vec![Item::OneSet(one)]);
            } else if let Some((left, to)) = self.last_felt(at) {
                self.put(at, to, vec![Item::Last, Item::Effort(Effort::One(left))]);
                at += 1;
            } else if let Some(Spanned {
                item: Item::Effort(effort),
                to,
                ..
            }) = self.items.get(at).cloned()
                && let Some(found) = OF_THE_LAST.find(self.scan, to)
            {
                self.put(at, found.to, vec![Item::Last, Item::Effort(effort)]);
                at += 1;
            }
            at += 1;
        }
    }

    /// `last set felt hard` behind several: what it left, and the token behind.
    fn last_felt(&self, at: usize) -> Option<(f64, usize)> {
        let numbers = self.items.iter().take(at).filter(|s| is_num(s)).count();
        (numbers > 2).then_some(())?;
        let token = self.items.get(at).filter(|_| self.is_behind_set(at))?.from;
        let found =
            |(phrases, left): &(Phrases, f64)| Some((*left, phrases.find(self.scan, token)?.to));
        LAST_FELT.iter().find_map(found)
    }

    fn one_set(&self, at: usize) -> Option<(OneSet, usize)> {
        let token = self.items.get(at)?.from;
        if !self.is_behind_set(at) {
            return None;
        }
        if let Some(Found { to, numbers, .. }) = MISSED_OF_ONE.find(self.scan, token) {
            let place = numbers.last().copied()?;
            return Some((OneSet { place, reps: None }, to));
        }
        let (place, reps, to) = match REPS_OF_ONE.find(self.scan, token) {
            Some(Found { to, numbers, .. }) => {
                let [reps, place] = numbers.as_slice() else {
                    return None;
                };
                (*place, *reps, to)
            }
            None => {
                let Found { to, numbers, .. } = ONE_OF_SETS.find(self.scan, token)?;
                let [place, reps] = numbers.as_slice() else {
                    return None;
                };
                (*place, *reps, to)
            }
        };
        let last = self.items.iter().take(at).rev().find_map(|s| match s.item {
            Item::Num(num) if !num.is_load() => Some(num.value),
            _ => None,
        });
        let like = last.is_none_or(|last| reps <= 2.0 * last + 2.0) || reps <= 30.0;
        (whole(reps, 50.0) && like && (place == LAST || whole(place, MOST_COUNTED))).then_some((
            OneSet {
                place,
                reps: Some(reps),
            },
            to,
        ))
    }
}

/// The repetitions of two sides: both did the fewer.
fn fewer(first: f64, last: f64) -> Item {
    Item::Num(Num {
        value: first.min(last),
        reps: true,
        ..Num::default()
    })
}
