//! Groups to sets: what the numbers mean for the exercise, what is carried on from the last set,
//! and what is missing.

use crate::domain::catalogue::{Basis, Catalogue, Equipment, Exercise, LiftClass};
use crate::domain::effort::Rir;
use crate::domain::id::ExerciseId;
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};

use super::core::{LoadPart, Open};
use super::item::{Num, Sign};
use super::names::NameIndex;
use super::reading::{Draft, DraftLoad, Need, SetReading};
use super::sets::{Flags, Group, Parsed};

/// Loads above this are asked about, kilograms.
pub(super) const MOST_KG: f64 = 1000.0;
/// Repetitions above this are asked about.
pub(super) const MOST_REPS: f64 = 100.0;
/// From here on a number before the repetitions of a body-weight movement is weight added.
const ADDED_FROM: f64 = 15.0;
/// Up to here it is a number of sets.
const SETS_TO: f64 = 5.0;
/// No barbell or plate machine is loaded as lightly as this: `8x8` on it is sets × reps.
const LIGHTEST_BAR: f64 = 10.0;
/// A bare number up to here is repetitions rather than a load.
const REPS_TO: f64 = 12.0;

/// What a set is completed from.
#[derive(Clone, Copy)]
pub(super) struct Filing<'f> {
    pub catalogue: &'f Catalogue,
    pub names: &'f NameIndex,
    pub unit: Unit,
    pub last: Option<&'f SetReading>,
}

/// The sets of a message, with what they lack.
#[derive(Clone, Debug, Default)]
pub(super) struct Filed {
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
pub(super) fn file(parsed: &Parsed, filing: Filing<'_>) -> Filed {
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

    /// `20x8`: load × reps or sets × reps, by the exercise.
    fn pair(&mut self) {
        let core = &self.group.core;
        let LoadPart::Num(first) = core.load else {
            return self.settled(core.load, &core.reps.clone());
        };
        let reps = core.reps.clone();
        let most = reps.iter().copied().fold(0.0, f64::max);
        if self.is_body() {
            return self.body_pair(first, &reps);
        }
        // `10x80` is most likely the other way round; nobody files it unasked.
        if let [only] = reps.as_slice()
            && most > 30.0
            && most <= MOST_REPS
            && most > 2.0 * first.value
            && !self.is_light()
        {
            return self.rivals(&[(Some(first.value), *only), (Some(*only), first.value)]);
        }
        if self.are_sets(first.value, most) {
            return self.sets_times_reps(first.value, &reps);
        }
        self.settled(LoadPart::Num(first), &reps);
    }

    fn is_light(&self) -> bool {
        self.entry()
            .is_some_and(|e| matches!(e.equipment, Equipment::Dumbbell | Equipment::Body))
    }

    fn are_sets(&self, first: f64, most: f64) -> bool {
        if first.fract() != 0.0 || self.flags.per_hand {
            return false;
        }
        let bar = self.entry().is_some_and(|exercise| {
            matches!(
                exercise.equipment,
                Equipment::Barbell | Equipment::PlateMachine
            )
        });
        first <= SETS_TO || bar && first <= LIGHTEST_BAR && most <= REPS_TO
    }

    fn sets_times_reps(&mut self, sets: f64, reps: &[f64]) {
        let count = (1_u8..=20)
            .find(|n| (f64::from(*n) - sets).abs() < 0.1)
            .unwrap_or(1);
        let list = match reps {
            [one] => vec![*one; usize::from(count)],
            list => list.to_vec(),
        };
        self.settled(LoadPart::None, &list);
    }

    /// Body-weight movements: 15 and more is weight added, 5 and less a number of sets.
    fn body_pair(&mut self, first: Num, reps: &[f64]) {
        let hung = self.is_hung();
        let carried = !self.named
            && self
                .last()
                .is_some_and(|l| matches!(l.load.basis, Basis::Added | Basis::Assisted));
        if hung || first.value >= ADDED_FROM || carried && first.value > SETS_TO {
            return self.settled(LoadPart::Num(first), reps);
        }
        if first.value <= SETS_TO {
            return self.sets_times_reps(first.value, reps);
        }
        let [one] = reps else {
            return self.settled(LoadPart::Num(first), reps);
        };
        self.out.need(Need::WhichReading);
        let as_load = vec![self.draft(LoadPart::Num(first), *one, 0)];
        let count = (1..=20)
            .find(|n| (f64::from(*n) - first.value).abs() < 0.1)
            .unwrap_or(1);
        let as_sets = (0..count)
            .map(|_| self.draft(LoadPart::Body, *one, 0))
            .collect();
        self.open(vec![as_load, as_sets]);
    }

    /// `8 10` and `10 @ 8`: either number may be the load.
    fn two(&mut self, a: f64, b: f64) {
        if self.is_body() && self.group.core.reps.len() == 2 {
            if let Some(load) = self.hung_load() {
                return self.settled(load, &[b]);
            }
            return self.settled(LoadPart::None, &self.group.core.reps.clone());
        }
        let by_at = self.group.core.reps.len() == 1;
        let (first, second) = if by_at { (b, a) } else { (a, b) };
        self.out.need(Need::WhichReading);
        let number = |value| {
            LoadPart::Num(Num {
                value,
                ..Num::default()
            })
        };
        let mut readings = vec![
            vec![self.draft(number(first), second, 0)],
            vec![self.draft(number(second), first, 0)],
        ];
        if by_at {
            let rir = Rir::from_rpe(b).ok();
            readings.push(vec![Draft {
                rir,
                ..self.draft(LoadPart::None, a, 0)
            }]);
        } else {
            let both = [a, b].map(|reps| self.draft(LoadPart::None, reps, 0));
            readings.push(both.to_vec());
        }
        self.open(readings);
    }

    /// `3x10 @ 8`: the number may be the load, or RPE with the load left out.
    fn sets_at(&mut self, number: f64) {
        self.out.need(Need::WhichReading);
        let reps = self.group.core.reps.clone();
        let load = LoadPart::Num(Num {
            value: number,
            ..Num::default()
        });
        let as_load = reps.iter().map(|reps| self.draft(load, *reps, 0)).collect();
        let rir = Rir::from_rpe(number).ok();
        let as_rpe = reps
            .iter()
            .map(|reps| Draft {
                rir,
                ..self.draft(LoadPart::None, *reps, 0)
            })
            .collect();
        self.open(vec![as_load, as_rpe]);
    }

    /// `5x100kg x3`: three sets of five or five of three.
    fn crossed(&mut self, a: f64, c: f64) {
        self.out.need(Need::WhichReading);
        let load = self.group.core.load;
        let sets = |count: f64, reps| {
            let count = super::core::count(count).unwrap_or(1);
            (0..count).map(|_| self.draft(load, reps, 0)).collect()
        };
        let readings = vec![sets(a, c), sets(c, a)];
        self.open(readings);
    }

    /// `100x8 3`: three sets, one more of three, or three in reserve.
    fn tail(&mut self, number: f64) {
        self.out.need(Need::WhichReading);
        let core = &self.group.core;
        let reps = core.reps.first().copied().unwrap_or_default();
        let set = self.draft(core.load, reps, 0);
        let count = super::core::count(number).unwrap_or(1);
        let next = self.draft(core.load, number, 0);
        let left = Draft {
            rir: Rir::new(number).ok(),
            ..set.clone()
        };
        let sets = vec![set.clone(); count];
        self.open(vec![sets, vec![set, next], vec![left]]);
    }

    fn rivals(&mut self, readings: &[(Option<f64>, f64)]) {
        self.out.need(Need::WhichReading);
        let made = readings
            .iter()
            .map(|(load, reps)| {
                let load = load.map_or(LoadPart::None, |value| {
                    LoadPart::Num(Num {
                        value,
                        ..Num::default()
                    })
                });
                vec![self.draft(load, *reps, 0)]
            })
            .collect();
        self.open(made);
    }

    fn open(&mut self, readings: Vec<Vec<Draft>>) {
        let at = self.out.drafts.len();
        let blank = Draft {
            load: None,
            reps: None,
            ..self.draft(LoadPart::None, 0.0, 0)
        };
        self.out.drafts.push(blank);
        if self.out.rivals.is_empty() {
            self.out.rival_at = Some((at, 1));
            self.out.rivals = readings;
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
        let carried = self.carried(load);
        // One effort beside sets × reps holds for all of them.
        let place = if self.group.rir.len() == 1 { 0 } else { place };
        let rir = self.group.rir.get(place).copied().flatten();
        Draft {
            exercise: self.exercise,
            load: self.load(load),
            reps: whole_reps(reps),
            rir: rir.and_then(|rir| Rir::new(rir).ok()),
            warm_up: self.group.warm_up,
            per_side: self.flags.side || carried.is_some_and(|last| last.per_side),
            rest_s: self.group.rest_s,
            technique: self.group.technique.or(self.flags.technique),
            day: self.group.day,
        }
    }

    /// The last set, where this group carries on from it.
    fn carried(&self, load: LoadPart) -> Option<&SetReading> {
        let last = self.last()?;
        let takes = !self.named || load == LoadPart::None && !self.is_body();
        takes.then_some(last)
    }

    fn load(&self, load: LoadPart) -> Option<DraftLoad> {
        match load {
            LoadPart::Open => None,
            LoadPart::Body => Some(self.body_load()),
            LoadPart::None => match self.carried(load) {
                Some(last) => Some(draft_load(last.load)),
                // `weighted dips 3x8`: something hangs there, how much is not said.
                None if self.is_body() && !self.is_hung() => Some(self.body_load()),
                None => None,
            },
            LoadPart::Num(num) => self.number_load(&num),
        }
    }

    fn body_load(&self) -> DraftLoad {
        DraftLoad {
            amount: 0.0,
            unit: self.filing.unit,
            basis: Some(Basis::Body),
        }
    }

    fn number_load(&self, num: &Num) -> Option<DraftLoad> {
        let carried = self.carried(LoadPart::Num(*num));
        let unit = num
            .unit
            .or(carried
                .filter(|l| l.load.basis != Basis::Body)
                .map(|last| last.load.unit))
            .unwrap_or(self.filing.unit);
        let written = written_basis(num).or_else(|| flag_basis(&self.flags));
        let basis = match self.entry() {
            Some(exercise) => {
                let usual = basis(num, exercise, &self.flags);
                let kept = carried
                    .map(|last| last.load.basis)
                    .filter(|basis| written.is_none() && *basis != Basis::Body);
                Some(kept.unwrap_or(usual))
            }
            None => written,
        };
        if self.is_body() && num.value == 0.0 && num.sign != Sign::Minus {
            return Some(self.body_load());
        }
        let load = DraftLoad {
            amount: num.value,
            unit,
            basis,
        };
        (is_sane(&load) && self.sign_fits(num)).then_some(load)
    }

    /// A minus is help, and only a body-weight movement can be helped.
    fn sign_fits(&self, num: &Num) -> bool {
        num.sign != Sign::Minus
            || self
                .entry()
                .is_none_or(|e| e.body_share > 0.0 || e.basis == Basis::Body)
    }
}

fn draft_load(load: Load) -> DraftLoad {
    DraftLoad {
        amount: load.mass.amount(load.unit),
        unit: load.unit,
        basis: Some(load.basis),
    }
}

/// Whether a load is above zero and no more than the most that is filed unasked.
pub(super) fn is_sane(load: &DraftLoad) -> bool {
    if load.basis == Some(Basis::Body) {
        return true;
    }
    load.amount > 0.0 && Mass::new(load.amount, load.unit).is_ok_and(|mass| mass.in_kg() <= MOST_KG)
}

/// The basis that the number's own words fix.
pub(super) fn written_basis(num: &Num) -> Option<Basis> {
    if num.assisted || num.sign == Sign::Minus {
        Some(Basis::Assisted)
    } else if num.sign == Sign::Plus {
        Some(Basis::Added)
    } else if num.per_hand {
        Some(Basis::PerHand)
    } else if num.total {
        Some(Basis::Total)
    } else {
        None
    }
}

fn flag_basis(flags: &Flags) -> Option<Basis> {
    if flags.assisted {
        Some(Basis::Assisted)
    } else if flags.added {
        Some(Basis::Added)
    } else if flags.per_hand {
        Some(Basis::PerHand)
    } else {
        None
    }
}

/// The basis of a number on this exercise.
pub(super) fn basis(num: &Num, exercise: &Exercise, flags: &Flags) -> Basis {
    let body = exercise.basis == Basis::Body;
    match written_basis(num).or_else(|| flag_basis(flags)) {
        // A goblet squat is one dumbbell held in both hands.
        Some(Basis::PerHand)
            if exercise.equipment == Equipment::Dumbbell
                && exercise.basis == Basis::Total
                && exercise.class == LiftClass::Squat =>
        {
            Basis::Total
        }
        Some(Basis::PerHand) if exercise.equipment == Equipment::Stack => Basis::Total,
        Some(Basis::PerHand) if body => Basis::Added,
        Some(Basis::Added | Basis::Assisted) if !body && exercise.body_share <= 0.0 => {
            exercise.basis
        }
        Some(Basis::Total) if body => Basis::Added,
        Some(basis) => basis,
        None if body => Basis::Added,
        None => exercise.basis,
    }
}

/// Whole repetitions from 1 to 100.
pub(super) fn whole_reps(reps: f64) -> Option<u32> {
    if !(1.0..=MOST_REPS).contains(&reps) || reps.fract() != 0.0 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 1 to 100 by the line above"
    )]
    Some(reps as u32)
}

/// A draft as a set, where nothing is missing.
pub(super) fn complete_set(draft: &Draft, catalogue: &Catalogue) -> Option<SetReading> {
    let id = draft.exercise?;
    let load = full_load(&draft.load?, catalogue.exercise(id))?;
    Some(SetReading {
        exercise: id,
        load,
        reps: draft.reps?,
        rir: draft.rir,
        warm_up: draft.warm_up,
        per_side: draft.per_side,
        rest_s: draft.rest_s,
        straight: draft
            .technique
            .is_none_or(super::reading::Technique::is_straight),
        technique: draft.technique,
        day: draft.day,
    })
}

fn full_load(draft: &DraftLoad, exercise: &Exercise) -> Option<Load> {
    if draft.basis == Some(Basis::Body) {
        return Some(Load::body(draft.unit));
    }
    let usual = match exercise.basis {
        Basis::Body => Basis::Added,
        basis => basis,
    };
    let mass = Mass::new(draft.amount, draft.unit).ok()?;
    is_sane(draft).then_some(Load {
        mass,
        unit: draft.unit,
        basis: draft.basis.unwrap_or(usual),
    })
}
