//! Other days' numbers, those to come, what was meant, and names beside the sets.

use super::patterns::{
    AHEAD, DONE, EARLIER, GOING, HELD_AGAINST, LAST_WERE, LED_TO, LIKE, MEANT, NEXT, OF_NOW,
    TO_COME,
};
use super::{Settler, is_num};
use crate::message::grammar::item::{Item, Spanned};
use crate::message::grammar::phrase::Found;
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::W;

impl Settler<'_> {
    /// `80x7 last week`, `82.5 next`: other numbers than those of the sets that are told.
    pub(super) fn other_days(&mut self) {
        let stretches = self.stretches();
        let ended_by_question = |end: usize| {
            self.items
                .get(end)
                .is_some_and(|s| self.scan.is(s.from, Mark::Question))
        };
        let mut silent: Vec<(usize, usize)> = Vec::new();
        let mut ahead = false;
        for (place, &stretch) in stretches.iter().enumerate() {
            let (from, to) = stretch;
            let ended = from.checked_sub(1).and_then(|at| self.item(at));
            ahead &= !matches!(ended, Some(Item::Break(_)));
            ahead |= self.says(stretch, &AHEAD);
            if ahead {
                silent.push(stretch);
                continue;
            }
            if ended_by_question(to) || !self.has_num(stretch) {
                continue;
            }
            let token = self.items.get(from).map_or(0, |s| s.from);
            let held = HELD_AGAINST.stand(self.scan, token);
            let earlier = held || self.says(stretch, &EARLIER);
            let behind_set = stretches
                .iter()
                .take(place)
                .any(|s| self.has_num(*s) && !silent.contains(s));
            let now_follows = stretches
                .iter()
                .skip(place + 1)
                .any(|s| self.has_num(*s) && self.says(*s, &OF_NOW));
            if earlier && !self.says(stretch, &OF_NOW) && (behind_set || now_follows) {
                let leads = held || self.leads_to_earlier(from);
                if leads || self.has_pair(stretch) {
                    silent.push(stretch);
                }
                continue;
            }
            let next = NEXT.stand(self.scan, token);
            if next && behind_set {
                silent.push(stretch);
            } else if let Some(begin) = self.to_come(stretch) {
                let before = place.checked_sub(1).and_then(|at| stretches.get(at));
                let before = before.filter(|_| self.has_pair(stretch));
                // `leg press 160, 3x12 to go`
                if let Some(&before) = before
                    && begin == from
                    && self.has_num(before)
                    && !self.has_pair(before)
                    && self.item(before.1) == Some(&Item::Comma)
                    && self.items.iter().take(before.0).all(|s| !is_num(s))
                {
                    silent.push(before);
                }
                silent.push((begin, to));
            }
        }
        for (from, to) in silent {
            self.silence(from, to);
        }
        self.going();
    }

    /// `x7, moving up to 85`: what comes next, unless its repetitions follow.
    fn going(&mut self) {
        for at in 1..self.items.len() {
            let token = self.items[at].from;
            let Some(Found { to, .. }) = GOING.find(self.scan, token) else {
                continue;
            };
            let end = self.items.partition_point(|s| s.from < to);
            let skip = usize::from(matches!(
                self.item(end),
                Some(Item::Comma | Item::Times | Item::For | Item::And)
            ));
            let counted = self.value(end + skip).is_some();
            if !counted && self.items.iter().take(at).any(is_num) {
                self.silence(at, end);
            }
        }
    }

    /// Whether a stretch begins with what it is held against: `last week`, `was`, `did`.
    fn leads_to_earlier(&self, from: usize) -> bool {
        let token = self.items.get(from).map_or(0, |s| s.from);
        EARLIER.stand(self.scan, token)
            || LED_TO.stand(self.scan, token)
            || from
                .checked_sub(1)
                .and_then(|at| self.items.get(at))
                .is_some_and(|s| self.scan.is(s.from, Mark::Open))
    }

    /// From where on the numbers of a stretch are still to come.
    fn to_come(&self, (from, to): (usize, usize)) -> Option<usize> {
        let end = self.items.get(to.checked_sub(1)?)?.to;
        let mark = (from + 1..to).find(|at| {
            let token = self.items[*at].from;
            TO_COME
                .find(self.scan, token)
                .is_some_and(|found| found.to == end)
        })?;
        // `how long til the next one`
        let asks = |s: &Spanned| {
            matches!(
                self.scan.w(s.from),
                W::How | W::What | W::When | W::Which | W::Should | W::Can | W::Till
            )
        };
        if self.items.get(from..mark)?.iter().any(asks) {
            return None;
        }
        let led = self.before(mark);
        // `10 minutes later`
        if matches!(led, Some(Item::Duration(_) | Item::Foreign | Item::Rest(_))) {
            return None;
        }
        let counts = (from..mark).rfind(|at| self.value(*at).is_some())?;
        let joined = |at: &usize| {
            matches!(
                self.item(*at),
                Some(Item::Times | Item::For | Item::At | Item::With | Item::Of)
            )
        };
        let joint = counts
            .checked_sub(1)
            .filter(joined)
            .and_then(|at| at.checked_sub(1));
        // `80x8 going for 10 next time`, but `3x12 160 to go`
        let alone = joint.is_none_or(|at| self.value(at).is_none())
            && !matches!(self.before(counts), Some(Item::Num(_)));
        Some(
            match alone && (from..counts).any(|at| self.value(at).is_some()) {
                true => counts,
                false => from,
            },
        )
    }

    /// `90x3 attempt, got 2`: what was done takes the place of what was meant.
    pub(super) fn meant_and_done(&mut self) {
        let Some(meant) = self
            .items
            .iter()
            .position(|s| s.item == Item::Word && MEANT.stand(self.scan, s.from))
        else {
            return;
        };
        let sentence_ends = (meant..self.items.len())
            .find(|at| matches!(self.item(*at), Some(Item::Break(_))))
            .unwrap_or(self.items.len());
        let done = (meant + 1..sentence_ends).find_map(|at| {
            let token = self.items[at].from;
            let found = DONE.find(self.scan, token)?;
            let number = (at..sentence_ends)
                .find(|n| self.value(*n).is_some() && self.items[*n].to == found.to)?;
            let joins = matches!(
                self.item(number + 1),
                Some(
                    Item::Times
                        | Item::For
                        | Item::Sets
                        | Item::Num(_)
                        | Item::Slash
                        | Item::Dash(_)
                )
            ) || matches!(self.item(number + 1), Some(Item::Comma | Item::And))
                && self.value(number + 2).is_some();
            (!joins).then_some((at, number))
        });
        let Some((leads, done)) = done else {
            return;
        };
        let Some(reps) = self.value(done) else {
            return;
        };
        let numbers = |from: usize, to: usize| {
            (from..to)
                .filter(|at| self.value(*at).is_some())
                .collect::<Vec<_>>()
        };
        let behind = numbers(meant, leads);
        let before = numbers(0, meant);
        let is_reps = |at: usize| self.is_reps(at);
        let last = behind.last().or(before.last()).copied();
        let Some(planned) = last else {
            return;
        };
        let pair = before.last().copied().filter(|at| is_reps(*at));
        if is_reps(planned) {
            if let Some(Spanned {
                item: Item::Num(num),
                ..
            }) = self.items.get_mut(planned)
            {
                num.value = reps;
            }
            self.silence(leads, done + 1);
            // `got 2 reps`
            if self.item(done + 1) == Some(&Item::Reps) {
                self.silence(done + 1, done + 2);
            }
        } else if behind.contains(&planned) {
            if pair.is_some_and(|at| self.value(at) != Some(reps)) {
                return;
            }
            self.silence(meant, planned + 1);
            if pair.is_some() {
                self.silence(leads, done + 1);
            }
        }
        self.changed = true;
    }

    /// `8, chin over the bar`, `last two were push press`, `bench 80x8, ohp on thursday`: names and days that are
    /// of no set here.
    pub(super) fn named_aside(&mut self) {
        let stretches = self.stretches();
        for (place, &(from, to)) in stretches.iter().enumerate() {
            let told = stretches.iter().take(place).any(|s| self.has_num(*s));
            let name = (from..to).find(|at| matches!(self.item(*at), Some(Item::Name(_))));
            let Some(name) = name.filter(|_| told) else {
                continue;
            };
            let token = self.items[name].to;
            let way = matches!(
                self.scan.text_at(token),
                "over" | "above" | "past" | "below" | "under"
            );
            let few = self.says((from, name), &LAST_WERE)
                && LIKE.stand(self.scan, self.items[name - 1].from);
            let day = (name..to).find(|at| matches!(self.item(*at), Some(Item::Day(_))));
            let last = place + 1 == stretches.len();
            if few || way && !self.has_num((from, to)) {
                let begin = if few { from } else { name };
                for spanned in &mut self.items[begin..to] {
                    spanned.item = Item::Word;
                }
                self.changed = true;
            } else if let Some(day) = day
                && last
                && !self.has_num((from, to))
                && name > from.saturating_sub(1)
                && self
                    .items
                    .iter()
                    .take(from)
                    .any(|s| matches!(s.item, Item::Name(_)))
            {
                self.items[day].item = Item::Word;
                self.changed = true;
            }
        }
    }

    /// `warmed up on the bike, squat 60x10`: a warm-up that was none of the sets.
    pub(super) fn warmed_up_elsewhere(&mut self) {
        for (from, to) in self.stretches() {
            let own = &self.items[from..to];
            let warm = own.iter().position(|s| s.item == Item::Warm);
            let words = own.iter().filter(|s| s.item == Item::Word).count();
            let plain = own.iter().all(|s| {
                matches!(
                    s.item,
                    Item::Warm
                        | Item::Word
                        | Item::With
                        | Item::For
                        | Item::Duration(_)
                        | Item::Foreign
                )
            });
            if let Some(warm) = warm
                && plain
                && words > 1
                && to < self.items.len()
            {
                self.items[from + warm].item = Item::Word;
                self.changed = true;
            }
        }
    }
}
