//! Why a coach should look at a member, from the log of a week; every reason carries its evidence.
//!
//! Pain is told by the member, not by the log: the bot puts it before these.

use chrono::{Datelike as _, Duration, NaiveDate};

use super::calendar::Week;
use super::id::ExerciseId;
use super::log::LoggedSet;
use super::model::Lifter;
use super::progress::{Course, NAMED, Sign, run_down};
use super::runs::{Run, runs};
use super::week::{FEWEST_REPS, MuscleWeek, Tally};

/// Days without a set after which a member is silent. Common practice, no source: a training week.
const SILENT_DAYS: i64 = 7;
/// Far under: what the week will come to is less than this share of the band's low edge. Common
/// practice, no source.
const FAR_UNDER: f64 = 0.5;
/// Far over: more than this many times the band's high edge. *Source*: a rise of more than 20 % is
/// advised against, Schoenfeld BJ et al. 2021, Int J Strength Cond 1(1), doi 10.47206/ijsc.v1i1.81.
const FAR_OVER: f64 = 1.2;
/// Fewest cases that make a habit. Common practice, no source.
const HABIT: u32 = 3;
/// A rest under this share of the usual one of its lift is short. Common practice, no source.
const SHORT_REST: f64 = 0.5;

/// A reason to look at a member, with the evidence; in the order of urgency.
#[derive(Clone, Debug, PartialEq)]
pub enum Concern {
    /// No set since this day; `None` where there never was one.
    Silent(Option<NaiveDate>),
    /// So many planned days of this week are over, without a set in it.
    Missed(u32),
    /// Muscles that will end the week far under their bands.
    FarUnder(Vec<MuscleWeek>),
    /// Muscles that are far over them.
    FarOver(Vec<MuscleWeek>),
    /// Lifts of this week that gain nothing, each with the probability and the change a week, a
    /// share.
    Stalled(Vec<(ExerciseId, f64, f64)>),
    /// Under the usual form over all lifts, with the probability.
    RunDown(f64),
    /// In so many of so many runs the load only went up.
    Ascending {
        /// Runs in which it did.
        runs: u32,
        /// Runs of two straight sets and more.
        of: u32,
    },
    /// So many straight sets under five repetitions that were not planned so.
    UnderFive(u32),
    /// So many of so many rests were under half of the usual one.
    ShortRests {
        /// Short ones.
        short: u32,
        /// Those that were stated or seen.
        of: u32,
    },
}

impl Concern {
    /// Its place in the order of urgency, the most urgent 0.
    #[must_use]
    pub const fn urgency(&self) -> u8 {
        match self {
            Self::Silent(_) => 0,
            Self::Missed(_) => 1,
            Self::FarUnder(_) => 2,
            Self::FarOver(_) => 3,
            Self::Stalled(_) => 4,
            Self::RunDown(_) => 5,
            Self::Ascending { .. } => 6,
            Self::UnderFive(_) => 7,
            Self::ShortRests { .. } => 8,
        }
    }
}

/// What is known of a member's week.
pub struct Facts<'a> {
    /// The member.
    pub lifter: &'a Lifter<'a>,
    /// The week.
    pub week: Week,
    /// The day of asking, in the week.
    pub today: NaiveDate,
    /// The sets of the week, in order.
    pub sets: &'a [&'a LoggedSet],
    /// What they add up to, against the member's bands.
    pub tally: &'a Tally,
    /// Half sets that the rest of the week is planned to bring, by muscle in the order of the tally;
    /// `None` without a plan.
    pub to_come: Option<&'a [u32]>,
    /// Days planned in this week before today.
    pub planned_days: u32,
    /// Exercises that are planned under five repetitions.
    pub heavy: &'a [ExerciseId],
    /// How the lifts of this week are coming along.
    pub courses: &'a [(ExerciseId, Course)],
    /// The last day with a set, ever.
    pub last_day: Option<NaiveDate>,
}

/// The reasons to look at a member, the most urgent first; none where all is well.
#[must_use]
pub fn concerns(facts: &Facts<'_>) -> Vec<Concern> {
    let silent = silent(facts);
    let is_silent = silent.is_some();
    let runs = runs(facts.sets.iter().copied());
    let muscles = (!is_silent).then(|| muscles(facts));
    let concerns = silent
        .into_iter()
        .chain(muscles.into_iter().flatten())
        .chain(of_courses(facts.courses))
        .chain(ascending(facts, &runs))
        .chain(under_five(facts))
        .chain(short_rests(facts, &runs));
    concerns.collect()
}

fn silent(facts: &Facts<'_>) -> Option<Concern> {
    let since = facts.last_day.map(|day| facts.today - day);
    if since.is_none_or(|since| since > Duration::days(SILENT_DAYS)) {
        return Some(Concern::Silent(facts.last_day));
    }
    let missed = facts.sets.is_empty() && facts.planned_days > 0;
    missed.then_some(Concern::Missed(facts.planned_days))
}

/// Muscles far off: what was done and what is to come against the low edge, what was done against
/// the high one. Without a plan the rest of the week is taken to bring its share of the low edge.
fn muscles(facts: &Facts<'_>) -> Vec<Concern> {
    let days_left = (facts.week.last_day() - facts.today).num_days();
    let share_left = f64::from(u32::try_from(days_left).unwrap_or(0)) / 7.0;
    let lines = || facts.tally.muscles.iter().enumerate();
    let under = lines().filter(|(place, line)| {
        let low = f64::from(line.band.low);
        let to_come = match facts.to_come {
            Some(halves) => halves
                .get(*place)
                .map_or(0.0, |&half| f64::from(half) / 2.0),
            None => low * share_left,
        };
        line.counted + to_come < low * FAR_UNDER
    });
    let under: Vec<MuscleWeek> = under.map(|(_, line)| *line).collect();
    let over = lines().filter(|(_, line)| line.counted > f64::from(line.band.high) * FAR_OVER);
    let over: Vec<MuscleWeek> = over.map(|(_, line)| *line).collect();
    let mut concerns = Vec::new();
    if !under.is_empty() {
        concerns.push(Concern::FarUnder(under));
    }
    if !over.is_empty() {
        concerns.push(Concern::FarOver(over));
    }
    concerns
}

/// Those of the reasons that speak of how lifts are coming along: stalled, run down.
#[must_use]
pub fn of_courses(courses: &[(ExerciseId, Course)]) -> Vec<Concern> {
    stalled(courses)
        .into_iter()
        .chain(strained(courses))
        .collect()
}

fn stalled(courses: &[(ExerciseId, Course)]) -> Option<Concern> {
    let stalled = courses.iter().filter_map(|(exercise, course)| {
        let gains_not = |sign: &Sign| matches!(sign, Sign::Flat | Sign::Falling);
        let told = course.signs.iter().any(gains_not);
        Some((
            *exercise,
            course.stalled.filter(|_| told)?,
            course.change.middle,
        ))
    });
    let stalled: Vec<_> = stalled.collect();
    (!stalled.is_empty()).then_some(Concern::Stalled(stalled))
}

fn strained(courses: &[(ExerciseId, Course)]) -> Option<Concern> {
    let courses: Vec<Course> = courses.iter().map(|(_, course)| course.clone()).collect();
    let chance = run_down(&courses).filter(|chance| *chance >= NAMED);
    chance.map(Concern::RunDown)
}

fn ascending(facts: &Facts<'_>, all: &[Run<'_>]) -> Option<Concern> {
    let several = all.iter().filter(|run| run.straight().count() > 1);
    let several: Vec<&Run<'_>> = several.collect();
    let catalogue = facts.lifter.catalogue;
    let ascends =
        |run: &&&Run<'_>| run.ascends(catalogue.exercise(run.exercise), facts.lifter.body_mass);
    let (runs, of) = (count(several.iter().filter(ascends)), count(several.iter()));
    (runs >= HABIT && 2 * runs >= of).then_some(Concern::Ascending { runs, of })
}

fn under_five(facts: &Facts<'_>) -> Option<Concern> {
    let few = facts.sets.iter().filter(|set| {
        set.kind == super::log::SetKind::Straight
            && set.reps < FEWEST_REPS
            && !facts.heavy.contains(&set.exercise)
    });
    let few = count(few);
    (few >= HABIT).then_some(Concern::UnderFive(few))
}

fn short_rests(facts: &Facts<'_>, all: &[Run<'_>]) -> Option<Concern> {
    let (mut short, mut of) = (0, 0);
    for run in all {
        let exercise = facts.lifter.catalogue.exercise(run.exercise);
        let usual = f64::from(facts.lifter.population(exercise).rest_usual_s);
        let rests = run.rests_s();
        let under = |rest: &&u32| f64::from(**rest) < usual * SHORT_REST;
        short += count(rests.iter().filter(under));
        of += count(rests.iter());
    }
    (short >= HABIT && 2 * short >= of).then_some(Concern::ShortRests { short, of })
}

fn count(of: impl Iterator) -> u32 {
    u32::try_from(of.count()).unwrap_or(u32::MAX)
}

/// Days of the week before `today` of which `planned` says that they have a session.
#[must_use]
pub fn days_gone(week: Week, today: NaiveDate, planned: impl Fn(chrono::Weekday) -> bool) -> u32 {
    let days = week.first_day().iter_days().take_while(|day| *day < today);
    count(days.filter(|day| planned(day.weekday())))
}

#[cfg(test)]
mod tests {
    use chrono::{DateTime, NaiveTime, Weekday};
    use chrono_tz::Tz;

    use super::*;
    use crate::config;
    use crate::domain::calendar::TeamCalendar;
    use crate::domain::catalogue::Basis;
    use crate::domain::effort::Rir;
    use crate::domain::load::Load;
    use crate::domain::log::SetKind;
    use crate::domain::mass::{Mass, Unit};
    use crate::domain::model::Model;
    use crate::domain::progress::course;
    use crate::domain::status::TrainingStatus;
    use crate::domain::week::tally;

    /// The bench press: day of January 2026, minute, kilograms, repetitions. The 12th is a Monday.
    type Done = (u32, u32, f64, u32);

    fn sets(done: &[Done]) -> Vec<LoggedSet> {
        let exercise = config::built_in().named("bench press").unwrap();
        let set = |&(day, minute, kg, reps): &Done| {
            let day = NaiveDate::from_ymd_opt(2026, 1, day).unwrap();
            let time = NaiveTime::from_num_seconds_from_midnight_opt(61_200 + 60 * minute, 0);
            LoggedSet {
                id: None,
                exercise,
                load: Load {
                    mass: Mass::from_kg(kg).unwrap(),
                    unit: Unit::Kg,
                    basis: Basis::Total,
                },
                reps,
                rir: None,
                gave_out: None,
                kind: SetKind::Straight,
                per_side: false,
                at: DateTime::from_naive_utc_and_offset(day.and_time(time.unwrap()), chrono::Utc),
                timed: true,
                asked: None,
                said: Vec::new(),
                stated_rest_s: None,
                day,
            }
        };
        done.iter().map(set).collect()
    }

    fn found(today: u32, done: &[Done], last: Option<u32>, planned_days: u32) -> Vec<Concern> {
        found_with(today, done, last, planned_days, &[])
    }

    fn found_with(
        today: u32,
        done: &[Done],
        last: Option<u32>,
        planned_days: u32,
        courses: &[(ExerciseId, Course)],
    ) -> Vec<Concern> {
        let catalogue = config::built_in();
        let date = |day| NaiveDate::from_ymd_opt(2026, 1, day).unwrap();
        let calendar = TeamCalendar {
            zone: Tz::UTC,
            week_start: Weekday::Mon,
        };
        let log = sets(done);
        let status = TrainingStatus::Intermediate;
        let mut tally = tally(log.iter().map(|set| (set, None)), &catalogue, status);
        // Only the chest is of interest, at 10 to 20 sets.
        let chest = catalogue.muscle_named("chest").unwrap();
        for line in &mut tally.muscles {
            if line.muscle != chest {
                (line.band.low, line.band.high) = (0, 100);
            }
        }
        let lifter = Lifter {
            catalogue: &catalogue,
            body_mass: None,
            status,
        };
        let facts = Facts {
            lifter: &lifter,
            week: calendar.week_of(date(today)),
            today: date(today),
            sets: &log.iter().collect::<Vec<_>>(),
            tally: &tally,
            to_come: None,
            planned_days,
            heavy: &[],
            courses,
            last_day: last.map(date),
        };
        concerns(&facts)
    }

    /// So many sets at one load with full rests, on Monday.
    fn plain(count: u32) -> Vec<Done> {
        (0..count).map(|n| (12, 4 * n, 50.0, 8)).collect()
    }

    #[test]
    fn silence_is_a_week_without_a_set_or_a_planned_day_missed() {
        assert_eq!(found(15, &[], None, 0), [Concern::Silent(None)]);
        let last = NaiveDate::from_ymd_opt(2026, 1, 7).unwrap();
        assert_eq!(found(15, &[], Some(7), 0), [Concern::Silent(Some(last))]);
        // A week ago to the day is not yet silence; of a planned day it is.
        assert_eq!(found(14, &[], Some(7), 2), [Concern::Missed(2)]);
        assert_eq!(found(12, &[], Some(7), 0), []);
    }

    #[test]
    fn few_sets_are_far_under_only_once_the_week_runs_out() {
        let under = |today| {
            let found = found(today, &plain(3), Some(12), 0);
            matches!(found.as_slice(), [Concern::FarUnder(lines)] if lines.len() == 1)
        };
        // Six tenths of the week are left on Wednesday, a seventh on Saturday.
        assert!(!under(14));
        assert!(under(17));
        assert_eq!(found(18, &plain(5), Some(12), 0), []);
    }

    #[test]
    fn many_sets_are_far_over_from_a_fifth_above_the_band() {
        assert_eq!(found(18, &plain(24), Some(12), 0), []);
        let over = found(18, &plain(25), Some(12), 0);
        assert!(matches!(over.as_slice(), [Concern::FarOver(_)]), "{over:?}");
    }

    #[test]
    fn habits_are_three_times_and_half_of_all() {
        let up = |days: &[u32], minutes: u32| -> Vec<Done> {
            let run =
                |&day: &u32| (0..3).map(move |n| (day, minutes * n, 50.0 + 5.0 * f64::from(n), 8));
            days.iter().flat_map(run).collect()
        };
        let rising = found(12, &up(&[12, 13], 4), Some(13), 0);
        assert_eq!(rising, []);
        let rising = found(14, &up(&[12, 13, 14], 4), Some(14), 0);
        assert_eq!(rising, [Concern::Ascending { runs: 3, of: 3 }]);
        // A minute less 28 s of work is under half of two and a half minutes.
        let hasty = found(14, &up(&[12, 13, 14], 1), Some(14), 0);
        let rests = Concern::ShortRests { short: 6, of: 6 };
        assert_eq!(hasty, [Concern::Ascending { runs: 3, of: 3 }, rests]);
        let heavy: Vec<Done> = (0..3).map(|n| (12, 5 * n, 90.0, 3)).collect();
        assert_eq!(found(12, &heavy, Some(12), 0), [Concern::UnderFive(3)]);
    }

    /// How the bench press comes along in twelve weeks, two days each, with so many kilograms more
    /// every week.
    fn course_of(gain_kg: f64) -> (ExerciseId, Course) {
        let catalogue = config::built_in();
        let lifter = Lifter {
            catalogue: &catalogue,
            body_mass: None,
            status: TrainingStatus::Intermediate,
        };
        let mut model = Model::default();
        for day in 0..24 {
            let kg = 60.0 + gain_kg * f64::from(day / 2);
            for mut set in sets(&[(12, 0, kg, 10), (12, 5, kg, 9), (12, 10, kg, 8)]) {
                set.rir = Rir::new(2.0).ok();
                set.day += Duration::days(3 * i64::from(day));
                set.at += Duration::days(3 * i64::from(day));
                model.learn(&set, &lifter);
            }
        }
        let bench = catalogue.named("bench press").unwrap();
        let population = lifter.population(catalogue.exercise(bench));
        let belief = model.beliefs.get(&bench).unwrap();
        (bench, course(belief, &model.condition, &population))
    }

    #[test]
    fn lifts_that_gain_nothing_are_told_of() {
        let falling = course_of(-0.8);
        let bench = falling.0;
        let stalled = found_with(18, &plain(10), Some(12), 0, &[falling]);
        let told = matches!(
            stalled.as_slice(),
            [Concern::Stalled(lifts)] if lifts.first().is_some_and(|lift| lift.0 == bench)
        );
        assert!(told, "{stalled:?}");
        let rising = found_with(18, &plain(10), Some(12), 0, &[course_of(0.8)]);
        assert_eq!(rising, []);
    }

    #[test]
    fn planned_days_before_today_are_gone() {
        let calendar = TeamCalendar {
            zone: Tz::UTC,
            week_start: Weekday::Mon,
        };
        let day = |day| NaiveDate::from_ymd_opt(2026, 1, day).unwrap();
        let planned = |weekday| matches!(weekday, Weekday::Mon | Weekday::Thu);
        for (today, gone) in [(12, 0), (13, 1), (15, 1), (16, 2), (18, 2)] {
            let week = calendar.week_of(day(today));
            assert_eq!(days_gone(week, day(today), planned), gone, "{today}");
        }
    }
}
