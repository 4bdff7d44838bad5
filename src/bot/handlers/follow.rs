//! What a member's week asks for, and how far it was followed: the way from what is stored to
//! [`crate::domain::coaching`].

use chrono::NaiveDate;

use super::plans::asks_nothing;
use super::work::Work;
use crate::bot::state::prescription::Prescribed;
use crate::bot::state::prescription::{Prescription, Version};
use crate::bot::state::{LogEntry, Member};
use crate::bot::text;
use crate::domain::coaching::adherence::{Adherence, PlannedSession, follow};
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;

impl Work<'_> {
    /// What coaches set for a member that bears on the weeks loaded, by kind, then day.
    pub(crate) fn versions_of(&self, member: &Member) -> &[Version] {
        let past = self.loaded.past.get(&member.id);
        let versions = past.or_else(|| self.loaded.prescriptions.get(&member.id));
        versions.map_or(&[], Vec::as_slice)
    }

    /// The same for the week after.
    pub(crate) fn coming_of(&self, member: &Member) -> &[Version] {
        let coming = self.loaded.coming.get(&member.id);
        coming.map_or(&[], Vec::as_slice)
    }

    /// What a week asks of a member.
    pub(crate) fn sessions_of(&self, member: &Member, week: Week) -> Vec<PlannedSession> {
        Prescription::sessions(
            self.versions_of(member),
            &member.state.away,
            week,
            self.view.catalogue(),
        )
    }

    /// How far it was followed by these sets of it, in order.
    pub(crate) fn adherence(&self, member: &Member, week: Week, sets: &[&LoggedSet]) -> Adherence {
        let sessions = self.sessions_of(member, week);
        follow(&sessions, sets.iter().copied(), self.view.catalogue())
    }

    /// How far a week's plan is done, in a line; `None` without one.
    pub(crate) fn plan_line(
        &self,
        member: &Member,
        week: Week,
        sets: &[&LogEntry],
    ) -> Option<String> {
        let sets: Vec<&LoggedSet> = sets.iter().map(|filed| &filed.set).collect();
        let adherence = self.adherence(member, week, &sets);
        let lighter = self.held_by(member, week).week().is_lighter();
        text::plan_line(&adherence, lighter)
    }

    /// From which day on something holds that is set for a week. A plan that takes the place of
    /// another in mid-week leaves the days before to that one; the first of a week has the whole
    /// week, and says when it was set.
    pub(crate) fn dated(
        &self,
        member: &Member,
        week: Week,
        content: Prescribed,
    ) -> (NaiveDate, Prescribed) {
        let (today, first) = (self.view.today(), week.first_day());
        let Prescribed::Plan(mut plan) = content else {
            return (first, content);
        };
        if !week.contains(today) || today == first {
            return (first, Prescribed::Plan(plan));
        }
        plan.set = Some(today);
        let standing = self.versions_of(member).iter().rev();
        let mut standing = standing.filter_map(|version| match &version.content {
            Prescribed::Plan(data) if version.from <= today => Some((version.from, data)),
            _ => None,
        });
        let from = match standing.next() {
            Some((from, before)) if !asks_nothing(before) => {
                let since = before.set.unwrap_or(from);
                if since < today { today } else { from }
            }
            _ => first,
        };
        (from, Prescribed::Plan(plan))
    }
}
