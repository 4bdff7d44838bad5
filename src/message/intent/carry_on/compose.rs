//! Puts a reading together from what a message most likely does, what its numbers most likely are, and what follows from
//! both.

use super::features::{Number, Seen, probabilities};
use super::{Basis, Before, CarriedOn, CarryOn};
use crate::domain::quantities::mass::Unit;
use crate::message::words::vocabulary::W;

/// What a message does to the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Act {
    Nothing,
    Sets,
    Load,
    Exercise,
    Effort,
    Fix,
    Delete,
}

/// What a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    Reps,
    Seconds,
    /// A load; so much more, or less; the same on each side of a bar.
    Load,
    More,
    Less,
    SideMore,
    SideLess,
    Side,
    /// Repetitions left, and the scale of the trade.
    Left,
    Rpe,
    /// So many sets.
    Count,
    /// Which sets are meant: `the 2nd`, `first 2`; and by what they were: `the 40`.
    Which,
    Old,
    Other,
}

/// Which sets of the exercise at hand are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pick {
    Last,
    All,
    First,
    Second,
    Third,
    Previous,
    FirstTwo,
    LastTwo,
    Other,
}

/// How the load changes where no number says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Change {
    Same,
    Up,
    Down,
    Body,
    Back,
    Other,
}

/// A class and its name in the file of weights.
pub(super) type Named<T> = (T, &'static str);

pub(super) const ACTS: [Named<Act>; 7] = [
    (Act::Nothing, "nothing"),
    (Act::Sets, "sets"),
    (Act::Load, "load"),
    (Act::Exercise, "exercise"),
    (Act::Effort, "effort"),
    (Act::Fix, "fix"),
    (Act::Delete, "delete"),
];

pub(super) const ROLES: [Named<Role>; 14] = [
    (Role::Reps, "reps"),
    (Role::Seconds, "seconds"),
    (Role::Load, "load"),
    (Role::More, "more"),
    (Role::Less, "less"),
    (Role::SideMore, "side_more"),
    (Role::SideLess, "side_less"),
    (Role::Side, "side"),
    (Role::Left, "left"),
    (Role::Rpe, "rpe"),
    (Role::Count, "count"),
    (Role::Which, "which"),
    (Role::Old, "old"),
    (Role::Other, "other"),
];

pub(super) const PICKS: [Named<Pick>; 9] = [
    (Pick::Last, "last"),
    (Pick::All, "all"),
    (Pick::First, "first"),
    (Pick::Second, "second"),
    (Pick::Third, "third"),
    (Pick::Previous, "previous"),
    (Pick::FirstTwo, "first_two"),
    (Pick::LastTwo, "last_two"),
    (Pick::Other, "other"),
];

/// The reserve that the words tell where no number does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reserve {
    Unsaid,
    Zero,
    One,
    Two,
    Other,
    /// None was done: a failed attempt.
    Failed,
}

pub(super) const RESERVES: [Named<Reserve>; 6] = [
    (Reserve::Unsaid, "unsaid"),
    (Reserve::Zero, "zero"),
    (Reserve::One, "one"),
    (Reserve::Two, "two"),
    (Reserve::Other, "other"),
    (Reserve::Failed, "failed"),
];

pub(super) const CHANGES: [Named<Change>; 6] = [
    (Change::Same, "same"),
    (Change::Up, "up"),
    (Change::Down, "down"),
    (Change::Body, "body"),
    (Change::Back, "back"),
    (Change::Other, "other"),
];

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
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Changed {
    /// So many repetitions, or seconds; what was logged, where said.
    Reps(f64, Option<f64>),
    /// This load; what was logged, where said.
    Load(f64, Option<Unit>, Option<f64>),
    /// So many left.
    Left(f64),
    /// They were warm-ups.
    WarmUp,
    /// They go.
    Gone,
}

/// Which sets of the exercise at hand a message means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// All of them.
    All,
    /// The first so many.
    First(usize),
    /// The last so many.
    Last(usize),
    /// The one of this number, from 1.
    Number(usize),
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
    /// What sets that were logged really were.
    Changed(Which, Changed),
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
        .map(|number| {
            likeliest(
                &ROLES,
                &probabilities(&carry_on.role, &seen.number(*number)),
            )
        })
        .collect();
    let picks = likeliest(&PICKS, &probabilities(&carry_on.pick, &seen.pointing()));
    let reserves = likeliest(&RESERVES, &probabilities(&carry_on.reserve, &whole));
    let changes = likeliest(&CHANGES, &probabilities(&carry_on.change, &whole));
    let mut found: Vec<CarriedOn> = Vec::new();
    let mut total = 0.0;
    for ((act, _), likely) in ACTS.iter().zip(&acts) {
        if matches!(act, Act::Nothing | Act::Exercise) {
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
                picks: &picks,
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
    picks: &'p [(Pick, f32)],
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
            Act::Nothing | Act::Exercise => None,
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
        match self.seen.units.get(number.at).copied().flatten()? {
            W::Lb => Some(Unit::Lb),
            _ => Some(Unit::Kg),
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
        let by_words = self.seen.effort();
        match told.as_slice() {
            [] => {
                let given = |number: &Number| {
                    let role = self.numbers().find(|(one, _)| one == number);
                    role.is_some_and(|(_, role)| role != Role::Other)
                };
                if let Some((rir, number)) = by_words
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
                    Some((rir, Some(number))) if number == *one => rir,
                    _ => by_number,
                };
                (0.0..=10.0).contains(&rir).then_some((Some(rir), 1.0))
            }
            _ => None,
        }
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
        let mut sure = likely;
        let mut loads: Vec<(Number, Step)> = Vec::new();
        for (number, role) in self.numbers() {
            if LOADS.contains(&role) {
                loads.push((number, self.step(number, role)?));
            }
        }
        let counts = self.of(&[Role::Reps, Role::Seconds]);
        let of_sets = self.of(&[Role::Count]);
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
            [one] => usize::try_from(whole(one)?)
                .ok()
                .filter(|n| (1..=MOST_SETS).contains(n))?,
            _ => return None,
        };
        let turns = self.seen.before.in_turn.len();
        if turns > 1 && loads.is_empty() && counts.len() == turns && times == 1 {
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
                for number in &counts {
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

    fn load(&self) -> Option<(Told, f32)> {
        self.lacks(&[
            Role::Reps,
            Role::Seconds,
            Role::Old,
            Role::Left,
            Role::Rpe,
            Role::Count,
        ])?;
        let loads: Vec<(Number, Role)> = self
            .numbers()
            .filter(|(_, role)| LOADS.contains(role))
            .collect();
        match loads.as_slice() {
            [] => {
                let (step, likely) = self.unnamed()?;
                (step != Step::Same).then_some((Told::Load(step), likely))
            }
            [(number, role)] => Some((Told::Load(self.step(*number, *role)?), 1.0)),
            _ => None,
        }
    }

    /// Which sets are meant, with how likely it is.
    fn which(&self) -> Option<(Which, f32)> {
        let done = self.seen.before.sets.len();
        let (pick, likely) = *self.picks.first()?;
        let which = match pick {
            Pick::Last => Which::Last(1),
            Pick::All => Which::All,
            Pick::First => Which::Number(1),
            Pick::Second => Which::Number(2),
            Pick::Third => Which::Number(3),
            Pick::Previous => Which::Number(done.checked_sub(1)?),
            Pick::FirstTwo => Which::First(2),
            Pick::LastTwo => Which::Last(2),
            Pick::Other => return None,
        };
        let least = match which {
            Which::All => 1,
            Which::First(n) | Which::Last(n) | Which::Number(n) => n.max(1),
        };
        (done >= least && which != Which::Number(0)).then_some((which, likely))
    }

    fn effort(&self) -> Option<(Told, f32)> {
        self.lacks(&[Role::Reps, Role::Seconds, Role::Old])?;
        self.lacks(&LOADS)?;
        let (rir, told) = self.left()?;
        let (which, likely) = self.which()?;
        Some((Told::Changed(which, Changed::Left(rir?)), likely * told))
    }

    fn fix(&self) -> Option<(Told, f32)> {
        self.lacks(&[
            Role::More,
            Role::Less,
            Role::SideMore,
            Role::SideLess,
            Role::Side,
        ])?;
        let (which, likely) = self.which()?;
        let old = match self.of(&[Role::Old]).as_slice() {
            [] => None,
            [one] => Some(one.value),
            _ => return None,
        };
        let now: Vec<(Number, Role)> = self
            .numbers()
            .filter(|(_, role)| matches!(role, Role::Reps | Role::Seconds | Role::Load))
            .collect();
        let changed = match now.as_slice() {
            [] if self.seen.says("warm") || self.seen.says("warmup") || self.seen.says("wu") => {
                Changed::WarmUp
            }
            [(number, Role::Load)] => Changed::Load(number.value, self.unit(*number), old),
            [(number, _)] => Changed::Reps(number.value, old),
            _ => return None,
        };
        Some((Told::Changed(which, changed), likely))
    }

    fn delete(&self) -> Option<(Told, f32)> {
        self.lacks(&[Role::Reps, Role::Load, Role::Left])?;
        let (which, likely) = self.which()?;
        Some((Told::Changed(which, Changed::Gone), likely))
    }
}

/// Roles of numbers that name a load.
const LOADS: [Role; 6] = [
    Role::Load,
    Role::More,
    Role::Less,
    Role::SideMore,
    Role::SideLess,
    Role::Side,
];
