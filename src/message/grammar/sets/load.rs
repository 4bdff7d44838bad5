//! The load of a set: its unit and basis, carried on where they are not written, and whether a
//! draft with it is whole.

use super::super::core::LoadPart;
use super::super::groups::Flags;
use super::super::item::{Num, Sign};
use super::GroupFiler;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment, Exercise};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::reading::{Draft, DraftLoad, SetReading, Technique};

/// Loads above this are asked about, kilograms.
const MOST_KG: f64 = 1000.0;

/// A larger share of the load before is no change of it but a load. Common practice, no source.
const MOST_OF_A_CHANGE: f64 = 0.6;
/// Amounts that differ by less, half of the last digit that is shown, are the same.
const SAME_AMOUNT: f64 = 0.005;

impl GroupFiler<'_> {
    pub(super) fn load(&self, load: LoadPart) -> Option<DraftLoad> {
        match load {
            LoadPart::Open => None,
            LoadPart::Body => Some(self.body_load()),
            LoadPart::None => match self.carried() {
                Some(last) => Some(draft_load(last.load)),
                // `weighted dips 3x8`: something hangs there, how much is not said.
                None if self.is_body() && !self.is_hung() => Some(self.body_load()),
                None => None,
            },
            LoadPart::Num(num) => self.number_load(&num),
        }
    }

    pub(super) fn body_load(&self) -> DraftLoad {
        DraftLoad {
            amount: 0.0,
            unit: self.filing.unit,
            basis: Some(Basis::Body),
        }
    }

    fn number_load(&self, num: &Num) -> Option<DraftLoad> {
        if num.sign != Sign::None && (num.load || self.is_by_itself()) {
            return self.changed_by(num);
        }
        let carried = self.carried();
        let loaded = carried.filter(|l| l.load.basis != Basis::Body);
        let unit = num
            .unit
            .or(loaded.map(|last| self.unit_behind(last.load, num.value)))
            .unwrap_or(self.filing.unit);
        if self
            .entry()
            .is_some_and(|entry| !is_on(unit, num.assisted, entry))
        {
            return None;
        }
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

    /// The unit of a bare number behind a load: that load's, or the lifter's own where the number is near it in that alone.
    fn unit_behind(&self, last: Load, value: f64) -> Unit {
        let near = |unit: Unit| {
            let share = Mass::new(value, unit).map(|mass| mass.in_kg() / last.mass.in_kg());
            share.is_ok_and(|share| (0.75..=1.33).contains(&share))
        };
        match near(self.filing.unit) && !near(last.unit) {
            true => self.filing.unit,
            false => last.unit,
        }
    }

    /// Whether nothing can be hung on the body or taken off it in this lift.
    fn is_by_itself(&self) -> bool {
        self.entry()
            .is_some_and(|e| e.body_share <= 0.0 && e.basis != Basis::Body)
    }

    /// `+5 for 8`, `down 10, 12`: the load of the set before and so much more or less. Without one it is asked for.
    fn changed_by(&self, num: &Num) -> Option<DraftLoad> {
        let Some(last) = self.carried().map(|last| last.load) else {
            // `assisted dips, 40 lb off`
            let helped = self.flags.assisted && num.sign == Sign::Minus;
            return helped.then(|| DraftLoad {
                amount: num.value,
                unit: num.unit.unwrap_or(self.filing.unit),
                basis: Some(Basis::Assisted),
            });
        };
        let unit = num.unit.unwrap_or(last.unit);
        let (before, basis) = match last.basis {
            Basis::Body => (0.0, Basis::Added),
            Basis::Assisted => return None,
            basis => (last.mass.amount(unit), basis),
        };
        if num.sign == Sign::Minus
            && basis == Basis::Added
            && (num.value - before).abs() < SAME_AMOUNT
        {
            return Some(self.body_load());
        }
        // `went up 85 for 8` says to where.
        let is_new = num.load && num.value > MOST_OF_A_CHANGE * before && before > 0.0;
        let amount = match num.sign {
            _ if is_new => num.value,
            Sign::Minus => before - num.value,
            _ => before + num.value,
        };
        let load = DraftLoad {
            amount,
            unit,
            basis: Some(basis),
        };
        is_sane(&load).then_some(load)
    }

    /// A minus is help, and only a body-weight movement can be helped.
    fn sign_fits(&self, num: &Num) -> bool {
        self.entry().is_none_or(|e| {
            let helped = e.body_share > 0.0 || e.basis == Basis::Body;
            (num.sign != Sign::Minus || helped) && !(num.per_hand && hands_are_taken(e))
        })
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
pub(crate) fn is_sane(load: &DraftLoad) -> bool {
    if load.basis == Some(Basis::Body) {
        return true;
    }
    load.amount > 0.0 && Mass::new(load.amount, load.unit).is_ok_and(|mass| mass.in_kg() <= MOST_KG)
}

/// The basis that the number's own words fix.
pub(crate) fn written_basis(num: &Num) -> Option<Basis> {
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
pub(crate) fn basis(num: &Num, exercise: &Exercise, flags: &Flags) -> Basis {
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

/// Whether the hands hold the body, as on a bar or the floor: `the 36s` are of another exercise then.
pub(crate) fn hands_are_taken(exercise: &Exercise) -> bool {
    exercise.basis == Basis::Body && matches!(exercise.class, LiftClass::Press | LiftClass::Pull)
}

/// A draft as a set, where nothing is missing.
pub(crate) fn complete_set(draft: &Draft, catalogue: &Catalogue) -> Option<SetReading> {
    let id = draft.exercise?;
    let load = full_load(&draft.load?, catalogue.exercise(id))?;
    let reps = match draft.seconds {
        Some(_) => 0,
        None => draft.reps?,
    };
    Some(SetReading {
        exercise: id,
        load,
        reps,
        seconds: draft.seconds,
        // Of a failed attempt nothing was left, whatever else is said.
        rir: if reps == 0 && draft.seconds.is_none() {
            Rir::new(0.0).ok()
        } else {
            draft.rir
        },
        gave_out: draft.gave_out,
        warm_up: draft.warm_up,
        per_side: draft.per_side,
        hung_a_side: None,
        rest_s: draft.rest_s,
        straight: draft.technique.is_none_or(Technique::is_straight),
        technique: draft.technique,
        day: draft.day,
    })
}

/// Whether an exercise has loads in a unit: a machine has a stack.
fn is_on(unit: Unit, assisted: bool, exercise: &Exercise) -> bool {
    let machine = matches!(
        exercise.equipment,
        Equipment::Stack | Equipment::PlateMachine
    );
    unit != Unit::Pin || machine || assisted
}

fn full_load(draft: &DraftLoad, exercise: &Exercise) -> Option<Load> {
    is_on(draft.unit, draft.basis == Some(Basis::Assisted), exercise).then_some(())?;
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
