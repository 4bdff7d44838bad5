//! Sentences on plans, blocks, targets, today's session and the way up to its loads.

use chrono::{NaiveDate, Weekday};

use super::{band, day, load, plain, quoted, shown_name};
use crate::bot::prescription::{Prescription, Running};
use crate::domain::block::{BlockEffort, BlockError, BlockWeek};
use crate::domain::catalogue::Catalogue;
use crate::domain::effort::Rir;
use crate::domain::id::MuscleId;
use crate::domain::load::Load;
use crate::domain::mass::{Mass, Unit};
use crate::domain::plan::{Item, Plan, PlanError};
use crate::domain::session::{Progress, Session};
use crate::domain::warm_up::Step;
use crate::domain::week::{Band, FEWEST_REPS, Standing};
use crate::message::plan::{Fault, FaultKind, day_word};
use crate::message::{block, plan};

/// Said to a member without a plan.
pub const NO_PLAN: &str =
    "You have no plan for this week. Your coach writes it: `/plan NAME`, then a line a day.";

/// Said when an order is for a week that is over.
pub const WEEK_OVER: &str =
    "That week is over and keeps its plan. Name this week or a later one. Nothing was changed.";

/// Said when an order is for everybody and there is nobody.
pub const NOBODY_YET: &str =
    "Nobody but coaches has posted in this team yet, so there is nobody to set it for.";

/// Said to a plan for several that names nobody.
pub const NAME_THEM: &str = "Say for whom: `/plan NAME`, `/plan team`, or `for NAME:` before each \
part. Nothing was changed.";

/// Said when there is no exercise to warm up for.
pub const WARM_UP_FOR_WHAT: &str = "For which exercise? Like `/warmup squat`.";

/// Whom nobody can tell apart by this name.
#[must_use]
pub fn which_member(name: &str, authors: &[&str]) -> String {
    let authors: Vec<_> = authors.iter().map(|author| quoted(author)).collect();
    format!(
        "There are several {}: {}. Name one by that. Nothing was changed.",
        quoted(name),
        authors.join(", ")
    )
}

/// What does not fit in a text, a line each.
#[must_use]
pub fn faults(faults: &[Fault], catalogue: &Catalogue) -> String {
    let shown = faults.iter().take(MOST_FAULTS);
    let mut lines: Vec<_> = shown.map(|fault| self::fault(fault, catalogue)).collect();
    if faults.len() > MOST_FAULTS {
        lines.push(format!("and {} more", faults.len() - MOST_FAULTS));
    }
    lines.push("Nothing was changed.".to_owned());
    lines.join("\n")
}

/// Faults told at once.
const MOST_FAULTS: usize = 8;

fn fault(fault: &Fault, catalogue: &Catalogue) -> String {
    let what = what_is_wrong(&fault.kind, catalogue);
    if fault.words.is_empty() {
        return format!("Line {}: {what}", fault.line);
    }
    format!("Line {}, {}: {what}", fault.line, quoted(&fault.words))
}

fn what_is_wrong(kind: &FaultKind, catalogue: &Catalogue) -> String {
    match kind {
        FaultKind::NoDay => "which day? Begin with one, like `mon:`.".to_owned(),
        FaultKind::UnknownDay(nearest) => no_such(
            "day of the week",
            nearest.map(day_word),
            "`mon` to `sun` are",
        ),
        FaultKind::UnknownExercise(nearest) => {
            let names = nearest.iter().take(3);
            let names: Vec<_> = names
                .map(|&id| format!("`{}`", catalogue.exercise(id).name))
                .collect();
            match names.as_slice() {
                [] => "no such exercise. `/catalogue WORD` finds them.".to_owned(),
                names => format!("no such exercise. The nearest: {}.", names.join(", ")),
            }
        }
        FaultKind::NoSets => "how many sets and reps? Like `4x6-10`.".to_owned(),
        FaultKind::UnknownWord(nearest) => no_such("word here", *nearest, "`2rir` or `80kg` are"),
        FaultKind::BareNumber => "of what? `2rir` is an effort, `80kg` a load.".to_owned(),
        FaultKind::Effort => {
            "an effort is 0 to 10 left, in halves: `2rir`, `1.5rir`, `@8`.".to_owned()
        }
        FaultKind::Load => {
            "no load that this exercise can have: above 0, up to 1,000 kg; `+10kg`, `-15kg` and \
             `bw` are for lifts of the body."
                .to_owned()
        }
        FaultKind::Twice => "said twice; which one holds?".to_owned(),
        FaultKind::Crowd => "a pair is two exercises, no more.".to_owned(),
        FaultKind::Numbers(error) => numbers(*error),
        FaultKind::Nothing => {
            "there is no day in it. Begin like `mon: back squat 4x6-10`.".to_owned()
        }
        FaultKind::WeekNumber(due) => {
            format!("week {due} is next. Number them in order, or not at all.")
        }
        FaultKind::Share => "a share is a whole number of percent, like `60%`.".to_owned(),
        FaultKind::Block(error) => block_numbers(*error),
        FaultKind::UnknownMuscle(nearest) => {
            let name = nearest.map(|id| catalogue.muscle(id).name.as_str());
            no_such("muscle", name, "`chest`, `back`, `quads` are")
        }
        FaultKind::NoBand => "how many sets a week? Like `10-14`, or `usual`.".to_owned(),
        FaultKind::Band(_) => "weekly sets go from fewest to most, 60 at most: `10-14`.".to_owned(),
    }
}

fn no_such(what: &str, nearest: Option<&str>, else_known: &str) -> String {
    match nearest {
        Some(nearest) => format!("no {what}. Did you mean `{nearest}`?"),
        None => format!("no {what}; {else_known}."),
    }
}

fn numbers(error: PlanError) -> String {
    match error {
        PlanError::Sets(_) => "sets go from 1 to 20.".to_owned(),
        PlanError::Reps(..) => "reps go from fewest to most, 100 at most: `6-10`.".to_owned(),
        PlanError::Empty(_) => "no exercise on that day.".to_owned(),
        PlanError::Crowded(_) => "more than 30 exercises on one day.".to_owned(),
        PlanError::Twice(_) => "that day stands twice.".to_owned(),
    }
}

fn block_numbers(error: BlockError) -> String {
    match error {
        BlockError::Weeks(_) => {
            "a block has 1 to 52 weeks, like `3rir; 2rir; 4rir 60%`.".to_owned()
        }
        BlockError::Share(_) => "a share is 0 to 200 percent of the planned sets.".to_owned(),
        BlockError::Shift(_) => "a shift is 5 reps at most, like `+1rir`.".to_owned(),
    }
}

/// A member's plan: `Plan of Ines from Monday 23 November:` with the text.
#[must_use]
pub fn plan_of(name: &str, plan: &Plan, from: NaiveDate, catalogue: &Catalogue) -> String {
    format!(
        "Plan of {} from {}:\n{}",
        shown_name(name),
        day(from),
        text_of(plan, catalogue)
    )
}

/// One's own plan.
#[must_use]
pub fn own_plan(plan: &Plan, from: NaiveDate, catalogue: &Catalogue) -> String {
    format!(
        "Your plan from {}:\n{}",
        day(from),
        text_of(plan, catalogue)
    )
}

/// A plan as text in a block of its own.
#[must_use]
pub fn text_of(plan: &Plan, catalogue: &Catalogue) -> String {
    format!("```\n{}\n```", plan::print(plan, catalogue))
}

/// The sets of few repetitions in a plan, which do not count; `None` where there are none.
#[must_use]
pub fn uncounted(plan: &Plan, catalogue: &Catalogue) -> Option<String> {
    let heavy = plan.items().filter(|item| item.reps.high() < FEWEST_REPS);
    let mut names: Vec<_> = heavy
        .map(|item| catalogue.exercise(item.exercise).name.as_str())
        .collect();
    names.dedup();
    (!names.is_empty()).then(|| {
        format!(
            "Sets under five reps do not count toward the week: {}.",
            names.join(", ")
        )
    })
}

/// Muscles whose planned sets a week lie outside their bands, with both; `None` where all lie in.
#[must_use]
pub fn outside(sums: &[(MuscleId, f64, Band)], catalogue: &Catalogue) -> Option<String> {
    let told = |standing: Standing| {
        let of = sums
            .iter()
            .filter(|(_, sum, band)| band.standing(*sum) == standing);
        let of: Vec<_> = of
            .map(|(id, sum, aim)| {
                format!(
                    "{} {} of {}",
                    catalogue.muscle(*id).name,
                    plain(*sum),
                    band(*aim)
                )
            })
            .collect();
        (!of.is_empty()).then(|| of.join(", "))
    };
    let under = told(Standing::Under).map(|under| format!("Sets a week under the aim: {under}."));
    let over = told(Standing::Over).map(|over| format!("Over it: {over}."));
    let lines: Vec<_> = under.into_iter().chain(over).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// `Set for Ines and Tomas from Monday 23 November.`
#[must_use]
pub fn set_for(what: &str, names: &[&str], from: NaiveDate) -> String {
    format!("{what} set for {} from {}.", listed(names), day(from))
}

/// `Plan taken away from Ines from Monday 23 November on.`
#[must_use]
pub fn taken_from(what: &str, names: &[&str], from: NaiveDate) -> String {
    format!(
        "{what} taken away from {}, from {} on.",
        listed(names),
        day(from)
    )
}

/// Names of members in a row.
fn listed(names: &[&str]) -> String {
    const MOST: usize = 20;
    let shown: Vec<_> = names
        .iter()
        .take(MOST)
        .map(|name| shown_name(name))
        .collect();
    let more = names.len().saturating_sub(MOST);
    match (shown.as_slice(), more) {
        ([one], 0) => one.clone(),
        ([most @ .., last], 0) => format!("{} and {last}", most.join(", ")),
        (shown, more) => format!("{} and {more} more", shown.join(", ")),
    }
}

/// Nobody of that name has the thing that is to be copied.
#[must_use]
pub fn has_none(name: &str, what: &str) -> String {
    format!(
        "{} has no {what} in that week. Nothing was changed.",
        shown_name(name)
    )
}

/// Everybody's plan in a line each: the days.
#[must_use]
pub fn team_plans(plans: &[(&str, Option<&Plan>)]) -> String {
    let lines = plans.iter().map(|(name, plan)| {
        let days = plan.map_or_else(
            || "no plan".to_owned(),
            |plan| {
                let days = plan.days().iter().map(|day| day_word(day.weekday()));
                days.collect::<Vec<_>>().join(", ")
            },
        );
        format!("{:<20} {days}", shown_name(name))
    });
    format!("```\n{}\n```", lines.collect::<Vec<_>>().join("\n"))
}

/// A block, with the week that runs.
#[must_use]
pub fn block_of(title: &str, running: &Running) -> String {
    format!(
        "{title}, week {} of {} ({}), from {}:\n```\n{}\n```",
        running.place + 1,
        running.block.weeks().len(),
        block_week(running.week()),
        day(running.from),
        block::print(&running.block)
    )
}

/// A week of a block in words: `4 left, 60 % of the sets`.
#[must_use]
pub fn block_week(week: BlockWeek) -> String {
    let effort = match week.effort() {
        BlockEffort::AsPlanned => "effort as planned".to_owned(),
        BlockEffort::At(rir) => effort(rir),
        BlockEffort::Shifted(by) if by < 0.0 => format!("{} fewer left than planned", plain(-by)),
        BlockEffort::Shifted(by) => format!("{} more left than planned", plain(by)),
    };
    match week.share() {
        100 => effort,
        0 => "no sets".to_owned(),
        share => format!("{effort}, {share} % of the sets"),
    }
}

/// `2 left`, `to failure`.
#[must_use]
pub fn effort(rir: Rir) -> String {
    if rir.reps() < 0.25 {
        "to failure".to_owned()
    } else {
        format!("{} left", plain(rir.reps()))
    }
}

/// Bands of weekly sets as a table; a star marks those that the coach set.
#[must_use]
pub fn targets(
    title: &str,
    bands: &[(MuscleId, Band, bool)],
    week: Option<BlockWeek>,
    catalogue: &Catalogue,
) -> String {
    let lines = bands.iter().map(|&(muscle, sets, own)| {
        let star = if own { " *" } else { "" };
        format!("{:<12} {}{star}", catalogue.muscle(muscle).name, band(sets))
    });
    let lines: Vec<_> = lines.collect();
    let light = week
        .filter(|week| week.share() != 100)
        .map_or_else(String::new, |week| {
            format!("\nThis week of the block has {} % of that.", week.share())
        });
    format!(
        "{title}, weekly sets (* set by the coach):\n```\n{}\n```{light}",
        lines.join("\n")
    )
}

/// `8–12 reps, 2 left, 80 kg`.
#[must_use]
pub fn item(item: &Item, rir: Rir) -> String {
    let (low, high) = (item.reps.low(), item.reps.high());
    let reps = if low == high {
        super::reps(low)
    } else {
        format!("{low}–{high} reps")
    };
    let load = item
        .load
        .map_or_else(String::new, |planned| format!(", {}", load(planned)));
    format!("{reps}, {}{load}", effort(rir))
}

/// Today's session: an exercise a line, the sets done of those planned before it, an arrow at the
/// next.
#[must_use]
pub fn session(
    title: &str,
    session: &Session,
    next: Option<&Progress>,
    rir: impl Fn(&Item) -> Rir,
    catalogue: &Catalogue,
) -> String {
    let mut lines = Vec::new();
    for slot in session.slots() {
        for (place, one) in slot.iter().enumerate() {
            let mark = if one.left() == 0 {
                "x"
            } else if next.is_some_and(|next| std::ptr::eq(next, one)) {
                ">"
            } else {
                " "
            };
            let with = if place > 0 { "with " } else { "" };
            let name = format!("{with}{}", catalogue.exercise(one.item.exercise).name);
            let what = item(&one.item, rir(&one.item));
            lines.push(format!(
                "{mark} {}/{} {name}: {what}",
                one.done, one.planned
            ));
        }
    }
    format!("{title}:\n```\n{}\n```", lines.join("\n"))
}

/// The title of a session: `Monday 23 November, week 2 of 4 of the block (4 left)`.
#[must_use]
pub fn session_title(on: NaiveDate, planned: Weekday, held: &Prescription) -> String {
    let mut title = day(on);
    if planned != chrono::Datelike::weekday(&on) {
        title.push_str(&format!(", the session of {}", weekday_name(planned)));
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

const fn weekday_name(weekday: Weekday) -> &'static str {
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
#[must_use]
pub fn rest_day(on: Weekday, next: Option<(Weekday, &[&str])>) -> String {
    let nothing = format!("Nothing is planned for {}.", weekday_name(on));
    match next {
        Some((day, names)) => format!(
            "{nothing} Next is {}: {}. `/today {}` shows it; post a set of it and I follow.",
            weekday_name(day),
            names.join(", "),
            day_word(day)
        ),
        None => nothing,
    }
}

/// `Next: lying leg curl, 3 sets of 10–15 reps, 1 left`.
#[must_use]
pub fn next_up(one: &Progress, rir: Rir, turn: bool, catalogue: &Catalogue) -> String {
    let name = &catalogue.exercise(one.item.exercise).name;
    let planned = Item {
        load: None,
        ..one.item
    };
    let what = item(&planned, rir);
    if turn {
        return format!(
            "In turn: {name}, set {} of {}, {what}.",
            one.done + 1,
            one.planned
        );
    }
    let sets = match one.left() {
        1 => "1 set".to_owned(),
        left => format!("{left} sets"),
    };
    format!("Next: {name}, {sets} of {what}.")
}

/// Said when the last set of the session is done.
pub const SESSION_DONE: &str = "That was all that is planned for today.";

/// Warm-up sets in a row: `Warm up: 20 × 8 · 40 × 8 · 55 kg × 4.`; `None` where there are none.
#[must_use]
pub fn ladder(steps: &[Step]) -> Option<String> {
    let last = steps.len().checked_sub(1)?;
    let told: Vec<_> = steps
        .iter()
        .enumerate()
        .map(|(place, step)| {
            // The unit once, at the end; what is no bare number is told in full.
            let bare = crate::domain::catalogue::Basis::Total == step.load.basis && place < last;
            let what = if bare {
                step.load.mass.plain(step.load.unit)
            } else {
                load(step.load)
            };
            format!("{what} × {}", step.reps)
        })
        .collect();
    Some(format!("Warm up: {}.", told.join(" · ")))
}

/// `Each side for 82.5 kg: 25, 5, 1.25.`; the empty bar has none.
#[must_use]
pub fn each_side(what: Load, discs: &[Mass], unit: Unit) -> String {
    if discs.is_empty() {
        return format!("{}: the empty bar.", load(what));
    }
    let discs: Vec<_> = discs.iter().map(|disc| disc.plain(unit)).collect();
    format!("Each side for {}: {}.", load(what), discs.join(", "))
}

/// Warm-up sets as a list, then the work load, with what `discs` tells for each side in `unit`.
#[must_use]
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
            Some([]) => "empty bar".to_owned(),
            Some(discs) => {
                let discs: Vec<_> = discs.iter().map(|disc| disc.plain(unit)).collect();
                format!("each side {}", discs.join(" "))
            }
        };
        let row = format!("{:<18} {reps:<10} {side}", load(what));
        row.trim_end().to_owned()
    };
    let steps = steps
        .iter()
        .map(|step| row(step.load, format!("× {}", step.reps)));
    let rows: Vec<_> = steps.chain([row(work, "then work".to_owned())]).collect();
    format!("{name}:\n```\n{}\n```", rows.join("\n"))
}

/// Nothing lighter to warm up with.
#[must_use]
pub fn no_ladder(name: &str, what: Load) -> String {
    format!(
        "{name}, {}: nothing lighter to load before it. A few easy reps of the same movement do.",
        load(what)
    )
}

/// A load that the rack does not make.
#[must_use]
pub fn not_on_rack(what: Load) -> String {
    format!("Your rack does not make {}; `/rack` shows it.", load(what))
}

/// Said once to a beginner whose set is no straight set.
pub const STRAIGHT_SETS_FIRST: &str = "In your first years straight sets do nearly all of it: one \
load, full rest, then again. I keep this one, and count the straight ones.";
