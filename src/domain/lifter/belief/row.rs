//! A belief as a row of bytes.

use super::super::codec::{Reader, Writer};
use super::super::course::Course;
use super::super::day_effect::DayEvidence;
use super::super::gaussian::{Given, OWN, TRAITS};
use super::super::lately::Lately;
use super::super::line::Line;
use super::super::mixture::{MOST, Part};
use super::super::ramp::Ramp;
use super::super::usual::Usual;
use super::Belief;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};

/// Version of the encoding.
const VERSION: u8 = 19;

impl Belief {
    /// The row: version, times, counts, then every number of the belief.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut row = Writer::new(VERSION);
        row.int(self.at_ms);
        row.int(i64::from(self.day));
        row.int(i64::from(self.sets));
        row.byte(basis_code(self.load.basis));
        row.int(self.load.mass.tenth_micrograms());
        row.int(i64::from(self.last_over));
        row.int(i64::from(self.lately.first_day));
        row.int(i64::from(self.lately.days));
        row.reals(&self.lately.line.sums());
        let (form, surprise) = (self.lately.form, self.lately.surprise);
        row.reals(&[self.lately.origin, form.0, form.1, surprise.0, surprise.1]);
        row.reals(&[
            self.wobble.0,
            self.wobble.1,
            self.last_form,
            self.expected_form.0,
            self.expected_form.1,
            self.heaviest_kg,
            self.worked_kg,
            self.surprise,
            self.log_one_rm.0,
            self.log_one_rm.1,
        ]);
        self.usual.write(&mut row);
        self.course.write(&mut row);
        row.reals(&[self.doubted.0]);
        row.int(i64::from(self.doubted.1));
        self.told.write(&mut row);
        row.int(i64::from(self.reps));
        row.int(i64::from(self.guesses));
        row.reals(&[self.owed]);
        self.ramp.write(&mut row);
        row.byte(u8::from(self.related.is_some()));
        let related = self.related.unwrap_or_default();
        row.reals(&[related.0, related.1]);
        row.byte(u8::try_from(self.parts.len()).unwrap_or(u8::MAX));
        for part in &self.parts {
            row.reals(&[part.weight]);
            row.byte(u8::from(part.easy));
            row.reals(&part.given.base);
            row.reals(part.given.weight.as_flattened());
            for (i, line) in part.given.cov.iter().enumerate() {
                row.reals(line.iter().take(i + 1));
            }
        }
        row.finish()
    }

    /// The belief of a row; `None` when it is no such row.
    #[must_use]
    pub fn decode(row: &[u8]) -> Option<Self> {
        let mut row = Reader::new(VERSION, row)?;
        let at_ms = row.int()?;
        let day = i32::try_from(row.int()?).ok()?;
        let sets = u32::try_from(row.int()?).ok()?;
        let basis = basis_of(row.byte()?)?;
        let mass = Mass::from_tenth_micrograms(row.int()?);
        let load = Load {
            mass,
            unit: Unit::Kg,
            basis,
        };
        let last_over = i32::try_from(row.int()?).ok()?;
        let first_day = i32::try_from(row.int()?).ok()?;
        let days = u32::try_from(row.int()?).ok()?;
        let mut sums = [0.0; 6];
        row.fill(&mut sums)?;
        let lately = Lately {
            first_day,
            days,
            line: Line::of(sums),
            origin: row.real()?,
            form: (row.real()?, row.real()?),
            surprise: (row.real()?, row.real()?),
        };
        let wobble = (row.real()?, row.real()?);
        let last_form = row.real()?;
        let expected_form = (row.real()?, row.real()?);
        let (heaviest_kg, worked_kg, surprise) = (row.real()?, row.real()?, row.real()?);
        let log_one_rm = (row.real()?, row.real()?);
        let usual = Usual::read(&mut row)?;
        let course = Course::read(&mut row)?;
        let doubted = (row.real()?, i32::try_from(row.int()?).ok()?);
        let told = DayEvidence::read(&mut row)?;
        let reps = u32::try_from(row.int()?).ok()?;
        let guesses = u32::try_from(row.int()?).ok()?;
        let owed = row.real()?;
        let ramp = Ramp::read(&mut row)?;
        let has_related = row.byte()? == 1;
        let related = Some((row.real()?, row.real()?)).filter(|_| has_related);
        let count = usize::from(row.byte()?);
        if !(1..=MOST).contains(&count) {
            return None;
        }
        let mut parts = Vec::with_capacity(count);
        for _ in 0..count {
            parts.push(Part {
                weight: row.real()?,
                easy: row.byte()? == 1,
                given: read_given(&mut row)?,
            });
        }
        row.is_done().then_some(Self {
            parts,
            owed,
            at_ms,
            day,
            last_over,
            wobble,
            last_form,
            expected_form,
            told,
            heaviest_kg,
            worked_kg,
            load,
            reps,
            usual,
            course,
            doubted,
            surprise,
            log_one_rm,
            sets,
            guesses,
            ramp,
            related,
            lately,
        })
    }
}

fn read_given(row: &mut Reader<'_>) -> Option<Given> {
    let mut given = Given {
        base: [0.0; OWN],
        weight: [[0.0; TRAITS]; OWN],
        cov: [[0.0; OWN]; OWN],
    };
    row.fill(&mut given.base)?;
    row.fill(given.weight.as_flattened_mut())?;
    for i in 0..OWN {
        for j in 0..=i {
            given.cov[i][j] = row.real()?;
            given.cov[j][i] = given.cov[i][j];
        }
    }
    Some(given)
}

const BASES: [Basis; 5] = [
    Basis::Total,
    Basis::PerHand,
    Basis::Added,
    Basis::Assisted,
    Basis::Body,
];

fn basis_code(basis: Basis) -> u8 {
    (0..)
        .zip(BASES)
        .find(|(_, b)| *b == basis)
        .map_or(0, |(n, _)| n)
}

fn basis_of(code: u8) -> Option<Basis> {
    BASES.get(usize::from(code)).copied()
}
