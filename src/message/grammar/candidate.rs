//! Every way to read the numbers of one exercise, each with what speaks against it.

use super::against::{Against, Sign as Evidence};
use super::atom::{Atom, Atoms, Joint, Said};
use super::evidence::Usual;
use super::item::{Num, Sign};
use super::order::{Group, groups, orders};
use super::rows::{Row, rows};

/// Ways to cut a line, by its numbers: beyond this it would take too long.
const MOST_TRIED: usize = 400;

/// One way to read the numbers of an exercise.
pub(super) struct Candidate {
    pub rows: Vec<Row>,
    pub against: Against,
    /// Its groups, each with how many of the sets are of it, and the item behind it.
    pub groups: Vec<(Group, usize, usize)>,
}

impl Candidate {
    /// Whether some loads have a unit and others none.
    pub(super) fn is_mixed(&self) -> bool {
        let mut units = self
            .rows
            .iter()
            .filter_map(|row| row.load)
            .map(|load| load.unit.is_some());
        let first = units.next();
        units.any(|unit| Some(unit) != first)
    }
}

/// The ways to read `atoms`, the best first. `held` says that a dumbbell may be in each hand. `None`
/// where there are none, or too many.
pub(super) fn propose(atoms: &Atoms, usual: &Usual<'_>, held: bool) -> Option<Vec<Candidate>> {
    let mut out = Vec::new();
    add(atoms, usual, &mut out)?;
    if let Some(pair) = without_two(atoms) {
        let with_unit = matches!(atoms.list.get(2), Some(Atom::Number(n)) if n.said == Said::Load);
        let loaded = matches!(pair.list.first(), Some(Atom::Number(n)) if with_unit || !n.counts());
        if held {
            for candidate in out.iter_mut().filter(|_| loaded) {
                candidate.against.add(Evidence::TwoSets, 1.0);
            }
            add(&pair, usual, &mut out)?;
        } else if with_unit || atoms.side {
            return None;
        }
    }
    if let Some(bare) = without_unit_behind(atoms) {
        let from = out.len();
        add(&bare, usual, &mut out)?;
        for candidate in out.iter_mut().skip(from) {
            candidate.against.add(Evidence::UnitBehind, 1.0);
        }
    }
    out.sort_by(|a, b| a.against.cost().total_cmp(&b.against.cost()));
    (!out.is_empty()).then_some(out)
}

/// Adds every way to read `atoms` with its score.
fn add(atoms: &Atoms, usual: &Usual<'_>, out: &mut Vec<Candidate>) -> Option<()> {
    let cuts = orders(&atoms.list);
    if cuts.len() * atoms.numbers > MOST_TRIED {
        return None;
    }
    for cut in cuts {
        let Some(groups) = groups(&atoms.list, cut) else {
            continue;
        };
        for order in cut.ways(&groups) {
            let Some(found) = rows(&groups, order) else {
                continue;
            };
            let Some(mut against) = usual.weigh(&found.rows) else {
                continue;
            };
            against.join(&found.against);
            against.join(&cut.against(&atoms.list));
            match out.iter_mut().find(|known| same(&known.rows, &found.rows)) {
                Some(known) if against.cost() < known.against.cost() => known.against = against,
                Some(_) => {}
                None => out.push(Candidate {
                    rows: found.rows,
                    against,
                    groups: groups
                        .iter()
                        .zip(found.counts)
                        .map(|(group, sets)| (group.clone(), sets, atoms.end_of(group.to)))
                        .collect(),
                }),
            }
        }
    }
    Some(())
}

/// What one of two dumbbells weighs, where that may be told with its unit: `2 x 6 kg, 12 reps`.
pub(super) fn pair_of_dumbbells(atoms: &Atoms) -> Option<Num> {
    match without_two(atoms)?.list.first() {
        Some(Atom::Number(each)) if each.num.unit.is_some() => Some(each.num),
        _ => None,
    }
}

/// `2x24: 12, 12` of a dumbbell movement: two of 24, one in each hand.
fn without_two(atoms: &Atoms) -> Option<Atoms> {
    let [
        Atom::Number(two),
        Atom::Joint(Joint::Times),
        Atom::Number(each),
        _,
        ..,
    ] = atoms.list.as_slice()
    else {
        return None;
    };
    if (two.num.value - 2.0).abs() > 0.1 || two.said != Said::Nothing || !each.loads() {
        return None;
    }
    let mut out = atoms.clone();
    out.list.drain(..2);
    out.ends.drain(..2);
    if let Some(Atom::Number(each)) = out.list.first_mut() {
        each.num.per_hand = true;
        each.said = Said::Load;
    }
    Some(out)
}

/// `185x8 lb`: the same with the units at the ends of its groups taken off, where no load has one of its
/// own. The line keeps the unit.
fn without_unit_behind(atoms: &Atoms) -> Option<Atoms> {
    let mut out = atoms.clone();
    let mut crossed = false;
    let mut any = false;
    for (at, atom) in out.list.iter_mut().enumerate() {
        let next = atoms.list.get(at + 1);
        match atom {
            Atom::Number(number) if number.num.unit.is_some() => {
                let ends = matches!(next, None | Some(Atom::Parting(_) | Atom::Effort(_)));
                if !crossed || !ends || number.num.sign != Sign::None {
                    return None;
                }
                number.num.unit = None;
                number.said = Said::Nothing;
                any = true;
            }
            _ => {}
        }
        crossed = matches!(atom, Atom::Joint(Joint::Times));
    }
    any.then_some(out)
}

/// Whether two candidates are the same loads and repetitions.
fn same(a: &[Row], b: &[Row]) -> bool {
    a.len() == b.len()
        && a.iter()
            .zip(b)
            .all(|(a, b)| (a.load, a.reps) == (b.load, b.reps))
}
