//! What words beside the name of an exercise leave it as it is.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::lift_class::LiftClass;

/// What decides which parts leave an exercise as it is.
#[derive(Clone, Debug)]
pub(super) struct Facts {
    /// The parts of its name.
    pub parts: Vec<u16>,
    name: Box<str>,
    equipment: Equipment,
    basis: Basis,
    pub class: LiftClass,
    hangs: bool,
    pub target: Option<MuscleId>,
}

impl Facts {
    /// The facts of `exercise`, whose name has these parts.
    pub(super) fn new(exercise: &Exercise, parts: Vec<u16>) -> Self {
        Self {
            parts,
            name: exercise.name.as_str().into(),
            equipment: exercise.equipment,
            basis: exercise.basis,
            class: exercise.class,
            hangs: exercise.body_share > 0.0,
            target: exercise.target,
        }
    }

    fn says(&self, word: &str) -> bool {
        self.name.split([' ', '-']).any(|piece| piece == word)
    }

    fn is_machine(&self) -> bool {
        matches!(self.equipment, Equipment::Stack | Equipment::PlateMachine)
    }

    pub(super) fn is_done_with(&self, implement: &str) -> bool {
        match implement {
            "barbell" | "bar" => self.equipment == Equipment::Barbell && !self.says("smith"),
            "dumbbell" | "kettlebell" => {
                self.equipment == Equipment::Dumbbell
                    || self.basis == Basis::Body
                    || self.hangs && self.class == LiftClass::Squat
            }
            "cable" | "rope" => self.equipment == Equipment::Stack && !self.says("machine"),
            // Machines help with pull-ups and dips, too.
            "machine" => self.is_machine() && !self.says("cable") || self.basis == Basis::Body,
            "ez" => {
                self.equipment == Equipment::Barbell
                    && (self.class == LiftClass::SmallUpper || self.says("upright"))
            }
            "handle" => {
                self.equipment != Equipment::Dumbbell
                    && (self.basis != Basis::Body || self.says("push"))
            }
            "plate-loaded" => self.is_machine() && !self.says("cable"),
            "landmine" => self.says("t"),
            "plate" | "bodyweight" => self.basis == Basis::Body || self.hangs,
            _ => false,
        }
    }

    pub(super) fn is_done(&self, position: &str) -> bool {
        use LiftClass::{Hinge, LegPress, Press, Pull, SmallUpper, Squat, Trunk};
        let placed = ["lying", "standing", "seated", "incline"]
            .iter()
            .any(|word| self.says(word));
        let free = !placed;
        if self.says(position) {
            return true;
        }
        // One does it seated, standing or on the knees: where the catalogue tells these apart, the name with
        // the word is found before.
        match position {
            "seated" | "standing" => free && !matches!(self.class, Squat | LegPress | Hinge),
            "kneeling" | "half-kneeling" => matches!(self.class, Press | Pull | SmallUpper | Trunk),
            "bent-over" => {
                self.class == Pull && !self.says("upright")
                    || self.says("rear")
                    || self.says("kickback")
            }
            "incline" => self.says("supported"),
            "lying" => self.says("supported") || self.says("y"),
            "flat" => free && (self.class == Press && self.says("bench") || self.says("fly")),
            "angled" => {
                self.class == LegPress
                    || self.says("extension")
                    || self.says("incline")
                    || self.class == Press && (self.says("seated") || self.says("shoulder"))
            }
            _ => false,
        }
    }

    pub(super) fn is_one_sided(&self, side: &str) -> bool {
        use LiftClass::{Calf, Press, Pull, SmallLower, SmallUpper, Squat};
        let arms = matches!(self.class, Press | Pull | SmallUpper)
            && matches!(
                self.equipment,
                Equipment::Dumbbell | Equipment::Stack | Equipment::PlateMachine
            );
        let stepped = self.class == Squat && self.hangs;
        match side {
            "one-arm" => arms,
            "one-leg" => matches!(self.class, SmallLower | Calf) && self.basis != Basis::Body,
            "single" => {
                arms || matches!(self.class, SmallLower | Calf) && self.basis != Basis::Body
            }
            "alternating" | "double" => arms || stepped || self.equipment == Equipment::Dumbbell,
            "two-arm" => true,
            _ => false,
        }
    }

    pub(super) fn is_held(&self, grip: &str) -> bool {
        use LiftClass::{Hinge, Press, Pull};
        match grip {
            "overhand" | "hook-grip" | "medium-grip" | "clean-grip" => true,
            "snatch-grip" => self.says("neck") || self.says("snatch"),
            "wide-grip" | "neutral-grip" => !self.says("grip"),
            "close-grip" => !self.says("grip") && self.class != Press,
            "underhand" => self.class != Press && self.class != Pull && !self.says("reverse"),
            "grip" => self.class != Hinge,
            _ => false,
        }
    }

    /// Whether the movement stays the same on or against this: `calf raise off a step`.
    pub(super) fn is_propped(&self, prop: &str) -> bool {
        use LiftClass::{Calf, Hinge, Press, Pull, SmallLower, SmallUpper, Squat, Trunk};
        match prop {
            "bench" => {
                matches!(self.class, Pull | SmallUpper | SmallLower | Trunk | Hinge)
                    || self.class == Press && !self.says("floor") && !self.says("overhead")
            }
            "floor" => {
                matches!(self.class, Calf | Trunk)
                    || self.class == Hinge && (self.says("deadlift") || self.says("bridge"))
                    || self.says("push")
            }
            "wall" => matches!(self.class, SmallUpper | Calf),
            "step" | "box" | "block" | "platform" => self.class == Calf,
            "rack" => matches!(self.class, Squat | SmallUpper),
            "pad" | "stand" | "station" => true,
            _ => false,
        }
    }
}
