//! What stands beside the numbers: effort, rest, warm-up, technique, and whose sets they are of.

use super::{Flags, Group, Parser, WarmFor};
use crate::message::grammar::core::{Core, LoadPart};
use crate::message::grammar::effort;
use crate::message::grammar::item::{Effort, Item, Spanned};
use crate::message::reading::Technique;
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::W;

impl Parser<'_> {
    /// `failed the 9th`: eight done.
    pub(super) fn failed(&mut self, at: usize, rep: f64) {
        self.out.training_words = true;
        let done = rep - 1.0;
        let current = self.current;
        let same_segment = |group: &Group| Some(group.segment) == current;
        if let Some(last) = self.out.groups.last_mut().filter(|g| same_segment(g)) {
            // `8, failed the 9th`: the number before is the repetitions that went.
            if matches!(last.core.load, LoadPart::Num(num) if !num.is_load() && (num.value - done).abs() < 0.1)
                && last.core.reps.is_empty()
            {
                last.core = Core::of_reps(done);
            }
            match last.core.reps.last_mut() {
                None => last.core.set_reps(done),
                Some(reps) if (*reps - rep).abs() < 0.1 => *reps = done,
                Some(reps) if (*reps - done).abs() < 0.1 => {}
                Some(reps) if done < *reps => last.core.reps.push(done),
                Some(reps) => *reps = f64::NAN,
            }
            last.to = at + 1;
            let sets = last.core.reps.len();
            last.rir.resize(sets, None);
            if let Some(rir) = last.rir.last_mut() {
                *rir = Some(0.0);
            }
            return;
        }
        self.open_group(Core::of_reps(done), at, at + 1);
        if let Some(last) = self.out.groups.last_mut() {
            last.rir = vec![Some(0.0)];
        }
    }

    /// `@ 8` behind a group: RPE, an effort to ask about, or one of two readings.
    pub(super) fn at_sign(&mut self, at: usize) -> usize {
        let Some(Item::Num(num)) = self.item(at + 1).cloned() else {
            return at + 1;
        };
        let current = self.current;
        let body = self.body_exercise();
        let starts_pair = matches!(
            self.item(at + 2),
            Some(Item::Times | Item::For | Item::Colon)
        );
        if self.out.groups.is_empty() && (5.0..=10.0).contains(&num.value) && !starts_pair {
            let (effort, to) = rpe_list(self.items, at + 1);
            self.effort(at, &effort);
            return to;
        }
        let Some(last) = self.out.groups.last_mut() else {
            return at + 1;
        };
        let adjacent = last.to == at || last.to + 1 == at;
        if !adjacent || Some(last.segment) != current {
            return at + 1;
        }
        if num.is_load() && num.value.fract() == 0.0 || num.unit.is_some() || num.value > 10.0 {
            if last.core.take_load(num) {
                last.to = at + 2;
                return at + 2;
            }
            // A second load behind `@` is most likely an effort off the scale.
            let full = last.core.is_full() && num.unit.is_none();
            if full && !starts_pair {
                last.bad_effort = true;
                return at + 2;
            }
            return at + 1;
        }
        let (effort, to) = rpe_list(self.items, at + 1);
        if last.core.rival(num, body) {
            last.to = to;
            return to;
        }
        last.to = to;
        self.effort(at, &effort);
        to
    }

    pub(super) fn effort(&mut self, at: usize, effort: &Effort) {
        self.out.training_words = true;
        let every = std::mem::take(&mut self.every) || self.every_follows(at + 1);
        let named = std::mem::take(&mut self.last_only);
        let last_only = if self.is_of_last(at) { 1 } else { named };
        if self.out.groups.is_empty() {
            self.pending_effort = Some(effort.clone());
            return;
        }
        if let Some(last) = self.out.groups.last_mut() {
            last.to = last.to.max(at + 1);
        }
        match effort {
            Effort::Bad => {
                if let Some(last) = self.out.groups.last_mut() {
                    last.bad_effort = true;
                }
            }
            Effort::One(value) => self.spread(*value, every, last_only),
            Effort::Many(values) => self.deal(values),
        }
    }

    /// `10/9/8f`, `5,5,4@9`, `10/9/8 (f)`: what is glued to the last number of a list that falls, and a failure
    /// right behind it, is that number's.
    fn is_of_last(&self, at: usize) -> bool {
        let (Some(last), Some(effort)) = (self.out.groups.last(), self.items.get(at)) else {
            return false;
        };
        let failed = matches!(self.scan.w(effort.from), W::F | W::Failed | W::Failure);
        let open = at.checked_sub(1).and_then(|at| self.items.get(at));
        let open = open.is_some_and(|s| self.scan.is(s.from, Mark::Open));
        let falls = matches!(last.core.reps.as_slice(), [.., before, last] if last < before);
        let mut others = self.out.groups.iter().rev().skip(1);
        // `60x10 rir 2, 9, 8 rir 0`
        let each = others.any(|g| g.segment == last.segment && !g.rir.is_empty());
        let direct = last.core_to == at && (failed || each || self.scan.glued(effort.from));
        falls && (direct || failed && open && last.core_to + 1 == at)
    }

    pub(super) fn every_follows(&self, at: usize) -> bool {
        let skip = self
            .items
            .get(at)
            .is_some_and(|s| matches!(self.scan.w(s.from), W::On | W::In | W::For));
        matches!(self.item(at + usize::from(skip)), Some(Item::Every))
    }

    /// One effort: for the last group, for every group, or for the last set alone.
    pub(super) fn spread(&mut self, value: f64, every: bool, last_only: usize) {
        let Some(segment) = self.out.groups.last().map(|g| g.segment) else {
            return;
        };
        if every {
            for group in self.out.groups.iter_mut().filter(|g| g.segment == segment) {
                group.rir = vec![Some(value); group.core.sets()];
            }
            return;
        }
        let Some(last) = self.out.groups.last_mut() else {
            return;
        };
        let sets = last.core.sets();
        if last_only > 0 {
            last.rir.resize(sets, None);
            let others = sets.saturating_sub(last_only);
            last.rir
                .iter_mut()
                .skip(others)
                .for_each(|rir| *rir = Some(value));
        } else {
            last.rir = vec![Some(value); sets];
        }
    }

    /// One effort for each set of the group, or of the exercise.
    pub(super) fn deal(&mut self, values: &[f64]) {
        let Some(last) = self.out.groups.last_mut() else {
            return;
        };
        let sets = last.core.sets();
        if values.len() == sets {
            last.rir = values.iter().copied().map(Some).collect();
            return;
        }
        let segment = last.segment;
        if sets == 1 && values.len() == 2 && (values[0] - values[1]).abs() < 1.1 {
            last.rir = vec![values.last().copied()];
            return;
        }
        let all: usize = self.sets_of(segment);
        if all != values.len() {
            if let Some(last) = self.out.groups.last_mut() {
                last.bad_effort = true;
            }
            return;
        }
        let mut rest = values.iter().copied().map(Some);
        for group in self.out.groups.iter_mut().filter(|g| g.segment == segment) {
            group.rir = rest.by_ref().take(group.core.sets()).collect();
        }
    }

    pub(super) fn sets_of(&self, segment: usize) -> usize {
        self.out
            .groups
            .iter()
            .filter(|g| g.segment == segment)
            .map(|g| g.core.sets())
            .sum()
    }

    /// Rest: of the group before, unless it opens a clause that a group follows.
    pub(super) fn rest(&mut self, at: usize, seconds: u32) {
        self.out.training_words = true;
        let opens = at == 0
            || matches!(
                self.item(at - 1),
                Some(Item::Break(_) | Item::And | Item::Comma)
            );
        let follows = matches!(
            self.item(at + 1),
            Some(Item::Num(_) | Item::Name(_) | Item::Times)
        ) || matches!(self.item(at + 1), Some(Item::Colon | Item::Comma))
            && self.out.groups.is_empty();
        match self.out.groups.last_mut() {
            Some(last) if !(opens && follows) => {
                last.rest_s = Some(seconds);
                last.to = last.to.max(at + 1);
            }
            _ => self.pending_rest = Some(seconds),
        }
    }

    /// A length of time by itself behind a set is its rest.
    pub(super) fn duration(&mut self, at: usize, seconds: u32) {
        let apart = |item: Option<&Item>| {
            matches!(
                item,
                None | Some(Item::Comma | Item::Break(_) | Item::Effort(_))
            )
        };
        let directly = self
            .out
            .groups
            .last()
            .is_some_and(|last| last.to == at && last.core.is_full());
        let alone = at > 0 && (directly || apart(self.item(at - 1))) && apart(self.item(at + 1));
        if let Some(last) = self.out.groups.last_mut()
            && alone
            && (15..=900).contains(&seconds)
            && last.rest_s.is_none()
        {
            last.rest_s = Some(seconds);
            last.to = last.to.max(at + 1);
        }
    }

    /// Warm-up: of the group directly before, of the rest of the line, or of a list below.
    pub(super) fn warm(&mut self, at: usize) {
        self.out.training_words = true;
        let next = self.item(at + 1).cloned();
        let header = matches!(next, Some(Item::Colon | Item::Sets))
            || matches!(next, Some(Item::Break(true)));
        let line = self.line;
        let tail = matches!(next, None | Some(Item::Break(_) | Item::Comma | Item::And));
        let behind = self.out.groups.last_mut().filter(|g| g.line == line);
        if let Some(last) = behind
            && tail
            && last.to + 2 >= at
        {
            last.warm_up = true;
            let all_line = next.is_none() || matches!(next, Some(Item::Break(true)));
            let mut from = usize::MAX;
            for group in self.out.groups.iter_mut().rev() {
                // `20x10 40x8 60x5 warmup, 80x8`: so far as nothing parts them.
                if group.line != line || !all_line && group.to < from && from != usize::MAX {
                    break;
                }
                group.warm_up = true;
                from = group.from;
            }
            return;
        }
        let list = header && self.list_below(at + 1);
        self.warm = Some(if list { WarmFor::List } else { WarmFor::Line });
    }

    /// Whether nothing but a colon stands between a header and the end of its line.
    pub(super) fn list_below(&self, at: usize) -> bool {
        self.items
            .iter()
            .skip(at)
            .map(|s| &s.item)
            .find(|item| !matches!(item, Item::Colon | Item::Sets | Item::Word))
            .is_some_and(|item| matches!(item, Item::Break(true)))
    }

    pub(super) fn technique(&mut self, at: usize, technique: Technique) {
        self.out.training_words = true;
        let own_line =
            self.list_below(at + 1) && !self.out.groups.iter().any(|g| g.line == self.line);
        if technique == Technique::Superset {
            self.supersets.push((self.line, own_line));
            return;
        }
        if std::mem::take(&mut self.last_only) > 0
            && let Some(last) = self.out.groups.last_mut()
        {
            last.technique = Some(technique);
            return;
        }
        self.flag(Flags {
            technique: Some(technique),
            ..Flags::default()
        });
    }
}

/// `8`, `8.5`, `8-9`, `8,9,10` behind `@`: reserve for the sets, or an effort off the scale.
fn rpe_list(items: &[Spanned], at: usize) -> (Effort, usize) {
    let value = |at: usize| match items.get(at).map(|s| &s.item) {
        Some(Item::Num(num)) if num.unit.is_none() => Some(num.value),
        _ => None,
    };
    let is = |at: usize, item: &Item| items.get(at).is_some_and(|s| s.item == *item);
    let Some(first) = value(at) else {
        return (Effort::Bad, at + 1);
    };
    if is(at + 1, &Item::Dash(true))
        && let Some(high) = value(at + 2)
    {
        return (effort::of_rpe(&[f64::midpoint(first, high)]), at + 3);
    }
    let mut list = vec![first];
    let mut to = at + 1;
    while (is(to, &Item::Comma) || is(to, &Item::Slash))
        && let Some(next) = value(to + 1).filter(|v| (5.0..=10.0).contains(v))
        && !is(to + 2, &Item::Times)
        && !is(to + 2, &Item::Reps)
    {
        list.push(next);
        to += 2;
    }
    (effort::of_rpe(&list), to)
}
