//! More load, less load, and when the last one is left.

use super::super::loads::Choice;
use super::super::{Decision, Reason};
use super::first::{by_word, reps_by_word};
use super::{
    CONFIDENCE, FIRST_CONFIDENCE, HELD, HOPELESS, LARGE_FROM_S, Lack, MOST_RAISE, MOST_RETURN,
    NEAR_FAILURE, OWN_REACH, Plan, Scene, UNUSUAL, was_meant_light,
};
use crate::domain::lifter::explanation::UNDER_USUAL;
use crate::domain::lifter::forecast::Expectation;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::{
    FEWEST_REPS, LEAST_LEFT, MOST_REPS, MOST_RESERVE, SAME_LOAD, UNSAID_LEFT,
};
use crate::domain::quantities::mass::Mass;

/// From set to set no load goes down to less than this share of the last, unless nothing went. Common
/// practice, no source.
const MOST_DROP: f64 = 0.6;
/// So many repetitions over the range are surely in the lifter: plainly too light.
const PLAINLY_OVER: u32 = 3;
/// Before a machine takes off some of the body, the body alone is tried down to this probability.
const PATIENCE: f64 = 0.7;
/// The second of [`REACH`], whole.
const WHOLE_REACH: u32 = 2;
/// Fewest repetitions of the body alone that are done again. Common practice, no source.
const FEWEST_ALONE: u32 = 3;
/// Probability from which an unrated set is taken to have been too far from failure.
const SURELY: f64 = 0.8;

impl Scene<'_> {
    /// Whether a set failed clearly earlier than was expected, at so few repetitions that one less is under the range, or,
    /// without a plan, shows as few by what was left: whatever a long rest may bring back, the load is too much for today.
    pub(super) fn is_spent(&self, last: &LoggedSet) -> bool {
        let left = last.rated().map_or(UNSAID_LEFT, Rir::reps);
        let fewest = self.own_low() + self.aim.rir.reps();
        let is_own = self.aim.sets.is_none();
        (self.has_failed() || is_own && left <= NEAR_FAILURE)
            && f64::from(last.reps) + left < fewest
            && (self.belief.surprise() < -UNUSUAL || self.fell_by_course())
            || self.has_failed() && is_own && self.away_days > 0.0
    }

    /// Whether a set that counts was ended so well before failure, by the lifter's word or by choice, that after a good
    /// rest as much is there again, and what is held of it does not speak plainly against that.
    pub(super) fn had_more(&self, last: &LoggedSet, choice: &Choice) -> bool {
        let said = last.rated().map_or(0.0, Rir::reps);
        let spare = f64::from(last.reps) + said - self.aim.rir.reps() - f64::from(self.least());
        let sure = match said >= MOST_RESERVE {
            true => HELD.1,
            false => HOPELESS,
        };
        let again = || self.forecast(choice, self.long_usual_rest(), self.aim.rir);
        (said >= NEAR_FAILURE && spare >= 1.0 || self.is_fives(last))
            && last.reps >= self.least()
            && again().at_least(self.least()) >= sure
    }

    /// Whether the lifter without a plan does fives: who stops at five again and again, and says nothing of failure, does
    /// five again at the same load, which a chance of counting alone would always take off. Common practice, no source.
    fn is_fives(&self, last: &LoggedSet) -> bool {
        let usual = self.own_reps(self.belief.usual().reps());
        let by_choice = match self.work.len() {
            1 => usual.is_none_or(|own| own < f64::from(FEWEST_REPS) + 0.5),
            _ => true,
        };
        let fives = by_choice && self.work.iter().all(|set| set.reps == FEWEST_REPS);
        self.aim.sets.is_none() && last.rir.is_none() && fives
    }

    /// A usual rest, or half the longest where that is more: a longer rest costs less than a load that is half as
    /// heavy.
    pub(super) fn long_usual_rest(&self) -> u32 {
        self.usual_rest().max(self.span().1 / 2)
    }

    /// Why the last set was plainly too light, if it was.
    pub(super) fn too_light(&self, last: &LoggedSet, choice: &Choice) -> Option<Reason> {
        // More load does nothing for a muscle that something else holds back.
        if last.gave_out.is_some() {
            return None;
        }
        let left = match last.rir {
            Some(rir) => rir.reps(),
            None => self.believed_left(last),
        };
        let usual = self.belief.usual();
        let is_first = self.work.len() == 1 && last.rir.is_some() && self.aim.sets.is_none();
        let done = f64::from(last.reps);
        if is_first && usual.begins_so_easy(choice.kg, done, left)
            || last.rir.is_some() && usual.is_cut_short(choice.kg, done, left)
        {
            return None;
        }
        if last.reps > MOST_REPS || left > MOST_RESERVE {
            Some(Reason::TooLight)
        } else if last.reps > self.own_high()
            && left >= self.aim.rir.reps().max(1.0)
            && !self.is_back_off(choice)
        {
            Some(Reason::OverTheRange)
        } else if self.is_beyond_own(last, choice) {
            Some(Reason::LightForYou)
        } else {
            let said = last.rir.map_or(f64::INFINITY, Rir::reps);
            // Whatever is held, a hard set under the range was not too light.
            if said <= MOST_RESERVE && last.reps < self.ask.aim.reps_low {
                return None;
            }
            // Nor one at a load that was worked with on one of the last days: there are other machines and other days.
            if usual.is_worked(choice.kg) {
                return None;
            }
            let again = self.forecast(choice, self.usual_rest(), self.aim.rir);
            // Nor was one in the range that is said to have ended near failure, unless no further set would
            // count: it is another machine, or a bad day.
            let over = match said <= NEAR_FAILURE {
                true => MOST_REPS + 1,
                false => (self.own_high() + PLAINLY_OVER).min(MOST_REPS + 1),
            };
            (again.at_least(over) >= SURELY).then_some(Reason::LightForYou)
        }
    }

    /// Whether by the lifter's word so many more were in a set than in their own at that load that a step is in it.
    fn is_beyond_own(&self, last: &LoggedSet, choice: &Choice) -> bool {
        let own = self.belief.usual().reps_at(choice.kg);
        let left = last.rated().map_or(0.0, Rir::reps);
        let more = |own: f64| f64::from(last.reps) + left >= own + f64::from(PLAINLY_OVER);
        let is_own = self.aim.sets.is_none() && self.belief.usual().is_steady();
        is_own && left >= NEAR_FAILURE && own.is_some_and(more) && !self.is_back_off(choice)
    }

    /// The last set's repetitions, or the lifter's own at its load where those are fewer; `None` where they have none.
    fn own_of_last(&self, from: &Choice) -> Option<f64> {
        let usual = self.belief.usual();
        let own = usual
            .is_steady()
            .then(|| self.own_reps(usual.reps_at(from.kg)));
        let (last, _) = self.last?;
        own.flatten().map(|own| own.min(f64::from(last.reps)))
    }

    /// Whether the last set was slowed, at less than the usual load: another kind of work.
    pub(super) fn is_other_work(&self) -> bool {
        let is_other = |(set, choice): (&LoggedSet, Choice)| {
            set.slowed && self.belief.usual().is_under(choice.kg)
        };
        self.last.is_some_and(is_other)
    }

    /// The same again after a usual rest, or as much more as goes by the lifter's word.
    pub(super) fn as_it_was(&self, last: &LoggedSet, from: &Choice) -> Plan {
        let left = last.rated().map_or(0.0, Rir::reps);
        let most = match left > MOST_RESERVE {
            true => by_word(f64::from(last.reps), left, self.aim.rir.reps()).min(MOST_RAISE),
            false => 1.0,
        };
        let all = self.choices(false);
        let place = all.partition_point(|choice| choice.kg <= most * from.kg + 1e-9);
        let heavier = place
            .checked_sub(1)
            .and_then(|place| all.get(place))
            .copied();
        let choice = heavier
            .filter(|choice| choice.kg > from.kg)
            .unwrap_or(*from);
        Plan {
            decision: self.direction(Some(&choice)),
            choice: Some(choice),
            rest_s: self.usual_rest(),
            reason: match choice.kg > from.kg {
                true => Reason::TooLight,
                false => Reason::Steady,
            },
        }
    }

    /// What to expect of slowed work, which plain sets do not foresee: about what was done. Trade practice, no source.
    pub(super) fn as_before(&self, last: &LoggedSet) -> Expectation {
        let left = last.rated().map_or(UNSAID_LEFT, Rir::reps);
        let more = (left - self.aim.rir.reps()).clamp(-1.0, 1.0);
        Expectation {
            median: f64::from(last.reps) + more - 0.5,
            low: last.reps.saturating_sub(WHOLE_REACH),
            high: last.reps + 1,
            rir: self.aim.rir,
        }
    }

    /// Whether there is nothing heavier to lift.
    pub(super) fn is_heaviest(&self, choice: &Choice) -> bool {
        let all = self.choices(false);
        all.last().is_some_and(|most| most.kg <= choice.kg + 1e-9)
    }

    /// Whether the last work set was heavier than the one before, which was hard at about the load that is usual, of a
    /// lifter who knows the lift and comes from no break: the heavier one was done tired.
    pub(super) fn went_up(&self) -> bool {
        let [.., before, last] = self.work.as_slice() else {
            return false;
        };
        let moved = |set: &LoggedSet| self.choice(set).kg;
        let usual = self.belief.usual().kg();
        let hard = before.rir.is_none_or(|left| left.reps() <= MOST_RESERVE);
        self.belief.span_days() > 0
            && self.away_days <= 0.0
            && hard
            && !was_meant_light(before)
            && last.reps > 0
            && moved(last) > moved(before) * (1.0 + SAME_LOAD)
            && usual.is_some_and(|usual| moved(before) >= UNDER_USUAL * usual)
    }

    /// Whether hard sets at more load came before it today: it is the lighter work after them.
    fn is_back_off(&self, choice: &Choice) -> bool {
        let hard = |set: &&&LoggedSet| set.reps >= self.least() && !is_light(set);
        let mut hard = self.work.iter().filter(hard);
        hard.any(|set| self.choice(set).kg > choice.kg * (1.0 + SAME_LOAD))
    }

    /// Repetitions that an unrated last set surely left; with what the set itself took still in
    /// the muscle, what is left now is what was left then.
    fn believed_left(&self, last: &LoggedSet) -> f64 {
        let choice = self.choice(last);
        let fresh = self.outlook.forecast(
            choice.log(),
            &self.condition.strain(self.exercise, 1e9),
            Rir::FAILURE,
        );
        let beyond = f64::from(last.reps) + MOST_RESERVE;
        if self.work.len() == 1 && fresh.at_least(last.reps + 4) >= SURELY {
            fresh.median().max(beyond) - f64::from(last.reps) + 0.1
        } else {
            (fresh.median() - f64::from(last.reps)).clamp(0.0, MOST_RESERVE)
        }
    }

    /// More load, if a step up still lands in the range.
    pub(super) fn more(&self, from: &Choice, reason: Reason) -> Option<Plan> {
        let all = self.choices(false);
        let next = all.partition_point(|choice| choice.kg <= from.kg + 1e-9);
        // On a first day back nothing is gone up to in one go.
        let back = self.away_days > 0.0;
        let known = self.belief.worked_kg().min(from.kg * MOST_RETURN);
        let step = from.kg * MOST_RAISE;
        let limit = match self.belief.usual().kg().filter(|_| back) {
            Some(usual) => step.min(usual.max(from.kg)),
            None => known.max(step),
        };
        let most = all
            .partition_point(|choice| choice.kg <= limit + 1e-9)
            .max((next + 1).min(all.len()));
        // At the load that is usual no step is larger than what was shown comes to for the lifter's own repetitions.
        let shown = self
            .own_of_last(from)
            .map_or(f64::INFINITY, |own| self.shown_for(own));
        let most = all
            .partition_point(|choice| choice.kg <= shown + 1e-9)
            .max((next + 1).min(all.len()))
            .min(most);
        let steps = all.get(next..most)?;
        // Of the lifter's own repetitions nearly as many are to go with a large step, by their word.
        let rated = self.last.is_some_and(|(last, _)| last.rated().is_some());
        let rated = rated && self.belief.usual().is_steady();
        let large = |step: &Choice| step.kg > from.kg * MOST_RAISE * (1.0 + SAME_LOAD);
        if rated
            && steps
                .first()
                .is_some_and(|step| large(step) && !self.goes_by_word(from, step))
        {
            return None;
        }
        let middle = f64::from(self.aim.reps_low + self.aim.reps_high) / 2.0;
        let rest = self.usual_rest();
        let fits = |reps: f64| steps.partition_point(|choice| self.does(choice, rest, reps));
        let fitting = match fits(middle.floor()) {
            0 => fits(f64::from(self.aim.reps_low)).min(1),
            count => count,
        };
        // Where much more is said to have been left, a step is right however vague the belief.
        let is_told = self.last.is_some_and(|(last, choice)| {
            let left = last.rated().map_or(0.0, Rir::reps);
            left > MOST_RESERVE || self.is_beyond_own(last, &choice)
        });
        let step = steps.first().filter(|step| {
            is_told
                && (step.kg <= from.kg * MOST_RAISE || self.goes_by_word(from, step))
                && self
                    .forecast(step, rest, self.aim.rir)
                    .at_least(self.least())
                    >= HOPELESS
        });
        let choice = match fitting.checked_sub(1) {
            Some(place) => *steps.get(place)?,
            None => *step?,
        };
        // The lifter's word that much more is left goes for something, whatever is held.
        let word = self.last.and_then(|(last, _)| {
            let left = last.rated()?.reps();
            let done = f64::from(last.reps);
            let own = self.own_of_last(from).unwrap_or(done);
            is_told.then(|| from.kg * by_word(done, left, self.aim.rir.reps() + own - done))
        });
        let heavier = word.and_then(|kg| {
            let place = steps.partition_point(|choice| choice.kg <= kg + 1e-9);
            steps.get(place.checked_sub(1)?).copied()
        });
        let choice = match heavier.filter(|heavier| heavier.kg > choice.kg) {
            Some(heavier) => heavier,
            None => choice,
        };
        Some(Plan {
            decision: Decision::AddLoad,
            choice: Some(choice),
            rest_s: self
                .shortest_rest(&choice, &self.in_range())
                .unwrap_or(rest),
            reason,
        })
    }

    /// Whether by the lifter's word nearly as many repetitions as were done go at a load that is more than a small step up.
    fn goes_by_word(&self, from: &Choice, to: &Choice) -> bool {
        self.last.is_some_and(|(last, _)| {
            let left = last.rated().map_or(0.0, Rir::reps);
            let done = f64::from(last.reps);
            let reps = reps_by_word(done, left, to.kg / from.kg) - self.aim.rir.reps();
            reps >= (done - OWN_REACH)
                .min(self.own_low())
                .max(f64::from(self.least()))
        })
    }

    /// Less load, the heaviest that lands in the range after a usual rest or half the longest; where a body lift knows
    /// no less, patience, then help; else the longest rest at the lightest load, if that has a
    /// chance; else enough.
    pub(super) fn less(&self, from: &Choice) -> Plan {
        if let Some(plan) = self.lighter(from, false) {
            return plan;
        }
        let limit = self.longest_rest();
        let lightest = self.choices(false).first().copied();
        let lightest = lightest
            .filter(|choice| choice.kg < from.kg)
            .unwrap_or(*from);
        let hope = |rest: u32| {
            self.forecast(&lightest, rest, self.aim.rir)
                .at_least(self.least())
        };
        let plan = |rest_s: u32| Plan {
            decision: self.direction(Some(&lightest)),
            choice: Some(lightest),
            rest_s,
            reason: match self.direction(Some(&lightest)) {
                Decision::DropLoad => self.why_less(from),
                _ => Reason::SoonerMayNotCount(self.least()),
            },
        };
        let patient = self.rests().find(|rest| hope(*rest) >= PATIENCE).map(plan);
        patient
            .or_else(|| self.body_alone(from))
            .or_else(|| self.lighter(from, true))
            .or_else(|| (hope(limit) >= HOPELESS).then(|| plan(limit)))
            .unwrap_or(Plan::finish(Reason::NothingMoreCounts))
    }

    /// The body alone again, for fewer repetitions, of a lifter without a plan who does a body lift without help: there is
    /// nothing to come off. `None` where few went, or few are likely. Common practice, no source.
    fn body_alone(&self, from: &Choice) -> Option<Plan> {
        let (last, _) = self.last?;
        let helped = |basis: Basis| basis == Basis::Assisted;
        let helped =
            helped(self.belief.basis()) || self.work.iter().any(|set| helped(set.load.basis));
        let alone = from.load.basis == Basis::Body || from.load.mass <= Mass::ZERO;
        let rest_s = self.long_usual_rest();
        let again = self.forecast(from, rest_s, self.aim.rir);
        let goes = last.reps >= FEWEST_ALONE && again.at_least(FEWEST_ALONE) >= HOPELESS;
        (self.aim.sets.is_none() && alone && !helped && goes).then_some(Plan {
            decision: Decision::SameLoad,
            choice: Some(*from),
            rest_s,
            reason: Reason::Steady,
        })
    }

    fn lighter(&self, from: &Choice, help: bool) -> Option<Plan> {
        let all = self.choices(help);
        let below = all.partition_point(|choice| choice.kg < from.kg - 1e-9);
        let lighter = all.get(..below)?;
        let spent = self.last.is_some_and(|(last, _)| self.is_spent(last));
        let low = match spent {
            true => self.own_low(),
            false => f64::from(self.aim.reps_low),
        };
        let failed = self.last.is_some_and(|(last, _)| last.reps == 0);
        let usual = self.long_usual_rest();
        // On the first day what is held is vague; after a set that failed early the day may be worse yet.
        let sure = match self.belief.span_days() == 0 && !spent {
            true => FIRST_CONFIDENCE,
            false => CONFIDENCE,
        };
        let soon = lighter.partition_point(|choice| self.does_surely(choice, usual, low, sure));
        let late = lighter.partition_point(|choice| self.is_reachable(choice));
        let mut place = if soon > 0 { soon } else { late }.checked_sub(1)?;
        // A small lift that failed early goes on at no load that takes more than a good rest.
        let small = self.population.rest_floor_s < LARGE_FROM_S;
        let is_soon = |choice: &Choice| {
            let rest = self.shortest_rest(choice, &self.in_range());
            rest.is_some_and(|rest| rest <= usual)
        };
        while spent && small && place > 0 && !is_soon(lighter.get(place)?) {
            place -= 1;
        }
        // Nor at more than what it showed comes to for the lifter's own repetitions.
        let most = match spent {
            true => self.shown_for(low + 1.0),
            false => f64::INFINITY,
        };
        while place > 0 && lighter.get(place)?.kg > most {
            place -= 1;
        }
        // However vague the belief, no load is so light that its median is over the range, where a
        // heavier one can do.
        while (!spent || failed) && place + 1 < late && self.is_over(lighter.get(place)?) {
            place += 1;
        }
        // Nor does more come off at once than is ever needed after a repetition that went, or than goes back to the usual load
        // after a heavier one that went as well.
        let usual = self.belief.usual().kg_for(self.shown());
        let is_own = self.aim.sets.is_none() && !self.has_failed();
        let usual = usual.filter(|usual| is_own && usual * (1.0 + SAME_LOAD) < from.kg);
        let least = usual.unwrap_or(0.0).max(MOST_DROP * from.kg) - 1e-9;
        while place + 1 < lighter.len() && !failed && lighter.get(place)?.kg < least {
            place += 1;
        }
        let choice = *lighter.get(place)?;
        Some(Plan {
            decision: Decision::DropLoad,
            choice: Some(choice),
            rest_s: self
                .shortest_rest(&choice, &self.in_range())
                .unwrap_or_else(|| self.longest_rest()),
            reason: self.why_less(from),
        })
    }

    /// The load at which by Epley's equation the last set's repetitions, done plus left, come to `reps` and what is to be
    /// left, kilograms moved.
    fn shown_for(&self, reps: f64) -> f64 {
        self.shown() / (1.0 + (reps + self.aim.rir.reps()) / 30.0)
    }

    /// Whether nothing was left in the last set, by the lifter's word.
    fn has_failed(&self) -> bool {
        let left = self.last.and_then(|(last, _)| last.rated());
        left.is_some_and(|left| left.reps() < LEAST_LEFT)
    }

    /// Maximum by the same equation, kilograms moved.
    fn shown(&self) -> f64 {
        self.last.map_or(f64::INFINITY, |(last, choice)| {
            let done = f64::from(last.reps) + last.rated().map_or(UNSAID_LEFT, Rir::reps);
            choice.kg * (1.0 + done / 30.0)
        })
    }

    /// Whether after the rest that it takes the median is over the range.
    fn is_over(&self, choice: &Choice) -> bool {
        let rest = self.shortest_rest(choice, &self.in_range());
        rest.is_some_and(|rest| {
            self.forecast(choice, rest, self.aim.rir).median() > f64::from(self.own_high()) + 0.5
        })
    }

    /// Whether the longest rest is good for the range.
    fn is_reachable(&self, choice: &Choice) -> bool {
        let rest = self.longest_rest();
        self.lacks(choice, rest, &self.in_range()).is_none()
    }

    fn why_less(&self, from: &Choice) -> Reason {
        let lighter_before = (self.work.iter()).any(|set| self.choice(set).kg < from.kg - 1e-9);
        // Fewer than the lifter's own were shown, not than can be done.
        let fell = |(last, _): (&LoggedSet, Choice)| self.is_spent(last) && !self.has_failed();
        if lighter_before || self.last.is_some_and(fell) {
            Reason::TooHeavy
        } else {
            let (reps, load, within_s) = (self.out_of_reach(from), from.load, self.longest_rest());
            let forecast = self.forecast(from, within_s, self.aim.rir);
            // What is as likely to be reached as not is not out of reach.
            if forecast.at_least(reps) >= HOPELESS {
                Reason::NotSure {
                    reps,
                    load,
                    within_s,
                }
            } else {
                Reason::OutOfReach {
                    reps,
                    load,
                    within_s,
                }
            }
        }
    }

    /// Repetitions that even the longest rest is not good for at this load.
    fn out_of_reach(&self, choice: &Choice) -> u32 {
        match self.lacks(choice, self.longest_rest(), &self.reach()) {
            Some(Lack::Range) => self.aim.reps_low.saturating_sub(WHOLE_REACH),
            _ => 0,
        }
        .max(self.least())
    }
}

/// Whether a set is said to have ended too far from failure to count.
fn is_light(set: &LoggedSet) -> bool {
    set.rated().is_some_and(|left| left.reps() > MOST_RESERVE)
}
