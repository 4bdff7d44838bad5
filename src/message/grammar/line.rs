//! Lines of names and numbers, as diaries have them: `DB row 10x35 / 10x40`, `row 12/60, 12/60`,
//! `deadlift 50 for 8 x 2 sets`, `40/50/60 x 10`, `8x3 (80, 85, 87.5)`.
//!
//! Every way in which the numbers can be loads, repetitions and sets is a candidate; one order holds
//! for the whole line. Each is scored ([`super::evidence`]). The best is taken where it is clearly
//! best; two that are close are both offered; where a part of the line is not understood, this
//! grammar says nothing.

use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::usual_bar;

use super::super::grammar::groups::Flags;
use super::super::grammar::item::{Item, Num, Sign, Spanned};
use super::super::grammar::scan::{Scan, is_in_turn, is_rounds};
use super::super::grammar::sets;
use super::super::reading::{Draft, DraftLoad, Habit, SetReading, whole_reps};
use super::super::words::vocabulary::{Roles, W};
use super::atom::{Atom, Atoms, Joint, Parting, Said, atoms, is_one_sided, unit_of};
use super::candidate::{Candidate, pair_of_dumbbells, propose};
use super::evidence::{NONE, Usual};
use super::rows::Row;

/// How likely the best candidate must be to be taken: a false log costs nine times as much as a
/// question.
const SURE: f64 = 0.9;
/// Readings less likely than this are not offered.
const WORTH_OFFERING: f64 = 0.04;
/// How much better than load before repetitions the other way round must be, nats.
const CLEARLY: f64 = 1.5;
/// What speaks against repetitions before the load, nats. Common practice, no source.
const TURNED: f64 = 1.0;
/// More sets than this are not in one line.
const MOST_SETS: usize = 40;
/// Lines of more numbers than this are left alone.
const MOST_NUMBERS: usize = 40;

/// What a line is read against.
pub(crate) struct Line<'l> {
    pub scan: &'l Scan<'l>,
    pub items: &'l [Spanned],
    pub catalogue: &'l Catalogue,
    pub unit: Unit,
    pub last: Option<&'l SetReading>,
    /// What the lifter did of late, by exercise.
    pub habits: &'l [Habit],
}

/// What a line was read as.
pub(crate) struct Found {
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
    /// Words say of every number what it is, or what this lifter usually does is known.
    pub told: bool,
    /// What this lifter usually does of each exercise is known.
    pub known: bool,
    /// The best of each exercise is likely enough to be taken.
    pub sure: bool,
    /// How likely the best is, 0 to 1.
    pub chance: f64,
    /// The best has a bare number as a load beside loads with units.
    pub mixed: bool,
}

impl Line<'_> {
    /// The sets of the line, where all of it is explained.
    pub(crate) fn read(&self) -> Option<Found> {
        if self.has_several_days() || self.goes_on() || self.counts_ahead() {
            return None;
        }
        let Some((rounds, from)) = self.rounds() else {
            // `curl 30x10, pushdown 30x12, 3 rounds`: of both.
            let both = (0..self.items.len()).any(|at| is_in_turn(self.scan, self.items, at));
            return if both { None } else { self.read_once() };
        };
        let one = Line {
            items: self.items.get(from..)?,
            ..*self
        };
        let mut found = one.read_once()?;
        found.numbers += 1;
        for sets in &mut found.readings {
            *sets = std::iter::repeat_n(sets.clone(), rounds)
                .flatten()
                .collect();
        }
        let fits = |sets: &Vec<Draft>| sets.len() <= MOST_SETS;
        found.readings.iter().all(fits).then_some(found)
    }

    /// Which sets are of which day is for the words to say.
    fn has_several_days(&self) -> bool {
        let days = self.items.iter().filter(|s| matches!(s.item, Item::Day(_)));
        let days = days.count();
        let today = |s: &Spanned| s.item == Item::Word && self.scan.w(s.from) == W::Today;
        days > 1 || days == 1 && self.items.iter().any(today)
    }

    /// `bench 80x8, 3 sets row 60x10`: a number of sets that is of the name behind it, where names lead.
    fn counts_ahead(&self) -> bool {
        let item = |at: usize| self.items.get(at).map(|s| &s.item);
        let named = |s: &Spanned| matches!(s.item, Item::Name(_));
        let numbered = |s: &Spanned| matches!(s.item, Item::Num(_));
        (1..self.items.len()).any(|at| {
            let of = usize::from(item(at + 1) == Some(&Item::Of));
            let before = self.items.get(..at - 1).unwrap_or_default();
            item(at) == Some(&Item::Sets)
                && self.items.get(at - 1).is_some_and(numbered)
                && self.items.get(at + 1 + of).is_some_and(named)
                && self.items.get(at + 2 + of).is_some_and(numbered)
                && before.iter().any(named)
                && before.iter().any(numbered)
        })
    }

    /// `x7, now ohp 40x8`: the first goes on from the last set, and has no name here.
    fn goes_on(&self) -> bool {
        let name = self
            .items
            .iter()
            .position(|s| matches!(s.item, Item::Name(_)));
        let crossed = self.items.first().is_some_and(|s| s.item == Item::Times);
        let parted = |s: &Spanned| matches!(s.item, Item::Comma | Item::Break(_) | Item::And);
        self.last.is_some()
            && crossed
            && name.is_some_and(|at| self.items.iter().take(at).any(parted))
    }

    /// `3 rounds of squat 60x10, bench 50x10`: so often all of what follows, and where that begins.
    fn rounds(&self) -> Option<(usize, usize)> {
        let [number, sets, ..] = self.items else {
            return None;
        };
        let Item::Num(num) = number.item else {
            return None;
        };
        let rounds = sets.item == Item::Sets && is_rounds(self.scan, sets.from);
        let count = (2_usize..=20).find(|count| {
            let value = u8::try_from(*count).map_or(0.0, f64::from);
            (value - num.value).abs() < 0.1
        });
        let joined = |s: &Spanned| matches!(s.item, Item::Of | Item::Colon | Item::Comma);
        let from = 2 + usize::from(self.items.get(2).is_some_and(joined));
        let names = self.items.iter().skip(from);
        let names = names.filter(|s| matches!(s.item, Item::Name(_))).count();
        count
            .filter(|_| rounds && !num.is_load() && names > 1)
            .map(|count| (count, from))
    }

    fn read_once(&self) -> Option<Found> {
        let numbers = self.items.iter().filter(|s| matches!(s.item, Item::Num(_)));
        if numbers.count() > MOST_NUMBERS {
            return None;
        }
        let (segments, strangers, words) = self.segments()?;
        let mut out = Found {
            readings: vec![Vec::new()],
            strangers,
            words,
            tail: 0,
            numbers: 0,
            open: false,
            told: true,
            known: true,
            sure: true,
            chance: 1.0,
            mixed: false,
        };
        for Segment { id, from, to } in segments {
            let on_body = self.catalogue.exercise(id).basis == Basis::Body;
            let mut found = atoms(self.scan, self.items, (from, to), on_body)?;
            found.dumbbells |= self.names(from, |at| self.scan.w(at) == W::Dumbbell);
            // `single arm pushdown 10 15/15`
            found.one_sided = self.names(from, |at| {
                let one = matches!(self.scan.text_at(at), "single" | "one" | "1");
                one && self.scan.w(at + 1) == W::Limb
            });
            let Ways {
                drafts: ways,
                sure,
                chance,
                mixed,
            } = self.segment(id, &found)?;
            out.chance *= chance;
            out.sure &= sure;
            out.mixed |= mixed;
            out.strangers += found.strangers;
            out.words += std::mem::replace(&mut out.tail, found.tail) + found.words;
            out.numbers += found.numbers;
            out.known &= self.is_known(id);
            out.told &= is_told(&found, on_body) || self.is_known(id);
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
        }
        let fits = |sets: &Vec<Draft>| !sets.is_empty() && sets.len() <= MOST_SETS;
        out.readings.iter().all(fits).then_some(out)
    }

    /// Whether the name before the item at `from` holds such a word.
    fn names(&self, from: usize, is: impl Fn(usize) -> bool) -> bool {
        let name = from.checked_sub(1).and_then(|at| self.items.get(at));
        name.is_some_and(|s| (s.from..s.to).any(is))
    }

    /// Whether it is known what this lifter usually does of an exercise.
    fn is_known(&self, id: ExerciseId) -> bool {
        self.last.is_some_and(|last| last.exercise == id)
            || self.habits.iter().any(|habit| habit.exercise == id)
    }

    /// The names of the line with the items that hold their numbers, the unknown words before the
    /// first and all of those. Each name stands before its numbers, or each behind them; one alone
    /// may stand among them.
    fn segments(&self) -> Option<(Vec<Segment>, usize, usize)> {
        let names: Vec<(usize, ExerciseId)> = self
            .items
            .iter()
            .enumerate()
            .filter_map(|(at, s)| match s.item {
                Item::Name(id) => Some((at, id)),
                _ => None,
            })
            .collect();
        let is_number = |s: &Spanned| matches!(s.item, Item::Num(_));
        let first_number = self.items.iter().position(is_number)?;
        let (first, id) = *names.first()?;
        let (last, _) = *names.last()?;
        let end = self.items.len();
        if first < first_number {
            let (strangers, words) = self.before(first)?;
            let ends = names.iter().skip(1).map(|(at, _)| *at).chain([end]);
            let segment = |((at, id), to): (&(usize, ExerciseId), usize)| Segment {
                id: *id,
                from: at + 1,
                to,
            };
            return Some((
                names.iter().zip(ends).map(segment).collect(),
                strangers,
                words,
            ));
        }
        if let [_] = names.as_slice() {
            // `exercise 2: row 60x12`: a heading.
            let heads = |s: &Spanned| matches!(s.item, Item::Break(_) | Item::Colon);
            if self.items.get(first_number..first)?.iter().any(heads) {
                return None;
            }
            return Some((
                vec![Segment {
                    id,
                    from: 0,
                    to: end,
                }],
                0,
                0,
            ));
        }
        if self.items.iter().skip(last).any(is_number) {
            return None;
        }
        let starts = [0].into_iter().chain(names.iter().map(|(at, _)| at + 1));
        let mut segments: Vec<Segment> = starts
            .zip(&names)
            .map(|(from, (at, id))| Segment {
                id: *id,
                from,
                to: at + 1,
            })
            .collect();
        if let Some(last) = segments.last_mut() {
            last.to = end;
        }
        Some((segments, 0, 0))
    }

    /// Before the first name, where no number does, stand labels, marks, a day and harmless words
    /// alone: how many words of which nothing is known, and how many in all.
    fn before(&self, name: usize) -> Option<(usize, usize)> {
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
                    if part {
                        return None;
                    }
                    words += 1;
                    strangers += usize::from(!roles.any(Roles::FILL));
                }
                _ => return None,
            }
        }
        Some((strangers, words))
    }

    /// The ways to read the numbers of one exercise, the best first.
    fn segment(&self, id: ExerciseId, atoms: &Atoms) -> Option<Ways> {
        // `bench 30s x 10`: the words make it the dumbbell movement, where there is one; so do two of what is lighter
        // than a bar: `curls 2 x 6 kg, 12 reps`.
        let hands = |atom: &Atom| matches!(atom, Atom::Number(n) if n.num.per_hand);
        let lighter = |each: Num| each.value < usual_bar(each.unit.unwrap_or(self.unit));
        let twin = self.scan.names.twin(id).filter(|_| {
            atoms.list.iter().any(hands) || pair_of_dumbbells(atoms).is_some_and(lighter)
        });
        let id = twin.unwrap_or(id);
        let exercise = self.catalogue.exercise(id);
        if exercise.timed || atoms.numbers == 0 {
            return None;
        }
        // A minus is help, and only a body-weight movement can be helped.
        let minus = |atom: &Atom| matches!(atom, Atom::Number(n) if n.num.sign == Sign::Minus);
        let hangs = exercise.body_share > 0.0 || exercise.basis == Basis::Body;
        if !hangs && atoms.list.iter().any(minus) {
            return None;
        }
        if sets::hands_are_taken(exercise) && atoms.list.iter().any(hands) {
            return None;
        }
        let one_sided = is_one_sided(&exercise.name) || atoms.one_sided;
        let atoms = &if one_sided {
            by_sides(atoms)
        } else {
            atoms.clone()
        };
        let usual = Usual::of(
            exercise,
            id,
            unit_of(&atoms.list, self.unit),
            self.last,
            self.habits,
        );
        let held = atoms.dumbbells
            || !matches!(
                exercise.equipment,
                Equipment::Barbell | Equipment::Stack | Equipment::PlateMachine
            );
        let candidates = propose(atoms, &usual, held)?;
        let mixed = candidates.first()?.is_mixed();
        let best = candidates.first()?.against.cost();
        let odds = |candidate: &Candidate| (best - candidate.against.cost()).exp();
        let all: f64 = candidates.iter().map(odds).sum();
        let all = all + (best - NONE).exp();
        let sure = all.recip() >= SURE && !is_slashed(atoms);
        candidates
            .iter()
            .take_while(|candidate| odds(candidate) / all >= WORTH_OFFERING || sure)
            .take(if sure { 1 } else { 3 })
            .map(|candidate| {
                let rows = candidate.rows.iter();
                rows.map(|row| self.draft(id, row, atoms, usual.unit))
                    .collect()
            })
            .collect::<Option<_>>()
            .map(|drafts| Ways {
                drafts,
                sure,
                chance: all.recip(),
                mixed,
            })
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
        let load = match row.load.filter(|num| num.value > 0.0) {
            Some(num) => Some(DraftLoad {
                amount: num.value,
                unit: num.unit.unwrap_or(unit),
                basis: Some(sets::basis(&num, exercise, &flags)),
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
            reps: Some(whole_reps(row.reps)?),
            rir: row
                .rir
                .and_then(|rir| crate::domain::quantities::effort::Rir::new(rir).ok()),
            rest_s: row.rest_s,
            warm_up: atoms.warm_up || row.warm,
            per_side: atoms.side,
            technique: atoms.technique,
            day,
            ..Draft::default()
        })
    }
}

/// The ways to read the numbers of one exercise.
struct Ways {
    /// The best first.
    drafts: Vec<Vec<Draft>>,
    /// The best is likely enough to be taken.
    sure: bool,
    /// How likely the best is, 0 to 1.
    chance: f64,
    /// The best has a bare number as a load beside loads with units.
    mixed: bool,
}

/// The numbers of one exercise.
struct Segment {
    id: ExerciseId,
    from: usize,
    to: usize,
}

/// `6/6` of an exercise for one limb: six on each side.
fn by_sides(atoms: &Atoms) -> Atoms {
    let mut out = atoms.clone();
    let pair = |four: &[Atom]| match four {
        [
            Atom::Number(a),
            Atom::Parting(Parting::Slash),
            Atom::Number(b),
            rest @ ..,
        ] => {
            let alone = !matches!(rest.first(), Some(Atom::Parting(Parting::Slash)));
            a == b && a.counts() && alone
        }
        _ => false,
    };
    let mut at = 0;
    while at < out.list.len() {
        let behind_slash = at > 0 && out.list[at - 1] == Atom::Parting(Parting::Slash);
        if !behind_slash && out.list.get(at..).is_some_and(pair) {
            out.list.drain(at + 1..at + 3);
            out.ends.drain(at + 1..at + 3);
            out.side = true;
            // `16 8/8`: behind a load nothing else.
            if let (true, Some(Atom::Number(reps))) = (at > 0, out.list.get_mut(at)) {
                reps.said = Said::Reps;
            }
        }
        at += 1;
    }
    out
}

/// `10 reps at bodyweight`, `80kg, 8 reps`: words say of every number what it is; one may be left.
fn is_told(atoms: &Atoms, on_body: bool) -> bool {
    let open = |atom: &&Atom| matches!(atom, Atom::Number(n) if n.said == Said::Nothing);
    let open = atoms.list.iter().filter(open).count();
    let body = atoms.list.contains(&Atom::Body) || on_body && atoms.numbers == 1;
    let says = |said| {
        let is = move |atom: &Atom| matches!(atom, Atom::Number(n) if n.said == said);
        atoms.list.iter().any(is)
    };
    // `(10 reps @ 50 lb) x 3`
    let counted = atoms.numbers == 3
        && says(Said::Reps)
        && says(Said::Load)
        && matches!(atoms.list.as_slice(), [.., Atom::Joint(Joint::Times), Atom::Number(n)] if n.said == Said::Nothing);
    // `(80x5) x3`
    let bracketed = atoms.numbers == 2
        && matches!(
            atoms.list.as_slice(),
            [
                Atom::Number(_),
                Atom::Joint(Joint::Times),
                Atom::Number(_),
                Atom::Repeat(_)
            ]
        );
    let last = |atom: &Atom| matches!(atom, Atom::Number(_));
    let up_to_last = atoms.list.iter().rposition(last);
    open == 0
        || bracketed
        || open == 1 && (body || counted || atoms.numbers == 2 && up_to_last == Some(2))
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

/// The set with load and repetitions the other way round, where that is far likelier.
pub(crate) fn turned(
    set: &SetReading,
    catalogue: &Catalogue,
    last: Option<&SetReading>,
    habits: &[Habit],
) -> Option<SetReading> {
    let exercise = catalogue.exercise(set.exercise);
    if !matches!(set.load.basis, Basis::Total | Basis::PerHand) || exercise.timed {
        return None;
    }
    let unit = set.load.unit;
    let usual = Usual::of(exercise, set.exercise, unit, last, habits);
    let row = |load: f64, reps: f64| Row {
        load: Some(Num {
            value: load,
            unit: Some(unit),
            ..Num::default()
        }),
        reps,
        rir: None,
        rest_s: None,
        warm: false,
    };
    let (load, reps) = (set.load.mass.amount(unit), f64::from(set.reps));
    let other = usual.weigh(&[row(reps, load)])?.cost();
    let far = usual
        .weigh(&[row(load, reps)])
        .is_none_or(|as_read| as_read.cost() - other > CLEARLY + TURNED);
    let mass = Mass::new(reps, unit).ok()?;
    far.then_some(SetReading {
        load: Load { mass, ..set.load },
        reps: whole_reps(load)?,
        ..set.clone()
    })
}

#[cfg(test)]
mod tests {
    use crate::config;
    use crate::domain::quantities::mass::Unit;
    use crate::message::{Context, Habit, Reader};

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
            ("bench press (80x5) x3", "80.0x5 80.0x5 80.0x5"),
            ("ohp 10 / 8 / 6 - 40 / 45 / 50 kg", "40.0x10 45.0x8 50.0x6"),
            ("db bench 35s (8), 40s (6)", "35.0x8 40.0x6"),
            (
                "deadlift (100 kg, 130 kg, 150 kg), singles",
                "100.0x1 130.0x1 150.0x1",
            ),
            ("squat 3x5x60, 2x3x90", "60.0x5 60.0x5 60.0x5 90.0x3 90.0x3"),
            ("pull-ups - 2 x 6 = 12 reps", "0.0x6 0.0x6"),
            ("leg press 3 x 12 (60 kg)", "60.0x12 60.0x12 60.0x12"),
            ("bench 37.5 for 8, for 7, for 7", "37.5x8 37.5x7 37.5x7"),
            ("good mornings 50kg, 10, 9, 8", "50.0x10 50.0x9 50.0x8"),
            ("squats 5 at 100, then 4, then 4", "100.0x5 100.0x4 100.0x4"),
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
    fn the_name_may_stand_among_its_numbers_or_behind_them() {
        for (text, expected) in [
            ("2 sets of 5 front squats w/ 45", "45.0x5 45.0x5"),
            ("20 push-ups x 3", "0.0x20 0.0x20 0.0x20"),
            ("set of 40 push-ups", "0.0x40"),
        ] {
            let expected: Vec<&str> = expected.split(' ').collect();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn attempts_that_failed_and_help_are_told_from_repetitions() {
        for (text, expected) in [
            ("snatch 50x2, 60x1, 65 miss", "50.0x2 60.0x1 65.0x0"),
            ("clean and jerk 80x1, 90xF", "80.0x1 90.0x0"),
            (
                "front squat 80x3, 100x2, 105 failed",
                "80.0x3 100.0x2 105.0x0",
            ),
            (
                "incline db press 60s: 9, 8, 6 + 2 with help",
                "60.0x9 60.0x8 60.0x6",
            ),
        ] {
            let expected: Vec<&str> = expected.split(' ').collect();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn warm_ups_and_the_last_set_are_told_one_by_one() {
        let last = "press 3x8 @ 42.5, last set only 6";
        assert_eq!(read(last), ["42.5x8", "42.5x8", "42.5x6"]);
        let reader = Reader::new(config::built_in());
        let line = "wu 60x8, wu 90x4, squat 115x5, 115x5";
        let reading = reader.read(line, &Context::alone(Unit::Kg));
        let warm: Vec<bool> = reading.sets.iter().map(|set| set.warm_up).collect();
        assert_eq!(warm, [true, true, false, false]);
    }

    #[test]
    fn what_a_lifter_usually_does_decides() {
        let reader = Reader::new(config::built_in());
        let bench = reader.names().named("bench press").expect("it is listed");
        let read = |text: &str, habits: &[Habit]| {
            let context = Context {
                habits,
                ..Context::alone(Unit::Kg)
            };
            reader.read(text, &context)
        };
        let benches = |kg: f64, reps: u32| Habit {
            exercise: bench,
            kg,
            reps,
        };
        assert!(read("bench 5x100", &[]).unclear.is_some());
        let known = read("bench 5x100", &[benches(100.0, 5)]);
        let sets: Vec<u32> = known.sets.iter().map(|set| set.reps).collect();
        assert_eq!(sets, [5]);
    }

    #[test]
    fn nothing_is_dropped_or_taken_for_a_load_in_silence() {
        let reader = Reader::new(config::built_in());
        for text in [
            "squat 5@115kg, 5@125kg (4,1), 5@105kg",
            "lat pulldown 50x10, fp 20x15",
            "bench 1 plate a side x 10, x 9",
            "4 sets, 8 - 12 reps wide grip pull-ups",
            "squats 2 sets/bar/8 reps, 95lbs/8 reps",
        ] {
            let reading = reader.read(text, &Context::alone(Unit::Kg));
            assert!(reading.sets.is_empty(), "{text}: {:?}", reading.sets);
            assert!(reading.unclear.is_some(), "{text}");
        }
    }

    #[test]
    fn sides_of_one_limb_are_one_set() {
        let reader = Reader::new(config::built_in());
        for text in ["single-leg rdl 16kg, 6/6", "single-arm press 12kg, 8 L 6 R"] {
            let reading = reader.read(text, &Context::alone(Unit::Kg));
            let sets: Vec<_> = reading.sets.iter().map(|s| (s.reps, s.per_side)).collect();
            assert_eq!(sets, [(6, true)], "{text}");
        }
    }

    #[test]
    fn numbers_that_one_group_holds_are_read_by_candidates() {
        for (text, expected) in [
            ("bench press 80: 10 9 8", "80.0x10 80.0x9 80.0x8"),
            ("dips bodyweight x15 x12 x10", "0.0x15 0.0x12 0.0x10"),
            ("bench press 100x8x7x6", "100.0x8 100.0x7 100.0x6"),
            ("bench press 80x8 + 80x7", "80.0x8 80.0x7"),
            ("bench press 60x7, x8", "60.0x7 60.0x8"),
            ("squat 112.5 5r 5r", "112.5x5 112.5x5"),
            ("bench press 80kg for 2x10", "80.0x10 80.0x10"),
            ("leg press 3 sets of 8, 8, 7 at 60", "60.0x8 60.0x8 60.0x7"),
            ("machine chest press 40 kg 12 times", "40.0x12"),
            ("squat 60x5, 70xmiss", "60.0x5 70.0x0"),
        ] {
            let expected: Vec<&str> = expected.split(' ').collect();
            assert_eq!(read(text), expected, "{text}");
        }
    }

    #[test]
    fn a_group_that_may_be_two_things_is_asked() {
        let reader = Reader::new(config::built_in());
        for text in [
            "bench press 80x10-8 or 9",
            "bench press 10/9/8 for 4 sets",
            "bench press 100 - 8 - 3",
            "bench press 5x100kg x3",
        ] {
            let reading = reader.read(text, &Context::alone(Unit::Kg));
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
