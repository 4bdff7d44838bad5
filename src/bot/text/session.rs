//! Sentences on today's session: what is planned and done, what comes next, the way up to a load.

use chrono::{NaiveDate, Weekday};

use super::plan::block_week;
use super::{count_of, day, effort, load};
use crate::bot::state::prescription::Prescription;
use crate::domain::advice::session::{Progress, Session};
use crate::domain::advice::warm_up::Step;
use crate::domain::coaching::plan::{Amount, DayName, Item};
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::plan::{day_word, span, time};

/// How long ago the last set of a session was, or, of `all`, its first.
pub fn since(all: bool, name: &str, minutes: i64) -> String {
    let time = match minutes {
        ..=0 => "less than a minute".to_owned(),
        1 => "1 minute".to_owned(),
        minutes => format!("{minutes} minutes"),
    };
    match all {
        true => format!("You posted your first set {time} ago: {name}."),
        false => format!("Your last set was {time} ago: {name}."),
    }
}

/// Said when there is no exercise to warm up for.
pub const WARM_UP_FOR_WHAT: &str =
    "Which exercise do you warm up for? Write it like `/warmup squat`.";

/// How an item is shown to a lifter on a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// The effort of that week.
    pub rir: Rir,
    /// The planned load, as it comes to for this lifter; `None` where none is planned, or a share of
    /// what is not known yet.
    pub load: Option<Load>,
}

/// `8–12 reps`, `30–45 s`, `10, 7, 5, 3 reps`, `as many reps as you can`.
pub fn amount(amount: &Amount) -> String {
    let range = |low: u32, high: u32| match low == high {
        true => low.to_string(),
        false => format!("{low}–{high}"),
    };
    match amount {
        Amount::Reps(reps) if reps.low() == reps.high() => super::reps(reps.low()),
        Amount::Reps(reps) => format!("{} reps", range(reps.low(), reps.high())),
        Amount::BySet(reps) => {
            let reps: Vec<_> = reps.iter().map(u32::to_string).collect();
            format!("{} reps", reps.join(", "))
        }
        Amount::Time(time) => format!("{} s", range(time.low(), time.high())),
        Amount::Max => "as many reps as you can".to_owned(),
    }
}

/// `8–12 reps, 2 left, 80 kg`, with sides, rest and the coach's words where there are any. A share
/// is told beside the load that it comes to.
pub fn item(item: &Item, shown: Shown, catalogue: &Catalogue) -> String {
    let mut text = amount(&item.amount);
    if item.per_side {
        text.push_str(" each side");
    }
    // Time is not ended by reps left, and as many as possible are to failure anyway.
    // A share of what can be lifted says itself how hard it is.
    let said = matches!(item.amount, Amount::Time(_) | Amount::Max)
        || item.load.is_some_and(|load| load.fixed().is_none());
    if !said || item.rir.is_some() {
        text.push_str(&format!(", {}", effort(shown.rir)));
    }
    let share = item.load.filter(|load| load.fixed().is_none());
    let share = share.map(|load| crate::message::forms::plan::load_words(load, item, catalogue));
    match (shown.load, share) {
        (Some(planned), Some(share)) => {
            text.push_str(&format!(", {} ({share})", load(planned)));
        }
        (Some(planned), None) => text.push_str(&format!(", {}", load(planned))),
        (None, Some(share)) => text.push_str(&format!(", {share}")),
        (None, None) => {}
    }
    if let Some(rest) = item.rest {
        text.push_str(&format!(", rest {}", time(rest)));
    }
    for &other in &item.or {
        text.push_str(&format!(", or {}", catalogue.exercise(other).name));
    }
    if let Some(note) = &item.note {
        text.push_str(&format!(" ({})", note.words()));
    }
    text
}

/// Today's session: an exercise a line with the sets done of those planned, a tick before what is
/// done and an arrow before the next; of what is `held` back after pain that alone.
pub fn session(
    title: &str,
    session: &Session,
    next: Option<&Progress>,
    shown: impl Fn(&Item) -> Shown,
    held: impl Fn(ExerciseId) -> bool,
    catalogue: &Catalogue,
) -> String {
    let mut lines = Vec::new();
    for slot in session.slots() {
        for (place, one) in slot.iter().enumerate() {
            let mark = if one.left() == 0 {
                "✓"
            } else if next.is_some_and(|next| std::ptr::eq(next, one)) {
                "→"
            } else {
                "·"
            };
            let with = if place > 0 { "with " } else { "" };
            let name = format!("{with}{}", catalogue.exercise(one.item.exercise).name);
            let what = match held(one.item.exercise) {
                true => super::hurt::HELD_BACK.to_owned(),
                false => item(&one.item, shown(&one.item), catalogue),
            };
            // A lighter week has no choice of how many.
            let most = one.item.sets.most();
            let planned = match one.planned == one.item.sets.count() {
                true => span(one.planned, most),
                false => one.planned.to_string(),
            };
            lines.push(format!("{mark} {name}, {} of {planned}: {what}", one.done));
        }
    }
    let done: u32 = session.slots().iter().flatten().map(|one| one.done).sum();
    let left: u32 = session.slots().iter().flatten().map(Progress::left).sum();
    let count = match left {
        0 => "all sets done".to_owned(),
        1 => format!("{done} done, 1 set left"),
        left => format!("{done} done, {left} sets left"),
    };
    format!("{title}. {}:\n{}", super::capital(&count), lines.join("\n"))
}

/// The title of a session: `Monday 23 November, week 2 of 4 of the block (4 left)`.
pub fn session_title(on: NaiveDate, planned: DayName, held: &Prescription) -> String {
    let mut title = day(on);
    match planned {
        DayName::Weekday(weekday) if weekday == chrono::Datelike::weekday(&on) => {}
        DayName::Weekday(weekday) => {
            title.push_str(&format!(", the session of {}", weekday_name(weekday)));
        }
        DayName::Number(number) => title.push_str(&format!(", day {number} of your plan")),
    }
    if let Some(running) = &held.block {
        title.push_str(&format!(
            "; week {} of {} of the block: {}",
            running.place + 1,
            running.block.weeks().len(),
            block_week(running.week())
        ));
    }
    title
}

pub(super) const fn weekday_name(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Mon => "Monday",
        Weekday::Tue => "Tuesday",
        Weekday::Wed => "Wednesday",
        Weekday::Thu => "Thursday",
        Weekday::Fri => "Friday",
        Weekday::Sat => "Saturday",
        Weekday::Sun => "Sunday",
    }
}

/// A day without a session, and the next that has one.
pub fn rest_day(on: Weekday, next: Option<(DayName, &[&str])>) -> String {
    let nothing = format!("Nothing is planned for {}.", weekday_name(on));
    match next {
        Some((DayName::Number(number), names)) => format!(
            "{nothing} Next is day {number}: {}. Post a set of it to begin.",
            names.join(", ")
        ),
        Some((DayName::Weekday(day), names)) => format!(
            "{nothing} Next is {}: {}. `/today {}` shows it. To do it now, post a set of it.",
            weekday_name(day),
            names.join(", "),
            day_word(day)
        ),
        None => nothing,
    }
}

/// `Next: lying leg curl, 3 sets of 10–15 reps, 1 left`.
pub fn next_up(one: &Progress, rir: Rir, turn: bool, catalogue: &Catalogue) -> String {
    let name = &catalogue.exercise(one.item.exercise).name;
    let planned = Item {
        load: one.item.load.filter(|load| load.fixed().is_none()),
        or: Vec::new(),
        ..one.item.clone()
    };
    let what = item(&planned, Shown { rir, load: None }, catalogue);
    if turn {
        return format!(
            "Now {name}, set {} of {}: {what}.",
            one.done + 1,
            one.planned
        );
    }
    let sets = count_of(one.left(), "set");
    format!("Next: {name}, {sets} of {what}.")
}

/// Said when the last set of the session is done.
pub const SESSION_DONE: &str = "You have done all that is planned for today.";

/// Warm-up sets in a row: `Warm up: 20 × 8 · 40 × 8 · 55 kg × 4.`; `None` where there are none.
pub fn ladder(steps: &[Step]) -> Option<String> {
    let last = steps.len().checked_sub(1)?;
    let shown: Vec<_> = steps
        .iter()
        .enumerate()
        .map(|(place, step)| {
            // The unit once, at the end; what is no bare number is told in full.
            let bare = crate::domain::quantities::catalogue::Basis::Total == step.load.basis
                && place < last;
            let what = if bare {
                step.load.mass.plain(step.load.unit)
            } else {
                load(step.load)
            };
            format!("{what} × {}", step.reps)
        })
        .collect();
    Some(format!("Warm up: {}.", shown.join(" · ")))
}

/// Said where no load was named.
pub const NO_LOAD: &str = "That is no load. Ask like `what plates for 80?`.";

/// Said where the discs do not make a load.
pub fn cannot_make(what: Load) -> String {
    format!(
        "Your bar and plates do not make {}. `/equipment` shows what you can load.",
        load(what)
    )
}

/// `Each side for 82.5 kg: 25 + 5 + 1.25.`; the empty bar has none.
pub fn each_side(what: Load, discs: &[Mass], unit: Unit) -> String {
    if discs.is_empty() {
        return format!("{} is the empty bar.", load(what));
    }
    format!("Each side for {}: {}.", load(what), plates(discs, unit))
}

/// `2 × 20 + 5 + 2.5`, the heaviest first.
fn plates(discs: &[Mass], unit: Unit) -> String {
    let alike = discs.chunk_by(|a, b| a == b).map(|alike| {
        let disc = alike
            .first()
            .map_or_else(String::new, |disc| disc.plain(unit));
        match alike.len() {
            1 => disc,
            count => format!("{count} × {disc}"),
        }
    });
    alike.collect::<Vec<_>>().join(" + ")
}

/// Warm-up sets as a list, then the work load, with what `discs` tells for each side in `unit`.
pub fn ladder_list(
    name: &str,
    steps: &[Step],
    work: Load,
    discs: impl Fn(Load) -> Option<Vec<Mass>>,
    unit: Unit,
) -> String {
    let row = |what: Load, reps: String| {
        let side = match discs(what).as_deref() {
            None => String::new(),
            Some([]) => ", the empty bar".to_owned(),
            Some(discs) => format!(", each side {}", plates(discs, unit)),
        };
        format!(" - {}{reps}{side}", load(what))
    };
    let steps = steps
        .iter()
        .map(|step| row(step.load, format!(" × {}", step.reps)));
    let rows: Vec<_> = steps
        .chain([row(work, ", your work load".to_owned())])
        .collect();
    format!("Warm up for {name}:\n{}", rows.join("\n"))
}

/// Nothing lighter to warm up with.
pub fn no_ladder(name: &str, what: Load) -> String {
    format!(
        "{name}, {}: there is nothing lighter to warm up with. Do a few easy reps of the same movement.",
        load(what)
    )
}

/// Said once to a beginner whose set is no straight set.
pub const STRAIGHT_SETS_FIRST: &str = "This one is logged. In your first years straight sets are \
nearly always enough: the same load each set, with a full rest between.";
