//! Sentences on how right the advice was.

use super::shown_name;
use crate::bot::accuracy::{Accuracy, Predictions};
use crate::bot::state::Member;

/// Longest list of lifts or members that is shown.
const MOST: usize = 20;

/// A member's lifts, most predicted first.
#[must_use]
pub fn of_member(name: &str, predictions: &Predictions) -> String {
    let mut lifts: Vec<(&str, Accuracy)> = Vec::new();
    lifts.extend(
        predictions
            .by_lift
            .iter()
            .map(|(name, one)| (name.as_str(), *one)),
    );
    lifts.sort_by(|a, b| b.1.sets.cmp(&a.1.sets).then(a.0.cmp(b.0)));
    if lifts.is_empty() {
        return format!(
            "{}: I have not foretold a set yet that was then done at that load and rest.",
            shown_name(name)
        );
    }
    let head = format!("{}: {}", shown_name(name), summary(&predictions.all()));
    table(&head, &lifts)
}

/// The team, member by member.
#[must_use]
pub fn of_team(members: &[&Member]) -> String {
    let names: Vec<String> = members.iter().map(|one| shown_name(&one.name)).collect();
    let rows = names.iter().zip(members);
    let rows = rows.map(|(name, one)| (name.as_str(), one.desk.predictions.all()));
    let mut rows: Vec<(&str, Accuracy)> = rows.filter(|(_, all)| all.sets > 0).collect();
    if rows.is_empty() {
        return "I have not foretold a set yet that was then done at that load and rest."
            .to_owned();
    }
    rows.sort_by(|a, b| b.1.error().total_cmp(&a.1.error()).then(a.0.cmp(b.0)));
    let all = rows
        .iter()
        .fold(Accuracy::default(), |sum, (_, one)| sum.and(one));
    table(&format!("The team: {}", summary(&all)), &rows)
}

/// `the last sets came out 1.2 reps off on average …`
fn summary(all: &Accuracy) -> String {
    let again = match all.against_again() {
        None => String::new(),
        Some((again, ours)) => {
            format!(
                " Guessing the same as last time would be {again:.1} off, I am {ours:.1} there."
            )
        }
    };
    format!(
        "my predictions are {:.1} reps off on average. {:.0} % of the sets fell within the range I \
         named (80 % should).{again}",
        all.error(),
        100.0 * all.held()
    )
}

fn table(head: &str, rows: &[(&str, Accuracy)]) -> String {
    let width = rows.iter().take(MOST).map(|row| row.0.chars().count());
    let width = width.max().unwrap_or(0).max(4);
    let mut lines = vec![format!(
        "{:width$} {:>5} {:>5} {:>6} {:>6} {:>6}",
        "", "sets", "off", "bias", "within", "again"
    )];
    for (name, one) in rows.iter().take(MOST) {
        let again = one.against_again();
        let again = again.map_or("–".to_owned(), |(again, _)| format!("{again:.1}"));
        lines.push(format!(
            "{name:width$} {:>5} {:>5.1} {:>+6.1} {:>4.0} % {again:>6}",
            one.sets,
            one.error(),
            one.bias(),
            100.0 * one.held(),
        ));
    }
    let more = rows.len().saturating_sub(MOST);
    let more = match more {
        0 => String::new(),
        more => format!("\nand {more} more"),
    };
    format!(
        "{head}\n```\n{}\n```{more}\nOff: mean distance in reps, the last thirty sets or so. Bias: +, I \
         expected too many. Again: off when guessing the same as last time.",
        lines.join("\n")
    )
}
