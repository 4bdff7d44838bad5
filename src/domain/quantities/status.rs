//! How long a lifter has trained: population figures for progress and reporting differ by it.
//!
//! Where the months come from (a command, a coach) is the bot's business.

/// Training status by months of regular training.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TrainingStatus {
    /// Less than 24 months.
    Beginner,
    /// 24 to 59 months; also what is taken when nothing is known.
    #[default]
    Intermediate,
    /// 60 months and more.
    Advanced,
}

impl TrainingStatus {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Beginner, Self::Intermediate, Self::Advanced];

    /// The word for files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Beginner => "beginner",
            Self::Intermediate => "intermediate",
            Self::Advanced => "advanced",
        }
    }

    /// The status with this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|status| status.word() == word)
    }

    /// The status after `months` of training: a beginner for the first 24, advanced from 60.
    ///
    /// *Source*: trade practice (the first 24 to 36 months are a beginner's).
    ///
    /// ```
    /// use chalkbell::domain::quantities::status::TrainingStatus;
    /// assert_eq!(TrainingStatus::from_months(23), TrainingStatus::Beginner);
    /// assert_eq!(TrainingStatus::from_months(24), TrainingStatus::Intermediate);
    /// assert_eq!(TrainingStatus::from_months(60), TrainingStatus::Advanced);
    /// ```
    pub const fn from_months(months: u32) -> Self {
        match months {
            0..=23 => Self::Beginner,
            24..=59 => Self::Intermediate,
            _ => Self::Advanced,
        }
    }
}
