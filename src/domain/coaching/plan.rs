//! A coach's plan: days of the week with exercises, sets, repetitions, effort, load and pairs.
//!
//! Plan text is read and printed in [`crate::message::forms::plan`]; what a week of a block makes of a plan
//! is [`super::block`]'s business.

mod item;

pub use item::{
    Amount, Item, LONGEST_NOTE, MOST_REPS, MOST_REST_S, MOST_SECONDS, MOST_SETS, Note, Percent,
    PlannedLoad, RepRange, Seconds, Sets,
};

use chrono::Weekday;

use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, MuscleId};

/// Most items of one day. Common practice, no source: nobody does more, so more is a slip.
pub const MOST_ITEMS: usize = 30;
/// Most exercises done in turn. Common practice, no source: circuits have up to ten stations.
pub const MOST_IN_TURN: usize = 10;
/// Most numbered days: two weeks.
pub const MOST_DAYS: u32 = 14;
/// Most weeks of a progression: half a year.
pub const MOST_WEEKS: u32 = 26;

/// Why numbers make no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// Sets outside 1 to 20.
    #[error("{0} sets is outside 1 to 20")]
    Sets(u32),
    /// Repetitions outside 1 to 100, or the fewest above the most.
    #[error("{0}-{1} repetitions is no range within 1 to 100")]
    Reps(u32, u32),
    /// A time outside what a set or a rest takes, or the shortest above the longest.
    #[error("{0}-{1} seconds is no time of a set or a rest")]
    Seconds(u32, u32),
    /// A share of a load outside 1 to 150 percent.
    #[error("a share is 1 to 150 percent")]
    Percent,
    /// No exercise, or more than ten done in turn.
    #[error("{0} exercises in turn is outside 1 to 10")]
    InTurn(usize),
    /// A numbered day outside 1 to 14.
    #[error("day {0} is outside 1 to 14")]
    DayNumber(u32),
    /// A day without an exercise.
    #[error("{0} has no exercise")]
    Empty(DayName),
    /// A day with more than thirty.
    #[error("{0} has more than 30 exercises")]
    Crowded(DayName),
    /// A day that stands twice.
    #[error("{0} stands twice")]
    Twice(DayName),
    /// A week of a progression outside 2 to 26, or not behind the one before it.
    #[error("week {0} is outside 2 to 26, or not behind the week before it")]
    Week(u32),
}

/// Which day of a plan: a day of the week, or one of those that are trained in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DayName {
    /// Always on this day.
    Weekday(Weekday),
    /// The first, second … session of the week, whichever day it falls on; 1 to 14.
    Number(u32),
}

impl DayName {
    /// The numbered day.
    ///
    /// # Errors
    /// [`PlanError::DayNumber`] outside 1 to 14.
    pub const fn numbered(number: u32) -> Result<Self, PlanError> {
        match number {
            1..=MOST_DAYS => Ok(Self::Number(number)),
            _ => Err(PlanError::DayNumber(number)),
        }
    }

    /// Days of the week from Monday, then numbered days.
    const fn order(self) -> u32 {
        match self {
            Self::Weekday(weekday) => weekday.num_days_from_monday(),
            Self::Number(number) => 7 + number,
        }
    }
}

impl std::fmt::Display for DayName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Weekday(weekday) => write!(f, "{weekday}"),
            Self::Number(number) => write!(f, "day {number}"),
        }
    }
}

/// A place in a day's order: one exercise with all its sets, or several done in turn, a set of each.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    items: Vec<Item>,
}

impl Slot {
    /// One exercise.
    pub fn one(item: Item) -> Self {
        Self { items: vec![item] }
    }

    /// Exercises done in turn; a single one is done by itself.
    ///
    /// # Errors
    /// [`PlanError::InTurn`] for none and for more than ten.
    pub fn in_turn(items: Vec<Item>) -> Result<Self, PlanError> {
        match items.len() {
            1..=MOST_IN_TURN => Ok(Self { items }),
            count => Err(PlanError::InTurn(count)),
        }
    }

    /// The same with these words to the lifter beside its last exercise, behind those there are.
    pub fn noted(&self, words: &str) -> Self {
        let mut items = self.items.clone();
        if let Some(last) = items.last_mut() {
            let before = last.note.as_ref().map(|note| format!("{}, ", note.words()));
            last.note = Note::new(&format!("{}{words}", before.unwrap_or_default()));
        }
        Self { items }
    }

    /// The same with this effort and rest where none are said.
    pub fn filled(&self, rir: Option<Rir>, rest: Option<Seconds>) -> Self {
        let mut items = self.items.clone();
        for item in &mut items {
            item.rir = item.rir.or(rir);
            item.rest = item.rest.or(rest);
        }
        Self { items }
    }

    /// This place with the words of `held`, where that is the same exercise with the same sets and tells less of
    /// load, effort and rest: what a coach wrote first, with a detail that was asked about.
    fn fuller_than(&self, held: &Self) -> Option<Self> {
        let ([own], [before]) = (self.items.as_slice(), held.items.as_slice()) else {
            return None;
        };
        let same =
            (own.exercise, own.sets, &own.amount) == (before.exercise, before.sets, &before.amount);
        let told = |item: &Item| [item.load.is_some(), item.rir.is_some(), item.rest.is_some()];
        let (now, then) = (told(own), told(before));
        let fuller = now != then && now.iter().zip(then).all(|(now, then)| *now >= then);
        let mut item = own.clone();
        item.note = item.note.or_else(|| before.note.clone());
        (same && fuller).then(|| Self::one(item))
    }

    /// The exercises of the place, in order; never empty.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.items.iter()
    }
}

/// What is planned for one day; at least one item.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    name: DayName,
    title: Option<Note>,
    slots: Vec<Slot>,
}

impl Day {
    /// A day with these places, in order.
    ///
    /// # Errors
    /// [`PlanError`] when there is none, or more than thirty exercises.
    pub fn new(name: DayName, slots: Vec<Slot>) -> Result<Self, PlanError> {
        let items = slots.iter().flat_map(Slot::items).count();
        match items {
            0 => Err(PlanError::Empty(name)),
            1..=MOST_ITEMS => Ok(Self {
                name,
                title: None,
                slots,
            }),
            _ => Err(PlanError::Crowded(name)),
        }
    }

    /// The day with these words to it: `push`.
    #[must_use]
    pub fn titled(self, title: Option<Note>) -> Self {
        Self { title, ..self }
    }

    /// What the coach calls it beside its name.
    pub const fn title(&self) -> Option<&Note> {
        self.title.as_ref()
    }

    /// Which day.
    pub const fn name(&self) -> DayName {
        self.name
    }

    /// The day of the week that it is for, where it is for one.
    pub const fn weekday(&self) -> Option<Weekday> {
        match self.name {
            DayName::Weekday(weekday) => Some(weekday),
            DayName::Number(_) => None,
        }
    }

    /// Its places, in order; never empty.
    pub fn slots(&self) -> &[Slot] {
        &self.slots
    }

    /// Its exercises, in order, those done in turn one after the other.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.slots.iter().flat_map(Slot::items)
    }
}

/// A member's week. Without a day it says that nothing is planned.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    name: Option<Note>,
    days: Vec<Day>,
    /// Weeks from which on other days hold, counted from 1, in order.
    later: Vec<(u32, Vec<Day>)>,
}

impl Plan {
    /// A plan of these days; they are put in the order of the week from Monday, numbered ones behind.
    ///
    /// # Errors
    /// [`PlanError::Twice`] when a day stands twice.
    pub fn new(days: Vec<Day>) -> Result<Self, PlanError> {
        Ok(Self {
            name: None,
            days: in_order(days)?,
            later: Vec::new(),
        })
    }

    /// The plan with other days from a later week on, counted from 1.
    ///
    /// # Errors
    /// A [`PlanError`] where a day stands twice, or the week is not behind all that the plan has.
    pub fn then(mut self, week: u32, days: Vec<Day>) -> Result<Self, PlanError> {
        let last = self.later.last().map_or(1, |(week, _)| *week);
        if week <= last || week > MOST_WEEKS {
            return Err(PlanError::Week(week));
        }
        self.later.push((week, in_order(days)?));
        Ok(self)
    }

    /// The plan under a name.
    #[must_use]
    pub fn called(self, name: Option<Note>) -> Self {
        Self { name, ..self }
    }

    /// What the coach calls it.
    pub const fn name(&self) -> Option<&Note> {
        self.name.as_ref()
    }

    /// Weeks from which on other days hold, counted from 1, in order.
    pub fn later(&self) -> &[(u32, Vec<Day>)] {
        &self.later
    }

    /// The plan as it is so many weeks after its first: what holds then, and what comes later still.
    pub fn after_weeks(&self, weeks: usize) -> Self {
        let weeks = u32::try_from(weeks).unwrap_or(u32::MAX);
        let holds = |week: u32| week.saturating_sub(1) <= weeks;
        let days = self.later.iter().rfind(|(week, _)| holds(*week));
        let later = self.later.iter().filter(|(week, _)| !holds(*week));
        Self {
            name: self.name.clone(),
            days: days.map_or_else(|| self.days.clone(), |(_, days)| days.clone()),
            later: later
                .map(|(week, days)| (week - weeks, days.clone()))
                .collect(),
        }
    }

    /// The days, from Monday on, then the numbered ones; each at most once.
    pub fn days(&self) -> &[Day] {
        &self.days
    }

    /// Whether nothing is planned.
    pub fn is_empty(&self) -> bool {
        self.days.is_empty()
    }

    /// What is planned for a weekday.
    pub fn day(&self, weekday: Weekday) -> Option<&Day> {
        self.named(DayName::Weekday(weekday))
    }

    /// The day of this name.
    pub fn named(&self, name: DayName) -> Option<&Day> {
        self.days.iter().find(|day| day.name == name)
    }

    /// Whether all days are numbered: trained in order, on whichever day of the week.
    pub fn is_numbered(&self) -> bool {
        !self.is_empty() && self.days.iter().all(|day| day.weekday().is_none())
    }

    /// The day due when so many sessions of this week are done; `None` when all are, and for a plan
    /// of weekdays.
    pub fn due(&self, sessions_done: usize) -> Option<&Day> {
        let numbered = self.days.iter().filter(|day| day.weekday().is_none());
        numbered.into_iter().nth(sessions_done)
    }

    /// The first planned day after `weekday`, through to the same weekday of the week after; `None`
    /// where no day is for a weekday.
    pub fn day_after(&self, weekday: Weekday) -> Option<&Day> {
        let ahead = |day: &&Day| Some(day.weekday()?.days_since(weekday.succ()) % 7);
        let of_week = self.days.iter().filter(|day| day.weekday().is_some());
        of_week.min_by_key(ahead)
    }

    /// The day that a session on `weekday` is of, when these exercises were done in it and
    /// `sessions_before` on other days of the week: the day that shares most exercises; of several,
    /// the weekday's own, then the nearest before it, then the numbered day that is due. With nothing
    /// shared, the weekday's own, if there is one, or the numbered day that is due.
    ///
    /// So a member who trains Monday's plan on Tuesday is followed all the same.
    pub fn session(
        &self,
        weekday: Weekday,
        done: &[ExerciseId],
        sessions_before: usize,
    ) -> Option<&Day> {
        let shared = |day: &Day| {
            let planned = |exercise: &&ExerciseId| day.items().any(|i| i.is_of(**exercise));
            done.iter().filter(planned).count()
        };
        let due = self.due(sessions_before).map(Day::name);
        let own = |day: &Day| day.weekday() == Some(weekday) || due == Some(day.name);
        let back = |day: &Day| {
            let since = day.weekday().map(|planned| weekday.days_since(planned));
            since.unwrap_or_else(|| u32::from(due != Some(day.name)))
        };
        self.days
            .iter()
            .filter(|day| own(day) || shared(day) > 0)
            .min_by_key(|day| (std::cmp::Reverse(shared(day)), back(day)))
    }

    /// What is planned for an exercise on `weekday`, else on the next day that has it: repetitions
    /// and effort hold for it wherever it is done.
    pub fn item(&self, exercise: ExerciseId, weekday: Weekday) -> Option<&Item> {
        let of = |day: &'_ Day| day.items().any(|item| item.is_of(exercise));
        let ahead = |day: &&Day| day.weekday().map(|planned| planned.days_since(weekday));
        let day = self.days.iter().filter(|day| of(day)).min_by_key(ahead)?;
        // Named itself goes before being one of a choice.
        let own = day.items().find(|item| item.exercise == exercise);
        own.or_else(|| day.items().find(|item| item.is_of(exercise)))
    }

    /// What a week of the plan comes to for every muscle of the catalogue, in its order, where every
    /// set is done as planned: 1 for the target and ½ for each helper of a set that can count by its
    /// repetitions and effort. Sources as for [`super::week::tally`].
    pub fn weekly_sets(&self, catalogue: &Catalogue) -> Vec<(MuscleId, f64)> {
        let mut sums: Vec<(MuscleId, f64)> = catalogue.muscles().map(|(id, _)| (id, 0.0)).collect();
        for item in self.items() {
            let sets = item.counting(item.sets.count());
            for (muscle, part) in catalogue.exercise(item.exercise).muscles() {
                // One line a muscle, in the order of the ids.
                if let Some((_, sum)) = sums.get_mut(muscle.index()) {
                    *sum += part * f64::from(sets);
                }
            }
        }
        sums
    }

    /// This plan with the exercises of another behind its own, day by day.
    ///
    /// # Errors
    /// [`PlanError::Crowded`] when a day has more than thirty then.
    pub fn with(&self, more: &Self) -> Result<Self, PlanError> {
        let name = more.name.clone().or_else(|| self.name.clone());
        let mut both = Self::new(with_days(&self.days, &more.days)?)?.called(name);
        let starts =
            |plan: &Self| -> Vec<u32> { plan.later.iter().map(|(week, _)| *week).collect() };
        let mut weeks = [starts(self), starts(more)].concat();
        weeks.sort_unstable();
        weeks.dedup();
        for week in weeks {
            let then = usize::try_from(week).unwrap_or(1) - 1;
            let [own, other] = [self, more].map(|plan| plan.after_weeks(then));
            both = both.then(week, with_days(&own.days, &other.days)?)?;
        }
        Ok(both)
    }

    /// The plan with each item as `edit` has it, in all its weeks; `None` takes it out, and a day without any goes.
    ///
    /// # Errors
    /// What `edit` refuses.
    pub fn edited<E>(
        &self,
        mut edit: impl FnMut(DayName, &Item) -> Result<Option<Item>, E>,
    ) -> Result<Self, E> {
        let mut of_days = |days: &[Day]| -> Result<Vec<Day>, E> {
            let mut out = Vec::new();
            for day in days {
                let mut slots = Vec::new();
                for slot in &day.slots {
                    let items = slot.items.iter();
                    let items = items.map(|item| edit(day.name, item));
                    let items: Vec<Option<Item>> = items.collect::<Result<_, E>>()?;
                    let items: Vec<Item> = items.into_iter().flatten().collect();
                    if !items.is_empty() {
                        slots.push(Slot { items });
                    }
                }
                if !slots.is_empty() {
                    out.push(Day {
                        slots,
                        ..day.clone()
                    });
                }
            }
            Ok(out)
        };
        let days = of_days(&self.days)?;
        let later = self.later.iter();
        let later = later.map(|(week, days)| Ok((*week, of_days(days)?)));
        Ok(Self {
            name: self.name.clone(),
            days,
            later: later.collect::<Result<_, E>>()?,
        })
    }

    /// The items of `more` whose exercise this plan has on the same day, with its own.
    pub fn shared<'p>(
        &'p self,
        more: &'p Self,
    ) -> impl Iterator<Item = (DayName, &'p Item, &'p Item)> {
        more.days.iter().flat_map(|day| {
            let own = self.named(day.name);
            let own = move |item: &Item| own?.items().find(|own| own.exercise == item.exercise);
            day.items()
                .filter_map(move |item| Some((day.name, own(item)?, item)))
        })
    }

    /// The plan with the items of another in the place of those of the same exercise on the same day, and behind
    /// its own where there is none.
    ///
    /// # Errors
    /// As [`Self::with`].
    pub fn instead(&self, more: &Self) -> Result<Self, PlanError> {
        let new = |day: DayName, item: &Item| {
            let of_day = more.named(day)?;
            let mut items = of_day.items();
            items.find(|new| new.exercise == item.exercise).cloned()
        };
        let replaced =
            self.edited(|day, item| Ok(Some(new(day, item).unwrap_or_else(|| item.clone()))))?;
        let here = |day: DayName, item: &Item| {
            let own = self.named(day);
            own.is_some_and(|own| own.items().any(|own| own.exercise == item.exercise))
        };
        let rest = more.edited(|day, item| Ok((!here(day, item)).then(|| item.clone())))?;
        replaced.with(&rest)
    }

    /// The plan `held` with its one day in the place of that day; `None` where it names several days or weeks,
    /// or is the only day of it.
    pub fn in_place_of_its_day(&self, held: &Self) -> Option<Self> {
        let [day] = self.days.as_slice() else {
            return None;
        };
        let others = held.days.iter().any(|own| own.name != day.name);
        let fits = self.later.is_empty() && self.is_numbered() == held.is_numbered();
        if !others || !fits {
            return None;
        }
        let in_place = |days: &[Day]| {
            let own = days.iter().filter(|own| own.name != day.name).cloned();
            own.chain([day.clone()]).collect::<Vec<Day>>()
        };
        let mut plan = Self::new(in_place(&held.days))
            .ok()?
            .called(held.name.clone());
        for (week, days) in &held.later {
            plan = plan.then(*week, in_place(days)).ok()?;
        }
        Some(plan)
    }

    /// Whether `held` has days that this plan does not have.
    pub fn drops_days_of(&self, held: &Self) -> bool {
        let mut own = held.days.iter();
        own.any(|day| self.named(day.name).is_none())
    }

    /// Every item of the week, in order.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.days.iter().flat_map(Day::items)
    }
}

/// Days in their order.
fn in_order(mut days: Vec<Day>) -> Result<Vec<Day>, PlanError> {
    days.sort_by_key(|day| day.name.order());
    let twice = days.windows(2).find_map(|pair| match pair {
        [one, other] if one.name == other.name => Some(one.name),
        _ => None,
    });
    match twice {
        Some(name) => Err(PlanError::Twice(name)),
        None => Ok(days),
    }
}

/// These days with more on them.
fn with_days(days: &[Day], more: &[Day]) -> Result<Vec<Day>, PlanError> {
    let mut days = days.to_vec();
    for day in more {
        match days.iter_mut().find(|own| own.name == day.name) {
            Some(own) => {
                let mut slots = own.slots.clone();
                for slot in &day.slots {
                    let fuller = slots
                        .iter_mut()
                        .find_map(|own| slot.fuller_than(own).map(|fuller| (own, fuller)));
                    match fuller {
                        Some((own, fuller)) => *own = fuller,
                        None => slots.push(slot.clone()),
                    }
                }
                let title = day.title.clone().or_else(|| own.title.clone());
                *own = Day::new(day.name, slots)?.titled(title);
            }
            None => days.push(day.clone()),
        }
    }
    Ok(days)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;
    use crate::domain::quantities::effort::Rir;

    fn item(exercise: u16) -> Item {
        let reps = Amount::Reps(RepRange::new(8, 12).unwrap());
        Item::new(ExerciseId(exercise), Sets::new(3).unwrap(), reps)
    }

    fn plan(days: &[(Weekday, &[u16])]) -> Plan {
        let day = |&(weekday, ids): &(Weekday, &[u16])| {
            let slots = ids.iter().map(|&id| Slot::one(item(id))).collect();
            Day::new(DayName::Weekday(weekday), slots).unwrap()
        };
        Plan::new(days.iter().map(day).collect()).unwrap()
    }

    #[test]
    fn a_line_written_again_with_a_detail_more_takes_the_place_of_the_first() {
        let monday = |item: Item| {
            let day = Day::new(DayName::Weekday(Weekday::Mon), vec![Slot::one(item)]);
            Plan::new(vec![day.unwrap()]).unwrap()
        };
        let noted = Item {
            note: Note::new("slowly"),
            ..item(1)
        };
        let rated = Item {
            rir: Some(Rir::FAILURE),
            ..item(1)
        };
        let both = monday(noted).with(&monday(rated.clone())).unwrap();
        let words = Item {
            note: Note::new("slowly"),
            ..rated.clone()
        };
        assert_eq!(both, monday(words));
        // Another exercise, and the same sets once more, are added.
        for more in [item(2), rated.clone()] {
            let both = monday(rated.clone()).with(&monday(more)).unwrap();
            assert_eq!(both.items().count(), 2);
        }
    }

    #[test]
    fn days_outside_their_bounds_are_refused() {
        let monday = DayName::Weekday(Weekday::Mon);
        let none = Day::new(monday, Vec::new());
        assert_eq!(none, Err(PlanError::Empty(monday)));
        let pair = Slot::in_turn(vec![item(1), item(2)]).unwrap();
        assert!(Day::new(monday, vec![pair.clone(); 15]).is_ok());
        let crowd = Day::new(monday, vec![pair; 16]);
        assert_eq!(crowd, Err(PlanError::Crowded(monday)));
        assert_eq!(Slot::in_turn(Vec::new()), Err(PlanError::InTurn(0)));
        assert!(Slot::in_turn(vec![item(1); 10]).is_ok());
        let eleven = Slot::in_turn(vec![item(1); 11]);
        assert_eq!(eleven, Err(PlanError::InTurn(11)));
        assert_eq!(DayName::numbered(0), Err(PlanError::DayNumber(0)));
        assert_eq!(DayName::numbered(15), Err(PlanError::DayNumber(15)));
    }

    #[test]
    fn a_week_has_the_days_that_hold_from_it_on() {
        let day = |id: u16| {
            let slots = vec![Slot::one(item(id))];
            Day::new(DayName::Weekday(Weekday::Mon), slots).unwrap()
        };
        let plan = Plan::new(vec![day(1)]).unwrap();
        let plan = plan.then(3, vec![day(3)]).unwrap();
        let plan = plan.then(4, vec![day(4)]).unwrap();
        let first = |weeks| plan.after_weeks(weeks).items().next().unwrap().exercise;
        assert_eq!([0, 1, 2, 3, 9].map(first), [1, 1, 3, 4, 4].map(ExerciseId));
        let left = plan.after_weeks(1);
        let left: Vec<u32> = left.later().iter().map(|(week, _)| *week).collect();
        assert_eq!(left, [2, 3]);
        let again = plan.clone().then(4, vec![day(5)]);
        assert_eq!(again, Err(PlanError::Week(4)));
        // What is added to all weeks is added to each.
        let more = Plan::new(vec![day(9)]).unwrap();
        let both = plan.with(&more).unwrap();
        assert_eq!(both.after_weeks(3).items().count(), 2);
        assert_eq!(both.later().len(), 2);
    }

    #[test]
    fn days_are_put_in_order_and_stand_once() {
        let plan = plan(&[(Weekday::Thu, &[2]), (Weekday::Mon, &[1])]);
        let order: Vec<_> = plan.days().iter().filter_map(Day::weekday).collect();
        assert_eq!(order, [Weekday::Mon, Weekday::Thu]);
        let friday = DayName::Weekday(Weekday::Fri);
        let day = Day::new(friday, vec![Slot::one(item(1))]).unwrap();
        let twice = Plan::new(vec![day.clone(), day]);
        assert_eq!(twice, Err(PlanError::Twice(friday)));
    }

    #[test]
    fn a_session_is_the_day_that_shares_most_with_what_was_done() {
        let plan = plan(&[(Weekday::Mon, &[1, 2]), (Weekday::Thu, &[3, 2])]);
        let cases: [(Weekday, &[u16], Option<Weekday>); 8] = [
            (Weekday::Mon, &[], Some(Weekday::Mon)),
            (Weekday::Tue, &[], None),
            (Weekday::Tue, &[1], Some(Weekday::Mon)),
            // Both have it: the one before.
            (Weekday::Tue, &[2], Some(Weekday::Mon)),
            (Weekday::Fri, &[2], Some(Weekday::Thu)),
            // Thursday's done on Monday.
            (Weekday::Mon, &[3], Some(Weekday::Thu)),
            (Weekday::Mon, &[9], Some(Weekday::Mon)),
            (Weekday::Tue, &[9], None),
        ];
        for (weekday, done, expected) in cases {
            let done: Vec<_> = done.iter().map(|&id| ExerciseId(id)).collect();
            let day = plan.session(weekday, &done, 0).and_then(Day::weekday);
            assert_eq!(day, expected, "{weekday} {done:?}");
        }
    }

    #[test]
    fn numbered_days_are_followed_in_order() {
        let day = |number: u32, ids: &[u16]| {
            let slots = ids.iter().map(|&id| Slot::one(item(id))).collect();
            Day::new(DayName::numbered(number).unwrap(), slots).unwrap()
        };
        let plan = Plan::new(vec![day(2, &[2, 3]), day(1, &[1, 3])]).unwrap();
        assert!(plan.is_numbered());
        let cases: [(&[u16], usize, Option<u32>); 6] = [
            (&[], 0, Some(1)),
            (&[], 1, Some(2)),
            (&[], 2, None),
            // The second day's exercise on the first day of training.
            (&[2], 0, Some(2)),
            // Both have it: the one that is due.
            (&[3], 1, Some(2)),
            (&[3], 0, Some(1)),
        ];
        for (done, before, expected) in cases {
            let ids: Vec<_> = done.iter().map(|&id| ExerciseId(id)).collect();
            let day = plan.session(Weekday::Wed, &ids, before).map(Day::name);
            assert_eq!(day, expected.map(DayName::Number), "{done:?} {before}");
        }
        assert_eq!(plan.day_after(Weekday::Mon), None);
        assert!(plan.item(ExerciseId(2), Weekday::Mon).is_some());
    }

    #[test]
    fn a_choice_is_followed_whichever_is_taken() {
        let either = Item {
            or: vec![ExerciseId(7)],
            ..item(1)
        };
        let monday = DayName::Weekday(Weekday::Mon);
        let day = Day::new(monday, vec![Slot::one(either), Slot::one(item(7))]).unwrap();
        let plan = Plan::new(vec![day]).unwrap();
        assert!(plan.session(Weekday::Wed, &[ExerciseId(7)], 0).is_some());
        let own = plan.item(ExerciseId(7), Weekday::Mon).unwrap();
        assert_eq!(own.exercise, ExerciseId(7));
    }

    #[test]
    fn a_week_adds_up_by_halves_for_helpers() {
        // Source: Pelland JC et al. 2026, Sports Med 56(2):481-505: four sets of bench press, three
        // of overhead press and three of triceps extension are four for the chest, five for the
        // front of the shoulder, six and a half for the triceps.
        let catalogue = config::built_in();
        let slot = |name: &str, sets: u32, (low, high): (u32, u32)| {
            let reps = Amount::Reps(RepRange::new(low, high).unwrap());
            let sets = Sets::new(sets).unwrap();
            Slot::one(Item::new(catalogue.named(name).unwrap(), sets, reps))
        };
        let slots = vec![
            slot("bench press", 4, (8, 12)),
            slot("overhead press", 3, (8, 12)),
            slot("lying triceps extension", 3, (10, 15)),
            // Too few repetitions and too many to count.
            slot("bench press", 5, (1, 3)),
            slot("bench press", 5, (40, 50)),
        ];
        let plan = Plan::new(vec![
            Day::new(DayName::Weekday(Weekday::Mon), slots).unwrap(),
        ])
        .unwrap();
        let sums = plan.weekly_sets(&catalogue);
        for (muscle, published) in [("chest", 4.0), ("front delts", 5.0), ("triceps", 6.5)] {
            let id = catalogue.muscle_named(muscle).unwrap();
            assert!(sums.contains(&(id, published)), "{muscle}: {sums:?}");
        }
    }

    #[test]
    fn the_next_planned_day_may_lie_in_the_next_week() {
        let plan = plan(&[(Weekday::Mon, &[1]), (Weekday::Thu, &[2])]);
        let after = |weekday| plan.day_after(weekday).and_then(Day::weekday);
        assert_eq!(after(Weekday::Mon), Some(Weekday::Thu));
        assert_eq!(after(Weekday::Wed), Some(Weekday::Thu));
        assert_eq!(after(Weekday::Thu), Some(Weekday::Mon));
        assert_eq!(Plan::default().day_after(Weekday::Mon), None);
        let item = plan.item(ExerciseId(1), Weekday::Tue);
        assert_eq!(item.map(|item| item.exercise), Some(ExerciseId(1)));
        assert_eq!(plan.item(ExerciseId(7), Weekday::Tue), None);
    }
}
