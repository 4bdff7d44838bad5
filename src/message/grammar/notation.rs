//! Lines that are a name and numbers and nothing else, as diaries have them: `DB row 10x35 / 10x40`,
//! `row 12/60, 12/60, 10/60`, `deadlift 50 for 8 x 2 sets`, `squats - 2 sets/95 lb/8 reps`.
//!
//! Every way in which the numbers can be loads, repetitions and sets is a candidate; one order holds
//! for the whole line. A candidate is scored by what the exercise usually takes, by what this lifter
//! did last, by how many repetitions and sets are usual, and by whether heavier sets have fewer
//! repetitions. The best is taken where it is clearly best; else, and where anything else stands in
//! the line, this grammar says nothing.

use crate::domain::catalogue::{Basis, Catalogue, Equipment, Exercise, LiftClass};
use crate::domain::id::ExerciseId;
use crate::domain::mass::{Mass, Unit};

use super::super::names::NameIndex;
use super::super::reading::{Draft, DraftLoad, SetReading};
use super::super::token::{Kind, Mark, Token, Tokens};
use super::super::vocabulary::W;

/// How much better than the next the best candidate must be to be taken, in nats: by a factor of
/// some three. Chosen on the diaries of two thirds of the authors.
const CLEARLY: f64 = 1.2;
/// Usual repetitions, and how fast others become unlikely. Common practice, no source.
const USUAL_REPS: f64 = 7.0;
/// More sets than this are not in one line.
const MOST_SETS: usize = 40;

/// What a line is read against.
pub(in crate::message) struct Line<'l> {
    pub tokens: &'l Tokens,
    pub names: &'l NameIndex,
    pub catalogue: &'l Catalogue,
    pub unit: Unit,
    pub last: Option<&'l SetReading>,
}

/// What is said of a number beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Said {
    Nothing,
    Load(Unit),
    Reps,
    Sets,
}

#[derive(Clone, Copy, Debug)]
struct Number {
    value: f64,
    said: Said,
}

#[derive(Clone, Copy, Debug)]
enum Atom {
    Number(Number),
    Times,
    Slash,
    Comma,
}

/// The order in which bare numbers stand in each group of a line.
#[derive(Clone, Copy, Debug)]
struct Order {
    /// `12/60` is one group; else slashes divide groups.
    slash_joins: bool,
    /// Load before repetitions.
    load_first: bool,
    /// Of three numbers, and of two beside a load: sets before repetitions.
    sets_first: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Row {
    load: f64,
    unit: Unit,
    reps: f64,
}

impl Line<'_> {
    /// The sets of the line, where all of it is explained and one way of reading it is clearly best.
    pub(in crate::message) fn read(&self) -> Option<Vec<Draft>> {
        let list = &self.tokens.list;
        let mut at = self.behind_label();
        let mut out = Vec::new();
        while at < list.len() {
            let found = self.names.exercise_at(list, at)?;
            let (atoms, to) = self.atoms(found.to)?;
            out.extend(self.segment(found.id, &atoms)?);
            at = to;
        }
        (!out.is_empty() && out.len() <= MOST_SETS).then_some(out)
    }

    /// `2.`, `1A.`, `-` before the name.
    fn behind_label(&self) -> usize {
        let list = &self.tokens.list;
        let name = (0..list.len().min(4))
            .find(|at| self.names.exercise_at(list, *at).is_some())
            .unwrap_or(0);
        let label = |token: &Token| match token.kind {
            Kind::Number => token.value < 20.0,
            Kind::Word => token.end - token.start == 1,
            Kind::Mark(mark) => matches!(mark, Mark::Stop | Mark::Close | Mark::Minus),
            _ => false,
        };
        let marked = name > 0 && list[..name].iter().any(|t| matches!(t.kind, Kind::Mark(_)));
        if marked && list[..name].iter().all(label) {
            name
        } else {
            0
        }
    }

    /// The numbers from `from` to the next name or the end, and the token there.
    fn atoms(&self, from: usize) -> Option<(Vec<Atom>, usize)> {
        let list = &self.tokens.list;
        let mut out: Vec<Atom> = Vec::new();
        let mut at = from;
        while let Some(token) = list.get(at) {
            let begun = !out.is_empty();
            let atom = match token.kind {
                Kind::Number => {
                    let (number, to) = self.number(at);
                    at = to;
                    out.push(Atom::Number(number));
                    continue;
                }
                Kind::Mark(Mark::Times) => Some(Atom::Times),
                Kind::Mark(Mark::Slash) => Some(Atom::Slash),
                Kind::Mark(Mark::Comma | Mark::Semicolon | Mark::And) => Some(Atom::Comma),
                Kind::Mark(Mark::Line) => Some(Atom::Comma),
                Kind::Mark(Mark::Colon | Mark::Minus) if !begun => None,
                Kind::Mark(Mark::Stop) if at + 1 == list.len() => None,
                Kind::Word if token.word.w == W::For && begun => Some(Atom::Times),
                Kind::Word if begun && self.names.exercise_at(list, at).is_some() => break,
                _ => return None,
            };
            if let Some(atom) = atom.filter(|_| begun) {
                out.push(atom);
            }
            at += 1;
        }
        Some((out, at))
    }

    fn number(&self, at: usize) -> (Number, usize) {
        let list = &self.tokens.list;
        let value = list.get(at).map_or(0.0, |token| token.value);
        let next = list.get(at + 1);
        let said = match next.map(|t| (t.kind, t.word.w)) {
            Some((Kind::Word, W::Kg | W::K)) => Said::Load(Unit::Kg),
            Some((Kind::Word, W::Lb)) | Some((Kind::Mark(Mark::Hash), _)) => Said::Load(Unit::Lb),
            Some((Kind::Word, W::Reps)) => Said::Reps,
            Some((Kind::Word, W::Sets)) => Said::Sets,
            _ => Said::Nothing,
        };
        let mut to = if said == Said::Nothing {
            at + 1
        } else {
            at + 2
        };
        // `lbs.`
        if said != Said::Nothing && list.get(to).is_some_and(|t| t.is(Mark::Stop)) {
            to += 1;
        }
        (Number { value, said }, to)
    }

    fn segment(&self, id: ExerciseId, atoms: &[Atom]) -> Option<Vec<Draft>> {
        let exercise = self.catalogue.exercise(id);
        // One group alone has no order to keep; the words around it say more. `100 x 8, x 3` and `3
        // sets 8/8/7` go on from the group before.
        let groups: Vec<&[Atom]> = atoms
            .split(|atom| matches!(atom, Atom::Comma | Atom::Slash))
            .filter(|group| !group.is_empty())
            .collect();
        let says_sets = |group: &&[Atom]| {
            group
                .iter()
                .any(|atom| matches!(atom, Atom::Number(n) if n.said == Said::Sets))
        };
        let bare = |group: &&[Atom]| matches!(group, [Atom::Number(n)] if n.said == Said::Nothing);
        let said = groups.iter().any(says_sets);
        let goes_on = groups
            .iter()
            .any(|group| matches!(group, [Atom::Times, ..]));
        let whole = groups.iter().filter(|group| group.len() > 1).count();
        let paired = atoms
            .split(|atom| matches!(atom, Atom::Comma))
            .filter(|group| group.len() > 1)
            .count();
        let whole = whole.max(paired);
        if goes_on || said && groups.iter().any(bare) || whole < 2 && !said {
            return None;
        }
        if exercise.basis == Basis::Body || exercise.timed {
            return None;
        }
        let mut candidates: Vec<(f64, Vec<Row>)> = Vec::new();
        for bits in 0..8_u8 {
            let order = Order {
                slash_joins: bits & 1 != 0,
                load_first: bits & 2 != 0,
                sets_first: bits & 4 != 0,
            };
            let Some((rows, structure)) = self.rows(atoms, order) else {
                continue;
            };
            if candidates.iter().any(|(_, known)| *known == rows) {
                continue;
            }
            candidates.push((structure + self.score(exercise, &rows), rows));
        }
        candidates.sort_by(|a, b| b.0.total_cmp(&a.0));
        let (best, rows) = candidates.first()?;
        if candidates
            .get(1)
            .is_some_and(|(next, _)| best - next < CLEARLY)
        {
            return None;
        }
        rows.iter().map(|row| self.draft(id, row)).collect()
    }

    fn draft(&self, id: ExerciseId, row: &Row) -> Option<Draft> {
        Some(Draft {
            exercise: Some(id),
            load: Some(DraftLoad {
                amount: row.load,
                unit: row.unit,
                basis: None,
            }),
            reps: Some(super::super::file::whole_reps(row.reps)?),
            ..Draft::default()
        })
    }

    /// The sets of a line in one order, with what their number alone says for or against it.
    fn rows(&self, atoms: &[Atom], order: Order) -> Option<(Vec<Row>, f64)> {
        let mut rows = Vec::new();
        let mut score = 0.0;
        let mut load: Option<(f64, Unit)> = None;
        let mut full = false;
        let divides = |atom: &Atom| {
            matches!(atom, Atom::Comma) || matches!(atom, Atom::Slash) && !order.slash_joins
        };
        for group in atoms.split(divides).filter(|group| !group.is_empty()) {
            let parts = self.parts(group, order, load.is_some() && full)?;
            if let Some(written) = parts.load {
                load = Some(written);
            }
            let (amount, unit) = load?;
            let sets = parts.sets.unwrap_or(1.0);
            if sets.fract() != 0.0 || !(1.0..=20.0).contains(&sets) {
                return None;
            }
            if parts.sets.is_some() && !parts.sets_said {
                score -= 0.3 * (sets - 3.0).abs();
            }
            let reps = parts.reps?;
            full = true;
            let mut left = sets;
            while left >= 1.0 {
                rows.push(Row {
                    load: amount,
                    unit,
                    reps,
                });
                left -= 1.0;
            }
        }
        (!rows.is_empty() && rows.len() <= MOST_SETS).then_some((rows, score))
    }

    /// Load, repetitions and sets of one group.
    fn parts(&self, group: &[Atom], order: Order, carries: bool) -> Option<Parts> {
        let mut parts = Parts::default();
        let mut bare = Vec::new();
        let mut joined = true;
        for atom in group {
            let Atom::Number(number) = atom else {
                joined = true;
                continue;
            };
            // Two numbers side by side are one group only where one of them says what it is.
            if !joined && number.said == Said::Nothing && parts.is_empty() {
                return None;
            }
            joined = false;
            match number.said {
                Said::Load(unit) => parts.set_load((number.value, unit))?,
                Said::Reps => parts.set_reps(number.value)?,
                Said::Sets => {
                    parts.set_sets(number.value)?;
                    parts.sets_said = true;
                }
                Said::Nothing => bare.push(number.value),
            }
        }
        let load = |value: f64| (value, self.unit);
        match bare.as_slice() {
            [] => {}
            [one] if parts.load.is_some() => match parts.reps {
                None => parts.set_reps(*one)?,
                Some(_) => parts.set_sets(*one)?,
            },
            [one] if parts.reps.is_some() || parts.sets_said && !carries => {
                parts.set_load(load(*one))?;
            }
            [one] if carries => parts.set_reps(*one)?,
            [_] => return None,
            [a, b] if parts.load.is_some() => {
                let (sets, reps) = if order.sets_first { (*a, *b) } else { (*b, *a) };
                parts.set_sets(sets)?;
                parts.set_reps(reps)?;
            }
            [a, b] if parts.reps.is_some() => {
                let (sets, weight) = if order.sets_first { (*a, *b) } else { (*b, *a) };
                parts.set_sets(sets)?;
                parts.set_load(load(weight))?;
            }
            // Behind a load, `12 x 3` may be repetitions and sets.
            [a, b] if carries && !order.sets_first && !order.load_first => {
                parts.set_reps(*a)?;
                parts.set_sets(*b)?;
            }
            [a, b] => {
                let (weight, reps) = if order.load_first { (*a, *b) } else { (*b, *a) };
                parts.set_load(load(weight))?;
                parts.set_reps(reps)?;
            }
            [a, b, c] if parts.is_empty() => {
                let (weight, x, y) = if order.load_first {
                    (*a, *b, *c)
                } else {
                    (*c, *a, *b)
                };
                let (sets, reps) = if order.sets_first { (x, y) } else { (y, x) };
                parts.set_load(load(weight))?;
                parts.set_sets(sets)?;
                parts.set_reps(reps)?;
            }
            _ => return None,
        }
        Some(parts)
    }

    /// How likely these sets are of that exercise, in nats up to a constant.
    fn score(&self, exercise: &Exercise, rows: &[Row]) -> f64 {
        let usual = self
            .last
            .filter(|last| self.catalogue.exercise(last.exercise).name == exercise.name)
            .map_or_else(
                || usual_kg(exercise),
                |last| last.load.mass.in_kg().max(1.0),
            );
        let mut score = 0.0;
        let mut kinds: Vec<&Row> = Vec::new();
        for row in rows {
            if !kinds.contains(&row) {
                kinds.push(row);
            }
        }
        for row in &kinds {
            let kg = Mass::new(row.load, row.unit).map_or(0.0, Mass::in_kg);
            let bar = exercise.equipment == Equipment::Barbell && kg < 9.0;
            score -= 0.9 * (kg.max(0.1) / usual).ln().abs() + if bar { 2.0 } else { 0.0 };
            score -= 0.7 * (row.reps.max(0.5) / USUAL_REPS).ln().abs();
            if row.reps.fract() != 0.0 || row.reps > 50.0 {
                score -= 8.0;
            }
        }
        for pair in kinds.windows(2) {
            let heavier = pair[1].load > pair[0].load;
            if heavier && pair[1].reps > pair[0].reps {
                score -= 0.5;
            }
        }
        score
    }
}

/// What an exercise takes from somebody of whom nothing is known, kilograms. Common practice, no
/// source; only its order of size matters.
fn usual_kg(exercise: &Exercise) -> f64 {
    let one_hand = exercise.equipment == Equipment::Dumbbell;
    match exercise.class {
        LiftClass::Squat if one_hand => 20.0,
        LiftClass::Hinge if one_hand => 28.0,
        LiftClass::Squat => 80.0,
        LiftClass::LegPress => 120.0,
        LiftClass::Hinge => 90.0,
        LiftClass::Press | LiftClass::Pull if one_hand => 20.0,
        LiftClass::Press | LiftClass::Pull => 55.0,
        LiftClass::SmallUpper if one_hand => 11.0,
        LiftClass::SmallUpper => 25.0,
        LiftClass::SmallLower => 40.0,
        LiftClass::Calf => 60.0,
        LiftClass::Trunk => 20.0,
    }
}

#[derive(Clone, Copy, Debug, Default)]
struct Parts {
    load: Option<(f64, Unit)>,
    reps: Option<f64>,
    sets: Option<f64>,
    sets_said: bool,
}

impl Parts {
    const fn is_empty(&self) -> bool {
        self.load.is_none() && self.reps.is_none() && self.sets.is_none()
    }

    fn set_load(&mut self, load: (f64, Unit)) -> Option<()> {
        let free = self.load.is_none() && load.0 > 0.0;
        self.load = Some(load);
        free.then_some(())
    }

    fn set_reps(&mut self, reps: f64) -> Option<()> {
        let free = self.reps.is_none() && reps >= 1.0;
        self.reps = Some(reps);
        free.then_some(())
    }

    fn set_sets(&mut self, sets: f64) -> Option<()> {
        let free = self.sets.is_none() && sets >= 1.0;
        self.sets = Some(sets);
        free.then_some(())
    }
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
    fn words_beside_numbers_say_what_they_are() {
        let line = "good mornings - 60kg/8 reps, 2 sets/75kg/8 reps";
        assert_eq!(read(line), ["60.0x8", "75.0x8", "75.0x8"]);
    }
}
