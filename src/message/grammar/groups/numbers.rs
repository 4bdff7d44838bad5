//! How numbers become groups: a new one, part of the one before, more sets of it, or an open end.

use super::{Group, Parser};
use crate::domain::quantities::catalogue::{Basis, Equipment};
use crate::message::grammar::atom::is_count_of_pairs;
use crate::message::grammar::core::{self, Core, LoadPart, Open};
use crate::message::grammar::item::{Item, OneSet};
use crate::message::grammar::scan::is_in_turn;
use crate::message::words::variants::has;
use crate::message::words::vocabulary::W;

/// Up to here a number behind `80x10 each side x` is sets.
const MOST_SETS_BEHIND: f64 = 6.0;

impl Parser<'_> {
    /// Numbers that may be a group.
    pub(super) fn numbers(&mut self, at: usize) -> usize {
        let usual = self.usual(at);
        let found = core::at(self.scan, self.items, at, self.of_dumbbells(), &usual);
        let Some((mut core, to)) = found else {
            return at + 1;
        };
        let in_turn = || is_in_turn(self.scan, self.items, at + 1);
        if let Some(count) = core.count_for_last.filter(|_| in_turn()) {
            self.rounds = Some(count);
            return to;
        }
        if let Some(count) = core
            .count_for_last
            .or_else(|| self.sets_behind(&core, at, to))
        {
            if core.count_for_last.is_some() && self.heads_next(to) {
                self.pending_count = Some(count);
            } else {
                self.repeat(count, to);
            }
            return to;
        }
        if self.goes_on(&core, at) {
            core.settle_as_reps();
        }
        if core.open == Open::Single && self.follows_full_group() && !self.loads_pair(&core, at) {
            return self.lone_number(&core, at, to);
        }
        if self.is_tail(&core, at) {
            return to;
        }
        if self.merge(&core, at, to) {
            return to;
        }
        self.open_group(core, at, to);
        to
    }

    /// `14x10, 12x7, twice`: one set or all of them.
    pub(super) fn doubt_what_is_repeated(&mut self, at: usize) {
        let apart = matches!(
            at.checked_sub(1).and_then(|at| self.item(at)),
            Some(Item::Comma | Item::And | Item::Break(_))
        );
        let current = self.current;
        let mut own = self
            .out
            .groups
            .iter_mut()
            .filter(|g| Some(g.segment) == current);
        if let (Some(_), Some(last), true) = (own.next(), own.next_back(), apart) {
            last.core.reps = vec![f64::NAN];
        }
    }

    /// `80x10, again`: a clause of its own behind a set, with nothing more in it than an effort.
    pub(super) fn is_once_more(&self, at: usize) -> bool {
        let apart =
            |item: Option<&Item>| matches!(item, Some(Item::Comma | Item::Break(_) | Item::And));
        // `same again`
        let more = (at + 1..).take_while(|&at| self.item(at) == Some(&Item::Same));
        let behind = self.item(at + 1 + more.count());
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        let ends = apart(behind) || matches!(behind, None | Some(Item::Effort(_)));
        let last = self.out.groups.last();
        apart(before)
            && ends
            && last.is_some_and(|last| Some(last.segment) == self.current && last.core.is_full())
    }

    /// The last set once more, without its effort and rest.
    pub(super) fn once_more(&mut self, at: usize) {
        let Some(last) = self.out.groups.last().cloned() else {
            return;
        };
        let reps = last.core.reps.last().copied();
        let core = Core {
            reps: reps.into_iter().collect(),
            ..last.core
        };
        self.out.groups.push(Group {
            core,
            rir: Vec::new(),
            gave_out: None,
            rest_s: None,
            from: at,
            to: at + 1,
            core_to: at + 1,
            line: self.line,
            ..last
        });
    }

    /// `bench 80x8, 3 sets row 60x10`: so many sets of the exercise that is named behind.
    fn heads_next(&self, to: usize) -> bool {
        let of = usize::from(self.item(to) == Some(&Item::Of));
        matches!(self.item(to + of), Some(Item::Name(_)))
            && self.numbers_follow(to + of + 1)
            && self.current_exercise().is_some()
            && !self.named_last()
    }

    /// `6 on the last`: one set of several equal ones, else the set behind those before.
    pub(super) fn one_set(&mut self, at: usize, one: OneSet) {
        let Some(segment) = self.current else {
            return;
        };
        // `bench 185, 1st set 8`
        if let (Some(last), Some(reps)) = (self.out.groups.last_mut(), one.reps)
            && last.segment == segment
            && last.core.is_load_only()
        {
            last.core.set_reps(reps);
            last.to = at + 1;
            last.core_to = at + 1;
            return;
        }
        let all = self.sets_of(segment);
        let Some(last) = self.out.groups.last().filter(|g| g.segment == segment) else {
            return;
        };
        let equal = last
            .core
            .reps
            .windows(2)
            .all(|two| (two[0] - two[1]).abs() < 1e-9);
        let several = last.core.reps.len() > 1 && equal;
        let place = match core::count(one.place) {
            None if several || one.reps.is_none() => all,
            None => all + 1,
            Some(place) => place,
        };
        if let Some(reps) = one.reps.filter(|_| place == all + 1) {
            self.open_group(Core::of_reps(reps), at, at + 1);
            return;
        }
        let mut before = 0;
        let found = self.out.groups.iter_mut().filter(|g| g.segment == segment);
        for group in found {
            let sets = group.core.reps.len();
            if place > before + sets {
                before += sets;
                continue;
            }
            group.to = group.to.max(at + 1);
            let own = place - before - 1;
            if let Some(reps) = group.core.reps.get_mut(own) {
                *reps = one.reps.unwrap_or(*reps - 1.0);
            }
            if one.reps.is_none() {
                group.rir.resize(sets, None);
                if let Some(rir) = group.rir.get_mut(own) {
                    *rir = Some(0.0);
                }
            }
            return;
        }
        if let Some(last) = self.out.groups.last_mut() {
            last.core.reps = vec![f64::NAN];
        }
    }

    /// So many sets: of the group before, or of the one to come.
    pub(super) fn repeat(&mut self, count: usize, to: usize) {
        let current = self.current;
        let listed = current.is_some_and(|segment| self.sets_of(segment) == count);
        match self.out.groups.last_mut() {
            // `80x10, 80x9, 80x8, 3 sets` only says it again.
            Some(last) if Some(last.segment) == current => {
                if !listed && !last.core.repeat(count) {
                    // `10/9/8 for 4 sets`: it does not add up.
                    last.core.reps = vec![f64::NAN];
                }
                last.to = to;
                let sets = last.core.sets();
                if let [one] = last.rir.as_slice() {
                    last.rir = vec![*one; sets];
                }
            }
            // `3 sets: 70x8, 72.5x6, 75x4`
            _ if is_count_of_pairs(
                self.items,
                (to, self.items.len()),
                u32::try_from(count).map_or(0.0, f64::from),
            ) => {}
            _ => self.pending_count = Some(count),
        }
    }

    /// `80x10 each side x3`: behind a word for its repetitions a cross leads to a number of sets.
    pub(super) fn sets_behind(&self, core: &Core, at: usize, to: usize) -> Option<usize> {
        let [sets] = core.reps.as_slice() else {
            return None;
        };
        let last = self
            .out
            .groups
            .last()
            .filter(|g| Some(g.segment) == self.current)?;
        let [reps] = last.core.reps.as_slice() else {
            return None;
        };
        let crossed = self.item(at) == Some(&Item::Times) && core.is_reps_only();
        let behind = at.checked_sub(1).and_then(|at| self.item(at));
        let of_reps = matches!(
            behind,
            Some(Item::Side | Item::Every | Item::Reps | Item::PerHand)
        ) || matches!(behind, Some(Item::Num(_)))
            && matches!(
                at.checked_sub(2).and_then(|at| self.item(at)),
                Some(Item::For)
            );
        let another = self.item(to) == Some(&Item::Times);
        let few = *sets <= MOST_SETS_BEHIND && sets + 1.0 < *reps;
        (crossed && of_reps && few && !another && last.core.is_full())
            .then(|| core::count(*sets))
            .flatten()
    }

    /// `80x10, then 9, 8`: two bare numbers behind a full group are repetitions.
    pub(super) fn goes_on(&self, core: &Core, at: usize) -> bool {
        let led = at
            .checked_sub(1)
            .and_then(|at| self.item(at))
            .is_some_and(|item| matches!(item, Item::And | Item::Comma | Item::Label));
        matches!(core.open, Open::Two(a, b) if core.reps.len() == 2 && a.max(b) <= 30.0)
            && led
            && self.follows_full_group()
    }

    /// Whether the exercise named is done with a dumbbell in each hand.
    pub(super) fn of_dumbbells(&self) -> bool {
        self.current_exercise().is_some_and(|id| {
            let exercise = self.catalogue.exercise(id);
            exercise.basis == Basis::PerHand
                || exercise.equipment == Equipment::Dumbbell
                || exercise.body_share > 0.0
        })
    }

    pub(super) fn follows_full_group(&self) -> bool {
        self.out
            .groups
            .last()
            .is_some_and(|last| Some(last.segment) == self.current && last.core.is_full())
    }

    /// `3x8 bench 100`: the load of sets × reps stands behind the name.
    pub(super) fn loads_pair(&self, core: &Core, at: usize) -> bool {
        let named = at > 0 && matches!(self.item(at - 1), Some(Item::Name(_)));
        let pair = self
            .out
            .groups
            .last()
            .is_some_and(|g| g.core.open == Open::Pair);
        let large = matches!(core.load, LoadPart::Num(num) if num.value > 30.0);
        named && pair && large
    }

    /// `100x8, x3`: far fewer than the set before are as likely sets. Marks the set before.
    pub(super) fn is_tail(&mut self, core: &Core, at: usize) -> bool {
        let crossed = self.item(at) == Some(&Item::Times);
        let [value] = *core.reps.as_slice() else {
            return false;
        };
        if !crossed || !core.is_reps_only() || !self.follows_full_group() {
            return false;
        }
        self.mark_tail(value)
    }

    pub(super) fn mark_tail(&mut self, value: f64) -> bool {
        let Some(last) = self.out.groups.last_mut() else {
            return false;
        };
        let [reps] = *last.core.reps.as_slice() else {
            return false;
        };
        if core::is_tail(value, reps)
            && matches!(last.core.open, Open::None | Open::Pair)
            && last.rir.is_empty()
        {
            last.core.open = Open::Tail(value);
            return true;
        }
        false
    }

    /// One bare number behind a full group: the next set's repetitions where an effort follows or
    /// `then` leads; else it belongs to something else (`seat on 4`).
    pub(super) fn lone_number(&mut self, core: &Core, at: usize, to: usize) -> usize {
        let effort = matches!(self.item(to), Some(Item::Effort(_) | Item::FailedAt(_)));
        let before = at.checked_sub(1).and_then(|at| self.item(at));
        let led_by_for = before == Some(&Item::For);
        let then = matches!(before, Some(Item::And | Item::Label))
            || self.tells_reps(at, to) && !led_by_for;
        let own_line = before == Some(&Item::Break(true));
        let directly = self.out.groups.last().is_some_and(|g| g.to == at);
        // `80x10+2 rest pause`
        let clause_ends = matches!(
            self.item(to),
            None | Some(Item::Break(_) | Item::Comma | Item::Technique(_))
        );
        let LoadPart::Num(num) = core.load else {
            return to;
        };
        let last = self.out.groups.last().and_then(|g| g.core.reps.last());
        if last.is_some_and(|last| core::is_far(num.value, *last)) {
            // A load; whether its repetitions are asked for is settled in the end.
            self.open_group(core.clone(), at, to);
        } else if effort || (then || own_line && num.value <= 30.0) && clause_ends {
            self.open_group(Core::of_reps(num.value), at, to);
        } else if clause_ends && (directly || led_by_for || before == Some(&Item::Comma)) {
            self.mark_tail(num.value);
        }
        to
    }

    pub(super) fn open_group(&mut self, mut core: Core, at: usize, to: usize) {
        if let Some(last) = self.out.groups.last()
            && Some(last.segment) == self.current
        {
            if self.named_last() && self.parted && core.is_full() {
                // Of the same exercise unless a name of its own follows.
                self.open_segment(None, usize::MAX);
            } else {
                core.inherit(&last.core);
            }
        }
        if self.body_exercise() {
            core.settle_body_pair();
        }
        if let Some(count) = self.pending_count.take() {
            core.repeat(count);
        }
        core.same |= std::mem::take(&mut self.goes_on);
        let segment = self.segment();
        let loose = std::mem::take(&mut self.loose);
        if let Some(segment) = self.out.segments.get_mut(segment) {
            segment.flags.join(loose);
        }
        let effort = self.pending_effort.take();
        self.out.groups.push(Group {
            segment,
            core,
            rir: Vec::new(),
            gave_out: None,
            bad_effort: false,
            rest_s: self.pending_rest.take(),
            warm_up: self.warm.is_some(),
            technique: None,
            day: None,
            from: at,
            to,
            core_to: to,
            line: self.line,
        });
        self.parted = false;
        if let Some(effort) = effort {
            self.effort(at, &effort);
        }
    }

    /// A load and repetitions that stand apart are one group: `20 each hand, 12 reps`.
    pub(super) fn merge(&mut self, core: &Core, at: usize, to: usize) -> bool {
        let current = self.current;
        let line = self.line;
        let led = at > 0
            && matches!(
                self.item(at - 1),
                Some(Item::With | Item::At | Item::For | Item::Of | Item::Word | Item::Name(_))
            );
        let told = self.tells_reps(at, to);
        let body = self.body_exercise();
        let dumbbells = self.of_dumbbells();
        let crossed = self.item(at) == Some(&Item::Times);
        let own_line = at > 0
            && matches!(self.item(at - 1), Some(Item::Break(true)))
            && matches!(self.item(to), None | Some(Item::Break(true)));
        let Some(last) = self.out.groups.last_mut() else {
            return false;
        };
        if Some(last.segment) != current {
            return false;
        }
        if let (Open::Single, LoadPart::Num(num)) = (core.open, core.load)
            && (told || own_line)
            && !num.is_load()
            && last.core.is_load_only()
            && last.core.exceeds(num.value)
        {
            last.core.set_reps(num.value);
            last.to = to;
            last.core_to = to;
            return true;
        }
        // `20 push-ups x 3`: sets of so many, for what needs no load.
        if body
            && last.core.open == Open::Single
            && core.is_reps_only()
            && crossed
            && let Some(count) = core.reps.first().and_then(|sets| core::count(*sets))
            && let LoadPart::Num(reps) = last.core.load
            && !reps.is_load()
        {
            last.core.turn_to_sets(reps.value, count);
            last.to = to;
            last.core_to = to;
            return true;
        }
        // `2x18 hammer curls x 10`: a dumbbell in each hand.
        if dumbbells && crossed && core.is_reps_only() && last.core.turn_to_dumbbells(&core.reps) {
            last.to = to;
            last.core_to = to;
            return true;
        }
        let close = last.line == line || last.line + 1 == line && last.core.is_load_only();
        if !close || !last.core.merge(core, led) {
            return false;
        }
        last.to = to;
        last.core_to = to;
        self.parted = false;
        true
    }

    /// `bench 90, only got 5`, `4 this time`, `225 bench for 6`, `1st set 8`: a bare number there is
    /// what was done.
    pub(super) fn tells_reps(&self, at: usize, to: usize) -> bool {
        let word = at.checked_sub(1).and_then(|at| self.items.get(at));
        let led = word.is_some_and(|s| {
            matches!(
                s.item,
                Item::For | Item::Label | Item::Name(_) | Item::Colon
            )
        });
        let this_time = self.items.get(to).is_some_and(|s| {
            matches!(self.scan.w(s.from), W::This | W::That) && self.scan.w(s.from + 1) == W::Time
        });
        led || this_time
            || word.is_some_and(|s| has("got only managed made hit", self.scan.text_at(s.from)))
    }
}
