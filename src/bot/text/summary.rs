//! Sentences on a session that is over.

use chrono::NaiveDate;

use super::count_of;

/// What a session came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Came {
    /// Its day, where that is not today.
    pub day: Option<NaiveDate>,
    /// Work sets.
    pub sets: usize,
    /// Those that count.
    pub counted: usize,
    /// From the first set to the last; `None` where they were not posted as they were done.
    pub minutes: Option<i64>,
}

/// The summary of a session: what it came to, an exercise a line, bests, and what comes next.
pub fn summary(came: &Came, exercises: &[String], bests: &[String], next: Option<&str>) -> String {
    let title = came
        .day
        .map_or_else(|| "Session over".to_owned(), super::day);
    let sets = count_of(came.sets, "set");
    let counted = match (came.sets, came.counted) {
        (1, 1) => ", it counts".to_owned(),
        (_, 0) => ", none counts".to_owned(),
        (sets, counted) if sets == counted => ", all count".to_owned(),
        (_, 1) => ", 1 counts".to_owned(),
        (_, counted) => format!(", {counted} count"),
    };
    let minutes = match came.minutes {
        Some(minutes) if minutes >= 1 => format!(", {minutes} minutes"),
        _ => String::new(),
    };
    let mut lines = vec![format!("{title}: {sets}{counted}{minutes}.")];
    lines.extend(exercises.iter().cloned());
    lines.extend(bests.iter().cloned());
    lines.extend(next.map(str::to_owned));
    lines.join("\n")
}

/// The next planned day: `Next: Thursday: bench press, barbell row.`
pub fn coming(day: NaiveDate, exercises: &[&str]) -> String {
    format!("Next, {}: {}.", day.format("%A"), exercises.join(", "))
}

/// What a word on the last set was taken for.
pub const fn felt(easy: bool) -> &'static str {
    match easy {
        true => {
            "I take easy as about 4 left. That is too easy to count. If it was closer, say `that was 3 left`."
        }
        false => "I take hard as about 1 left. If you know better, say `that was 2 left`.",
    }
}

/// Where summaries come from now on.
pub fn where_to(place: &str) -> &'static str {
    match place {
        "channel" => {
            "I post the summary of your sessions in the channel. `/summary private` sends it to you alone."
        }
        "off" => {
            "You get no more summaries. `/summary` still shows one, `/summary private` brings them back."
        }
        _ => {
            "I send the summary of your sessions to you alone. `/summary channel` shows it to all."
        }
    }
}
