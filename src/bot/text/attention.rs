//! Sentences on who needs the coach: one reason each, and what could be done.

use chrono::NaiveDate;

use super::table::and;
use super::{band, capital, count_of, day, plain, shown_name};
use crate::bot::state::Lifted;
use crate::bot::state::report::Report;
use crate::bot::state::view::View;
use crate::domain::coaching::adherence::Efforts;
use crate::domain::coaching::attention::{Concern, Kind, Slow};
use crate::domain::coaching::block::Block;
use crate::domain::coaching::week::MuscleWeek;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::warning::WarningSign;
use crate::message::forms::block::print_week;
use crate::message::intent::absence::Span;

/// Said while nobody but coaches has posted.
pub const NOBODY_YET: &str = "Nobody but coaches has posted in this team yet.";

/// What speaks for looking at a member.
#[derive(Clone, Debug, PartialEq)]
pub struct Worry {
    /// The member.
    pub name: String,
    /// Whether it is the coach who asks.
    pub own: bool,
    /// Reports of pain, warning signs first.
    pub hurt: Vec<Report>,
    /// What was trained since in spite of them.
    pub anyway: Option<String>,
    /// What was asked whether it hurts, and has no answer yet.
    pub asked: Vec<Report>,
    /// What was told that belongs to a licensed professional, and on which day.
    pub cautions: Vec<(String, NaiveDate)>,
    /// The rest, the most urgent first.
    pub concerns: Vec<Concern>,
    /// The block with a lighter week next, where something speaks for it.
    pub lighter: Option<Block>,
    /// How the member stands otherwise.
    pub group: Group,
    /// Times away that meet the week.
    pub away: Vec<Span>,
    /// What was left out for pain that is over.
    pub excused: Option<String>,
}

/// How a member stands of whom nothing needs to be said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Does what the plan asks for.
    OnPlan,
    /// Does what the lighter week's plan asks for.
    Lighter,
    /// Trains without a plan.
    NoPlan,
    /// Nothing to do or nothing done yet.
    Resting,
    /// Said that they are away.
    Away,
    /// What there was to say was dismissed.
    Dismissed,
}

impl Worry {
    /// Whether nothing speaks for it.
    pub fn is_empty(&self) -> bool {
        self.hurt.is_empty()
            && self.asked.is_empty()
            && self.cautions.is_empty()
            && self.concerns.is_empty()
    }

    /// What members are ordered by: warning signs, then pain, then what may be pain, then what belongs to
    /// a professional, then the most urgent concern, then how many there are, then the name.
    pub fn order(&self) -> (u8, Option<Kind>, std::cmp::Reverse<usize>, String) {
        let urgency = match (self.hurt.as_slice(), self.asked.as_slice()) {
            ([], []) if self.cautions.is_empty() => 4,
            ([], []) => 3,
            ([], _) => 2,
            (hurt, _) if hurt.iter().any(|report| report.sign.is_some()) => 0,
            _ => 1,
        };
        let many = self.concerns.len() + self.hurt.len() + self.asked.len();
        let first = self.concerns.first().map(Concern::kind);
        let name = self.name.to_lowercase();
        (urgency, first, std::cmp::Reverse(many), name)
    }

    /// The word that the first line counts it under.
    fn word(&self) -> &'static str {
        match self.order().0 {
            0 => "warning sign",
            1 => "pain",
            2 => "perhaps pain",
            3 => "a matter for a doctor",
            _ => self
                .concerns
                .first()
                .map_or("", |concern| in_short(concern.kind())),
        }
    }
}

/// A kind in two words.
const fn in_short(kind: Kind) -> &'static str {
    match kind {
        Kind::Silence => "silent",
        Kind::Sessions => "missed sessions",
        Kind::Sets => "sets left out",
        Kind::Effort => "effort off plan",
        Kind::Unrated => "no efforts given",
        Kind::Fall => "a lift falls",
        Kind::Stall => "a lift stands still",
        Kind::Form => "form down",
        Kind::Volume => "volume off aim",
        Kind::Ramping => "loads only go up",
        Kind::Heavy => "sets under five reps",
        Kind::Rests => "short rests",
    }
}

/// Members told of in full; the others together, by kind.
const IN_FULL: usize = 12;

/// Who needs the coach, the most urgent first, each with why; then how the others stand.
///
/// `worries` are those to be told of, in order; `others` how many stand how, `unheard` how many would
/// be told of but for what the coach does not want to hear.
pub fn attention(
    week: Week,
    worries: &[Worry],
    others: &[(Group, usize)],
    unheard: &[(Kind, usize)],
    view: &View,
) -> String {
    let days = format!("{} to {}", day(week.first_day()), day(week.last_day()));
    let of = worries.len() + others.iter().map(|(_, members)| members).sum::<usize>();
    let over = week.last_day() < view.today();
    let mut lines = vec![match worries {
        [] => format!("{days}: nobody needs you, going by what was posted."),
        [_] => format!("1 of {of} needs you, {days}."),
        several => format!(
            "{} of {of} need you, {days}: {}.",
            several.len(),
            counts(several)
        ),
    }];
    let (first, rest) = worries.split_at(worries.len().min(IN_FULL));
    for (place, worry) in (1..).zip(first) {
        lines.extend(in_full(place, worry, over, view));
    }
    // Of many, a line for each kind; none is left out.
    lines.extend(rest.chunk_by(|a, b| a.word() == b.word()).map(|alike| {
        let names: Vec<String> = alike.iter().map(|one| shown_name(&one.name)).collect();
        let word = alike.first().map_or("", Worry::word);
        format!("{} more with {word}: {}.", alike.len(), and(&names))
    }));
    lines.extend(groups(others, worries.is_empty(), over));
    // A week that has just begun has little to say yet.
    let begun = view.today() - week.first_day();
    if !over && begun < chrono::Duration::days(2) {
        lines.push("How last week ended: `/attention last week`.".to_owned());
    }
    let unheard = unheard.iter().map(|(kind, members)| {
        format!(
            "Not listed: {members} with {} (`/attention on {}` lists them).",
            in_short(*kind),
            kind.word()
        )
    });
    lines.extend(unheard);
    lines.join("\n")
}

/// `pain 1, missed sessions 2`.
fn counts(worries: &[Worry]) -> String {
    let texts = worries.chunk_by(|a, b| a.word() == b.word());
    let texts =
        texts.filter_map(|alike| Some(format!("{} {}", alike.first()?.word(), alike.len())));
    texts.collect::<Vec<_>>().join(", ")
}

fn in_full(place: usize, worry: &Worry, over: bool, view: &View) -> Vec<String> {
    let name = shown_name(&worry.name);
    let mut lines: Vec<String> = Vec::new();
    for report in &worry.hurt {
        lines.push(super::hurt::line(report, view));
    }
    lines.extend(worry.anyway.clone());
    for report in &worry.asked {
        lines.push(super::hurt::unanswered(report, view));
    }
    for (what, on) in &worry.cautions {
        lines.push(format!(
            "said on {}: {what}. My loads do not allow for it.",
            day(*on)
        ));
    }
    let concern = worry.concerns.first().filter(|_| lines.is_empty());
    if let Some(concern) = concern {
        let what = match &worry.lighter {
            Some(block) if proposes(concern) => lighter(&worry.name, block),
            _ => to_do(concern, &name),
        };
        let why = reason(concern, over, view.catalogue());
        let others = worry.concerns.iter().skip(1);
        let also = others.map(|one| format!("   Also: {}", reason(one, over, view.catalogue())));
        let mut block = vec![format!("{place}. {name}: {why}")];
        block.extend(also);
        block.push(format!("   → {what}"));
        return block;
    }
    let what = what_about_pain(worry, &name);
    let mut block = vec![format!("{place}. {name}")];
    block.extend(lines.iter().map(|why| format!(" - {why}")));
    block.push(format!("   → {what}"));
    block
}

/// What a coach does about pain, and about what belongs to a professional.
fn what_about_pain(worry: &Worry, name: &str) -> String {
    let has = |sign: WarningSign| worry.hurt.iter().any(|one| one.sign() == Some(sign));
    let ill = |report: &Report| report.is_sign() && report.sign() != Some(WarningSign::Suicide);
    let ill = worry.hurt.iter().any(ill);
    if ill && worry.own {
        return format!(
            "Your own: see a doctor before you train. Then another coach clears you, or `/clear {name}` \
             where there is none."
        );
    }
    if ill {
        return format!("Call {name} now. After a doctor's word: `/clear {name}`.");
    }
    if has(WarningSign::Suicide) && worry.own {
        return "Your own: talk to someone you trust, a crisis line or a doctor.".to_owned();
    }
    if has(WarningSign::Suicide) {
        return format!(
            "Call {name} now and stay in touch. Once they have talked with someone who can help: \
             `/clear {name}`."
        );
    }
    if has(WarningSign::Bystander) {
        return format!("Ask {name} how it went. Then: `/clear {name}`.");
    }
    match (worry.hurt.as_slice(), worry.asked.as_slice()) {
        ([], []) => format!("Ask for a doctor's word. Then: `/attention dismiss {name}`."),
        ([], _) => format!("Ask {name} whether it hurts. If not: `/clear {name}`."),
        _ => format!("Ask how it is before the next session. Well again: `/clear {name}`."),
    }
}

/// Whether a lighter week is an answer to it.
const fn proposes(concern: &Concern) -> bool {
    matches!(
        concern,
        Concern::Falling(_) | Concern::Stalled(_) | Concern::RunDown(_)
    )
}

/// `The other 14: 12 on plan, 2 without a plan.`
fn groups(others: &[(Group, usize)], alone: bool, over: bool) -> Option<String> {
    let all: usize = others.iter().map(|(_, members)| members).sum();
    let texts = others.iter().map(|(group, members)| {
        let what = match (group, over) {
            (Group::OnPlan, true) => "on plan",
            (Group::OnPlan, false) => "on plan so far",
            (Group::Lighter, _) => "on plan in a lighter week",
            (Group::NoPlan, _) => "training without a plan",
            (Group::Resting, _) => "with nothing to do or nothing posted yet",
            (Group::Away, _) => "away",
            (Group::Dismissed, _) => "dealt with",
        };
        format!("{members} {what}")
    });
    let texts = texts.collect::<Vec<_>>().join(", ");
    (all > 0).then(|| match alone {
        true => format!("{}.", capital(&texts)),
        false => format!("The others: {texts}."),
    })
}

/// `Cleo: 4 of 15 sets, pain (knee), cleared on Tuesday 3 November.`
pub fn excused(name: &str, (done, of): (u32, u32), lifted: &Lifted) -> String {
    format!(
        "{}: {done} of {of} sets, {}, cleared on {}.",
        shown_name(name),
        lifted.what,
        day(lifted.on)
    )
}

/// A lighter week proposed, in the words of the command that sets it.
pub fn lighter(name: &str, block: &Block) -> String {
    let weeks: Vec<String> = block.weeks().iter().map(|week| print_week(*week)).collect();
    format!(
        "A lighter week? `/block {} next week {}` sets it.",
        shown_name(name),
        weeks.join("; ")
    )
}

/// A concern as a sentence; `over` once the week is.
pub fn reason(concern: &Concern, over: bool, catalogue: &Catalogue) -> String {
    match concern {
        Concern::Silent(None, _) => "Nothing posted yet.".to_owned(),
        Concern::Silent(Some(last), None) => format!("Nothing posted since {}.", day(*last)),
        Concern::Silent(Some(last), Some(usual)) => format!(
            "Nothing posted since {}; usually at most {} pass.",
            day(*last),
            days(*usual)
        ),
        Concern::Missed { sessions, of, days } => {
            let missed = format!("Missed {sessions} of {of} planned {}", sessions_word(*of));
            let days = days.iter().map(|day| day.format("%A").to_string());
            match days.collect::<Vec<_>>().join(", ") {
                days if days.is_empty() => format!("{missed}."),
                days => format!("{missed} ({days})."),
            }
        }
        Concern::ShortOfSets { done, of, left_out } => {
            let names = left_out
                .iter()
                .map(|id| catalogue.exercise(*id).name.as_str());
            let names: Vec<&str> = names.collect();
            let not_once = match names.as_slice() {
                [] => String::new(),
                names => format!(" Not once: {}.", names.join(", ")),
            };
            format!("Did {done} of the {of} planned sets in the sessions that were done.{not_once}")
        }
        Concern::TooHard(efforts) => format!("{}: too close to failure.", left_where(efforts)),
        Concern::TooEasy(efforts) => format!("{}: too far from failure.", left_where(efforts)),
        Concern::Unrated(sets) => {
            format!(
                "Did not say how many reps were left for most of {sets} sets, so what counts is guesswork."
            )
        }
        Concern::Falling(lifts) => {
            let texts = listed(lifts, |lift| {
                let name = &catalogue.exercise(lift.exercise).name;
                let fall = format!("{:.1}", -100.0 * lift.change);
                format!(
                    "{name} falls by about {fall} % a week ({})",
                    sure(lift.chance)
                )
            });
            format!("{}.", capital(&texts))
        }
        Concern::Stalled(lifts) => {
            let texts = listed(lifts, |lift| {
                let name = &catalogue.exercise(lift.exercise).name;
                format!("{name} stands still ({})", sure(lift.chance))
            });
            format!("{}.", capital(&texts))
        }
        Concern::RunDown(chance) => {
            format!("Under the usual form over all lifts ({}).", sure(*chance))
        }
        Concern::FarUnder(lines) => {
            let ends = if over { "Ended" } else { "Ends" };
            format!(
                "{ends} the week far under the aim: {}.",
                muscles(lines, catalogue)
            )
        }
        Concern::FarOver(lines) => format!("Far over the aim: {}.", muscles(lines, catalogue)),
        Concern::Ascending { runs, of } => {
            format!("In {runs} of {of} exercises the load only went up from set to set.")
        }
        Concern::UnderFive(sets) => format!("{sets} sets had fewer than five reps."),
        Concern::ShortRests { short, of } => {
            format!("{short} of {of} rests were under half of the usual.")
        }
    }
}

/// What the coach could do.
fn to_do(concern: &Concern, name: &str) -> String {
    match concern {
        Concern::Silent(None, _) => format!("Write to {name} and offer a first session."),
        Concern::Silent(..) => format!("Write to {name} and ask how things are."),
        Concern::Missed { .. } => {
            format!("Ask what got in the way. If the days no longer fit: `/plan {name}`.")
        }
        Concern::ShortOfSets { .. } => {
            "Ask what got in the way. Where time is short, `/fit 45` picks the most needed sets."
                .to_owned()
        }
        Concern::TooHard(efforts) => format!(
            "Ask {name} to end sets with {} left, on a little less weight.",
            asked(efforts)
        ),
        Concern::TooEasy(efforts) => format!(
            "Ask {name} to add weight or reps until about {} are left.",
            asked(efforts)
        ),
        Concern::Unrated(_) => format!("Ask {name} to write `2 left` behind each set."),
        Concern::Falling(_) => {
            format!("Ask {name} about sleep, food and pain; `/review {name}` shows the weeks.")
        }
        Concern::Stalled(_) => {
            format!("Change its reps, its sets or the exercise; `/review {name}` shows the weeks.")
        }
        Concern::RunDown(_) => format!("Ask {name} about sleep and stress; plan less next week."),
        Concern::FarUnder(_) => {
            format!("See `/week {name}`; change the plan or the aim where it does not fit.")
        }
        Concern::FarOver(_) => format!(
            "Ask {name} to stop where the plan stops, or plan more: `/week {name}` shows what was \
             done."
        ),
        Concern::Ascending { .. } => {
            format!("Ask {name} to begin with the heaviest set, when fresh.")
        }
        Concern::UnderFive(_) => {
            format!("Ask {name} to take less weight: sets under five do not count.")
        }
        Concern::ShortRests { .. } => format!("Ask {name} to rest until the bell."),
    }
}

/// `Ended 18 sets with about 0 left where the plan asks for 2`.
fn left_where(efforts: &Efforts) -> String {
    let (asked, left) = efforts.means().unwrap_or_default();
    format!(
        "Ended {} sets with about {} left where the plan asks for {}",
        efforts.rated,
        halves(left),
        halves(asked),
    )
}

fn asked(efforts: &Efforts) -> String {
    let (asked, _) = efforts.means().unwrap_or_default();
    halves(asked)
}

/// Repetitions to the half.
pub fn halves(reps: f64) -> String {
    plain((2.0 * reps).round() / 2.0)
}

fn sessions_word(count: u32) -> &'static str {
    if count == 1 { "session" } else { "sessions" }
}

fn days(count: i64) -> String {
    count_of(count, "day")
}

/// Nothing that is estimated is certain.
const SUREST: f64 = 0.95;

/// `likely, about 85 %`.
pub fn sure(chance: f64) -> String {
    let word = if chance >= 0.9 {
        "very likely"
    } else {
        "likely"
    };
    format!("{word}, about {:.0} %", 100.0 * chance.min(SUREST))
}

/// As many as a line holds.
const MOST: usize = 2;

fn listed(lifts: &[Slow], tell: impl Fn(&Slow) -> String) -> String {
    let texts = lifts.iter().take(MOST).map(tell).collect::<Vec<_>>();
    match lifts.len().saturating_sub(MOST) {
        0 => texts.join("; "),
        more => format!("{}; {more} more", texts.join("; ")),
    }
}

/// `quads 2 of 10–20, back 3 of 10–20 and 4 more`.
fn muscles(lines: &[MuscleWeek], catalogue: &Catalogue) -> String {
    let texts = lines.iter().take(MOST).map(|line| {
        let name = &catalogue.muscle(line.muscle).name;
        format!("{name} {} of {}", plain(line.counted), band(line.band))
    });
    let texts = texts.collect::<Vec<_>>().join(", ");
    match lines.len().saturating_sub(MOST) {
        0 => texts,
        more => format!("{texts} and {more} more"),
    }
}

// What a coach hears of.

/// Said once a coach has chosen.
pub fn heard(is_heard: impl Fn(Kind) -> bool) -> String {
    let words = |on: bool| {
        let kinds = Kind::ALL.into_iter().filter(|kind| is_heard(*kind) == on);
        kinds.map(Kind::word).collect::<Vec<_>>().join(", ")
    };
    let (on, off) = (words(true), words(false));
    let on = if on.is_empty() {
        "pain alone".to_owned()
    } else {
        format!("pain, {on}")
    };
    match off.is_empty() {
        true => format!("You hear of: {on}."),
        false => format!("You hear of: {on}. Not of: {off}."),
    }
}

/// A word that is no kind.
pub fn no_kind(word: &str) -> String {
    let kinds: Vec<&str> = Kind::ALL.into_iter().map(Kind::word).collect();
    format!(
        "I know no {}. Choose from: {}. Pain is always told.",
        super::quoted(word),
        kinds.join(", ")
    )
}

/// Said once an entry is dealt with.
pub fn dismissed(name: &str, kinds: &[&str], until: NaiveDate) -> String {
    format!(
        "Dealt with: {} ({}). No coach is told of that again before {}; anything new still comes.",
        shown_name(name),
        kinds.join(", "),
        day(until)
    )
}

/// Said where there is nothing to dismiss.
pub fn nothing_to_dismiss(name: &str, hurt: bool) -> String {
    let name = shown_name(name);
    match hurt {
        true => format!("{name}'s report of pain stays on the list until `/clear {name}`."),
        false => format!("{name} is not on the list, so there is nothing to dismiss."),
    }
}
