//! Size and kind of a lift.

/// Size and kind of a lift: population figures for curve, fatigue and rest differ by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LiftClass {
    /// Squats and other large free leg lifts.
    Squat,
    /// Leg press, hack squat: large leg lifts guided by a machine.
    LegPress,
    /// Deadlifts and other hip hinges.
    Hinge,
    /// Presses of the upper body with more than one joint.
    Press,
    /// Rows and pull-downs with more than one joint.
    Pull,
    /// Lifts of one joint of the upper body.
    SmallUpper,
    /// Lifts of one joint of the leg.
    SmallLower,
    /// Calf raises.
    Calf,
    /// Trunk.
    Trunk,
}

impl LiftClass {
    /// Every class.
    pub const ALL: [Self; 9] = [
        Self::Squat,
        Self::LegPress,
        Self::Hinge,
        Self::Press,
        Self::Pull,
        Self::SmallUpper,
        Self::SmallLower,
        Self::Calf,
        Self::Trunk,
    ];

    /// The word for it in `config/exercises.toml`: `squat`, `small_upper`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Squat => "squat",
            Self::LegPress => "leg_press",
            Self::Hinge => "hinge",
            Self::Press => "press",
            Self::Pull => "pull",
            Self::SmallUpper => "small_upper",
            Self::SmallLower => "small_lower",
            Self::Calf => "calf",
            Self::Trunk => "trunk",
        }
    }

    /// The class with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.word() == word)
    }
}
