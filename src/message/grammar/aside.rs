//! Numbers beside the sets that are none of their own: `set 2 of 3`, `80x7 last week`, `82.5 next`, what one of
//! several sets was (`6 on the last`), what was meant and what was done (`90x3 attempt, got 2`).
//!
//! Each idea is a table of patterns ([`Phrases`]). What a phrase says takes the place of its items, before
//! the grammar weighs the numbers that are left.

mod beside;
mod counted;
mod days;
mod felt;
mod patterns;
#[cfg(test)]
mod tests;

use self::patterns::HELD_AGAINST;
use super::item::{Item, Spanned};
use super::phrase::Phrases;
use super::scan::Scan;
use crate::message::words::vocabulary::W;

/// A longer message is a list, whose numbers are all of sets; each of them would be held against all others.
const MOST_ITEMS: usize = 120;

/// The items with the phrases in their place; `None` where there are none.
pub(crate) fn settle(scan: &Scan<'_>, items: &[Spanned]) -> Option<Vec<Spanned>> {
    if items.len() > MOST_ITEMS || !items.iter().any(is_num) {
        return None;
    }
    let mut settler = Settler {
        scan,
        items: items.to_vec(),
        changed: false,
    };
    settler.settings();
    settler.in_brackets();
    settler.same_mass();
    settler.sets_behind_effort();
    settler.sides();
    settler.which_set();
    settler.counted_ahead();
    settler.helped();
    settler.one_of_several();
    settler.other_days();
    settler.meant_and_done();
    settler.named_aside();
    settler.warmed_up_elsewhere();
    settler.felt();
    settler.changed.then_some(settler.items)
}

struct Settler<'s> {
    scan: &'s Scan<'s>,
    items: Vec<Spanned>,
    changed: bool,
}

fn is_num(spanned: &Spanned) -> bool {
    matches!(spanned.item, Item::Num(_))
}

fn whole(value: f64, most: f64) -> bool {
    value.fract() == 0.0 && (1.0..=most).contains(&value)
}

impl Settler<'_> {
    fn item(&self, at: usize) -> Option<&Item> {
        self.items.get(at).map(|s| &s.item)
    }

    fn value(&self, at: usize) -> Option<f64> {
        match self.item(at) {
            Some(Item::Num(num)) => Some(num.value),
            _ => None,
        }
    }

    fn before(&self, at: usize) -> Option<&Item> {
        at.checked_sub(1).and_then(|at| self.item(at))
    }

    /// Whether a number stands before the item at `at`, and nothing right before it that joins the two.
    fn is_behind_set(&self, at: usize) -> bool {
        let joined = matches!(
            self.before(at),
            Some(
                Item::Times
                    | Item::For
                    | Item::At
                    | Item::With
                    | Item::Of
                    | Item::Name(_)
                    | Item::Slash
                    | Item::Dash(_)
                    | Item::Colon
            )
        );
        !joined && self.items.iter().take(at).any(is_num)
    }

    /// Puts `with` in the place of the items from the one at `at` up to token `to`.
    fn put(&mut self, at: usize, to: usize, with: Vec<Item>) {
        let end = self.items.partition_point(|s| s.from < to).max(at + 1);
        let (Some(from), Some(to)) = (
            self.items.get(at).map(|s| s.from),
            self.items.get(end - 1).map(|s| s.to),
        ) else {
            return;
        };
        let last = with.len();
        let spanned = with.into_iter().enumerate().map(|(place, item)| Spanned {
            item,
            from: from + place,
            to: if place + 1 == last {
                to
            } else {
                from + place + 1
            },
        });
        let spanned: Vec<_> = spanned.collect();
        self.items.splice(at..end, spanned);
        self.changed = true;
    }

    /// The numbers and what joins them from `from` up to `to` become words.
    fn silence(&mut self, from: usize, to: usize) {
        for spanned in self.items.get_mut(from..to).unwrap_or_default() {
            let keeps = matches!(
                spanned.item,
                Item::Name(_) | Item::Comma | Item::Break(_) | Item::And | Item::Word | Item::Label
            );
            if !keeps {
                spanned.item = Item::Word;
                self.changed = true;
            }
        }
    }

    /// Whether the number at `at` is repetitions behind a load.
    fn is_reps(&self, at: usize) -> bool {
        at > 1
            && matches!(self.item(at - 1), Some(Item::Times | Item::For))
            && self.value(at - 2).is_some()
            && self.value(at).is_some()
    }

    /// Where the message is parted: from item to item.
    fn stretches(&self) -> Vec<(usize, usize)> {
        let mut out = Vec::new();
        let mut from = 0;
        for at in 0..=self.items.len() {
            let parts = matches!(
                self.item(at),
                None | Some(Item::Comma | Item::Break(_) | Item::And)
            );
            let token = self.items.get(at).map_or(0, |s| s.from);
            let held =
                !parts && (self.scan.w(token) == W::But || HELD_AGAINST.stand(self.scan, token));
            if parts || held {
                if at > from {
                    out.push((from, at));
                }
                from = at + usize::from(parts);
            }
        }
        out
    }

    fn has_num(&self, (from, to): (usize, usize)) -> bool {
        self.items
            .get(from..to)
            .unwrap_or_default()
            .iter()
            .any(is_num)
    }

    /// Whether load and repetitions stand in a stretch, joined.
    fn has_pair(&self, (from, to): (usize, usize)) -> bool {
        (from + 1..to).any(|at| {
            matches!(self.item(at), Some(Item::Times | Item::For))
                && self.value(at - 1).is_some()
                && self.value(at + 1).is_some()
        })
    }

    fn says(&self, (from, to): (usize, usize), phrases: &Phrases) -> bool {
        let tokens = self.items.get(from..to).unwrap_or_default();
        tokens.iter().any(|s| phrases.stand(self.scan, s.from))
    }
}
