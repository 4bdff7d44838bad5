//! Sentences on what a member did, and what was best.

use chrono::NaiveDate;

use super::{CENTRAL_80, capital, count_of, load, reps, run, sets};
use crate::bot::state::LogEntry;
use crate::domain::coaching::best::Best;
use crate::domain::coaching::progress::Change;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::command::examples;

/// Said to a member without a single set.
pub const NOTHING_YET: &str = "You have logged no set yet. Post one, like `bench 60x10, 2 left`.";

/// Said to a date that is none.
pub const NO_SUCH_DATE: &str =
    "There is no such date. Write it like `/history 2026-11-23` or `/history yesterday`.";

/// A set that no other beats in load and repetitions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heaviest {
    /// The load.
    pub load: Load,
    /// Its repetitions.
    pub reps: u32,
    /// When it was done first.
    pub day: NaiveDate,
}

/// An estimated one-rep max.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Kilograms, with the standard deviation of its logarithm.
    pub one_rm: (f64, f64),
    /// Work sets that it rests on.
    pub sets: u32,
    /// Its change a week.
    pub change: Change,
}

/// `Mon 23 Nov`.
fn short_day(day: NaiveDate) -> String {
    day.format("%a %-d %b").to_string()
}

/// `105 kg (80 % sure: 98 to 112)`.
fn one_rm((kg, spread): (f64, f64), unit: Unit) -> String {
    let shown = |kg: f64| {
        let amount = Mass::from_kg(kg).unwrap_or_default().amount(unit);
        format!("{amount:.0}")
    };
    format!(
        "about {} {unit} (80 % sure: {} to {})",
        shown(kg),
        shown(kg * (-CENTRAL_80 * spread).exp()),
        shown(kg * (CENTRAL_80 * spread).exp())
    )
}

fn estimate_line(estimate: &Estimate, unit: Unit) -> String {
    let sets = count_of(estimate.sets, "set");
    format!(
        "Estimated one-rep max: {}, from {sets}.",
        one_rm(estimate.one_rm, unit)
    )
}

/// Days of an exercise, the latest first, out of so many.
pub fn of_exercise(
    name: &str,
    days: &[(NaiveDate, Vec<LoggedSet>)],
    all: usize,
    estimate: Option<&Estimate>,
    unit: Unit,
) -> String {
    let title = match (days.len(), all) {
        (1, 1) => format!("{}, the one day you did it:", capital(name)),
        (shown, all) if shown == all => format!("{}, all {all} days:", capital(name)),
        (shown, all) => format!("{}, the last {shown} of {all} days:", capital(name)),
    };
    let days = days
        .iter()
        .map(|(day, sets)| format!("{}: {}", short_day(*day), run(sets)));
    let estimate = estimate.map(|estimate| estimate_line(estimate, unit));
    let lines = std::iter::once(title).chain(days).chain(estimate);
    lines.collect::<Vec<_>>().join("\n")
}

/// What was noted beside a set: `Note on Mon 23 Nov, 60 kg × 10: left elbow wobbled`.
pub fn note(set: &LoggedSet, note: &str) -> String {
    let set_in_words = super::set(set);
    format!("Note on {}, {set_in_words}: {note}", short_day(set.day))
}

/// What was done on a day, an exercise a line.
pub fn on_day(day: NaiveDate, filed: &[LogEntry], catalogue: &Catalogue) -> String {
    let count = count_of(filed.len(), "set");
    let lines = filed
        .chunk_by(|a, b| a.set.exercise == b.set.exercise)
        .map(|chunk| sets(chunk, catalogue));
    let title = format!("{}, {count}:", super::day(day));
    let lines: Vec<_> = std::iter::once(title).chain(lines).collect();
    lines.join("\n")
}

fn of(name: Option<&str>) -> String {
    name.map_or_else(|| "set".to_owned(), |name| format!("set of {name}"))
}

fn nearest(day: Option<NaiveDate>) -> String {
    day.map_or_else(
        || "Post one, like `bench 60x10, 2 left`.".to_owned(),
        |day| format!("The last is of {}: `/history {day}`.", short_day(day)),
    )
}

/// A day without a set, and the last that has one.
pub fn nothing_on(day: NaiveDate, name: Option<&str>, other: Option<NaiveDate>) -> String {
    format!("No {} on {}. {}", of(name), super::day(day), nearest(other))
}

/// A week without a set, and the last day that has one.
pub fn nothing_in_week(first: NaiveDate, name: Option<&str>, other: Option<NaiveDate>) -> String {
    format!(
        "No {} in the week from {}. {}",
        of(name),
        super::day(first),
        nearest(other)
    )
}

/// An exercise without a set.
pub fn nothing_of(name: &str) -> String {
    format!("You have logged no set of {name} yet. Post one, like `{name} 40x10, 2 left`.")
}

/// Neither an exercise nor a day.
pub fn unknown(word: &str, text: &str) -> String {
    let [first, second] = examples(word).unwrap_or(["/help", "/catalogue press"]);
    format!(
        "I don't know {}. Write it like `{first}` or `{second}`; `/catalogue press` finds exercises.",
        super::quoted(text)
    )
}

/// What was done last time, beside what is to be done now.
pub fn last_time(day: NaiveDate, sets: &[LoggedSet]) -> String {
    format!("Last time ({}): {}.", short_day(day), run(sets))
}

/// The bests of an exercise.
pub fn bests(name: &str, heaviest: &[Heaviest], estimate: Option<&Estimate>, unit: Unit) -> String {
    let one = |best: &Heaviest| {
        format!(
            "{} × {} ({})",
            load(best.load),
            best.reps,
            short_day(best.day)
        )
    };
    let mut lines = vec![format!("{}, your bests:", capital(name))];
    if let Some((first, rest)) = heaviest.split_first() {
        lines.push(format!("Heaviest: {}", one(first)));
        if !rest.is_empty() {
            let rest: Vec<_> = rest.iter().map(one).collect();
            lines.push(format!("Most reps: {}", rest.join(" · ")));
        }
    }
    lines.extend(estimate.map(|estimate| estimate_line(estimate, unit)));
    lines.join("\n")
}

fn short_one_rm(estimate: &Estimate, unit: Unit) -> String {
    let amount = Mass::from_kg(estimate.one_rm.0)
        .unwrap_or_default()
        .amount(unit);
    format!("{amount:.0} {unit}")
}

/// The heaviest set of each exercise with the estimated one-rep max, out of so many exercises.
pub fn all_bests(rows: &[(&str, Heaviest, Option<Estimate>)], all: usize, unit: Unit) -> String {
    let lines = rows.iter().map(|(name, best, estimate)| {
        let e1rm = estimate.as_ref().map_or_else(String::new, |estimate| {
            format!(", e1RM {}", short_one_rm(estimate, unit))
        });
        format!(" - {name}: {} × {}{e1rm}", load(best.load), best.reps)
    });
    let of = match rows.len() < all {
        true => format!(" on the last {} of {all} exercises", rows.len()),
        false => String::new(),
    };
    let lines: Vec<_> = lines.collect();
    let name = rows.first().map_or("bench press", |row| row.0);
    format!(
        "Your heaviest sets{of}:\n{}\ne1RM is your estimated one-rep max. `/best {name}` shows more.",
        lines.join("\n")
    )
}

fn percent(change: f64) -> String {
    format!("{:+.1} %", change * 100.0)
}

/// How one exercise changes.
pub fn progress(name: &str, estimate: &Estimate, unit: Unit) -> String {
    let Change { middle, low, high } = estimate.change;
    let verdict = if low > 0.0 {
        "You are getting stronger."
    } else if high < 0.0 {
        "It is falling at the moment. Your coach can see it too: talk to them."
    } else {
        "Too early to say whether it is going up."
    };
    format!(
        "{}: {verdict} {} It changes by {} a week (80 % sure: {} to {}).",
        capital(name),
        estimate_line(estimate, unit),
        percent(middle),
        percent(low),
        percent(high)
    )
}

/// How each exercise changes.
pub fn all_progress(rows: &[(&str, Estimate)], unit: Unit) -> String {
    let rising = rows.iter().filter(|(_, one)| one.change.low > 0.0).count();
    let lines = rows.iter().map(|(name, one)| {
        format!(
            " - {name}: e1RM {}, {} a week ({} to {})",
            short_one_rm(one, unit),
            percent(one.change.middle),
            percent(one.change.low),
            percent(one.change.high)
        )
    });
    let lines: Vec<_> = lines.collect();
    let summary = match rows.len() {
        1 if rising == 0 => "It is too early to say whether this lift is going up.".to_owned(),
        _ if rising == 0 => "It is too early to say of any lift whether it is going up.".to_owned(),
        1 => "This lift is going up.".to_owned(),
        all => format!("{rising} of {all} lifts are surely going up."),
    };
    let name = rows.first().map_or("bench press", |(name, _)| name);
    format!(
        "{summary}\n{}\ne1RM is your estimated one-rep max. I am 80 % sure of the range in brackets. \
         `/best {name}` draws one.",
        lines.join("\n")
    )
}

/// What a line on a best of this exercise begins with.
pub fn best_on(name: &str) -> String {
    format!("A best on {name}: ")
}

/// A best, noticed when it happened.
pub fn noticed(
    name: &str,
    set: &LoggedSet,
    best: Best,
    estimate: Option<(f64, f64)>,
    unit: Unit,
) -> String {
    let on = best_on(name);
    match best {
        Best::Load => format!("{on}{}, your heaviest yet.", load(set.load)),
        Best::Reps(before) => format!(
            "{on}{} at {}, {before} before.",
            reps(set.reps),
            load(set.load)
        ),
        Best::OneRepMax(_) => {
            let now = estimate.map_or_else(String::new, |now| one_rm(now, unit));
            format!("{on}your estimated one-rep max is {now}.")
        }
    }
}
