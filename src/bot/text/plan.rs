//! Sentences on plans, blocks and targets. Those on today's session stand in [`super::session`].

use chrono::NaiveDate;

use super::{band, day, effort, plain, quoted, shown_name};
use crate::bot::state::Template;
use crate::bot::state::prescription::Running;
use crate::domain::coaching::block::{BlockEffort, BlockError, BlockWeek};
use crate::domain::coaching::plan::{Plan, PlanError};
use crate::domain::coaching::week::{Band, Standing, WeeklyVolume};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::load::Load;
use crate::message::forms::plan::{Fault, FaultKind, day_word, name_word};
use crate::message::forms::{block, plan};

/// Said to a member without a plan.
pub const NO_PLAN: &str = "You have no plan for this week. Ask your coach for one. Without it, `/fit 45` makes a session from what you usually do.";

/// Said to a coach without one.
pub const NO_PLAN_OF_A_COACH: &str = "You have no plan of your own. `/plan team` shows who has one, `/plan ines` one member's. \
To write one: `/plan ines mon: back squat 4x6-10 2rir; bench press 3x8-12`; more forms: `/help plan`.";

/// Said when an order is for a week that is over.
pub const WEEK_OVER: &str = "That week is over and keeps its plan. Nothing was changed. Name this week or a later one, like `/plan ines next week mon: back squat 4x6-10 2rir`.";

/// Said when an order is for everybody and there is nobody.
pub const NOBODY_YET: &str = "Nobody but coaches has posted in this team yet. Nothing was changed. Name somebody, like \
`/plan ines mon: back squat 4x6-10 2rir`.";

/// Said to a plan for several that names nobody.
pub const NAME_THEM: &str = "Say for whom, like `/plan team mon: back squat 4x6-10 2rir`, or write \
`for ines:` before each part. Nothing was changed.";

/// Whom nobody can tell apart by this name.
pub fn which_member(name: &str, authors: &[&str]) -> String {
    let authors: Vec<_> = authors.iter().map(|author| quoted(author)).collect();
    format!(
        "Several members are called {}: {}. Use one of these names instead. Nothing was changed.",
        quoted(name),
        authors.join(", ")
    )
}

/// Something is set for a name under which nobody posted yet; somebody who is here is called almost
/// the same.
pub fn expected(name: &str) -> String {
    let name = shown_name(name);
    format!(
        "Nobody called {name} has posted yet, so it waits for their first post. `/plan {name} none` takes it back."
    )
}

/// What is no name of a member, and may be a slip of one or more than a name.
pub fn nobody_called(name: &str, close: Option<&str>, here: &[&str]) -> String {
    let close = close.map_or_else(String::new, |close| {
        format!(" Did you mean {}?", shown_name(close))
    });
    let here = match here {
        [] => String::new(),
        here => format!(" Here are {}.", listed(here)),
    };
    let first = name.split(' ').next().unwrap_or_default();
    format!(
        "Nobody here is called {}. Nothing was changed.{close}{here} For somebody who has not posted yet, write \
         `new` behind the name, like `/plan {} new`.",
        quoted(name),
        shown_name(first)
    )
}

/// A plan of one day changed that day alone.
pub fn other_days_stay(plan: &Plan) -> String {
    let days: Vec<String> = plan
        .days()
        .iter()
        .map(|day| name_word(day.name()))
        .collect();
    format!(
        "Only {} was changed; the other days stay. For a plan of this day alone, take the plan away first, with `none` behind the name.",
        days.join(" and ")
    )
}

/// What a day that was written anew has no more.
pub fn taken_out(name: &str, day: &str, items: &[String]) -> String {
    format!(
        "Taken out of {}'s {day}: {}. The other days stay. `undo` takes all of it back.",
        shown_name(name),
        items.join("; ")
    )
}

/// The button that puts back what a day has no more.
pub const KEEP_TOO: &str = "Keep that too";

/// An exercise that is added stands already; each with what is new.
pub fn instead_or_beside(name: &str, doubled: &[(String, String)]) -> String {
    let all = doubled
        .iter()
        .map(|(own, new)| format!("{new}, and has {own}"));
    format!(
        "{} gets {}. Instead of it, or as well? Nothing was changed yet.",
        shown_name(name),
        all.collect::<Vec<_>>().join("; ")
    )
}

/// The button that puts the new in its place.
pub const INSTEAD: &str = "Instead";
/// The button that keeps both.
pub const BESIDE: &str = "As well";

/// Asks on which day.
pub fn which_day(name: &str, words: &str) -> String {
    format!(
        "On which of {}'s days is {}?",
        shown_name(name),
        quoted(words)
    )
}

/// A sentence on a plan that is not understood.
pub fn no_edit(words: &str) -> String {
    format!(
        "I do not understand {} as a change of a plan. These work: `/plan ines change squat to 4x5`, `/plan ines swap row \
         for lat pulldown`, `/plan ines remove curls`, `/plan ines add mon: calf raise 3x15`. Nothing was changed.",
        quoted(words)
    )
}

/// Details of a change that are none.
pub fn no_details(words: &str) -> String {
    format!(
        "I do not understand {}. Write it like in a plan: `4x5`, `3x8-10 100kg`, `4 sets`, `2rir`. Nothing was changed.",
        quoted(words)
    )
}

/// A plan has no such exercise.
pub fn has_no_such(name: &str, exercise: &str) -> String {
    let name = shown_name(name);
    format!(
        "The plan of {name} has no {exercise} in that week, so nothing was changed. `/plan {name}` shows it."
    )
}

/// What was changed, before and after.
pub fn changed(name: &str, rows: &[(String, Option<String>)]) -> String {
    let rows = rows.iter().map(|(before, after)| match after {
        Some(after) => format!(" - {before} → {after}"),
        None => format!(" - {before} → taken out"),
    });
    format!(
        "Changed for {}:\n{}\n`undo` takes it back.",
        shown_name(name),
        rows.collect::<Vec<_>>().join("\n")
    )
}

/// The last change of plans was taken back.
pub fn taken_back(names: &[&str]) -> String {
    format!(
        "Taken back: {} as before. `undo` again brings the change back.",
        listed(names)
    )
}

/// Asks whether a text is a plan to be set.
pub fn whose_plan(name: Option<&str>) -> String {
    match name {
        Some(name) => format!("That reads as a plan. Set it for {}?", shown_name(name)),
        None => "That reads as a plan. Set it, and for whom?".to_owned(),
    }
}

/// The button that sets it; without a name, for all.
pub fn set_for_whom(name: Option<&str>) -> String {
    format!(
        "Set for {}",
        name.map_or_else(|| "the team".to_owned(), shown_name)
    )
}

/// The plan that another took the place of, as it can be set again.
pub fn took_the_place_of(name: &str, before: &Plan, more: usize, catalogue: &Catalogue) -> String {
    let more = match more {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let name = shown_name(name);
    format!(
        "It took the place of the plan of {name}{more}. To have that back, post it again:\n/plan {name}\n{}",
        text_of(before, catalogue)
    )
}

/// What does not fit in a text, a line each.
pub fn faults(faults: &[Fault], catalogue: &Catalogue) -> String {
    let shown = faults.iter().take(MOST_FAULTS);
    let mut lines: Vec<_> = shown.map(|fault| self::fault(fault, catalogue)).collect();
    if faults.len() > MOST_FAULTS {
        lines.push(format!("and {} more", faults.len() - MOST_FAULTS));
    }
    lines.push(
        "Nothing was changed. `/help plan`, `/help block` and `/help target` show forms that work."
            .to_owned(),
    );
    lines.join("\n")
}

/// What of a plan's `text` could not be understood, while the rest of it stands; `order` is the command
/// below which the lines are to be written again.
pub fn asked(faults: &[Fault], text: &str, order: &str, catalogue: &Catalogue) -> String {
    let mut lines = vec!["The lines above stand. I left out what I am not sure of:".to_owned()];
    let mut before = 0;
    for fault in faults.iter().take(MOST_FAULTS) {
        let line = text
            .lines()
            .nth(fault.line.saturating_sub(1))
            .unwrap_or_default();
        if fault.line != before && line.trim() != fault.words {
            lines.push(whole_line(line));
        }
        before = fault.line;
        lines.push(self::fault(fault, catalogue));
    }
    if faults.len() > MOST_FAULTS {
        lines.push(format!("and {} more", faults.len() - MOST_FAULTS));
    }
    lines.push(format!(
        "Write these lines again below {}, with their day.",
        whole_line(order)
    ));
    lines.join("\n")
}

/// A line of a coach's text as it was written, short and harmless.
fn whole_line(line: &str) -> String {
    const LONGEST: usize = 100;
    let line = line.trim().replace(['`', '<', '>'], "'");
    let short: String = line.chars().take(LONGEST).collect();
    format!("`{short}`")
}

/// Words of a plan that belong to no exercise.
pub fn unplaced(notes: &[String]) -> String {
    let notes: Vec<_> = notes
        .iter()
        .take(MOST_FAULTS)
        .map(|note| quoted(note))
        .collect();
    format!(
        "I read no exercise in {}. Words to the lifter stay when they stand on the exercise's line.",
        notes.join(", ")
    )
}

/// What planned shares come to now: `75% of bench press is now 67.5 kg.`; `None` where there are none.
pub fn shares(shares: &[(String, String, Option<Load>)]) -> Option<String> {
    let known = shares.iter().filter_map(|(name, share, load)| {
        let load = load.as_ref()?;
        Some(format!("{name} {share} is {} today", super::load(*load)))
    });
    let known: Vec<_> = known.collect();
    let unknown = shares.iter().filter(|(_, _, load)| load.is_none());
    let mut unknown: Vec<_> = unknown.map(|(name, _, _)| name.as_str()).collect();
    unknown.dedup();
    let mut lines = Vec::new();
    if !known.is_empty() {
        lines.push(format!(
            "By the estimated one-rep max: {}. I work it out again on the day.",
            known.join("; ")
        ));
    }
    if !unknown.is_empty() {
        lines.push(format!(
            "No estimate yet for {}: the share becomes a load after the first sets.",
            unknown.join(", ")
        ));
    }
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// A plan that grew too large.
pub fn too_much(name: &str, error: PlanError) -> String {
    format!(
        "Plan of {}: {} Nothing was changed.",
        shown_name(name),
        numbers(error)
    )
}

/// Said when no more plans can be kept.
pub const TEMPLATES_FULL: &str = "A team can keep 40 templates. Take one away first, like \
`/plan template base none`. Nothing was changed.";

/// The plan kept under a name, or all names.
pub fn templates(name: &str, kept: &[Template]) -> String {
    let found = kept.iter().find(|template| template.name == name);
    match (found, kept, name) {
        (Some(template), ..) => format!("Template {}:\n{}", quoted(name), spread(&template.text)),
        (None, [], _) => {
            "There is no template yet. Keep one like `/plan template base mon: back squat 4x6-10 2rir`.".to_owned()
        }
        (None, kept, name) => {
            let names: Vec<_> = kept.iter().map(|template| quoted(&template.name)).collect();
            let none = match name {
                "" => String::new(),
                name => format!("There is no template {}. ", quoted(name)),
            };
            format!(
                "{none}Your templates: {}. `/plan ines like base` gives one to Ines.",
                names.join(", ")
            )
        }
    }
}

/// A plan was kept under a name.
pub fn template_kept(template: &Template) -> String {
    format!(
        "Kept as template {}:\n{}\n`/plan ines like {}` gives it to Ines.",
        quoted(&template.name),
        spread(&template.text),
        template.name
    )
}

/// A template was taken away, or there was none.
pub fn template_gone(name: &str, gone: bool) -> String {
    match gone {
        true => format!(
            "Template {} is gone. Plans given from it stay.",
            quoted(name)
        ),
        false => format!(
            "There is no template {}. Nothing was changed.",
            quoted(name)
        ),
    }
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
        FaultKind::NoDay => "which day is that? Begin with one, like `mon:`.".to_owned(),
        FaultKind::UnknownDay(nearest) => no_such(
            "day of the week",
            nearest.map(day_word),
            "`mon` and `sun`",
        ),
        FaultKind::UnknownExercise(nearest) => {
            let names = nearest.iter().take(3);
            let names: Vec<_> = names
                .map(|&id| format!("`{}`", catalogue.exercise(id).name))
                .collect();
            match names.as_slice() {
                [] => "I know no such exercise. `/catalogue press` finds some.".to_owned(),
                names => format!(
                    "I know no such exercise. The nearest: {}.",
                    names.join(", ")
                ),
            }
        }
        FaultKind::NoSets => "how many sets and reps? Write it like `4x6-10`.".to_owned(),
        FaultKind::UnknownWord(nearest) => no_such("word", *nearest, "`2rir` and `80kg`"),
        FaultKind::BareNumber => "what does this number stand for? `2rir` is an effort, `80kg` a load.".to_owned(),
        FaultKind::Effort => {
            "an effort is 0 to 10 left, in halves: `2rir`, `1.5rir`, `@8`.".to_owned()
        }
        FaultKind::Load => {
            "this exercise can't have that load. A load is above 0 and up to 1,000 kg; `+10kg`, `-15kg` \
             and `bw` are for lifts of the body."
                .to_owned()
        }
        FaultKind::Twice => "it stands there twice, and differs. Which one holds?".to_owned(),
        FaultKind::LoadOrShare => "kilograms or percent? Write `75kg` or `75%`.".to_owned(),
        FaultKind::LoadOrRest => {
            "a pair of dumbbells or a rest? Write `30kg` or `rest 30s`.".to_owned()
        }
        FaultKind::TwoExercises => {
            "two exercises? Put them on two lines, or join them with `or` or `with`.".to_owned()
        }
        FaultKind::NoExercise => "which exercise is that?".to_owned(),
        FaultKind::Numbers(error) => numbers(*error),
        FaultKind::Nothing => {
            "there is no day in it. Begin with one, like `mon: back squat 4x6-10`.".to_owned()
        }
        FaultKind::WeekNumber(due) => {
            format!("week {due} comes next. Number the weeks in order, or not at all.")
        }
        FaultKind::Share => "a share is a whole number of percent, like `60%`.".to_owned(),
        FaultKind::Block(error) => block_numbers(*error),
        FaultKind::UnknownMuscle(nearest) => {
            let name = nearest.map(|id| catalogue.muscle(id).name.as_str());
            no_such("muscle", name, "`chest` and `quads`")
        }
        FaultKind::NoBand => "how many sets a week? Write it like `10-14`, or `usual`.".to_owned(),
        FaultKind::Band(_) => "weekly sets go from fewest to most, 60 at most: `10-14`.".to_owned(),
    }
}

fn no_such(what: &str, nearest: Option<&str>, else_known: &str) -> String {
    match nearest {
        Some(nearest) => format!("I know no such {what}. Did you mean `{nearest}`?"),
        None => format!("I know no such {what}. I know words like {else_known}."),
    }
}

fn numbers(error: PlanError) -> String {
    match error {
        PlanError::Sets(_) => "sets go from 1 to 20.".to_owned(),
        PlanError::Reps(..) => "reps go from fewest to most, 100 at most: `6-10`.".to_owned(),
        PlanError::Seconds(..) => {
            "a set is held 10 minutes at most, a rest is 15 at most: `3x30-45s`, `rest 2-3min`."
                .to_owned()
        }
        PlanError::Percent => "a share is 1 to 150 percent: `75%`.".to_owned(),
        PlanError::InTurn(_) => "more than 10 exercises in turn.".to_owned(),
        PlanError::DayNumber(_) => "numbered days go from `day 1` to `day 14`.".to_owned(),
        PlanError::Empty(_) => "no exercise on that day.".to_owned(),
        PlanError::Crowded(_) => "more than 30 exercises on one day.".to_owned(),
        PlanError::Week(_) => "weeks go from 1 to 26, each behind the one before.".to_owned(),
        PlanError::Twice(_) => "that day stands twice.".to_owned(),
    }
}

fn block_numbers(error: BlockError) -> String {
    match error {
        BlockError::Weeks(_) => {
            "a block has 1 to 52 weeks, like `2rir; 1rir; 4rir 50%`.".to_owned()
        }
        BlockError::Share(_) => "a share is 0 to 200 percent of the planned sets.".to_owned(),
        BlockError::Shift(_) => "a shift is 5 reps at most, like `+1rir`.".to_owned(),
    }
}

/// A member's plan: `Plan of Ines from Monday 23 November:` with the text.
pub fn plan_of(name: &str, plan: &Plan, from: NaiveDate, catalogue: &Catalogue) -> String {
    format!(
        "Plan of {} from {}:\n{}",
        shown_name(name),
        day(from),
        text_of(plan, catalogue)
    )
}

/// One's own plan.
pub fn own_plan(plan: &Plan, from: NaiveDate, catalogue: &Catalogue) -> String {
    format!(
        "Your plan from {}:\n{}",
        day(from),
        text_of(plan, catalogue)
    )
}

/// A plan as a list that a coach can post again as it stands.
pub fn text_of(plan: &Plan, catalogue: &Catalogue) -> String {
    spread(&plan::print(plan, catalogue))
}

/// A plan as it is printed with an exercise a line, which reads the same and wraps well.
pub fn spread(text: &str) -> String {
    let mut spread = String::with_capacity(text.len() + 16);
    for line in text.lines() {
        let (mut quoted, mut head) = (false, true);
        if !spread.is_empty() {
            spread.push('\n');
        }
        let mut signs = line.chars().peekable();
        while let Some(sign) = signs.next() {
            quoted ^= sign == '"';
            let parts = sign == ';' || (sign == ':' && head);
            if parts && !quoted && signs.peek() == Some(&' ') {
                signs.next();
                if head {
                    spread.push(':');
                }
                spread.push_str("\n  ");
                head = false;
            } else {
                spread.push(sign);
            }
        }
    }
    spread
}

/// The sets of few repetitions in a plan, which do not count; `None` where there are none.
pub fn uncounted(plan: &Plan, catalogue: &Catalogue) -> Option<String> {
    let heavy = plan.items().filter(|item| item.is_heavy());
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
pub fn outside(sums: &[(MuscleId, f64, Band)], catalogue: &Catalogue) -> Option<String> {
    let muscles = |standing: Standing| {
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
    let under =
        muscles(Standing::Under).map(|under| format!("Planned sets under the aim: {under}."));
    let over = muscles(Standing::Over).map(|over| format!("Planned sets over the aim: {over}."));
    let lines: Vec<_> = under.into_iter().chain(over).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

/// A number of sets is to be added to none.
pub fn no_target_yet(muscle: &str) -> String {
    format!(
        "No number of sets is set for {muscle} yet, so I can add nothing to it. Name the whole number, like `{muscle} 12`. Nothing was changed."
    )
}

/// The weekly sets of some muscles, those of one number together: `quads, glutes and calves 12 each`.
pub fn bands(bands: &[(MuscleId, Option<Band>)], catalogue: &Catalogue) -> Option<String> {
    let mut groups: Vec<(Option<Band>, Vec<&str>)> = Vec::new();
    for (id, own) in bands {
        let name = catalogue.muscle(*id).name.as_str();
        match groups.iter_mut().find(|(known, _)| known == own) {
            Some((_, names)) => names.push(name),
            None => groups.push((*own, vec![name])),
        }
    }
    let said = groups.iter().map(|(of, names)| {
        let of = of.map_or("as usual".to_owned(), band);
        let each = if names.len() > 1 { " each" } else { "" };
        format!("{} {of}{each}", listed(names))
    });
    let said: Vec<String> = said.collect();
    (!said.is_empty()).then(|| format!("{}.", super::capital(&said.join(", "))))
}

/// The same as [`outside`] of some members, those of whom it says the same together.
pub fn outside_of(members: &[(&str, String)]) -> Option<String> {
    let mut groups: Vec<(&str, Vec<&str>)> = Vec::new();
    for (name, said) in members {
        match groups.iter_mut().find(|(known, _)| known == said) {
            Some((_, names)) => names.push(name),
            None => groups.push((said, vec![name])),
        }
    }
    let said = groups
        .iter()
        .map(|(said, names)| format!("{}: {said}", listed(names)));
    let said: Vec<String> = said.collect();
    (!said.is_empty()).then(|| said.join("\n"))
}

/// `Set for Ines and Tomas from Monday 23 November.`
pub fn set_for(what: &str, names: &[&str], from: NaiveDate) -> String {
    format!("{what} set for {} from {}.", listed(names), day(from))
}

/// `Plan taken away from Ines from Monday 23 November on.`
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

/// A member without a plan, to their coach.
pub fn none_of(name: &str) -> String {
    let name = shown_name(name);
    format!(
        "There is no plan for {name} in that week. Write one like `/plan {name} mon: back squat 4x6-10 2rir`."
    )
}

/// Nobody of that name has the thing that is to be copied.
pub fn has_none(name: &str, what: &str) -> String {
    format!(
        "There is no {what} for {} in that week, so nothing was changed. `/{what} ines` shows one.",
        shown_name(name)
    )
}

/// Everybody's plan in a line each: the days.
pub fn team_plans(plans: &[(&str, Option<&Plan>)]) -> String {
    let lines = plans.iter().map(|(name, plan)| {
        let days = plan.map_or_else(
            || "no plan".to_owned(),
            |plan| {
                let days = plan.days().iter().map(|day| name_word(day.name()));
                days.collect::<Vec<_>>().join(", ")
            },
        );
        format!(" - {}: {days}", shown_name(name))
    });
    let lines: Vec<_> = lines.collect();
    format!(
        "Days with a session:\n{}\n`/plan NAME` shows a plan.",
        lines.join("\n")
    )
}

fn block_title(name: Option<&str>) -> String {
    name.map_or_else(
        || "Your block".to_owned(),
        |name| format!("Block of {}", shown_name(name)),
    )
}

/// No block runs in a week; one's own without a name.
pub fn no_block(name: Option<&str>, week: Week) -> String {
    let whose = name.map_or_else(
        || "You have".to_owned(),
        |name| format!("{} has", shown_name(name)),
    );
    format!(
        "{whose} no block in the week from {}. Effort and sets are as planned.",
        day(week.first_day())
    )
}

/// A block, with the week that runs; one's own without a name.
pub fn block_of(name: Option<&str>, running: &Running) -> String {
    let title = format!(
        "{}, week {} of {} ({}), from {}",
        block_title(name),
        running.place + 1,
        running.block.weeks().len(),
        block_week(running.week()),
        day(running.from)
    );
    // A coach sees it as it is written, a member in words.
    let weeks = match name {
        Some(_) => format!("```\n{}\n```", block::print(&running.block)),
        None => {
            let weeks = (1..).zip(running.block.weeks());
            let weeks = weeks.map(|(n, week)| format!(" - week {n}: {}", block_week(*week)));
            weeks.collect::<Vec<_>>().join("\n")
        }
    };
    format!("{title}:\n{weeks}")
}

/// A week of a block in words: `4 left, 60 % of the sets`.
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

/// Bands of weekly sets as a table; a star marks those that the coach set.
pub fn targets(
    title: &str,
    tally: &WeeklyVolume,
    week: Option<BlockWeek>,
    catalogue: &Catalogue,
) -> String {
    // Muscles for which nothing is asked and nothing is published say nothing.
    let lines = tally.muscles.iter().filter_map(|line| {
        let name = &catalogue.muscle(line.muscle).name;
        let aim = super::aim(line);
        (!aim.is_empty()).then(|| format!("{name:<12} {aim}"))
    });
    let lines: Vec<_> = lines.collect();
    let light = week
        .filter(|week| week.share() != 100)
        .map_or_else(String::new, |week| {
            format!(
                "\nThis week of the block asks for {} % of these sets.",
                week.share()
            )
        });
    format!(
        "{title}, weekly sets:\n```\n{}\n```{}{light}",
        lines.join("\n"),
        super::AIMS
    )
}
