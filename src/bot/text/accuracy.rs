//! Sentences on how right the advice was.

use super::shown_name;
use super::table::{block, wrapped};
use crate::bot::state::Member;
use crate::bot::state::accuracy::{Accuracy, Predictions};

/// Longest list of lifts or members that is shown.
const MOST: usize = 20;

/// A member's lifts, most predicted first.
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
            "{}: nothing to compare yet. I compare the reps I expected with the reps done, where load and \
             rest were as advised.",
            shown_name(name)
        );
    }
    let head = format!("{}: {}", shown_name(name), summary(&predictions.all()));
    with_rows(&head, &lifts)
}

/// The team, member by member.
pub fn of_team(members: &[&Member]) -> String {
    let names: Vec<String> = members.iter().map(|one| shown_name(&one.name)).collect();
    let rows = names.iter().zip(members);
    let rows = rows.map(|(name, one)| (name.as_str(), one.state.predictions.all()));
    let mut rows: Vec<(&str, Accuracy)> = rows.filter(|(_, all)| all.sets > 0).collect();
    if rows.is_empty() {
        return "Nothing to compare yet. I compare the reps I expected with the reps done, where load \
                and rest were as advised."
            .to_owned();
    }
    rows.sort_by(|a, b| b.1.error().total_cmp(&a.1.error()).then(a.0.cmp(b.0)));
    let all = rows
        .iter()
        .fold(Accuracy::default(), |sum, (_, one)| sum.and(one));
    with_rows(&format!("The team: {}", summary(&all)), &rows)
}

/// `the last sets came out 1.2 reps off on average …`
fn summary(all: &Accuracy) -> String {
    let again = match all.against_again() {
        None => String::new(),
        Some((again, ours)) => {
            format!(
                " If you expect the same as last time, you are {again:.1} off; there I am {ours:.1} off."
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

/// A lift or member a pair of lines: the name, then the numbers under their heads.
fn with_rows(head: &str, rows: &[(&str, Accuracy)]) -> String {
    let mut lines = vec!["sets   off  bias within  same".to_owned()];
    for (name, one) in rows.iter().take(MOST) {
        let same = one.against_again();
        let same = same.map_or("–".to_owned(), |(same, _)| format!("{same:.1}"));
        lines.extend(wrapped(name, 1));
        lines.push(format!(
            "{:>4} {:>5.1} {:>+5.1} {:>4.0} % {same:>5}",
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
        "{head}\n{}{more}\nOff: how many reps I was off on average, over the last 30 sets or so. Bias: \
         a plus means that I expected too many. Within: sets within the range I named. Same: how far \
         off you are if you expect the same as last time.",
        block(&lines)
    )
}

/// A member's own, in words.
pub fn in_words(predictions: &Predictions) -> String {
    let all = predictions.all();
    if all.sets == 0 {
        return "Nothing to compare yet. Log a few sets at the load and rest that I advise, and ask again."
            .to_owned();
    }
    let sets = match all.sets {
        1 => "one set".to_owned(),
        sets => format!("{sets} sets"),
    };
    let bias = match all.bias() {
        bias if bias >= LEANS => format!("I mostly expect {bias:.1} too many."),
        bias if bias <= -LEANS => format!("I mostly expect {:.1} too few.", -bias),
        _ => "I expect neither too many nor too few.".to_owned(),
    };
    let again = all.against_again().map_or(String::new(), |(again, ours)| {
        format!(" Repeating the set before would be {again:.1} reps off where I am {ours:.1} off.")
    });
    let mut lifts: Vec<(&String, &Accuracy)> = predictions.by_lift.iter().collect();
    lifts.retain(|(_, lift)| lift.sets >= ENOUGH);
    lifts.sort_by(|a, b| a.1.error().total_cmp(&b.1.error()));
    let ends = match lifts.as_slice() {
        [(best, one), .., (worst, other)] => format!(
            " Nearest on {best} ({:.1}), furthest on {worst} ({:.1}).",
            one.error(),
            other.error()
        ),
        _ => String::new(),
    };
    format!(
        "Over {sets} that you did at the load and rest I named I was {:.1} reps off on average; {:.0} % \
         fell within the range \
         I named (80 % should). {bias}{again}{ends} `/accuracy` shows it lift by lift.",
        all.error(),
        100.0 * all.held(),
    )
}

/// A bias that is worth a word, repetitions.
const LEANS: f64 = 0.3;
/// Sets from which a lift is named.
const ENOUGH: u32 = 5;
