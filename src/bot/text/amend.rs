//! Sentences on corrections that point at their sets.

use chrono::NaiveDate;

use super::{day, run, sets, shown_name};
use crate::bot::state::LogEntry;
use crate::bot::state::view::View;
use crate::domain::log::{LoggedSet, SetKind};
use crate::message::intent::amend::Position;

/// Asked before all sets of today are taken out.
pub fn wipe(sets: usize) -> String {
    let sets = super::count_of(sets, "set");
    format!("Take out all of today, {sets}? Other days stay.")
}

/// Its buttons.
pub const WIPE: &str = "Take them out";
/// The other.
pub const KEEP: &str = "Keep them";

/// Said to a correction of a whole week.
pub const WHICH_DAY: &str = "Which day was it? Name one: `monday's second set was 7`. Nothing was \
changed.";

/// Said to a correction of what is older than a week.
pub const TOO_LONG_AGO: &str = "I change sets of the last 7 days. For an older one, edit the message \
that you posted it with. Nothing was changed.";

/// Said where nothing was logged on the day.
pub fn nothing_then(day: Option<&str>) -> String {
    let day = day.map_or(String::new(), |day| format!(" on {day}"));
    format!("You logged no set{day}. `/history` shows your last sessions. Nothing was changed.")
}

/// Said where an exercise was not done in the last week.
pub fn none_of(name: &str) -> String {
    format!(
        "You logged no {name} in the last 7 days. `/history {name}` shows when you did. Nothing was \
         changed."
    )
}

/// Said where a name fits two exercises that were done.
pub fn which_of(words: &str, one: &str, other: &str) -> String {
    format!(
        "`{words}` can be your {one} or your {other}. Say it again with the whole name: `delete the \
         {one}`. Nothing was changed."
    )
}

/// Said where a run has no set at a place.
pub fn no_such_set(place: Position, there: usize) -> String {
    let count = match there {
        1 => "only 1 set".to_owned(),
        there => format!("only {there} sets"),
    };
    let wanted = match place {
        Position::Number(number) => format!("There is no set {number}"),
        Position::First(number) | Position::LastOf(number) => format!("There are no {number} sets"),
        Position::Last => "There is no such set".to_owned(),
    };
    format!("{wanted}: I have {count} there. `/history today` lists them. Nothing was changed.")
}

/// Said where no set has the number that is to be changed.
pub fn no_set_with(number: f64) -> String {
    format!(
        "I find no set with {} there. `/history` lists your sets. Nothing was changed.",
        super::trim2(number)
    )
}

/// Asks which set is meant.
pub fn which_set(exercise: Option<&str>) -> String {
    match exercise {
        Some(exercise) => format!("Which set of {exercise} do you mean?"),
        None => "Which set do you mean?".to_owned(),
    }
}

/// The button for all sets.
pub fn all_of_them(count: usize) -> String {
    match count {
        2 => "Both".to_owned(),
        count => format!("All {count}"),
    }
}

/// Said where a load has no meaning in the other exercise.
pub fn needs_load(name: &str) -> String {
    format!(
        "{name} needs a load, and that set has none. Take it out and post it again: `delete that`, then \
         `{name} 40x8`. Nothing was changed."
    )
}

/// Said where the correction says what is logged already.
pub fn as_it_stands(sets: &str) -> String {
    format!("That is how I have it: {sets}.")
}

/// Said where the new content is unlikely.
pub fn does_not_look_right(set: &str) -> String {
    format!(
        "{set} does not look right for you there. Nothing was changed. If it is right, say `undo` and post the set again: I will ask once."
    )
}

/// On which day sets are, where that is not today.
fn then(sets: &[LogEntry], view: &View) -> String {
    let other = sets.first().map(|filed| filed.set.day);
    let other = other.filter(|day| *day != view.today());
    other.map_or(String::new(), |other| format!(" {}", day(other)))
}

/// What was corrected.
pub fn corrected(new: &[LogEntry], view: &View) -> String {
    let list = sets(new, view.catalogue());
    format!("Corrected{}: {list}", then(new, view))
}

/// What was taken out, so that it can be posted again.
pub fn deleted(gone: &[LogEntry], view: &View) -> String {
    let list = sets(gone, view.catalogue());
    let count = match gone.len() {
        1 => String::new(),
        count => format!(" {count} sets"),
    };
    format!("Taken out{count}{}: {list}", then(gone, view))
}

/// Said when a note is kept.
pub fn noted(set: &str) -> String {
    format!("Noted beside {set}. `/history` shows it.")
}

/// A card of an earlier day after a correction.
pub fn old_card(member: &str, exercise: &str, on: NaiveDate, sets: &[LogEntry]) -> String {
    let log: Vec<LoggedSet> = sets.iter().map(|filed| filed.set.clone()).collect();
    let work = log.iter().filter(|set| set.kind != SetKind::WarmUp).count();
    let list = match log.is_empty() {
        true => "nothing is logged any more".to_owned(),
        false => run(&log),
    };
    let count = match work {
        0 => String::new(),
        1 => ", 1 set".to_owned(),
        work => format!(", {work} sets"),
    };
    format!(
        "{}, {exercise} on {}{count}: {list}",
        shown_name(member),
        day(on)
    )
}
