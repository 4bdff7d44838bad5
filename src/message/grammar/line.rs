//! Lines of names and numbers, as diaries have them: `DB row 10x35 / 10x40`, `row 12/60, 12/60`,
//! `deadlift 50 for 8 x 2 sets`, `40/50/60 x 10`, `8x3 (80, 85, 87.5)`.
//!
//! Every way in which the numbers can be loads, repetitions and sets is a candidate; one order holds
//! for the whole line. Each is scored ([`super::evidence`]). The best is taken where it is clearly
//! best; two that are close are both offered; where a part of the line is not understood, this
//! grammar says nothing.

use crate::domain::catalogue::{Basis, Catalogue};
use crate::domain::id::ExerciseId;
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};

use super::super::file;
use super::super::item::{Item, Num, Spanned};
use super::super::reading::{Draft, DraftLoad, SetReading};
use super::super::scan::Scan;
use super::super::sets::Flags;
use super::super::vocabulary::Roles;
use super::atom::{Atom, Atoms, Parting, Said, atoms, unit_of};
use super::evidence::Usual;
use super::order::{groups, orders};
use super::rows::{Row, rows};

/// How much better than the next the best candidate must be to be taken, in nats: by a factor of
/// some three. Chosen on the diaries of two thirds of the authors.
const CLEARLY: f64 = 1.5;
/// What speaks against repetitions before the load, nats. Common practice, no source.
const TURNED: f64 = 1.0;
/// More sets than this are not in one line.
const MOST_SETS: usize = 40;
/// Ways to cut a line, by its numbers: beyond this it would take too long.
const MOST_TRIED: usize = 400;
/// Lines of more numbers than this are left alone.
const MOST_NUMBERS: usize = 40;

/// Words in whose company numbers are no sets that were done here.
const AGAINST: Roles = Roles::OTHER
    .with(Roles::INTENT)
    .with(Roles::PLAN)
    .with(Roles::HYPO)
    .with(Roles::NEG)
    .with(Roles::TRADE)
    .with(Roles::WHO)
    .with(Roles::PAIN)
    .with(Roles::ROWING);

/// What a line is read against.
pub(in crate::message) struct Line<'l> {
    pub scan: &'l Scan<'l>,
    pub items: &'l [Spanned],
    pub catalogue: &'l Catalogue,
    pub unit: Unit,
    pub last: Option<&'l SetReading>,
}

/// What a line was read as.
pub(in crate::message) struct Found {
    /// The ways to read it, the best first; more than one where they are close.
    pub readings: Vec<Vec<Draft>>,
    /// Words of which nothing harmless is known.
    pub strangers: usize,
    /// Words before the last number, beside names.
    pub words: usize,
    /// Words behind it.
    pub tail: usize,
    /// Numbers in the line.
    pub numbers: usize,
    /// The words themselves leave two readings.
    pub open: bool,
}

impl Line<'_> {
    /// The sets of the line, where all of it is explained.
    pub(in crate::message) fn read(&self) -> Option<Found> {
        let numbers = self.items.iter().filter(|s| matches!(s.item, Item::Num(_)));
        if numbers.count() > MOST_NUMBERS {
            return None;
        }
        let (start, strangers, words) = self.start()?;
        let mut out = Found {
            readings: vec![Vec::new()],
            strangers,
            words,
            tail: 0,
            numbers: 0,
            open: false,
        };
        let mut at = start;
        while let Some(Item::Name(id)) = self.items.get(at).map(|s| &s.item) {
            let behind = at + 1;
            let is_name = |s: &Spanned| matches!(s.item, Item::Name(_));
            let to = self
                .items
                .iter()
                .skip(behind)
                .position(is_name)
                .map_or(self.items.len(), |place| behind + place);
            let found = atoms(self.scan, self.items, (behind, to), AGAINST)?;
            let ways = self.segment(*id, &found)?;
            out.strangers += found.strangers;
            out.words += std::mem::replace(&mut out.tail, found.tail) + found.words;
            out.numbers += found.numbers;
            out.open |= found.list.contains(&Atom::Attempts) || is_slashed(&found);
            if out.readings.len() > 1 && ways.len() > 1 {
                return None;
            }
            let before = std::mem::take(&mut out.readings);
            for head in &before {
                for way in &ways {
                    let mut all = head.clone();
                    all.extend(way.iter().cloned());
                    out.readings.push(all);
                }
            }
            at = to;
        }
        let fits = |sets: &Vec<Draft>| !sets.is_empty() && sets.len() <= MOST_SETS;
        (at == self.items.len() && out.readings.iter().all(fits)).then_some(out)
    }

    /// The first name: before it stand labels, marks, a day and harmless words alone.
    fn start(&self) -> Option<(usize, usize, usize)> {
        let name = self
            .items
            .iter()
            .position(|s| matches!(s.item, Item::Name(_)))?;
        let (mut strangers, mut words) = (0, 0);
        for spanned in self.items.get(..name)? {
            match spanned.item {
                Item::Label
                | Item::Comma
                | Item::Dash(_)
                | Item::Break(_)
                | Item::Colon
                | Item::Day(_) => {}
                Item::Word => {
                    let token = self.scan.token(spanned.from)?;
                    let roles = token.word.roles;
                    let beside = self.items.get(name).is_some_and(|s| s.from == spanned.to);
                    let part = self.scan.names.changes_movement(token)
                        || roles.any(Roles::VARIANT)
                        || beside && !roles.any(Roles::FILL);
                    if roles.any(AGAINST) || part {
                        return None;
                    }
                    words += 1;
                    strangers += usize::from(!roles.any(Roles::FILL));
                }
                _ => return None,
            }
        }
        Some((name, strangers, words))
    }

    /// The ways to read the numbers of one exercise, the best first.
    fn segment(&self, id: ExerciseId, atoms: &Atoms) -> Option<Vec<Vec<Draft>>> {
        // `bench 30s x 10`: the words make it the dumbbell movement, where there is one.
        let hands = |atom: &Atom| matches!(atom, Atom::Number(n) if n.num.per_hand);
        let twin = self
            .scan
            .names
            .twin(id)
            .filter(|_| atoms.list.iter().any(hands));
        let id = twin.unwrap_or(id);
        let exercise = self.catalogue.exercise(id);
        if exercise.timed || atoms.numbers == 0 {
            return None;
        }
        let last = self.last.filter(|last| last.exercise == id);
        let usual = Usual {
            exercise,
            unit: unit_of(&atoms.list, self.unit),
            last_kg: last.map(|last| last.load.mass.in_kg().max(1.0)),
        };
        let mut candidates: Vec<(f64, Vec<Row>)> = Vec::new();
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
                let Some(score) = usual.score(&found.rows) else {
                    continue;
                };
                let score = score - found.cost;
                match candidates
                    .iter_mut()
                    .find(|(_, known)| same(known, &found.rows))
                {
                    Some(known) => known.0 = known.0.max(score),
                    None => candidates.push((score, found.rows)),
                }
            }
        }
        candidates.sort_by(|a, b| b.0.total_cmp(&a.0));
        // `2x30 x 10` are two dumbbells.
        let two =
            matches!(atoms.list.first(), Some(Atom::Number(n)) if (n.num.value - 2.0).abs() < 0.1);
        let hands = exercise.basis == Basis::PerHand
            || matches!(atoms.list.get(2), Some(Atom::Number(n)) if n.said == Said::Load);
        if two && hands {
            return None;
        }
        let best = candidates.first()?.0;
        let clearly = if is_slashed(atoms) {
            f64::INFINITY
        } else {
            CLEARLY
        };
        candidates
            .iter()
            .take_while(|(score, _)| best - score < clearly)
            .take(3)
            .map(|(_, rows)| {
                rows.iter()
                    .map(|row| self.draft(id, row, atoms, usual.unit))
                    .collect()
            })
            .collect()
    }

    fn draft(&self, id: ExerciseId, row: &Row, atoms: &Atoms, unit: Unit) -> Option<Draft> {
        let day = self.items.iter().find_map(|s| match s.item {
            Item::Day(day) => Some(day),
            _ => None,
        });
        let exercise = self.catalogue.exercise(id);
        let flags = Flags {
            added: atoms.added,
            assisted: atoms.assisted,
            ..Flags::default()
        };
        let load = match row.load {
            Some(num) => Some(DraftLoad {
                amount: num.value,
                unit: num.unit.unwrap_or(unit),
                basis: Some(file::basis(&num, exercise, &flags)),
            }),
            None if exercise.basis == Basis::Body && !flags.added && !flags.assisted => {
                Some(DraftLoad {
                    amount: 0.0,
                    unit,
                    basis: Some(Basis::Body),
                })
            }
            None => None,
        };
        Some(Draft {
            exercise: Some(id),
            load,
            reps: Some(file::whole_reps(row.reps)?),
            rir: row
                .rir
                .and_then(|rir| crate::domain::effort::Rir::new(rir).ok()),
            rest_s: row.rest_s,
            warm_up: atoms.warm_up,
            per_side: atoms.side,
            technique: atoms.technique,
            day,
            ..Draft::default()
        })
    }
}

/// `100/8/3`: three sets of eight, or one more of three.
fn is_slashed(atoms: &Atoms) -> bool {
    matches!(
        atoms.list.as_slice(),
        [
            Atom::Number(a),
            Atom::Parting(Parting::Slash),
            Atom::Number(_),
            Atom::Parting(Parting::Slash),
            Atom::Number(_)
        ] if a.said == Said::Nothing && a.num.value > 20.0
    )
}

/// Whether two candidates are the same loads and repetitions.
fn same(a: &[Row], b: &[Row]) -> bool {
    a.len() == b.len()
        && a.iter()
            .zip(b)
            .all(|(a, b)| (a.load, a.reps) == (b.load, b.reps))
}

/// The set with load and repetitions the other way round, where that is far likelier.
pub(in crate::message) fn turned(
    set: &SetReading,
    catalogue: &Catalogue,
    last: Option<&SetReading>,
) -> Option<SetReading> {
    let exercise = catalogue.exercise(set.exercise);
    if !matches!(set.load.basis, Basis::Total | Basis::PerHand) || exercise.timed {
        return None;
    }
    let last = last.filter(|last| last.exercise == set.exercise);
    let unit = set.load.unit;
    let usual = Usual {
        exercise,
        unit,
        last_kg: last.map(|last| last.load.mass.in_kg().max(1.0)),
    };
    let row = |load: f64, reps: f64| Row {
        load: Some(Num {
            value: load,
            unit: Some(unit),
            ..Num::default()
        }),
        reps,
        rir: None,
        rest_s: None,
    };
    let (load, reps) = (set.load.mass.amount(unit), f64::from(set.reps));
    let other = usual.score(&[row(reps, load)])?;
    let far = usual
        .score(&[row(load, reps)])
        .is_none_or(|as_read| other - as_read > CLEARLY + TURNED);
    let mass = Mass::new(reps, unit).ok()?;
    far.then_some(SetReading {
        load: Load { mass, ..set.load },
        reps: file::whole_reps(load)?,
        ..set.clone()
    })
}

#[cfg(test)]
mod tests {
    use crate::config;
    use crate::domain::mass::Unit;
    use crate::message::{Context, Reader};

    /// `load×reps` of each set, in order.
    fn read(text: &str) -> Vec<String> {
        let reading = Reader::new(config::built_in()).read(text, &Context::alone(Unit::Kg));
        let sets = reading.sets.iter();
        sets.map(|set| {
            let load = set.load.mass.amount(set.load.unit);
            format!("{load:.1}x{}", set.reps)
        })
        .collect()
    }

    #[test]
    fn one_order_holds_for_the_whole_line() {
        let expected = ["60.0x12", "60.0x12", "60.0x10"];
        assert_eq!(read("barbell row 12/60, 12/60, 10/60"), expected);
        assert_eq!(read("barbell row 60/12, 60/12, 60/10"), expected);
        assert_eq!(
            read("db row 10x35 / 10x40 / 9x40"),
            ["35.0x10", "40.0x10", "40.0x9"]
        );
    }

    #[test]
    fn lists_of_loads_and_of_repetitions_bind() {
        for (text, expected) in [
            ("squat 60-80-100 kg x 5", "60.0x5 80.0x5 100.0x5"),
            ("bench press 3x5 (80, 85, 90kg)", "80.0x5 85.0x5 90.0x5"),
            ("ohp 10 / 8 / 6 - 40 / 45 / 50 kg", "40.0x10 45.0x8 50.0x6"),
            ("db bench 35s (8), 40s (6)", "35.0x8 40.0x6"),
            (
                "deadlift (100 kg, 130 kg, 150 kg), singles",
                "100.0x1 130.0x1 150.0x1",
            ),
            ("squat 3x5x60, 2x3x90", "60.0x5 60.0x5 60.0x5 90.0x3 90.0x3"),
            ("pull-ups - 2 x 6 = 12 reps", "0.0x6 0.0x6"),
            ("bench press 40 kg x 8, again", "40.0x8 40.0x8"),
        ] {
            let expected: Vec<&str> = expected.split(' ').collect();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn what_the_numbers_leave_open_is_asked() {
        let reader = Reader::new(config::built_in());
        for text in [
            "front raise 10/8; 10/8; 10/10",
            "bench press 100 x 3, 120 kg x 2 fails",
            "bench press, row 60x8, 60x8",
        ] {
            let reading = reader.read(text, &Context::alone(Unit::Lb));
            assert!(reading.sets.is_empty(), "{text}: {:?}", reading.sets);
            assert!(reading.unclear.is_some(), "{text}");
        }
    }

    #[test]
    fn words_beside_numbers_say_what_they_are() {
        let line = "good mornings - 60kg/8 reps, 2 sets/75kg/8 reps";
        assert_eq!(read(line), ["60.0x8", "75.0x8", "75.0x8"]);
    }
}
