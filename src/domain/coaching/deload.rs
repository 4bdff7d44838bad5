//! A lighter week as a proposal: when something speaks for one, and what block it would make. Whether
//! it comes is the coach's word.

use super::attention::Concern;
use crate::domain::coaching::block::{Block, BlockEffort, BlockWeek, MOST_WEEKS};

/// Effort of the week proposed, repetitions more in reserve than planned. That effort falls in such
/// weeks, and how often one trains does not: Rogerson D et al. 2024, Sports Med Open 10:26, doi
/// 10.1186/s40798-024-00691-y (246 athletes); by how much: common practice, no source.
const EASIER: f64 = 2.0;
/// Its share of the planned sets, percent; as [`EASIER`].
const SHARE: u32 = 60;
/// Stalled or falling lifts from which a lighter week is proposed: one alone asks for another look at that
/// lift. Common practice, no source.
const STALLED: usize = 2;

/// The block from next week on that would begin with a lighter week and then go on as set: `coming` is
/// the block that next week is in, with the place of that week. `None` where nothing speaks for it, or
/// `this` week or the next is a lighter one already.
///
/// Proposed to a lifter who is run down, or with two stalled or falling lifts or more.
pub fn lighter_week(
    concerns: &[Concern],
    this: BlockWeek,
    coming: Option<(&Block, usize)>,
) -> Option<Block> {
    let speaks = concerns.iter().any(|concern| match concern {
        Concern::RunDown(_) => true,
        Concern::Falling(lifts) | Concern::Stalled(lifts) => lifts.len() >= STALLED,
        _ => false,
    });
    let weeks = coming.map_or(&[][..], |(block, place)| {
        block.weeks().get(place..).unwrap_or_default()
    });
    if !speaks || this.is_lighter() || weeks.first().is_some_and(|next| next.is_lighter()) {
        return None;
    }
    let proposed = BlockWeek::new(BlockEffort::Shifted(EASIER), SHARE).ok()?;
    let rest = weeks.iter().copied().take(MOST_WEEKS - 1);
    Block::new(std::iter::once(proposed).chain(rest).collect()).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::coaching::attention::Slow;
    use crate::domain::quantities::effort::Rir;
    use crate::domain::quantities::id::ExerciseId;

    fn week(effort: BlockEffort, share: u32) -> BlockWeek {
        BlockWeek::new(effort, share).unwrap()
    }

    fn at(rir: f64) -> BlockWeek {
        week(BlockEffort::At(Rir::new(rir).unwrap()), 100)
    }

    #[test]
    fn being_run_down_or_two_stalled_lifts_speak_for_it() {
        let lift = |place| Slow {
            exercise: ExerciseId(place),
            chance: 0.8,
            change: 0.0,
        };
        let cases = [
            (vec![], false),
            (vec![Concern::UnderFive(9)], false),
            (vec![Concern::Stalled(vec![lift(0)])], false),
            (vec![Concern::Stalled(vec![lift(0), lift(1)])], true),
            (vec![Concern::UnderFive(9), Concern::RunDown(0.7)], true),
        ];
        for (concerns, proposed) in cases {
            let found = lighter_week(&concerns, BlockWeek::AS_PLANNED, None);
            assert_eq!(found.is_some(), proposed, "{concerns:?}");
        }
    }

    #[test]
    fn the_block_that_runs_goes_on_behind_it() {
        let block = Block::new(vec![at(3.0), at(2.0), at(1.0)]).unwrap();
        let found = |place| {
            let coming = Some((&block, place));
            lighter_week(&[Concern::RunDown(0.7)], at(3.0), coming).unwrap()
        };
        let lighter = week(BlockEffort::Shifted(2.0), 60);
        assert_eq!(found(1).weeks(), [lighter, at(2.0), at(1.0)]);
        assert_eq!(found(3).weeks(), [lighter]);
    }

    #[test]
    fn none_is_proposed_where_one_runs_or_comes() {
        let lighter = week(BlockEffort::AsPlanned, 50);
        let block = Block::new(vec![at(2.0), at(1.0), lighter, at(1.0)]).unwrap();
        let proposed = |this| {
            let now = block.week(this).unwrap();
            lighter_week(&[Concern::RunDown(0.7)], now, Some((&block, this + 1)))
        };
        assert!(proposed(0).is_some());
        assert_eq!((proposed(1), proposed(2)), (None, None));
        assert!(proposed(3).is_some());
    }
}
