//! What can hold a lifter back before the next set.

/// The four checks before the next set; each can hold a lifter back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Check {
    /// The target muscle has at least five repetitions in it again.
    Muscle,
    /// The helper muscles will not give out first.
    Helpers,
    /// Breathing is not the limit.
    Breath,
    /// The lifter is up for it.
    Drive,
}

impl Check {
    /// All four, in the order they are asked.
    pub const ALL: [Self; 4] = [Self::Muscle, Self::Helpers, Self::Breath, Self::Drive];

    /// The word for it, as the pipe prints it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Muscle => "muscle",
            Self::Helpers => "helpers",
            Self::Breath => "breath",
            Self::Drive => "drive",
        }
    }
}
