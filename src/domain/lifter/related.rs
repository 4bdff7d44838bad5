//! What strength on one lift tells of another: lifts of one class for one target muscle.
//!
//! A member's belief about a lift is its own matter ([`super::belief`]); here is only what a lift that
//! was never done may be expected to stand at, widely.

use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment, Exercise};

use super::codec::{Reader, Writer};
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::lift_class::LiftClass;

/// Spread of the log of one lift's maximum over another's, of one class and target: of two lifts with
/// bars or dumbbells, and where a machine or the body is one of them, whose numbers are their own. Trade
/// practice, no source: an incline press or another kind of curl rarely lies further apart than by a
/// third, a dip than by half.
const SPREAD: (f64, f64) = (0.2, 0.35);
/// The same of two lifts that move the same share of the body (pull-up, chin-up). Common practice, no source: a few
/// repetitions apart.
const OF_THE_BODY: f64 = 0.1;
/// Log of a maximum on a leg press or its like over that on a squat for the same muscle, and its
/// spread: sledges and stacks differ widely, and a squat on rails is hardly heavier than a free one. Common practice, no source.
const PRESSED_OVER_SQUATTED: (f64, f64) = (0.3, 0.45);
/// Maximum on a press over that on another press for another muscle, where each helps the other (bench press, narrow
/// grip), where only the new one's helps (overhead), and where only the known one's does, with the spread of the log.
/// Common practice, no source.
const PRESS_BESIDE: [(f64, f64); 3] = [(0.9, 0.15), (0.6, 0.15), (1.4, 0.2)];
/// The same of a hinge with the load held in the hands, where it takes fewer muscles (straight legs), and where it
/// takes more. Common practice, no source: 65 to 80 % of a deadlift goes with straight legs.
const HINGE_BESIDE: [(f64, f64); 2] = [(0.75, 0.15), (1.25, 0.2)];
/// The muscle by which a hinge is told to be held in the hands: a good morning is far lighter.
const GRIP: &str = "forearms";
/// What one hand moves of what both move on a bar. Common practice, no source: a dumbbell in each
/// hand comes to four fifths of the bar.
const ONE_HAND: f64 = 0.4;
/// A strength gives way to one that is not surer, when it is not vaguer than by this.
const AS_SURE: f64 = 0.02;

/// A member's strength by target muscle and class of lift, of the lift that is known best.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Strengths(Vec<Strength>);

#[derive(Clone, Copy, Debug, PartialEq)]
struct Strength {
    target: MuscleId,
    class: LiftClass,
    /// Log of the maximum as with a bar in both hands, kilograms, and its spread.
    log: f64,
    spread: f64,
    /// Whether that lift is done with a bar or dumbbells.
    free: bool,
    /// Share of the body that it moves, where nothing else need be moved.
    hung: f64,
}

impl Strengths {
    /// Notes the log of a lift's maximum, kilograms moved, and its spread.
    pub(crate) fn note(&mut self, exercise: &Exercise, log: f64, spread: f64) {
        let Some(target) = exercise.target else {
            return;
        };
        let new = Strength {
            target,
            class: exercise.class,
            log: log - hands(exercise),
            spread,
            free: is_free(exercise),
            hung: hung(exercise),
        };
        match self.0.iter_mut().find(|s| s.is_of(exercise)) {
            Some(known) if spread > known.spread + AS_SURE => {}
            Some(known) => *known = new,
            None => self.0.push(new),
        }
    }

    /// What a related lift lets expect of `exercise`: the log of the maximum, kilograms moved, and
    /// its spread; `None` where no related lift is known.
    ///
    /// ```text
    /// log 1RM = log 1RM(related) + log(0.4 for one hand)     ± √(spread² + between²)
    /// ```
    ///
    /// A press for the legs that has no relative of its kind is foreseen from a squat, a squat never
    /// from a press: that would be too heavy.
    ///
    /// *Source*: trade practice.
    pub(crate) fn of(&self, exercise: &Exercise) -> Option<(f64, f64)> {
        let Some(known) = self.0.iter().find(|s| s.is_of(exercise)) else {
            let squat = self.0.iter().find(|s| s.is_squat_of(exercise))?;
            let (over, between) = PRESSED_OVER_SQUATTED;
            return Some((squat.log + over, f64::hypot(squat.spread, between)));
        };
        let between = match known.free && is_free(exercise) {
            _ if known.hung > 0.0 && known.hung.total_cmp(&hung(exercise)).is_eq() => OF_THE_BODY,
            true => SPREAD.0,
            false => SPREAD.1,
        };
        let spread = f64::hypot(known.spread, between);
        Some((known.log + hands(exercise), spread))
    }

    /// The log of a maximum, kilograms moved, that a new press with bar or dumbbells does not exceed by much, with
    /// its spread: that of a press, with bar or dumbbells too, in which the new one's target only helps. `None` for
    /// other lifts, and where no such press is known.
    ///
    /// *Source*: common practice, no source: nobody presses more overhead than from the bench.
    pub(crate) fn over(&self, exercise: &Exercise, catalogue: &Catalogue) -> Option<(f64, f64)> {
        if exercise.class != LiftClass::Press || !is_free(exercise) {
            return None;
        }
        let target = exercise.target?;
        let helps = |known: &&Strength| {
            let mut exercises = catalogue.exercises().map(|(_, other)| other);
            exercises.any(|other| known.is_of(other) && other.helpers.contains(&target))
        };
        let presses = self.0.iter();
        let best = presses
            .filter(|known| known.class == LiftClass::Press && known.free)
            .filter(|known| !exercise.helpers.contains(&known.target))
            .filter(helps)
            .max_by(|a, b| a.log.total_cmp(&b.log))?;
        Some((best.log + hands(exercise), best.spread))
    }

    /// What a lift of the same class for another muscle lets expect of `exercise`, both with bar or dumbbells: the log of
    /// the maximum, kilograms moved, and its spread; `None` where no such lift is known. Only to choose a first load by.
    ///
    /// *Source*: common practice.
    pub(crate) fn beside(&self, exercise: &Exercise, catalogue: &Catalogue) -> Option<(f64, f64)> {
        let target = exercise.target.filter(|_| is_free(exercise))?;
        let grip = catalogue.muscle_named(GRIP)?;
        let seen = |known: &Strength| {
            let mut lifts = catalogue.exercises().map(|(_, other)| other);
            let lift = lifts.find(|other| known.is_of(other) && is_free(other))?;
            let helps = lift.helpers.contains(&target);
            let helped = exercise.helpers.contains(&known.target);
            let (ratio, between) = match (exercise.class, helps, helped) {
                (LiftClass::Press, true, true) => PRESS_BESIDE[0],
                (LiftClass::Press, true, false) => PRESS_BESIDE[1],
                (LiftClass::Press, false, true) => PRESS_BESIDE[2],
                (LiftClass::Hinge, _, true) if exercise.helpers.contains(&grip) => {
                    HINGE_BESIDE[usize::from(exercise.helpers.len() > lift.helpers.len())]
                }
                _ => return None,
            };
            let spread = f64::hypot(known.spread, between);
            Some((known.log + ratio.ln() + hands(exercise), spread))
        };
        let known = self
            .0
            .iter()
            .filter(|s| s.free && s.class == exercise.class);
        known.filter_map(seen).min_by(|a, b| a.1.total_cmp(&b.1))
    }

    pub(crate) fn write(&self, row: &mut Writer) {
        row.int(i64::try_from(self.0.len()).unwrap_or(0));
        for known in &self.0 {
            row.byte(known.target.0);
            row.byte(class_code(known.class));
            row.reals(&[known.log, known.spread]);
            row.byte(u8::from(known.free));
            row.real(known.hung);
        }
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        let count = row.int()?;
        let mut strengths = Vec::new();
        for _ in 0..count {
            strengths.push(Strength {
                target: MuscleId(row.byte()?),
                class: LiftClass::ALL.get(usize::from(row.byte()?)).copied()?,
                log: row.real()?,
                spread: row.real()?,
                free: row.byte()? == 1,
                hung: row.real()?,
            });
        }
        Some(Self(strengths))
    }
}

impl Strength {
    fn is_of(&self, exercise: &Exercise) -> bool {
        Some(self.target) == exercise.target && self.class == exercise.class
    }

    /// Whether it is of a squat, and the exercise presses with the same muscle.
    fn is_squat_of(&self, exercise: &Exercise) -> bool {
        let pressed = exercise.class == LiftClass::LegPress;
        pressed && self.class == LiftClass::Squat && Some(self.target) == exercise.target
    }
}

/// Whether it is done with a bar or dumbbells.
pub(crate) fn is_free(exercise: &Exercise) -> bool {
    matches!(exercise.equipment, Equipment::Barbell | Equipment::Dumbbell)
}

/// Log of what this lift's load is of one in both hands.
fn hands(exercise: &Exercise) -> f64 {
    match exercise.basis {
        Basis::PerHand => ONE_HAND.ln(),
        _ => 0.0,
    }
}

fn class_code(class: LiftClass) -> u8 {
    (0..)
        .zip(LiftClass::ALL)
        .find(|(_, c)| *c == class)
        .map_or(0, |(n, _)| n)
}

fn hung(exercise: &Exercise) -> f64 {
    match exercise.equipment {
        Equipment::Body => exercise.body_share,
        _ => 0.0,
    }
}
