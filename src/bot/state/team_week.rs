//! A team's week in numbers: what everybody's sets add up to, each by themselves and all together.
//!
//! [`Tx::week_of`](crate::store::Tx::week_of) loads one in three statements, however many members. The
//! coach's table, the weekly digest and its pictures are drawn from it; sentences stand in [`crate::bot::text`],
//! and who needs the coach is found in [`crate::domain::coaching::attention`], from more than sums.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::Member;
use super::prescription::{Prescription, Version};
use crate::domain::coaching::week::{Counts, WeeklyVolume, WhyNot};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MemberId, MuscleId};

/// Everybody's week.
#[derive(Clone, Debug, PartialEq)]
pub struct TeamWeek {
    /// The week, of the team's own calendar.
    pub week: Week,
    /// Everybody in the team, coaches included, in the order in which they came.
    pub members: Vec<MemberWeek>,
}

/// What lists of a whole team need of a member: little, since a team may have thousands.
#[derive(Clone, Debug, PartialEq)]
pub struct RosterEntry {
    /// The store's id.
    pub id: MemberId,
    /// The channel's name for the author.
    pub author: String,
    /// The name shown.
    pub name: String,
    /// One of the team's coaches.
    pub coach: bool,
    /// Whether the member agreed to stand in the digest by name.
    pub listed: bool,
    /// Whether the member wants their own week, in private.
    pub own_week: bool,
    /// What a coach chose to hear of, by word.
    pub hears: BTreeMap<String, bool>,
}

impl From<&Member> for RosterEntry {
    fn from(member: &Member) -> Self {
        Self {
            id: member.id,
            author: member.author.clone(),
            name: member.name.clone(),
            coach: member.coach,
            listed: member.profile.listed,
            own_week: member.profile.own_week,
            hears: member.profile.hears.clone(),
        }
    }
}

/// One member's week.
#[derive(Clone, Debug, PartialEq)]
pub struct MemberWeek {
    /// The member.
    pub member: RosterEntry,
    /// Counted sets, in all and by muscle in the order of the catalogue, against the bands that hold
    /// for the member in that week; and what did not count, with why.
    pub tally: WeeklyVolume,
}

impl MemberWeek {
    /// Whether any set of the week was filed, counted or not.
    pub fn trained(&self) -> bool {
        self.tally.done() > 0
    }
}

/// What a team's sets of a week come to together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Totals {
    /// Members who lift: all but the coaches who filed nothing that week.
    pub lifters: u32,
    /// Those of them who filed a set.
    pub trained: u32,
    /// Their sets that count.
    pub sets: u32,
    /// Their sets that do not.
    pub not_counted: u32,
    /// Counted sets by muscle, in halves, and those among them that targeted it; every muscle of the
    /// catalogue in its order, none where nobody lifts.
    pub muscles: Vec<MuscleTotal>,
}

/// What a team's sets of a week come to for one muscle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MuscleTotal {
    /// The muscle.
    pub muscle: MuscleId,
    /// Counted sets of all members, 0 or more, in halves.
    pub counted: f64,
    /// Those among them that targeted it.
    pub direct: u32,
}

impl TeamWeek {
    /// A week of these members from the judged sets of each, and from what coaches set for them by
    /// the last day of the week, by kind, then day. `today`: the day on which their training status is taken,
    /// and by which the week is over or not.
    pub fn new(
        week: Week,
        members: &[Member],
        sets: &BTreeMap<MemberId, Vec<(ExerciseId, Counts)>>,
        versions: &BTreeMap<MemberId, Vec<Version>>,
        catalogue: &Catalogue,
        today: NaiveDate,
    ) -> Self {
        let members = members.iter().map(|member| {
            let mut tally = WeeklyVolume::empty(catalogue, member.profile.status(today));
            let mut done = BTreeMap::new();
            for (exercise, judgement) in sets.get(&member.id).into_iter().flatten() {
                tally.add(catalogue.exercise(*exercise), *judgement);
                if *judgement != Counts::No(WhyNot::WarmUp) {
                    *done.entry(*exercise).or_default() += 1;
                }
            }
            let versions = versions.get(&member.id).map_or(&[][..], Vec::as_slice);
            let sessions = Prescription::sessions(versions, &member.state.away, week, catalogue);
            let held = Prescription::in_week(versions, week, catalogue);
            held.put_aims(&mut tally, &sessions, &done, (week, today), catalogue);
            MemberWeek {
                member: member.into(),
                tally,
            }
        });
        Self {
            week,
            members: members.collect(),
        }
    }

    /// Those who lift, by name: all but the coaches who filed nothing that week.
    pub fn lifters(&self) -> Vec<&MemberWeek> {
        let lifts = |one: &&MemberWeek| !one.member.coach || one.trained();
        let mut lifters: Vec<&MemberWeek> = self.members.iter().filter(lifts).collect();
        lifters.sort_by_cached_key(|one| (one.member.name.to_lowercase(), one.member.id));
        lifters
    }

    /// What those who lift come to together.
    pub fn totals(&self) -> Totals {
        let mut totals = Totals::default();
        for one in self.lifters() {
            let tally = &one.tally;
            totals.lifters += 1;
            totals.trained += u32::from(one.trained());
            totals.sets += tally.sets;
            totals.not_counted += tally.done() - tally.sets;
            if totals.muscles.is_empty() {
                let nothing = |line: &crate::domain::coaching::week::MuscleWeek| MuscleTotal {
                    muscle: line.muscle,
                    counted: 0.0,
                    direct: 0,
                };
                totals.muscles = tally.muscles.iter().map(nothing).collect();
            }
            for (sum, line) in totals.muscles.iter_mut().zip(&tally.muscles) {
                sum.counted += line.counted;
                sum.direct += line.direct;
            }
        }
        totals
    }
}
