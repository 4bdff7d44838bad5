//! Sentences on a session in the minutes there are.

use super::{load, minutes};
use crate::domain::coaching::plan::Amount;
use crate::domain::quantities::load::Load;

/// Said to minutes that no session is fitted into.
pub const MINUTES: &str = "How many minutes do you have? Write 10 to 180, like `/fit 45`.";

/// Said when sets are planned, but none of them would count any more.
pub const NOTHING_COUNTS: &str = "Your plan has sets left, but none of them would count today. You \
have done enough.";

/// All that is left is hurt.
pub fn all_hurt(names: &[&str]) -> String {
    format!(
        "All that is left today loads what hurts: {}. Leave it, and ask your coach: a coach can clear \
         you with `/clear`.",
        names.join(", ")
    )
}

/// What a fit comes to.
pub struct FitView<'a> {
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
pub fn fit(view: &FitView<'_>) -> String {
    let mut lines = vec![head(view)];
    lines.extend(view.rows.iter().map(row));
    if view.sets < view.of {
        if view.sets > 0 {
            lines.push(format!("Left out: {}.", left_out(view.left_out)));
        }
        lines.push(
            "I chose what your week needs most. Warm-ups, rests and changeovers are counted in."
                .to_owned(),
        );
    }
    if !view.hurt.is_empty() {
        lines.push(format!(
            "Left out because you reported pain: {}.",
            view.hurt.join(", ")
        ));
    }
    if view.own_pairs {
        lines.push(format!(
            "In turn means: a set of one, then a set of the other. `/fit {} straight` keeps them apart.",
            view.minutes
        ));
    }
    let others: Vec<_> = view.others.iter().map(other).collect();
    lines.extend(others);
    if let Some(percent) = view.better {
        lines.push(format!(
            "With so many exercises there may be a better choice, by {percent} % at most."
        ));
    }
    lines.join("\n")
}

fn head(view: &FitView<'_>) -> String {
    let takes = view.seconds.div_ceil(60);
    match view.sets {
        0 => format!(
            "No set of today fits into {} minutes, with its warm-up. Try `/fit {}`.",
            view.minutes,
            (view.minutes + 10).min(180)
        ),
        sets if sets == view.of => format!(
            "All {sets} sets that are left today fit into {} minutes. They take about {takes}.",
            view.minutes
        ),
        sets => format!(
            "{sets} of the {} sets that are left today fit into {} minutes. They take about {takes}.",
            view.of, view.minutes
        ),
    }
}

/// `From 0:14, bench press: 4 × 8–12, 55 kg, rest 1:30–2:00`.
fn row(row: &Row<'_>) -> String {
    let range = |low: u32, high: u32| match low == high {
        true => low.to_string(),
        false => format!("{low}–{high}"),
    };
    let reps = match (&row.amount, row.amount.reps()) {
        (Amount::Time(time), _) => format!("{} s", range(time.low(), time.high())),
        (_, Some(reps)) => range(reps.low(), reps.high()),
        (_, None) => "as many as you can".to_owned(),
    };
    let head = match (row.in_turn, row.from_s / 60) {
        (true, _) => "   in turn with".to_owned(),
        (false, minute) => format!(" - min {minute}:"),
    };
    let rest = row.rest_s.map_or_else(String::new, |(least, most)| {
        let span = match least == most {
            true => minutes(least),
            false => format!("{}–{}", minutes(least), minutes(most)),
        };
        format!(", rest {span}")
    });
    format!(
        "{head} {}, {} × {reps}, {}{rest}",
        row.exercise,
        row.sets,
        loads(row.load, row.last_load)
    )
}

fn loads(first: Option<Load>, last: Option<Load>) -> String {
    match (first, last) {
        (None, _) => "find your load".to_owned(),
        (Some(first), Some(last)) if last.mass != first.mass && last.basis == first.basis => {
            format!("{} to {}", first.mass.plain(first.unit), load(last))
        }
        (Some(first), _) => load(first),
    }
}

fn left_out(changes: &[(&str, i64)]) -> String {
    let texts = changes.iter().map(|(name, change)| match change.abs() {
        1 => format!("1 set of {name}"),
        sets => format!("{sets} sets of {name}"),
    });
    texts.collect::<Vec<_>>().join(", ")
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
    format!(
        "In {} minutes: {sets} ({}).",
        other.minutes,
        changes.join(", ")
    )
}
