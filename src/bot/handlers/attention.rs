//! `/attention`: the few who need a person, what a coach wants to hear of, and what is dealt with.

use std::collections::BTreeMap;

use crate::message::intent::absence::Span;

use super::work::Work;
use crate::bot::state::prescription::Prescription;
use crate::bot::state::report::Report;
use crate::bot::state::{Change, Dismissed, Member};
use crate::bot::text;
use crate::bot::text::attention::{Group, Worry};
use crate::domain::coaching::adherence::{done_by_exercise, still_to_come};
use crate::domain::coaching::attention::{Concern, Facts, Kind, concerns};
use crate::domain::coaching::block::Block;
use crate::domain::coaching::deload::lighter_week;
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::message::forms::command::AttentionCommand;

/// The word under which a matter for a professional is dismissed.
const CAUTION: &str = "doctor";

impl Work<'_> {
    /// Answers `/attention`.
    pub(crate) fn attention(&mut self, command: &AttentionCommand) {
        if !self.is_coach() {
            return;
        }
        match command {
            AttentionCommand::Show(which) => {
                let week = self.week_named(*which);
                let hears = &self.member.profile.hears;
                let mut text = self.who_needs(week, &self.worries(), hears);
                if let Some(line) = text::own_names::to_map(self.unmapped_names()) {
                    text.push('\n');
                    text.push_str(&line);
                }
                self.tell(text);
            }
            AttentionCommand::Hear(words, on) => self.choose_heard(words, *on),
            AttentionCommand::Dismiss(name) => self.dismiss(name),
        }
    }

    fn choose_heard(&mut self, words: &[String], on: bool) {
        for word in words {
            if Kind::from_word(word).is_none() {
                self.tell(text::attention::no_kind(word));
                return;
            }
        }
        for word in words {
            self.member.profile.hears.insert(word.clone(), on);
        }
        let hears_of = &self.member.profile.hears;
        let text = text::attention::heard(|kind| hears(hears_of, kind));
        self.tell(text);
    }

    /// Everybody of whom there could be something to say, in the order of the names.
    pub(crate) fn worries(&self) -> Vec<Worry> {
        let of_team = self.loaded.team.iter();
        let details = of_team.flat_map(|team| &team.details);
        let worries = details.filter_map(|(id, details)| Some((id, details.worry.as_ref()?)));
        let mut worries: Vec<(&MemberId, &Worry)> = worries.collect();
        worries.sort_by_cached_key(|(id, worry)| (worry.name.to_lowercase(), **id));
        worries
            .into_iter()
            .map(|(_, worry)| worry.clone())
            .collect()
    }

    /// Who needs this coach in this week, and why.
    pub(crate) fn who_needs(
        &self,
        week: Week,
        worries: &[Worry],
        hears_of: &BTreeMap<String, bool>,
    ) -> String {
        if worries.is_empty() {
            return text::attention::NOBODY_YET.to_owned();
        }
        let mut told: Vec<Worry> = Vec::new();
        let mut others: BTreeMap<Group, usize> = BTreeMap::new();
        let mut unheard: BTreeMap<Kind, usize> = BTreeMap::new();
        let (today, mut away) = (self.view.today(), Vec::new());
        for worry in worries {
            let coming = worry.away.iter();
            let coming = coming.filter(|(_, until)| *until >= today || week.last_day() < today);
            away.extend(coming.map(|span| (worry.name.as_str(), *span)));
            let mut worry = worry.clone();
            let first = worry.concerns.first().map(Concern::kind);
            worry.concerns.retain(|one| hears(hears_of, one.kind()));
            if !worry.is_empty() {
                told.push(worry);
                continue;
            }
            *others.entry(worry.group).or_default() += 1;
            if let Some(kind) = first {
                *unheard.entry(kind).or_default() += 1;
            }
        }
        told.sort_by_cached_key(Worry::order);
        let others: Vec<(Group, usize)> = others.into_iter().collect();
        let unheard: Vec<(Kind, usize)> = unheard.into_iter().collect();
        let mut text = text::attention::attention(week, &told, &others, &unheard, self.view);
        let excused = worries.iter().filter_map(|worry| worry.excused.as_ref());
        text.extend(excused.map(|line| format!("\n{line}")));
        text.extend(text::absence::list(&away, today).map(|list| format!("\nAway: {list}.")));
        text
    }

    pub(crate) fn worry(&self, member: &Member, tally: &WeeklyVolume, week: Week) -> Worry {
        let view = self.seen_as(member);
        let today = self.view.today();
        // The digest has loaded the week before as well.
        let filed = self.sets_of(member).iter();
        let sets: Vec<&LoggedSet> = filed.filter(|set| week.contains(set.day)).collect();
        let held = self.held_by(member, week);
        let sessions = self.sessions_of(member, week);
        let asked: Vec<_> = sessions.iter().filter(|one| one.due).cloned().collect();
        let done = done_by_exercise(sets.iter().copied());
        let lacking = match asked.is_empty() {
            true => Vec::new(),
            false => still_to_come(&asked, &done, (week, today), self.view.catalogue()),
        };
        let adherence = self.adherence(member, week, &sets);
        let of_done = sessions.iter().zip(&adherence.sessions);
        let of_done = of_done.filter(|(_, told)| told.is_done());
        let mut left_out: Vec<ExerciseId> = of_done
            .flat_map(|(session, _)| &session.items)
            .filter(|item| !done.keys().any(|exercise| item.is_of(*exercise)))
            .map(|item| item.exercise)
            .filter(|exercise| !adherence.swaps.iter().any(|swap| swap.planned == *exercise))
            .collect();
        left_out.dedup();
        let items = sessions.iter().flat_map(|one| &one.items);
        let heavy = items.filter(|item| item.is_heavy);
        let heavy: Vec<ExerciseId> = heavy.map(|item| item.exercise).collect();
        let of_week =
            |(from, until): &&Span| *from <= week.last_day() && week.first_day() <= *until;
        let times: Vec<Span> = member.state.away.iter().filter(of_week).copied().collect();
        let away = member.state.is_away(today.min(week.last_day()));
        let rest_week = held.week().share() == 0 || away;
        let lighter = held.week().is_lighter();
        let facts = Facts {
            lifter: &view.lifter(),
            week,
            today,
            sets: &sets,
            tally,
            adherence: &adherence,
            lacking: &lacking,
            left_out: &left_out,
            lighter,
            rest_week,
            back: member
                .state
                .away
                .iter()
                .map(|(_, until)| *until)
                .filter(|until| *until < today)
                .max(),
            expected: self.loaded.has_sets && !self.begins_later(member, week),
            heavy: &heavy,
            courses: &self.courses(member, &view, &sets),
            trained: self
                .loaded
                .trained
                .get(&member.id)
                .map_or(&[], Vec::as_slice),
            last_day: self.loaded.last_days.get(&member.id).copied(),
        };
        let mut all = match member.coach {
            true => Vec::new(),
            false => concerns(&facts),
        };
        // Who was hurt in the week, and is well again, left out what hurt.
        let mut lifted = member.state.lifted.iter();
        let mut excused = None;
        if let Some(lifted) = lifted.find(|one| week.contains(one.told)) {
            let left_out =
                |concern: &Concern| matches!(concern.kind(), Kind::Sessions | Kind::Sets);
            let (done, of) = adherence.sets();
            excused = (all.iter().any(left_out) && done < of)
                .then(|| text::attention::excused(&member.name, (done, of), lifted));
            all.retain(|concern| !left_out(concern));
        }
        if !times.is_empty() {
            all.retain(|concern| concern.kind() != Kind::Sets);
        }
        let open = |kind: &str| {
            let mut dismissed = member.state.dismissed.iter();
            !dismissed.any(|one| one.kind == kind && today < one.until)
        };
        let mut left = all.clone();
        left.retain(|concern| open(concern.kind().word()));
        let usual = |some: &[Concern]| some.iter().any(|one| one.kind().is_usual());
        let group = if usual(&all) && !usual(&left) {
            Group::Dismissed
        } else if away {
            Group::Away
        } else if rest_week || (sets.is_empty() && sessions.is_empty()) {
            Group::Resting
        } else if sessions.is_empty() {
            Group::NoPlan
        } else if lighter {
            Group::Lighter
        } else {
            Group::OnPlan
        };
        let cautions = member.state.cautions.iter().filter(|_| open(CAUTION));
        let cautions =
            cautions.map(|told| (told.caution.clone(), self.view.calendar.day_of(told.at)));
        Worry {
            name: member.name.clone(),
            own: member.id == self.member.id,
            hurt: self.reports_of(member),
            anyway: self.trained_anyway(member, sets.iter().copied()),
            asked: member.state.unanswered(self.view.now),
            cautions: cautions.collect(),
            lighter: self.lighter(member, week, &left),
            concerns: left,
            group,
            away: times,
            excused,
        }
    }

    /// Whether a member without a plan has one from the next week on.
    fn begins_later(&self, member: &Member, week: Week) -> bool {
        let coming = self.coming_of(member);
        let coming = Prescription::in_week(coming, week.next(), self.view.catalogue());
        self.held_by(member, week).plan().is_none() && coming.plan().is_some()
    }

    /// A member's reports for coaches: warning signs first, then the latest.
    pub(crate) fn reports_of(&self, member: &Member) -> Vec<Report> {
        let mut reports = member.state.hurt.clone();
        reports.retain(|report| report.is_shown(self.view.now));
        reports.sort_by_key(|report| (report.sign.is_none(), std::cmp::Reverse(report.at)));
        reports
    }

    /// The block with a lighter week next, where something speaks for it.
    pub(crate) fn lighter(
        &self,
        member: &Member,
        week: Week,
        concerns: &[Concern],
    ) -> Option<Block> {
        let this = self.held_by(member, week).week();
        let coming = self.coming_of(member);
        let coming = Prescription::in_week(coming, week.next(), self.view.catalogue());
        let coming = coming.block.as_ref();
        lighter_week(concerns, this, coming.map(|one| (&one.block, one.place)))
    }

    /// What is said of a member this week is dealt with, until the week after next begins.
    fn dismiss(&mut self, name: &str) {
        let Some(mut other) = self.named(name) else {
            return;
        };
        let week = self.this_week();
        let mut worries = self.worries().into_iter();
        let worry = worries.find(|worry| worry.name == other.name);
        let listed = worry.filter(|worry| !worry.is_empty());
        let kinds = listed.iter().flat_map(|worry| {
            let concerns = worry.concerns.iter().map(|one| one.kind().word());
            let cautions = worry.cautions.iter().map(|_| CAUTION);
            cautions.chain(concerns)
        });
        let mut kinds: Vec<&'static str> = kinds.collect();
        kinds.dedup();
        if kinds.is_empty() {
            let asked = other.state.unanswered(self.view.now);
            let hurt = !self.reports_of(&other).is_empty() || !asked.is_empty();
            self.tell(text::attention::nothing_to_dismiss(&other.name, hurt));
            return;
        }
        let (today, until) = (self.view.today(), week.next().next().first_day());
        let dismissed = &mut other.state.dismissed;
        dismissed.retain(|one| today < one.until && !kinds.contains(&one.kind.as_str()));
        dismissed.extend(kinds.iter().map(|kind| Dismissed {
            kind: (*kind).to_owned(),
            until,
        }));
        self.tell(text::attention::dismissed(&other.name, &kinds, until));
        self.put_other(other);
    }

    /// Keeps what was changed of a member, who may be the author.
    pub(crate) fn put_other(&mut self, other: Member) {
        if other.id == self.member.id {
            self.member = other;
        } else {
            self.changes.push(Change::Member(Box::new(other)));
        }
    }
}

/// Whether a coach wants to hear of a kind, by what was chosen.
fn hears(chosen: &BTreeMap<String, bool>, kind: Kind) -> bool {
    let said = chosen.get(kind.word());
    said.copied().unwrap_or_else(|| kind.is_usual())
}
