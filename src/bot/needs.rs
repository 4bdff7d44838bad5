//! What an event needs loaded, and what was loaded.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;

use super::reply::Outgoing;
use super::state::prescription::Version;
use super::state::team_week::TeamWeek;
use super::state::{DigestJob, LogEntry, Member, Remembered};
use super::text::attention::Worry;
use super::text::digest::{Line, Sums};
use crate::bot::state::cuts::Late;
use crate::domain::lifter::belief::Belief;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::{ExerciseId, MemberId};

/// Where an event came from, and what its answers are named after.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// The channel that answers go to.
    pub channel: String,
    /// The member's message that is answered, if any.
    pub answers: Option<String>,
    /// What reply ids begin with: unique for the event, the same when it is repeated.
    pub stem: String,
}

/// What must be loaded beyond the view.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Needs {
    /// Beliefs about these exercises.
    pub beliefs: Vec<ExerciseId>,
    /// The member's whole log; where `other` is named, that one's.
    pub history: bool,
    /// Sets of the member's are changed that are late in the log as a rule: as much of it as that
    /// needs.
    pub changes: bool,
    /// The log of these days, both included; where `other` is named, that one's.
    pub days: Option<(NaiveDate, NaiveDate)>,
    /// The member of the team with this name or author (lower case).
    pub other: Option<String>,
    /// The member of the team with this name or author (lower case), whose beliefs are needed.
    pub beliefs_of: Option<String>,
    /// All members of the team.
    pub members: bool,
    /// What is shown of many members' weeks.
    pub team: Option<TeamNeeds>,
    /// What coaches set for these members, as it stands on a day: the last of a week.
    pub prescribed: Option<(Whose, NaiveDate)>,
    /// All that bears on these days of what coaches set, for the same members.
    pub past: Option<(NaiveDate, NaiveDate)>,
    /// The same as it stands a week later.
    pub coming: bool,
    /// Beliefs about what comes next in today's planned session.
    pub session: bool,
    /// Beliefs about all of today's planned session, not only what comes next.
    pub whole_session: bool,
    /// Exercises that may be opened today: what was done of them in the last weeks.
    pub openings: Vec<ExerciseId>,
    /// Something of other members is changed: they are kept as they are until that is stored.
    pub changes_others: bool,
    /// All that is kept of the member beside log and profile.
    pub kept: bool,
    /// What the member was ever answered.
    pub answers: bool,
    /// The team's digest that is to come.
    pub digest: bool,
}

/// What is shown of many members' weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeamNeeds {
    /// The week.
    pub week: Week,
    /// How much of it.
    pub depth: Depth,
    /// Of the other member alone, not of the whole team.
    pub of_other: bool,
}

/// How much is shown of a team's week. Each holds what those before it do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// What everybody's sets add up to.
    Sums,
    /// What a coach may want to know of each.
    Concerns,
    /// What a digest says of each.
    Digest,
}

/// Whose plan, block and targets are needed.
#[derive(Clone, Debug, PartialEq)]
pub enum Whose {
    /// The member's own.
    Own,
    /// Those of the member, and of the one with this name or author (lower case).
    Named(String),
    /// Everybody's.
    Team,
}

/// What was loaded.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loaded {
    /// Encoded beliefs by exercise name.
    pub beliefs: Vec<(String, Vec<u8>)>,
    /// The whole log, in order, where needed; of its end alone where `late` says so.
    pub history: Vec<LogEntry>,
    /// What was believed before the end of the log that `history` is.
    pub late: Option<Late>,
    /// The log of the days asked for, in order.
    pub days: Vec<LogEntry>,
    /// The sets of the last weeks of the exercises that may be opened, in order.
    pub before: Vec<LogEntry>,
    /// The other member, if one alone is meant by that name.
    pub other: Option<Member>,
    /// The authors of all who go by that name.
    pub namesakes: Vec<String>,
    /// All members of the team, where needed.
    pub members: Vec<Member>,
    /// The team's log of the days asked for, by member, in order of time.
    pub team_days: BTreeMap<MemberId, Vec<LoggedSet>>,
    /// Encoded beliefs about others, by member, then exercise: of everybody in the team, or of the
    /// other member.
    pub team_beliefs: BTreeMap<MemberId, Vec<(String, Vec<u8>)>>,
    /// The last day with a set of everybody who ever filed one.
    pub last_days: BTreeMap<MemberId, NaiveDate>,
    /// Days with a set within the weeks before, by member, in order.
    pub trained: BTreeMap<MemberId, Vec<NaiveDate>>,
    /// Whether anybody in the team ever logged a set, where `trained` is needed.
    pub has_sets: bool,
    /// Everybody's week with what is said of it, where needed.
    pub team: Option<Arc<TeamLoaded>>,
    /// What coaches set, by member.
    pub prescriptions: BTreeMap<MemberId, Vec<Version>>,
    /// All of it that bears on the days asked for, by member, in order of kind, then day.
    pub past: BTreeMap<MemberId, Vec<Version>>,
    /// The same as it stands a week later, where needed.
    pub coming: BTreeMap<MemberId, Vec<Version>>,
    /// The team's digest that is to come.
    pub digest: DigestJob,
    /// Everything that coaches ever set for the member.
    pub ever: Vec<Version>,
    /// The member's messages, by id, in the order of time.
    pub messages: Vec<(String, Remembered)>,
    /// What the member was ever answered, in the order of time.
    pub answers: Vec<Outgoing>,
    /// The whole logs of the members asked for, in order.
    pub logs: Vec<(MemberId, Vec<LogEntry>)>,
}

impl Loaded {
    /// The member's beliefs, as far as they are loaded and of exercises that there are.
    pub(super) fn beliefs(&self, catalogue: &Catalogue) -> BTreeMap<ExerciseId, Belief> {
        let beliefs = self.beliefs.iter();
        beliefs
            .filter_map(|(name, state)| Some((catalogue.named(name)?, Belief::decode(state)?)))
            .collect()
    }
}

/// A team's week with what is said of each member.
#[derive(Clone, Debug, PartialEq)]
pub struct TeamLoaded {
    /// What it was loaded for.
    pub needs: TeamNeeds,
    /// What everybody's sets add up to.
    pub week: TeamWeek,
    /// What is said of each member, where it was asked for.
    pub details: BTreeMap<MemberId, Details>,
    /// Where most members posted, where a digest is to stand.
    pub busiest: Option<String>,
}

/// What is said of a member.
#[derive(Clone, Debug, PartialEq)]
pub struct Details {
    /// What a coach may want to know; `None` of coaches without a report.
    pub worry: Option<Worry>,
    /// The line in the digest.
    pub line: Line,
    /// What the plans of the week and of the one before came to.
    pub sums: [Sums; 2],
    /// What is planned for the week after, in words.
    pub coming: Option<String>,
}
