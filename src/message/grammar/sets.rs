//! Groups to sets: what the numbers mean for the exercise, what is carried on from the last set,
//! and what is missing.
//!
//! `pair` tells load × reps from sets × reps, `doubt` offers what can be read in two ways, `load`
//! gives a number its unit and basis.

mod doubt;
mod load;
mod pair;

use crate::domain::quantities::catalogue::{Basis, Catalogue, Exercise};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::Unit;

use super::core::{LoadPart, Open};
use super::groups::{Flags, Group, Parsed};
use super::item::Num;
use crate::message::reading::{Draft, Need, SetReading, whole_reps};
use crate::message::words::names::NameIndex;

pub(crate) use load::{basis, complete_set, hands_are_taken, is_sane, written_basis};

/// No barbell or plate machine is loaded as lightly as this: `8x8` on it is sets × reps.
const LIGHTEST_BAR: f64 = 10.0;
/// A bare number up to here is repetitions rather than a load.
const REPS_TO: f64 = 12.0;

/// What a set is completed from.
#[derive(Clone, Copy)]
pub(crate) struct Filing<'f> {
    pub catalogue: &'f Catalogue,
    pub names: &'f NameIndex,
    pub unit: Unit,
    pub last: Option<&'f SetReading>,
}

/// The sets of a message, with what they lack.
#[derive(Clone, Debug, Default)]
pub(crate) struct Filed {
    /// Every set as far as known.
    pub drafts: Vec<Draft>,
    /// What is missing, without repeats.
    pub needs: Vec<Need>,
    /// For each group that has two readings: those, as drafts.
    pub rivals: Vec<Vec<Draft>>,
    /// Place in `drafts` of the group that has two readings, with its length.
    pub rival_at: Option<(usize, usize)>,
}

impl Filed {
    fn need(&mut self, need: Need) {
        if !self.needs.contains(&need) {
            self.needs.push(need);
        }
    }
}

/// Files every group of `parsed`.
pub(crate) fn file(parsed: &Parsed, filing: Filing<'_>) -> Filed {
    let mut out = Filed::default();
    for group in &parsed.groups {
        let segment = parsed
            .segments
            .get(group.segment)
            .copied()
            .unwrap_or_default();
        let exercise = segment
            .exercise
            .or_else(|| filing.last.map(|last| last.exercise));
        let mut reader = GroupFiler {
            filing,
            group,
            flags: segment.flags,
            exercise,
            named: segment.exercise.is_some(),
            out: &mut out,
        };
        reader.file();
    }
    out.needs.sort_unstable();
    out
}

struct GroupFiler<'g> {
    filing: Filing<'g>,
    group: &'g Group,
    flags: Flags,
    exercise: Option<ExerciseId>,
    named: bool,
    out: &'g mut Filed,
}

impl GroupFiler<'_> {
    fn entry(&self) -> Option<&Exercise> {
        self.exercise.map(|id| self.filing.catalogue.exercise(id))
    }

    fn is_body(&self) -> bool {
        self.entry()
            .is_some_and(|exercise| exercise.basis == Basis::Body)
    }

    /// Words say that load was hung on the body or taken off.
    const fn is_hung(&self) -> bool {
        self.flags.added || self.flags.assisted
    }

    /// The last set, where this group is of its exercise.
    fn last(&self) -> Option<&SetReading> {
        self.filing
            .last
            .filter(|last| Some(last.exercise) == self.exercise)
    }

    fn file(&mut self) {
        if self.exercise.is_none() {
            self.out.need(Need::Exercise);
        }
        if self.group.bad_effort {
            self.out.need(Need::Effort);
        }
        self.use_the_twin();
        let core = &self.group.core;
        match core.open {
            Open::None => match self.hung_load() {
                Some(load) => self.settled(load, core.reps.get(1..).unwrap_or_default()),
                None => self.settled(core.load, &core.reps.clone()),
            },
            Open::Single => self.single(),
            Open::Pair => self.pair(),
            Open::Two(a, b) => self.two(a, b),
            Open::SetsAt(number) => self.sets_at(number),
            Open::Crossed(a, c) => self.crossed(a, c),
            Open::Tail(number) => self.tail(number),
        }
    }

    /// `bench 30s`: dumbbells in the words make it the dumbbell movement, where there is one.
    fn use_the_twin(&mut self) {
        let dumbbells = self.flags.per_hand
            || matches!(self.group.core.load, LoadPart::Num(num) if num.per_hand);
        if dumbbells
            && self.named
            && let Some(twin) = self.exercise.and_then(|id| self.filing.names.twin(id))
        {
            self.exercise = Some(twin);
        }
    }

    /// `weighted dips 20, 8, 7`: words say that something hangs on the body, and the first number
    /// is far from the others.
    fn hung_load(&self) -> Option<LoadPart> {
        let core = &self.group.core;
        let hung = self.is_hung();
        let [first, rest @ ..] = core.reps.as_slice() else {
            return None;
        };
        let most = rest.iter().copied().fold(0.0, f64::max);
        let fits = hung && core.load == LoadPart::None && most > 0.0 && *first >= 1.5 * most;
        fits.then(|| {
            LoadPart::Num(Num {
                value: *first,
                ..Num::default()
            })
        })
    }

    /// One number: a load without repetitions, or repetitions without a load.
    fn single(&mut self) {
        let LoadPart::Num(num) = self.group.core.load else {
            return self.settled(LoadPart::None, &[]);
        };
        if self.is_body() && self.is_hung() && num.value > REPS_TO {
            return self.settled(LoadPart::Num(num), &[]);
        }
        let as_reps =
            self.is_body() || num.value <= REPS_TO || !self.named && self.filing.last.is_some();
        if as_reps {
            let sets = self.group.core.count.unwrap_or(1);
            self.settled(LoadPart::None, &vec![num.value; sets]);
        } else {
            self.settled(LoadPart::Num(num), &[]);
        }
    }

    /// Load and repetitions as they are; what is missing is carried on or needed.
    fn settled(&mut self, load: LoadPart, reps: &[f64]) {
        if reps.is_empty() {
            self.out.need(Need::Reps);
            let draft = Draft {
                reps: None,
                ..self.draft(load, 0.0, 0)
            };
            self.check_load(&draft);
            self.out.drafts.push(draft);
            return;
        }
        for (place, &reps) in reps.iter().enumerate() {
            let draft = self.draft(load, reps, place);
            if draft.reps.is_none() {
                self.out.need(Need::Reps);
            }
            self.check_load(&draft);
            self.out.drafts.push(draft);
        }
    }

    fn check_load(&mut self, draft: &Draft) {
        if draft.load.is_none() {
            self.out.need(Need::Load);
        }
    }

    fn draft(&self, load: LoadPart, reps: f64, place: usize) -> Draft {
        let carried = self.carried();
        let last = place + 1 == self.group.core.sets();
        let gave_out = self
            .group
            .gave_out
            .filter(|(_, last_only)| last || !last_only);
        // One effort beside sets × reps holds for all of them.
        let place = if self.group.rir.len() == 1 { 0 } else { place };
        let rir = self.group.rir.get(place).copied().flatten();
        Draft {
            exercise: self.exercise,
            load: self.load(load),
            reps: whole_reps(reps),
            seconds: None,
            rir: rir.and_then(|rir| Rir::new(rir).ok()),
            gave_out: gave_out.map(|(what, _)| what),
            warm_up: self.group.warm_up,
            per_side: self.flags.side || carried.is_some_and(|last| last.per_side),
            rest_s: self.group.rest_s,
            technique: self.group.technique.or(self.flags.technique),
            day: self.group.day,
        }
    }

    /// The last set, where this group carries on from it: it names no exercise, or says that it
    /// goes on. `bench 5x5` behind another set of bench is a new statement, and lacks a load;
    /// `bench x8` and `bench, same, 8` take the one before.
    fn carried(&self) -> Option<&SetReading> {
        let takes = !self.named || self.group.core.same;
        self.last().filter(|_| takes)
    }
}
