//! Sentences on what is kept of a member, and on logs kept elsewhere.

use super::{count_of, quoted, shown_name};
use crate::message::forms::command::examples;
use crate::message::forms::logbook::{Column, LogFault, LogFaultKind, MOST_BYTES, MOST_ROWS};

/// What the file with everything is.
pub const WHOLE: &str = "Everything stored about you, as JSON.";

/// Asks whether everything is to go.
pub const FORGET: &str = "This erases everything stored about you here: your sets, what was \
learned from them, plans, notes on you, and what you were answered. It cannot be brought back; \
`/export` first gives you a copy. Your own messages stay where you wrote them, but I will not read \
them again. To erase it all, press the button or write `/forget everything` within ten minutes.";
/// On the button that erases.
pub const FORGET_BUTTON: &str = "Erase everything";
/// On the button that does not.
pub const KEEP_BUTTON: &str = "Keep it";
/// Said when nothing was erased.
pub const NOT_FORGOTTEN: &str = "Kept. Nothing was erased.";
/// Said when everything was.
pub const FORGOTTEN: &str =
    "Everything stored about you here is erased. What you post from now on is a new start.";

/// What the file with the log is.
pub fn log_file(sets: usize) -> String {
    format!("Your log as CSV: {}.", count_of(sets, "set"))
}

/// What was handed out.
pub fn exported(sets: usize) -> String {
    format!(
        "Everything stored about you: all of it as JSON, and your log ({}) as CSV.",
        count_of(sets, "set")
    )
}

/// Faults told in a message; more go into a file.
pub const MOST_FAULTS: usize = 12;

/// Something in a log that does not fit, told by its line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineFault {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong, in words.
    pub what: String,
}

/// Each fault in a line of its own.
pub fn told_lines(faults: &[LineFault]) -> String {
    let lines = faults
        .iter()
        .map(|fault| format!("Line {}: {}", fault.line, fault.what));
    lines.collect::<Vec<_>>().join("\n")
}

/// The file with every fault.
pub fn all_faults(faults: usize) -> String {
    format!("All {} to correct", count_of(faults, "line"))
}

/// Why a log was not taken.
pub fn not_imported(faults: &[LineFault], unlikely: bool) -> String {
    let shown = faults.get(..MOST_FAULTS).unwrap_or(faults);
    let mut lines = vec![told_lines(shown)];
    if faults.len() > MOST_FAULTS {
        lines.push(format!(
            "and {} more: all of them are in the file.",
            faults.len() - MOST_FAULTS
        ));
    }
    lines.push(
        if unlikely {
            "Nothing was logged. Correct these lines, or write `/import unlikely` above the log to take them as they are."
        } else {
            "Nothing was logged. Correct these lines and send the log again."
        }
        .to_owned(),
    );
    let example = examples("import").map_or("", |[first, _]| first);
    lines.push(format!("A log that works:\n```\n{example}\n```"));
    lines.join("\n")
}

/// What came, or would come, of a log.
pub fn imported(new: usize, members: usize, known: usize, only_checked: bool) -> String {
    let sets = count_of(new, "set");
    let of = count_of(members, "member");
    let mut text = match (new, only_checked) {
        (0, _) => "There is nothing new in that log.".to_owned(),
        (_, true) => format!("The log fits: it holds {sets} of {of}. `/import` takes them over."),
        (_, false) => format!("Took over {sets} of {of}."),
    };
    if known > 0 {
        let already = count_of(known, "set");
        text.push_str(&format!(" I left out {already} that I have already."));
    }
    text
}

/// How far taking a log over has come.
pub fn importing(done: usize, of: usize) -> String {
    format!("Importing: {} of {} sets.", grouped(done), grouped(of))
}

/// `40,000`.
fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// What is wrong with a part of a log.
pub fn log_fault(fault: &LogFault) -> LineFault {
    let what = match (&fault.kind, fault.words.as_str()) {
        (LogFaultKind::Nothing, _) => format!(
            "there is no set in it. The first line names the columns, like `{EXAMPLE}`, then one set a line."
        ),
        (LogFaultKind::TooManyRows, _) => format!(
            "a log may hold up to {MOST_ROWS} sets; send the rest from this line on as a log of its own."
        ),
        (LogFaultKind::TooLong, _) => format!(
            "a log may be up to {} MB long; send it in parts, each with the first line above it.",
            MOST_BYTES / 1024 / 1024
        ),
        (LogFaultKind::OpenQuote, _) => "a quote is opened and never closed.".to_owned(),
        (LogFaultKind::UnknownColumn, words) => format!(
            "{} is no column. Columns are {}.",
            quoted(words),
            Column::ALL.map(Column::word).join(", ")
        ),
        (LogFaultKind::ColumnTwice, words) => format!("{} stands twice.", quoted(words)),
        (LogFaultKind::NoColumn(column), _) => format!(
            "the column `{}` is missing; the first line names the columns, like `{EXAMPLE}`.",
            column.word()
        ),
        (LogFaultKind::TooManyCells, words) => format!(
            "{} stands behind the last column; put quotes around cells that hold a comma.",
            quoted(words)
        ),
        (LogFaultKind::Empty(column), _) => format!("`{}` is empty.", column.word()),
        (LogFaultKind::Cell(column), words) => format!(
            "{} is no {}; write {}.",
            quoted(words),
            column.word(),
            like(*column)
        ),
    };
    LineFault {
        line: fault.line,
        what,
    }
}

const EXAMPLE: &str = "member,date,exercise,load,reps,left";

/// How a cell of a column goes.
const fn like(column: Column) -> &'static str {
    match column {
        Column::Member => "a name",
        Column::At => "`2026-01-12T18:05:00+01:00`",
        Column::Date => "`2026-01-12`",
        Column::Time => "`18:05`",
        Column::Timed | Column::PerSide => "`yes` or `no`",
        Column::Exercise => "an exercise",
        Column::Load => "a number like `77.5`",
        Column::Unit => "`kg` or `lb`",
        Column::Basis => "`total`, `per_hand`, `added`, `assisted` or `body`",
        Column::Reps => "a whole number from 1 to 100",
        Column::Left | Column::Asked => "a number from 0 to 30",
        Column::LimitingFactor => "`helpers` or `breath`",
        Column::Kind => {
            "`straight`, `superset`, `first_part`, `further_parts`, `other` or `warm_up`"
        }
        Column::Technique => {
            "`paused`, `tempo`, `drop set`, `rest-pause`, `superset` or `partials`"
        }
        Column::Rest => "seconds",
    }
}

/// A member that the team does not have.
pub fn no_member(name: &str) -> String {
    format!(
        "there is no member {} in this team. If they have not posted yet, name them first: `/target \
         {} usual`.",
        quoted(name),
        shown_name(name)
    )
}

/// A name that several members go by.
pub fn several_members(name: &str, authors: &[&str]) -> String {
    let authors: Vec<String> = authors.iter().map(|author| quoted(author)).collect();
    format!(
        "several members are called {}; write one of {}.",
        quoted(name),
        authors.join(", ")
    )
}

/// An exercise that the catalogue lacks; `nearest` are those it may be a slip of.
pub fn no_exercise(name: &str, nearest: &[&str]) -> String {
    let name = quoted(name);
    match nearest {
        [] => format!("{name} is no exercise I know; `/catalogue add` makes it one."),
        [first, ..] => format!("{name} is no exercise I know. `{first}`?"),
    }
}

/// A load beyond what anything is loaded with.
pub const NO_LOAD: &str = "the load is beyond 1000 kg.";
/// A set without a load that is not of the body alone.
pub const LOAD_MISSING: &str =
    "the load is missing; where the body alone was lifted, write `body` as basis.";
/// A load on the body alone.
pub const LOAD_ON_BODY: &str =
    "a load stands beside the basis `body`; write `added` or `assisted`.";
/// A set of a day that is still to come.
pub const TO_COME: &str = "that time is still to come.";
/// A set of a day before anybody here can have filed any.
pub const TOO_LONG_AGO: &str = "that day is before 1970.";

/// A set whose numbers are unlikely.
pub fn unlikely(exercise: &str, set: &str) -> String {
    format!("{exercise} {set} is unlikely.")
}
