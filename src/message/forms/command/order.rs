//! Orders of coaches for members: for whom, from which week, and what: plans, blocks, targets.
//!
//! ```text
//! /plan Ines                        show
//! /plan Ines from 2026-12-07 …      what follows, from that week on
//! /plan Tomas next week like Ines   the same as another member has
//! /plan team none                   nothing for everybody
//! /plan Ines add …                  what follows, beside what stands
//! /plan template base …             a plan kept under a name; `like base` gives it to members
//! ```

use chrono::{NaiveDate, Weekday};

use crate::message::forms::plan::{edit, weekday};
use crate::message::words::variants::List;

/// An order for plans, blocks or targets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// For whom.
    pub whom: Whom,
    /// From which week on.
    pub week: WeekSaid,
    /// What is to be done.
    pub action: Action,
}

/// Whom an order is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whom {
    /// Whoever gives it.
    Own,
    /// A member, as typed; or several.
    Member(String),
    /// Somebody who has not posted yet, as typed.
    New(String),
    /// Everybody in the team who is no coach.
    Team,
    /// Those whom the text names, part by part.
    Named,
    /// Nobody: the plan kept under this name; without a name, all that are kept.
    Template(String),
}

/// Which week was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeekSaid {
    /// The one that is on.
    This,
    /// The next.
    Next,
    /// The one of this day.
    Of(NaiveDate),
    /// The one of this day of the week, the next to come.
    From(Weekday),
    /// The one of this day of a month, `(11, 16)`, of this year or the next.
    On(u32, u32),
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Show it.
    Show,
    /// Set it as the text says.
    Write(String),
    /// Change what stands as the text says.
    Change(How, String),
    /// Set it as this member has it, or as it is kept under this name.
    Like(String),
    /// Take it away.
    Drop,
}

/// How a text changes what stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Its exercises are put beside what stands; where one stands already on that day, it is asked about.
    Add,
    /// They are put beside what stands.
    Beside,
    /// They take the place of the same exercises.
    Instead,
    /// It is a sentence on one exercise.
    Edit,
}

/// Reads `NAME [WEEK] [like OTHER | none | TEXT]`; `split` tells where on the first line the text
/// begins. `None` when the parts do not go together.
pub(super) fn read(rest: &str, split: fn(&str) -> usize) -> Option<Order> {
    let (first, below) = rest.split_once('\n').unwrap_or((rest, ""));
    let (head, inline) = first.split_at_checked(split(first))?;
    let (inline, adds) = added(inline.trim());
    let text = match (inline.as_str(), below.trim_end()) {
        ("", below) => below.to_owned(),
        (inline, below) => format!("{inline}\n{below}"),
    };
    let head = head.trim().trim_end_matches(':').to_lowercase();
    let mut words: Vec<&str> = head.split_whitespace().collect();
    let mut week = take_week(&mut words);
    let none = words.last() == Some(&"none") && words.len() > 1;
    if none {
        words.pop();
    }
    if let Some(at) = words.windows(2).position(|pair| pair == ["same", "as"]) {
        words.splice(at..at + 2, ["like"]);
    }
    let like = words.iter().position(|&word| word == "like");
    let other = like.map(|at| words.split_off(at).split_off(1));
    // `/plan Tomas next week like Ines`.
    if week == WeekSaid::This {
        week = take_week(&mut words);
    }
    let written = !text.trim().is_empty();
    let verb = words.last().copied().filter(|_| words.len() > 1 && written);
    let verb = verb.filter(|word| ["add", "also", "instead"].contains(word));
    let add = adds || verb.is_some();
    if verb.is_some() {
        words.pop();
        // `/plan Ines next week add`.
        if week == WeekSaid::This {
            week = take_week(&mut words);
        }
    }
    let action = match (written, none, other) {
        (false, false, None) => Action::Show,
        (true, false, None) if add => match verb {
            Some("also") => Action::Change(How::Beside, text),
            Some("instead") => Action::Change(How::Instead, text),
            _ => Action::Change(How::Add, text),
        },
        (true, false, None) => Action::Write(text),
        (false, true, None) => Action::Drop,
        (false, false, Some(other)) if !other.is_empty() => Action::Like(name(&other)),
        _ => return None,
    };
    let whom = match words.as_slice() {
        [] if written => Whom::Named,
        [] => Whom::Own,
        [all] if ALL.has(all) => Whom::Team,
        [name @ .., "new"] if !name.is_empty() => Whom::New(self::name(name)),
        ["template" | "templates", name @ ..] => Whom::Template(self::name(name)),
        words => Whom::Member(name(words)),
    };
    let sound = match &whom {
        Whom::Own => action == Action::Show,
        Whom::Template(name) if name.is_empty() => action == Action::Show,
        _ => true,
    };
    sound.then_some(Order { whom, week, action })
}

/// `ana swap row for pulldown`, `ana add squat 1x10`, `ana mon squat 3x5`: what has no colon before its text.
pub(super) fn edited(rest: &str) -> Option<Order> {
    let (first, below) = rest.split_once('\n').unwrap_or((rest, ""));
    if first.contains(':') || !below.trim().is_empty() {
        return None;
    }
    let words: Vec<&str> = first.split_whitespace().collect();
    let lower: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let numbers = first.contains(|c: char| c.is_ascii_digit());
    let at = (1..words.len()).find(|at| {
        let word = lower[*at].as_str();
        let day = || weekday(word).is_some() && numbers && lower[at - 1] != "from";
        edit::begins(word) || word == "add" && numbers || day()
    })?;
    let text = words.get(at..).unwrap_or_default().join(" ");
    let action = match lower[at].as_str() {
        "add" => Action::Change(How::Add, words.get(at + 1..)?.join(" ")),
        word if weekday(word).is_some() => Action::Write(edit::days_in(&text)?.1),
        _ if words.len() > at + 1 => Action::Change(How::Edit, text),
        _ => return None,
    };
    let mut whom: Vec<&str> = lower[..at].iter().map(String::as_str).collect();
    let week = take_week(&mut whom);
    let whom = match whom.as_slice() {
        [all] if ALL.has(all) => Whom::Team,
        ["template" | "templates", ..] | [] => return None,
        words => Whom::Member(name(words)),
    };
    Some(Order { whom, week, action })
}

/// Whether a word stands for all members.
pub fn is_everybody(name: &str) -> bool {
    ALL.has(name)
}

/// Words for all members.
static ALL: List = List::of("team, everyone, everybody, all, group, crew, squad");

/// Text behind a plus is put beside what stands: `fri: + calf raise 3x15`.
fn added(inline: &str) -> (String, bool) {
    match inline.split_once(':') {
        Some((day, rest)) if rest.trim_start().starts_with('+') => {
            let rest = rest.trim_start().trim_start_matches('+');
            (format!("{day}:{rest}"), true)
        }
        _ => (inline.to_owned(), false),
    }
}

fn name(words: &[&str]) -> String {
    words.join(" ").trim_start_matches('@').to_owned()
}

/// Takes `next week`, `this week` or `from 2026-12-07` off the end.
fn take_week(words: &mut Vec<&str>) -> WeekSaid {
    let week = match words.as_slice() {
        [.., "next", "week"] => WeekSaid::Next,
        [.., "this", "week"] => WeekSaid::This,
        [.., "from", date] => match (date.parse(), weekday(date)) {
            (Ok(date), _) => WeekSaid::Of(date),
            (_, Some(day)) => WeekSaid::From(day),
            _ => return WeekSaid::This,
        },
        [.., "from", day, month] => match month_day(day, month).or_else(|| month_day(month, day)) {
            Some((month, day)) => {
                words.truncate(words.len() - 3);
                return WeekSaid::On(month, day);
            }
            None => return WeekSaid::This,
        },
        _ => return WeekSaid::This,
    };
    words.truncate(words.len() - 2);
    week
}

/// `16`, `nov`: a month and its day.
fn month_day(day: &str, month: &str) -> Option<(u32, u32)> {
    let month: chrono::Month = month.parse().ok()?;
    let day: u32 = day
        .trim_end_matches(['.', 's', 't', 'n', 'd', 'r', 'h'])
        .parse()
        .ok()?;
    (1..=31)
        .contains(&day)
        .then(|| (month.number_from_month(), day))
}

/// Where plan text begins: with the day before the first colon, be it a slip; or with `for NAME:`.
pub(super) fn plan_begins(line: &str) -> usize {
    let colon = line.find(':');
    // `/plan ann "winter base" mon: …`: the plan's name; behind a day it is the day's.
    let quote = line
        .find('"')
        .filter(|quote| colon.is_none_or(|colon| *quote < colon));
    if let Some(quote) = quote {
        let before = line.get(..quote).unwrap_or_default().trim_end();
        let day = before
            .rsplit(' ')
            .next()
            .is_some_and(|word| weekday(word).is_some());
        let numbered = before.rsplit_once(' ').is_some_and(|(head, number)| {
            number.parse::<u32>().is_ok() && head.to_lowercase().ends_with("day")
        });
        if !day && !numbered {
            return quote;
        }
    }
    let Some(colon) = colon else {
        return line.len();
    };
    let head = line.get(..colon).unwrap_or_default();
    let head = match quote {
        Some(quote) => head.get(..quote).unwrap_or_default(),
        None => head,
    };
    if head.trim_start().to_lowercase().starts_with("for ") {
        return 0;
    }
    let parts = |c: char| c.is_whitespace() || ",/&".contains(c);
    let mut begin = None;
    let mut end = head.trim_end().len();
    while end > 0 {
        let before = head.get(..end).unwrap_or_default().trim_end_matches(parts);
        let at = before.rfind(parts).map_or(0, |at| at + 1);
        let word = before.get(at..).unwrap_or_default();
        // `day 1: …`: the number stands at the colon, the word before it.
        let numbered = begin.is_none() && word.parse::<u32>().is_ok();
        let before_it = before.get(..at).unwrap_or_default().trim_end();
        if numbered && let Some(head) = before_it.to_lowercase().strip_suffix("day") {
            begin = Some(head.len());
            break;
        }
        let day = weekday(word).is_some() || (begin.is_some() && word == "and");
        if begin.is_none() {
            // The word at the colon is meant as a day, be it a slip; unless it is the only word, or
            // ends the line: then it is a name.
            let goes_on = line
                .get(colon + 1..)
                .is_some_and(|rest| !rest.trim().is_empty());
            begin = (day || (at > 0 && goes_on)).then_some(at);
        } else if day {
            begin = Some(at);
        }
        if !day {
            break;
        }
        end = at;
    }
    begin.unwrap_or(line.len())
}

/// Where block text begins: with the first week's number, effort or share.
pub(super) fn block_begins(line: &str) -> usize {
    let mut at = 0;
    for word in line.split_inclusive(char::is_whitespace) {
        let number = word.trim_start_matches(['+', '-', '−']);
        let starts = number.starts_with(|c: char| c.is_ascii_digit());
        let date = word.trim().parse::<NaiveDate>().is_ok();
        let said = matches!(word.trim(), "as" | "week" | "rir" | "rpe");
        let after_next = line.get(..at).is_some_and(|before| {
            let before = before.trim_end();
            before.ends_with("next") || before.ends_with("this")
        });
        if (starts && !date) || (said && !after_next) {
            return at;
        }
        at += word.len();
    }
    line.len()
}

/// Where the text of targets begins: behind a colon, else behind the first word of a line with a
/// number or `usual` in it, and the week said there.
pub(super) fn target_begins(line: &str) -> usize {
    if let Some(colon) = line.find(':') {
        return colon + 1;
    }
    let says = line.contains(|c: char| c.is_ascii_digit())
        || line
            .split_whitespace()
            .skip(1)
            .any(|word| word.eq_ignore_ascii_case("usual"));
    match line.find(char::is_whitespace) {
        Some(at) if says => behind_week(line, at),
        _ => line.len(),
    }
}

/// Behind `next week`, `this week` or `from 2026-12-07` at this place, where that is said.
fn behind_week(line: &str, at: usize) -> usize {
    let rest = line.get(at..).unwrap_or_default();
    // The first two words, with the space around them.
    let mut end = 0;
    for piece in rest
        .trim_start()
        .split_inclusive(char::is_whitespace)
        .take(2)
    {
        end += piece.len();
    }
    let end = rest.len() - rest.trim_start().len() + end;
    let said = rest.get(..end).unwrap_or_default().to_lowercase();
    let mut words: Vec<&str> = said.split_whitespace().collect();
    take_week(&mut words);
    match words.is_empty() {
        true => at + end,
        false => at,
    }
}
