//! Size and kind of a lift.

use super::worded::worded;

worded! {
    /// Size and kind of a lift: population figures for curve, fatigue and rest differ by it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum LiftClass {
        /// Squats and other large free leg lifts.
        Squat = "squat",
        /// Leg press, hack squat: large leg lifts guided by a machine.
        LegPress = "leg_press",
        /// Deadlifts and other hip hinges.
        Hinge = "hinge",
        /// Presses of the upper body with more than one joint.
        Press = "press",
        /// Rows and pull-downs with more than one joint.
        Pull = "pull",
        /// Lifts of one joint of the upper body.
        SmallUpper = "small_upper",
        /// Lifts of one joint of the leg.
        SmallLower = "small_lower",
        /// Calf raises.
        Calf = "calf",
        /// Trunk.
        Trunk = "trunk",
    }
}
