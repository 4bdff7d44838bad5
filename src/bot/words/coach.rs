//! Sentences for coaches on members: a week by day, the team's table, who needs them, notes; and on
//! what is the team's own.

use chrono::{DateTime, NaiveDate};
use chrono_tz::Tz;

use super::{day, minutes, plain, quoted, reserve, shown_name};
use crate::bot::report::Report;
use crate::bot::scene::Scene;
use crate::bot::state::{Note, TeamSettings};
use crate::domain::attention::{Concern, of_courses};
use crate::domain::block::Block;
use crate::domain::calendar::Week;
use crate::domain::catalogue::Catalogue;
use crate::domain::effort::Rir;
use crate::domain::id::ExerciseId;
use crate::domain::load::Load;
use crate::domain::log::{GaveOut, LoggedSet, SetKind};
use crate::domain::model::Lifter;
use crate::domain::progress::Course;
use crate::domain::runs::Run;
use crate::domain::week::{FEWEST_REPS, MuscleWeek, Standing, Tally};
use crate::message::block::print_week;

/// Said while nobody but coaches has posted.
pub const NOBODY_YET: &str = "Nobody but coaches has posted in this team yet.";

/// What the last column of a week is.
const BEFORE: &str = "Before: a week's mean over the last four, weeks without a set left out.";

/// Widest line of a table: windows of 80 columns indent it by two.
const WIDTH: usize = 78;

// A member's week.

/// A member's week as a coach sees it.
pub struct Told<'a> {
    /// The member.
    pub name: &'a str,
    /// The week.
    pub week: Week,
    /// What it adds up to.
    pub tally: &'a Tally,
    /// Counted sets a week of the weeks before, by muscle; none where there were none.
    pub before: &'a [f64],
    /// Its runs, by day.
    pub runs: &'a [Run<'a>],
    /// The member as the model sees them.
    pub lifter: &'a Lifter<'a>,
    /// How the week's lifts are coming along.
    pub courses: &'a [(ExerciseId, Course)],
    /// The block with a lighter week next, where something speaks for it.
    pub lighter: Option<&'a Block>,
    /// What coaches noted.
    pub notes: &'a [Note],
}

/// A week by day, then by muscle against the bands and the weeks before.
#[must_use]
pub fn week(told: &Told<'_>) -> String {
    let catalogue = told.lifter.catalogue;
    let days = format!(
        "{} to {}",
        day(told.week.first_day()),
        day(told.week.last_day())
    );
    let name = shown_name(told.name);
    let mut parts = vec![format!(
        "Week of {name}, {days}: {}.",
        sets(told.tally.sets)
    )];
    if !told.runs.is_empty() {
        parts.push(block(&by_day(told)));
    }
    let muscles = by_muscle(told, catalogue);
    if muscles.len() > 1 {
        parts.push(block(&muscles));
    }
    if !told.before.is_empty() {
        parts.push(BEFORE.to_owned());
    }
    parts.extend(super::not_counted(told.tally));
    parts.extend(strength(told.courses, catalogue));
    let concerns = of_courses(told.courses);
    parts.extend(
        concerns
            .iter()
            .flat_map(|one| concern(one, false, catalogue))
            .map(|seen| format!("Seen: {seen}.")),
    );
    parts.extend(told.lighter.map(|block| lighter(told.name, block)));
    parts.extend(told.notes.last().map(note));
    parts.join("\n")
}

fn sets(count: u32) -> String {
    match count {
        1 => "1 set counts".to_owned(),
        count => format!("{count} sets count"),
    }
}

fn block(lines: &[String]) -> String {
    format!("```\n{}\n```", lines.join("\n"))
}

fn by_day(told: &Told<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let mut before: Option<NaiveDate> = None;
    for run in told.runs {
        if before != Some(run.day) {
            lines.push(run.day.format("%a %-d %b").to_string());
        }
        before = Some(run.day);
        lines.extend(run_lines(run, told.lifter));
    }
    lines
}

/// `  back squat: 90 kg ×8,8,7; left 2,1,–; rest 2:30; −12 %; loads up`, broken where it is wide.
fn run_lines(run: &Run<'_>, lifter: &Lifter<'_>) -> Vec<String> {
    let exercise = lifter.catalogue.exercise(run.exercise);
    let mut parts = vec![format!("{}: {}", exercise.name, loads(&run.sets))];
    let straight: Vec<&LoggedSet> = run.straight().collect();
    if straight.iter().any(|set| set.rir.is_some()) {
        let left: Vec<_> = straight.iter().map(|set| left(set.rir)).collect();
        parts.push(format!("left {}", left.join(",")));
    }
    let mut rests = run.rests_s();
    rests.sort_unstable();
    parts.extend(span(&rests));
    parts.extend(
        run.drop_off()
            .map(|share| format!("reps {:+.0} %", -100.0 * share + 0.0)),
    );
    if run.ascends(exercise, lifter.body_mass) {
        parts.push("loads go up".to_owned());
    }
    for (what, words) in [
        (GaveOut::Helpers, "helpers gave out first"),
        (GaveOut::Breath, "breath gave out first"),
    ] {
        if straight.iter().any(|set| set.gave_out == Some(what)) {
            parts.push(words.to_owned());
        }
    }
    if straight.iter().any(|set| set.reps < FEWEST_REPS) {
        parts.push("under five".to_owned());
    }
    broken(&parts)
}

/// Parts in lines no wider than a table, the second and further ones indented.
fn broken(parts: &[String]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 2 + part.chars().count() <= WIDTH => {
                line.push_str("; ");
                line.push_str(part);
            }
            Some(_) => lines.push(format!("    {part}")),
            None => lines.push(format!("  {part}")),
        }
    }
    lines
}

/// `90 kg ×8,8,7, 85 kg ×9`; warm-ups are counted only.
fn loads(sets: &[&LoggedSet]) -> String {
    let warm_ups = sets.iter().filter(|set| set.kind == SetKind::WarmUp);
    let warm_ups = warm_ups.count();
    let work = sets.iter().filter(|set| set.kind != SetKind::WarmUp);
    let work: Vec<&&LoggedSet> = work.collect();
    let kind = |set: &LoggedSet| (set.load, set.kind == SetKind::Other);
    let mut told: Vec<String> = Vec::new();
    for group in work.chunk_by(|a, b| kind(a) == kind(b)) {
        let reps: Vec<_> = group.iter().map(|set| set.reps.to_string()).collect();
        let Some(first) = group.first() else { continue };
        let other = if kind(first).1 { " (not straight)" } else { "" };
        told.push(format!(
            "{} ×{}{other}",
            short_load(first.load),
            reps.join(",")
        ));
    }
    match warm_ups {
        0 => told.join(", "),
        count if told.is_empty() => format!("{count} warm-up"),
        count => format!("{}, +{count} warm-up", told.join(", ")),
    }
}

fn short_load(what: Load) -> String {
    super::load(what)
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

fn by_muscle(told: &Told<'_>, catalogue: &Catalogue) -> Vec<String> {
    let mut lines = vec!["muscle       counted  direct  aim       before".to_owned()];
    for (place, line) in told.tally.muscles.iter().enumerate() {
        let before = told.before.get(place).copied();
        if line.counted <= 0.0 && line.band.low == 0 && before.is_none_or(|sets| sets <= 0.0) {
            continue;
        }
        let before = before.map_or_else(String::new, plain);
        let row = format!(
            "{:<12} {:>6}{}  {:>6}  {:<8}  {before}",
            catalogue.muscle(line.muscle).name,
            plain(line.counted),
            mark(line),
            line.direct,
            super::band(line.band),
        );
        lines.push(row.trim_end().to_owned());
    }
    lines
}

/// `-` under the band, `+` over it.
fn mark(line: &MuscleWeek) -> char {
    match line.standing() {
        Standing::Under => '-',
        Standing::Within => ' ',
        Standing::Over => '+',
    }
}

// The team.

/// Muscles in one table.
const COLUMNS: usize = 11;

/// Everybody's counted sets, muscles across; `page` 0 opens.
#[must_use]
pub fn team(week: Week, page: usize, rows: &[(&str, &Tally)], catalogue: &Catalogue) -> String {
    let lines = rows.iter().flat_map(|(_, tally)| &tally.muscles);
    let mut shown: Vec<_> = lines
        .filter(|line| line.band.low > 0)
        .map(|line| line.muscle)
        .collect();
    shown.sort_unstable();
    shown.dedup();
    let mut parts = Vec::new();
    if page == 0 {
        parts.push(format!(
            "Counted sets, {} to {}; - under the aim, + over it:",
            week.first_day().format("%a %-d %b"),
            week.last_day().format("%a %-d %b")
        ));
    }
    for muscles in shown.chunks(COLUMNS) {
        let head = muscles
            .iter()
            .map(|&muscle| format!(" {:>5}", short(&catalogue.muscle(muscle).name)));
        let mut table = vec![format!("{:<13}{}", "", head.collect::<String>())];
        for (name, tally) in rows {
            let cells = muscles
                .iter()
                .filter_map(|muscle| tally.muscles.get(muscle.index()));
            let cells = cells.map(|line| format!(" {:>4}{}", plain(line.counted), mark(line)));
            let name: String = shown_name(name).chars().take(13).collect();
            let row = format!("{name:<13}{}", cells.collect::<String>());
            table.push(row.trim_end().to_owned());
        }
        parts.push(block(&table));
    }
    parts.join("\n")
}

/// A muscle's name in five letters: the first word of two, or as much as fits.
fn short(name: &str) -> String {
    let word = name.split(' ').next().unwrap_or(name);
    word.chars().take(5).collect()
}

// Who needs the coach.

/// What speaks for looking at a member.
pub struct Worry {
    /// The member.
    pub name: String,
    /// Reports of pain, warning signs first.
    pub hurt: Vec<Report>,
    /// What was told that belongs to a licensed professional, and on which day.
    pub cautions: Vec<(String, NaiveDate)>,
    /// The rest, the most urgent first.
    pub concerns: Vec<Concern>,
    /// The block with a lighter week next, where something speaks for it.
    pub lighter: Option<Block>,
}

impl Worry {
    /// Whether nothing does.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.hurt.is_empty() && self.cautions.is_empty() && self.concerns.is_empty()
    }

    /// What members are ordered by: red flags, then pain, then the most urgent concern, then how
    /// many there are, then the name.
    #[must_use]
    pub fn order(&self) -> (u8, std::cmp::Reverse<usize>, String) {
        let first = self.concerns.first().map_or(u8::MAX, Concern::urgency);
        let urgency = match self.hurt.as_slice() {
            [] => first.saturating_add(2),
            hurt if hurt.iter().any(|report| report.sign.is_some()) => 0,
            _ => 1,
        };
        let many = self.concerns.len() + self.hurt.len();
        (urgency, std::cmp::Reverse(many), self.name.to_lowercase())
    }
}

/// Who needs the coach, the most urgent first, each with why.
#[must_use]
pub fn attention(week: Week, worries: &[Worry], of: usize, scene: &Scene) -> String {
    let days = format!("{} to {}", day(week.first_day()), day(week.last_day()));
    if worries.is_empty() {
        return format!("Nobody needs you by what was posted, {days}.");
    }
    let need = if worries.len() == 1 { "needs" } else { "need" };
    let mut lines = vec![format!("{} of {of} {need} you, {days}:", worries.len())];
    let over = week.last_day() < scene.today();
    for (place, worry) in (1..).zip(worries) {
        lines.push(format!("{place}. {}", shown_name(&worry.name)));
        let hurt = worry
            .hurt
            .iter()
            .map(|report| super::hurt::line(report, scene));
        let cautions = worry.cautions.iter();
        let cautions = cautions.map(|(what, on)| {
            format!("told on {}: {what}. Loads take no account of it.", day(*on))
        });
        let concerns = worry.concerns.iter();
        let concerns = concerns.flat_map(|concern| self::concern(concern, over, scene.catalogue()));
        lines.extend(
            hurt.chain(cautions)
                .chain(concerns)
                .map(|why| format!(" - {why}")),
        );
        let proposed = worry.lighter.as_ref();
        lines.extend(proposed.map(|block| format!("   {}", lighter(&worry.name, block))));
    }
    lines.join("\n")
}

/// A lighter week proposed, in the words of the command that sets it.
fn lighter(name: &str, block: &Block) -> String {
    let weeks: Vec<String> = block.weeks().iter().map(|week| print_week(*week)).collect();
    format!(
        "A lighter week? `/block {} next week {}` sets it.",
        shown_name(name),
        weeks.join("; ")
    )
}

/// `back squat +0.8 % (+0.2 to +1.4)`, a line for each lift of which it can be said.
fn strength(courses: &[(ExerciseId, Course)], catalogue: &Catalogue) -> Option<String> {
    let known = courses
        .iter()
        .filter(|(_, course)| course.stalled.is_some());
    let told = known.map(|(exercise, Course { change, .. })| {
        format!(
            "{} {:+.1} % ({:+.1} to {:+.1})",
            catalogue.exercise(*exercise).name,
            100.0 * change.middle,
            100.0 * change.low,
            100.0 * change.high
        )
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| {
        let title = "Strength, change a week, and what holds four times in five:";
        format!("{title}\n{}", block(&told))
    })
}

/// A concern in a line, or a line for each lift; `over` once the week is.
fn concern(concern: &Concern, over: bool, catalogue: &Catalogue) -> Vec<String> {
    vec![match concern {
        Concern::Stalled(lifts) => {
            let told = lifts.iter().map(|lift| stalled(*lift, catalogue));
            return told.collect();
        }
        Concern::Silent(None) => "nothing posted yet".to_owned(),
        Concern::Silent(Some(last)) => format!("nothing posted since {}", day(*last)),
        Concern::Missed(1) => "nothing posted this week, 1 planned day gone".to_owned(),
        Concern::Missed(days) => {
            format!("nothing posted this week, {days} planned days gone")
        }
        Concern::FarUnder(lines) => {
            let ends = if over { "ended" } else { "ends" };
            format!("{ends} far under: {}", muscles(lines, catalogue))
        }
        Concern::FarOver(lines) => format!("far over: {}", muscles(lines, catalogue)),
        Concern::RunDown(chance) => {
            format!("under the usual form on all lifts ({})", sure(*chance))
        }
        Concern::Ascending { runs, of } => {
            format!("loads only go up in {runs} of {of} runs of sets")
        }
        Concern::UnderFive(sets) => format!("{sets} sets under five reps"),
        Concern::ShortRests { short, of } => {
            format!("{short} of {of} rests under half of the usual")
        }
    }]
}

/// `no gain on back squat (80 % sure, -0.1 % a week)`.
fn stalled((exercise, chance, change): (ExerciseId, f64, f64), catalogue: &Catalogue) -> String {
    format!(
        "no gain on {} ({}, {:+.1} % a week)",
        catalogue.exercise(exercise).name,
        sure(chance),
        100.0 * change
    )
}

fn sure(chance: f64) -> String {
    format!("{:.0} % sure", 100.0 * chance)
}

/// `quads 2 of 10–20, back 3 of 10–20 and 4 more`: as many as a line holds.
fn muscles(lines: &[MuscleWeek], catalogue: &Catalogue) -> String {
    const MOST: usize = 2;
    let told = lines.iter().take(MOST).map(|line| {
        let name = &catalogue.muscle(line.muscle).name;
        format!(
            "{name} {} of {}",
            plain(line.counted),
            super::band(line.band)
        )
    });
    let told = told.collect::<Vec<_>>().join(", ");
    match lines.len().saturating_sub(MOST) {
        0 => told,
        more => format!("{told} and {more} more"),
    }
}

// Notes.

/// Said once a note is kept.
#[must_use]
pub fn noted(name: &str) -> String {
    format!("Noted on {}. Only coaches see it.", shown_name(name))
}

/// The notes on a member, the latest first.
#[must_use]
pub fn notes(name: &str, notes: &[Note]) -> String {
    let name = shown_name(name);
    if notes.is_empty() {
        return format!("No note on {name} yet: `/note NAME TEXT`.");
    }
    let lines: Vec<_> = notes.iter().rev().map(note).collect();
    format!("Notes on {name}:\n{}", lines.join("\n"))
}

fn note(note: &Note) -> String {
    let text: String = note.text.chars().filter(|c| !c.is_control()).collect();
    let text: String = text
        .chars()
        .map(|c| if c == '`' { '\'' } else { c })
        .collect();
    format!("Note of {}: {}", day(note.day), text.replace('@', ""))
}

// The team's own.

/// An exercise that the team has now.
#[must_use]
pub fn added(name: &str) -> String {
    format!("Added {} to the team's exercises.", quoted(name))
}

/// An exercise that cannot be added, and why.
#[must_use]
pub fn not_added(fault: &impl std::fmt::Display) -> String {
    format!("Not added: {fault}. Choose another name.")
}

/// The team's settings as they stand, and when the next digest is due by the team's clocks.
#[must_use]
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
        Some((from, to)) => format!("quiet from {} to {}", time(*from), time(*to)),
        None => "bells at all hours".to_owned(),
    };
    let digest = match digest.off {
        true => "no digest".to_owned(),
        false => format!(
            "digest {} {}, next on {}, {}",
            digest.day,
            time(digest.minute),
            day(next_digest.date_naive()),
            next_digest.format("%H:%M")
        ),
    };
    format!("Time zone {zone}, weeks from {week_start}, unit {unit}, {quiet}, {digest}.")
}

/// A minute of the day: `18:00`.
fn time(minute: u16) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}
