//! Population figures learned from the logs of many members, in place of the published ones they
//! start from.
//!
//! Each figure is one mean and one spread over people. How they are learned, and why nobody can be made
//! out in them, is told in [`crate::domain::lifter::prior_learner`]; the published ones stand in [`super::priors`].

use super::lift_class::LiftClass;
use super::priors::{Population, Prior};
use super::status::TrainingStatus;
use super::worded::worded;

/// No learned mean lies further from the published one than so many published spreads.
pub(crate) const FURTHEST: f64 = 2.5;
/// Figures are kept to this, log units or repetitions: one member moves no figure by much more.
const ROUNDED_TO: f64 = 0.01;
/// The same for changes of strength a week.
const TREND_ROUNDED_TO: f64 = 0.001;

worded! {
    /// A figure that can be learned.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Figure {
        /// Log of the maximum over the load that is picked for a first work set.
        Picked = "picked",
        /// Log steepness of the curve.
        Curve = "curve",
        /// Log depth of a set to failure.
        Depth = "depth",
        /// Log slowness of recovery.
        Pace = "pace",
        /// Log odds of the fast share.
        Share = "share",
        /// Log power of the nearness to failure.
        Power = "power",
        /// Repetitions left beyond those reported.
        Habit = "habit",
        /// Change of strength a week, log.
        Trend = "trend",
    }
}

impl Figure {
    /// The published figure.
    pub(crate) fn of(self, population: &mut Population) -> &mut Prior {
        match self {
            Self::Picked => &mut population.picked,
            Self::Curve => &mut population.curve,
            Self::Depth => &mut population.depth,
            Self::Pace => &mut population.pace,
            Self::Share => &mut population.share,
            Self::Power => &mut population.power,
            Self::Habit => &mut population.habit,
            Self::Trend => &mut population.trend,
        }
    }

    /// To what it is rounded, in its unit.
    pub(crate) const fn rounded_to(self) -> f64 {
        match self {
            Self::Trend => TREND_ROUNDED_TO,
            _ => ROUNDED_TO,
        }
    }
}

/// Whose figure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Of lifts of a class.
    Class(LiftClass),
    /// Of lifters of a training status.
    Status(TrainingStatus),
}

impl Group {
    /// The words for it in files: the table and its key.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Class(class) => ("class", class.word()),
            Self::Status(status) => ("status", status.word()),
        }
    }

    /// The groups of which a figure is kept.
    pub fn with(figure: Figure) -> Vec<Self> {
        match figure {
            Figure::Habit | Figure::Trend => TrainingStatus::ALL.map(Self::Status).to_vec(),
            _ => LiftClass::ALL.map(Self::Class).to_vec(),
        }
    }

    /// Published figures of which it has some.
    pub(crate) fn published(self) -> Population {
        match self {
            Self::Class(class) => Population::of(class, TrainingStatus::default()),
            Self::Status(status) => Population::of(LiftClass::Press, status),
        }
    }
}

/// One learned figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// Of what.
    pub figure: Figure,
    /// Of whom.
    pub group: Group,
    /// Mean over people.
    pub mean: f64,
    /// Standard deviation between people, above 0.
    pub spread: f64,
}

impl Learned {
    /// Whether a figure could have been learned: finite, within `FURTHEST` published spreads of the
    /// published mean, and its spread above 0 and at most thrice the published one.
    pub fn is_sound(&self) -> bool {
        let mut published = self.group.published();
        let prior = *self.figure.of(&mut published);
        let off = (self.mean - prior.mean).abs();
        let near = off <= FURTHEST * prior.spread + self.figure.rounded_to();
        near && self.spread > 0.0
            && self.spread <= (1.0 + FURTHEST) * prior.spread
            && Group::with(self.figure).contains(&self.group)
    }
}

/// What was learned of a population; empty where only the published figures stand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LearnedPriors(Vec<Learned>);

impl LearnedPriors {
    /// These figures; those that are not sound are left out.
    pub fn new(figures: impl IntoIterator<Item = Learned>) -> Self {
        Self(figures.into_iter().filter(Learned::is_sound).collect())
    }

    /// The figures.
    pub fn figures(&self) -> &[Learned] {
        &self.0
    }

    /// The population's figures for `class` and `status`: the published ones, but for those learned.
    pub fn population(&self, class: LiftClass, status: TrainingStatus) -> Population {
        let mut population = Population::of(class, status);
        for learned in &self.0 {
            let is_of = match learned.group {
                Group::Class(of) => of == class,
                Group::Status(of) => of == status,
            };
            if is_of {
                let prior = learned.figure.of(&mut population);
                (prior.mean, prior.spread) = (learned.mean, learned.spread);
            }
        }
        population
    }
}
