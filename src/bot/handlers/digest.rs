//! The week put before everybody: when it is due, and what it says to whom. Sentences stand in
//! [`text::digest`].

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};

use super::team::lifters;
use super::work::Work;
use crate::bot::figure::{self, Figure};
use crate::bot::needs::TeamLoaded;
use crate::bot::reply::{File, Outgoing, Reply};
use crate::bot::state::prescription::Prescription;
use crate::bot::state::report::Report;
use crate::bot::state::team_week::{MemberWeek, RosterEntry, TeamWeek};
use crate::bot::state::view::View;
use crate::bot::state::{DigestJob, LogEntry, Member, TeamSettings};
use crate::bot::text;
use crate::bot::text::digest::{DigestView, Line, Names, Sums};
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::weekly::LATEST;
use crate::message::forms::command::DigestCommand;

/// A digest that comes so long after its hour is marked as late.
pub const LATE: TimeDelta = TimeDelta::minutes(10);

/// The digest that comes next, and when, for a team that had one before (or was to), as its
/// settings now are; of a new team the first whose hour is still to come.
pub fn plan(
    settings: &TeamSettings,
    before: &DigestJob,
    now: DateTime<Utc>,
) -> (DigestJob, DateTime<Utc>) {
    let (hour, calendar) = (settings.digest.hour(), settings.calendar());
    let last = before
        .last
        .clone()
        .unwrap_or_else(|| hour.first(calendar, now).previous().label());
    let (week, due) = hour.next(&last, calendar, now);
    let job = DigestJob {
        week: Some(week.first_day()),
        last: Some(last),
        earlier: before.earlier.clone(),
        set: Some(now),
    };
    (job, due)
}

/// So many weeks before the last are remembered: a clock that is ahead soon lets several go by.
const EARLIER: usize = 8;

/// A clock by which a digest was planned stood ahead when it did by this much: one that did by less has
/// let no digest be late for long.
const AHEAD: TimeDelta = TimeDelta::days(1);
/// No digest is planned for so much later, whatever day and hour are set.
const FURTHEST: TimeDelta = TimeDelta::days(15);

/// The same for a digest that was planned for `due` by a clock that stood ahead: weeks that the team
/// is said to have had, and cannot have had by `now`, are not believed. `None` where the clock was
/// right.
pub fn plan_anew(
    settings: &TeamSettings,
    planned: &DigestJob,
    due: DateTime<Utc>,
    now: DateTime<Utc>,
) -> Option<(DigestJob, DateTime<Utc>)> {
    let ahead = match planned.set {
        Some(set) => set - now > AHEAD,
        None => due - now > FURTHEST,
    };
    if !ahead {
        return None;
    }
    let (hour, calendar) = (settings.digest.hour(), settings.calendar());
    let coming = hour.first(calendar, now).label();
    let mut had = planned.earlier.clone();
    had.extend(planned.last.clone());
    had.retain(|label| *label < coming);
    // Of one that had none the hour may have come while the clock was wrong.
    let first = || hour.first(calendar, now - LATEST).previous().label();
    let before = DigestJob {
        week: None,
        last: Some(had.pop().unwrap_or_else(first)),
        earlier: had,
        set: None,
    };
    Some(plan(settings, &before, now))
}

/// What is known of the team's digests once this one was had, or went without.
pub fn after(settings: &TeamSettings, had: &DigestJob) -> DigestJob {
    let Some(label) = week_of(settings, had).map(Week::label) else {
        return DigestJob {
            week: None,
            ..had.clone()
        };
    };
    let mut earlier = had.earlier.clone();
    earlier.extend(had.last.clone());
    let many = earlier.len().saturating_sub(EARLIER);
    DigestJob {
        week: None,
        last: Some(label),
        earlier: earlier.split_off(many),
        set: had.set,
    }
}

/// The week that a digest is about.
pub fn week_of(settings: &TeamSettings, digest: &DigestJob) -> Option<Week> {
    let day = digest.week?;
    Some(settings.calendar().week_of(day))
}

/// Tells the team's coaches something in private. `stem` names it.
pub fn to_coaches(team: &str, coaches: &[Member], stem: &str, text: &str) -> Vec<Outgoing> {
    let reply = |(place, coach): (usize, &Member)| {
        Outgoing::Reply(Reply {
            id: format!("{stem}.{}", place + 1),
            team: team.to_owned(),
            to: Some(coach.author.clone()),
            private: true,
            text: text.to_owned(),
            ..Reply::default()
        })
    };
    coaches.iter().enumerate().map(reply).collect()
}

impl Work<'_> {
    /// Answers `/digest`.
    pub(crate) fn digest(&mut self, command: DigestCommand) {
        let profile = &mut self.member.profile;
        match command {
            DigestCommand::Show if self.member.coach => return self.digest_so_far(),
            DigestCommand::Show => {}
            DigestCommand::Mine(on) => profile.own_week = on,
            DigestCommand::Line(on) => profile.listed = on,
        }
        let text = text::digest::chosen(&self.member.profile);
        self.tell(text);
    }

    /// The week so far, as the digest would have it, to the coach who asked and nobody else.
    fn digest_so_far(&mut self) {
        let week = self.this_week();
        if let Some(reply) = self.for_all(week, text::digest::When::SoFar) {
            let blank = self.blank();
            self.out.push(Outgoing::Reply(Reply {
                to: blank.to,
                channel: blank.channel,
                private: true,
                ..reply
            }));
        } else {
            self.tell(text::digest::nothing_posted(week));
        }
        let text = self.who_needs(week, &self.worries(), &self.member.profile.hears);
        self.tell(text);
    }

    /// The digest is due: the team's in its channel, the coaches' in private.
    pub(crate) fn put_before_all(&mut self, week: Week, late: bool) {
        let when = match late {
            true => text::digest::When::Late,
            false => text::digest::When::InTime,
        };
        let for_all = self.for_all(week, when);
        let (worries, files) = match for_all {
            Some(reply) => {
                self.out.push(Outgoing::Reply(reply));
                let files = pictures(week, lifters(self.loaded), self.view.catalogue());
                (Some(self.worries()), files)
            }
            None => (None, Vec::new()),
        };
        let of_team = self.loaded.team.iter();
        let coaches = of_team.flat_map(|of_team| &of_team.week.members);
        let coaches = coaches.map(|one| &one.member).filter(|one| one.coach);
        let coaches: Vec<RosterEntry> = coaches.cloned().collect();
        for coach in coaches {
            let text = match &worries {
                Some(worries) => self.who_needs(week, worries, &coach.hears),
                None => text::digest::nothing_posted(week),
            };
            let reply = Reply {
                to: Some(coach.author),
                private: true,
                text,
                files: files.clone(),
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
    }

    /// What stands in the channel; `None` where nobody filed a set.
    fn for_all(&mut self, week: Week, when: text::digest::When) -> Option<Reply> {
        let of_team = self.loaded.team.as_deref()?;
        let totals = of_team.week.totals();
        if totals.trained == 0 {
            return None;
        }
        let members = lifters(self.loaded);
        // Names stand before all only of those who agreed.
        let trained: Vec<&MemberWeek> = members
            .iter()
            .copied()
            .filter(|one| one.trained())
            .collect();
        let (listed, unlisted): (Vec<&MemberWeek>, Vec<&MemberWeek>) =
            trained.iter().partition(|one| one.member.listed);
        let details = |one: &MemberWeek| of_team.details.get(&one.member.id);
        let lines_of = |some: &[&MemberWeek]| -> Vec<Line> {
            let lines = some.iter().filter_map(|one| details(one));
            lines.map(|details| details.line.clone()).collect()
        };
        let (lines, unnamed) = (lines_of(&listed), lines_of(&unlisted));
        let mut sums = [Sums::default(); 2];
        for details in members.iter().filter_map(|one| details(one)) {
            for (sum, own) in sums.iter_mut().zip(details.sums) {
                sum.done += own.done;
                sum.planned += own.planned;
                sum.trained += own.trained;
            }
        }
        let files = public_pictures(week, &trained, &listed, self.view.catalogue());
        let text = text::digest::digest(&DigestView {
            week,
            when,
            totals: &totals,
            sums,
            lines: &lines,
            unnamed: &unnamed,
            next: &next_week(of_team, &members),
            catalogue: self.view.catalogue(),
        });
        let set = &self.view.team.settings.digest.channel;
        let channel = set.clone().or_else(|| of_team.busiest.clone());
        let data = digest_data(self.view, &of_team.week, &lines);
        Some(Reply {
            channel: channel.unwrap_or_default(),
            to: None,
            text,
            data: Some(data),
            files,
            ..self.blank()
        })
    }

    /// A member's line: what they would be glad that others see.
    pub(crate) fn line(&self, member: &Member, tally: &WeeklyVolume, week: Week) -> Line {
        let filed = self.sets_of(member).iter();
        let sets: Vec<&LoggedSet> = filed.filter(|set| week.contains(set.day)).collect();
        let days: BTreeSet<_> = sets.iter().map(|set| set.day).collect();
        let courses = self.courses(member, &self.seen_as(member), &sets);
        // Whoever reported pain is not held up as somebody who gains.
        let well = !member.state.hurt.iter().any(Report::is_open);
        let gains = courses
            .iter()
            .filter(|(_, course)| well && course.stalled.is_some() && course.change.low > 0.0)
            .max_by(|(_, a), (_, b)| a.change.middle.total_cmp(&b.change.middle));
        let adherence = self.adherence(member, week, &sets);
        let sessions = adherence.sessions();
        Line {
            name: member.name.clone(),
            done: tally.done(),
            days: days.len(),
            sessions: (sessions.1 > 0).then_some(sessions),
            kept: adherence.is_kept(),
            gains: gains.map(|(exercise, course)| (*exercise, course.change.middle)),
        }
    }

    /// What the plans of a member's week come to.
    pub(crate) fn sums_of(&self, member: &Member, week: Week) -> Sums {
        let sets = self.sets_of(member).iter();
        let sets: Vec<&LoggedSet> = sets.filter(|set| week.contains(set.day)).collect();
        let (done, planned) = self.adherence(member, week, &sets).sessions();
        Sums {
            done,
            planned,
            trained: u32::from(!sets.is_empty()),
        }
    }

    /// A member's own week, in private.
    pub(crate) fn put_own_week(&mut self, week: Week) {
        let sets = self.loaded.days.iter();
        let sets: Vec<&LogEntry> = sets.filter(|filed| week.contains(filed.set.day)).collect();
        let tally = self.tally_of(self.view, &sets, week);
        let before = self.weeks_before(self.view, week);
        // An empty picture would say no more than the words, and less kindly.
        let figure = (tally.done() > 0)
            .then(|| figure::week(None, week, &tally, &before, self.view.catalogue()));
        let coming = self.coming_of(&self.member);
        let held = Prescription::in_week(coming, week.next(), self.view.catalogue());
        let plan = self.plan_line(&self.member, week, &sets);
        let text = text::digest::own_week(
            &self.member.name,
            week,
            &tally,
            plan.as_deref(),
            text::digest::coming(&held).as_deref(),
            self.view.catalogue(),
        );
        let data = super::member::week_data(self.view, week, &tally);
        self.tell_with(text, Some(data), figure.map(Figure::into_file));
    }
}

/// What next week is for whom: those with the same block and week together.
fn next_week(of_team: &TeamLoaded, members: &[&MemberWeek]) -> Vec<(String, Names)> {
    let mut alike: BTreeMap<String, Names> = BTreeMap::new();
    for one in members {
        let details = of_team.details.get(&one.member.id);
        if let Some(text) = details.and_then(|details| details.coming.clone()) {
            let names = alike.entry(text).or_default();
            match one.member.listed {
                true => names.named.push(one.member.name.clone()),
                false => names.unnamed += 1,
            }
        }
    }
    let mut alike: Vec<_> = alike.into_iter().collect();
    alike.sort_by_key(|(_, names)| std::cmp::Reverse(names.count()));
    alike
}

/// The pictures of these members' weeks, members by muscles.
fn pictures<'a>(
    week: Week,
    members: impl IntoIterator<Item = &'a MemberWeek>,
    catalogue: &Catalogue,
) -> Vec<File> {
    let row = |one: &'a MemberWeek| (one.member.name.as_str(), &one.tally);
    let rows: Vec<(&str, &WeeklyVolume)> = members.into_iter().map(row).collect();
    let figures = figure::team(week, &rows, catalogue).into_iter();
    figures.take(MOST_PICTURES).map(Figure::into_file).collect()
}

/// The pictures that stand before all: the mean of all who trained, then those who agreed to be named.
fn public_pictures(
    week: Week,
    trained: &[&MemberWeek],
    listed: &[&MemberWeek],
    catalogue: &Catalogue,
) -> Vec<File> {
    fn row(one: &MemberWeek) -> (&str, &WeeklyVolume) {
        (one.member.name.as_str(), &one.tally)
    }
    let [all, rows] = [trained, listed].map(|some| some.iter().map(|one| row(one)));
    let all: Vec<&WeeklyVolume> = all.map(|(_, tally)| tally).collect();
    let rows: Vec<(&str, &WeeklyVolume)> = rows.collect();
    let figures = figure::team_with_mean(week, &all, &rows, catalogue).into_iter();
    figures.take(MOST_PICTURES).map(Figure::into_file).collect()
}

/// Pictures of one message; channels carry no more.
const MOST_PICTURES: usize = 10;

/// The numbers behind a digest, as the pipe has them.
fn digest_data(view: &View, of_team: &TeamWeek, lines: &[Line]) -> Value {
    let (week, totals) = (of_team.week, of_team.totals());
    let muscles = totals.muscles.iter().map(|one| {
        let name = &view.catalogue().muscle(one.muscle).name;
        json!({ "muscle": name, "counted": one.counted, "direct": one.direct })
    });
    let members = lines.iter().map(|line| {
        let (done, planned) = line.sessions.unwrap_or_default();
        json!({
            "name": line.name,
            "sets": line.done,
            "days": line.days,
            "sessions_done": done,
            "sessions": planned,
            "kept": line.kept,
        })
    });
    json!({
        "week": week.to_string(),
        "from": week.first_day().to_string(),
        "to": week.last_day().to_string(),
        "lifters": totals.lifters,
        "trained": totals.trained,
        "sets": totals.sets,
        "muscles": muscles.collect::<Vec<_>>(),
        "members": members.collect::<Vec<_>>(),
    })
}
