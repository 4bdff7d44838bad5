//! Numbers beside the sets that are settings of a machine, what was meant or went before in brackets, the same load in two
//! units, and a count of sets behind their effort.

use super::patterns::{EARLIER, MEANT, MOST_COUNTED, SETTING};
use super::{Settler, is_num, whole};
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::grammar::item::{Item, Num};
use crate::message::grammar::phrase::Found;
use crate::message::words::token::Mark;

/// Two loads are one in two units within this share of it: `140kg/308lb`.
const SAME_MASS: f64 = 0.015;

impl Settler<'_> {
    /// `seat 5: 45x12`, `chest pad hole 3, 50x12`: how the machine was set.
    pub(super) fn settings(&mut self) {
        let all = self.items.last().map_or(0, |s| s.to);
        for token in 0..all {
            let Some(Found { to, .. }) = SETTING.find(self.scan, token) else {
                continue;
            };
            let at = self.items.partition_point(|s| s.from < token);
            let end = self.items.partition_point(|s| s.from < to);
            let joined = matches!(self.item(end), Some(Item::Times | Item::For));
            if at < end && !joined {
                self.put(at, to, vec![Item::Word]);
            }
        }
    }

    /// `(goal 5x5 @ 160)`, `(last wk 70x8, 70x8)`: numbers in brackets that were meant, or went before.
    pub(super) fn in_brackets(&mut self) {
        let mut at = 0;
        while at + 1 < self.items.len() {
            at += 1;
            let token = self.items[at].from;
            let opens = token > 0 && self.scan.is(token - 1, Mark::Open);
            if !opens || !(EARLIER.stand(self.scan, token) || MEANT.stand(self.scan, token)) {
                continue;
            }
            let all = self.items.last().map_or(token, |s| s.to);
            let Some(close) = (token..=all).find(|&to| self.scan.is(to, Mark::Close)) else {
                continue;
            };
            let end = self.items.partition_point(|s| s.from < close);
            let outside = |place: usize| place < at || place >= end;
            let mut places = 0..self.items.len();
            if places.any(|place| outside(place) && is_num(&self.items[place])) {
                self.put(at, close, vec![Item::Label]);
            }
        }
    }

    /// `140kg/308lb x 5`: one load.
    pub(super) fn same_mass(&mut self) {
        let kilograms = |item: Option<&Item>| match item {
            Some(Item::Num(Num {
                value,
                unit: Some(unit),
                ..
            })) => Mass::new(*value, *unit)
                .ok()
                .map(|mass| (*unit, mass.amount(Unit::Kg))),
            _ => None,
        };
        for at in 0..self.items.len() {
            let (one, other) = (kilograms(self.item(at)), kilograms(self.item(at + 2)));
            let (Some((unit, kg)), Some((other, same))) = (one, other) else {
                continue;
            };
            let apart = self.item(at + 1) == Some(&Item::Slash);
            if apart && unit != other && (kg / same - 1.0).abs() <= SAME_MASS {
                self.items.drain(at + 1..at + 3);
                self.changed = true;
            }
        }
    }

    /// `102.5x4@7.5 x3`: so many such sets.
    pub(super) fn sets_behind_effort(&mut self) {
        for at in 3..self.items.len() {
            let behind = match self.item(at) {
                Some(Item::Effort(_)) => at + 1,
                // `@8`, which is weighed later.
                Some(Item::At)
                    if self
                        .value(at + 1)
                        .is_some_and(|rpe| (5.0..=10.0).contains(&rpe)) =>
                {
                    at + 2
                }
                _ => continue,
            };
            let counted = self
                .value(behind + 1)
                .filter(|sets| whole(*sets, MOST_COUNTED));
            let goes_on = matches!(
                self.item(behind + 2),
                Some(Item::Times | Item::For | Item::Num(_))
            );
            if let Some(sets) = counted
                && !goes_on
                && self.is_reps(at - 1)
                && self.item(behind) == Some(&Item::Times)
                && let Some(to) = self.items.get(behind + 1).map(|s| s.to)
            {
                self.put(behind, to, vec![Item::Repeat(sets)]);
            }
        }
    }
}
