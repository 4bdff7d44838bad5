//! Whether the load may go up over that of the last session.
//!
//! What the lifter could lift by the belief is [`super::next_set`]'s business, which also keeps
//! raises at 10 % or one step of the rack; here a raise that is too small, or too soon for a
//! beginner, is held back.

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::limits::SAME_LOAD;
use crate::domain::quantities::status::TrainingStatus;

/// Smallest raise that is worth making, as a share. *Source*: American College of Sports Medicine
/// 2009, Med Sci Sports Exerc 41(3):687-708 (raise the load by 2 to 10 %).
pub const LEAST_RAISE: f64 = 0.02;
/// Repetitions over the goal in the last set after which a beginner's load goes up, and in how many
/// sessions in a row. *Source*: the 2-for-2 rule of Baechle TR and Earle RW, in: Haff GG, Triplett NT,
/// eds. Essentials of Strength Training and Conditioning, 4th ed. 2016, ch. 17.
pub const TWO_FOR_TWO: (u32, usize) = (2, 2);

/// Share of the load before that a lifter goes back to after pain, session by session once it is
/// cleared; then nothing holds the load but the belief. Common practice, no source: to begin with what
/// is certainly easy, and to take so much more each time as shows early whether it hurts.
const WAY_BACK: [f64; 3] = [0.6, 0.75, 0.9];

/// The most of the load before pain, a share of it, for a lifter who did the exercise in so many
/// sessions since it was cleared; `None` once the way back is done.
///
/// ```
/// use chalkbell::domain::advice::opening::way_back;
/// assert_eq!((way_back(0), way_back(3)), (Some(0.6), None));
/// ```
#[must_use]
pub fn way_back(sessions_since: usize) -> Option<f64> {
    WAY_BACK.get(sessions_since).copied()
}

/// Share of the last load that a first session is held to after so many days away; `None` for no
/// break to speak of.
///
/// ```text
/// 1 − 0.02 (weeks − 2), at least 0.7, from three weeks on
/// ```
///
/// What strength was lost is the belief's matter; this holds back the lifter who lost none, since
/// muscles that are no longer used to it get sore and hurt. Common practice, no source.
///
/// ```
/// use chalkbell::domain::advice::opening::easing;
/// assert_eq!(easing(10.0), None);
/// assert_eq!(easing(42.0), Some(0.92));
/// ```
#[must_use]
pub fn easing(days_away: f64) -> Option<f64> {
    let weeks = days_away / 7.0;
    (weeks >= EASED_FROM).then(|| (1.0 - EASED_A_WEEK * (weeks - 2.0)).max(EASED_MOST))
}

/// Weeks away from which a first session is eased, by how much more for each, and to what at most.
const EASED_FROM: f64 = 2.9;
const EASED_A_WEEK: f64 = 0.02;
const EASED_MOST: f64 = 0.7;

/// What is to be done with a raise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gate {
    /// It may be made, if it is one.
    Open,
    /// The load stays: the raise is under 2 %.
    TooSmall,
    /// The load stays: a beginner was not yet two repetitions over the range in the last set of two
    /// sessions in a row.
    TooSoon,
}

/// The set that a raise is measured from: the heaviest of the last session's straight sets that
/// reached the range, else the first of them.
#[must_use]
pub fn reference<'a>(
    sessions: &'a [Vec<LoggedSet>],
    aim: &Aim,
    moved_kg: impl Fn(&LoggedSet) -> f64,
) -> Option<&'a LoggedSet> {
    let last = sessions.last()?;
    let in_range = |set: &&LoggedSet| is_straight(set) && set.reps >= aim.reps_low;
    last.iter()
        .filter(in_range)
        .max_by(|a, b| moved_kg(a).total_cmp(&moved_kg(b)))
        .or_else(|| last.iter().find(is_straight))
}

fn is_straight(set: &&LoggedSet) -> bool {
    set.kind == SetKind::Straight
}

/// Judges a load that moves `advised_kg`, more than 0.
///
/// `sessions` are the earlier ones of the exercise, the latest last, each with its sets in order;
/// `moved_kg` tells what a set moves. A set's repetitions are taken as those at the effort aimed at:
/// ten with three left are eleven where two were to be left. Repetitions are held against the top
/// of the range, the goal of a range; only sets at the [`reference()`] load or above show that it is
/// mastered.
///
/// *Source*: of each bound beside its constant.
#[must_use]
pub fn gate(
    advised_kg: f64,
    sessions: &[Vec<LoggedSet>],
    aim: &Aim,
    status: TrainingStatus,
    moved_kg: impl Fn(&LoggedSet) -> f64,
) -> Gate {
    let Some(before_kg) = reference(sessions, aim, &moved_kg).map(&moved_kg) else {
        return Gate::Open;
    };
    if advised_kg <= before_kg * (1.0 + SAME_LOAD) {
        return Gate::Open;
    }
    // A step as the lifter made it the last time is worth making.
    let earlier = sessions
        .split_last()
        .map_or(sessions, |(_, earlier)| earlier);
    let earlier_kg = reference(earlier, aim, &moved_kg).map_or(f64::INFINITY, &moved_kg);
    let own_kg = before_kg + (before_kg - earlier_kg) * (1.0 - SAME_LOAD);
    let is_own_step = |kg: f64| earlier_kg < before_kg * (1.0 - SAME_LOAD) && kg >= own_kg;
    if advised_kg < before_kg * (1.0 + LEAST_RAISE) - SAME_LOAD && !is_own_step(advised_kg) {
        return Gate::TooSmall;
    }
    let (over, in_a_row) = TWO_FOR_TWO;
    let goal = f64::from(aim.reps_high + over);
    let at_load =
        |set: &&LoggedSet| is_straight(set) && moved_kg(set) >= before_kg * (1.0 - SAME_LOAD);
    let mastered = |sets: &Vec<LoggedSet>| {
        let last = sets.iter().rfind(at_load);
        last.is_some_and(|set| at_effort(set, aim) >= goal)
    };
    let latest = sessions.iter().rev().take(in_a_row);
    let mastered = latest.filter(|sets| mastered(sets)).count() == in_a_row;
    if status == TrainingStatus::Beginner && !mastered {
        Gate::TooSoon
    } else {
        Gate::Open
    }
}

/// Repetitions that a set would have come to at the effort aimed at; as done where nothing was said.
fn at_effort(set: &LoggedSet, aim: &Aim) -> f64 {
    let spare = set.rated().map_or(0.0, |rir| rir.reps() - aim.rir.reps());
    f64::from(set.reps) + spare
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;

    use super::*;

    use crate::domain::quantities::effort::Rir;
    use crate::domain::quantities::id::ExerciseId;
    use crate::domain::quantities::lift_class::LiftClass;
    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::{Mass, Unit};

    fn set(kg: f64, reps: u32, left: Option<f64>) -> LoggedSet {
        LoggedSet {
            rir: left.map(|left| Rir::new(left).unwrap()),
            ..LoggedSet::straight(
                ExerciseId(0),
                Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg),
                reps,
                DateTime::UNIX_EPOCH,
            )
        }
    }

    /// A range of 8 to 12 with one left.
    fn aim() -> Aim {
        Aim {
            reps_low: 8,
            reps_high: 12,
            ..Aim::default_for(LiftClass::Press)
        }
    }

    fn judged(advised_kg: f64, sessions: &[Vec<LoggedSet>], status: TrainingStatus) -> Gate {
        gate(advised_kg, sessions, &aim(), status, |set| {
            set.load.mass.in_kg()
        })
    }

    #[test]
    fn the_published_example_of_two_for_two_raises_the_load() {
        // Goal 3 x 10; 12 in the last set of two sessions in a row at 135 lb: raise.
        // Source: practitioner page on the 2-for-2 rule of Haff and Triplett 2016.
        let goal = Aim {
            reps_low: 10,
            reps_high: 10,
            ..aim()
        };
        let session = |last: u32| {
            vec![
                set(61.2, 10, None),
                set(61.2, 10, None),
                set(61.2, last, None),
            ]
        };
        let judged = |sessions: &[Vec<LoggedSet>]| {
            gate(63.5, sessions, &goal, TrainingStatus::Beginner, |set| {
                set.load.mass.in_kg()
            })
        };
        assert_eq!(judged(&[session(12), session(12)]), Gate::Open);
        assert_eq!(judged(&[session(12), session(11)]), Gate::TooSoon);
        assert_eq!(judged(&[session(11), session(12)]), Gate::TooSoon);
        assert_eq!(judged(&[session(12)]), Gate::TooSoon);
        assert_eq!(
            judged(&[session(12), session(11), session(12)]),
            Gate::TooSoon
        );
    }

    #[test]
    fn only_beginners_wait_for_two_sessions() {
        let session = vec![set(60.0, 10, Some(1.0))];
        let sessions = [session.clone(), session];
        assert_eq!(
            judged(62.5, &sessions, TrainingStatus::Beginner),
            Gate::TooSoon
        );
        assert_eq!(
            judged(62.5, &sessions, TrainingStatus::Intermediate),
            Gate::Open
        );
        assert_eq!(
            judged(60.0, &sessions, TrainingStatus::Beginner),
            Gate::Open
        );
        assert_eq!(
            judged(55.0, &sessions, TrainingStatus::Beginner),
            Gate::Open
        );
    }

    #[test]
    fn a_raise_under_two_percent_is_not_made() {
        let sessions = [vec![set(200.0, 10, Some(1.0))]];
        let status = TrainingStatus::Advanced;
        assert_eq!(judged(202.5, &sessions, status), Gate::TooSmall);
        assert_eq!(judged(204.0, &sessions, status), Gate::Open);
        assert_eq!(judged(205.0, &sessions, status), Gate::Open);
        // As large a step as the lifter made the last time is one.
        let [sessions] = sessions;
        let climbing = [vec![set(197.5, 10, Some(1.0))], sessions.clone()];
        assert_eq!(judged(202.5, &climbing, status), Gate::Open);
        assert_eq!(judged(201.0, &climbing, status), Gate::TooSmall);
        let falling = [vec![set(202.5, 10, Some(1.0))], sessions];
        assert_eq!(judged(202.5, &falling, status), Gate::TooSmall);
    }

    #[test]
    fn repetitions_count_as_at_the_effort_aimed_at() {
        // Twelve with three left where one was aimed at are fourteen.
        let easy = vec![set(60.0, 12, Some(3.0))];
        let hard = vec![set(60.0, 14, Some(0.0))];
        let status = TrainingStatus::Beginner;
        assert_eq!(
            judged(62.5, &[easy.clone(), easy.clone()], status),
            Gate::Open
        );
        assert_eq!(judged(62.5, &[easy, hard], status), Gate::TooSoon);
    }

    #[test]
    fn lighter_sets_show_nothing_about_the_load() {
        let down = vec![set(60.0, 9, Some(1.0)), set(50.0, 15, Some(1.0))];
        let up = vec![
            set(60.0, 9, Some(1.0)),
            set(60.0, 14, Some(1.0)),
            set(50.0, 6, None),
        ];
        let status = TrainingStatus::Beginner;
        assert_eq!(judged(62.5, &[down.clone(), down], status), Gate::TooSoon);
        assert_eq!(judged(62.5, &[up.clone(), up], status), Gate::Open);
    }

    #[test]
    fn a_raise_is_measured_from_the_heaviest_set_in_range() {
        // The first day found the load: what it opened with is no measure.
        let found = vec![
            set(40.0, 20, Some(4.0)),
            set(50.0, 12, Some(1.0)),
            set(60.0, 5, Some(0.0)),
        ];
        let sessions = [found];
        let status = TrainingStatus::Beginner;
        assert_eq!(judged(50.0, &sessions, status), Gate::Open);
        assert_eq!(judged(52.5, &sessions, status), Gate::TooSoon);
        let kg = |set: &LoggedSet| set.load.mass.in_kg();
        let from = reference(&sessions, &aim(), kg).map(kg);
        assert_eq!(from, Some(50.0));
        let short = [vec![set(60.0, 5, Some(0.0)), set(62.5, 4, Some(0.0))]];
        assert_eq!(reference(&short, &aim(), kg).map(kg), Some(60.0));
    }

    #[test]
    fn nothing_before_holds_nothing_back() {
        assert_eq!(judged(60.0, &[], TrainingStatus::Beginner), Gate::Open);
        let warm_ups = vec![LoggedSet {
            kind: SetKind::WarmUp,
            ..set(20.0, 10, None)
        }];
        assert_eq!(
            judged(60.0, &[warm_ups], TrainingStatus::Beginner),
            Gate::Open
        );
    }
}
