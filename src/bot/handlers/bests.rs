//! A member's bests: noticed when they happen, and kept beside the log.

use super::work::Work;
use crate::bot::text;
use crate::domain::coaching::best::Best;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::id::ExerciseId;

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
            match &mut self.member.state.bests_of {
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
        let before = self.member.state.bests_of.take();
        let (of_today, earlier) = match before {
            Some((day, lines)) if day == today => (lines, None),
            other => (Vec::new(), other),
        };
        let stays = |line: &String| !of_touched.iter().any(|begins| line.starts_with(begins));
        let lines: Vec<String> = of_today.into_iter().filter(stays).chain(new).collect();
        self.member.state.bests_of = match lines.is_empty() {
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
