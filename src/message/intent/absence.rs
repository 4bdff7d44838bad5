//! Somebody says that they are away for some days: on holiday, ill, out of town.

use chrono::{Datelike as _, Days, NaiveDate, Weekday};

use crate::message::forms::plan::weekday;
use crate::message::words::variants::List;

/// The days of an absence, both included.
pub type Span = (NaiveDate, NaiveDate);

/// The longest absence that is believed, in days.
const LONGEST: u64 = 180;
const DAYS_AHEAD: usize = 180;

/// The days on which a text says that its writer is away; `None` where it says nothing of the kind, or of a
/// single day. `week_start` is the team's first day of the week.
pub fn absence(text: &str, today: NaiveDate, week_start: Weekday) -> Option<Span> {
    let lower = text.to_lowercase().replace('’', "'");
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|word| !word.is_empty())
        .collect();
    let said = format!(" {} ", words.join(" "));
    let away = (AWAY.all().iter()).any(|phrase| said.contains(&format!(" {phrase} ")));
    let away = away || said.starts_with(" away ");
    if !away
        || text.trim_end().ends_with('?')
        || said.starts_with(" if ")
        || words.len() > MOST_WORDS
    {
        return None;
    }
    let next_week = {
        let ahead =
            (7 + week_start.num_days_from_monday() - today.weekday().num_days_from_monday()) % 7;
        today + Days::new(u64::from(if ahead == 0 { 7 } else { ahead }))
    };
    let from = match said.contains(" next week ") {
        true => next_week,
        false => today,
    };
    let until = ends(&words, from).or_else(|| {
        let of_week = said.contains(" next week ") || said.contains(" this week ");
        let last = if from == next_week {
            next_week + Days::new(6)
        } else {
            next_week - Days::new(1)
        };
        of_week.then_some(last)
    })?;
    let soon = until <= today + Days::new(LONGEST);
    (until > from && soon || until == from && from > today).then_some((from, until))
}

/// Longer texts are stories.
const MOST_WORDS: usize = 20;

/// What says that somebody is away.
static AWAY: List = List::of(
    "i'm|im away, i am away, is|be away, away next|this, on holiday|holidays|vacation, out of town, not|no training, \
     can't|cant train, won't be training, off sick, i'm|im sick, i am sick, is sick, sick this|until|next, i'm|im ill, \
     is ill, ill this, flu, infection, covid",
);

/// The last day away: `until friday`, `back on the 16th`, `for 2 weeks`.
fn ends(words: &[&str], from: NaiveDate) -> Option<NaiveDate> {
    (0..words.len()).find_map(|at| {
        let rest = words.get(at + 1..)?;
        let skipped = rest
            .iter()
            .take_while(|word| ["on", "the", "again", "in"].contains(word))
            .count();
        let day = || day_of(rest.get(skipped..)?, from);
        match words[at] {
            "until" | "till" | "til" | "to" => day(),
            "back" => day().map(|day| day - Days::new(1)),
            "for" => {
                let count: u64 = match *rest.first()? {
                    "a" | "one" => 1,
                    "two" => 2,
                    "three" => 3,
                    word => word.parse().ok().filter(|count| *count < LONGEST)?,
                };
                let days = match *rest.get(1)? {
                    "day" | "days" => count,
                    "week" | "weeks" => 7 * count,
                    _ => return None,
                };
                Some(from + Days::new(days.max(1) - 1))
            }
            _ => None,
        }
    })
}

/// `friday`, `16th`, `16 nov`, `nov 16`: the next such day after `from`.
fn day_of(words: &[&str], from: NaiveDate) -> Option<NaiveDate> {
    let first = words.first()?;
    let number = |word: &str| -> Option<u32> {
        let digits = word.trim_end_matches(char::is_alphabetic);
        digits.parse().ok().filter(|day| (1..=31).contains(day))
    };
    let second = words.get(1).copied().unwrap_or_default();
    let month: Option<chrono::Month> = second.parse().ok().or_else(|| first.parse().ok());
    let named = weekday(first);
    let day = number(first).or_else(|| month.and_then(|_| number(second)));
    let is = |date: &NaiveDate| match (named, day, month) {
        (Some(named), ..) => date.weekday() == named,
        (None, Some(day), Some(month)) => {
            (date.day(), date.month()) == (day, month.number_from_month())
        }
        (None, Some(day), None) => date.day() == day,
        (None, None, _) => false,
    };
    from.iter_days().skip(1).take(DAYS_AHEAD).find(is)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_away_are_heard_and_talk_is_not() {
        // A Tuesday.
        let today = NaiveDate::from_ymd_opt(2026, 11, 3).unwrap();
        let day = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap();
        for (text, from, until) in [
            ("away next week, back on the 16th", day(11, 9), day(11, 15)),
            ("sick this week, flu", day(11, 3), day(11, 8)),
            ("on holiday next week, no training", day(11, 9), day(11, 15)),
            ("i'm away until friday", day(11, 3), day(11, 6)),
            ("out of town for 2 weeks", day(11, 3), day(11, 16)),
            ("on vacation till 20 nov", day(11, 3), day(11, 20)),
        ] {
            assert_eq!(
                absence(text, today, Weekday::Mon),
                Some((from, until)),
                "{text}"
            );
        }
        for text in [
            "put the bar away until friday",
            "sick pump this week",
            "anyone away next week?",
            "no training today",
            "back on the bike friday",
        ] {
            assert_eq!(absence(text, today, Weekday::Mon), None, "{text}");
        }
    }
}
