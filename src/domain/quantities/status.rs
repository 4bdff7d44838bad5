//! How long a lifter has trained: population figures for progress and reporting differ by it.
//!
//! Where the months come from (a command, a coach) is the bot's business.

use super::worded::worded;

worded! {
    /// Training status by months of regular training.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
    pub enum TrainingStatus {
        /// Less than 24 months.
        Beginner = "beginner",
        /// 24 to 59 months; also what is taken when nothing is known.
        #[default]
        Intermediate = "intermediate",
        /// 60 months and more.
        Advanced = "advanced",
    }
}

impl TrainingStatus {
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
