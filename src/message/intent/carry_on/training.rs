//! Learns from conversations that are labelled with what each message does to the log.

use std::slice;

use super::classes::{ACTS, Act, CHANGES, Change, Named, PICKS, RESERVES, ROLES, Reserve, Role};
use super::compose::told_efforts;
use super::features::{Number, Seen, near, scale};
use super::pointing::{self, Words};
use super::{Basis, Before, CarriedOn, CarryOn, Changed, Done, PART, Step, Told};
use crate::domain::quantities::catalogue::Catalogue;
use crate::message::Reader;
use crate::message::grammar::scan::Scan;
use crate::message::intent::train::{Example, Fit, fit_scaled};
use crate::message::words::token::tokenize;

/// How the models are fitted. Chosen on held-out authors.
const FIT: Fit = Fit {
    steps: 150,
    pull: 0.7,
    kept_from: 3,
    runs_from: 3,
    least: 0.05,
};

/// What a message does to the log.
#[derive(Clone, Debug, PartialEq)]
pub enum Does {
    /// A set, or a hold with its seconds.
    Set {
        /// The exercise.
        exercise: String,
        /// Its load, in the lifter's unit; none for the body alone.
        load: Option<f64>,
        /// What the load is.
        basis: Basis,
        /// Repetitions, or seconds.
        count: f64,
        /// It was held for time.
        held: bool,
        /// Repetitions left, where said.
        rir: Option<f64>,
    },
    /// The load of what comes next.
    Load(String, Option<f64>, Basis),
    /// What comes next.
    Exercise(String),
    /// Repetitions left of sets of the exercise at hand; 1 is its first, -1 its last.
    Effort(Vec<i64>, Option<f64>),
    /// Another number of them.
    Fix(Vec<i64>, Part, Option<f64>),
    /// They go.
    Delete(Vec<i64>),
}

/// Which part of a set a correction changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Repetitions, or seconds.
    Count,
    /// The load.
    Load,
    /// Repetitions left.
    Left,
    /// Something that is no number.
    Other,
}

/// Stands for all sets in a list of places.
pub const ALL: i64 = 0;

/// A lifter's messages in order.
#[derive(Clone, Debug)]
pub struct Conversation {
    /// What a bar weighs in the lifter's unit.
    pub bar: f64,
    /// How much its last message counts; 1 for an ordinary one.
    pub weight: f32,
    /// The messages.
    pub lines: Vec<Line>,
}

impl Conversation {
    fn log(&self) -> Log {
        Log {
            bar: self.bar,
            ..Log::default()
        }
    }
}

/// A message with what it does.
#[derive(Clone, Debug)]
pub struct Line {
    /// The message; empty where only what it did is known.
    pub text: String,
    /// In order; nothing for chat.
    pub does: Vec<Does>,
}

#[derive(Clone, Debug)]
struct Logged {
    exercise: String,
    load: Option<f64>,
    basis: Basis,
    count: f64,
    held: bool,
    rir: Option<f64>,
}

/// The log as a conversation goes on.
#[derive(Default)]
struct Log {
    sets: Vec<Logged>,
    announced: Option<(String, Option<f64>, Basis)>,
    at_hand: Option<String>,
    in_turn: Vec<f64>,
    bar: f64,
}

impl Log {
    fn of(&self, exercise: Option<&String>) -> Vec<usize> {
        let of_it = |at: &usize| Some(&self.sets[*at].exercise) == exercise;
        (0..self.sets.len()).filter(of_it).collect()
    }

    fn own(&self) -> Vec<usize> {
        self.of(self.at_hand.as_ref())
    }

    /// What is known of the exercise at hand, or of the one that a message names in its place.
    fn before(&self, named: Option<&String>, catalogue: &Catalogue) -> Before {
        let named = named.filter(|named| Some(*named) != self.at_hand.as_ref());
        let exercise = named.or(self.at_hand.as_ref());
        let own: Vec<&Logged> = self
            .of(exercise)
            .into_iter()
            .map(|at| &self.sets[at])
            .collect();
        let announced =
            (self.announced.as_ref()).filter(|(announced, ..)| Some(announced) == exercise);
        let last = own.last();
        Before {
            load: match announced {
                Some((_, load, _)) => *load,
                None => last.and_then(|set| set.load),
            },
            named: named.is_some(),
            announced: announced.is_some(),
            sets: own
                .iter()
                .map(|set| (set.load.unwrap_or_default(), set.count))
                .collect(),
            held: last.is_some_and(|set| set.held),
            rated: last.is_some_and(|set| set.rir.is_some()),
            basis: match (announced, last) {
                (Some((.., basis)), _) => *basis,
                (None, Some(set)) => set.basis,
                (None, None) => exercise.map_or(Basis::Total, |name| usual(name, catalogue)),
            },
            in_turn: if named.is_some() {
                Vec::new()
            } else {
                self.in_turn.clone()
            },
            bar: self.bar,
        }
    }

    /// The places in the log of the sets that `which` means.
    fn places(&self, which: &[i64]) -> Vec<usize> {
        let own = self.own();
        if which == [ALL] {
            return own;
        }
        let place = |which: &i64| {
            let count = i64::try_from(own.len()).ok()?;
            let at = if *which > 0 { which - 1 } else { count + which };
            own.get(usize::try_from(at).ok()?).copied()
        };
        which.iter().filter_map(place).collect()
    }

    fn take(&mut self, line: &Line) {
        let mut exercises: Vec<(&String, f64)> = Vec::new();
        for does in &line.does {
            match does {
                Does::Set {
                    exercise,
                    load,
                    basis,
                    count,
                    held,
                    rir,
                } => {
                    if !exercises.iter().any(|(known, _)| *known == exercise) {
                        exercises.push((exercise, *count));
                    }
                    self.sets.push(Logged {
                        exercise: exercise.clone(),
                        load: *load,
                        basis: *basis,
                        count: *count,
                        held: *held,
                        rir: *rir,
                    });
                    self.announced = None;
                    self.at_hand = Some(exercise.clone());
                }
                Does::Load(exercise, load, basis) => {
                    self.announced = Some((exercise.clone(), *load, *basis));
                    self.at_hand = Some(exercise.clone());
                }
                Does::Exercise(exercise) => {
                    self.announced = None;
                    self.at_hand = Some(exercise.clone());
                }
                Does::Effort(which, rir) => {
                    for at in self.places(which) {
                        self.sets[at].rir = *rir;
                    }
                }
                Does::Fix(which, part, now) => {
                    for at in self.places(which) {
                        let set = &mut self.sets[at];
                        match part {
                            Part::Count => set.count = now.unwrap_or(set.count),
                            Part::Load => set.load = now.or(set.load),
                            Part::Left => set.rir = *now,
                            Part::Other => {}
                        }
                    }
                }
                Does::Delete(which) => {
                    let gone = self.places(which);
                    let mut at = 0;
                    self.sets.retain(|_| {
                        at += 1;
                        !gone.contains(&(at - 1))
                    });
                }
            }
        }
        if !exercises.is_empty() {
            self.in_turn = exercises.into_iter().map(|(_, count)| count).collect();
        }
    }

    fn act(does: &[Does]) -> Act {
        let has = |is: fn(&Does) -> bool| does.iter().any(is);
        match does.first() {
            None => Act::Nothing,
            Some(_) if has(|does| matches!(does, Does::Set { .. })) => Act::Sets,
            Some(_) if has(|does| matches!(does, Does::Fix(_, part, _) if *part != Part::Left)) => {
                Act::Fix
            }
            Some(_) if has(|does| matches!(does, Does::Delete(_))) => Act::Delete,
            Some(_) if has(|does| matches!(does, Does::Effort(..) | Does::Fix(..))) => Act::Effort,
            Some(Does::Load(..)) => Act::Load,
            Some(_) => Act::Exercise,
        }
    }

    /// The places among the sets of the exercise at hand of those that are changed by what a message does.
    fn changed(&self, does: &[Does]) -> Vec<usize> {
        let which = does.iter().filter_map(|one| match one {
            Does::Effort(which, _) | Does::Fix(which, ..) | Does::Delete(which) => Some(which),
            _ => None,
        });
        let places = which.flat_map(|which| self.places(which));
        let own = self.own();
        let among = places.filter_map(|at| own.iter().position(|own| *own == at));
        let mut places: Vec<usize> = among.collect();
        places.sort_unstable();
        places.dedup();
        places
    }
}

/// Numbers that are given their roles one after the other.
struct Giving<'s> {
    numbers: &'s [Number],
    given: Vec<Option<Role>>,
}

impl Giving<'_> {
    /// Gives the first number that `fits` a role; one that has it already where `again`. Whether there is one.
    fn give(&mut self, again: bool, fits: impl Fn(f64) -> Option<Role>) -> bool {
        for (number, given) in self.numbers.iter().zip(self.given.iter_mut()) {
            let Some(role) = fits(number.value) else {
                continue;
            };
            match given {
                None => {
                    *given = Some(role);
                    return true;
                }
                Some(known) if again && *known == role => return true,
                Some(_) => {}
            }
        }
        false
    }

    fn left(&mut self, rir: f64) {
        self.give(false, |value| match value {
            _ if near(value, rir) => Some(Role::Left),
            _ if value >= 5.0 && near(10.0 - value, rir) => Some(Role::Rpe),
            _ => None,
        });
    }

    /// The load `now`, named itself or as a step from the one before.
    fn load(&mut self, now: f64, basis: Basis, before: &Before) {
        // A load of its own kind; of the body alone it is so much more, or less.
        let on_body = before.basis == Basis::Body;
        let first = match basis {
            Basis::Pin if before.load.is_none() => Some(Role::Pin),
            Basis::Hung if on_body => Some(Role::More),
            Basis::Helped if on_body => Some(Role::Less),
            _ => None,
        };
        if let Some(role) = first
            && self.give(true, |value| near(value, now).then_some(role))
        {
            return;
        }
        if self.give(true, |value| near(value, now).then_some(Role::Load)) {
            return;
        }
        let last = before.sets.last().map(|(load, _)| *load);
        for base in [before.load, last].into_iter().flatten() {
            let step = |value: f64| match value {
                _ if value <= 0.0 => None,
                _ if near(base + value, now) => Some(Role::More),
                _ if near(base - value, now) => Some(Role::Less),
                _ if near(base + 2.0 * value, now) => Some(Role::SideMore),
                _ if near(base - 2.0 * value, now) => Some(Role::SideLess),
                _ => None,
            };
            if self.give(true, step) {
                return;
            }
        }
        let is_side = |value: f64| near(20.0 + 2.0 * value, now) || near(45.0 + 2.0 * value, now);
        self.give(true, |value| {
            (value > 0.0 && is_side(value)).then_some(Role::Side)
        });
    }
}

/// What each number of a message is, as far as what the message does tells.
fn roles(seen: &Seen<'_>, log: &Log, does: &[Does]) -> Vec<Role> {
    let before = seen.before;
    let mut giving = Giving {
        numbers: &seen.numbers,
        given: vec![None; seen.numbers.len()],
    };
    let sets = does
        .iter()
        .filter(|one| matches!(one, Does::Set { .. }))
        .count();
    for one in does {
        match one {
            Does::Set {
                load: now,
                basis,
                count,
                held,
                rir,
                ..
            } => {
                let role = if *held { Role::Seconds } else { Role::Reps };
                // Three sets of eight may be told with one 8.
                giving.give(sets > 1, |value| {
                    let minutes = *held && near(value * 60.0, *count);
                    (near(value, *count) || minutes).then_some(role)
                });
                if let Some(rir) = rir {
                    giving.left(*rir);
                }
                if let Some(now) = now {
                    giving.load(*now, *basis, before);
                }
            }
            Does::Load(_, Some(now), basis) => giving.load(*now, *basis, before),
            Does::Effort(_, Some(rir)) | Does::Fix(_, Part::Left, Some(rir)) => giving.left(*rir),
            Does::Fix(_, part, Some(now)) => {
                let role = match part {
                    Part::Count if before.held => Role::Seconds,
                    Part::Count => Role::Reps,
                    _ => Role::Load,
                };
                giving.give(false, |value| near(value, *now).then_some(role));
            }
            Does::Load(_, None, _)
            | Does::Exercise(_)
            | Does::Effort(..)
            | Does::Fix(..)
            | Does::Delete(_) => {}
        }
        // `only 4 sets, not 5`
        if let Does::Delete(which) = one
            && let Some(rest) = before.alike().checked_sub(which.len())
            && are_last(which)
            && rest > 0
        {
            giving.give(false, |value| {
                near(value, small_count(rest)).then_some(Role::Total)
            });
        }
        if let Does::Fix(which, ..) | Does::Effort(which, _) | Does::Delete(which) = one {
            giving.give(false, |value| {
                let at = which.iter().any(|which| near(small(*which), value));
                let many = which.len() > 1 && near(small_count(which.len()), value);
                (at || many).then_some(Role::Which)
            });
            for at in log.places(which) {
                let set = &log.sets[at];
                let was = [Some(set.count), set.load];
                giving.give(false, |value| {
                    let is_it = was.iter().flatten().any(|was| near(*was, value));
                    is_it.then_some(Role::Old)
                });
            }
        }
    }
    if sets > 1 {
        giving.give(false, |value| {
            near(value, small_count(sets)).then_some(Role::Count)
        });
    }
    let told_alike = does.iter().all(|one| match (one, before.sets.last()) {
        (Does::Set { load, count, .. }, Some((last, reps))) => {
            near(load.unwrap_or_default(), *last) && near(*count, *reps)
        }
        _ => false,
    });
    if sets > 0 && told_alike && !before.named {
        giving.give(false, |value| {
            near(value, small_count(sets + before.alike())).then_some(Role::Total)
        });
    }
    let given = giving.given.into_iter();
    given.map(|role| role.unwrap_or(Role::Other)).collect()
}

/// Whether these are the last sets.
fn are_last(which: &[i64]) -> bool {
    let mut from_end: Vec<i64> = which.iter().map(|place| -place).collect();
    from_end.sort_unstable();
    (1..).zip(&from_end).all(|(at, place)| at == *place)
}

/// A place among sets as a number.
fn small(place: i64) -> f64 {
    i32::try_from(place).map_or(f64::NAN, f64::from)
}

/// A count of sets as a number.
fn small_count(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::NAN, f64::from)
}

/// How the load changes where no number names it; `None` where one does.
fn change(roles: &[Role], before: &Before, does: &[Does]) -> Option<Change> {
    let names = |role: &Role| {
        matches!(
            role,
            Role::Load
                | Role::More
                | Role::Less
                | Role::SideMore
                | Role::SideLess
                | Role::Side
                | Role::Pin
        )
    };
    if roles.iter().any(names) {
        return None;
    }
    // A round of several exercises, each with its own load as before.
    let in_turn = does.windows(2).any(|two| match two {
        [
            Does::Set { exercise: one, .. },
            Does::Set {
                exercise: other, ..
            },
        ] => one != other,
        _ => false,
    });
    if in_turn {
        return Some(Change::Same);
    }
    let (now, basis) = does.iter().find_map(|one| match one {
        Does::Set { load, basis, .. } | Does::Load(_, load, basis) => Some((*load, *basis)),
        _ => None,
    })?;
    Some(match (now, before.load) {
        (None, None) => Change::Same,
        (None, Some(_)) => Change::Body,
        (Some(now), Some(was)) if near(now, was) => Change::Same,
        (Some(now), Some(was)) => {
            let earlier = before.sets.iter().any(|(load, _)| near(*load, now));
            let small = match basis {
                Basis::Pin => 1.0,
                Basis::Hand => 5.0,
                _ => 0.0,
            };
            match now - was {
                _ if earlier => Change::Back,
                by if by > 0.0 && by <= small => Change::Up,
                by if by < 0.0 && -by <= small => Change::Down,
                _ => Change::Other,
            }
        }
        (Some(_), None) => Change::Other,
    })
}

/// The examples of each model.
#[derive(Default)]
struct Examples {
    act: Vec<Example>,
    role: Vec<Example>,
    pick: Vec<Example>,
    change: Vec<Example>,
    reserve: Vec<Example>,
}

fn example<T: PartialEq>(
    classes: &[Named<T>],
    class: &T,
    features: Vec<u32>,
    weight: f32,
) -> Option<Example> {
    let class = classes.iter().position(|one| one.0 == *class)?;
    Some(Example {
        features,
        class,
        weight,
    })
}

/// Learns from `conversations`: the text of `carry_on.weights`. The same conversations in the same order give the same
/// weights. Takes a minute.
#[must_use]
pub fn train(conversations: &[Conversation], reader: &Reader) -> String {
    let mut all = Examples::default();
    for conversation in conversations {
        let mut log = conversation.log();
        for line in &conversation.lines {
            let begun = log.at_hand.is_some() || reader.only_named(&line.text).is_some();
            if begun && !line.text.is_empty() {
                add(&mut all, (line, conversation.weight), &log, reader);
            }
            log.take(line);
        }
    }
    let mut out = String::new();
    let mut fitted = |name: &str, classes: Vec<&str>, examples: &[Example]| {
        let model = fit_scaled(&classes, examples, |one| scale(&one.features), FIT);
        out.push_str(&format!("{PART}{name}\n{}", model.print(|_| String::new())));
    };
    fitted("act", ACTS.iter().map(|one| one.1).collect(), &all.act);
    fitted("role", ROLES.iter().map(|one| one.1).collect(), &all.role);
    fitted("pick", PICKS.iter().map(|one| one.1).collect(), &all.pick);
    fitted(
        "reserve",
        RESERVES.iter().map(|one| one.1).collect(),
        &all.reserve,
    );
    fitted(
        "change",
        CHANGES.iter().map(|one| one.1).collect(),
        &all.change,
    );
    out
}

/// What the loads of an exercise are, where nothing else is said.
fn usual(exercise: &str, catalogue: &Catalogue) -> Basis {
    let exercise = catalogue.named(exercise);
    exercise.map_or(Basis::Total, |id| {
        Basis::usual(catalogue.exercise(id).basis)
    })
}

/// The exercise that a message names, by name.
fn named(text: &str, reader: &Reader) -> Option<String> {
    let exercise = reader.only_named(text)?;
    Some(reader.catalogue().exercise(exercise).name.clone())
}

fn add(all: &mut Examples, (line, weight): (&Line, f32), log: &Log, reader: &Reader) {
    let tokens = tokenize(&line.text, reader.names().vocabulary());
    let scan = Scan::new(&tokens, reader.names());
    let before = log.before(named(&line.text, reader).as_ref(), reader.catalogue());
    let seen = Seen::new(&scan, &before);
    let whole = seen.whole();
    let act = Log::act(&line.does);
    all.act.extend(example(&ACTS, &act, whole.clone(), weight));
    let roles = roles(&seen, log, &line.does);
    for (number, role) in seen.numbers.iter().zip(&roles) {
        all.role
            .extend(example(&ROLES, role, seen.number(*number), weight));
    }
    if matches!(act, Act::Sets | Act::Load)
        && let Some(change) = change(&roles, &before, &line.does)
    {
        all.change
            .extend(example(&CHANGES, &change, whole.clone(), weight));
    }
    if matches!(act, Act::Sets | Act::Effort)
        && !roles
            .iter()
            .any(|role| matches!(role, Role::Left | Role::Rpe))
    {
        let told = line.does.iter().rev().find_map(|one| match one {
            Does::Set { rir, .. } | Does::Effort(_, rir) | Does::Fix(_, Part::Left, rir) => {
                Some(*rir)
            }
            _ => None,
        });
        let failed = |one: &Does| matches!(one, Does::Set { count, .. } if near(*count, 0.0));
        let reserve = match told.flatten() {
            _ if line.does.iter().any(failed) => Reserve::Failed,
            None => Reserve::Unsaid,
            Some(rir) if near(rir, 0.0) => Reserve::Zero,
            Some(rir) if near(rir, 1.0) => Reserve::One,
            Some(rir) if near(rir, 2.0) => Reserve::Two,
            Some(_) => Reserve::Other,
        };
        all.reserve
            .extend(example(&RESERVES, &reserve, whole.clone(), weight));
    }
    if !before.named && matches!(act, Act::Effort | Act::Fix | Act::Delete) {
        for (words, meant) in pointings(&seen, &roles, log, &line.does) {
            for set in 0..before.sets.len() {
                let features = pointing::features(&seen, words, &roles, set);
                let is_meant = meant.contains(&set);
                all.pick
                    .extend(example(&PICKS, &is_meant, features, weight));
            }
        }
    }
}

/// The words that point at sets, with the places of those among the sets of the exercise at hand.
fn pointings(
    seen: &Seen<'_>,
    roles: &[Role],
    log: &Log,
    does: &[Does],
) -> Vec<(Words, Vec<usize>)> {
    let told: Vec<usize> = told_efforts(seen, roles)
        .iter()
        .map(|(at, _)| *at)
        .collect();
    let each = does.len() > 1 && does.len() == told.len();
    match each && does.iter().all(|one| matches!(one, Does::Effort(..))) {
        true => {
            let meant = does.iter().map(|one| log.changed(slice::from_ref(one)));
            Words::around(&told, seen.len())
                .into_iter()
                .zip(meant)
                .collect()
        }
        false => vec![(Words::all(seen.len()), log.changed(does))],
    }
}

/// How a held-out conversation is read by `weights`: for each message behind its first, what it does, the reading and
/// what came of it.
#[must_use]
pub fn judge(
    conversation: &Conversation,
    weights: &CarryOn,
    reader: &Reader,
) -> Vec<(Line, Option<CarriedOn>, Verdict)> {
    let mut log = conversation.log();
    let mut out = Vec::new();
    for line in &conversation.lines {
        if log.at_hand.is_some() || reader.only_named(&line.text).is_some() {
            let before = log.before(named(&line.text, reader).as_ref(), reader.catalogue());
            let read = weights.read(&line.text, &before, reader.names());
            let verdict = is_right((&line.does, &log), &before, read.as_ref());
            out.push((line.clone(), read, verdict));
        }
        log.take(line);
    }
    out
}

/// What came of a held-out message.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The log is as it should be, reserves apart.
    Right,
    /// It is, and the reserve is not.
    Reserve,
    /// Nothing was read where the message does something.
    Missed,
    /// Something was read where it does nothing.
    Needless,
    /// Another thing was read.
    Wrong,
}

/// The load after a step; less than nothing for what is taken off the body.
fn signed(step: Step, before: &Before) -> Option<f64> {
    match step {
        Step::By(by, _) if before.basis == Basis::Body => Some(by),
        step => step.amount(before),
    }
}

/// Whether a reading does what the message does.
fn is_right((does, log): (&[Does], &Log), before: &Before, read: Option<&CarriedOn>) -> Verdict {
    let told = read.map(|read| &read.told);
    let act = Log::act(does);
    match (act, told) {
        (Act::Nothing, None) | (Act::Exercise, Some(Told::Exercise)) => Verdict::Right,
        (Act::Nothing, Some(_)) => Verdict::Needless,
        (_, None) => Verdict::Missed,
        (Act::Sets, Some(Told::Sets(sets))) => {
            let list: Vec<(Option<f64>, f64)> = match &sets.done {
                Done::Counted(list) => (list.iter())
                    .map(|(step, count)| (signed(*step, before), f64::from(*count)))
                    .collect(),
                Done::Again(step, times) => {
                    let count = before.sets.last().map_or(0.0, |last| last.1);
                    vec![(step.amount(before), count); *times]
                }
            };
            let wanted: Vec<(Option<f64>, f64)> = (does.iter())
                .filter_map(|does| match does {
                    Does::Set {
                        load,
                        basis: Basis::Helped,
                        count,
                        ..
                    } if before.basis == Basis::Body => Some((load.map(|load| -load), *count)),
                    Does::Set { load, count, .. } => Some((*load, *count)),
                    _ => None,
                })
                .collect();
            let same = list.len() == wanted.len()
                && list.iter().zip(&wanted).all(|(a, b)| {
                    near(a.1, b.1) && near(a.0.unwrap_or(-1.0), b.0.unwrap_or_default())
                });
            let rir = does.iter().rev().find_map(|does| match does {
                Does::Set { rir, .. } => Some(*rir),
                _ => None,
            });
            match (same, rir.flatten(), sets.rir) {
                (false, ..) => Verdict::Wrong,
                (true, None, None) => Verdict::Right,
                (true, Some(a), Some(b)) if near(a, b) => Verdict::Right,
                _ => Verdict::Reserve,
            }
        }
        (Act::Sets, Some(Told::Round(round, _))) => {
            let wanted = does.iter().filter_map(|does| match does {
                Does::Set { count, .. } => Some(*count),
                _ => None,
            });
            let told = match round {
                Some(round) => round.iter().map(|count| f64::from(*count)).collect(),
                None => before.in_turn.clone(),
            };
            match wanted.eq(told) {
                true => Verdict::Right,
                false => Verdict::Wrong,
            }
        }
        (Act::Load, Some(Told::Load(step))) => {
            let wanted = does.iter().find_map(|does| match does {
                Does::Load(_, load, _) => Some(load.unwrap_or_default()),
                _ => None,
            });
            let now = step.amount(before);
            match wanted.zip(now).is_some_and(|(a, b)| near(a, b)) {
                true => Verdict::Right,
                false => Verdict::Wrong,
            }
        }
        (Act::Effort | Act::Fix | Act::Delete, Some(Told::Changed(which, changed))) => {
            let places = log.changed(does);
            let wanted = |set: usize| {
                does.iter().rev().find_map(|one| match one {
                    Does::Effort(_, left) | Does::Fix(_, Part::Left, left) => log
                        .changed(slice::from_ref(one))
                        .contains(&set)
                        .then_some(*left)?,
                    _ => None,
                })
            };
            let fits = match (does.first(), changed) {
                (Some(Does::Effort(..) | Does::Fix(_, Part::Left, _)), Changed::Left(told)) => {
                    which
                        .iter()
                        .zip(told)
                        .all(|(set, told)| wanted(*set).is_some_and(|left| near(left, *told)))
                }
                (Some(Does::Fix(_, Part::Count, Some(a))), Changed::Reps(b))
                | (Some(Does::Fix(_, Part::Load, Some(a))), Changed::Load(b, _)) => near(*a, *b),
                (Some(Does::Fix(_, Part::Other, _)), Changed::WarmUp)
                | (Some(Does::Delete(_)), Changed::Gone) => true,
                _ => false,
            };
            match fits && *which == places {
                true => Verdict::Right,
                false => Verdict::Wrong,
            }
        }
        _ => Verdict::Wrong,
    }
}
