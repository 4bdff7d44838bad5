//! Sentences on a session in the minutes there are.

use super::{load, minutes};
use crate::domain::load::Load;
use crate::domain::plan::Amount;

/// Said to minutes that no session is fitted into.
pub const MINUTES: &str = "How many minutes? From 10 to 180, like `/fit 45`.";

/// Said when sets are planned, but none of them would count any more.
pub const NOTHING_COUNTS: &str = "Sets are left in your plan, but none of them would count today. \
Enough for now.";

/// All that is left is hurt.
#[must_use]
pub fn all_hurt(names: &[&str]) -> String {
    format!(
        "All that is left today is under your hurt report: {}. Ask your coach, who can lift it \
         with `/clear`.",
        names.join(", ")
    )
}

/// What a fit comes to.
pub struct Told<'a> {
    /// The minutes there are.
    pub minutes: u32,
    /// What it takes, seconds.
    pub seconds: u32,
    /// Sets chosen.
    pub sets: usize,
    /// Sets that there are to choose from.
    pub of: usize,
    /// The timetable.
    pub rows: &'a [Row<'a>],
    /// By exercise, sets left out, below zero.
    pub left_out: &'a [(&'a str, i64)],
    /// What other minutes would hold.
    pub others: &'a [Other<'a>],
    /// Exercises left out because of pain.
    pub hurt: &'a [&'a str],
    /// Whether exercises are in turn that the coach did not pair.
    pub own_pairs: bool,
    /// By how many in a hundred a better choice could be better, at most; `None` where there is none.
    pub better: Option<u32>,
}

/// An exercise in the timetable.
pub struct Row<'a> {
    /// When one goes over to it, seconds from now.
    pub from_s: u32,
    /// Its name.
    pub exercise: &'a str,
    /// How many sets.
    pub sets: usize,
    /// Of how many repetitions.
    pub amount: Amount,
    /// With what at first; `None` where the load is to be found.
    pub load: Option<Load>,
    /// With what in the end.
    pub last_load: Option<Load>,
    /// Shortest and longest rest between its sets, seconds; `None` with one set.
    pub rest_s: Option<(u32, u32)>,
    /// The second of two done in turn.
    pub in_turn: bool,
    /// One of two done in turn.
    pub paired: bool,
}

/// What other minutes would hold.
pub struct Other<'a> {
    /// The minutes.
    pub minutes: u32,
    /// Sets in them.
    pub sets: usize,
    /// By exercise, sets more, or fewer below zero; not empty.
    pub changes: Vec<(&'a str, i64)>,
}

/// The timetable with what is left out, and what other minutes would buy.
#[must_use]
pub fn fit(told: &Told<'_>) -> String {
    let mut lines = vec![head(told)];
    if !told.rows.is_empty() {
        lines.push(table(told.rows));
    }
    if told.sets < told.of {
        if told.sets > 0 {
            lines.push(format!("Left out: {}.", left_out(told.left_out)));
        }
        lines.push(
            "Chosen by what your week lacks, with the days to come; warm-ups, rests and changeovers \
             are counted."
                .to_owned(),
        );
    }
    if !told.hurt.is_empty() {
        lines.push(format!(
            "Not offered after your hurt report: {}.",
            told.hurt.join(", ")
        ));
    }
    if told.own_pairs {
        lines.push(format!(
            "In turn: a set of one, then of the other. `/fit {} straight` keeps them apart.",
            told.minutes
        ));
    }
    let others: Vec<_> = told.others.iter().map(other).collect();
    if !others.is_empty() {
        lines.push(others.join(" "));
    }
    if let Some(percent) = told.better {
        lines.push(format!(
            "So many exercises that there may be a better choice, by {percent} % at most."
        ));
    }
    lines.join("\n")
}

fn head(told: &Told<'_>) -> String {
    let takes = told.seconds.div_ceil(60);
    match told.sets {
        0 => format!(
            "Not one of today's sets fits in {} min, with getting ready for it.",
            told.minutes
        ),
        sets if sets == told.of => format!(
            "All {sets} sets that are left fit in {} min: about {takes}.",
            told.minutes
        ),
        sets => format!(
            "{sets} of the {} sets that are left fit in {} min: about {takes}.",
            told.of, told.minutes
        ),
    }
}

fn table(rows: &[Row<'_>]) -> String {
    let cells: Vec<[String; 5]> = std::iter::once(HEAD.map(str::to_owned))
        .chain(rows.iter().map(cells))
        .collect();
    let width = |column: usize| {
        let widths = cells.iter().filter_map(|row| row.get(column));
        widths.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let lines = cells.iter().map(|[minute, name, sets, load, rest]| {
        let line = format!(
            "{minute:>3}  {name:<0$}  {sets:<1$}  {load:<2$}  {rest}",
            width(1),
            width(2),
            width(3)
        );
        line.trim_end().to_owned()
    });
    format!("```\n{}\n```", lines.collect::<Vec<_>>().join("\n"))
}

const HEAD: [&str; 5] = ["min", "exercise", "sets", "load", "rest"];

fn cells(row: &Row<'_>) -> [String; 5] {
    let range = |low: u32, high: u32| match low == high {
        true => low.to_string(),
        false => format!("{low}–{high}"),
    };
    let reps = match (&row.amount, row.amount.reps()) {
        (Amount::Time(time), _) => format!("{} s", range(time.low(), time.high())),
        (_, Some(reps)) => range(reps.low(), reps.high()),
        (_, None) => "max".to_owned(),
    };
    let (minute, name) = if row.in_turn {
        (String::new(), format!("+ {}", row.exercise))
    } else {
        ((row.from_s / 60).to_string(), row.exercise.to_owned())
    };
    [
        minute,
        name,
        format!("{} × {reps}", row.sets),
        loads(row.load, row.last_load),
        rests(row),
    ]
}

fn loads(first: Option<Load>, last: Option<Load>) -> String {
    match (first, last) {
        (None, _) => "find it".to_owned(),
        (Some(first), Some(last)) if last.mass != first.mass && last.basis == first.basis => {
            format!("{} to {}", first.mass.plain(first.unit), load(last))
        }
        (Some(first), _) => load(first),
    }
}

fn rests(row: &Row<'_>) -> String {
    let span = match row.rest_s {
        None => String::new(),
        Some((least, most)) if least == most => minutes(least),
        Some((least, most)) => format!("{}–{}", minutes(least), minutes(most)),
    };
    match (row.paired, span.is_empty()) {
        (false, _) => span,
        (true, true) => "in turn".to_owned(),
        (true, false) => format!("{span}, in turn"),
    }
}

fn left_out(changes: &[(&str, i64)]) -> String {
    let told = changes
        .iter()
        .map(|(name, change)| format!("{name} {}", change.abs()));
    told.collect::<Vec<_>>().join(", ")
}

fn other(other: &Other<'_>) -> String {
    let sets = match other.sets {
        0 => "nothing".to_owned(),
        1 => "1 set".to_owned(),
        sets => format!("{sets} sets"),
    };
    let changes = other.changes.iter().map(|(name, change)| match change {
        0.. => format!("{name} +{change}"),
        _ => format!("{name} −{}", change.abs()),
    });
    let changes: Vec<_> = changes.collect();
    format!("{} min: {sets} ({}).", other.minutes, changes.join(", "))
}
