//! How right the advice was: what was said of the next set is kept with the reply and held against
//! what was done, beside the plainest guess there is, the same as last time.
//!
//! A set counts where it was done as it was foretold: at that load, after about that rest, ended at about
//! that effort, and posted by itself as it was done. What was said is never worked out anew; what was done is
//! corrected with the log, as far back as the last two dozen such sets.

use super::work::Work;
use crate::bot::state::accuracy::{AS_TOLD, Foretold, Held, LOADS_KEPT, load_of};
use crate::bot::state::{LogEntry, Member, is_work};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, Reason};
use crate::domain::log::SetKind;

impl Work<'_> {
    /// Keeps what is said of the next set.
    pub(crate) fn foretell(&mut self, advice: &Advice) {
        let name = self.view.name_of(advice.exercise).to_owned();
        let (Some(load), Some(expect)) = (advice.load, advice.expect) else {
            self.member.state.predictions.open.remove(&name);
            return;
        };
        let wondered = advice.reason == Reason::Asked;
        let load = (load.mass.tenth_micrograms(), load.basis.word().to_owned());
        let run = self.run(advice.exercise);
        let last = run.iter().rfind(|set| set.kind != SetKind::WarmUp);
        let before = match last {
            Some(set) => (set.load.mass.tenth_micrograms() == load.0).then_some(set.reps),
            None => {
                let opened = self.member.state.predictions.opened.get(&name);
                opened
                    .filter(|opened| opened.0 == load)
                    .map(|opened| opened.1)
            }
        };
        let said = Foretold {
            at: self.view.now,
            load,
            rest_s: last.map_or(0, |_| advice.rest_s),
            median: (expect.median * 100.0).round() / 100.0,
            span: (expect.low, expect.high),
            rir: Some(expect.rir.reps()),
            before,
        };
        let predictions = &mut self.member.state.predictions;
        if wondered {
            predictions.wondered.insert(name, said);
        } else {
            predictions.wondered.remove(&name);
            predictions.open.insert(name, said);
        }
    }

    /// Holds sets that are about to be filed against what was said of them: a set posted as it was
    /// done, at the load and about the rest that were named.
    pub(crate) fn hold_against_foretold(&mut self, new: &[LogEntry]) {
        let [filed] = new else { return };
        if !is_work(filed) || filed.set.kind != SetKind::Straight || !filed.set.timed {
            return;
        }
        let name = self.view.name_of(filed.set.exercise).to_owned();
        let run = self.run(filed.set.exercise);
        let last = run.iter().rfind(|set| set.kind != SetKind::WarmUp);
        let load = load_of(filed);
        if last.is_none() {
            let opened = (load.clone(), filed.set.reps);
            self.member
                .state
                .predictions
                .opened
                .insert(name.clone(), opened);
        }
        let predictions = &mut self.member.state.predictions;
        let advised = predictions.open.remove(&name);
        let wondered = predictions.wondered.remove(&name);
        if let Some(said) = &advised {
            self.note_load(said, filed);
        }
        let wondered = wondered.filter(|said| said.load == load);
        let Some(said) = wondered.or(advised) else {
            return;
        };
        let (least, most, more) = AS_TOLD;
        let told_s = f64::from(said.rest_s);
        let rested = last.is_none_or(|last| {
            let taken = f64::from(filed.set.stated_rest_s.unwrap_or_else(|| {
                u32::try_from((filed.set.at - last.at).num_seconds()).unwrap_or(u32::MAX)
            }));
            (told_s * least..=told_s * most + more).contains(&taken)
        });
        let met = rested && said.is_fresh(filed);
        let reps = said.answered_by(filed, met);
        self.member.state.predictions.hold(Held {
            lift: name,
            message: filed.message.clone(),
            place: filed.place,
            said,
            met,
            reps,
        });
    }

    /// Counts whether the load was the one advised.
    fn note_load(&mut self, said: &Foretold, filed: &LogEntry) {
        let done = load_of(filed);
        if said.load.1 != done.1 || !said.is_fresh(filed) {
            return;
        }
        let loads = &mut self.member.state.predictions.loads;
        let oldest = self.view.today() - LOADS_KEPT;
        loads.retain(|day, _| *day >= oldest);
        let of_day = loads.entry(filed.set.day).or_default();
        *of_day = of_day.with(said.load.0, done.0);
    }

    /// Corrects what was counted where sets were taken out of the log or changed.
    pub(crate) fn hold_anew(&mut self, removed: &[LogEntry], revised: &[LogEntry]) {
        let name_of = |filed: &LogEntry| self.view.name_of(filed.set.exercise).to_owned();
        let names: Vec<String> = revised.iter().map(name_of).collect();
        let predictions = &mut self.member.state.predictions;
        for place in 0..predictions.last.len() {
            let held = &predictions.last[place];
            if removed.iter().any(|filed| held.is_of(filed)) {
                predictions.recount(place, None);
                continue;
            }
            let now = revised.iter().zip(&names).find(|(set, _)| held.is_of(set));
            if let Some((filed, name)) = now {
                let reps = held.said.answered_by(filed, held.met);
                let same_lift = *name == held.lift;
                predictions.recount(place, reps.filter(|_| same_lift));
            }
        }
        let is_gone = |held: &Held| removed.iter().any(|filed| held.is_of(filed));
        predictions.last.retain(|held| !is_gone(held));
    }

    /// The same in words for whoever asks; a coach of whom nothing was foretold hears of the team.
    pub(crate) fn accuracy_in_words(&mut self) {
        let own = &self.member.state.predictions;
        if self.member.coach && own.by_lift.is_empty() {
            self.accuracy(None);
        } else {
            self.tell(text::accuracy::in_words(own));
        }
    }

    /// How right the advice was: by lift for a member, by member for the coach of a team.
    pub(crate) fn accuracy(&mut self, name: Option<&str>) {
        if name.is_some() && !self.is_coach() {
            return;
        }
        let text = match name {
            Some(name) => match self.named(name) {
                Some(other) => text::accuracy::of_member(&other.name, &other.state.predictions),
                None => return,
            },
            None if self.member.coach => {
                let own = &self.member;
                let members = self.loaded.members.iter();
                let members: Vec<&Member> = members
                    .map(|one| if one.id == own.id { own } else { one })
                    .collect();
                text::accuracy::of_team(&members)
            }
            None => text::accuracy::of_member(&self.member.name, &self.member.state.predictions),
        };
        self.tell(text);
    }
}
