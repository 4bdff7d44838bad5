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

    /// Whether the trunk may be upright in any way: on a seat, on the feet, on the knees. A press on a bench
    /// or a row bent over may not.
    fn is_upright(&self) -> bool {
        use LiftClass::{Press, Pull, SmallUpper, Trunk};
        let placed = "lying standing seated incline kneeling floor supported preacher";
        if placed.split(' ').any(|word| self.says(word)) {
            return false;
        }
        match self.class {
            Press => {
                self.is_machine()
                    || ["shoulder", "overhead", "arnold", "landmine", "neck"]
                        .iter()
                        .any(|word| self.says(word))
            }
            Pull => self.is_machine() || self.says("upright") || self.says("shrug"),
            SmallUpper => {
                self.basis != Basis::Body
                    && !self.says("pullover")
                    && (!self.says("fly") || self.says("rear") || self.is_machine())
            }
            Trunk => self.is_machine(),
            _ => false,
        }
    }

    pub(super) fn is_done_with(&self, implement: &str) -> bool {
        use LiftClass::{Calf, LegPress, SmallLower, Squat};
        match implement {
            "barbell" | "bar" => self.equipment == Equipment::Barbell && !self.says("smith"),
            "dumbbell" | "kettlebell" => {
                self.equipment == Equipment::Dumbbell
                    || self.basis == Basis::Body
                    || self.hangs && self.class == Squat
            }
            // A machine for the legs is no cable.
            "cable" | "rope" => {
                self.equipment == Equipment::Stack
                    && !self.says("machine")
                    && (self.says("cable") || !matches!(self.class, LegPress | SmallLower | Calf))
            }
            "machine" => self.is_machine() && !self.says("cable"),
            "ez" => {
                self.equipment == Equipment::Barbell
                    && (self.class == LiftClass::SmallUpper || self.says("upright"))
            }
            "handle" => {
                self.equipment != Equipment::Dumbbell
                    && (self.basis != Basis::Body || self.says("push"))
            }
            "plate-loaded" => self.is_machine() && !self.says("cable"),
            "landmine" => self.says("bar") && self.says("t"),
            "plate" | "bodyweight" => self.basis == Basis::Body || self.hangs,
            _ => false,
        }
    }

    pub(super) fn is_done(&self, position: &str) -> bool {
        use LiftClass::{Calf, LegPress, Press, SmallLower};
        if self.says(position) {
            return true;
        }
        // Where the catalogue tells these apart, the name with the word is found before.
        match position {
            // Machines for the legs have a seat, but for the leg curl and the kickback.
            "seated" => {
                self.is_upright()
                    || self.class == SmallLower
                        && self.equipment == Equipment::Stack
                        && !["cable", "curl", "kickback", "standing", "lying"]
                            .iter()
                            .any(|word| self.says(word))
            }
            "standing" => self.is_upright() || self.class == Calf && !self.says("seated"),
            "kneeling" | "half-kneeling" => self.is_upright(),
            "bent-over" => {
                self.says("row")
                    && !self.is_machine()
                    && !["upright", "inverted", "bench"]
                        .iter()
                        .any(|word| self.says(word))
                    || self.says("rear")
                    || self.says("kickback") && self.class == LiftClass::SmallUpper
            }
            "incline" => self.says("supported"),
            "lying" => self.says("supported") || self.says("y"),
            "flat" => self.class == Press && self.says("bench") || self.says("fly"),
            "angled" => {
                self.class == LegPress
                    || self.says("back") && self.says("extension")
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
        use LiftClass::{Hinge, Press, Pull, SmallUpper};
        let arms = matches!(self.class, Press | Pull | SmallUpper);
        // The grip of a curl is another curl.
        let curl = self.says("curl");
        match grip {
            "overhand" => !curl && !self.says("chin") && !self.says("underhand"),
            "hook-grip" | "clean-grip" => self.class != SmallUpper,
            "medium-grip" => true,
            "snatch-grip" => self.says("neck") || self.says("snatch"),
            "wide-grip" => arms && !self.says("grip"),
            "neutral-grip" => {
                arms && !self.says("grip")
                    && (!curl || self.says("hammer"))
                    && (self.class != Press || self.equipment != Equipment::Barbell)
            }
            "close-grip" => matches!(self.class, Pull | SmallUpper) && !self.says("grip"),
            "underhand" => self.class == SmallUpper && !self.says("reverse"),
            "grip" => self.class != Hinge,
            _ => false,
        }
    }

    /// Whether feet placed so leave it the same: wide ones work the inner thigh.
    pub(super) fn is_stood(&self, stance: &str) -> bool {
        stance == "narrow-stance" && matches!(self.class, LiftClass::Squat | LiftClass::LegPress)
    }

    /// Whether this manner leaves it the same: a barbell row with the trunk on a bench is another.
    pub(super) fn is_managed(&self, manner: &str) -> bool {
        manner != "braced" || self.class != LiftClass::Pull || self.equipment != Equipment::Barbell
    }

    /// Whether the movement stays the same on or against this: `calf raise off a step`.
    pub(super) fn is_propped(&self, prop: &str) -> bool {
        use LiftClass::{Calf, Hinge, Press, Pull, SmallLower, SmallUpper, Squat, Trunk};
        match prop {
            "bench" => {
                matches!(self.class, SmallUpper | SmallLower | Trunk)
                    || self.class == Hinge && !self.says("bridge")
                    || self.class == Pull && self.equipment != Equipment::Barbell
                    || self.class == Press
                        && self.basis != Basis::Body
                        && !self.says("floor")
                        && !self.says("overhead")
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
