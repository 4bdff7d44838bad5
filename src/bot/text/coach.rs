//! Sentences for coaches on members: a week by day, the team's table, who needs them, notes; and on
//! what is the team's own.

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDate, Weekday};
use chrono_tz::Tz;

use super::table::block;
use super::{count_of, day, minutes, plain, quoted, reserve, shown_name};
use crate::bot::state::accuracy::Loads;
use crate::bot::state::report::Report;
use crate::bot::state::view::View;
use crate::bot::state::{Lifted, Note, TeamSettings};
use crate::domain::coaching::adherence::{Adherence, Efforts, SessionDone};
use crate::domain::coaching::attention::{Concern, Slow, of_courses};
use crate::domain::coaching::block::Block;
use crate::domain::coaching::progress::Course;
use crate::domain::coaching::runs::Run;
use crate::domain::coaching::week::{MuscleWeek, Standing, WeeklyVolume};
use crate::domain::lifter::model::Lifter;
use crate::domain::log::{LimitingFactor, LoggedSet, SetKind};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::FEWEST_REPS;

/// What the signs beside the sets of a muscle mean.
const MARKS: &str = "Behind the sets: - under the aim, + over it, . still to come.";
/// What the last column of a week is.
const BEFORE: &str =
    "Before: the mean of the last four weeks, without lighter weeks and weeks off.";

// What coaches ask and tell of a member.

/// What a member would be answered, as a coach reads it.
pub fn as_member(name: &str, text: &str) -> String {
    format!("As {} would read it:\n{text}", shown_name(name))
}

/// Who files or changes a member's sets.
pub fn only_theirs(name: &str, change: bool, words: &str) -> String {
    let name = shown_name(name);
    match change {
        true => format!(
            "Nothing was changed. Only {name} can change {name}'s sets: with `/undo`, or in words like `that was \
             7 not 8`."
        ),
        false => format!(
            "Nothing was logged. Only {name} can log {name}'s sets, with a post like `{}`. You can take over a \
             log that was kept elsewhere with `/import`.",
            super::hurt::own_words(words).trim_matches(['“', '”'])
        ),
    }
}

// A member's week.

/// A member's week as a coach sees it.
pub struct MemberWeekView<'a> {
    /// The member.
    pub name: &'a str,
    /// The week.
    pub week: Week,
    /// What it adds up to.
    pub tally: &'a WeeklyVolume,
    /// Counted sets a week of the weeks before, by muscle; none where there were none.
    pub before: &'a [f64],
    /// Its runs, by day.
    pub runs: &'a [Run<'a>],
    /// The member as the model sees them.
    pub lifter: &'a Lifter<'a>,
    /// How the week's lifts are coming along.
    pub courses: &'a [(ExerciseId, Course)],
    /// How far the plan was followed.
    pub adherence: &'a Adherence,
    /// How the loads agree with those advised.
    pub loads: Loads,
    /// Open reports of pain, and those of the last days.
    pub reports: &'a [Report],
    /// What was trained since in spite of them.
    pub anyway: Option<&'a str>,
    /// Those that coaches lifted.
    pub lifted: &'a [Lifted],
    /// The coach's view.
    pub view: &'a View<'a>,
    /// The block with a lighter week next, where something speaks for it.
    pub lighter: Option<&'a Block>,
    /// What coaches noted.
    pub notes: &'a [Note],
}

/// A week: two lines that say how it went, then the plan, day by day, and muscle by muscle.
pub fn week(view: &MemberWeekView<'_>) -> String {
    let catalogue = view.lifter.catalogue;
    let days = format!(
        "{} to {}",
        day(view.week.first_day()),
        day(view.week.last_day())
    );
    let name = shown_name(view.name);
    let mut parts = vec![
        format!("{name}, {days}:"),
        how_it_went(view),
        what_stands_out(view, catalogue),
    ];
    parts.extend(
        view.lighter
            .map(|block| super::attention::lighter(view.name, block)),
    );
    parts.extend(against_plan(view, catalogue));
    parts.extend(by_day(view));
    let muscles = by_muscle(view, catalogue);
    if muscles.len() > 1 {
        parts.push(block(&muscles));
        parts.push(super::AIMS.trim_start().to_owned());
        if view.tally.muscles.iter().any(|line| mark(line) != ' ') {
            parts.push(MARKS.to_owned());
        }
        if !view.before.is_empty() {
            parts.push(BEFORE.to_owned());
        }
    }
    parts.extend(super::not_counted(view.tally, false));
    parts.extend(strength(view.courses, catalogue));
    let notes = view.notes.iter().rev().take(NOTES);
    parts.extend(notes.map(|note| format!("Note {}", super::notes::line(note))));
    parts.join("\n")
}

/// Notes shown with a week.
const NOTES: usize = 3;
/// Lifts named in a line.
const LIFTS: usize = 3;

/// `Did 2 of 3 sessions and 14 of 18 sets; effort about 0.5 left where 2 were asked.`
fn how_it_went(view: &MemberWeekView<'_>) -> String {
    let adherence = view.adherence;
    let (done, of) = adherence.sessions();
    let (sets_done, sets_of) = adherence.sets();
    let extra = adherence.extra_sets;
    let efforts = effort(&adherence.efforts, of > 0);
    if of == 0 {
        let days: BTreeSet<NaiveDate> = view.runs.iter().map(|run| run.day).collect();
        return match days.len() {
            0 => "No plan, and nothing posted.".to_owned(),
            1 => format!(
                "No plan. Trained on 1 day, {}; {efforts}.",
                work_sets(extra)
            ),
            days => format!(
                "No plan. Trained on {days} days, {}; {efforts}.",
                work_sets(extra)
            ),
        };
    }
    let more = match extra {
        0 => String::new(),
        extra => format!(", and {extra} more"),
    };
    let sessions = if of == 1 { "session" } else { "sessions" };
    let sets_word = if sets_of == 1 { "set" } else { "sets" };
    let efforts = match sets_done + extra {
        0 => String::new(),
        _ => format!("; {efforts}"),
    };
    format!(
        "Did {done} of {of} {sessions} and {sets_done} of {sets_of} {sets_word}{more}{efforts}."
    )
}

fn work_sets(count: u32) -> String {
    count_of(count, "work set")
}

/// What was left against what was asked is told as off from so many repetitions on average.
const OFF: f64 = 0.75;

/// `about 0.5 left where 2 were asked`, `effort as asked`.
fn effort(efforts: &Efforts, planned: bool) -> String {
    let Some((asked, left)) = efforts.means() else {
        return match efforts.unrated {
            0 => "no effort to compare".to_owned(),
            _ => "it was not said how many reps were left".to_owned(),
        };
    };
    let (left, asked_for) = (
        super::attention::halves(left),
        super::attention::halves(asked),
    );
    match efforts.off() {
        _ if efforts.none_asked() => format!("about {left} left, and the plan names no effort"),
        _ if !planned => format!("about {left} left on average"),
        off if off.abs() < OFF => format!("effort as asked, about {left} left"),
        _ => format!("about {left} left where the plan asks for {asked_for}"),
    }
}

/// `Bench press up, back squat stands still; pain (knee), Tuesday 24 November, report 1.`
fn what_stands_out(view: &MemberWeekView<'_>, catalogue: &Catalogue) -> String {
    let mut parts: Vec<String> = Vec::new();
    let name = |exercise: ExerciseId| catalogue.exercise(exercise).name.clone();
    let concerns = of_courses(view.courses);
    let slow = |wanted: fn(&Concern) -> Option<&Vec<Slow>>| -> Vec<String> {
        let lifts = concerns.iter().filter_map(wanted).flatten();
        lifts.map(|lift| name(lift.exercise)).collect()
    };
    let up = view.courses.iter();
    let up: Vec<String> = up
        .filter(|(_, course)| course.stalled.is_some() && course.change.low > 0.0)
        .map(|(exercise, _)| name(*exercise))
        .collect();
    let falling = slow(|one| match one {
        Concern::Falling(lifts) => Some(lifts),
        _ => None,
    });
    let still = slow(|one| match one {
        Concern::Stalled(lifts) => Some(lifts),
        _ => None,
    });
    for (lifts, one, several) in [
        (up, "is going up", "are going up"),
        (still, "stands still", "stand still"),
        (falling, "falls", "fall"),
    ] {
        if !lifts.is_empty() {
            let verb = if lifts.len() == 1 { one } else { several };
            parts.push(format!("{} {verb}", some(&lifts, LIFTS)));
        }
    }
    if concerns
        .iter()
        .any(|one| matches!(one, Concern::RunDown(_)))
    {
        parts.push("form is down on all lifts".to_owned());
    }
    parts.extend(view.reports.iter().map(|report| {
        let line = super::hurt::line(report, view.view);
        line.lines().next().unwrap_or_default().to_owned()
    }));
    parts.extend(view.anyway.map(str::to_owned));
    let of_week = view
        .lifted
        .iter()
        .filter(|one| view.week.contains(one.told));
    parts.extend(of_week.map(super::hurt::was_lifted));
    match parts.is_empty() {
        true => "No lift moves clearly yet; no pain reported.".to_owned(),
        false => format!("{}.", super::capital(&parts.join("; "))),
    }
}

/// `a, b and 2 more`.
fn some(names: &[String], most: usize) -> String {
    let more = names.len().saturating_sub(most);
    let text = names
        .iter()
        .take(most)
        .cloned()
        .collect::<Vec<_>>()
        .join(", ");
    match more {
        0 => text,
        more => format!("{text} and {more} more"),
    }
}

/// The sessions of the plan, what was swapped, and how loads agree with the advice; a line each.
fn against_plan(view: &MemberWeekView<'_>, catalogue: &Catalogue) -> Vec<String> {
    let today = view.view.today();
    let mut lines: Vec<String> = Vec::new();
    let asked = view.adherence.sessions.iter();
    for session in asked.filter(|one| one.due || one.is_done()) {
        lines.push(format!(" - {}", session_line(session, today)));
    }
    for swap in &view.adherence.swaps {
        let name = |exercise| &catalogue.exercise(exercise).name;
        lines.push(format!(
            " - did {} of {} instead of {}",
            one_or_more(swap.sets, "set"),
            name(swap.instead),
            name(swap.planned),
        ));
    }
    if !lines.is_empty() {
        lines.insert(0, "Plan:".to_owned());
    }
    if view.loads.sets() > 0 {
        lines.push(loads_line(view.loads));
    }
    lines
}

/// `Mon 23 Nov: 6 of 6 sets`, `Wed 25 Nov, done Thu 26 Nov: 4 of 6 sets`, `day 2, done Thu 26 Nov: 6
/// of 6 sets`.
fn session_line(session: &SessionDone, today: NaiveDate) -> String {
    let short = |day: NaiveDate| day.format("%a %-d %b").to_string();
    let when = match (session.planned_for, session.number) {
        (Some(day), _) => short(day),
        (None, Some(number)) => format!("day {number}"),
        (None, None) => "any day".to_owned(),
    };
    let sets = format!("{} of {} sets", session.done, session.planned);
    let on = match session.planned_for {
        Some(_) => session.moved().map(|(_, on)| on),
        None => session.done_on.filter(|_| session.is_done()),
    };
    match (on, session.is_done()) {
        (Some(on), _) => format!("{when}, done {}: {sets}", short(on)),
        (None, true) => format!("{when}: {sets}"),
        (None, false) if session.planned_for.is_none_or(|day| day >= today) => {
            format!("{when}: still to come, {sets}")
        }
        (None, false) => format!("{when}: not done, {sets}"),
    }
}

/// `Loads: 9 of 12 as advised, 2 heavier, 1 lighter.`
pub fn loads_line(loads: Loads) -> String {
    let off = [(loads.heavier, "heavier"), (loads.lighter, "lighter")];
    let off = off.iter().filter(|(sets, _)| *sets > 0);
    let off: String = off.map(|(sets, how)| format!(", {sets} {how}")).collect();
    format!(
        "Loads: {} of {} as advised{off}.",
        loads.as_told,
        loads.sets()
    )
}

fn one_or_more(count: u32, what: &str) -> String {
    match count {
        1 => format!("1 {what}"),
        count => format!("{count} {what}s"),
    }
}

fn by_day(view: &MemberWeekView<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let mut before: Option<NaiveDate> = None;
    for run in view.runs {
        if before != Some(run.day) {
            lines.push(format!("{}:", run.day.format("%a %-d %b")));
        }
        before = Some(run.day);
        lines.push(run_line(run, view.lifter));
    }
    lines
}

/// ` - back squat: 90 kg × 8, 8, 7; left 2, 1, –; rest 2:30; reps −12 %; the load went up`.
fn run_line(run: &Run<'_>, lifter: &Lifter<'_>) -> String {
    let exercise = lifter.catalogue.exercise(run.exercise);
    let mut parts = vec![format!(" - {}: {}", exercise.name, loads(&run.sets))];
    let straight: Vec<&LoggedSet> = run.straight().collect();
    if straight.iter().any(|set| set.rir.is_some()) {
        let left: Vec<_> = straight.iter().map(|set| left(set.rir)).collect();
        parts.push(format!("left {}", left.join(", ")));
    }
    let mut rests = run.rests_s();
    rests.sort_unstable();
    parts.extend(span(&rests));
    parts.extend(run.drop_off().and_then(fell));
    if run.ascends(exercise, lifter.body_mass) {
        parts.push("the load only went up".to_owned());
    }
    for (what, words) in [
        (LimitingFactor::Helpers, "helpers gave out first"),
        (LimitingFactor::Breath, "breath gave out first"),
    ] {
        if straight.iter().any(|set| set.gave_out == Some(what)) {
            parts.push(words.to_owned());
        }
    }
    if straight.iter().any(|set| set.reps < FEWEST_REPS) {
        parts.push("under five reps".to_owned());
    }
    parts.join("; ")
}

/// `reps fell by 12 %`, from the first set to the last.
fn fell(share: f64) -> Option<String> {
    let percent = (100.0 * share).round();
    match percent {
        fell if fell >= 1.0 => Some(format!("reps fell by {fell:.0} %")),
        rose if rose <= -1.0 => Some(format!("reps rose by {:.0} %", -rose)),
        _ => None,
    }
}

/// `90 kg × 8, 8, 7, then 85 kg × 9`; warm-ups are counted only.
fn loads(sets: &[&LoggedSet]) -> String {
    let warm_ups = sets.iter().filter(|set| set.kind == SetKind::WarmUp);
    let warm_ups = warm_ups.count();
    let work = sets.iter().filter(|set| set.kind != SetKind::WarmUp);
    let work: Vec<&&LoggedSet> = work.collect();
    let kind = |set: &LoggedSet| (set.load, !set.kind.is_straight());
    let mut texts: Vec<String> = Vec::new();
    for group in work.chunk_by(|a, b| kind(a) == kind(b)) {
        let reps: Vec<_> = group.iter().map(|set| set.reps.to_string()).collect();
        let Some(first) = group.first() else { continue };
        let other = if kind(first).1 { " (not straight)" } else { "" };
        texts.push(format!(
            "{} × {}{other}",
            super::load(first.load),
            reps.join(", ")
        ));
    }
    let warm_ups = match warm_ups {
        0 => return texts.join(", then "),
        1 => "1 warm-up set".to_owned(),
        count => format!("{count} warm-up sets"),
    };
    match texts.is_empty() {
        true => warm_ups,
        false => format!("{}, after {warm_ups}", texts.join(", then ")),
    }
}

fn left(rir: Option<Rir>) -> String {
    rir.map_or_else(|| "–".to_owned(), reserve)
}

/// `rest 2:30` or `rest 1:30–3:00`, of rests in order.
fn span(rests: &[u32]) -> Option<String> {
    let (least, most) = (*rests.first()?, *rests.last()?);
    Some(match least == most {
        true => format!("rest {}", minutes(least)),
        false => format!("rest {}–{}", minutes(least), minutes(most)),
    })
}

fn by_muscle(view: &MemberWeekView<'_>, catalogue: &Catalogue) -> Vec<String> {
    let last = if view.before.is_empty() { "" } else { "before" };
    let row = |name: &str, sets: &str, mark: char, direct: &str, aim: &str, before: &str| {
        let row = format!("{name:<11} {sets:>5}{mark}{direct:>6} {aim:<7}{before:>6}");
        row.trim_end().to_owned()
    };
    let mut lines = vec![row("muscle", "sets", ' ', "direct", "aim", last)];
    for (place, line) in view.tally.muscles.iter().enumerate() {
        let before = view.before.get(place).copied();
        if !line.is_of_interest() && before.is_none_or(|sets| sets <= 0.0) {
            continue;
        }
        lines.push(row(
            &catalogue.muscle(line.muscle).name,
            &plain(line.counted),
            mark(line),
            &line.direct.to_string(),
            &super::aim(line),
            &before.map_or_else(String::new, plain),
        ));
    }
    lines
}

/// `-` under the aim, `+` over it, `.` still to come.
fn mark(line: &MuscleWeek) -> char {
    match line.standing() {
        Standing::Under => '-',
        Standing::Over => '+',
        Standing::Open => '.',
        Standing::Within | Standing::Free => ' ',
    }
}

// The team.

/// More members than these are told of only where they are off their aims; the picture has all.
const IN_FULL: usize = 12;

/// Everybody's counted sets, a member a line; `page` 0 opens.
///
/// `rows` are the members of this page, `all` those of every page.
pub fn team(
    week: Week,
    page: usize,
    rows: &[(&str, &WeeklyVolume)],
    all: &[(&str, &WeeklyVolume)],
    catalogue: &Catalogue,
) -> String {
    let mut lines = Vec::new();
    if page == 0 {
        lines.extend(team_in_short(week, all));
    }
    let full = all.len() <= IN_FULL;
    lines.extend(
        rows.iter()
            .map(|(name, tally)| member_line(name, tally, full, catalogue)),
    );
    lines.join("\n")
}

/// What all come to together.
fn team_in_short(week: Week, all: &[(&str, &WeeklyVolume)]) -> Vec<String> {
    let sets: u64 = all.iter().map(|(_, tally)| u64::from(tally.sets)).sum();
    let title = format!(
        "Counted sets, {} to {}: {sets} in all, {}.",
        day(week.first_day()),
        day(week.last_day()),
        count_of(all.len(), "member")
    );
    let lines = || all.iter().flat_map(|(_, tally)| &tally.muscles);
    let how_many = |wanted| lines().filter(|line| line.standing() == wanted).count();
    let texts = [
        (Standing::Within, "met"),
        (Standing::Under, "under"),
        (Standing::Over, "over"),
        (Standing::Open, "still to come"),
    ];
    let texts = texts.map(|(standing, words)| (how_many(standing), words));
    let texts = texts.iter().filter(|(aims, _)| *aims > 0);
    let texts: Vec<String> = texts
        .map(|(aims, words)| format!("{aims} {words}"))
        .collect();
    let aims = match texts.is_empty() {
        true => "No aims are set: `/plan` and `/target` set them.".to_owned(),
        false => format!("Weekly aims: {}.", super::table::and(&texts)),
    };
    let short = (all.len() > IN_FULL)
        .then(|| "Only what is off its aim is listed; the picture has every muscle.".to_owned());
    [Some(title), Some(aims), short]
        .into_iter()
        .flatten()
        .collect()
}

/// `Ines, 6 sets. To come: back 0 of 4. As asked: chest 3, quads 3.`
fn member_line(name: &str, tally: &WeeklyVolume, full: bool, catalogue: &Catalogue) -> String {
    let shown = || tally.muscles.iter().filter(|line| line.is_of_interest());
    let part = |wanted: Standing, words: &str| {
        let those = shown().filter(|line| line.standing() == wanted);
        let those: Vec<String> = those
            .map(|line| {
                let muscle = &catalogue.muscle(line.muscle).name;
                let sets = plain(line.counted);
                match wanted {
                    Standing::Within | Standing::Free => format!("{muscle} {sets}"),
                    _ => format!("{muscle} {sets} of {}", super::span(line.band)),
                }
            })
            .collect();
        (!those.is_empty()).then(|| format!(" {words}: {}.", those.join(", ")))
    };
    let off = [
        (Standing::Under, "Under"),
        (Standing::Over, "Over"),
        (Standing::Open, "To come"),
    ];
    let rest = [(Standing::Within, "As asked"), (Standing::Free, "Also")];
    let off = off.into_iter().filter_map(|(one, words)| part(one, words));
    let rest = rest.into_iter().filter_map(|(one, words)| part(one, words));
    let parts: String = off.chain(rest.filter(|_| full)).collect();
    // Where nothing else is said of the muscles, they are all.
    let parts = match parts.strip_prefix(" Also:") {
        Some(all) => format!(":{all}"),
        None => format!(".{parts}"),
    };
    format!(
        " - {}, {}{parts}",
        shown_name(name),
        one_or_more(tally.sets, "set")
    )
}

/// ` - back squat: +0.8 % (+0.2 to +1.4)`, a line for each lift of which it can be said.
fn strength(courses: &[(ExerciseId, Course)], catalogue: &Catalogue) -> Option<String> {
    let known = courses
        .iter()
        .filter(|(_, course)| course.stalled.is_some());
    let texts = known.map(|(exercise, Course { change, .. })| {
        format!(
            " - {}: {:+.1} % ({:+.1} to {:+.1})",
            catalogue.exercise(*exercise).name,
            100.0 * change.middle,
            100.0 * change.low,
            100.0 * change.high
        )
    });
    let texts: Vec<String> = texts.collect();
    (!texts.is_empty()).then(|| {
        let title = "Strength a week, with the range that holds 8 times in 10:";
        format!("{title}\n{}", texts.join("\n"))
    })
}

// The team's own.

/// An exercise that the team has now.
pub fn added(name: &str) -> String {
    format!("Added {} to the team's exercises.", quoted(name))
}

/// An exercise that cannot be added, and why.
pub fn not_added(fault: &impl std::fmt::Display) -> String {
    format!("Not added: {fault}. Choose another name.")
}

/// The team's settings as they stand, and when the next digest is due by the team's clocks.
pub fn settings(settings: &TeamSettings, next_digest: DateTime<Tz>) -> String {
    let TeamSettings {
        zone,
        week_start,
        unit,
        digest,
        quiet,
        ..
    } = settings;
    let quiet = match quiet {
        Some((from, to)) => format!("No bell rings from {} to {}.", time(*from), time(*to)),
        None => "Bells ring at all hours.".to_owned(),
    };
    let digest = match digest.off {
        true => "There is no digest.".to_owned(),
        false => format!(
            "The digest comes on {} at {}, next on {}, {}.",
            day_name(&digest.day),
            time(digest.minute),
            day(next_digest.date_naive()),
            next_digest.format("%H:%M")
        ),
    };
    format!(
        "Time zone: {zone}. Weeks begin on {}. Unit: {unit}. {quiet} {digest}",
        day_name(week_start)
    )
}

/// `Monday` for `mon`.
fn day_name(short: &str) -> String {
    let day = short.parse::<Weekday>().ok();
    day.map_or_else(
        || short.to_owned(),
        |day| super::session::weekday_name(day).to_owned(),
    )
}

/// A minute of the day: `18:00`.
fn time(minute: u16) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}
