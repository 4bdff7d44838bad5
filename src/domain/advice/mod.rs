//! What to do: the next set, the first load of a day, warm-ups, a session that fits.

pub mod fit;
pub mod next_set;
pub mod opening;
pub mod session;
pub mod warm_up;
