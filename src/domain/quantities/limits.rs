//! The trade's numbers that more than one calculation goes by.

/// Fewest repetitions of a set that counts. *Source*: the range of 5 to 30 is the common reading of
/// Schoenfeld BJ et al. 2021, Sports 9(2):32, doi 10.3390/sports9020032 (from memory).
pub const FEWEST_REPS: u32 = 5;
/// Most repetitions of a set that counts; source as for [`FEWEST_REPS`].
pub const MOST_REPS: u32 = 30;
/// Most repetitions in reserve of a set that counts. *Source*: trade practice; that size grows more
/// the nearer a set ends to failure: Robinson ZP et al. 2024, Sports Med 54(9):2209-2231, doi
/// 10.1007/s40279-024-02069-2.
pub const MOST_RESERVE: f64 = 3.0;
/// Reserve beyond which a report is a guess.
///
/// *Source*: Hackett 2017: off by about 1 up to five left, over 2 beyond seven; Zourdos 2021: at five left off by 5.2 on
/// average.
pub(crate) const GUESSED_FROM: f64 = 3.0;
/// Left in a hard set of which nothing was said. Trade practice: three to zero.
pub(crate) const UNSAID_LEFT: f64 = 1.0;
/// Less than this in reserve is nothing left: efforts are told in halves.
pub(crate) const LEAST_LEFT: f64 = 0.5;
/// Loads that differ by no more than this share are the same: they come from other units.
pub(crate) const SAME_LOAD: f64 = 1e-3;
