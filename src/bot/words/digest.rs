//! Sentences of the weekly digest.

use super::plan::block_week;
use super::{day, shown_name};
use crate::bot::digest::Gain;
use crate::bot::prescription::{Prescription, Running};
use crate::bot::state::Profile;
use crate::bot::team_week::Totals;
use crate::domain::calendar::Week;
use crate::domain::catalogue::Catalogue;
use crate::domain::week::Tally;

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
pub struct Told<'a> {
    /// The week.
    pub week: Week,
    /// When it comes.
    pub when: When,
    /// What all come to together.
    pub totals: &'a Totals,
    /// This week's plans and the week before's, over everybody.
    pub sums: [Sums; 2],
    /// A line for each who has one, in order.
    pub lines: &'a [Line],
    /// What next week is, and for whom.
    pub next: &'a [(String, Vec<String>)],
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

/// What is said of a member before all.
#[derive(Clone, Debug, PartialEq)]
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
#[must_use]
pub fn digest(told: &Told<'_>) -> String {
    let mut first = vec![title(told)];
    first.extend(kept(told));
    first.extend(bests(told));
    let mut parts = vec![first.join(" ")];
    parts.extend(next(told.next));
    parts.extend(told.lines.iter().map(line));
    parts.join("\n")
}

/// `The team's week, Monday … to Sunday …: 9 of 12 lifted and did 27 of 33 planned sessions, 3 more
/// than the week before.`
fn title(told: &Told<'_>) -> String {
    let Totals {
        lifters,
        trained,
        sets,
        ..
    } = told.totals;
    let opens = match told.when {
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
        day(told.week.first_day()),
        day(told.week.last_day())
    );
    let [now, before] = told.sums;
    let did = match now.planned {
        0 => format!(", {}", counted(*sets)),
        1 => format!(" and did {} of 1 planned session", now.done),
        planned => format!(" and did {} of {planned} planned sessions", now.done),
    };
    // A week that is still on is no match for one that is over.
    let compared = before.planned > 0 && now.planned > 0 && told.when != When::SoFar;
    let compared = match (i64::from(now.done) - i64::from(before.done), compared) {
        (_, false) => String::new(),
        (0, true) => ", as many as the week before".to_owned(),
        (more, true) if more > 0 => format!(", {more} more than the week before"),
        (fewer, true) => format!(", {} fewer than the week before", -fewer),
    };
    format!("{opens}, {days}: {who}{did}{compared}.")
}

fn counted(sets: u32) -> String {
    match sets {
        1 => "1 set counts".to_owned(),
        sets => format!("{sets} sets count"),
    }
}

/// `Ada, Cleo and Edda kept their whole plan.` Only of those who have a line.
fn kept(told: &Told<'_>) -> Option<String> {
    let names = told.lines.iter().filter(|line| line.kept);
    let names: Vec<String> = names.map(|line| line.name.clone()).collect();
    match names.len() {
        0 => None,
        1 => Some(format!("{} kept the whole plan.", people(&names))),
        _ => Some(format!("{} kept their whole plan.", people(&names))),
    }
}

/// Lifts that go up, named in a sentence.
const MOST_BESTS: usize = 4;

/// `Going up: back squat (Ada), bench press (Cleo).`
fn bests(told: &Told<'_>) -> Option<String> {
    let mut gains: Vec<(&Line, Gain)> = told
        .lines
        .iter()
        .filter_map(|line| Some((line, line.gains?)))
        .collect();
    gains.sort_by(|(_, (_, a)), (_, (_, b))| b.total_cmp(a));
    gains.truncate(MOST_BESTS);
    let told = gains.iter().map(|(line, (exercise, _))| {
        let name = &told.catalogue.exercise(*exercise).name;
        format!("{name} ({})", shown_name(&line.name))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("Going up: {}.", told.join(", ")))
}

/// `Ines: 3 of 3 sessions, 34 sets.`
fn line(line: &Line) -> String {
    let sets = match line.done {
        1 => "1 set".to_owned(),
        sets => format!("{sets} sets"),
    };
    let text = match (line.sessions, line.days) {
        (Some((done, 1)), _) => format!("{done} of 1 session, {sets}"),
        (Some((done, of)), _) => format!("{done} of {of} sessions, {sets}"),
        (None, 0 | 1) => sets,
        (None, days) => format!("{sets} on {days} days"),
    };
    format!("{}: {text}.", shown_name(&line.name))
}

/// What next week is; with names where it is not the same for all.
fn next(next: &[(String, Vec<String>)]) -> Vec<String> {
    match next {
        [] => Vec::new(),
        [(what, _)] => vec![format!("Next week: {what}.")],
        several => several
            .iter()
            .map(|(what, names)| format!("Next week for {}: {what}.", people(names)))
            .collect(),
    }
}

fn people(names: &[String]) -> String {
    let mut told: Vec<String> = names.iter().map(|name| shown_name(name)).collect();
    let more = told.len().saturating_sub(MOST_NAMES);
    if more > 0 {
        told.truncate(MOST_NAMES);
        told.push(format!("{more} more"));
    }
    and(&told)
}

/// `a, b and c`.
fn and(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// What a week to come is, from what the coach set: `week 3 of 4, 1 left`. `None` where nothing is.
#[must_use]
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
#[must_use]
pub fn nothing_posted(week: Week) -> String {
    format!(
        "Nobody posted a set, {} to {}, so there is no digest. `/settings digest off` ends it where \
         the team pauses.",
        day(week.first_day()),
        day(week.last_day())
    )
}

/// To the coach: the digest could not be made, or came too late to be of use.
#[must_use]
pub fn went_without(week: Week, fault: bool) -> String {
    let why = match fault {
        true => "it kept failing; my log says why",
        false => "I was away for more than a day",
    };
    format!(
        "The digest of {} to {} is left out: {why}. `/digest` shows this week, the next digest comes \
         as always.",
        day(week.first_day()),
        day(week.last_day())
    )
}

/// A member's own week, in private; short and kind where it is empty.
#[must_use]
pub fn own_week(
    name: &str,
    week: Week,
    tally: &Tally,
    plan: Option<&str>,
    next: Option<&str>,
    catalogue: &Catalogue,
) -> String {
    let mut text = match tally.done() {
        0 => format!(
            "{}, no sets from you in the week from {}, and that happens to everybody. One short \
             session is a start: `/fit 30` picks it.",
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
#[must_use]
pub fn chosen(profile: &Profile) -> String {
    let line = match profile.unlisted {
        true => "You have no line in the team's digest (`/digest line on` puts it back).",
        false => "You have a line in the team's digest (`/digest line off` leaves it out).",
    };
    let mine = match profile.own_week {
        true => "Your own week comes to you in private each week (`/digest mine off` ends that).",
        false => "`/digest mine on` sends you your own week in private, each week.",
    };
    format!("{line} {mine}")
}
