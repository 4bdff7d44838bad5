//! Numbers with no cross between them: `80 for 10`, `10 @ 80`, `80: 10/9/8`, `80kg, 10, 9`, `8 10`.

use super::list::Loads;
use super::{Core, CoreReader, LoadPart, Open, SURELY_LOAD, is_tail};
use crate::message::grammar::item::{Item, Num};

impl CoreReader<'_> {
    /// `80 for 10`, `80 for 12, 11 and 9`, `80 for 3x10`, `80 for 3 sets of 10`.
    pub(super) fn load_for(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if let Some(found) = self.sets_and_reps(LoadPart::Num(a), at) {
            return Some(found);
        }
        self.plain(at)?;
        if self.is(at + 1, &Item::Times) || self.is(at + 1, &Item::Sets) {
            return None;
        }
        let (reps, to) = self.list(at, Loads::Before)?;
        Some(self.with_count(Core::full(LoadPart::Num(a), reps), to))
    }

    /// `10 @ 80`, `10 with 55`; what follows `@` without being a load is settled elsewhere.
    pub(super) fn reps_at_load(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let b = self.num(at + 2);
        let load = b.filter(|b| !a.is_load() && (b.unit.is_some() || b.value > 10.0));
        if let Some(b) = load
            && !self.is(at + 3, &Item::Times)
        {
            return Some((Core::full(LoadPart::Num(b), vec![a.value]), at + 3));
        }
        if let Some(b) = b
            && self.is(at + 1, &Item::At)
            && !a.is_load()
            && a.value <= SURELY_LOAD
            && (5.0..=10.0).contains(&b.value)
            && !self.is(at + 3, &Item::Times)
        {
            let core = Core {
                open: Open::Two(a.value, b.value),
                reps: vec![a.value],
                ..Core::default()
            };
            return Some((core, at + 3));
        }
        self.bare(at, a)
    }

    /// `80: 10/9/8`, `80 - 10, 9`, `80: 3x10`; `80 - 10 - 3` has a number too many.
    pub(super) fn load_colon(&self, a: Num, at: usize) -> Option<(Core, usize)> {
        if let Some(found) = self.sets_and_reps(LoadPart::Num(a), at) {
            return Some(found);
        }
        if self.is(at + 1, &Item::Times) {
            return None;
        }
        let (reps, to) = self.list(at, Loads::Before)?;
        let mut core = Core::full(LoadPart::Num(a), reps);
        if let [reps] = *core.reps.as_slice()
            && self.is(to, &Item::Dash(false))
            && let Some(last) = self.plain(to + 1).filter(|last| is_tail(*last, reps))
            && self.clause_ends(to + 2)
        {
            core.open = Open::Tail(last);
            return Some((core, to + 2));
        }
        Some((core, to))
    }

    /// A number with none of the joining words behind it.
    pub(super) fn bare(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        if a.is_load() {
            return Some(self.load_then(at, a));
        }
        let next = at + 1;
        if let Some(found) = self.two_bare(at, a) {
            return Some(found);
        }
        let listed = matches!(
            self.item(next),
            Some(Item::Comma | Item::Slash | Item::And | Item::Dash(true))
        );
        if listed
            && let Some((reps, to)) = self.list(at, Loads::Follow)
            && reps.len() > 1
        {
            return Some(self.plain_list(a, reps, to));
        }
        let core = Core {
            load: LoadPart::Num(a),
            open: Open::Single,
            ..Core::default()
        };
        Some((core, next))
    }

    /// `80kg 10`, `80kg, 10, 9`, `82.5 3x8`.
    pub(super) fn load_then(&self, at: usize, a: Num) -> (Core, usize) {
        let load = LoadPart::Num(a);
        let comma = usize::from(matches!(
            self.item(at + 1),
            Some(Item::Comma | Item::Dash(_) | Item::Slash)
        ));
        let from = at + 1 + comma;
        if let Some(found) = self.sets_and_reps(load, from)
            && found.0.reps.len() <= 10
        {
            return found;
        }
        let fits = self
            .plain(from)
            .is_some_and(|b| b.fract() == 0.0 && b <= 100.0)
            && !matches!(
                self.item(from + 1),
                Some(Item::Times | Item::Sets | Item::For)
            )
            && !self.noun_follows(from + 1);
        if fits && let Some((reps, to)) = self.list(from, Loads::Before) {
            return (Core::full(load, reps), to);
        }
        (Core::full(load, Vec::new()), at + 1)
    }

    /// Two bare numbers side by side: `80 3x10`, `80 10 9`, `8 10`, `10 80kg`.
    pub(super) fn two_bare(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        if self.is(at + 1, &Item::Body) && !self.is(at + 2, &Item::Times) {
            return Some((Core::full(LoadPart::Body, vec![a.value]), at + 2));
        }
        let b = self.num(at + 1)?;
        if b.is_load() && b.value.fract() == 0.0 && !self.is(at + 2, &Item::Times) {
            return Some((Core::full(LoadPart::Num(b), vec![a.value]), at + 2));
        }
        if a.value > 10.0
            && let Some(found) = self.sets_and_reps(LoadPart::Num(a), at + 1)
        {
            return Some(found);
        }
        if matches!(
            self.item(at + 2),
            Some(Item::Times | Item::Sets | Item::Reps | Item::For | Item::At)
        ) {
            return None;
        }
        if self.noun_follows(at + 2) {
            return None;
        }
        let (mut reps, to) = self.list(at + 1, Loads::Follow)?;
        reps.insert(0, a.value);
        Some(self.plain_list(a, reps, to))
    }

    /// A bare list: a load before repetitions where the first is far larger, else open.
    pub(super) fn plain_list(&self, a: Num, reps: Vec<f64>, to: usize) -> (Core, usize) {
        let rest = reps.get(1..).unwrap_or_default();
        let most = rest.iter().copied().fold(0.0, f64::max);
        if a.value > SURELY_LOAD && a.value >= 2.0 * most {
            let mut core = Core::full(LoadPart::Num(a), rest.to_vec());
            // `100/8/3`
            if let [reps, last] = *rest
                && is_tail(last, reps)
            {
                core.reps.pop();
                core.open = Open::Tail(last);
            }
            return (core, to);
        }
        // `8, 8, 7 at 185`
        if matches!(self.item(to), Some(Item::With | Item::At))
            && let Some((load, end)) = self.load_behind(to, 0.0)
        {
            return (Core::full(load, reps), end);
        }
        let open = match reps.as_slice() {
            [first, second] => Open::Two(*first, *second),
            _ => Open::None,
        };
        let core = Core {
            reps,
            open,
            ..Core::default()
        };
        (core, to)
    }
}
