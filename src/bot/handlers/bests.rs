//! A member's bests: noticed when they happen, and kept beside the log.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::work::Work;
use crate::bot::state::LogEntry;
use crate::bot::state::view::View;
use crate::bot::text;
use crate::domain::coaching::best::{Best, Bests};
use crate::domain::lifter::model::Model;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::id::ExerciseId;

/// The bests of a member, by exercise.
pub(crate) type AllBests = BTreeMap<String, BestsData>;

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

impl Work<'_> {
    /// Lines on the bests among the sets just logged, the last for each exercise.
    pub(crate) fn bests_noticed(&mut self) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for (place, (set, best)) in self.noticed.iter().enumerate() {
            let later = &self.noticed[place + 1..];
            if later
                .iter()
                .all(|(other, _)| other.exercise != set.exercise)
            {
                lines.push(self.best_line(set, *best));
            }
        }
        let today = self.view.today();
        if !lines.is_empty() {
            match &mut self.member.desk.bests_of {
                Some((day, noticed)) if *day == today => noticed.extend(lines.iter().cloned()),
                other => *other = Some((today, lines.clone())),
            }
        }
        lines
    }

    /// What was noticed of these exercises today is what their sets, as they now are, are bests in.
    pub(crate) fn notice_anew(&mut self, touched: &[ExerciseId], noticed: &[(LoggedSet, Best)]) {
        let today = self.view.today();
        let names = touched.iter().map(|&one| self.view.name_of(one));
        let of_touched: Vec<String> = names.map(text::history::best_on).collect();
        let of_today = noticed.iter().filter(|(set, _)| set.day == today);
        let new = of_today.filter(|(set, _)| touched.contains(&set.exercise));
        let new: Vec<String> = new.map(|(set, best)| self.best_line(set, *best)).collect();
        let before = self.member.desk.bests_of.take();
        let (of_today, earlier) = match before {
            Some((day, lines)) if day == today => (lines, None),
            other => (Vec::new(), other),
        };
        let stays = |line: &String| !of_touched.iter().any(|begins| line.starts_with(begins));
        let lines: Vec<String> = of_today.into_iter().filter(stays).chain(new).collect();
        self.member.desk.bests_of = match lines.is_empty() {
            true => earlier,
            false => Some((today, lines)),
        };
    }

    fn best_line(&self, set: &LoggedSet, best: Best) -> String {
        let estimate = self.model.beliefs.get(&set.exercise);
        let estimate = estimate.map(|belief| belief.one_rm());
        text::history::noticed(
            self.view.name_of(set.exercise),
            set,
            best,
            estimate,
            self.view.unit(),
        )
    }
}
