//! Puts a reading together from what a message most likely does, what its numbers most likely are, and what follows from
//! both.

use super::classes::{ACTS, Act, CHANGES, Change, Named, RESERVES, ROLES, Reserve, Role};
use super::features::{Number, Seen, near, probabilities};
use super::pointing::{Words, pointed};
use super::{Basis, Before, CarriedOn, CarryOn};
use crate::domain::quantities::mass::Unit;
use crate::message::intent::model::Model;
use crate::message::words::vocabulary::W;

/// From the load at hand to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// The same.
    Same,
    /// So much more, or less, in this unit where it is named.
    By(f64, Option<Unit>),
    /// This load.
    To(f64, Option<Unit>),
    /// A bar with so much on each side.
    Sides(f64, Option<Unit>),
    /// The body alone.
    Body,
    /// So many steps of the equipment.
    Steps(i8),
    /// The load used before this one.
    Back,
}

impl Step {
    /// The load after it, in the unit of the one before; `None` where that is not known.
    #[must_use]
    pub fn amount(self, before: &Before) -> Option<f64> {
        let now = match self {
            Self::Same => {
                (before.basis == Basis::Body || !before.sets.is_empty() || before.announced)
                    .then_some(())?;
                before.load.unwrap_or_default()
            }
            // Body weight may have weight added.
            Self::By(by, _) => {
                (before.load.is_some() || before.basis == Basis::Body).then_some(())?;
                before.load.unwrap_or_default() + by
            }
            Self::To(to, _) => to,
            Self::Sides(side, _) => before.bar + 2.0 * side,
            Self::Body => 0.0,
            Self::Steps(by) => {
                (before.basis == Basis::Pin).then_some(())?;
                before.load? + f64::from(by)
            }
            Self::Back => {
                let mut earlier = before.sets.iter().rev().map(|(load, _)| *load);
                earlier.find(|load| before.load.is_none_or(|now| (now - load).abs() > 1e-9))?
            }
        };
        (now >= 0.0).then_some(now)
    }
}

/// How much was done.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// Repetitions of each set, or seconds of a hold, with the load.
    Counted(Vec<(Step, u32)>),
    /// So many sets like the last one.
    Again(Step, usize),
}

/// Sets that were done.
#[derive(Clone, Debug, PartialEq)]
pub struct Sets {
    /// How much.
    pub done: Done,
    /// Repetitions left after the last.
    pub rir: Option<f64>,
}

impl Sets {
    /// Whether it is one more like the last, told by no number.
    #[must_use]
    pub const fn is_again(&self) -> bool {
        matches!(self.done, Done::Again(_, 1))
    }

    /// Whether all were done with the load at hand.
    #[must_use]
    pub fn keeps_load(&self) -> bool {
        match &self.done {
            Done::Counted(list) => list.iter().all(|(step, _)| *step == Step::Same),
            Done::Again(step, _) => *step == Step::Same,
        }
    }
}

/// What a correction makes of the sets that it means.
#[derive(Clone, Debug, PartialEq)]
pub enum Changed {
    /// So many repetitions, or seconds.
    Reps(f64),
    /// This load.
    Load(f64, Option<Unit>),
    /// So many left after each, in order.
    Left(Vec<f64>),
    /// They were warm-ups.
    WarmUp,
    /// They go.
    Gone,
}

/// What a message tells.
#[derive(Clone, Debug, PartialEq)]
pub enum Told {
    /// Sets done.
    Sets(Sets),
    /// One more round of exercises done in turn: repetitions of each, those before where none are told, and the reserve.
    Round(Option<Vec<u32>>, Option<f64>),
    /// What the next set will be done with.
    Load(Step),
    /// The exercise that it names is next.
    Exercise,
    /// What sets that were logged really were; by their places among those of the exercise at hand, from 0.
    Changed(Vec<usize>, Changed),
}

/// Less likely acts are not looked at.
const LEAST_ACT: f32 = 0.03;
/// Roles that are less likely than the likeliest by this factor are not looked at.
const LEAST_ROLE: f32 = 0.03;
/// So many roles of a number are looked at.
const MOST_ROLES: usize = 3;
/// Messages with more numbers are no short ones.
const MOST_NUMBERS: usize = 5;
/// More sets are not told of in a few words.
const MOST_SETS: usize = 6;
/// Repetitions told between sets are no more.
const MOST_REPS: f64 = 60.0;
/// A hold is no longer, seconds.
const LONGEST_HOLD: f64 = 600.0;

/// The likeliest reading of a message.
pub(super) fn compose(carry_on: &CarryOn, seen: &Seen<'_>) -> Option<CarriedOn> {
    if seen.numbers.len() > MOST_NUMBERS || seen.is_unknown(&carry_on.act) {
        return None;
    }
    let whole = seen.whole();
    let acts = probabilities(&carry_on.act, &whole);
    if acts.len() != ACTS.len() {
        return None;
    }
    let roles: Vec<Vec<(Role, f32)>> = (seen.numbers.iter())
        .map(
            |number| match seen.counts_unknown(*number, &carry_on.role) {
                // `6 beers`
                true => vec![(Role::Other, 1.0)],
                false => likeliest(
                    &ROLES,
                    &probabilities(&carry_on.role, &seen.number(*number)),
                ),
            },
        )
        .collect();
    let reserves = likeliest(&RESERVES, &probabilities(&carry_on.reserve, &whole));
    let changes = likeliest(&CHANGES, &probabilities(&carry_on.change, &whole));
    let mut found: Vec<CarriedOn> = Vec::new();
    let mut total = 0.0;
    for ((act, _), likely) in ACTS.iter().zip(&acts) {
        if *act == Act::Nothing {
            total += likely;
            continue;
        }
        if *likely < LEAST_ACT {
            continue;
        }
        for (given, by_roles) in assignments(&roles) {
            let parts = Parts {
                seen,
                given: &given,
                changes: &changes,
                pick: &carry_on.pick,
                reserves: &reserves,
            };
            let Some((told, by_parts)) = parts.told(*act) else {
                continue;
            };
            let sure = likely * by_roles * by_parts;
            total += sure;
            match found.iter_mut().find(|one| one.told == told) {
                Some(one) => one.sure += sure,
                None => found.push(CarriedOn { told, sure }),
            }
        }
    }
    let best = found.into_iter().max_by(|a, b| a.sure.total_cmp(&b.sure))?;
    (total > 0.0).then(|| CarriedOn {
        sure: best.sure / total,
        ..best
    })
}

/// The likeliest classes with their probabilities, the first first.
fn likeliest<T: Copy>(classes: &[Named<T>], likely: &[f32]) -> Vec<(T, f32)> {
    let mut out: Vec<(T, f32)> = (classes.iter().zip(likely))
        .map(|(one, p)| (one.0, *p))
        .collect();
    out.sort_by(|a, b| b.1.total_cmp(&a.1));
    out.truncate(MOST_ROLES);
    let first = out.first().map_or(0.0, |one| one.1);
    out.retain(|one| one.1 >= LEAST_ROLE * first);
    out
}

/// Each way of giving every number a role, with how likely it is.
fn assignments(roles: &[Vec<(Role, f32)>]) -> Vec<(Vec<Role>, f32)> {
    let mut out = vec![(Vec::new(), 1.0)];
    for number in roles {
        out = (out.iter())
            .flat_map(|(given, likely)| {
                number.iter().map(move |(role, p)| {
                    let mut given: Vec<Role> = given.clone();
                    given.push(*role);
                    (given, likely * p)
                })
            })
            .collect();
    }
    out
}

/// What a reading is put together from.
struct Parts<'p> {
    seen: &'p Seen<'p>,
    given: &'p [Role],
    changes: &'p [(Change, f32)],
    pick: &'p Model,
    reserves: &'p [(Reserve, f32)],
}

impl Parts<'_> {
    fn told(&self, act: Act) -> Option<(Told, f32)> {
        match act {
            Act::Sets => self.sets(),
            Act::Load => self.load(),
            Act::Effort => self.effort(),
            Act::Fix => self.fix(),
            Act::Delete => self.delete(),
            Act::Exercise => Some((Told::Exercise, 1.0)),
            Act::Nothing => None,
        }
    }

    /// The numbers with their roles.
    fn numbers(&self) -> impl Iterator<Item = (Number, Role)> {
        (self.seen.numbers.iter().copied()).zip(self.given.iter().copied())
    }

    fn of(&self, roles: &[Role]) -> Vec<Number> {
        let fitting = self.numbers().filter(|(_, role)| roles.contains(role));
        fitting.map(|(number, _)| number).collect()
    }

    fn lacks(&self, roles: &[Role]) -> Option<()> {
        self.of(roles).is_empty().then_some(())
    }

    fn unit(&self, number: Number) -> Option<Unit> {
        match self.seen.units.get(number.at).copied().flatten() {
            Some(W::Lb) => Some(Unit::Lb),
            Some(_) => Some(Unit::Kg),
            None => self.seen.unit_of(number),
        }
    }

    /// The load that a number names.
    fn step(&self, number: Number, role: Role) -> Option<Step> {
        let unit = self.unit(number);
        let value = number.value;
        (value > 0.0 || role == Role::Load).then_some(())?;
        Some(match role {
            Role::Load => Step::To(value, unit),
            Role::More => Step::By(value, unit),
            Role::Less => Step::By(-value, unit),
            Role::SideMore => Step::By(2.0 * value, unit),
            Role::SideLess => Step::By(-2.0 * value, unit),
            Role::Side => Step::Sides(value, unit),
            Role::Pin => Step::To(value, Some(Unit::Pin)),
            _ => return None,
        })
    }

    /// The load where no number names one, with how likely that is.
    fn unnamed(&self) -> Option<(Step, f32)> {
        let (change, likely) = *self.changes.first()?;
        let step = match change {
            Change::Same => Step::Same,
            Change::Up => Step::Steps(1),
            Change::Down => Step::Steps(-1),
            Change::Body => Step::Body,
            Change::Back => Step::Back,
            Change::Other => return None,
        };
        Some((step, likely))
    }

    /// The reserve told, by a number or by words, with how likely that is.
    fn left(&self) -> Option<(Option<f64>, f32)> {
        let told = self.of(&[Role::Left, Role::Rpe]);
        let by_words = self.seen.efforts().next_back();
        match told.as_slice() {
            [] => {
                let given = |number: &Number| {
                    let role = self.numbers().find(|(one, _)| one == number);
                    role.is_some_and(|(_, role)| role != Role::Other)
                };
                if let Some((rir, _, number)) = by_words
                    && !number.is_some_and(|number| given(&number))
                {
                    return Some((Some(rir), 1.0));
                }
                let (reserve, likely) = *self.reserves.first()?;
                let rir = match reserve {
                    Reserve::Unsaid | Reserve::Other => None,
                    Reserve::Zero | Reserve::Failed => Some(0.0),
                    Reserve::One => Some(1.0),
                    Reserve::Two => Some(2.0),
                };
                Some((rir, likely))
            }
            [one] => {
                let rpe = self.of(&[Role::Rpe]).len() == 1;
                let by_number = if rpe { 10.0 - one.value } else { one.value };
                let rir = match by_words {
                    Some((rir, _, Some(number))) if number == *one => rir,
                    _ => by_number,
                };
                (0.0..=10.0).contains(&rir).then_some((Some(rir), 1.0))
            }
            _ => None,
        }
    }

    /// Of a first set, whether no number stands right beside those of the set, or once more, as something else.
    fn is_explained(&self) -> bool {
        let before = &self.seen.before;
        let (others, of_set): (Vec<_>, Vec<_>) =
            self.numbers().partition(|(_, role)| *role == Role::Other);
        let fits = |(other, _): &(Number, Role)| {
            let apart = |(own, _): &(Number, Role)| {
                !near(own.value, other.value) && !self.seen.is_beside(own.at, other.at)
            };
            of_set.iter().all(apart)
        };
        !before.sets.is_empty() || before.load.is_some() || others.iter().all(fits)
    }

    fn is_failed(&self) -> bool {
        let reserve = self.reserves.first().map(|(reserve, _)| *reserve);
        reserve == Some(Reserve::Failed)
    }

    fn sets(&self) -> Option<(Told, f32)> {
        self.lacks(&[Role::Old])?;
        let (rir, likely) = self.left()?;
        let held = self.seen.before.held;
        self.lacks(&[if held { Role::Reps } else { Role::Seconds }])?;
        self.is_explained().then_some(())?;
        let mut sure = likely;
        let mut loads: Vec<(Number, Step)> = Vec::new();
        for (number, role) in self.numbers() {
            if LOADS.contains(&role) {
                loads.push((number, self.step(number, role)?));
            }
        }
        let counts = self.of(&[Role::Reps, Role::Seconds]);
        let of_sets = self.of(&[Role::Count, Role::Total]);
        let most = if held { LONGEST_HOLD } else { MOST_REPS };
        let whole = |number: &Number| {
            let fits = number.value.fract() == 0.0 && (0.0..=most).contains(&number.value);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a small whole number"
            )]
            fits.then_some(number.value as u32)
        };
        let times = match of_sets.as_slice() {
            [] => 1,
            [one] => {
                let logged = match self.lacks(&[Role::Total]) {
                    Some(()) => 0,
                    None => self.seen.before.alike(),
                };
                let times = usize::try_from(whole(one)?).ok()?.checked_sub(logged);
                times.filter(|n| (1..=MOST_SETS).contains(n))?
            }
            _ => return None,
        };
        let turns = self.seen.before.in_turn.len();
        let each_once = times == 1 || times == turns;
        if turns > 1 && loads.is_empty() && counts.len() == turns && each_once {
            let round = counts.iter().map(whole).collect::<Option<_>>()?;
            return Some((Told::Round(Some(round), rir), sure));
        }
        let single = match loads.as_slice() {
            [] => {
                let (step, likely) = self.unnamed()?;
                sure *= likely;
                Some(step)
            }
            [(_, step)] => Some(*step),
            _ => None,
        };
        if counts.is_empty()
            && turns > 1
            && loads.is_empty()
            && times == 1
            && single == Some(Step::Same)
        {
            return Some((Told::Round(None, rir), sure));
        }
        if counts.is_empty() && !held && self.is_failed() {
            let done = Done::Counted(vec![(single?, 0)]);
            return Some((
                Told::Sets(Sets {
                    done,
                    rir: Some(0.0),
                }),
                sure,
            ));
        }
        if counts.is_empty() {
            let step = single.filter(|_| !self.seen.before.sets.is_empty())?;
            let done = Done::Again(step, times);
            return Some((Told::Sets(Sets { done, rir }), sure));
        }
        let mut list = Vec::new();
        match single {
            Some(step) => {
                // `8, then dropped to the 12s for 8`
                let dropped = |number: &Number| {
                    let load = loads.first().map(|(load, _)| load.at);
                    let behind = counts.last().map(|last| last.at);
                    load.zip(behind).is_some_and(|(load, behind)| {
                        number.at < load && load < behind && !self.seen.is_joined(number.at, load)
                    })
                };
                for number in &counts {
                    let step = if dropped(number) { Step::Same } else { step };
                    list.push((step, whole(number)?));
                }
            }
            // Several loads, each beside its repetitions.
            None => {
                (counts.len() == loads.len()).then_some(())?;
                for (number, (_, step)) in counts.iter().zip(&loads) {
                    list.push((*step, whole(number)?));
                }
            }
        }
        match (list.as_slice(), times) {
            (_, 1) => {}
            ([one], times) => list = vec![*one; times],
            (all, times) if all.len() == times => {}
            _ => return None,
        }
        let done = Done::Counted(list);
        Some((Told::Sets(Sets { done, rir }), sure))
    }

    /// `x60` is no load; `gonna try 60 for 1` is one, whatever it is to be lifted for.
    fn load(&self) -> Option<(Told, f32)> {
        (!self.seen.begins_counted()).then_some(())?;
        self.lacks(&[
            Role::Seconds,
            Role::Old,
            Role::Left,
            Role::Rpe,
            Role::Count,
            Role::Total,
        ])?;
        let loads: Vec<(Number, Role)> = self
            .numbers()
            .filter(|(_, role)| LOADS.contains(role))
            .collect();
        match loads.as_slice() {
            [] => {
                self.lacks(&[Role::Reps])?;
                let (step, likely) = self.unnamed()?;
                (step != Step::Same).then_some((Told::Load(step), likely))
            }
            [(number, role)] => Some((Told::Load(self.step(*number, *role)?), 1.0)),
            _ => None,
        }
    }

    /// The places of the sets that these words are of, with how likely it is.
    fn which(&self, words: Words) -> Option<(Vec<usize>, f32)> {
        pointed(self.pick, self.seen, words, self.given)
    }

    fn whole(&self) -> Words {
        Words::all(self.seen.len())
    }

    fn effort(&self) -> Option<(Told, f32)> {
        self.lacks(&[Role::Reps, Role::Seconds])?;
        self.lacks(&LOADS)?;
        (!self.seen.fails_at()).then_some(())?;
        let told = told_efforts(self.seen, self.given);
        if told.len() > 1 {
            return self.efforts(&told);
        }
        let (rir, likely) = self.left()?;
        let (which, pointed) = self.which(self.whole())?;
        let left = Changed::Left(which.iter().map(|_| rir).collect::<Option<_>>()?);
        Some((Told::Changed(which, left), likely * pointed))
    }

    /// Several efforts, each of other sets: `first one 3 left, last 0`, `rir 2, 1, 0`.
    fn efforts(&self, told: &[(usize, f64)]) -> Option<(Told, f32)> {
        let places: Vec<usize> = told.iter().map(|(at, _)| *at).collect();
        let mut left: Vec<(usize, f64)> = Vec::new();
        let mut sure = 1.0;
        for (words, (_, rir)) in Words::around(&places, self.seen.len())
            .into_iter()
            .zip(told)
        {
            let (which, likely) = self.which(words)?;
            let fits = (0.0..=10.0).contains(rir);
            let twice = which
                .iter()
                .any(|set| left.iter().any(|(known, _)| known == set));
            (fits && !twice).then_some(())?;
            left.extend(which.into_iter().map(|set| (set, *rir)));
            sure *= likely;
        }
        left.sort_by_key(|(set, _)| *set);
        let (which, left) = left.into_iter().unzip();
        Some((Told::Changed(which, Changed::Left(left)), sure))
    }

    fn fix(&self) -> Option<(Told, f32)> {
        self.lacks(&[
            Role::More,
            Role::Less,
            Role::SideMore,
            Role::SideLess,
            Role::Side,
        ])?;
        let (which, likely) = self.which(self.whole())?;
        let now: Vec<(Number, Role)> = self
            .numbers()
            .filter(|(_, role)| matches!(role, Role::Reps | Role::Seconds | Role::Load))
            .collect();
        let changed = match now.as_slice() {
            [] if self.seen.says_warm_up() => Changed::WarmUp,
            [(number, Role::Load)] => Changed::Load(number.value, self.unit(*number)),
            [(number, _)] => Changed::Reps(number.value),
            _ => return None,
        };
        Some((Told::Changed(which, changed), likely))
    }

    fn delete(&self) -> Option<(Told, f32)> {
        self.lacks(&[Role::Reps, Role::Load, Role::Left])?;
        let (which, likely) = match self.of(&[Role::Total]).as_slice() {
            [] => self.which(self.whole())?,
            [total] => (self.beyond(*total)?, 1.0),
            _ => return None,
        };
        Some((Told::Changed(which, Changed::Gone), likely))
    }

    /// The places of the last sets like the very last that are more than so many: `only 4 sets, not 5`.
    fn beyond(&self, total: Number) -> Option<Vec<usize>> {
        let (all, alike) = (self.seen.before.sets.len(), self.seen.before.alike());
        let fits = |kept: &usize| {
            near(
                total.value,
                f64::from(u8::try_from(*kept).unwrap_or(u8::MAX)),
            )
        };
        let kept = (1..alike).find(fits)?;
        Some((all - alike + kept..all).collect())
    }
}

/// The words at which an effort is told, and the repetitions left, in order: by numbers, and by words without one.
pub(super) fn told_efforts(seen: &Seen<'_>, given: &[Role]) -> Vec<(usize, f64)> {
    let by_words: Vec<_> = seen.efforts().collect();
    let numbers = seen.numbers.iter().zip(given);
    let mut told: Vec<(usize, f64)> = numbers
        .filter_map(|(number, role)| {
            let by_words = by_words
                .iter()
                .find(|(.., within)| *within == Some(*number));
            let left = match (role, by_words) {
                (Role::Left | Role::Rpe, Some((rir, ..))) => *rir,
                (Role::Left, None) => number.value,
                (Role::Rpe, None) => 10.0 - number.value,
                _ => return None,
            };
            Some((number.at, left))
        })
        .collect();
    let without = by_words.iter().filter(|(.., number)| number.is_none());
    told.extend(without.map(|(rir, at, _)| (*at, *rir)));
    told.sort_by_key(|(at, _)| *at);
    told
}

/// Roles of numbers that name a load.
const LOADS: [Role; 7] = [
    Role::Load,
    Role::More,
    Role::Less,
    Role::SideMore,
    Role::SideLess,
    Role::Side,
    Role::Pin,
];
