//! Sentences on days away, and on light ones.

use chrono::NaiveDate;

use super::{day, shown_name};
use crate::message::intent::absence::Span;

/// The button that takes back what was noted.
pub const NOT_AWAY: &str = "Not away";

/// The button that takes back that training is light.
pub const NOT_LIGHT: &str = "Not light";

/// The days on which somebody trains light, as noted; without a name, whoever said so.
pub fn light(name: Option<&str>, span: Span, today: NaiveDate) -> String {
    let who = name.map_or("you train".to_owned(), |name| {
        format!("{} trains", shown_name(name))
    });
    format!(
        "Noted: {who} light {}. First loads are about four fifths of the usual, and light sets change nothing that comes after.",
        standing(span, today)
    )
}

/// What was noted is taken back.
pub fn not_light(name: Option<&str>) -> String {
    let who = name.map_or("You train".to_owned(), |name| {
        format!("{} trains", shown_name(name))
    });
    format!("Taken back: {who} as usual.")
}

/// The days on which somebody is away, as noted; without a name, whoever said so.
pub fn noted(name: Option<&str>, span: Span) -> String {
    let days = days(span);
    match name {
        None => format!(
            "Noted: you are away {days}. I expect no session then, and your coaches see it. Post a set in that time, \
             and you are back."
        ),
        Some(name) => format!(
            "Noted: {} is away {days}. I expect no session then; `/attention` shows it. A set posted in that time \
             ends it, and so does `{} is back`.",
            shown_name(name),
            shown_name(name).to_lowercase(),
        ),
    }
}

/// `from Wednesday 4 November to Sunday 8 November`, `on Thursday 5 November`.
fn days((from, until): Span) -> String {
    match from == until {
        true => format!("on {}", day(from)),
        false => format!("from {} to {}", day(from), day(until)),
    }
}

/// `until Sunday 8 November` where it has begun.
fn standing(span: Span, today: NaiveDate) -> String {
    match span {
        (from, until) if from == until && from == today => "today".to_owned(),
        (from, until) if from <= today => format!("until {}", day(until)),
        span => days(span),
    }
}

/// Somebody is back.
pub fn back(name: Option<&str>) -> String {
    match name {
        None => "Noted: you are back. I expect the sessions of your plan again.".to_owned(),
        Some(name) => format!(
            "Noted: {} is back. I expect sessions again.",
            shown_name(name)
        ),
    }
}

/// What was noted is taken back.
pub fn not(name: Option<&str>) -> String {
    match name {
        None => "Taken back: I expect your sessions as planned.".to_owned(),
        Some(name) => format!(
            "Taken back: I expect {}'s sessions as planned.",
            shown_name(name)
        ),
    }
}

/// A set ends an absence.
pub fn ended((_, until): Span) -> String {
    format!(
        "You are back: I had you as away until {}, and expect your sessions again.",
        day(until)
    )
}

/// A set on the first day of an absence leaves the rest.
pub fn rest(span: Span) -> String {
    format!(
        "I still have you as away {}. If you are not, say `I'm back`.",
        days(span)
    )
}

/// Whether a member is away, by the days noted from today on.
pub fn of_one(name: &str, spans: &[Span], today: NaiveDate) -> String {
    let name = shown_name(name);
    let days: Vec<String> = spans.iter().map(|span| standing(*span, today)).collect();
    match days.is_empty() {
        true => format!("{name} is not noted as away."),
        false => format!("{name} is away {}.", days.join(", ")),
    }
}

/// Who is away, by the days noted, the earliest first.
pub fn of_team(away: &[(&str, Span)], today: NaiveDate) -> String {
    match list(away, today) {
        None => "Nobody is noted as away. Members say it in words, like `away from wed to sunday`, and so do coaches: \
                 `ana is away until friday`."
            .to_owned(),
        Some(list) => format!("Away: {list}."),
    }
}

/// `Ana until Sunday 8 November; Dov on Thursday 5 November`.
pub fn list(away: &[(&str, Span)], today: NaiveDate) -> Option<String> {
    let all = away
        .iter()
        .map(|(name, span)| format!("{} {}", shown_name(name), standing(*span, today)));
    let all: Vec<String> = all.collect();
    (!all.is_empty()).then(|| all.join("; "))
}
