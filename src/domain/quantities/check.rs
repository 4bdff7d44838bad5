//! What can hold a lifter back before the next set.

use super::worded::worded;

worded! {
    /// The four checks before the next set; each can hold a lifter back.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum Check {
        /// The target muscle has at least five repetitions in it again.
        Muscle = "muscle",
        /// The helper muscles will not give out first.
        Helpers = "helpers",
        /// Breathing is not the limit.
        Breath = "breath",
        /// The lifter is up for it.
        Drive = "drive",
    }
}
