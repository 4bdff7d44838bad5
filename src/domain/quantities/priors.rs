//! Population figures that a belief starts from: mean, spread, unit, source, by class of lift and
//! training status.
//!
//! Only numbers stand here. What they mean is said where they are used: [`crate::domain::lifter::curve`],
//! [`crate::domain::lifter::recovery`], [`crate::domain::lifter::report`], [`crate::domain::lifter::belief`].

use super::lift_class::LiftClass;
use super::status::TrainingStatus;

/// Personal figures that shape fatigue, each on a scale from −∞ to ∞ with the population at its
/// place in [`Population`]; [`crate::domain::lifter::recovery`] has their places in a list of slopes.
pub const SHAPES: usize = 4;

/// One population figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Middle of the population, in `unit`.
    pub mean: f64,
    /// Standard deviation between people (and lifts, where said), in `unit`.
    pub spread: f64,
    /// What the two are counted in.
    pub unit: &'static str,
    /// Where they come from.
    pub source: &'static str,
}

/// The figures for one class of lift and one training status.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Population {
    /// Log 1RM over log load, for a load that a lifter picked for a work set.
    pub picked: Prior,
    /// Log of the curve's steepness: repetitions gained as the load share halves.
    pub curve: Prior,
    /// Log of the depth factor of one set to failure.
    pub depth: Prior,
    /// Log of the slowness of recovery (1 on the time constants of [`crate::domain::lifter::recovery`]).
    pub pace: Prior,
    /// Log odds of the fast share of a new deficit.
    pub share: Prior,
    /// Log of the power of the nearness to failure, less one.
    pub power: Prior,
    /// Repetitions left over and above those reported, well away from failure.
    pub habit: Prior,
    /// Change of log 1RM a week.
    pub trend: Prior,
    /// Log capacity from day to day; `spread` is the wobble, `mean` is 0.
    pub wobble: Prior,
    /// Factor on the noise of reports and repetitions.
    pub noise: f64,
    /// Shortest rest that is ever advised, seconds.
    pub rest_floor_s: u32,
    /// A usual rest, seconds.
    pub rest_usual_s: u32,
}

/// Share of a spread's variance that belongs to the person rather than to the one lift.
/// Trade practice, no source: slow recoverers are slow on most lifts.
pub const PERSONAL: f64 = 0.6;

const PICKED: &str = "Haff & Triplett 2016 (NSCA Essentials, 4th ed.), ch. 17: work loads of 67 to 85 % of \
                      1RM for muscle size, 75 % as their middle; spread: trade practice";
const CURVE: &str = "NSCA Essentials 4th ed., table of % 1RM; Hoeger 1990 (from memory); Richens \
                     2014; Shimano 2006; Zourdos 2021";
const DEPTH: &str = "fit to the rest tables: g 1.0, log 0.4; leg press and squat x0.7 (0.4 to 1.0 where one \
                     study is left out); bench x1.1 for men, less for women, 1.0 where the sex is not known";
const PACE: &str = "Chorley 2022: slow 377 +/- 100 s, in a second bout 549 +/- 226 s, fast 22.0 \
                    +/- 11.8 s, between cyclists";
const SHARE: &str = "Chorley 2022: fast share 0.48 +/- 0.18; Caen 2021: 0.32 (a meeting abstract); spread: wide enough \
                     for bodies that recover in a single phase, fast or slow";
const POWER: &str = "fit to the rest tables: 5 (4 to 8 where one study is left out); beside it Refalo 2023, \
                     speed lost after six sets 25, 13, 8 % at failure, one, three left: of six sets, so that for one it only says which \
                     way it goes; spread: trade practice, wide enough for a cost that grows as the repetitions do";
const HABIT: &str = "Halperin 2022: 0.95 (0.17 to 1.73) fewer called than done, over all; Refalo 2024: -0.17 +/- 1.0 in \
                     trained lifters; the steps between by status: trade practice";
const TREND: &str = "Chaves 2024: about +30 % in 10 weeks, untrained, as upper end; Plotkin 2022; \
                     trade practice for the trained";
const WOBBLE: &str = "Mitter 2022: 0.7 to 1.1 repetitions test to retest at 90 and 70 % (one \
                      repetition is about 2.5 % of 1RM)";

impl Population {
    /// The figures for `class` and `status`.
    pub fn of(class: LiftClass, status: TrainingStatus) -> Self {
        let prior = |mean, spread, unit, source| Prior {
            mean,
            spread,
            unit,
            source,
        };
        let (steepness, curve_spread) = steepness(class);
        let (trend, trend_spread) = progress(status);
        let (rest_floor_s, rest_usual_s) = rests(class);
        Self {
            picked: prior(0.29, 0.30, "log ratio", PICKED),
            curve: prior(f64::ln(steepness), curve_spread, "log repetitions", CURVE),
            depth: prior(f64::ln(depth(class)), 0.40, "log ratio", DEPTH),
            pace: prior(0.0, 0.4, "log ratio", PACE),
            share: prior(0.0, 1.2, "log odds", SHARE),
            power: prior(f64::ln(4.0), 1.0, "log ratio", POWER),
            habit: prior(habit(status), 0.8, "repetitions", HABIT),
            trend: prior(trend, trend_spread, "log 1RM a week", TREND),
            wobble: prior(0.0, 0.02, "log 1RM", WOBBLE),
            noise: NOISE,
            rest_floor_s,
            rest_usual_s,
        }
    }

    /// The figures that shape fatigue, in the order of [`crate::domain::lifter::recovery::Shape`].
    pub const fn shape(&self) -> [Prior; SHAPES] {
        [self.depth, self.pace, self.share, self.power]
    }
}

/// Steepness of the curve and its spread between people (log); see [`CURVE`].
const fn steepness(class: LiftClass) -> (f64, f64) {
    match class {
        LiftClass::Squat => (36.0, 0.28),
        LiftClass::LegPress => (48.0, 0.35),
        LiftClass::Hinge | LiftClass::Press | LiftClass::Pull => (33.0, 0.30),
        LiftClass::SmallUpper => (30.0, 0.30),
        LiftClass::SmallLower => (31.0, 0.30),
        LiftClass::Calf | LiftClass::Trunk => (38.0, 0.40),
    }
}

/// Depth of a set to failure; see [`DEPTH`].
const fn depth(class: LiftClass) -> f64 {
    match class {
        LiftClass::Squat | LiftClass::LegPress => 0.7,
        _ => 1.0,
    }
}

/// Habit; see [`HABIT`].
const fn habit(status: TrainingStatus) -> f64 {
    match status {
        TrainingStatus::Beginner => 0.9,
        TrainingStatus::Intermediate => 0.5,
        TrainingStatus::Advanced => 0.2,
    }
}

/// Factor on the noise of reports: none, since experience changed the error neither in Hackett 2017 (81 people)
/// nor in Remmert 2023 (58). In Steele 2017 it did, of predictions made before the set.
const NOISE: f64 = 1.0;

/// Weekly change of log 1RM; see [`TREND`].
const fn progress(status: TrainingStatus) -> (f64, f64) {
    match status {
        TrainingStatus::Beginner => (0.010, 0.008),
        TrainingStatus::Intermediate => (0.004, 0.006),
        TrainingStatus::Advanced => (0.001, 0.003),
    }
}

/// Shortest and usual rest, seconds. *Source*: ACSM 2009, two to three minutes for lifts of
/// several joints and one to two for one joint (usual). Shortest of large lifts: at 75 % of the maximum, near
/// failure, men kept in the second and third set 0.56 of the first one's repetitions after 60 s, 0.70 after 120 s, 0.79
/// after 180 s (Ratamess 2012, bench press); over four squat sets to failure 120 s gave 14 % more than 60 s
/// (Willardson & Burkett 2005); both stand in `tests/data/rest_intervals.json`. Three minutes built more than one
/// (Schoenfeld 2016); over nine studies rests of more than a minute built a little more, much longer ones no more
/// again (Singer 2024). Of small lifts the minute of ACSM 2009; of calves and trunk: common practice, no source.
const fn rests(class: LiftClass) -> (u32, u32) {
    match class {
        LiftClass::Squat | LiftClass::LegPress | LiftClass::Hinge => (120, 180),
        LiftClass::Press | LiftClass::Pull => (90, 150),
        LiftClass::SmallUpper | LiftClass::SmallLower => (60, 90),
        LiftClass::Calf | LiftClass::Trunk => (45, 60),
    }
}
