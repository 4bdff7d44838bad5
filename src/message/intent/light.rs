//! Whether a message says that training is light on purpose: `light week`, `deload until sunday`, `easy day`.
//!
//! Beside sets the words do wherever they stand. Alone they must be all that a clause says, since much else is easy.

use chrono::{Days, NaiveDate, Weekday};

use super::absence::{Span, clauses, named_days, without_days};
use crate::message::words::variants::List;

/// A lighter time in one word.
const ALONE: [&str; 4] = ["deload", "deloading", "deloaded", "deloads"];
/// What is light, and how: `light week`, `easy session`.
const HOW: [&str; 5] = ["light", "lighter", "easy", "easier", "recovery"];
const WHAT: [&str; 7] = [
    "week", "day", "session", "workout", "today", "tonight", "training",
];
/// Of another time, or denied.
static NOT_NOW: List =
    List::of("after|last|next|no|not|since|before|yesterday|tomorrow|over|done|isn|wasn|was");

/// What a clause says of a light time.
static LIGHT: List = List::of(
    "deload|deloading ?week|day|session, light|lighter|easy|easier|recovery week|day|session|workout|training|weights|loads, \
     keeping|making|taking ?it|things|everything ?very|nice|real light|lighter|easy, \
     going|training|lifting ?very|nice|real light|lighter|easy",
);
/// The same where a day stands beside it: `take it easy` alone is a farewell.
static TODAY: List = List::of(
    "keep|make|take|go|train|lift ?it|things|everything ?very|nice|real light|lighter|easy",
);
/// What one says of another kind.
static OTHER: List = List::of(
    "test|testing|heavy|hard|hardest|max|peak|taper|volume|technique|speed|normal|push|pull|leg|upper|lower \
     week|day|session|workout",
);
/// Words that may lead to it, and stand behind it.
static LEADS: List = List::of(
    "i|i'm|im|i'll|it's|its|this|am|is|will|be|the|my|a|an|so|sorry|ok|okay|hi|hey|and|but|just|only|having|have|on|gonna|\
     going|to|let's|lets|in|doing|for|another|still|again|we|we're|today|tonight|now|coach|says|said|wants|me|team",
);
static TAILS: List = List::of(
    "today|tonight|this|the|now|please|pls|plz|for|me|again|then|though|so|on|purpose|it|with|training|session|week|day|\
     everything|weights|loads|as|planned",
);
/// Most words of a clause, and of its core.
const MOST_WORDS: usize = 12;
const MOST_IN_CORE: usize = 4;
/// A longer one says more, bytes.
const LONGEST_CLAUSE: usize = 60;
/// The longest such time that is believed, in days.
const LONGEST: u64 = 21;

/// Whether a message beside sets says that training is light on purpose now.
pub(crate) fn is_light_on_purpose(text: &str) -> bool {
    let text = text.to_lowercase();
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let named = words.iter().any(|word| ALONE.contains(word));
    let described = words
        .windows(2)
        .any(|pair| HOW.contains(&pair[0]) && WHAT.contains(&pair[1]));
    (named || described) && !words.iter().any(|word| NOT_NOW.has(word))
}

/// The days on which training is light by a message that says so, and little else; and whether it names them.
pub(crate) fn light_time(
    text: &str,
    today: NaiveDate,
    week_start: Weekday,
) -> Option<(Span, bool)> {
    if text.trim_end().ends_with('?') {
        return None;
    }
    let clauses = clauses(text);
    let says = |clause: &&Vec<String>| says(clause, &[&LIGHT], today, week_start);
    days_of(clauses.iter().find(says)?, today, week_start)
}

/// A message without a first clause, or line, that says what kind of day or week it is and nothing else: it is no part of
/// the sets behind it.
pub(crate) fn without_kind_of_day(text: &str) -> &str {
    let is_end = |c: char| matches!(c, ',' | ';' | ':' | '.' | '!' | '\n');
    let Some((first, rest)) = text.split_once(is_end) else {
        return text;
    };
    // Which days it names does not matter here.
    let any = (NaiveDate::default(), Weekday::Mon);
    let says = |clause: &Vec<String>| says(clause, &[&LIGHT, &OTHER], any.0, any.1);
    match first.len() <= LONGEST_CLAUSE
        && rest.contains(|c: char| c.is_ascii_digit())
        && clauses(first).iter().any(says)
    {
        true => rest.trim_start(),
        false => text,
    }
}

/// Whether a clause is one of these and nothing else.
fn says(clause: &[String], kinds: &[&List], today: NaiveDate, week_start: Weekday) -> bool {
    if clause.iter().any(|word| NOT_NOW.has(word)) {
        return false;
    }
    let plain = without_days(clause, today, week_start);
    let says_so = |at: usize| {
        (1..=MOST_IN_CORE).any(|length| {
            let (before, from) = plain.split_at(at);
            let core = from.get(..length).map(|core| core.join(" "));
            let mut behind = from.get(length..).unwrap_or_default().iter();
            let is_kind = |core: String| {
                kinds.iter().any(|kind| kind.has(&core))
                    || plain.len() < clause.len() && TODAY.has(&core)
            };
            core.is_some_and(is_kind)
                && before.iter().all(|word| LEADS.has(word))
                && behind.all(|word| TAILS.has(word))
        })
    };
    plain.len() <= MOST_WORDS && (0..plain.len()).any(says_so)
}

/// The same of a message with sets that says it in any way; numbers that look like another day are of the sets.
pub(crate) fn light_time_beside(
    text: &str,
    today: NaiveDate,
    week_start: Weekday,
) -> Option<(Span, bool)> {
    let words: Vec<String> = clauses(text).into_iter().flatten().collect();
    let days = || days_of(&words, today, week_start).unwrap_or(((today, today), false));
    is_light_on_purpose(text).then(days)
}

/// To the day that is named, or the end of the week where one is meant, else today; `None` where they begin later.
fn days_of(words: &[String], today: NaiveDate, week_start: Weekday) -> Option<(Span, bool)> {
    if let Some((from, until)) = named_days(words, today, week_start) {
        let sound = from == today && until >= today && until <= today + Days::new(LONGEST);
        return sound.then_some(((from, until), until > today));
    }
    let is = |some: &[&str]| words.iter().any(|word| some.contains(&word.as_str()));
    let of_a_week = is(&["week"]) || is(&ALONE) && !is(&["day", "session", "workout"]);
    let last = match of_a_week {
        true => today.week(week_start).last_day(),
        false => today,
    };
    Some(((today, last), false))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A Wednesday.
    const TODAY: &str = "2026-11-25";

    #[test]
    fn a_light_day_is_told_from_a_light_set_and_from_another_week() {
        for text in [
            "light week, bench press 55x6, 6 left",
            "Deload: squat 90x5",
            "easy day today, rows 50x10",
            "going lighter today",
        ] {
            assert!(is_light_on_purpose(text), "{text}");
        }
        for text in [
            "bench 60x10, light",
            "80x8, that was easy",
            "after the deload squat 120x5",
            "last week was a light week, squat 120x5",
            "not a light day, 80x8",
            "easy, 80x8",
        ] {
            assert!(!is_light_on_purpose(text), "{text}");
        }
    }

    #[test]
    fn what_kind_of_day_it_is_is_no_part_of_the_sets() {
        for (text, sets) in [
            ("light week, squat 105x5, 2 left", "squat 105x5, 2 left"),
            ("Deload!\nbench 60x8", "bench 60x8"),
            ("test week, bench 60x14, 0 left", "bench 60x14, 0 left"),
            ("heavy day today: squat 140x3", "squat 140x3"),
        ] {
            assert_eq!(without_kind_of_day(text), sets, "{text}");
        }
        for text in [
            "squat 105x5, 2 left",
            "squat day, no bench",
            "great day, bench 60x8",
            "light week",
        ] {
            assert_eq!(without_kind_of_day(text), text);
        }
    }

    #[test]
    fn a_message_of_its_own_says_for_how_long_it_is_light() {
        let today: NaiveDate = TODAY.parse().unwrap();
        let until = |text: &str| {
            light_time(text, today, Weekday::Mon).map(|((from, until), _)| {
                assert_eq!(from, today);
                (until - today).num_days()
            })
        };
        for (text, days) in [
            ("deload until sunday", 4),
            ("Deload week!", 4),
            ("deloading this week", 4),
            ("deload this week, boss says so (my wife)", 4),
            ("light week for me, lighter weights today please", 4),
            ("easy week", 4),
            ("i'm on a deload until friday", 2),
            ("light day today", 0),
            ("the baby was up since three, make it easy today pls", 0),
            ("only practising technique today, keeping it light", 0),
            ("slept badly. going light today", 0),
            ("recovery session tonight", 0),
        ] {
            assert_eq!(until(text), Some(days), "{text}");
        }
        for text in [
            "is a deload worth it?",
            "no deload this week",
            "my coach talks of a deload",
            "that was an easy day at work",
            "go easy on him",
            "last week was a light week",
            "the light day is over",
            "next week is a light week",
            "take it easy, ana",
            "traffic was light today",
            "should i take a light week",
            "light week from monday",
        ] {
            assert_eq!(until(text), None, "{text}");
        }
    }
}
