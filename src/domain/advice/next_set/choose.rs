//! The decision: same load with the shortest rest that does, else another load, else enough.

mod change;
mod course;
mod first;

use super::loads::{Choice, choices};
use super::{Advice, Ask, Check, Decision, Grounds, Reason, Trial};
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::condition::Condition;
use crate::domain::lifter::forecast::{Forecast, Outlook, SURE};
use crate::domain::lifter::model::Model;
use crate::domain::lifter::ramp;
use crate::domain::lifter::recovery::{BY_PACE, Strain};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::calendar::seconds_between;
use crate::domain::quantities::catalogue::Exercise;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::{
    FEWEST_REPS, LEAST_LEFT, MOST_REPS, MOST_RESERVE, UNSAID_LEFT,
};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::priors::Population;

/// Rests are advised in these steps, seconds.
const REST_STEP_S: u32 = 15;
/// A load is chosen so that its set reaches the fewest repetitions that count with this probability.
const CONFIDENCE: f64 = 0.95;
/// The same of a load taken off to on the first day of a lift: what is held is vague, and there is another word in a
/// few minutes. Trade practice, no source.
const FIRST_CONFIDENCE: f64 = 0.9;
/// Repetitions under the range that are still in reach of it, after the shortest rest and after the
/// longest: straight sets keep the load, not the repetitions. Trade practice, no source.
const REACH: (f64, f64) = (0.5, 2.0);
/// A load goes up by at most this share, or one step of the rack, over the heaviest ever done for
/// a set that counts. ACSM 2009: 2 to 10 %.
const MOST_RAISE: f64 = 1.10;
/// Towards loads that were done before it goes up by at most this share from set to set: a first
/// set at half of them is followed by one at three quarters. Common practice, no source.
const MOST_RETURN: f64 = 1.5;
/// On the way up half of what lacks goes on at a time, and from this share of the work load all of it, unless the last days
/// went otherwise. Common practice, no source.
const LAST_STEP: f64 = 0.8;
/// With this probability its first set reaches the fewest repetitions that count: what is held of it is vague, and the
/// share above is room enough. Trade practice, no source.
const NEW_SURE: f64 = 0.85;
/// The load of the last session stays down to so many repetitions further, and so likely to count, where its first
/// set went as well as on the day before, or, where that was a heavier load, was enough: what tired later sets
/// show is not held against it. Trade practice, no source.
const HELD: (f64, f64) = (2.0, 0.3);
/// Share of the load of the last session that the nearest load there is stands for it from. Trade practice, no source.
const NEAREST: f64 = 0.97;
/// Repetitions under their own that lifters without a plan still take for the same work. Common practice, no source.
const OWN_REACH: f64 = 2.0;
/// A set over its expectation, or under it, by this many standard deviations is mentioned.
const UNUSUAL: f64 = 1.0;
/// What a failing check adds to the rest, seconds. Breathing is back soonest (Vianna 2014: the
/// time constant of oxygen uptake is about half a minute to a minute). Trade practice.
const WAIT_S: (u32, u32) = (30, 60);
/// No set is hoped for under this probability of counting.
const HOPELESS: f64 = 0.5;
/// So many repetitions under what was to be expected a set failed short.
const SHORT: f64 = 2.0;
/// Large are lifts whose shortest rest is at least so long, seconds.
const LARGE_FROM_S: u32 = 90;
/// After a set of a large lift that failed short, and after a heavy one, no rest is shorter, seconds: ACSM 2009 gives
/// large lifts two to three minutes.
const AFTER_FAILING_S: u32 = 120;
const AFTER_A_HEAVY_SET_S: u32 = 150;
/// Most repetitions of a heavy set. *Source*: ACSM 2009, one to six for strength.
const MOST_OF_A_HEAVY_SET: u32 = 5;
/// From so much reserve on nobody waits longer than usual. Common practice, no source.
const FAR_FROM_FAILURE: f64 = 4.0;
/// A rest up to this is called short, seconds.
const SHORT_REST_S: u32 = 60;
/// A deficit smaller than this is none to speak of.
const HARDLY_TIRED: f64 = 0.02;
/// Most reserve of a set in the range that was no light one, by the lifter's word. Common practice, no source: work
/// sets end with none to two left.
const NEAR_FAILURE: f64 = 2.0;
/// A time without any training of so many times the usual one between two days of a lift, and at least so many days, is
/// one of missed sessions: by holiday, work or a cold. Common practice, no source.
const MISSED: (f64, f64) = (1.9, 9.0);
/// A time of no more than so many times the usual one between two days of a lift is no break. Common practice, no source.
const USUAL_GAP: f64 = 1.2;
/// A set that left so many more than it was to leave was too light on a light day too. Common practice, no source.
const LIGHTER_YET: f64 = 2.0;
/// Whose sets end, by choice and without a plan, at fewer repetitions than count means so: the range then lies about
/// them and is so many wide. Common practice, no source.
const FEW: u32 = 2;

/// What to do next; see the [module](super).
///
/// - Planned sets done: finish.
/// - No work set today: the opening load, or how to find a first one.
/// - After a failed attempt, less load.
/// - After sets that were easy on the way up, the opening load, or half as much again of the last.
/// - Plainly too light (over 30 repetitions, over 3 in reserve, over the range with effort to spare,
///   or surely three over it if done again): more load, at most 10 % or one step of the rack above
///   the last set, or up to half as much again where heavier was done before for a set that counts.
///   No load lies further than 10 % or one step beyond what was ever done so. Never after a hard set
///   under the range.
/// - Same load with the shortest rest, in steps of 15 s up to the limit, that is long enough: after
///   the shortest rest there is, the next set has at least 5 repetitions with probability 0.97 and
///   its median is at most half a repetition under the range; after the longest, 0.82 and two; in
///   proportion between. So the rest changes little where the lifter does, and a load is left only
///   when even the longest rest is not good for it.
/// - Else the heaviest load on the rack that has 5 with probability 0.95, and its median in the range,
///   after a usual rest, or half the longest where that is more; none so light that its median is over the range.
/// - Else enough.
///
/// What is sought is the least time for which the next set surely counts at the load that the range
/// asks for: a minute of rest costs every lifter the same and buys repetitions, fewer the longer it
/// is, so the surety asked for falls with the rest. No large lift rests less than the published
/// comparisons of rests speak for ([`crate::domain::quantities::priors`]).
///
/// A failing check turns the answer to waiting and lengthens the rest.
///
/// *Source*: the rules are trade practice; steps of load ACSM 2009.
#[must_use]
pub fn next_set(ask: &Ask<'_>) -> Advice {
    match Scene::of(ask) {
        None => unknown(ask),
        Some(scene) => {
            let plan = scene.rested(scene.plan());
            let plan = scene.held_back(plan);
            scene.advice(&plan)
        }
    }
}

/// Whether the last set was a needless step up: hard sets at about the usual load went before it, and nothing is to be
/// found out.
#[must_use]
pub fn went_up(ask: &Ask<'_>) -> bool {
    Scene::of(ask).is_some_and(|scene| scene.went_up())
}

/// What would come of the load, rest and effort asked about; what is not named is taken from
/// [`next_set`].
#[must_use]
pub fn what_if(ask: &Ask<'_>, trial: &Trial) -> Advice {
    let Some(mut scene) = Scene::of(ask) else {
        return Advice {
            load: trial.load,
            rest_s: trial.rest_s.unwrap_or_default(),
            ..unknown(ask)
        };
    };
    scene.aim.rir = trial.rir.unwrap_or(scene.aim.rir);
    scene.effort_named = trial.rir.is_some();
    let plan = scene.plan();
    let choice = match trial.load {
        Some(load) => Some(Choice::new(load, scene.exercise, ask.lifter.body_mass)),
        None => plan.choice.or(scene.last.map(|(_, choice)| choice)),
    };
    let rest_s = trial.rest_s.unwrap_or_else(|| {
        choice
            .and_then(|choice| scene.shortest_rest(&choice, &scene.reach()))
            .unwrap_or(scene.usual_rest())
    });
    let asked = Plan {
        decision: scene.direction(choice.as_ref()),
        choice,
        rest_s,
        reason: Reason::Asked,
    };
    scene.advice(&asked)
}

/// The numbers behind `advice`, which was given to this question; `None` where it has no load.
#[must_use]
pub fn grounds(ask: &Ask<'_>, advice: &Advice) -> Option<Grounds> {
    let scene = Scene::of(ask)?;
    let choice = Choice::new(advice.load?, scene.exercise, ask.lifter.body_mass);
    let rir = advice.expect.map_or(scene.aim.rir, |expect| expect.rir);
    let missing = |seconds: f64| scene.condition.strain(scene.exercise, seconds).total;
    let rest = (f64::from(scene.rest_before(advice.rest_s)) - scene.head_start_s).max(0.0);
    let half = (1..=HALF_WITHIN_S / 5)
        .map(|step| 5 * step)
        .find(|&seconds| missing(f64::from(seconds)) <= 0.5 * missing(0.0));
    let rest_s = scene.rest_before(advice.rest_s);
    let forecast = scene.forecast_by(&scene.likeliest, &choice, rest_s, rir);
    Some(Grounds {
        fresh: scene
            .outlook
            .forecast_asked(choice.log(), &Strain::default(), rir)
            .median(),
        counts: (scene.least(), forecast.at_least(scene.least())),
        missing: (missing(0.0), missing(rest)),
        half_back_s: half.filter(|_| missing(0.0) > HARDLY_TIRED),
        slowness: scene.outlook.likeliest().shape()[BY_PACE].exp(),
    })
}

/// Widest interval of repetitions that is said of a lift never done. Trade practice, no source.
const USABLE: u32 = 10;
/// Half of any deficit is back within this time.
const HALF_WITHIN_S: u32 = 1800;

fn unknown(ask: &Ask<'_>) -> Advice {
    let (decision, rest_s, reason) = match ask.failing {
        [] => (Decision::SameLoad, 0, Reason::FindFirstLoad),
        failing => (Decision::Wait, rest_by_now(ask, failing), Reason::NotReady),
    };
    Advice {
        exercise: ask.exercise,
        decision,
        load: None,
        rest_s,
        expect: None,
        limits: sorted(ask.failing),
        reason,
    }
}

/// Seconds since the last set of this exercise today (0 where there was none).
fn rested_s(ask: &Ask<'_>) -> u32 {
    let since = ask.run.last().map_or(ask.now, |set| set.at);
    whole_seconds(seconds_between(
        since.timestamp_millis(),
        ask.now.timestamp_millis(),
    ))
}

/// The rest when a check fails: what there has been, and a bit.
fn rest_by_now(ask: &Ask<'_>, failing: &[Check]) -> u32 {
    let (breath, other) = WAIT_S;
    let only_breath = failing.iter().all(|check| *check == Check::Breath);
    let more = if only_breath { breath } else { other };
    rested_s(ask).div_ceil(REST_STEP_S) * REST_STEP_S + more
}

fn sorted(failing: &[Check]) -> Vec<Check> {
    let mut limits = failing.to_vec();
    limits.sort_unstable();
    limits.dedup();
    limits
}

#[derive(Clone, Copy)]
struct Plan {
    decision: Decision,
    choice: Option<Choice>,
    rest_s: u32,
    reason: Reason,
}

/// Repetitions that the median is to reach: after the shortest rest, and after the longest.
struct Goal {
    soon: f64,
    late: f64,
}

/// What a set at some load and rest lacks.
#[derive(Clone, Copy)]
enum Lack {
    /// A chance of counting that is good enough for the rest.
    Counting,
    /// A median in reach of the range.
    Range,
}

fn between((first, last): (f64, f64), part: f64) -> f64 {
    first + (last - first) * part
}

impl Plan {
    const fn finish(reason: Reason) -> Self {
        Self {
            decision: Decision::Finish,
            choice: None,
            rest_s: 0,
            reason,
        }
    }
}

/// Everything the decision looks at, worked out once.
struct Scene<'a> {
    ask: &'a Ask<'a>,
    aim: Aim,
    exercise: &'a Exercise,
    population: Population,
    condition: Condition,
    belief: Belief,
    outlook: Outlook,
    /// The same with nothing but what is likeliest.
    likeliest: Outlook,
    /// Today's work sets, those left out that were on the way up.
    work: Vec<&'a LoggedSet>,
    /// The last work set today, with its load.
    last: Option<(&'a LoggedSet, Choice)>,
    /// Whether the lifter named the effort, rather than is asked for it.
    effort_named: bool,
    /// Seconds from the end of the last set of this exercise to the time of the condition.
    head_start_s: f64,
    /// Days since the last set of this exercise in which nothing was trained.
    away_days: f64,
    /// Whether sessions were missed; see [`missed`].
    missed: bool,
}

impl<'a> Scene<'a> {
    fn of(ask: &'a Ask<'a>) -> Option<Self> {
        let exercise = ask.lifter.catalogue.exercise(ask.exercise);
        let population = ask.lifter.population(exercise);
        let moved = |set: &LoggedSet| set.load.moved(exercise, ask.lifter.body_mass).in_kg();
        let work = ramp::work(ask.run, moved);
        let last = work.last().copied();
        let (condition, belief) = held(ask, last.is_some(), exercise, &population)?;
        let belief = match last {
            Some(_) => belief,
            None => belief.advanced(ask.now, ask.now.date_naive(), &condition, &population),
        };
        // A first day back stays one to its end.
        let away_days = ask.model.beliefs.get(&ask.exercise).map_or(0.0, |held| {
            let from = match last {
                Some(_) => held.day_before_ms(),
                None => held.at_ms(),
            };
            let away = condition.away_days(from, ask.now.timestamp_millis());
            // A lift that is done once a month is not away for a month.
            match held.usual_gap_days() {
                Some(usual) if away <= USUAL_GAP * usual => 0.0,
                _ => away,
            }
        });
        let since = ask.run.last().map_or(ask.now, |set| set.at);
        let head_start_s = condition
            .at_ms()
            .map_or(0.0, |at| seconds_between(since.timestamp_millis(), at));
        let outlook = belief.outlook(&condition, &population);
        let mut aim = meant(ask.aim, &belief, exercise);
        if let Some(light) = last.filter(|set| was_meant_light(set)) {
            aim.rir = light.asked.unwrap_or(aim.rir);
        }
        Some(Self {
            ask,
            aim,
            exercise,
            likeliest: outlook.with_likeliest_alone(),
            outlook,
            population,
            condition,
            belief,
            work,
            last: last.map(|set| (set, Choice::new(set.load, exercise, ask.lifter.body_mass))),
            effort_named: false,
            head_start_s,
            away_days,
            missed: last.is_none() && missed(ask),
        })
    }

    fn choice(&self, set: &LoggedSet) -> Choice {
        Choice::new(set.load, self.exercise, self.ask.lifter.body_mass)
    }

    fn forecast(&self, choice: &Choice, rest_s: u32, rir: Rir) -> Forecast {
        self.forecast_by(&self.outlook, choice, rest_s, rir)
    }

    fn forecast_by(&self, outlook: &Outlook, choice: &Choice, rest_s: u32, rir: Rir) -> Forecast {
        let rest = (f64::from(rest_s) - self.head_start_s).max(0.0);
        let strain = self.condition.strain(self.exercise, rest);
        outlook.forecast_after(choice.log(), &strain, rir, !self.effort_named, rest)
    }

    /// Whether a set would count with confidence and its median reach `reps`.
    fn does(&self, choice: &Choice, rest_s: u32, reps: f64) -> bool {
        self.does_surely(choice, rest_s, reps, CONFIDENCE)
    }

    /// Whether a set would count with this probability, or the least there is for it, and its median reach `reps`.
    fn does_surely(&self, choice: &Choice, rest_s: u32, reps: f64, sure: f64) -> bool {
        let forecast = self.forecast(choice, rest_s, self.aim.rir);
        let sure = match () {
            () if self.belief.sets() == 0 => NEW_SURE,
            // Whose sets end at the fewest that count, by choice, is never sure of them.
            () if self.ends_at_fewest() => SURE.1,
            () => sure,
        };
        forecast.median() >= reps - 0.5 && forecast.at_least(self.least()) >= sure
    }

    /// Whether the lifter's own first sets, in this session at the load of the last set, end at the fewest repetitions
    /// wanted.
    fn ends_at_fewest(&self) -> bool {
        let last = self
            .last
            .and_then(|(_, last)| self.belief.usual().reps_at(last.kg));
        let own = self.own_reps(last);
        own.is_some_and(|own| own < f64::from(self.ask.aim.reps_low) + 0.5)
    }

    /// What a set after this rest still lacks, if anything.
    ///
    /// It is judged by what is likeliest: a doubt whether the sets so far were easy is settled by the
    /// next one, not by a longer rest.
    fn lacks(&self, choice: &Choice, rest_s: u32, goal: &Goal) -> Option<Lack> {
        let forecast = self.forecast_by(&self.likeliest, choice, rest_s, self.aim.rir);
        let part = self.part(rest_s);
        if forecast.at_least(self.least()) < between(SURE, part) {
            Some(Lack::Counting)
        } else if forecast.median() < between((goal.soon, goal.late), part) - 0.5 {
            Some(Lack::Range)
        } else {
            None
        }
    }

    /// Where a rest lies from the shortest (0) to the longest (1).
    fn part(&self, rest_s: u32) -> f64 {
        let (floor, limit) = self.span();
        let over = f64::from(rest_s.saturating_sub(floor));
        (over / f64::from((limit - floor).max(1))).min(1.0)
    }

    /// Fewest repetitions that count; a plan of heavier sets counts as it is meant.
    fn least(&self) -> u32 {
        FEWEST_REPS.min(self.aim.reps_low)
    }

    /// What is asked of another set at the load of the last.
    fn reach(&self) -> Goal {
        let under = |less: f64| (f64::from(self.aim.reps_low) - less).max(f64::from(self.least()));
        Goal {
            soon: under(REACH.0),
            late: under(REACH.1),
        }
    }

    /// What is asked of a set at a load chosen for it.
    fn in_range(&self) -> Goal {
        let low = f64::from(self.aim.reps_low);
        Goal {
            soon: low,
            late: low,
        }
    }

    /// Shortest and longest rest.
    fn span(&self) -> (u32, u32) {
        let limit = self.aim.rest_limit_s.max(REST_STEP_S);
        (self.population.rest_floor_s.min(limit), limit)
    }

    fn rests(&self) -> impl Iterator<Item = u32> {
        let (floor, limit) = self.span();
        (0..)
            .map(move |n| floor + n * REST_STEP_S)
            .take_while(move |rest| *rest <= limit)
    }

    fn longest_rest(&self) -> u32 {
        self.rests().last().unwrap_or_else(|| self.usual_rest())
    }

    fn usual_rest(&self) -> u32 {
        self.population.rest_usual_s.min(self.span().1)
    }

    fn shortest_rest(&self, choice: &Choice, goal: &Goal) -> Option<u32> {
        self.rests()
            .find(|&rest| self.lacks(choice, rest, goal).is_none())
    }

    fn plan(&self) -> Plan {
        let Some((last, choice)) = self.last else {
            return self.opening();
        };
        // The parts of a drop set are sets of the plan as they are counted.
        let whole = self.work.iter().copied().filter(|set| ramp::is_whole(set));
        let parts = self.ask.run.iter().filter(|set| !ramp::is_whole(set));
        let done = whole.chain(parts).filter(|set| set.reps > 0);
        if self
            .aim
            .sets
            .is_some_and(|sets| done.count() >= sets as usize)
        {
            return Plan::finish(Reason::PlanDone);
        }
        if self.is_as_many_as_always(last) {
            return Plan::finish(Reason::AsManyAsAlways);
        }
        // Where nothing went, no rest is the answer, whatever the attempt failed for.
        if last.reps == 0 {
            return self.less(&choice);
        }
        if self.is_other_work() {
            return self.as_it_was(last, &choice);
        }
        if was_meant_light(last) {
            return Plan {
                decision: Decision::SameLoad,
                choice: Some(choice),
                rest_s: self.usual_rest(),
                reason: Reason::Steady,
            };
        }
        if let Some(plan) = self.way_up(last, &choice) {
            return plan;
        }
        if let Some(plan) = self.after_doubt(&choice) {
            return plan;
        }
        if let Some(plan) = self.by_course(last, &choice) {
            return plan;
        }
        let light = self.too_light(last, &choice);
        if let Some(plan) = light.and_then(|why| self.more(&choice, why)) {
            return plan;
        }
        if light.is_some() && self.is_heaviest(&choice) {
            return Plan {
                decision: Decision::SameLoad,
                choice: Some(choice),
                rest_s: self.span().0,
                reason: Reason::HeaviestThereIs,
            };
        }
        if self.is_spent(last) {
            return self.less(&choice);
        }
        match self.shortest_rest(&choice, &self.reach()) {
            // Whatever gave out first is what rests longest.
            Some(rest_s) if last.gave_out.is_some() => Plan {
                decision: Decision::SameLoad,
                choice: Some(choice),
                rest_s: rest_s.max(self.usual_rest()),
                reason: Reason::Steady,
            },
            Some(rest_s) => Plan {
                decision: Decision::SameLoad,
                choice: Some(choice),
                rest_s,
                reason: self.why_so_long(&choice, rest_s),
            },
            None if self.had_more(last, &choice) => Plan {
                decision: Decision::SameLoad,
                choice: Some(choice),
                rest_s: self.long_usual_rest(),
                reason: Reason::Steady,
            },
            None => self.less(&choice),
        }
    }

    /// Whether a lifter without a plan has done as many sets as on each of the last days, all at the load that is usual,
    /// and the last one as hard as work is.
    fn is_as_many_as_always(&self, last: &LoggedSet) -> bool {
        let usual = self.belief.usual();
        let is_enough = |sets: usize| self.work.len() >= sets;
        let left = last.rated().map_or(UNSAID_LEFT, Rir::reps);
        let mut loads = self.work.iter().map(|set| self.choice(set).kg);
        self.aim.sets.is_none()
            && usual.always().is_some_and(is_enough)
            && (LEAST_LEFT..=MOST_RESERVE).contains(&left)
            && loads.all(|kg| usual.was_last(kg))
    }

    /// After a set whose load is beyond belief the next is what the day opens with; `None` after any other, and where
    /// what is known foresees that it goes again.
    fn after_doubt(&self, from: &Choice) -> Option<Plan> {
        let doubted = self.belief.doubted_kg()?;
        if from.kg < doubted * NEAREST || self.shortest_rest(from, &self.reach()).is_some() {
            return None;
        }
        let choice = self.opening_among(&self.choices(false))?;
        Some(Plan {
            decision: self.direction(Some(&choice)),
            choice: Some(choice),
            rest_s: self.long_usual_rest(),
            reason: Reason::TooHeavy,
        })
    }

    /// After sets on the way up the next is what the day opens with, or a step towards it; `None` where the
    /// last set was no such set, or is where the day opens.
    fn way_up(&self, last: &LoggedSet, from: &Choice) -> Option<Plan> {
        // The lifter's word that a set was hard goes before what is held of it.
        let hard = last.rir.is_some_and(|rir| rir.reps() <= MOST_RESERVE);
        let course = self.belief.course();
        let as_then = last.rir.is_none() && self.aim.sets.is_none() && course.is_way(from.kg);
        if hard || !self.belief.is_on_the_way_up() && !as_then {
            return None;
        }
        let all = self.choices(false);
        let opening = self.opening_among(&all)?;
        let most = match course.after(from.kg) {
            Some(step) if MOST_RAISE * step * from.kg < opening.kg => step * from.kg,
            None if from.kg < LAST_STEP * opening.kg => f64::midpoint(from.kg, opening.kg),
            _ => opening.kg,
        };
        let place = all.partition_point(|choice| choice.kg <= most + 1e-9);
        let choice = *all.get(place.checked_sub(1)?)?;
        (choice.kg > from.kg + 1e-9).then(|| Plan {
            decision: Decision::AddLoad,
            choice: Some(choice),
            rest_s: self
                .shortest_rest(&choice, &self.in_range())
                .unwrap_or(self.usual_rest()),
            reason: Reason::LightForYou,
        })
    }

    /// What decided the rest at the same load: how the last set went, where that was out of the
    /// usual, else, of a long rest, what a shorter one lacks.
    fn why_so_long(&self, choice: &Choice, rest_s: u32) -> Reason {
        let known = self.belief.sets() > 2;
        let surprise = self.belief.surprise();
        let shorter = rest_s.saturating_sub(REST_STEP_S);
        let lack = (rest_s > self.span().0)
            .then(|| self.lacks(choice, shorter, &self.reach()))
            .flatten();
        let long = rest_s > self.usual_rest();
        match lack {
            Some(_) if known && surprise < -UNUSUAL => Reason::TookMoreThanUsual,
            _ if known && !long && surprise > UNUSUAL => Reason::TookLessThanUsual,
            Some(_) if !long => Reason::Steady,
            Some(Lack::Counting) => Reason::SoonerMayNotCount(self.least()),
            Some(Lack::Range) => Reason::SoonerUnder(self.aim.reps_low),
            // The shortest rest of a large lift is no short one.
            None if self.span().0 > SHORT_REST_S => Reason::Steady,
            None => Reason::PlentyLeft,
        }
    }

    /// Of repetitions done plus left those done at the effort aimed at, where no plan asks for others.
    fn own_reps(&self, total: Option<f64>) -> Option<f64> {
        total
            .filter(|_| self.aim.sets.is_none())
            .map(|reps| reps - self.aim.rir.reps())
    }

    /// Fewest repetitions of a first choice of load: of the range, or, of a lifter who has been doing more without a plan,
    /// what is near those.
    fn own_low(&self) -> f64 {
        let usual = self.belief.usual();
        let steady = usual.is_steady() || usual.is_first_day_over();
        let own = steady.then(|| self.own_reps(usual.reps()));
        let low = f64::from(self.aim.reps_low);
        own.flatten().map_or(low, |own| low.max(own - OWN_REACH))
    }

    /// Most repetitions of the range, or of a lifter who has been doing more without a plan, by choice.
    fn own_high(&self) -> u32 {
        let usual = self.belief.usual();
        let own = usual.is_steady().then(|| self.own_reps(usual.reps()));
        let high = self.ask.aim.reps_high;
        let more = (high..MOST_REPS)
            .find(|reps| own.flatten().is_none_or(|own| own < f64::from(*reps) + 0.5));
        more.unwrap_or(high)
    }

    fn choices(&self, help: bool) -> Vec<Choice> {
        let done = self.last.map_or(self.belief.load(), |(set, _)| set.load);
        choices(
            self.exercise,
            done,
            &self.used(done),
            help,
            self.ask.rack,
            self.ask.unit,
            self.ask.lifter.body_mass,
        )
    }

    /// What was lifted today and on the last days in the manner of a load.
    fn used(&self, like: Load) -> Vec<Mass> {
        let run = self.ask.run.iter().map(|set| set.load);
        let known = (self.belief.sets() > 0).then(|| self.belief.load());
        let loads = run.chain(known).filter(|load| load.basis == like.basis);
        let loads = loads.filter(|load| load.unit == Unit::Kg);
        // What is kept of the last days is what was moved, not what was loaded.
        let moved = |kg: f64| {
            let load = Load {
                mass: Mass::from_kg(kg).unwrap_or_default(),
                unit: Unit::Kg,
                ..like
            };
            load.moved(self.exercise, self.ask.lifter.body_mass).in_kg()
        };
        let (some, more) = (moved(10.0), moved(20.0));
        let loaded = |kg: f64| 10.0 * (1.0 + (kg - some) / (more - some));
        let before = self.belief.course().loads().map(loaded);
        let halves = |kg: f64| (2.0 * kg).round() / 2.0;
        let before = before.filter(|kg| (kg - halves(*kg)).abs() < 0.01);
        let before = before.filter_map(|kg| Mass::from_kg(halves(kg)).ok());
        loads.map(|load| load.mass).chain(before).collect()
    }

    fn direction(&self, choice: Option<&Choice>) -> Decision {
        match (choice, self.last) {
            (Some(choice), Some((_, last))) if choice.kg < last.kg - 1e-9 => Decision::DropLoad,
            (Some(choice), Some((_, last))) if choice.kg > last.kg + 1e-9 => Decision::AddLoad,
            _ => Decision::SameLoad,
        }
    }

    /// The plan with the failing checks heeded: wait, and at least as long as it takes until then
    /// and a bit.
    fn held_back(&self, plan: Plan) -> Plan {
        if self.ask.failing.is_empty() || plan.decision == Decision::Finish {
            return plan;
        }
        Plan {
            decision: Decision::Wait,
            rest_s: plan.rest_s.max(rest_by_now(self.ask, self.ask.failing)),
            reason: Reason::NotReady,
            ..plan
        }
    }

    /// The plan with no short rest after a set of a large lift that was heavy, or failed short of what was usual or of
    /// the range, and with no long one after a set far from failure.
    fn rested(&self, plan: Plan) -> Plan {
        let Some((last, choice)) = self.last.filter(|_| plan.rest_s > 0) else {
            return plan;
        };
        let left = last.rated().map(Rir::reps);
        if left.is_some_and(|left| left >= FAR_FROM_FAILURE) {
            return Plan {
                rest_s: plan.rest_s.min(self.usual_rest()),
                ..plan
            };
        }
        let large = self.population.rest_floor_s >= LARGE_FROM_S;
        let heavy =
            last.reps <= MOST_OF_A_HEAVY_SET && left.is_some_and(|left| left <= NEAR_FAILURE);
        let least_s = match (large, heavy) {
            (false, _) => 0,
            (true, true) => AFTER_A_HEAVY_SET_S,
            (true, false) if self.fell_short(last, &choice) => AFTER_FAILING_S,
            (true, false) => 0,
        };
        Plan {
            rest_s: plan.rest_s.max(least_s.min(self.span().1)),
            ..plan
        }
    }

    /// Whether a set went to failure with clearly fewer repetitions than the first sets of the last days at that
    /// load, or, at another, than the range asks for.
    fn fell_short(&self, last: &LoggedSet, choice: &Choice) -> bool {
        let usual = self.belief.usual();
        let at_usual = usual.kg().filter(|kg| choice.kg >= NEAREST * kg);
        let wanted = match at_usual.and(usual.reps()) {
            Some(reps) => reps - SHORT,
            None => f64::from(self.aim.reps_low) - 1.0,
        };
        let failed = last.rated().is_some_and(|left| left.reps() < 0.5);
        failed && (f64::from(last.reps) <= wanted || self.belief.surprise() < -UNUSUAL)
    }

    /// A first set is done after what rest there has been; later ones after the rest advised.
    fn rest_before(&self, advised_s: u32) -> u32 {
        match self.last {
            None => rested_s(self.ask).max(advised_s),
            Some(_) => advised_s,
        }
    }

    fn advice(&self, plan: &Plan) -> Advice {
        let rest = self.rest_before(plan.rest_s);
        let expect = plan
            .choice
            .map(|choice| self.forecast(&choice, rest, self.aim.rir).expectation());
        // Of a lift that was never done an interval that nobody can use is left out.
        let vague = self.belief.sets() == 0 && plan.reason != Reason::Asked;
        let expect = match self.last {
            Some((last, _)) if self.is_other_work() && plan.reason != Reason::Asked => {
                Some(self.as_before(last))
            }
            _ => expect,
        };
        let expect = expect.filter(|expect| !vague || expect.high - expect.low <= USABLE);
        Advice {
            exercise: self.ask.exercise,
            decision: plan.decision,
            load: plan.choice.map(|choice| choice.load),
            rest_s: plan.rest_s,
            expect,
            limits: if plan.decision == Decision::Wait {
                sorted(self.ask.failing)
            } else {
                Vec::new()
            },
            reason: plan.reason,
        }
    }
}

/// What is held for the question; where the belief is missing though sets were done, it is made
/// from today's sets, and where none were, from a related lift.
fn held(
    ask: &Ask<'_>,
    worked: bool,
    exercise: &Exercise,
    population: &Population,
) -> Option<(Condition, Belief)> {
    if let Some(belief) = ask.model.beliefs.get(&ask.exercise) {
        return Some((ask.model.condition.clone(), belief.clone()));
    }
    if !worked {
        let condition = ask.model.condition.clone();
        let related = condition
            .expected_strength(exercise)
            .or_else(|| condition.strength_beside(exercise, ask.lifter.catalogue))?;
        let day = ask.now.date_naive();
        let belief = Belief::foreseen(related, exercise.basis, ask.now, day, population);
        return Some((condition, belief));
    }
    let model = Model::rebuild(ask.run, ask.lifter);
    let belief = model.beliefs.get(&ask.exercise)?.clone();
    Some((model.condition, belief))
}

/// The aim as the lifter means it, who without a plan has been doing fewer repetitions than count, or than are
/// asked of the lift.
fn meant(aim: Aim, belief: &Belief, exercise: &Exercise) -> Aim {
    let default = Aim::default_for(exercise.class);
    let is_default = (aim.reps_low, aim.reps_high) == (default.reps_low, default.reps_high);
    let usual = belief.usual();
    let done = |reps: f64| reps - aim.rir.reps();
    let few = usual.few().filter(|_| aim.sets.is_none()).map(done);
    let Some(own) = few.filter(|own| *own < f64::from(FEWEST_REPS) - 0.5) else {
        let own = usual.reps().filter(|_| aim.sets.is_none() && is_default);
        let lower = own.map(done).map_or(aim.reps_low, |own| {
            (FEWEST_REPS..aim.reps_low)
                .find(|reps| own < f64::from(*reps) + 0.5)
                .unwrap_or(aim.reps_low)
        });
        return Aim {
            reps_low: lower,
            ..aim
        };
    };
    let middle = (1..FEWEST_REPS)
        .rev()
        .find(|reps| f64::from(*reps) <= own + 0.5);
    let reps_low = middle.map_or(1, |middle| (middle - FEW / 2).max(1));
    Aim {
        reps_low,
        reps_high: reps_low + FEW,
        ..aim
    }
}

/// Whether a set was far from failure as it was to be: on a light day, or in a lighter week.
fn was_meant_light(set: &LoggedSet) -> bool {
    let asked = set.asked.map_or(0.0, Rir::reps);
    let said = set.rir.map_or(asked, Rir::reps);
    asked > MOST_RESERVE && said > MOST_RESERVE && said <= asked + LIGHTER_YET
}

/// Whether no lift was trained for so long that sessions of this one were missed, though not so long that strength was.
fn missed(ask: &Ask<'_>) -> bool {
    let held = ask.model.beliefs.get(&ask.exercise);
    let usual = held.and_then(Belief::usual_gap_days);
    let now = ask.now.timestamp_millis();
    let since = |at: i64| seconds_between(at, now) / 86_400.0;
    let gap = ask.model.condition.at_ms().map_or(0.0, since);
    let (times, least) = MISSED;
    usual.is_some_and(|usual| gap >= least && gap >= times * usual)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to a day just before"
)]
fn whole_seconds(seconds: f64) -> u32 {
    seconds.clamp(0.0, 86_400.0) as u32
}
