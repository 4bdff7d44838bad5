//! A member's bests as they are kept beside the log.

use super::LogEntry;
use super::cuts::{AllBests, BestsData};
use super::view::View;
use crate::domain::coaching::best::{Best, Bests};
use crate::domain::lifter::model::Model;

pub(crate) fn of_data((front, told_kg, days, last): &BestsData) -> Bests {
    Bests {
        front: front.clone(),
        told_kg: *told_kg,
        days: *days,
        last: *last,
    }
}

fn to_data(bests: Bests) -> BestsData {
    // Tens of grams are finer than any estimate.
    let told_kg = (bests.told_kg * 100.0).round() / 100.0;
    (bests.front, told_kg, bests.days, bests.last)
}

/// Takes a set in that `model` has just learned; what it was the best in. An exercise of which sets
/// were logged before bests were kept is left alone until its log is learned anew.
pub(crate) fn take(
    all: &mut AllBests,
    filed: &LogEntry,
    model: &Model,
    view: &View,
) -> Option<Best> {
    let set = &filed.set;
    let belief = model.beliefs.get(&set.exercise);
    let name = view.name_of(set.exercise);
    let is_first = belief.is_none_or(|belief| belief.sets() <= 1);
    if !all.contains_key(name) && !is_first {
        return None;
    }
    let kept = all.entry(name.to_owned()).or_default();
    let mut bests = of_data(kept);
    let exercise = view.catalogue().exercise(set.exercise);
    let moved = set.load.moved(exercise, view.body_mass());
    let one_rm = belief.map(|belief| belief.one_rm().0);
    let best = bests.take(set, moved, one_rm);
    *kept = to_data(bests);
    best
}
