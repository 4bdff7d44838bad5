//! Sentences on today's session: what is planned and done, what comes next, the way up to a load.

use chrono::{NaiveDate, Weekday};

use super::plan::block_week;
use super::{day, load, reserve};
use crate::bot::prescription::Prescription;
use crate::domain::catalogue::Catalogue;
use crate::domain::effort::Rir;
use crate::domain::id::ExerciseId;
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};
use crate::domain::plan::Item;
use crate::domain::session::{Progress, Session};
use crate::domain::warm_up::Step;
use crate::message::plan::day_word;

/// Said when there is no exercise to warm up for.
pub const WARM_UP_FOR_WHAT: &str = "For which exercise? Like `/warmup squat`.";

/// `2 left`, `to failure`.
#[must_use]
pub fn effort(rir: Rir) -> String {
    if rir.reps() < 0.25 {
        "to failure".to_owned()
    } else {
        format!("{} left", reserve(rir))
    }
}

/// `8–12 reps, 2 left, 80 kg`.
#[must_use]
pub fn item(item: &Item, rir: Rir) -> String {
    let (low, high) = (item.reps.low(), item.reps.high());
    let reps = if low == high {
        super::reps(low)
    } else {
        format!("{low}–{high} reps")
    };
    let load = item
        .load
        .map_or_else(String::new, |planned| format!(", {}", load(planned)));
    format!("{reps}, {}{load}", effort(rir))
}

/// Today's session: an exercise a line, the sets done of those planned before it, an arrow at the
/// next; of what is `held` back after pain that alone.
#[must_use]
pub fn session(
    title: &str,
    session: &Session,
    next: Option<&Progress>,
    rir: impl Fn(&Item) -> Rir,
    held: impl Fn(ExerciseId) -> bool,
    catalogue: &Catalogue,
) -> String {
    let mut lines = Vec::new();
    for slot in session.slots() {
        for (place, one) in slot.iter().enumerate() {
            let mark = if one.left() == 0 {
                "x"
            } else if next.is_some_and(|next| std::ptr::eq(next, one)) {
                ">"
            } else {
                " "
            };
            let with = if place > 0 { "with " } else { "" };
            let name = format!("{with}{}", catalogue.exercise(one.item.exercise).name);
            let what = match held(one.item.exercise) {
                true => super::hurt::HELD_BACK.to_owned(),
                false => item(&one.item, rir(&one.item)),
            };
            lines.push(format!(
                "{mark} {}/{} {name}: {what}",
                one.done, one.planned
            ));
        }
    }
    format!("{title}:\n```\n{}\n```", lines.join("\n"))
}

/// The title of a session: `Monday 23 November, week 2 of 4 of the block (4 left)`.
#[must_use]
pub fn session_title(on: NaiveDate, planned: Weekday, held: &Prescription) -> String {
    let mut title = day(on);
    if planned != chrono::Datelike::weekday(&on) {
        title.push_str(&format!(", the session of {}", weekday_name(planned)));
    }
    if let Some(running) = &held.block {
        title.push_str(&format!(
            "; week {} of {} of the block: {}",
            running.place + 1,
            running.block.weeks().len(),
            block_week(running.week())
        ));
    }
    title
}

const fn weekday_name(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

/// A day without a session, and the next that has one.
#[must_use]
pub fn rest_day(on: Weekday, next: Option<(Weekday, &[&str])>) -> String {
    let nothing = format!("Nothing is planned for {}.", weekday_name(on));
    match next {
        Some((day, names)) => format!(
            "{nothing} Next is {}: {}. `/today {}` shows it; post a set of it and I follow.",
            weekday_name(day),
            names.join(", "),
            day_word(day)
        ),
        None => nothing,
    }
}

/// `Next: lying leg curl, 3 sets of 10–15 reps, 1 left`.
#[must_use]
pub fn next_up(one: &Progress, rir: Rir, turn: bool, catalogue: &Catalogue) -> String {
    let name = &catalogue.exercise(one.item.exercise).name;
    let planned = Item {
        load: None,
        ..one.item
    };
    let what = item(&planned, rir);
    if turn {
        return format!(
            "In turn: {name}, set {} of {}, {what}.",
            one.done + 1,
            one.planned
        );
    }
    let sets = match one.left() {
        1 => "1 set".to_owned(),
        left => format!("{left} sets"),
    };
    format!("Next: {name}, {sets} of {what}.")
}

/// Said when the last set of the session is done.
pub const SESSION_DONE: &str = "That was all that is planned for today.";

/// Warm-up sets in a row: `Warm up: 20 × 8 · 40 × 8 · 55 kg × 4.`; `None` where there are none.
#[must_use]
pub fn ladder(steps: &[Step]) -> Option<String> {
    let last = steps.len().checked_sub(1)?;
    let told: Vec<_> = steps
        .iter()
        .enumerate()
        .map(|(place, step)| {
            // The unit once, at the end; what is no bare number is told in full.
            let bare = crate::domain::catalogue::Basis::Total == step.load.basis && place < last;
            let what = if bare {
                step.load.mass.plain(step.load.unit)
            } else {
                load(step.load)
            };
            format!("{what} × {}", step.reps)
        })
        .collect();
    Some(format!("Warm up: {}.", told.join(" · ")))
}

/// `Each side for 82.5 kg: 25, 5, 1.25.`; the empty bar has none.
#[must_use]
pub fn each_side(what: Load, discs: &[Mass], unit: Unit) -> String {
    if discs.is_empty() {
        return format!("{}: the empty bar.", load(what));
    }
    let discs: Vec<_> = discs.iter().map(|disc| disc.plain(unit)).collect();
    format!("Each side for {}: {}.", load(what), discs.join(", "))
}

/// Warm-up sets as a list, then the work load, with what `discs` tells for each side in `unit`.
#[must_use]
pub fn ladder_list(
    name: &str,
    steps: &[Step],
    work: Load,
    discs: impl Fn(Load) -> Option<Vec<Mass>>,
    unit: Unit,
) -> String {
    let row = |what: Load, reps: String| {
        let side = match discs(what).as_deref() {
            None => String::new(),
            Some([]) => "empty bar".to_owned(),
            Some(discs) => {
                let discs: Vec<_> = discs.iter().map(|disc| disc.plain(unit)).collect();
                format!("each side {}", discs.join(" "))
            }
        };
        let row = format!("{:<18} {reps:<10} {side}", load(what));
        row.trim_end().to_owned()
    };
    let steps = steps
        .iter()
        .map(|step| row(step.load, format!("× {}", step.reps)));
    let rows: Vec<_> = steps.chain([row(work, "then work".to_owned())]).collect();
    format!("{name}:\n```\n{}\n```", rows.join("\n"))
}

/// Nothing lighter to warm up with.
#[must_use]
pub fn no_ladder(name: &str, what: Load) -> String {
    format!(
        "{name}, {}: nothing lighter to load before it. A few easy reps of the same movement do.",
        load(what)
    )
}

/// Said once to a beginner whose set is no straight set.
pub const STRAIGHT_SETS_FIRST: &str = "In your first years straight sets do nearly all of it: one \
load, full rest, then again. I keep this one, and count the straight ones.";
