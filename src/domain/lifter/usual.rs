//! What a lifter usually works with on a lift: the load of the last days' hard sets, and how its first set went.
//!
//! A coach lays the next day's load from it: what was done the last time, whether it went, and whether one bad
//! day stands alone. What the lifter could lift is [`super::belief`]'s matter.

use super::codec::{Reader, Writer};
use super::explanation::UNDER_USUAL;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::{
    FEWEST_REPS, LEAST_LEFT, MOST_RESERVE, SAME_LOAD, UNSAID_LEFT,
};

/// Fewest repetitions of a set that is work by the lifter's choice; a single is a test. Common practice, no source.
const FEWEST_CHOSEN: u32 = 2;
/// Loads within this share are a step of the rack apart at most. Trade practice, no source.
const ALIKE: f64 = 0.04;
/// A load heavier than the last day's by this factor is no step of progress (ACSM 2009: 2 to 10 %).
const FAR: f64 = 1.1;
/// A first set short of the one of the day before by more than this, repetitions done plus left, fell.
const SHORT: f64 = 1.0;

/// So many repetitions short of failure a set well under the usual load is light; and after so many days of nothing but
/// such sets they are what is usual. Common practice, no source.
const FAR_FROM_FAILURE: f64 = 6.0;
const MOST_LIGHTS: u8 = 3;
/// Days in a row that fell from the same one; after them it is what is usual. Common practice, no source.
const MOST_FALLS: u8 = 2;
/// A first set short of the usual ones by more than this fell from them.
const FALL: f64 = 1.5;
/// One short of the one before by this, at the same load, is on the way down where it goes on like that.
const SLIDE: f64 = 0.75;
/// So many such days in a row, and the last a fall, are a trend. Common practice, no source.
const LONG_SLIDE: u8 = 3;

/// Fewest hard sets at a load by which a lifter has stayed at it. Common practice, no source.
const STAYED: f64 = 3.0;

/// Days in a row with a small step more, a factor at most, for as many repetitions less this, from which the next step is
/// the lifter's own; and what is left then, more than. Common practice, no source.
const RISES: u8 = 2;
const RISE: f64 = 1.2;
const RISE_COST: f64 = 0.5;
const LEFT_TO_CLIMB: f64 = 1.5;
/// So many repetitions more than at first, at the same load and on two days, are a step's worth. Common practice, no source:
/// the 2-for-2 rule ([`crate::domain::advice::opening::TWO_FOR_TWO`]).
const GROWN: f64 = 2.0;
/// So many repetitions more, done and not told, than those with which the lifter began, done plus left, are worth it on one
/// day. Common practice, no source.
const SHOWN: f64 = 3.0;
/// Days in a row with as many sets, from which that is the lifter's own number. Common practice, no source.
const ALWAYS: u8 = 4;
/// So many repetitions fewer than the last time, with as many more left, are a set that was ended early.
const CUT: f64 = 2.0;

/// The work of one day; loads are kilograms moved and 0 where there was no such set, repetitions are those done
/// plus left.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Day {
    /// Heaviest load of hard sets of as many repetitions as count.
    kg: f64,
    /// Repetitions of the first set at it.
    reps: f64,
    /// What that set left, by the lifter's word.
    left: f64,
    /// Hard sets at it, and the most repetitions of one of them, done plus left.
    sets: f64,
    most: f64,
    /// Repetitions of the first set after it at about the load of the day before.
    back: f64,
    /// Heaviest load of hard sets of fewer repetitions, and repetitions of the first at it.
    few_kg: f64,
    few_reps: f64,
    /// What that set left, by the lifter's word, and whether more could have been done: they were few by choice.
    few_left: f64,
    few_chosen: bool,
    /// Singles at that load that could have been more.
    singles: u8,
    /// Of a day that is over, whether its work was of so few.
    few: bool,
}

/// What a lifter usually works with on a lift.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Usual {
    /// The last day but one that is over, the last one, and today.
    days: [Day; 3],
    /// Whether the load of the last day was heavier than on the one before.
    rose: bool,
    /// The last day that was no fall, load, repetitions and what was left alone, the days since that were falls from it, and
    /// the days in a row, up to the last, that were each a little worse than the one before.
    base: (f64, f64, f64),
    falls: u8,
    slides: u8,
    /// Repetitions, done plus left, with which the lifter began at the load of the last day.
    begun: f64,
    /// Whether today is the first day back after time away.
    is_back: bool,
    /// Days in a row, up to the last, on which nothing but light sets were done; and whether one was done today.
    lights: u8,
    is_light: bool,
    /// Days in a row, up to the last, each with a small step more load than the one before for as many repetitions.
    rises: u8,
    /// The same with a small step less, for no more repetitions.
    sinks: u8,
    /// Work sets of today; those of the last day, and the days in a row, up to it, that had as many.
    done: u8,
    habit: (u8, u8),
}

impl Usual {
    /// With another hard set of today, at `kg` kilograms moved.
    pub(crate) fn note(&mut self, set: &LoggedSet, kg: f64) {
        let light = set.asked.filter(|asked| asked.reps() > MOST_RESERVE);
        let left = set.rated().or(light).map_or(UNSAID_LEFT, Rir::reps);
        let reps = f64::from(set.reps) + left;
        if set.slowed && self.is_under(kg) {
            self.is_light = true;
            return;
        }
        self.done = self.done.saturating_add(1);
        let [_, last, today] = &mut self.days;
        // Far from failure at less than the usual load is light on purpose.
        if left > MOST_RESERVE && kg < last.kg && !alike(kg, last.kg) {
            return;
        }
        if set.rated().is_none()
            && self.lights < MOST_LIGHTS
            && last.is_light(kg, f64::from(set.reps))
        {
            self.is_light = true;
            return;
        }
        if set.reps >= FEWEST_REPS {
            if is_over(kg, today.kg) {
                // Fewer may have been done before at this load.
                let first = is_over(kg, today.few_kg) || is_over(today.few_kg, kg);
                let reps = if first { reps } else { today.few_reps };
                today.left = left;
                (today.kg, today.reps, today.sets, today.back) = (kg, reps, 1.0, 0.0);
                today.most = reps;
            } else if !is_over(today.kg, kg) {
                today.sets += 1.0;
                today.most = today.most.max(reps);
            } else if today.back <= 0.0 && alike(kg, last.kg) {
                today.back = reps;
            }
        } else if set.reps == 1 && left >= 1.0 && !is_over(today.few_kg, kg) && !alike(kg, last.kg)
        {
            // One is a test, and several are work.
            today.singles = match is_over(kg, today.few_kg) {
                true => 1,
                false => today.singles.saturating_add(1),
            };
            if today.singles > 0 {
                (today.few_kg, today.few_reps, today.few_chosen) = (kg, reps, true);
                today.few_left = left;
            }
        } else if is_over(kg, today.few_kg)
            && (set.reps >= FEWEST_CHOSEN || (set.reps > 0 && alike(kg, last.kg)))
        {
            today.singles = 0;
            let asked = set.asked.map_or(0.0, Rir::reps);
            today.few_chosen = set.rated().is_some() && left >= asked + 1.0;
            (today.few_kg, today.few_reps, today.few_left) = (kg, reps, left);
        }
    }

    /// With today over.
    pub(crate) fn next_day(&mut self) {
        let done = std::mem::take(&mut self.done);
        let [_, last, today] = self.days;
        let (kg, reps) = today.work(&last);
        let few = is_over(kg, today.kg);
        let left = if few { today.few_left } else { today.left };
        let mut today = Day {
            kg,
            reps,
            left,
            few,
            ..today
        };
        // Who failed at few repetitions at the usual load, and did no more, fell.
        if today.kg <= 0.0 && today.few_failed() && alike(today.few_kg, last.kg) {
            (today.kg, today.reps, today.sets) = (today.few_kg, today.few_reps, 1.0);
        }
        if today.kg <= 0.0 {
            // A light day leaves what is usual as it is.
            self.lights = match std::mem::take(&mut self.is_light) {
                true => self.lights.saturating_add(1),
                false => self.lights,
            };
            self.days[1].few_kg = today.few_kg.max(last.few_kg);
            self.days[2] = Day::default();
            return;
        }
        (self.lights, self.is_light) = (0, false);
        self.habit = match self.habit {
            (sets, days) if sets == done => (sets, days.saturating_add(1)),
            _ => (done, 1),
        };
        self.rose = last.kg > 0.0 && is_over(today.kg, last.kg);
        let as_many = today.reps - today.left >= last.reps - last.left - RISE_COST;
        let climbed = self.rose && today.kg <= RISE * last.kg && as_many;
        self.rises = match climbed {
            true => self.rises.saturating_add(1),
            false => 0,
        };
        // A far heavier load that stood alone and was left for the old one is no new load to work with.
        let far = today.kg > FAR * last.kg;
        if self.rose && far && today.sets < 1.5 && today.back > 0.0 {
            (today.kg, today.reps, self.rose) = (last.kg, today.back, false);
        }
        let (kg, reps, left) = self.base;
        let base = Day {
            kg,
            reps,
            left,
            ..Day::default()
        };
        let again = alike(today.kg, last.kg);
        let sank = is_over(last.kg, today.kg) && today.reps <= last.reps + RISE_COST;
        self.sinks = match sank && again {
            true => self.sinks.saturating_add(1),
            false => 0,
        };
        self.slides = match again && today.reps <= last.reps - SLIDE {
            true => self.slides.saturating_add(1),
            false => 0,
        };
        let is_fall = !self.is_back && today.is_fall_from(&base, FALL);
        self.falls = match is_fall {
            // What has long been on the way is no bad day, and goes on.
            true if self.slides >= LONG_SLIDE => MOST_FALLS,
            true if self.falls < MOST_FALLS => self.falls + 1,
            _ => 0,
        };
        if self.falls == 0 {
            // One good day alone is none to fall from, and a little less each day adds up.
            let before = if again { last.reps } else { today.reps };
            self.base = match self.slides > 0 && base.reps_at(today.kg) > today.reps {
                true => (today.kg, base.reps_at(today.kg), left),
                false => (today.kg, today.reps.min(before), today.left),
            };
        }
        self.begun = match again && !self.rose && !self.is_back {
            true if self.falls == 0 => self.begun.min(today.reps.max(last.reps)),
            true => self.begun,
            false => today.reps,
        };
        self.is_back = false;
        self.days = [last, today, Day::default()];
    }

    /// Work sets of each of the last days, where there were as many on all of them.
    pub(crate) fn always(&self) -> Option<usize> {
        let (sets, days) = self.habit;
        (days >= ALWAYS && sets > 1).then_some(usize::from(sets))
    }

    /// With time away: what is done next is the new start.
    pub(crate) const fn come_back(&mut self) {
        self.is_back = true;
    }

    /// Whether the last two days fell from the days before them.
    pub(crate) const fn fell_again(&self) -> bool {
        self.falls == MOST_FALLS
    }

    /// Whether the last day fell from the days before it, or the load came down on each of the last ones.
    pub(crate) const fn fell(&self) -> bool {
        self.falls > 0 || self.sinks >= RISES
    }

    /// Whether the load of the last day was a step up that left nothing and cost more repetitions than a step may: what went
    /// before goes again.
    fn overreached(&self) -> bool {
        let [before, last, _] = self.days;
        self.rose && last.left < LEAST_LEFT && last.reps < before.reps - FALL
    }

    /// Load of the last day that had hard sets, kilograms moved, or of today where there was none; of the day
    /// before the last where that fell alone. `None` before the first.
    pub(crate) fn kg(&self) -> Option<f64> {
        let [before, last, _] = self.days;
        let usual = match () {
            () if last.kg <= 0.0 => self.today().0,
            () if self.fell_alone() || self.overreached() => before.kg,
            () => last.kg,
        };
        (usual > 0.0).then_some(usual)
    }

    /// The same of the days that are over, where their first sets come to no more than this maximum, by Epley's equation,
    /// kilograms moved.
    pub(crate) fn kg_for(&self, one_rm: f64) -> Option<f64> {
        let reps = self.reps().filter(|_| self.days[1].kg > 0.0)?;
        self.kg().filter(|kg| kg * (1.0 + reps / 30.0) <= one_rm)
    }

    /// The heavier of the last day's and today's; `None` before the first.
    pub(crate) fn lately_kg(&self) -> Option<f64> {
        let heavier = self.days[1].kg.max(self.today().0);
        (heavier > 0.0).then_some(heavier)
    }

    /// Whether a load is well under what is usual.
    pub(crate) fn is_under(&self, kg: f64) -> bool {
        self.lately_kg()
            .is_some_and(|usual| kg < UNDER_USUAL * usual)
    }

    /// Heaviest load of the last two days whose first set had so many repetitions, done plus left, kilograms moved.
    pub(crate) fn heaviest_for(&self, reps: f64) -> Option<f64> {
        let [before, last, _] = self.days;
        let days = [before, last].into_iter();
        let loads = days.filter(|day| day.reps >= reps).map(|day| day.kg);
        loads.reduce(f64::max)
    }

    /// Most repetitions of the first sets at that load on the last two days, or of the last day alone where it
    /// was heavier; `None` before the first.
    pub(crate) fn reps(&self) -> Option<f64> {
        let [before, last, _] = self.days;
        let reps = match last.reps > 0.0 {
            true if self.fell_again() => self.base.1,
            true if self.overreached() => before.reps,
            true if self.rose && !self.fell_alone() => last.reps,
            true => before.reps.max(last.reps),
            false => self.today().1,
        };
        (reps > 0.0).then_some(reps)
    }

    /// Fewest of them.
    pub(crate) fn least(&self) -> Option<f64> {
        let [before, last, _] = self.days;
        let all = [before.reps, last.reps, self.today().1];
        let done = all.into_iter().filter(|reps| *reps > 0.0);
        let least = done.fold(f64::INFINITY, f64::min);
        least.is_finite().then_some(least)
    }

    /// Most repetitions, done plus left, of a set at the load of the last day, or of today where there was none.
    pub(crate) fn most(&self) -> f64 {
        let [_, last, today] = self.days;
        let day = if last.kg > 0.0 { last } else { today };
        day.most.max(day.reps)
    }

    /// Fewest of them that were done, what was left not among them.
    pub(crate) fn least_done(&self) -> Option<f64> {
        let days = self.days.iter().filter(|day| day.kg > 0.0);
        days.map(|day| day.reps - day.left).reduce(f64::min)
    }

    /// Repetitions of the first sets on the last two days, where they were fewer than count and not by mishap; before the
    /// second day of those of today, where two more were left.
    pub(crate) fn few(&self) -> Option<f64> {
        let [_, last, today] = self.days;
        let is_few = match last.kg > 0.0 {
            true => last.few,
            false => today.kg <= 0.0 && today.few_left > LEFT_TO_CLIMB,
        };
        self.reps().filter(|_| is_few)
    }

    /// Whether the first set at that load went, on the last day, about as well as on the one before, or, where
    /// the load was heavier, for at least `fewest` repetitions; one bad day alone is forgiven.
    pub(crate) fn is_held(&self, fewest: f64) -> bool {
        let [before, last, _] = self.days;
        let today = self.today().1;
        let forgiven = self.fell_alone() || self.overreached();
        if self.rose && today <= 0.0 && !forgiven {
            return last.reps >= fewest;
        }
        let (earlier, later) = if today > 0.0 {
            (last.reps, today)
        } else {
            (before.reps, last.reps)
        };
        later > 0.0
            && !self.fell_again()
            && (later >= earlier - SHORT || (today <= 0.0 && forgiven))
    }

    /// Whether the load was raised by a small step on each of the last days, for as many repetitions, and more were left
    /// than one: it will be raised again.
    pub(crate) fn climbs(&self) -> bool {
        self.rises >= RISES && self.days[1].left > LEFT_TO_CLIMB
    }

    /// Whether on both of the last days clearly more repetitions went than those with which the lifter began at the load, and
    /// one is left: a step goes.
    pub(crate) fn has_grown(&self) -> bool {
        let [before, last, _] = self.days;
        let more = |day: Day| day.reps >= self.begun + GROWN;
        let shown = last.reps - last.left >= self.begun + SHOWN;
        !self.rose && !last.few && (shown || last.left >= 1.0 && more(before) && more(last))
    }

    /// Whether a set at this load was ended early, by choice: clearly fewer repetitions than in the first set at it on the
    /// last day that had one, and no more with what was left.
    pub(crate) fn is_cut_short(&self, kg: f64, reps: f64, left: f64) -> bool {
        let [before, last, _] = self.days;
        let mut days = [last, before].into_iter();
        let then = days.find(|day| alike(kg, day.kg));
        then.is_some_and(|then| then.would_be_cut_short(reps, left))
    }

    /// What the lifter left on the last day, by word, in the first set at the load that is usual, with the repetitions
    /// done; `None` before the first.
    pub(crate) fn last_first_set(&self) -> Option<(f64, f64)> {
        let [before, last, _] = self.days;
        let done = last.reps - last.left;
        let short = alike(last.kg, before.kg) && before.would_be_cut_short(done, last.left);
        (last.kg > 0.0 && !short).then_some((done, last.left))
    }

    /// The same of whichever of the last two days left less, at the same load.
    pub(crate) fn left_each_day(&self) -> f64 {
        let [before, last, _] = self.days;
        match alike(last.kg, before.kg) {
            true => last.left.min(before.left),
            false => 0.0,
        }
    }

    /// The load of the last day but one, kilograms moved, where its repetitions, done plus left, lie between these and
    /// those of the last day do not: there are two kinds of days, and this is of the first.
    pub(crate) fn other_day_kg(&self, low: f64, high: f64) -> Option<f64> {
        let [before, last, _] = self.days;
        let fits = |day: Day| day.kg > 0.0 && (low..=high).contains(&day.reps);
        (fits(before) && !fits(last)).then_some(before.kg)
    }

    /// Whether the last two days began with sets as easy as this one at this load, and stayed at it: it is easy by choice.
    pub(crate) fn begins_so_easy(&self, kg: f64, reps: f64, left: f64) -> bool {
        let [before, last, _] = self.days;
        [before, last].iter().all(|day| {
            alike(kg, day.kg)
                && day.sets >= STAYED
                && day.left >= left - SHORT
                && (day.reps - reps - left).abs() <= SHORT
        })
    }

    /// Whether the last two days were alike in repetitions, and no load was taken off.
    pub(crate) fn is_steady(&self) -> bool {
        let [before, last, _] = self.days;
        let alike = (last.reps - before.reps).abs() <= SHORT;
        before.kg > 0.0 && !is_over(before.kg, last.kg) && alike
    }

    /// Whether one day is over, and no more.
    pub(crate) const fn is_first_day_over(&self) -> bool {
        let [before, last, _] = self.days;
        before.kg <= 0.0 && last.kg > 0.0
    }

    /// Repetitions of the first set at about this load on the last of the last two days that had one.
    pub(crate) fn reps_at(&self, kg: f64) -> Option<f64> {
        let [before, last, _] = self.days;
        let days = [last, before].into_iter();
        days.filter(|day| alike(kg, day.kg))
            .map(|day| day.reps)
            .next()
    }

    /// Whether this load was about that of one of the last two days.
    pub(crate) fn is_worked(&self, kg: f64) -> bool {
        let [before, last, _] = self.days;
        alike(kg, before.kg) || alike(kg, last.kg)
    }

    /// Whether this load was about that of the last day.
    pub(crate) fn was_last(&self, kg: f64) -> bool {
        alike(kg, self.days[1].kg)
    }

    /// Whether there was no hard set yet today, unlike on other days.
    pub(crate) fn is_to_come(&self) -> bool {
        self.days[1].kg > 0.0 && self.today().0 <= 0.0
    }

    /// Whether the last day fell, and the one before it had not.
    const fn fell_alone(&self) -> bool {
        self.falls == 1
    }

    fn today(&self) -> (f64, f64) {
        self.days[2].work(&self.days[1])
    }

    pub(crate) fn write(&self, row: &mut Writer) {
        for day in &self.days {
            row.reals(&[day.kg, day.reps, day.sets, day.most, day.back]);
            row.reals(&[day.few_kg, day.few_reps, day.few_left, day.left]);
            row.byte(u8::from(day.few_chosen));
            row.byte(day.singles);
            row.byte(u8::from(day.few));
        }
        row.byte(u8::from(self.rose));
        row.reals(&[self.base.0, self.base.1, self.base.2, self.begun]);
        row.byte(self.falls);
        row.byte(self.slides);
        row.byte(u8::from(self.is_back));
        row.byte(self.lights);
        row.byte(u8::from(self.is_light));
        row.byte(self.rises);
        row.byte(self.sinks);
        row.byte(self.done);
        row.byte(self.habit.0);
        row.byte(self.habit.1);
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        let mut usual = Self::default();
        for day in &mut usual.days {
            row.fill([&mut day.kg, &mut day.reps, &mut day.sets])?;
            row.fill([&mut day.most, &mut day.back])?;
            row.fill([&mut day.few_kg, &mut day.few_reps])?;
            row.fill([&mut day.few_left, &mut day.left])?;
            day.few_chosen = row.byte()? == 1;
            day.singles = row.byte()?;
            day.few = row.byte()? == 1;
        }
        usual.rose = row.byte()? == 1;
        let (kg, reps, left) = &mut usual.base;
        row.fill([kg, reps, left, &mut usual.begun])?;
        usual.falls = row.byte()?;
        usual.slides = row.byte()?;
        usual.is_back = row.byte()? == 1;
        usual.lights = row.byte()?;
        usual.is_light = row.byte()? == 1;
        usual.rises = row.byte()?;
        usual.sinks = row.byte()?;
        usual.done = row.byte()?;
        usual.habit = (row.byte()?, row.byte()?);
        Some(usual)
    }
}

impl Day {
    /// The load worked with and its repetitions, where `last` was the day before: fewer repetitions than count
    /// are work where they were few by choice or are done day after day, and the usual work was not done too.
    fn work(&self, last: &Self) -> (f64, f64) {
        let again = alike(self.few_kg, last.kg) || alike(self.few_kg, last.few_kg);
        let beside = alike(self.kg, last.kg) && !alike(self.few_kg, last.kg);
        let other = last.kg > 0.0 && !last.few;
        let by_choice = self.few_chosen || again && !(other && self.few_failed());
        let by_choice = match self.singles {
            0 => by_choice,
            singles => singles > 1 && self.kg <= 0.0,
        };
        match is_over(self.few_kg, self.kg) && by_choice && !beside {
            true => (self.few_kg, self.few_reps),
            false => (self.kg, self.reps),
        }
    }

    /// Whether by what was said no more could have been done of the few.
    fn few_failed(&self) -> bool {
        self.few_kg > 0.0 && self.few_left < LEAST_LEFT
    }

    /// Whether a set of which nothing was said, of so many repetitions at this load, was far from failure for whoever
    /// worked like this: by Epley's equation many more went at so much less.
    fn is_light(&self, kg: f64, reps: f64) -> bool {
        let to_failure = self.reps_at(kg);
        kg < UNDER_USUAL * self.kg && reps + FAR_FROM_FAILURE <= to_failure
    }

    /// Whether so many repetitions at the load of the day, and so many left, are a set that was ended early.
    fn would_be_cut_short(&self, reps: f64, left: f64) -> bool {
        reps <= self.reps - self.left - CUT && reps + left <= self.reps + SHORT
    }

    /// Repetitions that those of the day come to at another load, by Epley's equation.
    fn reps_at(&self, kg: f64) -> f64 {
        30.0 * ((1.0 + self.reps / 30.0) * self.kg / kg - 1.0)
    }

    /// Whether no heavier load went, for fewer repetitions; a step more that failed did not go.
    fn is_fall_from(&self, before: &Self, short: f64) -> bool {
        let lighter = is_over(before.kg, self.kg);
        let heavier = is_over(self.kg, before.kg);
        before.kg > 0.0
            && match alike(self.kg, before.kg) {
                false => lighter && self.reps <= before.reps + SHORT,
                true if heavier => {
                    let failed = self.few_failed() || self.left < LEAST_LEFT;
                    failed && self.reps < before.reps_at(self.kg) - short
                }
                // The same repetitions, nearer to failure, are as they may have been meant, until nothing is left.
                true => {
                    let fewer = self.reps - self.left <= before.reps - before.left - LEAST_LEFT;
                    (fewer || self.left < LEAST_LEFT) && self.reps < before.reps - short
                }
            }
    }
}

fn is_over(kg: f64, other: f64) -> bool {
    kg > other * (1.0 + SAME_LOAD)
}

/// Whether two loads are a step of the rack apart at most; never where one is none.
fn alike(kg: f64, other: f64) -> bool {
    kg > 0.0 && other > 0.0 && (kg / other).ln().abs() <= ALIKE
}

#[cfg(test)]
mod tests;
