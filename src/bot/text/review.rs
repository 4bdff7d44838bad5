//! Sentences of a review of some weeks.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::table::{WIDTH, block};
use super::{count_of, day, plain, shown_name};
use crate::bot::state::accuracy::Loads;
use crate::domain::coaching::adherence::{Adherence, Efforts};
use crate::domain::coaching::progress::Course;
use crate::domain::coaching::week::WeeklyVolume;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::mass::{Mass, Unit};

/// Some weeks of a member.
pub struct ReviewView<'a> {
    /// The member; `None` where the one who reads it is meant.
    pub name: Option<&'a str>,
    /// The weeks, the oldest first.
    pub weeks: &'a [ReviewedWeek],
    /// What each adds up to.
    pub tallies: &'a [WeeklyVolume],
    /// The lifts, those with most sets first.
    pub lifts: &'a [Lift],
    /// Body masses by day.
    pub masses: &'a [(NaiveDate, Mass)],
    /// Pain of these weeks, open or lifted, in words.
    pub pain: &'a [String],
    /// What coaches changed, and from when it holds.
    pub changes: &'a [(&'static str, NaiveDate)],
    /// The member's unit.
    pub unit: Unit,
    /// The day of asking.
    pub today: NaiveDate,
    /// The team's exercises.
    pub catalogue: &'a Catalogue,
}

/// One week of them.
pub struct ReviewedWeek {
    /// The week.
    pub week: Week,
    /// How far its plan was followed.
    pub adherence: Adherence,
    /// Whether it was a lighter one.
    pub lighter: bool,
    /// How the loads agreed with those advised.
    pub loads: Loads,
}

/// A lift when the weeks began and now.
pub struct Lift {
    /// Which.
    pub exercise: ExerciseId,
    /// Estimated one-rep max, kg, and its spread (log), when they began; `None` for a new lift.
    pub before: Option<(f64, f64)>,
    /// The same now.
    pub now: (f64, f64),
    /// How it comes along.
    pub course: Course,
}

/// Half the width of the central 80 % of a normal distribution, standard deviations.
const CENTRAL_80: f64 = 1.2816;

/// `16 Nov`, the first day of a week.
pub fn label(week: Week) -> String {
    week.first_day().format("%-d %b").to_string()
}

/// The weeks in one look: a summary, then adherence week by week, strength by lift, volume by
/// muscle, body mass, and what was changed.
pub fn review(view: &ReviewView<'_>) -> String {
    let mut parts = vec![title(view)];
    parts.extend(view.pain.iter().map(|line| format!(" - {line}")));
    parts.extend(summary(view));
    parts.push(block(&by_week(view)));
    parts.extend(signs(view));
    let lifts = by_lift(view);
    if !lifts.is_empty() {
        parts.push(format!(
            "Estimated one-rep max in {}, with the range that holds 8 times in 10:",
            view.unit.symbol()
        ));
        parts.extend(lifts);
    }
    let muscles = by_muscle(view);
    if !muscles.is_empty() {
        parts.push("Counted sets by muscle, week by week:".to_owned());
        parts.push(block(&muscles));
        parts.push(
            "The mean leaves out lighter weeks, weeks off and the week that is still on."
                .to_owned(),
        );
    }
    parts.extend(masses(view));
    parts.extend(changes(view));
    parts.join("\n")
}

fn title(view: &ReviewView<'_>) -> String {
    let whose = view.name.map_or_else(|| "You".to_owned(), shown_name);
    let weeks = view.weeks.len();
    let weeks_word = if weeks == 1 { "week" } else { "weeks" };
    let (first, last) = (view.weeks.first(), view.weeks.last());
    let days = first.zip(last).map_or_else(String::new, |(first, last)| {
        format!(
            ", {} to {}",
            day(first.week.first_day()),
            day(last.week.last_day())
        )
    });
    format!("{whose}, {weeks} {weeks_word}{days}.")
}

/// `Did 15 of 18 sessions and 160 of 180 sets; about 1.5 left where 2 were asked. Up: bench press.`
fn summary(view: &ReviewView<'_>) -> Vec<String> {
    let mut sums = ((0, 0), (0, 0));
    let (mut efforts, mut loads) = (Efforts::default(), Loads::default());
    for one in view.weeks {
        let (sessions, sets) = (one.adherence.sessions(), one.adherence.sets());
        sums.0 = (sums.0.0 + sessions.0, sums.0.1 + sessions.1);
        sums.1 = (sums.1.0 + sets.0, sums.1.1 + sets.1);
        efforts = efforts.and(one.adherence.efforts);
        loads = loads.and(one.loads);
    }
    let mut lines = Vec::new();
    let ((done, of), (sets, sets_of)) = sums;
    if of > 0 {
        lines.push(format!(
            "Did {done} of {of} sessions and {sets} of {sets_of} sets."
        ));
    }
    if let Some((asked, left)) = efforts.means() {
        let (asked, left) = (
            super::attention::halves(asked),
            super::attention::halves(left),
        );
        let asked = match efforts.none_asked() {
            true => ", and no effort was asked for".to_owned(),
            false => format!(" where {asked} were asked"),
        };
        lines.push(format!(
            "On average {left} left{asked}, over {} with reps left given.",
            count_of(efforts.rated, "set")
        ));
    }
    if loads.sets() > 0 {
        lines.push(super::coach::loads_line(loads));
    }
    let moved = |up: bool| -> Vec<&str> {
        let lifts = view.lifts.iter();
        let lifts = lifts.filter(|lift| {
            let change = lift.course.change;
            lift.course.stalled.is_some()
                && if up {
                    change.low > 0.0
                } else {
                    change.high < 0.0
                }
        });
        lifts
            .map(|lift| view.catalogue.exercise(lift.exercise).name.as_str())
            .collect()
    };
    let [up, down] = [moved(true), moved(false)];
    let parts = [("Going up", up), ("Falling", down)];
    let parts = parts.iter().filter(|(_, lifts)| !lifts.is_empty());
    lines.extend(parts.map(|(word, lifts)| format!("{word}: {}.", lifts.join(", "))));
    if lines.is_empty() {
        lines.push("Nothing was planned or posted in these weeks.".to_owned());
    }
    vec![lines.join(" ")]
}

fn by_week(view: &ReviewView<'_>) -> Vec<String> {
    let row = |week: &str, sessions: &str, sets: &str, efforts: &str| {
        // What a long cell takes is missing from the next.
        let sets = format!("{sets:>9}");
        let rest = 20_usize.saturating_sub(sets.chars().count());
        format!("{week:<7} {sessions:>8} {sets}{efforts:>rest$}")
    };
    let mut lines = vec![row("week of", "sessions", "sets", "left/asked")];
    for one in view.weeks {
        let (done, of) = one.adherence.sessions();
        let (sets, sets_of) = one.adherence.sets();
        let extra = one.adherence.extra_sets;
        let sessions = if of == 0 {
            "–".to_owned()
        } else {
            format!("{done}/{of}")
        };
        let sets = match (sets_of, extra) {
            (0, extra) => extra.to_string(),
            (of, 0) => format!("{sets}/{of}"),
            (of, extra) => format!("{sets}/{of}+{extra}"),
        };
        let efforts = one.adherence.efforts.means();
        let efforts = efforts.map_or_else(
            || "–".to_owned(),
            |(asked, left)| {
                format!(
                    "{}/{}",
                    super::attention::halves(left),
                    super::attention::halves(asked)
                )
            },
        );
        let note = if one.lighter { "*" } else { "" };
        let week = format!("{}{note}", label(one.week));
        lines.push(row(&week, &sessions, &sets, &efforts));
    }
    lines
}

/// What the signs of the table by week mean, where it has any.
fn signs(view: &ReviewView<'_>) -> Option<String> {
    let lighter = view.weeks.iter().any(|one| one.lighter);
    let last = view.weeks.last();
    let on = last.is_some_and(|one| one.week.contains(view.today));
    let extra = view.weeks.iter().any(|one| {
        let (_, of) = one.adherence.sets();
        of > 0 && one.adherence.extra_sets > 0
    });
    let parts = [
        (extra, "+: sets beyond the plan."),
        (lighter, "*: a lighter week."),
        (on, "The last week is still on."),
    ];
    let parts = parts.iter().filter(|(is, _)| *is);
    let parts: Vec<&str> = parts.map(|(_, words)| *words).collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}

/// ` - back squat: from 100 (95–105) to 108 (104–112), +1.2 % a week (+0.4 to +2.0)`.
fn by_lift(view: &ReviewView<'_>) -> Vec<String> {
    let lift = |lift: &Lift| {
        let name = &view.catalogue.exercise(lift.exercise).name;
        let now = interval(lift.now, view.unit);
        let now = match lift.before {
            None => format!("{now}, new"),
            Some(before) => format!("from {} to {now}", interval(before, view.unit)),
        };
        let change = lift.course.change;
        let change = match lift.course.stalled {
            None => String::new(),
            Some(_) => format!(
                ", {:+.1} % a week ({:+.1} to {:+.1})",
                100.0 * change.middle,
                100.0 * change.low,
                100.0 * change.high
            ),
        };
        format!(" - {name}: {now}{change}")
    };
    view.lifts.iter().map(lift).collect()
}

/// `108 (104–112)`.
fn interval((kg, spread): (f64, f64), unit: Unit) -> String {
    let shown = |kg: f64| {
        let mass = Mass::from_kg(kg).unwrap_or_default();
        format!("{:.0}", mass.amount(unit))
    };
    format!(
        "{} ({}–{})",
        shown(kg),
        shown(kg * (-CENTRAL_80 * spread).exp()),
        shown(kg * (CENTRAL_80 * spread).exp())
    )
}

/// Two lines for each muscle: its mean beside the aim, then its sets week by week, the oldest first.
fn by_muscle(view: &ReviewView<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    let Some(last) = view.tallies.last() else {
        return lines;
    };
    for (place, line) in last.muscles.iter().enumerate() {
        let of_week = |tally: &WeeklyVolume| tally.muscles.get(place).copied();
        let all: Vec<_> = view.tallies.iter().filter_map(of_week).collect();
        if !all.iter().any(|line| line.is_of_interest()) {
            continue;
        }
        let name = &view.catalogue.muscle(line.muscle).name;
        let mean = mean(view, place).map_or_else(|| "–".to_owned(), plain);
        let aim = match super::aim(line) {
            aim if aim.is_empty() => aim,
            aim => format!("  aim {aim}"),
        };
        lines.push(format!("{name:<11}  mean {mean:>5}{aim}"));
        let weeks: Vec<String> = all.iter().map(|line| plain(line.counted)).collect();
        lines.extend(
            weeks
                .chunks(WEEKS_A_LINE)
                .map(|weeks| weeks.iter().map(|sets| format!(" {sets:>4}")).collect()),
        );
    }
    lines
}

/// Weeks in one line of the table by muscle.
const WEEKS_A_LINE: usize = (WIDTH - 1) / 6;

/// Mean counted sets a week of the muscle at this place, over the weeks that are over, were no lighter
/// ones, and have any set.
fn mean(view: &ReviewView<'_>, place: usize) -> Option<f64> {
    let weeks = view.weeks.iter().zip(view.tallies);
    let counts = weeks.filter(|(one, tally)| {
        !one.lighter && one.week.last_day() < view.today && tally.done() > 0
    });
    let counts: Vec<f64> = counts
        .filter_map(|(_, tally)| Some(tally.muscles.get(place)?.counted))
        .collect();
    let weeks = u32::try_from(counts.len())
        .ok()
        .filter(|weeks| *weeks > 0)?;
    Some(counts.iter().sum::<f64>() / f64::from(weeks))
}

fn masses(view: &ReviewView<'_>) -> Option<String> {
    let shown = |mass: Mass| format!("{} {}", plain(mass.amount(view.unit)), view.unit.symbol());
    match view.masses {
        [] => None,
        [(on, mass)] => Some(format!("Body mass: {} on {}.", shown(*mass), day(*on))),
        [(first, before), .., (last, now)] => Some(format!(
            "Body mass: {} on {}, {} on {}.",
            shown(*before),
            day(*first),
            shown(*now),
            day(*last)
        )),
    }
}

/// Changes that are told of.
const CHANGES: usize = 6;

fn changes(view: &ReviewView<'_>) -> Option<String> {
    let skipped = view.changes.len().saturating_sub(CHANGES);
    let changes = view.changes.iter().skip(skipped);
    let changes: Vec<String> = changes
        .map(|(what, from)| format!("{what} from {}", day(*from)))
        .collect();
    let swaps = view.weeks.iter().flat_map(|one| &one.adherence.swaps);
    let mut swapped: Vec<String> = swaps
        .map(|swap| {
            let name = |exercise| &view.catalogue.exercise(exercise).name;
            format!("{} for {}", name(swap.instead), name(swap.planned))
        })
        .collect();
    swapped.sort();
    swapped.dedup();
    let moved = view.weeks.iter().flat_map(|one| &one.adherence.sessions);
    let moved = moved.filter(|session| session.moved().is_some()).count();
    let mut parts = changes;
    if !swapped.is_empty() {
        parts.push(format!("swapped {}", swapped.join(", ")));
    }
    match moved {
        0 => {}
        1 => parts.push("1 session moved to another day".to_owned()),
        several => parts.push(format!("{several} sessions moved to other days")),
    }
    (!parts.is_empty()).then(|| format!("What changed: {}.", parts.join("; ")))
}

/// The numbers behind a review.
pub fn data(view: &ReviewView<'_>) -> Value {
    let weeks = view.weeks.iter().zip(view.tallies).map(|(one, tally)| {
        let (sessions_done, sessions) = one.adherence.sessions();
        let (sets_done, sets) = one.adherence.sets();
        let efforts = one.adherence.efforts.means();
        json!({
            "week": one.week.to_string(),
            "sessions_done": sessions_done,
            "sessions": sessions,
            "sets_done": sets_done,
            "sets": sets,
            "extra_sets": one.adherence.extra_sets,
            "asked": efforts.map(|(asked, _)| asked),
            "left": efforts.map(|(_, left)| left),
            "lighter": one.lighter,
            "muscles": tally.muscles.iter().map(|line| json!({
                "muscle": view.catalogue.muscle(line.muscle).name,
                "counted": line.counted,
            })).collect::<Vec<_>>(),
        })
    });
    let lifts = view.lifts.iter().map(|lift| {
        let span = |(kg, spread): (f64, f64)| {
            json!({
                "kg": kg,
                "low": kg * (-CENTRAL_80 * spread).exp(),
                "high": kg * (CENTRAL_80 * spread).exp(),
            })
        };
        json!({
            "exercise": view.catalogue.exercise(lift.exercise).name,
            "before": lift.before.map(span),
            "now": span(lift.now),
        })
    });
    json!({
        "weeks": weeks.collect::<Vec<_>>(),
        "lifts": lifts.collect::<Vec<_>>(),
    })
}
