//! Groups to sets: which factor is the load, which the repetitions, which the number of sets.

use super::super::grammar::item::Num;
use super::against::{Against, Sign};
use super::atom::{Joint, Number, SURELY_LOAD, Said};
use super::order::{Between, Factor, Group, Order, PAIRS, Role, TRIPLES};

/// More sets than this are not written as a product. Common practice, no source.
const MOST_SETS: f64 = 20.0;

/// So many sets are usual. Common practice, no source.
const USUAL_SETS: (f64, f64) = (2.0, 5.0);

/// One set of a candidate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    /// `None` for the body alone, or where no load is written.
    pub load: Option<Num>,
    pub reps: f64,
    pub rir: Option<f64>,
    pub rest_s: Option<u32>,
    pub warm: bool,
}

/// The sets of a line in one order.
#[derive(Clone, Debug, Default)]
pub(super) struct Rows {
    pub rows: Vec<Row>,
    /// How many of them are of each group.
    pub counts: Vec<usize>,
    /// What the way of writing says against them.
    pub against: Against,
}

/// The sets of `groups`. `None` where a number does not fit.
pub(super) fn rows(groups: &[Group], order: Order) -> Option<Rows> {
    let mut out = Rows::default();
    // The load of the group before, and whether it was so many sets of the same.
    let mut carried: Option<Num> = None;
    let mut many = false;
    let mut used = (false, false);
    for group in groups {
        if group.again {
            let last = *out.rows.last()?;
            out.rows.push(Row { rir: None, ..last });
            out.counts.push(1);
            continue;
        }
        let parts = parts(group, order, carried, &mut out.against, &mut used)?;
        // `50x10x2, last set 55x8`: with a load of its own it may be one more.
        if group.last && many && parts.load.is_some() && carried.is_some() {
            return None;
        }
        if group.last && many {
            out.rows.pop();
        }
        let before = out.rows.len();
        expand(group, &parts, &mut carried, &mut out)?;
        out.counts.push(out.rows.len() - before);
        many = parts.sets.or(group.repeat).is_some_and(|sets| sets > 1.5);
        if let Some(last) = out.rows.last_mut().filter(|_| group.last_rir.is_some()) {
            last.rir = group.last_rir;
        }
    }
    let has_unit = |row: &Row| row.load.map(|load| load.unit.is_some());
    let mut units = out.rows.iter().filter_map(has_unit);
    if units
        .next()
        .is_some_and(|first| units.any(|unit| unit != first))
    {
        out.against.add(Sign::MixedUnits, 1.0);
    }
    if used.0
        && let Some(sign) = PAIRS.get(order.pair)?.1
    {
        let slashed = sign == Sign::RepsLoad && order.slash == Between::Joins;
        out.against
            .add(if slashed { Sign::RepsLoadSlashed } else { sign }, 1.0);
    }
    if used.1
        && let Some(sign) = TRIPLES.get(order.triple)?.1
    {
        out.against.add(sign, 1.0);
    }
    (!out.rows.is_empty()).then_some(out)
}

/// The parts of one group.
#[derive(Default)]
struct Parts<'g> {
    load: Option<&'g Factor>,
    reps: Option<&'g Factor>,
    sets: Option<f64>,
    sets_said: bool,
}

impl<'g> Parts<'g> {
    const fn is_empty(&self) -> bool {
        self.load.is_none() && self.reps.is_none() && self.sets.is_none()
    }

    fn set(&mut self, role: Role, factor: &'g Factor) -> Option<()> {
        match role {
            Role::Load => {
                // One unit stands behind a list, or one behind each of its numbers.
                let last = factor.numbers.last().and_then(|n| n.num.unit);
                let mixed = last.is_none() && factor.numbers.iter().any(|n| n.num.unit.is_some());
                let told = factor.numbers.iter().any(|n| n.said == Said::Load);
                let large = factor.numbers.iter().any(|n| n.num.value > SURELY_LOAD);
                let lone = factor.own && factor.numbers.len() < 2 && !told && !large;
                let fits = self.load.is_none()
                    && !mixed
                    && !lone
                    && factor.numbers.iter().all(Number::loads);
                self.load = Some(factor);
                fits.then_some(())
            }
            Role::Reps => {
                let counts = |n: &Number| n.counts() && n.said != Said::Sets;
                let fits = self.reps.is_none() && !factor.own && factor.numbers.iter().all(counts);
                self.reps = Some(factor);
                fits.then_some(())
            }
            Role::Sets => {
                let [one] = factor.numbers.as_slice() else {
                    return None;
                };
                let free =
                    self.sets.is_none() && !factor.own && one.counts() && one.said != Said::Reps;
                self.sets = Some(one.num.value);
                self.sets_said = one.said == Said::Sets;
                (free && (1.0..=MOST_SETS).contains(&one.num.value)).then_some(())
            }
        }
    }
}

/// More repetitions than this are no sets: `8 of 60` are eight repetitions.
const MOST_OF: f64 = 6.0;

/// `5 of 185`, `12 of 20`: so many repetitions of a load, and not so many sets of repetitions.
fn is_of_load(before: &Factor, factor: &Factor) -> bool {
    let ([count], [of]) = (before.numbers.as_slice(), factor.numbers.as_slice()) else {
        return false;
    };
    factor.joint == Some(Joint::Of)
        && matches!(count.said, Said::Nothing | Said::Reps)
        && of.said == Said::Nothing
        && (of.num.value > SURELY_LOAD || count.num.value > MOST_OF)
}

/// What the words of a factor make it, if they do.
fn said(factor: &Factor, leads: bool) -> Option<Role> {
    let all = |said| factor.numbers.iter().any(|number| number.said == said);
    if all(Said::Sets) {
        Some(Role::Sets)
    } else if all(Said::Reps) {
        Some(Role::Reps)
    } else if all(Said::Load) || factor.joint == Some(Joint::At) {
        Some(Role::Load)
    } else if leads && matches!(factor.joint, Some(Joint::For | Joint::Of)) {
        Some(Role::Reps)
    } else {
        None
    }
}

fn parts<'g>(
    group: &'g Group,
    order: Order,
    carried: Option<Num>,
    against: &mut Against,
    used: &mut (bool, bool),
) -> Option<Parts<'g>> {
    let mut parts = Parts::default();
    let mut bare: Vec<&Factor> = Vec::new();
    let count = group.factors.len();
    for (place, factor) in group.factors.iter().enumerate() {
        // `80 for 8`, `3 sets of 8`; not `100 x 8 for 3`, `3 sets of 100 x 8`.
        let next = group.factors.get(place + 1);
        let told = |f: &Factor| f.numbers.iter().any(|n| n.said != Said::Nothing);
        let leads = place == 1 && count == 2 || next.is_some_and(told);
        let later = place > 1 && !leads && factor.joint == Some(Joint::For);
        if later && said(factor, false).is_none() {
            return None;
        }
        let before = place.checked_sub(1).and_then(|at| group.factors.get(at));
        if before.is_some_and(|before| is_of_load(before, factor)) {
            parts.set(Role::Load, factor)?;
            continue;
        }
        match said(factor, leads) {
            Some(role) => parts.set(role, factor)?,
            None => bare.push(factor),
        }
    }
    let pair = PAIRS.get(order.pair)?.0;
    let triple = TRIPLES.get(order.triple)?.0;
    // `3x10 80kg`, `80kg 3x10`, `80kg for 3x10`: where the load stands, it has to stand in that order.
    let head = group.factors.get(1);
    let beside = head.is_some_and(|f| matches!(f.joint, Some(Joint::Beside | Joint::For)));
    let crossed = group.factors.first().is_some_and(|f| f.joint.is_some());
    let is_load = |f: &&Factor| parts.load.is_some_and(|load| std::ptr::eq(load, *f));
    let place = match (group.body, group.factors.iter().position(|f| is_load(&f))) {
        (Some(0), _) if crossed => Some(0),
        (Some(_), _) => Some(2),
        (None, Some(0)) if beside => Some(2),
        (None, place) => place,
    };
    let bare_two = bare.len() == 2 && (parts.load.is_some() || group.body.is_some());
    if bare_two && place.is_some_and(|place| triple.get(place) != Some(&Role::Load)) {
        return None;
    }
    let without = |skip: Role| {
        let mut left = triple.into_iter().filter(move |role| *role != skip);
        [left.next(), left.next()]
    };
    match bare.as_slice() {
        [] => {}
        [one] => {
            let role = if parts.reps.is_none() && (parts.load.is_some() || parts.sets.is_some()) {
                // `3 sets 80`: a load, unless one is known.
                if parts.load.is_none() && carried.is_none() && pair[0] == Role::Load {
                    against.add(Sign::SetsAndReps, 1.0);
                }
                Role::Reps
            } else if parts.reps.is_some() && parts.load.is_none() {
                if pair[0] == Role::Sets && parts.sets.is_none() {
                    Role::Sets
                } else if one.joint == Some(Joint::For) {
                    return None;
                } else {
                    Role::Load
                }
            } else if parts.reps.is_some() {
                Role::Sets
            } else {
                Role::Reps
            };
            parts.set(role, one)?;
        }
        [a, b] if parts.load.is_some() || group.body.is_some() => {
            let [first, second] = without(Role::Load);
            used.1 = true;
            parts.set(first?, a)?;
            parts.set(second?, b)?;
        }
        [a, b] if parts.reps.is_some() => {
            let [first, second] = without(Role::Reps);
            used.1 = true;
            parts.set(first?, a)?;
            parts.set(second?, b)?;
        }
        [a, b] if parts.sets.is_some() => {
            let [first, second] = without(Role::Sets);
            used.1 = true;
            parts.set(first?, a)?;
            parts.set(second?, b)?;
        }
        [a, b] => {
            used.0 = true;
            if b.joint == Some(Joint::Beside) {
                against.add(Sign::Beside, 1.0);
            }
            parts.set(pair[0], a)?;
            parts.set(pair[1], b)?;
        }
        // `80 3x10`, `80 for 3x10`
        [a, b, c]
            if matches!(b.joint, Some(Joint::Beside | Joint::For))
                && parts.is_empty()
                && triple[2] == Role::Load =>
        {
            used.1 = true;
            parts.set(Role::Load, a)?;
            parts.set(triple[0], b)?;
            parts.set(triple[1], c)?;
        }
        [_, b, _] if b.joint == Some(Joint::Beside) && parts.is_empty() => return None,
        // `3x10 80`
        [_, _, c] if c.joint == Some(Joint::Beside) && !(triple[2] == Role::Load && heavy(c)) => {
            return None;
        }
        [a, b, c] if parts.is_empty() => {
            used.1 = true;
            parts.set(triple[0], a)?;
            parts.set(triple[1], b)?;
            parts.set(triple[2], c)?;
        }
        _ => return None,
    }
    Some(parts)
}

/// Whether a number can be nothing but a load.
fn heavy(factor: &Factor) -> bool {
    factor.numbers.iter().all(|n| n.num.value > SURELY_LOAD)
}

fn expand(
    group: &Group,
    parts: &Parts<'_>,
    carried: &mut Option<Num>,
    out: &mut Rows,
) -> Option<()> {
    let mut sets = parts.sets;
    if let Some(repeat) = group.repeat {
        if sets.is_some() || !(1.0..=MOST_SETS).contains(&repeat) {
            return None;
        }
        sets = Some(repeat);
    } else if let Some(count) = sets.filter(|_| !parts.sets_said) {
        let far = (USUAL_SETS.0 - count).max(count - USUAL_SETS.1).max(0.0);
        out.against.add(Sign::SetsFar, far);
        if count < 2.0 {
            out.against.add(Sign::OneSet, 1.0);
        }
    }
    let loads: Vec<Num> = match parts.load {
        Some(factor) => factor.numbers.iter().map(|number| number.num).collect(),
        None if group.body.is_some() => Vec::new(),
        None => {
            let joined = group.factors.first().is_some_and(|f| f.joint.is_some());
            if !out.rows.is_empty() && !joined && !group.last {
                out.against.add(Sign::Carried, 1.0);
            }
            carried.iter().copied().collect()
        }
    };
    // A unit that stands once behind a list holds for all of it.
    let unit = loads.iter().rev().find_map(|num| num.unit);
    let loads: Vec<Num> = loads
        .into_iter()
        .map(|num| Num {
            unit: num.unit.or(unit),
            ..num
        })
        .collect();
    let reps: Vec<f64> = parts.reps?.numbers.iter().map(|n| n.num.value).collect();
    let begin = out.rows.len();
    if group.failed {
        let [one] = reps.as_slice() else {
            return None;
        };
        let none = Row {
            load: loads.first().copied(),
            reps: 0.0,
            rir: Some(0.0),
            rest_s: group.rest_s,
            warm: group.warm,
        };
        out.rows.extend(vec![none; whole(*one)?]);
        return Some(());
    }
    let mut push = |load: Option<Num>, reps: f64| {
        out.rows.push(Row {
            load,
            reps,
            rir: group.rir,
            rest_s: group.rest_s,
            warm: group.warm,
        });
    };
    let repeats = whole(sets.unwrap_or(1.0))?;
    let added = parts.reps.map_or(0, |factor| factor.added);
    match (loads.len(), reps.len()) {
        // `2x8, 6`: two of eight, then one of six.
        (0 | 1, many) if added > 0 && sets.is_some() && many == added + 1 && repeats != many => {
            (0..repeats).for_each(|_| push(loads.first().copied(), reps[0]));
            reps.iter()
                .skip(1)
                .for_each(|r| push(loads.first().copied(), *r));
        }
        (0 | 1, 1) => (0..repeats).for_each(|_| push(loads.first().copied(), reps[0])),
        (0 | 1, many) if sets.is_none() || repeats == many => {
            reps.iter().for_each(|r| push(loads.first().copied(), *r));
        }
        (many, 1) if parts.load.is_some() && (sets.is_none() || repeats == many) => {
            loads.iter().for_each(|load| push(Some(*load), reps[0]));
        }
        (many, other) if many == other && parts.load.is_some() && sets.is_none() => {
            loads
                .iter()
                .zip(&reps)
                .for_each(|(l, r)| push(Some(*l), *r));
        }
        _ => return None,
    }
    if let Some(sum) = group.sum {
        let all: f64 = out.rows.iter().map(|row| row.reps).sum();
        let own: f64 = out.rows.iter().skip(begin).map(|row| row.reps).sum();
        let fits = |total: f64| (total - sum).abs() < 0.5;
        if !fits(all) && !fits(own) {
            return None;
        }
    }
    if parts.load.is_some() || group.body.is_some() {
        *carried = loads.last().copied();
    }
    Some(())
}

fn whole(sets: f64) -> Option<usize> {
    (1_usize..=20).find(|count| {
        let value = u8::try_from(*count).map_or(0.0, f64::from);
        (value - sets).abs() < 0.1
    })
}
