//! A run of numbers that nothing else parts: every way to read it is a candidate, and the first group
//! of the likeliest is what stands there.

use super::{Core, CoreReader, LoadPart, Open, is_tail};
use crate::domain::quantities::catalogue::Basis;
use crate::message::grammar::atom::{Atom, Joint, Said, atoms};
use crate::message::grammar::candidate::propose;
use crate::message::grammar::item::Item;
use crate::message::grammar::order::Group;
use crate::message::grammar::rows::Row;
use crate::message::words::token::Mark;
use crate::message::words::vocabulary::W;

/// How likely the best candidate must be where the numbers leave more than one.
const SURE: f64 = 0.9;

impl CoreReader<'_> {
    /// The first group of the run that begins at `at`.
    pub(super) fn run(&self, at: usize) -> Option<(Core, usize)> {
        let end = self.run_end(at);
        let for_it = at
            .checked_sub(1)
            .is_some_and(|before| self.is(before, &Item::For));
        let doubt = self
            .items
            .get(end)
            .is_some_and(|s| matches!(self.scan.w(s.from), W::Or | W::To));
        if for_it || doubt {
            return None;
        }
        let on_body = self.usual.exercise.is_some_and(|e| e.basis == Basis::Body);
        let atoms = atoms(self.scan, self.items, (at, end), on_body)?;
        if atoms.numbers < 2 {
            return None;
        }
        let found = propose(&atoms, self.usual, self.dumbbells)?;
        let best = found.first()?;
        let (group, sets, to) = best.groups.first()?;
        let rows = best.rows.get(..*sets)?;
        let all: f64 = found
            .iter()
            .map(|c| (best.against.cost() - c.against.cost()).exp())
            .sum();
        let sure = all.recip() >= SURE;
        let known = sure && self.usual.exercise.is_some();
        let slashed = self.is(at + 1, &Item::Slash);
        if atoms.numbers == 3 && !sure || slashed && !known {
            return None;
        }
        Some((core_of(group, rows, &atoms.list)?, *to))
    }

    /// The item behind the run of numbers that begins at `at`.
    fn run_end(&self, at: usize) -> usize {
        let mut to = at;
        while self.goes_with_numbers(to) {
            to += 1;
        }
        // A number before a word that it counts is not of the run: `80x10, 3 people`.
        let counts = self.noun_follows(to) || self.is(to, &Item::Foreign);
        if counts {
            while to > at && !matches!(self.item(to), Some(Item::Comma | Item::And)) {
                to -= 1;
            }
        }
        let parts = |item: Option<&Item>| {
            matches!(
                item,
                Some(
                    Item::Comma
                        | Item::And
                        | Item::Colon
                        | Item::Slash
                        | Item::Dash(_)
                        | Item::Break(_)
                )
            )
        };
        while to > at && parts(self.item(to - 1)) {
            to -= 1;
        }
        to
    }

    fn goes_with_numbers(&self, at: usize) -> bool {
        let number = |at: usize| matches!(self.item(at), Some(Item::Num(_) | Item::Body));
        match self.item(at) {
            Some(Item::At) => self
                .num(at + 1)
                .is_some_and(|num| num.unit.is_some() || num.value > 10.0),
            Some(Item::For | Item::With | Item::Of) => number(at + 1),
            Some(Item::Comma) => self
                .items
                .get(at)
                .is_some_and(|s| self.scan.is(s.from, Mark::Comma)),
            Some(
                Item::Num(_)
                | Item::Body
                | Item::Times
                | Item::Sets
                | Item::Reps
                | Item::And
                | Item::Colon
                | Item::Slash
                | Item::Dash(_),
            ) => true,
            _ => false,
        }
    }
}

/// What a group adds up to. `None` where its sets differ in load.
fn core_of(group: &Group, rows: &[Row], atoms: &[Atom]) -> Option<Core> {
    let first = rows.first()?;
    let reps: Vec<f64> = rows.iter().map(|row| row.reps).collect();
    if let [a, b] = group.factors.as_slice()
        && let [load] = a.numbers.as_slice()
        && b.joint == Some(Joint::Times)
        && !b.own
        && group.body.is_none()
        && [a, b]
            .iter()
            .all(|f| f.numbers.iter().all(|n| n.said == Said::Nothing))
    {
        let mut core = Core {
            load: LoadPart::Num(load.num),
            reps: b.numbers.iter().map(|n| n.num.value).collect(),
            open: Open::Pair,
            ..Core::default()
        };
        if let [reps, last] = *core.reps.as_slice()
            && b.added == 1
            && is_tail(last, reps)
        {
            core.reps.pop();
            core.open = Open::Tail(last);
        }
        return Some(core);
    }
    if group.factors.iter().any(|f| {
        f.joint == Some(Joint::Beside) && f.numbers.iter().all(|n| n.said == Said::Nothing)
    }) && group.factors.len() == 2
        && !group
            .factors
            .iter()
            .any(|f| f.numbers.iter().any(|n| n.said != Said::Nothing))
    {
        return None;
    }
    if group.factors.len() < 2 && group.body.is_none() {
        return None;
    }
    if rows.iter().any(|row| row.load != first.load) {
        return None;
    }
    let load = match first.load {
        Some(num) => LoadPart::Num(num),
        None if group.body.is_some() => LoadPart::Body,
        None => LoadPart::None,
    };
    Some(Core {
        said_reps: load == LoadPart::None,
        ..Core::full(load, reps)
    })
}
