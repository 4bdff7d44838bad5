//! Sentences of the weekly digest.

use std::collections::BTreeMap;

use super::plan::block_week;
use super::table::and;
use super::{capital, count_of, day, sets_count, shown_name};
use crate::bot::state::Profile;
use crate::bot::state::prescription::{Prescription, Running};
use crate::bot::state::team_week::Totals;
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::ExerciseId;

/// A lift that gains, and by how much of it a week.
pub type Gain = (ExerciseId, f64);

/// When a digest comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// At its hour.
    InTime,
    /// After it.
    Late,
    /// When somebody asked, before the week is over.
    SoFar,
}

/// A digest as the channel sees it.
pub struct DigestView<'a> {
    /// The week.
    pub week: Week,
    /// When it comes.
    pub when: When,
    /// What all come to together.
    pub totals: &'a Totals,
    /// This week's plans and the week before's, over everybody.
    pub sums: [Sums; 2],
    /// A line for each who trained and agreed to be named, in order.
    pub lines: &'a [Line],
    /// The same for those who did not agree: they are counted, never named.
    pub unnamed: &'a [Line],
    /// What next week is, and for whom.
    pub next: &'a [(String, Names)],
    /// The team's exercises.
    pub catalogue: &'a Catalogue,
}

/// What a week's plans come to over a team.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// Sessions done.
    pub done: u32,
    /// Sessions planned.
    pub planned: u32,
    /// Members who trained.
    pub trained: u32,
}

/// Some members, before all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    /// Those who agreed to be named.
    pub named: Vec<String>,
    /// How many others there are.
    pub unnamed: usize,
}

impl Names {
    /// How many they are.
    pub const fn count(&self) -> usize {
        self.named.len() + self.unnamed
    }
}

/// What is said of a member before all.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// The member.
    pub name: String,
    /// Sets that were done.
    pub done: u32,
    /// Days with a set.
    pub days: usize,
    /// Sessions of the plan done and planned; `None` without a plan.
    pub sessions: Option<(u32, u32)>,
    /// Whether the plan was kept.
    pub kept: bool,
    /// The lift that surely gains most.
    pub gains: Option<Gain>,
}

/// Names in one row; the others are counted.
const MOST_NAMES: usize = 6;

/// The team's week: two or three sentences on it, a line for each, and what comes next.
pub fn digest(view: &DigestView<'_>) -> String {
    let mut first = vec![title(view)];
    first.extend(kept(view));
    first.extend(bests(view));
    let mut parts = vec![first.join(" ")];
    parts.extend(next(view.next));
    match view.lines.len() > MOST_LINES {
        true => parts.extend(together(view.lines)),
        false => parts.extend(view.lines.iter().map(line)),
    }
    parts.extend(how_to_be_named(view));
    parts.join("\n")
}

/// `The team's week, Monday … to Sunday …: 9 of 12 lifted and did 27 of 33 planned sessions, 3 more
/// than the week before.`
fn title(view: &DigestView<'_>) -> String {
    let Totals {
        lifters,
        trained,
        sets,
        ..
    } = view.totals;
    let opens = match view.when {
        When::InTime => "The team's week",
        When::Late => "Late, since I was away: the team's week",
        When::SoFar => "The team's week so far",
    };
    let who = match (trained, lifters) {
        (1, 1) => "one lifter".to_owned(),
        (all, of) if all == of => format!("all {of} lifted"),
        (some, of) => format!("{some} of {of} lifted"),
    };
    let days = format!(
        "{} to {}",
        day(view.week.first_day()),
        day(view.week.last_day())
    );
    let [now, before] = view.sums;
    let did = match now.planned {
        0 => format!(", {}", sets_count(*sets)),
        1 => format!(" and did {} of 1 planned session", now.done),
        planned => format!(" and did {} of {planned} planned sessions", now.done),
    };
    // A week that is still on is no match for one that is over.
    let compared = before.planned > 0 && now.planned > 0 && view.when != When::SoFar;
    let compared = match (i64::from(now.done) - i64::from(before.done), compared) {
        (_, false) => String::new(),
        (0, true) => ", as many as the week before".to_owned(),
        (more, true) if more > 0 => format!(", {more} more than the week before"),
        (fewer, true) => format!(", {} fewer than the week before", -fewer),
    };
    format!("{opens}, {days}: {who}{did}{compared}.")
}

/// `Ada, Cleo and 9 more kept their whole plan.`
fn kept(view: &DigestView<'_>) -> Option<String> {
    let names = view.lines.iter().filter(|line| line.kept);
    let mut who = Names {
        named: names.map(|line| line.name.clone()).collect(),
        unnamed: view.unnamed.iter().filter(|line| line.kept).count(),
    };
    if view.lines.len() > MOST_LINES {
        // The lines below name them.
        who.unnamed += who.named.len();
        who.named.clear();
    }
    match who.count() {
        0 => None,
        1 => Some(format!("{} kept the whole plan.", capital(&people(&who)))),
        all if all == view.lines.len() + view.unnamed.len() && who.named.is_empty() => {
            Some("All of them kept their whole plan.".to_owned())
        }
        _ => Some(format!("{} kept their whole plan.", people(&who))),
    }
}

/// Lifts that go up, named in a sentence.
const MOST_BESTS: usize = 4;

/// `Going up: back squat (Ada), bench press (Cleo), and a lift of 3 more.`
fn bests(view: &DigestView<'_>) -> Option<String> {
    let mut gains: Vec<(&Line, Gain)> = view
        .lines
        .iter()
        .filter_map(|line| Some((line, line.gains?)))
        .collect();
    gains.sort_by(|(_, (_, a)), (_, (_, b))| b.total_cmp(a));
    let unnamed = view.unnamed.iter().filter(|line| line.gains.is_some());
    let more = gains.len().saturating_sub(MOST_BESTS) + unnamed.count();
    gains.truncate(MOST_BESTS);
    let names = gains.iter().map(|(line, (exercise, _))| {
        let name = &view.catalogue.exercise(*exercise).name;
        format!("{name} ({})", shown_name(&line.name))
    });
    let names: Vec<String> = names.collect();
    match (names.is_empty(), more) {
        (true, 0) => None,
        (true, 1) => Some("One of them has a lift that is clearly going up.".to_owned()),
        (true, more) => Some(format!(
            "{more} of them have a lift that is clearly going up."
        )),
        (false, 0) => Some(format!("Going up: {}.", names.join(", "))),
        (false, more) => Some(format!(
            "Going up: {}, and one lift each of {more} more.",
            names.join(", ")
        )),
    }
}

/// How the others get a line, where any trained.
fn how_to_be_named(view: &DigestView<'_>) -> Option<String> {
    let unnamed = view.unnamed.len();
    match (view.lines.is_empty(), unnamed) {
        (_, 0) => None,
        (true, _) => Some("Names stand here only if you agree: `/digest line on`.".to_owned()),
        (false, 1) => Some("1 more trained; `/digest line on` adds your line here.".to_owned()),
        (false, more) => Some(format!(
            "{more} more trained; `/digest line on` adds your line here."
        )),
    }
}

/// `Ines: 3 of 3 sessions, 34 sets.`
fn line(line: &Line) -> String {
    let sets = count_of(line.done, "set");
    let text = match (line.sessions, line.days) {
        (Some((done, 1)), _) => format!("{done} of 1 session, {sets}"),
        (Some((done, of)), _) => format!("{done} of {of} sessions, {sets}"),
        (None, 0 | 1) => sets,
        (None, days) => format!("{sets} on {days} days"),
    };
    format!("{}: {text}.", shown_name(&line.name))
}

/// More members than these have no line each.
const MOST_LINES: usize = 12;

/// Those who did as many sessions together, the most first: `3 of 3 sessions: Ada, Bo and Cleo.`
fn together(lines: &[Line]) -> Vec<String> {
    let mut alike: BTreeMap<(i64, u32), Vec<String>> = BTreeMap::new();
    for line in lines {
        // The most missed stand last; without a plan behind all.
        let place = line.sessions.map_or((i64::MAX, 0), |(done, of)| {
            (i64::from(of) - i64::from(done), of)
        });
        alike.entry(place).or_default().push(shown_name(&line.name));
    }
    let texts = alike.into_iter().map(|((missed, of), names)| {
        let done = i64::from(of) - missed;
        match of {
            0 => format!("Without a plan: {}.", and(&names)),
            1 => format!("{done} of 1 session: {}.", and(&names)),
            of => format!("{done} of {of} sessions: {}.", and(&names)),
        }
    });
    texts.collect()
}

/// What next week is; with names where it is not the same for all.
fn next(next: &[(String, Names)]) -> Vec<String> {
    match next {
        [] => Vec::new(),
        [(what, _)] => vec![format!("Next week: {what}.")],
        several => several
            .iter()
            .map(|(what, names)| format!("Next week for {}: {what}.", people(names)))
            .collect(),
    }
}

/// `Ada, Cleo and 9 more`, `9 members`, `one member`.
fn people(names: &Names) -> String {
    let mut shown: Vec<String> = names.named.iter().map(|name| shown_name(name)).collect();
    let more = shown.len().saturating_sub(MOST_NAMES) + names.unnamed;
    shown.truncate(MOST_NAMES);
    match (shown.is_empty(), more) {
        (_, 0) => {}
        (true, 1) => shown.push("one member".to_owned()),
        (true, more) => shown.push(format!("{more} members")),
        (false, more) => shown.push(format!("{more} more")),
    }
    and(&shown)
}

/// What a week to come is, from what the coach set: `week 3 of 4, 1 left`. `None` where nothing is.
pub fn coming(held: &Prescription) -> Option<String> {
    match &held.block {
        Some(running) => Some(in_block(running)),
        None => held.plan().map(|_| "as planned".to_owned()),
    }
}

fn in_block(running: &Running) -> String {
    format!(
        "week {} of {}, {}",
        running.place + 1,
        running.block.weeks().len(),
        block_week(running.week())
    )
}

/// To the coach: nobody posted.
pub fn nothing_posted(week: Week) -> String {
    format!(
        "Nobody posted a set, {} to {}, so there is no digest. If the team takes a break, `/settings digest off` turns it off.",
        day(week.first_day()),
        day(week.last_day())
    )
}

/// To the coach: the digest could not be made, or came too late to be of use.
pub fn went_without(week: Week, fault: bool) -> String {
    let why = match fault {
        true => "it kept failing; my log says why",
        false => "I was away for more than a day",
    };
    format!(
        "I left out the digest of {} to {}: {why}. `/digest` shows this week. The next digest comes as usual.",
        day(week.first_day()),
        day(week.last_day())
    )
}

/// A member's own week, in private; short and kind where it is empty.
pub fn own_week(
    name: &str,
    week: Week,
    tally: &WeeklyVolume,
    plan: Option<&str>,
    next: Option<&str>,
    catalogue: &Catalogue,
) -> String {
    let mut text = match tally.done() {
        0 => format!(
            "{}, you posted no sets in the week from {}. That happens to everybody. One short session is a start: `/fit 30` picks it.",
            shown_name(name),
            day(week.first_day())
        ),
        _ => super::week(super::YOUR_WEEK, week, tally, catalogue, &[]),
    };
    if let Some(plan) = plan {
        text.push_str(&format!("\n{plan}"));
    }
    if let Some(next) = next {
        text.push_str(&format!("\nNext week: {next}."));
    }
    text
}

/// What a member chose of the digest.
pub fn chosen(profile: &Profile) -> String {
    let line = match profile.listed {
        true => {
            "The team's digest names you and has a line of your week (`/digest line off` ends that)."
        }
        false => {
            "The team's digest does not name you. If you agree to be named: `/digest line on`."
        }
    };
    let mine = match profile.own_week {
        true => "Your own week comes to you in private each week (`/digest mine off` ends that).",
        false => "`/digest mine on` sends you your own week in private, each week.",
    };
    format!("{line} {mine}")
}
