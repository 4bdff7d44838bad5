//! What lists of a whole team say of one member, worked out from that member's sets, which are then let go: a
//! team may have thousands of members, and each a hundred sets a week.

use std::collections::BTreeMap;

use super::work::Work;
use crate::bot::needs::{Depth, Details, Loaded, Source, TeamNeeds};
use crate::bot::state::Member;
use crate::bot::state::prescription::Prescription;
use crate::bot::state::team_week::MemberWeek;
use crate::bot::state::view::View;
use crate::bot::text;
use crate::bot::text::digest::Line;
use crate::domain::quantities::id::MemberId;

/// What is said of these members. `weeks` are theirs, in the same order; `loaded` holds their sets, beliefs
/// and plans. None where sums are enough.
pub fn details(
    view: &View,
    loaded: &Loaded,
    members: &[Member],
    weeks: &[MemberWeek],
    needs: &TeamNeeds,
) -> BTreeMap<MemberId, Details> {
    if needs.depth < Depth::Concerns {
        return BTreeMap::new();
    }
    let source = Source {
        channel: String::new(),
        answers: None,
        stem: String::new(),
    };
    let work = Work::new(view, &source, loaded);
    let each = members.iter().zip(weeks);
    each.map(|(member, one)| (member.id, work.details(member, one, needs)))
        .collect()
}

impl Work<'_> {
    fn details(&self, member: &Member, one: &MemberWeek, needs: &TeamNeeds) -> Details {
        let week = needs.week;
        // Pain comes before all, also a coach's own, trained or not.
        let state = &member.state;
        let asked = !state.unanswered(self.view.now).is_empty();
        let shown = !member.coach || !state.hurt.is_empty() || asked || !state.cautions.is_empty();
        let worry = shown.then(|| self.worry(member, &one.tally, week));
        if needs.depth < Depth::Digest {
            return Details {
                worry,
                line: Line::default(),
                sums: Default::default(),
                coming: None,
            };
        }
        let coming = self.coming_of(member);
        let held = Prescription::in_week(coming, week.next(), self.view.catalogue());
        Details {
            worry,
            line: self.line(member, &one.tally, week),
            sums: [week, week.previous()].map(|week| self.sums_of(member, week)),
            coming: text::digest::coming(&held),
        }
    }
}
