//! Sets on the way up: how much was left in them is known only by the sets that came after.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::LogEntry;
use super::view::View;
use crate::domain::lifter::ramp::on_the_way_up;
use crate::domain::quantities::id::ExerciseId;

/// Judges again the sets of `log` (in order), on these days of these exercises, that were on the way up; the places of
/// those that are judged otherwise now.
pub(crate) fn judge(
    log: &mut [LogEntry],
    touched: impl Fn(&(ExerciseId, NaiveDate)) -> bool,
    view: &View,
) -> Vec<usize> {
    let mut runs: BTreeMap<(ExerciseId, NaiveDate), Vec<usize>> = BTreeMap::new();
    for (place, filed) in log.iter().enumerate() {
        let key = (filed.set.exercise, filed.set.day);
        if touched(&key) {
            runs.entry(key).or_default().push(place);
        }
    }
    let mut changed = Vec::new();
    for ((exercise, _), places) in runs {
        let exercise = view.catalogue().exercise(exercise);
        let moved = |place: &usize| {
            let set = &log[*place].set;
            (set, set.load.moved(exercise, view.body_mass()).in_kg())
        };
        let ways = on_the_way_up(places.iter().map(moved));
        for (place, left) in places.into_iter().zip(ways) {
            let judged = &mut log[place].judged;
            let more = left.filter(|left| judged.is_none_or(|judged| judged < *left));
            if more.is_some() {
                *judged = more;
                changed.push(place);
            }
        }
    }
    changed
}
