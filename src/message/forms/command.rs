//! Slash words and their arguments.
//!
//! Reading a command cannot fail: what does not fit becomes [`Command::Unknown`] or
//! [`Command::Misused`], which carry what the answer needs. Who may give which command is decided
//! in [`crate::bot`].

mod examples;
mod order;

use chrono::{NaiveDate, Weekday};

use super::plan::weekday;
use crate::domain::quantities::mass::Unit;
use crate::message::words::unit::unit_of;
use crate::message::words::variants::List;

pub use examples::{EXAMPLES, examples};
pub use order::{Action, How, Order, WeekSaid, Whom, is_everybody};

/// A number with the unit written, if any; else the member's own is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The number, above zero.
    pub value: f64,
    /// The unit written.
    pub unit: Option<Unit>,
}

/// A slash word with its arguments.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// What next, for the exercise named or the one at hand; with the numbers behind it.
    Next {
        /// The exercise as typed.
        exercise: Option<String>,
        /// Show the numbers.
        why: bool,
    },
    /// Where bells ring, or, without a word, the rest now.
    Rest(Option<Bells>),
    /// The week of a member, or one's own.
    Week(Option<String>, Which),
    /// Sets per muscle this week, or for one muscle.
    Volume(Option<String>),
    /// How right the advice was; a coach may name a member.
    Accuracy(Option<String>),
    /// Take the last post back.
    Undo,
    /// Choose the unit; without one, show it.
    Units(Option<Unit>),
    /// Show or change what can be loaded.
    Rack(RackCommand),
    /// State the body's mass; without a number, show it.
    Bodyweight(Option<Amount>),
    /// State months of training; without a number, show them.
    Experience(Option<u32>),
    /// What there is, or how one command or word is used.
    Help(Option<String>),
    /// What was done of an exercise or on a day, as typed; without a word, in the last session.
    History(Option<String>),
    /// The bests of an exercise, as typed, or of all.
    Best(Option<String>),
    /// Coach: lift a hurt lock of a member, for one exercise or all.
    Clear {
        /// The member as typed.
        member: String,
        /// The exercise as typed.
        exercise: Option<String>,
    },
    /// Find an exercise, or (coach) add one.
    Catalogue(CatalogueCommand),
    /// The plan: one's own, or (coach) show and set those of members.
    Plan(Order),
    /// The block, likewise.
    Block(Order),
    /// Weekly sets for each muscle, likewise.
    Target(Order),
    /// Today's session as planned, or that of a day of the week.
    Today(Option<Weekday>),
    /// Which of today's sets fit into so many minutes; with exercises in turn or without, or as is
    /// usual for the member.
    Fit {
        /// As typed, whether it can be or not.
        minutes: u32,
        /// Exercises in turn.
        pairs: Option<bool>,
    },
    /// Warm-up sets for an exercise, or for the one at hand.
    WarmUp(Option<String>),
    /// Coach: members and muscles of a week as a table.
    Team(Which),
    /// Coach: who needs a person, and why.
    Attention(AttentionCommand),
    /// The last weeks of a member (coach), or one's own.
    Review {
        /// The member as typed; without one, one's own.
        member: Option<String>,
        /// How many weeks, the one that is on among them.
        weeks: u32,
    },
    /// Notes on a member.
    Note(NoteCommand),
    /// The week put before everybody: now, or what of it comes to the member.
    Digest(DigestCommand),
    /// What the session came to, or where such summaries come.
    Summary(SummaryCommand),
    /// Coach: show or change a setting of the team.
    Settings(Option<Setting>),
    /// Everything that is kept of whoever gives it, as files.
    Export,
    /// Erase everything that is kept of whoever gives it: the question, or, `true`, the answer to it.
    Forget(bool),
    /// Coach: take over a log that was kept elsewhere.
    Import {
        /// What is to be done with it.
        how: ImportHow,
        /// The log, see [`super::logbook`].
        text: String,
    },
    /// A known word whose arguments do not fit; carries the line that shows how it goes.
    Misused(&'static str),
    /// No such word; carries it, and the nearest known one.
    Unknown(String, Option<&'static str>),
}

/// Where a member's bells ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bells {
    /// In the channel.
    On,
    /// Nowhere.
    Off,
    /// In a direct message.
    Private,
}

/// What `/summary` does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SummaryCommand {
    /// Shows the last session's.
    Show,
    /// They come there from now on: `private`, `channel` or `off`.
    Send(&'static str),
}

impl SummaryCommand {
    /// To the member alone.
    pub const PRIVATE: &str = "private";
}

fn summary(rest: &str) -> Option<Command> {
    Some(Command::Summary(match rest.to_lowercase().as_str() {
        "" | "today" => SummaryCommand::Show,
        "private" | "on" => SummaryCommand::Send(SummaryCommand::PRIVATE),
        "channel" => SummaryCommand::Send("channel"),
        "off" => SummaryCommand::Send("off"),
        _ => return None,
    }))
}

/// What `/digest` does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DigestCommand {
    /// Coach: the digest as it would be now. Members: what they chose.
    Show,
    /// The member's own week comes each week in private, or not.
    Mine(bool),
    /// The member has a line in the team's digest, or not.
    Line(bool),
}

/// What `/attention` does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AttentionCommand {
    /// Lists who needs a person.
    Show(Which),
    /// The coach wants to hear of these kinds, or not.
    Hear(Vec<String>, bool),
    /// What is said of a member is dealt with.
    Dismiss(String),
}

/// What `/note` does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoteCommand {
    /// A member reads those shared with them.
    Own,
    /// A coach reads those on a member.
    Show(String),
    /// A coach keeps one.
    Keep {
        /// The member as typed.
        member: String,
        /// Whether the member may read it.
        shared: bool,
        /// What to note, as typed.
        text: String,
    },
    /// A coach deletes one by its number.
    Delete(String, u32),
}

/// What `/rack` does.
#[derive(Clone, Debug, PartialEq)]
pub enum RackCommand {
    /// Show it.
    Show,
    /// Back to the usual gym.
    Usual,
    /// The bar weighs this.
    Bar(Amount),
    /// The discs at hand, each with its pairs.
    Discs(Vec<(f64, u8)>, Option<Unit>),
    /// Dumbbells: lightest, step, heaviest.
    Dumbbells([f64; 3], Option<Unit>),
    /// Stacks: lightest, step, heaviest.
    Stack([f64; 3], Option<Unit>),
    /// Several of these at once.
    Several(Vec<Self>),
    /// The member is at this place from now on, and has this to load there; nothing more where it is
    /// empty.
    At(String, Vec<Self>),
}

/// What `/import` does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ImportHow {
    /// Says what would come of it.
    Check,
    /// Files it, unless a number in it is unlikely.
    File,
    /// Files it, also with unlikely numbers.
    FileUnlikely,
}

/// What `/catalogue` does.
#[derive(Clone, Debug, PartialEq)]
pub enum CatalogueCommand {
    /// Find exercises by a word.
    Find(String),
    /// List the names of members' own.
    Names,
    /// Say what a member's own name stands for.
    Map {
        /// The name, in lower case.
        name: String,
        /// Whose it is, where named, in lower case.
        of: Option<String>,
        /// The exercise, as typed.
        to: String,
    },
    /// Add one: name, then `key: value` parts.
    Add {
        /// The new name.
        name: String,
        /// Target muscle as typed.
        target: String,
        /// Helper muscles as typed.
        helpers: Vec<String>,
        /// An exercise it behaves like, as typed: equipment, basis and class are taken from it.
        like: String,
        /// Short names.
        aliases: Vec<String>,
    },
}

/// A setting of the team.
#[derive(Clone, Debug, PartialEq)]
pub enum Setting {
    /// IANA time zone, as typed.
    Zone(String),
    /// First day of the week.
    WeekStart(Weekday),
    /// Unit of members who chose none.
    Unit(Unit),
    /// No bell rings between these minutes of the day; `None`: they ring at all hours.
    Quiet(Option<(u16, u16)>),
    /// The digest comes on this day, at this minute of it.
    DigestAt(Weekday, u16),
    /// The digest comes in the channel where this is said.
    DigestHere,
    /// The digest comes, or does not.
    DigestOn(bool),
}

/// Which week is asked about.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Which {
    /// The one that is on.
    #[default]
    This,
    /// The one before it.
    Last,
    /// The one that this day is in.
    Of(NaiveDate),
}

/// What stands before `last week`, `this week` or a day (`2026-11-10`) at the end of a text, and
/// which week it is.
fn week_named(rest: &str) -> (&str, Which) {
    let (before, last) = rest.rsplit_once(char::is_whitespace).unwrap_or(("", rest));
    if let Ok(day) = last.parse::<NaiveDate>() {
        return (before.trim(), Which::Of(day));
    }
    let words = [("last week", Which::Last), ("this week", Which::This)];
    let lower = rest.to_ascii_lowercase();
    let found = words.into_iter().find(|(words, _)| {
        let before = lower.strip_suffix(words);
        before.is_some_and(|before| before.is_empty() || before.ends_with(' '))
    });
    match found {
        // Lower case of ASCII keeps its length.
        Some((words, which)) => (rest[..rest.len() - words.len()].trim(), which),
        None => (rest, Which::This),
    }
}

/// Every command word with the lines that show how it goes, members' first; what only coaches can do
/// stands behind `Coaches`.
pub const USAGE: &[(&str, &str)] = &[
    (
        "next",
        "/next [EXERCISE] [why]: the load and rest for your next set; `why` shows the numbers behind it",
    ),
    (
        "rest",
        "/rest [on|off|private]: how long you still rest; where the bell rings: here, not at all, or as a \
         direct message",
    ),
    ("today", "/today [DAY]: your planned session"),
    (
        "warmup",
        "/warmup [EXERCISE]: your warm-up sets, and the plates for each side",
    ),
    (
        "fit",
        "/fit MINUTES [pairs|straight]: which of today's sets fit into the minutes you have",
    ),
    (
        "week",
        "/week [last week | 2026-11-10]: your week, or the week of that day\n\
         Coaches: /week NAME [last week | 2026-11-10]: a member's week",
    ),
    ("volume", "/volume [MUSCLE]: your counted sets this week"),
    (
        "accuracy",
        "/accuracy: how right my predictions were\n\
         Coaches: /accuracy shows the team, /accuracy NAME a member's lifts",
    ),
    (
        "history",
        "/history [EXERCISE|DAY]: what you did of an exercise, or on a day",
    ),
    (
        "best",
        "/best [EXERCISE]: your heaviest sets, most reps, and estimated one-rep max",
    ),
    (
        "summary",
        "/summary [private|channel|off]: what your session came to; who sees it when a session ends",
    ),
    ("undo", "/undo: takes your last post back"),
    ("units", "/units kg|lb: your unit"),
    (
        "rack",
        "/rack: what you can load; /equipment is the same\n\
         /rack bar 20, plates 20x2 10 5 2.5 (in pairs), dumbbells 2-40 by 2, stack 5-100 by 5: changes it\n\
         /rack at hotel: keeps it apart for that place; /rack usual: the usual gym's equipment again",
    ),
    (
        "bodyweight",
        "/bodyweight 82 kg: your body mass, for lifts that move your body",
    ),
    (
        "experience",
        "/experience 3 years: how long you have trained",
    ),
    (
        "plan",
        "/plan: your plan\n\
         Coaches: /plan NAME shows a plan. With lines below it writes one: a day, a colon, then the \
         exercises.\n\
         Behind NAME may stand: next week, from 2026-12-07, add (more lines), like OTHER, none; \
         change squat to 4x5, swap row for pulldown, remove curls.\n\
         For several: /plan team, or `for NAME:` before each part. /plan template NAME keeps a plan.",
    ),
    (
        "block",
        "/block: your block\n\
         Coaches: /block NAME|team 2rir; 1rir; 4rir 50%: a week each, with its effort and its share of \
         the sets.\n\
         Behind NAME may stand: next week, from 2026-12-07, like OTHER, none.",
    ),
    (
        "target",
        "/target: your weekly sets\n\
         Coaches: /target NAME|team chest 10-14, quads 12: sets a week. Also: calves usual, like OTHER, \
         none.",
    ),
    (
        "catalogue",
        "/catalogue WORD: finds exercises
\
         /catalogue names: the names of your own; /catalogue map swing thing to barbell row: what one is
\
         Coaches: /catalogue add NAME like EXERCISE target MUSCLE [helpers MUSCLE, MUSCLE] [short WORD, \
         WORD]: adds one",
    ),
    (
        "digest",
        "/digest mine on|off: your own week, each week in private\n\
         /digest line on|off: your name and line in the team's digest, only if you agree\n\
         Coaches: /digest: the week so far, to you alone",
    ),
    (
        "review",
        "/review [8 weeks]: your last weeks\nCoaches: /review NAME [8 weeks]: a member's last weeks",
    ),
    (
        "team",
        "Coaches: /team [last week | 2026-11-10]: everybody's sets",
    ),
    (
        "attention",
        "Coaches: /attention [last week | 2026-11-10]: who needs you, why, and what you could do\n\
         /attention dismiss NAME: that is dealt with\n\
         /attention off stall, /attention on ramping: what you want to hear of",
    ),
    (
        "note",
        "/note: the notes that your coach shares with you\n\
         Coaches: /note NAME [private|shared] TEXT: keeps one, for coaches alone or for the member too\n\
         /note NAME: shows them; /note NAME delete 2: deletes one",
    ),
    (
        "clear",
        "Coaches: /clear NAME [NUMBER|PLACE|all]: lets a member have loads again after a report of pain; \
         /attention shows the numbers",
    ),
    (
        "settings",
        "Coaches: /settings: the team's settings. To change one: zone Europe/Berlin, week-start mon, unit \
         kg, quiet 22:00-07:00 or off, digest sun 18:00, here, on or off",
    ),
    (
        "import",
        "Coaches: /import, and below it a log kept elsewhere, as CSV. /import check only looks; /import \
         unlikely takes unlikely numbers too.",
    ),
    ("export", "/export: everything stored about you, as files"),
    (
        "forget",
        "/forget: erases everything stored about you; I ask before I do",
    ),
    (
        "help",
        "/help [COMMAND|WORD]: all commands, how one is used, or what a word means",
    ),
];

/// Reads a command; `None` when the text does not start with a slash and a letter.
pub fn read(text: &str) -> Option<Command> {
    let text = text.trim().strip_prefix('/')?;
    if !text.starts_with(|first: char| first.is_ascii_alphabetic()) {
        return None;
    }
    let (word, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    let word = match word.to_lowercase() {
        word if word == "equipment" => "rack".to_owned(),
        word => word,
    };
    let command = match word.as_str() {
        "next" => Some(next(rest)),
        "rest" => bells(rest),
        "digest" => digest(rest),
        "week" => {
            let (member, which) = week_named(rest);
            Some(Command::Week(some(member), which))
        }
        "volume" => Some(Command::Volume(some(rest))),
        "accuracy" => Some(Command::Accuracy(some(rest))),
        "plan" => ordered(true, rest, order::plan_begins, Command::Plan),
        "block" => ordered(false, rest, order::block_begins, Command::Block),
        "target" => ordered(false, rest, order::target_begins, Command::Target),
        "today" if rest.is_empty() => Some(Command::Today(None)),
        "today" => weekday(rest).map(|day| Command::Today(Some(day))),
        "fit" => fit(rest),
        "warmup" => Some(Command::WarmUp(some(rest))),
        "undo" => Some(Command::Undo),
        "team" => {
            let (rest, which) = week_named(rest);
            rest.is_empty().then_some(Command::Team(which))
        }
        "attention" => attention(rest),
        "review" => review(rest),
        "note" => note(rest),
        "units" => shown_or(rest, |rest| unit_of(&rest.to_lowercase()), Command::Units),
        "rack" => equipment(rest).map(Command::Rack),
        "bodyweight" => shown_or(rest, amount, Command::Bodyweight),
        "experience" => shown_or(rest, experience, Command::Experience),
        "export" => rest.is_empty().then_some(Command::Export),
        "forget" => match rest.to_lowercase().as_str() {
            "" => Some(Command::Forget(false)),
            FORGET_ALL => Some(Command::Forget(true)),
            _ => None,
        },
        "import" => import(rest),
        "help" => Some(Command::Help(some(rest))),
        "history" => Some(Command::History(some(rest))),
        "best" => Some(Command::Best(some(rest))),
        "summary" => summary(rest),
        "clear" => clear(rest),
        "catalogue" => catalogue(rest),
        "settings" => shown_or(rest, setting, Command::Settings),
        _ => return Some(unknown(word)),
    };
    Some(command.unwrap_or_else(|| misused(&word)))
}

/// The line that shows how a command goes.
fn misused(word: &str) -> Command {
    let usage = USAGE.iter().find(|(known, _)| *known == word);
    Command::Misused(usage.map_or("/help", |(_, line)| line))
}

/// A command that shows what stands when nothing follows it, and else sets what does.
fn shown_or<T>(
    rest: &str,
    read: impl FnOnce(&str) -> Option<T>,
    of: fn(Option<T>) -> Command,
) -> Option<Command> {
    match rest {
        "" => Some(of(None)),
        rest => read(rest).map(|said| of(Some(said))),
    }
}

fn ordered(
    is_plan: bool,
    rest: &str,
    split: fn(&str) -> usize,
    of: fn(Order) -> Command,
) -> Option<Command> {
    // Only plans are kept under a name, and changed in part.
    let of_plans = |order: &Order| {
        matches!(order.whom, Whom::Template(_)) || matches!(order.action, Action::Change(..))
    };
    let edited = is_plan.then(|| order::edited(rest)).flatten();
    let order = edited.or_else(|| order::read(rest, split));
    order.filter(|order| is_plan || !of_plans(order)).map(of)
}

/// `45`, `45 min`, `1 h`, then `pairs` or `straight`.
fn fit(rest: &str) -> Option<Command> {
    let rest = rest.to_lowercase();
    let digits = rest
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(rest.len());
    let (count, words) = rest.split_at_checked(digits)?;
    let count: u32 = count.parse().ok()?;
    let mut words: Vec<&str> = words.split_whitespace().collect();
    let pairs = match words.last() {
        Some(&"pairs") => Some(true),
        Some(&"straight") => Some(false),
        _ => None,
    };
    if pairs.is_some() {
        words.pop();
    }
    let minutes = match words.as_slice() {
        [] | ["m" | "min" | "mins" | "minute" | "minutes"] => count,
        ["h" | "hour" | "hours"] => count.checked_mul(60)?,
        _ => return None,
    };
    Some(Command::Fit { minutes, pairs })
}

/// The word that answers the question of `/forget`.
pub const FORGET_ALL: &str = "everything";

/// `check` or `unlikely` on the first line, the log below it; or the log at once.
fn import(rest: &str) -> Option<Command> {
    let (first, below) = rest.split_once('\n').unwrap_or((rest, ""));
    let (how, text) = match first.trim().to_lowercase().as_str() {
        "" => (ImportHow::File, below),
        "check" => (ImportHow::Check, below),
        "unlikely" => (ImportHow::FileUnlikely, below),
        _ => (ImportHow::File, rest),
    };
    (!text.trim().is_empty()).then(|| Command::Import {
        how,
        text: text.to_owned(),
    })
}

fn attention(rest: &str) -> Option<Command> {
    let (before, which) = week_named(rest);
    if before.is_empty() {
        return Some(Command::Attention(AttentionCommand::Show(which)));
    }
    let lower = rest.to_lowercase();
    let (word, words) = lower
        .split_once(char::is_whitespace)
        .unwrap_or((&lower, ""));
    let words = words.trim();
    let kinds = || {
        let words = words.split([',', ' ']).filter(|word| !word.is_empty());
        words.map(str::to_owned).collect::<Vec<_>>()
    };
    let command = match (word, on_off(word)) {
        ("dismiss", _) => AttentionCommand::Dismiss(words.to_owned()),
        (_, Some(on)) => AttentionCommand::Hear(kinds(), on),
        _ => return None,
    };
    (!words.is_empty()).then_some(Command::Attention(command))
}

/// Weeks of a review where none are named, and the fewest and most that can be.
const REVIEW_WEEKS: u32 = 6;
const FEWEST_WEEKS: u32 = 1;
const MOST_WEEKS: u32 = 26;

/// `ann`, `ann 8 weeks`, `8 weeks`.
fn review(rest: &str) -> Option<Command> {
    let words: Vec<&str> = rest.split_whitespace().collect();
    let (name, weeks) = match words.as_slice() {
        [name @ .., count, "weeks" | "week"] => (name, count.parse().ok()?),
        name => (name, REVIEW_WEEKS),
    };
    let can_be = (FEWEST_WEEKS..=MOST_WEEKS).contains(&weeks);
    can_be.then(|| Command::Review {
        member: some(&name.join(" ")),
        weeks,
    })
}

/// `ann`, `ann TEXT`, `ann shared TEXT`, `ann delete 2`.
fn note(rest: &str) -> Option<Command> {
    let (member, text) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    if member.is_empty() {
        return Some(Command::Note(NoteCommand::Own));
    }
    let (member, text) = (member.to_lowercase(), text.trim());
    if text.is_empty() {
        return Some(Command::Note(NoteCommand::Show(member)));
    }
    let (word, words) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let word = word.to_lowercase();
    let number = words.trim().trim_start_matches('#').parse();
    if let ("delete", Ok(number)) = (word.as_str(), number) {
        return Some(Command::Note(NoteCommand::Delete(member, number)));
    }
    let (shared, text) = match (word.trim_end_matches(':'), words.trim()) {
        ("private" | "shared" | "delete", "") => return None,
        ("private", words) => (false, words),
        ("shared", words) => (true, words),
        _ => (false, text),
    };
    Some(Command::Note(NoteCommand::Keep {
        member,
        shared,
        text: text.to_owned(),
    }))
}

fn some(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_lowercase())
}

fn next(rest: &str) -> Command {
    let rest = rest.to_lowercase();
    let (exercise, why) = match rest.strip_suffix("why") {
        Some(before) if before.is_empty() || before.ends_with(' ') => (before.trim(), true),
        _ => (rest.as_str(), false),
    };
    Command::Next {
        exercise: some(exercise),
        why,
    }
}

fn bells(rest: &str) -> Option<Command> {
    let bells = match rest.to_lowercase().as_str() {
        "" => None,
        "on" => Some(Bells::On),
        "off" => Some(Bells::Off),
        "private" => Some(Bells::Private),
        _ => return None,
    };
    Some(Command::Rest(bells))
}

fn digest(rest: &str) -> Option<Command> {
    let rest = rest.to_lowercase();
    let words: Vec<&str> = rest.split_whitespace().collect();
    let command = match words.as_slice() {
        [] => Some(DigestCommand::Show),
        ["mine", word] => on_off(word).map(DigestCommand::Mine),
        ["line", word] => on_off(word).map(DigestCommand::Line),
        _ => None,
    };
    command.map(Command::Digest)
}

fn on_off(word: &str) -> Option<bool> {
    match word {
        "on" => Some(true),
        "off" => Some(false),
        _ => None,
    }
}

/// A number with either decimal mark; positive and finite.
fn number(word: &str) -> Option<f64> {
    let value: f64 = word.replace(',', ".").parse().ok()?;
    (value.is_finite() && value > 0.0).then_some(value)
}

/// A number and the unit glued to it or standing behind it.
fn amount(text: &str) -> Option<Amount> {
    let text = text.trim();
    let split = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    let (digits, behind) = text.split_at(split);
    let behind = behind.trim();
    let unit = if behind.is_empty() {
        None
    } else {
        Some(unit_of(&behind.to_lowercase())?)
    };
    Some(Amount {
        value: number(digits)?,
        unit,
    })
}

/// A body mass that is told in words: `weighed in at 62.4 this morning`, `I weigh 62 now`.
#[must_use]
pub fn body_mass(text: &str) -> Option<Amount> {
    static TOLD: List = List::of(
        "i weigh, ?i weighed ?in ?at, my weight|bodyweight is, my body weight is, bodyweight is",
    );
    const LEAST_WITHOUT_A_UNIT: f64 = 35.0;
    let text = text.trim().trim_end_matches(['.', '!']).to_lowercase();
    let behind = |told: &String| text.strip_prefix(told.as_str())?.strip_prefix(' ');
    let told = TOLD.all().iter().find_map(behind);
    let named = || text.strip_prefix("bodyweight ");
    let rest = told.or_else(named)?;
    let rest = ["now", "today", "this morning", "tonight", "this week"]
        .iter()
        .find_map(|when| rest.strip_suffix(when))
        .unwrap_or(rest);
    // `bodyweight 15` is a set.
    amount(rest)
        .filter(|mass| mass.unit.is_some() || told.is_some() && mass.value >= LEAST_WITHOUT_A_UNIT)
}

/// `3 years`, `18 months`: months.
fn experience(rest: &str) -> Option<u32> {
    let mut words = rest.split_whitespace();
    let count = number(words.next()?)?;
    let months = match words.next()?.to_lowercase().as_str() {
        "y" | "year" | "years" => count * 12.0,
        "m" | "month" | "months" => count,
        _ => return None,
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded"
    )]
    (months <= 12.0 * 90.0).then_some(months.round() as u32)
}

/// `ann`, `ann squat`.
fn clear(rest: &str) -> Option<Command> {
    let (member, exercise) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    Some(Command::Clear {
        member: some(member)?,
        exercise: some(exercise.trim()),
    })
}

fn setting(rest: &str) -> Option<Setting> {
    let (key, value) = rest.split_once(char::is_whitespace)?;
    let value = value.trim();
    // `week starts sunday`
    let (key, value) = match (key, value.split_once(char::is_whitespace)) {
        ("week" | "Week", Some(("starts" | "start", day))) => {
            ("week-start", day.trim_start_matches("on ").trim())
        }
        _ => (key, value),
    };
    match key.to_lowercase().as_str() {
        "zone" | "timezone" | "time-zone" => Some(Setting::Zone(value.to_owned())),
        "week-start" => weekday(value).map(Setting::WeekStart),
        "unit" => unit_of(&value.to_lowercase()).map(Setting::Unit),
        "quiet" => quiet(&value.to_lowercase()),
        "digest" => digest_setting(&value.to_lowercase()),
        _ => None,
    }
}

/// `22:00-07:00`, `22-7`, `off`.
fn quiet(value: &str) -> Option<Setting> {
    if value == "off" {
        return Some(Setting::Quiet(None));
    }
    let (from, to) = value.split_once(['-', '–'])?;
    let (from, to) = (time_of_day(from)?, time_of_day(to)?);
    (from != to).then_some(Setting::Quiet(Some((from, to))))
}

/// `sun 18:00`, `here`, `on`, `off`.
fn digest_setting(value: &str) -> Option<Setting> {
    if value == "here" {
        return Some(Setting::DigestHere);
    }
    if let Some(on) = on_off(value) {
        return Some(Setting::DigestOn(on));
    }
    let (day, time) = value.split_once(char::is_whitespace)?;
    Some(Setting::DigestAt(weekday(day)?, time_of_day(time)?))
}

/// `18:00`, `18`, `7:30`, `8pm`: minutes of the day.
fn time_of_day(text: &str) -> Option<u16> {
    let text = text.trim();
    for (half, from) in [("am", 0), ("pm", 12 * 60)] {
        if let Some(text) = text.strip_suffix(half) {
            let minutes = time_of_day(text).filter(|minutes| (60..13 * 60).contains(minutes))?;
            return Some(minutes % (12 * 60) + from);
        }
    }
    let (hours, minutes) = text.split_once([':', '.']).unwrap_or((text, "00"));
    let digits = |part: &str, most: usize| {
        (1..=most).contains(&part.len()) && part.chars().all(|c| c.is_ascii_digit())
    };
    if !digits(hours, 2) || !digits(minutes, 2) || minutes.len() != 2 {
        return None;
    }
    let (hours, minutes): (u16, u16) = (hours.parse().ok()?, minutes.parse().ok()?);
    (hours < 24 && minutes < 60).then_some(hours * 60 + minutes)
}

/// `bar 45, plates 45 25 10 5 2.5, dumbbells 10-50 by 5`: one part, or several with commas.
fn equipment(rest: &str) -> Option<RackCommand> {
    if let Some(at) = rest.strip_prefix("at ") {
        return at_place(at);
    }
    let parts: Vec<&str> = rest.split([',', ';']).map(str::trim).collect();
    match parts.as_slice() {
        [one] => rack(one),
        several => {
            let read = several.iter().map(|part| rack(part));
            let read: Option<Vec<RackCommand>> = read.collect();
            read.filter(|read| !read.contains(&RackCommand::Show))
                .map(RackCommand::Several)
        }
    }
}

/// Longest name of a place, characters.
const LONGEST_PLACE: usize = 24;

/// `the hotel`, `hotel: dumbbells 2-20 by 2`.
fn at_place(text: &str) -> Option<RackCommand> {
    let (name, rest) = text.split_once([':', ',']).unwrap_or((text, ""));
    let name = place_name(name)?;
    let has = match (rest.trim(), equipment(rest.trim())) {
        ("", _) => Vec::new(),
        (_, Some(RackCommand::Several(parts))) => parts,
        (_, Some(RackCommand::At(..)) | None) => return None,
        (_, Some(one)) => vec![one],
    };
    Some(RackCommand::At(name, has))
}

/// A place as people name it, without `the` and `gym`: `the hotel gym` is `hotel`.
pub fn place_name(text: &str) -> Option<String> {
    let text = text.trim().to_lowercase();
    let words = text.split_whitespace();
    let words = words.filter(|word| !matches!(*word, "the" | "a" | "an" | "my" | "our"));
    let mut words: Vec<&str> = words.collect();
    if words.len() > 1 && words.last() == Some(&"gym") {
        words.pop();
    }
    let name = words.join(" ");
    let sound = name
        .chars()
        .all(|c| c.is_alphanumeric() || c == ' ' || c == '-');
    (sound && !name.is_empty() && name.chars().count() <= LONGEST_PLACE && words.len() <= 3)
        .then_some(name)
}

fn rack(rest: &str) -> Option<RackCommand> {
    if rest.is_empty() {
        return Some(RackCommand::Show);
    }
    let (part, rest) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
    match part.to_lowercase().as_str() {
        "usual" => Some(RackCommand::Usual),
        "bar" => amount(rest).map(RackCommand::Bar),
        "discs" | "plates" => discs(rest),
        "dumbbells" | "dumbbell" => {
            steps(rest).map(|(steps, unit)| RackCommand::Dumbbells(steps, unit))
        }
        "stack" | "stacks" | "machines" => {
            steps(rest).map(|(steps, unit)| RackCommand::Stack(steps, unit))
        }
        _ => None,
    }
}

/// `25x2 20 10 5 2.5 1.25 [kg]`: a disc, times the pairs of it.
fn discs(rest: &str) -> Option<RackCommand> {
    let mut discs = Vec::new();
    let mut named = None;
    for word in rest.split_whitespace() {
        if let Some(unit) = unit_of(&word.to_lowercase()) {
            named = Some(unit);
            continue;
        }
        let (disc, pairs) = word.split_once('x').unwrap_or((word, "1"));
        discs.push((
            number(disc)?,
            pairs.parse().ok().filter(|&pairs| pairs > 0)?,
        ));
    }
    (!discs.is_empty()).then_some(RackCommand::Discs(discs, named))
}

/// `2-40 step 2 [kg]`.
fn steps(rest: &str) -> Option<([f64; 3], Option<Unit>)> {
    let words: Vec<_> = rest.split_whitespace().collect();
    let (range, step, named) = match words.as_slice() {
        // `up to 25 in 2.5s`: from one step on.
        ["up", "to", last, "step" | "by" | "in", step] => {
            let step = number(step.trim_end_matches('s'))?;
            return Some(([step, step, number(last)?], None));
        }
        [range, "step" | "by", step] => (range, step, None),
        [range, "step" | "by", step, named] => (range, step, Some(unit_of(&named.to_lowercase())?)),
        _ => return None,
    };
    let (first, last) = range.split_once(['-', '–'])?;
    Some(([number(first)?, number(step)?, number(last)?], named))
}

/// `add NAME like EXERCISE target MUSCLE [helpers A, B] [short A, B]`, or a word to find.
fn catalogue(rest: &str) -> Option<Command> {
    let rest = rest.to_lowercase();
    if rest == "names" {
        return Some(Command::Catalogue(CatalogueCommand::Names));
    }
    if let Some(rest) = rest.strip_prefix("map ") {
        return map_name(rest);
    }
    let Some(rest) = rest.strip_prefix("add ") else {
        return some(&rest).map(|word| Command::Catalogue(CatalogueCommand::Find(word)));
    };
    let mut parts: [Vec<&str>; 5] = Default::default();
    let mut at = 0;
    for word in rest.split_whitespace() {
        match word {
            "like" => at = 1,
            "target" => at = 2,
            "helpers" => at = 3,
            "short" => at = 4,
            _ => parts[at].push(word),
        }
    }
    let [name, like, target, helpers, short] = parts.map(|words| words.join(" "));
    if name.is_empty() || like.is_empty() || target.is_empty() {
        return None;
    }
    let list = |text: String| {
        text.split(',')
            .map(str::trim)
            .filter(|part| !part.is_empty())
            .map(str::to_owned)
            .collect()
    };
    Some(Command::Catalogue(CatalogueCommand::Add {
        name,
        target,
        helpers: list(helpers),
        like,
        aliases: list(short),
    }))
}

/// `swing thing to kettlebell swing`, `ana's swing thing to kettlebell swing`.
fn map_name(rest: &str) -> Option<Command> {
    let (name, to) = rest.split_once(" to ")?;
    let (of, name) = match name.split_once("'s ") {
        Some((of, name)) => (Some(of.trim().to_owned()), name),
        None => (None, name),
    };
    let (name, to) = (name.trim(), to.trim());
    (!name.is_empty() && !to.is_empty()).then(|| {
        Command::Catalogue(CatalogueCommand::Map {
            name: name.to_owned(),
            of,
            to: to.to_owned(),
        })
    })
}

fn unknown(word: String) -> Command {
    let nearest = USAGE
        .iter()
        .map(|&(known, _)| (strsim::osa_distance(known, &word), known))
        .min()
        .filter(|&(distance, _)| distance <= 2)
        .map(|(_, known)| known);
    Command::Unknown(word, nearest)
}

#[cfg(test)]
mod tests;
