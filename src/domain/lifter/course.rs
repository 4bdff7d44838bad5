//! The course of a day: how its sets follow each other in load, where the lifter does so day after day. A top set and
//! lighter ones, loads that fall and loads that rise are the lifter's own way through a session, which a coach goes on with.

use super::codec::{Reader, Writer};
use super::ramp::{is_unsaid, is_whole, left_before};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::limits::{LEAST_LEFT, MOST_RESERVE, UNSAID_LEFT};

/// So many sets of a day are kept, and so many on the way up to them.
const MOST: usize = 4;
const MOST_WAY: usize = 4;
/// Loads within this, log, are the same step of a course. Trade practice, no source.
const ALIKE: f64 = 0.04;
/// A load on the way up counts as reached by a tenth less. Trade practice, no source.
const ABOUT: f64 = 1.1;
/// From so much down or up, log, a step is one of a course, and no disc more or less. Common practice, no source.
const FALL: f64 = 0.06;
const RISE: f64 = 0.04;
/// Most repetitions, done plus left, of a single.
const FEWEST: f64 = 3.0;

/// A set of a course.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Place {
    /// Kilograms moved; 0 where there is none.
    pub(crate) kg: f64,
    /// Repetitions done plus left.
    pub(crate) reps: f64,
    /// Whether nothing was said of it, so that it may have been on the way up.
    unsaid: bool,
    /// Whether nothing was left, by what was said.
    pub(crate) failed: bool,
}

impl Place {
    pub(crate) fn of(set: &LoggedSet, kg: f64) -> Self {
        Self {
            kg,
            reps: f64::from(set.reps) + set.rated().map_or(UNSAID_LEFT, Rir::reps),
            unsaid: is_unsaid(set),
            failed: set.rated().is_some_and(|left| left.reps() < LEAST_LEFT),
        }
    }

    const NONE: Self = Self {
        kg: 0.0,
        reps: 0.0,
        unsaid: false,
        failed: false,
    };
}

/// The sets of the last day but one, of the last one, and of today, without those on the way up; and the loads of
/// those of each, kilograms moved, 0 where there is none.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Course {
    days: [[Place; MOST]; 3],
    ways: [[f64; MOST_WAY]; 3],
}

/// What comes next by the course of the last two days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Step {
    /// Load over that of the last set.
    pub(crate) ratio: f64,
    /// The last day's set before it, and that set, as they went then.
    pub(crate) from: Place,
    pub(crate) to: Place,
}

impl Course {
    /// With another work set of today, at `kg` kilograms moved; what was on the way up to it is no part of the course.
    pub(crate) fn note(&mut self, set: &LoggedSet, kg: f64) {
        let light = set.asked.is_some_and(|asked| asked.reps() > MOST_RESERVE);
        let is_work = set.kind != SetKind::WarmUp && is_whole(set) && set.reps > 0;
        if light || !is_work || set.slowed {
            return;
        }
        let [.., today] = &mut self.days;
        let new = Place::of(set, kg);
        let is_way = |place: &Place| {
            let done = place.reps - UNSAID_LEFT;
            place.unsaid && left_before((place.kg, done), (kg, new.reps)).is_some()
        };
        let mut kept = [Place::NONE; MOST];
        let done = today.iter().filter(|place| place.kg > 0.0);
        for place in done.clone().filter(|place| is_way(place)) {
            if let Some(free) = self.ways[2].iter_mut().find(|kg| **kg <= 0.0) {
                *free = place.kg;
            }
        }
        let work = done.filter(|place| !is_way(place));
        for (free, place) in kept.iter_mut().zip(work.copied().chain([new])) {
            *free = place;
        }
        *today = kept;
    }

    /// With today over.
    pub(crate) const fn next_day(&mut self) {
        let [_, last, today] = self.days;
        if today[0].kg > 0.0 {
            self.days = [last, today, [Place::NONE; MOST]];
            self.ways = [self.ways[1], self.ways[2], [0.0; MOST_WAY]];
        }
    }

    /// What followed on each of the last two days the sets that were done today; `None` where they went otherwise, or at
    /// the same load.
    pub(crate) fn next(&self, today: &[Place]) -> Option<Step> {
        let [before, last, _] = &self.days;
        let (first, done) = (today.first()?, today.len());
        let step = |day: &[Place; MOST]| {
            let scale = first.kg / day[0].kg;
            let mut both = today.iter().zip(day);
            let as_then = both.all(|(now, then)| then.kg > 0.0 && near(now.kg, scale * then.kg));
            let (from, to) = (*day.get(done - 1)?, *day.get(done)?);
            let ratio = to.kg / from.kg;
            let is_step = ratio > 0.0 && !(-FALL..RISE).contains(&ratio.ln());
            (as_then && is_step).then_some(Step { ratio, from, to })
        };
        let (one, other) = (step(before)?, step(last)?);
        near(one.ratio, other.ratio).then_some(other)
    }

    /// Fewest repetitions, done plus left, of the set in the place of today's last on the last two days; `None` where the loads
    /// were others.
    pub(crate) fn least_at(&self, today: &[Place]) -> Option<f64> {
        let [before, last, _] = &self.days;
        let then = |day: &[Place; MOST]| {
            let as_then = today
                .iter()
                .zip(day)
                .all(|(now, then)| near(now.kg, then.kg));
            let then = day.get(today.len().checked_sub(1)?)?;
            as_then.then_some(then.reps)
        };
        Some(then(before)?.min(then(last)?))
    }

    /// By how much the load went up after a set at `kg` kilograms moved on the way to the work of the last two days, a factor,
    /// the smaller of both; `None` where none was as light.
    pub(crate) fn after(&self, kg: f64) -> Option<f64> {
        let next = |day: usize| {
            let way = self.ways[day].iter().copied().filter(|kg| *kg > 0.0);
            let all: Vec<f64> = way.chain([self.days[day][0].kg]).collect();
            let mut steps = all.windows(2).rev();
            let from = steps.find(|step| step[0] <= ABOUT * kg)?;
            Some(from[1] / from[0])
        };
        [next(0), next(1)].into_iter().flatten().reduce(f64::min)
    }

    /// Whether a load was one on the way on both of the last days.
    pub(crate) fn is_way(&self, kg: f64) -> bool {
        let [before, last, _] = &self.ways;
        let mut both = [before, last].into_iter();
        both.all(|way| way.iter().any(|then| near(kg, *then)))
    }

    /// The first set of the last day, at the load of the one before, where lighter ones followed both
    /// times, it went as well, and it was no single.
    pub(crate) fn top(&self) -> Option<Place> {
        let [before, last, _] = &self.days;
        let falls = |day: &[Place; MOST]| day[1].kg > 0.0 && (day[1].kg / day[0].kg).ln() < -FALL;
        let goes = !last[0].failed && last[0].reps >= before[0].reps - 1.0;
        let goes = goes && last[0].reps > FEWEST;
        let is_top = falls(before) && falls(last) && near(before[0].kg, last[0].kg);
        (is_top && goes).then_some(last[0])
    }

    /// The loads of these days, kilograms moved.
    pub(crate) fn loads(&self) -> impl Iterator<Item = f64> {
        let all = self.days.as_flattened().iter();
        all.map(|place| place.kg).filter(|kg| *kg > 0.0)
    }

    pub(crate) fn write(&self, row: &mut Writer) {
        for place in self.days.as_flattened() {
            row.reals(&[place.kg, place.reps]);
            row.byte(u8::from(place.unsaid));
            row.byte(u8::from(place.failed));
        }
        row.reals(self.ways.as_flattened());
    }

    pub(crate) fn read(row: &mut Reader<'_>) -> Option<Self> {
        let mut course = Self::default();
        for place in course.days.as_flattened_mut() {
            row.fill([&mut place.kg, &mut place.reps])?;
            place.unsaid = row.byte()? == 1;
            place.failed = row.byte()? == 1;
        }
        row.fill(course.ways.as_flattened_mut())?;
        Some(course)
    }
}

/// Whether two loads, or steps, are alike.
fn near(one: f64, other: f64) -> bool {
    (one / other).ln().abs() <= ALIKE
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;

    use super::*;
    use crate::domain::quantities::id::ExerciseId;
    use crate::domain::quantities::load::Load;
    use crate::domain::quantities::mass::Unit;

    /// A load, repetitions, and what was said to be left.
    type Done = (f64, u32, Option<f64>);

    fn set((_, reps, left): Done) -> LoggedSet {
        LoggedSet {
            rir: left.map(|left| Rir::new(left).unwrap()),
            ..LoggedSet::straight(
                ExerciseId(0),
                Load::body(Unit::Kg),
                reps,
                DateTime::UNIX_EPOCH,
            )
        }
    }

    fn after(days: &[&[Done]]) -> Course {
        let mut course = Course::default();
        for day in days {
            for &done in *day {
                course.note(&set(done), done.0);
            }
            course.next_day();
        }
        course
    }

    /// The load that follows these sets.
    fn next(course: &Course, today: &[Done]) -> Option<f64> {
        let sets: Vec<Place> = today
            .iter()
            .map(|&done| Place::of(&set(done), done.0))
            .collect();
        let step = course.next(&sets)?;
        Some((step.ratio * today.last()?.0).round())
    }

    const TOP: &[Done] = &[
        (60.0, 5, None),
        (90.0, 3, None),
        (110.0, 4, Some(1.0)),
        (95.0, 8, Some(2.0)),
        (95.0, 8, Some(1.0)),
    ];

    #[test]
    fn what_followed_on_both_of_the_last_days_comes_next() {
        let course = after(&[TOP, TOP]);
        let top = (110.0, 4, Some(1.0));
        assert_eq!(next(&course, &[top]), Some(95.0));
        assert_eq!(course.top().map(|top| top.kg), Some(110.0));
        // At the same load, or on another way, nothing is foreseen.
        assert_eq!(next(&course, &[top, (95.0, 8, Some(2.0))]), None);
        assert_eq!(next(&course, &[top, (105.0, 4, Some(1.0))]), None);
        // A step heavier as a whole is the same way.
        assert_eq!(next(&course, &[(115.0, 4, Some(1.0))]), Some(99.0));
        assert_eq!(next(&after(&[TOP]), &[top]), None);
    }

    #[test]
    fn loads_that_rise_are_a_course_and_a_disc_less_is_none() {
        let rising: &[Done] = &[
            (24.0, 12, Some(3.0)),
            (28.0, 10, Some(2.0)),
            (32.0, 8, Some(1.0)),
        ];
        let course = after(&[rising, rising]);
        assert_eq!(next(&course, &rising[..1]), Some(28.0));
        assert_eq!(next(&course, &rising[..2]), Some(32.0));
        assert_eq!(course.top(), None);
        let less: &[Done] = &[(80.0, 8, Some(1.0)), (77.5, 8, Some(1.0))];
        assert_eq!(next(&after(&[less, less]), &less[..1]), None);
    }

    #[test]
    fn the_work_follows_from_where_it_followed() {
        let short: &[Done] = &[(60.0, 5, None), (110.0, 4, Some(1.0))];
        // The smaller of two, and none where nothing was on the way.
        let days: [&[&[Done]]; 4] = [&[TOP], &[short], &[short, TOP], &[&TOP[2..]]];
        let steps = |kg: f64| days.map(|days| after(days).after(kg));
        let [long, short] = [110.0 / 90.0, 110.0 / 60.0].map(Some);
        assert_eq!(steps(91.0), [long, short, long, None]);
        assert_eq!(steps(60.0), [Some(1.5), short, Some(1.5), None]);
        let is_way = |days: [&[Done]; 2], kg: f64| after(&days).is_way(kg);
        assert!(is_way([TOP, TOP], 60.0) && is_way([TOP, TOP], 90.0));
    }

    #[test]
    fn a_top_set_that_failed_is_not_begun_with_again() {
        let failed: &[Done] = &[(80.0, 5, Some(0.0)), (70.0, 8, Some(1.0))];
        assert_eq!(after(&[failed, failed]).top(), None);
    }

    #[test]
    fn the_row_reads_back() {
        let mut course = after(&[TOP, TOP]);
        course.note(&set((80.0, 8, None)), 80.0);
        let mut row = Writer::new(1);
        course.write(&mut row);
        let bytes = row.finish();
        let mut row = Reader::new(1, &bytes).unwrap();
        assert_eq!(Course::read(&mut row), Some(course));
        assert!(row.is_done());
    }
}
