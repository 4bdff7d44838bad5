//! The orders in which the numbers of a group are written, each told by its first item.
//!
//! Most groups are runs of numbers, read by their candidates (`run`); here are those that go on from the
//! set before, and single numbers.

use super::{Core, CoreReader, LoadPart, Open, SURELY_LOAD, count, repeated};
use crate::message::grammar::evidence::Usual;
use crate::message::grammar::item::{Item, Num, Spanned};
use crate::message::grammar::scan::Scan;
use crate::message::words::variants::has;
use crate::message::words::vocabulary::W;

/// So many more are as likely sets as repetitions. Common practice, no source.
const MOST_SETS_MORE: f64 = 2.0;

/// The numbers that start at item `at`, and the item after them.
/// `dumbbells` says that the exercise named before is done with a dumbbell in each hand.
pub(crate) fn at(
    scan: &Scan<'_>,
    items: &[Spanned],
    at: usize,
    dumbbells: bool,
    usual: &Usual<'_>,
) -> Option<(Core, usize)> {
    let reader = CoreReader {
        scan,
        items,
        dumbbells,
        usual,
    };
    match reader.item(at)? {
        Item::Body => {
            let alone = || Some((Core::full(LoadPart::Body, Vec::new()), at + 1));
            reader.run(at).or_else(alone)
        }
        Item::OpenLoad => Some(reader.behind_open_load(at + 1)),
        Item::Times => reader.times_first(at),
        Item::Same => reader.same_first(at).map(going_on),
        Item::More => reader.more_sets(at).map(going_on),
        Item::Sets => reader.uncounted(at),
        Item::Num(num) => reader.number_first(at, *num),
        _ => None,
    }
}

/// Marks numbers that are said to go on from the set before.
fn going_on((core, to): (Core, usize)) -> (Core, usize) {
    (Core { same: true, ..core }, to)
}

impl CoreReader<'_> {
    /// `x9`, `x 9, 8`, `x3 sets`.
    pub(super) fn times_first(&self, at: usize) -> Option<(Core, usize)> {
        let value = self.plain(at + 1)?;
        if self.is(at + 2, &Item::Sets) {
            return Some((
                Core {
                    count_for_last: Some(count(value)?),
                    ..Core::default()
                },
                at + 3,
            ));
        }
        if self.is(at + 2, &Item::Times) {
            let next = self.plain(at + 3)?;
            // `x5 x5 x4` are three sets, `x8 x 3` three of one.
            if next > 5.0 || next + 1.0 >= value || self.is(at + 4, &Item::Times) {
                return Some((Core::of_reps(value), at + 2));
            }
            let sets = count(next)?;
            let core = Core {
                reps: vec![value; sets],
                said_reps: true,
                ..Core::default()
            };
            return Some((core, at + 4));
        }
        let (reps, to) = self.list(at + 1)?;
        let core = Core {
            reps,
            said_reps: true,
            same: true,
            ..Core::default()
        };
        Some((core, to))
    }

    /// `same, 9`, `again 9`, `another 8`.
    pub(super) fn same_first(&self, at: usize) -> Option<(Core, usize)> {
        let mut from = at + 1;
        while from < at + 6
            && (matches!(
                self.item(from),
                Some(
                    Item::Comma
                        | Item::Times
                        | Item::For
                        | Item::Same
                        | Item::Colon
                        | Item::With
                        | Item::Of
                        | Item::Sets
                        | Item::Dash(_)
                )
            ) || self.same_word(from))
        {
            from += 1;
        }
        // `same for set 2`
        if self.is(from - 1, &Item::Sets) && from > at + 1 {
            return None;
        }
        let value = self.plain(from)?;
        // `again at 8` is a time.
        let at_time = self
            .items
            .get(from - 1)
            .is_some_and(|s| self.scan.w(s.from) == W::At);
        if self.is(from + 1, &Item::Times) || value > 100.0 || at_time {
            return None;
        }
        let (reps, to) = self.list(from)?;
        Some((
            Core {
                reps,
                said_reps: true,
                ..Core::default()
            },
            to,
        ))
    }

    /// `same weight`, `same load`.
    pub(super) fn same_word(&self, at: usize) -> bool {
        self.items.get(at).is_some_and(|s| {
            s.item == Item::Word
                && has(
                    "weight load one bar thing as before here",
                    self.scan.text_at(s.from),
                )
        })
    }

    /// `100 for sets of 5`: how many sets is not said.
    pub(super) fn uncounted(&self, at: usize) -> Option<(Core, usize)> {
        let counted = at.checked_sub(1).is_some_and(|at| self.num(at).is_some());
        self.plain(at + 2)
            .filter(|_| self.is(at + 1, &Item::Of) && !counted)?;
        Some((Core::of_reps(f64::NAN), at + 3))
    }

    /// Repetitions, or sets × repetitions, behind a load that is no number.
    fn behind_open_load(&self, at: usize) -> (Core, usize) {
        let joins = |at: usize| {
            matches!(
                self.item(at),
                Some(Item::Times | Item::Colon | Item::Comma | Item::For)
            )
        };
        let from = at + usize::from(joins(at));
        let alone = (Core::full(LoadPart::Open, Vec::new()), at);
        let Some((core, to)) = self.num(from).and_then(|a| self.number_first(from, a)) else {
            return alone;
        };
        match (core.load, core.open) {
            (LoadPart::None, _) => (Core::full(LoadPart::Open, core.reps), to),
            (LoadPart::Num(reps), Open::Single) => {
                (Core::full(LoadPart::Open, vec![reps.value]), to)
            }
            (LoadPart::Num(sets), Open::Pair) => {
                let reps = repeated(sets.value, &core.reps);
                reps.map_or(alone, |reps| (Core::full(LoadPart::Open, reps), to))
            }
            _ => alone,
        }
    }

    pub(super) fn skip_of(&self, at: usize) -> usize {
        let skip = matches!(
            self.item(at),
            Some(
                Item::Of
                    | Item::Times
                    | Item::Comma
                    | Item::Colon
                    | Item::With
                    | Item::For
                    | Item::Dash(_)
                    | Item::At
            )
        );
        at + usize::from(skip)
    }

    pub(super) fn number_first(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        match self.item(at + 1) {
            Some(Item::More | Item::Same) if !a.is_load() => self.more(a, at).map(going_on),
            Some(Item::Colon) if self.is_ratio(at) => None,
            _ => self
                .run(at)
                .or_else(|| self.bare_list(at))
                .or_else(|| match self.item(at + 1) {
                    Some(Item::Times) => self.pair(at, a).or_else(|| self.broken_off(at, a)),
                    Some(Item::Sets) => self.counted(at, a),
                    _ => Some(self.single(at, a)),
                }),
        }
    }

    /// `, 3 sets`.
    fn counted(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let core = Core {
            count_for_last: Some(count(a.value)?),
            ..Core::default()
        };
        Some((core, at + 2))
    }

    /// A number by itself.
    fn single(&self, at: usize, a: Num) -> (Core, usize) {
        let told = self.is(at + 1, &Item::Reps);
        if a.reps || told && !a.is_load() {
            return (Core::of_reps(a.value), at + 1 + usize::from(told));
        }
        let core = Core {
            load: LoadPart::Num(a),
            open: if a.is_load() {
                Open::None
            } else {
                Open::Single
            },
            ..Core::default()
        };
        (core, at + 1)
    }

    /// `21:9`: no load and its repetitions, unless a name stands before.
    fn is_ratio(&self, at: usize) -> bool {
        let glued = |at: usize| self.items.get(at).is_some_and(|s| self.scan.glued(s.from));
        let named = at.checked_sub(1).and_then(|before| self.item(before));
        glued(at + 1)
            && glued(at + 2)
            && !matches!(named, Some(Item::Name(_)))
            && !matches!(
                self.item(at + 3),
                Some(Item::Slash | Item::Comma | Item::Times | Item::Name(_))
            )
    }

    /// `bench 80x`: sent before it was finished. A small number there may be anything.
    fn broken_off(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let ends = matches!(self.item(at + 2), None | Some(Item::Break(true)));
        let load = a.is_load() || a.value > 10.0;
        (ends && load).then(|| (Core::full(LoadPart::Num(a), Vec::new()), at + 2))
    }

    /// `9 more`, `9 again`; `3 more sets` is none; `245 again` is a load.
    pub(super) fn more(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if self.is(at + 1, &Item::Same) && a.value > SURELY_LOAD {
            let load = LoadPart::Num(Num { load: true, ..a });
            return Some((Core::full(load, Vec::new()), at + 2));
        }
        if self.is(at + 2, &Item::Sets) {
            let reps = self.plain(self.skip_of(at + 3))?;
            let core = Core {
                reps: vec![reps; count(a.value)?],
                said_reps: true,
                ..Core::default()
            };
            return Some((core, self.skip_of(at + 3) + 1));
        }
        // `2 more x5`, `3 more of 5`
        if matches!(self.item(at + 2), Some(Item::Times | Item::Of))
            && let Some(reps) = self.plain(at + 3)
            && !self.is(at + 4, &Item::Times)
        {
            let core = Core {
                reps: vec![reps; count(a.value)?],
                said_reps: true,
                ..Core::default()
            };
            return Some((core, at + 4 + usize::from(self.is(at + 4, &Item::Reps))));
        }
        if self.counts_something(at + 2) {
            return None;
        }
        // `1 more` by itself is as likely a set.
        let opens = !self
            .items
            .iter()
            .take(at)
            .any(|s| matches!(s.item, Item::Num(_)));
        if a.value <= MOST_SETS_MORE && opens && !self.is(at + 2, &Item::Reps) {
            return Some((Core::of_reps(f64::NAN), at + 2));
        }
        let to = if self.is(at + 2, &Item::Reps) {
            at + 3
        } else {
            at + 2
        };
        Some((Core::of_reps(a.value), to))
    }

    /// `10 more minutes`, `2 more to go`: not repetitions.
    pub(super) fn counts_something(&self, at: usize) -> bool {
        let Some(token) = self.items.get(at).and_then(|s| self.scan.token(s.from)) else {
            return false;
        };
        matches!(
            token.word.w,
            W::Min | W::Sec | W::Day | W::Week | W::Hour | W::To | W::Till | W::Of | W::Time
        )
    }

    /// `one more set, 8`.
    pub(super) fn more_sets(&self, at: usize) -> Option<(Core, usize)> {
        let from = self.skip_of(at + 2);
        let one = self.is(at + 1, &Item::Sets)
            && self
                .items
                .get(at.checked_sub(1)?)
                .is_some_and(|s| self.scan.w(s.from) == W::One);
        let (reps, to) = self.list(from).filter(|_| one)?;
        let core = Core {
            reps,
            said_reps: true,
            ..Core::default()
        };
        Some((core, to))
    }
}
