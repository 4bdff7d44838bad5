//! Days and lengths of time in questions about what was done.

use chrono::{Datelike as _, Duration, NaiveDate, Weekday};

use crate::domain::quantities::calendar;
use crate::message::forms::plan::weekday;
use crate::message::words::numeral;
use crate::message::words::variants::has;

/// A day, or a week, that is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayAsked {
    /// So many days before today; 0 is today.
    Ago(u32),
    /// The most recent such weekday before today.
    Weekday(Weekday),
    /// The same, said to be the last one.
    LastWeekday(Weekday),
    /// A date.
    Date(NaiveDate),
    /// A day of a month, without its year: the latest that is not to come.
    InYear(u32, u32),
    /// So many weeks before this one; 0 is this week.
    WeeksAgo(u32),
}

/// Furthest back that is counted in days and in weeks.
const MOST_AGO: u32 = 1000;

impl DayAsked {
    /// The day that is meant, seen from today; `None` for a week, and for a date that is none.
    #[must_use]
    pub fn day(self, today: NaiveDate) -> Option<NaiveDate> {
        match self {
            Self::Ago(days) => today.checked_sub_signed(Duration::days(i64::from(days))),
            Self::Weekday(weekday) | Self::LastWeekday(weekday) => {
                Some(calendar::most_recent(weekday, today))
            }
            Self::Date(date) => Some(date),
            Self::InYear(month, day) => {
                let this = NaiveDate::from_ymd_opt(today.year(), month, day);
                this.filter(|date| *date <= today)
                    .or_else(|| NaiveDate::from_ymd_opt(today.year() - 1, month, day))
            }
            Self::WeeksAgo(_) => None,
        }
    }

    /// A day of the week that is meant; `None` where a day is.
    #[must_use]
    pub fn week(self, today: NaiveDate) -> Option<NaiveDate> {
        match self {
            Self::WeeksAgo(weeks) => today.checked_sub_signed(Duration::weeks(i64::from(weeks))),
            _ => None,
        }
    }
}

/// The day that a whole text names: `yesterday`, `mon`, `2026-11-23`, `23 nov`, `last week`.
#[must_use]
pub fn day_asked(text: &str) -> Option<DayAsked> {
    let words = super::words_of(text);
    let (day, length) = at(&words)?;
    (length == words.len()).then_some(day)
}

/// Of a day on which one cannot train.
const LEFT_OUT: &str = "cant cannot can't couldnt wont won't missed miss missing skip skipped skipping busy no not unable \
    instead rather";
/// Of a day on which one trains in place of another.
const TRAINS: &str = "do doing did train training lift lifting come coming there instead ok okay works work fine free go \
    going in make shift rather alright possible then";
/// That moves a session.
const MOVES: &str = "move moved moving swap swapped swapping switch switched switching shift shifted shifting reschedule \
    rescheduled push pushed pushing bring change changed";
/// Between days that are all meant, or end a time away.
const OF_SEVERAL: &str =
    "or until till til away off back holiday sick through thru from nor either both";
/// Most words of such a message.
const MOST_WORDS: usize = 20;

/// Whether a message moves a session from one day to another, or asks to: `cant make thursday, can i do it friday`.
#[must_use]
pub fn moves_session(text: &str) -> bool {
    let words = super::words_of(text);
    if words.len() > MOST_WORDS || text.chars().filter(char::is_ascii_digit).count() > 2 {
        return false;
    }
    let day = |word: &str| {
        let coming = matches!(word, "today" | "tonight" | "tomorrow" | "tmrw");
        let named = word.strip_suffix('s').and_then(weekday);
        coming.then_some(None).or_else(|| {
            let plain = weekday(word).filter(|_| word.len() >= 3);
            plain.or(named).map(Some)
        })
    };
    let days: Vec<(usize, Option<Weekday>)> = (words.iter().enumerate())
        .filter_map(|(at, word)| Some((at, day(word)?)))
        .collect();
    let [(first, one), (second, other)] = days.as_slice() else {
        return false;
    };
    let says = |words: &[String], list: &str| words.iter().any(|word| has(list, word));
    let (before, between, behind) = (
        words.get(..*first).unwrap_or_default(),
        words.get(first + 1..*second).unwrap_or_default(),
        words.get(second + 1..).unwrap_or_default(),
    );
    let several = says(between, OF_SEVERAL) || says(before, "until till til away holiday from");
    if one == other || says(before, MOVES) {
        return one != other;
    }
    let (left, trains) = (
        says(before, LEFT_OUT),
        says(between, TRAINS) || says(behind, TRAINS),
    );
    let next_is_out = says(between, "cant cannot can't wont won't couldnt not");
    let thursday_wont = next_is_out && !left && says(between, TRAINS);
    let instead_of = says(between, "instead") && between.last().is_some_and(|word| word == "of");
    !several && (left && trains && !next_is_out || thursday_wont || instead_of)
}

/// The day that begins these words, and how many words name it.
pub(crate) fn at(words: &[String]) -> Option<(DayAsked, usize)> {
    let word = |place: usize| words.get(place).map_or("", String::as_str);
    let (first, second, third) = (word(0), word(1), word(2));
    match (first, second, third) {
        ("on", ..) if !matches!(second, "on" | "last" | "") => {
            return at(words.get(1..)?).map(|(day, length)| (day, length + 1));
        }
        ("today" | "todays" | "tonight", ..) => return Some((DayAsked::Ago(0), 1)),
        ("yesterday" | "yesterdays", ..) => return Some((DayAsked::Ago(1), 1)),
        ("day", "before", "yesterday") => return Some((DayAsked::Ago(2), 3)),
        ("last", "night", _) => return Some((DayAsked::Ago(1), 2)),
        ("last", "week" | "weeks", _) => return Some((DayAsked::WeeksAgo(1), 2)),
        ("this", "week" | "weeks", _) => return Some((DayAsked::WeeksAgo(0), 2)),
        ("week", "before", "last") => return Some((DayAsked::WeeksAgo(2), 3)),
        _ => {}
    }
    if let Some(found) = ago(first, second, third) {
        return Some((found, 3));
    }
    let (name, length) = match first {
        "last" | "this" => (second, 2),
        _ => (first, 1),
    };
    if name.len() >= 3
        && let Some(day) = weekday(name.strip_suffix('s').unwrap_or(name)).or_else(|| weekday(name))
    {
        let asked = match first {
            "last" => DayAsked::LastWeekday(day),
            _ => DayAsked::Weekday(day),
        };
        return Some((asked, length));
    }
    if let Ok(date) = first.parse::<NaiveDate>() {
        return Some((DayAsked::Date(date), 1));
    }
    in_year(first, second).or_else(|| in_year(second, first))
}

/// `3 days ago`, `two weeks ago`, `a week ago`.
fn ago(count: &str, unit: &str, ago: &str) -> Option<DayAsked> {
    if ago != "ago" {
        return None;
    }
    let count = small_number(count)?;
    match unit {
        "day" | "days" => Some(DayAsked::Ago(count)),
        "week" | "weeks" => Some(DayAsked::WeeksAgo(count)),
        "month" | "months" => Some(DayAsked::WeeksAgo(count.saturating_mul(4))),
        _ => None,
    }
}

fn small_number(word: &str) -> Option<u32> {
    if matches!(word, "a" | "an") {
        return Some(1);
    }
    let number = numeral::small_number(word).or_else(|| word.parse().ok())?;
    (1..=MOST_AGO).contains(&number).then_some(number)
}

/// `23 nov`, `november 23rd`.
fn in_year(day: &str, month: &str) -> Option<(DayAsked, usize)> {
    const MONTHS: [&str; 12] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    ];
    let digits = day.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let behind = day.get(digits.len()..)?;
    if !matches!(behind, "" | "st" | "nd" | "rd" | "th") {
        return None;
    }
    let day: u32 = digits.parse().ok()?;
    let short = month.get(..3).filter(|_| month.is_ascii())?;
    let place = MONTHS.iter().position(|known| *known == short)?;
    let month = u32::try_from(place + 1).ok()?;
    // A leap year, so that its last day of February can be asked for.
    NaiveDate::from_ymd_opt(2024, month, day)?;
    Some((DayAsked::InYear(month, day), 2))
}

/// A length of training that begins these words, minutes: `45 min`, `an hour`, `half an hour`.
pub(super) fn minutes_at(words: &[String]) -> Option<(u32, usize)> {
    let word = |place: usize| words.get(place).map_or("", String::as_str);
    if word(0) == "half" && matches!(word(1), "an" | "a") && word(2) == "hour" {
        return Some((30, 3));
    }
    if let Some(digits) = ["minutes", "mins", "min", "h"]
        .into_iter()
        .find_map(|unit| word(0).strip_suffix(unit))
        && let Ok(count) = digits.parse::<u32>()
    {
        let hours = word(0).ends_with('h');
        return Some((if hours { count.checked_mul(60)? } else { count }, 1));
    }
    let count = small_number(word(0))?;
    match word(1) {
        "min" | "mins" | "minute" | "minutes" => Some((count, 2)),
        "h" | "hour" | "hours" => Some((count.checked_mul(60)?, 2)),
        _ => None,
    }
}

#[test]
fn a_session_is_moved_to_another_day() {
    let cases = [
        ("cant make thursday, can i do it friday", true),
        ("cant train thursday, will do friday", true),
        ("can't do thursday, is friday ok", true),
        ("missed thursday, doing it today", true),
        ("busy wednesday so i'll lift saturday", true),
        ("swap monday and thursday next week", true),
        ("coach moved thursday to friday for me", true),
        ("thursday wont work, ill come friday", true),
        ("cant make it thursday, ill be there friday", true),
        ("friday instead of thursday", true),
        ("can't come thursday or friday", false),
        ("cant make thursday, away until monday", false),
        ("cant come on thursday, back on friday", false),
        ("away from friday to monday", false),
        ("i did legs monday and chest thursday", false),
        ("cant make thursday", false),
    ];
    let wrong = cases
        .iter()
        .filter(|(text, wanted)| moves_session(text) != *wanted);
    assert_eq!(wrong.collect::<Vec<_>>(), Vec::<&(&str, bool)>::new());
}
