//! A member's bests: noticed when they happen, and kept beside the log.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::scene::Scene;
use super::state::FiledSet;
use super::words;
use super::work::Work;
use crate::domain::best::{Best, Bests};
use crate::domain::log::LoggedSet;
use crate::domain::model::Model;

/// The bests of a member, by exercise.
pub(super) type AllBests = BTreeMap<String, BestsData>;

/// [`Bests`] as stored: loads in grams with repetitions, the estimate, days, the last day.
pub type BestsData = (Vec<(i64, u32)>, f64, u32, Option<NaiveDate>);

fn of_data((front, told_kg, days, last): &BestsData) -> Bests {
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
pub(super) fn take(
    all: &mut AllBests,
    filed: &FiledSet,
    model: &Model,
    scene: &Scene,
) -> Option<Best> {
    let set = &filed.set;
    let belief = model.beliefs.get(&set.exercise);
    let name = scene.name_of(set.exercise);
    let is_first = belief.is_none_or(|belief| belief.sets() <= 1);
    if !all.contains_key(name) && !is_first {
        return None;
    }
    let kept = all.entry(name.to_owned()).or_default();
    let mut bests = of_data(kept);
    let exercise = scene.catalogue().exercise(set.exercise);
    let moved = set.load.moved(exercise, scene.body_mass());
    let one_rm = belief.map(|belief| belief.one_rm().0);
    let best = bests.take(set, moved, one_rm);
    *kept = to_data(bests);
    best
}

impl Work<'_> {
    /// Lines on the bests among the sets just logged, the last for each exercise.
    pub(super) fn bests_noticed(&mut self) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for (place, (set, best)) in self.noticed.iter().enumerate() {
            let later = self.noticed.get(place + 1..).unwrap_or_default();
            if later
                .iter()
                .all(|(other, _)| other.exercise != set.exercise)
            {
                lines.push(self.best_line(set, *best));
            }
        }
        let today = self.scene.today();
        if !lines.is_empty() {
            match &mut self.member.desk.bests_of {
                Some((day, noticed)) if *day == today => noticed.extend(lines.iter().cloned()),
                other => *other = Some((today, lines.clone())),
            }
        }
        lines
    }

    fn best_line(&self, set: &LoggedSet, best: Best) -> String {
        let estimate = self.model.beliefs.get(&set.exercise);
        let estimate = estimate.map(|belief| belief.one_rm());
        words::history::noticed(
            self.scene.name_of(set.exercise),
            set,
            best,
            estimate,
            self.scene.unit(),
        )
    }
}
