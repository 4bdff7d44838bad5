//! How a set felt, said right behind it.

use super::patterns::{COULD, LIMIT, RATED, REPS_END};
use super::{Settler, whole};
use crate::message::grammar::effort::of_rpe;
use crate::message::grammar::item::{Effort, Item};
use crate::message::grammar::phrase::Phrases;

impl Settler<'_> {
    /// `80x8, felt like a 9`, `could've got 10`: how much was left in the one set that is told.
    pub(super) fn felt(&mut self) {
        let numbers: Vec<usize> = (0..self.items.len())
            .filter(|at| self.value(*at).is_some())
            .collect();
        let (Some(&first), Some(&last)) = (numbers.first(), numbers.last()) else {
            return;
        };
        let rated = self.items.iter().any(|s| {
            matches!(
                s.item,
                Item::Effort(_) | Item::FailedAt(_) | Item::OneSet(_) | Item::Last | Item::Warm
            )
        });
        if rated {
            return;
        }
        // The numbers of one set, or of equal ones.
        let one = |last: usize| {
            (first..last).all(|at| {
                !matches!(
                    self.item(at),
                    Some(Item::Comma | Item::Break(_) | Item::And)
                )
            })
        };
        let reps = |at: usize| {
            let joined = at > 0 && matches!(self.item(at - 1), Some(Item::Times | Item::For));
            self.value(at).filter(|_| joined)
        };
        for at in first + 1..self.items.len() {
            if !matches!(
                self.before(at),
                Some(Item::Num(_) | Item::Comma | Item::Reps | Item::Side | Item::Sets)
            ) {
                continue;
            }
            let token = self.items[at].from;
            let found = |phrases: &Phrases| phrases.find(self.scan, token);
            let own = |to: usize| {
                let behind: Vec<_> = numbers
                    .iter()
                    .filter(|n| **n >= at && self.items[**n].from < to)
                    .collect();
                let before = numbers.iter().rfind(|n| **n < at).copied();
                before.filter(|before| one(*before) && (last < at || behind.contains(&&last)))
            };
            let rated = if let Some(found) = found(&LIMIT) {
                own(found.to).map(|_| (Effort::One(0.0), found.to))
            } else if let Some(found) = found(&RATED) {
                let effort = of_rpe(&found.numbers);
                let scale = matches!(found.numbers.as_slice(), [rpe] if (6.0..=10.0).contains(rpe));
                own(found.to)
                    .filter(|_| scale && effort != Effort::Bad)
                    .map(|_| (effort, found.to))
            } else if let Some(found) = found(&COULD) {
                let done = own(found.to).and_then(reps);
                let left = done
                    .zip(found.numbers.first())
                    .map(|(done, could)| could - done);
                let ends = REPS_END.find(self.scan, found.to);
                left.filter(|left| whole(*left, 5.0))
                    .zip(ends)
                    .map(|(left, ends)| (Effort::One(left), ends.to))
            } else {
                None
            };
            if let Some((effort, to)) = rated {
                self.put(at, to, vec![Item::Effort(effort)]);
                return;
            }
        }
    }
}
