//! Why a coach should look at a member, from the log and the plan; every reason carries its evidence.
//!
//! The few who need a person are found, not all who differ from the trade's averages: whoever does
//! what the plan asks for is on plan, whatever counts. Nothing is said before the week could not be
//! met any more. Pain is told by the member, not by the log: the bot puts it before these.

use chrono::NaiveDate;

use super::adherence::{Adherence, Efforts};
use crate::domain::coaching::progress::{Course, Sign, run_down};
use crate::domain::coaching::runs::{Run, runs};
use crate::domain::coaching::week::{AimFrom, MuscleWeek, WeeklyVolume};
use crate::domain::lifter::model::Lifter;
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::FEWEST_REPS;
use crate::domain::quantities::worded::worded;

/// A member counts as silent when more than [`SILENT_DAYS`] days have passed since the last session,
/// and more than this many times the usual gap, plus one day. Common practice, no source.
const SILENT_AFTER: f64 = 1.5;
const SILENT_DAYS: i64 = 5;
/// The gap, in days, that is assumed until [`GAPS_KNOWN`] gaps are known.
const USUAL_DAYS: i64 = 5;
/// Gaps between sessions from which the usual one is known.
const GAPS_KNOWN: usize = 3;
/// Share of the planned sets under which the sessions done were done in part, and the fewest sets
/// that make it. Common practice, no source: a set left out here and there is no reason.
const SHORT_OF_SETS: f64 = 0.75;
const SETS_LACKING: u32 = 3;
/// Far from the effort asked: on average less than this share of the repetitions in reserve that were
/// asked, or so many more of them, at least that share of what was asked; and off by one or more in
/// this share of the sets. What lifters report is off by about one repetition, and by more far from
/// failure (Halperin I et al. 2022, Sports Med 52:377-390): so what is far grows with what was asked.
const TOO_HARD: f64 = 0.45;
const TOO_EASY: f64 = 1.5;
const TOO_EASY_SHARE: f64 = 0.75;
const MOST_SETS: f64 = 0.5;
/// Training days of a week from which it has a habit: one session may have been a bad day, or the
/// first one with loads that nobody knew.
const DAYS_KNOWN: usize = 2;
/// Rated sets from which effort can be judged.
const RATED: u32 = 5;
/// No efforts: of so many work sets not more than this share has one.
const UNRATED_SETS: u32 = 8;
const UNRATED: f64 = 0.1;
/// A lift is told to stand still after so many days, from this probability on; to fall from that
/// one on. Common practice, no source: six weeks are a block.
const STALL_DAYS: i32 = 42;
const STALL: f64 = 0.65;
const FALL: f64 = 0.8;
/// One lift by itself is told of where it gains nothing with this probability.
const ALONE: f64 = 0.8;
/// A fall that is worth a word, share a week.
const FALL_A_WEEK: f64 = -0.004;
/// Probability from which form is told to be down.
const FORM_DOWN: f64 = 0.85;
/// Far under: less than this share of what was asked for.
const FAR_UNDER: f64 = 0.5;
/// Far over the coach's target: more than this many times it. *Source*: a rise of more than 20 % is
/// advised against, Schoenfeld BJ et al. 2021, Int J Strength Cond 1(1), doi 10.47206/ijsc.v1i1.81.
const FAR_OVER: f64 = 1.2;
/// Far over what the plan asks for; feelers and warm-ups that come unmarked count here, too. Common
/// practice, no source.
const FAR_OVER_PLAN: f64 = 1.5;
/// Sets that a muscle must be off by.
const SETS_OFF: f64 = 2.0;
/// Fewest cases that make a habit. Common practice, no source.
const HABIT: u32 = 3;
/// A rest under this share of the usual one of its lift is short. Common practice, no source.
const SHORT_REST: f64 = 0.5;

worded! {
    /// A kind of reason, in the order of urgency.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
    pub enum Kind {
        /// Nothing posted for longer than usual.
        Silence = "silence",
        /// Planned sessions missed.
        Sessions = "sessions",
        /// Effort far from the plan.
        Effort = "effort",
        /// Sessions done in part.
        Sets = "sets",
        /// No efforts given.
        Unrated = "unrated",
        /// Lifts that fall.
        Fall = "fall",
        /// Lifts that stand still.
        Stall = "stall",
        /// Form down on all lifts.
        Form = "form",
        /// Volume far from the aim.
        Volume = "volume",
        /// Loads that only go up from set to set.
        Ramping = "ramping",
        /// Sets under five repetitions.
        Heavy = "heavy",
        /// Short rests.
        Rests = "rests",
    }
}

impl Kind {
    /// Whether coaches hear of it who said nothing. How sets are done is for `/week`, and needs
    /// nobody today.
    pub const fn is_usual(self) -> bool {
        !matches!(self, Self::Ramping | Self::Heavy | Self::Rests)
    }
}

/// A lift that does not come along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slow {
    /// Which.
    pub exercise: ExerciseId,
    /// Probability that it is so, 0 to 1.
    pub chance: f64,
    /// Change of its maximum a week, a share.
    pub change: f64,
}

/// A reason to look at a member, with the evidence.
#[derive(Clone, Debug, PartialEq)]
pub enum Concern {
    /// No set since this day, where so many days between two sessions are usual; `None` where there
    /// never was one, or too few to say.
    Silent(Option<NaiveDate>, Option<i64>),
    /// So many sessions of so many cannot be done any more in this week.
    Missed {
        /// Sessions missed.
        sessions: u32,
        /// Those planned.
        of: u32,
        /// The days they were planned for, where they had one.
        days: Vec<NaiveDate>,
    },
    /// Of the sets of the sessions that were done, so many were.
    ShortOfSets {
        /// Sets done.
        done: u32,
        /// Sets planned.
        of: u32,
        /// Exercises of these sessions of which no set was done in the week.
        left_out: Vec<ExerciseId>,
    },
    /// Nearer to failure than asked, over so many sets.
    TooHard(Efforts),
    /// Further from it than asked.
    TooEasy(Efforts),
    /// Hardly any of so many work sets came with an effort.
    Unrated(u32),
    /// Lifts that fall from week to week.
    Falling(Vec<Slow>),
    /// Lifts that stand still.
    Stalled(Vec<Slow>),
    /// Under the usual form over all lifts, with the probability.
    RunDown(f64),
    /// Muscles that ended the week far under what was asked for.
    FarUnder(Vec<MuscleWeek>),
    /// Muscles that are far over it.
    FarOver(Vec<MuscleWeek>),
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
    /// Of which kind it is.
    pub const fn kind(&self) -> Kind {
        match self {
            Self::Silent(..) => Kind::Silence,
            Self::Missed { .. } => Kind::Sessions,
            Self::ShortOfSets { .. } => Kind::Sets,
            Self::TooHard(_) | Self::TooEasy(_) => Kind::Effort,
            Self::Unrated(_) => Kind::Unrated,
            Self::Falling(_) => Kind::Fall,
            Self::Stalled(_) => Kind::Stall,
            Self::RunDown(_) => Kind::Form,
            Self::FarUnder(_) | Self::FarOver(_) => Kind::Volume,
            Self::Ascending { .. } => Kind::Ramping,
            Self::UnderFive(_) => Kind::Heavy,
            Self::ShortRests { .. } => Kind::Rests,
        }
    }
}

/// What is known of a member's week.
pub struct Facts<'a> {
    /// The member.
    pub lifter: &'a Lifter<'a>,
    /// The week.
    pub week: Week,
    /// The day of asking, in the week or after it.
    pub today: NaiveDate,
    /// The sets of the week, in order.
    pub sets: &'a [&'a LoggedSet],
    /// What they add up to, against the member's aims.
    pub tally: &'a WeeklyVolume,
    /// How the plan was followed; without a plan all sets are extra ones.
    pub adherence: &'a Adherence,
    /// Counted sets that the plan still lacks, by muscle in the order of the tally; none without a
    /// plan.
    pub lacking: &'a [f64],
    /// Exercises of the sessions done of which no set was done, nor of any other in their place.
    pub left_out: &'a [ExerciseId],
    /// Whether it is a lighter week: then only whether the lighter plan is done matters.
    pub lighter: bool,
    /// Whether nothing was to be done in it.
    pub rest_week: bool,
    /// The last day of an absence that is over.
    pub back: Option<NaiveDate>,
    /// Whether somebody who never posted could have by now: others of the team have, and no plan of
    /// theirs is yet to begin.
    pub expected: bool,
    /// Exercises that are planned under five repetitions.
    pub heavy: &'a [ExerciseId],
    /// How the lifts of this week are coming along.
    pub courses: &'a [(ExerciseId, Course)],
    /// Days with a set of the last weeks, in order.
    pub trained: &'a [NaiveDate],
    /// The last day with a set, ever.
    pub last_day: Option<NaiveDate>,
}

/// The reasons to look at a member, the most urgent first; none where all is well.
pub fn concerns(facts: &Facts<'_>) -> Vec<Concern> {
    if facts.rest_week {
        return Vec::new();
    }
    if let Some(silent) = silent(facts) {
        return vec![silent];
    }
    let runs = runs(facts.sets.iter().copied());
    let courses = match facts.lighter {
        true => Vec::new(),
        false => of_courses(facts.courses),
    };
    let concerns = missed(facts)
        .into_iter()
        .chain(short_of_sets(facts))
        .chain(effort(facts))
        .chain(courses)
        .chain(volume(facts))
        .chain(ascending(facts, &runs))
        .chain(under_five(facts))
        .chain(short_rests(facts, &runs));
    let mut concerns: Vec<Concern> = concerns.collect();
    concerns.sort_by_key(Concern::kind);
    concerns
}

/// The day by which is judged: the last of a week that is over.
fn as_of(facts: &Facts<'_>) -> NaiveDate {
    facts.today.min(facts.week.last_day())
}

/// Whether the week has shown how it goes: two training days, or no session that is still to come.
fn is_settled(facts: &Facts<'_>) -> bool {
    let mut days: Vec<NaiveDate> = facts.sets.iter().map(|set| set.day).collect();
    days.sort_unstable();
    days.dedup();
    let (done, asked) = facts.adherence.sessions();
    let all_done = asked > 0 && done == asked;
    days.len() >= DAYS_KNOWN || all_done || facts.today > facts.week.last_day()
}

fn silent(facts: &Facts<'_>) -> Option<Concern> {
    let as_of = as_of(facts);
    let known = facts.trained.iter().rfind(|day| **day <= as_of).copied();
    let Some(last) = known.or(facts.last_day.filter(|day| *day <= as_of)) else {
        // Somebody who joins is waited for until a session is missed, or until the week is over.
        let posted_since = facts.last_day.is_some();
        let over = facts.today >= facts.week.last_day() && facts.expected;
        let waited = over || facts.adherence.missed(facts.week, facts.today) > 0;
        return (waited && !posted_since).then_some(Concern::Silent(None, None));
    };
    let before: Vec<NaiveDate> = facts
        .trained
        .iter()
        .filter(|day| **day <= last)
        .copied()
        .collect();
    let usual = usual_days(&before);
    // Days away are no silence.
    let since = (as_of - facts.back.map_or(last, |back| back.max(last))).num_days();
    let most = SILENT_AFTER * whole(usual.unwrap_or(USUAL_DAYS)) + 1.0;
    let silent = since > SILENT_DAYS && whole(since) > most;
    silent.then_some(Concern::Silent(Some(last), usual))
}

/// Days that usually lie between two training days at most: nine in ten gaps are no longer. `None`
/// for too few to say.
pub fn usual_days(trained: &[NaiveDate]) -> Option<i64> {
    let gaps = trained.windows(2).filter_map(|pair| match pair {
        [one, next] => Some((*next - *one).num_days()),
        _ => None,
    });
    let mut gaps: Vec<i64> = gaps.filter(|gap| *gap > 0).collect();
    if gaps.len() < GAPS_KNOWN {
        return None;
    }
    gaps.sort_unstable();
    gaps.get((gaps.len() * 9).div_ceil(10) - 1).copied()
}

#[expect(clippy::cast_precision_loss, reason = "days, some thousands at most")]
const fn whole(days: i64) -> f64 {
    days as f64
}

fn missed(facts: &Facts<'_>) -> Option<Concern> {
    let sessions = facts.adherence.missed(facts.week, facts.today);
    let (_, of) = facts.adherence.sessions();
    let open = facts.adherence.open();
    let open = open.iter().filter_map(|one| one.planned_for);
    let mut days: Vec<NaiveDate> = open.collect();
    days.sort_unstable();
    days.truncate(usize::try_from(sessions).unwrap_or(usize::MAX));
    (sessions > 0).then_some(Concern::Missed { sessions, of, days })
}

fn short_of_sets(facts: &Facts<'_>) -> Option<Concern> {
    if !is_settled(facts) {
        return None;
    }
    let (done, of) = facts.adherence.sets_of_sessions_done(facts.today);
    let short = f64::from(done) < SHORT_OF_SETS * f64::from(of);
    let left_out = facts.left_out.to_vec();
    (short && of - done >= SETS_LACKING).then_some(Concern::ShortOfSets { done, of, left_out })
}

fn effort(facts: &Facts<'_>) -> Option<Concern> {
    if !is_settled(facts) {
        return None;
    }
    let efforts = facts.adherence.efforts;
    let all = efforts.rated + efforts.unrated;
    if !facts.lighter && all >= UNRATED_SETS && f64::from(efforts.rated) <= UNRATED * f64::from(all)
    {
        return Some(Concern::Unrated(all));
    }
    let (asked, left) = efforts.means().filter(|_| efforts.rated >= RATED)?;
    let most = |sets: u32| f64::from(sets) >= MOST_SETS * f64::from(efforts.rated);
    if left < TOO_HARD * asked && most(efforts.harder) {
        return Some(Concern::TooHard(efforts));
    }
    // A lighter week is meant to be easy.
    let easy = left - asked >= TOO_EASY.max(TOO_EASY_SHARE * asked) && most(efforts.easier);
    (easy && !facts.lighter).then_some(Concern::TooEasy(efforts))
}

/// Muscles far off: too few for the coach's target once the week is over, too many at any time. What a
/// plan asked for and was not done is told by its sessions and sets.
fn volume(facts: &Facts<'_>) -> Vec<Concern> {
    let over = facts.today > facts.week.last_day();
    let lines = || facts.tally.muscles.iter().enumerate();
    let under = lines().filter(|(place, line)| {
        let low = f64::from(line.band.low);
        // Who did the sets of the plan is not held to more.
        let asked = line.planned.map_or(low, |planned| planned.min(low));
        let lacks = facts.lacking.get(*place);
        let left_out = lacks.is_none_or(|lacking| *lacking > FAR_UNDER * asked);
        let asked_for = line.aim == AimFrom::Coach && asked >= SETS_OFF;
        over && !facts.lighter && asked_for && left_out && line.counted < FAR_UNDER * asked
    });
    let under: Vec<MuscleWeek> = under.map(|(_, line)| *line).collect();
    let settled = is_settled(facts);
    let above = lines().filter(|(_, line)| {
        let (high, times) = match line.aim {
            AimFrom::Coach => (f64::from(line.band.high), FAR_OVER),
            AimFrom::Plan if settled => (f64::from(line.band.high), FAR_OVER_PLAN),
            AimFrom::Plan | AimFrom::Published => return false,
        };
        line.counted > high * times && line.counted > high + SETS_OFF
    });
    let above: Vec<MuscleWeek> = above.map(|(_, line)| *line).collect();
    let mut concerns = Vec::new();
    if !under.is_empty() {
        concerns.push(Concern::FarUnder(under));
    }
    if !above.is_empty() {
        concerns.push(Concern::FarOver(above));
    }
    concerns
}

/// Those of the reasons that speak of how lifts are coming along: falling, standing still, run down.
pub fn of_courses(courses: &[(ExerciseId, Course)]) -> Vec<Concern> {
    let of = |is: &dyn Fn(&Course) -> Option<f64>| -> Vec<Slow> {
        let slow = courses.iter().filter_map(|(exercise, course)| {
            Some(Slow {
                exercise: *exercise,
                chance: is(course)?,
                change: course.change.middle,
            })
        });
        slow.collect()
    };
    let falls = |course: &Course| {
        let falls = course.change.middle <= FALL_A_WEEK;
        let clearly = course.falling.filter(|chance| *chance >= FALL && falls);
        // Of what does not gain, that which rather falls than stands is called falling.
        let gains_not = course.days >= STALL_DAYS && course.stalled >= Some(STALL);
        let falling = gains_not && course.signs.contains(&Sign::Falling);
        clearly.or(course.falling.filter(|_| falling))
    };
    let stands = |course: &Course| {
        let long_enough = course.days >= STALL_DAYS && falls(course).is_none();
        course
            .stalled
            .filter(|chance| *chance >= STALL && long_enough)
    };
    let (mut falling, mut stalled) = (of(&falls), of(&stands));
    // Of a dozen lifts one looks slow by chance now and then.
    if falling.len() + stalled.len() < 2 {
        for slow in [&mut falling, &mut stalled] {
            let gains_not = |lift: &Slow| {
                let course = courses.iter().find(|(id, _)| *id == lift.exercise);
                course.is_some_and(|(_, course)| course.stalled >= Some(ALONE))
            };
            slow.retain(gains_not);
        }
    }
    let mut concerns = Vec::new();
    if !falling.is_empty() {
        concerns.push(Concern::Falling(falling));
    }
    if !stalled.is_empty() {
        concerns.push(Concern::Stalled(stalled));
    }
    let all: Vec<Course> = courses.iter().map(|(_, course)| course.clone()).collect();
    let down = run_down(&all).filter(|chance| *chance >= FORM_DOWN);
    concerns.extend(down.map(Concern::RunDown));
    concerns
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
        set.kind == SetKind::Straight
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

#[cfg(test)]
mod tests;
