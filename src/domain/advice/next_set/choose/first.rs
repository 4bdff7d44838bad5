//! The first load of a day; `docs/decision.md` has it in words.

use super::super::loads::Choice;
use super::super::{Decision, Reason};
use super::{HELD, HOPELESS, MOST_RAISE, NEAREST, OWN_REACH, Plan, Scene, rested_s};
use crate::domain::advice::opening::{LEAST_RAISE, easing};
use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::forecast::SURE;
use crate::domain::lifter::gaussian::LEVEL;
use crate::domain::quantities::calendar::seconds_between;
use crate::domain::quantities::limits::{MOST_REPS, MOST_RESERVE, SAME_LOAD};

/// The first set of a day is laid at this share of the range, so that later sets stay in it.
/// Trade practice.
const OPENING_SHARE: f64 = 0.55;
/// A lift that was never done is opened with less than what related lifts let expect, by this share of the spread about
/// it, and by so much at most: the groove is new. Common practice, no source.
const NEW_LESS: (f64, f64) = (0.6, 0.12);
/// Whoever wants few of it begins half way to so many. Common practice, no source.
const NEW_REPS: f64 = 10.0;
/// Repetitions beyond the lifter's own that a heavier load is to leave room for. Common practice, no source.
const OWN_SPARE: f64 = 0.5;
/// The load of the last session is kept where its median is still at this share of the range.
/// Trade practice.
const KEEPING_SHARE: f64 = 0.35;
/// Repetitions that a raise between two sessions may cost a lifter who has no plan: loads go up by a step
/// when the repetitions at the old one allow it. Common practice, no source; a step of 2.5 % costs one.
const COST_OF_A_RAISE: f64 = 1.5;
/// Repetitions over those that were done that are to go at a raised load, with as many left as are aimed at, where only
/// what is held speaks for it: after one day, and later. Common practice, no source.
const SPARE_OF_A_RAISE: (f64, f64) = (2.0, 1.0);
/// Such a raise is this share at most, or one step of the rack.
const SMALL_RAISE: f64 = 1.05;
/// Of what is said to be left beyond three so much is counted on: such words are guesses (Hackett 2017, Zourdos 2021).
const GUESS_SHARE: f64 = 0.5;
/// Of strength lost by time away no more may be still to come back then, log. Trade practice, no source.
const STILL_LOST: f64 = 0.03;
/// So many times the repetitions of the last sessions are other work, and such a first set reaches the fewest wanted
/// with this probability. Common practice, no source: whoever goes from fives to fifteens begins light.
const OTHER_WORK: (f64, f64) = (1.5, 0.9);
/// Of the load that Epley's equation gives for fewer repetitions than those of the last sessions, this share is
/// gone up to at most. Common practice, no source: the first heavy day stays a step or two under it.
const HEAVIER_SHARE: f64 = 0.95;
/// So many repetitions over those of the last sessions are more than a change of form, and what is held says too little of
/// them to go beyond Epley's equation. Common practice, no source.
const MORE: f64 = 0.5;
/// A load that is a small step under another is this share of it at most, and the second at least. Common practice, no
/// source.
const STEP_UNDER: (f64, f64) = (0.98, 0.94);
/// With this probability at least it is still one that counts. Trade practice, no source.
const STEP_GOES: f64 = 0.05;
/// The same of a step of a rack of large steps.
const LARGE_STEP_UNDER: f64 = 0.9;
/// Within this time of the last set no load is raised, seconds: it is the same day, or the night after. Common practice,
/// no source.
const SAME_DAY_S: f64 = 16.0 * 3600.0;
/// Share of the usual load that is enough for a day that is light on purpose. Common practice, no source: 70 to 90 %.
const LIGHT_SHARE: f64 = 0.8;
/// Form of the day, log, under which it is a bad one. Trade practice, no source.
const BAD_FORM: f64 = -0.02;

impl Scene<'_> {
    /// The first load of the day: the heaviest whose median is at 0.55 of the range, at most 10 %
    /// or one step over the heaviest ever done for a set that counts, or what Epley's equation has for fewer
    /// repetitions; without a plan no raise that costs many of the lifter's own repetitions; else the lightest
    /// there is, for a body lift with help.
    pub(super) fn opening(&self) -> Plan {
        let rest = rested_s(self.ask);
        let hopeful = |choice: &Choice| {
            self.forecast(choice, rest, self.aim.rir)
                .at_least(self.least())
                >= HOPELESS
        };
        let choice = self
            .opening_among(&self.choices(false))
            .filter(hopeful)
            .or_else(|| self.opening_among(&self.choices(true)));
        match choice {
            None => Plan::finish(Reason::NothingMoreCounts),
            choice => Plan {
                decision: Decision::SameLoad,
                choice,
                rest_s: 0,
                reason: match self.belief.sets() {
                    0 => Reason::FromRelated,
                    _ if self.aim.light => Reason::LightDay,
                    _ if self.eased().is_some() => {
                        Reason::BackFromAway(whole_weeks(self.away_days))
                    }
                    _ => Reason::Opening,
                },
            },
        }
    }

    pub(super) fn opening_among(&self, all: &[Choice]) -> Option<Choice> {
        let span = f64::from(self.aim.reps_high) - f64::from(self.aim.reps_low);
        let reps = f64::from(self.aim.reps_low) + OPENING_SHARE * span;
        // Whoever does fewer by choice goes up where as many are left at the heavier load.
        let reps = self
            .own_reps(self.belief.usual().least())
            .map_or(reps, |own| reps.min(own + OWN_SPARE));
        let usual = self.belief.usual().kg();
        let worked = self.belief.worked_kg().max(usual.unwrap_or(0.0));
        let eased = self.eased();
        let next = all.partition_point(|choice| choice.kg <= worked + 1e-9);
        let new = self.belief.sets() == 0;
        let limit = match (eased, usual) {
            (Some(share), Some(usual)) => share * usual,
            _ if new => self.for_new(reps),
            _ => worked * MOST_RAISE.max(self.for_fewer()),
        };
        let limit = limit.min(self.for_more().unwrap_or(f64::INFINITY));
        let most = all.partition_point(|choice| choice.kg <= limit + 1e-9);
        let most = match eased {
            Some(_) => most.max(1),
            None if new => most.max(1),
            None if limit < worked => most.max(1),
            None => most.max(next + 1),
        };
        let allowed = all.get(..most.min(all.len()))?;
        let rest = match self.last {
            None => rested_s(self.ask),
            Some(_) => self.usual_rest(),
        };
        let fitting = allowed.partition_point(|choice| {
            self.does(choice, rest, reps) && self.is_light_enough(choice, rest)
        });
        let mut place = fitting.saturating_sub(1);
        // However vague the belief, no load that was worked with is left for one so light that its
        // median is over the range.
        while !new
            && eased.is_none()
            && allowed
                .get(place + 1)
                .is_some_and(|next| next.kg <= worked + 1e-9)
            && self.opens_over(allowed.get(place)?, rest)
        {
            place += 1;
        }
        let own = self.own_reps(self.belief.usual().reps());
        let first_over = usual.map_or(0, |usual| {
            allowed.partition_point(|choice| choice.kg <= usual * (1.0 + SAME_LOAD))
        });
        while place > 0 && self.costs_too_much(allowed.get(place)?, rest, place <= first_over) {
            place -= 1;
        }
        // Nothing is raised after a day that fell, twice within a day, or on a day on which other lifts went badly.
        while place > 0
            && (self.belief.usual().fell() || self.is_again_today() || self.is_bad_day())
            && allowed.get(place)?.kg > usual.unwrap_or(worked) * (1.0 + SAME_LOAD)
        {
            place -= 1;
        }
        let chosen = allowed.get(place).copied()?;
        let kept = usual.filter(|_| eased.is_none()).and_then(|usual| {
            // Pounds on a rack of kilograms, or a disc from elsewhere: the nearest there is, a hair under it.
            let at_most = allowed.partition_point(|choice| choice.kg <= usual * (1.0 + SAME_LOAD));
            let nearest = allowed.get(at_most.checked_sub(1)?)?;
            (nearest.kg >= usual * NEAREST).then_some(*nearest)
        });
        // What was right the last time is not changed for a hair, nor are the lifter's own
        // repetitions where no plan asks for others.
        let middle = f64::from(self.aim.reps_low) + KEEPING_SHARE * span;
        let middle = own.map_or(middle, |own| match self.belief.usual().fell_again() {
            true => own - OWN_REACH,
            false => own.min(middle),
        });
        // Within a small step it is left no further than is asked of it.
        let held = kept.and_then(|kept| {
            let least = (STEP_UNDER.1 * kept.kg).max(chosen.kg + 1e-9);
            let near = allowed
                .iter()
                .rev()
                .filter(|choice| choice.kg <= kept.kg + 1e-9 && choice.kg >= least);
            let keeps = |choice: &&Choice| {
                let is_kept = choice.kg >= kept.kg - 1e-9;
                self.keeps(choice, rest, middle, own, is_kept)
            };
            near.copied().find(|choice| keeps(&choice))
        });
        let chosen = match (held, kept) {
            (Some(held), _) => held,
            // What went is taken off by a step at a time, whatever is made of the sets after it.
            (None, Some(kept)) if self.is_held(own) && self.belief.usual().was_last(kept.kg) => {
                let step = step_under(kept.kg, allowed).filter(|step| {
                    let forecast = self.forecast(step, rest, self.aim.rir);
                    forecast.at_least(self.least()) >= STEP_GOES
                });
                step.map_or(chosen, |step| heavier(step, chosen))
            }
            _ => chosen,
        };
        // What fell on two days in a row is taken off by a step at least.
        let under = kept.filter(|kept| {
            self.belief.usual().fell_again() && own.is_some() && chosen.kg >= kept.kg - 1e-9
        });
        if let Some(step) = under.and_then(|kept| next_under(kept.kg, allowed)) {
            return Some(step);
        }
        if let Some(usual) = usual.filter(|_| eased.is_none() && self.missed) {
            return Some(after_a_gap(chosen, usual, allowed));
        }
        if let Some(top) = self.top_set(&chosen, all).filter(|_| eased.is_none()) {
            return Some(top);
        }
        let other = self.other_day(allowed);
        if let Some(other) = other.filter(|other| other.kg > chosen.kg && eased.is_none()) {
            return Some(other);
        }
        Some(
            match self.step_by_word(
                usual.filter(|_| eased.is_none() && !self.is_again_today()),
                all,
            ) {
                Some(step) => heavier(step, chosen),
                None => chosen,
            },
        )
    }

    /// The load of the last day but one, where so many repetitions are asked for as were done then, and not on the last day.
    fn other_day(&self, allowed: &[Choice]) -> Option<Choice> {
        let left = self.aim.rir.reps();
        let low = f64::from(self.aim.reps_low) + left - 0.5;
        let high = f64::from(self.aim.reps_high) + left + 0.5;
        let asked = self.aim.sets.is_some() && self.last.is_none();
        let kg = self
            .belief
            .usual()
            .other_day_kg(low, high)
            .filter(|_| asked)?;
        let place = allowed.partition_point(|choice| choice.kg <= kg * (1.0 + SAME_LOAD));
        allowed.get(place.checked_sub(1)?).copied()
    }

    /// The next step over the usual load, where the lifter goes up by one each day, or says that more are left than count, or
    /// is asked for clearly fewer repetitions than were done, and by Epley's equation they go: whatever is held, that is a step
    /// that goes. `None` where there is another plan, or a set was done today.
    fn step_by_word(&self, usual: Option<f64>, all: &[Choice]) -> Option<Choice> {
        let usual = usual.filter(|_| self.last.is_none())?;
        let held = self.belief.usual();
        let (done, left) = held.last_first_set()?;
        if self.aim.sets.is_some() {
            let asked = f64::midpoint(f64::from(self.aim.reps_low), f64::from(self.aim.reps_high));
            let place = all.partition_point(|choice| choice.kg <= usual * (1.0 + SAME_LOAD));
            let step = *all.get(place)?;
            let goes =
                step.kg <= usual * MOST_RAISE && reps_by_word(done, left, step.kg / usual) >= asked;
            let is_over = done >= f64::from(self.aim.reps_high) + 1.0;
            return (held.was_last(usual) && is_over && goes).then_some(step);
        }
        let most = usual * by_word(done, left, self.aim.rir.reps());
        // Who climbs has steps of their own; others go up by what is worth it.
        let least = match held.climbs() {
            true => 1.0 + SAME_LOAD,
            false => 1.0 + LEAST_RAISE - SAME_LOAD,
        };
        let place = all.partition_point(|choice| choice.kg <= usual * least);
        let step = *all.get(place)?;
        let climbs = (held.climbs() || held.has_grown()) && step.kg <= usual * MOST_RAISE;
        // Three left are as many as count, and on two days more than were to be left.
        let is_easy = left > MOST_RESERVE || held.left_each_day() >= MOST_RESERVE;
        let is_easy = is_easy && step.kg <= most;
        (held.was_last(usual) && (climbs || is_easy)).then_some(step)
    }

    /// Whether a load over that of the last session costs more of the lifter's own repetitions than a raise
    /// may.
    fn costs_too_much(&self, choice: &Choice, rest_s: u32, one_step: bool) -> bool {
        let usual_sets = self.belief.usual();
        let usual = usual_sets.kg().unwrap_or(f64::INFINITY);
        let Some(own) = self.own_reps(usual_sets.least()) else {
            return false;
        };
        let done = usual_sets.least_done().unwrap_or(0.0);
        // What was done goes with as many left as are aimed at by what was shown, or more by what is held; or it went before.
        let shown = usual_sets.most();
        let share = (1.0 + shown / 30.0) / (1.0 + (done + self.aim.rir.reps()) / 30.0);
        let is_known = choice.kg <= self.belief.worked_kg() + 1e-9;
        let spare = match usual_sets.is_first_day_over() {
            _ if is_known || choice.kg <= usual * share => 0.0,
            true => SPARE_OF_A_RAISE.0,
            false => SPARE_OF_A_RAISE.1,
        };
        let wanted = (own - COST_OF_A_RAISE)
            .max(done + spare)
            .min(f64::from(MOST_REPS));
        let reps = || self.forecast(choice, rest_s, self.aim.rir).median();
        let leap = choice.kg > usual * SMALL_RAISE && !is_known;
        choice.kg > usual * (1.0 + SAME_LOAD) && (leap && !one_step || reps() < wanted - 0.5)
    }

    /// Whether a load is light enough for the fewest repetitions wanted, where they are many more than the
    /// lifter has been doing.
    fn is_light_enough(&self, choice: &Choice, rest_s: u32) -> bool {
        let (times, sure) = OTHER_WORK;
        let fewest = f64::from(self.aim.reps_low) + self.aim.rir.reps();
        let usual = self.belief.usual().reps().unwrap_or(fewest);
        let forecast = || self.forecast(choice, rest_s, self.aim.rir);
        fewest <= times * usual || forecast().at_least(self.aim.reps_low) >= sure
    }

    /// Most load of a lift that was never done, kilograms moved: for so many repetitions, by Epley's equation, somewhat
    /// less than related lifts let expect.
    fn for_new(&self, reps: f64) -> f64 {
        let one_rm = self.belief.worked_kg() * self.population.picked.mean.exp();
        let (share, most) = NEW_LESS;
        let spread = self.outlook.blended().own_variance(LEVEL).sqrt();
        let reps = reps.max(f64::midpoint(reps, NEW_REPS)) + self.aim.rir.reps();
        (1.0 - (share * spread).min(most)) * one_rm / (1.0 + reps / 30.0)
    }

    /// What the load may go up by, a factor of 1 or more, where fewer repetitions are asked for, or planned,
    /// than the lifter has been doing.
    fn for_fewer(&self) -> f64 {
        let most = f64::midpoint(f64::from(self.aim.reps_low), f64::from(self.aim.reps_high))
            + self.aim.rir.reps();
        let usual = self
            .belief
            .usual()
            .reps()
            .filter(|_| self.aim.sets.is_some());
        let usual = usual.unwrap_or(most);
        (HEAVIER_SHARE * (1.0 + usual / 30.0) / (1.0 + most / 30.0)).max(1.0)
    }

    /// Most load for clearly more repetitions than the lifter has been doing, kilograms moved: what Epley's equation
    /// makes of the load so far, or what was done for so many lately; `None` where no more are asked for or planned.
    fn for_more(&self) -> Option<f64> {
        let usual = self.belief.usual();
        let (kg, reps) = (usual.kg()?, usual.reps()?);
        let left = self.aim.rir.reps();
        let wanted =
            f64::midpoint(f64::from(self.aim.reps_low), f64::from(self.aim.reps_high)) + left;
        // Who has done a lift for a few days does so many by choice.
        let is_asked = self.aim.sets.is_some() && usual.is_steady();
        if !is_asked || f64::from(self.aim.reps_low) + left <= reps + MORE {
            return None;
        }
        let by_law = kg * (1.0 + reps / 30.0) / (1.0 + wanted / 30.0);
        let done = usual.heaviest_for(f64::from(self.aim.reps_low) + left);
        Some(done.map_or(by_law, |done| by_law.max(done)))
    }

    /// Whether a first set would end over the range.
    fn opens_over(&self, choice: &Choice, rest_s: u32) -> bool {
        let forecast = self.forecast(choice, rest_s, self.aim.rir);
        forecast.median() > f64::from(self.aim.reps_high) + 0.5
    }

    /// Whether the load of the last session is still good for a first set.
    fn keeps(
        &self,
        choice: &Choice,
        rest_s: u32,
        reps: f64,
        own: Option<f64>,
        is_kept: bool,
    ) -> bool {
        let forecast = self.forecast(choice, rest_s, self.aim.rir);
        // Whose sets end at the fewest that count, by choice, is never sure of them.
        let at_fewest = |own| own < f64::from(self.ask.aim.reps_low) + 0.5;
        let (sure, short) = match own.is_some_and(at_fewest) {
            true => (HOPELESS, 1.0),
            false => (SURE.1, 0.5),
        };
        let held = is_kept && self.is_held(own);
        let (sure, short) = match held {
            true => (sure.min(HELD.1), short + HELD.0),
            false => (sure, short),
        };
        let reps = match held {
            true => reps.min(f64::from(self.least()) + HELD.0),
            false => reps,
        };
        forecast.median() >= reps - short && forecast.at_least(self.least()) >= sure
    }

    /// Whether the first set of the last day did as well as on the day before, which goes before what is made of the
    /// sets that came after it.
    fn is_held(&self, own: Option<f64>) -> bool {
        let fewest = f64::from(self.aim.reps_low) + self.aim.rir.reps();
        own.is_some() && self.belief.usual().is_held(fewest) && self.belief.owed() < STILL_LOST
    }

    /// Whether the last set of this lift was less than a night and a morning ago.
    fn is_again_today(&self) -> bool {
        let now = self.ask.now.timestamp_millis();
        self.last.is_none()
            && self.belief.sets() > 0
            && seconds_between(self.ask_at_ms(), now) < SAME_DAY_S
    }

    /// Whether the other lifts of today went clearly worse than usual.
    fn is_bad_day(&self) -> bool {
        self.last.is_none() && self.belief.expected_form() < BAD_FORM
    }

    fn ask_at_ms(&self) -> i64 {
        let held = self.ask.model.beliefs.get(&self.ask.exercise);
        held.map_or(0, Belief::at_ms)
    }

    /// Share of the last load that a first session back is held to, or one that is light on purpose; `None` for others.
    fn eased(&self) -> Option<f64> {
        let away = Some(self.away_days).and_then(easing);
        let light = self.aim.light.then_some(LIGHT_SHARE);
        let share = [away, light].into_iter().flatten().reduce(f64::min);
        share.filter(|_| self.belief.sets() > 0)
    }
}

/// What a first set opens with after sessions that were missed: no more than the load of the last one, or the step
/// under it where steps are small.
fn after_a_gap(chosen: Choice, usual: f64, allowed: &[Choice]) -> Choice {
    let least = allowed.partition_point(|choice| choice.kg <= usual + 1e-9);
    let as_before = least.checked_sub(1).and_then(|place| allowed.get(place));
    let most = step_under(usual, allowed).or_else(|| as_before.copied());
    most.filter(|most| most.kg < chosen.kg).unwrap_or(chosen)
}

/// The load a small step under one, where there is such a load.
fn step_under(kg: f64, allowed: &[Choice]) -> Option<Choice> {
    let (under, at_least) = STEP_UNDER;
    let place = allowed.partition_point(|choice| choice.kg <= kg * under + 1e-9);
    let step = place.checked_sub(1).and_then(|place| allowed.get(place));
    step.copied().filter(|step| step.kg >= at_least * kg)
}

/// The same, or, where steps are larger, the next load that is not far under it.
fn next_under(kg: f64, allowed: &[Choice]) -> Option<Choice> {
    step_under(kg, allowed).or_else(|| {
        let place = allowed.partition_point(|choice| choice.kg < kg * (1.0 - SAME_LOAD));
        let next = place.checked_sub(1).and_then(|place| allowed.get(place));
        next.copied()
            .filter(|next| next.kg >= LARGE_STEP_UNDER * kg)
    })
}

/// Load for as many repetitions as were done, at the effort `asked`, as a share of the load at which `left` were left:
/// Epley's equation, with half of what was left beyond a guess.
pub(super) fn by_word(done: f64, left: f64, asked: f64) -> f64 {
    (1.0 + (done + sure(left)) / 30.0) / (1.0 + (done + asked) / 30.0)
}

/// Repetitions to failure at so many times the load at which `left` were left, likewise.
pub(super) fn reps_by_word(done: f64, left: f64, times: f64) -> f64 {
    30.0 * ((1.0 + (done + sure(left)) / 30.0) / times - 1.0)
}

/// What is counted on of repetitions said to be left.
fn sure(left: f64) -> f64 {
    left.min(MOST_RESERVE) + GUESS_SHARE * (left - MOST_RESERVE).max(0.0)
}

fn heavier(one: Choice, other: Choice) -> Choice {
    if one.kg > other.kg { one } else { other }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to ten years just before"
)]
fn whole_weeks(days: f64) -> u32 {
    (days / 7.0).round().clamp(0.0, 520.0) as u32
}
