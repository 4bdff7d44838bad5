//! Words in and of pictures: titles, legends, numbers, and the text alternatives.

use chrono::{Datelike as _, NaiveDate};

use super::table::and;
use super::{count_of, plain, sets_count, shown_name};
use crate::bot::figure::{Figure, LiftFigure, LiftPoint, TeamFigure, TeamLine, WeekFigure};
use crate::domain::coaching::week::Standing;

/// Longest text alternative, characters: what team channels take.
pub const LONGEST_ALT: usize = 1024;

/// What a standing is called.
pub const fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Under => "under",
        Standing::Within => "as asked",
        Standing::Over => "over",
        Standing::Open => "to come",
        Standing::Free => "nothing asked",
    }
}

/// Heads of the numbers beside a week's bars.
pub const WEEK_HEADS: [&str; 3] = ["counted", "direct", "aim"];
/// Said of the solid part of a bar.
pub const DIRECT: &str = "direct sets";
/// Said of the hollow part of a bar.
pub const HELPING: &str = "as a helper";
/// Said of the thin lines above a bar.
pub const BEFORE: &str = "the 4 weeks before, latest nearest";
/// Said of the field behind a bar.
pub const BAND: &str = "aim";
/// In place of bars where there is nothing to show.
pub const NO_BARS: &str = "No sets count this week, and none are asked for.";
/// Said of the number of a muscle of which nothing is asked: the published band.
pub const IN_BRACKETS: &str = "in brackets: the published range, as a background";
/// At the end of a bar that is longer than there is room.
pub const BEYOND: &str = "…";
/// Said of the field about a lift's line.
pub const INTERVAL: &str = "80 % interval, as known after each day";
/// Said of the dashed part of a lift's line.
pub const PAUSE: &str = "pause of over three weeks";
/// Said of a dot of a lift.
pub const A_SET: &str = "heaviest set of a day";
/// Said of a best of a lift.
pub const A_BEST: &str = "a best, in load or reps";
/// In place of a line where there is none.
pub const NO_DAYS: &str = "No work set of it yet.";
/// In place of a grid where there is nobody.
pub const NOBODY: &str = "Nobody to show.";

/// `23–29 Nov 2026`, `30 Nov – 6 Dec 2026`.
pub fn days(from: NaiveDate, to: NaiveDate) -> String {
    let end = to.format("%-d %b %Y");
    if (from.year(), from.month()) == (to.year(), to.month()) {
        format!("{}–{end}", from.day())
    } else if from.year() == to.year() {
        format!("{} – {end}", from.format("%-d %b"))
    } else {
        format!("{} – {end}", from.format("%-d %b %Y"))
    }
}

/// Counted sets as shown: `6.5`, from a hundred on without halves, from ten thousand on `9999+`.
pub fn counted(sets: f64) -> String {
    match sets {
        sets if !sets.is_finite() || sets < 0.0 => "–".to_owned(),
        sets if sets >= 10_000.0 => "9999+".to_owned(),
        sets if sets >= 100.0 => format!("{sets:.0}"),
        sets => plain(sets),
    }
}

/// Counted sets in a narrow cell: `12.5`, from a hundred on `99+`.
pub fn in_cell(sets: f64) -> String {
    match sets {
        sets if !sets.is_finite() || sets < 0.0 => "–".to_owned(),
        sets if sets >= 100.0 => "99+".to_owned(),
        sets => plain(sets),
    }
}

/// A whole number in a narrow column.
pub fn direct(sets: u32) -> String {
    counted(f64::from(sets))
}

/// `10–20`, `to 20` where nothing is aimed at.
pub fn band(low: u32, high: u32) -> String {
    let end = |sets: u32| match sets {
        sets if sets >= 1000 => "999+".to_owned(),
        sets => sets.to_string(),
    };
    let [low_text, high_text] = [low, high].map(end);
    if low == 0 {
        format!("to {high_text}")
    } else if low == high {
        low_text
    } else {
        format!("{low_text}–{high_text}")
    }
}

/// The title of a member's week.
pub fn week_title(week: &WeekFigure) -> String {
    match &week.whose {
        Some(name) => shown_name(name),
        None => "Your week".to_owned(),
    }
}

/// The line under it.
pub fn week_line(week: &WeekFigure) -> String {
    let mut line = format!("{}: {}", days(week.from, week.to), sets_count(week.sets));
    if week.not_counted > 0 {
        let do_not = if week.not_counted == 1 { "does" } else { "do" };
        line.push_str(&format!(", {} {do_not} not", week.not_counted));
    }
    line
}

/// The title of a lift.
pub fn lift_title(lift: &LiftFigure) -> String {
    super::capital(&lift.exercise)
}

/// The line under it: what the figure is of.
pub fn lift_line(lift: &LiftFigure) -> String {
    format!("Your estimated one-rep max, {}", lift.unit)
}

/// The latest figure: `104 kg (100 to 108)`.
pub fn lift_now(point: &LiftPoint, unit: &str) -> String {
    format!(
        "{} {unit} ({} to {})",
        amount(point.middle),
        amount(point.low),
        amount(point.high)
    )
}

/// A mass in a lift's picture, without decimals; short however large.
pub fn amount(amount: f64) -> String {
    if !amount.is_finite() {
        "–".to_owned()
    } else if amount.abs() >= 100_000.0 {
        format!("{amount:.1e}")
    } else {
        format!("{amount:.0}")
    }
}

/// A mark of an axis of masses: with a decimal where the marks stand that close.
pub fn on_axis(amount_at: f64, step: f64) -> String {
    if step < 1.0 && amount_at.abs() < 100_000.0 {
        format!("{amount_at:.1}")
    } else {
        amount(amount_at)
    }
}

/// A mark of the axis of days. Over long times months are enough; the last mark names its year.
pub fn day_on_axis(day: NaiveDate, long: bool, last: bool) -> String {
    let format = match (long, last) {
        (true, _) => "%b %Y",
        (false, true) => "%-d %b %Y",
        (false, false) => "%-d %b",
    };
    day.format(format).to_string()
}

/// The title of a team's week.
pub fn team_title(team: &TeamFigure) -> String {
    let days = days(team.from, team.to);
    if let Some(whose) = &team.weeks_of {
        return format!("{whose}, {days}");
    }
    match team.page {
        (_, 1) => format!("Team, {days}"),
        (page, of) => format!("Team, {days} ({page} of {of})"),
    }
}

/// The line under it.
pub fn team_line(team: &TeamFigure) -> String {
    if team.weeks_of.is_some() {
        return "Counted sets by muscle, week by week".to_owned();
    }
    let named = team.members.len() - usize::from(team.mean_of.is_some());
    let members = count_of(named, "member");
    match team.mean_of {
        None => format!("Counted sets by muscle, {members}"),
        Some(of) if named == 0 => format!("Counted sets by muscle, {}", mean_of(of)),
        Some(of) => format!("Counted sets by muscle, {} and {members}", mean_of(of)),
    }
}

/// The row of the mean.
pub fn mean_of(lifters: u32) -> String {
    match lifters {
        1 => "one lifter".to_owned(),
        lifters => format!("mean of {lifters}"),
    }
}

/// Who has a name that cannot be drawn: by place.
pub fn nameless(place: usize) -> String {
    format!("no. {place}")
}

/// What a picture has no room for.
pub fn more(members: usize, muscles: usize) -> String {
    let parts = [(members, "members"), (muscles, "muscles")];
    let parts = parts.iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> = parts
        .map(|(count, what)| format!("{count} {what}"))
        .collect();
    format!("Not drawn: {} more.", parts.join(" and "))
}

// Text alternatives.

/// What a picture says, in words; at most [`LONGEST_ALT`] characters.
pub fn alt(figure: &Figure) -> String {
    let text = match figure {
        Figure::Week(week) => week_alt(week),
        Figure::Lift(lift) => lift_alt(lift),
        Figure::Team(team) => team_alt(team),
    };
    cut(text)
}

fn cut(text: String) -> String {
    if text.chars().count() <= LONGEST_ALT {
        return text;
    }
    let kept: String = text.chars().take(LONGEST_ALT - 1).collect();
    format!("{kept}…")
}

/// Parts of a sentence, as many as fit into so many characters; then how many are left.
fn listed(parts: &[String], room: usize) -> String {
    let mut text = String::new();
    for (place, part) in parts.iter().enumerate() {
        let left = parts.len() - place;
        let reserve = if left > 1 { 16 } else { 0 };
        if text.chars().count() + part.chars().count() + 2 + reserve > room {
            let more = format!("and {left} more");
            return match text.is_empty() {
                true => more,
                false => format!("{text}, {more}"),
            };
        }
        if place > 0 {
            text.push_str(", ");
        }
        text.push_str(part);
    }
    text
}

fn week_alt(week: &WeekFigure) -> String {
    let whose = match &week.whose {
        Some(name) => format!("The counted sets of {} by muscle", shown_name(name)),
        None => "Your counted sets by muscle".to_owned(),
    };
    let mut text = format!("{whose}, {}.", week_line(week));
    if week.muscles.is_empty() {
        return format!("{text} {NO_BARS}");
    }
    let sentences = [
        (Standing::Under, "Under the aim:"),
        (Standing::Over, "Over the aim:"),
        (Standing::Open, "Still to come:"),
        (Standing::Within, "As asked:"),
        (Standing::Free, "Without an aim:"),
    ];
    for (wanted, opens) in sentences {
        let those = week.muscles.iter().filter(|m| m.standing() == wanted);
        // What nobody asked for and nobody did needs no word.
        let those = those.filter(|m| wanted != Standing::Free || m.counted > 0.0);
        let those: Vec<String> = those
            .map(|m| match wanted {
                Standing::Within | Standing::Free => format!("{} {}", m.muscle, counted(m.counted)),
                _ => format!(
                    "{} {} of {}",
                    m.muscle,
                    counted(m.counted),
                    band(m.low, m.high)
                ),
            })
            .collect();
        let room = (LONGEST_ALT - 40).saturating_sub(text.chars().count());
        if !those.is_empty() && room > 60 {
            text.push_str(&format!(" {opens} {}.", listed(&those, room.min(300))));
        }
    }
    text
}

fn lift_alt(lift: &LiftFigure) -> String {
    let title = lift_title(lift);
    let (Some(first), Some(last)) = (lift.points.first(), lift.points.last()) else {
        return format!("{title}. {NO_DAYS}");
    };
    let on = |point: &LiftPoint| {
        let now = lift_now(point, &lift.unit);
        format!("{now} on {}", point.day.format("%-d %b %Y"))
    };
    if lift.points.len() == 1 {
        return format!(
            "{title}: your estimated one-rep max was {}, the only day yet.",
            on(last)
        );
    }
    let by_middle = |a: &&LiftPoint, b: &&LiftPoint| a.middle.total_cmp(&b.middle);
    let best = lift.points.iter().max_by(by_middle).unwrap_or(last);
    let heaviest = lift.sets.iter().filter(|set| set.mass.is_finite());
    let heaviest = heaviest.max_by(|a, b| a.mass.total_cmp(&b.mass).then(a.reps.cmp(&b.reps)));
    let heaviest = heaviest.map_or_else(String::new, |set| {
        format!(
            " The heaviest set was {} {} for {} on {}.",
            plain(set.mass),
            lift.unit,
            super::reps(set.reps),
            set.day.format("%-d %b %Y")
        )
    });
    let highest = match best.day == last.day {
        true => ", the highest so far".to_owned(),
        false => format!("; the highest was {}", on(best)),
    };
    format!(
        "{title}: a line of your estimated one-rep max over {} training days. It began at {} and now \
         stands at {}{highest}. I am 80 % sure of the range in brackets.{heaviest}",
        lift.points.len(),
        on(first),
        on(last)
    )
}

fn team_alt(team: &TeamFigure) -> String {
    if team.members.is_empty() {
        return format!("{}. {NOBODY}", team_title(team));
    }
    let named = team
        .members
        .get(usize::from(team.mean_of.is_some())..)
        .unwrap_or_default();
    let all = named.iter().flat_map(|member| &member.cells);
    let (mut under, mut within, mut over, mut open) = (0, 0, 0, 0);
    for cell in all {
        *match cell.standing() {
            Standing::Under => &mut under,
            Standing::Within => &mut within,
            Standing::Over => &mut over,
            Standing::Open => &mut open,
            Standing::Free => continue,
        } += 1;
    }
    let sets: u64 = named.iter().map(|member| u64::from(member.sets)).sum();
    let mean = team.members.first().filter(|_| team.mean_of.is_some());
    let mean = mean.map(|mean| mean_alt(team, mean));
    if named.is_empty() {
        let mean = mean.unwrap_or_default();
        return format!(
            "{}. {}. On average they did {mean}",
            team_title(team),
            team_line(team)
        );
    }
    let standings = [
        (within, "met"),
        (under, "short"),
        (over, "exceeded"),
        (open, "still to come"),
    ];
    let texts = standings.iter().filter(|(count, _)| *count > 0);
    let texts: Vec<String> = texts
        .map(|(count, what)| format!("{count} {what}"))
        .collect();
    let aims = match texts.is_empty() {
        true => "Nobody was asked for anything".to_owned(),
        false => format!("Weekly aims: {}", and(&texts)),
    };
    let sum = match (sets, &mean) {
        // Of those who are named beside a mean the sum says nothing.
        (_, Some(_)) => String::new(),
        (1, None) => ": 1 set".to_owned(),
        (sets, None) => format!(": {sets} sets"),
    };
    let mut text = format!("{}. {}{sum}. {aims}.", team_title(team), team_line(team));
    let by_muscle: Vec<String> = lacking(team);
    if !by_muscle.is_empty() {
        let who = if team.weeks_of.is_some() {
            "Short in most weeks"
        } else {
            "Short for most members"
        };
        text.push_str(&format!(" {who}: {}.", listed(&by_muscle, 200)));
    }
    if let Some(mean) = mean {
        text.push_str(&format!(" On average, those who trained did {mean}"));
    }
    let members: Vec<String> = named.iter().map(member_alt).collect();
    let room = (LONGEST_ALT - 20).saturating_sub(text.chars().count());
    let by = if team.weeks_of.is_some() {
        "Week by week"
    } else {
        "Member by member"
    };
    format!("{text} {by}: {}.", listed(&members, room))
}

/// `34 sets: chest 5.2, back 8.` of the row of the mean; the most trained first.
fn mean_alt(team: &TeamFigure, mean: &TeamLine) -> String {
    let mut muscles: Vec<_> = team.muscles.iter().zip(&mean.cells).collect();
    muscles.sort_by(|(_, a), (_, b)| b.counted.total_cmp(&a.counted));
    let muscles: Vec<String> = muscles
        .iter()
        .map(|(muscle, cell)| format!("{muscle} {}", counted(cell.counted)))
        .collect();
    let sets = if mean.sets == 1 { "set" } else { "sets" };
    format!("{} {sets}: {}.", mean.sets, listed(&muscles, 200))
}

/// How many are under, by muscle; the most first.
fn lacking(team: &TeamFigure) -> Vec<String> {
    let under = |place: usize| {
        let cells = team.members.iter().filter_map(|m| m.cells.get(place));
        cells
            .filter(|cell| cell.standing() == Standing::Under)
            .count()
    };
    let counts = team.muscles.iter().enumerate();
    let mut counts: Vec<(usize, &str)> = counts
        .map(|(place, muscle)| (under(place), muscle.as_str()))
        .filter(|(count, _)| *count > 0)
        .collect();
    counts.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    let text = |(count, muscle): &(usize, &str)| format!("{muscle} {count}");
    counts.iter().map(text).collect()
}

/// `Ines 34 sets with 5 aims short`.
fn member_alt(member: &TeamLine) -> String {
    let cells = member.cells.iter();
    let short = cells.filter(|cell| cell.standing() == Standing::Under);
    let short = match short.count() {
        0 => String::new(),
        1 => " with 1 aim short".to_owned(),
        aims => format!(" with {aims} aims short"),
    };
    let sets = if member.sets == 1 { "set" } else { "sets" };
    format!("{} {} {sets}{short}", member.name, member.sets)
}
