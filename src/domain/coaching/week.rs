//! Which sets count, and what a week adds up to for every muscle.
//!
//! Where a week begins and ends is [`crate::domain::quantities::calendar`]'s business; how much was left after an
//! unrated set is the belief's, and comes in as a number.

use crate::domain::log::{LimitingFactor, LoggedSet, SetKind};
use crate::domain::quantities::catalogue::{Catalogue, Exercise, Muscle};
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::limits::{FEWEST_REPS, MOST_REPS, MOST_RESERVE};
use crate::domain::quantities::status::TrainingStatus;

/// Whether a set counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Counts {
    /// It does.
    Yes(Ground),
    /// It does not.
    No(WhyNot),
}

/// On what ground a set counts, or is found too easy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ground {
    /// The lifter said how much was left.
    Reported,
    /// Nothing was said; the belief judged it.
    Judged,
    /// Nothing was said and nothing is known: the lifter is given the benefit of the doubt.
    Assumed,
}

impl Counts {
    /// Every judgement.
    pub const ALL: [Self; 13] = [
        Self::Yes(Ground::Reported),
        Self::Yes(Ground::Judged),
        Self::Yes(Ground::Assumed),
        Self::No(WhyNot::WarmUp),
        Self::No(WhyNot::NotStraight),
        Self::No(WhyNot::UnderFive),
        Self::No(WhyNot::OverThirty),
        Self::No(WhyNot::TooEasy),
        Self::No(WhyNot::JudgedTooEasy),
        Self::No(WhyNot::HelpersFirst),
        Self::No(WhyNot::BreathFirst),
        Self::No(WhyNot::Unmapped),
        Self::No(WhyNot::Held),
    ];
}

/// Why a set does not count, in the order of judging: the first that holds is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WhyNot {
    /// A warm-up.
    WarmUp,
    /// Partials, or a part of a drop set or rest-pause set for which another stands.
    NotStraight,
    /// Held or carried for time.
    Held,
    /// Under five repetitions.
    UnderFive,
    /// Over thirty repetitions.
    OverThirty,
    /// Muscles that help gave out before the target.
    HelpersFirst,
    /// Breathing gave out before the target.
    BreathFirst,
    /// Ended with more than three in reserve, as the lifter said.
    TooEasy,
    /// Ended with more than three in reserve, as the belief judged.
    JudgedTooEasy,
    /// Nobody has said yet what its exercise is.
    Unmapped,
}

impl Counts {
    /// The judgement of a set of this exercise: what nobody has mapped counts for no muscle.
    #[must_use]
    pub fn of(self, exercise: &Exercise) -> Self {
        let is_warm_up = self == Self::No(WhyNot::WarmUp);
        match exercise.is_mapped() || is_warm_up {
            true => self,
            false => Self::No(WhyNot::Unmapped),
        }
    }
}

/// Judges one set. `believed` is the number of repetitions that the belief holds were left, 0 or
/// more; it is asked only where the lifter did not say, and rounded to whole repetitions.
///
/// ```text
/// work set · straight · 5 ≤ reps ≤ 30 · ended by the target muscle · reserve ≤ 3
/// ```
///
/// *Source*: trade practice, with the sources of the constants.
pub fn judge(set: &LoggedSet, believed: Option<f64>) -> Counts {
    match set.kind {
        SetKind::WarmUp => return Counts::No(WhyNot::WarmUp),
        SetKind::Other => return Counts::No(WhyNot::NotStraight),
        SetKind::Held => return Counts::No(WhyNot::Held),
        SetKind::Straight | SetKind::Superset | SetKind::FirstPart | SetKind::FurtherParts => {}
    }
    // The parts for which this one stands were counted together when it was marked.
    if set.reps < FEWEST_REPS && set.kind != SetKind::FurtherParts {
        return Counts::No(WhyNot::UnderFive);
    }
    if set.reps > MOST_REPS {
        return Counts::No(WhyNot::OverThirty);
    }
    match set.gave_out {
        Some(LimitingFactor::Helpers) => return Counts::No(WhyNot::HelpersFirst),
        Some(LimitingFactor::Breath) => return Counts::No(WhyNot::BreathFirst),
        None => {}
    }
    match (set.rir, believed) {
        (Some(rir), _) if rir.reps() > MOST_RESERVE => Counts::No(WhyNot::TooEasy),
        (Some(_), _) => Counts::Yes(Ground::Reported),
        // Such parts follow without rest, which no belief foresees.
        (None, _) if set.kind == SetKind::FurtherParts => Counts::Yes(Ground::Assumed),
        (None, Some(left)) if left.round() > MOST_RESERVE => Counts::No(WhyNot::JudgedTooEasy),
        (None, Some(_)) => Counts::Yes(Ground::Judged),
        (None, None) => Counts::Yes(Ground::Assumed),
    }
}

/// Weekly sets for one muscle: at least `low`, at most `high`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Band {
    /// Fewest counted sets.
    pub low: u32,
    /// Most counted sets, at least `low`.
    pub high: u32,
}

/// Where a number of counted sets lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standing {
    /// Fewer than the band has.
    Under,
    /// In the band.
    Within,
    /// More than the band has.
    Over,
    /// Not there yet, and the week can still bring it.
    Open,
    /// Nothing is aimed at.
    Free,
}

/// The least that counts, sets: that of a helper.
const HALF_SET: f64 = 0.5;

/// Whose word a band is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum AimFrom {
    /// The coach's, for this muscle.
    Coach,
    /// What the week's plan asks for.
    Plan,
    /// Nobody's: the published band, as a background.
    #[default]
    Published,
}

/// What the rest of a week may bring.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Rest {
    /// Nothing: the week is over.
    #[default]
    Over,
    /// So many counted sets when the plan is done.
    Planned(f64),
    /// Nobody can say.
    Unknown,
}

impl Band {
    /// The band taken where the coach has set none.
    ///
    /// | status | low | high |
    /// |---|---|---|
    /// | beginner | 4 | 12 |
    /// | intermediate | 10 | 20 |
    /// | advanced | 12 | 20 |
    ///
    /// The low end is 0 for a muscle that gets its sets from other lifts ([`Muscle::planned`];
    /// common practice, no source).
    ///
    /// *Sources*: 4: Iversen VM et al. 2021, Sports Med 51:2079-2095, doi
    /// 10.1007/s40279-021-01490-1 (the least that still works). 10: Schoenfeld BJ et al. 2021, Int J
    /// Strength Cond 1(1), doi 10.47206/ijsc.v1i1.81 (position stand). 12 and 20: Baz-Valle E et al.
    /// 2022, J Hum Kinet 81:199-210, doi 10.2478/hukin-2022-0017 (trained lifters; under 12 is its
    /// class of few sets). Which of them goes with which status: common practice, no source.
    pub const fn default_for(muscle: &Muscle, status: TrainingStatus) -> Self {
        let (low, high) = match status {
            TrainingStatus::Beginner => (4, 12),
            TrainingStatus::Intermediate => (10, 20),
            TrainingStatus::Advanced => (12, 20),
        };
        let low = if muscle.planned { low } else { 0 };
        Self { low, high }
    }

    /// Where `counted` sets lie.
    pub fn standing(self, counted: f64) -> Standing {
        if counted < f64::from(self.low) {
            Standing::Under
        } else if counted > f64::from(self.high) {
            Standing::Over
        } else {
            Standing::Within
        }
    }
}

/// One muscle's week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MuscleWeek {
    /// The muscle.
    pub muscle: MuscleId,
    /// Counted sets, 0 or more, in halves.
    pub counted: f64,
    /// Those among them that targeted it.
    pub direct: u32,
    /// The band that it is held against.
    pub band: Band,
    /// Whose word the band is.
    pub aim: AimFrom,
    /// Counted sets that the whole week's plan comes to; `None` without a plan.
    pub planned: Option<f64>,
    /// What the rest of the week may bring.
    pub rest: Rest,
}

/// Of a plan's sets so many may be lacking, or be done more, without a word: one, or a share of them.
/// Common practice, no source: a set that ends a repetition too early is no failure of a week.
const SLACK: (f64, f64) = (1.0, 0.15);

impl MuscleWeek {
    /// Where it stands. A published band is no aim, and nothing is under its aim while the week can
    /// still bring what lacks, nor where the plan does not bring it either.
    pub fn standing(&self) -> Standing {
        let (low, high) = (f64::from(self.band.low), f64::from(self.band.high));
        let (least, share) = SLACK;
        let (low, high) = match self.aim {
            AimFrom::Published => return Standing::Free,
            AimFrom::Coach => (low, high),
            AimFrom::Plan => (low - least.max(share * low), high + least.max(share * high)),
        };
        if self.counted > high {
            return Standing::Over;
        }
        // Nothing at all is not what was asked for.
        let nothing = self.counted <= 0.0 && self.band.low > 0;
        if self.counted >= low && !nothing {
            return Standing::Within;
        }
        // What the coach wants beyond the plan is for the coach to plan.
        let reach = self.planned.map_or(low, |planned| {
            (planned - least.max(share * planned)).min(low)
        });
        let reach = if nothing { reach.max(HALF_SET) } else { reach };
        match self.rest {
            Rest::Unknown => Standing::Open,
            Rest::Planned(to_come) if self.counted + to_come >= reach => Standing::Open,
            _ => Standing::Under,
        }
    }

    /// What the week will end at when the rest of the plan is done; `None` where nobody can say.
    pub fn ends_at(&self) -> Option<f64> {
        match self.rest {
            Rest::Over => Some(self.counted),
            Rest::Planned(to_come) => Some(self.counted + to_come),
            Rest::Unknown => None,
        }
    }

    /// Whether there is anything to say of it: sets done, or asked for.
    pub fn is_of_interest(&self) -> bool {
        let asked = self.aim != AimFrom::Published && self.band.high > 0;
        self.counted > 0.0 || asked
    }
}

/// What some sets add up to.
#[derive(Clone, Debug, PartialEq)]
pub struct WeeklyVolume {
    /// Every muscle of the catalogue, in its order.
    pub muscles: Vec<MuscleWeek>,
    /// Sets that count.
    pub sets: u32,
    /// Those among them that count by the belief's judgement, or unjudged.
    pub unrated: u32,
    /// Sets that do not count, by reason, in the order of [`WhyNot`]; no reason without a set.
    pub not_counted: Vec<(WhyNot, u32)>,
}

/// Adds up sets, 1 for the target and ½ for each helper of a set that counts.
///
/// Beside each set stand the repetitions left by the belief's judgement, where it knows; they hold
/// where the lifter did not say. Bands are the default ones of `status`; a coach's own are put in by the caller.
///
/// *Source*: fractional counting, the best supported of three ways: Pelland JC et al. 2026, Sports
/// Med 56(2):481-505, doi 10.1007/s40279-025-02344-w.
pub fn tally<'a>(
    sets: impl IntoIterator<Item = (&'a LoggedSet, Option<f64>)>,
    catalogue: &Catalogue,
    status: TrainingStatus,
) -> WeeklyVolume {
    let mut tally = WeeklyVolume::empty(catalogue, status);
    for (set, believed) in sets {
        tally.add(catalogue.exercise(set.exercise), judge(set, believed));
    }
    tally
}

impl WeeklyVolume {
    /// No sets, with the default bands of `status`.
    pub fn empty(catalogue: &Catalogue, status: TrainingStatus) -> Self {
        let muscles = catalogue.muscles().map(|(id, muscle)| MuscleWeek {
            muscle: id,
            counted: 0.0,
            direct: 0,
            band: Band::default_for(muscle, status),
            aim: AimFrom::Published,
            planned: None,
            rest: Rest::Unknown,
        });
        Self {
            muscles: muscles.collect(),
            sets: 0,
            unrated: 0,
            not_counted: Vec::new(),
        }
    }

    /// Adds a set of `exercise`, which is of the catalogue that the tally began with, as judged.
    pub fn add(&mut self, exercise: &Exercise, judgement: Counts) {
        match judgement.of(exercise) {
            Counts::Yes(ground) => self.count(exercise, ground),
            Counts::No(why) => self.leave_out(why),
        }
    }

    /// Sets that were done, counted or not.
    pub fn done(&self) -> u32 {
        self.sets + self.not_counted.iter().map(|(_, sets)| sets).sum::<u32>()
    }

    fn count(&mut self, exercise: &Exercise, ground: Ground) {
        self.sets += 1;
        self.unrated += u32::from(ground != Ground::Reported);
        for (muscle, part) in exercise.muscles() {
            // One line a muscle, in the order of the ids.
            if let Some(line) = self.muscles.get_mut(muscle.index()) {
                line.counted += part;
                line.direct += u32::from(Some(muscle) == exercise.target);
            }
        }
    }

    fn leave_out(&mut self, why: WhyNot) {
        let place = self.not_counted.binary_search_by_key(&why, |(why, _)| *why);
        match place {
            Ok(place) => {
                if let Some((_, sets)) = self.not_counted.get_mut(place) {
                    *sets += 1;
                }
            }
            Err(place) => self.not_counted.insert(place, (why, 1)),
        }
    }
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;

    use super::*;
    use crate::config;
    use crate::domain::quantities::effort::Rir;
    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::Unit;

    fn unjudged(log: &[LoggedSet]) -> impl Iterator<Item = (&LoggedSet, Option<f64>)> {
        log.iter().map(|set| (set, None))
    }

    fn set(name: &str, reps: u32, rir: Option<f64>, kind: SetKind) -> LoggedSet {
        LoggedSet {
            rir: rir.map(|rir| Rir::new(rir).unwrap()),
            kind,
            ..LoggedSet::straight(
                config::built_in().named(name).unwrap(),
                Load::body(Unit::Kg),
                reps,
                DateTime::UNIX_EPOCH,
            )
        }
    }

    #[test]
    fn sets_are_judged_by_kind_repetitions_and_reserve() {
        use Counts::{No, Yes};
        use SetKind::{Other, Straight, WarmUp};
        let cases = [
            ("plain", 8, Some(2.0), Straight, None, Yes(Ground::Reported)),
            (
                "fewest",
                5,
                Some(0.0),
                Straight,
                None,
                Yes(Ground::Reported),
            ),
            (
                "too few",
                4,
                Some(0.0),
                Straight,
                None,
                No(WhyNot::UnderFive),
            ),
            ("most", 30, Some(0.0), Straight, None, Yes(Ground::Reported)),
            (
                "too many",
                31,
                Some(0.0),
                Straight,
                None,
                No(WhyNot::OverThirty),
            ),
            (
                "three left",
                8,
                Some(3.0),
                Straight,
                None,
                Yes(Ground::Reported),
            ),
            (
                "three or four left",
                8,
                Some(3.5),
                Straight,
                None,
                No(WhyNot::TooEasy),
            ),
            ("warm-up", 8, Some(2.0), WarmUp, None, No(WhyNot::WarmUp)),
            (
                "drop set",
                8,
                Some(0.0),
                Other,
                None,
                No(WhyNot::NotStraight),
            ),
            (
                "believed hard",
                8,
                None,
                Straight,
                Some(3.4),
                Yes(Ground::Judged),
            ),
            (
                "believed easy",
                8,
                None,
                Straight,
                Some(3.6),
                No(WhyNot::JudgedTooEasy),
            ),
            (
                "nothing known",
                8,
                None,
                Straight,
                None,
                Yes(Ground::Assumed),
            ),
            (
                "word over belief",
                8,
                Some(2.0),
                Straight,
                Some(6.0),
                Yes(Ground::Reported),
            ),
            ("short warm-up", 3, None, WarmUp, None, No(WhyNot::WarmUp)),
        ];
        for (label, reps, rir, kind, believed, expected) in cases {
            let found = judge(&set("bench press", reps, rir, kind), believed);
            assert_eq!(found, expected, "{label}");
        }
    }

    #[test]
    fn what_gave_out_first_is_told_before_how_much_was_left() {
        use SetKind::{Straight, WarmUp};
        let cases = [
            (
                Some(LimitingFactor::Helpers),
                8,
                Some(1.0),
                Straight,
                WhyNot::HelpersFirst,
            ),
            (
                Some(LimitingFactor::Helpers),
                8,
                None,
                Straight,
                WhyNot::HelpersFirst,
            ),
            (
                Some(LimitingFactor::Breath),
                30,
                Some(5.0),
                Straight,
                WhyNot::BreathFirst,
            ),
            (
                Some(LimitingFactor::Breath),
                4,
                None,
                Straight,
                WhyNot::UnderFive,
            ),
            (
                Some(LimitingFactor::Breath),
                8,
                None,
                WarmUp,
                WhyNot::WarmUp,
            ),
        ];
        for (gave_out, reps, rir, kind, why) in cases {
            let set = LoggedSet {
                gave_out,
                ..set("bench press", reps, rir, kind)
            };
            assert_eq!(
                judge(&set, Some(9.0)),
                Counts::No(why),
                "{gave_out:?} {reps}"
            );
        }
    }

    #[test]
    fn a_week_adds_up_with_reasons() {
        let log = [
            set("back squat", 8, Some(2.0), SetKind::Straight),
            set("back squat", 8, None, SetKind::Straight),
            set("back squat", 3, Some(2.0), SetKind::Straight),
            set("back squat", 10, None, SetKind::WarmUp),
            set("back squat", 10, None, SetKind::WarmUp),
            set("leg extension", 12, Some(1.0), SetKind::Straight),
        ];
        let catalogue = config::built_in();
        let tally = tally(unjudged(&log), &catalogue, TrainingStatus::Beginner);
        let line = |name| tally.muscles[catalogue.muscle_named(name).unwrap().index()];
        let numbers = |name| (line(name).counted, line(name).direct);
        assert_eq!(numbers("quads"), (3.0, 3));
        assert_eq!(numbers("glutes"), (1.0, 0));
        assert_eq!(numbers("chest"), (0.0, 0));
        assert_eq!((tally.sets, tally.unrated), (3, 1));
        assert_eq!(
            tally.not_counted,
            [(WhyNot::WarmUp, 2), (WhyNot::UnderFive, 1)]
        );
    }

    #[test]
    fn judgement_holds_for_unrated_sets_alone() {
        let log = [
            set("back squat", 8, Some(2.0), SetKind::Straight),
            set("back squat", 8, None, SetKind::Straight),
        ];
        let judged = log.iter().map(|set| (set, Some(7.0)));
        let tally = tally(judged, &config::built_in(), TrainingStatus::Beginner);
        assert_eq!(tally.not_counted, [(WhyNot::JudgedTooEasy, 1)]);
    }

    #[test]
    fn helpers_by_nature_lack_nothing_without_sets() {
        let catalogue = config::built_in();
        let tally = tally([], &catalogue, TrainingStatus::Advanced);
        for line in tally.muscles {
            let planned = catalogue.muscle(line.muscle).planned;
            assert_eq!(line.band.low > 0, planned);
            // A published band is no aim.
            assert_eq!(line.standing(), Standing::Free);
        }
    }

    #[test]
    fn nothing_is_under_its_aim_while_the_week_can_bring_it() {
        let line = |aim, counted, rest, planned| MuscleWeek {
            muscle: MuscleId(0),
            counted,
            direct: 0,
            band: Band { low: 10, high: 14 },
            aim,
            planned,
            rest,
        };
        use AimFrom::{Coach, Plan, Published};
        let cases = [
            (Coach, 4.0, Rest::Unknown, None, Standing::Open),
            (Coach, 9.5, Rest::Over, None, Standing::Under),
            (Coach, 10.0, Rest::Over, None, Standing::Within),
            (Coach, 14.5, Rest::Unknown, None, Standing::Over),
            // The plan brings less than the coach wants: that is no alarm before the week is over.
            (Coach, 2.0, Rest::Planned(4.0), Some(6.0), Standing::Open),
            (Coach, 2.0, Rest::Planned(2.0), Some(6.0), Standing::Under),
            (Plan, 0.0, Rest::Planned(10.0), Some(10.0), Standing::Open),
            (Plan, 3.0, Rest::Planned(3.0), Some(10.0), Standing::Under),
            // A set less is no failure of a week.
            (Plan, 9.0, Rest::Over, Some(10.0), Standing::Within),
            (Plan, 8.0, Rest::Over, Some(10.0), Standing::Under),
            (Published, 0.0, Rest::Over, None, Standing::Free),
        ];
        for (aim, counted, rest, planned, expected) in cases {
            let line = line(aim, counted, rest, planned);
            assert_eq!(line.standing(), expected, "{line:?}");
        }
        // Nothing at all is not as asked, though a set less is.
        for (counted, rest, expected) in [
            (0.0, Rest::Over, Standing::Under),
            (0.0, Rest::Planned(0.0), Standing::Under),
            (0.0, Rest::Planned(1.5), Standing::Open),
            (0.5, Rest::Over, Standing::Within),
        ] {
            let line = MuscleWeek {
                band: Band { low: 1, high: 2 },
                ..line(Plan, counted, rest, Some(1.5))
            };
            assert_eq!(line.standing(), expected, "{line:?}");
        }
    }

    #[test]
    fn both_ends_of_a_band_lie_within_it() {
        let band = Band { low: 10, high: 20 };
        let cases = [
            (9.5, Standing::Under),
            (10.0, Standing::Within),
            (20.0, Standing::Within),
            (20.5, Standing::Over),
        ];
        for (counted, standing) in cases {
            assert_eq!(band.standing(counted), standing, "{counted}");
        }
    }
}
