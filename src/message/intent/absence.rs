//! Somebody says that they are away for some days, or back: on holiday, ill, out of town, or unable to come.
//!
//! A clause says so when a word for it stands behind its subject alone, and when nothing but days, or the end,
//! follows. The days are read wherever they stand: a start, an end, single days.

use chrono::{Datelike as _, Days, NaiveDate, Weekday};

use crate::message::forms::plan::weekday;
use crate::message::words::variants::List;

/// The days of an absence, both included.
pub type Span = (NaiveDate, NaiveDate);

/// Whether a day lies in one of these.
pub fn is_in(spans: &[Span], day: NaiveDate) -> bool {
    spans
        .iter()
        .any(|(from, until)| (*from..=*until).contains(&day))
}

/// What is said of being away, or of a light time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Absence {
    /// Away from the first day to the last. Where no start is said, `false`: one that is known stays.
    Away(Span, bool),
    /// Back.
    Back,
    /// Not away in the time that was noted from this day on.
    Not(NaiveDate),
    /// There, but light on purpose, and whether the days are named (`light`).
    Light(Span, bool),
    /// Not light, other than was noted.
    NotLight,
}

/// The longest absence that is believed, in days.
const LONGEST: u64 = 180;
/// Longer texts are stories.
const MOST_WORDS: usize = 25;

/// What a text says of its writer's being away; `None` where it says nothing of the kind, or no day. `week_start`
/// is the team's first day of the week.
pub fn absence(text: &str, today: NaiveDate, week_start: Weekday) -> Option<Absence> {
    let text = text.to_lowercase().replace('’', "'");
    let words = words(&text);
    let unsure = ["if", "might", "maybe", "was", "were", "wasn't", "should"];
    let asks = ["ok to ", "or not", "can i ", "shall i "];
    if text.trim_end().ends_with('?')
        || asks.iter().any(|asks| text.contains(asks))
        || words.len() > MOST_WORDS
        || words.iter().any(|word| unsure.contains(&word.as_str()))
    {
        return None;
    }
    let days = Calendar { today, week_start };
    let clauses: Vec<&[String]> = words.split(|word| word == ",").collect();
    if clauses.iter().any(|clause| says(clause, &AWAY, &days)) {
        let (span, starts) = days.span(&words)?;
        let soon = span.1 <= today + Days::new(LONGEST);
        return (span.0 >= today && span.0 <= span.1 && soon)
            .then_some(Absence::Away(span, starts));
    }
    let first = *clauses.first()?;
    if !says(first, &BACK, &days) {
        return None;
    }
    // `back on wednesday`; not the muscle, and not what is back.
    match days.span(first) {
        Some((span, starts)) if !starts && span.1 >= today => Some(Absence::Away(span, false)),
        Some((span, _)) if span.0 > today => None,
        _ => Some(Absence::Back),
    }
}

/// Words that stand for being away, behind a subject. A comma parts clauses.
static AWAY: List = List::of(
    "away, off, out, gone, travelling|traveling, abroad, out of town|office|country|action, \
     ?on ?a ?family|summer|winter|long|short holiday|holidays|vacation|trip, \
     on|at ?a|the|my ?work|business trip|course|conference|leave|honeymoon|holidays, \
     ?off sick|ill|unwell|poorly, under the weather, taking|take|having ?a|the ?day off, have|got|caught|with ?a|the ?bad|stomach|chest \
     cold|flu|fever|virus|bug|infection|covid|tonsillitis|migraine, flu, covid, infection, virus, day off, \
     can't|cant|cannot|won't|wont|couldn't make ?it, can't|cant|cannot|won't|wont|couldn't come|train|attend|lift, \
     can|will not make ?it, can|will not come|train|attend|lift, \
     ?not ?be able|unable to make ?it, ?not ?be able|unable to come|train|attend|lift, \
     can't|cant|cannot|won't|wont|not ?be|going|gonna ?be|to there|in|around|here|coming|training|train|come, \
     no|not ?my|any gym|training|session|lifting|workout|show, \
     miss|missing|skip|skipping|cancel|cancelling ?the|my ?gym|training|session|workout",
);

/// The same for being back.
static BACK: List = List::of(
    "back, back ?in|at|from ?my|the training|gym|it|holiday|holidays|vacation|trip|course|town|work|leave, returned, \
     training|lifting again, well again, not away ?any ?more",
);

/// What may stand before such words: who speaks, and small words.
static BEFORE: List = List::of(
    "i|i'm|im|i'll|ill|i've|ive|am|is|will|be|been|have|has|had|got|to|going|gonna|need|must|a|the|so|sorry|hi|\
     hey|hello|guys|all|folks|team|coach|unfortunately|also|just|again|still|fyi|and|but|ok|now|really|probably|\
     think|afraid|looks|like|as|actually|finally|yes|ps|update|bit",
);

/// What leads on to a day.
static TO_A_DAY: List = List::of("from|until|till|til|to|through|thru|on|this|next|the|starting|-");

/// What else may stand behind them, beside days.
static BEHIND: List = List::of(
    "for|so|since|because|as|and|with|at|again|work|sick|ill|now|still|sorry|back|due|me|training|gym|session|\
     hopefully|holiday|sadly|then|but|us|town|everyone|guys|everybody|already|coach|though|only|that",
);

/// The clauses of a text, in words.
pub(super) fn clauses(text: &str) -> Vec<Vec<String>> {
    let text = text.to_lowercase().replace('’', "'");
    let words = words(&text);
    let clauses = words.split(|word| word == "," || word == "-");
    clauses.map(<[String]>::to_vec).collect()
}

/// The days that some words name, from the first to the last.
pub(super) fn named_days(words: &[String], today: NaiveDate, week_start: Weekday) -> Option<Span> {
    Calendar { today, week_start }
        .span(words)
        .map(|(span, _)| span)
}

/// Whether a clause says so: the words of the list behind the subject alone, and nothing behind them but days.
fn says(clause: &[String], list: &List, days: &Calendar) -> bool {
    // What the writer says of themselves, behind whatever leads to it.
    let subject = ["i", "i'm", "im", "i'll", "i've", "ive"];
    let from = clause
        .iter()
        .rposition(|word| subject.contains(&word.as_str()));
    let clause = clause.get(from.unwrap_or(0)..).unwrap_or_default();
    let clause = days.without(clause);
    (0..clause.len()).any(|at| {
        let before = clause.get(..at).unwrap_or_default();
        // `my away until monday`: a coach's `ana's away`, as the member's own.
        let led = before == ["my"] || before.iter().all(|word| BEFORE.has(word));
        led && (1..=MOST_IN_PHRASE).any(|length| {
            let phrase = clause.get(at..at + length);
            let behind = clause.get(at + length).is_none_or(|next| BEHIND.has(next));
            behind && phrase.is_some_and(|phrase| list.has(&phrase.join(" ")))
        })
    })
}

/// A clause without the days in it and what leads to them.
pub(super) fn without_days(clause: &[String], today: NaiveDate, week_start: Weekday) -> Vec<&str> {
    Calendar { today, week_start }.without(clause)
}

/// Words of the longest phrase of the lists.
const MOST_IN_PHRASE: usize = 5;

/// The words of a text, with a comma between clauses and a `-` of its own between days.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for raw in text.split_whitespace() {
        let ends = raw.ends_with([',', ';', '!', ':', '?', ')'])
            || raw.ends_with('.') && !raw.starts_with(|c: char| c.is_ascii_digit());
        let plain = raw.trim_matches(|c: char| ",;!:?()\"".contains(c));
        let plain = plain.trim_end_matches('.');
        let plain = plain
            .strip_suffix("'s")
            .filter(|day| weekday(day).is_some())
            .unwrap_or(plain);
        let is_iso = plain.parse::<NaiveDate>().is_ok();
        let parts: Vec<&str> = match is_iso {
            true => vec![plain],
            false => plain.split(['-', '–', '—']).collect(),
        };
        for (place, part) in parts.iter().enumerate() {
            if place > 0 {
                words.push("-".to_owned());
            }
            if !part.is_empty() {
                words.push((*part).to_owned());
            }
        }
        if ends {
            words.push(",".to_owned());
        }
    }
    while words.last().is_some_and(|word| word == ",") {
        words.pop();
    }
    words
}

/// Today, and where weeks begin.
struct Calendar {
    today: NaiveDate,
    week_start: Weekday,
}

/// A day as it is said, or several.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Said {
    /// The next such day: `friday`.
    Weekday(Weekday),
    /// A day of a month, `16` or `16 nov`.
    Date(u32, Option<u32>),
    /// These days: `today`, `next week`.
    Days(NaiveDate, NaiveDate),
}

impl Calendar {
    /// A clause without the days in it and what leads to them. `off to a good start` and `gone from 40 to 45` lead to none.
    fn without<'c>(&self, clause: &'c [String]) -> Vec<&'c str> {
        let day = |at: usize| self.day(clause.get(at..).unwrap_or_default());
        let mut words = Vec::new();
        let mut at = 0;
        while let Some(word) = clause.get(at) {
            let leads = usize::from(TO_A_DAY.has(word) && day(at).is_none());
            match day(at + leads) {
                Some((_, count)) => at += leads + count,
                None => {
                    words.push(word.as_str());
                    at += 1;
                }
            }
        }
        words
    }

    /// The first day of the week that begins next.
    fn next_week(&self) -> NaiveDate {
        let ahead = 7 + self.week_start.num_days_from_monday();
        let ahead = (ahead - self.today.weekday().num_days_from_monday()) % 7;
        self.today + Days::new(u64::from(if ahead == 0 { 7 } else { ahead }))
    }

    /// What is said of days here, and in how many words.
    fn day(&self, words: &[String]) -> Option<(Said, usize)> {
        let word = |at: usize| words.get(at).map_or("", String::as_str);
        // Small words before a day: `on the`, `this coming`.
        let lead = |word: &String| ["on", "the", "this", "of", "again"].contains(&word.as_str());
        let small = words.iter().take_while(|word| lead(word)).count();
        // `this coming friday`, and not `not coming friday`.
        let small = small + usize::from(small > 0 && word(small) == "coming");
        let (first, second) = (word(small), word(small + 1));
        let one = |day: NaiveDate| Said::Days(day, day);
        let next = self.next_week();
        let (said, count) = match (first, second) {
            ("today" | "tonight", _) => (one(self.today), 1),
            ("tomorrow" | "tmrw" | "tmr" | "tomorow", _) => (one(self.today + Days::new(1)), 1),
            ("day", "after") if word(small + 2).starts_with("tom") => {
                (one(self.today + Days::new(2)), 3)
            }
            ("next", "week") => (Said::Days(next, next + Days::new(6)), 2),
            ("next", day) if weekday(day).is_some() => (Said::Weekday(weekday(day)?), 2),
            ("week", _) if small > 0 => (Said::Days(self.today, next - Days::new(1)), 1),
            ("rest" | "all" | "whole", _)
                if words.iter().skip(small).take(4).any(|word| word == "week") =>
            {
                let at = words.iter().position(|word| word == "week")?;
                (Said::Days(self.today, next - Days::new(1)), at + 1 - small)
            }
            ("weekend", _) => {
                let days = (6 + 7 - self.today.weekday().num_days_from_sunday()) % 7;
                let saturday = self.today + Days::new(u64::from(days));
                (Said::Days(saturday, saturday + Days::new(1)), 1)
            }
            // `until the sun is out`.
            (day, _) if weekday(day).is_some() && (small == 0 || word(small - 1) != "the") => {
                (Said::Weekday(weekday(day)?), 1)
            }
            _ => Self::date(words.get(small..)?)?,
        };
        Some((said, small + count))
    }

    /// `16th`, `16 nov`, `nov 16`, `16 of nov`, `16.11`, `16/11`, `2026-11-16`, and the 9 of `9-15 nov`.
    fn date(words: &[String]) -> Option<(Said, usize)> {
        let word = |at: usize| words.get(at).map_or("", String::as_str);
        let (first, second) = (word(0), word(1));
        if let Ok(date) = first.parse::<NaiveDate>() {
            return Some((Said::Days(date, date), 1));
        }
        if let Some((day, rest)) = first.split_once(['/', '.']) {
            let month = rest.split(['/', '.']).next()?;
            let (day, month): (u32, u32) = (day.parse().ok()?, month.parse().ok()?);
            let sound = (1..=31).contains(&day) && (1..=12).contains(&month);
            return sound.then_some((Said::Date(day, Some(month)), 1));
        }
        // The number, and whether it says that it is of a day.
        let number = |word: &str| -> Option<(u32, bool)> {
            let digits = word.trim_end_matches(char::is_alphabetic);
            let end = word.get(digits.len()..)?;
            let sound = ["", "st", "nd", "rd", "th"].contains(&end);
            let day = digits.parse().ok()?;
            (sound && (1..=31).contains(&day)).then_some((day, !end.is_empty()))
        };
        let month = |word: &str| -> Option<u32> {
            let month: chrono::Month = word.parse().ok()?;
            Some(month.number_from_month())
        };
        if let Some(named) = month(first) {
            return Some((Said::Date(number(second)?.0, Some(named)), 2));
        }
        let (day, ordinal) = number(first)?;
        let of = usize::from(second == "of");
        if let Some(named) = month(word(1 + of)) {
            return Some((Said::Date(day, Some(named)), 2 + of));
        }
        let goes_on =
            ["-", "to", "until", "till"].contains(&second) && Self::date(words.get(2..)?).is_some();
        (ordinal || goes_on).then_some((Said::Date(day, None), 1))
    }

    /// The first days so called from a day on.
    fn from(&self, said: Said, from: NaiveDate) -> Option<Span> {
        let is = |date: &NaiveDate| match said {
            Said::Weekday(day) => date.weekday() == day,
            Said::Date(day, month) => {
                date.day() == day && month.is_none_or(|month| date.month() == month)
            }
            Said::Days(..) => false,
        };
        if let Said::Days(first, last) = said {
            return Some((first, last));
        }
        let far = usize::try_from(LONGEST).unwrap_or_default() * 2;
        let day = from.iter_days().take(far).find(is)?;
        Some((day, day))
    }

    /// The days that a text names, and whether it says when they begin.
    fn span(&self, words: &[String]) -> Option<(Span, bool)> {
        let (mut starts, mut ends, mut back, mut lasts): (
            Vec<Said>,
            Option<Said>,
            Option<Said>,
            Option<u64>,
        ) = (Vec::new(), None, None, None);
        let mut at = 0;
        while at < words.len() {
            let rest = |from: usize| words.get(from..).unwrap_or_default();
            let word = words[at].as_str();
            // Small words between `back` and its day: `back in training on monday`.
            let gap = rest(at + 1)
                .iter()
                .take(3)
                .take_while(|word| {
                    ["in", "at", "training", "gym", "again", "the", "you"].contains(&word.as_str())
                })
                .count();
            let behind = (0..=gap)
                .rev()
                .find_map(|gap| Some((gap, self.day(rest(at + 1 + gap))?)));
            let day = self.day(rest(at + 1));
            match (word, day, behind) {
                (
                    "until" | "till" | "til" | "to" | "through" | "thru" | "-",
                    Some((said, count)),
                    _,
                ) => {
                    ends = Some(said);
                    at += 1 + count;
                }
                ("back" | "return" | "returning" | "see", _, Some((gap, (said, count)))) => {
                    back = Some(said);
                    at += 1 + gap + count;
                }
                ("for" | "in", ..) if count_of_days(rest(at + 1)).is_some() => {
                    let (days, count) = count_of_days(rest(at + 1))?;
                    let returns = at
                        .checked_sub(1)
                        .is_some_and(|before| words[before] == "back");
                    match word {
                        "for" => lasts = Some(days),
                        _ if returns => lasts = Some(days),
                        _ => {}
                    }
                    at += 1 + count;
                }
                ("since", Some((_, count)), _) => at += 1 + count,
                _ => match self.day(rest(at)) {
                    Some((said, count)) => {
                        starts.push(said);
                        at += count;
                    }
                    None => at += 1,
                },
            }
        }
        // `9-15 nov`: the month that is said last is that of both.
        if let (Some(Said::Date(first, month)), Some(Said::Date(last, of))) =
            (starts.first_mut(), ends)
            && month.is_none()
            && *first <= last
        {
            *month = of;
        }
        let first = match starts.first() {
            Some(said) => Some(self.from(*said, self.today)?),
            None => None,
        };
        let begin = first.map_or(self.today, |(first, _)| first);
        let before = |said: Said| Some(self.from(said, begin + Days::new(1))?.0 - Days::new(1));
        let last = match (ends, back, lasts) {
            // `until friday`; `till next week` is the day before it.
            (Some(Said::Days(first, last)), ..) if first < last => first - Days::new(1),
            (Some(said), ..) => {
                self.from(
                    said,
                    begin
                        + Days::new(u64::from(
                            first.is_some() || !matches!(said, Said::Days(..)),
                        )),
                )?
                .1
            }
            (None, Some(said), _) => before(said)?,
            (None, None, Some(days)) => begin + Days::new(days.max(1) - 1),
            (None, None, None) => {
                let mut last = first?.1;
                for said in starts.iter().skip(1) {
                    last = last.max(self.from(*said, begin)?.1);
                }
                last
            }
        };
        Some(((begin, last), first.is_some()))
    }
}

/// `2 weeks`, `a few days`, `the week`: so many days, in so many words.
fn count_of_days(words: &[String]) -> Option<(u64, usize)> {
    let number = match words.first()?.as_str() {
        "a" | "one" | "the" | "another" => 1,
        "two" => 2,
        "three" => 3,
        word => word.parse().ok().filter(|count| *count < LONGEST)?,
    };
    let (number, at) = match words.get(1)?.as_str() {
        "few" => (3, 2),
        "couple" => (2, 2),
        _ => (number, 1),
    };
    let skip = usize::from(words.get(at).is_some_and(|word| word == "of"));
    let days = match words.get(at + skip)?.as_str() {
        "day" | "days" => number,
        "week" | "weeks" => 7 * number,
        "month" | "months" => 30 * number,
        _ => return None,
    };
    Some((days, at + skip + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_away_are_heard_and_talk_is_not() {
        // A Tuesday.
        let today = NaiveDate::from_ymd_opt(2026, 11, 3).unwrap();
        let day = |day| NaiveDate::from_ymd_opt(2026, 11, day).unwrap();
        for (text, from, until) in [
            ("away next week, back on the 16th", 9, 15),
            ("sick this week, flu", 3, 8),
            ("on holiday next week, no training", 9, 15),
            ("i'm away until friday", 3, 6),
            ("out of town for 2 weeks", 3, 16),
            ("on vacation till 20 nov", 3, 20),
            // A start is kept.
            ("away from wed to sunday, holiday", 4, 8),
            ("I'm off thursday till sunday", 5, 8),
            ("gone from friday to monday", 6, 9),
            ("away wed-fri for work", 4, 6),
            ("travelling from wednesday until friday", 4, 6),
            ("i'll be on a trip from saturday to the 18th", 7, 18),
            ("hi coach, from thursday i'm away for 3 days", 5, 7),
            // Ill today is today, until the day before the return.
            ("sick today, flu. back next week", 3, 8),
            ("sick today, back tomorrow", 3, 3),
            ("got a cold, not training today", 3, 3),
            ("flu since last night, skipping today", 3, 3),
            ("sick today and tomorrow", 3, 4),
            ("under the weather today so no session", 3, 3),
            ("ill today, see you thursday", 3, 4),
            ("away, back monday", 3, 8),
            ("sick, back on thursday", 3, 4),
            ("out until friday, back saturday", 3, 6),
            ("gone till next week", 3, 8),
            ("on a course, back on the 12th", 3, 11),
            ("back on wednesday", 3, 3),
            // Dates.
            ("on holiday 9-15 Nov", 9, 15),
            ("away 10 Nov to 14 Nov", 10, 14),
            ("holiday from the 9th to the 15th", 9, 15),
            ("away nov 10 - nov 14", 10, 14),
            ("vacation 10/11 - 14/11", 10, 14),
            ("gone 12.11. until 16.11.", 12, 16),
            ("away 2026-11-10 to 2026-11-12", 10, 12),
            // One day on which somebody does not come.
            ("I can't make it on thursday", 5, 5),
            ("won't make thursday", 5, 5),
            ("can't train on friday", 6, 6),
            ("no gym for me wednesday", 4, 4),
            ("I have to miss friday's session", 6, 6),
            ("not coming tomorrow", 4, 4),
            ("i won't be in on thursday", 5, 5),
            ("taking thursday off", 5, 5),
            ("can't come tomorrow, work", 4, 4),
            ("in bed with flu, not training this week", 3, 8),
            ("gonna miss wednesday", 4, 4),
            ("I'm away sat and sun", 7, 8),
            ("holiday next week!", 9, 15),
            ("my away until monday", 3, 9),
        ] {
            let heard = absence(text, today, Weekday::Mon);
            let Some(Absence::Away(span, _)) = heard else {
                panic!("{text}: {heard:?}");
            };
            assert_eq!(span, (day(from), day(until)), "{text}");
        }
        for text in [
            "i'm back",
            "back from holiday",
            "I am back today",
            "i am back from my trip",
            "back in training",
            "i am training again",
        ] {
            assert_eq!(
                absence(text, today, Weekday::Mon),
                Some(Absence::Back),
                "{text}"
            );
        }
        for text in [
            "put the bar away until friday",
            "sick pump this week",
            "anyone away next week?",
            "back on the bike friday",
            "the gym is closed until thursday",
            "my brother is away until friday",
            "off to a good start this week",
            "out of chalk until monday",
            "if I'm away on friday tell ben",
            "no squats until friday",
            "can't squat on friday",
            "we train friday",
            "gone up 5 kg since monday",
            "cold in here today",
            "back is sore today",
            "that was sick today",
            "not training legs on friday",
            "took 10 off on friday",
            "see you friday",
            "can't wait for friday",
            "was away until yesterday",
            "gone from 40 to 45 this week",
            "my off my game this week",
            "mortgage rate's up again, 5.1, so no holidays til the sun goes out",
            "i can't lift it off the hob today",
            "away from 4 to 6",
            "i am sick in the head, it starts at 4 in morning",
            "back to 80 kg",
        ] {
            assert_eq!(absence(text, today, Weekday::Mon), None, "{text}");
        }
    }
}
