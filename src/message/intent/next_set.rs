//! The next set of an exercise told with small words, right after one: `80 again, 7`, `only 6`, `took 5 off and got
//! 9`, `did two more of those`.
//!
//! Every word must be one that such messages are made of, so that chat is left alone. Words that only sets are told
//! with (`again`, `managed`, `last set`), a load or `reps` make it sure; a number beside harmless words may be
//! anything's, and is asked about. What follows the numbers behind a comma is read as what stands behind a set.

mod words;

use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::grammar::restate::unlabelled;
use crate::message::reading::SetReading;
pub use words::NextLoad;
use words::{Number, Phrase, Token, phrase_at, tokens};

/// More repetitions are not told by a bare number.
const MOST_REPS: f64 = 30.0;
/// Fewer may be a reserve or anything's number.
const FEWEST_BARE: u32 = 5;
/// So many more than before are told by a bare number. Common practice, no source.
const MOST_MORE: u32 = 2;
/// More is no reserve that is told by a bare number.
const MOST_LEFT: u32 = 4;
/// More sets are not told of in a few words.
const MOST_SETS: u32 = 5;
/// Longer messages tell more than a set.
const MOST_WORDS: usize = 12;
/// Seconds that a hold may be longer than the one before, as a share of it.
const MOST_LONGER: f64 = 4.0;
/// Loads by a share of another are in steps of this, in their unit. Common practice, no source.
const STEP: f64 = 2.5;

/// How much was done.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// Repetitions of each set.
    Reps(Vec<u32>),
    /// Seconds of a hold.
    Seconds(u32),
    /// So many sets like the one before.
    Again(u32),
    /// Another load, of which the repetitions are still to come: `+2.5`.
    ToCome,
}

/// Sets told behind another.
#[derive(Clone, Debug, PartialEq)]
pub struct NextSet {
    /// With what.
    pub load: NextLoad,
    /// How much.
    pub done: Done,
    /// The reserve, where the words say it.
    pub rir: Option<f64>,
    /// No other reading is likely.
    pub sure: bool,
    /// A round of a superset is spoken of.
    pub round: bool,
    /// Nothing is said but numbers, each near the repetitions before: likely right after that set alone.
    pub bare: bool,
    /// What stands behind the numbers.
    pub tail: String,
}

impl NextSet {
    /// Whether the load is another one than before.
    #[must_use]
    pub fn changes_load(&self) -> bool {
        self.load != NextLoad::Same
    }

    /// The sets, behind this one; `None` where they do not go on from it.
    #[must_use]
    pub fn after(&self, last: &SetReading) -> Option<Vec<SetReading>> {
        let set = SetReading {
            load: self.load_after(last)?,
            rir: self.rir.and_then(|rir| Rir::new(rir).ok()),
            ..last.following()
        };
        match &self.done {
            Done::Reps(reps) if last.seconds.is_none() => {
                let of = |reps: &u32| SetReading {
                    reps: *reps,
                    ..set.clone()
                };
                Some(reps.iter().map(of).collect())
            }
            Done::Seconds(seconds) => {
                let before = last.seconds?;
                let near = f64::from(*seconds) <= f64::from(before) * MOST_LONGER;
                near.then(|| {
                    vec![SetReading {
                        seconds: Some(*seconds),
                        ..set.clone()
                    }]
                })
            }
            Done::Again(count) => Some(vec![set; usize::try_from(*count).ok()?]),
            Done::ToCome => is_likely_next(last.load, set.load).then(|| vec![set]),
            Done::Reps(_) => None,
        }
    }

    fn load_after(&self, last: &SetReading) -> Option<Load> {
        let load = last.load;
        let amount = load.mass.amount(load.unit);
        let with = |amount: f64, unit: Unit, basis: Basis| {
            let mass = Mass::new(amount, unit)
                .ok()
                .filter(|mass| *mass > Mass::ZERO)?;
            Some(Load { mass, unit, basis })
        };
        match self.load {
            NextLoad::Same => Some(load),
            NextLoad::Body => {
                let body = matches!(load.basis, Basis::Added | Basis::Assisted | Basis::Body);
                body.then_some(Load {
                    mass: Mass::ZERO,
                    basis: Basis::Body,
                    ..load
                })
            }
            _ if load.basis == Basis::Body => None,
            NextLoad::Change(by, unit) => {
                let by = match unit {
                    Some(unit) if unit != load.unit => {
                        let mass = Mass::new(by.abs(), unit).ok()?;
                        mass.amount(load.unit).copysign(by)
                    }
                    _ => by,
                };
                with(amount + by, load.unit, load.basis)
            }
            NextLoad::To(to, unit, per_hand) => {
                let basis = match per_hand {
                    true if load.basis == Basis::Total => return None,
                    _ => load.basis,
                };
                with(to, unit.unwrap_or(load.unit), basis)
            }
            NextLoad::Share(share) => {
                let to = (amount * share / STEP).round() * STEP;
                with(to, load.unit, load.basis)
            }
        }
    }
}

/// What is gathered of a message.
#[derive(Debug)]
struct Told {
    load: NextLoad,
    reps: Vec<f64>,
    seconds: Option<f64>,
    /// Sets that a count says, and whether it only can.
    count: Option<(u32, bool)>,
    rir: Option<f64>,
    /// Words that only sets are told with.
    marks: usize,
    /// Words that leave it open.
    doubts: usize,
    /// `reps`, `x9`: what the numbers are is said.
    counted: bool,
    same: bool,
    round: bool,
    /// The sets that are counted are listed.
    listed: bool,
    /// It failed with none done.
    attempt: bool,
}

/// `+1`, `lol same`: of one mind with somebody, and no set.
fn agrees(text: &str) -> bool {
    let text = text.trim();
    let is_number = |rest: &str| rest.chars().all(|c| c.is_ascii_digit());
    let plus = text.strip_prefix('+').is_some_and(is_number);
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    let laughs = words.any(|word| matches!(word.to_lowercase().as_str(), "lol" | "haha" | "hah"));
    plus || laughs && !text.contains(|c: char| c.is_ascii_digit())
}

/// The numbers that are all a text says.
fn numbers(text: &str) -> Option<Vec<u32>> {
    let parts = text.split([' ', ',']).filter(|part| !part.is_empty());
    parts.map(|part| part.parse().ok()).collect()
}

const fn is_left(reps: u32, left: u32) -> bool {
    left <= MOST_LEFT && left * 2 < reps
}

/// `67.5`, `70kg`: no repetitions, so the load of the next set.
fn load_to_come(number: &Number) -> Option<NextSet> {
    let is_load = number.unit.is_some() || number.value.fract() != 0.0;
    let plain = !number.times && !number.time && !number.percent && !number.ordinal && !number.many;
    (is_load && plain && number.sign == 0.0).then(|| NextSet {
        load: NextLoad::To(number.value, number.unit, false),
        done: Done::ToCome,
        rir: None,
        sure: true,
        round: false,
        bare: false,
        tail: String::new(),
    })
}

/// Whether a load that is announced may follow another. Common practice, no source.
fn is_likely_next(last: Load, next: Load) -> bool {
    let ratio = next.mass.in_kg() / last.mass.in_kg();
    next.basis == last.basis && (0.4..=1.6).contains(&ratio)
}

/// Whether a text is repetitions and what was left, and no more: `10 1`.
#[must_use]
pub fn with_left(text: &str) -> bool {
    matches!(numbers(text).as_deref(), Some([reps, left]) if is_left(*reps, *left))
}

/// Numbers by themselves that go on as the sets before did: `9`, `9 8`, and with the reserve `10 1`, of which a lifter
/// is sure who gave it before.
fn bare(text: &str, last: &SetReading) -> Option<NextSet> {
    let numbers = numbers(text).filter(|_| last.seconds.is_none())?;
    let near = |reps: &u32| {
        let (few, many) = (last.reps * 2, (last.reps + MOST_MORE) * 3);
        *reps >= FEWEST_BARE && reps * 3 >= few && reps * 3 <= many
    };
    let (reps, left) = match numbers.as_slice() {
        [reps, left] if is_left(*reps, *left) => (vec![*reps], Some(*left)),
        reps => (reps.to_vec(), None),
    };
    (!reps.is_empty() && reps.len() <= 5 && reps.iter().all(near)).then(|| NextSet {
        load: NextLoad::Same,
        done: Done::Reps(reps),
        rir: left.map(f64::from),
        sure: left.is_some() && last.rir.is_some(),
        round: false,
        bare: left.is_none(),
        tail: String::new(),
    })
}

/// The sets that a message behind `last` tells; `None` for everything else.
#[must_use]
pub fn next_set(text: &str, last: &SetReading) -> Option<NextSet> {
    if text.contains(['?', '\n', '"', '“', '>', '@']) {
        return None;
    }
    // `A1 9 A2 11`
    let round = unlabelled(text);
    let text = round.as_deref().unwrap_or(text);
    if let Some(bare) = bare(text, last) {
        return Some(bare);
    }
    let read = tokens(text);
    if let [Token::Number(number)] = read.as_slice()
        && let Some(next) = load_to_come(number)
    {
        return Some(next);
    }
    let words = read.iter().filter(|token| !matches!(token, Token::Part(_)));
    if words.count() > MOST_WORDS || agrees(text) {
        return None;
    }
    let mut told = Told {
        load: NextLoad::Same,
        reps: Vec::new(),
        seconds: None,
        count: None,
        rir: None,
        marks: 0,
        doubts: 0,
        counted: false,
        same: false,
        round: false,
        listed: false,
        attempt: false,
    };
    let mut at = 0;
    let mut tail = String::new();
    while at < read.len() {
        if let Token::Part(_) = read[at] {
            at += 1;
            continue;
        }
        match phrase_at(&read, at, last) {
            Some((phrase, to)) => {
                told.take(phrase)?;
                at = to;
            }
            // What is no such word may follow behind a comma.
            None => {
                let before = at.checked_sub(1).and_then(|at| read.get(at));
                let Some(Token::Part(place)) = before.filter(|_| told.has_numbers()) else {
                    return None;
                };
                tail = text.get(*place..)?.trim().to_owned();
                break;
            }
        }
    }
    told.ended(last, tail)
}

impl Told {
    fn has_numbers(&self) -> bool {
        !self.reps.is_empty() || self.seconds.is_some() || self.same || self.attempt
    }

    fn take(&mut self, phrase: Phrase) -> Option<()> {
        match phrase {
            Phrase::Mark => self.marks += 1,
            Phrase::Doubt => self.doubts += 1,
            Phrase::Filling => {}
            Phrase::Same => self.same = true,
            Phrase::Round => {
                self.round = true;
                self.marks += 1;
            }
            Phrase::Load(load) => {
                (self.load == NextLoad::Same).then_some(())?;
                self.load = load;
                self.marks += usize::from(!matches!(load, NextLoad::Share(_)));
            }
            Phrase::SameLoad => self.same = true,
            Phrase::Reps(reps, counted) => {
                self.reps.push(reps);
                self.counted |= counted;
            }
            Phrase::Attempt(load) => {
                (self.load == NextLoad::Same && self.reps.is_empty()).then_some(())?;
                self.load = load;
                self.attempt = true;
                self.marks += 1;
            }
            Phrase::Failed(reps) => {
                self.reps.push(reps);
                self.rir = Some(0.0);
                self.doubts += 1;
            }
            Phrase::Seconds(seconds) => {
                self.seconds.is_none().then_some(())?;
                self.seconds = Some(seconds);
            }
            Phrase::Sets(count, sure) => {
                self.count.is_none().then_some(())?;
                self.count = Some((count, sure));
            }
            // `last 2` by itself says nothing.
            Phrase::Listed(count) => {
                self.count.is_none().then_some(())?;
                self.count = Some((count, true));
                self.listed = true;
            }
            Phrase::Left(left) => {
                self.rir.is_none().then_some(())?;
                self.rir = Some(left);
            }
        }
        Some(())
    }

    fn ended(self, last: &SetReading, tail: String) -> Option<NextSet> {
        let whole = |value: f64| (1..=30u32).find(|whole| (f64::from(*whole) - value).abs() < 1e-9);
        let counts = self
            .count
            .is_some_and(|(_, sure)| sure || !self.reps.is_empty());
        let open = self.count.is_some() && !counts;
        let marked = self.marks > 0 || self.counted || self.same || counts;
        let sure = self.doubts == 0 && !open && marked;
        let done = match (self.reps.as_slice(), self.seconds) {
            ([], None) if self.attempt => Done::Reps(vec![0]),
            ([], Some(seconds)) => {
                let seconds = (1..=1800u32).find(|one| (f64::from(*one) - seconds).abs() < 1e-9)?;
                last.seconds.is_some().then_some(Done::Seconds(seconds))?
            }
            ([], None) if matches!(self.load, NextLoad::Change(..) | NextLoad::To(..)) => {
                Done::ToCome
            }
            ([], None) => {
                let count = self.count.map(|(count, _)| count);
                (!self.listed).then_some(())?;
                let again = count.or(self.same.then_some(1))?;
                (again <= MOST_SETS && self.load == NextLoad::Same).then_some(Done::Again(again))?
            }
            (reps, None) => {
                let fits = |(count, _)| usize::try_from(count) == Ok(reps.len());
                let counts = self.count.is_none_or(fits);
                let few = reps.iter().all(|reps| *reps <= MOST_REPS);
                (counts && few && last.seconds.is_none()).then_some(())?;
                Done::Reps(
                    reps.iter()
                        .map(|reps| whole(*reps))
                        .collect::<Option<_>>()?,
                )
            }
            _ => return None,
        };
        let is_hold = matches!(done, Done::Seconds(_));
        let next = NextSet {
            load: self.load,
            done,
            rir: self.rir.or(self.attempt.then_some(0.0)),
            sure: (sure || is_hold && self.doubts == 0) && !matches!(self.load, NextLoad::Share(_)),
            round: self.round,
            bare: false,
            tail,
        };
        Some(next)
    }
}

#[cfg(test)]
mod tests;
