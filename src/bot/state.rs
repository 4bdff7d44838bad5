//! What a use case finds loaded, and what is to be stored.
//!
//! Settings and the state of a member are kept by the store as JSON, so they hold names and numbers, no ids that
//! only mean something beside a loaded catalogue.

pub mod accuracy;
pub mod bests;
pub mod checkpoint;
pub mod cuts;
pub mod follow_on;
pub(crate) mod parts;
pub(crate) mod planned_load;
pub mod prescription;
pub(crate) mod ramp;
pub mod report;
pub mod team_week;
pub mod undone;
pub mod view;
use std::collections::BTreeMap;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, Timelike as _, Utc, Weekday};
use chrono_tz::Tz;
use serde::{Deserialize, Deserializer, Serialize};

use super::state::prescription::{PlanData, Version};
use super::state::report::{HurtAsked, Report, ReportedCaution};
use crate::bot::state::cuts::{CheckpointChange, Cuts};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::calendar::TeamCalendar;
use crate::domain::quantities::id::{MemberId, SetId, TeamId};
use crate::domain::quantities::status::TrainingStatus;
use crate::domain::quantities::weekly::WeeklyHour;
use crate::message::intent::absence::{Span, is_in};
use crate::message::reading::Technique;

use accuracy::Predictions;
use cuts::BestsData;

/// A team as stored.
#[derive(Clone, Debug, PartialEq)]
pub struct Team {
    /// The store's id.
    pub id: TeamId,
    /// The channel's name for it.
    pub key: String,
    /// What its coaches set.
    pub settings: TeamSettings,
}

/// What a team's coaches set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct TeamSettings {
    /// IANA name of the time zone.
    pub zone: String,
    /// First day of the week: `mon` … `sun`.
    pub week_start: String,
    /// Unit of members who chose none: `kg` or `lb`.
    pub unit: String,
    /// The team's own exercises, oldest first.
    pub exercises: Vec<OwnExercise>,
    /// When the digest comes, and where.
    #[serde(skip_serializing_if = "DigestSettings::is_usual")]
    pub digest: DigestSettings,
    /// Hours in which no bell rings: minutes of the day, from and up to; over midnight where the
    /// second is not after the first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quiet: Option<(u16, u16)>,
    /// Plans kept under a name, to be given to members.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub templates: Vec<Template>,
}

/// A plan kept under a name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Template {
    /// Lower case.
    pub name: String,
    /// The plan as it is printed, which reads back as the same plan.
    pub text: String,
}

impl Default for TeamSettings {
    fn default() -> Self {
        Self {
            zone: "UTC".to_owned(),
            week_start: "mon".to_owned(),
            unit: "kg".to_owned(),
            exercises: Vec::new(),
            digest: DigestSettings::default(),
            quiet: None,
            templates: Vec::new(),
        }
    }
}

impl TeamSettings {
    /// How the team reckons days and weeks.
    pub fn calendar(&self) -> TeamCalendar {
        TeamCalendar {
            zone: self.zone.parse().unwrap_or(Tz::UTC),
            week_start: self.week_start.parse().unwrap_or(Weekday::Mon),
        }
    }

    /// Whether no bell rings at this instant.
    pub fn is_quiet(&self, now: DateTime<Utc>) -> bool {
        let local = now.with_timezone(&self.calendar().zone);
        let minute = local.hour() * 60 + local.minute();
        self.quiet.is_some_and(|(from, to)| {
            let (from, to) = (u32::from(from), u32::from(to));
            match from < to {
                true => (from..to).contains(&minute),
                false => minute >= from || minute < to,
            }
        })
    }
}

/// When a team's digest comes, and where.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct DigestSettings {
    /// `mon` … `sun`.
    pub day: String,
    /// Minutes of the day.
    pub minute: u16,
    /// The channel; `None` is where most sets of the week were posted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub channel: Option<String>,
    /// It does not come.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub off: bool,
}

impl Default for DigestSettings {
    fn default() -> Self {
        Self {
            day: "sun".to_owned(),
            minute: 18 * 60,
            channel: None,
            off: false,
        }
    }
}

impl DigestSettings {
    /// Whether nothing was set.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }

    /// The hour at which it comes.
    pub fn hour(&self) -> WeeklyHour {
        let time = NaiveTime::from_num_seconds_from_midnight_opt(u32::from(self.minute) * 60, 0);
        WeeklyHour {
            weekday: self.day.parse().unwrap_or(Weekday::Sun),
            time: time.unwrap_or_default(),
        }
    }
}

/// An exercise that a team added, by names.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default)]
pub struct OwnExercise {
    /// Canonical name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Target muscle.
    pub target: String,
    /// Helper muscles.
    pub helpers: Vec<String>,
    /// The exercise it behaves like: equipment, basis, class and body share are that one's.
    pub like: String,
    /// The member, by author, whose own name it is; `None` for an exercise of the team's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// What that member calls it: the canonical name is another where somebody else's was first.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub called: String,
    /// The exercise that the member's name stands for, once somebody has said so. Until then nothing is
    /// known of it, and it has neither target nor like.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub is: Option<String>,
}

impl OwnExercise {
    /// Whether it is this member's own name.
    pub fn is_of(&self, author: &str) -> bool {
        self.by.as_deref() == Some(author)
    }
}

/// A member as stored.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// The store's id.
    pub id: MemberId,
    /// The channel's name for the author.
    pub author: String,
    /// The name shown.
    pub name: String,
    /// One of the team's coaches.
    pub coach: bool,
    /// What the member set.
    pub profile: Profile,
    /// What lies open between messages.
    pub state: MemberState,
    /// The encoded [`crate::domain::lifter::condition::Condition`], if any set was ever learned from.
    pub condition: Option<Vec<u8>>,
}

/// What the author of an expected member begins with, until one posts who goes by the name.
const EXPECTED: &str = "expected:";
/// Longest name of an expected member, characters.
const LONGEST_NAME: usize = 40;

impl Member {
    /// Somebody whom a coach sets something for before their first post, by name or author; not
    /// stored yet. `None` for what is no name.
    pub fn expected(name: &str) -> Option<Self> {
        let marks = |c: char| c.is_alphanumeric() || " .'-_".contains(c);
        let sound = name.chars().all(marks) && name.chars().any(char::is_alphanumeric);
        (sound && name.chars().count() <= LONGEST_NAME).then(|| Self {
            id: Self::NOT_STORED,
            author: Self::expected_author(name),
            name: name.to_owned(),
            coach: false,
            profile: Profile::default(),
            state: MemberState::default(),
            condition: None,
        })
    }

    /// The id of a member who is not stored yet; ids of rows begin at 1.
    pub const NOT_STORED: MemberId = MemberId(0);

    /// The author under whom somebody is expected who goes by this name or author.
    pub fn expected_author(name: &str) -> String {
        format!("{EXPECTED}{}", name.to_lowercase())
    }

    /// Whether the member never posted, and is only expected.
    pub fn is_expected(&self) -> bool {
        Self::is_expected_author(&self.author)
    }

    /// Whether somebody who never posted is kept under this author.
    pub fn is_expected_author(author: &str) -> bool {
        author.starts_with(EXPECTED)
    }

    /// Whether the member goes by this name or author, given in lower case.
    pub fn is_called(&self, name: &str) -> bool {
        self.name.to_lowercase() == name || self.author.to_lowercase() == name
    }

    /// The one meant by `name` among members who are called so: an author's name is one's own, while
    /// shown names may be alike.
    pub fn meant<'m>(called: &[&'m Self], name: &str) -> Option<&'m Self> {
        let author = |member: &&&'m Self| member.author.to_lowercase() == name;
        match called {
            [one] => Some(one),
            several => several.iter().find(author).copied(),
        }
    }
}

/// What a member set.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Profile {
    /// `kg` or `lb`; `None` takes the team's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Body mass in tenths of a microgram.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub body_mass: Option<i64>,
    /// Months of training, and the day they were stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub experience: Option<(u32, NaiveDate)>,
    /// What can be loaded, where it is not the usual gym.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rack: Option<RackData>,
    /// Where the member is, where it is not the place they began with.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What can be loaded at the other places, by name; under the empty name at the first one.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub places: BTreeMap<String, Option<RackData>>,
    /// No bells.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub silent: bool,
    /// Messages from before this were erased with whoever wrote them, and are not taken again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub since: Option<DateTime<Utc>>,
    /// Bells come as a direct message.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub bell_private: bool,
    /// Agreed to be named in the team's digest.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub listed: bool,
    /// Where the summary of a session comes: `channel` or `off`; `None` is in private.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summary: Option<String>,
    /// The own week comes each week, as a direct message.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub own_week: bool,
    /// Body masses as they were stated, by day, in tenths of a microgram; the latest of a day.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub masses: BTreeMap<NaiveDate, i64>,
    /// What a coach wants to hear of or not, where that is not the usual: words of
    /// [`crate::domain::coaching::attention::Kind`].
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub hears: BTreeMap<String, bool>,
}

impl Profile {
    /// Training status on a day, by the months stated; what was stated grows with the calendar.
    pub fn status(&self, today: NaiveDate) -> TrainingStatus {
        self.experience
            .map_or_else(TrainingStatus::default, |(months, day)| {
                let days = (today - day).num_days().max(0);
                let since = u32::try_from(days / 30).unwrap_or(0);
                TrainingStatus::from_months(months.saturating_add(since))
            })
    }
}

/// Where a member's rack differs from the usual gym, in numbers of `unit`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct RackData {
    /// `kg` or `lb`.
    pub unit: String,
    /// The bar.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bar: Option<f64>,
    /// Disc and pairs of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discs: Option<Vec<(f64, u8)>>,
    /// Lightest, step, heaviest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dumbbells: Option<(f64, f64, f64)>,
    /// Lightest, step, heaviest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack: Option<(f64, f64, f64)>,
}

/// A report of pain that a coach lifted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lifted {
    /// What it was, in short.
    pub what: String,
    /// The day on which it was told.
    pub told: NaiveDate,
    /// The day on which it was lifted.
    pub on: NaiveDate,
}

/// The plans that a coach's last change took the place of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlansBefore {
    /// When it was made.
    pub at: DateTime<Utc>,
    /// A day of the week for which it was.
    pub week: NaiveDate,
    /// What each member had, by author.
    pub plans: Vec<(String, PlanData)>,
}

/// Commands that the buttons under a reply stand for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Offered {
    /// The reply.
    pub reply: String,
    /// What each button does, in order.
    pub commands: Vec<String>,
}

/// Offers that are kept.
pub const MOST_OFFERED: usize = 5;

/// Times away that are kept.
const MOST_AWAY: usize = 20;

/// Times away; an earlier version kept one.
fn stored_away<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Span>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum Stored {
        One(Span),
        All(Vec<Span>),
    }
    Ok(match Option::deserialize(from)? {
        None => Vec::new(),
        Some(Stored::One(span)) => vec![span],
        Some(Stored::All(spans)) => spans,
    })
}

/// Lifted reports that are kept.
pub const MOST_LIFTED: usize = 20;

/// What lies open between a member's messages.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct MemberState {
    /// Questions of the bot's that are not answered yet, oldest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub pending: Vec<Pending>,
    /// The running cards, by exercise name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub cards: BTreeMap<String, Card>,
    /// Checks that failed since the last set: words of [`crate::domain::quantities::check::Check`].
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub failing: Vec<String>,
    /// What was said of being ready since the last set, until the next set takes it into the log.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub said: Vec<SaidAt>,
    /// The exercise that stood in a message of its own last.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub named: Option<Named>,
    /// Reports of pain that no coach has lifted, oldest first.
    #[serde(
        deserialize_with = "report::stored",
        skip_serializing_if = "Vec::is_empty"
    )]
    pub hurt: Vec<Report>,
    /// How many reports there ever were.
    #[serde(skip_serializing_if = "is_none_yet")]
    pub reported: u32,
    /// Questions whether something hurts that stand unanswered, oldest first.
    #[serde(
        deserialize_with = "report::stored_questions",
        skip_serializing_if = "Vec::is_empty"
    )]
    pub hurt_asked: Vec<HurtAsked>,
    /// What was told that belongs to a licensed professional.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<ReportedCaution>,
    /// Reports that coaches lifted, the latest last.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lifted: Vec<Lifted>,
    /// Days on which the member is away, first and last of each time, as they or a coach said.
    #[serde(
        deserialize_with = "stored_away",
        skip_serializing_if = "Vec::is_empty"
    )]
    pub away: Vec<Span>,
    /// The days, first and last, on which training is light by the member's word.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub light: Option<Span>,
    /// What a coach's last change of plans took the place of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plans_before: Option<PlansBefore>,
    /// Commands that buttons offer, the latest last.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub offered: Vec<Offered>,
    /// When a coach last lifted a report: by exercise, by area ([`report::cleared_area`]), or of
    /// everything, under the empty name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub cleared: BTreeMap<String, DateTime<Utc>>,
    /// The lines on bests that were noticed on the last day with any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bests_of: Option<(NaiveDate, Vec<String>)>,
    /// The last day whose session was summed up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub summed_up: Option<NaiveDate>,
    /// What the member noted beside sets, by the set's id.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub set_notes: BTreeMap<i64, String>,
    /// The question which sets a correction means, while it stands unanswered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub amending: Option<Amending>,
    /// What coaches noted, oldest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Note>,
    /// Whether the member, as a coach, was told which reports of pain were open when they came.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub told_of_reports: bool,
    /// Whether the member was told what this is, before a set was logged.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub welcomed: bool,
    /// The bests so far, by exercise.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub bests: BTreeMap<String, BestsData>,
    /// Where the log can be learned again from.
    #[serde(skip_serializing_if = "Cuts::is_empty")]
    pub cuts: Cuts,
    /// What coaches have dealt with.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dismissed: Vec<Dismissed>,
    /// Whether the first-use line was said.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub greeted: bool,
    /// The exercise whose last advice was to put weight on, by name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub advised_up: Option<String>,
    /// What was said of sets to come, and how right it was.
    #[serde(skip_serializing_if = "Predictions::is_empty")]
    pub predictions: Predictions,
    /// Whether the line on ascending loads was said.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub told_ascending: bool,
    /// Whether a beginner was told that straight sets come first.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub told_straight: bool,
    /// The bell's message that rang and stands unanswered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rung: Option<Rung>,
    /// What the last correction, or undo, took the place of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub undone: Option<undone::Undone>,
    /// From when the bell that was asked for last counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub timer: Option<DateTime<Utc>>,
    /// The question whether everything is to be erased, while it stands unanswered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forget: Option<ForgetAsked>,
}

impl MemberState {
    /// Whether training is light on a day by the member's word.
    pub fn is_light(&self, day: NaiveDate) -> bool {
        self.light.is_some_and(|span| is_in(&[span], day))
    }

    /// Keeps that training is light on these days; where they are not named, no more than a week from when it was said
    /// first. What holds then.
    pub fn keep_light(&mut self, said: Span, named: bool) -> Span {
        let week = |from: NaiveDate| from + Days::new(6);
        let known = self
            .light
            .filter(|(from, _)| !named && said.0 <= week(*from));
        let span = known.map_or(said, |(from, until)| {
            (from, until.max(said.1.min(week(from))))
        });
        *self.light.insert(span)
    }

    /// Whether the member is away on a day.
    pub fn is_away(&self, day: NaiveDate) -> bool {
        is_in(&self.away, day)
    }

    /// Keeps that the member is away. It takes the place of what is known of the same days; where no start was
    /// said (`starts`), one that is known to come stays.
    pub fn keep_away(&mut self, said: Span, starts: bool, today: NaiveDate) -> Span {
        let meets = |known: &Span| known.0 <= said.1 && said.0 <= known.1 && known.1 >= today;
        let known = self.away.iter().find(|known| meets(known));
        let from = known.map_or(said.0, |known| known.0);
        let span = if starts { said } else { (from, said.1) };
        self.away.retain(|known| !meets(known));
        self.away.push(span);
        self.away.sort_unstable();
        let over = self.away.len().saturating_sub(MOST_AWAY);
        self.away.drain(..over);
        span
    }

    /// Ends the absence that a day lies in, with the day before; what it was.
    pub fn end_away(&mut self, day: NaiveDate) -> Option<Span> {
        let place = self
            .away
            .iter()
            .position(|(from, until)| (*from..=*until).contains(&day))?;
        let whole = self.away.remove(place);
        if let Some(last) = day.pred_opt().filter(|last| *last >= whole.0) {
            self.away.push((whole.0, last));
        }
        Some(whole)
    }

    /// The number of the next report, which counts as told.
    pub fn next_report(&mut self) -> u32 {
        self.reported = self.reported.saturating_add(1);
        self.reported
    }

    /// Drops reports that coaches have seen long enough, and the oldest where there are too many.
    pub fn forget_old_reports(&mut self, now: DateTime<Utc>) {
        self.hurt.retain(|report| report.is_shown(now));
        while self.hurt.len() > report::MOST {
            let plain = self.hurt.iter().position(|report| report.sign.is_none());
            self.hurt.remove(plain.unwrap_or(0));
        }
    }

    /// What was asked whether it hurts, and has no answer yet: the latest first, for some days.
    pub fn unanswered(&self, now: DateTime<Utc>) -> Vec<Report> {
        let asked = self.hurt_asked.iter().rev().map(|asked| &asked.report);
        asked
            .filter(|report| now - report.at < report::SHOWN_FOR)
            .cloned()
            .collect()
    }
}

/// The question which sets a correction means.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Amending {
    /// The bot's reply that asks.
    pub reply: String,
    /// The channel.
    pub channel: String,
    /// When it was asked.
    pub at: DateTime<Utc>,
    /// The correction, in the member's words.
    pub text: String,
    /// The sets behind each button, by id.
    pub choices: Vec<Vec<i64>>,
}

/// Most notes on sets that are kept; the oldest give way.
pub const MOST_SET_NOTES: usize = 200;

/// The question whether everything of a member is to be erased.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ForgetAsked {
    /// The bot's reply that asks.
    pub reply: String,
    /// The channel.
    pub channel: String,
    /// When it was asked.
    pub at: DateTime<Utc>,
}

/// A word on being ready.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SaidAt {
    /// When it was said.
    pub at: DateTime<Utc>,
    /// Of which check, a word of [`crate::domain::quantities::check::Check`].
    pub check: String,
    /// Whether it holds.
    pub ready: bool,
}

/// The exercise at hand since the last set: the sets without a name that follow are of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Named {
    /// The exercise, by name, or words that seem to name one which the catalogue lacks.
    pub exercise: String,
    /// When it was named.
    pub at: DateTime<Utc>,
    /// The load announced for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<NamedLoad>,
}

/// A load as it was announced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NamedLoad {
    /// How much of the unit.
    pub amount: f64,
    /// The unit, by its symbol.
    pub unit: String,
    /// What it is, a word of [`crate::domain::quantities::catalogue::Basis`].
    pub basis: String,
}

/// A question that waits for the member.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pending {
    /// The member's message it is about.
    pub message: String,
    /// The bot's reply that asks.
    pub reply: String,
    /// The channel.
    pub channel: String,
    /// When the member wrote.
    pub at: DateTime<Utc>,
    /// What the member wrote; it is read again when the answer comes.
    pub text: String,
    /// Answers given so far, as button ids.
    pub answers: Vec<String>,
    /// The question is only whether an unlikely number is meant.
    #[serde(default)]
    pub confirm: bool,
}

/// A running card.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Card {
    /// The bot's reply.
    pub reply: String,
    /// The channel it stands in.
    pub channel: String,
    /// The local day it is for.
    pub day: NaiveDate,
}

/// A kind of reason that coaches are not told of again for a while.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Dismissed {
    /// A word of [`crate::domain::coaching::attention::Kind`], or `doctor`.
    pub kind: String,
    /// The first day on which they are.
    pub until: NaiveDate,
}

/// Notes kept of a member; the oldest give way.
pub const MOST_NOTES: usize = 20;

/// What a coach noted on a member.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Note {
    /// The local day.
    pub day: NaiveDate,
    /// Which coach, by the channel's name for the author.
    pub by: String,
    /// The text.
    pub text: String,
    /// Its number among the notes on the member; 0 where it is of an earlier version.
    #[serde(default)]
    pub number: u32,
    /// Whether the member may read it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub shared: bool,
}

impl Note {
    /// The number of the next note.
    pub fn next_number(notes: &[Self]) -> u32 {
        let count = u32::try_from(notes.len()).unwrap_or(u32::MAX);
        let highest = notes.iter().map(|note| note.number).max().unwrap_or(0);
        highest.max(count).saturating_add(1)
    }

    /// Notes with a number each; those of an earlier version get theirs by their place.
    pub fn numbered(mut notes: Vec<Self>) -> Vec<Self> {
        for (place, note) in (1..).zip(&mut notes) {
            if note.number == 0 {
                note.number = place;
            }
        }
        notes
    }
}

/// A bell's message.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rung {
    /// The bot's reply.
    pub reply: String,
    /// The channel.
    pub channel: String,
    /// The exercise rested from, by name.
    pub exercise: String,
    /// How often the bell had been moved by a failing check.
    #[serde(default, skip_serializing_if = "is_never")]
    pub moved: u8,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the serialiser hands references over"
)]
const fn is_none_yet(count: &u32) -> bool {
    *count == 0
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the serialiser hands references over"
)]
const fn is_never(count: &u8) -> bool {
    *count == 0
}

/// A set in the log with where it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct LogEntry {
    /// The set; its id is known once stored.
    pub set: LoggedSet,
    /// The member's message that holds it.
    pub message: String,
    /// The channel of that message.
    pub channel: String,
    /// Its place among the sets of the message, from 0.
    pub place: u32,
    /// Its place among the sets of the local day, from 1.
    pub order: u32,
    /// The technique named.
    pub technique: Option<Technique>,
    /// Repetitions that the belief holds were left, from what was known when the set was learned;
    /// `None` where the lifter said how many, or nothing can be judged.
    pub judged: Option<f64>,
}

/// A message as remembered: for edits, deletions and repeats.
#[derive(Clone, Debug, PartialEq)]
pub struct Remembered {
    /// Who wrote it.
    pub author: String,
    /// Where.
    pub channel: String,
    /// When.
    pub at: DateTime<Utc>,
}

/// A bell that waits to ring for a member.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Bell {
    /// The exercise rested from, by name.
    pub exercise: String,
    /// Where it rings.
    pub channel: String,
    /// When it rings.
    pub due: DateTime<Utc>,
    /// How often it was moved by a failing check.
    pub moved: u8,
    /// When it was set; `None` by an earlier version.
    pub set: Option<DateTime<Utc>>,
    /// How far the clock of the sets that it follows stood ahead, milliseconds.
    pub ahead_ms: i64,
}

/// Something that is to happen at a time.
#[derive(Clone, Debug, PartialEq)]
pub enum Job {
    /// A member's bell.
    Bell(Bell),
    /// A team's digest.
    Digest(DigestJob),
    /// A member's own week; its first day.
    OwnWeek(NaiveDate),
}

/// A team's digest that is to come.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct DigestJob {
    /// The first day of the week that it is about; `None` where that is still to be seen.
    pub week: Option<NaiveDate>,
    /// The label of the last week that was had, or went without.
    pub last: Option<String>,
    /// Those before it, the oldest first; as many as are of use when a clock is set back.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub earlier: Vec<String>,
    /// When this was planned; `None` by an earlier version.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<DateTime<Utc>>,
}

/// A job that is due, with whose it is.
#[derive(Clone, Debug, PartialEq)]
pub struct DueJob {
    /// Its key: one job of a key at a time.
    pub key: String,
    /// The team.
    pub team: Team,
    /// The member, where it is one's.
    pub member: Option<Member>,
    /// When it was due.
    pub due: DateTime<Utc>,
    /// How often it failed before.
    pub tries: u32,
    /// What is to happen.
    pub job: Job,
}

/// One thing to store. All of an event's changes go into one transaction.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// New sets, in order.
    Log(Vec<LogEntry>),
    /// Sets that get new content; their ids are set.
    Revise(Vec<LogEntry>),
    /// Sets taken out.
    Remove(Vec<SetId>),
    /// Sets of which the belief now judges otherwise how much was left.
    Judge(Vec<(SetId, Option<f64>)>),
    /// Beliefs by exercise name; `None` takes one out.
    Beliefs(Vec<(String, Option<Vec<u8>>)>),
    /// What was believed before the first sets of the last days.
    Checkpoints(CheckpointChange),
    /// The member's profile, state and condition.
    Member(Box<Member>),
    /// The team's settings.
    Settings(TeamSettings),
    /// What a coach sets for a member of the team, from a day on.
    Prescribe(MemberId, Version),
    /// The same for a member who is expected under this name, and may not be stored yet.
    PrescribeExpected(String, Version),
    /// An expected member is expected no longer; with all that was set.
    Unexpect(MemberId),
    /// The member's one bell; `None` cancels it.
    Bell(Option<Bell>),
    /// Everything of the member goes, also from what others were told; messages from before this
    /// moment are not taken again. The last change of an event.
    Erase(DateTime<Utc>),
}

/// Whether a set is a work set, straight or not.
pub(crate) fn is_work(filed: &LogEntry) -> bool {
    filed.set.kind != SetKind::WarmUp
}
