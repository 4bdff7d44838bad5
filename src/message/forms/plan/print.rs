//! A plan as text, which reads back as the same plan (`printed`).

use chrono::Weekday;

use super::{is_beyond, is_held};
use crate::domain::coaching::plan::{Amount, Day, DayName, Item, Plan, PlannedLoad, Seconds};
use crate::domain::quantities::catalogue::{Basis, Catalogue, Exercise};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;

/// Behind a number that are repetitions, though it is large.
pub(super) const REPS: &str = "reps";

/// Whether numbers before and behind an `x` may as well be repetitions and then sets: `12-15x3`,
/// `15x3`. Printed, they are `15 sets of 3`.
pub(super) const fn is_open((fewest, most): (u32, u32), (low, high): (u32, u32)) -> bool {
    let few = low == high && high <= 6;
    few && most <= 20 && (fewest >= 12 || (fewest >= 6 && fewest < most))
}

/// A plan as text that [`super::read`] reads back as the same plan; a line a day.
pub fn print(plan: &Plan, catalogue: &Catalogue) -> String {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(plan.name().map(|name| format!("\"{}\"", name.words())));
    let several = !plan.later().is_empty();
    lines.extend(several.then(|| "week 1".to_owned()));
    lines.extend(plan.days().iter().map(|day| print_day(day, catalogue)));
    for (week, days) in plan.later() {
        lines.push(format!("week {week}"));
        lines.extend(days.iter().map(|day| print_day(day, catalogue)));
    }
    lines.join("\n")
}

/// A day of a plan as text: `mon: back squat 4x6-10 2rir; …`.
pub fn print_day(day: &Day, catalogue: &Catalogue) -> String {
    let slots = day.slots().iter().map(|slot| {
        let items = slot.items().map(|item| print_item(item, catalogue));
        items.collect::<Vec<_>>().join(" with ")
    });
    let title = day.title().map(|title| format!(" \"{}\"", title.words()));
    format!(
        "{}{}: {}",
        name_word(day.name()),
        title.unwrap_or_default(),
        slots.collect::<Vec<_>>().join("; ")
    )
}

/// One exercise of a plan as text: `bench press or dip 3-4x6-10 each side 2rir 80kg rest 2-3min
/// "words to the lifter"`.
pub fn print_item(item: &Item, catalogue: &Catalogue) -> String {
    let name = |id: ExerciseId| catalogue.exercise(id).name.as_str();
    let names = std::iter::once(&item.exercise).chain(&item.or);
    let names: Vec<_> = names.map(|&id| name(id)).collect();
    let sets = bare_span(item.sets.count(), item.sets.most());
    // What could be taken for repetitions and sets is said in words.
    let open = match &item.amount {
        Amount::Reps(reps) => is_open(
            (item.sets.count(), item.sets.most()),
            (reps.low(), reps.high()),
        ),
        Amount::BySet(_) | Amount::Time(_) | Amount::Max => false,
    };
    let times = if open { " sets of " } else { "x" };
    let names = names.join(" or ");
    let mut text = format!("{names} {sets}{times}{}", amount(&item.amount));
    let exercise = catalogue.exercise(item.exercise);
    let held =
        matches!(&item.amount, Amount::Reps(reps) if is_held(&exercise.name, reps.low().into()));
    if held || is_beyond(&item.amount, exercise) {
        text.push_str(REPS);
    }
    if item.per_side {
        text.push_str(" each side");
    }
    if let Some(rir) = item.rir {
        text.push_str(&format!(" {}rir", rir.reps()));
    }
    if let Some(load) = item.load {
        text.push(' ');
        text.push_str(&load_words(load, item, catalogue));
    }
    if let Some(rest) = item.rest {
        text.push_str(&format!(" rest {}", bare_time(rest)));
    }
    if let Some(note) = &item.note {
        text.push_str(&format!(" \"{}\"", note.words()));
    }
    text
}

fn amount(amount: &Amount) -> String {
    match amount {
        Amount::Reps(reps) => bare_span(reps.low(), reps.high()),
        Amount::BySet(reps) => {
            let reps: Vec<_> = reps.iter().map(u32::to_string).collect();
            reps.join("/")
        }
        Amount::Time(time) => format!("{}s", bare_span(time.low(), time.high())),
        Amount::Max => "max".to_owned(),
    }
}

/// A planned load as text: `80kg`, `60-70%`, `90% of 5rm`, `90% of top set`.
pub fn load_words(load: PlannedLoad, item: &Item, catalogue: &Catalogue) -> String {
    match load {
        PlannedLoad::Fixed(load) => print_load(load, catalogue.exercise(item.exercise)),
        PlannedLoad::Share { low, high, of } => {
            let (low, high) = (low.percent(), high.percent());
            let share = match low < high {
                true => format!("{low}-{high}%"),
                false => format!("{low}%"),
            };
            match of {
                1 => share,
                of => format!("{share} of {of}rm"),
            }
        }
        PlannedLoad::OfTopSet(share) => format!("{}% of top set", share.percent()),
    }
}

fn print_load(load: Load, exercise: &Exercise) -> String {
    let amount = format!("{}{}", load.mass.plain(load.unit), load.unit);
    match load.basis {
        Basis::Body => "bw".to_owned(),
        Basis::Added => format!("+{amount}"),
        Basis::Assisted => format!("-{amount}"),
        Basis::Total if exercise.basis == Basis::Total => amount,
        Basis::Total => format!("{amount} total"),
        Basis::PerHand if exercise.basis == Basis::PerHand => amount,
        Basis::PerHand => format!("{amount} each hand"),
    }
}

fn bare_span(low: u32, high: u32) -> String {
    match low == high {
        true => low.to_string(),
        false => format!("{low}-{high}"),
    }
}

/// Whole minutes as minutes, all else in seconds: `2-3min`, `90s`.
fn bare_time(time: Seconds) -> String {
    let (low, high) = (time.low(), time.high());
    match low % 60 == 0 && high % 60 == 0 && high > 0 {
        true => format!("{}min", bare_span(low / 60, high / 60)),
        false => format!("{}s", bare_span(low, high)),
    }
}

/// A range as members read it: `3–5`, `4`.
pub fn span(low: u32, high: u32) -> String {
    bare_span(low, high).replace('-', "–")
}

/// A time as members read it: `2–3 min`, `90 s`.
pub fn time(time: Seconds) -> String {
    let bare = bare_time(time).replace('-', "–");
    let unit = bare.find(|c: char| c.is_alphabetic()).unwrap_or(bare.len());
    let (number, unit) = bare.split_at(unit);
    format!("{number} {unit}")
}

/// The words that a plan prints for a day: `mon`, `day 1`.
pub fn name_word(name: DayName) -> String {
    match name {
        DayName::Weekday(weekday) => day_word(weekday).to_owned(),
        DayName::Number(number) => format!("day {number}"),
    }
}

/// The word that a plan prints for a day of the week: `mon`.
pub const fn day_word(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Mon => "mon",
        Weekday::Tue => "tue",
        Weekday::Wed => "wed",
        Weekday::Thu => "thu",
        Weekday::Fri => "fri",
        Weekday::Sat => "sat",
        Weekday::Sun => "sun",
    }
}
