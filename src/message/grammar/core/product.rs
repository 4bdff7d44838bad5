//! Numbers with crosses between them: `80x10`, `80x10x3`, `3x80kg x10`, `2x16 for 12`, `80x10x9x8`.

use super::list::Loads;
use super::{Core, CoreReader, LONGEST, LoadPart, MOST_SETS, Open, SURELY_LOAD, count, repeated};
use crate::message::grammar::item::{Item, Num, Sign};

impl CoreReader<'_> {
    /// `80x10`, `80x10x3`, `3x10`, `2x30 x 10`, `10x80kg`.
    pub(super) fn product(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let b = self.num(at + 2)?;
        if self.is(at + 3, &Item::Times)
            && let Some(c) = self.num(at + 4)
        {
            return self.chain(at, a).or_else(|| self.triple(a, b, c, at));
        }
        if b.sign == Sign::Minus {
            return Some((below_zero(a, b), at + 3));
        }
        let halved = b.value.fract() > 0.0 && (a.value - 2.0).abs() < 0.1;
        if b.unit.is_some() || b.per_hand || halved {
            return self.product_of_load(at, a, b);
        }
        if self.is(at + 3, &Item::Sets) {
            // `10 x 3 sets`
            let sets = count(b.value)?;
            return Some(self.with_load_behind(
                Core {
                    reps: vec![a.value; sets],
                    said_reps: true,
                    ..Core::default()
                },
                at + 4,
            ));
        }
        if let Some(found) = self.two_dumbbells(at, a, b) {
            return Some(found);
        }
        let (reps, to) = self.list(at + 2, Loads::Before)?;
        if a.is_load() {
            return Some(self.with_count(Core::full(LoadPart::Num(a), reps), to));
        }
        let core = Core {
            load: LoadPart::Num(a),
            reps,
            open: Open::Pair,
            ..Core::default()
        };
        if a.value <= MOST_SETS
            && let Some((load, end)) = self.load_behind(to, a.value)
        {
            let mut sets = core.clone();
            if sets.pair_to_sets(load) {
                return Some((sets, end));
            }
        }
        Some(self.with_count(core, to))
    }

    /// `2x16 for 12`, and, of dumbbells only, `2x14 8`.
    pub(super) fn two_dumbbells(&self, at: usize, a: Num, b: Num) -> Option<(Core, usize)> {
        if a.is_load() || (a.value - 2.0).abs() > 0.1 {
            return None;
        }
        let led = self.is(at + 3, &Item::For);
        let from = at + 3 + usize::from(led);
        let reps = self.plain(from)?;
        let fits = reps <= SURELY_LOAD
            && reps.fract() == 0.0
            && !self.starts_group(from + 1)
            && (led || self.dumbbells);
        let (reps, to) = self.list(from, Loads::Before).filter(|_| fits)?;
        let load = LoadPart::Num(Num {
            per_hand: true,
            ..b
        });
        Some((Core::full(load, reps), to))
    }

    /// The second number is the load: `2x26kg for 9` is one of two dumbbells, `10x80kg` is reps ×
    /// load, `3x80kg x 10` is sets × load × reps.
    pub(super) fn product_of_load(&self, at: usize, a: Num, b: Num) -> Option<(Core, usize)> {
        let mut from = at + 3;
        if matches!(self.item(from), Some(Item::For | Item::Comma))
            && self.plain(from + 1).is_some()
        {
            from += 1;
        }
        let pair = (a.value - 2.0).abs() < 0.1 && !a.is_load();
        if self.plain(from).is_some() && (pair || a.value <= 6.0) {
            let (reps, to) = self.list(from, Loads::Before)?;
            let load = LoadPart::Num(Num {
                per_hand: b.per_hand || pair,
                ..b
            });
            if pair {
                return Some(self.with_count(Core::full(load, reps), to));
            }
            return Some((Core::full(load, repeated(a.value, &reps)?), to));
        }
        if pair {
            let load = LoadPart::Num(Num {
                per_hand: true,
                ..b
            });
            return Some((Core::full(load, Vec::new()), at + 3));
        }
        Some(self.with_count(Core::full(LoadPart::Num(b), vec![a.value]), at + 3))
    }

    /// `100x8x7x6`, `100 x8 x7 x6`: longer than load × reps × sets, it lists repetitions.
    pub(super) fn chain(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let mut reps = Vec::new();
        let mut to = at + 1;
        while reps.len() < LONGEST
            && self.is(to, &Item::Times)
            && let Some(value) = self.plain(to + 1)
        {
            reps.push(value);
            to += 2;
        }
        let long = reps.len() > 2 && reps.iter().all(|value| *value < a.value);
        long.then(|| (Core::full(LoadPart::Num(a), reps), to))
    }

    pub(super) fn triple(&self, a: Num, b: Num, c: Num, at: usize) -> Option<(Core, usize)> {
        let mut to = at + 5;
        if matches!(self.item(to), Some(Item::Sets | Item::Reps)) {
            to += 1;
        }
        if c.is_load() {
            let reps = repeated(a.value, &[b.value])?;
            return Some((Core::full(LoadPart::Num(c), reps), to));
        }
        if (a.value - 2.0).abs() < 0.1 && !a.is_load() {
            let load = LoadPart::Num(Num {
                per_hand: true,
                ..b
            });
            let (reps, end) = self.list(at + 4, Loads::Before)?;
            return Some((Core::full(load, reps), end));
        }
        if b.is_load() {
            return Some((crossed(a, b, c)?, to));
        }
        if !a.is_load() && a.value <= 10.0 && b.value > SURELY_LOAD && c.value <= SURELY_LOAD {
            let reps = repeated(a.value, &[c.value])?;
            return Some((Core::full(LoadPart::Num(b), reps), to));
        }
        if !a.is_load() && a.value <= 10.0 && c.value > MOST_SETS {
            let reps = repeated(a.value, &[b.value])?;
            return Some((Core::full(LoadPart::Num(c), reps), to));
        }
        let reps = repeated(c.value, &[b.value])?;
        Some((Core::full(LoadPart::Num(a), reps), to))
    }
}

/// `80x-5`: nobody does fewer than no repetitions. `8x-15` are eight with fifteen taken off.
fn below_zero(a: Num, b: Num) -> Core {
    if a.is_load() || a.value > MOST_SETS {
        Core::full(LoadPart::Num(a), vec![f64::NAN])
    } else {
        Core::full(LoadPart::Num(b), vec![a.value])
    }
}

/// `3x80kg x10` is sets × load × reps, `8x100kg x3` reps × load × sets; of small numbers either
/// may be either.
fn crossed(a: Num, load: Num, c: Num) -> Option<Core> {
    let (sets, reps) = if a.value >= 6.0 && c.value < a.value {
        (c.value, a.value)
    } else {
        (a.value, c.value)
    };
    let mut core = Core::full(LoadPart::Num(load), repeated(sets, &[reps])?);
    if a.value < 6.0 && c.value < a.value && c.value > 1.0 {
        core.open = Open::Crossed(a.value, c.value);
    }
    Some(core)
}
