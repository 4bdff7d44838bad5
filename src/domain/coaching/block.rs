//! A block: weeks in a row, each with the effort and the share of the planned sets that the coach
//! wrote for it.
//!
//! There is no built-in scheme: which week is hard and which is light is the coach's word. When a
//! block begins is kept beside it; here its weeks are counted from 0.

use super::week::Band;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::MOST_RESERVE;

/// Most weeks of a block: a year.
pub const MOST_WEEKS: usize = 52;
/// Largest share of the planned sets, percent: more than double is a slip. Common practice, no
/// source.
pub const MOST_SHARE: u32 = 200;
/// Largest shift of effort, repetitions in reserve. Common practice, no source.
pub const MOST_SHIFT: f64 = 5.0;

/// Why numbers make no block.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum BlockError {
    /// No week, or more than 52.
    #[error("a block has 1 to 52 weeks, not {0}")]
    Weeks(usize),
    /// A share above 200 %.
    #[error("{0} % of the sets is outside 0 to 200 %")]
    Share(u32),
    /// A shift of effort beyond five repetitions either way.
    #[error("a shift of {0} repetitions is more than 5")]
    Shift(f64),
}

/// What a week does to the effort planned.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum BlockEffort {
    /// Nothing.
    #[default]
    AsPlanned,
    /// All sets end with so many in reserve.
    At(Rir),
    /// So many repetitions in reserve more than planned, or fewer: −5 to 5.
    Shifted(f64),
}

/// One week of a block.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlockWeek {
    effort: BlockEffort,
    share: u32,
}

impl Default for BlockWeek {
    fn default() -> Self {
        Self::AS_PLANNED
    }
}

impl BlockWeek {
    /// A week as the plan has it.
    pub const AS_PLANNED: Self = Self {
        effort: BlockEffort::AsPlanned,
        share: 100,
    };

    /// A week with this effort and `share` percent of the planned sets.
    ///
    /// # Errors
    /// [`BlockError`] when the share is above 200 or a shift beyond five.
    pub fn new(effort: BlockEffort, share: u32) -> Result<Self, BlockError> {
        match effort {
            BlockEffort::Shifted(by) if !(-MOST_SHIFT..=MOST_SHIFT).contains(&by) => {
                Err(BlockError::Shift(by))
            }
            _ if share > MOST_SHARE => Err(BlockError::Share(share)),
            _ => Ok(Self { effort, share }),
        }
    }

    /// What it does to the effort.
    pub const fn effort(self) -> BlockEffort {
        self.effort
    }

    /// Percent of the planned sets, 0 to 200.
    pub const fn share(self) -> u32 {
        self.share
    }

    /// Whether it is lighter than planned: fewer sets, or easier ones.
    pub fn is_lighter(self) -> bool {
        self.share < 100 || self.is_easier()
    }

    /// Whether its sets end further from failure than planned, or where none counts.
    pub fn is_easier(self) -> bool {
        match self.effort {
            BlockEffort::AsPlanned => false,
            BlockEffort::At(rir) => rir.reps() > MOST_RESERVE,
            BlockEffort::Shifted(by) => by > 0.0,
        }
    }

    /// How many of `planned` sets this week has: the share, halves up; never none of some unless
    /// the share is 0.
    ///
    /// ```
    /// use chalkbell::domain::coaching::block::{BlockEffort, BlockWeek};
    /// let lighter = BlockWeek::new(BlockEffort::AsPlanned, 60)?;
    /// assert_eq!([1, 2, 3, 4].map(|planned| lighter.sets(planned)), [1, 1, 2, 2]);
    /// # Ok::<(), chalkbell::domain::coaching::block::BlockError>(())
    /// ```
    pub const fn sets(self, planned: u32) -> u32 {
        let sets = planned.saturating_mul(self.share).saturating_add(50) / 100;
        if sets == 0 && planned > 0 && self.share > 0 {
            1
        } else {
            sets
        }
    }

    /// The effort this week where the plan has `planned`: never fewer than 0 nor more than 30 in
    /// reserve.
    pub fn rir(self, planned: Rir) -> Rir {
        match self.effort {
            BlockEffort::AsPlanned => planned,
            BlockEffort::At(rir) => rir,
            BlockEffort::Shifted(by) => {
                Rir::new((planned.reps() + by).clamp(0.0, 30.0)).unwrap_or(planned)
            }
        }
    }

    /// A band of weekly sets as this week has it: a lighter week is not held against the member.
    pub const fn band(self, band: Band) -> Band {
        Band {
            low: self.sets(band.low),
            high: self.sets(band.high),
        }
    }
}

/// Weeks in a row; at least one.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    weeks: Vec<BlockWeek>,
}

impl Block {
    /// A block of these weeks, in order.
    ///
    /// # Errors
    /// [`BlockError::Weeks`] when there is none, or more than 52.
    pub fn new(weeks: Vec<BlockWeek>) -> Result<Self, BlockError> {
        if (1..=MOST_WEEKS).contains(&weeks.len()) {
            Ok(Self { weeks })
        } else {
            Err(BlockError::Weeks(weeks.len()))
        }
    }

    /// The weeks, in order; never empty.
    pub fn weeks(&self) -> &[BlockWeek] {
        &self.weeks
    }

    /// The week that lies `weeks` after its first; `None` once it is over.
    pub fn week(&self, weeks: usize) -> Option<BlockWeek> {
        self.weeks.get(weeks).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weeks_shares_and_shifts_have_bounds() {
        assert_eq!(Block::new(Vec::new()), Err(BlockError::Weeks(0)));
        let many = vec![BlockWeek::AS_PLANNED; 53];
        assert_eq!(Block::new(many), Err(BlockError::Weeks(53)));
        let share = BlockWeek::new(BlockEffort::AsPlanned, 201);
        assert_eq!(share, Err(BlockError::Share(201)));
        let shift = BlockWeek::new(BlockEffort::Shifted(-5.5), 100);
        assert_eq!(shift, Err(BlockError::Shift(-5.5)));
        assert!(BlockWeek::new(BlockEffort::Shifted(f64::NAN), 100).is_err());
    }

    #[test]
    fn a_week_changes_effort_and_sets() {
        let [one, three] = [1.0, 3.0].map(|left| Rir::new(left).unwrap());
        let lighter = BlockWeek::new(BlockEffort::At(three), 60).unwrap();
        assert_eq!((lighter.rir(one), lighter.sets(4)), (three, 2));
        let as_planned = BlockWeek::AS_PLANNED;
        assert_eq!((as_planned.rir(one), as_planned.sets(4)), (one, 4));
        let harder = BlockWeek::new(BlockEffort::Shifted(-2.0), 100).unwrap();
        assert_eq!(harder.rir(one), Rir::FAILURE);
    }

    #[test]
    fn a_block_is_over_after_its_last_week() {
        let lighter = BlockWeek::new(BlockEffort::AsPlanned, 50).unwrap();
        let block = Block::new(vec![BlockWeek::AS_PLANNED, lighter]).unwrap();
        assert_eq!(block.week(1), Some(lighter));
        assert_eq!(block.week(2), None);
    }

    #[test]
    fn a_week_without_sets_has_none() {
        let rest = BlockWeek::new(BlockEffort::AsPlanned, 0).unwrap();
        assert_eq!(rest.sets(4), 0);
        let band = rest.band(Band { low: 10, high: 20 });
        assert_eq!(band, Band { low: 0, high: 0 });
    }
}
