//! Weekly sets for each muscle that a coach aims at for one member, over the published defaults.
//!
//! The defaults with their sources stand at [`Band::default_for`].

use std::collections::BTreeMap;

use super::week::Band;
use crate::domain::quantities::catalogue::Muscle;
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::status::TrainingStatus;

/// Most weekly sets of a band: more than this is a slip. Common practice, no source (the classes of
/// Baz-Valle E et al. 2022, J Hum Kinet 81:199-210, end at "more than 20").
pub const MOST_WEEKLY_SETS: u32 = 60;

/// Why numbers make no band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{low}-{high} weekly sets is no range within 0 to 60")]
pub struct BandError {
    /// Fewest given.
    pub low: u32,
    /// Most given.
    pub high: u32,
}

/// The bands that a coach set; every other muscle has the default one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Targets {
    bands: BTreeMap<MuscleId, Band>,
}

impl Targets {
    /// Sets the band of a muscle, `low` to `high` counted sets a week.
    ///
    /// # Errors
    /// [`BandError`] when `high` is over 60 or under `low`; nothing is changed then.
    pub fn set(&mut self, muscle: MuscleId, low: u32, high: u32) -> Result<(), BandError> {
        if low > high || high > MOST_WEEKLY_SETS {
            return Err(BandError { low, high });
        }
        self.bands.insert(muscle, Band { low, high });
        Ok(())
    }

    /// Back to the default band.
    pub fn reset(&mut self, muscle: MuscleId) {
        self.bands.remove(&muscle);
    }

    /// The band that the coach set, if any.
    pub fn own(&self, muscle: MuscleId) -> Option<Band> {
        self.bands.get(&muscle).copied()
    }

    /// The bands that the coach set, in the order of the muscles.
    pub fn all(&self) -> impl Iterator<Item = (MuscleId, Band)> {
        self.bands.iter().map(|(&muscle, &band)| (muscle, band))
    }

    /// The band of a muscle: the coach's, else the default one of the status.
    pub fn band(&self, id: MuscleId, muscle: &Muscle, status: TrainingStatus) -> Band {
        self.own(id)
            .unwrap_or_else(|| Band::default_for(muscle, status))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    #[test]
    fn a_band_that_is_none_changes_nothing() {
        let mut targets = Targets::default();
        targets.set(MuscleId(1), 10, 14).unwrap();
        let before = targets.clone();
        for (low, high) in [(14, 10), (10, 61)] {
            let refused = targets.set(MuscleId(1), low, high);
            assert_eq!(refused, Err(BandError { low, high }));
        }
        assert_eq!(targets, before);
    }

    #[test]
    fn what_the_coach_set_goes_before_the_default() {
        let catalogue = config::built_in();
        let quads = catalogue.muscle_named("quads").unwrap();
        let muscle = catalogue.muscle(quads);
        let status = TrainingStatus::Beginner;
        let mut targets = Targets::default();
        let default = Band { low: 4, high: 12 };
        assert_eq!(targets.band(quads, muscle, status), default);
        targets.set(quads, 6, 8).unwrap();
        assert_eq!(
            targets.band(quads, muscle, status),
            Band { low: 6, high: 8 }
        );
        targets.reset(quads);
        assert_eq!(targets.band(quads, muscle, status), default);
    }
}
