//! Sentences of the weekly digest.

use super::plan::block_week;
use super::{day, plain, shown_name};
use crate::bot::digest::Gain;
use crate::bot::prescription::{Prescription, Running};
use crate::bot::state::Profile;
use crate::bot::team_week::{MuscleTotal, Totals};
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
    /// A line for each who has one, in order.
    pub lines: &'a [Line],
    /// What next week is, and for whom.
    pub next: &'a [(String, Vec<String>)],
    /// The team's exercises.
    pub catalogue: &'a Catalogue,
}

/// What is said of a member before all.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The member.
    pub name: String,
    /// Sets that count.
    pub sets: u32,
    /// Sets that were done.
    pub done: u32,
    /// Days with a set.
    pub days: usize,
    /// Muscles within their band.
    pub within: usize,
    /// The lift that surely gains most.
    pub gains: Option<Gain>,
}

/// Muscles that are named for the team.
const MOST_MUSCLES: usize = 3;
/// Names in one row; the others are counted.
const MOST_NAMES: usize = 6;

/// The team's week: totals, a line for each, and what comes next.
#[must_use]
pub fn digest(told: &Told<'_>) -> String {
    let mut parts = vec![title(told)];
    parts.extend(most(&told.totals.muscles, told.catalogue));
    parts.extend(told.lines.iter().map(|one| line(one, told.catalogue)));
    parts.extend(next(told.next));
    parts.join("\n")
}

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
    format!(
        "{opens}, {} to {}: {who}, {}.",
        day(told.week.first_day()),
        day(told.week.last_day()),
        counted(*sets)
    )
}

fn counted(sets: u32) -> String {
    match sets {
        1 => "1 set counts".to_owned(),
        sets => format!("{sets} sets count"),
    }
}

/// `Most for back (56 sets), quads (48) and chest (44).`
fn most(muscles: &[MuscleTotal], catalogue: &Catalogue) -> Option<String> {
    let mut muscles: Vec<&MuscleTotal> = muscles.iter().filter(|one| one.counted > 0.0).collect();
    muscles.sort_by(|a, b| {
        let direct = b.direct.cmp(&a.direct);
        b.counted.total_cmp(&a.counted).then(direct)
    });
    let told = muscles.iter().take(MOST_MUSCLES).enumerate();
    let told = told.map(|(place, one)| {
        let name = &catalogue.muscle(one.muscle).name;
        let unit = match (place, plain(one.counted).as_str()) {
            (0, "1") => " set",
            (0, _) => " sets",
            _ => "",
        };
        format!("{name} ({}{unit})", plain(one.counted))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("Most for {}.", and(&told)))
}

/// `Ines: 24 sets that count on 3 days, 7 muscles where they should be; back squat is going up.`
fn line(line: &Line, catalogue: &Catalogue) -> String {
    let on = match line.days {
        0 | 1 => String::new(),
        days => format!(" on {days} days"),
    };
    let mut text = match (line.sets, line.done) {
        (0, 1) => format!("1 set done{on}"),
        (0, done) => format!("{done} sets done{on}"),
        (1, _) => format!("1 set that counts{on}"),
        (sets, _) => format!("{sets} sets that count{on}"),
    };
    match line.within {
        0 => {}
        1 => text.push_str(", 1 muscle where it should be"),
        muscles => text.push_str(&format!(", {muscles} muscles where they should be")),
    }
    if let Some((exercise, _)) = line.gains {
        let name = &catalogue.exercise(exercise).name;
        text.push_str(&format!("; {name} is going up"));
    }
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
