//! How far a week's training followed its plan: sessions, sets, effort, exercises swapped, days
//! moved.
//!
//! A plan is followed by what is done, not by the day it is done on: sessions may move within the
//! week, be split, or be done in one go.

use std::collections::BTreeMap;

use chrono::{Duration, NaiveDate};

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;

/// A session counts as done, in part at least, from this share of its sets: what it lacks is told by
/// the sets. Common practice, no source: less is something done on the way.
const SESSION_DONE: f64 = 0.2;
/// A plan was kept where all sessions are done, and this share of the sets.
const KEPT: f64 = 0.85;

/// An exercise of a planned session, as the week has it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedItem {
    /// What to lift.
    pub exercise: ExerciseId,
    /// What may be lifted in its place.
    pub or: Vec<ExerciseId>,
    /// Work sets, of a range the fewest.
    pub sets: u32,
    /// Most work sets.
    pub most_sets: u32,
    /// How many of [`Self::sets`] count toward the week when they are done as planned.
    pub counting: u32,
    /// Whether they are of fewer repetitions than count.
    pub is_heavy: bool,
    /// Effort to end each set at; `None` where nobody named one.
    pub rir: Option<Rir>,
}

impl PlannedItem {
    /// Whether a set of `exercise` is a set of this.
    pub fn is_of(&self, exercise: ExerciseId) -> bool {
        self.exercise == exercise || self.or.contains(&exercise)
    }
}

/// A session that a week asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedSession {
    /// Its day; `None` where any day of the week will do.
    pub day: Option<NaiveDate>,
    /// Its number, where it has that in place of a day.
    pub number: Option<u32>,
    /// Its exercises.
    pub items: Vec<PlannedItem>,
    /// Whether it was asked for: a day that was over when the plan came was not.
    pub due: bool,
}

impl PlannedSession {
    /// Whether it can still be done in its week: on the last day, where it was not for a day before.
    pub fn can_come(&self, week: Week, today: NaiveDate) -> bool {
        today < week.last_day()
            || today == week.last_day() && self.day.is_none_or(|day| day == today)
    }

    /// Its work sets.
    pub fn sets(&self) -> u32 {
        self.items.iter().map(|item| item.sets).sum()
    }
}

/// What a week of sessions comes to for every muscle of the catalogue, in its order: sets that count
/// when all is done as planned (1 for the target, ½ for each helper), and all sets at their most.
/// Sources as for [`crate::domain::coaching::week::tally`].
pub fn planned_volume(sessions: &[PlannedSession], catalogue: &Catalogue) -> Vec<(f64, f64)> {
    let mut sums = vec![(0.0, 0.0); catalogue.muscles().count()];
    for item in sessions.iter().flat_map(|session| &session.items) {
        for (muscle, part) in catalogue.exercise(item.exercise).muscles() {
            if let Some((least, most)) = sums.get_mut(muscle.index()) {
                *most += part * f64::from(item.most_sets);
                *least += part * f64::from(item.counting);
            }
        }
    }
    sums
}

/// What is still to come of it for every muscle, where these work sets are done: sets that count
/// when the rest is done as planned, of the sessions that can still come today. What no session has was done in place of something for the same
/// target.
pub fn still_to_come(
    sessions: &[PlannedSession],
    done: &BTreeMap<ExerciseId, u32>,
    (week, today): (Week, NaiveDate),
    catalogue: &Catalogue,
) -> Vec<f64> {
    let coming = sessions.iter().flat_map(|session| {
        let comes = session.can_come(week, today);
        session.items.iter().map(move |_| comes)
    });
    let coming: Vec<bool> = coming.collect();
    let items: Vec<&PlannedItem> = sessions.iter().flat_map(|session| &session.items).collect();
    let mut lacking: Vec<u32> = items.iter().map(|item| item.sets).collect();
    let mut left = done.clone();
    let target = |exercise| catalogue.exercise(exercise).target;
    let unplanned = |exercise| !items.iter().any(|item| item.is_of(exercise));
    // What was planned goes first; only then does an exercise count that was done in its place.
    for in_its_place in [false, true] {
        let fits = |item: &PlannedItem, exercise| {
            if in_its_place {
                unplanned(exercise) && target(exercise) == target(item.exercise)
            } else {
                item.is_of(exercise)
            }
        };
        for (item, lacking) in items.iter().zip(&mut lacking) {
            let fitting = left
                .iter_mut()
                .filter(|(exercise, _)| fits(item, **exercise));
            for (_, left) in fitting {
                let ticked = (*lacking).min(*left);
                *left -= ticked;
                *lacking -= ticked;
            }
        }
    }
    let mut sums = vec![0.0; catalogue.muscles().count()];
    let lacking = lacking.into_iter().zip(coming);
    let lacking = lacking.map(|(lacking, comes)| if comes { lacking } else { 0 });
    for (item, lacking) in items.iter().zip(lacking) {
        for (muscle, part) in catalogue.exercise(item.exercise).muscles() {
            if let Some(sum) = sums.get_mut(muscle.index()) {
                *sum += part * f64::from(lacking.min(item.counting));
            }
        }
    }
    sums
}

/// A planned session and what was done of it.
#[derive(Clone, Debug, PartialEq)]
pub struct SessionDone {
    /// The day it was planned for, if any.
    pub planned_for: Option<NaiveDate>,
    /// Its number in the plan, where it has that in place of a day.
    pub number: Option<u32>,
    /// The day on which most of it was done; `None` where nothing was.
    pub done_on: Option<NaiveDate>,
    /// Its work sets.
    pub planned: u32,
    /// Those that were done, of its exercises or in their place.
    pub done: u32,
    /// Whether it was asked for.
    pub due: bool,
}

impl SessionDone {
    /// Whether it was done, in whole or for a good part.
    pub fn is_done(&self) -> bool {
        self.done > 0 && f64::from(self.done) >= SESSION_DONE * f64::from(self.planned)
    }

    /// Whether it was done on another day than planned.
    pub fn moved(&self) -> Option<(NaiveDate, NaiveDate)> {
        let days = self.planned_for.zip(self.done_on)?;
        (self.is_done() && days.0 != days.1).then_some(days)
    }
}

/// An exercise that was done in place of a planned one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Swap {
    /// The planned one.
    pub planned: ExerciseId,
    /// What was done.
    pub instead: ExerciseId,
    /// Sets of it.
    pub sets: u32,
}

/// What was left in the tank against what was asked, over sets of which both are known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Efforts {
    /// Sets with a stated effort.
    pub rated: u32,
    /// Work sets without one.
    pub unrated: u32,
    /// Of the rated: a repetition or more nearer to failure than asked.
    pub harder: u32,
    /// A repetition or more further from it.
    pub easier: u32,
    /// Of the rated: sets for which nobody asked for an effort.
    pub unasked: u32,
    asked: f64,
    left: f64,
}

impl Efforts {
    /// Whether nobody asked for an effort of any of them.
    pub const fn none_asked(&self) -> bool {
        self.unasked > 0 && self.unasked == self.rated
    }

    /// Adds a set for which the plan names no effort.
    pub fn add_unasked(&mut self, left: Option<Rir>) {
        self.unasked += u32::from(left.is_some());
        self.add(left, left);
    }

    /// Adds a set.
    pub fn add(&mut self, asked: Option<Rir>, left: Option<Rir>) {
        let Some(left) = left else {
            self.unrated += 1;
            return;
        };
        let Some(asked) = asked else { return };
        self.rated += 1;
        let off = left.reps() - asked.reps();
        self.harder += u32::from(off <= -1.0);
        self.easier += u32::from(off >= 1.0);
        self.asked += asked.reps();
        self.left += left.reps();
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            rated: self.rated + other.rated,
            unrated: self.unrated + other.unrated,
            harder: self.harder + other.harder,
            easier: self.easier + other.easier,
            unasked: self.unasked + other.unasked,
            asked: self.asked + other.asked,
            left: self.left + other.left,
        }
    }

    /// Mean of what was asked and of what was left, repetitions in reserve; `None` without a rated
    /// set.
    pub fn means(&self) -> Option<(f64, f64)> {
        let sets = f64::from(self.rated);
        (self.rated > 0).then(|| (self.asked / sets, self.left / sets))
    }

    /// Mean of what was left less what was asked; 0 without a rated set.
    pub fn off(&self) -> f64 {
        self.means().map_or(0.0, |(asked, left)| left - asked)
    }
}

/// A week against its plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Adherence {
    /// Every planned session, in the order of the plan.
    pub sessions: Vec<SessionDone>,
    /// Exercises done in place of planned ones.
    pub swaps: Vec<Swap>,
    /// Work sets that no session asked for.
    pub extra_sets: u32,
    /// Effort against the effort asked.
    pub efforts: Efforts,
}

impl Adherence {
    /// Sessions done and asked for. One that was not asked for is in neither, unless it was done.
    pub fn sessions(&self) -> (u32, u32) {
        let asked = self.asked();
        let done = asked.iter().filter(|one| one.is_done());
        (count(done), count(asked.iter()))
    }

    /// Sets done and asked for.
    pub fn sets(&self) -> (u32, u32) {
        let asked = self.asked();
        let done = asked.iter().map(|one| one.done).sum();
        (done, asked.iter().map(|one| one.planned).sum())
    }

    /// Sets done and asked for in the sessions that were done before `today`.
    pub fn sets_of_sessions_done(&self, today: NaiveDate) -> (u32, u32) {
        let over = |one: &&SessionDone| one.is_done() && one.done_on.is_some_and(|on| on < today);
        let over = || self.sessions.iter().filter(over);
        let done = over().map(|one| one.done).sum();
        (done, over().map(|one| one.planned).sum())
    }

    /// Sessions that the week cannot hold any more on `today`: those that are not done beyond the
    /// days that are left. Today is one of these where a session is planned for it; else whoever has
    /// not trained by now is not waited for on the last day.
    pub fn missed(&self, week: Week, today: NaiveDate) -> u32 {
        let open = self.open();
        let after = (week.last_day() - today).num_days();
        let for_today = open.iter().any(|one| one.planned_for == Some(today));
        let days = match week.contains(today) {
            true => after + i64::from(for_today),
            false if after < 0 => 0,
            false => 7,
        };
        let days = u32::try_from(days).unwrap_or(0);
        count(open.iter()).saturating_sub(days)
    }

    /// Sessions that were asked for and are not done.
    pub fn open(&self) -> Vec<&SessionDone> {
        let open = |one: &&SessionDone| one.due && !one.is_done();
        self.sessions.iter().filter(open).collect()
    }

    /// Whether every session that was asked for is done, and nearly every set.
    pub fn is_kept(&self) -> bool {
        let ((done, asked), (sets, of)) = (self.sessions(), self.sets());
        asked > 0 && done == asked && f64::from(sets) >= KEPT * f64::from(of)
    }

    fn asked(&self) -> Vec<&SessionDone> {
        let asked = |one: &&SessionDone| one.due || one.is_done();
        self.sessions.iter().filter(asked).collect()
    }
}

/// Holds the sets of a week, in order, against its sessions.
///
/// Days and sessions are matched by the exercises they share, most first; of equals the planned day,
/// then the nearest. What is left over then fills what sessions lack: the same exercise on any day,
/// then, on the day of the session, an exercise for the same muscle. Warm-ups and failed attempts
/// are no work sets.
pub fn follow<'a>(
    sessions: &[PlannedSession],
    sets: impl IntoIterator<Item = &'a LoggedSet>,
    catalogue: &Catalogue,
) -> Adherence {
    let work = sets.into_iter().filter(|set| is_work(set));
    let mut left: Vec<Option<&LoggedSet>> = work.map(Some).collect();
    let mut filling: Vec<Filling<'_>> = sessions.iter().map(Filling::of).collect();
    let mut efforts = Efforts::default();

    for (place, day) in matched(sessions, &left) {
        if let Some(one) = filling.get_mut(place) {
            one.day = Some(day);
            one.take(&mut left, &mut efforts, |set, item| {
                set.day == day && item.is_of(set.exercise)
            });
        }
    }
    for one in &mut filling {
        one.take(&mut left, &mut efforts, |set, item| {
            item.is_of(set.exercise)
        });
    }
    let mut swaps: Vec<Swap> = Vec::new();
    for one in &mut filling {
        let Some(day) = one.day else { continue };
        let target = |exercise| catalogue.exercise(exercise).target;
        let taken = one.take(&mut left, &mut efforts, |set, item| {
            set.day == day && target(set.exercise) == target(item.exercise)
        });
        for (planned, instead) in taken {
            let same = |swap: &&mut Swap| (swap.planned, swap.instead) == (planned, instead);
            match swaps.iter_mut().find(same) {
                Some(swap) => swap.sets += 1,
                None => swaps.push(Swap {
                    planned,
                    instead,
                    sets: 1,
                }),
            }
        }
    }
    let extra: Vec<&LoggedSet> = left.into_iter().flatten().collect();
    // Beside a plan that names no effort nobody asked for one either.
    let mut items = sessions.iter().flat_map(|session| &session.items);
    let names_none = !sessions.is_empty() && items.all(|item| item.rir.is_none());
    for set in &extra {
        match names_none {
            true => efforts.add_unasked(set.rir),
            false => efforts.add(set.asked, set.rir),
        }
    }
    Adherence {
        sessions: filling.iter().map(Filling::done).collect(),
        swaps,
        extra_sets: count(extra.iter()),
        efforts,
    }
}

/// Whether a set is work: no warm-up, and not a failed attempt.
pub fn is_work(set: &LoggedSet) -> bool {
    set.kind != SetKind::WarmUp && set.reps > 0
}

/// Work sets by exercise.
pub fn done_by_exercise<'a>(
    sets: impl IntoIterator<Item = &'a LoggedSet>,
) -> BTreeMap<ExerciseId, u32> {
    let mut done = BTreeMap::new();
    for set in sets.into_iter().filter(|set| is_work(set)) {
        *done.entry(set.exercise).or_default() += 1;
    }
    done
}

/// A planned session while sets are put to it.
struct Filling<'a> {
    session: &'a PlannedSession,
    day: Option<NaiveDate>,
    /// Sets put to each item.
    done: Vec<u32>,
    /// Days of these sets, each with how many.
    days: BTreeMap<NaiveDate, u32>,
}

impl<'a> Filling<'a> {
    fn of(session: &'a PlannedSession) -> Self {
        Self {
            session,
            day: None,
            done: vec![0; session.items.len()],
            days: BTreeMap::new(),
        }
    }

    /// Takes the sets that fit an item and that it lacks; the pairs of exercises taken.
    fn take(
        &mut self,
        left: &mut [Option<&LoggedSet>],
        efforts: &mut Efforts,
        fits: impl Fn(&LoggedSet, &PlannedItem) -> bool,
    ) -> Vec<(ExerciseId, ExerciseId)> {
        let mut taken = Vec::new();
        for (item, done) in self.session.items.iter().zip(&mut self.done) {
            for slot in left.iter_mut() {
                if *done >= item.most_sets {
                    break;
                }
                let Some(set) = *slot else { continue };
                if !fits(set, item) {
                    continue;
                }
                *slot = None;
                *done += 1;
                *self.days.entry(set.day).or_default() += 1;
                match item.rir {
                    None => efforts.add_unasked(set.rir),
                    asked => efforts.add(asked, set.rir),
                }
                taken.push((item.exercise, set.exercise));
            }
        }
        taken
    }

    fn done(&self) -> SessionDone {
        let items = self.session.items.iter().zip(&self.done);
        let most = self.days.iter().max_by_key(|(day, sets)| {
            let on_its_day = self.session.day == Some(**day);
            (**sets, on_its_day, std::cmp::Reverse(**day))
        });
        SessionDone {
            planned_for: self.session.day,
            number: self.session.number,
            done_on: most.map(|(day, _)| *day),
            planned: self.session.sets(),
            done: items.map(|(item, done)| item.sets.min(*done)).sum(),
            due: self.session.due,
        }
    }
}

/// Which session is of which day: pairs that share an exercise, each session and each day once.
fn matched(sessions: &[PlannedSession], sets: &[Option<&LoggedSet>]) -> Vec<(usize, NaiveDate)> {
    let mut days: BTreeMap<NaiveDate, BTreeMap<ExerciseId, u32>> = BTreeMap::new();
    for set in sets.iter().flatten() {
        let of_day = days.entry(set.day).or_default();
        *of_day.entry(set.exercise).or_default() += 1;
    }
    let mut pairs = Vec::new();
    for (place, session) in sessions.iter().enumerate() {
        for (&day, done) in &days {
            let shared = |item: &PlannedItem| {
                let of_it = done.iter().filter(|(exercise, _)| item.is_of(**exercise));
                item.most_sets.min(of_it.map(|(_, sets)| sets).sum())
            };
            let shared: u32 = session.items.iter().map(shared).sum();
            if shared > 0 {
                let apart = session.day.map_or(Duration::zero(), |on| (on - day).abs());
                pairs.push((std::cmp::Reverse(shared), apart, place, day));
            }
        }
    }
    pairs.sort_unstable();
    let mut found: Vec<(usize, NaiveDate)> = Vec::new();
    for (_, _, place, day) in pairs {
        if !found.iter().any(|(p, d)| *p == place || *d == day) {
            found.push((place, day));
        }
    }
    found
}

fn count(of: impl Iterator) -> u32 {
    u32::try_from(of.count()).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests;
