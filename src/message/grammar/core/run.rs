//! A run of numbers that nothing else parts: every way to read it is a candidate, and the first group
//! of the likeliest is what stands there.

use super::{Core, CoreReader, LoadPart, MOST_SETS, Open, SURELY_LOAD, count, is_tail, repeated};
use crate::domain::quantities::catalogue::Basis;
use crate::message::grammar::atom::{Atom, Joint, Number, Parting, Said, atoms};
use crate::message::grammar::candidate::{Candidate, propose};
use crate::message::grammar::item::{Item, Num, Sign};
use crate::message::grammar::order::{Factor, Group, is_like};
use crate::message::grammar::rows::Row;
use crate::message::grammar::scan::is_in_turn;
use crate::message::words::token::Mark;

/// Runs of more items than this are read in pieces, so that long messages take no more time by the word.
const LONGEST_RUN: usize = 48;
/// The same in a message of more than so many items.
const MANY_ITEMS: usize = 64;
const LONGEST_OF_MANY: usize = 10;
/// A message of more than so many items has more sets than are taken without a question, so that how they
/// are parted matters little: its runs are shorter, and halved at once.
const TOO_MANY_ITEMS: usize = 160;
const LONGEST_OF_TOO_MANY: usize = 5;
/// So often a run that does not fit is cut at its last part; then it is halved.
const FINE_CUTS: usize = 8;
/// How likely the best candidate must be where the numbers leave more than one.
const SURE: f64 = 0.9;
/// A best one less likely than this is taken by nobody.
const DOUBT: f64 = 0.75;

impl CoreReader<'_> {
    /// The first group of the run that begins at `at`.
    pub(super) fn run(&self, at: usize) -> Option<(Core, usize)> {
        let led = at > 0 && self.is(at - 1, &Item::For) && !self.is(at + 1, &Item::Sets);
        if led {
            return None;
        }
        // What slashes part, only the exercise tells: no way to read them is worth proposing.
        if self.is(at + 1, &Item::Slash) && self.usual.exercise.is_none() {
            return None;
        }
        let mut end = self.run_end(at);
        // What does not fit together is read up to what parts it.
        for cuts in 0.. {
            if end <= at + 1 {
                break;
            }
            if let Some(found) = self.first_group(at, end) {
                return self.unless_open(found);
            }
            let half = at + (end - at) / 2 + 1;
            let by_halves = (cuts >= FINE_CUTS || self.items.len() > TOO_MANY_ITEMS)
                .then(|| self.cut(at, half, end))
                .flatten();
            end = by_halves.or_else(|| self.cut(at, end, end))?;
        }
        None
    }

    /// Its repetitions where they are not known exactly: `80x8-10`, `80x8 or 9`.
    fn unless_open(&self, (mut core, to): (Core, usize)) -> Option<(Core, usize)> {
        let last = *core.reps.last()?;
        let Some(behind) = self.span(last, to).or_else(|| self.doubt(to)) else {
            return Some((core, to));
        };
        core.reps = vec![f64::NAN];
        let to = behind + usize::from(self.is(behind, &Item::Reps));
        Some((core, to))
    }

    fn first_group(&self, at: usize, end: usize) -> Option<(Core, usize)> {
        let on_body = self.usual.exercise.is_some_and(|e| e.basis == Basis::Body);
        let atoms = atoms(self.scan, self.items, (at, end), on_body)?;
        let enough = if atoms.list.contains(&Atom::Body) {
            1
        } else {
            2
        };
        if atoms.numbers < enough {
            return None;
        }
        let found = propose(&atoms, self.usual, self.dumbbells)?;
        let best = found.first()?;
        let (group, sets, to) = best.groups.first()?;
        if self.is(at + 1, &Item::Slash) && !is_sure(&found) {
            return None;
        }
        // `2x24: 12, 12`: two dumbbells, or two sets.
        let added = group.factors.iter().any(|f| f.added > 1) && group.factors.len() > 2;
        if added && !is_sure(&found) {
            return None;
        }
        let mut core = core_of(group, best.rows.get(..*sets)?, &atoms.list)?;
        // `80x10, then 3` is the next set.
        if let Open::Tail(last) = core.open
            && to.checked_sub(2).is_some_and(|at| self.is(at, &Item::And))
        {
            core.reps.push(last);
            core.open = Open::Pair;
        }
        if !is_sure(&found) {
            core.doubtful = core.open == Open::None && chance(&found) < DOUBT;
            settle_crossed(&mut core, group);
        }
        Some((core, *to))
    }

    /// `10, 9, 8`, `185, 8`.
    pub(super) fn bare_list(&self, at: usize) -> Option<(Core, usize)> {
        let (values, to) = self.list(at)?;
        (values.len() > 1).then(|| (list_of(&values), to))
    }

    /// `80x150`, `80x0`, `80x8.5`: two numbers whatever they are.
    pub(super) fn pair(&self, at: usize, a: Num) -> Option<(Core, usize)> {
        let b = self.num(at + 2)?;
        if b.sign == Sign::Minus {
            return Some((below_zero(a, b), at + 3));
        }
        let reps = self
            .span(b.value, at + 3)
            .or_else(|| self.doubt(at + 3))
            .map_or((b.value, at + 3), |to| (f64::NAN, to));
        let core = Core {
            load: LoadPart::Num(a),
            reps: vec![reps.0],
            open: if a.is_load() { Open::None } else { Open::Pair },
            ..Core::default()
        };
        (!b.is_load() || b.value.fract() > 0.0).then_some((core, reps.1))
    }

    /// The item behind the run of numbers that begins at `at`.
    fn run_end(&self, at: usize) -> usize {
        let longest = if self.items.len() > TOO_MANY_ITEMS {
            LONGEST_OF_TOO_MANY
        } else if self.items.len() > MANY_ITEMS {
            LONGEST_OF_MANY
        } else {
            LONGEST_RUN
        };
        let mut to = at;
        while to < at + longest && self.goes_with_numbers(to) {
            to += 1;
        }
        if to == at + longest {
            to = (at..to).rfind(|at| self.parts(*at)).unwrap_or(at);
        }
        // A number before a word that it counts is not of the run: `80x10, 3 people`.
        let counted = self.noun_follows(to) || self.is(to, &Item::Foreign) || self.in_turn(to);
        if counted && let Some(cut) = (at..to).rfind(|at| self.parts(*at)) {
            to = cut;
        }
        self.trim(at, to)
    }

    /// A shorter run: up to the last item before `within` that parts its numbers.
    fn cut(&self, at: usize, within: usize, end: usize) -> Option<usize> {
        let leads = |at: &usize| {
            matches!(self.item(*at), Some(Item::At | Item::With | Item::For))
                || matches!(self.item(*at), Some(Item::Num(_))) && self.num(at - 1).is_some()
        };
        let parts = (at + 1..within).rfind(|at| self.parts(*at));
        let place = parts.or_else(|| (at + 1..within).rfind(leads))?;
        // `5 sets @ 60: 5, 5, 4`: what was meant and what was done.
        let listed = (place..end).any(|at| self.is(at, &Item::Colon));
        (!listed).then(|| self.trim(at, place))
    }

    fn parts(&self, at: usize) -> bool {
        matches!(
            self.item(at),
            Some(Item::Comma | Item::And | Item::Slash | Item::Dash(_))
        )
    }

    fn trim(&self, at: usize, mut to: usize) -> usize {
        let open = |at: usize| {
            self.parts(at) || matches!(self.item(at), Some(Item::Colon | Item::Times | Item::At))
        };
        while to > at && open(to - 1) {
            to -= 1;
        }
        to
    }

    fn mark(&self, at: usize, mark: Mark) -> bool {
        let token = self.items.get(at).map(|s| s.from);
        token.is_some_and(|token| self.scan.is(token, mark))
    }

    fn in_turn(&self, at: usize) -> bool {
        is_in_turn(self.scan, self.items, at)
    }

    fn goes_with_numbers(&self, at: usize) -> bool {
        let number = |at: usize| matches!(self.item(at), Some(Item::Num(_) | Item::Body));
        match self.item(at) {
            Some(Item::At) => self
                .num(at + 1)
                .is_some_and(|num| num.unit.is_some() || num.value > 10.0),
            Some(Item::Sets) => !self.in_turn(at),
            Some(Item::For | Item::With | Item::Of) => number(at + 1),
            Some(Item::Comma) if self.mark(at, Mark::Open) => {
                self.num(at + 1).is_some() && self.mark(at + 2, Mark::Close)
            }
            Some(Item::Comma) if self.mark(at, Mark::Close) => at
                .checked_sub(2)
                .is_some_and(|at| self.mark(at, Mark::Open)),
            Some(Item::Comma) => self.mark(at, Mark::Comma),
            Some(Item::Dash(true)) => {
                let low = at.checked_sub(1).and_then(|at| self.plain(at));
                // `10-8-12` is a list.
                let listed = at > 1 && self.is(at - 2, &Item::Dash(true));
                listed || low.is_none_or(|low| self.span(low, at).is_none())
            }
            Some(
                Item::Num(_)
                | Item::Body
                | Item::Times
                | Item::Reps
                | Item::And
                | Item::Colon
                | Item::Slash
                | Item::Dash(false),
            ) => true,
            _ => false,
        }
    }
}

/// How likely the best of the candidates is, 0 to 1.
fn chance(candidates: &[Candidate]) -> f64 {
    let costs = || candidates.iter().map(|c| c.against.cost());
    let best = costs().fold(f64::INFINITY, f64::min);
    let all: f64 = costs().map(|cost| (best - cost).exp()).sum();
    all.recip()
}

/// Whether it is likely enough to be taken.
fn is_sure(candidates: &[Candidate]) -> bool {
    chance(candidates) >= SURE
}

/// What a group adds up to. `None` where its sets differ in load, or nothing joins its numbers.
fn core_of(group: &Group, rows: &[Row], atoms: &[Atom]) -> Option<Core> {
    let first = rows.first()?;
    let bare = |factor: &Factor| factor.numbers.iter().all(|n| n.said == Said::Nothing);
    let all_bare = group.body.is_none() && group.factors.iter().all(|f| bare(f) && !f.own);
    match group.factors.as_slice() {
        [list] if group.body.is_none() => {
            let told = list.numbers.iter().any(|n| n.said == Said::Reps);
            return Some(Core {
                said_reps: told,
                ..list_of(&values(list))
            });
        }
        [a, b] if all_bare && b.joint == Some(Joint::Beside) => {
            return Some(list_of(&[values(a), values(b)].concat()));
        }
        // `9 8 reps`
        [a, b]
            if b.joint == Some(Joint::Beside)
                && bare(a)
                && let ([load], [reps]) = (a.numbers.as_slice(), b.numbers.as_slice())
                && reps.said == Said::Reps
                && is_like(load, reps) =>
        {
            return Some(Core {
                said_reps: true,
                ..list_of(&[load.num.value, reps.num.value])
            });
        }
        [a, b] if all_bare && b.joint == Some(Joint::Times) => return pair_of(group, a, b, atoms),
        // `100 - 8 - 3`
        [a, b, c]
            if all_bare
                && let ([load], [reps], [last]) = (
                    a.numbers.as_slice(),
                    b.numbers.as_slice(),
                    c.numbers.as_slice(),
                )
                && [Parting::Dash, Parting::Slash]
                    .iter()
                    .any(|p| atoms.contains(&Atom::Parting(*p)))
                && is_tail(last.num.value, reps.num.value) =>
        {
            return Some(Core {
                open: Open::Tail(last.num.value),
                ..Core::full(LoadPart::Num(load.num), vec![reps.num.value])
            });
        }
        _ => {}
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
        ..Core::full(load, rows.iter().map(|row| row.reps).collect())
    })
}

fn values(factor: &Factor) -> Vec<f64> {
    factor.numbers.iter().map(|n| n.num.value).collect()
}

/// A bare list: a load before repetitions where the first is far larger, else repetitions, of which
/// two may be either.
fn list_of(values: &[f64]) -> Core {
    let (first, rest) = values.split_first().unwrap_or((&0.0, &[]));
    let most = rest.iter().copied().fold(0.0, f64::max);
    if *first > SURELY_LOAD && *first >= 2.0 * most {
        let load = Num {
            value: *first,
            ..Num::default()
        };
        let mut core = Core::full(LoadPart::Num(load), rest.to_vec());
        // `100/8/3`
        if let [reps, last] = *rest
            && is_tail(last, reps)
        {
            core.reps.pop();
            core.open = Open::Tail(last);
        }
        return core;
    }
    Core {
        reps: values.to_vec(),
        open: match *values {
            [first, second] => Open::Two(first, second),
            _ => Open::None,
        },
        ..Core::default()
    }
}

/// `80x10`, `80x10, 9, 8`: load × repetitions or sets × repetitions, by the exercise.
fn pair_of(group: &Group, a: &Factor, b: &Factor, atoms: &[Atom]) -> Option<Core> {
    let [load] = a.numbers.as_slice() else {
        return None;
    };
    let mut core = Core {
        load: LoadPart::Num(load.num),
        reps: b.numbers.iter().map(|n| n.num.value).collect(),
        open: Open::Pair,
        ..Core::default()
    };
    let told = atoms.iter().any(|atom| {
        matches!(
            atom,
            Atom::Repeat(_)
                | Atom::Number(Number {
                    said: Said::Sets,
                    ..
                })
        )
    });
    match (core.reps.as_slice(), group.repeat) {
        // `100x8, x3`
        (&[reps], Some(sets)) if !told && is_tail(sets, reps) => core.open = Open::Tail(sets),
        // `60x7, x8`
        (_, Some(reps)) if !told => core.reps.push(reps),
        (_, Some(sets)) => {
            core.repeat(count(sets)?);
        }
        (&[reps, last], None) if b.added == 1 && is_tail(last, reps) => {
            core.reps.pop();
            core.open = Open::Tail(last);
        }
        _ => {}
    }
    Some(core)
}

/// `5x100kg x3`, with the load in the middle: sets stand first, or one of both is meant.
fn settle_crossed(core: &mut Core, group: &Group) {
    let one = |factor: &Factor| match factor.numbers.as_slice() {
        [one] if factor.joint != Some(Joint::Beside) => Some(*one),
        _ => None,
    };
    let [a, load, c] = group.factors.as_slice() else {
        return;
    };
    let (Some(a), Some(load), Some(c)) = (one(a), one(load), one(c)) else {
        return;
    };
    let told = load.said == Said::Load;
    let (first, last) = (a.num.value, c.num.value);
    let bare = [a, c].iter().all(|n| n.said == Said::Nothing);
    let apart = told || load.num.value > SURELY_LOAD && first.max(last) <= SURELY_LOAD;
    if !bare || !apart || first >= 6.0 && last < first {
        return;
    }
    if let Some(reps) = repeated(first, &[last]) {
        *core = Core::full(LoadPart::Num(load.num), reps);
    }
    if told && last < first && last > 1.0 {
        core.open = Open::Crossed(first, last);
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
